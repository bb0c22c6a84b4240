/*
 * Nothing that a spec can say stops the program: holes, nought, what is very small and what is very large in place of what
 * is usual, several at once, and check, figures and book are written all the same.
 *
 * Properties of the things in the rules' examples are set by the option that an owner has, to the schema's own example with
 * one number replaced; most of them are not stated in these specs at all. What is a mistake is left out, so that the rest
 * is judged. That figures are right is for other tests: here an assertion, a trap or a run without end fails.
 */
#include "generate.h"

#include "check.h"
#include "garboard.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum { ROUNDS_A_SPEC = 8, MOST_SETS = 6, TRIES = 60, MOST_SECONDS = 20 };

/* What is being tried, for whoever has to look at what stopped: a handler has no other way to know it. */
static char trying[4000];

static void tell_and_leave(int which)
{
    (void)which;
    static const char says[] = "\nthe program stopped at: ";
    ssize_t written = write(2, says, sizeof says - 1);
    written += write(2, trying, strlen(trying));
    _exit(written > 0 ? 1 : 2);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A number of an example: where it begins, where its unit does, and what follows. */
typedef struct Number {
    size_t from, unit, end;
} Number;

/* The `nth` one: of `rated 16 A at 230 V` the first is `16 A`. */
static bool find_number(const char *example, int nth, Number *number)
{
    for (size_t at = 1; example[at] != 0; at++) {
        if (!is_digit(example[at]) || strchr(" -", example[at - 1]) == NULL || nth-- > 0) {
            continue;
        }
        number->from = at - (example[at - 1] == '-');
        number->unit = at + strspn(example + at, "0123456789._/-");
        number->end = number->unit + (example[number->unit] == ' ');
        number->end += strcspn(example + number->end, " ,;}");
        return true;
    }
    return false;
}

/* `@` is the unit, with the blank before it. */
static const char *const forms[] = {"?",         "0@",       ">= 0@",        "<= 0@",          "0@..1000000@",
                                    "0.000001@", "1000000@", "1@..1000000@", "0.001@..0.002@", ">= 1@",
                                    "<= 1@",     "-5@..5@"};
enum { FORM_COUNT = sizeof forms / sizeof forms[0] };

/* The value of a property's example with a number of it replaced; NULL: it has no such number. */
static const char *value_of(Arena *arena, const char *example, int nth, const char *form)
{
    Number number;
    if (!find_number(example, nth, &number)) {
        return NULL;
    }
    Buf text;
    buf_init(&text, arena);
    size_t begin = strcspn(example, " ") + 1; /* behind the property's own word */
    buf_add(&text, (Str){example + begin, number.from - begin});
    for (const char *c = form; *c != 0; c++) {
        Str unit = {example + number.unit, number.end - number.unit};
        buf_add(&text, *c == '@' ? unit : (Str){c, 1});
    }
    buf_text(&text, example + number.end);
    return text.text;
}

static bool is_read(const char *spec, const char *set)
{
    Compiled compiled;
    compile_text_with(&compiled, spec, set, NULL);
    bool read = compiled.spec->messages.first == NULL;
    compile_free(&compiled);
    return read;
}

/* Some property of that thing at its extreme, as an option says it; NULL: what was drawn is none, or is not read. */
static const char *draw_set(Arena *arena, uint64_t *seed, const char *spec, const Model *model)
{
    const Entity *thing = model->entities[random_below(seed, (int)model->entity_count)];
    PropId list[PROP_COUNT];
    int count = 0;
    for (PropId p = schema_next_prop(thing->kind, PROP_NONE); p != PROP_NONE;
         p = schema_next_prop(thing->kind, p)) {
        list[count++] = p;
    }
    PropId prop = count > 0 ? list[random_below(seed, count)] : PROP_NONE;
    const char *example = count > 0 ? props[prop].example : NULL;
    int nth = random_below(seed, 3);
    const char *form = forms[random_below(seed, FORM_COUNT)];
    const char *value = example != NULL ? value_of(arena, example, nth, form) : NULL;
    if (value == NULL) {
        return NULL;
    }
    const char *set =
        text_format(arena, "%.*s.%s=%s", STR_ARG(entity_name(model, thing)), props[prop].word, value);
    snprintf(trying, sizeof trying, "%s", set);
    return is_read(spec, set) ? set : NULL;
}

/* Check and figures always, the book now and then: it takes the most time. */
static void write_outputs(const char *spec, const char *const *sets, size_t count, bool book)
{
    GbRequest request = {.path = "test.boat",
                         .text = spec,
                         .length = strlen(spec),
                         .reader = gb_reader_files(),
                         .set = sets,
                         .set_count = count,
                         .today = "2027-03-01"};
    GbCompilation *boat = NULL;
    GbText text;
    const GbBookFile *files;
    size_t file_count;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    assert_int_equal(gb_output(boat, "check", "text", NULL, &text), GB_DONE);
    assert_int_equal(gb_output(boat, "figures", "text", NULL, &text), GB_DONE);
    assert_true(!book || gb_book(boat, &files, &file_count) == GB_DONE);
    gb_free(boat);
}

static void try_spec(uint64_t *seed, const char *spec, int round)
{
    Arena arena = check_arena();
    Compiled compiled;
    compile_text(&compiled, spec);
    const Model *model = outcome_first(compiled.outcome)->model;
    const char *sets[MOST_SETS];
    size_t count = 0, wanted = 1 + (size_t)random_below(seed, MOST_SETS);
    for (int i = 0; i < TRIES && count < wanted && model->entity_count > 0; i++) {
        const char *set = draw_set(&arena, seed, spec, model);
        if (set != NULL) {
            sets[count++] = set;
        }
    }
    size_t length = 0;
    for (size_t i = 0; i < count && length < sizeof trying; i++) {
        length += (size_t)snprintf(trying + length, sizeof trying - length, "--set '%s' ", sets[i]);
    }
    if (length < sizeof trying) {
        snprintf(trying + length, sizeof trying - length, "\n%s", spec);
    }
    write_outputs(spec, sets, count, round % 3 == 0);
    compile_free(&compiled);
    arena_free(&arena);
}

static void no_hole_no_nought_and_no_huge_number_stops_the_program(void **state)
{
    (void)state;
    const char *asked = getenv("EXTREMES_SEED"); /* another run */
    uint64_t seed = asked != NULL ? strtoull(asked, NULL, 10) : 20270301;
    signal(SIGABRT, tell_and_leave);
    signal(SIGFPE, tell_and_leave);
    signal(SIGALRM, tell_and_leave);
    int specs = 0;
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++, specs++) {
            for (int round = 0; round < ROUNDS_A_SPEC; round++) {
                alarm(MOST_SECONDS);
                try_spec(&seed, rule_families[f]->rules[r].breaks, round);
            }
        }
    }
    alarm(0);
    assert_true(specs > 150);
}

/* A boat of 12 or of 24 V is a usual thing to leave open; the network asserted a voltage above none. */
static void a_system_voltage_that_is_not_decided_is_that_of_the_bank(void **state)
{
    (void)state;
#define SYSTEM(VOLTS)                                                                                      \
    "edition 1\nboat b { length 8 m; beam 2.8 m; displacement 3 t; crew 2; currency EUR; basis us; " VOLTS \
    " }\n"                                                                                                 \
    "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"                                        \
    "load lamp { fed-by house; run 4 m; wire 2.5 mm2; draw 5 A; protect 10 A fuse }\n"
    Compiled said, open;
    compile_text(&said, SYSTEM("system-voltage 12 V"));
    static const char *const opens[] = {SYSTEM("system-voltage ?"), SYSTEM("system-voltage 12..24 V"),
                                        SYSTEM("system-voltage 7.2..19.2 V")};
    for (size_t i = 0; i < sizeof opens / sizeof opens[0]; i++) {
        compile_text(&open, opens[i]);
        const Figure *a = compiled_figure(&said, "lamp", FIGURE_TOTAL_DROP),
                     *b = compiled_figure(&open, "lamp", FIGURE_TOTAL_DROP);
        assert_near(b->low, a->low, 1e-12);
        assert_near(b->high, a->high, 1e-12);
        compile_free(&open);
    }
    compile_free(&said);
}

/* Nothing is drawn into a boat whose length nobody knows: her sketch asserted finite numbers. */
static void a_boat_of_no_decided_length_has_a_book(void **state)
{
    (void)state;
    static const char spec[] =
        "edition 1\nboat b { length ?; beam 2.8 m; displacement 3000 kg; crew 2; currency EUR; basis iso }\n"
        "item stove { at 4 m 1 m 0.2 m }\n";
    write_outputs(spec, NULL, 0, true);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_system_voltage_that_is_not_decided_is_that_of_the_bank),
        cmocka_unit_test(a_boat_of_no_decided_length_has_a_book),
        cmocka_unit_test(no_hole_no_nought_and_no_huge_number_stops_the_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
