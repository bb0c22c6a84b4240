/* See day_pace.h. */
#include "physics/day_pace.h"

#include "physics/order.h"

static Curve curve_of(double acceptance_a, double taper_begins, double tail_a, double most_a)
{
    return (Curve){.accepts_a = acceptance_a,
                   .begins = taper_begins,
                   .taper_a = (acceptance_a - tail_a) / (1.0 - taper_begins),
                   .most_a = most_a};
}

/* What falls less than this below a limit is rounding: it has come to the limit. */
static const double rounding_share = 1e-9;

static bool same_curve(const Curve *a, const Curve *b)
{
    return a->accepts_a == b->accepts_a && a->begins == b->begins && a->taper_a == b->taper_a && a->most_a == b->most_a &&
           a->capped == b->capped;
}

void day_pace(Pace *pace, const DayPlan *plan, int number, DayCharge charge)
{
    const DayBank *bank = &plan->banks[number];
    const BatteryModel *model = &bank->model;
    const DayBounds *bounds = &bank->bounds;
    const DayTable *table = plan->tables[number];
    double share_per_a = DAY_STEP_S / model->capacity_coulomb;
    double had = charge.share - charge.withheld;
    double rounding = plan->bounds ? rounding_share * bounds->told_coulomb / model->capacity_coulomb : rounding_share;
    *pace = (Pace){.share = charge.share,
                   .withheld = charge.withheld,
                   .share_per_a = share_per_a,
                   .kept_per_a = model->efficiency * share_per_a,
                   .a_per_kept = 1.0 / (model->efficiency * share_per_a),
                   .takes = curve_of(model->acceptance_a, model->taper_begins, model->tail_a, table->most_a),
                   .least_share = bank->least_share,
                   .rounding = rounding,
                   .net_a = table->net_a,
                   .withheld_a = table->withheld_a,
                   .table = table,
                   .bank = bank,
                   .tally = {.lowest_share = had, .below_s = had < bank->least_share - rounding ? 0.0 : -1.0},
                   .bounds = plan->bounds,
                   .burst_step = table->burst_count > 0 ? table->bursts[0].step : DAY_STEPS,
                   .number = number,
                   .one_curve = true,
                   .gets_below = 1.0,
                   .filled_to = 1.0,
                   .stop_share = bank->least_share,
                   .other_stop_share = bank->least_share};
    for (const DayLink *link = plan->links; link < plan->links + plan->link_count; link++) {
        pace->gives |= link->giver == number;
        pace->passes |= link->giver == number || link->taker == number;
    }
    if (plan->bounds) {
        pace->other_stop_share = bounds->other_least_share;
        pace->other = curve_of(bounds->acceptance_a, bounds->taper_begins, bounds->tail_a, table->other_most_a);
        pace->takes.capped = bounds->capped;
        pace->other.capped = bounds->other_capped;
        if (bounds->capped || bounds->other_capped) {
            pace->capped = day_capped_ready(&bounds->sizes);
        }
        pace->one_curve = same_curve(&pace->takes, &pace->other);
        pace->floor_share = bounds->floor_share;
    }
}

double day_told(const DayBank *bank, double share)
{
    return greater(0.0, 1.0 - (1.0 - share) * bank->model.capacity_coulomb / bank->bounds.told_coulomb);
}

double day_begun(const DayBank *bank, double told)
{
    return 1.0 - (1.0 - told) * (1.0 - bank->bounds.floor_share);
}
