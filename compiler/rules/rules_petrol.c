/*
 * Petrol engines: the space of one is aired by a blower before it is started, and by openings at all times.
 */
#include "figures/drive.h"
#include "rules/ask.h"
#include "rules/families.h"
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
    } else if (petrol_inboard_in(judge->model, space) == engine) {
        return space;
    }
    return NULL;
}

static bool is_open_to_air(const Judge *judge, const Entity *space)
{
    Side openings = side_value(judge, space, PROP_SPACE_OPENINGS, 0);
    Side open = side_figure(figure_of(judge, space, FIGURE_OPEN_AREA));
    return ask_at_least(openings, open) == ANSWER_YES;
}

/* The figures are those of the US; other bases ask for the same in figures that were not at hand. */
static void mark_benchmark(Judge *judge, Finding *finding)
{
    if (judge->basis == BASIS_ISO) {
        finding_severity(finding, SEVERITY_WARNING);
        finding_here(judge, finding, "33 CFR 183 as a benchmark: the figures of ISO 11105 were not at hand");
    }
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
static void judge_no_blower(Judge *judge, const Entity *engine, const Entity *space)
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
}

static void judge_petrol_blower(Judge *judge, const Entity *engine)
{
    const Entity *space = space_to_air(judge, engine);
    if (space == NULL) {
        return;
    }
    const Figure *flow = figure_of(judge, space, FIGURE_BLOWER_FLOW);
    if (is_open_to_air(judge, space)) {
        judge_holds(judge);
    } else if (flow == NULL && some_is_mistaken(judge, KIND_BLOWER)) {
        judge_waiting(judge);
    } else if (flow == NULL) {
        judge_no_blower(judge, engine, space);
    } else {
        Finding *finding = judge_at_least(judge, engine, place_of_name(judge, space), side_figure(flow),
                                          side_figure(figure_of(judge, space, FIGURE_BLOWER_NEED)));
        if (finding != NULL) {
            finding_at(finding, space);
            finding_say(judge, finding, "the blowers of `%s` move %s; for its volume %s is the least where petrol burns",
                        say_name(judge, space), say_figure(judge, flow),
                        say_figure(judge, figure_of(judge, space, FIGURE_BLOWER_NEED)));
            mark_benchmark(judge, finding);
        }
    }
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
    Finding *finding = said ? judge_at_least(judge, engine, place_of(judge, space, PROP_SPACE_OPENINGS), area, least)
                            : judge_open(judge, engine, place_of_name(judge, space), space, PROP_SPACE_OPENINGS);
    if (finding == NULL) {
        return;
    }
    finding_at(finding, space);
    if (said) {
        finding_say(judge, finding, "`%s` lets air in through %s; where petrol burns its volume asks for %s, and as much out",
                    say_name(judge, space), say_side(judge, area), say_side(judge, least));
    } else {
        finding_say(judge, finding, "`%s`, where `%s` burns petrol, does not say through what area it lets air in",
                    say_name(judge, space), say_name(judge, engine));
    }
    if (side_is_known(least)) {
        finding_remedy(judge, finding, "openings %s", say_up(judge, least.value.high, least.unit));
    }
    mark_benchmark(judge, finding);
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define PETROL(SPACE, REST)                                                                          \
    EXAMPLE_BOAT "space engine-box { volume 2 m3; " SPACE " }\n"                                      \
                 "engine petrol-engine { rated 60 kW at 4000 rpm; fuel petrol; space engine-box }\n" REST
#define BLOWN(FLOW) PETROL("openings 300 cm2", "blower fan { space engine-box; flow " FLOW " }\n")

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
            "against what the table asks of the blower's rating; as installed, 40 % of that has to come out.",
     .breaks = BLOWN("100 m3/h"),
     .holds = BLOWN("200 m3/h"),
     .open = PETROL("openings 300 cm2", ""),
     .kinds = {KIND_ENGINE},
     .judge = judge_petrol_blower},
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
     .kinds = {KIND_ENGINE},
     .judge = judge_petrol_openings},
};
const RuleFamily rules_petrol = RULE_FAMILY("Petrol", rules);
