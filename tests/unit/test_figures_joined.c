/*
 * Short circuits behind banks that something joins: Ohm's law, with the maximum resistances of IEC 60228 class 5, tinned, at
 * 20 C (70 mm2 0.277 ohm/km, 25 mm2 0.795 ohm/km), and 12.8 V of a full agm bank at rest.
 */
#include "unit/verdict.h"

#include "physics/fault.h"

#include <math.h>

/* Two banks of 2.5 mohm, and a pump whose device is 0.1 m of 25 mm2 from the first: 0.159 mohm out and back. */
#define BOAT "edition 1\nboat b { length 9.5 m; beam 3 m; crew 2; currency EUR; basis iso }\n"
#define TWO_BANKS                                                                                                                    \
    BOAT "bank h1 { chemistry agm; voltage 12 V; capacity 300 Ah; resistance 2.5 mohm }\n"                                           \
         "bank h2 { chemistry agm; voltage 12 V; capacity 300 Ah; resistance 2.5 mohm }\n"                                           \
         "load pump { fed-by h1; run 3 m; wire 25 mm2; protect 100 A fuse 0.1 m from source interrupts 6 kA; draw 60 A }\n"
#define HALF "{ run 0.5 m; wire 70 mm2; protect 200 A fuse class-t 0.1 m from source }"
#define TIED(works_as) "switch tie { works-as " works_as "; fed-by h1, h2; run 0.5 m; wire 70 mm2; protect 200 A fuse class-t 0.1 m from source }\n"
#define ALTERNATOR(more) "engine eng { rated 21 kW at 2800 rpm; fuel diesel }\nalternator alt { engine eng; output 90 A at 14.2 V; " more "feeds h1 " HALF "; feeds h2 " HALF " }\n"

static const double own_ohm = 2.5e-3, tie_ohm = 2.0 * 2.0 * 0.5 * 0.277e-3, lead_ohm = 2.0 * 0.1 * 0.795e-3;

static Interval fault_of(const char *spec, const char *subject, const char *at)
{
    Compiled c;
    compile_text(&c, spec);
    if (c.spec->messages.first != NULL) {
        fail_msg("%s", c.spec->messages.first->text);
    }
    const Figure *figure = compiled_figure_at(&c, subject, FIGURE_FAULT_CURRENT, at);
    assert_non_null(figure);
    assert_int_equal(figure->state, STATE_KNOWN);
    Interval value = {figure->low, figure->high};
    compile_free(&c);
    return value;
}

static double both_ohm(void)
{
    return own_ohm * (own_ohm + tie_ohm) / (own_ohm + own_ohm + tie_ohm) + lead_ohm;
}

/* The own bank alone would give 4814 A; once it is closed, the other one lies beside it through 1 m of cable: 8350 A. */
static void a_switch_between_banks_brings_the_other_bank_too(void **state)
{
    (void)state;
    Interval parallel = fault_of(TWO_BANKS TIED("parallel"), "pump", NULL);
    assert_near(parallel.low, 12.8 / both_ohm(), 1.0);
    assert_near(parallel.high, 12.8 / both_ohm(), 1.0);
    assert_near(fault_of(TWO_BANKS TIED("emergency"), "pump", NULL).high, 12.8 / both_ohm(), 1.0);
    Interval transfer = fault_of(TWO_BANKS TIED("transfer"), "pump", NULL);
    assert_near(transfer.high, 12.8 / (own_ohm + lead_ohm), 1.0);
    expect_verdict(TWO_BANKS TIED("parallel"), "protect-breaking", BROKEN_AT_ONE, "pump");
}

/*
 * A switch between banks of which nobody says how far it is from either: all of the other bank may come through it, as if it were
 * bolted on, or nothing to speak of. `run 0 m` is said.
 */
static void a_switch_between_banks_without_a_run_may_be_any_way_off(void **state)
{
    (void)state;
#define LINKED(MORE) TWO_BANKS "switch tie { works-as emergency; fed-by h1, h2; rated 300 A; " MORE "}\n"
    double alone = 12.8 / (own_ohm + lead_ohm), both = 12.8 / (0.5 * own_ohm + lead_ohm);
    Interval unsaid = fault_of(LINKED(""), "pump", NULL);
    assert_near(unsaid.low, alone, 1.0);
    assert_near(unsaid.high, both, 1.0);
    assert_near(fault_of(LINKED("run 0 m; "), "pump", NULL).low, both, 1.0);
    expect_verdict(LINKED(""), "protect-breaking", OPEN_AT_ONE, "pump");
    expect_verdict(LINKED("run 0 m; "), "protect-breaking", BROKEN_AT_ONE, "pump");
    /* the same between two buses, for no cable leaves it that it could be part of */
#define TWO_BUSES TWO_BANKS "bus p1 { fed-by h1; run 0 m }\nbus p2 { fed-by h2; run 0 m }\n"
    expect_verdict(TWO_BUSES "switch tie { works-as parallel; fed-by p1, p2 }\n", "protect-breaking", OPEN_AT_ONE, "pump");
    expect_verdict(TWO_BUSES "switch tie { works-as parallel; fed-by p1, p2; run 0 m }\n", "protect-breaking", BROKEN_AT_ONE, "pump");
    /* and so of one that stands between a bank and what hangs on it: 1.9 mohm are 6 kA and more */
#define SWITCHED(MORE)                                                                                                              \
    BOAT "bank h1 { chemistry agm; voltage 12 V; capacity 300 Ah; resistance 1.9 mohm }\n"                                          \
         "switch off { works-as battery; fed-by h1; rated 300 A; " MORE "}\n"                                                       \
         "load pump { fed-by off; run 3 m; wire 25 mm2; protect 100 A fuse 0.1 m from source interrupts 6 kA; draw 60 A }\n"
    expect_verdict(SWITCHED(""), "protect-breaking", OPEN_AT_ONE, "pump");
    expect_verdict(SWITCHED("run 0 m; "), "protect-breaking", BROKEN_AT_ONE, "pump");
}

/* What comes from the other end of a cable does not pass the device at this end. */
static void the_device_of_the_joining_cable_sees_its_own_bank(void **state)
{
    (void)state;
    double alone = 12.8 / (own_ohm + 2.0 * 0.1 * 0.277e-3);
    Interval tie = fault_of(TWO_BANKS TIED("parallel"), "tie", "h1");
    assert_near(tie.low, alone, 1.0);
    assert_near(tie.high, alone, 1.0);
    /* unless a second tie lies beside it, of 1 m of the same cable: the other bank comes by that one */
    Interval beside = fault_of(TWO_BANKS TIED("parallel") ALTERNATOR(""), "tie", "h1");
    assert_near(beside.high, 12.8 / (both_ohm() - lead_ohm + 2.0 * 0.1 * 0.277e-3) + 1.2 * 90.0, 1.0);
}

/* A closed relay is a contact: the current that it is rated for does not limit a short circuit. */
static void a_relay_is_a_contact(void **state)
{
    (void)state;
    Interval fault = fault_of(TWO_BANKS "converter vsr { relay yes; fed-by h2; run 0.5 m; wire 70 mm2; protect 200 A fuse class-t 0.1 m "
                                        "from source; output 120 A at 14.2 V; feeds h1 " HALF " }\n",
                              "pump", NULL);
    assert_near(fault.low, 12.8 / both_ohm(), 1.0);
    assert_near(fault.high, 12.8 / both_ohm(), 1.0);
}

/* One alternator makes its 1.2 x 90 A once, whichever of the two takes it. */
static void what_charges_both_joins_them_unless_it_keeps_them_apart(void **state)
{
    (void)state;
    double alone = 12.8 / (own_ohm + lead_ohm) + 1.2 * 90.0;
    Interval unsaid = fault_of(TWO_BANKS ALTERNATOR(""), "pump", NULL);
    assert_near(unsaid.low, alone, 1.0);
    assert_near(unsaid.high, 12.8 / both_ohm() + 1.2 * 90.0, 1.0);
    assert_near(fault_of(TWO_BANKS ALTERNATOR("outputs-apart yes; "), "pump", NULL).high, alone, 1.0);
    expect_verdict(TWO_BANKS ALTERNATOR(""), "protect-breaking", OPEN_AT_ONE, "pump");
    expect_verdict(TWO_BANKS ALTERNATOR("outputs-apart yes; "), "protect-breaking", NOTHING, NULL);
}

/* By two ways from the same bank there is that bank once: two cables of 0.5 m side by side, 0.1385 mohm. */
static void one_bank_by_two_ways_is_one_bank(void **state)
{
    (void)state;
    double ohm = own_ohm + 0.5 * 2.0 * 0.5 * 0.277e-3 + lead_ohm;
    Interval fault = fault_of(BOAT "bank h1 { chemistry agm; voltage 12 V; capacity 300 Ah; resistance 2.5 mohm }\n"
                                   "switch one { works-as battery; fed-by h1; run 0.5 m; wire 70 mm2 }\n"
                                   "switch two { works-as battery; fed-by h1; run 0.5 m; wire 70 mm2 }\n"
                                   "bus both { fed-by one, two; run 0 m }\n"
                                   "load pump { fed-by both; run 3 m; wire 25 mm2; protect 100 A fuse 0.1 m from source; draw 60 A }\n",
                              "pump", NULL);
    assert_near(fault.high, 12.8 / ohm, 1.0);
}

/* Three packs that a switch joins at their posts short-circuit as one bank of three strings; which that is written as is told. */
static void three_banks_that_are_joined_give_what_one_of_three_strings_gives(void **state)
{
    (void)state;
#define PACK(name, more) "bank " name " { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; resistance 3 mohm" more " }\n"
#define HOUSE(banks, from)                                                                                            \
    BOAT "day anchored { engine 0 h }\n" banks                                                                        \
         "bus pos { fed-by " from "; run 0.5 m; wire 70 mm2; protect 300 A fuse class-t 0.1 m from source }\n"        \
         "solar roof { rated 200 W; feeds pos { run 3 m; wire 10 mm2; protect 30 A fuse class-t 0.1 m from source } }\n"
#define JOINED(works_as) "switch all { works-as " works_as "; run 0 m; fed-by p1, p2, p3 }\n"
    Interval one = fault_of(HOUSE(PACK("house", "; parallel 3"), "house"), "pos", NULL);
    Interval three = fault_of(HOUSE(PACK("p1", "") PACK("p2", "") PACK("p3", "") JOINED("parallel"), "all"), "pos", NULL);
    assert_near(three.low, one.low, 1.0);
    assert_near(three.high, one.high, 1.0);
    Compiled c;
    compile_text(&c, HOUSE(PACK("p1", "") PACK("p2", "") PACK("p3", "; role start") JOINED("parallel"), "all"));
    int like = 0, unlike = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, "joined-uncounted") == 0) {
            const Remedy *more = f->remedies->next;
            like += more != NULL && strstr(more->text, "one bank with `parallel 3`") == more->text;
            unlike += more == NULL;
        }
    }
    assert_int_equal(like, 1);
    assert_int_equal(unlike, 1);
    compile_free(&c);
}

/* A bridge by hand: 1 ohm on all sides and across, which carries nothing, for both of its ends lie half way. */
static void a_bridge_of_equal_resistances(void **state)
{
    (void)state;
    static const FaultLink links[] = {{0, 1, 1.0}, {0, 2, 1.0}, {1, 2, 1.0}, {1, 3, 1.0}, {2, 3, 1.0}};
    double room[16];
    assert_near(fault_joined_ohm(links, 5, 4, 3, 5, room), 1.0, 1e-9);
    assert_near(fault_joined_ohm(links, 5, 4, 3, 2, room), 1.0, 1e-9);
    assert_near(fault_joined_ohm(links, 5, 4, 3, 0, room), 1.0 + 2.0 / 3.0, 1e-9);
    assert_true(isinf(fault_joined_ohm(links, 2, 4, 3, 5, room)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_switch_between_banks_brings_the_other_bank_too),
        cmocka_unit_test(a_switch_between_banks_without_a_run_may_be_any_way_off),
        cmocka_unit_test(the_device_of_the_joining_cable_sees_its_own_bank),
        cmocka_unit_test(a_relay_is_a_contact),
        cmocka_unit_test(what_charges_both_joins_them_unless_it_keeps_them_apart),
        cmocka_unit_test(one_bank_by_two_ways_is_one_bank),
        cmocka_unit_test(three_banks_that_are_joined_give_what_one_of_three_strings_gives),
        cmocka_unit_test(a_bridge_of_equal_resistances),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
