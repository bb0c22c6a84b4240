/*
 * One rule of the family rules_water: tank-breath. A tank lets out as much air as comes in, and no more pressure than
 * it stands.
 */
#include "rules/plumbing.h"

#include "rules/tank_filling.h"

/* So is 33 CFR 159.87, which says 1 1/2 in. */
static double least_bore(const Bore *bore, Opening opening, UnitPair unit)
{
    bool nominal = opening == OPENING_PUMP_OUT || bore->evidence == EVIDENCE_PRACTICE ||
                   bore->evidence == EVIDENCE_SECOND_HAND;
    return nominal ? nominal_bore_m(bore->least_m, unit) : bore->least_m;
}

/*
 * Vents that are narrower than is best, and usual all the same: for a holding tank 19 mm and 3/4 in, what ISO 8099-1 asks of those
 * under 400 l (second hand); for water, 12 mm and 1/2 in (common practice, no source).
 */
static bool is_usual_too(Content content, Opening opening, Side stated)
{
    Side usual = side_number(content == CONTENT_BLACK ? 0.019 : 0.012, UNIT_ALONE(UNIT_MM));
    bool by_practice = content == CONTENT_BLACK || content == CONTENT_FRESH || content == CONTENT_GREY;
    return by_practice && opening == OPENING_VENT && ask_at_least(stated, usual) == ANSWER_YES;
}

/* The gas of what is kept for weeks must get out, and a pump-out sucks: silence about a vent is no vent. */
static bool is_silent_about_vent(const Judge *judge, const Entity *tank, PropId prop)
{
    return prop == PROP_TANK_VENT && tank_content(judge->model, tank) == CONTENT_BLACK &&
           side_value(judge, tank, prop, 0).state == STATE_MISSING;
}

static void judge_no_vent(Judge *judge, const Entity *tank, double least_m, UnitPair unit)
{
    Finding *finding = judge_open(judge, tank, place_of_name(judge, tank), tank, PROP_TANK_VENT);
    finding_about(finding, PROP_TANK_VENT);
    finding_say(judge, finding, "`%s` does not say whether it has a vent: without one its gas stays, and a pump-out can crush it",
                say_name(judge, tank));
    finding_remedy(judge, finding, "vent %s", say_made(judge, MADE_HOSE, least_m, unit));
}

/* ISO 8099-1:2018 tells the vent of holding tanks under 400 l (second hand); of a larger one common practice counts. */
static Side least_vent(const Judge *judge, const Entity *tank, Side least, Bore *bore)
{
    static const double standard_most_m3 = 0.4;
    Side holds = side_value(judge, tank, PROP_TANK_CAPACITY, 0);
    Bore large = tank_bore(BASIS_US, CONTENT_BLACK, OPENING_VENT);
    double large_m = least_bore(&large, OPENING_VENT, least.unit);
    if (!side_is_known(holds) || holds.value.high < standard_most_m3) {
        return least;
    }
    if (holds.value.low >= standard_most_m3) {
        *bore = large;
        return side_number(large_m, least.unit);
    }
    holds.unit = least.unit; /* it hangs on what the tank holds */
    holds.value = (Interval){least.value.low, large_m};
    return holds;
}

static void judge_bore(Judge *judge, const Entity *tank, PropId prop, Opening opening)
{
    Content content = tank_content(judge->model, tank);
    Bore bore = tank_bore(judge->basis, content, opening);
    if (bore.source == NULL) {
        return;
    }
    Side stated = side_value(judge, tank, prop, 0);
    UnitPair unit = unit_of(tank, prop, bore_unit(judge));
    Side least = side_number(least_bore(&bore, opening, unit), unit);
    if (judge->basis == BASIS_ISO && content == CONTENT_BLACK && opening == OPENING_VENT) {
        least = least_vent(judge, tank, least, &bore);
    }
    double least_m = least.value.high;
    if (is_silent_about_vent(judge, tank, prop)) {
        judge_no_vent(judge, tank, least_m, unit);
        return;
    }
    Finding *finding =
        judge_at_least(judge, tank, place_of(judge, tank, prop), stated, least);
    if (finding == NULL) {
        return;
    }
    const char *what = prop == PROP_TANK_VENT ? "vent" : prop == PROP_TANK_FILL ? "fill" : "pump-out";
    finding_about(finding, prop);
    bool usual = is_usual_too(content, opening, stated);
    finding_say(judge, finding, "the %s of `%s` is %s; for %s %s is %s", what, say_name(judge, tank),
                say_side(judge, stated), content_name(content), say_side(judge, least), usual ? "common practice" : "the least");
    finding_here(judge, finding, bore.note[0] != '\0' ? "%s: %s" : "%s", bore.source, bore.note);
    finding_remedy(judge, finding, "%s %s", what, say_made(judge, MADE_HOSE, least_m, unit));
    if (usual) {
        finding_severity(finding, SEVERITY_ADVICE);
    }
}

/* Up to there a sump is a box under a drain, open to the air: common practice, no source. */
static const double sump_most_m3 = 0.015;

/* Whether a pump draws from it, so that it is empty most of the time. */
static bool is_pumped_out(const Judge *judge, const Entity *tank)
{
    for (const Entity *pump = first_aboard(judge->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (entity_reference(pump, PROP_PUMP_FROM) == tank) {
            return true;
        }
    }
    return false;
}

/* The box that a shower drains to and a pump empties as it fills: nothing swells or crushes it. */
static Answer is_sump(const Judge *judge, const Entity *tank)
{
    Side most = side_number(sump_most_m3, UNIT_ALONE(UNIT_L));
    bool grey = tank_content(judge->model, tank) == CONTENT_GREY;
    return grey && is_pumped_out(judge, tank) ? ask_at_least(most, side_value(judge, tank, PROP_TANK_CAPACITY, 0)) : ANSWER_NO;
}

static void judge_vent(Judge *judge, const Entity *tank)
{
    switch (is_sump(judge, tank)) {
    case ANSWER_YES: judge_holds(judge); break;
    case ANSWER_PERHAPS: judge_waiting(judge); break;
    case ANSWER_NO:
    case ANSWER_UNKNOWN: judge_bore(judge, tank, PROP_TANK_VENT, OPENING_VENT); break;
    }
}

void judge_tank_breath(Judge *judge, const Entity *tank)
{
    if (has_mistake(tank, PROP_TANK_HOLDS) || !entity_states(tank, PROP_TANK_HOLDS)) {
        judge_waiting(judge);
        return;
    }
    if (entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        return; /* it has none of them, and is carried to where it is filled or emptied */
    }
    judge_vent(judge, tank);
    Filling filling = tank_filling(judge, tank);
    if (filling == FILLING_OWN) {
        judge_bore(judge, tank, PROP_TANK_FILL, OPENING_FILL);
    } else if (filling == FILLING_WAITS) {
        judge_waiting(judge);
    }
    judge_bore(judge, tank, PROP_TANK_PUMP_OUT, OPENING_PUMP_OUT);
}
