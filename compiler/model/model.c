/* See model.h and build.h: building a model step by step, and looking things up in it. */
#include "model/model.h"

#include "model/agree.h"
#include "model/checker.h"
#include "model/grouped.h"
#include "model/jobs.h"
#include "model/status.h"
#include "syntax/parse.h"

#include <math.h>
#include <string.h>

/* Looking up */

Entity *model_find(const Model *model, Str name)
{
    Symbol symbol = symbols_find(model->tree->symbols, name);
    return symbol != 0 && symbol < model->symbol_count ? model->by_symbol[symbol] : NULL;
}

Str entity_old_name(const Model *model, const Entity *entity, unsigned n)
{
    NodeId first = tree_header(model->tree, entity->node).was, was = first + 2 * n;
    bool said = first != 0 && was <= entity->node + tree_node(model->tree, entity->node)->terms &&
                str_is(tree_text(model->tree, was - 1), "was");
    return said ? tree_text(model->tree, was) : (Str){"", 0};
}

bool entity_was(const Model *model, const Entity *entity, Str name)
{
    Str was = entity_old_name(model, entity, 0);
    for (unsigned n = 1; was.length > 0 && !str_equal(was, name); n++) {
        was = entity_old_name(model, entity, n);
    }
    return was.length > 0;
}

Str entity_name(const Model *model, const Entity *entity)
{
    return symbols_text(model->tree->symbols, entity->name);
}

Str entity_label(const Model *model, const Entity *entity)
{
    return entity->title.length > 0 ? entity->title : entity_name(model, entity);
}

Span entity_span(const Model *model, const Entity *entity)
{
    Header header = tree_header(model->tree, entity->node);
    return tree_span(model->tree, header.name);
}

const Property *block_search(const Block *block, PropId id)
{
    for (uint32_t i = 0; i < block->count; i++) {
        if (block->properties[i].id == id) {
            return &block->properties[i];
        }
    }
    return NULL;
}

const Property *block_next(const Block *block, const Property *previous)
{
    for (const Property *p = previous + 1; p < block->properties + block->count; p++) {
        if (p->id == previous->id) {
            return p;
        }
    }
    return NULL;
}

uint32_t entity_statement_count(const Entity *entity, PropId id)
{
    uint32_t count = 0;
    for (const Property *p = entity_property(entity, id); p != NULL; p = block_next(&entity->block, p)) {
        count++;
    }
    return count;
}

const Value value_none = {.kind = VALUE_NONE};

double clock_seconds(const Value *value)
{
    int32_t minutes = value->u.clock.to - value->u.clock.from;
    return (minutes <= 0 ? minutes + 1440 : minutes) * 60.0;
}

bool entity_names(const Entity *entity, PropId id, const Entity *thing)
{
    const Property *list = entity_property(entity, id);
    property_value(list, 0); /* asked for, though it may be a mistake */
    for (uint16_t i = 0; list != NULL && i < list->count; i++) {
        if (list->values[i].kind == VALUE_REFERENCE && list->values[i].u.entity == thing) {
            return true;
        }
    }
    return false;
}

Str entity_text(const Entity *entity, PropId id)
{
    const Value *value = property_value(entity_property(entity, id), 0);
    return value->kind == VALUE_TEXT ? value->u.text : (Str){"", 0};
}

bool entity_quantity(const Entity *entity, PropId id, unsigned slot, Interval *value)
{
    const Property *property = entity_property(entity, id);
    const Value *stated = property_value(property, slot);
    if (stated->kind != VALUE_QUANTITY || stated->flags & (VALUE_BROKEN | VALUE_DOUBTED) || property->flags & PROPERTY_BROKEN) {
        return false;
    }
    *value = (Interval){stated->u.quantity.low, stated->u.quantity.high};
    return true;
}

/* What is asked of mistakes */

/* Of a thing that several models share it is marked already. */
static void mark_wrong(const Model *model, Property *property)
{
    if (property->flags & PROPERTY_WRONG) {
        return;
    }
    Value *values = ARENA_ARRAY(model->arena, Value, (size_t)property->count + 1);
    if (property->count > 0) {
        memcpy(values, property->values, property->count * sizeof(Value));
    }
    values[property->count] = (Value){.kind = VALUE_NONE, .u.asked = model->asked};
    property->values = values;
    property->flags |= PROPERTY_WRONG;
}

/* Gathers the wrong ones of a block and of the blocks in it; counts alone where there is no list yet. */
static void gather_wrong(Model *model, const Block *block, bool count_alone)
{
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *property = &block->properties[i];
        if (property_is_mistaken(property)) {
            if (!count_alone) {
                mark_wrong(model, (Property *)property);
                model->wrong[model->wrong_count] = (Property *)property;
            }
            model->wrong_count++;
        }
        const Value *last = property->count > 0 ? &property->values[property->count - 1] : &value_none;
        if (last->kind == VALUE_BLOCK) {
            gather_wrong(model, last->u.block, count_alone);
        }
    }
}

static void find_wrong(Model *model)
{
    if (model->messages->count == 0) {
        return;
    }
    for (int pass = 0; pass < 2; pass++) {
        model->wrong = pass == 0 ? NULL : ARENA_ARRAY(model->arena, Property *, model->wrong_count + 1);
        model->wrong_count = 0;
        for (uint32_t i = 0; i < model->entity_count; i++) {
            gather_wrong(model, &model->entities[i]->block, pass == 0);
        }
    }
}

/* Defaults */

/* `word terms` of a default as a source of its own, read once for all models of a spec. */
static const Property *read_default(Checker *checker, PropId id, const char *terms)
{
    Spec *spec = checker->spec;
    Buf text;
    buf_init(&text, checker->arena);
    buf_format(&text, "%s %s", props[id].word, terms);
    Source *source = sources_add(&spec->sources, STR("default"), text.text, text.length);
    NodeId statement = source != NULL ? parse_property(&spec->tree, source, &spec->messages) : 0;
    if (statement == 0) {
        return NULL;
    }
    Property *property = ARENA_NEW(checker->arena, Property);
    *property = check_statement(checker, statement, id);
    property->flags |= PROPERTY_ASSUMED;
    for (uint16_t i = 0; i < property->count; i++) {
        ((Value *)property->values)[i].flags |= VALUE_ASSUMED;
    }
    return property;
}

bool model_is_in_feet(const Model *model)
{
    /* Not property_value: how numbers are told is no question whose answer waits for a mistake. */
    const Property *stated = entity_property(model->boat, PROP_BOAT_LENGTH);
    const Value *length = stated != NULL && stated->count > 0 ? &stated->values[0] : &value_none;
    return length->kind == VALUE_QUANTITY && (length->unit.unit == UNIT_FT || length->unit.unit == UNIT_IN);
}

UnitPair model_unit(const Model *model, UnitPair unit)
{
    return model_is_in_feet(model) && unit.unit != UNIT_KW ? unit_customary(unit) : unit;
}

/* Air and sea are told in degrees Fahrenheit where lengths are in feet; what insulation stands is in Celsius everywhere. */
static UnitPair unit_of_default(PropId id, UnitPair unit)
{
    bool weather = id == PROP_BOAT_AIR_TEMPERATURE || id == PROP_BOAT_SEA_TEMPERATURE;
    return weather ? (UnitPair){UNIT_FAHRENHEIT, UNIT_NONE} : unit_customary(unit);
}

/* A default as the owner would write it. */
static void use_customary_units(const Property *property, PropId id)
{
    for (uint16_t i = 0; property != NULL && i < property->count; i++) {
        Value *value = (Value *)&property->values[i];
        if (value->kind == VALUE_QUANTITY) {
            value->unit = unit_of_default(id, value->unit);
        }
    }
}

static const Property *make_default(const Model *model, PropId id, const char *terms)
{
    const Property *made = read_default(model->checker, id, terms);
    if (model_is_in_feet(model)) {
        use_customary_units(made, id);
    }
    return made;
}

const Property *model_default(const Model *model, PropId id)
{
    Spec *spec = model->checker->spec;
    if (props[id].assumed == NULL) {
        return NULL;
    }
    if (spec->defaults[id] == NULL) {
        spec->defaults[id] = make_default(model, id, props[id].assumed);
    }
    return spec->defaults[id];
}

/* Bits of the defaults that may be meant: one for each of `usual`, and behind them that of all other answers. */
enum { OTHER_ANSWERS = 1 << USUALS_MOST, ANSWERS = 2 * OTHER_ANSWERS };

/* Whether a value is, or may be, what a row of `usual` says. */
static void compare_answer(const Value *value, const char *says, bool *is, bool *may_be)
{
    if (value->kind == VALUE_WORD) {
        *is = *may_be = str_is(value->u.word, says);
    } else if (value->kind == VALUE_QUANTITY) {
        double number = says[0] - '0';
        *may_be = value->u.quantity.low <= number && number <= value->u.quantity.high;
        *is = *may_be && value->u.quantity.low == value->u.quantity.high;
    } else {
        *is = *may_be = false;
    }
}

static unsigned answers_of(const Model *model, const Block *block, const PropRow *row)
{
    const Property *stated = block_property(block, (PropId)row->usual_by);
    const Value *value = property_value(stated != NULL ? stated : model_default(model, (PropId)row->usual_by), 0);
    unsigned answers = 0;
    for (int i = 0; i < USUALS_MOST && row->usual[i].says != NULL && !(value->flags & VALUE_BROKEN); i++) {
        bool is, may_be;
        compare_answer(value, row->usual[i].says, &is, &may_be);
        if (is) {
            return 1u << i;
        }
        answers |= may_be ? 1u << i : 0;
    }
    return answers | OTHER_ANSWERS;
}

/* The first value so wide that it holds another's. */
static const Property *widened(const Model *model, const Property *property, const Property *other)
{
    const Value *more = property_value(other, 0);
    Property *wide = ARENA_NEW(model->checker->arena, Property);
    Value *values = ARENA_ARRAY(model->checker->arena, Value, property->count);
    *wide = *property;
    for (uint16_t i = 0; i < property->count; i++) {
        values[i] = property->values[i];
    }
    values[0].u.quantity.low = fmin(values[0].u.quantity.low, more->u.quantity.low);
    values[0].u.quantity.high = fmax(values[0].u.quantity.high, more->u.quantity.high);
    wide->values = values;
    return wide;
}

static const Property *usual_default(const Model *model, PropId id, unsigned answers)
{
    const Property *made = answers & OTHER_ANSWERS ? model_default(model, id) : NULL;
    for (int i = 0; i < USUALS_MOST; i++) {
        if (answers >> i & 1u) {
            const Property *one = make_default(model, id, props[id].usual[i].assumed);
            made = made != NULL ? widened(model, made, one) : one;
        }
    }
    return made;
}

const Property *model_default_in(const Model *model, const Block *block, PropId id)
{
    Spec *spec = model->checker->spec;
    unsigned answers = props[id].usual_by != PROP_NONE ? answers_of(model, block, &props[id]) : OTHER_ANSWERS;
    if (answers == OTHER_ANSWERS) {
        return model_default(model, id);
    }
    if (spec->usuals[id] == NULL) {
        spec->usuals[id] = ARENA_ARRAY(model->checker->arena, const Property *, ANSWERS);
    }
    if (spec->usuals[id][answers] == NULL) {
        spec->usuals[id][answers] = usual_default(model, id, answers);
    }
    return spec->usuals[id][answers];
}

const Property *model_property(const Model *model, const Entity *entity, PropId id)
{
    const Property *stated = entity_property(entity, id);
    return stated != NULL ? stated : model_default_in(model, &entity->block, id);
}

/* Places */

bool property_is_mistaken(const Property *property)
{
    bool mistaken = property->flags & PROPERTY_BROKEN;
    for (uint16_t i = 0; i < property->count && !mistaken; i++) {
        mistaken = property->values[i].flags & VALUE_BROKEN;
    }
    return mistaken;
}

Span property_span(const Model *model, const Property *property)
{
    return tree_span(model->tree, property->node);
}

Span value_span(const Model *model, const Value *value)
{
    return tree_span(model->tree, value->node);
}

/* All of a property behind its word, as it stands in the spec. */
Str value_written(const Model *model, const Property *property)
{
    const Tree *tree = model->tree;
    const Node *node = tree_node(tree, property->node);
    uint16_t first = node->kind == NODE_SET ? (uint16_t)(tree_set_header(tree, property->node).value - property->node - 1) : 1;
    if (node->terms <= first) {
        return (Str){"", 0};
    }
    uint32_t start = tree_node(tree, property->node + 1 + first)->start;
    return span_text(tree->sources, (Span){start, node->end});
}

/* Building */

/*
 * Whether it is one value and nothing more: what stands behind a `;`, a `#`, a new line or a brace that closes no other would be
 * read as another statement, and the head of what is printed would still claim it.
 */
static bool is_one_value(Str text)
{
    int depth = 0;
    bool quoted = false;
    for (size_t i = 0; i < text.length; i++) {
        char c = text.text[i];
        if (quoted && c == '\\') {
            i++;
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted) {
            depth += (c == '{') - (c == '}');
            if (depth < 0 || (depth == 0 && (c == ';' || c == '\n')) || c == '#') {
                return false;
            }
        }
    }
    return true;
}

bool spec_set(Spec *spec, Arena *arena, Str assignment, const char **error)
{
    const char *equals = memchr(assignment.text, '=', assignment.length);
    if (equals == NULL) {
        *error = "it has the form THING.PROPERTY=VALUE";
        return false;
    }
    size_t left = (size_t)(equals - assignment.text);
    if (memchr(assignment.text, '.', left) == NULL) {
        *error = "it has the form THING.PROPERTY=VALUE; an option of a choice is taken with `--with CHOICE=OPTION`";
        return false;
    }
    if (!is_one_value(assignment)) {
        *error = "it takes one value, and nothing behind a `;`, a `#` or a brace; `--set` may stand there several times";
        return false;
    }
    Buf text;
    buf_init(&text, arena);
    buf_format(&text, "set %.*s %.*s", (int)left, assignment.text, (int)(assignment.length - left - 1), equals + 1);
    Source *source = sources_add(&spec->sources, STR("--set"), text.text, text.length);
    NodeId statement = source != NULL ? parse_setting(&spec->tree, source, &spec->messages) : 0;
    if (statement == 0 || tree_kind(&spec->tree, statement) != NODE_SET) {
        *error = "it has the form THING.PROPERTY=VALUE";
        return false;
    }
    spec->sets = arena_grow(arena, spec->sets, spec->set_count * sizeof(NodeId), (spec->set_count + 1) * sizeof(NodeId));
    spec->sets[spec->set_count++] = statement;
    return true;
}

/* The kinds' own words as symbols, so that a kind is found without comparing texts. */
static void note_kind_words(Checker *checker)
{
    for (int k = KIND_NONE + 1; k < KIND_COUNT; k++) {
        Symbol symbol = kinds[k].group ? 0 : symbols_find(checker->tree->symbols, str_from(kinds[k].word));
        if (symbol != 0) {
            checker->kind_of_symbol[symbol] = (uint8_t)k;
        }
    }
}

/* What is the same in every model of a spec. */
static void share_names(Checker *checker, const Checker *first)
{
    checker->option_names = first->option_names;
    checker->choices = first->choices;
    checker->parts = first->parts;
    checker->kind_of_symbol = first->kind_of_symbol;
    checker->lost = first->lost;
}

static Checker *checker_new(Spec *spec, Arena *arena, Model *model)
{
    Checker *checker = ARENA_NEW(arena, Checker);
    *checker = (Checker){.spec = spec,
                         .arena = arena,
                         .model = model,
                         .tree = &spec->tree,
                         .messages = &spec->messages,
                         .near_left = 100};
    checker->measured = symbols_intern(spec->symbols, STR("measured"));
    checker->labelled = symbols_intern(spec->symbols, STR("labelled"));
    checker->estimated = symbols_intern(spec->symbols, STR("estimated"));
    checker->guessed = symbols_intern(spec->symbols, STR("guessed"));
    uint32_t symbols = symbols_end(spec->symbols);
    model->symbol_count = symbols;
    model->by_symbol = ARENA_ARRAY(arena, Entity *, symbols);
    checker->part_blocks = ARENA_ARRAY(arena, const Block *, symbols);
    if (spec->first_checker != NULL) {
        share_names(checker, spec->first_checker);
        return checker;
    }
    if (spec->choice_count > 0) {
        checker->option_names = ARENA_ARRAY(arena, OptionName, symbols);
        checker->choices = ARENA_ARRAY(arena, NodeId, symbols);
    }
    checker->parts = ARENA_ARRAY(arena, NodeId, symbols);
    checker->kind_of_symbol = ARENA_ARRAY(arena, uint8_t, symbols);
    note_kind_words(checker);
    return checker;
}

static void choose_options(const Spec *spec, Arena *arena, Model *model, const int32_t *taken)
{
    model->choices = ARENA_ARRAY(arena, Choice, spec->choice_count);
    model->choice_count = spec->choice_count;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        Choice *choice = &model->choices[i];
        *choice = spec->choices[i];
        choice->chosen = choice->picked >= 0 || choice->option_count == 0 ? choice->picked : taken[i];
    }
}

Model *model_build(Spec *spec, Arena *arena, const int32_t *taken)
{
    if (spec->defaults == NULL) {
        spec->defaults = ARENA_ARRAY(arena, const Property *, PROP_COUNT);
        spec->found_props = ARENA_ARRAY(arena, FoundProp, FOUND_PROPS);
    }
    Model *model = ARENA_NEW(arena, Model);
    model->arena = arena;
    model->tree = &spec->tree;
    model->messages = &spec->messages;
    model->shapes = spec->shapes;
    model->asked = &spec->asked;
    choose_options(spec, arena, model, taken);
    Checker *checker = checker_new(spec, arena, model);
    model->checker = checker;
    names_declare(checker);
    check_properties(checker);
    find_wrong(model);
    feeds_join(checker);
    jobs_order(model);
    status_check(model);
    agree_check(model);
    grouped_doubt(model);
    if (spec->read_things != NULL && spec->first_checker == NULL) {
        spec->first_checker = checker;
    }
    return model;
}
