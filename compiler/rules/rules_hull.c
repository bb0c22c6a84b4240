/*
 * Openings in the hull: seacocks, reaching them, and hose clamps below the water.
 */
#include "rules/plumbing.h"

#include "physics/hull.h"
#include "rules/families.h"
#include "rules/hull.h"

#include <string.h>

/* ---- seacock ------------------------------------------------------------------------------------------- */

/*
 * A finding if the fitting is low enough for one: below the heeled waterline, or near the upright one. NULL
 * if it is not, or if how high it is rests on a mistake.
 */
static Finding *judge_if_low(Judge *judge, const Entity *fitting, Span place)
{
    Side height = side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0);
    if (height.state == STATE_MISSING) {
        return judge_open(judge, fitting, place, fitting, PROP_THROUGH_HULL_HEIGHT);
    }
    return judge_at_least(judge, fitting, place, height, least_height(judge, fitting));
}

/* "reaches", or "may reach" where that is open. */
static const char *reaches(const Finding *finding)
{
    return finding->verdict == VERDICT_OPEN ? "may reach" : "reaches";
}

/* Why the sea reaches it: heeled, or since it is near the waterline upright. */
static void note_height(Judge *judge, Finding *finding, const Entity *fitting)
{
    Side waterline = waterline_at(judge, fitting);
    const Limit *near = hull_limit(LIMIT_NEAR_WATERLINE);
    UnitPair unit = unit_of(fitting, PROP_THROUGH_HULL_HEIGHT, figures_unit(judge->figures, UNIT_ALONE(UNIT_M)));
    if (!entity_states(fitting, PROP_THROUGH_HULL_HEIGHT)) {
        finding_note(judge, finding, place_of_name(judge, fitting),
                     "its `height` above the waterline is not said");
    } else if (ask_at_least(waterline, side_number(near->value, unit)) == ANSWER_YES) {
        finding_note(judge, finding, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT),
                     "heeled, the sea comes up to %s here", say_reach(judge, waterline, unit));
        note_heel(judge, finding);
    } else {
        finding_note(judge, finding, place_of(judge, fitting, PROP_THROUGH_HULL_HEIGHT),
                     "up to %s above the waterline counts as within its reach",
                     say_number(judge, near->value, unit));
    }
}

/* What her hull is made of; empty: she does not say. */
static Str hull_built(const Judge *judge)
{
    return judge->model->boat != NULL ? entity_word(judge->model->boat, PROP_BOAT_BUILT) : (Str){0};
}

/* A hull of plate spreads the load by itself, or by a doubler that is welded on; a block of wood behind it starts rust. */
static bool has_plate(const Judge *judge)
{
    Str built = hull_built(judge);
    return str_is(built, "steel") || str_is(built, "aluminium");
}

/* What is asked for where something else has to go: in a hull of metal its own, for copper eats it. */
static const char *good_material(const Judge *judge)
{
    return has_plate(judge) ? str_copy(judge->arena, hull_built(judge)) : "bronze";
}

/* A valve is of what it is screwed on: two metals that touch in sea water are a battery (see unlike-metals). */
static const char *good_valve(const Judge *judge, const Entity *fitting)
{
    Str below = entity_word(fitting, PROP_THROUGH_HULL_MATERIAL);
    bool own = str_is(below, "bronze") || (str_is(below, "stainless") && has_plate(judge));
    return own ? str_copy(judge->arena, below) : good_material(judge);
}

static bool is_plain_metal(Str material)
{
    return str_is(material, "steel") || str_is(material, "aluminium");
}

/* Plain steel and aluminium are right as a stub that is welded into a hull of metal, and waste away in any other. */
static bool is_bad(const Judge *judge, Str material)
{
    Str built = hull_built(judge);
    return str_is(material, "brass") || str_is(material, "plastic") || (is_plain_metal(material) && built.length > 0 && !has_plate(judge));
}

static const char *say_decay(Str material)
{
    return str_is(material, "brass") ? "loses its zinc in water" : is_plain_metal(material) ? "wastes away in water" : "ages and breaks";
}

/* Of the fitting, or of a valve that is of something else. */
static void judge_bad_material(Judge *judge, const Entity *fitting, PropId prop, Str material)
{
    bool valve = prop == PROP_THROUGH_HULL_VALVE;
    Finding *finding = judge_if_low(judge, fitting, place_of(judge, fitting, prop));
    if (finding != NULL) {
        finding_about(finding, valve ? prop : PROP_NONE);
        finding_say(judge, finding, "%s`%s` is of %s, which %s, and the sea %s it", valve ? "the valve of " : "",
                    say_name(judge, fitting), str_copy(judge->arena, material), say_decay(material), reaches(finding));
        note_height(judge, finding, fitting);
        finding_remedy(judge, finding, "%s %s", props[prop].word, valve ? good_valve(judge, fitting) : good_material(judge));
        finding_remedy(judge, finding, "%s composite", props[prop].word);
    }
}

/* Of plain metal, in a hull of which nothing is said. */
static void judge_unplaced(Judge *judge, const Entity *fitting, Str material)
{
    Finding *finding = judge_if_low(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_MATERIAL));
    if (finding != NULL) {
        finding_left_open(judge, finding, judge->model->boat, PROP_BOAT_BUILT);
        finding_about(finding, PROP_THROUGH_HULL_MATERIAL);
        finding_say(judge, finding, "`%s` is of %s, which is right where it is welded into a hull of that, and nothing says what hers is `built` of",
                    say_name(judge, fitting), str_copy(judge->arena, material));
        finding_remedy(judge, finding, "`built %s` on the boat, if she is", str_copy(judge->arena, material));
    }
}

/* Beside a bad material, which is a finding of its own, what shuts the fitting is another matter, whatever is said of it. */
static const char *matter_of_shutting(const Judge *judge, const Entity *fitting)
{
    return is_bad(judge, entity_word(fitting, PROP_THROUGH_HULL_MATERIAL)) ? "whether there is a seacock, or a backing block" : NULL;
}

static void judge_no(Judge *judge, const Entity *fitting, PropId prop, const char *lacks)
{
    Finding *finding = judge_if_low(judge, fitting, place_of(judge, fitting, prop));
    if (finding != NULL) {
        finding_matter(finding, matter_of_shutting(judge, fitting));
        finding_say(judge, finding, "`%s` has no %s, and the sea %s it", say_name(judge, fitting), lacks,
                    reaches(finding));
        note_height(judge, finding, fitting);
        finding_remedy(judge, finding, "%s yes", props[prop].word);
    }
}

/* What is not said of a seacock, in one finding. */
static void judge_silent(Judge *judge, const Entity *fitting, const PropId silent[], int count)
{
    static const char *const whether[] = {"has a seacock", "is made of", "has a backing block"};
    static const PropId asked[] = {PROP_THROUGH_HULL_SEACOCK, PROP_THROUGH_HULL_MATERIAL,
                                   PROP_THROUGH_HULL_BACKING};
    Finding *finding = judge_if_low(judge, fitting, place_of_name(judge, fitting));
    if (finding == NULL) {
        return;
    }
    finding_matter(finding, matter_of_shutting(judge, fitting));
    Buf text;
    Buf right;
    const char *how = reaches(finding);
    buf_init(&text, judge->arena);
    buf_init(&right, judge->arena);
    for (int i = 0; i < count; i++) {
        for (int a = 0; a < 3; a++) {
            if (asked[a] == silent[i]) {
                buf_format(&text, "%s%s it %s",
                           i == 0          ? ""
                           : i + 1 < count ? ", "
                                           : " and ",
                           a == 1 ? "what" : "whether", whether[a]);
            }
        }
        finding_left_open(judge, finding, fitting, silent[i]);
        buf_format(&right, "%s%s %s", i > 0 ? " and " : "", props[silent[i]].word,
                   silent[i] == PROP_THROUGH_HULL_MATERIAL ? good_material(judge) : "yes");
    }
    finding_remedy(judge, finding, "%s", right.text); /* none of them is enough without the others */
    finding_say(judge, finding, "the sea %s `%s`, which does not say %s", how, say_name(judge, fitting),
                text.text);
    note_height(judge, finding, fitting);
}

static void judge_seacock(Judge *judge, const Entity *fitting)
{
    Str material;
    PropId silent[3];
    int count = 0;
    State state = stated_word(fitting, PROP_THROUGH_HULL_MATERIAL, &material);
    int seacock = entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK);
    int backing = has_plate(judge) ? 1 : entity_yes(fitting, PROP_THROUGH_HULL_BACKING);
    Str valve = entity_word(fitting, PROP_THROUGH_HULL_VALVE);
    bool bad = is_bad(judge, material) || is_bad(judge, valve);
    if (has_no_hose(fitting) || nothing_may_shut(judge, fitting)) {
        return; /* exhausts are left out by the clause; the plug of a sounder has no hose; what nothing may shut, others judge */
    }
    if (seacock == -2 || backing == -2 || state == STATE_WAITING ||
        has_mistake(fitting, PROP_THROUGH_HULL_VALVE) || has_mistake(fitting, PROP_THROUGH_HULL_HEIGHT) || has_mistake(fitting, PROP_THROUGH_HULL_SERVES)) {
        judge_waiting(judge);
        return;
    }
    bool unplaced = is_plain_metal(material) && hull_built(judge).length == 0; /* right in one hull, bad in another */
    if (seacock == 1 && backing == 1 && state == STATE_KNOWN && !bad && !unplaced) {
        judge_holds(judge);
        return;
    }
    if (is_bad(judge, material)) {
        judge_bad_material(judge, fitting, PROP_THROUGH_HULL_MATERIAL, material);
    }
    if (is_bad(judge, valve)) {
        judge_bad_material(judge, fitting, PROP_THROUGH_HULL_VALVE, valve);
    }
    if (unplaced) {
        judge_unplaced(judge, fitting, material);
    }
    if (seacock == 0) {
        judge_no(judge, fitting, PROP_THROUGH_HULL_SEACOCK, "seacock");
        return; /* the rest is a matter of the one that has to come */
    }
    if (backing == 0) {
        judge_no(judge, fitting, PROP_THROUGH_HULL_BACKING, "backing block");
    }
    silent[count] = PROP_THROUGH_HULL_SEACOCK;
    count += seacock == -1;
    silent[count] = PROP_THROUGH_HULL_MATERIAL;
    count += state == STATE_MISSING;
    silent[count] = PROP_THROUGH_HULL_BACKING;
    count += backing == -1;
    if (count > 0) {
        judge_silent(judge, fitting, silent, count);
    }
}

/* ---- open-sea ------------------------------------------------------------------------------------------ */

/* Without a seacock there is nothing to reach: the rule `seacock` speaks of that. */
static void judge_open_sea(Judge *judge, const Entity *fitting)
{
    int reach = entity_yes(fitting, PROP_THROUGH_HULL_REACH);
    if (entity_yes(fitting, PROP_THROUGH_HULL_SEACOCK) != 1 || has_no_hose(fitting) || nothing_may_shut(judge, fitting)) {
        return;
    }
    if (reach == -2 || has_mistake(fitting, PROP_THROUGH_HULL_HEIGHT) || has_mistake(fitting, PROP_THROUGH_HULL_SERVES)) {
        judge_waiting(judge);
        return;
    }
    if (reach == 1) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_if_low(judge, fitting, place_of(judge, fitting, PROP_THROUGH_HULL_REACH));
    if (finding == NULL) {
        return;
    }
    if (reach == 0) {
        finding_say(judge, finding,
                    "the seacock of `%s` cannot be reached, and the sea can stand in its hose",
                    say_name(judge, fitting));
    } else {
        finding_left_open(judge, finding, fitting, PROP_THROUGH_HULL_REACH);
        finding_say(judge, finding, "`%s` does not say whether its seacock can be reached to close it",
                    say_name(judge, fitting));
    }
    note_height(judge, finding, fitting);
    finding_remedy(judge, finding, "reach yes");
}

/* ---- clamps -------------------------------------------------------------------------------------------- */

/*
 * The through-hull at one end of a hose that the sea reaches, heeled; NULL if there is none, or it stands
 * clear.
 */
static const Entity *low_end(const Judge *judge, const Entity *hose, Answer *low)
{
    const PropId ends[] = {PROP_HOSE_FROM, PROP_HOSE_TO};
    for (int i = 0; i < 2; i++) {
        const Entity *end = entity_reference(hose, ends[i]);
        if (end == NULL || end->kind != KIND_THROUGH_HULL || !is_aboard(end)) {
            continue;
        }
        *low = ask_at_least(side_value(judge, end, PROP_THROUGH_HULL_HEIGHT, 0),
                            waterline_at(judge, end));
        if (*low != ANSWER_YES) {
            return end;
        }
    }
    return NULL;
}

/* Clamps that a thing states, at least two; `at` is the through-hull that makes them needed, or NULL. */
static Finding *judge_two(Judge *judge, const Entity *subject, PropId prop, const Entity *at, Answer low)
{
    Span place = place_of(judge, subject, prop);
    Side two = side_number(2.0, UNIT_ALONE(UNIT_NONE));
    Side clamps = side_value(judge, subject, prop, 0);
    if (ask_at_least(clamps, two) == ANSWER_NO && low == ANSWER_PERHAPS) {
        return judge_at_least(judge, subject, place, side_value(judge, at, PROP_THROUGH_HULL_HEIGHT, 0),
                              waterline_at(judge, at));
    }
    if (ask_at_least(clamps, two) == ANSWER_NO && low == ANSWER_UNKNOWN) {
        return judge_open(judge, subject, place, at, PROP_THROUGH_HULL_HEIGHT);
    }
    return judge_at_least(judge, subject, place, clamps, two);
}

static void judge_clamps_of(Judge *judge, const Entity *subject, PropId prop, const Entity *at, Answer low)
{
    Finding *finding;
    bool lost = low == ANSWER_UNKNOWN && entity_states(at, PROP_THROUGH_HULL_HEIGHT);
    if (has_mistake(subject, prop) || lost) {
        judge_waiting(judge);
        return;
    }
    bool fitting = subject->kind == KIND_THROUGH_HULL;
    const char *sure = low == ANSWER_NO ? "" : "perhaps ";
    const char *where = at == NULL || fitting ? text_format(judge->arena, ", %sbelow the water", sure)
                                              : text_format(judge->arena, " at `%s`, %sbelow the water",
                                                            say_name(judge, at), sure);
    if (!entity_states(subject, prop)) {
        finding = judge_open(judge, subject, place_of_name(judge, subject), subject, prop);
        finding_say(judge, finding, "`%s` does not say how many clamps hold %s%s", say_name(judge, subject),
                    fitting ? "the hose on it" : "it", where);
    } else {
        finding = judge_two(judge, subject, prop, at, low);
        if (finding == NULL) {
            return;
        }
        const char *clamps = say_side(judge, side_value(judge, subject, prop, 0));
        finding_say(judge, finding, "%s`%s` is held by %s clamp%s%s; two are usual",
                    fitting ? "the hose on " : "", say_name(judge, subject), clamps,
                    strcmp(clamps, "1") == 0 ? "" : "s", where);
    }
    if (at != NULL && entity_states(at, PROP_THROUGH_HULL_HEIGHT)) {
        finding_note(judge, finding, place_of(judge, at, PROP_THROUGH_HULL_HEIGHT),
                     "heeled, the water comes up to %s here",
                     say_reach(judge, waterline_at(judge, at),
                           unit_of(at, PROP_THROUGH_HULL_HEIGHT, figures_unit(judge->figures, UNIT_ALONE(UNIT_M)))));
        note_heel(judge, finding);
    }
    finding_remedy(judge, finding, "clamps 2");
}

/*
 * A hose below the water by its own word, or by the through-hull at its end. Clamps that the fitting states
 * count there.
 */
static void judge_hose_clamps(Judge *judge, const Entity *hose)
{
    Answer low = ANSWER_NO;
    if (is_gas_hose(hose)) {
        return; /* it has end fittings, and clamps are told by gas-line */
    }
    int below = entity_yes(hose, PROP_HOSE_BELOW_WATERLINE);
    if (below == 1) {
        judge_clamps_of(judge, hose, PROP_HOSE_CLAMPS, NULL, ANSWER_NO);
        return;
    }
    const Entity *end = low_end(judge, hose, &low);
    bool fitting_says =
        end != NULL && !entity_states(hose, PROP_HOSE_CLAMPS) && entity_states(end, PROP_THROUGH_HULL_CLAMPS);
    if (end != NULL && !fitting_says) {
        judge_clamps_of(judge, hose, PROP_HOSE_CLAMPS, end, low);
    }
}

static void judge_fitting_clamps(Judge *judge, const Entity *fitting)
{
    Answer low = ask_at_least(side_value(judge, fitting, PROP_THROUGH_HULL_HEIGHT, 0),
                              waterline_at(judge, fitting));
    const Plumbing *plumbing = plumbing_of(judge->figures);
    bool hosed = plumbing->into.first[fitting->index] != NULL || plumbing->from.first[fitting->index] != NULL;
    bool asked = entity_states(fitting, PROP_THROUGH_HULL_CLAMPS) || (!hosed && !has_no_hose(fitting) && !nothing_may_shut(judge, fitting) && low != ANSWER_UNKNOWN);
    if (asked && !entity_states(fitting, PROP_THROUGH_HULL_CLAMPS) && has_mistake(fitting, PROP_THROUGH_HULL_SERVES)) {
        judge_waiting(judge); /* it may serve what has no hose */
    } else if (asked && low != ANSWER_YES) { /* where a hose is stated that one is asked */
        judge_clamps_of(judge, fitting, PROP_THROUGH_HULL_CLAMPS, fitting, low);
    }
}

static void judge_clamps(Judge *judge, const Entity *subject)
{
    if (subject->kind == KIND_HOSE) {
        judge_hose_clamps(judge, subject);
    } else {
        judge_fitting_clamps(judge, subject);
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define FITTING(SAYS) EXAMPLE_BOAT "through-hull basin-drain { bore 38 mm; " SAYS " }\n"
#define CLAMPED(SAYS)                                                              \
    FITTING("height -0.2 m; seacock yes; reach yes; material bronze; backing yes") \
    "fixture basin { drains-to basin-drain }\n"                                    \
    "hose drain-hose { from basin; to basin-drain; bore 38 mm; run 1 m; " SAYS " }\n"

#define ANODE(METAL) EXAMPLE_BOAT "anode hull-anode { material " METAL "; protects wren }\n"

#define DRAINING(SAYS)                                                                                                 \
    EXAMPLE_BOAT "gas-locker deck-box { cylinder 5 kg; drained-overboard yes; drain 25 mm; gauge yes; shut-off yes }\n" \
                 "through-hull gas-drain { bore 25 mm; material bronze; serves deck-box; " SAYS " }\n"
#define BREATHING(SAYS)                                                                                       \
    EXAMPLE_BOAT "heater air-heater { portable yes; output 4 kW; fuel diesel; fuel-rate 0.5 l/h }\n"          \
                 "through-hull heater-exhaust { bore 24 mm; serves air-heater; " SAYS " }\n"

static const Rule rules[] = {
    {.name = "seacock",
     .severity = SEVERITY_FAULT,
     .title = "an opening that the sea can reach has a seacock, of metal or composite that lasts, on a "
              "backing block",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "46 CFR 179.350 (small passenger vessels, edition of 2015: a benchmark) for openings up to "
               "150 mm above the waterline; ISO 9093:2020 (preview) and US voluntary practice (second hand) "
               "for the heeled waterline and the metals; backing: common practice, no source",
     .why = "A hose that comes off below the water fills the boat faster than any pump empties her, and a "
            "fitting that is dry at the quay is under water when she heels. A seacock shuts it; plain brass "
            "loses its zinc until it crumbles, in fresh water more slowly than in the sea, plastic that is not made for it breaks, plain "
            "steel or aluminium lasts as a stub welded into a hull of metal alone, and "
            "without a backing block a knock tears the fitting out of a laminate or of planks; a hull `built` of metal needs none. The heeled waterline is that of half "
            "the beam, or of the place that `at` states; exhausts and sounders are left out, and what must stay open: gas drains and "
            "what burners breathe by (`gas-outlet`, `burner-outlet`), unless something else runs out there too. A benchmark of "
            "inspected vessels is not what the law asks of a pleasure boat.",
     .breaks = FITTING("height -0.2 m; seacock no; material bronze; backing yes"),
     .holds = FITTING("height -0.2 m; seacock yes; reach yes; material bronze; backing yes"),
     .open = FITTING("height 0.1..1.2 m; seacock no; material bronze; backing yes"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_seacock},
    {.name = "open-sea",
     .severity = SEVERITY_FAULT,
     .title = "a seacock below the heeled waterline can be reached to close it",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "46 CFR 179.350 (small passenger vessels, edition of 2015: a benchmark); US voluntary "
               "practice asks that it is reached without tools (second hand)",
     .why = "When a hose fails there are minutes to find the seacock and shut it. One behind a lining, or "
            "under a fixed tank, might as well not be there.",
     .breaks = FITTING("height -0.2 m; seacock yes; reach no; material bronze; backing yes"),
     .holds = FITTING("height -0.2 m; seacock yes; reach yes; material bronze; backing yes"),
     .open = FITTING("height -0.2 m; seacock yes; material bronze; backing yes"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_open_sea},
    {.name = "clamps",
     .severity = SEVERITY_WARNING,
     .title = "two clamps hold each end of a hose that the sea can reach",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "common practice, no source; where the tail of the fitting is long enough for both",
     .why = "A clamp rusts through from the inside, where nobody sees it. The second one holds while the "
            "first is found. Hose for gas has none. A through-hull under the heeled water is asked for its `clamps` where no hose at it is stated.",
     .breaks = CLAMPED("clamps 1"),
     .holds = CLAMPED("clamps 2"),
     .open = CLAMPED(""),
     .kinds = {KIND_HOSE, KIND_THROUGH_HULL},
     .judge = judge_clamps},
    {.name = "gas-outlet",
     .severity = SEVERITY_FAULT,
     .title = "a gas locker drains above the water, by a fitting that is wide enough and that nothing shuts",
     .basis = ON_BOTH,
     .danger = DANGER_GAS,
     .source = "a class society's rules for recreational craft, which follow ISO 10239: outlet at least 75 mm above the waterline at "
               "rest, loaded, the drain without a sump in which water stays (second hand); bore: as `gas-drain`; no valve: "
               "common practice, no source",
     .why = "Cooking gas falls out of the locker by its own weight and by nothing else. Water that stands in the drain, a valve that "
            "somebody has shut, a pipe that rises on its way, and the gas fills the locker and runs over into the boat. Looked at where a "
            "through-hull `serves` a gas locker, or a hose leads from one to it, be it by a T or an elbow (an `item`). The hoses on the way are looked at too: their bore, and whether one "
            "rises (`rise`); and whether the outlet stands above the locker, where that says `at`. A sink, a cockpit or whatever else runs out by the same pipe is an open way for the gas into the boat, and needs a seacock, "
            "which the drain must not have: each has its own. Less than 75 mm above the water, or a bore that is "
            "too narrow, is a warning; how she heels is not looked at.",
     .breaks = DRAINING("height -0.12 m"),
     .holds = DRAINING("height 0.3 m"),
     .open = DRAINING("height -0.1..0.3 m"),
     .kinds = {KIND_THROUGH_HULL, KIND_HOSE},
     .judge = judge_gas_outlet},
    {.name = "burner-outlet",
     .severity = SEVERITY_FAULT,
     .title = "what a burner leaves goes out above the water, by what stands its heat, and nothing shuts it",
     .basis = ON_BOTH,
     .danger = DANGER_FIRE,
     .source = "common practice, no source",
     .why = "What a heater or a gas appliance burns leaves at some hundred degrees, with carbon monoxide in it. Plastic melts there; a valve "
            "that is shut, or the sea in the pipe, turns the fumes into the cabin. Looked at where a through-hull `serves` a heater that "
            "burns something, or a gas appliance: no seacock is asked then. Nothing else may run out there: the fumes would come up by it. Less than 50 mm above the water in which she rests is a "
            "warning, and so is an outlet that the sea reaches when she heels, unless its pipe rises higher before it (`swan-neck`). "
            "One that says `air-intake yes` may be of plastic.",
     .breaks = BREATHING("height 0.9 m; material plastic"),
     .holds = BREATHING("height 0.9 m; material stainless"),
     .open = BREATHING("height 0.3 m; material stainless"),
     .kinds = {KIND_THROUGH_HULL},
     .judge = judge_burner_outlet},
    {.name = "unlike-metals",
     .severity = SEVERITY_WARNING,
     .title = "metals that touch under water lie near each other in the galvanic series, or an anode protects them",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "galvanic series of metals in sea water (US small-craft practice, 2010; steel and alloys nobler than brass "
               "from memory; no copper alloy in an aluminium hull: second hand): more than 200 mV apart and wet is a fault "
               "unless insulated or protected by an anode",
     .why = "Two metals that touch in sea water are a battery, and the less noble one is what it burns: a valve turns to "
            "crumbs on a fitting that looks new. Published series differ by up to 200 mV, so only the order and a step "
            "of 200 mV are judged; stainless steel is taken as it is with oxygen around it. Judged are a valve that is "
            "not of its fitting's material, a propeller on its shaft, and a fitting in a hull that is `built` of metal and from "
            "which it is not `insulated`: copper alloys in aluminium with an anode too, all others without one that "
            "protects the boat. A stub of the hull's own metal is the hull: its valve is held against it, and an anode that protects the "
            "boat protects it. What stands above the water, and boats in "
            "fresh water, are left out; where `waters` says inland alone and `water` nothing, it hangs on that. What touches by a bracket or a bonding wire the spec does not know.",
     .breaks = FITTING("height -0.2 m; seacock yes; reach yes; material stainless; valve brass; backing yes"),
     .holds = FITTING("height -0.2 m; seacock yes; reach yes; material stainless; valve bronze; backing yes"),
     .open = FITTING("height -0.2 m; seacock yes; reach yes; valve bronze; backing yes"),
     .kinds = {KIND_THROUGH_HULL, KIND_PROPELLER},
     .judge = judge_unlike_metals},
    {.name = "anode-unfit",
     .severity = SEVERITY_WARNING,
     .title = "anodes are of a metal that works in the water that she floats in",
     .basis = ON_BOTH,
     .source = "common practice, told alike by magazines and sellers of anodes (second hand)",
     .why = "An anode protects only while it dissolves. Zinc grows a skin in fresh water and stops; magnesium is spent in "
            "weeks in salt or brackish water, and drives so much current that paint lifts. Aluminium alloy serves in salt "
            "and brackish water and fairly in fresh. She is taken to float in salt water unless `water` says otherwise; where `waters` says "
            "inland alone, it hangs on that.",
     .breaks = ANODE("magnesium"),
     .holds = ANODE("zinc"),
     .open = EXAMPLE_BOAT "anode hull-anode { protects wren }\n",
     .kinds = {KIND_ANODE},
     .judge = judge_anode_unfit},
};
const RuleFamily rules_hull = RULE_FAMILY("Through-hulls", rules);
