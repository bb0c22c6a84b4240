/*
 * The rules on a bank's voltage. charge-voltage: what charges it, against what its cells stand and against what they rest at
 * when they are full. high-voltage: direct current that kills.
 */
#include "rules/bank.h"

#include "physics/charging.h"

/* The property in which what charges says at what voltage, and where in it; PROP_NONE: it has none. */
static PropId voltage_prop(const Entity *maker, unsigned *slot)
{
    *slot = maker->kind == KIND_SOLAR ? 0 : 1;
    switch ((KindId)maker->kind) {
    case KIND_ALTERNATOR: return PROP_ALTERNATOR_OUTPUT;
    case KIND_CHARGER: return PROP_CHARGER_OUTPUT;
    case KIND_CONVERTER: return PROP_CONVERTER_OUTPUT;
    case KIND_SOLAR: return PROP_SOLAR_CHARGE_VOLTAGE;
    default: return PROP_NONE;
    }
}

/* One battery's voltage, or another one of its properties in V, times those in series. */
static Side in_series(const Judge *judge, const Entity *bank, PropId prop)
{
    Side one = side_value(judge, bank, prop, 0);
    Side series = side_value(judge, bank, PROP_BANK_SERIES, 0);
    one.state = side_is_known(series) ? one.state : series.state;
    one.value = interval_multiply(one.value, series.value);
    return one;
}

Side bank_volts(const Judge *judge, const Entity *bank)
{
    return in_series(judge, bank, PROP_BANK_VOLTAGE);
}

static Side by_cells(const Judge *judge, const Entity *bank, BatteryFigure figure, Chemistry chemistry)
{
    Side side = bank_volts(judge, bank), one = side_value(judge, bank, PROP_BANK_VOLTAGE, 0);
    Interval series = side_value(judge, bank, PROP_BANK_SERIES, 0).value;
    side.value = (Interval){battery_cells_v(figure, chemistry, one.value.low, series.low).low,
                            battery_cells_v(figure, chemistry, one.value.high, series.high).high};
    return side;
}

/* What wrong-voltage tells of: it is for a bank of another class. */
static Answer is_for_another_class(Side given, Side nominal)
{
    double low = nominal_class_v(given.value.low / CHARGING_OVER_NOMINAL), high = nominal_class_v(given.value.high / CHARGING_OVER_NOMINAL);
    double least = nominal_class_v(nominal.value.low), most = nominal_class_v(nominal.value.high);
    if (!side_is_known(given) || !side_is_known(nominal)) {
        return ANSWER_NO;
    }
    return high < least || low > most ? ANSWER_YES : low == high && least == most ? ANSWER_NO : ANSWER_PERHAPS;
}

PropId charge_voltage_prop(const Entity *maker)
{
    unsigned slot;
    return voltage_prop(maker, &slot);
}

void finding_of_charging(Judge *judge, Finding *finding, const Entity *maker)
{
    finding_matter(finding, "charged");
    finding_severity(finding, SEVERITY_WARNING);
    finding_rests_on(judge, finding, maker, charge_voltage_prop(maker));
    finding_note(judge, finding, place_of(judge, maker, charge_voltage_prop(maker)), "what charges");
}

Side bank_charged_at(const Judge *judge, const Entity *bank, const Entity **maker)
{
    Side most = {.state = STATE_MISSING}, nominal = bank_volts(judge, bank);
    for (const Charging *c = upstream_of(judge)->charging[bank->index]; c != NULL; c = c->next) {
        unsigned slot;
        const Entity *giver = c->feed->giver;
        PropId prop = voltage_prop(giver, &slot);
        Side given = prop != PROP_NONE && is_aboard(giver) ? side_value(judge, giver, prop, slot) : (Side){.state = STATE_MISSING};
        if (!side_is_known(given) || is_for_another_class(given, nominal) == ANSWER_YES) {
            continue;
        }
        if (most.state == STATE_MISSING || given.value.high > most.value.high) {
            *maker = giver;
        }
        given.value = most.state == STATE_MISSING ? given.value : interval_max(given.value, most.value);
        most = given;
    }
    return most;
}

static void finish(Judge *judge, Finding *f, const Entity *maker, PropId prop, const Entity *bank)
{
    unsigned slot;
    voltage_prop(maker, &slot);
    if (is_for_another_class(side_value(judge, maker, prop, slot), bank_volts(judge, bank)) == ANSWER_PERHAPS) {
        finding_may_not_apply(f); /* it may be wrong-voltage instead */
    }
    finding_at(f, bank);
    finding_rests_on(judge, f, maker, prop);
    finding_rests_on(judge, f, bank, PROP_BANK_VOLTAGE);
    finding_rests_on(judge, f, bank, PROP_BANK_SERIES);
}

/* What is called by 48 V may have fifteen cells or sixteen: what its maker states settles it. */
static void tell_cells(Judge *judge, Finding *f, const Entity *bank, bool own, PropId settled_by)
{
    Side one = side_value(judge, bank, PROP_BANK_VOLTAGE, 0);
    Chemistry chemistry;
    if (own || !side_is_known(one) || one.value.low != one.value.high || !bank_chemistry(bank, &chemistry)) {
        return;
    }
    Interval cells = battery_cells(chemistry, one.value.low);
    if (cells.low < cells.high) {
        finding_note(judge, f, place_of(judge, bank, PROP_BANK_VOLTAGE), "batteries so called have %d or %d cells", (int)cells.low, (int)cells.high);
        if (f->verdict == VERDICT_OPEN) {
            finding_left_open(judge, f, bank, settled_by);
        }
    }
}

static void judge_too_high(Judge *judge, const Charging *charging, PropId prop, const Entity *bank, Side given, Side limit, bool own)
{
    const Entity *maker = charging->feed->giver;
    Finding *f = judge_at_most(judge, maker, place_of(judge, maker, prop), given, limit);
    if (f == NULL) {
        return;
    }
    finish(judge, f, maker, prop, bank);
    const char *by = say_turned(judge, charging);
    if (own) {
        finding_say(judge, f, "`%s` charges `%s`%s at %s, which stands %s", say_name(judge, maker), say_name(judge, bank), by,
                    say_side(judge, given), say_side(judge, limit));
    } else {
        finding_say(judge, f, "`%s` charges `%s`%s at %s; %s is the most that makers of %s batteries ask for with its cells",
                    say_name(judge, maker), say_name(judge, bank), by, say_side(judge, given), say_side(judge, limit),
                    chemistry_word(judge, bank));
    }
    finding_note(judge, f, place_of(judge, bank, own ? PROP_BANK_MAX_CHARGE_VOLTAGE : PROP_BANK_CHEMISTRY), "the bank");
    tell_cells(judge, f, bank, own, PROP_BANK_MAX_CHARGE_VOLTAGE);
    finding_remedy(judge, f, "a charging voltage of at most %s, set by what its maker asks for", say_no_more(judge, limit.value.low, limit.unit));
    if (!own) {
        finding_remedy(judge, f, "`max-charge-voltage` on `%s`, if their maker allows more", say_name(judge, bank));
    }
}

/* Below the lowest float no maker keeps its batteries; below rest nothing flows into a full one. */
static void judge_too_low(Judge *judge, const Charging *charging, PropId prop, const Entity *bank, Side given, Side floats, Side rests)
{
    const Entity *maker = charging->feed->giver;
    Finding *f = judge_at_least(judge, maker, place_of(judge, maker, prop), given, floats);
    if (f == NULL) {
        return;
    }
    finish(judge, f, maker, prop, bank);
    finding_matter(f, "fills");
    finding_severity(f, SEVERITY_WARNING);
    if (side_is_known(given) && side_is_known(rests) && given.value.low < rests.value.high) {
        finding_say(judge, f, "`%s` charges `%s`%s at %s, and full it rests at %s: that never fills it",
                    say_name(judge, maker), say_name(judge, bank), say_turned(judge, charging), say_side(judge, given),
                    say_side(judge, rests));
    } else {
        finding_say(judge, f,
                    "`%s` charges `%s`%s at %s; makers of %s batteries keep theirs full with %s at least: it "
                    "is never quite full, and ages by that",
                    say_name(judge, maker), say_name(judge, bank), say_turned(judge, charging), say_side(judge, given),
                    chemistry_word(judge, bank), say_side(judge, floats));
    }
    finding_note(judge, f, place_of(judge, bank, PROP_BANK_CHEMISTRY), "the bank");
    tell_cells(judge, f, bank, false, PROP_BANK_VOLTAGE);
    finding_remedy(judge, f, "the voltage that the maker of the bank asks for");
}

static void judge_maker(Judge *judge, const Charging *charging, const Entity *bank)
{
    unsigned slot;
    const Entity *maker = charging->feed->giver;
    Chemistry chemistry;
    PropId prop = voltage_prop(maker, &slot);
    bool own = entity_states(bank, PROP_BANK_MAX_CHARGE_VOLTAGE);
    if (prop == PROP_NONE || !is_aboard(maker)) {
        return;
    }
    if (!bank_chemistry(bank, &chemistry)) {
        judge_waiting(judge);
        return;
    }
    Side given = side_value(judge, maker, prop, slot);
    if (given.state == STATE_MISSING) {
        judge_unmeasured(judge, maker, prop);
        return;
    }
    if (is_for_another_class(given, bank_volts(judge, bank)) == ANSWER_YES) {
        judge_gives_way(judge); /* to wrong-voltage */
        return;
    }
    Side limit = own ? in_series(judge, bank, PROP_BANK_MAX_CHARGE_VOLTAGE) : by_cells(judge, bank, BATTERY_ABSORPTION_MOST, chemistry);
    judge_too_high(judge, charging, prop, bank, given, limit, own);
    judge_too_low(judge, charging, prop, bank, given, by_cells(judge, bank, BATTERY_FLOAT_LEAST, chemistry),
                  by_cells(judge, bank, BATTERY_OPEN_FULL, chemistry));
}

void judge_charge_voltage(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        for (const Charging *c = upstream->charging[bank->index]; c != NULL && is_aboard(bank); c = c->next) {
            judge_maker(judge, c, bank);
        }
    }
}

/* high-voltage */

/* The most that stands across its terminals: what charges it, what it rests at when full, or what it is called by. */
static Side most_across(const Entity *bank, Side nominal, Side charged)
{
    Chemistry chemistry;
    Side most = nominal;
    if (side_is_known(nominal) && bank_chemistry(bank, &chemistry)) {
        most.value = bank_open_v(bank, nominal.value);
    }
    if (side_is_known(nominal) && side_is_known(charged)) {
        most.value = interval_max(most.value, charged.value);
    }
    return most;
}

/* Up to here direct current counts as extra-low voltage: IEC 60364-4-41, from memory. */
static const double most_v = 60.0;

/* Panels cannot be switched off: as long as it is light what they give stands on their cable. */
static void judge_high_array(Judge *judge, const Entity *array)
{
    const Figure *cold = entity_states(array, PROP_SOLAR_OPEN_CIRCUIT) ? figure_of(judge, array, FIGURE_COLD_VOLTAGE) : NULL;
    if (cold == NULL) {
        return; /* nobody has looked at what its panels give: array-voltage asks */
    }
    Finding *f = judge_at_most(judge, array, place_of(judge, array, PROP_SOLAR_OPEN_CIRCUIT), side_figure(cold),
                               side_number(most_v, UNIT_ALONE(UNIT_V)));
    if (f != NULL) {
        finding_rests_on(judge, f, array, PROP_SOLAR_SERIES);
        finding_say(judge, f,
                    "the panels of `%s` give %s with nothing on them and in the cold, and while it is light nothing switches them off: "
                    "direct current of more than %s kills who touches both sides, and its arc does not go out by itself; no rule here "
                    "speaks of that",
                    say_name(judge, array), say_figure(judge, cold), say_number(judge, most_v, UNIT_ALONE(UNIT_V)));
        finding_remedy(judge, f, "fewer panels in `series`, and more of them in `parallel`; else somebody licensed for such voltages, by "
                                 "the standards for them");
    }
}

static void judge_high_bank(Judge *judge, const Entity *bank)
{
    const Entity *maker = NULL;
    Side nominal = bank_volts(judge, bank), charged = bank_charged_at(judge, bank, &maker);
    Side across = most_across(bank, nominal, charged);
    Finding *f = judge_at_most(judge, bank, place_of(judge, bank, PROP_BANK_VOLTAGE), across, side_number(most_v, UNIT_ALONE(UNIT_V)));
    if (f == NULL) {
        return;
    }
    finding_rests_on(judge, f, bank, PROP_BANK_SERIES);
    const char *more = "";
    if (nominal.value.high <= most_v && maker != NULL && charged.value.high >= across.value.high) {
        finding_rests_on(judge, f, maker, charge_voltage_prop(maker));
        finding_note(judge, f, place_of(judge, maker, charge_voltage_prop(maker)), "what charges it");
        more = text_format(judge->arena, ", and `%s` charges it at %s", say_name(judge, maker), say_side(judge, charged));
    } else if (nominal.value.high <= most_v) {
        more = text_format(judge->arena, ", and full it rests at %s", say_side(judge, across));
    }
    finding_say(judge, f,
                "`%s` is a bank of %s%s: direct current of more than %s kills who touches both sides, and its arc does not go out by "
                "itself; no rule here speaks of that",
                say_name(judge, bank), say_side(judge, nominal), more, say_number(judge, most_v, UNIT_ALONE(UNIT_V)));
    finding_remedy(judge, f, "no more than 48 V nominal; else somebody licensed for such voltages, by the standards for them");
}

void judge_high_voltage(Judge *judge, const Entity *source)
{
    if (source->kind == KIND_SOLAR) {
        judge_high_array(judge, source);
    } else {
        judge_high_bank(judge, source);
    }
}

/* system-unmet */

/* Whether a bank is of the voltage that the boat states; both may be open. */
static Answer is_of_stated(const Entity *bank, Side volts, Side system)
{
    Chemistry chemistry;
    bool lithium = bank_chemistry(bank, &chemistry) && chemistry == CHEMISTRY_LIFEPO4;
    double low = nominal_of_bank_v(volts.value.low, lithium), high = nominal_of_bank_v(volts.value.high, lithium);
    bool below = high < system.value.low && !is_of_system(high, system.value.low);
    bool above = low > system.value.high && !is_of_system(low, system.value.high);
    if (below || above) {
        return ANSWER_NO;
    }
    return is_of_system(low, system.value.high) && is_of_system(high, system.value.low) ? ANSWER_YES : ANSWER_PERHAPS;
}

/* The first bank that may be of that class, for what an open finding hangs on; any bank where none may be. */
static const Entity *bank_of_class(Judge *judge, Side system, Answer *found)
{
    const Entity *first = NULL;
    *found = ANSWER_NO;
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (!is_aboard(bank)) {
            continue;
        }
        Side volts = bank_volts(judge, bank);
        Answer answer = side_is_known(volts) ? is_of_stated(bank, volts, system) : ANSWER_PERHAPS;
        if (first == NULL || answer > *found) {
            first = bank;
            *found = answer;
        }
    }
    return first;
}

/* The voltage by which drops are shares is the boat's only where a bank has it: one that none has would be passed over. */
void judge_system_unmet(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || !entity_states(boat, PROP_BOAT_SYSTEM_VOLTAGE)) {
        return;
    }
    Side system = side_value(judge, boat, PROP_BOAT_SYSTEM_VOLTAGE, 0);
    if (!side_is_known(system)) {
        judge_waiting(judge);
        return;
    }
    Answer found;
    const Entity *bank = bank_of_class(judge, system, &found);
    if (bank == NULL || found == ANSWER_YES) {
        judge_holds(judge);
        return;
    }
    Span place = place_of(judge, boat, PROP_BOAT_SYSTEM_VOLTAGE);
    Finding *f = found == ANSWER_NO ? judge_broken(judge, boat, place) : judge_open(judge, boat, place, boat, PROP_BOAT_SYSTEM_VOLTAGE);
    finding_about(f, PROP_BOAT_SYSTEM_VOLTAGE);
    finding_rests_on(judge, f, bank, PROP_BANK_VOLTAGE);
    finding_rests_on(judge, f, bank, PROP_BANK_SERIES);
    finding_say(judge, f, found == ANSWER_NO ? "`system-voltage` is %s, and no bank has it: cables are judged by what the banks have"
                                             : "`system-voltage` is %s, and whether a bank has it is not decided",
                say_side(judge, system));
    finding_note(judge, f, place_of(judge, bank, PROP_BANK_VOLTAGE), "`%s`", say_name(judge, bank));
    finding_remedy(judge, f, "`system-voltage` of a bank, or no such line");
}
