/*
 * The tables of a group's days: what its loads take and its sources offer in each step, and the plans of runs
 * that are made of them for physics/days.h. Records what a day takes and brings.
 */
#include "figures/power_runs.h"

#include "physics/celsius.h"

#include <math.h>
#include <string.h>

Interval use_cells(Work *work, const Entity *bank, const Entity *day)
{
    Interval air = use_air_aboard(work, day, PROP_DAY_TEMPERATURE);
    return entity_states(bank, PROP_BANK_COLDEST) ? interval_max(air, use_value(work, bank, PROP_BANK_COLDEST, 0).value) : air;
}

/* What the cells take in the cold, in A for each Ah; INFINITY: as much as ever. */
static double cold_rate(Work *work, const GroupBank *bank, const Entity *day, int corner)
{
    int blocks = entity_yes(bank->entity, PROP_BANK_COLD_CUTOFF);
    bool worse = corner == WORSE;
    Chemistry chemistry;
    Interval air = use_cells(work, bank->entity, day);
    if (!bank_chemistry(bank->entity, &chemistry)) {
        return INFINITY;
    }
    double celsius = end_of(air, worse) - ZERO_CELSIUS_K;
    double rate = battery_cold_limit_a_per_ah(chemistry, celsius);
    if (blocks == 0 || (blocks != 1 && !worse)) {
        return INFINITY; /* nothing stops it, or perhaps nothing does: the rule bank-management has its say */
    }
    return rate;
}

static double cold_limit(Work *work, const GroupBank *bank, const Entity *day, int corner)
{
    double rate = cold_rate(work, bank, day, corner);
    return isinf(rate) ? INFINITY : battery_rate_a(rate, bank->alone[corner].model.capacity_coulomb);
}

/* Lithium that is protected against the cold takes less, or none. */
static bool minds_the_cold(const Entity *bank)
{
    Chemistry chemistry;
    return bank_chemistry(bank, &chemistry) && chemistry == CHEMISTRY_LIFEPO4;
}

bool cold_limits(Work *work, const Group *group, const GroupDay *day, int b)
{
    if (day->state != STATE_KNOWN || !minds_the_cold(group->banks[b]->entity)) {
        return false; /* of a day that is not known no table is made */
    }
    double limit_a = cold_limit(work, group->banks[b], day->day, WORSE);
    const DayTable *table = day->plan[WORSE].tables[b];
    for (int i = 0; i < DAY_STEPS && isfinite(limit_a) && table != NULL; i++) {
        if (table->offered_a[i] > limit_a) {
            return true;
        }
    }
    return false;
}

const char *use_cold(Work *work, const GroupBank *bank, const Entity *day)
{
    if (!minds_the_cold(bank->entity)) {
        return NULL;
    }
    double rate = cold_rate(work, bank, day, WORSE);
    if (isinf(rate)) {
        return NULL;
    }
    use_fact(work, "amperes for each ampere-hour that cells so cold take at most", point(rate), UNIT_ALONE(UNIT_NONE),
             "common practice for lithium that is protected against the cold, from memory");
    return rate > 0.0 ? "cells so cold take a tenth of their capacity an hour at most" : "cells so cold take no charge";
}

static void add_sources(const Group *group, GroupDay *day, int b, int corner, DayTable *table)
{
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b) {
            for (int i = 0; i < DAY_STEPS; i++) {
                table->offered_a[i] += day->makers[s].amps.of[corner][i];
            }
        }
    }
}

bool group_is_charged(const Group *group, int bank)
{
    bool any = false;
    for (int l = 0; l < group->link_count; l++) {
        any = any || group->links[WORSE][l].taker == bank;
    }
    return any;
}

static int count_bursts(const Burst *burst)
{
    int count = 0;
    for (; burst != NULL; burst = burst->next) {
        count++;
    }
    return count;
}

/* A list's bursts of one corner, times a factor. */
static void add_bursts(DayTable *table, DayBurst bursts[], const Burst *of, int corner, int source, double factor)
{
    for (; of != NULL; of = of->next) {
        if (of->corner == corner) {
            DayBurst burst = {of->of.step, source, of->of.share, of->of.amps * factor};
            table->burst_count = day_add_burst(bursts, table->burst_count, burst);
        }
    }
}

/* What another bank brings is a mean: so is all there then. */
static void fill_bursts(Arena *arena, const Group *group, const GroupDay *day, int b, int corner, const Burst *loads,
                        DayTable *table)
{
    int count = count_bursts(loads);
    double volts = end_of(group->banks[b]->volts, corner == WORSE);
    for (int s = 0; s < group->source_count; s++) {
        count += group->sources[s].bank == b ? count_bursts(day->makers[s].bursts) : 0;
    }
    if (count == 0 || volts <= 0.0 || group_is_charged(group, b)) {
        return;
    }
    DayBurst *bursts = ARENA_ARRAY(arena, DayBurst, (size_t)count);
    add_bursts(table, bursts, loads, corner, -1, 1.0 / volts);
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b) {
            add_bursts(table, bursts, day->makers[s].bursts, corner, s, -end_of(day->shares[s], corner == WORSE));
        }
    }
    table->bursts = bursts;
}

static void fill_table(Power *power, const Group *group, GroupDay *day, int b, const Hours *watts, const Burst *bursts)
{
    const GroupBank *bank = group->banks[b];
    for (int c = 0; c < CORNERS; c++) {
        DayTable *table = &day->tables[c * group->bank_count + b];
        double volts = end_of(bank->volts, c == WORSE);
        for (int i = 0; i < DAY_STEPS; i++) {
            table->load_a[i] = watts->of[c][i] / volts;
        }
        add_sources(group, day, b, c, table);
        table->most_a = cold_limit(power->work, bank, day->day, c);
        table->other_most_a = cold_limit(power->work, bank, day->day, c == WORSE ? BETTER : WORSE);
        fill_bursts(power->work->figures->arena, group, day, b, c, bursts, table);
        day_finish(table, &bank->alone[c].model);
        day->table[c * group->bank_count + b] = table;
    }
}

static void worsen(State *state, const Figure *figure)
{
    if (figure != NULL && figure->state > *state) {
        *state = (State)figure->state;
    }
}

/* Whether a source brings one bank in a day what it brings the other. */
static bool get_alike(const Power *power, const Entity *one, const Entity *other)
{
    Interval a = power_node(power, one)->working_v, b = power_node(power, other)->working_v;
    Interval a_charged = bank_charge_volts(power, one), b_charged = bank_charge_volts(power, other);
    return a.low == b.low && a.high == b.high && a_charged.low == b_charged.low && a_charged.high == b_charged.high;
}

/* What a source offers its banks, each at its own voltage: their parts, whatever they are, make one whole. */
static void offer_to_all(Power *power, const Group *group, GroupDay *day, int first)
{
    const Feed *feed = group->sources[first].feed;
    const Entity *bank = group->banks[group->sources[first].bank]->entity;
    work_begin(power->work);
    Offer offer = maker_hours(power, feed, bank, day->day, &day->makers[first]);
    Interval hull = offer.joule, sum = interval_multiply(offer.joule, day->shares[first]);
    bool alike = true;
    day->whole[first] = offer.joule;
    for (int s = first + 1; s < group->source_count; s++) {
        const Entity *other = group->banks[group->sources[s].bank]->entity;
        if (group->sources[s].feed->giver != feed->giver) {
            continue;
        }
        bool same = get_alike(power, bank, other);
        Offer own = same ? offer : maker_hours(power, group->sources[s].feed, other, day->day, &day->makers[s]);
        day->makers[s] = same ? day->makers[first] : day->makers[s];
        day->whole[s] = own.joule;
        sum = interval_add(sum, interval_multiply(own.joule, day->shares[s]));
        hull = (Interval){fmin(hull.low, own.joule.low), fmax(hull.high, own.joule.high)};
        alike = alike && same;
    }
    offer.joule = alike ? offer.joule : interval_max(interval_min(sum, point(hull.high)), point(hull.low));
    const Figure *offered = record_offer(power, feed, bank, day->day, &day->makers[first], offer);
    worsen(&day->state, offered);
    for (int s = first; s < group->source_count; s++) {
        day->makers[s].offered = group->sources[s].feed->giver == feed->giver ? offered : day->makers[s].offered;
    }
}

static void offer(Power *power, const Group *group, GroupDay *day)
{
    for (int s = 0; s < group->source_count; s++) {
        day->shares[s] = source_share(power, group, day->day, s).part;
    }
    for (int s = 0; s < group->source_count; s++) {
        if (is_first_of_source(group, s)) {
            offer_to_all(power, group, day, s);
        }
    }
    for (int s = 0; s < group->source_count; s++) {
        Interval part = day->shares[s];
        for (int c = 0; c < CORNERS && part.low < 1.0; c++) {
            for (int i = 0; i < DAY_STEPS; i++) {
                day->makers[s].amps.of[c][i] *= end_of(part, c == WORSE);
            }
        }
    }
}

static double sum_j(const double watts[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += watts[i] * DAY_STEP_S;
    }
    return sum;
}

static const Figure *record_use(Power *power, const Entity *bank, const Entity *day, Hours *watts, Burst **bursts)
{
    work_begin(power->work);
    bank_watts(power, bank, day, watts, bursts);
    Interval joule = {sum_j(watts->of[BETTER]), day_energy_j(sum_j(watts->of[WORSE]))};
    return work_record(power->work, FIGURE_DAILY_USE, bank, day, joule,
                       "sum of draw x count x time of use; behind an inverter over its efficiency, with its idle");
}

static const Figure *record_charge(Power *power, const Group *group, const GroupDay *day, int b)
{
    Work *work = power->work;
    const Entity *bank = group->banks[b]->entity;
    Interval joule = point(0.0);
    bool any = false;
    work_begin(work);
    if (power->maker_strays) {
        use_waiting(work);
    }
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b && day->makers[s].offered != NULL) {
            Interval offered = use_figure(work, day->makers[s].offered).value, whole = day->whole[s];
            joule = interval_add(joule, interval_multiply(whole, day->shares[s]));
            if (whole.low != offered.low || whole.high != offered.high) {
                use_fact(work, "what it would offer this bank alone", whole, UNIT_ALONE(UNIT_WH), "the same at the voltage of this bank");
            }
            any = true;
            if (day->shares[s].low < 1.0) {
                bool by_use = source_share(power, group, day->day, s).by_use;
                use_fact(work, "what it gets of it, which feeds several banks", day->shares[s], UNIT_ALONE(UNIT_PERCENT),
                         by_use ? "in proportion to their daily-use: a choice of this program" : "alike: a choice of this program");
                use_shared(work, group, day->day, s);
            }
        }
    }
    any = use_passed(work, group, day, b, &joule) || any;
    if (any) {
        Quantity share = use_bank_value(work, bank, PROP_BANK_CHARGE_EFFICIENCY, BATTERY_CHARGE_EFFICIENCY,
                                        UNIT_ALONE(UNIT_PERCENT));
        joule = interval_multiply(joule, share.value);
    }
    return work_record(work, FIGURE_DAILY_CHARGE, bank, day->day, joule,
                       any ? "sum of what its sources offer it, times what charging keeps" : "no source brings it anything");
}

static void fill_day(Power *power, Group *group, GroupDay *day)
{
    Arena *arena = power->work->figures->arena;
    size_t cells = (size_t)(CORNERS * group->bank_count);
    day->makers = ARENA_ARRAY(arena, Maker, group->source_count);
    day->tables = ARENA_ARRAY(arena, DayTable, cells);
    day->table = ARENA_ARRAY(arena, const DayTable *, cells);
    day->shares = ARENA_ARRAY(arena, Interval, group->source_count);
    day->whole = ARENA_ARRAY(arena, Interval, group->source_count);
    day->passed = ARENA_ARRAY(arena, Maker, group->link_count);
    Hours watts[DAY_BANKS];
    Burst *bursts[DAY_BANKS];
    for (int b = 0; b < group->bank_count; b++) {
        worsen(&day->state, record_use(power, group->banks[b]->entity, day->day, &watts[b], &bursts[b]));
    }
    offer(power, group, day);
    group_passed(power, group, day, watts);
    for (int b = 0; b < group->bank_count; b++) {
        worsen(&day->state, record_charge(power, group, day, b));
        if (group->banks[b]->state > day->state) {
            day->state = group->banks[b]->state;
        }
        if (group->banks[b]->state == STATE_KNOWN) {
            fill_table(power, group, day, b, &watts[b], bursts[b]);
        }
    }
}

static bool hands_on(const Group *group, int bank)
{
    bool any = false;
    for (int l = 0; l < group->link_count; l++) {
        any = any || group->links[WORSE][l].giver == bank;
    }
    return any;
}

/* How much of what a bank's loads take in a day is of those that keep their current. */
static Interval part_by_current(Power *power, const Group *group, const GroupDay *day, int b)
{
    const Entity *bank = group->banks[b]->entity;
    const Figure *use = figure_find(power->work->figures, bank, FIGURE_DAILY_USE, day->day);
    bool charged = !hands_on(group, b); /* with nothing drawn from it */
    if (use == NULL || use->state != STATE_KNOWN || use->high <= 0.0) {
        return point(charged ? 1.0 : 0.0);
    }
    Interval by_current = bank_joule_by_current(power, bank, day->day);
    double most_by_power = isfinite(use->high) ? fmax(0.0, use->high - by_current.high) : INFINITY;
    double least_by_power = fmax(0.0, use->low - by_current.low);
    Interval part = point(0.0);
    if (by_current.high > 0.0) {
        part.high = isfinite(by_current.high) ? by_current.high / (by_current.high + least_by_power) : 1.0;
        part.low = by_current.low > 0.0 ? by_current.low / (by_current.low + most_by_power) : 0.0;
    }
    return charged && use->low <= 0.0 ? (Interval){part.low, 1.0} : part;
}

/*
 * A converter carries loads at the voltage that it gives. Those that keep their power take no more by that; those that keep
 * their current do, and so does a bank that is only charged: the mean of a day's loads counts. What another bank is handed on has
 * been reckoned at the voltage of the bank between.
 */
static void make_links(Power *power, const Group *group, GroupDay *day)
{
    size_t count = (size_t)group->link_count;
    for (int c = 0; c < CORNERS; c++) {
        day->links[c] = ARENA_ARRAY(power->work->figures->arena, DayLink, count + 1);
        memcpy(day->links[c], group->links[c], count * sizeof *day->links[c]);
    }
    for (int l = 0; l < group->link_count; l++) {
        if (group->links[WORSE][l].drains && group->raised[l].high > 1.0) {
            Interval part = part_by_current(power, group, day, group->links[WORSE][l].taker);
            for (int c = 0; c < CORNERS; c++) {
                double raised = end_of(group->raised[l], c == BETTER);
                day->links[c][l].carry_ratio *= 1.0 + (raised - 1.0) * end_of(part, c == BETTER);
            }
        }
    }
}

/* The banks' numbers of one corner, side by side: in runs that bound, then each alone. */
static DayBank *banks_of(Arena *arena, const Group *group, int corner)
{
    DayBank *banks = ARENA_ARRAY(arena, DayBank, 2 * (size_t)group->bank_count);
    for (int b = 0; b < group->bank_count; b++) {
        banks[b] = group->banks[b]->of[corner];
        banks[group->bank_count + b] = group->banks[b]->alone[corner];
    }
    return banks;
}

static void make_plans(Arena *arena, const Group *group, GroupDay *day, DayBank *const banks[])
{
    size_t sources = (size_t)group->source_count;
    day->sources = ARENA_ARRAY(arena, DaySource, sources * CORNERS + 1);
    for (int c = 0; c < CORNERS; c++) {
        DaySource *of = day->sources + (size_t)c * sources;
        for (size_t s = 0; s < sources; s++) {
            of[s] = (DaySource){group->sources[s].bank, day->makers[s].amps.of[c],
                                day->makers[s].amps.of[c == WORSE ? BETTER : WORSE]};
        }
        day->plan[c] = (DayPlan){.bank_count = group->bank_count,
                                 .bounds = true,
                                 .banks = banks[c],
                                 .alone = banks[c] + group->bank_count,
                                 .tables = day->table + c * group->bank_count,
                                 .link_count = group->link_count,
                                 .links = day->links[c],
                                 .source_count = group->source_count,
                                 .sources = of};
    }
}

void fill_group_days(Power *power, Group *group, uint32_t day_count)
{
    Arena *arena = power->work->figures->arena;
    DayBank *banks[CORNERS] = {NULL};
    for (int c = 0; c < CORNERS; c++) {
        banks[c] = banks_of(arena, group, c);
    }
    group->days = ARENA_ARRAY(arena, GroupDay, day_count + 1);
    uint32_t d = 0;
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        group->days[d].day = day;
        fill_day(power, group, &group->days[d]);
        make_links(power, group, &group->days[d]);
        make_plans(arena, group, &group->days[d], banks);
        d++;
    }
}

GroupDay *group_day(const Group *group, const Entity *day)
{
    for (GroupDay *d = group->days; d->day != NULL; d++) {
        if (d->day == day) {
            return d;
        }
    }
    return NULL;
}
