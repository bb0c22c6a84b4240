/*
 * Rules on fuses and breakers, and on what they stand in: protect-far, protect-tight, wire-terminals,
 * panel-overloaded, switch-cranking.
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* protect-far */

/* What a thing is as a source of what is connected to it. */
static PowerOrigin origin_at(const Entity *giver)
{
    while (giver->kind == KIND_SWITCH && giver->fed != NULL && giver->fed->giver != NULL &&
           !(giver->flags & ENTITY_LOOP) && (giver->fed->shares || giver->fed->guard == NULL)) {
        giver =
            giver->fed->giver; /* a switch in the cable, or behind one that nothing protects, is no source */
    }
    if (giver->kind == KIND_BANK) {
        return FROM_BATTERY;
    }
    if (giver->kind == KIND_INLET) {
        return FROM_INLET;
    }
    return giver->flags & ENTITY_AC || giver->kind == KIND_INVERTER || giver->kind == KIND_GENERATOR
               ? FROM_AC
               : FROM_OTHER;
}

/*
 * `protect` of a maker's feed stands at the end of the bank, or of the bus or switch on the way to it; mains have none. An inlet
 * into which a generator is plugged is the beginning of its cable, as with the shore: the generator is at the other end of a cord.
 */
static PowerOrigin origin_of(const Feed *feed)
{
    bool plugged_in = feed->giver == NULL || (!feed->maker && feed->taker->kind == KIND_INLET);
    return plugged_in ? FROM_INLET : origin_at(feed->maker ? feed->taker : feed->giver);
}

/* A limit of inches in inches, also where the place is stated in feet. */
static UnitPair limit_unit(const Value *distance)
{
    return distance->unit.unit == UNIT_FT ? UNIT_ALONE(UNIT_IN) : distance->unit;
}

/*
 * Up to 72 in from a battery the regulation asks for no sheath. US voluntary practice allows a bare cable no more than 7 in
 * there too (ABYC E-11, second hand: two articles that quote it). Infinite where it says nothing.
 */
static double bare_limit_m(const Judge *judge, const Feed *feed, PowerOrigin origin)
{
    bool says = judge->basis == BASIS_US && origin == FROM_BATTERY && !feed_is_sheathed(feed);
    return says ? placement_limit(judge->basis, FROM_OTHER, false).limit_m : INFINITY;
}

/* Where a device stands: so far from what current comes from. */
typedef struct Stand {
    PowerOrigin origin;
    const char *whose; /* "`house`" */
    const Value *distance;
    Side value; /* of it */
} Stand;

static void judge_unsheathed(Judge *judge, const Feed *feed, const Stand *stand)
{
    const Value *distance = stand->distance;
    double bare_m = bare_limit_m(judge, feed, stand->origin);
    if (isinf(bare_m)) {
        return;
    }
    Finding *f = feed_at_most(judge, feed, PROP_FEED_PROTECT, stand->value, side_number(bare_m, distance->unit));
    if (f == NULL) {
        return;
    }
    f->place = value_span(judge->model, distance);
    finding_about(f, PROP_FEED_SHEATH);
    finding_severity(f, SEVERITY_WARNING);
    finding_say(judge, f,
                "the protection of %s stands %s from %s, and nothing says that the cable up to it is sheathed; without a sheath "
                "at most %s may be (US voluntary practice, ABYC E-11, second hand)",
                feed_name(judge, feed), say_side(judge, stand->value), stand->whose, say_number(judge, bare_m, limit_unit(distance)));
    finding_remedy(judge, f, "`%s from source` on its `%s`", say_no_more(judge, bare_m, limit_unit(distance)), device_word(feed));
    finding_remedy(judge, f, "sheath conduit");
}

/* A place that no limit forbids, the one of bare cable neither; and, where it may stand farther off in a sheath, that. */
static void remedy_place(Judge *judge, Finding *f, const Feed *feed, PropId prop, const Stand *stand)
{
    const Value *distance = stand->distance;
    bool sheathed = feed_is_sheathed(feed);
    double limit_m = placement_limit(judge->basis, stand->origin, sheathed).limit_m;
    double covered_m = placement_limit(judge->basis, stand->origin, true).limit_m;
    double place_m = fmin(limit_m, bare_limit_m(judge, feed, stand->origin));
    finding_remedy(judge, f, "`%s from source` on its `%s`", say_no_more(judge, place_m, limit_unit(distance)), props[prop].word);
    if (!sheathed && covered_m > place_m && covered_m >= stand->value.value.high) {
        finding_remedy(judge, f, "sheath conduit");
    } else if (!sheathed && covered_m > place_m) {
        finding_remedy(judge, f, "`%s from source` with `sheath conduit`", say_no_more(judge, covered_m, limit_unit(distance)));
    }
}

/* Whether no device on its cable can stand too far: the cable is no longer than that, or the device is one for a battery post. */
static bool stands_close(const Feed *feed, double limit_m)
{
    const Value *run = property_value(feed_property(feed, PROP_FEED_RUN), 0);
    const Value *class = property_value(feed_property(feed, PROP_FEED_PROTECT), 2);
    bool is_short = run->kind == VALUE_QUANTITY && !(run->flags & VALUE_BROKEN) && run->u.quantity.high <= limit_m * (1.0 + 1e-9);
    return is_short || (class->kind == VALUE_WORD && str_is(class->u.word, protection_row(PROTECTION_TERMINAL)->word));
}

/*
 * Whether a cable begins at a switch of direct current, in which no device stands, behind one that is too large for it. What
 * begins in a panel or at a bus has its device there.
 */
static bool begins_at_switch(const Judge *judge, const Feed *feed, PowerOrigin origin)
{
    const Entity *giver = feed->giver;
    if (origin != FROM_OTHER || feed->maker || giver == NULL || giver->kind != KIND_SWITCH || giver->fed == NULL || giver->fed->guard == NULL) {
        return false;
    }
    const Figure *before = feed_figure(judge, giver->fed->guard, FIGURE_PROTECTION);
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    return before != NULL && ampacity != NULL && before->state == STATE_KNOWN && ampacity->state == STATE_KNOWN &&
           before->low > ampacity->high;
}

/* Nobody says where it stands: on a cable that begins at a battery, or at a switch, that is not known. */
static void judge_no_distance(Judge *judge, const Feed *feed, PowerOrigin origin, const Entity *source)
{
    Placement placement = placement_limit(judge->basis, origin, feed_is_sheathed(feed));
    if (isinf(placement.limit_m) || stands_close(feed, placement.limit_m)) {
        judge_holds(judge);
        return;
    }
    Finding *f = judge_open(judge, feed->subject, feed_place(judge, feed, PROP_FEED_PROTECT), NULL, PROP_NONE);
    about_feed(judge, f, feed, PROP_FEED_PROTECT);
    finding_hangs_on(judge, f, feed->subject, PROP_NONE,
                     text_format(judge->arena, "%s from source", say_property(judge, feed->subject, feed_prop(feed, PROP_FEED_PROTECT))));
    finding_severity(f, origin == FROM_BATTERY ? SEVERITY_FAULT : SEVERITY_WARNING);
    finding_say(judge, f, "nothing says how far the protection of %s stands from `%s`; it may be at most %s (%s)", feed_name(judge, feed),
                say_name(judge, source), say_number(judge, placement.limit_m, (UnitPair){judge->basis == BASIS_US ? UNIT_IN : UNIT_MM, UNIT_NONE}),
                placement.source);
    finding_remedy(judge, f, "its place, such as `%s` on its `%s`", place_by_battery(judge), device_word(feed));
}

/* The finding about the place, if there is one. */
static Finding *judge_distance(Judge *judge, const Feed *feed, PropId prop, PowerOrigin origin, const char *whose)
{
    const Property *protect = block_property(feed->block, prop);
    const Value *distance = property_value(protect, 3);
    bool unsaid = protect != NULL && distance->kind == VALUE_NONE && !(protect->flags & PROPERTY_BROKEN);
    if (unsaid && origin != FROM_CHARGING && bank_at_its_end(feed) != NULL) {
        judge_no_distance(judge, feed, FROM_BATTERY, bank_at_its_end(feed));
        return NULL;
    }
    if (unsaid && begins_at_switch(judge, feed, origin)) {
        judge_no_distance(judge, feed, origin, feed->giver);
        return NULL;
    }
    if (protect == NULL || distance->kind != VALUE_QUANTITY) {
        return NULL;
    }
    Placement placement = placement_limit(judge->basis, origin, feed_is_sheathed(feed));
    if (isinf(placement.limit_m)) {
        judge_holds(judge);
        return NULL;
    }
    Stand stand = {origin, whose, distance, side_block_value(judge, feed->subject, feed->block, prop, 3)};
    Finding *f =
        feed_at_most(judge, feed, PROP_FEED_PROTECT, stand.value, side_number(placement.limit_m, distance->unit));
    if (f == NULL || f->verdict == VERDICT_OPEN) {
        judge_unsheathed(judge, feed, &stand);
    }
    if (f == NULL) {
        return NULL;
    }
    f->place = value_span(judge->model, distance);
    finding_say(judge, f, "the protection of %s stands %s from %s; it may be at most %s (%s)",
                feed_name(judge, feed), say_side(judge, stand.value), whose,
                say_number(judge, placement.limit_m, limit_unit(distance)), placement.source);
    remedy_place(judge, f, feed, prop, &stand);
    return f;
}

void judge_protect_far(Judge *judge, const Feed *feed)
{
    if (feed_is_cranking(feed)) {
        return;
    }
    bool at_output = feed_prop(feed, PROP_FEED_PROTECT) == PROP_FEEDS_PROTECT_OUTPUT;
    bool mains = feed->maker && origin_of(feed) == FROM_AC;
    PowerOrigin origin = at_output && !mains ? FROM_CHARGING : origin_of(feed);
    judge_distance(judge, feed, feed_prop(feed, PROP_FEED_PROTECT), origin,
                   mains || at_output                           ? "what makes the power"
                   : feed->maker && origin == FROM_BATTERY      ? "the bank's end"
                   : feed->maker                                ? text_format(judge->arena, "`%s`", say_name(judge, feed->taker))
                                                                : "its source");
    if (feed_other_device(feed) == NULL) {
        return;
    }
    Finding *f = judge_distance(judge, feed, PROP_FEEDS_PROTECT_OUTPUT, mains ? FROM_AC : FROM_CHARGING, "what makes the power");
    if (f != NULL && !mains) { /* what makes direct current limits itself: without this device nothing would be asked there */
        finding_severity(f, SEVERITY_ADVICE);
        finding_here(judge, f, "the device at the other end guards the cable; what makes the power gives no more than its output");
    }
}

/* protect-tight */

/* How long things run says how much of a current is continuous: what is undecided of that, of a thing and what hangs on it. */
static void rests_on_times(Judge *judge, Finding *f, const Entity *thing, int depth)
{
    enum { DEEPEST = 16 };
    if (thing->kind == KIND_WATER_HEATER) {
        finding_rests_on(judge, f, thing, PROP_WATER_HEATER_CAPACITY);
        finding_rests_on(judge, f, thing, PROP_WATER_HEATER_SETTING);
    } else if (kinds[thing->kind].groups & GROUPS_LOAD) {
        finding_rests_on(judge, f, thing, PROP_LOAD_USE);
    }
    for (const Feed *feed = thing->gives; feed != NULL && depth < DEEPEST; feed = feed->next_of_giver) {
        if (!feed->maker && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP))) {
            rests_on_times(judge, f, feed->taker, depth + 1);
        }
    }
}

static Finding *judge_opens_in_use(Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    Side wanted = rating_wanted(judge, feed, flow, back);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, side_figure(device), wanted);
    if (f == NULL) {
        return NULL;
    }
    const Figure *continuous = feed_figure(judge, feed, FIGURE_CONTINUOUS_CURRENT);
    if (f->verdict == VERDICT_OPEN && !back && continuous != NULL && continuous->low < continuous->high) {
        rests_on_times(judge, f, feed->taker, 0);
    }
    const char *way = back ? "comes back through it from what makes power" : "flows";
    if (wanted.value.low <= 0.0 && isinf(wanted.value.high)) {
        finding_say(judge, f, "the %s protection of %s may open in normal use: %s %s",
                    say_figure(judge, device), feed_name(judge, feed), say_figure(judge, flow), way);
    } else {
        finding_say(judge, f, "the %s protection of %s may open in normal use: %s %s, which asks for %s",
                    say_figure(judge, device), feed_name(judge, feed), say_figure(judge, flow), way,
                    say_side(judge, side_interval(wanted.value, amperes)));
    }
    remedy_larger_device(judge, f, feed, wanted.value.high);
    return f;
}

void judge_protect_tight(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    if (protect == NULL || is_cranked(feed->taker)) {
        return; /* what a starter asks of it: see surge */
    }
    const Figure *back = figure_brought_back(judge->figures, feed);
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    if (is_inverter_feed(judge, feed) && device != NULL && !device->chosen) {
        if (back != NULL) {
            judge_opens_in_use(judge, feed, back, true);
        }
        return;
    }
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    bool back_first = brings_more(back, current);
    Finding *f = back_first ? judge_opens_in_use(judge, feed, back, true)
                            : judge_opens_in_use(judge, feed, current, false);
    if (f == NULL && back_first) {
        judge_opens_in_use(judge, feed, current, false);
    } else if (f == NULL && back != NULL) {
        judge_opens_in_use(judge, feed, back, true);
    }
}

/* wire-terminals */

void judge_wire_terminals(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    if (protect == NULL || size == NULL || device == NULL) {
        return;
    }
    if (device->state != STATE_KNOWN || size->state != STATE_KNOWN) {
        judge_waiting(judge);
        return;
    }
    Interval takes = {protection_takes_m2(device->low), protection_takes_m2(device->high)};
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(size), side_interval(takes, size->unit));
    if (f == NULL) {
        return;
    }
    finding_rests_on(judge, f, feed->subject, feed_prop(feed, PROP_FEED_PROTECT));
    finding_say(judge, f, "the cable of %s is %s%s, and the terminals of a device of %s hardly take it", feed_name(judge, feed),
                say_figure(judge, size), size->chosen ? " (chosen)" : "", say_figure(judge, device));
    finding_remedy(judge, f, "a thinner `wire`, with a thicker one on the way up to it if the drop asks for it");
    finding_remedy(judge, f, "a terminal block beside the device, and a short tail that it takes");
}

/* panel-overloaded */

/* Whether something on it alone is too much for it: no share of the whole is less. */
static bool one_is_too_much(const Judge *judge, const Entity *panel, Side rating)
{
    for (const Feed *feed = panel->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *current = draws_itself(judge, feed->taker) ? feed_figure(judge, feed, FIGURE_CURRENT) : NULL;
        if (current != NULL && side_is_known(rating) && current->low > rating.value.high &&
            !entity_states(feed->taker, PROP_COMMON_COUNT)) {
            return true;
        }
    }
    return false;
}

void judge_panel_overloaded(Judge *judge, const Entity *panel)
{
    PropId rated = rating_prop(panel);
    const Figure *current = NULL;
    for (const Feed *feed = panel->fed; feed != NULL && current == NULL; feed = feed->next) {
        current = feed_figure(judge, feed, FIGURE_CURRENT);
    }
    if (current == NULL || !entity_states(panel, rated)) {
        return; /* nothing flows, or nothing is claimed */
    }
    Side rating = side_value(judge, panel, rated, 0);
    Finding *f = judge_at_least(judge, panel, place_of(judge, panel, rated), rating, side_figure(current));
    if (f != NULL) {
        finding_say(judge, f, "`%s` is rated %s but %s can run through it at once", say_name(judge, panel),
                    say_side(judge, rating), say_figure(judge, current));
        if (panel->kind == KIND_OUTLET) {
            finding_remedy(judge, f, "an outlet more, on a circuit of its own");
            return;
        }
        remedy_at_least(judge, f, "rated", current);
        if (panel->kind != KIND_SWITCH && !one_is_too_much(judge, panel, rating)) {
            finding_remedy(judge, f, "`together`, if never so much of it runs at once");
        }
    }
}

/* switch-cranking */

static void ask_cranking_rating(Judge *judge, const Entity *thing, Side rating, Side cranks)
{
    Finding *f =
        judge_open(judge, thing, place_of(judge, thing, PROP_SWITCH_RATED), thing, PROP_SWITCH_CRANKING);
    if (side_is_known(rating)) {
        finding_say(judge, f,
                    "%s crank through `%s`, which is rated %s for long; what it carries for seconds it does "
                    "not state",
                    say_side(judge, cranks), say_name(judge, thing), say_side(judge, rating));
    } else {
        finding_say(judge, f, "%s crank through `%s`, which states neither `rated` nor `cranking`",
                    say_side(judge, cranks), say_name(judge, thing));
    }
    finding_remedy(
        judge, f, "`cranking`, its rating for cranking or intermittent current%s",
        isfinite(cranks.value.high)
            ? text_format(judge->arena, ", of %s or more", say_no_less(judge, cranks.value.high, cranks.unit))
            : "");
}

void judge_switch_cranking(Judge *judge, const Entity *thing)
{
    const Figure *figure = figure_of(judge, thing, FIGURE_CRANKING);
    if (figure == NULL) {
        return;
    }
    Side cranks = side_figure(figure);
    Side rated = side_value(judge, thing, PROP_SWITCH_RATED, 0);
    if (!entity_states(thing, PROP_SWITCH_CRANKING)) {
        if (!side_is_known(cranks)) {
            judge_waiting(judge);
        } else if (side_is_known(rated) && ask_at_least(rated, cranks) == ANSWER_YES) {
            judge_holds(judge); /* what it carries for long it carries for seconds */
        } else {
            ask_cranking_rating(judge, thing, rated, cranks);
        }
        return;
    }
    Side rating = side_value(judge, thing, PROP_SWITCH_CRANKING, 0);
    Finding *f = judge_at_least(judge, thing, place_of(judge, thing, PROP_SWITCH_CRANKING), rating, cranks);
    if (f != NULL) {
        finding_say(judge, f, "`%s` may carry %s while an engine cranks, and the starter behind it takes %s",
                    say_name(judge, thing), say_side(judge, rating), say_figure(judge, figure));
        remedy_at_least(judge, f, "cranking", figure);
    }
}
