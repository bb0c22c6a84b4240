/*
 * Gas by the heat of what burns it: how much each gas appliance takes in a day from its heat input and its `use`, and all
 * of them together. A day that states its `gas` needs none of this: that is the owner's word for all of it.
 *
 * Plates state heat input by the net or by the gross heat of the gas, and rarely which: both ends count. A cooker that
 * states its `output` alone is taken to burn that heat, as burners are rated by what they burn (from memory).
 */
#include "figures/drive.h"
#include "figures/power.h"
#include "figures/water.h"

#include "base/date.h"

bool states_heat_input(const Entity *appliance)
{
    const Value *heat = property_value(entity_property(appliance, PROP_GAS_APPLIANCE_HEAT_INPUT), 0);
    return heat->kind == VALUE_QUANTITY && dimension_equal(unit_dimension(heat->unit), unit_dimension(UNIT_ALONE(UNIT_W)));
}

/* The locker that it states, or the only one there is. */
static const Entity *locker_of(const Model *model, const Entity *appliance)
{
    const Entity *stated = entity_reference(appliance, PROP_GAS_APPLIANCE_LOCKER), *first = first_aboard(model, KIND_GAS_LOCKER);
    bool alone = first != NULL && next_aboard(first) == NULL;
    return stated != NULL ? stated : alone ? first : NULL;
}

/* From the net heat of a gas to its gross heat, or the one by which the plate goes, in J/kg. */
static Interval heat_between(DriveLimit net, DriveLimit gross, Str by)
{
    double low = drive_limit(net)->value, high = drive_limit(gross)->value;
    return (Interval){str_is(by, "gross") ? high : low, str_is(by, "net") ? low : high};
}

static const char *say_heat(const Work *work, Str gas, Str by)
{
    gas = gas.length > 0 ? gas : STR("propane or butane");
    by = by.length > 0 ? by : STR("from net to gross");
    Arena *arena = work->figures->arena;
    return formula_is_read(work) ? text_format(arena, "heat in a kilogram of %.*s, %.*s", STR_ARG(gas), STR_ARG(by)) : "heat";
}

/* What a kilogram of its gas gives, in J/kg: of an unknown gas, of either; the fact stands for what would narrow it. */
static Interval use_heat_of_gas(Work *work, const Entity *appliance)
{
    const Entity *locker = locker_of(work->model, appliance);
    Str gas = locker != NULL ? entity_word(locker, PROP_GAS_LOCKER_GAS) : (Str){"", 0};
    Str by = entity_word(appliance, PROP_GAS_APPLIANCE_HEAT_BY);
    Interval of_propane = heat_between(DRIVE_PROPANE_NET, DRIVE_PROPANE_GROSS, by);
    Interval of_butane = heat_between(DRIVE_BUTANE_NET, DRIVE_BUTANE_GROSS, by);
    Interval heat = str_is(gas, "propane")  ? of_propane
                    : str_is(gas, "butane") ? of_butane
                                            : interval_hull(of_propane, of_butane);
    Fact fact = {.what = say_heat(work, gas, by),
                 .low = heat.low,
                 .high = heat.high,
                 .unit = UNIT_BY(UNIT_MJ, UNIT_KG),
                 .source = drive_limit(DRIVE_PROPANE_NET)->source};
    note_read(work, PROP_GAS_LOCKER_GAS);
    note_read(work, PROP_GAS_APPLIANCE_HEAT_BY);
    if (locker != NULL && gas.length == 0) {
        return use_assumption(work, locker, PROP_GAS_LOCKER_GAS, 0, fact).value;
    }
    return by.length == 0 ? use_assumption(work, appliance, PROP_GAS_APPLIANCE_HEAT_BY, 0, fact).value
                          : use_fact(work, fact.what, heat, fact.unit, fact.source).value;
}

/* What it burns with all its flames full, in kg/s, written to the formula. */
static Interval use_rate(Work *work, const Entity *appliance, Buf *formula)
{
    bool stated = entity_states(appliance, PROP_GAS_APPLIANCE_HEAT_INPUT);
    bool cooker = str_is(entity_word(appliance, PROP_GAS_APPLIANCE_WORKS_AS), "cooker");
    bool by_output = !stated && cooker && entity_states(appliance, PROP_GAS_APPLIANCE_OUTPUT);
    Interval heat = use_value(work, appliance, by_output ? PROP_GAS_APPLIANCE_OUTPUT : PROP_GAS_APPLIANCE_HEAT_INPUT, 0).value;
    buf_text(formula, by_output ? "{output}" : "{heat-input}");
    if (!by_output && !states_heat_input(appliance)) {
        return heat; /* by weight, or a mistake, or nothing */
    }
    buf_text(formula, " / {heat in a kilogram}");
    return interval_divide(heat, use_heat_of_gas(work, appliance));
}

/* How long it burns on that day, in s, each line of its `use` in the formula. */
static Interval use_time(Work *work, const Entity *appliance, const Entity *day, Buf *formula)
{
    Interval time = point(0.0);
    Buf hours;
    unsigned lines = 0;
    buf_init(&hours, work->figures->arena);
    for (const Property *use = entity_property(appliance, PROP_GAS_APPLIANCE_USE); use != NULL; use = block_next(&appliance->block, use)) {
        if (value_names(property_value(use, 0), day)) {
            bool share = unit_dimension(property_value(use, 1)->unit).tag == TAG_RATIO;
            use_statement(work, appliance, use, 1);
            lines++;
            buf_text(&hours, lines == 1 ? "{use}" : text_format(work->figures->arena, " + {use %u}", lines));
            buf_text(&hours, share ? " x 24 h" : "");
        }
    }
    if (use_is_mistaken(appliance, day)) {
        use_waiting(work);
    }
    buf_format(formula, " x %s%s%s", lines > 1 ? "(" : "", lines > 0 ? hours.text : "{use}", lines > 1 ? ")" : "");
    use_seconds(appliance, day, &time);
    return time;
}

/* Whether a line of its `use` is of that day, or may be. */
static bool burns_on(const Entity *appliance, const Entity *day)
{
    Interval unread;
    return use_seconds(appliance, day, &unread) || use_is_mistaken(appliance, day);
}

/* On a day of which it states no use it burns nothing, whatever its rate: that may be unknown. */
static void record_burned(Work *work, const Entity *appliance, const Entity *day)
{
    Buf formula;
    buf_init(&formula, work->figures->arena);
    work_begin(work);
    if (!burns_on(appliance, day)) {
        use_fact(work, "gas, no `use` of that day being stated", point(0.0), UNIT_ALONE(UNIT_KG), "how the spec is read");
        work_record(work, FIGURE_GAS_BURNED, appliance, day, point(0.0), "{gas}")->unit = work_unit(work, UNIT_ALONE(UNIT_KG));
        return;
    }
    Interval rate = use_rate(work, appliance, &formula);
    Interval time = use_time(work, appliance, day, &formula);
    buf_text(&formula, entity_states(appliance, PROP_COMMON_COUNT) ? " x {count}" : "");
    Interval burned = interval_multiply(interval_multiply(rate, time), use_count(work, appliance).value);
    work_record(work, FIGURE_GAS_BURNED, appliance, day, burned, formula.text)->unit = work_unit(work, UNIT_ALONE(UNIT_KG));
}

/* Of all that states a `use` of any day: on the others it burns nothing. */
static void record_daily(Work *work, const Entity *locker, const Entity *day)
{
    Sum sum;
    bool any = false;
    for (const Entity *e = first_aboard(work->model, KIND_GAS_APPLIANCE); e != NULL; e = next_aboard(e)) {
        if (states_use(e)) {
            record_burned(work, e, day);
            any = true;
        }
    }
    if (!any || locker == NULL || entity_states(day, PROP_DAY_GAS)) {
        return;
    }
    sum_begin(&sum, work);
    for (const Entity *e = first_aboard(work->model, KIND_GAS_APPLIANCE); e != NULL; e = next_aboard(e)) {
        if (states_use(e)) {
            sum_next(&sum);
            sum_label(&sum, work, "", e, "gas-burned");
            sum_add(&sum, use_figure(work, figure_find(work->figures, e, FIGURE_GAS_BURNED, day)).value);
        }
    }
    work_record(work, FIGURE_DAILY_GAS, locker, day, sum.value, sum.formula.text)->unit = work_unit(work, UNIT_ALONE(UNIT_KG));
}

void water_gas_burned(Work *work)
{
    const Entity *locker = first_aboard(work->model, KIND_GAS_LOCKER);
    note_read(work, PROP_GAS_APPLIANCE_USE);
    note_read(work, PROP_DAY_GAS);
    for (const Entity *day = first_aboard(work->model, KIND_DAY); day != NULL; day = next_aboard(day)) {
        record_daily(work, locker, day);
    }
}

static const Figure *daily_gas(const Figures *figures, const Entity *day)
{
    const Entity *locker = first_aboard(figures->model, KIND_GAS_LOCKER);
    return locker != NULL ? figure_find(figures, locker, FIGURE_DAILY_GAS, day) : NULL;
}

bool day_takes_gas(const Figures *figures, const Entity *day)
{
    return entity_states(day, PROP_DAY_GAS) || daily_gas(figures, day) != NULL;
}

Quantity use_gas_of_day(Work *work, const Entity *day)
{
    const Figure *burned = entity_states(day, PROP_DAY_GAS) ? NULL : daily_gas(work->figures, day);
    return burned != NULL ? use_figure(work, burned) : use_value(work, day, PROP_DAY_GAS, 0);
}
