/* See materials.h. */
#include "output/materials.h"

#include "figures/power.h"
#include "figures/water.h"
#include "model/status.h"
#include "output/feeding.h"
#include "output/wires.h"

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
    double order_by_s; /* the earliest of what it is for */
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

/* The materials that are listed so far. */
typedef struct List {
    Arena *arena;
    UnitPair length; /* what lengths are told in */
    Material *first;
    Material **end;
} List;

static void add_material(List *list, const Sort *sort, const char *name, const char *title, const char *kind,
                         System system, Interval count, UnitPair length)
{
    Material *material = ARENA_NEW(list->arena, Material);
    *material = (Material){.name = row_name(list->arena, name, sort->text),
                           .title = title,
                           .kind = kind,
                           .system = system,
                           .count = count,
                           .length = length,
                           .order_by_s = sort->order_by_s};
    *list->end = material;
    list->end = &material->next;
}

/* For whom */

bool material_is_thing(const Entity *entity)
{
    return entity->kind == KIND_CIRCUIT || entity->kind == KIND_HOSE || entity->kind == KIND_FUEL_LINE;
}

/* What it is made of must be aboard: it is fitted, or it was this that was ordered. */
static bool is_had(const Entity *entity)
{
    Status status = thing_status(entity);
    return status == STATUS_FITTED || (material_is_thing(entity) && status_is_committed(status));
}

static void note_day(Sort *sort, const Case *of, const Entity *entity)
{
    const Figure *order_by = figure_find(of->figures, entity, FIGURE_ORDER_BY, NULL);
    order_by = order_by != NULL ? order_by : figure_find(of->figures, entity, FIGURE_FITTINGS_BY, NULL);
    if (order_by != NULL && order_by->state == STATE_KNOWN) {
        sort->order_by_s = fmin(sort->order_by_s, order_by->low);
    }
}

/* Cable */

static bool is_known(const Figure *figure)
{
    return figure != NULL && figure->state == STATE_KNOWN;
}

/* Metres of it, for so many ways side by side; not stated where its run is not. */
static void add_length(Sort *sort, const Case *of, const Feed *feed, bool stated, Interval metres, Interval ways)
{
    sort->feeds++;
    note_day(sort, of, feed->subject);
    if (!stated) {
        sort->unstated++;
        return;
    }
    sort->count = interval_add(sort->count, interval_multiply(interval_scale(metres, waste), ways));
}

/* A size with what heat its insulation stands, by which it was judged: cable of the same size that stands less is another one. */
static const char *cable_text(Arena *arena, const Feed *feed, const char *size)
{
    Interval insulation;
    bool stated = feeding_value(feed, PROP_FEED_WIRE, 2, &insulation);
    return text_format(arena, "%s, insulation %.0f C%s", size, feed_insulation_celsius(feed), stated ? "" : " assumed");
}

/* Of mains the conductors lie in one sheath, their ground among them: by the metre of cable. */
static void add_mains_cable(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    Str ground = wires_ground(sorts->arena, of->model, feed);
    const char *text = is_known(size) ? text_format(sorts->arena, "2 x %s and %s%.*s", figure_text(of->figures, size),
                                                    ground.length > 0 ? "ground " : "a ground that is not stated", STR_ARG(ground))
                                      : "size not known";
    Sort *sort = sorts_get(sorts, cable_text(sorts->arena, feed, text), is_known(size) ? size->high : INFINITY);
    Interval run = point(0.0);
    bool stated = feeding_value(feed, PROP_FEED_RUN, 0, &run);
    sort->chosen += is_known(size) && size->chosen;
    add_length(sort, of, feed, stated, run, feeding_parallel(feed));
}

static void add_cable(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    Interval run = point(0.0);
    bool stated = feeding_value(feed, PROP_FEED_RUN, 0, &run);
    Interval metres = interval_scale(run, 2.0);
    if (!is_known(size)) {
        const char *text = cable_text(sorts->arena, feed, "size not known");
        add_length(sorts_get(sorts, text, INFINITY), of, feed, stated, metres, feeding_parallel(feed));
        return;
    }
    Sort *sort = sorts_get(sorts, cable_text(sorts->arena, feed, figure_text(of->figures, size)), size->high);
    sort->chosen += size->chosen;
    add_length(sort, of, feed, stated, metres, feeding_parallel(feed));
}

static void add_ground(Sorts *sorts, const Case *of, const Feed *feed)
{
    Interval size;
    Str text = wires_ground(sorts->arena, of->model, feed);
    if (text.length > 0 && feeding_value(feed, PROP_FEED_GROUND, 0, &size)) {
        Interval run = point(0.0);
        bool stated = feeding_value(feed, PROP_FEED_RUN, 0, &run);
        add_length(sorts_get(sorts, text.text, size.high), of, feed, stated, run, point(1.0));
    }
}

static const char *feeds_word(uint32_t count)
{
    return count == 1 ? "feed" : "feeds";
}

/* Rounded up; a hair less, so that what is whole but for rounding is not. */
static Interval whole_lengths(const List *list, Interval length_m)
{
    double low = unit_from_si(list->length, length_m.low), high = unit_from_si(list->length, length_m.high);
    return (Interval){ceil(low * (1.0 - 1e-9)), ceil(high * (1.0 - 1e-9))};
}

static const char *length_word(const List *list)
{
    return list->length.unit == UNIT_FT ? "feet" : "metres";
}

static void list_cables(List *list, Sorts *sorts, const char *name, const char *what, const char *by)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        Buf title;
        buf_init(&title, sorts->arena);
        buf_format(&title, "%s, %s, in %s of %s", what, sort->text, length_word(list), by);
        if (sort->chosen > 0) {
            buf_format(&title, "; sized by Garboard for %u of %u %s", sort->chosen, sort->feeds,
                       feeds_word(sort->feeds));
        }
        if (sort->unstated > 0) {
            buf_format(&title, "; without %u %s whose run is not stated", sort->unstated,
                       feeds_word(sort->unstated));
        }
        add_material(list, sort, name, title.text, "cable", SYSTEM_POWER, whole_lengths(list, sort->count),
                     list->length);
    }
}

/* Terminals, fuses and breakers: by the piece */

static void add_pieces(Sorts *sorts, const Case *of, const Feed *feed, const char *text, double order, double pieces)
{
    Sort *sort = sorts_get(sorts, text, order);
    note_day(sort, of, feed->subject);
    sort->count = interval_add(sort->count, point(pieces));
}

static void add_terminals(Sorts *sorts, const Case *of, const Feed *feed)
{
    WireEnds ends[WIRE_ENDS_MOST];
    unsigned count = wires_end_sorts(sorts->arena, of->figures, feed, ends);
    for (unsigned i = 0; i < count; i++) {
        add_pieces(sorts, of, feed, ends[i].what, ends[i].area_m2, ends[i].count);
    }
}

static void add_stated_device(Sorts *sorts, const Case *of, const Feed *feed, const Property *protect)
{
    Buf text;
    buf_init(&text, sorts->arena);
    feeding_write_protection(&text, of->model, protect);
    const Value *rating = property_value(protect, 0);
    if (text.length > 0) {
        feeding_write_mains(&text, of->model, feed, false);
        double order = rating->kind == VALUE_QUANTITY ? rating->u.quantity.high : INFINITY;
        add_pieces(sorts, of, feed, text.text, order, 1.0);
    }
}

/* What a fuse that stands by itself is put in: one a device. */
static void add_holder(Sorts *sorts, const Case *of, const Feed *feed, const Property *protect)
{
    const Value *rating = property_value(protect, 0), *kind = property_value(protect, 1), *class = property_value(protect, 2);
    if (!wires_device_stands_alone(feed, protect) || kind->kind != VALUE_WORD || !str_is(kind->u.word, "fuse")) {
        return;
    }
    const Figure *chosen = protect == feed_property(feed, PROP_FEED_PROTECT) ? feeding_chosen_protection(of->figures, feed) : NULL;
    bool stated = rating->kind == VALUE_QUANTITY && !(rating->flags & (VALUE_HOLE | VALUE_BROKEN));
    if (chosen == NULL && !stated) {
        return;
    }
    Buf text;
    buf_init(&text, sorts->arena);
    buf_text(&text, "holder for a ");
    if (class->kind == VALUE_WORD) {
        buf_format(&text, "%.*s ", STR_ARG(class->u.word));
    }
    buf_text(&text, "fuse of ");
    if (chosen != NULL) {
        figure_write(&text, of->figures, chosen);
    } else {
        unit_print(&text, rating->unit, rating->u.quantity.low, rating->u.quantity.high);
    }
    add_pieces(sorts, of, feed, text.text, chosen != NULL ? chosen->high : rating->u.quantity.high, 1.0);
}

static void add_devices(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *chosen = feeding_chosen_protection(of->figures, feed);
    if (chosen != NULL) {
        const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
        const Value *kind = property_value(protect, 1), *class = property_value(protect, 2);
        const char *text = text_format(
            sorts->arena, "%s %.*s%s%.*s, %s chosen by Garboard", figure_text(of->figures, chosen),
            STR_ARG(chosen->device != NULL       ? str_from(chosen->device)
                    : kind->kind == VALUE_WORD ? kind->u.word
                                               : STR("fuse or breaker")),
            class->kind == VALUE_WORD ? " " : "", STR_ARG(class->kind == VALUE_WORD ? class->u.word : STR("")),
            chosen->device != NULL ? "class and rating" : "rating");
        add_pieces(sorts, of, feed, text, chosen->high, 1.0);
    } else {
        add_stated_device(sorts, of, feed, feed_property(feed, PROP_FEED_PROTECT));
    }
    add_holder(sorts, of, feed, feed_property(feed, PROP_FEED_PROTECT));
    if (feed_other_device(feed) != NULL) {
        add_stated_device(sorts, of, feed, feed_other_device(feed));
        add_holder(sorts, of, feed, feed_other_device(feed));
    }
}

static const UnitPair pieces = {UNIT_NONE, UNIT_NONE};

static void list_pieces(List *list, Sorts *sorts, const char *name)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        add_material(list, sort, name, sort->text, name, SYSTEM_POWER, sort->count, pieces);
    }
}

/* The cables from battery to battery: by the piece, for their length is that of what stands between two poles. */
static void add_links(Sorts *sorts, const Case *of, bool to_buy)
{
    for (const Entity *bank = of->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        BankLinks links;
        if (feeding_bank_links(of->figures, bank, &links) && !(to_buy && is_had(bank))) {
            const char *text = text_format(sorts->arena, "link between batteries, %s, a ring on each end",
                                           links.size != NULL ? figure_text(of->figures, links.size) : "size not known");
            Sort *sort = sorts_get(sorts, text, links.size != NULL ? links.size->high : INFINITY);
            note_day(sort, of, bank);
            sort->count = interval_add(sort->count, links.count);
        }
    }
}

static void list_wiring(List *list, const Case *of, bool to_buy)
{
    Sorts links = sorts_new(list->arena);
    Sorts cables = sorts_new(list->arena);
    Sorts mains = sorts_new(list->arena);
    Sorts grounds = sorts_new(list->arena);
    Sorts terminals = sorts_new(list->arena);
    Sorts devices = sorts_new(list->arena);
    for (uint32_t i = 0; i < of->model->feed_count; i++) {
        const Feed *feed = of->model->feeds[i];
        if (wires_is_listed(feed) && !(to_buy && is_had(feed->subject))) {
            if (feeding_is_alternating(feed)) {
                add_mains_cable(&mains, of, feed);
            } else {
                add_cable(&cables, of, feed);
                add_ground(&grounds, of, feed);
            }
            add_terminals(&terminals, of, feed);
            add_devices(&devices, of, feed);
        }
    }
    list_cables(list, &cables, "cable", "Cable", "single conductor");
    list_cables(list, &mains, "mains-cable", "Cable for mains, all conductors in one sheath", "cable");
    list_cables(list, &grounds, "grounding-cable", "Grounding (protective) conductor, green or green-yellow",
                "single conductor");
    add_links(&links, of, to_buy);
    list_pieces(list, &links, "battery");
    list_pieces(list, &terminals, "terminal");
    list_pieces(list, &devices, "protection");
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
static void add_of_tube(Sort *sort, const Case *of, const Entity *thing, PropId prop, unsigned slot, double times)
{
    Interval value, count;
    sort->feeds++;
    note_day(sort, of, thing);
    if (!entity_quantity(thing, prop, slot, &value)) {
        sort->unstated++;
        return;
    }
    Interval all = entity_quantity(thing, PROP_COMMON_COUNT, 0, &count) ? interval_multiply(value, count) : value;
    sort->count = interval_add(sort->count, interval_scale(all, times));
}

static const char *silent_words(const List *list, const Sort *sort, const char *one, const char *several)
{
    return sort->unstated == 0
               ? ""
               : text_format(list->arena, "; without %u %s that %s not say", sort->unstated,
                             sort->unstated == 1 ? one : several, sort->unstated == 1 ? "does" : "do");
}

/* What is usual at each end of a hose that does not say; common practice, no source. */
static const Interval clamps_an_end = {1.0, 2.0};

static void add_clamps(Sort *sort, const Case *of, const Entity *hose)
{
    uint32_t before = sort->unstated;
    add_of_tube(sort, of, hose, PROP_HOSE_CLAMPS, 0, 2.0);
    if (sort->unstated > before) {
        sort->count = interval_add(sort->count, interval_scale(interval_multiply(clamps_an_end, purchase_of(hose).count), 2.0));
    }
}

static void list_tubes(List *list, Sorts *sorts, const Tube *tube)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        const char *title = text_format(list->arena, "%s %s, in %s%s", tube->title, sort->text, length_word(list),
                                        silent_words(list, sort, tube->one, tube->several));
        add_material(list, sort, tube->name, title, "hose-by-the-metre", tube->system, whole_lengths(list, sort->count),
                     list->length);
    }
}

/* ---- Clamps, elbows and tails --------------------------------------------------------------------------- */

static void list_clamps(List *list, Sorts *sorts)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        const char *silent = sort->unstated == 0
                                 ? ""
                                 : text_format(list->arena, "; %u %s not say how many: one or two at each end", sort->unstated,
                                               sort->unstated == 1 ? "hose does" : "hoses do");
        const char *title = text_format(list->arena, "Hose clamps for a bore of %s%s", sort->text, silent);
        add_material(list, sort, "clamps", title, "clamp", SYSTEM_WATER, sort->count, pieces);
    }
}

/* By the piece; `chosen` counts the hoses whose `bends` is assumed. */
static void list_fittings(List *list, Sorts *sorts, const char *name, const char *what)
{
    sort_sorts(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        if (sort->count.high <= 0.0) {
            continue;
        }
        const char *assumed = sort->chosen == 0 ? ""
                                                : text_format(list->arena, "; assumed for %u of %u %s", sort->chosen,
                                                              sort->feeds, sort->feeds == 1 ? "hose" : "hoses");
        add_material(list, sort, name, text_format(list->arena, "%s for a bore of %s%s", what, sort->text, assumed),
                     "fitting", SYSTEM_WATER, sort->count, pieces);
    }
}

/* An elbow for each bend; an end of the hose that no elbow is left for has a straight tail. */
static void add_fittings(Sorts *elbows, Sorts *tails, const Case *of, const Entity *hose, const char *bore, double order)
{
    const Value *bends = property_value(model_property(of->model, hose, PROP_HOSE_BENDS), 0);
    Interval count = point(1.0);
    if (bends->kind != VALUE_QUANTITY || bends->flags & VALUE_BROKEN) {
        return;
    }
    entity_quantity(hose, PROP_COMMON_COUNT, 0, &count);
    Interval bent = {bends->u.quantity.low, bends->u.quantity.high};
    Interval straight = interval_max(point(0.0), interval_subtract(point(2.0), bent));
    Sorts *const lists[] = {elbows, tails};
    for (int i = 0; i < 2; i++) {
        Sort *sort = sorts_get(lists[i], bore, order);
        note_day(sort, of, hose);
        sort->feeds++;
        sort->chosen += !entity_states(hose, PROP_HOSE_BENDS);
        sort->count = interval_add(sort->count, interval_multiply(i == 0 ? bent : straight, count));
    }
}

/* A bilge pump's `outlet` says the same as a hose that leads from it. */
static bool is_told_by_hose(const Case *of, const Entity *thing)
{
    const Entity *hose = thing->kind == KIND_BILGE_PUMP ? first_aboard(of->model, KIND_HOSE) : NULL;
    while (hose != NULL && entity_reference(hose, PROP_HOSE_FROM) != thing) {
        hose = next_aboard(hose);
    }
    return hose != NULL;
}

static void list_hoses(List *list, const Case *of, bool to_buy)
{
    Arena *arena = list->arena;
    Sorts clamps = sorts_new(arena), elbows = sorts_new(arena), tails = sorts_new(arena);
    Interval bore;
    for (size_t i = 0; i < sizeof tubes / sizeof tubes[0]; i++) {
        const Tube *tube = &tubes[i];
        Sorts sorts = sorts_new(arena);
        for (const Entity *e = first_aboard(of->model, tube->kind); e != NULL; e = next_aboard(e)) {
            if (!entity_quantity(e, tube->bore, 0, &bore) || (to_buy && is_had(e)) || is_told_by_hose(of, e)) {
                continue;
            }
            add_of_tube(sorts_get(&sorts, bore_text(arena, of, e, tube, true), bore.high), of, e, tube->run,
                        tube->run_slot, waste);
            if (tube->kind == KIND_HOSE) {
                const char *text = bore_text(arena, of, e, tube, false);
                add_clamps(sorts_get(&clamps, text, bore.high), of, e);
                add_fittings(&elbows, &tails, of, e, text, bore.high);
            }
        }
        list_tubes(list, &sorts, tube);
    }
    list_clamps(list, &clamps);
    list_fittings(list, &elbows, "elbows", "Elbows of 90 degrees");
    list_fittings(list, &tails, "tails", "Straight hose tails");
}

Material *materials_of(Arena *arena, const Case *of, bool to_buy)
{
    List list = {.arena = arena,
                 .length = UNIT_ALONE(model_is_in_feet(of->model) ? UNIT_FT : UNIT_M)};
    list.end = &list.first;
    list_wiring(&list, of, to_buy);
    list_hoses(&list, of, to_buy);
    return list.first;
}
