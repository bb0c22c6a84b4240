/*
 * The library's entrance: what each call answers, that files come through the caller's reader alone, that compilations
 * do not disturb each other, and that running out of memory at any point is told and leaves nothing behind.
 */
#include "check.h"
#include "garboard.h"
#include "purse.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#define BOAT "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"

/* Files in memory, and how often each was asked for. */
typedef struct Shelf {
    const char *path[4];
    const char *text[4];
    int asked[4];
    uint64_t identity[4];
    int strangers; /* asked for, and not there */
} Shelf;

static GbFile take(void *context, const char *path, void *(*allocate)(void *memory, size_t size), void *memory)
{
    Shelf *shelf = context;
    for (int i = 0; i < 4; i++) {
        if (shelf->path[i] != NULL && strcmp(shelf->path[i], path) == 0) {
            shelf->asked[i]++;
            size_t length = strlen(shelf->text[i]);
            GbFile file = {.text = allocate(memory, length + 1), .length = length};
            file.identity[0] = shelf->identity[i];
            memcpy(file.text, shelf->text[i], length + 1);
            return file;
        }
    }
    shelf->strangers++;
    return (GbFile){.error = "there is no such file"};
}

static GbRequest request_for(Shelf *shelf, const char *path)
{
    return (GbRequest){.path = path, .reader = {take, shelf}, .today = "2027-03-01"};
}

static void files_are_found_from_the_file_that_includes_them_and_read_once(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"boats/wren.boat", "boats/parts/a.boat", "boats/parts/b.boat"},
                   .text = {BOAT "include \"parts/a.boat\"\ninclude \"./parts/../parts/b.boat\"\n",
                            "include \"b.boat\"\nitem a { mass 1 kg }\n", "item b { mass 2 kg }\n"}};
    GbRequest request = request_for(&shelf, "boats/wren.boat");
    GbCompilation *boat;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    assert_int_equal(gb_summary(boat).mistakes, 0);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(shelf.asked[i], 1);
    }
    assert_int_equal(shelf.strangers, 0);
    gb_free(boat);
}

static void one_file_under_two_names_is_one(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat", "a.boat", "b.boat"},
                   .text = {BOAT "include \"a.boat\"\ninclude \"b.boat\"\n", "item a { mass 1 kg }\n", "item a { mass 1 kg }\n"},
                   .identity = {1, 7, 7}};
    GbRequest request = request_for(&shelf, "wren.boat");
    GbCompilation *boat;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    assert_int_equal(gb_summary(boat).mistakes, 0);
    gb_free(boat);
}

static void a_file_that_is_missing_is_a_mistake_but_not_as_the_main_file(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat"}, .text = {BOAT "include \"a.boat\"\n"}};
    GbRequest request = request_for(&shelf, "wren.boat");
    GbCompilation *boat;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    assert_int_equal(gb_summary(boat).mistakes, 1);
    assert_true(gb_summary(boat).broken);
    gb_free(boat);
    request.path = "tern.boat";
    assert_int_equal(gb_compile(&request, &boat), GB_UNREADABLE);
    assert_string_equal(gb_error(boat), "cannot read tern.boat: there is no such file");
    gb_free(boat);
}

/* Fails unless a request is refused with those words in the reason. */
static void expect_refused(GbRequest request, const char *words)
{
    GbCompilation *boat;
    GbText text;
    assert_int_equal(gb_compile(&request, &boat), GB_BAD_REQUEST);
    if (strstr(gb_error(boat), words) == NULL) {
        fail_msg("`%s` is not in `%s`", words, gb_error(boat));
    }
    assert_true(gb_summary(boat).broken);
    assert_int_equal(gb_output(boat, "check", "text", NULL, &text), GB_BAD_REQUEST);
    const GbBookFile *files;
    size_t count;
    assert_int_equal(gb_book(boat, &files, &count), GB_BAD_REQUEST);
    gb_free(boat);
}

static void a_request_that_makes_no_sense_is_refused(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat"}, .text = {BOAT}};
    const char *const nonsense[] = {"nonsense"};
    GbRequest request = request_for(&shelf, "wren.boat");
    request.basis = "eu";
    expect_refused(request, "`us` or `iso`");
    request = request_for(&shelf, "wren.boat");
    request.today = "tomorrow";
    expect_refused(request, "2027-03-01");
    request = request_for(&shelf, "wren.boat");
    request.today = NULL;
    expect_refused(request, "2027-03-01");
    request = request_for(&shelf, NULL);
    expect_refused(request, "a path");
    request = request_for(&shelf, "wren.boat");
    request.reader = (GbReader){NULL, NULL};
    expect_refused(request, "a reader");
    request = request_for(&shelf, "wren.boat");
    request.with = nonsense;
    request.with_count = 1;
    expect_refused(request, "CHOICE=OPTION");
    const char *const no_choice[] = {"q=c"};
    request.with = no_choice;
    expect_refused(request, "the spec has no choice of that name");
    request = request_for(&shelf, "wren.boat");
    request.set = nonsense;
    request.set_count = 1;
    expect_refused(request, "THING.PROPERTY=VALUE");
}

/* A value from the command line that does not fit the spec is a mistake in it, told as one; an option that it has not is none. */
static void what_is_tried_is_checked_like_the_spec(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat"}, .text = {BOAT "choice q { option a { }; option b { } }\n"}};
    const char *const with[] = {"q=c"};
    const char *const set[] = {"wren.crew=2.5"};
    GbRequest request = request_for(&shelf, "wren.boat");
    request.with = with;
    request.with_count = 1;
    expect_refused(request, "has no option of that name; it has `a` or `b`");
    request = request_for(&shelf, "wren.boat");
    request.set = set;
    request.set_count = 1;
    GbCompilation *boat;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    assert_int_equal(gb_summary(boat).mistakes, 1);
    gb_free(boat);
}

static void an_output_that_there_is_none_of_leaves_the_rest_as_it_was(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat"}, .text = {BOAT}};
    GbRequest request = request_for(&shelf, "wren.boat");
    GbCompilation *boat;
    GbText before;
    GbText none;
    GbText after;
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    assert_int_equal(gb_output(boat, "check", "json", NULL, &before), GB_DONE);
    assert_int_equal(gb_output(boat, "czech", "json", NULL, &none), GB_BAD_REQUEST);
    assert_int_equal(none.length, 0);
    assert_true(gb_error(boat)[0] != 0);
    assert_int_equal(gb_output(boat, "check", "jason", NULL, &none), GB_BAD_REQUEST);
    assert_int_equal(gb_output(boat, "why", "text", "wren.masss", &none), GB_BAD_REQUEST);
    assert_int_equal(gb_output(boat, "check", "json", NULL, &after), GB_DONE);
    assert_string_equal(gb_error(boat), "");
    assert_int_equal(after.length, before.length);
    assert_memory_equal(after.text, before.text, before.length);
    gb_free(boat);
}

static void two_compilations_side_by_side_do_not_disturb_each_other(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat", "tern.boat"},
                   .text = {BOAT "item a { mass 1 amp }\n", BOAT "item a { mass 3 kg }\n"}};
    GbRequest wren = request_for(&shelf, "wren.boat");
    GbRequest tern = request_for(&shelf, "tern.boat");
    GbCompilation *one;
    GbCompilation *two;
    GbCompilation *alone;
    GbText text;
    GbText same;
    assert_int_equal(gb_compile(&wren, &one), GB_DONE);
    assert_int_equal(gb_compile(&tern, &two), GB_DONE);
    assert_int_equal(gb_output(one, "check", "text", NULL, &text), GB_DONE);
    gb_free(two);
    assert_int_equal(gb_compile(&wren, &alone), GB_DONE);
    assert_int_equal(gb_output(alone, "check", "text", NULL, &same), GB_DONE);
    assert_int_equal(text.length, same.length);
    assert_memory_equal(text.text, same.text, text.length);
    gb_free(alone);
    gb_free(one);
}

/* Running out of memory */

static void memory_may_run_out_in_the_reader_and_in_the_book(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat", "a.boat"},
                   .text = {BOAT "include \"a.boat\"\n", "bank b { chemistry agm; voltage 12 V; capacity 90 Ah }\n"
                                                         "load lamp { fed-by b; run 1 m; draw 1 A }\n"}};
    bool done = false;
    for (int allowed = 0; allowed < 500 && !done; allowed++) {
        Purse purse = {.left = allowed};
        GbRequest request = request_for(&shelf, "wren.boat");
        request.allocator = (GbAllocator){purse_allocate, purse_release, &purse};
        GbCompilation *boat;
        const GbBookFile *files;
        size_t count = 1;
        GbStatus status = gb_compile(&request, &boat);
        if (status == GB_DONE) {
            status = gb_book(boat, &files, &count);
            assert_true(status == GB_DONE || count == 0);
        }
        done = status == GB_DONE;
        assert_true(done || status == GB_OUT_OF_MEMORY);
        assert_true(boat != NULL || allowed == 0);
        gb_free(boat);
        assert_int_equal(purse.alive, 0);
    }
    assert_true(done);
}

/* A program that lives on must get its files back, wherever memory ran out: the next one to open has the same number. */
static void files_are_closed_wherever_memory_runs_out(void **state)
{
    (void)state;
    char path[300];
    snprintf(path, sizeof path, "%s/garboard-closed.boat", getenv("TMPDIR") != NULL ? getenv("TMPDIR") : "/tmp");
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(BOAT, file);
    fclose(file);
    int before = dup(0);
    close(before);
    bool done = false;
    for (int allowed = 0; allowed < 500 && !done; allowed++) {
        Purse purse = {.left = allowed};
        GbRequest request = {.path = path, .reader = gb_reader_files(), .today = "2027-03-01"};
        request.allocator = (GbAllocator){purse_allocate, purse_release, &purse};
        GbCompilation *boat;
        done = gb_compile(&request, &boat) == GB_DONE;
        gb_free(boat);
        int now = dup(0);
        close(now);
        assert_int_equal(now, before);
    }
    remove(path);
    assert_true(done);
}

/* Without a format, the first that there is. */
static void a_format_may_be_left_out(void **state)
{
    (void)state;
    Shelf shelf = {.path = {"wren.boat"}, .text = {BOAT}};
    GbRequest request = request_for(&shelf, "wren.boat");
    GbCompilation *one, *two;
    assert_int_equal(gb_compile(&request, &one), GB_DONE);
    assert_int_equal(gb_compile(&request, &two), GB_DONE);
    GbText text;
    bool different = true;
    assert_int_equal(gb_diff(one, two, NULL, &text, &different), GB_DONE);
    assert_false(different);
    assert_int_equal(gb_output(one, "check", NULL, NULL, &text), GB_DONE);
    gb_free(one);
    gb_free(two);
}

static void expect_manual(const char *output, const char *argument)
{
    bool done = false;
    for (int allowed = 0; allowed < 500 && !done; allowed++) {
        Purse purse = {.left = allowed};
        GbAllocator allocator = {purse_allocate, purse_release, &purse};
        char *text;
        size_t length;
        GbStatus status = gb_manual(output, argument, false, allocator, &text, &length);
        done = status == GB_DONE;
        assert_true(done || status == GB_OUT_OF_MEMORY);
        assert_true(done ? strlen(text) == length && length > 0 : text == NULL);
        assert_int_equal(purse.alive, done ? 1 : 0);
        if (text != NULL) {
            purse_release(&purse, text);
        }
    }
    assert_true(done);
}

static void the_manual_needs_no_spec_and_bears_a_lack_of_memory(void **state)
{
    (void)state;
    expect_manual("kinds", NULL);
    expect_manual("kinds", "bank");
    expect_manual("rules", NULL);
    expect_manual("rules", "wire-drop");
    expect_manual("reference", NULL);
    expect_manual("starter", "wren");
}

static void what_the_manual_has_not_is_said_with_a_reason(void **state)
{
    (void)state;
    char *text;
    size_t length;
    assert_int_equal(gb_manual("kinds", "bnak", false, (GbAllocator){0}, &text, &length), GB_BAD_REQUEST);
    assert_non_null(strstr(text, "bank"));
    free(text);
    assert_int_equal(gb_manual("starter", "not a name", false, (GbAllocator){0}, &text, &length), GB_BAD_REQUEST);
    assert_true(length > 0);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(files_are_found_from_the_file_that_includes_them_and_read_once),
        cmocka_unit_test(one_file_under_two_names_is_one),
        cmocka_unit_test(a_file_that_is_missing_is_a_mistake_but_not_as_the_main_file),
        cmocka_unit_test(a_request_that_makes_no_sense_is_refused),
        cmocka_unit_test(what_is_tried_is_checked_like_the_spec),
        cmocka_unit_test(an_output_that_there_is_none_of_leaves_the_rest_as_it_was),
        cmocka_unit_test(two_compilations_side_by_side_do_not_disturb_each_other),
        cmocka_unit_test(memory_may_run_out_in_the_reader_and_in_the_book),
        cmocka_unit_test(files_are_closed_wherever_memory_runs_out),
        cmocka_unit_test(a_format_may_be_left_out),
        cmocka_unit_test(the_manual_needs_no_spec_and_bears_a_lack_of_memory),
        cmocka_unit_test(what_the_manual_has_not_is_said_with_a_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
