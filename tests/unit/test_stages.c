/*
 * The first stages one by one: text to tokens to tree, tree to model, and the library's entrance when memory runs out. What
 * they say of mistakes is tested by the specs in tests/wrong/.
 */
#include "check.h"
#include "compile.h"
#include "garboard.h"
#include "purse.h"

#include "syntax/parse.h"

#include <stdio.h>
#include <stdlib.h>

#define BOAT "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; rate 1.25 USD per EUR }\n"

/* Tokens and tree */

static const char *dumped(Arena *arena, const char *text)
{
    Sources *sources = ARENA_NEW(arena, Sources);
    Messages messages;
    Tree *tree = ARENA_NEW(arena, Tree);
    sources_init(sources, arena);
    messages_init(&messages, arena);
    tree_init(tree, arena, sources, symbols_new(arena));
    Str given = str_from(text);
    char *copy = (char *)str_copy(arena, given);
    NodeId file = parse_source(tree, sources_add(sources, STR("test"), copy, given.length), &messages);
    assert_int_equal(messages.count, 0);
    Buf buf;
    buf_init(&buf, arena);
    tree_dump(tree, file, &buf);
    return buf.text;
}

static void statements_terms_and_comments_become_a_tree(void **state)
{
    (void)state;
    Arena arena = check_arena();
    assert_string_equal(dumped(&arena, "edition 1\n# first\npump p is q \"P\" was o {  # why\n  feeds house { run 2 m; wire 35 mm2 }\n"
                                       "  through a,\n    b\n}\n"),
                        "file\n  edition edition 1\n  comment # first\n  thing pump p is q \"P\" was o\n    comment after # why\n"
                        "    property feeds house\n      property run 2 m\n      property wire 35 mm2\n"
                        "    property through a , b\n");
    arena_free(&arena);
}

static void a_byte_order_mark_and_carriage_returns_are_tolerated(void **state)
{
    (void)state;
    Arena arena = check_arena();
    assert_string_equal(dumped(&arena, "\xEF\xBB\xBFitem a {\r\n  mass 2 kg\r\n}\r\n"),
                        "file\n  thing item a\n    property mass 2 kg\n");
    arena_free(&arena);
}

static void a_text_goes_on_as_another_in_the_next_line(void **state)
{
    (void)state;
    Arena arena = check_arena();
    assert_string_equal(dumped(&arena, "item a {\n  note \"one\"\n    \"two\"\n  mass 1 kg\n}\n"),
                        "file\n  thing item a\n    property note \"one\" \"two\"\n    property mass 1 kg\n");
    arena_free(&arena);
}

/* Quantities: each form, in SI */

static void assert_quantity(const char *property, PropId id, unsigned slot, double low, double high)
{
    Compiled c;
    char text[1024];
    snprintf(text, sizeof text, BOAT "space a { }\nitem thing { %s }\nbank house { chemistry agm; voltage 12 V; %s }\n",
             id == PROP_BANK_CAPACITY ? "" : property, id == PROP_BANK_CAPACITY ? property : "capacity 1 Ah");
    compile_text(&c, text);
    if (c.spec->messages.first != NULL) {
        fail_msg("%s: %s", property, c.spec->messages.first->text);
    }
    const Entity *entity = model_find(outcome_first(c.outcome)->model, id == PROP_BANK_CAPACITY ? STR("house") : STR("thing"));
    const Value *value = property_value(entity_property(entity, id), slot);
    assert_int_equal(value->kind, VALUE_QUANTITY);
    assert_near(value->u.quantity.low, low, 1e-12 * (1.0 + fabs(low)));
    assert_near(value->u.quantity.high, high, isfinite(high) ? 1e-12 * (1.0 + fabs(high)) : 0.0);
    compile_free(&c);
}

static void quantities_are_read_in_every_form(void **state)
{
    (void)state;
    assert_quantity("mass 2.5 kg", PROP_COMMON_MASS, 0, 2.5, 2.5);
    assert_quantity("mass 2.5kg", PROP_COMMON_MASS, 0, 2.5, 2.5);
    assert_quantity("mass 1_200 g", PROP_COMMON_MASS, 0, 1.2, 1.2);
    assert_quantity("at 3/4 m 0 m 0 m", PROP_COMMON_AT, 0, 0.75, 0.75);
    assert_quantity("mass 1 1/2 t", PROP_COMMON_MASS, 0, 1500.0, 1500.0);
    assert_quantity("mass 30..50 kg", PROP_COMMON_MASS, 0, 30.0, 50.0);
    assert_quantity("mass 500 g..2 kg", PROP_COMMON_MASS, 0, 0.5, 2.0);
    assert_quantity("mass <= 20 kg", PROP_COMMON_MASS, 0, 0.0, 20.0);
    assert_quantity("mass 50 kg +/- 10 %", PROP_COMMON_MASS, 0, 45.0, 55.0);
    assert_quantity("mass 50 +/- 5 kg measured", PROP_COMMON_MASS, 0, 45.0, 55.0);
    assert_quantity("mass ?", PROP_COMMON_MASS, 0, 0.0, INFINITY);
    assert_quantity("capacity >= 500 Ah", PROP_BANK_CAPACITY, 0, 1.8e6, INFINITY);
    assert_quantity("at 6 ft 3 in -0.35 m 0.2 m", PROP_COMMON_AT, 0, 1.905, 1.905);
    assert_quantity("at 9 ft 0.5 ft 30 in", PROP_COMMON_AT, 1, 0.1524, 0.1524);
    assert_quantity("at 9 ft 0.5 ft 30 in", PROP_COMMON_AT, 2, 0.762, 0.762);
    assert_quantity("price 100 USD", PROP_COMMON_PRICE, 0, 80.0, 80.0); /* 1.25 USD for one EUR */
}

/* The model */

static void every_default_of_the_schema_reads_without_a_mistake(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT);
    for (int p = PROP_NONE + 1; p < PROP_COUNT; p++) {
        const Property *property = model_default(outcome_first(c.outcome)->model, (PropId)p);
        if (props[p].assumed != NULL && (property == NULL || property->flags & PROPERTY_BROKEN)) {
            fail_msg("the default of `%s`: %s", props[p].word, props[p].assumed);
        }
    }
    assert_int_equal(c.spec->messages.count, 0);
    compile_free(&c);
}

static double mass_of(const Compiled *c, const char *name)
{
    const Entity *entity = model_find(outcome_first(c->outcome)->model, str_from(name));
    return property_value(entity_property(entity, PROP_COMMON_MASS), 0)->u.quantity.low;
}

static void what_a_thing_states_wins_over_its_part_and_a_set_over_both(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "part p for item { mass 1 kg }\nitem a is p { }\nitem b is p { mass 2 kg }\nitem e is p { mass 2 kg }\n"
                          "choice size { option big { set e.mass 3 kg }; pick big }\n");
    assert_int_equal(c.spec->messages.count, 0);
    assert_near(mass_of(&c, "a"), 1.0, 0.0);
    assert_near(mass_of(&c, "b"), 2.0, 0.0);
    assert_near(mass_of(&c, "e"), 3.0, 0.0);
    compile_free(&c);
}

static void open_choices_are_covered_case_by_case(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "choice one { option a { item x { mass 1 kg } }; option b { item x { mass 4 kg } } }\n"
                          "choice two { option a { item y { mass 10 kg } }; option b { item y { mass 20 kg } }; "
                          "option d { item y { mass 40 kg } } }\n");
    assert_int_equal(c.outcome->case_count, 6);
    Figure mass;
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_MASS, STR(""), &mass));
    assert_near(mass.low, 11.0, 1e-9);
    assert_near(mass.high, 44.0, 1e-9);
    compile_free(&c);
}

static void feeds_run_from_givers_to_takers_and_loops_are_left_out(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "load l { fed-by k; draw 1 A }\ncircuit k { fed-by p; run 1 m }\npanel p { fed-by b; run 1 m }\n"
                          "bank b { chemistry agm; voltage 12 V; capacity 9 Ah }\npanel q { fed-by r; run 1 m }\n"
                          "panel r { fed-by q; run 1 m }\ninlet s { rated 16 A at 230 V }\npanel t-1 { fed-by s; run 1 m }\n");
    const Model *model = outcome_first(c.outcome)->model;
    uint32_t at[4] = {0};
    static const char *const names[] = {"b", "p", "k", "l"};
    for (int n = 0; n < 4; n++) {
        for (uint32_t i = 0; i < model->feed_order_count; i++) {
            if (model->feed_order[i] == model_find(model, str_from(names[n]))) {
                at[n] = i + 1;
            }
        }
        assert_true(at[n] > (n > 0 ? at[n - 1] : 0));
    }
    assert_true(model_find(model, STR("q"))->flags & ENTITY_LOOP);
    assert_true(model_find(model, STR("t-1"))->flags & ENTITY_AC);
    assert_false(model_find(model, STR("p"))->flags & ENTITY_AC);
    compile_free(&c);
}

/* The library */

static void memory_that_runs_out_at_any_call_is_told_and_given_back(void **state)
{
    (void)state;
    static const char text[] = BOAT "bank b { chemistry agm; voltage 12 V; capacity 9 Ah }\nload l { fed-by b; run 1 m; draw 1 A }\n";
    bool done = false;
    for (int allowed = 0; allowed < 200 && !done; allowed++) {
        Purse purse = {.left = allowed};
        GbRequest request = {.path = "test.boat", .text = text, .length = sizeof text - 1, .reader = gb_reader_files(),
                             .today = "2027-03-01", .allocator = {purse_allocate, purse_release, &purse}};
        GbCompilation *boat;
        GbText out;
        GbStatus status = gb_compile(&request, &boat);
        if (status == GB_DONE) {
            status = gb_output(boat, "check", "json", NULL, &out);
        }
        done = status == GB_DONE;
        assert_true(done || status == GB_OUT_OF_MEMORY);
        gb_free(boat);
        assert_int_equal(purse.alive, 0);
    }
    assert_true(done);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(statements_terms_and_comments_become_a_tree),
        cmocka_unit_test(a_byte_order_mark_and_carriage_returns_are_tolerated),
        cmocka_unit_test(a_text_goes_on_as_another_in_the_next_line),
        cmocka_unit_test(quantities_are_read_in_every_form),
        cmocka_unit_test(every_default_of_the_schema_reads_without_a_mistake),
        cmocka_unit_test(what_a_thing_states_wins_over_its_part_and_a_set_over_both),
        cmocka_unit_test(open_choices_are_covered_case_by_case),
        cmocka_unit_test(feeds_run_from_givers_to_takers_and_loops_are_left_out),
        cmocka_unit_test(memory_that_runs_out_at_any_call_is_told_and_given_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
