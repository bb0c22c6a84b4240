/*
 * Hose, fuel line and exhaust by the metre, and what they are held and turned with: clamps, elbows, tails. See material_sorts.h.
 */
#include "output/material_sorts.h"

#include "figures/inches.h"
#include "figures/plumbing.h"
#include "figures/water.h"
#include "model/status.h"

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

/* "13 mm, for water"; of a fuel line "8 mm, A1". By text a sort is found and named; shown is what the trade calls it. */
static const char *bore_text(Arena *arena, const Case *of, const Entity *thing, const Tube *tube, bool with_grade, bool shown)
{
    Buf text;
    Str grade = tube->grade != PROP_NONE ? entity_word(thing, tube->grade) : STR("");
    const Value *bore = property_value(entity_property(thing, tube->bore), 0);
    buf_init(&text, arena);
    if (shown) {
        size_write(&text, of->model, tube->bore, 0, bore);
    } else {
        quantity_write(&text, of->model, bore);
    }
    if (with_grade && grade.length > 0) {
        buf_format(&text, tube->kind == KIND_HOSE ? ", for %.*s" : ", %.*s", STR_ARG(grade));
        buf_text(&text, shown && is_gas_hose(thing) ? ", with the end fittings made on it" : "");
    }
    return text.text;
}

static Sort *sort_of_bore(Sorts *sorts, const Case *of, const Entity *thing, const Tube *tube, bool with_grade)
{
    Interval bore = point(0.0);
    entity_quantity(thing, tube->bore, 0, &bore);
    Sort *sort = sorts_get(sorts, bore_text(sorts->arena, of, thing, tube, with_grade, false), bore.high);
    sort->shown = bore_text(sorts->arena, of, thing, tube, with_grade, true);
    sort->climate = with_grade && is_gas_hose(thing);
    return sort;
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

/* By Entity.index of a hose: its ends. A loop or a strainer that sits in it cuts it; one that hoses lead to is told by those. */
static const double *count_ends(Arena *arena, const Model *model)
{
    static const struct {
        KindId kind;
        PropId on;
    } cutters[] = {{KIND_VENT_LOOP, PROP_VENT_LOOP_ON}, {KIND_STRAINER, PROP_STRAINER_ON}};
    double *ends = ARENA_ARRAY(arena, double, model->entity_count + 1);
    const bool *joined = joined_by_hoses(arena, model);
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        ends[hose->index] = 2.0;
    }
    for (size_t i = 0; i < sizeof cutters / sizeof cutters[0]; i++) {
        for (const Entity *e = first_aboard(model, cutters[i].kind); e != NULL; e = next_aboard(e)) {
            const Entity *hose = entity_reference(e, cutters[i].on);
            if (hose != NULL && !joined[e->index]) {
                ends[hose->index] += 2.0;
            }
        }
    }
    return ends;
}

static void add_clamps(Sort *sort, const Case *of, const Entity *hose, double ends)
{
    uint32_t before = sort->unstated;
    add_of_tube(sort, of, hose, PROP_HOSE_CLAMPS, 0, ends);
    if (sort->unstated > before) {
        sort->count = interval_add(sort->count, interval_scale(interval_multiply(clamps_an_end, purchase_of(hose).count), ends));
    }
}

/* Of what has no word for its clamps: a line of metal has none, and pipe of a dry exhaust neither. */
static bool is_clamped(const Entity *thing)
{
    Str grade = entity_word(thing, PROP_FUEL_LINE_GRADE);
    return thing->kind == KIND_FUEL_LINE ? grade.length > 0 && !str_is(grade, "metal")
           : thing->kind == KIND_EXHAUST ? entity_yes(thing, PROP_EXHAUST_WET) != 0
                                         : thing->kind == KIND_BILGE_PUMP;
}

static void add_usual_clamps(Sort *sort, const Case *of, const Entity *thing)
{
    sort->feeds++;
    sort->unstated++;
    note_day(sort, of, thing);
    sort->count = interval_add(sort->count, interval_scale(interval_multiply(clamps_an_end, purchase_of(thing).count), 2.0));
}

/* The clamps of a through-hull's own hose, where no hose of the spec leads to or from it: a hose tells of both its ends. */
static void add_clamps_of_hulls(List *list, Sorts *clamps, const Case *of, bool to_buy)
{
    static const Tube fitting = {.kind = KIND_THROUGH_HULL, .bore = PROP_THROUGH_HULL_BORE, .grade = PROP_NONE};
    const bool *joined = joined_by_hoses(list->arena, of->model);
    Interval bore, stated;
    for (const Entity *e = first_aboard(of->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (!joined[e->index] && !(to_buy && is_had(e)) && entity_quantity(e, PROP_THROUGH_HULL_BORE, 0, &bore) &&
            entity_quantity(e, PROP_THROUGH_HULL_CLAMPS, 0, &stated) && stated.high > 0.0) {
            add_of_tube(sort_of_bore(clamps, of, e, &fitting, false), of, e, PROP_THROUGH_HULL_CLAMPS, 0,
                        1.0);
        }
    }
}

bool *joined_by_hoses(Arena *arena, const Model *model)
{
    bool *joined = ARENA_ARRAY(arena, bool, model->entity_count + 1);
    for (const Entity *hose = first_aboard(model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *ends[] = {entity_reference(hose, PROP_HOSE_FROM), entity_reference(hose, PROP_HOSE_TO)};
        for (int i = 0; i < 2; i++) {
            if (ends[i] != NULL) {
                joined[ends[i]->index] = true;
            }
        }
    }
    return joined;
}

static void list_tubes(List *list, Sorts *sorts, const Tube *tube)
{
    sorts_put_in_order(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        const char *title = text_format(list->arena, "%s %s, in %s%s", tube->title, sort->shown, length_word(list),
                                        silent_words(list, sort, tube->one, tube->several));
        add_material(list, sort, tube->name,
                     (Material){.title = title, .kind = "hose-by-the-metre", .system = sort->climate ? SYSTEM_CLIMATE : tube->system,
                                .count = whole_lengths(list, sort->count), .length = list->length});
    }
}

/* ---- Clamps, elbows and tails --------------------------------------------------------------------------- */

static void list_clamps(List *list, Sorts *sorts)
{
    sorts_put_in_order(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        const char *silent = sort->unstated == 0
                                 ? ""
                                 : text_format(list->arena, "; %u %s not say how many: one or two at each end", sort->unstated,
                                               sort->unstated == 1 ? "hose does" : "hoses do");
        const char *title = text_format(list->arena, "Hose clamps for a bore of %s%s", sort->shown, silent);
        add_material(list, sort, "clamps",
                     (Material){.title = title, .kind = "clamp", .system = SYSTEM_WATER, .count = sort->count, .length = MATERIAL_PIECES});
    }
}

/* By the piece; `chosen` counts the hoses whose `bends` is assumed. */
static void list_fittings(List *list, Sorts *sorts, const char *name, const char *what)
{
    sorts_put_in_order(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        if (sort->count.high <= 0.0) {
            continue;
        }
        const char *assumed = sort->chosen == 0 ? ""
                                                : text_format(list->arena, "; assumed for %u of %u %s", sort->chosen,
                                                              sort->feeds, sort->feeds == 1 ? "hose" : "hoses");
        const char *title = text_format(list->arena, "%s for a bore of %s%s", what, sort->shown, assumed);
        add_material(list, sort, name,
                     (Material){.title = title, .kind = "fitting", .system = SYSTEM_WATER, .count = sort->count, .length = MATERIAL_PIECES});
    }
}

/* An elbow for each bend; an end of the hose that no elbow is left for has a straight tail. */
static void add_fittings(Sorts *elbows, Sorts *tails, const Case *of, const Entity *hose, const Tube *tube)
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
        Sort *sort = sort_of_bore(lists[i], of, hose, tube, false);
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

void list_hoses(List *list, const Case *of, bool to_buy)
{
    Arena *arena = list->arena;
    Sorts clamps = sorts_new(arena), elbows = sorts_new(arena), tails = sorts_new(arena);
    const double *ends = count_ends(arena, of->model);
    Interval bore;
    for (size_t i = 0; i < sizeof tubes / sizeof tubes[0]; i++) {
        const Tube *tube = &tubes[i];
        Sorts sorts = sorts_new(arena);
        for (const Entity *e = first_aboard(of->model, tube->kind); e != NULL; e = next_aboard(e)) {
            if (!entity_quantity(e, tube->bore, 0, &bore) || (to_buy && is_had(e)) || is_told_by_hose(of, e)) {
                continue;
            }
            add_of_tube(sort_of_bore(&sorts, of, e, tube, true), of, e, tube->run,
                        tube->run_slot, MATERIAL_WASTE);
            if (tube->kind == KIND_HOSE) {
                if (!is_gas_hose(e)) { /* which is bought with its end fittings on: see the rule gas-line */
                    add_clamps(sort_of_bore(&clamps, of, e, tube, false), of, e, ends[e->index]);
                    add_fittings(&elbows, &tails, of, e, tube);
                }
            } else if (is_clamped(e)) {
                add_usual_clamps(sort_of_bore(&clamps, of, e, tube, false), of, e);
            }
        }
        list_tubes(list, &sorts, tube);
    }
    add_clamps_of_hulls(list, &clamps, of, to_buy);
    list_clamps(list, &clamps);
    list_fittings(list, &elbows, "elbows", "Elbows of 90 degrees");
    list_fittings(list, &tails, "tails", "Straight hose tails");
}
