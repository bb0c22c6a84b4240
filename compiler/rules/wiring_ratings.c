/*
 * Devices and what they lead to: the rules protect-large and motor-jam, and what bounds the device that a remedy may name
 * (wiring_remedies.c).
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "physics/celsius.h"
#include "rules/shore.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* What a remedy may offer */

/* What allows a device no more, of all that it guards. */
typedef struct Cap {
    double amps;
    const Feed *cable;    /* whose cable; or ... */
    const Entity *rated;  /* ... what is rated so */
} Cap;

static void cap_by(const Judge *judge, Cap *cap, const Entity *thing, PropId prop, unsigned slot)
{
    Side rated = prop != PROP_NONE && entity_states(thing, prop) ? side_value(judge, thing, prop, slot) : side_number(0.0, amperes);
    if (side_is_known(rated) && rated.value.low > 0.0 && rated.value.low < cap->amps) {
        *cap = (Cap){.amps = rated.value.low, .rated = thing};
    }
}

static void cap_by_rated(const Judge *judge, Cap *cap, const Entity *thing, PropId prop)
{
    cap_by(judge, cap, thing, prop, 0);
}

static void cap_by_cable(const Judge *judge, Cap *cap, const Feed *feed)
{
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    Side most = allowed_by(judge, feed);
    bool stated = size != NULL && !size->chosen && !feed->shares && !feed_is_cranking(feed);
    if (stated && side_is_known(most) && most.value.low < cap->amps) {
        *cap = (Cap){.amps = most.value.low, .cable = feed};
    }
}

double device_at_most(const Judge *judge, const Feed *guard, const char **who)
{
    const Model *model = judge->model;
    Cap cap = {.amps = INFINITY};
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->guard != guard || !is_aboard(feed->taker)) {
            continue;
        }
        cap_by_rated(judge, &cap, feed->taker, feed_rated_prop(feed));
        if (feed != guard) {
            cap_by_cable(judge, &cap, feed);
        }
    }
    const Entity *inverter = model->first_of_kind[KIND_INVERTER];
    for (; inverter != NULL; inverter = inverter->next_of_kind) {
        const Entity *passed = is_aboard(inverter) ? entity_reference(inverter, PROP_INVERTER_PASSES) : NULL;
        if (passed != NULL && passed->fed != NULL && passed->fed->guard == guard) {
            cap_by(judge, &cap, inverter, PROP_INVERTER_TRANSFER, 1);
        }
    }
    const Entity *giver = guard->giver;
    if (!guard->maker && giver != NULL && giver->kind == KIND_INLET) {
        cap_by_rated(judge, &cap, giver, PROP_INLET_RATED);
    }
    *who = cap.rated != NULL   ? text_format(judge->arena, "`%s`", say_name(judge, cap.rated))
           : cap.cable != NULL ? text_format(judge->arena, "the cable of %s", feed_name(judge, cap.cable))
                               : "";
    return cap.amps;
}

double next_made(const Judge *judge, const Feed *feed, double amps)
{
    return device_next_made(judge->basis, feed_property(feed, PROP_FEED_PROTECT), feed_is_alternating(feed), amps);
}

double largest_made(const Judge *judge, const Feed *feed, double amps)
{
    return largest_rating_a(device_series(judge->basis, feed_property(feed, PROP_FEED_PROTECT), feed_is_alternating(feed), amps), amps);
}

const char *device_word(const Feed *feed)
{
    bool at_output = feed->one_ended && block_property(feed->block, PROP_FEEDS_PROTECT) == NULL;
    return props[at_output ? PROP_FEEDS_PROTECT_OUTPUT : PROP_FEED_PROTECT].word;
}

const char *stated_place(const Judge *judge, const Property *protect)
{
    const Value *place = property_value(protect, 3);
    bool is_said = place->kind == VALUE_QUANTITY && !(place->flags & (VALUE_HOLE | VALUE_BROKEN));
    return is_said ? text_format(judge->arena, " %s from source",
                                 say_side(judge, side_interval((Interval){place->u.quantity.low, place->u.quantity.high}, place->unit)))
                   : "";
}

const char *stated_kind(const Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    Buf text;
    buf_init(&text, judge->arena);
    for (unsigned slot = 1; slot <= 2; slot++) {
        const Value *word = property_value(protect, slot);
        if (word->kind == VALUE_WORD) {
            buf_char(&text, ' ');
            buf_add(&text, word->u.word);
        }
    }
    buf_text(&text, stated_place(judge, protect));
    return text.length > 0 ? text.text : "";
}

const char *say_fuse(const Judge *judge, const Feed *feed, double rating_a, ProtectionClass class)
{
    return text_format(judge->arena, "%s %s fuse %s%s", device_word(feed), say_number(judge, rating_a, amperes), protection_row(class)->word,
                       stated_place(judge, feed_property(feed, PROP_FEED_PROTECT)));
}

/* " and ground 4 mm2": what iso asks beside thicker live conductors, where the one that is stated is thinner. */
static const char *say_ground_beside(const Judge *judge, const Feed *feed, const Conductor *row)
{
    const Value *ground = property_value(feed_property(feed, PROP_FEED_GROUND), 0);
    double least_m2 = earth_by_live_m2(row->area_m2);
    bool thin = ground->kind == VALUE_QUANTITY && ground->u.quantity.low < least_m2 * (1.0 - 1e-6);
    const char *word = thin && judge->basis == BASIS_ISO && feed_is_alternating(feed) ? earth_size_word(judge->basis, least_m2) : NULL;
    return word != NULL ? text_format(judge->arena, " and ground %s", word) : "";
}

const char *say_wire(const Judge *judge, const Feed *feed, const Conductor *row, double insulation_c)
{
    const Property *wire = feed_property(feed, PROP_FEED_WIRE);
    const Value *laid = property_value(wire, 1), *stands = property_value(wire, 2);
    Buf text;
    buf_init(&text, judge->arena);
    buf_format(&text, "wire %s", row->word);
    if (value_is_point(laid)) {
        buf_format(&text, " conductors %s", say_number(judge, laid->u.quantity.low, UNIT_ALONE(UNIT_NONE)));
    }
    if (insulation_c > 0.0) {
        buf_format(&text, " insulation %s", say_number(judge, insulation_c + ZERO_CELSIUS_K, UNIT_ALONE(UNIT_CELSIUS)));
    } else if (value_is_point(stands)) {
        buf_format(&text, " insulation %s", say_number(judge, stands->u.quantity.low, stands->unit));
    }
    buf_text(&text, say_ground_beside(judge, feed, row));
    return text.text;
}

/* protect-made */

static void remedy_made(Judge *judge, Finding *f, const Feed *feed, ProtectionClass class, double amps)
{
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT), *fault = feed_figure(judge, feed, FIGURE_FAULT_CURRENT);
    bool known = current != NULL && current->state == STATE_KNOWN;
    double lower = largest_rating_a(class, amps), upper = next_rating_a(class, amps);
    Side most = allowed_by(judge, feed);
    if (lower > 0.0 && known && lower >= CONTINUOUS_MARGIN * current->high) {
        finding_remedy(judge, f, "%s", say_fuse(judge, feed, lower, class));
    } else if (isfinite(upper) && side_is_known(most) && upper <= most.value.low) {
        finding_remedy(judge, f, "%s", say_fuse(judge, feed, upper, class));
    }
    bool breaks = fault != NULL && fault->state == STATE_KNOWN && isfinite(fault->high);
    ProtectionClass other = breaks ? class_that_breaks(false, amps, nominal_volts(judge, feed).high, fault->high) : PROTECTION_CLASS_COUNT;
    double made = other != PROTECTION_CLASS_COUNT && other != class ? next_rating_a(other, amps) : INFINITY;
    if (isfinite(made) && side_is_known(most) && made <= most.value.low) {
        finding_remedy(judge, f, "%s", say_fuse(judge, feed, made, other));
    }
}

/* Bolted fuses of both sizes are of one family of standards, and are called by one name: what either is made in can be had. */
static double next_in_family(ProtectionClass class, double amps)
{
    double next = next_rating_a(class_of_family(class, amps), amps);
    return class == PROTECTION_BOLT_ON ? fmin(next, next_rating_a(PROTECTION_BOLT_ON_SMALL, amps)) : next;
}

static double largest_in_family(ProtectionClass class, double amps)
{
    double largest = fmax(largest_rating_a(class, amps), largest_rating_a(class_of_family(class, amps), amps));
    return class == PROTECTION_BOLT_ON ? fmax(largest, largest_rating_a(PROTECTION_BOLT_ON_SMALL, amps)) : largest;
}

/* Of a range some ratings are made, and others not. */
static void tell_undecided_rating(Judge *judge, const Feed *feed, PropId prop, ProtectionClass class, double made)
{
    Finding *f = judge_open(judge, feed->subject, place_in_block(judge, feed->subject, feed->block, prop), NULL, PROP_NONE);
    finding_at(f, feed_at(feed));
    finding_about(f, prop);
    finding_hangs_on(judge, f, feed->subject, PROP_NONE, say_property(judge, feed->subject, prop));
    finding_say(judge, f, "fuses of class %s are made with %s, and not with every rating that is left open here", protection_row(class)->word,
                say_number(judge, made, amperes));
}

/* Of fuses alone: breakers come in more ratings than any list at hand has. */
static void judge_rating_made(Judge *judge, const Feed *feed, PropId prop)
{
    const Property *protect = block_property(feed->block, prop);
    const Value *rating = property_value(protect, 0), *word = property_value(protect, 2);
    if (rating->kind != VALUE_QUANTITY || rating->flags & (VALUE_HOLE | VALUE_BROKEN) || word->kind != VALUE_WORD) {
        return;
    }
    ProtectionClass class = protection_class_named(word->u.word.text, word->u.word.length);
    static const double sure_of_t_a = 10.0; /* below, makers' lists of class T differ, and none is at hand */
    bool unsure = class == PROTECTION_CLASS_T && rating->u.quantity.high < sure_of_t_a;
    if (class == PROTECTION_CLASS_COUNT || protection_row(class)->breaker || unsure) {
        return;
    }
    double low = rating->u.quantity.low, upper = next_in_family(class, low), lower = largest_in_family(class, low);
    if (upper <= lower && low >= rating->u.quantity.high) { /* the next from it on and the largest up to it are one */
        judge_holds(judge);
        return;
    }
    if (upper <= rating->u.quantity.high) {
        tell_undecided_rating(judge, feed, prop, class, upper);
        return;
    }
    Finding *f = judge_broken(judge, feed->subject, place_in_block(judge, feed->subject, feed->block, prop));
    finding_at(f, feed_at(feed));
    finding_about(f, prop);
    const char *what = text_format(judge->arena, "a fuse of class %s with %s is in no series at hand", protection_row(class)->word,
                                   say_number(judge, low, amperes));
    if (lower > 0.0 && isfinite(upper)) {
        finding_say(judge, f, "%s: the nearest are %s and %s", what, say_number(judge, lower, amperes), say_number(judge, upper, amperes));
    } else {
        finding_say(judge, f, "%s: the %s is %s", what, lower > 0.0 ? "largest" : "smallest",
                    say_number(judge, lower > 0.0 ? lower : upper, amperes));
    }
    finding_here(judge, f, "%s", protection_row(class_of_family(class, low))->standard);
    remedy_made(judge, f, feed, class_of_family(class, low), low);
}

void judge_protect_made(Judge *judge, const Feed *feed)
{
    judge_rating_made(judge, feed, feed_prop(feed, PROP_FEED_PROTECT));
    if (feed_other_device(feed) != NULL) {
        judge_rating_made(judge, feed, PROP_FEEDS_PROTECT_OUTPUT);
    }
}

/* protect-large */

/*
 * How much larger the device may be than what it leads to. NEC Table 210.21(B)(3), second hand: on a branch of 20 A with two
 * receptacles or more, as the usual double one is, those of 15 A may stand.
 */
static Side most_before(const Judge *judge, const Entity *thing, Side rated)
{
    static const double receptacle_a = 15.0, branch_a = 20.0;
    if (thing->kind == KIND_OUTLET && judge->basis == BASIS_US && side_is_known(rated)) {
        rated.value.low = rated.value.low >= receptacle_a ? fmax(rated.value.low, branch_a) : rated.value.low;
        rated.value.high = rated.value.high >= receptacle_a ? fmax(rated.value.high, branch_a) : rated.value.high;
    }
    return rated;
}

/* A plug of 13 A has a fuse of its own, and its sockets stand behind more (BS 1363, from memory). */
static Answer has_fused_plugs(const Judge *judge, const Entity *thing, Side rated)
{
    static const double fused_plug_a = 13.0;
    if (thing->kind != KIND_OUTLET || judge->basis != BASIS_ISO || !side_is_known(rated) ||
        rated.value.low > fused_plug_a + 1e-6 || rated.value.high < fused_plug_a - 1e-6) {
        return ANSWER_NO;
    }
    return interval_is_point(rated.value) ? ANSWER_YES : ANSWER_PERHAPS;
}

double end_at_most(const Judge *judge, const Feed *feed)
{
    PropId prop = feed_rated_prop(feed);
    const Entity *thing = feed->taker, *giver = feed->maker ? NULL : feed->giver;
    bool cranked = feed_is_cranking(feed) || (thing->kind == KIND_SWITCH && has_starter_behind(judge->model, thing));
    Cap cap = {.amps = INFINITY};
    if (prop != PROP_NONE && entity_states(thing, prop) && !cranked) {
        Side rated = side_value(judge, thing, prop, 0);
        Side most = most_before(judge, thing, rated);
        bool counts = side_is_known(most) && most.value.low > 0.0 && has_fused_plugs(judge, thing, rated) != ANSWER_YES;
        cap.amps = counts ? most.value.low : cap.amps;
    }
    if (giver != NULL && giver->kind == KIND_INLET) {
        cap_by_rated(judge, &cap, giver, PROP_INLET_RATED);
    }
    return cap.amps;
}

static void judge_before(Judge *judge, const Feed *feed, PropId prop)
{
    const Entity *thing = feed->taker;
    const Figure *device = feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    Side rated = side_value(judge, thing, prop, 0);
    bool cranked = thing->kind == KIND_SWITCH && has_starter_behind(judge->model, thing); /* see switch-cranking */
    Answer fused = has_fused_plugs(judge, thing, rated);
    if (device == NULL || cranked || feed_is_cranking(feed) || feed_lends_start(feed) || fused == ANSWER_YES) {
        return; /* none before it: wire-unprotected tells */
    }
    if (device->state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (device->state != STATE_KNOWN) {
        return; /* what is missing is told of the cable */
    }
    Finding *f = judge_at_least(judge, thing, place_of(judge, thing, prop), most_before(judge, thing, rated), side_figure(device));
    if (f == NULL) {
        return;
    }
    if (fused == ANSWER_PERHAPS && f->verdict == VERDICT_BROKEN) {
        finding_left_open(judge, f, thing, prop);
    }
    finding_at(f, feed_at(feed));
    finding_severity(f, thing->kind == KIND_BUS || thing->kind == KIND_SWITCH ? SEVERITY_WARNING : SEVERITY_FAULT);
    const char *way = feed_at(feed) != NULL ? text_format(judge->arena, " on the way from `%s`", say_name(judge, feed_at(feed))) : "";
    finding_say(judge, f, "`%s` is rated %s, and the device before it%s lets %s pass", say_name(judge, thing),
                say_side(judge, rated), way, say_figure(judge, device));
    finding_note(judge, f, feed_place(judge, feed->guard, PROP_FEED_PROTECT), "the nearest device before it");
    if (thing->kind == KIND_OUTLET) {
        finding_remedy(judge, f, "a smaller device on its circuit, or an outlet that is made for it");
    } else {
        finding_remedy(judge, f, "a smaller device before it, or a `%s` that is made for it", kinds[thing->kind].word);
    }
}

void judge_protect_large(Judge *judge, const Entity *thing)
{
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        PropId prop = feed_rated_prop(feed);
        if (prop != PROP_NONE && entity_states(thing, prop) && !(thing->flags & ENTITY_LOOP)) {
            judge_before(judge, feed, prop);
        }
    }
}

/* motor-jam */

/* Of a motor's draw, and the smallest device that is sold everywhere: choices of this program. */
static const double jam_times = 2.5;
static const double jam_least_a = 5.0;

static PropId jam_prop(const Entity *motor)
{
    switch (motor->kind) {
    case KIND_BILGE_PUMP: return PROP_BILGE_PUMP_JAM_PROTECTED;
    case KIND_PUMP: return PROP_PUMP_JAM_PROTECTED;
    default: return PROP_WINDLASS_JAM_PROTECTED;
    }
}

/* Whether nothing else hangs on the device before a feed: one that several share follows no single motor. */
static bool has_device_alone(const Feed *feed)
{
    const Feed *at = feed;
    for (int step = 0; at != feed->guard && step < 16; step++) {
        const Entity *giver = at->giver;
        bool one = giver != NULL && giver->fed != NULL && giver->gives != NULL && giver->gives->next_of_giver == NULL;
        if (!one || giver->flags & ENTITY_LOOP) {
            return false;
        }
        at = giver->fed;
    }
    return at == feed->guard;
}

/* Motors of mains are made with protection of their own. */
void judge_motor_jam(Judge *judge, const Entity *motor)
{
    const Feed *feed = motor->fed;
    const Figure *current = feed != NULL ? feed_figure(judge, feed, FIGURE_CURRENT) : NULL;
    const Figure *device = feed != NULL && feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    if (device == NULL || current == NULL || feed_is_alternating(feed) || !has_device_alone(feed)) {
        return;
    }
    if (device->state == STATE_WAITING || current->state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (device->state != STATE_KNOWN || current->state != STATE_KNOWN) {
        return; /* what is missing is told of the cable */
    }
    if (current->high <= 0.0) {
        return; /* what draws nothing has no motor to burn */
    }
    int own = entity_yes(motor, jam_prop(motor));
    if (own == -2) {
        judge_waiting(judge);
        return;
    }
    if (own == 1) {
        judge_holds(judge);
        return;
    }
    Side most = side_figure(current);
    most.value = (Interval){fmax(jam_times * current->low, jam_least_a), fmax(jam_times * current->high, jam_least_a)};
    Finding *f = judge_at_most(judge, motor, feed_place(judge, feed->guard, PROP_FEED_PROTECT), side_figure(device), most);
    if (f == NULL) {
        return;
    }
    finding_say(judge, f, "`%s` draws %s behind a device of %s: jammed, its motor may burn before that opens",
                say_name(judge, motor), say_figure(judge, current), say_figure(judge, device));
    double made = largest_made(judge, feed->guard, most.value.high);
    finding_remedy(judge, f, "the device that its maker asks for; at most %s, where nobody knows",
                   made > current->high ? say_number(judge, made, amperes) : say_side(judge, most));
    finding_remedy(judge, f, "`jam-protected yes`, if its motor has thermal protection of its own, or its maker asks for this device");
}
