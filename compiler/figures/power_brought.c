/*
 * What makes power and feeds buses, panels and switches: what all of them bring there at once, and send back through the
 * cable of the thing to its bank when nothing behind takes it. Alternating current has no way back, and what turns power
 * into another kind lets none through. And what of the voltage is lost on that way.
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

/* What is lost on that way */

/* In the cable of a thing that sends something back. */
static void record_brought_drop(Power *power, const Cable *cable)
{
    Work *work = power->work;
    const Figure *brings = figure_brought_back(work->figures, cable->feed);
    if (brings == NULL) {
        return;
    }
    work_begin(work);
    Interval amps = use_figure(work, brings).value;
    use_feed_value(work, cable->feed, PROP_FEED_RUN, 0);
    use_figure(work, cable->size);
    if (cable->nominal_v > 0.0) {
        use_source_voltage(work, power_node(power, cable->feed->taker)->source, "nominal voltage",
                           (Interval){cable->nominal_v, cable->nominal_most_v}, "its source");
    } else {
        use_no_voltage(work, power_node(power, cable->feed->giver)->source);
    }
    bool known = work->state == STATE_KNOWN && cable->nominal_v > 0.0 && cable->run.state == STATE_KNOWN;
    work_record(work, FIGURE_BROUGHT_DROP, cable->subject, cable->at,
                known ? cable_drop(power, cable, true, amps) : point(0.0),
                "{brought-current} x 2 x {run} x resistance of {wire-size} at 50 C / {nominal voltage}");
}

/* Adds what is lost between a thing and its bank, by the first of its feeds; false where no bank stands there. */
static bool add_to_bank(Power *power, const Entity *thing, Interval *sum)
{
    enum { STEPS_MOST = 64 };
    for (int i = 0; i < STEPS_MOST; i++) {
        if (thing->kind == KIND_BANK) {
            return true;
        }
        const Feed *feed = thing->fed;
        if (feed == NULL || !takes_back(feed)) {
            return false;
        }
        if (!feed->shares) {
            const Figure *lost = figure_find(power->work->figures, feed->subject, FIGURE_BROUGHT_DROP, feed_at(feed));
            *sum = interval_add(*sum, use_figure(power->work, lost).value);
        }
        thing = feed->giver;
    }
    return false;
}

static void record_charge_drop(Power *power, const Cable *cable)
{
    Work *work = power->work;
    bool bolted = cable->feed->shares;
    work_begin(work);
    Interval sum = bolted ? point(0.0) : use_figure(work, cable->drop).value;
    if (!(cable->feed->taker->flags & ENTITY_AC) && add_to_bank(power, cable->feed->taker, &sum)) {
        work_record(work, FIGURE_CHARGE_DROP, cable->subject, cable->at, sum,
                    bolted                                ? "brought-drop of each cable from there to the bank"
                    : cable->feed->taker->kind == KIND_BANK ? "{voltage-drop}"
                                                          : "{voltage-drop} + brought-drop of each cable from there to the bank");
    }
}

void power_charge_drops(Power *power)
{
    for (uint32_t i = 0; i < power->fed_count; i++) {
        record_brought_drop(power, &power->cables[i]);
    }
    for (uint32_t i = power->fed_count; i < power->cable_count; i++) {
        record_charge_drop(power, &power->cables[i]);
    }
}
