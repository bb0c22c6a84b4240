/*
 * A word, a name or a yes that is a mistake is not one that was left out: what rests on it waits. Each spec here breaks the
 * rule, or leaves it open, where the line is left out (which shows that it hangs on that line), and says nothing with the
 * mistake in it.
 */
#include "check.h"
#include "unit/verdict.h"

#define BOAT                                                                                           \
    "edition 1\nboat wren { length 7.5 m; beam 2.5 m; displacement 2100 kg; waterline 6.6 m; crew 2; " \
    "currency EUR; "                                                                                   \
    "basis iso; sails no }\n"
#define HOUSE "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 3 mohm }\n"
#define OUTBOARD(MOUNTED) \
    "engine e { rated 60 kW at 5500 rpm; fuel petrol; fed-by house; run 1 m; wire 35 mm2; " MOUNTED " }\n"

static void what_rests_on_a_mistake_waits(void **state)
{
    static const struct {
        const char *rule, *before, *mistake, *after;
    } cases[] = {
        {"unpowered", BOAT "bilge-pump p { ", "hand ja", "rated 1000 l/h }\n"},
        {"unpowered", BOAT "load lamp { draw 1 A; ", "portable ja", "}\n"},
        {"feeds-nothing",
         BOAT HOUSE
         "inverter sine { fed-by house; run 1 m; rated 300 W; output 230 V }\nload kettle { draw 300 W; ",
         "fed-by sinne", "}\n"},
        {"bank-uncharged",
         BOAT HOUSE "solar panel { rated 50 W; feeds sw { run 1 m } }\nswitch sw { works-as battery; ",
         "fed-by hause", "}\n"},
        {"wire-unprotected",
         BOAT HOUSE "engine e { rated 20 kW at 3000 rpm; fuel diesel; starter 200 A; run 1 m; wire 35 mm2; ",
         "fed-by mane-switch",
         "}\nswitch main-switch { fed-by house; run 1 m; wire 35 mm2; works-as battery; rated 200 A }\n"},
        {"engine-joined", BOAT HOUSE "engine e { rated 60 kW at 5500 rpm; fuel petrol; fed-by house; ",
         "mounted transom", "}\n"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Arena arena = check_arena();
        Compiled left_out, mistaken;
        compile_text(&left_out, text_format(&arena, "%s%s", cases[i].before, cases[i].after));
        compile_text(&mistaken,
                     text_format(&arena, "%s%s; %s", cases[i].before, cases[i].mistake, cases[i].after));
        if (compiled_finding(&left_out, cases[i].rule) == NULL) {
            fail_msg("%s is not found with the line left out", cases[i].rule);
        }
        if (compiled_finding(&mistaken, cases[i].rule) != NULL) {
            fail_msg("%s goes by `%s`: %s", cases[i].rule, cases[i].mistake,
                     compiled_finding(&mistaken, cases[i].rule)->message);
        }
        compile_free(&left_out);
        compile_free(&mistaken);
        arena_free(&arena);
    }
}

/* Figures: a hull of a sort that cannot be read has no hull speed, and none of a planing one. */
static void a_figure_that_goes_by_a_mistake_waits(void **state)
{
    Compiled c;
    (void)state;
    compile_text(&c, "edition 1\nboat wren { length 7.5 m; beam 2.5 m; displacement 2100 kg; waterline 6.6 "
                     "m; crew 2; currency EUR; "
                     "basis iso; sails no; hull planning }\n" HOUSE OUTBOARD("mounted outboard"));
    const Figure *speed = compiled_figure(&c, "wren", FIGURE_FULL_SPEED);
    assert_non_null(speed);
    assert_int_equal(speed->state, STATE_WAITING);
    assert_null(compiled_finding(&c, "power-idle"));
    compile_free(&c);
}

/* How long a load runs is a mistake: what runs long waits, and its circuit carries all of it however long that is. */
static void a_time_that_is_a_mistake_hides_no_current(void **state)
{
    Compiled c;
    (void)state;
    compile_text(&c, BOAT HOUSE "panel main { fed-by house; run 1 m; wire 16 mm2 }\ncircuit lamps { fed-by main; run 2 m; wire 1 mm2 }\n"
                          "load lamp { fed-by lamps; draw 40 A; use anchored 3 hours }\nday anchored { sun 3 h }\n");
    assert_int_equal(compiled_figure(&c, "lamps", FIGURE_CURRENT)->state, STATE_KNOWN);
    assert_int_equal(compiled_figure(&c, "main", FIGURE_CURRENT)->state, STATE_WAITING);
    assert_int_equal(compiled_figure(&c, "lamps", FIGURE_CONTINUOUS_CURRENT)->state, STATE_WAITING);
    assert_non_null(compiled_finding(&c, "wire-overloaded"));
    compile_free(&c);
    /* A file that is checked by itself knows no days: the hours hold all the same. */
    compile_text(&c, BOAT HOUSE "panel main { fed-by house; run 1 m; wire 16 mm2 }\n"
                          "load lamp { fed-by main; run 2 m; draw 40 A; use anchored 3 h }\n");
    assert_int_equal(compiled_figure(&c, "main", FIGURE_CURRENT)->state, STATE_KNOWN);
    compile_free(&c);
}

/* What has nothing to do with it is judged as ever: a bank that is not held, on a boat with a mistake elsewhere. */
static void a_mistake_elsewhere_hides_nothing(void **state)
{
    Compiled c;
    (void)state;
    compile_text(&c, BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; restrained no }\nload "
                          "lamp { draw 1 A; portable ja }\n");
    assert_non_null(compiled_finding(&c, "bank-held"));
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_rests_on_a_mistake_waits),
        cmocka_unit_test(a_figure_that_goes_by_a_mistake_waits),
        cmocka_unit_test(a_time_that_is_a_mistake_hides_no_current),
        cmocka_unit_test(a_mistake_elsewhere_hides_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
