/*
 * What a viewer makes of the Markdown writer's texts: every text is shown as the text it is, whatever is in
 * it.
 *
 * Judge: cmark-gfm with its extensions for tables, strikethrough and links found in text; skipped where it is
 * not installed. One thing it does to text cannot be prevented by escaping: it links addresses of mail. No
 * `@`, therefore.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/markdown.h"

#define JUDGE "cmark-gfm -e table -e autolink -e strikethrough --unsafe"

static const MarkdownColumn two_columns[] = {{"Circuit", MARKDOWN_LEFT}, {"Current, A", MARKDOWN_RIGHT}};

static Markdown begin(Bench *bench)
{
    Markdown md;
    buf_init(&bench->buf, &bench->arena);
    markdown_init(&md, &bench->buf);
    return md;
}

static const char *const nasty[] = {
    "\\",          "`",     "*",        "_",    "[",    "]",  "(",  ")",   "<",    ">",       "~",
    "#",           "&",     "|",        "!",    "-",    "+",  ".",  "=",   ":",    "/",       "//",
    "$",           "1",     "23",       "a",    "b",    " ",  " ",  "\n",  "www.", "http://", "ftp://",
    "https://a.b", "&amp;", "<b>",      "</p>", "<!--", "**", "__", "~~",  "```",  "---",     "](",
    "[x]:",        "[^1]",  "\xC2\xB5", "\"",   "'",    "{",  "^",  "1. ", "- ",   "# ",      "> ",
};

static void write_escaped(Buf *html, Str text)
{
    for (size_t i = 0; i < text.length; i++) {
        switch (text.text[i]) {
        case '<': buf_text(html, "&lt;"); break;
        case '>': buf_text(html, "&gt;"); break;
        case '&': buf_text(html, "&amp;"); break;
        case '"': buf_text(html, "&quot;"); break;
        default: buf_char(html, text.text[i]); break;
        }
    }
}

/* The text as HTML shows it: without blanks at its start, as the writer promises. */
static void write_html(Buf *html, Str text)
{
    while (text.length > 0 && text.text[0] == ' ') {
        text = (Str){text.text + 1, text.length - 1};
    }
    write_escaped(html, text);
}

/* A line end is one blank, unless one stands there already. */
static Str on_one_line(Arena *arena, Str text)
{
    Buf line;
    buf_init(&line, arena);
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] != '\n') {
            buf_char(&line, text.text[i]);
        } else if (line.length > 0 && line.text[line.length - 1] != ' ') {
            buf_char(&line, ' ');
        }
    }
    return buf_str(&line);
}

static Str next_text(Bench *bench, uint64_t *seed)
{
    Buf text;
    buf_init(&text, &bench->arena);
    buf_add(&text, random_text(&bench->arena, seed, nasty, sizeof nasty / sizeof *nasty, 7));
    buf_text(&text, "z"); /* so that no block is empty */
    return on_one_line(&bench->arena, buf_str(&text));
}

static void expect_judged(Bench *bench, Markdown *md, const Buf *html)
{
    if (!has_command("cmark-gfm")) {
        skip();
    }
    markdown_end(md);
    Str seen = output_of(&bench->arena, JUDGE, buf_str(&bench->buf));
    const char *other = html->text;
    const char *end = strchr(other, '\n');
    while (end && str_starts(seen, str_copy(&bench->arena, (Str){other, (size_t)(end + 1 - other)}))) {
        seen = (Str){seen.text + (end + 1 - other), seen.length - (size_t)(end + 1 - other)};
        other = end + 1;
        end = strchr(other, '\n');
    }
    if (seen.length > 0 || *other != '\0') {
        print_error("seen is\n%.300s\nexpected is\n%.300s\n", str_copy(&bench->arena, seen), other);
        fail();
    }
}

static void a_viewer_shows_paragraphs_as_the_text_they_are(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    Buf html;
    uint64_t seed = 11;
    buf_init(&html, &bench->arena);
    for (int i = 0; i < 3000; i++) {
        Str text = next_text(bench, &seed);
        markdown_paragraph(&md);
        markdown_text(&md, text);
        buf_text(&html, "<p>");
        write_html(&html, text);
        buf_text(&html, "</p>\n");
    }
    expect_judged(bench, &md, &html);
}

static void a_viewer_shows_headings_and_quotes_as_the_text_they_are(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    Buf html;
    uint64_t seed = 12;
    buf_init(&html, &bench->arena);
    for (int i = 0; i < 1000; i++) {
        Str text = next_text(bench, &seed);
        markdown_heading(&md, 2, text, NULL);
        buf_text(&html, "<h2>");
        write_html(&html, text);
        buf_text(&html, "</h2>\n<blockquote>\n<p>");
        markdown_quote(&md);
        markdown_text(&md, text);
        write_html(&html, text);
        buf_text(&html, "</p>\n</blockquote>\n");
    }
    expect_judged(bench, &md, &html);
}

static void a_viewer_shows_items_as_the_text_they_are(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    Buf html;
    uint64_t seed = 13;
    buf_init(&html, &bench->arena);
    buf_text(&html, "<ul>\n");
    for (int i = 0; i < 1000; i++) {
        Str text = next_text(bench, &seed);
        markdown_item(&md, MARKDOWN_BULLET, 0);
        markdown_text(&md, text);
        markdown_item(&md, MARKDOWN_NUMBER, 1);
        markdown_text(&md, text);
        buf_text(&html, "<li>");
        write_html(&html, text);
        buf_text(&html, "\n<ol>\n<li>");
        write_html(&html, text);
        buf_text(&html, "</li>\n</ol>\n</li>\n");
    }
    buf_text(&html, "</ul>\n");
    expect_judged(bench, &md, &html);
}

static void a_viewer_shows_every_cell_of_a_table_as_the_text_it_is(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    Buf html;
    uint64_t seed = 14;
    buf_init(&html, &bench->arena);
    markdown_table(&md, two_columns, 2);
    buf_text(
        &html,
        "<table>\n<thead>\n<tr>\n<th>Circuit</th>\n<th align=\"right\">Current, A</th>\n</tr>\n</thead>\n"
        "<tbody>\n");
    for (int i = 0; i < 2000; i++) {
        Str text = next_text(bench, &seed);
        markdown_row(&md);
        markdown_cell_text(&md, text);
        markdown_cell_code(&md, STR("a`b"));
        buf_text(&html, "<tr>\n<td>");
        write_html(&html, text);
        buf_text(&html, "</td>\n<td align=\"right\"><code>a`b</code></td>\n</tr>\n");
    }
    buf_text(&html, "</tbody>\n</table>\n");
    expect_judged(bench, &md, &html);
}

static void a_viewer_shows_links_strong_text_and_code_as_what_they_are(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    Buf html;
    uint64_t seed = 15;
    buf_init(&html, &bench->arena);
    for (int i = 0; i < 2000; i++) {
        Str text = next_text(bench, &seed);
        markdown_paragraph(&md);
        markdown_link(&md, text, "#a");
        markdown_text(&md, STR(" "));
        markdown_strong(&md, text);
        markdown_text(&md, STR(" "));
        markdown_code(&md, text);
        buf_text(&html, "<p><a href=\"#a\">");
        write_html(&html, text);
        buf_text(&html, "</a> <strong>");
        write_html(&html, text);
        buf_text(&html, "</strong> <code>");
        write_escaped(&html, text);
        buf_text(&html, "</code></p>\n");
    }
    expect_judged(bench, &md, &html);
}

static void a_viewer_shows_code_blocks_as_they_are(void **state)
{
    Bench *bench = *state;
    Markdown md = begin(bench);
    Buf html;
    uint64_t seed = 16;
    buf_init(&html, &bench->arena);
    for (int i = 0; i < 500; i++) {
        Str text = random_text(&bench->arena, &seed, nasty, sizeof nasty / sizeof *nasty, 9);
        Str whole = str_from(text_format(&bench->arena, "x%sz", text.text));
        markdown_code_block(&md, whole, "");
        buf_text(&html, "<pre><code>");
        write_escaped(&html, whole);
        buf_text(&html, "\n</code></pre>\n");
    }
    expect_judged(bench, &md, &html);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_viewer_shows_paragraphs_as_the_text_they_are),
        BENCH_TEST(a_viewer_shows_headings_and_quotes_as_the_text_they_are),
        BENCH_TEST(a_viewer_shows_items_as_the_text_they_are),
        BENCH_TEST(a_viewer_shows_every_cell_of_a_table_as_the_text_it_is),
        BENCH_TEST(a_viewer_shows_links_strong_text_and_code_as_what_they_are),
        BENCH_TEST(a_viewer_shows_code_blocks_as_they_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
