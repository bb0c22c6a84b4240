/*
 * Part of the rule bilge-capacity, of the family rules_bilge: by iso, two pumps of any kind; and a boat without a pump, which
 * may be one that a bailer empties.
 *
 * ISO 15083:2020 (preview): a pump may be worked by hand, by an engine or by current (5.1.1); a boat that is not fully enclosed
 * and has no bilge compartments needs none, but a means of bailing (5.1.2), and with such compartments one system; else a fixed
 * one, and in design categories A to C one more of any kind (5.1.3.2, 5.1.3.3).
 */
#include "rules/bilge.h"

#include "figures/drive.h"
#include "figures/pipes.h"
#include "figures/water.h"

/* A bailer or a bucket that is carried as one; *lost: a mistake in what might say so. */
static bool has_bailer(const Judge *judge, bool *lost)
{
    bool found = false;
    *lost = some_is_mistaken(judge, KIND_ITEM);
    for (const Entity *e = first_aboard(judge->model, KIND_ITEM); e != NULL; e = next_aboard(e)) {
        *lost = *lost || has_mistake(e, PROP_ITEM_CARRIED);
        found = found || str_is(entity_word(e, PROP_ITEM_CARRIED), "bailer");
    }
    return found;
}

/* A well, which water from elsewhere does not reach. */
static bool has_well(const Judge *judge)
{
    const Entity *space = first_aboard(judge->model, KIND_SPACE);
    while (space != NULL && entity_yes(space, PROP_SPACE_BILGE) != 1) {
        space = next_aboard(space);
    }
    return space != NULL;
}

/* Who sleeps in a cabin, or has an engine within the hull or a fitting under water, has compartments that water gathers in. */
static bool has_compartments(const Judge *judge)
{
    for (const Entity *e = first_aboard(judge->model, KIND_SPACE); e != NULL; e = next_aboard(e)) {
        if (entity_yes(e, PROP_SPACE_SLEEPING) == 1) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_ENGINE); e != NULL; e = next_aboard(e)) {
        if (!is_outboard(e) && entity_states(e, PROP_COMMON_SPACE)) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        Interval height;
        if (entity_quantity(e, PROP_THROUGH_HULL_HEIGHT, 0, &height) && height.high < 0.0) {
            return true;
        }
    }
    return has_well(judge);
}

/* An open boat, and no compartment in her; perhaps, where nothing is said. */
static Answer is_open_boat(const Judge *judge)
{
    int enclosed = entity_yes(judge->model->boat, PROP_BOAT_ENCLOSED);
    return enclosed == -2                            ? ANSWER_UNKNOWN
           : enclosed == 1 || has_compartments(judge) ? ANSWER_NO
           : enclosed == 0                            ? ANSWER_YES
                                                      : ANSWER_PERHAPS;
}

/* Up to that length she may be one that is emptied with a bailer: over it nobody is asked. A choice of this program. */
static const double small_m = 6.0;

static bool is_small(const Judge *judge)
{
    Side length = side_value(judge, judge->model->boat, PROP_BOAT_LENGTH, 0);
    return side_is_known(length) && length.value.low <= small_m;
}

void judge_no_pump(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    bool lost;
    bool bailer = has_bailer(judge, &lost);
    Answer open = is_open_boat(judge);
    bool may_bail = open == ANSWER_YES || (open == ANSWER_PERHAPS && is_small(judge));
    if (open == ANSWER_UNKNOWN || (lost && !bailer && may_bail)) {
        judge_waiting(judge);
        return;
    }
    if (open == ANSWER_YES && bailer) {
        judge_holds(judge);
        return;
    }
    bool asked = open == ANSWER_PERHAPS && bailer && may_bail;
    Finding *finding = judge_open(judge, boat, place_of_name(judge, boat), asked ? boat : NULL, asked ? PROP_BOAT_ENCLOSED : PROP_NONE);
    const char *by = judge->basis == BASIS_US ? US_AUTHORITY : "ISO 15083";
    if (open == ANSWER_YES) {
        finding_say(judge, finding, "the spec states neither a bilge pump nor a bailer: nothing empties her of rain and spray");
    } else {
        finding_say(judge, finding, "the spec states no bilge pump; %s asks for some in a boat of %s%s", by,
                    say_side(judge, side_value(judge, boat, PROP_BOAT_LENGTH, 0)), asked ? ", unless she is an open boat that is bailed" : "");
    }
    if (!asked) {
        finding_hangs_on(judge, finding, boat, PROP_NONE, "bilge-pump");
    }
    if (open == ANSWER_YES) {
        finding_remedy(judge, finding, "an `item` with `carried bailer`: a bailer or a bucket, on a lanyard");
    } else if (may_bail) {
        finding_remedy(judge, finding, "`enclosed no` of an open boat%s", asked ? "" : ", and an `item` with `carried bailer`");
    }
}

/* ---- Two pumps, by iso ---- */

static bool reaches(const Entity *well, const Entity *pump)
{
    return counts_as_pump(pump) && (well == NULL || water_goes(well, entity_reference(pump, PROP_COMMON_SPACE)));
}

/* Of each of the two, of the boat or (not NULL) a well of hers; which of them is told apart by a word. */
static Finding *judge_pump(Judge *judge, const Entity *well, const Figure *moved, const Figure *need)
{
    const Entity *subject = well != NULL ? well : judge->model->boat, *pump = first_aboard(judge->model, KIND_BILGE_PUMP);
    while (pump != NULL && !reaches(well, pump)) {
        pump = next_aboard(pump);
    }
    Span place = pump != NULL ? place_of(judge, pump, PROP_BILGE_PUMP_RATED) : place_of_name(judge, subject);
    Finding *finding = judge_at_least(judge, subject, place, side_figure(moved), side_figure(need));
    if (finding != NULL) {
        note_pumps_of(judge, finding, counts_as_pump, well);
        finding_remedy(judge, finding, moved->high > 0.0 ? "a larger pump, or a wider hose" : "a `bilge-pump` with `hand yes`, or an electric one that is fed");
    }
    return finding;
}

/* The best of those that are fixed. Whether she may have it: where that is open, what comes behind it is judged as well. */
static bool judge_first_pump(Judge *judge, const Figure *need)
{
    const Figure *first = figure_of(judge, judge->model->boat, FIGURE_FIRST_PUMPING);
    Finding *finding = judge_pump(judge, NULL, first, need);
    if (finding == NULL) {
        return true;
    }
    bool perhaps = finding->verdict == VERDICT_OPEN;
    if (is_small(judge) && is_open_boat(judge) == ANSWER_PERHAPS) {
        finding_left_open(judge, finding, judge->model->boat, PROP_BOAT_ENCLOSED);
        finding_remedy(judge, finding, "`enclosed no` of an open boat");
    }
    finding_say(judge, finding, first->high > 0.0 ? "the best of her fixed bilge pumps moves %s aboard; ISO 15083 asks for %s"
                                                  : "her fixed bilge pumps that are fed or worked by hand move %s; ISO 15083 asks for %s",
                say_figure(judge, first), say_figure(judge, need));
    return perhaps;
}

/* In sheltered waters, design category D, one is enough. */
static void grade_second(Judge *judge, Finding *finding)
{
    finding_matter(finding, "second");
    if (is_small(judge) && entity_yes(judge->model->boat, PROP_BOAT_ENCLOSED) == -1) {
        finding_left_open(judge, finding, judge->model->boat, PROP_BOAT_ENCLOSED);
        finding_remedy(judge, finding, "`enclosed no` of an open boat");
    }
    if (is_inland_alone(judge->model->boat)) {
        finding_severity(finding, SEVERITY_WARNING);
    }
}

static bool judge_second_pump(Judge *judge, const Figure *need)
{
    const Figure *second = figure_of(judge, judge->model->boat, FIGURE_SECOND_PUMPING);
    Finding *finding = judge_pump(judge, NULL, second, need);
    if (finding == NULL) {
        return true;
    }
    bool perhaps = finding->verdict == VERDICT_OPEN;
    grade_second(judge, finding);
    if (second->high > 0.0) {
        finding_say(judge, finding, "the second of her bilge pumps moves %s aboard; ISO 15083 asks for two of %s, worked by hand or otherwise",
                    say_figure(judge, second), say_figure(judge, need));
    } else {
        finding_say(judge, finding, "she has one bilge pump that is fed or worked by hand; ISO 15083 asks for a second of %s, of either kind",
                    say_figure(judge, need));
    }
    return perhaps;
}

/* ---- The same of each well, which water from elsewhere does not reach ---- */

/* The standard asks a capacity of the boat's pump: that each well asks for all of it is a reading of this program, and a warning. */
static bool judge_first_of_well(Judge *judge, const Entity *well, const Figure *first, const Figure *need)
{
    Finding *finding = judge_pump(judge, well, first, need);
    if (finding == NULL) {
        return true;
    }
    finding_severity(finding, SEVERITY_WARNING);
    finding_say(judge, finding, "`%s` has a bilge of its own, and the best fixed bilge pump that its water reaches moves %s aboard; ISO 15083 "
                "asks for %s", say_name(judge, well), say_figure(judge, first), say_figure(judge, need));
    return finding->verdict == VERDICT_OPEN;
}

static bool judge_second_of_well(Judge *judge, const Entity *well, const Figure *second, const Figure *need)
{
    Finding *finding = judge_pump(judge, well, second, need);
    if (finding == NULL) {
        return true;
    }
    bool perhaps = finding->verdict == VERDICT_OPEN;
    grade_second(judge, finding);
    const char *moves = second->high > 0.0 ? text_format(judge->arena, "the second bilge pump that its water reaches moves %s aboard", say_figure(judge, second))
                                           : "its water reaches one bilge pump alone that is fed or worked by hand";
    finding_say(judge, finding, "`%s` has a bilge of its own, and %s; ISO 15083 asks for a second of %s that empties all bilges",
                say_name(judge, well), moves, say_figure(judge, need));
    finding_remedy(judge, finding, "a pump that can draw from each of them, said by leaving out its `space`");
    return perhaps;
}

/* Of a well in which no pump stands `bilge-pumpless` speaks. */
static bool judge_wells(Judge *judge, const Figure *need, bool second_is_asked)
{
    bool there = true;
    for (const Entity *well = first_aboard(judge->model, KIND_SPACE); well != NULL; well = next_aboard(well)) {
        const Figure *first = figure_of(judge, well, FIGURE_FIRST_PUMPING), *second = figure_of(judge, well, FIGURE_SECOND_PUMPING);
        if (first == NULL || second == NULL || first->high <= 0.0) {
            continue;
        }
        there = judge_first_of_well(judge, well, first, need) && there;
        there = (!second_is_asked || judge_second_of_well(judge, well, second, need)) && there;
    }
    return there;
}

/* Pumps that stand in wells alone, none of which sees all of them: there is no bilge beside, and nothing to ask of the boat. */
static bool pumps_stand_in_wells(const Judge *judge)
{
    bool told = false;
    for (const Entity *pump = first_aboard(judge->model, KIND_BILGE_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Entity *space = entity_reference(pump, PROP_COMMON_SPACE);
        if (counts_as_pump(pump) && space != NULL && !is_apart(space)) {
            return false;
        }
        told = told || (space != NULL && figure_of(judge, space, FIGURE_FIRST_PUMPING) != NULL);
    }
    return told;
}

bool judge_two_pumps(Judge *judge, const Figure *need)
{
    if (is_open_boat(judge) == ANSWER_YES) {
        judge_holds(judge); /* any pump is a means of bailing */
        return true;
    }
    bool one_is_enough = entity_yes(judge->model->boat, PROP_BOAT_ENCLOSED) == 0; /* even with a well */
    bool wells = judge_wells(judge, need, !one_is_enough);
    if (pumps_stand_in_wells(judge)) {
        return wells;
    }
    if (!judge_first_pump(judge, need)) {
        return false;
    }
    return (one_is_enough || judge_second_pump(judge, need)) && wells;
}

/* A hose that leads from the pump says what `outlet` would. */
static bool is_unsaid(const Entity *pump, PropId asked, bool hose)
{
    return !entity_states(pump, asked) && !(hose && asked == PROP_BILGE_PUMP_OUTLET);
}

/* "`lift` and `outlet` are not said": without them half of what it is rated for counts. */
static const char *say_what_is_unsaid(const Judge *judge, const Entity *pump)
{
    static const PropId asked[] = {PROP_BILGE_PUMP_LIFT, PROP_BILGE_PUMP_SHUT_OFF, PROP_BILGE_PUMP_OUTLET};
    enum { ASKED = sizeof asked / sizeof asked[0] };
    Buf text;
    int left = 0;
    bool hose = hoses_after(plumbing_of(judge->figures), pump, (const Entity *[HOSES_AFTER]){NULL}) > 0;
    buf_init(&text, judge->arena);
    for (int i = 0; i < ASKED; i++) {
        left += is_unsaid(pump, asked[i], hose);
    }
    int unsaid = left;
    for (int i = 0; i < ASKED; i++) {
        if (is_unsaid(pump, asked[i], hose)) {
            left--;
            buf_format(&text, "`%s`%s", props[asked[i]].word, left > 1 ? ", " : left == 1 ? " and " : "");
        }
    }
    buf_text(&text, unsaid == 1 ? " is not said" : " are not said");
    return text.text;
}

void note_pumps(Judge *judge, Finding *finding, bool (*is_sort)(const Entity *))
{
    note_pumps_of(judge, finding, is_sort, NULL);
}

void note_pumps_of(Judge *judge, Finding *finding, bool (*is_sort)(const Entity *), const Entity *well)
{
    for (const Entity *pump = first_aboard(judge->model, KIND_BILGE_PUMP); pump != NULL;
         pump = next_aboard(pump)) {
        const Figure *pumped = figure_of(judge, pump, FIGURE_PUMPED);
        if (!is_sort(pump) || pumped == NULL || (well != NULL && !water_goes(well, entity_reference(pump, PROP_COMMON_SPACE)))) {
            continue;
        }
        finding_note(judge, finding, place_of(judge, pump, PROP_BILGE_PUMP_RATED), "%s, moves %s %s",
                     say_side(judge, side_value(judge, pump, PROP_BILGE_PUMP_RATED, 0)),
                     say_figure(judge, pumped),
                     pumped->remark == NULL
                         ? "against its lift and hose"
                         : text_format(judge->arena, "at half of that: %s", say_what_is_unsaid(judge, pump)));
    }
}
