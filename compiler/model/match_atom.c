/*
 * One term of a property: whether it may stand where it does, what it is worth, and what was probably meant by one that may
 * not.
 */
#include "model/habits.h"

#include "language/suggest.h"
#include "model/meant.h"

static bool is_yes_no(Str word)
{
    return str_is(word, "yes") || str_is(word, "no");
}

static const char *const month_names[] = {"january",   "february", "march",    "april",
                                          "may",       "june",     "july",     "august",
                                          "september", "october",  "november", "december"};

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

const uint32_t match_first_terms[] = {
    [ATOM_QUANTITY] = 1u << NODE_NUMBER | 1u << NODE_HOLE | 1u << NODE_AT_LEAST | 1u << NODE_AT_MOST,
    [ATOM_REFERENCE] = 1u << NODE_WORD,
    [ATOM_WORD] = 1u << NODE_WORD,
    [ATOM_TEXT] = 1u << NODE_TEXT | 1u << NODE_LONG_TEXT,
    [ATOM_DATE] = 1u << NODE_DATE,
    [ATOM_CLOCK] = 1u << NODE_CLOCK,
    [ATOM_YES_NO] = 1u << NODE_WORD,
    [ATOM_MONTH] = 1u << NODE_WORD,
};

bool match_takes_word(const Match *m, const Atom *atom)
{
    Str word = cursor_text(&m->cursor);
    switch ((AtomKind)atom->kind) {
    case ATOM_WORD: return word_offered(atom, word);
    case ATOM_YES_NO: return is_yes_no(word);
    case ATOM_MONTH: return month_number(word) > 0;
    default: return true;
    }
}

Value *match_append(Match *m)
{
    if (m->count == m->capacity) {
        uint32_t capacity = m->capacity ? m->capacity * 2 : 4;
        m->values =
            arena_grow(m->checker->arena, m->values, m->capacity * sizeof(Value), capacity * sizeof(Value));
        m->capacity = capacity;
    }
    return &m->values[m->count++];
}

Message *match_tell(Match *m, MessageId id, const char *what)
{
    Span at = cursor_span(&m->cursor);
    return message_report(m->checker->messages, id, at, "%s", what);
}

void match_right_example(Match *m, Message *message)
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

static bool takes_word(const void *atom, Str word)
{
    const Atom *of = atom;
    return of->word_count > 0 && word_offered(of, word);
}

/* Another property of the same kind that has the word in its list, as `built` has `steel`; PROP_NONE: none has, or several. */
static PropId property_that_takes(const Match *m, Str word)
{
    PropId found = PROP_NONE;
    for (PropId p = schema_next_prop((KindId)m->row->owner, PROP_NONE); p != PROP_NONE; p = schema_next_prop((KindId)m->row->owner, p)) {
        if (props[p].owner != m->row->owner) {
            continue; /* one that all kinds have, as `system`, is not what somebody meant by a word of this kind */
        }
        const Shape *shape = shapes_get(m->checker->model->shapes, p);
        const Atom *first = shape->item_count > 0 && shape->items[0].kind == ITEM_ATOM ? shape->items[0].atoms : NULL;
        if (first != NULL && first->kind == ATOM_WORD && takes_word(first, word)) {
            if (found != PROP_NONE) {
                return PROP_NONE;
            }
            found = p;
        }
    }
    return found;
}

/*
 * Where one of a few words stands and nothing is near, no example: the one that it happens to name may be another fuel or
 * another chemistry than the owner has.
 */
static void right_one_of(Match *m, Message *message)
{
    PropId other = property_that_takes(m, cursor_text(&m->cursor));
    if (other != PROP_NONE) {
        message_right(m->checker->messages, message, "`%s %.*s`, and `%s` with the one of them that is so", props[other].word,
                      STR_ARG(cursor_text(&m->cursor)), m->row->word);
        return;
    }
    message_right(m->checker->messages, message, "`%s` and the one of them that is so", m->row->word);
}

/* Whether a text could be written without its quotes where an atom stands. */
static bool can_stand_bare(const Atom *atom, Str text)
{
    bool begins = text.length > 0;
    bool letter = begins && char_is_letter(text.text[0]);
    bool digit = begins && char_is_digit(text.text[0]);
    switch ((AtomKind)atom->kind) {
    case ATOM_WORD: return atom->word_count > 0 && word_offered(atom, text);
    case ATOM_YES_NO: return is_yes_no(text);
    case ATOM_MONTH: return month_number(text) > 0;
    case ATOM_REFERENCE: return letter && memchr(text.text, ' ', text.length) == NULL;
    case ATOM_QUANTITY: return digit || (begins && strchr("?<>-", text.text[0]) != NULL);
    case ATOM_DATE: return date_read(text, &(Date){0});
    case ATOM_CLOCK: return digit;
    case ATOM_TEXT: break;
    }
    return false;
}

/* The thing of that kind with that title; NULL: none, or more than one. */
static const Entity *titled(const Checker *checker, Str title, KindSet wanted)
{
    const Entity *found = NULL;
    for (uint32_t i = 0; i < checker->model->entity_count; i++) {
        const Entity *entity = checker->model->entities[i];
        if (kind_set_has(wanted, (KindId)entity->kind) && str_equal(tree_header(checker->tree, entity->node).title, title)) {
            if (found != NULL) {
                return NULL;
            }
            found = entity;
        }
    }
    return found;
}

/* `draw "0.2 A"`: what is written is right but for the quotes; `fed-by "House bank"`: a title in place of the name. */
static bool right_unquoted(Match *m, Message *message, const Atom *atom)
{
    Checker *checker = m->checker;
    Str text = tree_unquoted(checker->tree, m->cursor.at);
    bool look = atom->kind == ATOM_REFERENCE && text.length > 0 && checker->near_left-- > 0;
    const Entity *thing = look ? titled(checker, text, atom->things) : NULL;
    if (thing != NULL) {
        message_right(checker->messages, message, "`%.*s`, the name of \"%.*s\"; a title is only shown", STR_ARG(entity_name(checker->model, thing)),
                      STR_ARG(text));
    } else if (can_stand_bare(atom, text)) {
        message_right(checker->messages, message, "`%.*s` without quotes", STR_ARG(text));
    } else {
        return false;
    }
    return true;
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
    if (kind == NODE_TEXT && right_unquoted(m, message, atom)) {
        return true;
    }
    if (kind != NODE_WORD) {
        return false;
    }
    if (atom->kind == ATOM_YES_NO) {
        message_right(checker->messages, message, "`%s yes` or `%s no`", m->row->word, m->row->word);
        return true;
    }
    Buf right;
    buf_init(&right, checker->arena);
    if (value_meant(&right, m->row->word, text, takes_word, atom)) {
        message_right(checker->messages, message, "%s", right.text);
        return true;
    }
    Suggestions near = suggest_begin(text);
    for (uint16_t i = 0; i < atom->word_count; i++) {
        suggest_offer(&near, atom->words[i]);
    }
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

/* "8A 34B", as a plate says it: a number with letters close behind it is one word there. False if none of them is meant. */
static bool right_plate(Match *m, Message *message, const Atom *atom)
{
    const Tree *tree = m->checker->tree;
    Buf right;
    buf_init(&right, m->checker->arena);
    if (atom->kind != ATOM_WORD || cursor_kind(&m->cursor) != NODE_NUMBER) {
        return false;
    }
    for (NodeId at = m->cursor.at; at + 1 < m->cursor.end && right.length == 0; at++) {
        Span number = tree_span(tree, at), letters = tree_span(tree, at + 1);
        bool close = tree_kind(tree, at) == NODE_NUMBER && tree_kind(tree, at + 1) == NODE_WORD && number.end == letters.start;
        if (close) {
            value_meant(&right, m->row->word, span_text(tree->sources, (Span){number.start, letters.end}), takes_word, atom);
        }
    }
    if (right.length > 0) {
        message_right(m->checker->messages, message, "%s", right.text);
    }
    return right.length > 0;
}

/* The same where the place takes something else, too: `rated 16 A at "230 V"`. */
static bool right_other_unquoted(Match *m, Message *message, const ShapeItem *item)
{
    for (uint8_t i = 1; i < item->atom_count && cursor_kind(&m->cursor) == NODE_TEXT; i++) {
        if (right_unquoted(m, message, &item->atoms[i])) {
            return true;
        }
    }
    return false;
}

bool match_tell_expected(Match *m, const ShapeItem *item)
{
    Checker *checker = m->checker;
    Buf wanted;
    buf_init(&wanted, checker->arena);
    describe_item(&wanted, item);
    NodeKind kind = cursor_kind(&m->cursor);
    Message *message;
    if (kind == NODE_WORD && tree_is_mended(checker->tree, m->cursor.at)) {
        return false;
    }
    if (kind == NODE_NONE) {
        message = message_report(checker->messages, MESSAGE_TERM_MISSING, cursor_span(&m->cursor),
                                 "`%s` ends too early; %s belongs here", m->row->word, wanted.text);
        bool atom = item->kind == ITEM_ATOM;
        if (!(atom && habit_right(m, message, &item->atoms[0])) && !habit_right_parts(m, message)) {
            match_right_example(m, message);
        }
        return false;
    }
    if (kind == NODE_COMMA) {
        message = m->shape->list
                      ? match_tell(m, MESSAGE_LIST_END, "a member of the list is missing before this comma")
                      : match_tell(m, MESSAGE_COMMA_PLACE,
                                   "a comma stands between the members of a list, and no "
                                   "list stands here");
        match_right_example(m, message);
        return false;
    }
    Str text = cursor_text(&m->cursor);
    const Atom *atom = item->kind == ITEM_ATOM ? &item->atoms[0] : NULL;
    bool words = atom != NULL && kind == NODE_WORD &&
                 (atom->kind == ATOM_WORD || atom->kind == ATOM_YES_NO || atom->kind == ATOM_MONTH);
    message = message_report(checker->messages, words ? MESSAGE_WORD_UNKNOWN : MESSAGE_TERM_UNEXPECTED,
                             cursor_span(&m->cursor), "`%.*s` cannot stand here; `%s` takes %s",
                             STR_ARG(text), m->row->word, wanted.text);
    if (atom != NULL && (habit_right(m, message, atom) || right_near(m, message, atom) || right_plate(m, message, atom) ||
                         right_other_unquoted(m, message, item))) {
        return false;
    }
    if (atom != NULL && atom->kind == ATOM_WORD && atom->word_count > 1) {
        right_one_of(m, message);
    } else {
        match_right_example(m, message);
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
    Message *message = match_tell(m, MESSAGE_TERM_MISSING, "hours run from one time to another");
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
    if (value->u.clock.to == value->u.clock.from) {
        Message *message = message_report(m->checker->messages, MESSAGE_OUT_OF_RANGE, cursor_span(&m->cursor),
                                          "these hours end when they begin: that is no time, or a whole day");
        message_right(m->checker->messages, message, "a later time, or `24 h` for a whole day");
        return false;
    }
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

/* Where a quantity stands, with the limits that are there against slips of the pen. */
static QuantityPlace quantity_place(const Match *m, const Atom *atom, uint8_t slot)
{
    const PropRow *row = m->row;
    QuantityPlace place = {.atom = atom, .row = row, .limited = m->first_quantity};
    bool later = row != NULL && slot > 0 && row->later_slot == slot;
    if (row != NULL && (m->first_quantity || later)) {
        place.least = later ? row->later_least : row->least;
        place.most = later ? row->later_most : row->most;
        place.most_second = later ? 0.0 : row->most_second;
    }
    return place;
}

/* Takes back what is no value: its place is empty again. */
static void leave_out(Match *m, Value *value)
{
    *value = (Value){0};
    m->count -= m->list;
}

/* Reads the value of one atom, of a list behind the others, else to its slot; false after a message. */
bool match_atom(Match *m, const Atom *atom, uint8_t slot)
{
    Value *read = m->list ? match_append(m) : &m->values[slot];
    bool fine = true;
    read->node = m->cursor.at;
    switch ((AtomKind)atom->kind) {
    case ATOM_QUANTITY: {
        QuantityPlace place = quantity_place(m, atom, slot);
        m->first_quantity = false;
        fine = quantity_read(m->checker, &m->cursor, &place, read);
        break;
    }
    case ATOM_REFERENCE:
        read->kind = VALUE_REFERENCE;
        m->names = true;
        fine = read_reference(m, atom, read);
        break;
    case ATOM_WORD:
        read->kind = VALUE_WORD;
        read->u.word = cursor_text(&m->cursor);
        fine = atom->word_count > 0 || currency_check(m->checker, m->cursor.at);
        m->cursor.at++;
        break;
    case ATOM_TEXT:
        read->kind = VALUE_TEXT;
        fine = read_text(m, read);
        break;
    case ATOM_DATE:
        read->kind = VALUE_DATE;
        date_read(cursor_text(&m->cursor), &read->u.date);
        m->cursor.at++;
        break;
    case ATOM_CLOCK:
        read->kind = VALUE_CLOCK;
        fine = read_clock(m, read);
        break;
    case ATOM_YES_NO:
        read->kind = VALUE_YES_NO;
        read->u.yes = str_is(cursor_text(&m->cursor), "yes");
        m->cursor.at++;
        break;
    case ATOM_MONTH:
        read->kind = VALUE_MONTH;
        read->u.month = month_number(cursor_text(&m->cursor));
        m->cursor.at++;
        break;
    }
    if (!fine) {
        leave_out(m, read);
    }
    return fine;
}
