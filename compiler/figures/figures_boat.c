/*
 * Figures of the boat as a whole: what she weighs, what she costs, how long she lasts.
 *
 * Sums over all physical things that are not dropped. A thing that does not say its mass or its price is
 * left out, and the figure's remark says how many were: a sum of what is known, never a guess at the rest.
 * Money is in the boat's currency; the model has turned every price to it.
 */
#include "figures/boat.h"
#include "figures/water.h"

#include "model/agree.h"
#include "model/money.h"
#include "model/status.h"

#include <math.h>
#include <string.h>

/* A sum over things, and how many of them had nothing to add. */
typedef struct Total {
    Interval value;
    uint32_t with;
    uint32_t without;
} Total;

/* One whose first line or status is a mistake may count or not: what is summed has to wait. */
bool boat_counts(Work *work, const Entity *entity)
{
    if (entity->kind == KIND_NONE ||
        (entity->flags & ENTITY_BROKEN && kinds[entity->kind].groups & GROUPS_COMMON)) {
        use_waiting(work);
        return false;
    }
    if (!is_bought(entity) || entity->flags & ENTITY_DROPPED) {
        return false;
    }
    if (thing_status(entity) == STATUS_WAITING) {
        use_waiting(work);
        return false;
    }
    return true;
}

static const BoatThings *gather_things(Work *work)
{
    const Model *model = work->model;
    State before = work->state;
    BoatThings *things = ARENA_NEW(work->figures->arena, BoatThings);
    things->list = ARENA_ARRAY(work->figures->arena, const Entity *, model->entity_count);
    work->state = STATE_KNOWN;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        if (boat_counts(work, model->entities[i])) {
            things->list[things->count++] = model->entities[i];
        }
    }
    things->waiting = work->state == STATE_WAITING;
    work->state = before;
    return things;
}

const BoatThings *boat_things(Work *work)
{
    FigureTrace *trace = work->figures->trace;
    if (trace->things == NULL) {
        trace->things = gather_things(work);
    }
    if (trace->things->waiting) {
        use_waiting(work);
    }
    return trace->things;
}

void boat_order_by_system(const Entity *const things[], size_t count, const Entity *ordered[], size_t first[])
{
    size_t next[SYSTEM_COUNT + 1];
    memset(first, 0, sizeof next);
    for (size_t i = 0; i < count; i++) {
        first[things[i]->system + 1]++;
    }
    for (size_t system = 0; system < SYSTEM_COUNT; system++) {
        first[system + 1] += first[system];
    }
    memcpy(next, first, sizeof next);
    for (size_t i = 0; i < count; i++) {
        ordered[next[things[i]->system]++] = things[i];
    }
}

/* Strings of batteries and panels count by their layout. */
Interval boat_pieces(Work *work, const Entity *entity)
{
    Interval count;
    bool bank = entity->kind == KIND_BANK, strings = bank || entity->kind == KIND_SOLAR;
    if (strings && !entity_states(entity, PROP_COMMON_COUNT) && layout_count(entity, &count)) {
        use_stated(work, entity, bank ? PROP_BANK_SERIES : PROP_SOLAR_SERIES, 0);
        use_stated(work, entity, bank ? PROP_BANK_PARALLEL : PROP_SOLAR_PARALLEL, 0);
    } else {
        count = use_count(work, entity).value;
    }
    if (entity->purchase != NULL && !interval_is_point(count) && status_is_committed(thing_status(entity))) {
        Purchase purchase = purchase_of(entity); /* no fewer are wanted than came, but for the spares among them */
        count.low = fmin(fmax(count.low, fmax(purchase.arrived, purchase.fitted) - purchase.spare.high), count.high);
    }
    Quantity spare = use_stated(work, entity, PROP_COMMON_SPARE, 0);
    return spare.state == STATE_KNOWN ? interval_add(count, spare.value) : count;
}

bool boat_leaves_out(Work *work, PropId prop)
{
    const BoatThings *things = boat_things(work);
    uint32_t i = 0;
    bool weight = prop == PROP_COMMON_MASS;
    while (i < things->count && (entity_states(things->list[i], prop) || (weight && is_ashore(things->list[i])))) {
        i++;
    }
    return i < things->count;
}

/* What hangs on it, or NULL. */
static const Figure *rode_of(const Work *work, const Entity *entity)
{
    return entity->kind == KIND_ANCHOR ? figure_find(work->figures, entity, FIGURE_RODE_MASS, NULL) : NULL;
}

bool boat_weighs(const Work *work, const Entity *entity)
{
    return !is_ashore(entity) && (entity_states(entity, PROP_COMMON_MASS) || rode_of(work, entity) != NULL);
}

Quantity boat_mass(Work *work, const Entity *entity)
{
    Quantity own = use_stated(work, entity, PROP_COMMON_MASS, 0);
    const Figure *rode = rode_of(work, entity);
    if (rode == NULL) {
        return own;
    }
    Quantity hangs = use_figure(work, rode);
    if (own.state == STATE_MISSING) {
        return hangs;
    }
    own.value = interval_add(own.value, hangs.value);
    own.state = own.state == STATE_KNOWN ? hangs.state : own.state;
    return own;
}

static void add_product(Work *work, Total *sum, const Entity *entity, Quantity one)
{
    if (one.state == STATE_MISSING) {
        sum->without++;
    } else {
        sum->value = interval_add(sum->value, interval_multiply(one.value, boat_pieces(work, entity)));
        sum->with++;
    }
}

/* "7 things have no mass"; nothing for none. */
static void write_left_out(Buf *to, uint32_t count, const char *what)
{
    if (count > 0) {
        buf_format(to, "%u %s no %s", (unsigned)count, count == 1 ? "thing has" : "things have", what);
    }
}

static void set_remark(Figure *figure, const Buf *text)
{
    figure->remark = text->length > 0 ? text->text : NULL;
}

/* Mass */

static bool has_contents(const Model *model)
{
    return first_aboard(model, KIND_TANK) != NULL || first_aboard(model, KIND_WATER_HEATER) != NULL ||
           first_aboard(model, KIND_GAS_LOCKER) != NULL;
}

/* As the displacement is stated, but not in tonnes: in these a cushion or a rode is hard to read. */
UnitPair mass_unit(const Model *model)
{
    const Value *displacement = property_value(entity_property(model->boat, PROP_BOAT_DISPLACEMENT), 0);
    if (displacement->kind != VALUE_QUANTITY) {
        return model_unit(model, UNIT_ALONE(figure_rows[FIGURE_MASS].unit));
    }
    return displacement->unit.unit == UNIT_T ? UNIT_ALONE(UNIT_KG) : displacement->unit;
}

static const Figure *record_mass(Work *work, uint32_t *without)
{
    const Model *model = work->model;
    Total sum = {{0.0, 0.0}, 0, 0};
    uint32_t not_its_own = 0; /* anchors of which only chain and rope are weighed */
    work_begin(work);
    const BoatThings *things = boat_things(work);
    for (uint32_t i = 0; i < things->count; i++) {
        const Entity *entity = things->list[i];
        if (is_ashore(entity)) {
            continue;
        }
        add_product(work, &sum, entity, boat_mass(work, entity));
        not_its_own += !entity_states(entity, PROP_COMMON_MASS) && rode_of(work, entity) != NULL;
    }
    if (sum.with == 0) {
        return NULL; /* nothing was weighed: no sum, not a sum of nothing */
    }
    Figure *mass =
        work_record(work, FIGURE_MASS, model->boat, NULL, sum.value, "sum of mass x (count + spare)");
    mass->unit = mass_unit(model);
    sum.without += not_its_own;
    *without = sum.without;
    mass->partial = sum.without > 0;
    Buf remark;
    buf_init(&remark, work->figures->arena);
    write_left_out(&remark, sum.without, "mass");
    if (has_contents(model)) {
        buf_text(&remark, remark.length > 0 ? "; what is in the tanks is not counted"
                                            : "what is in the tanks is not counted");
    }
    set_remark(mass, &remark);
    return mass;
}

/* Things and contents together: what she weighs at the fill levels of the weight study. */
static void record_loaded_mass(Work *work, const Figure *mass, uint32_t without)
{
    const Model *model = work->model;
    Buf formula;
    buf_init(&formula, work->figures->arena);
    buf_text(&formula, "{mass}");
    work_begin(work);
    Interval sum = use_figure(work, mass).value;
    for (const Entity *tank = model->first_of_kind[KIND_TANK]; tank != NULL; tank = tank->next_of_kind) {
        const Figure *full = figure_find(work->figures, tank, FIGURE_FULL_MASS, NULL);
        if (full == NULL || tank->flags & ENTITY_DROPPED) {
            continue;
        }
        Interval contents = use_figure(work, full).value;
        contents = interval_multiply(contents, use_value(work, tank, PROP_TANK_FILL_LEVEL, 0).value);
        sum = interval_add(sum, contents);
        Str name = entity_name(model, tank);
        if (formula_is_read(work)) {
            buf_format(&formula, " + {%.*s.full-mass} x {%.*s.fill-level}", STR_ARG(name), STR_ARG(name));
        }
    }
    static const KindId stay_full[] = {KIND_WATER_HEATER, KIND_GAS_LOCKER};
    for (size_t i = 0; i < sizeof stay_full / sizeof stay_full[0]; i++) {
        for (const Entity *e = first_aboard(model, stay_full[i]); e != NULL; e = next_aboard(e)) {
            const Figure *full = figure_find(work->figures, e, FIGURE_FULL_MASS, NULL);
            if (full != NULL) {
                sum = interval_add(sum, use_figure(work, full).value);
                if (formula_is_read(work)) {
                    buf_format(&formula, " + {%.*s.full-mass}", STR_ARG(entity_name(model, e)));
                }
            }
        }
    }
    Figure *loaded = work_record(work, FIGURE_LOADED_MASS, model->boat, NULL, sum, formula.text);
    loaded->unit = mass->unit;
    loaded->partial = without > 0;
    Buf remark;
    buf_init(&remark, work->figures->arena);
    write_left_out(&remark, without, "mass");
    set_remark(loaded, &remark);
}

static void record_mass_gap(Work *work, const Figure *mass)
{
    work_begin(work);
    Quantity displacement = use_value(work, work->model->boat, PROP_BOAT_DISPLACEMENT, 0);
    Quantity sum = use_figure(work, mass);
    Interval left = interval_left(displacement.value, sum.value);
    left.low = mass->partial ? -INFINITY : left.low; /* what is not weighed takes of it */
    Figure *gap = work_record(work, FIGURE_MASS_GAP, work->model->boat, NULL, left, "{displacement} - {mass}");
    gap->unit = mass->unit;
    gap->remark = mass->remark;
}

/* Money */

Quantity boat_price(Work *work, const Entity *entity)
{
    const Property *price = entity_property(entity, PROP_COMMON_PRICE);
    return price != NULL ? use_statement(work, entity, price, 0) : use_stated(work, entity, PROP_COMMON_QUOTE, 0);
}

/* Whoever follows a sum is told what makes a range of a decided price. */
static void use_price_rate(Work *work, const Entity *entity)
{
    const Property *price = entity_property(entity, PROP_COMMON_PRICE);
    const Property *asked = price != NULL ? price : entity_property(entity, PROP_COMMON_QUOTE);
    const Property *rate = asked != NULL ? money_open_rate(work->model, property_value(asked, 0)) : NULL;
    if (rate != NULL) {
        use_statement(work, work->model->boat, rate, 0);
    }
}

void begin_money(Work *work)
{
    work_begin(work);
    if (work->model->currency.length == 0) {
        use_waiting(work); /* the boat's currency is a mistake: amounts mean nothing yet */
    }
}

static Figure *record_money(Work *work, FigureId id, Interval value, const char *formula)
{
    Figure *figure = work_record(work, id, work->model->boat, NULL, value, formula);
    figure->money = true;
    return figure;
}

/* The sum of price and pieces over all things of such a status. */
static Figure *record_prices(Work *work, FigureId id, bool (*belongs)(Status), Total *sum)
{
    *sum = (Total){{0.0, 0.0}, 0, 0};
    begin_money(work);
    const BoatThings *things = boat_things(work);
    const bool rates = entity_states(work->model->boat, PROP_BOAT_RATE);
    for (uint32_t i = 0; i < things->count; i++) {
        const Entity *entity = things->list[i];
        if (belongs(thing_status(entity))) {
            add_product(work, sum, entity, boat_price(work, entity));
            if (rates) {
                use_price_rate(work, entity);
            }
        }
    }
    Figure *figure = record_money(work, id, sum->value, "sum of price x (count + spare)");
    Buf remark;
    buf_init(&remark, work->figures->arena);
    write_left_out(&remark, sum->without, "price");
    set_remark(figure, &remark);
    return figure;
}

static Figure *record_contingency(Work *work, const Figure *still_to_buy)
{
    begin_money(work);
    Quantity rest = use_figure(work, still_to_buy);
    Quantity share = use_value(work, work->model->boat, PROP_BOAT_CONTINGENCY, 0);
    return record_money(work, FIGURE_CONTINGENCY, interval_multiply(rest.value, share.value),
                        "{still-to-buy} x {contingency}");
}

/* What was paid for a thing that was sent back and has not been refunded; never less than nothing. */
static Interval lost_on(Work *work, const Entity *entity, Interval *without_refund)
{
    Quantity price = boat_price(work, entity);
    Quantity refunded = use_stated(work, entity, PROP_COMMON_REFUNDED, 0);
    if (price.state != STATE_KNOWN) {
        return point(0.0);
    }
    Purchase purchase = purchase_of(entity);
    boat_pieces(work, entity); /* what has come may hang on how many are wanted */
    Interval paid = interval_multiply(price.value, purchase_came(&purchase));
    if (refunded.state == STATE_MISSING) {
        *without_refund = interval_add(*without_refund, purchase_came(&purchase));
        return paid;
    }
    return interval_max(interval_left(paid, refunded.value), point(0.0));
}

/*
 * The same of what never came: what was paid before. Without a word of that all of it may be gone, or nothing; but what came
 * back was paid.
 */
static Interval lost_before(Work *work, const Entity *entity, Interval *unsaid)
{
    Quantity deposit = use_stated(work, entity, PROP_COMMON_DEPOSIT, 0);
    Quantity refunded = use_stated(work, entity, PROP_COMMON_REFUNDED, 0);
    Interval paid = deposit.value;
    if (deposit.state == STATE_MISSING) {
        Quantity price = boat_price(work, entity);
        Interval pieces = boat_pieces(work, entity);
        paid = price.state == STATE_KNOWN ? interval_multiply(price.value, pieces) : point(0.0);
        paid.low = refunded.state == STATE_MISSING ? 0.0 : paid.low;
        *unsaid = refunded.state == STATE_MISSING ? interval_add(*unsaid, pieces) : *unsaid;
    }
    return refunded.state == STATE_MISSING ? paid : interval_max(interval_left(paid, refunded.value), point(0.0));
}

/* NULL where nothing was sent back, and nothing was lost. */
static Figure *record_lost(Work *work)
{
    Interval lost = point(0.0);
    Interval pieces = point(0.0), without_refund = point(0.0), unsaid = point(0.0);
    bool any = false;
    begin_money(work);
    const BoatThings *things = boat_things(work);
    for (uint32_t i = 0; i < things->count; i++) {
        const Entity *entity = things->list[i];
        if (thing_status(entity) == STATUS_RETURNED) {
            Purchase purchase = purchase_of(entity);
            lost = interval_add(lost, lost_on(work, entity, &without_refund));
            pieces = interval_add(pieces, purchase_came(&purchase));
            any = true;
        } else if (thing_status(entity) == STATUS_LOST) {
            lost = interval_add(lost, lost_before(work, entity, &unsaid));
            any = true;
        }
    }
    if (!any) {
        return NULL;
    }
    Figure *figure =
        record_money(work, FIGURE_LOST_ON_RETURNS, lost, "sum of price x what had come, or deposit, - refunded");
    Buf remark;
    buf_init(&remark, work->figures->arena);
    if (without_refund.high > 0.0) {
        buf_text(&remark, "no refund is stated for ");
        unit_print(&remark, UNIT_ALONE(UNIT_NONE), without_refund.low, without_refund.high);
        buf_text(&remark, " of ");
        unit_print(&remark, UNIT_ALONE(UNIT_NONE), pieces.low, pieces.high);
        buf_text(&remark, " that went back");
    }
    if (unsaid.high > 0.0) {
        buf_format(&remark, "%snothing says what was paid for ", remark.length > 0 ? "; " : "");
        unit_print(&remark, UNIT_ALONE(UNIT_NONE), unsaid.low, unsaid.high);
        buf_text(&remark, " that never came");
    }
    set_remark(figure, &remark);
    return figure;
}

static void record_cost(Work *work)
{
    Total bound;
    Total open;
    const Figure *committed = record_prices(work, FIGURE_COMMITTED, status_is_committed, &bound);
    const Figure *still_to_buy = record_prices(work, FIGURE_STILL_TO_BUY, status_is_to_buy, &open);
    const Figure *contingency = record_contingency(work, still_to_buy);
    const Figure *lost = record_lost(work);
    begin_money(work);
    Interval sum = use_figure(work, committed).value;
    sum = interval_add(sum, use_figure(work, still_to_buy).value);
    sum = interval_add(sum, use_figure(work, contingency).value);
    const char *formula = "{committed} + {still-to-buy} + {contingency}";
    if (lost != NULL) {
        sum = interval_add(sum, use_figure(work, lost).value);
        formula = "{committed} + {still-to-buy} + {contingency} + {lost-on-returns}";
    }
    Figure *cost = record_money(work, FIGURE_COST, sum, formula);
    Buf remark;
    buf_init(&remark, work->figures->arena);
    write_left_out(&remark, bound.without + open.without, "price");
    set_remark(cost, &remark);
}

static bool has_price(const Model *model)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        if (entity_states(entity, PROP_COMMON_PRICE) || entity_states(entity, PROP_COMMON_QUOTE)) {
            return true;
        }
    }
    return false;
}

/* Endurance */

/*
 * Whether the crew has to go home when this runs out: not so a starting battery. A sump, and a tank of grey water that is
 * pumped away, have no endurance of their own, so every tank that has one counts: `waste-full` asks the same.
 */
static bool is_resource(const Entity *entity)
{
    if (entity->flags & (ENTITY_DROPPED | ENTITY_BROKEN)) {
        return false;
    }
    if (entity->kind == KIND_BANK) {
        Str role = entity_word(entity, PROP_BANK_ROLE);
        return role.length == 0 || str_is(role, "house");
    }
    return entity->kind == KIND_TANK || entity->kind == KIND_GAS_LOCKER;
}

/* What the least of several endurances is, and who may be the one that ends it. */
static void write_what_ends_it(Buf *to, const Work *work, Interval least)
{
    uint32_t names = 0;
    if (isinf(least.low)) {
        buf_text(to, "nothing ends it");
        return;
    }
    for (uint32_t i = 0; i < work->count; i++) {
        const Figure *f = work->inputs[i].u.figure;
        if (f->low <= least.high && !isinf(f->low)) {
            buf_format(to, "%s`%.*s`", names++ > 0 ? " or " : "",
                       STR_ARG(entity_name(work->model, f->subject)));
        }
    }
    buf_text(to, names == 1 ? " ends it" : " ends it, whichever is first");
}

static void record_endurance(Work *work, const Entity *day)
{
    const Model *model = work->model;
    Interval least = point(INFINITY);
    Buf formula;
    buf_init(&formula, work->figures->arena);
    buf_text(&formula, "the least of ");
    work_begin(work);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        const Figure *f =
            is_resource(entity) ? figure_find(work->figures, entity, FIGURE_ENDURANCE, day) : NULL;
        if (f != NULL && !is_shared_figure(f)) {
            if (formula_is_read(work)) {
                buf_format(&formula, "%s{%.*s.endurance}", work->count > 0 ? ", " : "", STR_ARG(entity_name(model, entity)));
            }
            least = interval_min(least, use_figure(work, f).value);
        }
    }
    if (work->count == 0) {
        return;
    }
    Figure *endurance = work_record(work, FIGURE_ENDURANCE, model->boat, day, least, formula.text);
    endurance->least = true;
    if (endurance->state == STATE_KNOWN && formula_is_read(work)) {
        Buf remark;
        buf_init(&remark, work->figures->arena);
        write_what_ends_it(&remark, work, least);
        set_remark(endurance, &remark);
    }
}

void figures_boat_mass(Work *work)
{
    uint32_t without = 0;
    const Figure *mass = record_mass(work, &without);
    if (mass != NULL) {
        record_loaded_mass(work, mass, without);
        record_mass_gap(work, mass);
    }
}

void figures_boat_money(Work *work)
{
    if (has_price(work->model)) {
        record_cost(work);
        boat_without_tax(work);
    }
}

void figures_boat_endurance(Work *work)
{
    for (const Entity *day = work->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        record_endurance(work, day);
    }
}
