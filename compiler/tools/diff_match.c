/*
 * Which thing of the old spec is which of the new one.
 *
 * In the boat a thing is known by its name, wherever it stands; `was OLD-NAME` follows it through a renaming.
 * In options that are not the boat's it is known by choice, option and name. A spec has one boat, so that one
 * is followed whatever it is called. Knows names and options; compares no property.
 */
#include "tools/diff_parts.h"

/* Names */

static void hang_on_names(Arena *arena, DiffSide *side)
{
    side->symbol_count = symbols_end(side_symbols(side));
    side->by_name = ARENA_ARRAY(arena, DiffThing *, side->symbol_count);
    side->other = ARENA_ARRAY(arena, Symbol, side->symbol_count);
    for (uint32_t i = side->thing_count; i-- > 0;) {
        DiffThing *thing = side->things[i];
        if (!thing->set) {
            thing->next_of_name = side->by_name[thing->entity->name];
            side->by_name[thing->entity->name] = thing;
        }
    }
}

/* The symbol of a name if a thing of that spec has it, else 0. */
static Symbol thing_symbol(const DiffSide *side, Str name)
{
    Symbol symbol = symbols_find(side_symbols(side), name);
    return symbol != 0 && symbol < side->symbol_count && side->by_name[symbol] != NULL ? symbol : 0;
}

static void join_names(Diff *diff, Symbol before, Symbol after)
{
    if (before != 0 && after != 0 && diff->before.other[before] == 0 && diff->after.other[after] == 0) {
        diff->before.other[before] = after;
        diff->after.other[after] = before;
    }
}

static const Entity *boat_of(const DiffSide *side)
{
    return side->model_count > 0 ? side->models[0]->boat : NULL;
}

/* Whether the old thing of that name says the same `was`: the renaming is older than both specs. */
static bool is_old_news(const DiffSide *before, Str name, Str was)
{
    Symbol symbol = thing_symbol(before, name);
    for (const DiffThing *t = symbol != 0 ? before->by_name[symbol] : NULL; t != NULL; t = t->next_of_name) {
        if (entity_was(t->model, t->entity, was)) {
            return true;
        }
    }
    return false;
}

/* By the last of its older names that the old spec has; where it knew of one, those before that are older than both. */
static void join_renamed(Diff *diff)
{
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        const DiffThing *thing = diff->after.things[i];
        Str name = entity_name(thing->model, thing->entity), was = entity_old_name(thing->model, thing->entity, 0);
        for (unsigned n = 1; was.length > 0 && !thing->set && !is_old_news(&diff->before, name, was); n++) {
            join_names(diff, thing_symbol(&diff->before, was), thing->entity->name);
            was = entity_old_name(thing->model, thing->entity, n);
        }
    }
}

static void join_equal(Diff *diff)
{
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        const DiffThing *thing = diff->after.things[i];
        if (!thing->set) {
            join_names(diff, thing_symbol(&diff->before, entity_name(thing->model, thing->entity)),
                       thing->entity->name);
        }
    }
}

Symbol name_after(const Diff *diff, Symbol before)
{
    return before < diff->before.symbol_count ? diff->before.other[before] : 0;
}

/* Things */

DiffThing *side_boat_thing(const DiffSide *side, Symbol name)
{
    for (DiffThing *t = name < side->symbol_count ? side->by_name[name] : NULL; t != NULL;
         t = t->next_of_name) {
        if (t->in_boat) {
            return t;
        }
    }
    return NULL;
}

static void join_things(DiffThing *before, DiffThing *after)
{
    if (before != NULL && after != NULL && before->partner == NULL && after->partner == NULL) {
        before->partner = after;
        after->partner = before;
    }
}

static void join_in_boat(Diff *diff)
{
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        DiffThing *thing = diff->after.things[i];
        if (thing->in_boat) {
            join_things(side_boat_thing(&diff->before, diff->after.other[thing->entity->name]), thing);
        }
    }
}

/* In an option that the boat of its spec does not take. */
static bool is_left_out(const DiffThing *thing)
{
    return !thing->in_boat && !thing->option->open;
}

static void join_settings(Diff *diff, DiffThing *after)
{
    Symbol name = diff->after.other[after->entity->name];
    for (uint32_t i = 0; i < diff->before.thing_count && after->partner == NULL; i++) {
        DiffThing *t = diff->before.things[i];
        if (t->set && t->entity->name == name && t->option->partner == after->option) {
            join_things(t, after);
        }
    }
}

/* By choice, option and name; but what has come into the boat, or left it, is not what it was. */
static void join_in_option(Diff *diff, DiffThing *after)
{
    Symbol name = diff->after.other[after->entity->name];
    for (DiffThing *t = diff->before.by_name[name]; t != NULL; t = t->next_of_name) {
        bool moved = (after->in_boat && is_left_out(t)) || (t->in_boat && is_left_out(after));
        if (t->option != NULL && t->option->partner == after->option && !moved) {
            join_things(t, after);
        }
    }
}

void diff_match(Diff *diff)
{
    hang_on_names(diff->arena, &diff->before);
    hang_on_names(diff->arena, &diff->after);
    const Entity *before = boat_of(&diff->before);
    const Entity *after = boat_of(&diff->after);
    join_names(diff, before != NULL ? before->name : 0, after != NULL ? after->name : 0);
    join_renamed(diff);
    join_equal(diff);
    join_in_boat(diff);
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        DiffThing *thing = diff->after.things[i];
        if (thing->option == NULL || diff->after.other[thing->entity->name] == 0) {
            continue;
        }
        if (thing->set) {
            join_settings(diff, thing);
        } else {
            join_in_option(diff, thing);
        }
    }
}
