/*
 * Chain and rope of anchors, by the metre. Both are sold to length: nothing is added for waste. See material_sorts.h.
 */
#include "output/material_sorts.h"

#include "figures/inches.h"
#include "figures/water.h"

typedef struct Line {
    PropId prop;
    const char *name, *title;
} Line;

static const Line lines[] = {
    {PROP_ANCHOR_CHAIN, "chain", "Anchor chain of"},
    {PROP_ANCHOR_ROPE, "rope", "Anchor rope of"},
};

/* By text a sort is found and named; shown is what the trade calls it: "1/4 in". */
static Sort *sort_of_thickness(Sorts *sorts, const Case *of, const Entity *anchor, PropId prop)
{
    const Value *thick = property_value(entity_property(anchor, prop), 1);
    Interval thickness = point(0.0);
    Buf text, shown;
    buf_init(&text, sorts->arena);
    buf_init(&shown, sorts->arena);
    quantity_write(&text, of->model, thick);
    if (thick->flags & VALUE_HOLE) {
        buf_text(&shown, "a thickness that is not decided");
    } else {
        size_write(&shown, of->model, prop, 1, thick);
    }
    entity_quantity(anchor, prop, 1, &thickness);
    Sort *sort = sorts_get(sorts, text.text, thickness.high);
    sort->shown = shown.text;
    return sort;
}

static void add_line(Sorts *sorts, const Case *of, const Entity *anchor, PropId prop)
{
    Interval length, count;
    const Property *line = entity_property(anchor, prop);
    if (line == NULL || line->flags & PROPERTY_BROKEN) {
        return;
    }
    Sort *sort = sort_of_thickness(sorts, of, anchor, prop);
    note_day(sort, of, anchor);
    if (!entity_quantity(anchor, prop, 0, &length)) {
        sort->unstated++;
        return;
    }
    bool counted = entity_quantity(anchor, PROP_COMMON_COUNT, 0, &count);
    sort->count = interval_add(sort->count, counted ? interval_multiply(length, count) : length);
}

void list_anchor_lines(List *list, const Case *of, bool to_buy)
{
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        Sorts sorts = sorts_new(list->arena);
        for (const Entity *e = first_aboard(of->model, KIND_ANCHOR); e != NULL; e = next_aboard(e)) {
            if (!(to_buy && is_had(e))) {
                add_line(&sorts, of, e, lines[i].prop);
            }
        }
        sorts_put_in_order(&sorts);
        for (size_t k = 0; k < sorts.count; k++) {
            const Sort *sort = &sorts.list[k];
            const char *silent = sort->unstated == 0 ? "" : text_format(list->arena, "; without %u whose length is not known", sort->unstated);
            const char *title = text_format(list->arena, "%s %s, in %s%s", lines[i].title, sort->shown, length_word(list), silent);
            add_material(list, sort, lines[i].name,
                         (Material){.title = title, .kind = lines[i].name, .system = (System)kinds[KIND_ANCHOR].system,
                                    .count = whole_lengths(list, sort->count), .length = list->length});
        }
    }
}
