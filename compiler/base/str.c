/*
 * Views of text, and the table of interned words.
 *
 * The table is open addressing over word numbers. Words sit in chunks that never move, each with its hash,
 * so that growing copies no word and hashes none again. Symbols are numbered in order of first appearance:
 * nothing the compiler writes depends on the hash.
 */
#include "base/str.h"

#include <string.h>

enum {
    CHUNK_BITS = 8,
    CHUNK_WORDS = 1 << CHUNK_BITS,
    FIRST_SLOT_BITS = 8
};

typedef struct Word {
    const char *text;
    size_t length;
    uint64_t hash;
} Word;

struct Symbols {
    Arena *arena;
    Word **chunks;
    size_t chunk_room; /* entries that `chunks` has space for */
    Symbol *slots;     /* 0 is a free slot */
    size_t slot_count; /* a power of two */
    int hash_shift;    /* what a hash is shifted by for the number of a slot */
    Symbol end;
};

Str str_from(const char *text)
{
    return text ? (Str){text, strlen(text)} : (Str){"", 0};
}

int str_compare(Str a, Str b)
{
    size_t shorter = a.length < b.length ? a.length : b.length;
    int order = shorter ? memcmp(a.text, b.text, shorter) : 0;
    if (order != 0) {
        return order;
    }
    return (a.length > b.length) - (a.length < b.length);
}

bool str_starts(Str s, const char *prefix)
{
    size_t length = strlen(prefix);
    return s.length >= length && (length == 0 || memcmp(s.text, prefix, length) == 0);
}

const char *str_copy(Arena *arena, Str s)
{
    char *copy = arena_alloc(arena, s.length + 1);
    if (s.length) {
        memcpy(copy, s.text, s.length);
    }
    return copy;
}

static inline uint64_t load_eight(const char *text)
{
    uint64_t bytes;
    memcpy(&bytes, text, 8);
    return bytes;
}

/* A word of less than eight bytes as a number; by overlapping pieces instead of a loop. */
static inline uint64_t load_short(const char *text, size_t length)
{
    if (length >= 4) {
        uint32_t first;
        uint32_t last;
        memcpy(&first, text, 4);
        memcpy(&last, text + length - 4, 4);
        return (uint64_t)first << 32 | last;
    }
    if (length == 0) {
        return 0;
    }
    const unsigned char *byte = (const unsigned char *)text;
    return (uint64_t)byte[0] << 16 | (uint64_t)byte[length / 2] << 8 | byte[length - 1];
}

/* Multiply and fold, eight bytes at a time. The constant is 2^64 over the golden ratio, made odd. */
static inline uint64_t mix(uint64_t hash, uint64_t bytes)
{
    hash = (hash ^ bytes) * UINT64_C(0x9E3779B97F4A7C15);
    return hash ^ hash >> 32;
}

/* Of words of one length below eight bytes, no two have the same: neither step of a mixing loses anything. */
static inline uint64_t hash_of(Str word)
{
    uint64_t hash = word.length;
    if (word.length < 8) {
        return mix(hash, load_short(word.text, word.length));
    }
    for (size_t at = 0; at + 8 < word.length; at += 8) {
        hash = mix(hash, load_eight(word.text + at));
    }
    return mix(hash, load_eight(word.text + word.length - 8));
}

/* Whether a known word of the same hash is this one. In pieces, too: words are short, and calling memcmp costs more. */
static inline bool is_word(const Word *known, Str word)
{
    if (known->length != word.length) {
        return false;
    }
    if (word.length < 8) {
        return true;
    }
    for (size_t at = 0; at + 8 < word.length; at += 8) {
        if (load_eight(known->text + at) != load_eight(word.text + at)) {
            return false;
        }
    }
    return load_eight(known->text + word.length - 8) == load_eight(word.text + word.length - 8);
}

Symbols *symbols_new(Arena *arena)
{
    Symbols *symbols = ARENA_NEW(arena, Symbols);
    symbols->arena = arena;
    symbols->slot_count = (size_t)1 << FIRST_SLOT_BITS;
    symbols->slots = ARENA_ARRAY(arena, Symbol, symbols->slot_count);
    symbols->hash_shift = 64 - FIRST_SLOT_BITS;
    symbols->end = 1;
    return symbols;
}

static inline Word *word_at(const Symbols *symbols, Symbol symbol)
{
    return &symbols->chunks[symbol >> CHUNK_BITS][symbol & (CHUNK_WORDS - 1)];
}

/* A product carries only upward: it is the high bits that all letters of a word have reached. */
static inline size_t first_slot(const Symbols *symbols, uint64_t hash)
{
    return hash >> symbols->hash_shift;
}

/* The slot of the word, or the free slot where it belongs. */
static inline size_t slot_of(const Symbols *symbols, Str word, uint64_t hash)
{
    size_t slot = first_slot(symbols, hash);
    for (;;) {
        Symbol symbol = symbols->slots[slot];
        if (symbol == 0) {
            return slot;
        }
        const Word *known = word_at(symbols, symbol);
        if (known->hash == hash && is_word(known, word)) {
            return slot;
        }
        slot = (slot + 1) & (symbols->slot_count - 1);
    }
}

/* The slots hold nothing that the words do not know, so they are grown, cleared and filled anew. */
static void grow_slots(Symbols *symbols)
{
    size_t count = symbols->slot_count * 2;
    size_t size = symbols->slot_count * sizeof(Symbol);
    symbols->slots = arena_grow(symbols->arena, symbols->slots, size, 2 * size);
    symbols->slot_count = count;
    symbols->hash_shift--;
    memset(symbols->slots, 0, size);
    for (Symbol symbol = 1; symbol < symbols->end; symbol++) {
        size_t slot = first_slot(symbols, word_at(symbols, symbol)->hash);
        while (symbols->slots[slot] != 0) {
            slot = (slot + 1) & (count - 1);
        }
        symbols->slots[slot] = symbol;
    }
}

static void make_chunk(Symbols *symbols, size_t chunk)
{
    if (chunk == symbols->chunk_room) {
        size_t room = chunk ? chunk * 2 : 16;
        size_t size = chunk * sizeof(Word *);
        symbols->chunks = arena_grow(symbols->arena, symbols->chunks, size, room * sizeof(Word *));
        symbols->chunk_room = room;
    }
    symbols->chunks[chunk] = ARENA_ARRAY(symbols->arena, Word, CHUNK_WORDS);
}

/* Not inline: a word that is new must not slow down the many that are known. */
__attribute__((noinline))
static Symbol add_word(Symbols *symbols, Str word, uint64_t hash, size_t slot)
{
    Symbol symbol = symbols->end;
    size_t chunk = symbol >> CHUNK_BITS;
    if (chunk == symbols->chunk_room || !symbols->chunks[chunk]) {
        make_chunk(symbols, chunk);
    }
    *word_at(symbols, symbol) = (Word){word.text, word.length, hash};
    symbols->slots[slot] = symbol;
    symbols->end++;
    if (symbol >= symbols->slot_count / 8 * 5) {
        grow_slots(symbols);
    }
    return symbol;
}

Symbol symbols_intern(Symbols *symbols, Str word)
{
    uint64_t hash = hash_of(word);
    size_t slot = slot_of(symbols, word, hash);
    Symbol symbol = symbols->slots[slot];
    return symbol ? symbol : add_word(symbols, word, hash, slot);
}

Symbol symbols_find(const Symbols *symbols, Str word)
{
    return symbols->slots[slot_of(symbols, word, hash_of(word))];
}

Str symbols_text(const Symbols *symbols, Symbol symbol)
{
    if (symbol == 0 || symbol >= symbols->end) {
        return (Str){"", 0};
    }
    const Word *word = word_at(symbols, symbol);
    return (Str){word->text, word->length};
}

Symbol symbols_end(const Symbols *symbols)
{
    return symbols->end;
}
