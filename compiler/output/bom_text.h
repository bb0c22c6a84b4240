/*
 * The bill of materials and the shopping list for people: in groups, each with its sums, to be printed and taken along.
 *
 * It prints a BomList, figures and words of the spec; it computes nothing.
 */
#ifndef GARBOARD_OUTPUT_BOM_TEXT_H
#define GARBOARD_OUTPUT_BOM_TEXT_H

#include "output/bom_list.h"

/* Of a circuit, a hose or an anchor, whose cable, hose, chain or rope is listed again. */
#define BOM_BELOW "see by the metre"
#define BOM_BELOW_MEANS \
    "What says `see by the metre` is or has cable, hose, chain or rope, which stands below once more: where its price holds that, " \
    "buy it once."
bool bom_has_below(const BomList *list);
/* What the lists of things to buy do not hold is told behind what is by the metre and the piece. */
#define BOM_UNLISTED (UNLISTED_DIRECT | UNLISTED_ALTERNATING | UNLISTED_PIECES)

/** What there is: how many, how far it has come, what it weighs and costs. */
void bom_text(Buf *to, const Outcome *outcome, const BomList *list);
/** What is to be bought, with boxes to tick, and by when. */
void to_buy_text(Buf *to, const Outcome *outcome, const BomList *list);
/**
 * The same as CSV. Columns: supplier, order_by, days_late, name, title, kind, system, count, price_each_low, price_each_high,
 * price_total_low, price_total_high, currency (that the supplier asks for), offer, boat_total_low, boat_total_high,
 * boat_currency, lead_days, status, space, link, option, source_file, line.
 */
void to_buy_csv(Buf *to, const Outcome *outcome, const BomList *list);

/* Texts that the book shares. */

/** What a group is called: "Copperline Cables (copperline)", "power", "Without a supplier". */
const char *bom_group_title(Arena *arena, const BomList *list, const BomGroup *group);
/** "2068.00 EUR and 540.00 USD, together 2554.00 EUR"; "no price is stated" for a list without one. */
const char *bom_sums_text(Arena *arena, const Outcome *outcome, const BomSums *sums);
/** "2027-05-07", with ", 3 days late" or ", today" where that is so; nothing where no day is known. */
const char *bom_day_text(Arena *arena, const BomLine *line, Date today);
/** What one piece of a line costs, in the currency of its price: "845.00 EUR"; nothing where no price is stated. */
const char *bom_price_text(Arena *arena, const BomLine *line);
/** The same of all its pieces. */
const char *bom_cost_text(Arena *arena, const BomLine *line);
/** What all pieces of a line weigh: "38 kg"; nothing where no mass is stated. */
const char *bom_mass_text(Arena *arena, const BomLine *line);
/** Where it stands, as the owner wrote it; nothing where that is not stated. */
const char *bom_at_text(Arena *arena, const BomLine *line);
/** "16", "2..3", "40 m". */
const char *bom_count_text(Arena *arena, const BomLine *line);

#endif
