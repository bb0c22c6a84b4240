/*
 * What the files of the family rules_whole share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_WHOLE_H
#define GARBOARD_RULES_WHOLE_H

#include "rules/rule.h"

void judge_unpowered(Judge *judge);                /* whole_feeds.c */
void judge_feed_loop(Judge *judge);                /* whole_feeds.c */
void judge_fed_twice(Judge *judge);                /* whole_feeds.c */
void judge_rests_on_dropped(Judge *judge);         /* whole_dropped.c */
void judge_options_apart(Judge *judge);            /* whole_options.c */
void judge_set_over(Judge *judge);                 /* whole_options.c */
void judge_names_alike(Judge *judge);              /* whole_names.c */
void judge_size_chosen(Judge *judge, const Entity *thing); /* whole_chosen.c */
void judge_goal(Judge *judge, const Entity *goal); /* whole_goals.c */

void judge_goal_ready(Judge *judge, const Entity *goal); /* whole_ready.c */

/** Dropped, or with a mistake in its first line: not judged. */
static inline bool whole_is_out(const Entity *entity)
{
    return entity->flags & (ENTITY_DROPPED | ENTITY_BROKEN);
}

#endif
