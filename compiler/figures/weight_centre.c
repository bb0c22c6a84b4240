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

enum { AXES = 3 }; /* aft, to starboard, up: the slots of `at` */

/* What is recorded of each system and of the contents, and summed or used for the boat. */
enum { PLACED, CENTRES, MOMENTS = CENTRES + AXES, GROUP_FIGURES = MOMENTS + AXES };
static const FigureId group_ids[GROUP_FIGURES] = {FIGURE_PLACED_MASS, FIGURE_LCG, FIGURE_TCG, FIGURE_VCG,
                                                  FIGURE_MOMENT_AFT, FIGURE_MOMENT_STARBOARD, FIGURE_MOMENT_UP};
static const char formula_centre[] = "sum of mass x place / sum of mass";

/* A thing that is weighed, or a tank or water heater for what is in it. */
typedef struct Weighed {
    const Entity *thing;
    const Property *at; /* NULL: it has no place */
    const Figure *full; /* what it holds when full */
} Weighed;

/* What is weighed and placed, group after group; the contents of tanks are the last. */
typedef struct Study {
    Work *work;
    bool waiting;    /* something may count or not: every sum waits for a mistake to be mended */
    Weighed *things; /* all that states a mass, system after system, each in the order of the spec */
    size_t first_thing[SYSTEM_COUNT + 1]; /* of a system; its last stands before the first of the next */
    const char *left_out; /* how many of them have no place; NULL: all have */
    Weighed *tanks;       /* placed, and their contents are known; those that stay full first */
    size_t tank_count, steady_contents;
    Weighed *full; /* all whose contents are known, placed or not; tanks first */
    size_t full_count, full_tanks;
    Interval *masses, *places[AXES];
    size_t from[SCOPE_COUNT], until[SCOPE_COUNT]; /* of each system and of the contents */
    const Figure *groups[GROUP_FIGURES][SCOPE_COUNT];
    Interval steady[2]; /* what turns her along and across of what is the same however full the tanks are ... */
    KnownMasses known[AXES]; /* ... and of its masses those that are known */
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

static Figure *record_group(Study *study, unsigned which, FigureScope scope, Interval value, const char *formula)
{
    Figure *figure = record(study, group_ids[which], scope, value, formula);
    study->groups[which][scope] = figure;
    return figure;
}

/* ---- gathering ----------------------------------------------------------------------------------------- */

static bool stays_full(const Entity *entity)
{
    return entity->kind == KIND_WATER_HEATER || entity->kind == KIND_GAS_LOCKER;
}

static void order_by_system(Study *study, const Entity *const weighed[], size_t count)
{
    const Entity **ordered = ARENA_ARRAY(study->work->scratch, const Entity *, count);
    boat_order_by_system(weighed, count, ordered, study->first_thing);
    study->things = ARENA_ARRAY(study->work->scratch, Weighed, count);
    for (size_t i = 0; i < count; i++) {
        study->things[i] = (Weighed){.thing = ordered[i], .at = entity_property(ordered[i], PROP_COMMON_AT)};
    }
}

static void gather_full(Study *study, KindId kind)
{
    Work *work = study->work;
    for (const Entity *e = first_aboard(work->model, kind); e != NULL; e = next_aboard(e)) {
        const Figure *full = figure_find(work->figures, e, FIGURE_FULL_MASS, NULL);
        if (full != NULL) {
            study->full[study->full_count++] = (Weighed){e, entity_property(e, PROP_COMMON_AT), full};
        }
    }
}

/* What is placed of the contents from that one on. */
static void gather_contents(Study *study, size_t from, size_t until)
{
    for (size_t i = from; i < until; i++) {
        if (study->full[i].at != NULL && boat_counts(study->work, study->full[i].thing)) {
            study->tanks[study->tank_count++] = study->full[i];
        }
    }
}

static const char *say_left_out(Arena *arena, uint32_t unplaced)
{
    return unplaced == 0 ? NULL
                         : text_format(arena, "%u weighed %s no place", (unsigned)unplaced,
                                       unplaced == 1 ? "thing has" : "things have");
}

static size_t count_aboard(const Model *model, KindId kind)
{
    size_t count = 0;
    for (const Entity *e = first_aboard(model, kind); e != NULL; e = next_aboard(e)) {
        count++;
    }
    return count;
}

static void gather_all_contents(Study *study)
{
    const Model *model = study->work->model;
    size_t most = count_aboard(model, KIND_TANK) + count_aboard(model, KIND_WATER_HEATER) +
                  count_aboard(model, KIND_GAS_LOCKER);
    study->full = ARENA_ARRAY(study->work->scratch, Weighed, most);
    study->tanks = ARENA_ARRAY(study->work->scratch, Weighed, most);
    gather_full(study, KIND_TANK);
    study->full_tanks = study->full_count;
    gather_full(study, KIND_WATER_HEATER);
    gather_full(study, KIND_GAS_LOCKER);
    gather_contents(study, study->full_tanks, study->full_count);
    study->steady_contents = study->tank_count;
    gather_contents(study, 0, study->full_tanks);
}

static void gather_things(Study *study)
{
    Work *work = study->work;
    work_begin(work);
    const BoatThings *things = boat_things(work);
    const Entity **weighed = ARENA_ARRAY(work->scratch, const Entity *, things->count);
    size_t count = 0;
    uint32_t unplaced = 0;
    for (uint32_t i = 0; i < things->count; i++) {
        const Entity *entity = things->list[i];
        if (boat_weighs(work, entity)) {
            weighed[count++] = entity;
            unplaced += !entity_states(entity, PROP_COMMON_AT);
        }
    }
    gather_all_contents(study);
    study->waiting = work->state == STATE_WAITING;
    study->left_out = say_left_out(work->figures->arena, unplaced);
    order_by_system(study, weighed, count);
    size_t most = count - unplaced + study->tank_count;
    study->masses = ARENA_ARRAY(work->scratch, Interval, most);
    for (unsigned axis = 0; axis < AXES; axis++) {
        study->places[axis] = ARENA_ARRAY(work->scratch, Interval, most);
    }
}

static Interval use_mass(Work *work, const Entity *thing)
{
    Interval one = boat_mass(work, thing).value;
    return interval_multiply(one, boat_pieces(work, thing));
}

/* The places of one group along one axis; they are inputs. */
static void use_places(const Study *study, FigureScope scope, unsigned axis)
{
    bool contents = scope == SCOPE_CONTENTS;
    const Weighed *list = contents ? study->tanks : study->things + study->first_thing[scope];
    size_t count = contents ? study->tank_count : study->first_thing[scope + 1] - study->first_thing[scope];
    Interval *places = study->places[axis] + study->from[scope];
    for (size_t i = 0; i < count; i++) {
        if (list[i].at != NULL) {
            *places++ = use_statement(study->work, list[i].thing, list[i].at, axis).value;
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

/* What turns of such masses: each times its place, counted from one. */
static Interval moment_of(const Study *study, size_t from, size_t until, unsigned axis, Interval place, Interval sum)
{
    for (size_t i = from; i < until; i++) {
        Interval arm = interval_subtract(study->places[axis][i], place);
        sum = interval_add(sum, interval_multiply(study->masses[i], arm));
    }
    return sum;
}

/* The same about where places are counted from. */
static Interval moment_from_nought(const Study *study, size_t from, size_t until, unsigned axis)
{
    Interval sum = point(0.0);
    for (size_t i = from; i < until; i++) {
        sum = interval_add(sum, interval_multiply(study->masses[i], study->places[axis][i]));
    }
    return sum;
}

/* Mass and moments of what states a place; the moment's ends are those of mass times place, thing by thing. */
static void record_centres(Study *study, FigureScope scope)
{
    size_t from = study->from[scope], until = study->until[scope];
    for (unsigned axis = 0; axis < AXES; axis++) {
        begin(study);
        use_figure(study->work, study->groups[PLACED][scope]);
        use_places(study, scope, axis);
        Interval mean = weighted_mean(study->masses + from, study->places[axis] + from, until - from);
        Figure *centre = record_group(study, CENTRES + axis, scope, mean, formula_centre);
        centre->unit = unit_of(study->work->model->boat, PROP_BOAT_LENGTH, centre->unit);
        record_group(study, MOMENTS + axis, scope, moment_from_nought(study, from, until, axis), "sum of mass x place");
    }
}

/* The mass of what has a place, and its centres. */
static void record_placed_group(Study *study, FigureScope scope, const char *formula)
{
    Interval sum = sum_of(study->masses, study->from[scope], study->until[scope]);
    record_group(study, PLACED, scope, sum, formula)->unit = mass_unit(study->work->model);
    record_centres(study, scope);
}

/* Things of one system: all that is weighed, and what of it is placed. */
static void record_system(Study *study, FigureScope system, size_t *at)
{
    Interval all = point(0.0);
    size_t first = study->first_thing[system], end = study->first_thing[system + 1];
    study->from[system] = study->until[system] = *at;
    if (first == end) {
        return;
    }
    begin(study);
    for (size_t i = first; i < end; i++) {
        Interval mass = use_mass(study->work, study->things[i].thing);
        all = interval_add(all, mass);
        if (study->things[i].at != NULL) {
            study->masses[(*at)++] = mass;
        }
    }
    study->until[system] = *at;
    const Figure *mass = record_mass(study, FIGURE_MASS, system, all, "sum of mass x (count + spare)");
    size_t placed = *at - study->from[system];
    if (placed == 0) {
        return;
    }
    bool whole = placed == end - first;
    begin(study);
    if (whole) {
        use_figure(study->work, mass);
    }
    for (size_t i = first; i < end && !whole; i++) {
        if (study->things[i].at != NULL) {
            use_mass(study->work, study->things[i].thing);
        }
    }
    record_placed_group(study, system, whole ? "{mass}" : "sum of mass x (count + spare) of what has a place");
}

/* How full it counts where each is at its own level. */
static Interval level_of(Work *work, const Entity *tank)
{
    return stays_full(tank) ? point(1.0) : use_value(work, tank, PROP_TANK_FILL_LEVEL, 0).value;
}

/* All that is in them, whether they have a place or not, beside what the things of each system weigh. */
static void record_all_contents(Study *study)
{
    Interval sum = point(0.0);
    if (study->full_count == 0 || find(study, FIGURE_MASS, SCOPE_WHOLE) == NULL) {
        return;
    }
    begin(study);
    for (size_t i = 0; i < study->full_count; i++) {
        Interval full = use_figure(study->work, study->full[i].full).value;
        sum = interval_add(sum, interval_multiply(full, level_of(study->work, study->full[i].thing)));
    }
    record_mass(study, FIGURE_MASS, SCOPE_CONTENTS, sum,
                "sum of full-mass x fill-level; whole of water heaters and gas cylinders");
}

static void record_contents(Study *study, size_t *at)
{
    Work *work = study->work;
    record_all_contents(study);
    study->from[SCOPE_CONTENTS] = study->until[SCOPE_CONTENTS] = *at;
    if (study->tank_count == 0) {
        return;
    }
    begin(study);
    for (size_t i = 0; i < study->tank_count; i++) {
        Interval full = use_figure(work, study->tanks[i].full).value;
        study->masses[(*at)++] = interval_multiply(full, level_of(work, study->tanks[i].thing));
    }
    study->until[SCOPE_CONTENTS] = *at;
    record_placed_group(study, SCOPE_CONTENTS, "sum of full-mass x fill-level, of tanks, water heaters and gas cylinders that have a place");
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
static Interval use_groups(const Study *study, unsigned which, const Tanks *tanks, Buf *formula)
{
    Interval sum = point(0.0);
    for (int scope = SCOPE_WHOLE + 1; scope <= (int)(tanks->share < 0.0 ? SCOPE_CONTENTS : SYSTEM_COUNT - 1);
         scope++) {
        if (study->from[scope] == study->until[scope]) {
            continue;
        }
        sum = interval_add(sum, use_figure(study->work, study->groups[which][scope]).value);
        if (formula != NULL && formula_is_read(study->work)) {
            buf_format(formula, "%s{%s@%s}", formula->length > 0 ? " + " : "", figure_rows[group_ids[which]].name,
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

/* How many of what is weighed and placed count however full the tanks are, and in a state: of empty tanks none. */
static size_t steady_count(const Study *study)
{
    return study->from[SCOPE_CONTENTS] + study->steady_contents;
}

static size_t counted(const Study *study, const Tanks *tanks)
{
    return tanks->share == 0.0 ? steady_count(study) : study->until[SCOPE_CONTENTS];
}

/* Uses what such tanks hold when full: it counts with their share. */
static Interval use_tanks(Work *work, const Weighed *list, size_t count, const Tanks *tanks, Buf *formula)
{
    Interval sum = point(0.0);
    for (size_t i = 0; i < count; i++) {
        double share = share_of(tanks, list[i].thing);
        if (share <= 0.0) {
            continue;
        }
        Interval full = use_figure(work, list[i].full).value;
        sum = interval_add(sum, interval_scale(full, share));
        if (formula != NULL && formula_is_read(work)) {
            buf_format(formula, " + %s{%.*s.full-mass}", share < 1.0 ? "1/2 x " : "",
                       STR_ARG(entity_name(work->model, list[i].thing)));
        }
    }
    return sum;
}

static void record_placed(const Study *study, const Tanks *tanks)
{
    Buf formula;
    buf_init(&formula, study->work->figures->arena);
    begin(study);
    Interval sum = use_groups(study, PLACED, tanks, &formula);
    sum = interval_add(sum, use_tanks(study->work, study->tanks, study->tank_count, tanks, &formula));
    record_mass(study, FIGURE_PLACED_MASS, tanks->scope, sum, formula.text)->remark = study->left_out;
}

/* Uses what a place of the whole boat along an axis is made of. */
static void use_what_counts(const Study *study, const Tanks *tanks, unsigned axis)
{
    use_groups(study, PLACED, tanks, NULL);
    use_groups(study, CENTRES + axis, tanks, NULL);
    use_tanks(study->work, study->tanks, study->tank_count, tanks, NULL);
    for (size_t i = 0; i < study->tank_count; i++) {
        if (share_of(tanks, study->tanks[i].thing) > 0.0) {
            use_statement(study->work, study->tanks[i].thing, study->tanks[i].at, axis);
        }
    }
}

static void record_centre(const Study *study, const Tanks *tanks, unsigned axis)
{
    begin(study);
    use_what_counts(study, tanks, axis);
    Interval mean = weighted_mean_from(&study->known[axis], study->masses, study->places[axis], counted(study, tanks));
    Figure *centre = record(study, group_ids[CENTRES + axis], tanks->scope, mean, formula_centre);
    centre->unit = unit_of(study->work->model->boat, PROP_BOAT_LENGTH, centre->unit);
    centre->remark = study->left_out;
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
    use_what_counts(study, tanks, axis);
    Interval moment = moment_of(study, steady_count(study), counted(study, tanks), axis, from, study->steady[axis]);
    record(study, id, tanks->scope, moment, formula.text)->remark = study->left_out;
}

/* What turns her, and her centres, are summed of hundreds of things, and of a few tanks anew for each state. */
static void sum_steady(Study *study)
{
    Buf unread;
    buf_init(&unread, study->work->scratch);
    begin(study);
    Interval bears = use_buoyancy(study->work, &unread);
    study->steady[0] = moment_of(study, 0, steady_count(study), 0, bears, point(0.0));
    study->steady[1] = moment_from_nought(study, 0, steady_count(study), 1);
    for (unsigned axis = 0; axis < AXES; axis++) {
        study->known[axis] = known_masses(study->masses, study->places[axis], steady_count(study));
    }
}

static void record_moment(const Study *study, unsigned axis)
{
    Buf formula;
    buf_init(&formula, study->work->figures->arena);
    begin(study);
    Interval sum = use_groups(study, MOMENTS + axis, &states[0], &formula);
    record(study, group_ids[MOMENTS + axis], SCOPE_WHOLE, sum, formula.text);
}

static void record_state(Study *study, const Tanks *tanks)
{
    for (size_t i = 0; i < study->tank_count && tanks->share >= 0.0; i++) {
        Interval full = {study->tanks[i].full->low, study->tanks[i].full->high};
        study->masses[study->from[SCOPE_CONTENTS] + i] = interval_scale(full, share_of(tanks, study->tanks[i].thing));
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
    if (mass == NULL || study->full_tanks == 0) {
        return;
    }
    Buf formula;
    buf_init(&formula, work->figures->arena);
    buf_text(&formula, "{mass}");
    begin(study);
    Interval sum = use_figure(work, mass).value;
    sum = interval_add(sum, use_tanks(work, study->full, study->full_count, tanks, &formula));
    const Figure *whole = find(study, FIGURE_LOADED_MASS, SCOPE_WHOLE);
    Figure *loaded = record_mass(study, FIGURE_LOADED_MASS, tanks->scope, sum, formula.text);
    loaded->remark = whole->remark;
    loaded->partial = whole->partial;
}

void weight_centres(Work *work)
{
    Study study = {.work = work};
    size_t placed = 0;
    gather_things(&study);
    for (int system = SYSTEM_NONE + 1; system < SYSTEM_COUNT; system++) {
        record_system(&study, (FigureScope)system, &placed);
    }
    record_contents(&study, &placed);
    sum_steady(&study);
    for (size_t i = 0; i < sizeof states / sizeof states[0]; i++) {
        if (states[i].share >= 0.0) {
            record_loaded(&study, &states[i]);
        }
        if (placed > 0 && (i == 0 || study.tank_count > study.steady_contents)) {
            record_state(&study, &states[i]);
        }
    }
    for (unsigned axis = 0; axis < AXES && placed > 0; axis++) {
        record_moment(&study, axis);
    }
}
