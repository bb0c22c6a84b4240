/*
 * Formulas: each `{label}` of one stands for the input that it names. Where a recipe uses its inputs in another order
 * than its formula names them, `why` and the book print a false working beside a right result. Looked at in the figures of
 * every example of every rule.
 */
#include "check.h"
#include "compile.h"

#include "figures/working.h"

#include <stdio.h>
#include <string.h>

/* Behind the last dot: "rated" of "main-engine.rated". */
static Str last_word(Str label)
{
    for (size_t i = label.length; i > 0; i--) {
        if (label.text[i - 1] == '.') {
            return (Str){label.text + i, label.length - i};
        }
    }
    return label;
}

static bool names_property(const Model *model, const Input *input, Str word, bool *same)
{
    const Entity *of = input->entity < model->entity_count ? model->entities[input->entity] : NULL;
    bool any = false;
    *same = str_is(word, props[input->prop].word);
    for (PropId p = 1; p < PROP_COUNT && of != NULL; p++) {
        any = any || ((KindId)props[p].owner == of->kind && str_is(word, props[p].word));
    }
    return any;
}

/* Whether a label names something else than its input. */
static bool is_false(const Model *model, const Input *input, Str label)
{
    Str word = last_word(label);
    bool same;
    switch ((InputKind)input->kind) {
    case INPUT_VALUE: return names_property(model, input, word, &same) && !same;
    case INPUT_FIGURE: return figure_id(word) != FIGURE_NONE && figure_id(word) != (FigureId)input->u.figure->id;
    default: return false;
    }
}

static int wrong;

static void look_at(const Model *model, const Figure *figure, const char *where)
{
    Arena arena;
    jmp_buf failure;
    arena_init(&arena, allocator_standard(), &failure);
    Working working = working_of(&arena, figure);
    for (uint16_t i = 0; i < working.label_count; i++) {
        if (is_false(model, working.inputs[i], working.labels[i])) {
            wrong++;
            print_message("%s: %.*s of %.*s: `%.*s` in \"%s\" stands for another input\n", where, STR_ARG(str_from(figure_rows[figure->id].name)),
                     STR_ARG(entity_name(model, figure->subject)), STR_ARG(working.labels[i]), figure->formula);
        }
    }
    arena_free(&arena);
}

static void look_at_spec(const char *spec, const char *where)
{
    Compiled c;
    if (spec == NULL) {
        return;
    }
    compile_text(&c, spec);
    for (uint32_t i = 0; i < outcome_first(c.outcome)->model->entity_count; i++) {
        for (const Figure *f = outcome_first(c.outcome)->figures->lists[i].first; f != NULL; f = f->next) {
            look_at(outcome_first(c.outcome)->model, f, where);
        }
    }
    compile_free(&c);
}

static void labels_name_their_inputs(void **state)
{
    (void)state;
    wrong = 0;
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            const Rule *rule = &rule_families[f]->rules[r];
            look_at_spec(rule->breaks, rule->name);
            look_at_spec(rule->holds, rule->name);
            look_at_spec(rule->open, rule->name);
        }
    }
    assert_int_equal(wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(labels_name_their_inputs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
