/* Laying up for the winter, of drive and fuel: what is done with what is aboard. */
#include "output/book_winter.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "output/book_system.h"

#include <string.h>

typedef struct Step {
    KindId kind;
    bool (*wanted)(const Entity *entity); /* NULL: all of the kind */
    const char *text;
} Step;

/* What stays in it all winter, and cracks it if it freezes. */
static bool has_closed_circuit(const Entity *engine)
{
    return burns_within(engine) && !takes_sea_water(engine) && !str_is(entity_word(engine, PROP_ENGINE_COOLING), "air");
}

static bool exhaust_is_dry(const Entity *exhaust)
{
    return !exhaust_is_wet(exhaust);
}

static bool burns_outside(const Entity *engine)
{
    return burns_fuel(engine) && is_outboard(engine);
}

static bool has_leg(const Entity *engine)
{
    return !is_outboard(engine) && !turns_a_shaft(engine);
}

static bool is_lithium(const Entity *bank)
{
    return str_is(entity_word(bank, PROP_BANK_CHEMISTRY), "lifepo4");
}

static bool is_flooded(const Entity *bank)
{
    return str_is(entity_word(bank, PROP_BANK_CHEMISTRY), "flooded");
}

static bool is_sealed_lead(const Entity *bank)
{
    return str_is(entity_word(bank, PROP_BANK_CHEMISTRY), "agm") || str_is(entity_word(bank, PROP_BANK_CHEMISTRY), "gel");
}

/* The oil of a leg is told with the leg. */
static bool is_on_a_shaft(const Entity *gearbox)
{
    const Entity *engine = entity_reference(gearbox, PROP_GEARBOX_ENGINE);
    return engine == NULL || (!is_outboard(engine) && !has_leg(engine));
}

/* Pink spots are copper that zinc has left: bronzes, or what does not say. */
static bool may_lose_zinc(const Entity *propeller)
{
    Str material = entity_word(propeller, PROP_PROPELLER_MATERIAL);
    return material.length == 0 || str_is(material, "bronze") || str_is(material, "manganese-bronze") ||
           str_is(material, "aluminium-bronze");
}

static bool cannot_lose_zinc(const Entity *propeller)
{
    return !may_lose_zinc(propeller);
}

static bool is_by_tiller(const Entity *steering)
{
    return str_is(entity_word(steering, PROP_STEERING_WORKED_BY), "tiller");
}

static bool has_no_second(const Entity *steering)
{
    return !is_by_tiller(steering) && entity_yes(steering, PROP_STEERING_SECOND) == 0;
}

static bool may_have_second(const Entity *steering)
{
    return !is_by_tiller(steering) && entity_yes(steering, PROP_STEERING_SECOND) != 0;
}

static bool stays_aboard(const Entity *thing)
{
    return !is_carried(thing);
}

static bool holds_diesel(const Model *model, const Entity *tank)
{
    return holds_fuel(tank) && !is_carried(tank) && fuel_held(model, tank) == FUEL_DIESEL;
}

static bool holds_petrol(const Model *model, const Entity *tank)
{
    return holds_fuel(tank) && !is_carried(tank) && fuel_held(model, tank) == FUEL_PETROL;
}

static bool holds_either(const Model *model, const Entity *tank)
{
    return holds_fuel(tank) && !is_carried(tank) && fuel_held(model, tank) == FUEL_UNKNOWN;
}

static bool is_can(const Model *model, const Entity *tank)
{
    (void)model;
    return holds_fuel(tank) && is_carried(tank);
}

/* What is done with a tank, by what is in it. */
static const struct {
    const char *text;
    bool (*wanted)(const Model *model, const Entity *tank);
} tank_steps[] = {
    {"Diesel tank: fill it, so that no water condenses in it, and add a biocide; drain what stands below the "
     "pick-up in spring.",
     holds_diesel},
    {"Petrol tank: petrol goes stale in a winter. Either empty tank, lines and engine, or fill in fresh petrol with a "
     "stabiliser and run the engine until it has come everywhere, as the engine's maker says. Leave room at the top, for petrol "
     "swells in the sun, and no biocide: that is for diesel. Shut the valve and keep the space aired.",
     holds_petrol},
    {"Fuel tank of which the spec does not say whether it holds petrol or diesel: find out first. Diesel is filled up and gets a "
     "biocide; petrol is taken out, or stabilised with room left at the top.",
     holds_either},
    {"Cans of fuel: carry them out of the boat, to where no flame and no spark is.", is_can},
};

static const Step winter_steps[] = {
    {KIND_ENGINE, burns_within,
     "Engine: run it warm and change oil and oil filter, so that acids do not lie in it all winter."},
    {KIND_ENGINE, takes_sea_water,
     "Cooling: shut the intake, let it draw antifreeze for the raw-water side until that comes out of the "
     "exhaust, and stop it. Check the mixture of the closed circuit. Take the impeller out."},
    {KIND_ENGINE, has_closed_circuit,
     "Engine that no sea water cools: check the mixture of its closed circuit, keel cooler and header tank with it, for the "
     "coldest night; it stays in all winter, and plain water cracks the block."},
    {KIND_ENGINE, is_electric,
     "Electric engine: isolate its bank and give the controller time to discharge, as its maker says. Look at terminals and cables for "
     "salt and marks of heat, protect what cools it against frost, and keep motor and controller dry."},
    {KIND_BANK, is_flooded,
     "Flooded bank: charge it full, then top up its cells with distilled water; switch everything off, or take the terminals off, "
     "the negative one first. Charge it again every four to six weeks, in moving air, for it gives off hydrogen. Flat it freezes at "
     "some -7 C and cracks, full it does not before -50 C (from memory). A bilge pump or an alarm that hangs on it empties it "
     "meanwhile: look at it more often, or give it a charge of its own."},
    {KIND_BANK, is_sealed_lead,
     "AGM or gel bank: charge it full and switch everything off, and charge it again every two or three months. Flat it freezes as "
     "any lead battery does. A bilge pump or an alarm that hangs on it empties it meanwhile."},
    {KIND_BANK, is_lithium,
     "Lithium bank: leave it about half charged and switched off, so that nothing draws from it and nothing charges it; "
     "a bilge pump or an alarm that hangs on it needs another supply. Look at its charge every two or three months, and never "
     "charge it while its cells are below 0 C. What its maker says goes before this."},
    {KIND_GENERATOR, stays_aboard,
     "Generator: run it warm, change oil and oil filter, look at the mixture of its closed circuit. Where sea water cools it, shut "
     "the intake, let it draw antifreeze until that comes out of the exhaust, stop it and take the impeller out."},
    {KIND_GENERATOR, is_carried,
     "Generator that is carried: take it ashore, change its oil, and leave no stale petrol in tank and carburettor."},
    {KIND_ENGINE, burns_outside,
     "Outboard: flush it with fresh water, let it run empty upright, change the oil of its leg and look for "
     "water in the old one; keep it upright."},
    {KIND_ENGINE, has_leg,
     "Leg: change its oil and look for water in the old one, renew its anodes, and look at its bellows or seal."},
    {KIND_GEARBOX, is_on_a_shaft,
     "Gearbox: change its oil if that is milky, and look for where the water comes from."},
    {KIND_FUEL_LINE, NULL,
     "Fuel lines: shut the valve at the tank, drain the separator and change the filters; those of a diesel are bled."},
    {KIND_EXHAUST, exhaust_is_dry,
     "Dry exhaust: drain its trap for condensate, cap the pipe against rain, and hang a note on the key that says so."},
    {KIND_EXHAUST, exhaust_is_wet,
     "Exhaust: drain the water lock. Stop the outlet, and hang a note on the key that says so."},
    {KIND_PROPELLER, may_lose_zinc,
     "Propeller: look, ashore, for pink spots, nicks and play in the bearing; grease or renew what the maker "
     "says."},
    {KIND_PROPELLER, cannot_lose_zinc,
     "Propeller that is not of bronze: look, ashore, for pits, nicks and play in the bearing; grease or renew what the maker says."},
    {KIND_SHAFT_SEAL, NULL,
     "Shaft seal: look for drips before she comes out, and service it as its maker says."},
    {KIND_ANODE, NULL, "Anodes: renew what is half gone; never paint it."},
    {KIND_THRUSTER, NULL,
     "Thruster: clean tunnel and blades, renew its anode, and load its battery cables once."},
    {KIND_STEERING, is_by_tiller, "Tiller: look for play between tiller, stock and rudder, and in the rudder's bearings or pintles."},
    {KIND_STEERING, may_have_second, "Steering: grease or bleed it, and try the second way to steer."},
    {KIND_STEERING, has_no_second, "Steering, of which there is one way alone: grease or bleed it."},
};

/* With which options something aboard asks for it. */
static CaseSet cases_of(const Book *book, const Step *step)
{
    CaseSet cases = 0;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *thing = first_aboard(book->outcome->cases[c].model, step->kind);
        while (thing != NULL && step->wanted != NULL && !step->wanted(thing)) {
            thing = next_aboard(thing);
        }
        cases |= thing != NULL ? (CaseSet)1 << c : 0;
    }
    return cases;
}

/* "Outboard (with motor=small): flush it ..." */
static void write_step(Book *book, const char *text, CaseSet cases, bool *begun)
{
    size_t head = strcspn(text, ":");
    if (cases == 0) {
        return;
    }
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Laying up for the winter"), NULL);
        book_say(book, "Common practice, no source; the makers' books go before it.");
        *begun = true;
    }
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, (Str){text, head});
    markdown_text(&book->md, str_from(book_with(book, cases)));
    markdown_text(&book->md, str_from(text + head));
}

static void write_tank_steps(Book *book, bool *begun)
{
    for (size_t i = 0; i < sizeof tank_steps / sizeof tank_steps[0]; i++) {
        CaseSet cases = 0;
        for (uint32_t c = 0; c < book->outcome->case_count; c++) {
            const Model *model = book->outcome->cases[c].model;
            const Entity *tank = first_aboard(model, KIND_TANK);
            while (tank != NULL && !tank_steps[i].wanted(model, tank)) {
                tank = next_aboard(tank);
            }
            cases |= tank != NULL ? (CaseSet)1 << c : 0;
        }
        write_step(book, tank_steps[i].text, cases, begun);
    }
}

void book_laying_up(Book *book)
{
    bool begun = false;
    for (size_t i = 0; i < sizeof winter_steps / sizeof winter_steps[0]; i++) {
        if (winter_steps[i].kind == KIND_FUEL_LINE) {
            write_tank_steps(book, &begun);
        }
        write_step(book, winter_steps[i].text, cases_of(book, &winter_steps[i]), &begun);
    }
}
