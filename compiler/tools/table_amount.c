/* See table_amount.h. */
#include "tools/table_amount.h"

#include "base/buf.h"
#include "base/utf8.h"

#include <string.h>

/* What people write, a blank between, in lower case; and what it is: NULL where that is not clear. */
typedef struct Called {
    const char *words;
    const char *unit;
    double times; /* so many of the unit; 0: one */
} Called;

/* A stone is 14 lb (NIST SP 811, from memory); tons and hundredweights are several. */
static const Called masses[] = {
    {"kg kgs kilo kilos kilogram kilograms", "kg", 0.0}, {"g gram grams", "g", 0.0},       {"t tonne tonnes", "t", 0.0},
    {"lb lbs lb. lbs. pound pounds", "lb", 0.0},         {"oz oz. ounce ounces", "oz", 0.0}, {"st st. stone stones", "lb", 14.0},
    {"ton tons cwt hundredweight", NULL, 0.0},
};

/* Codes by ISO 4217; those of the countries where most boats are kept, for a heading has other words of three letters. */
static const Called currencies[] = {
    {"us$ usd", "USD", 0.0},
    {"$ dollar dollars", DOLLARS, 0.0},
    {"\xE2\x82\xAC eur euro euros", "EUR", 0.0},
    {"\xC2\xA3 gbp sterling", "GBP", 0.0},
    {"c$ ca$ cad", "CAD", 0.0},
    {"a$ au$ aud", "AUD", 0.0},
    {"nz$ nzd", "NZD", 0.0},
    {"chf", "CHF", 0.0},
    {"sek", "SEK", 0.0},
    {"nok", "NOK", 0.0},
    {"dkk", "DKK", 0.0},
    {"isk", "ISK", 0.0},
    {"pln", "PLN", 0.0},
    {"czk", "CZK", 0.0},
    {"huf", "HUF", 0.0},
    {"try", "TRY", 0.0},
    {"zar", "ZAR", 0.0},
    {"jpy", "JPY", 0.0},
    {"sgd", "SGD", 0.0},
    {"hkd", "HKD", 0.0},
    {"brl", "BRL", 0.0},
    {"kusd kus$", "USD", 1000.0},
    {"k$ $k", DOLLARS, 1000.0},
    {"k\xE2\x82\xAC \xE2\x82\xACk t\xE2\x82\xAC keur teur", "EUR", 1000.0},
    {"k\xC2\xA3 \xC2\xA3k kgbp", "GBP", 1000.0},
    {"tchf kchf", "CHF", 1000.0},
    {"penny pence", "GBP", 0.01},
    {"ct cent cents \xC2\xA2", NULL, 0.0}, /* whose? */
};

static bool is_word_of(Str word, const char *words)
{
    for (;;) {
        size_t length = strcspn(words, " ");
        bool same = length == word.length;
        for (size_t i = 0; i < length && same; i++) {
            same = char_lower(word.text[i]) == words[i];
        }
        if (same || words[length] == '\0') {
            return same;
        }
        words += length + 1;
    }
}

static TableUnit find_called(const Called *called, size_t count, Str word)
{
    for (size_t i = 0; i < count; i++) {
        if (is_word_of(word, called[i].words)) {
            double factor = called[i].times > 0.0 ? called[i].times : 1.0;
            return (TableUnit){str_from(called[i].unit), factor, called[i].unit == NULL};
        }
    }
    return (TableUnit){{"", 0}, 1.0, false};
}

/* What a heading says: there a word of three letters need not be a currency. */
static TableUnit unit_in_heading(Measure measure, Str word)
{
    return measure == MEASURE_MASS ? find_called(masses, sizeof masses / sizeof masses[0], word)
                                   : find_called(currencies, sizeof currencies / sizeof currencies[0], word);
}

TableUnit table_unit(Measure measure, Str word)
{
    TableUnit unit = unit_in_heading(measure, word);
    bool code = measure == MEASURE_MONEY && word.length == 3 && char_is_capital(word.text[0]) && char_is_capital(word.text[1]) &&
                char_is_capital(word.text[2]);
    unit.word = unit.word.length == 0 && code ? word : unit.word;
    return unit;
}

bool table_is_dollar(Str code)
{
    return is_word_of(code, "usd cad aud nzd sgd hkd twd bsd bbd bzd fjd jmd kyd ttd xcd bmd");
}

/* ---- Cells ---- */

static size_t blank_at_end(Str text)
{
    enum { LONGEST = 3 };
    for (size_t length = 1; length <= LONGEST && length <= text.length; length++) {
        if (cell_blank(text, text.length - length) == length) {
            return length;
        }
    }
    return 0;
}

static Str trim(Str text)
{
    size_t blank;
    while ((blank = cell_blank(text, 0)) > 0) {
        text = (Str){text.text + blank, text.length - blank};
    }
    while ((blank = blank_at_end(text)) > 0) {
        text.length -= blank;
    }
    return text;
}

bool table_amount_read(Arena *arena, Str cell, CellMarks marks, double *number, Str *beside)
{
    size_t from = 0, to = cell.length;
    while (from < to && !char_is_digit(cell.text[from])) {
        from++;
    }
    while (to > from && !char_is_digit(cell.text[to - 1])) {
        to--;
    }
    Str before = trim((Str){cell.text, from}), behind = trim((Str){cell.text + to, cell.length - to});
    *beside = before.length > 0 ? before : behind;
    return (before.length == 0 || behind.length == 0) && cell_number(arena, (Str){cell.text + from, to - from}, marks, number);
}

/* ---- Headings ---- */

static bool parts_words(char c)
{
    return strchr(" ()[]{},:;/_", c) != NULL;
}

/* What tells of an amount without being its unit. */
static bool is_remark(Str word)
{
    return is_word_of(word, "in or and each per piece pc pcs unit all total net gross incl excl incl. excl. including excluding with without "
                            "vat tax duty dry wet new used est est. estimated approx approx. about ca ca. list paid quoted");
}

static void add_word(TableHeading *apart, Measure measure, Buf *rest, Str word, bool bracketed)
{
    TableUnit unit = unit_in_heading(measure, word);
    if (unit.word.length > 0) {
        apart->several |= apart->unit.word.length > 0 &&
                          !(str_equal(apart->unit.word, unit.word) && apart->unit.factor == unit.factor);
        apart->unit = unit;
    } else if (unit.unclear || (bracketed && !is_remark(word))) {
        apart->unclear = word;
    }
    bool named = unit.word.length > 0 || unit.unclear || is_word_of(word, "in");
    if (!named) {
        buf_format(rest, "%s%.*s", rest->length > 0 ? " " : "", STR_ARG(word));
    }
}

TableHeading table_heading(Arena *arena, Measure measure, Str heading)
{
    TableHeading apart = {.unit = {.word = {"", 0}, .factor = 1.0}, .unclear = {"", 0}};
    Buf rest;
    buf_init(&rest, arena);
    bool bracketed = false;
    for (size_t at = 0; at < heading.length;) {
        size_t end = at;
        while (end < heading.length && !parts_words(heading.text[end])) {
            end++;
        }
        if (end > at) {
            add_word(&apart, measure, &rest, (Str){heading.text + at, end - at}, bracketed);
        }
        bracketed = end < heading.length && (strchr("([{", heading.text[end]) != NULL || (bracketed && strchr(")]}", heading.text[end]) == NULL));
        at = end + 1;
    }
    apart.rest = buf_str(&rest);
    return apart;
}
