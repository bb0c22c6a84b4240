/*
 * See parse.h. Each function has its production above it; together they are the grammar in docs/language.md.
 *
 * A statement is read in two steps: first its terms up to the end of the line, then, by its first word and the block
 * it stands in, what it is and whether its terms have the form that such a statement has.
 */
#include "syntax/parse.h"

#include "syntax/parser.h"
#include "syntax/statement.h"

/* Where a statement stands decides what it may be. */
typedef enum Level { LEVEL_FILE, LEVEL_CHOICE, LEVEL_OPTION, LEVEL_THING } Level;

enum { MOST_TERMS = 60000 };

/* To the next token, from one that is no end of a line. */
static void advance(Parser *p)
{
    p->behind = p->lexer.token.span.end;
    p->after_blank = false;
    lexer_next(&p->lexer);
}

/* To the first token of the next line. */
static void next_line(Parser *p)
{
    lexer_next(&p->lexer);
    p->after_blank = p->after_blank || p->lexer.token.kind == TOKEN_NEWLINE;
}

_Static_assert(TOKEN_DOT - TOKEN_WORD == NODE_DOT - NODE_WORD, "terms are in one order among tokens and among nodes");

static NodeKind term_kind(TokenKind token)
{
    return (NodeKind)(token - TOKEN_WORD + NODE_WORD);
}

static void add_term(Parser *p, Node *statement, Token token)
{
    if (statement->terms == MOST_TERMS) {
        parser_tell_too_many(p, MOST_TERMS);
        statement->flags |= NODE_BAD;
        statement->end = token.span.end;
        return;
    }
    Node *term = tree_add_node(p->tree, term_kind(token.kind), token.span);
    if (statement->terms > 0 && statement->end == token.span.start) {
        term->flags |= NODE_GLUED;
    }
    if (token.kind == TOKEN_WORD) {
        const Source *source = p->lexer.source;
        Str word = {source->text + (token.span.start - source->base), token.span.end - token.span.start};
        if (p->lexer.mended_at == token.span.start && p->lexer.mended.length > 0) {
            word = p->lexer.mended;
            term->flags |= NODE_MENDED;
        }
        term->u.symbol = symbols_intern(p->tree->symbols, word);
    }
    statement->terms++;
    statement->end = token.span.end;
}

/* The flag of what begins at the token. */
static uint8_t blank_before(const Parser *p)
{
    return p->after_blank ? NODE_AFTER_BLANK : 0;
}

/* The statements of a block as they are found. */
typedef struct Chain {
    Node *owner;
    NodeId owner_id;
    NodeId last;
    NodeId *end; /* where the next one is linked to */
} Chain;

static Chain chain_begin(const Tree *tree, NodeId id)
{
    Node *owner = tree_node(tree, id);
    return (Chain){.owner = owner, .owner_id = id, .end = &owner->u.child};
}

static void chain_add(Chain *chain, NodeId id, Node *node)
{
    *chain->end = id;
    chain->end = &node->next;
    chain->last = id;
}

static void add_comment(Parser *p, Chain *chain, Span span, uint8_t flags)
{
    NodeId id = p->tree->count;
    Node *node = tree_add_node(p->tree, NODE_COMMENT, span);
    node->flags = flags;
    chain_add(chain, id, node);
}

/* comment = "#" anything up to the end of the line */
static void comment(Parser *p, Chain *chain, bool trailing)
{
    add_comment(p, chain, p->lexer.token.span, (uint8_t)((trailing ? NODE_TRAILING : 0) | blank_before(p)));
    advance(p);
}

/*
 * A piece of text of which nothing can be made, from `start` to what was passed last: a comment to all who look for
 * statements, and kept as it stands for who prints the text again.
 */
static void add_stray(Parser *p, Chain *chain, uint32_t start, uint8_t flags)
{
    if (p->behind > start) {
        add_comment(p, chain, (Span){start, p->behind}, (uint8_t)(flags | NODE_BAD));
    }
}

static void keep_inside(Parser *p, Span comment)
{
    if (p->inside_count == p->inside_capacity) {
        uint32_t capacity = p->inside_capacity ? p->inside_capacity * 2 : 16;
        p->inside = arena_grow(p->tree->arena, p->inside, p->inside_capacity * sizeof(Span), capacity * sizeof(Span));
        p->inside_capacity = capacity;
    }
    p->inside[p->inside_count++] = comment;
}

/* Whether a line that begins with a word is a statement by its looks: behind a member of a list stands no number, text or block. */
static bool is_a_statement(Lexer line)
{
    TokenKind next = lexer_next(&line);
    bool value = (next >= TOKEN_NUMBER && next <= TOKEN_CLOCK) || (next >= TOKEN_AT_LEAST && next <= TOKEN_HOLE);
    return value || next == TOKEN_OPEN;
}

/*
 * After a comma the statement goes on in the next line, unless that line is blank, closes the block or is another statement: a
 * comma after the last member of a list is allowed. True if it goes on.
 */
static bool comma_goes_on(Parser *p)
{
    if (p->lexer.token.kind == TOKEN_COMMENT) {
        keep_inside(p, p->lexer.token.span);
        advance(p);
    }
    if (p->lexer.token.kind != TOKEN_NEWLINE) {
        return true;
    }
    Lexer saved = p->lexer;
    uint32_t kept = p->inside_count;
    TokenKind next = lexer_next(&p->lexer);
    while (next == TOKEN_COMMENT) {
        keep_inside(p, p->lexer.token.span);
        next = lexer_next(&p->lexer);
        if (next == TOKEN_NEWLINE) {
            next = lexer_next(&p->lexer);
        }
    }
    if (next == TOKEN_NEWLINE || next == TOKEN_CLOSE || next == TOKEN_END || (next == TOKEN_WORD && is_a_statement(p->lexer))) {
        p->lexer = saved;
        p->inside_count = kept;
        return false;
    }
    return true;
}

/* A quoted text goes on in the next line if that begins with another quoted text; a comment may end this one. */
static bool text_goes_on(Parser *p)
{
    Lexer saved = p->lexer;
    bool comment = p->lexer.token.kind == TOKEN_COMMENT;
    TokenKind next = comment ? lexer_next(&p->lexer) : TOKEN_NEWLINE;
    next = next == TOKEN_NEWLINE ? lexer_next(&p->lexer) : next;
    while (next == TOKEN_COMMENT && p->lexer.merge_lines > saved.merge_lines) {
        next = lexer_next(&p->lexer);
        next = next == TOKEN_NEWLINE ? lexer_next(&p->lexer) : next;
    }
    if (next == TOKEN_TEXT) {
        if (comment) {
            keep_inside(p, saved.token.span);
        }
        return true;
    }
    p->lexer = saved;
    return false;
}

static bool ends_statement(TokenKind kind)
{
    return kind < TOKEN_BAD;
}

/* Whether the statement goes on in the next line, behind a token of that kind. */
static bool line_goes_on(Parser *p, TokenKind last)
{
    if (p->lexer.token.kind != TOKEN_NEWLINE && p->lexer.token.kind != TOKEN_COMMENT) {
        return false;
    }
    return last == TOKEN_COMMA ? comma_goes_on(p) : tree_last(p->tree)->kind == NODE_TEXT && text_goes_on(p);
}

/* terms = { term | "," newline } */
static void read_terms(Parser *p, Node *statement)
{
    TokenKind last = TOKEN_WORD;
    do {
        for (; !ends_statement(p->lexer.token.kind); advance(p)) {
            last = p->lexer.token.kind;
            if (last == TOKEN_BAD || statement->flags & NODE_BAD) {
                statement->flags |= NODE_BAD;
                statement->end = p->lexer.token.span.end;
            } else {
                add_term(p, statement, p->lexer.token);
            }
        }
    } while (line_goes_on(p, last));
}

/* What a statement is, by its first word and its place. */
static NodeKind classify(Parser *p, NodeId statement, Level level)
{
    if (level == LEVEL_THING) {
        return NODE_PROPERTY;
    }
    NodeKind kind = statement_kind(tree_text(p->tree, statement + 1));
    switch (level) {
    case LEVEL_THING:
    case LEVEL_CHOICE:
        if (kind != NODE_OPTION && kind != NODE_PICK && kind != NODE_BECAUSE) {
            parser_tell_misplaced(p, statement, "a choice holds `option NAME { ... }`, `pick NAME` and `because \"...\"`; things stand "
                                    "inside of an option");
        }
        return kind;
    case LEVEL_OPTION:
        if (kind != NODE_THING && kind != NODE_SET && kind != NODE_SCORE) {
            parser_tell_misplaced(p, statement, "an option holds things, `set NAME.property ...` and `score CRITERION 4 of 5`");
        }
        return kind;
    case LEVEL_FILE:
        if (kind == NODE_OPTION || kind == NODE_PICK || kind == NODE_BECAUSE) {
            parser_tell_misplaced(p, statement, "this stands inside of a `choice NAME { ... }`");
        } else if (kind == NODE_SET || kind == NODE_SCORE) {
            parser_tell_misplaced(p, statement, "this stands inside of an `option NAME { ... }` of a choice");
        }
        return kind;
    }
    return kind;
}

static Level level_inside(NodeKind kind)
{
    return kind == NODE_CHOICE ? LEVEL_CHOICE : kind == NODE_OPTION ? LEVEL_OPTION : LEVEL_THING;
}

static bool may_have_block(NodeKind kind)
{
    return kind == NODE_THING || kind == NODE_PROPERTY || kind == NODE_PART || kind == NODE_CHOICE ||
           kind == NODE_OPTION;
}

/* Leaves a block by counting braces alone. */
static void skip_block(Parser *p)
{
    size_t open = 0;
    do {
        if (p->lexer.token.kind == TOKEN_OPEN) {
            open++;
        } else if (p->lexer.token.kind == TOKEN_CLOSE) {
            open--;
        }
        if (p->lexer.token.kind == TOKEN_NEWLINE) {
            next_line(p);
        } else {
            advance(p);
        }
    } while (open > 0 && p->lexer.token.kind != TOKEN_END);
    if (open > 0) {
        p->never_closed = true;
    }
}

static void block(Parser *p, Chain *chain, Level level, bool same_line);

static void never_closed(Parser *p, Span open)
{
    p->never_closed = true;
    if (!p->unbalanced || p->told_at == p->lexer.token.span.start + 1) {
        return; /* said in the second try, and there of the innermost block alone */
    }
    p->told_at = p->lexer.token.span.start + 1;
    parser_tell_never_closed(p, open);
}

/*
 * What follows a closing brace on its line: nothing, a comment, the next of a short block, or the end of that block. A
 * word is told, and then taken for the next statement.
 */
static void after_brace(Parser *p, Chain *chain, NodeId statement)
{
    if (ends_statement(p->lexer.token.kind) && p->lexer.token.kind != TOKEN_OPEN) {
        return;
    }
    if (p->lexer.token.kind != TOKEN_BAD && !(tree_node(p->tree, statement)->flags & NODE_BAD)) {
        parser_tell_after_brace(p);
    }
    if (p->lexer.token.kind == TOKEN_WORD) {
        return;
    }
    uint32_t start = p->lexer.token.span.start;
    bool comment = p->lexer.token.kind == TOKEN_SLASH;
    while (!ends_statement(p->lexer.token.kind) || p->lexer.token.kind == TOKEN_OPEN ||
           (comment && p->lexer.token.kind == TOKEN_SEMICOLON)) {
        if (p->lexer.token.kind == TOKEN_OPEN) {
            skip_block(p);
        } else {
            advance(p);
        }
    }
    add_stray(p, chain, start, NODE_TRAILING);
}

/* From behind the opening brace on, up to what follows the closing one. */
static void block_inside(Parser *p, Chain *chain, NodeId statement, NodeKind kind, Span open)
{
    Node *node = tree_node(p->tree, statement);
    node->flags |= NODE_HAS_BLOCK;
    chain->owner->flags |= NODE_NESTED;
    p->depth++;
    Chain inside = chain_begin(p->tree, statement);
    block(p, &inside, level_inside(kind), true);
    p->depth--;
    if (p->lexer.token.kind == TOKEN_CLOSE) {
        advance(p);
        after_brace(p, chain, statement);
    } else {
        never_closed(p, open);
    }
}

/* braces = "{" { statement } "}" */
static void braces(Parser *p, Chain *chain, NodeId statement, NodeKind kind)
{
    Span open = p->lexer.token.span;
    Node *node = tree_node(p->tree, statement);
    bool takes = may_have_block(kind);
    if (!takes || p->depth == PARSE_DEPTH) {
        if (takes) {
            parser_tell_too_deep(p, statement);
        } else if (!(node->flags & NODE_BAD)) {
            parser_tell_no_block(p, statement);
        }
        skip_block(p);
        node->end = p->behind;
        return;
    }
    advance(p);
    if (p->lexer.token.kind != TOKEN_NEWLINE && p->lexer.token.kind != TOKEN_COMMENT) {
        node->flags |= NODE_SHORT_BLOCK;
    }
    block_inside(p, chain, statement, kind, open);
}

static void forgotten_brace(Parser *p, Chain *chain, NodeId statement, NodeKind kind)
{
    Span line = tree_span(p->tree, statement);
    Message *m = message_report(p->messages, MESSAGE_BRACE_PLACE, line, "a block follows, and no brace opens it");
    message_right(p->messages, m, "`{` at the end of this line");
    block_inside(p, chain, statement, kind, line);
}

/* statement = word terms [braces] */
static void statement(Parser *p, Chain *chain, Level level, uint32_t start, uint8_t flags)
{
    NodeId id = p->tree->count;
    Node *node = tree_add_node(p->tree, NODE_PROPERTY, (Span){start, start});
    p->inside_count = 0;
    bool one_of_two = p->lexer.conflict;
    uint32_t merge_lines = p->lexer.merge_lines;
    read_terms(p, node);
    flags |= one_of_two || p->lexer.merge_lines > merge_lines ? NODE_BAD : 0; /* nobody has said that this is meant */
    node->flags |= flags;
    NodeKind kind = classify(p, id, level);
    node->kind = (uint8_t)kind;
    chain_add(chain, id, node);
    if (kind != NODE_PROPERTY && !(node->flags & NODE_BAD) &&
        !statement_check(p->tree, id, parser_block_follows(p), p->messages)) {
        node->flags |= NODE_BAD;
    }
    for (uint32_t i = 0; i < p->inside_count; i++) {
        add_comment(p, chain, p->inside[i], NODE_TRAILING);
    }
    if (p->lexer.token.kind == TOKEN_OPEN) {
        braces(p, chain, id, kind);
    } else if (level == LEVEL_FILE && (kind == NODE_THING || kind == NODE_PART) && !(flags & NODE_BAD) && !parser_block_follows(p) &&
               parser_brace_is_forgotten(p, start)) {
        forgotten_brace(p, chain, id, kind);
    }
}

/* The rest of a line of which nothing can be made, up to a `;` if another statement begins behind it; a block in it is skipped whole. */
static void skip_line(Parser *p, bool statements)
{
    while (p->lexer.token.kind != TOKEN_NEWLINE && p->lexer.token.kind != TOKEN_END && p->lexer.token.kind != TOKEN_CLOSE &&
           !(statements && p->lexer.token.kind == TOKEN_SEMICOLON && parser_word_follows(p))) {
        if (p->lexer.token.kind == TOKEN_OPEN) {
            skip_block(p);
        } else {
            advance(p);
        }
    }
}

/* An opening brace on a line of its own: told, and taken for the block of the statement above it. */
static void brace_alone(Parser *p, Chain *chain)
{
    parser_tell_brace_alone(p);
    uint32_t start = p->lexer.token.span.start;
    uint8_t blank = blank_before(p);
    Node *last = tree_node(p->tree, chain->last);
    if (chain->last == 0 || last->flags & NODE_HAS_BLOCK || !may_have_block((NodeKind)last->kind)) {
        skip_line(p, false);
        add_stray(p, chain, start, blank);
    } else {
        braces(p, chain, chain->last, (NodeKind)last->kind);
    }
}

/*
 * Something that cannot begin a statement: told once, and skipped up to where the next may begin. Behind a mere stray character the
 * statement is kept, as one with a mistake, so that its name is known and nothing in it is missed.
 */
static void no_statement(Parser *p, Chain *chain, Level level)
{
    if (p->lexer.token.kind == TOKEN_OPEN) {
        brace_alone(p, chain);
        return;
    }
    uint32_t start = p->lexer.token.span.start;
    uint8_t blank = blank_before(p);
    bool comment = p->lexer.token.kind == TOKEN_SLASH;
    if (p->lexer.token.kind != TOKEN_BAD) {
        parser_tell_no_word(p, chain->owner_id, chain->last == 0);
    }
    while (p->lexer.token.kind == TOKEN_BAD) {
        advance(p);
        if (p->lexer.token.kind == TOKEN_WORD) {
            statement(p, chain, level, start, (uint8_t)(blank | NODE_BAD));
            return;
        }
    }
    skip_line(p, !comment);
    add_stray(p, chain, start, blank);
}

/*
 * block = { statement | comment | newline | ";" }, up to the brace that closes it, which is left for the caller
 * same_line: a statement, or the brace that opens the block, stands before on this line.
 */
static void block(Parser *p, Chain *chain, Level level, bool same_line)
{
    for (;;) {
        switch (p->lexer.token.kind) {
        case TOKEN_END:
        case TOKEN_CLOSE:
            return;
        case TOKEN_NEWLINE:
            same_line = false;
            next_line(p);
            break;
        case TOKEN_SEMICOLON:
            advance(p);
            break;
        case TOKEN_COMMENT:
            comment(p, chain, same_line);
            break;
        case TOKEN_WORD:
            if (parser_must_be_a_new_block(p) || (p->unbalanced && level >= LEVEL_OPTION && parser_must_be_a_new_option(p))) {
                return;
            }
            statement(p, chain, level, p->lexer.token.span.start, blank_before(p));
            same_line = true;
            break;
        default:
            no_statement(p, chain, level);
            same_line = true;
            break;
        }
    }
}

static void start(Parser *p, const Source *source)
{
    lexer_init(&p->lexer, source, p->messages);
    p->lexer.token = (Token){TOKEN_NEWLINE, {source->base, source->base}};
    p->after_blank = false;
    p->never_closed = false;
    p->depth = 0;
    next_line(p);
    p->after_blank = false;
}

/* file = { statement | comment | newline } */
static void file_statements(Parser *p, NodeId file)
{
    Chain chain = chain_begin(p->tree, file);
    for (;;) {
        block(p, &chain, LEVEL_FILE, false);
        if (p->lexer.token.kind == TOKEN_END) {
            return;
        }
        Message *m = message_report(p->messages, MESSAGE_BRACE_CLOSE, p->lexer.token.span,
                                    "this brace closes nothing; no block is open here");
        message_right(p->messages, m, "no brace, or a `{` at the end of the line that the block begins with");
        advance(p);
    }
}

NodeId parse_source(Tree *tree, const Source *source, Messages *messages)
{
    Parser p = {.tree = tree, .messages = messages};
    NodeId file = tree_add(tree, NODE_FILE, (Span){source->base, source->base + source->length});
    MessagesMark mark = messages_mark(messages);
    uint32_t nodes = tree->count;

    start(&p, source);
    file_statements(&p, file);
    if (p.never_closed) {
        /* Once more, now taking headers in column 1 for new blocks. */
        messages_rewind(messages, mark);
        tree_truncate(tree, nodes);
        tree_node(tree, file)->u.child = 0;
        p.unbalanced = true;
        start(&p, source);
        file_statements(&p, file);
    }
    tree->unmerged |= p.lexer.merge_lines > 0;
    return file;
}

static NodeId fragment(Tree *tree, const Source *source, Messages *messages, Level level)
{
    Parser p = {.tree = tree, .messages = messages};
    NodeId file = tree_add(tree, NODE_FILE, (Span){source->base, source->base + source->length});
    start(&p, source);
    Chain chain = chain_begin(tree, file);
    block(&p, &chain, level, false);
    return tree_node(tree, file)->u.child;
}

NodeId parse_property(Tree *tree, const Source *source, Messages *messages)
{
    return fragment(tree, source, messages, LEVEL_THING);
}

NodeId parse_setting(Tree *tree, const Source *source, Messages *messages)
{
    return fragment(tree, source, messages, LEVEL_OPTION);
}
