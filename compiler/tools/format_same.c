/*
 * The formatter's proof of its own work: whether the text that went in and the text that came out are
 * parsed to the same statements, terms and comments. Not compared: where they stand, and a comma after the
 * last member of a list. See format_parts.h.
 */
#include "tools/format_parts.h"

/* The next byte of a text that matters: carriage returns before a line end do not. */
static size_t skip_returns(Str text, size_t at)
{
    size_t end = at;
    while (end < text.length && text.text[end] == '\r') {
        end++;
    }
    return end == text.length || text.text[end] == '\n' ? end : at;
}

static bool same_text(Str a, Str b)
{
    size_t i = 0;
    size_t j = 0;
    for (;;) {
        i = skip_returns(a, i);
        j = skip_returns(b, j);
        if (i == a.length || j == b.length) {
            return i == a.length && j == b.length;
        }
        if (a.text[i++] != b.text[j++]) {
            return false;
        }
    }
}

/* A text without the blanks behind it. */
static Str trimmed(Str text)
{
    while (text.length > 0 && (text.text[text.length - 1] == ' ' || text.text[text.length - 1] == '\t' ||
                               text.text[text.length - 1] == '\r' || text.text[text.length - 1] == '\n')) {
        text.length--;
    }
    return text;
}

static bool same_term(const Tree *a, NodeId a_term, const Tree *b, NodeId b_term)
{
    NodeKind kind = tree_kind(a, a_term);
    if (kind != tree_kind(b, b_term)) {
        return false;
    }
    if (kind == NODE_LONG_TEXT) {
        return str_equal(tree_unquoted(a, a_term), tree_unquoted(b, b_term));
    }
    return str_equal(tree_text(a, a_term), tree_text(b, b_term));
}

static uint16_t terms_that_count(const Tree *tree, NodeId statement)
{
    uint16_t terms = tree_node(tree, statement)->terms;
    return terms > 0 && tree_kind(tree, statement + terms) == NODE_COMMA ? (uint16_t)(terms - 1) : terms;
}

static bool same_node(const Tree *a, NodeId a_id, const Tree *b, NodeId b_id)
{
    enum { COMPARED = NODE_BAD | NODE_HAS_BLOCK | NODE_TRAILING };
    const Node *a_node = tree_node(a, a_id);
    const Node *b_node = tree_node(b, b_id);
    if (a_node->kind != b_node->kind || (a_node->flags & COMPARED) != (b_node->flags & COMPARED)) {
        return false;
    }
    if (a_node->kind == NODE_COMMENT || a_node->flags & NODE_BAD) {
        return same_text(trimmed(tree_text(a, a_id)), trimmed(tree_text(b, b_id)));
    }
    uint16_t terms = terms_that_count(a, a_id);
    if (terms != terms_that_count(b, b_id)) {
        return false;
    }
    for (NodeId i = 1; i <= terms; i++) {
        if (!same_term(a, a_id + i, b, b_id + i)) {
            return false;
        }
    }
    return true;
}

NodeId format_difference(const Tree *a, NodeId a_owner, const Tree *b, NodeId b_owner)
{
    NodeId i = tree_node(a, a_owner)->u.child;
    NodeId j = tree_node(b, b_owner)->u.child;
    while (i != 0 && j != 0) {
        NodeId other = same_node(a, i, b, j) ? format_difference(a, i, b, j) : i;
        if (other != 0) {
            return other;
        }
        i = tree_node(a, i)->next;
        j = tree_node(b, j)->next;
    }
    return i != 0 ? i : j != 0 ? a_owner : 0;
}
