/*
 * What the rules of water, waste, hull and bilge share: heights over the waterline, and how a finding tells of
 * them.
 */
#ifndef GARBOARD_RULES_PLUMBING_H
#define GARBOARD_RULES_PLUMBING_H

#include "figures/joints.h"
#include "physics/made.h"
#include "rules/ask.h"

/* Saying */

/** A number rounded up to two digits, as it may be typed: "0.42 m". */
const char *say_up(const Judge *judge, double si, UnitPair unit);
/** The same number in another unit: what is held against each other stands in one. */
const char *say_in_unit(const Judge *judge, Side side, UnitPair unit);
/** A height with its side of the waterline: "0.1 m below the waterline". */
const char *say_from_water(const Judge *judge, Side height);
/** What is made from such a diameter up, in the owner's system of units: "16 mm", "5/8 in"; else the number, rounded up. */
const char *say_made(const Judge *judge, MadeThing thing, double least_m, UnitPair unit);
/** A bore of mere practice: where the owner writes inches, the nearest eighth, as 5/8 in for 16 mm. */
double nominal_bore_m(double bore_m, UnitPair unit);
/** The unit of a bore that nobody has stated: inches in a boat that is stated in feet. */
UnitPair bore_unit(const Judge *judge);
/** Notes that the heel was assumed, if it was. */
void note_heel(Judge *judge, Finding *finding);

/* Heights */

/** How far up the hull the water comes at a thing when she heels: its own figure, else the boat's. */
Side waterline_at(const Judge *judge, const Entity *thing);
/** How high the water comes, in words: "any height" where nobody says how far she heels at most. */
const char *say_reach(const Judge *judge, Side waterline, UnitPair unit);
/** The height that is clear of the sea, in words: "at least 0.8 m" where nobody says how far she heels at most. */
const char *say_clear(const Judge *judge, Side least, UnitPair unit);
/** The height from which a through-hull, a loop or a bilge outlet is clear of the sea. */
Side least_height(const Judge *judge, const Entity *thing);

/** By which hoses the water of a bilge pump leaves. */
typedef struct WayOut {
    const Entity *hoses[HOSES_AFTER]; /* those that it goes through whatever valve is open, the first one first */
    uint32_t count;
    FarEnds ends; /* what they lead to, joints between */
} WayOut;
void find_way_out(const Judge *judge, const Entity *pump, WayOut *way);

/** Where the water of a bilge pump comes out: at the height that itself states, or that a through-hull does. */
typedef struct Outlet {
    const Entity *thing;
    PropId height;
} Outlet;
/** Its outlet: the lowest, where it and the through-hulls that its hoses lead to say how high. */
Outlet outlet_of_pump(const Judge *judge, const Entity *pump, const WayOut *way);
/** Offers to put it so high: "discharge-height 0.5 m", or `height` of the through-hull. */
void offer_outlet_height(Judge *judge, Finding *finding, Outlet outlet, const char *height);

/**
 * Whether a height is as high as her deck edge somewhere, where `freeboard` says how high that is: her side is no place
 * for it then.
 */
bool is_over_deck_edge(const Judge *judge, double height_m);
/**
 * Says so of a finding, and what is right then: nearer the middle of the boat the water comes less high. clearance_m: what
 * is asked above the heeled water; `move` is what can be moved there: "the outlet of a hose".
 */
void offer_nearer_middle(Judge *judge, Finding *finding, double clearance_m, const char *move);

#endif
