/*
 * Tax in prices. Oracles are worked by hand beside each test.
 */
#include "unit/verdict.h"

#define BOAT(SAYS) "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no; " SAYS " }\n"

static void expect_money(const char *spec, FigureId id, double low, double high)
{
    Compiled c;
    compile_text(&c, spec);
    if (c.spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c.spec->messages.first->text);
    }
    const Figure *figure = compiled_figure(&c, "wren", id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, low, 1e-6);
    assert_near(figure->high, high, 1e-6);
    compile_free(&c);
}

/* 100 and 20 % are 120; 100 with tax stay 100. */
static void what_is_without_tax_has_it_added(void **state)
{
    (void)state;
    expect_money(BOAT("tax 20 %") "item sail { price 100 EUR without-tax }\n", FIGURE_COST, 120.0, 120.0);
    expect_money(BOAT("tax 20 %") "item sail { price 100 EUR with-tax }\n", FIGURE_COST, 100.0, 100.0);
    expect_money(BOAT("tax 20 %") "item sail { price 100 EUR }\n", FIGURE_COST, 100.0, 100.0);
    expect_money(BOAT("tax 20 %") "supplier loft { prices without-tax }\nitem sail { price 100 EUR; supplier loft; count 2 }\n", FIGURE_COST, 240.0, 240.0);
    expect_money(BOAT("tax 20 %") "supplier loft { prices without-tax; tax 10 % }\nitem sail { quote 100 EUR; supplier loft }\n", FIGURE_COST, 110.0,
                 110.0);
    expect_money(BOAT("tax 20 %") "supplier loft { prices without-tax }\nitem sail { price 100 EUR with-tax; supplier loft }\n", FIGURE_COST, 100.0, 100.0);
    expect_money(BOAT("tax 19..20 %") "item sail { price 100 EUR without-tax }\n", FIGURE_COST, 119.0, 120.0);
    /* a dollar is 0.9 EUR: 90 and a tenth */
    expect_money(BOAT("tax 10 %; rate 0.9 EUR per USD") "item sail { price 100 USD without-tax }\n", FIGURE_COST, 99.0, 99.0);
}

/* 120 / 1.2 + 60 / 1.2 x 1.1 of contingency; 60 / 1.2 to buy. */
static void what_is_left_without_tax_is_told(void **state)
{
    (void)state;
#define THINGS "item sail { price 120 EUR; ordered 2027-01-10 }\nitem oar { price 50 EUR without-tax }\n"
    expect_money(BOAT("tax 20 %; contingency 10 %") THINGS, FIGURE_COST, 186.0, 186.0);
    expect_money(BOAT("tax 20 %; contingency 10 %") THINGS, FIGURE_COST_WITHOUT_TAX, 155.0, 155.0);
    expect_money(BOAT("tax 20 %; contingency 10 %") THINGS, FIGURE_TO_BUY_WITHOUT_TAX, 50.0, 50.0);
    /* of what nobody states the rate all counts */
    expect_money(BOAT("") "supplier loft { tax 20 % }\nitem sail { price 120 EUR; supplier loft }\nitem oar { price 10 EUR }\n", FIGURE_COST_WITHOUT_TAX,
                 110.0, 110.0);
    Compiled c;
    compile_text(&c, BOAT("") "item sail { price 120 EUR }\n");
    assert_null(compiled_figure(&c, "wren", FIGURE_COST_WITHOUT_TAX));
    compile_free(&c);
}

/* Each model of an open choice adds it once; what was bought for the other option has it too. */
static void tax_is_added_once_whatever_is_chosen(void **state)
{
    (void)state;
#define CHOICE(PICK) "item sail { price 100 EUR without-tax }\nchoice craft {\n  option oar { item oars { price 10 EUR without-tax; arrived 2027-01-02 } }\n" \
    "  option pole { item quant { price 20 EUR without-tax } }\n" PICK "}\n"
    expect_money(BOAT("tax 20 %") CHOICE("  pick oar\n"), FIGURE_COST, 132.0, 132.0);
    expect_money(BOAT("tax 20 %") CHOICE("  pick pole\n"), FIGURE_COST, 144.0, 144.0);
    expect_money(BOAT("tax 20 %") CHOICE("  pick pole\n"), FIGURE_PAID_IN_VAIN, 12.0, 12.0);
    Compiled c;
    compile_text(&c, BOAT("tax 20 %") CHOICE(""));
    assert_int_equal(c.outcome->case_count, 2);
    for (uint32_t i = 0; i < 2; i++) {
        const Case *in = &c.outcome->cases[i];
        const Figure *cost = figure_find(in->figures, in->model->boat, FIGURE_COST, NULL);
        assert_near(cost->high, i == 0 ? 132.0 : 144.0, 1e-6);
    }
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_without_tax_has_it_added),
        cmocka_unit_test(what_is_left_without_tax_is_told),
        cmocka_unit_test(tax_is_added_once_whatever_is_chosen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
