/*
 * Garboard as a library: compile a boat spec, ask for what came out.
 *
 *   GbRequest request = {.path = "wren.boat", .reader = gb_reader_files()};
 *   GbCompilation *boat;
 *   if (gb_compile(&request, &boat) == GB_DONE) {
 *       GbText text;
 *       gb_output(boat, "check", "json", NULL, &text);
 *       ...
 *   }
 *   gb_free(boat);
 *
 * One compilation is one piece of memory, freed whole. Nothing is global: compilations may run side by side. The library
 * reads files only through the reader that it is given, writes none, prints nothing, and does not look at the clock, the
 * locale or the environment.
 */
#ifndef GARBOARD_H
#define GARBOARD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** What came of a call. */
typedef enum GbStatus {
    GB_DONE,
    GB_UNREADABLE,    /* the main file cannot be read; gb_error says why */
    GB_BAD_REQUEST,   /* an option that makes no sense; gb_error says which */
    GB_OUT_OF_MEMORY,
} GbStatus;

/** Where memory comes from; leave it zero for malloc and free. allocate may return NULL. */
typedef struct GbAllocator {
    void *(*allocate)(void *context, size_t size);
    void (*release)(void *context, void *memory);
    void *context;
} GbAllocator;

/** A file as a reader hands it over. */
typedef struct GbFile {
    char *text;           /* from `allocate`, with a NUL behind the last byte; the compilation may change and keeps it */
    size_t length;
    uint64_t identity[2]; /* equal for two names of one file; zero if unknown */
    const char *error;    /* why it cannot be read (a literal), or NULL */
} GbFile;

/** How files are read. `allocate(size)` gives memory that lives as long as the compilation. */
typedef struct GbReader {
    GbFile (*read)(void *context, const char *path, void *(*allocate)(void *memory, size_t size), void *memory);
    void *context;
} GbReader;

/** Reads from the file system; regular files only for what is included. */
GbReader gb_reader_files(void);

typedef struct GbRequest {
    const char *path;         /* of the main file: read through the reader, and printed in messages; required */
    const char *text;         /* the main file's text, if it does not come from the reader (standard input) */
    size_t length;
    GbReader reader;          /* required, unless all of the spec is in `text` and includes nothing */
    const char *const *with;  /* "CHOICE=OPTION" */
    size_t with_count;
    const char *const *set;   /* "THING.PROPERTY=VALUE" */
    size_t set_count;
    const char *basis;        /* "us", "iso", or NULL for the boat's own */
    const char *today;        /* "2027-03-01"; required */
    bool strict;              /* warnings count as faults */
    GbAllocator allocator;
} GbRequest;

typedef struct GbCompilation GbCompilation;

/** Compiles. *result is set (and must be freed) whatever is returned, except where memory ran out at once: then NULL. */
GbStatus gb_compile(const GbRequest *request, GbCompilation **result);
void gb_free(GbCompilation *compilation);

/** Why the last call on this compilation failed, as a sentence; "" if it did not. */
const char *gb_error(const GbCompilation *compilation);

/** How many findings of a kind there are. */
typedef struct GbSummary {
    uint32_t mistakes, faults, warnings, advice, open, waived, unjudged, waiting;
    bool broken; /* a fault or a mistake, or with `strict` a warning: the exit status of `check` */
    uint32_t mistaken_sets; /* of the mistakes: those in what `set` asked for, which was not tried then */
    bool sampled; /* the open choices have too many combinations: not every one was judged */
} GbSummary;
GbSummary gb_summary(const GbCompilation *compilation);

/** Bytes that belong to the compilation. */
typedef struct GbText {
    const char *text;
    size_t length;
} GbText;

/**
 * Makes an output, of these names and formats; format NULL: the first of them.
 *
 *   "check"     text, json, csv, sarif   what is found (docs/check.schema.json)
 *   "mistakes"  text                     the mistakes in the spec alone
 *   "figures"   text, json, csv          every computed number; argument: of one thing
 *   "why"       text                     how a figure is made; argument: "house.usable-energy"
 *   "compare"   text, json, csv          the options of the open choices side by side
 *   "wires"     csv                      every cable
 *   "bom", "bom by system", "bom by supplier", "bom by space", "bom to buy"
 *               csv, text; to buy: text, csv   the bill of materials; argument: of one space or one supplier
 *
 * argument may be NULL. With colours as "text+color". As "text+wrap" or "text+color+wrap" the
 * sentences of "check" and "mistakes" are folded at 80 columns, for a terminal; without it, one stands on one line, for
 * whoever searches and compares. Other texts are tables and keep their lines.
 */
GbStatus gb_output(GbCompilation *compilation, const char *output, const char *format, const char *argument, GbText *text);

/** The files of the build book, in the order of their names. */
typedef struct GbBookFile {
    const char *name; /* "book.md", "img/power-dc.svg" */
    GbText bytes;
} GbBookFile;
GbStatus gb_book(GbCompilation *compilation, const GbBookFile **files, size_t *count);

/**
 * What differs between two compilations, as "text" (NULL, too), "text+color" or "json" (docs/diff.schema.json). The text is memory of
 * `after`, and *different says whether there is anything to tell. GB_BAD_REQUEST if one of the two has no spec, or for
 * another format: gb_error(after) says which. After GB_OUT_OF_MEMORY both are good for gb_free only.
 */
GbStatus gb_diff(GbCompilation *before, GbCompilation *after, const char *format, GbText *text, bool *different);

/**
 * Outputs that need no spec: "rules", "kinds", with the name of one of them as argument; "starter" with the boat's name;
 * "reference", "rules-reference": the pages of docs/ that are made from the tables. The text is from the allocator, ends
 * in NUL, and is the caller's to release. GB_BAD_REQUEST: *text is then the reason.
 */
GbStatus gb_manual(const char *output, const char *argument, bool color, GbAllocator allocator, char **text, size_t *length);

/**
 * The text of one file in its canonical layout; what it includes is not read. name: as messages print it. The text is
 * from the allocator, ends in NUL, and is the caller's to release. GB_BAD_REQUEST: the text cannot be laid out (its braces
 * do not balance, it is not UTF-8), and *formatted says why, beginning with name and place.
 */
GbStatus gb_format(const char *name, const char *text, size_t text_length, GbAllocator allocator, char **formatted,
                   size_t *length);

/** What came of the rows of a table: each is one thing of the spec, but for those that are left out. */
typedef struct GbImported {
    unsigned rows;
    unsigned placed;    /* the spec says all that the row does */
    unsigned commented; /* the row stands in a comment above the thing, too */
    unsigned left_out;  /* it is no thing but a sum, or names none: it stands in a comment alone */
} GbImported;

/**
 * A spec for a new boat of that name from a table of things as comma-separated values (RFC 4180, UTF-8). columns: "price=Cost
 * each" and the like, where a heading does not speak for itself. The text is from the allocator, ends in NUL, and is the
 * caller's to release. GB_BAD_REQUEST: it cannot be made, and *text says why.
 */
GbStatus gb_import(const char *boat, const char *table, size_t table_length, const char *const *columns, size_t column_count,
                   GbAllocator allocator, char **text, size_t *length, GbImported *imported);

/** "0.1.0" */
const char *gb_version(void);

#ifdef __cplusplus
}
#endif

#endif
