/*
 * The rule battery-fuse: lithium batteries in parallel, of which the others feed the fault of one; and that the fuse at a battery,
 * where there is one, lets pass what is asked of it.
 */
#include "rules/bank.h"

#include <math.h>

/* Below so many volts it is no battery but a cell, and cells in parallel are one larger cell: a choice of this program. */
static const double battery_from_v = 6.0;

static void tell_unfused(Judge *judge, const Entity *bank, Interval strings, Side back)
{
    Finding *f = judge_open(judge, bank, place_of_name(judge, bank), bank, PROP_BANK_BATTERY_FUSE);
    if (strings.low < 2.0) {
        finding_may_not_apply(f);
        finding_rests_on(judge, f, bank, PROP_BANK_PARALLEL);
    }
    finding_say(judge, f, "`%s` is of lithium batteries in parallel: into one with a fault, or into its cable, the others drive %s, and no "
                          "fuse at each is stated",
                say_name(judge, bank), say_side(judge, back));
    finding_remedy(judge, f, "`battery-fuse`, one at the positive of each that breaks as much, as their maker asks for it");
}

static void judge_fuse_breaks(Judge *judge, const Entity *bank, Side back)
{
    Span place = place_of(judge, bank, PROP_BANK_BATTERY_FUSE);
    Side breaks = side_value(judge, bank, PROP_BANK_BATTERY_FUSE, 1);
    bool says = breaks.state != STATE_MISSING;
    Finding *f = says ? judge_at_least(judge, bank, place, breaks, back) : judge_open(judge, bank, place, bank, PROP_BANK_BATTERY_FUSE);
    if (f == NULL) {
        return;
    }
    if (says) {
        finding_say(judge, f, "into a battery of `%s` with a fault the others drive %s, and the fuse at each can break %s", say_name(judge, bank),
                    say_side(judge, back), say_side(judge, breaks));
    } else {
        finding_say(judge, f, "into a battery of `%s` with a fault the others drive %s, and what the fuse at each can break is not stated",
                    say_name(judge, bank), say_side(judge, back));
    }
    if (isfinite(back.value.high)) {
        finding_remedy(judge, f, "a fuse that breaks more, told as `battery-fuse ... interrupts %s`", say_no_less(judge, back.value.high, back.unit));
    }
}

static void tell_small(Judge *judge, Finding *f, const Entity *bank, Side fuses, const char *what)
{
    bool several = fuses.value.high > side_value(judge, bank, PROP_BANK_BATTERY_FUSE, 0).value.high;
    finding_severity(f, SEVERITY_WARNING);
    finding_say(judge, f, "the %s `%s` %s %s together, and %s: %s in normal use", several ? "fuses at the batteries of" : "fuse at",
                say_name(judge, bank), several ? "let pass" : "lets pass", say_side(judge, fuses), what, several ? "they open" : "it opens");
}

/* What the fuses let pass together, against what the loads ask at once, and against what each source brings by itself. */
static void judge_fuse_carries(Judge *judge, const Entity *bank)
{
    Side fuses = bank_limit(judge, bank, PROP_BANK_BATTERY_FUSE);
    Span place = place_of(judge, bank, PROP_BANK_BATTERY_FUSE);
    const Figure *asked = figure_of(judge, bank, FIGURE_DISCHARGE_CURRENT);
    Finding *f = asked != NULL ? judge_at_least(judge, bank, place, fuses, side_figure(asked)) : NULL;
    if (f != NULL) {
        finding_matter(f, "asked");
        tell_small(judge, f, bank, fuses, text_format(judge->arena, "%s can be asked of it at once", say_figure(judge, asked)));
        finding_remedy(judge, f, "a larger `battery-fuse`, if the batteries and the cable at each stand it, or less at once");
        return;
    }
    for (const Charging *c = upstream_of(judge)->charging[bank->index]; c != NULL; c = c->next) {
        const Figure *brought = feed_figure(judge, c->feed, FIGURE_CURRENT);
        f = brought != NULL ? judge_at_least(judge, bank, place, fuses, side_figure(brought)) : NULL;
        if (f != NULL) {
            finding_at(f, c->feed->giver);
            finding_matter(f, "brought");
            tell_small(judge, f, bank, fuses, text_format(judge->arena, "`%s` brings %s", say_name(judge, c->feed->giver), say_figure(judge, brought)));
            finding_remedy(judge, f, "a larger `battery-fuse`, if the batteries and the cable at each stand it, or less that is brought");
            return;
        }
    }
}

void judge_battery_fuse(Judge *judge, const Entity *bank)
{
    if (entity_states(bank, PROP_BANK_BATTERY_FUSE)) {
        judge_fuse_carries(judge, bank);
    }
    Chemistry chemistry;
    Side one = side_value(judge, bank, PROP_BANK_VOLTAGE, 0);
    if (!bank_chemistry(bank, &chemistry)) {
        judge_waiting(judge);
        return;
    }
    Side back = side_figure(figure_of(judge, bank, FIGURE_BATTERY_BACK));
    if (chemistry != CHEMISTRY_LIFEPO4 || back.figure == NULL || (side_is_known(one) && one.value.high < battery_from_v)) {
        return; /* one alone, or cells */
    }
    if (back.state == STATE_WAITING) {
        judge_waiting(judge);
    } else if (entity_states(bank, PROP_BANK_BATTERY_FUSE)) {
        judge_fuse_breaks(judge, bank, back);
    } else {
        tell_unfused(judge, bank, strings_of_bank(judge, bank), back);
    }
}
