/*
 * One rule of the family rules_bilge: bilge-capacity. What the pumps really move against what the basis asks, and a pump
 * that lifts nothing.
 */
#include "rules/bilge.h"
#include "rules/plumbing.h"

#include "figures/pipes.h"
#include "figures/water.h"
#include "physics/bilge.h"

/* The first pump of a sort; NULL if there is none. */
static const Entity *find_pump(const Judge *judge, bool (*is_sort)(const Entity *))
{
    const Entity *pump = first_aboard(judge->model, KIND_BILGE_PUMP);
    while (pump != NULL && !is_sort(pump)) {
        pump = next_aboard(pump);
    }
    return pump;
}

static bool says_not_whether_automatic(const Entity *pump)
{
    return !is_worked_by_hand(pump) && !entity_states(pump, PROP_BILGE_PUMP_AUTOMATIC);
}

static bool is_not_fed(const Entity *pump)
{
    return !is_worked_by_hand(pump) && entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 1 && pump->fed == NULL;
}

static bool is_switched_by_hand(const Entity *pump)
{
    return !is_worked_by_hand(pump) && entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 0 && pump->fed != NULL;
}

static bool is_unclear(const Entity *pump)
{
    return has_mistake(pump, PROP_BILGE_PUMP_AUTOMATIC) || has_mistake(pump, PROP_BILGE_PUMP_HAND);
}

static bool lacks_rating(const Entity *pump)
{
    return !entity_states(pump, PROP_BILGE_PUMP_RATED);
}

/*
 * What falls short of a benchmark that asks nothing of a pleasure boat is a warning; that there is no pump at all is not. That
 * one starts by itself iso asks of nobody: there it is advice.
 */
static void grade_benchmark(const Judge *judge, Finding *finding, const Entity *pump)
{
    if (judge->basis == BASIS_ISO) {
        finding_severity(finding, SEVERITY_ADVICE);
    } else if (pump != NULL) {
        finding_severity(finding, SEVERITY_WARNING);
    }
}

/* Too little; but a pump that does not say whether it is automatic may make up for it. */
static void judge_automatic(Judge *judge, const Figure *need)
{
    const Entity *boat = judge->model->boat;
    const Entity *pump = find_pump(judge, counts_as_automatic);
    const Entity *silent = find_pump(judge, says_not_whether_automatic);
    const Entity *unfed = find_pump(judge, is_not_fed);
    const Entity *waits = silent == NULL && unfed == NULL ? find_pump(judge, is_switched_by_hand) : NULL;
    const Figure *pumping = figure_of(judge, boat, FIGURE_PUMPING);
    Span place = pump != NULL    ? place_of(judge, pump, PROP_BILGE_PUMP_RATED)
                 : waits != NULL ? place_of(judge, waits, PROP_BILGE_PUMP_AUTOMATIC)
                                 : place_of_name(judge, boat);
    Finding *finding = judge_at_least(judge, boat, place, side_figure(pumping), side_figure(need));
    if (finding == NULL) {
        return;
    }
    finding_matter(finding, "automatic"); /* by iso the best pump of any kind is another finding of this rule */
    grade_benchmark(judge, finding, pump);
    bool us = judge->basis == BASIS_US;
    const char *asked = us ? text_format(judge->arena, US_AUTHORITY " asks for %s", say_figure(judge, need))
                           : "nothing keeps her dry while nobody is aboard";
    const char *beside = us ? asked : text_format(judge->arena, "%s of one that starts by itself would keep her dry while nobody is aboard", say_figure(judge, need));
    if (pump == NULL && waits != NULL) {
        finding_say(judge, finding, "`%s` does not start by itself, and no other electric bilge pump does; %s", say_name(judge, waits), asked);
    } else if (pump != NULL) {
        finding_say(judge, finding, "the automatic bilge pumps move %s aboard; %s", say_figure(judge, pumping), beside);
    } else {
        finding_say(judge, finding, "no automatic bilge pump that is fed; %s", asked);
    }
    note_pumps(judge, finding, counts_as_automatic);
    if (silent != NULL) {
        finding_left_open(judge, finding, silent, PROP_BILGE_PUMP_AUTOMATIC);
        finding_note(judge, finding, place_of_name(judge, silent),
                     "does not say whether it starts by itself");
        finding_remedy(judge, finding, "automatic yes");
    } else if (unfed != NULL) {
        finding_note(judge, finding, place_of_name(judge, unfed), "is not fed, so it does not count");
    } else {
        if (waits != NULL) {
            finding_remedy(judge, finding, "automatic yes of `%s`, with a float switch in its well", say_name(judge, waits));
        }
        finding_remedy(judge, finding, pump != NULL ? "a larger pump, a wider hose, or a second `bilge-pump` with `automatic yes`, fed"
                                                    : "a `bilge-pump` with `automatic yes`, fed");
    }
}

/* How much it is rated for may be open: what lifts nothing does so whatever that is. */
static bool hangs_on_rating_alone(const Judge *judge, const Entity *pump)
{
    Side rated = side_value(judge, pump, PROP_BILGE_PUMP_RATED, 0);
    return rated.value.low <= 0.0 && interval_is_point(side_value(judge, pump, PROP_BILGE_PUMP_LIFT, 0).value) &&
           interval_is_point(side_value(judge, pump, PROP_BILGE_PUMP_SHUT_OFF, 0).value);
}

/* All together are enough, but one of them lifts nothing at all. */
static void judge_idle(Judge *judge)
{
    static const double something_m3_per_s = 1e-9;
    for (const Entity *pump = first_aboard(judge->model, KIND_BILGE_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Figure *moved = figure_of(judge, pump, FIGURE_PUMPED);
        Side least = side_number(something_m3_per_s, moved != NULL ? moved->unit : UNIT_ALONE(UNIT_NONE));
        Answer moves = moved != NULL ? ask_at_least(side_figure(moved), least) : ANSWER_YES;
        if (moves == ANSWER_YES || (moves == ANSWER_PERHAPS && hangs_on_rating_alone(judge, pump))) {
            continue;
        }
        Finding *finding =
            judge_at_least(judge, pump, place_of(judge, pump, PROP_BILGE_PUMP_LIFT), side_figure(moved), least);
        if (finding != NULL) {
            finding_severity(finding, SEVERITY_WARNING);
            finding_matter(finding, "idle");
            finding_say(judge, finding,
                        finding->verdict == VERDICT_BROKEN ? "`%s` moves nothing aboard: so high it does not lift"
                                                           : "`%s` may move nothing aboard: so high it may not lift",
                        say_name(judge, pump));
            finding_note(judge, finding, place_of(judge, pump, PROP_BILGE_PUMP_SHUT_OFF),
                         is_worked_by_hand(pump) ? "where it gives up"
                                                 : "where it gives up at full voltage; on a bank at rest at three quarters of that");
        }
    }
}

/* us: the derived code reads the clause more leniently for the hand pump. */
static bool is_enough_by_lenient_reading(const Judge *judge, const Figure *moved)
{
    Side length = side_value(judge, judge->model->boat, PROP_BOAT_LENGTH, 0);
    if (judge->basis != BASIS_US || !side_is_known(length)) {
        return false;
    }
    BilgeNeed need = bilge_need(judge->basis, length.value.high);
    return ask_at_least(side_figure(moved), side_number(need.hand_lenient_m3_per_s, moved->unit)) ==
           ANSWER_YES;
}

static void judge_by_hand(Judge *judge, const Figure *need)
{
    const Entity *boat = judge->model->boat;
    const Entity *pump = find_pump(judge, is_worked_by_hand);
    const Figure *moved = figure_of(judge, boat, FIGURE_HAND_PUMPING);
    Span place = pump != NULL ? place_of(judge, pump, PROP_BILGE_PUMP_RATED) : place_of_name(judge, boat);
    Finding *finding = judge_at_least(judge, boat, place, side_figure(moved), side_figure(need));
    if (finding == NULL) {
        return;
    }
    finding_about(finding, PROP_BILGE_PUMP_HAND); /* what pumps by itself is another finding of this rule */
    if (pump == NULL) {
        finding_say(judge, finding, "no bilge pump is worked by hand; " US_AUTHORITY " asks for one of %s", say_figure(judge, need));
        finding_remedy(judge, finding, "a `bilge-pump` with `hand yes`");
        return;
    }
    finding_at(finding, pump);
    grade_benchmark(judge, finding, pump);
    finding_say(judge, finding, "the hand bilge pump moves %s aboard; " US_AUTHORITY " asks for %s", say_figure(judge, moved),
                say_figure(judge, need));
    note_pumps(judge, finding, is_worked_by_hand);
    if (is_enough_by_lenient_reading(judge, moved)) {
        finding_note(
            judge, finding, place_of(judge, boat, PROP_BOAT_LENGTH),
            "the clause prints one figure for both pumps; the code drawn from it asks half of a hand pump");
    }
}

/* A pump whose rating is not stated leaves the sum, and so this, open. */
static bool judge_unrated(Judge *judge)
{
    const Entity *pump = find_pump(judge, lacks_rating);
    if (pump == NULL || !(judge->basis == BASIS_ISO ? counts_as_pump(pump) : counts_as_automatic(pump) || is_worked_by_hand(pump))) {
        return false;
    }
    Finding *finding =
        judge_open(judge, judge->model->boat, place_of_name(judge, pump), pump, PROP_BILGE_PUMP_RATED);
    finding_say(judge, finding,
                "`%s` does not say how much it is rated to move, so what the bilge pumps move is not known",
                say_name(judge, pump));
    return true;
}

void judge_bilge_capacity(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Figure *need = figure_of(judge, boat, FIGURE_PUMPING_NEED);
    const Figure *hand = figure_of(judge, boat, FIGURE_HAND_PUMPING_NEED);
    bool us = judge->basis == BASIS_US;
    if (need == NULL || (us && hand == NULL)) {
        return; /* the basis has no figure for that length */
    }
    if (find_pump(judge, is_unclear) != NULL || need->state == STATE_WAITING ||
        some_is_mistaken(judge, KIND_BILGE_PUMP)) {
        judge_waiting(judge);
    } else if (first_aboard(judge->model, KIND_BILGE_PUMP) == NULL) {
        judge_no_pump(judge);
    } else if (!judge_unrated(judge)) {
        bool there = us || judge_two_pumps(judge, need);
        if (us || (there && first_aboard(judge->model, KIND_BANK) != NULL)) {
            judge_automatic(judge, need);
        }
        if (us) {
            judge_by_hand(judge, hand);
        }
        judge_idle(judge);
    }
}
