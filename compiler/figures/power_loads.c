/*
 * What the loads of a bank take in a day, in each step, gathered down the tree of feeds.
 *
 * Loads behind an inverter count over its efficiency, with its idle; while shore power or a generator that can carry them
 * is there, they and the idle ask the bank for nothing. A charger moves charge and takes none; a converter that feeds loads
 * counts over its efficiency.
 */
#include "figures/power_days.h"

#include "physics/navigation.h"

#include <math.h>
#include <string.h>

enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */

/* One gathering. */
typedef struct Gather {
    Power *power;
    const Entity *day;
    bool supply; /* for an inlet or generator: what chargers and inverters take of it is not counted */
} Gather;

/* The generator or inlet at the head of what an inverter lets through, or shares a transfer switch with. */
const Entity *inverter_other_source(const Power *power, const Entity *inverter)
{
    const Entity *passes = entity_reference(inverter, PROP_INVERTER_PASSES);
    if (passes != NULL) {
        return power_node(power, passes)->source;
    }
    for (const Feed *feed = inverter->gives; feed != NULL; feed = feed->next_of_giver) {
        for (const Feed *other = feed->taker->fed; other != NULL; other = other->next) {
            const Entity *source = other->giver != NULL ? power_node(power, other->giver)->source : NULL;
            if (source != NULL && (source->kind == KIND_INLET || source->kind == KIND_GENERATOR)) {
                return source;
            }
        }
    }
    return NULL;
}

static double finite(double value)
{
    return fmin(value, 1e12);
}

static void add_load(Gather *gather, const Entity *load, Hours *watts)
{
    Work *work = gather->power->work;
    Hours use;
    const Property *only = hours_only_use(load, gather->day);
    if (only == NULL && !hours_of_use(work, load, gather->day, &use)) {
        return;
    }
    Quantity draw = use_value(work, load, PROP_LOAD_DRAW, 0);
    Quantity count = use_count(work, load);
    if (only != NULL) {
        record_one_use(work, load, only);
    } else {
        record_uses(work, load, gather->day);
    }
    if (draw.state != STATE_KNOWN || count.state != STATE_KNOWN) {
        return;
    }
    UnitPair unit = property_value(entity_property(load, PROP_LOAD_DRAW), 0)->unit;
    Interval power = interval_multiply(draw.value, count.value);
    if (dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        if (power_node(gather->power, load)->nominal_v <= 0.0) {
            use_no_voltage(work, power_node(gather->power, load)->source); /* amperes at a voltage that nobody can tell are not no power */
        }
        power = interval_multiply(power, power_node(gather->power, load)->working_v);
    }
    double of[CORNERS] = {finite(power.high), finite(power.low)};
    if (only != NULL) {
        hours_add_use(watts, load, only, of);
        return;
    }
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            watts->of[c][i] += of[c] * use.of[c][i];
        }
    }
}

/* At its rated speed a motor gives its rated power, and at another one by the cube of its share: the propeller's law. */
static Interval motor_watts(Work *work, const Entity *engine, const Entity *day, const Property *run)
{
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval most = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    bool stated = property_value(run, 1)->kind == VALUE_QUANTITY;
    Interval speed = stated ? use_statement(work, day, run, 1).value : interval_hull(point(0.0), most);
    Interval share = interval_min(interval_divide(speed, most), point(1.0));
    Interval taken = interval_divide(rated, use_motor_keeps(work, engine).value);
    return interval_multiply(taken, interval_corners(pow(share.low, 3.0), pow(share.high, 3.0)));
}

/* An electric engine takes what it gives while the day says that the engine runs. */
static void add_motor(Gather *gather, const Entity *engine, Hours *watts)
{
    Work *work = gather->power->work;
    double next = ENGINE_FROM_S;
    const Property *run = entity_property(gather->day, PROP_DAY_ENGINE);
    for (; run != NULL; run = block_next(&gather->day->block, run)) {
        const Value *time = property_value(run, 0);
        use_if_mistaken(work, run);
        if (time->kind == VALUE_QUANTITY && time->u.quantity.high <= 0.0) {
            continue;
        }
        Interval power = interval_multiply(motor_watts(work, engine, gather->day, run), use_count(work, engine).value);
        double of[CORNERS] = {finite(power.high), finite(power.low)};
        if (time->kind == VALUE_QUANTITY) {
            use_statement(work, gather->day, run, 0);
        }
        hours_add(watts, time, &next, of, false);
    }
}

/* Things on a data backbone take its power while they are in use. */
static void add_backbone(Gather *gather, const Entity *network, Hours *watts)
{
    Work *work = gather->power->work;
    Interval volts = power_node(gather->power, network)->working_v;
    for (const Entity *thing = power_next_joined(work->model, network, NULL); thing != NULL;
         thing = power_next_joined(work->model, network, thing)) {
        Hours use;
        if (!hours_of_use(work, thing, gather->day, &use)) {
            continue;
        }
        Interval number = use_value(work, thing, PROP_NETWORKED_LOAD_NUMBER, 0).value;
        Interval amps = interval_scale(interval_multiply(number, use_count(work, thing).value), BACKBONE_LOAD_A);
        Interval power = interval_multiply(amps, volts);
        double of[CORNERS] = {finite(power.high), finite(power.low)};
        for (int c = 0; c < CORNERS; c++) {
            for (int i = 0; i < DAY_STEPS; i++) {
                watts->of[c][i] += of[c] * use.of[c][i];
            }
        }
    }
}

static void gather_takers(Gather *gather, const Entity *giver, int depth, Hours *watts);

/* Adds what is behind a thing over its efficiency, and what it draws besides, in the part of each step that is left. */
static void add_behind(const Hours *behind, Quantity efficiency, Interval idle, const Hours *absent, Hours *watts)
{
    double share[CORNERS] = {1.0, 1.0};
    if (efficiency.state == STATE_KNOWN) {
        share[WORSE] = fmax(efficiency.value.low, 0.01);
        share[BETTER] = fmax(efficiency.value.high, 0.01);
    }
    double own[CORNERS] = {finite(idle.high), finite(idle.low)};
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            double there = absent != NULL ? absent->of[c][i] : 0.0;
            watts->of[c][i] += (behind->of[c][i] / share[c] + own[c]) * (1.0 - there);
        }
    }
}

static void add_inverter(Gather *gather, const Entity *inverter, int depth, Hours *watts)
{
    Work *work = gather->power->work;
    Hours behind;
    Hours there;
    memset(&behind, 0, sizeof behind);
    gather_takers(gather, inverter, depth + 1, &behind);
    Quantity efficiency = use_value(work, inverter, PROP_INVERTER_EFFICIENCY, 0);
    Quantity idle = use_value(work, inverter, PROP_INVERTER_IDLE, 0);
    const Entity *other = inverter_other_source(gather->power, inverter);
    if (other != NULL) {
        hours_of_supply(work, gather->day, other->kind == KIND_GENERATOR ? PROP_DAY_GENERATOR : PROP_DAY_SHORE, &there);
    }
    add_behind(&behind, efficiency, idle.state == STATE_KNOWN ? idle.value : point(0.0), other != NULL ? &there : NULL,
               watts);
}

static void add_converter(Gather *gather, const Entity *converter, int depth, Hours *watts)
{
    Hours behind;
    memset(&behind, 0, sizeof behind);
    gather_takers(gather, converter, depth + 1, &behind);
    Quantity efficiency = use_value(gather->power->work, converter, PROP_CONVERTER_EFFICIENCY, 0);
    add_behind(&behind, efficiency, point(0.0), NULL, watts);
}

static void add_taker(Gather *gather, const Entity *taker, int depth, Hours *watts)
{
    if (taker->kind == KIND_CHARGER) {
        return;
    }
    if (taker->kind == KIND_INVERTER) {
        if (!gather->supply) {
            add_inverter(gather, taker, depth, watts);
        }
        return;
    }
    if (taker->kind == KIND_CONVERTER) {
        add_converter(gather, taker, depth, watts);
        return;
    }
    if (taker->kind == KIND_ENGINE && !is_cranked(taker)) {
        add_motor(gather, taker, watts);
    }
    if (taker->kind == KIND_NETWORK) {
        add_backbone(gather, taker, watts);
    }
    if (kinds[taker->kind].groups & GROUPS_LOAD) {
        add_load(gather, taker, watts);
    }
    gather_takers(gather, taker, depth + 1, watts);
}

static void gather_takers(Gather *gather, const Entity *giver, int depth, Hours *watts)
{
    for (const Feed *feed = giver->gives; feed != NULL && depth <= DEEPEST; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        bool first = taker->fed == feed || (feed->maker && taker->fed == NULL && taker->kind != KIND_BANK);
        bool alternative = !first && giver->kind == KIND_INVERTER; /* a transfer switch's second source */
        if ((first || alternative) && !(taker->flags & (ENTITY_DROPPED | ENTITY_LOOP)) && taker != giver) {
            add_taker(gather, taker, depth, watts);
        }
    }
}

/* What hangs on nobody knows what, since its `fed-by` is a mistake, may hang here: then the sum waits. */
static void wait_for_strays(Gather *gather)
{
    const Power *power = gather->power;
    for (uint32_t i = 0; i < power->stray_count; i++) {
        Hours watts;
        memset(&watts, 0, sizeof watts);
        add_taker(gather, power->strays[i]->taker, 0, &watts);
        for (int step = 0; step < DAY_STEPS; step++) {
            if (watts.of[WORSE][step] > 0.0) {
                use_waiting(gather->power->work);
                return;
            }
        }
    }
}

void bank_watts(Power *power, const Entity *bank, const Entity *day, Hours *watts)
{
    Gather gather = {.power = power, .day = day};
    memset(watts, 0, sizeof *watts);
    gather_takers(&gather, bank, 0, watts);
    wait_for_strays(&gather);
}

void supply_watts(Power *power, const Entity *supply, const Entity *day, Hours *watts)
{
    Gather gather = {.power = power, .day = day, .supply = true};
    memset(watts, 0, sizeof *watts);
    gather_takers(&gather, supply, 0, watts);
    for (const Entity *inverter = power->model->first_of_kind[KIND_INVERTER]; inverter != NULL;
         inverter = inverter->next_of_kind) {
        const Entity *passes = entity_reference(inverter, PROP_INVERTER_PASSES);
        if (passes != NULL && power_node(power, passes)->source == supply && !(inverter->flags & ENTITY_DROPPED)) {
            gather_takers(&gather, inverter, 0, watts);
        }
    }
}
