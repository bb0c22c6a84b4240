/*
 * The build book and its pictures: order of chapters, empty chapters, hostile text, tables that are tables,
 * links that lead somewhere, pictures that stay on their page, and small differences for small edits. The
 * demo boats are read from specs/.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "compile.h"

#include "base/num.h"
#include "output/book.h"
#include "output/markdown.h"
#include "output/svg.h"

#define BOAT                                                                                               \
    "edition 1\n"                                                                                          \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"

#define WIRED                                                                                        \
    BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 5 mohm }\n"          \
         "switch main-switch { fed-by house; run 0 m; works-as battery; rated 200 A }\n"             \
         "panel main { fed-by main-switch; run 1 m; wire 25 mm2; protect 80 A fuse; rated 100 A }\n" \
         "circuit lights { fed-by main; run 5 m; wire 2.5 mm2; protect 10 A breaker }\n"             \
         "load lamps { fed-by lights; draw 1 A; count 4 }\n"

typedef struct Made {
    Compiled compiled;
    BookFile *files;
    size_t count;
    Str book;
} Made;

static void make(Made *made, const char *spec)
{
    compile_text(&made->compiled, spec);
    made->count = book_files(&made->compiled.arena, made->compiled.outcome, &made->files);
    made->book = made->files[0].bytes;
}

static void drop(Made *made)
{
    compile_free(&made->compiled);
}

static const BookFile *file_of(const Made *made, const char *name)
{
    for (size_t i = 0; i < made->count; i++) {
        if (strcmp(made->files[i].name, name) == 0) {
            return &made->files[i];
        }
    }
    return NULL;
}

static bool says(const Made *made, const char *text)
{
    return strstr(made->book.text, text) != NULL;
}

static void expect_says(const Made *made, const char *text)
{
    if (!says(made, text)) {
        print_error("the book does not say `%s`\n", text);
        fail();
    }
}

/* The book from this heading to the next of its level or a higher one. */
static Str chapter(Made *made, const char *heading)
{
    const char *from = strstr(made->book.text, text_format(&made->compiled.arena, "\n## %s\n", heading));
    assert_non_null(from);
    const char *to = strstr(from + 1, "\n## ");
    return (Str){from, to != NULL ? (size_t)(to - from) : strlen(from)};
}

static bool chapter_says(Made *made, const char *heading, const char *text)
{
    return strstr(str_copy(&made->compiled.arena, chapter(made, heading)), text) != NULL;
}

/* Demo boats, read from their files */

static FileText read_file(void *context, Arena *arena, const char *path)
{
    (void)context;
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return (FileText){.error = "cannot be read"};
    }
    Buf text;
    buf_init(&text, arena);
    for (int c = getc(file); c != EOF; c = getc(file)) {
        buf_char(&text, (char)c);
    }
    fclose(file);
    return (FileText){.text = text.text, .length = text.length};
}

static void make_demo(Made *made, const char *path)
{
    arena_init(&made->compiled.arena, allocator_standard(), &made->compiled.failure);
    const char *whole = text_format(&made->compiled.arena, "%s/../specs/%s", TESTS_DIR, path);
    Spec *spec = spec_load(&made->compiled.arena, whole, NULL, (FileReader){read_file, NULL});
    assert_null(spec->error);
    OutcomeRequest request = {.basis = -1};
    date_read(STR("2027-03-01"), &request.today);
    made->compiled.outcome = outcome_compute(&made->compiled.arena, spec, request);
    made->count = book_files(&made->compiled.arena, made->compiled.outcome, &made->files);
    made->book = made->files[0].bytes;
}

static const char *const demos[] = {"heron/heron.boat", "plover.boat", "coot.boat"};

static void on_each_demo(void (*check)(Made *made))
{
    for (size_t i = 0; i < sizeof demos / sizeof demos[0]; i++) {
        Made made = {0};
        make_demo(&made, demos[i]);
        check(&made);
        drop(&made);
    }
}

/* ---- Chapters ---- */

static void chapters_stand_in_their_order(void **state)
{
    static const char *const order[] = {"Cautions, and what this book is",
                                        "The boat at a glance",
                                        "Decisions made",
                                        "Decisions open",
                                        "Power",
                                        "Water",
                                        "Drive and fuel",
                                        "Navigation",
                                        "Climate and gas",
                                        "Safety",
                                        "Cabin",
                                        "Hull",
                                        "Weight",
                                        "Buying",
                                        "Work plan",
                                        "Service plan",
                                        "Findings and waivers",
                                        "The working of every figure",
                                        "Assumptions",
                                        "Sources"};
    (void)state;
    Made made = {0};
    make(&made, WIRED);
    const char *at = made.book.text;
    assert_true(str_starts(made.book, "# Build book of Wren\n"));
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++) {
        const char *heading = text_format(&made.compiled.arena, "\n## %s\n", order[i]);
        const char *next = strstr(at, "\n## ");
        assert_non_null(next);
        assert_memory_equal(next, heading, strlen(heading));
        at = next + 1;
    }
    assert_null(strstr(at, "\n## "));
    drop(&made);
}

static void an_empty_chapter_says_so_in_a_line(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT);
    assert_str(chapter(&made, "Power"),
               "\n## Power\n\nThe spec has nothing that makes, stores or uses electric power.\n");
    assert_str(chapter(&made, "Navigation"),
               "\n## Navigation\n\nNothing in the spec belongs to navigation.\n");
    assert_str(chapter(&made, "Work plan"), "\n## Work plan\n\nThe spec has no jobs.\n");
    assert_true(chapter_says(&made, "Decisions open", "| `bilge-pump` | – | not stated | 1 open fault |"));
    assert_null(file_of(&made, "img/power-dc.svg"));
    assert_null(file_of(&made, "img/power-ac.svg"));
    drop(&made);
    Made none = {0};
    make(&none, "edition 1\n");
    assert_true(chapter_says(&none, "Decisions open", "Nothing is open."));
    drop(&none);
}

/* What the tables of the days go by is told once, where there is a bank. */
static void what_peukert_withholds_is_told_once(void **state)
{
    static const char told[] = "less what Peukert's law withholds";
    (void)state;
    Made made = {0};
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 80 Ah }\nday one { sun 2 h }\nday two { sun 4 h }\n");
    const char *first = strstr(chapter(&made, "Power").text, told); /* to the end of the book */
    assert_non_null(first);
    assert_null(strstr(first + 1, told));
    drop(&made);
    Made none = {0};
    make(&none, BOAT "day one { sun 2 h }\n");
    assert_false(chapter_says(&none, "Power", told));
    drop(&none);
}

static void a_spec_without_a_boat_has_a_book(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, "edition 1\nbank house { chemistry agm; voltage 12 V; capacity 80 Ah }\n");
    expect_says(&made, "The spec has no boat.");
    expect_says(&made, "**Draft.**");
    drop(&made);
}

static void tables_are_written_beside_the_book(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, WIRED);
    assert_non_null(file_of(&made, "book.md"));
    assert_non_null(file_of(&made, "bom.csv"));
    assert_non_null(file_of(&made, "wires.csv"));
    assert_non_null(file_of(&made, "findings.csv"));
    expect_says(&made, "![Wiring, direct current](img/power-dc.svg)");
    drop(&made);
}

/* ---- Cautions ---- */

static void cautions_stand_in_front_and_where_work_can_hurt(void **state)
{
    (void)state;
    Made made = {0};
    make_demo(&made, demos[0]);
    assert_true(chapter_says(&made, "Cautions, and what this book is", "It never says that a boat is safe"));
    assert_true(chapter_says(&made, "Power", "> **Caution.** A battery"));
    assert_true(chapter_says(&made, "Power", "> **Caution.** Mains kill"));
    assert_true(
        chapter_says(&made, "Water", "> **Caution.** A hose or fitting that fails below the waterline"));
    assert_true(chapter_says(&made, "Drive and fuel", "> **Caution.** Fuel vapour explodes"));
    assert_true(chapter_says(&made, "Climate and gas", "> **Caution.** Gas is heavier than air"));
    drop(&made);
}

static void a_mistake_makes_the_book_a_draft(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, WIRED "load fridge { fed-by nowhere; draw 4 A }\n");
    assert_true(
        chapter_says(&made, "Cautions, and what this book is", "> **Draft.** The spec has a mistake"));
    assert_true(chapter_says(&made, "Cautions, and what this book is", "`nowhere`"));
    drop(&made);
    Made sound = {0};
    make(&sound, WIRED);
    assert_false(says(&sound, "**Draft.**"));
    drop(&sound);
}

static void a_waived_danger_stands_on_the_first_page(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, WIRED "circuit thin { fed-by main; run 5 m; wire 1.5 mm2; protect 60 A breaker }\n"
                      "load pump-load { fed-by thin; draw 2 A }\n"
                      "waive wire-unprotected on thin until 2027-06-01 because \"Soon.\"\n");
    const Finding *finding = compiled_finding(&made.compiled, "wire-unprotected");
    assert_non_null(finding);
    assert_non_null(finding->waiver);
    bool danger = finding->rule->danger != DANGER_NONE;
    assert_int_equal(chapter_says(&made, "Cautions, and what this book is", "Reason given: Soon."), danger);
    assert_true(
        chapter_says(&made, "Findings and waivers", "Set aside until 2027-06-01. Reason given: Soon."));
    drop(&made);
}

/* ---- Decisions ---- */

#define CHOICE                                                                  \
    WIRED                                                                       \
    "choice engine-size \"How much engine?\" {\n"                               \
    "  option lean { item motor \"Small\" { mass 100 kg; price 900 EUR } }\n"   \
    "  option stout { item motor \"Large\" { mass 180 kg; price 1500 EUR } }\n" \
    "}\n"

/* SAE J1228 (second hand): an outboard is rated at the propeller's shaft, so nothing of its power is taken off for the leg. */
static void a_leg_has_no_efficiency_of_its_own(void **state)
{
    (void)state;
    static const char frame[] = "edition 1\nboat wren { length 6.5 m; beam 2.4 m; displacement 1600 kg; crew 2; currency EUR; basis iso }\n"
                                "engine motor { rated 80 kW at 5500 rpm; fuel petrol; %s }\ngearbox leg { engine motor; ratio 2.15 }\n";
    char text[512];
    Made made;
    snprintf(text, sizeof text, frame, "mounted outboard");
    make(&made, text);
    expect_says(&made, "| `leg` | gearbox | motor | 2.15 |\n");
    drop(&made);
    snprintf(text, sizeof text, frame, "hours 10 h");
    make(&made, text);
    expect_says(&made, "| `leg` | gearbox | motor | 2.15 | 96 % (assumed) |");
    drop(&made);
}

/* What a note points at is underlined on the terminal, and named in the book */
static void a_note_says_what_it_points_at(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                     "panel main { fed-by house; run 1 m; wire 16 mm2; protect 20 A breaker }\n"
                     "circuit lights { fed-by main; run 1 m; wire 2.5 mm2\n  protect 25 A breaker }\n"
                     "load lamp { fed-by lights; draw 2 A }\n");
    expect_says(&made, "\n- `protect 20 A breaker` of `main`: the nearest upstream\n");
    drop(&made);
}

static void an_open_choice_is_told_side_by_side_and_what_hangs_on_it(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, CHOICE);
    assert_true(chapter_says(&made, "Decisions open", "| | lean | stout |\n"));
    assert_true(chapter_says(&made, "Decisions open", "| brings | `motor` | `motor` |"));
    assert_true(chapter_says(&made, "Decisions open", "| cost of the boat | 900.00 EUR, best | 1500.00 EUR, worst |"));
    assert_true(chapter_says(&made, "The boat at a glance", "900.00..1500.00 EUR (depends on engine-size)"));
    assert_true(chapter_says(&made, "Cabin", "100 kg with lean, 180 kg with stout"));
    drop(&made);
}

static void a_picked_choice_is_told_with_its_reason(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "choice size \"How big?\" {\n  option small { item a { mass 1 kg } }\n"
                     "  option big { item a { mass 2 kg } }\n  pick small\n  because \"It fits.\"\n}\n");
    assert_true(chapter_says(&made, "Decisions made", "| `size` | How big? | `small` |"));
    assert_true(chapter_says(&made, "Decisions made", "It fits."));
    assert_false(says(&made, "depends on size"));
    drop(&made);
}

static void what_is_undecided_is_listed_as_it_stands(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, WIRED "circuit thin { fed-by main; run 5 m; wire ?; protect 10 A breaker }\n"
                      "load pump-load \"Pump\" { fed-by thin; draw 2..6 A }\n");
    assert_true(chapter_says(&made, "Decisions open", "| `thin.wire` | circuit | not decided |"));
    assert_true(chapter_says(&made, "Decisions open", "| `pump-load.draw` | Pump | 2..6 A |"));
    drop(&made);
}

/* ---- Jobs ---- */

static void a_job_stands_behind_those_it_waits_for(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "job last { takes 1 d; after middle }\njob middle { takes 1 d; after first }\njob first "
                     "{ takes 1 d }\n");
    const char *first = strstr(made.book.text, "| `first` |");
    const char *middle = strstr(made.book.text, "| `middle` |");
    const char *last = strstr(made.book.text, "| `last` |");
    assert_true(first != NULL && first < middle && middle < last);
    drop(&made);
}

/* A value that two choices decide together names the options of both. */
static void a_value_that_two_choices_decide_names_both(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "choice one {\n  option small { item tub { mass 1 kg } }\n  option big { item tub { mass 2 kg } }\n}\n"
                     "choice two {\n  option thin { item rag { } }\n  option thick { set tub.mass 9 kg }\n}\n");
    assert_true(chapter_says(&made, "Cabin", "1 kg with one=small and two=thin, 9 kg with two=thick, 2 kg with one=big and two=thin"));
    drop(&made);
}

/* What frost breaks is told for every option that brings it, not for the first alone: a diesel wants its antifreeze. */
static void laying_up_is_told_over_all_options(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "tank holding { holds black; capacity 40 l; vent 38 mm; pump-out 38 mm }\nchoice motor {\n"
                     "  option petrol { engine aux { rated 7 kW at 5000 rpm; fuel petrol; mounted outboard } }\n"
                     "  option diesel { engine aux { rated 14 kW at 3000 rpm; fuel diesel }\n"
                     "    through-hull raw { bore 19 mm; height -0.2 m; seacock yes; serves aux } }\n}\n"
                     "choice head {\n  option pot { toilet loo { worked-by hand; to holding; portable yes } }\n"
                     "  option bowl { toilet loo { worked-by hand; to holding; flush 1 l; flushes-with fresh } }\n}\n");
    assert_true(chapter_says(&made, "Drive and fuel", "Outboard (with motor=petrol): flush it"));
    assert_true(chapter_says(&made, "Drive and fuel", "Engine (with motor=diesel): run it warm"));
    assert_true(chapter_says(&made, "Safety", "Close the seacocks of `raw` (with motor=diesel);"));
    assert_true(chapter_says(&made, "Water", "Carry `loo` (with head=pot) ashore"));
    assert_true(chapter_says(&made, "Water", "Empty `loo` (with head=bowl), bowl, pump and both hoses"));
    assert_true(chapter_says(&made, "Water", "Pump out and rinse `holding`: what"));
    drop(&made);
}

/* By the same job one option fits another thing: both are told, and each says which job needs it. */
static void what_a_job_needs_is_told_over_all_options(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "choice motor {\n"
                     "  option diesel { item aux { price 900 EUR; status ordered; ordered 2027-01-01 }\njob fit { takes 3 d; needs aux } }\n"
                     "  option electric { item pod { price 700 EUR }\njob fit { takes 1 d; needs pod } }\n}\n"
                     "choice paint {\n  option red { item tin { price 9 EUR; status here; arrived 2027-01-01 } }\n"
                     "  option blue { item tin { price 8 EUR } }\n}\njob coat { takes 1 d; needs tin }\n");
    assert_true(chapter_says(&made, "Work plan", "| `aux` (ordered) (with motor=diesel), `pod` (not ordered) (with motor=electric) |"));
    assert_true(chapter_says(&made, "Buying", "| `pod` (with motor=electric) | item | not ordered | 1 | 700.00 EUR | 700.00 EUR | – | `fit` |"));
    assert_true(chapter_says(&made, "Cabin", "here with red, not ordered with blue"));
    drop(&made);
}

static void jobs_in_a_circle_are_each_listed_once(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, BOAT "job one { takes 1 d; after two }\njob two { takes 1 d; after one }\n");
    const char *one = strstr(made.book.text, "\n| `one` |");
    assert_non_null(one);
    assert_null(strstr(one + 1, "\n| `one` |"));
    assert_true(chapter_says(&made, "Work plan", "| `two` |"));
    drop(&made);
}

/* 33 CFR 183.610(f): beside each ignition switch of a boat that must have a blower; a diesel or a basis without that law has none. */
static void a_petrol_inboard_has_the_words_of_its_label(void **state)
{
#define MOTOR(BASIS, FUEL) \
    "edition 1\nboat wren { length 7 m; beam 2.4 m; crew 2; currency EUR; basis " BASIS " }\nengine motor { rated 60 kW at 4600 rpm; " FUEL " }\n"
    Made made = {0};
    (void)state;
    make(&made, MOTOR("us", "fuel petrol"));
    assert_true(chapter_says(&made, "Drive and fuel", "OPERATE BLOWER FOR 4 MINUTES AND CHECK ENGINE COMPARTMENT BILGE FOR GASOLINE VAPORS"));
    drop(&made);
    static const char *const others[] = {MOTOR("us", "fuel diesel"), MOTOR("us", "fuel petrol; mounted outboard"), MOTOR("iso", "fuel petrol")};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        make(&made, others[i]);
        assert_false(says(&made, "GASOLINE VAPORS"));
        drop(&made);
    }
}

/* ---- Text from the spec ---- */

#define HOSTILE \
    "a | b <script>alert(1)</script> **c** `d` [e](javascript:f) #1 &amp; ~~g~~ \\\\ @h http://i.example"

static void hostile_text_stays_text(void **state)
{
    (void)state;
    Made made = {0};
    make(&made,
         "edition 1\n"
         "boat wren \"" HOSTILE
         "\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"
         "bank house \"" HOSTILE "\" { chemistry agm; voltage 12 V; capacity 200 Ah; note \"" HOSTILE "\";"
         " because \"" HOSTILE "\"; link \"javascript:alert(1)\" }\n"
         "circuit lights \"" HOSTILE "\" { fed-by house; run 2 m; wire 2.5 mm2; protect 10 A fuse }\n"
         "load lamps \"" HOSTILE "\" { fed-by lights; draw 1 A }\n"
         "job do-it \"" HOSTILE "\" { takes 1 d; needs house; because \"" HOSTILE "\" }\n");
    assert_false(says(&made, "<script"));
    assert_false(says(&made, "[e](javascript"));
    assert_false(says(&made, "**c**"));
    if (has_command("cmark-gfm")) {
        Str shown = output_of(&made.compiled.arena, "cmark-gfm -e table --unsafe", made.book);
        assert_null(strstr(shown.text, "<script"));
        assert_null(strstr(shown.text, "href=\"javascript"));
        assert_null(strstr(shown.text, "<strong>c"));
    }
    for (size_t i = 0; i < made.count; i++) {
        if (strstr(made.files[i].name, ".svg") != NULL) {
            assert_null(strstr(made.files[i].bytes.text, "<script"));
        }
    }
    drop(&made);
}

/* The rows of a table have as many bars as its head: cells are escaped, so a bar is always a border. */
static void check_tables(Made *made)
{
    const char *line = made->book.text;
    size_t bars_of_table = 0;
    while (*line != '\0') {
        size_t length = strcspn(line, "\n");
        size_t bars = 0;
        for (size_t i = 0; i < length && line[0] == '|'; i++) {
            bars += line[i] == '|';
        }
        if (bars_of_table != 0 && bars != 0 && bars != bars_of_table) {
            print_error("a row of %zu bars in a table of %zu: %.*s\n", bars, bars_of_table, (int)length,
                        line);
            fail();
        }
        bars_of_table = bars;
        line += length + (line[length] == '\n');
    }
}

static void every_row_has_as_many_cells_as_its_table(void **state)
{
    (void)state;
    on_each_demo(check_tables);
}

static size_t count_of(const char *text, const char *what)
{
    size_t count = 0;
    for (const char *at = strstr(text, what); at != NULL; at = strstr(at + 1, what)) {
        count++;
    }
    return count;
}

static void check_shown_tables(Made *made)
{
    Str shown = output_of(&made->compiled.arena, "cmark-gfm -e table", made->book);
    assert_int_equal(count_of(shown.text, "<table>"), count_of(made->book.text, "\n| ---"));
    assert_null(strstr(shown.text, "<p>|"));
}

static void a_viewer_finds_every_table(void **state)
{
    (void)state;
    if (!has_command("cmark-gfm")) {
        skip();
    }
    on_each_demo(check_shown_tables);
}

/* ---- Links ---- */

static bool is_id(const Made *made, Arena *arena, const char *id)
{
    if (strstr(made->book.text, text_format(arena, "<a id=\"%s\">", id)) != NULL) {
        return true;
    }
    for (const char *at = strstr(made->book.text, "\n#"); at != NULL; at = strstr(at + 1, "\n#")) {
        const char *text = at + 1 + strspn(at + 1, "#");
        text += *text == ' ';
        if (strcmp(markdown_id(arena, (Str){text, strcspn(text, "\n")}), id) == 0) {
            return true;
        }
    }
    return false;
}

static void check_links(Made *made)
{
    for (const char *at = strstr(made->book.text, "](#"); at != NULL; at = strstr(at + 1, "](#")) {
        const char *id = str_copy(&made->compiled.arena, (Str){at + 3, strcspn(at + 3, ")")});
        if (!is_id(made, &made->compiled.arena, id)) {
            print_error("nothing has the id `%s`\n", id);
            fail();
        }
    }
    for (const char *at = strstr(made->book.text, "](img/"); at != NULL; at = strstr(at + 1, "](img/")) {
        assert_non_null(file_of(made, str_copy(&made->compiled.arena, (Str){at + 2, strcspn(at + 2, ")")})));
    }
}

static void every_link_leads_somewhere(void **state)
{
    (void)state;
    on_each_demo(check_links);
}

/* ---- Sameness ---- */

static void the_same_spec_gives_the_same_bytes(void **state)
{
    (void)state;
    Made one = {0}, other = {0};
    make_demo(&one, demos[0]);
    make_demo(&other, demos[0]);
    assert_int_equal(one.count, other.count);
    for (size_t i = 0; i < one.count; i++) {
        assert_string_equal(one.files[i].name, other.files[i].name);
        assert_true(str_equal(one.files[i].bytes, other.files[i].bytes));
    }
    drop(&one);
    drop(&other);
}

static void a_comment_in_the_spec_changes_nothing(void **state)
{
    (void)state;
    Made one = {0}, other = {0};
    make(&one, WIRED);
    make(&other, "# A remark.\n\n" WIRED);
    assert_true(str_equal(one.book, other.book));
    drop(&one);
    drop(&other);
}

static size_t lines_that_differ(Str a, Str b)
{
    size_t count = 0;
    while (a.length > 0 && b.length > 0) {
        size_t in_a = strcspn(a.text, "\n") + 1, in_b = strcspn(b.text, "\n") + 1;
        count += in_a != in_b || memcmp(a.text, b.text, in_a) != 0;
        a = (Str){a.text + in_a, a.length - in_a};
        b = (Str){b.text + in_b, b.length - in_b};
    }
    return count + (a.length > 0 || b.length > 0);
}

static void another_cable_changes_one_line_of_the_picture(void **state)
{
    (void)state;
    Made one = {0}, other = {0};
    make(&one, WIRED "circuit fans { fed-by main; run 3 m; wire 2.5 mm2; protect 10 A breaker }\n"
                     "load fan { fed-by fans; draw 1 A }\n");
    make(&other, WIRED "circuit fans { fed-by main; run 7 m; wire 2.5 mm2; protect 10 A breaker }\n"
                       "load fan { fed-by fans; draw 1 A }\n");
    const BookFile *before = file_of(&one, "img/power-dc.svg"), *after = file_of(&other, "img/power-dc.svg");
    assert_non_null(before);
    assert_int_equal(lines_that_differ(before->bytes, after->bytes), 1);
    drop(&one);
    drop(&other);
}

/* ---- Pictures ---- */

static double attribute(const char *element, const char *name)
{
    const char *at = strstr(element, name);
    double value = NAN;
    assert_non_null(at);
    at += strlen(name);
    assert_true(num_read((Str){at, strcspn(at, "\"")}, &value));
    return value;
}

/* Words as they are shown: the entities of XML put back. */
static Str shown_words(Arena *arena, Str words)
{
    static const char *const entities[][2] = {{"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}};
    Buf shown;
    buf_init(&shown, arena);
    while (words.length > 0) {
        size_t taken = 0;
        for (size_t i = 0; i < 4 && taken == 0; i++) {
            if (str_starts(words, entities[i][0])) {
                buf_text(&shown, entities[i][1]);
                taken = strlen(entities[i][0]);
            }
        }
        if (taken == 0) {
            buf_char(&shown, words.text[0]);
            taken = 1;
        }
        words = (Str){words.text + taken, words.length - taken};
    }
    return buf_str(&shown);
}

/*
 * A4 on its side: 297 mm by 210 mm (ISO 216), or cut off below what is drawn; or what an upright page holds between margins of 10 mm.
 * 5 mm at each edge stay free.
 */
static void check_picture(Arena *arena, Str picture)
{
    double wide = 0.0, high = 0.0;
    const char *box = strstr(picture.text, " viewBox=\"0 0 ");
    assert_true(box != NULL && sscanf(box, " viewBox=\"0 0 %lf %lf", &wide, &high) == 2);
    bool upright = wide <= 190.0;
    assert_true(wide <= (upright ? 190.0 : 297.0) && high <= (upright ? 277.0 : 210.0));
    for (const char *at = strstr(picture.text, "<text "); at != NULL; at = strstr(at + 1, "<text ")) {
        const char *element = str_copy(arena, (Str){at, strcspn(at, "\n")});
        const char *words = strchr(element, '>') + 1;
        double size = attribute(element, " font-size=\"");
        double width = svg_text_width(shown_words(arena, (Str){words, strcspn(words, "<")}), size);
        double x = attribute(element, " x=\""), y = attribute(element, " y=\"");
        bool middle = strstr(element, "text-anchor=\"middle\"") != NULL, end = strstr(element, "text-anchor=\"end\"") != NULL;
        double before = middle ? width / 2.0 : end ? width : 0.0; /* words that run upwards stand in the middle */
        if (size < 2.2 || (end ? x - width : x) < 5.0 || y < 5.0 || y > high - 5.0 || x - before + width > wide - 5.0) {
            print_error("small, or off the page: %s\n", element);
            fail();
        }
    }
}

static void check_pictures(Made *made)
{
    size_t pictures = 0;
    for (size_t i = 0; i < made->count; i++) {
        if (strstr(made->files[i].name, ".svg") != NULL) {
            check_picture(&made->compiled.arena, made->files[i].bytes);
            pictures++;
        }
    }
    assert_true(pictures > 0);
}

static void words_are_legible_and_inside_the_page(void **state)
{
    (void)state;
    on_each_demo(check_pictures);
}

static void check_well_formed(Made *made)
{
    for (size_t i = 0; i < made->count; i++) {
        if (strstr(made->files[i].name, ".svg") != NULL) {
            output_of(&made->compiled.arena, "xmllint --noout -", made->files[i].bytes);
        }
    }
}

static void pictures_are_well_formed(void **state)
{
    (void)state;
    if (!has_command("xmllint")) {
        skip();
    }
    on_each_demo(check_well_formed);
}

/* All pictures in one text. */
static const char *all_pictures(Made *made)
{
    Buf all;
    buf_init(&all, &made->compiled.arena);
    for (size_t i = 0; i < made->count; i++) {
        buf_add(&all, strstr(made->files[i].name, ".svg") != NULL ? made->files[i].bytes : STR(""));
    }
    return all.text;
}

static void every_cable_and_load_is_in_a_picture(void **state)
{
    (void)state;
    Made made = {0};
    make_demo(&made, demos[0]);
    const char *all = all_pictures(&made);
    const Model *model = outcome_first(made.compiled.outcome)->model;
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const char *name = str_copy(&made.compiled.arena, entity_name(model, model->feeds[i]->taker));
        if (strstr(all, name) == NULL && !(model->feeds[i]->taker->flags & ENTITY_DROPPED)) {
            print_error("`%s` is in no picture\n", name);
            fail();
        }
    }
    drop(&made);
}

static void a_wiring_too_large_for_a_page_takes_several(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf spec;
    buf_init(&spec, &arena);
    buf_text(&spec, WIRED);
    for (int i = 0; i < 40; i++) {
        buf_format(&spec,
                   "circuit way-%d { fed-by main; run 5 m; wire 2.5 mm2; protect 10 A breaker }\n"
                   "load lamp-%d { fed-by way-%d; draw 1 A; count 2 }\n",
                   i, i, i);
    }
    Made made = {0};
    make(&made, spec.text);
    assert_non_null(file_of(&made, "img/power-dc.svg"));
    assert_non_null(strstr(file_of(&made, "img/power-dc.svg")->bytes.text, "Continues in power-dc-2.svg"));
    check_pictures(&made);
    const char *all = all_pictures(&made);
    for (int i = 0; i < 40; i++) {
        assert_int_equal(count_of(all, text_format(&arena, ">way-%d<", i)), 1);
        assert_int_equal(count_of(all, text_format(&arena, ">lamp-%d, 2 x 1 A<", i)), 1);
    }
    drop(&made);
    arena_free(&arena);
}

static void a_long_chain_of_panels_is_drawn_page_by_page(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Buf spec;
    buf_init(&spec, &arena);
    buf_text(&spec, WIRED "panel p-0 { fed-by main; run 1 m; wire 25 mm2; protect 50 A fuse }\n");
    for (int i = 1; i < 300; i++) {
        buf_format(&spec, "panel p-%d { fed-by p-%d; run 1 m; wire 25 mm2; protect 50 A fuse }\n", i, i - 1);
    }
    Made made = {0};
    make(&made, spec.text);
    check_pictures(&made);
    drop(&made);
    arena_free(&arena);
}

static void a_feed_in_a_circle_is_named_as_not_drawn(void **state)
{
    (void)state;
    Made made = {0};
    make(&made, WIRED "panel round { fed-by trip; run 1 m }\npanel trip { fed-by round; run 1 m }\n");
    const BookFile *picture = file_of(&made, "img/power-dc.svg");
    assert_non_null(picture);
    assert_non_null(strstr(picture->bytes.text, "Not drawn, for nothing feeds it: round, trip"));
    drop(&made);
}

static void alternating_current_has_a_picture_of_its_own(void **state)
{
    (void)state;
    Made made = {0};
    make_demo(&made, "heron/heron.boat");
    const BookFile *picture = file_of(&made, "img/power-ac.svg");
    assert_non_null(picture);
    assert_non_null(strstr(picture->bytes.text, "galley-outlet"));
    assert_null(strstr(file_of(&made, "img/power-dc.svg")->bytes.text, "galley-outlet"));
    assert_true(chapter_says(&made, "Power", "![Wiring, alternating current](img/power-ac.svg)"));
    drop(&made);
}

/* A transfer switch knows its other sources when one of their names is a mistake. */
static void a_source_that_is_not_known_breaks_no_table(void **state)
{
    (void)state;
    Made made;
    make(&made, WIRED "switch change { works-as transfer; fed-by main, nowhere; run 1 m }\n"
                      "panel ac-main { fed-by change; run 1 m }\n");
    expect_says(&made, "Draft.");
    drop(&made);
}

/* The rule judges what she weighs with what is in her tanks: 100 l of fresh water are 100 kg. */
static void a_goal_of_mass_is_answered_with_what_is_judged(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "goal light { mass 200 kg }\nitem keel { mass 150 kg }\n"
                     "tank water { holds fresh; capacity 100 l }\n");
    expect_says(&made, "| mass 200 kg | at least 250 kg | [missed]");
    drop(&made);
    /* A goal that is met only as far as things have a mass is open. */
    make(&made, BOAT "goal light { mass 200 kg }\nitem keel { mass 150 kg }\nitem mast\n");
    expect_says(&made, "| mass 200 kg | at least 150 kg | [open](#goal-missed-on-light-mass); 1 thing has no mass |");
    drop(&made);
}

/* 150 mm are 5.906 in: the working adds no millimetres to feet. The list of sources has the fact as it is published. */
static void the_working_of_a_boat_in_feet_has_facts_in_inches(void **state)
{
    (void)state;
    Made made;
    make(&made, "edition 1\nboat tern { length 31 ft; beam 11 ft; crew 2; currency USD; basis us }\n"
                "through-hull raw { bore 1.25 in; height -1.5 ft; seacock yes }\n");
    expect_says(&made, "5.906 in (near the waterline)");
    expect_says(&made, "| Air | 86 F (assumed) |");
    expect_says(&made, "| Sea water | 59 F (assumed) |");
    expect_says(&made, "| near the waterline | 150 mm |");
    drop(&made);
}

/* Hose of 9/16 in is no hose of 0.5625 in; heights are no sizes, and what is no part of an inch stays as it is. */
static void sizes_in_inches_are_fractions(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "tank fresh { holds fresh; capacity 12 gal; vent 5/8 in }\n"
                     "through-hull raw { bore 1.25 in; height -1.5 in; seacock yes }\n"
                     "through-hull sink { bore 38 mm; height 2.5 in; seacock yes }\n"
                     "hose first { from raw; to sink; bore 1 1/16 in; run 2 ft; clamps 2 }\n"
                     "hose out { from sink; to fresh; bore 0.7 in; run 2 ft }\n"
                     "tank oil { holds fuel; capacity 30 gal; vent 5/16 in }\n"
                     "engine aux { fuel diesel; rated 20 hp at 3000 rpm }\n"
                     "anchor bower { chain 30 ft of 9/32 in }\n");
    expect_says(&made, "| 5/8 in |");
    expect_says(&made, "| 1 1/4 in | -1.5 in |");
    expect_says(&made, "| 38 mm | 2.5 in |");
    expect_says(&made, "| raw | sink | 1 1/16 in |");
    expect_says(&made, "| sink | fresh | 0.7 in |");
    expect_says(&made, "30 ft of 9/32 in");
    expect_says(&made, "the vent of `oil` is 5/16 in");
    expect_says(&made, "Hose clamps for a bore of 1 1/16 in");
    drop(&made);
}

static void a_table_prints_all_of_a_list(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "space cabin { sleeping yes }\n"
                     "alarm warner { detects smoke, co, gas; space cabin; portable yes }\n");
    expect_says(&made, "| smoke, co, gas |");
    drop(&made);
}

/* Two strings of two batteries are four, and three strings of two panels six: in every table. */
static void strings_are_counted_by_their_product(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank house { chemistry agm; voltage 6 V; capacity 200 Ah; series 2; parallel 2; mass 30 kg; "
                     "price 200 EUR }\n"
                     "solar roof { rated 100 W; series 2; parallel 3; mass 7 kg; price 90 EUR; feeds house { } }\n");
    expect_says(&made, "| `house` | bank | 4 | 30 kg |");
    expect_says(&made, "| `roof` | solar | 6 | 7 kg |");
    Str bom = file_of(&made, "bom.csv")->bytes;
    assert_non_null(strstr(bom.text, "house,,bank,power,4,0,not ordered,,200.00,200.00,EUR,800.00,800.00,30,120,"));
    assert_non_null(strstr(bom.text, "roof,,solar,power,6,0,not ordered,,90.00,90.00,EUR,540.00,540.00,7,42,"));
    const Figure *mass = compiled_figure(&made.compiled, "wren", FIGURE_MASS);
    assert_near(mass->low, 4 * 30.0 + 6 * 7.0, 1e-9);
    const Figure *cost = compiled_figure(&made.compiled, "wren", FIGURE_STILL_TO_BUY);
    assert_near(cost->low, 800.0 + 540.0, 1e-9);
    drop(&made);
}

/* A name in backquotes is a name, wherever a sentence of the program stands. */
/* Three of one month stand by their days, whatever the order of the spec. */
static void the_coming_year_is_in_the_order_of_its_days(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "item a { fitted 2026-03-10; service every 24 month \"A\" last 2026-02-10 }\n"
                     "item b { fitted 2026-03-10; service every 24 month \"B\" last 2026-02-01 }\n"
                     "item c { fitted 2026-01-10; service every 24 month \"C\" last 2026-02-05 }\n");
    const char *a = strstr(made.book.text, "| 2028-02-10 | `a`"), *b = strstr(made.book.text, "| 2028-02-01 | `b`");
    const char *c = strstr(made.book.text, "| 2028-02-05 | `c`");
    assert_true(a != NULL && b != NULL && c != NULL);
    assert_true(b < c && c < a);
    drop(&made);
}

static void no_backquote_of_a_sentence_is_escaped(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "inlet shore { rated 16 A at 230 V }\npanel ac { fed-by shore; run 1 m; wire 2.5 mm2; protect 16 A breaker }\n"
                     "outlet one { fed-by ac; run 1 m; wire 2.5 mm2 }\nload kettle { fed-by one; draw 2200 W at 230 V }\n"
                     "outlet two { fed-by ac; run 1 m; wire 2.5 mm2 }\nload heater1 { fed-by two; draw 2200 W at 230 V }\n"
                     "tank rain { holds fresh; size 1 m by 1 m by 0.4 m; fill-level 50 % }\n");
    assert_true(says(&made, "it fits with `"));
    assert_true(says(&made, "tanks that state neither `size` nor `cylinder`"));
    assert_false(says(&made, "\\`"));
    drop(&made);
}

/* An outboard that cranks with 180 A through a switch; the alternator in it has neither pulley nor belt. */
static void what_cranks_stands_beside_currents_and_no_belt_is_assumed_of_an_outboard(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT "bank start { chemistry agm; voltage 12 V; capacity 70 Ah; role start }\n"
                     "switch start-switch { fed-by start; run 1 m; wire 35 mm2; works-as battery; rated 300 A }\n"
                     "engine outboard { fed-by start-switch; run 2 m; wire 35 mm2; rated 85 kW at 5500 rpm; fuel petrol; starter 180 A }\n"
                     "alternator ob { engine outboard; output 16 A at 14.4 V; hot-output 75 %; built-in yes; feeds start-switch }\n");
    expect_says(&made, "180 A cranking |");
    expect_says(&made, "| 16 A at 14.4 V | 75 % |\n");
    drop(&made);
}

#define BOAT_OF_SPARES "edition 1\nboat tern { length 9 m; beam 3 m; displacement 5 t; crew 2; currency EUR; basis iso; sails yes }\n"

/* What is not ordered, what went back and what has not come is not aboard; what nobody says was bought is there as it stands. */
static void spares_are_aboard_once_they_came(void **state)
{
    (void)state;
    Made made;
    make(&made, BOAT_OF_SPARES
         "item oil-filter { count 1; spare 2; ordered 2026-01-01; arrived 2026-01-10 of 1 }\n"
         "item belt { spare 2; status wanted }\nitem imp { spare 1; status returned }\n"
         "item fine { count 1; spare 2; ordered 2026-01-01; arrived 2026-01-10 of 2 }\n"
         "item all { spare 1; ordered 2026-01-01; arrived 2026-01-10 }\nitem old { spare 3 }\n"
         "engine diesel { rated 30 hp at 2800 rpm; fuel diesel; service every 12 month \"A\" last 2026-01-01 with oil-filter;\n"
         "  service every 12 month \"B\" last 2026-01-01 with belt; service every 12 month \"C\" last 2026-01-01 with imp;\n"
         "  service every 12 month \"D\" last 2026-01-01 with fine; service every 12 month \"E\" last 2026-01-01 with all;\n"
         "  service every 12 month \"F\" last 2026-01-01 with old }\n");
    expect_says(&made, "| `oil-filter` | item | 1 | 0 of 2 | 1 |");
    expect_says(&made, "| `belt` | item | 1 | 0 of 2 | 1 |");
    expect_says(&made, "| `imp` | item | 1 | 0 of 1 | 1 |");
    expect_says(&made, "| `fine` | item | 1 | 1 of 2 | 0 |");
    expect_says(&made, "| `all` | item | 1 | 1 | 0 |");
    expect_says(&made, "| `old` | item | 1 | 3 | 0 |");
    drop(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_cranks_stands_beside_currents_and_no_belt_is_assumed_of_an_outboard),
        cmocka_unit_test(no_backquote_of_a_sentence_is_escaped),
        cmocka_unit_test(spares_are_aboard_once_they_came),
        cmocka_unit_test(chapters_stand_in_their_order),
        cmocka_unit_test(an_empty_chapter_says_so_in_a_line),
        cmocka_unit_test(what_peukert_withholds_is_told_once),
        cmocka_unit_test(a_spec_without_a_boat_has_a_book),
        cmocka_unit_test(tables_are_written_beside_the_book),
        cmocka_unit_test(cautions_stand_in_front_and_where_work_can_hurt),
        cmocka_unit_test(a_mistake_makes_the_book_a_draft),
        cmocka_unit_test(a_waived_danger_stands_on_the_first_page),
        cmocka_unit_test(a_leg_has_no_efficiency_of_its_own),
        cmocka_unit_test(a_note_says_what_it_points_at),
        cmocka_unit_test(an_open_choice_is_told_side_by_side_and_what_hangs_on_it),
        cmocka_unit_test(a_picked_choice_is_told_with_its_reason),
        cmocka_unit_test(what_is_undecided_is_listed_as_it_stands),
        cmocka_unit_test(a_job_stands_behind_those_it_waits_for),
        cmocka_unit_test(a_value_that_two_choices_decide_names_both),
        cmocka_unit_test(laying_up_is_told_over_all_options),
        cmocka_unit_test(what_a_job_needs_is_told_over_all_options),
        cmocka_unit_test(jobs_in_a_circle_are_each_listed_once),
        cmocka_unit_test(a_petrol_inboard_has_the_words_of_its_label),
        cmocka_unit_test(hostile_text_stays_text),
        cmocka_unit_test(every_row_has_as_many_cells_as_its_table),
        cmocka_unit_test(a_viewer_finds_every_table),
        cmocka_unit_test(every_link_leads_somewhere),
        cmocka_unit_test(the_same_spec_gives_the_same_bytes),
        cmocka_unit_test(a_comment_in_the_spec_changes_nothing),
        cmocka_unit_test(another_cable_changes_one_line_of_the_picture),
        cmocka_unit_test(words_are_legible_and_inside_the_page),
        cmocka_unit_test(pictures_are_well_formed),
        cmocka_unit_test(every_cable_and_load_is_in_a_picture),
        cmocka_unit_test(a_wiring_too_large_for_a_page_takes_several),
        cmocka_unit_test(a_long_chain_of_panels_is_drawn_page_by_page),
        cmocka_unit_test(a_feed_in_a_circle_is_named_as_not_drawn),
        cmocka_unit_test(a_source_that_is_not_known_breaks_no_table),
        cmocka_unit_test(a_goal_of_mass_is_answered_with_what_is_judged),
        cmocka_unit_test(the_working_of_a_boat_in_feet_has_facts_in_inches),
        cmocka_unit_test(sizes_in_inches_are_fractions),
        cmocka_unit_test(a_table_prints_all_of_a_list),
        cmocka_unit_test(strings_are_counted_by_their_product),
        cmocka_unit_test(the_coming_year_is_in_the_order_of_its_days),
        cmocka_unit_test(alternating_current_has_a_picture_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
