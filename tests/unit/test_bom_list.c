/*
 * The lists of the bill of materials: what is in the shopping list, in which order, with which sums. Sums are worked out
 * beside them. compile_text judges as of 2027-03-01.
 */
#include "check.h"
#include "compile.h"

#include "output/bom.h"
#include "output/bom_text.h"

#include <stdio.h>
#include <string.h>

#define BOAT                                                                                                             \
    "edition 1\n"                                                                                                        \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; rate 1.25 USD per EUR; " \
    "basis us }\n"                                                                                                       \
    "supplier quay \"The quay\" { lead 2 week; contact \"mornings\" }\n"                                                 \
    "supplier far \"Far Shore\" { lead 5 week }\n"

typedef struct Made {
    Compiled c;
    Buf text;
    const BomList *list;
} Made;

static void make(Made *made, const char *spec, BomRequest request)
{
    compile_text(&made->c, spec);
    assert_int_equal(made->c.outcome->mistakes, 0);
    made->list = bom_list(&made->c.arena, made->c.outcome, request);
    buf_init(&made->text, &made->c.arena);
}

static void shop(Made *made, const char *spec)
{
    make(made, spec, (BomRequest){.by = BOM_BY_SUPPLIER, .to_buy = true});
    to_buy_text(&made->text, made->c.outcome, made->list);
}

static void expect(const Made *made, const char *piece)
{
    if (strstr(made->text.text, piece) == NULL) {
        print_error("missing:\n%s\nin:\n%s\n", piece, made->text.text);
        fail();
    }
}

static const BomLine *line_of(const BomList *list, const char *name)
{
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            if (line->entity != NULL && str_is(entity_name(line->of->model, line->entity), name)) {
                return line;
            }
        }
    }
    return NULL;
}

static void only_what_is_not_ordered_is_to_buy(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item cup { price 3 EUR }\n"
                     "item pot { price 9 EUR; ordered 2027-02-01 }\n"
                     "item pan { price 7 EUR; status returned; refunded 7 EUR }\n"
                     "item jug { price 4 EUR; status dropped }\n"
                     "item lid { price 2 EUR; fitted 2027-01-01 }\n"
                     "item rug { mass 3 kg }\n");
    assert_non_null(line_of(made.list, "cup"));
    assert_non_null(line_of(made.list, "pan")); /* sent back: to be bought again */
    assert_null(line_of(made.list, "pot"));
    assert_null(line_of(made.list, "jug"));
    assert_null(line_of(made.list, "lid"));
    assert_null(line_of(made.list, "rug"));
    expect(&made, "no sum counts it\n  [ ]  1  item rug\n");
    compile_free(&made.c);
}

/* 2 x 10 and 2 spares x 10 USD = 40 USD at 1.25 USD per EUR = 32 EUR; with 5..8 EUR 37..40 EUR. */
static void each_supplier_asks_in_its_own_currency(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item cup { price 10 USD; count 2; spare 2; supplier far }\n"
                     "item pot { price 5..8 EUR; supplier far }\n"
                     "item pan { quote 3 EUR; supplier quay }\n");
    expect(&made, "Far Shore (far)\n");
    expect(&made, "4  item cup");
    expect(&made, "10.00 USD       40.00 USD");
    expect(&made, "in all 40.00 USD and 5.00..8.00 EUR, together 37.00..40.00 EUR\n");
    expect(&made, "The quay (quay); mornings\n");
    expect(&made, "item pan, offered");
    expect(&made, "All of it: 40.00 USD and 8.00..11.00 EUR, together 40.00..43.00 EUR\n");
    compile_free(&made.c);
}

/* Rates that are ranges: 100 USD is written as 100 USD again, though it is 80..100 EUR. */
static void an_amount_is_told_as_it_was_written(void **state)
{
    (void)state;
    Made made;
    shop(&made, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; "
                "rate 1..1.25 USD per EUR; rate 0.5 EUR per GBP; basis us }\n"
                "item cup { price 100 USD }\nitem pot { price 30..60 GBP }\n");
    expect(&made, "  100.00 USD\n");
    expect(&made, "30.00..60.00 GBP\n");
    expect(&made, "100.00 USD and 30.00..60.00 GBP, together 95.00..130.00 EUR");
    compile_free(&made.c);
}

/* The last day to order: latest start less lead less a week. fit takes 1 d, and nothing else holds it: it could begin when
 * stove is here, 5 weeks from today, on 2027-04-05; so the stove is a week late, and the cup (2 weeks) has till 2027-03-15. */
static void what_is_late_stands_first(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item mug { price 1 EUR; supplier quay }\n"
                     "item cup { price 3 EUR; supplier quay }\n"
                     "item stove { price 9 EUR; supplier far }\n"
                     "job fit { takes 1 d; needs stove, cup }\ngoal launch { ready 2027-04-06 }\n");
    expect(&made, "2027-02-22, 7 days late  1  item stove");
    expect(&made, "2027-03-15  1  item cup");
    const char *far = strstr(made.text.text, "Far Shore"), *quay = strstr(made.text.text, "The quay");
    assert_true(far != NULL && far < quay);
    assert_true(strstr(quay, "item cup") < strstr(quay, "item mug"));
    compile_free(&made.c);
}

/* The same where nobody asks for a day: the plan begins with today, and what it waits for is to be ordered today. */
static void where_no_goal_sets_a_day_nothing_is_late(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item stove { price 9 EUR; supplier far }\njob fit { takes 1 d; needs stove }\n");
    expect(&made, "2027-03-01, today  1  item stove");
    assert_null(strstr(made.text.text, "late"));
    compile_free(&made.c);
}

/*
 * A panel that is promised for 2027-05-01, and the job that waits for it: its cable is to be ordered two weeks and a week in
 * hand before that, on 2027-04-10.
 */
static void cable_of_what_is_on_its_way_keeps_its_last_day(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; fitted 2027-01-01 }\n"
                     "panel main { fed-by house; run 1 m; wire 10 mm2; protect 30 A fuse terminal 0.1 m from source; price 9 EUR\n"
                     "  ordered 2027-02-01; promised 2027-05-01 }\njob wire-up { takes 1 d; needs main }\n");
    expect(&made, "2027-04-10    1  30 A fuse terminal");
    compile_free(&made.c);
}

/* lean: 3 + 7; stout: 4 + 5. Neither 3 + 5 nor 4 + 7 can be. */
static void sums_count_each_option_in_its_own_case(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "choice size {\n"
                     "option lean { item keel { price 3 EUR }; set lamp.price 7 EUR }\n"
                     "option stout { item keel { price 4 EUR } }\n}\n"
                     "item lamp { price 5 EUR }\n");
    expect(&made, "All of it: 9.00..10.00 EUR; one option of each choice is counted\n");
    expect(&made, "item keel, with size=lean");
    expect(&made, "item keel, with size=stout");
    compile_free(&made.c);
}

/* In each boat, however decided: the list costs what the figure says. */
static void the_list_costs_what_the_figure_says(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item cup { price 10 USD; count 2; spare 1 }\nitem pot { price 5..8 EUR; ordered 2027-01-01 }\n"
                     "item pan { quote 3..4 EUR; count 1..2 }\n"
                     "choice size {\noption lean { set cup.price 7 EUR }\noption stout { set pan.status shipped }\n}\n");
    Figure merged;
    assert_true(outcome_figure(made.c.outcome, STR("wren"), FIGURE_STILL_TO_BUY, STR(""), &merged));
    assert_near(made.list->sums.money.amount.low, merged.low, 1e-9);
    assert_near(made.list->sums.money.amount.high, merged.high, 1e-9);
    compile_free(&made.c);
}

#define POWER                                                                                         \
    "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 4 mohm; fitted 2027-01-01 }\n" \
    "panel main { fed-by house; run 1 m; wire 10 mm2; protect 30 A fuse terminal 0.1 m from source%s }\n" \
    "circuit pumps { fed-by main; run 5 m; wire 2.5 mm2 insulation 105 C; protect 10 A breaker%s }\n"     \
    "load lamp { fed-by pumps; draw 4 A }\n"

static void shop_for(Made *made, const char *panel, const char *circuit)
{
    static char spec[2048];
    snprintf(spec, sizeof spec, BOAT POWER, panel, circuit);
    shop(made, spec);
}

/* 2 x 5 m and 10 % make 11 m; a ring at each of four ends. A panel that is here still wants its cable; one that is fitted
 * has it; a circuit is nothing but its cable. */
static void cable_is_bought_until_what_it_is_for_is_fitted(void **state)
{
    (void)state;
    Made made;
    shop_for(&made, "; arrived 2027-02-01", "");
    expect(&made, "11 m  Cable, 2.5 mm2");
    expect(&made, "2  rings 10 mm2, hole 5/16 in (usual)"); /* on the bank; the other six ends are nobody knows what */
    expect(&made, "- rings for 6 ends of cables");
    assert_null(strstr(made.text.text, "rings 2.5 mm2"));
    expect(&made, "3 m  Cable, 10 mm2");
    expect(&made, "1  30 A fuse terminal");
    compile_free(&made.c);
    shop_for(&made, "; fitted 2027-02-01", "; ordered 2027-02-01");
    assert_null(strstr(made.text.text, "Cable"));
    assert_null(strstr(made.text.text, "fuse"));
    expect(&made, "Nothing that the spec states is left to buy.\n");
    compile_free(&made.c);
}

/* A cabin's list holds what stands there, and neither cable nor what stands elsewhere. */
static void a_cabin_has_a_list_of_its_own(void **state)
{
    (void)state;
    Made made;
    const char *spec = BOAT "space saloon \"Saloon\"\nspace peak\n"
                            "item cup { price 3 EUR; mass 0.5 kg; count 4; space saloon; at 4.0 m 0 m 0.5 m }\n"
                            "item pot { price 9 EUR; space peak }\nitem pan { price 9 EUR; supplier quay }\n";
    make(&made, spec, (BomRequest){.by = BOM_BY_SPACE, .only = STR("saloon")});
    bom_text(&made.text, made.c.outcome, made.list);
    expect(&made, "Saloon (saloon)\n  4  item cup  not ordered  2 kg  12.00 EUR  4.0 m 0 m 0.5 m\n  in all 2 kg, 12.00 EUR\n");
    assert_null(strstr(made.text.text, "pot"));
    assert_null(bom_only_unknown(&made.c.arena, made.c.outcome, STR("quay")));
    assert_string_equal(bom_only_unknown(&made.c.arena, made.c.outcome, STR("salon")),
                        "nothing in the boat is called `salon`; did you mean `saloon`?");
    assert_string_equal(bom_only_unknown(&made.c.arena, made.c.outcome, STR("cup")),
                        "`cup` is neither a space nor a supplier: it has no list");
    compile_free(&made.c);
}

/* Of three stoves one is bought: the sum is that of the cheapest to that of the dearest, and says so. */
static void a_sum_over_options_says_that_one_of_them_is_counted(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item oar { price 3 EUR }\nchoice warm { option a { item small { price 100 EUR } }\n"
                     "option b { item large { price 300 EUR } } }\n");
    expect(&made, "  in all 103.00..303.00 EUR; one option of each choice is counted\n");
    compile_free(&made.c);
    shop(&made, BOAT "item oar { price 3 EUR }\n");
    assert_null(strstr(made.text.text, "option"));
    compile_free(&made.c);
}

/* Whoever states feet reads pounds, of a boat that does not state what she weighs as well. */
static void a_boat_in_feet_weighs_in_pounds(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat tern { length 31 ft; beam 11 ft; crew 2; currency USD; basis us }\n"
                "item pot { price 9 USD; mass 60 lb; at 7 ft 0 ft -0.3 ft }\n",
         (BomRequest){.by = BOM_BY_SPACE});
    bom_text(&made.text, made.c.outcome, made.list);
    expect(&made, "1  item pot  not ordered  60 lb  9.00 USD  7 ft 0 ft -0.3 ft\n  in all 60 lb, 9.00 USD\n");
    compile_free(&made.c);
}

static void the_bill_tells_the_story_of_a_thing(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item old { price 1 EUR; status dropped; because \"It leaked.\" }\n"
                     "item lamp { count 16; ordered 2027-01-02; promised 2027-02-01; promised 2027-04-01; "
                     "arrived 2027-02-01 of 8; fitted 2027-02-20 of 3; replaces old; because \"Warm light.\"; "
                     "note \"Box 3.\"; event 2027-02-01 \"Half came.\" }\n",
         (BomRequest){.with_dropped = true});
    bom_csv_of(&made.text, made.list);
    expect(&made, "lamp,,item,cabin,16,0,ordered,,,,,,,,,2027-01-02,2027-04-01,2027-02-01,2027-02-20,");
    expect(&made, ",2027-02-01,8,3,,old,Warm light.,Box 3.,2027-02-01 Half came.,,,\r\n");
    expect(&made, "old,,item,cabin,1,0,dropped,,1.00,1.00,EUR,,,");
    expect(&made, ",It leaked.,,,,,\r\n");
    compile_free(&made.c);
}

static void what_nothing_says_is_bought_stands_line_by_line(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item cup { price 3 EUR }\ntank diesel \"Fuel tank\" { holds fuel; capacity 90 l }\nitem bell { mass 1 kg }\n");
    expect(&made, "2 things that nothing says are bought stand at the end.");
    expect(&made, "Perhaps to buy");
    expect(&made, "[ ]  1  Fuel tank (diesel)\n");
    expect(&made, "[ ]  1  item bell\n");
    expect(&made, "All of it: 3.00 EUR");
    compile_free(&made.c);
}

#define TWO_ENGINES                                                                                \
    BOAT "goal launch { ready 2027-09-15 }\n"                                                      \
         "choice motor {\n"                                                                        \
         "  option slow { engine main { rated 35 kW at 3000 rpm; fuel diesel; price 9000 EUR; lead 9 week } }\n"  \
         "  option quick { engine main { rated 35 kW at 3000 rpm; fuel diesel; price 4000 EUR; lead 3 week } }\n" \
         "}\n"                                                                                     \
         "job fit { takes 4 d; needs main }\n"

/* The job has to begin on 2027-09-11: less a week and the lead, 63 or 21 days, counted on a calendar. */
static void each_option_has_the_day_of_its_own_lead(void **state)
{
    (void)state;
    Made made;
    shop(&made, TWO_ENGINES);
    expect(&made, "2027-07-03  1  engine main, with motor=slow ");
    expect(&made, "2027-08-14  1  engine main, with motor=quick ");
    compile_free(&made.c);
}

static void a_price_that_is_not_known_is_no_nought(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "item cup { price 3 EUR }\nitem pot { price ?; supplier quay }\n"
                     "goal purse { budget 100 EUR }\n");
    expect(&made, "item pot  not known\n");
    expect(&made, "All of it: at least 3.00 EUR");
    assert_null(strstr(made.text.text, "0.00 EUR\n  in all"));
    buf_init(&made.text, &made.c.arena);
    bom_csv(&made.text, made.c.outcome);
    expect(&made, "pot,,item,cabin,1,0,not ordered,quay,,,EUR,,,");
    buf_init(&made.text, &made.c.arena);
    to_buy_csv(&made.text, made.c.outcome, made.list);
    expect(&made, "pot,,item,cabin,1,,,,,EUR,,,,EUR");
    const Finding *finding = compiled_finding(&made.c, "over-budget");
    assert_non_null(finding);
    assert_non_null(finding->remedies);
    assert_null(strstr(finding->remedies->text, "inf"));
    compile_free(&made.c);
}

/* What an option drops by `set` is bought with the others alone; so is cable that only one of them asks for. */
static void what_some_options_ask_for_says_which(void **state)
{
    (void)state;
    Made made;
    shop(&made, BOAT "supplier shed { }\nitem stove { price 200 EUR; supplier shed; status wanted }\n"
                "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm; price 300 EUR; supplier shed }\n"
                "choice cook {\n  option old { item rug { price 9 EUR; supplier shed } }\n"
                "  option new { set stove.status dropped\n"
                "    load plate { fed-by house; run 3 m; wire 10 mm2; protect 60 A fuse class-t; draw 40 A; price 90 EUR; supplier shed } }\n}\n");
    expect(&made, "item stove, with cook=old");
    expect(&made, "Cable, 10 mm2, insulation 60 C assumed, in metres");
    expect(&made, "60 A fuse class-t, with cook=new");
    expect(&made, "one option of each choice is counted");
    compile_free(&made.c);
}

/*
 * An option that sets how many there are: two: 2 + 1 at 100 EUR and 5 kg; six: 6 + 1 at 40 EUR. All of them cost 280..300 EUR,
 * not 3 x 40 to 7 x 100, so that the rows add to their sum.
 */
static void a_count_that_an_option_sets_is_covered(void **state)
{
    (void)state;
    Made made;
    const char *spec = BOAT "item chair { count 2; spare 1; price 100 EUR; mass 5 kg }\n"
                            "choice seats { option two { set chair.count 2 }\n"
                            "option six { set chair.count 6; set chair.price 40 EUR } }\n";
    shop(&made, spec);
    expect(&made, "3..7  item chair  40.00..100.00 EUR  280.00..300.00 EUR\n  in all 280.00..300.00 EUR\n");
    buf_init(&made.text, &made.c.arena);
    to_buy_csv(&made.text, made.c.outcome, made.list);
    expect(&made, "chair,,item,cabin,3..7,40.00,100.00,280.00,300.00,EUR,,280.00,300.00,EUR,");
    buf_init(&made.text, &made.c.arena);
    bom_csv(&made.text, made.c.outcome);
    expect(&made, "chair,,item,cabin,2..6,1,not ordered,,40.00,100.00,EUR,280.00,300.00,5,15..35,");
    compile_free(&made.c);
    make(&made, spec, (BomRequest){.by = BOM_BY_SYSTEM});
    bom_text(&made.text, made.c.outcome, made.list);
    expect(&made, "15..35 kg  280.00..300.00 EUR");
    expect(&made, "in all 15..35 kg, 280.00..300.00 EUR\n");
    compile_free(&made.c);
}

/* What an option drops has its row with the other option, and its price in it: the rows of a sheet are all that is bought. */
static void what_one_option_drops_is_a_row_of_the_other(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item chair { price 100 EUR }\nitem stool { price 30 EUR }\nitem rug { price 9 EUR; status dropped }\n"
                     "choice seats { option low { set chair.status dropped }\noption high { set stool.status dropped } }\n",
         (BomRequest){.with_dropped = true});
    bom_csv(&made.text, made.c.outcome);
    expect(&made, "chair,,item,cabin,1,0,not ordered,,100.00,100.00,EUR,100.00,100.00,,,,,,,,,,,,seats=high,");
    expect(&made, "stool,,item,cabin,1,0,not ordered,,30.00,30.00,EUR,30.00,30.00,,,,,,,,,,,,seats=low,");
    expect(&made, "rug,,item,cabin,1,0,dropped,,9.00,9.00,EUR,,,");
    compile_free(&made.c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_count_that_an_option_sets_is_covered),
        cmocka_unit_test(what_one_option_drops_is_a_row_of_the_other),
        cmocka_unit_test(what_some_options_ask_for_says_which),
        cmocka_unit_test(only_what_is_not_ordered_is_to_buy),
        cmocka_unit_test(each_supplier_asks_in_its_own_currency),
        cmocka_unit_test(an_amount_is_told_as_it_was_written),
        cmocka_unit_test(what_is_late_stands_first),
        cmocka_unit_test(where_no_goal_sets_a_day_nothing_is_late),
        cmocka_unit_test(cable_of_what_is_on_its_way_keeps_its_last_day),
        cmocka_unit_test(sums_count_each_option_in_its_own_case),
        cmocka_unit_test(the_list_costs_what_the_figure_says),
        cmocka_unit_test(cable_is_bought_until_what_it_is_for_is_fitted),
        cmocka_unit_test(a_cabin_has_a_list_of_its_own),
        cmocka_unit_test(what_nothing_says_is_bought_stands_line_by_line),
        cmocka_unit_test(each_option_has_the_day_of_its_own_lead),
        cmocka_unit_test(a_price_that_is_not_known_is_no_nought),
        cmocka_unit_test(a_sum_over_options_says_that_one_of_them_is_counted),
        cmocka_unit_test(a_boat_in_feet_weighs_in_pounds),
        cmocka_unit_test(the_bill_tells_the_story_of_a_thing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
