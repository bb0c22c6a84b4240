/* See walk.h. */
#include "model/walk.h"

static void list_add(Arena *arena, Outermost *list, NodeId id)
{
    if (list->count == list->capacity) {
        uint32_t capacity = list->capacity ? list->capacity * 2 : 64;
        list->statements = arena_grow(arena, list->statements, list->capacity * sizeof(NodeId), capacity * sizeof(NodeId));
        list->capacity = capacity;
    }
    list->statements[list->count++] = id;
}

void walk_list(Spec *spec, Arena *arena, NodeId file)
{
    NodeId first = tree_node(&spec->tree, file)->u.child;
    for (NodeId id = first; id != 0; id = tree_node(&spec->tree, id)->next) {
        NodeKind kind = tree_kind(&spec->tree, id);
        if (kind == NODE_COMMENT) {
            continue;
        }
        list_add(arena, &spec->outermost, id);
        if (kind != NODE_THING) {
            list_add(arena, &spec->others, id);
        }
    }
}

Walk walk_begin(const Spec *spec)
{
    return (Walk){.list = &spec->outermost};
}

Walk walk_others(const Spec *spec)
{
    return (Walk){.list = &spec->others};
}

NodeId walk_next(Walk *walk)
{
    return walk->next < walk->list->count ? walk->list->statements[walk->next++] : 0;
}
