/*
 * When things run in a day. What states a clock runs by it, a share of the day runs evenly, and hours without a clock are
 * laid where they usually fall: a choice of this program, told on the page about computing. The engine, instruments and
 * radios run from 9:00 on, navigation lights from 20:00, all other loads from 18:00, when no sun helps; shore power
 * and generator are there from 18:00 on. What passes midnight goes on at the beginning of the day. Heaters and coolers
 * that state no use run evenly, as long as their cabins ask for it; an element as long as the day's showers do.
 */
#include "figures/power_days.h"

#include "physics/solar.h"

#include <math.h>
#include <string.h>

static const double hour_s = 3600.0;

void hours_add(Hours *hours, const Value *value, double *next_s, const double weight[CORNERS], bool less_is_worse)
{
    if (value->kind == VALUE_CLOCK) {
        for (int c = 0; c < CORNERS; c++) {
            day_add_span(hours->of[c], value->u.clock.from * 60.0, clock_seconds(value), weight[c]);
        }
        return;
    }
    if (value->kind != VALUE_QUANTITY) {
        return;
    }
    double low = value->u.quantity.low, high = value->u.quantity.high;
    double of[CORNERS] = {less_is_worse ? low : high, less_is_worse ? high : low};
    bool even = unit_dimension(value->unit).tag == TAG_RATIO;
    for (int c = 0; c < CORNERS; c++) {
        double length = even ? DAY_SECONDS : fmin(of[c], DAY_SECONDS);
        double share = even ? fmin(of[c], 1.0) : 1.0;
        day_add_span(hours->of[c], *next_s, length, weight[c] * share);
    }
    if (!even) {
        *next_s = fmod(*next_s + fmin(high, DAY_SECONDS), DAY_SECONDS);
    }
}

static bool is_even(const Value *value)
{
    return value->kind == VALUE_QUANTITY && unit_dimension(value->unit).tag == TAG_RATIO;
}

void hours_add_edges(Edges edges[CORNERS], const Value *value, double from_s, const double weight[CORNERS], bool less_is_worse)
{
    bool clock = value->kind == VALUE_CLOCK;
    if (!clock && value->kind != VALUE_QUANTITY) {
        return;
    }
    double length_before = -1.0; /* of the corner before */
    DayBurst of[2];
    int count = 0;
    for (int c = 0; c < CORNERS; c++) {
        Interval stated = {value->u.quantity.low, value->u.quantity.high};
        double length = clock ? clock_seconds(value) : fmin(end_of(stated, less_is_worse == (c == WORSE)), DAY_SECONDS);
        if (length != length_before) {
            count = day_edges(clock ? value->u.clock.from * 60.0 : from_s, length, of);
            length_before = length;
            if (count > 0 && is_even(value)) { /* asked last: most hours have no edges */
                return;
            }
        }
        for (int i = 0; i < count && edges[c].count < HOURS_EDGES; i++) {
            of[i].amps = weight[c];
            edges[c].of[edges[c].count++] = of[i];
        }
    }
}

void burst_add(Arena *arena, Burst **list, int corner, DayBurst burst)
{
    Burst *added = ARENA_NEW(arena, Burst);
    *added = (Burst){.corner = corner, .of = burst, .next = *list};
    *list = added;
}

static void sort_edges(Edges *edges)
{
    for (int i = 1; i < edges->count; i++) {
        DayBurst moved = edges->of[i];
        int at = i;
        for (; at > 0; at--) {
            const DayBurst *before = &edges->of[at - 1];
            if (before->step < moved.step || (before->step == moved.step && before->amps >= moved.amps)) {
                break;
            }
            edges->of[at] = *before;
        }
        edges->of[at] = moved;
    }
}

/*
 * In a step in which one statement ends and another begins the greater power comes first, and then the lesser: with more of
 * either, or for longer, no less flows at any moment. Where they do not fit into it one by one they run at once, by the clock.
 */
static void chain_edges(DayBurst edges[], int count)
{
    double sum = 0.0;
    for (int i = 0; i < count; i++) {
        sum += edges[i].share;
    }
    if (sum > 1.0 + 1e-9) {
        return;
    }
    for (int i = 1; i < count; i++) {
        edges[i].share += edges[i - 1].share;
        edges[i - 1].amps -= edges[i].amps;
    }
}

void burst_add_edges(Arena *arena, Burst **list, Edges edges[CORNERS])
{
    if (edges[WORSE].count + edges[BETTER].count == 0) {
        return;
    }
    for (int c = 0; c < CORNERS; c++) {
        DayBurst *of = edges[c].of;
        sort_edges(&edges[c]);
        for (int from = 0, to; from < edges[c].count; from = to) {
            for (to = from + 1; to < edges[c].count && of[to].step == of[from].step; to++) {
            }
            chain_edges(of + from, to - from);
        }
        for (int i = 0; i < edges[c].count; i++) {
            burst_add(arena, list, c, of[i]);
        }
    }
}

static const double whole[CORNERS] = {1.0, 1.0};

/* No part of a step is counted twice where statements overlap. */
static void hold_to_one(Hours *hours)
{
    for (int c = 0; c < CORNERS; c++) {
        for (int i = 0; i < DAY_STEPS; i++) {
            hours->of[c][i] = fmin(hours->of[c][i], 1.0);
        }
    }
}

void hours_of_supply(Work *work, const Entity *day, PropId prop, Hours *hours)
{
    double next = SHORE_FROM_S;
    memset(hours, 0, sizeof *hours);
    for (const Property *p = entity_property(day, prop); p != NULL; p = block_next(&day->block, p)) {
        use_statement(work, day, p, 0);
        hours_add(hours, property_value(p, 0), &next, whole, true);
    }
    hold_to_one(hours);
}

static double usual_beginning(const Entity *load)
{
    switch (load->kind) {
    case KIND_INSTRUMENT:
    case KIND_RADIO:
    case KIND_NETWORK: return ENGINE_FROM_S;
    case KIND_NAV_LIGHT: return 20.0 * hour_s;
    default: return 18.0 * hour_s;
    }
}

/* More hours than a day has are a day. */
static void hold_to_a_day(double share[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += share[i];
    }
    for (int i = 0; i < DAY_STEPS && sum > DAY_STEPS; i++) {
        share[i] *= DAY_STEPS / sum;
    }
}

/* What a day's showers have used is heated again in one go. */
static bool hours_by_showers(Work *work, const Entity *heater, const Entity *day, Hours *hours)
{
    const Figure *time = element_time(work->figures, heater, day);
    if (time == NULL) {
        return false;
    }
    Interval seconds = use_figure(work, time).value;
    memset(hours, 0, sizeof *hours);
    day_add_span(hours->of[WORSE], usual_beginning(heater), fmin(seconds.high, DAY_SECONDS), 1.0);
    day_add_span(hours->of[BETTER], usual_beginning(heater), fmin(seconds.low, DAY_SECONDS), 1.0);
    return true;
}

/* A thermostat: on and off all day. */
static bool hours_by_climate(Work *work, const Entity *maker, const Entity *day, Hours *hours)
{
    const Figure *running = running_time(work->figures, maker, day);
    if (running == NULL) {
        return false;
    }
    Interval seconds = use_figure(work, running).value;
    memset(hours, 0, sizeof *hours);
    day_add_span(hours->of[WORSE], 0.0, DAY_SECONDS, seconds.high / DAY_SECONDS);
    day_add_span(hours->of[BETTER], 0.0, DAY_SECONDS, seconds.low / DAY_SECONDS);
    return true;
}

const Property *hours_only_use(const Entity *load, const Entity *day)
{
    const Property *only = NULL;
    for (const Property *use = entity_property(load, prop_of_use(load)); use != NULL; use = block_next(&load->block, use)) {
        const Value *of_day = property_value(use, 0);
        if (property_is_mistaken(use)) {
            return NULL;
        }
        if (value_names(of_day, day)) {
            if (only != NULL) {
                return NULL;
            }
            only = use;
        }
    }
    return only;
}

void hours_add_use(Hours *hours, const Entity *load, const Property *use, const double weight[CORNERS])
{
    double next = usual_beginning(load);
    hours_add(hours, property_value(use, 1), &next, weight, false);
}

void hours_add_use_edges(Edges edges[CORNERS], const Entity *load, const Property *use, const double weight[CORNERS])
{
    hours_add_edges(edges, property_value(use, 1), usual_beginning(load), weight, false);
}

bool hours_are_even(const Entity *load, const Entity *day)
{
    if (!states_use(load)) {
        return load->kind != KIND_WATER_HEATER;
    }
    for (const Property *use = entity_property(load, prop_of_use(load)); use != NULL; use = block_next(&load->block, use)) {
        if (value_names(property_value(use, 0), day) && is_even(property_value(use, 1))) {
            return true;
        }
    }
    return false;
}

/* From when on, and for how long at the most (or the least) a statement of hours holds: see hours_add. */
typedef struct Stretch {
    double from_s, length_s;
} Stretch;

static Stretch stretch_of(const Value *value, double usual_s, bool most)
{
    if (value->kind == VALUE_CLOCK) {
        return (Stretch){value->u.clock.from * 60.0, clock_seconds(value)};
    }
    if (value->kind != VALUE_QUANTITY) {
        return (Stretch){usual_s, most ? DAY_SECONDS : 0.0};
    }
    double stated = most ? value->u.quantity.high : value->u.quantity.low;
    bool even = unit_dimension(value->unit).tag == TAG_RATIO;
    return even ? (Stretch){0.0, stated > 0.0 ? DAY_SECONDS : 0.0} : (Stretch){usual_s, fmin(stated, DAY_SECONDS)};
}

static bool covers(Stretch shore, Stretch use)
{
    double late = fmod(use.from_s - shore.from_s + DAY_SECONDS, DAY_SECONDS);
    return shore.length_s >= DAY_SECONDS || late + use.length_s <= shore.length_s;
}

/* At worst: the most use, the least shore power; or at best. */
static bool is_on_shore_alone(const Entity *load, const Entity *day, const Property *use, bool worst)
{
    Stretch used = stretch_of(property_value(use, 1), usual_beginning(load), worst);
    for (const Property *p = entity_property(day, PROP_DAY_SHORE); p != NULL; p = block_next(&day->block, p)) {
        if (covers(stretch_of(property_value(p, 0), SHORE_FROM_S, !worst), used)) {
            return true;
        }
    }
    return false;
}

Interval longest_use_without_shore(const Model *model, const Entity *load)
{
    Interval longest = point(0.0);
    for (const Entity *day = model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        bool covered = true, may_be = true;
        for (const Property *use = entity_property(load, prop_of_use(load)); use != NULL; use = block_next(&load->block, use)) {
            const Value *of_day = property_value(use, 0);
            bool of_this = value_names(of_day, day);
            covered = covered && (!of_this || is_on_shore_alone(load, day, use, true));
            may_be = may_be && (!of_this || is_on_shore_alone(load, day, use, false));
        }
        Interval seconds;
        if (!covered && use_seconds(load, day, &seconds)) {
            seconds.low = may_be ? 0.0 : seconds.low;
            longest = interval_max(longest, seconds);
        }
    }
    return longest;
}

bool hours_of_use(Work *work, const Entity *load, const Entity *day, Hours *hours)
{
    if (!states_use(load)) {
        return load->kind == KIND_WATER_HEATER ? hours_by_showers(work, load, day, hours)
                                               : hours_by_climate(work, load, day, hours);
    }
    double next = usual_beginning(load);
    int statements = 0;
    if (use_is_mistaken(load, day)) {
        use_waiting(work);
    }
    for (const Property *use = entity_property(load, prop_of_use(load)); use != NULL; use = block_next(&load->block, use)) {
        const Value *of_day = property_value(use, 0);
        if (!value_names(of_day, day)) {
            continue;
        }
        if (statements++ == 0) {
            memset(hours, 0, sizeof *hours);
        }
        hours_add(hours, property_value(use, 1), &next, whole, false);
    }
    for (int c = 0; c < CORNERS && statements > 1; c++) {
        hold_to_a_day(hours->of[c]); /* one statement alone cannot be longer */
    }
    return statements > 0;
}

/* Sun */

static void worsen_sun(Hours *sun, const double more[DAY_STEPS], bool first)
{
    for (int i = 0; i < DAY_STEPS; i++) {
        sun->of[WORSE][i] = first ? more[i] : fmin(sun->of[WORSE][i], more[i]);
        sun->of[BETTER][i] = first ? more[i] : fmax(sun->of[BETTER][i], more[i]);
    }
}

/* One of `count` values spread over a range. */
static double spread_over(Interval range, int i, int count)
{
    return count == 1 ? range.low : range.low + (range.high - range.low) * i / (count - 1);
}

/* Of a range of latitudes, each step's least and most above the air. */
static void sun_above(Interval latitude_rad, int average, Hours *sun)
{
    enum { LATITUDES = 17 };
    int count = interval_is_point(latitude_rad) ? 1 : LATITUDES;
    for (int i = 0; i < count; i++) {
        double latitude = spread_over(latitude_rad, i, count);
        double one[DAY_STEPS];
        solar_by_height(latitude, average, solar_extraterrestrial_j_per_m2(latitude, average), DAY_STEPS, one);
        worsen_sun(sun, one, i == 0);
    }
}

static double daily_sum(const double w_per_m2[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += w_per_m2[i] * DAY_STEP_S;
    }
    return sum;
}

static void scale_sun(Hours *sun, Interval factor)
{
    for (int i = 0; i < DAY_STEPS; i++) {
        sun->of[WORSE][i] *= factor.low;
        sun->of[BETTER][i] *= factor.high;
    }
}

/*
 * Leaning panels: the clearnesses at which a step can have its least or most. Sun on them is a parabola of clearness up to where
 * all of it is direct, and a straight line from there on.
 */
typedef struct Clear {
    double of[4];
    int count;
} Clear;

static void add_clear(Clear *clear, Interval range, double clearness)
{
    if (clearness > range.low && clearness < range.high) {
        clear->of[clear->count++] = clearness;
    }
}

/* Least and most of one step over what is open of clearness and tilt. */
static Interval leaning(double above, double normal, double lit, Interval clearness, Interval tilt)
{
    enum { TILTS = 17 };
    Interval found = {INFINITY, 0.0};
    int tilts = interval_is_point(tilt) ? 1 : TILTS;
    double half = tilts == 1 ? 0.0 : (tilt.high - tilt.low) / (2.0 * (TILTS - 1));
    double all_direct = 1.0 / solar_beam_per_clearness;
    for (int i = 0; i < tilts && above > 0.0; i++) {
        double lean = spread_over(tilt, i, tilts);
        double sky = above * solar_sky_share(lean);
        double met = solar_met_w_per_m2(above, normal, lit, lean);
        Clear clear = {.of = {clearness.low, clearness.high}, .count = interval_is_point(clearness) ? 1 : 2};
        add_clear(&clear, clearness, all_direct);
        add_clear(&clear, clearness, sky > met ? all_direct * sky / (2.0 * (sky - met)) : 0.0);
        for (int k = 0; k < clear.count; k++) {
            double watts = solar_leaning_w_per_m2(clear.of[k], sky, met);
            /* From one tilt halfway to the next it changes by no more than the whole sun and the whole sky in that angle. */
            double changes = clear.of[k] * (above + normal * lit) * half;
            found.low = fmin(found.low, fmax(0.0, watts - changes));
            found.high = fmax(found.high, watts + changes);
        }
    }
    return above > 0.0 ? found : point(0.0);
}

/* The same day on panels that lean, over a range of latitudes too. */
static void sun_on_leaning(Interval latitude_rad, int average, Interval clearness, Interval tilt, Hours *sun)
{
    enum { LATITUDES = 17 };
    int count = interval_is_point(latitude_rad) ? 1 : LATITUDES;
    double normal = solar_normal_w_per_m2(average);
    for (int i = 0; i < count; i++) {
        double latitude = spread_over(latitude_rad, i, count);
        double above[DAY_STEPS], lit[DAY_STEPS];
        solar_by_height(latitude, average, solar_extraterrestrial_j_per_m2(latitude, average), DAY_STEPS, above);
        solar_lit(latitude, average, DAY_STEPS, lit);
        for (int k = 0; k < DAY_STEPS; k++) {
            Interval step = leaning(above[k], normal, lit[k], clearness, tilt);
            sun->of[WORSE][k] = i == 0 ? step.low : fmin(sun->of[WORSE][k], step.low);
            sun->of[BETTER][k] = i == 0 ? step.high : fmax(sun->of[BETTER][k], step.high);
        }
    }
}

static const char liu_jordan[] = "a sky equally bright all over: Liu and Jordan 1963, Duffie and Beckman ch. 2, from memory";

/* What leaning costs or brings, as a share of the sun on the flat; sums of both corners. */
static void use_leaning(Work *work, Interval flat, const Hours *sun)
{
    Interval leans = {daily_sum(sun->of[WORSE]), daily_sum(sun->of[BETTER])};
    use_fact(work, "sun on panels that lean, facing all ways alike, for she is taken to swing, against that on the flat",
             flat.low > 0.0 && isfinite(flat.high) ? interval_divide(leans, flat) : point(0.0), UNIT_ALONE(UNIT_PERCENT),
             liu_jordan);
}

/* As the day says, or what is usual with the sun so high: a wide range, for one number would tell a winter's day as certain. */
static Quantity use_clearness(Work *work, const Entity *day, Quantity latitude, int average)
{
    if (entity_states(day, PROP_DAY_CLEARNESS) || latitude.state != STATE_KNOWN) {
        return use_value(work, day, PROP_DAY_CLEARNESS, 0);
    }
    Interval usual = solar_usual_clearness(latitude.value, average);
    return use_assumption(work, day, PROP_DAY_CLEARNESS, 0,
                          (Fact){.what = "clearness of a month with the sun so high at noon", .low = usual.low, .high = usual.high,
                                 .unit = UNIT_ALONE(UNIT_NONE),
                                 .source = "from memory, wide; an average December in London has 0.25, second hand"});
}

static bool sun_by_month(Work *work, const Entity *day, const Interval *tilt, Hours *sun)
{
    const Value *month = property_value(entity_property(day, PROP_DAY_MONTH), 0);
    if (!entity_states(day, PROP_DAY_LATITUDE) || month->kind != VALUE_MONTH) {
        return false;
    }
    Quantity latitude = use_value(work, day, PROP_DAY_LATITUDE, 0);
    int average = solar_average_day(month->u.month);
    Quantity clearness = use_clearness(work, day, latitude, average);
    if (latitude.state != STATE_KNOWN || clearness.state != STATE_KNOWN) {
        memset(sun, 0, sizeof *sun);
        return true; /* the figure waits */
    }
    sun_above(latitude.value, average, sun);
    Interval sum = {daily_sum(sun->of[WORSE]), daily_sum(sun->of[BETTER])};
    use_fact(work, "irradiation above the air on the average day of the month, J/m2", sum, UNIT_ALONE(UNIT_NONE),
             "Duffie and Beckman, Solar Engineering of Thermal Processes; the day by Klein 1977, from memory");
    scale_sun(sun, clearness.value);
    if (tilt != NULL) {
        sun_on_leaning(latitude.value, average, clearness.value, *tilt, sun);
        use_leaning(work, interval_multiply(sum, clearness.value), sun);
    }
    return true;
}

/* The sun of a day that states its sum. */
typedef struct DaySun {
    Interval stated;
    Hours hours;
    struct DaySun *next;
} DaySun;

/* In each step the greater sum gives no less: both waves have their middle at noon. */
static const Hours *sun_of(Power *power, Interval stated)
{
    static const double full_sun_w_per_m2 = 1000.0;
    for (const DaySun *sun = power->suns; sun != NULL; sun = sun->next) {
        if (sun->stated.low == stated.low && sun->stated.high == stated.high) {
            return &sun->hours;
        }
    }
    DaySun *sun = ARENA_NEW(power->work->scratch, DaySun);
    sun->stated = stated;
    sun->next = power->suns;
    power->suns = sun;
    solar_by_wave(fmin(stated.low, DAY_SECONDS) * full_sun_w_per_m2, DAY_STEPS, sun->hours.of[WORSE]);
    solar_by_wave(fmin(stated.high, DAY_SECONDS) * full_sun_w_per_m2, DAY_STEPS, sun->hours.of[BETTER]);
    return &sun->hours;
}

/* Where the sun stands, the day does not say. */
static void sun_as_stated(Power *power, const Entity *day, const Interval *tilt, Hours *sun)
{
    Work *work = power->work;
    *sun = *sun_of(power, use_value(work, day, PROP_DAY_SUN, 0).value);
    if (tilt != NULL) {
        Interval share = interval_corners(solar_sky_share(tilt->high), solar_sky_share(tilt->low));
        use_fact(work, "share of the sky that panels see which lean, for `sun` does not say where it stands", share,
                 UNIT_ALONE(UNIT_PERCENT), liu_jordan);
        scale_sun(sun, share);
    }
}

bool hours_of_sun(Power *power, const Entity *array, const Entity *day, Hours *sun)
{
    Work *work = power->work;
    bool says = entity_states(day, PROP_DAY_SUN) || entity_states(day, PROP_DAY_LATITUDE);
    bool leans = says && entity_states(array, PROP_SOLAR_TILT);
    Interval tilt = leans ? use_value(work, array, PROP_SOLAR_TILT, 0).value : point(0.0);
    leans = leans && tilt.high > 0.0;
    if (entity_states(day, PROP_DAY_SUN)) {
        sun_as_stated(power, day, leans ? &tilt : NULL, sun);
        return true;
    }
    return sun_by_month(work, day, leans ? &tilt : NULL, sun);
}

double day_energy_j(double joule)
{
    static const double most_j = 1e12; /* of a boat's bank in a year not a thousandth */
    return fabs(joule) < most_j ? joule : joule < 0.0 ? -INFINITY : INFINITY;
}

double hours_sum_c(const double amps[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += amps[i] * DAY_STEP_S;
    }
    return sum;
}
