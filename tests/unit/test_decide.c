/*
 * What to decide next: what is listed, what hangs on it, and the order. Expected values are worked out by hand.
 */
#include "check.h"
#include "compile.h"

#include "rules/decide.h"

typedef struct Listed {
    Compiled compiled;
    const Decisions *decisions;
} Listed;

static void list(Listed *listed, const char *text)
{
    compile_text(&listed->compiled, text);
    if (listed->compiled.spec->messages.first != NULL) {
        fail_msg("a mistake: %s", listed->compiled.spec->messages.first->text);
    }
    listed->decisions = decide_compute(&listed->compiled.arena, listed->compiled.outcome);
}

/* The small boats of these tests have no pump, no extinguisher and so on, and rules ask for them: left aside. */
static void list_stated(Listed *listed, const char *text)
{
    list(listed, text);
    const Decisions *all = listed->decisions;
    Decisions *stated = ARENA_NEW(&listed->compiled.arena, Decisions);
    stated->list = ARENA_ARRAY(&listed->compiled.arena, Decision *, all->count + 1);
    for (uint32_t i = 0; i < all->count; i++) {
        if (all->list[i]->entity != NULL || all->list[i]->choice != NULL) {
            stated->holding += i < all->holding;
            stated->list[stated->count++] = all->list[i];
        }
    }
    listed->decisions = stated;
}

static void end(Listed *listed)
{
    compile_free(&listed->compiled);
}

static void assert_names(const Listed *listed, const char *const *names, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        assert_true(i < listed->decisions->count);
        assert_string_equal(listed->decisions->list[i]->name, names[i]);
    }
}

static const Decision *decision(const Listed *listed, const char *name)
{
    for (uint32_t i = 0; i < listed->decisions->count; i++) {
        if (strcmp(listed->decisions->list[i]->name, name) == 0) {
            return listed->decisions->list[i];
        }
    }
    fail_msg("`%s` is not listed", name);
    return NULL;
}

static void assert_says(const Listed *listed, const char *name, const char *stands, const char *holds_up)
{
    Arena *arena = listed->compiled.outcome->arena;
    const Decision *found = decision(listed, name);
    assert_string_equal(decide_stands(arena, listed->compiled.outcome, found), stands);
    assert_string_equal(decide_holds_up(arena, found), holds_up);
}

static void nothing_is_listed_of_a_spec_without_anything_open(void **state)
{
    Listed l;
    (void)state;
    list_stated(&l, EXAMPLE_BOAT "item stove { price 300 EUR }\n");
    assert_int_equal(l.decisions->count, 0);
    end(&l);
}

/* 91 to 181 kg against 150, 390 to 690 EUR and the contingency against 500: both goals hang on the count of linings. */
static void what_more_goals_hang_on_stands_first(void **state)
{
    Listed l;
    (void)state;
    list_stated(&l, EXAMPLE_BOAT "item stove { price 90 EUR; mass 30..60 kg }\n"
                          "item lining { count 1..2; mass 60 kg; price 300 EUR; arrived 2027-02-01 of 1 }\n"
                          "goal light { mass 150 kg }\n"
                          "goal purse { budget 500 EUR }\n"
                          "load lamp { portable yes; mass 1 kg; draw 1..2 A }\n");
    const char *const names[] = {"lining.count", "stove.mass", "lamp.price", "lamp.draw"};
    assert_names(&l, names, 4);
    assert_says(&l, "lining.count", "1..2", "2 goals");
    assert_says(&l, "stove.mass", "30..60 kg", "1 goal");
    assert_says(&l, "lamp.draw", "1..2 A", "nothing that is known");
    assert_int_equal(l.decisions->count, 4);
    assert_int_equal(l.decisions->holding, 3);
    end(&l);
}

static void a_fault_stands_before_goals_and_a_fact_that_is_not_stated_is_listed(void **state)
{
    Listed l;
    (void)state;
    list_stated(&l, EXAMPLE_BOAT "item stove { price 90 EUR; mass 80..120 kg }\n"
                          "goal light { mass 100 kg }\n"
                          "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm; price 500 EUR;\n"
                          "  terminals-covered yes; vented-outside yes }\n");
    const char *const names[] = {"house.restrained", "stove.mass"};
    assert_names(&l, names, 2);
    assert_says(&l, "house.restrained", "not stated", "1 open fault");
    end(&l);
}

/* No thing of the spec is an alarm yet; two rules wait for one. */
static void what_is_not_in_the_spec_at_all_is_listed_by_its_kind(void **state)
{
    Listed l;
    (void)state;
    list(&l, EXAMPLE_BOAT "space saloon { sleeping yes; ventilated yes; bilge no }\n");
    assert_string_equal(decide_stands(l.compiled.outcome->arena, l.compiled.outcome, decision(&l, "alarm")), "not stated");
    assert_true(decision(&l, "alarm")->faults >= 1);
    assert_null(decision(&l, "alarm")->entity);
    end(&l);
}

/* Neither has a finding. The windlass: a job, 800..900 EUR, 6 weeks; the stove more money and less time; then no money. */
static void jobs_then_time_then_money(void **state)
{
    Listed l;
    (void)state;
    list_stated(&l, EXAMPLE_BOAT "supplier quay { lead 3 week }\n"
                          "item hatch { spare 0..1 }\n"
                          "item stove { price 2000 EUR; count 1..2; supplier quay }\n"
                          "item windlass { price 800..900 EUR; spare 0..1; lead 6 week }\n"
                          "item anchor { price 1 EUR; count 1..2 }\n"
                          "job moor { takes 1 d; needs anchor }\n"
                          "job done-that { takes 1 d; needs hatch; done 2027-01-01 }\n");
    const char *const names[] = {"anchor.count", "windlass.spare", "stove.count", "hatch.spare", "windlass.price"};
    assert_names(&l, names, 5);
    assert_non_null(strstr(decide_holds_up(l.compiled.outcome->arena, decision(&l, "anchor.count")),
                           "`moor` needs it; 1.00..2.00 EUR to order"));
    assert_says(&l, "windlass.spare", "0..1", "800.00..1800.00 EUR to order, then 6 week until it comes");
    assert_says(&l, "stove.count", "1..2", "2000.00..4000.00 EUR to order, then 3 week until it comes");
    assert_says(&l, "hatch.spare", "0..1", "nothing that is known");
    assert_says(&l, "windlass.price", "800..900 EUR", "nothing that is known");
    assert_int_equal(l.decisions->holding, 3);
    end(&l);
}

/* gas: 400 and 20 EUR, 4 weeks; spirit 300 EUR, ordered already. The budget of 350 is broken with gas alone. */
static void a_choice_holds_up_what_its_options_bring(void **state)
{
    Listed l;
    (void)state;
    list_stated(&l, EXAMPLE_BOAT "goal purse { budget 350 EUR }\n"
                          "choice cooking \"What on?\" {\n"
                          "  option gas {\n    item stove { price 400 EUR; lead 4 week }\n    item hose { price 20 EUR }\n  }\n"
                          "  option spirit { item stove { price 300 EUR; ordered 2027-02-20 } }\n"
                          "}\n"
                          "job fit-galley { takes 1 d; needs stove }\n"
                          "job cook { takes 1 d; needs stove }\n");
    const Decision *cooking = decision(&l, "cooking");
    assert_string_equal(decide_stands(l.compiled.outcome->arena, l.compiled.outcome, cooking), "gas or spirit");
    assert_int_equal(cooking->goals, 1);
    /* what other rules say of the jobs stands before it */
    assert_non_null(strstr(decide_holds_up(l.compiled.outcome->arena, cooking),
                           "; `fit-galley` and 1 more need it; 0.00..420.00 EUR to order, then 4 week until it comes"));
    end(&l);
}

/* What is ordered holds up no order, though its use is still open. */
static void what_is_ordered_waits_for_nothing(void **state)
{
    Listed l;
    (void)state;
    list_stated(&l, EXAMPLE_BOAT "item stove { price 2000 EUR; count 1..2; lead 3 week; ordered 2027-02-20 }\n");
    assert_says(&l, "stove.count", "1..2", "nothing that is known");
    assert_int_equal(l.decisions->holding, 0);
    end(&l);
}

/* What a bowl says of its way is decided; the hose to it is not. */
static void what_no_thing_states_yet_goes_by_its_own_name(void **state)
{
    (void)state;
    Listed listed;
    list(&listed, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"
                  "tank holding { holds black; capacity 50 l; vent 38 mm; pump-out 38 mm }\n"
                  "toilet bowl { worked-by hand; rim 0 m; flushes-with sea; to holding }\n");
    assert_int_equal(decision(&listed, "bowl.hose")->faults, 1);
    for (uint32_t i = 0; i < listed.decisions->count; i++) {
        assert_string_not_equal(listed.decisions->list[i]->name, "bowl.to");
    }
    end(&listed);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_no_thing_states_yet_goes_by_its_own_name),
        cmocka_unit_test(nothing_is_listed_of_a_spec_without_anything_open),
        cmocka_unit_test(what_more_goals_hang_on_stands_first),
        cmocka_unit_test(a_fault_stands_before_goals_and_a_fact_that_is_not_stated_is_listed),
        cmocka_unit_test(what_is_not_in_the_spec_at_all_is_listed_by_its_kind),
        cmocka_unit_test(jobs_then_time_then_money),
        cmocka_unit_test(a_choice_holds_up_what_its_options_bring),
        cmocka_unit_test(what_is_ordered_waits_for_nothing),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
