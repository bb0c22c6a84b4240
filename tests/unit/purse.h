/*
 * An allocator that gives so many pieces of memory and no more, and counts those that have not come back.
 */
#ifndef GARBOARD_TESTS_PURSE_H
#define GARBOARD_TESTS_PURSE_H

#include <stdlib.h>

typedef struct Purse {
    int left; /* allocations until there is no more */
    int alive;
} Purse;

static inline void *purse_allocate(void *context, size_t size)
{
    Purse *purse = context;
    if (purse->left-- <= 0) {
        return NULL;
    }
    void *memory = malloc(size);
    purse->alive += memory != NULL;
    return memory;
}

static inline void purse_release(void *context, void *memory)
{
    ((Purse *)context)->alive -= memory != NULL;
    free(memory);
}

#endif
