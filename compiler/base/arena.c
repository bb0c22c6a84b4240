/*
 * The arena: bump allocation out of blocks.
 *
 * Knows the allocator and nothing of what is stored. An allocation that is large beside the blocks gets one
 * of its own: the rest of the current block stays in use, and growing it can give the old block back, so
 * that a table that doubles does not leave its former selves behind.
 */
#if defined(__linux__) && !defined(_DEFAULT_SOURCE)
#define _DEFAULT_SOURCE /* anonymous mappings and madvise, besides POSIX */
#endif

#include "base/arena.h"

#include <stdalign.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#ifdef __linux__
#include <sys/mman.h>
#endif

enum {
    FIRST_BLOCK = 2 * 1024 * 1024 - 256, /* with its heads it fills one large page: one fault for a small spec */
    LAST_BLOCK = 4 * 1024 * 1024 - 256, /* with its heads it fills two large pages */
    LEAST_WITHIN = 16 * 1024,
    LAST_WITHIN = 4 * 1024 * 1024,
    LARGE_PAGE = 2 * 1024 * 1024,
    MAPPED_FROM = 1024 * 1024, /* the standard allocator maps pieces of this size and more */
    MOST_SHARING = 512 * 1024 /* a greater allocation gets a block of its own */
};

struct ArenaBlock {
    alignas(ARENA_ALIGNMENT) ArenaBlock *older;
    size_t alone; /* bytes of the one allocation that owns this block; 0 where many share it */
};

/*
 * The standard allocator. Small pieces come from calloc, because the pages of a fresh block are zero already and need not
 * be touched before use. Large ones are mapped, and the system is asked for large pages: a big spec spends a fifth of
 * its time on the faults of small ones.
 */
typedef struct Piece {
    alignas(ARENA_ALIGNMENT) size_t mapped; /* bytes of the mapping; 0: from calloc */
} Piece;

#if defined(MAP_ANONYMOUS) && defined(MADV_HUGEPAGE)
static Piece *map_piece(size_t size)
{
    /* More than is wanted, so that it can begin where a large page does; what stands over goes back. */
    size_t whole = (size + 4095) & ~(size_t)4095;
    size_t end = whole % LARGE_PAGE;
    if (end > LARGE_PAGE - LARGE_PAGE / 8) {
        whole += LARGE_PAGE - end; /* only whole ones are large */
    }
    char *memory = mmap(NULL, whole + LARGE_PAGE, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (memory == MAP_FAILED) {
        return NULL;
    }
    size_t before = (LARGE_PAGE - (uintptr_t)memory % LARGE_PAGE) % LARGE_PAGE;
    if (before > 0) {
        munmap(memory, before);
    }
    if (before < LARGE_PAGE) {
        munmap(memory + before + whole, LARGE_PAGE - before);
    }
    Piece *piece = (Piece *)(void *)(memory + before);
    madvise(piece, whole, MADV_HUGEPAGE); /* a wish: where it is not granted, small pages do */
    piece->mapped = whole;
    return piece;
}

static void unmap_piece(Piece *piece)
{
    munmap(piece, piece->mapped);
}
#else
static Piece *map_piece(size_t size)
{
    return calloc(1, size);
}

static void unmap_piece(Piece *piece)
{
    free(piece);
}
#endif

static void *standard_allocate(void *context, size_t size)
{
    (void)context;
    if (size > SIZE_MAX - sizeof(Piece)) {
        return NULL;
    }
    size_t whole = size + sizeof(Piece);
    Piece *piece = whole >= MAPPED_FROM ? map_piece(whole) : calloc(1, whole);
    return piece != NULL ? piece + 1 : NULL;
}

static void standard_release(void *context, void *memory)
{
    (void)context;
    if (memory == NULL) {
        return;
    }
    Piece *piece = (Piece *)memory - 1;
    if (piece->mapped > 0) {
        unmap_piece(piece);
    } else {
        free(piece);
    }
}

Allocator allocator_standard(void)
{
    return (Allocator){standard_allocate, standard_release, NULL};
}

void arena_init(Arena *arena, Allocator allocator, jmp_buf *on_failure)
{
    *arena = (Arena){.allocator = allocator,
                     .on_failure = on_failure,
                     .next_block = FIRST_BLOCK,
                     .most_sharing = MOST_SHARING};
}

static void *allocate_within(void *context, size_t size)
{
    return arena_alloc(context, size);
}

/* Gives back the block that `old` has to itself, if it has. */
static void release_alone(Arena *arena, const void *old)
{
    for (ArenaBlock **link = &arena->newest; *link; link = &(*link)->older) {
        ArenaBlock *block = *link;
        if (block->alone && block + 1 == old) {
            *link = block->older;
            arena->allocator.release(arena->allocator.context, block);
            return;
        }
    }
}

/* A large block is one of its own in the arena around it, and goes back; a small one goes with that arena. */
static void release_within(void *context, void *memory)
{
    release_alone(context, memory);
}

void arena_init_within(Arena *arena, Arena *around, size_t expected)
{
    size_t block = LEAST_WITHIN;
    while (block < expected && block < LAST_WITHIN) {
        block *= 2;
    }
    arena_init(arena, (Allocator){allocate_within, release_within, around}, around->on_failure);
    arena->next_block = block - LEAST_WITHIN / 256; /* doubled, and with the heads, it still fills large pages */
    arena->most_sharing = SIZE_MAX / 4; /* all of it goes at once: the more lies in one block, the more is handed out again */
}

Arena *arena_scratch(Arena *arena, size_t expected)
{
    if (arena->scratch == NULL) {
        Arena *scratch = ARENA_NEW(arena, Arena);
        arena_init_within(scratch, arena, expected);
        arena->scratch = scratch;
    }
    return arena->scratch;
}

void arena_rewind(Arena *arena)
{
    ArenaBlock *kept = NULL; /* the newest that many share: no other is larger, and `end` is its end */
    ArenaBlock *block = arena->newest;
    while (block != NULL) {
        ArenaBlock *older = block->older;
        if (kept == NULL && !block->alone) {
            kept = block;
        } else {
            arena->allocator.release(arena->allocator.context, block);
        }
        block = older;
    }
    arena->newest = kept;
    if (kept != NULL) {
        kept->older = NULL;
        arena->at = (char *)(kept + 1);
        arena->dirty = true;
    } else {
        arena->at = arena->end = NULL;
    }
}

void arena_free(Arena *arena)
{
    ArenaBlock *block = arena->newest;
    while (block) {
        ArenaBlock *older = block->older;
        arena->allocator.release(arena->allocator.context, block);
        block = older;
    }
    arena_init(arena, arena->allocator, arena->on_failure);
}

/* The standard allocator gives zeroed memory, as arenas do; others promise nothing. */
static bool gives_zeroes(const Arena *arena)
{
    return arena->allocator.allocate == standard_allocate || arena->allocator.allocate == allocate_within;
}

static void *zeroed(void *memory, size_t size, bool dirty)
{
    if (dirty) {
        memset(memory, 0, size);
    }
    return memory;
}

static ArenaBlock *new_block(Arena *arena, size_t size)
{
    ArenaBlock *block = arena->allocator.allocate(arena->allocator.context, size);
    if (!block) {
        longjmp(*arena->on_failure, 1);
    }
    block->older = NULL;
    block->alone = 0;
    return block;
}

/* Goes behind the newest block, which stays the one that at and end point into. */
static void *alloc_alone(Arena *arena, size_t size)
{
    if (size > SIZE_MAX / 2) {
        longjmp(*arena->on_failure, 1);
    }
    ArenaBlock *block = new_block(arena, sizeof(ArenaBlock) + size);
    block->alone = size;
    if (arena->newest) {
        block->older = arena->newest->older;
        arena->newest->older = block;
    } else {
        arena->newest = block;
    }
    return zeroed(block + 1, size, !gives_zeroes(arena));
}

/* One with room for `wanted`: the first of an arena within another one may be smaller than what shares blocks. */
static void start_block(Arena *arena, size_t wanted)
{
    while (arena->next_block < sizeof(ArenaBlock) + arena_rounded(wanted)) {
        arena->next_block *= 2;
    }
    ArenaBlock *block = new_block(arena, arena->next_block);
    block->older = arena->newest;
    arena->newest = block;
    arena->at = (char *)(block + 1);
    arena->end = (char *)block + arena->next_block;
    arena->dirty = !gives_zeroes(arena);
    if (arena->next_block < LAST_BLOCK) {
        arena->next_block = arena->next_block * 2 < LAST_BLOCK ? arena->next_block * 2 : LAST_BLOCK;
    }
}

void *arena_alloc_slowly(Arena *arena, size_t size)
{
    size_t wanted = size ? size : 1;
    if (wanted > arena->most_sharing) {
        return alloc_alone(arena, wanted);
    }
    if (wanted > arena_room(arena)) {
        start_block(arena, wanted);
    }
    char *memory = arena->at;
    arena->at += arena_rounded(wanted);
    return zeroed(memory, wanted, arena->dirty);
}

static bool grows_in_place(const Arena *arena, const char *old, size_t old_size, size_t new_size)
{
    size_t extra = arena_rounded(old_size ? old_size : 1);
    if ((uintptr_t)old + extra != (uintptr_t)arena->at) {
        return false;
    }
    uintptr_t start = (uintptr_t)(arena->newest + 1); /* a block of its own may end where this one begins */
    return (uintptr_t)old >= start && new_size <= (size_t)((uintptr_t)arena->end - (uintptr_t)old);
}

void *arena_grow(Arena *arena, void *old, size_t old_size, size_t new_size)
{
    if (!old) {
        return arena_alloc(arena, new_size);
    }
    if (new_size <= old_size) {
        return old;
    }
    if (grows_in_place(arena, old, old_size, new_size)) {
        arena->at = (char *)old + arena_rounded(new_size);
        zeroed((char *)old + old_size, new_size - old_size, arena->dirty);
        return old;
    }
    void *grown = arena_alloc(arena, new_size);
    memcpy(grown, old, old_size);
    if (old_size > arena->most_sharing) {
        release_alone(arena, old);
    }
    return grown;
}
