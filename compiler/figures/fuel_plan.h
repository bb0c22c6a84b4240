/*
 * Fuel: which one a tank holds and a thing burns, and from which tanks it comes.
 *
 * What burns fuel draws on the tanks from which fuel lines lead to it; where none is led to it, on all tanks of its fuel. A
 * pump that takes fuel from a tank is a line to what it delivers to. Returns bring nothing.
 */
#ifndef GARBOARD_FIGURES_FUEL_PLAN_H
#define GARBOARD_FIGURES_FUEL_PLAN_H

#include "figures/water.h"
#include "physics/drive.h"

typedef enum Fuel { FUEL_UNKNOWN, FUEL_DIESEL, FUEL_PETROL, FUEL_PARAFFIN, FUEL_SPIRIT, FUEL_COUNT } Fuel;

/** So many things are followed along the lines from one, at most. */
enum { FUEL_REACHED_MOST = 64 };

/** Things that fuel reaches, or comes from: tanks, burners and all between. */
typedef struct FuelWay {
    const Entity *things[FUEL_REACHED_MOST];
    const Entity *by[FUEL_REACHED_MOST]; /* the line or pump by which each was reached */
    uint32_t count;
    bool broken; /* an end of a line on the way is a mistake */
} FuelWay;

const char *fuel_word(Fuel fuel); /* "diesel", "petrol" ... "fuel" */
/** What a tank holds that holds it; of what is not known, diesel. */
Content fuel_content(Fuel fuel);
/** The property by which what burns liquid fuel states how much in an hour; PROP_NONE of engines, which have a curve. */
PropId fuel_rate_prop(KindId kind);
/** A heater, a cooler or a burner: it burns for as long as it is used, not as long as an engine runs. */
bool burns_by_use(const Entity *burner);
bool holds_fuel(const Entity *tank);
/** A heater for wood or coal: it has a flame and a flue, and no tank. */
bool burns_wood(const Entity *entity);
/** Whether a fuel line, other than a return, leads to it. */
bool has_fuel_line(const Model *model, const Entity *thing);

/** Whether a thing burns; open: the spec does not say enough to tell. */
typedef enum Burns { BURNS_NO, BURNS_OPEN, BURNS_YES } Burns;
/**
 * Whether a heater burns a fuel, wood too. Yes, by `fuel`, `fuel-rate`, `room-sealed` or a fuel line; no, where water that an
 * engine or another heater has heated runs through it. One that says none of that is told by what it draws: from a tenth of
 * its output on it makes its heat of that, below it burns, as does one without a `draw`; open without an `output`, or where
 * the voltage does not tell (heater_burns.c).
 */
Burns heater_burns(const Model *model, const Entity *heater);
/** By the spec itself, and not because most do. */
bool heater_says_it_burns(const Model *model, const Entity *heater);
/** An engine, heater ... that burns liquid fuel, or a heater that may (BURNS_OPEN): what burns is looked at where it is not known. */
bool is_burner(const Model *model, const Entity *entity);
/** The property by which a burner states its fuel; PROP_NONE of what is none. */
PropId fuel_prop(KindId kind);
/** What a burner or a tank states; FUEL_UNKNOWN: nothing that can be read. */
Fuel fuel_stated(const Entity *entity);
/** What it burns; of one that does not state it what is taken for granted. FUEL_UNKNOWN: an electric one, or a mistake. */
Fuel fuel_burned(const Model *model, const Entity *burner);
/**
 * What a tank holds: as stated; else what burns it along its lines, engines first; else what all engines burn; else what
 * all else burns, or diesel where nothing does. FUEL_UNKNOWN: there are two, or a mistake.
 */
Fuel fuel_held(const Model *model, const Entity *tank);
/** The burner that it follows from, along its lines; NULL: it is stated, or follows from something else. */
const Entity *fuel_held_by(const Model *model, const Entity *tank);
/** What flows in a line: what its tank holds, else what it is led to burns; FUEL_UNKNOWN where nothing tells. */
Fuel fuel_carried(const Model *model, const Entity *line);
/** Everything that fuel comes from, against the way of the lines that lead to a thing; itself left out. */
FuelWay fuel_sources(const Model *model, const Entity *thing);
/** Everything that fuel reaches from a thing, along the lines. */
FuelWay fuel_targets(const Model *model, const Entity *thing);

/** Whether a line brings back to a tank what an engine does not burn. */
bool is_return(const Entity *line);

/** Tanks of fuel, as bits of a set: the n-th aboard is bit n; from the 64th on all are one. */
typedef uint64_t FuelSet;

/** So many different ones are told apart, at most. */
enum { FUEL_SETS_MOST = 32 };

typedef struct FuelBurner {
    const Entity *entity;
    FuelSet tanks; /* that it draws on */
    bool broken;   /* a line to it has a mistake */
} FuelBurner;

typedef struct FuelPlan {
    const Model *model;
    const Entity **tanks;
    Fuel *held; /* what each of them holds */
    uint32_t tank_count;
    FuelBurner *burners; /* engines, generators, heaters, coolers and burners that burn something, in this order */
    uint32_t burner_count;
    FuelSet sets[FUEL_SETS_MOST]; /* the different ones that they draw on */
    uint32_t set_count;
} FuelPlan;

/** What the spec says of all of it; lives in the arena. */
FuelPlan *fuel_plan(Arena *arena, const Model *model);
static inline FuelSet fuel_bit(uint32_t tank)
{
    return (FuelSet)1 << (tank < 63 ? tank : 63);
}
/** The tanks of a burner; none of what burns nothing. */
FuelSet fuel_tanks_of(const FuelPlan *plan, const Entity *burner);
/**
 * The smallest set of tanks that some burner draws on which has this tank: what is drawn from no other tank than these has
 * to come from them. 0: nothing draws on it.
 */
FuelSet fuel_share(const FuelPlan *plan, uint32_t tank);
/** The share of a tank of fuel; 0: of another tank. */
FuelSet fuel_share_of(const FuelPlan *plan, const Entity *tank);
bool fuel_is_in(const FuelPlan *plan, FuelSet set, const Entity *tank);
/** The n-th set that is the share of no tank, of those that some burner draws on, and of all that hang together; 0: no more. */
FuelSet fuel_unshared(const FuelPlan *plan, uint32_t nth);
/** All tanks that hang together with those of a set, by what draws on some of both. */
FuelSet fuel_together(const FuelPlan *plan, FuelSet set);
/** The first tank of a set; and the first of which it is the share, which stands for all of these. NULL: there is none. */
const Entity *fuel_first(const FuelPlan *plan, FuelSet set);
const Entity *fuel_first_sharing(const FuelPlan *plan, FuelSet share);
/** Adds what is usable in all tanks of a set: a bracket of its own is the caller's. */
void fuel_add_volumes(Work *work, const FuelPlan *plan, FuelSet set, Sum *sum);

/** Uses which fuel is in each tank of a set, where that is not known: the figure is missing then, or waits. */
void use_fuel_kinds(Work *work, const FuelPlan *plan, FuelSet set);
/**
 * Adds what the engines that run with one and draw on these tanks alone burn at the speed of a day or a goal,
 * in m3/s (drive_range.c).
 */
Interval use_fuel_rates(Work *work, const Entity *engine, const Entity *asks, const FuelPlan *plan, FuelSet set, Sum *sum);
/** What of a day's fuel can come from these tanks alone, added to a sum in m3; false if nothing draws on them alone (water_fuel.c). */
bool fuel_of_set(Work *work, const Entity *day, const FuelPlan *plan, FuelSet set, Sum *sum);

/** The heat in a kilogram of a fuel; of one that is not known that of diesel (drive_burned.c). */
DriveLimit heat_of(Fuel fuel);

#endif
