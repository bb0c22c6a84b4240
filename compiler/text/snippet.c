/* See snippet.h. */
#include "text/snippet.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum {
    NUMBER_WIDTH = 5, /* of a line number, at least */
    BEFORE_MARK = 30, /* columns kept in front of a place in a long line */
    DOTS = 3,
};

/* Colour */

void colour_begin(Buf *to, Colour colour, Tint tint)
{
    static const char *const CODES[] = {
        [TINT_STRONG] = "\x1b[1m", [TINT_RED] = "\x1b[1;31m", [TINT_YELLOW] = "\x1b[33m"};
    if (colour.on && tint != TINT_NONE) {
        buf_text(to, CODES[tint]);
    }
}

void colour_end(Buf *to, Colour colour, Tint tint)
{
    if (colour.on && tint != TINT_NONE) {
        buf_text(to, "\x1b[0m");
    }
}

/* Characters */

typedef struct Cell {
    const char *text;
    size_t length; /* bytes in the source */
    int width;     /* columns on a terminal: 0, 1 or 2 */
    bool replaced; /* drawn as U+FFFD */
    bool blank;    /* drawn as a blank */
} Cell;

typedef struct Range {
    uint32_t first, last;
} Range;

static bool in_ranges(uint32_t code, const Range *ranges, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (code >= ranges[i].first && code <= ranges[i].last) {
            return true;
        }
    }
    return false;
}
#define IN_RANGES(code, ranges) in_ranges((code), (ranges), sizeof(ranges) / sizeof((ranges)[0]))

/* Controls, line and paragraph separators, what is invisible, and what turns the direction of writing.
 * Unicode general categories Cc, Zl, Zp and Cf, from memory. */
static bool is_harmful(uint32_t code)
{
    static const Range HARMFUL[] = {{0x00, 0x1F},     {0x7F, 0x9F},     {0xAD, 0xAD},
                                    {0x61C, 0x61C},   {0x200B, 0x200F}, {0x2028, 0x202E},
                                    {0x2060, 0x206F}, {0xFEFF, 0xFEFF}, {0xE0000, 0xE007F}};
    return IN_RANGES(code, HARMFUL);
}

/* How many columns a terminal gives a character. Unicode East Asian Width W and F, general category Mn; the
 * large blocks only, from memory: a rare character may move an underline by a column, and nothing else. */
static int width_of(uint32_t code)
{
    static const Range NONE[] = {{0x300, 0x36F},   {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF},
                                 {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};
    static const Range TWO[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},  {0x3041, 0xA4CF}, {0xAC00, 0xD7A3},
                                {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},  {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6},
                                {0x1F300, 0x1FAFF}, {0x20000, 0x3FFFD}};
    if (code < 0x300) {
        return 1;
    }
    return IN_RANGES(code, NONE) ? 0 : IN_RANGES(code, TWO) ? 2 : 1;
}

static uint32_t decode(const unsigned char *at, size_t length)
{
    static const unsigned char FIRST_BITS[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    uint32_t code = at[0] & FIRST_BITS[length];
    for (size_t i = 1; i < length; i++) {
        code = code << 6 | (at[i] & 0x3Fu);
    }
    return code;
}

/* What nearly all of a spec is made of: printed as it stands, one column wide. */
static bool is_everyday(char c)
{
    return c >= ' ' && c <= '~';
}

/* The character at `at`, which is before `end`. */
static Cell cell_at(const char *at, const char *end)
{
    if (is_everyday(*at)) {
        return (Cell){.text = at, .length = 1, .width = 1};
    }
    size_t length = utf8_length((const unsigned char *)at, (size_t)(end - at));
    if (length == 0) {
        return (Cell){.text = at, .length = 1, .width = 1, .replaced = true};
    }
    uint32_t code = decode((const unsigned char *)at, length);
    if (code == '\t' || code == '\n' || code == '\r') {
        return (Cell){.text = at, .length = 1, .width = 1, .blank = true};
    }
    bool harmful = is_harmful(code);
    return (Cell){.text = at, .length = length, .width = harmful ? 1 : width_of(code), .replaced = harmful};
}

static void write_cell(Buf *to, Cell cell)
{
    if (cell.blank) {
        buf_char(to, ' ');
    } else if (cell.replaced) {
        buf_text(to, "\xEF\xBF\xBD");
    } else {
        buf_add(to, (Str){cell.text, cell.length});
    }
}

static void write_plain(Buf *to, const char *at, const char *end)
{
    while (at < end) {
        const char *plain = at;
        while (at < end && is_everyday(*at)) {
            at++;
        }
        buf_add(to, (Str){plain, (size_t)(at - plain)});
        if (at < end) {
            Cell cell = cell_at(at, end);
            write_cell(to, cell);
            at += cell.length;
        }
    }
}

void snippet_plain(Buf *to, Str text)
{
    if (text.length > 0) {
        write_plain(to, text.text, text.text + text.length);
    }
}

/* Columns from `at` to `end`; counting stops once there are more than `most`. */
static int columns_between(const char *at, const char *end, int most)
{
    int columns = 0;
    while (at < end && columns <= most) {
        if (is_everyday(*at)) {
            columns++;
            at++;
            continue;
        }
        Cell cell = cell_at(at, end);
        columns += cell.width;
        at += cell.length;
    }
    return columns;
}

int snippet_columns(const char *at, const char *end)
{
    return columns_between(at, end, INT_MAX - 2);
}

/* The start of a character at most `columns` columns before `at`, no further back than `start`. */
static const char *step_back(const char *at, const char *start, int columns)
{
    while (at > start) {
        const char *before = at - 1;
        while (before > start && at - before < 4 && ((unsigned char)*before & 0xC0u) == 0x80u) {
            before--;
        }
        columns -= columns_between(before, at, 8);
        if (columns < 0) {
            break;
        }
        at = before;
    }
    return at;
}

/* The end of what fits into so many columns from `at` on. */
static const char *step_on(const char *at, const char *end, int columns)
{
    while (at < end) {
        Cell cell = cell_at(at, end);
        columns -= cell.width;
        if (columns < 0) {
            break;
        }
        at += cell.length;
    }
    return at;
}

/* Marks on their lines */

typedef struct Placed {
    SnippetMark mark;
    const Source *source;
    uint32_t file;     /* how many other files were named before */
    uint32_t line;     /* from 1 */
    const char *start; /* of its line */
    const char *end;
    const char *from; /* of the mark, on that line */
    const char *to;
} Placed;

static Placed place_mark(const Sources *sources, const SnippetMark *mark)
{
    Place place = source_place(sources, mark->at.start);
    Placed placed = {.mark = *mark, .source = place.source, .line = place.line};
    uint32_t offset = mark->at.start - placed.source->base;
    Str line = source_line(sources, mark->at.start);
    placed.start = line.text;
    placed.end = line.text + line.length;
    placed.from = placed.source->text + offset;
    placed.from = placed.from < placed.end ? placed.from : placed.end;
    uint32_t length = mark->at.end > mark->at.start ? mark->at.end - mark->at.start : 0;
    placed.to = length < (size_t)(placed.end - placed.from) ? placed.from + length : placed.end;
    while (placed.to > placed.from + 1 && (placed.to[-1] == ' ' || placed.to[-1] == '\t')) {
        placed.to--;
    }
    return placed;
}

static int compare_placed(const void *a, const void *b)
{
    const Placed *x = a;
    const Placed *y = b;
    if (x->file != y->file) {
        return x->file < y->file ? -1 : 1;
    }
    if (x->from != y->from) {
        return x->from < y->from ? -1 : 1;
    }
    if (x->to != y->to) {
        return x->to < y->to ? -1 : 1;
    }
    return (int)x->mark.secondary - (int)y->mark.secondary;
}

/* Two marks at one place become one, if at most one has something to say, or both the same. */
static size_t join_equal(Placed *placed, size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        Placed *last = kept > 0 ? &placed[kept - 1] : NULL;
        bool same = last != NULL && last->from == placed[i].from && last->to == placed[i].to;
        const char *text = placed[i].mark.text;
        if (same && (text == NULL || last->mark.text == NULL || strcmp(text, last->mark.text) == 0)) {
            last->mark.text = last->mark.text != NULL ? last->mark.text : text;
        } else {
            placed[kept++] = placed[i];
        }
    }
    return kept;
}

static size_t place_marks(Placed *placed, const Sources *sources, const SnippetMark marks[], size_t count)
{
    uint32_t files = 0;
    for (size_t i = 0; i < count; i++) {
        placed[i] = place_mark(sources, &marks[i]);
        placed[i].file = files;
        for (size_t k = 0; k < i; k++) {
            if (placed[k].source == placed[i].source) {
                placed[i].file = placed[k].file;
                break;
            }
        }
        files += placed[i].file == files;
    }
    qsort(placed, count, sizeof *placed, compare_placed);
    return join_equal(placed, count);
}

/* Drawing */

typedef struct Drawing {
    Buf *to;
    Colour colour;
    Tint tint;
    int number_width;
} Drawing;

/* The part of a line that is drawn. */
typedef struct Window {
    const char *start, *end;
    bool cut_before, cut_after;
} Window;

static Window window_around(const Placed *mark)
{
    if (columns_between(mark->start, mark->end, SNIPPET_COLUMNS) <= SNIPPET_COLUMNS) {
        return (Window){mark->start, mark->end, false, false};
    }
    Window window = {.start = step_back(mark->from, mark->start, BEFORE_MARK)};
    window.end = step_on(window.start, mark->end, SNIPPET_COLUMNS - 2 * DOTS);
    window.cut_before = window.start > mark->start;
    window.cut_after = window.end < mark->end;
    return window;
}

static int digits(uint32_t number)
{
    int count = 1;
    while (number >= 10) {
        number /= 10;
        count++;
    }
    return count;
}

static void repeat(Buf *to, char c, int times)
{
    char row[SNIPPET_COLUMNS];
    memset(row, c, sizeof row);
    for (; times > 0; times -= (int)sizeof row) {
        buf_add(to, (Str){row, (size_t)times < sizeof row ? (size_t)times : sizeof row});
    }
}

static void draw_line(const Drawing *drawing, uint32_t line, Window window)
{
    repeat(drawing->to, ' ', drawing->number_width - digits(line));
    buf_format(drawing->to, "%u |", line);
    if (window.start < window.end) {
        buf_text(drawing->to, window.cut_before ? " ..." : " ");
        write_plain(drawing->to, window.start, window.end);
        buf_text(drawing->to, window.cut_after ? "..." : "");
    }
    buf_char(drawing->to, '\n');
}

static void draw_mark(const Drawing *drawing, const Placed *mark, Window window)
{
    Buf *to = drawing->to;
    const char *end = mark->to < window.end ? mark->to : window.end;
    int before = columns_between(window.start, mark->from, SNIPPET_COLUMNS) + (window.cut_before ? DOTS : 0);
    int length = mark->from < end ? columns_between(mark->from, end, SNIPPET_COLUMNS) : 1;
    Tint tint = mark->mark.secondary ? TINT_NONE : drawing->tint;
    repeat(to, ' ', drawing->number_width);
    buf_text(to, " | ");
    repeat(to, ' ', before);
    colour_begin(to, drawing->colour, tint);
    repeat(to, mark->mark.secondary ? '-' : '^', length > 0 ? length : 1);
    if (mark->mark.text != NULL) {
        buf_char(to, ' ');
        snippet_plain(to, str_from(mark->mark.text));
    }
    colour_end(to, drawing->colour, tint);
    buf_char(to, '\n');
}

/* One line, or as much of it as can be drawn at once, with the marks in it; returns how many those were. */
static size_t draw_some(const Drawing *drawing, const Placed *marks, size_t count)
{
    Window window = window_around(&marks[0]);
    draw_line(drawing, marks[0].line, window);
    size_t i = 0;
    do {
        draw_mark(drawing, &marks[i], window);
        i++;
    } while (i < count && marks[i].file == marks[0].file && marks[i].line == marks[0].line &&
             (marks[i].from < window.end || !window.cut_after));
    return i;
}

void snippet_write(Buf *to, const Sources *sources, const SnippetMark marks[], size_t count, Colour colour,
                   Tint tint)
{
    if (count == 0 || sources->count == 0) {
        return;
    }
    Placed *placed = ARENA_ARRAY(to->arena, Placed, count);
    count = place_marks(placed, sources, marks, count);
    Drawing drawing = {.to = to, .colour = colour, .tint = tint, .number_width = NUMBER_WIDTH};
    for (size_t i = 0; i < count; i++) {
        int width = digits(placed[i].line);
        drawing.number_width = width > drawing.number_width ? width : drawing.number_width;
    }
    uint32_t file = 0;
    for (size_t i = 0; i < count;) {
        if (placed[i].file != file) {
            file = placed[i].file;
            repeat(to, ' ', drawing.number_width);
            buf_text(to, " in ");
            snippet_plain(to, placed[i].source->name);
            buf_text(to, ":\n");
        }
        i += draw_some(&drawing, &placed[i], count - i);
    }
}

/* Places in a row */

/* Moves on within the line; false if `offset` lies on another. */
static bool walk_on(PlaceWalk *walk, uint32_t offset)
{
    const Source *source = walk->place.source;
    if (source == NULL || offset < walk->offset || offset - source->base > source->length) {
        return false;
    }
    const char *from = source->text + (walk->offset - source->base);
    if (memchr(from, '\n', offset - walk->offset) != NULL) {
        return false;
    }
    for (uint32_t i = 0; i < offset - walk->offset; i++) {
        walk->place.column += ((unsigned char)from[i] & 0xC0u) != 0x80u;
    }
    walk->offset = offset;
    return true;
}

Place place_walk(PlaceWalk *walk, const Sources *sources, uint32_t offset)
{
    if (!walk_on(walk, offset)) {
        walk->place = source_place(sources, offset);
        walk->offset = offset;
    }
    return walk->place;
}
