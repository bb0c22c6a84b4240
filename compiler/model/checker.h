/*
 * What the steps of building a model share. Private to compiler/model/.
 */
#ifndef GARBOARD_MODEL_CHECKER_H
#define GARBOARD_MODEL_CHECKER_H

#include "model/build.h"

/* A name that options declare: in which choice, by how many of its options, and as what. */
typedef struct OptionName {
    const Choice *choice;
    const Choice *other; /* another choice that declares it too: told once */
    uint32_t options; /* how many declare it */
    uint8_t kind;     /* KindId */
    Span at;          /* where it is declared first */
} OptionName;

/* A thing that the model cannot hold: it has no name, or one that is taken, or stands in an option that is not picked. */
typedef struct Orphan {
    NodeId statement;
    NodeId option; /* that it stands in, or 0 */
    KindId kind;
} Orphan;

typedef struct Checker {
    Spec *spec;
    Arena *arena;
    Model *model;
    const Tree *tree;
    Messages *messages;
    OptionName *option_names;  /* indexed by Symbol; NULL if the spec has no choices */
    NodeId *parts;             /* indexed by Symbol: the NODE_PART of that name, or 0 */
    const Block **part_blocks; /* indexed by Symbol: its properties once read */
    uint8_t *kind_of_symbol;   /* indexed by Symbol: KindId of a kind's word */
    NodeId *choices;           /* indexed by Symbol: the NODE_CHOICE of that name, or 0; NULL if there are none */
    bool *lost;                /* indexed by Symbol: declared by a statement that cannot stand where it does */
    Orphan *orphans;           /* read for their mistakes alone */
    uint32_t orphan_count;
    const Entity **bought_in_options; /* of the first model: see left_out.c; for the others too */
    uint32_t bought_in_options_count;
    bool *losing;              /* indexed by KindId: where their kinds are noted; NULL: what is read is as if not written */
    bool lost_outside[KIND_COUNT]; /* of those that stand in no option: the same in every model */
    uint32_t most_entities;    /* how many things a model may have */
    int near_left;             /* how many more unknown words are looked for among all */
    struct SetOver *set_over;  /* lines that are set over, the last first; see settings.h */
    Symbol measured, labelled, estimated, guessed;
    Symbol currency;           /* the boat's; 0 until it is known */
} Checker;

/** The terms of a property still to be read: nodes at .. end - 1. */
typedef struct Cursor {
    const Tree *tree;
    NodeId at;
    NodeId end;
    NodeId statement; /* for the place where something is missing */
} Cursor;

/** NODE_NONE at the end. */
static inline NodeKind cursor_kind(const Cursor *cursor)
{
    return cursor->at < cursor->end ? tree_kind(cursor->tree, cursor->at) : NODE_NONE;
}
/** Empty at the end. */
static inline Str cursor_text(const Cursor *cursor)
{
    return cursor->at < cursor->end ? tree_text(cursor->tree, cursor->at) : (Str){"", 0};
}
/** The place of the next term, or the spot behind the last one. */
static inline Span cursor_span(const Cursor *cursor)
{
    if (cursor->at < cursor->end) {
        return tree_span(cursor->tree, cursor->at);
    }
    uint32_t end = tree_node(cursor->tree, cursor->statement)->end;
    return (Span){end, end};
}

/** What is noted of a name in options; of a spec without choices nothing is. */
static inline const OptionName *noted_name(const Checker *checker, Symbol name)
{
    static const OptionName nothing = {0};
    return checker->option_names != NULL ? &checker->option_names[name] : &nothing;
}

/** The symbol of a word or name. */
static inline Symbol symbol_of(const Checker *checker, NodeId term)
{
    return tree_node(checker->tree, term)->u.symbol;
}

/** The unit that a term is, UNIT_NONE if it is none. Units' words are the first symbols, in the order of the units. */
static inline UnitId unit_of(const Checker *checker, NodeId term)
{
    const Node *node = tree_node(checker->tree, term);
    if (node->kind == NODE_PERCENT) {
        return UNIT_PERCENT;
    }
    return node->kind == NODE_WORD && node->u.symbol < UNIT_COUNT ? (UnitId)node->u.symbol : UNIT_NONE;
}

/** "a" or "an" */
const char *article(const char *word);

/** Declares every thing and part (names.c): Model.entities, by_symbol, parts; tells names that clash. */
void names_declare(Checker *checker);
/** Whether an option of a choice is one that some model of the spec takes. */
bool choice_takes(const Choice *choice, NodeId option);
/** The choice of which only some options bring the thing of that name: in other models it is rightly not there; else NULL. */
const Choice *name_brought_by(Checker *checker, NodeId term);
/** The thing that a name in a property of `from` means; NULL and a message if there is none such. (resolve.c) */
Entity *names_resolve(Checker *checker, NodeId term, const Entity *from, KindSet wanted, bool *broken);

/** Reads and checks every property of every thing, settings, scores and waivers (check.c). */
void check_properties(Checker *checker);
/** Model.left_out: what was bought for options that this model does not take (left_out.c). */
void left_out_read(Checker *checker);
/** Reads one statement as a property, whatever thing it stands in; for defaults. */
Property check_statement(Checker *checker, NodeId statement, PropId id);

/** What reading a quantity needs to know of its place. */
typedef struct QuantityPlace {
    const Atom *atom;
    const PropRow *row;    /* NULL for limits that do not apply */
    bool limited;          /* it is the first of its statement: the sign of the row holds for it */
    double least, most;    /* limits in the first unit of the atom; 0: none */
    double most_second;    /* in its second one; 0: none */
} QuantityPlace;
/**
 * Reads one quantity; false after a message. On true, *value is whole; the cursor stands behind it. (quantity.c)
 */
bool quantity_read(Checker *checker, Cursor *cursor, const QuantityPlace *place, Value *value);
/** Whether a word can be a currency code; tells if it cannot. */
bool currency_check(Checker *checker, NodeId term);

/** Gives a day that says how far a boat without sails goes the hours of her engine (under_way.c). */
void days_under_way(Checker *checker);
/** Of what a converter alone feeds makes what is `fed-by` it (feeds_turned.c). */
void feeds_turn(Checker *checker);
/** Joins givers and takers, orders them, marks loops and alternating current (feeds.c). */
void feeds_join(Checker *checker);

#endif
