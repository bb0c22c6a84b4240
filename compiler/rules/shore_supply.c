/*
 * What hangs on mains and what is made for them: alternating or direct current, voltage, frequency.
 */
#include "rules/shore.h"
#include "rules/wiring.h"

static const UnitPair hertz = {UNIT_HZ, UNIT_NONE};

/* What a thing says that it is made for. (Of the voltage at which a draw is stated wrong-voltage tells.) */
typedef struct Made {
    Side from, to; /* V */
    Side at;       /* Hz; missing: any */
} Made;

static bool says_voltage(const Judge *judge, const Entity *thing, Made *made)
{
    if (!entity_states(thing, PROP_FEED_MADE_FOR)) {
        return false;
    }
    *made = (Made){.from = side_value(judge, thing, PROP_FEED_MADE_FOR, 0),
                   .to = side_value(judge, thing, PROP_FEED_MADE_FOR, 1),
                   .at = side_value(judge, thing, PROP_FEED_MADE_FOR, 2)};
    made->to = made->to.state == STATE_MISSING ? made->from : made->to;
    return true;
}

static const char *say_made(const Judge *judge, const Made *made)
{
    const char *from = say_side(judge, made->from);
    bool wide = made->to.value.high > made->from.value.high;
    return wide ? text_format(judge->arena, "%s to %s", from, say_side(judge, made->to)) : from;
}

/* wrong-supply */

/* What a kind of thing takes, whatever it says. */
typedef enum Takes { TAKES_EITHER, TAKES_MAINS, TAKES_DIRECT } Takes;

static Takes kind_takes(const Entity *thing)
{
    return thing->kind == KIND_CHARGER ? TAKES_MAINS : takes_direct(thing) ? TAKES_DIRECT : TAKES_EITHER;
}

static const Feed *feed_of_known(const Entity *thing)
{
    const Feed *feed = thing->fed;
    while (feed != NULL && !is_aboard(feed->giver)) {
        feed = feed->next;
    }
    return feed;
}

/* Whether something that gives direct current is found on the way up: a thing that nothing feeds gives none. */
static bool comes_from_direct(const Entity *giver)
{
    while (giver != NULL && is_aboard(giver) && !(giver->flags & ENTITY_LOOP)) {
        bool made = giver->made != NULL && is_aboard(giver->made->giver) && makes_direct(giver->made->giver);
        if (giver->kind == KIND_BANK || makes_direct(giver) || made) {
            return true;
        }
        const Feed *feed = feed_of_known(giver);
        giver = feed != NULL ? feed->giver : NULL;
    }
    return false;
}

static Finding *tell_supply(Judge *judge, const Entity *thing, const Feed *feed, const char *takes, bool mains)
{
    Finding *f = judge_broken(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY));
    finding_say(judge, f, "`%s` takes %s, and `%s` gives it %s", say_name(judge, thing), takes, say_name(judge, feed->giver),
                mains ? "mains" : "direct current");
    return f;
}

static void judge_kind(Judge *judge, const Entity *thing, const Feed *feed, bool mains)
{
    Takes takes = kind_takes(thing);
    if (takes == TAKES_MAINS && !mains && !comes_from_direct(feed->giver)) {
        judge_waiting(judge);
    } else if (takes == TAKES_MAINS && !mains) {
        Finding *f = tell_supply(judge, thing, feed, "mains", mains);
        finding_remedy(judge, f, "`fed-by` what hangs on the shore inlet or the generator");
        finding_remedy(judge, f, "a `converter`, which charges one bank from another");
    } else if (takes == TAKES_DIRECT && mains) {
        Finding *f = tell_supply(judge, thing, feed, "direct current", mains);
        finding_remedy(judge, f, "`fed-by` what hangs on a bank");
        if (thing->kind == KIND_CONVERTER) {
            finding_remedy(judge, f, "a `charger`, which takes mains");
        }
    } else if (takes != TAKES_EITHER) {
        judge_holds(judge);
    }
}

static const char what_gives_mains[] = "what gives mains: a shore inlet, a generator or an `inverter`";

static void judge_sort(Judge *judge, const Entity *thing, const Feed *feed, bool mains)
{
    Made made;
    if (kind_takes(thing) != TAKES_EITHER || !says_voltage(judge, thing, &made)) {
        return;
    }
    bool unfed = !mains && made.from.value.high >= MAINS_FROM_V && !comes_from_direct(feed->giver);
    if (!side_is_known(made.from) || !side_is_known(made.to) || unfed) {
        judge_waiting(judge);
        return;
    }
    Side limit = side_number(MAINS_FROM_V, made.from.unit);
    Span place = place_of(judge, thing, PROP_FEED_MADE_FOR);
    Finding *f = mains ? judge_at_least(judge, thing, place, made.to, limit) : judge_at_most(judge, thing, place, made.from, limit);
    if (f != NULL) {
        finding_say(judge, f, "`%s` is made for %s, and `%s` gives it %s", say_name(judge, thing), say_made(judge, &made),
                    say_name(judge, feed->giver), mains ? "mains" : "direct current");
        finding_remedy(judge, f, "`fed-by` %s", mains ? "what hangs on a bank" : what_gives_mains);
        finding_about(f, PROP_FEED_MADE_FOR);
    }
}

/* The same of a draw that is stated at the voltage of mains, where direct current is; other voltages tells wrong-voltage. */
static void judge_stated_at(Judge *judge, const Entity *thing, const Feed *feed)
{
    bool draws = kinds[thing->kind].groups & GROUPS_LOAD && !entity_states(thing, PROP_FEED_MADE_FOR);
    Answer on_direct = draws ? mains_on_direct(judge, thing, feed) : ANSWER_NO;
    if (on_direct == ANSWER_NO) {
        return;
    }
    Span place = place_of(judge, thing, PROP_LOAD_DRAW);
    const Entity *open = is_for_mains(thing) ? NULL : thing;
    Finding *f = on_direct == ANSWER_YES ? judge_broken(judge, thing, place) : judge_open(judge, thing, place, open, PROP_LOAD_DRAW);
    const Feed *with_cable = feed_with_cable(thing);
    finding_rests_on_voltage(judge, f, with_cable != NULL ? with_cable : feed);
    finding_say(judge, f, "`%s` states what it draws at %s, and `%s` gives it direct current", say_name(judge, thing),
                say_side(judge, side_value(judge, thing, PROP_LOAD_DRAW, 1)), say_name(judge, feed->giver));
    finding_remedy(judge, f, "`fed-by` %s", what_gives_mains);
    finding_about(f, PROP_LOAD_DRAW);
}

/* The cord of a generator may be plugged into an inlet; anything else that feeds one stands the wrong way round. */
static void judge_inlet_fed(Judge *judge, const Entity *inlet, const Feed *feed)
{
    if (!is_turned_inlet(feed)) {
        judge_holds(judge);
        return;
    }
    const char *name = say_name(judge, inlet), *giver = say_name(judge, feed->giver);
    Finding *f = judge_broken(judge, inlet, place_of(judge, inlet, PROP_FEED_FED_BY));
    finding_say(judge, f, "`%s` is where power comes aboard, and `%s`, which is aboard, feeds it", name, giver);
    if (!comes_from_direct(feed->giver)) {
        finding_remedy(judge, f, "`fed-by %s` in `%s`, if that hangs on the shore", name, giver);
    }
    finding_remedy(judge, f, "no `fed-by` in `%s`", name);
}

void judge_wrong_supply(Judge *judge)
{
    const Model *model = judge->model;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        const Feed *feed = is_aboard(thing) && !(thing->flags & ENTITY_LOOP) ? feed_of_known(thing) : NULL;
        if (feed != NULL && thing->kind == KIND_INLET) {
            judge_inlet_fed(judge, thing, feed);
        } else if (feed != NULL) {
            bool mains = (thing->flags & ENTITY_AC) != 0;
            judge_kind(judge, thing, feed, mains);
            judge_sort(judge, thing, feed, mains);
            judge_stated_at(judge, thing, feed);
        }
    }
}

/* ac-voltage, of what hangs on mains */

static void judge_volts_taken(Judge *judge, const Entity *thing, const Made *made, const Entity *source, Side there)
{
    Span place = place_of(judge, thing, PROP_FEED_MADE_FOR);
    Side least = made->from, most = there;
    least.value = interval_scale(least.value, SAME_VOLTAGE);
    most.value = interval_scale(most.value, SAME_VOLTAGE);
    Finding *f = judge_at_least(judge, thing, place, there, least);
    f = f == NULL ? judge_at_least(judge, thing, place, made->to, most) : f;
    if (f == NULL) {
        return;
    }
    finding_about(f, PROP_FEED_MADE_FOR);
    finding_say(judge, f, "`%s` is made for %s, and gets %s from `%s`", say_name(judge, thing), say_made(judge, made),
                say_side(judge, there), say_name(judge, source));
    finding_remedy(judge, f, "one for %s", say_side(judge, there));
    finding_remedy(judge, f, "`made-for 100 V to 240 V`, if that is printed on it");
}

static void judge_hertz_taken(Judge *judge, const Upstream *upstream, const Entity *thing, const Made *made,
                              const Entity *source)
{
    Side there = mains_hertz(judge, upstream, source);
    if (there.state == STATE_MISSING || made->at.state == STATE_MISSING) {
        return;
    }
    if (!side_is_known(there) || !side_is_known(made->at)) {
        judge_waiting(judge);
        return;
    }
    Finding *f = judge_same(judge, thing, place_of(judge, thing, PROP_FEED_MADE_FOR), made->at, there, SAME_FREQUENCY);
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_about(f, PROP_INLET_FREQUENCY);
        finding_say(judge, f, "`%s` is made for %s, and gets %s from `%s`", say_name(judge, thing), say_side(judge, made->at),
                    say_side(judge, there), say_name(judge, source));
        finding_remedy(judge, f, "one for %s, or for both", say_number(judge, there.value.high, hertz));
    }
}

void judge_made_for(Judge *judge, const Upstream *upstream, const Entity *thing, const Entity *source)
{
    Made made;
    if (kind_takes(thing) == TAKES_DIRECT || !says_voltage(judge, thing, &made)) {
        return;
    }
    Side there = mains_volts(judge, upstream, source);
    if (there.state == STATE_MISSING) {
        return; /* nobody says what the source gives: told elsewhere */
    }
    if (!side_is_known(there) || !side_is_known(made.from) || !side_is_known(made.to)) {
        judge_waiting(judge);
        return;
    }
    if (made.to.value.high < MAINS_FROM_V) {
        judge_gives_way(judge); /* made for direct current: told by wrong-supply */
        return;
    }
    judge_volts_taken(judge, thing, &made, source, there);
    judge_hertz_taken(judge, upstream, thing, &made, source);
}
