/*
 * Walking the statements of a spec, file by file in the order of reading.
 */
#ifndef GARBOARD_MODEL_WALK_H
#define GARBOARD_MODEL_WALK_H

#include "model/build.h"

/** Where a walk is: a statement of the outermost level of some file. */
typedef struct Walk {
    const Spec *spec;
    uint32_t file;
    NodeId next;
} Walk;

Walk walk_begin(const Spec *spec);
/** The next outermost statement that is not a comment; 0 at the end. */
NodeId walk_next(Walk *walk);

/** The next statement of a block after `previous` (0: the first) that is no comment; 0 at the end. */
NodeId walk_block(const Tree *tree, NodeId owner, NodeId previous);

#endif
