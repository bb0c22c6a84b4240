/*
 * One rule of the family rules_whole: size-chosen. What this program fills in for a size that is left open is said, for goals
 * and rules are then judged with it.
 */
#include "rules/whole.h"

/* Of several tanks or cylinders the size of one, for that is what is bought: all together are told by the figure. */
static const char *say_chosen(const Judge *judge, const Entity *thing, const Figure *size)
{
    Interval count;
    bool several = size->id != FIGURE_FITTING_SIZE && entity_quantity(thing, PROP_COMMON_COUNT, 0, &count) && count.low == count.high &&
                   count.low > 1.0 && size->state == STATE_KNOWN;
    return several ? text_format(judge->arena, "%s each", say_number(judge, size->low / count.low, size->unit)) : say_figure(judge, size);
}

void judge_size_chosen(Judge *judge, const Entity *thing)
{
    static const FigureId sizes[] = {FIGURE_FITTING_SIZE, FIGURE_VOLUME, FIGURE_GAS_HELD};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        const Figure *size = figure_of(judge, thing, sizes[i]);
        PropId prop = size != NULL ? figure_fills(size) : PROP_NONE;
        if (prop == PROP_NONE) {
            continue;
        }
        Finding *f = judge_broken(judge, thing, place_of(judge, thing, prop));
        finding_say(judge, f, "`%s` leaves its `%s` open: all that rests on it is judged with %s, which Garboard chose",
                    say_name(judge, thing), props[prop].word, say_chosen(judge, thing, size));
        finding_remedy(judge, f, "a `%s`, or a range of what may be bought", props[prop].word);
    }
}
