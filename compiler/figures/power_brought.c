/*
 * What makes power and feeds buses, panels and switches: what all of them bring there at once, and send back through the
 * cable of the thing to its bank when nothing behind takes it. Alternating current has no way back, and what turns power
 * into another kind lets none through.
 */
#include "figures/cable.h"

static const char formula_brought[] = "sum of the outputs that feed it, or what hangs on it";

bool takes_back(const Feed *feed)
{
    return !feed->maker && feed->giver != NULL && !turns_power(feed->giver) &&
           !((feed->taker->flags | feed->giver->flags) & (ENTITY_AC | ENTITY_DROPPED | ENTITY_LOOP));
}

/* The outputs that feed a thing itself, and what things on it bring; false if nothing does. */
static bool use_brought(Power *power, const Entity *thing, Interval *sum)
{
    Work *work = power->work;
    bool any = false;
    for (const Cable *cable = power_node(power, thing)->brought; cable != NULL; cable = cable->next_brought) {
        *sum = interval_add(*sum, use_figure(work, cable->current_figure).value);
        any = true;
    }
    for (const Feed *feed = thing->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *behind = takes_back(feed) ? power_node(power, feed->taker)->brings : NULL;
        if (behind != NULL) {
            *sum = interval_add(*sum, use_figure(work, behind).value);
            any = true;
        }
    }
    return any;
}

/* From the ends to the sources: what hangs on a thing comes before it. A bank has its `charge-current` (power_bank.c). */
void power_brought(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        const Entity *thing = model->feed_order[i];
        Interval sum = point(0.0);
        work_begin(power->work);
        bool direct =
            !(thing->flags & (ENTITY_DROPPED | ENTITY_AC)) && thing->kind != KIND_BANK && !turns_power(thing);
        if (direct && use_brought(power, thing, &sum)) {
            power_node(power, thing)->brings =
                work_record(power->work, FIGURE_BROUGHT, thing, NULL, sum, formula_brought);
        }
    }
}

const Figure *figure_brought_back(const Figures *figures, const Feed *feed)
{
    return takes_back(feed) ? figure_find(figures, feed->taker, FIGURE_BROUGHT, NULL) : NULL;
}

Quantity cable_brought(const Power *power, const Cable *cable)
{
    const Figure *brings = figure_brought_back(power->work->figures, cable->feed);
    return brings != NULL ? (Quantity){{brings->low, brings->high}, (State)brings->state}
                          : (Quantity){point(0.0), STATE_KNOWN};
}
