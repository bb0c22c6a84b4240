/* See days.h: the tables of a day, which its steps read. */
#include "physics/day_bursts.h"

#include "physics/order.h"

#include <assert.h>
#include <stddef.h>

static double *step_of(double share[DAY_STEPS], int i)
{
    return &share[i < DAY_STEPS ? i : i - DAY_STEPS];
}

void day_add_span(double share[DAY_STEPS], double from_s, double length_s, double weight)
{
    assert(from_s >= 0.0 && from_s <= DAY_SECONDS && length_s >= 0.0 && length_s <= DAY_SECONDS);
    double from = from_s / DAY_STEP_S;
    double to = from + length_s / DAY_STEP_S;
    int i = (int)from, end = (int)to; /* of the first and of the last step only a part may lie in the span */
    if (i < to) {
        *step_of(share, i) += weight * (lesser(to, i + 1.0) - from);
        i++;
    }
    for (; i < end && i < DAY_STEPS; i++) {
        share[i] += weight;
    }
    for (; i < end; i++) {
        share[i - DAY_STEPS] += weight;
    }
    if (i < to) {
        *step_of(share, i) += weight * (to - i);
    }
}

void day_finish_like(DayTable *table, const BatteryModel *model, const DayTable *like)
{
    double rated_a = model->capacity_coulomb / (model->rated_hours * 3600.0);
    double net_before = 0.0, withheld_before = 0.0; /* loads are the same for hours: most powers are taken once */
    for (int i = 0; i < DAY_STEPS; i++) {
        double net = table->offered_a[i] - table->load_a[i];
        table->net_a[i] = net;
        if (net != net_before) {
            net_before = net;
            withheld_before = 0.0;
            if (-net > rated_a) {
                withheld_before =
                    peukert_effective_a(model->capacity_coulomb, model->rated_hours, -net, model->exponent) + net;
            }
        }
        table->withheld_a[i] = withheld_before;
    }
    for (int step = day_burst_step(table, 0); step < DAY_STEPS; step = day_burst_step(table, step + 1)) {
        bool same = like != NULL && like->net_a[step] == table->net_a[step] && day_same_bursts(like, table, step);
        table->withheld_a[step] =
            same ? like->withheld_a[step] : day_beyond_a(table, model, model->capacity_coulomb, step, 0.0);
    }
}

void day_finish(DayTable *table, const BatteryModel *model)
{
    day_finish_like(table, model, NULL);
}
