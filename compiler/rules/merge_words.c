/* Sentences of one finding in several cases, told as one; see merge_parts.h. */
#include "rules/merge_parts.h"

#include <string.h>

/* ---- What the readings have in common ---- */

/* Sentences that differ in one place: the same before it, the same behind it. */
typedef struct Common {
    size_t before, behind;
} Common;

/* How far two texts are the same, up to the last blank in that. */
static size_t same_begin(const char *a, const char *b, size_t most)
{
    size_t same = 0, blank = 0;
    while (same < most && a[same] != '\0' && a[same] == b[same]) {
        same++;
        blank = a[same - 1] == ' ' ? same : blank;
    }
    return blank;
}

/* How far they are the same from the end, from the first blank in that; so much of `b` is not looked at. */
static size_t same_end(const char *a, const char *b, size_t before)
{
    size_t length_a = strlen(a) - before, length_b = strlen(b) - before;
    size_t same = 0, blank = 0;
    while (same < length_a && same < length_b &&
           a[before + length_a - 1 - same] == b[before + length_b - 1 - same]) {
        same++;
        blank = a[before + length_a - same] == ' ' ? same : blank;
    }
    return blank;
}

/* A number and its unit stay together: "32.6 mm". */
static size_t keep_unit(const char *text, size_t behind)
{
    const char *word = text + strlen(text) - behind + 1;
    size_t length = behind > 0 ? strcspn(word, " ,;:") : 0;
    return length > 0 && unit_find((Str){word, length}) != UNIT_NONE ? behind - length - 1 : behind;
}

/* What of a sentence is its own. */
static Str apart_of(const Reading *reading, const Common *common)
{
    const char *message = reading->text;
    return (Str){message + common->before, strlen(message) - common->before - common->behind};
}

/* Whether another sentence has the same words and some before them: "ends" and "or `house` ends" are no two of a kind. */
static bool is_longer_list(const Reading *readings, const Reading *reading, const Common *common)
{
    Str own = apart_of(reading, common);
    for (const Reading *r = readings; r != NULL; r = r->next) {
        Str other = apart_of(r, common);
        if (r != reading && other.length > own.length &&
            memcmp(other.text + other.length - own.length, own.text, own.length) == 0 &&
            (own.length == 0 || other.text[other.length - own.length - 1] == ' ')) {
            return true;
        }
    }
    return false;
}

/* False where the sentences differ in more than a few words. */
static bool find_common(const Reading *readings, Common *common)
{
    enum { MOST_APART = 64, LEAST_COMMON = 24 };
    const char *first = readings->text;
    common->before = common->behind = strlen(first);
    for (const Reading *r = readings->next; r != NULL; r = r->next) {
        common->before = same_begin(first, r->text, common->before);
    }
    for (const Reading *r = readings->next; r != NULL; r = r->next) {
        size_t behind = same_end(first, r->text, common->before);
        common->behind = behind < common->behind ? behind : common->behind;
    }
    common->behind = keep_unit(first, common->behind);
    for (const Reading *r = readings; r != NULL; r = r->next) {
        Str apart = apart_of(r, common);
        bool clause = memchr(apart.text, ';', apart.length) != NULL; /* what ends a clause is told as a sentence of its own */
        if (apart.length > MOST_APART || clause || is_longer_list(readings, r, common)) {
            return false;
        }
    }
    return common->before + common->behind >= LEAST_COMMON;
}

/* ---- Telling them ---- */

/* What tells them: which options each belongs to. */
typedef struct Teller {
    OptionCases *options;
    const Finding *finding;
    const Reading *readings;
    Buf text;
} Teller;

static const char *words_of(const Teller *teller, const Reading *reading)
{
    const char *with = options_words(teller->options, teller->finding, reading->cases);
    return with != NULL ? with : "some options";
}

/* " (in this order: engine-size=stout; engine-size=old-iron)" */
static void tell_order(Teller *teller)
{
    const char *before = " (in this order: ";
    for (const Reading *r = teller->readings; r != NULL; r = r->next) {
        buf_format(&teller->text, "%s%s", before, words_of(teller, r));
        before = "; ";
    }
    buf_char(&teller->text, ')');
}

/* Whether all of them begin, or end, with the same one of some characters, and are more than that. */
static bool all_have(const Str *own, uint32_t count, const char *some, bool at_end)
{
    bool same = true;
    for (uint32_t i = 0; i < count && same; i++) {
        char first = own[0].text[at_end ? own[0].length - 1 : 0];
        same = own[i].length > 1 && own[i].text[at_end ? own[i].length - 1 : 0] == first && strchr(some, first) != NULL;
    }
    return same;
}

/* "(2.78 or 2.69": what brackets and stops all of them begin and end with is told once. */
static void tell_own(Buf *text, Str *own, uint32_t count)
{
    const char *end = own[0].text + own[0].length;
    while (all_have(own, count, "(", false)) {
        buf_char(text, '(');
        for (uint32_t i = 0; i < count; i++) {
            own[i] = (Str){own[i].text + 1, own[i].length - 1};
        }
    }
    while (all_have(own, count, "),;:.", true)) {
        for (uint32_t i = 0; i < count; i++) {
            own[i].length--;
        }
    }
    for (uint32_t i = 0; i < count; i++) {
        buf_text(text, i == 0 ? "" : i + 1 < count ? ", " : " or ");
        buf_add(text, own[i]);
    }
    buf_add(text, (Str){own[0].text + own[0].length, (size_t)(end - own[0].text) - own[0].length});
}

/* Whether a list of them is read as it is meant: none is a list itself, and none ends within a name. */
static bool can_be_listed(const Str *own, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        uint32_t ticks = 0;
        for (size_t c = 0; c < own[i].length; c++) {
            bool or = own[i].length - c >= 4 && memcmp(own[i].text + c, " or ", 4) == 0;
            ticks += own[i].text[c] == '`';
            if (or || (own[i].text[c] == ',' && c + 1 < own[i].length)) {
                return false;
            }
        }
        if (own[i].length == 0 || ticks % 2 != 0) {
            return false;
        }
    }
    return true;
}

/* The readings as words: all of one have a blank between. */
typedef struct Words {
    Str *of[READINGS_MOST];
    uint32_t readings, count;
} Words;

/* False where they are too many, or have not as many words each. */
static bool split_words(Arena *arena, const Reading *readings, Words *words)
{
    *words = (Words){.count = 0};
    for (const Reading *r = readings; r != NULL; r = r->next) {
        uint32_t count = 0;
        if (words->readings == READINGS_MOST) {
            return false;
        }
        Str *list = words->of[words->readings++] = ARENA_ARRAY(arena, Str, strlen(r->text) + 1);
        for (const char *at = r->text; *at != '\0'; at += *at == ' ') {
            list[count] = (Str){at, strcspn(at, " ")};
            at += list[count++].length;
        }
        if (words->readings > 1 && count != words->count) {
            return false;
        }
        words->count = count;
    }
    return true;
}

static bool same_word(const Words *words, uint32_t at)
{
    bool same = true;
    for (uint32_t i = 1; i < words->readings; i++) {
        same = same && str_equal(words->of[i][at], words->of[0][at]);
    }
    return same;
}

/* Adds the words from one to before another, in which they differ; false: they are not to be listed. */
static bool tell_run(const Words *words, uint32_t from, uint32_t to, Buf *text)
{
    Str own[READINGS_MOST];
    for (uint32_t i = 0; i < words->readings; i++) {
        Str first = words->of[i][from], last = words->of[i][to - 1];
        own[i] = (Str){first.text, (size_t)(last.text + last.length - first.text)};
    }
    bool listed = can_be_listed(own, words->readings);
    if (listed) {
        tell_own(text, own, words->readings);
    }
    return listed;
}

/*
 * "passes the way to `vhf` (2.78 or 2.69 %), but real cable loses 3.26 or 3.11 % (in this order: battery=agm; battery=lithium)", word
 * by word. False, and nothing is told, where they differ at the end alone, in too much, or in what cannot be listed.
 */
static bool tell_in_order(Teller *teller)
{
    enum { RUNS_MOST = 3 };
    Words words;
    Buf text;
    uint32_t runs = 0, apart = 0, at = 0;
    bool fits = split_words(teller->text.arena, teller->readings, &words), in_name = false, at_end = false;
    buf_init(&text, teller->text.arena);
    while (fits && at < words.count) {
        uint32_t to = at;
        while (to < words.count && !same_word(&words, to)) {
            to++;
        }
        buf_text(&text, at > 0 ? " " : "");
        if (to > at) {
            runs++;
            apart += to - at;
            at_end = to == words.count || (to + 1 == words.count && unit_find(words.of[0][to]) != UNIT_NONE); /* "36.5 mm" */
            fits = !in_name && tell_run(&words, at, to, &text);
            at = to;
            continue;
        }
        for (size_t c = 0; c < words.of[0][at].length; c++) {
            in_name = in_name != (words.of[0][at].text[c] == '`');
        }
        buf_add(&text, words.of[0][at++]);
    }
    if (!fits || runs == 0 || runs > RUNS_MOST || (runs == 1 && at_end) || apart * 2 > words.count) {
        return false;
    }
    buf_add(&teller->text, (Str){text.text, text.length});
    tell_order(teller);
    return true;
}

/* "its torque takes 32.6 mm (engine-size=stout) or 36.5 mm (engine-size=old-iron)" */
static void tell_together(Teller *teller, const Common *common)
{
    const char *first = teller->readings->text;
    int told = 0;
    buf_add(&teller->text, (Str){first, common->before});
    for (const Reading *r = teller->readings; r != NULL; r = r->next) {
        if (told++ == READINGS_MOST) {
            buf_text(&teller->text, " or something else in other options");
            break;
        }
        buf_format(&teller->text, "%s%.*s (%s)", told > 1 ? " or " : "", STR_ARG(apart_of(r, common)), words_of(teller, r));
    }
    buf_text(&teller->text, first + strlen(first) - common->behind);
}

/* The same where more follows: "takes no battery or two of them, and the engine one (in this order: ...)". */
static bool tell_listed(Teller *teller, const Common *common)
{
    Str own[READINGS_MOST];
    uint32_t count = 0;
    for (const Reading *r = teller->readings; r != NULL; r = r->next) {
        if (count == READINGS_MOST) {
            return false;
        }
        own[count++] = apart_of(r, common);
    }
    if (common->behind == 0 || !can_be_listed(own, count)) {
        return false;
    }
    const char *first = teller->readings->text;
    buf_add(&teller->text, (Str){first, common->before});
    tell_own(&teller->text, own, count);
    buf_text(&teller->text, first + strlen(first) - common->behind);
    tell_order(teller);
    return true;
}

/* "with motor=small: it takes 160 % ...; with motor=big: it takes 68 % ..." */
static void tell_one_by_one(Teller *teller)
{
    int told = 0;
    for (const Reading *r = teller->readings; r != NULL; r = r->next) {
        if (told++ == READINGS_MOST) {
            buf_text(&teller->text, "; and something else in other options");
            break;
        }
        buf_format(&teller->text, "%swith %s: %s", told > 1 ? "; " : "", words_of(teller, r), r->text);
    }
}

const char *readings_told(Arena *arena, OptionCases *options, const Finding *finding, const Reading *readings)
{
    Common common;
    Teller teller = {.options = options, .finding = finding, .readings = readings};
    buf_init(&teller.text, arena);
    if (tell_in_order(&teller)) {
        return teller.text.text;
    }
    if (!find_common(readings, &common)) {
        tell_one_by_one(&teller);
    } else if (!tell_listed(&teller, &common)) {
        tell_together(&teller, &common);
    }
    return teller.text.text;
}
