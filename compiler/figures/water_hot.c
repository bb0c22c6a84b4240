/*
 * Hot water: how long a heater takes by its element, by the engine and by both, how much water at the shower
 * it makes, what one heating takes from a bank where an inverter feeds the element, and how long the element is on
 * for the showers of a day.
 *
 * The cold water is as warm as the sea. Heat that is lost meanwhile is left out: a good tank loses little in
 * the hour or two that this takes.
 */
#include "figures/drive.h"
#include "figures/power.h"

#include "physics/celsius.h"
#include "physics/hull.h"

#include <math.h>

/* What the hot water of an engine or a heater gives through a coil where nobody says: from memory. */
static const Interval coil_w = {3000.0, 5000.0};
/* Share of a tank that comes out at useful heat while cold water stirs it: common practice, no source. */
static const Interval useful_share = {0.7, 0.8};
static const double shower_celsius = 40.0;

typedef struct Heat {
    Interval litres_m3, cold, hot; /* cold and hot in C */
} Heat;

static Interval in_celsius(Interval kelvin)
{
    return (Interval){kelvin.low - ZERO_CELSIUS_K, kelvin.high - ZERO_CELSIUS_K};
}

/* Temperature up to which it heats: its setting, or 60 C. */
static Interval use_hot(Work *work, const Entity *heater)
{
    if (entity_states(heater, PROP_WATER_HEATER_SETTING)) {
        return in_celsius(use_value(work, heater, PROP_WATER_HEATER_SETTING, 0).value);
    }
    double kelvin = hull_limit(LIMIT_HOT_WATER)->value + ZERO_CELSIUS_K;
    return in_celsius(use_fact(work, "temperature that water is heated to", point(kelvin),
                               UNIT_ALONE(UNIT_CELSIUS),
                               "where no `setting` is stated: common practice, no source")
                          .value);
}

/* {capacity} of water from {sea-temperature} to {setting} */
static Heat use_heat(Work *work, const Entity *heater)
{
    Heat heat;
    heat.litres_m3 = use_value(work, heater, PROP_WATER_HEATER_CAPACITY, 0).value;
    heat.cold = in_celsius(use_value(work, work->model->boat, PROP_BOAT_SEA_TEMPERATURE, 0).value);
    heat.hot = use_hot(work, heater);
    return heat;
}

/* Energy at one end: the least is little water, little to warm it by. */
static double energy_j(const Heat *heat, bool least)
{
    double by = least ? heat->hot.low - heat->cold.high : heat->hot.high - heat->cold.low;
    return water_heat_j(least ? heat->litres_m3.low : heat->litres_m3.high, 0.0, fmax(0.0, by));
}

static Interval time_by(const Heat *heat, Interval watts)
{
    double low = watts.high > 0.0 ? energy_j(heat, true) / watts.high : INFINITY;
    double high = watts.low > 0.0 ? energy_j(heat, false) / watts.low : INFINITY;
    return interval_corners(low, high);
}

/* ---- Time ---------------------------------------------------------------------------------------------- */

static bool has_element(const Entity *heater)
{
    return entity_states(heater, PROP_WATER_HEATER_ELEMENT);
}

/* Whether it is heated by an engine that is dropped, or has no hot cooling water, and so by none. */
static bool lacks_its_engine(const Entity *heater)
{
    const Entity *engine = entity_reference(heater, PROP_WATER_HEATER_ENGINE);
    bool cold = engine != NULL && !is_cranked(engine) && !entity_states(heater, PROP_WATER_HEATER_EXCHANGER);
    return engine != NULL && (cold || !is_aboard(engine));
}

/* The heater whose water circuit heats it, if it is aboard; else NULL. */
static const Entity *boiler_of(const Entity *heater)
{
    const Entity *boiler = entity_reference(heater, PROP_WATER_HEATER_HEATED_BY);
    return boiler != NULL && is_aboard(boiler) ? boiler : NULL;
}

static bool has_coil(const Entity *heater)
{
    bool by_heater = entity_states(heater, PROP_WATER_HEATER_HEATED_BY);
    if (boiler_of(heater) == NULL && (lacks_its_engine(heater) || (by_heater && !entity_states(heater, PROP_WATER_HEATER_ENGINE)))) {
        return false;
    }
    return by_heater || entity_states(heater, PROP_WATER_HEATER_EXCHANGER) ||
           entity_states(heater, PROP_WATER_HEATER_ENGINE);
}

static Interval use_coil(Work *work, const Entity *heater)
{
    if (entity_states(heater, PROP_WATER_HEATER_EXCHANGER)) {
        return use_value(work, heater, PROP_WATER_HEATER_EXCHANGER, 0).value;
    }
    return use_fact(work, "heat that a coil gives", coil_w, UNIT_ALONE(UNIT_KW),
                    "where no `exchanger` is stated: 3 to 5 kW, from memory")
        .value;
}

/* No coil gives more than the heater makes whose water runs through it; an engine always makes enough. */
static bool is_held_to_output(const Entity *heater)
{
    const Entity *boiler = boiler_of(heater);
    return boiler != NULL && !entity_states(heater, PROP_WATER_HEATER_ENGINE) && entity_states(boiler, PROP_HEATER_OUTPUT);
}

static void record_time(Work *work, const Entity *heater, FigureId id, bool element, bool coil)
{
    work_begin(work);
    Heat heat = use_heat(work, heater);
    Interval watts = element ? use_value(work, heater, PROP_WATER_HEATER_ELEMENT, 0).value : point(0.0);
    if (coil) {
        Interval through = use_coil(work, heater);
        if (is_held_to_output(heater)) {
            through = interval_min(through, use_value(work, boiler_of(heater), PROP_HEATER_OUTPUT, 0).value);
        }
        watts = interval_add(watts, through);
    }
    const char *least = coil && is_held_to_output(heater) ? ", no more than {output}" : "";
    Interval time = work->state == STATE_KNOWN ? time_by(&heat, watts) : point(0.0);
    work_record(work, id, heater, NULL, time,
                text_format(work->figures->arena, "{capacity} x 4.186 kJ/(kg K) from {sea-temperature} to {setting}, by %s%s",
                            element && coil ? "{element} and {exchanger}" : element ? "{element}" : "{exchanger}", least));
}

static void record_times(Work *work, const Entity *heater)
{
    bool element = has_element(heater), coil = has_coil(heater);
    if (element && coil) {
        record_time(work, heater, FIGURE_HEAT_UP_ELEMENT, true, false);
        record_time(work, heater, FIGURE_HEAT_UP_ENGINE, false, true);
    }
    if (element || coil) {
        record_time(work, heater, FIGURE_HEAT_UP, element, coil);
    }
}

/* ---- Showers ------------------------------------------------------------------------------------------- */

/* Mixed water from one filling at one end; it rises with the cold water's warmth, too. */
static double mixed_m3(const Heat *heat, bool least)
{
    double hot = least ? heat->hot.low : heat->hot.high;
    double cold = least ? heat->cold.low : heat->cold.high;
    double share = least ? useful_share.low : useful_share.high;
    double volume = least ? heat->litres_m3.low : heat->litres_m3.high;
    if (hot <= shower_celsius) {
        return 0.0; /* not warm enough to begin with */
    }
    return cold >= shower_celsius ? INFINITY : volume * share * mixed_yield(hot, cold, shower_celsius);
}

static void record_showers(Work *work, const Entity *heater)
{
    work_begin(work);
    Heat heat = use_heat(work, heater);
    bool several = entity_states(heater, PROP_COMMON_COUNT);
    Interval count = use_count(work, heater).value;
    use_fact(work, "share that comes out hot", useful_share, UNIT_ALONE(UNIT_PERCENT),
             "common practice, no source");
    use_fact(work, "temperature of a shower", point(shower_celsius + ZERO_CELSIUS_K),
             UNIT_ALONE(UNIT_CELSIUS), "common practice, no source");
    Interval mixed = work->state == STATE_KNOWN
                         ? interval_corners(count.low * mixed_m3(&heat, true), count.high * mixed_m3(&heat, false))
                         : point(0.0);
    Figure *water =
        work_record(work, FIGURE_SHOWER_WATER, heater, NULL, mixed,
                    several ? "{capacity}, from {sea-temperature} to {setting}, x {count} x {share}, mixed to "
                              "{shower}: (hot - cold) / (shower - cold)"
                            : "{capacity}, from {sea-temperature} to {setting}, x {share}, mixed to {shower}: "
                              "(hot - cold) / (shower - cold)");
    water->unit = unit_of(heater, PROP_WATER_HEATER_CAPACITY, water->unit);
    work_begin(work);
    Interval whole = use_figure(work, water).value;
    Interval one =
        use_fact(work, "water for one shower", point(SHOWER_M3), UNIT_ALONE(UNIT_L), SHOWER_SOURCE).value;
    work_record(work, FIGURE_SHOWERS, heater, NULL, interval_divide(whole, one), "{shower-water} / {shower}");
}

/* ---- From the bank -------------------------------------------------------------------------------------- */

/* The inverter that the element hangs on; NULL if there is none on the way. */
static const Entity *find_inverter(const Entity *heater)
{
    const Feed *feed = heater->fed;
    for (int step = 0; feed != NULL && feed->giver != NULL && step < 12; step++) {
        if (feed->giver->kind == KIND_INVERTER) {
            return feed->giver;
        }
        feed = feed->giver->fed;
    }
    return NULL;
}

static void record_energy(Work *work, const Entity *heater)
{
    const Entity *inverter = has_element(heater) ? find_inverter(heater) : NULL;
    if (inverter == NULL) {
        return;
    }
    work_begin(work);
    Heat heat = use_heat(work, heater);
    Interval efficiency = use_value(work, inverter, PROP_INVERTER_EFFICIENCY, 0).value;
    Interval energy = interval_corners(energy_j(&heat, true), energy_j(&heat, false));
    energy = interval_multiply(energy, use_count(work, heater).value);
    work_record(work, FIGURE_HEAT_UP_ENERGY, heater, NULL,
                work->state == STATE_KNOWN ? interval_divide(energy, efficiency) : point(0.0),
                entity_states(heater, PROP_COMMON_COUNT)
                    ? "{capacity} x 4.186 kJ/(kg K) from {sea-temperature} to {setting}, over {efficiency}, x {count}"
                    : "{capacity} x 4.186 kJ/(kg K) from {sea-temperature} to {setting}, over {efficiency}");
}

/* ---- In a day ------------------------------------------------------------------------------------------- */

/* What it holds of all that the heaters aboard hold, where there are several: so much of the showers is its own. */
static Interval use_part(Work *work, const Entity *heater, Sum *sum)
{
    Interval own = point(0.0), others = point(0.0);
    if (next_aboard(first_aboard(work->model, KIND_WATER_HEATER)) == NULL) {
        return point(1.0);
    }
    sum_label(sum, work, " x ", heater, "capacity");
    own = use_value(work, heater, PROP_WATER_HEATER_CAPACITY, 0).value;
    sum_count(sum, work, heater);
    own = interval_multiply(own, use_count(work, heater).value);
    sum_label(sum, work, " / (", heater, "capacity");
    for (const Entity *e = first_aboard(work->model, KIND_WATER_HEATER); e != NULL; e = next_aboard(e)) {
        if (e != heater) {
            sum_label(sum, work, " + ", e, "capacity");
            Interval holds = use_value(work, e, PROP_WATER_HEATER_CAPACITY, 0).value;
            sum_count(sum, work, e);
            others = interval_add(others, interval_multiply(holds, use_count(work, e).value));
        }
    }
    buf_text(&sum->formula, ")");
    return work->state == STATE_KNOWN ? interval_corners(own.low / (own.low + others.high), own.high / (own.high + others.low))
                                      : point(1.0);
}

static const Figure *record_shower_heat(Work *work, const Entity *heater, const Entity *day)
{
    Sum sum;
    sum_begin(&sum, work);
    buf_text(&sum.formula, "4.186 kJ/(kg K) x {crew} x {showers} x {shower} from {sea-temperature} to {temperature}");
    Interval crew = use_value(work, work->model->boat, PROP_BOAT_CREW, 0).value;
    Interval each = use_value(work, day, PROP_DAY_SHOWERS, 0).value;
    use_fact(work, "water for one shower", point(SHOWER_M3), UNIT_ALONE(UNIT_L), SHOWER_SOURCE);
    Interval cold = in_celsius(use_value(work, work->model->boat, PROP_BOAT_SEA_TEMPERATURE, 0).value);
    use_fact(work, "temperature of a shower", point(shower_celsius + ZERO_CELSIUS_K), UNIT_ALONE(UNIT_CELSIUS),
             "common practice, no source");
    Interval part = use_part(work, heater, &sum);
    Interval water = interval_multiply(interval_scale(interval_multiply(crew, each), SHOWER_M3), part);
    double least = water_heat_j(water.low, 0.0, fmax(0.0, shower_celsius - cold.high));
    double most = water_heat_j(water.high, 0.0, fmax(0.0, shower_celsius - cold.low));
    return work_record(work, FIGURE_SHOWER_HEAT, heater, day, interval_corners(least, most), sum.formula.text);
}

/* How long the engine heats it in that day. */
static Interval use_engine_time(Work *work, const Entity *day, Buf *formula)
{
    Interval seconds = point(0.0);
    int lines = 0;
    for (const Property *p = entity_property(day, PROP_DAY_ENGINE); p != NULL; p = block_next(&day->block, p)) {
        const Value *value = property_value(p, 0);
        const char *tail = ++lines > 1 ? text_format(work->figures->arena, " %d", lines) : "";
        buf_format(formula, "%s{time%s}", lines > 1 ? " + " : "", tail);
        Interval time = value->kind != VALUE_CLOCK
                            ? use_statement(work, day, p, 0).value
                            : use_fact(work, "time that the engine runs", point(clock_seconds(value)),
                                       UNIT_ALONE(UNIT_H), "from when to when, as the day says")
                                  .value;
        seconds = interval_add(seconds, time);
    }
    return seconds;
}

/* Whether anything gives its element power on that day: shore and generator are there where the day says so. */
static bool is_live(const Entity *heater, const Entity *day)
{
    unsigned mains = 0;
    for (const Feed *feed = heater->fed; feed != NULL; feed = feed->next) {
        mains |= mains_given(feed->giver);
    }
    return !(heater->flags & ENTITY_AC) || mains & MAINS_INVERTER || (mains & MAINS_SHORE && entity_states(day, PROP_DAY_SHORE)) ||
           (mains & MAINS_GENERATOR && entity_states(day, PROP_DAY_GENERATOR));
}

/* Whether the engine that the day lets run heats it. */
static bool is_heated_on_the_way(const Work *work, const Entity *heater, const Entity *day)
{
    const Entity *engine = entity_reference(heater, PROP_WATER_HEATER_ENGINE);
    bool by_engine_too = !entity_states(heater, PROP_WATER_HEATER_HEATED_BY) || entity_states(heater, PROP_WATER_HEATER_ENGINE);
    return has_coil(heater) && !lacks_its_engine(heater) && by_engine_too && entity_property(day, PROP_DAY_ENGINE) != NULL &&
           (engine == NULL || drives_on(work->model, engine, day));
}

static void record_element_time(Work *work, const Entity *heater, const Entity *day)
{
    const Figure *heat = record_shower_heat(work, heater, day);
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    Interval joule = use_figure(work, heat).value;
    bool coil = is_heated_on_the_way(work, heater, day);
    buf_text(&formula, coil ? "({shower-heat} - {coil} x (" : "{shower-heat}");
    if (coil) {
        Interval watts = interval_multiply(use_coil(work, heater), use_count(work, heater).value);
        Interval by_engine = interval_multiply(watts, use_engine_time(work, day, &formula));
        joule = interval_max(interval_subtract(joule, by_engine), point(0.0));
        buf_text(&formula, "), at least 0)");
    }
    buf_text(&formula, " / {element}");
    Interval element = use_value(work, heater, PROP_WATER_HEATER_ELEMENT, 0).value;
    element = interval_multiply(element, use_count(work, heater).value);
    Interval time = point(0.0);
    if (work->state == STATE_KNOWN && element.high > 0.0) {
        double longest = element.low > 0.0 ? joule.high / element.low : joule.high > 0.0 ? INFINITY : 0.0;
        time = interval_corners(isinf(element.high) ? 0.0 : joule.low / element.high, longest);
    }
    Figure *figure = work_record(work, FIGURE_ELEMENT_TIME, heater, day, time, formula.text);
    if (figure->state == STATE_KNOWN && figure->high > 0.0 && !is_live(heater, day)) {
        figure->remark = "no mains on that day: nothing heats that water";
    }
}

const Figure *element_time(const Figures *figures, const Entity *entity, const Entity *day)
{
    bool element = entity->kind == KIND_WATER_HEATER && !states_use(entity);
    return element ? figure_find(figures, entity, FIGURE_ELEMENT_TIME, day) : NULL;
}

static void record_days(Work *work, const Entity *heater)
{
    if (!has_element(heater) || heater->fed == NULL || states_use(heater)) {
        return;
    }
    for (const Entity *day = first_aboard(work->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
        if (entity_states(day, PROP_DAY_SHOWERS)) {
            record_element_time(work, heater, day);
        }
    }
}

void water_hot(Work *work)
{
    for (const Entity *heater = first_aboard(work->model, KIND_WATER_HEATER); heater != NULL;
         heater = next_aboard(heater)) {
        record_times(work, heater);
        if (has_element(heater) || has_coil(heater) || !lacks_its_engine(heater)) {
            record_showers(work, heater);
        }
        record_energy(work, heater);
        record_days(work, heater);
    }
}
