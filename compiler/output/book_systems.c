/*
 * The chapters of the other systems. Each is a list of tables, a table a kind of thing, and a caution where work can
 * hurt someone; a thing that no table of its chapter lists stands under "Other things". A new kind is one table here.
 */
#include "output/book_chapters.h"

typedef struct SystemTable {
    const char *heading;
    KindId kind;
    const BookColumn *columns;
    size_t count;
} SystemTable;
#define SYSTEM_TABLE(HEADING, KIND, COLUMNS) {HEADING, KIND, COLUMNS, sizeof(COLUMNS) / sizeof((COLUMNS)[0])}

typedef struct SystemChapter {
    System system;
    const char *name;
    const char *caution; /* or NULL */
    const SystemTable *tables;
    size_t count;
    void (*more)(Book *book); /* what no table of things shows; or NULL */
} SystemChapter;

/* Water */

static const BookColumn tank_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Holds", PROP_TANK_HOLDS), FIGURE_COLUMN("Volume", FIGURE_VOLUME),
    FIGURE_COLUMN("Usable", FIGURE_USABLE_VOLUME), FIGURE_COLUMN("Contents when full", FIGURE_FULL_MASS),
    VALUE_COLUMN("Vent", PROP_TANK_VENT), VALUE_COLUMN("Fill", PROP_TANK_FILL),
    VALUE_COLUMN("Pump-out", PROP_TANK_PUMP_OUT), VALUE_COLUMN("Material", PROP_TANK_MATERIAL),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn pump_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("From", PROP_PUMP_FROM), PROPERTY_COLUMN("To", PROP_PUMP_TO),
    VALUE_COLUMN("Free flow", PROP_PUMP_FLOW), VALUE_COLUMN("Starts at", PROP_PUMP_CUT_IN),
    VALUE_COLUMN("Stops at", PROP_PUMP_PRESSURE), VALUE_COLUMN("Self-priming", PROP_PUMP_SELF_PRIMING),
    VALUE_COLUMN("Accumulator", PROP_PUMP_ACCUMULATOR), PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
};
static const BookColumn hose_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("From", PROP_HOSE_FROM), VALUE_COLUMN("To", PROP_HOSE_TO),
    VALUE_COLUMN("Bore", PROP_HOSE_BORE), VALUE_COLUMN("Run", PROP_HOSE_RUN), VALUE_COLUMN("Rise", PROP_HOSE_RISE),
    VALUE_COLUMN("Grade", PROP_HOSE_GRADE), VALUE_COLUMN("Clamps", PROP_HOSE_CLAMPS),
    VALUE_COLUMN("Below the waterline", PROP_HOSE_BELOW_WATERLINE), VALUE_COLUMN("Secured", PROP_HOSE_SECURED),
};
static const BookColumn fixture_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Cold", PROP_FIXTURE_COLD), VALUE_COLUMN("Hot", PROP_FIXTURE_HOT),
    VALUE_COLUMN("Flow", PROP_FIXTURE_FLOW), VALUE_COLUMN("Drains to", PROP_FIXTURE_DRAINS_TO),
};
static const BookColumn water_heater_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Holds", PROP_WATER_HEATER_CAPACITY),
    VALUE_COLUMN("Element", PROP_WATER_HEATER_ELEMENT), VALUE_COLUMN("Exchanger", PROP_WATER_HEATER_EXCHANGER),
    VALUE_COLUMN("Engine", PROP_WATER_HEATER_ENGINE), VALUE_COLUMN("Relief valve", PROP_WATER_HEATER_RELIEF_VALVE),
    VALUE_COLUMN("Mixing valve", PROP_WATER_HEATER_MIXING_VALVE),
    VALUE_COLUMN("Check valve", PROP_WATER_HEATER_CHECK_VALVE), VALUE_COLUMN("Setting", PROP_WATER_HEATER_SETTING),
};
static const BookColumn toilet_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Worked by", PROP_TOILET_WORKED_BY), VALUE_COLUMN("To", PROP_TOILET_TO),
    VALUE_COLUMN("Flush", PROP_TOILET_FLUSH), VALUE_COLUMN("Flushes with", PROP_TOILET_FLUSHES_WITH),
    VALUE_COLUMN("Rim above the waterline", PROP_TOILET_RIM), VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn through_hull_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Bore", PROP_THROUGH_HULL_BORE),
    VALUE_COLUMN("Above the waterline", PROP_THROUGH_HULL_HEIGHT), FIGURE_COLUMN("Clear of the sea from", FIGURE_LEAST_HEIGHT),
    PROPERTY_COLUMN("Serves", PROP_THROUGH_HULL_SERVES),
    VALUE_COLUMN("Seacock", PROP_THROUGH_HULL_SEACOCK), VALUE_COLUMN("In reach", PROP_THROUGH_HULL_REACH),
    VALUE_COLUMN("Material", PROP_THROUGH_HULL_MATERIAL), VALUE_COLUMN("Backing", PROP_THROUGH_HULL_BACKING),
    VALUE_COLUMN("Clamps", PROP_THROUGH_HULL_CLAMPS), VALUE_COLUMN("Secured", PROP_THROUGH_HULL_SECURED),
};
static const BookColumn vent_loop_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("On", PROP_VENT_LOOP_ON), VALUE_COLUMN("Above the waterline", PROP_VENT_LOOP_HEIGHT),
    FIGURE_COLUMN("Clear of the sea from", FIGURE_LEAST_HEIGHT),
};
static const BookColumn strainer_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("On", PROP_STRAINER_ON), VALUE_COLUMN("Bore", PROP_STRAINER_BORE),
};
static const BookColumn bilge_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Space", PROP_COMMON_SPACE), VALUE_COLUMN("Free flow", PROP_BILGE_PUMP_RATED),
    VALUE_COLUMN("Lift", PROP_BILGE_PUMP_LIFT), PROPERTY_COLUMN("Hose", PROP_BILGE_PUMP_OUTLET),
    FIGURE_COLUMN("Moves in this boat, a minute", FIGURE_PUMPED), VALUE_COLUMN("Automatic", PROP_BILGE_PUMP_AUTOMATIC),
    VALUE_COLUMN("By hand", PROP_BILGE_PUMP_HAND), VALUE_COLUMN("Alarm", PROP_BILGE_PUMP_ALARM),
    VALUE_COLUMN("Outlet above the waterline", PROP_BILGE_PUMP_DISCHARGE_HEIGHT),
    FIGURE_COLUMN("Clear of the sea from", FIGURE_LEAST_HEIGHT),
    VALUE_COLUMN("Check valve", PROP_BILGE_PUMP_CHECK_VALVE), VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const SystemTable water_tables[] = {
    SYSTEM_TABLE("Tanks", KIND_TANK, tank_columns), SYSTEM_TABLE("Pumps", KIND_PUMP, pump_columns),
    SYSTEM_TABLE("Hoses", KIND_HOSE, hose_columns), SYSTEM_TABLE("Fixtures", KIND_FIXTURE, fixture_columns),
    SYSTEM_TABLE("Water heaters", KIND_WATER_HEATER, water_heater_columns),
    SYSTEM_TABLE("Toilets", KIND_TOILET, toilet_columns),
    SYSTEM_TABLE("Through-hulls", KIND_THROUGH_HULL, through_hull_columns),
    SYSTEM_TABLE("Vented loops", KIND_VENT_LOOP, vent_loop_columns),
    SYSTEM_TABLE("Strainers", KIND_STRAINER, strainer_columns),
    SYSTEM_TABLE("Bilge pumps", KIND_BILGE_PUMP, bilge_columns),
};

/* Drive and fuel */

static const BookColumn engine_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, PROPERTY_COLUMN("Rated", PROP_ENGINE_RATED), VALUE_COLUMN("Fuel", PROP_ENGINE_FUEL),
    VALUE_COLUMN("Specific consumption", PROP_ENGINE_SPECIFIC), VALUE_COLUMN("Raw water", PROP_ENGINE_RAW_WATER),
    VALUE_COLUMN("Starter", PROP_ENGINE_STARTER), VALUE_COLUMN("Idles at", PROP_ENGINE_IDLE),
    VALUE_COLUMN("Exhaust", PROP_ENGINE_EXHAUST),
};
static const BookColumn gearbox_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Engine", PROP_GEARBOX_ENGINE), VALUE_COLUMN("Ratio", PROP_GEARBOX_RATIO),
    VALUE_COLUMN("Efficiency", PROP_GEARBOX_EFFICIENCY),
};
static const BookColumn propeller_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Diameter", PROP_PROPELLER_DIAMETER), VALUE_COLUMN("Pitch", PROP_PROPELLER_PITCH),
    VALUE_COLUMN("Blades", PROP_PROPELLER_BLADES), VALUE_COLUMN("Area ratio", PROP_PROPELLER_AREA_RATIO),
    VALUE_COLUMN("Tip to hull", PROP_PROPELLER_APERTURE), VALUE_COLUMN("Shaft", PROP_PROPELLER_SHAFT),
    VALUE_COLUMN("Shaft of", PROP_PROPELLER_SHAFT_MATERIAL), VALUE_COLUMN("Wake", PROP_PROPELLER_WAKE),
};
static const BookColumn seal_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Propeller", PROP_SHAFT_SEAL_PROPELLER), VALUE_COLUMN("Shaft", PROP_SHAFT_SEAL_SHAFT),
    VALUE_COLUMN("Watered", PROP_SHAFT_SEAL_WATERED),
};
static const BookColumn exhaust_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Bore", PROP_EXHAUST_BORE), VALUE_COLUMN("Run", PROP_EXHAUST_RUN),
    VALUE_COLUMN("Bends", PROP_EXHAUST_BENDS), VALUE_COLUMN("Lift", PROP_EXHAUST_LIFT),
    VALUE_COLUMN("Elbow above the waterline", PROP_EXHAUST_RISER_ABOVE_WATERLINE), VALUE_COLUMN("Wet", PROP_EXHAUST_WET),
};
static const BookColumn fuel_line_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("From", PROP_FUEL_LINE_FROM), VALUE_COLUMN("To", PROP_FUEL_LINE_TO),
    VALUE_COLUMN("Bore", PROP_FUEL_LINE_BORE), VALUE_COLUMN("Run", PROP_FUEL_LINE_RUN),
    VALUE_COLUMN("Grade", PROP_FUEL_LINE_GRADE), VALUE_COLUMN("Shut-off", PROP_FUEL_LINE_SHUT_OFF),
    VALUE_COLUMN("Filter", PROP_FUEL_LINE_FILTER), VALUE_COLUMN("Separator", PROP_FUEL_LINE_SEPARATOR),
    VALUE_COLUMN("Return", PROP_FUEL_LINE_RETURN),
};
static const BookColumn thruster_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Thrust", PROP_THRUSTER_THRUST), PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Longest burst", PROP_THRUSTER_LONGEST_BURST), VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn blower_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Flow", PROP_BLOWER_FLOW), PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn steering_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Worked by", PROP_STEERING_WORKED_BY),
    VALUE_COLUMN("Second way to steer", PROP_STEERING_SECOND),
};
static const SystemTable drive_tables[] = {
    SYSTEM_TABLE("Engines", KIND_ENGINE, engine_columns), SYSTEM_TABLE("Gearboxes", KIND_GEARBOX, gearbox_columns),
    SYSTEM_TABLE("Propellers", KIND_PROPELLER, propeller_columns), SYSTEM_TABLE("Shaft seals", KIND_SHAFT_SEAL, seal_columns),
    SYSTEM_TABLE("Exhausts", KIND_EXHAUST, exhaust_columns), SYSTEM_TABLE("Fuel tanks", KIND_TANK, tank_columns),
    SYSTEM_TABLE("Fuel lines", KIND_FUEL_LINE, fuel_line_columns),
    SYSTEM_TABLE("Thrusters", KIND_THRUSTER, thruster_columns), SYSTEM_TABLE("Blowers", KIND_BLOWER, blower_columns),
    SYSTEM_TABLE("Steering", KIND_STEERING, steering_columns),
};

/* Navigation */

static const BookColumn instrument_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, PROPERTY_COLUMN("Function", PROP_INSTRUMENT_FUNCTION),
    VALUE_COLUMN("Stands in for", PROP_INSTRUMENT_BACKUP_FOR), PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY), VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn network_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Backbone", PROP_NETWORK_BACKBONE), VALUE_COLUMN("Cable", PROP_NETWORK_CABLE),
    VALUE_COLUMN("Terminators", PROP_NETWORK_TERMINATORS), VALUE_COLUMN("Power comes in at", PROP_NETWORK_FEEDS_AT),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn radio_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW), VALUE_COLUMN("Antenna cable", PROP_RADIO_ANTENNA_CABLE),
    VALUE_COLUMN("Its loss", PROP_RADIO_LOSS), VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn nav_light_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Shows", PROP_NAV_LIGHT_SHOWS), VALUE_COLUMN("Seen at", PROP_NAV_LIGHT_VISIBLE),
    VALUE_COLUMN("Above the waterline", PROP_NAV_LIGHT_HEIGHT), VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW), VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn horn_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Heard at", PROP_HORN_RANGE), PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
};
static const SystemTable navigation_tables[] = {
    SYSTEM_TABLE("Instruments", KIND_INSTRUMENT, instrument_columns), SYSTEM_TABLE("Networks", KIND_NETWORK, network_columns),
    SYSTEM_TABLE("Radios", KIND_RADIO, radio_columns), SYSTEM_TABLE("Navigation lights", KIND_NAV_LIGHT, nav_light_columns),
    SYSTEM_TABLE("Horns", KIND_HORN, horn_columns),
};

/* Climate and gas */

static const BookColumn heater_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Output", PROP_HEATER_OUTPUT), PROPERTY_COLUMN("Serves", PROP_HEATER_SERVES),
    VALUE_COLUMN("Fuel", PROP_HEATER_FUEL_RATE), PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW), VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn cooler_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Output", PROP_COOLER_OUTPUT), PROPERTY_COLUMN("Serves", PROP_COOLER_SERVES),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW), VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn gas_locker_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Cylinder", PROP_GAS_LOCKER_CYLINDER), VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Drained overboard", PROP_GAS_LOCKER_DRAINED_OVERBOARD), VALUE_COLUMN("Drain", PROP_GAS_LOCKER_DRAIN),
    VALUE_COLUMN("Gauge", PROP_GAS_LOCKER_GAUGE), VALUE_COLUMN("Shut-off", PROP_GAS_LOCKER_SHUT_OFF),
};
static const BookColumn gas_appliance_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Locker", PROP_GAS_APPLIANCE_LOCKER), VALUE_COLUMN("Output", PROP_GAS_APPLIANCE_OUTPUT),
    VALUE_COLUMN("Flame failure", PROP_GAS_APPLIANCE_FLAME_FAILURE), VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const SystemTable climate_tables[] = {
    SYSTEM_TABLE("Heaters", KIND_HEATER, heater_columns), SYSTEM_TABLE("Coolers", KIND_COOLER, cooler_columns),
    SYSTEM_TABLE("Gas lockers", KIND_GAS_LOCKER, gas_locker_columns),
    SYSTEM_TABLE("Gas appliances", KIND_GAS_APPLIANCE, gas_appliance_columns),
};

/* Safety */

static const BookColumn alarm_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Detects", PROP_ALARM_DETECTS), VALUE_COLUMN("Space", PROP_COMMON_SPACE),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY), VALUE_COLUMN("Not wired in", PROP_COMMON_PORTABLE),
};
static const BookColumn extinguisher_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Rating", PROP_EXTINGUISHER_RATING), VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE), VALUE_COLUMN("Fixed", PROP_EXTINGUISHER_FIXED),
    VALUE_COLUMN("Expires", PROP_EXTINGUISHER_EXPIRES),
};
static const BookColumn anchor_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Weight", PROP_COMMON_MASS), PROPERTY_COLUMN("Chain", PROP_ANCHOR_CHAIN),
    PROPERTY_COLUMN("Rope", PROP_ANCHOR_ROPE),
};
static const SystemTable safety_tables[] = {
    SYSTEM_TABLE("Alarms", KIND_ALARM, alarm_columns), SYSTEM_TABLE("Extinguishers", KIND_EXTINGUISHER, extinguisher_columns),
    SYSTEM_TABLE("Anchors", KIND_ANCHOR, anchor_columns),
};

/* Hull */

static const BookColumn space_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Engine space", PROP_SPACE_ENGINE_SPACE), VALUE_COLUMN("Hottest", PROP_SPACE_TEMPERATURE),
    VALUE_COLUMN("Volume", PROP_SPACE_VOLUME), VALUE_COLUMN("Floor", PROP_SPACE_FLOOR), VALUE_COLUMN("Glass", PROP_SPACE_GLASS),
    VALUE_COLUMN("Sleeping", PROP_SPACE_SLEEPING), VALUE_COLUMN("Wet", PROP_SPACE_WET), VALUE_COLUMN("Petrol", PROP_SPACE_PETROL),
    VALUE_COLUMN("Ventilated", PROP_SPACE_VENTILATED), VALUE_COLUMN("Own bilge", PROP_SPACE_BILGE),
};
static const BookColumn windlass_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW), VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn anode_columns[] = {
    NAME_COLUMN, TITLE_COLUMN, PROPERTY_COLUMN("Protects", PROP_ANODE_PROTECTS), VALUE_COLUMN("Material", PROP_ANODE_MATERIAL),
};
static const SystemTable hull_tables[] = {
    SYSTEM_TABLE("Spaces", KIND_SPACE, space_columns), SYSTEM_TABLE("Windlasses", KIND_WINDLASS, windlass_columns),
    SYSTEM_TABLE("Anodes", KIND_ANODE, anode_columns),
};

/* Tanks through the days, and the pumping of all bilge pumps together */

static void tank_rows(Book *book, const BookThing *day, bool *begun)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind != KIND_TANK || !book_has_figure(book, t->entity, FIGURE_DAILY_FLOW, day->entity)) {
            continue;
        }
        if (!*begun) {
            markdown_heading(&book->md, 3, STR("Tanks, day by day"), NULL);
            book_head(book, (const char *const[]){"Day", "Tank", "Holds", ">In or out", ">Lasts"}, 5);
            *begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, day);
        book_name_cell(book, t);
        book_cell(book, book_value(book, t->entity, PROP_TANK_HOLDS, 0));
        book_cell(book, book_figure(book, t->entity, FIGURE_DAILY_FLOW, day->entity));
        book_cell(book, book_figure(book, t->entity, FIGURE_ENDURANCE, day->entity));
    }
}

static void write_tank_days(Book *book)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_DAY) {
            tank_rows(book, t, &begun);
        }
    }
}

static void write_pumping(Book *book)
{
    static const FigureId rows[] = {FIGURE_PUMPING, FIGURE_PUMPING_NEED, FIGURE_HAND_PUMPING, FIGURE_HAND_PUMPING_NEED,
                                    FIGURE_HEELED_WATERLINE};
    bool begun = false;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0] && book->boat != NULL; i++) {
        if (!book_has_figure(book, book->boat, rows[i], NULL)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Bilge pumping, and the sea when she heels"), NULL);
            book_head(book, (const char *const[]){"Figure", "What it is", ">"}, 3);
            begun = true;
        }
        markdown_row(&book->md);
        markdown_cell_code(&book->md, str_from(figure_rows[rows[i]].name));
        book_cell(book, str_from(figure_rows[rows[i]].help));
        book_cell(book, book_figure(book, book->boat, rows[i], NULL));
    }
}

static void more_of_water(Book *book)
{
    write_tank_days(book);
    write_pumping(book);
}

#define CHAPTER(SYSTEM, NAME, CAUTION, TABLES, MORE) \
    {SYSTEM, NAME, CAUTION, TABLES, sizeof(TABLES) / sizeof((TABLES)[0]), MORE}
static const SystemChapter water_chapter = CHAPTER(
    SYSTEM_WATER, "water, waste or the bilge",
    "A hose or fitting that fails below the waterline sinks the boat, often while nobody is aboard. Close every seacock"
    " before you work on its hose, know that it holds, and have a plug at hand. Water from an engine's exchanger scalds."
    " What may go overboard, and where, is a matter of law.",
    water_tables, more_of_water);
static const SystemChapter drive_chapter = CHAPTER(
    SYSTEM_DRIVE, "drive or fuel",
    "Fuel vapour explodes, and a fuel leak feeds a fire. Local codes apply to tanks, hoses and fittings; have the work"
    " inspected where the law asks for it. Shut the tank valve, ventilate, and keep flames and sparks away. Shaft and"
    " exhaust pass the hull below or near the waterline: a seal or riser that fails floods her. Turn the engine's start"
    " circuit off before hands go near belts and shaft.",
    drive_tables, NULL);
static const SystemChapter navigation_chapter = CHAPTER(SYSTEM_NAVIGATION, "navigation", NULL, navigation_tables, NULL);
static const SystemChapter climate_chapter = CHAPTER(
    SYSTEM_CLIMATE, "heat, cold or gas",
    "Gas is heavier than air, gathers in the bilge and explodes. Local codes apply; a licensed person makes and tests the"
    " gas system where the law says so. Whatever burns makes carbon monoxide, which kills asleep: alarms in each cabin,"
    " air in, exhaust out.",
    climate_tables, NULL);
static const SystemChapter safety_chapter = CHAPTER(SYSTEM_SAFETY, "safety", NULL, safety_tables, NULL);
static const SystemChapter cabin_chapter = {SYSTEM_CABIN, "the cabin", NULL, NULL, 0, NULL};
static const SystemChapter hull_chapter = CHAPTER(
    SYSTEM_HULL, "the hull",
    "Every hole in the hull can sink her. Through-hulls stand in the chapter of water; work on them is done ashore.",
    hull_tables, NULL);

/* Writing a chapter */

static bool is_listed(const Book *book, const BookThing *thing, const void *what)
{
    const SystemChapter *chapter = what;
    (void)book;
    for (size_t i = 0; i < chapter->count; i++) {
        if (chapter->tables[i].kind == thing->entity->kind) {
            return true;
        }
    }
    return false;
}

typedef struct Wanted {
    const SystemChapter *chapter;
    const SystemTable *table;
} Wanted;

static bool is_aboard_in(const BookThing *thing, const SystemChapter *chapter)
{
    return book_system(thing->entity) == chapter->system && !(thing->entity->flags & ENTITY_DROPPED);
}

static bool belongs_to_table(const Book *book, const BookThing *thing, const void *what)
{
    const Wanted *wanted = what;
    (void)book;
    return is_aboard_in(thing, wanted->chapter) && thing->entity->kind == wanted->table->kind;
}

/* Cables and what shares out power are listed in the chapter of power, whatever system they serve. */
static bool is_wiring(const Entity *entity)
{
    return entity->kind == KIND_CIRCUIT || entity->kind == KIND_PANEL || entity->kind == KIND_BUS ||
           entity->kind == KIND_SWITCH || entity->kind == KIND_OUTLET;
}

static bool is_other(const Book *book, const BookThing *thing, const void *what)
{
    return is_aboard_in(thing, what) && book_is_physical(thing->entity) && !is_wiring(thing->entity) &&
           !is_listed(book, thing, what);
}

static bool write_chapter_tables(Book *book, const SystemChapter *chapter)
{
    static const BookColumn other_columns[] = {
        NAME_COLUMN, TITLE_COLUMN, VALUE_COLUMN("Count", PROP_COMMON_COUNT), VALUE_COLUMN("Mass of one", PROP_COMMON_MASS),
        VALUE_COLUMN("Space", PROP_COMMON_SPACE), STATUS_COLUMN,
    };
    bool any = false;
    for (size_t i = 0; i < chapter->count; i++) {
        const SystemTable *table = &chapter->tables[i];
        Wanted wanted = {chapter, table};
        any = book_table(book, table->heading, table->columns, table->count, belongs_to_table, &wanted) || any;
    }
    const char *heading = any ? "Other things" : "Things";
    return book_table(book, heading, other_columns, sizeof other_columns / sizeof other_columns[0], is_other, chapter) || any;
}

static bool is_empty(const Book *book, const SystemChapter *chapter)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (is_aboard_in(t, chapter) && (is_listed(book, t, chapter) || is_other(book, t, chapter))) {
            return false;
        }
    }
    return true;
}

static void write_chapter(Book *book, const SystemChapter *chapter)
{
    if (is_empty(book, chapter)) {
        book_say(book, "Nothing in the spec belongs to %s.", chapter->name);
        return;
    }
    if (chapter->caution != NULL) {
        book_caution(book, chapter->caution);
    }
    write_chapter_tables(book, chapter);
    if (chapter->more != NULL) {
        chapter->more(book);
    }
    book_system_tail(book, chapter->system);
}

void book_water(Book *book)
{
    write_chapter(book, &water_chapter);
}

void book_drive(Book *book)
{
    write_chapter(book, &drive_chapter);
}

void book_navigation(Book *book)
{
    write_chapter(book, &navigation_chapter);
}

void book_climate(Book *book)
{
    write_chapter(book, &climate_chapter);
}

void book_safety(Book *book)
{
    write_chapter(book, &safety_chapter);
}

void book_cabin(Book *book)
{
    write_chapter(book, &cabin_chapter);
}

void book_hull(Book *book)
{
    write_chapter(book, &hull_chapter);
}
