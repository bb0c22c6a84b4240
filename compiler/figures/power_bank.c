/*
 * Banks: capacity, what may be used of it, what a short circuit would draw, and what flows at once. What a day takes and
 * brings is run in power_days.c.
 */
#include "figures/power_days.h"

#include "physics/battery.h"
#include "physics/fault.h"

#include <math.h>

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

Interval bank_open_v(const Entity *bank, Interval stated_v)
{
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry)) {
        return stated_v;
    }
    const Value *stated = property_value(entity_property(bank, PROP_BANK_SERIES), 0);
    bool usable = stated->kind == VALUE_QUANTITY && stated->u.quantity.low > 0.0 && isfinite(stated->u.quantity.high);
    Interval series = usable ? (Interval){stated->u.quantity.low, stated->u.quantity.high} : point(1.0);
    return interval_corners(battery_open_v(chemistry, stated_v.low / series.low, series.low),
                            battery_open_v(chemistry, stated_v.high / series.high, series.high));
}

/* A property of the bank, or the figure that its chemistry usually has. */
Quantity use_bank_value(Work *work, const Entity *bank, PropId prop, BatteryFigure figure, UnitPair unit)
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
    const char *source = row->evidence == EVIDENCE_MEMORY ? "usual for its chemistry, from memory"
                                                          : "usual for its chemistry; common practice, no source";
    double value = row->value[chemistry];
    return use_assumption(work, bank, prop, 0,
                          (Fact){.what = row->name, .low = value, .high = value, .unit = unit, .source = source});
}

Quantity use_or_one(Work *work, const Entity *entity, PropId prop)
{
    Quantity stated = use_stated(work, entity, prop, 0);
    return stated.state == STATE_MISSING ? (Quantity){point(1.0), STATE_KNOWN} : stated;
}

Quantity use_strings(Work *work, const Entity *entity, PropId series, PropId parallel)
{
    Quantity stated = use_stated(work, entity, parallel, 0);
    if (stated.state != STATE_MISSING) {
        return stated;
    }
    Quantity count = use_count(work, entity);
    Quantity in_series = use_or_one(work, entity, series);
    if (count.state == STATE_KNOWN && in_series.state == STATE_KNOWN) {
        Interval of_one = interval_max(point(1.0), in_series.value);
        count.value = interval_max(point(1.0), interval_divide(count.value, of_one));
    }
    return count;
}

Quantity use_bank_strings(Work *work, const Entity *bank)
{
    return use_strings(work, bank, PROP_BANK_SERIES, PROP_BANK_PARALLEL);
}

Interval use_bank_volts(Work *work, const Entity *bank, const char **shown)
{
    Interval volts = use_value(work, bank, PROP_BANK_VOLTAGE, 0).value;
    *shown = "{voltage}";
    if (entity_states(bank, PROP_BANK_SERIES)) {
        volts = interval_multiply(volts, use_value(work, bank, PROP_BANK_SERIES, 0).value);
        *shown = "({voltage} x {series})";
    }
    return volts;
}

Quantity use_filled(Power *power, const Entity *entity, PropId prop)
{
    double sized = power_node(power, entity)->sized;
    if (sized <= 0.0) {
        return use_value(power->work, entity, prop, 0);
    }
    const Figure *fitting = figure_find(power->work->figures, entity, FIGURE_FITTING_SIZE, NULL);
    return fitting != NULL ? use_figure(power->work, fitting) : (Quantity){point(sized), STATE_KNOWN};
}

static const Figure *record_capacity(Power *power, const Entity *bank)
{
    Work *work = power->work;
    work_begin(work);
    Quantity one = use_filled(power, bank, PROP_BANK_CAPACITY);
    Quantity strings = use_bank_strings(work, bank);
    Figure *figure = work_record(work, FIGURE_CAPACITY, bank, NULL, interval_multiply(one.value, strings.value),
                                 "{capacity} of one, times the strings in parallel");
    if (power_node(power, bank)->sized > 0.0) {
        work_choose(work, figure, true);
    }
    return figure;
}

static const Figure *record_usable(Power *power, const Entity *bank, const Figure *capacity)
{
    Work *work = power->work;
    work_begin(work);
    Quantity charge = use_figure(work, capacity);
    const char *shown;
    Interval volts = use_bank_volts(work, bank, &shown);
    Quantity share = use_bank_value(work, bank, PROP_BANK_USABLE, BATTERY_USABLE, UNIT_ALONE(UNIT_PERCENT));
    Interval joule = interval_multiply(interval_multiply(charge.value, volts), share.value);
    return work_record(work, FIGURE_USABLE_ENERGY, bank, NULL, joule,
                       text_format(work->figures->arena, "{capacity} x %s x {usable share}", shown));
}

/* Short circuit: stated current, else voltage over the stated or usual resistance. */

static Interval usual_resistance(const Entity *bank, Interval nominal_v, const Figure *capacity)
{
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry) || nominal_v.low <= 0.0 || capacity->low <= 0.0 || !isfinite(capacity->high)) {
        return (Interval){0.0, INFINITY};
    }
    Interval least = battery_resistance_ohm(chemistry, nominal_v.low, capacity->high);
    Interval most = battery_resistance_ohm(chemistry, nominal_v.high, capacity->low);
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
        Quantity strings = use_bank_strings(work, bank);
        current = interval_multiply(one.value, strings.value);
        formula = "{short-circuit} of one, times the strings in parallel";
    } else {
        Interval ohm;
        Chemistry chemistry;
        use_value(work, bank, PROP_BANK_VOLTAGE, 0);
        if (entity_states(bank, PROP_BANK_RESISTANCE)) {
            Quantity one = use_value(work, bank, PROP_BANK_RESISTANCE, 0);
            Quantity series = use_or_one(work, bank, PROP_BANK_SERIES);
            Quantity strings = use_bank_strings(work, bank);
            ohm = interval_divide(interval_multiply(one.value, series.value), strings.value);
        } else {
            use_figure(work, capacity);
            if (!bank_chemistry(bank, &chemistry)) {
                use_waiting(work); /* a mistake: nobody can tell what is usual for it */
            }
            bool known = capacity->state == STATE_KNOWN && node->nominal_v > 0.0;
            ohm = known ? usual_resistance(bank, node_nominal(node), capacity) : point(1.0);
            use_fact(work, "its resistance, the low end of what is usual", ohm, UNIT_ALONE(UNIT_MOHM),
                     "usual for its chemistry and capacity, from memory");
        }
        Interval open = bank_open_v(bank, node->working_v);
        use_fact(work, "open-circuit voltage of all in series, rested and full", open, UNIT_ALONE(UNIT_V),
                 "by its chemistry, from memory; never less than `voltage`");
        current = interval_divide(open, ohm);
        formula = "open-circuit voltage / resistance of the whole bank";
    }
    if (node->nominal_v <= 0.0) {
        use_no_voltage(work, bank);
    }
    work_record(work, FIGURE_SHORT_CIRCUIT, bank, NULL, current, formula);
}

/* Into a lithium battery with a fault all others discharge themselves; what lead gives is left to what guards the bank. */
static void record_battery_back(Power *power, const Entity *bank)
{
    Work *work = power->work;
    Chemistry chemistry;
    work_begin(work);
    Interval strings = use_bank_strings(work, bank).value;
    if (!bank_chemistry(bank, &chemistry) || chemistry != CHEMISTRY_LIFEPO4 || strings.high < 2.0) {
        return;
    }
    work_begin(work);
    Interval all = use_figure(work, figure_find(work->figures, bank, FIGURE_SHORT_CIRCUIT, NULL)).value;
    strings = use_bank_strings(work, bank).value;
    Interval share = {1.0 - 1.0 / fmax(strings.low, 1.0), 1.0 - 1.0 / fmax(strings.high, 1.0)};
    work_record(work, FIGURE_BATTERY_BACK, bank, NULL, interval_multiply(all, share),
                "{short-circuit-current} x (strings in parallel - 1) / strings in parallel");
}

void power_capacities(Power *power)
{
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (!(bank->flags & ENTITY_DROPPED)) {
            record_capacity(power, bank);
        }
    }
}

void power_short_circuits(Power *power)
{
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (!(bank->flags & ENTITY_DROPPED)) {
            record_short_circuit(power, bank);
            record_battery_back(power, bank);
        }
    }
}

/* What charges a bank */

static const Entity *bank_of_target(const Power *power, const Entity *target)
{
    const Entity *source = power_node(power, target)->source;
    return source != NULL && source->kind == KIND_BANK ? source : NULL;
}

/* Whether nothing on the way from a thing up to its source is dropped: that hands nothing on. */
static bool is_joined(const Entity *thing)
{
    enum { DEEPEST = 64 }; /* longer than any chain of feeds aboard */
    for (int step = 0; thing != NULL && step < DEEPEST; step++) {
        if (thing->flags & ENTITY_DROPPED) {
            return false;
        }
        const Feed *feed = thing->fed;
        while (feed != NULL && feed->giver != NULL && feed->giver->flags & ENTITY_DROPPED && feed->next != NULL) {
            feed = feed->next;
        }
        thing = feed != NULL ? feed->giver : NULL;
    }
    return true;
}

/* The bank that a thing is, or that its first feed comes from; NULL: none. */
static const Entity *bank_above(const Entity *thing)
{
    enum { DEEPEST = 64 };
    for (int step = 0; thing != NULL && thing->kind != KIND_BANK && step < DEEPEST; step++) {
        thing = thing->fed != NULL ? thing->fed->giver : NULL;
    }
    return thing != NULL && thing->kind == KIND_BANK ? thing : NULL;
}

const Entity *engine_on_its_bank(const Feed *feed)
{
    const Entity *maker = feed->giver;
    const Entity *engine = maker->kind == KIND_ALTERNATOR ? entity_reference(maker, PROP_ALTERNATOR_ENGINE) : NULL;
    if (engine == NULL || is_cranked(engine)) {
        return NULL;
    }
    const Entity *bank = bank_above(feed->taker);
    return bank != NULL && bank == bank_above(engine) ? engine : NULL;
}

bool feed_brings(const Feed *feed)
{
    const Entity *maker = feed->giver;
    const Entity *engine = maker->kind == KIND_ALTERNATOR ? entity_reference(maker, PROP_ALTERNATOR_ENGINE) : NULL;
    bool driven = engine == NULL || !(engine->flags & ENTITY_DROPPED);
    return driven && engine_on_its_bank(feed) == NULL && is_joined(maker) && is_joined(feed->taker);
}

/* Notes, at each bank, the makers whose output reaches it: counted first, so that each list has its size. */
void power_find_makers(Power *power)
{
    const Model *model = power->model;
    for (int pass = 0; pass < 2; pass++) {
        for (uint32_t i = 0; i < model->feed_count; i++) {
            const Feed *feed = model->feeds[i];
            const Entity *bank = feed->maker ? bank_of_target(power, feed->taker) : NULL;
            if (bank == NULL || !feed_brings(feed)) {
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
            node->makers = ARENA_ARRAY(power->work->scratch, const Feed *, node->maker_count + 1);
            node->maker_count = 0;
        }
    }
}

/* Walks up from what a maker feeds, by all ways that a switch may take. */
struct Climb {
    const Entity **things;
    uint32_t *seen, asked, count; /* `seen` by Entity.index: the maker, or the load, for which it was last come by */
};

static void climb_to(Climb *climb, const Entity *thing)
{
    if (thing != NULL && !(thing->flags & (ENTITY_DROPPED | ENTITY_LOOP)) && climb->seen[thing->index] != climb->asked) {
        climb->seen[thing->index] = climb->asked;
        climb->things[climb->count++] = thing;
    }
}

static const Feed *first_aboard_feed(const Entity *thing)
{
    const Feed *feed = thing->fed;
    while (feed != NULL && (feed->giver == NULL || feed->giver->flags & ENTITY_DROPPED)) {
        feed = feed->next;
    }
    return feed;
}

/* The bank that it is, or that the first of its feeds comes from; NULL: none, or what turns power stands between. */
static const Entity *bank_first_above(const Entity *thing)
{
    enum { DEEPEST = 64 };
    for (int step = 0; thing != NULL && thing->kind != KIND_BANK && step < DEEPEST; step++) {
        const Feed *feed = turns_power(thing) ? NULL : first_aboard_feed(thing);
        thing = feed != NULL ? feed->giver : NULL;
    }
    return thing != NULL && thing->kind == KIND_BANK ? thing : NULL;
}

/* An emergency switch is closed for a moment, with somebody at it: what hangs there counts for the first of its banks. */
static void climb_feeds(Climb *climb, const Entity *thing)
{
    const Feed *first = first_aboard_feed(thing);
    bool lends = str_is(entity_word(thing, PROP_SWITCH_WORKS_AS), "emergency");
    for (const Feed *feed = thing->fed; feed != NULL && thing->kind != KIND_BANK && !turns_power(thing); feed = feed->next) {
        if (feed == first || !lends) {
            climb_to(climb, feed->giver);
        }
    }
}

static void climb_up(Climb *climb, const Entity *thing)
{
    uint32_t from = climb->count;
    climb_to(climb, thing);
    for (uint32_t i = from; i < climb->count; i++) {
        climb_feeds(climb, climb->things[i]);
    }
}

static Climb make_climb(const Model *model, Arena *scratch)
{
    return (Climb){.things = ARENA_ARRAY(scratch, const Entity *, model->entity_count + 1),
                   .seen = ARENA_ARRAY(scratch, uint32_t, model->entity_count + 1),
                   .asked = 1};
}

Climb *climb_new(const Model *model, Arena *scratch)
{
    Climb *climb = ARENA_NEW(scratch, Climb);
    *climb = make_climb(model, scratch);
    return climb;
}

const Entity **banks_above(Climb *climb, const Entity *thing, uint32_t *count)
{
    climb->count = *count = 0;
    climb->asked++;
    climb->seen[thing->index] = climb->asked; /* it is above itself in a loop at most */
    climb_feeds(climb, thing);
    for (uint32_t i = 0; i < climb->count; i++) {
        climb_feeds(climb, climb->things[i]);
        if (climb->things[i]->kind == KIND_BANK) {
            climb->things[(*count)++] = climb->things[i];
        }
    }
    return climb->things;
}

/* The banks above one feed of a maker that it has not come to yet, in front of the list. */
static Turned *find_turned(Arena *arena, Climb *climb, const Feed *feed, Turned *list)
{
    uint32_t from = climb->count;
    climb_up(climb, feed->taker);
    for (uint32_t i = from; i < climb->count; i++) {
        if (climb->things[i]->kind == KIND_BANK) {
            Turned *turned = ARENA_NEW(arena, Turned);
            *turned = (Turned){feed, climb->things[i], list};
            list = turned;
        }
    }
    return list;
}

Turned *charged_when_turned(const Model *model, Arena *scratch, Arena *arena)
{
    Climb climb = make_climb(model, scratch);
    Turned *list = NULL;
    for (uint32_t i = model->entity_count; i-- > 0;) {
        const Entity *maker = model->entities[i];
        climb.count = 0;
        climb.asked++;
        for (const Feed *feed = maker->gives; feed != NULL; feed = feed->next_of_giver) {
            const Entity *bank = feed->maker && feed_brings(feed) ? bank_first_above(feed->taker) : NULL;
            if (bank != NULL) {
                climb.seen[bank->index] = climb.asked; /* that one it charges as things stand */
            }
        }
        for (const Feed *feed = maker->gives; feed != NULL; feed = feed->next_of_giver) {
            if (feed->maker && feed_brings(feed)) {
                list = find_turned(arena, &climb, feed, list);
            }
        }
    }
    return list;
}

/* What flows at once */

/* Whether something draws that hangs on nobody knows what. */
static bool may_miss_strays(const Power *power)
{
    for (uint32_t i = 0; i < power->stray_count; i++) {
        if (power_node(power, power->strays[i]->taker)->flow.all.high > 0.0) {
            return true;
        }
    }
    return false;
}

static void record_discharge(Power *power, const Entity *bank)
{
    Work *work = power->work;
    work_begin(work);
    const PowerNode *node = power_node(power, bank);
    for (const Feed *feed = bank->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *current = power_node(power, feed->taker)->current;
        if (!feed->maker && !is_cranked(feed->taker) && current != NULL && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP))) {
            use_figure(work, current);
        }
    }
    if (node->state == STATE_WAITING || node->flow.waits || may_miss_strays(power)) {
        use_waiting(work);
    }
    work_record(work, FIGURE_DISCHARGE_CURRENT, bank, NULL, flow_at_once(&node->flow),
                "all that runs long, plus the greater of the largest brief one and a tenth of them");
}

static void add_output(Work *work, const Feed *feed, Interval *sum)
{
    Quantity amps = use_figure(work, figure_find(work->figures, feed->subject, FIGURE_CURRENT, feed_at(feed)));
    if (amps.state == STATE_KNOWN) {
        *sum = interval_add(*sum, amps.value);
    }
}

static void record_charge_current(Power *power, const Entity *bank, const Turned *turned)
{
    Work *work = power->work;
    work_begin(work);
    Interval sum = point(0.0);
    for (const Feed **feed = power_node(power, bank)->makers; *feed != NULL; feed++) {
        add_output(work, *feed, &sum);
    }
    for (; turned != NULL; turned = turned->next) {
        if (turned->bank == bank) {
            add_output(work, turned->feed, &sum);
        }
    }
    work_record(work, FIGURE_CHARGE_CURRENT, bank, NULL, sum, "sum of the outputs that reach it");
}

static void compute_bank(Power *power, const Entity *bank, const Turned *turned)
{
    const Figure *capacity = figure_find(power->work->figures, bank, FIGURE_CAPACITY, NULL);
    record_usable(power, bank, capacity);
    record_discharge(power, bank);
    record_charge_current(power, bank, turned);
}

void power_banks(Power *power)
{
    const Turned *turned = charged_when_turned(power->model, power->work->scratch, power->work->scratch);
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (!(bank->flags & ENTITY_DROPPED)) {
            compute_bank(power, bank, turned);
        }
    }
    power_days(power);
    power_limits(power);
}
