/*
 * The first line of a statement: its terms with the blanks between them, lists and texts over several
 * lines, comments between the members of a list. See format_parts.h.
 */
#include "tools/format_parts.h"

#include "base/utf8.h"
#include "language/unit.h"
#include "tools/format.h"

#include <string.h>

size_t format_width(Str text)
{
    return utf8_count(text.text, text.length);
}

void format_indent(Buf *to, int level)
{
    for (int i = 0; i < level; i++) {
        buf_text(to, "  ");
    }
}

static void new_line(Buf *to, int level)
{
    buf_char(to, '\n');
    format_indent(to, level);
}

/* Text as it stands, carriage returns before a line end left out. */
static void add_with_line_ends(Buf *to, Str text)
{
    size_t from = 0;
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] != '\n') {
            continue;
        }
        size_t end = i;
        while (end > from && text.text[end - 1] == '\r') {
            end--;
        }
        buf_add(to, (Str){text.text + from, end - from});
        from = i;
    }
    buf_add(to, (Str){text.text + from, text.length - from});
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

void format_as_it_stands(Buf *to, const Tree *tree, NodeId id)
{
    Str text = tree_text(tree, id);
    while (text.length > 0 && is_blank(text.text[text.length - 1])) {
        text.length--;
    }
    add_with_line_ends(to, text);
}

/* ---- What reads ---- */

/* The word of the property that a statement states; empty if it states none. */
static Str property_word(const Tree *tree, NodeId statement)
{
    switch (tree_kind(tree, statement)) {
    case NODE_PROPERTY: return tree_text(tree, statement + 1);
    case NODE_SET: return tree_text(tree, tree_set_header(tree, statement).word);
    default: return (Str){"", 0};
    }
}

static bool is_list(const PropRow *row)
{
    size_t length = strlen(row->shape);
    return row->shape[0] == '{' && strcmp(row->shape + length - 2, "},") == 0;
}

/* Whether a statement's terms are a list. Of which kind of thing a `set` speaks only the model knows. */
static bool takes_list(const Tree *tree, NodeId statement, KindId inside)
{
    Str word = property_word(tree, statement);
    if (tree_kind(tree, statement) == NODE_SET) {
        for (int p = PROP_NONE + 1; p < PROP_COUNT; p++) {
            if (is_list(&props[p]) && str_is(word, props[p].word)) {
                return true;
            }
        }
        return false;
    }
    PropId prop = inside != KIND_NONE && word.length > 0 ? schema_find_prop(inside, word) : PROP_NONE;
    return prop != PROP_NONE && is_list(&props[prop]);
}

static bool is_unit_or_currency(Str word)
{
    bool capitals = word.length == 3;
    for (size_t i = 0; i < word.length && capitals; i++) {
        capitals = word.text[i] >= 'A' && word.text[i] <= 'Z';
    }
    return capitals || unit_find(word) != UNIT_NONE;
}

/* `16-20`, `4.5Amps`, `"He said "no`: a blank in between would make another mistake of it. */
static bool is_glued_wrongly(const Tree *tree, NodeId term)
{
    bool glued = tree_node(tree, term)->flags & NODE_GLUED;
    if (glued && tree_kind(tree, term - 1) == NODE_TEXT && tree_kind(tree, term) == NODE_WORD) {
        return true;
    }
    if (!glued || tree_kind(tree, term - 1) != NODE_NUMBER) {
        return false;
    }
    NodeKind kind = tree_kind(tree, term);
    return kind == NODE_NUMBER || (kind == NODE_WORD && !is_unit_or_currency(tree_text(tree, term)));
}

/* `..` and `/` stand between two terms, and `/` between two numbers or two units. */
static bool is_between(const Tree *tree, NodeId term, NodeId end)
{
    NodeKind kind = tree_kind(tree, term);
    if (kind != NODE_TO && kind != NODE_SLASH) {
        return true;
    }
    if (term + 1 == end) {
        return false;
    }
    bool left = tree_kind(tree, term - 1) == NODE_NUMBER;
    bool right = tree_kind(tree, term + 1) == NODE_NUMBER;
    return kind == NODE_TO || left == right;
}

static bool has_line_end(const Tree *tree, Span span)
{
    Str text = span_text(tree->sources, span);
    return memchr(text.text, '\n', text.length) != NULL;
}

/* After a comma too many the next property was taken for a member: `through saloon,` and then `bundle 4`. */
static bool is_the_next_property(const Tree *tree, NodeId term, NodeId end, KindId inside)
{
    bool more = term + 1 < end && tree_kind(tree, term + 1) != NODE_COMMA;
    return more && inside != KIND_NONE && tree_kind(tree, term) == NODE_WORD &&
           has_line_end(tree, (Span){tree_node(tree, term - 1)->end, tree_node(tree, term)->start}) &&
           schema_find_prop(inside, tree_text(tree, term)) != PROP_NONE;
}

/* Behind its last comma stands what is no property: without the comma nobody could tell that it is of this list. */
static bool is_list_cut_off(const Tree *tree, NodeId statement, KindId inside)
{
    NodeId next = tree_node(tree, statement)->next;
    while (next != 0 && tree_kind(tree, next) == NODE_COMMENT && !(tree_node(tree, next)->flags & NODE_BAD)) {
        next = tree_node(tree, next)->next;
    }
    bool comma = tree_kind(tree, statement + tree_node(tree, statement)->terms) == NODE_COMMA;
    return comma && next != 0 && inside != KIND_NONE &&
           (tree_node(tree, next)->flags & NODE_BAD || schema_find_prop(inside, tree_text(tree, next + 1)) == PROP_NONE);
}

bool format_statement_reads(const Tree *tree, NodeId statement, KindId inside)
{
    const Node *node = tree_node(tree, statement);
    NodeId end = statement + 1 + node->terms;
    bool commas = false;
    if (node->flags & NODE_BAD || (node->terms > 0 && tree_is_mended(tree, statement + 1)) ||
        is_list_cut_off(tree, statement, inside)) {
        return false;
    }
    for (NodeId term = statement + 2; term < end; term++) {
        NodeKind kind = tree_kind(tree, term);
        NodeKind before = tree_kind(tree, term - 1);
        if ((kind == NODE_DOT && !(node->kind == NODE_SET && term < tree_set_header(tree, statement).word)) ||
            is_glued_wrongly(tree, term) || !is_between(tree, term, end) || tree_is_mended(tree, term)) {
            return false;
        }
        if (kind == NODE_COMMA && (before == NODE_COMMA || term == statement + 2)) {
            return false;
        }
        if (before == NODE_COMMA && is_the_next_property(tree, term, end, inside)) {
            return false;
        }
        commas = commas || kind == NODE_COMMA;
    }
    return !commas || takes_list(tree, statement, inside);
}

/* ---- Setting the terms ---- */

bool format_comment_is_inside(const Tree *tree, NodeId statement, NodeId comment)
{
    return tree_node(tree, comment)->start < tree_node(tree, statement)->end;
}

/* The next comment after `previous` (a statement or a comment) that stands inside of the statement, or 0. */
static NodeId comment_inside(const Tree *tree, NodeId statement, NodeId previous)
{
    NodeId next = tree_node(tree, previous)->next;
    bool inside =
        next != 0 && tree_kind(tree, next) == NODE_COMMENT && format_comment_is_inside(tree, statement, next);
    return inside ? next : 0;
}

static bool goes_on_in_quotes(const Tree *tree, NodeId term)
{
    return tree_kind(tree, term) == NODE_TEXT && tree_kind(tree, term - 1) == NODE_TEXT;
}

static bool is_tight(NodeKind kind)
{
    return kind == NODE_TO || kind == NODE_SLASH || kind == NODE_DOT;
}

static bool has_blank_before(const Tree *tree, NodeId term)
{
    NodeKind kind = tree_kind(tree, term);
    return kind != NODE_COMMA && !is_tight(kind) && !is_tight(tree_kind(tree, term - 1));
}

/* The first term behind those that are written: a comma after the last member is written anew. */
static NodeId end_of_terms(const Tree *tree, NodeId statement)
{
    NodeId end = statement + 1 + tree_node(tree, statement)->terms;
    return tree_kind(tree, end - 1) == NODE_COMMA ? end - 1 : end;
}

static bool needs_lines(const Tree *tree, NodeId term)
{
    return tree_kind(tree, term) == NODE_LONG_TEXT || goes_on_in_quotes(tree, term);
}

bool format_statement_on_a_line(Buf *to, const Tree *tree, NodeId statement, KindId inside)
{
    if (!format_statement_reads(tree, statement, inside) || comment_inside(tree, statement, statement) != 0) {
        return false;
    }
    NodeId end = end_of_terms(tree, statement);
    for (NodeId term = statement + 1; term < end; term++) {
        if (term > statement + 1 && needs_lines(tree, term)) {
            return false;
        }
        if (term > statement + 1 && has_blank_before(tree, term)) {
            buf_char(to, ' ');
        }
        buf_add(to, tree_text(tree, term));
    }
    return true;
}

/* Three quotes, the lines between as they stand, and three quotes in the column of the statement. */
static void add_long_text(Buf *to, Str text, int level)
{
    const char *first = memchr(text.text, '\n', text.length);
    size_t from = (size_t)(first - text.text);
    size_t end = text.length;
    while (text.text[end - 1] != '\n') {
        end--;
    }
    buf_text(to, "\"\"\"");
    add_with_line_ends(to, (Str){text.text + from, end - from});
    format_indent(to, level);
    buf_text(to, "\"\"\"");
}

/*
 * Between a comma and the member `term` of a list that goes one a line, or between two pieces of a text: the comments there,
 * behind what stands before or on lines of their own, and the line end. Returns the last comment that is written.
 */
static NodeId next_member(Buf *to, const Tree *tree, NodeId statement, NodeId term, NodeId last_comment,
                          int level)
{
    uint32_t before = tree_node(tree, term - 1)->end;
    NodeId comment = comment_inside(tree, statement, last_comment);
    while (comment != 0 && tree_node(tree, comment)->start < tree_node(tree, term)->start) {
        if (has_line_end(tree, (Span){before, tree_node(tree, comment)->start})) {
            new_line(to, level + 1);
        } else {
            buf_text(to, "  ");
        }
        format_as_it_stands(to, tree, comment);
        last_comment = comment;
        comment = comment_inside(tree, statement, comment);
    }
    new_line(to, level + 1);
    return last_comment;
}

static bool says_how_known(Str word)
{
    return str_is(word, "measured") || str_is(word, "labelled") || str_is(word, "estimated") ||
           str_is(word, "guessed");
}

static void add_lines(Buf *to, const Tree *tree, NodeId statement, FormatPlace place, bool one_a_line)
{
    NodeId end = end_of_terms(tree, statement);
    NodeId comment = statement;
    for (NodeId term = statement + 1; term < end; term++) {
        bool first = term == statement + 1;
        if (!first && one_a_line && tree_kind(tree, term - 1) == NODE_COMMA) {
            comment = next_member(to, tree, statement, term, comment, place.level);
        } else if (!first && goes_on_in_quotes(tree, term)) {
            comment = next_member(to, tree, statement, term, comment, place.level);
        } else if (!first && has_blank_before(tree, term)) {
            buf_char(to, ' ');
        }
        if (tree_kind(tree, term) == NODE_LONG_TEXT) {
            add_long_text(to, tree_text(tree, term), place.level);
        } else {
            buf_add(to, tree_text(tree, term));
        }
    }
    bool block = tree_node(tree, statement)->flags & NODE_HAS_BLOCK;
    if (one_a_line && place.comma_at_end && !block && !says_how_known(tree_text(tree, end - 1))) {
        buf_char(to, ',');
    }
}

void format_statement(Buf *to, const Tree *tree, NodeId statement, FormatPlace place)
{
    if (!format_statement_reads(tree, statement, place.inside)) {
        format_as_it_stands(to, tree, statement);
        return;
    }
    bool has_comma = false;
    for (NodeId term = statement + 2; term < end_of_terms(tree, statement) && !has_comma; term++) {
        has_comma = tree_kind(tree, term) == NODE_COMMA;
    }
    size_t before = to->length;
    size_t brace = tree_node(tree, statement)->flags & NODE_HAS_BLOCK ? 2 : 0;
    bool comments = comment_inside(tree, statement, statement) != 0;
    if (!comments) {
        add_lines(to, tree, statement, place, false);
        size_t width = format_width((Str){to->text + before, to->length - before});
        if (!has_comma || 2 * (size_t)place.level + width + brace <= FORMAT_COLUMNS) {
            return;
        }
        to->length = before;
    }
    add_lines(to, tree, statement, place, has_comma);
}
