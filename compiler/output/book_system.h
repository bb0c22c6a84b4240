/*
 * A chapter of one system: tables, a table a kind of thing, and a caution where work can hurt someone. What
 * no table of its chapter lists stands under "Other things". A new kind is one table in the file of its
 * chapter.
 */
#ifndef GARBOARD_OUTPUT_BOOK_SYSTEM_H
#define GARBOARD_OUTPUT_BOOK_SYSTEM_H

#include "output/book_chapters.h"

typedef struct SystemTable {
    const char *heading;
    KindId kind;
    const BookColumn *columns;
    size_t count;
    bool (*wanted)(const Entity *entity); /* NULL: all of the kind */
} SystemTable;
#define SYSTEM_TABLE(HEADING, KIND, COLUMNS) SYSTEM_TABLE_OF(HEADING, KIND, COLUMNS, NULL)
#define SYSTEM_TABLE_OF(HEADING, KIND, COLUMNS, WANTED)                        \
    {                                                                          \
        HEADING, KIND, COLUMNS, sizeof(COLUMNS) / sizeof((COLUMNS)[0]), WANTED \
    }

typedef struct SystemChapter {
    System system;
    const char *name;    /* "Nothing in the spec belongs to ..." */
    const char *caution; /* or NULL */
    const SystemTable *tables;
    size_t count;
    void (*more)(Book *book); /* what no table of things shows; or NULL */
} SystemChapter;
#define SYSTEM_CHAPTER(SYSTEM, NAME, CAUTION, TABLES, MORE)                       \
    {                                                                             \
        SYSTEM, NAME, CAUTION, TABLES, sizeof(TABLES) / sizeof((TABLES)[0]), MORE \
    }

void book_system_chapter(Book *book, const SystemChapter *chapter);

/** The tanks of a system through days and cruises: what goes in or out, how long it lasts, what is left. */
void book_tank_days(Book *book, System system);

/** The most that a cruise takes of something, or puts into it, without its being filled or emptied. */
Str book_stretch(Book *book, const Entity *of, const Entity *cruise);

/** Figures of the boat herself under a heading of level 3: those that there are. */
void book_boat_figures(Book *book, const char *heading, const FigureId rows[], size_t count);

/** Tanks stand in two chapters. */
#define TANK_COLUMN_COUNT 14
extern const BookColumn book_tank_columns[TANK_COLUMN_COUNT];

#endif
