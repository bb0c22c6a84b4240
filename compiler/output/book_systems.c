/* The chapters of navigation, of climate and gas, of safety, of the cabin and of the hull. */
#include "output/book_assumed.h"
#include "output/book_system.h"
#include "output/book_winter.h"

#include "figures/water.h"

/* Navigation */

static const BookColumn instrument_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Function", PROP_INSTRUMENT_FUNCTION),
    VALUE_COLUMN("Stands in for", PROP_INSTRUMENT_BACKUP_FOR),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn network_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Backbone", PROP_NETWORK_BACKBONE),
    VALUE_COLUMN("Cable", PROP_NETWORK_CABLE),
    VALUE_COLUMN("Terminators", PROP_NETWORK_TERMINATORS),
    VALUE_COLUMN("Power comes in at", PROP_NETWORK_FEEDS_AT),
    FIGURE_COLUMN("Things take", FIGURE_BACKBONE_CURRENT),
    FIGURE_COLUMN("To one side of it", FIGURE_SEGMENT_CURRENT),
    FIGURE_COLUMN("Lost to the worst", FIGURE_BACKBONE_DROP),
    FIGURE_COLUMN("Drop cables together", FIGURE_DROP_CABLES),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn radio_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Antenna cable", PROP_RADIO_ANTENNA_CABLE),
    VALUE_COLUMN("Its loss", PROP_RADIO_LOSS),
    FIGURE_COLUMN("Takes of the signal", FIGURE_ANTENNA_LOSS),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn nav_light_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Shows", PROP_NAV_LIGHT_SHOWS),
    FIGURE_COLUMN("Arc", FIGURE_LIGHT_ARC),
    FIGURE_COLUMN("Seen at", FIGURE_VISIBLE),
    FIGURE_COLUMN("To be seen at", FIGURE_VISIBLE_NEED),
    VALUE_COLUMN("Above the waterline", PROP_NAV_LIGHT_HEIGHT),
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn horn_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Heard at", PROP_HORN_RANGE),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
};
static const SystemTable navigation_tables[] = {
    SYSTEM_TABLE("Instruments", KIND_INSTRUMENT, instrument_columns),
    SYSTEM_TABLE("Networks", KIND_NETWORK, network_columns),
    SYSTEM_TABLE("Radios", KIND_RADIO, radio_columns),
    SYSTEM_TABLE("Navigation lights", KIND_NAV_LIGHT, nav_light_columns),
    SYSTEM_TABLE("Horns", KIND_HORN, horn_columns),
};

static bool is_joined(const Book *book, const BookThing *thing, const void *what)
{
    (void)book, (void)what;
    return kinds[thing->entity->kind].groups & GROUPS_NETWORK && book_is_physical(thing->entity) &&
           entity_states(thing->entity, PROP_NETWORKED_NETWORK);
}

static void more_of_navigation(Book *book)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        VALUE_COLUMN("Backbone", PROP_NETWORKED_NETWORK),
        VALUE_COLUMN("Tee at", PROP_NETWORKED_TEE_AT),
        VALUE_COLUMN("Drop cable", PROP_NETWORKED_DROP_CABLE),
        VALUE_COLUMN("Load number", PROP_NETWORKED_LOAD_NUMBER),
        VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    };
    book_table(book, "On the data backbone", columns, sizeof columns / sizeof columns[0], is_joined, NULL);
}

static const SystemChapter navigation_chapter =
    SYSTEM_CHAPTER(SYSTEM_NAVIGATION, "navigation", NULL, navigation_tables, more_of_navigation);

void book_navigation(Book *book)
{
    book_system_chapter(book, &navigation_chapter);
}

/* Climate and gas */

static const BookColumn heater_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Output", PROP_HEATER_OUTPUT),
    PROPERTY_COLUMN("Serves", PROP_HEATER_SERVES),
    VALUE_COLUMN("Burns", PROP_HEATER_FUEL),
    VALUE_COLUMN("Room-sealed", PROP_HEATER_ROOM_SEALED),
    VALUE_COLUMN("Fuel", PROP_HEATER_FUEL_RATE),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn cooler_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Output", PROP_COOLER_OUTPUT),
    PROPERTY_COLUMN("Serves", PROP_COOLER_SERVES),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn gas_locker_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Cylinder", PROP_GAS_LOCKER_CYLINDER),
    FIGURE_COLUMN("Gas held", FIGURE_GAS_HELD),
    VALUE_COLUMN("Gas", PROP_GAS_LOCKER_GAS),
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Drained overboard", PROP_GAS_LOCKER_DRAINED_OVERBOARD),
    VALUE_COLUMN("Drain", PROP_GAS_LOCKER_DRAIN),
    VALUE_COLUMN("Gauge", PROP_GAS_LOCKER_GAUGE),
    VALUE_COLUMN("Shut-off", PROP_GAS_LOCKER_SHUT_OFF),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn gas_appliance_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Works as", PROP_GAS_APPLIANCE_WORKS_AS),
    VALUE_COLUMN("Locker", PROP_GAS_APPLIANCE_LOCKER),
    VALUE_COLUMN("Output", PROP_GAS_APPLIANCE_OUTPUT),
    VALUE_COLUMN("Heat input", PROP_GAS_APPLIANCE_HEAT_INPUT),
    VALUE_COLUMN("By", PROP_GAS_APPLIANCE_HEAT_BY),
    VALUE_COLUMN("Flame failure", PROP_GAS_APPLIANCE_FLAME_FAILURE),
    VALUE_COLUMN("Room-sealed", PROP_GAS_APPLIANCE_ROOM_SEALED),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn burner_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Burns", PROP_BURNER_FUEL),
    VALUE_COLUMN("Output", PROP_BURNER_OUTPUT),
    VALUE_COLUMN("Fuel", PROP_BURNER_FUEL_RATE),
    VALUE_COLUMN("Flued", PROP_BURNER_FLUED),
    VALUE_COLUMN("Pan", PROP_BURNER_PAN),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn gas_hose_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("From", PROP_HOSE_FROM),
    VALUE_COLUMN("To", PROP_HOSE_TO),
    VALUE_COLUMN("Bore", PROP_HOSE_BORE),
    VALUE_COLUMN("Run", PROP_HOSE_RUN),
    VALUE_COLUMN("Material", PROP_HOSE_MATERIAL),
    VALUE_COLUMN("Clamps", PROP_HOSE_CLAMPS),
};
static const SystemTable climate_tables[] = {
    SYSTEM_TABLE("Heaters", KIND_HEATER, heater_columns),
    SYSTEM_TABLE("Coolers", KIND_COOLER, cooler_columns),
    SYSTEM_TABLE("Gas lockers", KIND_GAS_LOCKER, gas_locker_columns),
    SYSTEM_TABLE("Gas appliances", KIND_GAS_APPLIANCE, gas_appliance_columns),
    SYSTEM_TABLE("Hoses and pipes of gas", KIND_HOSE, gas_hose_columns),
    SYSTEM_TABLE("Burners of spirit, paraffin and diesel", KIND_BURNER, burner_columns),
};

/* What the spaces lose or gain on the days that say how cold or hot they are, and by the thumb. */
typedef struct ClimateRow {
    KindId kind;
    PropId output;
    FigureId need, thumb;
} ClimateRow;

static const ClimateRow climate_rows[] = {
    {KIND_HEATER, PROP_HEATER_OUTPUT, FIGURE_HEAT_NEED, FIGURE_HEAT_THUMB},
    {KIND_COOLER, PROP_COOLER_OUTPUT, FIGURE_COOL_NEED, FIGURE_COOL_THUMB},
};

static void climate_row(Book *book, const BookThing *maker, const BookThing *day, const ClimateRow *row,
                        bool *begun)
{
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Heat and cold to be made"), NULL);
        book_head(book,
                  (const char *const[]){"Name", "Day", ">Outside", ">Gives", ">Spaces take", ">By the thumb",
                                        ">Would run"},
                  7);
        *begun = true;
    }
    markdown_row(&book->md);
    book_name_cell(book, maker);
    book_name_cell(book, day);
    book_cell(book, book_value(book, day->entity, PROP_DAY_TEMPERATURE, 0));
    book_cell(book, book_value(book, maker->entity, row->output, 0));
    book_cell(book, book_figure(book, maker->entity, row->need, day->entity));
    book_cell(book, book_figure(book, maker->entity, row->thumb, NULL));
    book_cell(book, book_figure(book, maker->entity, FIGURE_RUNNING_TIME, day->entity));
}

/* All lockers together: the figures of the first one are those of all. */
static const BookThing *first_locker(const Book *book)
{
    const BookThing *locker = book->things;
    while (locker != NULL && !(locker->entity->kind == KIND_GAS_LOCKER && is_aboard(locker->entity))) {
        locker = locker->next;
    }
    return locker;
}

static void write_gas_days(Book *book)
{
    const BookThing *locker = first_locker(book);
    bool begun = false;
    for (const BookThing *day = book->things; day != NULL && locker != NULL; day = day->next) {
        if (day->entity->kind != KIND_DAY || !book_has_figure(book, locker->entity, FIGURE_ENDURANCE, day->entity)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Gas, day by day"), NULL);
            book_head(book, (const char *const[]){"Day", ">Burned", ">All cylinders last"}, 3);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, day);
        book_cell(book, entity_states(day->entity, PROP_DAY_GAS) ? book_value(book, day->entity, PROP_DAY_GAS, 0)
                                                                 : book_figure(book, locker->entity, FIGURE_DAILY_GAS, day->entity));
        book_cell(book, book_figure(book, locker->entity, FIGURE_ENDURANCE, day->entity));
    }
}

static void write_gas_cruises(Book *book)
{
    const BookThing *locker = first_locker(book);
    bool begun = false;
    for (const BookThing *cruise = book->things; cruise != NULL && locker != NULL; cruise = cruise->next) {
        if (cruise->entity->kind != KIND_CRUISE || !book_has_figure(book, locker->entity, FIGURE_CRUISE_FLOW, cruise->entity)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Gas, cruise by cruise"), NULL);
            book_head(book, (const char *const[]){"Cruise", ">Burned", ">Most between fillings", ">Least left"}, 4);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, cruise);
        book_cell(book, book_figure(book, locker->entity, FIGURE_CRUISE_FLOW, cruise->entity));
        book_cell(book, book_stretch(book, locker->entity, cruise->entity));
        book_cell(book, book_figure(book, locker->entity, FIGURE_CRUISE_LEFT, cruise->entity));
    }
}

static void more_of_climate(Book *book)
{
    bool begun = false;
    write_gas_days(book);
    write_gas_cruises(book);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        for (size_t i = 0; i < sizeof climate_rows / sizeof climate_rows[0]; i++) {
            for (const BookThing *day = book->things; day != NULL && t->entity->kind == climate_rows[i].kind;
                 day = day->next) {
                if (day->entity->kind == KIND_DAY &&
                    book_has_figure(book, t->entity, climate_rows[i].need, day->entity)) {
                    climate_row(book, t, day, &climate_rows[i], &begun);
                }
            }
        }
    }
}

static const SystemChapter climate_chapter =
    SYSTEM_CHAPTER(SYSTEM_CLIMATE, "heat, cold or gas",
                   "Gas is heavier than air, gathers in the bilge and explodes. Local codes apply; a "
                   "licensed person makes and tests the"
                   " gas system where the law says so. Whatever burns makes carbon monoxide, which kills "
                   "asleep: alarms in each cabin,"
                   " air in, exhaust out.",
                   climate_tables, more_of_climate);

void book_climate(Book *book)
{
    book_system_chapter(book, &climate_chapter);
}

/* Safety */

static const BookColumn alarm_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Detects", PROP_ALARM_DETECTS),
    VALUE_COLUMN("Expires", PROP_ALARM_EXPIRES),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
    VALUE_COLUMN("Not wired in", PROP_COMMON_PORTABLE),
};
static const BookColumn extinguisher_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Rating", PROP_EXTINGUISHER_RATING),
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
    VALUE_COLUMN("Fixed", PROP_EXTINGUISHER_FIXED),
    VALUE_COLUMN("Expires", PROP_EXTINGUISHER_EXPIRES),
};
static const BookColumn anchor_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Weight", PROP_COMMON_MASS),
    PROPERTY_COLUMN("Chain", PROP_ANCHOR_CHAIN),
    PROPERTY_COLUMN("Rope", PROP_ANCHOR_ROPE),
    FIGURE_COLUMN("Chain and rope weigh", FIGURE_RODE_MASS),
};
static const BookColumn gear_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Carried as", PROP_ITEM_CARRIED),
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Expires", PROP_ITEM_EXPIRES),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
    STATUS_COLUMN,
};
static const SystemTable safety_tables[] = {
    SYSTEM_TABLE("Alarms", KIND_ALARM, alarm_columns),
    SYSTEM_TABLE("Extinguishers", KIND_EXTINGUISHER, extinguisher_columns),
    SYSTEM_TABLE("Safety gear", KIND_ITEM, gear_columns),
    SYSTEM_TABLE("Anchors", KIND_ANCHOR, anchor_columns),
};

static void more_of_safety(Book *book)
{
    static const FigureId rows[] = {FIGURE_EXTINGUISHERS, FIGURE_EXTINGUISHERS_NEED};
    book_boat_figures(book, "Extinguishers that count", rows, sizeof rows / sizeof rows[0]);
}

static const SystemChapter safety_chapter =
    SYSTEM_CHAPTER(SYSTEM_SAFETY, "safety", NULL, safety_tables, more_of_safety);

void book_safety(Book *book)
{
    book_system_chapter(book, &safety_chapter);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_BILGE_PUMP && is_aboard(t->entity)) {
            book_say(book, "Bilge pumps and through-hulls stand in the chapter of water.");
            break;
        }
    }
    book_leaving(book);
}

/* Cabin */

static const SystemChapter cabin_chapter = {SYSTEM_CABIN, "the cabin", NULL, NULL, 0, NULL};

void book_cabin(Book *book)
{
    book_system_chapter(book, &cabin_chapter);
    book_spaces(book); /* whatever system its things belong to */
}

/* Hull */

static const BookColumn space_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Engine space", PROP_SPACE_ENGINE_SPACE),
    VALUE_COLUMN("Hottest", PROP_SPACE_TEMPERATURE),
    VALUE_COLUMN("Volume", PROP_SPACE_VOLUME),
    VALUE_COLUMN("Floor", PROP_SPACE_FLOOR),
    VALUE_COLUMN("Glass", PROP_SPACE_GLASS),
    VALUE_COLUMN("Hull, deck and roof", PROP_SPACE_SKIN),
    VALUE_COLUMN("Sleeping", PROP_SPACE_SLEEPING),
    VALUE_COLUMN("Wet", PROP_SPACE_WET),
    VALUE_COLUMN("Petrol", PROP_SPACE_PETROL),
    VALUE_COLUMN("Own bilge", PROP_SPACE_BILGE),
};
static const BookColumn windlass_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn anode_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Protects", PROP_ANODE_PROTECTS),
    VALUE_COLUMN("Material", PROP_ANODE_MATERIAL),
};
static const SystemTable hull_tables[] = {
    SYSTEM_TABLE("Spaces", KIND_SPACE, space_columns),
    SYSTEM_TABLE("Windlasses", KIND_WINDLASS, windlass_columns),
    SYSTEM_TABLE("Anodes", KIND_ANODE, anode_columns),
};

/* Every space whose air somebody asks about, with what is asked beside what is there. */
static bool is_aired(const Book *book, const BookThing *thing, const void *what)
{
    (void)what;
    const Entity *space = thing->entity;
    return space->kind == KIND_SPACE &&
           (entity_states(space, PROP_SPACE_OPENINGS) || entity_states(space, PROP_SPACE_OPEN_AIR) ||
            entity_states(space, PROP_SPACE_VENTILATED) || book_has_figure(book, space, FIGURE_FLAME_OPENING, NULL) ||
            book_has_figure(book, space, FIGURE_PETROL_OPENING, NULL));
}

static void more_of_hull(Book *book)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        VALUE_COLUMN("Open to the sky", PROP_SPACE_OPEN_AIR),
        VALUE_COLUMN("Ventilated", PROP_SPACE_VENTILATED),
        VALUE_COLUMN("Openings", PROP_SPACE_OPENINGS),
        FIGURE_COLUMN("Flames ask, high and low together", FIGURE_FLAME_OPENING),
        FIGURE_COLUMN("Petrol asks without a blower, in and out each", FIGURE_PETROL_OPENING),
    };
    if (book_table(book, "Air of the spaces", columns, sizeof columns / sizeof columns[0], is_aired, NULL)) {
        book_say(book, "The air that an engine burns stands in the chapter of drive and fuel.");
    }
}

static const SystemChapter hull_chapter =
    SYSTEM_CHAPTER(SYSTEM_HULL, "the hull",
                   "Every hole in the hull can sink her. Through-hulls stand in the chapter of water; work "
                   "on them is done ashore.",
                   hull_tables, more_of_hull);

void book_hull(Book *book)
{
    book_system_chapter(book, &hull_chapter);
}
