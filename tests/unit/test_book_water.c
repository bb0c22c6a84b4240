/*
 * The water in the book: its pictures, its steps, and the hose in the bill of materials.
 */
#include "check.h"
#include "compile.h"

#include "output/bom.h"
#include "output/bom_text.h"
#include "output/book.h"
#include "output/svg.h"

#define BOAT                                                                                              \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "us; "                                                                                                \
    "sails no }\n"
#define PLUMBED                                                                                             \
    BOAT "tank fresh { holds fresh; capacity 100 l; vent 16 mm; fill 38 mm }\n"                             \
         "pump pump { from fresh; portable yes; flow 13 l/min; shut-off 3 bar; self-priming 1.8 m }\n"      \
         "through-hull drain { bore 38 mm; height -0.2 m; seacock yes }\n"                                  \
         "fixture tap { hot yes; drains-to drain }\nfixture shower { hot yes; cold no; drains-to drain }\n" \
         "water-heater boiler { capacity 30 l; element 800 W }\n"                                           \
         "hose suction { from fresh; to pump; bore 13 mm; run 1 m; clamps 1; grade water }\n"               \
         "hose cold { from pump; to tap; bore 13 mm; run 2 m; clamps 1; grade water }\n"                    \
         "hose feed { from pump; to boiler; bore 13 mm; run 4 m; grade water }\n"                           \
         "hose hot { from boiler; to tap; bore 10 mm; run 2.5 m; clamps 2 }\n"                              \
         "hose hot-shower { from boiler; to shower; bore 10 mm; run 2.5 m; clamps 2 }\n"                    \
         "tank black { holds black; capacity 60 l; vent 19 mm; pump-out 38 mm }\n"                          \
         "toilet head { worked-by hand; rim 0.1 m; flushes-with sea; to black }\n"

typedef struct Made {
    Compiled compiled;
    BookFile *files;
    size_t count;
} Made;

static void make(Made *made, const char *spec)
{
    compile_text(&made->compiled, spec);
    assert_null(made->compiled.spec->messages.first);
    made->count = book_files(&made->compiled.arena, made->compiled.outcome, &made->files);
}

/* The text of a file of the book; NULL if there is none of that name. */
static const char *text_of(Made *made, const char *name)
{
    for (size_t i = 0; i < made->count; i++) {
        if (strcmp(made->files[i].name, name) == 0) {
            return str_copy(&made->compiled.arena, made->files[i].bytes);
        }
    }
    return NULL;
}

static size_t times_in(const char *text, const char *what)
{
    size_t count = 0;
    for (const char *at = strstr(text, what); at != NULL; at = strstr(at + 1, what)) {
        count++;
    }
    return count;
}

static void every_tap_is_drawn_once_for_each_way(void **state)
{
    (void)state;
    Made made;
    make(&made, PLUMBED);
    const char *picture = text_of(&made, "img/water-fresh.svg");
    assert_non_null(picture);
    assert_int_equal(times_in(picture, ">tap<"), 2); /* cold and hot */
    assert_int_equal(times_in(picture, ">shower<"), 1);
    assert_int_equal(times_in(picture, ">fresh<"), 1);
    assert_non_null(strstr(picture, ">13 mm, 4 m<"));
    assert_non_null(strstr(text_of(&made, "book.md"), "(img/water-fresh.svg)"));
    compile_free(&made.compiled);
}

/* Half the water of a boat with a tank on each side; no pump draws by the hose between them. */
static void a_tank_that_a_hose_joins_to_another_is_drawn(void **state)
{
    (void)state;
    Made made;
    make(&made, PLUMBED "tank port { holds fresh; capacity 200 l; vent 16 mm; fill 38 mm }\n"
                        "hose balance { from fresh; to port; bore 38 mm; run 2 m; grade water }\n");
    const char *picture = text_of(&made, "img/water-fresh.svg");
    assert_int_equal(times_in(picture, ">port<"), 1);
    assert_int_equal(times_in(picture, ">balance<"), 1);
    assert_int_equal(times_in(picture, ">fresh<"), 2);
    assert_int_equal(times_in(picture, ">see above<"), 1);
    compile_free(&made.compiled);
}

static void waste_is_drawn_to_where_it_leaves(void **state)
{
    (void)state;
    Made made;
    make(&made, PLUMBED);
    const char *picture = text_of(&made, "img/water-waste.svg");
    assert_non_null(picture);
    assert_int_equal(times_in(picture, ">drain<"), 2); /* of tap and shower */
    assert_int_equal(times_in(picture, ">pump-out<"), 1);
    assert_int_equal(times_in(picture, ">head<"), 1);
    compile_free(&made.compiled);
}

/* The sea is at height 0, and an opening below it is drawn below it. */
static void openings_stand_where_they_are(void **state)
{
    (void)state;
    Made made;
    make(&made, PLUMBED "bilge-pump high { hand yes; rated 1800 l/h; discharge-height 0.9 m }\n"
                        "through-hull silent { bore 25 mm }\n");
    const char *picture = text_of(&made, "img/hull-openings.svg");
    assert_non_null(picture);
    assert_non_null(strstr(picture, ">drain<"));
    assert_non_null(strstr(picture, ">high<"));
    assert_non_null(strstr(picture, ">height not said<"));
    assert_non_null(strstr(picture, ">seacock: not said<"));
    compile_free(&made.compiled);
}

static void a_boat_without_water_has_no_picture_of_it(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT);
    assert_null(text_of(&made, "img/water-fresh.svg"));
    assert_null(text_of(&made, "img/water-waste.svg"));
    assert_null(text_of(&made, "img/hull-openings.svg"));
    compile_free(&made.compiled);
}

/* 13 taps make more rows than a page has: it goes on on a second one, and says so. */
static void a_long_line_goes_on_on_another_page(void **state)
{
    (void)state;
    Made made;
    Arena arena = check_arena();
    Buf spec;
    buf_init(&spec, &arena);
    buf_text(&spec, PLUMBED);
    for (int i = 0; i < 13; i++) {
        buf_format(&spec,
                   "fixture t%d { drains-to drain }\nhose h%d { from pump; to t%d; bore 13 mm; run 2 m }\n",
                   i, i, i);
    }
    make(&made, spec.text);
    assert_non_null(text_of(&made, "img/water-fresh-2.svg"));
    assert_non_null(strstr(text_of(&made, "img/water-fresh.svg"), "Continues in water-fresh-2.svg"));
    for (int i = 0; i < 13; i++) {
        const char *word = text_format(&arena, ">t%d<", i);
        assert_int_equal(times_in(text_of(&made, "img/water-fresh.svg"), word) +
                             times_in(text_of(&made, "img/water-fresh-2.svg"), word),
                         1);
    }
    compile_free(&made.compiled);
    arena_free(&arena);
}

static void steps_name_what_is_aboard_and_no_more(void **state)
{
    (void)state;
    Made made;
    make(&made, PLUMBED);
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "### Before the first frost"));
    assert_non_null(strstr(book, "Open the taps of `tap`, `shower`, hot and cold"));
    assert_non_null(strstr(book, "Close the seacocks of `drain`; "));
    assert_null(strstr(book, "Drain and clean ")); /* there is no strainer */
    compile_free(&made.compiled);
    make(&made, BOAT);
    assert_null(strstr(text_of(&made, "book.md"), "first frost"));
    compile_free(&made.compiled);
}

/* 1 + 2 + 4 m of one sort and 10 % make 7.7 m, which is 8 whole ones; two ends of two hoses have a clamp each. */
static void steps_fit_what_a_thing_is(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "tank fresh { holds fresh; capacity 50 l }\n"
                     "through-hull scupper { bore 38 mm; height 0.2 m; seacock no }\n"
                     "fixture basin { drains-to scupper }\n"
                     "tank box { holds black; capacity 20 l; portable yes }\n"
                     "toilet potty { worked-by hand; to box; portable yes }\n"
                     "pump treadle { from fresh; hand yes }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "Open the taps of `basin` and leave them open"));
    assert_null(strstr(book, "hot and cold"));
    assert_non_null(strstr(book, "Carry `potty` ashore"));
    assert_null(strstr(book, "both hoses"));
    assert_null(strstr(book, "Pump out and rinse"));
    assert_non_null(strstr(book, "Look at hose and clamps of `scupper`: no seacock"));
    assert_non_null(strstr(book, "Work `treadle` until no more water comes"));
    assert_null(strstr(book, "Switch off `treadle`")); /* nothing to switch */
    compile_free(&made.compiled);
}

/* A feed that stays shut stops the engine; a return that stays shut can burst its injection pump. */
static void a_return_is_told_to_be_opened_again(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine iron { rated 20 kW at 3000 rpm; fuel diesel }\ntank port { holds fuel; capacity 80 l }\n"
                     "fuel-line supply { from port; to iron; shut-off yes }\n"
                     "fuel-line spill { from iron; to port; return yes; shut-off yes }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "Close the fuel valve of `supply`: a line"));
    assert_non_null(strstr(book, "Close the fuel valve of `spill`, and leave a note"));
    compile_free(&made.compiled);
}

/* The engine heats a space, whatever the space says of itself, and the rules go by that. */
static void the_table_of_spaces_says_what_the_rules_take(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "space well { ventilated yes }\nspace oven { temperature 60 C }\nspace locker { engine-space yes }\nspace cabin { }\n"
                     "engine iron { rated 20 kW at 3000 rpm; fuel diesel; space well }\n"
                     "engine other { rated 5 kW at 3000 rpm; fuel diesel; space oven }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "| `well` | space | yes (an engine stands in it) | 50 C (assumed) |"));
    assert_non_null(strstr(book, "| `oven` | space | yes (an engine stands in it) | 60 C |"));
    assert_non_null(strstr(book, "| `locker` | space | yes | 50 C (assumed) |"));
    assert_null(strstr(book, "| `cabin` | space | yes"));
    compile_free(&made.compiled);
}

/* Diesel does not freeze: a transfer pump is not run until nothing comes, nor opened. */
static void frost_asks_nothing_of_a_pump_for_fuel(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "tank main { holds fuel; capacity 400 l }\ntank daily { holds fuel; capacity 60 l }\n"
                     "pump transfer { from main; to daily; portable yes }\npump by-hand { from main; to daily; hand yes }\n"
                     "tank fresh { holds fresh; capacity 50 l }\npump galley { from fresh; portable yes }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "Run `galley` for a moment"));
    assert_non_null(strstr(book, "Switch off `transfer`, `galley`"));
    assert_null(strstr(book, "Run `transfer`"));
    assert_null(strstr(book, "Work `by-hand`"));
    compile_free(&made.compiled);
}

static void hose_is_bought_by_the_metre_and_clamps_by_the_end(void **state)
{
    (void)state;
    Compiled c;
    Buf csv;
    compile_text(&c, PLUMBED);
    buf_init(&csv, &c.arena);
    bom_csv(&csv, c.outcome);
    assert_non_null(strstr(csv.text, "\"Hose of 13 mm, for water, in metres\",hose-by-the-metre,water,8,"));
    assert_non_null(strstr(csv.text, "\"Hose of 10 mm, in metres\",hose-by-the-metre,water,6,"));
    assert_non_null(
        strstr(csv.text, "Hose clamps for a bore of 13 mm; 1 hose does not say how many: one or two at each end,clamp,water,6..8,"));
    assert_non_null(strstr(csv.text, "Hose clamps for a bore of 10 mm,clamp,water,8,"));
    compile_free(&c);
}

/* 1.5 m and 10 % are 1.65 m, 2 whole ones; 3 m are 3.3, 4; two pumps with 2 m each are 4.4, 5. */
static void fuel_exhaust_and_bilge_are_bought_by_the_metre_too(void **state)
{
    (void)state;
    Compiled c;
    Buf csv;
    compile_text(&c, BOAT "tank diesel { holds fuel; capacity 60 l }\n"
                          "engine iron { fuel diesel; rated 14 kW at 3000 rpm; exhaust pipe }\n"
                          "exhaust pipe { bore 51 mm; run 3 m }\n"
                          "fuel-line feed { from diesel; to iron; bore 8 mm; run 1.5 m; grade A1 }\n"
                          "fuel-line spill { from iron; to diesel; bore 6 mm; return yes }\n"
                          "bilge-pump low { outlet 25 mm by 2 m; count 2 }\n");
    buf_init(&csv, &c.arena);
    bom_csv(&csv, c.outcome);
    assert_non_null(strstr(csv.text, "\"Fuel line of 8 mm, A1, in metres\",hose-by-the-metre,drive,2,"));
    assert_non_null(strstr(csv.text, "\"Fuel line of 6 mm, in metres; without 1 line that does not say\",hose-by-the-metre,"));
    assert_non_null(strstr(csv.text, "\"Exhaust hose or pipe of 51 mm, in metres\",hose-by-the-metre,drive,4,"));
    assert_non_null(strstr(csv.text, "\"Bilge pump's hose of 25 mm, in metres\",hose-by-the-metre,safety,5,"));
    compile_free(&c);
}

/* 30 m and two times 5 m of one thickness; nothing is wasted, and what is fitted is bought no more. */
static void chain_and_rope_are_bought_by_the_metre(void **state)
{
    (void)state;
#define ANCHORED(SAYS) \
    BOAT "anchor bower { mass 15 kg; price 200 EUR; chain 30 m of 8 mm; rope 20.5 m of 16 mm; " SAYS " }\n" \
         "anchor kedge { chain 5 m of 8 mm; count 2; price 80 EUR }\n"
    Compiled c;
    Buf csv, list;
    compile_text(&c, ANCHORED("status wanted"));
    buf_init(&csv, &c.arena);
    buf_init(&list, &c.arena);
    bom_csv(&csv, c.outcome);
    assert_non_null(strstr(csv.text, "chain-8-mm,\"Anchor chain of 8 mm, in metres\",chain,safety,40,"));
    assert_non_null(strstr(csv.text, "rope-16-mm,\"Anchor rope of 16 mm, in metres\",rope,safety,21,"));
    to_buy_text(&list, c.outcome, bom_list(&c.arena, c.outcome, (BomRequest){.by = BOM_BY_SUPPLIER, .to_buy = true}));
    assert_non_null(strstr(list.text, "40 m  Anchor chain of 8 mm, in metres"));
    assert_non_null(strstr(list.text, "bower; " BOM_BELOW));
    compile_free(&c);
    compile_text(&c, ANCHORED("status fitted"));
    buf_init(&list, &c.arena);
    to_buy_text(&list, c.outcome, bom_list(&c.arena, c.outcome, (BomRequest){.by = BOM_BY_SUPPLIER, .to_buy = true}));
    assert_non_null(strstr(list.text, "10 m  Anchor chain of 8 mm, in metres"));
    assert_null(strstr(list.text, "Anchor rope"));
    compile_free(&c);
}

/* Rain fills a cockpit whose drain is shut, and then the boat (common practice, no source). */
static void a_cockpit_drain_is_never_closed_when_she_is_left(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "space cockpit { open-air yes }\n"
                     "through-hull scupper { bore 38 mm; height -0.1 m; seacock yes; serves cockpit }\n"
                     "through-hull unsaid { bore 38 mm; height -0.1 m; seacock yes }\n"
                     "through-hull outlet { bore 38 mm; height -0.1 m; seacock yes }\n"
                     "fixture sink { drains-to outlet }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "Close the seacocks of `outlet`; move each"));
    assert_non_null(strstr(book, "Close the seacocks of `unsaid`, unless they drain the cockpit"));
    assert_non_null(strstr(book, "Leave open the seacocks of `scupper`"));
    assert_non_null(strstr(book, "Drain the seacocks of `outlet`: ashore"));
    assert_non_null(strstr(book, "Clear `scupper`"));
    compile_free(&made.compiled);
}

/* 0.1 kg an hour for two hours of 5 kg are 25 days; the day's own 0.5 kg are ten. A quarter of 0.4 m is 100 mm. */
static void the_book_tells_gas_by_the_day_and_tanks_by_the_dipstick(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "day quiet { }\nday said { gas 0.5 kg }\ngas-locker box { cylinder 5 kg }\n"
                     "gas-appliance cooker { locker box; heat-input 100 g/h; use quiet 2 h }\n"
                     "tank bow { holds grey; size 1 m by 0.5 m by 0.4 m }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "### Gas, day by day"));
    assert_non_null(strstr(book, "| `quiet` | 0.2 kg | 25 d |"));
    assert_non_null(strstr(book, "| `said` | 0.5 kg | 10 d |"));
    assert_non_null(strstr(book, "### Tanks, by the dipstick"));
    compile_free(&made.compiled);
}

/*
 * Five days of 20 l, a town of 30 l that fills, two more of 20 l: 130 l up to the filling, of 170 l; the weekend fills nothing.
 * Gas, 0.2 kg a day: 5 + 1 days of it, 1.2 kg; of a cylinder of 5 kg 3.8 are left.
 */
static void the_book_tells_what_a_cruise_takes_between_fillings(void **state)
{
    (void)state;
    Made made;
#define CRUISES(FILLS)                                                                                                           \
    BOAT "day quiet { water 10 l per person; gas 0.2 kg }\nday town { water 15 l per person; gas 0.2 kg; " FILLS " }\n"         \
         "cruise holiday { days 5 quiet, 1 town, 2 quiet }\ncruise weekend { days 2 quiet }\ngas-locker box { cylinder 5 kg }\n" \
         "tank bow { holds fresh; capacity 200 l; usable 100 % }\n"
    make(&made, CRUISES("fills fresh, gas"));
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "| Cruise | Tank | Holds | In or out | Most between fillings or emptyings | Least left |"));
    assert_non_null(strstr(book, "| `holiday` | `bow` | fresh | 170 l | 130 l | 70 l |"));
    assert_non_null(strstr(book, "| `weekend` | `bow` | fresh | 40 l | 40 l | 160 l |"));
    assert_non_null(strstr(book, "### Gas, cruise by cruise"));
    assert_non_null(strstr(book, "| `holiday` | 1.6 kg | 1.2 kg | 3.8 kg |"));
    assert_non_null(strstr(book, "| `weekend` | 0.4 kg | 0.4 kg | 4.6 kg |"));
    compile_free(&made.compiled);
    make(&made, CRUISES(""));
    book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "| `holiday` | `bow` | fresh | 170 l | 30 l |"));
    compile_free(&made.compiled);
}

/* A circle of 16 in: a segment of a quarter of it is 4.768 in deep, of three quarters 11.232 in; each to a tenth. */
static void a_dipstick_in_inches_is_told_in_tenths(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat wren { length 40 ft; beam 12 ft; displacement 20000 lb; crew 2; currency USD; basis us; sails no }\n"
                "tank bow { holds fresh; cylinder 16 in by 4 ft athwartships }\n");
    assert_non_null(strstr(text_of(&made, "book.md"), "| 4.8 in | 8 in | 11.2 in |"));
    compile_free(&made.compiled);
}

/* One that burns gas keeps water in its coil, as another does in its tank. */
static void frost_bursts_a_water_heater_that_burns_gas_too(void **state)
{
    (void)state;
    Made made;
#define HEATED_BY_GAS(WORKS_AS)                                                                                \
    BOAT "tank bow { holds fresh; capacity 100 l }\ngas-locker box { cylinder 5 kg }\n"                        \
         "gas-appliance geyser { works-as " WORKS_AS "; locker box; output 10 kW }\n"
    make(&made, HEATED_BY_GAS("water-heater"));
    assert_non_null(strstr(text_of(&made, "book.md"), "Shut the gas of `geyser` and let its water out by the drain"));
    compile_free(&made.compiled);
    make(&made, HEATED_BY_GAS("cooker"));
    assert_null(strstr(text_of(&made, "book.md"), "Shut the gas of `geyser`"));
    compile_free(&made.compiled);
}

/* A gas drain stays open, whatever valve the spec says is in it. */
static void nobody_is_told_to_shut_a_gas_drain(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "gas-locker box { }\n"
                     "through-hull gas-fall { bore 25 mm; height -0.1 m; seacock yes; serves box }\n"
                     "through-hull gas-open { bore 25 mm; height 0.1 m; serves box }\n"
                     "through-hull outlet { bore 38 mm; height -0.1 m; seacock yes }\n"
                     "fixture sink { drains-to outlet }\n");
    const char *book = text_of(&made, "book.md");
    assert_non_null(strstr(book, "Close the seacocks of `outlet`; move each"));
    assert_null(strstr(book, "seacocks of `gas-fall`"));
    assert_null(strstr(book, "clamps of `gas-open`"));
    compile_free(&made.compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_tap_is_drawn_once_for_each_way),
        cmocka_unit_test(a_tank_that_a_hose_joins_to_another_is_drawn),
        cmocka_unit_test(waste_is_drawn_to_where_it_leaves),
        cmocka_unit_test(openings_stand_where_they_are),
        cmocka_unit_test(a_boat_without_water_has_no_picture_of_it),
        cmocka_unit_test(a_long_line_goes_on_on_another_page),
        cmocka_unit_test(steps_name_what_is_aboard_and_no_more),
        cmocka_unit_test(fuel_exhaust_and_bilge_are_bought_by_the_metre_too),
        cmocka_unit_test(chain_and_rope_are_bought_by_the_metre),
        cmocka_unit_test(steps_fit_what_a_thing_is),
        cmocka_unit_test(a_return_is_told_to_be_opened_again),
        cmocka_unit_test(the_table_of_spaces_says_what_the_rules_take),
        cmocka_unit_test(frost_asks_nothing_of_a_pump_for_fuel),
        cmocka_unit_test(a_cockpit_drain_is_never_closed_when_she_is_left),
        cmocka_unit_test(the_book_tells_gas_by_the_day_and_tanks_by_the_dipstick),
        cmocka_unit_test(the_book_tells_what_a_cruise_takes_between_fillings),
        cmocka_unit_test(a_dipstick_in_inches_is_told_in_tenths),
        cmocka_unit_test(frost_bursts_a_water_heater_that_burns_gas_too),
        cmocka_unit_test(nobody_is_told_to_shut_a_gas_drain),
        cmocka_unit_test(hose_is_bought_by_the_metre_and_clamps_by_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
