/*
 * What each bank gets of a source that feeds several of them, in a day: in proportion to what is drawn from each, for over
 * days like that a bank takes what it gave. A starting bank that nothing draws from leaves all of it to the others.
 *
 * Where nothing is drawn from any of them, where one charges another, or where they are too many for one group, each gets as
 * much as the next.
 */
#include "figures/power_days.h"

#include <math.h>

/* The banks that a source feeds, once for each of its `feeds`. */
static int count_outputs(const Power *power, const Entity *maker)
{
    int count = 0;
    for (const Feed *feed = maker->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *source = feed->maker ? power_node(power, feed->taker)->source : NULL;
        count += source != NULL && source->kind == KIND_BANK && !(source->flags & ENTITY_DROPPED);
    }
    return count > 1 ? count : 1;
}

static double part_of(double own, double others, int count)
{
    if (isinf(own) || isinf(others)) {
        return isinf(own) ? 1.0 : 0.0; /* a use without a bound: all or nothing is possible */
    }
    return own + others > 0.0 ? own / (own + others) : 1.0 / count;
}

SourceShare source_share(const Power *power, const Group *group, const Entity *day, int s)
{
    const Entity *maker = group->sources[s].feed->giver;
    int outputs = count_outputs(power, maker), found = 0;
    Interval own = point(0.0), others = point(0.0);
    bool known = true;
    for (int i = 0; i < group->source_count; i++) {
        if (group->sources[i].feed->giver != maker) {
            continue;
        }
        const Entity *bank = group->banks[group->sources[i].bank]->entity;
        const Figure *use = figure_find(power->work->figures, bank, FIGURE_DAILY_USE, day);
        known = known && use != NULL && use->state == STATE_KNOWN;
        Interval joule = use != NULL ? (Interval){use->low, use->high} : point(0.0);
        own = i == s ? joule : own;
        others = i == s ? others : interval_add(others, joule);
        found++;
    }
    if (outputs == 1) {
        return (SourceShare){.part = point(1.0)};
    }
    if (found != outputs || group->link_count > 0 || !known) {
        return (SourceShare){.part = point(1.0 / outputs)};
    }
    return (SourceShare){.by_use = true,
                         .part = {part_of(own.low, others.high, outputs), part_of(own.high, others.low, outputs)}};
}

void use_shared(Work *work, const Group *group, const Entity *day, int s)
{
    for (int i = 0; i < group->source_count; i++) {
        if (group->sources[i].feed->giver == group->sources[s].feed->giver) {
            const Entity *bank = group->banks[group->sources[i].bank]->entity;
            use_figure(work, figure_find(work->figures, bank, FIGURE_DAILY_USE, day));
        }
    }
}
