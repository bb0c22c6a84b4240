/*
 * What would settle an open finding. The expected values are worked out by hand beside each spec; where they rest on a rule's
 * limit, on that limit as its table states it.
 */
#include "check.h"
#include "compile.h"

#include "model/trial.h"
#include "rules/settle.h"

#include <stdio.h>
#include <string.h>

/* She displaces next to nothing: whatever is weighed is more than half of it, without which no goal of mass is judged. */
#define FEATHER \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 1 g; crew 2; currency EUR; basis us }\n"

static const Finding *open_finding(Compiled *c, const char *rule, const char *text)
{
    compile_text(c, text);
    if (c->spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", c->spec->messages.first->text);
    }
    settle_findings(c->outcome);
    const Finding *finding = compiled_finding(c, rule);
    assert_non_null(finding);
    assert_int_equal(finding->verdict, VERDICT_OPEN);
    return finding;
}

static const Settle *settle_of(const Finding *finding, const char *input)
{
    for (const Settle *s = finding->settles; s != NULL; s = s->next) {
        if (strcmp(s->input, input) == 0) {
            return s;
        }
    }
    fail_msg("nothing is said of %s", input);
    return NULL;
}

static void says(const Finding *finding, const char *input, const char *text)
{
    const Settle *settle = settle_of(finding, input);
    assert_string_equal(settle->text, text);
    assert_int_equal(settle->state, SETTLE_FOUND);
}

static void expect(const char *rule, const char *input, const char *text, const char *spec)
{
    Compiled c;
    says(open_finding(&c, rule, spec), input, text);
    compile_free(&c);
}

/* Two of crew use 12 l a day each: 72 l in three days, of a tank that is used to 90 %: 80 l. */
#define TANK(capacity)                                               \
    EXAMPLE_BOAT                                                     \
    "day anchored { water 12 l per person; flushes 0 per person }\n" \
    "goal quiet { endure 3 d on anchored }\n"                        \
    "tank fresh { holds fresh; usable 90 %; capacity " capacity " }\n"

/*
 * A decided price in money whose rate is a range: what is open is the rate, and every price follows it. 50 EUR and 100 USD are
 * 140 EUR at 0.90 EUR for one, or 1.11 USD for one; with 150 USD in two things at 0.60. A price that is open itself is named too.
 */
#define PAID(rate, price)                                                                                            \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; rate " rate " }\n" \
    "item raft { price " price " USD }\nitem jib { price 50 EUR }\ngoal purse { budget 140 EUR }\n"

static void what_is_paid_at_an_open_rate_hangs_on_the_rate(void **state)
{
    (void)state;
    expect("over-budget", "wren.rate", "holds up to 0.9, broken above 0.9", PAID("0.8..1 EUR per USD", "100"));
    expect("over-budget", "wren.rate", "holds from 1.12 up, broken up to 1.11", PAID("1..1.25 USD per EUR", "100"));
    expect("over-budget", "wren.rate", "holds up to 0.6, broken above 0.6",
           PAID("0.5..1 EUR per USD", "100") "item drogue { price 50 USD }\n");
    Compiled c;
    const Finding *f = open_finding(&c, "over-budget", PAID("0.8..1 EUR per USD", "100"));
    assert_null(f->settles->next);
    compile_free(&c);
    f = open_finding(&c, "over-budget", PAID("0.8..1 EUR per USD", "90..110"));
    assert_non_null(settle_of(f, "raft.price"));
    says(f, "wren.rate", "holds up to 0.818"); /* 110 USD; of 90 USD it would be 1 */
    compile_free(&c);
}

/*
 * This engine burns less a turn, the faster it turns: over all of the range at once her speed enters twice, by the miles in an
 * hour and by what it burns. By hand, on that line from 2 to 3 l/h: 252 nmi at 4 kn, 295 nmi at 6 kn, and never 360.
 */
static void what_is_broken_in_every_part_is_told_once(void **state)
{
    (void)state;
    expect("goal-missed", "reach.range",
           "broken whatever it is, tried in parts; only all of its range at once is too wide to tell",
           "edition 1\nboat wren { length 11 m; beam 3.4 m; waterline 9.6 m; displacement 7400 kg; crew 2; currency EUR; "
           "basis iso; sails no }\nengine iron { rated 28 kW at 3000 rpm; fuel diesel; consumption 1200 rpm 2 l/h\n"
           "  consumption 2400 rpm 3 l/h }\ntank fuel { holds fuel; capacity 200 l }\ngoal reach { range 360 nmi at 4..6 kn }\n");
}

/* A ratio may be stated up to 20. From some ratio on the screw takes too little, up to there: no number beyond it is said. */
static void what_nobody_can_state_is_not_said(void **state)
{
    (void)state;
    Compiled c;
    const Finding *finding = open_finding(
        &c, "propeller-load",
        "edition 1\nboat wren { length 9.5 m; waterline 8.3 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"
        "engine iron { rated 21 kW at 2800 rpm; fuel diesel }\ngearbox gear { engine iron; ratio ? }\n"
        "propeller screw { engine iron; diameter 440 mm; pitch 290 mm; blades 3; area-ratio 0.45; wake 0.15 }\n");
    const Settle *ratio = settle_of(finding, "gear.ratio");
    assert_int_equal(ratio->range_count, 1);
    assert_false(ratio->ranges[0].holds);
    assert_near(ratio->ranges[0].value.high, 20.0, 1e-9);
    assert_non_null(strstr(ratio->text, " up"));
    compile_free(&c);
}

/*
 * With either bank, and with each power of the panels by itself, about a third of the sun finds no taker; reckoned over both
 * ranges at once it may be more than half, which the rule asks about. Nothing has to be decided, so it is no finding.
 */
static void what_holds_in_all_parts_of_a_range_is_no_finding(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT_ISO
                 "day passage { engine 6 h at 1900 rpm; sun 4.6 h }\n"
                 "bank house { chemistry agm; voltage 12 V; capacity 110 Ah; parallel 2..3; resistance 4 mohm }\n"
                 "engine e1 { rated 35 kW at 3000 rpm; fuel diesel }\n"
                 "alternator dynamo { engine e1; output 90 A at 14.2 V; pulley-ratio 2.1; feeds house { run 1 m; wire 35 mm2 } }\n"
                 "solar roof { rated 110..180 W; count 2; max-output 30 A; feeds house { run 1 m; wire 16 mm2 } }\n"
                 "circuit c1 { fed-by house; run 1 m; wire 6 mm2 }\nload fridge { fed-by c1; draw 5.5 A; use passage 60 % }\n");
    uint32_t open = c.outcome->open, listed = 0;
    assert_non_null(compiled_finding(&c, "wasted-sun"));
    settle_findings(c.outcome);
    assert_null(compiled_finding(&c, "wasted-sun"));
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        listed += f->verdict == VERDICT_OPEN;
    }
    assert_true(c.outcome->open < open);
    assert_int_equal(listed, c.outcome->open);
    compile_free(&c);
}

/* With `no` the rule asks the space for its openings: that is another finding, and no word that it holds. */
static void what_brings_another_finding_of_the_same_does_not_hold(void **state)
{
    (void)state;
    expect("flame-air", "warm.room-sealed", "holds with room-sealed yes",
           EXAMPLE_BOAT "space saloon { }\nheater warm { fuel diesel; space saloon; output 4 kW }\n");
}

#define CABLES(CHARGER)                                                                                          \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 2 mohm; max-discharge 400 A }\n" \
                 "panel main { fed-by house; run 0.5 m; wire 2/0 AWG insulation 105 C; protect 200 A fuse class-t; rated 200 A }\n" CHARGER

static const char *heavy(Compiled *c, const char *spec)
{
    compile_text(c, spec);
    assert_null(c->spec->messages.first);
    settle_findings(c->outcome);
    const Finding *finding = compiled_finding(c, "assumption-heavy");
    assert_non_null(finding);
    return finding->message;
}

#define CABLE(NAME, DRAW) \
    "circuit " NAME " { fed-by main; run 0.1 m; wire 6 AWG; protect 120 A fuse class-t }\n" \
    "load on-" NAME " { fed-by " NAME "; draw " DRAW " A }\n"

/* 33 CFR 183.425, Table 5: 6 AWG carries 80 A at 60 C and 120 A at 105 C. No efficiency of the inverter takes 95 A away. */
static void what_an_assumption_would_mend_is_named_and_nothing_else(void **state)
{
    (void)state;
    Compiled c;
    const char *message = heavy(
        &c, CABLES(CABLE("bow", "95") CABLE("stern", "95") CABLE("deck", "200")
                   "inverter inv { fed-by bow; rated 50 W; run 0.1 m; wire 6 AWG insulation 105 C; protect 30 A fuse class-t }\n"));
    /* 200 A through 6 AWG: 120 A at the most, whatever its insulation. */
    assert_memory_equal(message, "2 of ", 5);
    assert_non_null(strstr(message, "`bow.wire insulation`"));
    assert_non_null(strstr(message, "`stern.wire insulation`"));
    assert_null(strstr(message, "deck"));
    assert_null(strstr(message, "inv."));
    compile_free(&c);
}

/* 200 A are beyond the 120 A of the best insulation: whatever is assumed, there is nothing to say of it. */
static void of_what_no_assumption_mends_nothing_is_said(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, CABLES(CABLE("bow", "200") CABLE("stern", "250") CABLE("deck", "200")));
    uint32_t advice = c.outcome->advice;
    assert_non_null(compiled_finding(&c, "assumption-heavy"));
    settle_findings(c.outcome);
    assert_null(compiled_finding(&c, "assumption-heavy"));
    assert_int_equal(c.outcome->advice, advice - 1);
    compile_free(&c);
}

/* One finding says so of itself. */
static void what_one_cable_assumes_is_not_told_again(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, CABLES(CABLE("bow", "95")));
    assert_non_null(compiled_finding(&c, "wire-overloaded"));
    assert_null(compiled_finding(&c, "assumption-heavy"));
    compile_free(&c);
}

static void a_bound_from_below_is_found(void **state)
{
    (void)state;
    expect("water-short", "fresh.capacity", "holds from 80 l up, broken below 80 l", TANK("60..100 l"));
    /* An outlet is under water below the waterline, which is 0 m. */
    expect("siphon", "helm.discharge-height", "holds from 0 m up, broken below 0 m",
           EXAMPLE_BOAT "bilge-pump helm { hand yes; rated 3000 l/h; discharge-height <= 1.5 m }\n");
    /* 80 l are 21.134 gal: the printed number is on the safe side. */
    expect("water-short", "fresh.capacity", "holds from 21.2 gal up, broken up to 21.1 gal",
           TANK("18..24 gal"));
}

static void bounds_and_holes_are_searched_at_round_numbers(void **state)
{
    (void)state;
    expect("goal-missed", "stove.mass", "holds up to 100 kg, broken above 100 kg",
           FEATHER "goal light { mass 110 kg }\nitem keel { mass 10 kg }\nitem stove { mass ? }\n");
    expect("water-short", "fresh.capacity", "holds from 80 l up, broken below 80 l", TANK(">= 50 l"));
}

static void expect_remedy(const char *rule, const char *wanted, const char *spec)
{
    Compiled c;
    compile_text(&c, spec);
    settle_findings(c.outcome);
    const Finding *finding = compiled_finding(&c, rule);
    assert_non_null(finding);
    const Remedy *remedy = finding->remedies;
    while (remedy != NULL && strcmp(remedy->text, wanted) != 0) {
        remedy = remedy->next;
    }
    if (remedy == NULL) {
        fail_msg("no remedy of %s is `%s`; the first is `%s`", rule, wanted,
                 finding->remedies != NULL ? finding->remedies->text : "none");
    }
    compile_free(&c);
}

/*
 * What is broken for good: the single change that would meet it. 80 l as above; with a battery that would need more too,
 * neither alone. 3 d of 24 h at 1 A are 72 Ah of the half that may be used: 144 Ah.
 */
static void a_broken_goal_tells_the_single_change_that_meets_it(void **state)
{
    (void)state;
#define LAMP_ON(capacity)                                                                        \
    "bank house { chemistry agm; voltage 12 V; capacity " capacity "; peukert 1; usable 50 % }\n" \
    "load lamp { fed-by house; run 1 m; draw 1 A; use anchored 24 h }\n"
    expect_remedy("goal-missed", "`fresh.capacity` from 80 l up", TANK("50 l"));
    expect_remedy("goal-missed", "`house.capacity` from 144 Ah up", TANK("100 l") LAMP_ON("100 Ah"));
    expect_remedy("goal-missed", "`house.capacity` from 72 Ah up, of each of the 2", TANK("100 l") LAMP_ON("50 Ah; parallel 2"));
    expect_remedy("goal-missed", "`fresh.capacity` from 40 l up, of each of the 2", TANK("25 l; count 2"));
}

/* 80 l and 144 Ah as above, each by itself too little; what states no amount cannot be told in numbers. */
static void what_is_short_at_once_is_told_in_numbers(void **state)
{
    (void)state;
    expect_remedy("goal-missed", "`fresh.capacity` from 80 l up and `house.capacity` from 144 Ah up: none of them alone is enough",
                  TANK("50 l") LAMP_ON("100 Ah"));
    Compiled c;
    compile_text(&c, TANK("80 l") LAMP_ON("144 Ah"));
    assert_null(compiled_finding(&c, "goal-missed"));
    compile_free(&c);
}

#define CHARGED_BY(output)                                                                                                  \
    EXAMPLE_BOAT "day anch { engine 0 h at 1500 rpm }\ngoal hours { engine-hours 1 h on anch }\n"                          \
                 "bank b { chemistry agm; voltage 12 V; capacity 400 Ah; resistance 1.5 mohm }\n"                           \
                 "engine diesel { rated 30 kW at 2600 rpm; fuel diesel }\n"                                                 \
                 "alternator alt { engine diesel; output " output " at 14.4 V; regulator external; feeds b { run 1 m; "     \
                 "wire 35 mm2; protect 80 A fuse class-t } }\n"                                                            \
                 "load fridge { fed-by b; run 2 m; wire 4 mm2; protect 10 A fuse class-t; draw 4 A; use anch 24 h }\n"

/* All of a long range at once is reckoned too wide: 322 A were told, where 180 A do and 176 A do not. */
static void what_would_do_is_not_told_twice_as_large(void **state)
{
    (void)state;
    expect_remedy("goal-missed", "`alt.output` from 178 A up", CHARGED_BY("50 A"));
    Compiled c;
    compile_text(&c, CHARGED_BY("178 A"));
    assert_null(compiled_finding(&c, "goal-missed"));
    compile_free(&c);
}

/* 40 % of C are there, 10 A for 5 h are taken, 20 % stay: C of 250 Ah. All sizes at once begin with what the least of them has. */
static void a_size_is_sought_value_by_value_where_all_at_once_is_too_wide(void **state)
{
    (void)state;
    expect_remedy("flat", "`house.capacity` from 250 Ah up",
                  EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; resistance 2 mohm }\n"
                               "load fan { fed-by house; run 1 m; wire 6 mm2; protect 20 A fuse; draw 10 A; use w 12:00..17:00 }\n"
                               "day w { temperature 20 C }\ncruise cw { days 1 w; start 40 % }\n");
}

/* 85 % of C are there, 10 A for 20 h are taken, 20 % stay: C of 308 Ah. Parts of the way are settled whole, down to 344 Ah. */
static void a_size_is_the_least_that_serves_where_parts_are_too_wide(void **state)
{
    (void)state;
    expect_remedy("flat", "`house.capacity` from 308 Ah up",
                  EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; resistance 2 mohm }\n"
                               "load fan { fed-by house; run 1 m; wire 6 mm2; protect 20 A fuse; draw 10 A; use w 02:00..22:00 }\n"
                               "day w { temperature 20 C }\ncruise cw { days 1 w; start 85 % }\n");
}

/* 80 l last 3 days; the bank feeds the lamp for far longer, however large it turns out to be: nobody need decide that for the goal. */
static void a_goal_hangs_only_on_what_may_end_it(void **state)
{
    (void)state;
    Compiled c;
    const Finding *finding = open_finding(&c, "goal-missed", TANK("60..100 l") LAMP_ON("1000..2000 Ah"));
    says(finding, "fresh.capacity", "holds from 80 l up, broken below 80 l");
    assert_null(finding->depends->next);
    compile_free(&c);
}

/* Any bore of a pump-out says how the tank is emptied: no number is told that nobody would think of. */
static void what_any_value_settles_is_said_so(void **state)
{
    (void)state;
    expect("unplumbed", "holding.pump-out", "holds once it is stated",
           EXAMPLE_BOAT "tank holding { holds black; capacity 40 l; vent 38 mm }\n");
}

static void a_tolerance_is_narrowed_as_a_range_is(void **state)
{
    (void)state;
    expect("water-short", "fresh.capacity", "holds from 80 l up, broken below 80 l", TANK("75 l +/- 20 %"));
}

#define LIGHT(masses) FEATHER "goal light { mass 100 kg }\n" masses

static void a_bound_from_above_is_found(void **state)
{
    (void)state;
    expect("goal-missed", "stove.mass", "holds up to 100 kg, broken above 100 kg",
           LIGHT("item stove { mass 80..120 kg }\n"));
    expect("goal-missed", "anchor-chain.count", "holds up to 4, broken from 5 up",
           LIGHT("item anchor-chain { mass 25 kg; count 2..6 }\n"));
}

/* The others stay as undecided as they are: 100 less the most of the other, 30; 100 less its least, 10. */
static void one_input_is_narrowed_at_a_time(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(&c, "goal-missed",
                                    LIGHT("item stove { mass 60..120 kg }\nitem lamp { mass 10..30 kg }\n"));
    says(f, "stove.mass", "holds up to 70 kg, broken from 91 kg up");
    assert_int_equal(settle_of(f, "lamp.mass")->state, SETTLE_NOT_ALONE);
    compile_free(&c);
}

static void several_values_of_one_property_are_told_apart(void **state)
{
    (void)state;
    Compiled c;
    /* 0.5 m x 0.3..0.5 m x 0.35..0.45 m, and 0.16 m2 is asked for: 0.16/0.35 = 0.457, 0.16/0.45 = 0.356. */
    const Finding *f = open_finding(
        &c, "water-short",
        EXAMPLE_BOAT "day anchored { water 12 l per person; flushes 0 per person }\n"
                     "goal quiet { endure 3 d on anchored }\n"
                     "tank fresh { holds fresh; usable 90 %; size 0.5 m by 0.3..0.5 m by 0.35..0.45 m }\n");
    says(f, "fresh.size (0.3..0.5 m)", "holds from 0.458 m up, broken up to 0.355 m");
    assert_int_equal(settle_of(f, "fresh.size (0.35..0.45 m)")->state, SETTLE_NOT_ALONE);
    compile_free(&c);
}

#define FEED(wire)                                                                     \
    EXAMPLE_BOAT                                                                       \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n" \
    "circuit lamps { fed-by house; run 5 m; " wire "; protect 30 A breaker }\n"        \
    "load lamp { fed-by lamps; draw 18 A }\n"

/* 33 CFR 183.425(d): no conductor on its own is thinner than 16 AWG. */
static void conductor_sizes_go_by_their_names(void **state)
{
    (void)state;
    expect("wire-small", "lamps.wire", "holds with 16 AWG, broken with 18 AWG", FEED("wire 18..16 AWG"));
}

static void what_is_not_stated_is_tried_with_every_word(void **state)
{
    (void)state;
    expect("shore-isolation", "shore.isolation", "holds with isolation galvanic or transformer, broken with isolation none",
           EXAMPLE_BOAT "inlet shore { rated 16 A at 230 V }\n");
    expect("bank-held", "house.restrained", "holds with restrained yes, broken with restrained no",
           EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n");
    expect("unpowered", "head.worked-by",
           "holds with worked-by hand or composting, broken with worked-by motor or vacuum",
           EXAMPLE_BOAT "tank holding { holds black; capacity 60 l }\ntoilet head { to holding }\n");
}

/* No number is a limit where a rule asks only that there be one. */
static void what_settles_by_being_stated_has_no_limit(void **state)
{
    (void)state;
    const char *bare = EXAMPLE_BOAT "tank diesel { holds fuel; capacity 100 l; grounded yes; vent 16 mm }\n";
    expect("fuel-tank", "diesel.fill", "holds with more than 0 mm, broken with 0 mm", bare);
    expect("regulator", "dynamo.hot-output", "holds once it is stated",
           EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah }\n"
                        "engine auxiliary { rated 30 hp at 3000 rpm; fuel diesel }\n"
                        "alternator dynamo { engine auxiliary; output 80 A at 14 V; load-dump yes; "
                        "regulator external; feeds house { run 2 m; wire 2 AWG; protect 100 A fuse 0.1 m from source } }\n");
}

/* A draw that nobody knows leaves cable, device and voltage open: the one that leaves it least room tells of all of them. */
static void what_one_hole_causes_is_told_once(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT
                 "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
                 "circuit lamps { fed-by house; run 5 m; wire 14 AWG; protect 15 A fuse 0.1 m from source }\n"
                 "load lamp { fed-by lamps; draw ? }\n");
    assert_null(c.spec->messages.first);
    settle_findings(c.outcome);
    const Finding *teller = NULL;
    unsigned told = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        assert_null(strstr(f->message, "unknown"));
        const Settle *cause = settle_cause(f);
        if (cause != NULL && f->told_with == NULL) {
            assert_null(teller);
            assert_string_equal(cause->input, "lamp.draw");
            teller = f;
        }
        told += f->told_with != NULL;
    }
    assert_non_null(teller);
    assert_true(told >= FOLD_LEAST - 1);
    assert_int_equal(teller->tells, told);
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        if (f->told_with != NULL) {
            assert_ptr_equal(f->told_with, teller);
            assert_true(settle_cause(f)->ranges[0].holds);
            assert_true(settle_cause(teller)->ranges[0].value.high <= settle_cause(f)->ranges[0].value.high);
        }
    }
    compile_free(&c);
}

static void a_value_in_a_propertys_own_block_is_found(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(
        &c, "charge-drop",
        EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
                     "engine main-engine { rated 21 kW at 2800 rpm; fuel diesel }\n"
                     "alternator belt-maker { engine main-engine; output 50 A at 14 V; "
                     "feeds house { run 1..30 m; wire 16 mm2; protect 80 A fuse 0.1 m from source } }\n");
    const Settle *settle = settle_of(f, "belt-maker.feeds.run");
    assert_int_equal(settle->state, SETTLE_FOUND);
    assert_int_equal(settle->range_count, 2);
    compile_free(&c);
}

/* Each of the two is narrowed by itself, though one part states both: 100 less the least of the other, 45. */
static void a_value_of_a_part_is_narrowed_for_one_thing_alone(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f =
        open_finding(&c, "goal-missed",
                     LIGHT("part cell for item { mass 45..56 kg }\nitem one is cell\nitem other is cell\n"));
    says(f, "one.mass", "broken from 55.1 kg up");
    says(f, "other.mass", "broken from 55.1 kg up");
    compile_free(&c);
}

/* Choices */

#define STOVES                                        \
    "choice cooking {\n"                              \
    "  option gas { item stove { mass 60 kg } }\n"    \
    "  option spirit { item stove { mass 90 kg } }\n" \
    "  option iron { item stove { mass 130 kg } }\n"  \
    "}\n"

static void options_settle_what_depends_on_them_alone(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(&c, "goal-missed", LIGHT(STOVES));
    says(f, "cooking", "holds with cooking=gas or spirit, broken with cooking=iron");
    assert_string_equal(f->only_with, "cooking=iron");
    compile_free(&c);
}

/*
 * 4 A for 12 h are 48 Ah of the half of 80..120 Ah: open with a box; a refrigerator of 2 A for 24 h brings a battery of 160..200
 * Ah, and 96 Ah are more than the half of 160: open too, but told of another line. No option makes it hold.
 */
static void an_option_that_moves_a_finding_does_not_settle_it(void **state)
{
    (void)state;
    Compiled c;
    unsigned words = 0;
    const Finding *f = open_finding(
        &c, "flat",
        EXAMPLE_BOAT "day anchored { }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 80..120 Ah; peukert 1; usable 50 % }\n"
                     "load lamp { fed-by house; run 1 m; draw 4 A; use anchored 12 h }\n"
                     "choice cold {\n  option box { }\n"
                     "  option fridge {\n    load fridge { fed-by house; run 1 m; draw 2 A; use anchored 24 h }\n"
                     "    set house.capacity 160..200 Ah\n  }\n}\n");
    for (; f != NULL; f = f->next) {
        for (const Settle *s = f->settles; s != NULL && strcmp(f->rule->name, "flat") == 0; s = s->next) {
            for (const SettleWord *w = s->words; w != NULL; w = w->next) {
                words += w->told == TOLD_HOLDS || w->told == TOLD_BROKEN;
            }
        }
    }
    assert_int_equal(words, 0);
    compile_free(&c);
}

/* 5600 l/h are more than the 15 l/min that are asked: to say that the pump is automatic is all that lacks. */
static void a_word_is_tried_with_every_figure_that_looks_at_it(void **state)
{
    (void)state;
    expect("bilge-capacity", "electric.automatic", "holds with automatic yes, broken with automatic no",
           EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                        "bilge-pump by-hand { hand yes; rated 4000 l/h }\n"
                        "bilge-pump electric { fed-by house; run 1 m; draw 4 A; rated 5600 l/h }\n");
}

/*
 * The wire is left out: without bound to the run none is chosen but the least, which loses too much from a few metres on; for
 * any run that is decided a thicker one is. So no length breaks it that a cable is made for.
 */
static void a_size_that_is_chosen_anew_for_each_value_breaks_nothing(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(&c, "wire-drop",
                                    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                                                 "load radio { fed-by house; run ?; protect 10 A breaker; draw 4 A }\n");
    const Settle *settle = settle_of(f, "radio.run");
    for (uint32_t i = 0; i < settle->range_count; i++) {
        assert_true(settle->ranges[i].holds || settle->ranges[i].value.low > 100.0);
    }
    compile_free(&c);
}

/* 130 kg of iron are too much whatever the lamp weighs; spirit allows 10 kg of lamp. */
static void a_range_settles_nothing_that_an_option_breaks(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(&c, "goal-missed", LIGHT(STOVES "item lamp { mass 5..20 kg }\n"));
    says(f, "cooking", "holds with cooking=gas, broken with cooking=iron, open with cooking=spirit");
    compile_free(&c);
}

/* In each option that has the finding: spirit and coal leave 10 kg and 5 kg. */
static void a_range_settles_for_every_option(void **state)
{
    (void)state;
    expect("goal-missed", "lamp.mass", "holds up to 5 kg",
           LIGHT("choice cooking {\n"
                 "  option gas { item stove { mass 60 kg } }\n"
                 "  option spirit { item stove { mass 90 kg } }\n"
                 "  option coal { item stove { mass 95 kg } }\n"
                 "}\nitem lamp { mass 0..20 kg }\n"));
}

/* What waits for a mistake to be mended does not hold. */
static void an_option_with_a_mistake_settles_nothing(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, LIGHT("choice cooking {\n"
                           "  option gas { item stove { mass 60 kg } }\n"
                           "  option iron { item stove { mass 130 kg } }\n"
                           "  option odd { item stove { mass 60 hours } }\n"
                           "}\n"));
    assert_int_equal(c.spec->messages.count, 1);
    settle_findings(c.outcome);
    says(compiled_finding(&c, "goal-missed"), "cooking", "holds with cooking=gas, broken with cooking=iron");
    compile_free(&c);
}

#define COOKING                                                                                        \
    "gas-locker box { cylinder 5 kg; drained-overboard yes }\n"                                        \
    "gas-appliance stove { locker box; flame-failure yes; space galley }\n"                            \
    "alarm nose { detects gas, smoke; portable yes; space galley }\n"

/* Where nobody sleeps, an alarm for carbon monoxide is only advised: `broken with yes or no` would be no reason to wait. */
static void a_word_that_makes_it_less_grave_is_said_so(void **state)
{
    (void)state;
    expect("alarm-missing", "galley.sleeping", "broken with sleeping yes, only advice with sleeping no",
           EXAMPLE_BOAT "space galley { volume 4 m3 }\n" COOKING);
}

/* The fault of one option is not hidden behind the advice of another, in whichever order they stand. */
static void options_may_differ_in_how_grave_it_is(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(&c, "alarm-missing",
                                    EXAMPLE_BOAT COOKING "choice bunk {\n"
                                                             "  option none { space galley { sleeping no } }\n"
                                                             "  option berth { space galley { sleeping yes } }\n}\n");
    assert_int_equal(f->severity, SEVERITY_FAULT);
    says(f, "bunk", "broken with bunk=berth, only advice with bunk=none");
    assert_int_equal(c.outcome->advice + c.outcome->faults, 0);
    compile_free(&c);
}

/* An option without any alarm settles nothing: it is open there, for one may only not be written yet. */
static void an_option_that_leaves_it_open_is_named(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(&c, "alarm-missing",
                                    EXAMPLE_BOAT "space cabin { sleeping yes }\nchoice cook {\n"
                                                     "  option gas { alarm nose { detects gas; portable yes; space cabin } }\n"
                                                     "  option spirit { item stove { mass 9 kg } }\n}\n");
    says(f, "cook", "broken with cook=gas, open with cook=spirit");
    assert_int_equal(settle_of(f, "alarm")->state, SETTLE_NO_VALUE);
    compile_free(&c);
}

/* 60 kg and 100 kg are too much together; either of the others leaves less than 150 kg. */
static void what_two_choices_bring_together_is_settled_by_either(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f =
        open_finding(&c, "goal-missed",
                     FEATHER "goal light { mass 150 kg }\n"
                                  "choice heat {\n  option stove { item heater { mass 60 kg } }\n"
                                  "  option none { item blanket { mass 5 kg } }\n}\n"
                                  "choice water {\n  option big { item tank-a { mass 100 kg } }\n"
                                  "  option small { item tank-b { mass 40 kg } }\n}\n");
    says(f, "heat", "holds with heat=none");
    says(f, "water", "holds with water=small");
    assert_string_equal(f->only_with, "heat=stove and water=big");
    compile_free(&c);
}

/* Three of four are too heavy, 151 kg, 160 kg and 231 kg; only no heater and the small tank together are not. */
static void combinations_that_no_option_tells_apart_hang_on_every_choice(void **state)
{
    (void)state;
    Compiled c;
    const Finding *f = open_finding(
        &c, "goal-missed",
        FEATHER "goal light { mass 150 kg }\n"
                     "choice heat {\n  option stove { item heater { mass 131 kg } }\n"
                     "  option none { item blanket { mass 51 kg } }\n}\n"
                     "choice water {\n  option big { item tank-a { mass 100 kg } }\n"
                     "  option small { item tank-b { mass 29 kg } }\n}\n");
    says(f, "heat", "broken with heat=stove");
    says(f, "water", "broken with water=big");
    assert_string_equal(f->only_with, "heat=stove, or heat=none and water=big");
    assert_int_equal(f->combinations, 3);
    compile_free(&c);
}

static void trying_leaves_everything_as_it_was(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, TANK("60..100 l"));
    const Figure *before = compiled_figure(&c, "fresh", FIGURE_VOLUME);
    settle_findings(c.outcome);
    const Case *first = outcome_first(c.outcome);
    const Figures *again = figures_compute(&c.arena, first->model, c.outcome->basis, c.outcome->today);
    const Figure *after = figure_find(again, before->subject, FIGURE_VOLUME, NULL);
    assert_near(after->low, 0.060, 1e-15);
    assert_near(after->high, 0.100, 1e-15);
    compile_free(&c);
}

/* 3,000 things: a hundred thousand is reached after 33 trials. */
static void work_has_a_bound_and_the_finding_says_so(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf text;
    buf_init(&text, &arena);
    buf_text(&text, EXAMPLE_BOAT);
    for (int i = 0; i < 6; i++) {
        buf_format(&text, "goal light-%d { mass %d kg }\n", i, 9000 + i);
    }
    for (int i = 0; i < 3000; i++) {
        buf_format(&text, "item thing-%d { mass 2..4 kg }\n", i);
    }
    Compiled c;
    compile_text(&c, text.text);
    settle_findings(c.outcome);
    unsigned not_alone = 0;
    unsigned not_tried = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        for (const Settle *s = f->settles; s != NULL; s = s->next) {
            not_alone += s->state == SETTLE_NOT_ALONE;
            not_tried += s->state == SETTLE_NOT_TRIED;
        }
    }
    assert_true(not_alone > 5);
    assert_true(not_tried > 5);
    assert_int_equal(not_alone + not_tried, 48); /* six goals, eight inputs each */
    compile_free(&c);
    arena_free(&arena);
}

/*
 * 0.1 kg moves the trim by a six-thousandth of what 600 kg do at as long an arm: it cannot matter, and if it is stated before,
 * must not hide what does. 200 kg turn her a third as much.
 */
static void what_weighs_most_is_named_first_and_a_feather_is_not(void **state)
{
    (void)state;
    static const char *const only[] = {"heavy.at", "middling.at"};
    Compiled c;
    Arena arena = check_arena();
    Buf text;
    buf_init(&text, &arena);
    buf_text(&text, "edition 1\nboat wren { length 9.5 m; waterline 8 m; beam 3.1 m; displacement 1000 kg; crew 2; currency EUR; basis us }\n");
    for (int i = 0; i < 10; i++) {
        buf_format(&text, "item feather-%d { mass 0.1 kg; at 1..7 m 0 m 0 m }\n", i);
    }
    buf_text(&text, "item middling { mass 200 kg; at 1..7 m 0 m 0 m }\nitem heavy { mass 600 kg; at 1..7 m 0 m 0 m }\n"
                    "item last { mass 20 g; at 1..7 m 0 m 0 m }\n");
    const Finding *trim = open_finding(&c, "trim", text.text);
    const Settle *settle = trim->settles;
    const Depend *depend = trim->depends;
    for (size_t i = 0; i < sizeof only / sizeof only[0]; i++, settle = settle->next, depend = depend->next) {
        assert_non_null(settle);
        assert_non_null(depend);
        assert_string_equal(settle->input, only[i]);
        assert_string_equal(depend->text, only[i]);
    }
    assert_null(settle);
    assert_null(depend);
    compile_free(&c);
    arena_free(&arena);
}

/* Runs f on every rule that has an open example. */
#define EACH_OPEN(rule)                                                          \
    for (size_t f_ = 0; f_ < rule_family_count; f_++)                            \
        for (const Rule *rule = rule_families[f_]->rules;                        \
             rule < rule_families[f_]->rules + rule_families[f_]->count; rule++) \
            if (rule->open != NULL)

static void every_open_example_says_what_settles_it(void **state)
{
    (void)state;
    unsigned settled = 0;
    EACH_OPEN(rule)
    {
        Compiled c;
        const Finding *finding = open_finding(&c, rule->name, rule->open);
        assert_non_null(finding->settles);
        for (const Settle *s = finding->settles; s != NULL; s = s->next) {
            assert_int_not_equal(s->state, SETTLE_NOT_TRIED);
            assert_int_equal(s->state == SETTLE_FOUND, s->text[0] != 0);
            settled += s->state == SETTLE_FOUND;
        }
        compile_free(&c);
    }
    assert_true(settled > 40);
}

/* Trying */

static void expect_same_figures(const Figures *again, const Figures *anew, const char *changed)
{
    const Model *model = anew->model;
    for (uint32_t e = 0; e < model->entity_count; e++) {
        for (const Figure *f = anew->lists[e].first; f != NULL; f = f->next) {
            const Figure *same = figure_find_at(again, f->subject, (FigureId)f->id, figure_at_name(model, f));
            assert_non_null(same);
            assert_int_equal(same->state, f->state);
            if (f->state == STATE_KNOWN && (same->low != f->low || same->high != f->high)) {
                fail_msg("with another `%s`, `%s` of `%.*s` is %g..%g, and was taken for %g..%g", changed,
                         figure_rows[f->id].name, STR_ARG(entity_name(model, f->subject)), f->low, f->high,
                         same->low, same->high);
            }
        }
    }
}

/* One value of a model, set to a part of what it may be: both ways of computing what follows. */
static unsigned try_value(Compiled *c, Entity *entity, const Property *property, unsigned slot)
{
    const Case *first = outcome_first(c->outcome);
    const Value *value = property_value(property, slot);
    Trial trial;
    if (value->kind != VALUE_QUANTITY ||
        !trial_begin(&trial, &c->arena, entity, (PropId)property->id, NULL, property->node, slot)) {
        return 0;
    }
    double low = value->u.quantity.low;
    trial_set_range(&trial, low, low + fabs(low) / 4.0);
    Figures *again = figures_again(&c->arena, first->figures, (PropId)property->id, false);
    expect_same_figures(again, figures_compute(&c->arena, first->model, c->outcome->basis, c->outcome->today),
                        props[property->id].word);
    trial_end(&trial);
    return 1;
}

static unsigned try_block(Compiled *c, Entity *entity, const Block *block)
{
    unsigned tried = 0;
    for (uint32_t p = 0; p < block->count; p++) {
        const Property *property = &block->properties[p];
        for (unsigned slot = 0; slot < property->count; slot++) {
            const Value *value = property_value(property, slot);
            tried += value->kind == VALUE_BLOCK ? try_block(c, entity, value->u.block)
                                                : try_value(c, entity, property, slot);
        }
    }
    return tried;
}

/* All that can change is computed again: the same as computing everything anew, for every value of every open example. */
static void trying_computes_all_that_can_change(void **state)
{
    (void)state;
    unsigned tried = 0;
    EACH_OPEN(rule)
    {
        Compiled c;
        compile_text(&c, rule->open);
        const Model *model = outcome_first(c.outcome)->model;
        for (uint32_t e = 0; e < model->entity_count; e++) {
            tried += try_block(&c, model->entities[e], &model->entities[e]->block);
        }
        compile_free(&c);
    }
    assert_true(tried > 500);
}

static void an_arena_within_another_is_handed_out_again(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Arena within;
    arena_init_within(&within, &arena, 0);
    arena_rewind(&within);
    char *first = arena_alloc(&within, 100);
    memset(first, 'x', 100);
    arena_rewind(&within);
    char *again = arena_alloc(&within, 100);
    assert_ptr_equal(first, again);
    assert_int_equal(again[99], 0);
    char *beside = arena_alloc(&arena, 100);
    memset(arena_alloc(&within, 40000), 'x', 40000); /* more than the block: the next one is larger */
    assert_int_equal(beside[0], 0);
    assert_int_equal(*(char *)arena_alloc(&arena, 1), 0);
    arena_rewind(&within);
    arena_alloc(&within, (size_t)100 * 1024);
    arena_rewind(&within);
    assert_int_equal(*(char *)arena_alloc(&within, 1), 0);
    arena_free(&arena);
}

/* Seven choices of two are 128 combinations: not all are judged, and what settles it says so. */
static void what_settles_a_sample_is_told_of_that(void **state)
{
    (void)state;
    Compiled c;
    char text[4096];
    int at = snprintf(text, sizeof text, "%sgoal purse { budget 500 EUR }\n", EXAMPLE_BOAT);
    for (int i = 0; i < 7; i++) {
        at += snprintf(text + at, sizeof text - (size_t)at,
                       "choice c%d {\noption a { item i%d { price %d EUR } }\noption b { item i%d { price 2 EUR } }\n}\n", i, i,
                       i == 0 ? 1000 : 1, i);
    }
    compile_text(&c, text);
    settle_findings(c.outcome);
    const Finding *over = compiled_finding(&c, "over-budget");
    assert_non_null(over);
    assert_non_null(over->settles);
    assert_string_equal(over->settles->text, "holds with c0=b, broken with c0=a (in the combinations that were judged)");
    compile_free(&c);
}

/* 11.6 A through five hours of three days take 174 Ah, 60 % of 290 Ah: what is met exactly hangs on the last digit. */
static void the_number_that_is_told_does_itself(void **state)
{
    static const char three_days[] = EXAMPLE_BOAT
        "day anchored { }\ngoal quiet { endure 3 d on anchored }\n"
        "bank house { chemistry agm; voltage 12 V; capacity %s Ah; usable 60 %% }\n"
        "circuit lamps { fed-by house; run 1 m; wire 6 mm2 }\n"
        "load lamp { fed-by lamps; draw 11.6 A; use anchored 5 h }\n";
    (void)state;
    Compiled c, told;
    char text[1024], from[16];
    snprintf(text, sizeof text, three_days, "200..350");
    const Settle *settle = settle_of(open_finding(&c, "goal-missed", text), "house.capacity");
    assert_int_equal(sscanf(settle->text, "holds from %15s Ah up", from), 1);
    snprintf(text, sizeof text, three_days, from);
    compile_text(&told, text);
    assert_null(compiled_finding(&told, "goal-missed"));
    compile_free(&told);
    compile_free(&c);
}

/* Of whole numbers each is asked: one panel's energy finds its takers, the half of two does not, though 2..6 at once is too wide to tell. */
static void whole_numbers_meet_where_one_ends_and_the_next_begins(void **state)
{
    (void)state;
    expect("wasted-sun", "roof.count", "holds at 1, broken from 2 up",
           EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; disconnect yes }\nday anchored { sun 8 h }\n"
                        "solar roof { count 1..6; rated 50 W; feeds house { run 2 m; wire 10 AWG; protect 20 A fuse 0.1 m from source } }\n"
                        "load fridge { fed-by house; run 1 m; wire 12 AWG; protect 15 A breaker; draw 4 A; use anchored 20 % }\n");
}

/* Under water another, graver finding of the rule speaks, and the lesser one is gone: that is no height at which it holds. */
static void what_a_graver_finding_hides_does_not_hold(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat gull { length 9.6 m; waterline 8.4 m; beam 3 m; displacement 4800 kg; crew 2; currency EUR; basis iso; sails yes }\n"
                     "through-hull flue { bore 24 mm; height -0.2..1.4 m; serves hh; material stainless }\n"
                     "heater hh { output 2 kW; fuel diesel; fuel-rate 0.25 l/h; room-sealed yes; portable yes }\n"
                     "bilge-pump b2 { hand yes; rated 20..40 l/min }\nbilge-pump b3 { hand yes; rated 40 l/min; portable yes }\n");
    settle_findings(c.outcome);
    unsigned asked = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool outlet = strcmp(f->rule->name, "burner-outlet") == 0 && f->severity == SEVERITY_WARNING;
        bool second = strcmp(f->rule->name, "bilge-capacity") == 0 && strstr(f->message, "second") != NULL;
        if (outlet || second) {
            says(f, outlet ? "flue.height" : "b2.rated", outlet ? "holds from 0.87 m up" : "holds from 30 l/min up");
            asked++;
        }
    }
    assert_int_equal(asked, 2);
    compile_free(&c);
}

/* That it is of plastic is another finding of the same rule, and broken either way: a seacock settles this one. */
static void what_is_broken_besides_is_another_matter(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, EXAMPLE_BOAT "through-hull go { bore 38 mm; height 0.01 m; material plastic; backing yes; clamps 2 }\n");
    settle_findings(c.outcome);
    const Finding *f = c.outcome->findings;
    while (f != NULL && !(strcmp(f->rule->name, "seacock") == 0 && f->verdict == VERDICT_OPEN)) {
        f = f->next;
    }
    assert_non_null(f);
    says(f, "go.seacock", "holds with seacock yes, broken with seacock no");
    compile_free(&c);
}

#define PACKS(COUNT, DRAW) \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n" \
    "day out { sun 0 h }\nbank house { chemistry agm; voltage 12 V; capacity 100 Ah; parallel " COUNT "; peukert 1 }\n" \
    "load lamp { fed-by house; run 1 m; draw " DRAW "; use out 10 h }\n"

/*
 * 20 A for 10 h are 200 Ah: of one battery and of two all, of four half, which is what may be used of lead. A number of one or two
 * is broken with either, so nothing is open; of three to five some hold.
 */
static void few_whole_numbers_that_all_break_it_leave_nothing_open(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, PACKS("1..2", "20 A"));
    settle_findings(c.outcome);
    const Finding *f = compiled_finding(&c, "flat");
    assert_true(f != NULL && f->verdict == VERDICT_BROKEN);
    assert_non_null(strstr(f->message, "falls to 0 %"));
    assert_non_null(strstr(f->message, "(with `parallel` 2; broken with each number from 1 on)"));
    assert_null(f->depends);
    compile_free(&c);
    assert_non_null(open_finding(&c, "flat", PACKS("3..5", "20 A"))->settles);
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_nobody_can_state_is_not_said),
        cmocka_unit_test(what_holds_in_all_parts_of_a_range_is_no_finding),
        cmocka_unit_test(a_bound_from_below_is_found),
        cmocka_unit_test(what_an_assumption_would_mend_is_named_and_nothing_else),
        cmocka_unit_test(of_what_no_assumption_mends_nothing_is_said),
        cmocka_unit_test(what_one_cable_assumes_is_not_told_again),
        cmocka_unit_test(bounds_and_holes_are_searched_at_round_numbers),
        cmocka_unit_test(a_broken_goal_tells_the_single_change_that_meets_it),
        cmocka_unit_test(what_is_short_at_once_is_told_in_numbers),
        cmocka_unit_test(what_brings_another_finding_of_the_same_does_not_hold),
        cmocka_unit_test(what_would_do_is_not_told_twice_as_large),
        cmocka_unit_test(what_any_value_settles_is_said_so),
        cmocka_unit_test(a_tolerance_is_narrowed_as_a_range_is),
        cmocka_unit_test(a_bound_from_above_is_found),
        cmocka_unit_test(one_input_is_narrowed_at_a_time),
        cmocka_unit_test(several_values_of_one_property_are_told_apart),
        cmocka_unit_test(conductor_sizes_go_by_their_names),
        cmocka_unit_test(what_is_not_stated_is_tried_with_every_word),
        cmocka_unit_test(what_settles_by_being_stated_has_no_limit),
        cmocka_unit_test(what_one_hole_causes_is_told_once),
        cmocka_unit_test(a_value_in_a_propertys_own_block_is_found),
        cmocka_unit_test(a_value_of_a_part_is_narrowed_for_one_thing_alone),
        cmocka_unit_test(options_settle_what_depends_on_them_alone),
        cmocka_unit_test(an_option_that_moves_a_finding_does_not_settle_it),
        cmocka_unit_test(a_word_is_tried_with_every_figure_that_looks_at_it),
        cmocka_unit_test(a_size_that_is_chosen_anew_for_each_value_breaks_nothing),
        cmocka_unit_test(a_range_settles_nothing_that_an_option_breaks),
        cmocka_unit_test(a_range_settles_for_every_option),
        cmocka_unit_test(an_option_with_a_mistake_settles_nothing),
        cmocka_unit_test(a_word_that_makes_it_less_grave_is_said_so),
        cmocka_unit_test(options_may_differ_in_how_grave_it_is),
        cmocka_unit_test(an_option_that_leaves_it_open_is_named),
        cmocka_unit_test(what_two_choices_bring_together_is_settled_by_either),
        cmocka_unit_test(combinations_that_no_option_tells_apart_hang_on_every_choice),
        cmocka_unit_test(a_goal_hangs_only_on_what_may_end_it),
        cmocka_unit_test(trying_leaves_everything_as_it_was),
        cmocka_unit_test(work_has_a_bound_and_the_finding_says_so),
        cmocka_unit_test(what_weighs_most_is_named_first_and_a_feather_is_not),
        cmocka_unit_test(every_open_example_says_what_settles_it),
        cmocka_unit_test(trying_computes_all_that_can_change),
        cmocka_unit_test(an_arena_within_another_is_handed_out_again),
        cmocka_unit_test(what_settles_a_sample_is_told_of_that),
        cmocka_unit_test(what_is_paid_at_an_open_rate_hangs_on_the_rate),
        cmocka_unit_test(what_is_broken_in_every_part_is_told_once),
        cmocka_unit_test(a_size_is_sought_value_by_value_where_all_at_once_is_too_wide),
        cmocka_unit_test(a_size_is_the_least_that_serves_where_parts_are_too_wide),
        cmocka_unit_test(the_number_that_is_told_does_itself),
        cmocka_unit_test(what_a_graver_finding_hides_does_not_hold),
        cmocka_unit_test(what_is_broken_besides_is_another_matter),
        cmocka_unit_test(whole_numbers_meet_where_one_ends_and_the_next_begins),
        cmocka_unit_test(few_whole_numbers_that_all_break_it_leave_nothing_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
