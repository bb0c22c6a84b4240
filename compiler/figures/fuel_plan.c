/* See fuel_plan.h. */
#include "figures/fuel_plan.h"

#include "figures/drive.h"

/* ---- Words ------------------------------------------------------------------------------------------------ */

static const struct {
    const char *word;
    Content content;
} fuels[FUEL_COUNT] = {
    [FUEL_UNKNOWN] = {"fuel", CONTENT_DIESEL},        [FUEL_DIESEL] = {"diesel", CONTENT_DIESEL},
    [FUEL_PETROL] = {"petrol", CONTENT_PETROL},       [FUEL_PARAFFIN] = {"paraffin", CONTENT_PARAFFIN},
    [FUEL_SPIRIT] = {"spirit", CONTENT_SPIRIT},
};

const char *fuel_word(Fuel fuel)
{
    return fuels[fuel].word;
}

Content fuel_content(Fuel fuel)
{
    return fuels[fuel].content;
}

bool holds_fuel(const Entity *tank)
{
    return tank->kind == KIND_TANK && str_is(entity_word(tank, PROP_TANK_HOLDS), "fuel");
}

PropId fuel_prop(KindId kind)
{
    switch (kind) {
    case KIND_TANK: return PROP_TANK_FUEL;
    case KIND_ENGINE: return PROP_ENGINE_FUEL;
    case KIND_GENERATOR: return PROP_GENERATOR_FUEL;
    case KIND_HEATER: return PROP_HEATER_FUEL;
    case KIND_COOLER: return PROP_COOLER_FUEL;
    case KIND_BURNER: return PROP_BURNER_FUEL;
    default: return PROP_NONE;
    }
}

PropId fuel_rate_prop(KindId kind)
{
    switch (kind) {
    case KIND_GENERATOR: return PROP_GENERATOR_FUEL_RATE;
    case KIND_HEATER: return PROP_HEATER_FUEL_RATE;
    case KIND_COOLER: return PROP_COOLER_FUEL_RATE;
    case KIND_BURNER: return PROP_BURNER_FUEL_RATE;
    default: return PROP_NONE;
    }
}

bool burns_by_use(const Entity *burner)
{
    return burner->kind == KIND_HEATER || burner->kind == KIND_COOLER || burner->kind == KIND_BURNER;
}

Fuel fuel_stated(const Entity *entity)
{
    PropId prop = fuel_prop((KindId)entity->kind);
    Str word = prop != PROP_NONE ? entity_word(entity, prop) : STR("");
    Fuel fuel = FUEL_COUNT - 1;
    while (fuel != FUEL_UNKNOWN && !str_is(word, fuels[fuel].word)) {
        fuel--;
    }
    return fuel;
}

/* ---- Ways ------------------------------------------------------------------------------------------------- */

bool is_return(const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_RETURN) == 1;
}

bool has_fuel_line(const Model *model, const Entity *thing)
{
    const Entity *line = first_aboard(model, KIND_FUEL_LINE);
    while (line != NULL && (is_return(line) || entity_reference(line, PROP_FUEL_LINE_TO) != thing)) {
        line = next_aboard(line);
    }
    return line != NULL;
}

static void reach(FuelWay *way, const Entity *thing, const Entity *by)
{
    if (thing == NULL) {
        way->broken = true;
        return;
    }
    if (!is_aboard(thing)) {
        return;
    }
    for (uint32_t i = 0; i < way->count; i++) {
        if (way->things[i] == thing) {
            return;
        }
    }
    if (way->count == FUEL_REACHED_MOST) {
        way->broken = true; /* more than is followed: what it leads to is not known */
        return;
    }
    way->by[way->count] = by;
    way->things[way->count++] = thing;
}

/* A pump that takes fuel from a tank, and what it delivers to. */
static void follow_pumps(FuelWay *way, const Model *model, const Entity *thing, bool forward)
{
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Entity *from = entity_reference(pump, PROP_PUMP_FROM);
        if (from == NULL || !holds_fuel(from)) {
            continue;
        }
        if (!forward && (thing == pump || entity_names(pump, PROP_PUMP_TO, thing))) {
            reach(way, from, pump);
        }
        const Property *to = entity_property(pump, PROP_PUMP_TO);
        for (uint16_t i = 0; forward && from == thing && i < (to != NULL ? to->count : 0); i++) {
            const Value *value = property_value(to, i);
            reach(way, value_entity(value), pump);
        }
        if (forward && from == thing) {
            reach(way, pump, pump);
        }
    }
}

static FuelWay follow(const Model *model, const Entity *start, bool forward)
{
    FuelWay way = {.things = {start}, .count = 1};
    PropId here = forward ? PROP_FUEL_LINE_FROM : PROP_FUEL_LINE_TO;
    PropId there = forward ? PROP_FUEL_LINE_TO : PROP_FUEL_LINE_FROM;
    for (uint32_t i = 0; i < way.count && first_aboard(model, KIND_FUEL_LINE) != NULL; i++) {
        for (const Entity *line = first_aboard(model, KIND_FUEL_LINE); line != NULL;
             line = next_aboard(line)) {
            if (!is_return(line) && entity_reference(line, here) == way.things[i]) {
                reach(&way, entity_reference(line, there), line);
            }
        }
        follow_pumps(&way, model, way.things[i], forward);
    }
    return way;
}

FuelWay fuel_sources(const Model *model, const Entity *thing)
{
    return follow(model, thing, false);
}

FuelWay fuel_targets(const Model *model, const Entity *thing)
{
    return follow(model, thing, true);
}

/* ---- What burns, and what ---------------------------------------------------------------------------------- */

bool burns_wood(const Entity *entity)
{
    return entity->kind == KIND_HEATER && str_is(entity_word(entity, PROP_HEATER_FUEL), "wood");
}

bool is_burner(const Model *model, const Entity *entity)
{
    switch (entity->kind) {
    case KIND_ENGINE: return burns_fuel(entity);
    case KIND_GENERATOR: return true;
    case KIND_HEATER:
        return !burns_wood(entity) && heater_burns(model, entity) != BURNS_NO;
    case KIND_COOLER:
        return entity_states(entity, PROP_COOLER_FUEL_RATE) || entity_states(entity, PROP_COOLER_FUEL) ||
               has_fuel_line(model, entity);
    case KIND_BURNER: return true;
    default: return false;
    }
}

/* The only fuel that the things of a kind burn; FUEL_UNKNOWN: none does, or there are two. */
static Fuel only_fuel(const Model *model, KindId kind, bool *any)
{
    Fuel only = FUEL_UNKNOWN;
    bool two = false;
    for (const Entity *e = first_aboard(model, kind); e != NULL; e = next_aboard(e)) {
        if (is_burner(model, e)) {
            Fuel fuel = fuel_burned(model, e);
            two = two || (*any && fuel != only);
            only = fuel;
            *any = true;
        }
    }
    return two ? FUEL_UNKNOWN : only;
}

Fuel fuel_burned(const Model *model, const Entity *burner)
{
    PropId prop = fuel_prop((KindId)burner->kind);
    Fuel stated = fuel_stated(burner);
    bool any = false;
    if (stated != FUEL_UNKNOWN || burner->kind == KIND_ENGINE || burner->kind == KIND_BURNER ||
        (prop != PROP_NONE && entity_states(burner, prop))) {
        return stated;
    }
    Fuel of_engines = burner->kind == KIND_GENERATOR ? only_fuel(model, KIND_ENGINE, &any) : FUEL_UNKNOWN;
    return of_engines != FUEL_UNKNOWN ? of_engines : FUEL_DIESEL;
}

/* ---- What a tank holds ------------------------------------------------------------------------------------- */

const Entity *fuel_held_by(const Model *model, const Entity *tank)
{
    const Entity *best = NULL;
    if (entity_states(tank, PROP_TANK_FUEL) || first_aboard(model, KIND_FUEL_LINE) == NULL) {
        return NULL;
    }
    FuelWay way = fuel_targets(model, tank);
    for (uint32_t i = 1; i < way.count; i++) {
        const Entity *to = way.things[i];
        bool burns = is_burner(model, to) && fuel_burned(model, to) != FUEL_UNKNOWN;
        bool better = best == NULL || (best->kind != KIND_ENGINE && to->kind == KIND_ENGINE) ||
                      (fuel_stated(best) == FUEL_UNKNOWN && fuel_stated(to) != FUEL_UNKNOWN);
        best = burns && better ? to : best;
    }
    return best;
}

/* Of a tank that nothing is led from: what engines burn goes before what else does. */
static Fuel fuel_of_boat(const Model *model)
{
    static const KindId others[] = {KIND_GENERATOR, KIND_HEATER, KIND_COOLER};
    bool any = false;
    Fuel only = only_fuel(model, KIND_ENGINE, &any);
    if (any) {
        return only;
    }
    Fuel all = FUEL_UNKNOWN;
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        bool some = false;
        Fuel fuel = only_fuel(model, others[i], &some);
        if (some && any && fuel != all) {
            return FUEL_UNKNOWN;
        }
        all = some ? fuel : all;
        any = any || some;
    }
    return any ? all : FUEL_DIESEL;
}

Fuel fuel_held(const Model *model, const Entity *tank)
{
    if (entity_states(tank, PROP_TANK_FUEL)) {
        return fuel_stated(tank);
    }
    const Entity *by = fuel_held_by(model, tank);
    return by != NULL ? fuel_burned(model, by) : fuel_of_boat(model);
}

Fuel fuel_carried(const Model *model, const Entity *line)
{
    PropId ends[] = {PROP_FUEL_LINE_FROM, PROP_FUEL_LINE_TO};
    for (size_t i = 0; i < 2; i++) {
        const Entity *end = entity_reference(line, ends[i]);
        if (end != NULL && holds_fuel(end)) {
            return fuel_held(model, end);
        }
    }
    for (size_t i = 0; i < 2; i++) {
        const Entity *end = entity_reference(line, ends[i]);
        if (end != NULL && is_burner(model, end)) {
            return fuel_burned(model, end);
        }
        FuelWay way = end == NULL ? (FuelWay){.count = 0}
                      : i == 0    ? fuel_sources(model, end)
                                  : fuel_targets(model, end);
        for (uint32_t w = 0; w < way.count; w++) {
            if (holds_fuel(way.things[w])) {
                return fuel_held(model, way.things[w]);
            }
            if (is_burner(model, way.things[w])) {
                return fuel_burned(model, way.things[w]);
            }
        }
    }
    return FUEL_UNKNOWN;
}

/* ---- Sets of tanks ----------------------------------------------------------------------------------------- */

static void add_tanks(FuelPlan *plan, Arena *arena)
{
    uint32_t count = 0;
    for (const Entity *t = first_tank(plan->model, "fuel"); t != NULL; t = next_tank(t, "fuel")) {
        count++;
    }
    plan->tanks = ARENA_ARRAY(arena, const Entity *, count + 1);
    plan->held = ARENA_ARRAY(arena, Fuel, count + 1);
    for (const Entity *t = first_tank(plan->model, "fuel"); t != NULL; t = next_tank(t, "fuel")) {
        plan->held[plan->tank_count] = fuel_held(plan->model, t);
        plan->tanks[plan->tank_count++] = t;
    }
}

/* The tanks that lines lead from to it; where none is, all that hold its fuel, or may. */
static void draw_on(const FuelPlan *plan, FuelBurner *burner)
{
    Fuel burned = fuel_burned(plan->model, burner->entity);
    FuelSet joined = 0, of_fuel = 0;
    FuelWay way = fuel_sources(plan->model, burner->entity);
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        Fuel held = plan->held[i];
        for (uint32_t w = 1; w < way.count; w++) {
            joined |= way.things[w] == plan->tanks[i] ? fuel_bit(i) : 0;
        }
        of_fuel |= held == burned || held == FUEL_UNKNOWN || burned == FUEL_UNKNOWN ? fuel_bit(i) : 0;
    }
    burner->tanks = joined != 0 ? joined : of_fuel;
    burner->broken = way.broken;
}

static void note_set(FuelPlan *plan, FuelSet set)
{
    bool met = set == 0 || plan->set_count == FUEL_SETS_MOST;
    for (uint32_t i = 0; i < plan->set_count && !met; i++) {
        met = plan->sets[i] == set;
    }
    if (!met) {
        plan->sets[plan->set_count++] = set;
    }
}

FuelPlan *fuel_plan(Arena *arena, const Model *model)
{
    static const KindId order[] = {KIND_ENGINE, KIND_GENERATOR, KIND_HEATER, KIND_COOLER, KIND_BURNER};
    FuelPlan *plan = ARENA_NEW(arena, FuelPlan);
    uint32_t count = 0;
    *plan = (FuelPlan){.model = model};
    add_tanks(plan, arena);
    for (size_t i = 0; i < sizeof order / sizeof order[0] && plan->tank_count > 0; i++) {
        for (const Entity *e = first_aboard(model, order[i]); e != NULL; e = next_aboard(e)) {
            count += is_burner(model, e);
        }
    }
    plan->burners = ARENA_ARRAY(arena, FuelBurner, count + 1);
    for (size_t i = 0; i < sizeof order / sizeof order[0] && plan->tank_count > 0; i++) {
        for (const Entity *e = first_aboard(model, order[i]); e != NULL; e = next_aboard(e)) {
            if (is_burner(model, e)) {
                FuelBurner *burner = &plan->burners[plan->burner_count++];
                *burner = (FuelBurner){.entity = e};
                draw_on(plan, burner);
                note_set(plan, burner->tanks);
            }
        }
    }
    return plan;
}

FuelSet fuel_tanks_of(const FuelPlan *plan, const Entity *burner)
{
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        if (plan->burners[i].entity == burner) {
            return plan->burners[i].tanks;
        }
    }
    return 0;
}

static uint32_t tanks_in(FuelSet set)
{
    uint32_t count = 0;
    for (; set != 0; set &= set - 1) {
        count++;
    }
    return count;
}

FuelSet fuel_share(const FuelPlan *plan, uint32_t tank)
{
    FuelSet least = 0;
    for (uint32_t i = 0; i < plan->set_count; i++) {
        FuelSet set = plan->sets[i];
        if (set & fuel_bit(tank) && (least == 0 || tanks_in(set) < tanks_in(least))) {
            least = set;
        }
    }
    return least;
}

FuelSet fuel_share_of(const FuelPlan *plan, const Entity *tank)
{
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        if (plan->tanks[i] == tank) {
            return fuel_share(plan, i);
        }
    }
    return 0;
}

bool fuel_is_in(const FuelPlan *plan, FuelSet set, const Entity *tank)
{
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        if (plan->tanks[i] == tank) {
            return (set & fuel_bit(i)) != 0;
        }
    }
    return false;
}

FuelSet fuel_together(const FuelPlan *plan, FuelSet set)
{
    FuelSet before = 0;
    while (set != before) {
        before = set;
        for (uint32_t i = 0; i < plan->set_count; i++) {
            set |= plan->sets[i] & set ? plan->sets[i] : 0;
        }
    }
    return set;
}

/* The i-th candidate: what some burner draws on, or all that hangs together with it. */
static FuelSet candidate(const FuelPlan *plan, uint32_t i)
{
    FuelSet set = plan->sets[i / 2];
    return i % 2 == 0 ? set : fuel_together(plan, set);
}

FuelSet fuel_unshared(const FuelPlan *plan, uint32_t nth)
{
    for (uint32_t i = 0; i < 2 * plan->set_count; i++) {
        FuelSet set = candidate(plan, i);
        bool met = fuel_first_sharing(plan, set) != NULL;
        for (uint32_t before = 0; before < i && !met; before++) {
            met = candidate(plan, before) == set;
        }
        if (!met && nth-- == 0) {
            return set;
        }
    }
    return 0;
}

const Entity *fuel_first(const FuelPlan *plan, FuelSet set)
{
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        if (set & fuel_bit(i)) {
            return plan->tanks[i];
        }
    }
    return NULL;
}

const Entity *fuel_first_sharing(const FuelPlan *plan, FuelSet share)
{
    for (uint32_t i = 0; i < plan->tank_count && share != 0; i++) {
        if (fuel_share(plan, i) == share) {
            return plan->tanks[i];
        }
    }
    return NULL;
}

void fuel_add_volumes(Work *work, const FuelPlan *plan, FuelSet set, Sum *sum)
{
    bool first = true;
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        if (set & fuel_bit(i)) {
            sum_label(sum, work, first ? "" : " + ", plan->tanks[i], "usable-volume");
            sum_add(sum,
                    use_figure(work, figure_find(work->figures, plan->tanks[i], FIGURE_USABLE_VOLUME, NULL))
                        .value);
            first = false;
        }
    }
}

void use_fuel_kinds(Work *work, const FuelPlan *plan, FuelSet set)
{
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        if (!(set & fuel_bit(i)) || plan->held[i] != FUEL_UNKNOWN) {
            continue;
        }
        if (entity_states(plan->tanks[i], PROP_TANK_FUEL)) {
            use_waiting(work);
        } else {
            use_missing(work, plan->tanks[i], PROP_TANK_FUEL);
        }
    }
}
