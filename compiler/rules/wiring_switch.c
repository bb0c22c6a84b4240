/*
 * The rules on switches of direct current. battery-switch: what a bank feeds with no switch on the way; it goes down from the bank
 * up to the first switch of each way, and looks at what draws there. insulated-poles: that a switch opens both sides where
 * neither is grounded.
 */
#include "rules/wiring_rules.h"

#include "figures/drive.h"
#include "figures/power.h"
#include "rules/upstream.h"

enum { DEEPEST = 16 };

/* What the standard lets stay on, and what charges another bank. */
static bool may_stay_on(const Entity *thing)
{
    switch ((KindId)thing->kind) {
    case KIND_BILGE_PUMP:
    case KIND_ALARM:
    case KIND_BLOWER:
    case KIND_CHARGER:
    case KIND_CONVERTER: return true;
    default: return entity_yes(thing, PROP_COMMON_CRITICAL) == 1;
    }
}

typedef struct Unswitched {
    const Entity *things[LARGEST_COUNT];
    uint32_t count;
    bool more_than_outboard; /* than an outboard and her navigation lights */
} Unswitched;

static void note(const Judge *judge, const Entity *thing, Unswitched *found)
{
    bool draws = thing->kind == KIND_INVERTER || thing->kind == KIND_ENGINE || draws_itself(judge, thing);
    if (!draws || may_stay_on(thing)) {
        return;
    }
    bool small = thing->kind == KIND_NAV_LIGHT || (thing->kind == KIND_ENGINE && is_outboard(thing));
    found->more_than_outboard = found->more_than_outboard || !small;
    if (found->count < LARGEST_COUNT) {
        found->things[found->count] = thing;
    }
    found->count++;
}

/* A breaker in the cable at the battery is opened by hand too: common practice, no source. */
static bool is_parted_by_breaker(const Feed *feed)
{
    const Value *kind = property_value(feed_property(feed, PROP_FEED_PROTECT), 1);
    return feed->giver->kind == KIND_BANK && kind->kind == VALUE_WORD && str_is(kind->u.word, "breaker") && !is_cranked(feed->taker);
}

static void gather(const Judge *judge, const Entity *giver, int depth, Unswitched *found)
{
    for (const Feed *feed = giver->gives; feed != NULL && depth < DEEPEST; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        bool parted = taker->kind == KIND_SWITCH || taker->kind == KIND_BANK || taker->kind == KIND_INLET || is_parted_by_breaker(feed);
        if (feed->maker || parted || !is_aboard(taker) || taker->flags & ENTITY_LOOP) {
            continue;
        }
        note(judge, taker, found);
        if (!turns_power(taker) && entity_yes(taker, PROP_COMMON_CRITICAL) != 1) {
            gather(judge, taker, depth + 1, found);
        }
    }
}

void judge_battery_switch(Judge *judge, const Entity *bank)
{
    Unswitched found = {.count = 0};
    gather(judge, bank, 0, &found);
    if (found.count == 0 || !found.more_than_outboard || entity_yes(bank, PROP_COMMON_PORTABLE) == 1) {
        judge_holds(judge);
        return;
    }
    Finding *f = judge_broken(judge, bank, place_of_name(judge, bank));
    if (judge->basis == BASIS_US) {
        finding_severity(f, SEVERITY_ADVICE);
    }
    uint32_t given = found.count < LARGEST_COUNT ? found.count : LARGEST_COUNT;
    finding_say(judge, f, "no switch parts `%s` from %s", say_name(judge, bank), say_names(judge, found.things, given, found.count));
    finding_remedy(judge, f, "a `switch` that `works-as battery`, close to `%s`, on the way to them", say_name(judge, bank));
    finding_remedy(judge, f, "`critical yes` on what has to stay on");
}

/* insulated-poles */

/* Whether neither side of the direct current is joined to hull or ground, as the boat says. */
static State insulated(const Model *model, bool *is)
{
    Str word = {"", 0};
    State state = model->boat != NULL ? stated_word(model->boat, PROP_BOAT_DIRECT_CURRENT, &word) : STATE_MISSING;
    *is = state == STATE_KNOWN && str_is(word, "insulated");
    return state;
}

void judge_insulated_poles(Judge *judge, const Entity *thing)
{
    static const UnitPair plain = {UNIT_NONE, UNIT_NONE};
    bool is;
    State state = insulated(judge->model, &is);
    if (thing->fed == NULL || thing->flags & ENTITY_AC || (!is && state != STATE_WAITING)) {
        return;
    }
    Side poles = side_value(judge, thing, PROP_FEED_POLES, 0);
    if (state == STATE_WAITING || poles.state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    bool unsaid = poles.state == STATE_MISSING;
    Finding *f = unsaid ? judge_open(judge, thing, place_of_name(judge, thing), thing, PROP_FEED_POLES)
                        : judge_at_least(judge, thing, place_of(judge, thing, PROP_FEED_POLES), poles, side_number(2.0, plain));
    if (f == NULL) {
        return;
    }
    finding_say(judge, f, unsaid ? "both sides of the direct current are insulated, and `%s` does not say how many of them it opens (`poles`)"
                                 : "both sides of the direct current are insulated, and `%s` opens one of them: a first fault to the hull is "
                                   "not seen, and from then on the other side stays live",
                say_name(judge, thing));
    finding_note(judge, f, place_of(judge, judge->model->boat, PROP_BOAT_DIRECT_CURRENT), "neither is grounded");
    finding_remedy(judge, f, "poles 2");
}
