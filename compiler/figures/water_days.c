/*
 * Days: what one takes from the fresh water, the fuel and the gas and puts into the holding tank, and how
 * long that lasts.
 *
 * Tanks of fresh water share the load, and so do cylinders, and tanks of waste that the same toilets or sinks reach: all of
 * them together last as long as any one is said to. Nobody is taken to make for a tank what the spec does not say. A tank of grey water that something draws from has no day:
 * it is pumped away as it comes.
 */
#include "figures/water.h"

#include "figures/fuel_plan.h"
#include "figures/power.h"

#include "base/date.h"

#include <math.h>

/* Who uses the water. */
typedef struct People {
    Interval crew;
    Interval toilets; /* that they share, all counted */
} People;

static Interval count_of(const Entity *toilet)
{
    const Value *stated = property_value(entity_property(toilet, PROP_COMMON_COUNT), 0);
    return stated->kind == VALUE_QUANTITY ? (Interval){stated->u.quantity.low, stated->u.quantity.high} : point(1.0);
}

static People use_people(Work *work)
{
    People people = {.crew = use_value(work, work->model->boat, PROP_BOAT_CREW, 0).value};
    for (const Entity *e = first_aboard(work->model, KIND_TOILET); e != NULL; e = next_aboard(e)) {
        people.toilets = interval_add(people.toilets, count_of(e));
    }
    return people;
}

/* What a person brings a toilet: of a composting one nothing but this fills a bottle or a tank, of any other the flush too. */
static const Interval liquids_m3 = {0.8e-3, 2e-3};

static bool is_composting(const Entity *toilet)
{
    return str_is(entity_word(toilet, PROP_TOILET_WORKED_BY), "composting");
}

/* A composting toilet is not flushed, unless it says so. */
static bool is_flushed(const Entity *toilet)
{
    const Value *flush = property_value(entity_property(toilet, PROP_TOILET_FLUSH), 0);
    bool none = flush->kind == VALUE_QUANTITY && flush->u.quantity.high <= 0.0;
    return !is_composting(toilet) || (entity_states(toilet, PROP_TOILET_FLUSH) && !none);
}

/* A toilet's part of what the crew brings to all of them, if they are used alike. */
static Interval use_share(Work *work, Sum *sum, const People *people, const Entity *toilet, Interval term)
{
    Interval own = count_of(toilet), all = people->toilets;
    if (own.low >= all.low && own.high >= all.high) {
        return term; /* there is no other */
    }
    /* As few of them beside as many others as there may be, and the reverse; of two without an end, any. */
    double least = isfinite(all.high) ? own.low / (own.low + (all.high - own.high)) : 0.0;
    double most = isfinite(own.high) ? own.high / (own.high + (all.low - own.low)) : 1.0;
    Interval share = interval_corners(least, most);
    sum_label(sum, work, " x ", toilet, "share");
    use_fact(work, "its share of the flushes", share, UNIT_ALONE(UNIT_PERCENT), "all toilets are used alike");
    return interval_multiply(term, share);
}

/* On a day without flushes nobody uses it; where there may be none, perhaps nobody does. */
static Interval liquids_of_day(const Entity *day, const Entity *toilet)
{
    const Value *flushes = property_value(entity_property(day, PROP_DAY_FLUSHES), 0);
    if (!is_flushed(toilet) || flushes->kind != VALUE_QUANTITY || flushes->u.quantity.low > 0.0) {
        return liquids_m3;
    }
    return (Interval){0.0, flushes->u.quantity.high > 0.0 ? liquids_m3.high : 0.0};
}

static void add_liquids(Work *work, Sum *sum, const Entity *day, const People *people, const Entity *toilet)
{
    Interval liquids = liquids_of_day(day, toilet);
    if (liquids.high <= 0.0) {
        return;
    }
    sum_next(sum);
    sum_label(sum, work, "{crew} x ", toilet, "liquids");
    use_fact(work, "liquids that a person brings it in a day", liquids, UNIT_ALONE(UNIT_L),
             "medical references, the usual range of grown persons (second hand)");
    sum_add(sum, use_share(work, sum, people, toilet, interval_multiply(people->crew, liquids)));
}

/* Water that goes through one of the toilets in a day. */
static void add_flushes(Work *work, Sum *sum, const Entity *day, const People *people, const Entity *toilet)
{
    sum_next(sum);
    sum_label(sum, work, "{crew} x ", day, "flushes");
    Interval flushes = use_value(work, day, PROP_DAY_FLUSHES, 0).value;
    sum_label(sum, work, " x ", toilet, "flush");
    Interval term = interval_multiply(interval_multiply(people->crew, flushes),
                                      use_value(work, toilet, PROP_TOILET_FLUSH, 0).value);
    sum_add(sum, use_share(work, sum, people, toilet, term));
}

static void add_showers(Work *work, Sum *sum, const Entity *day, Interval crew)
{
    if (!entity_states(day, PROP_DAY_SHOWERS)) {
        return;
    }
    sum_next(sum);
    buf_text(&sum->formula, "{crew} x {showers} x {shower}");
    Interval showers = use_value(work, day, PROP_DAY_SHOWERS, 0).value;
    use_fact(work, "water for one shower", point(SHOWER_M3), UNIT_ALONE(UNIT_L), SHOWER_SOURCE);
    sum_add(sum, interval_scale(interval_multiply(crew, showers), SHOWER_M3));
}

/* Water that a watermaker brings that day, for as long as it is used. */
static void take_made(Work *work, const Entity *day, Sum *sum, const Entity *maker)
{
    Interval time;
    if (use_is_mistaken(maker, day)) {
        use_waiting(work);
    }
    if (!use_seconds(maker, day, &time)) {
        return;
    }
    sum_label(sum, work, " - ", maker, "makes-water");
    Interval rate = use_value(work, maker, PROP_LOAD_MAKES_WATER, 0).value;
    sum_label(sum, work, " x ", maker, "use");
    use_fact(work, "time that it runs", time, UNIT_ALONE(UNIT_H), "its `use` that day");
    sum_count(sum, work, maker);
    Interval made = interval_multiply(interval_multiply(rate, time), use_count(work, maker).value);
    sum->value = interval_left(sum->value, made);
}

/* What is made beyond a day's use runs over, or is not made: no day brings more than it takes. */
static void take_all_made(Work *work, const Entity *day, Sum *sum)
{
    bool any = false;
    for (const Entity *e = first_aboard(work->model, KIND_LOAD); e != NULL; e = next_aboard(e)) {
        if (entity_states(e, PROP_LOAD_MAKES_WATER)) {
            take_made(work, day, sum, e);
            any = true;
        }
    }
    sum->value = any ? interval_max(sum->value, point(0.0)) : sum->value;
}

bool fresh_of_day(Work *work, const Entity *day, const Entity *tank, Sum *sum)
{
    (void)tank; /* all share it */
    People people = use_people(work);
    buf_text(&sum->formula, "{crew} x {water}");
    sum_add(sum, interval_multiply(people.crew, use_value(work, day, PROP_DAY_WATER, 0).value));
    for (const Entity *toilet = first_aboard(work->model, KIND_TOILET); toilet != NULL;
         toilet = next_aboard(toilet)) {
        if (str_is(entity_word(toilet, PROP_TOILET_FLUSHES_WITH), "fresh") && is_flushed(toilet)) {
            add_flushes(work, sum, day, &people, toilet);
        }
    }
    add_showers(work, sum, day, people.crew);
    take_all_made(work, day, sum);
    return true;
}

bool black_of_day(Work *work, const Entity *day, const Entity *tank, Sum *sum)
{
    bool any = false;
    People people = use_people(work);
    for (const Entity *toilet = first_aboard(work->model, KIND_TOILET); toilet != NULL;
         toilet = next_aboard(toilet)) {
        const Entity *to = entity_reference(toilet, PROP_TOILET_TO);
        if (to == NULL && is_composting(toilet) && !entity_states(toilet, PROP_TOILET_TO)) {
            continue; /* into a bottle or a bin of its own, of which nothing is known */
        }
        if (to == NULL) {
            use_waiting(work); /* it must be stated: its mistake is told already */
        } else if (to->kind == KIND_TANK && tanks_share(work->figures, to, tank)) {
            if (is_flushed(toilet)) {
                add_flushes(work, sum, day, &people, toilet);
            }
            add_liquids(work, sum, day, &people, toilet);
            any = true;
        }
    }
    any = waste_of_day(work, day, tank, sum) || any;
    return any || work->state == STATE_WAITING;
}

/* Daily flow and endurance of the tanks of one kind */

static Interval lasting(Interval usable, Interval daily, bool renewed)
{
    if (daily.low == 0.0 && daily.high == 0.0) {
        return point(HUGE_VAL); /* nothing uses it */
    }
    Interval lasts = interval_scale(interval_divide(usable, daily), SECONDS_A_DAY);
    if (renewed) { /* who comes to the end of a day comes to that of each */
        lasts.low = lasts.low >= SECONDS_A_DAY ? HUGE_VAL : lasts.low;
        lasts.high = lasts.high >= SECONDS_A_DAY ? HUGE_VAL : lasts.high;
    }
    return lasts;
}

/* What is said of an endurance behind its formula. */
static void tell_renewed(Buf *formula, bool renewed)
{
    buf_text(formula, renewed ? ", and without end where that is a day: it is filled or emptied each day" : "");
}

/* Who shares what a day takes or brings: all of them, or those that are named; NULL: one tank has it alone, or nobody reads it. */
static const char *together(Work *work, const Entity *first)
{
    if (!formula_is_read(work) || next_sharing(work->figures, first) == NULL) {
        return NULL;
    }
    const char *holds = str_copy(work->scratch, entity_word(first, PROP_TANK_HOLDS));
    Buf named;
    uint32_t all = 0, sharing = 0;
    buf_init(&named, work->figures->arena);
    for (const Entity *t = first_counted(work->figures, holds); t != NULL; t = next_counted(work->figures, t, holds)) {
        all++;
    }
    for (const Entity *t = first; t != NULL; t = next_sharing(work->figures, t)) {
        buf_format(&named, "%s`%.*s`", sharing++ > 0 ? " and " : "", STR_ARG(entity_name(work->model, t)));
    }
    return text_format(work->figures->arena, sharing == all ? "all tanks that hold %s share it" : "%s share it",
                       sharing == all ? holds : named.text);
}

static Figure *record_daily_flow(Work *work, const Entity *tank, const Entity *day, DayFlow *of_day)
{
    Sum sum;
    sum_begin(&sum, work);
    if (!of_day(work, day, tank, &sum)) {
        return NULL;
    }
    const char *formula = sum.formula.length > 0 ? sum.formula.text : "nothing";
    Figure *flow = work_record(work, FIGURE_DAILY_FLOW, tank, day, sum.value, formula);
    flow->unit = figure_find(work->figures, tank, FIGURE_VOLUME, NULL)->unit;
    flow->remark = together(work, tank);
    return flow;
}

static Figure *record_endurance(Work *work, const Entity *tank, const Entity *day, const Figure *flow)
{
    Sum sum;
    sum_begin(&sum, work);
    wait_for_tanks(work);
    buf_char(&sum.formula, '(');
    for (const Entity *t = tank; t != NULL; t = next_sharing(work->figures, t)) {
        sum_label(&sum, work, t == tank ? "" : " + ", t, "usable-volume");
        sum_add(&sum, use_figure(work, figure_find(work->figures, t, FIGURE_USABLE_VOLUME, NULL)).value);
    }
    bool renewed = day_renews(work, day, tank);
    buf_text(&sum.formula, ") / {daily-flow} a day");
    tell_renewed(&sum.formula, renewed);
    Interval daily = use_figure(work, flow).value;
    Figure *lasts =
        work_record(work, FIGURE_ENDURANCE, tank, day, lasting(sum.value, daily, renewed), sum.formula.text);
    lasts->remark = flow->remark;
    return lasts;
}

/* The same figure of another tank that shares the load. */
static void record_shared(Work *work, const Figure *of_first, const Entity *tank, const char *formula)
{
    work_begin(work);
    use_figure(work, of_first);
    Figure *shared = work_record(work, (FigureId)of_first->id, tank, of_first->at,
                                 (Interval){of_first->low, of_first->high}, formula);
    shared->unit = of_first->unit;
    shared->remark = of_first->remark;
}

/* Of the tanks that share a load the first one stands for all. */
static void record_day_of_sharing(Work *work, const Entity *first, const Entity *day, DayFlow *of_day)
{
    const Figure *flow = record_daily_flow(work, first, day, of_day);
    const Figure *lasts = flow != NULL ? record_endurance(work, first, day, flow) : NULL;
    const Entity *tank = flow != NULL ? next_sharing(work->figures, first) : NULL;
    for (; tank != NULL; tank = next_sharing(work->figures, tank)) {
        record_shared(work, flow, tank, "{daily-flow of all together}");
        record_shared(work, lasts, tank, "{endurance of all together}");
    }
}

static void record_kind(Work *work, const char *holds, const Entity *day, DayFlow *of_day)
{
    const Entity *tank = first_counted(work->figures, holds);
    for (; tank != NULL; tank = next_counted(work->figures, tank, holds)) {
        if (first_sharing(work->figures, tank) == tank) {
            record_day_of_sharing(work, tank, day, of_day);
        }
    }
}

/* Gas: only where the day says how much it uses, or what burns it does. */
static void record_daily_gas(Work *work, const Entity *day)
{
    const Entity *first = first_aboard(work->model, KIND_GAS_LOCKER);
    if (first == NULL || !day_takes_gas(work->figures, day)) {
        return;
    }
    Sum sum;
    sum_begin(&sum, work);
    buf_char(&sum.formula, '(');
    for (const Entity *locker = first; locker != NULL; locker = next_aboard(locker)) {
        sum_label(&sum, work, locker == first ? "" : " + ", locker, "gas-held");
        sum_add(&sum, use_figure(work, figure_find(work->figures, locker, FIGURE_GAS_HELD, NULL)).value);
    }
    bool renewed = day_renews(work, day, first);
    buf_text(&sum.formula, ") / {gas} a day");
    tell_renewed(&sum.formula, renewed);
    Interval daily = use_gas_of_day(work, day).value;
    const Figure *lasts =
        work_record(work, FIGURE_ENDURANCE, first, day, lasting(sum.value, daily, renewed), sum.formula.text);
    for (const Entity *locker = next_aboard(first); locker != NULL; locker = next_aboard(locker)) {
        record_shared(work, lasts, locker, "{endurance of all together}");
    }
}

void water_days_fresh(Work *work)
{
    for (const Entity *day = first_aboard(work->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
        record_kind(work, "fresh", day, fresh_of_day);
    }
}

/* ---- Fuel: shared by the tanks that the same things draw on ------------------------------------------------ */

bool is_shared_figure(const Figure *figure)
{
    const Input *first = figure->input_count == 1 ? &figure->inputs[0] : NULL;
    return first != NULL && first->kind == INPUT_FIGURE && first->u.figure->id == figure->id && figure->at == first->u.figure->at;
}

/* What is to be said of a share: who else is in it, who is not, and what is taken for granted. */
static const char *fuel_remark(Work *work, const FuelPlan *plan, FuelSet set)
{
    if (!formula_is_read(work)) {
        return NULL;
    }
    Buf text;
    uint32_t others = 0;
    buf_init(&text, work->figures->arena);
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        others += set & fuel_bit(i) ? 1u : 0u;
    }
    if (others == plan->tank_count && others > 1) {
        buf_text(&text, "all tanks that hold fuel share it");
    } else if (others > 1) {
        uint32_t named = 0;
        for (uint32_t i = 0; i < plan->tank_count; i++) {
            if (set & fuel_bit(i)) {
                named++;
                buf_format(&text, "%s`%.*s`", named == 1 ? "" : named == others ? " and " : ", ",
                           STR_ARG(entity_name(work->model, plan->tanks[i])));
            }
        }
        buf_text(&text, " share it");
    }
    uint32_t told = 0;
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        const Entity *burner = plan->burners[i].entity;
        if (plan->burners[i].tanks & set && plan->burners[i].tanks & ~set) {
            buf_format(&text, "%s`%.*s`", told++ > 0 ? ", " : text.length > 0 ? "; left out, for it draws on others too: "
                                                                            : "left out, for it draws on others too: ",
                       STR_ARG(entity_name(work->model, burner)));
        }
    }
    for (uint32_t i = 0; i < plan->burner_count; i++) {
        const FuelBurner *burner = &plan->burners[i];
        bool heats = burns_by_use(burner->entity);
        if (heats && burner->tanks == set && fuel_stated(burner->entity) == FUEL_UNKNOWN && plan->tank_count > 1) {
            buf_format(&text, "%s`%.*s` is taken to burn diesel, for it does not say", text.length > 0 ? "; " : "",
                       STR_ARG(entity_name(work->model, burner->entity)));
        }
    }
    return text.length > 0 ? buf_str(&text).text : NULL;
}

/* The sets that are no tank's own: they may be empty sooner. */
static Interval use_unshared(Work *work, const FuelPlan *plan, const Entity *tank, const Entity *day, Interval least, Buf *formula)
{
    FuelSet set = fuel_unshared(plan, 0);
    for (uint32_t n = 0; set != 0; set = fuel_unshared(plan, ++n)) {
        if (fuel_first(plan, set) != tank) {
            continue;
        }
        Sum volume = {.value = point(0.0)}, flow = {.value = point(0.0)};
        buf_init(&volume.formula, work->figures->arena);
        buf_init(&flow.formula, work->figures->arena);
        fuel_add_volumes(work, plan, set, &volume);
        if (fuel_of_set(work, day, plan, set, &flow)) {
            least = interval_min(least, lasting(volume.value, flow.value, day_renews(work, day, tank)));
            buf_format(formula, ", or (%s) / (%s) a day if that is less", volume.formula.text,
                       flow.formula.length > 0 ? flow.formula.text : "nothing");
        }
    }
    return least;
}

static void record_fuel_of(Work *work, const FuelPlan *plan, const Entity *tank, FuelSet share, const Entity *day)
{
    Sum sum;
    sum_begin(&sum, work);
    if (!fuel_of_set(work, day, plan, share, &sum)) {
        return;
    }
    use_fuel_kinds(work, plan, share);
    Figure *flow = work_record(work, FIGURE_DAILY_FLOW, tank, day, sum.value, sum.formula.length > 0 ? sum.formula.text : "nothing");
    flow->unit = figure_find(work->figures, tank, FIGURE_VOLUME, NULL)->unit;
    flow->remark = fuel_remark(work, plan, share);

    sum_begin(&sum, work);
    buf_char(&sum.formula, '(');
    fuel_add_volumes(work, plan, share, &sum);
    bool renewed = day_renews(work, day, tank);
    buf_text(&sum.formula, ") / {daily-flow} a day");
    Interval daily = use_figure(work, flow).value;
    Interval least = use_unshared(work, plan, tank, day, lasting(sum.value, daily, renewed), &sum.formula);
    tell_renewed(&sum.formula, renewed);
    work_record(work, FIGURE_ENDURANCE, tank, day, least, sum.formula.text)->remark = flow->remark;
}

static void record_daily_fuel(Work *work, const Entity *day, const FuelPlan *plan)
{
    for (uint32_t i = 0; i < plan->tank_count; i++) {
        FuelSet share = fuel_share(plan, i);
        const Entity *tank = plan->tanks[i];
        const Entity *first = fuel_first_sharing(plan, share);
        const Figure *flow = first != NULL ? figure_find(work->figures, first, FIGURE_DAILY_FLOW, day) : NULL;
        if (first == tank) {
            record_fuel_of(work, plan, tank, share, day);
        } else if (flow != NULL) {
            record_shared(work, flow, tank, "{daily-flow of all together}");
            record_shared(work, figure_find(work->figures, first, FIGURE_ENDURANCE, day), tank, "{endurance of all together}");
        }
    }
}

void water_days(Work *work)
{
    const FuelPlan *plan = fuel_plan(work->scratch, work->model);
    for (const Entity *day = first_aboard(work->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
        record_kind(work, "black", day, black_of_day);
        record_kind(work, "grey", day, waste_of_day);
        record_daily_fuel(work, day, plan);
        record_daily_gas(work, day);
    }
}
