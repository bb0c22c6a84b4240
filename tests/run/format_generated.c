/*
 * A thousand generated specs keep their meaning when they are laid out anew, and find the same layout
 * however oddly they were spaced before.
 *
 * A spec is one of the demo boats or the starter, with things made from the examples of the schema added at
 * random. It is written token by token with odd blanks, line breaks after commas, `;` for line ends and the
 * other way round, trailing commas, carriage returns, and in every other spec with comments and blank lines
 * thrown in. Compared, before and after: statements, terms and comments; mistakes and findings; figures;
 * the bill of materials. Places do not count.
 *
 * The oracle is the parser and the model as they are, and the texts before.
 */
#include "check.h"
#include "generate.h"

#include "base/buf.h"
#include "garboard.h"
#include "language/schema.h"
#include "language/unit.h"
#include "syntax/parse.h"
#include "tools/format.h"

#include <stdio.h>
#include <stdlib.h>

enum { SPECS = 1000 };

/* ---- Making specs ---- */

static Str base_spec(Arena *arena, uint64_t *seed)
{
    char *text;
    size_t length;
    switch (random_below(seed, 3)) {
    case 0: return generate_read(arena, TESTS_DIR "/../specs/plover.boat");
    case 1: return generate_read(arena, TESTS_DIR "/../specs/coot.boat");
    default:
        assert_int_equal(gb_manual("starter", "wren", false, (GbAllocator){0}, &text, &length), GB_DONE);
        Str copy = str_from(str_copy(arena, (Str){text, length}));
        free(text);
        return copy;
    }
}

/* Names for a list; long ones, so that it may need several lines. */
static void add_list(Buf *text, uint64_t *seed)
{
    static const char *const names[] = {"saloon",
                                        "engine-room",
                                        "the-locker-under-the-cockpit-seat",
                                        "v-berth",
                                        "a-very-long-name-that-nobody-would-type-twice",
                                        "head",
                                        "main-cabin"};
    for (int i = 0, most = random_below(seed, 9); i <= most; i++) {
        buf_format(text, "%s%s", i > 0 ? ", " : "",
                   names[random_below(seed, (int)(sizeof names / sizeof names[0]))]);
    }
}

static void add_property(Buf *text, uint64_t *seed, PropId prop)
{
    const PropRow *row = &props[prop];
    if (strncmp(row->shape, "{ R", 3) == 0) {
        buf_format(text, "  %s ", row->word);
        add_list(text, seed);
    } else if (strcmp(row->shape, "T") == 0 && random_below(seed, 3) == 0) {
        buf_format(text, "  %s \"\"\"\n   Of several\n     lines; with { and #.\n  \"\"\"", row->word);
    } else if (strcmp(row->shape, "T") == 0 && random_below(seed, 3) == 0) {
        buf_format(text, "  %s \"It goes on \"\n    \"and  on\"", row->word);
    } else {
        buf_format(text, "  %s", row->example);
    }
    buf_char(text, '\n');
}

/* A thing of any kind with some of its properties, each as its example has it. */
static void add_thing(Buf *text, uint64_t *seed, int number)
{
    KindId kind;
    do {
        kind = (KindId)(1 + random_below(seed, KIND_COUNT - 1));
    } while (kinds[kind].group || kinds[kind].single);
    int one_in = 1 + random_below(seed, 12);
    buf_format(text, "%s thing-%d%s {\n", kinds[kind].word, number,
               random_below(seed, 2) ? " \"Some thing\"" : "");
    for (PropId prop = schema_next_prop(kind, PROP_NONE); prop != PROP_NONE;
         prop = schema_next_prop(kind, prop)) {
        if (random_below(seed, one_in) == 0) {
            add_property(text, seed, prop);
        }
    }
    buf_text(text, "}\n");
}

static void add_choice(Buf *text, uint64_t *seed, int number)
{
    buf_format(text, "choice choice-%d \"Which?\" {\n  option one {\n", number);
    add_thing(text, seed, 1000 + number);
    buf_format(text, "    score mend 4 of 5\n  }\n  option two { set thing-%d.note \"so\" }\n",
               random_below(seed, 8));
    buf_text(text, random_below(seed, 2) ? "  pick one\n}\n" : "}\n");
}

static Str make_spec(Arena *arena, uint64_t *seed)
{
    Buf text;
    buf_init(&text, arena);
    buf_add(&text, base_spec(arena, seed));
    int most = random_below(seed, 8);
    for (int i = 0; i < most; i++) {
        add_thing(&text, seed, i);
        buf_text(&text, random_below(seed, 4) ? "" : "\n");
    }
    if (random_below(seed, 3) == 0) {
        add_choice(&text, seed, most);
    }
    return buf_str(&text);
}

/* ---- Spacing them oddly ---- */

typedef struct Mess {
    Buf *to;
    uint64_t *seed;
    const char *line_end;
    bool adds; /* comments and blank lines too */
    bool list; /* a comma stands before in this statement */
    int comments;
} Mess;

static void add_blanks(Mess *mess, int least)
{
    for (int left = least + random_below(mess->seed, 3); left > 0; left--) {
        buf_char(mess->to, random_below(mess->seed, 5) ? ' ' : '\t');
    }
}

static void add_line_end(Mess *mess, bool may_add)
{
    if (may_add && mess->adds && random_below(mess->seed, 6) == 0) {
        add_blanks(mess, 0);
        buf_format(mess->to, "#%s remark %d", random_below(mess->seed, 2) ? "" : "#", mess->comments++);
        buf_text(mess->to, random_below(mess->seed, 3) ? "" : "  ");
    }
    buf_text(mess->to, mess->line_end);
    add_blanks(mess, 0);
}

/* A line with nothing but a comment, or nothing. */
static void add_lines(Mess *mess, bool blank)
{
    while (mess->adds && random_below(mess->seed, 8) == 0) {
        if (blank && random_below(mess->seed, 2)) {
            add_line_end(mess, false);
        } else {
            buf_format(mess->to, "# line %d", mess->comments++);
            add_line_end(mess, false);
        }
    }
}

static bool is_tight(TokenKind kind)
{
    return kind == TOKEN_TO || kind == TOKEN_SLASH || kind == TOKEN_DOT || kind == TOKEN_COMMA ||
           kind == TOKEN_OPEN || kind == TOKEN_CLOSE || kind == TOKEN_SEMICOLON || kind == TOKEN_PERCENT;
}

/* What stands between two tokens of one statement; `word` is the second. */
static void add_gap(Mess *mess, TokenKind before, TokenKind next, Str word, bool glued)
{
    if (before == TOKEN_COMMA && random_below(mess->seed, 3) == 0) {
        add_line_end(mess, true);
        add_lines(mess, false);
        return;
    }
    bool unit = before == TOKEN_NUMBER && (unit_find(word) != UNIT_NONE || str_is(word, "EUR"));
    bool quote = next == TOKEN_TEXT && before == TOKEN_WORD;
    bool free = is_tight(before) || is_tight(next) || unit || quote || next == TOKEN_COMMENT;
    bool number = before == TOKEN_COMMA && next == TOKEN_NUMBER; /* 1,5 */
    add_blanks(mess, free && !number && (glued || random_below(mess->seed, 2)) ? 0 : 1);
}

/* The line end behind a statement, or what may stand for it. */
static void end_statement(Mess *mess, TokenKind before, TokenKind next, int newlines)
{
    bool block = before == TOKEN_OPEN || next == TOKEN_CLOSE;
    if (next == TOKEN_CLOSE && mess->list && random_below(mess->seed, 2)) {
        buf_char(mess->to, ','); /* behind the last member */
    }
    if (next != TOKEN_COMMENT && before != TOKEN_COMMENT && newlines == 1 &&
        random_below(mess->seed, 3) == 0) {
        buf_text(mess->to, block ? "" : ";");
        add_blanks(mess, 0);
        return;
    }
    add_line_end(mess, before != TOKEN_COMMENT && next != TOKEN_END);
    for (int left = newlines > 1 ? 1 + random_below(mess->seed, 2) : 0; left > 0; left--) {
        add_line_end(mess, false);
    }
    add_lines(mess, true);
}

static Token next_token(Lexer *lexer, int *newlines)
{
    for (*newlines = 0; lexer_next(lexer) == TOKEN_NEWLINE; ++*newlines) {
    }
    return lexer->token;
}

static Str make_mess(Arena *arena, Str spec, uint64_t *seed, bool adds)
{
    Buf to;
    Sources sources;
    Messages messages;
    Lexer lexer;
    Mess mess = {.to = &to, .seed = seed, .adds = adds, .line_end = random_below(seed, 3) ? "\n" : "\r\n"};
    buf_init(&to, arena);
    sources_init(&sources, arena);
    messages_init(&messages, arena);
    lexer_init(&lexer, sources_add(&sources, STR("x"), (char *)str_copy(arena, spec), spec.length),
               &messages);
    int newlines;
    Token before = {.kind = TOKEN_NEWLINE};
    for (Token token = next_token(&lexer, &newlines); token.kind != TOKEN_END;
         token = next_token(&lexer, &newlines)) {
        bool goes_on = before.kind == TOKEN_TEXT && token.kind == TOKEN_TEXT;
        if (before.kind != TOKEN_NEWLINE && newlines > 0 && before.kind != TOKEN_COMMA && !goes_on) {
            end_statement(&mess, before.kind, token.kind, newlines);
            mess.list = false;
        } else if (goes_on) {
            add_line_end(&mess, false);
        } else if (before.kind != TOKEN_NEWLINE) {
            add_gap(&mess, before.kind, token.kind, span_text(&sources, token.span),
                    before.span.end == token.span.start);
        }
        mess.list = token.kind == TOKEN_SEMICOLON || token.kind == TOKEN_OPEN
                        ? false
                        : mess.list || token.kind == TOKEN_COMMA;
        Str text = span_text(&sources, token.span);
        for (size_t i = 0; i < text.length; i++) { /* a long text has lines too */
            if (text.text[i] == '\n') {
                buf_text(&to, mess.line_end);
            } else {
                buf_char(&to, text.text[i]);
            }
        }
        before = token;
    }
    assert_int_equal(messages.count, 0);
    return buf_str(&to);
}

/* ---- What they say ---- */

/* Statements, terms and comments without their places. */
static void add_tree(Buf *to, const Tree *tree, NodeId first, int level)
{
    for (NodeId id = first; id != 0; id = tree_node(tree, id)->next) {
        const Node *node = tree_node(tree, id);
        buf_format(to, "%d %d %d", level, node->kind,
                   node->flags & (NODE_BAD | NODE_HAS_BLOCK | NODE_TRAILING));
        if (node->kind == NODE_COMMENT) {
            Str text = tree_text(tree, id);
            while (text.length > 0 && strchr(" \t\r", text.text[text.length - 1])) {
                text.length--;
            }
            buf_add(to, text);
        }
        for (NodeId i = 1; i <= node->terms; i++) {
            NodeKind kind = tree_kind(tree, id + i);
            bool quoted = kind == NODE_TEXT || kind == NODE_LONG_TEXT;
            if (kind != NODE_COMMA || i < node->terms) {
                buf_format(to, " %d ", kind);
                buf_add(to, quoted ? tree_unquoted(tree, id + i) : tree_text(tree, id + i));
            }
        }
        buf_char(to, '\n');
        add_tree(to, tree, node->u.child, level + 1);
    }
}

static const char *tree_of(Arena *arena, Str text)
{
    Sources sources;
    Messages messages;
    Tree tree;
    Buf to;
    sources_init(&sources, arena);
    messages_init(&messages, arena);
    tree_init(&tree, arena, &sources, symbols_new(arena));
    NodeId file = parse_source(
        &tree, sources_add(&sources, STR("x"), (char *)str_copy(arena, text), text.length), &messages);
    buf_init(&to, arena);
    add_tree(&to, &tree, tree_node(&tree, file)->u.child, 0);
    assert_int_equal(messages.count, 0);
    return to.text;
}

static bool ends_in(const Buf *text, const char *end)
{
    size_t length = strlen(end);
    return text->length >= length && memcmp(text->text + text->length - length, end, length) == 0;
}

/* A text without blanks (a message may quote what is written) and without numbers of lines and columns. */
static void add_without_places(Buf *to, GbText text)
{
    for (const char *at = text.text; at < text.text + text.length; at++) {
        if (*at == '\\' && (at[1] == 't' || at[1] == 'n' || at[1] == 'r')) {
            at++; /* a blank too, as JSON writes it */
        } else if (*at != ' ' && *at != '\t' && *at != '\r' && *at != '\n') {
            buf_char(to, *at);
        }
        if (ends_in(to, "line\":") || ends_in(to, "column\":") || ends_in(to, ".boat,")) {
            at += strspn(at + 1, " 0123456789");
        }
    }
}

static GbFile read_nothing(void *context, const char *path, void *(*allocate)(void *memory, size_t size),
                           void *memory)
{
    (void)context;
    (void)path;
    (void)allocate;
    (void)memory;
    return (GbFile){.error = "there is none"};
}

static const char *model_of(Arena *arena, Str text)
{
    static const char *const outputs[][2] = {{"check", "json"}, {"figures", "csv"}, {"bom", "csv"}};
    GbRequest request = {.path = "wren.boat",
                         .text = text.text,
                         .length = text.length,
                         .reader = {read_nothing, NULL},
                         .today = "2027-03-01"};
    GbCompilation *boat;
    Buf to;
    buf_init(&to, arena);
    assert_int_equal(gb_compile(&request, &boat), GB_DONE);
    for (size_t i = 0; i < sizeof outputs / sizeof outputs[0]; i++) {
        GbText output;
        assert_int_equal(gb_output(boat, outputs[i][0], outputs[i][1], NULL, &output), GB_DONE);
        add_without_places(&to, output);
    }
    gb_free(boat);
    return to.text;
}

static Str laid_out(Arena *arena, Str text)
{
    Buf to;
    const char *why;
    buf_init(&to, arena);
    if (!format_text(&to, arena, STR("wren.boat"), text, &why)) {
        fail_msg("%s\n%s", why, text.text);
    }
    return buf_str(&to);
}

/* Shows the first line in which two texts differ, and fails. */
static void expect_same(int number, const char *what, const char *a, const char *b)
{
    if (strcmp(a, b) == 0) {
        return;
    }
    size_t i = 0;
    while (a[i] == b[i]) {
        i++;
    }
    while (i > 0 && a[i - 1] != '\n' && i % 200 != 0) {
        i--;
    }
    fail_msg("spec %d: %s\nbefore: %.300s\nafter:  %.300s", number, what, a + i, b + i);
}

static void expect_the_same_boat(Arena *arena, int number, Str before, Str after)
{
    expect_same(number, "the statements differ", tree_of(arena, before), tree_of(arena, after));
    expect_same(number, "the boats differ", model_of(arena, before), model_of(arena, after));
}

static void a_thousand_specs_mean_the_same_when_they_are_laid_out_anew(void **state)
{
    (void)state;
    const char *asked = getenv("FORMAT_SEED"); /* another run */
    uint64_t run = asked != NULL ? strtoull(asked, NULL, 10) << 32 : 0;
    size_t figures = 0;
    for (int number = 1; number <= SPECS; number++) {
        Arena arena = check_arena();
        uint64_t seed = (run + (uint64_t)number) * 0x9E3779B97F4A7C15u;
        Str spec = make_spec(&arena, &seed);
        bool adds = number % 2 == 0;
        Str mess = make_mess(&arena, spec, &seed, adds);
        Str after = laid_out(&arena, mess);
        expect_the_same_boat(&arena, number, mess, after);
        expect_same(number, "laid out twice is not laid out once", after.text, laid_out(&arena, after).text);
        if (!adds) {
            expect_same(number, "odd spacing leaves its mark", laid_out(&arena, spec).text, after.text);
        }
        figures += strstr(model_of(&arena, after), "voltage-drop") != NULL;
        arena_free(&arena);
    }
    assert_true(figures > SPECS / 2); /* most are boats in which something is computed */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_thousand_specs_mean_the_same_when_they_are_laid_out_anew),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
