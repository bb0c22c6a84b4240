/*
 * Cables, from the sources on: size, ampacity, voltage drop, protection, fault current.
 *
 * A size or a protection that is a hole, and a wire that is left out, get the smallest standard one that serves: it carries
 * the greatest current and what its protection lets through, and keeps the total drop within its limit, by the form of the
 * basis and as real cable loses it. What a limit leaves is shared out evenly among the cables from here to the end of the
 * longest way down, so that a feeder does not take all of it. Ampacity and drop rise or fall steadily with each input, so intervals follow from the corners.
 */
#include "figures/power.h"

#include "physics/ampacity.h"
#include "physics/drop.h"
#include "physics/fault.h"
#include "physics/protection.h"

#include <math.h>

static const double working_celsius = 50.0;
static const double cold_celsius = 20.0;
static const double assumed_insulation = 60.0;
static const double kelvin = 273.15;

/* One feed on its way through the recipes. */
typedef struct Cable {
    const Feed *feed;
    const Entity *subject;
    const Entity *at;
    Quantity current;
    Quantity run;
    double insulation_c;
    int parallel;
    int bundle;
    bool engine_space;
    double air_c;          /* of the hottest space, where it says so */
    bool sheathed;
    double nominal_v;
    const Conductor *thin, *thick; /* ends of the size; NULL: unbounded or unknown */
    const Figure *current_figure;
    const Figure *size;
    const Figure *ampacity;
    DropLimit limit;       /* of the total drop */
    WaysDown ways;         /* this cable and those below it */
} Cable;

/* Which drops are critical */

static const char *critical_kind(const Entity *entity, Basis basis)
{
    switch (entity->kind) {
    case KIND_PANEL:
        return "it feeds a panel";
    case KIND_BUS:
        return "it feeds a bus";
    case KIND_NAV_LIGHT:
        return "a navigation light hangs on it";
    case KIND_BLOWER:
        return "a blower hangs on it";
    case KIND_INSTRUMENT:
    case KIND_RADIO:
    case KIND_NETWORK:
        return "electronics hang on it";
    case KIND_BILGE_PUMP:
        return basis == BASIS_ISO ? "a bilge pump hangs on it" : NULL;
    default:
        return NULL;
    }
}

bool feed_is_critical(const Model *model, const Feed *feed, Basis basis, const char **why)
{
    (void)model;
    *why = "it is none of the critical ones";
    if (feed->maker) {
        return false;
    }
    int answer = entity_yes(feed->taker, PROP_COMMON_CRITICAL);
    if (answer >= 0) {
        *why = answer ? "the owner calls it critical" : "the owner calls it not critical";
        return answer == 1;
    }
    const char *kind = critical_kind(feed->taker, basis);
    for (const Feed *on = feed->taker->gives; on != NULL && kind == NULL; on = on->next_of_giver) {
        if (!on->maker && on->shares && !(on->taker->flags & ENTITY_DROPPED)) {
            kind = entity_yes(on->taker, PROP_COMMON_CRITICAL) == 1 ? "something critical hangs on it"
                                                                   : critical_kind(on->taker, basis);
        }
    }
    if (kind != NULL) {
        *why = kind;
    }
    return kind != NULL;
}

/* Reading what the cable is */

bool states_sheath(const Property *sheath)
{
    const Value *value = property_value(sheath, 0);
    return value->kind == VALUE_WORD && !str_is(value->u.word, "none");
}

bool feed_is_sheathed(const Feed *feed)
{
    return states_sheath(feed_property(feed, PROP_FEED_SHEATH));
}

double feed_insulation_celsius(const Feed *feed)
{
    const Value *stated = property_value(feed_property(feed, PROP_FEED_WIRE), 2);
    return stated->kind == VALUE_QUANTITY ? stated->u.quantity.low - kelvin : assumed_insulation;
}

DropLimit feed_drop_limit(const Model *model, const Feed *feed, Basis basis)
{
    const Value *own = property_value(feed_property(feed, PROP_FEED_DROP), 0);
    if (own->kind == VALUE_QUANTITY && !(own->flags & VALUE_BROKEN)) {
        double least = own->u.quantity.low > 0.0 ? own->u.quantity.low : own->u.quantity.high;
        return (DropLimit){.share = least, .own = true, .why = "its own `drop`"};
    }
    DropLimit limit = {.share = DROP_LIMIT_OTHER};
    limit.critical = feed_is_critical(model, feed, basis, &limit.why);
    if (limit.critical) {
        limit.share = DROP_LIMIT_CRITICAL;
    }
    return limit;
}

static void read_spaces(Power *power, Cable *cable)
{
    const Property *through = feed_property(cable->feed, PROP_FEED_THROUGH);
    for (uint16_t i = 0; through != NULL && i < through->count; i++) {
        const Entity *space = through->values[i].u.entity;
        if (through->values[i].kind != VALUE_REFERENCE || space == NULL) {
            continue;
        }
        const Value *air = property_value(entity_property(space, PROP_SPACE_TEMPERATURE), 0);
        if (air->kind == VALUE_QUANTITY && isfinite(air->u.quantity.high)) {
            double celsius = air->u.quantity.high - kelvin;
            cable->air_c = celsius > cable->air_c ? celsius : cable->air_c;
        } else if (power_node(power, space)->hot) {
            cable->engine_space = true;
        }
    }
}

static void read_cable(Power *power, Cable *cable)
{
    const Property *wire = feed_property(cable->feed, PROP_FEED_WIRE);
    const Value *conductors = property_value(wire, 1);
    const Value *bundle = property_value(feed_property(cable->feed, PROP_FEED_BUNDLE), 0);
    cable->parallel = conductors->kind == VALUE_QUANTITY && conductors->u.quantity.low >= 1.0
                          ? (int)conductors->u.quantity.low
                          : 1;
    cable->insulation_c = feed_insulation_celsius(cable->feed);
    cable->bundle = bundle->kind == VALUE_QUANTITY && isfinite(bundle->u.quantity.high) ? (int)bundle->u.quantity.high : 2;
    cable->sheathed = feed_is_sheathed(cable->feed);
    read_spaces(power, cable);
    cable->limit = feed_drop_limit(power->model, cable->feed, power->basis);
    cable->ways = ways_through(power, cable->feed);
}

/* Sizes */

static Series series_of_basis(Basis basis)
{
    return basis == BASIS_US ? SERIES_AWG : SERIES_METRIC;
}

static UnitPair unit_of_series(Series series)
{
    return UNIT_ALONE(series == SERIES_AWG ? UNIT_AWG : series == SERIES_SAE ? UNIT_SAE : UNIT_MM2);
}

static double heat_factor(const Power *power, const Cable *cable)
{
    double factor = cable->engine_space ? engine_space_factor(power->basis, cable->insulation_c) : 1.0;
    double air = ambient_factor(cable->insulation_c, cable->air_c);
    return air < factor ? air : factor;
}

static double ampacity_of(const Power *power, const Cable *cable, const Conductor *row)
{
    return ampacity_table(power->basis, row, cable->insulation_c) * heat_factor(power, cable) *
           bundle_factor(power->basis, cable->bundle, cable->nominal_v) * cable->parallel;
}

/* Sizes chosen */

/* What the way up to a cable ends in; NULL: the cable begins it. */
static const PowerNode *way_up(const Power *power, const Feed *feed)
{
    return feed->maker || feed->giver == NULL || converts_power(feed->giver) ? NULL : power_node(power, feed->giver);
}

static double lost_in(const Figure *total)
{
    return total != NULL && total->state == STATE_KNOWN ? total->high : 0.0;
}

static double physical_share(const Cable *cable, const Conductor *row, double run_m, double amps);

/* A size that the form of the basis passes, or the first thicker one that real cable passes as well; NULL: none is. */
static const Conductor *thick_enough(const Power *power, const Cable *cable, const Conductor *row, double amps)
{
    const PowerNode *before = way_up(power, cable->feed);
    double share = ways_share(&cable->ways, before != NULL ? lost_in(before->total) : 0.0);
    while (share > 0.0 && row != NULL && physical_share(cable, row, cable->run.value.high, amps) > share * (1.0 - 1e-9)) {
        row = conductor_next(row);
    }
    return row;
}

/* The drop by rule that is left for this cable, in V. */
static double drop_left(const Power *power, const Cable *cable)
{
    const PowerNode *before = way_up(power, cable->feed);
    return ways_share(&cable->ways, before != NULL ? lost_in(before->total_by_rule) : 0.0) * cable->nominal_v;
}

/* The smallest size that serves a current; the largest there is if none does. */
static const Conductor *smallest_for(const Power *power, const Cable *cable, double current, double carries)
{
    SizeDemand demand = {.basis = power->basis,
                         .series = series_of_basis(power->basis),
                         .drop_a = current,
                         .loop_m = 2.0 * cable->run.value.high,
                         .drop_v = cable->nominal_v > 0.0 ? drop_left(power, cable) : INFINITY,
                         .insulation_celsius = cable->insulation_c,
                         .bundled = cable->bundle,
                         .volts = cable->nominal_v,
                         .sheathed = cable->sheathed,
                         .parallel = cable->parallel};
    const Conductor *by_drop = demand.drop_v > 0.0 && isfinite(demand.loop_m) ? size_by_drop(&demand) : NULL;
    by_drop = cable->nominal_v > 0.0 ? thick_enough(power, cable, by_drop, current) : by_drop;
    const Conductor *row = conductor_minimum(power->basis, cable->sheathed);
    while (row != NULL && ampacity_of(power, cable, row) < carries * (1.0 - 1e-9)) {
        row = conductor_next(row);
    }
    size_t last = conductor_count(demand.series) - 1;
    if (row == NULL || by_drop == NULL) {
        return row != NULL && by_drop == NULL && demand.drop_v > 0.0 ? conductor_at(demand.series, last)
               : row != NULL                                        ? row
                                                                    : conductor_at(demand.series, last);
    }
    return row->area_m2 >= by_drop->area_m2 ? row : by_drop;
}

ProtectionClass class_by_kind(const Property *protect, double amps, bool ac)
{
    const Value *kind = property_value(protect, 1);
    bool fuse = kind->kind == VALUE_WORD && str_is(kind->u.word, "fuse");
    return protection_default_class(!fuse, amps, ac);
}

/* What lasts of a cable's current; of what makes power all of it, which may do so all day. */
static const Figure *lasting_current(const Power *power, const Cable *cable)
{
    const Figure *continuous = figure_find(power->work->figures, cable->subject, FIGURE_CONTINUOUS_CURRENT, cable->at);
    return continuous != NULL ? continuous : cable->current_figure;
}

/* The smallest standard rating that does not open in normal use; infinite if none is made, or nobody knows. */
static double smallest_rating(const Power *power, const Cable *cable)
{
    if (cable->current.state != STATE_KNOWN) {
        return INFINITY;
    }
    double all = cable->current.value.high;
    double part = fmin(lasting_current(power, cable)->high, all);
    double wanted = rating_wanted_a(part, all - part);
    if (!isfinite(wanted)) {
        return INFINITY;
    }
    double smallest = next_rating_a(class_by_kind(feed_property(cable->feed, PROP_FEED_PROTECT), wanted, cable->subject->flags & ENTITY_AC), wanted);
    return isfinite(smallest) ? smallest : next_rating_a(PROTECTION_NEC_SERIES, wanted);
}

/* Whether a cable is to live on a device upstream: a branch on its circuit's, a feeder on the one before it. */
static bool relies_on_guard(const Feed *feed)
{
    const Feed *guard = feed->guard;
    bool feeder = feed->taker->kind == KIND_BUS || feed->taker->kind == KIND_PANEL || feed->taker->kind == KIND_SWITCH;
    return guard != NULL && guard != feed && (feeder || guard->taker->kind == KIND_CIRCUIT);
}

/* What the device that protects a cable lets pass for ever: its own, stated or chosen, or the one it lives on; else 0. */
static double passed_by_protection(const Power *power, const Cable *cable)
{
    const Feed *feed = cable->feed;
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    if (protect == NULL && relies_on_guard(feed)) {
        const Figure *device = figure_find(power->work->figures, feed->guard->subject, FIGURE_PROTECTION,
                                           feed_at(feed->guard));
        return device != NULL && device->state == STATE_KNOWN ? device->high : 0.0;
    }
    const Value *rating = property_value(protect, 0);
    if (protect == NULL || rating->kind != VALUE_QUANTITY) {
        return 0.0;
    }
    return rating->flags & VALUE_HOLE ? smallest_rating(power, cable) : rating->u.quantity.high;
}

/* What the wire must carry: its current, or what its protection lets through for ever. */
static double must_carry(const Power *power, const Cable *cable, double current)
{
    double passes = passed_by_protection(power, cable);
    if (!isfinite(passes)) {
        return current;
    }
    if (power->basis == BASIS_US && cable->nominal_v < 50.0) {
        passes /= 1.5;
    }
    return passes > current ? passes : current;
}

static const char formula_size[] = "the smallest that carries {current} over {run} within its part of the drop, and what "
                                   "its protection lets through";

static void choose_size(Power *power, Cable *cable)
{
    Work *work = power->work;
    work_begin(work);
    use_figure(work, cable->current_figure);
    Quantity run = use_feed_value(work, cable->feed, PROP_FEED_RUN, 0);
    if (feed_property(cable->feed, PROP_FEED_PROTECT) != NULL) {
        use_feed_value(work, cable->feed, PROP_FEED_PROTECT, 0);
    }
    Interval limit = point(cable->limit.share);
    use_fact(work, "limit of the total drop, shared with the cables before and behind it", limit, UNIT_ALONE(UNIT_PERCENT), cable->limit.why);
    Interval size = point(0.0);
    if (work->state == STATE_KNOWN && run.state == STATE_KNOWN) {
        double high = cable->current.value.high;
        double low = cable->current.value.low;
        cable->thin = smallest_for(power, cable, isfinite(high) ? high : low,
                                   must_carry(power, cable, isfinite(high) ? high : low));
        cable->thick = isfinite(high) ? cable->thin : NULL;
        size = (Interval){cable->thin->area_m2, cable->thick != NULL ? cable->thick->area_m2 : INFINITY};
    }
    Figure *figure = work_record(work, FIGURE_WIRE_SIZE, cable->subject, cable->at, size, formula_size);
    figure->unit = unit_of_series(series_of_basis(power->basis));
    figure->size = true;
    figure->chosen = true;
    cable->size = figure;
}

static void stated_size(Power *power, Cable *cable, const Value *value)
{
    Work *work = power->work;
    Series series = series_of_unit(value->unit);
    work_begin(work);
    Quantity size = use_feed_value(work, cable->feed, PROP_FEED_WIRE, 0);
    cable->thin = size.value.low > 0.0 ? conductor_find(series, size.value.low) : NULL;
    cable->thick = isfinite(size.value.high) ? conductor_find(series, size.value.high) : NULL;
    Figure *figure = work_record(work, FIGURE_WIRE_SIZE, cable->subject, cable->at, size.value, "as stated: {wire}");
    figure->unit = value->unit;
    figure->size = true;
    cable->size = figure;
}

static void find_size(Power *power, Cable *cable)
{
    const Property *wire = feed_property(cable->feed, PROP_FEED_WIRE);
    const Value *value = property_value(wire, 0);
    bool broken = wire != NULL && wire->flags & PROPERTY_BROKEN;
    if (broken) {
        work_begin(power->work);
        use_waiting(power->work);
        cable->size = work_record(power->work, FIGURE_WIRE_SIZE, cable->subject, cable->at, point(0.0), "as stated");
    } else if (value->kind == VALUE_QUANTITY && !(value->flags & VALUE_HOLE)) {
        stated_size(power, cable, value);
    } else {
        choose_size(power, cable);
    }
}

/* Ampacity */

static void use_size(Power *power, const Cable *cable)
{
    use_figure(power->work, cable->size);
}

static void use_insulation(Power *power, const Cable *cable)
{
    const Value *insulation = property_value(feed_property(cable->feed, PROP_FEED_WIRE), 2);
    if (insulation->kind == VALUE_QUANTITY) {
        use_feed_value(power->work, cable->feed, PROP_FEED_WIRE, 2);
    } else {
        use_fact(power->work, "heat that the insulation stands, not being stated", point(assumed_insulation + kelvin),
                 UNIT_ALONE(UNIT_CELSIUS), "the least that is sold for boats; common practice, no source");
    }
}

static void record_ampacity(Power *power, Cable *cable)
{
    Work *work = power->work;
    work_begin(work);
    use_size(power, cable);
    use_insulation(power, cable);
    double low = cable->thin != NULL ? ampacity_of(power, cable, cable->thin) : 0.0;
    double high = cable->thick != NULL ? ampacity_of(power, cable, cable->thick) : INFINITY;
    const Conductor *shown = cable->thin != NULL ? cable->thin : cable->thick;
    if (shown != NULL) {
        Ampacity cell = ampacity_find(power->basis, shown, cable->insulation_c);
        use_fact(work, "table current", point(cell.amps), UNIT_ALONE(UNIT_A), cell.source);
    }
    double heat = heat_factor(power, cable);
    if (heat < 1.0) {
        use_fact(work, "factor for the heat on its way", point(heat), UNIT_ALONE(UNIT_NONE),
                 power->basis == BASIS_US ? "33 CFR 183.425, note 1" : "ISO 13297, from memory");
    }
    double bundle = bundle_factor(power->basis, cable->bundle, cable->nominal_v);
    if (bundle < 1.0) {
        use_fact(work, "factor for the bundle", point(bundle), UNIT_ALONE(UNIT_NONE),
                 power->basis == BASIS_US ? "33 CFR 183.425, note 2" : "ISO 13297, from memory");
    }
    if (cable->parallel > 1) {
        use_feed_value(work, cable->feed, PROP_FEED_WIRE, 1);
    }
    cable->ampacity = work_record(work, FIGURE_AMPACITY, cable->subject, cable->at, (Interval){low, high},
                                  "table current of {wire-size} with insulation for {insulation}, times its factors");
}

/* Drop */

static bool drop_is_known(const Cable *cable)
{
    return cable->current.state == STATE_KNOWN && cable->run.state == STATE_KNOWN && cable->nominal_v > 0.0;
}

static double physical_share(const Cable *cable, const Conductor *row, double run_m, double amps)
{
    if (amps == 0.0 || run_m == 0.0) {
        return 0.0;
    }
    if (row == NULL || isinf(amps) || isinf(run_m)) {
        return INFINITY;
    }
    return drop_physical_v(row, 2.0 * run_m, working_celsius, cable->parallel, amps) / cable->nominal_v;
}

static double rule_share(const Power *power, const Cable *cable, const Conductor *row, double run_m, double amps)
{
    if (amps == 0.0 || run_m == 0.0) {
        return 0.0;
    }
    if (row == NULL || isinf(amps) || isinf(run_m)) {
        return INFINITY;
    }
    return drop_by_rule_v(power->basis, row->area_m2 * cable->parallel, 2.0 * run_m, amps) / cable->nominal_v;
}

/* What both drops rest on: current, run, size, nominal voltage. */
static void use_drop_inputs(Power *power, const Cable *cable)
{
    work_begin(power->work);
    use_figure(power->work, cable->current_figure);
    use_feed_value(power->work, cable->feed, PROP_FEED_RUN, 0);
    use_size(power, cable);
    if (cable->nominal_v > 0.0) {
        use_fact(power->work, "nominal voltage", point(cable->nominal_v), UNIT_ALONE(UNIT_V), "its source");
    } else {
        use_waiting(power->work);
    }
}

static const Figure *record_drop(Power *power, Cable *cable, FigureId id)
{
    bool physical = id == FIGURE_VOLTAGE_DROP;
    Interval share = point(0.0);
    use_drop_inputs(power, cable);
    if (drop_is_known(cable)) {
        const Conductor *best = cable->thick;
        const Conductor *worst = cable->thin;
        Interval run = cable->run.value;
        Interval amps = cable->current.value;
        if (physical) {
            double low = best != NULL ? physical_share(cable, best, run.low, amps.low) : 0.0;
            share = interval_corners(low, physical_share(cable, worst, run.high, amps.high));
        } else {
            double low = best != NULL ? rule_share(power, cable, best, run.low, amps.low) : 0.0;
            share = interval_corners(low, rule_share(power, cable, worst, run.high, amps.high));
        }
    }
    const Conductor *shown = cable->thin != NULL ? cable->thin : cable->thick;
    const char *formula = "{current} x 2 x {run} x resistance of {wire-size} at 50 C / {nominal voltage}";
    if (physical && shown != NULL) {
        use_fact(power->work, "resistance of a metre at 20 C", point(shown->r20_ohm_per_m),
                 UNIT_BY(UNIT_MOHM, UNIT_M), shown->r20_source);
    } else if (!physical) {
        formula = power->basis == BASIS_US ? "10.75 x {current} x 2 x {run} in ft / circular mils of {wire-size} / {nominal voltage}"
                                           : "0.0164 ohm mm2/m x {current} x 2 x {run} / {wire-size} / {nominal voltage}";
    }
    return work_record(power->work, id, cable->subject, cable->at, share, formula);
}

/* The sum along the way. A figure of the giver that is missing makes the total missing too. */
static const Figure *record_total(Power *power, const Cable *cable, FigureId id, const Figure *own, const Figure *before)
{
    Work *work = power->work;
    work_begin(work);
    Quantity total = use_figure(work, own);
    if (before != NULL) {
        Quantity upstream = use_figure(work, before);
        if (upstream.state == STATE_KNOWN && total.state == STATE_KNOWN) {
            total.value = interval_add(total.value, upstream.value);
        }
    }
    return work_record(work, id, cable->subject, cable->at, total.value,
                       before != NULL ? "{own drop} + {drop up to there}" : "{own drop}");
}

static const Figure *worse(const Figure *a, const Figure *b)
{
    if (a == NULL || a->state != STATE_KNOWN) {
        return b != NULL ? b : a;
    }
    return b != NULL && b->state == STATE_KNOWN && b->high > a->high ? b : a;
}

static void record_drops(Power *power, Cable *cable)
{
    const PowerNode *before = way_up(power, cable->feed);
    const Figure *own = record_drop(power, cable, FIGURE_VOLTAGE_DROP);
    const Figure *by_rule = record_drop(power, cable, FIGURE_VOLTAGE_DROP_BY_RULE);
    const Figure *total = record_total(power, cable, FIGURE_TOTAL_DROP, own, before != NULL ? before->total : NULL);
    const Figure *total_by_rule = record_total(power, cable, FIGURE_TOTAL_DROP_BY_RULE, by_rule,
                                               before != NULL ? before->total_by_rule : NULL);
    if (!cable->feed->maker) {
        PowerNode *node = power_node(power, cable->feed->taker);
        node->total = worse(node->total, total);
        node->total_by_rule = worse(node->total_by_rule, total_by_rule);
    }
}

/* Protection */

static void choose_protection(Power *power, Cable *cable)
{
    Work *work = power->work;
    work_begin(work);
    use_figure(work, lasting_current(power, cable));
    use_figure(work, cable->current_figure);
    double smallest = smallest_rating(power, cable);
    Interval rating = isfinite(smallest) ? point(smallest) : (Interval){0.0, INFINITY};
    Figure *figure = work_record(work, FIGURE_PROTECTION, cable->subject, cable->at, rating,
                                 "the smallest standard rating of at least 1.25 x {continuous-current}, the rest of {current} added");
    figure->chosen = true;
}

static void record_protection(Power *power, Cable *cable)
{
    const Property *protect = feed_property(cable->feed, PROP_FEED_PROTECT);
    const Value *rating = property_value(protect, 0);
    bool stated = protect != NULL && (rating->kind != VALUE_QUANTITY || !(rating->flags & VALUE_HOLE));
    PowerNode *node = cable->feed->maker ? NULL : power_node(power, cable->feed->taker);
    if (stated) {
        work_begin(power->work);
        Quantity amps = use_feed_value(power->work, cable->feed, PROP_FEED_PROTECT, 0);
        const Figure *figure = work_record(power->work, FIGURE_PROTECTION, cable->subject, cable->at, amps.value,
                                           "as stated: {protect}");
        if (node != NULL) {
            node->protection = figure;
        }
        return;
    }
    if (cable->feed->taker->kind == KIND_ENGINE && protect == NULL) {
        return; /* what cranks an engine needs none */
    }
    choose_protection(power, cable);
    if (node != NULL) {
        /* A hole is filled, so it protects; what is left out does not: then the device upstream does, if any. */
        node->protection = protect != NULL
                               ? figure_find(power->work->figures, cable->subject, FIGURE_PROTECTION, cable->at)
                           : cable->feed->giver != NULL ? power_node(power, cable->feed->giver)->protection
                                                        : NULL;
    }
}

/* Fault current */

static Interval cold_resistance(const Cable *cable, Interval run)
{
    double most = cable->thin != NULL && isfinite(run.high)
                      ? conductor_resistance_ohm(cable->thin, 2.0 * run.high, cold_celsius, cable->parallel)
                      : INFINITY;
    double least = cable->thick != NULL
                       ? conductor_resistance_ohm(cable->thick, 2.0 * run.low, cold_celsius, cable->parallel)
                       : 0.0;
    return (Interval){least, most};
}

/* Just behind the device: the cable up to it lies in the loop, the rest of this cable does not. */
static void record_fault_current(Power *power, Cable *cable)
{
    Work *work = power->work;
    const Entity *giver = cable->feed->giver;
    PowerNode *node = power_node(power, cable->feed->taker);
    const Entity *source = giver != NULL ? power_node(power, giver)->source : NULL;
    if (source == NULL || source->kind != KIND_BANK || cable->feed->maker || cable->subject->flags & ENTITY_AC ||
        giver->kind == KIND_CONVERTER || giver->kind == KIND_CHARGER) {
        return; /* what converts limits the current itself */
    }
    const Figure *at_bank = figure_find(work->figures, source, FIGURE_SHORT_CIRCUIT, NULL);
    PowerNode *before = power_node(power, giver);
    work_begin(work);
    Quantity short_circuit = use_figure(work, at_bank);
    Interval upstream = before->cold_known ? before->cold_ohm : point(0.0);
    Interval current = point(0.0);
    if (short_circuit.state == STATE_KNOWN && short_circuit.value.high > 0.0) {
        Interval volts = power_node(power, source)->working_v;
        const Value *distance = property_value(feed_property(cable->feed, PROP_FEED_PROTECT), 3);
        Interval lead = distance->kind == VALUE_QUANTITY
                            ? (Interval){distance->u.quantity.low, distance->u.quantity.high}
                            : point(0.0);
        Interval loop = interval_add(upstream, cold_resistance(cable, lead));
        use_fact(work, "resistance of the copper up to the device, at 20 C", loop, UNIT_ALONE(UNIT_MOHM),
                 "the stated or chosen sizes");
        double bank_low = short_circuit.value.high > 0.0 ? volts.high / short_circuit.value.high : 0.0;
        double bank_high = short_circuit.value.low > 0.0 ? volts.low / short_circuit.value.low : INFINITY;
        double high = fault_current_a(volts.high, bank_low, loop.low);
        double low = isfinite(bank_high) && isfinite(loop.high) ? fault_current_a(volts.low, bank_high, loop.high) : 0.0;
        current = interval_corners(low, high);
    }
    work_record(work, FIGURE_FAULT_CURRENT, cable->subject, cable->at, current,
                "voltage / (bank's resistance, by {short-circuit-current}, + {copper})");
    bool known = cable->run.state == STATE_KNOWN;
    Interval own = known ? cold_resistance(cable, cable->run.value) : (Interval){0.0, INFINITY};
    node->cold_ohm = interval_add(upstream, own);
    node->cold_known = true;
}

/* A whole feed */

static Quantity maker_current(Power *power, const Feed *feed);

static void find_current(Power *power, Cable *cable)
{
    Work *work = power->work;
    if (cable->feed->maker) {
        work_begin(work);
        Quantity current = maker_current(power, cable->feed);
        cable->current_figure = work_record(work, FIGURE_CURRENT, cable->subject, cable->at, current.value,
                                            "its greatest output");
    } else {
        cable->current_figure = figure_find(work->figures, cable->subject, FIGURE_CURRENT, cable->at);
    }
    const Figure *figure = cable->current_figure;
    cable->current = figure != NULL ? (Quantity){{figure->low, figure->high}, (State)figure->state}
                                    : (Quantity){point(0.0), STATE_MISSING};
}

/* What hangs on a thing without a cable of its own (a switch, a load on its circuit) has what feeds that thing. */
static void hand_through(Power *power, const Feed *feed)
{
    if (feed->giver == NULL) {
        return;
    }
    const PowerNode *giver = power_node(power, feed->giver);
    PowerNode *taker = power_node(power, feed->taker);
    if (way_up(power, feed) != NULL) {
        taker->total = worse(taker->total, giver->total);
        taker->total_by_rule = worse(taker->total_by_rule, giver->total_by_rule);
    }
    taker->protection = giver->protection;
    taker->cold_ohm = giver->cold_ohm;
    taker->cold_known = giver->cold_known;
}

static void compute_cable(Power *power, const Feed *feed)
{
    if (feed->shares) {
        hand_through(power, feed);
        return;
    }
    Cable cable = {.feed = feed, .subject = feed->subject, .at = feed_at(feed)};
    const PowerNode *node = power_node(power, feed->taker);
    cable.nominal_v = node->nominal_v;
    read_cable(power, &cable);
    find_current(power, &cable);
    const Value *run = property_value(feed_property(feed, PROP_FEED_RUN), 0);
    cable.run = run->kind == VALUE_QUANTITY ? (Quantity){{run->u.quantity.low, run->u.quantity.high}, STATE_KNOWN}
                                            : (Quantity){point(0.0), STATE_MISSING};
    find_size(power, &cable);
    record_ampacity(power, &cable);
    record_drops(power, &cable);
    record_protection(power, &cable);
    record_fault_current(power, &cable);
}

/* Which property tells the greatest current of a maker; PROP_NONE: its power does. */
static PropId stated_output(const Entity *maker)
{
    switch (maker->kind) {
    case KIND_ALTERNATOR:
        return PROP_ALTERNATOR_OUTPUT;
    case KIND_CHARGER:
        return PROP_CHARGER_OUTPUT;
    case KIND_CONVERTER:
        return PROP_CONVERTER_OUTPUT;
    case KIND_SOLAR:
        return entity_states(maker, PROP_SOLAR_MAX_OUTPUT) ? PROP_SOLAR_MAX_OUTPUT : PROP_NONE;
    default:
        return PROP_NONE;
    }
}

static PropId rated_power(const Entity *maker)
{
    return maker->kind == KIND_SOLAR      ? PROP_SOLAR_RATED
           : maker->kind == KIND_INVERTER ? PROP_INVERTER_RATED
                                          : PROP_GENERATOR_RATED;
}

/* The greatest current that a maker sends down its output: of all of them, except that an array has one controller. */
static Quantity maker_current(Power *power, const Feed *feed)
{
    Work *work = power->work;
    const Entity *maker = feed->giver;
    const PowerNode *taker = power_node(power, feed->taker);
    PropId output = stated_output(maker);
    Quantity current = use_value(work, maker, output != PROP_NONE ? output : rated_power(maker), 0);
    if (output == PROP_SOLAR_MAX_OUTPUT) {
        return current;
    }
    current.value = interval_multiply(current.value, use_pieces(work, maker).value);
    if (output != PROP_NONE) {
        return current;
    }
    if (taker->nominal_v <= 0.0) {
        use_waiting(work);
        return (Quantity){point(0.0), STATE_WAITING};
    }
    use_fact(work, "nominal voltage", point(taker->nominal_v), UNIT_ALONE(UNIT_V), "its target");
    current.value = interval_scale(current.value, 1.0 / taker->nominal_v);
    return current;
}

void power_cables(Power *power)
{
    const Model *model = power->model;
    power_short_circuits(power);
    power_find_ways(power);
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            if (feed_takes_part(feed)) {
                compute_cable(power, feed);
            }
        }
    }
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (model->feeds[i]->maker && feed_takes_part(model->feeds[i])) {
            compute_cable(power, model->feeds[i]);
        }
    }
}
