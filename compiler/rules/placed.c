/* See placed.h. */
#include "rules/placed.h"

#include "figures/water.h"

/* A choice of this program: docs/computing.md says why. */
static const double least_share = 0.5;

static Side placed_share(const Judge *judge)
{
    return side_figure(figure_of(judge, judge->model->boat, FIGURE_PLACED_SHARE));
}

static Side weighed_share(const Judge *judge)
{
    return side_figure(figure_of(judge, judge->model->boat, FIGURE_WEIGHED_SHARE));
}

static Side least(void)
{
    return side_number(least_share, UNIT_ALONE(UNIT_PERCENT));
}

bool rests_on_little(const Judge *judge, const Figure *angle)
{
    if (angle == NULL || angle->state != STATE_KNOWN) {
        return false;
    }
    Answer most = ask_at_least(placed_share(judge), least());
    return most == ANSWER_NO || most == ANSWER_PERHAPS;
}

static double mass_of(const Judge *judge, const Entity *thing)
{
    Side mass = side_value(judge, thing, PROP_COMMON_MASS, 0);
    return side_is_known(mass) ? mass.value.high : 0.0;
}

/* The heaviest that is weighed and has no place. */
static const Entity *heaviest_unplaced(const Judge *judge)
{
    const Bought *bought = bought_aboard(judge);
    const Entity *heaviest = NULL;
    for (uint32_t i = 0; i < bought->count; i++) {
        const Entity *thing = bought->things[i];
        bool counts = is_aboard(thing) && !is_ashore(thing) && entity_states(thing, PROP_COMMON_MASS) && !entity_states(thing, PROP_COMMON_AT);
        if (counts && (heaviest == NULL || mass_of(judge, thing) > mass_of(judge, heaviest))) {
            heaviest = thing;
        }
    }
    return heaviest;
}

const char mass_of_things[] = "the mass of things";

/* The only one that is not weighed; NULL: none is, or several. */
static const Entity *only_unweighed(const Judge *judge, uint32_t *count)
{
    const Bought *bought = bought_aboard(judge);
    const Entity *unweighed = NULL;
    *count = 0;
    for (uint32_t i = 0; i < bought->count && *count < 2; i++) {
        if (is_aboard(bought->things[i]) && !is_ashore(bought->things[i]) && !entity_states(bought->things[i], PROP_COMMON_MASS)) {
            unweighed = bought->things[i];
            ++*count;
        }
    }
    return *count == 1 ? unweighed : NULL;
}

/* Open at a place where not, or perhaps not, half of her is known. NULL: it is. */
static Finding *leave_open(Judge *judge, const Entity *subject, Span place, Side share)
{
    Finding *finding = judge_at_least(judge, subject, place, share, least());
    if (finding != NULL) {
        finding->verdict = VERDICT_OPEN;
        finding->broken_in = 0;
    }
    return finding;
}

/*
 * Of several things none is the one to weigh: which comes first in the spec says nothing of what is heavy. One that is the only
 * one may be her hull where it is an item; a radio is not what weighs half of her.
 */
static void hang_on_mass(Judge *judge, Finding *finding)
{
    uint32_t count;
    const Entity *unweighed = only_unweighed(judge, &count);
    if (unweighed != NULL && unweighed->kind == KIND_ITEM) {
        finding_left_open(judge, finding, unweighed, PROP_COMMON_MASS);
    } else {
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, count > 1 ? mass_of_things : "hull");
    }
}

Finding *judge_little_placed(Judge *judge, const Entity *subject, Span place)
{
    Finding *finding = leave_open(judge, subject, place, placed_share(judge));
    if (finding == NULL || judge->quiet) {
        return finding;
    }
    const Entity *unplaced = heaviest_unplaced(judge);
    if (unplaced != NULL) {
        finding_hangs_on(judge, finding, unplaced, PROP_COMMON_AT,
                         text_format(judge->arena, "%s.at", say_name(judge, unplaced)));
    } else {
        hang_on_mass(judge, finding);
    }
    finding_remedy(judge, finding,
                   "`mass` and `at` of what is heaviest: her hull and ballast, as an `item`, too");
    return finding;
}

Finding *judge_little_weighed(Judge *judge, const Entity *subject, Span place)
{
    Finding *finding = leave_open(judge, subject, place, weighed_share(judge));
    if (finding == NULL || judge->quiet) {
        return finding;
    }
    hang_on_mass(judge, finding);
    finding_remedy(judge, finding, "`mass` of what is heaviest: her hull and ballast, as an `item`, too");
    return finding;
}

const char *say_placed(const Judge *judge)
{
    const Entity *boat = judge->model->boat;
    return text_format(judge->arena, "only %s of the %s that she displaces is weighed and placed",
                       say_figure(judge, figure_of(judge, boat, FIGURE_PLACED_MASS)),
                       say_side(judge, side_value(judge, boat, PROP_BOAT_DISPLACEMENT, 0)));
}
