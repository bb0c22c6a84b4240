/*
 * The first breaker behind a shore inlet, and the grounding conductors of all cables of alternating current.
 */
#include "rules/shore.h"
#include "rules/wiring_rules.h"

#include "physics/conductor.h"
#include "physics/protection.h"

#include <math.h>
#include <string.h>

static const UnitPair milliamperes = {UNIT_MA, UNIT_NONE};
static const UnitPair metres = {UNIT_M, UNIT_NONE};
static const UnitPair plain = {UNIT_NONE, UNIT_NONE};

/* What an inlet feeds: a switch without a cable of its own is part of the cable that leaves it. */
typedef struct Behind {
    const Feed *feeds[16]; /* more hang on no inlet */
    uint32_t count;
} Behind;

static void gather_behind(const Entity *giver, Behind *behind, int depth)
{
    for (const Feed *feed = giver->gives; feed != NULL; feed = feed->next_of_giver) {
        bool more = behind->count < sizeof behind->feeds / sizeof behind->feeds[0];
        if (!is_aboard(feed->taker) || feed->maker || !more) {
            continue;
        }
        if (feed->shares && feed->taker->kind == KIND_SWITCH && depth < 8 &&
            !entity_states(feed->taker, PROP_FEED_GROUND_FAULT)) {
            gather_behind(feed->taker, behind, depth + 1);
        } else {
            behind->feeds[behind->count++] = feed;
        }
    }
}

/* shore-first-breaker */

/* The breaker and the block in which its lines stand: the inlet's own, or that of something that it feeds. */
typedef struct FirstBreaker {
    const Entity *inlet;
    const Entity *owner;
    const Block *block;
    Span place; /* of its `protect` */
} FirstBreaker;

static Finding *about(Finding *finding, const FirstBreaker *breaker, PropId prop)
{
    if (finding != NULL) {
        finding_about(finding, prop);
        finding_at(finding, breaker->owner != breaker->inlet ? breaker->owner : NULL);
    }
    return finding;
}

static bool is_sheathed(const Block *block)
{
    return states_sheath(block_property(block, PROP_FEED_SHEATH));
}

/* How far along the cable it stands: by its own line, else all of the inlet's cable, which leads to it. */
static Side distance_of(const Judge *judge, const FirstBreaker *breaker)
{
    Side stated = side_block_value(judge, breaker->owner, breaker->block, PROP_FEED_PROTECT, 3);
    if (stated.state != STATE_MISSING || breaker->owner != breaker->inlet) {
        return stated;
    }
    return side_value(judge, breaker->inlet, PROP_FEED_RUN, 0);
}

static void judge_breaker_distance(Judge *judge, const FirstBreaker *breaker)
{
    Placement placement = placement_limit(judge->basis, FROM_INLET, is_sheathed(breaker->block));
    if (already_told(judge, "protect-far", breaker->owner)) {
        return;
    }
    if (isinf(placement.limit_m)) {
        judge_holds(judge);
        return;
    }
    const char *name = say_name(judge, breaker->inlet);
    Side distance = distance_of(judge, breaker);
    if (distance.state == STATE_MISSING) {
        Finding *f = about(judge_open(judge, breaker->inlet, breaker->place, breaker->owner, PROP_FEED_RUN),
                           breaker, PROP_FEED_RUN);
        finding_say(judge, f,
                    "the first breaker behind `%s` does not say how far from it it stands; at most %s may be",
                    name, say_number(judge, placement.limit_m, metres));
        finding_remedy(judge, f, "`protect` with its distance: `... breaker 0.4 m from source`");
        return;
    }
    Finding *f = about(judge_at_most(judge, breaker->inlet, breaker->place, distance,
                                     side_number(placement.limit_m, distance.unit)),
                       breaker, PROP_FEED_RUN);
    if (f != NULL) {
        finding_say(judge, f, "the first breaker behind `%s` stands %s from it; at most %s may be (%s)", name,
                    say_side(judge, distance), say_number(judge, placement.limit_m, distance.unit),
                    placement.source);
        finding_remedy(judge, f, "a breaker within %s of the inlet",
                       say_no_more(judge, placement.limit_m, judge->basis == BASIS_US ? UNIT_ALONE(UNIT_FT) : distance.unit));
        if (!is_sheathed(breaker->block) && isinf(placement_limit(judge->basis, FROM_INLET, true).limit_m)) {
            finding_remedy(judge, f, "sheath conduit");
        }
    }
}

static void judge_breaker_poles(Judge *judge, const FirstBreaker *breaker)
{
    Side poles = side_block_value(judge, breaker->owner, breaker->block, PROP_FEED_POLES, 0);
    const char *name = say_name(judge, breaker->inlet);
    Finding *f;
    if (poles.state == STATE_MISSING) {
        f = about(judge_open(judge, breaker->inlet, place_of_name(judge, breaker->owner), breaker->owner,
                             PROP_FEED_POLES),
                  breaker, PROP_FEED_POLES);
        finding_say(judge, f,
                    "the first breaker behind `%s` does not say how many conductors it opens (`poles`)",
                    name);
    } else {
        f = about(judge_at_least(judge, breaker->inlet,
                                 place_in_block(judge, breaker->owner, breaker->block, PROP_FEED_POLES),
                                 poles, side_number(2.0, plain)),
                  breaker, PROP_FEED_POLES);
        if (f == NULL) {
            return;
        }
        finding_say(judge, f,
                    "the first breaker behind `%s` does not open line and neutral together, and one of them "
                    "stays live",
                    name);
    }
    finding_remedy(judge, f, "poles 2");
}

/* What a device lets pass: as stated; the inlet's own one as it was sized, by the inlet's rating. */
static Side device_rating(const Judge *judge, const Entity *owner, const Block *block)
{
    const Figure *device = owner->kind == KIND_INLET && owner->fed != NULL ? feed_figure(judge, owner->fed, FIGURE_PROTECTION)
                                                                           : NULL;
    bool sized = device != NULL && device->chosen && device->state == STATE_KNOWN;
    return sized ? side_figure(device) : side_block_value(judge, owner, block, PROP_FEED_PROTECT, 0);
}

Side inlet_gives(const Judge *judge, const Entity *inlet)
{
    Side rated = side_value(judge, inlet, PROP_INLET_RATED, 0), device = device_rating(judge, inlet, &inlet->block);
    if (side_is_known(rated) && side_is_known(device) && device.value.high > 0.0) {
        rated.value = interval_min(rated.value, device.value);
    }
    return rated;
}

static void judge_breaker_rating(Judge *judge, const FirstBreaker *breaker)
{
    Side rating = device_rating(judge, breaker->owner, breaker->block);
    Side inlet = side_value(judge, breaker->inlet, PROP_INLET_RATED, 0);
    Finding *f =
        about(judge_at_most(judge, breaker->inlet, breaker->place, rating, inlet), breaker, PROP_INLET_RATED);
    if (f != NULL) {
        finding_say(judge, f, "the first breaker behind `%s` lets %s pass, and the inlet is made for %s",
                    say_name(judge, breaker->inlet), say_side(judge, rating), say_side(judge, inlet));
        finding_remedy(judge, f, "protect %s breaker%s", say_no_more(judge, inlet.value.low, inlet.unit),
                       stated_place(judge, block_property(breaker->block, PROP_FEED_PROTECT)));
    }
}

static void judge_breaker(Judge *judge, const Entity *inlet, const Entity *owner, const Block *block)
{
    const Property *protect = block_property(block, PROP_FEED_PROTECT);
    FirstBreaker breaker = {inlet, owner, block, place_in_block(judge, owner, block, PROP_FEED_PROTECT)};
    if (protect->flags & PROPERTY_BROKEN) {
        judge_waiting(judge);
        return;
    }
    const Value *kind = property_value(protect, 1);
    if (kind->kind == VALUE_WORD && str_is(kind->u.word, "fuse")) {
        Finding *f = about(judge_broken(judge, inlet, breaker.place), &breaker, PROP_FEED_PROTECT);
        finding_say(judge, f,
                    "a fuse stands first behind `%s`: it opens one conductor and leaves the other live",
                    say_name(judge, inlet));
        Side poles = side_block_value(judge, owner, block, PROP_FEED_POLES, 0);
        bool opens_both = side_is_known(poles) && poles.value.low >= 2.0;
        Side rating = device_rating(judge, owner, block), rated = side_value(judge, inlet, PROP_INLET_RATED, 0);
        bool too_large = side_is_known(rating) && side_is_known(rated) && rating.value.high > rated.value.low; /* would be told next */
        finding_remedy(judge, f, "protect %s breaker%s%s",
                       too_large ? say_no_more(judge, rated.value.low, rated.unit)
                                 : say_side(judge, side_block_value(judge, owner, block, PROP_FEED_PROTECT, 0)),
                       stated_place(judge, protect), opens_both ? "" : " and poles 2");
        return;
    }
    judge_breaker_distance(judge, &breaker);
    judge_breaker_poles(judge, &breaker);
    judge_breaker_rating(judge, &breaker);
}

void judge_shore_first_breaker(Judge *judge, const Entity *inlet)
{
    if (entity_states(inlet, PROP_FEED_PROTECT)) {
        judge_breaker(judge, inlet, inlet, &inlet->block);
        return;
    }
    bool any = false;
    Behind behind = {.count = 0};
    gather_behind(inlet, &behind, 0);
    for (uint32_t i = 0; i < behind.count; i++) {
        const Feed *feed = behind.feeds[i];
        if (block_property(feed->block, PROP_FEED_PROTECT) != NULL) {
            judge_breaker(judge, inlet, feed->subject, feed->block);
            any = true;
        }
    }
    if (!any) {
        Finding *f = judge_open(judge, inlet, place_of_name(judge, inlet), inlet, PROP_FEED_PROTECT);
        finding_say(judge, f, "`%s` does not state its first breaker (`protect`)", say_name(judge, inlet));
        Side rated = side_value(judge, inlet, PROP_INLET_RATED, 0);
        if (side_is_known(rated) && interval_is_point(rated.value)) {
            finding_remedy(judge, f, "protect %s breaker", say_side(judge, rated));
        }
    }
}

/* shore-leakage */

static const double whole_boat_leakage_a = 0.030;

static void judge_leakage_of(Judge *judge, const Entity *inlet, const Entity *where)
{
    Side opens = side_value(judge, where, PROP_FEED_GROUND_FAULT, 0);
    Finding *f = judge_at_most(judge, inlet, place_of(judge, where, PROP_FEED_GROUND_FAULT), opens,
                               side_number(whole_boat_leakage_a, milliamperes));
    if (f != NULL) {
        finding_at(f, where != inlet ? where : NULL);
        finding_say(judge, f, "the leakage protection behind `%s` opens at %s; it has to open at %s",
                    say_name(judge, inlet), say_side(judge, opens),
                    say_number(judge, whole_boat_leakage_a, milliamperes));
        finding_remedy(judge, f, "ground-fault 30 mA");
    }
}

void judge_shore_leakage(Judge *judge, const Entity *inlet)
{
    if (str_is(entity_word(inlet, PROP_INLET_ISOLATION), "transformer")) {
        judge_holds(judge);
        return;
    }
    if (entity_states(inlet, PROP_FEED_GROUND_FAULT)) {
        judge_leakage_of(judge, inlet, inlet);
        return;
    }
    Behind behind = {.count = 0};
    gather_behind(inlet, &behind, 0);
    bool all = behind.count > 0;
    for (uint32_t i = 0; i < behind.count; i++) {
        const Entity *taker = behind.feeds[i]->taker;
        if (entity_states(taker, PROP_FEED_GROUND_FAULT)) {
            judge_leakage_of(judge, inlet, taker);
        } else {
            all = false;
        }
    }
    if (!all) {
        Finding *f = judge_open(judge, inlet, place_of_name(judge, inlet), inlet, PROP_FEED_GROUND_FAULT);
        finding_say(judge, f, "`%s` does not say at what leakage its protection opens (`ground-fault`)",
                    say_name(judge, inlet));
        finding_remedy(judge, f, "ground-fault 30 mA");
    }
}

/* earth */

/* NEC Table 250.122, copper: the thinnest grounding conductor for protection up to a rating. Verified. */
static const struct {
    double rating_a;
    int gauge;
} by_protection[] = {{15.0, 14}, {20.0, 12}, {60.0, 10}, {100.0, 8}, {200.0, 6},
                     {300.0, 4}, {400.0, 3}, {500.0, 2}, {600.0, 1}};

static double earth_by_protection_m2(double rating_a)
{
    enum { LAST = sizeof by_protection / sizeof by_protection[0] - 1 };
    int row = 0;
    while (row < LAST && rating_a > by_protection[row].rating_a * (1.0 + 1e-9)) {
        row++;
    }
    return conductor_find_gauge(SERIES_AWG, by_protection[row].gauge)->area_m2;
}

/* What the grounding conductor has to be: by the protection (us), or by the live conductors (iso). */
static Side earth_needed(const Judge *judge, Side protection, Side live)
{
    Side need = judge->basis == BASIS_US ? protection : live;
    if (side_is_known(need)) {
        double (*rule)(double) = judge->basis == BASIS_US ? earth_by_protection_m2 : earth_by_live_m2;
        need.value = (Interval){rule(need.value.low), rule(need.value.high)};
    }
    return need;
}

/* The size that is asked for, which is a gauge of the table where it goes by protection; the next that is sold may be thicker. */
static const char *say_earth(const Judge *judge, double area_m2)
{
    const char *sold = earth_size_word(judge->basis, area_m2);
    for (size_t row = 0; judge->basis == BASIS_US && row < sizeof by_protection / sizeof by_protection[0]; row++) {
        const Conductor *asked = conductor_find_gauge(SERIES_AWG, by_protection[row].gauge);
        if (sold != NULL && asked->area_m2 == area_m2 && strcmp(asked->word, sold) != 0) {
            return text_format(judge->arena, "%s; the next that is sold is %s", asked->word, sold);
        }
    }
    return sold != NULL ? sold : "thicker than any that is sold";
}

/* `fed`: what the cable of a `feeds` leads to, whose lines stand in its block; NULL: the lines are the thing's own. */
static void remedy_earth(Judge *judge, Finding *finding, Side need, const Entity *fed)
{
    const char *word = side_is_known(need) ? earth_size_word(judge->basis, need.value.high) : NULL;
    if (word != NULL && fed != NULL) {
        finding_remedy(judge, finding, "`ground %s` in its `feeds %s`", word, say_name(judge, fed));
    } else if (word != NULL) {
        finding_remedy(judge, finding, "ground %s", word);
    }
}

/* A size by SAE number counts by its number, as the table does, not by its smaller area. */
static Interval area_by_number(const Value *value)
{
    Interval area = {value->u.quantity.low, value->u.quantity.high};
    for (int end = 0; end < 2 && value->unit.unit == UNIT_SAE; end++) {
        double *side = end == 0 ? &area.low : &area.high;
        const Conductor *sae = isfinite(*side) && *side > 0.0 ? conductor_find(SERIES_SAE, *side) : NULL;
        const Conductor *awg = sae != NULL ? conductor_find_gauge(SERIES_AWG, sae->gauge) : NULL;
        *side = awg != NULL ? awg->area_m2 : *side;
    }
    return area;
}

static void judge_earth(Judge *judge, const Entity *subject, const Entity *at, const Block *block,
                        PropId prop, Side need)
{
    const Property *property = block_property(block, prop);
    Side ground = side_block_value(judge, subject, block, prop, 0);
    if (ground.state == STATE_MISSING) {
        Finding *f = judge_open(judge, subject, place_of_name(judge, subject), subject, prop);
        finding_at(f, at);
        finding_say(judge, f,
                    "the cable of `%s`%s carries mains voltage, and states no grounding conductor (`ground`)",
                    say_name(judge, subject), at != NULL ? text_format(judge->arena, " to `%s`", say_name(judge, at)) : "");
        remedy_earth(judge, f, need, at);
        return;
    }
    if (side_is_known(ground)) {
        ground.value = area_by_number(property_value(property, 0));
    }
    Finding *f = judge_at_least(judge, subject, place_in_block(judge, subject, block, prop), ground, need);
    if (f != NULL) {
        finding_at(f, at);
        finding_say(judge, f, "the grounding conductor of `%s` is %.*s; %s it has to be %s",
                    say_name(judge, subject), STR_ARG(value_written(judge->model, property)),
                    judge->basis == BASIS_US ? "behind this protection" : "beside these live conductors",
                    say_earth(judge, need.value.high));
        remedy_earth(judge, f, need, at);
    }
}

bool feed_carries_alternating(const Feed *feed)
{
    bool makes = !feed->maker || feed->giver->kind == KIND_INVERTER || feed->giver->kind == KIND_GENERATOR;
    return makes && feed->giver != NULL && feed->taker->flags & ENTITY_AC;
}

void judge_feed_earth(Judge *judge, const Feed *feed)
{
    if (!feed_carries_alternating(feed) || (feed != feed->subject->fed && !feed->maker)) {
        return; /* of several `fed-by` the lines are the same */
    }
    Side protection = side_figure(feed_figure(judge, feed, FIGURE_PROTECTION));
    Side live = side_figure(feed_figure(judge, feed, FIGURE_WIRE_SIZE));
    judge_earth(judge, feed->subject, feed->maker ? feed->taker : NULL, feed->block,
                feed->maker ? PROP_FEEDS_GROUND : PROP_FEED_GROUND, earth_needed(judge, protection, live));
}

void judge_inlet_earth(Judge *judge, const Entity *inlet)
{
    if (!entity_states(inlet, PROP_FEED_WIRE) && !entity_states(inlet, PROP_FEED_RUN)) {
        return; /* no cable of its own is stated */
    }
    Side protection = device_rating(judge, inlet, &inlet->block);
    Side live = side_value(judge, inlet, PROP_FEED_WIRE, 0);
    judge_earth(judge, inlet, NULL, &inlet->block, PROP_FEED_GROUND, earth_needed(judge, protection, live));
}
