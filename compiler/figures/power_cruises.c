/*
 * Cruises of the banks: how low they fall over all days of one, how full they end, and what of the sources' offers is
 * refused. The days are run one behind the other, for each number of days that `days` leaves open.
 */
#include "figures/power_runs.h"

/* One stretch of a cruise: so many of one day; of a range, each number in its turn. */
typedef struct Stretch {
    const GroupDay *day;
    uint32_t count;
    Interval counts;
    unsigned slot; /* of the number, in `days` */
} Stretch;

typedef struct Course {
    const Entity *cruise;
    Stretch *list;
    uint32_t count;
    Interval start;
    State state;
    bool unbounded; /* more numbers of days than are run: nothing narrower is told than what can be */
} Course;

/* So many numbers of days are run where `days` states ranges: a choice of this program. */
static const double COUNTS_MOST = 256.0;

/* Reads `days 1 passage, 2 anchored`: the values are counts and days by turns. */
static Course read_course(Work *work, const Group *group, const Entity *cruise)
{
    const Property *days = entity_property(cruise, PROP_CRUISE_DAYS);
    Course course = {.cruise = cruise, .state = STATE_KNOWN};
    Quantity start = use_value(work, cruise, PROP_CRUISE_START, 0);
    course.start = start.value;
    course.state = days == NULL || days->flags & PROPERTY_BROKEN ? STATE_WAITING : start.state;
    uint16_t values = days != NULL ? days->count : 0;
    double ways = 1.0;
    course.list = ARENA_ARRAY(work->scratch, Stretch, (size_t)values + 1);
    for (uint16_t i = 0; i + 1 < values; i = (uint16_t)(i + 2)) {
        const Value *count = property_value(days, i), *day = property_value(days, i + 1u);
        const GroupDay *of = value_entity(day) != NULL ? group_day(group, value_entity(day)) : NULL;
        bool stated = count->kind == VALUE_QUANTITY && !(count->flags & VALUE_BROKEN);
        if (of == NULL || !stated || of->state != STATE_KNOWN) {
            State state = of == NULL || !stated ? STATE_WAITING : of->state;
            course.state = state > course.state ? state : course.state;
            continue;
        }
        Interval counts = {count->u.quantity.low, count->u.quantity.high};
        ways *= counts.high - counts.low + 1.0;
        course.list[course.count++] = (Stretch){of, (uint32_t)counts.low, counts, i};
    }
    course.unbounded = !(ways <= COUNTS_MOST);
    return course;
}

/* The next numbers of days within their ranges; false behind the last, when all are the least again. */
static bool next_counts(Course *course)
{
    for (uint32_t i = 0; i < course->count && !course->unbounded; i++) {
        Stretch *stretch = &course->list[i];
        if (stretch->count < stretch->counts.high) {
            stretch->count++;
            return true;
        }
        stretch->count = (uint32_t)stretch->counts.low;
    }
    return false;
}

static void run_counts(Arena *arena, const Group *group, const Course *course, int corner, Outcomes *out)
{
    DayCharge charge[DAY_BANKS];
    double lowest[DAY_BANKS], at[DAY_BANKS] = {0};
    double *refused = ARENA_ARRAY(arena, double, (size_t)group->source_count + 1);
    DayBankTally tally[DAY_BANKS];
    uint32_t passed = 0;
    double begins = fmin(1.0, corner == WORSE ? course->start.low : course->start.high);
    for (int b = 0; b < group->bank_count; b++) {
        lowest[b] = day_begun(&group->banks[b]->of[corner], begins);
        charge[b] = (DayCharge){.share = lowest[b]};
    }
    for (uint32_t i = 0; i < course->count; i++) {
        for (uint32_t n = 0; n < course->list[i].count; n++, passed++) {
            day_run(&course->list[i].day->plan[corner], charge, tally, refused);
            for (int b = 0; b < group->bank_count; b++) {
                bool empty = day_told(&group->banks[b]->of[corner], lowest[b]) <= 0.0; /* the first time is told */
                if (tally[b].lowest_share < lowest[b]) {
                    at[b] = empty ? at[b] : (double)passed * DAY_STEPS + tally[b].lowest_step;
                    lowest[b] = tally[b].lowest_share;
                }
            }
        }
    }
    for (int b = 0; b < group->bank_count; b++) {
        const DayBank *bank = &group->banks[b]->of[corner];
        lowest[b] = fmin(day_told(bank, lowest[b]), begins);
        widen(&out->end[b], day_told(bank, charge[b].share));
    }
    note_lowest(out, group, corner, lowest, at);
    for (int s = 0; s < group->source_count; s++) {
        widen(&out->refused[s], refused[s]);
    }
}

/* A cruise of more days than can be tried: what a bank can hold at all, and at its lowest no more than it begins with. */
static void leave_open(const Group *group, const Course *course, Outcomes *out)
{
    for (int b = 0; b < group->bank_count; b++) {
        widen(&out->lowest[b], 0.0);
        widen(&out->lowest[b], fmin(1.0, course->start.high));
        widen(&out->end[b], 0.0);
        widen(&out->end[b], 1.0);
    }
    for (int s = 0; s < group->source_count; s++) {
        widen(&out->refused[s], 0.0);
        widen(&out->refused[s], INFINITY);
    }
}

static void run_course(Arena *arena, const Group *group, Course *course, int corner, Outcomes *out)
{
    do {
        run_counts(arena, group, course, corner, out);
    } while (next_counts(course));
    if (course->unbounded) {
        leave_open(group, course, out);
    }
}

bool group_cruise_lowest(Work *work, const Group *group, const Entity *cruise, int corner, double lowest[])
{
    Arena *arena = work->scratch;
    Course course = read_course(work, group, cruise);
    if (course.state != STATE_KNOWN) {
        return false;
    }
    Outcomes *out = new_outcomes(arena, group);
    run_course(arena, group, &course, corner, out);
    for (int b = 0; b < group->bank_count; b++) {
        lowest[b] = out->lowest[b].low;
    }
    return true;
}

/* The first use of a day in a cruise: its figures are inputs once. */
static bool is_first_stretch(const Course *course, uint32_t i)
{
    for (uint32_t j = 0; j < i; j++) {
        if (course->list[j].day == course->list[i].day) {
            return false;
        }
    }
    return true;
}

/* Returns what the cold of one of its days does, in words; NULL: nothing. */
static const char *use_course(Work *work, const Group *group, int b, const Course *course)
{
    const char *cold = NULL;
    use_value(work, course->cruise, PROP_CRUISE_START, 0);
    use_banks(work, group, b, NULL);
    for (uint32_t i = 0; i < course->count; i++) {
        if (!interval_is_point(course->list[i].counts)) {
            use_value(work, course->cruise, PROP_CRUISE_DAYS, course->list[i].slot);
        }
        if (is_first_stretch(course, i)) {
            const Entity *day = course->list[i].day->day;
            use_figure(work, figure_find(work->figures, group->banks[b]->entity, FIGURE_DAILY_USE, day));
            use_figure(work, figure_find(work->figures, group->banks[b]->entity, FIGURE_DAILY_CHARGE, day));
            const char *found = use_cold(work, group->banks[b], day);
            cold = found != NULL ? found : cold;
        }
    }
    use_state(work, course->state);
    return cold;
}

static void record_bank_course(Work *work, const Group *group, const Course *course, int b, const Outcomes *out)
{
    const Entity *bank = group->banks[b]->entity;
    work_begin(work);
    const char *cold = use_course(work, group, b, course);
    Figure *lowest =
        work_record(work, FIGURE_LOWEST_CHARGE, bank, course->cruise, band_interval(out->lowest[b]), run_formula);
    if (lowest->state == STATE_KNOWN) {
        lowest->remark = course->unbounded ? "so many numbers of days are not run one by one: anything from empty to full"
                                           : when_lowest(work->figures->arena, group, out, b, cold);
    }
    work_record(work, FIGURE_END_CHARGE, bank, course->cruise, band_interval(out->end[b]), run_formula)->remark = cold;
}

static void record_source_course(Work *work, const Group *group, const Course *course, int s, const Outcomes *out)
{
    const Entity *maker = group->sources[s].feed->giver;
    Interval all = point(0.0);
    if (!is_first_of_source(group, s)) {
        return;
    }
    work_begin(work);
    for (uint32_t i = 0; i < course->count; i++) {
        const Figure *offered = course->list[i].day->makers[s].offered;
        if (offered == NULL) {
            continue;
        }
        if (is_first_stretch(course, i)) {
            use_figure(work, offered);
        }
        all = interval_add(all, interval_multiply((Interval){offered->low, offered->high}, course->list[i].counts));
    }
    if (course->state == STATE_KNOWN && all.high == 0.0) {
        return;
    }
    use_course(work, group, group->sources[s].bank, course);
    Interval part = without_dust(interval_min(refused_of(group, s, out), point(all.high)), all.high);
    const Figure *refused = work_record(work, FIGURE_REFUSED, maker, course->cruise, part,
                                        "run in steps of 15 minutes: what it offers, less what loads and bank take");
    work_record(work, FIGURE_ENERGY, maker, course->cruise,
                left_of(all, refused->state == STATE_KNOWN ? part : point(0.0)),
                "sum of what it offers on the cruise's days, less what is refused");
}

void group_cruise(Power *power, Group *group, const Entity *cruise)
{
    Work *work = power->work;
    Arena *arena = work->scratch;
    work_begin(work);
    Course course = read_course(work, group, cruise);
    Outcomes *out = new_outcomes(arena, group);
    for (int c = 0; c < CORNERS && course.state == STATE_KNOWN; c++) {
        run_course(arena, group, &course, c, out);
    }
    for (int b = 0; b < group->bank_count; b++) {
        record_bank_course(work, group, &course, b, out);
    }
    for (int s = 0; s < group->source_count; s++) {
        record_source_course(work, group, &course, s, out);
    }
}
