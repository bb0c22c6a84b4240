/*
 * One rule of the spec as a whole: every goal is met. It holds the owner's goals against figures of the boat.
 *
 * The budget is left to the rule `over-budget`.
 */
#include "figures/drive.h"

#include "model/status.h"
#include "rules/ask.h"
#include "rules/placed.h"
#include "rules/upstream.h"
#include "rules/whole.h"

#include <math.h>

static Side difference(const Finding *finding, bool below)
{
    Interval by = below ? interval_subtract(finding->limit, finding->value)
                        : interval_subtract(finding->value, finding->limit);
    Side side = side_interval(by, finding->unit);
    side.money = finding->money;
    return side;
}

static const Entity *goal_day(const Entity *goal, PropId prop)
{
    const Value *day = property_value(entity_property(goal, prop), 1);
    return value_entity(day);
}

/* ---- What a goal cannot be held against ---------------------------------------------------------------- */

/*
 * Nothing aboard makes the figure that the goal asks for: left open by the name of what the spec does not state. NULL where
 * that may stand in the spec with a mistake.
 */
static Finding *leave_goal(Judge *judge, const Entity *goal, PropId prop, const char *lacks, const char *needs)
{
    KindId kind = schema_find_kind(str_from(lacks));
    if (has_mistake(goal, prop) || some_is_mistaken(judge, kind)) {
        judge_waiting(judge);
        return NULL;
    }
    Finding *finding = judge_open(judge, goal, place_of(judge, goal, prop), NULL, PROP_NONE);
    finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, lacks);
    finding_say(judge, finding, "`%s` cannot be judged: `%s` needs %s", say_name(judge, goal), props[prop].word, needs);
    return finding;
}

static void leave_range(Judge *judge, const Entity *goal)
{
    const Entity *engine = first_aboard(judge->model, KIND_ENGINE);
    while (engine != NULL && !burns_fuel(engine)) {
        engine = next_aboard(engine);
    }
    if (first_aboard(judge->model, KIND_ENGINE) == NULL) {
        leave_goal(judge, goal, PROP_GOAL_RANGE, "engine", "an `engine`, and the spec states none");
    } else if (engine == NULL) {
        leave_goal(judge, goal, PROP_GOAL_RANGE, "bank", "a `bank` that the electric engine is fed by, and the spec states none");
    } else {
        bool any = first_tank(judge->model, "fuel") != NULL;
        leave_goal(judge, goal, PROP_GOAL_RANGE, "tank",
                   any ? "a `tank` of the fuel that the engine burns, and the spec states none"
                       : "a `tank` that `holds fuel`, and the spec states none");
    }
}

/* Of a bank, of a tank, or gas, which the day may state itself. */
static bool is_used(const Judge *judge, const Entity *of, const Entity *day)
{
    FigureId id = of->kind == KIND_TANK ? FIGURE_DAILY_FLOW : of->kind == KIND_GAS_LOCKER ? FIGURE_DAILY_GAS : FIGURE_DAILY_USE;
    const Figure *use = figure_find(judge->figures, of, id, day);
    const Value *gas = property_value(entity_property(day, PROP_DAY_GAS), 0);
    return (use != NULL && (use->state != STATE_KNOWN || use->high > 0.0)) ||
           (of->kind == KIND_GAS_LOCKER && gas->kind == VALUE_QUANTITY && gas->u.quantity.high > 0.0);
}

/* One that nothing takes from never ends, nor does one that is renewed on each such day; the second shows something. */
static bool some_is_used(const Judge *judge, const Figure *endurance, const Entity *day)
{
    for (uint16_t i = 0; i < endurance->input_count; i++) {
        const Input *input = &endurance->inputs[i];
        if (input->kind == INPUT_FIGURE && is_used(judge, input->u.figure->subject, day)) {
            return true;
        }
    }
    return false;
}

/* She lasts for ever because nothing is counted on such a day: nothing is shown by that. */
static void judge_nothing_used(Judge *judge, const Entity *goal, const Entity *day, const Figure *endurance)
{
    if (endurance->state != STATE_KNOWN || !isinf(endurance->low) || some_is_used(judge, endurance, day)) {
        return;
    }
    const char *on = say_name(judge, day);
    Finding *finding = leave_goal(
        judge, goal, PROP_GOAL_ENDURE, "use",
        text_format(judge->arena, "something that is used up on `%s`, and the spec states no such thing", on));
    if (finding != NULL) {
        finding_at(finding, day);
        finding_remedy(judge, finding, "`use %s` with its hours on what runs, and `water` on `%s`", on, on);
    }
}

static void say_endurance(Judge *judge, Finding *finding, const Entity *goal, const Entity *day,
                          const Figure *figure)
{
    const char *days = say_figure(judge, figure);
    const char *on = say_name(judge, day);
    finding_at(finding, day);
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "on `%s` she lasts %s, %s less than `%s` asks%s", on, days,
                    say_side(judge, difference(finding, true)), say_name(judge, goal),
                    say_remark(judge, figure));
    } else {
        finding_say(judge, finding, "on `%s` she lasts %s, and `%s` asks %s%s", on, days,
                    say_name(judge, goal), say_side(judge, side_value(judge, goal, PROP_GOAL_ENDURE, 0)),
                    say_remark(judge, figure));
    }
}

/* What says how much there is of something that runs out; PROP_NONE for what else may end a day. */
static PropId amount_of(const Entity *resource)
{
    return resource->kind == KIND_BANK         ? PROP_BANK_CAPACITY
           : resource->kind == KIND_TANK       ? PROP_TANK_CAPACITY
           : resource->kind == KIND_GAS_LOCKER ? PROP_GAS_LOCKER_CYLINDER
                                               : PROP_NONE;
}

/* Of the one that ends it too early more would do; where several do, none of them alone. */
static void remedy_endurance(Judge *judge, Finding *finding, const Figure *endurance, Side wanted)
{
    enum { NAMED = 4 };
    const Entity *named[NAMED];
    uint32_t count = 0;
    for (uint16_t i = 0; endurance != NULL && i < endurance->input_count; i++) {
        const Figure *of = endurance->inputs[i].kind == INPUT_FIGURE ? endurance->inputs[i].u.figure : NULL;
        if (of != NULL && of->state == STATE_KNOWN && of->low < wanted.value.high) {
            if (count < NAMED) {
                named[count] = of->subject;
            }
            count++;
        }
    }
    bool known = count > 0 && count <= NAMED;
    for (uint32_t i = 0; i < count && i < NAMED; i++) {
        known = known && amount_of(named[i]) != PROP_NONE;
    }
    for (uint32_t i = 0; known && i < count; i++) {
        finding_may_mend(judge, finding, named[i], amount_of(named[i]));
    }
    if (count > 1 && finding->verdict == VERDICT_BROKEN) {
        finding_remedy(judge, finding, "more of %s: none of them alone is enough",
                       say_names(judge, named, count < NAMED ? count : NAMED, count));
        finding_mend_together(finding);
    }
}

static void judge_endure(Judge *judge, const Entity *goal)
{
    const Entity *day = goal_day(goal, PROP_GOAL_ENDURE);
    if (day == NULL) {
        judge_waiting(judge);
        return;
    }
    const Figure *figure = figure_find(judge->figures, judge->model->boat, FIGURE_ENDURANCE, day);
    Side wanted = side_value(judge, goal, PROP_GOAL_ENDURE, 0);
    Span place = place_of(judge, goal, PROP_GOAL_ENDURE);
    if (figure == NULL) {
        leave_goal(judge, goal, PROP_GOAL_ENDURE, "bank",
                   "a `bank`, a `tank` or gas that can run out, and the spec states none");
        return;
    }
    Finding *finding = judge_at_least(judge, goal, place, side_figure(figure), wanted);
    if (finding != NULL) {
        say_endurance(judge, finding, goal, day, figure);
        remedy_endurance(judge, finding, figure, wanted);
    } else {
        judge_nothing_used(judge, goal, day, figure);
    }
    if (figure->state == STATE_KNOWN) {
        return;
    }
    /* One resource cannot be told yet; another may be too small all the same. */
    for (uint16_t i = 0; i < figure->input_count && finding == NULL; i++) {
        const Input *input = &figure->inputs[i];
        if (input->kind == INPUT_FIGURE && input->u.figure->state == STATE_KNOWN) {
            finding = judge_at_least(judge, goal, place, side_figure(input->u.figure), wanted);
            if (finding != NULL) {
                finding_at(finding, day);
                finding_say(judge, finding, "on `%s` `%s` lasts %s, and `%s` asks %s", say_name(judge, day),
                            say_name(judge, input->u.figure->subject), say_figure(judge, input->u.figure),
                            say_name(judge, goal), say_side(judge, wanted));
            }
        }
    }
}

/* Things whose weight nobody knows could add any: with them the sum is a least one, and she may weigh more than is allowed. */
static void name_unweighed(Judge *judge, Finding *finding)
{
    enum { NAMED = 4 };
    const Entity *named[NAMED];
    uint32_t count = 0;
    const Bought *bought = bought_aboard(judge);
    for (uint32_t i = 0; i < bought->count; i++) {
        if (!entity_states(bought->things[i], PROP_COMMON_MASS) && !is_ashore(bought->things[i])) {
            if (count < NAMED) {
                named[count] = bought->things[i];
            }
            count++;
        }
    }
    if (count == 0) {
        return;
    }
    if (count == 1) {
        finding_left_open(judge, finding, named[0], PROP_COMMON_MASS);
    } else { /* of one alone nobody wants to hear from which weight on she is too heavy */
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, mass_of_things);
    }
    finding_remedy(judge, finding, "`mass` on %s; the most that one can weigh is enough",
                   say_names(judge, named, count < NAMED ? count : NAMED, count));
}

/* What is weighed is within the goal, and is next to nothing of her: a bare hull is what nobody thinks of. */
static void leave_mass(Judge *judge, const Entity *goal, Finding *finding, const Figure *mass, Side most)
{
    if (finding != NULL) {
        Side displacement = side_value(judge, judge->model->boat, PROP_BOAT_DISPLACEMENT, 0);
        finding_say(judge, finding,
                    "`%s` allows %s; only %s of the %s that she displaces is weighed, so nobody can tell before at least half of it is",
                    say_name(judge, goal), say_side(judge, most), say_figure(judge, mass), say_side(judge, displacement));
    }
}

/* Nothing says what she displaces: what is weighed may be next to nothing of her, and nobody sees it. */
static void leave_to_displacement(Judge *judge, const Entity *goal, Span place, const Figure *mass, Side most)
{
    Finding *finding = judge_broken(judge, goal, place);
    if (finding != NULL) { /* it is to be read off, not chosen: nobody wants to hear from which one on the goal would be met */
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, text_format(judge->arena, "%s.displacement", say_name(judge, judge->model->boat)));
        finding_say(judge, finding, "`%s` allows %s; %s is weighed, and nothing says what she displaces, so nobody can tell how much of her that is",
                    say_name(judge, goal), say_side(judge, most), say_figure(judge, mass));
        finding_remedy(judge, finding, "the boat's `displacement`; and `mass` of what is heaviest: her hull and ballast, as an `item`, too");
    }
}

static void judge_goal_mass(Judge *judge, const Entity *goal)
{
    const Figure *mass = figure_of(judge, judge->model->boat, FIGURE_LOADED_MASS);
    const char *left_out = say_remark(judge, mass);
    if (mass == NULL) {
        leave_goal(judge, goal, PROP_GOAL_MASS, mass_of_things, "the `mass` of things, and the spec states none");
        return;
    }
    Side most = side_value(judge, goal, PROP_GOAL_MASS, 0);
    Side weighs = side_figure(mass);
    weighs.value.high = mass->partial ? INFINITY : weighs.value.high;
    Span place = place_of(judge, goal, PROP_GOAL_MASS);
    Finding *finding = judge_at_most(judge, goal, place, weighs, most);
    if (finding == NULL && side_is_known(weighs) && side_is_known(most) && !entity_states(judge->model->boat, PROP_BOAT_DISPLACEMENT)) {
        leave_to_displacement(judge, goal, place, mass, most);
        return;
    }
    if (finding == NULL && side_is_known(weighs) && side_is_known(most)) {
        leave_mass(judge, goal, judge_little_weighed(judge, goal, place), mass, most);
        return;
    }
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_OPEN && mass->partial) {
        name_unweighed(judge, finding);
    }
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "she weighs %s, %s more than `%s` allows%s", say_figure(judge, mass),
                    say_side(judge, difference(finding, false)), say_name(judge, goal), left_out);
    } else {
        finding_say(judge, finding, "she weighs %s, and `%s` allows %s%s", say_figure(judge, mass),
                    say_name(judge, goal), say_side(judge, most), left_out);
    }
}

/*
 * A goal that asks for a figure of the boat by name.
 */
static void judge_goal_figure(Judge *judge, const Entity *goal, PropId prop, bool least, bool by_day)
{
    const Entity *day = by_day ? goal_day(goal, prop) : NULL;
    FigureId id = figure_id(str_from(props[prop].word));
    const Figure *figure =
        id != FIGURE_NONE ? figure_find(judge->figures, judge->model->boat, id, day) : NULL;
    if (figure == NULL) {
        leave_goal(judge, goal, prop, "at", "things with a `mass` and a place, `at`");
        return;
    }
    Side wanted = side_value(judge, goal, prop, 0);
    Span place = place_of(judge, goal, prop);
    Finding *finding = least ? judge_at_least(judge, goal, place, side_figure(figure), wanted)
                             : judge_at_most(judge, goal, place, side_figure(figure), wanted);
    if (finding != NULL) {
        finding_at(finding, day);
        finding_say(judge, finding, "`%s` asks for a %s of at %s %s; it is %s%s", say_name(judge, goal),
                    props[prop].word, least ? "least" : "most", say_side(judge, wanted),
                    say_figure(judge, figure), say_remark(judge, figure));
    }
}

/* Asked of what is placed alone it would mean nothing while that is little. */
static void judge_goal_trim(Judge *judge, const Entity *goal)
{
    if (!rests_on_little(judge, figure_of(judge, judge->model->boat, FIGURE_TRIM))) {
        judge_goal_figure(judge, goal, PROP_GOAL_TRIM, false, false);
        return;
    }
    Finding *finding = judge_little_placed(judge, goal, place_of(judge, goal, PROP_GOAL_TRIM));
    finding_say(judge, finding, "`%s` asks for a trim of at most %s; %s, so nobody can tell before at least half of it is",
                say_name(judge, goal), say_side(judge, side_value(judge, goal, PROP_GOAL_TRIM, 0)), say_placed(judge));
}

/* What stands highest by its `at`, of all that the rule `light-over` does not look at; NULL: nothing is placed. */
static const Entity *highest_placed(const Judge *judge, Interval *height)
{
    const Entity *highest = NULL;
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *e = judge->model->entities[i];
        Interval at;
        if (is_aboard(e) && e->kind != KIND_NAV_LIGHT && entity_quantity(e, PROP_COMMON_AT, 2, &at) &&
            (highest == NULL || at.low > height->low)) {
            highest = e;
            *height = at;
        }
    }
    return highest;
}

/* Her stated height clears the bridge, and something stands higher than that: a mast may fold, which nobody says. */
static void judge_under_bridge(Judge *judge, const Entity *goal, Span place, Side most)
{
    Interval height;
    const Entity *over = highest_placed(judge, &height);
    if (over == NULL || !side_is_known(most) || height.low <= most.value.high) {
        return;
    }
    Finding *finding = judge_open(judge, goal, place, judge->model->boat, PROP_BOAT_AIR_DRAFT);
    Side at = side_value(judge, over, PROP_COMMON_AT, 2);
    finding_say(judge, finding, "`%s` leaves her %s, and `%s` stands %s above the waterline, higher than her `air-draft`, unless it folds down",
                say_name(judge, goal), say_side(judge, most), say_name(judge, over), say_side(judge, at));
    finding_note(judge, finding, place_of(judge, over, PROP_COMMON_AT), "it stands here");
    finding_remedy(judge, finding, "`air-draft` with all that stands; or `at` where it lies when it is down");
}

/* A bridge stops her at her highest: whichever way her tanks are. */
static void judge_goal_air_draft(Judge *judge, const Entity *goal)
{
    const Figure *height = figure_of(judge, judge->model->boat, FIGURE_AIR_DRAFT);
    Span place = place_of(judge, goal, PROP_GOAL_AIR_DRAFT);
    if (height == NULL) {
        Finding *open = judge_open(judge, goal, place, judge->model->boat, PROP_BOAT_AIR_DRAFT);
        finding_say(judge, open, "`%s` cannot be judged: the boat does not state her `air-draft`", say_name(judge, goal));
        return;
    }
    Side most = side_value(judge, goal, PROP_GOAL_AIR_DRAFT, 0);
    Finding *finding = judge_at_most(judge, goal, place, side_figure(height), most);
    if (finding == NULL) {
        judge_under_bridge(judge, goal, place, most);
        return;
    }
    const Figure *loaded = figure_of(judge, judge->model->boat, FIGURE_LOADED_MASS);
    if (finding->verdict == VERDICT_OPEN && loaded != NULL && loaded->partial) {
        name_unweighed(judge, finding);
    }
    finding_say(judge, finding, "she stands %s over the water at the most, and `%s` leaves her %s%s", say_figure(judge, height), say_name(judge, goal),
                say_side(judge, most), say_remark(judge, height));
}

/* Engine that makes good what such a day uses; where not even a whole day of it does, the figure's remark says so. */
static void judge_engine_hours(Judge *judge, const Entity *goal)
{
    const Entity *day = goal_day(goal, PROP_GOAL_ENGINE_HOURS);
    if (day == NULL) {
        judge_waiting(judge);
        return;
    }
    const Figure *hours = figure_find(judge->figures, judge->model->boat, FIGURE_ENGINE_HOURS, day);
    if (hours == NULL) {
        leave_goal(judge, goal, PROP_GOAL_ENGINE_HOURS, "alternator",
                   "a house `bank` and an `alternator` that feeds it, and the spec does not state both");
        return;
    }
    Side most = side_value(judge, goal, PROP_GOAL_ENGINE_HOURS, 0);
    Finding *finding =
        judge_at_most(judge, goal, place_of(judge, goal, PROP_GOAL_ENGINE_HOURS), side_figure(hours), most);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, day);
    if (hours->low > 86400.0) {
        finding_say(judge, finding, "on `%s` %s, and `%s` allows %s of it", say_name(judge, day),
                    hours->remark, say_name(judge, goal), say_side(judge, most));
    } else {
        finding_say(judge, finding,
                    "on `%s` the engine has to run %s to make good what is used, and `%s` allows %s%s",
                    say_name(judge, day), say_figure(judge, hours), say_name(judge, goal),
                    say_side(judge, most), say_remark(judge, hours));
    }
    finding_remedy(judge, finding, "more sun or shore power, an alternator that charges the house bank more, or less use");
    for (const Entity *e = judge->model->first_of_kind[KIND_SOLAR]; e != NULL; e = e->next_of_kind) {
        if (!whole_is_out(e)) {
            finding_may_mend(judge, finding, e, PROP_SOLAR_RATED);
        }
    }
    for (const Entity *e = judge->model->first_of_kind[KIND_ALTERNATOR]; e != NULL; e = e->next_of_kind) {
        if (!whole_is_out(e) && !is_engineless(e)) {
            finding_may_mend(judge, finding, e, PROP_ALTERNATOR_OUTPUT);
        }
    }
}

/* The tank that all engines that drive her draw on for a range, if it is one alone; else NULL. */
static const Entity *only_tank(const Judge *judge, const Entity *goal)
{
    const Entity *only = NULL;
    for (const Entity *e = first_driving_on(judge->model, goal); e != NULL; e = next_driving_on(judge->model, e, goal)) {
        const Figure *range = figure_find(judge->figures, e, FIGURE_RANGE, goal);
        for (uint16_t i = 0; range != NULL && i < range->input_count; i++) {
            const Input *input = &range->inputs[i];
            if (input->kind == INPUT_FIGURE && input->u.figure->id == FIGURE_USABLE_VOLUME) {
                if (only != NULL && only != input->u.figure->subject) {
                    return NULL;
                }
                only = input->u.figure->subject;
            }
        }
    }
    return only;
}

static const char *say_kept(Judge *judge, const Entity *bank)
{
    const Entity *maker = bank != NULL ? charges_on_the_way(judge, bank) : NULL;
    return maker != NULL ? text_format(judge->arena, "a fifth is kept, and nothing that `%s` may bring on the way is counted",
                                       say_name(judge, maker))
                         : "a fifth is kept";
}

/* One of several engines that ends the range before the others would; NULL: there is none, or all end it at once. */
static const Entity *ends_range_first(const Judge *judge, const Entity *goal)
{
    const Entity *first = NULL;
    double least = INFINITY, most = 0.0;
    for (const Entity *e = first_driving_on(judge->model, goal); e != NULL; e = next_driving_on(judge->model, e, goal)) {
        const Figure *range = figure_find(judge->figures, e, FIGURE_RANGE, goal);
        if (range == NULL || range->state != STATE_KNOWN) {
            return NULL;
        }
        first = range->low < least ? e : first;
        least = fmin(least, range->low);
        most = fmax(most, range->low);
    }
    return least < most ? first : NULL;
}

/* Distance on one filling: the figure carries the goal's own name, for that states the speed. */
static void judge_range(Judge *judge, const Entity *goal)
{
    const Figure *range = figure_find(judge->figures, judge->model->boat, FIGURE_RANGE, goal);
    if (range == NULL) {
        leave_range(judge, goal);
        return;
    }
    Side wanted = side_value(judge, goal, PROP_GOAL_RANGE, 0);
    Side speed = side_value(judge, goal, PROP_GOAL_RANGE, 1);
    Finding *finding =
        judge_at_least(judge, goal, place_of(judge, goal, PROP_GOAL_RANGE), side_figure(range), wanted);
    if (finding == NULL) {
        return;
    }
    if (range->none) {
        finding_say(judge, finding, "`%s` asks for %s, which she does not make: it takes more than the rated power of what drives "
                    "her then", say_name(judge, goal), say_side(judge, speed));
        finding_remedy(judge, finding, "a slower speed, or other engines in `under`");
        return;
    }
    const Entity *engine = first_driving_on(judge->model, goal);
    const Entity *bank = engine != NULL && !burns_fuel(engine) ? bank_behind(engine->fed) : NULL;
    const char *what = bank != NULL ? text_format(judge->arena, "`%s`", say_name(judge, bank)) : "the fuel";
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "at %s %s takes her %s, %s less than `%s` asks; %s", say_side(judge, speed), what,
                    say_figure(judge, range), say_side(judge, difference(finding, true)), say_name(judge, goal), say_kept(judge, bank));
    } else {
        finding_say(judge, finding, "at %s %s takes her %s, and `%s` asks for %s; %s", say_side(judge, speed), what,
                    say_figure(judge, range), say_name(judge, goal), say_side(judge, wanted), say_kept(judge, bank));
    }
    const Entity *first = ends_range_first(judge, goal);
    if (first != NULL) {
        finding_remedy(judge, finding,
                       "`alone yes` of `%s`, whose fuel or bank is the first at its end, if it is not run with the others",
                       say_name(judge, first));
    }
    if (bank != NULL) {
        finding_remedy(judge, finding, "a larger bank, or a slower speed");
        finding_may_mend(judge, finding, bank, PROP_BANK_CAPACITY);
        return;
    }
    finding_remedy(judge, finding, "a larger tank, a slower speed, or an engine that burns less");
    const Entity *tank = only_tank(judge, goal);
    if (tank != NULL) {
        finding_may_mend(judge, finding, tank, PROP_TANK_CAPACITY);
    }
}

/* What is said of one line of a goal is about that property, however it is said: with other options it is still the same. */
static const struct {
    PropId prop;
    void (*judge)(Judge *judge, const Entity *goal);
} lines[] = {
    {PROP_GOAL_ENDURE, judge_endure}, {PROP_GOAL_MASS, judge_goal_mass},           {PROP_GOAL_READY, judge_goal_ready},
    {PROP_GOAL_RANGE, judge_range},   {PROP_GOAL_ENGINE_HOURS, judge_engine_hours}, {PROP_GOAL_TRIM, judge_goal_trim},
    {PROP_GOAL_AIR_DRAFT, judge_goal_air_draft},
};

void judge_goal(Judge *judge, const Entity *goal)
{
    for (size_t i = 0; i < sizeof lines / sizeof lines[0] && judge->model->boat != NULL; i++) {
        const Finding *before = judge->last;
        if (!entity_states(goal, lines[i].prop)) {
            continue;
        }
        lines[i].judge(judge, goal);
        for (Finding *f = before != NULL ? before->next : judge->first; f != NULL; f = f->next) {
            finding_about(f, lines[i].prop);
        }
    }
}
