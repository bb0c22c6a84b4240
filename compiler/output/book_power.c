/*
 * The chapter of electric power: first what a person wires from (pictures, panel schedules, wire lists, settings; mains with
 * a caution of their own), then banks, sources, currents and a day's energy.
 */
#include "output/book_chapters.h"

#include "output/book_wire.h"
#include "output/energy_chart.h"
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

/* A day's energy */

/* Everything that draws power has `use`, an own property of loads; what heats or cools runs as it is asked to. */
static bool may_use(const Entity *entity)
{
    return (entity->kind == KIND_LOAD || entity->kind == KIND_WATER_HEATER || kinds[entity->kind].groups & GROUPS_LOAD) &&
           !(entity->flags & ENTITY_DROPPED);
}

/* An electric engine runs while the day's engine does, and takes what its speed asks for. */
static bool is_motor_on(const Book *book, const Entity *entity, const Entity *day)
{
    return entity->kind == KIND_ENGINE && !(entity->flags & ENTITY_DROPPED) && book_has_figure(book, entity, FIGURE_DAILY_USE, day);
}

static Str runs_on(const Book *book, const BookThing *motor, const Entity *day)
{
    Buf text;
    buf_init(&text, book->arena);
    for (const Property *run = entity_property(day, PROP_DAY_ENGINE); run != NULL; run = block_next(&day->block, run)) {
        buf_text(&text, text.length > 0 ? ", " : "");
        buf_add(&text, book_value_text(book, motor->in->model, property_value(run, 0)));
        if (property_value(run, 1)->kind == VALUE_QUANTITY) {
            buf_text(&text, " at ");
            buf_add(&text, book_value_text(book, motor->in->model, property_value(run, 1)));
        }
    }
    buf_text(&text, ", in all ");
    buf_add(&text, book_figure(book, motor->entity, FIGURE_DAILY_USE, day));
    return buf_str(&text);
}

static Str use_on(const Book *book, const BookThing *thing, const Entity *day)
{
    Buf text;
    buf_init(&text, book->arena);
    const Block *block = &thing->entity->block;
    for (const Property *use = block_property(block, prop_of_use(thing->entity)); use != NULL;
         use = block_next(block, use)) {
        const Value *of = property_value(use, 0);
        if (value_entity(of) != NULL && value_entity(of)->name == day->name) {
            buf_text(&text, text.length > 0 ? ", " : "");
            buf_add(&text, book_value_text(book, thing->in->model, property_value(use, 1)));
        }
    }
    bool by_itself = !entity_states(thing->entity, prop_of_use(thing->entity));
    if (by_itself && book_has_figure(book, thing->entity, FIGURE_ELEMENT_TIME, day)) {
        const Figure *time = figure_find(thing->in->figures, thing->entity, FIGURE_ELEMENT_TIME, day);
        buf_add(&text, book_figure(book, thing->entity, FIGURE_ELEMENT_TIME, day));
        buf_text(&text, time != NULL && time->remark != NULL ? ", for the day's showers; but " : ", for the day's showers");
        buf_text(&text, time != NULL && time->remark != NULL ? time->remark : "");
    }
    if (by_itself &&
        book_has_figure(book, thing->entity, FIGURE_RUNNING_TIME, day)) {
        buf_add(&text, book_figure(book, thing->entity, FIGURE_RUNNING_TIME, day));
        buf_text(&text, ", by what its cabins take");
    }
    return buf_str(&text);
}

/* An inverter takes its idle whatever hangs on it: often more than all that does. */
static bool idles(const Entity *entity)
{
    return entity->kind == KIND_INVERTER && !(entity->flags & ENTITY_DROPPED);
}

/* What one of them draws while it runs. */
static Str drawn_on(const Book *book, const Entity *entity, const Entity *day)
{
    if (kinds[entity->kind].groups & GROUPS_NETWORK && !entity_states(entity, PROP_LOAD_DRAW) &&
        entity_states(entity, PROP_NETWORKED_LOAD_NUMBER)) {
        Str number = book_property(book, entity, PROP_NETWORKED_LOAD_NUMBER);
        return str_from(text_format(book->arena, "%.*s x 50 mA of its backbone", STR_ARG(number)));
    }
    PropId prop = idles(entity)                        ? PROP_INVERTER_IDLE
                  : entity->kind == KIND_WATER_HEATER ? PROP_WATER_HEATER_ELEMENT
                                                       : PROP_LOAD_DRAW;
    return is_motor_on(book, entity, day) ? STR("by its speed") : book_property(book, entity, prop);
}

static void day_loads(Book *book, const Entity *day)
{
    bool begun = false, turned = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        bool turns = t->entity->kind == KIND_INVERTER || t->entity->kind == KIND_CONVERTER;
        turned = turned || (turns && !(t->entity->flags & ENTITY_DROPPED));
        bool idle = idles(t->entity), motor = is_motor_on(book, t->entity, day);
        Str use = motor  ? runs_on(book, t, day)
                  : idle ? STR("all day, unless mains carry it") : may_use(t->entity) ? use_on(book, t, day) : STR("");
        if (use.length == 0) {
            continue;
        }
        if (!begun) {
            book_head(book, (const char *const[]){"Load", "What", ">Draw of one", ">Count", ">Runs"}, 5);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, idle ? STR("its own idle") : book_title(book, t->entity));
        book_cell(book, drawn_on(book, t->entity, day));
        book_cell(book, book_value(book, t->entity, PROP_COMMON_COUNT, 0));
        book_cell(book, use);
    }
    if (!begun) {
        book_say(book, "The spec states no use of any load on this day.");
    } else if (turned) { /* who adds the column up would find less than is taken */
        book_say(book, "What hangs on an inverter or a converter takes its draw over the efficiency of that, and nothing of a bank while "
                       "mains carry it.");
    }
}

static void bank_row(Book *book, const BookThing *bank, const Entity *day)
{
    static const FigureId shown[] = {FIGURE_DAILY_USE,     FIGURE_DAILY_CHARGE, FIGURE_BALANCE,
                                     FIGURE_LOWEST_CHARGE, FIGURE_LEAST_CHARGE, FIGURE_ENDURANCE};
    markdown_row(&book->md);
    book_name_cell(book, bank);
    book_cell(book, book_figure(book, bank->entity, FIGURE_USABLE_ENERGY, NULL));
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        book_cell(book, book_figure(book, bank->entity, shown[i], shown[i] == FIGURE_LEAST_CHARGE ? NULL : day));
    }
}

static void day_banks(Book *book, const Entity *day)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind != KIND_BANK || t->entity->flags & ENTITY_DROPPED) {
            continue;
        }
        if (!begun) {
            book_head(book,
                      (const char *const[]){"Bank", ">Usable", ">Taken", ">Offered, less losses", ">Balance, begun halfway to its limit",
                                            ">Lowest, begun full", ">To be left", ">Lasts"},
                      8);
            begun = true;
        }
        bank_row(book, t, day);
    }
}

/* What each source brings on a day or a cruise, and what of its offer finds no taker. */
static void sources_of(Book *book, const Entity *when)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!book_has_figure(book, t->entity, FIGURE_REFUSED, when)) {
            continue;
        }
        if (!begun) {
            book_head(book, (const char *const[]){"Source", "What", ">Brings", ">Finds no taker"}, 4);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, book_title(book, t->entity));
        book_cell(book, book_figure(book, t->entity, FIGURE_ENERGY, when));
        book_cell(book, book_figure(book, t->entity, FIGURE_REFUSED, when));
    }
    if (!begun) {
        book_say(book, "No source brings the banks anything then.");
    } else if (when->kind == KIND_DAY) { /* who adds the columns up would find a fault that is none */
        book_say(book, "What finds no taker is that of the second of two such days, the first begun full; the balance is that of a day "
                       "begun halfway to the limit. So what is taken, what is brought and the balance do not add up.");
    }
}

static void engine_hours(Book *book, const Entity *day)
{
    if (book->boat == NULL || !book_has_figure(book, book->boat, FIGURE_ENGINE_HOURS, day)) {
        return;
    }
    Str hours = book_figure(book, book->boat, FIGURE_ENGINE_HOURS, day);
    if (str_is(hours, "0 h")) {
        book_say(book, "Such a day brings back what it uses without any engine run for it.");
    } else if (str_is(hours, "unlimited")) {
        book_say(book, "However long the engine runs, it does not make good such a day.");
    } else {
        book_say(book, "To make good such a day the engine has to run for %s.", str_copy(book->arena, hours));
    }
}

static void cruise_banks(Book *book, const Entity *cruise)
{
    book_head(book, (const char *const[]){"Bank", ">Lowest", ">To be left", ">At the end"}, 4);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_BANK && !(t->entity->flags & ENTITY_DROPPED)) {
            markdown_row(&book->md);
            book_name_cell(book, t);
            book_cell(book, book_figure(book, t->entity, FIGURE_LOWEST_CHARGE, cruise));
            book_cell(book, book_figure(book, t->entity, FIGURE_LEAST_CHARGE, NULL));
            book_cell(book, book_figure(book, t->entity, FIGURE_END_CHARGE, cruise));
        }
    }
}

static bool has_bank(const Book *book)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_BANK && !(t->entity->flags & ENTITY_DROPPED)) {
            return true;
        }
    }
    return false;
}

/* "A day's energy: anchored", with its title and its pictures. */
static void begin_time(Book *book, const BookThing *when, const char *what)
{
    markdown_heading(&book->md, 3,
                     str_from(text_format(book->arena, "%s: %.*s", what, STR_ARG(book_name(book, when->entity)))), NULL);
    if (when->entity->title.length > 0) {
        markdown_paragraph(&book->md);
        markdown_text(&book->md, when->entity->title);
    }
    book_picture(book, energy_chart_names(book, when->entity));
}

/* Once, below the first table of banks: who adds up what was taken finds less left than that leaves. */
static void tell_withheld(Book *book, bool *told)
{
    if (!*told && has_bank(book)) {
        book_say(book, "How low a bank comes and how long it lasts, here and in the pictures, goes by what it can give at that moment: its "
                       "charge, less what Peukert's law withholds while much is drawn from it. That is there again once it rests, so the "
                       "line in a picture may rise with nothing charging. Balance, the end of a cruise and the hours of the engine go by the "
                       "charge itself.");
        *told = true;
    }
}

static void write_days(Book *book)
{
    bool told = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_DAY) {
            begin_time(book, t, "A day's energy");
            day_loads(book, t->entity);
            day_banks(book, t->entity);
            tell_withheld(book, &told);
            sources_of(book, t->entity);
            engine_hours(book, t->entity);
        }
    }
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_CRUISE && has_bank(book)) {
            begin_time(book, t, "A cruise's energy");
            cruise_banks(book, t->entity);
            tell_withheld(book, &told);
            sources_of(book, t->entity);
        }
    }
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
    write_days(book);
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
