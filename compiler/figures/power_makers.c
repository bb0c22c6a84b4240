/*
 * What sources offer a bank in a day, in each step, whether it can take it or not, and what they give at
 * their best: each kind of source by its own file, the figures here.
 *
 * An alternator gives by the speed of its shaft and by its heat, one that wind or water drives what it says
 * (power_alternator.c); an array by the sun, the heat of its cells, its shade and its controller
 * (power_array.c); a charger by what shore power or its generator leaves over from other loads
 * (power_charger.c). A converter brings nothing of its own: it passes a surplus on (power_days.c).
 */
#include "figures/power_makers.h"

#include "model/status.h"

#include <math.h>
#include <string.h>

Interval bank_charge_volts(const Power *power, const Entity *bank)
{
    const PowerNode *node = power_node(power, bank);
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry) || node->nominal_v <= 0.0) {
        return point(14.2);
    }
    return (Interval){fmax(battery_volts(BATTERY_ABSORPTION, chemistry, node->nominal_v), node->working_v.low),
                      fmax(battery_volts(BATTERY_ABSORPTION, chemistry, node->nominal_most_v), node->working_v.high)};
}

/* The figure */

static const char alternator_formula[] =
    "sum over the day's steps of the current that its speed and heat allow, times the bank's voltage";
static const char limited_formula[] =
    "sum over the day's steps of the current that its speed and heat allow, but no more than its engine can turn at that speed, "
    "times the bank's voltage";
static const char given_formula[] =
    "sum over the day's steps of what it `gives`, watts over the voltage of its `output`, up to its output, times the "
    "bank's voltage";
static const char array_formula[] = "sum over the day's steps of sun x rated power, less heat, shade and losses, over the "
                                    "charging voltage, times the bank's voltage";
static const char pwm_formula[] = "sum over the day's steps of sun x rated power, less shade and losses, over the voltage of "
                                  "greatest power, times the bank's voltage";
static const char charger_formula[] =
    "sum over the day's steps of what its supply leaves it, up to its output, times the bank's voltage";
static const char sharing_formula[] =
    "sum over the day's steps of what its supply leaves its chargers, shared by what each takes at full output, up to its own, "
    "times the bank's voltage";

const Figure *record_offer(Power *power, const Feed *feed, const Entity *bank, const Entity *day, const Maker *maker, Offer offer)
{
    bool offers = hours_sum_c(maker->amps.of[BETTER]) > 0.0;
    if (power->work->state == STATE_KNOWN && offer.dark) {
        return work_record(power->work, FIGURE_OFFERED, feed->giver, day, point(0.0), "nothing: the sun does not rise");
    }
    if (offers && power_node(power, bank)->working_v.high <= 0.0) {
        use_no_voltage(power->work, bank);
    }
    if (power->work->state == STATE_KNOWN && !offers) {
        return NULL;
    }
    return work_record(power->work, FIGURE_OFFERED, feed->giver, day, offer.joule, offer.formula);
}

/* At its best, the day apart */

void maker_output(Power *power, const Feed *feed, const Entity *bank)
{
    const Entity *giver = feed->giver;
    work_begin(power->work);
    if (giver->kind == KIND_ALTERNATOR) {
        alternator_output_of(power, giver);
    } else if (giver->kind == KIND_SOLAR) {
        array_output_of(power, giver, bank);
        record_array_volts(power, giver, bank);
    } else if (giver->kind == KIND_CHARGER) {
        Interval amps = use_value(power->work, giver, PROP_CHARGER_OUTPUT, 0).value;
        amps = interval_multiply(amps, use_count(power->work, giver).value);
        work_record(power->work, FIGURE_OUTPUT, giver, NULL, amps, "as stated: output of all");
    }
}

Offer maker_hours(Power *power, const Feed *feed, const Entity *bank, const Entity *day, Maker *maker)
{
    const Entity *giver = feed->giver;
    Offer offer = {.formula = alternator_formula};
    memset(maker, 0, sizeof *maker);
    if (giver->kind == KIND_ALTERNATOR && is_engineless(giver)) {
        given_hours(power->work, giver, day, &maker->amps);
        offer.formula = given_formula;
    } else if (giver->kind == KIND_ALTERNATOR) {
        offer.formula = alternator_hours(power->work, giver, day, maker) ? limited_formula : alternator_formula;
    } else if (giver->kind == KIND_SOLAR) {
        offer.dark = array_hours(power, giver, bank, day, &maker->amps);
        offer.formula = controller_of(giver) == SOLAR_PWM ? pwm_formula : array_formula;
    } else {
        offer.formula = charger_hours(power, feed, day, maker) ? sharing_formula : charger_formula;
    }
    Interval volts = power_node(power, bank)->working_v;
    offer.joule = interval_corners(hours_sum_c(maker->amps.of[WORSE]) * volts.low, hours_sum_c(maker->amps.of[BETTER]) * volts.high);
    return offer;
}
