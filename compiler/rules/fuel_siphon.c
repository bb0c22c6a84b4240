/*
 * One rule of the family rules_fuel: petrol-siphon. Whether a tank of petrol within the hull can run empty through the line that
 * draws from it: by its own height, where the line leaves below the tank's top, or by siphoning. It runs into the same bilge
 * whoever burns it.
 */
#include "rules/fuel_rules.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "model/tank_sides.h"
#include "rules/ask.h"

/* Who draws by a line: nobody whom this rule asks; an outboard; an engine or a generator within the hull, which goes before. */
typedef enum Drawing { DRAWN_BY_NONE, DRAWN_BY_OUTBOARD, DRAWN_BY_INBOARD } Drawing;

static Drawing drawing_of(const Entity *thing)
{
    return is_petrol_inboard(thing)                             ? DRAWN_BY_INBOARD
           : thing->kind == KIND_ENGINE && is_outboard(thing) ? DRAWN_BY_OUTBOARD
                                                                : DRAWN_BY_NONE;
}

/* Be it by another line behind it. */
static Drawing drawing_by(const Judge *judge, const Entity *line)
{
    const Entity *to = entity_reference(line, PROP_FUEL_LINE_TO);
    Drawing drawing = drawing_of(to);
    if (drawing == DRAWN_BY_NONE && to->kind != KIND_TANK) {
        FuelWay way = fuel_targets(judge->model, to);
        for (uint32_t i = 0; i < way.count; i++) {
            Drawing one = drawing_of(way.things[i]);
            drawing = one > drawing ? one : drawing;
        }
    }
    return drawing;
}

/* A tank that is carried is left out where it stands on deck, or nobody says where; below deck it is as any other. */
static bool is_on_deck(const Entity *tank)
{
    const Entity *space = entity_reference(tank, PROP_COMMON_SPACE);
    return entity_yes(tank, PROP_COMMON_PORTABLE) == 1 && (space == NULL || is_open_air(space));
}

/* The law is of the one basis, and of engines within the hull. What another one asks was not at hand, and the danger is the same. */
static void mark_basis(Judge *judge, Finding *finding, Drawing drawing, const char *clause)
{
    if (drawing == DRAWN_BY_OUTBOARD) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_here(judge, finding, "33 CFR %s leaves outboards out; ABYC H-24 asks it of their built-in tanks too (from memory)", clause);
    } else if (judge->basis == BASIS_ISO) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_here(judge, finding, "33 CFR %s as a benchmark: ISO 10088 was not at hand", clause);
    }
}

static void judge_leaves_below(Judge *judge, const Entity *line, const Entity *tank, Drawing drawing, int below)
{
    bool says = below == 1;
    Finding *finding = says ? judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_BELOW_TOP))
                            : judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_BELOW_TOP);
    finding_about(finding, PROP_FUEL_LINE_BELOW_TOP);
    finding_say(judge, finding,
                says ? "`%s` draws petrol from below the top of `%s`: where it bursts or its joint leaks, the tank runs into the boat"
                     : "`%s` does not say whether it draws petrol from below the top of `%s`",
                say_name(judge, line), say_name(judge, tank));
    finding_remedy(judge, finding, "%s`below-top no`", says ? "a pipe inside the tank that leaves it at its top, and " : "");
    mark_basis(judge, finding, drawing, "183.518");
}

/* The tank's top lies below the engine: known of a tank that states its height inside, wherever in it `at` is. */
static bool top_is_lower(const Judge *judge, const Entity *line, const Entity *tank)
{
    const Entity *engine = entity_reference(line, PROP_FUEL_LINE_TO);
    TankSide height = tank_side(tank, TANK_HEIGHT);
    Side low = side_value(judge, tank, PROP_COMMON_AT, 2), tall = side_value(judge, tank, height.prop, height.slot);
    Side high = side_value(judge, engine, PROP_COMMON_AT, 2);
    Side top = side_interval(interval_add(low.value, tall.value), low.unit);
    return side_is_known(low) && side_is_known(tall) && side_is_known(high) && ask_at_least(high, top) == ANSWER_YES;
}

/* Metal or A1, with a valve at the tank: enough without a device where the tank's top lies below the engine's inlet. */
static bool is_stout(const Entity *line)
{
    Str grade = entity_word(line, PROP_FUEL_LINE_GRADE);
    return entity_yes(line, PROP_FUEL_LINE_SHUT_OFF) == 1 && (str_is(grade, "A1") || str_is(grade, "metal"));
}

static void judge_siphons(Judge *judge, const Entity *line, const Entity *tank)
{
    int device = entity_yes(line, PROP_FUEL_LINE_ANTI_SIPHON);
    bool stout = is_stout(line);
    if (device == 1 || (stout && top_is_lower(judge, line, tank))) {
        judge_holds(judge);
        return;
    }
    if (device == -2) {
        judge_waiting(judge);
        return;
    }
    bool broken = device == 0 && !stout;
    Finding *finding = broken ? judge_broken(judge, line, place_of(judge, line, PROP_FUEL_LINE_ANTI_SIPHON))
                              : judge_open(judge, line, place_of_name(judge, line), line, PROP_FUEL_LINE_ANTI_SIPHON);
    finding_about(finding, PROP_FUEL_LINE_ANTI_SIPHON);
    if (device != 0) {
        finding_say(judge, finding, "`%s` does not say whether anything stops the petrol of `%s` from siphoning out where it bursts",
                    say_name(judge, line), say_name(judge, tank));
    } else if (broken) {
        finding_say(judge, finding, "nothing stops the petrol of `%s` from siphoning out where `%s` bursts", say_name(judge, tank),
                    say_name(judge, line));
    } else {
        finding_say(judge, finding,
                    "nothing but a valve stops the petrol of `%s` from siphoning out where `%s` bursts: enough only where the tank's "
                    "top lies below the engine's inlet, which the spec does not show",
                    say_name(judge, tank), say_name(judge, line));
    }
    finding_remedy(judge, finding, "anti-siphon yes");
    finding_severity(finding, SEVERITY_WARNING);
}

void judge_petrol_siphon(Judge *judge, const Entity *line)
{
    const Entity *from = entity_reference(line, PROP_FUEL_LINE_FROM), *to = entity_reference(line, PROP_FUEL_LINE_TO);
    bool back = is_return(line);
    const Entity *tank = back ? to : from;
    if (from == NULL || to == NULL || has_mistake(line, PROP_FUEL_LINE_RETURN)) {
        judge_waiting(judge);
        return;
    }
    if (tank->kind != KIND_TANK || is_on_deck(tank) || fuel_carried(judge->model, line) != FUEL_PETROL) {
        return;
    }
    Drawing drawing = back ? drawing_of(from) : drawing_by(judge, line);
    if (drawing == DRAWN_BY_NONE) {
        return;
    }
    int below = entity_yes(line, PROP_FUEL_LINE_BELOW_TOP);
    if (below == 0) {
        judge_holds(judge);
    } else if (below == -2) {
        judge_waiting(judge);
    } else if (below == 1 || !back) { /* what a return does not say is asked by `fuel-valves` */
        judge_leaves_below(judge, line, tank, drawing, below);
    }
    bool carried = entity_yes(tank, PROP_COMMON_PORTABLE) == 1 && drawing == DRAWN_BY_OUTBOARD; /* it is sold with its hose, without one */
    if (below == 1) {
        judge_gives_way(judge); /* it runs out without siphoning */
    } else if (!back && !carried) {
        judge_siphons(judge, line, tank);
    }
}
