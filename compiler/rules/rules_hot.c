/*
 * Hot water that neither bursts nor scalds, and comes in good time.
 */
#include "rules/plumbing.h"

#include "figures/drive.h"
#include "physics/hull.h"
#include "rules/families.h"

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

static bool is_heated_by_coil(const Entity *heater)
{
    const Value *exchanger = property_value(entity_property(heater, PROP_WATER_HEATER_EXCHANGER), 0);
    bool has_coil = exchanger->kind == VALUE_QUANTITY && exchanger->u.quantity.high > 0.0;
    return entity_states(heater, PROP_WATER_HEATER_ENGINE) || entity_states(heater, PROP_WATER_HEATER_HEATED_BY) || has_coil;
}

/* Why the water can scald; NULL and no finding where it cannot, or where that waits for a mistake. */
static Finding *judge_if_hot(Judge *judge, const Entity *heater, Span place, const char **why, Span *where)
{
    const Limit *limit = hull_limit(LIMIT_HOT_WATER);
    double kelvin = unit_to_si(UNIT_ALONE(UNIT_CELSIUS), limit->value);
    *where = place_of(judge, heater, PROP_WATER_HEATER_SETTING);
    if (is_heated_by_coil(heater)) {
        PropId by = entity_states(heater, PROP_WATER_HEATER_ENGINE)      ? PROP_WATER_HEATER_ENGINE
                    : entity_states(heater, PROP_WATER_HEATER_HEATED_BY) ? PROP_WATER_HEATER_HEATED_BY
                                                                         : PROP_WATER_HEATER_EXCHANGER;
        *where = place_of(judge, heater, by);
        *why = by == PROP_WATER_HEATER_HEATED_BY ? "the heater heats it to 70 C and more" : "the engine heats it to 70 C and more";
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
    if (valve == -2 || has_mistake(heater, PROP_WATER_HEATER_ENGINE) || has_mistake(heater, PROP_WATER_HEATER_HEATED_BY) ||
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

/* ---- heater-engine ------------------------------------------------------------------------------------- */

/* Whether the water that cools an engine comes by within the hull: an outboard's does not, one that air cools has none. */
static bool warms_water(const Entity *engine)
{
    return burns_within(engine) && !str_is(entity_word(engine, PROP_ENGINE_COOLING), "air");
}

static void judge_named_engine(Judge *judge, const Entity *heater, const Entity *engine)
{
    if (has_mistake(engine, PROP_ENGINE_COOLING) || has_mistake(engine, PROP_ENGINE_MOUNTED)) {
        judge_waiting(judge);
        return;
    }
    if (warms_water(engine)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, heater, place_of(judge, heater, PROP_WATER_HEATER_ENGINE));
    finding_say(judge, finding, "`%s` is to take heat from the cooling water of `%s`, which %s: its `heat-up-time` counts on that",
                say_name(judge, heater), say_name(judge, engine),
                is_electric(engine)    ? "is electric"
                : is_outboard(engine) ? "hangs outside, and lets none aboard"
                                      : "is cooled by air");
    finding_remedy(judge, finding, "no `exchanger`");
}

static void judge_heater_engine(Judge *judge, const Entity *heater)
{
    const Value *exchanger = property_value(entity_property(heater, PROP_WATER_HEATER_EXCHANGER), 0);
    const Entity *first = NULL;
    int count = 0;
    if (has_mistake(heater, PROP_WATER_HEATER_ENGINE) || some_is_mistaken(judge, KIND_ENGINE)) {
        judge_waiting(judge);
        return;
    }
    if (exchanger->kind != VALUE_QUANTITY || exchanger->u.quantity.high <= 0.0 || entity_states(heater, PROP_WATER_HEATER_HEATED_BY)) {
        return;
    }
    const Entity *named = entity_reference(heater, PROP_WATER_HEATER_ENGINE);
    if (named != NULL && is_aboard(named)) {
        judge_named_engine(judge, heater, named);
    }
    if (entity_states(heater, PROP_WATER_HEATER_ENGINE)) {
        return;
    }
    for (const Entity *e = first_aboard(judge->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (warms_water(e)) {
            first = first == NULL ? e : first;
            count++;
        }
    }
    if (count == 1) {
        judge_holds(judge); /* there is but one that it can be */
        return;
    }
    Span place = place_of(judge, heater, PROP_WATER_HEATER_EXCHANGER);
    Finding *finding = count == 0 ? judge_broken(judge, heater, place) : judge_open(judge, heater, place, heater, PROP_WATER_HEATER_ENGINE);
    if (count == 0) {
        finding_say(judge, finding, "`%s` is to take heat from an engine's cooling water, and no engine aboard has any to give: its "
                                    "`heat-up-time` counts on that", say_name(judge, heater));
        finding_remedy(judge, finding, "no `exchanger`");
    } else {
        finding_say(judge, finding, "`%s` does not say which engine heats it", say_name(judge, heater));
        finding_remedy(judge, finding, "engine %s", say_name(judge, first));
    }
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
                                : entity_states(heater, PROP_WATER_HEATER_ENGINE)    ? PROP_WATER_HEATER_ENGINE
                                                                     : PROP_WATER_HEATER_HEATED_BY;
    Finding *finding = judge_at_most(judge, heater, place_of(judge, heater, by), side_figure(time),
                                     side_number(limit_s, UNIT_ALONE(UNIT_H)));
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` takes %s to heat its water", say_name(judge, heater),
                    say_figure(judge, time));
        finding_remedy(judge, finding, "a stronger `element`, or an `exchanger` on the engine");
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define HEATER(SAYS) EXAMPLE_BOAT "water-heater boiler { capacity 30 l; element 800 W; " SAYS " }\n"

static const Rule rules[] = {
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
    {.name = "heater-engine",
     .severity = SEVERITY_WARNING,
     .title = "an exchanger in a water heater is on an engine",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "Hot water that comes from no engine is there on paper alone, and how long it takes to heat counts on it. Of a boat with one "
            "engine that burns something within her hull that one is taken.",
     .breaks = EXAMPLE_BOAT "water-heater boiler { capacity 30 l; exchanger 4 kW }\n",
     .holds = EXAMPLE_BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\nwater-heater boiler { capacity 30 l; exchanger 4 kW; engine iron }\n",
     .open = EXAMPLE_BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\nengine oak { rated 20 kW at 3000 rpm; fuel diesel }\n"
                          "water-heater boiler { capacity 30 l; exchanger 4 kW }\n",
     .kinds = {KIND_WATER_HEATER},
     .judge = judge_heater_engine},
    {.name = "heater-slow",
     .severity = SEVERITY_ADVICE,
     .title = "a water heater makes hot water within two hours",
     .basis = ON_BOTH,
     .source = "4.186 kJ/(kg K) and no losses; the two hours: a choice of this program",
     .why = "A small element takes half a day for a large tank, and an engine that charges for an hour "
            "leaves it "
            "lukewarm. By all that heats it together, from the temperature of the sea to its setting, or to "
            "60 C "
            "where none is stated.",
     .breaks = EXAMPLE_BOAT "water-heater boiler { capacity 60 l; element 600 W; setting 55 C }\n",
     .holds = EXAMPLE_BOAT "water-heater boiler { capacity 30 l; element 1200 W; setting 55 C }\n",
     .open = EXAMPLE_BOAT "water-heater boiler { capacity 30..60 l; element 600..1200 W; setting 55 C }\n",
     .kinds = {KIND_WATER_HEATER},
     .judge = judge_heater_slow},
};
const RuleFamily rules_hot = RULE_FAMILY("Hot water", rules);
