/*
 * What the book tells of a boat agrees with the findings and with itself: how goals stand, what is assumed, what a picture leaves out,
 * what is weighed, in what units things are held against each other. Common practice, no source.
 */
#include "test_pictures.h"

#include "figures/figure.h"

#define BOAT                                                                                                                  \
    "edition 1\nboat wren { length 8 m; waterline 7 m; beam 2.6 m; displacement 2500 kg; crew 2; currency EUR; basis iso; sails no }\n"

static void expect_book(const char *spec, const char *const words[], const char *absent)
{
    Made made;
    make(&made, spec);
    const char *book = text_of(&made, "book.md");
    expect_words(book, words);
    if (absent != NULL && strstr(book, absent) != NULL) {
        fail_msg("`%s` is there", absent);
    }
    compile_free(&made.compiled);
}

/* One line of it is past its day, another is open though a figure is known; each says what its own finding says. */
static void a_goal_stands_as_its_finding_says(void **state)
{
    (void)state;
    expect_book(BOAT "goal launch { ready 2027-02-20; budget 900 EUR }\njob fit { takes 4 d }\nitem sail { price 500 EUR }\n",
                (const char *const[]){"| ready 2027-02-20 | 2027-03-05 | [missed](#goal-missed-on-launch-ready)", "| budget 900.00 EUR | 500.00 EUR | met |",
                                      NULL},
                NULL);
    expect_book("edition 1\nboat tern { length 6 m; waterline 5.4 m; beam 2.3 m; displacement 950 kg; crew 2; currency EUR; basis iso; "
                "sails yes; air-draft 2.1 m }\ngoal bridge { air-draft 2.3 m }\nitem hull { mass 900 kg; at 3 m 0 m 0.1 m }\n"
                "item rig { mass 50 kg; at 2.4 m 0 m 3 m }\n",
                (const char *const[]){"| air-draft 2.3 m | 2.1 m | [open](#goal-missed-on-bridge-air-draft)", NULL}, NULL);
}

/* What is still to do is of another day, and so is what the plan says of it: the thing below takes longer to come than that. */
static void a_goal_that_was_met_is_told_by_its_own_day(void **state)
{
    (void)state;
    expect_book(BOAT "goal launch { ready 2027-02-20 met 2027-02-10 }\ngoal late { ready 2027-02-20 met 2027-02-25 }\n"
                     "item stove { price 100 EUR; lead 20 d }\njob fit { takes 4 d; needs stove }\n",
                (const char *const[]){"| ready 2027-02-20 met 2027-02-10 | 2027-02-10 | met |",
                                      "| ready 2027-02-20 met 2027-02-25 | 2027-02-25 | [missed](#goal-missed-on-late-ready) |", NULL},
                NULL);
}

static void what_is_marked_assumed_is_listed(void **state)
{
    (void)state;
    expect_book(BOAT "space box { }\nengine diesel { rated 20 kW at 3000 rpm; fuel diesel; space box }\n"
                     "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2 }\n",
                (const char *const[]){"### Taken where the spec says nothing", "| `boat.hull` | displacement |", "| `engine.mounted` | inboard |",
                                      "| `bundle` | as many as are loaded in the cable itself |", "| `space.temperature` | 50 C |", NULL},
                NULL);
}

static void chain_alone_is_weighed(void **state)
{
    (void)state;
    expect_book(BOAT "anchor bower { chain 30 m of 8 mm }\nitem mast\n",
                (const char *const[]){"Her things weigh at least 43.01 kg together. Her displacement", "1 thing aboard is not weighed",
                                      "| `bower` | anchor | 1 | –; chain and rope 43.01 kg |", "- safety: `bower` itself, without chain and rope",
                                      NULL},
                "states no mass of anything");
    expect_book(BOAT "anchor bower { chain 30 m of 8 mm }\n", (const char *const[]){"### What she weighs", NULL}, "### The heaviest");
}

static void openings_that_are_not_drawn_are_named(void **state)
{
    (void)state;
    expect_book(BOAT "choice loo {\n  option dry { toilet wc { worked-by composting; to can } }\n"
                     "  option sea { toilet wc { worked-by hand; rim 0.3 m; to can }\n"
                     "    through-hull wc-in { bore 19 mm; height -0.2 m; seacock no; serves wc } }\n}\n"
                     "tank can { holds black; capacity 8 l; portable yes }\nthrough-hull drain { bore 25 mm; height 0.3 m; seacock yes }\n"
                     "tank fresh { holds fresh; capacity 50 l; vent 16 mm }\n"
                     "gas-locker box { cylinder 5 kg; drained-overboard yes; drain 19 mm }\n",
                (const char *const[]){"Not on the picture of openings: the vent of `fresh`, the drain of `box`, "
                                      "`wc` (with loo=sea), `wc-in` (with loo=sea).", NULL},
                NULL);
}

/* What is drawn with every option needs no line. */
static void a_column_without_an_entry_is_a_line(void **state)
{
    (void)state;
    expect_book(BOAT "extinguisher one { rating 10-B }\nextinguisher two { rating 5-B }\n",
                (const char *const[]){"| Name | What | Rating | Count | Fixed |", "Not stated of any: Space; Expires.",
                                      "look at what she has not: `garboard rules` lists them.", NULL},
                "| `windlass-");
}

static void where_the_goal_is_missed_orders_go_by_the_end(void **state)
{
    (void)state;
    expect_book(BOAT "goal launch { ready 2027-05-15 }\nload panel-a { portable yes; draw 1 A; ordered 2027-01-18; promised 2027-05-28 }\n"
                     "load stove { portable yes; draw 1 A; lead 14 d }\njob a { takes 6 d; needs panel-a, stove }\n",
                (const char *const[]){"A goal asks for 2027-05-15, after which all is ready in any case", "goes by 2027-06-03", NULL},
                "goes by the day that a goal asks for");
}

static void frost_and_leaving_go_by_what_is_there(void **state)
{
    (void)state;
    expect_book(BOAT "space saloon { sleeping yes }\nheater stove { fuel wood; output 6 kW; serves saloon; space saloon }\n"
                     "water-heater hot { capacity 60 l; exchanger 2.5 kW; heated-by stove }\n"
                     "load maker { portable yes; draw 20 A; makes-water 30 l/h }\nsteering helm { worked-by tiller; second yes }\n",
                (const char *const[]){"Light no stove and start no heater whose circuit heats `hot`", "Let the water of `hot` out by the drain",
                                      "Lay up `maker` as its maker says", "Let the fire of `stove` burn out", "Tiller: look for play", NULL},
                "element of `hot`");
}

/* One that has reached its date is as one that is not there. */
static void an_alarm_past_its_date_does_not_count(void **state)
{
    (void)state;
    Compiled c;
#define ALARM(day) BOAT "space cabin { sleeping yes }\nalarm both { detects co, smoke; space cabin; portable yes; expires " day " }\n"
    compile_text(&c, ALARM("2027-03-01"));
    assert_null(compiled_finding(&c, "alarm-missing"));
    compile_free(&c);
    compile_text(&c, ALARM("2027-02-28"));
    const Finding *finding = compiled_finding(&c, "alarm-missing");
    assert_non_null(finding);
    assert_int_equal(finding->verdict, VERDICT_BROKEN);
    assert_non_null(strstr(finding->notes->text, "its date has passed"));
    compile_free(&c);
}

static void expect_unit(const Compiled *c, const char *subject, FigureId id, UnitId unit)
{
    const Figure *figure = compiled_figure(c, subject, id);
    assert_non_null(figure);
    assert_int_equal(figure->unit.unit, unit);
}

/* What is asked stands in the unit of what is stated. */
static void what_is_compared_has_one_unit(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat wren { length 26 ft; beam 8 ft 9 in; displacement 5900 lb; crew 2; currency USD; basis us; sails yes }\n"
                     "space bay { engine-space yes; openings 45 cm2 }\nengine e { rated 14 hp at 3000 rpm; fuel diesel; space bay }\n"
                     "through-hull a { bore 1 1/2 in; height -2 in }\nbilge-pump p { hand yes; rated 900 l/h }\n");
    expect_unit(&c, "wren", FIGURE_HEELED_WATERLINE, UNIT_IN);
    expect_unit(&c, "e", FIGURE_AIR_OPENING, UNIT_CM2);
    expect_unit(&c, "wren", FIGURE_PUMPING_NEED, UNIT_L);
    expect_unit(&c, "wren", FIGURE_PUMPING, UNIT_L);
    compile_free(&c);
    expect_book("edition 1\nboat wren { length 26 ft; beam 8 ft 9 in; draft 3 ft 6 in; displacement 5900 lb; crew 2; currency USD; basis us; sails yes }\n",
                (const char *const[]){"| Length | 26 ft |", "| Beam | 8 ft 9 in |", "| Draft | 3 ft 6 in |", NULL}, NULL);
}

/* 1.3 m x tan(7 deg) = 0.15962 m; 200 mm measured along the hull more is 0.15962 + 0.2 / cos(7 deg) = 0.36112 m, which is asked at least. */
static void lengths_are_as_fine_as_a_rule_reads(void **state)
{
    (void)state;
    expect_book("edition 1\nboat wren { length 8 m; beam 2.6 m; displacement 2500 kg; crew 2; currency EUR; basis iso; sails no; heel 7 deg }\n"
                "tank a { holds fresh; capacity 10 l; vent 16 mm }\nthrough-hull b { bore 38 mm; height 0.3 m }\n"
                "hose out { from a; to b; bore 38 mm; run 2 m }\nvent-loop top { on out; height 0.5 m }\n",
                (const char *const[]){"the water comes when she heels, measured along it | 0.16 m |", "| 0.5 m | 0.362 m |", NULL}, NULL);
}

static void a_drop_by_the_formula_of_the_basis_says_so(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                          "load lamp { fed-by house; run 10 m; wire 1 mm2; protect 10 A fuse; draw 8 A }\n");
    const Finding *finding = compiled_finding(&c, "wire-drop");
    assert_non_null(finding);
    assert_non_null(strstr(finding->message, "by the formula of the basis "));
    assert_non_null(strstr(finding->message, "(in real cable at 50 C "));
    compile_free(&c);
}

static void pages_to_be_printed_alone_say_whose_they_are(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "day anchored { sun 4 h }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                     "load lamp { fed-by house; run 1 m; wire 2.5 mm2; protect 10 A fuse; draw 2 A; use anchored 5 h }\n"
                     "goal launch { ready 2027-03-10 }\njob fit { takes 20 d }\n"
                     "through-hull well-in { bore 25 mm; height -0.3 m }\npump wp { from well-in; to well; flow 30 l/min; hand yes }\n"
                     "tank well { holds sea; capacity 100 l }\n");
    expect_words(text_of(&made, "img/energy-anchored.house.svg"), (const char *const[]){"wren. energy-anchored.house.svg. Basis iso.", NULL});
    expect_words(text_of(&made, "img/plan.svg"), (const char *const[]){"a goal's day", "no float: moves the end", NULL});
    assert_null(strstr(text_of(&made, "img/plan.svg"), "begun"));
    expect_words(text_of(&made, "img/water-fresh.svg"), (const char *const[]){"<title>Fresh and sea water", NULL});
    assert_null(strstr(text_of(&made, "img/water-fresh.svg"), "scalds"));
    compile_free(&made.compiled);
}

/* What the pictures mark as not stated is missing from the list as well. */
static void hoses_that_nobody_states_are_told_to_the_buyer(void **state)
{
    (void)state;
    expect_book(BOAT "tank fresh { holds fresh; capacity 100 l; vent 16 mm }\npump foot { from fresh; to sink; hand yes }\nfixture sink\n"
                     "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2 }\n"
                     "choice heat {\n  option a { gas-locker box { cylinder 5 kg } }\n  option b { item coal }\n}\n",
                (const char *const[]){"- the hoses to and from `foot`: no hose is stated", "- the shore cord of `shore`",
                                      "of the gas from `box` (with heat=a)", NULL},
                NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_goal_stands_as_its_finding_says),
        cmocka_unit_test(a_goal_that_was_met_is_told_by_its_own_day),
        cmocka_unit_test(what_is_marked_assumed_is_listed),
        cmocka_unit_test(chain_alone_is_weighed),
        cmocka_unit_test(openings_that_are_not_drawn_are_named),
        cmocka_unit_test(a_column_without_an_entry_is_a_line),
        cmocka_unit_test(where_the_goal_is_missed_orders_go_by_the_end),
        cmocka_unit_test(frost_and_leaving_go_by_what_is_there),
        cmocka_unit_test(an_alarm_past_its_date_does_not_count),
        cmocka_unit_test(what_is_compared_has_one_unit),
        cmocka_unit_test(lengths_are_as_fine_as_a_rule_reads),
        cmocka_unit_test(a_drop_by_the_formula_of_the_basis_says_so),
        cmocka_unit_test(pages_to_be_printed_alone_say_whose_they_are),
        cmocka_unit_test(hoses_that_nobody_states_are_told_to_the_buyer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
