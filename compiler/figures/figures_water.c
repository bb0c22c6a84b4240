/*
 * Water, waste, fuel and the bilge: what tanks hold and weigh. Days, heights and pumps are files of their
 * own; see water.h.
 */
#include "figures/plumbing.h"

#include "figures/fuel_plan.h"
#include "model/tank_sides.h"
#include "physics/tank_shape.h"

static const Entity *from_here(const Entity *entity)
{
    while (entity != NULL && !is_aboard(entity)) {
        entity = entity->next_of_kind;
    }
    return entity;
}

const Entity *first_aboard(const Model *model, KindId kind)
{
    return from_here(model->first_of_kind[kind]);
}

const Entity *next_aboard(const Entity *entity)
{
    return from_here(entity->next_of_kind);
}

static const Entity *tank_from_here(const Entity *tank, const char *holds)
{
    while (tank != NULL && !str_is(entity_word(tank, PROP_TANK_HOLDS), holds)) {
        tank = next_aboard(tank);
    }
    return tank;
}

const Entity *first_tank(const Model *model, const char *holds)
{
    return tank_from_here(first_aboard(model, KIND_TANK), holds);
}

const Entity *next_tank(const Entity *tank, const char *holds)
{
    return tank_from_here(next_aboard(tank), holds);
}

/* ---- Which of them count ------------------------------------------------------------------------------- */

bool tank_counts(const Figures *figures, const Entity *tank)
{
    return plumbing_of(figures)->counted[tank->index];
}

static const Entity *counted_from_here(const Figures *figures, const Entity *tank, const char *holds)
{
    while (tank != NULL && !tank_counts(figures, tank)) {
        tank = next_tank(tank, holds);
    }
    return tank;
}

void wait_for_tanks(Work *work)
{
    if (plumbing_of(work->figures)->lost_tanks) {
        use_waiting(work);
    }
}

const Entity *first_counted(const Figures *figures, const char *holds)
{
    return counted_from_here(figures, first_tank(figures->model, holds), holds);
}

const Entity *next_counted(const Figures *figures, const Entity *tank, const char *holds)
{
    return counted_from_here(figures, next_tank(tank, holds), holds);
}

bool tanks_share(const Figures *figures, const Entity *a, const Entity *b)
{
    const Plumbing *plumbing = plumbing_of(figures);
    return plumbing->shares[a->index] == plumbing->shares[b->index];
}

const Entity *first_sharing(const Figures *figures, const Entity *tank)
{
    return plumbing_of(figures)->first_sharing[tank->index];
}

const Entity *next_sharing(const Figures *figures, const Entity *tank)
{
    return plumbing_of(figures)->next_sharing[tank->index];
}

Content tank_content(const Model *model, const Entity *tank)
{
    Str holds = entity_word(tank, PROP_TANK_HOLDS);
    if (str_is(holds, "fuel")) {
        return fuel_content(fuel_held(model, tank));
    }
    return str_is(holds, "black") ? CONTENT_BLACK : str_is(holds, "sea") ? CONTENT_SEA : str_is(holds, "grey") ? CONTENT_GREY : CONTENT_FRESH;
}

UnitPair unit_of(const Entity *entity, PropId prop, UnitPair otherwise)
{
    const Value *value = property_value(entity_property(entity, prop), 0);
    return value->kind == VALUE_QUANTITY ? value->unit : otherwise;
}

void sum_begin(Sum *sum, Work *work)
{
    work_begin(work);
    sum->value = point(0.0);
    buf_init(&sum->formula, work->figures->arena);
}

void sum_begin_beside(Sum *sum, const Work *work)
{
    sum->value = point(0.0);
    buf_init(&sum->formula, work->figures->arena);
}

void sum_next(Sum *sum)
{
    buf_text(&sum->formula, sum->formula.length > 0 ? " + " : "");
}

void sum_label_nth(Sum *sum, const Work *work, const char *before, const Entity *entity, const char *what,
                   unsigned nth)
{
    if (nth == 0) {
        sum_label(sum, work, before, entity, what);
    } else if (formula_is_read(work)) {
        buf_format(&sum->formula, "%s{%.*s.%s %u}", before, STR_ARG(entity_name(work->model, entity)), what, nth + 1);
    }
}

void sum_label(Sum *sum, const Work *work, const char *before, const Entity *entity, const char *what)
{
    if (formula_is_read(work)) {
        Buf *formula = &sum->formula;
        buf_text(formula, before);
        buf_char(formula, '{');
        buf_add(formula, entity_name(work->model, entity));
        buf_char(formula, '.');
        buf_text(formula, what);
        buf_char(formula, '}');
    }
}

void sum_count(Sum *sum, const Work *work, const Entity *entity)
{
    if (entity_states(entity, PROP_COMMON_COUNT)) {
        sum_label(sum, work, " x ", entity, "count");
    }
}

void sum_add(Sum *sum, Interval term)
{
    sum->value = interval_add(sum->value, term);
}

/* Tanks */

/* What one tank holds by the shape that it states, the braces of the formula with what stands before their names. */
Interval use_shape(Work *work, const Entity *tank, const char *of, const char **formula)
{
    Arena *arena = work->figures->arena;
    bool read = formula_is_read(work);
    TankShape shape = tank_shape(tank);
    bool round = shape == TANK_LYING || shape == TANK_UPRIGHT;
    if (round) {
        Interval diameter = use_value(work, tank, PROP_TANK_CYLINDER, 0).value;
        Interval length = use_value(work, tank, PROP_TANK_CYLINDER, 1).value;
        *formula = !read ? "" : text_format(arena, "pi / 4 x {%sdiameter}^2 x {%slength}", of, of);
        return interval_corners(cylinder_volume_m3(diameter.low, length.low), cylinder_volume_m3(diameter.high, length.high));
    }
    Interval length = use_value(work, tank, PROP_TANK_SIZE, 0).value;
    Interval width = use_value(work, tank, PROP_TANK_SIZE, 1).value;
    if (shape != TANK_TAPERED) {
        Interval height = use_value(work, tank, PROP_TANK_SIZE, 2).value;
        *formula = !read ? "" : text_format(arena, "{%slength} x {%swidth} x {%sheight}", of, of, of);
        return interval_corners(box_volume_m3(length.low, width.low, height.low), box_volume_m3(length.high, width.high, height.high));
    }
    Interval floor_length = use_value(work, tank, PROP_TANK_BOTTOM, 0).value;
    Interval floor_width = use_value(work, tank, PROP_TANK_BOTTOM, 1).value;
    Interval height = use_value(work, tank, PROP_TANK_SIZE, 2).value;
    *formula = !read ? ""
                     : text_format(arena,
                                   "(2 x {%slength} x {%swidth} + 2 x {%sfloor length} x {%sfloor width} + {%slength} x {%sfloor width} + "
                                   "{%sfloor length} x {%swidth}) x {%sheight} / 6",
                                   of, of, of, of, of, of, of, of, of);
    return interval_corners(taper_volume_m3((Taper){length.low, width.low, floor_length.low, floor_width.low}, height.low),
                            taper_volume_m3((Taper){length.high, width.high, floor_length.high, floor_width.high}, height.high));
}

static const Figure *record_volume(Work *work, const Entity *tank)
{
    Figure *sized = size_tank(work, tank);
    if (sized != NULL) {
        return sized;
    }
    work_begin(work);
    const char *formula = "{capacity}";
    bool shaped = !entity_states(tank, PROP_TANK_CAPACITY) && tank_shape(tank) != TANK_UNSAID;
    bool several = entity_states(tank, PROP_COMMON_COUNT);
    Interval one = shaped ? use_shape(work, tank, "", &formula) : use_value(work, tank, PROP_TANK_CAPACITY, 0).value;
    Interval all = interval_multiply(one, use_count(work, tank).value);
    Figure *figure = work_record(work, FIGURE_VOLUME, tank, NULL, all,
                                 several && formula_is_read(work) ? text_format(work->figures->arena, "%s x {count}", formula) : formula);
    figure->unit = unit_of(tank, PROP_TANK_CAPACITY, figure->unit);
    return figure;
}

Interval use_usable_share(Work *work, const Entity *tank)
{
    if (str_is(entity_word(tank, PROP_TANK_HOLDS), "black") && !entity_states(tank, PROP_TANK_USABLE)) {
        return use_fact(work, "how full a holding tank is planned to be", point(0.75),
                        UNIT_ALONE(UNIT_PERCENT),
                        "a level alarm at three quarters: a state's rule for marine toilets")
            .value;
    }
    return use_value(work, tank, PROP_TANK_USABLE, 0).value;
}

static void record_usable_volume(Work *work, const Entity *tank, const Figure *volume)
{
    work_begin(work);
    Interval whole = use_figure(work, volume).value;
    Interval usable = interval_multiply(whole, use_usable_share(work, tank));
    Figure *figure = work_record(work, FIGURE_USABLE_VOLUME, tank, NULL, usable, "{volume} x {usable}");
    figure->unit = volume->unit;
}

/* What it holds when full; the volume is used already. */
static void record_contents(Work *work, const Entity *tank, Content content, Interval whole, const char *formula)
{
    const char *name = content_name(content);
    use_fact(work, formula_is_read(work) ? text_format(work->figures->arena, "density of %s", name) : name,
             point(content_density_kg_per_m3(content)), UNIT_BY(UNIT_KG, UNIT_M3),
             content_evidence(content) == EVIDENCE_MEMORY ? "from memory"
                                                          : "as fresh water; common practice, no source");
    work_record(
        work, FIGURE_FULL_MASS, tank, NULL,
        interval_corners(content_mass_kg(content, whole.low, 1.0), content_mass_kg(content, whole.high, 1.0)), formula);
}

static void record_full_mass(Work *work, const Entity *tank, const Figure *volume)
{
    work_begin(work);
    Interval whole = use_figure(work, volume).value;
    record_contents(work, tank, tank_content(work->model, tank), whole, "{volume} x {density}");
}

/* A water heater is full as soon as there is water, and stays so when the tanks run dry. */
static void record_heater_mass(Work *work, const Entity *heater)
{
    work_begin(work);
    Interval one = use_value(work, heater, PROP_WATER_HEATER_CAPACITY, 0).value;
    bool several = entity_states(heater, PROP_COMMON_COUNT);
    record_contents(work, heater, CONTENT_FRESH, interval_multiply(one, use_count(work, heater).value),
                    several ? "{capacity} x {count} x {density}" : "{capacity} x {density}");
}

/* The gas of full cylinders; one that is sized by the goals, and cannot be, holds nothing that is known. */
static void record_gas_mass(Work *work, const Entity *locker)
{
    const Figure *held = figure_find(work->figures, locker, FIGURE_GAS_HELD, NULL);
    if (held != NULL) {
        work_begin(work);
        Interval mass = use_figure(work, held).value;
        work_record(work, FIGURE_FULL_MASS, locker, NULL, mass, "{gas-held}")->unit = held->unit;
    }
}

void figures_water(Work *work)
{
    water_gas_burned(work);
    water_gas(work);
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        const Figure *volume = record_volume(work, tank);
        record_usable_volume(work, tank, volume);
        record_full_mass(work, tank, volume);
    }
    for (const Entity *e = first_aboard(work->model, KIND_WATER_HEATER); e != NULL; e = next_aboard(e)) {
        record_heater_mass(work, e);
    }
    for (const Entity *e = first_aboard(work->model, KIND_GAS_LOCKER); e != NULL; e = next_aboard(e)) {
        record_gas_mass(work, e);
    }
}
