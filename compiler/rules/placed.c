/* See placed.h. */
#include "rules/placed.h"

#include "figures/water.h"
#include "model/status.h"

/* A choice of this program: docs/computing.md says why. */
static const double least_share = 0.5;

static Side placed_share(const Judge *judge)
{
    return side_figure(figure_of(judge, judge->model->boat, FIGURE_PLACED_SHARE));
}

static Side least(void)
{
    return side_number(least_share, UNIT_ALONE(UNIT_PERCENT));
}

Answer most_is_placed(const Judge *judge)
{
    return ask_at_least(placed_share(judge), least());
}

static double mass_of(const Judge *judge, const Entity *thing)
{
    Side mass = side_value(judge, thing, PROP_COMMON_MASS, 0);
    return side_is_known(mass) ? mass.value.high : 0.0;
}

/* The heaviest that is weighed and has no place. */
static const Entity *heaviest_unplaced(const Judge *judge)
{
    const Entity *heaviest = NULL;
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *entity = judge->model->entities[i];
        bool counts = is_bought(entity) && is_aboard(entity) && entity_states(entity, PROP_COMMON_MASS) &&
                      !entity_states(entity, PROP_COMMON_AT);
        if (counts && (heaviest == NULL || mass_of(judge, entity) > mass_of(judge, heaviest))) {
            heaviest = entity;
        }
    }
    return heaviest;
}

static const Entity *first_unweighed(const Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *entity = judge->model->entities[i];
        if (is_bought(entity) && is_aboard(entity) && !entity_states(entity, PROP_COMMON_MASS)) {
            return entity;
        }
    }
    return NULL;
}

Finding *judge_little_placed(Judge *judge, const Entity *subject, Span place)
{
    Finding *finding = judge_at_least(judge, subject, place, placed_share(judge), least());
    if (finding == NULL) {
        return NULL;
    }
    finding->verdict = VERDICT_OPEN; /* nobody knows how she lies */
    finding->broken_in = 0;
    if (judge->quiet) {
        return finding;
    }
    const Entity *unplaced = heaviest_unplaced(judge);
    const Entity *unweighed = unplaced == NULL ? first_unweighed(judge) : NULL;
    if (unplaced != NULL) {
        finding_hangs_on(judge, finding, unplaced, PROP_COMMON_AT,
                         text_format(judge->arena, "%s.at", say_name(judge, unplaced)));
    } else if (unweighed != NULL) {
        finding_hangs_on(judge, finding, unweighed, PROP_COMMON_MASS,
                         text_format(judge->arena, "%s.mass", say_name(judge, unweighed)));
    } else {
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, "hull");
    }
    finding_remedy(judge, finding,
                   "`mass` and `at` of what is heaviest: her hull and ballast, as an `item`, too");
    return finding;
}

const char *say_placed(const Judge *judge)
{
    const Entity *boat = judge->model->boat;
    return text_format(judge->arena, "only %s of the %s that she displaces is weighed and placed",
                       say_figure(judge, figure_of(judge, boat, FIGURE_PLACED_MASS)),
                       say_side(judge, side_value(judge, boat, PROP_BOAT_DISPLACEMENT, 0)));
}
