/*
 * What the chapters of the build book have in common: the things of all cases as one list, texts of values
 * and figures that say what they depend on, and tables described by their columns.
 *
 * Where choices are open there is a model for each combination. A value that is not the same in all of them
 * is printed with the option that it belongs to; a figure as the interval over all, with the choices that it
 * depends on.
 */
#ifndef GARBOARD_OUTPUT_BOOK_PAGE_H
#define GARBOARD_OUTPUT_BOOK_PAGE_H

#include "figures/towards.h"
#include "output/book.h"
#include "output/markdown.h"
#include "output/wire_rows.h"

/** A thing of the spec, whichever combinations of the open choices have it. */
typedef struct BookThing {
    const Entity *entity;   /* in the first case that has it */
    const Case *in;         /* that case */
    const char *only_with;  /* "engine-size=stout": the options that bring it; NULL if it is always there */
    struct BookThing *next; /* in the order of the spec */
} BookThing;

/** A job that needs a thing, and is not done. */
typedef struct BookNeed {
    const BookThing *job;
    struct BookNeed *next; /* in the order of the spec */
} BookNeed;

typedef struct Book {
    Arena *arena;
    const Outcome *outcome;
    const Model *model;     /* of the first case */
    const Figures *figures; /* of the first case */
    const Entity *boat;     /* may be NULL */
    BookThing *things;
    BookThing **by_name;         /* indexed by Symbol */
    struct BookNeed **needed_by; /* the jobs that need a thing, indexed by Symbol of the thing */
    const WireRows *wires;
    struct BookAssumed **assumed; /* what was printed as assumed so far; see book_assumed.h */
    const BookFile *pictures;
    size_t picture_count;
    Markdown md;
} Book;

/** Gathers the things of all cases; the Markdown goes to `to`. */
void book_begin(Book *book, Arena *arena, const Outcome *outcome, Buf *to);

/* Texts. All of them live in the arena. "–" stands for what is not stated. */

extern const Str book_nothing; /* "–" */

Str book_name(const Book *book, const Entity *entity);
/** The thing of that name in another case; NULL: it has none. */
const Entity *book_same_thing(const Case *in, const Entity *entity);
/** How many of it are wanted, spares counted, over all cases: "2..6"; "–" where that has no bounds. */
Str book_pieces(const Book *book, const Entity *entity);
/** The chapter that a thing is told in. */
System book_system(const Entity *entity);
/**
 * A value as it is printed: `12 V`, `30 C (assumed)`, `0.85 m (estimated)`, `28 kW with lean, 40 kW with
 * stout`.
 */
Str book_value(const Book *book, const Entity *entity, PropId prop, unsigned slot);
/** What one case says of a thing; the last two are for those who give them. */
typedef Str BookCaseText(const Book *book, const Case *in, const Entity *entity, unsigned id, unsigned slot);
/** The same over all cases, with the options that each text belongs to. */
Str book_over_cases(const Book *book, const Entity *entity, BookCaseText *text_of);
/** All values of a property: `16 A at 230 V`, `saloon, heads`. */
Str book_property(const Book *book, const Entity *entity, PropId prop);
/** A figure over all cases: `12..15 A (depends on engine-size)`. `at` may be NULL. */
Str book_figure(const Book *book, const Entity *subject, FigureId id, const Entity *at);
/** The same over some of the cases. */
Str book_figure_with(const Book *book, CaseSet cases, const Entity *subject, FigureId id, const Entity *at);
/** Whether a figure of that name is there, in any case, known or not. */
bool book_has_figure(const Book *book, const Entity *subject, FigureId id, const Entity *at);
/** The same without the choices that it depends on: for a picture, or a table full of it. */
Str book_figure_short(const Book *book, const Entity *subject, FigureId id, const Entity *at);
Str book_figure_short_with(const Book *book, CaseSet cases, const Entity *subject, FigureId id, const Entity *at);
/** A length as it can be measured aboard, ranges outward; other figures as they are. The working has all digits. */
Figure book_rounded(const Figure *figure);
/** In a column of such figures: lengths in *of_column, the unit of the first of them; UNIT_NONE: this is the first. */
Str book_figure_in_column(const Book *book, const Entity *subject, FigureId id, UnitPair *of_column);
/** So that of one of her systems, or of her with her tanks in one state. */
Str book_figure_of(const Book *book, const Entity *subject, FigureId id, FigureScope scope);
/** The same, with a word for its sign. */
Str book_figure_towards(const Book *book, const Entity *subject, FigureId id, FigureScope scope, const Directions *words);
bool book_has_figure_of(const Book *book, const Entity *subject, FigureId id, FigureScope scope);
/** Whether so much of what she displaces is weighed, or placed, by that share, that it says how she floats. */
bool book_is_most(const Book *book, FigureId share); /* book_weight.c */
/** One value alone; "–" for one that is not there. */
Str book_value_text(const Book *book, const Model *model, const Value *value);
/** One statement of a property, whole: `every 12 month`, ... */
Str book_statement(const Book *book, const Model *model, const Property *property);
Str book_date(const Book *book, Date date);
/**
 * The file that a place is in, from the main file's folder: no line number, for those move with every edit.
 */
Str book_place(const Book *book, Span at);

/** What an engine makes of the space that it stands in, as the rules take it; nothing of what says so itself, or of others. */
Str book_space_by_engine(const Book *book, const Case *in, const Entity *space, PropId id);
/** `0 of 2`, of spares that have not all come; else empty. */
Str book_spares_to_come(const Book *book, const Entity *entity);

/* Blocks. */

/** A paragraph; printf for texts and whole numbers. */
void book_say(Book *book, const char *format, ...) __attribute__((format(printf, 2, 3)));
/**
 * Adds a sentence of a finding or figure to the open block: what stands between backquotes in it becomes
 * code.
 */
void book_prose(Book *book, const char *text);
/** A caution, set apart. */
void book_caution(Book *book, const char *text);
/** A thing that a property names, with some of the options at least. */
typedef struct BookNamed {
    const Entity *thing;    /* in the first case in which it is named */
    CaseSet cases;          /* all of these */
    const char *only_with;  /* the options with which it is; NULL: whenever the other is aboard, or no options tell */
    struct BookNamed *next; /* in the order of the cases and of the lines */
} BookNamed;
const BookNamed *book_named(const Book *book, const Entity *entity, PropId prop);
/** A cell with their names as code, separated by commas; "–" if there is none. */
void book_names_cell(Book *book, const Entity *entity, PropId prop);

/* Tables. */

typedef enum BookColumnKind {
    COLUMN_NAME,     /* the thing's name, with the options that bring it */
    COLUMN_TITLE,    /* its title, or its kind */
    COLUMN_VALUE,    /* id is a property */
    COLUMN_PROPERTY, /* all of a property */
    COLUMN_FIGURE,   /* id is a figure */
    COLUMN_STATUS,   /* how far buying it has come */
} BookColumnKind;

typedef struct BookColumn {
    const char *title;
    uint8_t kind; /* BookColumnKind */
    uint8_t slot; /* COLUMN_VALUE */
    uint16_t id;  /* PropId or FigureId */
} BookColumn;

#define NAME_COLUMN               \
    {                             \
        "Name", COLUMN_NAME, 0, 0 \
    }
#define TITLE_COLUMN               \
    {                              \
        "What", COLUMN_TITLE, 0, 0 \
    }
#define VALUE_COLUMN(TITLE, PROP)    \
    {                                \
        TITLE, COLUMN_VALUE, 0, PROP \
    }
#define SLOT_COLUMN(TITLE, PROP, SLOT)  \
    {                                   \
        TITLE, COLUMN_VALUE, SLOT, PROP \
    }
#define PROPERTY_COLUMN(TITLE, PROP)    \
    {                                   \
        TITLE, COLUMN_PROPERTY, 0, PROP \
    }
#define STATUS_COLUMN                 \
    {                                 \
        "Status", COLUMN_STATUS, 0, 0 \
    }
#define FIGURE_COLUMN(TITLE, FIGURE)    \
    {                                   \
        TITLE, COLUMN_FIGURE, 0, FIGURE \
    }

/** What a table of things lists. */
typedef bool BookFilter(const Book *book, const BookThing *thing, const void *what);

/** A table under a heading of level 3: a row for each thing that passes. Nothing if none does. */
bool book_table(Book *book, const char *heading, const BookColumn columns[], size_t count, BookFilter *wanted,
                const void *what);
/** Begins a table of `count` columns; a title that begins with `>` is a column of numbers. */
void book_head(Book *book, const char *const titles[], size_t count);
void book_cell(Book *book, Str text);
/** A cell of a sentence of Garboard's own, as book_prose. */
void book_prose_cell(Book *book, const char *text);
/** A cell with a thing's name, and the options that bring it. */
void book_name_cell(Book *book, const BookThing *thing);
/** Its title, or its kind; where options give it several, all of them. */
Str book_title(const Book *book, const Entity *entity);
/** How far buying it has come: "ordered with stout, not ordered with lean". */
Str book_status(const Book *book, const Entity *entity);
/** The same over some of the cases. */
Str book_title_with(const Book *book, CaseSet cases, const Entity *entity);

/** " (with engine-size=stout)" for some cases; nothing for all of them. */
const char *book_with(const Book *book, CaseSet cases);

/** The thing of that entity, whichever case it is from. */
const BookThing *book_thing(const Book *book, const Entity *entity);
/** Something aboard that has mass and price: its kind has the common properties, and it is not dropped. */
bool book_is_physical(const Entity *entity);

#endif
