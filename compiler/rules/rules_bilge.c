/*
 * Bilge pumps: whether they move enough, warn, and let nothing back in.
 */
#include "rules/bilge.h"
#include "rules/plumbing.h"

#include "physics/bilge.h"
#include "physics/hull.h"
#include "rules/families.h"

#include <math.h>

/* ---- bilge-pumpless ------------------------------------------------------------------------------------- */

/* A well that water from elsewhere does not reach is emptied by a pump that stands in it. */
static void judge_bilge_pumpless(Judge *judge, const Entity *space)
{
    const Entity *unplaced = NULL;
    int well = entity_yes(space, PROP_SPACE_BILGE);
    if (well == -2 || (well == 1 && some_is_mistaken(judge, KIND_BILGE_PUMP))) {
        judge_waiting(judge);
    }
    if (well != 1 || first_aboard(judge->model, KIND_BILGE_PUMP) == NULL) {
        return; /* of a boat without any pump `bilge-capacity` speaks */
    }
    for (const Entity *e = first_aboard(judge->model, KIND_BILGE_PUMP); e != NULL; e = next_aboard(e)) {
        unplaced = entity_states(e, PROP_COMMON_SPACE) ? unplaced : e;
        if (entity_reference(e, PROP_COMMON_SPACE) == space) {
            judge_holds(judge);
            return;
        }
    }
    Finding *finding = unplaced != NULL ? judge_open(judge, space, place_of(judge, space, PROP_SPACE_BILGE), unplaced,
                                                     PROP_COMMON_SPACE)
                                        : judge_broken(judge, space, place_of(judge, space, PROP_SPACE_BILGE));
    if (unplaced != NULL) {
        finding_say(judge, finding, "`%s` has a bilge of its own, and `%s` does not say where it stands",
                    say_name(judge, space), say_name(judge, unplaced));
        finding_note(judge, finding, place_of_name(judge, unplaced), "it names no `space`");
    } else {
        finding_say(judge, finding, "`%s` has a bilge of its own, and no bilge pump stands in it", say_name(judge, space));
        finding_remedy(judge, finding, "a `bilge-pump` with `space %s`", say_name(judge, space));
    }
}

/* ---- bilge-alarm --------------------------------------------------------------------------------------- */

/* An alarm aboard that detects water in the pump's space, or does not say where. */
static const Entity *alarm_beside(const Judge *judge, const Entity *pump)
{
    const Entity *space = entity_reference(pump, PROP_COMMON_SPACE);
    for (const Entity *alarm = first_aboard(judge->model, KIND_ALARM); alarm != NULL;
         alarm = next_aboard(alarm)) {
        const Entity *of_alarm = entity_reference(alarm, PROP_COMMON_SPACE);
        if (str_is(entity_word(alarm, PROP_ALARM_DETECTS), "bilge") &&
            (of_alarm == NULL || of_alarm == space)) {
            return alarm;
        }
    }
    return NULL;
}

static void judge_bilge_alarm(Judge *judge, const Entity *pump)
{
    if (is_worked_by_hand(pump)) {
        return;
    }
    if (alarm_beside(judge, pump) != NULL) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_yes(judge, pump, PROP_BILGE_PUMP_ALARM, "an alarm");
    const Entity *space = entity_reference(pump, PROP_COMMON_SPACE);
    const char *where = space != NULL ? text_format(judge->arena, " in `%s`", say_name(judge, space)) : "";
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "nothing sounds when water rises above the switch of `%s`%s",
                    say_name(judge, pump), where);
    } else {
        finding_say(judge, finding,
                    "`%s` does not say whether an alarm sounds when water rises above its switch%s",
                    say_name(judge, pump), where);
    }
    if (space != NULL) {
        finding_remedy(judge, finding, "alarm %s-alarm { detects bilge; space %s }", say_name(judge, pump),
                       say_name(judge, space));
    }
}

/* ---- bilge-race ---------------------------------------------------------------------------------------- */

/* Where the water of an opening is kept: its well; NULL: the bilge that all share that have none of their own. */
static const Entity *well_of(const Entity *fitting)
{
    const Entity *space = entity_reference(fitting, PROP_COMMON_SPACE);
    return is_apart(space) ? space : NULL;
}

/* Openings that the same pumps work against, from the first one on. */
typedef struct Race {
    const Entity *well;
    const Figure *pumping; /* of the whole boat: against all openings that are not told apart */
    const Entity *first, *worst;
    const Figure *inflow; /* of the worst */
    bool all;             /* every opening of the boat runs in it */
} Race;

static bool runs_in(const Judge *judge, const Race *race, const Entity *fitting)
{
    const Figure *of_boat = figure_of(judge, judge->model->boat, FIGURE_PUMPING);
    const Figure *own = pumping_against(judge->figures, judge->model, fitting);
    return race->pumping == of_boat || own == of_boat ? own == race->pumping : well_of(fitting) == race->well;
}

/* The race of an opening, with the opening by which most can come in. */
static Race race_of(const Judge *judge, const Entity *fitting)
{
    Race race = {.well = well_of(fitting), .pumping = pumping_against(judge->figures, judge->model, fitting), .all = true};
    for (const Entity *e = first_flooding(judge->model); e != NULL; e = next_flooding(e)) {
        const Figure *own = figure_of(judge, e, FIGURE_INFLOW);
        if (!runs_in(judge, &race, e)) {
            race.all = false;
            continue;
        }
        race.first = race.first == NULL ? e : race.first;
        if (own != NULL && own->state == STATE_KNOWN && (race.worst == NULL || own->high > race.inflow->high)) {
            race.worst = e;
            race.inflow = own;
        }
    }
    return race;
}

/*
 * The flow that the pumps of a race are held against: the greatest of all openings, where all are in it; else that of the
 * opening that surely is too much, or may be, before that of the widest.
 */
static const Figure *against(const Judge *judge, const Race *race)
{
    const Figure *chosen = race->inflow;
    Answer least = ask_at_least(side_figure(race->pumping), side_figure(chosen));
    if (race->all) {
        return figure_of(judge, judge->model->boat, FIGURE_INFLOW);
    }
    for (const Entity *e = first_flooding(judge->model); e != NULL; e = next_flooding(e)) {
        const Figure *own = runs_in(judge, race, e) ? figure_of(judge, e, FIGURE_INFLOW) : NULL;
        Answer answer = own != NULL ? ask_at_least(side_figure(race->pumping), side_figure(own)) : ANSWER_YES;
        if (answer == ANSWER_NO ? least != ANSWER_NO : answer != ANSWER_YES && least == ANSWER_YES) {
            chosen = own;
            least = answer;
        }
    }
    return chosen;
}

/* When the water could reach each bank, where that is known. */
static void note_banks(Judge *judge, Finding *finding, const Entity *fitting)
{
    for (const Entity *e = first_aboard(judge->model, KIND_BANK); e != NULL; e = next_aboard(e)) {
        const Figure *time = figure_of(judge, e, FIGURE_FLOODING_TIME);
        bool there = water_goes(entity_reference(fitting, PROP_COMMON_SPACE), entity_reference(e, PROP_COMMON_SPACE));
        if (there && time != NULL && time->state == STATE_KNOWN && isfinite(time->low)) {
            finding_note(judge, finding, place_of(judge, e, PROP_COMMON_AT),
                         "the water could stand here %s after it has come up to the opening",
                         say_figure(judge, time));
        }
    }
}

/* What the pumps do that the water of an opening reaches. */
static const char *say_pumps(Judge *judge, const Race *race)
{
    const Entity *subject = race->pumping->subject;
    const char *moved = say_figure(judge, race->pumping);
    if (subject == judge->model->boat) {
        return text_format(judge->arena, "the automatic bilge pumps move %s", moved);
    }
    if (race->pumping->input_count == 0) {
        return text_format(judge->arena, "no automatic bilge pump that is fed stands where the water of `%s` goes",
                           say_name(judge, subject));
    }
    return text_format(judge->arena, "the automatic bilge pumps that the water of `%s` reaches move %s",
                       say_name(judge, subject), moved);
}

static void judge_race(Judge *judge, const Race *race)
{
    const Entity *boat = judge->model->boat;
    const Figure *flow = against(judge, race);
    const Entity *worst = flow->subject != boat ? flow->subject : race->worst;
    Finding *finding = judge_at_least(judge, boat, place_of(judge, worst, PROP_THROUGH_HULL_BORE),
                                      side_figure(race->pumping), side_figure(flow));
    if (finding == NULL) {
        return;
    }
    if (!race->all) {
        finding_at(finding, race->pumping->subject == boat ? worst : race->pumping->subject);
    }
    Side inflow = side_figure(figure_of(judge, worst, FIGURE_INFLOW));
    finding_say(judge, finding, "if the hose of `%s` came off, %s would come in; %s", say_name(judge, worst),
                say_in_unit(judge, inflow, race->pumping->input_count > 0 ? race->pumping->unit : inflow.unit), say_pumps(judge, race));
    note_banks(judge, finding, worst);
    if (entity_yes(worst, PROP_THROUGH_HULL_SEACOCK) == 1) {
        finding_note(judge, finding, place_of(judge, worst, PROP_THROUGH_HULL_SEACOCK),
                     "this shuts it: everybody aboard is to know where, and a plug hangs beside it");
    }
}

/* Each well by itself; and together all that has none. */
static void judge_bilge_race(Judge *judge)
{
    if (first_aboard(judge->model, KIND_BILGE_PUMP) == NULL) {
        return; /* `bilge-capacity` speaks of the pumps */
    }
    for (const Entity *e = first_flooding(judge->model); e != NULL; e = next_flooding(e)) {
        Race race = race_of(judge, e);
        if (race.first == e && race.worst != NULL) {
            judge_race(judge, &race);
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define BANK "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
#define PUMP(SAYS)                                                                                        \
    "space sump { bilge yes }\n" BANK "bilge-pump electric {\n"                                           \
    "  fed-by house; run 2 m; protect 10 A fuse 0.1 m from source; draw 4 A; space sump; automatic yes\n" \
    "  lift 1 m; shut-off 4 m; outlet 28 mm by 3 m; " SAYS "\n"                                           \
    "}\n"
#define HAND                                                                                       \
    "bilge-pump by-hand { space sump; hand yes; rated 3600 l/h; lift 1 m; shut-off 5 m; outlet 38 mm by 3 m; " \
    "discharge-height 1.3 m }\n"
#define HAND_SOMEWHERE                                                                             \
    "bilge-pump by-hand { hand yes; rated 3600 l/h; lift 1 m; shut-off 5 m; outlet 38 mm by 3 m; " \
    "discharge-height 1.3 m }\n"
#define GOOD "discharge-height 1.3 m; check-valve no; alarm yes; rated 6000 l/h"

#define OPENING(SAYS) \
    "through-hull drain { bore 38 mm; " SAYS "; seacock yes; reach yes; material bronze; backing yes }\n"

static const Rule rules[] = {
    {.name = "bilge-capacity",
     .severity = SEVERITY_FAULT,
     .title = "the bilge pumps really move what a boat of that length needs",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "us: 46 CFR 182.520(a), edition of 2015, for small passenger vessels with up to 49 "
               "passengers: a benchmark, judged in feet; iso: ISO 15083:2020, 5.1 (preview), figures from a published summary, "
               "judged in metres; 5.1.3.3, that the second empties all bilges: second hand; that one starts by itself: common practice, no source",
     .why = "A pump is rated with no hose, no lift and the engine running; aboard it moves half, sometimes "
            "a third. Its curve is met here by its lift, its hose and a bank at rest, and all automatic "
            "pumps that are fed are added up. The us benchmark asks for power pumps and a hand pump, which is looked at by itself, for "
            "the day that the bank is flat. iso asks for a fixed pump and one more, each of them by hand or otherwise, and for one "
            "alone in a boat that is not `enclosed`; where only `inland` waters are said, a second that lacks is a warning, for "
            "design category D asks for none. A second pump is to empty all bilges: each space with a "
            "`bilge` of its own is asked for both, among the pumps that stand there or say no `space`, and pumps of bilges that do not meet "
            "are not added up (that each needs the first of that size is a reading of this program, and a warning). That one starts by itself is advice there, where a bank is aboard. An open boat "
            "(`enclosed no`) without a `bilge`, a space that is slept in, an engine in a `space` or a through-hull under water is emptied by an `item` that is `carried bailer`. What is asked keeps the usual drips out: no pump of a boat holds against a hole. "
            "For a hand pump the us clause prints the figure of the power pump, and the code drawn from it "
            "half of that. Benchmarks of inspected vessels are not what the law asks of a pleasure boat: a pump "
            "that falls short of them is a warning, none at all a fault.",
     .breaks = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve no; alarm yes; rated 900 l/h") HAND,
     .holds = EXAMPLE_BOAT PUMP(GOOD) HAND,
     .open = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve no; alarm yes; rated 900..6000 l/h") HAND,
     .judge_boat = judge_bilge_capacity},
    {.name = "bilge-pumpless",
     .severity = SEVERITY_WARNING,
     .title = "each space with a bilge of its own has a pump in it",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "iso: ISO 15083:2020 asks that every compartment can be pumped (preview); us: one pump for each compartment "
               "that holds water (ABYC H-22, from memory)",
     .why = "A bulkhead keeps water where it came in, and then it stays there: the pump of the next compartment never sees it. "
            "Looked at where a space says `bilge yes`; a pump that draws from there names it as its `space`.",
     .breaks = EXAMPLE_BOAT "space forepeak { bilge yes }\n" PUMP(GOOD) HAND,
     .holds = EXAMPLE_BOAT PUMP(GOOD) HAND,
     .open = EXAMPLE_BOAT "space forepeak { bilge yes }\n" PUMP(GOOD) HAND_SOMEWHERE,
     .kinds = {KIND_SPACE},
     .judge = judge_bilge_pumpless},
    {.name = "bilge-race",
     .severity = SEVERITY_ADVICE,
     .title = "the automatic pumps keep up with the largest hose that could come off",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "a plain hole with a coefficient of 0.6: hydraulics texts; the comparison: common practice, no "
               "source",
     .why = "Few boats have pumps that hold against an open fitting: the seacock does, if somebody knows of the "
            "water in time. This says which opening lets in most and how that compares with the pumps; what comes into a "
            "space with a `bilge` of its own is left to the pumps that stand there, or say no `space`; where "
            "the floors of the spaces and the place of a bank (`at`) are stated, also how soon the bank that "
            "drives the pumps could stand in water. Upright and at rest: heeled, an opening on the low side "
            "lies deeper. The boat is taken not to settle, and the bilge to be full up to the opening when "
            "the clock starts.",
     .breaks = EXAMPLE_BOAT PUMP(GOOD) HAND OPENING("height -0.6 m"),
     .holds = EXAMPLE_BOAT PUMP(GOOD) HAND OPENING("height -0.01 m"),
     .open = EXAMPLE_BOAT PUMP(GOOD) HAND OPENING("height -0.6..-0.01 m"),
     .judge_boat = judge_bilge_race},
    {.name = "bilge-alarm",
     .severity = SEVERITY_WARNING,
     .title = "an alarm sounds when water rises above the switch of a bilge pump",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "46 CFR 182.530 (small passenger vessels from 26 ft: a benchmark); above the pump's own "
               "switch: common practice, from memory",
     .why = "An automatic pump hides a leak until it cannot keep up, or its fuse blows. The alarm is what "
            "wakes the crew while there is still something to be done. `alarm yes` on the pump, or an "
            "`alarm` that detects bilge water in its space.",
     .breaks = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve no; alarm no; rated 6000 l/h") HAND,
     .holds = EXAMPLE_BOAT PUMP(GOOD) HAND,
     .open = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve no; rated 6000 l/h") HAND,
     .kinds = {KIND_BILGE_PUMP},
     .judge = judge_bilge_alarm},
    {.name = "bilge-outlet",
     .severity = SEVERITY_WARNING,
     .title = "the outlet of a bilge pump stands clear of the heeled waterline, or has a seacock and a "
              "vented loop",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "US voluntary practice (ABYC H-22, second hand): 8 in (203 mm) above the heeled waterline, "
               "else a seacock and a vented loop",
     .why = "An outlet that dips as she heels lets the sea siphon back through the pump into the bilge, and "
            "the pump then empties what the sea fills. The outlet is taken to be at the side of the boat, "
            "where the water comes highest, unless a hose leads to a through-hull that says where it is. Where that says its "
            "`height`, it counts as `discharge-height` does; of two, the lower, and of several behind a T or a valve (an `item`) the lowest.",
     .breaks = EXAMPLE_BOAT PUMP("discharge-height 0.3 m; check-valve no; alarm yes; rated 6000 l/h") HAND,
     .holds = EXAMPLE_BOAT PUMP(GOOD),
     .open = EXAMPLE_BOAT PUMP("discharge-height 0.9..1.3 m; check-valve no; alarm yes; rated 6000 l/h"),
     .kinds = {KIND_BILGE_PUMP},
     .judge = judge_bilge_outlet},
    {.name = "bilge-valve",
     .severity = SEVERITY_WARNING,
     .title = "a check valve is not all that keeps the sea out of a bilge pump's hose",
     .basis = ON_BOTH,
     .danger = DANGER_FLOODING,
     .source = "US voluntary practice (ABYC H-22, second hand): a check valve does not serve as the break "
               "of a siphon, and stands only where an automatic pump would cycle on its own back-flow",
     .why = "A check valve sticks open on a bit of shaving and then lets everything through, and stuck shut "
            "it stops the pump. With an outlet that stands high, or a loop and a seacock, it does little "
            "harm.",
     .breaks = EXAMPLE_BOAT PUMP("discharge-height 0.3 m; check-valve yes; alarm yes; rated 6000 l/h") HAND,
     .holds = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve yes; alarm yes; rated 6000 l/h") HAND,
     .open =
         EXAMPLE_BOAT PUMP("discharge-height 0.9..1.3 m; check-valve yes; alarm yes; rated 6000 l/h") HAND,
     .kinds = {KIND_BILGE_PUMP},
     .judge = judge_bilge_valve},
    {.name = "bilge-check",
     .severity = SEVERITY_ADVICE,
     .title = "a bilge pump pumps through no check valve that the design does not rely on",
     .basis = ON_BOTH,
     .source = "US voluntary practice (ABYC H-22, second hand): a check valve stands only where an automatic pump would "
               "cycle on its own back-flow",
     .why = "The flap holds the column of water over the pump, which then may not start against it, or sticks on what the "
            "bilge brings, and costs head all the time. Where the outlet stands clear of the heeled waterline, or a loop "
            "and a seacock keep the sea out, nothing hangs on it. Where the water of a long hose runs back and starts the "
            "switch again, it has its place: waive this there, and clean it each season. Of a valve that is all that keeps "
            "the sea out `bilge-valve` speaks.",
     .breaks = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve yes; alarm yes; rated 6000 l/h") HAND,
     .holds = EXAMPLE_BOAT PUMP("discharge-height 1.3 m; check-valve no; alarm yes; rated 6000 l/h") HAND,
     .open = EXAMPLE_BOAT PUMP("discharge-height 0.3..1.3 m; check-valve yes; alarm yes; rated 6000 l/h") HAND,
     .kinds = {KIND_BILGE_PUMP},
     .judge = judge_bilge_check},
};
const RuleFamily rules_bilge = RULE_FAMILY("Bilge", rules);
