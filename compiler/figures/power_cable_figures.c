/*
 * The figures of each cable: its size, what it may carry, what it loses, what protects it.
 *
 * Ampacity and drop rise or fall steadily with each input, so intervals follow from the corners. What flows comes from the
 * solved network; nothing is chosen here.
 */
#include "figures/cable.h"
#include "model/status.h"

#include "physics/ampacity.h"
#include "physics/celsius.h"
#include "physics/drop.h"

#include <math.h>

/* Sizes */

double cable_ampacity_a(const Power *power, const Cable *cable, const Conductor *row)
{
    Laid laid = {cable->way.engine_space, cable->way.air_c, cable->bundle, cable->nominal_most_v, cable->parallel};
    return ampacity_allowed(power->basis, row, cable->insulation_c, laid);
}

static const char formula_size[] = "the smallest that carries {current} over {run} within the drop, and what its protection "
                                   "lets through";
static const char formula_size_back[] = "the smallest that carries {current} over {run} within the drop, {brought-current} "
                                        "coming back, and what its protection lets through";

static const char formula_none[] = "the largest at hand: none carries {current} over {run}, and what its protection lets through";
static const char formula_none_back[] = "the largest at hand: none carries {current} over {run}, {brought-current} coming back, and what its "
                                        "protection lets through";

/* The formula that a chosen size is told by. */
static const char *size_formula(const Cable *cable, bool back)
{
    if (cable->none_carries) {
        return back ? formula_none_back : formula_none;
    }
    return back ? formula_size_back : formula_size;
}

static const char *said_to_decide(const Cable *cable)
{
    if (cable->none_carries) {
        return "no size was found: with this insulation and so many conductors none carries as much";
    }
    switch (cable->deciding) {
    case DECIDED_BY_LEAST:
        return "the least size that the basis allows";
    case DECIDED_BY_CURRENT:
        return "its current decides";
    case DECIDED_BY_BROUGHT:
        return "what comes back through it to the bank decides";
    case DECIDED_BY_CRANKING:
        return "the starter behind it decides";
    case DECIDED_BY_LOW:
        return "what its inverter takes with the bank low decides";
    case DECIDED_BY_OUTLET:
        return "what its outlet is rated for decides";
    case DECIDED_BY_PROTECTION:
        return "what its protection lets through decides";
    case DECIDED_BY_DROP:
        return "the drop of voltage decides";
    case DECIDED_BY_FEEDS:
        return "the drop of voltage on the way to what hangs on it decides";
    case DECIDED_BY_VOLTAGE:
        return "the least voltage of what hangs on it decides";
    case DECIDED_FOR_ITSELF:
        return "what stands before it loses nearly all of the limit: sized as if that lost nothing";
    case DECIDED_BY_FORMULA:
        return "what stands before it loses nearly all of the limit in real copper: sized to keep it by the formula of the basis";
    default:
        return "no size keeps the drop within its limit";
    }
}

/* What an inverter takes with its bank low, where that is more than it takes else. */
static void use_low(Work *work, const Cable *cable)
{
    if (cable->low.value.high > cable->current.value.high) {
        use_figure(work, cable->low_figure);
    }
}

static void record_chosen_size(Power *power, Cable *cable)
{
    Work *work = power->work;
    work_begin(work);
    use_figure(work, cable->current_figure);
    use_feed_value(work, cable->feed, PROP_FEED_RUN, 0);
    const Figure *back = figure_brought_back(work->figures, cable->feed);
    if (back != NULL) {
        use_figure(work, back);
    }
    use_low(work, cable);
    if (cable->protect != NULL) {
        use_feed_value(work, cable->feed, PROP_FEED_PROTECT, 0);
    }
    use_fact(work, "limit of the total drop", point(cable->limit.share), UNIT_ALONE(UNIT_PERCENT), cable->limit.why);
    Interval size = {cable->thin != NULL ? cable->thin->area_m2 : 0.0, cable->thick != NULL ? cable->thick->area_m2 : INFINITY};
    Figure *figure = work_record(work, FIGURE_WIRE_SIZE, cable->subject, cable->at, size,
                                 size_formula(cable, back != NULL));
    figure->unit = UNIT_ALONE(power->basis == BASIS_US ? UNIT_AWG : UNIT_MM2);
    figure->size = true;
    work_choose(work, figure, true);
    figure->remark = figure->state != STATE_KNOWN ? NULL
                     : cable_wants_own_device(power, cable) ? cable_says_it_wants_one(power, cable)
                                                            : said_to_decide(cable);
    cable->size = figure;
}

static void record_size(Power *power, Cable *cable)
{
    Work *work = power->work;
    if (cable->size_chosen) {
        record_chosen_size(power, cable);
        return;
    }
    work_begin(work);
    if (cable->size_broken) {
        use_waiting(work);
        cable->size = work_record(work, FIGURE_WIRE_SIZE, cable->subject, cable->at, point(0.0), "as stated");
        return;
    }
    Quantity size = use_feed_value(work, cable->feed, PROP_FEED_WIRE, 0);
    Figure *figure = work_record(work, FIGURE_WIRE_SIZE, cable->subject, cable->at, size.value, "as stated: {wire}");
    figure->unit = property_value(cable->wire, 0)->unit;
    figure->size = true;
    cable->size = figure;
}

/* Ampacity */

void use_cable_insulation(Power *power, const Cable *cable)
{
    const Value *insulation = property_value(cable->wire, 2);
    if (insulation->kind == VALUE_QUANTITY) {
        use_feed_value(power->work, cable->feed, PROP_FEED_WIRE, 2);
    } else {
        const double kelvin = CABLE_ASSUMED_INSULATION_C + ZERO_CELSIUS_K;
        use_assumption(power->work, cable->feed->subject, cable->feed->maker ? PROP_FEEDS_WIRE : PROP_FEED_WIRE, 2,
                       (Fact){.what = "heat that the insulation stands, not being stated",
                              .low = kelvin,
                              .high = kelvin,
                              .unit = UNIT_ALONE(UNIT_CELSIUS),
                              .source = "the least that is sold for boats; common practice, no source"});
    }
}

/* What says how hot it is on its way: of an engine space that says nothing, its basis. */
static void use_heat(Power *power, const Cable *cable, Interval factor)
{
    Work *work = power->work;
    CableAir at = {0};
    for (const Entity *space = cable_next_air(cable->feed, &at); space != NULL;
         space = cable_next_air(cable->feed, &at)) {
        if (!power_node(power, space)->hot || entity_states(space, PROP_SPACE_TEMPERATURE)) {
            use_air_aboard(work, space, PROP_SPACE_TEMPERATURE);
        }
    }
    if (cable_is_in_open(cable->feed)) {
        use_air_aboard(work, NULL, PROP_SPACE_TEMPERATURE);
    }
    bool by_rule = cable->way.engine_space && engine_space_factor(power->basis, cable->insulation_c) <=
                                              ambient_factor(cable->insulation_c, cable->way.air_c);
    use_fact(work, "factor for the heat on its way", factor, UNIT_ALONE(UNIT_NONE),
             !by_rule ? "sqrt((insulation - air) / (insulation - 30 C)), which the published factors round"
             : power->basis == BASIS_US ? "33 CFR 183.425, note 1"
                                        : "ISO 13297, from memory");
}

Interval cable_heat(const Power *power, const Cable *cable)
{
    return (Interval){heat_factor(power->basis, cable->insulation_c, cable->way.engine_space, cable->way.air_c),
                      heat_factor(power->basis, cable_best_insulation_c(cable), cable->way.engine_space, cable->way.least_air_c)};
}

static void record_ampacity(Power *power, Cable *cable)
{
    Work *work = power->work;
    work_begin(work);
    use_figure(power->work, cable->size);
    use_cable_insulation(power, cable);
    const Property *through = feed_property(cable->feed, PROP_FEED_THROUGH);
    if (through != NULL) {
        use_if_mistaken(work, through); /* how hot it is there is not known */
    }
    double best_c = cable_best_insulation_c(cable);
    Interval heat = cable_heat(power, cable);
    Interval bundle = {bundle_factor(power->basis, cable->bundle, cable->nominal_most_v),
                       bundle_factor(power->basis, cable_least_bundle(cable), cable->nominal_v)};
    const Conductor *shown = cable->thin != NULL ? cable->thin : cable->thick;
    Interval amps = {0.0, INFINITY};
    if (shown != NULL) {
        Ampacity cell = ampacity_find(power->basis, shown, cable->insulation_c);
        if (cell.amps > 0.0) {
            use_fact(work, "table current", point(cell.amps), UNIT_ALONE(UNIT_A), cell.source);
        }
        bool same = cable->thick == shown && best_c == cable->insulation_c;
        amps.low = cable->thin != NULL ? cell.amps * heat.low * bundle.low * cable->parallel : 0.0;
        amps.high = cable->thick == NULL ? INFINITY
                                         : (same ? cell.amps : ampacity_table(power->basis, cable->thick, best_c)) *
                                               heat.high * bundle.high * cable->most_parallel;
    }
    if (heat.low < 1.0) {
        use_heat(power, cable, heat);
    }
    if (bundle.low < 1.0) {
        use_fact(work, "factor for the bundle", bundle, UNIT_ALONE(UNIT_NONE),
                 power->basis == BASIS_US ? "33 CFR 183.425, note 2" : "ISO 13297, from memory");
    }
    if (cable->most_parallel > 1) {
        use_feed_value(work, cable->feed, PROP_FEED_WIRE, 1);
    }
    bool in_table = shown == NULL || ampacity_table(power->basis, shown, cable->insulation_c) > 0.0;
    cable->ampacity = work_record(work, FIGURE_AMPACITY, cable->subject, cable->at, amps,
                                  in_table ? "table current of {wire-size} with insulation for {insulation}, times its factors"
                                           : "not known: the table has no {wire-size} with insulation for {insulation}; counted as none");
}

/* Drop */

static bool drop_is_known(const Cable *cable)
{
    return cable->current.state == STATE_KNOWN && cable->run.state == STATE_KNOWN && cable->nominal_v > 0.0;
}

double cable_physical_share(const Cable *cable, const Conductor *row, double run_m, double amps)
{
    if (amps == 0.0 || run_m == 0.0) {
        return 0.0;
    }
    if (row == NULL || isinf(amps) || isinf(run_m)) {
        return INFINITY;
    }
    return drop_physical_v(row, 2.0 * run_m, CABLE_WORKING_CELSIUS, cable->parallel, amps) / cable->nominal_v;
}

double cable_rule_share(const Power *power, const Cable *cable, const Conductor *row, double run_m, double amps)
{
    if (amps == 0.0 || run_m == 0.0) {
        return 0.0;
    }
    if (row == NULL || isinf(amps) || isinf(run_m)) {
        return INFINITY;
    }
    return drop_by_rule_v(power->basis, row->area_m2 * cable->parallel, 2.0 * run_m, amps) / cable->nominal_v;
}

static Interval nominal_of(const Cable *cable)
{
    return (Interval){cable->nominal_v, cable->nominal_most_v};
}

/* How long it is; missed where nobody says it. */
static void use_run(Work *work, const Cable *cable)
{
    if (cable->run.state == STATE_KNOWN) {
        use_statement(work, cable->subject, cable->run_line, 0);
    } else {
        use_feed_value(work, cable->feed, PROP_FEED_RUN, 0);
    }
}

/* What both drops rest on: current, run, size, nominal voltage. */
static void use_drop_inputs(Power *power, const Cable *cable)
{
    work_begin(power->work);
    use_figure(power->work, cable->current_figure);
    use_run(power->work, cable);
    use_figure(power->work, cable->size);
    if (cable->nominal_v > 0.0) {
        use_source_voltage(power->work, power_node(power, cable->feed->taker)->source, "nominal voltage", nominal_of(cable),
                           "its source");
    } else {
        use_no_voltage(power->work, power_node(power, cable->feed->taker)->source);
    }
}

bool cable_is_decided(const Cable *cable)
{
    return interval_is_point(cable->run.value) && cable->thin == cable->thick && cable->parallel == cable->most_parallel;
}

Interval cable_drop(const Power *power, const Cable *cable, bool physical, Interval amps)
{
    Interval run = cable->run.value;
    if (cable_is_decided(cable) && cable->thin != NULL && interval_is_point(amps) && interval_is_point(nominal_of(cable))) {
        return point(physical ? cable_physical_share(cable, cable->thin, run.high, amps.high)
                              : cable_rule_share(power, cable, cable->thin, run.high, amps.high));
    }
    const Conductor *thick = cable->thick;
    Cable best = *cable;
    best.parallel = cable->most_parallel;
    best.nominal_v = cable->nominal_most_v;
    if (physical) {
        return interval_corners(thick != NULL ? cable_physical_share(&best, thick, run.low, amps.low) : 0.0,
                                cable_physical_share(cable, cable->thin, run.high, amps.high));
    }
    return interval_corners(thick != NULL ? cable_rule_share(power, &best, thick, run.low, amps.low) : 0.0,
                            cable_rule_share(power, cable, cable->thin, run.high, amps.high));
}

static void use_resistance(Power *power, const Cable *cable)
{
    const Conductor *shown = cable->thin != NULL ? cable->thin : cable->thick;
    if (shown != NULL) {
        use_fact(power->work, "resistance of a metre at 20 C", point(shown->r20_ohm_per_m), UNIT_BY(UNIT_MOHM, UNIT_M),
                 shown->r20_source);
    }
}

/* Whether the loads take another current at the voltage that reaches them than at the stated one. */
static bool is_moved(const Cable *cable)
{
    Interval plain = cable->current.value;
    return cable->solved && (fabs(cable->solved_a.high - plain.high) > 1e-9 * plain.high ||
                             fabs(cable->solved_a.low - plain.low) > 1e-9 * plain.low);
}

static const char solved_current[] = "current, with each load at the voltage that reaches it";

/* The same inputs, with the solved current before the plain one. */
static void use_solved_inputs(Power *power, const Cable *cable)
{
    Work *work = power->work;
    work_begin(work);
    use_fact(work, solved_current, cable->solved_a, UNIT_ALONE(UNIT_A), "the network of its source, solved");
    use_run(work, cable);
    use_figure(work, cable->size);
    use_fact(work, "nominal voltage", nominal_of(cable), UNIT_ALONE(UNIT_V), "its source");
    use_figure(work, cable->current_figure);
}

/* No more than all of the voltage is ever lost: where the network has no solution (`collapse`) the formula says more. */
static Interval at_most_all(Interval share)
{
    return (Interval){fmin(share.low, 1.0), isfinite(share.high) ? fmin(share.high, 1.0) : share.high};
}

static const Figure *record_drop(Power *power, Cable *cable)
{
    Interval share = point(0.0);
    bool moved = drop_is_known(cable) && is_moved(cable);
    if (moved) {
        use_solved_inputs(power, cable);
    } else {
        use_drop_inputs(power, cable);
    }
    if (drop_is_known(cable)) {
        share = at_most_all(cable_drop(power, cable, true, cable->solved ? cable->solved_a : cable->current.value));
    }
    use_resistance(power, cable);
    if (cable->adrift != NULL) {
        use_no_voltage(power->work, cable->adrift);
    }
    Figure *figure = work_record(power->work, FIGURE_VOLTAGE_DROP, cable->subject, cable->at, share,
                                 moved ? "{solved current} x 2 x {run} x resistance of {wire-size} at 50 C / {nominal voltage}"
                                       : "{current} x 2 x {run} x resistance of {wire-size} at 50 C / {nominal voltage}");
    if (cable->may_collapse) {
        figure->remark = cable->collapses ? "more power is asked than can come this way: the voltage collapses"
                                          : "the voltage may collapse: more power may be asked than can come this way";
    }
    return figure;
}

static const Figure *record_drop_by_rule(Power *power, Cable *cable)
{
    use_drop_inputs(power, cable);
    Interval share = drop_is_known(cable) ? cable_drop(power, cable, false, cable->current.value) : point(0.0);
    const char *formula = power->basis == BASIS_US
                              ? "10.75 x {current} x 2 x {run} in ft / circular mils of {wire-size} / {nominal voltage}"
                              : "0.0164 ohm mm2/m x {current} x 2 x {run} / {wire-size} / {nominal voltage}";
    return work_record(power->work, FIGURE_VOLTAGE_DROP_BY_RULE, cable->subject, cable->at, share, formula);
}

/* What its own copper turns to heat. */
static void record_loss(Power *power, Cable *cable)
{
    Work *work = power->work;
    Interval amps = cable->solved ? cable->solved_a : cable->current.value;
    if (cable->collapses) {
        return; /* nobody knows what flows */
    }
    work_begin(work);
    Quantity share = use_figure(work, cable->drop);
    use_fact(work, "nominal voltage", nominal_of(cable), UNIT_ALONE(UNIT_V), "its source");
    use_fact(work, solved_current, amps, UNIT_ALONE(UNIT_A),
             cable->solved ? "the network of its source, solved" : "its greatest current");
    Interval watts = interval_multiply(interval_multiply(share.value, nominal_of(cable)), amps);
    work_record(work, FIGURE_LOSS, cable->subject, cable->at, watts, "{voltage-drop} x {nominal voltage} x {current}");
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
            total.value = id == FIGURE_TOTAL_DROP ? at_most_all(total.value) : total.value;
        }
    }
    return work_record(work, id, cable->subject, cable->at, total.value,
                       before != NULL ? "{own drop} + {drop up to there}" : "{own drop}");
}

const Figure *figure_worse(const Figure *a, const Figure *b)
{
    if (a == NULL || a->state != STATE_KNOWN) {
        return b != NULL ? b : a;
    }
    return b != NULL && b->state == STATE_KNOWN && b->high > a->high ? b : a;
}

bool cable_begins_anew(const Cable *cable)
{
    const Entity *giver = cable->feed->giver;
    return cable->feed->maker || giver == NULL || turns_power(giver);
}

static const char formula_end[] = "the network, solved with its source at the lowest working voltage";

/* The voltage at the far end, of what has a place in a network. */
static void record_end_voltage(Power *power, const Feed *feed, const Figure *total)
{
    const PowerNode *node = power_node(power, feed->taker);
    if (feed->maker || !node->end_known || feed->taker->fed != feed) {
        return; /* of a second source the network knows nothing */
    }
    Work *work = power->work;
    work_begin(work);
    use_figure(work, total);
    use_fact(work, "lowest voltage of its source", node->least_v, UNIT_ALONE(UNIT_V), node->least_source);
    work_record(work, FIGURE_END_VOLTAGE, feed->taker, feed_at(feed), node->end_v, formula_end);
}

static void record_drops(Power *power, Cable *cable)
{
    const PowerNode *giver = cable_begins_anew(cable) ? NULL : power_node(power, cable->feed->giver);
    bool cranks = is_cranked(cable->feed->taker); /* all of the way is cranked through */
    cable->drop = record_drop(power, cable);
    const Figure *by_rule = record_drop_by_rule(power, cable);
    const Figure *total = record_total(power, cable, FIGURE_TOTAL_DROP, cable->drop,
                                       giver == NULL ? NULL : cranks && giver->cranking_drop != NULL ? giver->cranking_drop : giver->total);
    const Figure *total_by_rule =
        record_total(power, cable, FIGURE_TOTAL_DROP_BY_RULE, by_rule,
                     giver == NULL ? NULL : cranks && giver->cranking_drop_by_rule != NULL ? giver->cranking_drop_by_rule : giver->total_by_rule);
    record_end_voltage(power, cable->feed, total);
    if (drop_is_known(cable)) {
        record_loss(power, cable);
    }
    cable_record_cranking(power, cable);
    if (!cable->feed->maker) {
        PowerNode *node = power_node(power, cable->feed->taker);
        node->total = figure_worse(node->total, total);
        node->total_by_rule = figure_worse(node->total_by_rule, total_by_rule);
    }
}

/* Protection */

static const char formula_rating[] = "the smallest standard rating of at least 1.25 x {continuous-current}, the rest of "
                                     "{current} added";
static const char formula_rating_back[] = "the smallest standard rating of at least 1.25 x {continuous-current}, the rest of "
                                          "{current} added, and of 1.25 x {brought-current} coming back";

static Figure *record_rating(Power *power, Cable *cable, FigureId id)
{
    Work *work = power->work;
    const Figure *continuous = figure_find(work->figures, cable->subject, FIGURE_CONTINUOUS_CURRENT, cable->at);
    work_begin(work);
    use_figure(work, continuous != NULL ? continuous : cable->current_figure); /* what makes power may do so all day */
    use_figure(work, cable->current_figure);
    const Figure *back = figure_brought_back(work->figures, cable->feed);
    if (back != NULL) {
        use_figure(work, back);
    }
    use_low(work, cable);
    Figure *figure = work_record(work, id, cable->subject, cable->at, cable->rating,
                                 back != NULL ? formula_rating_back : formula_rating);
    work_choose(work, figure, true);
    figure->remark = figure->state == STATE_KNOWN ? cable->rating_remark : NULL;
    return figure;
}

/* What a device of direct current can break that says neither class nor breaking capacity is not known: what it may be. */
static void use_breaking(Power *power, const Cable *cable, Quantity amps)
{
    const Property *protect = cable->protect;
    const Value *kind = property_value(protect, 1);
    bool says = property_value(protect, 2)->kind == VALUE_WORD || property_value(protect, 4)->kind == VALUE_QUANTITY;
    if (says || kind->kind != VALUE_WORD || amps.state != STATE_KNOWN || cable->nominal_v <= 0.0 ||
        feed_is_alternating(cable->feed)) {
        return;
    }
    bool breaker = str_is(kind->u.word, "breaker");
    BreakingRange may = breaking_over_ratings(breaker, amps.value.low, amps.value.high, nominal_of(cable));
    use_fact(power->work, breaker ? "what it can break, a breaker of no stated class" : "what it can break, a fuse of no stated class",
             (Interval){may.least_a, may.most_a}, UNIT_ALONE(UNIT_A),
             "the classes that are made about so large, in part from memory; which it is decides");
}

/* A hole is filled, so it protects. */
static const Figure *record_own_protection(Power *power, Cable *cable)
{
    if (cable->rating_chosen) {
        return cable->protection = record_rating(power, cable, FIGURE_PROTECTION);
    }
    work_begin(power->work);
    Quantity amps = use_feed_value(power->work, cable->feed, PROP_FEED_PROTECT, 0);
    use_breaking(power, cable, amps);
    return work_record(power->work, FIGURE_PROTECTION, cable->subject, cable->at, amps.value, "as stated: {protect}");
}

/* What is left out does not protect: then the device upstream does, if any. What cranks an engine needs none. */
static void record_protection(Power *power, Cable *cable)
{
    PowerNode *node = cable->feed->maker ? NULL : power_node(power, cable->feed->taker);
    if (cable->protect != NULL) {
        const Figure *own = record_own_protection(power, cable);
        if (node != NULL) {
            node->protection = own;
        }
        return;
    }
    if (cable->rating_chosen && !cable_relies_upstream(power, cable) && !feeds_by_starter_cable(cable->feed)) {
        record_rating(power, cable, FIGURE_WANTED_PROTECTION);
    }
    if (node != NULL && cable->feed->giver != NULL && cable->rating_chosen) {
        node->protection = power_node(power, cable->feed->giver)->protection;
    }
}

/* All of a cable, and what has none */

void cable_record(Power *power, Cable *cable)
{
    record_size(power, cable);
    record_ampacity(power, cable);
    cable_record_cranking_ampacity(power, cable);
    record_drops(power, cable);
    record_protection(power, cable);
}

/* What hangs on a thing without a cable of its own (a switch, a load on its circuit) has what feeds that thing. */
static void hand_through(Power *power, const Feed *feed)
{
    if (feed->giver == NULL) {
        return;
    }
    const PowerNode *giver = power_node(power, feed->giver);
    PowerNode *taker = power_node(power, feed->taker);
    if (!turns_power(feed->giver)) {
        taker->total = figure_worse(taker->total, giver->total);
        taker->total_by_rule = figure_worse(taker->total_by_rule, giver->total_by_rule);
        taker->cranking_drop = figure_worse(taker->cranking_drop, giver->cranking_drop);
        taker->cranking_drop_by_rule = figure_worse(taker->cranking_drop_by_rule, giver->cranking_drop_by_rule);
    }
    taker->protection = giver->protection;
}

/* What has no cable of its own: only what asks for a voltage gets a figure. */
void cable_record_without(Power *power, const Feed *feed)
{
    hand_through(power, feed);
    if (entity_states(feed->taker, PROP_LOAD_MIN_VOLTAGE)) {
        record_end_voltage(power, feed, power_node(power, feed->taker)->total);
    }
}
