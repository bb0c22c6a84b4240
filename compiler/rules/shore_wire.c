/*
 * Cables of alternating current: what is asked of them beyond what the rules of all cables ask. Insulation where it is hot,
 * conductors laid as one, and cables whose current rests on lying alone, where nothing says that they do.
 */
#include "rules/shore.h"

#include "figures/water.h"
#include "physics/ampacity.h"
#include "physics/celsius.h"
#include "rules/wiring.h"

static const UnitPair celsius = {UNIT_CELSIUS, UNIT_NONE};

/* What insulation has to stand: US voluntary practice 75 C, ISO 70 C in engine spaces, 60 C elsewhere; from memory. */
static double least_insulation(Basis basis, bool engine_space)
{
    return (engine_space ? (basis == BASIS_US ? 75.0 : 70.0) : 60.0) + ZERO_CELSIUS_K;
}

/* The first engine space that a cable passes or ends in, or NULL. */
static const Entity *engine_space_of(const Judge *judge, const Feed *feed)
{
    uint16_t at = 0;
    const Entity *space = feed_next_space(feed, &at);
    while (space != NULL && !is_engine_space(judge->model, space)) {
        space = feed_next_space(feed, &at);
    }
    return space;
}

static void about(Finding *finding, const Feed *feed, PropId prop)
{
    finding_at(finding, feed->maker ? feed->taker : NULL);
    finding_about(finding, prop);
}

static void judge_insulation(Judge *judge, const Feed *feed)
{
    const Entity *space = engine_space_of(judge, feed);
    double least = least_insulation(judge->basis, space != NULL);
    const char *where = space != NULL ? text_format(judge->arena, " through `%s`", say_name(judge, space)) : "";
    Side stands = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_WIRE), 2);
    Finding *f;
    if (stands.state == STATE_MISSING && space == NULL) {
        judge_holds(judge); /* the poorest that is sold, and taken where nothing is said, does here */
        return;
    }
    if (stands.state == STATE_MISSING) {
        f = judge_open(judge, feed->subject, feed_place(judge, feed, PROP_FEED_WIRE), feed->subject,
                       feed_prop(feed, PROP_FEED_WIRE));
        finding_say(judge, f, "the cable of `%s` carries mains%s and does not say what heat its insulation stands; %s is asked",
                    say_name(judge, feed->subject), where, say_number(judge, least, celsius));
    } else {
        f = judge_at_least(judge, feed->subject, feed_place(judge, feed, PROP_FEED_WIRE), stands,
                           side_number(least, celsius));
        if (f == NULL) {
            return;
        }
        finding_say(judge, f, "the cable of `%s` carries mains%s and its insulation stands %s; %s is asked",
                    say_name(judge, feed->subject), where, say_side(judge, stands), say_number(judge, least, celsius));
    }
    about(f, feed, PROP_SPACE_TEMPERATURE);
    finding_remedy(judge, f, "`insulation 105 C` on its `wire`");
}

/* NEC 310.10(G), from memory: conductors in parallel are 1/0 AWG or thicker. IEC asks for no least size. */
static void judge_parallel(Judge *judge, const Feed *feed)
{
    const Value *conductors = property_value(feed_property(feed, PROP_FEED_WIRE), 1);
    if (judge->basis != BASIS_US || conductors->kind != VALUE_QUANTITY || conductors->u.quantity.low < 2.0) {
        return;
    }
    const Conductor *least = conductor_find_gauge(SERIES_AWG, 0);
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    Finding *f = judge_at_least(judge, feed->subject, feed_place(judge, feed, PROP_FEED_WIRE), side_figure(size),
                                side_number(least->area_m2, UNIT_ALONE(UNIT_AWG)));
    if (f != NULL) {
        about(f, feed, PROP_FEED_WIRE);
        finding_say(judge, f, "the cable of `%s` lays conductors of %s as one; of mains only %s and thicker may share a current",
                    say_name(judge, feed->subject), say_figure(judge, size), least->word);
        finding_remedy(judge, f, "one conductor that carries all of it");
    }
}

/* What flows for long at most: no more than the device that guards the cable lets pass. */
static Side held_by_device(const Judge *judge, const Feed *feed, Side current)
{
    const Figure *device = feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    if (side_is_known(current) && device != NULL && device->state == STATE_KNOWN && device->high > 0.0) {
        current.value = interval_min(current.value, (Interval){device->low, device->high});
    }
    return current;
}

/* What the cable carries if others lie with it, where nothing says how many do. */
static void judge_bundle(Judge *judge, const Feed *feed)
{
    const Value *laid = property_value(feed_property(feed, PROP_FEED_WIRE), 1);
    bool laid_as_one = laid->kind == VALUE_QUANTITY && laid->u.quantity.high > 1.0;
    if (feed_property(feed, PROP_FEED_BUNDLE) != NULL || laid_as_one) {
        return; /* counted in its ampacity, which wire-overloaded judges */
    }
    int together = judge->basis == BASIS_US ? 3 : 4; /* the fewest for which either basis takes something off */
    Interval volts = nominal_volts(judge, feed);
    Side carries = side_figure(feed_figure(judge, feed, FIGURE_AMPACITY));
    Side current = side_figure(feed_figure(judge, feed, FIGURE_CURRENT));
    if (!side_is_known(carries) || !side_is_known(current) || volts.low <= 0.0) {
        return; /* counted by wire-overloaded */
    }
    Side with_others = side_interval(
        interval_multiply(carries.value, (Interval){bundle_factor(judge->basis, together, volts.high),
                                                    bundle_factor(judge->basis, together, volts.low)}), carries.unit);
    if (carries.value.high <= 0.0) {
        judge_gives_way(judge); /* thinner than the table knows: wire-overloaded tells, and no `bundle` mends that */
        return;
    }
    current = held_by_device(judge, feed, current);
    if (ask_at_least(with_others, current) == ANSWER_YES) {
        return;
    }
    bool never = ask_at_least(carries, current) == ANSWER_NO; /* told by wire-overloaded too, but no reason to call this one held */
    Finding *f = judge_open(judge, feed->subject, feed_place(judge, feed, PROP_FEED_WIRE), feed->subject,
                            feed_prop(feed, PROP_FEED_BUNDLE));
    about(f, feed, PROP_FEED_BUNDLE);
    finding_say(judge, f,
                never ? "the cable of `%s` is too thin for its %s, with others all the more: of %d conductors together each may carry "
                        "%s, and `bundle` is not said"
                      : "the cable of `%s` carries its %s only if no other lies with it: of %d conductors together each may carry %s, "
                "and `bundle` is not said",
                say_name(judge, feed->subject), say_side(judge, current), together,
                say_side(judge, with_others));
    finding_remedy(judge, f, "bundle 2, if it lies by itself");
    finding_remedy(judge, f, "a thicker `wire`");
}

void judge_ac_wire(Judge *judge, const Feed *feed)
{
    const Property *wire = feed_property(feed, PROP_FEED_WIRE);
    if (!feed_carries_alternating(feed) || (feed != feed->subject->fed && !feed->maker)) {
        return; /* of several `fed-by` the lines are the same */
    }
    if (wire != NULL && wire->flags & PROPERTY_BROKEN) {
        judge_waiting(judge);
        return;
    }
    judge_insulation(judge, feed);
    judge_parallel(judge, feed);
    judge_bundle(judge, feed);
}
