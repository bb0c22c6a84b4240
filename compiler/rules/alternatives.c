/* See alternatives.h. */
#include "rules/alternatives.h"

#include <stdlib.h>
#include <string.h>

static Arena *arena_of(const Alternatives *list)
{
    return list->outcome->arena;
}

void alternatives_add(Alternatives *list, const char *text, CaseSet cases)
{
    Alternative **end = &list->first;
    while (text != NULL && *end != NULL && strcmp((*end)->text, text) != 0) {
        end = &(*end)->next;
    }
    if (text == NULL) {
        return;
    }
    if (*end == NULL) {
        *end = ARENA_NEW(arena_of(list), Alternative);
        **end = (Alternative){.text = text};
        list->count++;
    }
    (*end)->cases |= cases;
}

const char *alternatives_words(const Alternatives *list, CaseSet cases)
{
    const char *words = options_words(list->outcome->options, NULL, cases);
    return words != NULL ? words : "some options";
}

/* From the least to the greatest */

/* A piece of a text: a number or a range of numbers, or what stands between two of them. */
typedef struct Piece {
    Str text;
    bool number;
    Str low, high; /* of a number: its ends as they are written */
} Piece;

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Where a number ends that begins here: "12", "-0.5". */
static const char *end_of_number(const char *at)
{
    at += *at == '-';
    while (is_digit(*at)) {
        at++;
    }
    if (at[0] == '.' && is_digit(at[1])) {
        for (at++; is_digit(*at); at++) {
        }
    }
    return at;
}

static bool begins_number(const char *text, const char *at)
{
    bool sign = at[0] == '-' && is_digit(at[1]);
    bool apart = at == text || strchr(" (`", at[-1]) != NULL;
    return apart && (sign || is_digit(*at));
}

/* What follows a number in a sentence; "1/0", "2027-03-01" and "00:30" are none, and sizes of wire run the other way. */
static bool ends_number(const char *at)
{
    bool stops = *at == '\0' || strchr(" ,;)`", *at) != NULL || ((*at == '.' || *at == ':') && (at[1] == ' ' || at[1] == '\0'));
    return stops && strncmp(at, " AWG", 4) != 0;
}

/* The piece that begins here. */
static Piece piece_at(const char *text, const char *at)
{
    if (begins_number(text, at)) {
        const char *end = end_of_number(at);
        Piece piece = {.number = true, .low = {at, (size_t)(end - at)}};
        piece.high = piece.low;
        if (end[0] == '.' && end[1] == '.' && (is_digit(end[2]) || end[2] == '-')) {
            const char *high = end + 2;
            end = end_of_number(high);
            piece.high = (Str){high, (size_t)(end - high)};
        }
        piece.text = (Str){at, (size_t)(end - at)};
        if (ends_number(end)) {
            return piece;
        }
    }
    const char *end = at;
    do {
        end++;
    } while (*end != '\0' && !begins_number(text, end));
    return (Piece){.text = {at, (size_t)(end - at)}};
}

static double value_of(Str number)
{
    char digits[40];
    size_t length = number.length < sizeof digits - 1 ? number.length : sizeof digits - 1;
    memcpy(digits, number.text, length);
    digits[length] = '\0';
    return strtod(digits, NULL);
}

/* The widest of one piece over all texts, which are walked in step; false where they part. */
static bool widen(const Alternatives *list, const char **at, Piece *wide, Spread *spread)
{
    uint32_t i = 0;
    bool differ = false;
    const Alternative *least = list->first, *most = list->first;
    Piece lowest = {.number = false}, highest = lowest;
    for (const Alternative *a = list->first; a != NULL; a = a->next, i++) {
        Piece piece = *at[i] != '\0' ? piece_at(a->text, at[i]) : (Piece){.number = false};
        at[i] += piece.text.length;
        if (i == 0) {
            *wide = lowest = highest = piece;
            continue;
        }
        if (piece.number != wide->number || (!piece.number && !str_equal(piece.text, wide->text))) {
            return false;
        }
        differ = differ || !str_equal(piece.text, wide->text);
        if (piece.number) {
            bool less = value_of(piece.low) < value_of(lowest.low), more = value_of(piece.high) > value_of(highest.high);
            lowest = less ? piece : lowest;
            least = less ? a : least;
            highest = more ? piece : highest;
            most = more ? a : most;
        }
    }
    wide->low = lowest.low;
    wide->high = highest.high;
    if (spread->least == NULL && differ) {
        spread->least = least;
        spread->most = most;
    }
    return true;
}

bool alternatives_spread(const Alternatives *list, Spread *spread)
{
    const char **at = ARENA_ARRAY(arena_of(list), const char *, list->count);
    uint32_t i = 0;
    Buf text;
    *spread = (Spread){.text = NULL};
    buf_init(&text, arena_of(list));
    for (const Alternative *a = list->first; a != NULL; a = a->next) {
        at[i++] = a->text;
    }
    while (list->first != NULL && *at[0] != '\0') {
        Piece wide;
        if (!widen(list, at, &wide, spread)) {
            return false;
        }
        if (!wide.number) {
            buf_add(&text, wide.text);
        } else {
            buf_add(&text, wide.low);
            buf_text(&text, str_equal(wide.low, wide.high) ? "" : "..");
            buf_add(&text, str_equal(wide.low, wide.high) ? STR("") : wide.high);
        }
    }
    for (i = 0; i < list->count; i++) {
        if (*at[i] != '\0') {
            return false;
        }
    }
    spread->text = text.text;
    return spread->least != NULL;
}

/* Remarks of figures */

/* "7 or 6 weighed things have no place": two texts that differ in one number alone; NULL if in more. */
static const char *join_numbers(Arena *arena, const char *all, const char *one)
{
    size_t before = 0, behind = 0, length = strlen(all), other = strlen(one);
    while (all[before] != '\0' && all[before] == one[before]) {
        before++;
    }
    while (before > 0 && strchr("0123456789.", all[before - 1]) != NULL) {
        before--; /* a number is told whole */
    }
    while (behind < length - before && behind < other - before && all[length - behind - 1] == one[other - behind - 1]) {
        behind++;
    }
    while (behind > 0 && strchr("0123456789.", all[length - behind]) != NULL) {
        behind--;
    }
    const char *digits = "0123456789. or";
    bool numbers = strspn(all + before, digits) >= length - behind - before && strspn(one + before, digits) >= other - behind - before;
    if (!numbers) {
        return NULL;
    }
    Str told = {all + before, length - behind - before}, more = {one + before, other - behind - before};
    const char *is_told = strstr(text_format(arena, " %.*s ", STR_ARG(told)), text_format(arena, " %.*s ", STR_ARG(more)));
    return is_told != NULL ? all
                           : text_format(arena, "%.*s or %.*s%s", (int)(length - behind), all, STR_ARG(more),
                                         all + length - behind);
}

/* "7 or 6 or 9 weighed things have no place"; NULL where more than a number differs. */
static const char *few_numbers(const Alternatives *list)
{
    const char *all = list->first->text;
    for (const Alternative *a = list->first->next; a != NULL && all != NULL; a = a->next) {
        all = join_numbers(arena_of(list), all, a->text);
    }
    return all;
}

/* Each with an "or", or a list, of its own: then it is said which belongs to which options. */
static bool are_lists(const Alternatives *list)
{
    bool any = list->count > ALTERNATIVES_MOST;
    for (const Alternative *a = list->first; a != NULL; a = a->next) {
        any = any || strchr(a->text, ',') != NULL || strstr(a->text, " or ") != NULL;
    }
    return any;
}

static const char *one_by_one(const Alternatives *list)
{
    enum { TOLD_MOST = 6 };
    bool lists = are_lists(list);
    Buf text;
    int told = 0;
    buf_init(&text, arena_of(list));
    for (const Alternative *a = list->first; a != NULL; a = a->next) {
        buf_text(&text, told == 0 ? "" : lists ? ", or " : " or ");
        if (told++ == TOLD_MOST) {
            buf_text(&text, "something else with other options");
            break;
        }
        buf_text(&text, a->text);
        if (lists) {
            buf_format(&text, " (%s)", alternatives_words(list, a->cases));
        }
    }
    return text.text;
}

/* What clauses say together. */
static const char *join_clauses(const Alternatives *list)
{
    Spread spread;
    const char *numbers = list->count <= ALTERNATIVES_MOST && list->first != NULL ? few_numbers(list) : NULL;
    if (list->first == NULL || list->count == 1) {
        return list->first != NULL ? list->first->text : "";
    }
    if (numbers != NULL) {
        return numbers;
    }
    return alternatives_spread(list, &spread) ? spread.text : one_by_one(list);
}

/*
 * Clauses that stand in a longer one with more of the same kind are told with that: "by the stern" in "by the head or by the
 * stern". Not so of what names things: "`b` ends it" is no part of "`a` or `b` ends it".
 */
static void drop_parts(Alternatives *list, bool names)
{
    for (Alternative **link = &list->first; *link != NULL;) {
        bool part = false;
        for (const Alternative *a = list->first; a != NULL; a = a->next) {
            part = part || (a != *link && strstr(a->text, (*link)->text) != NULL && (names || strchr((*link)->text, '`') == NULL));
        }
        list->count -= part;
        if (part) {
            *link = (*link)->next;
        } else {
            link = &(*link)->next;
        }
    }
}

/* The first clause may say to which side, the rest what is left out: each is joined by itself. */
const char *alternatives_remark(const Alternatives *list)
{
    Alternatives firsts = {.outcome = list->outcome}, rests = firsts;
    if (list->first == NULL) {
        return NULL;
    }
    for (const Alternative *a = list->first; a != NULL && list->count > 1; a = a->next) {
        size_t length = strcspn(a->text, ";");
        alternatives_add(&firsts, str_copy(arena_of(list), (Str){a->text, length}), a->cases);
        alternatives_add(&rests, a->text + length, a->cases);
    }
    if (list->count == 1) {
        return list->first->text;
    }
    drop_parts(&firsts, false);
    drop_parts(&rests, true);
    return text_format(arena_of(list), "%s%s", join_clauses(&firsts), join_clauses(&rests));
}
