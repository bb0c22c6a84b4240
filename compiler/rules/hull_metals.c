/*
 * Unlike metals that touch under water: a valve on its fitting, a propeller on its shaft, a fitting in a hull of metal; and
 * anodes that do not suit the water. Judged where both are told, or one of them is missing beside the other. What else may
 * touch (a bonding wire, a bracket) the spec does not know.
 */
#include "figures/drive.h"
#include "rules/plumbing.h"

#include "physics/galvanic.h"
#include "physics/hull.h"
#include "rules/hull.h"

#include <math.h>

/* Two properties of one thing that touch. */
typedef struct Pair {
    PropId fixed; /* what the other is mounted on ... */
    PropId on_it; /* ... and the one that makes it a pair, where it is stated */
    const char *fixed_name, *on_it_name;
} Pair;

static const Pair valve_on_fitting = {PROP_THROUGH_HULL_MATERIAL, PROP_THROUGH_HULL_VALVE, "fitting", "valve"};
static const Pair propeller_on_shaft = {PROP_PROPELLER_SHAFT_MATERIAL, PROP_PROPELLER_MATERIAL, "shaft", "propeller"};

/* Whether an anode that is aboard is joined to it. */
static bool has_anode(const Judge *judge, const Entity *thing)
{
    for (const Entity *a = judge->model->first_of_kind[KIND_ANODE]; a != NULL; a = a->next_of_kind) {
        const Property *protects = entity_property(a, PROP_ANODE_PROTECTS);
        for (uint16_t i = 0; is_aboard(a) && protects != NULL && i < protects->count; i++) {
            if (value_names(&protects->values[i], thing)) {
                return true;
            }
        }
    }
    return false;
}

/* What she floats in, as far as the spec says. */
typedef enum Water {
    WATER_FRESH,
    WATER_SALT,       /* or brackish */
    WATER_TAKEN_SALT, /* nothing is said, and salt is the cautious side for metal */
    WATER_UNKNOWN,    /* nothing is said, and she goes on inland waters alone: salt would be the wrong side for an anode */
} Water;

static Water water_of(const Judge *judge)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || !entity_states(boat, PROP_BOAT_WATER)) {
        return boat != NULL && is_inland_alone(boat) ? WATER_UNKNOWN : WATER_TAKEN_SALT;
    }
    return str_is(entity_word(boat, PROP_BOAT_WATER), "fresh") ? WATER_FRESH : WATER_SALT;
}

static bool is_fresh_water(const Judge *judge)
{
    return water_of(judge) == WATER_FRESH;
}

const char *anode_metal(const Judge *judge)
{
    Water water = water_of(judge);
    return water == WATER_FRESH ? "magnesium" : water == WATER_UNKNOWN ? "aluminium" : "zinc";
}

/* Says of a broken finding what water it goes by, if nothing does; on inland waters it hangs on that. */
static void rest_on_water(Judge *judge, Finding *finding)
{
    const Entity *boat = judge->model->boat;
    Water water = water_of(judge);
    if (boat == NULL || entity_states(boat, PROP_BOAT_WATER)) {
        return;
    }
    if (water == WATER_UNKNOWN) {
        finding_left_open(judge, finding, boat, PROP_BOAT_WATER);
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_WATERS), "nothing says whether she floats in fresh `water` there");
    } else {
        finding_assumes(judge, finding, boat, PROP_BOAT_WATER);
        finding_note(judge, finding, place_of_name(judge, boat), "salt water is assumed: `water` is not stated");
    }
}

/* Stays dry, as far as a fitting says its height; the sea of fresh waters carries too little to eat metal. */
static bool stays_dry(const Judge *judge, const Entity *thing)
{
    Side height = side_value(judge, thing, PROP_THROUGH_HULL_HEIGHT, 0);
    bool above = thing->kind == KIND_THROUGH_HULL && side_is_known(height) && height.value.low > 0.0;
    return above || is_fresh_water(judge);
}

static bool is_of_copper(Str word)
{
    return str_is(word, "bronze") || str_is(word, "brass");
}

/* A fitting of the hull's own metal: welded in, it is the hull, and what eats it eats that. */
static bool is_stub(const Judge *judge, const Entity *thing)
{
    Str built, word;
    return thing->kind == KIND_THROUGH_HULL && judge->model->boat != NULL &&
           stated_word(judge->model->boat, PROP_BOAT_BUILT, &built) == STATE_KNOWN &&
           stated_word(thing, PROP_THROUGH_HULL_MATERIAL, &word) == STATE_KNOWN && str_equal(word, built) &&
           metal_find(str_copy(judge->arena, built)) != NULL;
}

/* Whether an anode is joined to it, or to the hull that a stub belongs to. */
static bool is_kept(const Judge *judge, const Entity *thing)
{
    return has_anode(judge, thing) || (is_stub(judge, thing) && has_anode(judge, judge->model->boat));
}

static void judge_two_metals(Judge *judge, const Entity *thing, const Pair *pair, const Metal *fixed, const Metal *on_it)
{
    UnitPair millivolts = UNIT_ALONE(UNIT_MV);
    const Limit *limit = hull_limit(LIMIT_UNLIKE_METALS);
    double apart = fabs(fixed->mv - on_it->mv) * 1e-3;
    Finding *f = judge_at_most(judge, thing, place_of(judge, thing, pair->on_it), side_number(apart, millivolts),
                               side_number(limit->value, millivolts));
    if (f == NULL) {
        return;
    }
    bool eats_fixed = fixed->mv < on_it->mv;
    finding_say(judge, f, "the %s of `%s` is %s and its %s %s, %s apart in sea water: without an anode the %s is eaten",
                pair->on_it_name, say_name(judge, thing), on_it->name, pair->fixed_name, fixed->name,
                say_number(judge, apart, millivolts), eats_fixed ? pair->fixed_name : pair->on_it_name);
    finding_note(judge, f, place_of(judge, thing, pair->fixed), "what it touches");
    rest_on_water(judge, f);
    bool stub = is_stub(judge, thing);
    finding_remedy(judge, f, "an `anode` that `protects %s`", say_name(judge, stub ? judge->model->boat : thing));
    if (stub) {
        finding_remedy(judge, f, "`insulated yes`, with a flange and sleeves that keep the valve from the stub");
    }
    finding_remedy(judge, f, "metals that lie nearer to each other");
}

/* Copper eats aluminium through any anode, and a stub is the hull. */
static void judge_copper_on_stub(Judge *judge, const Entity *fitting, const Metal *valve)
{
    Finding *f = judge_broken(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_VALVE));
    finding_say(judge, f, "the valve of `%s` is of %s, on a stub of the hull's own aluminium: no anode keeps that from being eaten",
                say_name(judge, fitting), valve->name);
    rest_on_water(judge, f);
    finding_remedy(judge, f, "a valve of aluminium, stainless steel or composite");
    finding_remedy(judge, f, "`insulated yes`, with a flange and sleeves that keep the valve from the stub");
}

static void judge_pair(Judge *judge, const Entity *thing, const Pair *pair)
{
    Str fixed;
    Str on_it;
    State told = stated_word(thing, pair->on_it, &on_it);
    State other = stated_word(thing, pair->fixed, &fixed);
    if (told == STATE_MISSING) {
        return;
    }
    if (told == STATE_WAITING || other == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    const Metal *above = metal_find(str_copy(judge->arena, on_it));
    const Metal *below = metal_find(str_copy(judge->arena, fixed));
    bool apart = other == STATE_KNOWN && (above == NULL || below == NULL);
    bool stub = is_stub(judge, thing);
    bool parted = stub && entity_yes(thing, PROP_THROUGH_HULL_INSULATED) == 1;
    if (above == NULL || apart || parted || stays_dry(judge, thing)) {
        judge_holds(judge);
    } else if (stub && str_is(fixed, "aluminium") && is_of_copper(on_it)) {
        judge_copper_on_stub(judge, thing, above);
    } else if (is_kept(judge, thing)) {
        judge_holds(judge);
    } else if (other == STATE_MISSING) {
        Finding *f = judge_open(judge, thing, place_of(judge, thing, pair->on_it), thing, pair->fixed);
        finding_say(judge, f, "`%s` does not say what its %s is made of, which its %s of %s touches", say_name(judge, thing),
                    pair->fixed_name, pair->on_it_name, above->name);
        finding_remedy(judge, f, "`%s`, as it is", say_form(judge, pair->fixed));
    } else {
        judge_two_metals(judge, thing, pair, below, above);
    }
}

static void say_in_hull(Judge *judge, Finding *f, const Entity *fitting, const Metal *metal, const Metal *hull)
{
    rest_on_water(judge, f);
    finding_note(judge, f, place_of(judge, judge->model->boat, PROP_BOAT_BUILT), "what it sits in");
    finding_remedy(judge, f, "`insulated yes`, with sleeves and washers that keep `%s` from touching the hull",
                   say_name(judge, fitting));
    if (metal != NULL && hull != NULL) {
        finding_remedy(judge, f, "a fitting of the hull's own metal, or of composite");
    }
}

/* Copper eats aluminium through any anode. */
static void judge_copper_in_aluminium(Judge *judge, const Entity *fitting, const Metal *metal, const Metal *hull)
{
    Finding *f = judge_broken(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_MATERIAL));
    finding_about(f, PROP_THROUGH_HULL_INSULATED);
    finding_say(judge, f, "`%s` is of %s and touches a hull of aluminium: no anode keeps the hull from being eaten",
                say_name(judge, fitting), metal->name);
    say_in_hull(judge, f, fitting, metal, hull);
}

static void judge_apart_from_hull(Judge *judge, const Entity *fitting, const Metal *metal, const Metal *hull)
{
    UnitPair millivolts = UNIT_ALONE(UNIT_MV);
    double apart = fabs(metal->mv - hull->mv) * 1e-3;
    Finding *f = judge_at_most(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_MATERIAL),
                               side_number(apart, millivolts),
                               side_number(hull_limit(LIMIT_UNLIKE_METALS)->value, millivolts));
    if (f == NULL) {
        return;
    }
    finding_about(f, PROP_THROUGH_HULL_INSULATED);
    finding_say(judge, f, "`%s` is of %s and sits in a hull of %s, %s apart in sea water: without an anode the %s is eaten",
                say_name(judge, fitting), metal->name, hull->name, say_number(judge, apart, millivolts),
                metal->mv > hull->mv ? "hull" : "fitting");
    say_in_hull(judge, f, fitting, metal, hull);
    finding_remedy(judge, f, "an `anode` that `protects %s`", say_name(judge, judge->model->boat));
}

/* A fitting in a hull of metal; hulls of which nothing is said are taken for no metal. */
static void judge_in_hull(Judge *judge, const Entity *fitting)
{
    Str word;
    Str built;
    const Entity *boat = judge->model->boat;
    if (boat == NULL || stated_word(boat, PROP_BOAT_BUILT, &built) != STATE_KNOWN ||
        stated_word(fitting, PROP_THROUGH_HULL_MATERIAL, &word) != STATE_KNOWN) {
        return; /* what a fitting is made of, `seacock` asks */
    }
    const Metal *hull = metal_find(str_copy(judge->arena, built));
    const Metal *metal = metal_find(str_copy(judge->arena, word));
    if (hull == NULL || metal == NULL || stays_dry(judge, fitting) ||
        entity_yes(fitting, PROP_THROUGH_HULL_INSULATED) == 1) {
        judge_holds(judge);
    } else if (str_is(built, "aluminium") && is_of_copper(word)) {
        judge_copper_in_aluminium(judge, fitting, metal, hull);
    } else if (has_anode(judge, boat) || has_anode(judge, fitting)) {
        judge_holds(judge);
    } else {
        judge_apart_from_hull(judge, fitting, metal, hull);
    }
}

void judge_unlike_metals(Judge *judge, const Entity *thing)
{
    const Entity *engine = thing->kind == KIND_PROPELLER ? entity_reference(thing, PROP_PROPELLER_ENGINE) : NULL;
    if (engine != NULL && !turns_a_shaft(engine) && !entity_states(thing, PROP_PROPELLER_SHAFT_MATERIAL)) {
        return; /* the shaft of a leg is its maker's */
    }
    judge_pair(judge, thing, thing->kind == KIND_PROPELLER ? &propeller_on_shaft : &valve_on_fitting);
    if (thing->kind == KIND_THROUGH_HULL) {
        judge_in_hull(judge, thing);
    }
}

/* Anodes */

void judge_anode_unfit(Judge *judge, const Entity *anode)
{
    Str word;
    if (judge->model->boat == NULL) {
        return; /* what she floats in is not known, and told already */
    }
    Water water = water_of(judge);
    State told = stated_word(anode, PROP_ANODE_MATERIAL, &word);
    if (told == STATE_WAITING || has_mistake(judge->model->boat, PROP_BOAT_WATER) || has_mistake(judge->model->boat, PROP_BOAT_WATERS)) {
        judge_waiting(judge);
        return;
    }
    if (told == STATE_MISSING) {
        Finding *f = judge_open(judge, anode, place_of_name(judge, anode), anode, PROP_ANODE_MATERIAL);
        finding_say(judge, f, "`%s` does not say what it is made of", say_name(judge, anode));
        finding_remedy(judge, f, "material %s", anode_metal(judge));
        return;
    }
    bool zinc = str_is(word, "zinc");
    bool unfit = (zinc && (water == WATER_FRESH || water == WATER_UNKNOWN)) || (str_is(word, "magnesium") && water != WATER_FRESH);
    if (!unfit) {
        judge_holds(judge);
        return;
    }
    Finding *f = judge_broken(judge, anode, place_of(judge, anode, PROP_ANODE_MATERIAL));
    finding_say(judge, f, zinc ? "`%s` is of zinc, which grows a skin in fresh water and protects nothing"
                               : "`%s` is of magnesium, which the sea eats in weeks, and which lifts the paint of what it protects",
                say_name(judge, anode));
    rest_on_water(judge, f);
    finding_remedy(judge, f, water == WATER_FRESH ? "material magnesium" : "material aluminium");
}

/* ---- unprotected-metal, of the hull itself ------------------------------------------------------------- */

/* An anode that does not say what it is joined to; NULL: each does. */
static const Entity *unjoined_anode(const Judge *judge)
{
    const Entity *anode = first_aboard(judge->model, KIND_ANODE);
    while (anode != NULL && entity_states(anode, PROP_ANODE_PROTECTS)) {
        anode = next_aboard(anode);
    }
    return anode;
}

static bool some_anode_is_mistaken(const Judge *judge)
{
    for (const Entity *e = first_aboard(judge->model, KIND_ANODE); e != NULL; e = next_aboard(e)) {
        if (has_mistake(e, PROP_ANODE_PROTECTS)) {
            return true;
        }
    }
    return some_is_mistaken(judge, KIND_ANODE);
}

void judge_unprotected_hull(Judge *judge)
{
    Str built;
    const Entity *boat = judge->model->boat;
    if (stated_word(boat, PROP_BOAT_BUILT, &built) != STATE_KNOWN || metal_find(str_copy(judge->arena, built)) == NULL) {
        return;
    }
    const char *metal = str_copy(judge->arena, built), *name = say_name(judge, boat);
    const Entity *unjoined = unjoined_anode(judge);
    Span place = place_of(judge, boat, PROP_BOAT_BUILT);
    if (has_anode(judge, boat)) {
        judge_holds(judge);
    } else if (some_anode_is_mistaken(judge)) {
        judge_waiting(judge);
    } else if (unjoined != NULL) {
        Finding *f = judge_open(judge, boat, place, unjoined, PROP_ANODE_PROTECTS);
        finding_say(judge, f, "her hull is of %s, and `%s` does not say whether it protects that", metal, say_name(judge, unjoined));
        finding_remedy(judge, f, "`protects %s` on `%s`", name, say_name(judge, unjoined));
    } else if (first_aboard(judge->model, KIND_ANODE) != NULL) {
        Finding *f = judge_broken(judge, boat, place);
        finding_say(judge, f, "her hull is of %s, and no anode protects it", metal);
        finding_remedy(judge, f, "`protects %s` on anodes that are joined to the hull under water", name);
    } else {
        Finding *f = judge_open(judge, boat, place, NULL, PROP_NONE);
        finding_say(judge, f, "her hull is of %s, and the spec states no anode", metal);
        finding_hangs_on(judge, f, boat, PROP_NONE, "anode");
        finding_remedy(judge, f, "anode hull-anodes { protects %s; material %s }", name, anode_metal(judge));
    }
}
