/*
 * What the bill of materials and the shopping list list: the things of all cases in groups, each group with its sums.
 *
 * Sums are made case by case, and cover all of them: of the options of an open choice each counts in its own. It knows the
 * model, how buying goes and the figures; must not know how a list is printed.
 */
#ifndef GARBOARD_OUTPUT_BOM_LIST_H
#define GARBOARD_OUTPUT_BOM_LIST_H

#include "model/status.h"
#include "output/materials.h"
#include "rules/options.h"

typedef enum BomBy {
    BOM_AS_WRITTEN, /* one group, in the order of the spec */
    BOM_BY_SYSTEM,
    BOM_BY_SUPPLIER,
    BOM_BY_SPACE,
} BomBy;

typedef struct BomRequest {
    BomBy by;
    bool to_buy; /* only what is still to be bought; what is to be ordered first stands first */
    bool with_dropped; /* dropped things too: in no sum */
    Str only;    /* the name of a space or a supplier: only what stands there, or is sold there; empty: all */
} BomRequest;

/** A thing, over all cases that have it; or something by the metre or the piece. */
typedef struct BomLine {
    const Case *of;           /* the first case that has it */
    const Entity *entity;     /* NULL: */
    const Material *material; /* ... this instead */
    Purchase purchase;     /* of that case; count and spare cover all that have it */
    Interval pieces;       /* spares counted */
    bool priced, weighed;
    Interval price, mass;  /* of one; money in the boat's currency */
    Interval cost, weight; /* of all pieces: an option may set how many, and what one costs, together */
    bool quoted;           /* the price is an offer */
    Str currency;          /* that the price is stated in ... */
    Interval asked;        /* ... the price in it ... */
    Interval asked_in_all; /* ... and that of all pieces */
    bool taxed;            /* a rate of tax is stated for it ... */
    Interval tax;          /* ... this share, which is in its prices */
    Interval net;          /* what all pieces cost without it */
    bool dated;            /* the plan says by when it is to be ordered: */
    Date order_by;
    bool before;           /* ... or only a day before which that is; */
    bool undated;          /* a job waits for it, and nothing at all says by when */
    const char *undecided; /* to_buy: "capacity 100..400 Ah", on which an open finding hangs: to be decided first; or NULL */
    CaseSet found_in;
    const char *only_with; /* the options with which it is bought or aboard, where not with all; NULL */
    struct BomGroup *group;
    struct BomLine *next;
} BomLine;

/** Money in one currency. */
typedef struct BomMoney {
    Str currency;
    Interval amount;
    Interval in_case; /* of the case that is being added up */
    struct BomMoney *next;
} BomMoney;

typedef struct BomSums {
    BomMoney *asked;     /* by the currencies that prices are stated in; NULL: nothing has a price */
    BomMoney money;      /* all of it in the boat's currency */
    BomMoney net;        /* the same without tax, as far as its rate is stated */
    BomMoney mass;       /* kg; the currency is not used */
    uint32_t things, unpriced, unweighed; /* what is by the metre and the piece is not counted */
    bool materials;                       /* there is some of that */
    bool optional;                        /* some of it comes with one option of an open choice and not with another */
} BomSums;

typedef struct BomGroup {
    System system;       /* BOM_BY_SYSTEM */
    const Entity *at;    /* the supplier or space; NULL: what names none */
    bool materials;      /* cable, fuses, hose and the like, which name no supplier and no space */
    BomLine *first, **end;
    BomSums sums;
    struct BomGroup *next;
} BomGroup;

typedef struct BomList {
    BomRequest request;
    BomGroup *groups;
    BomSums sums;
    BomLine *unsaid; /* to_buy: neither price, supplier, status nor a job says that it is bought; in no group and no sum */
} BomList;

/** The outcome may have no case: the list is empty then. */
BomList *bom_list(Arena *arena, const Outcome *outcome, BomRequest request);

/** NULL if `only` is empty or names a space or a supplier; else a sentence that says what is wrong. */
const char *bom_only_unknown(Arena *arena, const Outcome *outcome, Str only);

/* What is said of a line of a thing, in every list. */

/** Its title; where its size is left open and Garboard has filled it in, with that size: it is to be bought. */
Str bom_title(Arena *arena, const BomLine *line);
/** Its own lead, or else its supplier's; false if neither is stated. */
bool bom_lead(const Entity *entity, Interval *lead_s);
/** What it takes the place of: the name of a thing, or the owner's words; nothing if it does not say. */
Str bom_replaces(const BomLine *line);
/** "engine-size=lean" where that choice is open; nothing for what is always there. */
Str bom_option(Arena *arena, const BomLine *line);

#endif
