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

/* What stands before the last dot: "main-engine" of "main-engine.rated". */
static Str first_words(Str label)
{
    Str last = last_word(label);
    return (Str){label.text, last.length < label.length ? label.length - last.length - 1 : 0};
}

/* Whether a label names another thing of the kind that its input is of ("genset.time" may be what a day says of the genset). */
static bool is_of_another(const Model *model, const Input *input, Str label)
{
    Str thing = first_words(label);
    const Entity *of = input->kind == INPUT_FIGURE ? input->u.figure->subject : NULL;
    if (input->kind == INPUT_VALUE && input->entity < model->entity_count) {
        of = model->entities[input->entity];
    }
    const Entity *named = model_find(model, thing);
    return of != NULL && named != NULL && named != of && named->kind == of->kind;
}

/* Whether two labels end in one word, and stand for facts of two kinds. */
static bool is_unlike(const Working *working, uint16_t i)
{
    for (uint16_t k = 0; k < i; k++) {
        const Input *a = working->inputs[k], *b = working->inputs[i];
        if (a->kind == INPUT_FACT && b->kind == INPUT_FACT && first_words(working->labels[i]).length > 0 &&
            str_equal(last_word(working->labels[k]), last_word(working->labels[i])) && strcmp(a->u.fact->what, b->u.fact->what) != 0) {
            return true;
        }
    }
    return false;
}

static int wrong;

static void look_at(const Model *model, const Figure *figure, const char *where)
{
    Arena arena;
    jmp_buf failure;
    arena_init(&arena, allocator_standard(), &failure);
    Working working = working_of(&arena, figure);
    for (uint16_t i = 0; i < working.label_count; i++) {
        if (is_false(model, working.inputs[i], working.labels[i]) || is_of_another(model, working.inputs[i], working.labels[i]) ||
            is_unlike(&working, i)) {
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

/* A fact of the same number twice: each toilet its half of the flushes. */
static void two_toilets_of_one_share(void **state)
{
    (void)state;
    wrong = 0;
    look_at_spec("edition 1\nboat b \"B\" { length 12 m; crew 4 }\nday quiet { flushes 5 per person }\n"
                 "toilet fore { worked-by vacuum; flushes-with sea; to ta }\ntank ta { holds black; capacity 100 l }\n"
                 "toilet aft { worked-by hand; flushes-with sea; to sa }\ntank sa { holds black; capacity 40 l }\n"
                 "hose ha { from fore; to ta; bore 38 mm; run ? }\nhose ka { from aft; to sa; bore 38 mm; run ? }\n",
                 "two toilets");
    assert_int_equal(wrong, 0);
}

/* A tank that stands in both halves of "or that, if it is less" is used twice and counted once. */
static void two_ways_of_reckoning_fuel(void **state)
{
    (void)state;
    wrong = 0;
    look_at_spec("edition 1\nboat b \"B\" { length 10 m; waterline 9 m; displacement 6 t; basis iso }\n"
                 "day pass { engine 4 h at 2000 rpm; distance 24 nmi at 6 kn; generator 2 h }\n"
                 "engine e { rated 30 hp at 3000 rpm; fuel diesel }\nengine f { rated 30 hp at 3000 rpm; fuel diesel }\n"
                 "generator gen { rated 3 kW at 230 V; fuel-rate 1.2 l/h }\n"
                 "tank one { holds fuel; capacity 100 l }\ntank two { holds fuel; capacity 80 l }\n"
                 "fuel-line a { from one; to e }\nfuel-line b { from one; to f }\nfuel-line c { from two; to f }\n",
                 "two ways");
    assert_int_equal(wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_toilets_of_one_share),
        cmocka_unit_test(two_ways_of_reckoning_fuel),
        cmocka_unit_test(labels_name_their_inputs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
