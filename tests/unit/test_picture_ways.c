/*
 * Pictures that people build from: what is before what, what is one line and what are two, and nothing that cannot be seen.
 */
#include "test_pictures.h"

#include <math.h>

#define BOAT                                                                                                                  \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; sails no; heel 7 deg }\n"
#define BANK "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"

static void absent(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) {
        fail_msg("`%s` is there", words);
    }
}

/* Whether a line is the contact of a switch: it slants, by 3.4 mm to the right and 1.7 mm up. */
static bool begins_switch(const char *line)
{
    double x1, y1, x2, y2;
    return sscanf(line, "<line x1=\"%lf\" y1=\"%lf\" x2=\"%lf\" y2=\"%lf\"", &x1, &y1, &x2, &y2) == 4 && fabs(x2 - x1 - 3.4) < 0.01 &&
           fabs(y1 - y2 - 1.7) < 0.01;
}

/* Where the first contact begins; or the first fuse, a box of 4.8 by 1.8 mm. -1: none. */
static double x_of_switch(const char *svg)
{
    for (const char *at = strstr(svg, "<line x1="); at != NULL; at = strstr(at + 1, "<line x1=")) {
        if (begins_switch(at)) {
            return strtod(at + strlen("<line x1=\""), NULL);
        }
    }
    return -1.0;
}

static double x_of_fuse(const char *svg)
{
    double x, y;
    const char *box = strstr(svg, "width=\"4.8\" height=\"1.8\"");
    while (box != NULL && box > svg && *box != '<') {
        box--;
    }
    return box != NULL && sscanf(box, "<rect x=\"%lf\" y=\"%lf\"", &x, &y) == 2 ? x : -1.0;
}

/* Battery, switch, fuse, bus: as the spec has it, and as whoever wires from the sheet puts them. */
static void a_switch_stands_before_the_fuse_of_its_cable(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT BANK "switch off { fed-by house; works-as battery }\n"
                          "bus plus { fed-by off; run 2 m; wire 95 mm2; protect 350 A fuse class-t 0.15 m from source }\n"
                          "load lamp { fed-by plus; run 2 m; wire 2.5 mm2; draw 1 A }\n");
    const char *svg = text_of(&made, "img/power-dc.svg");
    assert_true(x_of_switch(svg) > 0.0 && x_of_fuse(svg) > 0.0);
    assert_true(x_of_switch(svg) < x_of_fuse(svg));
    compile_free(&made.compiled);
    make(&made, BOAT BANK "switch off { fed-by house; works-as battery; run 1 m; wire 95 mm2; protect 350 A fuse class-t 0.15 m from source }\n"
                          "load lamp { fed-by off; run 2 m; wire 2.5 mm2; draw 1 A }\nload fan { fed-by off; run 2 m; wire 2.5 mm2; draw 1 A }\n");
    svg = text_of(&made, "img/power-dc.svg");
    assert_true(x_of_switch(svg) > x_of_fuse(svg) && x_of_fuse(svg) > 0.0); /* a fuse in the cable that leads to the switch */
    compile_free(&made.compiled);
}

/* A switch that joins two banks is no load: each of its cables names what is beyond it, and the contact is drawn once. */
static void a_switch_that_joins_banks_is_drawn_as_one(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT BANK "bank start { chemistry agm; voltage 12 V; capacity 80 Ah }\n"
                          "switch both { works-as emergency; fed-by house, start; run 0.3 m; wire 35 mm2 }\n"
                          "load lamp { fed-by house; run 2 m; wire 2.5 mm2; draw 1 A }\n");
    const char *svg = text_of(&made, "img/power-dc.svg");
    const char *beyond = strstr(svg, ">beyond both<");
    assert_non_null(beyond);
    assert_non_null(strstr(beyond + 1, ">beyond both<"));
    int contacts = 0;
    for (const char *at = strstr(svg, "<line x1="); at != NULL; at = strstr(at + 1, "<line x1=")) {
        contacts += begins_switch(at);
    }
    assert_int_equal(contacts, 2); /* its own, and that of the legend */
    compile_free(&made.compiled);
}

/* A panel that a converter alone feeds has one source: no arrow leads to it from nowhere. */
static void a_panel_has_no_source_that_is_none(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT BANK "solar roof { rated 100 W; feeds small { run 1 m } }\n"
                          "panel small { rated 40 A }\nload lamp { fed-by small; run 2 m; wire 2.5 mm2; draw 1 A }\n");
    absent(text_of(&made, "img/power-dc.svg"), "drawn elsewhere");
    compile_free(&made.compiled);
}

/* The next line of three points from `svg` on; NULL: none. */
static const char *next_bent_line(const char *svg, double x[3], double y[3])
{
    static const char head[] = "<polyline points=\"";
    for (const char *at = strstr(svg, head); at != NULL; at = strstr(at + 1, head)) {
        int length = 0;
        if (sscanf(at + strlen(head), "%lf,%lf %lf,%lf %lf,%lf%n", &x[0], &y[0], &x[1], &y[1], &x[2], &y[2], &length) == 6 &&
            at[strlen(head) + (size_t)length] == '"') {
            return at + 1;
        }
    }
    return NULL;
}

/* The grounding conductor leaves the line, and comes back to it behind the isolator: what is joined before would pass that by. */
static void the_ground_is_joined_behind_the_isolator(void **state)
{
    (void)state;
    Made made;
    double out_x[3], out_y[3], back_x[3], back_y[3];
    make(&made, BOAT BANK "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; isolation galvanic; bonded yes }\n"
                          "charger ch { fed-by shore; run 2 m; wire 1.5 mm2; ground 1.5 mm2; output 10 A at 14.4 V; feeds house { run 1 m } }\n");
    const char *out = next_bent_line(text_of(&made, "img/power-ac.svg"), out_x, out_y);
    assert_non_null(out);
    assert_non_null(next_bent_line(out, back_x, back_y));
    assert_true(out_x[0] < out_x[2] && out_x[2] < back_x[0] && back_x[0] < back_x[2]);
    assert_true(fabs(out_y[2] - back_y[0]) < 0.01 && fabs(out_y[0] - back_y[2]) < 0.01);
    compile_free(&made.compiled);
}

/* Vent and pump-out are two fittings of a tank: drawn as one pipe that parts, the vent would be flooded and the tank sucked in. */
static void a_tank_has_a_line_for_each_fitting(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "tank black { holds black; capacity 60 l; vent 38 mm; pump-out 38 mm }\n");
    const char *svg = text_of(&made, "img/water-waste.svg");
    double x1, y1, x2, y2;
    int down = 0;
    for (const char *at = strstr(svg, "<line x1="); at != NULL; at = strstr(at + 1, "<line x1=")) {
        if (sscanf(at, "<line x1=\"%lf\" y1=\"%lf\" x2=\"%lf\" y2=\"%lf\"", &x1, &y1, &x2, &y2) == 4 && x1 == x2 && y2 - y1 > 8.0) {
            down++;
            assert_true(x1 > 10.4 && x1 < 15.6); /* below the symbol of the tank ... */
            assert_true(fabs(y1 - 17.8) < 0.01); /* ... at its own bottom, and not out of the other line, which lies at 15 */
        }
    }
    assert_int_equal(down, 1);
    compile_free(&made.compiled);
}

/* Two sinks of one outlet have one seacock. */
static void an_outlet_is_drawn_once(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "through-hull out { bore 38 mm; height -0.1 m; seacock yes }\nfixture one { drains-to out }\nfixture two { drains-to out }\n");
    const char *svg = text_of(&made, "img/water-waste.svg");
    expect_words(svg, (const char *const[]){">see above<", ">drawn above<", ">hull, with seacock<", NULL});
    absent(svg, ">toilet<"); /* the legend has what is drawn */
    absent(svg, ">hot water<");
    compile_free(&made.compiled);
}

typedef struct Level {
    double from, to, y;
    int line;
} Level;

/* A return to the second tank, and the heater's feed from the first: no part of one lies on the other. */
static void no_line_of_fuel_lies_on_another(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "engine diesel { rated 28 kW at 3000 rpm; fuel diesel }\nheater stove { output 2 kW; fuel-rate 0.24 l/h }\n"
                     "tank port { holds fuel; capacity 80 l }\ntank stbd { holds fuel; capacity 80 l }\n"
                     "fuel-line feed-port { from port; to diesel }\nfuel-line feed-stbd { from stbd; to diesel }\n"
                     "fuel-line back-port { from diesel; to port; return yes }\nfuel-line back-stbd { from diesel; to stbd; return yes }\n"
                     "fuel-line heater-line { from port; to stove }\n");
    const char *svg = text_of(&made, "img/drive-fuel.svg");
    Level levels[32];
    int count = 0, line = 0;
    for (const char *at = strstr(svg, "<polyline points=\""); at != NULL; at = strstr(at + 1, "<polyline points=\""), line++) {
        double x[4], y[4];
        int read = sscanf(at, "<polyline points=\"%lf,%lf %lf,%lf %lf,%lf %lf,%lf", &x[0], &y[0], &x[1], &y[1], &x[2], &y[2], &x[3], &y[3]);
        for (int i = 0; read == 8 && i < 3; i += 2) {
            levels[count++] = (Level){x[i], x[i + 1], y[i], line};
        }
    }
    assert_int_equal(line, 5);
    for (int i = 0; i < count; i++) {
        for (int k = 0; k < i; k++) {
            bool apart = fabs(levels[i].y - levels[k].y) > 1.0 || levels[i].to < levels[k].from || levels[k].to < levels[i].from;
            assert_true(apart || levels[i].line == levels[k].line);
        }
    }
    compile_free(&made.compiled);
}

/* A grounding conductor is drawn wherever the wire list has one; and the legend shows what is there. */
static void no_grounding_conductor_is_dropped(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; poles 2 }\n"
                     "panel box { fed-by shore; run 0.8 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker miniature; poles 2 }\n"
                     "outlet one { fed-by box; run 2 m; wire 2.5 mm2; ground 1.5 mm2; protect 10 A breaker; poles 2 }\n");
    const char *svg = text_of(&made, "img/power-ac.svg");
    expect_words(svg, (const char *const[]){">2.5 mm2, ground too, 0.8 m", ">2.5 mm2, ground 1.5 mm2, 2 m", ">panel<", NULL});
    absent(svg, ">2.5 mm2, 0.8 m");
    absent(svg, ">transformer<");
    absent(svg, ">generator<");
    compile_free(&made.compiled);
}

/* Two through-hulls under one name are two; an exhaust ends in an opening too, of which nothing is known unless one serves it. */
static void every_opening_is_told_with_its_number(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "through-hull drains { bore 38 mm; height 0.1 m; seacock yes; count 2 }\nexhaust pipe { bore 51 mm; run 3 m }\n"
                     "engine diesel { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\n");
    expect_words(text_of(&made, "img/hull-openings.svg"),
                 (const char *const[]){">so many of them: 2<", ">pipe<", ">outlet not stated<", ">with a seacock<", NULL});
    expect_words(text_of(&made, "book.md"), (const char *const[]){"| `drains` | through-hull | 2 | 38 mm |", "the outlet of `pipe`", NULL});
    absent(text_of(&made, "img/hull-openings.svg"), "bilge pump");
    compile_free(&made.compiled);
    make(&made, BOAT "through-hull out { bore 51 mm; height 0.2 m; serves pipe }\nexhaust pipe { bore 51 mm; run 3 m }\n"
                     "engine diesel { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\n");
    absent(text_of(&made, "img/hull-openings.svg"), "outlet not stated");
    absent(text_of(&made, "book.md"), "the outlet of `pipe`");
    compile_free(&made.compiled);
}

/* A charger that offers as much as all the rest of the picture: its curve keeps clear of the frame. */
static void no_curve_lies_under_the_frame_or_under_another_unsaid(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT BANK "bank start { chemistry agm; voltage 12 V; capacity 80 Ah }\nengine diesel { rated 20 kW at 3000 rpm; fuel diesel }\n"
                          "alternator gen { engine diesel; output 10 A at 14 V; feeds start { run 1 m; wire 10 mm2 } }\n"
                          "converter pass { fed-by start; run 1 m; wire 10 mm2; output 10 A at 12 V; efficiency 100 %; surplus-only yes; "
                          "feeds house { run 1 m; wire 10 mm2 } }\n"
                          "load lamp { fed-by house; run 1 m; wire 2.5 mm2; draw 1 A; use out 24 h }\nday out { engine 3 h }\n");
    const char *svg = text_of(&made, "img/energy-out.start.svg");
    expect_words(svg, (const char *const[]){">gen offers<", ">gen and pass together<", NULL});
    compile_free(&made.compiled);
}

/*
 * 3.5 A for 40 % of a day at 12.8 V are 430 Wh; out of a bank of 48 V, over 14.2 V and 90 %, 530 Wh. Both banks have a picture, and
 * the book a row for each end.
 */
static void what_one_bank_gives_another_is_seen_at_both(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank drive { chemistry lifepo4; voltage 48 V; capacity 60 Ah }\nbank house { chemistry lifepo4; voltage 12.8 V; capacity 50 Ah }\n"
                     "converter step-down { fed-by drive; run 1 m; wire 4 mm2; output 15 A at 14.2 V; efficiency 90 %; "
                     "feeds house { run 1 m; wire 4 mm2 } }\nload box { fed-by house; draw 3.5 A; use moored 40 % }\nday moored { water 1 l per person }\n");
    expect_words(text_of(&made, "img/energy-moored.drive.svg"), (const char *const[]){">step-down takes<", NULL});
    expect_words(text_of(&made, "img/energy-moored.house.svg"), (const char *const[]){">step-down brings<", NULL});
    const char *book = text_of(&made, "book.md");
    expect_words(book, (const char *const[]){"| `drive` | `step-down` | – | 530 Wh | `house` |", "| `house` | `step-down` | 430 Wh | – | `drive` |",
                                             "No source brings the banks anything from outside then.", NULL});
    absent(book, "No source brings the banks anything then.");
    compile_free(&made.compiled);
}

#define ARRAY(NAME, WATTS) "solar " NAME " { rated " WATTS "; feeds house { run 1 m; wire 4 mm2 } }\n"

/* Of six sources five are drawn: not the weakest, which is named; and curves that lie on each other have one label. */
static void the_strongest_sources_are_drawn(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT BANK ARRAY("weak", "20 W") ARRAY("one", "50 W") ARRAY("two", "50 W") ARRAY("three", "50 W") ARRAY("four", "50 W")
             "engine diesel { rated 20 kW at 3000 rpm; fuel diesel }\n"
             "alternator gen { engine diesel; output 100 A at 14 V; feeds house { run 1 m; wire 35 mm2 } }\n"
             "day out { engine 3 h; sun 4 h }\nload lamp { fed-by house; draw 1 A; use out 24 h }\n");
    const char *svg = text_of(&made, "img/energy-out.house.svg");
    expect_words(svg, (const char *const[]){">gen offers<", ">four offers<", "they bring no more: weak.", ">one and 3 more together<", NULL});
    absent(svg, ">weak offers<");
    absent(svg, ">one and two together<");
    compile_free(&made.compiled);
}

/* The line of the eighth opening, 257.38 mm from the edge, would run through words that end at the right one: they end before it. */
static void the_name_of_the_heeled_water_keeps_clear_of_openings(void **state)
{
    (void)state;
    for (int high = 0; high <= 1; high++) {
        Made made;
        Buf spec;
        Arena arena = check_arena();
        buf_init(&spec, &arena);
        buf_text(&spec, BOAT);
        for (int i = 0; i < 7; i++) {
            buf_format(&spec, "through-hull fitting-%d { bore 25 mm; height -0.3 m; seacock yes }\n", i);
        }
        buf_format(&spec, "bilge-pump bilge { rated 1500 l/h; discharge-height %s }\n", high ? "0.6 m" : "0.05 m");
        make(&made, spec.text);
        const char *svg = text_of(&made, "img/hull-openings.svg");
        const char *words = strstr(svg, ">heeled, at the side: "), *x = words;
        assert_non_null(words);
        while (x > svg && strncmp(x, "<text x=\"", 9) != 0) {
            x--;
        }
        assert_near(strtod(x + 9, NULL), high ? 257.38 - 3.2 : 287.0, 0.05);
        absent(svg, "Not to scale"); /* heights are, as the block says */
        compile_free(&made.compiled);
        arena_free(&arena);
    }
}

/* Where the words begin stand, down the page. */
static double y_of_words(const char *svg, const char *words)
{
    const char *at = strstr(svg, words);
    while (at != NULL && at > svg && strncmp(at, "<text ", 6) != 0) {
        at--;
    }
    const char *y = at != NULL ? strstr(at, " y=\"") : NULL;
    return y != NULL ? strtod(y + strlen(" y=\""), NULL) : -1.0;
}

/* The cable of one and the name of the next, below it, are apart by a line; a switch that joins two banks is named on both. */
static void sources_below_each_other_do_not_touch(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT BANK "bank start { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
                          "solar roof { rated 100 W; feeds house { run 2 m; wire 6 mm2; protect 15 A fuse } }\n"
                          "charger shore { output 15 A at 14.4 V; feeds house { run 1 m; wire 4 mm2; protect 20 A fuse } }\n"
                          "switch combine { fed-by start, house; works-as emergency; run 1 m; wire 35 mm2; protect 200 A fuse }\n");
    const char *svg = text_of(&made, "img/power-dc.svg");
    double cable = y_of_words(svg, ">6 mm2, 2 m"), next = y_of_words(svg, ">shore, 15 A");
    assert_true(cable > 0.0 && next > cable + 3.0);
    const char *first = strstr(svg, ">combine");
    assert_true(first != NULL && strstr(first + 1, ">combine") != NULL);
    compile_free(&made.compiled);
}

static void a_tank_of_fresh_water_shows_its_fill_and_vent(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "tank water { holds fresh; capacity 90 l; fill 38 mm; vent 16 mm }\npump p { hand yes; from water; to sink }\n"
                     "pump q { hand yes; from water; to basin }\nfixture sink { }\nfixture basin { }\n");
    const char *svg = text_of(&made, "img/water-fresh.svg"), *fill = strstr(svg, ">fill<");
    expect_words(svg, (const char *const[]){">fill<", ">38 mm<", ">vent<", ">16 mm<", NULL});
    assert_null(strstr(fill + 1, ">fill<")); /* once, however many pumps draw from it */
    compile_free(&made.compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_switch_stands_before_the_fuse_of_its_cable),
        cmocka_unit_test(a_switch_that_joins_banks_is_drawn_as_one),
        cmocka_unit_test(a_tank_has_a_line_for_each_fitting),
        cmocka_unit_test(a_panel_has_no_source_that_is_none),
        cmocka_unit_test(the_ground_is_joined_behind_the_isolator),
        cmocka_unit_test(an_outlet_is_drawn_once),
        cmocka_unit_test(no_line_of_fuel_lies_on_another),
        cmocka_unit_test(no_grounding_conductor_is_dropped),
        cmocka_unit_test(every_opening_is_told_with_its_number),
        cmocka_unit_test(no_curve_lies_under_the_frame_or_under_another_unsaid),
        cmocka_unit_test(what_one_bank_gives_another_is_seen_at_both),
        cmocka_unit_test(the_strongest_sources_are_drawn),
        cmocka_unit_test(the_name_of_the_heeled_water_keeps_clear_of_openings),
        cmocka_unit_test(sources_below_each_other_do_not_touch),
        cmocka_unit_test(a_tank_of_fresh_water_shows_its_fill_and_vent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
