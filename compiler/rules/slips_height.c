/*
 * The rule light-over: a light that stands higher than all that stands on the boat.
 */
#include "rules/slips.h"

#include "rules/ask.h"

void judge_light_over(Judge *judge, const Entity *light)
{
    const Entity *boat = judge->model->boat;
    int folds = entity_yes(light, PROP_NAV_LIGHT_FOLDS);
    if (boat == NULL || !entity_states(boat, PROP_BOAT_AIR_DRAFT) || !entity_states(light, PROP_NAV_LIGHT_HEIGHT) || folds == 1) {
        return;
    }
    if (folds == -2) {
        judge_waiting(judge);
        return;
    }
    Side height = side_value(judge, light, PROP_NAV_LIGHT_HEIGHT, 0), most = side_value(judge, boat, PROP_BOAT_AIR_DRAFT, 0);
    Finding *finding = judge_at_most(judge, light, place_of(judge, light, PROP_NAV_LIGHT_HEIGHT), height, most);
    if (finding == NULL) {
        return;
    }
    if (folds == -1) {
        finding_left_open(judge, finding, light, PROP_NAV_LIGHT_FOLDS);
    }
    finding_say(judge, finding, "`%s` stands %s above the waterline, and the highest that stands on her %s%s", say_name(judge, light),
                say_side(judge, height), say_side(judge, most), folds == -1 ? ", unless it folds down" : "");
    finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_AIR_DRAFT), "her height over the water");
    if (folds == -1) {
        finding_remedy(judge, finding, "folds yes");
    }
    finding_remedy(judge, finding, "the right measure on either line: bridges are held against `air-draft`");
}
