/* See material_sorts.h. */
#include "output/material_sorts.h"

#include "model/status.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

Sorts sorts_new(Arena *arena)
{
    return (Sorts){.arena = arena, .texts = symbols_new(arena)};
}

Sort *sorts_get(Sorts *sorts, const char *text, double order)
{
    size_t place = symbols_intern(sorts->texts, str_from(text)) - 1u; /* symbols count from 1 */
    if (place < sorts->count) {
        return &sorts->list[place];
    }
    if (sorts->count == sorts->capacity) {
        size_t capacity = sorts->capacity ? sorts->capacity * 2 : 16;
        sorts->list =
            arena_grow(sorts->arena, sorts->list, sorts->capacity * sizeof(Sort), capacity * sizeof(Sort));
        sorts->capacity = capacity;
    }
    Sort *sort = &sorts->list[sorts->count++];
    *sort = (Sort){.text = text, .order = order, .order_by_s = INFINITY};
    return sort;
}

static int compare_sorts(const void *a, const void *b)
{
    const Sort *x = a;
    const Sort *y = b;
    if (x->order != y->order) {
        return x->order < y->order ? -1 : 1;
    }
    return strcmp(x->text, y->text);
}

void sorts_put_in_order(Sorts *sorts)
{
    if (sorts->count > 1) {
        qsort(sorts->list, sorts->count, sizeof(Sort), compare_sorts);
    }
}

/* "cable-6-mm2": a name from words, in the language's own letters. */
static Str row_name(Arena *arena, const char *first, const char *words)
{
    Buf name;
    buf_init(&name, arena);
    buf_text(&name, first);
    bool gap = true;
    for (const char *c = words; *c != '\0'; c++) {
        bool plain =
            (*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z') || (*c >= '0' && *c <= '9') || *c == '.';
        if (plain) {
            buf_text(&name, gap ? "-" : "");
            buf_char(&name, *c);
        }
        gap = !plain;
    }
    return buf_str(&name);
}

void add_material(List *list, const Sort *sort, const char *name, Material material)
{
    Material *added = ARENA_NEW(list->arena, Material);
    *added = material;
    added->name = row_name(list->arena, name, sort->text);
    added->order_by_s = sort->order_by_s;
    *list->end = added;
    list->end = &added->next;
}

bool is_had(const Entity *entity)
{
    Status status = thing_status(entity);
    return status == STATUS_FITTED || (material_is_thing(entity) && status_is_committed(status));
}

void note_day(Sort *sort, const Case *of, const Entity *entity)
{
    const Figure *order_by = figure_find(of->figures, entity, FIGURE_FITTINGS_BY, NULL);
    order_by = order_by != NULL ? order_by : figure_find(of->figures, entity, FIGURE_ORDER_BY, NULL);
    if (order_by != NULL && order_by->state == STATE_KNOWN && isfinite(order_by->low)) {
        sort->order_by_s = fmin(sort->order_by_s, order_by->low);
    }
}

/* Rounded up; a hair less, so that what is whole but for rounding is not. */
Interval whole_lengths(const List *list, Interval length_m)
{
    double low = unit_from_si(list->length, length_m.low), high = unit_from_si(list->length, length_m.high);
    return (Interval){ceil(low * (1.0 - 1e-9)), ceil(high * (1.0 - 1e-9))};
}

const char *length_word(const List *list)
{
    return list->length.unit == UNIT_FT ? "feet" : "metres";
}

bool material_is_thing(const Entity *entity)
{
    return entity->kind == KIND_CIRCUIT || entity->kind == KIND_HOSE || entity->kind == KIND_FUEL_LINE;
}
