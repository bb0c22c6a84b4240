/*
 * The chapter of electric power: first what a person wires from (pictures, panel schedules, wire lists, settings; mains with
 * a caution of their own), then banks, sources and currents. The energy of days and cruises is in book_energy.c.
 */
#include "output/book_chapters.h"

#include "output/book_wire.h"
#include "output/feeding.h"

#include <string.h>

static bool is_kind(const Book *book, const BookThing *thing, const void *what)
{
    (void)book;
    return thing->entity->kind == *(const KindId *)what && !(thing->entity->flags & ENTITY_DROPPED);
}

typedef struct PowerTable {
    const char *heading;
    KindId kind;
    const BookColumn *columns;
    size_t count;
} PowerTable;
#define POWER_TABLE(HEADING, KIND, COLUMNS)                            \
    {                                                                  \
        HEADING, KIND, COLUMNS, sizeof(COLUMNS) / sizeof((COLUMNS)[0]) \
    }

static const BookColumn bank_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Chemistry", PROP_BANK_CHEMISTRY),
    VALUE_COLUMN("Each", PROP_BANK_VOLTAGE),
    VALUE_COLUMN("Capacity of each", PROP_BANK_CAPACITY),
    VALUE_COLUMN("In series", PROP_BANK_SERIES),
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    FIGURE_COLUMN("Whole bank", FIGURE_CAPACITY),
    FIGURE_COLUMN("Usable", FIGURE_USABLE_ENERGY),
    FIGURE_COLUMN("Most taken at once", FIGURE_DISCHARGE_CURRENT),
    FIGURE_COLUMN("Most charge at once", FIGURE_CHARGE_CURRENT),
    FIGURE_COLUMN("Short circuit", FIGURE_SHORT_CIRCUIT),
};
static const BookColumn bank_safety_columns[] = {
    NAME_COLUMN,
    VALUE_COLUMN("Management", PROP_BANK_MANAGEMENT),
    VALUE_COLUMN("Warns first", PROP_BANK_WARNS),
    VALUE_COLUMN("Blocks cold charging", PROP_BANK_COLD_CUTOFF),
    VALUE_COLUMN("Disconnects", PROP_BANK_DISCONNECT),
    VALUE_COLUMN("Fuse at each", PROP_BANK_BATTERY_FUSE),
    VALUE_COLUMN("Held down", PROP_BANK_RESTRAINED),
    VALUE_COLUMN("Terminals covered", PROP_BANK_TERMINALS_COVERED),
    VALUE_COLUMN("Vented outside", PROP_BANK_VENTED_OUTSIDE),
    VALUE_COLUMN("Stands in", PROP_COMMON_SPACE),
};
static const BookColumn alternator_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Engine", PROP_ALTERNATOR_ENGINE),
    VALUE_COLUMN("Driven by", PROP_ALTERNATOR_DRIVEN_BY),
    PROPERTY_COLUMN("Output, cold", PROP_ALTERNATOR_OUTPUT),
    VALUE_COLUMN("Left when hot", PROP_ALTERNATOR_HOT_OUTPUT),
    VALUE_COLUMN("Pulley ratio", PROP_ALTERNATOR_PULLEY_RATIO),
    VALUE_COLUMN("Regulator", PROP_ALTERNATOR_REGULATOR),
    VALUE_COLUMN("Load dump", PROP_ALTERNATOR_LOAD_DUMP),
    VALUE_COLUMN("Belts", PROP_ALTERNATOR_BELTS),
};
static const BookColumn solar_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Each", PROP_SOLAR_RATED),
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("In series", PROP_SOLAR_SERIES),
    VALUE_COLUMN("Open circuit", PROP_SOLAR_OPEN_CIRCUIT),
    VALUE_COLUMN("Shading", PROP_SOLAR_SHADING),
    VALUE_COLUMN("Controller", PROP_SOLAR_CONTROLLER),
    VALUE_COLUMN("Most input", PROP_SOLAR_MAX_INPUT),
    VALUE_COLUMN("Most output", PROP_SOLAR_MAX_OUTPUT),
};
static const BookColumn panel_cable_columns[] = {
    NAME_COLUMN,
    PROPERTY_COLUMN("Cable", PROP_SOLAR_PANEL_WIRE),
    VALUE_COLUMN("Run", PROP_SOLAR_PANEL_RUN),
    FIGURE_COLUMN("Panels can drive", FIGURE_ARRAY_CURRENT),
    FIGURE_COLUMN("It can carry", FIGURE_PANEL_AMPACITY),
    FIGURE_COLUMN("Drop in full sun", FIGURE_PANEL_DROP),
    FIGURE_COLUMN("Strings", FIGURE_STRING_COUNT),
    VALUE_COLUMN("Fuse in each string", PROP_SOLAR_STRING_FUSE),
    VALUE_COLUMN("Largest that a panel bears", PROP_SOLAR_LARGEST_FUSE),
};
static const BookColumn charger_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Output", PROP_CHARGER_OUTPUT),
    VALUE_COLUMN("Efficiency", PROP_CHARGER_EFFICIENCY),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn converter_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Output", PROP_CONVERTER_OUTPUT),
    VALUE_COLUMN("Efficiency", PROP_CONVERTER_EFFICIENCY),
    VALUE_COLUMN("Relay", PROP_CONVERTER_RELAY),
    VALUE_COLUMN("Isolated", PROP_CONVERTER_ISOLATED),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn inverter_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Power", PROP_INVERTER_RATED),
    VALUE_COLUMN("Surge", PROP_INVERTER_SURGE),
    FIGURE_COLUMN("Asked at once by what is in the spec", FIGURE_DEMAND),
    FIGURE_COLUMN("Share of it", FIGURE_SHARE),
    VALUE_COLUMN("Output", PROP_INVERTER_OUTPUT),
    VALUE_COLUMN("Frequency", PROP_INVERTER_FREQUENCY),
    VALUE_COLUMN("Idle", PROP_INVERTER_IDLE),
    VALUE_COLUMN("Joins neutral and ground", PROP_INVERTER_BONDS_NEUTRAL),
    VALUE_COLUMN("Bonded", PROP_INVERTER_BONDED),
    PROPERTY_COLUMN("Own transfer switch", PROP_INVERTER_TRANSFER),
    VALUE_COLUMN("Passes", PROP_INVERTER_PASSES),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn inlet_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Rated", PROP_INLET_RATED),
    VALUE_COLUMN("Frequency", PROP_INLET_FREQUENCY),
    FIGURE_COLUMN("Demand of what is in the spec", FIGURE_DEMAND),
    FIGURE_COLUMN("Share of it", FIGURE_SHARE),
    FIGURE_COLUMN("Load calculation", FIGURE_LOAD_CALCULATION),
    VALUE_COLUMN("Opens at leakage", PROP_FEED_GROUND_FAULT),
    VALUE_COLUMN("Poles", PROP_FEED_POLES),
    VALUE_COLUMN("Isolation", PROP_INLET_ISOLATION),
    VALUE_COLUMN("Polarity light", PROP_INLET_POLARITY_INDICATOR),
    VALUE_COLUMN("Bonded", PROP_INLET_BONDED),
};
static const BookColumn generator_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Rated", PROP_GENERATOR_RATED),
    VALUE_COLUMN("Frequency", PROP_GENERATOR_FREQUENCY),
    FIGURE_COLUMN("Asked at once by what is in the spec", FIGURE_DEMAND),
    FIGURE_COLUMN("Share of it", FIGURE_SHARE),
    VALUE_COLUMN("Fuel", PROP_GENERATOR_FUEL_RATE),
    VALUE_COLUMN("Exhaust", PROP_GENERATOR_EXHAUST),
    VALUE_COLUMN("Joins neutral and ground", PROP_GENERATOR_BONDS_NEUTRAL),
};
static const PowerTable dc_tables[] = {
    POWER_TABLE("Alternators", KIND_ALTERNATOR, alternator_columns),
    POWER_TABLE("Solar panels", KIND_SOLAR, solar_columns),
    POWER_TABLE("Chargers", KIND_CHARGER, charger_columns),
    POWER_TABLE("Converters", KIND_CONVERTER, converter_columns),
};
static const PowerTable ac_tables[] = {
    POWER_TABLE("Inlets", KIND_INLET, inlet_columns),
    POWER_TABLE("Generators", KIND_GENERATOR, generator_columns),
    POWER_TABLE("Inverters", KIND_INVERTER, inverter_columns),
};

static bool write_tables(Book *book, const PowerTable tables[], size_t count)
{
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        any = book_table(book, tables[i].heading, tables[i].columns, tables[i].count, is_kind,
                         &tables[i].kind) ||
              any;
    }
    return any;
}

static void write_banks(Book *book)
{
    static const KindId bank = KIND_BANK;
    if (!book_table(book, "Banks", bank_columns, sizeof bank_columns / sizeof bank_columns[0], is_kind,
                    &bank)) {
        return;
    }
    book_caution(
        book,
        "A battery cannot be switched off. A tool across its posts melts; lead batteries give off hydrogen"
        " while they charge; lithium cells burn when they are abused. Disconnect, cover the posts, wear eye"
        " protection. What is said about restraint, covers and ventilation is what the spec says.");
    book_table(book, NULL, bank_safety_columns, sizeof bank_safety_columns / sizeof bank_safety_columns[0],
               is_kind, &bank);
}

/* Alternating current */

static void find_wire(Book *book, const BookWire *wire, void *context)
{
    (void)book, (void)wire;
    *(bool *)context = true;
}

static bool has_ac(Book *book)
{
    bool any = false;
    book_each_wire(book, true, find_wire, &any);
    for (const BookThing *t = book->things; t != NULL && !any; t = t->next) {
        any = t->entity->kind == KIND_INLET || t->entity->kind == KIND_GENERATOR ||
              t->entity->kind == KIND_INVERTER;
    }
    return any;
}

static void write_mains(Book *book)
{
    markdown_heading(&book->md, 3, STR("Mains: alternating current"), NULL);
    if (!has_ac(book)) {
        book_say(book, "There is no alternating current aboard.");
        return;
    }
    book_caution(
        book,
        "Mains kill, and in a wet boat sooner. Local codes apply; a licensed person does this work and signs"
        " for it where the law says so. Unplug the shore cable, stop the generator and isolate the inverter"
        " before any cover comes off, and prove that it is dead.");
    book_picture(book, "img/power-ac");
    book_mains_sources(book);
    book_panels(book, true);
    book_wire_list(book, true);
    book_mains_tests(book);
}

static bool has_panel_cable(const Book *book, const BookThing *thing, const void *what)
{
    (void)book;
    (void)what;
    const Entity *array = thing->entity;
    return array->kind == KIND_SOLAR && (panel_cable_is_stated(array) || entity_states(array, PROP_SOLAR_STRING_FUSE));
}

/* They bring nothing to anything but the array's own controller: no row of the wire list. */
static void write_panel_cables(Book *book)
{
    book_table(book, "Cables from panels to their controllers", panel_cable_columns,
               sizeof panel_cable_columns / sizeof panel_cable_columns[0], has_panel_cable, NULL);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_SOLAR && !(t->entity->flags & ENTITY_DROPPED) && !panel_cable_is_stated(t->entity)) {
            markdown_paragraph(&book->md);
            book_prose(book, text_format(book->arena,
                                         "Not in the list: the cable from the panels of `%.*s` to its controller, for the spec states "
                                         "neither `panel-run` nor `panel-wire`.",
                                         STR_ARG(book_name(book, t->entity))));
        }
    }
}

/* What a person wires from: pictures, schedules, lists, settings. */
static void write_wiring(Book *book)
{
    book_caution(
        book,
        "Before you touch a cable, take it off its source, and put nothing metal where it can bridge two poles."
        " Fit protection before the cable that it guards is connected. These pages say what the spec says, not"
        " that it is safe.");
    book_picture(book, "img/power-dc");
    book_say(book, "The pictures of wiring fit an upright A4 page. The others of this book are sheets for A4 on its side: print each by "
                   "itself, for made as wide as an upright page their small words are little more than 1 mm high.");
    book_panels(book, false);
    book_wire_list(book, false);
    write_panel_cables(book);
    write_mains(book);
    book_settings(book, SYSTEM_POWER);
}

/* What makes, stores and uses it, and how that was reckoned. */
static void write_sources(Book *book)
{
    write_banks(book);
    write_tables(book, dc_tables, sizeof dc_tables / sizeof dc_tables[0]);
    write_tables(book, ac_tables, sizeof ac_tables / sizeof ac_tables[0]);
    book_mains_outlets(book);
    book_wire_currents(book, false);
    book_wire_currents(book, true);
    book_energy(book);
}

static bool has_power(Book *book)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (book_system(t->entity) == SYSTEM_POWER || t->entity->fed != NULL || t->entity->gives != NULL) {
            return true;
        }
    }
    return false;
}

void book_power(Book *book)
{
    if (!has_power(book)) {
        book_say(book, "The spec has nothing that makes, stores or uses electric power.");
        return;
    }
    write_wiring(book);
    write_sources(book);
    book_system_tail(book, SYSTEM_POWER);
}
