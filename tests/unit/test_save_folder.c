/*
 * A folder of files and its manifest: what is on the disk afterwards, and what is refused.
 */
#define _XOPEN_SOURCE 700

#include "test_save.h"

#include "save_step.h"

/* The hashes of the FNV authors' own list of test vectors, from memory: "", "a", "foobar". */
static void the_hash_is_fnv_1a(void **state)
{
    (void)state;
    assert_true(save_hash(SAVE_HASH_EMPTY, STR("")) == UINT64_C(0xCBF29CE484222325));
    assert_true(save_hash(SAVE_HASH_EMPTY, STR("a")) == UINT64_C(0xAF63DC4C8601EC8C));
    assert_true(save_hash(SAVE_HASH_EMPTY, STR("foobar")) == UINT64_C(0x85944171F73967E8));
}

#define MANIFEST_HEAD "# Files that Garboard wrote here, and may replace: size, hash (FNV-1a), name\n"
#define LINE_A "1 af63dc4c8601ec8c "      /* of a file that holds `a` */
#define LINE_FOOBAR "6 85944171f73967e8 " /* of a file that holds `foobar` */

static const SaveFile book[] = {
    {"img/power.svg", {"foobar", 6}}, {"book.md", {"a", 1}}, {"bom.csv", {"foobar", 6}}};
enum { BOOK = sizeof book / sizeof *book };

static bool save_book(Disk *disk, const SaveFile files[], size_t count)
{
    buf_init(&disk->bench.buf, &disk->bench.arena);
    bool saved = save_folder("out", files, count, NULL, &disk->bench.buf);
    if (saved && disk->bench.buf.length > 0) {
        print_error("saved, and yet: %s\n", disk->bench.buf.text);
        return false;
    }
    return saved;
}

/* The folder cannot be written, for this reason, and was not: not a name in it has changed. */
static void expect_book_refused(Disk *disk, const SaveFile files[], size_t count, const char *why)
{
    int before = is_there("out") ? count_names("out") : -1;
    assert_false(save_book(disk, files, count));
    assert_str(buf_str(&disk->bench.buf), why);
    assert_int_equal(is_there("out") ? count_names("out") : -1, before);
}

/* What folder_check tells: "book.md is missing, ..." */
static void expect_changes(Disk *disk, const SaveFile files[], size_t count, const char *expected)
{
    FolderChanges changes;
    Buf told;
    buf_init(&told, &disk->bench.arena);
    buf_init(&disk->bench.buf, &disk->bench.arena);
    assert_true(folder_check("out", files, count, &changes, &disk->bench.buf));
    for (size_t i = 0; i < changes.count; i++) {
        buf_format(&told, "%s%s %s", i > 0 ? ", " : "", changes.list[i].name,
                   folder_state_words(changes.list[i].state));
    }
    assert_str(buf_str(&told), expected);
}

static void a_folder_is_made_with_its_files_and_a_manifest(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    assert_true(holds("out/book.md", "a"));
    assert_true(holds("out/bom.csv", "foobar"));
    assert_true(holds("out/img/power.svg", "foobar"));
    assert_true(holds("out/" SAVE_MANIFEST, MANIFEST_HEAD LINE_FOOBAR
                      "bom.csv\n" LINE_A "book.md\n" LINE_FOOBAR "img/power.svg\n"));
    assert_int_equal(count_names("out"), 4);
    assert_int_equal(count_names("out/img"), 1);
    assert_int_equal(mode_of("out/book.md"), 0644);
    assert_int_equal(mode_of("out"), 0755);
}

static void a_slash_at_the_end_of_the_folder_does_no_harm(void **state)
{
    Disk *disk = *state;
    assert_true(save_folder("out//", book, BOOK, NULL, &disk->bench.buf));
    assert_true(holds("out/book.md", "a"));
}

static void the_same_again_touches_nothing(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    ino_t files[] = {identity("out/book.md"), identity("out/img/power.svg"), identity("out/" SAVE_MANIFEST)};
    assert_true(save_book(*state, book, BOOK));
    assert_true(identity("out/book.md") == files[0]);
    assert_true(identity("out/img/power.svg") == files[1]);
    assert_true(identity("out/" SAVE_MANIFEST) == files[2]);
}

static void only_what_differs_is_rewritten(void **state)
{
    const SaveFile next[] = {
        {"book.md", {"foobar", 6}}, {"bom.csv", {"foobar", 6}}, {"img/power.svg", {"foobar", 6}}};
    assert_true(save_book(*state, book, BOOK));
    assert_int_equal(chmod("out/book.md", 0600), 0);
    ino_t same = identity("out/bom.csv");
    ino_t other = identity("out/book.md");
    expect_changes(*state, next, 3, "book.md is out of date");
    assert_true(save_book(*state, next, 3));
    assert_true(identity("out/bom.csv") == same);
    assert_true(identity("out/book.md") != other);
    assert_true(holds("out/book.md", "foobar"));
    assert_int_equal(mode_of("out/book.md"), 0600);
    expect_changes(*state, next, 3, "");
}

static void a_file_that_was_deleted_is_written_again(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    assert_int_equal(unlink("out/img/power.svg"), 0);
    assert_int_equal(rmdir("out/img"), 0);
    expect_changes(*state, book, BOOK, "img/power.svg is missing");
    assert_true(save_book(*state, book, BOOK));
    assert_true(holds("out/img/power.svg", "foobar"));
}

static void own_files_that_are_wanted_no_longer_are_removed(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    expect_changes(*state, book + 1, 1,
                   "bom.csv is left over from before, img/power.svg is left over from before");
    assert_true(save_book(*state, book + 1, 1));
    assert_int_equal(count_names("out"), 2); /* the folder `img` was empty then */
    assert_true(holds("out/" SAVE_MANIFEST, MANIFEST_HEAD LINE_A "book.md\n"));
}

static void what_others_put_there_stays(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    put("out/notes.md", "mine");
    put("out/img/photo.jpg", "mine");
    put("out/.hidden", "mine");
    assert_true(save_book(*state, book + 1, 1));
    assert_true(holds("out/notes.md", "mine"));
    assert_true(holds("out/img/photo.jpg", "mine"));
    assert_true(holds("out/.hidden", "mine"));
    assert_false(is_there("out/img/power.svg"));
}

static void a_leftover_that_was_edited_stays_and_is_no_longer_ours(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    put("out/bom.csv", "edited");
    expect_changes(*state, book, 2, "bom.csv is left over from before, but was edited by hand");
    assert_true(save_book(*state, book, 2));
    assert_true(holds("out/bom.csv", "edited"));
    expect_changes(*state, book, 2, "");
    expect_book_refused(
        *state, book, BOOK,
        "cannot write into `out`: `bom.csv` was not written by Garboard; nothing was changed");
}

static void a_file_that_was_edited_stops_everything(void **state)
{
    const SaveFile next[] = {{"book.md", {"new", 3}}, {"bom.csv", {"new", 3}}, {"wires.csv", {"new", 3}}};
    assert_true(save_book(*state, book, BOOK));
    put("out/book.md", "edited");
    expect_changes(*state, next, 3,
                   "bom.csv is out of date, book.md was edited by hand,"
                   " img/power.svg is left over from before, wires.csv is missing");
    expect_book_refused(*state, next, 3,
                        "cannot write into `out`: `book.md` was edited by hand; nothing was changed");
    assert_true(holds("out/book.md", "edited"));
    assert_true(holds("out/bom.csv", "foobar"));
    assert_true(holds("out/img/power.svg", "foobar"));
}

static void an_edit_that_is_taken_back_or_equals_what_is_wanted_is_none(void **state)
{
    const SaveFile next[] = {{"book.md", {"edited", 6}}};
    assert_true(save_book(*state, book + 1, 1));
    put("out/book.md", "edited");
    assert_true(save_book(*state, next, 1));
    assert_true(save_book(*state, book + 1, 1));
    assert_true(holds("out/book.md", "a"));
}

static void files_of_somebody_else_stop_everything(void **state)
{
    assert_int_equal(mkdir("out", 0777), 0);
    put("out/book.md", "mine");
    assert_int_equal(mkdir("out/bom.csv", 0777), 0);
    put("out/img", "mine");
    expect_changes(*state, book, BOOK,
                   "bom.csv was not written by Garboard, book.md was not written by Garboard,"
                   " img/power.svg has a file or a link where its folder should be");
    expect_book_refused(
        *state, book, BOOK,
        "cannot write into `out`: `bom.csv` was not written by Garboard, `book.md` was not written by"
        " Garboard, `img/power.svg` has a file or a link where its folder should be; nothing was changed");
    assert_true(holds("out/book.md", "mine"));
}

static void a_long_list_of_what_stops_everything_is_cut(void **state)
{
    static const char *const names[] = {"a", "b", "c", "d", "e", "f", "g"};
    SaveFile files[7];
    assert_int_equal(mkdir("out", 0777), 0);
    for (size_t i = 0; i < 7; i++) {
        Disk *disk = *state;
        files[i] = (SaveFile){names[i], STR("new")};
        put(text_format(&disk->bench.arena, "out/%s", names[i]), "mine");
    }
    assert_false(save_book(*state, files, 7));
    Disk *disk = *state;
    assert_non_null(
        strstr(disk->bench.buf.text, "`e` was not written by Garboard, and 2 more; nothing was changed"));
}

static void a_file_that_is_as_wanted_becomes_ours(void **state)
{
    const SaveFile next[] = {{"book.md", {"new", 3}}};
    assert_int_equal(mkdir("out", 0777), 0);
    put("out/book.md", "a");
    ino_t before = identity("out/book.md");
    assert_true(save_book(*state, book + 1, 1));
    assert_true(identity("out/book.md") == before);
    assert_true(save_book(*state, next, 1));
    assert_true(holds("out/book.md", "new"));
}

static void links_in_the_folder_are_not_followed(void **state)
{
    assert_int_equal(mkdir("out", 0777), 0);
    assert_int_equal(mkdir("elsewhere", 0777), 0);
    put("outside", "mine");
    assert_int_equal(symlink("../outside", "out/book.md"), 0);
    assert_int_equal(symlink("../elsewhere", "out/img"), 0);
    expect_book_refused(
        *state, book, 2,
        "cannot write into `out`: `book.md` was not written by Garboard, `img/power.svg` has a file or a"
        " link where its folder should be; nothing was changed");
    assert_true(holds("outside", "mine"));
    assert_int_equal(count_names("elsewhere"), 0);
}

static void leftovers_behind_links_are_not_removed(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    assert_int_equal(rename("out/img", "elsewhere"), 0);
    assert_int_equal(symlink("../elsewhere", "out/img"), 0);
    assert_int_equal(rename("out/bom.csv", "outside"), 0);
    assert_int_equal(symlink("../outside", "out/bom.csv"), 0);
    assert_true(save_book(*state, book + 1, 1));
    assert_true(holds("elsewhere/power.svg", "foobar"));
    assert_true(holds("outside", "foobar"));
    assert_true(is_there("out/img") && is_there("out/bom.csv"));
}

static void the_folder_itself_may_be_a_link(void **state)
{
    assert_int_equal(mkdir("there", 0777), 0);
    assert_int_equal(symlink("there", "out"), 0);
    assert_true(save_book(*state, book, BOOK));
    assert_true(holds("there/img/power.svg", "foobar"));
}

static void a_link_that_leads_nowhere_is_no_folder(void **state)
{
    assert_int_equal(symlink("nowhere", "out"), 0);
    Disk *disk = *state;
    assert_false(save_book(disk, book, BOOK));
    assert_str(buf_str(&disk->bench.buf), "cannot write `out`: it is a link that leads nowhere; nothing was changed");
    assert_false(is_there("nowhere"));
}

static void a_manifest_that_is_not_ours_stops_everything(void **state)
{
    static const char *const texts[] = {
        "",
        "my own list\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c ../outside\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c /tmp/outside\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c a/../outside\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c a/b/c\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c a/\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c .hidden\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c " SAVE_MANIFEST "\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c \n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c b",
        MANIFEST_HEAD "1 af63dc4c8601ec8 b\n",
        MANIFEST_HEAD "1 AF63DC4C8601EC8C b\n",
        MANIFEST_HEAD "x af63dc4c8601ec8c b\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c b\n\n",
        MANIFEST_HEAD "1 af63dc4c8601ec8c b\n1 af63dc4c8601ec8c a\n",
        MANIFEST_HEAD "<<<<<<< ours\n",
    };
    put("outside", "a");
    assert_int_equal(mkdir("out", 0777), 0);
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        put("out/" SAVE_MANIFEST, texts[i]);
        expect_book_refused(*state, book, BOOK,
                            "cannot tell whose files are in `out`: `" SAVE_MANIFEST
                            "` is not as Garboard wrote it;"
                            " nothing was changed");
        assert_true(holds("out/" SAVE_MANIFEST, texts[i]));
    }
    assert_true(holds("outside", "a"));
    assert_int_equal(unlink("out/" SAVE_MANIFEST), 0);
    put("elsewhere", MANIFEST_HEAD);
    assert_int_equal(symlink("../elsewhere", "out/" SAVE_MANIFEST), 0);
    assert_false(save_book(*state, book, BOOK));
    assert_true(holds("elsewhere", MANIFEST_HEAD));
}

static void names_that_lead_elsewhere_are_refused(void **state)
{
    static const char *const names[] = {"../a", "/a", "a/b/c",       ".a",   "a/.b", "",
                                        "a/",   "/",  SAVE_MANIFEST, "a\nb", "a\\b"};
    Disk *disk = *state;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        SaveFile files[] = {{names[i], STR("new")}};
        expect_book_refused(disk, files, 1,
                            text_format(&disk->bench.arena,
                                        "cannot write `out/%s`: it is not a name for a file;"
                                        " nothing was changed",
                                        names[i]));
    }
}

static void a_folder_that_cannot_be_made_or_read_is_told(void **state)
{
    Disk *disk = *state;
    FolderChanges changes;
    assert_false(save_folder("none/out", book, BOOK, NULL, &disk->bench.buf));
    assert_str(buf_str(&disk->bench.buf),
               "cannot write `none/out`: its folder does not exist; nothing was changed");
    put("out", "mine");
    buf_init(&disk->bench.buf, &disk->bench.arena);
    assert_false(save_folder("out", book, BOOK, NULL, &disk->bench.buf));
    assert_str(buf_str(&disk->bench.buf),
               "cannot read `out/" SAVE_MANIFEST "`: a part of its path is not a folder");
    buf_init(&disk->bench.buf, &disk->bench.arena);
    assert_false(folder_check("out", book, BOOK, &changes, &disk->bench.buf));
    assert_true(holds("out", "mine"));
    buf_init(&disk->bench.buf, &disk->bench.arena);
    assert_false(save_folder("", book, BOOK, NULL, &disk->bench.buf));
    assert_str(buf_str(&disk->bench.buf), "cannot write ``: it is not a name for a file");
}

static void checking_a_folder_that_is_not_there_makes_none(void **state)
{
    expect_changes(*state, book, BOOK, "bom.csv is missing, book.md is missing, img/power.svg is missing");
    assert_false(is_there("out"));
}

static void saving_tells_what_it_found(void **state)
{
    Disk *disk = *state;
    FolderChanges changes;
    assert_true(save_book(disk, book, 2));
    assert_true(save_folder("out", book + 1, 2, &changes, &disk->bench.buf));
    assert_int_equal(changes.count, 2);
    assert_string_equal(changes.list[0].name, "bom.csv");
    assert_int_equal(changes.list[0].state, FOLDER_MISSING);
    assert_string_equal(changes.list[1].name, "img/power.svg");
    assert_int_equal(changes.list[1].state, FOLDER_LEFTOVER);
}

static void no_files_at_all_leave_a_folder_with_an_empty_manifest(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    assert_true(save_book(*state, NULL, 0));
    assert_int_equal(count_names("out"), 1);
    assert_true(holds("out/" SAVE_MANIFEST, MANIFEST_HEAD));
}

static void give_to_nobody(void)
{
    if (geteuid() == 0) {
        assert_int_equal(system("chown -R 65534:65534 out"), 0);
    }
}

/* As after a loss of power between the manifest of both and the files. */
static void a_run_that_was_cut_short_is_taken_up(void **state)
{
    const SaveFile third[] = {{"bom.csv", {"new", 3}}, {"book.md", {"new", 3}}};
    assert_int_equal(mkdir("out", 0777), 0);
    put("out/" SAVE_MANIFEST,
        MANIFEST_HEAD LINE_A "bom.csv\n" LINE_FOOBAR "bom.csv\n" LINE_A "book.md\n" LINE_FOOBAR
                             "book.md\n" LINE_A "img/gone.svg\n");
    put("out/bom.csv", "foobar"); /* written already */
    put("out/book.md", "a");      /* not yet */
    expect_changes(*state, third, 2, "bom.csv is out of date, book.md is out of date");
    assert_true(save_book(*state, third, 2));
    assert_true(holds("out/bom.csv", "new"));
    assert_true(holds("out/book.md", "new"));
    assert_int_equal(count_names("out"), 3);
}

/* A leftover that cannot be removed stops the run when other files are written already. */
static bool fail_after_writing(Disk *disk)
{
    const SaveFile next[] = {{"bom.csv", {"second", 6}}, {"book.md", {"second", 6}}};
    return !save_book(disk, next, 2) &&
           str_is(buf_str(&disk->bench.buf), "cannot remove `out/img/power.svg`: permission is refused;"
                                             " some files are written, and the next run does the rest");
}

static void after_a_run_that_failed_late_all_files_are_still_ours(void **state)
{
    const SaveFile third[] = {{"bom.csv", {"new", 3}}, {"book.md", {"new", 3}}};
    assert_true(save_book(*state, book, BOOK));
    give_to_nobody();
    assert_int_equal(chmod("out/img", 0555), 0);
    act_as_nobody(*state, fail_after_writing);
    assert_true(holds("out/book.md", "second"));
    assert_int_equal(count_names("out"), 4);
    assert_int_equal(chmod("out/img", 0755), 0);
    assert_true(save_book(*state, third, 2));
    assert_true(holds("out/book.md", "new"));
    assert_int_equal(count_names("out"), 3);
}

static bool save_a_book_that_is_too_large(Disk *disk)
{
    static char big[5000];
    SaveFile files[] = {{"book.md", STR("new")}, {"new/a.svg", STR("new")}, {"new/b.svg", {big, sizeof big}}};
    return limit_files(1000) && !save_book(disk, files, 3) &&
           str_is(buf_str(&disk->bench.buf),
                  "cannot write `out/new/b.svg`: files may not be that large here; nothing was changed");
}

static void a_folder_that_fails_half_way_is_as_it_was(void **state)
{
    Disk *disk = *state;
    assert_true(save_book(disk, book, BOOK));
    give_to_nobody();
    act_as_nobody(disk, save_a_book_that_is_too_large);
    assert_true(holds("out/book.md", "a"));
    assert_int_equal(count_names("out"), 4);
    assert_int_equal(count_names("out/img"), 1);
    expect_changes(disk, book, BOOK, "");
}

static bool save_a_book_in_a_closed_folder(Disk *disk)
{
    SaveFile files[] = {{"book.md", STR("new")}};
    return !save_book(disk, files, 1) &&
           str_is(buf_str(&disk->bench.buf),
                  "cannot write `out/book.md`: permission is refused; nothing was changed");
}

static void a_folder_closed_to_writing_stays_as_it_was(void **state)
{
    assert_true(save_book(*state, book, BOOK));
    assert_int_equal(chmod("out", 0555), 0);
    assert_int_equal(chmod("out/book.md", 0666), 0);
    act_as_nobody(*state, save_a_book_in_a_closed_folder);
    assert_true(holds("out/book.md", "a"));
    assert_int_equal(count_names("out"), 4);
    assert_int_equal(chmod("out", 0755), 0);
}

static void a_full_disk_leaves_the_folder_as_it_was(void **state)
{
    enum { TOO_MUCH = 200000 };
    Disk *disk = *state;
    if (!mount_small_disk()) {
        skip();
    }
    Str bytes = {arena_alloc(&disk->bench.arena, TOO_MUCH), TOO_MUCH};
    SaveFile files[] = {{"a", STR("new")}, {"b", bytes}, {"sub/c", bytes}};
    bool saved = save_folder("small/book", files, 3, NULL, &disk->bench.buf);
    bool made = is_there("small/book");
    assert_int_equal(umount("small"), 0);
    assert_false(saved);
    assert_false(made);
    assert_str(buf_str(&disk->bench.buf),
               "cannot write `small/book/b`: the disk is full; nothing was changed");
}

/* ---- Memory ---- */

typedef struct Scarce {
    int left; /* allocations before none is given */
} Scarce;

static void *allocate_while_there_is_any(void *context, size_t size)
{
    Scarce *scarce = context;
    return scarce->left-- > 0 ? malloc(size) : NULL;
}

static void release_any(void *context, void *memory)
{
    (void)context;
    free(memory);
}

static int first_free_descriptor(void)
{
    int file = open("/dev/null", O_RDONLY);
    close(file);
    return file;
}

/* False if memory ran out. The files are many and long-named, so that more than one block is asked for. */
static bool save_with_allocations(int allocations)
{
    enum { MANY = 300 };
    static char names[MANY][200];
    static SaveFile files[MANY];
    static Arena arena;
    static jmp_buf out_of_memory;
    Scarce scarce = {allocations};
    arena_init(&arena, (Allocator){allocate_while_there_is_any, release_any, &scarce}, &out_of_memory);
    for (size_t i = 0; i < MANY; i++) {
        snprintf(names[i], sizeof names[i], "img/%0150zu", i);
        files[i] = (SaveFile){names[i], STR("a")};
    }
    bool saved = false;
    if (setjmp(out_of_memory) == 0) {
        Buf why;
        buf_init(&why, &arena);
        saved = save_folder("out", files, MANY, NULL, &why);
    }
    arena_free(&arena);
    return saved;
}

static void running_out_of_memory_leaves_no_file_open(void **state)
{
    (void)state;
    int before = first_free_descriptor();
    int allocations = 0;
    while (!save_with_allocations(allocations)) {
        assert_int_equal(first_free_descriptor(), before);
        assert_true(allocations < 100);
        allocations++;
    }
    assert_true(allocations > 0);
    assert_int_equal(first_free_descriptor(), before);
    assert_int_equal(count_names("out/img"), 300);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        DISK_TEST(the_hash_is_fnv_1a),
        DISK_TEST(a_folder_is_made_with_its_files_and_a_manifest),
        DISK_TEST(a_slash_at_the_end_of_the_folder_does_no_harm),
        DISK_TEST(the_same_again_touches_nothing),
        DISK_TEST(only_what_differs_is_rewritten),
        DISK_TEST(a_file_that_was_deleted_is_written_again),
        DISK_TEST(own_files_that_are_wanted_no_longer_are_removed),
        DISK_TEST(what_others_put_there_stays),
        DISK_TEST(a_leftover_that_was_edited_stays_and_is_no_longer_ours),
        DISK_TEST(a_file_that_was_edited_stops_everything),
        DISK_TEST(an_edit_that_is_taken_back_or_equals_what_is_wanted_is_none),
        DISK_TEST(files_of_somebody_else_stop_everything),
        DISK_TEST(a_long_list_of_what_stops_everything_is_cut),
        DISK_TEST(a_file_that_is_as_wanted_becomes_ours),
        DISK_TEST(links_in_the_folder_are_not_followed),
        DISK_TEST(leftovers_behind_links_are_not_removed),
        DISK_TEST(the_folder_itself_may_be_a_link),
        DISK_TEST(a_link_that_leads_nowhere_is_no_folder),
        DISK_TEST(a_manifest_that_is_not_ours_stops_everything),
        DISK_TEST(names_that_lead_elsewhere_are_refused),
        DISK_TEST(a_folder_that_cannot_be_made_or_read_is_told),
        DISK_TEST(checking_a_folder_that_is_not_there_makes_none),
        DISK_TEST(saving_tells_what_it_found),
        DISK_TEST(no_files_at_all_leave_a_folder_with_an_empty_manifest),
        DISK_TEST(a_run_that_was_cut_short_is_taken_up),
        DISK_TEST(after_a_run_that_failed_late_all_files_are_still_ours),
        DISK_TEST(a_folder_that_fails_half_way_is_as_it_was),
        DISK_TEST(a_folder_closed_to_writing_stays_as_it_was),
        DISK_TEST(a_full_disk_leaves_the_folder_as_it_was),
        DISK_TEST(running_out_of_memory_leaves_no_file_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
