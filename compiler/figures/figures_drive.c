/*
 * Engine, propeller, exhaust, fuel and thruster: the order of their recipes, and what these share.
 * See drive.h.
 */
#include "figures/drive.h"

#include "figures/fuel_plan.h"
#include "figures/power_makers.h"

#include "physics/pipe.h"

const Entity *gearbox_of(const Model *model, const Entity *engine)
{
    const Entity *gearbox = first_aboard(model, KIND_GEARBOX);
    while (gearbox != NULL && entity_reference(gearbox, PROP_GEARBOX_ENGINE) != engine) {
        gearbox = next_aboard(gearbox);
    }
    return gearbox;
}

bool is_planing(const Model *model)
{
    return model->boat != NULL && str_is(entity_word(model->boat, PROP_BOAT_HULL), "planing");
}

bool is_half_planing(const Model *model)
{
    return model->boat != NULL && str_is(entity_word(model->boat, PROP_BOAT_HULL), "semi-displacement");
}

bool is_fast(const Model *model)
{
    return is_planing(model) || is_half_planing(model);
}

DriveLimit usual_wake(const Model *model)
{
    return is_planing(model) ? DRIVE_PLANING_WAKE : DRIVE_SKEG_WAKE;
}

bool burns_fuel(const Entity *engine)
{
    return !str_is(entity_word(engine, PROP_ENGINE_FUEL), "electric");
}

bool is_outboard(const Entity *engine)
{
    return str_is(entity_word(engine, PROP_ENGINE_MOUNTED), "outboard");
}

bool is_sterndrive(const Entity *engine)
{
    return str_is(entity_word(engine, PROP_ENGINE_MOUNTED), "sterndrive");
}

bool is_rated_at_propeller(const Entity *engine)
{
    return is_outboard(engine) || is_sterndrive(engine);
}

bool is_petrol_inboard(const Entity *engine)
{
    bool fixed = engine->kind == KIND_ENGINE ? !is_outboard(engine)
                                             : engine->kind == KIND_GENERATOR && entity_yes(engine, PROP_COMMON_PORTABLE) != 1;
    return fixed && fuel_stated(engine) == FUEL_PETROL;
}

static const KindId burning_kinds[] = {KIND_ENGINE, KIND_GENERATOR};

bool has_petrol_inboard(const Model *model)
{
    for (size_t i = 0; i < sizeof burning_kinds / sizeof burning_kinds[0]; i++) {
        for (const Entity *e = first_aboard(model, burning_kinds[i]); e != NULL; e = next_aboard(e)) {
            if (is_petrol_inboard(e)) {
                return true;
            }
        }
    }
    return false;
}

bool turns_a_shaft(const Entity *engine)
{
    Str mounted = entity_word(engine, PROP_ENGINE_MOUNTED);
    return mounted.length == 0 || str_is(mounted, "inboard");
}

bool is_direct(const Model *model, const Entity *engine)
{
    return !burns_fuel(engine) && gearbox_of(model, engine) == NULL;
}

static bool says_alone(const Entity *engine)
{
    return entity_yes(engine, PROP_ENGINE_ALONE) == 1;
}

bool stands_by(const Model *model, const Entity *engine)
{
    const Entity *first = model->first_of_kind[KIND_ENGINE];
    bool before = true, drives = false;
    if (first == NULL || first->next_of_kind == NULL || !says_alone(engine)) {
        return false; /* mostly there is one, and this is asked often */
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL && !drives; e = next_aboard(e)) {
        before = before && e != engine;
        drives = before || (e != engine && !says_alone(e));
    }
    return drives;
}

bool run_together(const Model *model, const Entity *one, const Entity *other)
{
    return one == other || (!stands_by(model, one) && !stands_by(model, other));
}

static const Entity *driving_from_here(const Model *model, const Entity *engine)
{
    while (engine != NULL && stands_by(model, engine)) {
        engine = next_aboard(engine);
    }
    return engine;
}

const Entity *first_driving(const Model *model)
{
    return driving_from_here(model, first_aboard(model, KIND_ENGINE));
}

const Entity *next_driving(const Model *model, const Entity *engine)
{
    return driving_from_here(model, next_aboard(engine));
}

/* The property by which it does. */
static PropId under_of(const Entity *asks)
{
    return asks->kind == KIND_DAY ? PROP_DAY_UNDER : PROP_GOAL_UNDER;
}

bool names_engines(const Entity *asks)
{
    return asks != NULL && (asks->kind == KIND_DAY || asks->kind == KIND_GOAL) && entity_states(asks, under_of(asks));
}

bool drives_on(const Model *model, const Entity *engine, const Entity *asks)
{
    return names_engines(asks) ? entity_names(asks, under_of(asks), engine) : !stands_by(model, engine);
}

bool run_together_on(const Model *model, const Entity *one, const Entity *other, const Entity *asks)
{
    return one == other || (drives_on(model, one, asks) && drives_on(model, other, asks));
}

static const Entity *driving_on_from(const Model *model, const Entity *engine, const Entity *asks)
{
    while (engine != NULL && !drives_on(model, engine, asks)) {
        engine = next_aboard(engine);
    }
    return engine;
}

const Entity *first_driving_on(const Model *model, const Entity *asks)
{
    return driving_on_from(model, first_aboard(model, KIND_ENGINE), asks);
}

const Entity *next_driving_on(const Model *model, const Entity *engine, const Entity *asks)
{
    return driving_on_from(model, next_aboard(engine), asks);
}

const Figure *full_speed_with(const Figures *figures, const Entity *engine)
{
    const Entity *of = stands_by(figures->model, engine) ? engine : figures->model->boat;
    return figure_find(figures, of, FIGURE_FULL_SPEED, NULL);
}

bool is_of_one_standing_by(const Model *model, const Entity *alternator)
{
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    bool stands = engine != NULL && stands_by(model, engine);
    for (const Entity *day = first_aboard(model, KIND_DAY); day != NULL && stands; day = next_aboard(day)) {
        stands = !entity_names(day, PROP_DAY_UNDER, engine);
    }
    return stands;
}

bool is_turned_on(const Model *model, const Entity *alternator, const Entity *day)
{
    const Entity *engine = entity_reference(alternator, PROP_ALTERNATOR_ENGINE);
    return engine == NULL || drives_on(model, engine, day);
}

PropId speed_of(const Entity *asks)
{
    PropId prop = asks->kind == KIND_DAY ? PROP_DAY_DISTANCE : PROP_GOAL_RANGE;
    return entity_states(asks, prop) ? prop : PROP_NONE;
}

bool states_number(const Entity *thing, PropId prop)
{
    const Value *value = property_value(entity_property(thing, prop), 0);
    return value->kind == VALUE_QUANTITY && !value_is_hole(value);
}

const Feed *cable_of(const Feed *feed)
{
    for (int step = 0; feed != NULL && feed->shares && step < 32; step++) {
        feed = feed->giver != NULL ? feed->giver->fed : NULL;
    }
    return feed;
}

const Entity *bank_behind(const Feed *feed)
{
    for (int step = 0; feed != NULL && step < 32; step++) {
        const Entity *giver = feed->giver;
        if (giver == NULL || giver->flags & ENTITY_AC) {
            return NULL;
        }
        if (giver->kind == KIND_BANK) {
            return giver;
        }
        feed = giver->fed;
    }
    return NULL;
}

static const Entity *speed_from_here(const Model *model, const Entity *asks)
{
    while (asks != NULL && speed_of(asks) == PROP_NONE) {
        asks = next_aboard(asks) != NULL ? next_aboard(asks)
               : asks->kind == KIND_DAY  ? first_aboard(model, KIND_GOAL)
                                         : NULL;
    }
    return asks;
}

const Entity *first_speed(const Model *model)
{
    const Entity *day = first_aboard(model, KIND_DAY);
    return speed_from_here(model, day != NULL ? day : first_aboard(model, KIND_GOAL));
}

const Entity *next_speed(const Model *model, const Entity *asks)
{
    const Entity *next = next_aboard(asks);
    if (next == NULL && asks->kind == KIND_DAY) {
        next = first_aboard(model, KIND_GOAL);
    }
    return speed_from_here(model, next);
}

Interval use_drive_limit(Work *work, const char *what, DriveLimit limit, UnitPair unit)
{
    const Limit *row = drive_limit(limit);
    return use_fact(work, what, point(row->value), unit, row->source).value;
}

/* Brackish water lies between the two, wherever the tide has it. */
Interval use_water_density(Work *work)
{
    const Property *water = model_property(work->model, work->model->boat, PROP_BOAT_WATER);
    const Value *word = property_value(water, 0);
    Interval density = {liquid_density_kg_per_m3(LIQUID_FRESH_15_C),
                        liquid_density_kg_per_m3(LIQUID_SEA_15_C)};
    bool fresh = word->kind == VALUE_WORD && str_is(word->u.word, "fresh");
    bool salt = word->kind == VALUE_WORD && str_is(word->u.word, "salt");
    density = fresh ? point(density.low) : salt ? point(density.high) : density;
    return use_fact(work, "density of the water", density, UNIT_BY(UNIT_KG, UNIT_M3),
                    "sea water, or fresh, of 15 C; from memory")
        .value;
}

static bool has_engine(const Work *work)
{
    return first_aboard(work->model, KIND_ENGINE) != NULL;
}

void figures_ranges(Work *work)
{
    if (has_engine(work)) {
        drive_running(work);
        drive_ranges(work);
    }
}

void figures_propellers(Work *work)
{
    if (has_engine(work)) {
        drive_propellers(work);
    }
}

void figures_pitches(Work *work)
{
    if (has_engine(work)) {
        drive_pitches(work);
    }
}

void figures_engines(Work *work)
{
    if (has_engine(work) || first_aboard(work->model, KIND_GENERATOR) != NULL) {
        drive_engines(work);
    }
    drive_petrol_spaces(work);
    drive_burned(work);
}

void figures_drive(Work *work)
{
    drive_thrusters(work);
    drive_anchors(work);
}
