/* See bom_feeds.h. */
#include "output/bom_feeds.h"

#include "figures/water.h"
#include "output/feeding.h"
#include "output/report.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double waste = 1.1; /* common practice, no source */

/* Things of one sort, to be bought together. */
typedef struct Sort {
    const char *text; /* "6 mm2", "30 A breaker hydraulic" */
    double order;     /* sorts are listed by this, then by text */
    Interval count;   /* m, or pieces */
    uint32_t feeds;
    uint32_t unstated; /* feeds whose run is not stated */
    uint32_t chosen;   /* feeds that Garboard has sized */
} Sort;

/* Texts are interned, and the n-th text is the n-th sort until they are put in order. */
typedef struct Sorts {
    Arena *arena;
    Symbols *texts;
    Sort *list;
    size_t count, capacity;
} Sorts;

static Sorts sorts_new(Arena *arena)
{
    return (Sorts){.arena = arena, .texts = symbols_new(arena)};
}

static Sort *sorts_get(Sorts *sorts, const char *text, double order)
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
    *sort = (Sort){.text = text, .order = order};
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

static void sort_sorts(Sorts *sorts)
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

static void put_row(Csv *csv, Str name, const char *title, const char *kind, System system, Interval count,
                    size_t columns)
{
    csv_text(csv, name);
    csv_text(csv, str_from(title));
    csv_text(csv, str_from(kind));
    csv_text(csv, str_from(system_word(system)));
    report_csv_range(csv, count, UNIT_ALONE(UNIT_NONE), false);
    for (size_t i = 5; i < columns; i++) {
        csv_empty(csv);
    }
    csv_row_end(csv);
}

/* Cable */

static bool is_known(const Figure *figure)
{
    return figure != NULL && figure->state == STATE_KNOWN;
}

static void add_length(Sort *sort, const Feed *feed, double ways)
{
    Interval run;
    sort->feeds++;
    if (!feeding_value(feed, PROP_FEED_RUN, 0, &run)) {
        sort->unstated++;
        return;
    }
    Interval length = interval_multiply(interval_scale(run, ways * waste), feeding_parallel(feed));
    sort->count = interval_add(sort->count, length);
}

static void add_cable(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    if (!is_known(size)) {
        add_length(sorts_get(sorts, "size not known", INFINITY), feed, 2.0);
        return;
    }
    Sort *sort = sorts_get(sorts, figure_text(of->figures, size), size->high);
    sort->chosen += size->chosen;
    add_length(sort, feed, 2.0);
}

static void add_ground(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Property *ground = feeding_property(feed, PROP_FEED_GROUND);
    const Value *size = property_value(ground, 0);
    if (size->kind != VALUE_QUANTITY || size->flags & VALUE_BROKEN) {
        return;
    }
    Buf text;
    buf_init(&text, sorts->arena);
    quantity_write(&text, of->model, size);
    Sort *sort = sorts_get(sorts, text.text, size->u.quantity.high);
    Interval run;
    sort->feeds++;
    if (feeding_value(feed, PROP_FEED_RUN, 0, &run)) {
        sort->count = interval_add(sort->count, interval_scale(run, waste));
    } else {
        sort->unstated++;
    }
}

static const char *feeds_word(uint32_t count)
{
    return count == 1 ? "feed" : "feeds";
}

/* Rounded up; a hair less, so that what is whole but for rounding is not. */
static Interval whole_metres(Interval length)
{
    return (Interval){ceil(length.low * (1.0 - 1e-9)), ceil(length.high * (1.0 - 1e-9))};
}

static void put_cables(Csv *csv, Sorts *sorts, const char *name, const char *what, size_t columns)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        Buf title;
        buf_init(&title, sorts->arena);
        buf_format(&title, "%s, %s, in metres of single conductor", what, sort->text);
        if (sort->chosen > 0) {
            buf_format(&title, "; sized by Garboard for %u of %u %s", sort->chosen, sort->feeds,
                       feeds_word(sort->feeds));
        }
        if (sort->unstated > 0) {
            buf_format(&title, "; without %u %s whose run is not stated", sort->unstated,
                       feeds_word(sort->unstated));
        }
        Interval metres = whole_metres(sort->count);
        put_row(csv, row_name(sorts->arena, name, sort->text), title.text, "cable", SYSTEM_POWER, metres, columns);
    }
}

/* Fuses and breakers */

static void add_device(Sorts *sorts, const char *text, double rating)
{
    Sort *sort = sorts_get(sorts, text, rating);
    sort->feeds++;
    sort->count = interval_add(sort->count, point(1.0));
}

static void add_stated_device(Sorts *sorts, const Case *of, const Property *protect)
{
    Buf text;
    buf_init(&text, sorts->arena);
    feeding_write_protection(&text, of->model, protect);
    const Value *rating = property_value(protect, 0);
    if (text.length > 0) {
        add_device(sorts, text.text, rating->kind == VALUE_QUANTITY ? rating->u.quantity.high : INFINITY);
    }
}

static void add_devices(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *chosen = feeding_chosen_protection(of->figures, feed);
    if (chosen != NULL) {
        const char *text = text_format(sorts->arena, "%s fuse or breaker, rating chosen by Garboard",
                                       figure_text(of->figures, chosen));
        add_device(sorts, text, chosen->high);
    } else {
        add_stated_device(sorts, of, feeding_property(feed, PROP_FEED_PROTECT));
    }
    if (feed->maker) {
        add_stated_device(sorts, of, block_property(feed->block, PROP_FEEDS_PROTECT_OUTPUT));
    }
}

static void put_devices(Csv *csv, Sorts *sorts, size_t columns)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        put_row(csv, row_name(sorts->arena, "protection", sort->text), sort->text, "protection", SYSTEM_POWER,
                sort->count, columns);
    }
}

void bom_feeds(Csv *csv, const Case *of, size_t columns)
{
    Arena *arena = csv->buf->arena;
    Sorts cables = sorts_new(arena);
    Sorts grounds = sorts_new(arena);
    Sorts devices = sorts_new(arena);
    for (uint32_t i = 0; i < of->model->feed_count; i++) {
        const Feed *feed = of->model->feeds[i];
        if (feeding_is_listed(feed)) {
            add_cable(&cables, of, feed);
            add_ground(&grounds, of, feed);
            add_devices(&devices, of, feed);
        }
    }
    put_cables(csv, &cables, "cable", "Cable", columns);
    put_cables(csv, &grounds, "grounding-cable", "Grounding (protective) conductor, green or green-yellow",
               columns);
    put_devices(csv, &devices, columns);
}

/* Hose, and what holds it */

/* What is bought by the metre and led from here to there. */
typedef struct Tube {
    KindId kind;
    PropId bore, run;
    unsigned run_slot;
    PropId grade; /* a word; PROP_NONE: none */
    System system;
    const char *name, *title, *one, *several;
} Tube;

static const Tube tubes[] = {
    {KIND_HOSE, PROP_HOSE_BORE, PROP_HOSE_RUN, 0, PROP_HOSE_GRADE, SYSTEM_WATER, "hose", "Hose of", "hose",
     "hoses"},
    {KIND_FUEL_LINE, PROP_FUEL_LINE_BORE, PROP_FUEL_LINE_RUN, 0, PROP_FUEL_LINE_GRADE, SYSTEM_DRIVE, "fuel-line",
     "Fuel line of", "line", "lines"},
    {KIND_EXHAUST, PROP_EXHAUST_BORE, PROP_EXHAUST_RUN, 0, PROP_NONE, SYSTEM_DRIVE, "exhaust-hose", "Exhaust hose or pipe of",
     "exhaust", "exhausts"},
    {KIND_BILGE_PUMP, PROP_BILGE_PUMP_OUTLET, PROP_BILGE_PUMP_OUTLET, 1, PROP_NONE, SYSTEM_SAFETY, "bilge-hose",
     "Bilge pump's hose of", "pump", "pumps"},
};

static bool is_stated(const Entity *entity, PropId prop, unsigned slot, Interval *value)
{
    const Value *stated = property_value(entity_property(entity, prop), slot);
    if (stated->kind != VALUE_QUANTITY || stated->flags & VALUE_BROKEN) {
        return false;
    }
    *value = (Interval){stated->u.quantity.low, stated->u.quantity.high};
    return true;
}

/* "13 mm, for water"; of a fuel line "8 mm, A1" */
static const char *bore_text(Arena *arena, const Case *of, const Entity *thing, const Tube *tube, bool with_grade)
{
    Buf text;
    Str grade = tube->grade != PROP_NONE ? entity_word(thing, tube->grade) : STR("");
    buf_init(&text, arena);
    quantity_write(&text, of->model, property_value(entity_property(thing, tube->bore), 0));
    if (with_grade && grade.length > 0) {
        buf_format(&text, tube->kind == KIND_HOSE ? ", for %.*s" : ", %.*s", STR_ARG(grade));
    }
    return text.text;
}

/* `times` of a property, for each of those that the thing counts for. */
static void add_of_tube(Sort *sort, const Entity *thing, PropId prop, unsigned slot, double times)
{
    Interval value, count;
    sort->feeds++;
    if (!is_stated(thing, prop, slot, &value)) {
        sort->unstated++;
        return;
    }
    Interval all = is_stated(thing, PROP_COMMON_COUNT, 0, &count) ? interval_multiply(value, count) : value;
    sort->count = interval_add(sort->count, interval_scale(all, times));
}

static void put_tubes(Csv *csv, Sorts *sorts, const Tube *tube, bool clamps, size_t columns)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        Buf title;
        buf_init(&title, sorts->arena);
        buf_format(&title, "%s %s%s", clamps ? "Hose clamps for a bore of" : tube->title, sort->text,
                   clamps ? "" : ", in metres");
        if (sort->unstated > 0) {
            buf_format(&title, "; without %u %s that %s not say", sort->unstated,
                       sort->unstated == 1 ? tube->one : tube->several, sort->unstated == 1 ? "does" : "do");
        }
        put_row(csv, row_name(sorts->arena, clamps ? "clamps" : tube->name, sort->text), title.text,
                clamps ? "clamp" : "hose-by-the-metre", tube->system,
                clamps ? sort->count : whole_metres(sort->count), columns);
    }
}

void bom_hoses(Csv *csv, const Case *of, size_t columns)
{
    Arena *arena = csv->buf->arena;
    Sorts clamps = sorts_new(arena);
    Interval bore;
    for (size_t i = 0; i < sizeof tubes / sizeof tubes[0]; i++) {
        const Tube *tube = &tubes[i];
        Sorts sorts = sorts_new(arena);
        for (const Entity *e = first_aboard(of->model, tube->kind); e != NULL; e = next_aboard(e)) {
            if (!is_stated(e, tube->bore, 0, &bore)) {
                continue;
            }
            add_of_tube(sorts_get(&sorts, bore_text(arena, of, e, tube, true), bore.high), e, tube->run, tube->run_slot,
                        waste);
            if (tube->kind == KIND_HOSE) {
                Sort *sort = sorts_get(&clamps, bore_text(arena, of, e, tube, false), bore.high);
                add_of_tube(sort, e, PROP_HOSE_CLAMPS, 0, 2.0);
            }
        }
        put_tubes(csv, &sorts, tube, false, columns);
    }
    put_tubes(csv, &clamps, &tubes[0], true, columns);
}
