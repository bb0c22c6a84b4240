/* See figure.h: units that a figure is told in where no property of the owner's says one. */
#include "figures/figure.h"

/* What a boat that is stated in feet is told in: the trade's unit there for each of those that the tables of figures use. */
static const struct {
    UnitPair metric, customary;
} customary[] = {
    {{UNIT_M, UNIT_NONE}, {UNIT_FT, UNIT_NONE}},      {{UNIT_CM, UNIT_NONE}, {UNIT_IN, UNIT_NONE}},
    {{UNIT_MM, UNIT_NONE}, {UNIT_IN, UNIT_NONE}},     {{UNIT_M2, UNIT_NONE}, {UNIT_FT2, UNIT_NONE}},
    {{UNIT_CM2, UNIT_NONE}, {UNIT_IN2, UNIT_NONE}},   {{UNIT_M3, UNIT_NONE}, {UNIT_FT3, UNIT_NONE}},
    {{UNIT_L, UNIT_NONE}, {UNIT_GAL, UNIT_NONE}},     {{UNIT_L, UNIT_MIN}, {UNIT_GPM, UNIT_NONE}},
    {{UNIT_L, UNIT_H}, {UNIT_GPH, UNIT_NONE}},        {{UNIT_M3, UNIT_H}, {UNIT_CFM, UNIT_NONE}},
    {{UNIT_M, UNIT_S}, {UNIT_FT, UNIT_S}},            {{UNIT_KG, UNIT_NONE}, {UNIT_LB, UNIT_NONE}},
    {{UNIT_KG, UNIT_CM}, {UNIT_LB, UNIT_IN}},         {{UNIT_N, UNIT_NONE}, {UNIT_LBF, UNIT_NONE}},
    {{UNIT_BAR, UNIT_NONE}, {UNIT_PSI, UNIT_NONE}},   {{UNIT_KPA, UNIT_NONE}, {UNIT_PSI, UNIT_NONE}},
    {{UNIT_KW, UNIT_NONE}, {UNIT_HP, UNIT_NONE}},
};

bool model_is_in_feet(const Model *model)
{
    const Value *length = property_value(model->boat != NULL ? entity_property(model->boat, PROP_BOAT_LENGTH) : NULL, 0);
    return length->kind == VALUE_QUANTITY && (length->unit.unit == UNIT_FT || length->unit.unit == UNIT_IN);
}

UnitPair work_unit(const Work *work, UnitPair unit)
{
    for (size_t i = 0; work->figures->in_feet && i < sizeof customary / sizeof customary[0]; i++) {
        if (customary[i].metric.unit == unit.unit && customary[i].metric.per == unit.per) {
            return customary[i].customary;
        }
    }
    return unit;
}
