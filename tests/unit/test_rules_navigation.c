/*
 * Rules about lights, sound signals, the data backbone, weight: by their own examples, by sentences that an owner reads, and
 * by sets of lights that Rules 23, 25 and 30 of the COLREGs allow or not (from memory but for Rule 23).
 */
#include "unit/test_boat.h"

#include "rules/families.h"

#include <stdio.h>

static void each_rule_says_of_its_examples_what_they_are_for(void **state)
{
    (void)state;
    static const RuleFamily *const families[] = {&rules_lights, &rules_data, &rules_weight, &rules_service};
    for (size_t f = 0; f < sizeof families / sizeof families[0]; f++) {
        for (size_t r = 0; r < families[f]->count; r++) {
            const Rule *rule = &families[f]->rules[r];
            const char *examples[] = {rule->breaks, rule->holds, rule->open};
            for (int e = 0; e < 3 && examples[e] != NULL; e++) {
                Compiled c;
                compile(&c, examples[e]);
                const Finding *finding = finding_of(&c, rule->name);
                bool right =
                    e == 1 ? finding == NULL
                           : finding != NULL && finding->verdict == (e == 0 ? VERDICT_BROKEN : VERDICT_OPEN);
                if (!right || c.spec->messages.count > 0) {
                    fail_msg("`%s`, example %d", rule->name, e);
                }
                done_with(&c);
            }
            assert_true(rule->open != NULL || rule->never_open != NULL);
        }
    }
}

/* What is offered can be written: `backup-for` is a property of instruments, and a second radio is another `radio`. */
static void a_second_one_is_offered_in_words_that_its_kind_has(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, "edition 1\nboat wren { length 9 m; beam 3 m; crew 2; currency EUR; basis iso }\nradio vhf { draw 5 A }\n");
    const Finding *f = finding_of(&c, "no-second");
    assert_non_null(f);
    assert_string_equal(f->remedies->text, "a second `radio`, if only in the hand (`portable yes`)");
    assert_null(f->remedies->next);
    done_with(&c);
    compile(&c, "edition 1\nboat wren { length 9 m; beam 3 m; crew 2; currency EUR; basis iso }\ninstrument sounder { function depth }\n");
    f = finding_of(&c, "no-second");
    assert_non_null(f);
    assert_string_equal(f->remedies->text, "a second `instrument`, if only in the hand (`portable yes`)");
    assert_string_equal(f->remedies->next->text, "an `instrument` with `backup-for sounder`");
    done_with(&c);
}

/* Whether a boat of that length with these lights breaks `light-missing`. */
static bool lacks_a_light(const char *length, bool sails, const char *lights)
{
    char text[2048];
    Compiled c;
    int written = snprintf(text, sizeof text,
                           "edition 1\nboat wren { length %s; beam 3 m; displacement 5000 kg; crew 2; "
                           "currency EUR; basis us; sails %s "
                           "}\nengine motor { rated 20 kW at 3000 rpm; fuel diesel }\n",
                           length, sails ? "yes" : "no");
    while (*lights != '\0') {
        int word = (int)strcspn(lights, " ");
        written += snprintf(text + written, sizeof text - (size_t)written,
                            "nav-light l-%d { draw 1 A; portable yes; shows %.*s }\n", written, word, lights);
        lights += word + (lights[word] == ' ');
    }
    compile(&c, text);
    assert_int_equal(c.spec->messages.count, 0);
    const Finding *finding = finding_of(&c, "light-missing");
    bool lacks = finding != NULL && finding->verdict == VERDICT_BROKEN;
    assert_true(finding == NULL || lacks);
    done_with(&c);
    return lacks;
}

static void sets_of_lights_that_the_rules_allow_are_enough(void **state)
{
    (void)state;
    assert_false(lacks_a_light("9 m", false, "sidelights all-round"));
    assert_false(lacks_a_light("9 m", false, "combined masthead stern anchor"));
    assert_true(lacks_a_light("9 m", false, "combined masthead stern"));    /* nothing at anchor */
    assert_true(lacks_a_light("9 m", false, "sidelights masthead anchor")); /* nothing astern */
    assert_true(lacks_a_light("12 m", false, "sidelights all-round"));      /* too long for that */
    assert_false(lacks_a_light("12 m", false, "sidelights masthead stern anchor"));
    assert_true(lacks_a_light("6.5 m", false, "sidelights"));
    assert_true(lacks_a_light("9 m", true, "tricolour anchor")); /* not under engine */
    assert_false(lacks_a_light("9 m", true, "tricolour sidelights masthead stern anchor"));
    assert_true(lacks_a_light("9 m", true, "sidelights all-round")); /* under sail no light astern */
    assert_false(lacks_a_light("9 m", true, "sidelights all-round stern"));
}

/* Rule 23(a), (d): what a boat of 6 m with sidelights and a light astern lacks is a masthead light, or a white one all round. */
static void a_light_that_is_missing_is_named(void **state)
{
    (void)state;
    static const struct {
        const char *lights, *remedies[2];
    } rows[] = {
        {"nav-light a { draw 0 A; portable yes; shows combined }\nnav-light b { draw 0 A; portable yes; shows stern }\n",
         {"a `nav-light` that `shows all-round`", "a `nav-light` that `shows masthead`"}},
        {"nav-light a { draw 0 A; portable yes; shows combined }\n",
         {"a `nav-light` that `shows all-round`", NULL}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text, "edition 1\nboat tern { length 6 m; beam 2.3 m; crew 2; currency GBP; basis iso; sails no }\n%s", rows[i].lights);
        compile(&c, text);
        const Finding *finding = finding_of(&c, "light-missing");
        assert_non_null(finding);
        assert_string_equal(finding->remedies->text, rows[i].remedies[0]);
        const Remedy *next = finding->remedies->next;
        assert_true(rows[i].remedies[1] == NULL ? next == NULL : next != NULL && strcmp(next->text, rows[i].remedies[1]) == 0);
        done_with(&c);
    }
    Compiled c;
    compile(&c, "edition 1\nboat tern { length 9 m; beam 3 m; crew 2; currency GBP; basis iso; sails no }\n"
                "nav-light a { draw 0 A; portable yes; shows masthead }\n");
    assert_string_equal(finding_of(&c, "light-missing")->remedies->text, "a `nav-light` that `shows all-round` and one that `shows combined`");
    done_with(&c);
}

/*
 * COLREGs 1972, Rule 23(d)(i) and (ii) (verified): under 7 m a white light alone, if she makes at most 7 kn. Formula 2-1 puts
 * a boat of 4 t and 5 m on the water far below that with 4 kW; one that planes with 60 kW far above.
 */
static void only_a_slow_boat_may_leave_her_sidelights_off(void **state)
{
    (void)state;
    static const struct {
        const char *says, *more;
        bool found;
        Verdict verdict;
    } rows[] = {
        {"length 6.5 m; waterline 5 m; displacement 4000 kg", "engine motor { rated 4 kW at 3000 rpm; fuel diesel }\n", false, 0},
        {"length 6.5 m; waterline 5 m; displacement 900 kg; hull planing", "engine motor { rated 60 kW at 5000 rpm; fuel petrol }\n",
         true, VERDICT_BROKEN},
        {"length 6.5 m; waterline 5 m; displacement 4000 kg",
         "engine motor { rated 4 kW at 3000 rpm; fuel diesel }\nday trip { distance 20 nmi at 8 kn }\n", true, VERDICT_BROKEN},
        {"length 6.5 m; displacement 900 kg", "engine motor { rated 60 kW at 5000 rpm; fuel petrol }\n", true, VERDICT_OPEN},
        {"length 6.5 m; waterline 5 m; displacement 900 kg; hull planing",
         "engine motor { rated 60 kW at 5000 rpm; fuel petrol }\nnav-light sides { draw 1 A; portable yes; shows combined }\n", false, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[1024];
        Compiled c;
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { %s; beam 2.2 m; crew 2; currency EUR; basis us; sails no }\n%s"
                 "nav-light white { draw 1 A; portable yes; shows all-round }\n", rows[i].says, rows[i].more);
        compile(&c, text);
        assert_int_equal(c.spec->messages.count, 0);
        const Finding *finding = finding_of(&c, "light-missing");
        assert_int_equal(finding != NULL, rows[i].found);
        assert_true(finding == NULL || finding->verdict == rows[i].verdict);
        done_with(&c);
    }
}

/* Under 7 m or not, it is her lights that she lacks: what is open of 5 to 8 m is what is found at 5 m and at 8 m. */
static void a_light_that_may_be_missing_is_one_matter_at_any_length(void **state)
{
    (void)state;
#define WHITE_ALONE(length)                                                                                          \
    "edition 1\nboat wren { length " length "; beam 2.2 m; displacement 900 kg; crew 2; currency EUR; basis us }\n" \
    "nav-light white { draw 1 A; portable yes; shows all-round }\n"
    static const char *const exact[] = {WHITE_ALONE("5 m"), WHITE_ALONE("8 m")};
    Compiled open, c;
    compile(&open, WHITE_ALONE("5..8 m"));
    const Finding *may = finding_of(&open, "light-missing");
    for (size_t i = 0; i < 2; i++) {
        compile(&c, exact[i]);
        const Finding *is = finding_of(&c, "light-missing");
        assert_true(may != NULL && is != NULL && finding_same_matter(may, is));
        done_with(&c);
    }
    done_with(&open);
}

static void sentences_say_what_is_missing_and_by_how_much(void **state)
{
    (void)state;
    Compiled c;
    compile(&c, rule_find(STR("light-missing"))->breaks);
    assert_string_equal(finding_of(&c, "light-missing")->message,
                        "a light is missing: a boat of 9.5 m shows under engine sidelights with an all-round "
                        "white light, or with "
                        "masthead and stern lights (Rule 23); at anchor an all-round white light (Rule 30)");
    done_with(&c);
    /* 40 numbers of 50 mA over 40 m: 2 x 0.057 x 40 x 2 = 9.12 V, by hand */
    compile(&c, rule_find(STR("network-volts"))->breaks);
    assert_string_equal(finding_of(&c, "network-volts")->message,
                        "along `data` 9.12 V are lost to the worst of its things; 1.5 V is the most");
    done_with(&c);
}

/* COLREGs 1972, Annex I 2(c): 2.5 m above the gunwale from 12 m up to 20 m; a deck that falls from 1.4 m to 1.0 m. */
static void expect_over_gunwale(const char *length, const char *height, bool found, Verdict verdict)
{
    Compiled c;
    char text[1024];
    assert_true(
        snprintf(text, sizeof text,
                 "edition 1\nboat wren { length %s; beam 3 m; displacement 5000 kg; crew 2; currency EUR\n"
                 "basis us; freeboard 1.4 m to 1.0 m }\n"
                 "nav-light steaming { draw 1 A; portable yes; shows masthead; visible 3 nmi; height %s }\n",
                 length, height) < (int)sizeof text);
    compile(&c, text);
    expect_no_mistake(&c);
    const Finding *finding = finding_of(&c, "light-spacing");
    assert_int_equal(finding != NULL, found);
    if (found) {
        assert_int_equal(finding->verdict, verdict);
    }
    done_with(&c);
}

static void the_masthead_light_of_a_longer_boat_stands_over_the_gunwale(void **state)
{
    (void)state;
    expect_over_gunwale("12 m", "3.4 m", true, VERDICT_BROKEN);
    expect_over_gunwale("12 m", "3.7 m", true, VERDICT_OPEN); /* clear of the stern's, not of the bow's */
    expect_over_gunwale("12 m", "4 m", false, VERDICT_OPEN);
    expect_over_gunwale("11.9 m", "2 m", false, VERDICT_OPEN);
    expect_over_gunwale("20 m", "3.4 m", false, VERDICT_OPEN);
}

/*
 * Makers' guides: 3 A for a segment of light cable, from the supply to one end; 50 mA a number. Two times 16 on each side are 1.6 A
 * there, all four on one 3.2 A; at the supply itself nothing flows along the backbone.
 */
static void a_segment_carries_what_is_on_its_side_of_the_supply(void **state)
{
    static const struct {
        const char *supply, *first, *second;
        double low, high;
        int verdict; /* -1: nothing is found */
    } rows[] = {
        {"feeds-at 5 m", "tee-at 4 m", "tee-at 6 m", 1.6, 1.6, -1},
        {"feeds-at 5 m", "tee-at 4 m", "tee-at 1 m", 3.2, 3.2, VERDICT_BROKEN},
        {"feeds-at 5 m", "tee-at 4 m", "tee-at 5 m", 1.6, 1.6, -1},
        {"feeds-at 5 m", "tee-at 4 m", "tee-at 3..8 m", 1.6, 3.2, VERDICT_OPEN},
        {"feeds-at 5 m", "tee-at 4 m", "", 1.6, 3.2, VERDICT_OPEN},
        {"feeds-at 0 m", "tee-at 4 m", "tee-at 6 m", 3.2, 3.2, VERDICT_BROKEN},
        {"", "tee-at 4 m", "tee-at 6 m", 3.2, 3.2, VERDICT_BROKEN},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Compiled c;
        char text[1024];
        assert_true(snprintf(text, sizeof text,
                             EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                                          "network data { fed-by house; cable light; backbone 10 m; terminators 2; %s }\n"
                                          "instrument one { function depth; network data; load-number 16; count 2; %s }\n"
                                          "instrument two { function wind; network data; load-number 16; count 2; %s }\n",
                             rows[i].supply, rows[i].first, rows[i].second) < (int)sizeof text);
        compile(&c, text);
        expect_no_mistake(&c);
        const Figure *current = figure_find(c.figures, model_find(c.model, STR("data")), FIGURE_SEGMENT_CURRENT, NULL);
        assert_near(current->low, rows[i].low, 1e-9);
        assert_near(current->high, rows[i].high, 1e-9);
        const Finding *finding = finding_of(&c, "network-load");
        assert_int_equal(finding != NULL ? (int)finding->verdict : -1, rows[i].verdict);
        done_with(&c);
    }
}

/* What is found of lights on a boat of a length, her deck 1.2 m high. */
static void expect_lights(const char *rule, const char *length, const char *lights, bool found, Verdict verdict)
{
    Compiled c;
    char text[1024];
    assert_true(snprintf(text, sizeof text,
                         "edition 1\nboat wren { length %s; beam 3 m; displacement 5000 kg; crew 2; currency EUR\n"
                         "basis us; freeboard 1.2 m }\n%s", length, lights) < (int)sizeof text);
    compile(&c, text);
    expect_no_mistake(&c);
    const Finding *finding = finding_of(&c, rule);
    if ((finding != NULL) != found || (found && finding->verdict != verdict)) {
        fail_msg("%s of %s: %s", length, lights, finding != NULL ? finding->message : "nothing");
    }
    done_with(&c);
}

#define PORTABLE(SHOWS, SAYS) "nav-light " SHOWS "-light { draw 1 A; portable yes; shows " SHOWS "; " SAYS " }\n"

/* COLREGs 1972, Annex I 2(d): a metre, under 12 m; 2(h): a metre below the masthead light, in one lantern, under 20 m. */
static void a_metre_is_asked_of_short_boats_and_of_sidelights_in_one_lantern(void **state)
{
    (void)state;
#define STEAMING PORTABLE("masthead", "visible 3 nmi; height 3.9 m")
    expect_lights("light-spacing", "11 m", STEAMING PORTABLE("sidelights", "height 3.1 m"), true, VERDICT_BROKEN);
    expect_lights("light-spacing", "13 m", STEAMING PORTABLE("sidelights", "height 3.1 m"), false, VERDICT_OPEN);
    expect_lights("light-spacing", "13 m", STEAMING PORTABLE("combined", "height 3.1 m"), true, VERDICT_BROKEN);
    expect_lights("light-spacing", "13 m", STEAMING PORTABLE("combined", "height 2.9 m"), false, VERDICT_OPEN);
    expect_lights("light-spacing", "20 m", STEAMING PORTABLE("combined", "height 3.1 m"), false, VERDICT_OPEN);
    expect_lights("light-spacing", "11..13 m", STEAMING PORTABLE("sidelights", "height 3.1 m"), true, VERDICT_OPEN);
    expect_lights("light-spacing", "11..13 m", STEAMING PORTABLE("combined", "height 3.1 m"), true, VERDICT_BROKEN);
}

/* 2(g): three quarters of the height over the deck. A masthead light 2.7 m over it: sidelights up to 2.025 m, 3.225 m over the water. */
static void sidelights_of_a_longer_boat_stand_no_higher_than_three_quarters(void **state)
{
    (void)state;
    expect_lights("light-spacing", "13 m", STEAMING PORTABLE("sidelights", "height 3.22 m"), false, VERDICT_OPEN);
    expect_lights("light-spacing", "13 m", STEAMING PORTABLE("sidelights", "height 3.23 m"), true, VERDICT_BROKEN);
    expect_lights("light-spacing", "13 m", PORTABLE("masthead", "height 7.2 m") PORTABLE("sidelights", "height 6.1 m"), true, VERDICT_BROKEN);
    expect_lights("light-spacing", "11.9 m", PORTABLE("masthead", "height 7.2 m") PORTABLE("sidelights", "height 6.1 m"), false, VERDICT_OPEN);
    expect_lights("light-spacing", "13 m", STEAMING PORTABLE("sidelights", "height 3.1..3.3 m"), true, VERDICT_OPEN);
    expect_lights("light-spacing", "13..21 m", STEAMING PORTABLE("sidelights", "height 3.3 m"), true, VERDICT_OPEN);
}

/* 33 CFR 84.14, the table: 12 cd for 3 nautical miles, 0.9 for one; the formula would ask 12.06 and 0.86. */
static void a_lamp_is_held_against_the_printed_intensity(void **state)
{
    (void)state;
    expect_lights("light-range", "13 m", PORTABLE("masthead", "intensity 12 cd"), false, VERDICT_OPEN);
    expect_lights("light-range", "13 m", PORTABLE("masthead", "intensity 11.99 cd"), true, VERDICT_BROKEN);
    expect_lights("light-range", "11 m", PORTABLE("sidelights", "intensity 0.89 cd"), true, VERDICT_BROKEN);
    expect_lights("light-range", "11 m", PORTABLE("sidelights", "intensity 0.9 cd"), false, VERDICT_OPEN);
    expect_lights("light-range", "11 m", PORTABLE("sidelights", "intensity 0.8..1 cd"), true, VERDICT_OPEN);
}

/* IEC 61162-3: 50 mA for each load number. 2 + 3 x 2: 0.4 A in the feed; the first is in use for 10 h. */
static void what_a_backbone_feeds_flows_in_its_own_feed(void **state)
{
    (void)state;
    Compiled c;
    compile(
        &c, EXAMPLE_BOAT
        "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
        "circuit nav { fed-by house; run 3 m; wire 2.5 mm2; protect 5 A fuse 0.1 m from source }\n"
        "network backbone { fed-by nav; cable light; backbone 8 m; terminators 2; feeds-at 4 m }\n"
        "day sailing { engine 0 h; sun 4 h }\n"
        "instrument wind { function wind; network backbone; load-number 2; use sailing 10 h; tee-at 1 m }\n"
        "instrument dial { function depth; network backbone; load-number 3; count 2; tee-at 5 m }\n");
    expect_no_mistake(&c);
    const Figure *current = figure_find(c.figures, model_find(c.model, STR("nav")), FIGURE_CURRENT, NULL);
    assert_non_null(current);
    assert_near(current->high, 0.4, 1e-9);
    const Figure *use = figure_find(c.figures, model_find(c.model, STR("house")), FIGURE_DAILY_USE,
                                    model_find(c.model, STR("sailing")));
    assert_non_null(use);
    assert_near(use->low, 0.1 * 12.0 * 10.0 * 3600.0, 1e-6);
    done_with(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_masthead_light_of_a_longer_boat_stands_over_the_gunwale),
        cmocka_unit_test(a_segment_carries_what_is_on_its_side_of_the_supply),
        cmocka_unit_test(a_metre_is_asked_of_short_boats_and_of_sidelights_in_one_lantern),
        cmocka_unit_test(sidelights_of_a_longer_boat_stand_no_higher_than_three_quarters),
        cmocka_unit_test(a_lamp_is_held_against_the_printed_intensity),
        cmocka_unit_test(what_a_backbone_feeds_flows_in_its_own_feed),
        cmocka_unit_test(each_rule_says_of_its_examples_what_they_are_for),
        cmocka_unit_test(a_second_one_is_offered_in_words_that_its_kind_has),
        cmocka_unit_test(sets_of_lights_that_the_rules_allow_are_enough),
        cmocka_unit_test(a_light_that_is_missing_is_named),
        cmocka_unit_test(only_a_slow_boat_may_leave_her_sidelights_off),
        cmocka_unit_test(a_light_that_may_be_missing_is_one_matter_at_any_length),
        cmocka_unit_test(sentences_say_what_is_missing_and_by_how_much),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
