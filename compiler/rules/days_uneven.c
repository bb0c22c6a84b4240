/*
 * The second half of the rule uncounted: what states a `use` for some days, and none for one on which it most likely runs too.
 *
 * Most gear rightly runs on some days only: that of a passage, of an evening, of a season. So it is asked of little: of days on
 * which people live aboard, away from the shore; of loads and pumps; where the load runs by itself on its other days (a share of
 * the time), or where nothing at all is counted on that day.
 */
#include "rules/days.h"
#include "rules/upstream.h"

#include "figures/power.h"

enum { DAYS_MOST = 64 }; /* of more days the first ones are looked at: a bit each */

typedef struct Lived {
    const Entity *day[DAYS_MOST];
    uint32_t count;
    uint64_t lived;   /* somebody is aboard, and no mains carry the loads */
    uint64_t moves;
    uint64_t counted; /* something that is asked states a use on it */
} Lived;

static Lived days_of(const Model *model)
{
    Lived of = {.count = 0};
    for (const Entity *day = model->first_of_kind[KIND_DAY]; day != NULL && of.count < DAYS_MOST; day = day->next_of_kind) {
        bool moves = entity_states(day, PROP_DAY_DISTANCE) || entity_states(day, PROP_DAY_ENGINE);
        bool lived = (moves || entity_states(day, PROP_DAY_WATER)) && !entity_states(day, PROP_DAY_SHORE);
        of.lived |= (uint64_t)(lived && !(day->flags & ENTITY_DROPPED)) << of.count;
        of.moves |= (uint64_t)moves << of.count;
        of.day[of.count++] = day;
    }
    return of;
}

static uint64_t bit_of(const Lived *of, const Entity *day)
{
    for (uint32_t i = 0; i < of->count; i++) {
        if (of->day[i] == day) {
            return (uint64_t)1 << i;
        }
    }
    return 0;
}

/* What switches itself on and off, as a refrigerator does, is stated by a share of the day: by what it is, not by how much. */
static bool runs_by_itself(const Property *use)
{
    const Value *time = property_value(use, 1);
    return time->kind == VALUE_QUANTITY && unit_dimension(time->unit).tag == TAG_RATIO;
}

/* One that states a use for some days. */
typedef struct Used {
    uint64_t days;
    bool by_itself;
} Used;

static Used used_on(const Lived *of, const Entity *load)
{
    Used used = {0, false};
    for (const Property *use = entity_property(load, PROP_LOAD_USE); use != NULL; use = block_next(&load->block, use)) {
        used.days |= bit_of(of, value_entity(property_value(use, 0)));
        used.by_itself = used.by_itself || runs_by_itself(use);
    }
    return used;
}

/* The loads and pumps that may be told of. */
typedef struct Users {
    const Entity **thing;
    Used *used;
    uint32_t count, room;
} Users;

static void gather_kind(const Judge *judge, Users *users, Lived *of, KindId kind)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *load = judge->model->first_of_kind[kind]; load != NULL; load = load->next_of_kind) {
        if (!is_aboard(load) || !states_use(load) || use_is_mistaken(load, NULL) ||
            !takes_from_a_bank(upstream, load)) {
            continue;
        }
        users->thing[users->count] = load;
        users->used[users->count] = used_on(of, load);
        of->counted |= users->used[users->count++].days;
    }
}

static Users users_of(const Judge *judge, Lived *of)
{
    static const KindId asked[] = {KIND_LOAD, KIND_PUMP};
    Users users = {0};
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        for (const Entity *e = judge->model->first_of_kind[asked[i]]; e != NULL; e = e->next_of_kind) {
            users.room++;
        }
    }
    users.thing = ARENA_ARRAY(judge->scratch, const Entity *, users.room);
    users.used = ARENA_ARRAY(judge->scratch, Used, users.room);
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        gather_kind(judge, &users, of, asked[i]);
    }
    return users;
}

/* The days that it leaves out, though it most likely runs. Gear of a passage is off where she lies still. */
static uint64_t forgotten_days(const Lived *of, const Used *used)
{
    uint64_t out = of->lived & ~used->days;
    bool of_passage = (used->days & ~of->moves) == 0;
    out &= of_passage ? of->moves : ~(uint64_t)0;
    return used->days == 0 ? 0 : used->by_itself ? out : out & ~of->counted;
}

static const Entity *day_of(const Lived *of, uint64_t days)
{
    uint32_t i = 0;
    while (!(days >> i & 1)) {
        i++;
    }
    return of->day[i];
}

static void tell_uneven(Judge *judge, const Lived *of, uint64_t days, const Entity *const *named, uint32_t given, uint32_t count)
{
    const Entity *day = day_of(of, days);
    Finding *f = judge_broken(judge, NULL, place_of_name(judge, named[0]));
    finding_say(judge, f, "`%s` counts nothing of %s, which %s a `use` for %s", say_name(judge, day), say_names(judge, named, given, count),
                count == 1 ? "states" : "state", (of->count == 2) ? "the other day" : "other days");
    finding_note(judge, f, place_of_name(judge, day), "what is left out here counts as off all day");
    finding_remedy(judge, f, "a `use` for that day too, `use %s 0 h` on what is off then", say_name(judge, day));
}

bool judge_uneven(Judge *judge)
{
    enum { NAMED = 3 };
    Lived of = days_of(judge->model);
    if (of.lived == 0 || of.count < 2) {
        return false;
    }
    Users users = users_of(judge, &of);
    uint64_t first = 0;
    const Entity *named[NAMED];
    uint32_t count = 0;
    for (uint32_t i = 0; i < users.count; i++) {
        uint64_t days = forgotten_days(&of, &users.used[i]);
        first = first == 0 ? days & (~days + 1) : first;
        if (days & first) {
            if (count < NAMED) {
                named[count] = users.thing[i];
            }
            count++;
        }
    }
    if (count > 0) {
        tell_uneven(judge, &of, first, named, count < NAMED ? count : NAMED, count);
    }
    return count > 0;
}

bool takes_from_a_bank(const Upstream *upstream, const Entity *load)
{
    const Entity *inverter = inverter_before(load);
    const Entity *source = inverter != NULL ? inverter : upstream->source[load->index];
    for (int step = 0; source != NULL && source->kind != KIND_BANK && step < 16; step++) {
        source = upstream->source[source->index];
    }
    return source != NULL && source->kind == KIND_BANK;
}
