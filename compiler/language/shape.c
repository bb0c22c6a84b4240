/*
 * Compiles the notation of shapes (see schema.h).
 *
 * Knows units, kinds and the notation; not specs, and not how terms are matched with a shape. A notation is
 * read into a draft of fixed size, so that checking one needs no memory; a compiled shape is a copy of it.
 *
 *     shape  = { item }
 *     item   = "[" shape "]" | "{" shape "}," | atom { "|" atom } | connecting-word
 *     atom   = "Q(" unit { "|" unit } ")" | "R(" kind { "|" kind } ")" | "W(" word { "|" word } ")"
 *            | "T" | "D" | "H" | "Y" | "M"
 */
#include "language/shape.h"

#include <string.h>

enum { MAX_ITEMS = 64, MAX_ATOMS = 48, MAX_WORDS = 64, MAX_UNITS = 4, MAX_DEPTH = 4 };

typedef struct Draft {
    const char *at;  /* next character of the notation */
    const char *why; /* what is wrong, NULL: nothing so far */
    int item_count, atom_count, word_count;
    int slots;
    bool list, quantity;
    ShapeItem items[MAX_ITEMS]; /* `atoms` points into `atoms` below */
    Atom atoms[MAX_ATOMS];      /* `words` points into `words` below */
    Str words[MAX_WORDS];
} Draft;

/* ---- Reading a notation ---- */

static bool fail(Draft *draft, const char *why)
{
    if (!draft->why) {
        draft->why = why;
    }
    return false;
}

/* The next piece of the notation up to a blank, which is passed. Empty at the end. */
static Str next_token(Draft *draft)
{
    const char *start;
    const char *end;

    while (*draft->at == ' ') {
        draft->at++;
    }
    start = draft->at;
    end = start + strcspn(start, " ");
    draft->at = end;
    return (Str){start, (size_t)(end - start)};
}

static ShapeItem *add_item(Draft *draft, ItemKind kind)
{
    ShapeItem *item;

    if (draft->item_count == MAX_ITEMS) {
        fail(draft, "too many items");
        return NULL;
    }
    item = &draft->items[draft->item_count++];
    *item = (ShapeItem){.kind = (uint8_t)kind};
    return item;
}

/* Cuts the piece before the first `|` off `*rest`; the last one is the whole of it. False at the end. */
static bool next_alternative(Str *rest, Str *piece)
{
    const char *bar;

    if (!rest->text) {
        return false;
    }
    bar = memchr(rest->text, '|', rest->length);
    if (bar) {
        *piece = (Str){rest->text, (size_t)(bar - rest->text)};
        *rest = (Str){bar + 1, rest->length - piece->length - 1};
    } else {
        *piece = *rest;
        *rest = (Str){NULL, 0};
    }
    return true;
}

/* A unit of the table, or one by another. */
static bool read_unit(Str text, UnitPair *pair)
{
    const char *stroke = memchr(text.text, '/', text.length);
    Str first = text;

    *pair = (UnitPair){UNIT_NONE, UNIT_NONE};
    if (stroke) {
        Str second = {stroke + 1, text.length - (size_t)(stroke - text.text) - 1};

        first.length = (size_t)(stroke - text.text);
        pair->per = (uint8_t)unit_find(second);
        if (pair->per == UNIT_NONE) {
            return false;
        }
    }
    pair->unit = (uint8_t)unit_find(first);
    return pair->unit != UNIT_NONE;
}

static bool read_quantity(Draft *draft, Atom *atom, Str inside)
{
    Str piece;

    atom->kind = ATOM_QUANTITY;
    draft->quantity = true;
    atom->money = str_is(inside, "money");
    atom->size = str_is(inside, "size");
    if (atom->money) {
        return true;
    }
    if (atom->size) {
        atom->unit_count = 1;
        return read_unit(STR("mm2"), &atom->units[0]) || fail(draft, "there is no unit mm2");
    }
    while (next_alternative(&inside, &piece)) {
        UnitPair *pair;

        if (atom->unit_count == MAX_UNITS) {
            return fail(draft, "too many units");
        }
        pair = &atom->units[atom->unit_count++];
        if (str_is(piece, "1")) {
            *pair = (UnitPair){UNIT_NONE, UNIT_NONE};
        } else if (!read_unit(piece, pair)) {
            return fail(draft, "unknown unit in Q(...)");
        }
    }
    return true;
}

static void unite(KindSet *set, KindSet other)
{
    set->bits[0] |= other.bits[0];
    set->bits[1] |= other.bits[1];
}

static bool read_reference(Draft *draft, Atom *atom, Str inside)
{
    Str piece;

    atom->kind = ATOM_REFERENCE;
    while (next_alternative(&inside, &piece)) {
        KindId kind = schema_find_kind(piece);
        KindSet set;

        if (str_is(piece, "*")) {
            unite(&atom->things, kind_set_every());
        } else if (str_starts(piece, "%") && kind_set_find((Str){piece.text + 1, piece.length - 1}, &set)) {
            unite(&atom->things, set);
        } else if (kind) {
            kind_set_add(&atom->things, kind);
        } else {
            return fail(draft, "unknown kind in R(...)");
        }
    }
    return true;
}

/* What a spec can hold in the place of a word: letters, digits and hyphens. */
static bool is_word(Str text)
{
    for (size_t i = 0; i < text.length; i++) {
        char c = text.text[i];
        bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');

        if (!letter && !(c >= '0' && c <= '9') && c != '-') {
            return false;
        }
    }
    return text.length > 0;
}

static bool read_words(Draft *draft, Atom *atom, Str inside)
{
    Str piece;

    atom->kind = ATOM_WORD;
    if (str_is(inside, "*")) {
        return true;
    }
    atom->words = &draft->words[draft->word_count];
    while (next_alternative(&inside, &piece)) {
        if (!is_word(piece)) {
            return fail(draft, "not a word in W(...)");
        }
        if (draft->word_count == MAX_WORDS) {
            return fail(draft, "too many words");
        }
        draft->words[draft->word_count++] = piece;
        atom->word_count++;
    }
    return true;
}

static bool read_letter(Draft *draft, Atom *atom, char letter)
{
    static const char letters[] = "TDHYM";
    static const uint8_t atom_kinds[] = {ATOM_TEXT, ATOM_DATE, ATOM_CLOCK, ATOM_YES_NO, ATOM_MONTH};
    const char *found = letter ? strchr(letters, letter) : NULL;

    if (!found) {
        return fail(draft, "unknown letter");
    }
    atom->kind = atom_kinds[found - letters];
    return true;
}

/* `atom` of the grammar: a letter, with what it needs in brackets. */
static bool read_atom(Draft *draft, Atom *atom, Str text)
{
    Str inside;

    *atom = (Atom){0};
    if (text.length == 1) {
        return read_letter(draft, atom, text.text[0]);
    }
    if (text.length < 4 || text.text[1] != '(' || text.text[text.length - 1] != ')') {
        return fail(draft, "an atom is a letter, or Q(...), R(...) or W(...)");
    }
    inside = (Str){text.text + 2, text.length - 3};
    switch (text.text[0]) {
    case 'Q': return read_quantity(draft, atom, inside);
    case 'R': return read_reference(draft, atom, inside);
    case 'W': return read_words(draft, atom, inside);
    default: return fail(draft, "only Q, R and W have brackets");
    }
}

/* Length of the first atom of a token such as `Q(h|%)|H`: up to a stroke outside brackets. */
static size_t atom_length(Str token)
{
    int depth = 0;

    for (size_t i = 0; i < token.length; i++) {
        char c = token.text[i];

        depth += (c == '(') - (c == ')');
        if (c == '|' && depth == 0) {
            return i;
        }
    }
    return token.length;
}

static bool read_atoms(Draft *draft, Str token)
{
    ShapeItem *item = add_item(draft, ITEM_ATOM);
    size_t length;

    if (!item) {
        return false;
    }
    item->slot = (uint8_t)draft->slots++;
    item->atoms = &draft->atoms[draft->atom_count];
    for (;;) {
        length = atom_length(token);
        if (draft->atom_count == MAX_ATOMS) {
            return fail(draft, "too many atoms");
        }
        if (!read_atom(draft, &draft->atoms[draft->atom_count], (Str){token.text, length})) {
            return false;
        }
        draft->atom_count++;
        item->atom_count++;
        if (length == token.length) {
            return true;
        }
        token = (Str){token.text + length + 1, token.length - length - 1};
    }
}

static bool is_connecting(Str token)
{
    for (size_t i = 0; i < token.length; i++) {
        if (!(token.text[i] >= 'a' && token.text[i] <= 'z') && token.text[i] != '-') {
            return false;
        }
    }
    return token.length > 0;
}

/* A bracket may touch its neighbours: `[Q(m)` is `[` and `Q(m)`. Gives the first, goes back for the rest. */
static Str split_bracket(Draft *draft, Str token)
{
    size_t inner;

    if (token.length > 1 && (token.text[0] == '[' || token.text[0] == '{')) {
        draft->at = token.text + 1;
        return (Str){token.text, 1};
    }
    for (inner = 0; inner < token.length; inner++) {
        if (token.text[inner] == ']' || token.text[inner] == '}') {
            break;
        }
    }
    if (inner > 0 && inner < token.length) {
        draft->at = token.text + inner;
        token.length = inner;
    }
    return token;
}

/* The items up to `close` ("" for the whole notation), which is read too. */
static bool read_items(Draft *draft, const char *close, int depth);

/* What stands between a bracket and its end; an option or a list. */
static bool read_part(Draft *draft, ItemKind begin, const char *close, int depth)
{
    int begins_at = draft->item_count;
    ShapeItem *item = add_item(draft, begin);

    if (depth == MAX_DEPTH) {
        return fail(draft, "too deep");
    }
    if (!item || !read_items(draft, close, depth + 1)) {
        return false;
    }
    if (draft->item_count == begins_at + 1) {
        return fail(draft, "nothing between the brackets");
    }
    if (!add_item(draft, begin == ITEM_OPTION ? ITEM_OPTION_END : ITEM_LIST_END)) {
        return false;
    }
    item->end = (uint8_t)(draft->item_count - 1);
    draft->list = draft->list || begin == ITEM_LIST;
    return true;
}

static bool read_item(Draft *draft, Str token, int depth)
{
    ShapeItem *item;

    if (str_is(token, "[")) {
        return read_part(draft, ITEM_OPTION, "]", depth);
    }
    if (str_is(token, "{")) {
        return read_part(draft, ITEM_LIST, "},", depth);
    }
    if (!is_connecting(token)) {
        return read_atoms(draft, token);
    }
    item = add_item(draft, ITEM_CONNECTING);
    if (item) {
        item->word = token;
    }
    return item != NULL;
}

static bool read_items(Draft *draft, const char *close, int depth)
{
    for (;;) {
        Str token = split_bracket(draft, next_token(draft));

        if (str_is(token, close)) {
            return true;
        }
        if (token.length == 0) {
            return fail(draft, "a bracket is not closed");
        }
        if (!read_item(draft, token, depth)) {
            return false;
        }
    }
}

static bool read_notation(Draft *draft, const char *notation)
{
    /* The lists are filled as they grow: clearing them would be most of the work. */
    draft->at = notation;
    draft->why = NULL;
    draft->item_count = draft->atom_count = draft->word_count = 0;
    draft->slots = 0;
    draft->list = draft->quantity = false;
    return read_items(draft, "", 0) && (draft->slots > 0 || fail(draft, "a shape without a value"));
}

bool shape_check(const char *notation, const char **why)
{
    Draft draft;
    bool good = read_notation(&draft, notation);

    *why = draft.why;
    return good;
}

/* ---- Compiled shapes ---- */

Shapes *shapes_new(Arena *arena)
{
    Shapes *shapes = ARENA_NEW(arena, Shapes);

    shapes->arena = arena;
    return shapes;
}

/* Copies a draft into the arena; what pointed into the draft points into the copy. */
static const Shape *copy_draft(Arena *arena, const Draft *draft)
{
    Shape *shape = ARENA_NEW(arena, Shape);
    ShapeItem *items = ARENA_ARRAY(arena, ShapeItem, draft->item_count);
    Atom *atoms = ARENA_ARRAY(arena, Atom, draft->atom_count);
    Str *words = ARENA_ARRAY(arena, Str, draft->word_count + 1);

    memcpy(words, draft->words, sizeof(Str) * (size_t)draft->word_count);
    for (int i = 0; i < draft->atom_count; i++) {
        atoms[i] = draft->atoms[i];
        if (atoms[i].words) {
            atoms[i].words = words + (draft->atoms[i].words - draft->words);
        }
    }
    for (int i = 0; i < draft->item_count; i++) {
        items[i] = draft->items[i];
        if (items[i].atoms) {
            items[i].atoms = atoms + (draft->items[i].atoms - draft->atoms);
        }
    }
    *shape = (Shape){items, (uint8_t)draft->item_count, (uint8_t)draft->slots, draft->list, draft->quantity};
    return shape;
}

static const Shape *compile(Shapes *shapes, const char *notation)
{
    static const Shape empty;
    size_t slot = (size_t)((uintptr_t)notation * 0x9E3779B97F4A7C15u >> 32) % SHAPE_SLOTS;
    if (shapes->same[slot].notation == notation) {
        return shapes->same[slot].shape;
    }
    Draft draft;
    bool good = read_notation(&draft, notation);
    const Shape *shape = good ? copy_draft(shapes->arena, &draft) : &empty; /* a test: all are good */
    shapes->same[slot].notation = notation;
    shapes->same[slot].shape = shape;
    return shape;
}

const Shape *shapes_compile(Shapes *shapes, PropId prop)
{
    static const Shape empty;
    const Shape *shape = prop == PROP_NONE ? &empty : compile(shapes, props[prop].shape);
    shapes->compiled[prop] = shape;
    return shape;
}
