/*
 * Measures programs as a shell would start them: wall time and peak memory, output thrown away.
 *
 *   spawn ROUNDS -- PROGRAM ARGUMENT... [-- PROGRAM ARGUMENT...]...
 *
 * The programs take turns, one run each a round, so that a busy moment of the machine meets all of them. One line a
 * program goes to standard output: the best time in microseconds, the median time, the greatest resident set in bytes,
 * the last exit status. Knows nothing of Garboard. A program that cannot be started or is killed ends the measurement.
 */
#define _DEFAULT_SOURCE /* wait4, besides POSIX */

#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>

enum { PROGRAMS_MOST = 8, ROUNDS_MOST = 10000 };

extern char **environ;

typedef struct Program {
    char **arguments;
    double *microseconds; /* one a round */
    long peak_bytes;
    int status;
} Program;

static double now_microseconds(void)
{
    struct timespec now;

    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1e6 + (double)now.tv_nsec / 1e3;
}

static void give_up(const char *what, const char *program)
{
    fprintf(stderr, "spawn: %s %s\n", program, what);
    exit(2);
}

/* One run; the clock stands from before the start until the end has been seen. */
static void run_once(Program *program, const posix_spawn_file_actions_t *quiet, int round)
{
    struct rusage usage;
    pid_t child;
    int status;
    double start = now_microseconds();

    if (posix_spawnp(&child, program->arguments[0], quiet, NULL, program->arguments, environ) != 0) {
        give_up("cannot be started", program->arguments[0]);
    }
    if (wait4(child, &status, 0, &usage) != child || !WIFEXITED(status)) {
        give_up("did not end by itself", program->arguments[0]);
    }
    program->microseconds[round] = now_microseconds() - start;
    program->status = WEXITSTATUS(status);
    if (usage.ru_maxrss * 1024L > program->peak_bytes) {
        program->peak_bytes = usage.ru_maxrss * 1024L; /* Linux counts in KiB */
    }
}

static int compare_doubles(const void *left, const void *right)
{
    double a = *(const double *)left;
    double b = *(const double *)right;

    return (a > b) - (a < b);
}

/* Cuts the argument list at each `--`; how many programs there are. */
static int read_programs(char **arguments, int rounds, Program *programs)
{
    int count = 0;

    for (char **argument = arguments; *argument != NULL; argument++) {
        if (strcmp(*argument, "--") != 0) {
            continue;
        }
        *argument = NULL;
        if (count == PROGRAMS_MOST || argument[1] == NULL) {
            return 0;
        }
        programs[count].arguments = argument + 1;
        programs[count].microseconds = calloc((size_t)rounds, sizeof(double));
        if (programs[count].microseconds == NULL) {
            return 0;
        }
        count++;
    }
    return count;
}

int main(int argc, char **argv)
{
    Program programs[PROGRAMS_MOST] = {0};
    posix_spawn_file_actions_t quiet;
    int rounds = argc > 2 ? atoi(argv[1]) : 0;
    int count = rounds > 0 && rounds <= ROUNDS_MOST ? read_programs(argv + 2, rounds, programs) : 0;

    if (count == 0) {
        fputs("usage: spawn ROUNDS -- PROGRAM ARGUMENT... [-- PROGRAM ARGUMENT...]...\n", stderr);
        return 2;
    }
    posix_spawn_file_actions_init(&quiet);
    posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", O_WRONLY, 0);
    for (int round = 0; round < rounds; round++) {
        for (int i = 0; i < count; i++) {
            run_once(&programs[i], &quiet, round);
        }
    }
    posix_spawn_file_actions_destroy(&quiet);
    for (int i = 0; i < count; i++) {
        qsort(programs[i].microseconds, (size_t)rounds, sizeof(double), compare_doubles);
        printf("%.1f %.1f %ld %d\n", programs[i].microseconds[0], programs[i].microseconds[rounds / 2],
               programs[i].peak_bytes, programs[i].status);
        free(programs[i].microseconds);
    }
    return 0;
}
