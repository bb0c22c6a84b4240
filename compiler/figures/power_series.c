/* See power_series.h. */
#include "figures/power_series.h"

#include "figures/power_days.h"

#include <math.h>
#include <string.h>

/* Days in their order, whether of a cruise or one alone. */
typedef struct Sequence {
    const GroupDay **days;
    uint32_t count, left_out;
    double start[CORNERS];
    bool known;
} Sequence;

static const Group *find_group(const Figures *figures, const Entity *bank, int *number)
{
    const PowerDays *days = figures->power_days;
    for (const Group *group = days != NULL ? days->first : NULL; group != NULL; group = group->next) {
        for (int b = 0; b < group->bank_count; b++) {
            if (group->banks[b]->entity == bank) {
                *number = b;
                return group;
            }
        }
    }
    return NULL;
}

static void add_days(Sequence *sequence, const Group *group, const Entity *day, uint32_t count, uint32_t most)
{
    const GroupDay *of = day != NULL ? group_day(group, day) : NULL;
    sequence->known = sequence->known && of != NULL && of->state == STATE_KNOWN;
    for (uint32_t n = 0; n < count && sequence->known; n++) {
        if (sequence->count < most) {
            sequence->days[sequence->count++] = of;
        } else {
            sequence->left_out++;
        }
    }
}

static void add_cruise(Sequence *sequence, const Model *model, const Group *group, const Entity *cruise, uint32_t most)
{
    const Property *days = entity_property(cruise, PROP_CRUISE_DAYS);
    const Value *start = property_value(model_property(model, cruise, PROP_CRUISE_START), 0);
    sequence->known = days != NULL && !(days->flags & PROPERTY_BROKEN) && start->kind == VALUE_QUANTITY;
    for (uint16_t i = 0; sequence->known && i + 1 < days->count; i = (uint16_t)(i + 2)) {
        const Value *count = property_value(days, i), *day = property_value(days, i + 1u);
        bool sure = value_is_point(count);
        sequence->known = sure && day->kind == VALUE_REFERENCE;
        if (sequence->known) {
            add_days(sequence, group, value_entity(day), (uint32_t)count->u.quantity.low, most);
        }
    }
    if (sequence->known) {
        sequence->start[WORSE] = fmin(1.0, start->u.quantity.low);
        sequence->start[BETTER] = fmin(1.0, start->u.quantity.high);
    }
}

static Sequence make_sequence(Arena *arena, const Model *model, const Group *group, const Entity *when, uint32_t most)
{
    Sequence sequence = {.start = {1.0, 1.0}, .known = true};
    sequence.days = ARENA_ARRAY(arena, const GroupDay *, most + 1u);
    if (when->kind == KIND_DAY) {
        add_days(&sequence, group, when, 1, most);
    } else {
        add_cruise(&sequence, model, group, when, most);
    }
    return sequence;
}

/* One corner of it: the course of a bank, and what each link carries in it, one day after the other. */
typedef struct Course {
    const double *charge;
    double **brings_a, **takes_a; /* one a link, one a step */
} Course;

static double **room_for_links(Arena *arena, const Group *group, const Sequence *sequence)
{
    double **links = ARENA_ARRAY(arena, double *, (size_t)group->link_count + 1);
    for (int l = 0; l < group->link_count; l++) {
        links[l] = ARENA_ARRAY(arena, double, (size_t)sequence->count * DAY_STEPS + 1);
    }
    return links;
}

static Course run_sequence(Arena *arena, const Group *group, int bank, const Sequence *sequence, int corner)
{
    double *course = ARENA_ARRAY(arena, double, sequence->count * DAY_STEPS + 1);
    double *trace = ARENA_ARRAY(arena, double, (size_t)group->bank_count * DAY_STEPS);
    size_t room = (size_t)group->link_count * DAY_STEPS + 1;
    DayCarried carried = {ARENA_ARRAY(arena, double, room), ARENA_ARRAY(arena, double, room)};
    Course all = {course, room_for_links(arena, group, sequence), room_for_links(arena, group, sequence)};
    DayCharge charge[DAY_BANKS];
    DayBankTally tally[DAY_BANKS];
    for (int b = 0; b < group->bank_count; b++) {
        charge[b] = (DayCharge){.share = day_begun(&group->banks[b]->of[corner], sequence->start[corner])};
    }
    course[0] = sequence->start[corner];
    for (uint32_t d = 0; d < sequence->count; d++) {
        day_trace(&sequence->days[d]->plan[corner], charge, tally, trace, carried);
        memcpy(course + 1 + d * DAY_STEPS, trace + bank * DAY_STEPS, DAY_STEPS * sizeof(double));
        for (int l = 0; l < group->link_count; l++) {
            memcpy(all.brings_a[l] + d * DAY_STEPS, carried.brings_a + l * DAY_STEPS, DAY_STEPS * sizeof(double));
            memcpy(all.takes_a[l] + d * DAY_STEPS, carried.takes_a + l * DAY_STEPS, DAY_STEPS * sizeof(double));
        }
    }
    return all;
}

/* Currents of each day's steps, one day after the other, as watts of the bank; *any tells whether there is any. */
static const double *join(Arena *arena, const Sequence *sequence, double volts, const double *(*of)(const GroupDay *, int),
                          int number, bool *any)
{
    double *watts = ARENA_ARRAY(arena, double, sequence->count * DAY_STEPS + 1);
    *any = false;
    for (uint32_t d = 0; d < sequence->count; d++) {
        const double *amps = of(sequence->days[d], number);
        for (int i = 0; i < DAY_STEPS; i++) {
            watts[d * DAY_STEPS + (uint32_t)i] = amps[i] * volts;
            *any = *any || amps[i] > 0.0;
        }
    }
    return watts;
}

static const double *loads_of(const GroupDay *day, int bank)
{
    return day->plan[WORSE].tables[bank]->load_a;
}

static const double *source_of(const GroupDay *day, int source)
{
    return day->makers[source].amps.of[WORSE];
}

static const double *passed_of(const GroupDay *day, int link)
{
    return day->passed[link].amps.of[WORSE];
}

/* What a link moves, as watts of the bank at this end; *joule is the sum. */
static const double *moved(Arena *arena, const Sequence *sequence, const double *amps, double volts, double *joule)
{
    uint32_t steps = sequence->count * DAY_STEPS;
    double *watts = ARENA_ARRAY(arena, double, (size_t)steps + 1);
    *joule = 0.0;
    for (uint32_t i = 0; i < steps; i++) {
        watts[i] = amps[i] * volts;
        *joule += watts[i] * DAY_STEP_S;
    }
    return watts;
}

/* Whether more is moved in some step than a surplus offers: out of the charge of the bank that gives it. */
static bool is_beyond(const double *moves, const double *offered, uint32_t steps)
{
    for (uint32_t i = 0; i < steps; i++) {
        if (moves[i] > offered[i] * (1.0 + 1e-6) + 1e-9) {
            return true;
        }
    }
    return false;
}

/* Converters that charge this bank from another one, or another one from this. */
static void add_passed(Arena *arena, const Group *group, int bank, const Sequence *sequence, const Course *worse, double volts,
                       PowerSeries *series, SeriesSource sources[])
{
    for (int l = 0; l < group->link_count; l++) {
        const DayLink *link = &group->links[WORSE][l];
        bool any, takes = link->giver == bank;
        if (takes || link->taker == bank) {
            SeriesSource source = {.maker = group->converters[l], .takes = takes};
            source.other = group->banks[takes ? link->taker : link->giver]->entity;
            const double *moves = moved(arena, sequence, (takes ? worse->takes_a : worse->brings_a)[l], volts, &source.moved_j);
            source.offered_w = join(arena, sequence, takes ? volts * link->ratio : volts, passed_of, l, &any);
            source.draws = link->drains && is_beyond(moves, source.offered_w, series->steps);
            source.offered_w = source.draws ? moves : source.offered_w;
            if (any || source.draws) {
                sources[series->source_count++] = source;
            }
        }
    }
}

static bool add_sources(Arena *arena, const Group *group, int bank, const Sequence *sequence, const Course *worse, double volts,
                        PowerSeries *series)
{
    size_t most = (size_t)(group->source_count + group->link_count) + 1;
    SeriesSource *sources = ARENA_ARRAY(arena, SeriesSource, most);
    for (int s = 0; s < group->source_count; s++) {
        bool any = false;
        if (group->sources[s].bank == bank) {
            const double *watts = join(arena, sequence, volts, source_of, s, &any);
            if (any) {
                sources[series->source_count++] = (SeriesSource){.maker = group->sources[s].feed->giver, .offered_w = watts};
            }
        }
    }
    add_passed(arena, group, bank, sequence, worse, volts, series, sources);
    series->sources = sources;
    return series->source_count > 0;
}

bool power_series(Arena *arena, const Figures *figures, const Entity *bank, const Entity *when, uint32_t most_days,
                  PowerSeries *series)
{
    int number = 0;
    const Group *group = find_group(figures, bank, &number);
    *series = (PowerSeries){.step_s = DAY_STEP_S};
    if (group == NULL || group->banks[number]->state != STATE_KNOWN) {
        return false;
    }
    Sequence sequence = make_sequence(arena, figures->model, group, when, most_days);
    if (!sequence.known || sequence.count == 0) {
        return false;
    }
    bool any_load;
    double volts = group->banks[number]->volts.low;
    series->steps = sequence.count * DAY_STEPS;
    series->left_out = sequence.left_out;
    series->least_charge = group->banks[number]->alone[WORSE].least_share;
    Course worse = run_sequence(arena, group, number, &sequence, WORSE);
    series->worse = worse.charge;
    series->better = run_sequence(arena, group, number, &sequence, BETTER).charge;
    series->load_w = join(arena, &sequence, volts, loads_of, number, &any_load);
    return add_sources(arena, group, number, &sequence, &worse, volts, series) || any_load;
}
