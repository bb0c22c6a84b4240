/*
 * What hangs on a source of alternating current, by whatever way, and what of it to switch off so that the rest fits.
 */
#include "figures/power_mains.h"

#include <math.h>

/* Walking down from a source */

typedef struct Walk {
    Power *power;
    Behind *last;
    uint32_t number; /* of this walk: marks the nodes that it has been at */
} Walk;

static void walk_to(Walk *walk, const Entity *entity, double share, bool on_outlet)
{
    PowerNode *node = power_node(walk->power, entity);
    if (node->walk == walk->number || entity->flags & (ENTITY_DROPPED | ENTITY_LOOP)) {
        return;
    }
    node->walk = walk->number;
    Behind *behind = ARENA_NEW(walk->power->work->scratch, Behind);
    *behind = (Behind){.entity = entity, .share = share, .on_outlet = on_outlet};
    walk->last->next = behind;
    walk->last = behind;
}

static double share_together(const Entity *entity)
{
    PropId together = power_together_prop(entity);
    const Value *value = together != PROP_NONE ? property_value(entity_property(entity, together), 0) : NULL;
    return value != NULL && value->kind == VALUE_QUANTITY && isfinite(value->u.quantity.high) ? value->u.quantity.high : 1.0;
}

static void walk_on(Walk *walk, const Behind *from)
{
    for (const Feed *feed = from->entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!feed->maker || feed->giver->kind == KIND_INVERTER || feed->giver->kind == KIND_GENERATOR) {
            walk_to(walk, feed->taker, from->share * share_together(feed->taker),
                    from->on_outlet || from->entity->kind == KIND_OUTLET);
        }
    }
    for (const Entity *inverter = walk->power->model->first_of_kind[KIND_INVERTER]; inverter != NULL;
         inverter = inverter->next_of_kind) {
        if (entity_reference(inverter, PROP_INVERTER_PASSES) == from->entity) {
            walk_to(walk, inverter, from->share, false);
        }
    }
}

/* Everything that hangs on a source, the nearest first; what turns mains into something else ends the way. */
const Behind *mains_behind(Power *power, const Entity *source)
{
    Behind head = {.entity = source, .share = 1.0};
    Walk walk = {.power = power, .last = &head, .number = ++power->walks};
    power_node(power, source)->walk = walk.number;
    walk_on(&walk, &head);
    for (const Behind *at = head.next; at != NULL; at = at->next) {
        if (at->entity->kind == KIND_INVERTER || !turns_power(at->entity)) {
            walk_on(&walk, at);
        }
    }
    return head.next;
}

/* A thing behind a source that draws by itself: its current, all of them; false for what only hands on. */
bool draws_mains(const Power *power, const Entity *entity, Interval *current)
{
    const PowerNode *node = power_node(power, entity);
    bool hands_on = entity->kind == KIND_CIRCUIT || entity->kind == KIND_PANEL || entity->kind == KIND_BUS ||
                    entity->kind == KIND_SWITCH || entity->kind == KIND_OUTLET || entity->kind == KIND_INVERTER;
    if (hands_on || node->current == NULL || node->current->state != STATE_KNOWN) {
        return false;
    }
    *current = (Interval){node->current->low, node->current->high};
    return true;
}

/* What to switch off */

enum { MOST_OFF = 4 }; /* more than that is no plan */

typedef struct Off {
    const Entity *thing[MOST_OFF];
    unsigned count;
    double spared_a;
    double last_a; /* draw of the one added last */
} Off;

static bool is_off(const Off *off, const Entity *thing)
{
    for (unsigned i = 0; i < off->count; i++) {
        if (off->thing[i] == thing) {
            return true;
        }
    }
    return false;
}

/* The next to go: the smallest that makes it fit, else the largest. */
static bool switch_off_one(const Power *power, const Behind *behind, double excess_a, Off *off)
{
    const Entity *best = NULL;
    double best_a = 0.0;
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (!draws_mains(power, at->entity, &current) || is_off(off, at->entity)) {
            continue;
        }
        double spares = current.low * at->share;
        bool enough = spares >= excess_a - off->spared_a;
        bool best_enough = best != NULL && best_a >= excess_a - off->spared_a;
        if (spares > 0.0 && (enough ? !best_enough || spares < best_a : !best_enough && spares > best_a)) {
            best = at->entity;
            best_a = spares;
        }
    }
    if (best == NULL) {
        return false;
    }
    off->thing[off->count++] = best;
    off->spared_a += best_a;
    off->last_a = best_a;
    return true;
}

/* One that is left alone may be too much: a `together` upstream spares none of it. */
static bool leaves_too_large(const Power *power, const Behind *behind, const Off *off, double rating_a)
{
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (draws_mains(power, at->entity, &current) && power_node(power, at->entity)->flow.one.high > rating_a &&
            !is_off(off, at->entity)) {
            return true;
        }
    }
    return false;
}

/* With all of it off everything fits: that is no plan either. */
static bool leaves_any(const Power *power, const Behind *behind, const Off *off)
{
    for (const Behind *at = behind; at != NULL; at = at->next) {
        Interval current;
        if (draws_mains(power, at->entity, &current) && current.high > 0.0 && !is_off(off, at->entity)) {
            return true;
        }
    }
    return false;
}

/* "it fits with `boiler` and `kettle` off", or NULL where a few things do not do it. */
const char *what_to_switch_off(Power *power, const Entity *source, double rating_a, double excess_a)
{
    Off off = {.count = 0};
    const Behind *behind = mains_behind(power, source);
    while (off.spared_a < excess_a) {
        if (off.count == MOST_OFF || !switch_off_one(power, behind, excess_a, &off)) {
            return NULL;
        }
    }
    if (!leaves_any(power, behind, &off) || leaves_too_large(power, behind, &off, rating_a)) {
        return NULL;
    }
    Buf text;
    buf_init(&text, power->work->figures->arena);
    buf_text(&text, "it fits with ");
    for (unsigned i = 0; i < off.count; i++) {
        buf_format(&text, "%s`%.*s`", i == 0 ? "" : i + 1 == off.count ? " and " : ", ",
                   STR_ARG(entity_name(power->model, off.thing[i])));
    }
    buf_text(&text, " off");
    return text.text;
}
