/* See inches.h. */
#include "figures/inches.h"

#include "base/num.h"
#include "figures/figure.h"

#include <math.h>

/* Drills and bolts are made in thirty-seconds of an inch, hose and pipe in sixteenths and coarser: common practice, no source. */
enum { PARTS = 32 };

/* Whether the schema tells it in millimetres: what is bought by its size, and no height or length of the boat. */
static bool is_size(const Model *model, PropId prop, unsigned slot)
{
    const Shape *shape = shapes_get(model->shapes, prop);
    for (uint8_t i = 0; i < shape->item_count; i++) {
        const ShapeItem *item = &shape->items[i];
        if (item->kind == ITEM_ATOM && item->slot == slot) {
            return item->atoms[0].kind == ATOM_QUANTITY && item->atoms[0].unit_count > 0 &&
                   unit_equal(item->atoms[0].units[0], UNIT_ALONE(UNIT_MM));
        }
    }
    return false;
}

/* So many parts of an inch; negative: no whole number of them. */
static long parts_of(double length_m)
{
    double parts = unit_from_si(UNIT_ALONE(UNIT_IN), length_m) * PARTS;
    return parts > 0.0 && parts < 1e6 && fabs(parts - round(parts)) < 1e-6 ? lround(parts) : -1;
}

static void write_inches(Buf *to, long parts)
{
    long whole = parts / PARTS, over = parts % PARTS, under = PARTS;
    for (; over > 0 && over % 2 == 0; over /= 2) {
        under /= 2;
    }
    if (whole > 0 || over == 0) {
        buf_format(to, "%ld%s", whole, over > 0 ? " " : "");
    }
    if (over > 0) {
        buf_format(to, "%ld/%ld", over, under);
    }
}

bool size_write_fraction(Buf *to, const Model *model, PropId prop, unsigned slot, const Value *value)
{
    bool inches = value->kind == VALUE_QUANTITY && !(value->flags & (VALUE_HOLE | VALUE_NO_LOW | VALUE_NO_HIGH | VALUE_SIZE | VALUE_MONEY)) &&
                  unit_equal(value->unit, UNIT_ALONE(UNIT_IN));
    long low = inches ? parts_of(value->u.quantity.low) : -1, high = inches ? parts_of(value->u.quantity.high) : -1;
    if (low < 0 || high < 0 || !is_size(model, prop, slot)) {
        return false;
    }
    write_inches(to, low);
    if (high != low) {
        buf_text(to, "..");
        write_inches(to, high);
    }
    buf_text(to, " in");
    return true;
}

/* Feet and inches are said of what no whole number of feet is: `8 ft 9 in`, where that is whole halves of an inch. */
static bool write_feet(Buf *to, const Value *value)
{
    bool feet = value->kind == VALUE_QUANTITY && !(value->flags & (VALUE_HOLE | VALUE_NO_LOW | VALUE_NO_HIGH | VALUE_SIZE | VALUE_MONEY)) &&
                unit_equal(value->unit, UNIT_ALONE(UNIT_FT)) && value->u.quantity.low == value->u.quantity.high;
    long parts = feet ? parts_of(value->u.quantity.low) : -1, over = parts % (12 * PARTS);
    bool tenths = feet && fabs(remainder(unit_from_si(value->unit, value->u.quantity.low) * 10.0, 1.0)) < 1e-6;
    if (parts <= 0 || over == 0 || over % (PARTS / 2) != 0 || (tenths && over != 6 * PARTS)) {
        return false;
    }
    if (parts > over) {
        buf_format(to, "%ld ft ", parts / (12 * PARTS));
    }
    write_inches(to, over);
    buf_text(to, " in");
    return true;
}

void size_write(Buf *to, const Model *model, PropId prop, unsigned slot, const Value *value)
{
    if (!size_write_fraction(to, model, prop, slot, value) && !write_feet(to, value)) {
        quantity_write(to, model, value);
    }
}
