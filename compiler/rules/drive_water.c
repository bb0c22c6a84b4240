/*
 * Two rules of the family rules_drive about an engine's sea water: intake-hose, on its way from the hull to the pump, and
 * exhaust-wet, whether an exhaust that is said to be dry can be.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "rules/plumbing.h"

/* ---- intake-hose --------------------------------------------------------------------------------------- */

enum { INTAKE_MOST = 16, WAYS_MOST = 64, LOOKED_AT_MOST = HOSES_BACK + WAYS_MOST };

/* One way from the hull to an engine: its hoses, the last one first, and what stands between them. */
typedef struct Intake {
    const Entity *engine;
    const Entity *hoses[INTAKE_MOST];
    uint32_t count;
    const Entity *strainer; /* one of those between, or that sits in a hose; NULL: none */
} Intake;

/* All ways to one engine. What several of them have in common is looked at once. */
typedef struct Intakes {
    Judge *judge;
    const Plumbing *plumbing;
    uint32_t ways;
    const Entity *looked_at[LOOKED_AT_MOST];
    uint32_t looked_at_count;
} Intakes;

static bool is_new(Intakes *intakes, const Entity *thing)
{
    for (uint32_t i = 0; i < intakes->looked_at_count; i++) {
        if (intakes->looked_at[i] == thing) {
            return false;
        }
    }
    bool room = intakes->looked_at_count < LOOKED_AT_MOST;
    if (room) {
        intakes->looked_at[intakes->looked_at_count++] = thing;
    }
    return room;
}

static const Entity *strainer_on(const Judge *judge, const Entity *hose)
{
    const Entity *strainer = first_aboard(judge->model, KIND_STRAINER);
    while (strainer != NULL && entity_reference(strainer, PROP_STRAINER_ON) != hose) {
        strainer = next_aboard(strainer);
    }
    return strainer;
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

static void judge_strained(Intakes *intakes, const Intake *intake)
{
    Judge *judge = intakes->judge;
    const Entity *first = intake->hoses[intake->count - 1];
    if (intake->strainer != NULL) {
        judge_holds(judge);
        if (is_new(intakes, intake->strainer)) {
            judge_wide(judge, intake, intake->strainer, PROP_STRAINER_BORE);
        }
        return;
    }
    Finding *finding = judge_broken(judge, intake->engine, place_of(judge, first, PROP_HOSE_TO));
    finding_at(finding, first);
    finding_matter(finding, "strainer");
    finding_say(judge, finding, "no strainer stands between the hull and `%s`, on `%s`", say_name(judge, intake->engine),
                say_name(judge, first));
    finding_remedy(judge, finding, "a `strainer` with `on %s`", say_name(judge, first));
}

static void judge_way(Intakes *intakes, const Intake *intake)
{
    for (uint32_t i = 0; i < intake->count; i++) {
        if (is_new(intakes, intake->hoses[i])) {
            judge_wide(intakes->judge, intake, intake->hoses[i], PROP_HOSE_BORE);
            judge_made_for_it(intakes->judge, intake, intake->hoses[i]);
        }
    }
    judge_strained(intakes, intake);
}

static bool is_on_way(const Intake *intake, const Entity *hose)
{
    uint32_t i = 0;
    while (i < intake->count && intake->hoses[i] != hose) {
        i++;
    }
    return i < intake->count;
}

/*
 * Follows the water back from a hose to fittings in the hull, through strainers, pumps and what only joins, by every hose that
 * leads there. What comes from elsewhere is warm water, or from nobody knows where: `engine-joined`, `unplumbed`.
 */
static void follow_back(Intakes *intakes, Intake intake, const Entity *hose)
{
    const Entity *from, *to;
    if (intake.count == INTAKE_MOST || intakes->ways == WAYS_MOST || is_on_way(&intake, hose) || !is_aboard(hose) ||
        !hose_ends(hose, &from, &to)) {
        return;
    }
    intake.hoses[intake.count++] = hose;
    intake.strainer = intake.strainer != NULL ? intake.strainer : strainer_on(intakes->judge, hose);
    if (from->kind == KIND_THROUGH_HULL) {
        intakes->ways++;
        judge_way(intakes, &intake);
    } else if (is_joint(from) || from->kind == KIND_PUMP) {
        intake.strainer = from->kind == KIND_STRAINER ? from : intake.strainer;
        for (const Entity *h = intakes->plumbing->into.first[from->index]; h != NULL; h = intakes->plumbing->into.next[h->index]) {
            follow_back(intakes, intake, h);
        }
    }
}

void judge_intake_hose(Judge *judge, const Entity *engine)
{
    if (!takes_sea_water(engine) || first_aboard(judge->model, KIND_HOSE) == NULL) {
        return;
    }
    Intakes intakes = {.judge = judge, .plumbing = plumbing_of(judge->figures)};
    const HoseList *into = &intakes.plumbing->into;
    if (intakes.plumbing->lost_hoses) {
        judge_waiting(judge);
    }
    for (const Entity *hose = into->first[engine->index]; hose != NULL; hose = into->next[hose->index]) {
        follow_back(&intakes, (Intake){.engine = engine}, hose);
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
