/*
 * Memory of one compilation.
 *
 * Everything a compilation makes (tree, model, figures, findings, texts) lives in one arena and is freed
 * whole. There is no free by kind. What one step needs for itself lives in an arena within that one, which is handed
 * out again to the next step. When the allocator has no more memory, the arena jumps to the place that
 * its owner set up (see library.c): the code in between never checks an allocation.
 */
#ifndef GARBOARD_BASE_ARENA_H
#define GARBOARD_BASE_ARENA_H

#include <setjmp.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Where memory comes from. `allocate` may return NULL: the arena then jumps. */
typedef struct Allocator {
    void *(*allocate)(void *context, size_t size);
    void (*release)(void *context, void *memory);
    void *context;
} Allocator;

typedef struct ArenaBlock ArenaBlock;

typedef struct Arena {
    Allocator allocator;
    ArenaBlock *newest;   /* blocks, newest first */
    char *at;             /* next free byte of the newest block */
    char *end;            /* one past its last byte */
    bool dirty;           /* what is left of it need not be zero */
    jmp_buf *on_failure;  /* where to go when memory runs out; never NULL while allocating */
    size_t next_block;    /* size of the next block; doubles up to a limit */
    size_t most_sharing;  /* a greater allocation gets a block of its own */
    struct Arena *scratch; /* see arena_scratch; NULL: nobody asked yet */
} Arena;

/** The C library's own allocator. */
Allocator allocator_standard(void);

/** Makes an empty arena; nothing is allocated yet. */
void arena_init(Arena *arena, Allocator allocator, jmp_buf *on_failure);

/**
 * Makes an empty arena that takes its blocks out of another one and is freed with it. For what is wanted for a moment
 * only: see arena_rewind. The first block is the least of 16 KiB, 32 KiB ... up to 4 MiB with room for `expected` bytes:
 * one that is too small is outgrown, one that is too large costs the system's clearing it.
 */
void arena_init_within(Arena *arena, Arena *around, size_t expected);

/**
 * Forgets all that was allocated: the newest block is handed out again, other large ones go back to the allocator. Only for
 * an arena within another one.
 */
void arena_rewind(Arena *arena);

/**
 * The one arena within it for what is wanted for a moment. Who uses it leaves nothing there: he rewinds it before he
 * returns. `expected` is what the first who asks says of all.
 */
Arena *arena_scratch(Arena *arena, size_t expected);

/** Gives all memory back; the arena is empty afterwards and may be used again. */
void arena_free(Arena *arena);

/* Enough for pointers, doubles and 64-bit numbers. Nothing that is kept needs more, and half of what is kept is small. */
enum { ARENA_ALIGNMENT = 8 };

/** As arena_alloc, of which it is the longer way. */
void *arena_alloc_slowly(Arena *arena, size_t size);

static inline size_t arena_room(const Arena *arena)
{
    return (size_t)((uintptr_t)arena->end - (uintptr_t)arena->at);
}

static inline size_t arena_rounded(size_t size)
{
    return (size + (ARENA_ALIGNMENT - 1)) & ~(size_t)(ARENA_ALIGNMENT - 1);
}

/** `size` zeroed bytes, aligned to ARENA_ALIGNMENT. Never NULL. */
static inline void *arena_alloc(Arena *arena, size_t size)
{
    /* The first comparison finds both what does not fit and size 0. The room is a multiple of the alignment,
     * so what fits still fits when rounded up. */
    if (size - 1 >= arena_room(arena) || size > arena->most_sharing || arena->dirty) {
        return arena_alloc_slowly(arena, size);
    }
    char *memory = arena->at;
    arena->at += arena_rounded(size);
    return memory;
}

/**
 * Makes `old` (of old_size bytes, from this arena, or NULL) at least new_size bytes long. Extends in place
 * where it is the last thing allocated, else copies. The added bytes are zero.
 */
void *arena_grow(Arena *arena, void *old, size_t old_size, size_t new_size);

#define ARENA_NEW(arena, Type) ((Type *)arena_alloc((arena), sizeof(Type)))
#define ARENA_ARRAY(arena, Type, count) ((Type *)arena_alloc((arena), sizeof(Type) * (size_t)(count)))

#endif
