/*
 * What the files of the family rules_plan share: the rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_PLAN_JOBS_H
#define GARBOARD_RULES_PLAN_JOBS_H

#include "rules/rule.h"

void judge_runs_over(Judge *judge, const Entity *job);    /* plan_jobs.c */
void judge_done_without(Judge *judge, const Entity *job); /* plan_jobs.c */
void judge_done_unfitted(Judge *judge, const Entity *job); /* plan_jobs.c */

#endif
