/*
 * Water, waste, fuel and gas for as long as the goals ask; tanks that breathe.
 */
#include "rules/plumbing.h"

#include "figures/fuel_plan.h"
#include "model/tank_sides.h"
#include "rules/families.h"
#include "rules/tank_filling.h"
#include "rules/upstream.h"

#include <math.h>

/* ---- water-short, waste-full, fuel-short, gas-short ---------------------------------------------------- */

/* What one of these four rules looks at. */
typedef struct Stock {
    const Entity *subject; /* the first tank, or gas locker */
    bool several;
    PropId amount;     /* what says how much there is */
    const char *lasts; /* "fresh water lasts" */
    const char *last;  /* "the fresh-water tanks together last" */
    const char *does;  /* what a day does with it: "takes" */
    const char *but;   /* what is left out of that: ", without what ..."; NULL: nothing */
} Stock;

enum { NAMED_MOST = 4 };

typedef struct Wish {
    const Entity *goal;
    const Entity *day;
    Side days;
} Wish;

/* The `endure` of a goal; false if it has none. A goal or a day with a mistake is waited for. */
static bool read_wish(Judge *judge, const Entity *goal, Wish *wish)
{
    const Property *endure = entity_property(goal, PROP_GOAL_ENDURE);
    const Value *day = property_value(endure, 1);
    if (endure == NULL) {
        return false;
    }
    *wish = (Wish){.goal = goal,
                   .day = value_entity(day),
                   .days = side_value(judge, goal, PROP_GOAL_ENDURE, 0)};
    if (wish->day == NULL || !side_is_known(wish->days)) {
        judge_waiting(judge);
        return false;
    }
    return is_aboard(wish->day);
}

static PropId amount_of(const Entity *tank)
{
    bool by_sides = !entity_states(tank, PROP_TANK_CAPACITY) && tank_shape(tank) != TANK_UNSAID;
    return by_sides ? tank_sides(tank) : PROP_TANK_CAPACITY;
}

/* The capacity that one tank, alone of its kind, would need for the days that are wished for. */
static void offer_capacity(Judge *judge, Finding *finding, const Stock *supply, const Wish *wish)
{
    const Figure *flow = figure_find(judge->figures, supply->subject, FIGURE_DAILY_FLOW, wish->day);
    const Figure *volume = figure_of(judge, supply->subject, FIGURE_VOLUME);
    const Figure *usable = figure_of(judge, supply->subject, FIGURE_USABLE_VOLUME);
    bool usual = flow != NULL && volume != NULL && usable != NULL && usable->high > 0.0 &&
                 isfinite(volume->high) && isfinite(flow->high) && !supply->several &&
                 !entity_states(supply->subject, PROP_COMMON_COUNT);
    if (usual) {
        double needed = flow->high * wish->days.value.high / 86400.0;
        const char *capacity = say_up(judge, needed * volume->high / usable->high, volume->unit);
        if (supply->subject->kind == KIND_TANK && tank_shape(supply->subject) != TANK_UNSAID) {
            finding_remedy(judge, finding, "a `%s` that holds %s", props[tank_sides(supply->subject)].word, capacity);
        } else {
            finding_remedy(judge, finding, "capacity %s", capacity);
        }
    }
}

static void judge_supply(Judge *judge, const Stock *supply, const Wish *wish)
{
    const Figure *lasts = figure_find(judge->figures, supply->subject, FIGURE_ENDURANCE, wish->day);
    const Figure *flow = figure_find(judge->figures, supply->subject, FIGURE_DAILY_FLOW, wish->day);
    if (lasts == NULL) {
        return; /* nothing aboard uses it */
    }
    Finding *finding =
        judge_at_least(judge, supply->subject, place_of(judge, supply->subject, supply->amount),
                       side_figure(lasts), wish->days);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, wish->goal);
    finding_say(judge, finding, "%s %s on `%s`; `%s` asks for %s",
                supply->several ? supply->last : supply->lasts, say_figure(judge, lasts),
                say_name(judge, wish->day), say_name(judge, wish->goal), say_side(judge, wish->days));
    if (flow != NULL) {
        finding_here(judge, finding, "such a day %s %s%s", supply->does, say_figure(judge, flow),
                     supply->but != NULL ? supply->but : "");
    }
    finding_note(judge, finding, place_of(judge, wish->goal, PROP_GOAL_ENDURE), "%s wanted here",
                 say_side(judge, wish->days));
    const Entity *shower = shower_unsaid(judge->figures, supply->subject, wish->day);
    if (shower != NULL && finding->verdict == VERDICT_OPEN) {
        finding_left_open(judge, finding, shower, PROP_FIXTURE_SHOWER);
    }
    offer_capacity(judge, finding, supply, wish);
}

/* The tanks that share a load with this one, by name. */
static const char *say_sharing(const Judge *judge, const Entity *first)
{
    const Entity *named[NAMED_MOST];
    uint32_t count = 0;
    for (const Entity *t = first; t != NULL; t = next_sharing(judge->figures, t)) {
        if (count < NAMED_MOST) {
            named[count] = t;
        }
        count++;
    }
    return say_names(judge, named, count < NAMED_MOST ? count : NAMED_MOST, count);
}

/* Whether all tanks of such a thing share one load: then nobody needs their names. */
static bool all_share(const Judge *judge, const char *holds)
{
    const Entity *first = first_counted(judge->figures, holds);
    for (const Entity *t = first; t != NULL; t = next_counted(judge->figures, t, holds)) {
        if (!tanks_share(judge->figures, first, t)) {
            return false;
        }
    }
    return true;
}

static void judge_tanks(Judge *judge, const Entity *goal, const char *holds, Stock supply)
{
    Wish wish;
    const Entity *tank = first_counted(judge->figures, holds);
    if (tank == NULL || !read_wish(judge, goal, &wish)) {
        return;
    }
    bool together = all_share(judge, holds);
    for (; tank != NULL; tank = next_counted(judge->figures, tank, holds)) {
        if (first_sharing(judge->figures, tank) != tank) {
            continue;
        }
        supply.subject = tank;
        supply.several = next_sharing(judge->figures, tank) != NULL;
        supply.amount = amount_of(tank);
        if (!together) {
            const char *names = say_sharing(judge, tank);
            supply.lasts = text_format(judge->arena, "%s is full after", names);
            supply.last = text_format(judge->arena, "%s together are full after", names);
        }
        judge_supply(judge, &supply, &wish);
    }
}

static void judge_water_short(Judge *judge, const Entity *goal)
{
    judge_tanks(judge, goal, "fresh",
                (Stock){.lasts = "fresh water lasts",
                         .last = "the fresh-water tanks together last",
                         .does = "takes"});
}

/* Of a composting toilet whose liquids go nobody says where, nothing counts: how long it lasts is not known. */
static void judge_bottles(Judge *judge, const Entity *goal)
{
    Wish wish;
    for (const Entity *e = first_aboard(judge->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        bool composts = str_is(entity_word(e, PROP_TOILET_WORKED_BY), "composting");
        if (composts && !entity_states(e, PROP_TOILET_TO) && read_wish(judge, goal, &wish)) {
            judge_unmeasured(judge, e, PROP_TOILET_TO);
        }
    }
}

static void judge_waste_full(Judge *judge, const Entity *goal)
{
    judge_tanks(judge, goal, "grey",
                (Stock){.lasts = "the tank of grey water is full after",
                         .last = "the tanks of grey water are all full after",
                         .does = "brings"});
    judge_tanks(judge, goal, "black",
                (Stock){.lasts = "the holding tank is full after",
                         .last = "the holding tanks are all full after",
                         .does = "brings"});
    judge_bottles(judge, goal);
}

/* The tanks whose fuel is counted together with that of this one, in the order of the spec. */
static const char *say_share(const Judge *judge, const FuelPlan *plan, const Entity *tank, uint32_t *count)
{
    const Entity *named[NAMED_MOST];
    FuelSet share = fuel_share_of(plan, tank);
    *count = 0;
    for (const Entity *t = first_tank(judge->model, "fuel"); t != NULL; t = next_tank(t, "fuel")) {
        if (t == tank || fuel_is_in(plan, share, t)) {
            if (*count < NAMED_MOST) {
                named[*count] = t;
            }
            ++*count;
        }
    }
    return say_names(judge, named, *count < NAMED_MOST ? *count : NAMED_MOST, *count);
}

/* What draws on some of these tanks and on others too comes after what draws on these alone, and is not counted with it. */
static const char *left_out(const Judge *judge, const FuelPlan *plan, FuelSet share)
{
    const Entity *named[NAMED_MOST];
    uint32_t count = 0;
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        FuelSet tanks = plan->burners[i].tanks;
        if (tanks & share && tanks & ~share) {
            if (count < NAMED_MOST) {
                named[count] = plan->burners[i].entity;
            }
            count++;
        }
    }
    return count > 0 ? text_format(judge->arena, ", without what %s takes from here and elsewhere",
                                   say_names(judge, named, count < NAMED_MOST ? count : NAMED_MOST, count))
                     : NULL;
}

/* Tanks that feed different things are told apart, each with those that share its load. */
static void judge_fuel_short(Judge *judge, const Entity *goal)
{
    Wish wish;
    const Entity *first = first_tank(judge->model, "fuel");
    if (first == NULL || !read_wish(judge, goal, &wish)) {
        return;
    }
    bool alone = next_tank(first, "fuel") == NULL;
    const FuelPlan *plan = fuel_plan(judge->scratch, judge->model);
    for (const Entity *tank = first; tank != NULL; tank = next_tank(tank, "fuel")) {
        const Figure *lasts = figure_find(judge->figures, tank, FIGURE_ENDURANCE, wish.day);
        if (lasts == NULL || is_shared_figure(lasts)) {
            continue;
        }
        uint32_t count;
        const char *names = say_share(judge, plan, tank, &count);
        Stock supply = {.subject = tank, .several = count > 1, .amount = amount_of(tank), .does = "burns"};
        supply.but = left_out(judge, plan, fuel_share_of(plan, tank));
        supply.lasts = alone ? "fuel lasts" : text_format(judge->scratch, "the fuel in %s lasts", names);
        supply.last = text_format(judge->scratch, "the fuel in %s together lasts", names);
        judge_supply(judge, &supply, &wish);
    }
}

static void judge_gas_short(Judge *judge, const Entity *goal)
{
    Wish wish;
    Stock supply = {.subject = first_aboard(judge->model, KIND_GAS_LOCKER),
                     .amount = PROP_GAS_LOCKER_CYLINDER,
                     .lasts = "gas lasts",
                     .last = "the gas cylinders together last"};
    if (supply.subject == NULL || !read_wish(judge, goal, &wish)) {
        return;
    }
    supply.several = next_aboard(supply.subject) != NULL;
    if (!day_takes_gas(judge->figures, wish.day)) {
        judge_unmeasured(judge, wish.day, PROP_DAY_GAS);
        return;
    }
    judge_supply(judge, &supply, &wish);
}

/* ---- cruise-short -------------------------------------------------------------------------------------- */

/*
 * What `cruise-left` takes off, if it is that. Not asked for by name: a figure that no cruise has would make all be looked at
 * again, in case a value that is tried brings it.
 */
static const Figure *taken_of(const Figure *left, FigureId id)
{
    for (uint16_t i = 0; i < left->input_count; i++) {
        if (left->inputs[i].kind == INPUT_FIGURE && left->inputs[i].u.figure->id == id) {
            return left->inputs[i].u.figure;
        }
    }
    return NULL;
}

/* What runs out, or runs over, before a cruise is done. */
static void judge_left(Judge *judge, const Entity *cruise, const Entity *subject, PropId amount,
                       const char *ends)
{
    if (judge->wanted != NULL && judge->wanted != subject) {
        return;
    }
    const Figure *left =
        subject != NULL ? figure_find(judge->figures, subject, FIGURE_CRUISE_LEFT, cruise) : NULL;
    const Figure *most = left != NULL ? taken_of(left, FIGURE_CRUISE_STRETCH) : NULL;
    const Figure *flow = most != NULL ? most : left != NULL ? taken_of(left, FIGURE_CRUISE_FLOW) : NULL;
    if (left == NULL || flow == NULL) {
        return; /* nothing of it is used on the way */
    }
    Finding *finding = judge_at_least(judge, cruise, place_of(judge, subject, amount), side_figure(left),
                                      side_number(0.0, left->unit));
    if (finding == NULL) {
        return;
    }
    Side short_by = side_interval((Interval){-left->high, -left->low}, left->unit);
    finding_at(finding, subject);
    finding_say(judge, finding,
                finding->verdict == VERDICT_OPEN ? "%s may end before `%s` does" : "%s ends before `%s` does",
                ends, say_name(judge, cruise));
    bool waste = holds_waste(subject);
    finding_here(judge, finding, "the cruise takes %s%s%s%s", say_figure(judge, flow),
                 most == NULL ? "" : waste ? " in one stretch, until it is emptied or to its end" : " in one stretch, until it is filled or to its end",
                 finding->verdict == VERDICT_OPEN ? "" : ": too little by ",
                 finding->verdict == VERDICT_OPEN ? "" : say_side(judge, short_by));
    finding_note(judge, finding, place_of(judge, cruise, PROP_CRUISE_DAYS), "these days");
    finding_remedy(judge, finding, "a larger `%s`, or fewer `days`", props[amount].word);
    finding_remedy(judge, finding, waste ? "`empties` on a day on which it is pumped out" : "`fills` on a day on which it is filled");
}

static void judge_cruise_short(Judge *judge, const Entity *cruise)
{
    static const struct {
        const char *holds, *ends;
    } tanks[] = {
        {"fresh", "the fresh water"}, {"black", "the room in the holding tank"}, {"grey", "the room for grey water"}};
    for (size_t i = 0; i < sizeof tanks / sizeof tanks[0]; i++) {
        bool together = all_share(judge, tanks[i].holds);
        const Entity *tank = first_counted(judge->figures, tanks[i].holds);
        for (; tank != NULL; tank = next_counted(judge->figures, tank, tanks[i].holds)) {
            judge_left(judge, cruise, tank, amount_of(tank),
                       together ? tanks[i].ends : text_format(judge->arena, "the room in %s", say_sharing(judge, tank)));
        }
    }
    const Entity *fuel = first_tank(judge->model, "fuel");
    bool alone = fuel != NULL && next_tank(fuel, "fuel") == NULL;
    const FuelPlan *plan = fuel != NULL && !alone ? fuel_plan(judge->scratch, judge->model) : NULL;
    uint32_t count;
    for (; fuel != NULL; fuel = next_tank(fuel, "fuel")) {
        judge_left(judge, cruise, fuel, amount_of(fuel),
                   alone ? "the fuel" : text_format(judge->scratch, "the fuel in %s", say_share(judge, plan, fuel, &count)));
    }
    judge_left(judge, cruise, first_aboard(judge->model, KIND_GAS_LOCKER), PROP_GAS_LOCKER_CYLINDER,
               "the gas");
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define THREE_DAYS                                                                              \
    "day anchored { water 15 l per person; flushes 5 per person; gas 0.2 kg; generator 4 h }\n" \
    "goal quiet { endure 3 d on anchored }\n"
#define FRESH(CAPACITY) \
    EXAMPLE_BOAT THREE_DAYS "tank fresh-tank { holds fresh; " CAPACITY "; vent 16 mm; fill 38 mm }\n"
#define BLACK(CAPACITY)                                                            \
    EXAMPLE_BOAT THREE_DAYS                                                        \
        "tank holding { holds black; " CAPACITY "; vent 38 mm; pump-out 38 mm }\n" \
        "toilet heads { worked-by hand; rim 1.1 m; flush 2 l; flushes-with sea; to holding }\n"
#define FUEL(CAPACITY)                                                                           \
    EXAMPLE_BOAT THREE_DAYS "tank diesel { holds fuel; " CAPACITY "; vent 16 mm; fill 38 mm }\n" \
                            "generator genset { rated 3500 W at 230 V; fuel-rate 1.5 l/h }\n"
#define GAS(CYLINDER)                                    \
    EXAMPLE_BOAT THREE_DAYS "gas-locker box { " CYLINDER \
                            "; drained-overboard yes; drain 19 mm; gauge yes; shut-off yes }\n"
#define CRUISE                                                                     \
    "day sail { water 10 l per person }\nday anchored { water 20 l per person }\n" \
    "cruise trip { days 2 sail, 1 anchored }\n"
#define VENT(BORE) EXAMPLE_BOAT "tank diesel { holds fuel; capacity 100 l; " BORE "; fill 38 mm }\n"

static const Rule rules[] = {
    {.name = "water-short",
     .severity = SEVERITY_WARNING,
     .title = "fresh water lasts as long as the goals ask",
     .basis = ON_BOTH,
     .source = "sum of what the day says: common practice, no source; 14 l for each person where it says "
               "nothing (Boat Mechanical Systems Handbook)",
     .why = "What each person uses, flushes and showers counted where the spec has them, against what all "
            "fresh-water tanks together can give. That handbook adds nearly a third in reserve; nothing is "
            "added here, so ask for more days.",
     .breaks = FRESH("capacity 80 l"),
     .holds = FRESH("capacity 120 l"),
     .open = FRESH("capacity 80..120 l"),
     .kinds = {KIND_GOAL},
     .judge = judge_water_short},
    {.name = "waste-full",
     .severity = SEVERITY_WARNING,
     .title = "holding tank and tank of grey water are not full before the goals end",
     .basis = ON_BOTH,
     .source = "flushes times what one takes: common practice, no source; three quarters of the tank where "
               "`usable` is not stated: a state's rule for marine toilets; the liquids of a person: medical references "
               "(second hand)",
     .why = "A holding tank decides the length of a quiet stay as surely as the battery does. It is planned "
            "to three quarters, where its alarm stands, unless the spec says how much of it may be filled. What "
            "people bring counts beside the water of the flushes, 0.8 to 2 l of liquids a person and day: of little weight with "
            "a marine toilet, and most of it with one that is carried. Of a composting toilet they are all that counts, against "
            "the bottle or tank that its `to` names: a separating one fills a small bottle within a day or two. Solids count "
            "nowhere, and of a composting toilet without `to` nothing does, which is told.",
     .breaks = BLACK("capacity 60 l"),
     .holds = BLACK("capacity 100 l"),
     .open = BLACK("capacity 60..100 l"),
     .kinds = {KIND_GOAL},
     .judge = judge_waste_full},
    {.name = "fuel-short",
     .severity = SEVERITY_WARNING,
     .title = "fuel lasts as long as the goals ask",
     .basis = ON_BOTH,
     .source = "the engine's own points, or the cube law with its specific consumption (from memory)",
     .why = "What engine, generator and heaters burn on such a day against what all fuel tanks together can "
            "give, without a reserve.",
     .breaks = FUEL("capacity 15 l"),
     .holds = FUEL("capacity 40 l"),
     .open = FUEL("capacity 15..40 l"),
     .kinds = {KIND_GOAL},
     .judge = judge_fuel_short},
    {.name = "gas-short",
     .severity = SEVERITY_WARNING,
     .title = "cooking gas lasts as long as the goals ask",
     .basis = ON_BOTH,
     .source = "cylinders over the day's use: common practice, no source",
     .why = "All cylinders aboard, full, against what the day uses. A day that does not say how much gas it "
            "uses is not judged.",
     .breaks = GAS("cylinder 0.5 kg"),
     .holds = GAS("cylinder 3 kg"),
     .open = GAS("cylinder 0.5..3 kg"),
     .kinds = {KIND_GOAL},
     .judge = judge_gas_short},
    {.name = "cruise-short",
     .severity = SEVERITY_WARNING,
     .title = "water, fuel, gas and the room for waste last through each cruise",
     .basis = ON_BOTH,
     .source = "the sum over the days of a cruise: common practice, no source",
     .why = "A goal asks for days that are all alike; a cruise strings different ones together. What its "
            "days take "
            "is added up for each supply, from full tanks, an empty holding tank and full cylinders, with "
            "nothing "
            "filled or emptied on the way. Of gas only where the days say how much they use.",
     .breaks = EXAMPLE_BOAT CRUISE "tank fresh-tank { holds fresh; capacity 60 l; vent 16 mm; fill 38 mm }\n",
     .holds = EXAMPLE_BOAT CRUISE "tank fresh-tank { holds fresh; capacity 120 l; vent 16 mm; fill 38 mm }\n",
     .open =
         EXAMPLE_BOAT CRUISE "tank fresh-tank { holds fresh; capacity 60..120 l; vent 16 mm; fill 38 mm }\n",
     .kinds = {KIND_CRUISE},
     .judge = judge_cruise_short},
    {.name = "tank-breath",
     .severity = SEVERITY_WARNING,
     .title = "vent, fill and pump-out of a tank are wide enough",
     .basis = ON_BOTH,
     .source = "fuel vents, us: of petrol 33 CFR 183.520 as the coast guard's handbook for boatbuilders reads it, 9/16 in "
               "with fittings of 7/16 in (verified); of diesel 46 CFR 182.450 (small passenger vessels, edition of 2015: a "
               "benchmark; a fill pipe that dips into the tank asks for 17.2 mm); iso: ISO 10088, 11 mm, from memory; "
               "fuel fill: a handbook of boat mechanical systems; pump-out, us: 33 CFR 159.87; vent of a holding tank under 400 l, iso: "
               "ISO 8099-1:2018, 19 mm inside, second hand; the rest: "
               "common practice, no source",
     .why = "A tank that cannot breathe spits fuel back at the filler, and a pump-out can crush a holding "
            "tank whose vent is narrow. A vent has to rise all the way, too, which no bore makes up for. A holding tank "
            "that says nothing of its vent is left open; of a fuel tank `fuel-tank` asks it. A vent of 12 mm (1/2 in) for water "
            "and, where ISO 8099-1 does not ask for just that, one of 19 mm for a holding tank are usual too, and only advised against. A tank without a fill that pumps or lines fill from one that has it, or that a "
            "hose joins to one, is asked for none; nor is a grey-water sump of up to 15 l that a pump empties for a vent.",
     .breaks = VENT("vent 10 mm"),
     .holds = VENT("vent 16 mm"),
     .open = VENT("vent 10..16 mm"),
     .kinds = {KIND_TANK},
     .judge = judge_tank_breath},
};
const RuleFamily rules_water = RULE_FAMILY("Water, waste, fuel and gas", rules);
