/*
 * Inverters, generators and converters: what is asked of them, and what an inverter asks of its bank.
 */
#include "figures/power.h"
#include "physics/protection.h"
#include "rules/shore.h"
#include "rules/wiring.h"
#include "rules/wiring_rules.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* What a device carries for some seconds, by its rating: common practice, no source. */
static const double surge_margin = 2.0;

/* inverter-overloaded, generator-overloaded, converter-overloaded */

static Side scaled(Side side, double by)
{
    if (side_is_known(side)) {
        side.value = interval_scale(side.value, by);
        side.unit = amperes;
    }
    return side;
}

/* What it is made for, as the share of its demand was reckoned with. */
static Finding *judge_share(Judge *judge, const Entity *source, PropId rated)
{
    const Figure *demand = figure_of(judge, source, FIGURE_DEMAND);
    const Figure *share = figure_of(judge, source, FIGURE_SHARE);
    if (share == NULL) {
        return NULL; /* not rated */
    }
    Finding *f = judge_at_most(judge, source, place_of(judge, source, rated), side_figure(share),
                               side_number(1.0, UNIT_ALONE(UNIT_PERCENT)));
    if (f != NULL) {
        finding_say(judge, f, "`%s` can be asked for %s at once, %s of the %s that it is rated for%s%s",
                    say_name(judge, source), say_figure(judge, demand), say_figure(judge, share),
                    say_side(judge, side_value(judge, source, rated, 0)), demand->remark != NULL ? "; " : "",
                    demand->remark != NULL ? demand->remark : "");
        double rating_a = share->state == STATE_KNOWN && share->low > 0.0 ? demand->low / share->low : INFINITY;
        remedy_together(judge, f, upstream_of(judge), source, rating_a);
        if (source->kind == KIND_GENERATOR) {
            finding_remedy(judge, f, "a generator that is rated for more");
        }
    }
    return f;
}

void judge_generator_overloaded(Judge *judge, const Entity *generator)
{
    judge_share(judge, generator, PROP_GENERATOR_RATED);
}

void judge_converter_overloaded(Judge *judge, const Entity *converter)
{
    if (judge_share(judge, converter, PROP_CONVERTER_OUTPUT) == NULL) {
        return;
    }
    Finding *f = judge->last;
    finding_remedy(judge, f, "a converter that gives more, or a small bank behind it, for what it cannot give at once");
}

/* What starts hardest, against the surge that it states; without one, against its rating, and then it is open. */
static void judge_surge_demand(Judge *judge, const Entity *inverter)
{
    const Figure *asked = figure_of(judge, inverter, FIGURE_SURGE_DEMAND);
    const Figure *gives = figure_of(judge, inverter, FIGURE_SURGE_OUTPUT);
    if (asked == NULL) {
        return;
    }
    bool stated = entity_states(inverter, PROP_INVERTER_SURGE);
    Finding *f =
        judge_at_most(judge, inverter, place_of(judge, inverter, PROP_INVERTER_SURGE), side_figure(asked),
                      side_figure(gives));
    if (f == NULL) {
        return;
    }
    finding_about(f, PROP_INVERTER_SURGE);
    if (!stated) {
        finding_left_open(judge, f, inverter, PROP_INVERTER_SURGE);
        finding_say(judge, f,
                    "as something starts, `%s` is asked for %s; it is rated for %s and states no `surge`",
                    say_name(judge, inverter), say_figure(judge, asked), say_figure(judge, gives));
    } else {
        finding_say(judge, f, "as something starts, `%s` is asked for %s, and gives %s for a moment",
                    say_name(judge, inverter), say_figure(judge, asked), say_figure(judge, gives));
    }
}

void judge_inverter_overloaded(Judge *judge, const Entity *inverter)
{
    const Finding *share = judge_share(judge, inverter, PROP_INVERTER_RATED);
    if (share == NULL || share->verdict == VERDICT_OPEN) { /* perhaps it carries what runs, and not what starts */
        judge_surge_demand(judge, inverter);
    }
}

/* inverter-feed */

static void judge_inverter_cable(Judge *judge, const Feed *feed, const Figure *current)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    if (size != NULL && size->chosen) {
        return; /* for this current too (power_size.c) */
    }
    Finding *f = judge_at_least(judge, feed->subject, place_of(judge, feed->subject, PROP_FEED_WIRE),
                                side_figure(ampacity), side_figure(current));
    if (f != NULL) {
        finding_say(judge, f,
                    "the cable of `%s` can carry %s, and at its rated power with the bank low %s flows",
                    say_name(judge, feed->subject), say_figure(judge, ampacity), say_figure(judge, current));
        const Figure *device = feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
        bool guarded = device != NULL && device->state == STATE_KNOWN;
        remedy_size(judge, f, feed, (Interval){current->low, current->high}, guarded ? device_to_stand(judge, feed, device) : point(0.0));
        finding_remedy(judge, f, "%s", f->remedies != NULL ? "an inverter of less power" : "a thicker `wire`, or an inverter of less power");
    }
}

static Finding *judge_opens(Judge *judge, const Feed *feed, const Figure *device, Side wanted)
{
    Finding *f = judge_at_least(judge, feed->subject, place_of(judge, feed->subject, PROP_FEED_PROTECT),
                                side_figure(device), wanted);
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_about(f, PROP_FEED_PROTECT);
        remedy_larger_device(judge, f, feed, wanted.value.high);
    }
    return f;
}

static void judge_inverter_device(Judge *judge, const Feed *feed, const Figure *current, const Figure *surge)
{
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    bool stated = entity_states(feed->subject, PROP_FEED_PROTECT) && device != NULL && !device->chosen;
    if (!stated) {
        return;
    }
    Side wanted = scaled(side_figure(current), CONTINUOUS_MARGIN);
    Finding *f = judge_opens(judge, feed, device, wanted);
    if (f != NULL) {
        finding_say(judge, f,
                    "the %s protection of `%s` may open at its rated power: %s flows with the bank low, which "
                    "asks for %s",
                    say_figure(judge, device), say_name(judge, feed->subject), say_figure(judge, current),
                    say_side(judge, wanted));
        return;
    }
    wanted = scaled(side_figure(surge), 1.0 / surge_margin);
    f = surge != NULL ? judge_opens(judge, feed, device, wanted) : NULL;
    if (f != NULL) {
        finding_say(judge, f,
                    "the %s protection of `%s` may open at a surge: %s flows for seconds with the bank low, more "
                    "than twice its rating",
                    say_figure(judge, device), say_name(judge, feed->subject), say_figure(judge, surge));
    }
}

void judge_inverter_feed(Judge *judge, const Entity *inverter)
{
    const Feed *feed = cable_of_inverter(inverter);
    const Figure *current = figure_of(judge, inverter, FIGURE_CURRENT_WHEN_LOW);
    if (feed == NULL || feed->shares || current == NULL) {
        return; /* no cable of its own, or no bank behind it: told elsewhere */
    }
    judge_inverter_cable(judge, feed, current);
    judge_inverter_device(judge, feed, current, figure_of(judge, inverter, FIGURE_SURGE_WHEN_LOW));
}
