/*
 * The chapters of the build book, in the order in which book.c prints them. Each writes its text below a
 * heading that book.c has written already.
 */
#ifndef GARBOARD_OUTPUT_BOOK_CHAPTERS_H
#define GARBOARD_OUTPUT_BOOK_CHAPTERS_H

#include "output/book_page.h"

/* book_front.c */
void book_cautions(Book *book);
void book_glance(Book *book);
/* book_decisions.c */
void book_decided(Book *book);
void book_undecided(Book *book);
/* book_power.c, book_water.c, book_drive.c, book_systems.c */
void book_power(Book *book);
/** Its part about the energy of days and cruises (book_energy.c). */
void book_energy(Book *book);
void book_water(Book *book);
void book_drive(Book *book);
void book_navigation(Book *book);
void book_climate(Book *book);
void book_safety(Book *book);
void book_cabin(Book *book);
void book_hull(Book *book);
/* book_weight.c, book_buying.c, book_plan.c, book_service.c */
void book_weight(Book *book);
void book_buying(Book *book);
void book_plan(Book *book);
void book_service(Book *book);
/* book_findings.c */
void book_findings(Book *book);
/* book_working.c */
void book_working(Book *book);
void book_assumptions(Book *book);
void book_sources(Book *book);

/* Shared between chapters. */

/** book_shopping.c: the shopping list, supplier by supplier; what stands in each space. */
void book_to_order(Book *book);
void book_spaces(Book *book);
/** book_money.c: money of the boat, by system and by month; what suppliers promised and kept. */
void book_money(Book *book);
void book_promises(Book *book);
/** book_story.c: what happened to each thing that is bought, why it is this one, what was dropped. */
void book_story(Book *book);
/** A cell with the jobs that need a thing and are not done. */
void book_jobs_cell(Book *book, const Entity *thing);

/** What stands in every chapter of a system: settings, service, spares, notes, findings on its things. */
void book_system_tail(Book *book, System system);
/** What someone has to turn a screw or press a key for: a table, if anything is. */
void book_settings(Book *book, System system);
/** The pictures whose file name begins with `start`. */
void book_picture(Book *book, const char *start);
/** The case that takes this option and, of the other open choices, what the first case takes; NULL: none was judged. */
const Case *book_case_with(const Book *book, uint32_t choice, uint32_t option);
/** A figure in one case. */
Str book_figure_in(const Book *book, const Case *in, const Entity *subject, FigureId id, const Entity *at);
/** Begins a table with a column for each option of a choice, and a row with their titles. */
void book_option_heads(Book *book, const Choice *choice);
/** A row of such a table; nothing for a figure that is in no case. */
void book_option_row(Book *book, uint32_t choice, const char *title, const Entity *subject, FigureId id,
                     const Entity *at);
/** The id of a finding's heading in the chapter of findings. */
const char *book_finding_id(const Book *book, const Finding *finding);
/** A finding as one item of a list, with a link to where all of it stands. */
void book_finding_item(Book *book, const Finding *finding);
/** "fault", "warning", "advice" */
const char *book_severity(Severity severity);

#endif
