/*
 * Figures of the boat as a whole: sums of mass and money against sums done by hand, endurance against a
 * published holding tank, and the status of purchases.
 */
#include "unit/test_boat.h"

#include "model/status.h"

#include <stdio.h>

/* Compiles the example boat with more in it, which must be without mistakes. */
static void compile_boat(Compiled *c, const char *things)
{
    char text[4096];
    assert_true(snprintf(text, sizeof text, "%s%s", EXAMPLE_BOAT, things) < (int)sizeof text);
    compile(c, text);
    expect_no_mistake(c);
}

static void expect_figure(const Compiled *c, FigureId id, double low, double high)
{
    const Figure *figure = boat_figure(c, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, low, 1e-9 * (1.0 + fabs(low)));
    assert_near(figure->high, high, 1e-9 * (1.0 + fabs(high)));
}

/* Compiles, compares one figure of the boat, and forgets it all. */
static void expect_of(const char *things, FigureId id, double low, double high)
{
    Compiled c;
    compile_boat(&c, things);
    expect_figure(&c, id, low, high);
    done_with(&c);
}

static void expect_remark(const char *things, FigureId id, const char *remark)
{
    Compiled c;
    compile_boat(&c, things);
    const Figure *figure = boat_figure(&c, id);
    assert_non_null(figure);
    if (remark == NULL) {
        assert_null(figure->remark);
    } else {
        assert_string_equal(figure->remark, remark);
    }
    done_with(&c);
}

/* ---- Mass ---- */

static void mass_is_the_sum_with_counts_and_spares(void **state)
{
    (void)state;
    /* 3 x 2 kg and a spare of 2 kg, and 40 kg: 48 kg. */
    expect_of("item oar { mass 2 kg; count 3; spare 1 }\nitem stove { mass 40 kg }\n", FIGURE_MASS, 48.0,
              48.0);
    expect_of("item stove { mass 30..40 kg; count 2 }\n", FIGURE_MASS, 60.0, 80.0);
    expect_of("item stove { mass >= 30 kg }\n", FIGURE_MASS, 30.0, INFINITY);
}

static void strings_of_batteries_and_panels_count_by_their_layout(void **state)
{
    (void)state;
    /* Two in series, two such strings: four batteries of 30 kg. */
    expect_of(
        "bank house { chemistry agm; voltage 6 V; capacity 200 Ah; series 2; parallel 2; mass 30 kg }\n",
        FIGURE_MASS, 120.0, 120.0);
    expect_of("bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
              "solar roof { rated 130 W; series 3; price 100 EUR; feeds house { run 3 m } }\n",
              FIGURE_COST, 300.0, 300.0);
}

static void what_is_dropped_is_in_no_sum(void **state)
{
    (void)state;
    expect_of("item stove { mass 40 kg; price 10 EUR }\n"
              "item davits { mass 24 kg; price 890 EUR; ordered 2026-01-01; status dropped }\n",
              FIGURE_MASS, 40.0, 40.0);
    expect_of("item stove { price 10 EUR }\nitem davits { price 890 EUR; status dropped }\n", FIGURE_COST,
              10.0, 10.0);
}

static void things_without_a_mass_are_counted_in_the_remark(void **state)
{
    (void)state;
    expect_remark("item stove { mass 40 kg }\n", FIGURE_MASS, NULL);
    expect_remark("item stove { mass 40 kg }\nitem oar\n", FIGURE_MASS, "1 thing has no mass");
    expect_remark("item stove { mass 40 kg }\nitem oar\nitem mast\nitem boom { status dropped }\n",
                  FIGURE_MASS, "2 things have no mass");
    expect_remark("item stove { mass 40 kg }\ntank water { holds fresh; capacity 100 l }\n", FIGURE_MASS,
                  "1 thing has no mass; what is in the tanks is not counted");
    expect_remark("item stove { mass 40 kg }\ntank water { holds fresh; capacity 100 l }\n",
                  FIGURE_LOADED_MASS, "1 thing has no mass");
}

static void a_boat_of_which_nothing_is_weighed_or_priced_has_no_sums(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item oar\n");
    assert_null(boat_figure(&c, FIGURE_MASS));
    assert_null(boat_figure(&c, FIGURE_MASS_GAP));
    assert_null(boat_figure(&c, FIGURE_COST));
    done_with(&c);
}

/* A litre of fresh water weighs a kilogram: half of 200 l are 100 kg. The example boat displaces 5200 kg. */
static void contents_come_on_top_and_the_gap_is_to_the_displacement(void **state)
{
    (void)state;
    static const char things[] = "item stove { mass 40 kg }\n"
                                 "tank water { holds fresh; capacity 200 l; fill-level 50 %; mass 15 kg }\n";
    expect_of(things, FIGURE_MASS, 55.0, 55.0);
    expect_of(things, FIGURE_LOADED_MASS, 155.0, 155.0);
    expect_of(things, FIGURE_MASS_GAP, 5145.0, 5145.0);
    /* What has no mass takes some of it: at most so much is left. */
    expect_of("item stove { mass 40 kg }\nitem mast\n", FIGURE_MASS_GAP, -INFINITY, 5160.0);
}

/* One pound is 0.45359237 kg: NIST Special Publication 811. */
static void mass_is_printed_in_the_unit_of_the_displacement(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, "edition 1\nboat wren { length 30 ft; beam 10 ft; displacement 9000 lb; crew 2; currency "
                "USD; basis us }\n"
                "item stove { mass 100 lb }\n");
    expect_figure(&c, FIGURE_MASS, 45.359237, 45.359237);
    assert_string_equal(figure_text(c.figures, boat_figure(&c, FIGURE_MASS)), "100 lb");
    done_with(&c);
}

static void mass_is_printed_in_kg_where_the_displacement_is_in_tonnes(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, "edition 1\nboat wren { length 9 m; beam 3 m; displacement 5.2 t; crew 2; currency EUR; basis iso }\n"
                "item cushions { mass 18 kg }\n");
    assert_string_equal(figure_text(c.figures, boat_figure(&c, FIGURE_MASS)), "18 kg");
    done_with(&c);
}

/* ---- Money ---- */

/* The example boat with 15 % of contingency and a rate: 0.90 EUR for a dollar. */
#define PURSE                                                                                      \
    "edition 1\n"                                                                                  \
    "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us\n" \
    "contingency 15 %; rate 0.90 EUR per USD }\n"

static void money_is_bound_or_still_to_be_spent(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, PURSE "item a1 { price 100 EUR; count 2; spare 1; ordered 2027-01-10; promised 2027-04-01 }\n"
                      "item a2 { price 50 EUR; fitted 2027-01-10 }\n"
                      "item a3 { price 200..300 EUR }\n"
                      "item a4 { price 100 USD; status wanted }\n");
    expect_no_mistake(&c);
    /* 3 x 100 + 50; 200..300 + 90; 15 % of that; all together. */
    expect_figure(&c, FIGURE_COMMITTED, 350.0, 350.0);
    expect_figure(&c, FIGURE_STILL_TO_BUY, 290.0, 390.0);
    expect_figure(&c, FIGURE_CONTINGENCY, 43.5, 58.5);
    expect_figure(&c, FIGURE_COST, 683.5, 798.5);
    assert_null(boat_figure(&c, FIGURE_LOST_ON_RETURNS));
    assert_string_equal(figure_text(c.figures, boat_figure(&c, FIGURE_COST)), "683.50..798.50 EUR");
    done_with(&c);
}

static void a_quote_counts_where_there_is_no_price(void **state)
{
    (void)state;
    expect_of("item a1 { quote 80 EUR }\nitem a2 { price 10 EUR; quote 80 EUR }\n", FIGURE_STILL_TO_BUY, 90.0,
              90.0);
    expect_remark("item a1 { quote 80 EUR }\nitem a2\n", FIGURE_COST, "1 thing has no price");
}

static void what_went_back_is_bought_again_and_costs_what_was_not_refunded(void **state)
{
    (void)state;
    static const char windows[] =
        "item windows { price 1640 EUR; status returned; arrived 2026-09-11; refunded 1600 EUR }\n";
    expect_of(windows, FIGURE_LOST_ON_RETURNS, 40.0, 40.0);
    expect_of(windows, FIGURE_COMMITTED, 0.0, 0.0);
    expect_of(windows, FIGURE_STILL_TO_BUY, 1640.0, 1640.0);
    expect_of(windows, FIGURE_COST, 1680.0, 1680.0);
    /* The new price is lower than what came back for the old one: nothing is lost, and nothing won. */
    expect_of("item windows { price 1500 EUR; status returned; refunded 1600 EUR }\n", FIGURE_COST, 1500.0,
              1500.0);
    expect_remark("item windows { price 1500 EUR; status returned }\n", FIGURE_LOST_ON_RETURNS,
                  "no refund is stated for 1 of 1 that went back");
    /* Pieces, not sorts of things. */
    expect_remark("item windows { price 1500 EUR; status returned; count 6 }\nitem panes { price 10 EUR; count 2; status returned; refunded 5 EUR }\n",
                  FIGURE_LOST_ON_RETURNS, "no refund is stated for 6 of 8 that went back");
}

static void a_sum_waits_for_a_mistake_in_what_it_sums(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, EXAMPLE_BOAT "item a1 { mass 4 kg; price 10 EUR }\nitem a2 { mass 4 km; price 10 EUR }\n");
    assert_int_equal(c.spec->messages.count, 1);
    assert_int_equal(boat_figure(&c, FIGURE_MASS)->state, STATE_WAITING);
    assert_int_equal(boat_figure(&c, FIGURE_MASS_GAP)->state, STATE_WAITING);
    assert_int_equal(boat_figure(&c, FIGURE_COST)->state, STATE_KNOWN);
    done_with(&c);
}

/* ---- Endurance ---- */

/*
 * A boating encyclopedia's holding tank: four people, ten days, 3 gallons a day each, and a factor of 1.4
 * for what cannot be filled: 168 gallons. With 0.8 to 2 l of liquids a person and day on top of 3 gallons of water it is full
 * sooner: 10 d x 12 gal / (12 gal + 4 x 2 l), by hand 8.5026 d, or with 0.8 l 9.3419 d.
 */
#define HOLDING_TANK                                                                              \
    "edition 1\n"                                                                                 \
    "boat wren { length 12 m; beam 4 m; displacement 9000 kg; crew 4; currency USD; basis us }\n" \
    "day aboard { sun 0 h; flushes 3 per person; water 2 gal per person }\n"                      \
    "tank holding { holds black; capacity 168 gal; usable 71.4285714285714 % }\n"                 \
    "toilet head { worked-by hand; flush 1 gal; flushes-with sea; to holding }\n"

static const Figure *day_figure(const Compiled *c)
{
    return figure_find(c->figures, c->model->boat, FIGURE_ENDURANCE, model_find(c->model, STR("aboard")));
}

static void she_lasts_as_long_as_a_published_holding_tank(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, HOLDING_TANK);
    expect_no_mistake(&c);
    const Figure *endurance = day_figure(&c);
    assert_non_null(endurance);
    assert_near(endurance->low / 86400.0, 8.5026, 1e-4);
    assert_near(endurance->high / 86400.0, 9.3419, 1e-4);
    assert_string_equal(endurance->remark, "`holding` ends it");
    done_with(&c);
}

/*
 * 4 x 2 gal a day run into 20 gal of grey water, all usable: full after 2.5 days, and the goal of 4 days is missed. Where a
 * pump empties the tank it is never full: the water decides, 40 gal over 8 gal a day.
 */
#define GREY_WATER                                                                                \
    HOLDING_TANK "tank water { holds fresh; capacity 40 gal; usable 100 % }\n"                    \
    "pump hand { hand yes; from water; to sink }\n"                                               \
    "fixture sink { drains-to grey }\n"                                                           \
    "tank grey { holds grey; capacity 20 gal; usable 100 % }\n"                                   \
    "goal quiet { endure 4 d on aboard }\n"

static void grey_water_that_nothing_empties_ends_it(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, GREY_WATER);
    expect_no_mistake(&c);
    assert_near(day_figure(&c)->high / 86400.0, 2.5, 1e-9);
    assert_string_equal(day_figure(&c)->remark, "`grey` ends it");
    done_with(&c);
    compile(&c, GREY_WATER "pump away { from grey; to out; draw 3 A }\nthrough-hull out { bore 1 in }\n");
    expect_no_mistake(&c);
    assert_near(day_figure(&c)->low / 86400.0, 5.0, 1e-9);
    assert_string_equal(day_figure(&c)->remark, "`water` ends it");
    done_with(&c);
}

/* 4 x 2 gal a day out of 40 gal, all usable: 5 days; two tanks of 20 gal are one supply. */
static void the_first_to_run_out_ends_it(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, HOLDING_TANK "tank water { holds fresh; capacity 20 gal; usable 100 % }\n"
                             "tank water-2 { holds fresh; capacity 20 gal; usable 100 % }\n"
                             "tank sump { holds grey; capacity 1 gal }\n");
    expect_no_mistake(&c);
    assert_near(day_figure(&c)->low / 86400.0, 5.0, 1e-6);
    assert_string_equal(day_figure(&c)->remark, "`water` ends it");
    done_with(&c);
}

static void where_two_may_be_the_first_both_are_named(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, HOLDING_TANK "tank water { holds fresh; capacity 60..120 gal; usable 100 % }\n");
    expect_no_mistake(&c);
    assert_near(day_figure(&c)->low / 86400.0, 7.5, 1e-6);
    assert_near(day_figure(&c)->high / 86400.0, 9.3419, 1e-4);
    assert_string_equal(day_figure(&c)->remark, "`holding` or `water` ends it, whichever is first");
    done_with(&c);
}

/* 20 Ah at 2 A are ten hours at the most; the holding tank lasts more than a week. */
static void a_starting_battery_does_not_end_the_stay(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, HOLDING_TANK "bank start { chemistry agm; voltage 12 V; capacity 20 Ah; role start }\n"
                             "circuit lights { fed-by start; run 3 m; wire 4 mm2; protect 10 A fuse }\n"
                             "load lamp { fed-by lights; draw 2 A; use aboard 24 h }\n");
    const Figure *of_start = figure_find(c.figures, model_find(c.model, STR("start")), FIGURE_ENDURANCE,
                                         model_find(c.model, STR("aboard")));
    assert_non_null(of_start);
    assert_true(of_start->high < 86400.0);
    assert_near(day_figure(&c)->low / 86400.0, 8.5026, 1e-4);
    done_with(&c);
}

/* ---- Status ---- */

static void expect_status(const char *lines, const char *status)
{
    Compiled c;
    char text[1024];
    assert_true(snprintf(text, sizeof text, "item stove { %s }\n", lines) < (int)sizeof text);
    compile_boat(&c, text);
    assert_string_equal(status_word(thing_status(model_find(c.model, STR("stove")))), status);
    done_with(&c);
}

static void the_latest_dated_fact_decides_where_no_status_is_stated(void **state)
{
    (void)state;
    expect_status("price 4 EUR", "not ordered");
    expect_status("ordered 2026-01-01", "ordered");
    expect_status("promised 2027-06-01", "ordered");
    expect_status("ordered 2026-01-01; promised 2026-09-01; arrived 2026-08-01", "here");
    expect_status("arrived 2026-08-01; fitted 2026-08-02", "fitted");
    expect_status("fitted 2026-08-02", "fitted");
    expect_status("status wanted", "wanted");
    expect_status("status delayed; ordered 2026-01-01", "delayed");
    expect_status("status returned; arrived 2026-01-01", "returned");
}

static void it_is_here_once_all_of_it_is(void **state)
{
    (void)state;
    expect_status("count 4; ordered 2026-01-01; arrived 2026-02-01 of 2", "ordered");
    expect_status("count 4; arrived 2026-02-01 of 2; arrived 2026-02-03 of 2", "here");
    expect_status("count 4; arrived 2026-02-01 of 2; arrived 2026-02-03", "here");
    expect_status("count 4; arrived 2026-02-01; fitted 2026-02-02 of 3", "here");
    expect_status("count 4; arrived 2026-02-01; fitted 2026-02-02 of 3; fitted 2026-02-05", "fitted");
    expect_status("count 4; spare 2; arrived 2026-02-01 of 6", "here");
}

/* All have come, and two of them are fitted: not two to four. */
static void how_many_are_fitted_is_apart_from_how_many_came(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item stove { count 4; arrived 2026-11-01; fitted 2026-11-05 of 2 }\n");
    Purchase purchase = purchase_of(model_find(c.model, STR("stove")));
    assert_true(purchase.all_came);
    assert_false(purchase.all_fitted);
    assert_near(purchase.fitted, 2.0, 0.0);
    done_with(&c);
}

/* What was brought forward is promised for the earlier day: the last line counts. */
static void promises_are_kept_from_the_first_line_to_the_last(void **state)
{
    (void)state;
    Compiled c;
    compile_boat(&c, "item stove { promised 2027-05-01; promised 2026-12-15; promised 2027-02-12 }\n");
    Purchase purchase = purchase_of(model_find(c.model, STR("stove")));
    assert_int_equal(property_date(purchase.first_promise), date_of(2027, 5, 1));
    assert_int_equal(property_date(purchase.last_promise), date_of(2027, 2, 12));
    done_with(&c);
}

/* A rate without a bound leaves open what it counts in: 3 CHF at 2 EUR or more each are 6 EUR at least. */
static void a_rate_may_be_left_open(void **state)
{
    static const struct {
        const char *rate;
        double low;
    } rows[] = {{"?", 0.0}, {">= 2", 6.0}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Compiled c;
        char text[400];
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; "
                 "rate %s EUR per CHF }\nitem cup { price 3 CHF }\n",
                 rows[i].rate);
        compile(&c, text);
        expect_no_mistake(&c);
        const Figure *cost = boat_figure(&c, FIGURE_COST);
        assert_int_equal(cost->state, STATE_KNOWN);
        assert_near(cost->low, rows[i].low, 1e-9);
        assert_true(isinf(cost->high));
        done_with(&c);
    }
}

static void expect_money(const char *line, FigureId id, double low, double high)
{
    char text[512];
    Compiled c;
    snprintf(text, sizeof text, "%sitem lamps { price 10 EUR; %s }\n", EXAMPLE_BOAT, line);
    compile(&c, text);
    expect_no_mistake(&c);
    const Figure *figure = boat_figure(&c, id);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_true(figure->low == low && figure->high == high);
    done_with(&c);
}

/* By hand, 10 EUR each: what came is wanted, and paid, however many it becomes. */
static void what_came_of_an_open_number_is_sure(void **state)
{
    (void)state;
    expect_money("count ?; ordered 2026-08-01; arrived 2026-08-05 of 3", FIGURE_COMMITTED, 30.0, (double)INFINITY);
    expect_money("count ?; ordered 2026-08-01; arrived 2026-08-05 of 3", FIGURE_PAID, 30.0, 30.0);
    expect_money("count 2..4; ordered 2026-08-01; arrived 2026-08-05 of 3", FIGURE_COMMITTED, 30.0, 40.0);
    expect_money("count 2..4; ordered 2026-08-01; arrived 2026-08-05 of 3", FIGURE_PAID, 30.0, 30.0);
    /* Two of the four may be the spares. */
    expect_money("count 2..4; spare 2; ordered 2026-08-01; arrived 2026-08-05 of 4", FIGURE_COMMITTED, 40.0, 60.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rate_may_be_left_open),
        cmocka_unit_test(mass_is_the_sum_with_counts_and_spares),
        cmocka_unit_test(strings_of_batteries_and_panels_count_by_their_layout),
        cmocka_unit_test(what_is_dropped_is_in_no_sum),
        cmocka_unit_test(things_without_a_mass_are_counted_in_the_remark),
        cmocka_unit_test(a_boat_of_which_nothing_is_weighed_or_priced_has_no_sums),
        cmocka_unit_test(contents_come_on_top_and_the_gap_is_to_the_displacement),
        cmocka_unit_test(mass_is_printed_in_the_unit_of_the_displacement),
        cmocka_unit_test(mass_is_printed_in_kg_where_the_displacement_is_in_tonnes),
        cmocka_unit_test(money_is_bound_or_still_to_be_spent),
        cmocka_unit_test(a_quote_counts_where_there_is_no_price),
        cmocka_unit_test(what_went_back_is_bought_again_and_costs_what_was_not_refunded),
        cmocka_unit_test(a_sum_waits_for_a_mistake_in_what_it_sums),
        cmocka_unit_test(she_lasts_as_long_as_a_published_holding_tank),
        cmocka_unit_test(grey_water_that_nothing_empties_ends_it),
        cmocka_unit_test(the_first_to_run_out_ends_it),
        cmocka_unit_test(where_two_may_be_the_first_both_are_named),
        cmocka_unit_test(a_starting_battery_does_not_end_the_stay),
        cmocka_unit_test(the_latest_dated_fact_decides_where_no_status_is_stated),
        cmocka_unit_test(it_is_here_once_all_of_it_is),
        cmocka_unit_test(how_many_are_fitted_is_apart_from_how_many_came),
        cmocka_unit_test(promises_are_kept_from_the_first_line_to_the_last),
        cmocka_unit_test(what_came_of_an_open_number_is_sure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
