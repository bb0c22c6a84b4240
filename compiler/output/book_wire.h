/*
 * Cables as the book and its pictures tell them: every cable of the boat, with the texts of its size, its
 * protection and its figures.
 */
#ifndef GARBOARD_OUTPUT_BOOK_WIRE_H
#define GARBOARD_OUTPUT_BOOK_WIRE_H

#include "output/book_page.h"

typedef struct BookWire {
    const Feed *feed;
    const Entity *giver; /* NULL: the shore, where the taker is an inlet; else the name is broken */
    const Entity *taker; /* an inlet's own cable leads from it to the first breaker */
    const Entity *subject;
    const Entity *at; /* as feed_at says */
    const Block *block;
    const Model *model;    /* of the first combination in which it stands so ... */
    CaseSet cases;         /* ... and all of these */
    const char *only_with; /* the options that bring it so; NULL: it always stands so */
    bool ac;
    bool shares; /* no cable of its own */
} BookWire;

/** Whether what this thing gives is alternating current. */
bool book_gives_ac(const Entity *giver);
/** Whether the thing's kind is one that makes electric power. */
bool book_makes_power(const Entity *entity);

/** The cable of a feed, with all combinations of the open choices in which it is made alike. */
BookWire book_wire(const Book *book, const Model *model, const Feed *feed);

/**
 * Calls `each` for every cable of direct or of alternating current, in the order of the spec; for one that options make
 * otherwise, once for each of what it may be.
 */
void book_each_wire(Book *book, bool ac, void (*each)(Book *book, const BookWire *wire, void *context),
                    void *context);
/** Cables of switches of which the spec states nothing: they may be there, and stand in no other table. */
void book_each_unstated_wire(Book *book, void (*each)(Book *book, const BookWire *wire, void *context), void *context);

/** The figures of the combination of open choices that the cable is taken from. */
const Figures *book_wire_figures(const Book *book, const BookWire *wire);

/* Texts; "–" where there is nothing to tell. */
Str book_wire_size(const Book *book, const BookWire *wire); /* `6 mm2`, `2 x 35 mm2`, `10 AWG (sized)` */
Str book_wire_run(const Book *book, const BookWire *wire);
/** The rating, sized or stated, with the kind of device: `100 A fuse class-t`; else what protects the cable instead. */
Str book_wire_protection(const Book *book, const BookWire *wire);
/** The second device of a `feeds`, at the end of what makes the power. */
Str book_wire_output_protection(const Book *book, const BookWire *wire);
/** A figure of it, over the combinations in which it stands so. */
Str book_wire_figure(const Book *book, const BookWire *wire, FigureId id);
/** What starters behind it take for seconds: see feeding_cranking. */
Str book_wire_cranking(const Book *book, const BookWire *wire);

/** The same with what mains ask for besides: `16 A breaker miniature, 2-pole, opens at 30 mA`. */
Str book_wire_device(const Book *book, const BookWire *wire);

/*
 * Tables for the chapter of power (book_wiring.c): a schedule for each panel, bus and switch; the list that a person wires
 * from; what each cable carries and loses.
 */
void book_panels(Book *book, bool ac);
void book_wire_list(Book *book, bool ac);
void book_wire_currents(Book *book, bool ac);
/** What the list does not hold, behind its rows (book_unlisted.c). */
void book_not_in_the_list(Book *book, bool ac);
/** A cell with the label of a cable. */
void book_wire_label_cell(Book *book, const BookWire *wire);
/** A cell with the device that guards a cable of mains against leakage, its own or one before it: `30 mA at shore`. */
void book_leakage_cell(Book *book, const BookWire *wire);
/** The same of what a thing is fed by, for each of what the options make of its cables. */
void book_leakage_of_thing_cell(Book *book, const BookThing *thing);

/*
 * Mains (book_mains.c): where they come from, and what keeps sources apart; outlets; what is tested before first use.
 */
void book_mains_sources(Book *book);
void book_mains_outlets(Book *book);
void book_mains_tests(Book *book);

/** A cell with how many loaded conductors lie together: stated, or those of the cable alone. */
void book_conductors_cell(Book *book, const BookWire *wire);

#endif
