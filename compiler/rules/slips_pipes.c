/*
 * Four rules of the family rules_slips about pumps and their pipes: pump-power, flow and head that a pump has not the power for;
 * loop-high, a vented loop in the air above the boat; hose-narrow, sewage through a hose that it blocks; outlet-unlike, a bilge
 * pump whose `outlet` is another one than its hoses.
 */
#include "rules/slips.h"

#include "figures/pipes.h"
#include "physics/pipe.h"
#include "rules/plumbing.h"

#include <math.h>

/* ---- pump-power ---------------------------------------------------------------------------------------- */

/* The largest pumps that are worked by hand move some 150 l/min. Common practice, no source; twice that is no pump. */
static const double by_arm_m3_per_s = 0.3 / 60.0;

static void judge_arm(Judge *judge, const Entity *pump, PropId flow)
{
    Side moved = side_value(judge, pump, flow, 0);
    if (moved.state == STATE_MISSING) {
        return;
    }
    Finding *finding = judge_at_most(judge, pump, place_of(judge, pump, flow), moved, side_number(by_arm_m3_per_s, moved.unit));
    if (finding != NULL) {
        bool open = finding->verdict == VERDICT_OPEN;
        finding_say(judge, finding, "`%s` %s %s by hand: no arm does, %s is beyond the largest of them", say_name(judge, pump),
                    open ? "may move" : "is said to move", say_side(judge, moved), say_number(judge, by_arm_m3_per_s, moved.unit));
        finding_remedy(judge, finding, "`%s` by its maker's sheet; minutes are soon taken for hours", props[flow].word);
    }
}

/* Without a shut-off head, what it gives at least: more than it draws is a slip, less says nothing. */
static void judge_least_power(Judge *judge, const Entity *pump, const Figure *given, PropId flow)
{
    if (given->state != STATE_KNOWN) {
        return;
    }
    PropId at_least = pump->kind == KIND_PUMP ? PROP_PUMP_PRESSURE : PROP_BILGE_PUMP_LIFT;
    bool stated = entity_states(pump, at_least);
    Finding *finding = judge_at_most(judge, pump, place_of(judge, pump, flow), side_figure(given), side_number(1.0, UNIT_ALONE(UNIT_PERCENT)));
    if (finding == NULL) {
        return;
    }
    const char *height = stated ? say_side(judge, side_value(judge, pump, at_least, 0)) : "half a metre, as any pump does";
    const char *share = finding->verdict == VERDICT_OPEN ? say_figure(judge, given)
                                                         : text_format(judge->arena, "at least %s", say_number(judge, given->low, UNIT_ALONE(UNIT_PERCENT)));
    finding_say(judge, finding, "to move %s and to lift water by %s `%s` would give it %s of the power that it draws",
                say_side(judge, side_value(judge, pump, flow, 0)), height, say_name(judge, pump), share);
    finding_note(judge, finding, place_of(judge, pump, PROP_LOAD_DRAW), "what it draws");
    finding_remedy(judge, finding, "`%s` and `draw` of one pump, by its maker's sheet; minutes are soon taken for hours", props[flow].word);
}

/* A motor that draws nothing moves nothing; one that no power is said of is told by unmeasured. */
static bool draws_nothing(const Judge *judge, const Entity *pump)
{
    Side draw = side_value(judge, pump, PROP_LOAD_DRAW, 0);
    return entity_states(pump, PROP_LOAD_DRAW) && side_is_known(draw) && draw.value.high <= 0.0;
}

static void tell_no_draw(Judge *judge, const Entity *pump)
{
    Finding *finding = judge_broken(judge, pump, place_of(judge, pump, PROP_LOAD_DRAW));
    finding_about(finding, PROP_LOAD_DRAW);
    finding_say(judge, finding, "`%s` is no hand pump, and draws nothing", say_name(judge, pump));
    finding_remedy(judge, finding, "`draw`, by its maker's sheet");
    finding_remedy(judge, finding, "hand yes");
}

void judge_pump_power(Judge *judge, const Entity *pump)
{
    const Figure *given = figure_of(judge, pump, FIGURE_PUMP_EFFICIENCY);
    PropId flow = pump->kind == KIND_PUMP ? PROP_PUMP_FLOW : PROP_BILGE_PUMP_RATED;
    PropId shut_off = pump->kind == KIND_PUMP ? PROP_PUMP_SHUT_OFF : PROP_BILGE_PUMP_SHUT_OFF;
    if (entity_yes(pump, pump->kind == KIND_PUMP ? PROP_PUMP_HAND : PROP_BILGE_PUMP_HAND) == 1) {
        judge_arm(judge, pump, flow);
        return;
    }
    if (draws_nothing(judge, pump)) {
        tell_no_draw(judge, pump);
        return;
    }
    /* In amperes of no one voltage there is no share, which is no word that it has the power. */
    bool asked = entity_states(pump, PROP_LOAD_DRAW) && entity_states(pump, flow) && !(pump->flags & ENTITY_AC);
    if (given == NULL && !asked) {
        return;
    }
    if (given != NULL && !entity_states(pump, shut_off)) {
        judge_least_power(judge, pump, given, flow);
        return;
    }
    Finding *finding = judge_at_most(judge, pump, place_of(judge, pump, flow), side_figure(given),
                                     side_number(1.0, UNIT_ALONE(UNIT_PERCENT)));
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_OPEN) {
        finding_say(judge, finding, "whether `%s` has the power for its `%s` and `%s` is not decided: it would give the water %s of what it draws",
                    say_name(judge, pump), props[flow].word, props[shut_off].word, say_figure(judge, given));
        return;
    }
    finding_say(judge, finding, "to move %s and to press up to %s `%s` would give the water %s of the power that it draws",
                say_side(judge, side_value(judge, pump, flow, 0)), say_side(judge, side_value(judge, pump, shut_off, 0)),
                say_name(judge, pump), say_figure(judge, given));
    finding_note(judge, finding, place_of(judge, pump, PROP_LOAD_DRAW), "what it draws");
    finding_remedy(judge, finding, "`%s`, `%s` and `draw` of one pump, by its maker's sheet; minutes are soon taken for hours", props[flow].word,
                   props[shut_off].word);
}

/* ---- loop-high ----------------------------------------------------------------------------------------- */

/* So high above the deck edge a loop may stand in a coach roof or a coaming. Common practice, no source. */
static const double roof_m = 1.5;

void judge_loop_high(Judge *judge, const Entity *loop)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || !entity_states(boat, PROP_BOAT_FREEBOARD) || !entity_states(loop, PROP_VENT_LOOP_HEIGHT)) {
        return;
    }
    Side bow = side_value(judge, boat, PROP_BOAT_FREEBOARD, 0), stern = side_value(judge, boat, PROP_BOAT_FREEBOARD, 1);
    Side most = side_is_known(stern) && stern.value.high > bow.value.high ? stern : bow;
    Side height = side_value(judge, loop, PROP_VENT_LOOP_HEIGHT, 0);
    Side edge = most;
    most.value = interval_add(most.value, point(roof_m));
    most.property = NULL;
    Finding *finding = judge_at_most(judge, loop, place_of(judge, loop, PROP_VENT_LOOP_HEIGHT), height, most);
    if (finding == NULL) {
        return;
    }
    finding_rests_on(judge, finding, boat, PROP_BOAT_FREEBOARD);
    finding_say(judge, finding, "the top of `%s` stands %s above the waterline, and her side is %s high: no boat is there",
                say_name(judge, loop), say_side(judge, height), say_side(judge, edge));
    finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_FREEBOARD), "her side");
    finding_remedy(judge, finding, "the height of its top above the waterline, as it hangs in the boat");
}

/* ---- hose-narrow --------------------------------------------------------------------------------------- */

/*
 * What a hand pump pushes out of a bowl wants 38 mm, and some small bowls 25 mm; behind a motor that cuts it up 19 mm will do.
 * Common practice, no source.
 */
static const double by_hand_m = 0.025, cut_up_m = 0.019;

/* The bowl, else the tank, whose sewage a hose takes on, joints between or not; NULL: none. */
static const Entity *sewage_of(const Plumbing *plumbing, const Entity *hose)
{
    const Entity *found = NULL;
    FarEnds ends;
    joint_ends(plumbing, hose, entity_reference(hose, PROP_HOSE_FROM), FOLLOW_BACK, &ends);
    for (uint32_t i = 0; i < ends.count; i++) {
        const Entity *end = ends.things[i];
        bool black = end->kind == KIND_TANK && str_is(entity_word(end, PROP_TANK_HOLDS), "black");
        if (end->kind == KIND_TOILET) {
            return end;
        }
        found = found == NULL && black ? end : found;
    }
    return found;
}

void judge_hose_narrow(Judge *judge, const Entity *hose)
{
    const Entity *from = sewage_of(plumbing_of(judge->figures), hose);
    bool bowl = from != NULL && from->kind == KIND_TOILET;
    bool black = from != NULL && !bowl;
    Str works = bowl ? entity_word(from, PROP_TOILET_WORKED_BY) : entity_word(from, PROP_TANK_HOLDS);
    if ((!bowl && !black) || !entity_states(hose, PROP_HOSE_BORE) || str_is(works, "composting")) {
        return; /* one that composts lets out liquids alone */
    }
    Side bore = side_value(judge, hose, PROP_HOSE_BORE, 0);
    Side least = side_number(bowl && str_is(works, "hand") ? by_hand_m : cut_up_m, bore.unit);
    Finding *finding = judge_at_least(judge, hose, place_of(judge, hose, PROP_HOSE_BORE), bore, least);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` takes the sewage of `%s` through %s, and is soon blocked; %s is the least", say_name(judge, hose),
                    say_name(judge, from), say_side(judge, bore), say_side(judge, least));
        finding_remedy(judge, finding, "bore %s, as is usual", bore.unit.unit == UNIT_IN ? "1 1/2 in" : "38 mm");
    }
}

/* ---- outlet-unlike ------------------------------------------------------------------------------------- */

/* Trade sizes of a bore lie further apart than that, and a run that is guessed is hardly better. A choice of this program. */
static const double bore_apart = 1.1, run_apart = 1.25;

/* How many times the greater of two is the lesser: 1 where they are alike. */
static Side times_apart(Side a, Side b)
{
    Side apart = side_number(1.0, UNIT_ALONE(UNIT_NONE));
    apart.state = side_is_known(a) ? b.state : a.state;
    if (side_is_known(apart)) {
        apart.value.low = fmax(1.0, fmax(a.value.low / b.value.high, b.value.low / a.value.high));
        apart.value.high = fmax(a.value.high / b.value.low, b.value.high / a.value.low);
    }
    return apart;
}

/* The hoses from a pump on, together. */
static Side run_of(const Judge *judge, const Entity *const hoses[], uint32_t count)
{
    Side run = side_value(judge, hoses[0], PROP_HOSE_RUN, 0);
    for (uint32_t i = 1; i < count; i++) {
        Side more = side_value(judge, hoses[i], PROP_HOSE_RUN, 0);
        run.state = side_is_known(run) ? more.state : run.state;
        run.value = interval_add(run.value, more.value);
        run.property = NULL;
    }
    return run;
}

static void tell_unlike(Judge *judge, const Entity *pump, const Entity *hose, PropId prop, Side said, Side stated, double most)
{
    Finding *finding = judge_at_most(judge, pump, place_of(judge, pump, PROP_BILGE_PUMP_OUTLET), times_apart(said, stated),
                                     side_number(most, UNIT_ALONE(UNIT_NONE)));
    if (finding == NULL) {
        return;
    }
    const char *what = prop == PROP_HOSE_BORE ? "wide" : "long";
    finding_matter(finding, what);
    finding_rests_on(judge, finding, pump, PROP_BILGE_PUMP_OUTLET);
    finding_rests_on(judge, finding, hose, prop);
    finding_say(judge, finding, "by its `outlet` the hose of `%s` is %s %s, and by `%s`, which leads from it, %s", say_name(judge, pump),
                say_side(judge, said), what, say_name(judge, hose), say_side(judge, stated));
    finding_note(judge, finding, place_of(judge, hose, prop), "this is what its flow is computed with");
    finding_remedy(judge, finding, "no `outlet`: the hose says it; or the right measure on either line");
}

static void tell_other_inside(Judge *judge, const Entity *pump, const Entity *hose)
{
    const Value *said = property_value(entity_property(pump, PROP_BILGE_PUMP_OUTLET), 2);
    Str inside = entity_word(hose, PROP_HOSE_MATERIAL);
    if (said->kind != VALUE_WORD || inside.length == 0 || str_equal(said->u.word, inside)) {
        return;
    }
    Finding *finding = judge_broken(judge, pump, place_of(judge, pump, PROP_BILGE_PUMP_OUTLET));
    finding_matter(finding, "inside");
    finding_say(judge, finding, "by its `outlet` the hose of `%s` is %s, and by `%s`, which leads from it, %s", say_name(judge, pump),
                str_copy(judge->arena, said->u.word), say_name(judge, hose), str_copy(judge->arena, inside));
    finding_note(judge, finding, place_of(judge, hose, PROP_HOSE_MATERIAL), "this is what its flow is computed with");
    finding_remedy(judge, finding, "no `outlet`: the hose says it; or the right word on either line");
}

/* Where the water leaves by hoses that are stated, `outlet` says the same once more. */
void judge_outlet_unlike(Judge *judge, const Entity *pump)
{
    const Entity *hoses[HOSES_AFTER];
    uint32_t count = entity_states(pump, PROP_BILGE_PUMP_OUTLET) ? hoses_after(plumbing_of(judge->figures), pump, hoses) : 0;
    if (count == 0) {
        return;
    }
    const Entity *end = entity_reference(hoses[count - 1], PROP_HOSE_TO);
    tell_unlike(judge, pump, hoses[0], PROP_HOSE_BORE, side_value(judge, pump, PROP_BILGE_PUMP_OUTLET, 0),
                side_value(judge, hoses[0], PROP_HOSE_BORE, 0), bore_apart);
    tell_other_inside(judge, pump, hoses[0]);
    if (end != NULL && is_outlet(end)) { /* else more of its way may be left out */
        tell_unlike(judge, pump, hoses[0], PROP_HOSE_RUN, side_value(judge, pump, PROP_BILGE_PUMP_OUTLET, 1), run_of(judge, hoses, count),
                    run_apart);
    }
}
