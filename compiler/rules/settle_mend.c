/*
 * See settle_try.h: of a finding that is broken for good, the single change of a quantity that would meet it.
 *
 * The rule names what may mend it; each is laid open from nothing to without bound, and the stretch of its values with which
 * the rule holds is searched as that of an undecided one is. Where the rule says that none of them is enough by itself, each is
 * searched with plenty of the others, and all are told if with what was found of each the rule holds.
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

static Value laid_open(const Depend *mend)
{
    Value open = *property_value(entity_property(mend->entity, mend->prop), 0);
    open.flags |= VALUE_HOLE;
    open.u.quantity.low = 0.0;
    open.u.quantity.high = HUGE_VAL;
    return open;
}

static bool begin(Try *try, Settler *settler, const Finding *finding, const Depend *mend)
{
    return try_begin(try, settler, finding, (Spot){mend->entity, mend->prop, entity_property(mend->entity, mend->prop)->node, 0});
}

static void try_mend(Settler *settler, Finding *finding, const Depend *mend)
{
    Arena *arena = settler->outcome->arena;
    Value open = laid_open(mend);
    Settle settle = {.input = mend->text, .state = SETTLE_NOT_ALONE, .text = ""};
    Try try;
    if (begin(&try, settler, finding, mend)) {
        settle_ranges(&try, &settle, &open, true); /* one value will be taken, of however many */
    }
    try_end(&try);
    const char *part = holding_part(arena, &settle);
    if (part != NULL) {
        add_remedy(arena, finding, text_format(arena, "`%s` %s%s", mend->text, part, settle_of_each(arena, mend->entity, mend->prop)));
    }
}

/* ---- Several at once ---- */

enum { TOGETHER_MOST = TRIED_BESIDE + 1, PLENTY = 1000 };

/* One of several, and from where on it is enough of it. */
typedef struct Part {
    const Depend *mend;
    Try try;
    double enough;
    const char *text;
} Part;

static void set(Part *part, double value)
{
    for (uint32_t i = 0; i < part->try.case_count; i++) {
        trial_set_range(&part->try.cases[i].trial, value, value);
    }
}

/* Begins all but one of them, each with plenty of it or with what is enough. */
static bool begin_others(Settler *settler, const Finding *finding, Part *parts, uint32_t count, uint32_t but, bool plenty)
{
    bool all = true;
    for (uint32_t i = 0; i < count; i++) {
        parts[i].try = (Try){.case_count = 0};
        if (i != but && all) {
            all = begin(&parts[i].try, settler, finding, parts[i].mend);
            set(&parts[i], plenty ? PLENTY * property_value(entity_property(parts[i].mend->entity, parts[i].mend->prop), 0)->u.quantity.high
                                  : parts[i].enough);
        }
    }
    return all;
}

/* Makes a try see what is set in those of the others. */
static void set_beside(Try *try, const Part *parts, uint32_t count, uint32_t but)
{
    for (uint32_t i = 0; i < count; i++) {
        if (i != but) {
            try->beside[try->beside_count++] = parts[i].mend->prop;
        }
    }
}

static void end_all(Part *parts, uint32_t count)
{
    while (count > 0) {
        try_end(&parts[--count].try);
    }
}

/* Searches one with plenty of the others; false where none of it, or any, is enough. */
static bool search_part(Settler *settler, const Finding *finding, Part *parts, uint32_t count, uint32_t at)
{
    Part *part = &parts[at];
    Value open = laid_open(part->mend);
    Settle settle = {.input = part->mend->text, .state = SETTLE_NOT_ALONE, .text = ""};
    Try try = {.case_count = 0};
    if (begin_others(settler, finding, parts, count, at, true) && begin(&try, settler, finding, part->mend)) {
        set_beside(&try, parts, count, at);
        settle_ranges(&try, &settle, &open, true);
    }
    try_end(&try);
    end_all(parts, count);
    part->text = holding_part(settler->outcome->arena, &settle);
    part->enough = 0.0;
    for (uint32_t i = 0; i < settle.range_count; i++) {
        part->enough = settle.ranges[i].holds ? settle.ranges[i].value.low : part->enough;
    }
    return part->text != NULL && part->enough > 0.0;
}

static bool is_enough_together(Settler *settler, const Finding *finding, Part *parts, uint32_t count)
{
    Part *last = &parts[count - 1];
    bool holds = begin_others(settler, finding, parts, count, count - 1, false) && begin(&last->try, settler, finding, last->mend);
    set_beside(&last->try, parts, count, count - 1);
    holds = holds && try_range(&last->try, last->enough, last->enough) == TOLD_HOLDS;
    end_all(parts, count);
    return holds;
}

static void try_together(Settler *settler, Finding *finding)
{
    Arena *arena = settler->outcome->arena;
    Part *parts = ARENA_ARRAY(arena, Part, TOGETHER_MOST);
    uint32_t count = 0;
    for (const Depend *mend = finding->mends; mend != NULL; mend = mend->next) {
        if (count == TOGETHER_MOST) {
            return;
        }
        parts[count++].mend = mend;
    }
    for (uint32_t i = 0; i < count; i++) {
        if (!search_part(settler, finding, parts, count, i)) {
            return;
        }
    }
    if (count < 2 || !is_enough_together(settler, finding, parts, count)) {
        return;
    }
    Buf text;
    buf_init(&text, arena);
    for (uint32_t i = 0; i < count; i++) {
        buf_format(&text, "%s`%s` %s%s", i == 0 ? "" : i + 1 < count ? ", " : " and ", parts[i].mend->text, parts[i].text,
                   settle_of_each(arena, parts[i].mend->entity, parts[i].mend->prop));
    }
    buf_text(&text, ": none of them alone is enough");
    finding->together->text = text.text;
}

void settle_mends(Settler *settler, Finding *finding)
{
    if (finding->together != NULL) {
        try_together(settler, finding);
        return;
    }
    for (const Depend *mend = finding->mends; mend != NULL && settler->work > 0; mend = mend->next) {
        try_mend(settler, finding, mend);
    }
}
