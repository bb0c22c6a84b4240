/*
 * Days of the banks: how low they fall, what they gain or lose, how long they last, and what of the sources' offers
 * is refused; and how long a bank alone carries what runs long. physics/days.h runs them, on the tables of
 * power_group_days.c.
 */
#include "figures/power_runs.h"

/* Runs */

/* Whether a bank has loads or a source of its own on that day, or carries those of another: one that only waits neither
 * gains nor loses. */
static bool is_busy(const Group *group, const GroupDay *day, int b)
{
    for (int l = 0; l < group->link_count; l++) {
        const DayLink *link = &group->links[WORSE][l];
        if (link->giver == b && link->drains && is_busy(group, day, link->taker)) {
            return true;
        }
    }
    const DayTable *table = day->plan[BETTER].tables[b];
    const DayTable *worse = day->plan[WORSE].tables[b];
    for (int i = 0; i < DAY_STEPS && group->banks[b]->state == STATE_KNOWN; i++) {
        if (worse->load_a[i] > 0.0 || table->offered_a[i] > 0.0) {
            return true;
        }
    }
    return group->banks[b]->state != STATE_KNOWN;
}

/* One that draws on its bank's own charge, by the first of its outputs that does. */
static bool draws_first(const Group *group, int l)
{
    for (int i = 0; i < l; i++) {
        if (group->converters[i] == group->converters[l] && group->links[WORSE][i].giver == group->links[WORSE][l].giver &&
            group->links[WORSE][i].drains) {
            return false;
        }
    }
    return group->links[WORSE][l].drains;
}

/* The same day once more for each converter that draws on a bank's own charge, as if it did not. */
static void spare_one_day(Arena *arena, const Group *group, const GroupDay *day, int corner, Outcomes *out)
{
    DayLink *links = ARENA_ARRAY(arena, DayLink, (size_t)group->link_count + 1);
    for (int l = 0; l < group->link_count; l++) {
        int giver = group->links[WORSE][l].giver;
        if (!draws_first(group, l) || !is_busy(group, day, giver)) {
            continue;
        }
        for (int i = 0; i < group->link_count; i++) {
            links[i] = day->plan[corner].links[i];
            links[i].drains = links[i].drains && group->converters[i] != group->converters[l];
        }
        DayPlan spared = day->plan[corner];
        spared.links = links;
        widen(&out->spared[l], day_balance_c(&spared, giver));
    }
}

static void run_one_day(Arena *arena, const Group *group, const GroupDay *day, int corner, Outcomes *out)
{
    const DayPlan *plan = &day->plan[corner];
    double lowest[DAY_BANKS], at[DAY_BANKS], seconds[DAY_BANKS];
    double *refused = ARENA_ARRAY(arena, double, (size_t)group->source_count + 1);
    DayStart start;
    day_start(plan, &start, refused);
    for (int b = 0; b < group->bank_count; b++) {
        lowest[b] = day_told(&plan->banks[b], start.tally[0][b].lowest_share);
        at[b] = start.tally[0][b].lowest_step;
    }
    note_lowest(out, group, corner, lowest, at);
    for (int s = 0; s < group->source_count; s++) {
        widen(&out->refused[s], refused[s]);
    }
    day_endure_from(plan, &start, seconds);
    for (int b = 0; b < group->bank_count; b++) {
        /* A bank without a bound to its size has none to its endurance. */
        bool endless = isinf(group->banks[b]->capacity->high) && corner == BETTER;
        widen(&out->endurance[b], endless ? INFINITY : seconds[b]);
        if (is_busy(group, day, b)) {
            widen(&out->balance[b], day_balance_c(plan, b));
        }
    }
    spare_one_day(arena, group, day, corner, out);
}

/* Recording */

static const char until_formula[] = "run in steps of 15 minutes, day after day from full, until below {least-charge}";

static void record_bank_day(Work *work, const Group *group, const GroupDay *day, int b, const Outcomes *out)
{
    const Entity *bank = group->banks[b]->entity;
    const char *less = cold_remark(work, bank, day->day);
    work_begin(work);
    use_banks(work, group, b, day->day);
    const char *cold = cold_limits(work, group, day, b) ? use_cold(work, group->banks[b], day->day) : NULL;
    use_state(work, day->state);
    Figure *lowest = work_record(work, FIGURE_LOWEST_CHARGE, bank, day->day, band_interval(out->lowest[b]), run_formula);
    if (lowest->state == STATE_KNOWN && formula_is_read(work)) {
        lowest->remark = when_lowest(work->figures->arena, group, out, b, cold);
    }
    if (day->state != STATE_KNOWN || is_busy(group, day, b)) {
        work_record(work, FIGURE_BALANCE, bank, day->day, energy_of(group, b, out->balance[b]), run_formula);
    }
    work_begin(work);
    use_figure(work, group->banks[b]->least);
    use_banks(work, group, b, day->day);
    use_cold(work, group->banks[b], day->day);
    use_state(work, day->state);
    Figure *endurance = work_record(work, FIGURE_ENDURANCE, bank, day->day, band_interval(out->endurance[b]), until_formula);
    endurance->remark = endurance->state == STATE_KNOWN && isfinite(endurance->low) ? less : NULL;
}

static void record_spared(Work *work, const Group *group, const GroupDay *day, int l, const Outcomes *out)
{
    int giver = group->links[WORSE][l].giver;
    if (!draws_first(group, l) || (day->state == STATE_KNOWN && !is_busy(group, day, giver))) {
        return;
    }
    work_begin(work);
    use_banks(work, group, giver, day->day);
    use_state(work, day->state);
    work_record(work, FIGURE_SPARED_BALANCE, group->converters[l], day->day, energy_of(group, giver, out->spared[l]), run_formula);
}

static void record_source_day(Work *work, const Group *group, const GroupDay *day, int s, const Outcomes *out)
{
    const Entity *maker = group->sources[s].feed->giver;
    const Figure *offered = day->makers[s].offered;
    if (!is_first_of_source(group, s) || offered == NULL) {
        return;
    }
    work_begin(work);
    use_figure(work, offered);
    for (int i = s; i < group->source_count; i++) {
        if (group->sources[i].feed->giver == maker && (i == s || group->link_count == 0)) {
            use_banks(work, group, group->sources[i].bank, day->day);
        }
    }
    use_state(work, day->state);
    Interval part = refused_of(group, s, out);
    if (offered->state == STATE_KNOWN) {
        part = without_dust(interval_min(part, point(offered->high)), offered->high);
    }
    const Figure *refused = work_record(work, FIGURE_REFUSED, maker, day->day, part,
                                        "run in steps of 15 minutes: {offered}, less what loads and bank take");
    work_begin(work);
    Interval all = use_figure(work, offered).value;
    Interval no = use_figure(work, refused).value;
    work_record(work, FIGURE_ENERGY, maker, day->day, left_of(all, no), "{offered} - {refused}");
    if (maker->kind == KIND_SOLAR && (offered->state != STATE_KNOWN || all.high > 0.0)) {
        Interval share = all.low > 0.0 ? interval_divide(no, all) : (Interval){0.0, 1.0};
        work_begin(work);
        use_figure(work, refused);
        use_figure(work, offered);
        work_record(work, FIGURE_REFUSED_SHARE, maker, day->day, interval_min(share, point(1.0)), "{refused} / {offered}");
    }
}

static void group_days(Power *power, Group *group)
{
    Arena *arena = power->work->scratch;
    Outcomes *out = new_outcomes(arena, group);
    for (GroupDay *day = group->days; day->day != NULL; day++) {
        outcomes_forget(out, group);
        for (int c = 0; c < CORNERS && day->state == STATE_KNOWN; c++) {
            run_one_day(arena, group, day, c, out);
        }
        for (int b = 0; b < group->bank_count; b++) {
            record_bank_day(power->work, group, day, b, out);
        }
        record_cold_endurance(power, group, day);
        for (int l = 0; l < group->link_count; l++) {
            record_spared(power->work, group, day, l, out);
        }
        for (int s = 0; s < group->source_count; s++) {
            record_source_day(power->work, group, day, s, out);
        }
    }
}

/* What a bank alone carries */

bool passes_surplus(const Entity *thing)
{
    bool feeds = false;
    for (const Feed *feed = thing->gives; feed != NULL; feed = feed->next_of_giver) {
        feeds = feeds || feed->maker;
    }
    return thing->kind == KIND_CONVERTER && feeds && !(thing->flags & ENTITY_DROPPED);
}

/* What runs long on a bank, less what only passes a surplus on: each end less its own. */
static Interval lasting_of(const Power *power, const Entity *bank)
{
    Interval amps = power_node(power, bank)->flow.held;
    for (const Entity *e = power->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        if (passes_surplus(e) && power_node(power, e)->source == bank) {
            Interval spared = power_node(power, e)->flow.held;
            amps.low = fmax(0.0, amps.low - spared.low);
            amps.high = isinf(amps.high) ? INFINITY : fmax(0.0, amps.high - spared.high);
        }
    }
    return amps;
}

static void record_runtime(Power *power, const GroupBank *bank)
{
    Work *work = power->work;
    Interval amps = lasting_of(power, bank->entity);
    if (amps.high <= 0.0 || bank->state != STATE_KNOWN) {
        return;
    }
    work_begin(work);
    Interval capacity = use_figure(work, bank->capacity).value;
    Interval least = use_figure(work, bank->least).value;
    use_fact(work, "current of all that runs long", amps, UNIT_ALONE(UNIT_A), "currents of what hangs on it");
    Interval seconds = use_lasting(work, bank->entity, capacity, least, amps);
    const Figure *discharge = figure_find(work->figures, bank->entity, FIGURE_DISCHARGE_CURRENT, NULL);
    bool waits = power_node(power, bank->entity)->flow.held_waits;
    if (waits || (discharge != NULL && discharge->state == STATE_WAITING)) {
        use_waiting(work);
    }
    work_record(work, FIGURE_RUNTIME, bank->entity, NULL, seconds,
                "{capacity} x (1 - {least-charge}) / {current of all that runs long}, counted by Peukert");
}

void power_days(Power *power)
{
    PowerDays *days = power_groups(power);
    power->work->figures->power_days = days;
    for (Group *group = days->first; group != NULL; group = group->next) {
        group_days(power, group);
        for (const Entity *cruise = power->model->first_of_kind[KIND_CRUISE]; cruise != NULL;
             cruise = cruise->next_of_kind) {
            group_cruise(power, group, cruise);
        }
        for (int b = 0; b < group->bank_count; b++) {
            record_runtime(power, group->banks[b]);
        }
    }
}
