/*
 * Hoses that are stated against the way that their water surely goes. Part of the rule unplumbed, which tells each of them once;
 * other rules take such a hose the right way round, for their own findings would be of nothing else.
 */
#include "rules/pipes.h"

#include "figures/drive.h"
#include "rules/plumbing.h"

static bool is_fresh(const Entity *tank)
{
    return tank->kind == KIND_TANK && str_is(entity_word(tank, PROP_TANK_HOLDS), "fresh");
}

/* From a pump to what it draws from, while no other hose is its suction. */
static bool is_suction(const Plumbing *plumbing, const Entity *from, const Entity *to)
{
    return from->kind == KIND_PUMP && entity_reference(from, PROP_PUMP_FROM) == to &&
           plumbing->hoses_to[from->index] == 0 && !entity_names(from, PROP_PUMP_TO, to);
}

/* From a sink to a water heater, or to the pump that brings it fresh water: its waste goes to neither. */
static bool is_supply(const Entity *from, const Entity *to)
{
    const Entity *tank = to->kind == KIND_PUMP ? entity_reference(to, PROP_PUMP_FROM) : NULL;
    bool brings = tank != NULL && is_fresh(tank) && entity_reference(from, PROP_FIXTURE_DRAINS_TO) != to;
    return from->kind == KIND_FIXTURE && (to->kind == KIND_WATER_HEATER || is_fresh(to) || brings);
}

/* The only opening under water of an engine whose sea water leaves by its exhaust, and no hose brings it any. */
static bool is_intake(const Judge *judge, const Plumbing *plumbing, const Entity *from, const Entity *to)
{
    if (from->kind != KIND_ENGINE || to->kind != KIND_THROUGH_HULL || !takes_sea_water(from) ||
        plumbing->hoses_to[from->index] != 0 || plumbing->hoses_from[from->index] != 1 ||
        !entity_names(to, PROP_THROUGH_HULL_SERVES, from)) {
        return false;
    }
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (e != to && entity_names(e, PROP_THROUGH_HULL_SERVES, from)) {
            return false; /* that one may be its intake */
        }
    }
    Side height = side_value(judge, to, PROP_THROUGH_HULL_HEIGHT, 0);
    return side_is_known(height) && height.value.high < 0.0;
}

const Entity *hose_turned_by(const Judge *judge, const Entity *hose)
{
    const Plumbing *plumbing = plumbing_of(judge->figures);
    const Entity *from = entity_reference(hose, PROP_HOSE_FROM), *to = entity_reference(hose, PROP_HOSE_TO);
    if (from == NULL || to == NULL || from == to) {
        return NULL;
    }
    if (to->kind == KIND_FIXTURE && entity_reference(to, PROP_FIXTURE_DRAINS_TO) == from) {
        return to;
    }
    bool turned = is_suction(plumbing, from, to) || is_supply(from, to) || is_intake(judge, plumbing, from, to);
    return turned ? from : NULL;
}
