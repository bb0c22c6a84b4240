/*
 * What a thing states: which properties there may be and how often, in its own lines and, where it is silent, in those of its
 * part; what a broken line was meant to state is unknown and not missing.
 */
#include "model/gather.h"
#include "model/match.h"
#include "model/repeats.h"
#include "model/walk.h"

#include "language/suggest.h"
#include "model/meant.h"
#include "model/wrong_end.h"
#include "syntax/statement.h"

#include <string.h>

/* Names what a kind has of its own, if that is a handful; else tells where it stands. */
static void list_properties(Buf *right, KindId kind)
{
    enum { LEAST_LISTED = 3, MOST_LISTED = 17 };
    uint32_t own = 0;
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
        own += props[p].owner == kind;
    }
    if (own < LEAST_LISTED || own > MOST_LISTED) {
        buf_format(right, "one of those that `garboard kinds %s` lists", kinds[kind].word);
        return;
    }
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
        if (props[p].owner == kind) {
            buf_format(right, "`%s`, ", props[p].word);
        }
    }
    buf_format(right, "%sone of those that `garboard kinds %s` lists", own > 0 ? "or " : "",
               kinds[kind].word);
}

/* `fed by main`: a property whose words stand apart, the hyphen between them missing; PROP_NONE: it is none. */
static PropId property_of_two_words(const Checker *checker, NodeId statement, NodeId term, KindId kind)
{
    const Tree *tree = checker->tree;
    if (term >= statement + tree_node(tree, statement)->terms || tree_kind(tree, term + 1) != NODE_WORD) {
        return PROP_NONE;
    }
    const char *joined = text_format(checker->arena, "%.*s-%.*s", STR_ARG(tree_text(tree, term)), STR_ARG(tree_text(tree, term + 1)));
    return schema_find_prop(kind, str_from(joined));
}

/* Appends what to write instead of a word that is no property of the kind; the property that is probably meant, or PROP_NONE. */
static PropId term_meant(const Checker *checker, Buf *right, NodeId statement, NodeId term, KindId kind, const Entity *of)
{
    PropId fed, joined = property_of_two_words(checker, statement, term, kind);
    if (joined != PROP_NONE) {
        buf_format(right, "`%s`, in one word", props[joined].word);
        return joined;
    }
    if (kind == KIND_JOB && word_is_among(tree_text(checker->tree, term), "price quote supplier status ordered promised arrived lead refunded")) {
        buf_format(right, "an `item` for what is bought, with its `%.*s`, and its name under `needs` of the job: a yard's work and its "
                          "slot too", STR_ARG(tree_text(checker->tree, term)));
        return PROP_NONE;
    }
    if (kind == KIND_CIRCUIT && word_is_among(tree_text(checker->tree, term), "draw watts power amps current use surge")) {
        buf_text(right, "a `load` with its `draw`, `fed-by` this circuit: a circuit is the cable and its protection");
        return PROP_NONE;
    }
    if (kind == KIND_BOAT && word_is_among(tree_text(checker->tree, term), "engine engines motor motors")) {
        buf_text(right, "an `engine` for each of them, a thing of its own beside the boat");
        return PROP_NONE;
    }
    if (wrong_end_meant(checker, right, statement, term, kind, of, &fed)) {
        return fed;
    }
    return property_meant(right, kind, tree_text(checker->tree, term));
}

/* `needs lamps,`, a blank line, and the next thing below it: what looks like a property is a member of that list. */
static bool tell_list_before(Checker *checker, Message *m, NodeId statement, NodeId term, bool known)
{
    NodeId comma = tree_list_before(checker->tree, statement, tree_span(checker->tree, statement).start);
    if (comma == 0 || (known && checker->model->by_symbol[symbol_of(checker, term)] == NULL)) {
        return false;
    }
    message_note(checker->messages, m, tree_span(checker->tree, comma), "a blank line ends this list");
    message_right(checker->messages, m, "no blank line between, if `%.*s` belongs to that list",
                  STR_ARG(tree_text(checker->tree, term)));
    return true;
}

/* Tells a word that is no property of the kind; the property that is probably meant, or PROP_NONE. */
PropId property_tell_unknown(Checker *checker, NodeId statement, NodeId term, KindId kind, const Entity *of)
{
    Str word = tree_text(checker->tree, term);
    KindId thing = (KindId)checker->kind_of_symbol[tree_node(checker->tree, term)->u.symbol];
    if (thing != KIND_NONE && tree_node(checker->tree, statement)->flags & NODE_HAS_BLOCK) {
        Message *m = message_report(checker->messages, MESSAGE_MISPLACED, tree_span(checker->tree, term),
                                    "%s `%.*s` cannot stand inside of %s `%s`", article(kinds[thing].word),
                                    STR_ARG(word), article(kinds[kind].word), kinds[kind].word);
        message_right(checker->messages, m, "things beside each other; they refer to each other by name");
        block_read(checker, statement, thing, NULL); /* for its own mistakes */
        return PROP_NONE;
    }
    if (tree_is_mended(checker->tree, term)) {
        return PROP_NONE;
    }
    Message *m = message_report(checker->messages, MESSAGE_UNKNOWN_PROPERTY, tree_span(checker->tree, term),
                                "`%s` has no property `%.*s`", kinds[kind].word, STR_ARG(word));
    if (statement_kind(word) == NODE_WAIVE || statement_kind(word) == NODE_INCLUDE) {
        message_right(checker->messages, m, "`%.*s` stands outside of the things, at the outermost level",
                      STR_ARG(word));
        return PROP_NONE;
    }
    Buf right;
    buf_init(&right, checker->arena);
    PropId meant = term_meant(checker, &right, statement, term, kind, of);
    if (tell_list_before(checker, m, statement, term, right.length > 0)) {
        return PROP_NONE;
    }
    if (right.length == 0) {
        list_properties(&right, kind);
    } else if (wrong_end_feeds(word) && (meant == PROP_NONE || meant == PROP_FEED_FED_BY)) {
        wrong_end_lose(checker, statement, term);
    }
    message_right(checker->messages, m, "%s", right.text);
    return meant;
}

enum { FEW_PROPERTIES = 32 };

/* Properties in the making. */
typedef struct Gather {
    Checker *checker;
    Property *properties; /* room for `capacity`: `few`, as long as that is enough */
    uint32_t capacity;
    Block block;          /* of those that are there */
    bool lines_lost; /* a line is broken, and may have been another property, or hold one */
    Property few[FEW_PROPERTIES];
} Gather;

static void gather_begin(Gather *gather, Checker *checker)
{
    gather->checker = checker;
    gather->properties = gather->few;
    gather->capacity = FEW_PROPERTIES;
    gather->block = (Block){0};
    gather->lines_lost = false;
}

/* What was gathered, in memory of its own. */
static Block gather_end(const Gather *gather)
{
    Block block = gather->block;
    if (block.count > 0) {
        Property *kept = ARENA_ARRAY(gather->checker->arena, Property, block.count);
        memcpy(kept, gather->properties, block.count * sizeof(Property));
        block.properties = kept;
    }
    return block;
}

static void find_more_room(Gather *gather)
{
    Property *more = ARENA_ARRAY(gather->checker->arena, Property, gather->capacity * 2);
    memcpy(more, gather->properties, gather->capacity * sizeof(Property));
    gather->properties = more;
    gather->capacity *= 2;
}

/* The place for one more property. */
static inline Property *gather_add(Gather *gather, PropId id)
{
    Block *block = &gather->block;
    if (block->count == gather->capacity) {
        find_more_room(gather);
    }
    block->properties = gather->properties;
    block->has |= block_bit(id);
    return &gather->properties[block->count++];
}

static void tell_stated_twice(Checker *checker, NodeId again, NodeId first, PropId id)
{
    Message *m = message_report(checker->messages, MESSAGE_PROPERTY_TWICE,
                                tree_span(checker->tree, again + 1), "`%s` is stated twice", props[id].word);
    message_note(checker->messages, m, tree_span(checker->tree, first + 1), "here first");
    message_right(checker->messages, m, "one of the two lines");
}

/* A property that a broken line was probably meant to state: unknown now, but not missing. */
static void gather_lost(Gather *gather, PropId id, NodeId statement)
{
    if (id != PROP_NONE && (props[id].repeats || block_property(&gather->block, id) == NULL)) {
        *gather_add(gather, id) = (Property){.id = (uint16_t)id, .node = statement, .flags = PROPERTY_BROKEN};
    }
}

/* Whether the property that a statement states is read, and has a mistake. */
static bool is_broken(const Gather *gather, NodeId statement)
{
    for (uint32_t i = 0; i < gather->block.count; i++) {
        if (gather->properties[i].node == statement) {
            return gather->properties[i].flags & PROPERTY_BROKEN;
        }
    }
    return false;
}

/*
 * What a statement has drawn in that did not end where it should: behind a comma too many (`mass 18 kg, count 4`), or where
 * it is broken (`from fresh to sink`).
 */
static void gather_drawn_in(Gather *gather, NodeId statement, KindId kind)
{
    const Checker *checker = gather->checker;
    const Tree *tree = checker->tree;
    uint16_t terms = tree_node(tree, statement)->terms;
    bool broken = terms > 2 && is_broken(gather, statement);
    for (NodeId term = statement + 3; term < statement + 1 + terms; term++) {
        bool name = tree_kind(tree, term) != NODE_WORD || checker->model->by_symbol[symbol_of(checker, term)] != NULL;
        if (!name && (broken || tree_kind(tree, term - 1) == NODE_COMMA)) {
            gather_lost(gather, property_find(gather->checker, kind, term), statement);
        }
    }
}

/* Once more through a block with broken lines, for what is to be taken as stated in them. */
static void gather_lost_lines(Gather *gather, NodeId owner, KindId kind)
{
    Checker *checker = gather->checker;
    for (NodeId id = walk_block(checker->tree, owner, 0); id != 0;
         id = walk_block(checker->tree, owner, id)) {
        if (property_find(checker, kind, id + 1) != PROP_NONE) {
            gather_drawn_in(gather, id, kind);
        } else {
            Buf unused;
            buf_init(&unused, checker->arena);
            gather_lost(gather, term_meant(checker, &unused, id, id + 1, kind, NULL), id);
        }
    }
}

static void gather_own(NodeId owner, KindId kind, const Entity *entity, Gather *gather)
{
    Checker *checker = gather->checker;
    for (NodeId id = walk_block(checker->tree, owner, 0); id != 0;
         id = walk_block(checker->tree, owner, id)) {
        PropId prop = property_find(checker, kind, id + 1);
        if (prop == PROP_NONE) {
            property_tell_unknown(checker, id, id + 1, kind, entity);
            gather->lines_lost = true;
            continue;
        }
        const Property *before = props[prop].repeats ? NULL : block_property(&gather->block, prop);
        if (before != NULL) {
            tell_stated_twice(checker, id, before->node, prop);
            continue;
        }
        Property property = property_read(checker, id, id + 2, prop, entity);
        gather->lines_lost |= property.flags & PROPERTY_BROKEN;
        if (!repeat_is_possible(&property) || repeat_is_kept(checker, &gather->block, &property)) {
            *gather_add(gather, prop) = property;
        }
    }
    if (gather->lines_lost) {
        gather_lost_lines(gather, owner, kind);
    }
}

Block block_of(const Property *properties, uint32_t count)
{
    Block block = {.properties = properties, .count = count};
    for (uint32_t i = 0; i < count; i++) {
        block.has |= block_bit((PropId)properties[i].id);
    }
    return block;
}

const Block *block_read(Checker *checker, NodeId owner, KindId kind, const Entity *entity)
{
    Block *block = ARENA_NEW(checker->arena, Block);
    Gather gather;
    gather_begin(&gather, checker);
    gather_own(owner, kind, entity, &gather);
    *block = gather_end(&gather);
    return block;
}

/* Whether the line of a property holds what belongs into its block: where that ends, and with what, is not known. */
static bool drew_in_block(Checker *checker, NodeId statement, KindId kind)
{
    uint16_t terms = tree_node(checker->tree, statement)->terms;
    for (NodeId term = statement + 2; term < statement + 1 + terms; term++) {
        if (tree_kind(checker->tree, term) == NODE_WORD && property_find(checker, kind, term) != PROP_NONE) {
            return true;
        }
    }
    return false;
}

const Block *block_with_lost(Checker *checker, const Block *block, NodeId statement, KindId kind)
{
    Block *with = ARENA_NEW(checker->arena, Block);
    Gather gather;
    gather_begin(&gather, checker);
    for (uint32_t i = 0; i < block->count; i++) {
        *gather_add(&gather, (PropId)block->properties[i].id) = block->properties[i];
    }
    bool drew_in = drew_in_block(checker, statement, kind);
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE && drew_in; p = schema_next_prop(kind, p)) {
        gather_lost(&gather, p, statement);
    }
    *with = gather_end(&gather);
    return with;
}

static void tell_no_part(Checker *checker, const Entity *entity, NodeId term)
{
    Str name = tree_text(checker->tree, term);
    if (checker->model->by_symbol[tree_node(checker->tree, term)->u.symbol] != NULL) {
        Message *m = message_report(checker->messages, MESSAGE_WRONG_KIND, tree_span(checker->tree, term),
                                    "`%.*s` is a thing of its own, not a part", STR_ARG(name));
        message_right(checker->messages, m, "a `part NAME for %s { ... }` that both are",
                      kinds[entity->kind].word);
        return;
    }
    Message *m = message_report(checker->messages, MESSAGE_UNKNOWN_NAME, tree_span(checker->tree, term),
                                "there is no part called `%.*s`", STR_ARG(name));
    Suggestions near = suggest_begin(name);
    for (Symbol s = 1; s < checker->model->symbol_count && checker->near_left > 0; s++) {
        if (checker->parts[s] != 0) {
            suggest_offer(&near, symbols_text(checker->tree->symbols, s));
        }
    }
    checker->near_left--;
    Buf right;
    buf_init(&right, checker->arena);
    if (!suggest_write(&right, &near)) {
        buf_format(&right, "`part NAME for %s { ... }` somewhere", kinds[entity->kind].word);
    }
    message_right(checker->messages, m, "%s", right.text);
}

/* The kind that a part describes; KIND_NONE after a message that told so. */
KindId part_kind(const Checker *checker, const Header *part)
{
    return part->kind == 0 ? KIND_NONE
                           : (KindId)checker->kind_of_symbol[tree_node(checker->tree, part->kind)->u.symbol];
}

static void tell_part_kind(Checker *checker, const Entity *entity, NodeId term, const Header *part)
{
    const char *is = kinds[part_kind(checker, part)].word;
    const char *wanted = kinds[entity->kind].word;
    Message *m =
        message_report(checker->messages, MESSAGE_PART_KIND, tree_span(checker->tree, term),
                       "the part `%.*s` describes %s %s, not %s %s", STR_ARG(tree_text(checker->tree, term)),
                       article(is), is, article(wanted), wanted);
    message_note(checker->messages, m, tree_span(checker->tree, part->kind), "here");
    message_right(checker->messages, m, "a `part NAME for %s { ... }`", wanted);
}

/* Whether `is PART` may stand in a thing's first line: where it is right, behind the name, in the place of any other word. */
static bool may_be_part(const Tree *tree, NodeId thing)
{
    const Node *node = tree_node(tree, thing);
    return node->flags & NODE_BAD || (node->terms > 2 && tree_kind(tree, thing + 3) == NODE_WORD);
}

/* The part that a thing is; NULL if it is none, or after a message. */
static const Block *part_block(Checker *checker, Entity *entity)
{
    if (!may_be_part(checker->tree, entity->node)) {
        return NULL;
    }
    Header header = tree_header(checker->tree, entity->node);
    if (header.part == 0) {
        return NULL;
    }
    Symbol name = tree_node(checker->tree, header.part)->u.symbol;
    NodeId part = checker->parts[name];
    if (part == 0) {
        if (!checker->spec->incomplete) {
            tell_no_part(checker, entity, header.part);
        }
        entity->flags |= ENTITY_BROKEN | ENTITY_PARTLESS;
        return NULL;
    }
    entity->part = part;
    Header of_part = tree_header(checker->tree, part);
    KindId kind = part_kind(checker, &of_part);
    if (kind != entity->kind) {
        if (kind != KIND_NONE && !(entity->flags & ENTITY_DOUBTFUL)) {
            tell_part_kind(checker, entity, header.part, &of_part);
        }
        entity->flags |= ENTITY_BROKEN | ENTITY_PARTLESS;
        return NULL;
    }
    if (checker->part_blocks[name] == NULL) {
        checker->part_blocks[name] = block_read(checker, part, kind, NULL);
    }
    if (entity->title.length == 0) {
        entity->title = of_part.title;
    }
    return checker->part_blocks[name];
}

/* What the part states and the thing does not. */
static void gather_part(const Block *part, Gather *gather)
{
    const Block own = gather->block;
    for (uint32_t i = 0; part != NULL && i < part->count; i++) {
        const Property *inherited = &part->properties[i];
        if (block_property(&own, (PropId)inherited->id) == NULL) {
            Property *added = gather_add(gather, (PropId)inherited->id);
            *added = *inherited;
            added->flags |= PROPERTY_FROM_PART;
        }
    }
}

/* The properties that some kind or other cannot do without, up to PROP_NONE. */
static const uint16_t *required_somewhere(Checker *checker)
{
    if (checker->spec->required[KIND_NONE] == NULL) {
        uint16_t *list = ARENA_ARRAY(checker->arena, uint16_t, PROP_COUNT);
        int count = 0;
        for (int p = PROP_NONE + 1; p < PROP_COUNT; p++) {
            if (props[p].required) {
                list[count++] = (uint16_t)p;
            }
        }
        checker->spec->required[KIND_NONE] = list;
    }
    return checker->spec->required[KIND_NONE];
}

/* The properties that a kind cannot do without, up to PROP_NONE; found once for each kind. */
static const uint16_t *required_props(Checker *checker, KindId kind)
{
    if (checker->spec->required[kind] == NULL) {
        uint16_t *list = ARENA_ARRAY(checker->arena, uint16_t, 16);
        int count = 0;
        for (const uint16_t *p = required_somewhere(checker); *p != PROP_NONE; p++) {
            bool may_have = props[*p].owner == kind || kinds[props[*p].owner].group;
            if (may_have && count < 15 && schema_has(kind, (PropId)*p)) {
                list[count++] = *p;
            }
        }
        checker->spec->required[kind] = list;
    }
    return checker->spec->required[kind];
}

static bool begins_with_quantity(Checker *checker, PropId id)
{
    const Shape *shape = shapes_get(checker->spec->shapes, id);
    return shape->item_count > 0 && shape->items[0].kind == ITEM_ATOM &&
           shape->items[0].atoms[0].kind == ATOM_QUANTITY;
}

/* All that a thing lacks, in one message. */
static void tell_missing(Checker *checker, const Entity *entity, const PropId *missing, int count)
{
    Buf what;
    Buf right;
    buf_init(&what, checker->arena);
    buf_init(&right, checker->arena);
    for (int i = 0; i < count; i++) {
        const char *between = i == 0 ? "" : i + 1 == count ? " and " : ", ";
        buf_format(&what, "%s`%s`", between, props[missing[i]].word);
        buf_format(&right, "%s`", between);
        shape_form(&right, missing[i], shapes_get(checker->spec->shapes, missing[i]), false);
        buf_char(&right, '`');
    }
    if (count == 1) {
        buf_format(&what, ": %s", props[missing[0]].help);
    }
    if (begins_with_quantity(checker, missing[count - 1])) {
        buf_format(&right, ", or `%s ?` while it is not known", props[missing[count - 1]].word);
    }
    Message *m =
        message_report(checker->messages, MESSAGE_PROPERTY_MISSING, entity_span(checker->model, entity),
                       "`%.*s` needs %s", STR_ARG(entity_name(checker->model, entity)), what.text);
    message_right(checker->messages, m, "%s", right.text);
}

/* A goal without a line: whoever wrote it believes it checked. */
static void tell_asks_nothing(Checker *checker, const Entity *goal)
{
    Message *m = message_report(checker->messages, MESSAGE_PROPERTY_MISSING, entity_span(checker->model, goal),
                                "`%.*s` asks nothing: there is nothing to be checked", STR_ARG(entity_name(checker->model, goal)));
    message_right(checker->messages, m, "`%s`, for example; `garboard kinds goal` lists what can be asked", props[PROP_GOAL_ENDURE].example);
}

/* Whether another property makes a required one needless: one with a mistake, too, for that is told. */
static bool is_spared(const Entity *entity, PropId id)
{
    const Property *by = props[id].spared_by != PROP_NONE ? entity_property(entity, (PropId)props[id].spared_by) : NULL;
    const char *word = props[id].spared_word;
    return by != NULL && (by->flags & PROPERTY_BROKEN || word == NULL || str_is(entity_word(entity, (PropId)by->id), word));
}

void thing_tell_missing(Checker *checker, const Entity *entity)
{
    PropId missing[16];
    int count = 0;
    if (entity->flags & ENTITY_BROKEN) {
        return;
    }
    if (entity->kind == KIND_GOAL && entity->block.count == 0 && walk_block(checker->tree, entity->node, 0) == 0 &&
        !(entity->flags & ENTITY_PARTLESS)) {
        tell_asks_nothing(checker, entity);
    }
    for (const uint16_t *required = required_props(checker, (KindId)entity->kind); *required != PROP_NONE;
         required++) {
        if (entity_property(entity, (PropId)*required) == NULL && !is_spared(entity, (PropId)*required)) {
            missing[count++] = (PropId)*required;
        }
    }
    if (count > 0) {
        tell_missing(checker, entity, missing, count);
    }
}

void thing_read(Checker *checker, Entity *entity)
{
    if (entity->kind == KIND_NONE) {
        return;
    }
    const Block *part = part_block(checker, entity);
    Gather gather;
    gather_begin(&gather, checker);
    gather_own(entity->node, (KindId)entity->kind, entity, &gather);
    gather_part(part, &gather);
    entity->block = gather_end(&gather);
}
