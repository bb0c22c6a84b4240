/*
 * What the recipes of engine, propeller, exhaust, fuel, thruster and climate share, and the rules of these
 * with them: which engine, gearbox and speeds there are.
 *
 * Speeds that figures are computed at are those that the spec speaks of: the `distance ... at` of each day and
 * the `range ... at` of each goal. A figure at such a speed carries the name of that day or goal behind `@`.
 */
#ifndef GARBOARD_FIGURES_DRIVE_H
#define GARBOARD_FIGURES_DRIVE_H

#include "figures/water.h"
#include "physics/drive.h"
#include "physics/fuel.h"

/** The gearbox that is bolted to an engine; NULL if the spec states none. */
const Entity *gearbox_of(const Model *model, const Entity *engine);
/** Whether an engine's shaft turns as it does: electric, and no gearbox. */
bool is_direct(const Model *model, const Entity *engine);
/** Whether a quantity is stated, and not as a mere `?`. */
bool states_number(const Entity *thing, PropId prop);
/** The cable that the current of a feed flows in: its own, or that of the circuit that it shares; or NULL. */
const Feed *cable_of(const Feed *feed);
/** The bank at the head of a feed; NULL where that is not one bank. */
const Entity *bank_behind(const Feed *feed);
/** Whether it burns something. */
bool burns_fuel(const Entity *engine);
/** An empty curve with room for all that an engine says of its `consumption`; it goes with the step (water_fuel.c). */
FuelCurve fuel_curve_for(const Work *work, const Entity *engine);
/**
 * How fast an engine turns at the speed of the day's distance, where its hours are those of the distance too; NULL: that is not
 * known, or more than it is rated at (water_fuel.c).
 */
const Figure *turns_by_distance(const Work *work, const Entity *day, const Entity *engine);
/** Whether an electric engine states points of what it `takes`, by its turns or by the boat's speed (drive_taken.c). */
bool states_taken(const Entity *engine, bool by_turns);
/** Uses those points, and writes them to the formula: W by rev/s or by m/s. It goes with the step. */
FuelCurve use_taken_curve(Work *work, const Entity *engine, bool by_turns, Buf *formula);
/** What it takes then, in W; 0 of a curve without a point, each of which is a mistake. */
Interval taken_at(const FuelCurve *curve, Interval speed);
/** Records what an engine gives at a speed as its points of the boat's speed have it. */
Figure *record_measured_power(Work *work, const Entity *engine, const Entity *asks);
/** Uses the points of what an engine burns by its turns, and writes them to the formula. It goes with the step (drive_speed.c). */
FuelCurve use_burned_curve(Work *work, const Entity *engine, Buf *formula);
/**
 * Whether all engines that run with one take more for a mile, the faster she goes, over the range of speeds of a day or a goal;
 * false of a speed that is no range. What the work has used is forgotten (drive_mile.c).
 */
bool mile_rises(Work *work, const Entity *engine, const Entity *asks);
/** How far she comes in a time that is the shorter, the faster she goes: mile_rises says whether the miles become fewer. */
Interval way_by_speed(Interval lasting, Interval speed, bool rises);
/** Whether how fast she goes with all of an engine, always or when `asks` names it, is what its points say: it is alone. */
bool measures_full_speed(const Work *work, const Entity *engine, const Entity *asks);
/** How fast she goes with all that such an engine gives, which drives her alone: where its points say that it takes that. */
void record_measured_full_speed(Work *work, const Entity *of, const Entity *engine, const Entity *asks);
/** What it takes from its bank at a speed: power, current, energy a mile. */
void drive_taken(Work *work, const Entity *engine, const Entity *asks, const Figure *needed);
/** Whether it hangs outside of the hull: it breathes, cools and blows off by itself. */
bool is_outboard(const Entity *engine);
/** Burns its fuel within the hull: an engine that is no outboard, and not electric. It makes the space that it stands in hot. */
bool burns_within(const Entity *engine);
bool is_electric(const Entity *engine);
/** Whether its propeller sits on a leg at the stern that blows its exhaust through the hub. */
bool is_sterndrive(const Entity *engine);
/** Whether its rated power is what its propeller gets: of an outboard and a sterndrive (SAE J1228, second hand). */
bool is_rated_at_propeller(const Entity *engine);
/** Whether an engine or a generator burns petrol within the hull: what 33 CFR 183 says of electricity and fuel holds for no others (183.401, 183.501). */
bool is_petrol_inboard(const Entity *engine);
/** Whether one of those aboard does. */
bool has_petrol_inboard(const Model *model);
/** Whether its propeller turns on a shaft through the hull, and not on a leg that its maker delivers. */
bool turns_a_shaft(const Entity *engine);
/** The first engine that blows into an exhaust; NULL if none does (drive_shared.c). */
const Entity *engine_of_exhaust(const Model *model, const Entity *exhaust);
/** The same of engines and generators, engines first, and the next one that does. */
const Entity *burner_of_exhaust(const Model *model, const Entity *exhaust);
const Entity *next_of_exhaust(const Model *model, const Entity *burner);
/** By what an engine or a generator names its exhaust. */
PropId exhaust_prop(const Entity *burner);
/** Uses the rated power of all engines and generators that blow into an exhaust; `shown` is its part of the formula. */
Interval use_power_blown(Work *work, const Entity *exhaust, const char **shown);
/** The bore that a fitting, a hose or a strainer has to have by which several engines draw: of each of them, about that thing. */
void drive_shared_intakes(Work *work);
/** Whether cooling water is mixed into an exhaust: so unless it says otherwise. */
bool exhaust_is_wet(const Entity *exhaust);
/** Whether its heat goes into sea water that it pumps: by its `cooling`, else it burns something within the hull, and its exhaust is wet as far as the spec says. */
bool is_cooled_by_the_sea(const Entity *engine);
/** Whether an engine or a generator takes its air from the space in which it stands. */
bool breathes_within(const Entity *thing);
/** Whether the boat gives it sea water: to cool it, or to cool its wet exhaust alone. */
bool takes_sea_water(const Entity *engine);
/**
 * Whether an engine stands while the others run: it says `alone`, and another one drives her. Where all say so,
 * the first drives. Neither speeds nor ranges of the boat nor the `engine` of a day speak of such a one.
 */
bool stands_by(const Model *model, const Entity *engine);
/** Whether two engines run at the same time; one always runs with itself. */
bool run_together(const Model *model, const Entity *one, const Entity *other);
/** The first engine that does not stand by, and the next one; NULL at the end, or if there is no engine. */
const Entity *first_driving(const Model *model);
const Entity *next_driving(const Model *model, const Entity *engine);
/** Whether a day or a goal says by its `under` which engines drive her then. asks: it, or NULL. */
bool names_engines(const Entity *asks);
/** Whether an engine drives her on a day, or for a goal: it is named there, or nothing is and it does not stand by. */
bool drives_on(const Model *model, const Entity *engine, const Entity *asks);
/** Whether two engines run at the same time then; one always runs with itself. asks NULL: where no day is meant. */
bool run_together_on(const Model *model, const Entity *one, const Entity *other, const Entity *asks);
/** The first engine that drives her then, and the next one; NULL at the end. */
const Entity *first_driving_on(const Model *model, const Entity *asks);
const Entity *next_driving_on(const Model *model, const Entity *engine, const Entity *asks);
/**
 * The speed with all that runs together with an engine: of the boat, or of one that stands by its own; NULL if
 * there is none.
 */
const Figure *full_speed_with(const Figures *figures, const Entity *engine);
/* What the speed at full power hangs on, beside what one engine gives. */
typedef struct Driven {
    bool known, planing;
    Interval others, count;            /* power of those that run with it; how many of it */
    Interval mass, fast_by, waterline; /* the waterline of one that planes; of one that states none, nought */
    Interval limit;
} Driven;

/** Gathers that; what the work has used is forgotten. */
Driven driven_of(Work *work, const Entity *engine);
/** Whether all of it is exact: her speed hangs on the engine alone. */
bool driven_is_exact(const Driven *driven);
/** Her speed with a shaft power of the engine, as `full-speed` has it. */
Interval driven_speed(const Driven *driven, Interval power);
/** How its logarithm changes by that of the power, all else being exact; false where it leaps. */
bool driven_slope(const Driven *driven, Interval power, Interval *slope);
/** The property of a day or a goal that states a speed, in its second slot; PROP_NONE if it states none. */
PropId speed_of(const Entity *asks);
/** The first day or goal that states a speed, and the next one; NULL at the end. Days come first. */
const Entity *first_speed(const Model *model);
const Entity *next_speed(const Model *model, const Entity *asks);

/** Whether her hull planes. */
bool is_planing(const Model *model);
/**
 * Uses what a hull that planes takes at the speed of a day or a goal, in W at the propellers; with its formula,
 * and what there is to say of it, or NULL (drive_planing.c).
 */
Interval use_planing_power(Work *work, const Entity *asks, const char **formula, const char **remark);
/** The same of the speed that a power gives her, which stands in the formula as `powers`. */
Interval use_planing_speed(Work *work, Interval power, const char *powers, const char **formula, const char **remark);
/** Whether it half planes. */
bool is_half_planing(const Model *model);
/** Whether it planes, or half does. */
bool is_fast(const Model *model);
/** The wake fraction of a propeller that states none: of an open shaft under a hull that planes, else behind a skeg. */
DriveLimit usual_wake(const Model *model);
/** Uses a threshold of drive.def as a fact. */
Interval use_drive_limit(Work *work, const char *what, DriveLimit limit, UnitPair unit);
/** Uses the density of the water that she floats in, in kg/m3. */
Interval use_water_density(Work *work);

/** What a day under way says by the engine's speed and by the boat's (drive_running.c). */
void drive_running(Work *work);
/** How far the fuel brings her (drive_range.c). */
void drive_ranges(Work *work);
/** What a propeller takes, and what would fit (drive_propeller.c). */
void drive_propellers(Work *work);
/** What a stated pitch takes, and the diameter that fits it: apart from the rest, for pitches are tried by the dozen. */
void drive_pitches(Work *work);
/** Its diameter, stated or else the best one; its wake, stated or else the usual one. */
Interval use_propeller_diameter(Work *work, const Entity *propeller);
Interval use_propeller_wake(Work *work, const Entity *propeller);
/** The gap between its tips and the hull (drive_blades.c). */
void drive_tip_gap(Work *work, const Entity *propeller);
/** Blade area and shaft, its pitch being matched (drive_blades.c). */
void drive_blades(Work *work, const Entity *propeller, const Entity *engine);
/** How fast the stated pitch would make her go without slip. */
void drive_pitch_speed(Work *work, const Entity *propeller);
/** What consumption and heat come to by what is burned (drive_burned.c). */
void drive_burned(Work *work);
/** Exhaust, raw water, air, alternator (drive_engine.c). */
void drive_engines(Work *work);
/** The first petrol engine within the hull that stands in a space; NULL if there is none. */
const Entity *petrol_inboard_in(const Model *model, const Entity *space);
/** Open to the sky as the spec says it: no vapour gathers there. */
bool is_open_air(const Entity *space);
/** Whether an engine or a generator is carried, and its petrol with it: a generator's always, an engine's unless a line brings it. */
bool carries_petrol(const Model *model, const Entity *thing);
/** The first of those that stands in a space; NULL if there is none. */
const Entity *carried_petrol_in(const Model *model, const Entity *space);
/** An outboard without a tank of its own: what is in its carburettor and its hose comes out as vapour where it hangs or is stowed. */
bool is_outboard_with_petrol(const Model *model, const Entity *thing);
/**
 * Why petrol vapour can lie in each space, by Entity.index: a petrol engine, tank or line that is there, or the space that says
 * so itself, or, for want of those, an outboard in one that is shut in; NULL where it cannot, or the space is open to the sky. Room for all things of the model, all NULL.
 */
void petrol_mark(const Model *model, const Entity **because);
/** A tank, engine or line of petrol that stands in that space, whatever the space says; NULL: none. */
const Entity *petrol_in(const Model *model, const Entity *space);
/** The first tank of petrol that stands in a space; NULL: none. */
const Entity *petrol_tank_in(const Model *model, const Entity *space);
/** Blowers and openings of spaces with such an engine, openings of those with a tank of petrol (drive_petrol.c). */
void drive_petrol_spaces(Work *work);
/** Thrusters over their longest burst (drive_thruster.c). */
void drive_thrusters(Work *work);
/** Ground tackle by the length of the boat (drive_thruster.c). */
void drive_anchors(Work *work);

/**
 * How far a bank of such a capacity brings her as fast as a goal asks, by the electric engines on it that drive
 * her; false: none, or not known.
 */
bool electric_way(Work *work, const Entity *bank, const Entity *asks, Interval capacity, Interval least, Interval *metres);

#endif
