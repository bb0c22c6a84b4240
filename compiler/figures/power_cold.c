/*
 * Lead banks in the cold. A day is run with all of a bank's capacity, as published examples are; here it is run once more with
 * what a cold day leaves of it, for those who ask how long she lasts then. Lithium keeps nearly all, and is left alone.
 *
 * What may be used of a bank is divided by the factor, and no more: what goes in and out, and what Peukert's law counts, is the
 * same as on a warm day, for the factor is that of one and the same load.
 */
#include "figures/power_days.h"
#include "physics/celsius.h"

#include <math.h>

/* By how much more it would have to hold on that day; 1 of what is not lead, and on a day that says nothing of the cold. */
static Interval use_cold_factor(Work *work, const Entity *bank, const Entity *day)
{
    Chemistry chemistry;
    if (!entity_states(day, PROP_DAY_TEMPERATURE) || !bank_chemistry(bank, &chemistry) || chemistry == CHEMISTRY_LIFEPO4) {
        return point(1.0);
    }
    Interval cells = use_cells(work, bank, day);
    return (Interval){battery_cold_lead_factor(cells.high - ZERO_CELSIUS_K), battery_cold_lead_factor(cells.low - ZERO_CELSIUS_K)};
}

const char *cold_remark(Work *work, const Entity *bank, const Entity *day)
{
    work_begin(work);
    return use_cold_factor(work, bank, day).high > 1.0 ? "with all of its capacity, as on a warm day: see cold-endurance" : NULL;
}

static double scaled_limit(double least_share, double factor)
{
    return 1.0 - (1.0 - least_share) / factor;
}

/* The day with higher limits, until each bank has come to its own. */
static void run_cold_day(const Group *group, const GroupDay *day, int corner, const Interval factors[], double seconds[])
{
    bool worse = corner == WORSE;
    DayBank banks[DAY_BANKS];
    DayPlan plan = day->plan[corner];
    for (int b = 0; b < group->bank_count; b++) {
        banks[b] = plan.banks[b];
        banks[b].least_share = scaled_limit(banks[b].least_share, end_of(factors[b], !worse));
        banks[b].bounds.other_least_share = scaled_limit(banks[b].bounds.other_least_share, end_of(factors[b], worse));
    }
    plan.banks = banks;
    day_endure(&plan, seconds);
}

static void record_of_bank(Work *work, const Entity *bank, const Entity *day, Interval factor, Interval lasts)
{
    const Figure *warm = figure_find(work->figures, bank, FIGURE_ENDURANCE, day);
    work_begin(work);
    use_figure(work, warm);
    use_fact(work, "factor of the cold", factor, UNIT_ALONE(UNIT_NONE), "IEEE 485, Table 1, second hand; linear between");
    use_cold_factor(work, bank, day); /* what that rests on */
    work_record(work, FIGURE_COLD_ENDURANCE, bank, day, lasts,
                "run as {endurance} is, with what may be used of each lead bank over {factor of the cold}");
}

void record_cold_endurance(Power *power, const Group *group, const GroupDay *day)
{
    Interval factors[DAY_BANKS];
    double seconds[CORNERS][DAY_BANKS];
    bool cold = false;
    for (int b = 0; b < group->bank_count; b++) {
        factors[b] = use_cold_factor(power->work, group->banks[b]->entity, day->day);
        cold = cold || factors[b].high > 1.0;
    }
    if (!cold || day->state != STATE_KNOWN) {
        return;
    }
    for (int c = 0; c < CORNERS; c++) {
        run_cold_day(group, day, c, factors, seconds[c]);
    }
    for (int b = 0; b < group->bank_count; b++) {
        bool endless = isinf(group->banks[b]->capacity->high);
        Interval lasts = {seconds[WORSE][b], endless ? INFINITY : seconds[BETTER][b]};
        if (factors[b].high > 1.0 && isfinite(lasts.low)) {
            record_of_bank(power->work, group->banks[b]->entity, day->day, factors[b], interval_corners(lasts.low, lasts.high));
        }
    }
}
