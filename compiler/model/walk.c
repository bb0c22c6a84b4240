/* See walk.h. */
#include "model/walk.h"

static NodeId skip_comments(const Tree *tree, NodeId id)
{
    while (id != 0 && tree_kind(tree, id) == NODE_COMMENT) {
        id = tree_node(tree, id)->next;
    }
    return id;
}

Walk walk_begin(const Spec *spec)
{
    Walk walk = {.spec = spec};
    if (spec->file_count > 0) {
        walk.next = tree_node(&spec->tree, spec->files[0])->u.child;
    }
    return walk;
}

NodeId walk_next(Walk *walk)
{
    const Spec *spec = walk->spec;
    NodeId found = skip_comments(&spec->tree, walk->next);
    while (found == 0) {
        if (walk->file + 1 >= spec->file_count) {
            walk->next = 0;
            return 0;
        }
        walk->file++;
        found = skip_comments(&spec->tree, tree_node(&spec->tree, spec->files[walk->file])->u.child);
    }
    walk->next = tree_node(&spec->tree, found)->next;
    return found;
}

NodeId walk_block(const Tree *tree, NodeId owner, NodeId previous)
{
    NodeId id = previous == 0 ? tree_node(tree, owner)->u.child : tree_node(tree, previous)->next;
    return skip_comments(tree, id);
}
