/* See statement.h. The forms are a table; one small matcher walks it. */
#include "syntax/statement.h"

#include <string.h>

/*
 * A form is a text of steps, a blank between: w a word, t one or more texts, n a number, d a date, * anything,
 * =x the word x, . a point, [ and ] around what may be left out (it begins with a step that tells it is there).
 */
typedef struct Form {
    char word[8];      /* the first word; empty for a thing */
    const char *steps; /* what follows it */
    const char *shown; /* as an owner would write it */
    bool needs_block;
} Form;

static const Form forms[] = {
    [NODE_THING] = {"", "w [ =is w ] [ t ] [ =was w ] [ =was w ] [ =was w ]", "KIND NAME [is PART] [\"Title\"] [was OLD-NAME] { ... }", false},
    [NODE_EDITION] = {"edition", "n", "edition 1", false},
    [NODE_INCLUDE] = {"include", "t", "include \"parts/pumps.boat\"", false},
    [NODE_PART] = {"part", "w =for w [ t ]", "part NAME for KIND [\"Title\"] { ... }", true},
    [NODE_CHOICE] = {"choice", "w [ t ]", "choice NAME [\"Question\"] { ... }", true},
    [NODE_OPTION] = {"option", "w [ t ]", "option NAME [\"Title\"] { ... }", true},
    [NODE_PICK] = {"pick", "w", "pick OPTION", false},
    [NODE_BECAUSE] = {"because", "t", "because \"why\"", false},
    [NODE_SCORE] = {"score", "w n =of n", "score CRITERION 4 of 5", false},
    [NODE_SET] = {"set", "w . w [ . w ] [ . w ] *", "set NAME.PROPERTY value", false},
    [NODE_WAIVE] = {"waive", "w =on w [ =until d ] =because t", "waive RULE on NAME [until 2027-03-01] because \"why\"",
                    false},
};
enum { FORM_COUNT = sizeof forms / sizeof forms[0] };

NodeKind statement_kind(Str first_word)
{
    for (int i = NODE_EDITION; i < FORM_COUNT; i++) { /* the first that has a word, as all behind it have */
        if (forms[i].word[0] == first_word.text[0] && str_is(first_word, forms[i].word)) {
            return (NodeKind)i;
        }
    }
    return NODE_THING;
}

const char *statement_form(NodeKind kind)
{
    return (int)kind < FORM_COUNT ? forms[kind].shown : NULL;
}

typedef struct Matcher {
    const Tree *tree;
    NodeId statement;
    uint16_t term;
    uint16_t terms; /* how many there are */
    const char *step; /* next step of the form */
} Matcher;

static const char *step_end(const char *step)
{
    while (*step != ' ' && *step != 0) {
        step++;
    }
    return step;
}

static const char *step_after(const char *step)
{
    step = step_end(step);
    return *step == ' ' ? step + 1 : step;
}

static bool term_fits(const Matcher *m, const char *step)
{
    if (m->term >= m->terms) {
        return false;
    }
    NodeId term = m->statement + 1 + m->term;
    NodeKind kind = tree_kind(m->tree, term);
    switch (*step) {
    case 'w':
        return kind == NODE_WORD;
    case 't':
        return kind == NODE_TEXT || kind == NODE_LONG_TEXT;
    case 'n':
        return kind == NODE_NUMBER;
    case 'd':
        return kind == NODE_DATE;
    case '.':
        return kind == NODE_DOT;
    case '=': {
        Str wanted = {step + 1, (size_t)(step_end(step) - step) - 1};
        return kind == NODE_WORD && str_equal(tree_text(m->tree, term), wanted);
    }
    default:
        return false;
    }
}

static void take(Matcher *m)
{
    bool text = *m->step == 't';
    do {
        m->term++;
    } while (text && term_fits(m, "t"));
    m->step = step_after(m->step);
}

static void skip_optional(Matcher *m)
{
    m->step = step_after(strchr(m->step, ']'));
}

/* Walks the form; true if it is complete and no term is left over. m->term is the first that does not fit. */
static bool match(Matcher *m)
{
    while (*m->step != 0) {
        if (*m->step == '*') {
            return true;
        }
        if (*m->step == '[') {
            m->step = step_after(m->step);
            if (!term_fits(m, m->step)) {
                skip_optional(m);
            }
        } else if (*m->step == ']') {
            m->step = step_after(m->step);
        } else if (term_fits(m, m->step)) {
            take(m);
        } else {
            return false;
        }
    }
    return m->term == m->terms;
}

static MessageId message_for(NodeKind kind)
{
    if (kind == NODE_THING) {
        return MESSAGE_HEADER;
    }
    return kind == NODE_EDITION ? MESSAGE_EDITION : MESSAGE_STATEMENT_FORM;
}

static bool takes_name(NodeKind kind)
{
    return kind == NODE_PART || kind == NODE_CHOICE || kind == NODE_OPTION;
}

/* How the statement is written; of a thing with its own kind. */
static void right_form(const Matcher *m, NodeKind kind, Messages *messages, Message *message)
{
    Str first = tree_text(m->tree, m->statement + 1);
    if (kind != NODE_THING) {
        message_right(messages, message, "`%s`", forms[kind].shown);
        return;
    }
    bool left = m->term < m->terms;
    bool word = left && tree_kind(m->tree, m->statement + 1 + m->term) == NODE_WORD;
    message_right(messages, message, "`%.*s%s`%s", STR_ARG(first), forms[kind].shown + strlen("KIND"),
                  word ? "; a title stands in quotes" : "");
}

static void tell(const Matcher *m, NodeKind kind, Messages *messages)
{
    const Node *node = tree_node(m->tree, m->statement);
    Str first = tree_text(m->tree, m->statement + 1);
    bool left = m->term < m->terms;
    Span at = left ? tree_span(m->tree, m->statement + 1 + m->term) : (Span){node->end, node->end};
    bool name_missing = takes_name(kind) && m->term == 1;
    Message *message;
    if (name_missing && !left) {
        message = message_report(messages, MESSAGE_NAME_MISSING, tree_span(m->tree, m->statement + 1),
                                 "`%.*s` needs a name", STR_ARG(first));
    } else if (name_missing) {
        message = message_report(messages, MESSAGE_NAME_MISSING, at,
                                 "`%.*s` needs a name here, not `%.*s`", STR_ARG(first),
                                 STR_ARG(span_text(m->tree->sources, at)));
    } else if (left) {
        message = message_report(messages, message_for(kind), at, "`%.*s` does not belong here in `%.*s`",
                                 STR_ARG(span_text(m->tree->sources, at)), STR_ARG(first));
    } else {
        message = message_report(messages, message_for(kind), at, "`%.*s` is not complete", STR_ARG(first));
    }
    right_form(m, kind, messages, message);
}

/* `KIND name` and `KIND name "Title"`, as nearly all things begin: right without walking the form. */
static bool is_plain_thing(const Tree *tree, NodeId statement)
{
    const Node *node = tree_node(tree, statement);
    return node->kind == NODE_THING && (node->terms == 2 || (node->terms == 3 && tree_kind(tree, statement + 3) == NODE_TEXT)) &&
           tree_kind(tree, statement + 2) == NODE_WORD;
}

bool statement_check(const Tree *tree, NodeId statement, bool block_follows, Messages *messages)
{
    NodeKind kind = tree_kind(tree, statement);
    if (is_plain_thing(tree, statement) || (int)kind >= FORM_COUNT || forms[kind].steps == NULL) {
        return true;
    }
    Matcher m = {.tree = tree,
                 .statement = statement,
                 .term = 1,
                 .terms = tree_node(tree, statement)->terms,
                 .step = forms[kind].steps};
    if (!match(&m)) {
        if (kind == NODE_THING && m.term == 1) {
            tree_node(tree, statement)->flags |= NODE_NAMELESS;
        } else {
            tell(&m, kind, messages);
        }
        return false;
    }
    if (forms[kind].needs_block && !block_follows) {
        Message *message = message_report(messages, MESSAGE_STATEMENT_FORM, tree_span(tree, statement + 1),
                                          "`%.*s` needs a block", STR_ARG(tree_text(tree, statement + 1)));
        message_right(messages, message, "`%s`", forms[kind].shown);
        return false;
    }
    return true;
}
