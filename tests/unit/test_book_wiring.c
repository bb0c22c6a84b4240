/*
 * The pages that a person wires from: pictures, panel schedules, wire lists and settings in that order, mains with their own
 * caution; labels that come from names alone; and pictures of any size of boat whose words do not run into one another.
 */
#include "check.h"
#include "compile.h"

#include "output/book.h"

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
                                        "\n### Panel schedules, alternating current\n",
                                        "\n### Wire list, alternating current\n",
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
    at(&made, "\n| `main to lights` | 2.5 mm2 | red / black or yellow | 5 m | 4 rings 2.5 mm2, hole 4 mm | 10 A breaker |\n");
    at(&made, "\n#### inlet shore\n");
    at(&made, "\n| `shore to breaker` | 2.5 mm2, ground 2.5 mm2 | brown / light blue / green-yellow | 1 m | 6 ferrules 2.5 mm2 | "
              "16 A breaker, 2-pole, opens at 30 mA |\n");
    at(&made, "| 4 m | 4 ferrules 2.5 mm2, 2 of 1.5 mm2 | 10 A breaker |\n");
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_a_person_wires_from_stands_first_and_in_order),
        cmocka_unit_test(a_schedule_and_a_list_say_what_is_needed_to_wire),
        cmocka_unit_test(another_circuit_changes_no_label),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
