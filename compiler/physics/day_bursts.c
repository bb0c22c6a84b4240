/*
 * See day_bursts.h. A step is walked through from its beginning, where all bursts flow, to its end, where none does: in the order
 * of their lengths. Nothing else is known of where in it they lie, and so they draw on each other's charge as little as can be.
 */
#include "physics/day_bursts.h"

#include "physics/order.h"

static const double no_length = 1e-9; /* of a step: rounding */

int day_add_burst(DayBurst bursts[], int count, DayBurst burst)
{
    if (burst.amps == 0.0 || burst.share < no_length || burst.share > 1.0 - no_length) {
        return count;
    }
    int at = count;
    while (at > 0 && (bursts[at - 1].step > burst.step ||
                      (bursts[at - 1].step == burst.step && bursts[at - 1].share > burst.share))) {
        bursts[at] = bursts[at - 1];
        at--;
    }
    bursts[at] = burst;
    return count + 1;
}

int day_edges(double from_s, double length_s, DayBurst edges[2])
{
    double from = from_s / DAY_STEP_S, to = from + length_s / DAY_STEP_S;
    int first = (int)from, last = (int)to, count = 0;
    if (first == from && last == to) {
        return 0; /* as most do */
    }
    if (last == first) {
        return day_add_burst(edges, 0, (DayBurst){first % DAY_STEPS, -1, to - from, 1.0});
    }
    double begun = first + 1.0 - from, ended = to - last;
    if (last == first + DAY_STEPS) { /* all but a part of the day: both in one step */
        return day_add_burst(edges, 0, (DayBurst){first % DAY_STEPS, -1, begun + ended, 1.0});
    }
    count = day_add_burst(edges, count, (DayBurst){first % DAY_STEPS, -1, begun, 1.0});
    return day_add_burst(edges, count, (DayBurst){last % DAY_STEPS, -1, ended, 1.0});
}

static int first_in(const DayTable *table, int step)
{
    int first = 0;
    while (first < table->burst_count && table->bursts[first].step < step) {
        first++;
    }
    return first;
}

int day_burst_step(const DayTable *table, int step)
{
    int first = first_in(table, step);
    return first < table->burst_count ? table->bursts[first].step : DAY_STEPS;
}

bool day_same_bursts(const DayTable *one, const DayTable *other, int step)
{
    int a = first_in(one, step), b = first_in(other, step);
    for (;; a++, b++) {
        bool in_a = a < one->burst_count && one->bursts[a].step == step;
        bool in_b = b < other->burst_count && other->bursts[b].step == step;
        if (!in_a || !in_b) {
            return in_a == in_b;
        }
        if (one->bursts[a].share != other->bursts[b].share || one->bursts[a].amps != other->bursts[b].amps) {
            return false;
        }
    }
}

DayWalk day_walk(const DayTable *table, int step, double more_a)
{
    DayWalk walk = {.next = table->bursts + first_in(table, step), .end = table->bursts + table->burst_count, .step = step,
                 .drawn_a = more_a - table->net_a[step]};
    for (const DayBurst *burst = walk.next; burst < walk.end && burst->step == step; burst++) {
        walk.drawn_a += burst->amps * (1.0 - burst->share);
    }
    return walk;
}

double day_walk_part(DayWalk *walk, double *drawn_a)
{
    *drawn_a = walk->drawn_a;
    double until = 1.0;
    if (walk->next < walk->end && walk->next->step == walk->step) {
        until = walk->next->share;
        walk->drawn_a -= walk->next->amps;
        walk->next++;
    }
    double length = until - walk->passed;
    walk->passed = until;
    return length;
}

double day_beyond_a(const DayTable *table, const BatteryModel *model, double of_coulomb, int step, double more_a)
{
    double beyond = 0.0;
    DayWalk walk = day_walk(table, step, more_a);
    while (walk.passed < 1.0) {
        double drawn, length = day_walk_part(&walk, &drawn);
        if (length > 0.0 && drawn > 0.0) {
            beyond += length * (peukert_effective_a(of_coulomb, model->rated_hours, drawn, model->exponent) - drawn);
        }
    }
    return beyond;
}
