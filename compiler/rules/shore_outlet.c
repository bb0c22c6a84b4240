/*
 * Outlets in wet spaces: what guards them against leakage, on every way of power to them.
 */
#include "rules/shore.h"

#include "figures/water.h"

static const UnitPair milliamperes = {UNIT_MA, UNIT_NONE};

/* outlet-leakage */

/* What guards a thing on all ways to it: the nearest device on each. */
typedef struct Guard {
    const Entity *where; /* one of them; NULL if there is none */
    Interval opens;      /* the greatest of them */
    bool bare;           /* some way has none */
    const Entity *blind; /* an inlet whose device stands before its transformer; NULL: none */
} Guard;

static void join_guard(Guard *guard, const Guard *more)
{
    guard->bare = guard->bare || more->bare;
    guard->blind = guard->blind != NULL ? guard->blind : more->blind;
    if (more->where != NULL) {
        guard->opens = guard->where != NULL ? interval_max(guard->opens, more->opens) : more->opens;
        guard->where = guard->where != NULL ? guard->where : more->where;
    }
}

static Guard guard_of(const Judge *judge, const Guard *guards, const Entity *thing)
{
    Guard guard = {.bare = false};
    bool states = entity_states(thing, PROP_FEED_GROUND_FAULT);
    guard.blind = states && has_transformer(thing) ? thing : NULL; /* what leaks behind it returns to it */
    if (states && guard.blind == NULL) {
        guard.where = thing;
        guard.opens = side_value(judge, thing, PROP_FEED_GROUND_FAULT, 0).value;
        return guard;
    }
    bool source = thing->kind == KIND_INLET || thing->kind == KIND_INVERTER || thing->fed == NULL;
    guard.bare = source || guards[thing->index].bare; /* set before: something that makes power feeds it */
    for (const Feed *feed = source ? NULL : thing->fed; feed != NULL; feed = feed->next) {
        if (is_aboard(feed->giver)) {
            join_guard(&guard, &guards[feed->giver->index]);
        }
    }
    return guard;
}

static const Guard *all_guards(const Judge *judge)
{
    const Model *model = judge->model;
    Guard *guards = ARENA_ARRAY(judge->scratch, Guard, model->entity_count + 1);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (model->feeds[i]->maker) {
            guards[model->feeds[i]->taker->index].bare = true;
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        guards[thing->index] = guard_of(judge, guards, thing);
    }
    return guards;
}

/* The thing whose line would say it: the circuit that an outlet hangs on, else the outlet. */
static const Entity *holder_of(const Entity *outlet)
{
    const Feed *feed = outlet->fed;
    return feed != NULL && feed->shares && feed->giver != NULL ? feed->giver : outlet;
}

/* A space for machinery counts with the wet ones. */
static const char *kind_of_wet(const Judge *judge, const Entity *outlet)
{
    const Entity *space = entity_reference(outlet, PROP_COMMON_SPACE);
    return space != NULL && entity_yes(space, PROP_SPACE_WET) != 1 && is_machinery_space(judge->model, space) ? "machinery" : "wet";
}

/*
 * One in a wet space, whose device opens too late. Where that stands further up it guards other things too, which would trip at
 * so little: the outlet gets one of its own.
 */
static void judge_late(Judge *judge, const Entity *outlet, const Entity *where, Side opens, Side limit)
{
    const Entity *holder = holder_of(outlet);
    bool own = where == holder || where == outlet;
    Span stated = place_of(judge, where, PROP_FEED_GROUND_FAULT);
    Finding *f = judge_at_most(judge, outlet, own ? stated : place_of_name(judge, outlet), opens, limit);
    if (f == NULL) {
        return;
    }
    finding_say(judge, f, "`%s` is in a %s space (`%s`), and its circuit opens when %s leak; it has to open at %s", say_name(judge, outlet),
                kind_of_wet(judge, outlet), say_name(judge, entity_reference(outlet, PROP_COMMON_SPACE)), say_side(judge, opens), say_side(judge, limit));
    if (own) {
        finding_note(judge, f, place_of_name(judge, outlet), "the outlet");
        finding_remedy(judge, f, "ground-fault %s", say_side(judge, limit));
    } else {
        finding_note(judge, f, stated, "this guards it, and all that hangs on `%s`", say_name(judge, where));
        finding_remedy(judge, f, "`ground-fault %s` on `%s`", say_side(judge, limit), say_name(judge, holder));
    }
}

/* An outlet that is not guarded well enough, where it is not known to be dry. */
static void judge_bad_guard(Judge *judge, const Entity *outlet, const Guard *guard, Side opens, Side limit)
{
    const char *name = say_name(judge, outlet);
    const char *most = say_side(judge, limit);
    const Entity *space = entity_reference(outlet, PROP_COMMON_SPACE);
    bool machinery = space != NULL && is_machinery_space(judge->model, space); /* `wet no` does not undo that */
    int wet = machinery                                  ? 1
              : space != NULL                              ? entity_yes(space, PROP_SPACE_WET)
              : entity_states(outlet, PROP_COMMON_SPACE) ? -2
                                                         : -1;
    Finding *f;
    if (wet == -2) {
        judge_waiting(judge);
        return;
    }
    if (wet == 0) {
        judge_holds(judge);
        return;
    }
    if (space == NULL) {
        f = judge_open(judge, outlet, place_of_name(judge, outlet), outlet, PROP_COMMON_SPACE);
        finding_say(judge, f,
                    "`%s` does not say in what `space` it is; in a wet one its circuit has to open at %s",
                    name, most);
    } else if (wet == -1) {
        f = judge_open(judge, outlet, place_of(judge, outlet, PROP_COMMON_SPACE), space, PROP_SPACE_WET);
        finding_say(
            judge, f,
            "`%s` is in `%s`, which does not say whether it is `wet`; there its circuit has to open at %s",
            name, say_name(judge, space), most);
        finding_note(judge, f, place_of_name(judge, space), "wet yes, or wet no");
    } else if (guard->blind != NULL) {
        f = judge_open(judge, outlet, place_of_name(judge, outlet), holder_of(outlet), PROP_FEED_GROUND_FAULT);
        finding_say(judge, f, "`%s` is in a %s space (`%s`), and the device of `%s` sees no leak behind the transformer", name,
                    kind_of_wet(judge, outlet), say_name(judge, space), say_name(judge, guard->blind));
        finding_note(judge, f, place_of(judge, guard->blind, PROP_FEED_GROUND_FAULT),
                     "it stands before the transformer: what leaks behind that returns to it");
    } else if (guard->bare || guard->where == NULL) {
        f = judge_open(judge, outlet, place_of_name(judge, outlet), holder_of(outlet),
                       PROP_FEED_GROUND_FAULT);
        finding_say(judge, f,
                    "`%s` is in a %s space (`%s`), and not every way of power to it states `ground-fault`",
                    name, kind_of_wet(judge, outlet), say_name(judge, space));
    } else {
        judge_late(judge, outlet, guard->where, opens, limit);
        return;
    }
    finding_remedy(judge, f, "ground-fault %s", most);
}

static void judge_outlet(Judge *judge, const Guard *guards, const Entity *outlet)
{
    const Guard *guard = &guards[outlet->index];
    Side limit = side_number(judge->basis == BASIS_US ? 0.005 : 0.030, milliamperes);
    Side opens = {.state = STATE_MISSING};
    if (guard->where != NULL) {
        opens = side_value(judge, guard->where, PROP_FEED_GROUND_FAULT, 0);
        opens.value = guard->opens;
    }
    if (opens.state == STATE_WAITING || outlet->flags & ENTITY_LOOP) {
        judge_waiting(judge);
    } else if (!guard->bare && ask_at_least(limit, opens) == ANSWER_YES) {
        judge_holds(judge);
    } else {
        judge_bad_guard(judge, outlet, guard, opens, limit);
    }
}

void judge_outlet_leakage(Judge *judge)
{
    if (judge->model->first_of_kind[KIND_OUTLET] == NULL) {
        return;
    }
    const Guard *guards = all_guards(judge);
    for (const Entity *e = judge->model->first_of_kind[KIND_OUTLET]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e) && e->flags & ENTITY_AC) {
            judge_outlet(judge, guards, e);
        }
    }
}
