/*
 * The syntax tree: statements and their terms, every comment and position kept. It knows no kinds and no properties.
 *
 * Nodes are numbered; a statement is followed at once by its terms, so term i of statement s is node s + 1 + i. Statements
 * in one block are linked by `next`, the first one of a block is `child` of the statement that opens it. Node 0 is none.
 * A node is 20 bytes; lines and columns are found from the span when they are printed.
 */
#ifndef GARBOARD_SYNTAX_TREE_H
#define GARBOARD_SYNTAX_TREE_H

#include "base/arena.h"
#include "base/buf.h"
#include "base/str.h"
#include "text/source.h"

#include <stdint.h>

typedef uint32_t NodeId; /* 0: none */

typedef enum NodeKind {
    NODE_NONE,
    NODE_FILE,      /* a file; its statements are its children */
    /* statements */
    NODE_THING,     /* KIND name [is PART] ["Title"] [was OLD-NAME] [{ ... }] */
    NODE_PROPERTY,  /* word terms [{ ... }] */
    NODE_EDITION,   /* edition 1 */
    NODE_INCLUDE,   /* include "path"; child: the NODE_FILE, once loaded */
    NODE_PART,      /* part name for KIND ["Title"] { ... } */
    NODE_CHOICE,    /* choice name ["Question"] { ... } */
    NODE_OPTION,    /* option name ["Title"] { ... } */
    NODE_PICK,      /* pick option */
    NODE_BECAUSE,   /* because "..." (of a choice) */
    NODE_SCORE,     /* score criterion 4 of 5 */
    NODE_SET,       /* set name.property terms */
    NODE_WAIVE,     /* waive rule on subject [until date] because "..." */
    NODE_COMMENT,   /* with NODE_BAD: no comment, but text of which nothing could be made, kept as it stands */
    /* terms */
    NODE_WORD,      /* symbol: the interned word */
    NODE_NUMBER,
    NODE_TEXT,
    NODE_LONG_TEXT,
    NODE_DATE,
    NODE_CLOCK,
    NODE_PERCENT,
    NODE_SLASH,
    NODE_TO,
    NODE_TOLERANCE,
    NODE_AT_LEAST,
    NODE_AT_MOST,
    NODE_HOLE,
    NODE_COMMA,
    NODE_DOT,
} NodeKind;

enum {
    NODE_BAD = 1 << 0,         /* a message was given: nothing that is missing here is missed again */
    NODE_HAS_BLOCK = 1 << 1,   /* braces follow, perhaps empty */
    NODE_SHORT_BLOCK = 1 << 2, /* the block stands on the statement's own line */
    NODE_TRAILING = 1 << 3,    /* a comment on the line of the statement before it, or of the brace before it */
    NODE_AFTER_BLANK = 1 << 4, /* a blank line stands before it */
    NODE_GLUED = 1 << 5,       /* a term that follows the one before it without a blank */
    NODE_NAMELESS = 1 << 6,    /* a thing without a name: not told yet, as the schema knows what it was to be */
    NODE_NESTED = 1 << 7,      /* a statement of its block has a block itself */
    NODE_MENDED = 1 << 7,      /* a term: a word that was told, and is read as what was meant by it */
};

typedef struct Node {
    uint32_t start;   /* span, in common offsets; of a statement: its first line without its block */
    uint32_t end;     /* of a bad one: where all ends that belongs to it */
    NodeId next;      /* the next statement of the block */
    union {
        NodeId child;   /* statements: the first statement of the block */
        Symbol symbol;  /* NODE_WORD */
    } u;
    uint8_t kind;     /* NodeKind */
    uint8_t flags;
    uint16_t terms;   /* statements: how many terms follow */
} Node;

typedef struct Tree {
    Arena *arena;
    Sources *sources;
    Symbols *symbols;
    Node **chunks;
    uint32_t chunk_count;
    uint32_t chunk_capacity;
    uint32_t count; /* nodes in use, number 0 included */
    Node *next;     /* the place of the next one */
    Node *room_end; /* behind the last place that there is */
    bool unmerged;  /* a merge has left two versions of something, of which the first alone is in the tree */
} Tree;

enum { TREE_CHUNK_BITS = 11, TREE_CHUNK = 1 << TREE_CHUNK_BITS };

void tree_init(Tree *tree, Arena *arena, Sources *sources, Symbols *symbols);
/** Forgets every node from `count` on: for a parse that is tried and given up. */
void tree_truncate(Tree *tree, uint32_t count);

static inline Node *tree_node(const Tree *tree, NodeId id)
{
    return &tree->chunks[id >> TREE_CHUNK_BITS][id & (TREE_CHUNK - 1)];
}

/** Finds the place of the next node, and of those behind it. */
void tree_find_room(Tree *tree);
/** Adds a node, number tree->count; later nodes never move it. */
static inline Node *tree_add_node(Tree *tree, NodeKind kind, Span span)
{
    if (tree->next == tree->room_end) {
        tree_find_room(tree);
    }
    Node *node = tree->next++;
    tree->count++;
    *node = (Node){.start = span.start, .end = span.end, .kind = (uint8_t)kind};
    return node;
}

/** The same, its number. */
static inline NodeId tree_add(Tree *tree, NodeKind kind, Span span)
{
    NodeId id = tree->count;
    tree_add_node(tree, kind, span);
    return id;
}

/** The node that was added last. */
static inline const Node *tree_last(const Tree *tree)
{
    return tree->next - 1;
}

static inline NodeKind tree_kind(const Tree *tree, NodeId id)
{
    return (NodeKind)tree_node(tree, id)->kind;
}

static inline Span tree_span(const Tree *tree, NodeId id)
{
    const Node *node = tree_node(tree, id);
    return (Span){node->start, node->end};
}

/** The text of a node as it is written; of a word that is read as another, that one. */
static inline Str tree_text(const Tree *tree, NodeId id)
{
    const Node *node = tree_node(tree, id);
    bool mended = node->flags & NODE_MENDED && node->kind == NODE_WORD;
    return mended ? symbols_text(tree->symbols, node->u.symbol) : span_text(tree->sources, (Span){node->start, node->end});
}
/** Whether a message was given of a word that is read as another: what rests on it alone stays quiet. */
static inline bool tree_is_mended(const Tree *tree, NodeId id)
{
    const Node *node = tree_node(tree, id);
    return node->flags & NODE_MENDED && node->kind == NODE_WORD;
}

/** A quoted or long text without quotes and escapes; copied only where it has escapes or is long. */
Str tree_unquoted(const Tree *tree, NodeId id);
/**
 * The words of one or more quoted texts from term `*term` of a statement on, joined by a blank; *term moves behind
 * them. The term must be a text.
 */
Str tree_joined_text(const Tree *tree, NodeId statement, uint16_t *term);

/** The tree as indented text, a statement a line. For tests: the
 * program prints no tree. */
void tree_dump(const Tree *tree, NodeId file, Buf *to);

/* The header of a NODE_THING, NODE_PART, NODE_CHOICE or NODE_OPTION, taken apart. Absent parts are 0. */
typedef struct Header {
    NodeId kind;  /* the kind's word; of a part: the kind it is for */
    NodeId name;
    NodeId part;  /* after `is` */
    NodeId was;   /* the last name before this one; each that was before stands two terms behind */
    Str title;    /* empty if none */
} Header;
Header tree_header(const Tree *tree, NodeId statement);

/**
 * The comma of a list before a place that a blank line has ended, with nothing but such lines and comments between; 0 if
 * there is none. `behind` is the first node from that place on.
 */
NodeId tree_list_before(const Tree *tree, NodeId behind, uint32_t place);

/* A NODE_SET taken apart: `set NAME.PROPERTY`, `set NAME.feeds.PROPERTY` or `set NAME.feeds.TARGET.PROPERTY`. */
typedef struct SetHeader {
    NodeId name;
    NodeId outer;  /* the property that has the block which `word` stands in; 0: it stands in the thing itself */
    NodeId target; /* which of several; 0: not said */
    NodeId word;   /* of the property that is set */
    NodeId value;  /* the first term of its value */
} SetHeader;
/** Of a statement that is not NODE_BAD. */
SetHeader tree_set_header(const Tree *tree, NodeId statement);

#endif
