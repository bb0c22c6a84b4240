/*
 * Petrol: the space of an engine is aired by a blower before it is started, and by openings at all times; so is that of a tank;
 * what a space says of petrol is so. Nobody sleeps beside it, and what carries its own: petrol_carried.c, in the same table.
 */
#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "physics/ventilation.h"
#include "rules/ask.h"
#include "rules/families.h"
#include "rules/petrol_rules.h"
#include "rules/plumbing.h"

/* ---- what both rules look at --------------------------------------------------------------------------- */

/* The space of a petrol engine, for the first of several in it; NULL where there is nothing to judge. */
static const Entity *space_to_air(Judge *judge, const Entity *engine)
{
    const Entity *space = entity_reference(engine, PROP_COMMON_SPACE);
    if (!is_petrol_inboard(engine)) {
        return NULL;
    }
    if (has_mistake(engine, PROP_COMMON_SPACE)) {
        judge_waiting(judge);
    } else if (space == NULL) {
        judge_unmeasured(judge, engine, PROP_COMMON_SPACE);
    } else if (!is_open_air(space) && petrol_inboard_in(judge->model, space) == engine) {
        return space;
    }
    return NULL;
}

/* Where a space is open to the air, blowers are not asked for. */
static Answer is_open_to_air(const Judge *judge, const Entity *space)
{
    Side openings = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    Side open = side_figure(figure_of(judge, space, FIGURE_OPEN_AREA));
    return ask_at_least(openings, open);
}

/* A finding on blowers of a space that may turn out to be open to the air. */
static void leave_to_openings(Judge *judge, Finding *finding, const Entity *space)
{
    if (finding != NULL && is_open_to_air(judge, space) == ANSWER_PERHAPS) {
        finding_may_not_apply(finding);
        finding_rests_on(judge, finding, space, PROP_SPACE_OPENINGS);
    }
}

static bool is_volume_unsaid(const Judge *judge, const Entity *space)
{
    return side_value(judge, space, PROP_SPACE_VOLUME, 0).state == STATE_MISSING;
}

/* "for its volume 85 m3/h" */
static const char *say_for_volume(const Judge *judge, const Entity *space, FigureId need)
{
    return is_volume_unsaid(judge, space)
               ? "what is the least goes by its `volume`, which is not said"
               : text_format(judge->arena, "for its volume %s is the least", say_figure(judge, figure_of(judge, space, need)));
}

/* The figures are those of the US; other bases ask for the same in figures that were not at hand. */
static void mark_benchmark(Judge *judge, Finding *finding)
{
    if (judge->basis == BASIS_ISO) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_here(judge, finding, "33 CFR 183 as a benchmark: the figures of ISO 11105 were not at hand");
    }
}

/*
 * What a space has, against what its volume asks for where petrol is. While nobody says the volume it is open: a number that
 * stands alone proves nothing.
 */
static Finding *judge_by_volume(Judge *judge, const Entity *thing, const Entity *space, Span place, Side has, Side need)
{
    return is_volume_unsaid(judge, space) ? judge_open(judge, thing, place, space, PROP_SPACE_VOLUME)
                                          : judge_at_least(judge, thing, place, has, need);
}

/* ---- petrol-blower ------------------------------------------------------------------------------------- */

/* A blower that stands in no space that the spec names; NULL if there is none. */
static const Entity *unplaced_blower(const Judge *judge)
{
    const Entity *blower = first_aboard(judge->model, KIND_BLOWER);
    while (blower != NULL && entity_states(blower, PROP_COMMON_SPACE)) {
        blower = next_aboard(blower);
    }
    return blower;
}

/* Open where nobody has thought of blowers yet, or one may be meant for here; else there are some, and none is here. */
static Finding *judge_no_blower(Judge *judge, const Entity *engine, const Entity *space)
{
    const Entity *unplaced = unplaced_blower(judge);
    bool none = first_aboard(judge->model, KIND_BLOWER) == NULL;
    Span place = place_of_name(judge, engine);
    Finding *finding = unplaced != NULL ? judge_open(judge, engine, place, unplaced, PROP_COMMON_SPACE)
                       : none           ? judge_open(judge, engine, place, NULL, PROP_NONE)
                                        : judge_broken(judge, engine, place);
    finding_at(finding, space);
    if (unplaced != NULL) {
        finding_say(judge, finding, "`%s` does not say whether it takes petrol vapour out of `%s`, where `%s` stands",
                    say_name(judge, unplaced), say_name(judge, space), say_name(judge, engine));
        finding_remedy(judge, finding, "space %s", say_name(judge, space));
    } else {
        finding_say(judge, finding,
                    none ? "the spec states no blower; one has to take petrol vapour out of `%s` before `%s` is started"
                         : "no blower takes petrol vapour out of `%s` before `%s` is started",
                    say_name(judge, space), say_name(judge, engine));
        finding_remedy(judge, finding, "a `blower` with `space %s` and its `flow`%s", say_name(judge, space),
                       side_is_known(side_figure(figure_of(judge, space, FIGURE_BLOWER_NEED)))
                           ? text_format(judge->arena, ", %s or more together",
                                         say_figure(judge, figure_of(judge, space, FIGURE_BLOWER_NEED)))
                           : "");
    }
    if (none) {
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, "blower");
    }
    mark_benchmark(judge, finding);
    return finding;
}

/* The first blower of a space that does not say what it is rated for, or what comes out; NULL if all do. */
static const Entity *unmeasured_blower(const Judge *judge, const Entity *space, PropId flow)
{
    const Entity *blower = first_aboard(judge->model, KIND_BLOWER);
    while (blower != NULL && (entity_reference(blower, PROP_COMMON_SPACE) != space || entity_states(blower, flow))) {
        blower = next_aboard(blower);
    }
    return blower;
}

/* What is told of a blower that does not state one of its flows, and of all of a space that move too little. */
static const char *say_unmeasured(const Judge *judge, const Entity *blower, PropId prop, const Entity *space, const char *least)
{
    return prop == PROP_BLOWER_FLOW
               ? text_format(judge->arena, "`%s` does not say how much air it is rated for; where petrol burns in `%s`, %s",
                             say_name(judge, blower), say_name(judge, space), least)
               : text_format(judge->arena, "`%s` does not say what it brings out of the boat through its duct; where petrol burns in "
                                           "`%s`, %s, all blowers together",
                             say_name(judge, blower), say_name(judge, space), least);
}

static const char *say_too_little(const Judge *judge, const Entity *space, PropId prop, const Figure *has, const char *least)
{
    return text_format(judge->arena, prop == PROP_BLOWER_FLOW ? "the blowers of `%s` are rated for %s; where petrol burns, %s"
                                                              : "the blowers of `%s` bring %s out of the boat; where petrol burns, %s",
                       say_name(judge, space), say_figure(judge, has), least);
}

/* What the blowers of a space move together, by `prop` of each: what they are rated for, or what comes out at the end of the ducts. */
static Finding *judge_moved(Judge *judge, const Entity *engine, const Entity *space, PropId prop, const Figure *has, FigureId needed)
{
    const Figure *need = figure_of(judge, space, needed);
    const Entity *unmeasured = unmeasured_blower(judge, space, prop);
    Finding *finding = unmeasured != NULL ? judge_open(judge, engine, place_of_name(judge, unmeasured), unmeasured, prop)
                                          : judge_by_volume(judge, engine, space, place_of_name(judge, space), side_figure(has),
                                                            side_figure(need));
    if (finding == NULL) {
        return NULL;
    }
    const char *least = say_for_volume(judge, space, needed);
    finding_at(finding, space);
    finding_say(judge, finding, "%s", unmeasured != NULL ? say_unmeasured(judge, unmeasured, prop, space, least)
                                                         : say_too_little(judge, space, prop, has, least));
    if (!is_volume_unsaid(judge, space)) {
        finding_remedy(judge, finding, prop == PROP_BLOWER_FLOW
                                           ? "a `flow` of %s or more together: a stronger blower, or one more"
                                           : "an `output` of %s or more together: wider, shorter, straighter ducts, or a stronger blower",
                       say_figure(judge, need));
    }
    mark_benchmark(judge, finding);
    return finding;
}

static void judge_petrol_blower(Judge *judge, const Entity *engine)
{
    const Entity *space = space_to_air(judge, engine);
    if (space == NULL) {
        return;
    }
    const Figure *flow = figure_of(judge, space, FIGURE_BLOWER_FLOW);
    if (is_open_to_air(judge, space) == ANSWER_YES) {
        judge_holds(judge);
    } else if (flow == NULL && some_is_mistaken(judge, KIND_BLOWER)) {
        judge_waiting(judge);
    } else if (flow == NULL) {
        leave_to_openings(judge, judge_no_blower(judge, engine, space), space);
    } else {
        leave_to_openings(judge, judge_moved(judge, engine, space, PROP_BLOWER_FLOW, flow, FIGURE_BLOWER_NEED), space);
    }
}

/* ---- petrol-blower-output ------------------------------------------------------------------------------ */

static void judge_petrol_blower_output(Judge *judge, const Entity *engine)
{
    const Entity *space = space_to_air(judge, engine);
    const Figure *output = space != NULL ? figure_of(judge, space, FIGURE_BLOWER_OUTPUT) : NULL;
    if (output == NULL) {
        return; /* that there is no blower is told by petrol-blower */
    }
    if (is_open_to_air(judge, space) == ANSWER_YES) {
        judge_holds(judge);
        return;
    }
    leave_to_openings(judge, judge_moved(judge, engine, space, PROP_BLOWER_OUTPUT, output, FIGURE_BLOWER_OUTPUT_NEED), space);
}

/* ---- petrol-openings ----------------------------------------------------------------------------------- */

static void judge_petrol_openings(Judge *judge, const Entity *engine)
{
    const Entity *space = space_to_air(judge, engine);
    if (space == NULL) {
        return;
    }
    Side area = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    Side least = side_figure(figure_of(judge, space, FIGURE_PETROL_OPENING));
    bool said = area.state != STATE_MISSING;
    Finding *finding = said ? judge_by_volume(judge, engine, space, place_of(judge, space, PROP_SPACE_OPENINGS), area, least)
                            : judge_open(judge, engine, place_of_name(judge, space), space, PROP_SPACE_OPENINGS);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, space);
    if (said) {
        finding_say(judge, finding, "`%s` lets air in through %s; where petrol burns its volume%s, and as much out",
                    say_name(judge, space), say_side(judge, area),
                    is_volume_unsaid(judge, space) ? ", which is not said, says how much is asked for"
                                                   : text_format(judge->arena, " asks for %s", say_side(judge, least)));
    } else {
        bool unsaid = is_volume_unsaid(judge, space);
        finding_say(judge, finding, "`%s`, where `%s` burns petrol, does not say through what area it lets air in%s",
                    say_name(judge, space), say_name(judge, engine), unsaid ? ", nor its `volume`, which says how much is asked for" : "");
        if (unsaid) {
            finding_left_open(judge, finding, space, PROP_SPACE_VOLUME);
            finding_remedy(judge, finding, "`volume` as measured: the area that is asked for follows from it");
        }
    }
    if (side_is_known(least)) {
        finding_remedy(judge, finding, "openings %s", say_up(judge, least.value.high, least.unit));
    }
    mark_benchmark(judge, finding);
}

/* ---- petrol-tank-air ----------------------------------------------------------------------------------- */

/* Something fixed there may spark: nothing says that it is protected. */
static bool stands_beside_sparks(const Judge *judge, const Entity *space)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *e = judge->model->entities[i];
        if (is_aboard(e) && kinds[e->kind].groups & GROUPS_SPARK && entity_reference(e, PROP_COMMON_SPACE) == space &&
            entity_yes(e, PROP_COMMON_PORTABLE) != 1 && entity_yes(e, PROP_SPARK_IGNITION_PROTECTED) != 1) {
            return true;
        }
    }
    return false;
}

/* Why the space of a tank has to breathe by itself (33 CFR 183.620(a)(3) to (5); ISO 11105 asks it of all); NULL: it need not. */
static const char *why_aired(const Judge *judge, const Entity *tank, const Entity *space)
{
    Str material = entity_word(tank, PROP_TANK_MATERIAL);
    bool metal = str_is(material, "aluminium") || str_is(material, "steel") || str_is(material, "stainless") ||
                 str_is(material, "copper-nickel");
    if (entity_yes(tank, PROP_COMMON_PORTABLE) == 1) {
        return "breathes out into it";
    }
    if (material.length > 0 && !metal) {
        return "is not of metal, and lets vapour through";
    }
    if (stands_beside_sparks(judge, space)) {
        return "stands beside what can spark";
    }
    return judge->basis == BASIS_ISO ? "may leak" : metal ? NULL : "may be of plastic, for it does not say its `material`";
}

/* Of several in one space that for which it has to breathe speaks: the first tank, or engine that carries its own; NULL: none. */
static const Entity *speaks_for(const Judge *judge, const Entity *space)
{
    for (const Entity *t = first_tank(judge->model, "fuel"); t != NULL; t = next_tank(t, "fuel")) {
        bool there = entity_reference(t, PROP_COMMON_SPACE) == space && fuel_held(judge->model, t) == FUEL_PETROL;
        if (there && why_aired(judge, t, space) != NULL) {
            return t;
        }
    }
    const Entity *carried = carried_petrol_in(judge->model, space);
    return carried != NULL && carried->kind == KIND_ENGINE ? carried : NULL; /* of a generator `generator-carried` asks for more */
}

static void judge_petrol_tank_air(Judge *judge, const Entity *tank)
{
    bool engine = tank->kind == KIND_ENGINE;
    const Entity *space = engine ? space_of_carried(judge, tank) : space_of_tank(judge, tank);
    if (space == NULL || petrol_inboard_in(judge->model, space) != NULL) {
        return; /* for an engine that runs there `petrol-openings` speaks */
    }
    const char *why = why_aired(judge, tank, space);
    if (why == NULL) {
        judge_holds(judge);
        return;
    }
    if (speaks_for(judge, space) != tank) {
        return;
    }
    Side area = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    Side need = side_figure(figure_of(judge, space, FIGURE_PETROL_OPENING));
    bool said = area.state != STATE_MISSING;
    bool shut = (said && side_is_known(area) && area.value.high <= 0.0) || (!said && entity_yes(space, PROP_SPACE_VENTILATED) == 0);
    UnitPair unit = said ? area.unit : model_unit(judge->model, UNIT_ALONE(UNIT_CM2));
    Side of_any = side_number(petrol_opening_m2(0.0), unit); /* what the smallest space asks for */
    bool too_little_for_any = said && side_is_known(area) && area.value.high < of_any.value.low;
    Side least = is_volume_unsaid(judge, space) && too_little_for_any ? of_any : need;
    Finding *finding = shut    ? judge_broken(judge, tank, place_of(judge, space, said ? PROP_SPACE_OPENINGS : PROP_SPACE_VENTILATED))
                       : !said ? judge_open(judge, tank, place_of_name(judge, space), space, PROP_SPACE_OPENINGS)
               : too_little_for_any
                   ? judge_at_least(judge, tank, place_of(judge, space, PROP_SPACE_OPENINGS), area, least)
                   : judge_by_volume(judge, tank, space, place_of(judge, space, PROP_SPACE_OPENINGS), area, least);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, space);
    if (shut) {
        finding_say(judge, finding, "`%s` holds petrol and %s, and nothing airs `%s`: vapour gathers there until something lights it",
                    say_name(judge, tank), why, say_name(judge, space));
    } else if (!said) {
        finding_say(judge, finding, "`%s` holds petrol and %s, and `%s` does not say through what area it lets air in",
                    say_name(judge, tank), why, say_name(judge, space));
    } else {
        finding_say(judge, finding, "`%s` lets air in through %s; `%s` holds petrol and %s: %s, and as much out",
                    say_name(judge, space), say_side(judge, area), say_name(judge, tank), why,
                    side_is_known(least) ? text_format(judge->arena, "%s is asked for", say_side(judge, least))
                                         : "its `volume`, which is not said, says how much is asked for");
    }
    finding_note(judge, finding, place_of_name(judge, tank), engine ? "its tank is carried with it" : "the tank");
    if (side_is_known(need)) {
        finding_remedy(judge, finding, "openings %s", say_up(judge, need.value.high, need.unit));
    }
    finding_remedy(judge, finding, "another `space`, or `open-air yes` of one that is open to the sky");
    if (!shut) {
        mark_benchmark(judge, finding);
    }
}

/* ---- petrol-said --------------------------------------------------------------------------------------- */

static void judge_petrol_said(Judge *judge, const Entity *space)
{
    bool denied = entity_yes(space, PROP_SPACE_PETROL) == 0;
    const Entity *there = denied && !is_open_air(space) ? petrol_in(judge->model, space) : NULL;
    if (is_open_air(space) && entity_yes(space, PROP_SPACE_SLEEPING) == 1) {
        Finding *finding = judge_broken(judge, space, place_of(judge, space, PROP_SPACE_OPEN_AIR));
        finding_about(finding, PROP_SPACE_OPEN_AIR);
        finding_say(judge, finding, "`%s` is said to be open to the sky, and people sleep in it", say_name(judge, space));
        finding_remedy(judge, finding, "open-air no");
        finding_remedy(judge, finding, "sleeping no");
    }
    if (there != NULL) {
        Finding *finding = judge_broken(judge, space, place_of(judge, space, PROP_SPACE_PETROL));
        finding_about(finding, PROP_SPACE_PETROL);
        finding_at(finding, there);
        finding_say(judge, finding, "`%s` says that it holds no petrol, and `%s` is in it: it counts as one of petrol",
                    say_name(judge, space), say_name(judge, there));
        finding_note(judge, finding, place_of_name(judge, there), "this brings petrol there");
        finding_remedy(judge, finding, "petrol yes");
        finding_remedy(judge, finding, there->kind == KIND_TANK ? "`fuel diesel` of `%s`, if that is what it holds"
                                                                : "another `space` of `%s`",
                       say_name(judge, there));
    } else if (denied) {
        judge_holds(judge);
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define PETROL(SPACE, REST)                                                                          \
    EXAMPLE_BOAT "space engine-box { volume 2 m3; " SPACE " }\n"                                      \
                 "engine petrol-engine { rated 60 kW at 4000 rpm; fuel petrol; space engine-box }\n" REST
#define BLOWN(FLOW) PETROL("openings 300 cm2", "blower fan { space engine-box; flow " FLOW " }\n")

/* A generator that is carried, in a space that says this. */
#define CARRIED_IN(says)                    \
    EXAMPLE_BOAT "space here { " says " }\n" \
                 "generator small { rated 1 kW at 120 V; fuel petrol; portable yes; space here }\n"
#define TANK_IN(SPACE, TANK)                                \
    EXAMPLE_BOAT "space bay { volume 1 m3; " SPACE " }\n" \
                 "tank can { holds fuel; fuel petrol; capacity 60 l; space bay; " TANK " }\n"

static const Rule rules[] = {
    {.name = "petrol-blower",
     .severity = SEVERITY_FAULT,
     .title = "blowers take petrol vapour out of the space of a petrol engine before it is started",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "33 CFR 183.610(a), (b), Table 183.610, and 183.605 (verified), judged in feet; on iso a benchmark and a "
               "warning, for the figures of ISO 11105 were not at hand",
     .why = "Petrol vapour is heavier than air and lies in the bilge until the first spark, which is that of the starter. "
            "The blower is run for some minutes before the engine is started, its intake in the lower third of the space "
            "and above the bilge water, and the nose and the eye come first. Asked of every space with a petrol engine "
            "within the hull, unless its openings, 15 in2 for each ft3, make it one in the open air. The rule is written "
            "for engines with a starter; a spec that states none is not taken to say that there is none. `flow` is held "
            "against what the table asks of the blower's rating; what comes out is the matter of `petrol-blower-output`.",
     .breaks = BLOWN("100 m3/h"),
     .holds = BLOWN("200 m3/h"),
     .open = PETROL("openings 300 cm2", ""),
     .kinds = {KIND_ENGINE, KIND_GENERATOR},
     .judge = judge_petrol_blower},
    {.name = "petrol-blower-output",
     .severity = SEVERITY_FAULT,
     .title = "enough air comes out of the boat at the end of the blowers' ducts",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "33 CFR 183.610(c), Table 183.610, and 183.605 (verified), judged in feet; on iso a benchmark and a warning, for "
               "the figures of ISO 11105 were not at hand",
     .why = "A blower moves what its plate says into free air. Duct, bends, grilles and cowls take their share: 2 % for each foot "
            "of duct, 10 % for each bend of 90 degrees and 20 % for a louvred grille, as a design school's worked example "
            "estimates (second hand). 40 % of what the table asks of the rating has to come out, with the engine stopped. `output` "
            "is what was measured there, or `flow` less such losses; a spec that does not state it has not shown it.",
     .breaks = BLOWN("200 m3/h; output 50 m3/h"),
     .holds = BLOWN("200 m3/h; output 100 m3/h"),
     .open = BLOWN("200 m3/h"),
     .kinds = {KIND_ENGINE, KIND_GENERATOR},
     .judge = judge_petrol_blower_output},
    {.name = "petrol-openings",
     .severity = SEVERITY_FAULT,
     .title = "the space of a petrol engine breathes by itself",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "33 CFR 183.620(a)(1), 183.630(d), (e) (verified), judged in feet; on iso a benchmark and a warning, for the "
               "figures of ISO 11105 were not at hand",
     .why = "A blower runs when somebody thinks of it; openings air the space all the time. As much area has to let air "
            "out, from the lower third of the space, as lets it in; the spec states what lets it in, the other is for the "
            "eye. What the engine itself breathes is asked by `engine-air`.",
     .breaks = PETROL("openings 50 cm2", ""),
     .holds = PETROL("openings 300 cm2", ""),
     .open = PETROL("", ""),
     .kinds = {KIND_ENGINE, KIND_GENERATOR},
     .judge = judge_petrol_openings},
    {.name = "petrol-tank-air",
     .severity = SEVERITY_FAULT,
     .title = "the space of a petrol tank breathes by itself",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "us: 33 CFR 183.620(a)(3) to (5), 183.630(d), (e) (verified), judged in feet; iso: ISO 11105:2020 asks for natural "
               "ventilation of spaces with a petrol tank (second hand); its figures were not at hand, those of the US are a "
               "benchmark and a warning",
     .why = "A tank breathes and weeps, and its vapour lies in the lowest corner. Under us a space has to breathe by itself that "
            "has a tank that vents into it, as one that is carried does by its cap, a tank that is not of metal, or a fixed one "
            "beside what can spark; under iso each space with a tank of petrol. An engine that is carried (`portable yes`) brings its "
            "own, unless a line leads to it. No blower is asked for where there is no engine. "
            "A space that is open to the sky (`open-air yes`) is not asked, and for one with an engine `petrol-openings` speaks.",
     .breaks = TANK_IN("openings 0 cm2", "material plastic"),
     .holds = TANK_IN("openings 300 cm2", "material plastic"),
     .open = TANK_IN("", "material plastic"),
     .kinds = {KIND_TANK, KIND_ENGINE},
     .judge = judge_petrol_tank_air},
    {.name = "petrol-cabin",
     .severity = SEVERITY_FAULT,
     .title = "no tank of petrol stands where people sleep",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "ISO 11105:2020: spaces with fixed petrol tanks are separated from habitable ones (second hand); us, and a can that "
               "is carried: common practice, no source",
     .why = "Petrol vapour poisons whoever breathes it for a night, and the lamp that is switched on in the morning lights it. A "
            "tank stands in a space of its own, tight towards the cabin and aired to the outside; a can stands on deck. So does an "
            "engine that is carried (`portable yes`) and burns petrol: it has a tank of its own, unless a line brings it fuel.",
     .breaks = TANK_IN("sleeping yes", ""),
     .holds = TANK_IN("sleeping no", ""),
     .open = TANK_IN("", ""),
     .kinds = {KIND_TANK, KIND_ENGINE},
     .judge = judge_petrol_cabin},
    {.name = "generator-carried",
     .severity = SEVERITY_FAULT,
     .title = "a generator that is carried stands in the open air",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "common practice, no source; that generators which are carried are among the usual causes of deaths by carbon "
               "monoxide aboard is common knowledge",
     .why = "It brings a tank of fuel that breathes, and an exhaust that ends where it stands: run in a cabin, a locker or "
            "under a cockpit tent it fills the boat with carbon monoxide, which has no smell and kills before anybody wakes. "
            "Where people sleep it is a fault, as a can of petrol is there, and elsewhere below a warning. On deck, too, it "
            "stands downwind of every opening, and the alarms are on.",
     .breaks = CARRIED_IN("sleeping yes"),
     .holds = CARRIED_IN("open-air yes"),
     .open = CARRIED_IN(""),
     .kinds = {KIND_GENERATOR},
     .judge = judge_generator_carried},
    {.name = "petrol-said",
     .severity = SEVERITY_WARNING,
     .title = "what a space says of petrol is so",
     .basis = ON_BOTH,
     .danger = DANGER_FUEL,
     .source = "a choice of this program",
     .why = "`petrol no` is believed as long as nothing of petrol is there: a tank that holds it, an engine within the hull that "
            "burns it, a line that says that it lies there. Then the space counts as one of petrol all the same. Nor is a "
            "place open to the sky in which people sleep.",
     .breaks = TANK_IN("petrol no", ""),
     .holds = TANK_IN("petrol yes", ""),
     .never_open = "what stands in a space, and what that says, is stated",
     .kinds = {KIND_SPACE},
     .judge = judge_petrol_said},
};
const RuleFamily rules_petrol = RULE_FAMILY("Petrol", rules);
