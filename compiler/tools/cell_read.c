/* See cell_read.h. */
#include "tools/cell_read.h"

#include "base/buf.h"
#include "base/num.h"

#include <stdio.h>
#include <string.h>

size_t cell_blank(Str text, size_t at)
{
    static const char *const blanks[] = {" ", "\xC2\xA0", "\xE2\x80\xAF"};
    for (size_t i = 0; i < sizeof blanks / sizeof blanks[0]; i++) {
        size_t length = strlen(blanks[i]);
        if (text.length - at >= length && memcmp(text.text + at, blanks[i], length) == 0) {
            return length;
        }
    }
    return 0;
}

/* The digits and marks of a number; false if it holds anything else than those and blanks. */
static bool bare_number(Buf *bare, Str text)
{
    for (size_t i = 0; i < text.length;) {
        size_t blank = cell_blank(text, i);
        if (blank == 0 && strchr("0123456789.,'", text.text[i]) == NULL) {
            return false;
        }
        if (blank == 0) {
            buf_char(bare, text.text[i]);
        }
        i += blank > 0 ? blank : 1;
    }
    return bare->length > 0;
}

typedef struct Marks {
    size_t count, last; /* how many, and where the last one stands */
} Marks;

static Marks marks_of(Str text, char mark)
{
    Marks marks = {0, 0};
    for (size_t i = 0; i < text.length; i++) {
        if (text.text[i] == mark) {
            marks = (Marks){marks.count + 1, i};
        }
    }
    return marks;
}

/* The mark before the decimals, 0 if there are none; false if it may be one of two. */
static bool find_decimal(Str text, CellMarks marks, char *decimal)
{
    Marks points = marks_of(text, '.'), commas = marks_of(text, ',');
    size_t last = points.count > 0 && points.last > commas.last ? points.last : commas.last;
    size_t behind = text.length - 1 - last;
    *decimal = 0;
    if (points.count > 0 && commas.count > 0) {
        *decimal = points.last > commas.last ? '.' : ',';
        return (*decimal == '.' ? points : commas).count == 1;
    }
    if (points.count + commas.count != 1) {
        return true; /* none, or groups alone */
    }
    char mark = points.count > 0 ? '.' : ',';
    bool usual = mark == (marks.comma ? ',' : '.');
    bool groups = behind == 3 && last >= 1 && last <= 3 && text.text[0] != '0';
    if (groups && (marks.comma || (usual && marks.money))) {
        return false;
    }
    *decimal = usual ? mark : 0;
    return usual || groups;
}

/* The digits without their groups, each of which is of three, and with a point before the decimals; false if one is not. */
static bool without_groups(Buf *plain, Str text, char decimal)
{
    size_t since = 0; /* digits since the last mark */
    bool grouped = false, decimals = false;
    for (size_t i = 0; i < text.length; i++) {
        char c = text.text[i];
        if (char_is_digit(c)) {
            since++;
            buf_char(plain, c);
            continue;
        }
        bool fits = grouped ? since == 3 : since >= 1 && (c == decimal || since <= 3);
        if (!fits || decimals) {
            return false;
        }
        decimals = c == decimal;
        grouped = true;
        since = 0;
        buf_text(plain, decimals ? "." : "");
    }
    return since > 0 && (decimals || !grouped || since == 3);
}

bool cell_number(Arena *arena, Str text, CellMarks marks, double *number)
{
    Buf bare, plain;
    char decimal;
    buf_init(&bare, arena);
    buf_init(&plain, arena);
    return bare_number(&bare, text) && find_decimal(buf_str(&bare), marks, &decimal) &&
           without_groups(&plain, buf_str(&bare), decimal) && num_read(buf_str(&plain), number);
}

bool cell_has_decimal_point(Str text)
{
    Marks points = marks_of(text, '.'), commas = marks_of(text, ',');
    size_t behind = 0;
    while (points.count > 0 && points.last + 1 + behind < text.length && char_is_digit(text.text[points.last + 1 + behind])) {
        behind++;
    }
    return points.count == 1 && behind > 0 && (behind != 3 || (commas.count > 0 && commas.last < points.last));
}

/* ---- Dates ---- */

/* Three numbers with the same mark between them, and nothing else. */
static bool three_numbers(Str text, unsigned part[static 3], size_t digits[static 3], char *mark)
{
    size_t at = 0;
    *mark = 0;
    for (int i = 0; i < 3; i++) {
        part[i] = 0;
        digits[i] = 0;
        for (; at < text.length && char_is_digit(text.text[at]) && digits[i] < 5; at++, digits[i]++) {
            part[i] = part[i] * 10 + (unsigned)(text.text[at] - '0');
        }
        bool between = i < 2 && at < text.length && (i == 0 || text.text[at] == *mark);
        if (digits[i] == 0 || (i < 2 && !between)) {
            return false;
        }
        *mark = i == 0 ? text.text[at] : *mark;
        at += i < 2;
    }
    return at == text.length;
}

static void write_iso(char iso[static CELL_DATE], unsigned year, unsigned month, unsigned day)
{
    snprintf(iso, CELL_DATE, "%04u-%02u-%02u", year % 10000u, month % 100u, day % 100u);
}

bool cell_date(Str text, char iso[static CELL_DATE], Date *date)
{
    unsigned part[3];
    size_t digits[3];
    char mark;
    if (!three_numbers(text, part, digits, &mark) || strchr("-./", mark) == NULL) {
        return false;
    }
    bool year_first = digits[0] == 4 && digits[1] <= 2 && digits[2] <= 2;
    bool year_last = digits[2] == 4 && digits[0] <= 2 && digits[1] <= 2;
    if (year_first) {
        write_iso(iso, part[0], part[1], part[2]);
    } else if (year_last && (mark == '.' || (mark == '/' && part[0] > 12))) {
        write_iso(iso, part[2], part[1], part[0]);
    } else if (year_last && mark == '/' && part[1] > 12) {
        write_iso(iso, part[2], part[0], part[1]);
    } else {
        return false; /* the month may be one of two */
    }
    return date_read(str_from(iso), date);
}
