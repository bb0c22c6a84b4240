/*
 * What is to be done when the boat is left, and with the water before the first frost: steps for what is aboard.
 * Common practice, no source: each maker's own instructions come first.
 */
#include "output/book_winter.h"

#include "figures/fuel_plan.h"
#include "figures/water.h"

typedef struct Step {
    KindId kind;
    bool (*wanted)(const Entity *entity); /* NULL: all of the kind */
    const char *what;                     /* names follow */
    const char *how;
} Step;

/* What a through-hull with a seacock is there for, as far as that decides whether it may be shut. */
typedef enum Purpose {
    PURPOSE_SAID,
    PURPOSE_SILENT, /* nothing says it: it may be a cockpit drain */
    PURPOSE_RAIN,   /* it lets out what falls into a space that is open to the sky */
} Purpose;

typedef struct SeacockStep {
    Purpose purpose;
    const char *what, *how; /* as of a Step */
} SeacockStep;

static bool holds_fresh(const Entity *tank)
{
    return str_is(entity_word(tank, PROP_TANK_HOLDS), "fresh");
}

/* One that is carried ashore is emptied there all year. */
static bool keeps_waste_aboard(const Entity *tank)
{
    return !is_carried(tank) && holds_waste(tank);
}

/* What it moves is diesel or petrol: it does not freeze, and is not to be let out. */
static bool moves_fuel(const Entity *pump)
{
    const Property *from = entity_property(pump, PROP_PUMP_FROM);
    for (uint16_t i = 0; from != NULL && i < from->count; i++) {
        const Value *value = &from->values[i];
        if (value_entity(value) != NULL && value_entity(value)->kind == KIND_TANK &&
            str_is(entity_word(value_entity(value), PROP_TANK_HOLDS), "fuel")) {
            return true;
        }
    }
    return false;
}

static bool has_accumulator(const Entity *pump)
{
    return entity_states(pump, PROP_PUMP_ACCUMULATOR);
}

static bool is_by_hand(const Entity *pump)
{
    return entity_yes(pump, PROP_PUMP_HAND) == 1;
}

static bool has_motor(const Entity *pump)
{
    return !is_by_hand(pump);
}

static bool moves_water_by_motor(const Entity *pump)
{
    return !moves_fuel(pump) && has_motor(pump);
}

static bool moves_water_by_hand(const Entity *pump)
{
    return !moves_fuel(pump) && is_by_hand(pump);
}

static bool has_seacock(const Entity *fitting)
{
    return entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK) == 1;
}

static bool has_none_stated(const Entity *fitting)
{
    return !has_seacock(fitting) && !has_no_hose(fitting);
}

static bool has_hot_water(const Entity *fixture)
{
    return entity_yes(fixture, PROP_FIXTURE_HOT) == 1;
}

static bool has_cold_water_alone(const Entity *fixture)
{
    return !has_hot_water(fixture);
}

static bool composts_aboard(const Entity *toilet)
{
    return !is_carried(toilet) && str_is(entity_word(toilet, PROP_TOILET_WORKED_BY), "composting");
}

/* Flushed with water through hoses, unlike one that is carried ashore or composts. */
static bool is_piped(const Entity *toilet)
{
    return !is_carried(toilet) && !composts_aboard(toilet);
}

static bool is_automatic(const Entity *pump)
{
    return entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 1;
}

static bool has_valve(const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_SHUT_OFF) == 1;
}

static bool brings_fuel_by_a_valve(const Entity *line)
{
    return has_valve(line) && !is_return(line);
}

/* An injection pump that is started on a shut return works against pressure; on a shut feed the engine only stops. */
static bool returns_fuel_by_a_valve(const Entity *line)
{
    return has_valve(line) && is_return(line);
}

static bool has_element(const Entity *water_heater)
{
    return entity_states(water_heater, PROP_WATER_HEATER_ELEMENT);
}

static bool has_no_element(const Entity *water_heater)
{
    return !has_element(water_heater);
}

static bool makes_water(const Entity *load)
{
    return entity_states(load, PROP_LOAD_MAKES_WATER);
}

static bool burns_liquid(const Entity *heater)
{
    return entity_states(heater, PROP_HEATER_FUEL) && !burns_wood(heater);
}

static bool burns_nothing_said(const Entity *heater)
{
    return !entity_states(heater, PROP_HEATER_FUEL);
}

/* By a coil in the circuit of a stove or heater: that has a boiler of its own, and often radiators. */
static bool is_on_a_boiler(const Entity *water_heater)
{
    return entity_states(water_heater, PROP_WATER_HEATER_HEATED_BY);
}

static bool heats_water(const Entity *appliance)
{
    return str_is(entity_word(appliance, PROP_GAS_APPLIANCE_WORKS_AS), "water-heater");
}

static bool is_of_a_bank(const Entity *contact)
{
    return str_is(entity_word(contact, PROP_SWITCH_WORKS_AS), "battery");
}

static const Step on_leaving[] = {
    {KIND_GAS_LOCKER, NULL, "Close the valve of each cylinder in ", ": gas that leaks flows down into the boat and stays there"},
    {KIND_FUEL_LINE, brings_fuel_by_a_valve, "Close the fuel valve of ", ": a line that leaks then empties no tank into the bilge"},
    {KIND_FUEL_LINE, returns_fuel_by_a_valve, "Close the fuel valve of ",
     ", and leave a note, or the engine's key, at it: it has to be open again before an engine is started, whose pump a shut "
     "return can burst"},
    {KIND_THROUGH_HULL, has_none_stated, "Look at hose and clamps of ",
     ": no seacock is stated, so nothing shuts the sea out if one comes off"},
    {KIND_PUMP, has_motor, "Switch off ", ": a hose that comes off then empties no tank into the bilge"},
    {KIND_WATER_HEATER, has_element, "Switch off the element of ", ": one that is forgotten, or dry, burns out"},
    {KIND_HEATER, burns_wood, "Let the fire of ", " burn out while you are aboard, and carry the ashes ashore cold: embers glow for a day"},
    {KIND_HEATER, burns_liquid, "Switch off ", ", and let it run down by itself before fuel or current is shut off"},
    {KIND_HEATER, burns_nothing_said, "Switch off ", ""},
    {KIND_LOAD, makes_water, "Switch off ", " and rinse its membrane with fresh water: sea water that stands in it grows foul"},
    {KIND_SWITCH, is_of_a_bank, "Switch off the banks at ", ", unless a bilge pump, an alarm or a charger hangs on it"},
    {KIND_INLET, NULL, "Unplug the shore cord of ",
     ", ashore first, unless the banks have to be kept charged; then look at plug and cord for heat before you go"},
    {KIND_BILGE_PUMP, is_automatic, "Lift the switch of ", ": it has to start by itself, and stays on"},
};

static const SeacockStep seacocks_on_leaving[] = {
    {PURPOSE_SAID, "Close the seacocks of ", "; move each through its whole way while you are there"},
    {PURPOSE_SILENT, "Close the seacocks of ",
     ", unless they drain the cockpit: nothing says what they are for, and a cockpit drain stays open"},
    {PURPOSE_RAIN, "Leave open the seacocks of ",
     ", by which rain runs out: closed, they let it fill the cockpit and then the boat. Look at hose and clamps, and "
     "clear them of leaves"},
};

static const SeacockStep seacocks_before_frost[] = {
    {PURPOSE_SAID, "Drain the seacocks of ",
     ": ashore they stay open, afloat they are drained at their plug and shut"},
    {PURPOSE_SILENT, "Drain the seacocks of ",
     ": ashore they stay open, afloat they are drained at their plug and shut, unless they drain the cockpit"},
    {PURPOSE_RAIN, "Clear ", ", by which rain runs out: they stay open, ashore and afloat"},
};

static const Step before_frost[] = {
    {KIND_WATER_HEATER, is_on_a_boiler, "Light no stove and start no heater whose circuit heats ",
     " until all is full again: let the water out of boiler, circuit and radiators, or see that enough antifreeze is in it"},
    {KIND_WATER_HEATER, has_element, "Switch off the element of ",
     " and let its water out by the drain, with a tap open; never heat it empty"},
    {KIND_WATER_HEATER, has_no_element, "Let the water of ", " out by the drain, with a tap open; nothing may heat it empty"},
    {KIND_GAS_APPLIANCE, heats_water, "Shut the gas of ",
     " and let its water out by the drain, with a tap open: its coil holds little, and bursts first"},
    {KIND_LOAD, makes_water, "Lay up ",
     " as its maker says: its pump, its filters and the vessel of its membrane hold water and burst, and the membrane is kept in a "
     "liquid of its own"},
    {KIND_TANK, holds_fresh, "Empty ", " and leave the inspection opening ajar to dry"},
    {KIND_FIXTURE, has_hot_water, "Open the taps of ", ", hot and cold, and leave them open"},
    {KIND_FIXTURE, has_cold_water_alone, "Open the taps of ", " and leave them open"},
    {KIND_PUMP, moves_water_by_motor, "Run ",
     " for a moment until no more water comes, then switch off; drain housing and strainer"},
    {KIND_PUMP, moves_water_by_hand, "Work ", " until no more water comes, and let what is left out of housing and strainer"},
    {KIND_PUMP, has_accumulator, "Let the water out of the accumulator of ", "; its air stays in"},
    {KIND_TANK, keeps_waste_aboard, "Pump out and rinse ", ": what stays in its hoses freezes"},
    {KIND_TOILET, is_carried, "Carry ", " ashore, empty it and leave it open to dry"},
    {KIND_TOILET, composts_aboard, "Empty ", ", its bottle of liquids first: that freezes"},
    {KIND_TOILET, is_piped, "Empty ",
     ", bowl, pump and both hoses, and leave in it a frost-proof liquid that is made for such systems"},
    {KIND_STRAINER, NULL, "Drain and clean ", ", its seacock shut"},
    {KIND_BILGE_PUMP, NULL, "Dry the sump and the hose of ", ", and try it in spring before she is launched"},
};

/* Of fittings: what must stay open is neither worked nor looked at for a hose. */
static bool is_wanted_in(const Model *model, const Entity *thing, const Step *step)
{
    return thing != NULL && thing->kind == step->kind && !(thing->flags & ENTITY_DROPPED) &&
           (step->wanted == NULL || step->wanted(thing)) &&
           (thing->kind != KIND_THROUGH_HULL || serves_open(model, thing) == NULL);
}

/* With which options it asks for the step. */
static CaseSet cases_of(const Book *book, const BookThing *thing, const Step *step)
{
    CaseSet cases = 0;
    for (uint32_t c = 0; c < book->outcome->case_count && thing->entity->kind == step->kind; c++) {
        const Entity *same = book_same_thing(&book->outcome->cases[c], thing->entity);
        cases |= is_wanted_in(book->outcome->cases[c].model, same, step) ? (CaseSet)1 << c : 0;
    }
    return cases;
}

/* One name more in a step, which begins with the first. */
static void add_name(Book *book, const char *what, const BookThing *thing, CaseSet cases, bool *any)
{
    if (!*any) {
        markdown_item(&book->md, MARKDOWN_NUMBER, 0);
    }
    markdown_text(&book->md, *any ? STR(", ") : str_from(what));
    markdown_code(&book->md, book_name(book, thing->entity));
    markdown_text(&book->md, str_from(book_with(book, cases)));
    *any = true;
}

/* One step, if there is anything aboard that it is for. */
static bool write_step(Book *book, const Step *step)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        CaseSet cases = cases_of(book, t, step);
        if (cases != 0) {
            add_name(book, step->what, t, cases, &any);
        }
    }
    if (any) {
        markdown_format(&book->md, "%s.", step->how);
    }
    return any;
}

static const Entity *named_in(const Value *value)
{
    return value_entity(value);
}

/* A space that is open to the sky, as a cockpit: rain falls into it. */
static bool drains_rain(const Entity *fitting)
{
    const Property *serves = entity_property(fitting, PROP_THROUGH_HULL_SERVES);
    for (uint16_t i = 0; serves != NULL && i < serves->count; i++) {
        const Entity *served = named_in(&serves->values[i]);
        if (served != NULL && served->kind == KIND_SPACE && entity_yes(served, PROP_SPACE_OPEN_AIR) == 1) {
            return true;
        }
    }
    return false;
}

static void note_named(CaseSet *named, const Model *model, CaseSet bit)
{
    for (uint32_t e = 0; e < model->entity_count; e++) {
        const Block *block = &model->entities[e]->block;
        for (uint32_t p = 0; p < block->count; p++) {
            for (uint16_t i = 0; i < block->properties[p].count; i++) {
                const Entity *other = named_in(&block->properties[p].values[i]);
                if (other != NULL) {
                    named[other->name] |= bit;
                }
            }
        }
    }
}

/* By Symbol, in which cases some thing of the boat names it: one pass over all. */
static const CaseSet *all_named(const Book *book)
{
    CaseSet *named = ARENA_ARRAY(book->arena, CaseSet, symbols_end(book->outcome->spec->symbols));
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        note_named(named, book->outcome->cases[c].model, (CaseSet)1 << c);
    }
    return named;
}

static Purpose purpose_of(bool named, const Entity *fitting)
{
    bool said = entity_states(fitting, PROP_THROUGH_HULL_SERVES) || named;
    return drains_rain(fitting) ? PURPOSE_RAIN : said ? PURPOSE_SAID : PURPOSE_SILENT;
}

static void write_seacock_step(Book *book, const CaseSet *named, const SeacockStep *step)
{
    static const Step of_seacocks = {KIND_THROUGH_HULL, has_seacock, "", ""};
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        CaseSet cases = cases_of(book, t, &of_seacocks);
        for (uint32_t c = 0; c < book->outcome->case_count; c++) {
            const Entity *here = cases >> c & 1 ? book_same_thing(&book->outcome->cases[c], t->entity) : NULL;
            if (here != NULL && purpose_of(named[here->name] >> c & 1, here) != step->purpose) {
                cases &= ~((CaseSet)1 << c);
            }
        }
        if (cases != 0) {
            add_name(book, step->what, t, cases, &any);
        }
    }
    if (any) {
        markdown_format(&book->md, "%s.", step->how);
    }
}

static void write_seacocks(Book *book, const SeacockStep steps[], size_t count)
{
    const CaseSet *named = all_named(book);
    for (size_t i = 0; i < count; i++) {
        write_seacock_step(book, named, &steps[i]);
    }
}

static bool applies(const Book *book, const Step steps[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (cases_of(book, t, &steps[i]) != 0) {
                return true;
            }
        }
    }
    return false;
}

/* Whether there is anything to do: then the heading is there. */
static bool begins(Book *book, const char *heading, const Step steps[], size_t count)
{
    static const Step of_seacocks = {KIND_THROUGH_HULL, has_seacock, "", ""};
    bool any = applies(book, steps, count) || applies(book, &of_seacocks, 1);
    if (any) {
        markdown_heading(&book->md, 3, str_from(heading), NULL);
    }
    return any;
}

static void write_steps(Book *book, const Step steps[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        write_step(book, &steps[i]);
    }
}

static void end_steps(Book *book)
{
    book_say(book, "Common practice, no source; what the maker of each asks comes first.");
}

#define COUNT_OF(list) (sizeof(list) / sizeof(list)[0])

void book_leaving(Book *book)
{
    if (begins(book, "When she is left", on_leaving, COUNT_OF(on_leaving))) {
        write_seacocks(book, seacocks_on_leaving, COUNT_OF(seacocks_on_leaving));
        write_steps(book, on_leaving, COUNT_OF(on_leaving));
        end_steps(book);
    }
}

void book_winter(Book *book)
{
    if (begins(book, "Before the first frost", before_frost, COUNT_OF(before_frost))) {
        write_steps(book, before_frost, COUNT_OF(before_frost));
        write_seacocks(book, seacocks_before_frost, COUNT_OF(seacocks_before_frost));
        end_steps(book);
    }
}
