/*
 * How long the engine must run in a day for the house banks to break even: searched, for a bank gains no less when it runs
 * longer. The engine runs in one piece from 9:00 on, as fast as the day says, whatever hours the day states. A house bank
 * that no alternator reaches gets nothing of it: what such a day takes from it no run makes good. Nor does what a bank that is
 * no house bank lends out of its own charge: a starting bank gives surplus alone here, and is not asked whether it breaks even.
 */
#include "figures/drive.h"
#include "figures/power_days.h"
#include "figures/power_makers.h"

#include "model/status.h"
#include <math.h>

bool bank_is_house(const Entity *bank)
{
    Str role = entity_word(bank, PROP_BANK_ROLE);
    return role.length == 0 || str_is(role, "house");
}

bool group_serves_the_house(const Group *group, int b)
{
    bool serves = bank_is_house(group->banks[b]->entity);
    for (int l = 0; l < group->link_count && !serves; l++) {
        const DayLink *link = &group->links[WORSE][l]; /* from one bank to one that stands behind it in the list */
        serves = link->giver == b && link->drains && group_serves_the_house(group, link->taker);
    }
    return serves;
}

/* One that the engine of the days drives. */
static bool is_alternator(const Model *model, const GroupSource *source)
{
    const Entity *giver = source->feed->giver;
    return giver->kind == KIND_ALTERNATOR && !is_engineless(giver) && !is_of_one_standing_by(model, giver);
}

static bool has_alternator(const Model *model, const Group *group)
{
    for (int s = 0; s < group->source_count; s++) {
        if (is_alternator(model, &group->sources[s])) {
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
    DayTable *tables; /* one a bank */
    DayLink *links;    /* the day's, where house banks alone give of their own charge */
    double *running_a; /* one a source, of an alternator: what it offers while its engine runs */
    DayBurst *bursts[DAY_BANKS]; /* the day's but for alternators', with room for a run's end */
    const DayTable *table[DAY_BANKS];
    DayPlan plan;
} Trial;

static Trial new_trial(Power *power, const Group *group, const GroupDay *day, int corner)
{
    Arena *arena = power->work->scratch;
    Trial trial = {.power = power, .group = group, .day = day, .corner = corner};
    trial.tables = ARENA_ARRAY(arena, DayTable, (size_t)group->bank_count);
    trial.links = ARENA_ARRAY(arena, DayLink, (size_t)group->link_count + 1);
    for (int l = 0; l < group->link_count; l++) {
        trial.links[l] = day->plan[corner].links[l];
        trial.links[l].drains = trial.links[l].drains && bank_is_house(group->banks[trial.links[l].giver]->entity);
    }
    trial.running_a = ARENA_ARRAY(arena, double, (size_t)group->source_count + 1);
    for (int b = 0; b < group->bank_count; b++) {
        int count = day->plan[corner].tables[b]->burst_count + 2 * group->source_count;
        trial.bursts[b] = ARENA_ARRAY(arena, DayBurst, (size_t)count + 1);
    }
    for (int s = 0; s < group->source_count; s++) {
        if (is_alternator(power->model, &group->sources[s])) {
            trial.running_a[s] = alternator_running_a(power->work, group->sources[s].feed->giver, day->day, corner);
        }
    }
    return trial;
}

static double part_of(const Trial *trial, int s)
{
    return trial->corner == WORSE ? trial->day->shares[s].low : trial->day->shares[s].high;
}

/* With the tables of the day, whose engine runs as it says. */
static void begin_trial(Trial *trial)
{
    const Group *group = trial->group;
    trial->plan = trial->day->plan[trial->corner];
    trial->plan.tables = trial->table;
    trial->plan.links = trial->links;
    trial->plan.source_count = 0;
    for (int b = 0; b < group->bank_count; b++) {
        trial->tables[b] = *trial->day->plan[trial->corner].tables[b];
        trial->table[b] = &trial->tables[b];
    }
}

/* Where bursts count: those of the day's own run of the engine give way to those of the one that is tried. */
static void run_bursts(Trial *trial, int b, double engine_s)
{
    const Group *group = trial->group;
    const DayTable *was = trial->day->plan[trial->corner].tables[b];
    int count = 0;
    for (int i = 0; i < was->burst_count; i++) {
        if (was->bursts[i].source < 0 || !is_alternator(trial->power->model, &group->sources[was->bursts[i].source])) {
            trial->bursts[b][count++] = was->bursts[i];
        }
    }
    for (int s = 0; s < group->source_count && !group_is_charged(group, b); s++) {
        if (group->sources[s].bank == b && is_alternator(trial->power->model, &group->sources[s])) {
            DayBurst edges[2];
            int edge_count = day_edges(ENGINE_FROM_S, engine_s, edges);
            for (int i = 0; i < edge_count; i++) {
                edges[i].amps = -trial->running_a[s] * part_of(trial, s);
                edges[i].source = s;
                count = day_add_burst(trial->bursts[b], count, edges[i]);
            }
        }
    }
    trial->tables[b].bursts = trial->bursts[b];
    trial->tables[b].burst_count = count;
}

static void run_engine(Trial *trial, double engine_s)
{
    const Group *group = trial->group;
    bool changed[DAY_BANKS] = {false};
    begin_trial(trial);
    for (int s = 0; s < group->source_count; s++) {
        const GroupSource *source = &group->sources[s];
        if (!is_alternator(trial->power->model, source)) {
            continue;
        }
        double amps[DAY_STEPS] = {0.0}, part = part_of(trial, s);
        const double *was = trial->day->makers[s].amps.of[trial->corner];
        double *offered = trial->tables[source->bank].offered_a;
        day_add_span(amps, ENGINE_FROM_S, engine_s, trial->running_a[s]);
        for (int i = 0; i < DAY_STEPS; i++) {
            double others = offered[i] - was[i];
            offered[i] = (others > 0.0 ? others : 0.0) + amps[i] * part;
        }
        changed[source->bank] = true;
    }
    for (int b = 0; b < group->bank_count; b++) {
        if (changed[b]) {
            run_bursts(trial, b, engine_s);
            day_finish_like(&trial->tables[b], &trial->plan.alone[b].model, trial->day->plan[trial->corner].tables[b]);
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

/* Runs of the engine, in minutes: one that is not enough and one that is, and what the bank gains by each. */
typedef struct Bracket {
    int low, high;
    double at_low, at_high;
} Bracket;

/* How many minutes make good a lack where the bank takes all that the alternators bring: mostly as many as it takes. */
static int likely_minutes(const Trial *trial, int bank, double lack_c)
{
    double amps = 0.0;
    for (int s = 0; s < trial->group->source_count; s++) {
        amps += trial->group->sources[s].bank == bank ? trial->running_a[s] * part_of(trial, s) : 0.0;
    }
    double minutes = lack_c / (amps * trial->plan.alone[bank].model.efficiency * minute_s);
    return minutes > 1.0 && minutes < MINUTES_A_DAY ? (int)minutes + 1 : 120;
}

/* Finds a run that is long enough, from the likely one up; false if a whole day is not. */
static bool find_enough(Trial *trial, int bank, Bracket *found)
{
    int tried = likely_minutes(trial, bank, -found->at_low);
    for (;; tried = tried * 3 < MINUTES_A_DAY ? tried * 3 : MINUTES_A_DAY) {
        double at = balance_after_minutes(trial, bank, tried);
        if (at >= 0.0) {
            found->high = tried;
            found->at_high = at;
            return true;
        }
        if (tried == MINUTES_A_DAY) {
            return false;
        }
        found->low = tried;
        found->at_low = at;
    }
}

/* The shortest run of the engine, in s, that leaves a bank no emptier; INFINITY if a whole day does not. */
static double shortest_run(Trial *trial, int bank)
{
    Bracket found = {.low = 0, .at_low = balance_after_minutes(trial, bank, 0)};
    if (found.at_low >= 0.0) {
        return 0.0;
    }
    if (!find_enough(trial, bank, &found)) {
        return INFINITY;
    }
    for (int i = 0; found.high - found.low > 1; i++) {
        /* A bank gains in nearly a straight line: just beside where that meets zero, one side after the other. */
        double straight = found.low + (found.high - found.low) * found.at_low / (found.at_low - found.at_high);
        int tried = i % 4 == 3 || !isfinite(straight) ? (found.low + found.high) / 2 : (int)straight + i % 2;
        tried = tried <= found.low ? found.low + 1 : tried >= found.high ? found.high - 1 : tried;
        double at = balance_after_minutes(trial, bank, tried);
        if (at >= 0.0) {
            found.high = tried;
            found.at_high = at;
        } else {
            found.low = tried;
            found.at_low = at;
        }
    }
    return found.high * minute_s;
}

double group_engine_seconds(Power *power, const Group *group, const GroupDay *day, int corner)
{
    double longest = 0.0;
    Trial trial = new_trial(power, group, day, corner);
    for (int b = 0; b < group->bank_count; b++) {
        if (bank_is_house(group->banks[b]->entity)) {
            longest = fmax(longest, shortest_run(&trial, b));
        }
    }
    return longest;
}

static void use_group(Work *work, const Group *group, const Entity *day)
{
    for (int b = 0; b < group->bank_count; b++) {
        const Entity *bank = group->banks[b]->entity;
        if (group->banks[b]->volts.high <= 0.0) {
            use_no_voltage(work, bank);
        }
        use_figure(work, group->banks[b]->capacity);
        use_figure(work, figure_find(work->figures, bank, FIGURE_DAILY_USE, day));
    }
    for (int s = 0; s < group->source_count; s++) {
        const Entity *maker = group->sources[s].feed->giver;
        const Figure *offered = figure_find(work->figures, maker, FIGURE_OFFERED, day);
        if (is_alternator(work->model, &group->sources[s])) {
            alternator_running_a(work, maker, day, WORSE);
        } else if (offered != NULL) {
            use_figure(work, offered);
        }
    }
}

/* A bank that loses charge on that day, if only in the worse corner; less is an error of rounding. */
static bool loses(const Figure *balance, int corner)
{
    return balance->state == STATE_KNOWN && (corner == WORSE ? balance->low : balance->high) < -1e-6;
}

/* The balance of a house bank that no alternator reaches; NULL: one does, or it only waits. */
static const Figure *balance_unreached(const Work *work, const Group *group, int b, const Entity *day)
{
    bool asked = !has_alternator(work->model, group) && group_serves_the_house(group, b);
    return asked ? figure_find(work->figures, group->banks[b]->entity, FIGURE_BALANCE, day) : NULL;
}

/* The first house bank of the boat that no alternator reaches and that loses charge; NULL: none does. */
static const Entity *first_unreached(const Work *work, const PowerDays *days, const Entity *day, int corner)
{
    for (const Group *group = days->first; group != NULL; group = group->next) {
        for (int b = 0; b < group->bank_count; b++) {
            const Figure *balance = balance_unreached(work, group, b, day);
            if (balance != NULL && loses(balance, corner)) {
                return group->banks[b]->entity;
            }
        }
    }
    return NULL;
}

static void use_unreached(Work *work, const Group *group, const Entity *day)
{
    for (int b = 0; b < group->bank_count; b++) {
        const Figure *balance = balance_unreached(work, group, b, day);
        if (balance != NULL) {
            use_figure(work, balance);
        }
    }
}

static bool is_charged_by_engine(const Model *model, const PowerDays *days, const Entity *bank)
{
    for (const Group *group = days->first; group != NULL; group = group->next) {
        for (int b = 0; b < group->bank_count; b++) {
            if (group->banks[b]->entity == bank) {
                return has_alternator(model, group);
            }
        }
    }
    return false;
}

/* A switch that joins that bank with one that an alternator charges, when it is closed; NULL: none. */
static const Entity *joining_switch(Power *power, const PowerDays *days, const Entity *bank)
{
    for (const Entity *joiner = power->model->first_of_kind[KIND_SWITCH]; joiner != NULL; joiner = joiner->next_of_kind) {
        Str works_as = entity_word(joiner, PROP_SWITCH_WORKS_AS);
        bool own = false, other = false;
        for (const Feed *feed = joiner->fed; feed != NULL; feed = feed->next) {
            const Entity *source = bank_behind(feed);
            own = own || source == bank;
            other = other || (source != NULL && is_charged_by_engine(power->model, days, source));
        }
        if (own && other && !(joiner->flags & (ENTITY_DROPPED | ENTITY_LOOP)) &&
            (str_is(works_as, "parallel") || str_is(works_as, "emergency"))) {
            return joiner;
        }
    }
    return NULL;
}

static const char *say_unreached(Power *power, const PowerDays *days, const Entity *bank, bool surely)
{
    Arena *arena = power->work->figures->arena;
    const Entity *joiner = joining_switch(power, days, bank);
    Str name = entity_name(power->model, bank);
    const char *loses = surely ? "loses" : "may lose";
    if (joiner == NULL) {
        return text_format(arena, "no alternator reaches `%.*s`, which %s charge: no run of the engine makes that good", STR_ARG(name),
                           loses);
    }
    return text_format(arena, "no alternator reaches `%.*s`, which %s charge, but through `%.*s`, and no day counts what passes there: "
                              "with that open no run of the engine makes it good",
                       STR_ARG(name), loses, STR_ARG(entity_name(power->model, joiner)));
}

static void record_hours(Power *power, const PowerDays *days, const Entity *day, Interval seconds)
{
    Work *work = power->work;
    const Entity *surely = first_unreached(work, days, day, BETTER);
    const Entity *perhaps = first_unreached(work, days, day, WORSE);
    seconds.low = surely != NULL ? INFINITY : seconds.low;
    seconds.high = perhaps != NULL ? INFINITY : seconds.high;
    Figure *figure = work_record(work, FIGURE_ENGINE_HOURS, work->model->boat, day, seconds,
                                 "the shortest run from 9:00 on after which no house bank is emptier than the day before, "
                                 "found by trying");
    if (figure->state == STATE_KNOWN && perhaps != NULL) {
        figure->remark = say_unreached(power, days, surely != NULL ? surely : perhaps, surely != NULL);
    } else if (figure->state == STATE_KNOWN && isinf(figure->high)) {
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
        any = any || has_alternator(power->model, group);
        if (!has_alternator(power->model, group) || of == NULL || of->state != STATE_KNOWN) {
            continue; /* the figure waits too */
        }
        for (int c = 0; c < CORNERS; c++) {
            longest[c] = fmax(longest[c], group_engine_seconds(power, group, of, c));
        }
    }
    if (!any) {
        return;
    }
    work_begin(work);
    for (const Group *group = days->first; group != NULL; group = group->next) {
        const GroupDay *of = group_day(group, day);
        if (has_alternator(power->model, group)) {
            use_group(work, group, day);
            use_state(work, of != NULL ? of->state : STATE_KNOWN);
        }
        use_unreached(work, group, day);
    }
    record_hours(power, days, day, interval_corners(longest[BETTER], longest[WORSE]));
}

void power_engine_hours(Power *power, const PowerDays *days)
{
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        engine_hours_of_day(power, days, day);
    }
}
