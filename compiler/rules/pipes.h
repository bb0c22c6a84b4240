/*
 * What the files of the family rules_pipes share: rules that are too long for their table's own file.
 */
#ifndef GARBOARD_RULES_PIPES_H
#define GARBOARD_RULES_PIPES_H

#include "rules/rule.h"

void judge_unplumbed(Judge *judge);    /* pipes_joined.c */
void judge_what_is_said(Judge *judge); /* pipes_said.c: part of unplumbed */
void judge_hose_grade(Judge *judge);   /* pipes_grade.c */
void judge_wrong_liquid(Judge *judge); /* pipes_contents.c */
void judge_drain_intake(Judge *judge, const Entity *fitting); /* pipes_drained.c */
void judge_intake_dry(Judge *judge, const Entity *fitting);   /* pipes_drained.c */
/** Part of unplumbed: what no pump presses water to, and lies no lower than its tank (pipes_head.c). */
void judge_head(Judge *judge);
/**
 * Whether a hose is stated against the way that its water surely goes, by what its ends are and say: the one that says so.
 * NULL: it is not, or nothing tells.
 */
const Entity *hose_turned_by(const Judge *judge, const Entity *hose); /* pipes_turned.c */
void judge_pipe_end(Judge *judge, const Entity *pipe);
void judge_dropped_hoses(Judge *judge); /* pipes_dropped.c: part of pipe-end */

#endif
