/*
 * Two rules of the family rules_fuel: wrong-fuel, lines that are crossed between fuels; which-fuel, tanks of which
 * nobody knows what is in them, and what finds no tank of its fuel.
 */
#include "rules/fuel_rules.h"

#include "figures/fuel_plan.h"
#include "rules/ask.h"

static bool is_said(const Entity *entity)
{
    return fuel_stated(entity) != FUEL_UNKNOWN;
}

/* ---- wrong-fuel -------------------------------------------------------------------------------------------- */

/* A fuel tank that holds another fuel than this burner burns. */
typedef struct Crossing {
    const Entity *burner, *tank;
    const Entity *by;    /* the line, or the pump, that leaves the tank */
    const Entity *feeds; /* what else tells the tank's fuel; NULL: the tank itself, or nothing */
    Fuel burned, held;
} Crossing;

/* What is right then: another tank, or other words. */
static void remedy_crossing(Judge *judge, Finding *finding, const Crossing *crossing)
{
    const Entity *other = first_tank(judge->model, "fuel");
    while (other != NULL && fuel_held(judge->model, other) != crossing->burned) {
        other = next_tank(other, "fuel");
    }
    if (other != NULL) {
        finding_remedy(judge, finding, "from %s", say_name(judge, other));
    } else {
        finding_remedy(judge, finding, "a line from a tank of %s", fuel_word(crossing->burned));
    }
    if (!is_said(crossing->burner)) {
        finding_remedy(judge, finding, "`fuel %s` of `%s`, if its maker says that it burns it",
                       fuel_word(crossing->held), say_name(judge, crossing->burner));
    }
}

static void tell_crossing(Judge *judge, const Crossing *crossing)
{
    Span place =
        place_of(judge, crossing->by, crossing->by->kind == KIND_PUMP ? PROP_PUMP_FROM : PROP_FUEL_LINE_FROM);
    bool sure_tank = is_said(crossing->tank) || (crossing->feeds != NULL && is_said(crossing->feeds));
    Finding *finding;
    if (!is_said(crossing->burner)) {
        finding = judge_open(judge, crossing->burner, place, crossing->burner,
                             fuel_prop((KindId)crossing->burner->kind));
    } else if (!sure_tank) {
        finding = judge_open(judge, crossing->burner, place, crossing->tank, PROP_TANK_FUEL);
    } else {
        finding = judge_broken(judge, crossing->burner, place);
    }
    finding_at(finding, crossing->tank);
    finding_say(judge, finding, "`%s` brings `%s` %s out of `%s`, and it %s %s",
                say_name(judge, crossing->by), say_name(judge, crossing->burner), fuel_word(crossing->held),
                say_name(judge, crossing->tank),
                is_said(crossing->burner) ? "burns" : "does not say what it burns; it is taken to burn",
                fuel_word(crossing->burned));
    if (crossing->feeds != NULL) {
        finding_note(judge, finding, place_of_name(judge, crossing->feeds),
                     "`%s` feeds this too: so it counts as one of %s", say_name(judge, crossing->tank),
                     fuel_word(crossing->held));
    } else {
        finding_note(judge, finding, place_of(judge, crossing->tank, PROP_TANK_FUEL), "this holds %s",
                     fuel_word(crossing->held));
    }
    remedy_crossing(judge, finding, crossing);
}

void judge_wrong_fuel(Judge *judge, const Entity *burner)
{
    if (!is_aboard(burner) || !is_burner(judge->model, burner)) {
        return;
    }
    Fuel burned = fuel_burned(judge->model, burner);
    FuelWay way = fuel_sources(judge->model, burner);
    for (uint32_t i = 1; i < way.count; i++) {
        const Entity *tank = way.things[i];
        if (!holds_fuel(tank)) {
            continue;
        }
        Fuel held = fuel_held(judge->model, tank);
        if (held == FUEL_UNKNOWN || burned == FUEL_UNKNOWN) {
            judge_waiting(judge); /* a mistake, or told by `which-fuel` */
        } else if (held == burned) {
            judge_holds(judge);
        } else {
            tell_crossing(
                judge, &(Crossing){burner, tank, way.by[i], fuel_held_by(judge->model, tank), burned, held});
        }
    }
}

/* ---- which-fuel -------------------------------------------------------------------------------------------- */

static void judge_tank(Judge *judge, const Entity *tank)
{
    bool states = entity_states(tank, PROP_TANK_FUEL);
    if (has_mistake(tank, PROP_TANK_HOLDS) || has_mistake(tank, PROP_TANK_FUEL)) {
        judge_waiting(judge);
    } else if (states && !holds_fuel(tank)) {
        Finding *finding = judge_broken(judge, tank, place_of(judge, tank, PROP_TANK_FUEL));
        finding_say(judge, finding, "`%s` does not hold fuel, and says which", say_name(judge, tank));
        finding_remedy(judge, finding, "holds fuel");
        finding_remedy(judge, finding, "no `fuel`");
    } else if (!holds_fuel(tank)) {
        return;
    } else if (fuel_held(judge->model, tank) == FUEL_UNKNOWN) {
        Finding *finding = judge_open(judge, tank, place_of_name(judge, tank), tank, PROP_TANK_FUEL);
        finding_say(
            judge, finding,
            "`%s` does not say which fuel it holds, no line from it tells, and more than one is burned aboard",
            say_name(judge, tank));
        finding_remedy(judge, finding, "fuel diesel");
        finding_remedy(judge, finding, "fuel petrol");
    } else {
        judge_holds(judge);
    }
}

/* Whether a line brings it fuel from a tank, or else a tank holds its fuel, or may. */
static bool finds_fuel(const Model *model, const Entity *burner, Fuel burned)
{
    FuelWay way = fuel_sources(model, burner);
    for (uint32_t i = 1; i < way.count; i++) {
        if (holds_fuel(way.things[i])) {
            return true;
        }
    }
    for (const Entity *tank = first_tank(model, "fuel"); tank != NULL; tank = next_tank(tank, "fuel")) {
        Fuel held = fuel_held(model, tank);
        if (held == burned || held == FUEL_UNKNOWN || way.broken) {
            return true;
        }
    }
    return false;
}

/* An engine that is carried has a tank of its own. A spec without a tank of fuel has not come to that yet. */
static void judge_burner(Judge *judge, const Entity *burner)
{
    Fuel burned = fuel_burned(judge->model, burner);
    bool carried = burner->kind == KIND_ENGINE && entity_yes(burner, PROP_COMMON_PORTABLE) == 1;
    if (first_tank(judge->model, "fuel") == NULL || carried) {
        return;
    }
    if (burned == FUEL_UNKNOWN || some_is_mistaken(judge, KIND_TANK) ||
        some_is_mistaken(judge, KIND_FUEL_LINE)) {
        judge_waiting(judge);
        return;
    }
    if (finds_fuel(judge->model, burner, burned)) {
        judge_holds(judge);
        return;
    }
    PropId prop = fuel_prop((KindId)burner->kind);
    bool said = is_said(burner);
    Finding *finding = said ? judge_broken(judge, burner, place_of(judge, burner, prop))
                            : judge_open(judge, burner, place_of_name(judge, burner), burner, prop);
    finding_say(judge, finding, "`%s` %s %s, and no tank aboard holds any: nothing tells how long it lasts",
                say_name(judge, burner), said ? "burns" : "does not say what it burns and is taken to burn",
                fuel_word(burned));
    finding_remedy(judge, finding, "`fuel %s` of the tank that it draws on", fuel_word(burned));
    if (!said) {
        finding_remedy(judge, finding, "fuel %s",
                       fuel_word(burned == FUEL_DIESEL ? FUEL_PETROL : FUEL_DIESEL));
    }
    finding_of_heater(judge, finding, burner);
}

void judge_which_fuel(Judge *judge, const Entity *subject)
{
    if (!is_aboard(subject)) {
        return;
    }
    if (subject->kind == KIND_TANK) {
        judge_tank(judge, subject);
    } else if (is_burner(judge->model, subject)) {
        judge_burner(judge, subject);
    }
}
