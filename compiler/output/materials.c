/* See materials.h. */
#include "output/materials.h"
#include "base/num.h"

#include "figures/power.h"
#include "model/status.h"
#include "output/feeding.h"
#include "output/material_sorts.h"
#include "output/wire_rows.h"
#include "output/wires.h"

#include <math.h>
#include <string.h>

/* For whom */

bool material_is_below(const Entity *entity)
{
    return material_is_thing(entity) || entity_states(entity, PROP_ANCHOR_CHAIN) || entity_states(entity, PROP_ANCHOR_ROPE);
}

/* Cable */

bool material_is_fuse(const Material *material)
{
    return strcmp(material->kind, "protection") == 0 && strstr(material->title, "fuse") != NULL && strstr(material->title, "holder") == NULL;
}

/* Metres of it, for so many ways side by side; not stated where its run is not. */
static void add_length(Sort *sort, const Case *of, const Entity *subject, bool stated, Interval metres, Interval ways)
{
    sort->feeds++;
    note_day(sort, of, subject);
    if (!stated) {
        sort->unstated++;
        return;
    }
    sort->count = interval_add(sort->count, interval_multiply(interval_scale(metres, MATERIAL_WASTE), ways));
}

/* A size with what heat its insulation stands, by which it was judged: cable of the same size that stands less is another one. */
static const char *insulated_text(Arena *arena, const char *size, double insulation_c, bool stated)
{
    return text_format(arena, "%s, insulation %s C%s", size, num_text_fixed(arena, insulation_c, 0), stated ? "" : " assumed");
}

static const char *cable_text(Arena *arena, const Feed *feed, const char *size)
{
    Interval insulation;
    bool stated = feeding_value(feed, PROP_FEED_WIRE, 2, &insulation);
    return insulated_text(arena, size, feed_insulation_celsius(feed), stated);
}

/* Of mains the conductors lie in one sheath, their ground among them: by the metre of cable. */
static void add_mains_cable(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    Str ground = wires_ground(sorts->arena, of->model, feed);
    const char *text = figure_is_known(size) ? text_format(sorts->arena, "2 x %s and %s%.*s", figure_text(of->figures, size),
                                                    ground.length > 0 ? "ground " : "a ground that is not stated", STR_ARG(ground))
                                      : "size not known";
    Sort *sort = sorts_get(sorts, cable_text(sorts->arena, feed, text), figure_is_known(size) ? size->high : INFINITY);
    Interval run = point(0.0);
    bool stated = feeding_value(feed, PROP_FEED_RUN, 0, &run);
    sort->chosen += figure_is_known(size) && size->chosen;
    add_length(sort, of, feed->subject, stated, run, feeding_parallel(feed));
}

static void add_cable(Sorts *sorts, const Case *of, const Feed *feed)
{
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    Interval run = point(0.0);
    bool stated = feeding_value(feed, PROP_FEED_RUN, 0, &run);
    Interval metres = interval_scale(run, 2.0);
    if (!figure_is_known(size)) {
        const char *text = cable_text(sorts->arena, feed, "size not known");
        add_length(sorts_get(sorts, text, INFINITY), of, feed->subject, stated, metres, feeding_parallel(feed));
        return;
    }
    Sort *sort = sorts_get(sorts, cable_text(sorts->arena, feed, figure_text(of->figures, size)), size->high);
    sort->chosen += size->chosen;
    add_length(sort, of, feed->subject, stated, metres, feeding_parallel(feed));
}

static void add_ground(Sorts *sorts, const Case *of, const Feed *feed)
{
    Interval size;
    Str text = wires_ground(sorts->arena, of->model, feed);
    if (text.length > 0 && feeding_value(feed, PROP_FEED_GROUND, 0, &size)) {
        Interval run = point(0.0);
        bool stated = feeding_value(feed, PROP_FEED_RUN, 0, &run);
        add_length(sorts_get(sorts, text.text, size.high), of, feed->subject, stated, run, point(1.0));
    }
}

static const char *feeds_word(uint32_t count)
{
    return count == 1 ? "feed" : "feeds";
}

static void list_cables(List *list, Sorts *sorts, const char *name, const char *what, const char *by)
{
    sorts_put_in_order(sorts);
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
        add_material(list, sort, name,
                     (Material){.title = title.text, .kind = "cable", .system = SYSTEM_POWER,
                                .count = whole_lengths(list, sort->count), .length = list->length});
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
        if (ends[i].measure) {
            continue; /* no ring can be bought before its hole is known: told under what is not in the list */
        }
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

/* What opens at leakage and at nothing else: as large as what stands before it, which alone guards it from too much current. */
static void add_leakage_device(Sorts *sorts, const Case *of, const Feed *feed)
{
    Buf text;
    Interval rated;
    if (!feeding_opens_at_leakage(feed) || feed_property(feed, PROP_FEED_PROTECT) != NULL) {
        return;
    }
    buf_init(&text, sorts->arena);
    buf_text(&text, "leakage device");
    feeding_write_mains(&text, of->model, feed, false);
    const Figure *guard = feed->guard != NULL ? feeding_figure(of->figures, feed->guard, FIGURE_PROTECTION) : NULL;
    if (figure_is_known(guard)) {
        buf_format(&text, ", for %s at least", figure_text(of->figures, guard));
    } else if (feed->taker->kind == KIND_PANEL && entity_quantity(feed->taker, PROP_PANEL_RATED, 0, &rated)) {
        buf_text(&text, ", for ");
        unit_print(&text, UNIT_ALONE(UNIT_A), rated.low, rated.high);
        buf_text(&text, " at least");
    }
    add_pieces(sorts, of, feed, text.text, 0.0, 1.0);
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
    add_leakage_device(sorts, of, feed);
    add_holder(sorts, of, feed, feed_property(feed, PROP_FEED_PROTECT));
    if (feed_other_device(feed) != NULL) {
        add_stated_device(sorts, of, feed, feed_other_device(feed));
        add_holder(sorts, of, feed, feed_other_device(feed));
    }
}

static void list_pieces(List *list, Sorts *sorts, const char *name)
{
    sorts_put_in_order(sorts);
    for (size_t i = 0; i < sorts->count; i++) {
        const Sort *sort = &sorts->list[i];
        add_material(list, sort, name,
                     (Material){.title = sort->text, .kind = name, .system = SYSTEM_POWER, .count = sort->count, .length = MATERIAL_PIECES});
    }
}

static void add_counted(Sorts *sorts, const Case *of, const Entity *thing, const char *text, double order,
                        Interval count)
{
    Sort *sort = sorts_get(sorts, text, order);
    note_day(sort, of, thing);
    sort->count = interval_add(sort->count, count);
}

/* The cables from battery to battery: by the piece, for their length is that of what stands between two poles. */
static void add_links(Sorts *sorts, const Case *of, bool to_buy)
{
    for (const Entity *bank = of->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        BankLinks links;
        if (feeding_bank_links(of->figures, bank, &links) && !(to_buy && is_had(bank))) {
            const char *text = text_format(sorts->arena, "link between batteries, %s, a ring on each end",
                                           links.size != NULL ? figure_text(of->figures, links.size) : "size not known");
            add_counted(sorts, of, bank, text, links.size != NULL ? links.size->high : INFINITY, links.count);
        }
    }
}

/* The fuse at each battery of a bank, and what it stands in: `protect` of a cable says nothing of it. */
static void add_battery_fuses(Sorts *sorts, const Case *of, bool to_buy)
{
    for (const Entity *bank = of->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        Interval count;
        const Property *fuse = to_buy && is_had(bank) ? NULL : feeding_battery_fuse(bank, &count);
        if (fuse == NULL) {
            continue;
        }
        const Value *rating = property_value(fuse, 0), *breaks = property_value(fuse, 1);
        double order = rating->flags & VALUE_HOLE ? INFINITY : rating->u.quantity.high;
        Buf text;
        buf_init(&text, sorts->arena);
        feeding_write_battery_fuse(&text, of->model, fuse);
        const char *holder = text_format(sorts->arena, "holder at a battery for a %s", text.text);
        buf_text(&text, " at a battery");
        if (breaks->kind == VALUE_QUANTITY) {
            buf_text(&text, ", interrupts ");
            quantity_write(&text, of->model, breaks);
        }
        add_counted(sorts, of, bank, text.text, order, count);
        add_counted(sorts, of, bank, holder, order, count);
    }
}

/* From the panels of an array to its controller, and a fuse in each string. */
static void add_panels(Sorts *cables, Sorts *fuses, const Case *of, const Entity *array)
{
    const Property *wire = entity_property(array, PROP_SOLAR_PANEL_WIRE), *run = entity_property(array, PROP_SOLAR_PANEL_RUN);
    const Property *fuse = entity_property(array, PROP_SOLAR_STRING_FUSE);
    const Value *size = property_value(wire, 0), *metres = property_value(run, 0), *heat = property_value(wire, 1);
    const Figure *strings = figure_find(of->figures, array, FIGURE_STRING_COUNT, NULL);
    if (panel_cable_is_stated(array)) {
        bool known = size->kind == VALUE_QUANTITY && !(size->flags & (VALUE_HOLE | VALUE_BROKEN));
        Buf text;
        buf_init(&text, cables->arena);
        if (known) {
            quantity_write(&text, of->model, size);
        } else {
            buf_text(&text, "size not known");
        }
        const char *cable = insulated_text(cables->arena, text.text, insulation_celsius(heat), heat->kind == VALUE_QUANTITY);
        Sort *sort = sorts_get(cables, cable, known ? size->u.quantity.high : INFINITY);
        bool way = metres->kind == VALUE_QUANTITY && !(run->flags & PROPERTY_BROKEN);
        Interval length = way ? (Interval){2.0 * metres->u.quantity.low, 2.0 * metres->u.quantity.high} : point(0.0);
        add_length(sort, of, array, way, length, point(1.0));
    }
    if (fuse != NULL && !(fuse->flags & PROPERTY_BROKEN) && figure_is_known(strings)) {
        Buf text;
        buf_init(&text, fuses->arena);
        quantity_write(&text, of->model, property_value(fuse, 0));
        double order = property_value(fuse, 0)->u.quantity.high;
        Interval count = {strings->low, strings->high};
        const char *made = "a string of panels, made for their voltage";
        add_counted(fuses, of, array, text_format(fuses->arena, "%s fuse for %s", text.text, made), order, count);
        add_counted(fuses, of, array, text_format(fuses->arena, "holder for a fuse of %s in %s", text.text, made), order,
                    count);
    }
}

static void list_panels(List *list, const Case *of, bool to_buy)
{
    Sorts cables = sorts_new(list->arena), fuses = sorts_new(list->arena);
    for (const Entity *e = of->model->first_of_kind[KIND_SOLAR]; e != NULL; e = e->next_of_kind) {
        if (!(e->flags & (ENTITY_DROPPED | ENTITY_BROKEN)) && !(to_buy && is_had(e))) {
            add_panels(&cables, &fuses, of, e);
        }
    }
    list_cables(list, &cables, "panel-cable", "Cable from solar panels, that stands sun and water", "single conductor");
    list_pieces(list, &fuses, "protection");
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
    add_battery_fuses(&devices, of, to_buy);
    list_cables(list, &cables, "cable", "Cable", "single conductor");
    list_cables(list, &mains, "mains-cable", "Cable for mains, all conductors in one sheath", "cable");
    list_cables(list, &grounds, "grounding-cable", "Grounding (protective) conductor, green or green-yellow",
                "single conductor");
    add_links(&links, of, to_buy);
    list_pieces(list, &links, "battery");
    list_pieces(list, &terminals, "terminal");
    list_pieces(list, &devices, "protection");
    list_panels(list, of, to_buy);
}

Material *materials_of(Arena *arena, const Case *of, bool to_buy)
{
    List list = {.arena = arena,
                 .length = UNIT_ALONE(model_is_in_feet(of->model) ? UNIT_FT : UNIT_M)};
    list.end = &list.first;
    list_wiring(&list, of, to_buy);
    list_hoses(&list, of, to_buy);
    list_anchor_lines(&list, of, to_buy);
    return list.first;
}
