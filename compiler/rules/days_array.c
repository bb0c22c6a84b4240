/*
 * Rules of the family rules_days about arrays: wasted-sun, what of their energy finds no taker;
 * array-voltage, array-low and array-current, what their controllers stand and what their bank needs.
 */
#include "rules/days.h"

#include "rules/upstream.h"

#include "physics/charging.h"

/* wasted-sun */

static const double much_of_the_sun = 0.5;

/* Whether shore power alone brings a bank all that its loads take that day: then no array is meant for it. */
static bool is_carried_ashore(const Judge *judge, const Upstream *upstream, const Entity *bank, const Entity *day)
{
    const Figure *use = figure_find(judge->figures, bank, FIGURE_DAILY_USE, day);
    double brought = 0.0;
    for (const Charging *c = upstream->charging[bank->index]; c != NULL && entity_states(day, PROP_DAY_SHORE); c = c->next) {
        const Entity *maker = c->feed->giver;
        bool by_shore = !c->turned && maker->kind == KIND_CHARGER && maker->mains & MAINS_SHORE;
        const Figure *offered = by_shore ? figure_find(judge->figures, maker, FIGURE_OFFERED, day) : NULL;
        brought += offered != NULL && offered->state == STATE_KNOWN ? offered->low : 0.0;
    }
    return use != NULL && use->state == STATE_KNOWN && brought > 0.0 && brought >= use->high;
}

static bool is_for_such_a_day(Judge *judge, const Entity *array, const Entity *day)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Feed *feed = array->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *bank = feed->maker ? bank_charged(upstream, feed) : NULL;
        if (bank != NULL && is_carried_ashore(judge, upstream, bank, day)) {
            return false;
        }
    }
    return true;
}

void judge_wasted_sun(Judge *judge, const Entity *array)
{
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        const Figure *share = figure_find(judge->figures, array, FIGURE_REFUSED_SHARE, day);
        if (share == NULL || !is_for_such_a_day(judge, array, day)) {
            continue;
        }
        Finding *f = judge_at_most(judge, array, place_of(judge, array, PROP_SOLAR_RATED), side_figure(share),
                                   side_number(much_of_the_sun, UNIT_ALONE(UNIT_PERCENT)));
        if (f != NULL) {
            finding_at(f, day);
            finding_say(judge, f, "on `%s` %s of what `%s` could bring finds no taker: loads and bank are content",
                        say_name(judge, day), say_figure(judge, share), say_name(judge, array));
            finding_note(judge, f, place_of_name(judge, day), "this day");
        }
    }
}

/* array-voltage */

void judge_array_voltage(Judge *judge, const Entity *array)
{
    bool open = entity_states(array, PROP_SOLAR_OPEN_CIRCUIT), stands = entity_states(array, PROP_SOLAR_MAX_INPUT);
    if (!open || !stands) {
        if (open || stands) { /* nobody has looked at it yet where both are left out */
            judge_unmeasured(judge, array, open ? PROP_SOLAR_MAX_INPUT : PROP_SOLAR_OPEN_CIRCUIT);
        }
        return;
    }
    Side volts = side_figure(figure_of(judge, array, FIGURE_COLD_VOLTAGE));
    Side most = side_value(judge, array, PROP_SOLAR_MAX_INPUT, 0);
    const Figure *coldest = figure_of(judge, array, FIGURE_COLDEST_CELLS);
    Finding *f = judge_at_most(judge, array, place_of(judge, array, PROP_SOLAR_MAX_INPUT), volts, most);
    if (f != NULL) {
        finding_say(judge, f, "the panels of `%s` give %s when it is %s cold, and the controller stands %s", say_name(judge, array),
                    say_side(judge, volts), say_figure(judge, coldest), say_side(judge, most));
        finding_note(judge, f, place_of(judge, array, PROP_SOLAR_OPEN_CIRCUIT), "of one panel, at 25 C");
        if (f->verdict == VERDICT_OPEN && !entity_states(array, PROP_SOLAR_VOLTAGE_COEFFICIENT)) {
            finding_remedy(judge, f, "`voltage-coefficient`, as the panel's sheet states it");
        }
        finding_remedy(judge, f, "fewer panels in `series`, or a controller that stands more");
        if (judge->model->boat != NULL && !entity_states(judge->model->boat, PROP_BOAT_COLDEST_AIR)) {
            finding_remedy(judge, f, "`coldest-air` of the boat, if she is never where it is so cold by day");
        }
    }
}

/* array-low */

void judge_array_low(Judge *judge, const Entity *array)
{
    const Figure *hot = figure_of(judge, array, FIGURE_HOT_VOLTAGE);
    const Figure *greatest = figure_of(judge, array, FIGURE_GREATEST_VOLTAGE);
    if (hot == NULL || str_is(entity_word(array, PROP_SOLAR_CONTROLLER), "boost")) {
        return; /* nobody says what they give; or it makes more of it */
    }
    Side needs = side_figure(figure_of(judge, array, FIGURE_CHARGING_VOLTAGE));
    Finding *f = judge_at_least(judge, array, place_of(judge, array, PROP_SOLAR_OPEN_CIRCUIT), side_figure(hot), needs);
    if (f == NULL) {
        return;
    }
    bool never = side_is_known(needs) && greatest->high < needs.value.low / CHARGING_OVER_NOMINAL;
    if (f->compared && f->verdict == VERDICT_BROKEN && !never) {
        finding_severity(f, SEVERITY_WARNING);
    }
    finding_say(judge, f, "the panels of `%s` give %s at their greatest power, hot %s, and its bank is charged at %s: %s",
                say_name(judge, array), say_figure(judge, greatest), say_figure(judge, hot), say_side(judge, needs),
                never ? "nothing comes through" : "in the heat they do not fill it");
    finding_note(judge, f, place_of(judge, array, PROP_SOLAR_OPEN_CIRCUIT), "of one panel, with nothing on it");
    finding_remedy(judge, f, "more panels in `series`, as far as the controller stands their voltage in the cold");
    finding_remedy(judge, f, "`controller boost`, if it makes more volts of what it gets");
}

/* array-current */

/* Of a controller that does not say what it takes: what one that seeks the greatest power gives is no limit to that. */
static Finding *judge_by_output(Judge *judge, const Entity *array, Side amps, Side gives)
{
    Span place = place_of(judge, array, PROP_SOLAR_MAX_OUTPUT);
    if (str_is(entity_word(array, PROP_SOLAR_CONTROLLER), "pwm") || !side_is_known(amps) || !side_is_known(gives)) {
        return judge_at_most(judge, array, place, amps, gives);
    }
    if (amps.value.high <= gives.value.low) {
        judge_holds(judge);
        return NULL;
    }
    return judge_open(judge, array, place, array, PROP_SOLAR_MAX_INPUT_CURRENT);
}

void judge_array_current(Judge *judge, const Entity *array)
{
    bool own = entity_states(array, PROP_SOLAR_MAX_INPUT_CURRENT);
    PropId limit = own ? PROP_SOLAR_MAX_INPUT_CURRENT : PROP_SOLAR_MAX_OUTPUT;
    bool known = entity_states(array, PROP_SOLAR_SHORT_CIRCUIT), stands = entity_states(array, limit);
    if (!known || !stands) {
        if (known || stands) {
            judge_unmeasured(judge, array, known ? PROP_SOLAR_MAX_OUTPUT : PROP_SOLAR_SHORT_CIRCUIT);
        }
        return;
    }
    Side amps = side_figure(figure_of(judge, array, FIGURE_ARRAY_CURRENT));
    Side most = side_value(judge, array, limit, 0);
    Finding *f = own ? judge_at_most(judge, array, place_of(judge, array, limit), amps, most)
                     : judge_by_output(judge, array, amps, most);
    if (f == NULL) {
        return;
    }
    if (own || f->compared) {
        finding_say(judge, f, "the panels of `%s` can drive %s through the controller, and it stands %s%s", say_name(judge, array),
                    say_side(judge, amps), say_side(judge, most),
                    own ? "" : " (what it gives, for a simple controller passes all that its panels drive)");
    } else {
        finding_say(judge, f, "the panels of `%s` can drive %s into the controller, which gives %s and does not say what it takes",
                    say_name(judge, array), say_side(judge, amps), say_side(judge, most));
        finding_remedy(judge, f, "`max-input-current`, as its maker states it");
    }
    finding_note(judge, f, place_of(judge, array, PROP_SOLAR_SHORT_CIRCUIT), "of one panel, in full sun");
    finding_remedy(judge, f, "fewer strings in `parallel`, or a controller that stands more");
}
