/* See tank_sides.h. */
#include "model/tank_sides.h"

#include "physics/tank.h"
#include "physics/tank_shape.h"

static bool stands(const Entity *tank)
{
    return str_is(property_value(entity_property(tank, PROP_TANK_CYLINDER), 2)->u.word, "upright");
}

static bool says_how_it_lies(const Entity *tank)
{
    return property_value(entity_property(tank, PROP_TANK_CYLINDER), 2)->kind == VALUE_WORD;
}

TankShape tank_shape(const Entity *tank)
{
    if (entity_states(tank, PROP_TANK_CYLINDER)) {
        return says_how_it_lies(tank) && stands(tank) ? TANK_UPRIGHT : TANK_LYING;
    }
    return entity_states(tank, PROP_TANK_BOTTOM) ? TANK_TAPERED
           : entity_states(tank, PROP_TANK_SIZE) ? TANK_BOX
                                                 : TANK_UNSAID;
}

TankSide tank_side(const Entity *tank, TankAxis axis)
{
    if (!entity_states(tank, PROP_TANK_CYLINDER)) {
        return (TankSide){PROP_TANK_SIZE, axis};
    }
    bool athwart = says_how_it_lies(tank) && str_is(property_value(entity_property(tank, PROP_TANK_CYLINDER), 2)->u.word, "athwartships");
    TankAxis lies = !says_how_it_lies(tank) ? TANK_LENGTH : stands(tank) ? TANK_HEIGHT : athwart ? TANK_BREADTH : TANK_LENGTH;
    return (TankSide){PROP_TANK_CYLINDER, axis == lies};
}

/* A quantity that is stated without a mistake. */
static bool read(const Entity *tank, PropId prop, unsigned slot, Interval *is)
{
    const Property *property = entity_property(tank, prop);
    const Value *value = property_value(property, slot);
    if (property == NULL || property->flags & PROPERTY_BROKEN || value->kind != VALUE_QUANTITY) {
        return false;
    }
    *is = (Interval){value->u.quantity.low, value->u.quantity.high};
    return true;
}

static bool read_sides(const Entity *tank, Interval sides[3])
{
    for (TankAxis axis = TANK_LENGTH; axis <= TANK_HEIGHT; axis++) {
        TankSide side = tank_side(tank, axis);
        if (!read(tank, side.prop, side.slot, &sides[axis])) {
            return false;
        }
    }
    return true;
}

bool tank_volume_by_sides(const Entity *tank, Interval *volume)
{
    Interval s[3], floor_length, floor_width, diameter, length;
    switch (tank_shape(tank)) {
    case TANK_UNSAID: return false;
    case TANK_BOX:
        if (!read_sides(tank, s)) {
            return false;
        }
        *volume = interval_multiply(interval_multiply(s[0], s[1]), s[2]);
        return true;
    case TANK_TAPERED:
        if (!read_sides(tank, s) || !read(tank, PROP_TANK_BOTTOM, 0, &floor_length) || !read(tank, PROP_TANK_BOTTOM, 1, &floor_width)) {
            return false;
        }
        *volume = (Interval){taper_volume_m3((Taper){s[0].low, s[1].low, floor_length.low, floor_width.low}, s[2].low),
                             taper_volume_m3((Taper){s[0].high, s[1].high, floor_length.high, floor_width.high}, s[2].high)};
        return true;
    default:
        if (!read(tank, PROP_TANK_CYLINDER, 0, &diameter) || !read(tank, PROP_TANK_CYLINDER, 1, &length)) {
            return false;
        }
        *volume = (Interval){cylinder_volume_m3(diameter.low, length.low), cylinder_volume_m3(diameter.high, length.high)};
        return true;
    }
}

static Message *tell(Model *model, const Entity *tank, PropId at, PropId other, const char *what)
{
    Message *m = message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, entity_property(tank, at)), "%s", what);
    if (other != PROP_NONE) {
        message_note(model->messages, m, property_span(model, entity_property(tank, other)), "so does this");
    }
    return m;
}

/* A floor that is longer or broader than the top in any case. */
static bool widens(const Entity *tank)
{
    Interval top[3], bottom[2];
    return read_sides(tank, top) && read(tank, PROP_TANK_BOTTOM, 0, &bottom[0]) && read(tank, PROP_TANK_BOTTOM, 1, &bottom[1]) &&
           (bottom[0].low > top[0].high || bottom[1].low > top[1].high);
}

void tank_check_shape(Model *model, const Entity *tank)
{
    bool cylinder = entity_states(tank, PROP_TANK_CYLINDER), size = entity_states(tank, PROP_TANK_SIZE);
    bool bottom = entity_states(tank, PROP_TANK_BOTTOM);
    if (cylinder && (size || bottom)) {
        Message *m = tell(model, tank, size ? PROP_TANK_SIZE : PROP_TANK_BOTTOM, PROP_TANK_CYLINDER,
                          "this says that the tank has flat sides, and `cylinder` that it is round");
        message_right(model->messages, m, "`cylinder` alone, or `size`, with `bottom` where it narrows downward");
    } else if (bottom && widens(tank)) {
        Message *m = tell(model, tank, PROP_TANK_BOTTOM, PROP_NONE, "the floor of this tank is larger than its `size`");
        message_note(model->messages, m, property_span(model, entity_property(tank, PROP_TANK_SIZE)),
                     "length and width where it is broadest");
        message_right(model->messages, m, "`size` with length and width at its top, which are no less than those of its floor");
    }
}
