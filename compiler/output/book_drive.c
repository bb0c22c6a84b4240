/* The chapter of drive and fuel: engine to propeller, exhaust, fuel, thrusters, steering. */
#include "output/book_system.h"

static const BookColumn engine_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Rated", PROP_ENGINE_RATED),
    VALUE_COLUMN("Fuel", PROP_ENGINE_FUEL),
    VALUE_COLUMN("Specific consumption", PROP_ENGINE_SPECIFIC),
    VALUE_COLUMN("Raw water", PROP_ENGINE_RAW_WATER),
    VALUE_COLUMN("Starter", PROP_ENGINE_STARTER),
    VALUE_COLUMN("Idles at", PROP_ENGINE_IDLE),
    VALUE_COLUMN("Exhaust", PROP_ENGINE_EXHAUST),
};
static const BookColumn gearbox_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Engine", PROP_GEARBOX_ENGINE),
    VALUE_COLUMN("Ratio", PROP_GEARBOX_RATIO),
    VALUE_COLUMN("Efficiency", PROP_GEARBOX_EFFICIENCY),
};
static const BookColumn propeller_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Diameter", PROP_PROPELLER_DIAMETER),
    VALUE_COLUMN("Pitch", PROP_PROPELLER_PITCH),
    VALUE_COLUMN("Blades", PROP_PROPELLER_BLADES),
    VALUE_COLUMN("Area ratio", PROP_PROPELLER_AREA_RATIO),
    VALUE_COLUMN("Tip to hull", PROP_PROPELLER_APERTURE),
    VALUE_COLUMN("Shaft", PROP_PROPELLER_SHAFT),
    VALUE_COLUMN("Of", PROP_PROPELLER_MATERIAL),
    VALUE_COLUMN("Shaft of", PROP_PROPELLER_SHAFT_MATERIAL),
    VALUE_COLUMN("Wake", PROP_PROPELLER_WAKE),
};
static const BookColumn seal_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Propeller", PROP_SHAFT_SEAL_PROPELLER),
    VALUE_COLUMN("Shaft", PROP_SHAFT_SEAL_SHAFT),
    VALUE_COLUMN("Watered", PROP_SHAFT_SEAL_WATERED),
};
static const BookColumn exhaust_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Bore", PROP_EXHAUST_BORE),
    VALUE_COLUMN("Run", PROP_EXHAUST_RUN),
    VALUE_COLUMN("Bends", PROP_EXHAUST_BENDS),
    VALUE_COLUMN("Lift", PROP_EXHAUST_LIFT),
    VALUE_COLUMN("Elbow above the waterline", PROP_EXHAUST_RISER_ABOVE_WATERLINE),
    VALUE_COLUMN("Wet", PROP_EXHAUST_WET),
};
static const BookColumn fuel_line_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("From", PROP_FUEL_LINE_FROM),
    VALUE_COLUMN("To", PROP_FUEL_LINE_TO),
    VALUE_COLUMN("Bore", PROP_FUEL_LINE_BORE),
    VALUE_COLUMN("Run", PROP_FUEL_LINE_RUN),
    VALUE_COLUMN("Grade", PROP_FUEL_LINE_GRADE),
    VALUE_COLUMN("Shut-off", PROP_FUEL_LINE_SHUT_OFF),
    VALUE_COLUMN("Filter", PROP_FUEL_LINE_FILTER),
    VALUE_COLUMN("Separator", PROP_FUEL_LINE_SEPARATOR),
    VALUE_COLUMN("Return", PROP_FUEL_LINE_RETURN),
};
static const BookColumn thruster_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Thrust", PROP_THRUSTER_THRUST),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Longest burst", PROP_THRUSTER_LONGEST_BURST),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const BookColumn blower_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Flow", PROP_BLOWER_FLOW),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn steering_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Worked by", PROP_STEERING_WORKED_BY),
    VALUE_COLUMN("Second way to steer", PROP_STEERING_SECOND),
};
static const SystemTable drive_tables[] = {
    SYSTEM_TABLE("Engines", KIND_ENGINE, engine_columns),
    SYSTEM_TABLE("Gearboxes", KIND_GEARBOX, gearbox_columns),
    SYSTEM_TABLE("Propellers", KIND_PROPELLER, propeller_columns),
    SYSTEM_TABLE("Shaft seals", KIND_SHAFT_SEAL, seal_columns),
    SYSTEM_TABLE("Exhausts", KIND_EXHAUST, exhaust_columns),
    SYSTEM_TABLE("Fuel tanks", KIND_TANK, book_tank_columns),
    SYSTEM_TABLE("Fuel lines", KIND_FUEL_LINE, fuel_line_columns),
    SYSTEM_TABLE("Thrusters", KIND_THRUSTER, thruster_columns),
    SYSTEM_TABLE("Blowers", KIND_BLOWER, blower_columns),
    SYSTEM_TABLE("Steering", KIND_STEERING, steering_columns),
};

static void more_of_drive(Book *book)
{
    book_tank_days(book, SYSTEM_DRIVE);
}

static const SystemChapter drive_chapter =
    SYSTEM_CHAPTER(SYSTEM_DRIVE, "drive or fuel",
                   "Fuel vapour explodes, and a fuel leak feeds a fire. Local codes apply to tanks, hoses "
                   "and fittings; have the work"
                   " inspected where the law asks for it. Shut the tank valve, ventilate, and keep flames "
                   "and sparks away. Shaft and"
                   " exhaust pass the hull below or near the waterline: a seal or riser that fails floods "
                   "her. Turn the engine's start"
                   " circuit off before hands go near belts and shaft.",
                   drive_tables, more_of_drive);

void book_drive(Book *book)
{
    book_system_chapter(book, &drive_chapter);
}
