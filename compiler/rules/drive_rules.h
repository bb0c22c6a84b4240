/*
 * What the files of the families rules_drive and rules_propeller share: rules that are too long for its table's own file.
 */
#ifndef GARBOARD_RULES_DRIVE_RULES_H
#define GARBOARD_RULES_DRIVE_RULES_H

#include "rules/ask.h"

void judge_engine_joined(Judge *judge, const Entity *engine); /* drive_joined.c */
/** The exhaust of a generator: the one that it names; of one that names none the one that nothing names. NULL: there is none. */
const Entity *exhaust_of_burner(const Judge *judge, const Entity *burner);
void judge_raw_water(Judge *judge, const Entity *engine); /* drive_intakes.c */
/** The bore that an engine's intake asks of a thing on its way, all that draw by that one together; and how to say that it is so. */
const Figure *intake_need(const Judge *judge, const Entity *engine, const Entity *thing);
const char *say_with_others(const Figure *need);
void judge_keel_cooler(Judge *judge, const Entity *engine); /* drive_intakes.c */
void judge_engine_air(Judge *judge, const Entity *engine);
void judge_backfire(Judge *judge, const Entity *engine); /* drive_safety.c */
void judge_engine_cut_off(Judge *judge, const Entity *engine);
void judge_intake_hose(Judge *judge, const Entity *engine);   /* drive_water.c */
void judge_exhaust_wet(Judge *judge, const Entity *exhaust);
void judge_exhaust_riser(Judge *judge, const Entity *exhaust); /* drive_riser.c */
void judge_exhausts_meet(Judge *judge, const Entity *exhaust); /* drive_meeting.c: a part of it */
void judge_exhaust_outlet(Judge *judge, const Entity *fitting); /* drive_outlet.c */
void judge_exhaust_lagged(Judge *judge, const Entity *exhaust);
void judge_propeller_load(Judge *judge, const Entity *propeller); /* propeller_load.c */

/** Whether an engine has sea water to give: none where its exhaust is dry and neither its `cooling` nor its `raw-water` speaks of any. */
Answer pumps_sea_water(const Judge *judge, const Entity *engine); /* drive_water.c */

#endif
