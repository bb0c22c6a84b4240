/*
 * The bill of materials as CSV: one row for each physical thing that is not dropped, then the cable and the
 * fuses and breakers that the feeds need.
 *
 * Columns: name, title, kind, system, count, spare, status, supplier, price_each_low, price_each_high,
 * currency, price_total_low, price_total_high, mass_each_kg, mass_total_kg, ordered, promised, arrived,
 * fitted, lead_days, space, serial, link, discontinued, option, source_file, line, first_promised,
 * arrived_count, fitted_count, order_by, replaces, because, note, events. They keep their names and places.
 *
 * Totals hold the spares. `option` (choice=option) is filled where a choice is open: such a thing belongs to
 * the boat only with that option, so that a sum over all rows counts alternatives together. Where open
 * choices change how many there are, the price or the mass, the row covers all of them. `order_by` is the last day to
 * order, where the work plan knows one.
 *
 * Rows of kind `cable` have as count the metres of single conductor of one size, out and back, with 10 % for
 * waste (common practice, no source), rounded up; rows of kind `terminal` and `protection` the number of one
 * sort. Rows of kind `hose-by-the-metre` have the metres of hose of one bore and grade, fuel lines, exhausts
 * and the outlets of bilge pumps too, with the same 10 %, rows of kind `clamp` the clamps that hoses' ends
 * need, rows of kind `chain` and `rope` the metres that anchors hang on, without waste. Where open options decide how many, the count is a range, `0..8`. They have no price: what the spec
 * states as a thing has a row of its own.
 */
#ifndef GARBOARD_OUTPUT_BOM_H
#define GARBOARD_OUTPUT_BOM_H

#include "output/bom_list.h"

/** All of it, in the order of the spec. */
void bom_csv(Buf *to, const Outcome *outcome);
/** A list in its groups, with the same columns. */
void bom_csv_of(Buf *to, const BomList *list);

#endif
