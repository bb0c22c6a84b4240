/*
 * Rules on fuses and breakers in a fault: protect-blind, protect-order, protect-voltage, two-ended; and dc-ground-thin.
 */
#include "rules/network.h"

#include "figures/power.h"
#include "physics/ampacity.h"
#include "rules/bank.h"
#include "rules/upstream.h"
#include "rules/wiring.h"
#include "rules/wiring_rules.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};
static const UnitPair volts = {UNIT_V, UNIT_NONE};

static bool is_rated(const Figure *device)
{
    return device != NULL && device->state == STATE_KNOWN;
}

static ProtectionClass class_of(const Feed *feed, const Figure *device)
{
    return device_class(feed_property(feed, PROP_FEED_PROTECT), device->high, feed_is_alternating(feed));
}

/* protect-blind */

static double prompt_a(ProtectionClass class, double rating_a, double with)
{
    (void)with;
    return opens_promptly(class, rating_a).amps;
}

/* What the cable carries for ever does not burn it, however late the device opens. */
static bool heats_nothing(const Judge *judge, const Feed *feed, const Figure *fault)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    return ampacity != NULL && ampacity->state == STATE_KNOWN && fault->high <= ampacity->low;
}

/* Several times, of its rating and of what the cable carries for ever: what a breaker and a cable stand for a minute. */
static const double surely_opens = 2.0, stands_a_minute = 2.0;

/*
 * A breaker for which no standard is at hand opens at twice its rating within a minute or two, and a cable that carries
 * twice its ampacity gets no hotter in that time than it may in a short circuit (common practice, from memory): late, not blind.
 */
static bool opens_late(const Judge *judge, const Feed *feed, const Figure *fault, const Figure *device, DeviceLimit limit)
{
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    const Value *kind = property_value(feed_property(feed->guard, PROP_FEED_PROTECT), 1);
    return limit.evidence == EVIDENCE_MODEL && kind->kind == VALUE_WORD && str_is(kind->u.word, "breaker") &&
           fault->low >= surely_opens * device->high && ampacity != NULL && ampacity->state == STATE_KNOWN &&
           fmin(fault->high, limit.amps) <= stands_a_minute * ampacity->low; /* a larger one opens it promptly */
}

void judge_protect_blind(Judge *judge, const Feed *feed)
{
    const Figure *fault = feed_figure(judge, feed, FIGURE_LEAST_FAULT);
    const Figure *device = feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    if (fault == NULL || feed_is_cranking(feed) || !is_rated(device) || fault->state != STATE_KNOWN) {
        return; /* what is missing or waits is told by wire-overloaded */
    }
    Side opens = side_figure(device);
    opens.value = device_numbers(feed_property(feed->guard, PROP_FEED_PROTECT), device, feed_is_alternating(feed->guard), prompt_a,
                                 0.0, 0.0);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_RUN, side_figure(fault), opens);
    if (f == NULL) {
        return;
    }
    ProtectionClass class = class_of(feed->guard, device);
    DeviceLimit limit = opens_promptly(class, device->high);
    if (heats_nothing(judge, feed, fault) || opens_late(judge, feed, fault, device, limit)) {
        finding_severity(f, SEVERITY_ADVICE);
    }
    bool undecided = device->low <= 0.0 && isinf(device->high);
    finding_say(judge, f, "a short circuit at the far end of the cable of %s may draw only %s; its %s%sdevice opens promptly from %s",
                feed_name(judge, feed), say_figure(judge, fault), undecided ? "" : say_figure(judge, device),
                undecided ? "" : " ", say_side(judge, side_interval(opens.value, amperes)));
    finding_note(judge, f, feed_place(judge, feed->guard, PROP_FEED_PROTECT), "%s: %s%s", protection_row(class)->word,
                 limit.source, limit.evidence == EVIDENCE_MEMORY ? ", from memory" : "");
    if (!remedy_lent(judge, f, feed->guard)) {
        finding_remedy(judge, f, "a smaller or quicker device, a thicker `wire`, or a shorter `run`");
    }
}

/* protect-order */

/* The nearest device upstream of a feed's own; NULL if there is none, or power is converted between. */
static const Feed *device_before(const Feed *feed)
{
    const Entity *giver = feed->giver;
    if (feed->maker || giver == NULL || turns_power(giver) || giver->kind == KIND_INLET || giver->fed == NULL) {
        return NULL;
    }
    return giver->fed->guard;
}

static uint32_t classes_of(const Feed *feed, const Figure *device)
{
    return device_classes(feed_property(feed, PROP_FEED_PROTECT), device, feed_is_alternating(feed));
}

static Interval ratios(uint32_t before, uint32_t own)
{
    Interval all = {INFINITY, 0.0};
    for (int one = 0; one < PROTECTION_CLASS_COUNT; one++) {
        for (int other = 0; other < PROTECTION_CLASS_COUNT && before & 1u << one; other++) {
            if (own & 1u << other) {
                double ratio = order_ratio((ProtectionClass)one, (ProtectionClass)other);
                all = (Interval){fmin(all.low, ratio), fmax(all.high, ratio)};
            }
        }
    }
    return all;
}

/* Whether a device is that of an inlet and as large as what the inlet is rated for: a larger one protects nothing. */
static bool is_all_of_shore(const Feed *feed, const Figure *device)
{
    const Entity *inlet = feed->giver != NULL && feed->giver->kind == KIND_INLET ? feed->giver : feed->subject;
    const Value *rated = inlet->kind == KIND_INLET ? property_value(entity_property(inlet, PROP_INLET_RATED), 0) : NULL;
    return rated != NULL && rated->kind == VALUE_QUANTITY && device->high >= rated->u.quantity.low;
}

/*
 * Whether whatever one device cuts off the other does too: between them stand switches and circuits alone, and nothing else hangs
 * there. A panel or a bus is there for more than one thing, whatever hangs on it yet.
 */
static bool cuts_the_same(const Feed *before, const Feed *feed)
{
    enum { DEEPEST = 64 };
    const Entity *at = feed->giver;
    for (int i = 0; i < DEEPEST && at != NULL && at->fed != NULL; i++) {
        bool alone = at->gives->next_of_giver == NULL && at->made == NULL && at->fed->next == NULL;
        if (!alone || (at->kind != KIND_SWITCH && at->kind != KIND_CIRCUIT)) {
            return false;
        }
        if (at->fed == before) {
            return true;
        }
        at = at->fed->giver;
    }
    return false;
}

void judge_protect_order(Judge *judge, const Feed *feed)
{
    const Feed *before = feed->guard == feed ? device_before(feed) : NULL;
    if (before == NULL) {
        return;
    }
    const Figure *own = feed_figure(judge, feed, FIGURE_PROTECTION);
    const Figure *upstream = feed_figure(judge, before, FIGURE_PROTECTION);
    if (!is_rated(own) || upstream == NULL || upstream->state != STATE_KNOWN) {
        return;
    }
    Side wanted = side_figure(own);
    if (!cuts_the_same(before, feed)) { /* else two that are equal do: whichever opens, the same goes dark */
        wanted.value = interval_multiply(wanted.value, ratios(classes_of(before, upstream), classes_of(feed, own)));
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, side_figure(upstream), wanted);
    if (f == NULL) {
        return;
    }
    finding_say(judge, f, "a fault behind the %s device of %s may open the %s one of %s instead", say_figure(judge, own),
                feed_name(judge, feed), say_figure(judge, upstream), feed_name(judge, before));
    finding_note(judge, f, feed_place(judge, before, PROP_FEED_PROTECT), "the nearest upstream");
    finding_remedy(judge, f,
                   is_all_of_shore(before, upstream)
                       ? "a smaller device here: what the shore gives leaves no room for a larger one upstream"
                       : "a smaller device here, or a larger one (and a thicker cable) upstream");
}

/* protect-voltage */

static double volts_dc(ProtectionClass class, double rating_a, double with)
{
    (void)rating_a, (void)with;
    return protection_row(class)->volts_dc;
}

static double volts_ac(ProtectionClass class, double rating_a, double with)
{
    (void)rating_a, (void)with;
    return protection_row(class)->volts_ac;
}

/* The bank whose voltage is on a device; NULL: none, or not known. */
static const Entity *bank_on(const Judge *judge, const Feed *feed)
{
    const Upstream *upstream = upstream_of(judge);
    if (feed->maker) {
        return bank_charged(upstream, feed);
    }
    const Entity *source = feed->giver == NULL                ? NULL
                           : feed->giver->kind == KIND_BANK ? feed->giver
                                                              : upstream->source[feed->giver->index];
    return source != NULL && source->kind == KIND_BANK ? source : NULL;
}

const char *asked_volts(const Judge *judge, const Feed *feed, Interval circuit_v)
{
    const Entity *bank = bank_on(judge, feed), *maker = NULL;
    Side charged = bank != NULL ? bank_charged_at(judge, bank, &maker) : (Side){.state = STATE_MISSING};
    return say_side(judge, side_interval(maker != NULL ? interval_max(circuit_v, charged.value) : circuit_v, volts));
}

static void judge_device_voltage(Judge *judge, const Feed *feed, const Property *protect, const Figure *device,
                                 Interval circuit_v)
{
    bool ac = feed_is_alternating(feed);
    const Value *stated = property_value(protect, 5);
    const Value *word = property_value(protect, 2);
    Side rated = side_interval(device_numbers(protect, device, ac, ac ? volts_ac : volts_dc, 0.0, 0.0), volts);
    if (stated->kind == VALUE_QUANTITY) {
        rated = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_PROTECT), 5);
    } else if (word->kind != VALUE_WORD && device->chosen) {
        judge_holds(judge); /* of a class that breaks the fault at this voltage, or none was found: that protect-breaking tells */
        return;
    } else if (word->kind != VALUE_WORD && circuit_v.low > rated.value.high) {
        Finding *f = about_feed(judge, judge_open(judge, feed->subject, feed_place(judge, feed, PROP_FEED_PROTECT),
                                                  feed->subject, feed_prop(feed, PROP_FEED_PROTECT)),
                                feed, PROP_FEED_PROTECT);
        finding_say(judge, f, "%s works at %s, and its device does not say what it is rated for", feed_name(judge, feed),
                    say_side(judge, side_interval(circuit_v, volts)));
        finding_remedy(judge, f, "the class of the device, or `for %s`", asked_volts(judge, feed, circuit_v));
        return;
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, rated, side_interval(circuit_v, volts));
    if (f != NULL) {
        finding_rests_on_voltage(judge, f, feed);
    }
    if (f != NULL && rated.value.high <= 0.0) {
        finding_say(judge, f, "%s works at %s of %s current, for which %s devices are made only where their own sheet says so",
                    feed_name(judge, feed), say_side(judge, side_interval(circuit_v, volts)), ac ? "alternating" : "direct",
                    protection_row(class_of(feed, device))->word);
    } else if (f != NULL) {
        finding_say(judge, f, "%s works at %s, and its device is %s for %s", feed_name(judge, feed), say_side(judge, side_interval(circuit_v, volts)),
                    stated->kind == VALUE_QUANTITY ? "rated" : "usually rated", say_side(judge, rated));
    }
    if (f != NULL) {
        finding_remedy(judge, f, ac ? "a miniature breaker (IEC 60898)" : "a class-t fuse (125 V)");
    }
    if (f != NULL && stated->kind != VALUE_QUANTITY) {
        finding_remedy(judge, f, "`for %s` on its `%s`, if its own sheet says as much", ac ? say_side(judge, side_interval(circuit_v, volts)) : asked_volts(judge, feed, circuit_v), device_word(feed));
    }
}

/*
 * A device that states its voltage, against what charges. Clauses speak of the nominal voltage of the circuit, and devices for
 * 12 and 24 V are named by that; an arc of more than 32 V, up to which the devices of vehicles are made, burns on: from there
 * on it is told, a choice of this program.
 */
static void judge_device_charged(Judge *judge, const Feed *feed, Interval circuit_v)
{
    static const double burns_on_v = 32.0;
    const Entity *bank = circuit_v.low > burns_on_v ? bank_on(judge, feed) : NULL, *maker = NULL;
    Side charged = bank != NULL ? bank_charged_at(judge, bank, &maker) : (Side){.state = STATE_MISSING};
    Side rated = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_PROTECT), 5);
    if (maker == NULL || !side_is_known(rated) || rated.value.high < circuit_v.low) {
        return;
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, rated, charged);
    if (f != NULL) {
        finding_of_charging(judge, f, maker);
        finding_say(judge, f, "the device of %s is rated for %s, and `%s` charges `%s` at %s: that is what it has to break", feed_name(judge, feed),
                    say_side(judge, rated), say_name(judge, maker), say_name(judge, bank), say_side(judge, charged));
        finding_remedy(judge, f, "a device that its own sheet rates for %s or more", say_no_less(judge, charged.value.high, charged.unit));
    }
}

void judge_protect_voltage(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    bool of_a_class = protect != NULL && property_value(protect, 2)->kind == VALUE_WORD;
    /* What a class stands does not hang on its rating, which may have no end. */
    bool known = of_a_class ? device != NULL && device->state == STATE_KNOWN : is_rated(device);
    Interval circuit_v = known ? nominal_volts(judge, feed) : point(0.0);
    if (protect == NULL || protect->flags & PROPERTY_BROKEN || !known || circuit_v.low <= 0.0) {
        return;
    }
    /* A device bought for mains stands mains: on alternating current it is asked for a class or for what it states. */
    if (feed_is_alternating(feed) && !of_a_class && property_value(protect, 5)->kind != VALUE_QUANTITY) {
        return;
    }
    judge_device_voltage(judge, feed, protect, device, circuit_v);
    if (!feed_is_alternating(feed) && property_value(protect, 5)->kind == VALUE_QUANTITY) {
        judge_device_charged(judge, feed, circuit_v);
    }
}

/* two-ended */

/* The device at the end of what makes power. */
void judge_output_device(Judge *judge, const Feed *feed)
{
    if (feed_other_device(feed) == NULL) {
        return; /* one that guards the cable alone: wire-unprotected */
    }
    Side device = side_block_value(judge, feed->subject, feed->block, PROP_FEEDS_PROTECT_OUTPUT, 0);
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, device, allowed_by(judge, feed));
    if (f != NULL) {
        finding_say(judge, f, "the cable of %s can carry %s, and the device at its other end lets %s pass", feed_name(judge, feed),
                    say_figure(judge, feed_figure(judge, feed, FIGURE_AMPACITY)), say_side(judge, device));
        finding_remedy(judge, f, "a thicker `wire`, or a smaller `protect-output`");
    }
}

enum { STEPS_MOST = 16 }; /* more cables in a row than any boat has */

/* Up from where two banks meet: each cable is fed in a fault through the other bank's device, and those on the way down. */
static void judge_way_up(Judge *judge, const Feed *from, const Feed *other, const Entity *bank, const Entity *other_bank)
{
    const Figure *device = other->guard != NULL ? feed_figure(judge, other->guard, FIGURE_PROTECTION) : NULL;
    Interval lets_pass = is_rated(device) ? (Interval){device->low, device->high} : point(0.0);
    for (int i = 0; from != NULL && i < STEPS_MOST && is_rated(device); i++) {
        if (!from->shares && !is_cranked(from->taker)) {
            Side passes = side_figure(device);
            passes.value = lets_pass;
            Finding *f = feed_at_most(judge, from, PROP_FEED_WIRE, passes, allowed_by(judge, from));
            if (f != NULL) {
                finding_matter(f, say_name(judge, other_bank));
                finding_say(judge, f, "a fault in the cable of %s is also fed by `%s`, through a device of %s; the cable can carry %s",
                            feed_name(judge, from), say_name(judge, other_bank), say_figure(judge, device),
                            say_figure(judge, feed_figure(judge, from, FIGURE_AMPACITY)));
                finding_note(judge, f, feed_place(judge, other->guard, PROP_FEED_PROTECT), "this device of `%s`",
                             say_name(judge, other_bank));
                if (!remedy_lent(judge, f, from)) {
                    finding_remedy(judge, f, "a device at this end too, as large as the cable allows, or a thicker `wire`");
                }
            }
            const Figure *own = from->guard == from ? feed_figure(judge, from, FIGURE_PROTECTION) : NULL;
            if (is_rated(own)) {
                lets_pass = interval_min(lets_pass, (Interval){own->low, own->high});
                device = own->high < device->high ? own : device;
            }
        }
        const Entity *giver = from->giver;
        from = giver != NULL && giver != bank && !turns_power(giver) ? giver->fed : NULL;
    }
}

void judge_joined_banks(Judge *judge)
{
    for (const Meeting *m = meetings_of(judge, SOURCES_DIRECT); m != NULL; m = m->next) {
        if (!m->first->maker && !m->second->maker && m->one != m->other) {
            judge_way_up(judge, m->first, m->second, m->one, m->other);
            judge_way_up(judge, m->second, m->first, m->other, m->one);
        }
    }
}

/* dc-ground-thin */

/* One size thinner; but no thinner than a conductor on its own may be, unless what it goes with is that itself. */
static const Conductor *thinnest_ground(const Judge *judge, const Conductor *row)
{
    const Conductor *thinner = conductor_one_thinner(row), *least = conductor_minimum(judge->basis, false);
    const Conductor *same = row->series != SERIES_METRIC && least->series != SERIES_METRIC
                                ? conductor_find_gauge(row->series, least->gauge)
                                : conductor_at_least(row->series, least->area_m2);
    least = same->area_m2 < row->area_m2 ? same : row;
    return thinner->area_m2 < least->area_m2 ? least : thinner;
}

void judge_dc_ground_thin(Judge *judge, const Feed *feed)
{
    const Property *ground = feed_property(feed, PROP_FEED_GROUND);
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    if (ground == NULL || feed_is_alternating(feed) || size == NULL || size->state != STATE_KNOWN || size->low <= 0.0) {
        return;
    }
    const Conductor *row = conductor_find(series_of_unit(size->unit), size->low);
    const Conductor *thick = isfinite(size->high) ? conductor_find(series_of_unit(size->unit), size->high) : row;
    if (row == NULL || thick == NULL) {
        return;
    }
    Side least = side_figure(size);
    least.value = (Interval){thinnest_ground(judge, row)->area_m2, thinnest_ground(judge, thick)->area_m2};
    Side own = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_GROUND), 0);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_GROUND, own, least);
    if (f != NULL) {
        finding_say(judge, f, "the grounding conductor of %s is %.*s; beside %s it may be no thinner than %s", feed_name(judge, feed),
                    STR_ARG(value_written(judge->model, ground)), say_figure(judge, size), thinnest_ground(judge, thick)->word);
        finding_remedy(judge, f, "ground %s", thinnest_ground(judge, thick)->word);
    }
}
