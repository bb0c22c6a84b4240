/*
 * What a space with a petrol engine needs so that no vapour gathers in it: blowers, and openings without them.
 */
#include "figures/drive.h"

#include "physics/ventilation.h"

const Entity *petrol_inboard_in(const Model *model, const Entity *space)
{
    const Entity *engine = first_aboard(model, KIND_ENGINE);
    while (engine != NULL && !(is_petrol_inboard(engine) && entity_reference(engine, PROP_COMMON_SPACE) == space)) {
        engine = next_aboard(engine);
    }
    return engine;
}

static Figure *record_by_volume(Work *work, const Entity *space, FigureId id, double (*by_volume)(double),
                                const char *formula)
{
    work_begin(work);
    Interval volume = use_value(work, space, PROP_SPACE_VOLUME, 0).value;
    return work_record(work, id, space, NULL, interval_corners(by_volume(volume.low), by_volume(volume.high)),
                       formula);
}

static void record_blowers(Work *work, const Entity *space)
{
    UnitPair unit = work_unit(work, UNIT_BY(UNIT_M3, UNIT_H));
    bool any = false;
    Sum sum;
    sum_begin(&sum, work);
    for (const Entity *e = first_aboard(work->model, KIND_BLOWER); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space) {
            unit = unit_of(e, PROP_BLOWER_FLOW, unit);
            any = true;
            sum_next(&sum);
            sum_label(&sum, work, "", e, "flow");
            Interval flow = use_value(work, e, PROP_BLOWER_FLOW, 0).value;
            sum_count(&sum, work, e);
            sum_add(&sum, interval_multiply(flow, use_count(work, e).value));
        }
    }
    if (any) {
        work_record(work, FIGURE_BLOWER_FLOW, space, NULL, sum.value, sum.formula.text)->unit = unit;
    }
    record_by_volume(work, space, FIGURE_BLOWER_NEED, petrol_blower_m3_per_s,
                     "of {volume} V in ft3: 50 cfm below 34, 1.5 V to 100, V/2 + 100 above")
        ->unit = unit;
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
        if (petrol_inboard_in(work->model, e) != NULL) {
            record_blowers(work, e);
            record_openings(work, e);
        }
    }
}
