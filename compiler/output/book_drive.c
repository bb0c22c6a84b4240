/* The chapter of drive and fuel: engine to propeller, exhaust, fuel, thrusters, steering. */
#include "output/book_system.h"

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
    VALUE_COLUMN("Raw water", PROP_ENGINE_RAW_WATER),
    VALUE_COLUMN("Starter", PROP_ENGINE_STARTER),
    VALUE_COLUMN("Idles at", PROP_ENGINE_IDLE),
    VALUE_COLUMN("Exhaust", PROP_ENGINE_EXHAUST),
    VALUE_COLUMN("Ignition-protected", PROP_SPARK_IGNITION_PROTECTED),
    VALUE_COLUMN("Flame arrester", PROP_ENGINE_FLAME_ARRESTER),
    VALUE_COLUMN("Cut-off switch", PROP_ENGINE_CUT_OFF),
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

/* Numbers beside the properties. */

static const BookColumn power_columns[] = {
    NAME_COLUMN,
    FIGURE_COLUMN("Reaches the propeller", FIGURE_SHAFT_POWER),
    FIGURE_COLUMN("The hull can use", FIGURE_USABLE_POWER),
    FIGURE_COLUMN("Sea water", FIGURE_RAW_WATER_NEED),
    FIGURE_COLUMN("Intake at least", FIGURE_INTAKE_NEED),
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
static void speed_row(Book *book, const BookThing *asks, const BookThing *engine, bool *begun)
{
    bool day = asks->entity->kind == KIND_DAY;
    if (!book_has_figure(book, engine->entity, FIGURE_NEEDED_POWER, asks->entity)) {
        return;
    }
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Speeds"), NULL);
        markdown_paragraph(&book->md);
        book_prose(book, is_planing(outcome_first(book->outcome)->model)
                             ? "Power in flat water by Crouch's formula for hulls that plane, with her constant `crouch`."
                             : "Two published formulas for the power in flat water; they differ by a quarter, and the rules go by the "
                               "one that asks for more.");
        book_prose(book, " With margins: 15 % for sea and growth, and 85 % of rated power for long. Range with a fifth of the "
                         "fuel kept.");
        book_head(book,
                  (const char *const[]){"Day or goal", ">Speed", "Engine", ">Takes", ">or",
                                        ">Rated, with margins", ">Turns", ">Burns", ">Range"},
                  9);
        *begun = true;
    }
    markdown_row(&book->md);
    book_name_cell(book, asks);
    book_cell(book, book_value(book, asks->entity, day ? PROP_DAY_DISTANCE : PROP_GOAL_RANGE, 1));
    book_name_cell(book, engine);
    static const FigureId figures[] = {FIGURE_NEEDED_POWER, FIGURE_NEEDED_POWER_LOW, FIGURE_RATED_POWER_NEED,
                                       FIGURE_TURNS,        FIGURE_FUEL_RATE,        FIGURE_RANGE};
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        book_cell(book, book_figure(book, engine->entity, figures[i], asks->entity));
    }
}

static void write_speeds(Book *book)
{
    bool begun = false;
    for (const BookThing *asks = book->things; asks != NULL; asks = asks->next) {
        for (const BookThing *e = book->things; e != NULL; e = e->next) {
            bool speaks = asks->entity->kind == KIND_DAY || asks->entity->kind == KIND_GOAL;
            if (speaks && e->entity->kind == KIND_ENGINE) {
                speed_row(book, asks, e, &begun);
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

/* Laying up. */

typedef struct Step {
    KindId kind;
    bool (*wanted)(const Entity *entity); /* NULL: all of the kind */
    const char *text;
} Step;

static bool burns_within(const Entity *engine)
{
    return burns_fuel(engine) && !is_outboard(engine);
}

static bool burns_outside(const Entity *engine)
{
    return burns_fuel(engine) && is_outboard(engine);
}

static bool has_leg(const Entity *engine)
{
    return !is_outboard(engine) && !turns_a_shaft(engine);
}

/* The oil of a leg is told with the leg. */
static bool is_on_a_shaft(const Entity *gearbox)
{
    const Entity *engine = entity_reference(gearbox, PROP_GEARBOX_ENGINE);
    return engine == NULL || (!is_outboard(engine) && !has_leg(engine));
}

/* Pink spots are copper that zinc has left: bronzes, or what does not say. */
static bool may_lose_zinc(const Entity *propeller)
{
    Str material = entity_word(propeller, PROP_PROPELLER_MATERIAL);
    return material.length == 0 || str_is(material, "bronze") || str_is(material, "manganese-bronze") ||
           str_is(material, "aluminium-bronze");
}

static bool cannot_lose_zinc(const Entity *propeller)
{
    return !may_lose_zinc(propeller);
}

static bool has_no_second(const Entity *steering)
{
    return entity_yes(steering, PROP_STEERING_SECOND) == 0;
}

static bool may_have_second(const Entity *steering)
{
    return !has_no_second(steering);
}

static bool is_carried(const Entity *thing)
{
    return entity_yes(thing, PROP_COMMON_PORTABLE) == 1;
}

static bool stays_aboard(const Entity *thing)
{
    return !is_carried(thing);
}

static bool holds_diesel(const Model *model, const Entity *tank)
{
    return holds_fuel(tank) && !is_carried(tank) && fuel_held(model, tank) == FUEL_DIESEL;
}

static bool holds_petrol(const Model *model, const Entity *tank)
{
    return holds_fuel(tank) && !is_carried(tank) && fuel_held(model, tank) == FUEL_PETROL;
}

static bool holds_either(const Model *model, const Entity *tank)
{
    return holds_fuel(tank) && !is_carried(tank) && fuel_held(model, tank) == FUEL_UNKNOWN;
}

static bool is_can(const Model *model, const Entity *tank)
{
    (void)model;
    return holds_fuel(tank) && is_carried(tank);
}

/* What is done with a tank, by what is in it. */
static const struct {
    const char *text;
    bool (*wanted)(const Model *model, const Entity *tank);
} tank_steps[] = {
    {"Diesel tank: fill it, so that no water condenses in it, and add a biocide; drain what stands below the "
     "pick-up in spring.",
     holds_diesel},
    {"Petrol tank: petrol goes stale in a winter. Either empty tank, lines and engine, or fill in fresh petrol with a "
     "stabiliser and run the engine until it has come everywhere, as the engine's maker says. Leave room at the top, for petrol "
     "swells in the sun, and no biocide: that is for diesel. Shut the valve and keep the space aired.",
     holds_petrol},
    {"Fuel tank of which the spec does not say whether it holds petrol or diesel: find out first. Diesel is filled up and gets a "
     "biocide; petrol is taken out, or stabilised with room left at the top.",
     holds_either},
    {"Cans of fuel: carry them out of the boat, to where no flame and no spark is.", is_can},
};

static const Step winter_steps[] = {
    {KIND_ENGINE, burns_within,
     "Engine: run it warm and change oil and oil filter, so that acids do not lie in it all winter."},
    {KIND_ENGINE, is_cooled_by_the_sea,
     "Cooling: shut the intake, let it draw antifreeze for the raw-water side until that comes out of the "
     "exhaust, and stop it. Check the mixture of the closed circuit. Take the impeller out."},
    {KIND_GENERATOR, stays_aboard,
     "Generator: run it warm, change oil and oil filter, look at the mixture of its closed circuit. Where sea water cools it, shut "
     "the intake, let it draw antifreeze until that comes out of the exhaust, stop it and take the impeller out."},
    {KIND_GENERATOR, is_carried,
     "Generator that is carried: take it ashore, change its oil, and leave no stale petrol in tank and carburettor."},
    {KIND_ENGINE, burns_outside,
     "Outboard: flush it with fresh water, let it run empty upright, change the oil of its leg and look for "
     "water in the old one; keep it upright."},
    {KIND_ENGINE, has_leg,
     "Leg: change its oil and look for water in the old one, renew its anodes, and look at its bellows or seal."},
    {KIND_GEARBOX, is_on_a_shaft,
     "Gearbox: change its oil if that is milky, and look for where the water comes from."},
    {KIND_FUEL_LINE, NULL,
     "Fuel lines: shut the valve at the tank, drain the separator and change the filters; those of a diesel are bled."},
    {KIND_EXHAUST, NULL,
     "Exhaust: drain the water lock. Stop the outlet, and hang a note on the key that says so."},
    {KIND_PROPELLER, may_lose_zinc,
     "Propeller: look, ashore, for pink spots, nicks and play in the bearing; grease or renew what the maker "
     "says."},
    {KIND_PROPELLER, cannot_lose_zinc,
     "Propeller that is not of bronze: look, ashore, for pits, nicks and play in the bearing; grease or renew what the maker says."},
    {KIND_SHAFT_SEAL, NULL,
     "Shaft seal: look for drips before she comes out, and service it as its maker says."},
    {KIND_ANODE, NULL, "Anodes: renew what is half gone; never paint it."},
    {KIND_THRUSTER, NULL,
     "Thruster: clean tunnel and blades, renew its anode, and load its battery cables once."},
    {KIND_STEERING, may_have_second, "Steering: grease or bleed it, and try the second way to steer."},
    {KIND_STEERING, has_no_second, "Steering, of which there is one way alone: grease or bleed it."},
};

/* With which options something aboard asks for it. */
static CaseSet cases_of(const Book *book, const Step *step)
{
    CaseSet cases = 0;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *thing = first_aboard(book->outcome->cases[c].model, step->kind);
        while (thing != NULL && step->wanted != NULL && !step->wanted(thing)) {
            thing = next_aboard(thing);
        }
        cases |= thing != NULL ? (CaseSet)1 << c : 0;
    }
    return cases;
}

/* "Outboard (with motor=small): flush it ..." */
static void write_step(Book *book, const char *text, CaseSet cases, bool *begun)
{
    size_t head = strcspn(text, ":");
    if (cases == 0) {
        return;
    }
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Laying up for the winter"), NULL);
        book_say(book, "Common practice, no source; the makers' books go before it.");
        *begun = true;
    }
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, (Str){text, head});
    markdown_text(&book->md, str_from(book_with(book, cases)));
    markdown_text(&book->md, str_from(text + head));
}

static void write_tank_steps(Book *book, bool *begun)
{
    for (size_t i = 0; i < sizeof tank_steps / sizeof tank_steps[0]; i++) {
        CaseSet cases = 0;
        for (uint32_t c = 0; c < book->outcome->case_count; c++) {
            const Model *model = book->outcome->cases[c].model;
            const Entity *tank = first_aboard(model, KIND_TANK);
            while (tank != NULL && !tank_steps[i].wanted(model, tank)) {
                tank = next_aboard(tank);
            }
            cases |= tank != NULL ? (CaseSet)1 << c : 0;
        }
        write_step(book, tank_steps[i].text, cases, begun);
    }
}

static void write_winter(Book *book)
{
    bool begun = false;
    for (size_t i = 0; i < sizeof winter_steps / sizeof winter_steps[0]; i++) {
        if (winter_steps[i].kind == KIND_FUEL_LINE) {
            write_tank_steps(book, &begun);
        }
        write_step(book, winter_steps[i].text, cases_of(book, &winter_steps[i]), &begun);
    }
}

static void more_of_drive(Book *book)
{
    write_speeds(book);
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
    write_winter(book);
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
