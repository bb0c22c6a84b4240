/*
 * Rules of what flows, where their own examples do not reach: hoses and lines that are stated the wrong way round, taps without a
 * pump, intakes that the sea does not reach, petrol that runs out of its tank, exhausts, and slips of the pen. Sources stand in
 * the rules' own tables; here is what follows.
 */
#include "check.h"
#include "compile.h"
#include "unit/verdict.h"

#include "physics/pipe.h"
#include "physics/ventilation.h"

#define BOAT                                                                                              \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "us; sails no; freeboard 1.1 m }\n"
#define FRESH "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"
#define GREY "tank grey { holds grey; capacity 70 l; vent 16 mm; pump-out 38 mm }\n"
#define PUMP(SAYS) "pump lift { from fresh; hand yes; " SAYS " }\n"
#define HOSE(NAME, FROM, TO) "hose " NAME " { from " FROM "; to " TO "; bore 13 mm; run 2 m }\n"
#define RISING(NAME, FROM, TO, RISE) "hose " NAME " { from " FROM "; to " TO "; bore 13 mm; run 2 m; rise " RISE " }\n"
#define SINK "fixture sink { drains-to grey }\n"

/* The finding of a rule about a thing; fails if there is none. */
static void expect_says(const char *spec, const char *rule, const char *subject, const char *words)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *finding = only_finding(&c, rule);
    if (finding == NULL) {
        fail_msg("nothing is found about %s", subject);
    }
    assert_str(entity_name(outcome_first(c.outcome)->model, finding->subject), subject);
    bool said = strstr(finding->message, words) != NULL;
    for (const Remedy *remedy = finding->remedies; remedy != NULL; remedy = remedy->next) {
        said = said || strstr(remedy->text, words) != NULL;
    }
    if (!said) {
        fail_msg("nothing says \"%s\": %s", words, finding->message);
    }
    compile_free(&c);
}

static void a_suction_that_leads_away_from_its_pump_is_told_once(void **state)
{
    (void)state;
#define SUCKED(FROM, TO) BOAT FRESH GREY SINK PUMP("") HOSE("suction", FROM, TO) HOSE("cold", "lift", "sink")
    expect_says(SUCKED("lift", "fresh"), "unplumbed", "suction", "`from fresh` and `to lift`");
    expect_verdict(SUCKED("fresh", "lift"), "unplumbed", NOTHING, NULL);
    /* what fills the tank that it draws from, by another suction, polishes it */
    expect_verdict(BOAT FRESH GREY SINK PUMP("") HOSE("suction", "fresh", "lift") HOSE("back", "lift", "fresh") HOSE("cold", "lift", "sink"),
                   "unplumbed", NOTHING, NULL);
}

static void an_intake_that_leads_away_from_its_engine_is_told(void **state)
{
    (void)state;
#define COOLED(SAYS, FROM, TO)                                                                          \
    BOAT FRESH "engine iron { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\nexhaust pipe { " SAYS " }\n" \
               "through-hull raw { bore 25 mm; height -0.3 m; seacock yes; serves iron }\n" HOSE("cool", FROM, TO)
    expect_says(COOLED("bore 51 mm", "iron", "raw"), "unplumbed", "cool", "`from raw` and `to iron`");
    expect_verdict(COOLED("bore 51 mm", "raw", "iron"), "unplumbed", NOTHING, NULL);
    expect_verdict(COOLED("bore 51 mm; wet no", "iron", "raw"), "unplumbed", NOTHING, NULL); /* its sea water leaves there */
}

static void a_hot_hose_that_is_turned_is_told_at_its_line_alone(void **state)
{
    (void)state;
#define HEATED(FROM, TO)                                                                                                  \
    BOAT FRESH GREY "water-heater cal { capacity 25 l; element 0 W }\npump lift { from fresh; hand yes; to cal, sink, basin }\n" \
        HOSE("hot-one", FROM, TO) HOSE("hot-two", "cal", "basin")                                                          \
            "fixture sink { hot yes; drains-to grey }\nfixture basin { hot yes; drains-to grey }\n"
    expect_says(HEATED("sink", "cal"), "unplumbed", "hot-one", "`from cal` and `to sink`");
    expect_verdict(HEATED("sink", "cal"), "wrong-liquid", NOTHING, NULL);
    expect_verdict(HEATED("cal", "sink"), "unplumbed", NOTHING, NULL);
}

static void a_pump_whose_hoses_come_from_another_tank_is_told_at_the_pump_alone(void **state)
{
    (void)state;
    const char *spec = BOAT FRESH GREY SINK "pump lift { from grey; hand yes }\n" HOSE("suction", "fresh", "lift") HOSE("cold", "lift", "sink");
    expect_verdict(spec, "wrong-liquid", NOTHING, NULL);
    expect_says(spec, "unplumbed", "lift", "from fresh");
    /* where no hose says otherwise it does draw from there */
    expect_verdict(BOAT GREY SINK "pump lift { from grey; hand yes }\n" HOSE("cold", "lift", "sink"), "wrong-liquid", BROKEN_AT_ONE, "cold");
}

static void a_bowl_is_flushed_by_what_its_hose_brings(void **state)
{
    (void)state;
#define FLUSHED(WITH, FROM)                                                                                             \
    BOAT FRESH "tank black { holds black; capacity 60 l; pump-out 38 mm }\ntoilet head { worked-by hand; to black; flushes-with " WITH " }\n" \
               "through-hull inlet { bore 19 mm; height -0.3 m; seacock yes }\n" HOSE("flush", FROM, "head") HOSE("out", "head", "black")
    expect_says(FLUSHED("fresh", "inlet"), "unplumbed", "head", "flushes-with sea");
    expect_says(FLUSHED("sea", "fresh"), "unplumbed", "head", "flushes-with fresh");
    expect_verdict(FLUSHED("sea", "inlet"), "unplumbed", NOTHING, NULL);
}

static void without_a_pump_a_tap_lies_below_its_tank(void **state)
{
    (void)state;
#define FALLING(RISE) BOAT FRESH GREY SINK RISING("down", "fresh", "sink", RISE)
    expect_verdict(FALLING("0.9 m"), "unplumbed", BROKEN_AT_ONE, "sink");
    expect_verdict(FALLING("-0.4 m"), "unplumbed", NOTHING, NULL);
    expect_verdict(FALLING("-0.4..0.2 m"), "unplumbed", OPEN_AT_ONE, "sink");
    expect_verdict(BOAT FRESH GREY SINK HOSE("down", "fresh", "sink"), "unplumbed", OPEN_AT_ONE, "sink");
    expect_verdict(BOAT "tank fresh { holds fresh; capacity 100 l; at 3 m 0 m 1.2 m }\n" GREY
                        "fixture sink { drains-to grey; at 4 m 0 m 0.8 m }\n" HOSE("down", "fresh", "sink"),
                   "unplumbed", NOTHING, NULL);
    /* a pump that serves it too brings nothing through a hose that rises from the tank */
    expect_verdict(BOAT FRESH GREY SINK PUMP("to sink") RISING("down", "fresh", "sink", "0.9 m"), "unplumbed", BROKEN_AT_ONE, "sink");
    expect_verdict(BOAT FRESH GREY SINK PUMP("to sink") RISING("down", "fresh", "sink", "-0.4 m"), "unplumbed", NOTHING, NULL);
    expect_verdict(BOAT FRESH GREY SINK PUMP("") RISING("down", "fresh", "sink", "0.9 m"), "unplumbed", OPEN_AT_ONE, "sink");
}

static void a_water_heater_hangs_behind_the_pump(void **state)
{
    (void)state;
#define FED(BY)                                                                                                        \
    BOAT FRESH GREY "water-heater cal { capacity 25 l; element 0 W }\nfixture sink { hot yes; drains-to grey }\n"       \
        PUMP("") HOSE("suction", "fresh", "lift") HOSE("cold", "lift", "sink") HOSE("into", BY, "cal") HOSE("hot", "cal", "sink")
    expect_verdict(FED("fresh"), "unplumbed", BROKEN_AT_ONE, "cal");
    expect_verdict(FED("lift"), "unplumbed", NOTHING, NULL);
    /* the cold hose alone begins before the pump: hot water comes, cold does not */
#define COLD(FROM)                                                                                                     \
    BOAT FRESH GREY "water-heater cal { capacity 25 l; element 0 W }\nfixture sink { hot yes; drains-to grey }\n"       \
        PUMP("") HOSE("suction", "fresh", "lift") RISING("cold", FROM, "sink", "0.9 m") HOSE("into", "lift", "cal") HOSE("hot", "cal", "sink")
    expect_verdict(COLD("fresh"), "unplumbed", BROKEN_AT_ONE, "sink");
    expect_verdict(COLD("lift"), "unplumbed", NOTHING, NULL);
}

static void an_intake_above_the_water_is_told_of_what_draws_there(void **state)
{
    (void)state;
#define DRAWN(HEIGHT, DRAWS)                                                                           \
    BOAT "through-hull inlet { bore 25 mm; seacock yes; height " HEIGHT " }\n" HOSE("raw", "inlet", "thing") DRAWS
#define BOWL "tank black { holds black; capacity 60 l }\ntoilet thing { worked-by hand; to black }\n"
    expect_verdict(DRAWN("0.4 m", BOWL), "intake-dry", BROKEN_AT_ONE, "inlet");
    expect_verdict(DRAWN("0 m", BOWL), "intake-dry", BROKEN_AT_ONE, "inlet");
    expect_verdict(DRAWN("-0.1 m", BOWL), "intake-dry", NOTHING, NULL);
    expect_verdict(DRAWN("-0.1..0.1 m", BOWL), "intake-dry", OPEN_AT_ONE, "inlet");
    expect_verdict(DRAWN("0.4 m", "pump thing { from inlet; hand yes }\n"), "intake-dry", BROKEN_AT_ONE, "inlet");
    /* what only lets out there is no intake */
    expect_verdict(BOAT "through-hull drain { bore 38 mm; height 0.4 m }\nfixture sink { drains-to drain }\n", "intake-dry", NOTHING, NULL);
}

/* A T, a valve or a strainer between changes nothing of what draws, or of what runs in a hose. */
static void what_is_behind_a_joint_is_asked_as_without(void **state)
{
    (void)state;
#define PIPE(NAME, FROM, TO, BORE) "hose " NAME " { from " FROM "; to " TO "; bore " BORE "; run 1 m; clamps 2 }\n"
#define ENGINE "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\n"
    const char *dry = BOAT ENGINE "item tee {}\nthrough-hull inlet { bore 25 mm; height 0.2 m }\n" PIPE("k1", "inlet", "tee", "25 mm")
        PIPE("k2", "tee", "iron", "25 mm");
    expect_verdict(dry, "intake-dry", BROKEN_AT_ONE, "inlet");
    Compiled c;
    compile_text(&c, dry);
    assert_int_equal(compiled_finding(&c, "intake-dry")->severity, SEVERITY_FAULT);
    compile_free(&c);
    expect_verdict(BOAT ENGINE "strainer sieve { bore 25 mm }\nthrough-hull inlet { bore 25 mm; height 0.2 m }\n" PIPE("k1", "inlet", "sieve", "25 mm")
                   PIPE("k2", "sieve", "iron", "25 mm"), "intake-dry", BROKEN_AT_ONE, "inlet");
#define LOOPED(ON) BOAT ENGINE "item tee {}\nthrough-hull inlet { bore 25 mm; height -0.2 m }\nitem elbow {}\n" PIPE("k1", "inlet", "tee", "25 mm") \
        PIPE("k2", "tee", "iron", "25 mm") PIPE("k3", "iron", "elbow", "25 mm") "vent-loop loop { on " ON "; height 0.9 m }\n"
    expect_verdict(LOOPED("k1"), "loop-before-pump", BROKEN_AT_ONE, "loop");
    expect_verdict(LOOPED("k2"), "loop-before-pump", BROKEN_AT_ONE, "loop");
    expect_verdict(LOOPED("k3"), "loop-before-pump", NOTHING, NULL);
#define SEWER(BORE) BOAT "toilet heads { worked-by hand; to black }\ntank black { holds black; capacity 60 l }\nitem valve {}\n" \
        PIPE("a", "heads", "valve", "38 mm") PIPE("b", "valve", "black", BORE)
    expect_verdict(SEWER("19 mm"), "hose-narrow", BROKEN_AT_ONE, "b");
    expect_verdict(SEWER("38 mm"), "hose-narrow", NOTHING, NULL);
    expect_verdict(BOAT ENGINE "item tee {}\nfixture sink {}\nthrough-hull inlet { bore 25 mm; height -0.2 m }\n" PIPE("off", "sink", "tee", "25 mm")
                   PIPE("down", "tee", "inlet", "25 mm") PIPE("raw", "inlet", "iron", "25 mm"), "drain-intake", BROKEN_AT_ONE, "sink");
}

static void petrol_is_asked_within_the_hull_alone(void **state)
{
    (void)state;
#define PETROL(TANK, ENGINE, LINE)                                                                           \
    BOAT "tank fuel { holds fuel; capacity 100 l; " TANK " }\nengine iron { rated 60 kW at 4400 rpm; fuel petrol; " ENGINE " }\n" \
         "fuel-line feed { from fuel; to iron; run 2 m; " LINE " }\n"
    expect_verdict(PETROL("", "", "below-top yes; anti-siphon yes"), "petrol-siphon", BROKEN_AT_ONE, "feed");
    expect_verdict(PETROL("", "", "below-top no"), "petrol-siphon", OPEN_AT_ONE, "feed");
    expect_verdict(PETROL("", "", "below-top no; anti-siphon no; grade B1; shut-off yes"), "petrol-siphon", BROKEN_AT_ONE, "feed");
    expect_verdict(PETROL("", "", "below-top no; anti-siphon no; grade A1; shut-off yes"), "petrol-siphon", OPEN_AT_ONE, "feed");
    expect_verdict(PETROL("", "mounted outboard", "below-top yes"), "petrol-siphon", BROKEN_AT_ONE, "feed"); /* and no word of siphoning */
    expect_verdict(PETROL("", "mounted outboard", "below-top no; anti-siphon yes"), "petrol-siphon", NOTHING, NULL);
    expect_verdict(PETROL("", "", "below-top yes; anti-siphon no"), "petrol-siphon", BROKEN_AT_ONE, "feed");
    expect_verdict(PETROL("portable yes; space hold", "", "below-top yes") "space hold { }\n", "petrol-siphon", BROKEN_AT_ONE, "feed");
    expect_verdict(PETROL("portable yes; space hold", "", "below-top yes") "space hold { open-air yes }\n", "petrol-siphon", NOTHING, NULL);
    expect_verdict(PETROL("portable yes; space hold", "mounted outboard", "below-top no") "space hold { }\n", "petrol-siphon", NOTHING, NULL);
    expect_verdict(PETROL("portable yes", "", "below-top yes"), "petrol-siphon", NOTHING, NULL);
    /* 33 CFR 183.568(c): a valve and A1 will do where the tank's top lies below the carburettor */
    expect_verdict(BOAT "tank fuel { holds fuel; size 1 m by 0.5 m by 0.3 m; at 5 m 0 m -0.4 m }\n"
                        "engine iron { rated 60 kW at 4400 rpm; fuel petrol; at 3 m 0 m 0.1 m }\n"
                        "fuel-line feed { from fuel; to iron; below-top no; grade A1; shut-off yes; anti-siphon no }\n",
                   "petrol-siphon", NOTHING, NULL);
    expect_verdict(BOAT "tank fuel { holds fuel; capacity 100 l }\nengine iron { rated 20 kW at 3000 rpm; fuel diesel }\n"
                        "fuel-line feed { from fuel; to iron; below-top yes }\n",
                   "petrol-siphon", NOTHING, NULL);
}

static void a_return_that_leads_to_the_engine_is_told_at_its_line(void **state)
{
    (void)state;
#define TWO_TANKS(BACK)                                                                                                       \
    BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\ntank port { holds fuel; capacity 80 l }\n"                     \
         "tank stbd { holds fuel; capacity 80 l }\n"                                                                          \
         "fuel-line one { from port; to iron; shut-off yes; filter 10 um; separator yes }\n"                                  \
         "fuel-line two { from stbd; to iron; shut-off yes; filter 10 um; separator yes }\n"                                  \
         "fuel-line back-one { " BACK "; return yes }\nfuel-line back-two { from iron; to stbd; return yes }\n"
    expect_says(TWO_TANKS("from port; to iron"), "fuel-shut", "back-one", "`from iron` and `to port`");
    expect_verdict(TWO_TANKS("from iron; to port"), "fuel-shut", NOTHING, NULL);
}

static void a_feed_that_leads_to_the_tank_is_told_at_its_line(void **state)
{
    (void)state;
#define TURNED_FEED(ONE)                                                                                                       \
    BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\ntank port { holds fuel; capacity 80 l }\n"                     \
         "tank stbd { holds fuel; capacity 80 l }\n"                                                                           \
         "fuel-line one { " ONE "; shut-off yes; filter 10 um; separator yes }\n"                                              \
         "fuel-line two { from stbd; to iron; shut-off yes; filter 10 um; separator yes }\n"                                   \
         "fuel-line back-one { from iron; to port; return yes }\nfuel-line back-two { from iron; to stbd; return yes }\n"
    expect_says(TURNED_FEED("from iron; to port"), "fuel-shut", "one", "`from port` and `to iron`");
    expect_verdict(TURNED_FEED("from iron; to port"), "fuel-shut", BROKEN_AT_ONE, "one"); /* and nothing at its return */
    expect_verdict(TURNED_FEED("from port; to iron"), "fuel-shut", NOTHING, NULL);
    /* the only one, and no return: told there, and not at the engine as well */
#define ONLY_FEED(ENDS) BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\ntank port { holds fuel; capacity 80 l }\n" \
                             "fuel-line one { " ENDS "; shut-off yes; filter 10 um; separator yes }\n"
    expect_verdict(ONLY_FEED("from iron; to port"), "fuel-shut", BROKEN_AT_ONE, "one");
    expect_verdict(ONLY_FEED("from iron; to port; return yes"), "engine-joined", BROKEN_AT_ONE, "iron");
}

static void no_alarm_is_asked_for_in_the_open_air(void **state)
{
    (void)state;
#define GRILL(DETECTS, SPACE) BOAT "alarm al { detects " DETECTS "; space well }\nspace well { " SPACE " }\ngas-appliance grill { space well; output 4 kW }\n"
    expect_verdict(GRILL("smoke", "open-air yes"), "alarm-missing", NOTHING, NULL); /* neither for gas nor for carbon monoxide */
    expect_verdict(GRILL("co", "open-air no; sleeping no"), "alarm-missing", BROKEN_AT_ONE, "grill");
    expect_verdict(GRILL("co", "sleeping no"), "alarm-missing", BROKEN_AT_ONE, "grill");
}

static void what_no_shut_off_says_leaves_the_starts_of_a_pump_open(void **state)
{
    (void)state;
#define STARTING(SAYS) BOAT FRESH "pump lift { from fresh; flow 11 l/min; pressure 2.8 bar; cut-in 1.4 bar; portable yes; " SAYS " }\n"
    expect_verdict(STARTING("accumulator 2 l"), "pump-cycling", OPEN_AT_ONE, "lift");
    expect_verdict(STARTING("accumulator 20 l"), "pump-cycling", NOTHING, NULL);
    expect_verdict(STARTING("accumulator 2 l; shut-off 6 bar"), "pump-cycling", BROKEN_AT_ONE, "lift");
    Compiled wide;
    compile_text(&wide, BOAT "tank wt { holds fresh; capacity 100 l }\n"
                             "pump p1 { from wt; flow 10 l/min; pressure 2..3 bar; cut-in 1..2.5 bar; shut-off 2.5..4 bar; accumulator 1..5 l }\n"
                             "hose h1 { from wt; to p1; bore 13 mm; run 2 m }\nhose h2 { from p1; to tp; bore 13 mm; run 8 m }\n"
                             "fixture tp { flow 4..8 l/min }\n");
    assert_null(strstr(compiled_finding(&wide, "pump-cycling")->message, "unknown"));
    compile_free(&wide);
    /* 2.8 bar are 28.6 m of water */
    expect_verdict(STARTING("accumulator 20 l; shut-off 3.2 m"), "pump-switch", BROKEN_AT_ONE, "lift");
    expect_verdict(STARTING("accumulator 20 l; shut-off 35 m"), "pump-switch", NOTHING, NULL);
}

static void slips_by_ten_are_told(void **state)
{
    (void)state;
    expect_verdict(BOAT "generator set { rated 3.5 kW at 230 V; fuel diesel; fuel-rate 7 l/h }\n", "consumption-odd", BROKEN_AT_ONE, "set");
    expect_verdict(BOAT "generator set { rated 3.5 kW at 230 V; fuel diesel; fuel-rate 0.7 l/h }\n", "consumption-odd", NOTHING, NULL);
    expect_verdict(BOAT "bilge-pump arm { hand yes; rated 4000 l/h; shut-off 4 m }\n", "pump-power", NOTHING, NULL);
    expect_verdict(BOAT "bilge-pump arm { hand yes; rated 4000 l/min; shut-off 4 m }\n", "pump-power", BROKEN_AT_ONE, "arm");
    expect_verdict(BOAT "bilge-pump arm { hand yes; rated 150 l/min }\n", "pump-power", NOTHING, NULL);
    expect_verdict(BOAT "bilge-pump arm { hand yes; rated 4000..40000 l/h }\n", "pump-power", OPEN_AT_ONE, "arm");
    /* By hand: 5600 l/min x 1 m x 9.81 x 0.385 are 352 W, and it draws 42 W; 5600 l/h are 6 W. */
#define WELL(SAYS) \
    BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\nbilge-pump well { fed-by house; draw 3.5 A; " SAYS " }\n"
    expect_verdict(WELL("rated 5600 l/min; lift 1 m"), "pump-power", BROKEN_AT_ONE, "well");
    expect_verdict(WELL("rated 5600 l/min"), "pump-power", BROKEN_AT_ONE, "well");
    expect_verdict(WELL("rated 5600 l/h; lift 1 m"), "pump-power", NOTHING, NULL);
    expect_verdict(WELL("rated 5600 l/h"), "pump-power", NOTHING, NULL);
    expect_verdict(WELL("rated 5600..336000 l/h; lift 1 m"), "pump-power", OPEN_AT_ONE, "well");
    /* On no bank: 5600 l/h at 4.5 m are 26 W at most. What it draws may be watts; amperes cannot be judged. */
#define LOOSE(DRAW) BOAT "bilge-pump loose { portable yes; rated 5600 l/h; shut-off 4.5 m; draw " DRAW " }\n"
    expect_verdict(LOOSE("4 W"), "pump-power", BROKEN_AT_ONE, "loose");
    expect_verdict(LOOSE("?"), "pump-power", OPEN_AT_ONE, "loose");
    Compiled amperes, watts;
    compile_text(&amperes, LOOSE("3 A"));
    compile_text(&watts, LOOSE("36 W"));
    assert_int_equal(amperes.outcome->unjudged, watts.outcome->unjudged + 1);
    compile_free(&watts);
    compile_free(&amperes);
}

static void an_exhaust_under_water_is_shut_off_and_lasts(void **state)
{
    (void)state;
#define BLOWN(SAYS)                                                                                                 \
    BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\nexhaust pipe { bore 51 mm; run 3 m }\n" \
         "through-hull outlet { serves pipe; " SAYS " }\n"
    expect_verdict(BLOWN("bore 51 mm; height -0.2 m; seacock no"), "exhaust-outlet", BROKEN_AT_ONE, "outlet");
    expect_verdict(BLOWN("bore 51 mm; height -0.2 m; seacock yes; material plastic"), "exhaust-outlet", BROKEN_AT_ONE, "outlet");
    expect_verdict(BLOWN("bore 38 mm; height 0.2 m"), "exhaust-outlet", BROKEN_AT_ONE, "outlet");
    expect_verdict(BLOWN("bore 51 mm; height 0.2 m; material plastic"), "exhaust-outlet", NOTHING, NULL);
    expect_verdict(BLOWN("bore 51 mm; height -0.1..0.2 m; seacock no"), "exhaust-outlet", OPEN_AT_ONE, "outlet");
    /* above the water by a hair: under it as soon as she is loaded; common practice, no source */
    expect_says(BLOWN("bore 51 mm; height 0.02 m; seacock no"), "exhaust-outlet", "outlet", "above the waterline");
    expect_verdict(BLOWN("bore 51 mm; height 0.02 m; seacock yes; material plastic"), "exhaust-outlet", BROKEN_AT_ONE, "outlet");
    expect_verdict(BLOWN("bore 51 mm; height 0.02..0.2 m; seacock no"), "exhaust-outlet", OPEN_AT_ONE, "outlet");
    expect_verdict(BLOWN("bore 51 mm; height 0.05 m; seacock no; material plastic"), "exhaust-outlet", NOTHING, NULL);
}

/* A motor boat of 3 m beam heels 7 deg: the sea comes 0.18 m up her side. */
static void a_dry_exhaust_leaves_by_what_stands_fire_and_clear_of_the_sea(void **state)
{
    (void)state;
#define MOTOR_BOAT "edition 1\nboat gull { length 9 m; beam 3 m; displacement 4000 kg; crew 2; currency EUR; basis iso; sails no }\n"
#define DRY(PIPE, SAYS)                                                                                            \
    MOTOR_BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\n"                     \
                          "exhaust pipe { bore 51 mm; run 3 m; " PIPE " }\n"                                        \
                          "through-hull outlet { serves pipe; bore 51 mm; " SAYS " }\n"
    expect_verdict(DRY("wet no", "height 0.5 m; material plastic"), "exhaust-outlet", BROKEN_AT_ONE, "outlet");
    expect_verdict(DRY("wet yes", "height 0.5 m; material plastic"), "exhaust-outlet", NOTHING, NULL);
    expect_verdict(DRY("wet no", "height 0.5 m; material brass"), "exhaust-outlet", NOTHING, NULL);
    expect_verdict(DRY("wet no", "height 0.05 m"), "exhaust-outlet", OPEN_AT_ONE, "outlet");
    expect_verdict(DRY("wet no; riser-above-waterline 0.1 m", "height 0.05 m"), "exhaust-outlet", BROKEN_AT_ONE, "outlet");
    expect_verdict(DRY("wet no; riser-above-waterline 0.1..0.4 m", "height 0.05 m"), "exhaust-outlet", OPEN_AT_ONE, "outlet");
    expect_verdict(DRY("wet no; riser-above-waterline 0.4 m", "height 0.05 m"), "exhaust-outlet", NOTHING, NULL);
    expect_verdict(DRY("wet no", "height 0.05 m; seacock yes"), "exhaust-outlet", NOTHING, NULL);
    expect_verdict(DRY("wet no", "height 0.05 m; at 0.5 m 0 m 0.05 m"), "exhaust-outlet", NOTHING, NULL); /* amidships it does not rise */
}

#define OUT(OUTLET, HOSE)                                                                                                     \
    BOAT "through-hull drain { bore 38 mm; height 0.6 m; seacock yes; material bronze }\n"                                   \
         "bilge-pump arm { hand yes; rated 3600 l/h; lift 1 m; shut-off 5 m; outlet " OUTLET " }\n"                          \
         "hose out { from arm; to drain; " HOSE " }\n"

/* Two statements of one hose: trade sizes are a seventh apart at least, 25 and 28 mm. */
static void an_outlet_and_the_hose_that_is_stated_are_one(void **state)
{
    (void)state;
    expect_verdict(OUT("28 mm by 3 m", "bore 28.6 mm; run 3.5 m"), "outlet-unlike", NOTHING, NULL);
    expect_verdict(OUT("28 mm by 3 m", "bore 25 mm; run 3 m"), "outlet-unlike", BROKEN_AT_ONE, "arm");
    expect_verdict(OUT("28 mm by 3 m", "bore 32 mm; run 3 m"), "outlet-unlike", BROKEN_AT_ONE, "arm");
    expect_verdict(OUT("28 mm by 3 m", "bore 28 mm; run 6 m"), "outlet-unlike", BROKEN_AT_ONE, "arm");
    expect_verdict(OUT("28 mm by 3 m", "bore 28 mm; run ?"), "outlet-unlike", OPEN_AT_ONE, "arm");
    expect_verdict(OUT("28 mm by 3 m", "bore 28 mm; run 3..6 m"), "outlet-unlike", OPEN_AT_ONE, "arm");
    expect_verdict(OUT("28 mm by 3 m corrugated", "bore 28 mm; run 3 m; material smooth"), "outlet-unlike", BROKEN_AT_ONE, "arm");
    expect_verdict(OUT("28 mm by 3 m corrugated", "bore 28 mm; run 3 m"), "outlet-unlike", NOTHING, NULL);
}

static void one_height_and_one_bore_have_one_verdict_in_every_unit(void **state)
{
    (void)state;
#define ELBOW(HEIGHT) BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\nexhaust pipe { bore 51 mm; riser-above-waterline " HEIGHT " }\n"
#define DRAINED(BORE) BOAT "gas-locker box { cylinder 5 kg; drained-overboard yes; drain " BORE " }\n"
    expect_verdict(ELBOW("300 mm"), "exhaust-riser", NOTHING, NULL);
    expect_verdict(ELBOW("1 ft"), "exhaust-riser", NOTHING, NULL);
    expect_verdict(ELBOW("290 mm"), "exhaust-riser", BROKEN_AT_ONE, "pipe");
    expect_verdict(ELBOW("11.4 in"), "exhaust-riser", BROKEN_AT_ONE, "pipe");
    expect_verdict(DRAINED("12.7 mm"), "gas-drain", NOTHING, NULL);
    expect_verdict(DRAINED("1/2 in"), "gas-drain", NOTHING, NULL);
    expect_verdict(DRAINED("1.2 cm"), "gas-drain", BROKEN_AT_ONE, "box");
}

static void air_comes_to_where_gas_burns(void **state)
{
    (void)state;
#define BURNING(SPACE, COOKER) BOAT "space galley { " SPACE " }\ngas-appliance cooker { space galley; " COOKER " }\n"
    expect_verdict(BURNING("openings 0 cm2", "output 4 kW"), "flame-air", BROKEN_AT_ONE, "cooker");
    expect_verdict(BURNING("ventilated yes", ""), "flame-air", NOTHING, NULL);
    /* nobody says what burns there: two people ask for 13 cm2, and what it adds is open */
    expect_verdict(BURNING("openings 5 cm2", ""), "flame-air", BROKEN_AT_ONE, "cooker");
    expect_verdict(BURNING("openings 100 cm2", ""), "flame-air", OPEN_AT_ONE, "cooker");
#define RING "gas-appliance ring { space den; output 2 kW }\n"
#define STOVE(SPACE, SAYS) BOAT "space den { " SPACE " }\nheater stove { portable yes; output 4 kW; space den; " SAYS " }\n"
    expect_verdict(STOVE("ventilated no; openings 0 cm2", "fuel wood"), "flame-air", BROKEN_AT_ONE, "stove");
    /* some burn what is in the cabin, some do not */
    expect_verdict(STOVE("ventilated no; openings 0 cm2", "fuel diesel"), "flame-air", OPEN_AT_ONE, "stove");
    expect_verdict(STOVE("ventilated no; openings 0 cm2", "fuel diesel; room-sealed yes"), "flame-air", NOTHING, NULL);
    expect_verdict(STOVE("ventilated no; openings 0 cm2", "fuel diesel; room-sealed no"), "flame-air", BROKEN_AT_ONE, "stove");
    expect_verdict(STOVE("engine-space yes", "fuel diesel"), "flame-air", NOTHING, NULL);
    expect_verdict(STOVE("wet yes", "fuel wood"), "flame-air", OPEN_AT_ONE, "stove");
    /* 4 kW x 550 mm2 and two people x 650 mm2 are 35 cm2; with a ring of 2 kW 79 cm2 */
    expect_verdict(STOVE("openings 34 cm2", "fuel wood"), "flame-air", BROKEN_AT_ONE, "stove");
    expect_verdict(STOVE("openings 36 cm2", "fuel wood"), "flame-air", NOTHING, NULL);
    expect_verdict(STOVE("openings 36 cm2", "fuel wood; room-sealed yes"), "flame-air", NOTHING, NULL);
    expect_verdict(STOVE("openings 78 cm2", "fuel wood") RING, "flame-air", BROKEN_AT_ONE, "ring");
    expect_verdict(STOVE("openings 80 cm2", "fuel wood") RING, "flame-air", NOTHING, NULL);
    /* an alarm beside it, though nobody sleeps there; none, on iso, where it takes no air from there */
#define SITTING(SAYS)                                                                                  \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; sails no }\n" \
    "space den { sleeping no }\nheater stove { portable yes; output 4 kW; space den; " SAYS " }\n"
    expect_verdict(SITTING("fuel wood"), "alarm-missing", OPEN_AT_ONE, "den");
    expect_verdict(SITTING("fuel diesel; room-sealed no"), "alarm-missing", OPEN_AT_ONE, "den");
    expect_verdict(SITTING("fuel diesel; room-sealed yes"), "alarm-missing", NOTHING, NULL);
    expect_verdict(STOVE("open-air yes", "fuel wood"), "flame-air", NOTHING, NULL);
    expect_verdict(STOVE("ventilated no", "fuel wood") "gas-appliance ring { space den; output 2 kW }\n", "flame-air", BROKEN_AT_ONE, "ring");
    /* 4 kW x 2200 mm2 and two people x 650 mm2 are 101 cm2 */
    expect_verdict(BURNING("openings 100 cm2", "output 4 kW"), "flame-air", BROKEN_AT_ONE, "cooker");
    expect_verdict(BURNING("openings 102 cm2", "output 4 kW"), "flame-air", NOTHING, NULL);
    expect_verdict(BURNING("open-air yes", "output 4 kW"), "flame-air", NOTHING, NULL);
    /* one that states nothing takes nothing from what the other asks */
#define FRIDGE "gas-appliance fridge { space galley }\n"
    expect_verdict(BURNING("openings 60 cm2", "output 4 kW") FRIDGE, "flame-air", BROKEN_AT_ONE, "cooker");
    expect_verdict(BURNING("openings 102 cm2", "output 4 kW") FRIDGE, "flame-air", OPEN_AT_ONE, "cooker");
    assert_near(flame_opening_m2(4000.0, 0.0, 2.0), 0.0101, 1e-12);
}

static void gas_is_led_by_what_is_made_for_it(void **state)
{
    (void)state;
#define GAS(LINE) BOAT "gas-locker box { cylinder 5 kg }\ngas-appliance cooker { locker box }\n" LINE
    expect_verdict(GAS("hose pipe { from box; to cooker; bore 8 mm; run 3 m; grade water }\n"), "gas-line", BROKEN_AT_ONE, "pipe");
    expect_verdict(GAS("hose pipe { from cooker; to box; bore 8 mm; run 3 m; grade water }\n"), "gas-line", BROKEN_AT_ONE, "pipe");
    /* ABYC, second hand: end fittings that are permanently attached. */
#define CLAMPED(SAYS) GAS("hose pipe { from box; to cooker; bore 8 mm; run 3 m; grade gas; " SAYS " }\n")
    expect_verdict(CLAMPED("clamps 2"), "gas-line", BROKEN_AT_ONE, "pipe");
    expect_verdict(CLAMPED("clamps 0..2"), "gas-line", OPEN_AT_ONE, "pipe");
    expect_verdict(CLAMPED("clamps 0"), "gas-line", NOTHING, NULL);
    expect_verdict(CLAMPED("below-waterline yes"), "clamps", NOTHING, NULL);
    expect_verdict(GAS("hose pipe { from box; to cooker; bore 8 mm; run 3 m; grade gas }\n"), "gas-line", NOTHING, NULL);
    expect_verdict(GAS("fuel-line pipe { from box; to cooker; bore 8 mm }\n"), "gas-line", BROKEN_AT_ONE, "pipe");
    expect_verdict(GAS("item tester {}\nhose pipe { from box; to tester; bore 8 mm; run 3 m; grade gas }\n"
                       "hose on { from tester; to cooker; bore 8 mm; run 3 m; grade water }\n"),
                   "gas-line", BROKEN_AT_ONE, "on");
    expect_verdict(GAS("item tester {}\nhose pipe { from box; to tester; bore 8 mm; run 3 m; grade gas }\n"
                       "fuel-line on { from tester; to cooker; bore 8 mm }\n"),
                   "gas-line", BROKEN_AT_ONE, "on");
    expect_verdict(GAS("item a {}\nitem b {}\nhose pipe { from a; to b; bore 8 mm; run 3 m }\nhose on { from b; to a; bore 8 mm; run 3 m }\n"
                       "hose down { from box; to a; bore 8 mm; run 3 m }\n"),
                   "gas-line", NOTHING, NULL); /* in circles, and to no flame */
    /* the drain of a locker, and the water of a geyser, are no gas lines */
    expect_verdict(GAS("through-hull out { bore 25 mm; height 0.3 m }\nhose pipe { from box; to out; bore 25 mm; run 1 m }\n"), "gas-line", NOTHING, NULL);
    expect_verdict(GAS("tank fresh { holds fresh; capacity 90 l }\nhose pipe { from fresh; to cooker; bore 13 mm; run 1 m; grade water }\n"), "gas-line",
                   NOTHING, NULL);
}

static void an_extinguisher_is_asked_where_a_heater_burns(void **state)
{
    (void)state;
    expect_verdict(BOAT "heater stove { output 4 kW; fuel wood }\n", "extinguisher-missing", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT "heater stove { output 4 kW; fuel-rate 0.4 l/h; portable yes }\n", "extinguisher-missing", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT "heater stove { output 1 kW; portable yes }\n", "extinguisher-missing", OPEN_AT_ONE, "wren");
    expect_verdict(BOAT "heater stove { output 1 kW; draw 1000 W; portable yes }\n", "extinguisher-missing", NOTHING, NULL);
}

static void what_a_tank_is_of_suits_what_it_holds(void **state)
{
    (void)state;
#define OF(HOLDS, SAYS) BOAT "tank store { holds " HOLDS "; capacity 90 l; " SAYS " }\n"
    expect_verdict(OF("black", "material steel; coated no"), "tank-material", BROKEN_AT_ONE, "store");
    expect_verdict(OF("black", "material aluminium"), "tank-material", OPEN_AT_ONE, "store");
    expect_verdict(OF("black", "material stainless"), "tank-material", NOTHING, NULL);
    expect_verdict(OF("fresh", "material steel"), "tank-material", OPEN_AT_ONE, "store");
    expect_verdict(OF("fresh", "material steel; coated yes"), "tank-material", NOTHING, NULL);
    expect_verdict(OF("fresh", "material aluminium"), "tank-material", NOTHING, NULL);
    expect_verdict(OF("fuel", "material steel"), "tank-material", NOTHING, NULL);
    expect_verdict(OF("black", "vent 19 mm"), "tank-material", NOTHING, NULL);
}

static void a_pump_that_waits_to_be_switched_on_is_told_at_its_line(void **state)
{
    (void)state;
#define BILGE(SAYS) BOAT "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 5 mohm }\n"                   \
                         "bilge-pump arm { hand yes; rated 5000 l/h }\nbilge-pump well { fed-by house; draw 3.5 A; rated 5600 l/h; " SAYS " }\n"
    expect_says(BILGE("automatic no"), "bilge-capacity", "wren", "automatic yes of `well`");
    expect_says(BILGE("automatic no"), "bilge-capacity", "wren", "`well` does not start by itself");
    expect_verdict(BILGE("automatic yes"), "bilge-capacity", NOTHING, NULL);
}

static void a_fitting_without_a_stated_hose_is_asked_for_its_clamps(void **state)
{
    (void)state;
#define LOW(SAYS) BOAT "through-hull drain { bore 38 mm; height -0.3 m; " SAYS " }\n"
    expect_verdict(LOW(""), "clamps", OPEN_AT_ONE, "drain");
    expect_verdict(LOW("clamps 2"), "clamps", NOTHING, NULL);
    expect_verdict(LOW("clamps 1"), "clamps", BROKEN_AT_ONE, "drain");
    expect_verdict(BOAT "through-hull drain { bore 38 mm; height 1 m }\n", "clamps", NOTHING, NULL);
}

static void an_exchanger_takes_its_heat_from_an_engine(void **state)
{
    (void)state;
    expect_verdict(BOAT "water-heater cal { capacity 25 l; exchanger 4 kW }\n", "heater-engine", BROKEN_AT_ONE, "cal");
    expect_verdict(BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\nwater-heater cal { capacity 25 l; exchanger 4 kW }\n",
                   "heater-engine", NOTHING, NULL);
    expect_verdict(BOAT "engine iron { rated 20 kW at 3000 rpm; fuel electric }\nwater-heater cal { capacity 25 l; exchanger 4 kW }\n",
                   "heater-engine", BROKEN_AT_ONE, "cal");
    expect_verdict(BOAT "water-heater cal { capacity 25 l; element 800 W }\n", "heater-engine", NOTHING, NULL);
    /* Nor from one that is named, where its water does not come by within the hull. */
#define HEATED_BY(ENGINE) BOAT "water-heater cal { capacity 25 l; exchanger 4 kW; engine e }\nengine e { rated 20 kW at 3000 rpm; " ENGINE " }\n"
    expect_verdict(HEATED_BY("fuel diesel; cooling air"), "heater-engine", BROKEN_AT_ONE, "cal");
    expect_verdict(HEATED_BY("fuel petrol; mounted outboard"), "heater-engine", BROKEN_AT_ONE, "cal");
    expect_verdict(HEATED_BY("fuel diesel; cooling keel"), "heater-engine", NOTHING, NULL);
}

/* H Q of H0 (1 - (Q/Q0)^2) is greatest at Q0 / sqrt 3; tried in steps against the closed form. */
static void the_most_power_of_a_pump_is_that_of_its_best_flow(void **state)
{
    (void)state;
    static const PumpShape shapes[] = {PUMP_PARABOLA, PUMP_LINE};
    for (int s = 0; s < 2; s++) {
        Pump pump = {shapes[s], 4.0, 1.5e-3};
        double best = 0.0;
        for (int i = 0; i <= 10000; i++) {
            double flow = pump.free_flow_m3_per_s * i / 10000.0;
            double power = pressure_of_head_pa(pump_head_m(&pump, flow), 1000.0) * flow;
            best = power > best ? power : best;
        }
        assert_near(pump_most_power_w(&pump, 1000.0), best, 1e-6 * best);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_suction_that_leads_away_from_its_pump_is_told_once),
        cmocka_unit_test(an_intake_that_leads_away_from_its_engine_is_told),
        cmocka_unit_test(a_hot_hose_that_is_turned_is_told_at_its_line_alone),
        cmocka_unit_test(a_pump_whose_hoses_come_from_another_tank_is_told_at_the_pump_alone),
        cmocka_unit_test(a_bowl_is_flushed_by_what_its_hose_brings),
        cmocka_unit_test(without_a_pump_a_tap_lies_below_its_tank),
        cmocka_unit_test(a_water_heater_hangs_behind_the_pump),
        cmocka_unit_test(an_intake_above_the_water_is_told_of_what_draws_there),
        cmocka_unit_test(what_is_behind_a_joint_is_asked_as_without),
        cmocka_unit_test(petrol_is_asked_within_the_hull_alone),
        cmocka_unit_test(a_return_that_leads_to_the_engine_is_told_at_its_line),
        cmocka_unit_test(a_feed_that_leads_to_the_tank_is_told_at_its_line),
        cmocka_unit_test(no_alarm_is_asked_for_in_the_open_air),
        cmocka_unit_test(what_no_shut_off_says_leaves_the_starts_of_a_pump_open),
        cmocka_unit_test(slips_by_ten_are_told),
        cmocka_unit_test(an_exhaust_under_water_is_shut_off_and_lasts),
        cmocka_unit_test(a_dry_exhaust_leaves_by_what_stands_fire_and_clear_of_the_sea),
        cmocka_unit_test(one_height_and_one_bore_have_one_verdict_in_every_unit),
        cmocka_unit_test(air_comes_to_where_gas_burns),
        cmocka_unit_test(gas_is_led_by_what_is_made_for_it),
        cmocka_unit_test(an_extinguisher_is_asked_where_a_heater_burns),
        cmocka_unit_test(what_a_tank_is_of_suits_what_it_holds),
        cmocka_unit_test(a_pump_that_waits_to_be_switched_on_is_told_at_its_line),
        cmocka_unit_test(a_fitting_without_a_stated_hose_is_asked_for_its_clamps),
        cmocka_unit_test(an_exchanger_takes_its_heat_from_an_engine),
        cmocka_unit_test(an_outlet_and_the_hose_that_is_stated_are_one),
        cmocka_unit_test(the_most_power_of_a_pump_is_that_of_its_best_flow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
