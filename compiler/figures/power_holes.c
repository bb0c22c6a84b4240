/*
 * Holes that days can fill: `capacity ?` of a bank and `rated ?` of an array get the smallest standard size that meets what
 * rests on the days of the banks.
 *
 * Asked of a size: goals of endurance (the bank's part), of engine hours and of an electric engine's range are met, no day and no cruise takes a house bank
 * below its usable limit, and days that are `sustainable yes` break even; all in the worse corner of what else is open. A
 * larger size never does worse, so the smallest is found by halving. Where several are open they start at their largest and
 * are made smaller one after the other, arrays first, in the order of the spec.
 */
#include "figures/power_days.h"

#include "figures/drive.h"

#include <math.h>

static const double battery_sizes[] = {
#define BATTERY_SIZE(AH) AH,
#include "tables/sizes.def"
#undef BATTERY_SIZE
};
static const double panel_sizes[] = {
#define PANEL_SIZE(W) W,
#include "tables/sizes.def"
#undef PANEL_SIZE
};
#define COUNT(LIST) ((int)(sizeof(LIST) / sizeof((LIST)[0])))

typedef struct Hole {
    const Entity *entity;
    const double *sizes; /* in the unit of their table */
    int count;
    double unit; /* SI of one */
    int tried;   /* index in sizes; the one that is kept */
    Buf story;   /* what was tried */
} Hole;

/* Asking */

typedef struct Asked {
    Power *power; /* of the trial: its figures are thrown away */
    const Group *group;
    uint32_t conditions;
    const char *missed; /* the first that is not met; NULL: none */
} Asked;

static const char *name_text(const Asked *asked, const char *format, const Entity *entity)
{
    return text_format(asked->power->work->figures->arena, format,
                       STR_ARG(entity_name(asked->power->model, entity)));
}

static void ask(Asked *asked, bool met, const char *format, const Entity *of)
{
    asked->conditions++;
    if (!met && asked->missed == NULL) {
        asked->missed = name_text(asked, format, of);
    }
}

static bool at_least(double value, double limit)
{
    return value >= limit - 1e-9 * fabs(limit);
}

/* Whether anything is drawn from a bank in some day, or may be by a converter: else no size of it is asked for. */
static bool is_drawn_from(const Group *group, int b)
{
    for (const GroupDay *day = group->days; day->day != NULL; day++) {
        for (int i = 0; i < DAY_STEPS && day->state == STATE_KNOWN; i++) {
            if (day->plan[WORSE].tables[b]->load_a[i] > 0.0) {
                return true;
            }
        }
    }
    for (int i = 0; i < group->link_count; i++) {
        if (group->links[WORSE][i].giver == b) {
            return true;
        }
    }
    return false;
}

static bool is_asked_of(const Group *group, int b)
{
    return group_serves_the_house(group, b) && is_drawn_from(group, b);
}

/* The day of a line such as `endure 3 d on anchored`, and the amount; NULL where the goal says no such thing. */
static const GroupDay *asked_day(const Asked *asked, const Entity *goal, PropId prop, const Value **wanted)
{
    const Property *line = entity_property(goal, prop);
    const Value *day = property_value(line, 1);
    *wanted = property_value(line, 0);
    bool stated = line != NULL && value_entity(day) != NULL && (*wanted)->kind == VALUE_QUANTITY;
    return stated ? group_day(asked->group, value_entity(day)) : NULL;
}

static void ask_endurance(Asked *asked, const Entity *goal)
{
    const Value *wanted;
    const GroupDay *of = asked_day(asked, goal, PROP_GOAL_ENDURE, &wanted);
    if (of == NULL) {
        return;
    }
    for (int c = 0; c < CORNERS; c++) {
        double seconds[DAY_BANKS];
        day_endure(&of->plan[c], seconds);
        for (int b = 0; b < asked->group->bank_count; b++) {
            if (is_asked_of(asked->group, b)) {
                ask(asked, at_least(seconds[b], wanted->u.quantity.high), "`%.*s` is missed", goal);
            }
        }
    }
}

static void ask_engine_hours(Asked *asked, const Entity *goal)
{
    const Value *wanted;
    const GroupDay *of = asked_day(asked, goal, PROP_GOAL_ENGINE_HOURS, &wanted);
    if (of == NULL) {
        return;
    }
    double seconds = group_engine_seconds(asked->power, asked->group, of, WORSE);
    ask(asked, at_least(wanted->u.quantity.low, seconds), "`%.*s` is missed", goal);
}

/* The bank of an electric engine is its tank: the range of each goal, as drive_range.c reckons it. */
static void ask_range(Asked *asked, const Entity *goal)
{
    const Value *wanted = property_value(entity_property(goal, PROP_GOAL_RANGE), 0);
    for (int b = 0; b < asked->group->bank_count && wanted->kind == VALUE_QUANTITY; b++) {
        const GroupBank *bank = asked->group->banks[b];
        Interval metres;
        if (bank->state == STATE_KNOWN &&
            electric_way(asked->power->work, bank->entity, goal, (Interval){bank->capacity->low, bank->capacity->high},
                         (Interval){bank->least->low, bank->least->high}, &metres)) {
            ask(asked, at_least(metres.low, wanted->u.quantity.high), "the range of `%.*s` is missed", goal);
        }
    }
}

static void ask_day(Asked *asked, const GroupDay *day)
{
    const Group *group = asked->group;
    bool sustainable = entity_yes(day->day, PROP_DAY_SUSTAINABLE) == 1;
    for (int c = 0; c < CORNERS; c++) {
        DayCharge charge[DAY_BANKS];
        DayBankTally tally[DAY_BANKS];
        for (int b = 0; b < group->bank_count; b++) {
            charge[b] = day_full;
        }
        day_run(&day->plan[c], charge, tally, NULL);
        for (int b = 0; b < group->bank_count; b++) {
            if (is_asked_of(group, b)) {
                double least = day->plan[c].banks[b].least_share;
                ask(asked, at_least(tally[b].lowest_share, least), "`%.*s` takes it below its usable limit",
                    day->day);
            }
            if (is_asked_of(group, b) && sustainable) {
                ask(asked, day_balance_c(&day->plan[c], b) >= -1e-6, "`%.*s` does not break even", day->day);
            }
        }
    }
}

static void ask_cruise(Asked *asked, const Entity *cruise)
{
    for (int c = 0; c < CORNERS; c++) {
        double lowest[DAY_BANKS];
        if (!group_cruise_lowest(asked->power->work, asked->group, cruise, c, lowest)) {
            return;
        }
        for (int b = 0; b < asked->group->bank_count; b++) {
            if (is_asked_of(asked->group, b)) {
                double least = asked->group->banks[b]->alone[c].least_share;
                ask(asked, at_least(lowest[b], least), "`%.*s` takes it below its usable limit", cruise);
            }
        }
    }
}

static bool is_known(const Group *group)
{
    for (const GroupDay *day = group->days; day->day != NULL; day++) {
        if (day->state != STATE_KNOWN) {
            return false;
        }
    }
    return true;
}

static void ask_group(Asked *asked)
{
    const Model *model = asked->power->model;
    for (const Entity *goal = model->first_of_kind[KIND_GOAL]; goal != NULL; goal = goal->next_of_kind) {
        ask_endurance(asked, goal);
        ask_engine_hours(asked, goal);
        ask_range(asked, goal);
    }
    for (const GroupDay *day = asked->group->days; day->day != NULL; day++) {
        ask_day(asked, day);
    }
    for (const Entity *cruise = model->first_of_kind[KIND_CRUISE]; cruise != NULL;
         cruise = cruise->next_of_kind) {
        ask_cruise(asked, cruise);
    }
}

static bool has_entity(const Group *group, const Entity *entity)
{
    for (int b = 0; b < group->bank_count; b++) {
        if (group->banks[b]->entity == entity) {
            return true;
        }
    }
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].feed->giver == entity) {
            return true;
        }
    }
    return false;
}

/* Trying */

/* Computes the days anew with the sizes that stand in the nodes, in figures that are thrown away. */
static Asked try_sizes(const Power *power, const Hole *hole)
{
    Arena *arena = power->work->scratch;
    Figures *figures = figures_new(arena, power->model, power->basis, power->work->figures->today);
    figures->earlier = power->work->figures; /* how long a heater without a `use` runs, and the like */
    Work *work = ARENA_NEW(arena, Work);
    Power *trial = ARENA_NEW(arena, Power);
    work_init(work, figures);
    *trial = *power;
    trial->work = work;
    power_capacities(trial);
    const PowerDays *days = power_groups(trial);
    Asked asked = {.power = trial};
    for (const Group *group = days->first; group != NULL; group = group->next) {
        if (has_entity(group, hole->entity)) {
            asked.group = group;
            if (is_known(group)) {
                ask_group(&asked);
            }
        }
    }
    return asked;
}

static void set_size(Power *power, const Hole *hole, int index)
{
    power_node(power, hole->entity)->sized = hole->sizes[index] * hole->unit;
}

static const char *unit_word(const Hole *hole)
{
    return hole->entity->kind == KIND_BANK ? "Ah" : "W";
}

static bool meets(Power *power, Hole *hole, int index)
{
    set_size(power, hole, index);
    power->work->figures->trace->sizes_tried++;
    Asked asked = try_sizes(power, hole);
    buf_format(&hole->story, "%s%d %s: %s", hole->story.length > 0 ? "; " : "tried ", (int)hole->sizes[index],
               unit_word(hole), asked.missed != NULL ? asked.missed : "all met");
    return asked.missed == NULL;
}

/* The smallest size that meets what is asked, by halving; the largest is known to. */
static void shrink(Power *power, Hole *hole)
{
    int low = -1, high = hole->count - 1;
    while (high - low > 1) {
        int middle = (low + high) / 2;
        if (meets(power, hole, middle)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    hole->tried = high;
    set_size(power, hole, high);
}

static void record_size(Power *power, Hole *hole, bool found)
{
    Work *work = power->work;
    PropId prop = hole->entity->kind == KIND_BANK ? PROP_BANK_CAPACITY : PROP_SOLAR_RATED;
    work_begin(work);
    if (!found) {
        use_missing(work, hole->entity, prop);
    }
    Figure *figure = work_record(work, FIGURE_FITTING_SIZE, hole->entity, NULL,
                                 point(power_node(power, hole->entity)->sized),
                                 found ? "the smallest of the sizes tried that meets goals, days and cruises"
                                       : "none of the sizes tried meets goals, days and cruises");
    figure->unit = UNIT_ALONE(hole->entity->kind == KIND_BANK ? UNIT_AH : UNIT_W);
    work_choose(work, figure, found);
    figure->remark = hole->story.text;
}

static int list_holes(Power *power, Hole holes[], int most)
{
    static const struct {
        KindId kind;
        PropId prop;
    } of[] = {{KIND_SOLAR, PROP_SOLAR_RATED}, {KIND_BANK, PROP_BANK_CAPACITY}};
    int count = 0;
    for (int k = 0; k < 2; k++) {
        for (const Entity *e = power->model->first_of_kind[of[k].kind]; e != NULL; e = e->next_of_kind) {
            if (value_is_hole(property_value(entity_property(e, of[k].prop), 0)) && is_aboard(e) && count < most) {
                bool bank = of[k].kind == KIND_BANK;
                holes[count] = (Hole){.entity = e,
                                      .sizes = bank ? battery_sizes : panel_sizes,
                                      .count = bank ? COUNT(battery_sizes) : COUNT(panel_sizes),
                                      .unit = bank ? COULOMB_PER_AH : 1.0};
                buf_init(&holes[count++].story, power->work->figures->arena);
            }
        }
    }
    return count;
}

void power_fill_holes(Power *power)
{
    enum { MOST_HOLES = 8 };
    Hole holes[MOST_HOLES];
    int count = list_holes(power, holes, MOST_HOLES);
    for (int i = 0; i < count; i++) {
        set_size(power, &holes[i], holes[i].count - 1);
    }
    for (int i = 0; i < count; i++) {
        Asked asked = try_sizes(power, &holes[i]);
        if (asked.conditions == 0) {
            power_node(power, holes[i].entity)->sized = 0.0; /* nothing asks for anything: it stays open */
            continue;
        }
        bool found = meets(power, &holes[i], holes[i].count - 1);
        if (found) {
            shrink(power, &holes[i]);
        } else {
            power_node(power, holes[i].entity)->sized = 0.0;
        }
        record_size(power, &holes[i], found);
    }
}
