/* See alternatives.h. */
#include "rules/alternatives.h"

#include "base/num.h"

#include <math.h>
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

/* Where a number ends that begins here: "12", "-0.5". */
static const char *end_of_number(const char *at)
{
    at += *at == '-';
    while (char_is_digit(*at)) {
        at++;
    }
    if (at[0] == '.' && char_is_digit(at[1])) {
        for (at++; char_is_digit(*at); at++) {
        }
    }
    return at;
}

static bool begins_number(const char *text, const char *at)
{
    bool sign = at[0] == '-' && char_is_digit(at[1]);
    bool apart = at == text || strchr(" (`", at[-1]) != NULL;
    return apart && (sign || char_is_digit(*at));
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
        if (end[0] == '.' && end[1] == '.' && (char_is_digit(end[2]) || end[2] == '-')) {
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
    double value;
    return num_read(number, &value) ? value : NAN;
}

/* "1 thing has" and "2 things have" are the same words: the plural one of two, or nothing where they are other words. */
static Str plural_of(Str a, Str b)
{
    static const char *const verbs[][2] = {{"has", "have"}, {"is", "are"}, {"was", "were"}};
    bool first = a.length == b.length + 1 && a.text[b.length] == 's';
    if (str_equal(a, b) || (first && memcmp(a.text, b.text, b.length) == 0)) {
        return a;
    }
    if (b.length == a.length + 1 && b.text[a.length] == 's' && memcmp(a.text, b.text, a.length) == 0) {
        return b;
    }
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        if (str_is(a, verbs[i][0]) && str_is(b, verbs[i][1])) {
            return b;
        }
        if (str_is(b, verbs[i][0]) && str_is(a, verbs[i][1])) {
            return a;
        }
    }
    return (Str){"", 0};
}

static Str word_at(Str text, size_t at)
{
    size_t end = at;
    while (end < text.length && text.text[end] != ' ') {
        end++;
    }
    return (Str){text.text + at, end - at};
}

/* Word by word; false where two words are not the same. */
static bool join_words(Arena *arena, Str *all, Str one)
{
    Buf text;
    size_t a = 0, b = 0;
    if (str_equal(*all, one)) {
        return true;
    }
    buf_init(&text, arena);
    while (a < all->length && b < one.length) {
        Str x = word_at(*all, a), y = word_at(one, b), both = plural_of(x, y);
        if (both.length == 0 && x.length + y.length > 0) {
            return false;
        }
        buf_add(&text, both);
        a += x.length;
        b += y.length;
        bool blank = a < all->length && b < one.length; /* where a word ends and the text does not, a blank follows */
        buf_text(&text, blank ? " " : "");
        a += blank;
        b += blank;
    }
    bool whole = a == all->length && b == one.length;
    *all = buf_str(&text);
    return whole;
}

typedef struct Walker {
    const Alternatives *list;
    const char **at; /* where each text is */
    Piece *pieces;   /* of each text, this step's */
    uint32_t numbers; /* how many numbers differ so far */
    Spread *spread;
} Walker;

/* One piece more of each text; false where they part. `wide` has the widest of a number, else the words. */
static bool step(Walker *walker, Piece *wide, bool *differ)
{
    uint32_t i = 0;
    const Alternative *least = walker->list->first, *most = least;
    Piece lowest = {.number = false}, highest = lowest;
    *differ = false;
    for (const Alternative *a = walker->list->first; a != NULL; a = a->next, i++) {
        Piece piece = *walker->at[i] != '\0' ? piece_at(a->text, walker->at[i]) : (Piece){.number = false};
        walker->at[i] += piece.text.length;
        walker->pieces[i] = piece;
        if (i == 0) {
            *wide = lowest = highest = piece;
            continue;
        }
        if (piece.number != wide->number || (!piece.number && !join_words(arena_of(walker->list), &wide->text, piece.text))) {
            return false;
        }
        *differ = *differ || (piece.number && !str_equal(piece.text, wide->text));
        bool less = piece.number && value_of(piece.low) < value_of(lowest.low);
        bool more = piece.number && value_of(piece.high) > value_of(highest.high);
        lowest = less ? piece : lowest;
        least = less ? a : least;
        highest = more ? piece : highest;
        most = more ? a : most;
    }
    wide->low = lowest.low;
    wide->high = highest.high;
    if (*differ && walker->numbers++ == 0) {
        walker->spread->least = least;
        walker->spread->most = most;
    }
    return true;
}

static void write_range(Buf *to, const Piece *wide)
{
    buf_add(to, wide->low);
    if (!str_equal(wide->low, wide->high)) {
        buf_text(to, "..");
        buf_add(to, wide->high);
    }
}

/* "3 or 5 or 7", the least first. */
static void write_each(Buf *to, Piece *pieces, uint32_t count)
{
    for (uint32_t i = 1; i < count; i++) {
        for (uint32_t j = i; j > 0 && value_of(pieces[j].low) < value_of(pieces[j - 1].low); j--) {
            Piece one = pieces[j];
            pieces[j] = pieces[j - 1];
            pieces[j - 1] = one;
        }
    }
    for (uint32_t i = 0; i < count; i++) {
        if (i == 0 || !str_equal(pieces[i].text, pieces[i - 1].text)) {
            buf_text(to, i > 0 ? " or " : "");
            buf_add(to, pieces[i].text);
        }
    }
}

/* With `each`, the one number that differs is told one by one; where more than one does, nothing is said. */
static bool walk(const Alternatives *list, Spread *spread, bool each)
{
    Arena *arena = arena_of(list);
    Walker walker = {list, ARENA_ARRAY(arena, const char *, list->count + 1), ARENA_ARRAY(arena, Piece, list->count + 1), 0, spread};
    uint32_t i = 0;
    Buf text;
    *spread = (Spread){.text = NULL};
    buf_init(&text, arena);
    for (const Alternative *a = list->first; a != NULL; a = a->next) {
        walker.at[i++] = a->text;
    }
    while (list->first != NULL && *walker.at[0] != '\0') {
        Piece wide;
        bool differ;
        if (!step(&walker, &wide, &differ)) {
            return false;
        }
        if (!wide.number) {
            buf_add(&text, wide.text);
        } else if (differ && each) {
            write_each(&text, walker.pieces, list->count);
        } else {
            write_range(&text, &wide);
        }
    }
    for (i = 0; i < list->count; i++) {
        if (*walker.at[i] != '\0') {
            return false;
        }
    }
    spread->text = text.text;
    return walker.numbers > 0 && (!each || walker.numbers == 1);
}

bool alternatives_spread(const Alternatives *list, Spread *spread)
{
    return walk(list, spread, false);
}

/* Remarks of figures */

/* Each with an "or", a list or a name of its own: then it is said which belongs to which options. */
static bool are_lists(const Alternatives *list)
{
    bool any = list->count > ALTERNATIVES_MOST;
    for (const Alternative *a = list->first; a != NULL; a = a->next) {
        any = any || strchr(a->text, ',') != NULL || strstr(a->text, " or ") != NULL || strchr(a->text, '`') != NULL;
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
    if (list->first == NULL || list->count == 1) {
        return list->first != NULL ? list->first->text : "";
    }
    bool told = (list->count <= ALTERNATIVES_MOST && walk(list, &spread, true)) || alternatives_spread(list, &spread);
    return told ? spread.text : one_by_one(list);
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
