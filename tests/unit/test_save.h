/*
 * What the tests of saving have in common: a folder of its own for each test, and a look at what is in it.
 * Define _XOPEN_SOURCE as 700 before anything is included.
 */
#ifndef GARBOARD_TESTS_TEST_SAVE_H
#define GARBOARD_TESTS_TEST_SAVE_H

#include "test_output.h"

#include "save.h"

#include <dirent.h>
#include <fcntl.h>
#include <ftw.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>

enum { NOBODY = 65534 };

typedef struct Disk {
    Bench bench;
    char *root; /* the folder of this test, which is the working directory while it runs */
} Disk;

static inline int set_up_disk(void **state)
{
    Disk *disk = calloc(1, sizeof *disk);
    if (!disk) {
        return -1;
    }
    disk->bench.arena = check_arena();
    buf_init(&disk->bench.buf, &disk->bench.arena);
    disk->root = temporary_name(&disk->bench.arena);
    *state = disk;
    umask(022);
    return mkdtemp(disk->root) && chdir(disk->root) == 0 ? 0 : -1;
}

static inline int remove_one(const char *path, const struct stat *status, int kind, struct FTW *place)
{
    (void)status;
    (void)kind;
    (void)place;
    return remove(path);
}

static inline int tear_down_disk(void **state)
{
    Disk *disk = *state;
    int failed = chdir("/") | nftw(disk->root, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    arena_free(&disk->bench.arena);
    free(disk);
    return failed;
}

#define DISK_TEST(name) cmocka_unit_test_setup_teardown(name, set_up_disk, tear_down_disk)

static inline void put(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static inline bool holds(const char *path, const char *text)
{
    char bytes[4096];
    FILE *file = fopen(path, "r");
    if (!file) {
        return false;
    }
    size_t length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    return length == strlen(text) && memcmp(bytes, text, length) == 0;
}

static inline bool is_there(const char *path)
{
    struct stat status;
    return lstat(path, &status) == 0;
}

/* Which file it is: another number for a file that was replaced. */
static inline ino_t identity(const char *path)
{
    struct stat status;
    assert_int_equal(lstat(path, &status), 0);
    return status.st_ino;
}

static inline unsigned mode_of(const char *path)
{
    struct stat status;
    assert_int_equal(lstat(path, &status), 0);
    return status.st_mode & 07777;
}

/* How many names are in a folder, hidden ones too. */
static inline int count_names(const char *path)
{
    DIR *folder = opendir(path);
    assert_non_null(folder);
    int count = 0;
    for (const struct dirent *entry = readdir(folder); entry; entry = readdir(folder)) {
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    }
    closedir(folder);
    return count;
}

/* Acts in a process of its own, without the rights of the superuser. */
static inline void act_as_nobody(Disk *disk, bool (*act)(Disk *disk))
{
    int status = 0;
    if (geteuid() == 0) {
        assert_int_equal(chown(disk->root, NOBODY, NOBODY), 0);
    }
    fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        bool dropped = geteuid() != 0 || (setgid(NOBODY) == 0 && setuid(NOBODY) == 0);
        _exit(dropped && act(disk) ? 0 : 1);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
}

/* No file may grow beyond this, in the process that calls it: writing then fails half way. */
static inline bool limit_files(rlim_t bytes)
{
    signal(SIGXFSZ, SIG_IGN);
    return setrlimit(RLIMIT_FSIZE, &(struct rlimit){bytes, bytes}) == 0;
}

/* A disk of 64 KiB in the folder `small`, if this may be had here. */
static inline bool mount_small_disk(void)
{
    return mkdir("small", 0777) == 0 && mount("tmpfs", "small", "tmpfs", 0, "size=64k") == 0;
}

#endif
