/*
 * Properties: which there may be, how often, and whether their terms have the shape that the schema gives. What a part
 * states is read as a property of the thing that it becomes; what the thing states itself wins; what an option sets wins
 * over both.
 */
#include "model/checker.h"
#include "model/walk.h"

#include "base/num.h"
#include "language/suggest.h"
#include "model/meant.h"
#include "syntax/statement.h"

#include <string.h>

/* Values of one property as they are matched. */
typedef struct Match {
    Checker *checker;
    Cursor cursor;
    const Shape *shape;
    const PropRow *row;
    const Entity *entity;   /* the thing, for names in options */
    Value *values;
    uint32_t count;
    uint32_t capacity;
    bool list;
    bool first_quantity;    /* the row's limits hold for the first quantity alone */
} Match;

static bool is_yes_no(Str word)
{
    return str_is(word, "yes") || str_is(word, "no");
}

static const char *const month_names[] = {"january", "february", "march",     "april",   "may",      "june",
                                          "july",    "august",   "september", "october", "november", "december"};

static int month_number(Str word)
{
    for (int i = 0; i < 12; i++) {
        if (str_is(word, month_names[i])) {
            return i + 1;
        }
    }
    return 0;
}

static bool word_offered(const Atom *atom, Str word)
{
    for (uint16_t i = 0; i < atom->word_count; i++) {
        if (str_equal(atom->words[i], word)) {
            return true;
        }
    }
    return atom->word_count == 0;
}

/* Whether a term can begin this atom, judged by its looks alone. */
static bool atom_begins(const Match *m, const Atom *atom, bool loosely)
{
    NodeKind kind = cursor_kind(&m->cursor);
    switch ((AtomKind)atom->kind) {
    case ATOM_QUANTITY:
        return quantity_starts(kind);
    case ATOM_REFERENCE:
        return kind == NODE_WORD;
    case ATOM_WORD:
        return kind == NODE_WORD && (loosely || word_offered(atom, cursor_text(&m->cursor)));
    case ATOM_TEXT:
        return kind == NODE_TEXT || kind == NODE_LONG_TEXT;
    case ATOM_DATE:
        return kind == NODE_DATE;
    case ATOM_CLOCK:
        return kind == NODE_CLOCK;
    case ATOM_YES_NO:
        return kind == NODE_WORD && (loosely || is_yes_no(cursor_text(&m->cursor)));
    case ATOM_MONTH:
        return kind == NODE_WORD && (loosely || month_number(cursor_text(&m->cursor)) > 0);
    }
    return false;
}

static Value *new_value(Match *m, uint8_t slot)
{
    uint32_t index = m->list ? m->count : slot;
    if (index >= m->capacity) {
        uint32_t capacity = m->capacity ? m->capacity * 2 : 4;
        m->values = arena_grow(m->checker->arena, m->values, m->capacity * sizeof(Value), capacity * sizeof(Value));
        m->capacity = capacity;
    }
    if (index >= m->count) {
        m->count = index + 1;
    }
    return &m->values[index];
}

static Message *unexpected(Match *m, MessageId id, const char *what)
{
    Span at = cursor_span(&m->cursor);
    return message_report(m->checker->messages, id, at, "%s", what);
}

static void right_example(Match *m, Message *message)
{
    message_right(m->checker->messages, message, "`%s`, for example", m->row->example);
}

/* Appends what may stand at this place: every alternative in words. */
static void describe_item(Buf *to, const ShapeItem *item)
{
    if (item->kind == ITEM_CONNECTING) {
        buf_format(to, "the word `%.*s`", STR_ARG(item->word));
        return;
    }
    for (uint8_t i = 0; i < item->atom_count; i++) {
        buf_text(to, i == 0 ? "" : " or ");
        atom_describe(to, &item->atoms[i]);
    }
}

/* `jun` is june to everybody. */
static const char *month_meant(Str word)
{
    for (int i = 0; i < 12 && word.length >= 3; i++) {
        if (strncmp(word.text, month_names[i], word.length) == 0) {
            return month_names[i];
        }
    }
    return NULL;
}

/* Says what is probably meant by the term at hand where a word of the language stands; false if nothing is near. */
static bool right_near(Match *m, Message *message, const Atom *atom)
{
    Checker *checker = m->checker;
    Str text = cursor_text(&m->cursor);
    NodeKind kind = cursor_kind(&m->cursor);
    if (kind == NODE_DOT) {
        message_right(checker->messages, message, "a digit before the point, such as `0.5`");
        return true;
    }
    if (kind == NODE_TEXT && atom->kind == ATOM_WORD) {
        text = (Str){text.text + 1, text.length - 2};
        if (word_offered(atom, text)) {
            message_right(checker->messages, message, "`%.*s` without quotes", STR_ARG(text));
            return true;
        }
    }
    if (kind != NODE_WORD) {
        return false;
    }
    if (atom->kind == ATOM_YES_NO) {
        message_right(checker->messages, message, "`%s yes` or `%s no`", m->row->word, m->row->word);
        return true;
    }
    Suggestions near = suggest_begin(text);
    for (uint16_t i = 0; i < atom->word_count; i++) {
        suggest_offer(&near, atom->words[i]);
    }
    Buf right;
    buf_init(&right, checker->arena);
    const char *month = atom->kind == ATOM_MONTH ? month_meant(text) : NULL;
    for (int i = 0; i < 12 && atom->kind == ATOM_MONTH && month == NULL; i++) {
        suggest_offer(&near, str_from(month_names[i]));
    }
    if (month != NULL) {
        buf_format(&right, "`%s`", month);
    } else {
        suggest_write(&right, &near);
    }
    if (right.length > 0) {
        message_right(checker->messages, message, "%s", right.text);
    }
    return right.length > 0;
}

static bool tell_expected(Match *m, const ShapeItem *item)
{
    Checker *checker = m->checker;
    Buf wanted;
    buf_init(&wanted, checker->arena);
    describe_item(&wanted, item);
    NodeKind kind = cursor_kind(&m->cursor);
    Message *message;
    if (kind == NODE_NONE) {
        message = message_report(checker->messages, MESSAGE_TERM_MISSING, cursor_span(&m->cursor),
                                 "`%s` ends too early; here stands %s", m->row->word, wanted.text);
        right_example(m, message);
        return false;
    }
    if (kind == NODE_COMMA) {
        message = m->shape->list ? unexpected(m, MESSAGE_LIST_END, "a member of the list is missing before this comma")
                                 : unexpected(m, MESSAGE_COMMA_PLACE, "a comma stands between the members of a list, and no "
                                                                      "list stands here");
        right_example(m, message);
        return false;
    }
    Str text = cursor_text(&m->cursor);
    const Atom *atom = item->kind == ITEM_ATOM ? &item->atoms[0] : NULL;
    bool words = atom != NULL && kind == NODE_WORD &&
                 (atom->kind == ATOM_WORD || atom->kind == ATOM_YES_NO || atom->kind == ATOM_MONTH);
    message = message_report(checker->messages, words ? MESSAGE_WORD_UNKNOWN : MESSAGE_TERM_UNEXPECTED,
                             cursor_span(&m->cursor), "`%.*s` cannot stand here; `%s` takes %s", STR_ARG(text),
                             m->row->word, wanted.text);
    if (atom == NULL || !right_near(m, message, atom)) {
        right_example(m, message);
    }
    return false;
}

static int minutes(Str clock)
{
    int hour = 0;
    size_t i = 0;
    for (; clock.text[i] != ':'; i++) {
        hour = hour * 10 + (clock.text[i] - '0');
    }
    return hour * 60 + (clock.text[i + 1] - '0') * 10 + (clock.text[i + 2] - '0');
}

static bool tell_no_hours(Match *m)
{
    Message *message = unexpected(m, MESSAGE_TERM_MISSING, "hours run from one time to another");
    message_right(m->checker->messages, message, "`18:00..23:00`, for example");
    return false;
}

static bool read_clock(Match *m, Value *value)
{
    value->u.clock.from = minutes(cursor_text(&m->cursor));
    m->cursor.at++;
    if (cursor_kind(&m->cursor) != NODE_TO) {
        return tell_no_hours(m);
    }
    m->cursor.at++;
    if (cursor_kind(&m->cursor) != NODE_CLOCK) {
        return tell_no_hours(m);
    }
    value->u.clock.to = minutes(cursor_text(&m->cursor));
    m->cursor.at++;
    return true;
}

static bool read_text(Match *m, Value *value)
{
    NodeId statement = m->cursor.statement;
    uint16_t term = (uint16_t)(m->cursor.at - statement - 1);
    value->u.text = tree_joined_text(m->checker->tree, statement, &term);
    m->cursor.at = statement + 1 + term;
    return true;
}

static bool read_reference(Match *m, const Atom *atom, Value *value)
{
    bool broken;
    value->u.entity = names_resolve(m->checker, m->cursor.at, m->entity, atom->things, &broken);
    if (broken) {
        value->flags |= VALUE_BROKEN;
    }
    m->cursor.at++;
    return true;
}

/* Reads the value of one atom; false after a message. */
static bool read_atom(Match *m, const Atom *atom, uint8_t slot)
{
    Value read = {.node = m->cursor.at};
    Str text = cursor_text(&m->cursor);
    bool fine = true;
    switch ((AtomKind)atom->kind) {
    case ATOM_QUANTITY: {
        QuantityPlace place = {.atom = atom, .row = m->row, .limited = m->first_quantity};
        m->first_quantity = false;
        fine = quantity_read(m->checker, &m->cursor, place, &read);
        break;
    }
    case ATOM_REFERENCE:
        read.kind = VALUE_REFERENCE;
        fine = read_reference(m, atom, &read);
        break;
    case ATOM_WORD:
        read.kind = VALUE_WORD;
        read.u.word = text;
        fine = atom->word_count > 0 || currency_check(m->checker, m->cursor.at);
        m->cursor.at++;
        break;
    case ATOM_TEXT:
        read.kind = VALUE_TEXT;
        fine = read_text(m, &read);
        break;
    case ATOM_DATE:
        read.kind = VALUE_DATE;
        date_read(text, &read.u.date);
        m->cursor.at++;
        break;
    case ATOM_CLOCK:
        read.kind = VALUE_CLOCK;
        fine = read_clock(m, &read);
        break;
    case ATOM_YES_NO:
        read.kind = VALUE_YES_NO;
        read.u.yes = str_is(text, "yes");
        m->cursor.at++;
        break;
    case ATOM_MONTH:
        read.kind = VALUE_MONTH;
        read.u.month = month_number(text);
        m->cursor.at++;
        break;
    }
    if (fine) {
        *new_value(m, slot) = read;
    }
    return fine;
}

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
        return tell_expected(m, item);
    }
    for (uint8_t i = 0; i < item->atom_count; i++) {
        if (atom_begins(m, &item->atoms[i], false)) {
            bool fine = read_atom(m, &item->atoms[i], item->slot);
            /* The row's limits are about this place, whatever stood in it. */
            m->first_quantity = m->first_quantity && !takes_quantity(item);
            return fine;
        }
    }
    return tell_expected(m, item);
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
        if (atom_begins(m, &item->atoms[i], false)) {
            return true;
        }
    }
    return false;
}

static bool match_items(Match *m, uint8_t from, uint8_t to);

/* Behind a comma at the end of a line: whether the next line is rather a property than a member of the list. */
static bool next_line_is_a_property(const Match *m)
{
    const Checker *checker = m->checker;
    if (m->entity == NULL || cursor_kind(&m->cursor) != NODE_WORD) {
        return false;
    }
    Span between = {tree_node(checker->tree, m->cursor.at - 1)->start, tree_node(checker->tree, m->cursor.at)->start};
    Str text = span_text(checker->tree->sources, between);
    Str word = cursor_text(&m->cursor);
    return memchr(text.text, '\n', text.length) != NULL && schema_find_prop((KindId)m->entity->kind, word) != PROP_NONE &&
           checker->model->by_symbol[tree_node(checker->tree, m->cursor.at)->u.symbol] == NULL;
}

static bool tell_list_goes_on(Match *m)
{
    Str word = cursor_text(&m->cursor);
    m->cursor.at--;
    Message *message = unexpected(m, MESSAGE_LIST_END, "after this comma the list goes on in the next line");
    message_right(m->checker->messages, message, "no comma, if `%.*s` is the next property", STR_ARG(word));
    return false;
}

static bool tell_no_comma(Match *m)
{
    Str text = cursor_text(&m->cursor);
    if (str_is(text, "and") || str_is(text, "or")) {
        Message *message = unexpected(m, MESSAGE_LIST_END, "between the members of a list stands a comma and nothing else");
        message_right(m->checker->messages, message, "`,` in place of `%.*s`", STR_ARG(text));
    } else {
        Message *message = unexpected(m, MESSAGE_LIST_END, "a comma is missing before this member of the list");
        message_right(m->checker->messages, message, "`, %.*s`", STR_ARG(text));
    }
    return false;
}

/* list = members "," ... [","] */
static bool match_list(Match *m, uint8_t begin)
{
    const ShapeItem *item = &m->shape->items[begin];
    uint8_t end = item->end;
    for (;;) {
        if (!match_items(m, (uint8_t)(begin + 1), end)) {
            return false;
        }
        NodeKind kind = cursor_kind(&m->cursor);
        if (kind == NODE_COMMA) {
            m->cursor.at++;
            if (cursor_kind(&m->cursor) == NODE_NONE) {
                return true; /* a comma after the last */
            }
            if (next_line_is_a_property(m)) {
                return tell_list_goes_on(m);
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
        if (item->kind == ITEM_OPTION) {
            if (!item_begins(m, item + 1)) {
                i = item->end;
            }
        } else if (item->kind == ITEM_LIST) {
            if (!match_list(m, i)) {
                return false;
            }
            i = item->end;
        } else if (item->kind != ITEM_OPTION_END && item->kind != ITEM_LIST_END && !match_item(m, item)) {
            return false;
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

/* Something is left over: told by what might have stood there. */
static bool tell_left_over(Match *m)
{
    NodeKind kind = cursor_kind(&m->cursor);
    if (kind == NODE_COMMA) {
        Message *comma = unexpected(m, MESSAGE_COMMA_PLACE, "a comma stands between the members of a list, and no list "
                                                            "stands here");
        message_right(m->checker->messages, comma, "a new line, or `;` in a short block, if a property follows");
        return false;
    }
    Message *message = message_report(m->checker->messages, MESSAGE_TERM_UNEXPECTED, cursor_span(&m->cursor),
                                      "`%.*s` has no place in `%s` here", STR_ARG(cursor_text(&m->cursor)), m->row->word);
    Str text = cursor_text(&m->cursor);
    bool range = str_is(text, "to") || (kind == NODE_NUMBER && text.text[0] == '-');
    if (range && tree_kind(m->checker->tree, m->cursor.at - 1) == NODE_NUMBER) {
        message_right(m->checker->messages, message, "`..` between the ends of a range");
    } else if (kind != NODE_WORD || (!right_near_any(m, message) && !right_left_out(m, message))) {
        right_example(m, message);
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

static bool has_no_quantity(const Shape *shape)
{
    for (uint8_t i = 0; i < shape->item_count; i++) {
        for (uint8_t a = 0; a < shape->items[i].atom_count; a++) {
            if (shape->items[i].atoms[a].kind == ATOM_QUANTITY) {
                return false;
            }
        }
    }
    return true; /* no quantity: nothing whose certainty could be told */
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

static const Block *read_block(Checker *checker, NodeId owner, KindId kind, const Entity *entity);

/* Reads the terms of one property; first is its first term behind the property's word. */
static Property read_property(Checker *checker, NodeId statement, NodeId first, PropId id, const Entity *entity)
{
    const Node *node = tree_node(checker->tree, statement);
    Property property = {.id = (uint16_t)id, .node = statement};
    if (node->flags & NODE_BAD) {
        property.flags = PROPERTY_BROKEN;
        return property;
    }
    Match m = {.checker = checker,
               .cursor = {.checker = checker, .at = first, .end = statement + 1 + node->terms, .statement = statement},
               .shape = shapes_get(checker->spec->shapes, id),
               .row = &props[id],
               .entity = entity,
               .first_quantity = true};
    m.list = m.shape->list;
    uint32_t room = m.shape->slots + (m.row->block != 0 ? 1u : 0u);
    m.values = ARENA_ARRAY(checker->arena, Value, room);
    m.capacity = room;
    m.count = m.list ? 0 : m.shape->slots;
    if (!has_no_quantity(m.shape)) {
        property.known = (uint8_t)take_known(checker, &m.cursor, first);
    }
    bool fine = match_items(&m, 0, m.shape->item_count) &&
                (m.cursor.at == m.cursor.end || tell_left_over(&m));
    if (!fine) {
        property.flags |= PROPERTY_BROKEN;
    }
    if (m.row->block != 0) {
        const Block *block = read_block(checker, statement, (KindId)m.row->block, entity);
        bool list = m.list;
        m.list = true;
        *new_value(&m, 0) = (Value){.kind = VALUE_BLOCK, .node = statement, .u.block = block};
        m.list = list;
    } else if (node->flags & NODE_HAS_BLOCK) {
        Message *message = message_report(checker->messages, MESSAGE_BLOCK_HERE, brace_of(checker->tree, statement),
                                          "`%s` takes no block", m.row->word);
        message_right(checker->messages, message, "a line of its own for each property, without braces");
    }
    property.values = m.values;
    property.count = (uint16_t)m.count;
    return property;
}

Property check_statement(Checker *checker, NodeId statement, PropId id)
{
    return read_property(checker, statement, statement + 2, id, NULL);
}

/* Tells a word that is no property of the kind; the property that is probably meant, or PROP_NONE. */
static PropId tell_unknown_property(Checker *checker, NodeId statement, NodeId term, KindId kind)
{
    Str word = tree_text(checker->tree, term);
    KindId thing = (KindId)checker->kind_of_symbol[tree_node(checker->tree, term)->u.symbol];
    if (thing != KIND_NONE && tree_node(checker->tree, statement)->flags & NODE_HAS_BLOCK) {
        Message *m = message_report(checker->messages, MESSAGE_MISPLACED, tree_span(checker->tree, term),
                                    "%s `%.*s` cannot stand inside of %s `%s`", article(kinds[thing].word), STR_ARG(word),
                                    article(kinds[kind].word), kinds[kind].word);
        message_right(checker->messages, m, "things beside each other; they refer to each other by name");
        read_block(checker, statement, thing, NULL); /* for its own mistakes */
        return PROP_NONE;
    }
    Message *m = message_report(checker->messages, MESSAGE_UNKNOWN_PROPERTY, tree_span(checker->tree, term),
                                "`%s` has no property `%.*s`", kinds[kind].word, STR_ARG(word));
    if (statement_kind(word) == NODE_WAIVE || statement_kind(word) == NODE_INCLUDE) {
        message_right(checker->messages, m, "`%.*s` stands outside of the things, at the outermost level", STR_ARG(word));
        return PROP_NONE;
    }
    Buf right;
    buf_init(&right, checker->arena);
    PropId meant = property_meant(&right, kind, word);
    if (meant == PROP_NONE) {
        buf_format(&right, "one of those that `garboard kinds %s` lists", kinds[kind].word);
    }
    message_right(checker->messages, m, "%s", right.text);
    return meant;
}

/* Properties in the making. */
typedef struct Gather {
    Checker *checker;
    Property *properties;
    uint32_t count;
    uint32_t capacity;
    uint32_t stated;  /* how many of them the thing states itself */
    bool lines_lost;  /* a line is broken, and may have been another property, or hold one */
} Gather;

static void gather_add(Gather *gather, Property property)
{
    if (gather->count == gather->capacity) {
        uint32_t capacity = gather->capacity * 2 + 8;
        gather->properties = arena_grow(gather->checker->arena, gather->properties, gather->capacity * sizeof(Property),
                                        capacity * sizeof(Property));
        gather->capacity = capacity;
    }
    gather->properties[gather->count++] = property;
}

static Property *find_gathered(Gather *gather, PropId id)
{
    for (uint32_t i = 0; i < gather->count; i++) {
        if (gather->properties[i].id == id) {
            return &gather->properties[i];
        }
    }
    return NULL;
}

static void tell_stated_twice(Checker *checker, NodeId again, NodeId first, PropId id)
{
    Message *m = message_report(checker->messages, MESSAGE_PROPERTY_TWICE, tree_span(checker->tree, again + 1),
                                "`%s` is stated twice", props[id].word);
    message_note(checker->messages, m, tree_span(checker->tree, first + 1), "here first");
    message_right(checker->messages, m, "one of the two lines");
}

/* The property of that word; the schema is asked once for each pair of kind and word, as a rule. */
static PropId find_prop(Checker *checker, KindId kind, NodeId term)
{
    Symbol word = tree_node(checker->tree, term)->u.symbol;
    FoundProp *found = &checker->spec->found_props[((word << 6 | (uint32_t)kind) * 2654435761u >> 16) % FOUND_PROPS];
    if (found->word != word || found->kind != kind) {
        *found = (FoundProp){.word = word,
                             .kind = (uint8_t)kind,
                             .prop = (uint16_t)schema_find_prop(kind, tree_text(checker->tree, term))};
    }
    return (PropId)found->prop;
}

/* A property that a broken line was probably meant to state: unknown now, but not missing. */
static void gather_lost(Gather *gather, PropId id, NodeId statement)
{
    if (id != PROP_NONE && find_gathered(gather, id) == NULL) {
        gather_add(gather, (Property){.id = (uint16_t)id, .node = statement, .flags = PROPERTY_BROKEN});
    }
}

/* What a comma too many has drawn into a statement: `mass 18 kg, count 4`. */
static void gather_drawn_in(Gather *gather, NodeId statement, KindId kind)
{
    const Tree *tree = gather->checker->tree;
    uint16_t terms = tree_node(tree, statement)->terms;
    for (NodeId term = statement + 3; term < statement + 1 + terms; term++) {
        if (tree_kind(tree, term) == NODE_WORD && tree_kind(tree, term - 1) == NODE_COMMA) {
            gather_lost(gather, find_prop(gather->checker, kind, term), statement);
        }
    }
}

/* Once more through a block with broken lines, for what is to be taken as stated in them. */
static void gather_lost_lines(Gather *gather, NodeId owner, KindId kind)
{
    Checker *checker = gather->checker;
    for (NodeId id = walk_block(checker->tree, owner, 0); id != 0; id = walk_block(checker->tree, owner, id)) {
        if (find_prop(checker, kind, id + 1) != PROP_NONE) {
            gather_drawn_in(gather, id, kind);
        } else {
            Buf unused;
            buf_init(&unused, checker->arena);
            gather_lost(gather, property_meant(&unused, kind, tree_text(checker->tree, id + 1)), id);
        }
    }
}

static void gather_own(NodeId owner, KindId kind, const Entity *entity, Gather *gather)
{
    Checker *checker = gather->checker;
    for (NodeId id = walk_block(checker->tree, owner, 0); id != 0; id = walk_block(checker->tree, owner, id)) {
        PropId prop = find_prop(checker, kind, id + 1);
        if (prop == PROP_NONE) {
            tell_unknown_property(checker, id, id + 1, kind);
            gather->lines_lost = true;
            continue;
        }
        Property *before = props[prop].repeats ? NULL : find_gathered(gather, prop);
        if (before != NULL) {
            tell_stated_twice(checker, id, before->node, prop);
            continue;
        }
        gather_add(gather, read_property(checker, id, id + 2, prop, entity));
        gather->lines_lost |= gather->properties[gather->count - 1].flags & PROPERTY_BROKEN;
    }
    if (gather->lines_lost) {
        gather_lost_lines(gather, owner, kind);
    }
    gather->stated = gather->count;
}

static Block block_of(const Property *properties, uint32_t count)
{
    Block block = {.properties = properties, .count = count};
    for (uint32_t i = 0; i < count; i++) {
        block.has |= (uint64_t)1 << (properties[i].id % 64);
    }
    return block;
}

static uint32_t count_block(const Checker *checker, NodeId owner)
{
    uint32_t count = 0;
    for (NodeId id = walk_block(checker->tree, owner, 0); id != 0; id = walk_block(checker->tree, owner, id)) {
        count++;
    }
    return count;
}

static const Block *read_block(Checker *checker, NodeId owner, KindId kind, const Entity *entity)
{
    Block *block = ARENA_NEW(checker->arena, Block);
    uint32_t most = count_block(checker, owner);
    if (most > 0) {
        Gather gather = {.checker = checker, .properties = ARENA_ARRAY(checker->arena, Property, most), .capacity = most};
        gather_own(owner, kind, entity, &gather);
        *block = block_of(gather.properties, gather.count);
    }
    return block;
}

static void tell_no_part(Checker *checker, const Entity *entity, NodeId term)
{
    Str name = tree_text(checker->tree, term);
    if (checker->model->by_symbol[tree_node(checker->tree, term)->u.symbol] != NULL) {
        Message *m = message_report(checker->messages, MESSAGE_WRONG_KIND, tree_span(checker->tree, term),
                                    "`%.*s` is a thing of its own, not a part", STR_ARG(name));
        message_right(checker->messages, m, "a `part NAME for %s { ... }` that both are", kinds[entity->kind].word);
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
static KindId part_kind(const Checker *checker, const Header *part)
{
    return part->kind == 0 ? KIND_NONE : (KindId)checker->kind_of_symbol[tree_node(checker->tree, part->kind)->u.symbol];
}

static void tell_part_kind(Checker *checker, const Entity *entity, NodeId term, const Header *part)
{
    const char *is = kinds[part_kind(checker, part)].word;
    const char *wanted = kinds[entity->kind].word;
    Message *m = message_report(checker->messages, MESSAGE_PART_KIND, tree_span(checker->tree, term),
                                "the part `%.*s` describes %s %s, not %s %s", STR_ARG(tree_text(checker->tree, term)),
                                article(is), is, article(wanted), wanted);
    message_note(checker->messages, m, tree_span(checker->tree, part->kind), "here");
    message_right(checker->messages, m, "a `part NAME for %s { ... }`", wanted);
}

/* The part that a thing is; NULL if it is none, or after a message. */
static const Block *part_block(Checker *checker, Entity *entity)
{
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
        checker->part_blocks[name] = read_block(checker, part, kind, NULL);
    }
    if (entity->title.length == 0) {
        entity->title = of_part.title;
    }
    return checker->part_blocks[name];
}

/* What the part states and the thing does not. */
static void gather_part(const Block *part, Gather *gather)
{
    for (uint32_t i = 0; part != NULL && i < part->count; i++) {
        const Property *inherited = &part->properties[i];
        bool overridden = false;
        for (uint32_t own = 0; own < gather->stated; own++) {
            overridden |= gather->properties[own].id == inherited->id;
        }
        if (!overridden) {
            gather_add(gather, *inherited);
            gather->properties[gather->count - 1].flags |= PROPERTY_FROM_PART;
        }
    }
}

/* The properties that a kind cannot do without, up to PROP_NONE; found once for each kind. */
static const uint16_t *required_props(Checker *checker, KindId kind)
{
    if (checker->spec->required[kind] == NULL) {
        uint16_t *list = ARENA_ARRAY(checker->arena, uint16_t, 16);
        int count = 0;
        for (int p = PROP_NONE + 1; p < PROP_COUNT; p++) {
            bool may_have = props[p].owner == kind || kinds[props[p].owner].group;
            if (props[p].required && may_have && count < 15 && schema_has(kind, (PropId)p)) {
                list[count++] = (uint16_t)p;
            }
        }
        checker->spec->required[kind] = list;
    }
    return checker->spec->required[kind];
}

static bool begins_with_quantity(Checker *checker, PropId id)
{
    const Shape *shape = shapes_get(checker->spec->shapes, id);
    return shape->item_count > 0 && shape->items[0].kind == ITEM_ATOM && shape->items[0].atoms[0].kind == ATOM_QUANTITY;
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
        buf_format(&right, "%s`%s`", between, props[missing[i]].example);
    }
    if (count == 1) {
        buf_format(&what, ": %s", props[missing[0]].help);
    }
    if (begins_with_quantity(checker, missing[count - 1])) {
        buf_format(&right, ", or `%s ?` while it is not known", props[missing[count - 1]].word);
    }
    Message *m = message_report(checker->messages, MESSAGE_PROPERTY_MISSING, entity_span(checker->model, entity),
                                "`%.*s` needs %s", STR_ARG(entity_name(checker->model, entity)), what.text);
    message_right(checker->messages, m, "%s", right.text);
}

static void tell_missing_properties(Checker *checker, const Entity *entity)
{
    PropId missing[16];
    int count = 0;
    if (entity->flags & ENTITY_BROKEN) {
        return;
    }
    for (const uint16_t *required = required_props(checker, (KindId)entity->kind); *required != PROP_NONE; required++) {
        if (entity_property(entity, (PropId)*required) == NULL) {
            missing[count++] = (PropId)*required;
        }
    }
    if (count > 0) {
        tell_missing(checker, entity, missing, count);
    }
}

static void gather_entity(Checker *checker, Entity *entity)
{
    if (entity->kind == KIND_NONE) {
        return;
    }
    const Block *part = part_block(checker, entity);
    uint32_t most = count_block(checker, entity->node) + (part != NULL ? part->count : 0);
    if (most == 0) {
        return;
    }
    Gather gather = {.checker = checker, .properties = ARENA_ARRAY(checker->arena, Property, most), .capacity = most};
    gather_own(entity->node, (KindId)entity->kind, entity, &gather);
    gather_part(part, &gather);
    entity->block = block_of(gather.properties, gather.count);
}

/*
 * With choices open, many models are built of one spec. What stands outside of options is read once; later models take it
 * over, and only the names in it are looked up again, among their own things.
 */
struct ReadThing {
    Block block;
    Str title;
    NodeId part;
    uint8_t flags;
};

static bool has_names(const Property *property)
{
    for (uint16_t i = 0; i < property->count; i++) {
        if (property->values[i].kind == VALUE_REFERENCE || property->values[i].kind == VALUE_BLOCK) {
            return true;
        }
    }
    return false;
}

static Block with_own_names(Checker *checker, const Block *read);

static const Value *own_values(Checker *checker, const Property *property)
{
    Value *values = ARENA_ARRAY(checker->arena, Value, property->count);
    memcpy(values, property->values, property->count * sizeof(Value));
    for (uint16_t i = 0; i < property->count; i++) {
        Value *value = &values[i];
        if (value->kind == VALUE_BLOCK) {
            Block *block = ARENA_NEW(checker->arena, Block);
            *block = with_own_names(checker, value->u.block);
            value->u.block = block;
        } else if (value->kind == VALUE_REFERENCE && !(value->flags & VALUE_BROKEN)) {
            value->u.entity = checker->model->by_symbol[tree_node(checker->tree, value->node)->u.symbol];
            if (value->u.entity == NULL) {
                value->flags |= VALUE_BROKEN;
            }
        }
    }
    return values;
}

static Block with_own_names(Checker *checker, const Block *read)
{
    Block block = *read;
    Property *properties = NULL;
    for (uint32_t i = 0; i < read->count; i++) {
        if (!has_names(&read->properties[i])) {
            continue;
        }
        if (properties == NULL) {
            properties = ARENA_ARRAY(checker->arena, Property, read->count);
            memcpy(properties, read->properties, read->count * sizeof(Property));
            block.properties = properties;
        }
        properties[i].values = own_values(checker, &read->properties[i]);
    }
    return block;
}

static void take_over(Checker *checker, Entity *entity, const ReadThing *read)
{
    entity->block = with_own_names(checker, &read->block);
    entity->title = read->title;
    entity->part = read->part;
    entity->flags |= read->flags;
}

/* Things outside of options come first, in the same order in every model. */
static void read_things(Checker *checker)
{
    Model *model = checker->model;
    Spec *spec = checker->spec;
    bool again = spec->read_things != NULL;
    if (!again && spec_combinations(spec, 1) > 1) {
        spec->read_things = ARENA_ARRAY(checker->arena, ReadThing, model->entity_count);
    }
    if (model->boat != NULL) {
        /* First, so that money can be turned to its currency. */
        gather_entity(checker, model->boat);
        model->currency = entity_word(model->boat, PROP_BOAT_CURRENCY);
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        Entity *entity = model->entities[i];
        if (again && entity->option == 0) {
            take_over(checker, entity, &spec->read_things[i]);
        } else if (entity != model->boat) {
            gather_entity(checker, entity);
        }
        if (!again && spec->read_things != NULL && entity->option == 0) {
            spec->read_things[i] = (ReadThing){entity->block, entity->title, entity->part, entity->flags};
        }
    }
}

/* A `set NAME.PROPERTY value` of a chosen option: its statement, the thing and the property. */
typedef struct Setting {
    NodeId statement;
    Entity *entity;
    PropId id;
} Setting;

static bool find_setting(Checker *checker, NodeId statement, const Entity *in_option, Setting *setting)
{
    if (tree_node(checker->tree, statement)->flags & NODE_BAD) {
        return false;
    }
    KindSet any = {{~(uint64_t)0, ~(uint64_t)0}};
    bool broken;
    Entity *entity = names_resolve(checker, statement + 2, in_option, any, &broken);
    if (entity == NULL) {
        return false;
    }
    PropId id = find_prop(checker, (KindId)entity->kind, statement + 4);
    if (id == PROP_NONE) {
        tell_unknown_property(checker, statement, statement + 4, (KindId)entity->kind);
        return false;
    }
    *setting = (Setting){statement, entity, id};
    return true;
}

/* Puts a property in place of all lines of its kind that the thing has. */
static void replace_property(Checker *checker, Entity *entity, Property property)
{
    Property *kept = ARENA_ARRAY(checker->arena, Property, entity->block.count + 1);
    uint32_t count = 0;
    for (uint32_t i = 0; i < entity->block.count; i++) {
        const Property *old = &entity->block.properties[i];
        bool same_setting = old->flags & PROPERTY_FROM_SET && property.flags & PROPERTY_FROM_SET;
        if (old->id != property.id || (props[property.id].repeats && same_setting)) {
            kept[count++] = *old;
        }
    }
    kept[count++] = property;
    entity->block = block_of(kept, count);
}

static void tell_set_twice(Checker *checker, const Setting *now, const Setting *before)
{
    Message *m = message_report(checker->messages, MESSAGE_SET_TWICE, tree_span(checker->tree, now->statement + 4),
                                "two options that are picked set `%.*s.%s`",
                                STR_ARG(entity_name(checker->model, now->entity)), props[now->id].word);
    message_note(checker->messages, m, tree_span(checker->tree, before->statement + 4), "the other");
    message_right(checker->messages, m, "one of them, or one choice for both");
}

static void apply_settings(Checker *checker)
{
    Setting *done = NULL;
    NodeId *owners = NULL;
    uint32_t count = 0;
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        if (choice->chosen < 0) {
            continue;
        }
        NodeId option = choice->options[choice->chosen].node;
        Entity in_option = {.option = option};
        for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
            Setting setting;
            if (tree_kind(checker->tree, id) != NODE_SET || !find_setting(checker, id, &in_option, &setting)) {
                continue;
            }
            bool clash = false;
            for (uint32_t j = 0; j < count && !clash; j++) {
                bool same = done[j].entity == setting.entity && done[j].id == setting.id;
                if (same && (owners[j] != option || !props[setting.id].repeats)) {
                    tell_set_twice(checker, &setting, &done[j]);
                    clash = true;
                }
            }
            if (clash) {
                continue;
            }
            if ((count & (count - 1)) == 0) { /* the lists double */
                uint32_t room = count == 0 ? 1 : count * 2;
                done = arena_grow(checker->arena, done, count * sizeof(Setting), room * sizeof(Setting));
                owners = arena_grow(checker->arena, owners, count * sizeof(NodeId), room * sizeof(NodeId));
            }
            done[count] = setting;
            owners[count++] = option;
            Property property = read_property(checker, id, id + 5, setting.id, &in_option);
            property.flags |= PROPERTY_FROM_SET;
            replace_property(checker, setting.entity, property);
        }
    }
}

/* What the command line sets, after everything else. */
static void apply_command_sets(Checker *checker)
{
    for (uint32_t i = 0; i < checker->spec->set_count; i++) {
        NodeId statement = checker->spec->sets[i];
        Setting setting;
        if (find_setting(checker, statement, NULL, &setting)) {
            Property property = read_property(checker, statement, statement + 5, setting.id, NULL);
            property.flags |= PROPERTY_FROM_SET;
            replace_property(checker, setting.entity, property);
        }
    }
}

static void read_waiver(Checker *checker, NodeId id)
{
    Model *model = checker->model;
    const Tree *tree = checker->tree;
    Waiver *waiver = &model->waivers[model->waiver_count++];
    *waiver = (Waiver){.node = id,
                       .rule = tree_text(tree, id + 2),
                       .rule_at = tree_span(tree, id + 2),
                       .subject = tree_node(tree, id + 4)->u.symbol,
                       .subject_at = tree_span(tree, id + 4)};
    uint16_t term = 4;
    if (tree_kind(tree, id + 1 + term) == NODE_WORD && str_is(tree_text(tree, id + 1 + term), "until")) {
        waiver->has_until = date_read(tree_text(tree, id + 2 + term), &waiver->until);
        term = (uint16_t)(term + 2);
    }
    term++; /* because */
    waiver->because = tree_joined_text(tree, id, &term);
    bool broken;
    KindSet any = {{~(uint64_t)0, ~(uint64_t)0}};
    names_resolve(checker, id + 4, NULL, any, &broken);
}

static void read_waivers(Checker *checker)
{
    uint32_t count = 0;
    Walk counting = walk_others(checker->spec);
    for (NodeId id = walk_next(&counting); id != 0; id = walk_next(&counting)) {
        count += tree_kind(checker->tree, id) == NODE_WAIVE;
    }
    checker->model->waivers = ARENA_ARRAY(checker->arena, Waiver, count);
    Walk walk = walk_others(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(checker->tree, id) == NODE_WAIVE && !(tree_node(checker->tree, id)->flags & NODE_BAD)) {
            read_waiver(checker, id);
        }
    }
}

static void add_score(Checker *checker, const Choice *choice, uint32_t option, NodeId id)
{
    Model *model = checker->model;
    KindSet criteria = {{0, 0}};
    criteria.bits[KIND_CRITERION / 64] |= (uint64_t)1 << (KIND_CRITERION % 64);
    bool broken;
    names_resolve(checker, id + 2, NULL, criteria, &broken);
    Score score = {.node = id, .choice = choice, .option = option, .criterion = tree_node(checker->tree, id + 2)->u.symbol};
    if (broken || !num_read(tree_text(checker->tree, id + 3), &score.points) ||
        !num_read(tree_text(checker->tree, id + 5), &score.of)) {
        return;
    }
    if (score.points < 0.0 || score.of <= 0.0 || score.points > score.of) {
        Message *m = message_report(checker->messages, MESSAGE_OUT_OF_RANGE, tree_span(checker->tree, id + 3),
                                    "a score lies between 0 and the most that can be had");
        message_right(checker->messages, m, "`score mend 4 of 5`, for example");
        return;
    }
    uint32_t count = model->score_count;
    if ((count & (count - 1)) == 0) { /* the list doubles */
        model->scores = arena_grow(checker->arena, model->scores, count * sizeof(Score),
                                   (count == 0 ? 1 : count * 2) * sizeof(Score));
    }
    model->scores[model->score_count++] = score;
}

static void read_scores(Checker *checker)
{
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            NodeId option = choice->options[o].node;
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
                if (tree_kind(checker->tree, id) == NODE_SCORE && !(tree_node(checker->tree, id)->flags & NODE_BAD)) {
                    add_score(checker, choice, o, id);
                }
            }
        }
    }
}

/* Parts that nothing uses are read all the same, so that their mistakes show. */
static void read_unused_parts(Checker *checker)
{
    for (Symbol s = 1; s < checker->model->symbol_count; s++) {
        if (checker->parts[s] != 0 && checker->part_blocks[s] == NULL) {
            Header header = tree_header(checker->tree, checker->parts[s]);
            KindId kind = part_kind(checker, &header);
            if (kind != KIND_NONE) {
                checker->part_blocks[s] = read_block(checker, checker->parts[s], kind, NULL);
            }
        }
    }
}

/* Things that the model cannot hold, and settings in options that no model takes: for their mistakes alone. */
static void read_orphans(Checker *checker)
{
    for (uint32_t i = 0; i < checker->orphan_count; i++) {
        const Orphan *orphan = &checker->orphans[i];
        Entity nobody = {.kind = (uint8_t)orphan->kind, .option = orphan->option, .node = orphan->statement};
        read_block(checker, orphan->statement, orphan->kind, &nobody);
    }
}

static void read_spare_settings(Checker *checker)
{
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        for (uint32_t o = 0; o < choice->option_count && choice->picked >= 0; o++) {
            NodeId option = choice->options[o].node;
            Entity in_option = {.option = option};
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0 && !choice_takes(choice, option);
                 id = walk_block(checker->tree, option, id)) {
                Setting setting;
                if (tree_kind(checker->tree, id) == NODE_SET && find_setting(checker, id, &in_option, &setting)) {
                    read_property(checker, id, id + 5, setting.id, &in_option);
                }
            }
        }
    }
}

static void read_system(Entity *entity)
{
    Str word = entity_word(entity, PROP_COMMON_SYSTEM);
    if (word.length > 0) {
        entity->system = (uint8_t)system_find(word);
    }
    if (str_is(entity_word(entity, PROP_COMMON_STATUS), "dropped")) {
        entity->flags |= ENTITY_DROPPED;
    }
}

void check_properties(Checker *checker)
{
    Model *model = checker->model;
    read_things(checker);
    apply_settings(checker);
    apply_command_sets(checker);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        read_system(model->entities[i]);
        tell_missing_properties(checker, model->entities[i]);
    }
    read_orphans(checker);
    if (checker->spec->first_checker == NULL) {
        read_unused_parts(checker);
        read_spare_settings(checker);
        read_waivers(checker);
    } else {
        model->waivers = checker->spec->first_checker->model->waivers;
        model->waiver_count = checker->spec->first_checker->model->waiver_count;
    }
    read_scores(checker);
}
