/* See table_amount.h. */
#include "tools/table_amount.h"

#include "base/buf.h"
#include "base/utf8.h"

#include <string.h>

/* What people write, a blank between, in lower case; and what it is. */
typedef struct Called {
    const char *words;
    const char *unit;
} Called;

static const Called masses[] = {
    {"kg kgs kilo kilos kilogram kilograms", "kg"}, {"g gram grams", "g"},   {"t tonne tonnes", "t"},
    {"lb lbs lb. lbs. pound pounds", "lb"},         {"oz oz. ounce ounces", "oz"},
};

/* Codes by ISO 4217; those of the countries where most boats are kept, for a heading has other words of three letters. */
static const Called currencies[] = {
    {"us$ usd", "USD"},           {"$ dollar dollars", DOLLARS}, {"\xE2\x82\xAC eur euro euros", "EUR"},
    {"\xC2\xA3 gbp sterling", "GBP"}, {"c$ ca$ cad", "CAD"},     {"a$ au$ aud", "AUD"},
    {"nz$ nzd", "NZD"},           {"chf", "CHF"},                {"sek", "SEK"},
    {"nok", "NOK"},               {"dkk", "DKK"},                {"isk", "ISK"},
    {"pln", "PLN"},               {"czk", "CZK"},                {"huf", "HUF"},
    {"try", "TRY"},               {"zar", "ZAR"},                {"jpy", "JPY"},
    {"sgd", "SGD"},               {"hkd", "HKD"},                {"brl", "BRL"},
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

static Str find_called(const Called *called, size_t count, Str word)
{
    for (size_t i = 0; i < count; i++) {
        if (is_word_of(word, called[i].words)) {
            return str_from(called[i].unit);
        }
    }
    return (Str){"", 0};
}

/* What a heading says: there a word of three letters need not be a currency. */
static Str unit_in_heading(Measure measure, Str word)
{
    return measure == MEASURE_MASS ? find_called(masses, sizeof masses / sizeof masses[0], word)
                                   : find_called(currencies, sizeof currencies / sizeof currencies[0], word);
}

Str table_unit(Measure measure, Str word)
{
    Str unit = unit_in_heading(measure, word);
    bool code = measure == MEASURE_MONEY && word.length == 3 && char_is_capital(word.text[0]) && char_is_capital(word.text[1]) &&
                char_is_capital(word.text[2]);
    return unit.length == 0 && code ? word : unit;
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

TableHeading table_heading(Arena *arena, Measure measure, Str heading)
{
    TableHeading apart = {.unit = {"", 0}};
    Buf rest;
    buf_init(&rest, arena);
    for (size_t at = 0; at < heading.length;) {
        size_t end = at;
        while (end < heading.length && !parts_words(heading.text[end])) {
            end++;
        }
        Str word = {heading.text + at, end - at};
        Str unit = unit_in_heading(measure, word);
        if (unit.length > 0) {
            apart.several |= apart.unit.length > 0 && !str_equal(apart.unit, unit);
            apart.unit = unit;
        } else if (word.length > 0 && !is_word_of(word, "in")) {
            buf_format(&rest, "%s%.*s", rest.length > 0 ? " " : "", STR_ARG(word));
        }
        at = end + 1;
    }
    apart.rest = buf_str(&rest);
    return apart;
}
