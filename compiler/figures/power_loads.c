/*
 * What the loads of a bank take in a day, in each step, gathered down the tree of feeds.
 *
 * Loads behind an inverter count over its efficiency, with its idle; while shore power or a generator that can carry them
 * is there, they ask the bank for nothing, whichever is named first where they meet, nor does the idle where all of them are
 * carried. A charger moves charge and takes none; a converter that feeds loads counts over its efficiency.
 */
#include "figures/drive.h"
#include "figures/power_days.h"

#include "physics/navigation.h"

#include <math.h>
#include <string.h>

enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */
/* Carried by any mains that there may be: of what has nothing behind it. */
enum { CARRIED_BY_ANY = MAINS_SHORE | MAINS_GENERATOR | MAINS_INVERTER };

/* One gathering. */
typedef struct Gather {
    Power *power;
    const Entity *day;
    bool supply; /* for an inlet or generator: what chargers and inverters take of it is not counted */
    uint32_t walk; /* such a one may come to a thing by several ways: marks the nodes that it has been at */
    Burst **bursts; /* NULL: nobody asks for them */
    uint8_t read;  /* MAINS_x of which there[] is read */
    Hours there[2]; /* in which part of each step shore power is there, and the generator */
} Gather;

static const double whole[CORNERS] = {1.0, 1.0};

/* More than anything aboard takes stands for what has no bound. */
static double bounded_w(double value)
{
    return fmin(value, 1e12);
}

/* What it draws while it is on. */
static PropId prop_of_draw(const Entity *load)
{
    return load->kind == KIND_WATER_HEATER ? PROP_WATER_HEATER_ELEMENT : PROP_LOAD_DRAW;
}

static void add_load(Gather *gather, const Entity *load, Hours *watts)
{
    Work *work = gather->power->work;
    Hours use;
    const Property *only = hours_only_use(load, gather->day);
    if (only == NULL && !hours_of_use(work, load, gather->day, &use)) {
        return;
    }
    Quantity draw = use_value(work, load, prop_of_draw(load), 0);
    Quantity count = use_count(work, load);
    if (only != NULL) {
        record_one_use(work, load, only);
    } else {
        record_uses(work, load, gather->day);
    }
    if (draw.state != STATE_KNOWN || count.state != STATE_KNOWN) {
        return;
    }
    const Property *line = entity_property(load, prop_of_draw(load));
    UnitPair unit = property_value(line, 0)->unit;
    Interval power = interval_multiply(draw.value, count.value);
    if (dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        if (power_node(gather->power, load)->nominal_v <= 0.0) {
            use_no_voltage(work, power_node(gather->power, load)->source); /* amperes at a voltage that nobody can tell are not no power */
        }
        power = interval_multiply(power, power_node(gather->power, load)->working_v);
    }
    if (property_value(line, 1)->kind == VALUE_QUANTITY && load->kind != KIND_WATER_HEATER && behaves_at_own_volts(load)) {
        Interval amps = interval_multiply(power_draw_current(gather->power, load).value, count.value);
        power = interval_multiply(amps, power_node(gather->power, load)->working_v);
    }
    double of[CORNERS] = {bounded_w(power.high), bounded_w(power.low)};
    if (only != NULL) {
        hours_add_use(watts, load, only, of);
        if (gather->bursts != NULL) {
            Edges edges[CORNERS];
            edges[WORSE].count = edges[BETTER].count = 0;
            hours_add_use_edges(edges, load, only, of);
            burst_add_edges(work->scratch, gather->bursts, edges);
        }
        return;
    }
    bool burst = gather->bursts != NULL && !hours_are_even(load, gather->day);
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            watts->of[c][i] += of[c] * use.of[c][i];
            if (burst && use.of[c][i] > 0.0 && use.of[c][i] < 1.0) {
                burst_add(work->scratch, gather->bursts, c, (DayBurst){i, -1, use.of[c][i], of[c]});
            }
        }
    }
}

/* What it takes at so many turns, or at such a speed of the boat, by its own points. */
static Interval measured_watts(Work *work, const Entity *engine, bool by_turns, Interval speed)
{
    Buf unused; /* the working of a day shows no single motor */
    buf_init(&unused, work->scratch);
    FuelCurve curve = use_taken_curve(work, engine, by_turns, &unused);
    return taken_at(&curve, speed);
}

/*
 * By its points, of its turns or else of the speed at which she makes the day's distance; else at its rated speed it gives its
 * rated power, and at another one by the cube of its share: the propeller's law. A day that states no turns, and whose hours are
 * those of its distance, has those of that speed.
 */
static Interval motor_watts(Work *work, const Entity *engine, const Entity *day, const Property *run)
{
    bool stated = property_value(run, 1)->kind == VALUE_QUANTITY;
    if (!stated && entity_states(day, PROP_DAY_DISTANCE) && states_taken(engine, false)) {
        return measured_watts(work, engine, false, use_value(work, day, PROP_DAY_DISTANCE, 1).value);
    }
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval most = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    const Figure *turns = stated ? NULL : turns_by_distance(work, day, engine);
    Interval speed = stated          ? use_statement(work, day, run, 1).value
                     : turns != NULL ? use_figure(work, turns).value
                                     : interval_hull(point(0.0), most);
    if (states_taken(engine, true)) {
        return measured_watts(work, engine, true, interval_min(speed, most));
    }
    Interval share = interval_min(interval_divide(speed, most), point(1.0));
    Interval taken = interval_divide(rated, use_motor_keeps(work, engine).value);
    return interval_multiply(taken, interval_corners(pow(share.low, 3.0), pow(share.high, 3.0)));
}

/*
 * An electric engine takes what it gives while the day says that the engine runs; of one that stands by no day
 * speaks.
 */
static void add_motor(Gather *gather, const Entity *engine, Hours *watts)
{
    Work *work = gather->power->work;
    double next = ENGINE_FROM_S;
    Edges edges[CORNERS];
    edges[WORSE].count = edges[BETTER].count = 0;
    const Property *run = entity_property(gather->day, PROP_DAY_ENGINE);
    for (; run != NULL; run = block_next(&gather->day->block, run)) {
        const Value *time = property_value(run, 0);
        use_if_mistaken(work, run);
        if (time->kind == VALUE_QUANTITY && time->u.quantity.high <= 0.0) {
            continue;
        }
        Interval power = interval_multiply(motor_watts(work, engine, gather->day, run), use_count(work, engine).value);
        double of[CORNERS] = {bounded_w(power.high), bounded_w(power.low)};
        use_statement(work, gather->day, run, 0);
        hours_add_edges(edges, time, next, of, false);
        hours_add(watts, time, &next, of, false);
    }
    if (gather->bursts != NULL) {
        burst_add_edges(work->scratch, gather->bursts, edges);
    }
}

void record_motor_use(Power *power, const Entity *day)
{
    for (const Entity *engine = power->model->first_of_kind[KIND_ENGINE]; engine != NULL; engine = engine->next_of_kind) {
        Gather gather;
        Hours watts;
        if (is_cranked(engine) || engine->fed == NULL || engine->flags & ENTITY_DROPPED || !drives_on(power->model, engine, day) ||
            !entity_states(day, PROP_DAY_ENGINE)) {
            continue;
        }
        memset(&gather, 0, sizeof gather);
        memset(&watts, 0, sizeof watts);
        gather.power = power;
        gather.day = day;
        work_begin(power->work);
        add_motor(&gather, engine, &watts);
        Interval joule = {hours_sum_c(watts.of[BETTER]), day_energy_j(hours_sum_c(watts.of[WORSE]))};
        if (joule.high > 0.0 || power->work->state != STATE_KNOWN) {
            work_record(power->work, FIGURE_DAILY_USE, engine, day, joule,
                        "what its motor takes at the speed of the day's engine, times how long that runs");
        }
    }
}

/* Things on a data backbone take its power while they are in use. */
static void add_backbone(Gather *gather, const Entity *network, Hours *watts)
{
    Work *work = gather->power->work;
    const PowerNode *node = power_node(gather->power, network);
    for (const Entity *thing = power_next_joined(work->model, network, NULL); thing != NULL;
         thing = power_next_joined(work->model, network, thing)) {
        Hours use;
        if (!hours_of_use(work, thing, gather->day, &use)) {
            continue;
        }
        Interval number = use_value(work, thing, PROP_NETWORKED_LOAD_NUMBER, 0).value;
        Interval amps = interval_scale(interval_multiply(number, use_count(work, thing).value), BACKBONE_LOAD_A);
        if (node->nominal_v <= 0.0) {
            use_no_voltage(work, node->source); /* as of a load in amperes */
        }
        Interval power = interval_multiply(amps, node->working_v);
        double of[CORNERS] = {bounded_w(power.high), bounded_w(power.low)};
        for (int c = 0; c < CORNERS; c++) {
            for (int i = 0; i < DAY_STEPS; i++) {
                watts->of[c][i] += of[c] * use.of[c][i];
            }
        }
    }
}

/* Mains that carry loads instead of a bank */

/* In which part of each step any of that mains is there: what is there by turns adds up. */
static void hours_of_mains(Gather *gather, unsigned mains, Hours *there)
{
    static const PropId stated[2] = {PROP_DAY_SHORE, PROP_DAY_GENERATOR};
    memset(there, 0, sizeof *there);
    for (unsigned of = 0; of < 2; of++) {
        unsigned bit = of == 0 ? MAINS_SHORE : MAINS_GENERATOR;
        if (!(mains & bit)) {
            continue;
        }
        if (!(gather->read & bit)) {
            hours_of_supply(gather->power->work, gather->day, stated[of], &gather->there[of]);
            gather->read |= (uint8_t)bit;
        }
        for (int i = 0; i < DAY_STEPS * CORNERS; i++) {
            double *sum = &there->of[i / DAY_STEPS][i % DAY_STEPS];
            *sum = fmin(1.0, *sum + gather->there[of].of[i / DAY_STEPS][i % DAY_STEPS]);
        }
    }
}

/* Adds power, times what share[corner] says, in the part of each step in which none of that mains is there. */
static void add_without(Gather *gather, unsigned mains, const Hours *power, const double share[CORNERS], Hours *watts)
{
    Hours there;
    hours_of_mains(gather, mains, &there);
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            watts->of[c][i] += power->of[c][i] * share[c] * (1.0 - there.of[c][i]);
        }
    }
}

/* Of a table of one power, in the worse or the better corner: for how many steps it runs. */
static double steps_of(const double watts[DAY_STEPS])
{
    double sum = 0.0, most = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += watts[i];
        most = fmax(most, watts[i]);
    }
    return most > 0.0 ? sum / most : 0.0;
}

/* Water keeps its heat: of an element that runs for the day's showers the bank carries what mains, at whatever hour, leave. */
static void add_left_by(Gather *gather, unsigned mains, const Hours *power, Hours *watts)
{
    Hours there;
    hours_of_mains(gather, mains, &there);
    for (int c = 0; c < CORNERS; c++) {
        double runs = steps_of(power->of[c]), carried = 0.0;
        for (int i = 0; i < DAY_STEPS; i++) {
            carried += there.of[c][i];
        }
        double left = runs > 0.0 ? fmax(0.0, 1.0 - carried / runs) : 0.0;
        for (int i = 0; i < DAY_STEPS; i++) {
            watts->of[c][i] += power->of[c][i] * left;
        }
    }
}

/* Down the tree. Each of these says which mains carries all that is behind: MAINS_x, or CARRIED_BY_ANY where nothing is. */

static unsigned gather_takers(Gather *gather, const Entity *giver, unsigned mains, int depth, Hours *watts);

/* The bursts that have come to the list since it began with that one. */
static void scale_bursts(Gather *gather, const Burst *since, const double factor[CORNERS])
{
    for (Burst *burst = gather->bursts != NULL ? *gather->bursts : NULL; burst != since && burst != NULL; burst = burst->next) {
        burst->of.amps *= factor[burst->corner];
    }
}

static const Burst *last_burst(const Gather *gather)
{
    return gather->bursts != NULL ? *gather->bursts : NULL;
}

/* What is behind a thing counts over its efficiency. */
static void add_over(Gather *gather, const Hours *behind, const Burst *since, Quantity efficiency, Hours *watts)
{
    double share[CORNERS] = {1.0, 1.0};
    if (efficiency.state == STATE_KNOWN) {
        share[WORSE] = fmax(efficiency.value.low, 0.01);
        share[BETTER] = fmax(efficiency.value.high, 0.01);
    }
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            watts->of[c][i] += behind->of[c][i] / share[c];
        }
    }
    scale_bursts(gather, since, (double[CORNERS]){1.0 / share[WORSE], 1.0 / share[BETTER]});
}

static void add_idle(Gather *gather, Interval idle, unsigned mains, Hours *watts)
{
    Hours even;
    for (int i = 0; i < DAY_STEPS * CORNERS; i++) {
        even.of[i / DAY_STEPS][i % DAY_STEPS] = 1.0;
    }
    add_without(gather, mains, &even, (double[CORNERS]){bounded_w(idle.high), bounded_w(idle.low)}, watts);
}

static void add_inverter(Gather *gather, const Entity *inverter, unsigned mains, int depth, Hours *watts)
{
    Work *work = gather->power->work;
    Hours behind;
    const Burst *since = last_burst(gather);
    memset(&behind, 0, sizeof behind);
    unsigned passed = mains_given(inverter) & (MAINS_SHORE | MAINS_GENERATOR);
    unsigned carried = gather_takers(gather, inverter, mains | passed, depth + 1, &behind);
    add_over(gather, &behind, since, use_value(work, inverter, PROP_INVERTER_EFFICIENCY, 0), watts);
    Quantity idle = use_value(work, inverter, PROP_INVERTER_IDLE, 0);
    if (idle.state == STATE_KNOWN) {
        Interval all = interval_multiply(idle.value, use_count(work, inverter).value);
        add_idle(gather, all, mains | passed | (carried != CARRIED_BY_ANY ? carried : 0u), watts);
    }
}

static unsigned add_converter(Gather *gather, const Entity *converter, unsigned mains, int depth, Hours *watts)
{
    Hours behind;
    const Burst *since = last_burst(gather);
    memset(&behind, 0, sizeof behind);
    unsigned carried = gather_takers(gather, converter, mains, depth + 1, &behind);
    add_over(gather, &behind, since, use_value(gather->power->work, converter, PROP_CONVERTER_EFFICIENCY, 0), watts);
    return carried;
}

/* What a thing draws by itself; false if nothing. */
static bool add_own(Gather *gather, const Entity *taker, Hours *watts)
{
    bool motor = taker->kind == KIND_ENGINE && !is_cranked(taker);
    bool element = taker->kind == KIND_WATER_HEATER && entity_states(taker, PROP_WATER_HEATER_ELEMENT);
    bool load = element || kinds[taker->kind].groups & GROUPS_LOAD;
    if (motor && drives_on(gather->power->model, taker, gather->day)) {
        add_motor(gather, taker, watts);
    }
    if (taker->kind == KIND_NETWORK) {
        add_backbone(gather, taker, watts);
    }
    if (load) {
        add_load(gather, taker, watts);
    }
    return motor || load || taker->kind == KIND_NETWORK;
}

/* Of bursts, as of means, what no mains carries. */
static void lessen_bursts(Gather *gather, const Burst *since, unsigned mains)
{
    Hours there;
    if (last_burst(gather) == since) {
        return;
    }
    hours_of_mains(gather, mains, &there);
    for (Burst *burst = *gather->bursts; burst != since; burst = burst->next) {
        burst->of.amps *= 1.0 - there.of[burst->corner][burst->of.step];
    }
}

static unsigned add_taker(Gather *gather, const Entity *taker, unsigned mains, int depth, Hours *watts)
{
    Hours own;
    if (taker->kind == KIND_CHARGER) {
        return CARRIED_BY_ANY;
    }
    if (taker->kind == KIND_INVERTER) {
        if (!gather->supply) {
            add_inverter(gather, taker, mains, depth, watts);
        }
        return 0;
    }
    if (taker->kind == KIND_CONVERTER) {
        return add_converter(gather, taker, mains, depth, watts);
    }
    bool draws;
    if (mains == 0) {
        draws = add_own(gather, taker, watts);
    } else {
        const Burst *since = last_burst(gather);
        memset(&own, 0, sizeof own);
        draws = add_own(gather, taker, &own);
        if (taker->kind == KIND_WATER_HEATER && !states_use(taker)) {
            scale_bursts(gather, since, (double[CORNERS]){0.0, 0.0}); /* what is left of it is a mean */
            add_left_by(gather, mains, &own, watts);
        } else {
            lessen_bursts(gather, since, mains);
            add_without(gather, mains, &own, whole, watts);
        }
    }
    unsigned carried = gather_takers(gather, taker, mains, depth + 1, watts);
    return draws ? 0 : carried;
}

/*
 * Whether what a feed leads to counts on the source that is gone down from: of direct current by its first feed; of mains, on
 * a bank by the first that an inverter has part in, and on an inlet or generator once, by whatever way.
 */
static bool counts_here(Gather *gather, const Feed *feed)
{
    const Entity *taker = feed->taker;
    if (taker->flags & (ENTITY_DROPPED | ENTITY_LOOP) || taker == feed->giver) {
        return false;
    }
    if (!gives_alternating(feed->giver)) {
        return taker->fed == feed || (feed->maker && taker->fed == NULL && taker->kind != KIND_BANK);
    }
    PowerNode *node = power_node(gather->power, taker);
    if (!gather->supply) {
        return is_inverters_feed(feed);
    }
    bool seen = node->walk == gather->walk;
    node->walk = gather->walk;
    return !seen;
}

static unsigned gather_takers(Gather *gather, const Entity *giver, unsigned mains, int depth, Hours *watts)
{
    unsigned all = CARRIED_BY_ANY;
    for (const Feed *feed = giver->gives; feed != NULL && depth <= DEEPEST; feed = feed->next_of_giver) {
        if (counts_here(gather, feed)) {
            unsigned beside = gather->supply ? 0u : mains_beside(feed);
            unsigned carried = add_taker(gather, feed->taker, mains | beside, depth, watts);
            all &= beside != 0 && carried == CARRIED_BY_ANY ? beside : beside | carried;
        }
    }
    return all;
}

/* What hangs on nobody knows what, since its `fed-by` is a mistake, may hang here: then the sum waits. */
static void wait_for_strays(Gather *gather)
{
    const Power *power = gather->power;
    for (uint32_t i = 0; i < power->stray_count; i++) {
        Hours watts;
        memset(&watts, 0, sizeof watts);
        add_taker(gather, power->strays[i]->taker, 0, 0, &watts);
        for (int step = 0; step < DAY_STEPS; step++) {
            if (watts.of[WORSE][step] > 0.0) {
                use_waiting(gather->power->work);
                return;
            }
        }
    }
}

void bank_watts(Power *power, const Entity *bank, const Entity *day, Hours *watts, Burst **bursts)
{
    Gather gather;
    memset(&gather, 0, sizeof gather);
    gather.power = power;
    gather.day = day;
    memset(watts, 0, sizeof *watts);
    gather.bursts = bursts;
    *bursts = NULL;
    gather_takers(&gather, bank, 0, 0, watts);
    gather.bursts = NULL;
    wait_for_strays(&gather);
}

/* As the day's use counts it: all of it also where it is for mains, or may be, and its current is not known. */
static LoadSort counted_own(const Power *power, const Entity *load, Interval *own)
{
    const PowerNode *node = power_node(power, load);
    if (may_be_for_mains(load)) {
        return power_stated_own(power, load, own);
    }
    *own = node->own;
    return node->sort;
}

/* Of direct current, down to what turns power. What it reads is an input of the day's use already. */
static Interval joule_by_current(const Power *power, const Entity *giver, const Entity *day, int depth)
{
    Interval joule = point(0.0);
    for (const Feed *feed = giver->gives; feed != NULL && depth <= DEEPEST; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        if (taker->flags & (ENTITY_DROPPED | ENTITY_LOOP) || taker->fed != feed || turns_power(taker)) {
            continue;
        }
        Interval seconds, own;
        if (kinds[taker->kind].groups & GROUPS_LOAD && counted_own(power, taker, &own) == LOAD_CURRENT &&
            use_seconds(taker, day, &seconds)) {
            Interval watts = interval_multiply(own, power_node(power, taker)->working_v);
            joule = interval_add(joule, interval_multiply(watts, seconds));
        }
        joule = interval_add(joule, joule_by_current(power, taker, day, depth + 1));
    }
    return joule;
}

Interval bank_joule_by_current(const Power *power, const Entity *bank, const Entity *day)
{
    return joule_by_current(power, bank, day, 0);
}

void supply_watts(Power *power, const Entity *supply, const Entity *day, Hours *watts)
{
    Gather gather;
    memset(&gather, 0, sizeof gather);
    gather.power = power;
    gather.day = day;
    gather.supply = true;
    gather.walk = ++power->walks;
    memset(watts, 0, sizeof *watts);
    gather_takers(&gather, supply, 0, 0, watts);
    for (const Entity *inverter = power->model->first_of_kind[KIND_INVERTER]; inverter != NULL;
         inverter = inverter->next_of_kind) {
        const Entity *passes = entity_reference(inverter, PROP_INVERTER_PASSES);
        bool reached = passes != NULL && (passes == supply || power_node(power, passes)->walk == gather.walk);
        if (reached && !(inverter->flags & ENTITY_DROPPED)) {
            gather_takers(&gather, inverter, 0, 0, watts);
        }
    }
}
