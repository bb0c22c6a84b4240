/*
 * Measures that cannot be those of a boat: her proportions against each other, places far outside of her, magnitudes and
 * prices that are slips of the pen. All specs are judged as on 2027-03-01.
 */
#include "unit/test_boat.h"

#include "rules/families.h"

#include <stdio.h>

static void compile_boat(Compiled *c, const char *things)
{
    char text[1024];
    assert_true(snprintf(text, sizeof text, "%s%s", EXAMPLE_BOAT, things) < (int)sizeof text);
    compile(c, text);
}

/* The first finding of a rule says just that; NULL: there is none. The spec has no mistake. */
static void expect_sentence(const char *things, const char *rule, const char *sentence)
{
    Compiled c;
    compile_boat(&c, things);
    expect_no_mistake(&c);
    const Finding *finding = finding_of(&c, rule);
    assert_true((finding != NULL) == (sentence != NULL));
    if (finding != NULL) {
        assert_string_equal(finding->message, sentence);
    }
    done_with(&c);
}

/* One mistake; a text of NULL may be any. */
static void expect_mistake(const char *things, MessageId id, const char *text, const char *right)
{
    Compiled c;
    compile_boat(&c, things);
    assert_int_equal(c.spec->messages.count, 1);
    const Message *m = c.spec->messages.first;
    assert_int_equal(m->id, id);
    if (text != NULL) {
        assert_string_equal(m->text, text);
        assert_string_equal(m->right, right);
    }
    done_with(&c);
}

/* Geometry and Archimedes: 12 x 0.9 x 3.2 m of salt water are 35.4 t. Of the rest: common practice, no source. */
static void measures_that_cannot_be_of_one_boat_are_told(void **state)
{
    (void)state;
    static const struct {
        const char *lines;
        const char *about; /* the sentence has this; NULL: nothing is said */
        Severity severity;
    } rows[] = {
        {"beam 3.1 m; waterline 9.6 m", "no waterline is longer", SEVERITY_FAULT},
        {"beam 3.1 m; waterline 9.5 m", NULL, SEVERITY_FAULT},
        {"beam 3.1 m; waterline 4.4 m", "hangs over its waterline", SEVERITY_WARNING},
        {"beam 0.9 m", "the narrowest canal boat", SEVERITY_WARNING},
        {"beam 9.9 m", "longer than she is broad", SEVERITY_WARNING},
        {"beam 3.1 m; draft 4.2 m", "hardly a keel", SEVERITY_WARNING},
        {"beam 1 m; waterline 9 m; draft 1 m; displacement 9.3 t", "displaces less than it", SEVERITY_FAULT},
        {"beam 1 m; waterline 9 m; draft 1 m; displacement 9.2 t", NULL, SEVERITY_FAULT},
        {"beam 3 m; waterline 9 m; draft 2 m; displacement 52 kg", "no hull is so fine", SEVERITY_WARNING},
        /* several hulls: 8 x 6.2 x 1.7 m of salt water are 86.4 t; a light one displaces a hundredth of it, a slip a thousandth */
        {"beam 6.2 m; waterline 8 m; draft 1.7 m; displacement 1100 kg", NULL, SEVERITY_WARNING},
        {"beam 6.2 m; waterline 8 m; draft 1.7 m; displacement 110 kg", "no hull is so fine", SEVERITY_WARNING},
        {"beam 6.2 m; waterline 8 m; displacement 1600 kg; sails no", NULL, SEVERITY_WARNING},
        {"beam 3.1 m; waterline 8 m; draft 1.7 m; displacement 800 kg", "no hull is so fine", SEVERITY_WARNING},
        {"beam 3.1 m; buoyancy 49 m", "cannot lie behind her", SEVERITY_FAULT},
        {"beam 3.1 m; buoyancy 8 m", "near the middle", SEVERITY_WARNING},
        {"beam 3.1 m; buoyancy 1 m", "near the middle", SEVERITY_WARNING},
        {"beam 3.1 m; buoyancy 5 m", NULL, SEVERITY_WARNING},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[256];
        Compiled c;
        snprintf(text, sizeof text, "edition 1\nboat wren { length 9.5 m; crew 2; currency EUR; basis us; %s }\n", rows[i].lines);
        compile(&c, text);
        expect_no_mistake(&c);
        const Finding *finding = finding_of(&c, "proportions");
        if (rows[i].about == NULL) {
            assert_null(finding);
        } else {
            assert_non_null(finding);
            assert_non_null(strstr(finding->message, rows[i].about));
            assert_int_equal(finding->severity, rows[i].severity);
            assert_int_equal(finding->verdict, VERDICT_BROKEN);
        }
        done_with(&c);
    }
}

static void what_stands_far_outside_of_her_is_told(void **state)
{
    (void)state;
    expect_sentence("item box { mass 9 kg; at 52 m 0 m 0 m }\n", "outside-hull",
                    "`box` stands 52 m aft of her foremost point; she is 9.5 m long and 3.1 m broad");
    expect_sentence("item box { mass 9 kg; at 5 m -6 m 0 m }\n", "outside-hull",
                    "`box` stands 6 m to port of her middle; she is 9.5 m long and 3.1 m broad");
    expect_sentence("item box { mass 9 kg; at 5 m 6 m 0 m }\n", "outside-hull",
                    "`box` stands 6 m to starboard of her middle; she is 9.5 m long and 3.1 m broad");
    expect_sentence("item box { mass 9 kg; at 5 m 0 m -30 m }\n", "outside-hull",
                    "`box` stands 30 m below the waterline; she is 9.5 m long and 3.1 m broad");
    expect_sentence("item mast { mass 9 kg; at -1 m 0 m 14 m }\n", "outside-hull", NULL); /* a masthead, over a bowsprit */
}

/* Each of them was written by somebody who meant a thousandth or a tenth of it. */
static void magnitudes_that_no_boat_has_are_mistakes(void **state)
{
    (void)state;
    static const char *const lines[] = {
        "through-hull drain { bore 38 m; height -0.1 m }\n", "gas-locker box { cylinder 500 kg }\n",
        "heater stove { output 400 kW }\n",                  "anchor bower { chain 4 m of 80 mm }\n",
        "item box { mass 9 kg; at 89 m 0 m 0 m }\n",         "engine main { rated 20 kW at 300000 rpm; fuel diesel }\n",
        "engine main { rated 20 kW at 3000 rpm; fuel diesel; hours 4100000 h }\n",
    };
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        expect_mistake(lines[i], MESSAGE_OUT_OF_RANGE, NULL, NULL);
    }
}

static void three_digits_behind_a_price_are_asked_about(void **state)
{
    (void)state;
    expect_mistake("item rig { price 1.250 EUR }\n", MESSAGE_NUMBER_POINTS,
                   "`1.250` has three digits behind its point, and no such coin is made",
                   "`1250`, if the point was to group digits; else with two digits behind it, `1.25`");
    expect_mistake("item rig { price 1.234,50 EUR }\n", MESSAGE_NUMBER_POINTS,
                   "a point groups the digits of this amount, and a comma stands before its cents",
                   "`1234.50`: nothing between groups of digits, a point before the cents");
    /* ISO 4217: the dinar of Kuwait has a thousand fils. Nought is no group, and a mass is no amount. */
    static const char *const fine[] = {"currency KWD", "item rig { price 1.250 KWD }\n", "currency EUR",
                                       "item rig { price 0.125 EUR; mass 1.250 kg }\n"};
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i += 2) {
        char text[256];
        Compiled c;
        snprintf(text, sizeof text, "edition 1\nboat wren { length 9.5 m; beam 3 m; crew 2; %s; basis us }\n%s", fine[i], fine[i + 1]);
        compile(&c, text);
        expect_no_mistake(&c);
        done_with(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(measures_that_cannot_be_of_one_boat_are_told),
        cmocka_unit_test(what_stands_far_outside_of_her_is_told),
        cmocka_unit_test(magnitudes_that_no_boat_has_are_mistakes),
        cmocka_unit_test(three_digits_behind_a_price_are_asked_about),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
