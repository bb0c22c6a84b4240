/*
 * What several engines share: an exhaust that all of them blow into, and an intake by which all of them draw. Each pipe has to
 * stand the power of all together; where as many pipes are counted, each takes its part.
 */
#include "figures/drive.h"
#include "figures/joints.h"
#include "figures/plumbing.h"

PropId exhaust_prop(const Entity *burner)
{
    return burner->kind == KIND_GENERATOR ? PROP_GENERATOR_EXHAUST : PROP_ENGINE_EXHAUST;
}

/* Of the engines, or of the generators, from one of them on. */
static const Entity *first_blowing(const Entity *burner, const Entity *exhaust)
{
    while (burner != NULL && entity_reference(burner, exhaust_prop(burner)) != exhaust) {
        burner = next_aboard(burner);
    }
    return burner;
}

const Entity *engine_of_exhaust(const Model *model, const Entity *exhaust)
{
    return first_blowing(first_aboard(model, KIND_ENGINE), exhaust);
}

const Entity *burner_of_exhaust(const Model *model, const Entity *exhaust)
{
    const Entity *engine = engine_of_exhaust(model, exhaust);
    return engine != NULL ? engine : first_blowing(first_aboard(model, KIND_GENERATOR), exhaust);
}

const Entity *next_of_exhaust(const Model *model, const Entity *burner)
{
    const Entity *exhaust = entity_reference(burner, exhaust_prop(burner));
    const Entity *next = first_blowing(next_aboard(burner), exhaust);
    return next == NULL && burner->kind == KIND_ENGINE ? first_blowing(first_aboard(model, KIND_GENERATOR), exhaust) : next;
}

/* Whether the sea water of an engine comes by a fitting in the hull, a hose or a strainer. */
static bool draws_by(const Plumbing *plumbing, const Entity *engine, const Entity *thing)
{
    if (thing->kind == KIND_THROUGH_HULL && entity_names(thing, PROP_THROUGH_HULL_SERVES, engine)) {
        return true;
    }
    const Entity *hoses[HOSES_BACK];
    uint32_t count = hoses_back(plumbing, engine, hoses);
    for (uint32_t i = 0; i < count; i++) {
        bool sits_on = thing->kind == KIND_STRAINER && entity_reference(thing, PROP_STRAINER_ON) == hoses[i];
        if (hoses[i] == thing || entity_reference(hoses[i], PROP_HOSE_FROM) == thing || sits_on) {
            return true;
        }
    }
    return false;
}

/* Begins a term: the power of an engine, or of all that are counted there. What a generator gives is taken for that of its engine. */
static void use_rated(Work *work, Sum *sum, const Entity *burner)
{
    sum_next(sum);
    sum_label(sum, work, "", burner, "rated power");
    Interval power = use_value(work, burner, burner->kind == KIND_GENERATOR ? PROP_GENERATOR_RATED : PROP_ENGINE_RATED, 0).value;
    sum_count(sum, work, burner);
    sum_add(sum, interval_multiply(power, use_count(work, burner).value));
}

/* Shared out to as many pipes as are counted: "(a + b) / count"; what is summed stands in brackets. */
static Interval use_shared_out(Work *work, Sum *sum, const Entity *pipe, const char **shown)
{
    Interval count = use_count(work, pipe).value;
    *shown = text_format(work->figures->arena, "(%s)", sum->formula.text);
    if (!entity_states(pipe, PROP_COMMON_COUNT)) {
        return sum->value;
    }
    *shown = text_format(work->figures->arena, "(%s) / {%.*s.count}", sum->formula.text, STR_ARG(entity_name(work->model, pipe)));
    return interval_divide(sum->value, count);
}

Interval use_power_blown(Work *work, const Entity *exhaust, const char **shown)
{
    const Entity *engine = engine_of_exhaust(work->model, exhaust);
    if (next_of_exhaust(work->model, engine) == NULL && !entity_states(engine, PROP_COMMON_COUNT)) {
        *shown = "{rated power}";
        return use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    }
    Sum sum;
    sum_begin_beside(&sum, work);
    for (const Entity *e = engine; e != NULL; e = next_of_exhaust(work->model, e)) {
        use_rated(work, &sum, e);
    }
    return use_shared_out(work, &sum, exhaust, shown);
}

/* Whether the engine is one of several that draw by a thing, or is counted itself. */
static bool draws_with_others(const Work *work, const Plumbing *plumbing, const Entity *engine, const Entity *thing)
{
    bool others = entity_states(engine, PROP_COMMON_COUNT);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL && !others; e = next_aboard(e)) {
        others = e != engine && is_cooled_by_the_sea(e) && draws_by(plumbing, e, thing);
    }
    return others;
}

/* What an engine's intake asks of a fitting, a hose or a strainer by which others draw too. */
static void record_shared(Work *work, const Plumbing *plumbing, const Entity *engine, const Entity *thing)
{
    if (!draws_by(plumbing, engine, thing) || !draws_with_others(work, plumbing, engine, thing)) {
        return;
    }
    Sum sum;
    const char *shown;
    sum_begin(&sum, work);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (is_cooled_by_the_sea(e) && draws_by(plumbing, e, thing)) {
            use_rated(work, &sum, e);
        }
    }
    Interval power = use_shared_out(work, &sum, thing, &shown);
    use_drive_limit(work, "bore for 85 kW", DRIVE_INTAKE_BORE, UNIT_ALONE(UNIT_MM));
    use_drive_limit(work, "power for 25 mm", DRIVE_INTAKE_POWER, UNIT_ALONE(UNIT_KW));
    use_drive_limit(work, "least of small engines", DRIVE_INTAKE_LEAST, UNIT_ALONE(UNIT_MM));
    work_record(work, FIGURE_INTAKE_NEED, engine, thing, interval_corners(intake_bore_m(power.low), intake_bore_m(power.high)),
                text_format(work->figures->arena,
                            "root of %s x {bore}, per root of {power}; no less than {what makers ask of the smallest}", shown));
}

void drive_shared_intakes(Work *work)
{
    static const KindId pipes[] = {KIND_THROUGH_HULL, KIND_HOSE, KIND_STRAINER};
    const Plumbing *plumbing = plumbing_of(work->figures);
    for (const Entity *engine = first_aboard(work->model, KIND_ENGINE); engine != NULL; engine = next_aboard(engine)) {
        for (size_t i = 0; is_cooled_by_the_sea(engine) && i < sizeof pipes / sizeof pipes[0]; i++) {
            for (const Entity *e = first_aboard(work->model, pipes[i]); e != NULL; e = next_aboard(e)) {
                record_shared(work, plumbing, engine, e);
            }
        }
    }
}
