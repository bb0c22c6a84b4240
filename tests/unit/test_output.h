/*
 * What the tests of the writers in compiler/output have in common: a text to write into, chance that repeats
 * itself, a look at what a caller's mistake does, and other programs as judges. Define _XOPEN_SOURCE as 700
 * before anything is included.
 */
#ifndef GARBOARD_TESTS_TEST_OUTPUT_H
#define GARBOARD_TESTS_TEST_OUTPUT_H

#include "check.h"

#include "base/buf.h"

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct Bench {
    Arena arena;
    Buf buf;
} Bench;

static inline int set_up_bench(void **state)
{
    Bench *bench = calloc(1, sizeof *bench);
    if (!bench) {
        return -1;
    }
    bench->arena = check_arena();
    buf_init(&bench->buf, &bench->arena);
    *state = bench;
    return 0;
}

static inline int tear_down_bench(void **state)
{
    Bench *bench = *state;
    arena_free(&bench->arena);
    free(bench);
    return 0;
}

#define BENCH_TEST(name) cmocka_unit_test_setup_teardown(name, set_up_bench, tear_down_bench)

/* Up to `most` of the pieces, one after the other. */
static inline Str random_text(Arena *arena, uint64_t *seed, const char *const pieces[], size_t count,
                              int most)
{
    Buf text;
    buf_init(&text, arena);
    for (int left = random_below(seed, most + 1); left > 0; left--) {
        buf_text(&text, pieces[random_below(seed, (int)count)]);
    }
    return buf_str(&text);
}

/* Fails unless an assertion stops the mistake. It is made in a process of its own. */
static inline void expect_stopped(Bench *bench, void (*mistake)(Bench *bench))
{
    int status = 0;
    fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        if (!freopen("/dev/null", "w", stderr)) {
            _exit(1);
        }
        signal(SIGABRT, SIG_DFL); /* cmocka catches it */
        mistake(bench);
        _exit(0);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT);
}

/* A name for a new file or folder; what mkstemp and mkdtemp replace is in it. */
static inline char *temporary_name(Arena *arena)
{
    const char *folder = getenv("TMPDIR");
    const char *name = text_format(arena, "%s/garboard-XXXXXX", folder && *folder ? folder : "/tmp");
    char *copy = arena_alloc(arena, strlen(name) + 1);
    return strcpy(copy, name);
}

/* Is there such a command? A test that needs one that is not installed is skipped. */
static inline bool has_command(const char *name)
{
    char command[256];
    snprintf(command, sizeof command, "command -v %s >/dev/null 2>&1", name);
    return system(command) == 0;
}

/* What a shell command prints when it reads `input`; fails if its exit status is not 0. */
static inline Str output_of(Arena *arena, const char *command, Str input)
{
    char *path = temporary_name(arena);
    int file = mkstemp(path);
    assert_true(file >= 0);
    assert_int_equal(write(file, input.text, input.length), input.length);
    close(file);
    FILE *pipe = popen(text_format(arena, "%s <'%s'", command, path), "r");
    assert_non_null(pipe);
    Buf output;
    buf_init(&output, arena);
    for (int c = getc(pipe); c != EOF; c = getc(pipe)) {
        buf_char(&output, (char)c);
    }
    int status = pclose(pipe);
    unlink(path);
    assert_int_equal(status, 0);
    return buf_str(&output);
}

#endif
