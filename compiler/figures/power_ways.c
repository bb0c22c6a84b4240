/*
 * How a limit of the total drop is shared out along a way: what is left of it goes in even parts to the cables from here to
 * the end of the longest way down, so that a feeder whose size is chosen does not take what the cables behind it need.
 *
 * The limits are of three classes (critical, other, a feed's own): of each the longest way down is kept. Where ways of
 * different length have own limits, the strictest stands for all of them, which asks for more copper, never for less.
 */
#include "figures/power.h"

#include "physics/drop.h"

#include <math.h>

bool feed_takes_part(const Feed *feed)
{
    return !((feed->subject->flags | feed->taker->flags) & (ENTITY_LOOP | ENTITY_DROPPED));
}

bool converts_power(const Entity *entity)
{
    return entity->kind == KIND_INVERTER || entity->kind == KIND_CONVERTER || entity->kind == KIND_CHARGER;
}

static LimitClass class_of(DropLimit limit)
{
    return limit.own ? LIMIT_OWN : limit.critical ? LIMIT_CRITICAL : LIMIT_OTHER;
}

WaysDown ways_through(const Power *power, const Feed *feed)
{
    WaysDown ways = {.cables = {0}};
    if (!feed->maker && !converts_power(feed->taker)) {
        ways = power_node(power, feed->taker)->ways;
    }
    if (feed->shares) {
        return ways;
    }
    for (int c = 0; c < LIMIT_CLASS_COUNT; c++) {
        ways.cables[c] += ways.cables[c] > 0;
    }
    DropLimit limit = feed_drop_limit(power->model, feed, power->basis);
    LimitClass class = class_of(limit);
    if (limit.own && (ways.cables[class] == 0 || limit.share < ways.own_least)) {
        ways.own_least = limit.share;
    }
    ways.cables[class] += ways.cables[class] == 0;
    return ways;
}

/* Takes a way down into what is known of the ways below a thing. */
static void take_longest(WaysDown *above, const WaysDown *ways)
{
    bool stricter = above->cables[LIMIT_OWN] == 0 || ways->own_least < above->own_least;
    if (ways->cables[LIMIT_OWN] > 0 && stricter) {
        above->own_least = ways->own_least;
    }
    for (int c = 0; c < LIMIT_CLASS_COUNT; c++) {
        above->cables[c] = ways->cables[c] > above->cables[c] ? ways->cables[c] : above->cables[c];
    }
}

/* From the ends up: givers stand before their takers in the order of feeding. */
void power_find_ways(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            if (feed_takes_part(feed) && feed->giver != NULL) {
                WaysDown ways = ways_through(power, feed);
                take_longest(&power_node(power, feed->giver)->ways, &ways);
            }
        }
    }
}

double ways_share(const WaysDown *ways, double lost_before)
{
    const double limits[LIMIT_CLASS_COUNT] = {[LIMIT_CRITICAL] = DROP_LIMIT_CRITICAL,
                                              [LIMIT_OTHER] = DROP_LIMIT_OTHER,
                                              [LIMIT_OWN] = ways->own_least};
    double least = INFINITY;
    for (int c = 0; c < LIMIT_CLASS_COUNT; c++) {
        if (ways->cables[c] > 0) {
            least = fmin(least, (limits[c] - lost_before) / ways->cables[c]);
        }
    }
    return least;
}
