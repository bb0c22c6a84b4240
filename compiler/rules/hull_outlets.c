/*
 * Two rules of the family rules_hull: gas-outlet and burner-outlet. Fittings by which gas falls out of a locker, or what a burner
 * leaves goes out of the boat: nothing may shut them, so nothing but their height keeps the sea out.
 */
#include "figures/joints.h"
#include "physics/fire.h"
#include "rules/hull.h"
#include "rules/plumbing.h"

#include <math.h>

/* A class society's rules for recreational craft, section 5, 503 (second hand), which follow ISO 10239: above the water at rest, loaded. */
static const double drain_clear_m = 0.075;
/* Nearer than that to the water in which she rests it is under it when she is loaded; common practice, no source. */
static const double burner_clear_m = 0.05;

const Entity *kept_open(const Judge *judge, const Entity *fitting)
{
    const Entity *served = serves_open(judge->model, fitting);
    const Plumbing *plumbing = plumbing_of(judge->figures);
    for (const Entity *hose = plumbing->into.first[fitting->index]; hose != NULL && served == NULL; hose = plumbing->into.next[hose->index]) {
        FarEnds ends;
        joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_FROM), FOLLOW_BOTH, &ends);
        served = end_of_kind(&ends, KIND_GAS_LOCKER);
    }
    return served;
}

/* What runs out there by the word of the fitting, a cockpit too that the locker stands in. */
static const Entity *served_too(const Judge *judge, const Entity *fitting)
{
    uint16_t at = 0;
    const Entity *served = next_served(fitting, &at);
    while (served != NULL && must_breathe(judge->model, served)) {
        served = next_served(fitting, &at);
    }
    return served;
}

/* What a hose brings there, or the joints that it comes from; a joint that nothing leads to is none. */
static const Entity *brought_too(const Judge *judge, const Entity *fitting)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    for (const Entity *hose = plumbing->into.first[fitting->index]; hose != NULL; hose = plumbing->into.next[hose->index]) {
        FarEnds ends;
        joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_FROM), FOLLOW_BOTH, &ends);
        for (uint32_t i = 0; i < ends.count; i++) {
            const Entity *end = ends.things[i];
            if (!must_breathe(judge->model, end) && !is_joint(end) && end->kind != KIND_THROUGH_HULL) {
                return end;
            }
        }
    }
    return NULL;
}

const Entity *runs_out_too(const Judge *judge, const Entity *fitting)
{
    const Entity *other = served_too(judge, fitting);
    other = other != NULL ? other : brought_too(judge, fitting);
    return other != NULL ? other : plumbing_of(judge->figures)->said_by[fitting->index];
}

bool nothing_may_shut(const Judge *judge, const Entity *fitting)
{
    return kept_open(judge, fitting) != NULL && runs_out_too(judge, fitting) == NULL;
}

/* One pipe for two: what leaves by it comes up at the other end. False: it is for that one alone. */
static bool judge_shared(Judge *judge, const Entity *fitting, const Entity *kept)
{
    const Entity *other = runs_out_too(judge, fitting);
    if (other == NULL) {
        return false;
    }
    bool gas = kept->kind == KIND_GAS_LOCKER;
    Finding *finding = judge_broken(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_SERVES));
    finding_matter(finding, "shared");
    finding_say(judge, finding,
                gas ? "`%s` drains the gas of `%s`, and `%s` runs out by it too: gas that leaks comes up there, or its water stands in the drain"
                    : "by `%s` goes what `%s` burns, and `%s` runs out by it too: fumes with carbon monoxide come up there, or its water "
                      "chokes the burner",
                say_name(judge, fitting), say_name(judge, kept), say_name(judge, other));
    finding_note(judge, finding, place_of_name(judge, other), "this has an open way to it");
    finding_remedy(judge, finding, "a pipe and a through-hull of its own for `%s`", say_name(judge, kept));
    return true;
}

/* A valve by its own word, or by what it is made of. */
static PropId says_valve(const Entity *fitting)
{
    return entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK) == 1      ? PROP_THROUGH_HULL_SEACOCK
           : entity_states(fitting, PROP_THROUGH_HULL_VALVE) &&
                   entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK) != 0 ? PROP_THROUGH_HULL_VALVE
                                                                       : PROP_NONE;
}

static void judge_shut(Judge *judge, const Entity *fitting, const Entity *served)
{
    PropId says = says_valve(fitting);
    if (says == PROP_NONE) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, fitting, place_of(judge, fitting, says));
    finding_about(finding, PROP_THROUGH_HULL_SEACOCK);
    finding_say(judge, finding,
                served->kind == KIND_GAS_LOCKER ? "`%s` drains the gas of `%s`, and has a valve: who shuts it shuts leaking gas in"
                                                : "by `%s` goes what `%s` burns, and it has a valve: shut by mistake it turns the fumes into the cabin",
                say_name(judge, fitting), say_name(judge, served));
    finding_remedy(judge, finding, "seacock no, and an outlet so high that none is needed");
}

/* Its height against the water in which she lies: a fault under it, a warning up to `clear_m` above; NULL: clear, or not known. */
static Finding *judge_at_rest(Judge *judge, const Entity *fitting, double clear_m)
{
    Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    Span place = place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT);
    Finding *finding = judge_at_least(judge, fitting, place, height, side_number(0.0, height.unit));
    if (finding == NULL) {
        finding = judge_at_least(judge, fitting, place, height, side_number(clear_m, height.unit));
        if (finding != NULL) {
            finding_severity(finding, SEVERITY_WARNING);
        }
    }
    if (finding != NULL) {
        finding_about(finding, PROP_THROUGH_HULL_HEIGHT);
        finding_remedy(judge, finding, "height %s, or higher", say_no_less(judge, clear_m, height.unit));
    }
    return finding;
}

/* ---- gas-outlet ---------------------------------------------------------------------------------------- */

static void judge_drain_height(Judge *judge, const Entity *fitting, const Entity *locker)
{
    if (!entity_states(fitting, PROP_THROUGH_HULL_HEIGHT)) {
        Finding *finding = judge_open(judge, fitting, place_of_name(judge, fitting), fitting, PROP_THROUGH_HULL_HEIGHT);
        finding_about(finding, PROP_THROUGH_HULL_HEIGHT);
        finding_say(judge, finding, "`%s` drains the gas of `%s`, and does not say how high above the water it stands", say_name(judge, fitting),
                    say_name(judge, locker));
        return;
    }
    Finding *finding = judge_at_rest(judge, fitting, drain_clear_m);
    if (finding != NULL) {
        Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
        bool under = finding->severity != SEVERITY_WARNING;
        finding_say(judge, finding, "`%s` drains the gas of `%s` %s the waterline, at %s: %s", say_name(judge, fitting), say_name(judge, locker),
                    !under                                     ? "hardly above"
                    : finding->verdict == VERDICT_OPEN ? "perhaps under"
                                                         : "under",
                    say_side(judge, height), under ? "water stands in the drain, and gas that leaks stays in the locker" : "loaded, she puts it under");
    }
}

/* Of the fitting, or of a hose that leads there. */
static void judge_drain_bore(Judge *judge, const Entity *drain, PropId prop, const Entity *locker)
{
    GasBore least = gas_drain_bore(judge->basis);
    Side bore = side_value(judge, drain, prop, 0);
    UnitPair unit = unit_of(drain, prop, bore_unit(judge));
    Side limit = side_number(nominal_bore_m(least.least_m, unit), unit);
    Finding *finding = judge_at_least(judge, drain, place_of(judge, drain, prop), bore, limit);
    if (finding != NULL) {
        finding_about(finding, prop);
        finding_severity(finding, SEVERITY_WARNING);
        finding_say(judge, finding, "`%s` drains the gas of `%s` by a bore of %s; %s is the least", say_name(judge, drain), say_name(judge, locker),
                    say_side(judge, bore), say_side(judge, limit));
        finding_here(judge, finding, "%s", least.source);
        finding_remedy(judge, finding, "bore %s", say_made(judge, MADE_HOSE, limit.value.low, unit));
    }
}

/* Gas is heavier than air: it climbs over nothing. */
static void judge_drain_climbs(Judge *judge, const Entity *fitting, const Entity *locker)
{
    if (entity_states(fitting, PROP_THROUGH_HULL_SWAN_NECK)) {
        Finding *finding = judge_broken(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_SWAN_NECK));
        finding_about(finding, PROP_THROUGH_HULL_SWAN_NECK);
        finding_say(judge, finding, "the drain of `%s` rises before it leaves by `%s`: gas that leaks is heavier than air, and does not climb",
                    say_name(judge, locker), say_name(judge, fitting));
        finding_remedy(judge, finding, "a drain that falls all the way");
    }
}

/* An outlet above the floor of the locker, of which both say how high they stand. */
static void judge_drain_falls(Judge *judge, const Entity *fitting, const Entity *locker)
{
    Side outlet = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0), floor = side_value(judge, locker, PROP_COMMON_AT, 2);
    if (outlet.state == STATE_MISSING || floor.state == STATE_MISSING) {
        return;
    }
    Finding *finding = judge_at_most(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT), outlet, floor);
    if (finding != NULL) {
        finding_matter(finding, "above");
        finding_say(judge, finding, "`%s` %s above `%s`, whose gas it drains: gas that leaks is heavier than air, and does not climb", say_name(judge, fitting),
                    finding->verdict == VERDICT_OPEN ? "may stand" : "stands", say_name(judge, locker));
        finding_note(judge, finding, place_of(judge, locker, PROP_COMMON_AT), "the locker stands at %s", say_side(judge, floor));
        finding_remedy(judge, finding, "an outlet below the floor of the locker");
    }
}

static bool may_drain_gas(const Entity *end)
{
    return end != NULL && (is_joint(end) || end->kind == KIND_GAS_LOCKER || end->kind == KIND_THROUGH_HULL);
}

/* The locker that is at one end of a hose, joints between or not, where the other end is a fitting; *falls: it begins there. */
static const Entity *drained_by(const Judge *judge, const Entity *hose, bool *falls)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    FarEnds near, far;
    joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_FROM), FOLLOW_BOTH, &near);
    joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_TO), FOLLOW_BOTH, &far);
    const Entity *locker = end_of_kind(&near, KIND_GAS_LOCKER);
    *falls = locker != NULL && end_of_kind(&far, KIND_THROUGH_HULL) != NULL;
    bool turned = !*falls && end_of_kind(&near, KIND_THROUGH_HULL) != NULL;
    return *falls ? locker : turned ? end_of_kind(&far, KIND_GAS_LOCKER) : NULL;
}

static void judge_drain_hose(Judge *judge, const Entity *hose)
{
    bool falls;
    bool may = may_drain_gas(entity_reference(hose, PROP_HOSE_FROM)) && may_drain_gas(entity_reference(hose, PROP_HOSE_TO));
    const Entity *locker = may ? drained_by(judge, hose, &falls) : NULL;
    if (locker == NULL) {
        return;
    }
    judge_drain_bore(judge, hose, PROP_HOSE_BORE, locker);
    Side rise = side_value(judge, hose, PROP_HOSE_RISE, 0), level = side_number(0.0, rise.unit);
    Span place = place_of(judge, hose, PROP_HOSE_RISE);
    Finding *finding = falls ? judge_at_most(judge, hose, place, rise, level) : judge_at_least(judge, hose, place, rise, level);
    if (finding != NULL) {
        finding_about(finding, PROP_HOSE_RISE);
        finding_say(judge, finding, "`%s` drains the gas of `%s`, and %s on its way: gas that leaks is heavier than air, and does not climb",
                    say_name(judge, hose), say_name(judge, locker), finding->verdict == VERDICT_OPEN ? "may rise" : "rises");
        finding_remedy(judge, finding, "a drain that falls all the way");
    }
}

void judge_gas_outlet(Judge *judge, const Entity *subject)
{
    if (subject->kind == KIND_HOSE) {
        judge_drain_hose(judge, subject);
        return;
    }
    const Entity *fitting = subject, *locker = kept_open(judge, fitting);
    if (locker != NULL && locker->kind == KIND_GAS_LOCKER) {
        if (!judge_shared(judge, fitting, locker)) {
            judge_shut(judge, fitting, locker);
        }
        judge_drain_height(judge, fitting, locker);
        judge_drain_bore(judge, fitting, PROP_THROUGH_HULL_BORE, locker);
        judge_drain_climbs(judge, fitting, locker);
        judge_drain_falls(judge, fitting, locker);
    }
}

/* ---- burner-outlet ------------------------------------------------------------------------------------- */

/* Whether another fitting serves the same burner: one of the two may be the pipe by which it draws air. */
static bool has_another(const Judge *judge, const Entity *fitting, const Entity *burner)
{
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (e != fitting && serves_open(judge->model, e) == burner) {
            return true;
        }
    }
    return false;
}

static void judge_burner_hot(Judge *judge, const Entity *fitting, const Entity *burner)
{
    int air = entity_yes(fitting, PROP_THROUGH_HULL_AIR_INTAKE);
    if (air == 1 || !str_is(entity_word(fitting, PROP_THROUGH_HULL_MATERIAL), "plastic")) {
        return;
    }
    if (air == -2) {
        judge_waiting(judge);
        return;
    }
    bool unclear = air == -1 && has_another(judge, fitting, burner);
    Span place = place_of(judge, fitting, PROP_THROUGH_HULL_MATERIAL);
    Finding *finding = unclear ? judge_open(judge, fitting, place, fitting, PROP_THROUGH_HULL_AIR_INTAKE) : judge_broken(judge, fitting, place);
    finding_about(finding, PROP_THROUGH_HULL_MATERIAL);
    finding_say(judge, finding,
                unclear ? "`%s` is of plastic, and does not say whether `%s` draws its air by it: what it burns leaves hot, and melts it"
                        : "`%s` is of plastic, and what `%s` burns leaves by it hot: it melts, and burns",
                say_name(judge, fitting), say_name(judge, burner));
    finding_remedy(judge, finding, "material stainless, and what is made for hot exhausts around it");
    if (air == -1) {
        finding_remedy(judge, finding, "`air-intake yes`, if nothing but its air comes in there");
    }
}

/*
 * The sea that she heels into runs over the highest place of the pipe into the burner. perhaps_at_rest: the sea may be there as
 * she lies, which is told alone where it is so: then it is not certain that this is to be told.
 */
static void judge_burner_heeled(Judge *judge, const Entity *fitting, const Entity *burner, bool perhaps_at_rest)
{
    Side outlet = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0), water = waterline_at(judge, fitting);
    Side highest = outlet, neck = side_value(judge, fitting, PROP_THROUGH_HULL_SWAN_NECK, 0);
    if (side_is_known(outlet) && neck.state != STATE_MISSING) {
        highest = neck;
        highest.value = interval_max(neck.value, outlet.value);
    }
    Finding *finding = judge_at_least(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT), highest, water);
    if (finding == NULL) {
        return;
    }
    finding_about(finding, PROP_THROUGH_HULL_SWAN_NECK);
    finding_severity(finding, SEVERITY_WARNING);
    finding_rests_on(judge, finding, fitting, PROP_THROUGH_HULL_HEIGHT);
    if (neck.state == STATE_MISSING) {
        finding_left_open(judge, finding, fitting, PROP_THROUGH_HULL_SWAN_NECK);
    } else if (perhaps_at_rest) {
        finding_left_open(judge, finding, fitting, PROP_THROUGH_HULL_HEIGHT);
    }
    finding_say(judge, finding, "`%s` of `%s` stands %s: heeled, the sea comes up to %s%s", say_name(judge, fitting),
                say_name(judge, burner), say_from_water(judge, outlet), say_reach(judge, water, outlet.unit),
                neck.state == STATE_MISSING ? ", and nothing says that the pipe rises higher before it"
                                            : ", over the highest place of its pipe");
    note_heel(judge, finding);
    if (side_is_known(water) && isfinite(water.value.high)) {
        finding_remedy(judge, finding, "an outlet as high, or a pipe that rises before it: swan-neck %s", say_up(judge, water.value.high, outlet.unit));
    }
}

static void judge_burner_height(Judge *judge, const Entity *fitting, const Entity *burner)
{
    if (!entity_states(fitting, PROP_THROUGH_HULL_HEIGHT)) {
        judge_unmeasured(judge, fitting, PROP_THROUGH_HULL_HEIGHT);
        return;
    }
    Finding *finding = judge_at_rest(judge, fitting, burner_clear_m);
    if (finding == NULL || finding->verdict == VERDICT_OPEN) {
        judge_burner_heeled(judge, fitting, burner, finding != NULL);
    }
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, "`%s` of `%s` stands %s the water: a burner that the sea chokes or floods goes out, or smokes into the boat",
                say_name(judge, fitting), say_name(judge, burner),
                finding->severity == SEVERITY_WARNING  ? "hardly above"
                : finding->verdict == VERDICT_OPEN ? "perhaps under"
                                                     : "under");
}

void judge_burner_outlet(Judge *judge, const Entity *fitting)
{
    const Entity *burner = serves_open(judge->model, fitting);
    if (burner != NULL && burner->kind != KIND_GAS_LOCKER) {
        if (!judge_shared(judge, fitting, burner)) {
            judge_shut(judge, fitting, burner);
        }
        judge_burner_hot(judge, fitting, burner);
        judge_burner_height(judge, fitting, burner);
    }
}
