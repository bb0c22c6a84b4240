/*
 * What the lists of the book hold and what they say that they do not hold; steps for laying up and leaving; where things stand. Common
 * practice, no source, where a test names none.
 */
#include "test_pictures.h"

#include "output/bom_list.h"
#include "output/bom_text.h"

#define BOAT                                                                                                                  \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; sails no; heel 7 deg }\n"

static const char *to_buy_of(Compiled *c, const char *spec)
{
    Buf text;
    compile_text(c, spec);
    assert_null(c->spec->messages.first);
    buf_init(&text, &c->arena);
    to_buy_text(&text, c->outcome, bom_list(&c->arena, c->outcome, (BomRequest){.by = BOM_BY_SUPPLIER, .to_buy = true}));
    return text.text;
}

static void absent(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) {
        fail_msg("`%s` is there", words);
    }
}

/* What opens at leakage alone is a device to buy; with a breaker in one case it is that breaker. */
static void a_leakage_device_is_bought(void **state)
{
    (void)state;
    Compiled c;
    const char *text = to_buy_of(&c, BOAT
        "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker 0.4 m from source; poles 2 }\n"
        "panel mains { fed-by shore; run 1 m; wire 2.5 mm2; ground 2.5 mm2; ground-fault 30 mA; poles 2 }\n"
        "outlet one { fed-by mains; run 2 m; wire 2.5 mm2; ground 2.5 mm2; protect 10 A breaker; poles 2; ground-fault 30 mA }\n");
    expect_words(text, (const char *const[]){"1  leakage device, 2-pole, opens at 30 mA, for 16 A at least", "1  10 A breaker, 2-pole, opens at 30 mA",
                                             NULL});
    compile_free(&c);
}

/* Two ends of each: one or two clamps where nobody says how many; none on metal, and those of a through-hull where no hose tells. */
static void every_hose_end_has_its_clamps(void **state)
{
    (void)state;
    Compiled c;
    const char *text = to_buy_of(&c, BOAT
        "engine diesel { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\nexhaust pipe { bore 51 mm; run 3 m }\n"
        "tank fuel { holds fuel; capacity 100 l }\nfuel-line feed { from fuel; to diesel; bore 8 mm; run 3 m; grade A1 }\n"
        "fuel-line back { from diesel; to fuel; bore 6 mm; run 3 m; grade metal; return yes }\n"
        "fuel-line unsaid { from fuel; to diesel; bore 7 mm; run 3 m }\nfuel-line bare { from fuel; to diesel }\n"
        "bilge-pump bilge { rated 3000 l/h; hand yes; outlet 28 mm by 3 m }\nbilge-pump second { rated 3000 l/h; hand yes }\n"
        "through-hull drains { bore 38 mm; clamps 2; count 2 }\nthrough-hull told { bore 25 mm; clamps 2 }\n"
        "tank fresh { holds fresh; capacity 50 l; vent 16 mm }\nhose out { from fresh; to told; bore 25 mm; run 1 m; clamps 1 }\n"
        "fixture sink { drains-to drains }\n");
    expect_words(text, (const char *const[]){"2..4  Hose clamps for a bore of 51 mm", "2..4  Hose clamps for a bore of 8 mm",
                                             "2..4  Hose clamps for a bore of 28 mm", "4  Hose clamps for a bore of 38 mm",
                                             "2  Hose clamps for a bore of 25 mm", "- the clamps of `unsaid`", "- `bare`, a fuel line whose bore",
                                             "- the hose of `second`", "- elbows and tails of the hose of `bilge`", "vent, fill and pump-out of `fresh`",
                                             "- the drain of `sink`", "- the hoses of the cooling water of `diesel`", NULL});
    absent(text, "clamps for a bore of 6 mm");
    absent(text, "clamps for a bore of 7 mm");
    absent(text, "Cable, terminals"); /* the heading claims no more than the spec says */
    compile_free(&c);
}

/* Two pieces of a hose that a loop cuts have four ends, of one that a strainer cuts as well six. One that stands between hoses cuts none. */
static void what_sits_in_a_hose_cuts_it(void **state)
{
    (void)state;
    Compiled c;
    const char *text = to_buy_of(&c, BOAT "tank fresh { holds fresh; capacity 50 l }\nfixture tap { }\nfixture basin { }\n"
                          "hose cut { from fresh; to tap; bore 19 mm; run 2 m; clamps 2; bends 0 }\n"
                          "vent-loop loop { on cut }\nstrainer sieve { on cut }\n"
                          "hose unsaid { from fresh; to basin; bore 25 mm; run 2 m; bends 0 }\nstrainer net { on unsaid }\n");
    expect_words(text, (const char *const[]){"4..8  Hose clamps for a bore of 25 mm", "12  Hose clamps for a bore of 19 mm", NULL});
    compile_free(&c);
}

/* Conductors that no row holds are named where the rows end, and where things are bought. */
static void conductors_that_no_list_holds_are_named(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nengine diesel { rated 20 kW at 3000 rpm; fuel diesel }\n"
                     "tank fuel { holds fuel; capacity 100 l; grounded yes }\ntank loose { holds fuel; capacity 10 l; grounded no }\n"
                     "load lamp { fed-by house; run 2 m; wire 2.5 mm2; protect 5 A fuse; draw 1 A }\n"
                     "solar roof { rated 100 W; controller mppt; feeds house { run 2 m; wire 6 mm2; protect 20 A fuse } }\n"
                     "solar arch { rated 100 W; controller mppt; panel-run 3 m; panel-wire 6 mm2; feeds house { run 2 m; wire 6 mm2; protect 20 A fuse } }\n"
                     "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; bonded yes }\n");
    const char *book = text_of(&made, "book.md");
    expect_words(book, (const char *const[]){"#### Not in the list", "- the main negative, from the negative pole of `house`",
                                             "- what disconnects the panels of `roof`, `arch` from",
                                             "- the grounding wires of `fuel` and",
                                             "- the conductor that joins the block of `diesel`",
                                             "- the conductor that joins the ground of `shore`",
                                             "Not in this list, as the spec does not say enough of it", NULL});
    compile_free(&made.compiled);
}

/* A circuit is nothing but its cable: what it costs may hold that already, and both lists say so. */
static void a_circuit_and_its_cable_are_told_to_be_one(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; price 100 EUR }\n"
                     "circuit lights { fed-by house; run 2 m; wire 2.5 mm2; protect 5 A fuse; price 42 EUR }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"circuit; see by the metre |", "buy it once", NULL});
    compile_free(&made.compiled);
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; price 100 EUR }\n");
    absent(text_of(&made, "book.md"), "buy it once");
    compile_free(&made.compiled);
}

/* Aluminium has no zinc to lose, petrol is not bled, one oil of a leg is told once, and nobody tries a way that is not there. */
static void laying_up_fits_an_outboard(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine ob { rated 80 kW at 5500 rpm; fuel petrol; mounted outboard }\ngearbox leg { engine ob; ratio 2 }\n"
                     "propeller screw { engine ob; material aluminium }\nsteering wheel { second no }\n"
                     "tank petrol { holds fuel; capacity 60 l }\nfuel-line feed { from petrol; to ob; shut-off yes }\n");
    const char *book = text_of(&made, "book.md");
    absent(book, "pink spots");
    absent(book, "Gearbox: change");
    absent(book, "try the second way");
    expect_words(book, (const char *const[]){"change the oil of its leg", "not of bronze: look, ashore", "those of a diesel are bled",
                                             "Close the fuel valve of `feed`", NULL});
    compile_free(&made.compiled);
    make(&made, BOAT "engine aux { rated 20 kW at 3000 rpm; fuel diesel }\ngearbox box { engine aux; ratio 2 }\npropeller screw { engine aux }\n"
                     "steering wheel { second yes }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"pink spots", "Gearbox: change", "try the second way", NULL});
    compile_free(&made.compiled);
}

static void leaving_shuts_gas_switches_and_shore(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "gas-locker box { }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                     "switch off { fed-by house; works-as battery }\ninlet shore { rated 16 A at 230 V }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"### When she is left", "Close the valve of each cylinder in `box`",
                                                                  "Switch off the banks at `off`", "Unplug the shore cord of `shore`", NULL});
    compile_free(&made.compiled);
}

/* What is carried to save lives stands in the chapter of safety; what stands where is told though the cabin itself is empty. */
static void safety_gear_stands_under_safety(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "space saloon { }\nitem jackets \"Jackets\" { carried life-jacket; count 3; space saloon }\n");
    const char *book = text_of(&made, "book.md");
    const char *safety = strstr(book, "\n## Safety\n"), *cabin = strstr(book, "\n## Cabin\n");
    const char *gear = strstr(book, "| `jackets` | Jackets | life-jacket | 3 |");
    assert_true(safety != NULL && cabin != NULL && gear != NULL);
    assert_true(safety < gear && gear < cabin);
    assert_non_null(strstr(cabin, "### What stands where"));
    compile_free(&made.compiled);
    make(&made, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency USD; basis us; sails no; waters coastal }\n"
                "extinguisher one { rating 5-B }\n");
    book = text_of(&made, "book.md");
    safety = strstr(book, "\n## Safety\n");
    const char *lacks = safety != NULL ? strstr(safety, "nothing to throw") : NULL;
    assert_true(lacks != NULL && lacks < strstr(book, "\n## Cabin\n")); /* what is missing is told there too */
    compile_free(&made.compiled);
}

/* Who sizes a starter's way by the sheet, the table or the file must not read 0 A: by hand 300 A x 2 x 0.5 m of 70 mm2 are some 0.1 V. */
static void what_cranks_through_a_switch_is_told_in_sheet_table_and_file(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank start { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                     "switch off { fed-by start; run 0.5 m; wire 70 mm2; works-as battery; rated 300 A }\n"
                     "engine iron { fed-by off; run 2 m; wire 70 mm2; rated 20 kW at 3000 rpm; fuel diesel; starter 300 A }\n");
    const char *csv = text_of(&made, "wires.csv");
    assert_non_null(strstr(csv, ",300,0.7")); /* 300 A, and 0.77 % */
    assert_non_null(strstr(text_of(&made, "book.md"), "0 A; 300 A cranking"));
    assert_non_null(strstr(text_of(&made, "book.md"), " % cranking |"));
    /* What the cable carries for the seconds of a start stands beside what it carries for long: by hand some 2 kA by IEC 60949. */
    const char *row = strstr(text_of(&made, "book.md"), "| `off to iron` | 300 A | ");
    assert_non_null(row);
    assert_non_null(strstr(row, " A cranking | "));
    assert_true(strstr(row, " A cranking | ") < strchr(row, '\n'));
    assert_non_null(strstr(text_of(&made, "img/power-dc.svg"), "70 mm2, 0.5 m, 300 A<"));
    compile_free(&made.compiled);
}

/* By hand: amidships 150 mm are asked, which is 5.906 in and 0.4921 ft. */
static void lengths_of_one_column_are_told_in_one_unit(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "through-hull low { bore 1 in; height -4 in; at 3 m 0 m 0 m }\nthrough-hull high { bore 1 in; height 2 ft; at 9 m 0 m 1 m }\n");
    const char *book = text_of(&made, "book.md");
    expect_words(book, (const char *const[]){"-4 in | 5.906 in", "2 ft | 5.906 in", NULL});
    absent(book, "2 ft | 0.4921 ft");
    compile_free(&made.compiled);
}

/* One chapter has two ends: the earliest for the jobs, the goal's for the orders. */
static void the_plan_says_by_which_end_each_latest_day_goes(void **state)
{
    (void)state;
    Made made;
#define WORK(goal) BOAT goal "item pump { price 9 EUR; lead 2 week }\njob fit { takes 2 d; needs pump }\n"
    make(&made, WORK("goal afloat { ready 2031-05-01 }\n"));
    assert_non_null(strstr(text_of(&made, "book.md"), "goes by the day that a goal asks for, 2031-05-01"));
    compile_free(&made.compiled);
    make(&made, WORK(""));
    assert_null(strstr(text_of(&made, "book.md"), "the day that a goal asks for"));
    compile_free(&made.compiled);
}

/* ABYC A-1 (1993): the fittings of a gas hose are permanently attached: clamps that are stated are told by a rule, and not bought. */
static void a_hose_for_gas_is_bought_with_its_ends_on(void **state)
{
    (void)state;
    Compiled c;
    const char *text = to_buy_of(&c, BOAT "gas-locker box { cylinder 5 kg }\ngas-appliance cooker { locker box; output 3 kW }\n"
                          "gas-appliance oven { locker box; output 2 kW }\n"
                          "hose to-cooker { from box; to cooker; bore 8 mm; run 2 m; grade gas }\n"
                          "hose to-oven { from box; to oven; bore 10 mm; run 2 m; grade gas; clamps 1; bends 3 }\n");
    expect_words(text, (const char *const[]){"Hose of 8 mm, for gas, with the end fittings", NULL});
    absent(text, "clamps for a bore");
    absent(text, "Elbows");
    absent(text, "tails");
    compile_free(&c);
}

/* 20 l of petrol, 0.745 kg each, in a can without a place, and 2 x 5 kg of gas: 24.9 kg; with 100 kg of ballast 124.9 kg. */
static void weight_by_system_adds_up_to_all_of_it(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item ballast { mass 100 kg; at 4 m 0 m 0 m }\ngas-locker box { cylinder 5 kg; count 2 }\n"
                     "tank can { holds fuel; fuel petrol; capacity 20 l; portable yes }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"| cabin | 100 kg | 100 kg | 4 m |",
                 "| in tanks, water heaters and gas cylinders, as full as the spec says | 24.9 kg | – |", "| all | at least 124.9 kg | 100 kg |", NULL});
    compile_free(&made.compiled);
}

/* No tank has a place: what has one, and where its centre lies, is the same with all of them empty or full. */
static void what_is_placed_is_told_of_every_state_of_the_tanks(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 150 kg; crew 2; currency EUR; basis iso; sails no; "
                "waterline 9 m }\nitem ballast { mass 100 kg; at 4 m 0 m 0 m }\ntank can { holds fuel; fuel petrol; capacity 20 l; portable yes }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"| Of it, with a place | 100 kg | 100 kg | 100 kg | 100 kg |",
                 "| Centre of gravity, aft of the bow | 4 m | 4 m | 4 m | 4 m |", NULL});
    absent(text_of(&made, "book.md"), "| Trims | – |");
    compile_free(&made.compiled);
}

/* A tank of fuel stands under drive, and there its price and its mass are summed; so does what is carried to save lives under safety. */
static void a_fuel_tank_is_summed_where_the_book_shows_it(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine e { rated 20 kW at 2800 rpm; fuel diesel; mass 200 kg; price 100 EUR; at 6 m 0 m 0 m }\n"
                     "tank diesel { holds fuel; capacity 100 l; mass 20 kg; price 500 EUR }\ntank fresh { holds fresh; mass 10 kg; price 50 EUR }\n"
                     "tank can { holds fuel; mass 3 kg; system cabin }\nitem jacket { carried life-jacket; mass 2 kg }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"| drive | 0.00 EUR | 0.00 EUR | 0.00 EUR | 600.00 EUR", "| water | 0.00 EUR | 0.00 EUR | 0.00 EUR | 50.00 EUR", "| drive | 220 kg |", "| water | 10 kg |",
                 "| safety | 2 kg |", "| cabin | 3 kg |", NULL});
    assert_non_null(strstr(text_of(&made, "bom.csv"), "diesel,,tank,drive,1,"));
    compile_free(&made.compiled);
}

/* The line from locker to cooker is no matter of water: its table, its place in the sheet, and what of it is listed nowhere. */
static void a_hose_for_gas_stands_with_the_gas(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "gas-locker box { cylinder 5 kg }\ngas-appliance cooker { locker box; output 3 kW }\n"
                     "hose gas-hose { from box; to cooker; bore 8 mm; run 2 m; grade gas; clamps 2 }\n");
    const char *book = text_of(&made, "book.md"), *climate = strstr(book, "\n## Climate and gas\n"), *table = strstr(book, "| `gas-hose` | hose |");
    assert_true(climate != NULL && table != NULL && table > climate && table < strstr(climate + 1, "\n## "));
    expect_words(book, (const char *const[]){"- regulator, pipe, hoses and valves of the gas from `box`, but for what a `hose` states", NULL});
    assert_non_null(strstr(text_of(&made, "bom.csv"), "gas-hose,,hose,climate,1,"));
    assert_non_null(strstr(text_of(&made, "bom.csv"), "in metres\",hose-by-the-metre,climate,3,"));
    assert_null(strstr(text_of(&made, "bom.csv"), "Hose clamps"));
    compile_free(&made.compiled);
}

/* Two or three batteries, two or six chairs: 2 x (n - 1) links; of the chairs one has come. */
static void the_book_counts_over_all_options(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "supplier shop { lead 2 week }\nbank house { chemistry agm; voltage 12 V; capacity 100 Ah; parallel 2 }\n"
                     "load lamp { fed-by house; run 3 m; wire 2.5 mm2; protect 5 A fuse; draw 1 A }\n"
                     "item chair { count 2; price 100 EUR; supplier shop; ordered 2026-10-01; promised 2026-11-01; arrived 2026-11-10 of 1 }\n"
                     "choice size { option two { set house.parallel 2; set chair.count 2 }\noption three { set house.parallel 3; set chair.count 6 } }\n");
    expect_words(text_of(&made, "book.md"), (const char *const[]){"the links between the batteries of `house`, 2..4 of them", "| 1 of 2..6 |",
                 "arrived, 1 of 2..6 |", NULL});
    compile_free(&made.compiled);
}

/* What a surveyor looks for: what is open, and what flames ask beside it; where the gas stands, and whether its heater is room-sealed. */
static void the_air_of_the_spaces_is_told(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "space saloon { volume 15 m3; openings 400 cm2; skin 20 m2; sleeping no }\n"
                     "space well { open-air yes }\n"
                     "gas-locker box { cylinder 5 kg; drained-overboard yes; drain 20 mm; gauge yes; shut-off yes; space well }\n"
                     "gas-appliance cooker { locker box; output 4 kW; flame-failure yes; room-sealed no; space saloon }\n");
    const char *book = text_of(&made, "book.md");
    expect_words(book, (const char *const[]){"### Air of the spaces", "| Open to the sky | Openings | Flames ask, high and low together |",
                                             "| `well` | space | yes |", "| `saloon` | space | – | 400 cm2 | 101 cm2 |", "Not stated of any: Ventilated.",
                                             "| Flame failure | Room-sealed | Space |", "Hull, deck and roof", NULL});
    compile_free(&made.compiled);
}

/*
 * Who adds a day's table up comes to what its bank gives: the motor's 4 h at 1.5 kW, 600 W of the boiler and 4 x 50 mA of the
 * backbone are in it, and that a thing behind an inverter costs more is said below.
 */
static void the_table_of_a_day_has_all_that_draws(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank drive { chemistry lifepo4; voltage 48 V; capacity 400 Ah }\nday out { engine 4 h at 500 rpm }\n"
                     "engine motor { fed-by drive; run 2 m; fuel electric; rated 15 kW at 1000 rpm; takes 500 rpm 1.5 kW }\n"
                     "inverter sine { fed-by drive; run 1 m; rated 1 kW; output 230 V }\n"
                     "water-heater boiler { fed-by sine; run 1 m; element 600 W; capacity 20 l; use out 1 h }\n"
                     "network data { fed-by drive; run 1 m; cable light }\ninstrument wind-vane { network data; load-number 4; use out 10 h }\n");
    expect_words(text_of(&made, "book.md"),
                 (const char *const[]){"| `motor` | engine | by its speed | 1 | 4 h at 500 rpm, in all 6000 Wh |",
                                       "| `boiler` | water-heater | 600 W | 1 | 1 h |",
                                       "| `wind-vane` | instrument | 4 x 50 mA of its backbone | 1 | 10 h |",
                                       "takes its draw over the efficiency of that", NULL});
    compile_free(&made.compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_of_a_day_has_all_that_draws),
        cmocka_unit_test(a_leakage_device_is_bought),
        cmocka_unit_test(every_hose_end_has_its_clamps),
        cmocka_unit_test(what_sits_in_a_hose_cuts_it),
        cmocka_unit_test(lengths_of_one_column_are_told_in_one_unit),
        cmocka_unit_test(what_cranks_through_a_switch_is_told_in_sheet_table_and_file),
        cmocka_unit_test(conductors_that_no_list_holds_are_named),
        cmocka_unit_test(a_circuit_and_its_cable_are_told_to_be_one),
        cmocka_unit_test(laying_up_fits_an_outboard),
        cmocka_unit_test(leaving_shuts_gas_switches_and_shore),
        cmocka_unit_test(safety_gear_stands_under_safety),
        cmocka_unit_test(the_plan_says_by_which_end_each_latest_day_goes),
        cmocka_unit_test(a_hose_for_gas_is_bought_with_its_ends_on),
        cmocka_unit_test(weight_by_system_adds_up_to_all_of_it),
        cmocka_unit_test(what_is_placed_is_told_of_every_state_of_the_tanks),
        cmocka_unit_test(a_fuel_tank_is_summed_where_the_book_shows_it),
        cmocka_unit_test(a_hose_for_gas_stands_with_the_gas),
        cmocka_unit_test(the_book_counts_over_all_options),
        cmocka_unit_test(the_air_of_the_spaces_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
