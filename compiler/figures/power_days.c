/*
 * Days and cruises of the banks: how low they fall, what they gain or lose, how long they last, and what of the sources'
 * offers is refused. physics/days.h runs them, on the tables of power_group_days.c.
 */
#include "figures/power_days.h"

#include <math.h>

/* The least and the most over the corners that were run. */
typedef struct Band {
    double low, high;
} Band;

static const Band no_band = {INFINITY, -INFINITY};

static void widen(Band *band, double value)
{
    band->low = fmin(band->low, value);
    band->high = fmax(band->high, value);
}

static Interval band_interval(Band band)
{
    return band.low <= band.high ? interval_corners(band.low, band.high) : point(0.0);
}

/* What came of a day or a cruise, over all corners. */
typedef struct Outcomes {
    Band lowest[DAY_BANKS], end[DAY_BANKS], balance[DAY_BANKS], endurance[DAY_BANKS];
    double lowest_at[CORNERS][DAY_BANKS]; /* in steps from the beginning */
    bool noted[CORNERS][DAY_BANKS];
    Band *refused;                        /* one a source, C */
    Band *spared;                         /* one a link, C: what its giver would gain if its converter gave surplus alone */
} Outcomes;

static Outcomes *new_outcomes(Arena *arena, const Group *group)
{
    Outcomes *out = ARENA_NEW(arena, Outcomes);
    out->refused = ARENA_ARRAY(arena, Band, (size_t)group->source_count + 1);
    for (int b = 0; b < group->bank_count; b++) {
        out->lowest[b] = out->end[b] = out->balance[b] = out->endurance[b] = no_band;
    }
    for (int s = 0; s < group->source_count; s++) {
        out->refused[s] = no_band;
    }
    out->spared = ARENA_ARRAY(arena, Band, (size_t)group->link_count + 1);
    for (int l = 0; l < group->link_count; l++) {
        out->spared[l] = no_band;
    }
    return out;
}

/* Runs */

static void note_lowest(Outcomes *out, const Group *group, int corner, const double lowest[], const double at[])
{
    for (int b = 0; b < group->bank_count; b++) {
        bool first = !out->noted[corner][b];
        if (first || (corner == WORSE ? lowest[b] < out->lowest[b].low : lowest[b] > out->lowest[b].high)) {
            out->lowest_at[corner][b] = at[b];
        }
        out->noted[corner][b] = true;
        widen(&out->lowest[b], lowest[b]);
    }
}

/* Whether a bank has loads or a source of its own on that day, or carries those of another: one that only waits neither
 * gains nor loses. */
static bool is_busy(const Group *group, const GroupDay *day, int b)
{
    for (int l = 0; l < group->link_count; l++) {
        const DayLink *link = &group->links[WORSE][l];
        if (link->giver == b && link->drains && is_busy(group, day, link->taker)) {
            return true;
        }
    }
    const DayTable *table = day->plan[BETTER].tables[b];
    const DayTable *worse = day->plan[WORSE].tables[b];
    for (int i = 0; i < DAY_STEPS && group->banks[b]->state == STATE_KNOWN; i++) {
        if (worse->load_a[i] > 0.0 || table->offered_a[i] > 0.0) {
            return true;
        }
    }
    return group->banks[b]->state != STATE_KNOWN;
}

/* One that draws on its bank's own charge, by the first of its outputs that does. */
static bool draws_first(const Group *group, int l)
{
    for (int i = 0; i < l; i++) {
        if (group->converters[i] == group->converters[l] && group->links[WORSE][i].giver == group->links[WORSE][l].giver &&
            group->links[WORSE][i].drains) {
            return false;
        }
    }
    return group->links[WORSE][l].drains;
}

/* The same day once more for each converter that draws on a bank's own charge, as if it did not. */
static void spare_one_day(Arena *arena, const Group *group, const GroupDay *day, int corner, Outcomes *out)
{
    DayLink *links = ARENA_ARRAY(arena, DayLink, (size_t)group->link_count + 1);
    for (int l = 0; l < group->link_count; l++) {
        int giver = group->links[WORSE][l].giver;
        if (!draws_first(group, l) || !is_busy(group, day, giver)) {
            continue;
        }
        for (int i = 0; i < group->link_count; i++) {
            links[i] = day->plan[corner].links[i];
            links[i].drains = links[i].drains && group->converters[i] != group->converters[l];
        }
        DayPlan spared = day->plan[corner];
        spared.links = links;
        widen(&out->spared[l], day_balance_c(&spared, giver));
    }
}

static void run_one_day(Arena *arena, const Group *group, const GroupDay *day, int corner, Outcomes *out)
{
    const DayPlan *plan = &day->plan[corner];
    double lowest[DAY_BANKS], at[DAY_BANKS], seconds[DAY_BANKS];
    double *refused = ARENA_ARRAY(arena, double, (size_t)group->source_count + 1);
    DayStart start;
    day_start(plan, &start, refused);
    for (int b = 0; b < group->bank_count; b++) {
        lowest[b] = day_told(&plan->banks[b], start.tally[0][b].lowest_share);
        at[b] = start.tally[0][b].lowest_step;
    }
    note_lowest(out, group, corner, lowest, at);
    for (int s = 0; s < group->source_count; s++) {
        widen(&out->refused[s], refused[s]);
    }
    day_endure_from(plan, &start, seconds);
    for (int b = 0; b < group->bank_count; b++) {
        /* A bank without a bound to its size has none to its endurance. */
        bool endless = isinf(group->banks[b]->capacity->high) && corner == BETTER;
        widen(&out->endurance[b], endless ? INFINITY : seconds[b]);
        if (is_busy(group, day, b)) {
            widen(&out->balance[b], day_balance_c(plan, b));
        }
    }
    spare_one_day(arena, group, day, corner, out);
}

/* Recording */

void use_state(Work *work, State state)
{
    if (state == STATE_WAITING) {
        use_waiting(work);
    } else if (state == STATE_MISSING) {
        use_figure(work, NULL);
    }
}

/* Whether all is known of a bank that its part of a run needs; of a whole cruise its days say the rest. */
static bool is_known(const Work *work, const GroupBank *bank, const Entity *day)
{
    static const FigureId daily[] = {FIGURE_DAILY_USE, FIGURE_DAILY_CHARGE};
    bool known = bank->state == STATE_KNOWN;
    for (size_t i = 0; day != NULL && i < sizeof daily / sizeof daily[0]; i++) {
        const Figure *figure = figure_find(work->figures, bank->entity, daily[i], day);
        known = known && (figure == NULL || figure->state == STATE_KNOWN);
    }
    return known;
}

/*
 * All that a run of a bank rests on besides its own day's use and charge: its partners' too. Where no bank charges another,
 * one source charges both and gives either its share, and that is all that joins them; but they are run together, and where
 * nobody can tell of one, nothing was run.
 */
static void use_banks(Work *work, const Group *group, int b, const Entity *day)
{
    for (int i = 0; i < group->bank_count; i++) {
        const GroupBank *bank = group->banks[i];
        if (i != b && group->link_count == 0 && is_known(work, bank, day)) {
            continue;
        }
        if (bank->volts.high <= 0.0) {
            use_no_voltage(work, bank->entity); /* nobody can tell: no charge, and no emptiness either */
        }
        use_figure(work, bank->capacity);
        if (day != NULL) {
            use_figure(work, figure_find(work->figures, bank->entity, FIGURE_DAILY_USE, day));
            use_figure(work, figure_find(work->figures, bank->entity, FIGURE_DAILY_CHARGE, day));
        }
        if (i == b) {
            use_figure(work, bank->acceptance);
            use_bank_value(work, bank->entity, PROP_BANK_CHARGE_EFFICIENCY, BATTERY_CHARGE_EFFICIENCY,
                           UNIT_ALONE(UNIT_PERCENT));
            use_peukert(work, bank->entity);
            use_taper(work, bank->entity);
        } else {
            use_state(work, bank->state);
        }
    }
    for (int i = 0; i < group->link_count; i++) {
        use_value(work, group->converters[i], PROP_CONVERTER_OUTPUT, 0);
        if (group->links[WORSE][i].drains) {
            use_value(work, group->converters[i], PROP_CONVERTER_OUTPUT, 1);
        }
    }
}

static void write_clock(Buf *to, double steps)
{
    int minutes = (int)(steps * (DAY_STEP_S / 60.0) + 0.5);
    int days = minutes / 1440;
    buf_format(to, "%02d:%02d", minutes / 60 % 24, minutes % 60);
    if (days > 0) {
        buf_format(to, " of day %d", days + 1);
    }
}

/* "lowest at 06:15; at best 07:00 of day 2" */
static const char *when_lowest(Arena *arena, const Group *group, const Outcomes *out, int b, const char *cold)
{
    Buf text;
    buf_init(&text, arena);
    buf_text(&text, "lowest at ");
    write_clock(&text, out->lowest_at[WORSE][b]);
    if (out->lowest[b].low != out->lowest[b].high && out->lowest_at[WORSE][b] != out->lowest_at[BETTER][b]) {
        buf_text(&text, "; in the better case at ");
        write_clock(&text, out->lowest_at[BETTER][b]);
    }
    if (cold != NULL) {
        buf_format(&text, "; %s", cold);
    }
    if (group->cut) {
        buf_text(&text, "; more than 16 banks charge one another: what passes between them is left out");
    }
    return text.text;
}

static const char run_formula[] = "run in steps of 15 minutes: loads at their hours by Peukert, what sources offer, what the "
                                  "bank takes as it fills";
static const char until_formula[] = "run in steps of 15 minutes, day after day from full, until below {least-charge}";

static Interval energy_of(const Group *group, int b, Band charge_c)
{
    Interval volts = group->banks[b]->volts;
    return band_interval((Band){day_energy_j(fmin(charge_c.low * volts.low, charge_c.low * volts.high)),
                                day_energy_j(fmax(charge_c.high * volts.low, charge_c.high * volts.high))});
}

static void record_bank_day(Work *work, const Group *group, const GroupDay *day, int b, const Outcomes *out)
{
    const Entity *bank = group->banks[b]->entity;
    work_begin(work);
    use_banks(work, group, b, day->day);
    const char *cold = cold_limits(work, group, day, b) ? use_cold(work, group->banks[b], day->day) : NULL;
    use_state(work, day->state);
    Figure *lowest = work_record(work, FIGURE_LOWEST_CHARGE, bank, day->day, band_interval(out->lowest[b]), run_formula);
    if (lowest->state == STATE_KNOWN) {
        lowest->remark = when_lowest(work->figures->arena, group, out, b, cold);
    }
    if (day->state != STATE_KNOWN || is_busy(group, day, b)) {
        work_record(work, FIGURE_BALANCE, bank, day->day, energy_of(group, b, out->balance[b]), run_formula);
    }
    work_begin(work);
    use_figure(work, group->banks[b]->least);
    use_banks(work, group, b, day->day);
    use_cold(work, group->banks[b], day->day);
    use_state(work, day->state);
    work_record(work, FIGURE_ENDURANCE, bank, day->day, band_interval(out->endurance[b]), until_formula);
}

static void record_spared(Work *work, const Group *group, const GroupDay *day, int l, const Outcomes *out)
{
    int giver = group->links[WORSE][l].giver;
    if (!draws_first(group, l) || (day->state == STATE_KNOWN && !is_busy(group, day, giver))) {
        return;
    }
    work_begin(work);
    use_banks(work, group, giver, day->day);
    use_state(work, day->state);
    work_record(work, FIGURE_SPARED_BALANCE, group->converters[l], day->day, energy_of(group, giver, out->spared[l]), run_formula);
}

/* The first of several entries of one source. */
static bool is_first_of_source(const Group *group, int s)
{
    for (int i = 0; i < s; i++) {
        if (group->sources[i].feed->giver == group->sources[s].feed->giver) {
            return false;
        }
    }
    return true;
}

/* What a source that feeds several banks was refused by all of them. */
static Interval refused_of(const Group *group, int s, const Outcomes *out)
{
    Interval joule = point(0.0);
    for (int i = s; i < group->source_count; i++) {
        if (group->sources[i].feed->giver == group->sources[s].feed->giver) {
            Interval part = energy_of(group, group->sources[i].bank, out->refused[i]);
            joule = interval_add(joule, part);
        }
    }
    return joule;
}

/* What is left of an offer: never less than nothing, though both are ranges. */
static Interval left_of(Interval offered, Interval refused)
{
    return interval_max(interval_subtract(offered, refused), point(0.0));
}

/* What adding up in a hundred steps leaves of nothing is nothing. */
static Interval without_dust(Interval part, double of)
{
    double dust = 1e-9 * of;
    bool exact = interval_is_point(part);
    part.low = part.low < dust ? 0.0 : part.low;
    return exact ? point(part.low) : part;
}

static void record_source_day(Work *work, const Group *group, const GroupDay *day, int s, const Outcomes *out)
{
    const Entity *maker = group->sources[s].feed->giver;
    const Figure *offered = day->makers[s].offered;
    if (!is_first_of_source(group, s) || offered == NULL) {
        return;
    }
    work_begin(work);
    use_figure(work, offered);
    for (int i = s; i < group->source_count; i++) {
        if (group->sources[i].feed->giver == maker && (i == s || group->link_count == 0)) {
            use_banks(work, group, group->sources[i].bank, day->day);
        }
    }
    use_state(work, day->state);
    Interval part = refused_of(group, s, out);
    if (offered->state == STATE_KNOWN) {
        part = without_dust(interval_min(part, point(offered->high)), offered->high);
    }
    const Figure *refused = work_record(work, FIGURE_REFUSED, maker, day->day, part,
                                        "run in steps of 15 minutes: {offered}, less what loads and bank take");
    work_begin(work);
    Interval all = use_figure(work, offered).value;
    Interval no = use_figure(work, refused).value;
    work_record(work, FIGURE_ENERGY, maker, day->day, left_of(all, no), "{offered} - {refused}");
    if (maker->kind == KIND_SOLAR && (offered->state != STATE_KNOWN || all.high > 0.0)) {
        Interval share = all.low > 0.0 ? interval_divide(no, all) : (Interval){0.0, 1.0};
        work_begin(work);
        use_figure(work, refused);
        use_figure(work, offered);
        work_record(work, FIGURE_REFUSED_SHARE, maker, day->day, interval_min(share, point(1.0)), "{refused} / {offered}");
    }
}

static void group_days(Power *power, Group *group)
{
    Arena *arena = power->work->scratch;
    for (GroupDay *day = group->days; day->day != NULL; day++) {
        Outcomes *out = new_outcomes(arena, group);
        for (int c = 0; c < CORNERS && day->state == STATE_KNOWN; c++) {
            run_one_day(arena, group, day, c, out);
        }
        for (int b = 0; b < group->bank_count; b++) {
            record_bank_day(power->work, group, day, b, out);
        }
        for (int l = 0; l < group->link_count; l++) {
            record_spared(power->work, group, day, l, out);
        }
        for (int s = 0; s < group->source_count; s++) {
            record_source_day(power->work, group, day, s, out);
        }
    }
}

/* Cruises */

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

static void group_cruise(Power *power, Group *group, const Entity *cruise)
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

/* What a bank alone carries */

bool passes_surplus(const Entity *thing)
{
    bool feeds = false;
    for (const Feed *feed = thing->gives; feed != NULL; feed = feed->next_of_giver) {
        feeds = feeds || feed->maker;
    }
    return thing->kind == KIND_CONVERTER && feeds && !(thing->flags & ENTITY_DROPPED);
}

/* What runs long on a bank, less what only passes a surplus on: each end less its own. */
static Interval lasting_of(const Power *power, const Entity *bank)
{
    Interval amps = power_node(power, bank)->flow.held;
    for (const Entity *e = power->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        if (passes_surplus(e) && power_node(power, e)->source == bank) {
            Interval spared = power_node(power, e)->flow.held;
            amps.low = fmax(0.0, amps.low - spared.low);
            amps.high = isinf(amps.high) ? INFINITY : fmax(0.0, amps.high - spared.high);
        }
    }
    return amps;
}

static void record_runtime(Power *power, const GroupBank *bank)
{
    Work *work = power->work;
    Interval amps = lasting_of(power, bank->entity);
    if (amps.high <= 0.0 || bank->state != STATE_KNOWN) {
        return;
    }
    work_begin(work);
    use_figure(work, bank->capacity);
    use_figure(work, bank->least);
    use_fact(work, "current of all that runs long", amps, UNIT_ALONE(UNIT_A), "currents of what hangs on it");
    use_peukert(work, bank->entity);
    const Figure *discharge = figure_find(work->figures, bank->entity, FIGURE_DISCHARGE_CURRENT, NULL);
    if (discharge != NULL && discharge->state == STATE_WAITING) {
        use_waiting(work);
    }
    Band band = no_band;
    for (int c = 0; c < CORNERS; c++) {
        const DayBank *of = &bank->alone[c];
        double current = c == WORSE ? amps.high : amps.low;
        double charge = of->model.capacity_coulomb * (1.0 - of->least_share);
        double counted = peukert_effective_a(of->model.capacity_coulomb, of->model.rated_hours, current, of->model.exponent);
        widen(&band, counted > 0.0 && charge < 0.01 * DAY_ENDLESS_COULOMB ? charge / counted : INFINITY);
    }
    work_record(work, FIGURE_RUNTIME, bank->entity, NULL, band_interval(band),
                "{capacity} x (1 - {least-charge}) / {current of all that runs long}, counted by Peukert");
}

void power_days(Power *power)
{
    PowerDays *days = power_groups(power);
    power->work->figures->power_days = days;
    for (Group *group = days->first; group != NULL; group = group->next) {
        group_days(power, group);
        for (const Entity *cruise = power->model->first_of_kind[KIND_CRUISE]; cruise != NULL;
             cruise = cruise->next_of_kind) {
            group_cruise(power, group, cruise);
        }
        for (int b = 0; b < group->bank_count; b++) {
            record_runtime(power, group->banks[b]);
        }
    }
}
