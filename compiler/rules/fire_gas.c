/*
 * One rule of the family rules_fire: gas-line. What leads gas is made for it, and held by no clamps.
 */
#include "figures/joints.h"
#include "rules/ask.h"
#include "rules/fire.h"
#include "rules/plumbing.h"

/* From a locker to what burns the gas, or stated the other way round; a locker's drain leads elsewhere. */
static bool may_lead_gas(const Entity *end)
{
    return end != NULL && (is_joint(end) || end->kind == KIND_GAS_LOCKER || end->kind == KIND_GAS_APPLIANCE);
}

/* Whichever way it is stated, and whatever joints are between: a locker at one end, what burns its gas at the other. */
static bool leads_gas(const Judge *judge, const Entity *line, const Entity *from, const Entity *to)
{
    FarEnds a, b;
    bool hose = line->kind == KIND_HOSE; /* one between a locker and the hull is its drain; no fuel line is */
    if (hose ? !(may_lead_gas(from) && may_lead_gas(to)) : !(may_lead_gas(from) || may_lead_gas(to))) {
        return false;
    }
    joint_ends(plumbing_of(judge->figures), line, from, FOLLOW_BOTH, &a);
    joint_ends(plumbing_of(judge->figures), line, to, FOLLOW_BOTH, &b);
    bool locker = end_of_kind(&a, KIND_GAS_LOCKER) != NULL, appliance = end_of_kind(&b, KIND_GAS_APPLIANCE) != NULL;
    bool other_locker = end_of_kind(&b, KIND_GAS_LOCKER) != NULL, other_appliance = end_of_kind(&a, KIND_GAS_APPLIANCE) != NULL;
    return hose ? (locker && appliance) || (other_locker && other_appliance) : locker || appliance || other_locker || other_appliance;
}

/* A clamp on it slips, or lets gas out where it cuts in: its end fittings are made on it, and the lists of things to buy have no clamps. */
static void judge_gas_clamps(Judge *judge, const Entity *hose)
{
    if (!is_gas_hose(hose) || !entity_states(hose, PROP_HOSE_CLAMPS)) {
        return;
    }
    Side clamps = side_value(judge, hose, PROP_HOSE_CLAMPS, 0);
    Finding *finding = judge_at_most(judge, hose, place_of(judge, hose, PROP_HOSE_CLAMPS), clamps, side_number(0.0, clamps.unit));
    if (finding != NULL) {
        finding_about(finding, PROP_HOSE_CLAMPS);
        finding_severity(finding, SEVERITY_WARNING);
        finding_say(judge, finding, "`%s` is for gas, and clamps hold it: such a hose has end fittings that are made on it", say_name(judge, hose));
        finding_remedy(judge, finding, "no `clamps`: hose that is bought with its end fittings on");
        finding_remedy(judge, finding, "another `grade`, if no gas is led by it");
    }
}

static void judge_gas_hose(Judge *judge, const Entity *hose)
{
    Str grade = entity_word(hose, PROP_HOSE_GRADE);
    if (has_mistake(hose, PROP_HOSE_GRADE)) {
        judge_waiting(judge);
        return;
    }
    if (str_is(grade, "gas")) {
        judge_holds(judge);
        return;
    }
    Finding *finding = grade.length > 0 ? judge_broken(judge, hose, place_of(judge, hose, PROP_HOSE_GRADE))
                                        : judge_open(judge, hose, place_of_name(judge, hose), hose, PROP_HOSE_GRADE);
    finding_say(judge, finding,
                grade.length > 0 ? "`%s` leads gas, and is not made for it" : "`%s` leads gas, and does not say whether it is made for it",
                say_name(judge, hose));
    finding_remedy(judge, finding, "a pipe or hose made for that gas, with `grade gas`");
}

void judge_gas_line(Judge *judge, const Entity *line)
{
    bool hose = line->kind == KIND_HOSE;
    if (hose) {
        judge_gas_clamps(judge, line);
    }
    if (!leads_gas(judge, line, entity_reference(line, hose ? PROP_HOSE_FROM : PROP_FUEL_LINE_FROM),
                   entity_reference(line, hose ? PROP_HOSE_TO : PROP_FUEL_LINE_TO))) {
        return;
    }
    if (hose) {
        judge_gas_hose(judge, line);
        return;
    }
    Finding *finding = judge_broken(judge, line, place_of_name(judge, line));
    finding_say(judge, finding, "`%s` is a fuel line, and leads gas", say_name(judge, line));
    finding_remedy(judge, finding, "a `hose`, which is a pipe too, with `grade gas`");
}
