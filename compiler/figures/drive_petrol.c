/*
 * Spaces of petrol: why vapour can lie in one, and what it needs so that none gathers: blowers, and openings without them.
 */
#include "figures/drive.h"

#include "figures/fuel_plan.h"
#include "physics/ventilation.h"

const Entity *petrol_inboard_in(const Model *model, const Entity *space)
{
    static const KindId burning[] = {KIND_ENGINE, KIND_GENERATOR};
    for (size_t i = 0; i < sizeof burning / sizeof burning[0]; i++) {
        for (const Entity *e = first_aboard(model, burning[i]); e != NULL; e = next_aboard(e)) {
            if (is_petrol_inboard(e) && entity_reference(e, PROP_COMMON_SPACE) == space) {
                return e;
            }
        }
    }
    return NULL;
}

const Entity *petrol_tank_in(const Model *model, const Entity *space)
{
    for (const Entity *t = first_tank(model, "fuel"); t != NULL; t = next_tank(t, "fuel")) {
        if (entity_reference(t, PROP_COMMON_SPACE) == space && fuel_held(model, t) == FUEL_PETROL) {
            return t;
        }
    }
    return NULL;
}

/* A line that says where it lies. */
static bool is_petrol_line(const Model *model, const Entity *line)
{
    return entity_reference(line, PROP_COMMON_SPACE) != NULL && fuel_carried(model, line) == FUEL_PETROL;
}

bool carries_petrol(const Model *model, const Entity *thing)
{
    if (entity_yes(thing, PROP_COMMON_PORTABLE) != 1 || fuel_stated(thing) != FUEL_PETROL) {
        return false;
    }
    const Entity *line = thing->kind == KIND_ENGINE ? first_aboard(model, KIND_FUEL_LINE) : NULL;
    while (line != NULL && entity_reference(line, PROP_FUEL_LINE_TO) != thing) {
        line = next_aboard(line);
    }
    return line == NULL && (thing->kind == KIND_ENGINE || thing->kind == KIND_GENERATOR);
}

const Entity *carried_petrol_in(const Model *model, const Entity *space)
{
    static const KindId carried[] = {KIND_GENERATOR, KIND_ENGINE};
    for (size_t i = 0; i < sizeof carried / sizeof carried[0]; i++) {
        for (const Entity *e = first_aboard(model, carried[i]); e != NULL; e = next_aboard(e)) {
            if (entity_reference(e, PROP_COMMON_SPACE) == space && carries_petrol(model, e)) {
                return e;
            }
        }
    }
    return NULL;
}

bool is_outboard_with_petrol(const Model *model, const Entity *thing)
{
    return thing->kind == KIND_ENGINE && is_outboard(thing) && fuel_stated(thing) == FUEL_PETROL && !carries_petrol(model, thing);
}

const Entity *petrol_in(const Model *model, const Entity *space)
{
    const Entity *engine = petrol_inboard_in(model, space);
    const Entity *tank = engine == NULL ? petrol_tank_in(model, space) : NULL;
    tank = engine == NULL && tank == NULL ? carried_petrol_in(model, space) : tank;
    const Entity *line = engine == NULL && tank == NULL ? first_aboard(model, KIND_FUEL_LINE) : NULL;
    while (line != NULL && !(entity_reference(line, PROP_COMMON_SPACE) == space && is_petrol_line(model, line))) {
        line = next_aboard(line);
    }
    return engine != NULL ? engine : tank != NULL ? tank : line;
}

bool is_open_air(const Entity *space)
{
    return entity_yes(space, PROP_SPACE_OPEN_AIR) == 1;
}

static bool is_of_petrol(const Model *model, const Entity *thing)
{
    switch (thing->kind) {
    case KIND_TANK: return holds_fuel(thing) && fuel_held(model, thing) == FUEL_PETROL;
    case KIND_FUEL_LINE: return is_petrol_line(model, thing);
    default: return is_petrol_inboard(thing) || carries_petrol(model, thing);
    }
}

/* By its own word it is no well, and no cockpit, in which an outboard hangs as under the sky. */
static bool is_shut_in(const Entity *space)
{
    return entity_yes(space, PROP_SPACE_OPEN_AIR) == 0 || entity_yes(space, PROP_SPACE_VENTILATED) == 0 ||
           entity_yes(space, PROP_SPACE_SLEEPING) == 1 || entity_states(space, PROP_SPACE_OPENINGS);
}

/* The weakest reason, and so the first that is marked. */
static void mark_outboards(const Model *model, const Entity **because)
{
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
        if (space != NULL && is_shut_in(space) && is_outboard_with_petrol(model, e)) {
            because[space->index] = e;
        }
    }
}

void petrol_mark(const Model *model, const Entity **because)
{
    mark_outboards(model, because);
    static const KindId kinds_of_petrol[] = {KIND_FUEL_LINE, KIND_GENERATOR, KIND_ENGINE, KIND_TANK};
    for (size_t i = 0; i < sizeof kinds_of_petrol / sizeof kinds_of_petrol[0]; i++) {
        for (const Entity *e = first_aboard(model, kinds_of_petrol[i]); e != NULL; e = next_aboard(e)) {
            const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
            if (space != NULL && is_of_petrol(model, e)) {
                because[space->index] = e;
            }
        }
    }
    for (const Entity *e = model->first_of_kind[KIND_SPACE]; e != NULL; e = e->next_of_kind) {
        if (is_open_air(e)) {
            because[e->index] = NULL;
        } else if (because[e->index] == NULL && entity_yes(e, PROP_SPACE_PETROL) == 1) {
            because[e->index] = e;
        }
    }
}

static Figure *record_by_volume(Work *work, const Entity *space, FigureId id, double (*by_volume)(double),
                                const char *formula)
{
    work_begin(work);
    Interval volume = use_value(work, space, PROP_SPACE_VOLUME, 0).value;
    return work_record(work, id, space, NULL, interval_corners(by_volume(volume.low), by_volume(volume.high)),
                       formula);
}

/* What its blowers move together, by what they are rated for or by what comes out: in the unit of the first. */
static UnitPair record_moved(Work *work, const Entity *space, PropId prop, FigureId id)
{
    UnitPair unit = work_unit(work, UNIT_BY(UNIT_M3, UNIT_H));
    bool any = false;
    Sum sum;
    sum_begin(&sum, work);
    for (const Entity *e = first_aboard(work->model, KIND_BLOWER); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space) {
            unit = unit_of(e, prop, unit);
            any = true;
            sum_next(&sum);
            sum_label(&sum, work, "", e, props[prop].word);
            Interval flow = use_value(work, e, prop, 0).value;
            sum_count(&sum, work, e);
            sum_add(&sum, interval_multiply(flow, use_count(work, e).value));
        }
    }
    if (any) {
        work_record(work, id, space, NULL, sum.value, sum.formula.text)->unit = unit;
    }
    return unit;
}

static void record_blowers(Work *work, const Entity *space)
{
    UnitPair rated = record_moved(work, space, PROP_BLOWER_FLOW, FIGURE_BLOWER_FLOW);
    record_by_volume(work, space, FIGURE_BLOWER_NEED, petrol_blower_m3_per_s,
                     "of {volume} V in ft3: 50 cfm below 34, 1.5 V to 100, V/2 + 100 above")
        ->unit = rated;
    record_moved(work, space, PROP_BLOWER_OUTPUT, FIGURE_BLOWER_OUTPUT);
    record_by_volume(work, space, FIGURE_BLOWER_OUTPUT_NEED, petrol_output_m3_per_s,
                     "of {volume} V in ft3: 20 cfm below 34, 0.6 V to 100, V/5 + 40 above")
        ->unit = rated;
}

static void record_openings(Work *work, const Entity *space)
{
    UnitPair unit = unit_of(space, PROP_SPACE_OPENINGS, work_unit(work, UNIT_ALONE(UNIT_CM2)));
    record_by_volume(work, space, FIGURE_PETROL_OPENING, petrol_opening_m2,
                     "5 ln({volume} / 5 ft3) in2, and 3 in2 at least")
        ->unit = unit;
    record_by_volume(work, space, FIGURE_OPEN_AREA, open_to_air_m2, "15 in2 for each ft3 of {volume}")->unit = unit;
}

void drive_petrol_spaces(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_SPACE); e != NULL; e = next_aboard(e)) {
        bool engine = petrol_inboard_in(work->model, e) != NULL;
        if (engine) {
            record_blowers(work, e);
        }
        if (engine || petrol_tank_in(work->model, e) != NULL || carried_petrol_in(work->model, e) != NULL) {
            record_openings(work, e);
        }
    }
}
