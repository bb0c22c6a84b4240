/*
 * Heaters, or coolers, that cross spaces: one serves saloon and forepeak, another saloon and aft cabin. Shares of each space by
 * itself would ask the second for heat of the saloon that the first has left over; what falls to each is allotted instead.
 */
#include "figures/drive_cabins.h"

#include <math.h>

/* Where a thing stands in a list, and there if it is new; -1: no room. */
static int place_in(const Entity **list, int *count, int room, const Entity *thing)
{
    int i = 0;
    while (i < *count && list[i] != thing) {
        i++;
    }
    if (i == *count) {
        if (i == room) {
            return -1;
        }
        list[(*count)++] = thing;
    }
    return i;
}

/* Adds a maker with all that it serves; false: there is no room. */
static bool add_maker(const Climate *climate, Crossing *c, const Entity *maker)
{
    const Property *list = entity_property(maker, climate->serves);
    int m = place_in(c->makers, &c->allotment.makers, ALLOT_MAKERS, maker);
    for (uint16_t i = 0; m >= 0 && i < list->count; i++) {
        const Entity *space = value_entity(&list->values[i]);
        int s = space != NULL ? place_in(c->spaces, &c->allotment.spaces, ALLOT_SPACES, space) : -1;
        if (s < 0) {
            return false; /* a broken name waits where it is read */
        }
        c->allotment.reaches[m] |= 1u << s;
    }
    return m >= 0;
}

static bool serves_one_of(const Climate *climate, const Crossing *c, const Entity *maker)
{
    bool any = false;
    for (int s = 0; s < c->allotment.spaces && !any; s++) {
        any = entity_names(maker, climate->serves, c->spaces[s]);
    }
    return any;
}

static bool add_all(const Model *model, const Climate *climate, Crossing *c)
{
    bool fits = true;
    for (int before = 0; fits && before != c->allotment.makers;) {
        before = c->allotment.makers;
        for (const Entity *e = first_aboard(model, climate->kind); e != NULL && fits; e = next_aboard(e)) {
            fits = !serves_one_of(climate, c, e) || add_maker(climate, c, e);
        }
    }
    return fits;
}

bool find_crossing(const Model *model, const Climate *climate, const Entity *maker, Crossing *crossing)
{
    const Entity *first = first_aboard(model, climate->kind);
    if (first == NULL || next_aboard(first) == NULL) {
        return false;
    }
    *crossing = (Crossing){.own = 0};
    if (!add_maker(climate, crossing, maker) || !add_all(model, climate, crossing)) {
        return false;
    }
    bool crosses = false;
    for (int m = 1; m < crossing->allotment.makers; m++) {
        crosses = crosses || crossing->allotment.reaches[m] != crossing->allotment.reaches[0];
    }
    return crosses;
}

/* What each of them gives: where one does not say it, all count alike. */
static void use_gives(Work *work, const Climate *climate, Crossing *c, Sum *sum)
{
    bool known = true;
    for (int m = 0; m < c->allotment.makers; m++) {
        known = known && states_number(c->makers[m], climate->output);
    }
    for (int m = 0; m < c->allotment.makers; m++) {
        if (!known) {
            c->allotment.gives[m] = point(1.0);
            continue;
        }
        c->allotment.gives[m] = use_given(work, climate, c->makers[m], m == 0 ? "" : ", ", sum);
    }
    buf_text(&sum->formula, known ? " so that the most loaded is loaded least" : "all that serve these spaces as if they gave the same");
}

Interval use_allotted_with(Work *work, const Climate *climate, Crossing *c, Interval anywhere, Sum *sum)
{
    Interval most = point(0.0);
    use_gives(work, climate, c, sum);
    for (int s = 0; s < c->allotment.spaces && work->state == STATE_KNOWN; s++) {
        if (c->allotment.reaches[c->own] >> s & 1u) {
            Allotment with = c->allotment;
            with.asks[s] = interval_add(with.asks[s], anywhere);
            most = interval_max(most, allotted_w(&with, c->own));
        }
    }
    return most;
}

Interval use_allotted(Work *work, const Climate *climate, Crossing *c, Sum *sum)
{
    use_gives(work, climate, c, sum);
    return work->state == STATE_KNOWN ? allotted_w(&c->allotment, c->own) : point(0.0);
}
