/*
 * A year of a boat's days at steps of 15 minutes, beside the same loop bare.
 *
 *   year SPEC.boat ROUNDS
 *
 * Bare: for each of 365 days and 96 steps what its loads draw is summed over the loads, and nothing else. Whole: the same
 * sums make the table of the first bank's day, the sun of that day of the year at 52 degrees north makes the array's, the
 * powers of Peukert's law are taken, and all banks run through the day. The spec's own days take turns. One line goes to
 * standard output: the best time in microseconds of the bare and of the whole loop, how many loads and banks there were, and
 * a sum of each loop's results, so that none can be left out.
 */
#include "figures/power_days.h"
#include "model/build.h"
#include "physics/charging.h"
#include "physics/solar.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { DAYS = 365, LOADS_MOST = 4096 };

typedef struct Year {
    const Group *group;         /* the first: the house bank's */
    const double **watts;       /* a day's loads, one after the other: DAY_STEPS each */
    uint32_t loads, day_count;
    double volts, array_w, charge_v;
} Year;

static double now_microseconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1e6 + (double)now.tv_nsec / 1e3;
}

static FileText read_file(void *context, Arena *arena, const char *path)
{
    (void)context;
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return (FileText){.error = "cannot be read"};
    }
    char *text = arena_alloc(arena, 1 << 20);
    size_t length = fread(text, 1, 1 << 20, file);
    fclose(file);
    return (FileText){.text = text, .length = length};
}

/* What each load draws in each step of each day, in W of direct current. */
static void fill_loads(Work *work, Year *year)
{
    Arena *arena = work->figures->arena;
    const Model *model = work->model;
    const Entity *days[64];
    for (const Entity *day = model->first_of_kind[KIND_DAY]; day != NULL && year->day_count < 64; day = day->next_of_kind) {
        days[year->day_count++] = day;
    }
    year->watts = ARENA_ARRAY(arena, const double *, year->day_count * LOADS_MOST);
    for (uint32_t i = 0; i < model->entity_count && year->loads < LOADS_MOST; i++) {
        const Entity *load = model->entities[i];
        const Value *draw = property_value(entity_property(load, PROP_LOAD_DRAW), 0);
        if (!states_use(load) || draw->kind != VALUE_QUANTITY) {
            continue;
        }
        for (uint32_t d = 0; d < year->day_count; d++) {
            Hours use;
            double *watts = ARENA_ARRAY(arena, double, DAY_STEPS);
            if (hours_of_use(work, load, days[d], &use)) {
                bool amps = dimension_equal(unit_dimension(draw->unit), unit_dimension(UNIT_ALONE(UNIT_A)));
                for (int s = 0; s < DAY_STEPS; s++) {
                    watts[s] = use.of[WORSE][s] * draw->u.quantity.high * (amps ? year->volts : 1.0);
                }
            }
            year->watts[d * LOADS_MOST + year->loads] = watts;
        }
        year->loads++;
    }
}

static const double *const *loads_of(const Year *year, uint32_t day)
{
    return year->watts + (size_t)day * LOADS_MOST;
}

static double sum_step(const double *const watts[], uint32_t loads, int step)
{
    double sum = 0.0;
    for (uint32_t l = 0; l < loads; l++) {
        sum += watts[l][step];
    }
    return sum;
}

static double run_bare(const Year *year)
{
    double total = 0.0;
    for (uint32_t d = 0; d < DAYS; d++) {
        const double *const *watts = loads_of(year, d % year->day_count);
        for (int step = 0; step < DAY_STEPS; step++) {
            total += sum_step(watts, year->loads, step) * DAY_STEP_S;
        }
    }
    return total;
}

/* The day's own sun through the array, besides the sources that are in the plan's table. */
static void add_sun(const Year *year, int day, const DayTable *own, DayTable *table)
{
    static const double latitude_rad = 52.0 * 3.14159265358979323846 / 180.0, clearness = 0.5;
    double sun[DAY_STEPS];
    solar_by_height(latitude_rad, day, clearness * solar_extraterrestrial_j_per_m2(latitude_rad, day), DAY_STEPS, sun);
    for (int i = 0; i < DAY_STEPS; i++) {
        table->offered_a[i] = own->offered_a[i];
        if (sun[i] > 0.0) {
            table->offered_a[i] += solar_current_a(SOLAR_MPPT, year->array_w, sun[i], 15.0, year->charge_v, 0.0);
        }
    }
}

static double run_whole(const Year *year)
{
    double total = 0.0;
    DayCharge charge[DAY_BANKS];
    DayBankTally tally[DAY_BANKS];
    DayTable house = {.burst_count = 0}; /* of the first bank, anew each day; those of the others stay the plan's */
    const DayTable *table[DAY_BANKS];
    for (int b = 0; b < DAY_BANKS; b++) {
        charge[b] = day_full;
    }
    for (uint32_t d = 0; d < DAYS; d++) {
        uint32_t of = d % year->day_count;
        DayPlan plan = year->group->days[of].plan[WORSE];
        const double *const *loads = loads_of(year, of);
        for (int b = 0; b < plan.bank_count; b++) {
            table[b] = b == 0 ? &house : plan.tables[b];
        }
        house.bursts = plan.tables[0]->bursts;
        house.burst_count = plan.tables[0]->burst_count;
        for (int step = 0; step < DAY_STEPS; step++) {
            double watts = sum_step(loads, year->loads, step);
            total += watts * DAY_STEP_S;
            house.load_a[step] = watts / year->volts;
        }
        house.most_a = plan.tables[0]->most_a;
        house.other_most_a = plan.tables[0]->other_most_a;
        add_sun(year, (int)d + 1, plan.tables[0], &house);
        day_finish(&house, &plan.banks[0].model);
        plan.tables = table;
        plan.source_count = 0;
        day_run(&plan, charge, tally, NULL);
        total += tally[0].kept_c + tally[0].lowest_share;
    }
    return total;
}

static const Group *first_group(const Figures *figures, Year *year)
{
    const Group *group = figures->power_days != NULL ? figures->power_days->first : NULL;
    if (group == NULL || group->days[0].day == NULL || group->banks[0]->state != STATE_KNOWN) {
        fprintf(stderr, "year: the spec has no bank with a day that is known\n");
        exit(2);
    }
    year->volts = group->banks[0]->volts.low;
    year->charge_v = year->volts * 1.1;
    year->array_w = 260.0;
    return group;
}

int main(int count, char **arguments)
{
    Arena arena;
    jmp_buf out_of_memory;
    if (count != 3) {
        fprintf(stderr, "usage: year SPEC.boat ROUNDS\n");
        return 2;
    }
    arena_init(&arena, allocator_standard(), &out_of_memory);
    if (setjmp(out_of_memory)) {
        return 2;
    }
    FileText text = read_file(NULL, &arena, arguments[1]);
    Spec *spec = spec_load(&arena, arguments[1], &text, (FileReader){read_file, NULL});
    Model *model = model_build(spec, &arena, spec_combination(spec, &arena, 0));
    Figures *figures = figures_compute(&arena, model, BASIS_ISO, 0);
    Year year = {.volts = 12.0};
    year.group = first_group(figures, &year);
    Work work;
    work_init(&work, figures);
    fill_loads(&work, &year);
    double best_bare = 1e300, best_whole = 1e300, bare = 0.0, whole = 0.0;
    for (int round = atoi(arguments[2]); round > 0; round--) {
        double begin = now_microseconds();
        bare = run_bare(&year);
        double middle = now_microseconds();
        whole = run_whole(&year);
        double end = now_microseconds();
        best_bare = middle - begin < best_bare ? middle - begin : best_bare;
        best_whole = end - middle < best_whole ? end - middle : best_whole;
    }
    printf("%.1f %.1f %u %d %.6g %.6g\n", best_bare, best_whole, (unsigned)year.loads, year.group->bank_count, bare, whole);
    return 0;
}
