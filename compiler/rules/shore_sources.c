/*
 * Sources of alternating current against one another, and the pontoon's against the boat's breakers.
 */
#include "rules/shore.h"

/* ac-voltage */

static Side volts_of(const Judge *judge, const Entity *source)
{
    switch ((KindId)source->kind) {
    case KIND_INLET: return side_value(judge, source, PROP_INLET_RATED, 1);
    case KIND_GENERATOR: return side_value(judge, source, PROP_GENERATOR_RATED, 1);
    default: return side_value(judge, source, PROP_INVERTER_OUTPUT, 0);
    }
}

static PropId volts_line(const Entity *source)
{
    return source->kind == KIND_INLET       ? PROP_INLET_RATED
           : source->kind == KIND_GENERATOR ? PROP_GENERATOR_RATED
                                            : PROP_INVERTER_OUTPUT;
}

static PropId hertz_line(const Entity *source)
{
    return source->kind == KIND_INLET       ? PROP_INLET_FREQUENCY
           : source->kind == KIND_GENERATOR ? PROP_GENERATOR_FREQUENCY
                                            : PROP_INVERTER_FREQUENCY;
}

static Side hertz_of(const Judge *judge, const Entity *source)
{
    return side_value(judge, source, hertz_line(source), 0);
}

Finding *judge_same(Judge *judge, const Entity *subject, Span place, Side one, Side other, double share)
{
    Side least_one = other, least_other = one;
    least_one.value = interval_scale(other.value, share);
    least_other.value = interval_scale(one.value, share);
    Finding *f = judge_at_least(judge, subject, place, one, least_one);
    return f != NULL ? f : judge_at_least(judge, subject, place, other, least_other);
}

/* What two sources have to agree in. */
typedef struct Agreed {
    Side (*of)(const Judge *judge, const Entity *source);
    PropId (*line)(const Entity *source); /* where it is stated */
    double share;                         /* how far apart they may be */
} Agreed;

static const Agreed agreed_volts = {volts_of, volts_line, SAME_VOLTAGE}, agreed_hertz = {hertz_of, hertz_line, SAME_FREQUENCY};

/* Whether two sources that can feed the same things agree. What one does not state it takes from the other. */
static void judge_agree(Judge *judge, const Entity *one, const Entity *other, const Agreed *in)
{
    Side a = in->of(judge, one), b = in->of(judge, other);
    if (a.state == STATE_MISSING || b.state == STATE_MISSING) {
        return;
    }
    if (!side_is_known(a) || !side_is_known(b)) {
        judge_waiting(judge);
        return;
    }
    if (one->kind == KIND_INLET && other->kind != KIND_INLET) {
        judge_agree(judge, other, one, in); /* what the shore gives nobody aboard changes: told of the other */
        return;
    }
    Finding *f = judge_same(judge, one, place_of(judge, one, in->line(one)), a, b, in->share);
    if (f != NULL) {
        finding_at(f, other);
        finding_about(f, in->line(one));
        finding_say(judge, f, "`%s` gives %s and `%s` %s, and either can feed the same things",
                    say_name(judge, one), say_side(judge, a), say_name(judge, other), say_side(judge, b));
        finding_note(judge, f, place_of(judge, other, in->line(other)), "the other one");
        finding_remedy(judge, f, "a `%s` for %s, or things of its own for it to feed", kinds[one->kind].word, say_side(judge, b));
    }
}

static void judge_same_source(Judge *judge, const Entity *one, const Entity *other)
{
    judge_agree(judge, one, other, &agreed_volts);
    judge_agree(judge, one, other, &agreed_hertz);
}

static bool makes_mains(const Entity *source)
{
    return is_aboard(source) && (source->kind == KIND_INLET || source->kind == KIND_GENERATOR ||
                                source->kind == KIND_INVERTER);
}

static const Entity *source_of(const Upstream *upstream, const Entity *thing)
{
    return makes_mains(thing) ? thing : thing != NULL ? upstream->source[thing->index] : NULL;
}

/* The source of what an inverter passes through, where it does not say something itself. */
static Side or_passed(const Judge *judge, const Upstream *upstream, const Entity *source,
                      Side (*of)(const Judge *, const Entity *))
{
    Side own = of(judge, source);
    const Entity *passed = source->kind == KIND_INVERTER ? source_of(upstream, entity_reference(source, PROP_INVERTER_PASSES)) : NULL;
    return own.state == STATE_MISSING && makes_mains(passed) && passed != source ? of(judge, passed) : own;
}

Side mains_volts(const Judge *judge, const Upstream *upstream, const Entity *source)
{
    return or_passed(judge, upstream, source, volts_of);
}

Side mains_hertz(const Judge *judge, const Upstream *upstream, const Entity *source)
{
    return or_passed(judge, upstream, source, hertz_of);
}

static void judge_passed(Judge *judge, const Upstream *upstream, const Entity *inverter)
{
    const Entity *passed = source_of(upstream, entity_reference(inverter, PROP_INVERTER_PASSES));
    if (makes_mains(passed) && passed != inverter) {
        judge_same_source(judge, inverter, passed);
    }
}

static void judge_other(Judge *judge, const Entity *first, const Entity *source)
{
    if (source != first && makes_mains(source)) {
        judge_same_source(judge, first, source);
    }
}

static void judge_switched(Judge *judge, const Upstream *upstream, const Entity *transfer)
{
    const Feed *of_first = transfer->fed != NULL ? transfer->fed : transfer->made;
    const Entity *first = of_first != NULL ? source_of(upstream, of_first->giver) : NULL;
    for (const Feed *feed = transfer->fed; feed != NULL && makes_mains(first); feed = feed->next) {
        judge_other(judge, first, source_of(upstream, feed->giver));
    }
    for (const Feed *feed = transfer->made; feed != NULL && makes_mains(first); feed = feed->next_of_taker) {
        judge_other(judge, first, feed->giver);
    }
}

void judge_ac_voltage(Judge *judge)
{
    const Model *model = judge->model;
    if (model->first_of_kind[KIND_INVERTER] == NULL && model->first_of_kind[KIND_GENERATOR] == NULL &&
        model->first_of_kind[KIND_INLET] == NULL) {
        return;
    }
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *e = model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e)) {
            judge_passed(judge, upstream, e);
        }
    }
    for (const Entity *e = model->first_of_kind[KIND_SWITCH]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e) && e->flags & ENTITY_AC) {
            judge_switched(judge, upstream, e);
        }
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        const Entity *source = upstream->source[i];
        if (is_aboard(thing) && thing->flags & ENTITY_AC && !(thing->flags & ENTITY_LOOP) && makes_mains(source)) {
            judge_made_for(judge, upstream, thing, source);
        }
    }
}

/* shore-polarity */

/* Whether a device behind the inlet opens one conductor only; one of which nobody says it may. */
static Answer opens_one(const Judge *judge, const Entity *thing)
{
    const Property *protect = entity_property(thing, PROP_FEED_PROTECT);
    const Value *kind = property_value(protect, 1);
    Side poles = side_value(judge, thing, PROP_FEED_POLES, 0);
    if (protect == NULL || poles.state == STATE_WAITING || thing->kind == KIND_INVERTER) {
        return ANSWER_NO; /* an inverter's own line is of its cable from the bank */
    }
    if (kind->kind == VALUE_WORD && str_is(kind->u.word, "fuse")) {
        return ANSWER_YES;
    }
    if (poles.state == STATE_MISSING) {
        return ANSWER_PERHAPS;
    }
    return poles.value.low >= 2.0 ? ANSWER_NO : poles.value.high < 2.0 ? ANSWER_YES : ANSWER_PERHAPS;
}

/* One that does, else one that may; NULL if there is none. */
static const Entity *find_single(const Judge *judge, const Entity *inlet, Answer *answer)
{
    const Model *model = judge->model;
    const bool *behind = all_behind(judge, inlet);
    const Entity *perhaps = NULL;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        *answer = behind[i] && is_aboard(model->entities[i]) ? opens_one(judge, model->entities[i]) : ANSWER_NO;
        if (*answer == ANSWER_YES) {
            return model->entities[i];
        }
        perhaps = *answer == ANSWER_PERHAPS && perhaps == NULL ? model->entities[i] : perhaps;
    }
    *answer = ANSWER_PERHAPS;
    return perhaps;
}

static void judge_polarity(Judge *judge, const Entity *inlet)
{
    Answer opens;
    if (has_transformer(inlet)) {
        judge_holds(judge);
        return;
    }
    const Entity *single = find_single(judge, inlet, &opens);
    if (single == NULL) {
        return;
    }
    Finding *f = judge_yes(judge, inlet, PROP_INLET_POLARITY_INDICATOR, "");
    if (f != NULL) {
        finding_say(judge, f,
                    "%s tells when line and neutral of `%s` have changed places, and the device of `%s` %s one of them "
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
    for (const Entity *e = judge->model->first_of_kind[KIND_INLET]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e)) {
            judge_polarity(judge, e);
        }
    }
}
