/*
 * Two rules of the family rules_siphon: tank-below and sink-below. Water finds its level: what stands below the sea, with an open
 * pipe to it, fills. Which pipes hang together is found by siphon_runs.c.
 */
#include "rules/siphon.h"

/* An opening in the hull and what is at the other end of the pipe; the heights that decide, and what they are held against. */
typedef struct Level {
    const Entity *subject; /* that is told: the hose; or what drains, where no hose of it is stated */
    const Entity *sea, *thing;
    Side opening, inboard;         /* how high they are */
    Side at_opening, at_inboard;   /* how high the water comes there */
} Level;

static Level level_upright(Judge *judge, const Entity *subject, const Entity *sea, const Entity *thing)
{
    Level level = {.subject = subject,
                   .sea = sea,
                   .thing = thing,
                   .opening = side_value(judge, sea, PROP_THROUGH_HULL_HEIGHT, 0),
                   .inboard = side_value(judge, thing, PROP_COMMON_AT, 2)};
    level.at_opening = level.at_inboard = side_number(0.0, level.opening.unit);
    return level;
}

static Level level_heeled(Judge *judge, const Level *upright)
{
    Level level = *upright;
    level.at_opening = waterline_at(judge, level.sea);
    level.at_inboard = waterline_at(judge, level.thing);
    return level;
}

/* Whether that can be judged: both say how high they stand. What does not is not asked here, most stand high. */
static bool is_level_known(Judge *judge, const Runs *runs, const Level *level)
{
    if (level->opening.state == STATE_WAITING || level->inboard.state == STATE_WAITING || runs->plumbing->lost_loops) {
        judge_waiting(judge);
        return false;
    }
    return level->opening.state != STATE_MISSING && level->inboard.state != STATE_MISSING;
}

/* Nothing but a seacock between: how high the two stand decides. NULL: one of them stands clear. */
static Finding *judge_level(Judge *judge, const Level *level)
{
    Answer dry = ask_at_least(level->opening, level->at_opening);
    if (dry == ANSWER_YES) {
        judge_holds(judge);
        return NULL;
    }
    bool by_hull = dry == ANSWER_PERHAPS && ask_at_least(level->inboard, level->at_inboard) == ANSWER_NO;
    Span place = by_hull ? place_of(judge, level->sea, PROP_THROUGH_HULL_HEIGHT) : place_of(judge, level->thing, PROP_COMMON_AT);
    Finding *finding = by_hull ? judge_at_least(judge, level->subject, place, level->opening, level->at_opening)
                               : judge_at_least(judge, level->subject, place, level->inboard, level->at_inboard);
    if (finding != NULL) {
        finding_at(finding, level->thing);
    }
    return finding;
}

/* ---- tank-below ---------------------------------------------------------------------------------------- */

/* The opening that a tank's hose leads to. What joins the two may make drinking water of the sea: then none is meant. */
static const Entity *sea_of_tank(Runs *runs, const Entity *hose, const Line *line)
{
    bool fresh = str_is(entity_word(line->tank, PROP_TANK_HOLDS), "fresh");
    return line->sea != NULL || fresh ? line->sea : siphon_level_sea(runs, hose);
}

static void judge_tank_line(Runs *runs, const Line *line, const Entity *sea)
{
    Judge *judge = runs->judge;
    Level level = level_upright(judge, line->first, sea, line->tank);
    if (!is_level_known(judge, runs, &level)) {
        return;
    }
    if (line->clears == ANSWER_YES) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_level(judge, &level);
    if (finding == NULL) {
        return;
    }
    bool open = finding->verdict == VERDICT_OPEN;
    finding_say(judge, finding, "the sea %s into `%s` by `%s` while its seacock is open: both %s below the waterline, with no vented "
                "loop that clears the sea between them", open ? "may run" : "runs", say_name(judge, line->tank),
                say_name(judge, line->first), open ? "may be" : "are");
    finding_note(judge, finding, place_of_name(judge, sea), "by this way");
    finding_remedy(judge, finding, "a pump, and a `vent-loop` on the hose behind it");
    finding_remedy(judge, finding, "`at` of a tank that stands above the water, and empties by its weight");
}

void judge_tanks_below(Judge *judge)
{
    const Entity *from;
    const Entity *to;
    if (first_aboard(judge->model, KIND_HOSE) == NULL || first_aboard(judge->model, KIND_TANK) == NULL) {
        return;
    }
    Runs runs = siphon_runs(judge);
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Line *line = hose_ends(hose, &from, &to) ? siphon_line_of(&runs, hose) : NULL;
        const Entity *sea = line != NULL && line->first == hose && line->tank != NULL ? sea_of_tank(&runs, hose, line) : NULL;
        if (sea != NULL) {
            judge_tank_line(&runs, line, sea);
        }
    }
}

/* ---- sink-below ---------------------------------------------------------------------------------------- */

static void offer_dry(Judge *judge, Finding *finding, const Level *level, Side water)
{
    finding_note(judge, finding, place_of(judge, level->sea, PROP_THROUGH_HULL_HEIGHT), "by this way");
    finding_remedy(judge, finding, "a sump (a `tank` that `holds grey`) with a pump, and a `vent-loop` on the hose behind that");
    if (side_is_known(water) && water.value.high > 0.0) {
        finding_remedy(judge, finding, "`at` nearer her middle, or higher");
    } else {
        finding_remedy(judge, finding, "`at` of a place above the water");
    }
}

/* Below the sea as she lies, or as she heels: then it runs over while she sails, by a seacock that nobody has shut. */
static void judge_sink_drain(Runs *runs, const Entity *sink, const Entity *subject, const Entity *sea)
{
    Judge *judge = runs->judge;
    Level level = level_upright(judge, subject, sea, sink);
    if (!is_level_known(judge, runs, &level)) {
        return;
    }
    Finding *finding = judge_level(judge, &level);
    bool perhaps = finding != NULL && finding->verdict == VERDICT_OPEN;
    if (finding != NULL) {
        bool open = perhaps;
        finding_say(judge, finding, "the sea %s in by `%s` while its seacock is open: it stands at %s, and drains by `%s` with no vented loop between that clears the sea well",
                    open ? "may run" : "runs", say_name(judge, sink), say_side(judge, level.inboard), say_name(judge, sea));
        offer_dry(judge, finding, &level, level.at_inboard);
    }
    if (finding != NULL && !perhaps) {
        return;
    }
    level = level_heeled(judge, &level);
    finding = judge_level(judge, &level);
    if (finding != NULL && perhaps) { /* what runs in as she lies is told alone where it is so */
        finding_rests_on(judge, finding, sink, PROP_COMMON_AT);
        finding_left_open(judge, finding, sink, PROP_COMMON_AT);
    }
    if (finding != NULL) {
        UnitPair unit = unit_of(sink, PROP_COMMON_AT, level.inboard.unit);
        finding_matter(finding, "heeled");
        finding_severity(finding, SEVERITY_WARNING);
        finding_say(judge, finding, "heeled, the sea %s in by `%s` while its seacock is open: it comes up to %s where that stands at %s, and it "
                    "drains by `%s` with no vented loop between that clears the sea well", finding->verdict == VERDICT_OPEN ? "may run" : "runs", say_name(judge, sink),
                    say_reach(judge, level.at_inboard, unit), say_side(judge, level.inboard), say_name(judge, sea));
        note_heel(judge, finding);
        offer_dry(judge, finding, &level, level.at_inboard);
    }
}

/* By its hoses, by joints or without; where none is stated by what it says of its drain. */
static void judge_sink(Runs *runs, const Entity *sink)
{
    const HoseList *list = &runs->plumbing->from;
    const Entity *from, *to;
    for (const Entity *hose = list->first[sink->index]; hose != NULL; hose = list->next[hose->index]) {
        const Entity *sea = hose_ends(hose, &from, &to) ? siphon_level_sea(runs, hose) : NULL;
        if (sea != NULL && siphon_line_of(runs, hose)->clears == ANSWER_YES) {
            judge_holds(runs->judge);
        } else if (sea != NULL) {
            judge_sink_drain(runs, sink, hose, sea);
        }
    }
    const Entity *said = entity_reference(sink, PROP_FIXTURE_DRAINS_TO);
    if (list->first[sink->index] == NULL && said != NULL && said->kind == KIND_THROUGH_HULL && is_aboard(said)) {
        judge_sink_drain(runs, sink, sink, said);
    }
}

/* From a fixture on, the first that says where it stands; NULL: none does. */
static const Entity *placed_sink(const Entity *sink)
{
    while (sink != NULL && !entity_states(sink, PROP_COMMON_AT)) {
        sink = next_aboard(sink);
    }
    return sink;
}

void judge_sinks_below(Judge *judge)
{
    const Entity *first = placed_sink(first_aboard(judge->model, KIND_FIXTURE));
    if (first == NULL) {
        return;
    }
    Runs runs = siphon_runs(judge);
    for (const Entity *sink = first; sink != NULL; sink = placed_sink(next_aboard(sink))) {
        judge_sink(&runs, sink);
    }
}
