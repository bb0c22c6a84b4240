/*
 * Rules of weight: whether she floats on her lines, level and upright, and what nobody has weighed, placed or priced.
 */
#include "rules/placed.h"

#include "figures/towards.h"
#include "figures/water.h"
#include "rules/families.h"

#include "model/status.h"
#include "model/tank_sides.h"

/* 2008 IS Code, Part A 2.2: the initial metacentric height of a ship, second hand. */
static const double least_gm_m = 0.15;
/* All three: common practice, no source. */
static const double trim_deg = 1.0, heel_deg = 1.0, slack_share = 0.1;

static const Figure *of_boat(const Judge *judge, FigureId id)
{
    return figure_of(judge, judge->model->boat, id);
}

static const char *say_in_brackets(const Judge *judge, const Figure *figure)
{
    return figure->remark != NULL ? text_format(judge->arena, " (%s)", figure->remark) : "";
}

static void judge_overweight(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Figure *loaded = of_boat(judge, FIGURE_LOADED_MASS);
    if (boat == NULL || loaded == NULL || !entity_states(boat, PROP_BOAT_DISPLACEMENT)) {
        return;
    }
    Side displacement = side_value(judge, boat, PROP_BOAT_DISPLACEMENT, 0);
    Finding *finding = judge_at_most(judge, boat, place_of(judge, boat, PROP_BOAT_DISPLACEMENT),
                                     side_figure(loaded), displacement);
    if (finding == NULL || judge->quiet) {
        return; /* a trial asks for no sentence: how deep she floats rests on all that is placed */
    }
    const Figure *sinkage = of_boat(judge, FIGURE_SINKAGE);
    finding_say(judge, finding, "she weighs %s with what is in the tanks, and displaces %s on her lines%s",
                say_figure(judge, loaded), say_side(judge, displacement), say_in_brackets(judge, loaded));
    if (sinkage != NULL && sinkage->state == STATE_KNOWN && sinkage->high > 0.0) {
        static const Directions depths = {"deeper", "higher", false};
        Buf text;
        buf_init(&text, judge->arena);
        figure_write_towards(&text, judge->figures, sinkage, &depths);
        finding_here(judge, finding, "she floats %s", text.text);
    }
    finding_remedy(judge, finding, "what is heaviest stands first in the book's chapter on weight");
}

/* Tanks of which nobody knows how broad the water in them lies leave open what rests on that. */
static void rests_on_slack_tanks(Judge *judge, Finding *finding, const Figure *loss)
{
    if (finding->verdict != VERDICT_OPEN || loss == NULL || judge->quiet) {
        return;
    }
    for (uint16_t i = 0; i < loss->input_count; i++) {
        const Figure *one = loss->inputs[i].kind == INPUT_FIGURE ? loss->inputs[i].u.figure : NULL;
        if (one != NULL && one->state == STATE_KNOWN && one->low <= 0.0 && one->high > 0.0) {
            const Entity *tank = one->subject;
            if (tank_shape(tank) != TANK_UNSAID) {
                finding_hangs_on(judge, finding, tank, PROP_NONE, text_format(judge->arena, "surface of %s", say_name(judge, tank)));
            } else {
                finding_left_open(judge, finding, tank, PROP_TANK_SIZE);
            }
            finding_note(judge, finding, place_of(judge, tank, tank_sides(tank)), "%s", one->remark);
        }
    }
}

/* What slack tanks take of it comes on top of what is to be left. */
static void judge_stability(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || !entity_states(boat, PROP_BOAT_GM)) {
        return;
    }
    const Figure *loss = of_boat(judge, FIGURE_SLACK_LOSS);
    Side gm = side_value(judge, boat, PROP_BOAT_GM, 0);
    Side least = loss != NULL ? side_figure(loss) : side_number(0.0, UNIT_ALONE(UNIT_M));
    Interval left = interval_left(gm.value, least.value);
    least.value = interval_add(least.value, point(least_gm_m));
    Finding *finding = judge_at_least(judge, boat, place_of(judge, boat, PROP_BOAT_GM), gm, least);
    if (finding == NULL) {
        return;
    }
    finding_severity(finding, left.low <= 0.0 ? SEVERITY_FAULT : SEVERITY_WARNING);
    const char *water = loss == NULL ? "" : text_format(judge->arena, ", of which water in half-full tanks takes %s",
                                                        say_figure(judge, loss));
    finding_say(judge, finding, "her metacentric height is %s%s: %s", say_side(judge, gm), water,
                left.high <= 0.0  ? "nothing rights her, and she lies over or capsizes"
                : left.low <= 0.0 ? "it may be that nothing rights her, and she lies over or capsizes"
                                  : "0.15 m is the least that is asked even of ships");
    rests_on_slack_tanks(judge, finding, loss);
    finding_remedy(judge, finding, "her metacentric height from a stability study or a rolling test by somebody who is "
                                   "licensed to, with the sign that it has");
    finding_remedy(judge, finding, "less weight above, or more below");
}

static void judge_angle(Judge *judge, FigureId id, double most_deg, const char *does, const char *may)
{
    const Entity *boat = judge->model->boat;
    const Figure *angle = of_boat(judge, id);
    if (angle == NULL) {
        return; /* nothing is placed */
    }
    Side limit = side_number(unit_to_si(UNIT_ALONE(UNIT_DEG), most_deg), UNIT_ALONE(UNIT_DEG));
    if (rests_on_little(judge, angle)) {
        Finding *little = judge_little_placed(judge, boat, place_of_name(judge, boat));
        finding_say(judge, little, "what is aboard may %s her: %s, so nobody can tell before at least half of it is", may,
                    say_placed(judge));
        return;
    }
    Finding *finding = judge_at_most(judge, boat, place_of_name(judge, boat), side_figure(angle), limit);
    if (finding != NULL) {
        finding_say(judge, finding, "what is aboard %s her by %s, %s; %s is usual at most", does,
                    say_figure(judge, angle), angle->remark != NULL ? angle->remark : "either way", say_side(judge, limit));
        if (id == FIGURE_HEEL) {
            rests_on_slack_tanks(judge, finding, of_boat(judge, FIGURE_SLACK_LOSS));
        }
        finding_remedy(judge, finding, "something heavy on the other side, or nearer to the middle");
    }
}

static void judge_trim(Judge *judge)
{
    judge_angle(judge, FIGURE_TRIM, trim_deg, "trims", "trim");
}

static void judge_heel(Judge *judge)
{
    Side gm = side_value(judge, judge->model->boat, PROP_BOAT_GM, 0);
    if (side_is_known(gm) && gm.value.high <= 0.0) {
        judge_gives_way(judge); /* nothing rights her: told by `stability` */
        return;
    }
    judge_angle(judge, FIGURE_HEEL, heel_deg, "heels", "heel");
}

/* Whatever level the weight study takes: every tank is half full one day, and full is the heaviest of her states, not the worst. */
static void judge_slack_water(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Figure *loss = boat != NULL ? figure_find_in(judge->figures, boat, FIGURE_SLACK_LOSS, SCOPE_TANKS_HALF) : NULL;
    if (loss == NULL) {
        return;
    }
    Side gm = side_value(judge, boat, PROP_BOAT_GM, 0);
    if (gm.state == STATE_MISSING) {
        if (of_boat(judge, FIGURE_SLACK_LOSS) != NULL) {
            judge_unmeasured(judge, boat, PROP_BOAT_GM); /* asked for where a stated level shows that she is studied */
        }
        return;
    }
    if (side_is_known(gm) && gm.value.high <= 0.0) {
        judge_gives_way(judge); /* there is none to take of: told by `stability` */
        return;
    }
    Side limit = gm;
    limit.value = interval_scale(gm.value, slack_share);
    limit.unit = UNIT_ALONE(UNIT_M);
    Finding *finding =
        judge_at_most(judge, boat, place_of(judge, boat, PROP_BOAT_GM), side_figure(loss), limit);
    if (finding != NULL) {
        finding_say(
            judge, finding,
            "water in half-full tanks takes %s of her metacentric height of %s; a tenth is usual at most",
            say_figure(judge, loss), say_side(judge, gm));
        rests_on_slack_tanks(judge, finding, loss);
        finding_remedy(judge, finding, "narrower tanks, or two where there is one");
    }
}

/* ---- what the totals leave out -------------------------------------------------------------------------- */

/* How many physical things that are not dropped state a property, and do not; *first is the first that does not. */
typedef struct Census {
    uint32_t with, without;
    const Entity *first;
} Census;

static bool states_either(const Entity *entity, PropId prop, PropId or_prop)
{
    return entity_states(entity, prop) || (or_prop != PROP_NONE && entity_states(entity, or_prop));
}

static Census take_census(const Judge *judge, PropId prop, PropId or_prop, PropId only_with)
{
    Census census = {0, 0, NULL};
    const Bought *bought = bought_aboard(judge);
    for (uint32_t i = 0; i < bought->count; i++) {
        const Entity *entity = bought->things[i];
        bool weight = prop != PROP_COMMON_PRICE;
        if ((only_with != PROP_NONE && !entity_states(entity, only_with)) || (weight && is_ashore(entity))) {
            continue;
        }
        if (states_either(entity, prop, or_prop)) {
            census.with++;
        } else {
            census.first = census.without++ == 0 ? entity : census.first;
        }
    }
    return census;
}

static bool has_goal(const Judge *judge, PropId prop)
{
    for (const Entity *goal = first_aboard(judge->model, KIND_GOAL); goal != NULL; goal = next_aboard(goal)) {
        if (entity_states(goal, prop)) {
            return true;
        }
    }
    return false;
}

/* Said where a goal hangs on the sum, or most of it is there: a spec that weighs one thing of many is no weight study. */
static void judge_census(Judge *judge, Census census, PropId goal, const char *what, const char *so,
                         const char *remedy)
{
    if (judge->model->boat == NULL || census.with == 0 || (census.with < census.without && !has_goal(judge, goal))) {
        return;
    }
    if (census.without == 0) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, judge->model->boat, place_of_name(judge, census.first));
    finding_say(judge, finding, "%u of %u things have no %s, `%s` first: %s", (unsigned)census.without,
                (unsigned)(census.with + census.without), what, say_name(judge, census.first), so);
    finding_remedy(judge, finding, "%s", remedy);
}

static void judge_unweighed(Judge *judge)
{
    judge_census(judge, take_census(judge, PROP_COMMON_MASS, PROP_NONE, PROP_NONE), PROP_GOAL_MASS, "mass",
                 "her mass leaves them out",
                 model_is_in_feet(judge->model) ? "`mass` with a guess: `mass 10..40 lb guessed` says more than nothing"
                                                : "`mass` with a guess: `mass 5..20 kg guessed` says more than nothing");
}

static void judge_unplaced(Judge *judge)
{
    judge_census(judge, take_census(judge, PROP_COMMON_AT, PROP_NONE, PROP_COMMON_MASS), PROP_GOAL_TRIM,
                 "place among those that are weighed", "trim and heel leave them out",
                 "`at` with its three distances, the heaviest first");
}

static void judge_unpriced(Judge *judge)
{
    judge_census(judge, take_census(judge, PROP_COMMON_PRICE, PROP_COMMON_QUOTE, PROP_NONE), PROP_GOAL_BUDGET,
                 "price", "her cost leaves them out", "`price`, if only as a range");
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define FLOATING(REST)                                                                                     \
    "edition 1\n"                                                                                          \
    "boat wren \"Wren\" { length 9.5 m; waterline 8.6 m; beam 3.1 m; displacement 5200 kg; buoyancy 5 m; " \
    "gm 0.9 m; crew 2; "                                                                                   \
    "currency EUR; basis us }\n" REST
#define STIFF(GM)                                                                                        \
    "edition 1\n"                                                                                        \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; gm " GM "; crew 2; currency EUR; basis us }\n"
#define BALLAST(SAYS) FLOATING("item ballast { " SAYS " }\n")
#define LADEN(SAYS) FLOATING("item hull { mass 3000 kg; at 5 m 0 m 0 m }\nitem ballast { " SAYS " }\n")
#define WIDE_TANK(WIDTH) \
    FLOATING("tank rain { holds fresh; size 1.2 m by " WIDTH " by 0.4 m; fill-level 50 % }\n")
static const char first_estimate[] = "Derrett and Barrass, Ship Stability (verified in quoted pages), with a "
                                     "waterplane from its coefficient; the limit: common "
                                     "practice, no source";
static const char practice[] = "common practice, no source";
static const char it_stands_or_not[] = "a line is in the spec or it is not";

static const Rule rules[] = {
    {.name = "overweight",
     .severity = SEVERITY_WARNING,
     .title = "she weighs no more than she displaces on her lines",
     .basis = ON_BOTH,
     .source = "Archimedes; common practice, no source",
     .why = "What she weighs more than was drawn for, she floats deeper: the engine's exhaust, the cockpit "
            "drains and every "
            "opening come nearer to the sea. Tanks count at their fill-level.",
     .breaks = BALLAST("mass 5400 kg"),
     .holds = BALLAST("mass 5100 kg"),
     .open = BALLAST("mass 5100..5400 kg"),
     .judge_boat = judge_overweight},
    {.name = "stability",
     .severity = SEVERITY_FAULT,
     .title = "she stands upright by herself",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "2008 IS Code, Part A 2.2, of ships: at least 0.15 m, slack tanks counted (second hand); ISO 12217 "
               "asks more of a small craft, and is not checked here",
     .why = "A boat whose metacentric height is nothing or less has no righting moment: she falls to one side, and what "
            "runs there may capsize her. Below 0.15 m she is tender, and a wave or people at the rail decide. Whether "
            "she has stability enough is for a study by someone who is licensed to make one.",
     .breaks = STIFF("-0.2 m"),
     .holds = STIFF("0.9 m"),
     .open = STIFF("0.1..0.9 m"),
     .judge_boat = judge_stability},
    {.name = "trim",
     .severity = SEVERITY_WARNING,
     .title = "what is aboard trims her little",
     .basis = ON_BOTH,
     .source = first_estimate,
     .why = "Down by the stern she drags, down by the head she steers badly, and what is to drain does not. "
            "Only what states its mass and its place counts; she is taken to float level without it. So it is left open "
            "while that is less than half of her displacement.",
     .breaks = LADEN("mass 800 kg; at 8 m 0 m 0 m"),
     .holds = LADEN("mass 800 kg; at 5.2 m 0 m 0 m"),
     .open = LADEN("mass 100..800 kg; at 8 m 0 m 0 m"),
     .judge_boat = judge_trim},
    {.name = "heel",
     .severity = SEVERITY_WARNING,
     .title = "what is aboard leaves her upright",
     .basis = ON_BOTH,
     .source = first_estimate,
     .why = "A list of a degree is seen from the quay and felt in the berth. Batteries, tanks and engine are "
            "moved while the hull "
            "is bare more easily than ever after. Left open, as `trim` is, while less than half of her displacement is weighed "
            "and placed.",
     .breaks = LADEN("mass 300 kg; at 5 m 0.6 m 0 m"),
     .holds = LADEN("mass 300 kg; at 5 m 0.1 m 0 m"),
     .open = LADEN("mass 300 kg; at 5 m 0.1..0.6 m 0 m"),
     .judge_boat = judge_heel},
    {.name = "slack-water",
     .severity = SEVERITY_WARNING,
     .title = "half-full tanks take little of her stability",
     .basis = ON_BOTH,
     .source = first_estimate,
     .why = "Water that can run to the low side heels her further. What it takes of the metacentric height "
            "grows with the cube of "
            "the tank's breadth, whatever is in it; baffles are not counted on. All tanks are taken as half full, whatever their "
            "`fill-level`: each of them is one day. A slack tank without `size` may be as broad as "
            "she is, and one that holds less than its box takes what the box would at most: both leave it open.",
     .breaks = WIDE_TANK("2.8 m"),
     .holds = WIDE_TANK("0.9 m"),
     .open = WIDE_TANK("0.9..2.8 m"),
     .judge_boat = judge_slack_water},
    {.name = "unweighed",
     .severity = SEVERITY_ADVICE,
     .title = "everything has a mass, where a goal asks or most things have",
     .basis = ON_BOTH,
     .source = practice,
     .why = "A boat that is fitted out is heavier than anybody thought: the sum of small things that were "
            "not weighed.",
     .breaks = BALLAST("mass 50 kg") "item stove { price 480 EUR }\n",
     .holds = BALLAST("mass 50 kg") "item stove { mass 20 kg }\n",
     .never_open = it_stands_or_not,
     .judge_boat = judge_unweighed},
    {.name = "unplaced",
     .severity = SEVERITY_ADVICE,
     .title = "everything that is weighed has a place, where a goal asks or most things have",
     .basis = ON_BOTH,
     .source = practice,
     .why = "Trim and heel are those of what is placed. What is not might be anywhere.",
     .breaks = BALLAST("mass 50 kg; at 5 m 0 m 0 m") "item stove { mass 20 kg }\n",
     .holds = BALLAST("mass 50 kg; at 5 m 0 m 0 m"),
     .never_open = it_stands_or_not,
     .judge_boat = judge_unplaced},
    {.name = "unpriced",
     .severity = SEVERITY_ADVICE,
     .title = "everything has a price, where a goal asks or most things have",
     .basis = ON_BOTH,
     .source = practice,
     .why = "The budget is overrun by what nobody put a price to.",
     .breaks = EXAMPLE_BOAT "item stove { price 480 EUR }\nitem flue { mass 3 kg }\n",
     .holds = EXAMPLE_BOAT "item stove { price 480 EUR }\nitem flue { price 60..90 EUR }\n",
     .never_open = it_stands_or_not,
     .judge_boat = judge_unpriced},
};
const RuleFamily rules_weight = RULE_FAMILY("Weight and prices", rules);
