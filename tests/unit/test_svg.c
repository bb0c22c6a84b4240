/*
 * The SVG writer: exact texts, xmllint as the judge of well-formedness (skipped where it is not installed),
 * and a font's own table as the judge of widths.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/svg.h"

#define HEAD                                                                                     \
    "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"210mm\" height=\"297mm\"" \
    " viewBox=\"0 0 210 297\" font-family=\"sans-serif\">\n<title>t</title>\n"                   \
    "<rect x=\"0\" y=\"0\" width=\"210\" height=\"297\" fill=\"white\"/>\n"

#define LINE " fill=\"none\" stroke=\"black\" stroke-width=\"0.35\"/>\n"

static Svg begin(Bench *bench)
{
    Svg svg;
    buf_init(&bench->buf, &bench->arena);
    svg_begin(&svg, &bench->buf, SVG_A4_PORTRAIT, STR("t"));
    return svg;
}

/* What stands between the head and the end. */
static void expect(Bench *bench, Svg *svg, const char *body)
{
    svg_end(svg);
    assert_str(buf_str(&bench->buf), text_format(&bench->arena, HEAD "%s</svg>\n", body));
}

static void a_page_is_a4_in_millimetres_and_white(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    assert_true(svg.width_mm == 210.0 && svg.height_mm == 297.0);
    expect(bench, &svg, "");
}

static void a_page_can_lie_on_its_side(void **state)
{
    Bench *bench = *state;
    Svg svg;
    svg_begin(&svg, &bench->buf, SVG_A4_LANDSCAPE, STR("a & b"));
    assert_true(svg.width_mm == 297.0 && svg.height_mm == 210.0);
    assert_non_null(strstr(bench->buf.text, "width=\"297mm\" height=\"210mm\" viewBox=\"0 0 297 210\""));
    assert_non_null(strstr(bench->buf.text, "<title>a &amp; b</title>"));
}

static void lines_have_pens(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    SvgPoint from = {10, 20};
    SvgPoint to = {30.5, 20};
    svg_line(&svg, from, to, SVG_LINE);
    svg_line(&svg, from, to, SVG_THIN);
    svg_line(&svg, from, to, SVG_THICK);
    svg_line(&svg, from, to, SVG_DASHED);
    svg_line(&svg, from, to, SVG_DOTTED);
    svg_line(&svg, from, to, SVG_HAIR);
#define SEGMENT "<line x1=\"10\" y1=\"20\" x2=\"30.5\" y2=\"20\" fill=\"none\" stroke=\"black\" stroke-width="
    expect(bench, &svg,
           SEGMENT "\"0.35\"/>\n" SEGMENT "\"0.18\"/>\n" SEGMENT "\"0.7\"/>\n" SEGMENT
                   "\"0.35\" stroke-dasharray=\"2 1.2\"/>\n" SEGMENT
                   "\"0.35\" stroke-dasharray=\"0.4 1\"/>\n" SEGMENT "\"0.08\"/>\n");
}

static void shapes_are_hollow_white_or_black(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_rectangle(&svg, (SvgBox){1, 2, 3, 4}, SVG_LINE, SVG_HOLLOW);
    svg_rectangle(&svg, (SvgBox){1, 2, 3, 4}, SVG_THICK, SVG_WHITE);
    svg_circle(&svg, (SvgPoint){5, 6}, 7, SVG_NO_LINE, SVG_BLACK);
    svg_polyline(&svg, (const SvgPoint[]){{1, 2}, {1, 5}, {4, 5}}, 3, SVG_LINE);
    svg_triangle(&svg, (SvgPoint){0, 0}, (SvgPoint){2, 0}, (SvgPoint){1, 1.5});
    expect(bench, &svg,
           "<rect x=\"1\" y=\"2\" width=\"3\" height=\"4\"" LINE
           "<rect x=\"1\" y=\"2\" width=\"3\" height=\"4\" fill=\"white\" stroke=\"black\""
           " stroke-width=\"0.7\"/>\n"
           "<circle cx=\"5\" cy=\"6\" r=\"7\" fill=\"black\"/>\n"
           "<polyline points=\"1,2 1,5 4,5\"" LINE "<polygon points=\"0,0 2,0 1,1.5\" fill=\"black\"/>\n");
}

static void numbers_have_two_decimals_at_most(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_circle(&svg, (SvgPoint){1.0 / 3.0, 100.10}, 2.499999, SVG_LINE, SVG_HOLLOW);
    svg_circle(&svg, (SvgPoint){-0.001, -12.346}, 0.004, SVG_LINE, SVG_HOLLOW);
    svg_circle(&svg, (SvgPoint){99.999, 0.05}, 120.0, SVG_LINE, SVG_HOLLOW);
    expect(bench, &svg,
           "<circle cx=\"0.33\" cy=\"100.1\" r=\"2.5\"" LINE "<circle cx=\"0\" cy=\"-12.35\" r=\"0\"" LINE
           "<circle cx=\"100\" cy=\"0.05\" r=\"120\"" LINE);
}

static void an_arrow_ends_in_its_head(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_arrow(&svg, (SvgPoint){10, 10}, (SvgPoint){30, 10}, SVG_LINE);
    svg_arrow(&svg, (SvgPoint){10, 10}, (SvgPoint){10, 8.8}, SVG_LINE); /* all head */
    svg_arrow(&svg, (SvgPoint){10, 10}, (SvgPoint){10, 10}, SVG_LINE);  /* nothing */
    expect(bench, &svg,
           "<line x1=\"10\" y1=\"10\" x2=\"27.6\" y2=\"10\"" LINE
           "<polygon points=\"30,10 27.6,10.8 27.6,9.2\" fill=\"black\"/>\n"
           "<polygon points=\"10,8.8 10.4,10 9.6,10\" fill=\"black\"/>\n");
}

static void hatching_stays_inside_its_box(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_hatch(&svg, (SvgBox){10, 20, 3, 2}, 1.5);
    svg_hatch(&svg, (SvgBox){10, 20, 0.5, 0.5}, 1.5);
    svg_hatch(&svg, (SvgBox){10, 20, 0, 0}, 1.5);
    expect(bench, &svg,
           "<path d=\"M11.5,20 L10,21.5 M13,20 L11,22 M13,21.5 L12.5,22\" fill=\"none\" stroke=\"black\""
           " stroke-width=\"0.18\"/>\n");
}

static void words_are_anchored_and_sized(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_text(&svg, (SvgPoint){10, 20}, 3.5, SVG_START, STR("a"));
    svg_text(&svg, (SvgPoint){10, 20}, 3, SVG_MIDDLE, STR("b"));
    svg_text(&svg, (SvgPoint){10, 20}, 3, SVG_END, STR("c"));
    svg_text_upwards(&svg, (SvgPoint){10, 20}, 3, SVG_MIDDLE, STR("d"));
    expect(bench, &svg,
           "<text x=\"10\" y=\"20\" font-size=\"3.5\">a</text>\n"
           "<text x=\"10\" y=\"20\" font-size=\"3\" text-anchor=\"middle\">b</text>\n"
           "<text x=\"10\" y=\"20\" font-size=\"3\" text-anchor=\"end\">c</text>\n"
           "<text x=\"10\" y=\"20\" font-size=\"3\" text-anchor=\"middle\""
           " transform=\"rotate(-90 10,20)\">d</text>\n");
}

static void words_over_lines_have_a_white_edge_below_them(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_text_clear(&svg, (SvgPoint){10, 20}, 3, SVG_END, STR("a"));
    expect(bench, &svg,
           "<text x=\"10\" y=\"20\" font-size=\"3\" text-anchor=\"end\" stroke=\"white\" stroke-width=\"1\""
           " stroke-linejoin=\"round\">a</text>\n"
           "<text x=\"10\" y=\"20\" font-size=\"3\" text-anchor=\"end\">a</text>\n");
}

/* XML 1.0, sections 2.2 (characters) and 2.4 (markup in text). */
static void words_are_escaped(void **state)
{
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_text(&svg, (SvgPoint){0, 0}, 1, SVG_START, STR("</text><script>\"&amp;\" ]]>"));
    svg_text(&svg, (SvgPoint){0, 0}, 1, SVG_START, STR("a\nb\tc\x01\xFF\xEF\xBF\xBE \xC2\xB0"));
    expect(
        bench, &svg,
        "<text x=\"0\" y=\"0\" font-size=\"1\">&lt;/text&gt;&lt;script&gt;&quot;&amp;amp;&quot; "
        "]]&gt;</text>\n"
        "<text x=\"0\" y=\"0\" font-size=\"1\">a b c\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD \xC2\xB0</text>\n");
}

static void any_text_gives_a_well_formed_picture(void **state)
{
    static const char *const pieces[] = {
        "<",    ">", "&",  "\"",   "'",    "]]>",  "<!--",     "-->",          "<?x",          "&#0;",
        "&lt;", "a", "\n", "\x01", "\x7F", "\xFF", "\xC2\x85", "\xED\xA0\x80", "\xEF\xBF\xBF", "\xC2\xB5"};
    Bench *bench = *state;
    Svg svg;
    uint64_t seed = 21;
    if (!has_command("xmllint")) {
        skip();
    }
    svg_begin(&svg, &bench->buf, SVG_A4_LANDSCAPE, STR("\x02<&>"));
    for (int i = 0; i < 2000; i++) {
        SvgPoint at = {i % 290, i % 200};
        svg_text(&svg, at, 3, SVG_START,
                 random_text(&bench->arena, &seed, pieces, sizeof pieces / sizeof *pieces, 6));
    }
    svg_end(&svg);
    Str names = output_of(&bench->arena, "xmllint --nonet --xpath 'count(/*[local-name()=\"svg\"]/*)' -",
                          buf_str(&bench->buf));
    assert_str(names, "2002\n"); /* the title, the page, the words: nothing that came out of a text */
}

/*
 * Advance widths of DejaVu Sans 2.37, 2048 units to the size of the font: read from the hmtx table of
 * DejaVuSans.ttf (Debian package fonts-dejavu-core 2.37-6).
 */
static const int dejavu_ascii[] = {
    651,  821,  942,  1716, 1303, 1946, 1597, 563,  799,  799,  1024, 1716, 651,  739,  651,  690,  /* 0x20 */
    1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 690,  690,  1716, 1716, 1716, 1087, /* 0x30 */
    2048, 1401, 1405, 1430, 1577, 1294, 1178, 1587, 1540, 604,  604,  1343, 1141, 1767, 1532, 1612, /* 0x40 */
    1235, 1612, 1423, 1300, 1251, 1499, 1401, 2025, 1403, 1251, 1403, 799,  690,  799,  1716, 1024, /* 0x50 */
    1024, 1255, 1300, 1126, 1300, 1260, 721,  1300, 1298, 569,  569,  1186, 569,  1995, 1298, 1253, /* 0x60 */
    1300, 1300, 842,  1067, 803,  1298, 1212, 1675, 1212, 1212, 1075, 1303, 690,  1303, 1716,       /* 0x70 */
};

typedef struct Advance {
    const char *character;
    int width;
} Advance;

static const Advance dejavu_others[] = {
    {"\xC2\xB5", 1303},     /* micro */
    {"\xC2\xB0", 1024},     /* degree */
    {"\xC2\xBD", 1985},     /* one half */
    {"\xC3\x86", 1995},     /* AE */
    {"\xC3\xA6", 2011},     /* ae */
    {"\xC3\xA9", 1260},     /* e acute */
    {"\xC3\x9C", 1499},     /* U with two points */
    {"\xC3\x97", 1716},     /* times */
    {"\xC5\x92", 2191},     /* OE */
    {"\xCE\xA9", 1565},     /* Omega */
    {"\xD0\xA9", 2240},     /* Cyrillic shcha */
    {"\xE2\x80\x94", 2048}, /* long dash */
    {"\xE2\x80\xA6", 2048}, /* ellipsis */
    {"\xE2\x80\xB0", 2748}, /* per mille */
    {"\xE2\x84\x83", 2300}, /* degree Celsius */
    {"\xE2\x86\x92", 1716}, /* arrow */
    {"\xE2\x89\xA4", 1716}, /* at most */
};

static void no_letter_is_wider_than_estimated(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof dejavu_ascii / sizeof *dejavu_ascii; i++) {
        char letter = (char)(' ' + i);
        double width = svg_text_width((Str){&letter, 1}, 2048.0);
        assert_true(width >= dejavu_ascii[i]);
        assert_true(width <= 1.8 * dejavu_ascii[i]); /* generous, not boundless */
    }
    for (size_t i = 0; i < sizeof dejavu_others / sizeof *dejavu_others; i++) {
        assert_true(svg_text_width(str_from(dejavu_others[i].character), 2048.0) >= dejavu_others[i].width);
    }
}

static void widths_count_characters_and_grow_with_the_size(void **state)
{
    (void)state;
    assert_near(svg_text_width(STR(""), 3.0), 0.0, 0.0);
    assert_near(svg_text_width(STR("00000"), 4.0), 5.0 * svg_text_width(STR("0"), 4.0), 1e-12);
    assert_near(svg_text_width(STR("ab"), 6.0), 2.0 * svg_text_width(STR("ab"), 3.0), 1e-12);
    /* Four bytes, but one character. */
    assert_true(svg_text_width(STR("\xF0\x9F\x9B\xA5"), 1.0) < 2.0);
}

static void a_text_that_fits_is_left_alone(void **state)
{
    Bench *bench = *state;
    Str text = STR("mast lights");
    Str fits = svg_text_fit(&bench->arena, text, 3.0, svg_text_width(text, 3.0));
    assert_ptr_equal(fits.text, text.text);
    assert_int_equal(fits.length, text.length);
}

static void a_text_too_wide_ends_in_an_ellipsis(void **state)
{
    Bench *bench = *state;
    Str text = STR("mast lights");
    double ellipsis_mm = svg_text_width(STR("\xE2\x80\xA6"), 3.0);
    assert_str(svg_text_fit(&bench->arena, text, 3.0, svg_text_width(STR("mast li"), 3.0) + ellipsis_mm),
               "mast li\xE2\x80\xA6");
    /* No blank before the ellipsis. */
    assert_str(svg_text_fit(&bench->arena, text, 3.0, svg_text_width(STR("mast "), 3.0) + ellipsis_mm),
               "mast\xE2\x80\xA6");
    assert_str(svg_text_fit(&bench->arena, text, 3.0, ellipsis_mm), "\xE2\x80\xA6");
    assert_str(svg_text_fit(&bench->arena, text, 3.0, 0.9 * ellipsis_mm), "");
    assert_str(svg_text_fit(&bench->arena, text, 3.0, -1.0), "");
}

static void a_cut_parts_no_character_from_its_bytes_nor_its_accent(void **state)
{
    Bench *bench = *state;
    double ellipsis_mm = svg_text_width(STR("\xE2\x80\xA6"), 3.0);
    Str micro = STR("\xC2\xB5\xC2\xB5\xC2\xB5\xC2\xB5");
    assert_str(svg_text_fit(&bench->arena, micro, 3.0, svg_text_width(STR("\xC2\xB5"), 3.0) + ellipsis_mm),
               "\xC2\xB5\xE2\x80\xA6");
    Str accent = STR("ae\xCC\x81n mmmm"); /* e, then a combining accent */
    assert_str(svg_text_fit(&bench->arena, accent, 3.0, svg_text_width(STR("ae"), 3.0) + ellipsis_mm),
               "a\xE2\x80\xA6");
    Str behind = STR("mmmmme\xCC\x81"); /* no accent without its letter at the end that is kept */
    assert_str(svg_text_fit(&bench->arena, behind, 3.0, svg_text_width(STR("mmmm"), 3.0) + ellipsis_mm), "mm\xE2\x80\xA6" "e\xCC\x81");
}

/* Names of a kind differ at their ends. */
static void a_name_is_cut_in_its_middle(void **state)
{
    Bench *bench = *state;
    double ellipsis_mm = svg_text_width(STR("\xE2\x80\xA6"), 3.0);
    assert_str(svg_text_fit(&bench->arena, STR("mmmmmmmm-1"), 3.0, svg_text_width(STR("mmm-1"), 3.0) + ellipsis_mm), "mmm\xE2\x80\xA6-1");
}

static void whatever_is_cut_fits(void **state)
{
    static const char *const pieces[] = {"W",        "i",  " ",   "m", "\xC2\xB0", "\xE2\x80\xB0",
                                         "\xCC\x81", "12", "\xFF"};
    Bench *bench = *state;
    uint64_t seed = 5;
    for (int i = 0; i < 3000; i++) {
        Str text = random_text(&bench->arena, &seed, pieces, sizeof pieces / sizeof *pieces, 12);
        double width_mm = random_below(&seed, 400) / 10.0;
        Str fits = svg_text_fit(&bench->arena, text, 3.5, width_mm);
        assert_true(svg_text_width(fits, 3.5) <= width_mm + 1e-6);
    }
}

static void capitals_stand_in_the_middle_of_a_box(void **state)
{
    (void)state;
    /* DejaVu Sans: an H is 1493 of 2048 units high (read from the glyf table of the font named above). */
    double baseline_mm = svg_baseline(50.0, 4.0);
    double top_mm = baseline_mm - 4.0 * 1493.0 / 2048.0;
    assert_near((baseline_mm + top_mm) / 2.0, 50.0, 0.05);
}

static void nothing_is_fetched_or_run(void **state)
{
    static const char *const forbidden[] = {"<script", "<style", " style=",       "href",
                                            "url(",    "<image", "<foreignObject"};
    Bench *bench = *state;
    Svg svg = begin(bench);
    svg_arrow(&svg, (SvgPoint){10, 10}, (SvgPoint){30, 10}, SVG_DASHED);
    svg_hatch(&svg, (SvgBox){10, 20, 3, 2}, 1.5);
    svg_text_upwards(&svg, (SvgPoint){10, 20}, 3, SVG_MIDDLE, STR("<style>"));
    svg_end(&svg);
    for (size_t i = 0; i < sizeof forbidden / sizeof *forbidden; i++) {
        assert_null(strstr(bench->buf.text, forbidden[i]));
    }
}

/* ---- Mistakes of a caller ---- */

static void draw_at_no_place(Bench *bench)
{
    Svg svg = begin(bench);
    svg_line(&svg, (SvgPoint){(double)NAN, 0}, (SvgPoint){0, 0}, SVG_LINE);
}

static void draw_a_box_of_less_than_nothing(Bench *bench)
{
    Svg svg = begin(bench);
    svg_rectangle(&svg, (SvgBox){0, 0, -1, 1}, SVG_LINE, SVG_HOLLOW);
}

static void shapes_that_cannot_be_are_stopped(void **state)
{
    expect_stopped(*state, draw_at_no_place);
    expect_stopped(*state, draw_a_box_of_less_than_nothing);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_page_is_a4_in_millimetres_and_white),
        BENCH_TEST(a_page_can_lie_on_its_side),
        BENCH_TEST(lines_have_pens),
        BENCH_TEST(shapes_are_hollow_white_or_black),
        BENCH_TEST(numbers_have_two_decimals_at_most),
        BENCH_TEST(an_arrow_ends_in_its_head),
        BENCH_TEST(hatching_stays_inside_its_box),
        BENCH_TEST(words_are_anchored_and_sized),
        BENCH_TEST(words_over_lines_have_a_white_edge_below_them),
        BENCH_TEST(words_are_escaped),
        BENCH_TEST(any_text_gives_a_well_formed_picture),
        BENCH_TEST(no_letter_is_wider_than_estimated),
        BENCH_TEST(widths_count_characters_and_grow_with_the_size),
        BENCH_TEST(a_text_that_fits_is_left_alone),
        BENCH_TEST(a_text_too_wide_ends_in_an_ellipsis),
        BENCH_TEST(a_cut_parts_no_character_from_its_bytes_nor_its_accent),
        BENCH_TEST(a_name_is_cut_in_its_middle),
        BENCH_TEST(whatever_is_cut_fits),
        BENCH_TEST(capitals_stand_in_the_middle_of_a_box),
        BENCH_TEST(nothing_is_fetched_or_run),
        BENCH_TEST(shapes_that_cannot_be_are_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
