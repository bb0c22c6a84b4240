/*
 * The critical path against worked examples with printed dates: the two passes by themselves, and the same examples written
 * as a spec, in days.
 */
#include "reference/table.h"

#include "physics/plan.h"
#include "unit/test_boat.h"

enum { TASKS_MOST = 16, BEFORE_MOST = 4 };

/* One worked example, as far as the table tells of it. */
typedef struct Example {
    const Table *table;
    size_t first, count;
    PlanTask tasks[TASKS_MOST];
    uint32_t before[TASKS_MOST][BEFORE_MOST];
} Example;

static const char *cell(const Example *example, size_t task, const char *column)
{
    return table_text(example->table, example->first + task, column);
}

static uint32_t activity_number(const Example *example, Str activity)
{
    for (uint32_t i = 0; i < example->count; i++) {
        if (str_is(activity, cell(example, i, "activity"))) {
            return i;
        }
    }
    fail_msg("no activity `%.*s`", STR_ARG(activity));
    return 0;
}

static void read_before(Example *example, uint32_t task)
{
    const char *list = cell(example, task, "predecessors");
    PlanTask *into = &example->tasks[task];
    into->after = example->before[task];
    while (strcmp(list, "-") != 0 && *list != '\0') {
        size_t length = strcspn(list, ",");
        assert_true(into->after_count < BEFORE_MOST);
        example->before[task][into->after_count++] = activity_number(example, (Str){list, length});
        list += length + (list[length] == ',');
    }
}

static Example example_at(const Table *table, size_t first)
{
    Example example = {.table = table, .first = first};
    const char *name = table_text(table, first, "example");
    while (first + example.count < table->row_count &&
           strcmp(table_text(table, first + example.count, "example"), name) == 0) {
        example.count++;
    }
    assert_true(example.count <= TASKS_MOST);
    return example;
}

static void both_passes_give_the_printed_dates(void **state)
{
    (void)state;
    static Table table;
    table_load(&table, "critical-path.tsv");
    assert_int_equal(table.row_count, 14);
    for (size_t first = 0; first < table.row_count;) {
        Example example = example_at(&table, first);
        for (uint32_t i = 0; i < example.count; i++) {
            example.tasks[i].takes_s = point(table_number(&table, first + i, "duration"));
            read_before(&example, i);
        }
        Interval end = plan_forward(example.tasks, (uint32_t)example.count, 0.0);
        plan_backward(example.tasks, (uint32_t)example.count, end.high);
        for (uint32_t i = 0; i < example.count; i++) {
            const PlanTask *task = &example.tasks[i];
            assert_row_near(&table, first + i, task->starts_s.low, table_number(&table, first + i, "ES"),
                            0.0);
            assert_row_near(&table, first + i, task->ends_s.high, table_number(&table, first + i, "EF"), 0.0);
            assert_row_near(&table, first + i, task->starts_last_s, table_number(&table, first + i, "LS"),
                            0.0);
            assert_row_near(&table, first + i, task->ends_last_s, table_number(&table, first + i, "LF"), 0.0);
            assert_row_near(&table, first + i, plan_float_s(task), table_number(&table, first + i, "slack"),
                            0.0);
        }
        first += example.count;
    }
}

/* ---- The same as a spec ---- */

static void write_jobs(Buf *to, const Example *example)
{
    buf_text(to, EXAMPLE_BOAT);
    for (size_t i = 0; i < example->count; i++) {
        const char *list = cell(example, i, "predecessors");
        buf_format(to, "job j-%s { takes %s d", cell(example, i, "activity"), cell(example, i, "duration"));
        for (const char *between = "; after j-"; strcmp(list, "-") != 0 && *list != '\0'; between = ", j-") {
            size_t length = strcspn(list, ",");
            buf_format(to, "%s%.*s", between, (int)length, list);
            list += length + (list[length] == ',');
        }
        buf_text(to, " }\n");
    }
}

static double days_of(const Compiled *c, const char *job, FigureId id)
{
    const Figure *figure = figure_find(c->figures, model_find(c->model, str_from(job)), id, NULL);
    assert_non_null(figure);
    assert_true(figure->low == figure->high);
    double today_s = id == FIGURE_FLOAT ? 0.0 : 86400.0 * c->figures->today;
    return (figure->low - today_s) / 86400.0;
}

static void jobs_of_a_spec_get_the_printed_dates(void **state)
{
    (void)state;
    static Table table;
    table_load(&table, "critical-path.tsv");
    for (size_t first = 0; first < table.row_count;) {
        Arena arena = check_arena();
        Example example = example_at(&table, first);
        Buf text;
        Compiled c;
        buf_init(&text, &arena);
        write_jobs(&text, &example);
        compile(&c, text.text);
        assert_int_equal(c.spec->messages.count, 0);
        for (size_t i = 0; i < example.count; i++) {
            const char *job = text_format(&arena, "j-%s", cell(&example, i, "activity"));
            assert_row_near(&table, first + i, days_of(&c, job, FIGURE_EARLIEST_START),
                            table_number(&table, first + i, "ES"), 0.0);
            assert_row_near(&table, first + i, days_of(&c, job, FIGURE_EARLIEST_FINISH),
                            table_number(&table, first + i, "EF"), 0.0);
            assert_row_near(&table, first + i, days_of(&c, job, FIGURE_LATEST_START),
                            table_number(&table, first + i, "LS"), 0.0);
            assert_row_near(&table, first + i, days_of(&c, job, FIGURE_FLOAT),
                            table_number(&table, first + i, "slack"), 0.0);
        }
        done_with(&c);
        arena_free(&arena);
        first += example.count;
    }
}

/* ---- Ranges ---- */

static double share(uint64_t *seed)
{
    return random_below(seed, 1001) / 1000.0;
}

/* A law, no source: whatever is decided inside of the ranges, each job lies between its earliest days. */
static void what_is_decided_lies_within_the_range(void **state)
{
    (void)state;
    enum { PLANS = 50, SAMPLES = 40 };
    uint64_t seed = 20270301;
    for (int p = 0; p < PLANS; p++) {
        PlanTask wide[TASKS_MOST] = {0}, exact[TASKS_MOST];
        uint32_t before[TASKS_MOST][BEFORE_MOST];
        for (uint32_t i = 0; i < TASKS_MOST; i++) {
            double takes = share(&seed) * 10.0, from = share(&seed) * 20.0;
            wide[i].takes_s = interval(takes, takes + share(&seed) * 5.0);
            wide[i].from_s = interval(from, from + share(&seed) * 9.0);
            wide[i].fixed = share(&seed) < 0.1;
            wide[i].after = before[i];
            for (uint32_t b = 0; b < BEFORE_MOST && i > 0; b++) {
                before[i][wide[i].after_count++] = (uint32_t)random_below(&seed, (int)i);
            }
        }
        Interval end = plan_forward(wide, TASKS_MOST, 0.0);
        plan_backward(wide, TASKS_MOST, end.high);
        for (int s = 0; s < SAMPLES; s++) {
            memcpy(exact, wide, sizeof exact);
            for (uint32_t i = 0; i < TASKS_MOST; i++) {
                double t = share(&seed), f = share(&seed);
                exact[i].takes_s =
                    point(wide[i].takes_s.low + t * (wide[i].takes_s.high - wide[i].takes_s.low));
                exact[i].from_s = point(wide[i].from_s.low + f * (wide[i].from_s.high - wide[i].from_s.low));
            }
            Interval ended = plan_forward(exact, TASKS_MOST, 0.0);
            assert_true(ended.low >= end.low && ended.high <= end.high);
            for (uint32_t i = 0; i < TASKS_MOST; i++) {
                assert_true(exact[i].ends_s.low >= wide[i].ends_s.low &&
                            exact[i].ends_s.high <= wide[i].ends_s.high);
            }
        }
    }
}

/* Half of the time an end of the range: there the least and the most of a difference lie. */
static Interval decided(Interval range, uint64_t *seed)
{
    int way = random_below(seed, 4);
    return point(way == 0 ? range.low : way == 1 ? range.high : range.low + share(seed) * (range.high - range.low));
}

static void make_held_up(PlanTask *tasks, uint32_t before[][BEFORE_MOST], uint32_t count, uint64_t *seed)
{
    for (uint32_t i = 0; i < count; i++) {
        double takes = share(seed) * 10.0, from = random_below(seed, 3) == 0 ? share(seed) * 20.0 : 0.0, held = share(seed) * 20.0;
        tasks[i].takes_s = interval(takes, takes + share(seed) * 9.0);
        tasks[i].from_s = interval(from, from + share(seed) * 9.0);
        tasks[i].held_s = random_below(seed, 3) == 0 ? interval(held, held + share(seed) * 20.0) : plan_not_held;
        tasks[i].fixed = random_below(seed, 8) == 0;
        tasks[i].done = tasks[i].fixed && random_below(seed, 3) == 0;
        tasks[i].left_s = tasks[i].takes_s.high;
        if (tasks[i].done) {
            tasks[i].takes_s = point(0.0);
        }
        tasks[i].after = before[i];
        for (int b = random_below(seed, 3); b > 0 && i > 0; b--) {
            before[i][tasks[i].after_count++] = (uint32_t)random_below(seed, (int)i);
        }
    }
}

/* One case of the ranges: how much later all ends with what is late than without, the same in all else. */
static double delay_of_case(const PlanTask *wide, uint32_t count, uint64_t *seed)
{
    PlanTask without[TASKS_MOST], with[TASKS_MOST];
    for (uint32_t i = 0; i < count; i++) {
        without[i] = wide[i];
        without[i].takes_s = decided(wide[i].takes_s, seed);
        without[i].from_s = decided(wide[i].from_s, seed);
        without[i].left_s = share(seed) * without[i].takes_s.high; /* of what is under way so much is left: the high end */
        with[i] = without[i];
        if (wide[i].held_s.high < 0.0 || wide[i].done) {
            continue;
        }
        Interval comes = decided(wide[i].held_s, seed);
        if (wide[i].fixed) {
            with[i].waits = true;
            with[i].there_s = comes;
        } else {
            with[i].from_s = interval_max(with[i].from_s, comes);
        }
    }
    return plan_forward(with, count, 0.0).high - plan_forward(without, count, 0.0).high;
}

/* A law, no source; and the bounds are of use: of small plans most are met by some case. */
static void by_how_much_the_end_moves_lies_within_its_bounds(void **state)
{
    (void)state;
    enum { PLANS = 400, SAMPLES = 300, COUNT = 4 };
    uint64_t seed = 20270302;
    int most_met = 0, least_met = 0;
    for (int p = 0; p < PLANS; p++) {
        PlanTask wide[TASKS_MOST] = {0};
        uint32_t before[TASKS_MOST][BEFORE_MOST];
        double least = INFINITY, most = 0.0;
        make_held_up(wide, before, COUNT, &seed);
        plan_forward(wide, COUNT, 0.0);
        Interval delay = plan_delay(wide, COUNT, 0.0);
        for (int s = 0; s < SAMPLES; s++) {
            double by = delay_of_case(wide, COUNT, &seed);
            assert_true(by >= delay.low - 1e-9 && by <= delay.high + 1e-9);
            least = fmin(least, by);
            most = fmax(most, by);
        }
        most_met += delay.high - most < 1.0;
        least_met += least - delay.low < 1.0;
    }
    assert_true(most_met > PLANS / 2 && least_met > PLANS / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_passes_give_the_printed_dates),
        cmocka_unit_test(jobs_of_a_spec_get_the_printed_dates),
        cmocka_unit_test(what_is_decided_lies_within_the_range),
        cmocka_unit_test(by_how_much_the_end_moves_lies_within_its_bounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
