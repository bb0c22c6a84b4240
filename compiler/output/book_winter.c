/*
 * What is to be done with the water when the boat is left, and before the first frost: steps for what is aboard.
 * Common practice, no source: each maker's own instructions come first.
 */
#include "output/book_winter.h"

#include "figures/water.h"

typedef struct Step {
    KindId kind;
    bool (*wanted)(const Entity *entity); /* NULL: all of the kind */
    const char *what;                     /* names follow */
    const char *how;
} Step;

static bool holds_fresh(const Entity *tank)
{
    return str_is(entity_word(tank, PROP_TANK_HOLDS), "fresh");
}

static bool is_carried(const Entity *thing)
{
    return entity_yes(thing, PROP_COMMON_PORTABLE) == 1;
}

static bool holds_waste(const Entity *tank)
{
    Str holds = entity_word(tank, PROP_TANK_HOLDS);
    return !is_carried(tank) && (str_is(holds, "black") || str_is(holds, "grey"));
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

static bool is_composting(const Entity *toilet)
{
    return !is_carried(toilet) && str_is(entity_word(toilet, PROP_TOILET_WORKED_BY), "composting");
}

/* Flushed with water through hoses, unlike one that is carried ashore or composts. */
static bool is_flushed(const Entity *toilet)
{
    return !is_carried(toilet) && !is_composting(toilet);
}

static bool is_automatic(const Entity *pump)
{
    return entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 1;
}

static const Step on_leaving[] = {
    {KIND_THROUGH_HULL, has_seacock, "Close the seacocks of ",
     "; move each through its whole way while you are there. A cockpit drain stays open"},
    {KIND_THROUGH_HULL, has_none_stated, "Look at hose and clamps of ",
     ": no seacock is stated, so nothing shuts the sea out if one comes off"},
    {KIND_PUMP, has_motor, "Switch off ", ": a hose that comes off then empties no tank into the bilge"},
    {KIND_WATER_HEATER, NULL, "Switch off the element of ", ": one that is forgotten, or dry, burns out"},
    {KIND_BILGE_PUMP, is_automatic, "Lift the switch of ", ": it has to start by itself, and stays on"},
};

static const Step before_frost[] = {
    {KIND_WATER_HEATER, NULL, "Switch off the element of ",
     " and let its water out by the drain, with a tap open; never heat it empty"},
    {KIND_TANK, holds_fresh, "Empty ", " and leave the inspection opening ajar to dry"},
    {KIND_FIXTURE, has_hot_water, "Open the taps of ", ", hot and cold, and leave them open"},
    {KIND_FIXTURE, has_cold_water_alone, "Open the taps of ", " and leave them open"},
    {KIND_PUMP, has_motor, "Run ",
     " for a moment until no more water comes, then switch off; drain housing and strainer"},
    {KIND_PUMP, is_by_hand, "Work ", " until no more water comes, and let what is left out of housing and strainer"},
    {KIND_PUMP, has_accumulator, "Let the water out of the accumulator of ", "; its air stays in"},
    {KIND_TANK, holds_waste, "Pump out and rinse ", ": what stays in its hoses freezes"},
    {KIND_TOILET, is_carried, "Carry ", " ashore, empty it and leave it open to dry"},
    {KIND_TOILET, is_composting, "Empty ", ", its bottle of liquids first: that freezes"},
    {KIND_TOILET, is_flushed, "Empty ",
     ", bowl, pump and both hoses, and leave in it a frost-proof liquid that is made for such systems"},
    {KIND_STRAINER, NULL, "Drain and clean ", ", its seacock shut"},
    {KIND_THROUGH_HULL, has_seacock, "Drain the seacocks of ",
     ": ashore they stay open, afloat they are drained at their plug and shut"},
    {KIND_BILGE_PUMP, NULL, "Dry the sump and the hose of ", ", and try it in spring before she is launched"},
};

static bool is_wanted(const BookThing *thing, const Step *step)
{
    return thing->entity->kind == step->kind && !(thing->entity->flags & ENTITY_DROPPED) &&
           (step->wanted == NULL || step->wanted(thing->entity));
}

/* One step, if there is anything aboard that it is for. */
static bool write_step(Book *book, const Step *step)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_wanted(t, step)) {
            continue;
        }
        if (!any) {
            markdown_item(&book->md, MARKDOWN_NUMBER, 0);
        }
        markdown_text(&book->md, any ? STR(", ") : str_from(step->what));
        markdown_code(&book->md, book_name(book, t->entity));
        any = true;
    }
    if (any) {
        markdown_format(&book->md, "%s.", step->how);
    }
    return any;
}

static bool applies(const Book *book, const Step steps[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (is_wanted(t, &steps[i])) {
                return true;
            }
        }
    }
    return false;
}

static void write_steps(Book *book, const char *heading, const Step steps[], size_t count)
{
    if (!applies(book, steps, count)) {
        return;
    }
    markdown_heading(&book->md, 3, str_from(heading), NULL);
    for (size_t i = 0; i < count; i++) {
        write_step(book, &steps[i]);
    }
    book_say(book, "Common practice, no source; what the maker of each asks comes first.");
}

void book_winter(Book *book)
{
    write_steps(book, "When she is left", on_leaving, sizeof on_leaving / sizeof on_leaving[0]);
    write_steps(book, "Before the first frost", before_frost, sizeof before_frost / sizeof before_frost[0]);
}
