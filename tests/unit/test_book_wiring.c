/*
 * The pages that a person wires from: pictures, panel schedules, wire lists and settings in that order, mains with their own
 * caution; labels that come from names alone; and pictures of any size of boat whose words do not run into one another.
 */
#include "check.h"
#include "compile.h"

#include "output/bom.h"
#include "output/book.h"
#include "output/svg.h"
#include "output/wires.h"

#include <stdlib.h>
#include <string.h>

#define BOAT "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"
#define WIRED \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; max-charge 60 A }\n" \
    "panel main { fed-by house; run 1 m; wire 25 mm2; protect 80 A fuse; rated 100 A }\n" \
    "circuit lights { fed-by main; run 5 m; wire 2.5 mm2; protect 10 A breaker; studs 4 mm }\n" \
    "load lamps { fed-by lights; draw 1 A; count 4 }\n"
#define SHORE \
    "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; poles 2; " \
    "ground-fault 30 mA; isolation galvanic; bonded yes }\n" \
    "circuit sockets { fed-by shore; run 4 m; wire 2.5 mm2; ground 1.5 mm2; protect 10 A breaker }\n" \
    "outlet galley { fed-by sockets }\n"

typedef struct Made {
    Compiled compiled;
    BookFile *files;
    size_t count;
    Str power; /* the chapter */
} Made;

static void make(Made *made, const char *spec)
{
    compile_text(&made->compiled, spec);
    assert_int_equal(made->compiled.spec->messages.count, 0);
    made->count = book_files(&made->compiled.arena, made->compiled.outcome, &made->files);
    const char *from = strstr(made->files[0].bytes.text, "\n## Power\n");
    assert_non_null(from);
    const char *to = strstr(from + 1, "\n## ");
    made->power = (Str){from, to != NULL ? (size_t)(to - from) : strlen(from)};
}

/* Where a text stands in the chapter; the test fails if it does not. */
static size_t at(const Made *made, const char *text)
{
    const char *found = strstr(made->power.text, text);
    if (found == NULL || found >= made->power.text + made->power.length) {
        print_error("the chapter does not say `%s`\n", text);
        fail();
    }
    return (size_t)(found - made->power.text);
}

static const char *text_of(const Made *made, const char *name)
{
    for (size_t i = 0; i < made->count; i++) {
        if (strcmp(made->files[i].name, name) == 0) {
            return made->files[i].bytes.text;
        }
    }
    fail_msg("there is no %s", name);
    return "";
}

static void what_a_person_wires_from_stands_first_and_in_order(void **state)
{
    (void)state;
    static const char *const order[] = {"**Caution.** Before you touch a cable",
                                        "(img/power-dc.svg)",
                                        "\n### Panel schedules, direct current\n",
                                        "\n### Wire list, direct current\n",
                                        "\n### Mains: alternating current\n",
                                        "**Caution.** Mains kill",
                                        "(img/power-ac.svg)",
                                        "\n### Sources of mains\n",
                                        "\n### Panel schedules, alternating current\n",
                                        "\n### Wire list, alternating current\n",
                                        "\n### Mains: tests before first use\n",
                                        "\n### Settings\n",
                                        "\n### Banks\n",
                                        "\n### Currents and drops, direct current\n"};
    Made made;
    make(&made, BOAT WIRED SHORE);
    for (size_t i = 1; i < sizeof order / sizeof order[0]; i++) {
        assert_true(at(&made, order[i - 1]) < at(&made, order[i]));
    }
    compile_free(&made.compiled);
}

static void a_schedule_and_a_list_say_what_is_needed_to_wire(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT WIRED SHORE);
    at(&made, "\n| `lights` | circuit | `lamps` | 4 A | 10 A breaker | 2.5 mm2 | `main to lights` |\n");
    at(&made, "\n| `main to lights` | 2.5 mm2 | 60 C (assumed) | – | red / black or yellow | 5 m | 4 rings 2.5 mm2, hole 4 mm | 10 A breaker |\n");
    at(&made, "\n#### inlet shore\n");
    at(&made, "\n| `shore to breaker` | 2.5 mm2, ground 2.5 mm2 | 60 C (assumed) | – | brown / light blue / green-yellow | 1 m | "
              "6 ferrules 2.5 mm2 | 16 A breaker, 2-pole, opens at 30 mA | line and neutral | 30 mA |\n");
    at(&made, "| 4 m | 4 ferrules 2.5 mm2, 2 ferrules 1.5 mm2 | 10 A breaker | not stated | 30 mA at `shore` |\n");
    compile_free(&made.compiled);
}

/* Inverter and charger in one case: one cable leads to their studs, with one fuse, and what they take and bring goes by it. */
static void what_is_bolted_on_has_no_cable_and_counts_in_the_one_before_it(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT WIRED "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; protect 16 A breaker; poles 2 }\n"
                           "circuit to-combi { fed-by shore; run 1 m; wire 2.5 mm2; protect 16 A breaker; poles 2 }\n"
                           "bus combi-studs { fed-by house; run 1 m; wire 6 mm2; protect 50 A fuse class-t 0.1 m from source }\n"
                           "inverter combi { fed-by combi-studs; run 0 m; rated 1200 W; output 230 V; passes to-combi; transfer yes }\n"
                           "charger cc { fed-by to-combi; output 70 A at 14.4 V; feeds combi-studs { run 0 m } }\n");
    at(&made, "| `house to combi-studs` | 6 mm2 |");
    assert_null(strstr(made.power.text, "`combi-studs to combi`"));
    assert_null(strstr(made.power.text, "`cc to combi-studs`"));
    bool inverter = false, overloaded = false;
    for (const Finding *f = made.compiled.outcome->findings; f != NULL; f = f->next) {
        Str of = entity_name(outcome_first(made.compiled.outcome)->model, f->subject);
        assert_false(strcmp(f->rule->name, "wire-unprotected") == 0 && (str_is(of, "cc") || str_is(of, "combi")));
        inverter = inverter || (strcmp(f->rule->name, "inverter-feed") == 0 && str_is(of, "combi-studs"));
        overloaded = overloaded || (strcmp(f->rule->name, "protect-tight") == 0 && str_is(of, "combi-studs"));
    }
    assert_true(inverter && overloaded);
    compile_free(&made.compiled);
}

/* Three strings of two: one link in each string, and two from string to string on either pole; in the bill by the piece. */
static void the_links_of_a_bank_are_counted_and_told(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 6 V; capacity 200 Ah; series 2; parallel 3 }\n"
                     "bank start { chemistry agm; voltage 12 V; capacity 80 Ah }\n"
                     "switch off { works-as battery; fed-by house; rated 200 A }\n"
                     "bus plus { fed-by off; run 1 m; wire 50 mm2; protect 150 A fuse }\n"
                     "load lamp { fed-by start; run 1 m; wire 2.5 mm2; protect 5 A fuse; draw 1 A }\n");
    at(&made, "\n- the links between the batteries of `house`, 7 of them, 50 mm2, each with a ring on both ends:");
    assert_null(strstr(made.power.text, "the links between the batteries of `start`"));
    Buf bill;
    buf_init(&bill, &made.compiled.arena);
    bom_csv(&bill, made.compiled.outcome);
    assert_non_null(strstr(bill.text, "\"link between batteries, 50 mm2, a ring on each end\",battery,power,7,"));
    compile_free(&made.compiled);
}

/* Two batteries of a bank lie beside each other where nobody says how: a link on either pole. */
static void a_bank_of_two_batteries_has_links_too(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; count 2 }\n"
                     "switch off { works-as battery; fed-by house; rated 200 A }\n"
                     "bus plus { fed-by off; run 1 m; wire 50 mm2; protect 150 A fuse }\n");
    at(&made, "\n- the links between the batteries of `house`, 2 of them, 50 mm2, each with a ring on both ends:");
    at(&made, "house to off");
    at(&made, "| not stated |"); /* the cable up to the switch */
    compile_free(&made.compiled);
}

/* What a converter alone feeds says so, by what cable and device, and what it can give. */
static void a_panel_behind_a_converter_says_what_feeds_it(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT WIRED "converter conv { fed-by main; run 1 m; protect 20 A fuse; output 15 A at 5 V; "
                           "feeds five { run 1 m; wire 4 mm2; protect-output 20 A fuse } }\npanel five { }\n"
                           "circuit hub { fed-by five; run 1 m; wire 1.5 mm2; protect 5 A fuse }\n");
    at(&made, "current 0 A; ways still free –. Fed by `conv`, 4 mm2, 20 A fuse.");
    compile_free(&made.compiled);
}

/*
 * An isolator is measured around; of a transformer that isolates there is no connection to find, and neutral meets ground at
 * it; where neither is said an isolator may lie there. The device of such an inlet guards no cable behind it.
 */
static void the_tests_of_mains_go_by_what_keeps_the_shore_apart(void **state)
{
    (void)state;
#define KEPT_APART(LINES)                                                                                                      \
    BOAT WIRED "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; protect 16 A breaker; poles 2; ground-fault 30 mA; " \
               "bonded yes" LINES " }\npanel ac { fed-by shore; run 3 m; wire 2.5 mm2 }\n"
    static const struct {
        const char *spec, *wanted, *unwanted;
    } cases[] = {
        {KEPT_APART("; isolation galvanic"), " A galvanic isolator lies in the way from `shore`: measure on the boat's side of it",
         "Not so from"},
        {KEPT_APART(""), " If a galvanic isolator lies in the way from `shore`, measure on the boat's side", "A galvanic isolator lies"},
        {KEPT_APART("; isolation none"), "(common practice, no source). Insulation: at least", "isolator lies"},
        {KEPT_APART("; isolation transformer"), " Not so from `shore`, whose ground ends at the isolation transformer: between that "
                                                "pin and anything aboard there is no connection at all", "isolator lies"},
        {KEPT_APART("; isolation transformer"), ", but behind the transformer of `shore`, where they are joined once", NULL},
        {KEPT_APART("; isolation transformer"), "joined behind the transformer, where it begins", NULL},
        {KEPT_APART("; isolation transformer"), "none from `shore`", "30 mA at `shore`"},
        {KEPT_APART("; isolation none; polarisation-transformer yes"), "where they are joined once, at the transformer", "Not so from"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Made made;
        make(&made, cases[i].spec);
        at(&made, cases[i].wanted);
        if (cases[i].unwanted != NULL) {
            const char *found = strstr(made.power.text, cases[i].unwanted);
            assert_true(found == NULL || found >= made.power.text + made.power.length);
        }
        compile_free(&made.compiled);
    }
}

/* Of mains each source says where its neutral meets ground and what keeps it from the others; a way without a guard says so. */
static void the_sources_of_mains_say_what_a_surveyor_asks(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT WIRED
         "inlet shore { rated 16 A at 230 V; frequency 50 Hz; run 1 m; wire 2.5 mm2; protect 16 A breaker; poles 2; "
         "ground-fault 30 mA; bonded yes }\n"
         "generator genset { rated 3000 W at 230 V; bonds-neutral no }\n"
         "switch change { works-as transfer; fed-by shore, genset; poles 2 }\n"
         "panel ac { fed-by change; run 1 m; wire 2.5 mm2 insulation 70 C }\n"
         "circuit to-combi { fed-by ac; run 1 m; wire 2.5 mm2; protect 16 A fuse }\n"
         "inverter combi { fed-by main; run 1 m; rated 800 W; output 230 V; passes to-combi; transfer yes 16 A; "
         "bonds-neutral yes }\n"
         "outlet socket { fed-by combi; run 2 m; wire 2.5 mm2; protect 10 A breaker; poles 1; ground-fault 30 mA }\n");
    at(&made, "\n| `shore` | inlet | 16 A at 230 V, 50 Hz | ashore, nowhere aboard | joined | `change` (switches line and neutral), "
              "`combi` (transfer switch inside) |\n");
    at(&made, "\n| `genset` | generator | 3000 W at 230 V | nowhere: a fault opens no breaker | to be measured: no property says it | `change`");
    at(&made, "| none stated; "); /* nothing guards what the generator feeds, whatever guards the shore */
    at(&made, " asked for | – | 30 mA at `shore`; none from `genset` |\n");
    at(&made, "| 16 A fuse | one conductor (a fuse) | 30 mA at `shore`; none from `genset` |\n");
    at(&made, "| 10 A breaker, 1-pole, opens at 30 mA | line alone | 30 mA |\n");
    at(&made, "\n| `combi to socket` | 30 mA | | | |\n"); /* the sheet of tests */
    at(&made, "| `to-combi` | circuit | `combi` (passes it through) |");
    compile_free(&made.compiled);
}

/* A row of the schedule and of the list, in a boat with another circuit before it: the same. */
static void another_circuit_changes_no_label(void **state)
{
    (void)state;
    static const char row[] = "\n| `main to lights` | 2.5 mm2 |";
    Made made;
    make(&made, BOAT WIRED);
    at(&made, row);
    compile_free(&made.compiled);
    make(&made, BOAT "circuit first { fed-by main; run 2 m; wire 4 mm2; protect 10 A breaker }\n" WIRED);
    at(&made, row);
    at(&made, "\n| `main to first` | 4 mm2 |");
    compile_free(&made.compiled);
}

/* Pictures */

typedef struct Words {
    double left, right, top, bottom; /* mm */
    const char *line;
} Words;

static double attribute(const char *element, const char *name)
{
    const char *found = strstr(element, name);
    assert_non_null(found);
    return strtod(found + strlen(name), NULL);
}

/* Capitals are 0.73 of a size high, descenders reach 0.22 below the line: DejaVu Sans, measured. */
static Words words_of(Arena *arena, const char *element)
{
    const char *shown = strchr(element, '>') + 1;
    double size = attribute(element, " font-size=\"");
    double x = attribute(element, " x=\""), y = attribute(element, " y=\"");
    Str text = str_from(str_copy(arena, (Str){shown, strcspn(shown, "<")}));
    double width = svg_text_width(text, size);
    double left = strstr(element, "text-anchor=\"middle\"") != NULL ? x - width / 2.0 : x;
    return (Words){left, left + width, y - 0.73 * size, y + 0.22 * size, element};
}

static bool run_into_one_another(const Words *a, const Words *b)
{
    return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}

static void check_words(Arena *arena, const BookFile *picture)
{
    enum { MOST = 1000 };
    Words *words = ARENA_ARRAY(arena, Words, MOST);
    size_t count = 0;
    for (const char *at = strstr(picture->bytes.text, "<text "); at != NULL; at = strstr(at + 1, "<text ")) {
        assert_true(count < MOST);
        words[count] = words_of(arena, str_copy(arena, (Str){at, strcspn(at, "\n")}));
        for (size_t i = 0; i < count; i++) {
            if (run_into_one_another(&words[i], &words[count])) {
                fail_msg("%s: one upon the other:\n%s\n%s", picture->name, words[i].line, words[count].line);
            }
        }
        assert_true(words[count].right <= 185.0 && words[count].left >= 5.0 && words[count].bottom <= 272.0);
        count++;
    }
}

/* A boat of so many circuits of direct current and a fifth as many of mains; names with a tail. Returns its spec. */
static const char *boat_of(Arena *arena, int circuits, const char *tail)
{
    Buf spec;
    buf_init(&spec, arena);
    buf_text(&spec,
             BOAT "bank house { chemistry lifepo4; voltage 24 V; capacity 600 Ah }\n"
                  "switch house-switch { fed-by house; works-as battery; rated 400 A }\n"
                  "bus positive { fed-by house-switch; run 1 m; wire 95 mm2; protect 350 A fuse class-t; rated 400 A }\n"
                  "solar array { rated 300 W; count 4; max-output 60 A; feeds positive { run 8 m; wire 25 mm2; protect 80 A "
                  "fuse terminal; protect-output 80 A breaker hydraulic } }\n"
                  "inlet shore \"Shore inlet on the port quarter\" { rated 32 A at 230 V; run 2 m; wire 6 mm2; ground 6 mm2; "
                  "protect 32 A breaker miniature 2 m from source; poles 2; ground-fault 30 mA; isolation galvanic; bonded yes }\n"
                  "inlet second \"Second inlet, with a transformer\" { rated 16 A at 230 V; run 2 m; wire 2.5 mm2; ground "
                  "2.5 mm2; protect 16 A breaker miniature; poles 2; isolation transformer; bonded yes }\n"
                  "load cooler { fed-by second; run 4 m; wire 2.5 mm2; protect 16 A breaker miniature; draw 6 A }\n"
                  "generator genset { rated 6000 W at 230 V; bonds-neutral yes }\n"
                  "switch changeover { works-as transfer; fed-by shore, genset; rated 40 A }\n"
                  "panel ac-main { fed-by changeover; run 1 m; wire 6 mm2; protect 32 A breaker miniature; poles 2 }\n"
                  "circuit to-inverter { fed-by ac-main; run 2 m; wire 4 mm2; protect 25 A breaker miniature; poles 2 }\n"
                  "inverter sine { fed-by positive; run 1 m; wire 95 mm2; protect 300 A fuse class-t; rated 3000 W; output 230 V; "
                  "passes to-inverter; transfer yes; bonds-neutral yes }\n"
                  "charger combi { fed-by to-inverter; output 40 A at 28 V; feeds positive { run 1 m; wire 16 mm2 } }\n"
                  "panel inverted { fed-by sine; run 1 m; wire 4 mm2; protect 25 A breaker miniature; poles 2 }\n");
    for (int i = 0; i < circuits; i++) {
        if (i % 20 == 0) {
            buf_format(&spec, "panel p-%d%s { fed-by positive; run 5 m; wire 25 mm2; protect 100 A fuse bolt-on }\n", i / 20, tail);
        }
        buf_format(&spec, "circuit c-%d%s { fed-by p-%d%s; run 3 m; wire 2.5 mm2; protect 10 A breaker hydraulic }\n", i, tail,
                   i / 20, tail);
        for (int load = 0; load <= i % 3; load++) {
            buf_format(&spec, "load l-%d-%d%s \"Something in the forward cabin\" { fed-by c-%d%s; draw 1 A; count 2 }\n", i, load,
                       tail, i, tail);
        }
        if (i % 5 == 0) {
            buf_format(&spec,
                       "circuit m-%d%s { fed-by %s; run 4 m; wire 2.5 mm2; protect 16 A breaker miniature; poles 2; "
                       "ground-fault 30 mA }\noutlet o-%d%s { fed-by m-%d%s }\nload k-%d%s { fed-by o-%d%s; draw 100 W }\n",
                       i, tail, i % 10 == 0 ? "ac-main" : "inverted", i, tail, i, tail, i, tail, i, tail);
        }
    }
    return spec.text;
}

static void check_boat(int circuits, const char *tail)
{
    Arena arena = check_arena();
    Made made;
    make(&made, boat_of(&arena, circuits, tail));
    size_t pictures = 0;
    for (size_t i = 0; i < made.count; i++) {
        if (strstr(made.files[i].name, "power-") != NULL) {
            check_words(&arena, &made.files[i]);
            pictures++;
        }
    }
    assert_true(pictures >= 2);
    compile_free(&made.compiled);
    arena_free(&arena);
}

static void words_keep_apart_in_boats_of_5_to_150_circuits(void **state)
{
    (void)state;
    static const int sizes[] = {5, 20, 40, 150};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        check_boat(sizes[i], "");
        check_boat(sizes[i], "-with-a-rather-long-name-for-a-thing");
    }
}

static const BookFile *picture(const Made *made, const char *name)
{
    for (size_t i = 0; i < made->count; i++) {
        if (strcmp(made->files[i].name, name) == 0) {
            return &made->files[i];
        }
    }
    fail_msg("no picture %s", name);
    return NULL;
}

/* The way of mains from the shore: what stands in it is said in the one picture of a small boat. */
static void the_picture_of_mains_shows_the_way_from_the_shore(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Made made;
    make(&made, boat_of(&arena, 5, ""));
    const char *ac = picture(&made, "img/power-ac.svg")->bytes.text;
    static const char *const said[] = {">shore<", ">32 A at 230 V<", ">32 A breaker, 2-pole, 30 mA<", ">changeover, 40 A<",
                                       ">passes this, on this page<", ">passed through while it is live<",
                                       ">combi, 40 A at 28 V<",
                                       ">3000 W at 230 V, from positive<", ">joins neutral and ground<", ">o-0<", ">k-0, 100 W<",
                                       ">galvanic isolator<", ">transformer<", ">opens at leakage<"};
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        if (strstr(ac, said[i]) == NULL) {
            fail_msg("the picture does not say %s", said[i]);
        }
    }
    compile_free(&made.compiled);
    arena_free(&arena);
}

/*
 * A switch and a bus carry one pole: who joined the returning conductor of their row to what it names would make a short
 * circuit. A fuse away from its panel cuts its cable: a holder, and two ends more. Mains without a stated `ground` have no
 * conductor for it. Common practice, no source.
 */
static void no_returning_conductor_ends_on_a_switch_and_none_is_invented(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; series 2 }\n"
                     "switch off { fed-by house; works-as battery; run 1 m; wire 50 mm2; protect 100 A fuse class-t 0.2 m from source }\n"
                     "panel main { fed-by house; run 1 m; wire 50 mm2; protect 100 A fuse class-t }\n"
                     "load lamp { fed-by main; run 2 m; wire 2.5 mm2; draw 2 A; protect 5 A breaker }\n"
                     "load pump { fed-by house; run 2 m; wire 2.5 mm2; draw 2 A; protect 5 A fuse terminal }\n"
                     "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2 }\n");
    at(&made, "| `house to off` | 50 mm2 | 60 C (assumed) | – | red / black or yellow to the negative bus | 1 m | 4 rings 50 mm2, hole M8 (usual), 2 rings 50 mm2, hole to measure |");
    at(&made, "| `house to main` | 50 mm2 | 60 C (assumed) | – | red / black or yellow | 1 m | 4 rings 50 mm2, hole M8 (usual), 2 rings 50 mm2, hole to measure |");
    at(&made, "| `main to lamp` | 2.5 mm2 | 60 C (assumed) | – | red / black or yellow | 2 m | 4 rings 2.5 mm2,");
    at(&made, "| `house to pump` | 2.5 mm2 | 60 C (assumed) | – | red / black or yellow | 2 m | 2 rings 2.5 mm2, hole M8 (usual), 2 rings 2.5 mm2,"); /* it sits on the stud */
    at(&made, "| brown / light blue; no ground stated |");
    assert_non_null(strstr(made.files[0].bytes.text, "| holder for a class-t fuse of 100 A | 2 |"));
    compile_free(&made.compiled);
}

/* What the spec does not state is no device: neither in the tables nor in the picture, where a fuse would be built from it. */
static void no_device_is_drawn_that_the_spec_does_not_state(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; series 2 }\n"
                     "switch off { fed-by house; works-as battery; run 1 m; wire 50 mm2; protect 100 A fuse }\n"
                     "bus positive { fed-by off; run 1 m; wire 50 mm2 }\n"
                     "load lamp { fed-by positive; run 2 m; wire 1.5 mm2; draw 2 A }\n");
    at(&made, "| `off to positive` | 50 mm2 | 60 C (assumed) | – | red / black or yellow to the negative bus | 1 m | 1 ring 50 mm2, hole M8 (usual), 3 rings 50 mm2, hole to measure | none here: 100 A of off "
              "upstream |\n");
    at(&made, "| none stated; 3 A asked for |\n");
    const char *dc = picture(&made, "img/power-dc.svg")->bytes.text;
    assert_non_null(strstr(dc, ">by 100 A of off<"));
    assert_non_null(strstr(dc, ">no protection stated<"));
    assert_non_null(strstr(dc, ">agm, 2 x 12 V, 200 Ah<"));
    compile_free(&made.compiled);
}

/* Mains come in one sheath, the ground among them: common practice, no source. 5 m and a tenth of waste. */
static void mains_are_bought_as_one_cable(void **state)
{
    (void)state;
    static const char spec[] =
        BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; series 2 }\n"
             "switch off { fed-by house; works-as battery; run 0.6 m; wire 50 mm2 insulation 105 C; sheath conduit; bundle 4; "
             "protect 100 A fuse class-t 0.15 m from source interrupts 20 kA }\n"
             "inlet shore { rated 16 A at 230 V; run 2 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; poles 2 }\n"
             "load heater { fed-by shore; run 5 m; wire 2.5 mm2; ground 1.5 mm2; protect 10 A breaker; draw 1000 W }\n";
    Made made;
    make(&made, spec);
    at(&made, "| 50 mm2 | 105 C | in conduit, 4 together | red");
    at(&made, "| 100 A fuse class-t, 0.15 m from source, interrupts 20 kA |\n");
    Buf csv;
    buf_init(&csv, &made.compiled.arena);
    wires_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, ",0.15,20000,conduit,4,,,\r\n"));
    buf_init(&csv, &made.compiled.arena);
    bom_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "\"Cable for mains, all conductors in one sheath, 2 x 2.5 mm2 and ground 1.5 mm2, insulation 60 C "
                                     "assumed, in metres of cable\",cable,power,6,"));
    assert_null(strstr(csv.text, "Cable, 2.5 mm2"));
    compile_free(&made.compiled);
}

/* 2 x 9 m and a tenth of waste is 19.8 m; a fuse for each of four strings; 4 x 1.25 x 9.6 A is 48 A. */
static void the_cable_from_the_panels_is_listed_and_bought(void **state)
{
    (void)state;
    static const char spec[] =
        BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nday quiet { sun 2 h }\n"
             "solar roof { rated 175 W; parallel 4; open-circuit 22.8 V; short-circuit 9.6 A; max-input 60 V; panel-run 9 m; "
             "panel-wire 16 mm2 insulation 90 C; string-fuse 15 A; largest-fuse 15 A; charge-voltage 14.4 V; max-output 50 A; "
             "feeds house { run 1 m; wire 16 mm2; protect 60 A fuse 0.1 m from source } }\n"
             "solar bare { rated 50 W; feeds house { run 1 m; wire 4 mm2; protect 20 A fuse 0.1 m from source } }\n"
             "inverter sine { fed-by house; run 1 m; rated 500 W; output 230 V; idle 8 W; count 2 }\n";
    Made made;
    make(&made, spec);
    at(&made, "### Cables from panels to their controllers");
    at(&made, "| `roof` | 16 mm2 insulation 90 C | 9 m | 48 A |");
    at(&made, "the cable from the panels of `bare` to its controller");
    at(&made, "| `roof` | charging voltage of the controller | 14.4 V |");
    at(&made, "| `roof` | most voltage that the controller stands, never to be exceeded | 60 V |");
    at(&made, "| `sine` | its own idle | 8 W | 2 | all day, unless mains carry it |");
    Buf csv;
    buf_init(&csv, &made.compiled.arena);
    wires_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "roof@panels,panels,roof,16 mm2,1,90,9,18,48,15 A fuse in each string,"));
    assert_null(strstr(csv.text, "bare@panels"));
    buf_init(&csv, &made.compiled.arena);
    bom_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "16 mm2, insulation 90 C, in metres of single conductor\",cable,power,20,"));
    assert_non_null(strstr(csv.text, "\"15 A fuse for a string of panels, made for their voltage\",protection,power,4,"));
    compile_free(&made.compiled);
}

/* One option adds 8 A to an outlet, another brings a cable of its own. */
static void lists_of_cables_tell_what_depends_on_open_options(void **state)
{
    (void)state;
    static const char spec[] =
        BOAT "inlet shore { rated 16 A at 230 V; run 2 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; poles 2 }\n"
             "outlet galley { fed-by shore; run 3 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; poles 2 }\n"
             "day dock { shore 24 h }\n"
             "load kettle { fed-by galley; draw 5 A; use dock 0.2 h }\n"
             "choice warm { option none { item rug { } }\noption fan { load fan { fed-by galley; draw 8 A; use dock 8 h } }\n"
             "option oil { load oil { fed-by shore; run 5 m; wire 4 mm2; ground 4 mm2; protect 10 A breaker; draw 4 A; use dock 8 h } } }\n";
    Made made;
    make(&made, spec);
    at(&made, "| `galley` | outlet | `kettle`, `fan` (with warm=fan) | 5..13 A (depends on warm) |");
    at(&made, "| `oil` | load | – | 4 A");
    at(&made, "| `shore to oil` (with warm=oil) | 4 mm2, ground 4 mm2 |");
    Buf csv;
    buf_init(&csv, &made.compiled.arena);
    wires_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "galley,shore,galley,2.5 mm2,1,60,3,6,5..13,"));
    assert_non_null(strstr(csv.text, "oil,shore,oil,4 mm2,1,60,5,10,4,"));
    assert_non_null(strstr(csv.text, ",warm=oil\r\n"));
    buf_init(&csv, &made.compiled.arena);
    bom_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "2 x 4 mm2 and ground 4 mm2, insulation 60 C assumed, in metres of cable\",cable,power,0..6,"));
    compile_free(&made.compiled);
}

/*
 * By one row one cuts, crimps and buys: a cable that the options make otherwise has a row for each of what it may be, and
 * its currents and drops are those of these options alone. What they make alike stays one row.
 */
static void a_cable_that_options_make_otherwise_is_a_row_for_each(void **state)
{
    (void)state;
    static const char spec[] = BOAT WIRED
        "load horn { fed-by main; run 2 m; wire 1.5 mm2; protect 5 A breaker; draw 1 A }\n"
        "choice motor {\n"
        "option small { engine aux { fed-by house; run 3 m; wire 25 mm2; rated 9 kW at 3000 rpm; fuel diesel; starter 70 A }\n"
        "alternator gen { engine aux; output 10 A at 14.2 V; feeds house { run 3 m; wire 10 mm2 } } }\n"
        "option big { engine aux { fed-by house; run 7 m; wire 50 mm2; rated 15 kW at 3000 rpm; fuel diesel; starter 200 A }\n"
        "alternator gen { engine aux; output 55 A at 14.2 V; feeds house { run 7 m; wire 25 mm2; protect 80 A fuse class-t } } }\n"
        "option same { engine aux { fed-by house; run 7 m; wire 50 mm2; rated 15 kW at 3000 rpm; fuel diesel; starter 160 A }\n"
        "set horn.draw 2 A\n"
        "alternator gen { engine aux; output 50 A at 14.2 V; feeds house { run 7 m; wire 25 mm2; protect 80 A fuse class-t } } }\n}\n";
    Made made;
    make(&made, spec);
    at(&made, "| `house to aux` (with motor=small) | 25 mm2 | 60 C (assumed) | – | red / black or yellow | 3 m | 4 rings 25 mm2, hole M8 (usual) |");
    at(&made, "| `house to aux` (with motor=big or same) | 50 mm2 | 60 C (assumed) | – | red / black or yellow | 7 m | 4 rings 50 mm2,");
    at(&made, "| `gen to house` (with motor=big or same) | 25 mm2 | 60 C (assumed) | – | red / black or yellow | 7 m |");
    at(&made, "| `house to aux` (with motor=small) | 70 A |");
    at(&made, "| `house to aux` (with motor=big or same) | 160..200 A (depends on motor) |");
    at(&made, "| `main to horn` | 1.5 mm2 |");
    at(&made, "| `main to horn` | 1..2 A (depends on motor) |");
    Buf csv;
    buf_init(&csv, &made.compiled.arena);
    wires_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "\r\naux,house,aux,25 mm2,1,60,3,6,70,"));
    assert_non_null(strstr(csv.text, "\r\naux,house,aux,50 mm2,1,60,7,14,160..200,"));
    assert_non_null(strstr(csv.text, "\r\ngen@house,gen,house,10 mm2,1,60,3,6,10,,"));
    assert_non_null(strstr(csv.text, "\r\ngen@house,gen,house,25 mm2,1,60,7,14,50..55,80 A fuse class-t,"));
    assert_non_null(strstr(csv.text, ",motor=small\r\naux,house,aux,50 mm2"));
    compile_free(&made.compiled);
}

/*
 * 3 kW over 0.92 at 24 V are 135.9 A, times 1.25 169.8 A: the usual class is made for 200 A next, the one that breaks what that
 * bank gives for 175 A. Who works by the wire list is told which class that is.
 */
static void a_device_left_open_is_the_smallest_of_the_class_that_breaks(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry lifepo4; voltage 25.6 V; capacity 300 Ah; short-circuit 9000 A }\n"
                     "inverter sine { fed-by house; run 1.5 m; wire ? insulation 90 C; protect ?; rated 3000 W; output 230 V; "
                     "efficiency 92 % }\n");
    at(&made, "175 A (sized) fuse class-t");
    Buf csv;
    buf_init(&csv, &made.compiled.arena);
    wires_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, ",175 A fuse class-t,"));
    compile_free(&made.compiled);
}

/* A thing that only one option brings hangs on that option as a whole: its figures do not depend on it. */
static void what_one_option_brings_depends_on_no_choice(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT WIRED "choice cold {\n  option box { item ice }\n"
                           "  option fridge { load cooler { fed-by main; run 3 m; wire 4 mm2; protect 15 A breaker; draw 3..5 A } }\n}\n");
    at(&made, "| `main to cooler` (with cold=fridge) | 3..5 A | ");
    at(&made, "| `cooler` | load | – | 3..5 A | 15 A breaker | 4 mm2 | `main to cooler` (with cold=fridge) |");
    at(&made, "Fed by `house`, 25 mm2, 80 A fuse.");
    at(&made, "| `house to main` | 4..9 A (depends on cold) |");
    compile_free(&made.compiled);
}

/* What hangs on a panel or circuit with some option alone stands in its schedule all the same, and says with which. */
static void what_hangs_on_a_panel_is_told_over_all_options(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                     "panel main { fed-by house; run 1 m; wire 25 mm2; protect 80 A fuse; rated 100 A }\n"
                     "panel aft { fed-by house; run 1 m; wire 25 mm2; protect 80 A fuse; rated 100 A }\n"
                     "circuit galley { fed-by main; run 3 m; wire 6 mm2; protect 30 A breaker }\n"
                     "load lamp { fed-by galley; draw 1 A }\n"
                     "choice cold {\n  option box { item ice }\n  option fridge { load cooler { fed-by galley; draw 4 A }\n"
                     "load fan { fed-by aft; run 2 m; wire 1.5 mm2; protect 5 A breaker; draw 1 A } }\n}\n");
    at(&made, "| `galley` | circuit | `lamp`, `cooler` (with cold=fridge) | 1..5 A (depends on cold) |");
    at(&made, "panel aft");
    at(&made, "| `fan` | load | – | 1 A | 5 A breaker | 1.5 mm2 | `aft to fan` (with cold=fridge) |");
    compile_free(&made.compiled);
}

/* What a surveyor asks of mains is answered for each option: what keeps sources apart, and what guards an outlet. */
static void mains_are_told_for_each_option(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT
         "inlet shore { rated 16 A at 230 V; run 1 m; wire 2.5 mm2; ground 2.5 mm2; protect 16 A breaker; poles 2; isolation galvanic }\n"
         "switch turn { works-as transfer; rated 16 A; poles 2; fed-by shore; run 1 m; wire 2.5 mm2; ground 2.5 mm2 }\n"
         "outlet galley { fed-by turn; run 3 m; wire 2.5 mm2; ground 2.5 mm2; protect 10 A breaker; poles 2 }\n"
         "choice tie { option joined { set shore.bonded yes\nset shore.ground-fault 30 mA }\noption apart { set shore.bonded no } }\n");
    at(&made, "joined with joined, not joined with apart");
    at(&made, "30 mA at `shore` (with tie=joined); none from `shore` (with tie=apart)");
    compile_free(&made.compiled);
}

#define LONG_CHOICE(NAME, KIND) \
    "choice " NAME "-of-this-boat { option the-first-of-two { " KIND " }\noption the-second-of-two { " KIND " } }\n"

/* A sheet that hangs alone beside the work has to say which of the open options it shows, however many they are. */
static void each_picture_says_whole_which_options_it_shows(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT WIRED SHORE LONG_CHOICE("engine", "item one { mass 9 kg; at 2 m 0 m 0 m }") LONG_CHOICE("heater", "item two")
                                 LONG_CHOICE("toilet", "item three") LONG_CHOICE("galley", "item four")
         "day calm { }\ntank fresh { holds fresh; capacity 90 l; vent 16 mm; fill 38 mm; at 3 m 0 m 0 m }\n"
         "fixture tap { flow 4 l/min }\npump lift { from fresh; to tap; fed-by main; run 2 m; wire 2.5 mm2; protect 5 A breaker; draw 3 A }\n"
         "through-hull drain { bore 38 mm; height 0.4 m; serves lift; seacock yes }\njob paint { takes 3 h }\n");
    size_t pictures = 0;
    for (size_t i = 0; i < made.count; i++) {
        size_t length = strlen(made.files[i].name);
        if (length < 4 || strcmp(made.files[i].name + length - 4, ".svg") != 0) {
            continue;
        }
        pictures++;
        for (const char *const *name = (const char *const[]){"engine", "heater", "toilet", "galley", NULL}; *name != NULL; name++) {
            const char *word = text_format(&made.compiled.arena, "%s-of-this-boat=the-first-of-two", *name);
            if (strstr(made.files[i].bytes.text, word) == NULL) {
                fail_msg("%s does not say %s", made.files[i].name, word);
            }
        }
    }
    assert_true(pictures >= 5);
    compile_free(&made.compiled);
}

#define PAIR(MORE) \
    BOAT WIRED "bank crank { role start; chemistry agm; voltage 12 V; capacity 90 Ah }\n" \
               "converter tie { fed-by crank; run 1 m; output 30 A at 14 V; " MORE "feeds main { run 1 m; protect 40 A fuse } }\n"

/* It turns nothing, so that a share that is lost is nobody's statement. */
static void no_efficiency_is_told_of_a_relay(void **state)
{
    (void)state;
    Made made;
    make(&made, PAIR(""));
    at(&made, "| `tie` | converter | 30 A at 14 V | 90 %");
    compile_free(&made.compiled);
    make(&made, PAIR("relay yes; "));
    at(&made, "| `tie` | converter | 30 A at 14 V | yes |");
    compile_free(&made.compiled);
}

/* 240 V of the US are two lines, both live: black and red, never white (ABYC E-11, an older text). 120 V have a neutral, 230 V of 50 Hz too. */
static void two_live_lines_are_not_called_line_and_neutral(void **state)
{
    (void)state;
    Made made;
#define IN_US(volts)                                                                                                           \
    "edition 1\nboat wren { length 10 m; beam 3.3 m; displacement 7000 kg; crew 2; currency EUR; basis us }\n"                 \
    "inlet shore { rated 30 A at " volts "; run 2 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker; poles 2; ground-fault 30 mA }\n" \
    "load heat { fed-by shore; run 2 m; wire 10 AWG; ground 10 AWG; protect 20 A breaker; poles 2; draw 1000 W }\n"
    make(&made, IN_US("240 V"));
    at(&made, "| `shore to heat` | 10 AWG, ground 10 AWG | 60 C (assumed) | – | black / red / green |");
    at(&made, "| both lines |");
    compile_free(&made.compiled);
    make(&made, IN_US("120 V"));
    at(&made, "| black / white / green |");
    at(&made, "| line and neutral |");
    compile_free(&made.compiled);
    make(&made, IN_US("230 V; frequency 50 Hz"));
    at(&made, "| black / white / green |");
    compile_free(&made.compiled);
#undef IN_US
}

/* What is fitted is bought no more, and blows all the same. */
static void fuses_to_carry_are_listed_when_all_is_fitted(void **state)
{
    (void)state;
    static const char *const told[] = {"### Fuses to carry in spare", "| 80 A fuse | 1 |", "| 10 A fuse | 2 |"};
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; status fitted }\n"
                     "panel main { fed-by house; run 1 m; wire 25 mm2; protect 80 A fuse; status fitted }\n"
                     "circuit one { fed-by main; run 5 m; wire 2.5 mm2; protect 10 A fuse; status fitted }\n"
                     "circuit two { fed-by main; run 5 m; wire 2.5 mm2; protect 10 A fuse; status fitted }\n"
                     "circuit three { fed-by main; run 5 m; wire 2.5 mm2; protect 10 A breaker; status fitted }\n"
                     "load lamps { fed-by one; draw 1 A }\n");
    for (size_t i = 0; i < 3; i++) {
        at(&made, told[i]);
    }
    compile_free(&made.compiled);
}

/* Two in parallel with a fuse each: who wires by list and picture must not leave them out. */
static void the_fuse_at_each_battery_is_in_every_list(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 100 Ah; parallel 2; battery-fuse 150 A interrupts 20 kA }\n"
                     "load lamp { fed-by house; run 3 m; wire 2.5 mm2; protect 10 A fuse; draw 2 A }\n"
                     "solar roof { rated 100 W; parallel 3; string-fuse 15 A; feeds house { run 2 m; wire 10 mm2; protect 40 A fuse } }\n");
    at(&made, "| 150 A fuse at a battery, interrupts 20 kA | 2 |");
    at(&made, "| 15 A fuse for a string of panels, made for their voltage | 3 |");
    at(&made, "battery, or each string of them, its own 150 A fuse");
    assert_non_null(strstr(text_of(&made, "wires.csv"), "house@batteries,batteries,house,,,,,,,150 A fuse at each battery: 2,,,batteries to house,,dc"));
    assert_non_null(strstr(text_of(&made, "wires.csv"), ",20000,"));
    assert_non_null(strstr(text_of(&made, "img/power-dc.svg"), "parallel, 150 A fuse at each"));
    Buf csv;
    buf_init(&csv, &made.compiled.arena);
    bom_csv(&csv, made.compiled.outcome);
    assert_non_null(strstr(csv.text, "\"150 A fuse at a battery, interrupts 20 kA\",protection,power,2,"));
    assert_non_null(strstr(csv.text, "holder at a battery for a 150 A fuse,protection,power,2,"));
    compile_free(&made.compiled);
}

/* A coil in an outboard charges by its harness: no list, picture or setting asks an electrician for a cable, a fuse or a screw. */
static void what_charges_by_the_starters_cable_has_none_of_its_own(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank start { chemistry agm; voltage 12 V; capacity 75 Ah; role start; cranking 600 A }\n"
                     "switch main { fed-by start; works-as battery; run 0.3 m; wire 35 mm2 }\n"
                     "engine outboard { fed-by main; run 2 m; wire 35 mm2; rated 15 kW at 5500 rpm; fuel petrol; mounted outboard; starter 100 A }\n"
                     "alternator coil { engine outboard; output 12 A at 14.2 V; built-in yes; feeds main }\n");
    assert_null(strstr(text_of(&made, "book.md"), "coil to main"));
    assert_null(strstr(text_of(&made, "book.md"), "| charging voltage |"));
    assert_null(compiled_figure_at(&made.compiled, "coil", FIGURE_WANTED_PROTECTION, "main"));
    const char *picture = text_of(&made, "img/power-dc.svg");
    assert_non_null(strstr(picture, "by the starter's cable"));
    assert_null(strstr(picture, "not stated"));
    compile_free(&made.compiled);
}

/* Two banks that fill a sheet each; the charger of the second is drawn on the second sheet, an inverter of it on the one sheet of mains. */
static void the_picture_of_mains_names_the_sheet_that_a_charger_is_on(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf spec;
    buf_init(&spec, &arena);
    buf_text(&spec, BOAT "bank first { chemistry agm; voltage 12 V; capacity 90 Ah }\nbank second { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
                    SHORE "charger mains { fed-by shore; run 2 m; wire 1.5 mm2; output 30 A at 14.4 V; feeds second { run 1 m; wire 10 mm2 } }\n"
                    "inverter sine { fed-by second; run 1 m; wire 35 mm2; rated 800 W; output 230 V }\n"
                    "outlet cabin { fed-by sine; run 1 m; wire 1.5 mm2 }\n");
    for (int i = 0; i < 12; i++) {
        buf_format(&spec, "load a%d { fed-by first; run 2 m; wire 6 mm2; draw 1 A }\nload b%d { fed-by second; run 2 m; wire 6 mm2; draw 1 A }\n", i, i);
    }
    Made made;
    make(&made, spec.text);
    assert_non_null(strstr(text_of(&made, "img/power-dc-2.svg"), ">mains, "));
    assert_non_null(strstr(text_of(&made, "img/power-ac.svg"), "gives DC: power-dc-2.svg"));
    assert_non_null(strstr(text_of(&made, "img/power-dc-2.svg"), "gives AC: power-ac.svg"));
    compile_free(&made.compiled);
    arena_free(&arena);
}

/* Two sources that fill a sheet each, and the switch between them: who follows its line needs the whole name of the other sheet. */
static void a_switch_between_two_sheets_is_drawn_on_both_and_names_the_other_whole(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf spec;
    buf_init(&spec, &arena);
    buf_text(&spec, BOAT "bank start-port { chemistry agm; voltage 12 V; capacity 70 Ah }\nbank start-stbd { chemistry agm; voltage 12 V; capacity 70 Ah }\n"
                    "switch port-switch { fed-by start-port; works-as battery; run 0.3 m; wire 35 mm2 }\n"
                    "switch stbd-switch { fed-by start-stbd; works-as battery; run 0.3 m; wire 35 mm2 }\n"
                    "switch crossover { fed-by port-switch, stbd-switch; works-as emergency; run 4 m; wire 50 mm2 }\n");
    for (int i = 0; i < 12; i++) {
        buf_format(&spec, "load a%d { fed-by start-port; run 2 m; wire 6 mm2; draw 1 A }\nload b%d { fed-by start-stbd; run 2 m; wire 6 mm2; draw 1 A }\n", i, i);
    }
    Made made;
    make(&made, spec.text);
    assert_non_null(strstr(text_of(&made, "img/power-dc.svg"), ">see power-dc-2.svg</text>"));
    assert_non_null(strstr(text_of(&made, "img/power-dc-2.svg"), ">see power-dc.svg</text>"));
    assert_non_null(strstr(text_of(&made, "img/power-dc.svg"), ">crossover</text>"));
    assert_non_null(strstr(text_of(&made, "img/power-dc-2.svg"), ">crossover</text>"));
    compile_free(&made.compiled);
    arena_free(&arena);
}

/* Mains from a generator alone: no inlet, no shore; its neutral is joined at itself, which is no fault that is sought and taken away. */
static void tests_of_mains_speak_of_the_sources_that_there_are(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "generator genset { rated 3000 W at 230 V; frequency 50 Hz; fuel diesel; bonds-neutral yes }\n"
                     "outlet socket { fed-by genset; run 2 m; wire 2.5 mm2; ground 2.5 mm2; protect 10 A breaker; poles 2 }\n");
    at(&made, "from the ground terminal of `genset` to the case of each thing");
    at(&made, "take off the line of `genset` for that, which joins them itself.");
    at(&made, "Last, an hour at the most that she will ask of `genset`: then feel all terminals");
    at(&made, "| at itself, while it is the source | to be measured: no property says it |");
    assert_null(strstr(text_of(&made, "book.md"), "the inlet to the case"));
    assert_null(strstr(text_of(&made, "book.md"), "ask of the shore"));
    compile_free(&made.compiled);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_live_lines_are_not_called_line_and_neutral),
        cmocka_unit_test(a_cable_that_options_make_otherwise_is_a_row_for_each),
        cmocka_unit_test(a_device_left_open_is_the_smallest_of_the_class_that_breaks),
        cmocka_unit_test(what_one_option_brings_depends_on_no_choice),
        cmocka_unit_test(what_hangs_on_a_panel_is_told_over_all_options),
        cmocka_unit_test(mains_are_told_for_each_option),
        cmocka_unit_test(each_picture_says_whole_which_options_it_shows),
        cmocka_unit_test(lists_of_cables_tell_what_depends_on_open_options),
        cmocka_unit_test(what_a_person_wires_from_stands_first_and_in_order),
        cmocka_unit_test(a_schedule_and_a_list_say_what_is_needed_to_wire),
        cmocka_unit_test(the_sources_of_mains_say_what_a_surveyor_asks),
        cmocka_unit_test(the_links_of_a_bank_are_counted_and_told),
        cmocka_unit_test(a_bank_of_two_batteries_has_links_too),
        cmocka_unit_test(what_is_bolted_on_has_no_cable_and_counts_in_the_one_before_it),
        cmocka_unit_test(a_panel_behind_a_converter_says_what_feeds_it),
        cmocka_unit_test(the_tests_of_mains_go_by_what_keeps_the_shore_apart),
        cmocka_unit_test(another_circuit_changes_no_label),
        cmocka_unit_test(words_keep_apart_in_boats_of_5_to_150_circuits),
        cmocka_unit_test(no_returning_conductor_ends_on_a_switch_and_none_is_invented),
        cmocka_unit_test(no_device_is_drawn_that_the_spec_does_not_state),
        cmocka_unit_test(the_picture_of_mains_shows_the_way_from_the_shore),
        cmocka_unit_test(mains_are_bought_as_one_cable),
        cmocka_unit_test(no_efficiency_is_told_of_a_relay),
        cmocka_unit_test(the_cable_from_the_panels_is_listed_and_bought),
        cmocka_unit_test(fuses_to_carry_are_listed_when_all_is_fitted),
        cmocka_unit_test(the_fuse_at_each_battery_is_in_every_list),
        cmocka_unit_test(what_charges_by_the_starters_cable_has_none_of_its_own),
        cmocka_unit_test(the_picture_of_mains_names_the_sheet_that_a_charger_is_on),
        cmocka_unit_test(a_switch_between_two_sheets_is_drawn_on_both_and_names_the_other_whole),
        cmocka_unit_test(tests_of_mains_speak_of_the_sources_that_there_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
