/*
 * Banks that something joins: what feeds a short circuit by another way than from what feeds the place. A parallel or an
 * emergency switch, a bus or a panel with two feeds, a relay, and what charges several banks without keeping them apart are
 * as good as copper between them, and copper carries current both ways.
 *
 * Most boats have little of it. All that hangs on one end alone is taken off first; what is left, the core, is solved with all
 * contacts closed, which is the greatest current: that a switch can stand otherwise leaves nothing open. What does not say
 * whether it keeps its outputs apart may join them. A transfer switch takes one source at a time: it joins nothing, and is
 * a source to what hangs on it.
 */
#include "figures/cable.h"

#include "physics/fault.h"

#include <math.h>

/* Larger cores are taken to have no copper in them, which is the safe side: a choice of this program. */
enum { PLACES_MOST = 32 };

/* A way for current between two things, or, feed NULL, within a source; place 0 is what holds its voltage. */
typedef struct Way {
    const Feed *feed;
    uint32_t one, other; /* places: 1 + Entity.index, then the place in the core */
} Way;

struct Joined {
    Way *ways;
    FaultLink *links, *weak; /* the same, as they stand now: at the least that they have, and at the most */
    uint32_t way_count, place_count;
    const Entity **things;  /* by place in the core; of place 0 none */
    Reached *of_things;     /* by place */
    Reached **of_ways;      /* by way: from the end that the device of its cable stands at; NULL within a source */
    double *room;           /* for a matrix of all places; NULL: there are too many of them */
};

bool takes_one_at_a_time(const Entity *thing)
{
    return thing->kind == KIND_SWITCH && str_is(entity_word(thing, PROP_SWITCH_WORKS_AS), "transfer");
}

/* There, in no circle, and not behind a source of alternating current. */
static bool carries_direct_current(const Entity *thing)
{
    return thing != NULL && !(thing->flags & (ENTITY_DROPPED | ENTITY_LOOP | ENTITY_AC));
}

static bool outputs_apart(const Entity *maker)
{
    return kinds[maker->kind].groups & GROUPS_MAKER && entity_yes(maker, PROP_MAKER_OUTPUTS_APART) == 1;
}

/* Whether current may pass along a feed in either direction. */
static bool is_copper(const Feed *feed)
{
    const Entity *giver = feed->giver;
    if (!carries_direct_current(feed->taker) || giver == NULL || giver->flags & (ENTITY_DROPPED | ENTITY_LOOP)) {
        return false;
    }
    if (feed->maker) {
        return is_relay(giver) || !outputs_apart(giver);
    }
    return carries_direct_current(giver) && !turns_power(giver) && (!turns_power(feed->taker) || is_relay(feed->taker)) &&
           !takes_one_at_a_time(feed->taker);
}

static bool is_source(const Power *power, const Entity *thing)
{
    const Supply *supply = &power_node(power, thing)->supply;
    bool brings = supply->known || (thing->kind == KIND_BANK && supply->lacks != NULL); /* as much as nobody knows */
    return carries_direct_current(thing) && (thing->kind == KIND_BANK || takes_one_at_a_time(thing)) && brings;
}

/* Whether it does not say if it joins what it feeds. */
static bool may_join(const Entity *thing)
{
    return kinds[thing->kind].groups & GROUPS_MAKER && !is_relay(thing) && entity_yes(thing, PROP_MAKER_OUTPUTS_APART) != 0;
}

static uint32_t gather_ways(const Power *power, Way *ways)
{
    const Model *model = power->model;
    uint32_t count = 0;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        if (is_source(power, model->feed_order[i])) {
            ways[count++] = (Way){NULL, 0, 1 + model->feed_order[i]->index};
        }
    }
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (is_copper(feed)) {
            ways[count++] = (Way){feed, 1 + feed->giver->index, 1 + feed->taker->index};
        }
    }
    return count;
}

/* Where a place has a single way, its number is what all exclusive-ors of those it had come to. */
typedef struct End {
    uint32_t ways, sum;
} End;

static void take_off(End *end, uint32_t way)
{
    end->ways--;
    end->sum ^= way;
}

/* Takes off what hangs on one end alone, until there is no more of it; returns how many ways are left, in front. */
static uint32_t keep_core(const Power *power, Way *ways, uint32_t count)
{
    Arena *scratch = power->work->scratch;
    uint32_t places = power->model->entity_count + 1, loose = 0;
    End *ends = ARENA_ARRAY(scratch, End, places);
    uint32_t *stack = ARENA_ARRAY(scratch, uint32_t, places);
    bool *gone = ARENA_ARRAY(scratch, bool, count + 1);
    for (uint32_t w = 0; w < count; w++) {
        ends[ways[w].one] = (End){ends[ways[w].one].ways + 1, ends[ways[w].one].sum ^ w};
        ends[ways[w].other] = (End){ends[ways[w].other].ways + 1, ends[ways[w].other].sum ^ w};
    }
    for (uint32_t p = 1; p < places; p++) {
        if (ends[p].ways == 1) {
            stack[loose++] = p;
        }
    }
    while (loose > 0) {
        uint32_t place = stack[--loose];
        if (ends[place].ways != 1) {
            continue; /* the other end of its way came first */
        }
        uint32_t way = ends[place].sum, other = ways[way].one == place ? ways[way].other : ways[way].one;
        gone[way] = true;
        take_off(&ends[place], way);
        take_off(&ends[other], way);
        if (other != 0 && ends[other].ways == 1) {
            stack[loose++] = other;
        }
    }
    uint32_t left = 0;
    for (uint32_t w = 0; w < count; w++) {
        if (!gone[w]) {
            ways[left++] = ways[w];
        }
    }
    return left;
}

/* Numbers the places of the core. */
static void place_things(const Power *power, Joined *joined)
{
    Arena *scratch = power->work->scratch;
    uint32_t *place_of = ARENA_ARRAY(scratch, uint32_t, power->model->entity_count + 1);
    joined->things = ARENA_ARRAY(scratch, const Entity *, 2 * joined->way_count + 1);
    joined->place_count = 1;
    for (uint32_t w = 0; w < joined->way_count; w++) {
        uint32_t *ends[] = {&joined->ways[w].one, &joined->ways[w].other};
        for (int e = 0; e < 2; e++) {
            uint32_t at = *ends[e];
            if (at != 0 && place_of[at] == 0) {
                place_of[at] = joined->place_count;
                joined->things[joined->place_count++] = power->model->entities[at - 1];
            }
            *ends[e] = place_of[at];
        }
    }
}

/* What reaches a place, one way left out: sources, and what may or may not join some of them. */
static void find_reached(const Power *power, const Joined *joined, uint32_t from, uint32_t left_out, Reached *reached)
{
    Arena *scratch = power->work->scratch;
    bool *seen = ARENA_ARRAY(scratch, bool, joined->place_count);
    seen[from] = true;
    for (bool more = true; more;) {
        more = false;
        for (uint32_t w = 0; w < joined->way_count; w++) {
            const Way *way = &joined->ways[w];
            if (w != left_out && way->feed != NULL && seen[way->one] != seen[way->other]) {
                seen[way->one] = seen[way->other] = more = true;
            }
        }
    }
    /* Twice: what takes one source at a time may stand among these and among what is unsaid. */
    *reached = (Reached){.things = ARENA_ARRAY(scratch, const Entity *, 2 * (size_t)joined->place_count)};
    for (uint32_t w = 0; w < joined->way_count; w++) {
        const Entity *source = joined->ways[w].feed == NULL ? joined->things[joined->ways[w].other] : NULL;
        if (source != NULL && seen[joined->ways[w].other]) {
            reached->things[reached->sources++] = source;
            Interval made = source->kind == KIND_BANK ? power_node(power, source)->made_a : point(0.0);
            reached->made_a = interval_add(reached->made_a, made);
        }
    }
    /* What joins several of them brings what it makes to one or the other, not to each. */
    const Entity *counted = NULL;
    for (uint32_t w = 0; w < joined->way_count; w++) {
        const Feed *feed = joined->ways[w].feed;
        const Cable *cable = feed != NULL && feed->maker && w != left_out && seen[joined->ways[w].one] ? power_cable_of(power, feed) : NULL;
        if (cable != NULL && feed->giver == counted) {
            Interval twice = cable_greatest_made(cable);
            reached->made_a = (Interval){fmax(reached->made_a.low - twice.low, 0.0), fmax(reached->made_a.high - twice.high, 0.0)};
        }
        counted = cable != NULL ? feed->giver : counted;
    }
    reached->count = reached->sources;
    for (uint32_t p = 1; p < joined->place_count; p++) {
        const Entity *thing = joined->things[p];
        if (seen[p] && may_join(thing)) {
            reached->things[reached->count++] = thing;
        }
    }
    for (uint32_t p = 1; p < joined->place_count; p++) {
        const Entity *thing = joined->things[p];
        if (seen[p] && thing->fed != NULL && is_away_unsaid(thing->fed)) {
            reached->things[reached->count + reached->unsaid++] = thing;
        }
    }
}

void power_find_joined(Power *power)
{
    Arena *scratch = power->work->scratch;
    const Model *model = power->model;
    const Entity *bank = model->first_of_kind[KIND_BANK];
    if (bank == NULL) {
        return;
    }
    Joined *joined = ARENA_NEW(scratch, Joined);
    *joined = (Joined){.ways = ARENA_ARRAY(scratch, Way, model->feed_count + model->feed_order_count + 1)};
    joined->way_count = keep_core(power, joined->ways, gather_ways(power, joined->ways));
    if (joined->way_count == 0) {
        return;
    }
    place_things(power, joined);
    joined->links = ARENA_ARRAY(scratch, FaultLink, joined->way_count);
    joined->weak = ARENA_ARRAY(scratch, FaultLink, joined->way_count);
    joined->of_things = ARENA_ARRAY(scratch, Reached, joined->place_count);
    joined->of_ways = ARENA_ARRAY(scratch, Reached *, joined->way_count);
    size_t places = joined->place_count <= PLACES_MOST ? joined->place_count : 0;
    joined->room = places > 0 ? ARENA_ARRAY(scratch, double, places * places) : NULL;
    for (uint32_t p = 1; p < joined->place_count; p++) {
        find_reached(power, joined, p, joined->way_count, &joined->of_things[p]);
        power_node(power, joined->things[p])->reached = &joined->of_things[p];
    }
    for (uint32_t w = 0; w < joined->way_count; w++) {
        const Way *way = &joined->ways[w];
        Cable *cable = way->feed != NULL ? power_cable_of(power, way->feed) : NULL;
        if (cable != NULL) {
            cable->reached = joined->of_ways[w] = ARENA_NEW(scratch, Reached);
            find_reached(power, joined, way->feed->maker ? way->other : way->one, w, joined->of_ways[w]);
        }
    }
    power->joined = joined;
}

static void read_links(const Power *power, Joined *joined)
{
    for (uint32_t w = 0; w < joined->way_count; w++) {
        const Way *way = &joined->ways[w];
        const Cable *cable = way->feed != NULL ? power_cable_of(power, way->feed) : NULL;
        Interval ohm = way->feed == NULL           ? power_node(power, joined->things[way->other])->supply.cold_ohm
                       : cable != NULL             ? cable_cold_ohm(cable)
                       : is_away_unsaid(way->feed) ? (Interval){0.0, INFINITY}
                                                   : point(0.0);
        bool sure = way->feed == NULL || !way->feed->maker || !may_join(way->feed->giver);
        joined->links[w] = (FaultLink){way->one, way->other, ohm.low};
        joined->weak[w] = (FaultLink){way->one, way->other, sure ? ohm.high : INFINITY};
    }
}

static bool core_waits(const Power *power, const Joined *joined)
{
    bool waits = false;
    for (uint32_t w = 0; w < joined->way_count; w++) {
        const Cable *cable = joined->ways[w].feed != NULL ? power_cable_of(power, joined->ways[w].feed) : NULL;
        waits = waits || (cable != NULL && (cable->size_broken || cable->run.state == STATE_WAITING));
    }
    return waits;
}

static void solve_one(const Power *power, const Joined *joined, uint32_t at, uint32_t left_out, bool waits, Reached *reached)
{
    Interval volts = {INFINITY, 0.0};
    double siemens = 0.0;
    reached->waits = waits;
    for (uint32_t s = 0; s < reached->sources; s++) {
        const Supply *supply = &power_node(power, reached->things[s])->supply;
        volts = (Interval){fmin(volts.low, supply->volts.low), fmax(volts.high, supply->volts.high)};
        reached->waits = reached->waits || supply->waits;
        siemens += 1.0 / supply->cold_ohm.low;
    }
    reached->volts = volts;
    reached->ohm = (Interval){1.0 / siemens, INFINITY};
    if (joined->room != NULL) {
        uint32_t ways = joined->way_count, places = joined->place_count;
        reached->ohm = interval_corners(fault_joined_ohm(joined->links, ways, places, at, left_out, joined->room),
                                        fault_joined_ohm(joined->weak, ways, places, at, left_out, joined->room));
    }
}

void power_join(Power *power)
{
    Joined *joined = power->joined;
    if (joined == NULL) {
        return;
    }
    read_links(power, joined);
    bool waits = core_waits(power, joined);
    for (uint32_t w = 0; w < joined->way_count; w++) {
        const Way *way = &joined->ways[w];
        if (joined->of_ways[w] != NULL) {
            solve_one(power, joined, way->feed->maker ? way->other : way->one, w, waits, joined->of_ways[w]);
        }
    }
    for (uint32_t p = 1; p < joined->place_count; p++) {
        solve_one(power, joined, p, joined->way_count, waits, &joined->of_things[p]);
    }
}

Supply supply_reached(Supply alone, const Reached *reached)
{
    if (reached == NULL || !alone.known || reached->sources == 0) {
        return alone;
    }
    alone.waits = alone.waits || reached->waits;
    alone.banks = reached->sources;
    alone.volts = reached->volts;
    alone.cold_ohm = reached->ohm;
    return alone;
}
