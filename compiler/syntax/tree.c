/* See tree.h. */
#include "syntax/tree.h"

#include "base/buf.h"

#include <string.h>

void tree_init(Tree *tree, Arena *arena, Sources *sources, Symbols *symbols)
{
    *tree = (Tree){.arena = arena, .sources = sources, .symbols = symbols};
    tree_add(tree, NODE_NONE, (Span){0, 0});
}

static void add_chunk(Tree *tree)
{
    if (tree->chunk_count == tree->chunk_capacity) {
        uint32_t capacity = tree->chunk_capacity ? tree->chunk_capacity * 2 : 16;
        tree->chunks = arena_grow(tree->arena, tree->chunks, tree->chunk_capacity * sizeof(Node *),
                                  capacity * sizeof(Node *));
        tree->chunk_capacity = capacity;
    }
    tree->chunks[tree->chunk_count++] = ARENA_ARRAY(tree->arena, Node, TREE_CHUNK);
}

void tree_find_room(Tree *tree)
{
    uint32_t chunk = tree->count >> TREE_CHUNK_BITS;
    if (chunk == tree->chunk_count) {
        add_chunk(tree);
    }
    tree->next = tree_node(tree, tree->count);
    tree->room_end = tree->chunks[chunk] + TREE_CHUNK;
}

void tree_truncate(Tree *tree, uint32_t count)
{
    tree->count = count;
    tree_find_room(tree);
}

static Str without_escapes(const Tree *tree, Str quoted)
{
    if (memchr(quoted.text, '\\', quoted.length) == NULL) {
        return quoted;
    }
    char *copy = arena_alloc(tree->arena, quoted.length + 1);
    size_t length = 0;
    for (size_t i = 0; i < quoted.length; i++) {
        if (quoted.text[i] == '\\' && i + 1 < quoted.length) {
            i++;
        }
        copy[length++] = quoted.text[i];
    }
    return (Str){copy, length};
}

/* How many blanks all lines of a long text begin with, empty lines aside. */
static size_t common_indent(Str text)
{
    size_t least = text.length;
    size_t i = 0;
    while (i < text.length) {
        size_t blanks = 0;
        while (i + blanks < text.length && text.text[i + blanks] == ' ') {
            blanks++;
        }
        bool empty = i + blanks >= text.length || text.text[i + blanks] == '\n' || text.text[i + blanks] == '\r';
        if (!empty && blanks < least) {
            least = blanks;
        }
        while (i < text.length && text.text[i] != '\n') {
            i++;
        }
        i++;
    }
    return least;
}

/* A long text: the lines between the two lines of quotes, without their common indent and without carriage returns. */
static Str long_text(const Tree *tree, Str whole)
{
    const char *first = memchr(whole.text, '\n', whole.length);
    size_t start = (size_t)(first - whole.text) + 1;
    size_t end = whole.length;
    while (end > start && whole.text[end - 1] != '\n') {
        end--;
    }
    Str inner = {whole.text + start, end > start ? end - start - 1 : 0};
    size_t indent = common_indent(inner);
    char *copy = arena_alloc(tree->arena, inner.length + 1);
    size_t length = 0;
    size_t column = 0;
    for (size_t i = 0; i < inner.length; i++) {
        char c = inner.text[i];
        if (c == '\n') {
            column = 0;
            copy[length++] = c;
        } else if (c != '\r' && column++ >= indent) {
            copy[length++] = c;
        }
    }
    return (Str){copy, length};
}

Str tree_unquoted(const Tree *tree, NodeId id)
{
    Str whole = tree_text(tree, id);
    if (tree_kind(tree, id) == NODE_LONG_TEXT) {
        return long_text(tree, whole);
    }
    return without_escapes(tree, (Str){whole.text + 1, whole.length - 2});
}

static bool is_text(const Tree *tree, NodeId id)
{
    return tree_kind(tree, id) == NODE_TEXT || tree_kind(tree, id) == NODE_LONG_TEXT;
}

Str tree_joined_text(const Tree *tree, NodeId statement, uint16_t *term)
{
    uint16_t terms = tree_node(tree, statement)->terms;
    NodeId first = statement + 1 + *term;
    uint16_t after = (uint16_t)(*term + 1);
    while (after < terms && is_text(tree, statement + 1 + after)) {
        after++;
    }
    Str text = tree_unquoted(tree, first);
    if (after > *term + 1) {
        Buf joined;
        buf_init(&joined, tree->arena);
        buf_add(&joined, text);
        for (NodeId more = first + 1; more < statement + 1 + after; more++) {
            buf_char(&joined, ' ');
            buf_add(&joined, tree_unquoted(tree, more));
        }
        text = buf_str(&joined);
    }
    *term = after;
    return text;
}

SetHeader tree_set_header(const Tree *tree, NodeId statement)
{
    NodeId end = statement + 1 + tree_node(tree, statement)->terms;
    SetHeader header = {.name = statement + 2, .word = statement + 4, .value = statement + 5};
    for (int more = 0; more < 2 && header.value + 1 < end && tree_kind(tree, header.value) == NODE_DOT; more++) {
        header.target = header.outer != 0 ? header.word : 0;
        header.outer = header.outer != 0 ? header.outer : header.word;
        header.word = header.value + 1;
        header.value += 2;
    }
    return header;
}

/* Whether a piece of text, from the end of a line on, holds comments and blanks alone, and a line of these. */
static bool holds_blank_line(Str text)
{
    bool blank = false, begun = false; /* a line that holds nothing yet */
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] == '#') {
            const char *end = memchr(text.text + i, '\n', text.length - i);
            i = end != NULL ? (size_t)(end - text.text) : text.length;
            begun = true;
        } else if (text.text[i] == '\n') {
            blank = blank || begun;
            begun = true;
        } else if (memchr(" \t\r", text.text[i], 3) == NULL) {
            return false;
        }
    }
    return blank;
}

NodeId tree_list_before(const Tree *tree, NodeId behind, uint32_t place)
{
    NodeId last = behind;
    do {
        last--;
    } while (last > 0 && tree_kind(tree, last) == NODE_COMMENT);
    Span between = {tree_span(tree, last).end, place};
    bool ends = tree_kind(tree, last) == NODE_COMMA && between.start < place &&
                holds_blank_line(span_text(tree->sources, between));
    return ends ? last : 0;
}

Header tree_header(const Tree *tree, NodeId statement)
{
    Header header = {0};
    const Node *node = tree_node(tree, statement);
    uint16_t i = 0;
    if (node->kind == NODE_THING) {
        header.kind = statement + 1;
        i = 1;
    } else {
        i = 1; /* the statement's own word */
    }
    if (i < node->terms && tree_kind(tree, statement + 1 + i) == NODE_WORD) {
        header.name = statement + 1 + i++;
    }
    while (i < node->terms) {
        NodeId term = statement + 1 + i;
        if (is_text(tree, term)) {
            header.title = tree_joined_text(tree, statement, &i);
            continue;
        }
        if (tree_kind(tree, term) == NODE_WORD && i + 1 < node->terms) {
            Str word = tree_text(tree, term);
            if (str_is(word, "is")) {
                header.part = term + 1;
            } else if (str_is(word, "was")) {
                header.was = header.was != 0 ? header.was : term + 1;
            } else if (str_is(word, "for")) {
                header.kind = term + 1;
            }
            i++;
        }
        i++;
    }
    return header;
}

static const char *const dump_names[] = {
    [NODE_FILE] = "file",       [NODE_THING] = "thing",   [NODE_PROPERTY] = "property", [NODE_EDITION] = "edition",
    [NODE_INCLUDE] = "include", [NODE_PART] = "part",     [NODE_CHOICE] = "choice",     [NODE_OPTION] = "option",
    [NODE_PICK] = "pick",       [NODE_BECAUSE] = "because", [NODE_SCORE] = "score",     [NODE_SET] = "set",
    [NODE_WAIVE] = "waive",     [NODE_COMMENT] = "comment",
};

static void dump(const Tree *tree, NodeId first, int level, Buf *to)
{
    for (NodeId id = first; id != 0; id = tree_node(tree, id)->next) {
        const Node *node = tree_node(tree, id);
        buf_format(to, "%*s%s", level * 2, "", dump_names[node->kind]);
        if (node->flags & NODE_BAD) {
            buf_text(to, " (bad)");
        }
        if (node->kind == NODE_COMMENT) {
            buf_format(to, "%s ", node->flags & NODE_TRAILING ? " after" : "");
            buf_add(to, tree_text(tree, id));
        }
        for (uint16_t i = 0; i < node->terms; i++) {
            buf_char(to, ' ');
            buf_add(to, tree_text(tree, id + 1 + i));
        }
        buf_char(to, '\n');
        dump(tree, node->u.child, level + 1, to);
    }
}

void tree_dump(const Tree *tree, NodeId file, Buf *to)
{
    dump(tree, file, 0, to);
}
