/*
 * Banks: capacity, what may be used of it, what a day takes and brings, and how long that lasts by plain balance.
 *
 * Loads behind an inverter count with its losses, and not in the hours on shore power where that can carry them. What
 * runs unasked counts all day: an inverter's idle. A simulation of charge over the hours is another matter.
 */
#include "figures/power.h"

#include "physics/battery.h"
#include "physics/fault.h"
#include "physics/solar.h"

#include <math.h>

static const double day_s = 86400.0;

bool bank_chemistry(const Entity *bank, Chemistry *chemistry)
{
    Str word = entity_word(bank, PROP_BANK_CHEMISTRY);
    static const char *const words[CHEMISTRY_COUNT] = {
        [CHEMISTRY_FLOODED] = "flooded", [CHEMISTRY_AGM] = "agm", [CHEMISTRY_GEL] = "gel", [CHEMISTRY_LIFEPO4] = "lifepo4"};
    for (int c = 0; c < CHEMISTRY_COUNT; c++) {
        if (str_is(word, words[c])) {
            *chemistry = (Chemistry)c;
            return true;
        }
    }
    return false;
}

/* A property of the bank, or the figure that its chemistry usually has. */
static Quantity stated_or_usual(Work *work, const Entity *bank, PropId prop, BatteryFigure figure, UnitPair unit)
{
    if (entity_states(bank, prop)) {
        return use_value(work, bank, prop, 0);
    }
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry)) {
        use_waiting(work);
        return (Quantity){point(0.0), STATE_WAITING};
    }
    const BatteryRow *row = battery_row(figure);
    return use_fact(work, row->name, point(row->value[chemistry]), unit,
                    row->evidence == EVIDENCE_MEMORY ? "usual for its chemistry, from memory"
                                                     : "usual for its chemistry; common practice, no source");
}

static Quantity or_one(Work *work, const Entity *bank, PropId prop)
{
    Quantity stated = use_stated(work, bank, prop, 0);
    return stated.state == STATE_MISSING ? (Quantity){point(1.0), STATE_KNOWN} : stated;
}

/* How many batteries lie in parallel: as stated, else as many as the count leaves over from those in series. */
static Quantity parallel_of(Work *work, const Entity *bank)
{
    Quantity stated = use_stated(work, bank, PROP_BANK_PARALLEL, 0);
    if (stated.state != STATE_MISSING) {
        return stated;
    }
    Quantity count = use_count(work, bank);
    Quantity series = or_one(work, bank, PROP_BANK_SERIES);
    if (count.state == STATE_KNOWN && series.state == STATE_KNOWN && series.value.low >= 1.0) {
        count.value = interval_max(point(1.0), interval_divide(count.value, series.value));
    }
    return count;
}

static const Figure *record_capacity(Power *power, const Entity *bank)
{
    Work *work = power->work;
    work_begin(work);
    Quantity one = use_value(work, bank, PROP_BANK_CAPACITY, 0);
    Quantity strings = parallel_of(work, bank);
    Figure *figure = work_record(work, FIGURE_CAPACITY, bank, NULL, interval_multiply(one.value, strings.value),
                                 "{capacity} of one, times the strings in parallel");
    return figure;
}

static const Figure *record_usable(Power *power, const Entity *bank, const Figure *capacity)
{
    Work *work = power->work;
    work_begin(work);
    Quantity charge = use_figure(work, capacity);
    Quantity one = use_value(work, bank, PROP_BANK_VOLTAGE, 0);
    Quantity series = or_one(work, bank, PROP_BANK_SERIES);
    Quantity share = stated_or_usual(work, bank, PROP_BANK_USABLE, BATTERY_USABLE, UNIT_ALONE(UNIT_PERCENT));
    Interval volts = interval_multiply(one.value, series.value);
    Interval joule = interval_multiply(interval_multiply(charge.value, volts), share.value);
    return work_record(work, FIGURE_USABLE_ENERGY, bank, NULL, joule, entity_states(bank, PROP_BANK_SERIES) ? "{capacity} x {voltage} x {series} x {usable share}"
                                                              : "{capacity} x {voltage} x {usable share}");
}

/* Short circuit: stated current, else voltage over the stated or usual resistance. */

static Interval usual_resistance(const Entity *bank, double nominal_v, const Figure *capacity)
{
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry) || nominal_v <= 0.0 || capacity->low <= 0.0 || !isfinite(capacity->high)) {
        return (Interval){0.0, INFINITY};
    }
    Interval least = battery_resistance_ohm(chemistry, nominal_v, capacity->high);
    Interval most = battery_resistance_ohm(chemistry, nominal_v, capacity->low);
    /* The low end of the usual range: the greatest fault, which is what a device must break. */
    return (Interval){least.low, most.low};
}

static void record_short_circuit(Power *power, const Entity *bank)
{
    Work *work = power->work;
    const Figure *capacity = figure_find(work->figures, bank, FIGURE_CAPACITY, NULL);
    const PowerNode *node = power_node(power, bank);
    work_begin(work);
    Interval current = point(0.0);
    const char *formula;
    if (entity_states(bank, PROP_BANK_SHORT_CIRCUIT)) {
        Quantity one = use_value(work, bank, PROP_BANK_SHORT_CIRCUIT, 0);
        Quantity strings = parallel_of(work, bank);
        current = interval_multiply(one.value, strings.value);
        formula = "{short-circuit} of one, times the strings in parallel";
    } else {
        Interval ohm;
        use_value(work, bank, PROP_BANK_VOLTAGE, 0);
        if (entity_states(bank, PROP_BANK_RESISTANCE)) {
            Quantity one = use_value(work, bank, PROP_BANK_RESISTANCE, 0);
            Quantity series = or_one(work, bank, PROP_BANK_SERIES);
            Quantity strings = parallel_of(work, bank);
            ohm = interval_divide(interval_multiply(one.value, series.value), strings.value);
        } else {
            use_figure(work, capacity);
            ohm = capacity->state == STATE_KNOWN && node->nominal_v > 0.0 ? usual_resistance(bank, node->nominal_v, capacity) : point(1.0);
            use_fact(work, "its resistance, the low end of what is usual", ohm, UNIT_ALONE(UNIT_MOHM),
                     "usual for its chemistry and capacity, from memory");
        }
        current = interval_divide(node->working_v, ohm);
        formula = "{voltage}, of all in series, / resistance of the whole bank";
    }
    if (node->nominal_v <= 0.0) {
        use_waiting(work);
    }
    work_record(work, FIGURE_SHORT_CIRCUIT, bank, NULL, current, formula);
}

void power_short_circuits(Power *power)
{
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (!(bank->flags & ENTITY_DROPPED)) {
            record_capacity(power, bank);
            record_short_circuit(power, bank);
        }
    }
}

/* A day's use */

/* The share of a day in which shore power is there: a load that it can carry asks the bank for nothing then. */
static Interval time_of(const Entity *day, PropId prop, Work *work, bool *stated)
{
    Interval seconds = point(0.0);
    *stated = false;
    for (const Property *p = entity_property(day, prop); p != NULL; p = block_next(&day->block, p)) {
        const Value *value = property_value(p, 0);
        *stated = true;
        if (value->kind == VALUE_QUANTITY) {
            seconds = interval_add(seconds, use_statement(work, day, p, 0).value);
        } else if (value->kind == VALUE_CLOCK) {
            seconds = interval_add(seconds, point(clock_seconds(value)));
        }
    }
    return interval_min(seconds, point(day_s));
}

/* Whether shore power can reach a panel of alternating current, past or instead of the inverter. */
static bool shore_reaches(const Power *power, const Entity *inverter)
{
    if (entity_states(inverter, PROP_INVERTER_PASSES)) {
        return true;
    }
    for (const Feed *feed = inverter->gives; feed != NULL; feed = feed->next_of_giver) {
        for (const Feed *other = feed->taker->fed; other != NULL; other = other->next) {
            const Entity *source = other->giver != NULL ? power_node(power, other->giver)->source : NULL;
            if (source != NULL && source->kind == KIND_INLET) {
                return true;
            }
        }
    }
    return false;
}

/* What draws on a bank in one day, gathered down the tree of feeds. */
typedef struct DayUse {
    Power *power;
    const Entity *day;
    Interval joule;
    Interval shore_share; /* share of the day on shore power */
    uint32_t loads;
} DayUse;

static Interval load_energy(DayUse *use, const Entity *load)
{
    Interval seconds;
    if (!use_seconds(load, use->day, &seconds) || seconds.high == 0.0) {
        return point(0.0);
    }
    Work *work = use->power->work;
    Quantity draw = use_value(work, load, PROP_LOAD_DRAW, 0);
    Quantity count = use_count(work, load);
    record_uses(work, load, use->day);
    UnitPair unit = property_value(entity_property(load, PROP_LOAD_DRAW), 0)->unit;
    Interval watts = draw.value;
    if (dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_A)))) {
        watts = interval_multiply(watts, power_node(use->power, load)->working_v);
    }
    use->loads++;
    return interval_multiply(interval_multiply(watts, count.value), seconds);
}

static Interval takers_energy(DayUse *use, const Entity *giver, int depth);

/* Behind an inverter: losses, its idle, and no hours on shore power where that carries the loads. */
static Interval inverter_energy(DayUse *use, const Entity *inverter, int depth)
{
    Work *work = use->power->work;
    Interval behind = takers_energy(use, inverter, depth + 1);
    Quantity efficiency = use_value(work, inverter, PROP_INVERTER_EFFICIENCY, 0);
    Quantity idle = use_value(work, inverter, PROP_INVERTER_IDLE, 0);
    if (efficiency.state == STATE_KNOWN) {
        behind = interval_divide(behind, efficiency.value);
    }
    if (idle.state == STATE_KNOWN) {
        behind = interval_add(behind, interval_scale(idle.value, day_s));
    }
    if (shore_reaches(use->power, inverter)) {
        behind = interval_multiply(behind, interval_subtract(point(1.0), use->shore_share));
    }
    return behind;
}

static bool draws_by_use(const Entity *entity)
{
    return (kinds[entity->kind].groups & GROUPS_LOAD) != 0;
}

static Interval taker_energy(DayUse *use, const Entity *taker, int depth)
{
    if (taker->kind == KIND_INVERTER) {
        return inverter_energy(use, taker, depth);
    }
    if (taker->kind == KIND_CHARGER) {
        return point(0.0); /* moves charge; what is behind it draws on the bank that it feeds */
    }
    if (taker->kind == KIND_CONVERTER) {
        Interval behind = takers_energy(use, taker, depth + 1);
        Quantity efficiency = use_value(use->power->work, taker, PROP_CONVERTER_EFFICIENCY, 0);
        return efficiency.state == STATE_KNOWN ? interval_divide(behind, efficiency.value) : behind;
    }
    Interval own = draws_by_use(taker) ? load_energy(use, taker) : point(0.0);
    return interval_add(own, takers_energy(use, taker, depth + 1));
}

static Interval takers_energy(DayUse *use, const Entity *giver, int depth)
{
    Interval sum = point(0.0);
    if (depth > 64) {
        return sum; /* longer than any chain of feeds aboard */
    }
    for (const Feed *feed = giver->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        bool first = taker->fed == feed || (feed->maker && taker->fed == NULL && taker->kind != KIND_BANK);
        bool alternative = !first && feed->giver->kind == KIND_INVERTER; /* a transfer switch's second source */
        if ((first || alternative) && !(taker->flags & (ENTITY_DROPPED | ENTITY_LOOP)) && taker != giver) {
            sum = interval_add(sum, taker_energy(use, taker, depth));
        }
    }
    return sum;
}

static const Figure *record_use(Power *power, const Entity *bank, const Entity *day)
{
    Work *work = power->work;
    work_begin(work);
    bool stated;
    Interval shore = time_of(day, PROP_DAY_SHORE, work, &stated);
    DayUse use = {.power = power, .day = day, .shore_share = interval_scale(shore, 1.0 / day_s)};
    Interval joule = takers_energy(&use, bank, 0);
    return work_record(work, FIGURE_DAILY_USE, bank, day, joule, "sum of draw x count x time of use; behind an inverter over "
                                                                 "its efficiency, with its idle");
}

/* A day's charge */

static const Entity *bank_of_target(const Power *power, const Entity *target)
{
    const Entity *source = power_node(power, target)->source;
    return source != NULL && source->kind == KIND_BANK ? source : NULL;
}

/* Notes, at each bank, the makers whose output reaches it: counted first, so that each list has its size. */
static void find_makers(Power *power)
{
    const Model *model = power->model;
    for (int pass = 0; pass < 2; pass++) {
        for (uint32_t i = 0; i < model->feed_count; i++) {
            const Feed *feed = model->feeds[i];
            const Entity *bank = feed->maker ? bank_of_target(power, feed->taker) : NULL;
            if (bank == NULL || feed->giver->flags & ENTITY_DROPPED) {
                continue;
            }
            PowerNode *node = power_node(power, bank);
            if (pass == 1) {
                node->makers[node->maker_count] = feed;
            }
            node->maker_count++;
        }
        for (const Entity *bank = model->first_of_kind[KIND_BANK]; bank != NULL && pass == 0; bank = bank->next_of_kind) {
            PowerNode *node = power_node(power, bank);
            node->makers = ARENA_ARRAY(power->work->figures->arena, const Feed *, node->maker_count + 1);
            node->maker_count = 0;
        }
    }
}

/* From panels at 1000 W/m2 to the battery: heat, soil, wiring, controller; shading apart. */
static const double solar_share = 0.80;

/* Hours of full sun in a day, in s: stated, or by latitude, month and clearness. False if the day says neither. */
static bool full_sun(Work *work, const Entity *day, Interval *seconds)
{
    if (entity_states(day, PROP_DAY_SUN)) {
        *seconds = use_value(work, day, PROP_DAY_SUN, 0).value;
        return true;
    }
    const Value *month = property_value(entity_property(day, PROP_DAY_MONTH), 0);
    if (!entity_states(day, PROP_DAY_LATITUDE) || month->kind != VALUE_MONTH) {
        return false;
    }
    Quantity latitude = use_value(work, day, PROP_DAY_LATITUDE, 0);
    Quantity clearness = use_value(work, day, PROP_DAY_CLEARNESS, 0);
    int middle = solar_middle_day(month->u.month);
    /* The sun is highest somewhere inside a range of latitudes, so its ends alone do not bound it: the whole sky does. */
    Interval sky = point(solar_extraterrestrial_j_per_m2(latitude.value.low, middle));
    if (latitude.value.low != latitude.value.high) {
        sky = (Interval){0.0, 50e6};
    }
    use_fact(work, "irradiation above the air in the middle of the month, J/m2", sky, UNIT_ALONE(UNIT_NONE),
             "Duffie and Beckman, Solar Engineering of Thermal Processes");
    *seconds = interval_corners(solar_full_sun_s(sky.low, clearness.value.low),
                                solar_full_sun_s(sky.high, clearness.value.high));
    return true;
}

static Interval solar_energy(Work *work, const Entity *array, const Entity *day)
{
    Interval seconds;
    if (!full_sun(work, day, &seconds)) {
        return point(0.0);
    }
    Quantity watts = use_value(work, array, PROP_SOLAR_RATED, 0);
    Quantity count = use_pieces(work, array);
    Quantity shading = use_value(work, array, PROP_SOLAR_SHADING, 0);
    use_fact(work, "what arrives of the rated power without shade", point(solar_share), UNIT_ALONE(UNIT_PERCENT),
             "heat, soil, wiring and controller; common practice, no source");
    Interval joule = interval_scale(interval_multiply(interval_multiply(watts.value, count.value), seconds), solar_share);
    if (shading.state == STATE_KNOWN) {
        joule = interval_multiply(joule, interval_subtract(point(1.0), shading.value));
    }
    return joule;
}

static Interval maker_energy(Power *power, const Feed *feed, const Entity *day)
{
    Work *work = power->work;
    const Entity *maker = feed->giver;
    bool stated;
    switch (maker->kind) {
    case KIND_SOLAR:
        return solar_energy(work, maker, day);
    case KIND_ALTERNATOR: {
        Interval seconds = time_of(day, PROP_DAY_ENGINE, work, &stated);
        if (seconds.high == 0.0) {
            return point(0.0);
        }
        Quantity amps = use_value(work, maker, PROP_ALTERNATOR_OUTPUT, 0);
        amps.value = interval_multiply(amps.value, use_count(work, maker).value);
        Quantity hot = use_value(work, maker, PROP_ALTERNATOR_HOT_OUTPUT, 0);
        Interval watts = interval_multiply(amps.value, power_node(power, feed->taker)->working_v);
        watts = hot.state == STATE_KNOWN ? interval_multiply(watts, hot.value) : watts;
        return interval_multiply(watts, seconds);
    }
    case KIND_CHARGER: {
        const Entity *source = power_node(power, maker)->source;
        bool shore = source != NULL && (source->kind == KIND_INLET || source->kind == KIND_INVERTER);
        bool generator = source != NULL && source->kind == KIND_GENERATOR;
        Interval seconds = shore       ? time_of(day, PROP_DAY_SHORE, work, &stated)
                           : generator ? time_of(day, PROP_DAY_GENERATOR, work, &stated)
                                       : point(0.0);
        if (seconds.high == 0.0) {
            return point(0.0);
        }
        Quantity amps = use_value(work, maker, PROP_CHARGER_OUTPUT, 0);
        amps.value = interval_multiply(amps.value, use_count(work, maker).value);
        return interval_multiply(interval_multiply(amps.value, power_node(power, feed->taker)->working_v), seconds);
    }
    default:
        return point(0.0); /* a converter moves charge from another bank */
    }
}

static const Figure *record_charge(Power *power, const Entity *bank, const Entity *day)
{
    Work *work = power->work;
    work_begin(work);
    Interval joule = point(0.0);
    for (const Feed **feed = power_node(power, bank)->makers; *feed != NULL; feed++) {
        joule = interval_add(joule, maker_energy(power, *feed, day));
    }
    if (joule.high > 0.0) {
        Quantity share =
            stated_or_usual(work, bank, PROP_BANK_CHARGE_EFFICIENCY, BATTERY_CHARGE_EFFICIENCY, UNIT_ALONE(UNIT_PERCENT));
        joule = share.state == STATE_KNOWN ? interval_multiply(joule, share.value) : joule;
    }
    return work_record(work, FIGURE_DAILY_CHARGE, bank, day, joule, "sum of output x time, times what charging keeps");
}

static void record_endurance(Power *power, const Entity *bank, const Entity *day, const Figure *usable)
{
    Work *work = power->work;
    const Figure *use = record_use(power, bank, day);
    const Figure *charge = record_charge(power, bank, day);
    work_begin(work);
    Quantity have = use_figure(work, usable);
    Quantity takes = use_figure(work, use);
    Quantity brings = use_figure(work, charge);
    Interval seconds = point(0.0);
    if (work->state == STATE_KNOWN) {
        double low = battery_endurance_s(have.value.low, takes.value.high, brings.value.low);
        double high = battery_endurance_s(have.value.high, takes.value.low, brings.value.high);
        seconds = interval_corners(low, high);
    }
    work_record(work, FIGURE_ENDURANCE, bank, day, seconds, "{usable-energy} / ({daily-use} - {daily-charge}) a day");
}

/* What flows at once */

static void record_discharge(Power *power, const Entity *bank)
{
    Work *work = power->work;
    work_begin(work);
    const PowerNode *node = power_node(power, bank);
    for (const Feed *feed = bank->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *current = power_node(power, feed->taker)->current;
        if (!feed->maker && current != NULL && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP))) {
            use_figure(work, current);
        }
    }
    if (node->state == STATE_WAITING) {
        use_waiting(work);
    }
    work_record(work, FIGURE_DISCHARGE_CURRENT, bank, NULL, flow_at_once(&node->flow),
                "all that runs long, plus the greater of the largest brief one and a tenth of them");
}

static void record_charge_current(Power *power, const Entity *bank)
{
    Work *work = power->work;
    work_begin(work);
    Interval sum = point(0.0);
    for (const Feed **feed = power_node(power, bank)->makers; *feed != NULL; feed++) {
        const Figure *current = figure_find(work->figures, (*feed)->subject, FIGURE_CURRENT, feed_at(*feed));
        Quantity amps = use_figure(work, current);
        if (amps.state == STATE_KNOWN) {
            sum = interval_add(sum, amps.value);
        }
    }
    work_record(work, FIGURE_CHARGE_CURRENT, bank, NULL, sum, "sum of the outputs that reach it");
}

static void compute_bank(Power *power, const Entity *bank)
{
    const Figure *capacity = figure_find(power->work->figures, bank, FIGURE_CAPACITY, NULL);
    const Figure *usable = record_usable(power, bank, capacity);
    record_discharge(power, bank);
    record_charge_current(power, bank);
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        record_endurance(power, bank, day, usable);
    }
}

void power_banks(Power *power)
{
    find_makers(power);
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (!(bank->flags & ENTITY_DROPPED)) {
            compute_bank(power, bank);
        }
    }
}
