/* See findings_same.h. */
#include "output/findings_same.h"

#include "rules/settle.h"
#include "text/snippet.h"

#include <string.h>

enum { ALIKE_HEADS = 64 }; /* lists of panels, by name */

static bool same_interval(Interval a, Interval b)
{
    return a.low == b.low && a.high == b.high;
}

static bool same_words(const char *a, const char *b)
{
    return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

static const Entity *panel_of(const Finding *f)
{
    bool may = f->rule->once_a_panel && f->waiver == NULL && f->compared && f->told_with == NULL && f->tells == 0;
    return may && f->looked_at_feed != NULL && !f->looked_at_feed->maker ? f->looked_at_feed->giver : NULL;
}

/* What a text of a finding says behind the name of the finding's own thing; all of it where that is not in it. */
static const char *behind_tick(const Outcome *outcome, const Finding *f, const char *text)
{
    Str name = entity_name(outcome_first(outcome)->model, f->subject);
    const char *at = text;
    do {
        at = strchr(at, '`');
        at = at != NULL ? at + 1 : NULL;
    } while (at != NULL && strncmp(at, name.text, name.length) != 0);
    return at != NULL ? at + name.length : text;
}

/* "lights.protect class": what follows the name of its own thing, which begins it. */
static const char *behind_own_name(const Outcome *outcome, const Finding *f, const char *text)
{
    Str name = entity_name(outcome_first(outcome)->model, f->subject);
    bool own = strncmp(text, name.text, name.length) == 0 && text[name.length] == '.';
    return own ? text + name.length : text;
}

/* Whether what is open in both hangs on the same, or on the same of its own thing, and would be settled by the same. */
static bool hangs_on_the_same(const Outcome *outcome, const Finding *a, const Finding *b)
{
    const Settle *x = a->settles, *y = b->settles;
    while (x != NULL && y != NULL && x->state == y->state && same_words(x->text, y->text) &&
           strcmp(behind_own_name(outcome, a, x->input), behind_own_name(outcome, b, y->input)) == 0) {
        x = x->next;
        y = y->next;
    }
    const Depend *of = a->depends, *other = b->depends;
    while (of != NULL && other != NULL &&
           strcmp(behind_own_name(outcome, a, of->text), behind_own_name(outcome, b, other->text)) == 0) {
        of = of->next;
        other = other->next;
    }
    return x == NULL && y == NULL && of == NULL && other == NULL;
}

/* Whether two findings of one panel lack the same, and for the same reason: one is told, and names the other. */
static bool lacks_the_same(const Outcome *outcome, const Finding *a, const Finding *b)
{
    const Entity *panel = panel_of(a), *other = panel_of(b);
    return panel != NULL && other != NULL && panel->name == other->name && a->rule == b->rule &&
           a->severity == b->severity && a->verdict == b->verdict && a->combinations == b->combinations &&
           hangs_on_the_same(outcome, a, b) &&
           same_interval(a->value, b->value) && same_interval(a->limit, b->limit) && same_words(a->only_with, b->only_with) &&
           strcmp(behind_tick(outcome, a, a->message), behind_tick(outcome, b, b->message)) == 0;
}

/* The first of those that are told with one, if that stands before it; else itself. Only those on one panel are looked at. */
static uint32_t first_alike(const Alike *alike, const Outcome *outcome, uint32_t of, uint32_t *heads)
{
    uint32_t *head = &heads[panel_of(alike->list[of].finding)->name % ALIKE_HEADS];
    for (uint32_t at = *head; at != 0; at = alike->list[at - 1].next) {
        if (lacks_the_same(outcome, alike->list[at - 1].finding, alike->list[of].finding)) {
            return at - 1;
        }
    }
    alike->list[of].next = *head;
    *head = of + 1;
    return of;
}

Alike findings_alike(Arena *arena, const Outcome *outcome)
{
    uint32_t heads[ALIKE_HEADS] = {0};
    Alike alike = {.count = 0};
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        alike.count += panel_of(f) != NULL;
    }
    alike.list = ARENA_ARRAY(arena, AlikeRow, (size_t)alike.count + 1);
    uint32_t at = 0;
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (panel_of(f) != NULL) {
            alike.list[at] = (AlikeRow){.finding = f};
            alike.list[at].first = first_alike(&alike, outcome, at, heads);
            at++;
        }
    }
    return alike;
}

/* Where a finding stands in the list; they are asked for in their order. */
static uint32_t row_of(Alike *alike, const Finding *finding)
{
    while (alike->at < alike->count && alike->list[alike->at].finding != finding) {
        alike->at++;
    }
    return alike->at;
}

bool finding_is_named_before(Alike *alike, const Finding *finding)
{
    uint32_t row = panel_of(finding) != NULL ? row_of(alike, finding) : alike->count;
    return row < alike->count && alike->list[row].first != row;
}

void finding_write_same(Buf *to, Alike *alike, const Model *model, const Finding *finding)
{
    uint32_t row = panel_of(finding) != NULL ? row_of(alike, finding) : alike->count;
    bool any = false;
    for (uint32_t i = row + 1; i < alike->count; i++) {
        if (alike->list[i].first == row) {
            buf_text(to, any ? ", `" : "  the same is found of `");
            snippet_plain(to, entity_name(model, alike->list[i].finding->subject));
            buf_char(to, '`');
            any = true;
        }
    }
    if (any) {
        buf_text(to, " on `");
        snippet_plain(to, entity_name(model, panel_of(finding)));
        buf_text(to, "`\n");
    }
}
