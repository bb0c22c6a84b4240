/*
 * What the recipes of water, fuel, gas and bilge share, and the rules of these with them: which tanks there
 * are, the unit that the owner used, formulas that are sums.
 */
#ifndef GARBOARD_FIGURES_WATER_H
#define GARBOARD_FIGURES_WATER_H

#include "base/buf.h"
#include "figures/figure.h"
#include "physics/tank.h"

/** Whether it is a tank for what comes from toilets or drains. */
static inline bool holds_waste(const Entity *thing)
{
    Str holds = thing->kind == KIND_TANK ? entity_word(thing, PROP_TANK_HOLDS) : (Str){"", 0};
    return str_is(holds, "black") || str_is(holds, "grey");
}

/** The first thing of a kind that is aboard, and the next one; NULL at the end. */
const Entity *first_aboard(const Model *model, KindId kind);
const Entity *next_aboard(const Entity *entity);
/** The first tank aboard that holds such a thing ("fresh"), and the next one. */
const Entity *first_tank(const Model *model, const char *holds);
const Entity *next_tank(const Entity *tank, const char *holds);

/**
 * The same of those whose content counts in what a day lasts: of water, those from which something draws, of sewage, those
 * to which something leads, as long as that is said of any.
 */
const Entity *first_counted(const Figures *figures, const char *holds);
const Entity *next_counted(const Figures *figures, const Entity *tank, const char *holds);
/**
 * The first tank that shares a load with a counted one, itself perhaps, and the next one: all that hold fresh water do, and of
 * waste those that the same toilets or sinks reach.
 */
const Entity *first_sharing(const Figures *figures, const Entity *tank);
const Entity *next_sharing(const Figures *figures, const Entity *tank);
/** Whether what comes to one tank is shared by the other, of the same content. */
bool tanks_share(const Figures *figures, const Entity *a, const Entity *b);
/** Makes a sum of tanks wait where one aboard has a mistake in what it `holds`: it may be one of them. */
void wait_for_tanks(Work *work);
bool tank_counts(const Figures *figures, const Entity *tank);

/** What a tank's liquid is; fuel of which nobody can tell the kind counts as diesel, which is the heavier. */
Content tank_content(const Model *model, const Entity *tank);

/** Whether a figure of a tank is that of another one with which it shares a load (water_days.c). */
bool is_shared_figure(const Figure *figure);

/** The unit that the owner wrote a property in; `otherwise` if it is not stated. */
UnitPair unit_of(const Entity *entity, PropId prop, UnitPair otherwise);

/*
 * A formula that is a sum of terms, written while they are added; its text lives in the arena. What a term
 * shows begins with sum_next; each input has a label of its own, in the order of use: `{main-engine.rated}`.
 */
typedef struct Sum {
    Interval value;
    Buf formula;
} Sum;

void sum_begin(Sum *sum, Work *work);
/** Another sum in the same working. */
void sum_begin_beside(Sum *sum, const Work *work);
/** Begins a term: a plus where it is not the first. */
void sum_next(Sum *sum);
/** Writes `before` and the label of an input of a thing: "{name.what}". */
void sum_label(Sum *sum, const Work *work, const char *before, const Entity *entity, const char *what);
/** The same of the nth such input, counted from 0: labels tell them apart. */
void sum_label_nth(Sum *sum, const Work *work, const char *before, const Entity *entity, const char *what,
                   unsigned nth);
/** Writes the label of the thing's count, if it states one: it is then an input. */
void sum_count(Sum *sum, const Work *work, const Entity *entity);
void sum_add(Sum *sum, Interval term);

/** Water for one shower. */
#define SHOWER_M3 0.021
#define SHOWER_SOURCE \
    "three minutes at 7 l/min: the flow from a cruising article, the time common practice, no source"

/** What a day takes from a tank and those that share its load, or puts into them, added to a sum in m3; false if nothing does. */
typedef bool DayFlow(Work *work, const Entity *day, const Entity *tank, Sum *sum);
DayFlow fresh_of_day, black_of_day; /* water_days.c */
DayFlow waste_of_day;               /* what sinks and showers bring: all that comes to grey water (water_waste.c) */
/** A sink that drains to a tank, where others drain elsewhere and no fixture says which is a shower, though the day has showers; else NULL (water_waste.c). */
const Entity *shower_unsaid(const Figures *figures, const Entity *tank, const Entity *day);
/** Whether all that a day says of the engine has a speed, and it runs at all (water_fuel.c). */
bool states_speeds(const Entity *day);
/**
 * What one engine burns at the speeds at which a day says that it runs, in the mean of that time, in m3/s; and
 * for how long, in s: nothing where the day does not say it of all of its hours. The sum has the formula of
 * what is burned (water_fuel.c).
 */
Interval use_running_rate(Work *work, const Entity *day, const Entity *engine, Sum *sum, Interval *seconds);
/** One `count day` of a cruise; the day is NULL where it is a mistake. */
typedef struct Leg {
    const Entity *day;
    unsigned slot; /* of its count */
} Leg;

/** The leg of that number, from the `days` of a cruise; false if there are not so many (water_cruise.c). */
bool read_leg(const Property *days, unsigned leg, Leg *read);
/**
 * Whether such a day ends with it full, of waste empty: all tanks that hold the same, or all cylinders (water_cruise.c). Noted
 * as read by the step; no figure has it as an input, for it is a word of the day's.
 */
bool day_renews(Work *work, const Entity *day, const Entity *subject);

/* What the days of a cruise take one after the other: since the last filling, and the most that was taken until one. */
typedef struct Stretch {
    Interval since, most;
} Stretch;

/** So many days that take so much each; renewed: each of them ends with a filling (water_cruise.c). */
void stretch_add(Stretch *stretch, Interval days, Interval a_day, bool renewed);
/** Fuel for each kWh: as stated, else by the rule of thumb for what the engine burns (water_fuel.c). */
Interval use_specific(Work *work, const Entity *engine);
/**
 * Share of a tank that can be used, or filled. Sewage is planned to three quarters, where the level alarm stands;
 * everything else to its stated usable share.
 */
Interval use_usable_share(Work *work, const Entity *tank);
/** What a tank holds by its sides; names in the formula begin with `of`: nothing, or its own and a point. */
Interval use_shape(Work *work, const Entity *tank, const char *of, const char **formula);
/** How deep each tank is when a part of it is full (water_dips.c). */
void water_dips(Work *work);
/**
 * The volume of a tank whose `capacity` is `?`: the smallest size made that the goals ask for, in equal shares with other
 * such tanks. NULL where it is not left open, or where no goal decides it (water_sizes.c).
 */
Figure *size_tank(Work *work, const Entity *tank);
/** Gas in the cylinders of each locker; of `cylinder ?` the smallest that the goals ask for (water_sizes.c). */
void water_gas(Work *work);
/** What gas appliances burn on each day by their heat and their `use` (water_gas.c). */
void water_gas_burned(Work *work);
/** Whether a gas appliance states its heat input as heat, and not by weight (water_gas.c). */
bool states_heat_input(const Entity *appliance);
/** Whether a day says what gas it takes, or what burns it says so (water_gas.c). */
bool day_takes_gas(const Figures *figures, const Entity *day);
/** The gas of such a day in kg: as it states, else daily-gas (water_gas.c). */
Quantity use_gas_of_day(Work *work, const Entity *day);
/** Daily flows and endurance: of fresh water; of the other tanks and of gas (water_days.c). */
void water_days_fresh(Work *work);
void water_days(Work *work);
/** What the days of a cruise take together, in the same two steps (water_cruise.c). */
void water_cruises_fresh(Work *work);
void water_cruises(Work *work);
/** How far up the hull the water comes when she heels, and what must stand above it (water_heights.c). */
void water_heights(Work *work);
/** What the bilge pumps really move, and what the basis asks of them (water_bilge.c). */
void water_bilge(Work *work);
/** Pumps, hoses and taps: flows, speeds, what is lost (water_pipes.c). */
void water_pipes(Work *work);
/** Hot water: time, showers, what an element takes from the bank (water_hot.c). */
void water_hot(Work *work);
/** What comes in if a hose comes off, and when it reaches a bank (water_flood.c). */
void water_flood(Work *work);
/** What pumps give to the water of what they draw: numbers of one pump that exclude each other (water_pumps.c). */
void water_pumps(Work *work);
/** Extinguishers: those that count, and those asked for (water_fire.c). */
void water_fire(Work *work);

/** What a fitting serves that is not dropped, from number *at on; NULL at the end. A name that is a mistake is passed over. */
const Entity *next_served(const Entity *fitting, uint16_t *at);
/** A fitting that only serves exhausts and instruments, dropped ones not counted: no hose of it can come off. */
bool has_no_hose(const Entity *fitting);
/**
 * The gas locker, or what burns, that a fitting serves: it lets out gas or fumes, or air in to them, and stays open. NULL: it
 * serves none, or only such as are dropped.
 */
const Entity *serves_open(const Model *model, const Entity *fitting);
/** Such a locker, or what burns so. */
bool must_breathe(const Model *model, const Entity *entity);
/** The first through-hull under water whose hose could come off, and the next one; NULL at the end. */
const Entity *first_flooding(const Model *model);
const Entity *next_flooding(const Entity *fitting);
/** The date has passed after which an extinguisher, or an item that is carried for safety, does not count. */
bool has_expired(const Figures *figures, const Entity *gear);
/** Something aboard burns fuel or gas, or somebody sleeps aboard: then there is fire to think of. */
bool can_burn(const Model *model);
/** Whether it burns the air of its space: gas unless it says that it is room-sealed, wood and coal likewise, a burner always, other fuels where they say that they are not. */
bool burns_cabin_air(const Model *model, const Entity *thing);
/** The kinds whose flames may take their air from a space, in the order in which one of them speaks for all that burns there. */
enum { FLAME_KIND_COUNT = 3 };
extern const KindId flame_kinds[FLAME_KIND_COUNT];
/** The property by which one of them states its heat: of gas that states its `heat-input` alone, in kW, that one. */
PropId flame_output(const Entity *flame);
/** What it leaves goes out by a pipe: of a heater taken for granted, of a burner where it says so, of gas never. */
bool is_flued(const Entity *flame);
/** A space that says so, or in which an engine stands that heats it; false for NULL. */
bool is_engine_space(const Model *model, const Entity *space);
/** The same, or an electric engine is in it: nobody lies down there, and what an engine does but for its heat is to be minded. */
bool is_machinery_space(const Model *model, const Entity *space);

/** A space that keeps what comes into it and keeps out what comes in elsewhere: it has a bilge of its own. False for NULL. */
bool is_apart(const Entity *space);
/** Whether the water of one space, or what stands in it, finds its way to another; it does where a place is not stated (NULL). */
bool water_goes(const Entity *from, const Entity *to);
/**
 * What the automatic pumps move that the water of this opening reaches: the figure of its space where some stand apart from
 * it, else that of the boat (water_bilge.c).
 */
const Figure *pumping_against(const Figures *figures, const Model *model, const Entity *fitting);
/** How a bilge pump works: by hand; or by itself, being fed. */
bool is_worked_by_hand(const Entity *pump);
bool counts_as_automatic(const Entity *pump);
/** Whether a bilge pump is there to be used: worked by hand, fed, or carried. */
bool counts_as_pump(const Entity *pump);
/** Whether a boat says that she goes on inland waters, and on no others. */
bool is_inland_alone(const Entity *boat);

#endif
