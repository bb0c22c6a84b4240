/*
 * What is aboard, weighed: mass and centre of gravity of each system, of what is in the tanks, of all of it, and of the
 * boat with her tanks empty, half full and full.
 *
 * Only what states both its mass and its place counts in the centres; a remark says how much was left out. What is in a
 * tank lies where the tank does, however full it is. Means over ranges are exact at both ends, for every sum anew.
 */
#include "figures/boat.h"
#include "figures/water.h"

#include "physics/weight.h"

#include <string.h>

enum { AXES = 3 }; /* aft, to starboard, up: the slots of `at` */

static const FigureId centre_ids[AXES] = {FIGURE_LCG, FIGURE_TCG, FIGURE_VCG};
static const FigureId moment_ids[AXES] = {FIGURE_MOMENT_AFT, FIGURE_MOMENT_STARBOARD, FIGURE_MOMENT_UP};
static const char formula_centre[] = "sum of mass x place / sum of mass";

/* What is weighed and placed, group after group; the contents of tanks are the last. */
typedef struct Study {
    Work *work;
    bool waiting;          /* something may count or not: every sum waits for a mistake to be mended */
    const Entity **things; /* all that states a mass, system after system, each in the order of the spec */
    size_t first_thing[SYSTEM_COUNT + 1]; /* of a system; its last stands before the first of the next */
    uint32_t unplaced;    /* of them */
    const Entity **tanks; /* placed, and their contents are known; water heaters, which stay full, first */
    Interval *full;       /* what each holds when full, kg */
    size_t tank_count, heater_count;
    Interval *masses, *places[AXES];
    size_t from[SCOPE_COUNT], until[SCOPE_COUNT]; /* of each system and of the contents */
} Study;

static void begin(const Study *study)
{
    work_begin(study->work);
    if (study->waiting) {
        use_waiting(study->work);
    }
}

static const Figure *find(const Study *study, FigureId id, FigureScope scope)
{
    return figure_find_in(study->work->figures, study->work->model->boat, id, scope);
}

static Figure *record(const Study *study, FigureId id, FigureScope scope, Interval value, const char *formula)
{
    Work *work = study->work;
    Figure *figure = work_record(work, id, work->model->boat, NULL, value, formula);
    figure->scope = (uint8_t)scope;
    return figure;
}

static Figure *record_mass(const Study *study, FigureId id, FigureScope scope, Interval value,
                           const char *formula)
{
    Figure *figure = record(study, id, scope, value, formula);
    figure->unit = mass_unit(study->work->model);
    return figure;
}

/* ---- gathering ----------------------------------------------------------------------------------------- */

static bool stays_full(const Entity *entity)
{
    return entity->kind == KIND_WATER_HEATER;
}

static void order_by_system(Study *study, const Entity *const weighed[], size_t count)
{
    size_t next[SYSTEM_COUNT + 1];
    for (size_t i = 0; i < count; i++) {
        study->first_thing[weighed[i]->system + 1]++;
    }
    for (size_t system = 0; system < SYSTEM_COUNT; system++) {
        study->first_thing[system + 1] += study->first_thing[system];
    }
    memcpy(next, study->first_thing, sizeof next);
    for (size_t i = 0; i < count; i++) {
        study->things[next[weighed[i]->system]++] = weighed[i];
    }
}

static void gather_contents(Study *study, KindId kind)
{
    Work *work = study->work;
    for (const Entity *entity = first_aboard(work->model, kind); entity != NULL; entity = next_aboard(entity)) {
        const Figure *full = figure_find(work->figures, entity, FIGURE_FULL_MASS, NULL);
        if (full != NULL && entity_states(entity, PROP_COMMON_AT) && boat_counts(work, entity)) {
            study->tanks[study->tank_count] = entity;
            study->full[study->tank_count++] = (Interval){full->low, full->high};
        }
    }
}

static void gather_things(Study *study)
{
    Work *work = study->work;
    const Model *model = work->model;
    const Entity **weighed = ARENA_ARRAY(work->scratch, const Entity *, model->entity_count);
    size_t count = 0;
    work_begin(work);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (!boat_counts(work, entity)) {
            continue;
        }
        if (boat_weighs(work, entity)) {
            weighed[count++] = entity;
            study->unplaced += !entity_states(entity, PROP_COMMON_AT);
        }
    }
    gather_contents(study, KIND_WATER_HEATER);
    study->heater_count = study->tank_count;
    gather_contents(study, KIND_TANK);
    study->waiting = work->state == STATE_WAITING;
    order_by_system(study, weighed, count);
}

static Interval use_mass(Work *work, const Entity *thing)
{
    Interval one = boat_mass(work, thing).value;
    return interval_multiply(one, boat_pieces(work, thing));
}

/* The places of one group along one axis; they are inputs. */
static void use_places(const Study *study, FigureScope scope, unsigned axis, size_t *at)
{
    bool contents = scope == SCOPE_CONTENTS;
    const Entity **list = contents ? study->tanks : study->things + study->first_thing[scope];
    size_t count = contents ? study->tank_count : study->first_thing[scope + 1] - study->first_thing[scope];
    for (size_t i = 0; i < count; i++) {
        if (entity_states(list[i], PROP_COMMON_AT)) {
            study->places[axis][(*at)++] = use_stated(study->work, list[i], PROP_COMMON_AT, axis).value;
        }
    }
}

/* ---- one group ----------------------------------------------------------------------------------------- */

static Interval sum_of(const Interval list[], size_t from, size_t until)
{
    Interval sum = point(0.0);
    for (size_t i = from; i < until; i++) {
        sum = interval_add(sum, list[i]);
    }
    return sum;
}

/* Mass and moments of what states a place; the moment's ends are those of mass times place, thing by thing. */
static void record_centres(const Study *study, FigureScope scope)
{
    size_t from = study->from[scope], count = study->until[scope] - from;
    for (unsigned axis = 0; axis < AXES; axis++) {
        begin(study);
        use_figure(study->work, find(study, FIGURE_PLACED_MASS, scope));
        size_t at = from;
        use_places(study, scope, axis, &at);
        const Interval *places = study->places[axis] + from;
        Figure *centre = record(study, centre_ids[axis], scope,
                                weighted_mean(study->masses + from, places, count), formula_centre);
        centre->unit = unit_of(study->work->model->boat, PROP_BOAT_LENGTH, centre->unit);
        Interval moment = point(0.0);
        for (size_t i = 0; i < count; i++) {
            moment = interval_add(moment, interval_multiply(study->masses[from + i], places[i]));
        }
        record(study, moment_ids[axis], scope, moment, "sum of mass x place");
    }
}

/* Things of one system: all that is weighed, and what of it is placed. */
static void record_system(Study *study, FigureScope system, size_t *at)
{
    Interval all = point(0.0);
    uint32_t unplaced = 0;
    size_t first = study->first_thing[system], end = study->first_thing[system + 1];
    study->from[system] = study->until[system] = *at;
    if (first == end) {
        return;
    }
    begin(study);
    for (size_t i = first; i < end; i++) {
        Interval mass = use_mass(study->work, study->things[i]);
        bool placed = entity_states(study->things[i], PROP_COMMON_AT);
        all = interval_add(all, mass);
        unplaced += !placed;
        if (placed) {
            study->masses[(*at)++] = mass;
        }
    }
    study->until[system] = *at;
    record_mass(study, FIGURE_MASS, system, all, "sum of mass x (count + spare)");
    if (study->from[system] == study->until[system]) {
        return;
    }
    begin(study);
    if (unplaced == 0) {
        use_figure(study->work, find(study, FIGURE_MASS, system));
    }
    for (size_t i = first; i < end && unplaced > 0; i++) {
        if (entity_states(study->things[i], PROP_COMMON_AT)) {
            use_mass(study->work, study->things[i]);
        }
    }
    record_mass(study, FIGURE_PLACED_MASS, system,
                sum_of(study->masses, study->from[system], study->until[system]),
                unplaced == 0 ? "{mass}" : "sum of mass x (count + spare) of what has a place");
    record_centres(study, system);
}

static void record_contents(Study *study, size_t *at)
{
    Work *work = study->work;
    study->from[SCOPE_CONTENTS] = study->until[SCOPE_CONTENTS] = *at;
    if (study->tank_count == 0) {
        return;
    }
    begin(study);
    for (size_t i = 0; i < study->tank_count; i++) {
        Interval full =
            use_figure(work, figure_find(work->figures, study->tanks[i], FIGURE_FULL_MASS, NULL)).value;
        Interval level = stays_full(study->tanks[i]) ? point(1.0)
                                                     : use_value(work, study->tanks[i], PROP_TANK_FILL_LEVEL, 0).value;
        study->masses[(*at)++] = interval_multiply(full, level);
    }
    study->until[SCOPE_CONTENTS] = *at;
    record_mass(study, FIGURE_PLACED_MASS, SCOPE_CONTENTS,
                sum_of(study->masses, study->from[SCOPE_CONTENTS], *at),
                "sum of full-mass x fill-level, of tanks and water heaters that have a place");
    record_centres(study, SCOPE_CONTENTS);
}

/* ---- all of it ----------------------------------------------------------------------------------------- */

/* The boat with her tanks so full; of a negative share, each at its own fill-level. */
typedef struct Tanks {
    FigureScope scope;
    double share;
} Tanks;

static const Tanks states[] = {
    {SCOPE_WHOLE, -1.0}, {SCOPE_TANKS_EMPTY, 0.0}, {SCOPE_TANKS_HALF, 0.5}, {SCOPE_TANKS_FULL, 1.0}};

/* Uses a figure of every group that counts in a state; a formula lists them with a plus between. NULL: none is wanted. */
static Interval use_groups(const Study *study, FigureId id, const Tanks *tanks, Buf *formula)
{
    Interval sum = point(0.0);
    for (int scope = SCOPE_WHOLE + 1; scope <= (int)(tanks->share < 0.0 ? SCOPE_CONTENTS : SYSTEM_COUNT - 1);
         scope++) {
        if (study->from[scope] == study->until[scope]) {
            continue;
        }
        sum = interval_add(sum, use_figure(study->work, find(study, id, (FigureScope)scope)).value);
        if (formula != NULL) {
            buf_format(formula, "%s{%s@%s}", formula->length > 0 ? " + " : "", figure_rows[id].name,
                       figure_scope_word((FigureScope)scope));
        }
    }
    return sum;
}

/* How full it is in a state in which all tanks are equally full. */
static double share_of(const Tanks *tanks, const Entity *tank)
{
    return stays_full(tank) && tanks->share >= 0.0 ? 1.0 : tanks->share;
}

/* How many of what is weighed and placed count in a state: of empty tanks none. */
static size_t counted(const Study *study, const Tanks *tanks)
{
    return tanks->share == 0.0 ? study->from[SCOPE_CONTENTS] + study->heater_count : study->until[SCOPE_CONTENTS];
}

/* Uses what such tanks hold when full: it counts with their share. */
static Interval use_tanks(Work *work, const Entity *const list[], size_t count, const Tanks *tanks,
                          Buf *formula)
{
    Interval sum = point(0.0);
    for (size_t i = 0; i < count; i++) {
        double share = share_of(tanks, list[i]);
        if (share <= 0.0) {
            continue;
        }
        Interval full = use_figure(work, figure_find(work->figures, list[i], FIGURE_FULL_MASS, NULL)).value;
        sum = interval_add(sum, interval_scale(full, share));
        if (formula != NULL) {
            buf_format(formula, " + %s{%.*s.full-mass}", share < 1.0 ? "1/2 x " : "",
                       STR_ARG(entity_name(work->model, list[i])));
        }
    }
    return sum;
}

static const char *left_out(const Study *study)
{
    return study->unplaced == 0
               ? NULL
               : text_format(study->work->figures->arena, "%u weighed %s no place", (unsigned)study->unplaced,
                             study->unplaced == 1 ? "thing has" : "things have");
}

static void record_placed(const Study *study, const Tanks *tanks)
{
    Buf formula;
    buf_init(&formula, study->work->figures->arena);
    begin(study);
    Interval sum = use_groups(study, FIGURE_PLACED_MASS, tanks, &formula);
    sum = interval_add(sum, use_tanks(study->work, study->tanks, study->tank_count, tanks, &formula));
    record_mass(study, FIGURE_PLACED_MASS, tanks->scope, sum, formula.text)->remark = left_out(study);
}

static void use_tank_places(const Study *study, const Tanks *tanks, unsigned axis)
{
    for (size_t i = 0; i < study->tank_count; i++) {
        if (share_of(tanks, study->tanks[i]) > 0.0) {
            use_stated(study->work, study->tanks[i], PROP_COMMON_AT, axis);
        }
    }
}

static void record_centre(const Study *study, const Tanks *tanks, unsigned axis)
{
    Work *work = study->work;
    size_t count = counted(study, tanks);
    begin(study);
    use_groups(study, FIGURE_PLACED_MASS, tanks, NULL);
    use_groups(study, centre_ids[axis], tanks, NULL);
    use_tanks(work, study->tanks, study->tank_count, tanks, NULL);
    use_tank_places(study, tanks, axis);
    Figure *centre = record(study, centre_ids[axis], tanks->scope,
                            weighted_mean(study->masses, study->places[axis], count), formula_centre);
    centre->unit = unit_of(work->model->boat, PROP_BOAT_LENGTH, centre->unit);
    centre->remark = left_out(study);
}

/* How far from the foremost point her centre of buoyancy lies. */
static Interval use_buoyancy(Work *work, Buf *formula)
{
    const Entity *boat = work->model->boat;
    Quantity stated = use_stated(work, boat, PROP_BOAT_BUOYANCY, 0);
    if (stated.state != STATE_MISSING) {
        buf_text(formula, "{buoyancy}");
        return stated.value;
    }
    Interval share =
        use_fact(work, "centre of buoyancy, share of the waterline aft of its fore end", interval(0.51, 0.55),
                 UNIT_ALONE(UNIT_PERCENT), "common practice, no source; equal overhangs")
            .value;
    Interval waterline = use_value(work, boat, PROP_BOAT_WATERLINE, 0).value;
    Interval length = use_value(work, boat, PROP_BOAT_LENGTH, 0).value;
    buf_text(formula, "({share} x {waterline} + ({length} - {waterline}) / 2)");
    Interval overhang = interval_scale(interval_subtract(length, waterline), 0.5);
    return interval_add(interval_multiply(share, waterline), overhang);
}

/* What turns her: every mass times its place aft of where the water bears her, or beside her middle. */
static void record_turning(const Study *study, const Tanks *tanks, FigureId id, unsigned axis)
{
    Buf formula;
    buf_init(&formula, study->work->figures->arena);
    begin(study);
    bool lengthwise = id == FIGURE_TRIMMING;
    buf_text(&formula, lengthwise ? "sum of mass x (place - " : "sum of mass x place");
    Interval from = lengthwise ? use_buoyancy(study->work, &formula) : point(0.0);
    buf_text(&formula, lengthwise ? ")" : "");
    size_t count = counted(study, tanks);
    use_groups(study, FIGURE_PLACED_MASS, tanks, NULL);
    use_groups(study, centre_ids[axis], tanks, NULL);
    use_tanks(study->work, study->tanks, study->tank_count, tanks, NULL);
    use_tank_places(study, tanks, axis);
    Interval moment = point(0.0);
    for (size_t i = 0; i < count; i++) {
        Interval arm = interval_subtract(study->places[axis][i], from);
        moment = interval_add(moment, interval_multiply(study->masses[i], arm));
    }
    record(study, id, tanks->scope, moment, formula.text)->remark = left_out(study);
}

static void record_moment(const Study *study, unsigned axis)
{
    Buf formula;
    buf_init(&formula, study->work->figures->arena);
    begin(study);
    Interval sum = use_groups(study, moment_ids[axis], &states[0], &formula);
    record(study, moment_ids[axis], SCOPE_WHOLE, sum, formula.text);
}

static void record_state(Study *study, const Tanks *tanks)
{
    for (size_t i = 0; i < study->tank_count && tanks->share >= 0.0; i++) {
        study->masses[study->from[SCOPE_CONTENTS] + i] = interval_scale(study->full[i], share_of(tanks, study->tanks[i]));
    }
    record_placed(study, tanks);
    for (unsigned axis = 0; axis < AXES; axis++) {
        record_centre(study, tanks, axis);
    }
    record_turning(study, tanks, FIGURE_TRIMMING, 0);
    if (tanks->scope != SCOPE_WHOLE) {
        record_turning(study, tanks, FIGURE_MOMENT_STARBOARD, 1);
    }
}

/* What she weighs in a state, whether placed or not. */
static void record_loaded(const Study *study, const Tanks *tanks)
{
    Work *work = study->work;
    const Figure *mass = find(study, FIGURE_MASS, SCOPE_WHOLE);
    const Entity **list = ARENA_ARRAY(work->scratch, const Entity *, work->model->entity_count);
    size_t count = 0;
    for (const Entity *tank = first_aboard(work->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        if (figure_find(work->figures, tank, FIGURE_FULL_MASS, NULL) != NULL) {
            list[count++] = tank;
        }
    }
    if (mass == NULL || count == 0 || tanks->share < 0.0) {
        return;
    }
    for (const Entity *e = first_aboard(work->model, KIND_WATER_HEATER); e != NULL; e = next_aboard(e)) {
        if (figure_find(work->figures, e, FIGURE_FULL_MASS, NULL) != NULL) {
            list[count++] = e;
        }
    }
    Buf formula;
    buf_init(&formula, work->figures->arena);
    buf_text(&formula, "{mass}");
    begin(study);
    Interval sum = use_figure(work, mass).value;
    sum = interval_add(sum, use_tanks(work, list, count, tanks, &formula));
    record_mass(study, FIGURE_LOADED_MASS, tanks->scope, sum, formula.text)->remark =
        find(study, FIGURE_LOADED_MASS, SCOPE_WHOLE)->remark;
}

void weight_centres(Work *work)
{
    Arena *arena = work->scratch;
    size_t most = work->model->entity_count;
    Study study = {.work = work,
                   .things = ARENA_ARRAY(arena, const Entity *, most),
                   .tanks = ARENA_ARRAY(arena, const Entity *, most),
                   .full = ARENA_ARRAY(arena, Interval, most),
                   .masses = ARENA_ARRAY(arena, Interval, 2 * most)};
    for (unsigned axis = 0; axis < AXES; axis++) {
        study.places[axis] = ARENA_ARRAY(arena, Interval, 2 * most);
    }
    gather_things(&study);
    size_t placed = 0;
    for (int system = SYSTEM_NONE + 1; system < SYSTEM_COUNT; system++) {
        record_system(&study, (FigureScope)system, &placed);
    }
    record_contents(&study, &placed);
    for (size_t i = 0; i < sizeof states / sizeof states[0]; i++) {
        record_loaded(&study, &states[i]);
        if (placed > 0 && (i == 0 || study.tank_count > study.heater_count)) {
            record_state(&study, &states[i]);
        }
    }
    for (unsigned axis = 0; axis < AXES && placed > 0; axis++) {
        record_moment(&study, axis);
    }
}
