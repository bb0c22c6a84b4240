/*
 * Walking the statements of a spec, file by file in the order of reading.
 */
#ifndef GARBOARD_MODEL_WALK_H
#define GARBOARD_MODEL_WALK_H

#include "model/build.h"

/** Lists the outermost statements of a file after those of the files before it: those of things, and the few others. */
void walk_list(Spec *spec, Arena *arena, NodeId file);

/** Where a walk is in one of those lists. */
typedef struct Walk {
    const Outermost *list;
    uint32_t next;
} Walk;

/** Over every outermost statement, comments left out. */
Walk walk_begin(const Spec *spec);
/** Over those that are no things: editions, includes, parts, choices, waivers, and what is misplaced. */
Walk walk_others(const Spec *spec);
/** The next statement of a walk; 0 at the end. */
NodeId walk_next(Walk *walk);

/** The next statement of a block after `previous` (0: the first) that is no comment; 0 at the end. */
static inline NodeId walk_block(const Tree *tree, NodeId owner, NodeId previous)
{
    NodeId id = previous == 0 ? tree_node(tree, owner)->u.child : tree_node(tree, previous)->next;
    while (id != 0 && tree_kind(tree, id) == NODE_COMMENT) {
        id = tree_node(tree, id)->next;
    }
    return id;
}

#endif
