/*
 * Two rules of the family rules_drive about an engine's sea water: intake-hose, on its way from the hull to the pump, and
 * exhaust-wet, whether an exhaust that is said to be dry can be.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "rules/plumbing.h"

/* ---- intake-hose --------------------------------------------------------------------------------------- */

enum { INTAKE_MOST = 16 };

/* Hoses from the hull to an engine, the last one first, and what stands between them. */
typedef struct Intake {
    const Entity *engine;
    const Entity *hoses[INTAKE_MOST];
    uint32_t count;
    const Entity *strainer; /* one of those between, or that sits in a hose; NULL: none */
} Intake;

static const Entity *strainer_on(const Judge *judge, const Entity *hose)
{
    const Entity *strainer = first_aboard(judge->model, KIND_STRAINER);
    while (strainer != NULL && entity_reference(strainer, PROP_STRAINER_ON) != hose) {
        strainer = next_aboard(strainer);
    }
    return strainer;
}

/* Follows the water back from a hose to a fitting in the hull, through strainers, pumps and what only joins; false: it comes from elsewhere. */
static bool follow_back(const Judge *judge, const Plumbing *plumbing, const Entity *hose, Intake *intake)
{
    while (hose != NULL && intake->count < INTAKE_MOST) {
        const Entity *from, *to;
        if (!is_aboard(hose) || !hose_ends(hose, &from, &to)) {
            return false;
        }
        intake->hoses[intake->count++] = hose;
        intake->strainer = intake->strainer != NULL ? intake->strainer : strainer_on(judge, hose);
        if (from->kind == KIND_THROUGH_HULL) {
            return true;
        }
        if (from->kind != KIND_STRAINER && from->kind != KIND_PUMP && from->kind != KIND_ITEM) {
            return false;
        }
        intake->strainer = from->kind == KIND_STRAINER ? from : intake->strainer;
        hose = plumbing->into.first[from->index];
    }
    return false;
}

/* The bore of a hose or of a strainer, against what the engine's power asks of its intake. */
static void judge_wide(Judge *judge, const Intake *intake, const Entity *thing, PropId prop)
{
    const Figure *least = intake_need(judge, intake->engine, thing);
    if (least == NULL || !entity_states(thing, prop)) {
        return;
    }
    Side bore = side_value(judge, thing, prop, 0);
    Finding *finding = judge_at_least(judge, thing, place_of(judge, thing, prop), bore, side_figure(least));
    if (finding != NULL) {
        finding_at(finding, intake->engine);
        finding_about(finding, prop);
        finding_say(judge, finding, "`%s` has a bore of %s, on the way of the sea water to `%s`; for its power%s %s is the least",
                    say_name(judge, thing), say_side(judge, bore), say_name(judge, intake->engine), say_with_others(least),
                    say_figure(judge, least));
        finding_remedy(judge, finding, "bore %s", say_up(judge, least->high, bore.unit));
    }
}

static void judge_made_for_it(Judge *judge, const Intake *intake, const Entity *hose)
{
    Str grade = entity_word(hose, PROP_HOSE_GRADE);
    if (grade.length == 0) {
        return;
    }
    if (!str_is(grade, "water") && !str_is(grade, "fuel")) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, hose, place_of(judge, hose, PROP_HOSE_GRADE));
    finding_at(finding, intake->engine);
    finding_about(finding, PROP_HOSE_GRADE);
    finding_say(judge, finding, "`%s` brings sea water to `%s`, and is a hose that is made for %s", say_name(judge, hose),
                say_name(judge, intake->engine), str_is(grade, "water") ? "drinking water" : "fuel");
    finding_remedy(judge, finding, "grade raw-water");
}

static void judge_strained(Judge *judge, const Intake *intake)
{
    const Entity *first = intake->hoses[intake->count - 1];
    if (intake->strainer != NULL) {
        judge_holds(judge);
        judge_wide(judge, intake, intake->strainer, PROP_STRAINER_BORE);
        return;
    }
    Finding *finding = judge_broken(judge, intake->engine, place_of(judge, first, PROP_HOSE_TO));
    finding_at(finding, first);
    finding_matter(finding, "strainer");
    finding_say(judge, finding, "no strainer stands between the hull and `%s`, on `%s`", say_name(judge, intake->engine),
                say_name(judge, first));
    finding_remedy(judge, finding, "a `strainer` with `on %s`", say_name(judge, first));
}

void judge_intake_hose(Judge *judge, const Entity *engine)
{
    if (!takes_sea_water(engine) || first_aboard(judge->model, KIND_HOSE) == NULL) {
        return;
    }
    const Plumbing *plumbing = plumbing_of(judge->figures);
    if (plumbing->lost_hoses) {
        judge_waiting(judge);
    }
    for (const Entity *hose = plumbing->into.first[engine->index]; hose != NULL; hose = plumbing->into.next[hose->index]) {
        Intake intake = {.engine = engine};
        if (!follow_back(judge, plumbing, hose, &intake)) {
            continue; /* warm water, or from nobody knows where: `engine-joined`, `unplumbed` */
        }
        for (uint32_t i = 0; i < intake.count; i++) {
            judge_wide(judge, &intake, intake.hoses[i], PROP_HOSE_BORE);
            judge_made_for_it(judge, &intake, intake.hoses[i]);
        }
        judge_strained(judge, &intake);
    }
}

/* ---- exhaust-wet --------------------------------------------------------------------------------------- */

/* Whether a hose takes the engine's sea water away by another way than its exhaust. */
static bool has_way_out(const Judge *judge, const Entity *engine)
{
    const Entity *hose = first_aboard(judge->model, KIND_HOSE);
    while (hose != NULL && entity_reference(hose, PROP_HOSE_FROM) != engine) {
        hose = next_aboard(hose);
    }
    return hose != NULL;
}

Answer pumps_sea_water(const Judge *judge, const Entity *engine)
{
    Side raw = side_value(judge, engine, PROP_ENGINE_RAW_WATER, 0);
    if (!burns_fuel(engine) || takes_sea_water(engine)) {
        return ANSWER_YES;
    }
    if (raw.state == STATE_MISSING) {
        return ANSWER_NO;
    }
    Answer none = ask_at_least(side_number(0.0, raw.unit), raw);
    return none == ANSWER_YES ? ANSWER_NO : none == ANSWER_NO ? ANSWER_YES : none;
}

void judge_exhaust_wet(Judge *judge, const Entity *exhaust)
{
    const Entity *engine = engine_of_exhaust(judge->model, exhaust);
    if (exhaust_is_wet(exhaust)) {
        return;
    }
    if (entity_states(exhaust, PROP_EXHAUST_LIFT)) {
        Side lift = side_value(judge, exhaust, PROP_EXHAUST_LIFT, 0);
        Finding *finding = judge_at_most(judge, exhaust, place_of(judge, exhaust, PROP_EXHAUST_LIFT), lift,
                                         side_number(0.0, lift.unit));
        if (finding != NULL) {
            finding_about(finding, PROP_EXHAUST_LIFT);
            finding_say(judge, finding, "`%s` is said to be dry, and a water lock lifts water by %s in it", say_name(judge, exhaust),
                        say_side(judge, lift));
            finding_note(judge, finding, place_of(judge, exhaust, PROP_EXHAUST_WET), "said here: nothing is asked of its riser then");
            finding_remedy(judge, finding, "wet yes");
            finding_remedy(judge, finding, "no `lift`");
        }
    }
    if (engine == NULL || !entity_states(engine, PROP_ENGINE_RAW_WATER) || has_way_out(judge, engine)) {
        judge_holds(judge);
        return;
    }
    Side raw = side_value(judge, engine, PROP_ENGINE_RAW_WATER, 0);
    Finding *finding = judge_at_most(judge, exhaust, place_of(judge, exhaust, PROP_EXHAUST_WET), raw, side_number(0.0, raw.unit));
    if (finding == NULL) {
        return; /* cooled by the keel: it pumps none */
    }
    finding_about(finding, PROP_EXHAUST_WET);
    finding_say(judge, finding, "`%s` is said to be dry, and nothing else takes away the sea water that `%s` pumps",
                say_name(judge, exhaust), say_name(judge, engine));
    finding_note(judge, finding, place_of(judge, engine, PROP_ENGINE_RAW_WATER), "this comes in");
    finding_remedy(judge, finding, "wet yes");
    finding_remedy(judge, finding, "a `hose` from `%s` to a through-hull", say_name(judge, engine));
}
