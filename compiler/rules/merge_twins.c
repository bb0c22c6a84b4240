/* Findings that are one, though something tells them apart in some cases and not in others: see merge_parts.h. */
#include "rules/merge_parts.h"

#include <stdlib.h>
#include <string.h>

static int compare_places(const Merged *a, const Merged *b)
{
    return (a->place > b->place) - (a->place < b->place);
}

/* Twins stand side by side; of these the first in the list comes first. */
static int by_what_they_say(const void *a, const void *b)
{
    const Merged *x = *(Merged *const *)a, *y = *(Merged *const *)b;
    int order = compare_places(x, y);
    order = order != 0 ? order : strcmp(x->finding->rule->name, y->finding->rule->name);
    order = order != 0 ? order : strcmp(x->readings->text, y->readings->text);
    return order != 0 ? order : (x > y) - (x < y);
}

static bool are_twins(const Merged *a, const Merged *b)
{
    return a->place == b->place && a->finding->rule == b->finding->rule &&
           entity_symbol(a->finding->subject) == entity_symbol(b->finding->subject) &&
           strcmp(a->readings->text, b->readings->text) == 0 && (a->found_in & b->found_in) == 0;
}

static void join(Merged *into, Merged *twin)
{
    into->readings->cases |= twin->readings->cases;
    for (const Alternative *note = twin->notes.first; note != NULL; note = note->next) {
        alternatives_add(&into->notes, note->text, note->cases);
    }
    into->found_in |= twin->found_in;
    into->broken_in |= twin->broken_in;
    for (int i = 0; i < SEVERITY_COUNT; i++) {
        into->severe_in[i] |= twin->severe_in[i];
    }
    into->finding = finding_says_more(twin->finding, into->finding) ? twin->finding : into->finding;
    twin->found_in = 0;
}

void merged_join_twins(Arena *arena, Merged *list, uint32_t count, CaseSet all)
{
    Merged **some = ARENA_ARRAY(arena, Merged *, count);
    uint32_t found = 0;
    for (uint32_t i = 0; i < count; i++) {
        if (list[i].found_in != all && list[i].readings->next == NULL) {
            some[found++] = &list[i];
        }
    }
    if (found > 1) {
        qsort(some, found, sizeof some[0], by_what_they_say);
    }
    for (uint32_t i = 0; i < found;) {
        uint32_t next = i + 1;
        while (next < found && are_twins(some[i], some[next])) {
            join(some[i], some[next++]);
        }
        i = next;
    }
}

bool finding_says_more(const Finding *f, const Finding *than)
{
    return f->severity > than->severity ||
           (f->severity == than->severity && f->verdict == VERDICT_BROKEN && than->verdict == VERDICT_OPEN);
}
