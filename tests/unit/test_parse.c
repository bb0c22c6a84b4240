/*
 * The parser finds its feet again: what the tree holds of a text with mistakes in it (a line of which nothing can be
 * made is kept like a comment, for `format`), and that each cause is told once.
 * Sound texts are in test_stages.c, the words of the messages in tests/wrong/.
 */
#include "check.h"

#include "syntax/parse.h"

typedef struct Parsed {
    Arena arena;
    Messages messages;
    const char *tree;
} Parsed;

static void parse(Parsed *parsed, const char *text)
{
    parsed->arena = check_arena();
    Arena *arena = &parsed->arena;
    Sources *sources = ARENA_NEW(arena, Sources);
    Tree *tree = ARENA_NEW(arena, Tree);
    sources_init(sources, arena);
    messages_init(&parsed->messages, arena);
    tree_init(tree, arena, sources, symbols_new(arena));
    char *copy = (char *)str_copy(arena, str_from(text));
    NodeId file = parse_source(tree, sources_add(sources, STR("test"), copy, strlen(text)), &parsed->messages);
    Buf dump;
    buf_init(&dump, arena);
    tree_dump(tree, file, &dump);
    parsed->tree = dump.text;
}

/* The tree of a text, and the names of its messages in the order of telling, a blank between. */
static void expect(const char *text, const char *tree, const char *names)
{
    Parsed parsed;
    parse(&parsed, text);
    Buf told;
    buf_init(&told, &parsed.arena);
    buf_text(&told, "");
    for (const Message *m = parsed.messages.first; m != NULL; m = m->next) {
        buf_format(&told, "%s%s", told.length > 0 ? " " : "", message_kinds[m->id].name);
    }
    assert_string_equal(parsed.tree, tree);
    assert_str(buf_str(&told), names);
    arena_free(&parsed.arena);
}

static void a_bad_line_does_not_lose_its_block(void **state)
{
    (void)state;
    expect("item a {\n  mass 1,5 kg\n  count 4\n}\nitem b\n",
           "file\n  thing item a\n    property (bad) mass\n    property count 4\n  thing item b\n", "number-comma");
    expect("item a {\n  5 kg\n  count 4\n}\n", "file\n  thing item a\n    comment (bad) 5 kg\n    property count 4\n",
           "statement-start");
}

static void a_bad_first_line_still_opens_its_block(void **state)
{
    (void)state;
    expect("item a blue {\n  mass 1 kg\n}\n", "file\n  thing (bad) item a blue\n    property mass 1 kg\n", "header");
    expect("item a \"open {\n  mass 1 kg\n}\n", "file\n  thing (bad) item a\n    property mass 1 kg\n", "text-open");
    expect("part a {\n  mass 1 kg\n}\n", "file\n  part (bad) part a\n    property mass 1 kg\n", "statement-form");
}

/* Whether the kind is one that the language knows, only the model can tell; so it tells what is missing too. */
static void a_thing_without_a_name_is_left_to_the_model(void **state)
{
    (void)state;
    expect("item {\n  mass 1 kg\n}\n", "file\n  thing (bad) item\n    property mass 1 kg\n", "");
    expect("draw 5 A\n", "file\n  thing (bad) draw 5 A\n", "");
    expect("choice {\n}\n", "file\n  choice (bad) choice\n", "name-missing");
}

static void a_stray_character_before_a_statement_keeps_it(void **state)
{
    (void)state;
    expect("\xE2\x80\xA2 item a {\n  \xE2\x80\xA2 mass 1 kg\n}\n",
           "file\n  thing (bad) item a\n    property (bad) mass 1 kg\n", "strange-character strange-character");
    expect("// remark\nitem a\n", "file\n  comment (bad) // remark\n  thing item a\n", "statement-start");
}

static void a_brace_that_is_missing_is_blamed_on_the_one_that_opens(void **state)
{
    (void)state;
    expect("item a {\n  mass 1 kg\n\nitem b {\n  mass 2 kg\n}\n",
           "file\n  thing item a\n    property mass 1 kg\n  thing item b\n    property mass 2 kg\n", "brace-open");
    expect("item a {\n  b c {\n    d 1\nitem e { }\n",
           "file\n  thing item a\n    property b c\n      property d 1\n  thing item e\n", "brace-open");
    expect("item a {\n  mass 1 kg\n", "file\n  thing item a\n    property mass 1 kg\n", "brace-open");
}

static void a_brace_too_many_closes_nothing(void **state)
{
    (void)state;
    expect("item a { }\n}\nitem b { }\n", "file\n  thing item a\n  thing item b\n", "brace-close");
}

static void a_brace_on_a_line_of_its_own_opens_the_block_above_it(void **state)
{
    (void)state;
    expect("item a\n{\n  mass 1 kg\n}\nitem b\n", "file\n  thing item a\n    property mass 1 kg\n  thing item b\n",
           "brace-place");
    expect("part p for item\n{\n  mass 1 kg\n}\n", "file\n  part part p for item\n    property mass 1 kg\n",
           "brace-place");
    expect("{\n  mass 1 kg\n}\nitem b\n", "file\n  comment (bad) {\n  mass 1 kg\n}\n  thing item b\n",
           "brace-place");
}

static void a_statement_behind_a_closing_brace_is_read(void **state)
{
    (void)state;
    expect("item a { mass 1 kg } item b { mass 2 kg }\n",
           "file\n  thing item a\n    property mass 1 kg\n  thing item b\n    property mass 2 kg\n", "brace-place");
}

static void statements_are_known_by_their_place(void **state)
{
    (void)state;
    expect("pick a\n", "file\n  pick (bad) pick a\n", "misplaced");
    expect("choice c {\n  item a\n  option o { pick p; item b }\n}\n",
           "file\n  choice choice c\n    thing (bad) item a\n    option option o\n      pick (bad) pick p\n"
           "      thing item b\n",
           "misplaced misplaced");
    expect("item a { option b; pick c }\n", "file\n  thing item a\n    property option b\n    property pick c\n", "");
}

static void blocks_go_sixteen_deep(void **state)
{
    (void)state;
    Parsed parsed;
    parse(&parsed, "a b{c{c{c{c{c{c{c{c{c{c{c{c{c{c{c{ d 1 }}}}}}}}}}}}}}}}\n");
    assert_int_equal(parsed.messages.count, 0);
    assert_non_null(strstr(parsed.tree, "property d 1"));
    arena_free(&parsed.arena);
    parse(&parsed, "a b{c{c{c{c{c{c{c{c{c{c{c{c{c{c{c{c{ d 1 }}}}}}}}}}}}}}}}}\nitem e\n");
    assert_int_equal(parsed.messages.count, 1);
    assert_null(strstr(parsed.tree, "property d 1"));
    assert_non_null(strstr(parsed.tree, "thing item e"));
    arena_free(&parsed.arena);
}

static void a_list_goes_on_after_a_comma(void **state)
{
    (void)state;
    expect("a b {\n  c d, # one\n    # two\n    e,\n    f,\n\n  g 1\n}\n",
           "file\n  thing a b\n    property c d , e , f ,\n    comment after # one\n    comment after # two\n"
           "    property g 1\n",
           "");
    expect("a b { c d, }\n", "file\n  thing a b\n    property c d ,\n", "");
}

/* What has a number, a text or a block behind it is no member of a list. */
static void a_comma_after_the_last_member_ends_before_a_statement(void **state)
{
    (void)state;
    expect("a b {\n  c d,\n    e,\n  # two\n  g 1 m\n}\n",
           "file\n  thing a b\n    property c d , e ,\n    comment # two\n    property g 1 m\n", "");
    expect("a b {\n  c d,\n  g \"x\"\n}\n", "file\n  thing a b\n    property c d ,\n    property g \"x\"\n", "");
    expect("a b {\n  c d,\n  g ?\n}\n", "file\n  thing a b\n    property c d ,\n    property g ?\n", "");
}

static void a_text_goes_on_behind_a_comment(void **state)
{
    (void)state;
    expect("a b {\n  note \"one\" # why\n    \"two\"\n  note \"three\" # the end\n}\n",
           "file\n  thing a b\n    property note \"one\" \"two\"\n    comment after # why\n"
           "    property note \"three\"\n    comment after # the end\n",
           "");
}

static void a_try_that_is_given_up_leaves_no_message(void **state)
{
    (void)state;
    /* Read twice, as the braces do not match; the mistake inside is told once all the same. */
    expect("item a {\n  mass 1,5 kg\n\nitem b {\n}\n",
           "file\n  thing item a\n    property (bad) mass\n  thing item b\n", "number-comma brace-open");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bad_line_does_not_lose_its_block),
        cmocka_unit_test(a_bad_first_line_still_opens_its_block),
        cmocka_unit_test(a_thing_without_a_name_is_left_to_the_model),
        cmocka_unit_test(a_stray_character_before_a_statement_keeps_it),
        cmocka_unit_test(a_brace_that_is_missing_is_blamed_on_the_one_that_opens),
        cmocka_unit_test(a_brace_too_many_closes_nothing),
        cmocka_unit_test(a_brace_on_a_line_of_its_own_opens_the_block_above_it),
        cmocka_unit_test(a_statement_behind_a_closing_brace_is_read),
        cmocka_unit_test(statements_are_known_by_their_place),
        cmocka_unit_test(blocks_go_sixteen_deep),
        cmocka_unit_test(a_list_goes_on_after_a_comma),
        cmocka_unit_test(a_comma_after_the_last_member_ends_before_a_statement),
        cmocka_unit_test(a_text_goes_on_behind_a_comment),
        cmocka_unit_test(a_try_that_is_given_up_leaves_no_message),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
