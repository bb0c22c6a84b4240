/*
 * Two rules of the family rules_drive, of what is on an engine for the sake of people: backfire, engine-cut-off.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "figures/water.h"

/* ---- backfire ------------------------------------------------------------------------------------------ */

void judge_backfire(Judge *judge, const Entity *engine)
{
    if (!is_petrol_inboard(engine)) {
        return;
    }
    Finding *finding = judge_yes(judge, engine, PROP_ENGINE_FLAME_ARRESTER, "a flame arrester on its air intake");
    if (finding != NULL && judge->basis == BASIS_ISO) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_here(judge, finding, "46 CFR 25.35-1 as a benchmark: ISO 13592 was not at hand");
    }
}

/* ---- engine-cut-off ------------------------------------------------------------------------------------ */

static const double covered_m = 26.0 * 0.3048; /* 46 USC 4312: boats under 26 ft, verified */
/* What gives 115 lbf of thrust at rest, the law's own measure: some 3 hp with a usual propeller (from memory). */
static const double covered_w = 3.0 * 745.7;

/* She can leave her own bow wave behind; where she does not say, one with an engine outside of the hull is taken to. */
static bool runs_fast(const Entity *boat, const Entity *engine)
{
    Str hull = entity_word(boat, PROP_BOAT_HULL);
    return hull.length > 0 ? !str_is(hull, "displacement") : is_outboard(engine) || is_sterndrive(engine);
}

void judge_engine_cut_off(Judge *judge, const Entity *engine)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || has_mistake(boat, PROP_BOAT_HULL) || has_mistake(engine, PROP_ENGINE_MOUNTED)) {
        judge_waiting(judge);
        return;
    }
    Side length = side_value(judge, boat, PROP_BOAT_LENGTH, 0), power = side_value(judge, engine, PROP_ENGINE_RATED, 0);
    Answer longer = ask_at_least(length, side_number(covered_m, length.unit));
    Answer strong = ask_at_least(power, side_number(covered_w, power.unit));
    if (!runs_fast(boat, engine) || longer == ANSWER_YES || strong == ANSWER_NO) {
        return;
    }
    if (longer == ANSWER_UNKNOWN || strong == ANSWER_UNKNOWN) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_yes(judge, engine, PROP_ENGINE_CUT_OFF, "a switch that stops it when whoever steers is thrown from the helm");
    if (finding != NULL && longer == ANSWER_PERHAPS) {
        finding_left_open(judge, finding, boat, PROP_BOAT_LENGTH);
    }
    if (finding != NULL && strong == ANSWER_PERHAPS) {
        finding_left_open(judge, finding, engine, PROP_ENGINE_RATED);
    }
}
