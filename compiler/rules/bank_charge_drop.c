/*
 * The rule charge-drop: what is lost between what charges and its bank.
 */
#include "rules/bank.h"
#include "physics/charging.h"
#include "physics/drop.h"
#include "rules/wiring.h"

static const UnitPair percent = {UNIT_PERCENT, UNIT_NONE};

/* The cables between and what each loses. */
static void note_way(Judge *judge, Finding *f, const Feed *feed)
{
    enum { STEPS_MOST = 16 };
    const Entity *thing = feed->taker;
    for (int i = 0; i < STEPS_MOST && thing->kind != KIND_BANK && thing->fed != NULL; i++) {
        const Figure *lost = feed_figure(judge, thing->fed, FIGURE_BROUGHT_DROP);
        if (lost != NULL && lost->state == STATE_KNOWN && lost->high > 0.0) {
            finding_note(judge, f, feed_place(judge, thing->fed, PROP_FEED_WIRE), "%s of it here", say_figure(judge, lost));
        }
        thing = thing->fed->giver;
        if (thing == NULL) {
            return;
        }
    }
}

void judge_charge_drop(Judge *judge, const Feed *feed)
{
    const Figure *drop = feed_figure(judge, feed, FIGURE_CHARGE_DROP);
    if (drop == NULL) {
        return;
    }
    bool own = feed_property(feed, PROP_FEED_DROP) != NULL;
    Side most = own ? side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_DROP), 0)
                    : side_number(DROP_LIMIT_CRITICAL, percent);
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(drop), most);
    if (f == NULL) {
        return;
    }
    const Figure *here = feed_figure(judge, feed, FIGURE_VOLTAGE_DROP);
    finding_say(judge, f, "%s of the voltage is lost between %s and its bank while it gives its most; at most %s should be%s",
                say_lost(judge, drop), say_name(judge, feed->subject), say_side(judge, most), own ? ": its own limit" : "");
    if (drop->input_count > 1) {
        finding_here(judge, f, "%s of it here", say_lost(judge, here));
        note_way(judge, f, feed);
    }
    finding_remedy(judge, f, "a thicker `wire` or a shorter `run`");
    finding_remedy(judge, f, "`drop 10 %%`, if it senses the voltage at the bank itself");
}
