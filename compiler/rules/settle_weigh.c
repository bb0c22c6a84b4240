/*
 * What an open finding hangs on, by weight: how far each of its inputs moves what the rule compares. The heaviest is named first,
 * and what moves next to nothing is not named, for it cannot matter while the others are undecided. See settle_try.h.
 */
#include "rules/settle_try.h"

#include <math.h>

/* So many are named of one finding. */
enum { NAMED_MOST = 8 };
/* What all that is left out moves together, of what everything does: a choice of this program. */
static const double left_out_share = 0.01;

/* ---- before anything is tried: which of very many ------------------------------------------------------------- */

typedef struct Weighed {
    Depend *depend;
    double moves;
} Weighed;

/* Of one value: at an end of its range, with all else as it is. Unbounded, or where nothing can be tried: as far as can be. */
static double weigh_value(Settler *settler, const Finding *finding, const Depend *depend, const DependValue *of)
{
    const Value *value = property_value(of->property, of->slot);
    double low = value->u.quantity.low, high = value->u.quantity.high, moves = INFINITY;
    if (settler->work == 0 || value->kind != VALUE_QUANTITY || !isfinite(low) || !isfinite(high)) {
        return INFINITY;
    }
    Try try;
    if (try_begin(&try, settler, finding, (Spot){depend->entity, depend->prop, of->property->node, of->slot})) {
        try.asked = 1;
        try_range(&try, high, high);
        moves = try_moved(&try);
    }
    try_end(&try);
    return moves;
}

static double weigh(Settler *settler, const Finding *finding, const Depend *depend)
{
    double moves = depend->values != NULL ? 0.0 : INFINITY;
    for (const DependValue *v = depend->values; v != NULL; v = v->next) {
        moves = fmax(moves, weigh_value(settler, finding, depend, v));
    }
    return moves;
}

/* Behind all that move as much. */
static void put_in_place(Weighed list[], uint32_t *count, Weighed one)
{
    uint32_t at = *count < NAMED_MOST ? (*count)++ : NAMED_MOST;
    for (; at > 0 && list[at - 1].moves < one.moves; at--) {
        if (at < NAMED_MOST) {
            list[at] = list[at - 1];
        }
    }
    if (at < NAMED_MOST) {
        list[at] = one;
    }
}

/* A part of the work that is left, and no more: the rest is for what is told. */
static bool may_weigh(const Settler *settler, uint32_t count)
{
    uint64_t things = settler->outcome->cases[0].model->entity_count + 1u;
    return 4 * count * things <= settler->work;
}

void settle_sift(Settler *settler, Finding *finding)
{
    uint32_t count = 0, kept = 0;
    for (const Depend *d = finding->depends; d != NULL; d = d->next) {
        count++;
    }
    if (count <= NAMED_MOST) {
        return;
    }
    Weighed list[NAMED_MOST];
    bool may = may_weigh(settler, count);
    for (Depend *d = finding->depends; d != NULL; d = d->next) {
        put_in_place(list, &kept, (Weighed){d, may ? weigh(settler, finding, d) : 0.0});
    }
    for (uint32_t i = 0; i < kept; i++) {
        list[i].depend->next = i + 1 < kept ? list[i + 1].depend : NULL;
    }
    finding->depends = list[0].depend;
}

/* ---- after: in order, without those that cannot matter ------------------------------------------------------- */

/* Behind all that move as much: the list stays in the order of the spec where nothing tells them apart. */
static void order_settles(Finding *finding)
{
    Settle *ordered = NULL;
    for (Settle *s = finding->settles, *next; s != NULL; s = next) {
        next = s->next;
        Settle **at = &ordered;
        while (*at != NULL && (*at)->moves >= s->moves) {
            at = &(*at)->next;
        }
        s->next = *at;
        *at = s;
    }
    finding->settles = ordered;
}

/* Of the lightest, so many that all of them together move no more than that share. */
static void drop_light(Finding *finding)
{
    double all = 0.0, light = 0.0;
    uint32_t count = 0, from = 0, i = 0;
    double moves[NAMED_MOST * 4];
    for (const Settle *s = finding->settles; s != NULL && count < NAMED_MOST * 4; s = s->next) {
        moves[count++] = s->moves;
        all += isfinite(s->moves) ? s->moves : 0.0;
    }
    for (from = count; from > 1 && isfinite(moves[from - 1]) && light + moves[from - 1] <= left_out_share * all; from--) {
        light += moves[from - 1];
    }
    for (Settle **at = &finding->settles; *at != NULL; i++) {
        if (i >= from && i < count && (*at)->state == SETTLE_NOT_ALONE) {
            *at = (*at)->next;
        } else {
            at = &(*at)->next;
        }
    }
}

/* What nothing is told of any more, it does not hang on; the rest as what is told of it stands. */
static void order_depends(Finding *finding)
{
    Depend *first = NULL, **end = &first;
    for (const Settle *s = finding->settles; s != NULL; s = s->next) {
        for (Depend **at = &finding->depends; *at != NULL; at = &(*at)->next) {
            if (*at == s->of) {
                *end = *at;
                *at = (*at)->next;
                end = &(*end)->next;
                break;
            }
        }
    }
    *end = NULL;
    finding->depends = first;
}

void settle_weigh(Finding *finding)
{
    if (finding->settles != NULL && finding->settles->next != NULL) {
        order_settles(finding);
        drop_light(finding);
        order_depends(finding);
    }
}
