/*
 * Figures of water, waste, fuel, gas and the bilge, on small specs: what tanks hold, how long they last, how
 * high the water comes when she heels, what pumps move. The source of each expected number stands beside it.
 */
#include "check.h"
#include "compile.h"

#include <stdio.h>

#define BOAT                                                                                              \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "us; sails no }\n"
#define SAILING_BOAT                                                                                         \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"
#define LITRE 1e-3
#define GALLON 0.003785411784 /* 231 cubic inches: NIST SP 811 */
#define DAY 86400.0
#define LITRE_A_MINUTE (1e-3 / 60.0)
#define LITRE_AN_HOUR (1e-3 / 3600.0)

/* Compiles a spec in which there is no mistake. */
static void compile_right(Compiled *compiled, const char *text)
{
    compile_text(compiled, text);
    if (compiled->spec->messages.first != NULL) {
        fail_msg("the spec has a mistake: %s", compiled->spec->messages.first->text);
    }
}

static const Figure *figure_on(const Compiled *compiled, const char *subject, FigureId id, const char *day)
{
    const Figure *figure = compiled_figure_at(compiled, subject, id, day);
    if (figure == NULL) {
        fail_msg("%s has no %s", subject, figure_rows[id].name);
    }
    return figure;
}

static void expect_figure_range(const Compiled *compiled, const char *subject, FigureId id, const char *day,
                                double low, double high, double tolerance)
{
    const Figure *figure = figure_on(compiled, subject, id, day);
    assert_int_equal(figure->state, STATE_KNOWN);
    assert_near(figure->low, low, tolerance);
    assert_near(figure->high, high, tolerance);
}

static void expect_figure(const Compiled *compiled, const char *subject, FigureId id, const char *day,
                          double value, double tolerance)
{
    expect_figure_range(compiled, subject, id, day, value, value, tolerance);
}

/* ---- Tanks ---- */

/* A litre is a cubic decimetre; 2 m x 0.5 m x 0.4 m are 0.4 m3: arithmetic. */
static void a_tank_holds_what_it_says_or_what_its_box_holds(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "tank said { holds fresh; capacity 120 l }\n"
                           "tank box { holds fresh; size 2 m by 0.5 m by 0.4 m }\n"
                           "tank pair { holds grey; capacity 30..40 gal; count 2 }\n");
    expect_figure(&c, "said", FIGURE_VOLUME, NULL, 120 * LITRE, 1e-12);
    expect_figure(&c, "box", FIGURE_VOLUME, NULL, 0.4, 1e-12);
    expect_figure_range(&c, "pair", FIGURE_VOLUME, NULL, 60 * GALLON, 80 * GALLON, 1e-12);
    assert_string_equal(
        figure_text(outcome_first(c.outcome)->figures, figure_on(&c, "pair", FIGURE_VOLUME, NULL)),
        "60..80 gal");
    compile_free(&c);
}

static void a_tank_without_a_size_has_no_volume(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "day quiet { water 10 l per person }\ntank bow { holds fresh }\n");
    assert_int_equal(figure_on(&c, "bow", FIGURE_VOLUME, NULL)->state, STATE_MISSING);
    assert_int_equal(figure_on(&c, "bow", FIGURE_ENDURANCE, "quiet")->state, STATE_MISSING);
    assert_int_equal(figure_on(&c, "bow", FIGURE_DAILY_FLOW, "quiet")->state, STATE_KNOWN);
    compile_free(&c);
}

static void a_mistake_in_a_tank_makes_its_figures_wait(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "day quiet { water 10 l per person }\ntank bow { holds fresh; capacity 100 kg }\n");
    assert_int_equal(c.spec->messages.count, 1);
    assert_int_equal(figure_on(&c, "bow", FIGURE_ENDURANCE, "quiet")->state, STATE_WAITING);
    compile_free(&c);
}

/* Fresh water 1000 kg/m3; diesel 840 (EN 590 allows 820 to 845) and petrol 745, from memory. */
static void contents_weigh_volume_times_density(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT
                  "tank water { holds fresh; capacity 200 l }\ntank diesel { holds fuel; capacity 100 l }\n");
    expect_figure(&c, "water", FIGURE_FULL_MASS, NULL, 200.0, 1e-9);
    expect_figure(&c, "diesel", FIGURE_FULL_MASS, NULL, 84.0, 1e-9);
    compile_free(&c);
    compile_right(&c, BOAT "engine outboard { rated 10 kW at 5000 rpm; fuel petrol }\ntank can { holds fuel; "
                           "capacity 100 l }\n");
    expect_figure(&c, "can", FIGURE_FULL_MASS, NULL, 74.5, 1e-9);
    compile_free(&c);
}

/* ---- Days ---- */

/* 14 l for each person: Boat Mechanical Systems Handbook, average measured with pressure water and care. */
static void a_day_that_does_not_say_takes_fourteen_litres_a_person(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "day silent { sun 4 h }\nday said { water 20 l per person }\ntank bow { holds "
                           "fresh; capacity 140 l; usable 100 % }\n");
    expect_figure(&c, "bow", FIGURE_DAILY_FLOW, "silent", 28 * LITRE, 1e-12);
    expect_figure(&c, "bow", FIGURE_ENDURANCE, "silent", 5 * DAY, 1e-6);
    expect_figure(&c, "bow", FIGURE_DAILY_FLOW, "said", 40 * LITRE, 1e-12);
    compile_free(&c);
}

/*
 * Arithmetic: 2 x (10 + 4 x 1.5 + 0.5 x 21) l; that a shower takes 21 l is three minutes at 7 l/min, common
 * practice.
 */
static void flushes_and_showers_come_from_the_fresh_water(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT
                  "day quiet { water 10 l per person; flushes 4 per person; showers 0.5 per person }\n"
                  "tank bow { holds fresh; capacity 100 l }\ntank holding { holds black; capacity 100 l }\n"
                  "toilet heads { worked-by motor; flush 1.5 l; flushes-with fresh; to holding }\n");
    expect_figure(&c, "bow", FIGURE_DAILY_FLOW, "quiet", 53 * LITRE, 1e-12);
    /* 2 x 4 x 1.5 l, and 0.8 to 2 l a person of their own */
    expect_figure_range(&c, "holding", FIGURE_DAILY_FLOW, "quiet", 13.6 * LITRE, 16 * LITRE, 1e-12);
    compile_free(&c);
}

/* Common practice, no source: 3 l by a hand pump, 2.5 by a motor, 1 with vacuum. */
static void a_flush_goes_by_what_works_the_toilet(void **state)
{
    static const struct {
        const char *says;
        double litres;
    } flushed[] = {{"worked-by hand; ", 3.0}, {"worked-by motor; ", 2.5}, {"worked-by vacuum; ", 1.0}, {"", 3.0},
                   {"worked-by vacuum; flush 1.4 l; ", 1.4}};
    (void)state;
    for (size_t i = 0; i < sizeof flushed / sizeof flushed[0]; i++) {
        Compiled c;
        char spec[800];
        snprintf(spec, sizeof spec,
                 BOAT "day quiet { flushes 5 per person }\ntank holding { holds black; capacity 100 l }\n"
                      "toilet head { %sflushes-with sea; to holding }\n",
                 flushed[i].says);
        compile_right(&c, spec);
        const Entity *head = model_find(outcome_first(c.outcome)->model, str_from("head"));
        const Property *taken = model_property(outcome_first(c.outcome)->model, head, PROP_TOILET_FLUSH);
        assert_near(property_value(taken, 0)->u.quantity.high, flushed[i].litres / 1000.0, 1e-12);
        const Figure *flow = figure_on(&c, "holding", FIGURE_DAILY_FLOW, "quiet");
        assert_near(flow->high / LITRE, (5.0 * flushed[i].litres + 2.0) * 2.0, 1e-9); /* and 0.8 to 2 l of their own */
        compile_free(&c);
    }
}

static void toilets_are_used_alike_and_a_dry_one_is_not_flushed(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c,
                  BOAT "day quiet { flushes 5 per person }\ntank holding { holds black; capacity 100 l }\n"
                       "through-hull overboard { bore 38 mm }\n"
                       "toilet fore { worked-by hand; flush 3 l; flushes-with sea; to holding }\n"
                       "toilet aft { worked-by hand; flush 3 l; flushes-with sea; to overboard }\n");
    /* half of 2 x 5 x 3 l and of 2 x 0.8 to 2 l */
    expect_figure_range(&c, "holding", FIGURE_DAILY_FLOW, "quiet", 15.8 * LITRE, 17 * LITRE, 1e-12);
    compile_free(&c);
    compile_right(&c,
                  BOAT "day quiet { flushes 5 per person }\ntank holding { holds black; capacity 100 l }\n"
                       "toilet dry { worked-by composting }\n");
    assert_null(compiled_figure_at(&c, "holding", FIGURE_DAILY_FLOW, "quiet"));
    compile_free(&c);
}

/*
 * Two heads, each with a tank of its own, by hand for a crew of 2: 15 l of flushes and 0.8 to 2 l of their own go into each a
 * day; 30 l of 40 l are used, so that the small one is full after 30 / 17 to 30 / 15.8 days. Hoses from the one to
 * either tank, or a pump from tank to tank, make it one room.
 */
static void toilets_with_tanks_of_their_own_fill_these(void **state)
{
    (void)state;
#define TWO_HEADS(MORE)                                                                                                   \
    BOAT "day quiet { flushes 5 per person }\ntank large { holds black; capacity 100 l }\ntank small { holds black; capacity 40 l }\n" \
         "toilet fore { worked-by hand; flush 3 l; flushes-with sea; to large }\n"                                          \
         "toilet aft { worked-by hand; flush 3 l; flushes-with sea; to small }\n" MORE
    Compiled c;
    compile_right(&c, TWO_HEADS(""));
    expect_figure_range(&c, "small", FIGURE_DAILY_FLOW, "quiet", 15.8 * LITRE, 17 * LITRE, 1e-12);
    expect_figure_range(&c, "small", FIGURE_ENDURANCE, "quiet", 86400 * 30 / 17.0, 86400 * 30 / 15.8, 1e-6);
    expect_figure_range(&c, "large", FIGURE_ENDURANCE, "quiet", 86400 * 75 / 17.0, 86400 * 75 / 15.8, 1e-6);
    assert_near(compiled_figure_at(&c, "wren", FIGURE_ENDURANCE, "quiet")->low, 86400 * 30 / 17.0, 1e-6);
    compile_free(&c);
    static const char *const joined[] = {
        TWO_HEADS("hose h-1 { from aft; to small; bore 38 mm; run 1 m }\nhose h-2 { from aft; to large; bore 38 mm; run 1 m }\n"
                  "hose h-3 { from fore; to large; bore 38 mm; run 1 m }\n"),
        TWO_HEADS("pump over { from small; to large }\n")};
    for (int i = 0; i < 2; i++) {
        compile_right(&c, joined[i]);
        expect_figure_range(&c, "small", FIGURE_ENDURANCE, "quiet", 86400 * 105 / 34.0, 86400 * 105 / 31.6, 1e-6);
        assert_string_equal(compiled_figure_at(&c, "small", FIGURE_DAILY_FLOW, "quiet")->remark, "all tanks that hold black share it");
        compile_free(&c);
    }
}

/* Nothing runs from a toilet into a can in a locker. */
static void a_holding_can_to_which_nothing_leads_is_no_room(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "day quiet { flushes 5 per person }\ntank small { holds black; capacity 40 l }\n"
                           "tank can { holds black; capacity 40 l; portable yes }\n"
                           "toilet aft { worked-by hand; flush 3 l; flushes-with sea; to small }\n");
    expect_figure_range(&c, "small", FIGURE_ENDURANCE, "quiet", 86400 * 30 / 34.0, 86400 * 30 / 31.6, 1e-6);
    compile_free(&c);
}

/* Medical references (second hand): a grown person brings 0.8 to 2 l a day; a crew of 2 fills 3 l of a bottle in 0.75 to 1.9 d. */
static void liquids_of_a_composting_toilet_fill_its_bottle(void **state)
{
    (void)state;
    static const char *const flushes[] = {"", "flush 0 l; "};
    for (int i = 0; i < 2; i++) { /* who writes that it flushes nothing says the same */
        Compiled c;
        char spec[600];
        snprintf(spec, sizeof spec,
                 BOAT "day quiet { flushes 5 per person }\ntank bottle { holds black; capacity 4 l; usable 75 %%; portable yes }\n"
                      "toilet dry { worked-by composting; %sto bottle }\n",
                 flushes[i]);
        compile_right(&c, spec);
        const Figure *flow = compiled_figure_at(&c, "bottle", FIGURE_DAILY_FLOW, "quiet");
        assert_near(flow->low, 1.6 * LITRE, 1e-12);
        assert_near(flow->high, 4.0 * LITRE, 1e-12);
        const Figure *lasts = compiled_figure_at(&c, "bottle", FIGURE_ENDURANCE, "quiet");
        assert_near(lasts->low / 86400.0, 0.75, 1e-9);
        assert_near(lasts->high / 86400.0, 1.875, 1e-9);
        compile_free(&c);
    }
}

/*
 * A boat builders' wiki (verified) sizes a holding tank as 1.4 x persons x days x rate: 168 gal for 4
 * persons, 10 days and 3 gal of flushes. With 0.8 to 2 l of liquids a person and day it lasts 8.5026 to 9.3419 d, by hand. That is a tank filled to 1/1.4 of itself. Without a stated share it is filled
 * to three quarters (second hand).
 */
static void a_holding_tank_lasts_as_the_worked_example_says(void **state)
{
    (void)state;
    Compiled c;
    const char *spec =
        "edition 1\n"
        "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 4; currency USD; basis us }\n"
        "day quiet { flushes 5 per person }\n"
        "tank holding { holds black; capacity 168 gal; usable 71.428571 % }\n"
        "toilet heads { worked-by hand; flush 0.6 gal; flushes-with sea; to holding }\n";
    compile_right(&c, spec);
    expect_figure_range(&c, "holding", FIGURE_ENDURANCE, "quiet", 8.50257 * DAY, 9.34190 * DAY, 1.0);
    compile_free(&c);
    compile_right(&c, BOAT "tank holding { holds black; capacity 80 l }\n");
    expect_figure(&c, "holding", FIGURE_USABLE_VOLUME, NULL, 60 * LITRE, 1e-12);
    compile_free(&c);
}

static void tanks_of_one_kind_last_together(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "day quiet { water 10 l per person }\n"
                           "tank bow { holds fresh; capacity 100 l; usable 100 % }\n"
                           "tank stern { holds fresh; capacity 60..80 l; usable 50 % }\n"
                           "tank gone { holds fresh; capacity 500 l; status dropped }\n");
    expect_figure_range(&c, "bow", FIGURE_ENDURANCE, "quiet", 6.5 * DAY, 7 * DAY, 1e-3);
    expect_figure_range(&c, "stern", FIGURE_ENDURANCE, "quiet", 6.5 * DAY, 7 * DAY, 1e-3);
    assert_string_equal(figure_on(&c, "stern", FIGURE_ENDURANCE, "quiet")->remark,
                        "all tanks that hold fresh share it");
    assert_null(compiled_figure(&c, "gone", FIGURE_VOLUME));
    compile_free(&c);
}

static void gas_lasts_by_the_cylinders_and_only_where_the_day_says(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c,
        BOAT "day cook { gas 0.2 kg }\nday cold { sun 4 h }\ngas-locker box { cylinder 5 kg; count 2 }\n");
    expect_figure(&c, "box", FIGURE_ENDURANCE, "cook", 50 * DAY, 1e-3);
    assert_null(compiled_figure_at(&c, "box", FIGURE_ENDURANCE, "cold"));
    compile_free(&c);
}

/* ---- Fuel ---- */

/*
 * Computed, cube law (from memory): 40 kW at 3000 rpm and 220 g/kWh burn 10.476 l in an hour; at 2200 rpm and
 * 240 g/kWh 4.507 l.
 */
static void an_engine_burns_by_the_cube_of_its_speed(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "day fast { engine 1 h at 3000 rpm }\ntank diesel { holds fuel; capacity 100 l }\n"
                           "engine big { rated 40 kW at 3000 rpm; fuel diesel; specific 220 g/kWh }\n");
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "fast", 10.476 * LITRE, 0.001 * LITRE);
    compile_free(&c);
    compile_right(&c, BOAT "day slow { engine 2 h at 2200 rpm }\ntank diesel { holds fuel; capacity 100 l }\n"
                           "engine big { rated 40 kW at 3000 rpm; fuel diesel; specific 240 g/kWh }\n");
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "slow", 2 * 4.507 * LITRE, 0.002 * LITRE);
    compile_free(&c);
}

/*
 * Straight between two points of the owner's, by the cube outside of them: 2 x (1000/2000)^3 and 6 x
 * (3300/3000)^3.
 */
static void an_engine_burns_by_its_own_points_where_it_has_some(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c, BOAT
        "day low { engine 1 h at 1000 rpm }\nday middle { engine 1 h at 2500 rpm }\n"
        "day high { engine 1 h at 3300 rpm }\nday two { engine 1 h at 2000 rpm; engine 2 h at 3000 rpm }\n"
        "tank diesel { holds fuel; capacity 100 l }\n"
        "engine big { rated 40 kW at 3300 rpm; fuel diesel; consumption 3000 rpm 6 l/h; consumption 2000 rpm "
        "2 l/h }\n");
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "low", 0.25 * LITRE, 1e-9);
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "middle", 4 * LITRE, 1e-9);
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "high", 7.986 * LITRE, 1e-9);
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "two", 14 * LITRE, 1e-9);
    compile_free(&c);
}

static void an_engine_at_no_stated_speed_burns_anything_up_to_rated(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT
                  "day run { engine 1 h }\ntank diesel { holds fuel; capacity 100 l }\n"
                  "engine big { rated 40 kW at 3000 rpm; fuel diesel; specific 220 g/kWh; idle 750 rpm }\n");
    expect_figure_range(&c, "diesel", FIGURE_DAILY_FLOW, "run", 10.476 / 64 * LITRE, 10.476 * LITRE,
                        0.001 * LITRE);
    compile_free(&c);
}

static void heaters_and_generators_burn_too_and_a_day_of_nothing_never_ends(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "day warm { generator 23:00..01:00 }\nday still { sun 4 h }\ntank diesel { holds "
                           "fuel; capacity 100 l; usable 90 % }\n"
                           "generator genset { rated 3500 W at 230 V; fuel-rate 1.5 l/h }\n"
                           "heater stove { output 4 kW; fuel-rate 0.5 l/h; use warm 4 h; portable yes }\n");
    expect_figure(&c, "diesel", FIGURE_DAILY_FLOW, "warm", 5 * LITRE, 1e-12);
    expect_figure(&c, "diesel", FIGURE_ENDURANCE, "warm", 18 * DAY, 1e-3);
    assert_true(isinf(figure_on(&c, "diesel", FIGURE_ENDURANCE, "still")->low));
    compile_free(&c);
}

/* ---- Heights ---- */

/* tan 30 is 1/sqrt 3, so half of 3.1 m rises 0.8949 m; tan 7 is 0.122785 (any table): 0.1903 m. */
static void the_water_comes_up_half_the_beam_times_the_tangent_of_the_heel(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, SAILING_BOAT);
    expect_figure(&c, "wren", FIGURE_HEELED_WATERLINE, NULL, 1.55 / sqrt(3.0), 1e-9);
    compile_free(&c);
    compile_right(&c, BOAT);
    expect_figure(&c, "wren", FIGURE_HEELED_WATERLINE, NULL, 1.55 * 0.122785, 1e-5);
    compile_free(&c);
    compile_right(&c, "edition 1\nboat wren { length 9.5 m; beam 3..3.2 m; displacement 5200 kg; crew 2; "
                      "currency EUR; basis us; heel 45 deg }\n");
    expect_figure_range(&c, "wren", FIGURE_HEELED_WATERLINE, NULL, 1.5, 1.6, 1e-9);
    compile_free(&c);
}

/*
 * A loop clears the heeled water by 200 mm (a toilet's installation sheet, verified), a bilge outlet by 203
 * mm (second hand), measured plumb: turned by the heel, a height h at the side stands h cos - y sin above the
 * water.
 */
static void what_must_be_clear_of_the_sea_is_so_when_she_heels(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c, SAILING_BOAT
        "through-hull low { bore 20 mm; at 4 m -0.5 m -0.2 m }\nfixture basin { drains-to low }\n"
        "hose drain { from basin; to low; bore 20 mm; run 1 m }\n"
        "vent-loop side { on drain; height 1 m }\nvent-loop middle { on drain; height 1 m; at 4 m 0 m 1 m }\n"
        "bilge-pump sump { rated 3000 l/h; at 4 m 0 m -0.4 m }\nbilge-pump aft { rated 3000 l/h }\n"
        "hose aft-hose { from aft; to low; bore 20 mm; run 1 m }\n");
    double cosine = sqrt(3.0) / 2.0;
    double loop = figure_on(&c, "side", FIGURE_LEAST_HEIGHT, NULL)->low;
    assert_near(loop * cosine - 1.55 * 0.5, 0.200, 1e-9);
    expect_figure(&c, "middle", FIGURE_LEAST_HEIGHT, NULL, 0.200 / cosine, 1e-9);
    /*
     * The pump stands amidships, its outlet at the side, unless its hose leads to a through-hull that says
     * where.
     */
    double outlet = figure_on(&c, "sump", FIGURE_LEAST_HEIGHT, NULL)->low;
    assert_near(outlet * cosine - 1.55 * 0.5, 0.203, 1e-9);
    expect_figure(&c, "aft", FIGURE_LEAST_HEIGHT, NULL, 0.5 / sqrt(3.0) + 0.203 / cosine, 1e-9);
    expect_figure(&c, "low", FIGURE_LEAST_HEIGHT, NULL, 0.5 / sqrt(3.0), 1e-9);
    compile_free(&c);
}

/* 46 CFR 179.350 (verified): 150 mm above the waterline, where the heeled water comes less high. */
static void a_through_hull_is_near_the_water_up_to_150_mm(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c,
        BOAT "through-hull middle { bore 20 mm; at 4 m 0.5 m 0.1 m }\nthrough-hull side { bore 20 mm }\n");
    expect_figure(&c, "middle", FIGURE_LEAST_HEIGHT, NULL, 0.150, 1e-12);
    expect_figure(&c, "side", FIGURE_LEAST_HEIGHT, NULL, 1.55 * 0.122785, 1e-5);
    compile_free(&c);
}

/* ---- Bilge ---- */

/*
 * Computed apart from this program: shut-off 4.5 m, free flow 126.2 l/min, 1.2 m up through 4 m of smooth
 * 28.6 mm hose, K 4: 79.6 l/min (0.5 per cent). Here that is what is left of a pump rated at 13.6 V when it
 * gets 12 V: flow goes with the voltage, head with its square (affinity laws, from memory).
 */
static void a_pump_moves_what_its_curve_leaves_of_it(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c,
        BOAT "bilge-pump sump { rated 143.02667 l/min; shut-off 5.78 m; lift 1.2 m; outlet 28.6 mm by 4 m; "
             "hand no }\n"
             "bilge-pump tall { rated 3000 l/h; shut-off 3 m; lift 3 m; outlet 25 mm by 3 m }\n"
             "bilge-pump range { rated 3000 l/h; shut-off 3..4 m; lift 1..3 m; outlet 20..25 mm by 3 m }\n"
             "bilge-pump odd { rated >= 3000 l/h; shut-off ?; lift 1 m; outlet <= 25 mm by 3 m }\n");
    expect_figure(&c, "sump", FIGURE_PUMPED, NULL, 79.6 * LITRE_A_MINUTE, 0.5 * LITRE_A_MINUTE);
    expect_figure(&c, "tall", FIGURE_PUMPED, NULL, 0.0, 0.0);
    const Figure *range = figure_on(&c, "range", FIGURE_PUMPED, NULL);
    assert_near(range->low, 0.0, 0.0);
    assert_true(range->high > 1000 * LITRE_AN_HOUR && range->high < 3000 * LITRE_AN_HOUR);
    const Figure *odd = figure_on(&c, "odd", FIGURE_PUMPED, NULL);
    assert_near(odd->low, 0.0, 0.0);
    assert_true(isinf(odd->high));
    compile_free(&c);
}

/*
 * Computed apart from this program: the same pump on 4 m of 28.6 mm hose, K 4, rough by 1.5 mm: 65.3 l/min (0.5 per cent), where
 * smooth hose lets 79.6 through. Both ways to say so come to the same, in one piece of hose or in two.
 */
static void a_ribbed_hose_costs_flow_wherever_it_is_stated(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c,
        BOAT "bilge-pump sump { rated 143.02667 l/min; shut-off 5.78 m; lift 1.2 m; outlet 28.6 mm by 4 m corrugated }\n"
             "through-hull drain { bore 28 mm; height 0.6 m; seacock no; material bronze }\n"
             "bilge-pump other { rated 143.02667 l/min; shut-off 5.78 m; lift 1.2 m }\n"
             "hose ribbed { from other; to drain; bore 28.6 mm; run 4 m; material corrugated }\n"
             "bilge-pump fourth { rated 143.02667 l/min; shut-off 5.78 m; lift 1.2 m; outlet 28 mm by 4 m corrugated }\n"
             "hose unsaid { from fourth; to drain; bore 28.6 mm; run 4 m }\n"
             "item joint { price 1 EUR }\n"
             "bilge-pump third { rated 143.02667 l/min; shut-off 5.78 m; lift 1.2 m; outlet 12 mm by 20 m }\n"
             "hose near { from third; to joint; bore 28.6 mm; run 1 m; bends 1; material corrugated }\n"
             "hose far { from joint; to drain; bore 28.6 mm; run 3 m; bends 1; material corrugated }\n");
    expect_figure(&c, "sump", FIGURE_PUMPED, NULL, 65.3 * LITRE_A_MINUTE, 0.5 * LITRE_A_MINUTE);
    expect_figure(&c, "other", FIGURE_PUMPED, NULL, 65.3 * LITRE_A_MINUTE, 0.5 * LITRE_A_MINUTE);
    expect_figure(&c, "third", FIGURE_PUMPED, NULL, 65.3 * LITRE_A_MINUTE, 0.5 * LITRE_A_MINUTE);
    expect_figure(&c, "fourth", FIGURE_PUMPED, NULL, 65.3 * LITRE_A_MINUTE, 0.5 * LITRE_A_MINUTE);
    assert_null(figure_on(&c, "other", FIGURE_PUMPED, NULL)->remark);
    compile_free(&c);
}

/* Half of the rating where nothing is known of the hose: articles, second hand. */
static void a_pump_without_a_hose_moves_half_of_its_rating(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "bilge-pump sump { rated 3000 l/h; lift 1 m }\nbilge-pump blank { lift 1 m }\n");
    expect_figure(&c, "sump", FIGURE_PUMPED, NULL, 1500 * LITRE_AN_HOUR, 1e-12);
    assert_non_null(figure_on(&c, "sump", FIGURE_PUMPED, NULL)->remark);
    assert_int_equal(figure_on(&c, "blank", FIGURE_PUMPED, NULL)->state, STATE_MISSING);
    compile_free(&c);
}

/*
 * Computed apart from this program: 2400 l/h along a straight line to 4 m, 1.6 m up, 5 m of smooth 38 mm
 * hose, K 4.
 */
static void a_hand_pump_falls_along_a_straight_line(void **state)
{
    (void)state;
    Compiled c;
    compile_right(
        &c,
        BOAT "bilge-pump helm { hand yes; rated 2400 l/h; shut-off 4 m; lift 1.6 m; outlet 38 mm by 5 m }\n");
    expect_figure(&c, "helm", FIGURE_PUMPED, NULL, 1410.7 * LITRE_AN_HOUR, 0.2 * LITRE_AN_HOUR);
    expect_figure(&c, "wren", FIGURE_HAND_PUMPING, NULL, 1410.7 * LITRE_AN_HOUR, 0.2 * LITRE_AN_HOUR);
    compile_free(&c);
}

static void only_automatic_pumps_that_are_fed_add_up(void **state)
{
    (void)state;
    Compiled c;
    compile_right(&c, BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                           "bilge-pump pair { fed-by house; run 1 m; protect 10 A fuse; automatic yes; rated "
                           "3000 l/h; draw 4 A; count 2 }\n"
                           "bilge-pump switched { fed-by house; run 1 m; protect 10 A fuse; automatic no; "
                           "rated 3000 l/h; draw 4 A }\n"
                           "bilge-pump unfed { automatic yes; rated 3000 l/h; draw 4 A }\n"
                           "bilge-pump by-hand { hand yes; rated 1800 l/h }\n");
    expect_figure(&c, "wren", FIGURE_PUMPING, NULL, 3000 * LITRE_AN_HOUR, 1e-9);
    expect_figure(&c, "wren", FIGURE_HAND_PUMPING, NULL, 900 * LITRE_AN_HOUR, 1e-12);
    compile_free(&c);
}

static void expect_need(const char *basis, const char *length, double power_m3_per_s, double hand_m3_per_s)
{
    Compiled c;
    char text[300];
    snprintf(text, sizeof text,
             "edition 1\nboat wren { length %s; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; "
             "basis %s }\n",
             length, basis);
    compile_right(&c, text);
    expect_figure(&c, "wren", FIGURE_PUMPING_NEED, NULL, power_m3_per_s, 1e-12);
    if (strcmp(basis, "us") == 0) { /* iso asks for two pumps of the same, worked in either way */
        expect_figure(&c, "wren", FIGURE_HAND_PUMPING_NEED, NULL, hand_m3_per_s, 1e-12);
    }
    compile_free(&c);
}

/*
 * 46 CFR 182.520(a), edition of 2015 (verified), prints 38 l/min and 10 gpm, 19 and 5, 190 and 50: the
 * smaller of each pair counts. ISO 15083:2020 by a published summary: 10, 15 and 30 l/min, from 6 m and from
 * 12 m on. Each in its own unit: 12 m is not 40 ft, 26 ft is 7.9248 m.
 */
static void what_the_basis_asks_goes_by_length_in_its_own_unit(void **state)
{
    (void)state;
    const double gallon_a_minute = GALLON / 60.0;
    expect_need("us", "25 ft 11 in", 0.0, 5 * gallon_a_minute);
    expect_need("us", "26 ft", 10 * gallon_a_minute, 10 * gallon_a_minute);
    expect_need("us", "7.92 m", 0.0, 5 * gallon_a_minute);
    expect_need("us", "65 ft", 10 * gallon_a_minute, 10 * gallon_a_minute);
    expect_need("us", "66 ft", 2 * 50 * gallon_a_minute, 0.0);
    expect_need("iso", "6 m", 10 * LITRE_A_MINUTE, 0.0);
    expect_need("iso", "11.99 m", 15 * LITRE_A_MINUTE, 0.0);
    expect_need("iso", "12 m", 30 * LITRE_A_MINUTE, 0.0);
    expect_need("iso", "40 ft", 30 * LITRE_A_MINUTE, 0.0);
}

/*
 * By hand: 2 people x 15 l x 3 d / 90 % are 100 l, a size of its own; in gallons 26.4, and 30 is the next. Two
 * people who flush 5 times 2 l for 3 d, with up to 2 l each of their own a day, fill 72 l / 75 %, 96 l: 100.
 */
static void a_tank_whose_capacity_is_left_open_is_sized_by_the_goals(void **state)
{
    (void)state;
    static const char *const frame =
        "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis %s }\n"
        "day anchored { water 15 l per person; flushes 5 per person }\ngoal short { endure 1 d on anchored "
        "}\n"
        "goal quiet { endure 3 d on anchored }\ntank fresh { holds fresh; capacity ? }\n"
        "tank black { holds black; capacity ? }\ntank fuel { holds fuel; capacity ? }\n"
        "toilet head { worked-by hand; flush 2 l; flushes-with sea; to black }\n%s";
    char spec[900];
    Compiled c;
    snprintf(spec, sizeof spec, frame, "iso", "");
    compile_text(&c, spec);
    const Figure *volume = compiled_figure(&c, "fresh", FIGURE_VOLUME);
    assert_near(volume->low, 0.100, 1e-12);
    assert_near(volume->high, 0.100, 1e-12);
    assert_true(volume->chosen);
    assert_near(compiled_figure(&c, "black", FIGURE_VOLUME)->low, 0.100, 1e-12);
    assert_true(isinf(compiled_figure(&c, "fuel", FIGURE_VOLUME)->high));
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_ENDURANCE, "anchored")->low, 3.0 * 86400.0, 1e-3);
    assert_null(compiled_finding(&c, "water-short"));
    compile_free(&c);
    snprintf(spec, sizeof spec, frame, "us", "");
    compile_text(&c, spec);
    assert_near(compiled_figure(&c, "fresh", FIGURE_VOLUME)->low, 30.0 * GALLON, 1e-12);
    compile_free(&c);
    snprintf(spec, sizeof spec, frame, "iso", "tank other { holds fresh; capacity 20 l }\n");
    compile_text(&c, spec);
    assert_near(compiled_figure(&c, "fresh", FIGURE_VOLUME)->low, 0.080, 1e-12); /* 90 l, less 18 of the other, over 90 % */
    compile_free(&c);
}

/*
 * A toilet that is carried, 0.2 l a flush, 2 people: 2 l of water a day and 1.6 to 4 l of theirs; none on a day on which nobody
 * flushes, and where there may be no flush perhaps none.
 */
static void what_people_bring_a_toilet_fills_its_tank_too(void **state)
{
    (void)state;
#define CARRIED_BOWL(FLUSHES)                                                                                          \
    BOAT "day quiet { flushes " FLUSHES " per person }\ntank can { holds black; capacity 10 l; portable yes }\n"      \
         "toilet bowl { worked-by hand; to can; flushes-with fresh; flush 0.2 l; portable yes }\n"
    Compiled c;
    compile_right(&c, CARRIED_BOWL("5"));
    expect_figure_range(&c, "can", FIGURE_DAILY_FLOW, "quiet", 3.6 * LITRE, 6 * LITRE, 1e-12);
    compile_free(&c);
    compile_right(&c, CARRIED_BOWL("0"));
    expect_figure(&c, "can", FIGURE_DAILY_FLOW, "quiet", 0.0, 1e-12);
    compile_free(&c);
    compile_right(&c, CARRIED_BOWL("0..5"));
    expect_figure_range(&c, "can", FIGURE_DAILY_FLOW, "quiet", 0.0, 6 * LITRE, 1e-12);
    compile_free(&c);
}

/*
 * By hand: a heater of 0.4 l/h that runs 5 h a day takes 2 l; 6 days of it over 90 % are 13.3 l, and 20 is the next size.
 * For 200 nmi at 5 kn, 40 h, the engine burns 40 times its rate, and a fifth is kept; that is more, whatever the rate is.
 * Of gas, 0.2 kg a day for 6 days in two cylinders are 0.6 kg each: 1 kg.
 */
static void fuel_and_gas_left_open_are_sized_by_days_and_by_range(void **state)
{
    (void)state;
    static const char *const frame =
        "edition 1\nboat wren { length 9.5 m; waterline 8.4 m; displacement 5200 kg; beam 3.1 m; crew 2; currency EUR\n"
        "  basis iso }\n"
        "day anchored { gas 0.2 kg }\ngoal quiet { endure 6 d on anchored }\ntank diesel { holds fuel; capacity ? }\n"
        "gas-locker box { cylinder ?; count 2 }\n"
        "heater stove { output 3 kW; fuel-rate 0.4 l/h; use anchored 5 h; portable yes }\n%s";
    char spec[1200];
    Compiled c;
    snprintf(spec, sizeof spec, frame, "");
    compile_text(&c, spec);
    const Figure *volume = compiled_figure(&c, "diesel", FIGURE_VOLUME);
    assert_near(volume->high, 0.020, 1e-12);
    assert_true(volume->chosen);
    assert_near(compiled_figure(&c, "box", FIGURE_GAS_HELD)->high, 2.0, 1e-12);
    assert_near(compiled_figure_at(&c, "box", FIGURE_ENDURANCE, "anchored")->low, 10.0 * 86400.0, 1e-3);
    assert_null(compiled_finding(&c, "fuel-short"));
    assert_null(compiled_finding(&c, "gas-short"));
    compile_free(&c);
    /* A cruise of 10 such days: 20 l over 90 % are 22.2, and 30 is the next. */
    snprintf(spec, sizeof spec, frame, "cruise far-out { days 10 anchored }\n");
    compile_text(&c, spec);
    assert_near(compiled_figure(&c, "diesel", FIGURE_VOLUME)->high, 0.030, 1e-12);
    assert_true(compiled_figure_at(&c, "diesel", FIGURE_CRUISE_LEFT, "far-out")->low >= 0.0);
    compile_free(&c);
    snprintf(spec, sizeof spec, frame,
             "goal far { range 200 nmi at 5 kn }\nengine iron { rated 14 kW at 3000 rpm; fuel diesel }\n");
    compile_text(&c, spec);
    volume = compiled_figure(&c, "diesel", FIGURE_VOLUME);
    double rate = compiled_figure_at(&c, "iron", FIGURE_FUEL_RATE, "far")->high;
    double need = rate * 40.0 * 3600.0 / 0.8 / 0.9;
    assert_true(volume->chosen && volume->high >= need && volume->high < need * 1.6);
    assert_true(compiled_figure_at(&c, "wren", FIGURE_RANGE, "far")->low >= 200.0 * 1852.0);
    compile_free(&c);
}

/*
 * By hand: crew of 2, 2 days of 10 l and one of 20 l each: 80 l of the 108 l that are usable of 120; one day
 * says 0.2 kg of gas and the other says nothing, so how much gas it takes is not known.
 */
static void a_cruise_takes_what_its_days_take_together(void **state)
{
    (void)state;
    Compiled c;
    compile_text(
        &c, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\n"
            "day sail { water 10 l per person; gas 0.2 kg }\nday rest { water 20 l per person; gas 0.3 kg }\n"
            "day silent { water 20 l per person }\n"
            "cruise trip { days 2 sail, 1 rest }\ncruise other { days 1 sail, 1 silent }\n"
            "tank fresh { holds fresh; capacity 120 l }\ngas-locker box { cylinder 0.5 kg; count 2 }\n");
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_CRUISE_FLOW, "trip")->low, 0.080, 1e-12);
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_CRUISE_LEFT, "trip")->low, 0.028, 1e-12);
    assert_near(compiled_figure_at(&c, "box", FIGURE_CRUISE_LEFT, "trip")->low, 0.3, 1e-12);
    assert_int_equal(compiled_figure_at(&c, "box", FIGURE_CRUISE_LEFT, "other")->state, STATE_MISSING);
    assert_null(compiled_finding(&c, "cruise-short"));
    compile_free(&c);
}

/* 2 x 7.7 l x 7 is 107.8 l, and 3 x 0.1 kg is 0.3 kg: in binary either is a last digit more. */
static void a_tank_of_just_the_right_size_holds(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat wren { length 8 m; beam 2.6 m; crew 2; currency EUR; basis iso }\n"
                     "day out { water 7.7 l per person; gas 0.1 kg }\ncruise long { days 7 out }\n"
                     "cruise trip { days 3 out }\ngas-locker box { cylinder 0.7 kg }\n"
                     "tank fresh { holds fresh; capacity 107.8 l; usable 100 % }\n");
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_CRUISE_LEFT, "long")->low, 0.0, 0.0);
    assert_near(compiled_figure_at(&c, "box", FIGURE_CRUISE_LEFT, "long")->high, 0.0, 0.0);
    assert_null(compiled_finding(&c, "cruise-short"));
    compile_free(&c);
}

/*
 * By hand: 2 people, 20 l each on the canal and 30 l in town, where she is filled up each day. Four days and one: 220 l, and then
 * as much again; the last two 80 l. Of 250 l 30 are left. Where town may be left out (0..1) 9 or 10 days follow each other: up to
 * the second town 220 + 160 + 60 = 440 l. Black: 2 x 5 flushes of 1 l and 0.8..2 l for each: 11.6..14 l, five days of it 58..70 l
 * of the 90 l that may be filled of 120.
 */
static void a_day_that_fills_or_empties_begins_anew(void **state)
{
    (void)state;
#define CANAL(DAYS)                                                                                                 \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"   \
    "day canal { water 20 l per person; flushes 5 per person; gas 0.2 kg }\n"                                       \
    "day town { water 30 l per person; flushes 5 per person; gas 0.1 kg; fills fresh, gas; empties black }\n"       \
    "cruise holiday { days " DAYS " }\n"                                                                             \
    "tank fresh { holds fresh; capacity 250 l; usable 100 % }\ntank holding { holds black; capacity 120 l }\n"     \
    "toilet heads { worked-by hand; rim 1.1 m; flush 1 l; flushes-with sea; to holding }\n"                         \
    "gas-locker box { cylinder 6 kg }\n"
    Compiled c;
    compile_text(&c, CANAL("4 canal, 1 town, 4 canal, 1..3 town, 2 canal"));
    expect_figure_range(&c, "fresh", FIGURE_CRUISE_STRETCH, "holiday", 0.220, 0.220, 1e-9);
    expect_figure_range(&c, "fresh", FIGURE_CRUISE_LEFT, "holiday", 0.030, 0.030, 1e-9);
    expect_figure_range(&c, "fresh", FIGURE_CRUISE_FLOW, "holiday", 0.520, 0.640, 1e-9);
    expect_figure_range(&c, "holding", FIGURE_CRUISE_LEFT, "holiday", 0.020, 0.032, 1e-9);
    expect_figure_range(&c, "box", FIGURE_CRUISE_LEFT, "holiday", 5.1, 5.1, 1e-9);
    assert_true(isinf(compiled_figure_at(&c, "fresh", FIGURE_ENDURANCE, "town")->low));
    assert_true(isinf(compiled_figure_at(&c, "holding", FIGURE_ENDURANCE, "town")->low));
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_ENDURANCE, "canal")->low, 6.25 * 86400.0, 1e-6);
    compile_free(&c);
    compile_text(&c, CANAL("4 canal, 0..1 town, 4 canal, 1 town"));
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_CRUISE_STRETCH, "holiday")->high, 0.440, 1e-12);
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_CRUISE_STRETCH, "holiday")->low, 0.220, 1e-12);
    compile_free(&c);
    /* The worst stretch is the last one: no day fills it at its end. */
    compile_text(&c, CANAL("1 town, 9 canal"));
    const Finding *finding = compiled_finding(&c, "cruise-short");
    assert_non_null(finding);
    assert_non_null(strstr(finding->place_note, "the cruise takes 360 l in one stretch, until it is filled or to its end: too little by 110 l"));
    compile_free(&c);
    /* More than it holds in one day is not mended by filling it each evening. */
    compile_text(&c, CANAL("1 town") "day feast { water 150 l per person; fills fresh }\n");
    assert_near(compiled_figure_at(&c, "fresh", FIGURE_ENDURANCE, "feast")->high, 250.0 / 300.0 * 86400.0, 1e-6);
    compile_free(&c);
#undef CANAL
}

/*
 * Two people, 12 l each and half a shower of 21 l, one of two sinks drains into the tank: 2 x (12 + 10.5) x 1/2 l, worked by
 * hand; that all sinks are used alike is an assumption of this program.
 */
static void sinks_and_showers_fill_the_tank_that_they_drain_into(void **state)
{
    (void)state;
    Compiled c;
    const char *sinks = BOAT "day quiet { water 12 l per person; showers 0.5 per person; flushes 5 per person }\n"
                             "tank grey { holds grey; capacity 60 l }\nthrough-hull out { bore 38 mm; height 0.2 m }\n"
                             "fixture sink { drains-to out }\nfixture shower { }\npump sump { to grey; portable yes; from out }\n";
    char spec[1200];
    snprintf(spec, sizeof spec, "%s%s", sinks, "hose tray { from shower; to sump; bore 19 mm; run 1 m }\n");
    compile_right(&c, spec);
    expect_figure_range(&c, "grey", FIGURE_DAILY_FLOW, "quiet", 12.0 * LITRE, 33.0 * LITRE, 1e-12);
    compile_free(&c);
    snprintf(spec, sizeof spec, "%s%s%s", sinks, "hose tray { from shower; to sump; bore 19 mm; run 1 m }\n",
             "hose away { from grey; to out; bore 25 mm; run 1 m }\n");
    compile_right(&c, spec);
    assert_null(compiled_figure_at(&c, "grey", FIGURE_DAILY_FLOW, "quiet")); /* it is emptied as it fills */
    compile_free(&c);
    /* Emptied into the holding tank, that one is filled by it; overboard, a second grey tank is not. */
    snprintf(spec, sizeof spec, "%s%s%s", sinks, "hose tray { from shower; to grey; bore 19 mm; run 1 m }\n",
             "tank holding { holds black; capacity 90 l }\npump lift { from grey; to holding; portable yes }\n");
    compile_right(&c, spec);
    expect_figure_range(&c, "holding", FIGURE_DAILY_FLOW, "quiet", 12.0 * LITRE, 33.0 * LITRE, 1e-12);
    compile_free(&c);
    snprintf(spec, sizeof spec, "%s%s%s", sinks, "hose tray { from shower; to grey; bore 19 mm; run 1 m }\n",
             "tank other { holds grey; capacity 90 l }\npump lift { from grey; to out; portable yes }\n");
    compile_right(&c, spec);
    assert_null(compiled_figure_at(&c, "other", FIGURE_DAILY_FLOW, "quiet"));
    compile_free(&c);
}

/*
 * Two persons take a shower of 21 l each and use 6 l each besides. A third or a half of these 12 l, or nothing, comes to each of
 * three sinks, and the 42 l to the showers: 42 to 46 l in the tank of a single one, by hand. Of two showers each has half. While nobody says which it is, either tank may have all of the 42 l, and what that leaves open hangs on the word.
 */
static void showers_fill_the_tank_that_they_drain_into(void **state)
{
    (void)state;
    static const struct {
        const char *sink, *basin, *shower;
        double own[2], other[2]; /* litres a day */
    } cases[] = {{"", "", "shower yes; ", {42, 46}, {8, 12}},
                 {"", "shower yes; ", "shower yes; ", {21, 25}, {29, 33}},
                 {"shower yes; ", "shower yes; ", "shower yes; ", {18, 18}, {36, 36}},
                 {"", "", "", {4, 46}, {8, 50}},
                 {"", "", "shower no; ", {4, 46}, {8, 50}}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Compiled c;
        char spec[1200];
        snprintf(spec, sizeof spec,
                 BOAT "day quiet { water 6 l per person; showers 1 per person }\ngoal stay { endure 1 d on quiet }\n"
                      "tank sinks { holds grey; capacity 100 l }\ntank own { holds grey; capacity 40 l }\n"
                      "fixture sink { %sdrains-to sinks }\nfixture basin { %sdrains-to sinks }\nfixture bath { %sdrains-to own }\n",
                 cases[i].sink, cases[i].basin, cases[i].shower);
        compile_right(&c, spec);
        expect_figure_range(&c, "own", FIGURE_DAILY_FLOW, "quiet", cases[i].own[0] * LITRE, cases[i].own[1] * LITRE, 1e-12);
        expect_figure_range(&c, "sinks", FIGURE_DAILY_FLOW, "quiet", cases[i].other[0] * LITRE, cases[i].other[1] * LITRE, 1e-12);
        const Finding *full = compiled_finding(&c, "waste-full");
        assert_int_equal(full != NULL, i == 0 || i >= 3);
        if (full != NULL) {
            assert_int_equal(full->verdict, i == 0 ? VERDICT_BROKEN : VERDICT_OPEN);
        }
        if (i == 3) {
            assert_int_equal(full->depends->prop, PROP_FIXTURE_SHOWER);
        }
        compile_free(&c);
    }
    /* Where all drain to one tank nothing hangs on it. */
    Compiled c;
    compile_right(&c, BOAT "day quiet { water 6 l per person; showers 1 per person }\ntank own { holds grey; capacity 40 l }\n"
                           "fixture sink { drains-to own }\nfixture bath { drains-to own }\n");
    expect_figure(&c, "own", FIGURE_DAILY_FLOW, "quiet", 54.0 * LITRE, 1e-12);
    compile_free(&c);
}

/* A pump loses in its cable by a voltage that is not decided: no flow is sure then, with no loss at all least of all. */
static void a_pump_at_a_voltage_that_is_not_decided_moves_no_sure_flow(void **state)
{
    static const struct {
        const char *volts;
        State state;
    } banks[] = {{"12 V", STATE_KNOWN}, {"12..36 V", STATE_KNOWN}, {"?", STATE_MISSING}, {"12 Volts", STATE_WAITING}};
    (void)state;
    for (size_t i = 0; i < sizeof banks / sizeof banks[0]; i++) {
        Compiled c;
        Arena arena = check_arena();
        compile_text(&c, text_format(&arena,
                                     "edition 1\nboat wren { length 9 m; beam 3 m; crew 2; currency EUR; basis iso; sails no }\n"
                                     "bank house { chemistry agm; voltage %s; capacity 100 Ah }\n"
                                     "bilge-pump p { fed-by house; run 4 m; wire 1.5 mm2; draw 4 A; rated 3600 l/h; lift 1 m; "
                                     "shut-off 4 m; outlet 28 mm by 3 m; automatic yes }\n",
                                     banks[i].volts));
        assert_int_equal(compiled_figure(&c, "p", FIGURE_PUMPED)->state, banks[i].state);
        compile_free(&c);
        arena_free(&arena);
    }
}

/* What a tank holds is a mistake: it may be water, and how long water lasts is not known; nor what a cable of unknown heat bears. */
static void what_a_list_or_a_word_leaves_unknown_waits(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "day quiet { water 12 l per person }\ncruise away { days 2 quiet }\n"
                          "tank fresh { holds fresh; capacity 100 l }\ntank more { holds frsh; capacity 100 l }\n");
    assert_non_null(c.spec->messages.first);
    assert_int_equal(figure_on(&c, "fresh", FIGURE_ENDURANCE, "quiet")->state, STATE_WAITING);
    assert_int_equal(figure_on(&c, "fresh", FIGURE_CRUISE_LEFT, "away")->state, STATE_WAITING);
    compile_free(&c);
    compile_text(&c, BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\nspace saloon {}\nspace engines { engine-space yes }\n"
                          "load lamp { fed-by house; run 4 m; through saloon, enginse; wire 2.5 mm2; draw 2 A; space saloon }\n");
    assert_non_null(c.spec->messages.first);
    assert_int_equal(figure_on(&c, "lamp", FIGURE_AMPACITY, NULL)->state, STATE_WAITING);
    compile_free(&c);
}

/* Two toilets, one of them once or twice: its part of three persons' 5 flushes of 2 l is a half to two thirds, not a half alone. */
static void how_many_toilets_there_are_may_be_open(void **state)
{
    (void)state;
#define HEADS(COUNT)                                                                                              \
    "edition 1\nboat w { length 9 m; beam 3 m; displacement 5000 kg; crew 3; currency EUR; basis iso }\n"         \
    "day anchored { flushes 5 per person }\ntank one { holds black; capacity 60 l }\n"                            \
    "tank other { holds black; capacity 60 l }\ntoilet fore { flush 2 l; flushes-with sea; to one; count " COUNT   \
    " }\ntoilet aft { flush 2 l; flushes-with sea; to other }\n"
    static const struct {
        const char *spec;
        double low, high; /* crew x (flushes x flush + 0.8 to 2 l) x share */
    } rows[] = {{HEADS("1"), 3.0 * 10.8 / 2.0, 3.0 * 12.0 / 2.0}, {HEADS("2"), 3.0 * 10.8 * 2.0 / 3.0, 3.0 * 12.0 * 2.0 / 3.0},
                {HEADS("1..2"), 3.0 * 10.8 / 2.0, 3.0 * 12.0 * 2.0 / 3.0}};
#undef HEADS
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Compiled c;
        compile_text(&c, rows[i].spec);
        const Figure *flow = compiled_figure_at(&c, "one", FIGURE_DAILY_FLOW, "anchored");
        assert_near(flow->low * 1e3, rows[i].low, 1e-6);
        assert_near(flow->high * 1e3, rows[i].high, 1e-6);
        compile_free(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_list_or_a_word_leaves_unknown_waits),
        cmocka_unit_test(sinks_and_showers_fill_the_tank_that_they_drain_into),
        cmocka_unit_test(showers_fill_the_tank_that_they_drain_into),
        cmocka_unit_test(a_tank_holds_what_it_says_or_what_its_box_holds),
        cmocka_unit_test(a_tank_without_a_size_has_no_volume),
        cmocka_unit_test(a_mistake_in_a_tank_makes_its_figures_wait),
        cmocka_unit_test(contents_weigh_volume_times_density),
        cmocka_unit_test(a_day_that_does_not_say_takes_fourteen_litres_a_person),
        cmocka_unit_test(flushes_and_showers_come_from_the_fresh_water),
        cmocka_unit_test(a_flush_goes_by_what_works_the_toilet),
        cmocka_unit_test(toilets_are_used_alike_and_a_dry_one_is_not_flushed),
        cmocka_unit_test(toilets_with_tanks_of_their_own_fill_these),
        cmocka_unit_test(a_holding_can_to_which_nothing_leads_is_no_room),
        cmocka_unit_test(liquids_of_a_composting_toilet_fill_its_bottle),
        cmocka_unit_test(a_holding_tank_lasts_as_the_worked_example_says),
        cmocka_unit_test(what_people_bring_a_toilet_fills_its_tank_too),
        cmocka_unit_test(tanks_of_one_kind_last_together),
        cmocka_unit_test(gas_lasts_by_the_cylinders_and_only_where_the_day_says),
        cmocka_unit_test(an_engine_burns_by_the_cube_of_its_speed),
        cmocka_unit_test(an_engine_burns_by_its_own_points_where_it_has_some),
        cmocka_unit_test(an_engine_at_no_stated_speed_burns_anything_up_to_rated),
        cmocka_unit_test(heaters_and_generators_burn_too_and_a_day_of_nothing_never_ends),
        cmocka_unit_test(the_water_comes_up_half_the_beam_times_the_tangent_of_the_heel),
        cmocka_unit_test(what_must_be_clear_of_the_sea_is_so_when_she_heels),
        cmocka_unit_test(a_through_hull_is_near_the_water_up_to_150_mm),
        cmocka_unit_test(a_pump_moves_what_its_curve_leaves_of_it),
        cmocka_unit_test(a_ribbed_hose_costs_flow_wherever_it_is_stated),
        cmocka_unit_test(a_pump_without_a_hose_moves_half_of_its_rating),
        cmocka_unit_test(a_hand_pump_falls_along_a_straight_line),
        cmocka_unit_test(only_automatic_pumps_that_are_fed_add_up),
        cmocka_unit_test(what_the_basis_asks_goes_by_length_in_its_own_unit),
        cmocka_unit_test(a_cruise_takes_what_its_days_take_together),
        cmocka_unit_test(a_day_that_fills_or_empties_begins_anew),
        cmocka_unit_test(a_tank_of_just_the_right_size_holds),
        cmocka_unit_test(fuel_and_gas_left_open_are_sized_by_days_and_by_range),
        cmocka_unit_test(a_tank_whose_capacity_is_left_open_is_sized_by_the_goals),
        cmocka_unit_test(a_pump_at_a_voltage_that_is_not_decided_moves_no_sure_flow),
        cmocka_unit_test(how_many_toilets_there_are_may_be_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
