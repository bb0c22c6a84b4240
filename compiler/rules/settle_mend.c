/*
 * See settle_try.h: of a finding that is broken for good, the single change of a quantity that would meet it.
 *
 * The rule names what may mend it; each is laid open from nothing to without bound, and the stretch of its values with which
 * the rule holds is searched as that of an undecided one is. What helps only together with something else is not told.
 */
#include "rules/settle_try.h"

#include "model/agree.h"

#include <math.h>
#include <string.h>

/* "holds from 209 Ah up, broken up to 208 Ah": what follows `holds`, up to the comma; NULL where it holds nowhere. */
static const char *holding_part(Arena *arena, const Settle *settle)
{
    static const char word[] = "holds ";
    const char *from = strstr(settle->text, word);
    if (settle->state != SETTLE_FOUND || from == NULL) {
        return NULL;
    }
    from += sizeof word - 1;
    const char *comma = strstr(from, ", ");
    return text_format(arena, "%.*s", (int)(comma != NULL ? (size_t)(comma - from) : strlen(from)), from);
}

/* What several of the same make up together: a number of it is that of one, and its figure that of all. */
static bool adds_up(PropId prop)
{
    return prop == PROP_BANK_CAPACITY || prop == PROP_SOLAR_RATED || prop == PROP_ALTERNATOR_OUTPUT || prop == PROP_TANK_CAPACITY;
}

const char *settle_of_each(Arena *arena, const Entity *entity, PropId prop)
{
    Interval count = point(1.0), series = point(1.0);
    if (!adds_up(prop)) {
        return "";
    }
    if (entity->kind == KIND_BANK && entity_states(entity, PROP_BANK_PARALLEL)) {
        entity_quantity(entity, PROP_BANK_PARALLEL, 0, &count);
    } else if (entity_quantity(entity, PROP_COMMON_COUNT, 0, &count) && entity->kind == KIND_BANK) {
        entity_quantity(entity, PROP_BANK_SERIES, 0, &series); /* in series they add volts */
        count = interval_divide(count, interval_max(series, point(1.0)));
    } else if (entity->kind == KIND_SOLAR) {
        layout_count(entity, &count);
    }
    bool several = interval_is_point(count) && count.low > 1.0 && count.low < 1e6;
    return several ? text_format(arena, ", of each of the %u", (unsigned)count.low) : "";
}

static void add_remedy(Arena *arena, Finding *finding, const char *text)
{
    Remedy **end = &finding->remedies;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(arena, Remedy);
    (*end)->text = text;
}

static void try_mend(Settler *settler, Finding *finding, const Depend *mend)
{
    Arena *arena = settler->outcome->arena;
    const Property *property = entity_property(mend->entity, mend->prop);
    Value open = *property_value(property, 0);
    open.flags |= VALUE_HOLE;
    open.u.quantity.low = 0.0;
    open.u.quantity.high = HUGE_VAL;
    Settle settle = {.input = mend->text, .state = SETTLE_NOT_ALONE, .text = ""};
    Try try;
    if (try_begin(&try, settler, finding, (Spot){mend->entity, mend->prop, property->node, 0})) {
        settle_ranges(&try, &settle, &open, true); /* one value will be taken, of however many */
    }
    try_end(&try);
    const char *part = holding_part(arena, &settle);
    if (part != NULL) {
        add_remedy(arena, finding, text_format(arena, "`%s` %s%s", mend->text, part, settle_of_each(arena, mend->entity, mend->prop)));
    }
}

void settle_mends(Settler *settler, Finding *finding)
{
    for (const Depend *mend = finding->mends; mend != NULL && settler->work > 0; mend = mend->next) {
        try_mend(settler, finding, mend);
    }
}
