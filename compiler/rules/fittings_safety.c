/*
 * Rules of the family rules_fittings about safety gear: life-jackets, throwable and distress-signals.
 */
#include "rules/fittings.h"

#include "figures/water.h"
#include "rules/ask.h"
#include "rules/plumbing.h"

/* ---- life-jackets -------------------------------------------------------------------------------------- */

/* Of the one basis it is law, on the other practice. */
static void by_basis(Judge *judge, Finding *finding)
{
    finding_severity(finding, judge->basis == BASIS_US ? SEVERITY_FAULT : SEVERITY_WARNING);
}

static void judge_no_life_jacket(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL || some_is_mistaken(judge, KIND_ITEM)) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_open(judge, boat, place_of_name(judge, boat), NULL, PROP_NONE);
    finding_hangs_on(judge, finding, boat, PROP_NONE, "life-jacket");
    by_basis(judge, finding);
    finding_say(judge, finding, "the spec states no life jackets; she has a crew of %s",
                say_side(judge, side_value(judge, boat, PROP_BOAT_CREW, 0)));
    finding_remedy(judge, finding, "an `item` with `carried life-jacket` and their `count`");
}

void judge_life_jackets(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Entity *first = NULL;
    Interval count = {0.0, 0.0};
    for (const Entity *e = first_aboard(judge->model, KIND_ITEM); e != NULL; e = next_aboard(e)) {
        if (has_mistake(e, PROP_ITEM_CARRIED)) {
            judge_waiting(judge); /* perhaps it is one */
            return;
        }
        if (str_is(entity_word(e, PROP_ITEM_CARRIED), "life-jacket") && !has_expired(judge->figures, e)) {
            Side pieces = side_value(judge, e, PROP_COMMON_COUNT, 0);
            first = first != NULL ? first : e;
            if (pieces.state == STATE_WAITING) {
                judge_waiting(judge);
                return;
            }
            count = interval_add(count, pieces.value);
        }
    }
    if (first == NULL) {
        judge_no_life_jacket(judge);
        return;
    }
    Side crew = side_value(judge, boat, PROP_BOAT_CREW, 0);
    Side jackets = side_interval(count, UNIT_ALONE(UNIT_NONE));
    Finding *finding = judge_at_least(judge, boat, place_of_name(judge, first), jackets, crew);
    if (finding != NULL) {
        by_basis(judge, finding);
        finding_rests_on(judge, finding, first, PROP_COMMON_COUNT);
        finding_say(judge, finding, "she carries %s life jacket%s, and has a crew of %s", say_side(judge, jackets),
                    count.low == 1.0 && count.high == 1.0 ? "" : "s", say_side(judge, crew));
        finding_remedy(judge, finding, "one that fits for each who is aboard");
    }
}

/* ---- throwable, distress-signals ----------------------------------------------------------------------- */

/* A boat of that length and more: 16 ft. */
static Answer is_sixteen_feet(const Judge *judge)
{
    return ask_at_least(side_value(judge, judge->model->boat, PROP_BOAT_LENGTH, 0),
                        side_number(unit_to_si(UNIT_ALONE(UNIT_FT), 16.0), UNIT_ALONE(UNIT_FT)));
}

/* Such gear is there, but its date has passed: NULL where there is none. */
static const Entity *first_expired(const Judge *judge, const char *word)
{
    const Entity *e = first_aboard(judge->model, KIND_ITEM);
    while (e != NULL && !(str_is(entity_word(e, PROP_ITEM_CARRIED), word) && has_expired(judge->figures, e))) {
        e = next_aboard(e);
    }
    return e;
}

/* All that there is of it has passed its date. */
static void judge_all_expired(Judge *judge, Answer asked, const Entity *gear, const char *word)
{
    const Entity *boat = judge->model->boat;
    Span place = place_of(judge, gear, PROP_ITEM_EXPIRES);
    Finding *finding = asked == ANSWER_YES ? judge_broken(judge, boat, place) : judge_open(judge, boat, place, boat, PROP_BOAT_LENGTH);
    finding_say(judge, finding, "the date of `%s` has passed, and no other `carried %s` is in the spec", say_name(judge, gear), word);
    finding_remedy(judge, finding, "new ones, with the date that they are marked with; hand in the old, and do not burn them");
}

/*
 * Gear that the law asks for, or perhaps. Where the spec carries nothing nobody has come to it yet: open; where it does: broken, or
 * open where it hangs on her length.
 */
static void judge_carried(Judge *judge, Answer asked, const char *word, const char *lacks, const char *remedy)
{
    const Entity *boat = judge->model->boat;
    const Entity *other = NULL;
    bool unclear = some_is_mistaken(judge, KIND_ITEM);
    for (const Entity *e = first_aboard(judge->model, KIND_ITEM); e != NULL; e = next_aboard(e)) {
        if (str_is(entity_word(e, PROP_ITEM_CARRIED), word) && !has_expired(judge->figures, e)) {
            judge_holds(judge);
            return;
        }
        unclear = unclear || has_mistake(e, PROP_ITEM_CARRIED);
        other = other == NULL && entity_states(e, PROP_ITEM_CARRIED) ? e : other;
    }
    if (unclear) {
        judge_waiting(judge);
        return;
    }
    const Entity *expired = first_expired(judge, word);
    if (expired != NULL) {
        judge_all_expired(judge, asked, expired, word);
        return;
    }
    Span place = place_of_name(judge, boat);
    Finding *finding = other == NULL          ? judge_open(judge, boat, place, NULL, PROP_NONE)
                       : asked == ANSWER_YES ? judge_broken(judge, boat, place)
                                             : judge_open(judge, boat, place, boat, PROP_BOAT_LENGTH);
    if (other == NULL) {
        finding_hangs_on(judge, finding, boat, PROP_NONE, word);
    }
    finding_say(judge, finding, "the spec states %s", lacks);
    finding_remedy(judge, finding, "%s", remedy);
}

void judge_throwable(Judge *judge)
{
    if (judge->model->boat == NULL) {
        return;
    }
    Answer asked = is_sixteen_feet(judge);
    if (asked == ANSWER_UNKNOWN) {
        judge_waiting(judge);
    } else if (asked != ANSWER_NO) {
        judge_carried(judge, asked, "throwable", "nothing to throw to somebody in the water; a boat of 16 ft or more carries one",
                      "an `item` with `carried throwable`: a ring or a cushion, where it is at hand");
    }
}

void judge_distress_signals(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL) {
        return;
    }
    Answer asked = is_sixteen_feet(judge);
    if (asked == ANSWER_UNKNOWN || has_mistake(boat, PROP_BOAT_WATERS)) {
        judge_waiting(judge);
    } else if (asked != ANSWER_NO && !is_inland_alone(boat)) {
        judge_carried(judge, asked, "flare", "no visual distress signals; a boat of 16 ft or more carries some on coastal waters, by day "
                                      "and by night",
                      "an `item` with `carried flare`: three that serve by day and by night, or a flag for the day and an "
                      "electric light for the night; `waters inland` where she goes on no others");
    }
}
