/*
 * See upstream.h: what may charge a bank, followed up through all that brings it power.
 */
#include "rules/upstream.h"

#include "figures/water.h"

/* What is found on the way up, and what is still to be followed. */
typedef struct Climb {
    const Entity **stack;
    bool *reached; /* by Entity.index */
    uint32_t count;
} Climb;

static void reach(Climb *climb, const Entity *thing)
{
    if (is_aboard(thing) && !climb->reached[thing->index]) {
        climb->reached[thing->index] = true;
        climb->stack[climb->count++] = thing;
    }
}

static void reach_givers(const Judge *judge, Climb *climb, const Entity *thing)
{
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        reach(climb, feed->giver);
    }
    for (uint32_t i = 0; i < judge->model->feed_count; i++) {
        const Feed *feed = judge->model->feeds[i];
        if (feed->maker && feed->taker == thing) {
            reach(climb, feed->giver);
        }
    }
    for (const Charging *c = upstream_of(judge)->charging[thing->index]; c != NULL; c = c->next) {
        reach(climb, c->feed->giver); /* of a bank: through panels and switches too */
    }
    reach(climb, thing->kind == KIND_INVERTER ? entity_reference(thing, PROP_INVERTER_PASSES) : NULL);
}

const Entity *charges_on_the_way(const Judge *judge, const Entity *bank)
{
    static const KindId kinds_of[] = {KIND_GENERATOR, KIND_SOLAR, KIND_ALTERNATOR};
    const uint32_t room = judge->model->entity_count + 1;
    Climb climb = {.stack = ARENA_ARRAY(judge->scratch, const Entity *, room),
                   .reached = ARENA_ARRAY(judge->scratch, bool, room)};
    reach(&climb, bank);
    while (climb.count > 0) {
        reach_givers(judge, &climb, climb.stack[--climb.count]);
    }
    for (size_t i = 0; i < sizeof kinds_of / sizeof kinds_of[0]; i++) {
        for (const Entity *maker = first_aboard(judge->model, kinds_of[i]); maker != NULL; maker = next_aboard(maker)) {
            if (climb.reached[maker->index]) {
                return maker;
            }
        }
    }
    return NULL;
}
