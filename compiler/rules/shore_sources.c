/*
 * Sources of alternating current against one another, and the pontoon's against the boat's breakers.
 */
#include "rules/shore.h"

/* ac-voltage */

/* How far apart two voltages may be and still count as one: 220 and 230 V, 110 and 120 V. */
static const double same_voltage = 0.9;

static Side volts_of(const Judge *judge, const Entity *source)
{
    switch ((KindId)source->kind) {
    case KIND_INLET: return side_value(judge, source, PROP_INLET_RATED, 1);
    case KIND_GENERATOR: return side_value(judge, source, PROP_GENERATOR_RATED, 1);
    default: return side_value(judge, source, PROP_INVERTER_OUTPUT, 0);
    }
}

static PropId line_of(const Entity *source)
{
    return source->kind == KIND_INLET       ? PROP_INLET_RATED
           : source->kind == KIND_GENERATOR ? PROP_GENERATOR_RATED
                                            : PROP_INVERTER_OUTPUT;
}

/* Whether two sources that can feed the same things agree. What one does not state it takes from the other. */
static void judge_same_voltage(Judge *judge, const Entity *one, const Entity *other)
{
    Side a = volts_of(judge, one);
    Side b = volts_of(judge, other);
    if (a.state == STATE_MISSING || b.state == STATE_MISSING) {
        return;
    }
    if (!side_is_known(a) || !side_is_known(b)) {
        judge_waiting(judge);
        return;
    }
    bool a_is_lower = a.value.low + a.value.high <= b.value.low + b.value.high;
    Side lower = a_is_lower ? a : b;
    Side limit = a_is_lower ? b : a;
    limit.value = interval_scale(limit.value, same_voltage);
    Finding *f = judge_at_least(judge, one, place_of(judge, one, line_of(one)), lower, limit);
    if (f != NULL) {
        finding_at(f, other);
        finding_say(judge, f, "`%s` gives %s and `%s` %s, and either can feed the same things",
                    say_name(judge, one), say_side(judge, a), say_name(judge, other), say_side(judge, b));
        finding_note(judge, f, place_of(judge, other, line_of(other)), "the other one");
    }
}

static bool makes_mains(const Entity *source)
{
    return is_there(source) && (source->kind == KIND_INLET || source->kind == KIND_GENERATOR ||
                                source->kind == KIND_INVERTER);
}

static const Entity *source_of(const Upstream *upstream, const Entity *thing)
{
    return makes_mains(thing) ? thing : thing != NULL ? upstream->source[thing->index] : NULL;
}

static void judge_passed(Judge *judge, const Upstream *upstream, const Entity *inverter)
{
    const Entity *passed = source_of(upstream, entity_reference(inverter, PROP_INVERTER_PASSES));
    if (makes_mains(passed) && passed != inverter) {
        judge_same_voltage(judge, inverter, passed);
    }
}

static void judge_switched(Judge *judge, const Upstream *upstream, const Entity *transfer)
{
    const Entity *first = transfer->fed != NULL ? source_of(upstream, transfer->fed->giver) : NULL;
    for (const Feed *feed = transfer->fed; feed != NULL && makes_mains(first); feed = feed->next) {
        const Entity *source = source_of(upstream, feed->giver);
        if (source != first && makes_mains(source)) {
            judge_same_voltage(judge, first, source);
        }
    }
}

void judge_ac_voltage(Judge *judge)
{
    const Model *model = judge->model;
    if (model->first_of_kind[KIND_INVERTER] == NULL && model->first_of_kind[KIND_GENERATOR] == NULL &&
        model->first_of_kind[KIND_INLET] == NULL) {
        return;
    }
    Upstream upstream = upstream_make(judge);
    for (const Entity *e = model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        if (is_there(e)) {
            judge_passed(judge, &upstream, e);
        }
    }
    for (const Entity *e = model->first_of_kind[KIND_SWITCH]; e != NULL; e = e->next_of_kind) {
        if (is_there(e) && e->flags & ENTITY_AC) {
            judge_switched(judge, &upstream, e);
        }
    }
}

/* shore-polarity */

/* Whether a device behind the inlet opens one conductor only. */
static Answer opens_one(const Judge *judge, const Entity *thing)
{
    Side poles = side_value(judge, thing, PROP_FEED_POLES, 0);
    if (!entity_states(thing, PROP_FEED_PROTECT) || !side_is_known(poles) || poles.value.low >= 2.0) {
        return ANSWER_NO;
    }
    return poles.value.high < 2.0 ? ANSWER_YES : ANSWER_PERHAPS;
}

/* One that does, else one that may; NULL if there is none. */
static const Entity *find_single(const Judge *judge, const Upstream *upstream, const Entity *inlet, Answer *answer)
{
    const Entity *perhaps = NULL;
    for (const Entity *thing = upstream->first[inlet->index]; thing != NULL; thing = upstream->next[thing->index]) {
        *answer = opens_one(judge, thing);
        if (*answer == ANSWER_YES) {
            return thing;
        }
        perhaps = *answer == ANSWER_PERHAPS && perhaps == NULL ? thing : perhaps;
    }
    *answer = ANSWER_PERHAPS;
    return perhaps;
}

static void judge_polarity(Judge *judge, const Upstream *upstream, const Entity *inlet)
{
    Answer opens;
    if (str_is(entity_word(inlet, PROP_INLET_ISOLATION), "transformer")) {
        judge_holds(judge);
        return;
    }
    const Entity *single = find_single(judge, upstream, inlet, &opens);
    if (single == NULL) {
        return;
    }
    Finding *f = judge_yes(judge, inlet, PROP_INLET_POLARITY_INDICATOR, "");
    if (f != NULL) {
        finding_say(judge, f,
                    "%s tells when line and neutral of `%s` have changed places, and the breaker of `%s` %s one of them "
                    "only",
                    f->verdict == VERDICT_BROKEN ? "nothing" : "nobody says whether anything", say_name(judge, inlet),
                    say_name(judge, single), opens == ANSWER_YES ? "opens" : "may open");
        finding_note(judge, f, place_of(judge, single, PROP_FEED_POLES),
                     opens == ANSWER_YES ? "it opens one conductor" : "how many it opens");
        if (opens == ANSWER_PERHAPS) {
            finding_left_open(judge, f, single, PROP_FEED_POLES);
        }
    }
}

void judge_shore_polarity(Judge *judge)
{
    if (judge->model->first_of_kind[KIND_INLET] == NULL) {
        return;
    }
    Upstream upstream = upstream_make(judge);
    for (const Entity *e = judge->model->first_of_kind[KIND_INLET]; e != NULL; e = e->next_of_kind) {
        if (is_there(e)) {
            judge_polarity(judge, &upstream, e);
        }
    }
}
