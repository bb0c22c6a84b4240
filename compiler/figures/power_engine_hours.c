/*
 * How long the engine must run in a day for the house banks to break even: searched, for a bank gains no less when it runs
 * longer. The engine runs in one piece from 9:00 on, as fast as the day says, whatever hours the day states.
 */
#include "figures/power_days.h"

#include <math.h>
#include <string.h>

bool bank_is_house(const Entity *bank)
{
    Str role = entity_word(bank, PROP_BANK_ROLE);
    return role.length == 0 || str_is(role, "house");
}

static bool has_alternator(const Group *group)
{
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].feed->giver->kind == KIND_ALTERNATOR) {
            return true;
        }
    }
    return false;
}

/* A day whose engine runs as long as is tried. */
typedef struct Trial {
    Power *power;
    const Group *group;
    const GroupDay *day;
    int corner;
    DayTable *tables; /* one a bank, without any alternator's current at first */
    const DayTable *table[DAY_BANKS];
    DayPlan plan;
} Trial;

static void begin_trial(Trial *trial, DayTable *tables)
{
    const Group *group = trial->group;
    trial->tables = tables;
    trial->plan = trial->day->plan[trial->corner];
    trial->plan.tables = trial->table;
    trial->plan.source_count = 0;
    for (int b = 0; b < group->bank_count; b++) {
        tables[b] = *trial->day->plan[trial->corner].tables[b];
        trial->table[b] = &tables[b];
    }
}

static void run_engine(Trial *trial, double engine_s)
{
    const Group *group = trial->group;
    bool changed[DAY_BANKS] = {false};
    begin_trial(trial, trial->tables);
    for (int s = 0; s < group->source_count; s++) {
        const GroupSource *source = &group->sources[s];
        if (source->feed->giver->kind != KIND_ALTERNATOR) {
            continue;
        }
        Hours amps;
        alternator_amps_for(trial->power, source->feed->giver, trial->day->day, engine_s, &amps);
        double *offered = trial->tables[source->bank].offered_a;
        Interval shares = trial->day->shares[s];
        double part = trial->corner == WORSE ? shares.low : shares.high;
        for (int i = 0; i < DAY_STEPS; i++) {
            double was = trial->day->makers[s].amps.of[trial->corner][i];
            offered[i] = fmax(0.0, offered[i] - was) + amps.of[trial->corner][i] * part;
        }
        changed[source->bank] = true;
    }
    for (int b = 0; b < group->bank_count; b++) {
        if (changed[b]) {
            day_finish(&trial->tables[b], &trial->plan.alone[b].model);
        }
    }
}

static double balance_after(Trial *trial, int bank, double engine_s)
{
    run_engine(trial, engine_s);
    return day_balance_c(&trial->plan, bank);
}

/*
 * Runs are whole minutes, for nobody starts an engine for less: the shortest of these that is enough is the same whatever
 * way it is looked for, and so no longer where less is needed. Ends of a range are true to each other by that.
 */
static const double minute_s = 60.0;
enum { MINUTES_A_DAY = 1440 };

static double balance_after_minutes(Trial *trial, int bank, int minutes)
{
    return balance_after(trial, bank, minutes * minute_s);
}

/* Some run that is long enough, from two hours up; 0 if a whole day is not. In minutes. */
static int long_enough(Trial *trial, int bank, double *at)
{
    for (int tried = 120;; tried = tried * 3 < MINUTES_A_DAY ? tried * 3 : MINUTES_A_DAY) {
        *at = balance_after_minutes(trial, bank, tried);
        if (*at >= 0.0 || tried == MINUTES_A_DAY) {
            return *at >= 0.0 ? tried : 0;
        }
    }
}

/* The shortest run of the engine, in s, that leaves a bank no emptier; INFINITY if a whole day does not. */
static double shortest_run(Trial *trial, int bank)
{
    double at_low = balance_after_minutes(trial, bank, 0);
    if (at_low >= 0.0) {
        return 0.0;
    }
    double at_high;
    int low = 0, high = long_enough(trial, bank, &at_high);
    if (high == 0) {
        return INFINITY;
    }
    for (int i = 0; high - low > 1; i++) {
        /* A bank gains in nearly a straight line: just beside where that meets zero, one side after the other. */
        double straight = low + (high - low) * at_low / (at_low - at_high);
        int tried = i % 4 == 3 || !isfinite(straight) ? (low + high) / 2 : (int)straight + i % 2;
        tried = tried <= low ? low + 1 : tried >= high ? high - 1 : tried;
        double at = balance_after_minutes(trial, bank, tried);
        if (at >= 0.0) {
            high = tried;
            at_high = at;
        } else {
            low = tried;
            at_low = at;
        }
    }
    return high * minute_s;
}

/* The longest that any house bank of the group asks for. */
static double hours_for(Power *power, const Group *group, const GroupDay *day, int corner, DayTable *tables)
{
    double longest = 0.0;
    Trial trial = {.power = power, .group = group, .day = day, .corner = corner, .tables = tables};
    for (int b = 0; b < group->bank_count; b++) {
        if (bank_is_house(group->banks[b]->entity)) {
            longest = fmax(longest, shortest_run(&trial, b));
        }
    }
    return longest;
}

double group_engine_seconds(Power *power, const Group *group, const GroupDay *day, int corner)
{
    DayTable *tables = ARENA_ARRAY(power->work->scratch, DayTable, (size_t)group->bank_count);
    return hours_for(power, group, day, corner, tables);
}

static void use_group(Work *work, const Group *group, const Entity *day)
{
    for (int b = 0; b < group->bank_count; b++) {
        const Entity *bank = group->banks[b]->entity;
        use_figure(work, group->banks[b]->capacity);
        use_figure(work, figure_find(work->figures, bank, FIGURE_DAILY_USE, day));
    }
    for (int s = 0; s < group->source_count; s++) {
        const Entity *maker = group->sources[s].feed->giver;
        const Figure *offered = figure_find(work->figures, maker, FIGURE_OFFERED, day);
        if (maker->kind == KIND_ALTERNATOR) {
            Hours ignored;
            alternator_amps_for(&(Power){.work = work, .model = work->model}, maker, day, 0.0, &ignored);
        } else if (offered != NULL) {
            use_figure(work, offered);
        }
    }
}

static void record_hours(Work *work, const Entity *day, Interval seconds)
{
    Figure *figure = work_record(work, FIGURE_ENGINE_HOURS, work->model->boat, day, seconds,
                                 "the shortest run from 9:00 on after which no house bank is emptier than the day before, "
                                 "found by trying");
    if (figure->state == STATE_KNOWN && isinf(figure->high)) {
        figure->remark = isinf(figure->low) ? "not even a whole day of engine makes good what is used"
                                            : "in the worse case not even a whole day of engine is enough";
    }
}

static void engine_hours_of_day(Power *power, const PowerDays *days, const Entity *day)
{
    Work *work = power->work;
    double longest[CORNERS] = {0.0, 0.0};
    bool any = false;
    for (const Group *group = days->first; group != NULL; group = group->next) {
        const GroupDay *of = group_day(group, day);
        any = any || has_alternator(group);
        if (!has_alternator(group) || of == NULL || of->state != STATE_KNOWN) {
            continue; /* where it waits, the figure waits too: it uses what that rests on */
        }
        DayTable *tables = ARENA_ARRAY(work->scratch, DayTable, (size_t)group->bank_count);
        for (int c = 0; c < CORNERS; c++) {
            longest[c] = fmax(longest[c], hours_for(power, group, of, c, tables));
        }
    }
    if (!any) {
        return;
    }
    work_begin(work);
    for (const Group *group = days->first; group != NULL; group = group->next) {
        if (has_alternator(group)) {
            use_group(work, group, day);
        }
    }
    record_hours(work, day, interval_corners(longest[BETTER], longest[WORSE]));
}

void power_engine_hours(Power *power, const PowerDays *days)
{
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL && power->model->boat != NULL;
         day = day->next_of_kind) {
        engine_hours_of_day(power, days, day);
    }
}
