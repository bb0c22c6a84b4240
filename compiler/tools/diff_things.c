/*
 * Which things were added, removed, renamed or changed, property by property.
 *
 * Lines of a property that repeats are paired: first those that say the same, then those whose first value is
 * the same (`use anchored 4 h` and `use anchored 6 h`), then two that are left alone. What a part says on
 * both sides is marked, so that it need not be told for each thing that is that part.
 */
#include "tools/diff_parts.h"

#include <string.h>

/* The lines of one word, of both sides. */
typedef struct Lines {
    const Property **list;
    bool *done;
    uint32_t count;
} Lines;

/* Two things being compared; either may be NULL in telling what a whole thing states. */
typedef struct Comparing {
    Diff *diff;
    const DiffThing *before, *after;
    const char *inside;
    DiffLine **lines;
} Comparing;

static bool same_word(uint16_t a, uint16_t b)
{
    return a == b || strcmp(props[a].word, props[b].word) == 0;
}

/* Parts */

/* The name of the part that a thing is, or nothing. */
static Str part_name(const DiffThing *thing)
{
    if (thing == NULL || thing->entity->part == 0) {
        return (Str){"", 0};
    }
    const Tree *tree = thing->model->tree;
    return tree_text(tree, tree_header(tree, thing->entity->part).name);
}

/* The part that both things are, or NULL. */
static const char *common_part(const Comparing *c)
{
    Str before = part_name(c->before);
    Str after = part_name(c->after);
    return after.length > 0 && str_equal(before, after) ? str_copy(c->diff->arena, after) : NULL;
}

static bool from_part(const Property *property)
{
    return property == NULL || property->flags & PROPERTY_FROM_PART;
}

/* Lines */

static void add_line(const Comparing *c, const Property *before, const Property *after, bool with_block)
{
    const Property *any = after != NULL ? after : before;
    bool from_same_part = from_part(before) && from_part(after) && c->inside == NULL;
    DiffLine line = {
        .how = before == NULL  ? DIFF_ADDED
               : after == NULL ? DIFF_REMOVED
                               : DIFF_CHANGED,
        .property = props[any->id].word,
        .inside = c->inside,
        .before = before != NULL ? property_words(c->diff, c->before, before, with_block) : NULL,
        .after = after != NULL ? property_words(c->diff, c->after, after, with_block) : NULL,
        .assumed = before == NULL || after == NULL ? schema_assumed_text(c->diff->arena, (PropId)any->id) : NULL,
        .part = from_same_part ? common_part(c) : NULL,
        .repeats = props[any->id].repeats,
    };
    diff_add_line(c->diff, c->lines, line);
}

/* Money that is written alike and is worth something else: the rate moved. */
static void tell_worth(const Comparing *c, const Property *before, const Property *after)
{
    DiffLine *last = *c->lines;
    while (last->next != NULL) {
        last = last->next;
    }
    const Value *a = property_value(before, 0);
    const Value *b = property_value(after, 0);
    if (a->kind != VALUE_QUANTITY || b->kind != VALUE_QUANTITY || strcmp(last->before, last->after) != 0) {
        return;
    }
    Buf text;
    buf_init(&text, c->diff->arena);
    buf_format(&text, "%s, which is ", last->before);
    quantity_write(&text, c->before->model, a);
    last->before = text.text;
    buf_init(&text, c->diff->arena);
    buf_format(&text, "%s, which is ", last->after);
    quantity_write(&text, c->after->model, b);
    last->after = text.text;
}

/* Blocks */

static Lines lines_of(const Comparing *c, const Block *block, uint16_t id)
{
    Lines lines = {0};
    for (uint32_t i = 0; i < block->count; i++) {
        lines.count += same_word(block->properties[i].id, id);
    }
    lines.list = ARENA_ARRAY(c->diff->arena, const Property *, lines.count);
    lines.done = ARENA_ARRAY(c->diff->arena, bool, lines.count);
    uint32_t at = 0;
    for (uint32_t i = 0; i < block->count; i++) {
        if (same_word(block->properties[i].id, id)) {
            lines.list[at++] = &block->properties[i];
        }
    }
    return lines;
}

static void compare_blocks(const Comparing *c, const Block *before, const Block *after);

/* Two lines that differ, one of which has become the other. */
static void tell_pair(const Comparing *c, const Property *before, const Property *after)
{
    bool own_block = property_block(before)->count + property_block(after)->count > 0;
    bool same_head = property_same(c->diff, c->before, before, c->after, after, false);
    if (!same_head) {
        add_line(c, before, after, false);
        tell_worth(c, before, after);
    }
    if (own_block) {
        Comparing inner = *c;
        inner.inside = text_format(c->diff->arena, "%s %s", props[after->id].word,
                                   property_words(c->diff, c->after, after, false));
        compare_blocks(&inner, property_block(before), property_block(after));
    }
}

typedef enum Pairing { PAIR_SAME, PAIR_SAME_HEAD, PAIR_SAME_FIRST, PAIR_LEFT } Pairing;

static bool fits(const Comparing *c, const Property *before, const Property *after, Pairing pairing)
{
    switch (pairing) {
    case PAIR_SAME: return property_same(c->diff, c->before, before, c->after, after, true);
    case PAIR_SAME_HEAD: return property_same(c->diff, c->before, before, c->after, after, false);
    case PAIR_SAME_FIRST: return property_same_first(c->diff, c->before, before, c->after, after);
    case PAIR_LEFT: return true;
    }
    return false;
}

static uint32_t count_left(const Lines *lines)
{
    uint32_t left = 0;
    for (uint32_t i = 0; i < lines->count; i++) {
        left += !lines->done[i];
    }
    return left;
}

static void pair_lines(const Comparing *c, Lines *before, Lines *after, Pairing pairing)
{
    if (pairing == PAIR_LEFT && (count_left(before) != 1 || count_left(after) != 1)) {
        return;
    }
    for (uint32_t i = 0; i < after->count; i++) {
        for (uint32_t j = 0; j < before->count && !after->done[i]; j++) {
            if (!before->done[j] && fits(c, before->list[j], after->list[i], pairing)) {
                before->done[j] = after->done[i] = true;
                if (pairing != PAIR_SAME) {
                    tell_pair(c, before->list[j], after->list[i]);
                }
            }
        }
    }
}

static void compare_word(const Comparing *c, const Block *before, const Block *after, uint16_t id)
{
    Lines old = lines_of(c, before, id);
    Lines now = lines_of(c, after, id);
    for (Pairing pairing = PAIR_SAME; pairing <= PAIR_LEFT; pairing++) {
        pair_lines(c, &old, &now, pairing);
    }
    for (uint32_t i = 0; i < old.count; i++) {
        if (!old.done[i]) {
            add_line(c, old.list[i], NULL, true);
        }
    }
    for (uint32_t i = 0; i < now.count; i++) {
        if (!now.done[i]) {
            add_line(c, NULL, now.list[i], true);
        }
    }
}

/* Whether a word of number `end` of the block, or of the whole other block, was looked at before. */
static bool has_word(const Block *block, uint32_t end, uint16_t id)
{
    for (uint32_t i = 0; i < end; i++) {
        if (same_word(block->properties[i].id, id)) {
            return true;
        }
    }
    return false;
}

/* The same lines in the same order: so it is with most things. */
static bool is_alike(const Comparing *c, const Block *before, const Block *after)
{
    uint32_t i = 0;
    while (i < before->count && i < after->count && before->properties[i].id == after->properties[i].id &&
           property_same(c->diff, c->before, &before->properties[i], c->after, &after->properties[i], true)) {
        i++;
    }
    return i == before->count && i == after->count;
}

static void compare_blocks(const Comparing *c, const Block *before, const Block *after)
{
    if (is_alike(c, before, after)) {
        return;
    }
    for (uint32_t i = 0; i < after->count; i++) {
        if (!has_word(after, i, after->properties[i].id)) {
            compare_word(c, before, after, after->properties[i].id);
        }
    }
    for (uint32_t i = 0; i < before->count; i++) {
        uint16_t id = before->properties[i].id;
        if (!has_word(before, i, id) && !has_word(after, after->count, id)) {
            compare_word(c, before, after, id);
        }
    }
}

/* Things */

/* The title, and whether it is the part's. */
static const char *title_of(Diff *diff, const DiffThing *thing, bool *of_part)
{
    const Tree *tree = thing->model->tree;
    *of_part = tree_header(tree, thing->entity->node).title.length == 0;
    return thing->entity->title.length > 0
               ? text_format(diff->arena, "\"%.*s\"", STR_ARG(thing->entity->title))
               : NULL;
}

/* One of a kind that nobody knows is a mistake, told already, and still a thing. */
static const char *kind_word(const DiffThing *thing)
{
    return thing->entity->kind != KIND_NONE ? kinds[thing->entity->kind].word : "thing";
}

static void compare_heads(const Comparing *c)
{
    bool part_before;
    bool part_after;
    diff_add_texts(c->diff, c->lines, "kind", kind_word(c->before), kind_word(c->after));
    const char *before = title_of(c->diff, c->before, &part_before);
    const char *after = title_of(c->diff, c->after, &part_after);
    if (before == NULL && after == NULL) {
        return;
    }
    DiffLine *last = NULL;
    diff_add_texts(c->diff, &last, "title", before, after);
    if (last != NULL) {
        last->part = part_before && part_after ? common_part(c) : NULL;
        diff_add_line(c->diff, c->lines, *last);
    }
}

static DiffItem *add_item(Diff *diff, DiffItem ***end, const DiffThing *before, const DiffThing *after)
{
    const DiffThing *thing = after != NULL ? after : before;
    DiffItem *item = ARENA_NEW(diff->arena, DiffItem);
    *item = (DiffItem){
        .how = before == NULL  ? DIFF_ADDED
               : after == NULL ? DIFF_REMOVED
                               : DIFF_CHANGED,
        .before = before,
        .after = after,
        .kind = thing->set ? "set" : kind_word(thing),
        .name = thing_name(diff->arena, thing),
        .title = str_copy(diff->arena, thing->set ? (Str){"", 0} : thing->entity->title),
        .where = option_path(diff->arena, after != NULL ? &diff->after : &diff->before, thing->option),
        .set = thing->set,
    };
    if (before != NULL && after != NULL && !after->set) {
        const char *was = thing_name(diff->arena, before);
        item->was = strcmp(was, item->name) != 0 ? was : NULL;
    } else if (part_name(thing).length > 0 && !thing->set) {
        item->part = str_copy(diff->arena, part_name(thing));
    }
    **end = item;
    *end = &item->next;
    return item;
}

/* All that a thing states, as lines of one side. What its part says stands with the part. */
static void tell_whole(Diff *diff, DiffItem *item)
{
    const DiffThing *thing = item->after != NULL ? item->after : item->before;
    Comparing c = {.diff = diff, .before = item->before, .after = item->after, .lines = &item->lines};
    for (uint32_t i = 0; i < thing->block.count; i++) {
        const Property *property = &thing->block.properties[i];
        if (!(property->flags & PROPERTY_FROM_PART)) {
            add_line(&c, item->after == NULL ? property : NULL, item->after != NULL ? property : NULL, true);
        }
    }
}

static void tell_changed(Diff *diff, DiffItem ***end, DiffThing *before, DiffThing *after)
{
    DiffLine *lines = NULL;
    Comparing c = {.diff = diff, .before = before, .after = after, .lines = &lines};
    if (!after->set) {
        compare_heads(&c);
    }
    compare_blocks(&c, &before->block, &after->block);
    bool renamed = !after->set && !str_equal(entity_name(before->model, before->entity),
                                             entity_name(after->model, after->entity));
    if (lines != NULL || renamed) {
        add_item(diff, end, before, after)->lines = lines;
        before->told = after->told = true;
    }
}

/* In what the other spec has as well: its options, or all that is outside of them. */
static bool has_place(const DiffThing *thing)
{
    return thing->in_boat || thing->option->partner != NULL;
}

/*
 * Whether a thing without a partner is told as added or removed. Not told: one in an option that is itself
 * new or gone; one that the other spec has in the same option, taken or not; and what a picked option sets.
 */
static bool is_news(const DiffSide *other_side, Symbol other, const DiffThing *thing)
{
    if (thing->partner != NULL || !has_place(thing)) {
        return false;
    }
    if (thing->set) {
        return !thing->option->partner->picked;
    }
    for (DiffThing *t = other_side->by_name[other]; other != 0 && t != NULL && !thing->in_boat;
         t = t->next_of_name) {
        if (t->option != NULL && t->option->partner == thing->option) {
            return false;
        }
    }
    return true;
}

static void tell_missing(Diff *diff, DiffItem ***end, DiffSide *side, DiffSide *other)
{
    for (uint32_t i = 0; i < side->thing_count; i++) {
        DiffThing *thing = side->things[i];
        if (is_news(other, side->other[thing->entity->name], thing)) {
            bool added = side == &diff->after;
            tell_whole(diff, add_item(diff, end, added ? NULL : thing, added ? thing : NULL));
            thing->told = true;
        }
    }
}

void diff_find_things(Diff *diff)
{
    DiffItem **end = &diff->items;
    tell_missing(diff, &end, &diff->after, &diff->before);
    tell_missing(diff, &end, &diff->before, &diff->after);
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        DiffThing *thing = diff->after.things[i];
        if (thing->partner != NULL) {
            tell_changed(diff, &end, thing->partner, thing);
        }
    }
}
