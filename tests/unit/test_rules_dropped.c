/*
 * What hangs on a thing that is dropped, where the rules' own examples do not reach. What is taken out leaves holes, pipes and
 * plans behind it: common practice, no source.
 */
#include "check.h"
#include "compile.h"
#include "unit/verdict.h"

#define BOAT \
    "edition 1\nboat wren { length 9 m; beam 3 m; displacement 5 t; crew 2; currency EUR; basis iso; sails no; freeboard 0.8 m }\n"
#define GONE "status dropped"
#define ENGINE(STATUS) "engine old { rated 30 hp at 2800 rpm; fuel diesel; exhaust pipe; " STATUS " }\n"
#define PIPE(STATUS) "exhaust pipe { bore 51 mm; run 2 m; riser-above-waterline 0.35 m; " STATUS " }\n"
#define HOLE(SAYS) "through-hull hole { bore 51 mm; height 0.05 m; material bronze; backing yes; clamps 2; " SAYS " }\n"

/* The clause that asks for seacocks leaves exhausts out: not the hole that one has left behind. */
static void what_served_a_dropped_exhaust_is_judged_as_any_hole(void **state)
{
    (void)state;
    expect_verdict(BOAT ENGINE("") PIPE("") HOLE("serves pipe"), "seacock", NOTHING, NULL);
    expect_verdict(BOAT ENGINE(GONE) PIPE(GONE) HOLE("serves pipe"), "seacock", OPEN_AT_ONE, "hole");
    expect_verdict(BOAT ENGINE(GONE) PIPE(GONE) HOLE("serves pipe; seacock no"), "seacock", BROKEN_AT_ONE, "hole");
    expect_verdict(BOAT "exhaust pipe { bore 60 mm; " GONE " }\n" HOLE("serves pipe"), "exhaust-outlet", NOTHING, NULL);
    expect_verdict(BOAT "exhaust pipe { bore 60 mm }\n" HOLE("serves pipe"), "exhaust-outlet", BROKEN_AT_ONE, "hole");
}

/* Nothing may shut the drain of a gas locker, or a flue; without them it is a hole as any other. */
static void what_served_a_dropped_locker_or_burner_may_be_shut(void **state)
{
    (void)state;
    static const char *const things[] = {"gas-locker box { cylinder 3 kg; %s }\n", "heater box { output 2 kW; fuel diesel; %s }\n"};
    for (size_t i = 0; i < 2; i++) {
        for (int gone = 0; gone < 2; gone++) {
            Arena arena = check_arena();
            const char *thing = text_format(&arena, things[i], gone ? GONE : "");
            expect_verdict(text_format(&arena, BOAT "%s" HOLE("serves box"), thing), "seacock", gone ? OPEN_AT_ONE : NOTHING, "hole");
            arena_free(&arena);
        }
    }
}

static void a_hole_that_serves_nothing_aboard_is_told(void **state)
{
    (void)state;
    expect_verdict(BOAT ENGINE("") PIPE("") HOLE("serves old"), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(BOAT ENGINE(GONE) PIPE(GONE) HOLE("serves old"), "rests-on-dropped", BROKEN_AT_ONE, "hole");
    expect_verdict(BOAT ENGINE(GONE) PIPE(GONE) HOLE("serves old; " GONE), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(BOAT ENGINE(GONE) PIPE(GONE) "item wash { }\n" HOLE("serves old, wash"), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(BOAT "propeller screw { engine old; " GONE " }\n" ENGINE(GONE) PIPE(GONE) "anode zinc { protects screw }\n", "rests-on-dropped",
                   BROKEN_AT_ONE, "zinc");
}

static void an_exhaust_that_no_engine_aboard_names_is_told(void **state)
{
    (void)state;
    expect_verdict(BOAT ENGINE(GONE) PIPE(""), "rests-on-dropped", BROKEN_AT_ONE, "pipe");
    expect_verdict(BOAT ENGINE(GONE) PIPE("") "engine new { rated 30 hp at 2800 rpm; fuel diesel; exhaust pipe }\n", "rests-on-dropped",
                   NOTHING, NULL);
    expect_verdict(BOAT PIPE(""), "rests-on-dropped", NOTHING, NULL); /* nobody has said yet whose it is */
}

#define WASH "load wash { draw 0 A; portable yes }\n"
#define HOSE(NAME, STATUS) "hose " NAME " { from hole; to wash; bore 19 mm; run 2 m; " STATUS " }\n"

static void a_hole_that_only_a_dropped_hose_leads_to_is_told(void **state)
{
    (void)state;
    expect_verdict(BOAT WASH HOLE("") HOSE("first", ""), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(BOAT WASH HOLE("") HOSE("first", GONE), "rests-on-dropped", BROKEN_AT_ONE, "hole");
    expect_verdict(BOAT WASH HOLE("") HOSE("first", GONE) HOSE("second", ""), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(BOAT WASH HOLE("serves wash") HOSE("first", GONE), "rests-on-dropped", NOTHING, NULL); /* `pipe-end` tells it */
    expect_verdict(BOAT WASH HOLE("serves wash") HOSE("first", GONE), "pipe-end", BROKEN_AT_ONE, "hole");
}

#define TOILET "toilet head { worked-by hand; to holding }\ntank holding { holds black; capacity 60 l }\n"
#define WASTE(NAME, STATUS) "hose " NAME " { from head; to holding; bore 38 mm; run 2 m; " STATUS " }\n"
#define TAPS                                                                                                              \
    "tank fresh { holds fresh; capacity 60 l }\npump pump { from fresh; to sink, basin; portable yes }\nfixture sink { }\n" \
    "fixture basin { }\nhose one { from pump; to sink; bore 13 mm; run 2 m }\n"

static void a_dropped_hose_is_missed_by_what_says_that_it_leads_on(void **state)
{
    (void)state;
    expect_verdict(BOAT TOILET, "pipe-end", NOTHING, NULL); /* before a hose is planned `to` says enough */
    expect_verdict(BOAT TOILET WASTE("waste", ""), "pipe-end", NOTHING, NULL);
    expect_verdict(BOAT TOILET WASTE("waste", GONE), "pipe-end", BROKEN_AT_ONE, "head");
    expect_verdict(BOAT TOILET WASTE("waste", GONE) WASTE("better", ""), "pipe-end", NOTHING, NULL);
    expect_verdict(BOAT TAPS "hose two { from pump; to basin; bore 13 mm; run 2 m; " GONE " }\n", "pipe-end", BROKEN_AT_ONE, "pump");
    expect_verdict(BOAT TAPS "hose two { from fresh; to pump; bore 13 mm; run 2 m; " GONE " }\n", "pipe-end", BROKEN_AT_ONE, "pump");
    expect_verdict(BOAT "tank a { holds fresh; capacity 60 l }\ntank b { holds fresh; capacity 60 l }\n"
                        "hose link { from a; to b; bore 13 mm; run 2 m; " GONE " }\n",
                   "pipe-end", NOTHING, NULL); /* nothing says that they are joined */
}

/* She had one, so she needs one. */
static void all_steering_that_is_dropped_is_missed(void **state)
{
    (void)state;
#define WHEEL(STATUS) "steering wheel { worked-by hydraulic; second yes; " STATUS " }\n"
    expect_verdict(BOAT, "steering-second", NOTHING, NULL);
    expect_verdict(BOAT WHEEL(""), "steering-second", NOTHING, NULL);
    expect_verdict(BOAT WHEEL(GONE), "steering-second", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT WHEEL(GONE) "steering tiller { worked-by rod; second yes }\n", "steering-second", NOTHING, NULL);
    expect_verdict(BOAT WHEEL(GONE) "item oar { replaces wheel }\n", "steering-second", NOTHING, NULL);
}

static void a_spare_of_what_is_dropped_counts_for_nothing(void **state)
{
    (void)state;
#define OILED(STATUS)                                                                                                       \
    BOAT "item filter { spare 2; " STATUS " }\nengine diesel { rated 30 hp at 2800 rpm; fuel diesel; hours 4120 h on 2026-09-30; " \
         "service every 12 month \"Oil\" last 2026-06-01 with filter }\n"
    expect_verdict(OILED(""), "service-parts", NOTHING, NULL);
    expect_verdict(OILED(GONE), "service-parts", BROKEN_AT_ONE, "diesel");
    /* What came is what counts: one of the three that are wanted is fitted, and the spares are those beyond it. */
    expect_verdict(OILED("status here; arrived 2026-01-01 of 1"), "service-parts", BROKEN_AT_ONE, "filter");
    expect_verdict(OILED("fitted 2026-01-01 of 1"), "service-parts", BROKEN_AT_ONE, "filter");
    expect_verdict(OILED("status returned"), "service-parts", BROKEN_AT_ONE, "filter");
    expect_verdict(OILED("status here; arrived 2026-01-01 of 2"), "service-parts", NOTHING, NULL);
    expect_verdict(OILED("status here"), "service-parts", NOTHING, NULL);
    expect_verdict(OILED("status ordered"), "service-parts", NOTHING, NULL);
}

/* A panel that feeds a bus is no battery: the bus still says that a switch feeds it which is not there. */
static void a_bus_that_an_array_feeds_too_misses_its_switch(void **state)
{
    (void)state;
#define CABLE "run 0.4 m; wire 35 mm2; "
#define FUSED CABLE "protect 100 A fuse class-t 0.1 m from source; "
#define SWITCHED(STATUS, MORE)                                                                                           \
    BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"                                                \
         "switch off { fed-by house; works-as battery; rated 200 A; " FUSED STATUS " }\n"                                \
         "bus pos { fed-by off; rated 150 A; " CABLE " }\n"                                                              \
         "circuit c { fed-by pos; run 3 m; wire 4 mm2; protect 10 A breaker hydraulic }\nload lamp { fed-by c; draw 3 A }\n" MORE
#define ARRAY(STATUS) "solar roof { rated 100 W; charge-voltage 14.2 V; " STATUS "; feeds pos { run 3 m; wire 6 mm2; protect 15 A fuse class-t 0.1 m from source } }\n"
    expect_verdict(SWITCHED("", ARRAY("count 1")), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(SWITCHED(GONE, ARRAY("count 1")), "rests-on-dropped", BROKEN_AT_ONE, "pos");
    expect_verdict(SWITCHED(GONE, ARRAY("count 1")), "unpowered", NOTHING, NULL);
    /* where the array is gone too, nothing feeds it, and that is told once */
    expect_verdict(SWITCHED(GONE, ARRAY(GONE)), "rests-on-dropped", NOTHING, NULL);
    expect_verdict(SWITCHED(GONE, ARRAY(GONE)), "unpowered", BROKEN_AT_ONE, "pos");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_served_a_dropped_exhaust_is_judged_as_any_hole),
        cmocka_unit_test(what_served_a_dropped_locker_or_burner_may_be_shut),
        cmocka_unit_test(a_hole_that_serves_nothing_aboard_is_told),
        cmocka_unit_test(an_exhaust_that_no_engine_aboard_names_is_told),
        cmocka_unit_test(a_hole_that_only_a_dropped_hose_leads_to_is_told),
        cmocka_unit_test(a_dropped_hose_is_missed_by_what_says_that_it_leads_on),
        cmocka_unit_test(all_steering_that_is_dropped_is_missed),
        cmocka_unit_test(a_spare_of_what_is_dropped_counts_for_nothing),
        cmocka_unit_test(a_bus_that_an_array_feeds_too_misses_its_switch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
