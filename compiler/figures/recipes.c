/* See figure.h: the steps of the recipes in their order. Each is known here alone; what runs and finds them is step.c. */
#include "figures/boat.h"
#include "figures/water.h"

/*
 * Voltages, times of use and the like pass through the power system without being recorded by each figure: whatever is
 * stated on what takes or gives power counts as read by it.
 */
static bool power_looks_at(PropId prop)
{
    KindId owner = (KindId)props[prop].owner;
    if (owner == KIND_ENGINE) {
        return false; /* takes power to start, and what is read of it is recorded */
    }
    if (prop == PROP_DAY_WATER || prop == PROP_DAY_SHOWERS || prop == PROP_DAY_FLUSHES || prop == PROP_DAY_GAS) {
        return false; /* of a day, what the tanks take or give */
    }
    return kinds[owner].groups & (GROUPS_FEED | GROUPS_LOAD | GROUPS_MAKER) || owner == KIND_FEED || owner == KIND_FEEDS ||
           owner == KIND_BANK || owner == KIND_SPACE || owner == KIND_DAY || owner == KIND_BOAT;
}

/*
 * Which of several gives how much of the heat: one that says nothing of it is not recorded, and changes all
 * their parts.
 */
static bool climate_looks_at(PropId prop)
{
    return prop == PROP_HEATER_OUTPUT || prop == PROP_COOLER_OUTPUT;
}

/* The plan follows jobs, suppliers and the buying of things through dates that it works out for itself. */
static bool plan_looks_at(PropId prop)
{
    KindId owner = (KindId)props[prop].owner;
    return owner == KIND_COMMON || owner == KIND_JOB || owner == KIND_SUPPLIER || owner == KIND_GOAL;
}

/* What is left open is not recorded: no load is computed of a pitch before one is tried. */
static bool propellers_look_at(PropId prop)
{
    return prop == PROP_PROPELLER_DIAMETER;
}

static bool pitches_look_at(PropId prop)
{
    return prop == PROP_PROPELLER_PITCH || prop == PROP_PROPELLER_DIAMETER;
}

/* What is recorded by one step is computed anew as a whole: the smaller the steps, the cheaper a value is tried. */
static const FigureStep steps[] = {
    {NULL, false, NULL}, /* step 0 is none */
    {figures_climate, true, climate_looks_at},
    {water_hot, true, NULL}, /* how long an element runs says how much of its current is continuous */
    {figures_speeds, true, NULL}, /* what a motor needs for a range says how large its bank has to be */
    {figures_power, false, power_looks_at},
    {figures_cables, false, power_looks_at},
    {figures_banks, false, power_looks_at},
    {figures_engine_hours, true, power_looks_at},
    {figures_water, false, NULL},
    {water_dips, false, NULL}, /* by itself: nothing is judged by it, so that it is not run for what is only tried */
    {water_days_fresh, true, NULL},
    {water_days, true, NULL},
    {water_cruises_fresh, true, NULL},
    {water_cruises, true, NULL},
    {water_heights, true, NULL},
    {water_bilge, true, NULL},
    {water_pipes, true, NULL},
    {water_flood, true, NULL},
    {water_fire, true, NULL},
    {water_pumps, false, NULL},
    {figures_ranges, true, NULL},
    {figures_propellers, true, propellers_look_at},
    {figures_pitches, true, pitches_look_at},
    {figures_engines, true, NULL},
    {figures_drive, true, NULL},
    {figures_boat_mass, true, NULL},
    {figures_boat_money, true, NULL},
    {figures_money, true, NULL},
    {figures_suppliers, true, NULL},
    {boat_lead, true, NULL},
    {figures_boat_endurance, true, NULL},
    {weight_centres, true, NULL},
    {figures_weight, true, NULL},
    {figures_navigation, false, NULL},
    {figures_service, false, NULL},
    {figures_plan, false, plan_looks_at},
};
_Static_assert(sizeof steps / sizeof steps[0] < FIGURE_STEPS, "a step is a bit of a StepSet");

Figures *figures_compute(Arena *arena, const Model *model, Basis basis, Date today)
{
    Figures *figures = figures_new(arena, model, basis, today);
    figures_run(figures, steps, sizeof steps / sizeof steps[0]);
    return figures;
}
