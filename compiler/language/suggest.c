/*
 * Near spellings. Knows words only; the caller offers those that fit the place.
 *
 * The distance is the optimal string alignment distance (insertions, deletions, substitutions, and swaps of
 * neighbours, no part of a word edited twice), worked out in a band as wide as the limit, so that a long word
 * costs no memory. Words that differ in capitals only are one edit apart; one that is all edits is not near.
 */
#include "language/suggest.h"

#include <string.h>

enum { MOST_EDITS = 3, BAND = 2 * MOST_EDITS + 1, FAR = 1000 };

/* Distances of one prefix of the first word to the prefixes of the second that are about as long. */
typedef struct Row {
    int cell[BAND]; /* cell[k]: to the prefix that is k - MOST_EDITS longer */
} Row;

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* The row that is filled, and the two above it. */
enum { OWN, ABOVE, TWO_ABOVE, ROWS };

/* Cell k of row i: the edits from i characters of a to j of b. Needs its own row up to k. */
static int fill_cell(Str a, Str b, size_t i, int k, const Row rows[ROWS])
{
    size_t j = i + (size_t)k - MOST_EDITS;
    int best = FAR;

    if (i == 0 || j == 0) {
        return (int)(i + j);
    }
    if (k > 0) {
        best = least(best, rows[OWN].cell[k - 1] + 1);
    }
    if (k < BAND - 1) {
        best = least(best, rows[ABOVE].cell[k + 1] + 1);
    }
    best = least(best, rows[ABOVE].cell[k] + (a.text[i - 1] != b.text[j - 1]));
    if (i > 1 && j > 1 && a.text[i - 1] == b.text[j - 2] && a.text[i - 2] == b.text[j - 1]) {
        best = least(best, rows[TWO_ABOVE].cell[k] + 1);
    }
    return best;
}

/* FAR where the band leaves the table. */
static void fill_row(Str a, Str b, size_t i, Row rows[ROWS])
{
    for (int k = 0; k < BAND; k++) {
        rows[OWN].cell[k] = FAR;
        if (i + (size_t)k >= MOST_EDITS && i + (size_t)k - MOST_EDITS <= b.length) {
            rows[OWN].cell[k] = fill_cell(a, b, i, k, rows);
        }
    }
}

static int lowest(const Row *row)
{
    int best = FAR;

    for (int k = 0; k < BAND; k++) {
        best = least(best, row->cell[k]);
    }
    return best;
}

/* Edits from one word to the other; FAR if more than MOST_EDITS. */
static int edits(Str a, Str b)
{
    size_t gap = a.length > b.length ? a.length - b.length : b.length - a.length;
    Row rows[ROWS] = {{{0}}};

    if (gap > MOST_EDITS) {
        return FAR;
    }
    fill_row(a, b, 0, rows);
    rows[ABOVE] = rows[OWN];
    for (size_t i = 1; i <= a.length; i++) {
        rows[TWO_ABOVE] = rows[ABOVE];
        rows[ABOVE] = rows[OWN];
        fill_row(a, b, i, rows);
        if (lowest(&rows[OWN]) > MOST_EDITS && lowest(&rows[ABOVE]) > MOST_EDITS) {
            return FAR; /* it only grows from here */
        }
    }
    return rows[OWN].cell[b.length > a.length ? MOST_EDITS + gap : MOST_EDITS - gap];
}

static bool equal_but_capitals(Str a, Str b)
{
    if (a.length != b.length) {
        return false;
    }
    for (size_t i = 0; i < a.length; i++) {
        if (char_lower(a.text[i]) != char_lower(b.text[i])) {
            return false;
        }
    }
    return true;
}

/* The most edits at which a candidate is still near to a word of that length. */
static int limit_for(size_t length)
{
    size_t third = length / 3;

    if (third < 1) {
        return 1;
    }
    return third > MOST_EDITS ? MOST_EDITS : (int)third;
}

static bool is_offered_already(const Suggestions *suggestions, Str candidate)
{
    for (int i = 0; i < suggestions->count; i++) {
        if (str_equal(suggestions->best[i], candidate)) {
            return true;
        }
    }
    return false;
}

/* Puts it behind those that are as near; the fourth falls off. */
static void insert(Suggestions *suggestions, Str candidate, int distance)
{
    int place = suggestions->count;

    while (place > 0 && suggestions->distance[place - 1] > distance) {
        place--;
    }
    if (place == 3) {
        return;
    }
    if (suggestions->count < 3) {
        suggestions->count++;
    }
    for (int i = suggestions->count - 1; i > place; i--) {
        suggestions->best[i] = suggestions->best[i - 1];
        suggestions->distance[i] = suggestions->distance[i - 1];
    }
    suggestions->best[place] = candidate;
    suggestions->distance[place] = distance;
}

Suggestions suggest_begin(Str word)
{
    return (Suggestions){.word = word};
}

void suggest_offer(Suggestions *suggestions, Str candidate)
{
    Str word = suggestions->word;
    size_t longer = word.length > candidate.length ? word.length : candidate.length;
    int distance;

    if (str_equal(word, candidate) || is_offered_already(suggestions, candidate)) {
        return;
    }
    if (equal_but_capitals(word, candidate)) {
        insert(suggestions, candidate, 1);
        return;
    }
    distance = edits(word, candidate);
    if (distance <= limit_for(word.length) && (size_t)distance < longer) {
        insert(suggestions, candidate, distance);
    }
}

bool suggest_write(Buf *buf, const Suggestions *suggestions)
{
    for (int i = 0; i < suggestions->count; i++) {
        if (i > 0) {
            buf_text(buf, i == suggestions->count - 1 ? " or " : ", ");
        }
        buf_char(buf, '`');
        buf_add(buf, suggestions->best[i]);
        buf_char(buf, '`');
    }
    return suggestions->count > 0;
}
