/*
 * Water, waste, fuel and gas for as long as the goals ask; tanks that breathe; hot water that neither bursts
 * nor scalds.
 */
#include "rules/plumbing.h"

#include "physics/hull.h"
#include "rules/families.h"

#include <math.h>

/* ---- water-short, waste-full, fuel-short, gas-short ---------------------------------------------------- */

/* What one of these four rules looks at. */
typedef struct Supply {
    const Entity *subject; /* the first tank, or gas locker */
    bool several;
    PropId amount;     /* what says how much there is */
    const char *lasts; /* "fresh water lasts" */
    const char *last;  /* "the fresh-water tanks together last" */
    const char *does;  /* what a day does with it: "takes" */
} Supply;

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
                   .day = day->kind == VALUE_REFERENCE ? day->u.entity : NULL,
                   .days = side_value(judge, goal, PROP_GOAL_ENDURE, 0)};
    if (wish->day == NULL || !side_is_known(wish->days)) {
        judge_waiting(judge);
        return false;
    }
    return is_aboard(wish->day);
}

static PropId amount_of(const Entity *tank)
{
    return entity_states(tank, PROP_TANK_SIZE) && !entity_states(tank, PROP_TANK_CAPACITY)
               ? PROP_TANK_SIZE
               : PROP_TANK_CAPACITY;
}

/* The capacity that one tank, alone of its kind, would need for the days that are wished for. */
static void offer_capacity(Judge *judge, Finding *finding, const Supply *supply, const Wish *wish)
{
    const Figure *flow = figure_find(judge->figures, supply->subject, FIGURE_DAILY_FLOW, wish->day);
    const Figure *volume = figure_of(judge, supply->subject, FIGURE_VOLUME);
    const Figure *usable = figure_of(judge, supply->subject, FIGURE_USABLE_VOLUME);
    bool usual = flow != NULL && volume != NULL && usable != NULL && usable->high > 0.0 &&
                 isfinite(volume->high) && isfinite(flow->high) && !supply->several &&
                 !entity_states(supply->subject, PROP_COMMON_COUNT);
    if (usual) {
        double needed = flow->high * wish->days.value.high / 86400.0;
        finding_remedy(judge, finding, "capacity %s",
                       say_up(judge, needed * volume->high / usable->high, volume->unit));
    }
}

static void judge_supply(Judge *judge, const Supply *supply, const Wish *wish)
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
        finding_here(judge, finding, "such a day %s %s", supply->does, say_figure(judge, flow));
    }
    finding_note(judge, finding, place_of(judge, wish->goal, PROP_GOAL_ENDURE), "%s wanted here",
                 say_side(judge, wish->days));
    offer_capacity(judge, finding, supply, wish);
}

static void judge_tanks(Judge *judge, const Entity *goal, const char *holds, Supply supply)
{
    Wish wish;
    supply.subject = first_tank(judge->model, holds);
    if (supply.subject == NULL || !read_wish(judge, goal, &wish)) {
        return;
    }
    supply.several = next_tank(supply.subject, holds) != NULL;
    supply.amount = amount_of(supply.subject);
    judge_supply(judge, &supply, &wish);
}

static void judge_water_short(Judge *judge, const Entity *goal)
{
    judge_tanks(judge, goal, "fresh",
                (Supply){.lasts = "fresh water lasts",
                         .last = "the fresh-water tanks together last",
                         .does = "takes"});
}

static void judge_waste_full(Judge *judge, const Entity *goal)
{
    judge_tanks(judge, goal, "black",
                (Supply){.lasts = "the holding tank is full after",
                         .last = "the holding tanks are all full after",
                         .does = "brings"});
}

static void judge_fuel_short(Judge *judge, const Entity *goal)
{
    judge_tanks(judge, goal, "fuel",
                (Supply){.lasts = "fuel lasts", .last = "the fuel tanks together last", .does = "burns"});
}

static void judge_gas_short(Judge *judge, const Entity *goal)
{
    Wish wish;
    Supply supply = {.subject = first_aboard(judge->model, KIND_GAS_LOCKER),
                     .amount = PROP_GAS_LOCKER_CYLINDER,
                     .lasts = "gas lasts",
                     .last = "the gas cylinders together last"};
    if (supply.subject == NULL || !read_wish(judge, goal, &wish)) {
        return;
    }
    supply.several = next_aboard(supply.subject) != NULL;
    if (!entity_states(wish.day, PROP_DAY_GAS)) {
        judge_unmeasured(judge, wish.day, PROP_DAY_GAS);
        return;
    }
    judge_supply(judge, &supply, &wish);
}

/* ---- tank-breath --------------------------------------------------------------------------------------- */

/*
 * A bore of mere practice, in inches, is the nearest eighth: 16 mm is 5/8 in. So is 33 CFR 159.87, which says
 * 1 1/2 in.
 */
static double least_bore(const Bore *bore, Opening opening, UnitPair unit)
{
    bool inches = unit.unit == UNIT_IN || unit.unit == UNIT_FT;
    bool nominal = opening == OPENING_PUMP_OUT || bore->evidence == EVIDENCE_PRACTICE ||
                   bore->evidence == EVIDENCE_SECOND_HAND;
    double eighth_m = 0.0254 / 8.0;
    return inches && nominal ? round(bore->least_m / eighth_m) * eighth_m : bore->least_m;
}

/* Older practice for the vent of a holding tank, second hand: about 20 mm, sold as 19 mm and 3/4 in. */
static bool is_older_practice(const Judge *judge, Content content, Opening opening, Side stated)
{
    Side older = side_number(0.019, UNIT_ALONE(UNIT_MM));
    return content == CONTENT_BLACK && opening == OPENING_VENT &&
           ask_at_least(judge, stated, older) == ANSWER_YES;
}

static void judge_bore(Judge *judge, const Entity *tank, PropId prop, Opening opening)
{
    Content content = tank_content(judge->model, tank);
    Bore bore = tank_bore(judge->basis, content, opening);
    if (bore.source == NULL) {
        return;
    }
    Side stated = side_value(judge, tank, prop, 0);
    UnitPair unit = unit_of(tank, prop, UNIT_ALONE(UNIT_MM));
    double least_m = least_bore(&bore, opening, unit);
    Finding *finding =
        judge_at_least(judge, tank, place_of(judge, tank, prop), stated, side_number(least_m, unit));
    if (finding == NULL) {
        return;
    }
    const char *what = prop == PROP_TANK_VENT ? "vent" : prop == PROP_TANK_FILL ? "fill" : "pump-out";
    finding_say(judge, finding, "the %s of `%s` is %s; for %s %s is the least", what, say_name(judge, tank),
                say_side(judge, stated), content_name(content), say_number(judge, least_m, unit));
    finding_here(judge, finding, bore.note[0] != '\0' ? "%s: %s" : "%s", bore.source, bore.note);
    finding_remedy(judge, finding, "%s %s", what, say_up(judge, least_m, unit));
    if (is_older_practice(judge, content, opening, stated)) {
        finding_severity(finding, SEVERITY_ADVICE);
    }
}

static void judge_tank_breath(Judge *judge, const Entity *tank)
{
    if (has_mistake(tank, PROP_TANK_HOLDS) || !entity_states(tank, PROP_TANK_HOLDS)) {
        judge_waiting(judge);
        return;
    }
    judge_bore(judge, tank, PROP_TANK_VENT, OPENING_VENT);
    judge_bore(judge, tank, PROP_TANK_FILL, OPENING_FILL);
    judge_bore(judge, tank, PROP_TANK_PUMP_OUT, OPENING_PUMP_OUT);
}

/* ---- heater-relief, heater-scald, heater-back-flow ----------------------------------------------------- */

/* A valve that must be there. */
static void judge_valve(Judge *judge, const Entity *heater, PropId prop, const char *what)
{
    Finding *finding = judge_yes(judge, heater, prop, what);
    if (finding != NULL) {
        finding_say(judge, finding,
                    finding->verdict == VERDICT_BROKEN ? "`%s` has no %s"
                                                       : "`%s` does not say whether it has a %s",
                    say_name(judge, heater), what);
    }
}

static void judge_heater_relief(Judge *judge, const Entity *heater)
{
    judge_valve(judge, heater, PROP_WATER_HEATER_RELIEF_VALVE, "relief valve");
}

static void judge_heater_back_flow(Judge *judge, const Entity *heater)
{
    judge_valve(judge, heater, PROP_WATER_HEATER_CHECK_VALVE, "check valve on its cold side");
}

static bool is_heated_by_engine(const Entity *heater)
{
    const Value *exchanger = property_value(entity_property(heater, PROP_WATER_HEATER_EXCHANGER), 0);
    bool has_coil = exchanger->kind == VALUE_QUANTITY && exchanger->u.quantity.high > 0.0;
    return entity_states(heater, PROP_WATER_HEATER_ENGINE) || has_coil;
}

/* Why the water can scald; NULL and no finding where it cannot, or where that waits for a mistake. */
static Finding *judge_if_hot(Judge *judge, const Entity *heater, Span place, const char **why, Span *where)
{
    const Limit *limit = hull_limit(LIMIT_HOT_WATER);
    double kelvin = unit_to_si(UNIT_ALONE(UNIT_CELSIUS), limit->value);
    *where = place_of(judge, heater, PROP_WATER_HEATER_SETTING);
    if (is_heated_by_engine(heater)) {
        PropId by = entity_states(heater, PROP_WATER_HEATER_ENGINE) ? PROP_WATER_HEATER_ENGINE
                                                                    : PROP_WATER_HEATER_EXCHANGER;
        *where = place_of(judge, heater, by);
        *why = "the engine heats it to 70 C and more";
        return judge_broken(judge, heater, place);
    }
    if (!entity_states(heater, PROP_WATER_HEATER_SETTING)) {
        *why = "how hot it gets is not said";
        return judge_broken(judge, heater, place);
    }
    Side setting = side_value(judge, heater, PROP_WATER_HEATER_SETTING, 0);
    *why = text_format(judge->arena, "more than %s scalds", say_number(judge, kelvin, setting.unit));
    return judge_at_most(judge, heater, place, setting, side_number(kelvin, setting.unit));
}

static void judge_heater_scald(Judge *judge, const Entity *heater)
{
    int valve = entity_yes(heater, PROP_WATER_HEATER_MIXING_VALVE);
    const char *why;
    Span where;
    if (valve == -2 || has_mistake(heater, PROP_WATER_HEATER_ENGINE) ||
        has_mistake(heater, PROP_WATER_HEATER_EXCHANGER)) {
        judge_waiting(judge);
        return;
    }
    if (valve == 1) {
        judge_holds(judge);
        return;
    }
    Finding *finding =
        judge_if_hot(judge, heater, place_of(judge, heater, PROP_WATER_HEATER_MIXING_VALVE), &why, &where);
    if (finding == NULL) {
        return;
    }
    if (valve == 0) {
        finding_say(judge, finding, "the water of `%s` can scald: it has no mixing valve",
                    say_name(judge, heater));
    } else {
        finding_left_open(judge, finding, heater, PROP_WATER_HEATER_MIXING_VALVE);
        finding_say(judge, finding,
                    "the water of `%s` can scald, and it does not say whether it has a mixing valve",
                    say_name(judge, heater));
    }
    finding_note(judge, finding, where, "%s", why);
    finding_remedy(judge, finding, "mixing-valve yes");
}

/* ---- heater-slow --------------------------------------------------------------------------------------- */

static void judge_heater_slow(Judge *judge, const Entity *heater)
{
    static const double limit_s = 2.0 * 3600.0;
    const Figure *time = figure_of(judge, heater, FIGURE_HEAT_UP);
    if (time == NULL) {
        return; /* nothing is said to heat it */
    }
    PropId by = entity_states(heater, PROP_WATER_HEATER_ELEMENT)     ? PROP_WATER_HEATER_ELEMENT
                : entity_states(heater, PROP_WATER_HEATER_EXCHANGER) ? PROP_WATER_HEATER_EXCHANGER
                                                                     : PROP_WATER_HEATER_ENGINE;
    Finding *finding = judge_at_most(judge, heater, place_of(judge, heater, by), side_figure(time),
                                     side_number(limit_s, UNIT_ALONE(UNIT_H)));
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` takes %s to heat its water", say_name(judge, heater),
                    say_figure(judge, time));
        finding_remedy(judge, finding, "a stronger `element`, or an `exchanger` on the engine");
    }
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
#define VENT(BORE) EXAMPLE_BOAT "tank diesel { holds fuel; capacity 100 l; " BORE "; fill 38 mm }\n"
#define HEATER(SAYS) EXAMPLE_BOAT "water-heater boiler { capacity 30 l; element 800 W; " SAYS " }\n"

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
     .title = "the holding tank is not full before the goals end",
     .basis = ON_BOTH,
     .source = "flushes times what one takes: common practice, no source; three quarters of the tank where "
               "`usable` is not stated: a state's rule for marine toilets",
     .why = "A holding tank decides the length of a quiet stay as surely as the battery does. It is planned "
            "to three quarters, where its alarm stands, unless the spec says how much of it may be filled.",
     .breaks = BLACK("capacity 60 l"),
     .holds = BLACK("capacity 90 l"),
     .open = BLACK("capacity 60..90 l"),
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
    {.name = "tank-breath",
     .severity = SEVERITY_WARNING,
     .title = "vent, fill and pump-out of a tank are wide enough",
     .basis = ON_BOTH,
     .source = "fuel vents, us: 46 CFR 182.450 (small passenger vessels, edition of 2015: a benchmark; a "
               "fill pipe that dips into the tank asks for 17.2 mm); iso: ISO 10088, 11 mm, from memory; "
               "fuel fill: a handbook of boat mechanical systems; pump-out, us: 33 CFR 159.87; the rest: "
               "common practice, no source",
     .why = "A tank that cannot breathe spits fuel back at the filler, and a pump-out can crush a holding "
            "tank whose vent is narrow. A vent has to rise all the way, too, which no bore makes up for.",
     .breaks = VENT("vent 10 mm"),
     .holds = VENT("vent 16 mm"),
     .open = VENT("vent 10..16 mm"),
     .kinds = {KIND_TANK},
     .judge = judge_tank_breath},
    {.name = "heater-relief",
     .severity = SEVERITY_FAULT,
     .title = "a water heater has a relief valve",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "Water grows by nearly three per cent on its way to 80 C, and the pump's check valve leaves it "
            "nowhere to go. Without a relief valve, led to where it can neither burn nor flood, the tank "
            "bursts.",
     .breaks = HEATER("relief-valve no; check-valve yes; mixing-valve yes; setting 55 C"),
     .holds = HEATER("relief-valve yes; check-valve yes; mixing-valve yes; setting 55 C"),
     .open = HEATER("check-valve yes; mixing-valve yes; setting 55 C"),
     .kinds = {KIND_WATER_HEATER},
     .judge = judge_heater_relief},
    {.name = "heater-scald",
     .severity = SEVERITY_FAULT,
     .title = "water that an engine heats, or a thermostat above 60 C, passes a mixing valve",
     .basis = ON_BOTH,
     .source = "common practice, no source, for the 60 C; a mixing valve at most at 49 C (120 F): a "
               "household ceiling, from memory; a US model plumbing code sets tempered water at 43 C (110 "
               "F)",
     .why = "An engine's cooling water brings a tank to 70 or 85 C, and that scalds in a second or two. A "
            "thermostatic valve at the heater keeps every tap safe. Where neither an engine heats it nor "
            "the thermostat is set above 60 C none is asked for; a setting that is not stated counts as "
            "hot.",
     .breaks = HEATER("relief-valve yes; check-valve yes; mixing-valve no; setting 75 C"),
     .holds = HEATER("relief-valve yes; check-valve yes; mixing-valve no; setting 55 C"),
     .open = HEATER("relief-valve yes; check-valve yes; setting 75 C"),
     .kinds = {KIND_WATER_HEATER},
     .judge = judge_heater_scald},
    {.name = "heater-back-flow",
     .severity = SEVERITY_FAULT,
     .title = "hot water cannot run back into the cold side",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "Water that grows as it heats pushes back into cold pipes, pump and tank, which are not made "
            "for it, and scalds at a tap that is marked cold. A check valve on the cold inlet stops it; the "
            "relief valve, or an expansion vessel behind the check valve, takes up the growth.",
     .breaks = HEATER("relief-valve yes; check-valve no; mixing-valve yes; setting 55 C"),
     .holds = HEATER("relief-valve yes; check-valve yes; mixing-valve yes; setting 55 C"),
     .open = HEATER("relief-valve yes; mixing-valve yes; setting 55 C"),
     .kinds = {KIND_WATER_HEATER},
     .judge = judge_heater_back_flow},
    {.name = "heater-slow",
     .severity = SEVERITY_ADVICE,
     .title = "a water heater makes hot water within two hours",
     .basis = ON_BOTH,
     .source = "4.186 kJ/(kg K) and no losses; the two hours: a choice of this program",
     .why = "A small element takes half a day for a large tank, and an engine that charges for an hour leaves it "
            "lukewarm. By all that heats it together, from the temperature of the sea to its setting, or to 60 C "
            "where none is stated.",
     .breaks = EXAMPLE_BOAT "water-heater boiler { capacity 60 l; element 600 W; setting 55 C }\n",
     .holds = EXAMPLE_BOAT "water-heater boiler { capacity 30 l; element 1200 W; setting 55 C }\n",
     .open = EXAMPLE_BOAT "water-heater boiler { capacity 30..60 l; element 600..1200 W; setting 55 C }\n",
     .kinds = {KIND_WATER_HEATER},
     .judge = judge_heater_slow},
};
const RuleFamily rules_water = RULE_FAMILY("Water, waste, fuel and gas", rules);
