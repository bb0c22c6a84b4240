/*
 * Thrusters over their longest burst: the voltage that is left, how warm the cable gets; the thrust that holds
 * her side against the wind, and how much of it they hold. And what anchors weigh in boats of her length.
 */
#include "figures/boat.h"
#include "figures/drive.h"

#include "figures/power.h"
#include "physics/ampacity.h"
#include "physics/celsius.h"
#include "physics/weight.h"

#include <math.h>

#define PERCENT UNIT_ALONE(UNIT_PERCENT)

static const Figure *feed_of(const Work *work, const Feed *feed, FigureId id)
{
    return feed != NULL ? figure_find(work->figures, feed->subject, id, feed_at(feed)) : NULL;
}

/*
 * What the bank itself loses, as a share of its voltage: by the current of its short circuit where the spec
 * says enough for that, else over the range of resistance that is usual for its chemistry.
 */
static Interval use_sag(Work *work, const Entity *bank, Interval volts, Interval amps, const char **shown)
{
    Chemistry chemistry;
    if (entity_states(bank, PROP_BANK_RESISTANCE) || entity_states(bank, PROP_BANK_SHORT_CIRCUIT) ||
        !bank_chemistry(bank, &chemistry)) {
        *shown = "{current} / {short-circuit current} x {open-circuit voltage} / voltage";
        Interval full = use_figure(work, figure_find(work->figures, bank, FIGURE_SHORT_CIRCUIT, NULL)).value;
        Interval open = bank_open_v(bank, volts);
        use_fact(work, "open-circuit voltage, rested and full", open, UNIT_ALONE(UNIT_V), "by its chemistry, from memory");
        return interval_multiply(interval_divide(amps, full), interval_divide(open, volts));
    }
    *shown = "{current} x {resistance of} {capacity} / voltage";
    Interval resistance = point(0.0);
    const Figure *capacity = figure_find(work->figures, bank, FIGURE_CAPACITY, NULL);
    if (capacity != NULL && capacity->state == STATE_KNOWN && capacity->high > 0.0 && volts.low > 0.0) { /* of next to no capacity: without end */
        resistance = (Interval){battery_resistance_ohm(chemistry, volts.low, capacity->high).low,
                                capacity->low > 0.0 ? battery_resistance_ohm(chemistry, volts.high, capacity->low).high : INFINITY};
    }
    use_fact(work, "resistance that is usual for its chemistry", resistance, UNIT_ALONE(UNIT_MOHM),
             "from memory; `resistance` of the bank would say it");
    use_figure(work, capacity);
    return interval_divide(interval_multiply(amps, resistance), volts);
}

/* The voltage at the thruster on one bank: less what that and the cables lose. */
static Interval use_left(Work *work, const Entity *bank, const Feed *cable, const char **formula)
{
    const char *sagging, *shown;
    Interval volts = use_bank_volts(work, bank, &shown);
    Interval amps = use_figure(work, feed_of(work, cable, FIGURE_CURRENT)).value;
    Interval sag = use_sag(work, bank, volts, amps, &sagging);
    Interval lost = use_figure(work, feed_of(work, cable, FIGURE_TOTAL_DROP)).value;
    Interval left = interval_subtract(interval_subtract(point(1.0), sag), lost);
    *formula = text_format(work->figures->arena, "%s x (1 - %s - {total drop})", shown, sagging);
    return interval_max(interval_multiply(volts, left), point(0.0)); /* asked for more than can come: nothing is left */
}

/* Of several banks that a switch can put it on, the one that leaves the least; the drop is that of the way which is named first. */
static void record_voltage(Work *work, Climb *climb, const Entity *thruster, const Entity *bank, const Feed *cable)
{
    uint32_t count;
    const Entity **banks = banks_above(climb, thruster, &count), *weakest = bank;
    const char *formula;
    double least_v = INFINITY;
    for (uint32_t i = 0; i < count && count > 1; i++) {
        work_begin(work);
        Interval left = use_left(work, banks[i], cable, &formula);
        if (work->state != STATE_KNOWN || left.low < least_v) {
            weakest = banks[i];
            least_v = work->state != STATE_KNOWN ? -INFINITY : left.low;
        }
    }
    work_begin(work);
    Interval at = use_left(work, weakest, cable, &formula);
    Figure *figure = work_record(work, FIGURE_BURST_VOLTAGE, thruster, NULL, at, formula);
    figure->remark = "from a bank that is full; less as it empties";
}

/* Not less than what it takes: the cable may feed more, and the bank's voltage sags. */
static void record_power(Work *work, const Entity *thruster, const Entity *bank, const Feed *cable)
{
    work_begin(work);
    Interval amps = use_figure(work, feed_of(work, cable, FIGURE_CURRENT)).value;
    const char *shown;
    Interval volts = use_bank_volts(work, bank, &shown);
    work_record(work, FIGURE_BURST_POWER, thruster, NULL, interval_multiply(amps, volts),
                text_format(work->figures->arena, "{current} x %s", shown))
        ->unit = UNIT_ALONE(UNIT_KW); /* electric power: in no horsepower of a shaft */
}

static Interval use_burst(Work *work, const Entity *thruster)
{
    if (entity_states(thruster, PROP_THRUSTER_LONGEST_BURST)) {
        return use_value(work, thruster, PROP_THRUSTER_LONGEST_BURST, 0).value;
    }
    return use_drive_limit(work, "longest burst", DRIVE_THRUSTER_BURST, UNIT_ALONE(UNIT_MIN));
}

/* What it wants: its own `min-voltage`, else so much of the nominal voltage. */
static void record_least_voltage(Work *work, const Entity *thruster, const Entity *bank)
{
    work_begin(work);
    if (entity_states(thruster, PROP_LOAD_MIN_VOLTAGE)) {
        Interval stated = use_value(work, thruster, PROP_LOAD_MIN_VOLTAGE, 0).value;
        work_record(work, FIGURE_LEAST_VOLTAGE, thruster, NULL, stated, "{min-voltage}");
        return;
    }
    Interval share = use_drive_limit(work, "share of the nominal voltage", DRIVE_THRUSTER_VOLTS, PERCENT);
    const char *shown;
    Interval volts = use_bank_volts(work, bank, &shown);
    Interval nominal = interval_corners(12.0 * round(volts.low / 12.0), 12.0 * round(volts.high / 12.0));
    use_fact(work, "nominal voltage", nominal, UNIT_ALONE(UNIT_V), "the nearest multiple of 12 V");
    work_record(work, FIGURE_LEAST_VOLTAGE, thruster, NULL, interval_multiply(share, nominal),
                text_format(work->figures->arena, "{share} of what is nominal for %s, {nominal}", shown));
}

static void record_heat(Work *work, const Entity *thruster, const Feed *cable)
{
    static const double start_celsius = 50.0;
    work_begin(work);
    use_fact(work, "before the burst", point(ZERO_CELSIUS_K + start_celsius), UNIT_ALONE(UNIT_CELSIUS),
             "an engine space, the hottest that cables are rated in");
    Interval amps = use_figure(work, feed_of(work, cable, FIGURE_CURRENT)).value;
    Interval area = use_figure(work, feed_of(work, cable, FIGURE_WIRE_SIZE)).value;
    const Property *wire = cable != NULL ? feed_property(cable, PROP_FEED_WIRE) : NULL; /* a portable one may have no cable */
    bool several = property_value(wire, 1)->kind == VALUE_QUANTITY;
    area = several ? interval_multiply(area, use_feed_value(work, cable, PROP_FEED_WIRE, 1).value) : area;
    Interval time = use_burst(work, thruster);
    Interval hot = interval_corners(ZERO_CELSIUS_K + short_time_celsius(area.high, start_celsius, amps.low, time.low),
                                    ZERO_CELSIUS_K + short_time_celsius(area.low, start_celsius, amps.high, time.high));
    work_record(work, FIGURE_BURST_TEMPERATURE, thruster, NULL, hot,
                several ? "(234.5 C + {before}) x exp(({current} / {wire} / {conductors} / 226 A s^0.5/mm2)^2 x {burst}) - 234.5 C"
                        : "(234.5 C + {before}) x exp(({current} / {wire} / 226 A s^0.5/mm2)^2 x {burst}) - 234.5 C");
}

/* The wind that it is to hold her against, as a pressure on her side. */
static const Figure *record_wind(Work *work, const Entity *thruster)
{
    work_begin(work);
    if (!entity_states(thruster, PROP_THRUSTER_WIND)) {
        Interval usual = use_drive_limit(work, "wind", DRIVE_WIND_PRESSURE, UNIT_ALONE(UNIT_PA));
        return work_record(work, FIGURE_WIND_PRESSURE, thruster, NULL, usual, "{wind}, where no `wind` is stated");
    }
    Interval wind = use_value(work, thruster, PROP_THRUSTER_WIND, 0).value;
    Interval pressure = {wind_pressure_pa(wind.low), wind_pressure_pa(wind.high)};
    return work_record(work, FIGURE_WIND_PRESSURE, thruster, NULL, pressure, "1.225 kg/m3 / 2 x {wind}^2");
}

/* What a thrust does for each square metre, at one end of everything. She pivots about the end that is farther off. */
typedef struct Lever {
    Interval length, arm, shape, wind;
} Lever;

static Lever use_lever(Work *work, const Entity *thruster, const Figure *pressure)
{
    Lever lever;
    lever.shape = use_drive_limit(work, "shape of the side", DRIVE_WIND_SHAPE, PERCENT);
    lever.wind = use_figure(work, pressure).value;
    lever.length = use_value(work, work->model->boat, PROP_BOAT_LENGTH, 0).value;
    Interval place = use_value(work, thruster, PROP_COMMON_AT, 0).value;
    lever.arm = interval_max(interval_subtract(lever.length, place), place);
    return lever;
}

/* The longest and the shortest boat: of one without bound nothing, or anything, may be asked of it. */
static Interval thrust_for_each_m2(const Lever *lever)
{
    double least = isfinite(lever->arm.high)
                       ? wind_thrust_n(1.0, lever->wind.low, lever->shape.low, lever->length.low, lever->arm.high)
                       : 0.0;
    double most = isfinite(lever->length.high) && lever->arm.low > 0.0
                      ? wind_thrust_n(1.0, lever->wind.high, lever->shape.high, lever->length.high, lever->arm.low)
                      : INFINITY;
    return interval_corners(least, most);
}

#define LEVER "{shape} x {wind-pressure} x {length} / 2 / the longer of length less {place} and the place"

static void record_wind_thrust(Work *work, const Entity *thruster, const Figure *pressure)
{
    work_begin(work);
    Interval side = use_value(work, work->model->boat, PROP_BOAT_WINDAGE, 0).value;
    Lever lever = use_lever(work, thruster, pressure);
    Interval each = work->state == STATE_KNOWN ? thrust_for_each_m2(&lever) : point(0.0);
    bool alone = !entity_states(thruster, PROP_COMMON_COUNT);
    Interval count = use_count(work, thruster).value;
    work_record(work, FIGURE_WIND_THRUST, thruster, NULL, interval_divide(interval_multiply(side, each), count),
                alone ? "{windage} x " LEVER : "{windage} x " LEVER ", / {count}");
}

static void record_held_area(Work *work, const Entity *thruster, const Figure *pressure)
{
    if (!entity_states(thruster, PROP_THRUSTER_THRUST) || !entity_states(thruster, PROP_COMMON_AT)) {
        return;
    }
    work_begin(work);
    Interval thrust = use_value(work, thruster, PROP_THRUSTER_THRUST, 0).value;
    Lever lever = use_lever(work, thruster, pressure);
    Interval each = work->state == STATE_KNOWN ? thrust_for_each_m2(&lever) : point(1.0);
    bool alone = !entity_states(thruster, PROP_COMMON_COUNT);
    Interval count = use_count(work, thruster).value;
    work_record(work, FIGURE_HELD_AREA, thruster, NULL, interval_divide(interval_multiply(thrust, count), each),
                alone ? "{thrust} / (" LEVER ")" : "{thrust} / (" LEVER ") x {count}");
}

void drive_thrusters(Work *work)
{
    Climb *climb = NULL;
    for (const Entity *e = first_aboard(work->model, KIND_THRUSTER); e != NULL; e = next_aboard(e)) {
        const Entity *bank = bank_behind(e->fed);
        const Feed *cable = cable_of(e->fed);
        if (bank != NULL && !(e->flags & ENTITY_LOOP)) {
            record_power(work, e, bank, cable);
            climb = climb != NULL ? climb : climb_new(work->model, work->scratch);
            record_voltage(work, climb, e, bank, cable);
            record_least_voltage(work, e, bank);
            record_heat(work, e, cable);
        }
        const Figure *pressure = record_wind(work, e);
        record_wind_thrust(work, e, pressure);
        record_held_area(work, e, pressure);
    }
}

/* Anchors */

/* What is asked of an anchor and its line, so much for each metre of the boat; in the unit of what is stated. */
static const struct ByLength {
    FigureId id;
    DriveLimit each;
    UnitId unit;
    PropId like;
    unsigned slot;
    const char *what;
} by_length[] = {
    {FIGURE_ANCHOR_NEED, DRIVE_ANCHOR_MASS, UNIT_KG, PROP_COMMON_MASS, 0, "anchor for each metre of length"},
    {FIGURE_CHAIN_NEED, DRIVE_CHAIN_THICK, UNIT_MM, PROP_ANCHOR_CHAIN, 1, "thickness of chain for each metre of length"},
    {FIGURE_ROPE_NEED, DRIVE_ROPE_THICK, UNIT_MM, PROP_ANCHOR_ROPE, 1, "thickness of rope for each metre of length"},
};

static void record_by_length(Work *work, const Entity *anchor, const struct ByLength *need)
{
    const Limit *each = drive_limit(need->each);
    work_begin(work);
    Interval length = use_value(work, work->model->boat, PROP_BOAT_LENGTH, 0).value;
    Interval share = use_fact(work, need->what, point(each->value), UNIT_ALONE(need->unit), each->source).value;
    Figure *figure = work_record(work, need->id, anchor, NULL, interval_multiply(length, share), "{length} x {each metre}");
    const Value *stated = property_value(entity_property(anchor, need->like), need->slot);
    figure->unit = stated->kind == VALUE_QUANTITY ? stated->unit : figure->unit;
}

/* Its length times what a metre weighs, which rises with both. */
static Interval use_line(Work *work, const Entity *anchor, PropId prop, double (*kg_per_m)(double))
{
    Interval length = use_value(work, anchor, prop, 0).value;
    Interval thick = use_value(work, anchor, prop, 1).value;
    return interval_multiply(length, interval_corners(kg_per_m(thick.low), kg_per_m(thick.high)));
}

/*
 * Chain that is stated in inches is made to US trade sizes, which are thinner by name than by wire: by grade 1.0 to 1.25 times
 * the mass that the name would have (5/16 in: 1.0 to 1.2 lb/ft, second hand and from memory).
 */
static Interval use_chain(Work *work, const Entity *anchor)
{
    const double by_name = 0.0224, trade_most = 1.25;
    const Value *thick = property_value(entity_property(anchor, PROP_ANCHOR_CHAIN), 1);
    bool inches = thick->kind == VALUE_QUANTITY && thick->unit.unit == UNIT_IN;
    Interval more = {1.0, inches ? trade_most : 1.0};
    Interval line = use_line(work, anchor, PROP_ANCHOR_CHAIN, chain_kg_per_m);
    use_fact(work, "chain, kg/m for each mm2 of thickness squared", interval_multiply(point(by_name), more), UNIT_ALONE(UNIT_NONE),
             inches ? "tables of short-link chain to ISO 4565, second hand; US trade sizes up to a quarter more, from memory"
                    : "tables of short-link chain to ISO 4565, second hand, within 4 %");
    return interval_multiply(line, more);
}

/* An anchor's `mass` is its own: what hangs on it counts beside it. */
static void record_rode_mass(Work *work, const Entity *anchor)
{
    bool chain = entity_states(anchor, PROP_ANCHOR_CHAIN), rope = entity_states(anchor, PROP_ANCHOR_ROPE);
    if (!chain && !rope) {
        return;
    }
    work_begin(work);
    Interval mass = point(0.0);
    if (chain) {
        mass = interval_add(mass, use_chain(work, anchor));
    }
    if (rope) {
        mass = interval_add(mass, use_line(work, anchor, PROP_ANCHOR_ROPE, rope_kg_per_m));
        use_fact(work, "rope, kg/m for each mm2 of thickness squared", point(0.00062), UNIT_ALONE(UNIT_NONE),
                 "three-strand polyamide, ISO 1140, from memory");
    }
    work_record(work, FIGURE_RODE_MASS, anchor, NULL, mass, "sum of length x thickness^2 x mass a metre")->unit =
        mass_unit(work->model);
}

void drive_anchors(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_ANCHOR); e != NULL; e = next_aboard(e)) {
        record_rode_mass(work, e);
        for (size_t i = 0; i < sizeof by_length / sizeof by_length[0]; i++) {
            record_by_length(work, e, &by_length[i]);
        }
    }
}
