/*
 * The terms of a property against its shape: items, lists, what is left over, and the word that says how well a value is
 * known.
 */
#include "model/habits.h"

#include "model/device.h"
#include "model/gather.h"

#include "language/suggest.h"

static bool takes_quantity(const ShapeItem *item)
{
    for (uint8_t i = 0; i < item->atom_count; i++) {
        if (item->atoms[i].kind == ATOM_QUANTITY) {
            return true;
        }
    }
    return false;
}

static bool match_item(Match *m, const ShapeItem *item)
{
    if (item->kind == ITEM_CONNECTING) {
        if (cursor_kind(&m->cursor) == NODE_WORD && str_equal(cursor_text(&m->cursor), item->word)) {
            m->cursor.at++;
            return true;
        }
        return match_tell_expected(m, item);
    }
    for (uint8_t i = 0; i < item->atom_count; i++) {
        if (match_begins(m, &item->atoms[i])) {
            bool fine = match_atom(m, &item->atoms[i], item->slot);
            /* The row's limits are about this place, whatever stood in it. */
            m->first_quantity = m->first_quantity && !takes_quantity(item);
            return fine;
        }
    }
    return match_tell_expected(m, item);
}

static bool item_begins(const Match *m, const ShapeItem *item)
{
    if (item->kind == ITEM_CONNECTING) {
        return cursor_kind(&m->cursor) == NODE_WORD && str_equal(cursor_text(&m->cursor), item->word);
    }
    if (item->kind != ITEM_ATOM) {
        return item_begins(m, item + 1);
    }
    for (uint8_t i = 0; i < item->atom_count; i++) {
        if (match_begins(m, &item->atoms[i])) {
            return true;
        }
    }
    return false;
}

static bool match_items(Match *m, uint8_t from, uint8_t to);

/* Behind a comma: whether the next line begins there. */
static bool is_on_next_line(const Match *m)
{
    const Tree *tree = m->checker->tree;
    Str text = span_text(tree->sources, (Span){tree_node(tree, m->cursor.at - 1)->start, tree_node(tree, m->cursor.at)->start});
    return memchr(text.text, '\n', text.length) != NULL;
}

/* Behind a comma: whether what follows is rather a property than a member of the list, which no word of the list's own is. */
static bool next_is_a_property(const Match *m, const ShapeItem *member)
{
    const Atom *atom = &member->atoms[0];
    bool own_word = member->kind == ITEM_ATOM && atom->kind != ATOM_REFERENCE && match_begins(m, atom);
    return m->cursor.at < m->cursor.end && !own_word && habit_is_property(m, m->cursor.at);
}

static bool tell_list_goes_on(Match *m)
{
    Str word = cursor_text(&m->cursor);
    m->cursor.at--;
    Message *message = match_tell(m, MESSAGE_LIST_END, "after this comma the list goes on in the next line");
    message_right(m->checker->messages, message, "no comma, if `%.*s` is the next property", STR_ARG(word));
    return false;
}

static bool tell_no_comma(Match *m)
{
    Str text = cursor_text(&m->cursor);
    if (habit_tell_property(m)) {
        return false;
    }
    if (str_is(text, "and") || str_is(text, "or")) {
        Message *message =
            match_tell(m, MESSAGE_LIST_END, "between the members of a list stands a comma and nothing else");
        message_right(m->checker->messages, message, "`,` in place of `%.*s`", STR_ARG(text));
    } else {
        Message *message =
            match_tell(m, MESSAGE_LIST_END, "a comma is missing before this member of the list");
        message_right(m->checker->messages, message, "`, %.*s`", STR_ARG(text));
    }
    return false;
}

/* list = members "," ... [","] */
static bool match_list(Match *m, uint8_t begin)
{
    const ShapeItem *item = &m->shape->items[begin];
    uint8_t end = item->end;
    bool limited = m->first_quantity;
    for (;;) {
        m->first_quantity = limited; /* the row's limits are about each member */
        if (!match_items(m, (uint8_t)(begin + 1), end)) {
            return false;
        }
        NodeKind kind = cursor_kind(&m->cursor);
        if (kind == NODE_COMMA) {
            m->cursor.at++;
            if (cursor_kind(&m->cursor) == NODE_NONE) {
                return true; /* a comma after the last */
            }
            if (next_is_a_property(m, item + 1)) {
                return is_on_next_line(m) ? tell_list_goes_on(m) : !habit_tell_property(m);
            }
            continue;
        }
        if (kind != NODE_NONE && item_begins(m, &m->shape->items[begin + 1])) {
            return tell_no_comma(m);
        }
        return true;
    }
}

static bool match_items(Match *m, uint8_t from, uint8_t to)
{
    for (uint8_t i = from; i < to; i++) {
        const ShapeItem *item = &m->shape->items[i];
        if (item->kind == ITEM_ATOM || item->kind == ITEM_CONNECTING) {
            if (!match_item(m, item)) {
                return false;
            }
        } else if (item->kind == ITEM_OPTION) {
            if (m->cursor.at == m->cursor.end || !item_begins(m, item + 1)) {
                i = item->end;
            }
        } else if (item->kind == ITEM_LIST) {
            if (!match_list(m, i)) {
                return false;
            }
            i = item->end;
        }
    }
    return true;
}

/* The words that an atom that was left out would take; false if there is none such. */
static bool right_left_out(Match *m, Message *message)
{
    for (uint8_t i = 0; i < m->shape->item_count; i++) {
        const ShapeItem *item = &m->shape->items[i];
        if (item->kind == ITEM_ATOM && item->atoms[0].kind == ATOM_WORD && item->atoms[0].word_count > 0 &&
            item->slot < m->count && m->values[item->slot].kind == VALUE_NONE) {
            Buf right;
            buf_init(&right, m->checker->arena);
            atom_describe(&right, &item->atoms[0]);
            message_right(m->checker->messages, message, "%s", right.text);
            return true;
        }
    }
    return false;
}

/* What a term of the shape is called by: the word before or behind it that is always there, else what was written. */
static Str called(const Match *m, uint8_t at)
{
    const ShapeItem *items = m->shape->items;
    bool before = at > 0 && items[at - 1].kind == ITEM_CONNECTING;
    bool behind = at + 1 < m->shape->item_count && items[at + 1].kind == ITEM_CONNECTING;
    const Value *value = &m->values[items[at].slot];
    return before ? items[at - 1].word : behind ? items[at + 1].word : value->kind == VALUE_WORD ? value->u.word : (Str){"", 0};
}

/* Whether a word begins the term that stands there in the shape: it is one of its words, or the word before it. */
static bool begins_term(const Match *m, uint8_t at, Str word)
{
    const ShapeItem *item = &m->shape->items[at];
    bool is_it = at > 0 && m->shape->items[at - 1].kind == ITEM_CONNECTING && str_equal(m->shape->items[at - 1].word, word);
    for (uint16_t w = 0; w < item->atoms[0].word_count && !is_it; w++) {
        is_it = str_equal(item->atoms[0].words[w], word);
    }
    return is_it;
}

/* A word that the shape takes, but before something that is written before it: "`hydraulic` before `interrupts`". */
static bool right_order(Match *m, Message *message)
{
    Str word = cursor_text(&m->cursor);
    bool left_out = false;
    for (uint8_t i = 0; i < m->shape->item_count; i++) {
        const ShapeItem *item = &m->shape->items[i];
        bool atom = item->kind == ITEM_ATOM && item->slot < m->count;
        bool written = atom && m->values[item->slot].kind != VALUE_NONE;
        if (left_out && written && called(m, i).length > 0) {
            message_right(m->checker->messages, message, "`%.*s` before `%.*s`: what belongs to a value has its order", STR_ARG(word),
                          STR_ARG(called(m, i)));
            return true;
        }
        left_out = left_out || (atom && !written && begins_term(m, i, word));
    }
    return false;
}

/* The words near to the term at hand among all that the shape has, and those that say how well a value is known. */
static bool right_near_any(Match *m, Message *message)
{
    Suggestions near = suggest_begin(cursor_text(&m->cursor));
    for (uint8_t i = 0; i < m->shape->item_count; i++) {
        const ShapeItem *item = &m->shape->items[i];
        if (item->kind == ITEM_CONNECTING) {
            suggest_offer(&near, item->word);
        }
        for (uint8_t a = 0; a < item->atom_count; a++) {
            for (uint16_t w = 0; w < item->atoms[a].word_count; w++) {
                suggest_offer(&near, item->atoms[a].words[w]);
            }
        }
    }
    static const char *const known_words[] = {"measured", "labelled", "estimated", "guessed"};
    for (size_t i = 0; i < 4; i++) {
        suggest_offer(&near, str_from(known_words[i]));
    }
    Buf right;
    buf_init(&right, m->checker->arena);
    if (suggest_write(&right, &near)) {
        message_right(m->checker->messages, message, "%s", right.text);
    }
    return near.count > 0;
}

static bool is_at(const Match *m, NodeId at, NodeKind kind, const char *word)
{
    return at < m->cursor.end && tree_kind(m->checker->tree, at) == kind &&
           (word == NULL || str_is(tree_text(m->checker->tree, at), word));
}

/* `8 ft 9.5..11.5 in`: feet stand before each end. */
static bool right_feet_of_both(Match *m, Message *message)
{
    NodeId at = m->cursor.at;
    bool so = is_at(m, at - 2, NODE_NUMBER, NULL) && is_at(m, at - 1, NODE_WORD, "ft") && is_at(m, at, NODE_NUMBER, NULL) &&
              is_at(m, at + 1, NODE_TO, NULL) && is_at(m, at + 2, NODE_NUMBER, NULL) && is_at(m, at + 3, NODE_WORD, "in");
    if (so) {
        const Tree *tree = m->checker->tree;
        Str feet = tree_text(tree, at - 2), from = tree_text(tree, at), to = tree_text(tree, at + 2);
        message_right(m->checker->messages, message, "`%.*s ft %.*s in..%.*s ft %.*s in`: each end with its feet", STR_ARG(feet),
                      STR_ARG(from), STR_ARG(feet), STR_ARG(to));
    }
    return so;
}

/* Something is left over: told by what might have stood there. */
static bool tell_left_over(Match *m)
{
    NodeKind kind = cursor_kind(&m->cursor);
    if (kind == NODE_WORD && tree_is_mended(m->checker->tree, m->cursor.at)) {
        return false;
    }
    bool block = kind == NODE_COMMA && m->row->block != KIND_NONE && m->cursor.at + 1 < m->cursor.end;
    if (block && habit_is_property(m, m->cursor.at + 1)) {
        m->cursor.at++;
        kind = NODE_WORD;
    }
    if (kind == NODE_COMMA) {
        Message *comma = match_tell(m, MESSAGE_COMMA_PLACE,
                                    "a comma stands between the members of a list, and no list "
                                    "stands here");
        message_right(m->checker->messages, comma,
                      "a new line, or `;` in a short block, if a property follows");
        return false;
    }
    if (habit_tell_parts(m) || habit_tell_joined(m) || habit_tell_property(m) || habit_tell_quote(m)) {
        return false;
    }
    Message *message =
        message_report(m->checker->messages, MESSAGE_TERM_UNEXPECTED, cursor_span(&m->cursor),
                       "`%.*s` has no place in `%s` here", STR_ARG(cursor_text(&m->cursor)), m->row->word);
    Str text = cursor_text(&m->cursor);
    bool range = str_is(text, "to") || (kind == NODE_NUMBER && text.text[0] == '-');
    if (range && tree_kind(m->checker->tree, m->cursor.at - 1) == NODE_NUMBER) {
        message_right(m->checker->messages, message, "`..` between the ends of a range");
    } else if (right_feet_of_both(m, message)) {
        return false;
    } else if (kind == NODE_WORD && right_order(m, message)) {
        return false;
    } else if (kind != NODE_WORD || (!right_near_any(m, message) && !right_left_out(m, message))) {
        match_right_example(m, message);
    }
    return false;
}

/* The word at the end of a line that says how well its value is known. */
static Known take_known(Checker *checker, Cursor *cursor, NodeId first)
{
    if (cursor->end <= first || tree_kind(checker->tree, cursor->end - 1) != NODE_WORD) {
        return KNOWN_UNSAID;
    }
    Symbol last = tree_node(checker->tree, cursor->end - 1)->u.symbol;
    Known known = last == checker->measured    ? KNOWN_MEASURED
                  : last == checker->labelled  ? KNOWN_LABELLED
                  : last == checker->estimated ? KNOWN_ESTIMATED
                  : last == checker->guessed   ? KNOWN_GUESSED
                                               : KNOWN_UNSAID;
    if (known != KNOWN_UNSAID) {
        cursor->end--;
    }
    return known;
}

/* The brace that opens a statement's block. */
static Span brace_of(const Tree *tree, NodeId statement)
{
    uint32_t at = tree_node(tree, statement)->end;
    while (*span_text(tree->sources, (Span){at, at + 1}).text != '{') {
        at++;
    }
    return (Span){at, at + 1};
}

static bool is_undecided(const Value *value)
{
    return !(value->flags & VALUE_BROKEN) && (value_is_hole(value) || value_is_range(value));
}

/* Reads the terms of one property; first is its first term behind the property's word. */
Property property_read(Checker *checker, NodeId statement, NodeId first, PropId id, const Entity *entity)
{
    const Node *node = tree_node(checker->tree, statement);
    Property property = {.id = (uint16_t)id, .node = statement};
    if (node->flags & NODE_BAD) {
        property.flags = PROPERTY_BROKEN;
        return property;
    }
    Match m = {.checker = checker,
               .cursor = {.tree = checker->tree,
                          .at = first,
                          .end = statement + 1 + node->terms,
                          .statement = statement},
               .shape = shapes_get(checker->spec->shapes, id),
               .row = &props[id],
               .entity = entity,
               .first_quantity = true};
    m.list = m.shape->list;
    uint32_t room = m.shape->slots + (m.row->block != 0 ? 1u : 0u);
    m.values = ARENA_ARRAY(checker->arena, Value, room);
    m.capacity = room;
    m.count = m.list ? 0 : m.shape->slots;
    if (m.shape->quantity) {
        property.known = (uint8_t)take_known(checker, &m.cursor, first);
    }
    bool fine =
        match_items(&m, 0, m.shape->item_count) && (m.cursor.at == m.cursor.end || tell_left_over(&m));
    if (!fine) {
        property.flags |= PROPERTY_BROKEN;
    }
    if (m.row->block != 0) {
        const Block *block = block_read(checker, statement, (KindId)m.row->block, entity);
        if (!fine) {
            block = block_with_lost(checker, block, statement, (KindId)m.row->block);
        }
        *match_append(&m) = (Value){.kind = VALUE_BLOCK, .node = statement, .u.block = block};
        m.names = true;
    } else if (node->flags & NODE_HAS_BLOCK) {
        Message *message =
            message_report(checker->messages, MESSAGE_BLOCK_HERE, brace_of(checker->tree, statement),
                           "`%s` takes no block", m.row->word);
        message_right(checker->messages, message, "a line of its own for each property, without braces");
    }
    if (m.names) {
        property.flags |= PROPERTY_NAMES;
    }
    for (uint32_t i = 0; i < m.count && m.shape->quantity; i++) {
        property.flags |= is_undecided(&m.values[i]) ? PROPERTY_UNDECIDED : 0;
    }
    property.values = m.values;
    property.count = (uint16_t)m.count;
    if (fine && property.count > 2 && !device_agrees(checker, &property, m.shape)) {
        property.flags |= PROPERTY_BROKEN;
    }
    return property;
}

Property check_statement(Checker *checker, NodeId statement, PropId id)
{
    return property_read(checker, statement, statement + 2, id, NULL);
}
