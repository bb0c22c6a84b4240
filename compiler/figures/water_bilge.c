/*
 * Bilge pumps: what each really moves, what all of them move together, what those move that the water of one space
 * reaches, and what the basis asks of a boat of that length.
 *
 * A pump rated in open flow, at charging voltage and without a hose, moves less aboard: its curve is met by
 * lift, hose and the voltage of a bank at rest. An electric one is taken for centrifugal (a parabola), a hand
 * pump for one that displaces (a straight line). The hoses that lead from it say best what it has to press through;
 * where none is stated, its `outlet` does. Where lift, shut-off head or hose is not stated, half of the rating is taken.
 */
#include "figures/pipes.h"

#include "physics/bilge.h"

#include <math.h>

/* A 12 V pump is rated at 13.6 V, and a bank at rest gives 12.0: the share is the same at 24 V. */
#define SHARE_OF_VOLTAGE (12.0 / 13.6)

/* In which the basis prints what it asks. */
static UnitPair published_unit(const Work *work)
{
    return work->figures->basis == BASIS_US ? UNIT_ALONE(UNIT_GPM) : UNIT_BY(UNIT_L, UNIT_MIN);
}

/* That of the first pump that states how much it moves: what is asked stands beside it. */
static UnitPair usual_unit(const Work *work)
{
    for (const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (entity_states(pump, PROP_BILGE_PUMP_RATED)) {
            return unit_of(pump, PROP_BILGE_PUMP_RATED, published_unit(work));
        }
    }
    return published_unit(work);
}

/* One end of everything that the flow hangs on. */
typedef struct Corner {
    double rated, shut_off, lift, volts;
    PipeRun runs[HOSES_AFTER];
    size_t count;
} Corner;

static bool is_usual(const Corner *corner)
{
    bool usual = isfinite(corner->rated) && isfinite(corner->shut_off) && isfinite(corner->lift) && corner->rated > 0.0 &&
                 corner->shut_off > 0.0;
    for (size_t i = 0; i < corner->count && usual; i++) {
        const Hose *hose = &corner->runs[i].hose;
        usual = isfinite(hose->bore_m) && isfinite(hose->length_m) && isfinite(hose->minor_k) && hose->bore_m > 0.0;
    }
    return usual;
}

/* Flow in m3/s; where something is not bounded: `otherwise`, which holds on that side. */
static double flow_at(const Corner *corner, PumpShape shape, double otherwise)
{
    if (corner->volts <= 0.0) {
        return 0.0;
    }
    if (!is_usual(corner)) {
        return otherwise;
    }
    Pump pump = bilge_pump(corner->rated, corner->shut_off);
    pump.shape = shape;
    return bilge_real_m3_per_s(&pump, corner->volts, 1.0, corner->lift, corner->runs, corner->count);
}

bool is_worked_by_hand(const Entity *pump)
{
    return entity_yes(pump, PROP_BILGE_PUMP_HAND) == 1;
}

/*
 * The drop in the pump's cable, if it is known: the feed that the pump, or the circuit that it shares, hangs
 * on.
 */
static const Figure *drop_of(Work *work, const Entity *pump)
{
    const Feed *feed = pump->fed;
    for (int step = 0; feed != NULL && feed->shares && step < 8; step++) {
        feed = feed->giver != NULL ? feed->giver->fed : NULL;
    }
    const Figure *drop =
        feed != NULL ? figure_find(work->figures, feed->subject, FIGURE_TOTAL_DROP, feed_at(feed)) : NULL;
    bool counts = drop != NULL && (drop->state == STATE_KNOWN || feed_property(feed, PROP_FEED_RUN) != NULL);
    return counts ? drop : NULL; /* of a cable whose run nobody states no loss is counted; any other has one, known or not */
}

/*
 * Share of the rated voltage that an electric pump gets; 1 for a hand pump. Writes what the formula shows of
 * it.
 */
static Interval use_voltage(Work *work, const Entity *pump, const char **shown)
{
    *shown = "";
    if (is_worked_by_hand(pump)) {
        return point(1.0);
    }
    Interval share =
        use_fact(work, "voltage of a bank at rest, of the voltage that pumps are rated at",
                 point(SHARE_OF_VOLTAGE), UNIT_ALONE(UNIT_PERCENT),
                 "12.0 V of 13.6 V; flow goes with it, head with its square (affinity laws, from memory)")
            .value;
    const Figure *drop = drop_of(work, pump);
    if (drop == NULL) {
        *shown = ", at {voltage} of its rated voltage";
        return share;
    }
    *shown = ", at {voltage} of its rated voltage less {total-drop}";
    Interval left = interval_max(interval_subtract(point(1.0), use_figure(work, drop).value), point(0.0));
    return interval_multiply(share, left);
}

/* Both ends of all that the flow hangs on, and what its formula says of the hoses. */
typedef struct Ends {
    Corner least, most;
    Sum said;
} Ends;

static void add_run(Ends *ends, Interval bore, Interval length, double roughness, Interval minor)
{
    ends->least.runs[ends->least.count++] = (PipeRun){{bore.low, length.high, roughness, minor.high}, 1.0};
    ends->most.runs[ends->most.count++] = (PipeRun){{bore.high, length.low, roughness, minor.low}, 1.0};
}

/* How rough the inside is that a word tells of. What is taken where there is none is told on the page of what is computed. */
static double use_inside(Work *work, Str material, Sum *said)
{
    Roughness inside = roughness_named(material);
    if (inside != ROUGHNESS_SMOOTH) {
        const PipeRow *row = roughness_row(inside);
        buf_format(&said->formula, ", rough by {roughness of %s},", row->name);
        use_fact(work, text_format(work->figures->arena, "roughness of %s", row->name), point(roughness_m(inside)), UNIT_ALONE(UNIT_MM),
                 row->source);
    }
    return roughness_m(inside);
}

/* What its `outlet` says of the inside of the hose; empty, if it says nothing. */
static Str outlet_inside(const Entity *pump)
{
    const Value *word = property_value(entity_property(pump, PROP_BILGE_PUMP_OUTLET), 2);
    return word->kind == VALUE_WORD ? word->u.word : str_from("");
}

static void use_outlet(Work *work, const Entity *pump, Ends *ends)
{
    Interval bore = use_value(work, pump, PROP_BILGE_PUMP_OUTLET, 0).value;
    Interval length = use_value(work, pump, PROP_BILGE_PUMP_OUTLET, 1).value;
    double k = 2.0 * minor_k(MINOR_ELBOW_90) + minor_k(MINOR_EXIT);
    buf_text(&ends->said.formula, "{bore} by {length} of hose");
    double roughness = use_inside(work, outlet_inside(pump), &ends->said);
    buf_text(&ends->said.formula, " with {k}");
    use_fact(work, "loss coefficient of two elbows and the outlet", point(k), UNIT_ALONE(UNIT_NONE),
             "Munson et al., table 8.2; that there are two is common practice, no source");
    add_run(ends, bore, length, roughness, point(k));
}

/* otherwise: what its inside is like where it does not say that. */
static void use_hose_out(Work *work, const Entity *hose, Str otherwise, bool first, Ends *ends)
{
    Sum *said = &ends->said;
    HoseSize size = use_hose_size(work, said, first ? "" : ", ", hose);
    double roughness = use_inside(work, entity_states(hose, PROP_HOSE_MATERIAL) ? entity_word(hose, PROP_HOSE_MATERIAL) : otherwise, said);
    sum_label(said, work, " with ", hose, "bends");
    Interval minor = interval_scale(use_value(work, hose, PROP_HOSE_BENDS, 0).value, minor_k(MINOR_ELBOW_90));
    buf_text(&said->formula, " bends");
    for (const Loop *loop = plumbing_of(work->figures)->loops[hose->index]; loop != NULL; loop = loop->next) {
        minor = interval_add(minor, point(minor_k(MINOR_VENT_LOOP)));
    }
    add_run(ends, size.bore, size.run, roughness, minor);
}

/* The hoses on its way out, one after the other; at the last one's end the water leaves. */
static void use_hoses(Work *work, const Entity *pump, Ends *ends)
{
    const Entity *hoses[HOSES_AFTER];
    uint32_t count = hoses_after(plumbing_of(work->figures), pump, hoses);
    double k = minor_k(MINOR_EXIT);
    for (uint32_t i = 0; i < count; i++) {
        use_hose_out(work, hoses[i], outlet_inside(pump), i == 0, ends);
    }
    buf_text(&ends->said.formula, " and {k} at its end");
    use_fact(work, "loss coefficient of the outlet", point(k), UNIT_ALONE(UNIT_NONE), "Munson et al., table 8.2");
    ends->least.runs[count - 1].hose.minor_k += k;
    ends->most.runs[count - 1].hose.minor_k += k;
}

static bool states_hoses(const Work *work, const Entity *pump)
{
    const Entity *hoses[HOSES_AFTER];
    return hoses_after(plumbing_of(work->figures), pump, hoses) > 0;
}

static Interval real_flow(Work *work, const Entity *pump, const char **formula)
{
    Ends ends = {.least.count = 0};
    buf_init(&ends.said.formula, work->figures->arena);
    Interval rated = use_value(work, pump, PROP_BILGE_PUMP_RATED, 0).value;
    Interval shut_off = use_value(work, pump, PROP_BILGE_PUMP_SHUT_OFF, 0).value;
    Interval lift = use_value(work, pump, PROP_BILGE_PUMP_LIFT, 0).value;
    if (states_hoses(work, pump)) {
        use_hoses(work, pump, &ends);
    } else {
        use_outlet(work, pump, &ends);
    }
    const char *shown;
    Interval volts = use_voltage(work, pump, &shown);
    *formula = text_format(work->figures->arena, "{rated} falling to nothing at {shut-off}, against {lift} and %s%s",
                           ends.said.formula.text, shown);
    Corner *least = &ends.least, *most = &ends.most;
    least->rated = rated.low, least->shut_off = shut_off.low, least->lift = lift.high, least->volts = volts.low;
    most->rated = rated.high, most->shut_off = shut_off.high, most->lift = lift.low, most->volts = volts.high;
    PumpShape shape = is_worked_by_hand(pump) ? PUMP_LINE : PUMP_PARABOLA;
    return interval_corners(flow_at(least, shape, 0.0), flow_at(most, shape, rated.high));
}

static Interval usual_flow(Work *work, const Entity *pump)
{
    Interval rated = use_value(work, pump, PROP_BILGE_PUMP_RATED, 0).value;
    double share = bilge_fraction(BILGE_FRACTION_SMOOTH);
    use_fact(work, "what is left of a rating aboard", point(share), UNIT_ALONE(UNIT_PERCENT),
             "articles, second hand");
    return interval_scale(rated, share);
}

static void record_pumped(Work *work, const Entity *pump)
{
    bool known = entity_states(pump, PROP_BILGE_PUMP_SHUT_OFF) && entity_states(pump, PROP_BILGE_PUMP_LIFT) &&
                 (entity_states(pump, PROP_BILGE_PUMP_OUTLET) || states_hoses(work, pump));
    const char *formula = "{rated} x {share}";
    work_begin(work);
    Interval flow = known ? real_flow(work, pump, &formula) : usual_flow(work, pump);
    Figure *figure = work_record(work, FIGURE_PUMPED, pump, NULL, flow, formula);
    figure->unit = unit_of(pump, PROP_BILGE_PUMP_RATED, usual_unit(work));
    figure->remark = known ? NULL : "`lift`, `shut-off` and `outlet` together give the real flow";
}

/* The boat, and each well of hers */

bool counts_as_automatic(const Entity *pump)
{
    return !is_worked_by_hand(pump) && entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 1 && pump->fed != NULL;
}

bool is_apart(const Entity *space)
{
    return space != NULL && entity_yes(space, PROP_SPACE_BILGE) == 1;
}

bool water_goes(const Entity *from, const Entity *to)
{
    return from == NULL || to == NULL || from == to || (!is_apart(from) && !is_apart(to));
}

/* All automatic pumps of the boat (space NULL), or those that the water of a space reaches. */
static void record_pumping(Work *work, const Entity *space)
{
    Sum sum;
    UnitPair unit = usual_unit(work);
    sum_begin(&sum, work);
    for (const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP); pump != NULL;
         pump = next_aboard(pump)) {
        if (!counts_as_automatic(pump) || !water_goes(space, entity_reference(pump, PROP_COMMON_SPACE))) {
            continue;
        }
        const Figure *pumped = figure_find(work->figures, pump, FIGURE_PUMPED, NULL);
        unit = work->count == 0 ? pumped->unit : unit;
        sum_next(&sum);
        sum_label(&sum, work, "", pump, "pumped");
        Interval flow = use_figure(work, pumped).value;
        sum_count(&sum, work, pump);
        sum_add(&sum, interval_multiply(flow, use_count(work, pump).value));
    }
    const char *formula = work->count > 0  ? sum.formula.text
                          : space != NULL ? "no automatic bilge pump that is fed stands where its water goes"
                                          : "no automatic bilge pump is fed";
    if (work->count == 0 && space != NULL) {
        unit = figure_find(work->figures, work->model->boat, FIGURE_PUMPING, NULL)->unit;
    }
    work_record(work, FIGURE_PUMPING, space != NULL ? space : work->model->boat, NULL, sum.value, formula)->unit = unit;
}

/* Whether a hose that comes off lets water into a space. */
static bool may_flood(const Model *model, const Entity *space)
{
    const Entity *fitting = first_flooding(model);
    while (fitting != NULL && entity_reference(fitting, PROP_COMMON_SPACE) != space) {
        fitting = next_flooding(fitting);
    }
    return fitting != NULL;
}

/* Wells, and other spaces that may flood, whose water does not reach all of the automatic pumps. */
static void record_wells(Work *work)
{
    for (const Entity *space = first_aboard(work->model, KIND_SPACE); space != NULL; space = next_aboard(space)) {
        if (!is_apart(space) && !may_flood(work->model, space)) {
            continue;
        }
        const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP);
        while (pump != NULL && (!counts_as_automatic(pump) || water_goes(space, entity_reference(pump, PROP_COMMON_SPACE)))) {
            pump = next_aboard(pump);
        }
        if (pump != NULL) {
            record_pumping(work, space);
        }
    }
}

const Figure *pumping_against(const Figures *figures, const Model *model, const Entity *fitting)
{
    const Entity *space = entity_reference(fitting, PROP_COMMON_SPACE);
    const Figure *own = space != NULL ? figure_find(figures, space, FIGURE_PUMPING, NULL) : NULL;
    return own != NULL ? own : figure_find(figures, model->boat, FIGURE_PUMPING, NULL);
}

static void record_hand_pumping(Work *work)
{
    Buf formula;
    Interval most = point(0.0);
    UnitPair unit = usual_unit(work);
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    for (const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP); pump != NULL;
         pump = next_aboard(pump)) {
        if (!is_worked_by_hand(pump)) {
            continue;
        }
        const Figure *pumped = figure_find(work->figures, pump, FIGURE_PUMPED, NULL);
        unit = work->count == 0 ? pumped->unit : unit;
        buf_format(&formula, "%s{%.*s.pumped}", work->count > 0 ? " or " : "",
                   STR_ARG(entity_name(work->model, pump)));
        most = interval_max(most, use_figure(work, pumped).value);
    }
    const char *text = work->count > 0 ? formula.text : "no bilge pump is worked by hand";
    work_record(work, FIGURE_HAND_PUMPING, work->model->boat, NULL, most, text)->unit = unit;
}

/* The two greatest of some numbers, none of which is below zero. */
typedef struct Two {
    double first, second;
} Two;

static void add_to_two(Two *two, double number)
{
    two->second = fmax(two->second, fmin(two->first, number));
    two->first = fmax(two->first, number);
}

/* Pumps one by one, and with all automatic ones as one; at one end of their ranges. */
typedef struct Ranked {
    Two single, joined;
    double fixed, fixed_automatic, automatic;
} Ranked;

/* `meets`: its water is that of the other pumps that do, so that all automatic ones among them may be one. */
static void rank(Ranked *ranked, const Entity *pump, bool meets, double flow, double count)
{
    bool automatic = meets && counts_as_automatic(pump), fixed = entity_yes(pump, PROP_COMMON_PORTABLE) != 1;
    for (int i = 0; i < 2 && i < count; i++) {
        add_to_two(&ranked->single, flow);
        add_to_two(&ranked->joined, automatic ? 0.0 : flow);
    }
    double all = flow > 0.0 ? flow * count : 0.0;
    ranked->automatic += automatic ? all : 0.0;
    ranked->fixed_automatic += automatic && fixed ? all : 0.0;
    ranked->fixed = fixed ? fmax(ranked->fixed, flow) : ranked->fixed;
}

static double first_of(const Ranked *ranked)
{
    return fmax(ranked->fixed, ranked->fixed_automatic);
}

static double second_of(Ranked ranked)
{
    add_to_two(&ranked.joined, ranked.automatic);
    return fmax(ranked.single.second, ranked.joined.second);
}

bool is_inland_alone(const Entity *boat)
{
    const Property *waters = entity_property(boat, PROP_BOAT_WATERS);
    return property_lists(waters, STR("inland")) && !property_lists(waters, STR("coastal")) && !property_lists(waters, STR("offshore"));
}

bool counts_as_pump(const Entity *pump)
{
    return is_worked_by_hand(pump) || pump->fed != NULL || entity_yes(pump, PROP_COMMON_PORTABLE) == 1;
}

/* A pump that counts, and what each of so many moves. */
typedef struct Counted {
    const Entity *pump;
    Interval flow, count;
} Counted;

/* The pumps that count, or of those the ones that the water of a space reaches, are used; how many they are. */
static uint32_t use_pumps(Work *work, const Entity *space, const char *begins, Counted *list, Buf *formula)
{
    uint32_t count = 0;
    for (const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (!counts_as_pump(pump) || !water_goes(space, entity_reference(pump, PROP_COMMON_SPACE))) {
            continue;
        }
        buf_format(formula, "%s{%.*s.pumped}%s", count > 0 ? ", " : begins, STR_ARG(entity_name(work->model, pump)),
                   entity_states(pump, PROP_COMMON_COUNT) ? " of {count}" : "");
        Counted *counted = &list[count++];
        counted->pump = pump;
        counted->flow = use_figure(work, figure_find(work->figures, pump, FIGURE_PUMPED, NULL)).value;
        counted->count = use_count(work, pump).value;
    }
    return count;
}

/* The best, or the second, at one end of the ranges, where the automatic pumps of one well are one (NULL: of all that are no well). */
static double ranked_in(const Counted *list, uint32_t count, const Entity *well, bool second, bool most)
{
    Ranked ranked = {.fixed = 0.0};
    for (uint32_t i = 0; i < count; i++) {
        const Entity *stands = entity_reference(list[i].pump, PROP_COMMON_SPACE);
        bool meets = stands == NULL || stands == well || (well == NULL && !is_apart(stands));
        rank(&ranked, list[i].pump, meets, most ? list[i].flow.high : list[i].flow.low, most ? list[i].count.high : list[i].count.low);
    }
    return second ? second_of(ranked) : first_of(&ranked);
}

/* Of all wells, and of what is none, the one whose pumps give most. */
static double ranked_of(const Work *work, const Counted *list, uint32_t count, bool second, bool most)
{
    double greatest = ranked_in(list, count, NULL, second, most);
    for (const Entity *space = first_aboard(work->model, KIND_SPACE); space != NULL; space = next_aboard(space)) {
        greatest = is_apart(space) ? fmax(greatest, ranked_in(list, count, space, second, most)) : greatest;
    }
    return greatest;
}

static uint32_t count_pumps(const Model *model)
{
    uint32_t count = 0;
    for (const Entity *pump = first_aboard(model, KIND_BILGE_PUMP); pump != NULL; pump = next_aboard(pump)) {
        count++;
    }
    return count;
}

/*
 * iso asks for two pumps, however they are worked: the best and the next, of the boat (space NULL) or of those that reach a
 * well. Both rise with what each pump moves.
 */
static void record_ranked(Work *work, FigureId id, bool second, const Entity *space)
{
    Buf formula;
    Counted *list = ARENA_ARRAY(work->scratch, Counted, (size_t)count_pumps(work->model) + 1);
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    uint32_t count = use_pumps(work, space, second ? "the second of " : "the best of ", list, &formula);
    UnitPair unit = count > 0 ? figure_find(work->figures, list[0].pump, FIGURE_PUMPED, NULL)->unit : usual_unit(work);
    Interval moved = interval_corners(ranked_of(work, list, count, second, false), ranked_of(work, list, count, second, true));
    const char *text = count > 0       ? formula.text
                       : space != NULL ? "no bilge pump that is fed or worked by hand stands where its water goes"
                                       : "no bilge pump is fed or worked by hand";
    work_record(work, id, space != NULL ? space : work->model->boat, NULL, moved, text)->unit = unit;
}

/* Wells whose water does not reach all of the pumps that count. */
static void record_ranked_wells(Work *work)
{
    for (const Entity *space = first_aboard(work->model, KIND_SPACE); space != NULL; space = next_aboard(space)) {
        const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP);
        while (pump != NULL && (!counts_as_pump(pump) || water_goes(space, entity_reference(pump, PROP_COMMON_SPACE)))) {
            pump = next_aboard(pump);
        }
        if (pump != NULL && is_apart(space)) {
            record_ranked(work, FIGURE_FIRST_PUMPING, false, space);
            record_ranked(work, FIGURE_SECOND_PUMPING, true, space);
        }
    }
}

/*
 * A need over all lengths that are possible: at both ends, and at 65 ft, where what is asked of a hand pump
 * is greatest.
 */
static Interval need_over(Basis basis, Interval length, double (*of_need)(const BilgeNeed *))
{
    double middle = fmin(fmax(length.low, 65.0 * 0.3048), length.high);
    BilgeNeed at[] = {bilge_need(basis, length.low), bilge_need(basis, middle),
                      bilge_need(basis, length.high)};
    Interval need = point(of_need(&at[0]));
    for (int i = 1; i < 3; i++) {
        need = interval_hull(need, point(of_need(&at[i])));
    }
    return need;
}

static double hand_need(const BilgeNeed *need)
{
    return need->hand_m3_per_s;
}

static double power_need(const BilgeNeed *need)
{
    return need->power_pumps * need->power_m3_per_s;
}

/* What the basis asks, by length; nothing where it has no figure for one. */
static void record_need(Work *work, FigureId id, FigureId beside, bool hand)
{
    Basis basis = work->figures->basis;
    work_begin(work);
    Interval length = use_value(work, work->model->boat, PROP_BOAT_LENGTH, 0).value;
    if (work->state == STATE_KNOWN && bilge_need(basis, length.low).source == NULL) {
        return;
    }
    Interval need = need_over(basis, length, hand ? hand_need : power_need);
    if (bilge_need(basis, length.high).source == NULL) {
        need = (Interval){0.0, INFINITY}; /* she may be longer than the table goes */
    }
    const char *asked = basis == BASIS_ISO ? "asked of each pump" : hand ? "asked of a hand pump" : "asked of power pumps together";
    use_fact(work, asked, need, published_unit(work),
             basis == BASIS_US ? "46 CFR 182.520(a), for small passenger vessels: a benchmark"
                               : "ISO 15083:2020, from a published summary");
    Figure *figure = work_record(work, id, work->model->boat, NULL, need, "for {length}: {table}");
    figure->unit = figure_find(work->figures, work->model->boat, beside, NULL)->unit;
}

void water_bilge(Work *work)
{
    for (const Entity *pump = first_aboard(work->model, KIND_BILGE_PUMP); pump != NULL;
         pump = next_aboard(pump)) {
        record_pumped(work, pump);
    }
    record_pumping(work, NULL);
    record_wells(work);
    record_hand_pumping(work);
    record_need(work, FIGURE_PUMPING_NEED, FIGURE_PUMPING, false);
    if (work->figures->basis == BASIS_US) {
        record_need(work, FIGURE_HAND_PUMPING_NEED, FIGURE_HAND_PUMPING, true);
    } else {
        record_ranked(work, FIGURE_FIRST_PUMPING, false, NULL);
        record_ranked(work, FIGURE_SECOND_PUMPING, true, NULL);
        record_ranked_wells(work);
    }
}
