/*
 * Flooding: what comes in by an opening whose hose has come off, and how long until the water has reached a
 * bank.
 *
 * The boat lies upright and does not sink deeper meanwhile (she does: the true time is shorter). The hole is
 * a plain one as wide as the fitting. The water is taken to stand at the hole's height already, which leaves
 * out the time that it takes to fill the bilge below; it then spreads over the floor of the space where it comes in, and
 * of the bank's.
 */
#include "figures/fuel_plan.h"
#include "figures/water.h"

#include "physics/bilge.h"

#include <math.h>

static const UnitPair litres_a_minute = {UNIT_L, UNIT_MIN};

const Entity *next_served(const Entity *fitting, uint16_t *at)
{
    const Property *serves = entity_property(fitting, PROP_THROUGH_HULL_SERVES);
    while (serves != NULL && *at < serves->count) {
        const Entity *served = value_entity(&serves->values[(*at)++]);
        if (served != NULL && !(served->flags & ENTITY_DROPPED)) {
            return served;
        }
    }
    return NULL;
}

/* A generator that is named beside an exhaust: what leaves by the fitting is that. */
static bool is_beside_exhaust(const Entity *fitting, const Entity *generator)
{
    uint16_t at = 0;
    const Entity *served = next_served(fitting, &at);
    while (served != NULL && served->kind != KIND_EXHAUST) {
        served = next_served(fitting, &at);
    }
    return generator->kind == KIND_GENERATOR && served != NULL;
}

bool has_no_hose(const Entity *fitting)
{
    const Property *serves = entity_property(fitting, PROP_THROUGH_HULL_SERVES);
    for (uint16_t i = 0; serves != NULL && i < serves->count; i++) {
        if (value_entity(&serves->values[i]) == NULL) {
            return false; /* a mistake: it may serve what has a hose */
        }
    }
    uint16_t at = 0;
    const Entity *served = next_served(fitting, &at);
    bool any = served != NULL;
    while (served != NULL && (served->kind == KIND_EXHAUST || served->kind == KIND_INSTRUMENT || is_beside_exhaust(fitting, served))) {
        served = next_served(fitting, &at);
    }
    return any && served == NULL;
}

/* Through a heater that burns nothing, or does not say enough of that, sea water may run. */
bool must_breathe(const Model *model, const Entity *entity)
{
    return entity->kind == KIND_GAS_LOCKER || entity->kind == KIND_GAS_APPLIANCE || entity->kind == KIND_BURNER ||
           (entity->kind == KIND_HEATER && heater_burns(model, entity) == BURNS_YES);
}

const Entity *serves_open(const Model *model, const Entity *fitting)
{
    uint16_t at = 0;
    const Entity *served = next_served(fitting, &at);
    while (served != NULL && !must_breathe(model, served)) {
        served = next_served(fitting, &at);
    }
    return served;
}

/* How deep under water it lies, not below zero. */
static Interval depth_of(Interval height)
{
    return (Interval){fmax(0.0, -height.high), fmax(0.0, -height.low)};
}

/* A fitting that is, or may be, under water, and whose hose could come off. */
static bool can_flood(const Entity *fitting)
{
    const Value *height = property_value(entity_property(fitting, PROP_THROUGH_HULL_HEIGHT), 0);
    return height->kind == VALUE_QUANTITY && !(height->flags & VALUE_BROKEN) &&
           height->u.quantity.low < 0.0 && !has_no_hose(fitting);
}

static const Entity *flooding_from(const Entity *fitting)
{
    while (fitting != NULL && !can_flood(fitting)) {
        fitting = next_aboard(fitting);
    }
    return fitting;
}

const Entity *first_flooding(const Model *model)
{
    return flooding_from(first_aboard(model, KIND_THROUGH_HULL));
}

const Entity *next_flooding(const Entity *fitting)
{
    return flooding_from(next_aboard(fitting));
}

/* In l/min, or the unit that the boat's pumps are told in. */
static void record_inflow(Work *work, const Entity *fitting, UnitPair unit)
{
    work_begin(work);
    use_fact(work, "discharge coefficient of a plain hole", point(HOLE_DISCHARGE), UNIT_ALONE(UNIT_NONE),
             "hydraulics texts: 0.60 to 0.62; 1.0 would be the worst case");
    Interval bore = use_value(work, fitting, PROP_THROUGH_HULL_BORE, 0).value;
    Interval depth = depth_of(use_value(work, fitting, PROP_THROUGH_HULL_HEIGHT, 0).value);
    Interval flow = interval_corners(hole_inflow_m3_per_s(bore.low, depth.low, HOLE_DISCHARGE),
                                     hole_inflow_m3_per_s(bore.high, depth.high, HOLE_DISCHARGE));
    Figure *figure = work_record(work, FIGURE_INFLOW, fitting, NULL, flow,
                                 "{coefficient} x area of {bore} x sqrt(2 g x depth), at {height}");
    figure->unit = unit;
}

static void record_worst(Work *work, UnitPair unit)
{
    Buf formula;
    Interval most = point(0.0);
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    for (const Entity *e = first_flooding(work->model); e != NULL; e = next_flooding(e)) {
        buf_format(&formula, "%s{%.*s.inflow}", work->count > 0 ? " or " : "the greatest of ",
                   STR_ARG(entity_name(work->model, e)));
        most = interval_max(most, use_figure(work, figure_find(work->figures, e, FIGURE_INFLOW, NULL)).value);
    }
    work_record(work, FIGURE_INFLOW, work->model->boat, NULL, most, formula.text)->unit = unit;
}

/* Time until a bank is reached */

/* Whether water that comes in where a fitting is finds its way to the bank. */
static bool reaches(const Entity *fitting, const Entity *bank)
{
    return water_goes(entity_reference(fitting, PROP_COMMON_SPACE), entity_reference(bank, PROP_COMMON_SPACE));
}

static bool add_floor(Work *work, Buf *formula, Interval *area, const Entity *space, bool any)
{
    if (space == NULL || !entity_states(space, PROP_SPACE_FLOOR)) {
        return any;
    }
    buf_format(formula, "%s{%.*s.floor}", any ? " + " : "", STR_ARG(entity_name(work->model, space)));
    *area = interval_add(*area, use_value(work, space, PROP_SPACE_FLOOR, 0).value);
    return true;
}

/*
 * Area that the water spreads over, told on the safe side: the floors of the space where it comes in and of the bank's.
 * Where neither is stated, those of all spaces without a bilge of their own. Unknown if none of them has a floor.
 */
static Interval use_floors(Work *work, Buf *formula, const Entity *fitting, const Entity *bank)
{
    Interval area = point(0.0);
    const Entity *from = entity_reference(fitting, PROP_COMMON_SPACE);
    const Entity *to = entity_reference(bank, PROP_COMMON_SPACE);
    bool any = add_floor(work, formula, &area, from, false);
    any = add_floor(work, formula, &area, to != from ? to : NULL, any);
    const Entity *space = first_aboard(work->model, KIND_SPACE);
    const Entity *asked = from != NULL ? from : to != NULL ? to : space;
    for (; space != NULL && from == NULL && to == NULL; space = next_aboard(space)) {
        any = add_floor(work, formula, &area, is_apart(space) ? NULL : space, any);
    }
    if (!any) {
        buf_text(formula, "the floor of the space");
        use_missing(work, asked != NULL ? asked : work->model->boat, asked != NULL ? PROP_SPACE_FLOOR : PROP_NONE);
    }
    return area;
}

/* One end of everything that the time hangs on. */
typedef struct Race {
    double area, bore, depth, bank_height, pumps;
} Race;

static double time_of(const Race *race)
{
    double above =
        fmax(0.0, -race->bank_height); /* of the sea over the bank, as long as it lies under water */
    if (!isfinite(race->pumps)) {
        return INFINITY;
    }
    return flooding_time_s(&(Flooding){.area_m2 = race->area,
                                       .hole_bore_m = race->bore,
                                       .discharge = HOLE_DISCHARGE,
                                       .head_begin_m = race->depth,
                                       .head_end_m = fmin(above, race->depth),
                                       .pumps_m3_per_s = race->pumps});
}

/* An opening that surely stands above a bank fills the bilge from below: how long that takes nobody can say. */
static bool stands_above(const Entity *fitting, const Entity *bank)
{
    const Value *own = property_value(entity_property(fitting, PROP_THROUGH_HULL_HEIGHT), 0);
    const Value *of_bank = property_value(entity_property(bank, PROP_COMMON_AT), 2);
    return of_bank->kind == VALUE_QUANTITY && own->u.quantity.low >= of_bank->u.quantity.high;
}

/*
 * The time by one opening. It rises with area, depth (for then the water begins lower), the bank's height and
 * the pumps, and falls with bore.
 */
static Interval time_by(const Entity *fitting, Interval area, Interval bank_height, Interval pumps)
{
    const Value *bore = property_value(entity_property(fitting, PROP_THROUGH_HULL_BORE), 0);
    const Value *height = property_value(entity_property(fitting, PROP_THROUGH_HULL_HEIGHT), 0);
    Interval depth = depth_of((Interval){height->u.quantity.low, height->u.quantity.high});
    Race least = {area.low, bore->u.quantity.high, depth.low, bank_height.low, pumps.low};
    Race most = {area.high, bore->u.quantity.low, depth.high, bank_height.high, pumps.high};
    return (Interval){time_of(&least), time_of(&most)};
}

/* Whether the pumps of the whole boat work against all that could reach a bank. */
static bool all_pumps_work(const Work *work, const Entity *bank, const Figure *all)
{
    for (const Entity *e = first_flooding(work->model); e != NULL; e = next_flooding(e)) {
        if (!stands_above(e, bank) && reaches(e, bank) && pumping_against(work->figures, work->model, e) != all) {
            return false;
        }
    }
    return true;
}

/* What works against one opening, where that is not told of all of them. */
static Interval use_pumping(Work *work, Buf *formula, const Entity *fitting)
{
    const Figure *pumping = pumping_against(work->figures, work->model, fitting);
    buf_format(formula, "against {%.*s.pumping}", STR_ARG(entity_name(work->model, pumping->subject)));
    return use_figure(work, pumping).value;
}

static void record_time(Work *work, const Entity *bank)
{
    Buf formula;
    Interval soonest = {INFINITY, INFINITY};
    const Figure *of_boat = figure_find(work->figures, work->model->boat, FIGURE_PUMPING, NULL);
    bool all = all_pumps_work(work, bank, of_boat);
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    buf_format(&formula, "from the level of the opening up to {height}, %sby ", all ? "against {pumping}, " : "");
    Interval height = use_value(work, bank, PROP_COMMON_AT, 2).value;
    if (height.low >= 0.0) {
        return; /* it lies over the sea: by the time that the water stands there she has sunk deeper, which nobody reckons here */
    }
    Interval pumps = all ? use_figure(work, of_boat).value : point(0.0);
    bool first = true;
    for (const Entity *e = first_flooding(work->model); e != NULL; e = next_flooding(e)) {
        if (stands_above(e, bank) || !reaches(e, bank)) {
            continue;
        }
        buf_format(&formula, "%s{%.*s.inflow} over ", first ? "" : ", or ", STR_ARG(entity_name(work->model, e)));
        use_figure(work, figure_find(work->figures, e, FIGURE_INFLOW, NULL));
        Interval area = use_floors(work, &formula, e, bank);
        if (!all) {
            buf_char(&formula, ' ');
            pumps = use_pumping(work, &formula, e);
        }
        first = false;
        if (work->state == STATE_KNOWN) {
            soonest = interval_min(soonest, time_by(e, area, height, pumps));
        }
    }
    if (!first) {
        work_record(work, FIGURE_FLOODING_TIME, bank, NULL, soonest, formula.text);
    }
}

void water_flood(Work *work)
{
    const Model *model = work->model;
    if (first_flooding(model) == NULL) {
        return;
    }
    const Figure *pumping = figure_find(work->figures, model->boat, FIGURE_PUMPING, NULL);
    UnitPair unit = pumping != NULL && pumping->input_count > 0 ? pumping->unit : work_unit(work, litres_a_minute);
    for (const Entity *e = first_flooding(model); e != NULL; e = next_flooding(e)) {
        record_inflow(work, e, unit);
    }
    record_worst(work, unit);
    for (const Entity *bank = first_aboard(model, KIND_BANK); bank != NULL; bank = next_aboard(bank)) {
        if (entity_states(bank, PROP_COMMON_AT)) {
            record_time(work, bank);
        }
    }
}
