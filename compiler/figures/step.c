/* See figure.h: running the steps of the recipes, running some of them again; finding figures. Which they are it is told. */
#include "figures/figure.h"

/* What a step needs for itself, in bytes a thing. */
enum { SCRATCH_A_THING = 256 };

static const StepSet any_step = ~(StepSet)0;

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
    const FigureStep *row = &work->figures->steps[step];
    if (!row->of_boat || work->model->boat != NULL) {
        trace->step = step;
        row->run(work);
        trace->step = before;
    }
}

void figures_run(Figures *figures, const FigureStep *steps, uint8_t count)
{
    Arena *scratch = arena_scratch(figures->arena, (size_t)figures->model->entity_count * SCRATCH_A_THING);
    figures->steps = steps;
    figures->step_count = count;
    for (uint8_t step = 1; step < count; step++) {
        Work work;
        work_init(&work, figures);
        work.scratch = scratch;
        run(&work, step);
        if (figures->handed_on == NULL) {
            arena_rewind(scratch);
        }
    }
}

/* The steps that can tell the difference where those of `stale` can. */
static StepSet stale_by(const Figures *was, StepSet stale, PropId changed)
{
    const FigureStep *steps = was->steps;
    const StepSet *needs = was->trace->notes->needs;
    for (unsigned step = 1; step < was->step_count; step++) {
        if (needs[step] & stale || (steps[step].looks_at != NULL && steps[step].looks_at(changed))) {
            stale = stale | step_bit(step);
        }
    }
    return stale;
}

void figures_also(Figures *again, PropId changed)
{
    const Figures *was = again->before;
    again->trace->stale = again->trace->stale | stale_by(was, was->trace->notes->reads[changed], changed);
}

Figures *figures_again(Arena *arena, const Figures *before, PropId changed, bool anew)
{
    FigureTrace *was = before->trace;
    StepSet stale = stale_by(before, anew ? any_step : was->notes->reads[changed], changed);
    was->of_trials = was->of_trials != NULL ? was->of_trials : ARENA_NEW(before->arena, FigureNotes);
    Figures *figures = without_lists(arena, before->model, before->basis, before->today, was->of_trials);
    figures->before = before;
    figures->steps = before->steps;
    figures->step_count = before->step_count;
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
    StepSet all = step_bit(figures->step_count) - step_bit(1); /* none is no step */
    StepSet waiting = wanted & earlier & all & trace->stale & ~trace->done;
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
    while (figures->steps[step].run != recipe) {
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
