/*
 * The rule battery-fuse: lithium batteries in parallel, of which the others feed the fault of one.
 */
#include "rules/bank.h"

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
    finding_remedy(judge, f, "a fuse that breaks more, told as `battery-fuse ... interrupts %s`", say_side(judge, back));
}

void judge_battery_fuse(Judge *judge, const Entity *bank)
{
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
