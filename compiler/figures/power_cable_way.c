/*
 * The heat on a cable's way: which spaces it passes and ends in, and how hot their air is. Asked by figures of the cable that is
 * there, and by remedies of one with other insulation; knows no cable but its feed.
 */
#include "figures/cable.h"
#include "figures/water.h"

#include "physics/ampacity.h"
#include "physics/celsius.h"

#include <math.h>

/*
 * The air of an engine space that does not say how hot it gets is that of its basis. 33 CFR 183.425, note 1, asks its factor of
 * every conductor in an engine space, whatever its air: what is stated lessens that, and never raises it.
 */
static bool is_hot_by_rule(const Model *model, Basis basis, const Entity *space)
{
    return is_engine_space(model, space) && (basis == BASIS_US || !entity_states(space, PROP_SPACE_TEMPERATURE));
}

/* space: NULL where nothing says which. */
static void read_space(const Model *model, Basis basis, CableWay *way, const Entity *space)
{
    if (space != NULL && is_hot_by_rule(model, basis, space)) {
        way->engine_space = true;
        if (!entity_states(space, PROP_SPACE_TEMPERATURE)) {
            return;
        }
    }
    Interval air = air_aboard(model, space, PROP_SPACE_TEMPERATURE);
    way->air_c = fmax(way->air_c, air.high - ZERO_CELSIUS_K);
    way->least_air_c = fmax(way->least_air_c, air.low - ZERO_CELSIUS_K);
}

/* An alternator that says nothing of where it stands is bolted to its engine. */
static const Entity *space_of_engine(const Entity *maker)
{
    bool bolted = maker != NULL && maker->kind == KIND_ALTERNATOR && !entity_states(maker, PROP_COMMON_SPACE);
    const Entity *engine = bolted ? entity_reference(maker, PROP_ALTERNATOR_ENGINE) : NULL;
    return engine != NULL ? entity_reference(engine, PROP_COMMON_SPACE) : NULL;
}

/* Whether an end stands nobody says where: in the accommodation then. A circuit ends where its loads do. */
static bool ends_nowhere(const Entity *end)
{
    return end != NULL && end->kind != KIND_CIRCUIT && entity_reference(end, PROP_COMMON_SPACE) == NULL;
}

const Entity *cable_next_air(const Feed *feed, CableAir *at)
{
    const Entity *space = feed_next_space(feed, &at->space);
    if (space != NULL) {
        return space;
    }
    return at->bolted++ == 0 && feed->maker ? space_of_engine(feed->giver) : NULL;
}

bool cable_is_in_open(const Feed *feed)
{
    CableAir at = {0};
    bool maker_nowhere = ends_nowhere(feed->giver) && !(feed->maker && space_of_engine(feed->giver) != NULL);
    return maker_nowhere || ends_nowhere(feed->taker) || cable_next_air(feed, &at) == NULL;
}

CableWay cable_way(const Model *model, Basis basis, const Feed *feed)
{
    CableAir at = {0};
    CableWay way = {.air_c = -ZERO_CELSIUS_K, .least_air_c = -ZERO_CELSIUS_K};
    for (const Entity *space = cable_next_air(feed, &at); space != NULL; space = cable_next_air(feed, &at)) {
        read_space(model, basis, &way, space);
    }
    if (cable_is_in_open(feed)) {
        read_space(model, basis, &way, NULL);
    }
    return way;
}

double cable_way_factor(const CableWay *way, Basis basis, double insulation_celsius)
{
    return heat_factor(basis, insulation_celsius, way->engine_space, way->air_c);
}
