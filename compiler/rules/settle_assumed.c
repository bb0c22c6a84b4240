/*
 * See settle_try.h: which of what is assumed matters to what is broken.
 *
 * Each assumption of each fault and missed goal is tried on it by itself, moved as far as a usual one may lie from what is
 * assumed. Those with which the rule holds are what it rests on; where there are none, nothing is said. It knows no rule by
 * name.
 */
#include "rules/settle_try.h"

#include "physics/celsius.h"

#include <math.h>
#include <string.h>

enum { WEIGHED_MOST = 64, NAMES_MOST = 6, PLACES_MOST = 3 };

/* How far a temperature is moved, and the insulation of a cable that does not say its own; common practice, no source. */
static const double moved_k = 15.0, insulation_k = 105.0 + ZERO_CELSIUS_K;

/* One assumption, over all that it was tried on. */
typedef struct Weighed {
    const Depend *what;
    uint32_t mends; /* so many faults would be none */
    double moves;   /* by how much of what is lacking it moves the worst, at most */
} Weighed;

typedef struct Scale {
    Settler *settler;
    Weighed list[WEIGHED_MOST];
    uint32_t count;
    uint32_t broken, mended; /* faults and missed goals, and those that some assumption decides */
    const Finding *first[PLACES_MOST];
} Scale;

static Weighed *weighed(Scale *scale, const Depend *what)
{
    for (uint32_t i = 0; i < scale->count; i++) {
        if (scale->list[i].what->entity->name == what->entity->name && scale->list[i].what->prop == what->prop) {
            return &scale->list[i];
        }
    }
    if (scale->count == WEIGHED_MOST) {
        return NULL;
    }
    scale->list[scale->count] = (Weighed){.what = what};
    return &scale->list[scale->count++];
}

/* Where the value is to stand: in the statement that leaves it out, or as if it were stated. */
static Spot spot_of(const Depend *what)
{
    const Property *stated = what->fact != NULL && what->slot > 0 ? entity_property(what->entity, what->prop) : NULL;
    for (uint32_t i = 0; stated == NULL && what->slot > 0 && i < what->entity->block.count; i++) {
        const Property *outer = &what->entity->block.properties[i];
        const Value *last = property_value(outer, outer->count > 0 ? outer->count - 1u : 0);
        stated = last->kind == VALUE_BLOCK ? block_property(last->u.block, what->prop) : NULL;
    }
    return (Spot){what->entity, what->prop, stated != NULL ? stated->node : 0, what->slot};
}

/* Half and twice what is assumed, within what may be stated at all. */
static Interval may_be(const Scale *scale, const Depend *what, Interval is)
{
    const PropRow *row = &props[what->prop];
    const Model *model = scale->settler->outcome->cases[0].model;
    const Atom *atom = &shapes_get(model->shapes, what->prop)->items[0].atoms[0];
    if (what->slot > 0) {
        return interval(fmin(is.low, insulation_k), fmax(is.high, insulation_k));
    }
    bool heat = atom->units[0].unit == UNIT_CELSIUS;
    Interval range = heat ? interval(is.low - moved_k, is.high + moved_k) : interval(is.low / 2.0, is.high * 2.0);
    if (row->least != 0.0) {
        range.low = fmax(range.low, unit_to_si(atom->units[0], row->least));
    }
    if (row->most != 0.0) {
        range.high = fmin(range.high, unit_to_si(atom->units[0], row->most));
    }
    return range.low <= range.high ? range : is;
}

static void note_margin(double now, double before, double *moves)
{
    double moved = (now - before) / fabs(before);
    if (isfinite(moved) && moved > *moves) {
        *moves = moved;
    }
}

/* Whether the rule holds with another word, or the other answer. */
static bool mends_in_words(Try *try, const Value *value)
{
    const Shape *shape = shapes_get(try->cases[0].in->model->shapes, try->prop);
    if (value->kind == VALUE_YES_NO) {
        return try_yes(try, !value->u.yes) == TOLD_HOLDS;
    }
    const Atom *atom = &shape->items[0].atoms[0];
    for (uint16_t i = 0; value->kind == VALUE_WORD && shape->items[0].kind == ITEM_ATOM && i < atom->word_count; i++) {
        if (!str_equal(atom->words[i], value->u.word) && try_word(try, atom->words[i]) == TOLD_HOLDS) {
            return true;
        }
    }
    return false;
}

static bool mends(Scale *scale, Try *try, const Depend *what, double *moves)
{
    const Property *fallback = model_default_in(try->cases[0].in->model, &what->entity->block, what->prop);
    const Value *assumed = property_value(fallback, what->slot);
    if (what->fact == NULL && assumed->kind != VALUE_QUANTITY) {
        return mends_in_words(try, assumed);
    }
    Interval is = what->fact != NULL ? interval(what->fact->low, what->fact->high)
                                     : interval(assumed->u.quantity.low, assumed->u.quantity.high);
    Interval range = may_be(scale, what, is);
    const double ends[] = {range.low, range.high};
    double worst = try->worst, best = try->best;
    bool holds = false, better = false;
    try->asked = 1; /* the others only where the first case holds: a try may run the days of all banks */
    if (try_range(try, range.low, range.high) == TOLD_BROKEN) {
        note_margin(try->best, best, moves);
        return false; /* whatever it is: no end of it needs to be tried */
    }
    for (size_t i = 0; i < 2 && !holds && !better; i++) {
        holds = try_range(try, ends[i], ends[i]) == TOLD_HOLDS;
        better = try->worst > worst; /* the other end lies beyond what is assumed: there it is worse */
        note_margin(try->worst, worst, moves);
        holds = holds && try_others(try, ends[i], ends[i], TOLD_HOLDS);
    }
    return holds;
}

static bool weigh(Scale *scale, const Finding *finding, const Depend *what)
{
    Try try;
    double moves = 0.0;
    bool holds = try_begin(&try, scale->settler, finding, spot_of(what)) && mends(scale, &try, what, &moves);
    try_end(&try);
    Weighed *one = holds ? weighed(scale, what) : NULL;
    if (one != NULL) {
        one->mends++;
        one->moves = fmax(one->moves, moves);
    }
    return holds;
}

/* The one that decides more stands first, then the one that moves more. */
static void sort(Scale *scale)
{
    for (uint32_t i = 1; i < scale->count; i++) {
        Weighed one = scale->list[i];
        uint32_t at = i;
        for (; at > 0; at--) {
            const Weighed *before = &scale->list[at - 1];
            if (before->mends > one.mends || (before->mends == one.mends && before->moves >= one.moves)) {
                break;
            }
            scale->list[at] = *before;
        }
        scale->list[at] = one;
    }
}

/* "`lamps.wire insulation` (3 of them), `house.usable`" */
static const char *say_names(const Scale *scale)
{
    Buf names;
    uint32_t told = 0, all = 0;
    buf_init(&names, scale->settler->outcome->arena);
    for (uint32_t i = 0; i < scale->count; i++) {
        const Weighed *one = &scale->list[i];
        if (all++ < NAMES_MOST) {
            buf_format(&names, "%s`%s`", told++ > 0 ? ", " : "", one->what->text);
            buf_text(&names, one->mends > 1 ? text_format(names.arena, " (%u)", (unsigned)one->mends) : "");
        }
    }
    buf_text(&names, all > told ? text_format(names.arena, " and %u more", (unsigned)(all - told)) : "");
    return names.text;
}

static void point_to_faults(const Scale *scale, Finding *finding)
{
    Arena *arena = scale->settler->outcome->arena;
    FindingNote **end = &finding->notes;
    *end = NULL;
    for (size_t i = 0; i < PLACES_MOST && scale->first[i] != NULL; i++) {
        *end = ARENA_NEW(arena, FindingNote);
        **end = (FindingNote){.at = scale->first[i]->place, .text = text_format(arena, "`%s`", scale->first[i]->rule->name)};
        end = &(*end)->next;
    }
}

static void tell(Scale *scale, Finding *finding)
{
    Arena *arena = scale->settler->outcome->arena;
    const char *what = scale->broken == 1 ? "fault or missed goal" : "faults and missed goals";
    sort(scale);
    const char *of = scale->mended < scale->broken ? text_format(arena, "%u of ", (unsigned)scale->mended) : "";
    finding->message = text_format(arena, "%s%u %s %s on what is assumed, not stated; what decides most stands first: %s", of, (unsigned)scale->broken,
                                   what, scale->mended == 1 ? "rests" : "rest", say_names(scale));
    point_to_faults(scale, finding);
}

/* It has been tried: whatever is assumed, what is broken stays so, and there is nothing to say. */
static void withdraw(Outcome *outcome, const Finding *finding)
{
    Finding **at = &outcome->findings;
    while (*at != finding) {
        at = &(*at)->next;
    }
    *at = finding->next;
    outcome->advice--;
}

void settle_assumed(Settler *settler)
{
    Finding *advice = settler->outcome->findings;
    while (advice != NULL && !(advice->rule->of_assumptions && advice->verdict == VERDICT_BROKEN && advice->waiver == NULL)) {
        advice = advice->next;
    }
    if (advice == NULL) {
        return;
    }
    Scale *scale = ARENA_NEW(settler->outcome->arena, Scale);
    scale->settler = settler;
    for (const Finding *f = settler->outcome->findings; f != NULL; f = f->next) {
        bool counts = f->severity == SEVERITY_FAULT || f->subject->kind == KIND_GOAL;
        if (f->verdict != VERDICT_BROKEN || f->waiver != NULL || !counts || f->assumed == NULL) {
            continue;
        }
        bool rests = false;
        for (const Depend *what = f->assumed; what != NULL && settler->work > 0; what = what->next) {
            rests = weigh(scale, f, what) || rests;
        }
        if (rests && scale->mended < PLACES_MOST) {
            scale->first[scale->mended] = f;
        }
        scale->broken++;
        scale->mended += rests;
    }
    if (scale->mended > 0) {
        tell(scale, advice);
    } else if (settler->work > 0) {
        withdraw(settler->outcome, advice);
    } /* else there was too much to try, and the rule has said what they go by */
}
