/* See model.h and build.h: building a model step by step. */
#include "model/model.h"

#include "model/agree.h"
#include "model/checker.h"
#include "model/grouped.h"
#include "model/jobs.h"
#include "model/status.h"
#include "model/tax.h"
#include "syntax/parse.h"

#include <string.h>

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
    tax_add(model);
    find_wrong(model);
    days_under_way(checker);
    feeds_turn(checker);
    feeds_join(checker);
    jobs_order(model);
    status_check(model, spec->today);
    agree_check(model);
    grouped_doubt(model);
    if (spec->read_things != NULL && spec->first_checker == NULL) {
        spec->first_checker = checker;
    }
    return model;
}
