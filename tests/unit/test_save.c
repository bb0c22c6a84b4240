/*
 * One file, written whole or not at all: what is on the disk afterwards. What cannot be set up (a small disk
 * of its own) is skipped.
 */
#define _XOPEN_SOURCE 700

#include "test_save.h"

#include "save_step.h"

static bool save(Disk *disk, const char *path, const char *text)
{
    buf_init(&disk->bench.buf, &disk->bench.arena);
    return save_file(path, str_from(text), &disk->bench.buf);
}

static bool is_refused(Disk *disk, const char *path, const char *why)
{
    if (save(disk, path, "new")) {
        return false;
    }
    if (!str_is(buf_str(&disk->bench.buf), why)) {
        print_error("why is `%s`, expected `%s`\n", disk->bench.buf.text, why);
        return false;
    }
    return true;
}

static void a_new_file_gets_its_bytes_and_the_usual_mode(void **state)
{
    assert_true(save(*state, "a.csv", "id,n\r\n"));
    assert_true(holds("a.csv", "id,n\r\n"));
    assert_int_equal(mode_of("a.csv"), 0644);
    assert_int_equal(count_names("."), 1);
}

static void an_existing_file_is_replaced_and_keeps_its_mode(void **state)
{
    put("a.csv", "old");
    assert_int_equal(chmod("a.csv", 0640), 0);
    ino_t before = identity("a.csv");
    assert_true(save(*state, "./a.csv", "new"));
    assert_true(holds("a.csv", "new"));
    assert_int_equal(mode_of("a.csv"), 0640);
    assert_true(identity("a.csv") != before);
    assert_int_equal(count_names("."), 1);
}

static void every_byte_is_written(void **state)
{
    enum { LENGTH = 300000 };
    Disk *disk = *state;
    char *bytes = arena_alloc(&disk->bench.arena, LENGTH);
    for (size_t i = 0; i < LENGTH; i++) {
        bytes[i] = (char)(i * 31 % 256);
    }
    assert_true(save_file("big", (Str){bytes, LENGTH}, &disk->bench.buf));
    char *read = arena_alloc(&disk->bench.arena, LENGTH + 1);
    size_t length = LENGTH + 1;
    assert_int_equal(save_read("big", read, &length), 0);
    assert_int_equal(length, LENGTH);
    assert_memory_equal(read, bytes, LENGTH);
    assert_true(save(disk, "big", ""));
    assert_true(holds("big", ""));
}

static void a_file_that_holds_the_bytes_is_not_touched(void **state)
{
    struct stat before;
    struct stat after;
    put("a.csv", "same");
    assert_int_equal(utimensat(AT_FDCWD, "a.csv", (const struct timespec[]){{1000, 0}, {2000, 0}}, 0), 0);
    assert_int_equal(stat("a.csv", &before), 0);
    assert_true(save(*state, "a.csv", "same"));
    assert_int_equal(stat("a.csv", &after), 0);
    assert_true(before.st_ino == after.st_ino && before.st_mtime == after.st_mtime);
    assert_true(save(*state, "a.csv", "sama"));
    assert_true(holds("a.csv", "sama"));
    assert_true(save(*state, "a.csv", "sam"));
    assert_true(holds("a.csv", "sam"));
}

static void a_path_that_cannot_be_written_is_told_with_its_cause(void **state)
{
    char longer[400];
    memset(longer, 'x', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    put("file", "old");
    assert_int_equal(mkdir("folder", 0777), 0);
    assert_true(is_refused(*state, "folder", "cannot write `folder`: it is a folder"));
    assert_true(is_refused(*state, "folder/", "cannot write `folder/`: it is a folder"));
    assert_true(is_refused(*state, "none/a", "cannot write `none/a`: its folder does not exist"));
    assert_true(is_refused(*state, "none/", "cannot write `none/`: it is not a name for a file"));
    assert_true(is_refused(*state, "", "cannot write ``: it is not a name for a file"));
    assert_true(is_refused(*state, "file/a", "cannot write `file/a`: a part of its path is not a folder"));
    Disk *disk = *state;
    assert_true(is_refused(
        disk, longer, text_format(&disk->bench.arena, "cannot write `%s`: its name is too long", longer)));
    assert_true(holds("file", "old"));
    assert_int_equal(count_names("."), 2);
    assert_int_equal(count_names("folder"), 0);
}

static bool save_in_a_closed_folder(Disk *disk)
{
    return is_refused(disk, "closed/a", "cannot write `closed/a`: permission is refused") &&
           is_refused(disk, "closed/b", "cannot write `closed/b`: permission is refused") &&
           save(disk, "closed/a", "old"); /* there is nothing to do */
}

static void a_folder_closed_to_writing_is_told(void **state)
{
    assert_int_equal(mkdir("closed", 0777), 0);
    put("closed/a", "old");
    assert_int_equal(chmod("closed", 0555), 0);
    act_as_nobody(*state, save_in_a_closed_folder);
    assert_true(holds("closed/a", "old"));
    assert_int_equal(count_names("closed"), 1);
    assert_int_equal(chmod("closed", 0755), 0);
}

static bool save_over_a_protected_file(Disk *disk)
{
    put("a", "old");
    return chmod("a", 0444) == 0 && is_refused(disk, "a", "cannot write `a`: permission is refused");
}

static void a_file_closed_to_writing_is_not_replaced(void **state)
{
    act_as_nobody(*state, save_over_a_protected_file);
    assert_true(holds("a", "old"));
    assert_int_equal(count_names("."), 1);
}

static void a_link_stays_a_link_and_its_file_is_written(void **state)
{
    assert_int_equal(mkdir("there", 0777), 0);
    put("there/a", "old");
    assert_int_equal(symlink("there/a", "link"), 0);
    assert_int_equal(symlink("nowhere", "dangling"), 0);
    ino_t before = identity("link");
    assert_true(save(*state, "link", "new"));
    assert_true(identity("link") == before);
    assert_true(holds("there/a", "new"));
    assert_int_equal(count_names("there"), 1);
    assert_true(is_refused(*state, "dangling", "cannot write `dangling`: it is a link that leads nowhere"));
    assert_true(is_there("dangling") && !is_there("nowhere"));
}

static void devices_and_pipes_are_written_to_and_never_replaced(void **state)
{
    char read_bytes[8];
    struct stat status;
    assert_true(save(*state, "/dev/null", "new"));
    assert_true(stat("/dev/null", &status) == 0 && S_ISCHR(status.st_mode));
    assert_int_equal(mkfifo("pipe", 0666), 0);
    int reader = open("pipe", O_RDONLY | O_NONBLOCK);
    assert_true(reader >= 0);
    assert_true(save(*state, "pipe", "new"));
    assert_int_equal(read(reader, read_bytes, sizeof read_bytes), 3);
    close(reader);
    assert_true(lstat("pipe", &status) == 0 && S_ISFIFO(status.st_mode));
}

static void a_full_device_is_told(void **state)
{
    if (!is_there("/dev/full")) {
        skip();
    }
    assert_true(is_refused(*state, "/dev/full", "cannot write `/dev/full`: the disk is full"));
}

static bool save_more_than_may_be(Disk *disk)
{
    return limit_files(1) && is_refused(disk, "a", "cannot write `a`: files may not be that large here") &&
           is_refused(disk, "b", "cannot write `b`: files may not be that large here");
}

static void a_write_that_fails_half_way_leaves_what_was_there(void **state)
{
    put("a", "old");
    assert_int_equal(chmod("a", 0666), 0);
    act_as_nobody(*state, save_more_than_may_be);
    assert_true(holds("a", "old"));
    assert_int_equal(count_names("."), 1);
}

static void a_full_disk_leaves_what_was_there(void **state)
{
    enum { TOO_MUCH = 200000 };
    Disk *disk = *state;
    if (!mount_small_disk()) {
        skip();
    }
    put("small/a", "old");
    Str bytes = {arena_alloc(&disk->bench.arena, TOO_MUCH), TOO_MUCH};
    bool saved = save_file("small/a", bytes, &disk->bench.buf);
    bool kept = holds("small/a", "old") && count_names("small") == 1;
    assert_int_equal(umount("small"), 0);
    assert_false(saved);
    assert_true(kept);
    assert_str(buf_str(&disk->bench.buf), "cannot write `small/a`: the disk is full");
}

static void a_name_taken_by_another_file_is_not_used_for_the_temporary_one(void **state)
{
    Disk *disk = *state;
    const char *taken = text_format(&disk->bench.arena, ".garboard-%ld-0-0", (long)getpid());
    put(taken, "mine");
    assert_true(save(disk, "a", "new"));
    assert_true(holds("a", "new"));
    assert_true(holds(taken, "mine"));
    assert_int_equal(count_names("."), 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        DISK_TEST(a_new_file_gets_its_bytes_and_the_usual_mode),
        DISK_TEST(an_existing_file_is_replaced_and_keeps_its_mode),
        DISK_TEST(every_byte_is_written),
        DISK_TEST(a_file_that_holds_the_bytes_is_not_touched),
        DISK_TEST(a_path_that_cannot_be_written_is_told_with_its_cause),
        DISK_TEST(a_folder_closed_to_writing_is_told),
        DISK_TEST(a_file_closed_to_writing_is_not_replaced),
        DISK_TEST(a_link_stays_a_link_and_its_file_is_written),
        DISK_TEST(devices_and_pipes_are_written_to_and_never_replaced),
        DISK_TEST(a_full_device_is_told),
        DISK_TEST(a_write_that_fails_half_way_leaves_what_was_there),
        DISK_TEST(a_full_disk_leaves_what_was_there),
        DISK_TEST(a_name_taken_by_another_file_is_not_used_for_the_temporary_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
