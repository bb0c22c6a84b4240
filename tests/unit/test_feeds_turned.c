/*
 * A converter that `feeds` a panel that nothing else feeds, and a panel that is `fed-by` that converter: two forms of one cable.
 * No source: each form is the other's oracle.
 */
#include "check.h"
#include "compile.h"

#include "output/figures_out.h"

#define BOAT \
    "edition 1\nboat wren \"Wren\" { length 10 m; beam 3 m; displacement 6400 kg; crew 2; currency EUR; basis iso }\n" \
    "space well { bilge yes }\nday anchored { sun 3 h }\n" \
    "bank house { chemistry agm; voltage 24 V; capacity 20 Ah; resistance 6 mohm }\n" \
    "switch sw { fed-by house; works-as battery; rated 350 A; run 0.4 m; wire 70 mm2 insulation 105 C; protect 200 A fuse }\n" \
    "circuit a { fed-by panel12; run 3 m; wire 2.5 mm2; protect 30 A breaker }\n" \
    "radio vhf { fed-by a; draw 5.5 A; critical yes; min-voltage 11.6 V; use anchored 10 % }\n" \
    "load pump1 { fed-by a; draw 8 A; surge 40 A for 0.5 s; use anchored 50 % }\n" \
    "circuit b { fed-by panel12; run 3 m; protect 10 A breaker }\n" \
    "bilge-pump pump { fed-by b; draw 4 A; rated 3600 l/h; lift 1 m; shut-off 4 m; outlet 28 mm by 2 m; automatic yes; space well }\n"
#define CONVERTER(FEEDS) "converter c12 { fed-by sw; run 1 m; wire 16 mm2 insulation 105 C; output 30 A at 12 V; " FEEDS " }\n"
#define FED(CABLE) BOAT CONVERTER("isolated no") "panel panel12 { fed-by c12; " CABLE "; rated 60 A }\n"
#define FEEDING(CABLE) BOAT CONVERTER("isolated no; feeds panel12 { " CABLE " }") "panel panel12 { rated 60 A }\n"

static unsigned count_findings(const Compiled *c)
{
    unsigned count = 0;
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        count++;
    }
    return count;
}

/* One is found of the other's name and sense; where it stands is another line. */
static bool finds(const Compiled *c, const Finding *wanted)
{
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        if (f->rule == wanted->rule && f->verdict == wanted->verdict && strcmp(f->message, wanted->message) == 0) {
            return true;
        }
    }
    return false;
}

static void same_figures(const Compiled *one, const Compiled *other)
{
    const Case *a = outcome_first(one->outcome), *b = outcome_first(other->outcome);
    for (uint32_t i = 0; i < a->model->entity_count; i++) {
        const Entity *thing = a->model->entities[i];
        const Entity *same = model_find(b->model, entity_name(a->model, thing));
        for (int id = 1; id < FIGURE_COUNT; id++) {
            const Figure *here = figure_find(a->figures, thing, (FigureId)id, NULL);
            const Figure *there = figure_find(b->figures, same, (FigureId)id, NULL);
            if ((here == NULL) != (there == NULL)) {
                fail_msg("`%s` has the figure %s in one form alone", entity_name(a->model, thing).text, figure_rows[id].name);
            }
            assert_true(here == NULL || (here->state == there->state && here->low == there->low && here->high == there->high));
        }
    }
}

static void same_of(const char *fed, const char *feeding)
{
    Compiled one, other;
    compile_text(&one, fed);
    compile_text(&other, feeding);
    assert_null(one.spec->messages.first);
    assert_null(other.spec->messages.first);
    same_figures(&one, &other);
    assert_int_equal(count_findings(&one), count_findings(&other));
    for (const Finding *f = one.outcome->findings; f != NULL; f = f->next) {
        if (!finds(&other, f)) {
            fail_msg("found in one form alone: %s", f->message);
        }
    }
    compile_free(&one);
    compile_free(&other);
}

static void both_forms_say_one_thing(void **state)
{
    (void)state;
    same_of(FED("run 6 m; wire 6 mm2 insulation 105 C"), FEEDING("run 6 m; wire 6 mm2 insulation 105 C"));
    same_of(FED("run 6 m; protect 30 A fuse"), FEEDING("run 6 m; protect-output 30 A fuse"));
    same_of(FED("run 0 m"), FEEDING("run 0 m"));
    same_of(FED("through well"), FEEDING("through well"));
}

/* A figure names what it goes by as it is stated, so that it can be set by that name. */
static void expect_input(const char *text, FigureId id, const char *name)
{
    Compiled c;
    compile_text(&c, text);
    const Figure *figure = compiled_figure(&c, "panel12", id);
    assert_non_null(figure);
    bool found = false;
    for (uint16_t i = 0; i < figure->input_count && !found; i++) {
        Buf input;
        buf_init(&input, &c.arena);
        figures_input_name(&input, outcome_first(c.outcome)->figures, &figure->inputs[i]);
        found = strcmp(input.text, name) == 0;
    }
    if (!found) {
        fail_msg("no input is called %s", name);
    }
    compile_free(&c);
}

static void a_cable_is_called_as_it_is_stated(void **state)
{
    (void)state;
    expect_input(FED("run 6 m; wire 6 mm2"), FIGURE_VOLTAGE_DROP, "panel12.run");
    expect_input(FEEDING("run 6 m; wire 6 mm2"), FIGURE_VOLTAGE_DROP, "c12.feeds.run");
    expect_input(FEEDING("run 6 m; wire 6 mm2"), FIGURE_WIRE_SIZE, "c12.feeds.wire");
}

/* What is behind a switch and a converter is not live while nobody is aboard, and the drops of all cables on the way add up. */
static void what_a_converter_feeds_is_followed(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, FEEDING("run 6 m; wire 6 mm2 insulation 105 C"));
    assert_non_null(compiled_finding(&c, "always-live"));
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) { /* 30 A of output, 60 A of cable */
        assert_true(strcmp(f->rule->name, "wire-unprotected") != 0 || strstr(f->message, "panel12") == NULL);
    }
    assert_non_null(compiled_finding(&c, "bank-discharge"));
    assert_non_null(compiled_figure(&c, "house", FIGURE_RUNTIME));
    const Figure *all = compiled_figure(&c, "a", FIGURE_TOTAL_DROP), *own = compiled_figure(&c, "a", FIGURE_VOLTAGE_DROP);
    const Figure *before = compiled_figure(&c, "panel12", FIGURE_TOTAL_DROP);
    assert_true(before != NULL && fabs(all->low - own->low - before->low) < 1e-9);
    compile_free(&c);
}

/* What is open of its cable is named as it stands in the spec, and can be set by that name. */
static void a_property_is_named_where_it_stands(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, FEEDING("run 6 m; wire 4..25 mm2 insulation 105 C"));
    bool named = false;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        named = named || (f->depends != NULL && strcmp(f->depends->text, "c12.feeds.wire") == 0);
        assert_true(f->depends == NULL || strcmp(f->depends->text, "panel12.wire") != 0);
    }
    assert_true(named);
    compile_free(&c);
    compile_text_with(&c, FEEDING("run 6 m; wire 4..25 mm2 insulation 105 C"), "c12.feeds.wire=25 mm2", NULL);
    assert_null(c.spec->messages.first);
    compile_free(&c);
}

/* A bank behind it, or another source beside it: there it charges, and says so itself. */
static void what_charges_is_not_turned(void **state)
{
    (void)state;
    static const char *const specs[] = {
        BOAT CONVERTER("feeds panel12 { run 1 m }") "bank other { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
            "panel panel12 { fed-by other; rated 60 A }\n",
        BOAT CONVERTER("feeds panel12 { run 1 m }") "panel panel12 { rated 60 A }\n"
            "solar array { rated 100 W; feeds panel12 { run 1 m } }\n",
    };
    for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
        Compiled c;
        compile_text(&c, specs[i]);
        const Model *model = outcome_first(c.outcome)->model;
        const Entity *panel = model_find(model, STR("panel12"));
        assert_null(panel->stated_by);
        assert_non_null(panel->made);
        compile_free(&c);
    }
}

static void a_cable_is_stated_once(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT CONVERTER("feeds panel12 { run 1 m }") "panel panel12 { run 2 m; rated 60 A }\n");
    assert_non_null(c.spec->messages.first);
    assert_non_null(strstr(c.spec->messages.first->text, "it is one cable"));
    compile_free(&c);
    compile_text(&c, BOAT CONVERTER("feeds panel12 { run 1 m }") "panel panel12 { wire 6 mm2; rated 60 A }\n"); /* what one leaves out */
    assert_null(c.spec->messages.first);
    assert_int_equal((int)(compiled_figure(&c, "panel12", FIGURE_WIRE_SIZE)->low * 1e6 + 0.5), 6);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_forms_say_one_thing),
        cmocka_unit_test(what_a_converter_feeds_is_followed),
        cmocka_unit_test(a_cable_is_called_as_it_is_stated),
        cmocka_unit_test(a_property_is_named_where_it_stands),
        cmocka_unit_test(what_charges_is_not_turned),
        cmocka_unit_test(a_cable_is_stated_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
