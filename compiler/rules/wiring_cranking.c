/*
 * What rules on cables ask of one that a starter is cranked through: copper that stands it (wire-overloaded), and voltage that
 * is left at the other end of a switch that lends a bank (wire-drop).
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "physics/drop.h"
#include "rules/ask.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

static const UnitPair percent = {UNIT_PERCENT, UNIT_NONE};

/* What cranks an engine through a cable: the engine's own starter, or the greatest behind it. */
static const Figure *cranked_through(const Judge *judge, const Feed *feed)
{
    return is_cranked(feed->taker) ? feed_figure(judge, feed, FIGURE_CURRENT) : figure_of(judge, feed->taker, FIGURE_CRANKING);
}

/* Whether a device that opens before it is too much for the cable stands before it: then `surge` tells that nothing cranks. */
static Answer stops(const Judge *judge, const Feed *feed)
{
    const Figure *device = feed->guard != NULL ? feed_figure(judge, feed->guard, FIGURE_PROTECTION) : NULL;
    const Figure *ampacity = feed_figure(judge, feed, FIGURE_AMPACITY);
    return device != NULL && device->high > 0.0 ? ask_at_least(side_figure(ampacity), side_figure(device)) : ANSWER_NO;
}

static bool is_stopped(const Judge *judge, const Feed *feed)
{
    return stops(judge, feed) == ANSWER_YES;
}

static Answer stands_starter(const Judge *judge, const Feed *feed)
{
    return is_stopped(judge, feed)
               ? ANSWER_YES
               : ask_at_least(side_figure(feed_figure(judge, feed, FIGURE_CRANKING_AMPACITY)), side_figure(cranked_through(judge, feed)));
}

/* A thing that several feed states one cable for all of them: of a second one of which the same is to be said nothing new is told. */
static bool is_told_of_first(const Judge *judge, const Feed *feed, Answer (*asks)(const Judge *, const Feed *))
{
    const Feed *first = feed->maker ? feed : feed->taker->fed;
    Answer of_first = asks(judge, first);
    return first != feed && of_first != ANSWER_YES && of_first == asks(judge, feed);
}

/* The engine whose `starter` a figure lacks, followed down through its inputs; NULL: it lacks another thing. */
static const Entity *engine_unsaid(const Model *model, const Figure *figure, int depth)
{
    enum { DEEPEST = 16 };
    const Entity *engine = NULL;
    for (uint16_t i = 0; i < figure->input_count && depth < DEEPEST && engine == NULL; i++) {
        const Input *input = &figure->inputs[i];
        if (input->kind == INPUT_MISSING && input->prop == PROP_ENGINE_STARTER) {
            engine = model->entities[input->entity];
        } else if (input->kind == INPUT_FIGURE && input->u.figure->state == STATE_MISSING) {
            engine = engine_unsaid(model, input->u.figure, depth + 1);
        }
    }
    return engine;
}

/*
 * What a starter takes is not stated: a cable that no device has to guard for its sake may be none for a starter at all. Said
 * once of each engine, at its own cable, and of each switch that lends it another bank; false where something else is to be told.
 */
static bool is_left_open(Judge *judge, const Feed *feed, const Figure *starter)
{
    bool lends = feed->taker->kind == KIND_SWITCH && !has_starter_behind(judge->model, feed->taker);
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    bool stated = size != NULL && size->state == STATE_KNOWN && !size->chosen;
    bool here = stated && (is_cranked(feed->taker) || lends) && feed == feed->taker->fed;
    const Entity *engine = here && starter->state == STATE_MISSING ? engine_unsaid(judge->model, starter, 0) : NULL;
    if (engine == NULL) {
        return false;
    }
    Finding *f = about_feed(judge, judge_open(judge, feed->subject, place_of_name(judge, feed->subject), engine, PROP_ENGINE_STARTER), feed,
                            PROP_FEED_WIRE);
    finding_matter(f, "cranking");
    finding_say(judge, f, "`%s` does not say what its starter takes: whether the cable of %s stands it is not known%s",
                say_name(judge, engine), feed_name(judge, feed), feed->guard == NULL ? ", and no device guards it" : "");
    finding_here(judge, f, "%s", say_cable(judge, feed));
    finding_remedy(judge, f, "starter ... A on `%s`: the current of its starter while it cranks", say_name(judge, engine));
    return true;
}

/* Seconds of cranking ask for no ampacity, but for copper that is not as hot by then as its insulation stands. */
void judge_cranks(Judge *judge, const Feed *feed)
{
    const Figure *stands = feed_figure(judge, feed, FIGURE_CRANKING_AMPACITY), *starter = cranked_through(judge, feed);
    if (stands == NULL || starter == NULL || is_stopped(judge, feed)) {
        return;
    }
    if (is_told_of_first(judge, feed, stands_starter)) {
        judge_gives_way(judge);
        return;
    }
    if (is_left_open(judge, feed, starter)) {
        return;
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_WIRE, side_figure(stands), side_figure(starter));
    if (f == NULL) {
        return;
    }
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    finding_matter(f, "cranking");
    if (f->verdict == VERDICT_BROKEN && stops(judge, feed) == ANSWER_PERHAPS) {
        finding_may_not_apply(f); /* by the size of the cable its device may open first */
        finding_left_open(judge, f, feed->maker ? feed->giver : feed->taker, PROP_FEED_WIRE);
    }
    finding_say(judge, f, "a starter takes %s through the cable of %s, and %s make its copper as hot in 10 s as its insulation stands",
                say_figure(judge, starter), feed_name(judge, feed), say_figure(judge, stands));
    finding_here(judge, f, "%s", say_cable(judge, feed));
    const Conductor *row = stands->low > 0.0 && isfinite(starter->high)
                               ? conductor_at_least(series_of_unit(size->unit), size->low * starter->high / stands->low)
                               : NULL;
    if (row != NULL) {
        finding_remedy(judge, f, "%s, and thicker if it is long (`wire-drop`)", say_wire(judge, feed, row, 0.0));
    }
}

static Answer keeps_lent_drop(const Judge *judge, const Feed *feed)
{
    Side most = side_number(DROP_LIMIT_OTHER, percent);
    return ask_at_least(most, side_figure(feed_figure(judge, feed, FIGURE_CRANKING_DROP_BY_RULE)));
}

/* What is lost in the cables of a switch that lends one bank to the starter of another: nothing else flows there. */
void judge_lent_drop(Judge *judge, const Feed *feed)
{
    const Figure *lost = feed_figure(judge, feed, FIGURE_CRANKING_DROP_BY_RULE);
    bool lends = !feed->maker && feed->taker->kind == KIND_SWITCH && lost != NULL && feed->taker->fed->next != NULL;
    if (!lends || has_starter_behind(judge->model, feed->taker) || is_stopped(judge, feed)) {
        return;
    }
    if (stands_starter(judge, feed) == ANSWER_NO || is_told_of_first(judge, feed, keeps_lent_drop)) {
        judge_gives_way(judge); /* in the first case thicker copper is asked for already */
        return;
    }
    Side most = side_number(DROP_LIMIT_OTHER, percent);
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(lost), most);
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_matter(f, "cranking");
        finding_say(judge, f, "%s%s of the voltage is lost in the cables of `%s` and before it while an engine is "
                    "started by way of it%s; at most %s may be up to the starter",
                    say_by_formula(lost), say_lost(judge, lost), say_name(judge, feed->taker),
                    say_real(judge, feed_figure(judge, feed, FIGURE_CRANKING_DROP)), say_side(judge, most));
        finding_remedy(judge, f, "a thicker `wire`, or a shorter `run`");
    }
}
