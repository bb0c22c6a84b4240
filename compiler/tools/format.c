/* See format.h. Blocks, blank lines and comments; the statements' own lines are in format_statement.c. */
#include "tools/format.h"

#include "syntax/parse.h"
#include "tools/format_parts.h"

#include <string.h>

typedef struct Writer {
    Buf *to;
    const Tree *tree;
    Buf scratch;    /* a statement on one line, to see whether it fits */
    size_t start;   /* of the text, in `to` */
    bool commented; /* a comment ends the present line */
} Writer;

/* ---- What stands around a statement ---- */

/* The kind of things, or the group, whose properties stand in a statement's block. */
static KindId kind_inside(const Tree *tree, NodeId statement, KindId inside)
{
    switch (tree_kind(tree, statement)) {
    case NODE_THING: return schema_find_kind(tree_text(tree, statement + 1));
    case NODE_PART: {
        NodeId kind = tree_header(tree, statement).kind;
        return kind != 0 ? schema_find_kind(tree_text(tree, kind)) : KIND_NONE;
    }
    case NODE_PROPERTY:
        if (inside != KIND_NONE) {
            return (KindId)props[schema_find_prop(inside, tree_text(tree, statement + 1))].block;
        }
        return KIND_NONE;
    default: return KIND_NONE;
    }
}

static bool is_comment(const Tree *tree, NodeId id)
{
    return tree_kind(tree, id) == NODE_COMMENT && !(tree_node(tree, id)->flags & NODE_BAD);
}

/*
 * Whether a list that ends here may end in a comma: if a blank line, the end of the block or of the file
 * follows, else the next line would belong to the list.
 */
static bool may_end_in_comma(const Tree *tree, NodeId statement)
{
    for (NodeId id = tree_node(tree, statement)->next; id != 0; id = tree_node(tree, id)->next) {
        uint8_t flags = tree_node(tree, id)->flags;
        if (flags & NODE_AFTER_BLANK) {
            return true;
        }
        if (!is_comment(tree, id)) {
            return false;
        }
    }
    return true;
}

/* ---- On one line ---- */

static bool add_on_a_line(const Writer *w, Buf *to, NodeId statement, KindId inside);

/* `{ statement; statement }`: false if the block is to be open. */
static bool add_short_block(const Writer *w, Buf *to, NodeId statement, KindId inside)
{
    enum { MOST_STATEMENTS = 2 };
    int count = 0;
    buf_text(to, " {");
    for (NodeId id = tree_node(w->tree, statement)->u.child; id != 0; id = tree_node(w->tree, id)->next) {
        bool parted = count > 0 && tree_node(w->tree, id)->flags & NODE_AFTER_BLANK;
        if (count == MOST_STATEMENTS || parted || tree_kind(w->tree, id) == NODE_COMMENT) {
            return false;
        }
        buf_text(to, count > 0 ? "; " : " ");
        if (!add_on_a_line(w, to, id, inside)) {
            return false;
        }
        count++;
    }
    buf_text(to, " }");
    return true;
}

static bool add_on_a_line(const Writer *w, Buf *to, NodeId statement, KindId inside)
{
    if (!format_statement_on_a_line(to, w->tree, statement, inside)) {
        return false;
    }
    return !(tree_node(w->tree, statement)->flags & NODE_HAS_BLOCK) ||
           add_short_block(w, to, statement, kind_inside(w->tree, statement, inside));
}

/* Writes a statement with its block on the present line if it fits there. */
static bool write_on_a_line(Writer *w, NodeId statement, FormatPlace place)
{
    w->scratch.length = 0;
    if (!add_on_a_line(w, &w->scratch, statement, place.inside) ||
        format_width(buf_str(&w->scratch)) + 2 * (size_t)place.level > FORMAT_COLUMNS) {
        return false;
    }
    buf_add(w->to, buf_str(&w->scratch));
    return true;
}

/* ---- Line after line ---- */

static void begin_line(Writer *w, int level, bool blank_before)
{
    if (w->to->length > w->start) {
        if (blank_before) {
            buf_char(w->to, '\n');
        }
        buf_char(w->to, '\n');
    }
    format_indent(w->to, level);
    w->commented = false;
}

static void write_block(Writer *w, NodeId owner, KindId inside, int level);

static void write_statement(Writer *w, NodeId statement, FormatPlace place)
{
    bool has_block = tree_node(w->tree, statement)->flags & NODE_HAS_BLOCK;
    if (!has_block) {
        format_statement(w->to, w->tree, statement, place);
    } else if (!write_on_a_line(w, statement, place)) {
        format_statement(w->to, w->tree, statement, place);
        buf_text(w->to, " {");
        write_block(w, statement, kind_inside(w->tree, statement, place.inside), place.level + 1);
        begin_line(w, place.level, false);
        buf_char(w->to, '}');
    }
}

/* What stands on the line of something else: a comment, or text of which nothing could be made. */
static bool write_behind(Writer *w, NodeId id)
{
    if (!(tree_node(w->tree, id)->flags & NODE_TRAILING) || w->commented) {
        return false;
    }
    buf_text(w->to, is_comment(w->tree, id) ? "  " : " ");
    format_as_it_stands(w->to, w->tree, id);
    w->commented = is_comment(w->tree, id);
    return true;
}

/* The statements and comments of a block, or of the file. */
static void write_block(Writer *w, NodeId owner, KindId inside, int level)
{
    NodeId statement = 0;
    bool first = true;
    for (NodeId id = tree_node(w->tree, owner)->u.child; id != 0; id = tree_node(w->tree, id)->next) {
        const Node *node = tree_node(w->tree, id);
        bool comment = node->kind == NODE_COMMENT;
        if (comment &&
            ((statement != 0 && format_comment_is_inside(w->tree, statement, id)) || write_behind(w, id))) {
            continue;
        }
        begin_line(w, level, !first && node->flags & NODE_AFTER_BLANK);
        first = false;
        if (comment) {
            format_as_it_stands(w->to, w->tree, id);
            w->commented = true;
        } else {
            statement = id;
            write_statement(w, id, (FormatPlace){inside, level, may_end_in_comma(w->tree, id)});
        }
    }
}

/* ---- A file ---- */

/* A text parsed, with all that its tree needs. */
typedef struct Parsed {
    Sources sources;
    Messages messages;
    Tree tree;
    const Source *source;
    NodeId file;
} Parsed;

static bool take_text(Parsed *parsed, Arena *arena, Str name, Str text)
{
    char *copy = arena_alloc(arena, text.length + 1);
    memcpy(copy, text.text, text.length);
    sources_init(&parsed->sources, arena);
    messages_init(&parsed->messages, arena);
    tree_init(&parsed->tree, arena, &parsed->sources, symbols_new(arena));
    parsed->source = sources_add(&parsed->sources, name, copy, text.length);
    return parsed->source != NULL;
}

static void parse(Parsed *parsed)
{
    parsed->file = parse_source(&parsed->tree, parsed->source, &parsed->messages);
}

static const char *at_place(const Parsed *parsed, uint32_t offset, const char *what)
{
    Place place = source_place(&parsed->sources, offset);
    return text_format(parsed->tree.arena, "%.*s:%u:%u: %s", STR_ARG(parsed->source->name),
                       (unsigned)place.line, (unsigned)place.column, what);
}

/* Why the blocks of a text cannot be told for certain, or NULL. */
static const char *why_unbalanced(Parsed *parsed)
{
    Messages unheard;
    Lexer lexer;
    size_t open = 0;
    messages_init(&unheard, parsed->tree.arena);
    lexer_init(&lexer, parsed->source, &unheard);
    for (TokenKind kind = lexer_next(&lexer); kind != TOKEN_END; kind = lexer_next(&lexer)) {
        if (kind == TOKEN_CLOSE && open == 0) {
            return at_place(parsed, lexer.token.span.start, "this brace closes nothing; no block is open here");
        }
        open += kind == TOKEN_OPEN;
        open -= kind == TOKEN_CLOSE;
    }
    if (open == 0) {
        return NULL;
    }
    for (const Message *m = parsed->messages.first; m != NULL; m = m->next) {
        if (m->id == MESSAGE_BRACE_OPEN) {
            return at_place(parsed, m->at.start, m->text);
        }
    }
    return at_place(parsed, lexer.token.span.start, "a block is not closed here");
}

/* What a merge has left is for whoever looks for it in the first column, and for a person to decide. */
static const char *why_unmerged(const Parsed *parsed)
{
    const Message *m = parsed->messages.first;
    while (m != NULL && m->id != MESSAGE_MERGE_LEFT) {
        m = m->next;
    }
    return at_place(parsed, m != NULL ? m->at.start : parsed->source->base, m != NULL ? m->text : "a merge has left both of its sides");
}

static void write_file(Writer *w, NodeId file)
{
    write_block(w, file, KIND_NONE, 0);
    if (w->to->length > w->start) {
        buf_char(w->to, '\n');
    }
}

/* Where what was written says something else than the text before: a node of that; 0 if nowhere. */
static NodeId find_difference(const Parsed *before, Arena *arena, Str written)
{
    Parsed after;
    if (!take_text(&after, arena, before->source->name, written)) {
        return before->file;
    }
    parse(&after);
    return format_difference(&before->tree, before->file, &after.tree, after.file);
}

static const char *write_checked(Buf *to, Arena *arena, const Parsed *parsed)
{
    Writer w = {.to = to, .tree = &parsed->tree, .start = to->length};
    buf_init(&w.scratch, arena);
    write_file(&w, parsed->file);
    NodeId difference = find_difference(parsed, arena, (Str){to->text + w.start, to->length - w.start});
    if (difference == 0) {
        return NULL;
    }
    to->length = w.start;
    return at_place(parsed, tree_span(&parsed->tree, difference).start,
                    "this cannot be laid out anew without changing what it says");
}

bool format_text(Buf *to, Arena *arena, Str name, Str text, const char **why)
{
    Parsed parsed;
    if (!take_text(&parsed, arena, name, text)) {
        *why = text_format(arena, "%.*s: it is more text than fits (4 GiB)", STR_ARG(name));
        return false;
    }
    const char *nul = memchr(parsed.source->text, 0, parsed.source->length);
    if (nul != NULL) {
        *why = at_place(&parsed, parsed.source->base + (uint32_t)(nul - parsed.source->text),
                        "a byte 0 stands here: this is no text, or not all of it");
        return false;
    }
    size_t bad = utf8_first_bad(parsed.source->text, parsed.source->length, 0);
    if (bad < parsed.source->length) {
        *why = at_place(&parsed, parsed.source->base + (uint32_t)bad,
                        "this byte is not part of any UTF-8 character");
        return false;
    }
    parse(&parsed);
    *why = parsed.tree.unmerged ? why_unmerged(&parsed) : why_unbalanced(&parsed);
    if (*why == NULL) {
        *why = write_checked(to, arena, &parsed);
    }
    return *why == NULL;
}
