/*
 * What converters could bring from one bank to another in a day: of what its sources bring beyond its loads, as much as
 * they can pass on. How much of it the other bank takes is for the runs of physics/days.h.
 */
#include "figures/power_days.h"

#include <math.h>

static void add_amps(double to[DAY_STEPS], const double more[DAY_STEPS])
{
    for (int i = 0; i < DAY_STEPS; i++) {
        to[i] += more[i];
    }
}

/* What the sources of a bank bring beyond its loads, in A in each step; nothing where its voltage is not known. */
static void surplus_of(const Group *group, const GroupDay *day, int b, int corner, const Hours *watts, double surplus[])
{
    double volts = end_of(group->banks[b]->volts, corner == WORSE);
    for (int i = 0; i < DAY_STEPS; i++) {
        surplus[i] = volts > 0.0 ? -watts[b].of[corner][i] / volts : -INFINITY;
    }
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b) {
            add_amps(surplus, day->makers[s].amps.of[corner]);
        }
    }
    for (int l = 0; l < group->link_count; l++) {
        if (group->links[corner][l].taker == b) {
            add_amps(surplus, day->passed[l].amps.of[corner]);
        }
    }
}

/* Each takes what those before it leave: of what is not decided the worse corner leaves the least. */
static void pass_on(const Group *group, GroupDay *day, int b, int corner, double surplus[])
{
    for (int l = 0; l < group->link_count; l++) {
        const DayLink *link = &group->links[corner][l];
        for (int i = 0; i < DAY_STEPS && link->giver == b; i++) {
            double left = fmax(0.0, surplus[i]);
            day->passed[l].amps.of[corner][i] = fmin(link->most_a, left / link->ratio);
            surplus[i] = left - fmin(left, link->other_most_a * link->other_ratio);
        }
    }
}

/* What link l could bring the bank that it charges, before the losses of charging. */
static Interval passed_joule(const Group *group, const GroupDay *day, int l)
{
    Interval volts = group->banks[group->links[WORSE][l].taker]->volts;
    const Hours *amps = &day->passed[l].amps;
    return (Interval){hours_sum_c(amps->of[WORSE]) * volts.low, hours_sum_c(amps->of[BETTER]) * volts.high};
}

bool use_passed(Work *work, const Group *group, const GroupDay *day, int b, Interval *joule)
{
    bool any = false;
    for (int l = 0; l < group->link_count; l++) {
        if (group->links[WORSE][l].taker != b || day->passed[l].offered == NULL) {
            continue;
        }
        Interval all = use_figure(work, day->passed[l].offered).value, part = passed_joule(group, day, l);
        if (all.low != part.low || all.high != part.high) {
            use_fact(work, "what of it could come to this bank", part, UNIT_ALONE(UNIT_WH), "the run of such a day");
        }
        *joule = interval_add(*joule, part);
        any = true;
    }
    return any;
}

/* What the bank that it runs on rests on: its loads, its sources, and what other converters bring it. */
static void use_giver(Work *work, const Group *group, const GroupDay *day, int b)
{
    use_figure(work, figure_find(work->figures, group->banks[b]->entity, FIGURE_DAILY_USE, day->day));
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b && day->makers[s].offered != NULL) {
            use_figure(work, day->makers[s].offered);
        }
    }
    for (int l = 0; l < group->link_count; l++) {
        if (group->links[WORSE][l].taker == b && day->passed[l].offered != NULL) {
            use_figure(work, day->passed[l].offered);
        }
    }
}

/* To all banks that it charges, from its link l on, the first; NULL where it could bring nothing. */
static const Figure *record_passed(Power *power, const Group *group, const GroupDay *day, int l)
{
    Work *work = power->work;
    const Entity *converter = group->converters[l];
    Interval joule = point(0.0);
    work_begin(work);
    use_value(work, converter, PROP_CONVERTER_OUTPUT, 0);
    if (!is_relay(converter)) {
        use_value(work, converter, PROP_CONVERTER_EFFICIENCY, 0);
    }
    use_giver(work, group, day, group->links[WORSE][l].giver);
    for (int i = l; i < group->link_count; i++) {
        if (group->converters[i] == converter) {
            joule = interval_add(joule, passed_joule(group, day, i));
        }
    }
    if (work->state == STATE_KNOWN && joule.high <= 0.0) {
        return NULL;
    }
    return work_record(work, FIGURE_OFFERED, converter, day->day, joule,
                       "sum over the day's steps of what the sources of the bank that it runs on bring beyond its loads, up to its "
                       "output, times the voltage of the bank that it charges");
}

/*
 * What the sources of the bank before link l bring it at one time, at most: what its converter takes beyond that comes out of
 * the bank. Of no day on which nothing charges it.
 */
static void record_source_current(Power *power, const Group *group, const GroupDay *day, int l)
{
    Work *work = power->work;
    int giver = group->links[WORSE][l].giver;
    double most[CORNERS] = {0.0, 0.0};
    work_begin(work);
    for (int i = 0; i < DAY_STEPS; i++) {
        double amps[CORNERS] = {0.0, 0.0};
        for (int s = 0; s < group->source_count; s++) {
            for (int c = 0; c < CORNERS && group->sources[s].bank == giver; c++) {
                amps[c] += day->makers[s].amps.of[c][i];
            }
        }
        for (int other = 0; other < group->link_count; other++) {
            for (int c = 0; c < CORNERS && group->links[c][other].taker == giver; c++) {
                amps[c] += day->passed[other].amps.of[c][i];
            }
        }
        most[WORSE] = fmax(most[WORSE], amps[WORSE]);
        most[BETTER] = fmax(most[BETTER], amps[BETTER]);
    }
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == giver && day->makers[s].offered != NULL) {
            use_figure(work, day->makers[s].offered);
        }
    }
    if (work->state != STATE_KNOWN || most[BETTER] > 0.0) {
        work_record(work, FIGURE_SOURCE_CURRENT, group->converters[l], day->day, interval_corners(most[WORSE], most[BETTER]),
                    "the greatest of the day's steps: the currents of all that charges the bank before it");
    }
}

static int first_link_of(const Group *group, int l)
{
    int first = 0;
    while (group->converters[first] != group->converters[l]) {
        first++;
    }
    return first;
}

static bool gives_any(const Group *group, int b)
{
    for (int l = 0; l < group->link_count; l++) {
        if (group->links[WORSE][l].giver == b) {
            return true;
        }
    }
    return false;
}

/* Banks that charge others come before them, so what reaches one is known before it passes it on. */
void group_passed(Power *power, const Group *group, GroupDay *day, const Hours *watts)
{
    double surplus[DAY_STEPS];
    for (int b = 0; b < group->bank_count; b++) {
        for (int c = 0; c < CORNERS && gives_any(group, b); c++) {
            surplus_of(group, day, b, c, watts, surplus);
            pass_on(group, day, b, c, surplus);
        }
        for (int l = 0; l < group->link_count; l++) {
            if (group->links[WORSE][l].giver == b) {
                int first = first_link_of(group, l);
                if (first == l) {
                    record_source_current(power, group, day, l);
                }
                day->passed[l].offered = first < l ? day->passed[first].offered : record_passed(power, group, day, l);
            }
        }
    }
}
