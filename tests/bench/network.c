/*
 * Measures how long radial networks take to solve, beside lexing a spec that has as many cables.
 *
 *   network ROUNDS
 *   network once NODES     only solves one network of that size, for its instructions to be counted
 *
 * One line to standard output: the best time in microseconds for 100,000 nodes, for lexing the spec of that network once;
 * how many rounds of sweeps it took; the size of that spec in bytes. The tree is the same in
 * every run: panels of ten circuits with a load each, two thirds of constant power.
 */
#include "physics/network.h"
#include "syntax/token.h"

#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { LARGE = 100000, A_LINE = 120 };

static double now_microseconds(void)
{
    struct timespec now;

    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1e6 + (double)now.tv_nsec / 1e3;
}

/* Node 0 is the bank's; every eleventh node a panel on it, the others circuits of the panel before them. */
static void fill(NetworkNode *nodes, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        bool panel = i % 11 == 1;
        uint32_t panel_before = i - (i - 1) % 11;
        nodes[i] = (NetworkNode){.parent = i == 0 ? NETWORK_SOURCE : panel ? 0 : panel_before,
                                 .emf_v = 12.8,
                                 .columns = panel,
                                 .brief = i % 5 == 0,
                                 .share = 1.0, .pieces = 1.0,
                                 .ohm = i == 0 ? 1e-8 : panel ? 1e-3 : 0.02 + 0.001 * (i % 7)};
        if (i > 0 && !panel) {
            nodes[i].watts = i % 3 != 0 ? 20.0 + i % 13 : 0.0;
            nodes[i].amps = i % 3 == 0 ? 2.0 : 0.0;
        }
    }
}

/* Its time; how many rounds of sweeps it took. */
static double solve_one(NetworkNode *nodes, uint32_t count, int *sweeps)
{
    fill(nodes, count);
    double start = now_microseconds();
    NetworkSolution solution = network_solve(nodes, count);
    double took = now_microseconds() - start;
    *sweeps = solution.rounds;
    if (solution.collapses) {
        fprintf(stderr, "network: it collapses\n");
        exit(2);
    }
    return took;
}

/* What an owner would write for the same network: a line a cable. */
static size_t write_spec(char *text, uint32_t count)
{
    size_t used = (size_t)sprintf(text, "edition 1\nbank house { chemistry agm; voltage 12.8 V; capacity 200 Ah }\n");
    for (uint32_t i = 1; i < count; i++) {
        used += (size_t)(i % 11 == 1 ? sprintf(text + used, "panel p-%u { fed-by house; run 1 m; wire 35 mm2 }\n", i)
                                     : sprintf(text + used, "load n-%u { fed-by p-%u; run 4 m; wire 2.5 mm2; draw %u W }\n", i,
                                               i - (i - 1) % 11, 20 + i % 13));
    }
    return used;
}

static double best_lexing(Arena *arena, char *text, size_t length, int rounds)
{
    double best = 1e18;

    for (int i = 0; i < rounds; i++) {
        Sources sources;
        Messages messages;
        sources_init(&sources, arena);
        messages_init(&messages, arena);
        const Source *source = sources_add(&sources, STR("bench.boat"), text, length);
        Lexer lexer;
        double start = now_microseconds();
        lexer_init(&lexer, source, &messages);
        while (lexer_next(&lexer) != TOKEN_END) {
        }
        double took = now_microseconds() - start;
        best = took < best ? took : best;
    }
    return best;
}

/* Times solving and lexing, one after the other, and prints both. */
static void measure(NetworkNode *nodes, char *text, Arena *arena, int rounds)
{
    int sweeps = 0;
    double best = 1e18;
    for (int i = 0; i < rounds; i++) {
        double took = solve_one(nodes, LARGE, &sweeps);
        best = took < best ? took : best;
    }
    size_t length = write_spec(text, LARGE);
    double lexing = best_lexing(arena, text, length, rounds);
    printf("%.1f %.1f %d %zu\n", best, lexing, sweeps, length);
}

int main(int count, char **arguments)
{
    NetworkNode *nodes = calloc(LARGE, sizeof(NetworkNode));
    char *text = malloc((size_t)LARGE * A_LINE);
    jmp_buf failure;
    Arena arena;

    arena_init(&arena, allocator_standard(), &failure);
    if (nodes == NULL || text == NULL || setjmp(failure) != 0) {
        fprintf(stderr, "network: no more memory\n");
        return 2;
    }
    if (count > 2 && strcmp(arguments[1], "once") == 0) {
        int sweeps;
        solve_one(nodes, (uint32_t)atoi(arguments[2]) < LARGE ? (uint32_t)atoi(arguments[2]) : LARGE, &sweeps);
        return 0;
    }
    measure(nodes, text, &arena, count > 1 ? atoi(arguments[1]) : 10);
    arena_free(&arena);
    free(text);
    free(nodes);
    return 0;
}
