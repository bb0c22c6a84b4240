/* See figure.h: recording figures, printing one. */
#include "figures/figure.h"

#include "base/num.h"
#include "physics/conductor.h"

#include <math.h>
#include <string.h>

const FigureRow figure_rows[FIGURE_COUNT] = {
#define FIGURE(ID, NAME, UNIT, HELP, SOURCE) [FIGURE_##ID] = {NAME, UNIT, HELP, SOURCE},
#include "figures/figures.def"
#undef FIGURE
};

FigureId figure_id(Str name)
{
    for (int id = 1; id < FIGURE_COUNT; id++) {
        if (str_is(name, figure_rows[id].name)) {
            return (FigureId)id;
        }
    }
    return FIGURE_NONE;
}

const Entity *feed_at(const Feed *feed)
{
    if (feed->maker) {
        return feed->taker;
    }
    return feed->subject->fed->next != NULL ? feed->giver : NULL;
}

/* Printing */

static void write_money(Buf *to, const Model *model, double low, double high)
{
    Str currency = model->currency;
    if (isinf(low) || isinf(high)) {
        buf_text(to, isinf(high) && low > 0.0 ? "at least " : "");
        if (isinf(high) && low <= 0.0) {
            buf_text(to, "unknown");
            return;
        }
        num_write_fixed(to, isinf(high) ? low : high, 2);
    } else {
        num_write_fixed(to, low, 2);
        if (low != high) {
            buf_text(to, "..");
            num_write_fixed(to, high, 2);
        }
    }
    buf_char(to, ' ');
    buf_add(to, currency);
}

Series series_of_unit(UnitPair unit)
{
    return unit.unit == UNIT_AWG ? SERIES_AWG : unit.unit == UNIT_SAE ? SERIES_SAE : SERIES_METRIC;
}

static void write_one_size(Buf *to, UnitPair unit, double area)
{
    const Conductor *row = isfinite(area) ? conductor_find(series_of_unit(unit), area) : NULL;
    if (row != NULL) {
        buf_text(to, row->word);
    } else {
        unit_print(to, UNIT_ALONE(UNIT_MM2), area, area);
    }
}

static void write_size(Buf *to, UnitPair unit, double low, double high)
{
    if (isinf(high) && low <= 0.0) {
        buf_text(to, "any size");
        return;
    }
    if (low == high) {
        write_one_size(to, unit, low);
        return;
    }
    if (isinf(high)) {
        buf_text(to, "at least ");
        write_one_size(to, unit, low);
    } else if (low <= 0.0) {
        buf_text(to, "up to ");
        write_one_size(to, unit, high);
    } else {
        write_one_size(to, unit, low);
        buf_text(to, " to ");
        write_one_size(to, unit, high);
    }
}

void quantity_write(Buf *to, const Model *model, const Value *value)
{
    double low = value->flags & VALUE_NO_LOW && value->u.quantity.low == 0.0 ? -INFINITY : value->u.quantity.low;
    double high = value->u.quantity.high;
    if (value->kind == VALUE_CLOCK) {
        buf_format(to, "%02d:%02d..%02d:%02d", value->u.clock.from / 60, value->u.clock.from % 60, value->u.clock.to / 60,
                   value->u.clock.to % 60);
    } else if (value->flags & VALUE_HOLE) {
        buf_text(to, "not decided");
    } else if (value->flags & VALUE_SIZE) {
        write_size(to, value->unit, value->u.quantity.low, high);
    } else if (value->flags & VALUE_MONEY) {
        write_money(to, model, value->u.quantity.low, high);
    } else {
        unit_print(to, value->unit, low, high);
    }
}

/* A year and more of one day after the other is no forecast: that it is long is all that it says. */
static bool write_long_endurance(Buf *to, const Figure *figure)
{
    static const double year_s = 365.0 * 86400.0;
    if ((figure->id != FIGURE_ENDURANCE && figure->id != FIGURE_COLD_ENDURANCE) || figure->high <= year_s || isinf(figure->low)) {
        return false;
    }
    if (figure->low > year_s) {
        buf_text(to, "over a year");
    } else {
        unit_print(to, figure->unit, figure->low, INFINITY);
    }
    return true;
}

/*
 * The nearer end of a range is known no finer than the farther one: it is told to the same decimals, but never as nought,
 * and no length of the boat finer than a tenth of a millimetre.
 */
static double told_end(UnitPair unit, double end, double farther)
{
    bool metres = unit.unit == UNIT_M && unit.per == UNIT_NONE;
    if (end == farther && !metres) {
        return end; /* it is printed with the decimals that it has by itself */
    }
    double shown = unit_from_si(unit, end), most = fabs(unit_from_si(unit, farther));
    if (!isfinite(shown) || !isfinite(most) || shown == 0.0 || most == 0.0 || unit.unit == UNIT_DATE) {
        return end;
    }
    double digits = dimension_digits(unit_dimension(unit)) - 1.0;
    double natural = digits - floor(log10(fabs(shown))); /* decimals that it is printed with by itself */
    double decimals = fmin(fmax(digits - floor(log10(most)), 0.0), metres ? 4.0 : natural);
    decimals = fmax(decimals, metres ? 0.0 : fmin(natural, -floor(log10(fabs(shown))))); /* one digit at the least */
    if (decimals >= natural) {
        return end; /* rounded twice, it could become another number */
    }
    double step = pow(10.0, decimals), told = round(shown * step) / step + 0.0; /* and no -0 */
    return isfinite(told) ? unit_to_si(unit, told) : end;
}

static void write_range(Buf *to, const Figure *figure)
{
    double farther = fabs(figure->high) > fabs(figure->low) ? figure->high : figure->low;
    unit_print(to, figure->unit, told_end(figure->unit, figure->low, farther), told_end(figure->unit, figure->high, farther));
}

void figure_write(Buf *to, const Figures *figures, const Figure *figure)
{
    if (figure == NULL || figure->state == STATE_MISSING) {
        buf_text(to, "not known");
    } else if (figure->state == STATE_WAITING) {
        buf_text(to, "waits for a mistake to be mended");
    } else if (figure->none) {
        buf_text(to, "none");
    } else if (figure->partial && !isinf(figure->high)) {
        Figure rest = *figure;
        rest.partial = false;
        buf_text(to, "at least ");
        figure_write(to, figures, &rest);
    } else if (figure->money) {
        write_money(to, figures->model, figure->low, figure->high);
    } else if (figure->size) {
        write_size(to, figure->unit, figure->low, figure->high);
    } else if (!write_long_endurance(to, figure)) {
        write_range(to, figure);
    }
}

const char *figure_text(const Figures *figures, const Figure *figure)
{
    Buf text;
    buf_init(&text, figures->arena);
    figure_write(&text, figures, figure);
    return text.text;
}

const char *figure_scope_word(FigureScope scope)
{
    static const char *const words[SCOPE_COUNT] = {[SCOPE_CONTENTS] = "contents",
                                                   [SCOPE_TANKS_EMPTY] = "tanks-empty",
                                                   [SCOPE_TANKS_HALF] = "tanks-half",
                                                   [SCOPE_TANKS_FULL] = "tanks-full"};
    return scope == SCOPE_WHOLE ? "" : words[scope] != NULL ? words[scope] : system_word((System)scope);
}

Str figure_at_name(const Model *model, const Figure *figure)
{
    return figure->at != NULL ? entity_name(model, figure->at)
                              : str_from(figure_scope_word((FigureScope)figure->scope));
}

const Figure *figure_find_at(const Figures *figures, const Entity *subject, FigureId id, Str at)
{
    const Entity *thing = at.length > 0 ? model_find(figures->model, at) : NULL;
    const Figure *found = at.length == 0 || thing != NULL ? figure_find(figures, subject, id, thing) : NULL;
    for (int scope = SCOPE_WHOLE + 1; scope < SCOPE_COUNT && found == NULL && at.length > 0; scope++) {
        found = str_is(at, figure_scope_word((FigureScope)scope))
                    ? figure_find_in(figures, subject, id, (FigureScope)scope)
                    : NULL;
    }
    return found;
}

void figure_write_label(Buf *to, const Model *model, const Figure *figure)
{
    Str at = figure_at_name(model, figure);
    buf_text(to, figure_rows[figure->id].name);
    if (at.length > 0) {
        buf_char(to, '@');
        buf_add(to, at);
    }
}

void figure_write_name(Buf *to, const Figures *figures, const Figure *figure)
{
    buf_add(to, entity_name(figures->model, figure->subject));
    buf_char(to, '.');
    figure_write_label(to, figures->model, figure);
}

/* Recording */

static void make_room(Work *work, uint32_t count)
{
    work->room = work->inputs = ARENA_ARRAY(work->figures->arena, Input, count);
    work->room_count = work->capacity = count;
    work->room_kept = 0;
}

void work_init(Work *work, Figures *figures)
{
    enum { FIRST_ROOM = 32 };
    *work = (Work){.figures = figures, .model = figures->model, .scratch = figures->arena, .state = STATE_KNOWN};
    make_room(work, FIRST_ROOM);
}

void work_begin(Work *work)
{
    work->room += work->room_kept;
    work->room_count -= work->room_kept;
    work->room_kept = 0;
    work->inputs = work->room;
    work->capacity = work->room_count;
    work->count = 0;
    work->kept = NULL;
    work->state = STATE_KNOWN;
    model_ask_anew(work->model);
}

static void worsen(Work *work, State state)
{
    if (state > work->state) {
        work->state = state;
    }
}

/* A few move on to new room, for they are kept as they stand; many would leave too much of it unused. */
static void grow_inputs(Work *work)
{
    enum { MORE_ROOM = 128, FEW = MORE_ROOM / 2 };
    const Input *inputs = work->inputs;
    if (work->count <= FEW) {
        make_room(work, MORE_ROOM);
    } else {
        uint32_t capacity = work->count * 2;
        if (work->aside_capacity < capacity) {
            work->aside = arena_grow(work->scratch, work->aside, work->aside_capacity * sizeof(Input), capacity * sizeof(Input));
            work->aside_capacity = capacity;
        }
        inputs = inputs != work->room ? work->aside : inputs;
        work->inputs = work->aside;
        work->capacity = work->aside_capacity;
    }
    if (inputs != work->inputs) {
        memcpy(work->inputs, inputs, work->count * sizeof(Input));
    }
}

/* There is always room for one more. */
static inline void add_input(Work *work, Input input)
{
    work->inputs[work->count++] = input;
    if (work->count == work->capacity) {
        grow_inputs(work);
    }
}

static const Quantity missing = {{0.0, 0.0}, STATE_MISSING};
static const Quantity waiting = {{0.0, 0.0}, STATE_WAITING};

void note_read(Work *work, PropId prop)
{
    FigureTrace *trace = work->figures->trace;
    StepSet *reads = &trace->notes->reads[prop];
    *reads = *reads | step_bit(trace->step);
}

void use_waiting(Work *work)
{
    worsen(work, STATE_WAITING);
}

void use_missing(Work *work, const Entity *entity, PropId prop)
{
    note_read(work, prop);
    if (entity == NULL || entity->flags & ENTITY_PARTLESS) {
        use_waiting(work);
        return;
    }
    worsen(work, STATE_MISSING);
    add_input(work, (Input){.kind = INPUT_MISSING, .prop = (uint16_t)prop, .entity = entity->index});
}

Quantity use_statement(Work *work, const Entity *entity, const Property *property, unsigned slot)
{
    const Value *value = property_value(property, slot);
    note_read(work, (PropId)property->id);
    bool broken = property->flags & PROPERTY_BROKEN || value->flags & (VALUE_BROKEN | VALUE_DOUBTED);
    if (!broken && value->kind != VALUE_QUANTITY && value->kind != VALUE_CLOCK) {
        return missing;
    }
    add_input(work, (Input){.kind = broken ? INPUT_MISTAKE : INPUT_VALUE,
                            .slot = (uint8_t)slot,
                            .prop = property->id,
                            .entity = entity->index,
                            .u.property = property});
    if (broken) {
        use_waiting(work);
        return waiting;
    }
    Interval of = value->kind == VALUE_CLOCK ? point(clock_seconds(value)) : (Interval){value->u.quantity.low, value->u.quantity.high};
    return (Quantity){of, STATE_KNOWN};
}

void use_if_mistaken(Work *work, const Property *property)
{
    note_read(work, (PropId)property->id);
    if (property_is_mistaken(property)) {
        use_waiting(work);
    }
}

Quantity use_block_value(Work *work, const Entity *entity, const Block *block, PropId prop, unsigned slot)
{
    const Property *property = block_property(block, prop);
    if (property == NULL && entity->flags & ENTITY_PARTLESS) {
        use_waiting(work);
        return waiting;
    }
    if (property == NULL) {
        if (props[prop].usual_by != PROP_NONE) {
            note_read(work, (PropId)props[prop].usual_by);
        }
        property = model_default_in(work->model, block, prop);
    }
    Quantity quantity = property != NULL ? use_statement(work, entity, property, slot) : missing;
    if (quantity.state == STATE_MISSING) {
        use_missing(work, entity, prop);
    }
    return quantity;
}

Quantity use_value(Work *work, const Entity *entity, PropId prop, unsigned slot)
{
    if (entity == NULL) {
        use_waiting(work); /* the boat of a spec without one: told already */
        return waiting;
    }
    return use_block_value(work, entity, &entity->block, prop, slot);
}

Quantity use_stated(Work *work, const Entity *entity, PropId prop, unsigned slot)
{
    const Property *property = entity_property(entity, prop);
    if (property != NULL) {
        return use_statement(work, entity, property, slot);
    }
    if (entity == NULL || entity->flags & ENTITY_PARTLESS) {
        use_waiting(work);
        return waiting;
    }
    note_read(work, prop);
    return missing;
}

Quantity use_count(Work *work, const Entity *entity)
{
    Quantity count = use_stated(work, entity, PROP_COMMON_COUNT, 0);
    return count.state == STATE_MISSING ? (Quantity){{1.0, 1.0}, STATE_KNOWN} : count;
}

Quantity use_figure(Work *work, const Figure *figure)
{
    if (figure == NULL) {
        worsen(work, STATE_MISSING);
        return missing;
    }
    Quantity used = {{figure->low, figure->high}, (State)figure->state};
    worsen(work, used.state);
    add_input(work, (Input){.kind = INPUT_FIGURE, .u.figure = figure});
    return used;
}

static bool same_fact(const Fact *a, const Fact *b)
{
    return a->what == b->what && a->low == b->low && a->high == b->high && a->source == b->source &&
           a->unit.unit == b->unit.unit && a->unit.per == b->unit.per;
}

/* One of that content: an earlier one if it is still remembered. */
static const Fact *shared_fact(Figures *figures, const Fact *wanted)
{
    enum { SLOTS = sizeof figures->facts / sizeof figures->facts[0] };
    uint64_t bits;
    memcpy(&bits, &wanted->low, sizeof bits);
    const Fact **slot = &figures->facts[((bits ^ (uintptr_t)wanted->what) * 0x9E3779B97F4A7C15u >> 32) % SLOTS];
    if (*slot == NULL || !same_fact(*slot, wanted)) {
        Fact *fact = ARENA_NEW(figures->arena, Fact);
        *fact = *wanted;
        *slot = fact;
    }
    return *slot;
}

Quantity use_fact(Work *work, const char *what, Interval value, UnitPair unit, const char *source)
{
    Fact fact = {.what = what, .low = value.low, .high = value.high, .unit = unit, .source = source};
    add_input(work, (Input){.kind = INPUT_FACT, .u.fact = shared_fact(work->figures, &fact)});
    return (Quantity){value, STATE_KNOWN};
}

Quantity use_assumption(Work *work, const Entity *entity, PropId prop, unsigned slot, Fact fact)
{
    note_read(work, prop);
    add_input(work, (Input){.kind = INPUT_FACT,
                            .slot = (uint8_t)slot,
                            .prop = (uint16_t)prop,
                            .entity = entity->index,
                            .u.fact = shared_fact(work->figures, &fact)});
    return (Quantity){{fact.low, fact.high}, STATE_KNOWN};
}

void figures_make_lists(Figures *figures)
{
    figures->lists = ARENA_ARRAY(figures->arena, FigureList, figures->model->entity_count + 1);
}

static void hang_on_subject(Figures *figures, Figure *figure)
{
    if (figures->lists == NULL) {
        figures_make_lists(figures); /* of a whole book they are more than what one trial computes */
    }
    FigureList *list = &figures->lists[figure->subject->index];
    if (list->last == NULL) {
        list->first = figure;
    } else {
        list->last->next = figure;
    }
    list->last = figure;
    list->has |= (uint64_t)1 << figure->id % 64;
    figures->count++;
}

/* All nought. */
static Figure *new_figure(Figures *figures)
{
    enum { AT_ONCE = 16 };
    if (figures->room_count == 0) {
        figures->room = ARENA_ARRAY(figures->arena, Figure, AT_ONCE);
        figures->room_count = AT_ONCE;
    }
    figures->room_count--;
    return figures->room++;
}

/* The inputs that were used; of many a copy, one for all figures that are made of just these. */
static const Input *kept_inputs(Work *work, uint16_t count)
{
    if (work->inputs == work->room) {
        work->room_kept = count;
        return work->room;
    }
    if (work->kept == NULL || work->kept_count != count) {
        Input *inputs = ARENA_ARRAY(work->figures->arena, Input, count);
        memcpy(inputs, work->inputs, count * sizeof(Input));
        work->kept = inputs;
        work->kept_count = count;
    }
    return work->kept;
}

Figure *work_record(Work *work, FigureId id, const Entity *subject, const Entity *at, Interval value, const char *formula)
{
    Figures *figures = work->figures;
    Figure *figure = new_figure(figures);
    uint16_t count = (uint16_t)(work->count < UINT16_MAX ? work->count : UINT16_MAX);
    uint8_t step = figures->trace->step;
    if (model_asked_wrong(work->model)) {
        use_waiting(work);
    }
    StepSet *makes = &figures->trace->notes->makes[id];
    *makes = *makes | step_bit(step);
    figure->subject = subject;
    figure->at = at;
    figure->step = step;
    figure->low = value.low;
    figure->high = value.high;
    figure->inputs = kept_inputs(work, count);
    figure->input_count = count;
    figure->formula = formula;
    figure->id = (uint8_t)id;
    figure->state = (uint8_t)work->state;
    figure->unit = work_unit(work, UNIT_ALONE(figure_rows[id].unit));
    hang_on_subject(figures, figure);
    return figure;
}

void work_choose(Work *work, Figure *figure, bool chosen)
{
    FigureTrace *trace = work->figures->trace;
    figure->chosen = chosen;
    trace->chooses = trace->chooses | step_bit(trace->step);
}
