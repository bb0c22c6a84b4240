/*
 * What ends every chapter of a system: what to set, what to service, spares, notes, and the findings on its
 * things.
 */
#include "output/book_chapters.h"

#include "output/bom_list.h"

#include <string.h>

void book_picture(Book *book, const char *start)
{
    for (size_t i = 0; i < book->picture_count; i++) {
        const BookFile *picture = &book->pictures[i];
        if (strncmp(picture->name, start, strlen(start)) == 0) {
            markdown_paragraph(&book->md);
            markdown_image(&book->md, str_from(picture->title), picture->name);
        }
    }
}

static bool is_aboard_in(const BookThing *thing, System system)
{
    return book_system(thing->entity) == system && !(thing->entity->flags & ENTITY_DROPPED);
}

/* Settings: what someone has to turn a screw or press a key for. */

typedef struct Setting {
    KindId kind;
    PropId prop;
    uint8_t slot;
    const char *what;
} Setting;

static const Setting settings[] = {
    {KIND_ALTERNATOR, PROP_ALTERNATOR_OUTPUT, 1, "charging voltage"},
    {KIND_CHARGER, PROP_CHARGER_OUTPUT, 1, "charging voltage"},
    {KIND_CHARGER, PROP_CHARGER_OUTPUT, 0, "most current"},
    {KIND_CONVERTER, PROP_CONVERTER_OUTPUT, 1, "output voltage"},
    {KIND_CONVERTER, PROP_CONVERTER_OUTPUT, 0, "most current"},
    {KIND_SOLAR, PROP_SOLAR_CHARGE_VOLTAGE, 0, "charging voltage of the controller"},
    {KIND_SOLAR, PROP_SOLAR_MAX_OUTPUT, 0, "most current of the controller"},
    {KIND_SOLAR, PROP_SOLAR_MAX_INPUT, 0, "most voltage that the controller stands, never to be exceeded"},
    {KIND_BANK, PROP_BANK_MAX_CHARGE, 0, "most charging current of one battery, for its chargers"},
    {KIND_INVERTER, PROP_INVERTER_OUTPUT, 0, "output voltage"},
    {KIND_PUMP, PROP_PUMP_CUT_IN, 0, "pressure switch, starts at"},
    {KIND_PUMP, PROP_PUMP_PRESSURE, 0, "pressure switch, stops at"},
    {KIND_WATER_HEATER, PROP_WATER_HEATER_SETTING, 0, "thermostat of the element"},
    {KIND_ENGINE, PROP_ENGINE_IDLE, 0, "idling speed"},
    {KIND_THRUSTER, PROP_THRUSTER_LONGEST_BURST, 0, "longest burst"},
};

static void settings_of(Book *book, const BookThing *thing, bool *begun)
{
    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
        const Setting *row = &settings[i];
        bool none = is_relay(thing->entity) || is_built_in(thing->entity); /* they have nothing to set */
        if (none || thing->entity->kind != row->kind || !entity_states(thing->entity, row->prop)) {
            continue;
        }
        if (!*begun) {
            markdown_heading(&book->md, 3, STR("Settings"), NULL);
            book_head(book, (const char *const[]){"Name", "What to set", ">To"}, 3);
            *begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, thing);
        book_cell(book, str_from(row->what));
        book_cell(book, book_value(book, thing->entity, row->prop, row->slot));
    }
}

void book_settings(Book *book, System system)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (is_aboard_in(t, system)) {
            settings_of(book, t, &begun);
        }
    }
}

/* Service and spares */

static bool same_service(const Book *book, const Model *model, const Property *a, const Model *other,
                         const Property *b)
{
    return str_equal(book_value_text(book, model, property_value(a, 0)),
                     book_value_text(book, other, property_value(b, 0))) &&
           str_equal(book_value_text(book, model, property_value(a, 1)),
                     book_value_text(book, other, property_value(b, 1)));
}

/* The same service may stand in several options: it is told once. */
static bool is_told(const Book *book, uint32_t number, const Entity *entity, const Property *service)
{
    const Outcome *outcome = book->outcome;
    for (uint32_t c = 0; c < number; c++) {
        const Entity *earlier = book_same_thing(&outcome->cases[c], entity);
        for (const Property *p = earlier != NULL ? entity_property(earlier, PROP_COMMON_SERVICE) : NULL;
             p != NULL; p = block_next(&earlier->block, p)) {
            if (same_service(book, outcome->cases[c].model, p, outcome->cases[number].model, service)) {
                return true;
            }
        }
    }
    return false;
}

static void service_row(Book *book, const BookThing *thing, const Case *in, const Property *service,
                        bool *begun)
{
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Service"), NULL);
        book_head(book, (const char *const[]){"Name", "What", ">Every", "What to do"}, 4);
        *begun = true;
    }
    markdown_row(&book->md);
    book_name_cell(book, thing);
    const Entity *here = book_same_thing(in, thing->entity);
    book_cell(book, here->title.length > 0 ? here->title : str_from(kinds[here->kind].word));
    book_cell(book, book_value_text(book, in->model, property_value(service, 0)));
    book_cell(book, book_value_text(book, in->model, property_value(service, 1)));
}

static void services_of(Book *book, const BookThing *thing, bool *begun)
{
    const Outcome *outcome = book->outcome;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Entity *here = book_same_thing(&outcome->cases[c], thing->entity);
        for (const Property *p = here != NULL ? entity_property(here, PROP_COMMON_SERVICE) : NULL; p != NULL;
             p = block_next(&here->block, p)) {
            if (!is_told(book, c, thing->entity, p)) {
                service_row(book, thing, &outcome->cases[c], p, begun);
            }
        }
    }
}

static void write_service(Book *book, System system)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (is_aboard_in(t, system) && book_is_physical(t->entity)) {
            services_of(book, t, &begun);
        }
    }
}

typedef struct OfSystem {
    System system;
    PropId prop;
    PropId or_prop;
} OfSystem;

static bool states(const Book *book, const BookThing *thing, const void *what)
{
    const OfSystem *of = what;
    (void)book;
    return is_aboard_in(thing, of->system) && book_is_physical(thing->entity) &&
           (entity_states(thing->entity, of->prop) || entity_states(thing->entity, of->or_prop));
}

static void write_spares(Book *book, System system)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        VALUE_COLUMN("Spares aboard", PROP_COMMON_SPARE),
        VALUE_COLUMN("No longer made", PROP_COMMON_DISCONTINUED),
    };
    OfSystem of = {system, PROP_COMMON_SPARE, PROP_COMMON_DISCONTINUED};
    book_table(book, "Spares", columns, sizeof columns / sizeof columns[0], states, &of);
}

/* What is to be carried in spare is told by what is fitted: also when nothing of it is bought any more. */
static void write_fuses(Book *book)
{
    const BomList *list = bom_list(book->arena, book->outcome, (BomRequest){.by = BOM_BY_SYSTEM});
    bool begun = false;
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            if (line->material == NULL || !material_is_fuse(line->material)) {
                continue;
            }
            if (!begun) {
                markdown_heading(&book->md, 3, STR("Fuses to carry in spare"), NULL);
                markdown_paragraph(&book->md);
                book_prose(book, "Of each class and rating one or two, and more of what no shop on the way has: common practice, no source. A "
                                 "fuse is renewed by one of its own class and rating, once what blew it is found and mended.");
                book_head(book, (const char *const[]){"Fuse", ">In her"}, 2);
                begun = true;
            }
            Buf count;
            buf_init(&count, book->arena);
            unit_print(&count, UNIT_ALONE(UNIT_NONE), line->pieces.low, line->pieces.high);
            markdown_row(&book->md);
            book_cell(book, str_from(line->material->title));
            book_cell(book, str_from(text_format(book->arena, "%s%s%s", count.text, line->only_with != NULL ? " with " : "",
                                                 line->only_with != NULL ? line->only_with : "")));
        }
    }
}

static void write_notes(Book *book, System system)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        VALUE_COLUMN("Note", PROP_COMMON_NOTE),
        VALUE_COLUMN("Papers", PROP_COMMON_LINK),
        VALUE_COLUMN("Serial number", PROP_COMMON_SERIAL),
    };
    OfSystem of = {system, PROP_COMMON_NOTE, PROP_COMMON_SERIAL};
    book_table(book, "Notes", columns, sizeof columns / sizeof columns[0], states, &of);
}

/* Findings on things of the system, as links */

/* What is said of the boat and of one of her things stands with that thing: a plotter that has no second is no matter of hull. */
static const Entity *stands_with(const Finding *finding)
{
    bool of_a_thing = finding->subject != NULL && finding->subject->kind == KIND_BOAT && finding->at != NULL;
    return of_a_thing ? finding->at : finding->subject;
}

static System chapter_of(const Finding *finding)
{
    const Entity *thing = stands_with(finding);
    return thing->kind == KIND_BOAT && finding->rule->chapter != SYSTEM_NONE ? finding->rule->chapter : book_system(thing);
}

static void write_findings(Book *book, System system)
{
    bool begun = false;
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        if (f->subject == NULL || f->by_boat || f->waiver != NULL || chapter_of(f) != system) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Findings here"), NULL);
            begun = true;
        }
        book_finding_item(book, f);
    }
}

void book_system_tail(Book *book, System system)
{
    if (system != SYSTEM_POWER) {
        book_settings(book, system); /* those of power stand with its wiring */
    }
    write_service(book, system);
    write_spares(book, system);
    if (system == SYSTEM_POWER) {
        write_fuses(book);
    }
    write_notes(book, system);
    write_findings(book, system);
}
