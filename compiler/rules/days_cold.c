/*
 * A rule of the family rules_days: bank-cold, whether a goal that a lead bank meets by its rated capacity is met with what the
 * cold of its day leaves of that.
 */
#include "rules/days.h"

#include "figures/water.h"

/* One goal that hangs on the bank: none that is missed as it is, for then `goal-missed` speaks of it. */
static void judge_goal_in_the_cold(Judge *judge, const Entity *bank, const Entity *goal)
{
    const Entity *day = value_entity(property_value(entity_property(goal, PROP_GOAL_ENDURE), 1));
    const Figure *cold = day != NULL ? figure_find(judge->figures, bank, FIGURE_COLD_ENDURANCE, day) : NULL;
    if (cold == NULL) {
        return;
    }
    Side wanted = side_value(judge, goal, PROP_GOAL_ENDURE, 0);
    Side warm = side_figure(figure_find(judge->figures, judge->model->boat, FIGURE_ENDURANCE, day));
    if (!side_is_known(warm) || !side_is_known(wanted)) {
        judge_waiting(judge);
        return;
    }
    Answer met = ask_at_least(warm, wanted);
    if (met == ANSWER_NO) {
        return;
    }
    Side left = side_figure(cold); /* where that is too little for certain, it hangs on whether the goal is met at all */
    bool hangs_on_warm = met == ANSWER_PERHAPS && ask_at_least(left, wanted) == ANSWER_NO;
    Finding *f = judge_at_least(judge, bank, place_of(judge, bank, PROP_BANK_CAPACITY), hangs_on_warm ? warm : left, wanted);
    if (f == NULL) {
        return;
    }
    finding_at(f, goal);
    finding_say(judge, f, "`%s` %s met with all of the capacity of `%s`; cells as cold as on `%s` give less, and then it lasts %s of the %s",
                say_name(judge, goal), met == ANSWER_YES ? "is" : "may be", say_name(judge, bank), say_name(judge, day),
                say_figure(judge, cold), say_side(judge, wanted));
    finding_note(judge, f, place_of(judge, day, PROP_DAY_TEMPERATURE), "so cold");
    finding_remedy(judge, f, "`coldest` on `%s`, if it stands in a heated space or box; else a larger bank", say_name(judge, bank));
}

void judge_bank_cold(Judge *judge, const Entity *bank)
{
    for (const Entity *goal = first_aboard(judge->model, KIND_GOAL); goal != NULL; goal = next_aboard(goal)) {
        judge_goal_in_the_cold(judge, bank, goal);
    }
}
