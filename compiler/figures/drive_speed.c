/*
 * Power for a speed: what reaches the propeller, how fast she goes with all of it, what a speed that the spec
 * speaks of takes and burns.
 *
 * Needed power rises with mass and speed and falls with the waterline and with the efficiencies; so each end of
 * an interval is one corner of its inputs. Several engines that run together share the power by what each of
 * them gives.
 */
#include "figures/drive.h"

#include <math.h>
#include <string.h>

#define RATIO UNIT_ALONE(UNIT_NONE)
#define PERCENT UNIT_ALONE(UNIT_PERCENT)

/* What of an engine's power reaches the propeller. */
static Interval use_efficiency(Work *work, const Entity *engine, const char **shown)
{
    const Entity *gearbox = gearbox_of(work->model, engine);
    *shown = " x {gearbox} x {bearings}";
    Interval gear = point(1.0);
    if (is_rated_at_propeller(engine) && (gearbox == NULL || !entity_states(gearbox, PROP_GEARBOX_EFFICIENCY))) {
        *shown = " x {leg}";
        return use_fact(work, "efficiency of its leg", gear, PERCENT,
                        "1: an outboard or sterndrive is rated at the propeller's shaft (SAE J1228, second hand)")
            .value;
    }
    if (gearbox != NULL) {
        gear = use_value(work, gearbox, PROP_GEARBOX_EFFICIENCY, 0).value;
        if (is_rated_at_propeller(engine)) {
            *shown = " x {gearbox}";
            return gear; /* a leg has no shaft of its own */
        }
    } else if (burns_fuel(engine)) {
        gear = use_fact(work, "efficiency of a gearbox", point(0.96), PERCENT,
                        "a boat designer's handbook: shaft power is 96 % of rated power; the spec states no "
                        "gearbox")
                   .value;
    } else {
        *shown = " x {bearings}";
    }
    Interval shaft = use_drive_limit(work, "efficiency of the shaft", DRIVE_SHAFT_EFFICIENCY, PERCENT);
    return interval_multiply(gear, shaft);
}

static void record_shaft_power(Work *work, const Entity *engine)
{
    const char *shown;
    work_begin(work);
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval efficiency = use_efficiency(work, engine, &shown);
    Figure *figure = work_record(work, FIGURE_SHAFT_POWER, engine, NULL, interval_multiply(rated, efficiency),
                                 text_format(work->figures->arena, "{rated power}%s", shown));
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
}

/* ---- Several engines ---- */

static bool is_alike(const Work *work, const Entity *engine, const Entity *other)
{
    Interval power, others;
    const Figure *shaft = figure_find(work->figures, engine, FIGURE_SHAFT_POWER, NULL);
    const Figure *of_other = figure_find(work->figures, other, FIGURE_SHAFT_POWER, NULL);
    bool rated = entity_quantity(engine, PROP_ENGINE_RATED, 0, &power) &&
                 entity_quantity(other, PROP_ENGINE_RATED, 0, &others) && interval_is_point(power) &&
                 interval_is_point(others) && power.low == others.low;
    return rated && shaft->state == STATE_KNOWN && of_other->state == STATE_KNOWN && shaft->low == shaft->high &&
           shaft->low == of_other->low && shaft->high == of_other->high;
}

/* Who shares the work of an engine: none does, only such as give the same, or others. */
typedef enum Sharers { SHARERS_NONE, SHARERS_ALIKE, SHARERS_OTHERS } Sharers;

static Sharers sharers_of(const Work *work, const Entity *engine, const Entity *asks)
{
    Sharers sharers = entity_states(engine, PROP_COMMON_COUNT) ? SHARERS_ALIKE : SHARERS_NONE;
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL && sharers != SHARERS_OTHERS;
         e = next_aboard(e)) {
        if (e != engine && run_together_on(work->model, e, engine, asks)) {
            sharers = is_alike(work, engine, e) ? SHARERS_ALIKE : SHARERS_OTHERS;
        }
    }
    return sharers;
}

/* How many engines alike share the work. */
static Interval use_alike(Work *work, const Entity *engine, const Entity *asks)
{
    Interval count = point(0.0);
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (run_together_on(work->model, e, engine, asks)) {
            const Value *value = property_value(entity_property(e, PROP_COMMON_COUNT), 0);
            bool known = value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
            count = interval_add(count, known ? (Interval){value->u.quantity.low, value->u.quantity.high} : point(1.0));
        }
    }
    return use_fact(work, "engines that share the power", count, RATIO, "as the spec counts them").value;
}

/* Adds what the others give that run with an engine. */
static void use_others(Work *work, const Entity *engine, const Entity *asks, Sum *sum)
{
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (e != engine && run_together_on(work->model, e, engine, asks)) {
            sum_label(sum, work, " + ", e, "shaft-power");
            Interval power = use_figure(work, figure_find(work->figures, e, FIGURE_SHAFT_POWER, NULL)).value;
            sum_count(sum, work, e);
            sum_add(sum, interval_multiply(power, use_count(work, e).value));
        }
    }
}

/*
 * What an engine gives of a power at the propellers. All that run together are loaded alike: P x rated / sum of
 * what reaches the propellers. Each input is used once, so that no range counts twice: P / (efficiency x count
 * + the others' shaft power / rated). asks: the day or goal that says which run together, or NULL.
 */
static Interval use_part(Work *work, const Entity *engine, const Entity *asks, Interval power, const char **shown)
{
    const char *efficiency;
    Arena *arena = work->figures->arena;
    Sharers sharers = sharers_of(work, engine, asks);
    if (sharers != SHARERS_OTHERS) {
        Interval count = sharers == SHARERS_ALIKE ? use_alike(work, engine, asks) : point(1.0);
        Interval part = interval_divide(interval_divide(power, count), use_efficiency(work, engine, &efficiency));
        *shown = text_format(arena, "%s / (%s)", sharers == SHARERS_ALIKE ? " / {engines}" : "", efficiency + strlen(" x "));
        return part;
    }
    Sum others = {.value = point(0.0)};
    buf_init(&others.formula, arena);
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval own = use_efficiency(work, engine, &efficiency);
    bool counted = entity_states(engine, PROP_COMMON_COUNT);
    own = counted ? interval_multiply(own, use_value(work, engine, PROP_COMMON_COUNT, 0).value) : own;
    use_others(work, engine, asks, &others);
    *shown = text_format(arena, " x {rated power} / ({rated power}%s%s%s)", efficiency, counted ? " x {count}" : "",
                         others.formula.text);
    return interval_divide(power, interval_add(own, interval_divide(others.value, rated)));
}

/* The hull, in the order of the formulas. What it is fast by is its waterline, or Crouch's constant if it planes. */

typedef struct Hull {
    Interval mass, speed, fast_by;
} Hull;

static Interval use_displacement(Work *work)
{
    return use_value(work, work->model->boat, PROP_BOAT_DISPLACEMENT, 0).value;
}

/* Asked within the working of a figure: one of a hull of a sort that cannot be read waits. */
static Interval use_fast_by(Work *work)
{
    return use_value(work, work->model->boat, is_planing(work->model) ? PROP_BOAT_CROUCH : PROP_BOAT_WATERLINE, 0).value;
}

/* On how many hulls she floats, where she says it; slender ones pass the speed that holds a single one back (common practice, no source). */
static Interval use_hulls(Work *work)
{
    const Entity *boat = work->model->boat;
    return entity_states(boat, PROP_BOAT_HULLS) ? use_value(work, boat, PROP_BOAT_HULLS, 0).value : point(1.0);
}

typedef double LimitOfHull(double mass_kg, double waterline_m);

static LimitOfHull *limit_of(const Model *model)
{
    return is_half_planing(model) ? half_planing_speed_limit_m_per_s : displacement_speed_limit_m_per_s;
}

static const char *limit_formula(const Model *model)
{
    if (is_half_planing(model)) {
        return "8.26 / ({displacement} / {waterline}^3)^0.311 x root of the waterline, or {ratio} x that root, if that is more; long "
               "tons, 100 ft, ft";
    }
    return "8.26 / ({displacement} / {waterline}^3)^0.311 x root of the waterline; long tons, 100 ft, ft";
}

static void record_speed_limit(Work *work)
{
    LimitOfHull *of = limit_of(work->model);
    if (is_planing(work->model)) {
        return;
    }
    work_begin(work);
    Interval hulls = use_hulls(work);
    if (work->state == STATE_KNOWN && hulls.low > 1.0) {
        return;
    }
    work_begin(work);
    Hull hull = {.mass = use_displacement(work), .fast_by = point(1.0)};
    hull.fast_by = use_fast_by(work);
    Interval limit = point(0.0);
    if (work->state == STATE_KNOWN) {
        limit = interval_corners(of(hull.mass.high, hull.fast_by.low), of(hull.mass.low, hull.fast_by.high));
        limit.high = hulls.high > 1.0 ? INFINITY : limit.high;
    }
    if (is_half_planing(work->model)) {
        use_drive_limit(work, "speed-length ratio from which others plane", DRIVE_PLANING_FROM, RATIO);
    }
    use_hulls(work);
    const char *formula = limit_formula(work->model);
    bool counted = entity_states(work->model->boat, PROP_BOAT_HULLS);
    work_record(work, FIGURE_SPEED_LIMIT, work->model->boat, NULL, limit,
                counted ? text_format(work->figures->arena, "%s; none of more than one of {hulls}", formula) : formula);
}

/* The shaft powers of all that run with an engine together. */
static Interval use_shaft_powers(Work *work, const Entity *engine, const Entity *asks, Sum *sum)
{
    for (const Entity *e = first_aboard(work->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (!run_together_on(work->model, e, engine, asks)) {
            continue;
        }
        sum_next(sum);
        sum_label(sum, work, "", e, "shaft-power");
        Interval power = use_figure(work, figure_find(work->figures, e, FIGURE_SHAFT_POWER, NULL)).value;
        sum_count(sum, work, e);
        sum_add(sum, interval_multiply(power, use_count(work, e).value));
    }
    return sum->value;
}

/* Of a displacement hull, no faster than its limit. */
static Interval use_displacement_speed(Work *work, Interval power, const char *powers, const char **formula,
                                       const char **remark)
{
    Arena *arena = work->figures->arena;
    Hull hull = {.mass = use_displacement(work), .fast_by = point(1.0)};
    hull.fast_by = use_fast_by(work);
    Interval speed = point(0.0);
    if (work->state == STATE_KNOWN) {
        speed = interval_corners(displacement_speed_m_per_s(hull.mass.high, hull.fast_by.low, power.low),
                                 displacement_speed_m_per_s(hull.mass.low, hull.fast_by.high, power.high));
    }
    const Figure *limit = figure_find(work->figures, work->model->boat, FIGURE_SPEED_LIMIT, NULL);
    if (limit == NULL) {
        use_hulls(work);
        *formula = text_format(arena,
                               "10.665 x ((%s) / {displacement})^(1/3) x root of {waterline}, {hulls} without a limit; "
                               "hp, lb, ft",
                               powers);
        *remark = "of several hulls: slender ones pass the limit of a single one, and the formula is that of one";
        return speed;
    }
    *formula = text_format(arena,
                           "10.665 x ((%s) / {displacement})^(1/3) x root of {waterline}, at most "
                           "{speed-limit}; hp, lb, ft",
                           powers);
    *remark = NULL;
    return interval_min(speed, use_figure(work, limit).value);
}

/* Points of the boat's speed tell of what runs with an engine on every day that names none: of fewer they tell nothing. */
bool measures_full_speed(const Work *work, const Entity *engine, const Entity *asks)
{
    return engine != NULL && states_taken(engine, false) && sharers_of(work, engine, NULL) == SHARERS_NONE &&
           (asks == NULL || sharers_of(work, engine, asks) == SHARERS_NONE);
}

/* How fast she goes with all that an engine and those give that run with it: always, or on the day or for the goal that says so. */
static void record_full_speed(Work *work, const Entity *of, const Entity *engine, const Entity *asks)
{
    const char *formula, *remark;
    Sum sum;
    if (measures_full_speed(work, engine, asks)) {
        record_measured_full_speed(work, of, engine, asks);
        return;
    }
    sum_begin(&sum, work);
    Interval power = use_shaft_powers(work, engine, asks, &sum);
    Interval speed = is_planing(work->model) ? use_planing_speed(work, power, sum.formula.text, &formula, &remark)
                                             : use_displacement_speed(work, power, sum.formula.text, &formula, &remark);
    work_record(work, FIGURE_FULL_SPEED, of, asks, speed, formula)->remark =
        asks == NULL || remark != NULL ? remark
                                       : "not counted are the drag of a propeller that stands, and that a pitch which fits all "
                                         "engines together is too much for fewer";
}

/* Needed power */

typedef double PowerOfSpeed(double mass, double fast_by, double speed);

static Interval power_over(PowerOfSpeed *of, const Hull *hull)
{
    return interval_corners(of(hull->mass.low, hull->fast_by.high, hull->speed.low),
                            of(hull->mass.high, hull->fast_by.low, hull->speed.high));
}

/* Power that one engine must give for a speed, by a formula. */
static Figure *record_power(Work *work, FigureId id, const Entity *engine, const Entity *asks,
                            PowerOfSpeed *of, const char *hull_formula)
{
    const char *part;
    work_begin(work);
    Hull hull = {.mass = use_displacement(work), .fast_by = point(1.0)};
    hull.speed = use_value(work, asks, speed_of(asks), 1).value;
    hull.fast_by = use_fast_by(work);
    Interval power = work->state == STATE_KNOWN ? power_over(of, &hull) : point(0.0);
    power = use_part(work, engine, asks, power, &part);
    Figure *figure = work_record(work, id, engine, asks, power, text_format(work->figures->arena, "%s%s", hull_formula, part));
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
    return figure;
}

static Figure *record_planing_power(Work *work, const Entity *engine, const Entity *asks)
{
    const char *formula, *remark, *part;
    work_begin(work);
    Interval power = use_planing_power(work, asks, &formula, &remark);
    power = use_part(work, engine, asks, power, &part);
    Figure *figure =
        work_record(work, FIGURE_NEEDED_POWER, engine, asks, power, text_format(work->figures->arena, "(%s)%s", formula, part));
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
    figure->remark = remark;
    return figure;
}

static const char *beyond_limit(const Work *work, const Entity *asks)
{
    const Figure *limit = figure_find(work->figures, work->model->boat, FIGURE_SPEED_LIMIT, NULL);
    const Value *speed = property_value(entity_property(asks, speed_of(asks)), 1);
    bool beyond = limit != NULL && limit->state == STATE_KNOWN && speed->kind == VALUE_QUANTITY &&
                  speed->u.quantity.high > limit->low;
    return beyond ? "above `speed-limit` the formula asks for too little: such a hull is hardly driven faster"
                  : NULL;
}

static const Figure *record_needed_power(Work *work, const Entity *engine, const Entity *asks)
{
    bool measured = states_taken(engine, false);
    if (is_planing(work->model)) {
        return measured ? record_measured_power(work, engine, asks) : record_planing_power(work, engine, asks);
    }
    Figure *needed =
        measured ? record_measured_power(work, engine, asks)
                 : record_power(work, FIGURE_NEEDED_POWER, engine, asks, displacement_power_w,
                                "{displacement} x ({speed} / root of {waterline} / 10.665)^3, hp, lb, kn, ft");
    Figure *low =
        record_power(work, FIGURE_NEEDED_POWER_LOW, engine, asks, displacement_power_low_w,
                     "{displacement} / 1000 x ({speed} / root of {waterline} / 1.18)^3, hp, lb, kn, ft");
    low->remark = beyond_limit(work, asks);
    needed->remark = measured ? NULL : low->remark; /* who has measured it knows */
    return needed;
}

/* With a margin for the sea, and at what an engine gives for long. */
static Interval use_margins(Work *work, Interval power)
{
    Interval margin = use_drive_limit(work, "margin for sea and growth", DRIVE_SEA_MARGIN, PERCENT);
    Interval lasting = use_drive_limit(work, "what it gives for long", DRIVE_CONTINUOUS, PERCENT);
    return interval_divide(interval_multiply(power, margin), lasting);
}

static void record_rated_need(Work *work, const Entity *engine, const Entity *asks, const Figure *needed)
{
    work_begin(work);
    Interval power = use_margins(work, use_figure(work, needed).value);
    work_record(work, FIGURE_RATED_POWER_NEED, engine, asks, power, "{needed-power} x {margin} / {lasting}")
        ->unit = needed->unit;
}

/*
 * What a hull takes at the speed that holds it back. Of a heavier one that is slower, and takes all but the same: both
 * together rise as mass^0.067 and waterline^2.8 (where it half planes, as the mass), so that each end is one corner, and the
 * mass does not count twice.
 */
static Interval power_at_limit(const Hull *hull, LimitOfHull *of)
{
    double low = of(hull->mass.low, hull->fast_by.low), high = of(hull->mass.high, hull->fast_by.high);
    return interval_corners(displacement_power_w(hull->mass.low, hull->fast_by.low, low),
                            isinf(hull->speed.high) ? INFINITY : displacement_power_w(hull->mass.high, hull->fast_by.high, high));
}

/* The most that the hull can use: what her greatest speed takes. */
static void record_usable_power(Work *work, const Entity *engine)
{
    const Figure *limit = figure_find(work->figures, work->model->boat, FIGURE_SPEED_LIMIT, NULL);
    const char *part;
    if (limit == NULL) {
        return;
    }
    work_begin(work);
    Hull hull = {.mass = use_displacement(work), .fast_by = point(1.0)};
    hull.speed = use_figure(work, limit).value;
    hull.fast_by = use_fast_by(work);
    Interval power = work->state == STATE_KNOWN ? power_at_limit(&hull, limit_of(work->model)) : point(0.0);
    power = use_part(work, engine, NULL, power, &part);
    Figure *figure = work_record(
        work, FIGURE_USABLE_POWER, engine, NULL, use_margins(work, power),
        text_format(work->figures->arena,
                    "{displacement} x ({speed-limit} / root of {waterline} / 10.665)^3%s x {margin} / {lasting}; hp, lb, "
                    "kn, ft",
                    part));
    figure->unit = unit_of(engine, PROP_ENGINE_RATED, figure->unit);
    work_begin(work);
    power = use_figure(work, figure).value;
    Interval more = use_drive_limit(work, "far more", DRIVE_POWER_IDLE, RATIO);
    work_record(work, FIGURE_IDLE_POWER, engine, NULL, interval_multiply(power, more),
                "{usable-power} x {far more}")
        ->unit = figure->unit;
}

/* Fuel */

FuelCurve use_burned_curve(Work *work, const Entity *engine, Buf *formula)
{
    FuelCurve curve = fuel_curve_for(work, engine);
    const Property *line = entity_property(engine, PROP_ENGINE_CONSUMPTION);
    for (; line != NULL; line = block_next(&engine->block, line)) {
        Quantity speed = use_statement(work, engine, line, 0);
        Quantity rate = use_statement(work, engine, line, 1);
        buf_format(formula, "%s{speed %d}: {rate %d}", curve.count > 0 ? ", " : "", curve.count + 1,
                   curve.count + 1);
        if (speed.state == STATE_KNOWN && rate.state == STATE_KNOWN) {
            fuel_curve_add(&curve, speed.value, rate.value);
        }
    }
    return curve;
}

/* By the owner's points: at the speed at which the propeller takes that power. */
static Interval rate_by_curve(Work *work, const Entity *engine, const Figure *needed, Buf *formula)
{
    buf_text(formula, "rate at {rated speed} x ({needed-power} / {rated power})^(1/3) by ");
    Interval rated_speed = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    Interval power = use_figure(work, needed).value;
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    FuelCurve curve = use_burned_curve(work, engine, formula);
    if (work->state != STATE_KNOWN || curve.count == 0) {
        return point(0.0);
    }
    Interval share = interval_divide(power, rated);
    Interval turns = interval_multiply(
        interval_corners(propeller_law_speed(share.low), propeller_law_speed(share.high)), rated_speed);
    return fuel_curve_rate(&curve, turns);
}

static Interval rate_by_power(Work *work, const Entity *engine, const Figure *needed, Buf *formula)
{
    bool petrol = str_is(entity_word(engine, PROP_ENGINE_FUEL), "petrol");
    double density = content_density_kg_per_m3(petrol ? CONTENT_PETROL : CONTENT_DIESEL);
    Interval power = use_figure(work, needed).value;
    Interval specific = use_specific(work, engine);
    use_fact(work, "density of the fuel", point(density), UNIT_BY(UNIT_KG, UNIT_M3), "from memory");
    buf_text(formula, "{needed-power} x {specific} / {density}");
    return interval_corners(fuel_rate_m3_per_s(power.low, specific.low, density),
                            fuel_rate_m3_per_s(power.high, specific.high, density));
}

/* How fast the engine turns then: along the curve of a propeller that takes rated power at rated speed. */
static void record_turns(Work *work, const Entity *engine, const Entity *asks, const Figure *needed)
{
    work_begin(work);
    Interval rated_speed = use_value(work, engine, PROP_ENGINE_RATED, 1).value;
    Interval power = use_figure(work, needed).value;
    Interval rated = use_value(work, engine, PROP_ENGINE_RATED, 0).value;
    Interval share = interval_divide(power, rated);
    Interval root = interval_corners(propeller_law_speed(share.low), propeller_law_speed(share.high));
    Figure *figure = work_record(work, FIGURE_TURNS, engine, asks, interval_multiply(rated_speed, root),
                                 "{rated speed} x ({needed-power} / {rated power})^(1/3)");
    figure->remark = needed->state == STATE_KNOWN && share.high > 1.0 + 1e-9
                         ? "more than its rated speed: it does not give that power"
                         : NULL;
}

static void record_fuel_rate(Work *work, const Entity *engine, const Entity *asks, const Figure *needed)
{
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    Interval rate = entity_states(engine, PROP_ENGINE_CONSUMPTION)
                        ? rate_by_curve(work, engine, needed, &formula)
                        : rate_by_power(work, engine, needed, &formula);
    Figure *figure = work_record(work, FIGURE_FUEL_RATE, engine, asks, rate, formula.text);
    figure->unit = work_unit(work, UNIT_BY(UNIT_L, UNIT_H));
    const Value *rated = property_value(entity_property(engine, PROP_ENGINE_RATED), 0);
    if (needed->state == STATE_KNOWN && rated->kind == VALUE_QUANTITY &&
        needed->high > rated->u.quantity.high) {
        figure->remark = "she does not make that speed: it takes more than the engine's rated power";
    }
}

static void record_speed(Work *work, const Entity *asks)
{
    const Model *model = work->model;
    bool named = names_engines(asks);
    const Entity *first = named ? first_driving_on(model, asks) : NULL;
    if (first != NULL) {
        record_full_speed(work, model->boat, first, asks);
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (named && !drives_on(model, e, asks)) {
            continue; /* others drive her then */
        }
        const Figure *needed = record_needed_power(work, e, asks);
        record_rated_need(work, e, asks, needed);
        record_turns(work, e, asks, needed);
        if (burns_fuel(e)) {
            record_fuel_rate(work, e, asks, needed);
        } else {
            drive_taken(work, e, asks, needed);
        }
    }
}

void figures_speeds(Work *work)
{
    const Model *model = work->model;
    if (first_aboard(model, KIND_ENGINE) == NULL) {
        return;
    }
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        record_shaft_power(work, e);
    }
    record_speed_limit(work);
    record_full_speed(work, model->boat, first_driving(model), NULL);
    for (const Entity *e = first_aboard(model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (stands_by(model, e)) {
            record_full_speed(work, e, e, NULL);
        }
        record_usable_power(work, e);
    }
    for (const Entity *asks = first_speed(model); asks != NULL; asks = next_speed(model, asks)) {
        record_speed(work, asks);
    }
}
