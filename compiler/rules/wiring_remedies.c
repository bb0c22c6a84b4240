/*
 * What to write in the place of a cable or device that does not do: tried against what else the cable and the device have to
 * do before it is offered. Where neither alone will do, both are named.
 */
#include "rules/wiring_rules.h"

#include "base/interval.h"
#include "figures/cable.h"
#include "physics/celsius.h"
#include "physics/drop.h"
#include "rules/ask.h"
#include "rules/upstream.h"
#include "rules/wiring.h"
#include "rules/wiring_serving.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* What flows, with the margin for the part of it that lasts. */
Side rating_wanted(const Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *continuous = feed_figure(judge, feed, FIGURE_CONTINUOUS_CURRENT);
    Side wanted = side_figure(flow);
    if (side_is_known(wanted)) {
        bool may_last = feed->maker || back || continuous == NULL; /* a charger may run all day */
        Interval lasting = may_last
                               ? wanted.value
                               : interval_min((Interval){continuous->low, continuous->high}, wanted.value);
        wanted.value = interval_add(wanted.value, interval_scale(lasting, CONTINUOUS_MARGIN - 1.0));
    }
    return wanted;
}

double when_low(const Judge *judge, const Feed *feed)
{
    const Figure *low = feed->taker->kind == KIND_INVERTER ? figure_of(judge, feed->taker, FIGURE_CURRENT_WHEN_LOW) : NULL;
    return low != NULL && low->state == STATE_KNOWN && isfinite(low->high) ? low->high : 0.0;
}

static bool is_finite_figure(const Figure *figure)
{
    return figure != NULL && figure->state == STATE_KNOWN && isfinite(figure->high);
}

/* The rating that all that flows through a feed asks for; infinite where that is not known. */
static double wanted_a(const Judge *judge, const Feed *feed)
{
    Side load = rating_wanted(judge, feed, feed_figure(judge, feed, FIGURE_CURRENT), false);
    const Figure *brought = figure_brought_back(judge->figures, feed);
    double back = 0.0;
    if (brought != NULL) {
        Side side = rating_wanted(judge, feed, brought, true);
        back = side_is_known(side) ? side.value.high : INFINITY;
    }
    const Figure *lent = feed->maker ? NULL : figure_of(judge, feed->taker, FIGURE_CRANKING); /* a start by way of it goes through too */
    back = lent != NULL ? fmax(back, lent->state == STATE_KNOWN ? lent->high : INFINITY) : back;
    back = fmax(back, CONTINUOUS_MARGIN * when_low(judge, feed)); /* see inverter-feed */
    return side_is_known(load) ? fmax(load.value.high, back) : INFINITY;
}

/*
 * Whether the thickest cable that is made, which was chosen, might serve with the best insulation, if that is not decided
 * either: of what is a range by the least that may be asked of it.
 */
static bool insulation_may_mend(const Judge *judge, const Feed *feed, double amps, double device_a)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Conductor *own = conductor_of(size);
    bool stated = property_value(feed_property(feed, PROP_FEED_WIRE), 2)->kind == VALUE_QUANTITY;
    if (stated || own == NULL || !size->chosen || conductor_next(own) != NULL || !isfinite(amps) || !isfinite(device_a)) {
        return false;
    }
    double carries = ampacity_at_most(judge, feed, own, BEST_INSULATION_C);
    return carries >= amps * (1.0 - 1e-9) && carries > 0.0 &&
           protection_limit_a(judge->basis, nominal_volts(judge, feed).low, carries) >= device_a * (1.0 - 1e-9);
}

static void leave_open_to_insulation(Judge *judge, Finding *finding, const Feed *feed, Interval amps, Interval device_a)
{
    if (finding->verdict == VERDICT_BROKEN && insulation_may_mend(judge, feed, amps.low, device_a.low)) {
        finding_left_open(judge, finding, feed->subject, feed_prop(feed, PROP_FEED_WIRE));
    }
}

static const char *say_best(const Judge *judge)
{
    return say_number(judge, BEST_INSULATION_C + ZERO_CELSIUS_K, UNIT_ALONE(UNIT_CELSIUS));
}

/* "`insulation 105 C`, if that is printed on the cable" of one that does not say it, or "wire 25 mm2 insulation 105 C". */
static const char *say_insulated(const Judge *judge, const Feed *feed, const Conductor *row)
{
    const Property *wire = feed_property(feed, PROP_FEED_WIRE);
    bool unsaid = wire != NULL && property_value(wire, 2)->kind != VALUE_QUANTITY &&
                  row == conductor_of(feed_figure(judge, feed, FIGURE_WIRE_SIZE));
    return unsaid ? text_format(judge->arena, "`insulation %s`, if that is printed on the cable", say_best(judge))
                  : say_wire(judge, feed, row, BEST_INSULATION_C);
}

void remedy_size(Judge *judge, Finding *finding, const Feed *feed, Interval amps, Interval device_a)
{
    Serving serving = cables_that_serve(judge, feed, amps.high, device_a.high);
    if (serving.best != NULL) {
        finding_remedy(judge, finding, "%s", say_insulated(judge, feed, serving.best));
    }
    if (serving.own != NULL) {
        finding_remedy(judge, finding, "%s", say_wire(judge, feed, serving.own, 0.0));
    }
    leave_open_to_insulation(judge, finding, feed, amps, device_a);
}

/*
 * What of a device's kind and class to write for at least so many amperes: a fuse of the class that breaks what may flow
 * there, in a rating that it is made in.
 */
static const char *kind_of_device(const Judge *judge, const Feed *feed, double *rating_a)
{
    const Figure *fault = feed_figure(judge, feed, FIGURE_FAULT_CURRENT);
    if (feed_is_alternating(feed)) {
        return " breaker";
    }
    if (!is_finite_figure(fault)) {
        return " fuse";
    }
    ProtectionClass class = class_that_breaks(false, *rating_a, nominal_volts(judge, feed).high, fault->high);
    if (class == PROTECTION_CLASS_COUNT) {
        return text_format(judge->arena, " fuse that breaks %s", say_figure(judge, fault));
    }
    *rating_a = next_rating_a(class, *rating_a);
    return text_format(judge->arena, " fuse %s", protection_row(class)->word);
}

/* The feed whose device stands before the one of a feed; NULL: there is none. */
static const Feed *guard_before(const Feed *feed)
{
    const Entity *giver = feed->giver;
    bool none = feed->maker || giver == NULL || turns_power(giver) || giver->flags & ENTITY_LOOP || giver->fed == NULL;
    return none ? NULL : giver->fed->guard;
}

/* The device of what brings a feed its power, which it must not reach; 0: none, or not known. */
static double before_a(const Judge *judge, const Feed *feed)
{
    const Feed *guard = guard_before(feed);
    const Figure *device = guard != NULL ? feed_figure(judge, guard, FIGURE_PROTECTION) : NULL;
    return device != NULL && device->state == STATE_KNOWN ? device->low : 0.0;
}

/* The first thing behind a feed with a device that is no smaller than such a one, or would open later; NULL if none is. */
static const Entity *no_smaller_behind(const Judge *judge, const Feed *feed, double rating_a)
{
    const Feed *on = feed->maker ? NULL : feed->taker->gives;
    for (; on != NULL; on = on->next_of_giver) {
        bool own = !on->maker && is_aboard(on->taker) && feed_property(on, PROP_FEED_PROTECT) != NULL;
        const Figure *device = own ? feed_figure(judge, on, FIGURE_PROTECTION) : NULL;
        if (is_finite_figure(device) && device->high >= rating_a) {
            return on->taker;
        }
    }
    return NULL;
}

/* The least that a device upstream of a feed may be at most; *who is what allows it no more. */
static double upstream_at_most(const Judge *judge, const Feed *feed, const char **who)
{
    enum { DEEPEST = 16 };
    double least_a = INFINITY;
    int depth = 0;
    for (const Feed *before = guard_before(feed); before != NULL && depth < DEEPEST; before = guard_before(before)) {
        const char *by;
        double most_a = device_at_most(judge, before, &by);
        *who = most_a < least_a ? by : *who;
        least_a = fmin(least_a, most_a);
        depth++;
    }
    return least_a;
}

/* What else has to change, for the order of devices to be kept: ", and more than that upstream, where 80 A stand". */
static const char *say_order(const Judge *judge, const Feed *feed, double rating_a)
{
    double upstream_a = before_a(judge, feed);
    const char *who = "";
    bool reaches = upstream_a > 0.0 && rating_a >= upstream_a;
    bool no_room = reaches && rating_a >= upstream_at_most(judge, feed, &who) * (1.0 - 1e-9);
    const Entity *behind = no_smaller_behind(judge, feed, rating_a);
    const char *upstream = no_room   ? text_format(judge->arena, ", though %s leaves no room for a larger one upstream", who)
                           : reaches ? text_format(judge->arena, ", and more than that upstream, where %s stand",
                                             say_number(judge, upstream_a, amperes))
                               : "";
    return behind != NULL ? text_format(judge->arena, "%s, and less than that at `%s` behind it", upstream, say_name(judge, behind))
                          : upstream;
}

/* Where no cable that is made stands behind such a device: the largest that this one allows, if it carries what flows. */
static void remedy_without_cable(Judge *judge, Finding *f, const Feed *feed, double rating_a, const char *kind)
{
    double volts = nominal_volts(judge, feed).high;
    double allowed_a = protection_limit_a(judge->basis, volts, feed_figure(judge, feed, FIGURE_AMPACITY)->low);
    double fits_a = largest_rating_a(PROTECTION_NEC_SERIES, allowed_a);
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    if (is_finite_figure(current) && fits_a > 0.0 && fits_a >= current->high) {
        finding_remedy(judge, f, "%s %s%s, with less margin than is usual%s", device_word(feed), say_number(judge, fits_a, amperes), kind,
                       say_order(judge, feed, fits_a));
    }
    finding_remedy(judge, f, "%s %s%s on several conductors laid as one (`conductors` of its `wire`, as many as carry that in one bundle), for none alone stands behind it", device_word(feed),
                   say_number(judge, rating_a, amperes), kind);
}

/* What a cable has to carry whatever guards it (wire-overloaded): as far as it is known. */
static double flows_a(const Judge *judge, const Feed *feed)
{
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT), *back = figure_brought_back(judge->figures, feed);
    double amps = is_finite_figure(current) && !is_cranked(feed->taker) ? current->high : 0.0;
    amps = fmax(amps, when_low(judge, feed));
    return is_finite_figure(back) ? fmax(amps, back->high) : amps;
}

/* A device of that rating, with the cable that it takes and what it asks of those before and behind it. */
static void remedy_rating(Judge *judge, Finding *f, const Feed *feed, double rating_a, const char *kind)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    const char *rating = say_number(judge, rating_a, amperes);
    const char *order = say_order(judge, feed, rating_a);
    bool known = ampacity != NULL && ampacity->state == STATE_KNOWN;
    if (!known) {
        finding_remedy(judge, f, "%s %s%s, if the cable allows it%s", device_word(feed), rating, kind, order);
        return;
    }
    double flows = flows_a(judge, feed);
    Serving serving = cables_that_serve(judge, feed, flows, rating_a);
    if (cable_serves(judge, feed, ampacity->low, flows, rating_a)) {
        finding_remedy(judge, f, "%s %s%s%s", device_word(feed), rating, kind, order);
        return;
    }
    if (serving.best != NULL) {
        finding_remedy(judge, f, "%s with %s %s%s%s", say_wire(judge, feed, serving.best, BEST_INSULATION_C),
                       device_word(feed), rating, kind, order);
    }
    if (serving.own != NULL) {
        finding_remedy(judge, f, "%s with %s %s%s%s", say_wire(judge, feed, serving.own, 0.0), device_word(feed), rating, kind, order);
    }
    if (serving.own == NULL && serving.best == NULL) {
        remedy_without_cable(judge, f, feed, rating_a, kind);
    }
}

/* Whether nothing before or behind it forbids a device of that rating. */
static bool has_room_for(const Judge *judge, const Feed *feed, double rating_a)
{
    const char *who;
    return rating_a <= device_at_most(judge, feed, &who) * (1.0 + 1e-9) &&
           rating_a <= upstream_at_most(judge, feed, &who) * (1.0 + 1e-9);
}

Interval device_to_stand(const Judge *judge, const Feed *feed, const Figure *device)
{
    const Feed *guard = feed->guard;
    double wanted = guard != NULL && !device->chosen ? wanted_a(judge, guard) : INFINITY;
    double next = isfinite(wanted) ? next_made(judge, guard, wanted) : INFINITY;
    bool larger = isfinite(next) && device->high < wanted * (1.0 - 1e-9) && has_room_for(judge, guard, next);
    return (Interval){device->low, larger ? next : device->high};
}

void remedy_larger_device(Judge *judge, Finding *f, const Feed *feed, double at_least_a)
{
    const char *who;
    double next = isfinite(at_least_a) ? next_made(judge, feed, at_least_a) : INFINITY;
    double most = device_at_most(judge, feed, &who);
    const char *upstream_who = "";
    double upstream = isfinite(next) && next <= most * (1.0 + 1e-9) ? upstream_at_most(judge, feed, &upstream_who) : INFINITY;
    if (isfinite(next) && next > upstream * (1.0 + 1e-9)) {
        finding_remedy(judge, f, "less on it at once: %s allows no device above %s upstream", upstream_who,
                       say_number(judge, upstream, amperes));
    } else if (isfinite(next) && next > most * (1.0 + 1e-9)) {
        finding_remedy(judge, f, "less on it at once: %s allows no device above %s", who, say_no_more(judge, most, amperes));
    } else if (isfinite(next)) {
        remedy_rating(judge, f, feed, next, stated_kind(judge, feed));
    }
}

const Entity *bank_at_its_end(const Feed *feed)
{
    enum { SWITCHES_MOST = 8 };
    const Entity *at = feed->maker ? feed->taker : feed->giver;
    for (int i = 0; at != NULL && at->kind == KIND_SWITCH && at->fed != NULL && at->fed->shares && i < SWITCHES_MOST; i++) {
        at = at->flags & ENTITY_LOOP ? NULL : at->fed->giver;
    }
    return at != NULL && at->kind == KIND_BANK ? at : NULL;
}

const char *place_by_battery(const Judge *judge)
{
    return judge->basis == BASIS_US ? "6 in from source" : "0.15 m from source";
}

void remedy_no_device(Judge *judge, Finding *f, const Feed *feed)
{
    const Figure *would = feed_figure(judge, feed, FIGURE_WANTED_PROTECTION);
    double wanted = wanted_a(judge, feed);
    if (would != NULL && would->state == STATE_WAITING) {
        finding_remedy(judge, f, "a fuse or breaker near its source, once it is known what flows");
        return;
    }
    if (would == NULL || would->state != STATE_KNOWN || !isfinite(would->high)) {
        finding_remedy(judge, f, "%s ?", device_word(feed));
        return;
    }
    double rating = isfinite(wanted) && would->high < wanted ? next_rating_a(PROTECTION_NEC_SERIES, wanted) : would->high;
    rating = isfinite(rating) ? rating : would->high;
    double most = end_at_most(judge, feed);
    bool lends = !feed->maker && figure_of(judge, feed->taker, FIGURE_CRANKING) != NULL; /* a smaller one would open in a start */
    if (rating > most && !lends) {
        rating = would->high <= most ? would->high : largest_made(judge, feed, most);
        rating = rating > 0.0 ? rating : most; /* none is made so small in the series: what its end is made for */
    }
    const char *kind = kind_of_device(judge, feed, &rating);
    if (lends && rating > most) {
        kind = text_format(judge->arena, "%s %s, and a `%s` that is rated for it", kind, place_by_battery(judge), kinds[feed->taker->kind].word);
        remedy_rating(judge, f, feed, rating, kind);
        return;
    }
    bool at_bank = bank_at_its_end(feed) != NULL && feed_prop(feed, PROP_FEED_PROTECT) != PROP_FEEDS_PROTECT_OUTPUT;
    remedy_rating(judge, f, feed, rating, at_bank ? text_format(judge->arena, "%s %s", kind, place_by_battery(judge)) : kind);
}

/* What a cable behind a device has to carry that it may stand there: see judge_needless. Which it is goes by the values. */
static Interval to_carry(const Judge *judge, const Feed *feed, Interval lets, double wanted)
{
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    bool known = current != NULL && current->state == STATE_KNOWN;
    Interval flows = known ? (Interval){current->low, current->high} : point(0.0);
    bool needless = isfinite(wanted) && judge->basis == BASIS_US && next_made(judge, feed, wanted) < lets.high;
    Interval carries = needless ? lets : flows;
    bool decided = interval_is_point(lets) && interval_is_point(flows);
    return decided ? carries : (Interval){fmin(lets.low, flows.low), carries.high};
}

void remedy_device_or_size(Judge *judge, Finding *f, const Feed *feed, const Figure *device)
{
    double wanted = wanted_a(judge, feed);
    bool small = isfinite(wanted) && device->high < wanted * (1.0 - 1e-9);
    Interval lets = {device->low, device->high}, carries = to_carry(judge, feed, lets, wanted);
    leave_open_to_insulation(judge, f, feed, carries, lets);
    if (small && has_room_for(judge, feed, next_made(judge, feed, wanted))) {
        remedy_larger_device(judge, f, feed, wanted); /* too small besides: both */
        return;
    } /* where no larger one may stand, a cable behind this one mends this; what flows is told of apart */
    remedy_size(judge, f, feed, carries, lets);
    double largest = isfinite(f->limit.low) ? largest_made(judge, feed, f->limit.low) : 0.0;
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    if (isfinite(wanted) && ampacity != NULL && ampacity->state == STATE_KNOWN && isfinite(ampacity->low)) {
        /* not larger than the cable and its load need, though the limit may lie above that */
        largest = fmin(largest, fmax(largest_made(judge, feed, ampacity->low), next_made(judge, feed, wanted)));
    }
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    bool known = current != NULL && current->state == STATE_KNOWN;
    if (largest > 0.0 && known && largest >= (isfinite(wanted) ? wanted : current->high)) {
        finding_remedy(judge, f, "%s %s%s", device_word(feed), say_number(judge, largest, amperes), stated_kind(judge, feed));
    }
}

/* Drop */

/* The first size that, by its own resistance or (by rule) its copper, has so small a share of what this one loses. */
static const Conductor *size_that_loses(const Figure *size, double share, bool physical)
{
    const Conductor *row = conductor_of(size);
    if (row == NULL || !physical) {
        return conductor_at_least(series_of_unit(size->unit), size->low / share);
    }
    double most = row->r20_ohm_per_m * share;
    while (row != NULL && row->r20_ohm_per_m > most) {
        row = conductor_next(row);
    }
    return row;
}

/* What a cable loses, and what is lost up to the end of a feed: by the form of the basis, or by physics. */
static const Figure *lost_in(const Judge *judge, const Feed *feed, bool physical)
{
    return feed_figure(judge, feed, physical ? FIGURE_VOLTAGE_DROP : FIGURE_VOLTAGE_DROP_BY_RULE);
}

static const Figure *lost_up_to(const Judge *judge, const Feed *feed, bool physical)
{
    return feed_figure(judge, feed, physical ? FIGURE_TOTAL_DROP : FIGURE_TOTAL_DROP_BY_RULE);
}

/*
 * The share of the voltage that a cable loses at the most. Where no voltage is left the solved network says that all is lost, however
 * thin the cable: there as much as its copper would by what flows, of which the form of the basis tells.
 */
static double share_lost(const Judge *judge, const Feed *feed, bool physical)
{
    const Figure *lost = lost_in(judge, feed, physical), *by_rule = lost_in(judge, feed, false);
    const Conductor *row = conductor_of(feed_figure(judge, feed, FIGURE_WIRE_SIZE));
    if (!physical || lost->high < 1.0 - 1e-9 || row == NULL || !is_finite_figure(by_rule)) {
        return lost->high;
    }
    double real = drop_physical_v(row, 1.0, CABLE_WORKING_CELSIUS, 1, 1.0) / drop_by_rule_v(judge->basis, row->area_m2, 1.0, 1.0);
    return fmax(lost->high, by_rule->high * real);
}

/* The thicker of a size and of the one that loses such a share of what is lost now; NULL if none does. */
static const Conductor *thicker_of(const Conductor *thickest, const Figure *size, double share, bool physical)
{
    const Conductor *row = share > 0.0 ? size_that_loses(size, fmin(share, 1.0), physical) : NULL;
    return row == NULL || row->area_m2 > thickest->area_m2 ? row : thickest;
}

/*
 * The size of a cable on the way to a feed with which that keeps its limit, by the form of the basis and by physics; NULL if
 * no size does, or it is not known. A cable of its own that is left to the program is chosen anew for what is left to it.
 */
static const Conductor *size_within(const Judge *judge, const Feed *feed, const Feed *whose, double limit)
{
    const Figure *size = feed_figure(judge, whose, FIGURE_WIRE_SIZE);
    bool anew = whose != feed && feed_figure(judge, feed, FIGURE_WIRE_SIZE)->chosen;
    const Conductor *thickest = conductor_of(size);
    for (int physical = 0; physical < 2 && thickest != NULL; physical++) {
        const Figure *lost = lost_in(judge, whose, physical == 1);
        const Figure *own = lost_in(judge, feed, physical == 1);
        const Figure *total = lost_up_to(judge, feed, physical == 1);
        if (!is_finite_figure(lost) || !is_finite_figure(own) || !is_finite_figure(total) || lost->high <= 0.0) {
            return NULL;
        }
        double most = anew ? DROP_MOST_BEFORE * limit + own->high : limit;
        double left = most - (total->high - lost->high);
        thickest = thicker_of(thickest, size, left / share_lost(judge, whose, physical == 1), physical == 1);
    }
    return thickest;
}

/* The size of a feed's own cable with which that alone loses so much, whatever is lost before it; NULL as above. */
static const Conductor *size_behind(const Judge *judge, const Feed *feed, double share)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Conductor *thickest = conductor_of(size);
    for (int physical = 0; physical < 2 && thickest != NULL; physical++) {
        const Figure *lost = lost_in(judge, feed, physical == 1);
        if (!is_finite_figure(lost) || lost->high <= 0.0) {
            return NULL;
        }
        thickest = thicker_of(thickest, size, share / share_lost(judge, feed, physical == 1), physical == 1);
    }
    return thickest;
}

/* Whether what stands before a feed's own cable loses nearly all of the limit. */
static bool is_lost_before_it(const Judge *judge, const Feed *feed, double limit)
{
    const Figure *own = lost_in(judge, feed, true);
    const Figure *total = lost_up_to(judge, feed, true);
    return is_finite_figure(own) && is_finite_figure(total) && total->high - own->high > DROP_MOST_BEFORE * limit;
}

/* The two of them together, where neither alone is enough: half of the limit each. False if no sizes do. */
static bool remedy_both(Judge *judge, Finding *f, const Feed *feed, const Feed *before, double limit)
{
    const Conductor *feeder = before != NULL ? size_within(judge, before, before, limit / 2.0) : NULL;
    const Conductor *own = feeder != NULL ? size_behind(judge, feed, limit / 2.0) : NULL;
    if (own == NULL) {
        return false;
    }
    finding_note(judge, f, feed_place(judge, before, PROP_FEED_WIRE), "this loses %s of it",
                 say_figure(judge, lost_in(judge, before, true)));
    finding_remedy(judge, f, "%s, and with it %s for `%s`, which feeds it", say_wire(judge, feed, own, 0.0),
                   say_wire(judge, before, feeder, 0.0), say_name(judge, before->taker));
    return true;
}

/* Its own cable; where the one before it loses nearly all of the limit that one too, or alone where its own would be no thinner. */
void remedy_drop(Judge *judge, Finding *f, const Feed *feed, double limit)
{
    const Entity *giver = feed->giver;
    bool anew = feed->maker || giver == NULL || turns_power(giver) || giver->flags & ENTITY_LOOP;
    const Feed *before = anew ? NULL : feed_with_cable(giver);
    const Conductor *own = size_within(judge, feed, feed, limit);
    const Conductor *feeder = before != NULL && (own == NULL || is_lost_before_it(judge, feed, limit))
                                  ? size_within(judge, feed, before, limit)
                                  : NULL;
    if (feeder != NULL) {
        finding_note(judge, f, feed_place(judge, before, PROP_FEED_WIRE), "this loses %s of it",
                     say_figure(judge, lost_in(judge, before, true)));
        const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
        double takes_m2 = is_finite_figure(device) ? protection_takes_m2(device->high) : INFINITY; /* see wire-terminals */
        if (own != NULL && own->area_m2 < feeder->area_m2 && own->area_m2 <= takes_m2) {
            finding_remedy(judge, f, "%s", say_wire(judge, feed, own, 0.0));
        }
        finding_remedy(judge, f, "%s for `%s`, which feeds it", say_wire(judge, before, feeder, 0.0), say_name(judge, before->taker));
    } else if (own != NULL) {
        finding_remedy(judge, f, "%s", say_wire(judge, feed, own, 0.0));
    } else if (!remedy_both(judge, f, feed, before, limit)) {
        const Figure *alone = lost_in(judge, feed, true);
        bool too_thin = is_finite_figure(alone) && alone->low > limit;
        finding_remedy(judge, f, "%s on the way up to it, or a shorter `run`",
                       too_thin ? "a thicker cable here and" : "a thicker cable");
    }
}

/* The thicker of the sizes that keep the drop and that carry the current: with that the voltage stays. */
void remedy_carrying(Judge *judge, Finding *f, const Feed *feed, double limit)
{
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    const Conductor *keeps = size_within(judge, feed, feed, limit);
    Serving carries = {0};
    if (is_finite_figure(current)) {
        carries = cables_that_serve(judge, feed, current->high, 0.0);
    }
    if (f->verdict == VERDICT_OPEN) {
        finding_remedy(judge, f, "a thicker `wire`"); /* from which size on is told of what it hangs on */
    } else if (keeps == NULL) {
        remedy_drop(judge, f, feed, limit);
    } else {
        bool by_current = carries.own != NULL && carries.own->area_m2 > keeps->area_m2;
        if (by_current && carries.best != NULL) {
            const Conductor *better = carries.best->area_m2 > keeps->area_m2 ? carries.best : keeps;
            finding_remedy(judge, f, "%s", say_wire(judge, feed, better, BEST_INSULATION_C));
        }
        finding_remedy(judge, f, "%s", say_wire(judge, feed, by_current ? carries.own : keeps, 0.0));
    }
    finding_remedy(judge, f, "a shorter `run`");
    finding_remedy(judge, f, "a higher voltage");
}

/* Whether `protect` takes that word. */
static bool is_written(const Judge *judge, const char *class)
{
    const Shape *shape = shapes_get(judge->model->shapes, PROP_FEED_PROTECT);
    for (int i = 0; i < shape->item_count; i++) {
        const Atom *atom = shape->items[i].kind == ITEM_ATOM ? shape->items[i].atoms : NULL;
        for (uint16_t w = 0; atom != NULL && atom->kind == ATOM_WORD && w < atom->word_count; w++) {
            if (str_is(atom->words[w], class)) {
                return true;
            }
        }
    }
    return false;
}

void remedy_class(Judge *judge, Finding *f, const Property *protect, Interval rating, double fault_a, double volts)
{
    const Value *kind = property_value(protect, 1);
    const char *words[PROTECTION_CLASS_COUNT];
    int count = 0;
    for (int c = PROTECTION_NEC_SERIES + 1; c < PROTECTION_CLASS_COUNT; c++) {
        ProtectionClass class = (ProtectionClass)c;
        const Protection *row = protection_row(class);
        bool is_kind = kind->kind != VALUE_WORD || str_is(kind->u.word, "breaker") == row->breaker;
        if (is_kind && is_written(judge, row->word) && class_is_made(class, rating.low, volts) &&
            class_is_made(class, rating.high, volts) && interrupting_capacity_a(class, volts, false) >= fault_a) {
            words[count++] = row->word;
        }
    }
    Buf text;
    buf_init(&text, judge->arena);
    for (int i = 0; i < count; i++) {
        buf_format(&text, "%s`%s`", i == 0 ? "" : i + 1 < count ? ", " : " or ", words[i]);
    }
    if (count > 0) {
        finding_remedy(judge, f, "%s on its `protect`, if it is of such a class", text.text);
    }
}

void note_battery_fuse(Judge *judge, Finding *f, const Feed *feed)
{
    const Entity *bank = feed->maker ? feed->taker : feed->giver;
    if (bank != NULL && bank->kind == KIND_BANK && entity_states(bank, PROP_BANK_BATTERY_FUSE)) {
        finding_note(judge, f, place_of(judge, bank, PROP_BANK_BATTERY_FUSE),
                     "this is told of each battery; if it is what protects this cable, it is the cable's `protect`");
    }
}
