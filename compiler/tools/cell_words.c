/* See cell_words.h. */
#include "tools/cell_words.h"

#include "base/utf8.h"
#include "language/unit.h"

#include <string.h>

bool same_words(Str a, Str b)
{
    bool same = a.length == b.length;
    for (size_t i = 0; i < a.length && same; i++) {
        same = char_lower(a.text[i]) == char_lower(b.text[i]);
    }
    return same;
}

bool is_one_of_words(Str text, const char *words)
{
    for (;;) {
        size_t length = strcspn(words, "|");
        if (same_words(text, (Str){words, length})) {
            return true;
        }
        if (words[length] == '\0') {
            return false;
        }
        words += length + 1;
    }
}

Str cell_name(Arena *arena, Str words, const char *otherwise)
{
    enum { MOST = 40 };
    Buf name;
    buf_init(&name, arena);
    for (size_t i = 0; i < words.length && name.length < MOST; i++) {
        char c = char_lower(words.text[i]);
        if (char_is_letter(c) || (c >= '0' && c <= '9' && name.length > 0)) {
            buf_char(&name, c);
        } else if (name.length > 0 && name.text[name.length - 1] != '-') {
            buf_char(&name, '-');
        }
    }
    while (name.length > 0 && name.text[name.length - 1] == '-') {
        name.text[--name.length] = '\0';
    }
    if (name.length == 0) {
        buf_text(&name, otherwise);
    }
    if (unit_find(buf_str(&name)) != UNIT_NONE || str_is(buf_str(&name), "yes") || str_is(buf_str(&name), "no")) {
        buf_text(&name, "-1");
    }
    return buf_str(&name);
}

const char *cell_status(Str words)
{
    static const struct {
        const char *status, *words;
    } known[] = {
        {"wanted", "wanted|needed|to buy|to order|to be ordered|not ordered|not yet ordered"},
        {"ordered", "ordered|on order|order placed"},
        {"delayed", "delayed|backordered|back ordered|back-ordered|on backorder|on back order|on back-order"},
        {"shipped", "shipped|dispatched|despatched|in transit|on its way"},
        {"here", "here|received|arrived|delivered"},
        {"fitted", "fitted|installed|mounted"},
        {"returned", "returned|sent back"},
        {"lost", "lost|lost in transit|never came|supplier closed|supplier bankrupt"},
        {"dropped", "dropped|cancelled|canceled|not needed|no longer needed"},
    };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (is_one_of_words(words, known[i].words)) {
            return known[i].status;
        }
    }
    return NULL;
}

/* ---- Sums ---- */

/* What a sum is called in the lands where most lists of this sort are written; in lower case. */
static const char sums[] = "total|totals|totale|totaal|totalt|subtotal|subtotals|sum|summe|summa|somme|suma|soma|zwischensumme|"
                           "gesamt|gesamtsumme|gesamtbetrag|gesamtpreis|sous-total|sub-total|razem|celkem|ukupno|yhteens\xC3\xA4|"
                           "toplam";

/* What else stands beside it. */
static const char beside_sums[] = "grand|sub|order|net|netto|gross|brutto|overall|final|project|list|shipping|carriage|freight|delivery|postage|versand|cost|price|amount|incl|including|"
                                  "inclusive|excl|excluding|ex|exclusive|with|without|before|after|of|the|all|in|vat|tax|taxes|gst|mwst|"
                                  "tva|iva|ht|ttc|carried|brought|forward|due|so|far|paid|to|pay|eur|usd|gbp|chf|sek|nok|dkk|"
                                  "costs|prices|items|parts|things";

/* What is told of the money for the whole list. */
static const char payments[] = "deposit paid|deposit|paid|already paid|amount paid|paid so far|balance|balance due|amount due|remaining|"
                               "carried forward|brought forward|discount|budget";

static bool is_letter_or_more(char c)
{
    return char_is_letter(c) || (unsigned char)c >= 0x80 || c == '-';
}

CellSum cell_is_sum(Str words, bool counted)
{
    bool sum = false, only_that = true;
    for (size_t at = 0; at < words.length;) {
        size_t end = at;
        while (end < words.length && is_letter_or_more(words.text[end])) {
            end++;
        }
        Str word = {words.text + at, end - at};
        bool is_sum = is_one_of_words(word, sums);
        sum |= is_sum;
        only_that &= word.length == 0 || is_sum || is_one_of_words(word, beside_sums);
        at = end + 1;
    }
    while (words.length > 0 && strchr(" :.", words.text[words.length - 1]) != NULL) {
        words.length--;
    }
    if ((sum && only_that) || (!counted && is_one_of_words(words, payments))) {
        return CELL_SUM;
    }
    return sum && !counted ? CELL_SUM_PERHAPS : CELL_NO_SUM;
}
