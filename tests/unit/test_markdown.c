/*
 * The Markdown writer: exact texts, by what CommonMark 0.31 and the specification of GitHub's dialect ask.
 * What a viewer makes of them is in test_markdown_shown.c.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/markdown.h"

static const MarkdownColumn two_columns[] = {{"Circuit", MARKDOWN_LEFT}, {"Current, A", MARKDOWN_RIGHT}};

static Markdown begin(Bench *bench)
{
    Markdown md;
    buf_init(&bench->buf, &bench->arena);
    markdown_init(&md, &bench->buf);
    return md;
}

static void expect(Bench *bench, Markdown *md, const char *text)
{
    markdown_end(md);
    assert_str(buf_str(&bench->buf), text);
}

/* What a paragraph of this text looks like. */
static void expect_paragraph(void **state, Str text, const char *written)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_text(&md, text);
    expect(bench, &md, text_format(&bench->arena, "%s\n", written));
}

static void expect_code(void **state, Str code, const char *written)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_code(&md, code);
    expect(bench, &md, text_format(&bench->arena, "%s\n", written));
}

static void expect_link(void **state, const char *target, const char *written)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_link(&md, STR("x"), target);
    expect(bench, &md, text_format(&bench->arena, "%s\n", written));
}

/* ---- Blocks ---- */

static void blocks_stand_a_line_apart(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_heading(&md, 1, STR("Wren"), NULL);
    markdown_paragraph(&md);
    markdown_text(&md, STR("A boat of "));
    markdown_strong(&md, STR("nine"));
    markdown_format(&md, " metres, %d berths.", 4);
    markdown_quote(&md);
    markdown_strong(&md, STR("Caution."));
    markdown_text(&md, STR(" Shore power kills."));
    markdown_heading(&md, 2, STR("Power"), "power");
    markdown_paragraph(&md);
    markdown_image(&md, STR("the DC system"), "img/power.svg");
    expect(bench, &md,
           "# Wren\n\nA boat of **nine** metres, 4 berths.\n\n> **Caution.** Shore power kills.\n\n"
           "## Power\n\n![the DC system](img/power.svg)\n");
}

static void items_stand_together_and_inside_one_another(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_text(&md, STR("a"));
    markdown_item(&md, MARKDOWN_BULLET, 0);
    markdown_text(&md, STR("b"));
    markdown_item(&md, MARKDOWN_NUMBER, 1);
    markdown_text(&md, STR("c"));
    markdown_item(&md, MARKDOWN_BULLET, 2);
    markdown_text(&md, STR("d"));
    markdown_item(&md, MARKDOWN_TO_DO, 0);
    markdown_text(&md, STR("e"));
    markdown_item(&md, MARKDOWN_DONE, 1);
    markdown_text(&md, STR("f"));
    markdown_paragraph(&md);
    markdown_text(&md, STR("g"));
    expect(bench, &md, "a\n\n- b\n  1. c\n     - d\n- [ ] e\n  - [x] f\n\ng\n");
}

static void tables_are_compact(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_table(&md, two_columns, 2);
    markdown_row(&md);
    markdown_cell_code(&md, STR("galley"));
    markdown_cell_text(&md, STR("-12.5"));
    markdown_row(&md);
    markdown_cell(&md);
    markdown_text(&md, STR("mast"));
    markdown_text(&md, STR(" lights"));
    markdown_cell_text(&md, STR(""));
    markdown_row(&md);
    markdown_cell_text(&md, STR(""));
    markdown_cell_text(&md, STR("a|b\nc"));
    markdown_table(&md, (const MarkdownColumn[]){{"", MARKDOWN_LEFT}}, 1);
    expect(bench, &md,
           "| Circuit | Current, A |\n| --- | ---: |\n| `galley` | -12.5 |\n| mast lights | |\n"
           "| | a&#124;b c |\n\n| |\n| --- |\n");
}

static void code_blocks_keep_every_line_and_fence_longer_than_what_they_hold(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_code_block(&md, STR("bank house {\r\n\t# <b> *x*\n}"), "boat");
    markdown_code_block(&md, STR("```\nx\n````\n"), "");
    markdown_code_block(&md, STR(""), "");
    expect(bench, &md,
           "```boat\nbank house {\n\t# <b> *x*\n}\n```\n\n`````\n```\nx\n````\n`````\n\n```\n```\n");
}

/* ---- Text ---- */

static void what_means_something_to_markdown_is_escaped(void **state)
{
    expect_paragraph(state, STR("VE*2*, a_b_, `x`, ~y~, [z](w)"),
                     "VE\\*2\\*, a\\_b\\_, \\`x\\`, \\~y\\~, \\[z\\](w)");
    expect_paragraph(state, STR("see #12, @name, $5, c:\\d"), "see \\#12, \\@name, \\$5, c:\\\\d");
    expect_paragraph(state, STR("<script>a&amp;b</script>"), "&lt;script&gt;a&amp;amp;b&lt;/script&gt;");
    expect_paragraph(state, STR("a|b"), "a&#124;b");
    expect_paragraph(state, STR("www.x.example WWW.x http://x https://x"),
                     "www\\.x.example WWW\\.x http:\\//x https:\\//x");
    expect_paragraph(state, STR("3.5 kg, 7) no (x), 2 - 1 + 1 = 2! yes"),
                     "3.5 kg, 7) no (x), 2 - 1 + 1 = 2! yes");
}

static void what_would_begin_a_block_is_escaped_at_the_start_only(void **state)
{
    expect_paragraph(state, STR("1. first 1. second"), "1\\. first 1. second");
    expect_paragraph(state, STR("12) x"), "12\\) x");
    expect_paragraph(state, STR("2."), "2\\.");
    expect_paragraph(state, STR("12.5 V"), "12.5 V");
    expect_paragraph(state, STR("- x - y"), "\\- x - y");
    expect_paragraph(state, STR("+ x"), "\\+ x");
    expect_paragraph(state, STR("---"), "\\---");
    expect_paragraph(state, STR("# x"), "\\# x");
    expect_paragraph(state, STR("> x"), "&gt; x");
    expect_paragraph(state, STR("    x"), "x");
    expect_paragraph(state, STR("\n\tx"), "x");
}

static void line_ends_become_blanks_and_controls_are_replaced(void **state)
{
    expect_paragraph(state, STR("a\nb\r\nc\td"), "a b c d");
    expect_paragraph(state, STR("a\n# b"), "a \\# b");
    expect_paragraph(state,
                     STR("a\x1B"
                         "b\xFF"),
                     "a\xEF\xBF\xBD"
                     "b\xEF\xBF\xBD");
}

static void a_text_in_pieces_is_escaped_like_one_that_is_whole(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_text(&md, STR("1"));
    markdown_text(&md, STR(". www"));
    markdown_text(&md, STR(".x http:"));
    markdown_text(&md, STR("//y look!"));
    markdown_link(&md, STR("here!"), "#z");
    expect(bench, &md, "1\\. www\\.x http:\\//y look\\![here\\!](#z)\n");
}

static void text_of_any_length_can_be_formatted(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    char *longer = arena_alloc(&bench->arena, 1001);
    memset(longer, '*', 1000);
    markdown_paragraph(&md);
    markdown_format(&md, "%s", longer);
    markdown_end(&md);
    assert_int_equal(bench->buf.length, 2001);
}

static void strong_text_has_no_blanks_inside_of_its_stars(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_strong(&md, STR(" a*b "));
    markdown_strong(&md, STR(" "));
    expect(bench, &md, "**a\\*b**\n");
}

/* CommonMark 0.31, section 6.1. */
static void code_spans_hold_backticks_and_blanks(void **state)
{
    expect_code(state, STR("galley"), "`galley`");
    expect_code(state, STR("a*b<c"), "`a*b<c`");
    expect_code(state, STR("a`b"), "``a`b``");
    expect_code(state, STR("``"), "``` `` ```");
    expect_code(state, STR(" x "), "`  x  `");
    expect_code(state, STR("a\nb"), "`a b`");
    expect_code(state, STR("a|b"), "`a|b`");
    expect_code(state, STR(""), "");
}

static void code_with_a_bar_is_text_in_a_table(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_table(&md, two_columns, 2);
    markdown_row(&md);
    markdown_cell_code(&md, STR("a|b"));
    markdown_cell_code(&md, STR("c"));
    expect(bench, &md, "| Circuit | Current, A |\n| --- | ---: |\n| a&#124;b | `c` |\n");
}

static void code_spans_that_touch_are_kept_apart(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_code(&md, STR("a"));
    markdown_code(&md, STR("b"));
    expect(bench, &md, "`a` `b`\n");
}

/* ---- Links ---- */

static void targets_are_encoded(void **state)
{
    expect_link(state, "#house.usable-energy@weekend", "[x](#house.usable-energy@weekend)");
    expect_link(state, "img/a b(c).svg", "[x](img/a%20b%28c%29.svg)");
    expect_link(state, "https://x.example/?a=b&copy;=|d", "[x](https://x.example/?a=b&amp;copy;=%7Cd)");
    expect_link(state, "100%/50%25/\\<\">", "[x](100%25/50%25/%5C%3C%22%3E)");
    expect_link(state, "mailto:desk@x.example", "[x](mailto:desk@x.example)");
    expect_link(state, "\xC3\xA9\n", "[x](%C3%A9%0A)");
}

static void a_target_that_could_run_something_is_not_linked(void **state)
{
    expect_link(state, "javascript:alert(1)", "x");
    expect_link(state, "JavaScript:alert(1)", "x");
    expect_link(state, " javascript:alert(1)", "x");
    expect_link(state, "data:text/html,x", "x");
    expect_link(state, "file:///etc", "x");
    expect_link(state, "a/b:c", "[x](a/b:c)");
}

static void names_can_be_links(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_paragraph(&md);
    markdown_link_code(&md, STR("galley"), "#galley");
    markdown_text(&md, STR(" "));
    markdown_link_code(&md, STR("x"), "javascript:x");
    expect(bench, &md, "[`galley`](#galley) `x`\n");
}

/* ---- Headings ---- */

/* The rule of GitHub's viewer, from memory: lower case, no punctuation, each blank a hyphen. */
static void ids_are_those_that_viewers_derive(void **state)
{
    Bench *bench = *state;
    assert_string_equal(markdown_id(&bench->arena, STR("Weight and trim")), "weight-and-trim");
    assert_string_equal(markdown_id(&bench->arena, STR("What's 12 V, then? (_x_)")), "whats-12-v-then-_x_");
    assert_string_equal(markdown_id(&bench->arena, STR("a - b")), "a---b");
    assert_string_equal(markdown_id(&bench->arena, STR("?!")), "section");
}

static void an_anchor_is_written_only_where_the_heading_does_not_make_it(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_heading(&md, 2, STR("Power"), "power");
    markdown_heading(&md, 3, STR("Settings"), "settings");
    markdown_heading(&md, 3, STR("Settings"), "water-settings");
    markdown_heading(&md, 3, STR("Settings"), NULL);
    markdown_heading(&md, 3, STR("\xC3\x89nergie"), "nergie");
    markdown_heading(&md, 3, STR("Tables "), "tables-");
    markdown_heading(&md, 3, STR("Again"), "power");
    expect(bench, &md,
           "## Power\n\n### Settings\n\n### <a id=\"water-settings\"></a>Settings\n\n### Settings\n\n"
           "### <a id=\"nergie\"></a>\xC3\x89nergie\n\n### <a id=\"tables-\"></a>Tables \n\n### Again\n");
}

static void a_heading_is_plain_text(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    markdown_heading(&md, 6, STR("# a\nb #"), NULL);
    expect(bench, &md, "###### \\# a b \\#\n");
}

/* ---- Mistakes of a caller ---- */

static void leave_a_cell_out(Bench *bench)
{
    Markdown md = begin(bench);
    markdown_table(&md, two_columns, 2);
    markdown_row(&md);
    markdown_cell_text(&md, STR("a"));
    markdown_row(&md);
}

static void leave_every_cell_out(Bench *bench)
{
    Markdown md = begin(bench);
    markdown_table(&md, two_columns, 2);
    markdown_row(&md);
    markdown_paragraph(&md);
}

static void add_a_cell_too_many(Bench *bench)
{
    Markdown md = begin(bench);
    markdown_table(&md, two_columns, 2);
    markdown_row(&md);
    markdown_cell_text(&md, STR("a"));
    markdown_cell_text(&md, STR("b"));
    markdown_cell_text(&md, STR("c"));
}

static void write_text_without_a_block(Bench *bench)
{
    Markdown md = begin(bench);
    markdown_text(&md, STR("a"));
}

static void skip_a_level(Bench *bench)
{
    Markdown md = begin(bench);
    markdown_item(&md, MARKDOWN_BULLET, 1);
}

static void calls_that_make_no_document_are_stopped(void **state)
{
    expect_stopped(*state, leave_a_cell_out);
    expect_stopped(*state, leave_every_cell_out);
    expect_stopped(*state, add_a_cell_too_many);
    expect_stopped(*state, write_text_without_a_block);
    expect_stopped(*state, skip_a_level);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(blocks_stand_a_line_apart),
        BENCH_TEST(items_stand_together_and_inside_one_another),
        BENCH_TEST(tables_are_compact),
        BENCH_TEST(code_blocks_keep_every_line_and_fence_longer_than_what_they_hold),
        BENCH_TEST(what_means_something_to_markdown_is_escaped),
        BENCH_TEST(what_would_begin_a_block_is_escaped_at_the_start_only),
        BENCH_TEST(line_ends_become_blanks_and_controls_are_replaced),
        BENCH_TEST(a_text_in_pieces_is_escaped_like_one_that_is_whole),
        BENCH_TEST(text_of_any_length_can_be_formatted),
        BENCH_TEST(strong_text_has_no_blanks_inside_of_its_stars),
        BENCH_TEST(code_spans_hold_backticks_and_blanks),
        BENCH_TEST(code_with_a_bar_is_text_in_a_table),
        BENCH_TEST(code_spans_that_touch_are_kept_apart),
        BENCH_TEST(targets_are_encoded),
        BENCH_TEST(a_target_that_could_run_something_is_not_linked),
        BENCH_TEST(names_can_be_links),
        BENCH_TEST(ids_are_those_that_viewers_derive),
        BENCH_TEST(an_anchor_is_written_only_where_the_heading_does_not_make_it),
        BENCH_TEST(a_heading_is_plain_text),
        BENCH_TEST(calls_that_make_no_document_are_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
