/*
 * What becomes of a finding that several options bring: it stands once, says what each option makes of it, and none of
 * two that are alike gets lost.
 */
#include "unit/verdict.h"

#include "rules/alternatives.h"

#include <stdio.h>

#define BOAT                                                                                           \
    "edition 1\nboat wren { length 9.5 m; waterline 8.4 m; beam 3.1 m; displacement 5200 kg; crew 2; " \
    "currency EUR; basis us "                                                                          \
    "}\n"
#define PANEL                                                                               \
    BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
         "panel main { fed-by house; rated 50 A; run 1 m; wire 2 AWG insulation 105 C; "    \
         "protect 50 A fuse class-t 0.15 m from source }\n"
#define OPTION(NAME, AMPERES) "option " NAME " { load pump { fed-by main; draw " AMPERES " A } }\n"

static const Finding *merged(Compiled *c, const char *spec, const char *rule)
{
    compile_text(c, spec);
    if (c->spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c->spec->messages.first->text);
    }
    const Finding *finding = only_finding(c, rule);
    assert_non_null(finding);
    return finding;
}

/*
 * Eight choices of two, 256 combinations, in each 10 or 100 EUR and 1 or 9 kg, the dear and the heavy ones crossed: of all of
 * them 80 to 800 EUR and 8 to 72 kg. They are too many to be judged one by one, but these sums are whole.
 */
static void cost_and_mass_of_too_many_combinations_are_of_all(void **state)
{
    (void)state;
    Compiled c;
    Figure sum;
    char text[4096];
    int at = snprintf(text, sizeof text, "%sgoal purse { budget 600 EUR }\n", BOAT);
    for (int i = 0; i < 8; i++) {
        at += snprintf(text + at, sizeof text - (size_t)at,
                       "choice c%d {\noption a { item i%d { price %d EUR; mass %d kg } }\n"
                       "option b { item i%d { price %d EUR; mass %d kg } }\n}\n",
                       i, i, i % 2 ? 100 : 10, i % 3 ? 9 : 1, i, i % 2 ? 10 : 100, i % 3 ? 1 : 9);
    }
    compile_text(&c, text);
    assert_null(c.spec->messages.first);
    assert_true(c.outcome->sampled);
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_COST, STR(""), &sum));
    assert_near(sum.low, 80.0, 1e-9);
    assert_near(sum.high, 800.0, 1e-9);
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_MASS, STR(""), &sum));
    assert_near(sum.low, 8.0, 1e-9);
    assert_near(sum.high, 72.0, 1e-9);
    const Finding *over = only_finding(&c, "over-budget"); /* the dearest 64 or so would still be within it */
    assert_non_null(over);
    assert_int_equal(over->verdict, VERDICT_OPEN);
    compile_free(&c);
}

/* 4 m lies before her centre of buoyancy at 4.8 m, 7 m behind it. */
static void a_figure_over_options_says_what_each_says(void **state)
{
    (void)state;
    Compiled c;
    Figure trim;
    compile_text(&c, "edition 1\nboat wren { length 9.5 m; waterline 8.4 m; beam 3.1 m; displacement 5200 kg; buoyancy 4.8 m\n"
                     "crew 2; currency EUR; basis us }\nitem stove { mass 2 kg }\nitem oven { mass 2 kg }\n"
                     "choice motor {\noption fore { item mot { mass 200 kg; at 4 m 0 m 0 m } }\n"
                     "option aft { item mot { mass 200 kg; at 7 m 0 m 0 m }\n item box { mass 9 kg } }\n"
                     "option far { item mot { mass 200 kg; at 8 m 0 m 0 m } }\n}\n");
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_TRIM, STR(""), &trim));
    assert_string_equal(trim.remark, "by the head or by the stern; 2 or 3 weighed things have no place");
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_LCG, STR(""), &trim));
    assert_string_equal(trim.remark, "2 or 3 weighed things have no place");
    compile_free(&c);
}

/* One list is longer than the other: neither is cut in two, in the sentence or in what is said of the figure. */
static void lists_of_several_options_are_told_whole(void **state)
{
    (void)state;
    Compiled c;
    Figure endurance;
    const Finding *f = merged(&c, BOAT
        "day anchored { water 10..20 l per person; flushes 5..8 per person }\ngoal quiet { endure 6 d on anchored }\n"
        "tank water { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
        "tank holding { holds black; capacity 50 l; vent 38 mm; pump-out 38 mm }\n"
        "toilet bowl { worked-by hand; rim 1.1 m; flush 1 l; flushes-with sea; to holding }\nchoice bank {\n"
        "option small { bank house { chemistry agm; voltage 12 V; capacity 60 Ah } }\n"
        "option large { bank house { chemistry agm; voltage 12 V; capacity 700 Ah } }\n}\n"
        "load lamp { fed-by house; run 2 m; wire 2.5 mm2; protect 5 A fuse; draw 1..1.6 A; use anchored 8 h }\n", "goal-missed");
    assert_non_null(strstr(f->message, "`water` or `holding` or `house` ends it, whichever is first"));
    assert_non_null(strstr(f->message, "`water` or `holding` ends it, whichever is first"));
    assert_null(strstr(f->message, "ends (bank"));
    assert_true(outcome_figure(c.outcome, STR("wren"), FIGURE_ENDURANCE, STR("anchored"), &endurance));
    assert_string_equal(endurance.remark, "`water` or `holding` or `house` ends it, whichever is first (bank=small), or "
                                          "`water` or `holding` ends it, whichever is first (bank=large)");
    compile_free(&c);
}

static void sentences_that_differ_in_a_number_are_told_together(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c, PANEL "choice bilge {\n" OPTION("small", "60") OPTION("big", "72") "}\n",
                              "panel-overloaded");
    assert_string_equal(
        f->message,
        "`main` is rated 50 A but 60 or 72 A can run through it at once (in this order: bilge=small; bilge=big)");
    assert_int_equal(f->verdict, VERDICT_BROKEN);
    assert_true(f->limit.low == 60.0 && f->limit.high == 72.0);
    compile_free(&c);
}

static void options_that_say_the_same_are_named_together(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(
        &c, PANEL "choice bilge {\n" OPTION("small", "60") OPTION("spare", "60") OPTION("big", "72") "}\n",
        "panel-overloaded");
    assert_string_equal(f->message,
                        "`main` is rated 50 A but 60 or 72 A can run through it at once "
                        "(in this order: bilge=small or spare; bilge=big)");
    compile_free(&c);
}

/* Where several words differ, each place has both; brackets and stops that both have stand once, and so do the options. */
static void the_options_stand_at_the_end_of_a_sentence_once(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c,
                              BOAT "choice b { option agm { bank house { chemistry agm; voltage 12 V; capacity 100 Ah } }\n"
                                   "option li { bank house { chemistry lifepo4; voltage 12.8 V; capacity 100 Ah } } }\n"
                                   "bank start { chemistry flooded; voltage 12 V; capacity 75 Ah; role start }\n"
                                   "switch combine { fed-by start, house; works-as emergency; run 3 ft; wire 2 AWG }\n",
                              "mixed-bank");
    assert_string_equal(f->message, "`combine` joins `start` (flooded) and `house` (agm or lifepo4), and what charges one well harms the "
                                    "other (in this order: b=agm; b=li)");
    compile_free(&c);
    static const char radio[] = PANEL "choice c { option one { radio vhf { fed-by house; run 13 ft; wire 14 AWG; protect 7 A fuse; draw 5 A } }\n"
                                      "option two { radio vhf { fed-by house; run 13 ft; wire 14 AWG; protect 7 A fuse; draw 4.9 A } } }\n";
    f = merged(&c, radio, "wire-drop");
    assert_non_null(strstr(f->message, " %), but real cable at 50 C loses "));
    assert_non_null(strstr(f->message, "; the limit is 3 % (in this order: c=one; c=two)"));
    assert_null(strstr(f->message, "(c="));
    compile_free(&c);
}

/* What differs at the end alone says there what belongs to which. */
static void what_ends_in_two_ways_names_the_options_with_each(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c,
                              BOAT "choice e { option one { engine motor { rated 28 kW at 3000 rpm; fuel diesel } }\n"
                                   "option two { engine motor { rated 45 kW at 3000 rpm; fuel diesel } } }\n"
                                   "gearbox gear { engine motor; ratio 2.6 }\n"
                                   "propeller screw { engine motor; diameter 500 mm; pitch 300 mm; shaft 20 mm; shaft-material stainless-316 }\n",
                              "shaft-thin");
    const char *with = strstr(f->message, " mm (e=one) or ");
    assert_non_null(with);
    with = strstr(with, " mm (e=two)");
    assert_non_null(with);
    assert_string_equal(with, " mm (e=two)");
    compile_free(&c);
}

/* A sentence is never cut where a clause ends: each option has its own, whole. */
static void clauses_are_not_mixed(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c, BOAT "day anchored { }\ngoal quiet { endure 3 d on anchored }\n"
        "bank house { chemistry agm; voltage 12 V; capacity 180..220 Ah; usable 50 % }\n"
        "choice cook {\noption oven { load oven { fed-by house; run 1 m; draw 4 A; use anchored 12 h } }\n"
        "option lamp { load lamp { fed-by house; run 1 m; draw 2.8 A; use anchored 12 h } }\n}\n", "goal-missed");
    assert_null(strstr(f->message, "; (cook"));
    assert_non_null(strstr(f->message, "with cook=oven: on `anchored` she lasts"));
    compile_free(&c);
}

/* More than three that differ in numbers alone: the least and the greatest, and which options they belong to. */
static void many_numbers_are_told_from_the_least_to_the_greatest(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c,
                              PANEL "choice bilge {\n" OPTION("a", "60") OPTION("b", "61") OPTION("c", "62")
                                  OPTION("e", "63") OPTION("f", "64") "}\n",
                              "panel-overloaded");
    assert_string_equal(f->message,
                        "`main` is rated 50 A but 60..64 A can run through it at once (least with bilge=a, most with bilge=f)");
    compile_free(&c);
}

/* The budget that each combination of three choices would keep within is told by the least and the greatest of eight. */
static void many_remedies_are_told_from_the_least_to_the_greatest(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c, BOAT "goal purse { budget 5 EUR }\n"
        "choice a { option dear { item x { price 40 EUR } }; option cheap { item x { price 10 EUR } } }\n"
        "choice b { option cheap { item y { price 1 EUR } }; option dear { item y { price 5 EUR } } }\n"
        "choice e { option cheap { item z { price 0 EUR } }; option dear { item z { price 2 EUR } } }\n", "over-budget");
    assert_string_equal(f->message, "everything costs 11.00..47.00 EUR, 6.00..42.00 EUR more than `purse` allows (least with a=cheap and "
                                    "b=cheap and e=cheap, most with a=dear and b=dear and e=dear)");
    assert_string_equal(f->remedies->text, "budget 11.00 EUR (a=cheap and b=cheap and e=cheap) up to budget 47.00 EUR (a=dear and b=dear "
                                           "and e=dear), as the options ask");
    assert_null(f->remedies->next);
    compile_free(&c);
}

/* Sentences in two forms: each is told once, with the options that it belongs to, however many numbers stand in it. */
static void many_readings_of_two_forms_are_told_by_form(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c,
                              BOAT "goal purse { budget 5 EUR }\nchoice x {\n"
                                  "option a { item tub { price 6 EUR } }\noption b { item tub { price 7 EUR } }\n"
                                  "option c { item tub { price 8 EUR } }\noption e { item tub { price 9 EUR } }\n"
                                  "option f { item tub { price 4..6 EUR } }\noption i { item tub { price 4..9 EUR } }\n}\n",
                              "over-budget");
    assert_int_equal(f->verdict, VERDICT_OPEN);
    assert_string_equal(f->message, "with x=a or b or c or e: everything costs 6.00..9.00 EUR, 1.00..4.00 EUR more than `purse` allows; "
                                    "with x=f or i: everything costs 4.00..9.00 EUR, and `purse` allows 5.00 EUR");
    compile_free(&c);
}

static Alternatives alternatives_of(Compiled *c, const char *const texts[], size_t count)
{
    Alternatives list = {.outcome = c->outcome};
    for (size_t i = 0; i < count; i++) {
        alternatives_add(&list, texts[i], (CaseSet)1 << i);
    }
    return list;
}

/* Only numbers are told by their ends: no date, no time, no size of wire, no digits of a name. */
static void only_numbers_have_a_least_and_a_greatest(void **state)
{
    (void)state;
    static const char *const fine[] = {"from 5..9 A at `a-1`, -2 C", "from 6..8 A at `a-1`, -3.5 C", "from 7 A at `a-1`, 12 C"};
    static const char *const unlike[][2] = {{"by 2027-03-01", "by 2027-04-01"}, {"at 00:30", "at 00:45"}, {"of 4 AWG", "of 2 AWG"},
                                            {"of 1/0 AWG", "of 2/0 AWG"},       {"of `a-1`", "of `a-2`"}, {"1 thing", "2 thinks"},
                                            {"unlimited", "7 d"},               {"7 d", "8 d more"},
                                            {"7 d more", "8 d"}};
    Compiled c;
    compile_text(&c, BOAT);
    Spread spread;
    Alternatives list = alternatives_of(&c, fine, 3);
    assert_true(alternatives_spread(&list, &spread));
    assert_string_equal(spread.text, "from 5..9 A at `a-1`, -3.5..12 C");
    assert_string_equal(spread.least->text, fine[0]);
    static const char *const plural[] = {"1 thing has no price", "3 things have no price"};
    list = alternatives_of(&c, plural, 2);
    assert_true(alternatives_spread(&list, &spread));
    assert_string_equal(spread.text, "1..3 things have no price");
    assert_string_equal(alternatives_remark(&list), "1 or 3 things have no price");
    for (size_t i = 0; i < sizeof unlike / sizeof unlike[0]; i++) {
        list = alternatives_of(&c, unlike[i], 2);
        assert_false(alternatives_spread(&list, &spread));
    }
    compile_free(&c);
}

/* Where no row of choices brings it, each row that does is named; the words are never wider than what they tell. */
static void options_that_no_row_tells_are_named_exactly(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT
        "choice a { option one { item x { mass 1 kg } }; option two { item x { mass 2 kg } } }\n"
        "choice b { option one { item y { mass 1 kg } }; option two { item y { mass 2 kg } }; option three { item y { mass 3 kg } } }\n"
        "choice e { option one { item z { mass 1 kg } }; option two { item z { mass 2 kg } } }\n");
    /* case number: a * 6 + b * 2 + e */
    assert_string_equal(options_words(c.outcome->options, NULL, 0x3fu), "a=one");
    assert_string_equal(options_words(c.outcome->options, NULL, 0x3u), "a=one and b=one");
    assert_string_equal(options_words(c.outcome->options, NULL, 0x3u | 0xc00u), "a=one and b=one, or a=two and b=three");
    assert_string_equal(options_words(c.outcome->options, NULL, 0x3fu & ~0x8u), "a=one and b=one or three, or a=one and b=two and e=one");
    assert_string_equal(options_words(c.outcome->options, NULL, 0x3u | 0xc3u | 0x30u | 0xcu), "a=one, or a=two and b=one");
    assert_null(options_words(c.outcome->options, NULL, 0x1u | 0x8u | 0x10u | 0x40u | 0x200u | 0x800u));
    compile_free(&c);
}


/* Only the broken options are read, and what does not differ is told once. */
static void an_option_in_which_it_holds_has_nothing_to_say(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = merged(&c, PANEL "choice bilge {\n" OPTION("small", "40") OPTION("big", "72") "}\n",
                              "panel-overloaded");
    assert_string_equal(f->message, "`main` is rated 50 A but 72 A can run through it at once");
    assert_int_equal(f->verdict, VERDICT_OPEN);
    assert_string_equal(f->only_with, "bilge=big");
    compile_free(&c);
}

/* A propeller that is too much for one engine and too little for the other: sentences that have nothing in common. */
static void sentences_that_differ_are_told_one_after_the_other(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f =
        merged(&c,
               BOAT "choice motor {\n"
                    "option small { engine eng { rated 28 kW at 3000 rpm; fuel diesel } }\n"
                    "option big { engine eng { rated 37 kW at 2600 rpm; fuel diesel } }\n}\n"
                    "gearbox box { engine eng; ratio 2.0 }\n"
                    "propeller prop { engine eng; diameter 18 in; pitch 12 in; area-ratio 0.7 }\n",
               "propeller-load");
    const char *small = strstr(f->message, "with motor=small: at rated speed `prop` takes");
    const char *big = strstr(f->message, "; with motor=big: at rated speed `prop` takes");
    assert_true(small == f->message && big != NULL);
    assert_non_null(strstr(small, "labours"));
    assert_non_null(strstr(big, "beyond its rated speed"));
    compile_free(&c);
}

/* What two options say of one thing stands in two places of the file; that is no reason to take each for half of a fault. */
static void a_fault_that_stands_in_every_option_is_a_fault(void **state)
{
    (void)state;
    static const char spec[] =
        PANEL "choice cold {\n"
              "option small { load fridge { fed-by house; run 3 m; wire 16 AWG insulation 60 C; "
              "protect 60 A fuse class-t 0.1 m from source; draw 4 A } }\n"
              "option big { load fridge { fed-by house; run 3 m; wire 14 AWG insulation 60 C; "
              "protect 60 A fuse class-t 0.1 m from source; draw 5 A } }\n}\n";
    Compiled c;
    const Finding *f = merged(&c, spec, "wire-unprotected");
    assert_int_equal(f->verdict, VERDICT_BROKEN);
    assert_int_equal(f->combinations, 2);
    assert_null(f->only_with);
    assert_int_equal(c.outcome->faults, 1);
    assert_string_equal(f->message,
                        "the cable of `fridge` can carry 15 or 20 A here but its protection lets 60 A pass "
                        "(in this order: cold=small; cold=big)");
    compile_free(&c);
}

/*
 * With one option a second opening makes a well of its own of the first one's space, and the rule names that; with the other
 * it does not. What it says of the opening is the same, and broken with both.
 */
static void what_both_options_say_is_one_finding_whatever_tells_it_apart(void **state)
{
    (void)state;
    static const char spec[] =
        BOAT "space heads { }\nspace er { bilge yes }\nbank b { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
             "through-hull intake { bore 19 mm; height -0.3 m; seacock yes; space heads }\n"
             "bilge-pump p { fed-by b; run 1 m; draw 3.5 A; rated 5600 l/h; lift 1.1 m; shut-off 4 m; outlet 28.6 mm by 3 m; "
             "automatic yes; discharge-height 0.6 m; space er }\n"
             "choice cooling {\noption raw { through-hull sea { bore 32 mm; height -0.4 m; seacock yes; space er } }\n"
             "option keel { item pipes }\n}\n";
    Compiled c;
    uint32_t count = 0;
    compile_text(&c, spec);
    assert_null(c.spec->messages.first);
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, "bilge-race") == 0 && strstr(f->message, "`intake`") != NULL) {
            assert_int_equal(f->verdict, VERDICT_BROKEN);
            assert_int_equal(f->combinations, 2);
            count++;
        }
    }
    assert_int_equal(count, 1);
    compile_free(&c);
}

/* ... and of one option alone it is half of one, which names it. */
static void a_fault_of_one_option_is_open(void **state)
{
    (void)state;
    static const char spec[] =
        PANEL "choice cold {\n"
              "option small { load fridge { fed-by house; run 3 m; wire 16 AWG insulation 60 C; "
              "protect 60 A fuse class-t 0.1 m from source; draw 4 A } }\n"
              "option big { load fridge { fed-by house; run 3 m; wire 4 AWG insulation 105 C; "
              "protect 60 A fuse class-t 0.1 m from source; draw 5 A } }\n}\n";
    Compiled c;
    const Finding *f = merged(&c, spec, "wire-unprotected");
    assert_int_equal(f->verdict, VERDICT_OPEN);
    assert_string_equal(f->only_with, "cold=small");
    assert_int_equal(c.outcome->faults, 0);
    compile_free(&c);
}

/*
 * The same sentence beside other numbers: of 100 l that last for 3 days of 2 x 40 l, 240 l, or of 2 x 30 l, 180 l, what stands at the
 * place is said of both; where a day of one option fills the tank, the words differ and each has its option.
 */
static void what_stands_at_the_place_is_that_of_all_options(void **state)
{
    (void)state;
    Compiled c;
#define THIRSTY(ONE, OTHER)                                                                                     \
    BOAT "tank bow { holds fresh; capacity 100 l; usable 100 % }\ncruise trip { days 3 quiet }\n"               \
         "choice thirst {\noption much { day quiet { water " ONE " } }\noption less { day quiet { water " OTHER " } }\n}\n"
    assert_string_equal(merged(&c, THIRSTY("40 l per person", "30 l per person"), "cruise-short")->place_note,
                        "the cruise takes 180..240 l: too little by 80..140 l");
    compile_free(&c);
    const char *note = merged(&c, THIRSTY("40 l per person", "60 l per person; fills fresh"), "cruise-short")->place_note;
    assert_non_null(strstr(note, "takes 240 l: too little by 140 l (thirst=much)"));
    assert_non_null(strstr(note, "takes 120 l in one stretch, until it is filled or to its end: too little by 20 l (thirst=less)"));
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cost_and_mass_of_too_many_combinations_are_of_all),
        cmocka_unit_test(lists_of_several_options_are_told_whole),
        cmocka_unit_test(a_figure_over_options_says_what_each_says),
        cmocka_unit_test(sentences_that_differ_in_a_number_are_told_together),
        cmocka_unit_test(options_that_say_the_same_are_named_together),
        cmocka_unit_test(the_options_stand_at_the_end_of_a_sentence_once),
        cmocka_unit_test(what_ends_in_two_ways_names_the_options_with_each),
        cmocka_unit_test(clauses_are_not_mixed),
        cmocka_unit_test(many_numbers_are_told_from_the_least_to_the_greatest),
        cmocka_unit_test(many_remedies_are_told_from_the_least_to_the_greatest),
        cmocka_unit_test(many_readings_of_two_forms_are_told_by_form),
        cmocka_unit_test(only_numbers_have_a_least_and_a_greatest),
        cmocka_unit_test(options_that_no_row_tells_are_named_exactly),
        cmocka_unit_test(an_option_in_which_it_holds_has_nothing_to_say),
        cmocka_unit_test(sentences_that_differ_are_told_one_after_the_other),
        cmocka_unit_test(a_fault_that_stands_in_every_option_is_a_fault),
        cmocka_unit_test(what_both_options_say_is_one_finding_whatever_tells_it_apart),
        cmocka_unit_test(a_fault_of_one_option_is_open),
        cmocka_unit_test(what_stands_at_the_place_is_that_of_all_options),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
