/*
 * The load calculation of an inlet: lighting and outlets by the floor that people live on, and all that is built in.
 */
#include "figures/power_mains.h"
#include "figures/water.h"

#include "physics/service.h"

#include <math.h>

static bool is_living_space(const Power *power, const Entity *space)
{
    return !(space->flags & ENTITY_DROPPED) && !power_node(power, space)->hot && entity_yes(space, PROP_SPACE_PETROL) != 1;
}

/* What stands only where people live. */
static const KindId of_living[] = {KIND_FIXTURE, KIND_TOILET, KIND_OUTLET, KIND_GAS_APPLIANCE, KIND_BURNER};

/* Whether anything says that people live in a space of which nobody says how large it is: a chain locker asks for no light. */
static bool is_lived_in(const Power *power, const Entity *space)
{
    bool lined = entity_states(space, PROP_SPACE_SKIN) || entity_states(space, PROP_SPACE_GLASS) ||
                 entity_states(space, PROP_SPACE_BUILT);
    if (lined || entity_yes(space, PROP_SPACE_SLEEPING) == 1) {
        return true;
    }
    for (size_t i = 0; i < sizeof of_living / sizeof of_living[0]; i++) {
        for (const Entity *e = first_aboard(power->model, of_living[i]); e != NULL; e = next_aboard(e)) {
            if (entity_reference(e, PROP_COMMON_SPACE) == space) {
                return true;
            }
        }
    }
    return false;
}

/* Whether the spec says how large any living space is: else nobody asks for this calculation. */
static bool states_floors(const Power *power)
{
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (is_living_space(power, space) && entity_states(space, PROP_SPACE_FLOOR)) {
            return true;
        }
    }
    return false;
}

static Interval use_floors(Power *power)
{
    Interval floor = point(0.0);
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (is_living_space(power, space) && (entity_states(space, PROP_SPACE_FLOOR) || is_lived_in(power, space))) {
            Quantity one = use_value(power->work, space, PROP_SPACE_FLOOR, 0);
            floor = interval_add(floor, one.value);
        }
    }
    return floor;
}

/* Which spaces state no floor and are taken for none that people live in. */
static const char *remark_left_out(const Power *power)
{
    Buf text;
    buf_init(&text, power->work->figures->arena);
    for (const Entity *space = power->model->first_of_kind[KIND_SPACE]; space != NULL; space = space->next_of_kind) {
        if (is_living_space(power, space) && !entity_states(space, PROP_SPACE_FLOOR) && !is_lived_in(power, space)) {
            buf_format(&text, "%s`%.*s`", text.length > 0 ? ", " : "without ", STR_ARG(entity_name(power->model, space)));
        }
    }
    return text.length > 0 ? text.text : NULL;
}

static bool is_motor(const Entity *entity)
{
    switch ((KindId)entity->kind) {
    case KIND_PUMP:
    case KIND_BILGE_PUMP:
    case KIND_BLOWER:
    case KIND_COOLER:
    case KIND_THRUSTER:
    case KIND_WINDLASS:
    case KIND_TOILET: return true;
    default: return false;
    }
}

static void add_to_service(Service *service, const Entity *entity, double amps)
{
    if (is_motor(entity) && amps > service->largest_motor_a) {
        service->largest_motor_a = amps;
    }
    if (entity->kind == KIND_HEATER) {
        service->heating_a += amps;
    } else if (entity->kind == KIND_COOLER) {
        service->cooling_a += amps;
    } else if (is_motor(entity)) {
        service->motors_a += amps;
    } else {
        service->fixed_a += amps;
    }
}

/* Gathers both ends of what hangs on an inlet; false if no outlet does, and nothing is left to estimate. */
static bool gather_service(Power *power, const Behind *behind, Service *low, Service *high)
{
    bool outlets = false;
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (at->entity->kind == KIND_OUTLET) {
            uint32_t appliances = entity_yes(at->entity, PROP_OUTLET_APPLIANCES) == 1;
            outlets = true;
            low->appliances += appliances;
            high->appliances += appliances;
        } else if (!at->on_outlet && draws_mains(power, at->entity, &current)) {
            add_to_service(low, at->entity, current.low);
            add_to_service(high, at->entity, current.high);
        }
    }
    return outlets;
}

static void use_built_in(Power *power, const Behind *behind)
{
    Interval current;
    for (const Behind *at = behind; at != NULL; at = at->next) {
        if (!at->on_outlet && draws_mains(power, at->entity, &current)) {
            use_figure(power->work, power_node(power, at->entity)->current);
        }
    }
}

static const char formula_service[] = "{lighting and outlets} / {voltage} + all that is built in + the greater of heating and "
                                      "cooling + a quarter of the largest motor";

/* The two facts of the formula come first, then floors and currents, however many they are. */
void record_load_calculation(Power *power, const Entity *inlet)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, inlet);
    Interval volts = {node->nominal_v, node->nominal_most_v};
    const Behind *behind = volts.low > 0.0 && states_floors(power) ? mains_behind(power, inlet) : NULL;
    work_begin(work);
    Interval floor = behind != NULL ? use_floors(power) : point(0.0);
    Service low = {.volts = volts.high, .living_m2 = floor.low};
    Service high = {.volts = volts.low, .living_m2 = isfinite(floor.high) ? floor.high : 0.0};
    if (!gather_service(power, behind, &low, &high)) {
        return;
    }
    Interval base = {service_base_w(low.living_m2, low.appliances), service_base_w(high.living_m2, high.appliances)};
    base.high = isfinite(floor.high) ? base.high : INFINITY;
    double built_in = high.fixed_a + high.motors_a + high.heating_a + high.cooling_a;
    Interval current = {service_current_a(&low), isfinite(base.high) && isfinite(built_in) ? service_current_a(&high) : INFINITY};
    work_begin(work);
    use_fact(work,
             text_format(work->figures->arena,
                         "2 W a square foot, %u x 1500 W for outlets with `appliances yes`, of that 2000 W whole and "
                         "the rest at 35 %%",
                         (unsigned)low.appliances),
             base, UNIT_ALONE(UNIT_W), "ABYC E-11, NFPA 302, from memory");
    use_fact(work, "nominal voltage", volts, UNIT_ALONE(UNIT_V), "its own line");
    use_floors(power);
    use_built_in(power, behind);
    work_record(work, FIGURE_LOAD_CALCULATION, inlet, NULL, current, formula_service)->remark = remark_left_out(power);
}
