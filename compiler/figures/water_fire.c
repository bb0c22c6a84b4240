/*
 * Fire: how many extinguishers there are that still count, and how many a boat of that length is asked to
 * carry. Counted as 5-B, for that is how the table counts. See water.h.
 */
#include "figures/drive.h"

#include <math.h>

#include "figures/fuel_plan.h"
#include "model/status.h"
#include "physics/fire.h"
#include "physics/ventilation.h"

static bool holds_engine(const Model *model, const Entity *space, bool (*counts)(const Entity *engine))
{
    if (space == NULL || entity_yes(space, PROP_SPACE_ENGINE_SPACE) == 1) {
        return space != NULL;
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) == space && counts(e)) {
            return true;
        }
    }
    return false;
}

static bool is_inboard(const Entity *engine)
{
    return !is_outboard(engine);
}

bool is_engine_space(const Model *model, const Entity *space)
{
    return holds_engine(model, space, burns_within);
}

bool is_machinery_space(const Model *model, const Entity *space)
{
    return holds_engine(model, space, is_inboard);
}

bool has_expired(const Figures *figures, const Entity *gear)
{
    const Property *expires = entity_property(gear, gear->kind == KIND_ITEM    ? PROP_ITEM_EXPIRES
                                                    : gear->kind == KIND_ALARM ? PROP_ALARM_EXPIRES
                                                                               : PROP_EXTINGUISHER_EXPIRES);
    bool sound = expires != NULL && property_value(expires, 0)->kind == VALUE_DATE;
    return sound && property_date(expires) < figures->today;
}

static bool is_fixed(const Entity *extinguisher)
{
    return entity_yes(extinguisher, PROP_EXTINGUISHER_FIXED) == 1;
}

/* What a rating counts for, as so many 5-B. */
typedef struct Worth {
    const char *rating;
    double iso, us;
} Worth;

/*
 * By EN 3 the number is that of the litres in the tray (a trade page, verified), which is as many times 0.0314 m2 wide: 34-B is
 * the least that ISO 9094 takes for one (5A/34B, from memory), and from 183-B on more burns than the 4.65 m2 of a 20-B (UL 711,
 * from memory). No plate by EN 3 alone is approved by the US Coast Guard, which 33 CFR 175.310 asks for (from memory).
 */
static const Worth worths[] = {
    {"20-B", 2.0, 2.0}, {"13-B", 0.0, 0.0},  {"21-B", 0.0, 0.0},  {"34-B", 1.0, 0.0},  {"55-B", 1.0, 0.0},  {"70-B", 1.0, 0.0},
    {"89-B", 1.0, 0.0}, {"113-B", 1.0, 0.0}, {"144-B", 1.0, 0.0}, {"183-B", 2.0, 0.0}, {"233-B", 2.0, 0.0},
};

static const char us_source[] = "33 CFR 175.320: a 20-B for two 5-B, a 10-B for one (second hand)";

static double worth_of(Basis basis, Str rating, const char **source)
{
    *source = us_source;
    for (size_t i = 0; i < sizeof worths / sizeof worths[0]; i++) {
        if (str_is(rating, worths[i].rating)) {
            *source = i == 0               ? us_source
                      : basis == BASIS_US ? "33 CFR 175.310, from memory: approved ones count, and a plate by EN 3 alone is no such approval"
                                           : "ISO 9094, from memory: at least a 34B each; from 183B on more than a 20-B, by the size of the fire";
            return basis == BASIS_US ? worths[i].us : worths[i].iso;
        }
    }
    return 1.0;
}

/* How many 5-B one of a rating stands for. */
static Interval use_worth(Work *work, const Entity *extinguisher)
{
    const char *source;
    Str rating = entity_word(extinguisher, PROP_EXTINGUISHER_RATING);
    if (!entity_states(extinguisher, PROP_EXTINGUISHER_RATING)) {
        use_missing(work, extinguisher, PROP_EXTINGUISHER_RATING);
        return point(0.0);
    }
    if (rating.length == 0) {
        use_waiting(work);
    }
    double worth = worth_of(work->figures->basis, rating, &source);
    return use_fact(work, text_format(work->figures->arena, "what a %.*s counts for", STR_ARG(rating)), point(worth),
                    UNIT_ALONE(UNIT_NONE), source)
        .value;
}

static void record_extinguishers(Work *work)
{
    Sum sum;
    bool some_expired = false;
    sum_begin(&sum, work);
    for (const Entity *e = first_aboard(work->model, KIND_EXTINGUISHER); e != NULL; e = next_aboard(e)) {
        bool expired = has_expired(work->figures, e);
        some_expired |= expired;
        if (is_fixed(e) || expired) {
            continue;
        }
        sum_next(&sum);
        sum_label(&sum, work, "", e, "worth");
        Interval worth = use_worth(work, e);
        sum_count(&sum, work, e);
        sum_add(&sum, interval_multiply(worth, use_count(work, e).value));
    }
    Figure *figure = work_record(work, FIGURE_EXTINGUISHERS, work->model->boat, NULL, sum.value,
                                 sum.formula.length > 0 ? sum.formula.text : "none to carry counts");
    figure->remark = some_expired ? "one whose date has passed does not count" : NULL;
}

static bool has_fixed_system(const Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_EXTINGUISHER); e != NULL; e = next_aboard(e)) {
        if (is_fixed(e) && !has_expired(work->figures, e) &&
            is_machinery_space(work->model, entity_reference(e, PROP_COMMON_SPACE))) {
            return true;
        }
    }
    return false;
}

static void record_need(Work *work)
{
    bool fixed = has_fixed_system(work);
    work_begin(work);
    Interval length = use_value(work, work->model->boat, PROP_BOAT_LENGTH, 0).value;
    Interval need =
        (Interval){extinguishers_asked(length.low, fixed), extinguishers_asked(length.high, fixed)};
    if (work->state == STATE_KNOWN && need.low < 0.0) {
        return; /* the table has no figure for that length */
    }
    if (need.high < 0.0) {
        need = (Interval){0.0, INFINITY}; /* she may be longer than the table goes */
    }
    use_fact(work, fixed ? "asked of a boat with a fixed system in her engine space" : "asked of her", need,
             UNIT_ALONE(UNIT_NONE), "33 CFR 175.320(a), Table 1, second hand");
    work_record(work, FIGURE_EXTINGUISHERS_NEED, work->model->boat, NULL, need, "for {length}: {table}");
}

/* Something aboard burns, or somebody sleeps behind a door. */
bool can_burn(const Model *model)
{
    static const KindId burning[] = {KIND_GENERATOR, KIND_GAS_LOCKER, KIND_GAS_APPLIANCE, KIND_BURNER};
    for (size_t i = 0; i < sizeof burning / sizeof burning[0]; i++) {
        if (first_aboard(model, burning[i]) != NULL) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (!str_is(entity_word(e, PROP_ENGINE_FUEL), "electric")) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(model, KIND_SPACE); e != NULL; e = next_aboard(e)) {
        if (entity_yes(e, PROP_SPACE_SLEEPING) == 1) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(model, KIND_HEATER); e != NULL; e = next_aboard(e)) {
        if (burns_wood(e) || is_burner(model, e)) {
            return true;
        }
    }
    return first_tank(model, "fuel") != NULL;
}

const KindId flame_kinds[FLAME_KIND_COUNT] = {KIND_GAS_APPLIANCE, KIND_BURNER, KIND_HEATER};

bool burns_cabin_air(const Model *model, const Entity *thing)
{
    switch (thing->kind) {
    case KIND_BURNER: return true;
    case KIND_GAS_APPLIANCE: return entity_yes(thing, PROP_GAS_APPLIANCE_ROOM_SEALED) != 1;
    case KIND_HEATER: {
        int sealed = entity_yes(thing, PROP_HEATER_ROOM_SEALED);
        return burns_wood(thing) ? sealed != 1 : sealed == 0 && is_burner(model, thing);
    }
    default: return false;
    }
}

PropId flame_output(const Entity *flame)
{
    if (flame->kind == KIND_GAS_APPLIANCE) {
        bool by_input = !entity_states(flame, PROP_GAS_APPLIANCE_OUTPUT) && states_heat_input(flame);
        return by_input ? PROP_GAS_APPLIANCE_HEAT_INPUT : PROP_GAS_APPLIANCE_OUTPUT;
    }
    return flame->kind == KIND_BURNER ? PROP_BURNER_OUTPUT : PROP_HEATER_OUTPUT;
}

bool is_flued(const Entity *flame)
{
    return flame->kind == KIND_HEATER || (flame->kind == KIND_BURNER && entity_yes(flame, PROP_BURNER_FLUED) == 1);
}

/* Adds what things of a kind burn in a space, or give by burning, with a flue or without; returns whether any does. */
static bool use_flames(Work *work, Sum *sum, const Entity *space, KindId kind, bool flued, bool *partial)
{
    bool burns = false;
    for (const Entity *e = first_aboard(work->model, kind); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_COMMON_SPACE) != space || !burns_cabin_air(work->model, e) || is_flued(e) != flued) {
            continue;
        }
        burns = true;
        PropId output = flame_output(e);
        if (kind == KIND_BURNER && entity_yes(e, PROP_BURNER_FLUED) == -2) {
            use_waiting(work);
        }
        Quantity burned = use_stated(work, e, output, 0);
        if (burned.state == STATE_MISSING) {
            *partial = true;
            continue;
        }
        sum_next(sum);
        sum_label(sum, work, "", e, props[output].word);
        sum_count(sum, work, e);
        sum_add(sum, interval_multiply(burned.value, use_count(work, e).value));
    }
    return burns;
}

/* "2200 mm2 for each kW of {cooker.output}, and "; nothing where nothing was counted. */
static const char *say_heat(const Work *work, const Sum *sum, const char *each)
{
    return sum->formula.length > 0 ? text_format(work->figures->arena, "%s for each kW of %s, and ", each, sum->formula.text) : "";
}

/*
 * Openings of a space in which a flame takes its air: by all that burns there, and by those who may sit there, taken for the
 * crew. What does not state its `output` adds to it nobody knows how much.
 */
static void record_flame_opening(Work *work, const Entity *space)
{
    Sum open, flued;
    bool partial = false;
    sum_begin(&open, work);
    bool burns = use_flames(work, &open, space, KIND_GAS_APPLIANCE, false, &partial);
    burns = use_flames(work, &open, space, KIND_BURNER, false, &partial) || burns;
    sum_begin_beside(&flued, work);
    burns = use_flames(work, &flued, space, KIND_BURNER, true, &partial) || burns;
    burns = use_flames(work, &flued, space, KIND_HEATER, true, &partial) || burns;
    if (!burns) {
        return;
    }
    Interval crew = use_value(work, work->model->boat, PROP_BOAT_CREW, 0).value;
    Interval area = {flame_opening_m2(open.value.low, flued.value.low, crew.low),
                     flame_opening_m2(open.value.high, flued.value.high, crew.high)};
    const char *formula = text_format(work->figures->arena, "%s%s650 mm2 for each of {crew}", say_heat(work, &open, "2200 mm2"),
                                      say_heat(work, &flued, "550 mm2"));
    Figure *opening = work_record(work, FIGURE_FLAME_OPENING, space, NULL, area, formula);
    opening->unit = unit_of(space, PROP_SPACE_OPENINGS, work_unit(work, UNIT_ALONE(UNIT_CM2)));
    opening->partial = partial;
    opening->remark = partial ? "what states no `output` is not counted" : NULL;
}

/* By Entity.index: the spaces in which something takes its air. One way through what burns, not one for each space. */
static bool *find_breathed(Work *work)
{
    bool *breathed = ARENA_ARRAY(work->figures->arena, bool, work->model->entity_count + 1);
    for (int k = 0; k < FLAME_KIND_COUNT; k++) {
        for (const Entity *e = first_aboard(work->model, flame_kinds[k]); e != NULL; e = next_aboard(e)) {
            const Entity *space = entity_reference(e, PROP_COMMON_SPACE);
            if (space != NULL && burns_cabin_air(work->model, e)) {
                breathed[space->index] = true;
            }
        }
    }
    return breathed;
}

void water_fire(Work *work)
{
    bool any = false;
    for (int k = 0; k < FLAME_KIND_COUNT; k++) {
        any = any || first_aboard(work->model, flame_kinds[k]) != NULL;
    }
    const bool *breathed = any ? find_breathed(work) : NULL;
    for (const Entity *e = first_aboard(work->model, KIND_SPACE); e != NULL && any; e = next_aboard(e)) {
        if (breathed[e->index]) {
            record_flame_opening(work, e);
        }
    }
    if (can_burn(work->model)) {
        record_extinguishers(work);
        record_need(work);
    }
}
