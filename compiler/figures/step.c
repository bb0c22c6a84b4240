/* See figure.h: the steps of the recipes in their order, running them, running some of them again; finding figures. */
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
static const struct {
    void (*run)(Work *work);
    bool of_boat; /* nothing to do for a spec without a boat */
    bool (*looks_at)(PropId prop); /* without recording it as an input; NULL: at none */
} steps[] = {
    {NULL, false, NULL}, /* step 0 is none */
    {figures_climate, true, climate_looks_at},
    {water_hot, true, NULL}, /* how long an element runs says how much of its current is continuous */
    {figures_speeds, true, NULL}, /* what a motor needs for a range says how large its bank has to be */
    {figures_power, false, power_looks_at},
    {figures_cables, false, power_looks_at},
    {figures_banks, false, power_looks_at},
    {figures_engine_hours, true, power_looks_at},
    {figures_water, false, NULL},
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
enum { STEP_COUNT = sizeof steps / sizeof steps[0] };
_Static_assert(sizeof steps / sizeof steps[0] < FIGURE_STEPS, "a step is a bit of a StepSet");

/* What a step needs for itself, in bytes a thing. */
enum { SCRATCH_A_THING = 256 };

static const StepSet any_step = ~(StepSet)0;
static const StepSet all_steps = ((StepSet)1 << STEP_COUNT) - 2; /* none is no step */

static Figures *without_lists(Arena *arena, const Model *model, Basis basis, Date today, FigureNotes *notes)
{
    Figures *figures = ARENA_NEW(arena, Figures);
    *figures = (Figures){.arena = arena, .model = model, .basis = basis, .today = today, .in_feet = model_is_in_feet(model)};
    figures->trace = ARENA_NEW(arena, FigureTrace);
    figures->trace->figures = figures;
    figures->trace->notes = notes;
    return figures;
}

Figures *figures_new(Arena *arena, const Model *model, Basis basis, Date today)
{
    Figures *figures = without_lists(arena, model, basis, today, ARENA_NEW(arena, FigureNotes));
    figures_make_lists(figures);
    return figures;
}

static void run(Work *work, uint8_t step)
{
    FigureTrace *trace = work->figures->trace;
    uint8_t before = trace->step;
    if (!steps[step].of_boat || work->model->boat != NULL) {
        trace->step = step;
        steps[step].run(work);
        trace->step = before;
    }
}

Figures *figures_compute(Arena *arena, const Model *model, Basis basis, Date today)
{
    Figures *figures = figures_new(arena, model, basis, today);
    Arena *scratch = arena_scratch(arena, (size_t)model->entity_count * SCRATCH_A_THING);
    for (uint8_t step = 1; step < STEP_COUNT; step++) {
        Work work;
        work_init(&work, figures);
        work.scratch = scratch;
        run(&work, step);
        if (figures->handed_on == NULL) {
            arena_rewind(scratch);
        }
    }
    return figures;
}

/* The steps that can tell the difference where those of `stale` can. */
static StepSet stale_by(const FigureTrace *was, StepSet stale, PropId changed)
{
    for (unsigned step = 1; step < STEP_COUNT; step++) {
        if (was->notes->needs[step] & stale || (steps[step].looks_at != NULL && steps[step].looks_at(changed))) {
            stale = stale | step_bit(step);
        }
    }
    return stale;
}

void figures_also(Figures *again, PropId changed)
{
    const FigureTrace *was = again->before->trace;
    again->trace->stale = again->trace->stale | stale_by(was, was->notes->reads[changed], changed);
}

Figures *figures_again(Arena *arena, const Figures *before, PropId changed, bool anew)
{
    FigureTrace *was = before->trace;
    StepSet stale = stale_by(was, anew ? any_step : was->notes->reads[changed], changed);
    was->of_trials = was->of_trials != NULL ? was->of_trials : ARENA_NEW(before->arena, FigureNotes);
    Figures *figures = without_lists(arena, before->model, before->basis, before->today, was->of_trials);
    figures->before = before;
    figures->trace->stale = stale;
    return figures;
}

bool figures_choose_again(const Figures *figures)
{
    const FigureTrace *now = figures->trace;
    return (now->chooses | (now->done & figures->before->trace->chooses)) != 0;
}

static inline const Figure *find_among(const Figures *figures, const Entity *subject, FigureId id, const Entity *at, FigureScope scope)
{
    if (figures->lists == NULL) {
        return NULL;
    }
    const FigureList *list = &figures->lists[subject->index];
    if (!figure_list_may_have(list, id)) {
        return NULL;
    }
    const Figure *f = list->first;
    while (f != NULL && (f->id != id || f->at != at || f->scope != scope)) {
        f = f->next;
    }
    return f;
}

/* Runs the steps of a set that are stale and have not been run, the one that is running and later ones left out. */
static void run_again(const Figures *figures, StepSet wanted)
{
    FigureTrace *trace = figures->trace;
    StepSet earlier = trace->step == 0 ? any_step : step_bit(trace->step) - 1;
    StepSet waiting = wanted & earlier & all_steps & trace->stale & ~trace->done;
    for (uint8_t step = 1; waiting != 0; step++) {
        if (waiting & step_bit(step)) {
            Work work;
            work_init(&work, trace->figures);
            trace->done = trace->done | step_bit(step);
            run(&work, step);
            waiting = waiting & ~trace->done; /* it may have run others */
        }
    }
}

/* A figure of figures_again. A step that runs sees what it would have seen then: nothing of later steps. */
static const Figure *find_again(const Figures *figures, const Entity *subject, FigureId id, const Entity *at, FigureScope scope)
{
    FigureTrace *trace = figures->trace;
    const Figure *old = find_among(figures->before, subject, id, at, scope);
    if (old != NULL && !(trace->stale & step_bit(old->step))) {
        return trace->step == 0 || old->step < trace->step ? old : NULL;
    }
    StepSet makers = figures->before->trace->notes->makes[id];
    run_again(figures, old != NULL ? step_bit(old->step) : makers != 0 ? makers : any_step);
    const Figure *now = find_among(figures, subject, id, at, scope);
    return now != NULL && (trace->step == 0 || now->step <= trace->step) ? now : NULL;
}

static const Figure *needed(const Figures *figures, const Figure *found)
{
    if (found != NULL) {
        StepSet *needs = &figures->trace->notes->needs[figures->trace->step];
        *needs = *needs | step_bit(found->step);
    }
    return found;
}

/* A figure where something is tried: of figures_again, or with the figures of earlier steps behind. */
static const Figure *find_tried(const Figures *figures, const Entity *subject, FigureId id, const Entity *at, FigureScope scope)
{
    const Figure *found =
        figures->before != NULL ? find_again(figures, subject, id, at, scope) : find_among(figures, subject, id, at, scope);
    if (found == NULL && figures->earlier != NULL) {
        const Figure *made = find_tried(figures->earlier, subject, id, at, scope);
        found = made != NULL && made->step < figures->earlier->trace->step ? made : NULL;
    }
    return needed(figures, found);
}

static inline const Figure *find(const Figures *figures, const Entity *subject, FigureId id, const Entity *at, FigureScope scope)
{
    if (subject == NULL) {
        return NULL;
    }
    if (figures->before != NULL || figures->earlier != NULL) {
        return find_tried(figures, subject, id, at, scope);
    }
    return needed(figures, find_among(figures, subject, id, at, scope));
}

void figures_need(const Figures *figures, void (*recipe)(Work *work))
{
    FigureTrace *trace = figures->trace;
    uint8_t step = 1;
    while (steps[step].run != recipe) {
        step++;
    }
    trace->notes->needs[trace->step] = trace->notes->needs[trace->step] | step_bit(step);
    run_again(figures, step_bit(step));
}

const Figure *figure_find(const Figures *figures, const Entity *subject, FigureId id, const Entity *at)
{
    return find(figures, subject, id, at, SCOPE_WHOLE);
}

const Figure *figure_find_in(const Figures *figures, const Entity *subject, FigureId id, FigureScope scope)
{
    return find(figures, subject, id, NULL, scope);
}
