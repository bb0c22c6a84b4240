/*
 * Ratings of devices that are left to the program, and what a cable without a device of its own lives on.
 *
 * From the ends to the sources: the smallest standard rating that carries what flows in either direction with the usual
 * margin, is larger than every device behind it, and spares a stated cable. Where the spec states no device none is
 * chosen: the one upstream protects the cable, or it is told what would (FIGURE_WANTED_PROTECTION). Sizes are chosen after
 * that (power_size.c); then each chosen rating gets a class that breaks the fault behind it.
 */
#include "figures/cable.h"

#include "physics/drop.h"

#include <math.h>

/* Ratings */

ProtectionClass class_by_kind(const Property *protect, double amps, bool ac)
{
    const Value *kind = property_value(protect, 1);
    bool stated = kind->kind == VALUE_WORD;
    bool fuse = protect == NULL ? !ac : stated && str_is(kind->u.word, "fuse"); /* as it would be bought */
    if (protect != NULL && !stated && !ac && isinf(next_rating_a(protection_default_class(true, amps, false), amps))) {
        fuse = true; /* no breaker is made so large */
    }
    return protection_default_class(!fuse, amps, ac);
}

ProtectionClass device_that_breaks(const Property *protect, double at_least_a, double volts, double fault_a)
{
    const Value *kind = property_value(protect, 1);
    bool stated = kind->kind == VALUE_WORD;
    bool breaker = protect != NULL && (!stated || str_is(kind->u.word, "breaker"));
    ProtectionClass class = class_that_breaks(breaker, at_least_a, volts, fault_a);
    return class == PROTECTION_CLASS_COUNT && breaker && !stated ? class_that_breaks(false, at_least_a, volts, fault_a) : class;
}

ProtectionClass device_class(const Property *protect, double amps, bool ac)
{
    const Value *word = property_value(protect, 2);
    ProtectionClass stated = word->kind == VALUE_WORD ? protection_class_named(word->u.word.text, word->u.word.length)
                                                      : PROTECTION_CLASS_COUNT;
    return stated != PROTECTION_CLASS_COUNT ? class_of_family(stated, amps) : class_by_kind(protect, amps, ac);
}

bool device_is_of_us_series(Basis basis, const Property *protect, bool ac)
{
    const Value *class = property_value(protect, 2);
    bool other = class->kind == VALUE_WORD && !str_is(class->u.word, protection_row(PROTECTION_MINIATURE)->word);
    return ac && basis == BASIS_US && !other;
}

ProtectionClass device_series(Basis basis, const Property *protect, bool ac, double amps)
{
    bool stated = property_value(protect, 2)->kind == VALUE_WORD && !device_is_of_us_series(basis, protect, ac);
    bool of_class = stated || (ac && basis == BASIS_ISO);
    bool small = amps < next_rating_a(PROTECTION_NEC_SERIES, 0.0); /* that series begins with 15 A, what is made does not */
    if (!of_class && small && ac) {
        const Value *kind = property_value(protect, 1);
        return kind->kind == VALUE_WORD && str_is(kind->u.word, "fuse") ? PROTECTION_CLASS_T : PROTECTION_NEC_SERIES;
    }
    return of_class || small ? device_class(protect, amps, ac) : PROTECTION_NEC_SERIES;
}

double device_next_made(Basis basis, const Property *protect, bool ac, double amps)
{
    double rating = next_rating_a(device_series(basis, protect, ac, amps), amps);
    return isfinite(rating) ? rating : next_rating_a(PROTECTION_NEC_SERIES, amps);
}

/*
 * The class of whose ratings a cable's device is one, for so many amperes: chosen for what it has to break, else as stated,
 * else the usual one of its kind.
 */
static ProtectionClass class_of(const Power *power, const Cable *cable, double amps)
{
    const Property *protect = cable->protect;
    bool ac = feed_is_alternating(cable->feed);
    if (cable->class != PROTECTION_NEC_SERIES || device_is_of_us_series(power->basis, protect, ac)) {
        return cable->class;
    }
    return device_class(protect, amps, ac);
}

static double standard_rating(const Power *power, const Cable *cable, double at_least)
{
    double rating = next_rating_a(class_of(power, cable, at_least), at_least);
    return isfinite(rating) ? rating : next_rating_a(PROTECTION_NEC_SERIES, at_least);
}

/* The largest that is made up to so many amperes; 0 if none is. */
static double largest_rating(const Power *power, const Cable *cable, double at_most)
{
    double rating = largest_rating_a(class_of(power, cable, at_most), at_most);
    return rating > 0.0 ? rating : largest_rating_a(PROTECTION_NEC_SERIES, at_most);
}

static PropId rated_prop(const Entity *thing)
{
    switch (thing->kind) {
    case KIND_PANEL: return PROP_PANEL_RATED;
    case KIND_BUS: return PROP_BUS_RATED;
    case KIND_SWITCH: return PROP_SWITCH_RATED;
    case KIND_OUTLET: return PROP_OUTLET_RATED;
    case KIND_INLET: return PROP_INLET_RATED;
    default: return PROP_NONE;
    }
}

PropId feed_rated_prop(const Feed *feed)
{
    return feed->maker ? PROP_NONE : rated_prop(feed->taker);
}

static double least_rated(const Entity *thing, PropId prop)
{
    const Value *rated = property_value(prop != PROP_NONE ? entity_property(thing, prop) : NULL, 0);
    return rated->kind == VALUE_QUANTITY && rated->u.quantity.low > 0.0 ? rated->u.quantity.low : INFINITY;
}

/*
 * What the panel, bus, switch, outlet or inlet at the end of a cable is rated for at the least, and the inlet at its
 * beginning; infinite where none says. A switch in the way of a starter carries more for the seconds of a start than what it is
 * rated for, as `protect-large` reads it: a device of no more than that may let none by.
 */
static double rated_end(const Power *power, const Feed *feed)
{
    bool cranked = feed->taker->kind == KIND_SWITCH && (feed_is_cranking(feed) || feed_lends_start(feed) || has_starter_behind(power->model, feed->taker));
    double end = cranked ? INFINITY : least_rated(feed->taker, feed_rated_prop(feed));
    bool of_inlet = !feed->maker && feed->giver != NULL && feed->giver->kind == KIND_INLET;
    return of_inlet ? fmin(end, least_rated(feed->giver, PROP_INLET_RATED)) : end;
}

/* What an outlet may be asked for, whatever hangs on it now; 0 for all else. */
static double outlet_rating(const Feed *feed)
{
    const Value *rated = property_value(
        feed->taker->kind == KIND_OUTLET ? entity_property(feed->taker, PROP_OUTLET_RATED) : NULL, 0);
    return rated->kind == VALUE_QUANTITY && isfinite(rated->u.quantity.high) ? rated->u.quantity.high : 0.0;
}

Interval cable_carries_long(const Cable *cable)
{
    Interval loads = is_cranked(cable->feed->taker) ? point(0.0) : cable->current.value;
    loads = interval_max(loads, cable->low.value);
    return interval_max(interval_max(loads, cable->brought.value), point(outlet_rating(cable->feed)));
}

Interval cable_carries(const Cable *cable)
{
    return interval_max(cable_carries_long(cable), interval_max(cable->current.value, cable->cranking.value));
}

/* 1.25 times what flows for hours, and the rest of it; what is made may flow all day. */
static double wanted_rating(const Power *power, const Cable *cable)
{
    const Figure *continuous =
        figure_find(power->work->figures, cable->subject, FIGURE_CONTINUOUS_CURRENT, cable->at);
    double current = cable->current.value.high;
    double part = continuous != NULL && continuous->high < current ? continuous->high : current;
    double load = rating_wanted_a(part, current - part);
    double back = rating_wanted_a(fmax(cable->brought.value.high, cable->low.value.high), 0.0);
    return fmax(fmax(load, back), fmax(cable->cranking.value.high, outlet_rating(cable->feed)));
}

static bool is_stated(const Property *protect)
{
    const Value *rating = property_value(protect, 0);
    return protect != NULL && (rating->kind != VALUE_QUANTITY || !(rating->flags & VALUE_HOLE));
}

/* The smallest standard rating that surely carries a starting current for so long; infinite if none is made. */
static double rating_for_surge(const Power *power, const Cable *cable, double surge_a, double seconds)
{
    double rating = standard_rating(power, cable, 0.0);
    while (isfinite(rating) && carries_surely(class_of(power, cable, rating), rating, seconds).amps < surge_a * (1.0 - 1e-9)) {
        rating = standard_rating(power, cable, rating * 1.001);
    }
    return rating;
}

/* Of a feed and of all before it, by each way that a switch may stand. */
static void note_surge_up(Power *power, const Feed *feed, double surge_a, double seconds, int depth)
{
    enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */
    const Entity *giver = feed->giver;
    Cable *cable = feed->guard != NULL ? power_cable_of(power, feed->guard) : NULL;
    bool chosen = cable != NULL && !is_stated(cable->protect) && (feed->guard == feed || depth == 0);
    double rating = chosen ? rating_for_surge(power, cable, surge_a, seconds) : INFINITY;
    if (isfinite(rating)) {
        cable->surge_rating = fmax(cable->surge_rating, rating);
    }
    if (giver == NULL || depth > DEEPEST || giver->flags & (ENTITY_DROPPED | ENTITY_LOOP) || turns_power(giver)) {
        return;
    }
    for (const Feed *before = giver->fed; before != NULL; before = before->next) {
        note_surge_up(power, before, surge_a, seconds, depth + 1);
    }
}

void power_note_surge(Power *power, const Entity *thing, const Figure *surge, const Value *lasts)
{
    if (thing->fed != NULL && surge->state == STATE_KNOWN && isfinite(surge->high)) {
        double seconds = lasts->kind == VALUE_QUANTITY ? lasts->u.quantity.high : USUAL_SURGE_SECONDS;
        note_surge_up(power, thing->fed, surge->high, seconds, 0);
    }
}

/* The most that a stated cable allows; infinite where its size is left to the program. */
static double allowed_by_cable(const Power *power, const Cable *cable)
{
    return cable->thin == NULL || cable->size_chosen
               ? INFINITY
               : protection_limit_a(power->basis, cable->nominal_most_v, cable_ampacity_a(power, cable, cable->thin));
}

/* A rating above what a stated cable, or what stands at its end, allows gives way to the largest that it allows. */
static double spare(const Power *power, Cable *cable, double rating)
{
    double by_cable = allowed_by_cable(power, cable), by_end = rated_end(power, cable->feed);
    double limit = fmin(by_cable, by_end);
    double largest = rating > limit * (1.0 + 1e-9) ? largest_rating(power, cable, limit) : 0.0;
    if (largest <= 0.0) {
        return rating;
    }
    if (largest < cable_carries(cable).high) {
        largest = fmax(largest, largest_rating_a(PROTECTION_NEC_SERIES, limit)); /* of another class */
    }
    cable->rating_remark = by_cable < by_end
                               ? "no standard rating carries the current with the usual margin and spares the stated cable"
                               : "no larger than what it feeds is rated for, although the current with the usual margin asks "
                                 "for more";
    return largest;
}

/*
 * Where nothing that is stated flows, as between two banks or on a panel that is not wired yet, what it may have to carry is
 * bounded by the cable and by what stands at its end alone; where neither is stated, by the least cable that there may be.
 * What an inlet gives is asked for in full.
 */
static double rating_by_limits(const Power *power, Cable *cable)
{
    double limit = fmin(allowed_by_cable(power, cable), rated_end(power, cable->feed));
    if (isinf(limit) && cable->nominal_v > 0.0) {
        const Conductor *least = conductor_minimum(power->basis, cable->sheathed);
        limit = protection_limit_a(power->basis, cable->nominal_most_v, cable_ampacity_a(power, cable, least));
    }
    double largest = isfinite(limit) ? largest_rating(power, cable, limit) : 0.0;
    if (largest > 0.0 && cable->feed->giver != NULL) {
        cable->rating_remark = "the largest that its cable and what it feeds allow: nothing that is stated flows through it";
    } else if (largest > 0.0) {
        cable->rating_remark = "as the inlet is rated";
    }
    return largest > 0.0 ? largest : INFINITY;
}

static void choose_rating(Power *power, Cable *cable, double behind_a)
{
    cable->rating_chosen = true;
    cable->rating = (Interval){0.0, INFINITY};
    cable->rating_remark = NULL;
    if (!cable_flow_is_known(cable) || !isfinite(cable_carries(cable).high)) {
        return;
    }
    double wanted = wanted_rating(power, cable);
    bool in_full = cable->feed->giver == NULL || (wanted <= 0.0 && behind_a <= 0.0);
    double rating = in_full ? rating_by_limits(power, cable) : standard_rating(power, cable, wanted);
    if (!in_full && isfinite(rating) && rating <= behind_a * (1.0 + 1e-9)) {
        rating = standard_rating(power, cable, behind_a * 1.001);
        cable->rating_remark = "larger than its current asks, for the sake of the device behind it";
    } else if (!in_full && rating_wanted_a(cable->low.value.high, 0.0) >= wanted) {
        cable->rating_remark = "for 1.25 x what its inverter takes with the bank low";
    }
    if (!in_full && isfinite(rating) && rating < cable->surge_rating) {
        rating = cable->surge_rating;
        cable->rating_remark = "larger than its current asks, so that what it feeds can start";
    }
    rating = isfinite(rating) ? spare(power, cable, rating) : rating;
    cable->rating = isfinite(rating) ? point(rating) : cable->rating;
}

/* The device that a feed has, for the order: stated, or a hole that is filled; else what is behind it. */
static double rating_of(const Cable *cable, const Property *protect, double behind_a)
{
    if (protect == NULL) {
        return behind_a;
    }
    const Value *rating = property_value(protect, 0);
    double own = cable->rating_chosen             ? cable->rating.high
                 : rating->kind == VALUE_QUANTITY ? rating->u.quantity.low
                                                  : 0.0;
    return isfinite(own) && own > behind_a ? own : behind_a;
}

static void hand_to_giver(const Power *power, const Feed *feed, double rating)
{
    if (feed->giver != NULL && !turns_power(feed->giver)) {
        PowerNode *giver = power_node(power, feed->giver);
        giver->below_a = fmax(giver->below_a, rating);
    }
}

static void rate_feed(Power *power, const Feed *feed)
{
    Cable *cable = power_cable_of(power, feed);
    double behind = feed->maker ? 0.0 : power_node(power, feed->taker)->below_a;
    const Property *protect = cable != NULL ? cable->protect : NULL;
    bool cranks = feed_is_cranking(feed) && protect == NULL;
    if (cable != NULL && !is_stated(protect) && !cranks) {
        choose_rating(power, cable, protect != NULL || feed->guard == NULL ? behind : 0.0);
    }
    if (!feed->maker) {
        hand_to_giver(power, feed, cable != NULL ? rating_of(cable, protect, behind) : behind);
    }
}

void power_choose_ratings(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        power_node(power, model->feed_order[i])->below_a = 0.0;
    }
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            rate_feed(power, feed);
        }
    }
    for (uint32_t i = power->fed_count; i < power->cable_count; i++) {
        rate_feed(power, power->cables[i].feed);
    }
}

/* What a cable lives on */

/* The rating of the nearest device upstream; 0: there is none, or it is not known. */
static double guard_before(const Power *power, const Feed *feed)
{
    bool stands = feed->guard != NULL && feed->guard != feed && !feed->maker && feed->giver != NULL;
    return stands ? power_node(power, feed->giver)->guard_a : 0.0;
}

/* Whether a cable is to live on a device upstream: a branch on its circuit's, a feeder on the one before it. */
static bool relies_on_guard(const Feed *feed)
{
    const Feed *guard = feed->guard;
    bool feeder =
        feed->taker->kind == KIND_BUS || feed->taker->kind == KIND_PANEL || feed->taker->kind == KIND_SWITCH;
    return guard != NULL && guard != feed && !feed->maker && (feeder || guard->taker->kind == KIND_CIRCUIT);
}

/* As thick as the terminals of small equipment take: a cable for a device upstream that asks for more wants its own. */
static const double branch_most_m2 = 5.2e-6; /* 10 AWG, 6 mm2: a choice of this program */

static const Conductor *largest_of_branch(const Power *power, const Cable *cable)
{
    return conductor_at_least(conductor_minimum(power->basis, cable->sheathed)->series, branch_most_m2);
}

static bool serves_branch(const Power *power, const Cable *cable, double rating_a)
{
    const Conductor *row = largest_of_branch(power, cable);
    return row != NULL && protection_limit_a(power->basis, cable->nominal_most_v,
                                             cable_ampacity_a(power, cable, row)) >= rating_a;
}

double cable_lets_pass(const Power *power, const Cable *cable)
{
    const Property *protect = cable->protect;
    if (is_stated(protect)) {
        const Value *rating = property_value(protect, 0);
        return rating->kind == VALUE_QUANTITY && isfinite(rating->u.quantity.high) ? rating->u.quantity.high
                                                                                   : 0.0;
    }
    double before = protect == NULL ? guard_before(power, cable->feed) : 0.0;
    if (before > 0.0 && (relies_on_guard(cable->feed) || serves_branch(power, cable, before))) {
        return before;
    }
    return cable->rating_chosen && isfinite(cable->rating.high) ? cable->rating.high : 0.0;
}

bool cable_relies_upstream(const Power *power, const Cable *cable)
{
    double before = cable->protect == NULL ? guard_before(power, cable->feed) : 0.0;
    if (before <= 0.0 || cable->thin == NULL) {
        return false;
    }
    double limit =
        protection_limit_a(power->basis, cable->nominal_most_v, cable_ampacity_a(power, cable, cable->thin));
    return before <= limit * (1.0 + 1e-9);
}

bool cable_wants_own_device(const Power *power, const Cable *cable)
{
    double before = cable->protect == NULL ? guard_before(power, cable->feed) : 0.0;
    return cable->size_chosen && before > 0.0 && !relies_on_guard(cable->feed) && !serves_branch(power, cable, before) &&
           !cable_relies_upstream(power, cable);
}

const char *cable_says_it_wants_one(const Power *power, const Cable *cable)
{
    Buf amps;
    buf_init(&amps, power->work->figures->arena);
    double before = guard_before(power, cable->feed);
    unit_print(&amps, UNIT_ALONE(UNIT_A), before, before);
    return text_format(power->work->figures->arena,
                       "none was found that stands the %s device upstream and is no thicker than %s: it wants its own `protect`", amps.text, largest_of_branch(power, cable)->word);
}

bool cable_may_find_one(const Cable *cable)
{
    const Feed *guard = cable->feed->guard;
    const Value *rating = property_value(guard != NULL ? feed_property(guard, PROP_FEED_PROTECT) : NULL, 0);
    return value_is_range(rating) || cable->nominal_v < cable->nominal_most_v;
}

/* Classes: a rating that was left to the program, without a stated class, gets one that breaks the fault behind it. */

static const char none_breaks[] = "no class at hand breaks the short circuit behind it";

/* Whether a device of another class than the one whose rating was taken may be larger, or smaller and serve. */
static bool makes_another_rating(ProtectionClass taken, ProtectionClass class, double rating_a)
{
    double less_a = rating_a * 0.999;
    return next_rating_a(class, rating_a) > rating_a || largest_rating_a(class, less_a) > largest_rating_a(taken, less_a);
}

static bool choose_class(Power *power, Cable *cable)
{
    const Property *protect = cable->protect;
    bool open = protect != NULL && cable->rating_chosen && property_value(protect, 2)->kind != VALUE_WORD;
    double fault = open ? power_greatest_fault(power, cable) : 0.0;
    if (fault <= 0.0 || cable->rating.low != cable->rating.high) {
        return false;
    }
    ProtectionClass class = device_that_breaks(protect, cable->rating.high, cable->nominal_most_v, fault);
    if (class == PROTECTION_CLASS_COUNT) {
        cable->rating_remark = none_breaks;
        return false;
    }
    bool moves = makes_another_rating(class_of(power, cable, cable->rating.high), class, cable->rating.high);
    cable->class = class;
    return moves;
}

bool power_choose_classes(Power *power)
{
    bool moved = false;
    for (uint32_t i = 0; i < power->fed_count; i++) {
        moved = choose_class(power, &power->cables[i]) || moved;
    }
    if (moved) {
        power_choose(power);
    }
    return moved;
}
