/*
 * Groups of banks that charge one another: which banks belong together, the converters that link them, and
 * their sources.
 *
 * A converter charges its bank while the sources of the bank that feeds it bring more than that one's loads
 * take; unless it is `surplus-only` it carries that bank's loads out of the charge of the one that feeds it,
 * too. The array's current is used first and the alternator's refused first: sun costs nothing. A bank's own
 * numbers are those of power_group_bank.c, the tables of each day those of power_group_days.c.
 */
#include "figures/power_days.h"

#include "model/status.h"

#include <math.h>

/* Which banks belong together */

static const Entity *charging_bank(const Power *power, const Feed *feed)
{
    if (feed->giver->kind != KIND_CONVERTER) {
        return NULL;
    }
    const Entity *source = power_node(power, feed->giver)->source;
    return source != NULL && source->kind == KIND_BANK && !(source->flags & ENTITY_DROPPED) ? source : NULL;
}

/* Each bank's group, by Entity.index, as a forest of the first bank of each. */
static const Entity *root_of(const Entity **parent, const Entity *bank)
{
    while (parent[bank->index] != bank) {
        parent[bank->index] = parent[parent[bank->index]->index];
        bank = parent[bank->index];
    }
    return bank;
}

static void join_two(const Entity **parent, const Entity *one, const Entity *other)
{
    const Entity *a = root_of(parent, one), *b = root_of(parent, other);
    parent[a->index > b->index ? a->index : b->index] = a->index > b->index ? b : a;
}

/* Banks belong together where one charges another, and where one source charges both: its energy is told once. */
static void join_banks(const Power *power, const Entity **parent)
{
    const Entity **charged = ARENA_ARRAY(power->work->scratch, const Entity *, power->model->entity_count + 1);
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        parent[bank->index] = bank;
    }
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        for (const Feed **feed = power_node(power, bank)->makers; feed != NULL && *feed != NULL; feed++) {
            const Entity *giver = charging_bank(power, *feed);
            const Entity **first = &charged[(*feed)->giver->index];
            if (bank->flags & ENTITY_DROPPED) {
                continue;
            }
            if (giver != NULL) {
                join_two(parent, giver, bank);
            } else if (*first != NULL) {
                join_two(parent, *first, bank);
            }
            *first = *first != NULL ? *first : bank;
        }
    }
}

/* Makes all banks, those of one group linked in the order of the spec; made is by Entity.index. */
static void make_banks(Power *power, const Entity **parent, GroupBank **made)
{
    GroupBank **last = ARENA_ARRAY(power->work->scratch, GroupBank *, power->model->entity_count + 1);
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (bank->flags & ENTITY_DROPPED) {
            continue;
        }
        uint32_t root = root_of(parent, bank)->index;
        made[bank->index] = make_group_bank(power, bank);
        if (last[root] != NULL) {
            last[root]->next = made[bank->index];
        }
        last[root] = made[bank->index];
    }
}

/* Groups */

static int place_in(const Group *group, const Entity *bank)
{
    for (int b = 0; b < group->bank_count; b++) {
        if (group->banks[b]->entity == bank) {
            return b;
        }
    }
    return -1;
}

static bool is_ready(const Power *power, const Group *group, const GroupBank *bank)
{
    for (const Feed **feed = power_node(power, bank->entity)->makers; *feed != NULL; feed++) {
        const Entity *giver = charging_bank(power, *feed);
        if (giver != NULL && giver != bank->entity && place_in(group, giver) < 0) {
            return false;
        }
    }
    return true;
}

/* Givers before takers; where banks charge one another in a ring, as the spec has them. */
static void order_banks(const Power *power, Group *group, GroupBank *members)
{
    while (members != NULL) {
        GroupBank **at = &members;
        while (*at != NULL && !is_ready(power, group, *at)) {
            at = &(*at)->next;
        }
        at = *at != NULL ? at : &members;
        GroupBank *placed = *at;
        *at = placed->next;
        placed->next = NULL;
        group->banks[group->bank_count++] = placed;
    }
}

static void fill_link(Power *power, Group *group, int number, const Feed *feed, int giver, int taker)
{
    Work *work = power->work;
    work_begin(work);
    Interval amps = use_value(work, feed->giver, PROP_CONVERTER_OUTPUT, 0).value;
    bool relay = is_relay(feed->giver); /* it turns nothing: the current that goes in comes out */
    Interval keeps = relay ? point(1.0) : use_value(work, feed->giver, PROP_CONVERTER_EFFICIENCY, 0).value;
    Interval out_v = bank_charge_volts(power, feed->taker->kind == KIND_BANK ? feed->taker : group->banks[taker]->entity);
    double most[CORNERS], ratio[CORNERS], carry[CORNERS];
    bool drains = !relay && entity_yes(feed->giver, PROP_CONVERTER_SURPLUS_ONLY) != 1;
    for (int c = 0; c < CORNERS; c++) {
        double in_v = fmax(1.0, end_of(group->banks[giver]->volts, c == WORSE));
        double share = work->state == STATE_KNOWN ? fmax(0.01, end_of(keeps, c == WORSE)) : 1.0;
        most[c] = work->state == STATE_KNOWN ? fmin(1e9, end_of(amps, c == WORSE)) : 0.0;
        ratio[c] = relay ? 1.0 : end_of(out_v, c == BETTER) / (in_v * share);
        /* Loads in watts ask for the fewer amperes the more volts it has; what fills it, and all that the converter can give, does not. */
        carry[c] = relay ? 1.0 : fmax(1.0, end_of(group->banks[taker]->volts, c == BETTER)) / (in_v * share);
    }
    group->raised[number] = point(1.0);
    if (drains && work->state == STATE_KNOWN) {
        Interval given_v = use_value(work, feed->giver, PROP_CONVERTER_OUTPUT, 1).value;
        group->raised[number] = interval_max(point(1.0), interval_divide(given_v, interval_max(group->banks[taker]->volts, point(1.0))));
    }
    /* The taker gets the least of what is possible, and the giver is drained of the most. */
    group->links[WORSE][number] =
        (DayLink){giver, taker, most[WORSE], ratio[WORSE], most[BETTER], ratio[WORSE], drains, carry[WORSE]};
    group->links[BETTER][number] = (DayLink){giver,       taker,         most[BETTER], ratio[BETTER],
                                             most[WORSE], ratio[BETTER], drains,       carry[BETTER]};
    group->converters[number] = feed->giver;
}

static void find_links(Power *power, Group *group)
{
    Arena *arena = power->work->figures->arena;
    int most = 0;
    for (int b = 0; b < group->bank_count; b++) {
        most += (int)power_node(power, group->banks[b]->entity)->maker_count;
    }
    for (int c = 0; c < CORNERS; c++) {
        group->links[c] = ARENA_ARRAY(arena, DayLink, (size_t)most + 1);
    }
    group->converters = ARENA_ARRAY(arena, const Entity *, (size_t)most + 1);
    group->raised = ARENA_ARRAY(arena, Interval, (size_t)most + 1);
    for (int b = 0; b < group->bank_count; b++) {
        for (const Feed **feed = power_node(power, group->banks[b]->entity)->makers; *feed != NULL; feed++) {
            const Entity *bank = charging_bank(power, *feed);
            int giver = bank != NULL ? place_in(group, bank) : -1;
            if (giver >= 0 && giver < b) {
                fill_link(power, group, group->link_count++, *feed, giver, b);
            }
        }
    }
}

/* Which is used first: the smaller. */
static int rank_of(const Entity *maker)
{
    switch (maker->kind) {
    case KIND_SOLAR: return 0;
    case KIND_CHARGER: return maker->mains & MAINS_GENERATOR && !(maker->mains & MAINS_SHORE) ? 2 : 1;
    case KIND_ALTERNATOR: return is_engineless(maker) ? 0 : 3;
    default: return -1;
    }
}

/* Once, though it may feed several banks. */
static void record_output(Power *power, const Feed *feed, const Entity *bank)
{
    if (figure_find(power->work->figures, feed->giver, FIGURE_OUTPUT, NULL) == NULL) {
        maker_output(power, feed, bank);
    }
}

static void find_sources(Power *power, Group *group)
{
    size_t most = 1;
    for (int b = 0; b < group->bank_count; b++) {
        most += power_node(power, group->banks[b]->entity)->maker_count;
    }
    group->sources = ARENA_ARRAY(power->work->figures->arena, GroupSource, most);
    for (int rank = 0; rank <= 3; rank++) {
        for (int b = 0; b < group->bank_count; b++) {
            for (const Feed **feed = power_node(power, group->banks[b]->entity)->makers; *feed != NULL; feed++) {
                if (rank_of((*feed)->giver) == rank) {
                    group->sources[group->source_count++] = (GroupSource){*feed, b};
                    record_output(power, *feed, group->banks[b]->entity);
                }
            }
        }
    }
}

static Group *make_group(Power *power, GroupBank *members)
{
    Group *group = ARENA_NEW(power->work->figures->arena, Group);
    order_banks(power, group, members);
    find_links(power, group);
    find_sources(power, group);
    return group;
}

static int count_members(const GroupBank *members)
{
    int count = 0;
    for (; members != NULL; members = members->next) {
        count++;
    }
    return count;
}

/* A group of the members, or where they are too many one of each. */
static void add_groups(Power *power, GroupBank *members, Group ***end)
{
    bool cut = count_members(members) > DAY_BANKS;
    while (members != NULL) {
        GroupBank *rest = cut ? members->next : NULL;
        if (cut) {
            members->next = NULL;
        }
        Group *group = make_group(power, members);
        group->cut = cut;
        **end = group;
        *end = &group->next;
        members = rest;
    }
}

PowerDays *power_groups(Power *power)
{
    Arena *arena = power->work->figures->arena;
    PowerDays *days = ARENA_NEW(arena, PowerDays);
    const Entity **parent = ARENA_ARRAY(power->work->scratch, const Entity *, power->model->entity_count + 1);
    GroupBank **made = ARENA_ARRAY(power->work->scratch, GroupBank *, power->model->entity_count + 1);
    join_banks(power, parent);
    make_banks(power, parent, made);
    Group **end = &days->first;
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (made[bank->index] != NULL && root_of(parent, bank) == bank) {
            add_groups(power, made[bank->index], &end);
        }
    }
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        days->day_count++;
        record_motor_use(power, day);
    }
    for (Group *group = days->first; group != NULL; group = group->next) {
        fill_group_days(power, group, days->day_count);
    }
    return days;
}
