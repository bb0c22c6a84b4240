/* The chapter of drive and fuel: engine to propeller, exhaust, fuel, thrusters, steering. */
#include "output/book_system.h"
#include "output/book_winter.h"

#include "model/status.h"
#include "figures/drive.h"
#include "figures/fuel_plan.h"

static const BookColumn engine_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Rated", PROP_ENGINE_RATED),
    VALUE_COLUMN("Fuel", PROP_ENGINE_FUEL),
    VALUE_COLUMN("Mounted", PROP_ENGINE_MOUNTED),
    VALUE_COLUMN("Specific consumption", PROP_ENGINE_SPECIFIC),
    VALUE_COLUMN("Cooled by", PROP_ENGINE_COOLING),
    VALUE_COLUMN("Keel cooler", PROP_ENGINE_KEEL_COOLER),
    VALUE_COLUMN("Raw water", PROP_ENGINE_RAW_WATER),
    VALUE_COLUMN("Starter", PROP_ENGINE_STARTER),
    VALUE_COLUMN("Idles at", PROP_ENGINE_IDLE),
    VALUE_COLUMN("Exhaust", PROP_ENGINE_EXHAUST),
    VALUE_COLUMN("Ignition-protected", PROP_SPARK_IGNITION_PROTECTED),
    VALUE_COLUMN("Flame arrester", PROP_ENGINE_FLAME_ARRESTER),
    VALUE_COLUMN("Cut-off switch", PROP_ENGINE_CUT_OFF),
    VALUE_COLUMN("Runs alone", PROP_ENGINE_ALONE),
};
static const BookColumn motor_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    PROPERTY_COLUMN("Rated", PROP_ENGINE_RATED),
    VALUE_COLUMN("Mounted", PROP_ENGINE_MOUNTED),
    VALUE_COLUMN("Efficiency", PROP_ENGINE_EFFICIENCY),
    PROPERTY_COLUMN("Takes", PROP_ENGINE_TAKES),
    VALUE_COLUMN("Raw water", PROP_ENGINE_RAW_WATER),
    VALUE_COLUMN("Runs alone", PROP_ENGINE_ALONE),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
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
    VALUE_COLUMN("Lagged", PROP_EXHAUST_LAGGED),
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
    VALUE_COLUMN("Shut-off at the engine", PROP_FUEL_LINE_ENGINE_SHUT_OFF),
    VALUE_COLUMN("Against siphoning", PROP_FUEL_LINE_ANTI_SIPHON),
    VALUE_COLUMN("Joins below the top", PROP_FUEL_LINE_BELOW_TOP),
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
    VALUE_COLUMN("Comes out", PROP_BLOWER_OUTPUT),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
    VALUE_COLUMN("Ignition-protected", PROP_SPARK_IGNITION_PROTECTED),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn steering_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Worked by", PROP_STEERING_WORKED_BY),
    VALUE_COLUMN("Second way to steer", PROP_STEERING_SECOND),
};
static const SystemTable drive_tables[] = {
    SYSTEM_TABLE_OF("Engines", KIND_ENGINE, engine_columns, burns_fuel),
    SYSTEM_TABLE_OF("Electric engines", KIND_ENGINE, motor_columns, is_electric),
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

/* Numbers beside the properties. */

static const BookColumn power_columns[] = {
    NAME_COLUMN,
    FIGURE_COLUMN("Reaches the propeller", FIGURE_SHAFT_POWER),
    FIGURE_COLUMN("The hull can use", FIGURE_USABLE_POWER),
    FIGURE_COLUMN("Sea water", FIGURE_RAW_WATER_NEED),
    FIGURE_COLUMN("Intake at least", FIGURE_INTAKE_NEED),
    FIGURE_COLUMN("Keel cooler", FIGURE_KEEL_COOLER_NEED),
    FIGURE_COLUMN("Openings for air", FIGURE_AIR_OPENING),
    FIGURE_COLUMN("or air blown in", FIGURE_AIR_FLOW),
};
static const BookColumn match_columns[] = {
    NAME_COLUMN,
    FIGURE_COLUMN("Turns", FIGURE_SHAFT_SPEED),
    FIGURE_COLUMN("Pitch that fits", FIGURE_MATCHED_PITCH),
    FIGURE_COLUMN("Best diameter", FIGURE_BEST_DIAMETER),
    FIGURE_COLUMN("Its pitch", FIGURE_BEST_PITCH),
    FIGURE_COLUMN("Diameter that fits the pitch", FIGURE_MATCHED_DIAMETER),
    FIGURE_COLUMN("Load of the stated pitch", FIGURE_PROPELLER_LOAD),
    FIGURE_COLUMN("Efficiency", FIGURE_PROPELLER_EFFICIENCY),
    FIGURE_COLUMN("Thrust", FIGURE_THRUST),
    FIGURE_COLUMN("Area ratio at least", FIGURE_LEAST_AREA_RATIO),
    FIGURE_COLUMN("Tip gap", FIGURE_TIP_GAP),
    FIGURE_COLUMN("Shaft at least", FIGURE_SHAFT_DIAMETER),
};
static const BookColumn pressure_columns[] = {
    NAME_COLUMN,
    FIGURE_COLUMN("Back pressure", FIGURE_BACK_PRESSURE),
};
static const BookColumn alternator_columns[] = {
    NAME_COLUMN,
    FIGURE_COLUMN("Takes at full output", FIGURE_BELT_POWER),
    FIGURE_COLUMN("Of what the engine can give at idle", FIGURE_IDLE_SHARE),
};
static const BookColumn burst_columns[] = {
    NAME_COLUMN,
    FIGURE_COLUMN("Voltage while it runs", FIGURE_BURST_VOLTAGE),
    FIGURE_COLUMN("Wants", FIGURE_LEAST_VOLTAGE),
    FIGURE_COLUMN("Cable after a burst", FIGURE_BURST_TEMPERATURE),
    FIGURE_COLUMN("Wind asks for", FIGURE_WIND_THRUST),
    FIGURE_COLUMN("Side area it holds", FIGURE_HELD_AREA),
};

static bool is_of_kind(const Book *book, const BookThing *thing, const void *kind)
{
    (void)book;
    return thing->entity->kind == *(const KindId *)kind && !(thing->entity->flags & ENTITY_DROPPED) &&
           !is_engineless(thing->entity); /* wind asks nothing of an engine */
}

static const SystemTable number_tables[] = {
    SYSTEM_TABLE("What the engines ask for", KIND_ENGINE, power_columns),
    SYSTEM_TABLE("Propellers at full power", KIND_PROPELLER, match_columns),
    SYSTEM_TABLE("Back pressure", KIND_EXHAUST, pressure_columns),
    SYSTEM_TABLE("Alternators on the engine", KIND_ALTERNATOR, alternator_columns),
    SYSTEM_TABLE("Thrusters while they run", KIND_THRUSTER, burst_columns),
};

/* Speeds that days and goals speak of, for each engine. */

static bool some_engine(const Book *book, bool (*wanted)(const Entity *engine))
{
    const BookThing *thing = book->things;
    while (thing != NULL && !(thing->entity->kind == KIND_ENGINE && wanted(thing->entity))) {
        thing = thing->next;
    }
    return thing != NULL;
}

static bool has_measured(const Entity *engine)
{
    return states_taken(engine, false);
}

static void begin_speeds(Book *book)
{
    bool burns = some_engine(book, burns_fuel), electric = some_engine(book, is_electric);
    markdown_heading(&book->md, 3, STR("Speeds"), NULL);
    markdown_paragraph(&book->md);
    book_prose(book, is_planing(outcome_first(book->outcome)->model)
                         ? "Power in flat water by Crouch's formula for hulls that plane, with her constant `crouch`; at speeds too "
                           "slow to plane no less than a displacement hull takes."
                         : "Two published formulas for the power in flat water; they differ by a quarter, and the rules go by the "
                           "one that asks for more.");
    if (some_engine(book, has_measured)) {
        book_prose(book, " What an electric engine `takes` by the boat's speed goes before them.");
    }
    book_prose(book, " With margins: 15 % for sea and growth, and 85 % of rated power for long. ");
    book_prose(book, !electric ? "Range with a fifth of the fuel kept."
                     : burns   ? "Range with a fifth of the fuel, or of the charge, kept."
                               : "Range with a fifth of the charge kept.");
    book_head(book,
              (const char *const[]){"Day or goal", ">Speed", "Engine", ">Takes", ">or", ">Rated, with margins", ">Turns",
                                    burns ? ">Burns" : ">Range", ">Range"},
              burns ? 9 : 8);
}

/* Day or goal, its speed, the engine. */
static void begin_speed_row(Book *book, const BookThing *asks, const BookThing *engine)
{
    bool day = asks->entity->kind == KIND_DAY;
    markdown_row(&book->md);
    book_name_cell(book, asks);
    book_cell(book, book_value(book, asks->entity, day ? PROP_DAY_DISTANCE : PROP_GOAL_RANGE, 1));
    book_name_cell(book, engine);
}

static void speed_row(Book *book, const BookThing *asks, const BookThing *engine, bool *begun)
{
    static const FigureId figures[] = {FIGURE_NEEDED_POWER, FIGURE_NEEDED_POWER_LOW, FIGURE_RATED_POWER_NEED,
                                       FIGURE_TURNS,        FIGURE_FUEL_RATE,        FIGURE_RANGE};
    if (!book_has_figure(book, engine->entity, FIGURE_NEEDED_POWER, asks->entity)) {
        return;
    }
    if (!*begun) {
        begin_speeds(book);
        *begun = true;
    }
    begin_speed_row(book, asks, engine);
    bool burns = some_engine(book, burns_fuel);
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        if (burns || figures[i] != FIGURE_FUEL_RATE) {
            book_cell(book, book_figure(book, engine->entity, figures[i], asks->entity));
        }
    }
}

/* What an electric engine takes from its bank at these speeds. */
static void bank_row(Book *book, const BookThing *asks, const BookThing *engine, bool *begun)
{
    static const FigureId figures[] = {FIGURE_TAKEN_POWER, FIGURE_TAKEN_CURRENT, FIGURE_MILE_ENERGY};
    if (!book_has_figure(book, engine->entity, FIGURE_TAKEN_POWER, asks->entity)) {
        return;
    }
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("From the bank at these speeds"), NULL);
        book_head(book, (const char *const[]){"Day or goal", ">Speed", "Engine", ">Power", ">Current", ">For each nautical mile"}, 6);
        *begun = true;
    }
    begin_speed_row(book, asks, engine);
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        book_cell(book, book_figure(book, engine->entity, figures[i], asks->entity));
    }
}

static void write_speeds(Book *book, void (*row)(Book *book, const BookThing *asks, const BookThing *engine, bool *begun))
{
    bool begun = false;
    for (const BookThing *asks = book->things; asks != NULL; asks = asks->next) {
        for (const BookThing *e = book->things; e != NULL; e = e->next) {
            bool speaks = asks->entity->kind == KIND_DAY || asks->entity->kind == KIND_GOAL;
            if (speaks && e->entity->kind == KIND_ENGINE) {
                row(book, asks, e, &begun);
            }
        }
    }
}

/* Options side by side: what differs between them. */

typedef struct OptionRow {
    KindId kind;
    FigureId figure;
    const char *title;
} OptionRow;

static const OptionRow option_rows[] = {
    {KIND_ENGINE, FIGURE_SHAFT_POWER, "Power that reaches the propeller"},
    {KIND_BOAT, FIGURE_FULL_SPEED, "Speed with all of it"},
    {KIND_PROPELLER, FIGURE_SHAFT_SPEED, "Turns of the propeller"},
    {KIND_PROPELLER, FIGURE_PITCH_SPEED, "Speed of its pitch, without slip"},
    {KIND_PROPELLER, FIGURE_MATCHED_PITCH, "Pitch that fits"},
    {KIND_PROPELLER, FIGURE_BEST_DIAMETER, "Best diameter"},
    {KIND_PROPELLER, FIGURE_BEST_PITCH, "Its pitch"},
    {KIND_PROPELLER, FIGURE_MATCHED_DIAMETER, "Diameter that fits the stated pitch"},
    {KIND_PROPELLER, FIGURE_PROPELLER_LOAD, "Load of the stated pitch"},
    {KIND_PROPELLER, FIGURE_PROPELLER_EFFICIENCY, "Efficiency of the propeller"},
    {KIND_PROPELLER, FIGURE_THRUST, "Thrust at full power"},
    {KIND_PROPELLER, FIGURE_LEAST_AREA_RATIO, "Area ratio, at least"},
    {KIND_PROPELLER, FIGURE_SHAFT_DIAMETER, "Shaft, at least"},
    {KIND_EXHAUST, FIGURE_BACK_PRESSURE, "Exhaust presses back"},
    {KIND_ENGINE, FIGURE_RAW_WATER_NEED, "Sea water to cool it"},
    {KIND_ENGINE, FIGURE_AIR_OPENING, "Openings for its air"},
    {KIND_ALTERNATOR, FIGURE_IDLE_SHARE, "Alternator at idle"},
};

/* The same at a speed that a day or goal speaks of. */
static const OptionRow speed_rows[] = {
    {KIND_ENGINE, FIGURE_TURNS, "Turns on"},
    {KIND_ENGINE, FIGURE_FUEL_RATE, "Burns on"},
    {KIND_ENGINE, FIGURE_TAKEN_POWER, "Takes from its bank on"},
    {KIND_BOAT, FIGURE_RANGE, "Range on"},
};

/* Whether a figure is not the same with all options. */
static bool differs(const Book *book, uint32_t choice, const Entity *subject, FigureId id, const Entity *at)
{
    Str first = book_figure_in(book, book_case_with(book, choice, 0), subject, id, at);
    for (uint32_t o = 1; o < book->outcome->spec->choices[choice].option_count; o++) {
        if (!str_equal(first, book_figure_in(book, book_case_with(book, choice, o), subject, id, at))) {
            return true;
        }
    }
    return false;
}

static void option_row(Book *book, uint32_t choice, const OptionRow *row, const Entity *subject, const Entity *at, bool *begun)
{
    const Choice *open = &book->outcome->spec->choices[choice];
    if (subject->kind != row->kind || !differs(book, choice, subject, row->figure, at)) {
        return;
    }
    if (!*begun) {
        Str name = symbols_text(book->outcome->spec->symbols, open->name);
        markdown_heading(&book->md, 3, str_from(text_format(book->arena, "By option of %.*s", STR_ARG(name))), NULL);
        book_option_heads(book, open);
        *begun = true;
    }
    book_option_row(book, choice, row->title, subject, row->figure, at);
}

static void write_options_of(Book *book, uint32_t choice)
{
    bool begun = false;
    for (size_t i = 0; i < sizeof option_rows / sizeof option_rows[0]; i++) {
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            option_row(book, choice, &option_rows[i], t->entity, NULL, &begun);
        }
    }
    for (const BookThing *asks = book->things; asks != NULL; asks = asks->next) {
        bool speaks = asks->entity->kind == KIND_DAY || asks->entity->kind == KIND_GOAL;
        for (size_t i = 0; speaks && i < sizeof speed_rows / sizeof speed_rows[0]; i++) {
            for (const BookThing *t = book->things; t != NULL; t = t->next) {
                option_row(book, choice, &speed_rows[i], t->entity, asks->entity, &begun);
            }
        }
    }
}

static void write_options(Book *book)
{
    for (uint32_t i = 0; i < book->outcome->spec->choice_count; i++) {
        const Choice *choice = &book->outcome->spec->choices[i];
        if (choice->picked < 0 && choice->option_count > 1) {
            write_options_of(book, i);
        }
    }
}

/* What a starter may set fire to: 33 CFR 183.610(f) names the label and its words (verified). The list is common practice, no source. */
static void write_before_starting(Book *book)
{
    static const char *const steps[] = {
        "After filling: shut off, then open hatches and doors, and wait until nothing smells of petrol.",
        ("Open the engine's space, look for fuel in the bilge, and smell low down: vapour of petrol is heavier than air, and a nose "
         "finds it where a blower has not been."),
        "Run the blower for four minutes, with nothing else switched on and no flame alight, and smell again.",
        "Where it smells, do not start and switch nothing: shut the tank valve, let everybody ashore, air her, and find the leak.",
        "Let the blower run on while she idles and goes slowly.",
    };
    if (book->outcome->basis != BASIS_US || !some_engine(book, is_petrol_inboard)) {
        return;
    }
    markdown_heading(&book->md, 3, STR("Before a petrol engine is started"), NULL);
    book_say(book, "A boat that has to have an exhaust blower carries a label as close as can be to each ignition switch, in plain view of "
                   "whoever starts (33 CFR 183.610(f), verified). It says at least: WARNING: GASOLINE VAPORS CAN EXPLODE. BEFORE STARTING "
                   "ENGINE OPERATE BLOWER FOR 4 MINUTES AND CHECK ENGINE COMPARTMENT BILGE FOR GASOLINE VAPORS. What follows is common "
                   "practice, no source, beside what the engine's maker asks.");
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        markdown_item(&book->md, MARKDOWN_NUMBER, 0);
        markdown_text(&book->md, str_from(steps[i]));
    }
}

static void more_of_drive(Book *book)
{
    write_before_starting(book);
    write_speeds(book, speed_row);
    write_speeds(book, bank_row);
    book_picture(book, "img/drive-power");
    write_options(book);
    for (size_t i = 0; i < sizeof number_tables / sizeof number_tables[0]; i++) {
        const SystemTable *table = &number_tables[i];
        bool any = book_table(book, table->heading, table->columns, table->count, is_of_kind, &table->kind);
        if (any && table->kind == KIND_PROPELLER) {
            markdown_paragraph(&book->md);
            book_prose(book, "Screws of the Wageningen B-series at the engine's rated speed and her `full-speed`, in open water: "
                             "take torque for 5 % uncertain. A maker's figures go before them, and the proof is the speed "
                             "that the engine reaches wide open, loaded and clean. \"None\" fits where even the least or "
                             "the steepest pitch of the series takes too much or too little.");
        }
    }
    book_tank_days(book, SYSTEM_DRIVE);
    book_picture(book, "img/drive-fuel");
    book_laying_up(book);
}

/* What burns, or holds or brings what burns. */
static bool some_fuel(const Book *book)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        KindId kind = (KindId)t->entity->kind;
        if ((kind == KIND_ENGINE && burns_fuel(t->entity)) || kind == KIND_FUEL_LINE || kind == KIND_EXHAUST || kind == KIND_GENERATOR ||
            (kind == KIND_TANK && holds_fuel(t->entity))) {
            return true;
        }
    }
    return false;
}

static const char fuel_caution[] =
    "Fuel vapour explodes, and a fuel leak feeds a fire. Local codes apply to tanks, hoses and fittings; have the work inspected where the "
    "law asks for it. Shut the tank valve, ventilate, and keep flames and sparks away. Shaft and exhaust pass the hull below or near the "
    "waterline: a seal or riser that fails floods her. Turn the engine's start circuit off before hands go near belts and shaft.";
static const char motor_caution[] =
    "A shaft passes the hull below the waterline: a seal that fails floods her.";
static const char isolate_caution[] =
    "Isolate the bank of an electric engine before hands go near motor, controller, belts or shaft, and see to it that nobody can switch it "
    "on: such a bank gives thousands of amperes, and a motor starts without a sound. A controller holds charge for a while after that: wait "
    "as its maker says, and measure before you touch. Local codes apply: where they ask for a trained electrician, have one do it.";

static const char *caution_of(const Book *book)
{
    if (!some_engine(book, is_electric)) {
        return fuel_caution;
    }
    return text_format(book->arena, "%s %s", some_fuel(book) ? fuel_caution : motor_caution, isolate_caution);
}

void book_drive(Book *book)
{
    SystemChapter chapter = SYSTEM_CHAPTER(SYSTEM_DRIVE, "drive or fuel", caution_of(book), drive_tables, more_of_drive);
    book_system_chapter(book, &chapter);
}
