/*
 * Networks against other solvers: published operating points (dc-network.tsv, solved by ngspice, gnucap, GSL and by hand),
 * closed forms, and ngspice itself on networks made by chance, that are the same in every run.
 */
#include "reference/table.h"

#include "physics/network.h"

#include <stdlib.h>

/* ---- published operating points ---- */

/* Bank, main and three branches: `3-branch` of the table. */
static void three_branches(NetworkNode *nodes)
{
    static const double ohm[] = {0.002, 0.006, 0.020, 0.050, 0.012};
    static const uint32_t parent[] = {NETWORK_SOURCE, 0, 1, 1, 1};

    for (int i = 0; i < 5; i++) {
        nodes[i] = (NetworkNode){.parent = parent[i], .emf_v = 12.8, .ohm = ohm[i], .share = 1.0, .pieces = 1.0};
    }
}

static double wanted(const Table *table, const char *network, const char *quantity)
{
    for (size_t i = 0; i < table->row_count; i++) {
        if (strcmp(table_text(table, i, "case"), network) == 0 && strcmp(table_text(table, i, "quantity"), quantity) == 0) {
            return table_number(table, i, "value");
        }
    }
    fail_msg("no %s of %s", quantity, network);
    return NAN;
}

static void assert_branches(const NetworkNode *nodes, const Table *table, const char *network)
{
    assert_near(nodes[1].volts, wanted(table, network, "v_bus"), 1e-6);
    assert_near(nodes[2].volts, wanted(table, network, "v_n1"), 1e-6);
    assert_near(nodes[3].volts, wanted(table, network, "v_n2"), 1e-6);
    assert_near(nodes[4].volts, wanted(table, network, "v_n3"), 1e-6);
}

static void three_branches_are_those_of_other_solvers(void **state)
{
    Table table;
    NetworkNode nodes[5];

    (void)state;
    table_load(&table, "dc-network.tsv");
    three_branches(nodes);
    nodes[2].amps = 10.0, nodes[3].amps = 5.0, nodes[4].amps = 25.0;
    NetworkSolution solution = network_solve(nodes, 5);
    assert_false(solution.collapses);
    assert_branches(nodes, &table, "3-branch CC");
    assert_near(solution.source_a, 40.0, 1e-9);

    three_branches(nodes);
    nodes[2].watts = 120.0, nodes[3].watts = 60.0, nodes[4].watts = 300.0;
    solution = network_solve(nodes, 5);
    assert_branches(nodes, &table, "3-branch CP");
    assert_near(solution.source_a, wanted(&table, "3-branch CP", "i_battery"), 1e-6);
    /* What the source gives is what the loads take and what the branches lose. */
    assert_near(12.8 * solution.source_a, 480.0 + solution.loss_w, 1e-9);
    assert_true(solution.rounds <= 6);
}

/* A bolted fault is a very small resistance at its node. */
static void a_bolted_fault_is_that_of_other_solvers(void **state)
{
    Table table;
    NetworkNode nodes[5];

    (void)state;
    table_load(&table, "dc-network.tsv");
    three_branches(nodes);
    nodes[4].siemens = 1e12;
    NetworkSolution solution = network_solve(nodes, 5);
    assert_false(solution.collapses);
    assert_near(solution.source_a, wanted(&table, "bolted fault at n3", "i_fault"), 1e-6);
    assert_near(nodes[1].volts, wanted(&table, "bolted fault at n3", "v_bus"), 1e-6);
}

/* ---- closed forms ---- */

/* Ohm and Joule: U^2 - E U + P R = 0, of which a real load settles on the upper root. */
static double constant_power_v(double source_v, double ohm, double watts)
{
    return (source_v + sqrt(source_v * source_v - 4.0 * watts * ohm)) / 2.0;
}

static void one_load_of_constant_power_has_the_upper_root(void **state)
{
    Table table;

    (void)state;
    table_load(&table, "dc-network.tsv");
    NetworkNode node = {.parent = NETWORK_SOURCE, .emf_v = 12.8, .ohm = 0.05, .share = 1.0, .pieces = 1.0, .watts = 300.0};
    network_solve(&node, 1);
    assert_near(node.volts, wanted(&table, "single CP", "v_load"), 1e-6);
    assert_near(node.volts, constant_power_v(12.8, 0.05, 300.0), 1e-9);
}

/* E^2 / 4R is the most that a source can push through a resistance. */
static void it_collapses_above_the_greatest_power_and_not_below(void **state)
{
    Table table;

    (void)state;
    table_load(&table, "dc-network.tsv");
    double most = wanted(&table, "single CP", "p_max");
    NetworkNode node = {.parent = NETWORK_SOURCE, .emf_v = 12.8, .ohm = 0.05, .share = 1.0, .pieces = 1.0, .watts = most * 0.999999};
    assert_false(network_solve(&node, 1).collapses);
    assert_near(node.volts, 6.4, 0.02);
    node.watts = most * 1.000001;
    NetworkSolution solution = network_solve(&node, 1);
    assert_true(solution.collapses);
    assert_int_equal(solution.at, 0);
}

static void the_branch_that_collapses_is_named_and_its_load_is_starved(void **state)
{
    NetworkNode nodes[5];

    (void)state;
    three_branches(nodes);
    nodes[2].watts = 50.0;
    nodes[3].watts = 1000.0; /* behind 0.05 ohm; at most 819 W could come through that alone */
    NetworkSolution solution = network_solve(nodes, 5);
    assert_true(solution.collapses);
    assert_int_equal(solution.at, 3);
    assert_false(network_settle(nodes, 5).collapses);
    assert_true(nodes[3].starved && !nodes[2].starved);
    assert_near(nodes[3].current_a, 1000.0 / 6.4, 1e-9);
    assert_near(nodes[2].volts * (nodes[2].current_a), 50.0, 1e-6);
}

/* E^2 / 4R again: the theorem of maximum power transfer. */
static void a_load_is_starved_above_the_greatest_power_and_not_below(void **state)
{
    (void)state;
    NetworkNode node = {.parent = NETWORK_SOURCE, .emf_v = 12.8, .ohm = 0.05, .share = 1.0, .pieces = 1.0, .watts = 819.1};
    network_settle(&node, 1);
    assert_false(node.starved);
    assert_near(node.volts, constant_power_v(12.8, 0.05, 819.1), 1e-6);
    node.watts = 819.3;
    network_settle(&node, 1);
    assert_true(node.starved);
    assert_near(node.current_a, 819.3 / 6.4, 1e-9);
}

/*
 * Of networks made by chance, one with more of everything has lower voltages and greater currents everywhere, starved or
 * not. The oracle is the statement itself (network.h), which bounds what is not decided.
 */
static void more_of_anything_lowers_every_voltage(void **state)
{
    enum { NODES = 12, TRIES = 4000 };
    uint64_t seed = 4711;

    (void)state;
    for (int tried = 0; tried < TRIES; tried++) {
        NetworkNode best[NODES], worst[NODES];
        for (uint32_t i = 0; i < NODES; i++) {
            double power = random_below(&seed, 3) * 0.002 * pow(1.6, random_below(&seed, 28));
            NetworkNode *node = &best[i];
            *node = (NetworkNode){.parent = i == 0 ? NETWORK_SOURCE : (uint32_t)random_below(&seed, (int)i),
                                  .emf_v = 12.0,
                                  .ohm = 0.002 * random_below(&seed, 40),
                                  .share = 1.0, .pieces = 1.0,
                                  .columns = random_below(&seed, 3) == 0,
                                  .brief = random_below(&seed, 2) == 0,
                                  .amps = random_below(&seed, 3) == 0 ? random_below(&seed, 10) : 0.0,
                                  .watts = power};
            worst[i] = *node;
            worst[i].ohm *= 1.0 + 0.01 * random_below(&seed, 30);
            worst[i].watts *= 1.0 + 0.01 * random_below(&seed, 30);
            worst[i].amps += random_below(&seed, 2);
            worst[i].brief = node->brief && random_below(&seed, 2) == 0;
        }
        assert_false(network_settle(best, NODES).collapses);
        assert_false(network_settle(worst, NODES).collapses);
        for (uint32_t i = 0; i < NODES; i++) {
            assert_true(worst[i].volts <= best[i].volts + 1e-6);
            assert_true(worst[i].current_a >= best[i].current_a - 1e-6 * (1.0 + best[i].current_a));
            assert_true(!best[i].starved || worst[i].starved);
        }
    }
}

/* Resistances in series and parallel: 12 V over 1 ohm and two of 2 ohm side by side. */
static void resistances_divide_the_voltage(void **state)
{
    (void)state;
    NetworkNode nodes[] = {
        {.parent = NETWORK_SOURCE, .emf_v = 12.0, .ohm = 1.0, .share = 1.0, .pieces = 1.0, .siemens = 0.5},
        {.parent = 0, .ohm = 0.0, .share = 1.0, .pieces = 1.0, .siemens = 0.5},
    };
    NetworkSolution solution = network_solve(nodes, 2);
    assert_near(nodes[1].volts, 6.0, 1e-12);
    assert_near(solution.source_a, 6.0, 1e-12);
    assert_near(solution.loss_w, 36.0, 1e-12);
    assert_true(solution.rounds <= 2);
}

/* Two columns: 10 A last; of 4, 5 and 6 A that are brief the largest counts, and of twenty more of 6 A a tenth of all. */
static void a_branch_of_two_columns_carries_what_runs_at_once(void **state)
{
    NetworkNode nodes[26] = {{.parent = NETWORK_SOURCE, .emf_v = 12.8, .ohm = 0.01, .share = 1.0, .pieces = 1.0, .columns = true}};

    (void)state;
    nodes[1] = (NetworkNode){.parent = 0, .ohm = 0.01, .share = 1.0, .pieces = 1.0, .amps = 10.0};
    for (uint32_t i = 2; i < 26; i++) {
        nodes[i] = (NetworkNode){.parent = 0, .ohm = 0.01, .share = 1.0, .pieces = 1.0, .amps = i < 5 ? 2.0 + i : 6.0, .brief = true};
    }
    network_solve(nodes, 5);
    assert_near(nodes[0].current_a, 16.0, 1e-9);
    network_solve(nodes, 26);
    assert_near(nodes[0].current_a, 10.0 + 0.1 * (4.0 + 5.0 + 6.0 + 21.0 * 6.0), 1e-9);
    nodes[0].columns = false;
    nodes[0].share = 0.5;
    network_solve(nodes, 26);
    assert_near(nodes[0].current_a, 0.5 * (10.0 + 15.0 + 126.0), 1e-9);
}

/* 20 % of 40 + 2 x 15 A is 14 A: the one of 40 A runs whole; of the pair one piece would be 15 A. */
static void a_share_is_no_less_than_the_largest_piece(void **state)
{
    NetworkNode nodes[4] = {
        {.parent = NETWORK_SOURCE, .emf_v = 12.8, .ohm = 0.01, .share = 1.0, .pieces = 1.0, .columns = true},
        {.parent = 0, .ohm = 0.01, .share = 0.2, .pieces = 1.0},
        {.parent = 1, .ohm = 0.01, .share = 1.0, .pieces = 1.0, .amps = 40.0, .brief = true},
        {.parent = 1, .ohm = 0.01, .share = 1.0, .pieces = 2.0, .amps = 30.0},
    };

    (void)state;
    network_solve(nodes, 4);
    assert_near(nodes[1].current_a, 40.0, 1e-9);
    assert_near(nodes[0].current_a, 40.0, 1e-9);
    nodes[2].amps = 1.0;
    network_solve(nodes, 4);
    assert_near(nodes[1].current_a, 15.0, 1e-9);
}

/* ---- ngspice ---- */

enum { LARGE = 500 };
static const double emf[] = {12.8, 25.6, 12.0, 48.0};

/* A tree of a hundred kinds of shape: each node hangs on one of the last few, or on any before it. */
static void by_chance(NetworkNode *nodes, uint32_t count, uint64_t seed, double emf_v)
{
    int reach = 1 + random_below(&seed, 40);
    double milliohm = 300.0 / (double)count;

    for (uint32_t i = 0; i < count; i++) {
        uint32_t back = i == 0 ? 0 : 1 + (uint32_t)random_below(&seed, reach);
        NetworkNode *node = &nodes[i];
        *node = (NetworkNode){.parent = i == 0 ? NETWORK_SOURCE : back > i ? 0 : i - back,
                              .emf_v = emf_v,
                              .share = 1.0, .pieces = 1.0};
        node->ohm = 1e-3 * milliohm * (0.1 + 0.01 * random_below(&seed, 100)) / (double)(1 + count / 100);
        double amps = 0.01 * random_below(&seed, 400) * 20.0 / (double)count;
        switch (random_below(&seed, 5)) {
        case 0: node->amps = amps; break;
        case 1: node->siemens = amps / emf_v; break;
        case 2: node->watts = amps * emf_v / 2.0, node->amps = amps / 2.0; break;
        default: node->watts = amps * emf_v; break;
        }
    }
}

/* Constant power is a source of current by its voltage; below half of the source's voltage a resistance, so that ngspice
 * does not settle on the lower root. */
static void write_netlist(const char *path, const NetworkNode *nodes, uint32_t count, double emf_v)
{
    FILE *file = fopen(path, "w");

    assert_non_null(file);
    fprintf(file, "* a radial network\nV1 s 0 %.17g\n", emf_v);
    for (uint32_t i = 0; i < count; i++) {
        const NetworkNode *node = &nodes[i];
        char from[16] = "s";
        if (node->parent != NETWORK_SOURCE) {
            snprintf(from, sizeof from, "n%u", (unsigned)node->parent);
        }
        fprintf(file, "R%u %s n%u %.17g\n", (unsigned)i, from, (unsigned)i, node->ohm);
        if (node->amps != 0.0) {
            fprintf(file, "I%u n%u 0 %.17g\n", (unsigned)i, (unsigned)i, node->amps);
        }
        if (node->siemens != 0.0) {
            fprintf(file, "RL%u n%u 0 %.17g\n", (unsigned)i, (unsigned)i, 1.0 / node->siemens);
        }
        if (node->watts != 0.0) {
            fprintf(file, "B%u n%u 0 I=V(n%u)>%.17g ? %.17g/V(n%u) : V(n%u)*%.17g\n", (unsigned)i, (unsigned)i, (unsigned)i,
                    emf_v / 2.0, node->watts, (unsigned)i, (unsigned)i, node->watts * 4.0 / (emf_v * emf_v));
        }
        fprintf(file, ".nodeset v(n%u)=%.17g\n", (unsigned)i, emf_v);
    }
    fprintf(file, ".options gmin=1e-15\n.control\nset numdgt=10\nop\n");
    for (uint32_t i = 0; i < count; i++) {
        fprintf(file, "print v(n%u)\n", (unsigned)i);
    }
    fprintf(file, "print i(V1)\nquit\n.endc\n.end\n");
    assert_int_equal(fclose(file), 0);
}

/* Reads "v(n12) = 1.2e+01" lines, and what the source gives; how many there were. */
static uint32_t read_points(const char *path, double *volts, uint32_t count, double *source_a)
{
    FILE *file = fopen(path, "r");
    char line[256];
    uint32_t found = 0;

    assert_non_null(file);
    while (fgets(line, sizeof line, file) != NULL) {
        unsigned node = 0;
        double value = 0.0;
        if (sscanf(line, "v(n%u) = %lf", &node, &value) == 2 && node < count) {
            volts[node] = value;
            found++;
        } else if (sscanf(line, "i(v1) = %lf", &value) == 1) {
            *source_a = -value;
            found++;
        }
    }
    fclose(file);
    return found;
}

static void agrees_with_ngspice(const NetworkNode *network, uint32_t count, double emf_v)
{
    static NetworkNode nodes[LARGE];
    static double volts[LARGE];
    char folder[] = "/tmp/garboard-network-XXXXXX";
    char netlist[64], answer[64], command[192];
    double source_a = NAN;

    memcpy(nodes, network, count * sizeof(NetworkNode));
    NetworkSolution solution = network_solve(nodes, count);
    assert_false(solution.collapses);
    assert_non_null(mkdtemp(folder));
    snprintf(netlist, sizeof netlist, "%s/net.cir", folder);
    snprintf(answer, sizeof answer, "%s/answer", folder);
    write_netlist(netlist, nodes, count, emf_v);
    snprintf(command, sizeof command, "ngspice -b %s >%s 2>%s/errors </dev/null", netlist, answer, folder);
    int status = system(command);
    (void)status; /* what it printed is what counts */
    assert_int_equal(read_points(answer, volts, count, &source_a), count + 1);
    for (uint32_t i = 0; i < count; i++) {
        assert_within(nodes[i].volts, volts[i], 1e-3);
        /* What is lost is the small difference of two voltages, and is what rules judge: to 0.1 % of it as well. */
        check_near(emf_v - nodes[i].volts, emf_v - volts[i], 1e-3 * (emf_v - volts[i]) + 1e-7, "the drop", __FILE__, __LINE__);
    }
    assert_within(solution.source_a, source_a, 1e-3);
    snprintf(command, sizeof command, "rm -r %s", folder);
    assert_int_equal(system(command), 0);
}

static bool has_ngspice(void)
{
    if (system("command -v ngspice >/dev/null 2>&1") == 0) {
        return true;
    }
    print_message("ngspice is not here and could not be installed (Debian package ngspice): nothing was compared with it\n");
    return false;
}

static void twelve_networks_by_chance_are_those_of_ngspice(void **state)
{
    static NetworkNode nodes[LARGE];
    static const uint32_t counts[] = {2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233, LARGE};

    (void)state;
    if (!has_ngspice()) {
        skip();
    }
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++) {
        by_chance(nodes, counts[i], 1000 + i, emf[i % 4]);
        agrees_with_ngspice(nodes, counts[i], emf[i % 4]);
    }
}

static void a_line_of_five_hundred_nodes_is_that_of_ngspice(void **state)
{
    static NetworkNode nodes[LARGE];

    (void)state;
    if (!has_ngspice()) {
        skip();
    }
    for (uint32_t i = 0; i < LARGE; i++) {
        nodes[i] = (NetworkNode){.parent = i == 0 ? NETWORK_SOURCE : i - 1, .emf_v = 12.8, .share = 1.0, .pieces = 1.0, .ohm = 1e-4, .watts = 1.0};
    }
    agrees_with_ngspice(nodes, LARGE, 12.8);
}

/* Within 2 % of the collapse, where Newton's rounds are slowest. */
static void a_network_near_its_collapse_is_that_of_ngspice(void **state)
{
    (void)state;
    if (!has_ngspice()) {
        skip();
    }
    NetworkNode nodes[] = {
        {.parent = NETWORK_SOURCE, .emf_v = 12.8, .ohm = 0.02, .share = 1.0, .pieces = 1.0},
        {.parent = 0, .ohm = 0.03, .share = 1.0, .pieces = 1.0, .watts = 803.0},
        {.parent = 0, .ohm = 0.03, .share = 1.0, .pieces = 1.0, .siemens = 1e-3},
    };
    agrees_with_ngspice(nodes, 3, 12.8);
}

/* ---- directions ---- */

/* With resistances, currents and powers rising and without loads that are resistances, every voltage falls. */
static void voltages_fall_with_what_is_asked(void **state)
{
    static NetworkNode best[60], worst[60];
    uint64_t seed = 77;

    (void)state;
    for (int round = 0; round < 200; round++) {
        by_chance(best, 60, 500 + (uint64_t)round, 12.8);
        memcpy(worst, best, sizeof best);
        for (int i = 0; i < 60; i++) {
            best[i].siemens = worst[i].siemens = 0.0;
            best[i].columns = worst[i].columns = i % 7 == 0;
            best[i].brief = worst[i].brief = i % 3 == 0;
            worst[i].ohm *= 1.0 + 0.01 * random_below(&seed, 20);
            worst[i].amps *= 1.0 + 0.01 * random_below(&seed, 20);
            worst[i].watts *= 1.0 + 0.01 * random_below(&seed, 20);
        }
        network_solve(best, 60);
        worst[0].emf_v = 12.5;
        network_solve(worst, 60);
        for (int i = 0; i < 60; i++) {
            assert_true(worst[i].volts <= best[i].volts + 1e-12);
            assert_true(worst[i].current_a >= best[i].current_a - 1e-12);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_branches_are_those_of_other_solvers),
        cmocka_unit_test(a_bolted_fault_is_that_of_other_solvers),
        cmocka_unit_test(one_load_of_constant_power_has_the_upper_root),
        cmocka_unit_test(it_collapses_above_the_greatest_power_and_not_below),
        cmocka_unit_test(the_branch_that_collapses_is_named_and_its_load_is_starved),
        cmocka_unit_test(a_load_is_starved_above_the_greatest_power_and_not_below),
        cmocka_unit_test(more_of_anything_lowers_every_voltage),
        cmocka_unit_test(resistances_divide_the_voltage),
        cmocka_unit_test(a_branch_of_two_columns_carries_what_runs_at_once),
        cmocka_unit_test(a_share_is_no_less_than_the_largest_piece),
        cmocka_unit_test(twelve_networks_by_chance_are_those_of_ngspice),
        cmocka_unit_test(a_line_of_five_hundred_nodes_is_that_of_ngspice),
        cmocka_unit_test(a_network_near_its_collapse_is_that_of_ngspice),
        cmocka_unit_test(voltages_fall_with_what_is_asked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
