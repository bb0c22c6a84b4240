/*
 * Two rules of the family rules_fuel: consumption-odd and heat-odd, numbers that no engine and no heater has, which are slips.
 */
#include "rules/fuel_rules.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/ask.h"

/* ---- consumption-odd --------------------------------------------------------------------------------------- */

/* What a generator burns at its usual load: that may be little, and is never more than its rated power asks for. */
static void judge_generator_odd(Judge *judge, const Entity *generator)
{
    const Figure *specific = figure_of(judge, generator, FIGURE_RATED_SPECIFIC);
    if (specific == NULL) {
        return;
    }
    Finding *finding = judge_at_most(judge, generator, place_of(judge, generator, PROP_GENERATOR_FUEL_RATE), side_figure(specific),
                                     side_number(drive_limit(DRIVE_SPECIFIC_MOST)->value, UNIT_BY(UNIT_G, UNIT_KWH)));
    if (finding != NULL) {
        finding_about(finding, PROP_GENERATOR_FUEL_RATE);
        finding_say(judge, finding, "by its `fuel-rate` `%s` burns %s of its rated power: more than twice what an engine does",
                    say_name(judge, generator), say_figure(judge, specific));
        finding_note(judge, finding, place_of(judge, generator, PROP_GENERATOR_RATED), "at this power");
        finding_remedy(judge, finding, "litres an hour at its usual load, by its maker's sheet; a slip by ten is soon made");
    }
}

void judge_consumption_odd(Judge *judge, const Entity *engine)
{
    if (engine->kind == KIND_GENERATOR) {
        judge_generator_odd(judge, engine);
        return;
    }
    const Figure *specific = figure_of(judge, engine, FIGURE_RATED_SPECIFIC);
    const UnitPair unit = UNIT_BY(UNIT_G, UNIT_KWH);
    if (specific == NULL) {
        return;
    }
    Span place = place_of(judge, engine, PROP_ENGINE_CONSUMPTION);
    Side value = side_figure(specific);
    Side least = side_number(drive_limit(DRIVE_SPECIFIC_LEAST)->value, unit);
    Side most = side_number(drive_limit(DRIVE_SPECIFIC_MOST)->value, unit);
    Finding *finding = judge_at_least(judge, engine, place, value, least);
    const char *odd = "no engine makes so much of its fuel";
    if (finding == NULL) {
        finding = judge_at_most(judge, engine, place, value, most);
        odd = "it burns more than twice what an engine does";
    }
    if (finding == NULL) {
        return;
    }
    finding_about(finding, PROP_ENGINE_CONSUMPTION);
    finding_say(judge, finding, "by its `consumption` `%s` burns %s at rated power: %s",
                say_name(judge, engine), say_figure(judge, specific), odd);
    finding_note(judge, finding, place_of(judge, engine, PROP_ENGINE_RATED), "at this power");
    finding_remedy(judge, finding,
                   "litres an hour as measured, at the speed of the engine; a slip by ten is soon made");
}

/* ---- heat-odd ---------------------------------------------------------------------------------------------- */

void judge_heat_odd(Judge *judge, const Entity *heater)
{
    const Figure *share = figure_of(judge, heater, FIGURE_HEAT_SHARE);
    const UnitPair unit = UNIT_ALONE(UNIT_PERCENT);
    if (share == NULL) {
        return;
    }
    PropId rate = fuel_rate_prop((KindId)heater->kind);
    Span place = place_of(judge, heater, rate);
    Side value = side_figure(share);
    Finding *finding = judge_at_most(judge, heater, place, value, side_number(1.0, unit));
    const char *odd = "there is not so much heat in what it burns";
    if (finding == NULL) {
        finding = judge_at_least(judge, heater, place, value,
                                 side_number(drive_limit(DRIVE_HEAT_LEAST)->value, unit));
        odd = "so little of what it burns becomes heat";
    }
    if (finding == NULL) {
        return;
    }
    finding_about(finding, rate);
    finding_say(judge, finding, "`%s` gives %s of the heat that is in its fuel: %s", say_name(judge, heater),
                say_figure(judge, share), odd);
    finding_note(judge, finding, place_of(judge, heater, flame_output(heater)), "the heat that it gives");
    finding_remedy(
        judge, finding,
        "`output` and `fuel-rate` of the same setting, by its maker's sheet; a slip by ten is soon made");
}
