/*
 * Which figures moved: those whose printed digits differ, or that only one of the two specs has.
 *
 * A figure is known by its subject, its name and its day (or target), followed through renamings. Where
 * choices are open it is the interval that covers all options. Subtracts nothing: see figure_change.
 */
#include "tools/diff_parts.h"

#include <string.h>

/* A figure over all cases of one spec. */
typedef struct Gathered {
    const Case *of; /* the first case that has it */
    Figure figure;
    Symbol subject, at;
    bool paired;
} Gathered;

typedef struct Gathering {
    Arena *arena;
    Gathered *list;
    uint32_t count, capacity;
    uint32_t *index; /* hash: 1 + position in list */
    uint32_t index_capacity;
} Gathering;

/* Its name and its scope in one number. */
static uint16_t what_of(const Figure *figure)
{
    return (uint16_t)(figure->id * SCOPE_COUNT + figure->scope);
}

static uint64_t key_of(Symbol subject, uint16_t what, Symbol at)
{
    uint64_t key = ((uint64_t)subject << 16 | what) * 0x9E3779B97F4A7C15u;
    return ((key >> 7) + at) * 0x9E3779B97F4A7C15u;
}

/* The slot of that figure, empty or not. */
static uint32_t *slot_of(const Gathering *gathering, Symbol subject, uint16_t what, Symbol at)
{
    uint32_t mask = gathering->index_capacity - 1;
    uint32_t i = (uint32_t)(key_of(subject, what, at) >> 32) & mask;
    for (; gathering->index[i] != 0; i = (i + 1) & mask) {
        const Gathered *there = &gathering->list[gathering->index[i] - 1];
        if (there->subject == subject && what_of(&there->figure) == what && there->at == at) {
            break;
        }
    }
    return &gathering->index[i];
}

static void make_room(Gathering *gathering)
{
    if (gathering->count == gathering->capacity) {
        uint32_t capacity = gathering->capacity ? gathering->capacity * 2 : 128;
        gathering->list = arena_grow(gathering->arena, gathering->list,
                                     gathering->capacity * sizeof(Gathered), capacity * sizeof(Gathered));
        gathering->capacity = capacity;
        gathering->index_capacity = capacity * 2;
        gathering->index = ARENA_ARRAY(gathering->arena, uint32_t, gathering->index_capacity);
        for (uint32_t i = 0; i < gathering->count; i++) {
            const Gathered *there = &gathering->list[i];
            *slot_of(gathering, there->subject, what_of(&there->figure), there->at) = i + 1;
        }
    }
}

/* What is known in any case counts; of several, the interval that covers them. */
static void cover(Figure *covered, const Figure *figure)
{
    if (figure->state != STATE_KNOWN) {
        return;
    }
    if (covered->state != STATE_KNOWN) {
        *covered = *figure;
        return;
    }
    covered->low = figure->low < covered->low ? figure->low : covered->low;
    covered->high = figure->high > covered->high ? figure->high : covered->high;
}

static void gather_figure(Gathering *gathering, const Case *of, const Figure *figure)
{
    Symbol subject = figure->subject->name;
    Symbol at = figure->at != NULL ? figure->at->name : 0;
    make_room(gathering);
    uint32_t *slot = slot_of(gathering, subject, what_of(figure), at);
    if (*slot != 0) {
        cover(&gathering->list[*slot - 1].figure, figure);
        return;
    }
    gathering->list[gathering->count++] =
        (Gathered){.of = of, .figure = *figure, .subject = subject, .at = at};
    *slot = gathering->count;
}

/* Thing by thing; what one recipe gives twice under one name in one case counts once. */
static Gathering gather(Arena *arena, const DiffSide *side)
{
    Gathering gathering = {.arena = arena};
    const Outcome *outcome = side->outcome;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Case *of = &outcome->cases[c];
        for (uint32_t e = 0; e < of->model->entity_count; e++) {
            for (const Figure *f = of->figures->lists[e].first; f != NULL; f = f->next) {
                gather_figure(&gathering, of, f);
            }
        }
    }
    return gathering;
}

/* Telling */

static DiffFigureSide side_of(const Gathered *gathered)
{
    if (gathered == NULL) {
        return (DiffFigureSide){0};
    }
    return (DiffFigureSide){.of = gathered->of,
                            .figure = gathered->figure,
                            .text = figure_text(gathered->of->figures, &gathered->figure)};
}

static bool has_moved(const DiffFigureSide *before, const DiffFigureSide *after)
{
    if (strcmp(before->text, after->text) == 0) {
        return false;
    }
    const Figure *a = &before->figure;
    const Figure *b = &after->figure;
    bool same_money = !a->money || str_equal(before->of->model->currency, after->of->model->currency);
    /* Another unit, or another gauge, for the same value is no change. */
    return a->state != b->state || a->money != b->money || !same_money || !numbers_same(a->low, b->low) ||
           !numbers_same(a->high, b->high);
}

static const char *figure_label(Arena *arena, const Gathered *gathered)
{
    Buf name;
    buf_init(&name, arena);
    figure_write_label(&name, gathered->of->model, &gathered->figure);
    return name.text;
}

static bool is_store(const Entity *entity)
{
    return entity->kind == KIND_BANK || entity->kind == KIND_TANK;
}

static bool is_told(const DiffSide *side, Symbol name)
{
    for (const DiffThing *t = side->by_name[name]; t != NULL; t = t->next_of_name) {
        if (t->told && t->partner != NULL) {
            return true;
        }
    }
    return false;
}

static DiffFigure *new_figure(Diff *diff, const Gathered *before, const Gathered *after)
{
    DiffFigureSide old = side_of(before);
    DiffFigureSide now = side_of(after);
    if (before != NULL && after != NULL && !has_moved(&old, &now)) {
        return NULL;
    }
    const Gathered *any = after != NULL ? after : before;
    const Entity *subject = any->figure.subject;
    DiffFigure *figure = ARENA_NEW(diff->arena, DiffFigure);
    *figure = (DiffFigure){.subject = str_copy(diff->arena, entity_name(any->of->model, subject)),
                           .title = str_copy(diff->arena, subject->title),
                           .name = figure_label(diff->arena, any),
                           .before = old,
                           .after = now,
                           .of_boat = subject->kind == KIND_BOAT && any->figure.scope == SCOPE_WHOLE};
    const DiffSide *side = after != NULL ? &diff->after : &diff->before;
    bool in_both = side->other[any->subject] != 0;
    figure->shown = in_both && any->figure.scope == SCOPE_WHOLE &&
                    (is_store(subject) || is_told(side, any->subject));
    if (before != NULL && after != NULL) {
        const char *was = str_copy(diff->arena, entity_name(before->of->model, before->figure.subject));
        figure->was = strcmp(was, figure->subject) != 0 ? was : NULL;
    }
    return figure;
}

/* The old figure that a new one is compared with, or NULL. */
static Gathered *find_partner(const Diff *diff, const Gathering *before, const Gathered *after)
{
    Symbol subject = diff->after.other[after->subject];
    Symbol at = after->at != 0 ? diff->after.other[after->at] : 0;
    if (before->count == 0 || subject == 0 || (after->at != 0 && at == 0)) {
        return NULL;
    }
    uint32_t *slot = slot_of(before, subject, what_of(&after->figure), at);
    return *slot != 0 ? &before->list[*slot - 1] : NULL;
}

/* The figures of one thing as a list, so that what only the old spec has stands with the rest. */
typedef struct Sublist {
    DiffFigure *first, *last;
} Sublist;

static void sublist_add(Sublist *list, DiffFigure *figure)
{
    if (figure == NULL) {
        return;
    }
    if (list->first == NULL) {
        list->first = figure;
    } else {
        list->last->next = figure;
    }
    list->last = figure;
}

static void chain(DiffFigure ***end, const Sublist *list)
{
    if (list->first != NULL) {
        **end = list->first;
        *end = &list->last->next;
    }
}

void diff_find_figures(Diff *diff)
{
    Gathering before = gather(diff->arena, &diff->before);
    Gathering after = gather(diff->arena, &diff->after);
    Sublist *of_subject = ARENA_ARRAY(diff->arena, Sublist, diff->after.symbol_count);
    Sublist gone = {NULL, NULL};
    for (uint32_t i = 0; i < after.count; i++) {
        Gathered *partner = find_partner(diff, &before, &after.list[i]);
        if (partner != NULL) {
            partner->paired = true;
        }
        sublist_add(&of_subject[after.list[i].subject], new_figure(diff, partner, &after.list[i]));
    }
    for (uint32_t i = 0; i < before.count; i++) {
        if (!before.list[i].paired) {
            Symbol subject = name_after(diff, before.list[i].subject);
            sublist_add(subject != 0 ? &of_subject[subject] : &gone, new_figure(diff, &before.list[i], NULL));
        }
    }
    DiffFigure **end = &diff->figures;
    for (uint32_t i = 0; i < diff->after.thing_count; i++) {
        Symbol name = diff->after.things[i]->entity->name;
        chain(&end, &of_subject[name]);
        of_subject[name] = (Sublist){NULL, NULL};
    }
    chain(&end, &gone);
}
