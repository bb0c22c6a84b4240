/*
 * What a property says: as the owner wrote it, on one line, and whether two say the same.
 *
 * Values are compared by what they mean: `1000 mm` is `1 m`, and a name is the same name through a renaming.
 * A list of names or words is a set; a list of pairs, such as the days of a cruise, has an order. Knows
 * values and the names of both specs; not what differs in a whole thing.
 */
#include "tools/diff_parts.h"

#include <math.h>

/* Words */

static bool is_text(const Tree *tree, NodeId term)
{
    return tree_kind(tree, term) == NODE_TEXT || tree_kind(tree, term) == NODE_LONG_TEXT;
}

/* The terms of a statement from number `term` on, with the blanks that the owner put between them, or one. */
static void write_terms(Buf *to, const Tree *tree, NodeId statement, uint16_t term)
{
    bool first = true;
    while (term < tree_node(tree, statement)->terms) {
        NodeId id = statement + 1 + term;
        bool glued = tree_node(tree, id)->flags & NODE_GLUED || tree_kind(tree, id) == NODE_COMMA;
        buf_text(to, first || glued ? "" : " ");
        first = false;
        if (is_text(tree, id)) {
            buf_char(to, '"');
            buf_add(to, tree_joined_text(tree, statement, &term));
            buf_char(to, '"');
        } else {
            buf_add(to, tree_text(tree, id));
            term++;
        }
    }
}

const Block *property_block(const Property *property)
{
    static const Block empty = {0};
    const Value *last = property_value(property, property->count > 0 ? property->count - 1u : 0);
    return last->kind == VALUE_BLOCK ? last->u.block : &empty;
}

static void write_property(Buf *to, const Tree *tree, const Property *property, bool with_block)
{
    if (property->flags & PROPERTY_BY_OPTION) {
        buf_text(to, "left to an open choice");
        return;
    }
    if (property->node == 0) {
        buf_text(to, props[property->id].assumed != NULL ? props[property->id].assumed : "");
        return;
    }
    write_terms(to, tree, property->node, tree_kind(tree, property->node) == NODE_SET ? 4 : 1);
    const Block *block = property_block(property);
    for (uint32_t i = 0; i < block->count && with_block; i++) {
        buf_format(to, "%s%s ", i == 0 ? " { " : "; ", props[block->properties[i].id].word);
        write_property(to, tree, &block->properties[i], true);
        buf_text(to, i + 1 == block->count ? " }" : "");
    }
    if (property->flags & PROPERTY_BROKEN) {
        buf_text(to, " (a mistake)");
    }
}

const char *property_words(const Diff *diff, const DiffThing *thing, const Property *property,
                           bool with_block)
{
    Buf text;
    buf_init(&text, diff->arena);
    write_property(&text, thing->model->tree, property, with_block);
    return text.text;
}

/* Values */

bool numbers_same(double a, double b)
{
    /* An infinite end is only the same as itself. */
    return a == b || (isfinite(a) && isfinite(b) && fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b)));
}

/* The two things whose properties are compared. */
typedef struct Pair {
    const Diff *diff;
    const DiffThing *before, *after;
} Pair;

/* What stands in the spec, letter by letter: for money of two currencies, and for mistakes. */
static bool same_words(const Pair *pair, const Property *a, const Property *b)
{
    return str_equal(str_from(property_words(pair->diff, pair->before, a, true)),
                     str_from(property_words(pair->diff, pair->after, b, true)));
}

static int series_of(UnitPair unit)
{
    return unit.unit == UNIT_AWG ? 1 : unit.unit == UNIT_SAE ? 2 : 0;
}

static bool same_quantity(const Value *a, const Value *b)
{
    enum { TELLING = VALUE_HOLE | VALUE_NO_LOW | VALUE_NO_HIGH | VALUE_MONEY | VALUE_SIZE };
    if ((a->flags & TELLING) != (b->flags & TELLING)) {
        return false;
    }
    bool same_kind = a->flags & VALUE_SIZE
                         ? series_of(a->unit) == series_of(b->unit)
                         : dimension_equal(unit_dimension(a->unit), unit_dimension(b->unit));
    return (same_kind || a->flags & VALUE_HOLE) && numbers_same(a->u.quantity.low, b->u.quantity.low) &&
           numbers_same(a->u.quantity.high, b->u.quantity.high);
}

static bool same_reference(const Pair *pair, const Value *a, const Value *b)
{
    if (value_entity(a) == NULL || value_entity(b) == NULL) {
        return value_entity(a) == value_entity(b);
    }
    return name_after(pair->diff, value_entity(a)->name) == value_entity(b)->name;
}

static bool same_value(const Pair *pair, const Value *a, const Value *b)
{
    if (a->kind != b->kind || (a->flags & VALUE_BROKEN) != (b->flags & VALUE_BROKEN)) {
        return false;
    }
    switch ((ValueKind)a->kind) {
    case VALUE_NONE: return true;
    case VALUE_QUANTITY: return same_quantity(a, b);
    case VALUE_REFERENCE: return same_reference(pair, a, b);
    case VALUE_WORD: return str_equal(a->u.word, b->u.word);
    case VALUE_TEXT: return str_equal(a->u.text, b->u.text);
    case VALUE_DATE: return a->u.date == b->u.date;
    case VALUE_CLOCK: return a->u.clock.from == b->u.clock.from && a->u.clock.to == b->u.clock.to;
    case VALUE_YES_NO: return a->u.yes == b->u.yes;
    case VALUE_MONTH: return a->u.month == b->u.month;
    case VALUE_BLOCK: return true; /* looked at by itself */
    }
    return false;
}

/* Each value of a among those of b; equal counts are asked for before. */
static bool same_set(const Pair *pair, const Property *a, const Property *b)
{
    bool *taken = ARENA_ARRAY(pair->diff->arena, bool, b->count);
    for (uint16_t i = 0; i < a->count; i++) {
        uint16_t at = 0;
        while (at < b->count && (taken[at] || !same_value(pair, &a->values[i], &b->values[at]))) {
            at++;
        }
        if (at == b->count) {
            return false;
        }
        taken[at] = true;
    }
    return true;
}

static bool same_values(const Pair *pair, const Property *a, const Property *b)
{
    if (a->count != b->count) {
        return false;
    }
    uint16_t at = 0;
    while (at < a->count && same_value(pair, &a->values[at], &b->values[at])) {
        at++;
    }
    if (at == a->count) {
        return true;
    }
    const Shape *shape = shapes_get(pair->after->model->shapes, (PropId)b->id);
    return a->id == b->id && shape->list && shape->slots == 1 && same_set(pair, a, b);
}

static bool same_block(const Pair *pair, const Block *a, const Block *b);

static bool same_property(const Pair *pair, const Property *a, const Property *b, bool with_block)
{
    if ((a->flags | b->flags) & PROPERTY_BY_OPTION) {
        return a->flags & b->flags & PROPERTY_BY_OPTION;
    }
    if ((a->flags | b->flags) & PROPERTY_BROKEN) {
        return a->flags & b->flags & PROPERTY_BROKEN && same_words(pair, a, b);
    }
    const Value *first = property_value(a, 0);
    if (first->flags & property_value(b, 0)->flags & VALUE_MONEY &&
        !str_equal(pair->before->model->currency, pair->after->model->currency)) {
        return same_words(pair, a, b);
    }
    if (a->known != b->known || !same_values(pair, a, b)) {
        return false;
    }
    return !with_block || same_block(pair, property_block(a), property_block(b));
}

static bool same_block(const Pair *pair, const Block *a, const Block *b)
{
    if (a->count != b->count) {
        return false;
    }
    bool *taken = ARENA_ARRAY(pair->diff->arena, bool, b->count);
    for (uint32_t i = 0; i < a->count; i++) {
        uint32_t at = 0;
        while (at < b->count && (taken[at] || a->properties[i].id != b->properties[at].id ||
                                 !same_property(pair, &a->properties[i], &b->properties[at], true))) {
            at++;
        }
        if (at == b->count) {
            return false;
        }
        taken[at] = true;
    }
    return true;
}

bool property_same(const Diff *diff, const DiffThing *before, const Property *a, const DiffThing *after,
                   const Property *b, bool with_block)
{
    return same_property(&(Pair){diff, before, after}, a, b, with_block);
}

bool property_same_first(const Diff *diff, const DiffThing *before, const Property *a, const DiffThing *after,
                         const Property *b)
{
    return a->count > 0 && b->count > 0 &&
           same_value(&(Pair){diff, before, after}, &a->values[0], &b->values[0]);
}
