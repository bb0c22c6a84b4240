/* The chapter of water: fresh, grey and black, the holes in the hull that it passes, and the bilge. */
#include "output/book_system.h"
#include "output/book_winter.h"
#include "output/diagram_water.h"

#include "figures/water.h"

static const BookColumn pump_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("From", PROP_PUMP_FROM),
    PROPERTY_COLUMN("To", PROP_PUMP_TO),
    VALUE_COLUMN("Free flow", PROP_PUMP_FLOW),
    VALUE_COLUMN("Starts at", PROP_PUMP_CUT_IN),
    VALUE_COLUMN("Stops at", PROP_PUMP_PRESSURE),
    VALUE_COLUMN("Self-priming", PROP_PUMP_SELF_PRIMING),
    VALUE_COLUMN("By hand or foot", PROP_PUMP_HAND),
    VALUE_COLUMN("Accumulator", PROP_PUMP_ACCUMULATOR),
    FIGURE_COLUMN("Moves with everything open", FIGURE_FLOW),
    FIGURE_COLUMN("Against", FIGURE_HEAD),
    FIGURE_COLUMN("Draws up", FIGURE_SUCTION_LIFT),
    PROPERTY_COLUMN("Draw", PROP_LOAD_DRAW),
};
static const BookColumn hose_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("From", PROP_HOSE_FROM),
    VALUE_COLUMN("To", PROP_HOSE_TO),
    VALUE_COLUMN("Bore", PROP_HOSE_BORE),
    VALUE_COLUMN("Run", PROP_HOSE_RUN),
    VALUE_COLUMN("Rise", PROP_HOSE_RISE),
    VALUE_COLUMN("Grade", PROP_HOSE_GRADE),
    VALUE_COLUMN("Clamps", PROP_HOSE_CLAMPS),
    VALUE_COLUMN("Below the waterline", PROP_HOSE_BELOW_WATERLINE),
    VALUE_COLUMN("Secured", PROP_HOSE_SECURED),
    FIGURE_COLUMN("Fastest water, on a tap's worse way", FIGURE_VELOCITY),
};
static const BookColumn fixture_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Cold", PROP_FIXTURE_COLD),
    VALUE_COLUMN("Hot", PROP_FIXTURE_HOT),
    VALUE_COLUMN("Wished flow", PROP_FIXTURE_FLOW),
    FIGURE_COLUMN("Gets alone", FIGURE_FLOW),
    FIGURE_COLUMN("Gets with everything open", FIGURE_FLOW_TOGETHER),
    FIGURE_COLUMN("Lost on the way", FIGURE_PRESSURE_LOSS),
    VALUE_COLUMN("Drains to", PROP_FIXTURE_DRAINS_TO),
};
static const BookColumn water_heater_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Holds", PROP_WATER_HEATER_CAPACITY),
    VALUE_COLUMN("Element", PROP_WATER_HEATER_ELEMENT),
    VALUE_COLUMN("Exchanger", PROP_WATER_HEATER_EXCHANGER),
    VALUE_COLUMN("Engine", PROP_WATER_HEATER_ENGINE),
    VALUE_COLUMN("Heated by", PROP_WATER_HEATER_HEATED_BY),
    VALUE_COLUMN("Relief valve", PROP_WATER_HEATER_RELIEF_VALVE),
    VALUE_COLUMN("Mixing valve", PROP_WATER_HEATER_MIXING_VALVE),
    VALUE_COLUMN("Check valve", PROP_WATER_HEATER_CHECK_VALVE),
    VALUE_COLUMN("Setting", PROP_WATER_HEATER_SETTING),
    FIGURE_COLUMN("Hot after", FIGURE_HEAT_UP),
    FIGURE_COLUMN("By its element", FIGURE_HEAT_UP_ELEMENT),
    FIGURE_COLUMN("By its coil", FIGURE_HEAT_UP_ENGINE),
    FIGURE_COLUMN("Takes from the bank", FIGURE_HEAT_UP_ENERGY),
    FIGURE_COLUMN("At the shower", FIGURE_SHOWER_WATER),
    FIGURE_COLUMN("Showers", FIGURE_SHOWERS),
};
static const BookColumn toilet_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Worked by", PROP_TOILET_WORKED_BY),
    VALUE_COLUMN("To", PROP_TOILET_TO),
    VALUE_COLUMN("Flush", PROP_TOILET_FLUSH),
    VALUE_COLUMN("Flushes with", PROP_TOILET_FLUSHES_WITH),
    VALUE_COLUMN("Rim above the waterline", PROP_TOILET_RIM),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};
static const BookColumn through_hull_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Bore", PROP_THROUGH_HULL_BORE),
    VALUE_COLUMN("Above the waterline", PROP_THROUGH_HULL_HEIGHT),
    FIGURE_COLUMN("Least height clear of the sea", FIGURE_LEAST_HEIGHT),
    FIGURE_COLUMN("Inflow if its hose comes off", FIGURE_INFLOW),
    PROPERTY_COLUMN("Serves", PROP_THROUGH_HULL_SERVES),
    VALUE_COLUMN("Seacock", PROP_THROUGH_HULL_SEACOCK),
    VALUE_COLUMN("In reach", PROP_THROUGH_HULL_REACH),
    VALUE_COLUMN("Material", PROP_THROUGH_HULL_MATERIAL),
    VALUE_COLUMN("Valve of", PROP_THROUGH_HULL_VALVE),
    VALUE_COLUMN("Backing", PROP_THROUGH_HULL_BACKING),
    VALUE_COLUMN("Clamps", PROP_THROUGH_HULL_CLAMPS),
    VALUE_COLUMN("Secured", PROP_THROUGH_HULL_SECURED),
};
static const BookColumn vent_loop_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("On", PROP_VENT_LOOP_ON),
    VALUE_COLUMN("Above the waterline", PROP_VENT_LOOP_HEIGHT),
    FIGURE_COLUMN("Least height clear of the sea", FIGURE_LEAST_HEIGHT),
};
static const BookColumn strainer_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("On", PROP_STRAINER_ON),
    VALUE_COLUMN("Bore", PROP_STRAINER_BORE),
};
static const BookColumn bilge_columns[] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Count", PROP_COMMON_COUNT),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
    VALUE_COLUMN("Free flow", PROP_BILGE_PUMP_RATED),
    VALUE_COLUMN("Lift", PROP_BILGE_PUMP_LIFT),
    PROPERTY_COLUMN("Hose", PROP_BILGE_PUMP_OUTLET),
    FIGURE_COLUMN("Moves in this boat", FIGURE_PUMPED),
    VALUE_COLUMN("Automatic", PROP_BILGE_PUMP_AUTOMATIC),
    VALUE_COLUMN("By hand", PROP_BILGE_PUMP_HAND),
    VALUE_COLUMN("Alarm", PROP_BILGE_PUMP_ALARM),
    VALUE_COLUMN("Outlet above the waterline", PROP_BILGE_PUMP_DISCHARGE_HEIGHT),
    FIGURE_COLUMN("Least height clear of the sea", FIGURE_LEAST_HEIGHT),
    VALUE_COLUMN("Check valve", PROP_BILGE_PUMP_CHECK_VALVE),
    VALUE_COLUMN("Fed by", PROP_FEED_FED_BY),
};
static const SystemTable water_tables[] = {
    SYSTEM_TABLE("Tanks", KIND_TANK, book_tank_columns),
    SYSTEM_TABLE("Pumps", KIND_PUMP, pump_columns),
    SYSTEM_TABLE("Hoses", KIND_HOSE, hose_columns),
    SYSTEM_TABLE("Fixtures", KIND_FIXTURE, fixture_columns),
    SYSTEM_TABLE("Water heaters", KIND_WATER_HEATER, water_heater_columns),
    SYSTEM_TABLE("Toilets", KIND_TOILET, toilet_columns),
    SYSTEM_TABLE("Through-hulls", KIND_THROUGH_HULL, through_hull_columns),
    SYSTEM_TABLE("Vented loops", KIND_VENT_LOOP, vent_loop_columns),
    SYSTEM_TABLE("Strainers", KIND_STRAINER, strainer_columns),
    SYSTEM_TABLE("Bilge pumps", KIND_BILGE_PUMP, bilge_columns),
};

static void write_pumping(Book *book)
{
    static const FigureId rows[] = {FIGURE_PUMPING,           FIGURE_PUMPING_NEED, FIGURE_HAND_PUMPING,
                                    FIGURE_HAND_PUMPING_NEED, FIGURE_FIRST_PUMPING, FIGURE_SECOND_PUMPING,
                                    FIGURE_INFLOW,            FIGURE_HEELED_WATERLINE};
    book_boat_figures(book, "Bilge pumping, and the sea when she heels", rows, sizeof rows / sizeof rows[0]);
}

/* An exhaust ends in an opening too, of which nothing is known where no through-hull serves it. */
static void say_unsaid_outlets(Book *book)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_EXHAUST && is_aboard(t->entity) && !diagram_is_outlet_stated(t->in->model, t->entity)) {
            if (!any) {
                markdown_paragraph(&book->md);
            }
            markdown_text(&book->md, any ? STR(", ") : STR("An opening too, of which the spec says neither height nor seacock nor "
                                                           "material: the outlet of "));
            markdown_code(&book->md, book_name(book, t->entity));
            any = true;
        }
    }
    if (any) {
        book_prose(book, ". A `through-hull` that `serves` the exhaust says it.");
    }
}

static bool is_opening(const Entity *thing)
{
    return thing->kind == KIND_THROUGH_HULL || (thing->kind == KIND_BILGE_PUMP && entity_states(thing, PROP_BILGE_PUMP_DISCHARGE_HEIGHT)) ||
           (thing->kind == KIND_TOILET && entity_states(thing, PROP_TOILET_RIM));
}

/* Openings in the hull that no thing of their own states: pipes of other things end in them. */
static const char *opening_of(const Entity *thing)
{
    return thing->kind == KIND_GAS_LOCKER && entity_yes(thing, PROP_GAS_LOCKER_DRAINED_OVERBOARD) == 1 ? "the drain of "
           : thing->kind == KIND_TANK && !is_carried(thing) && entity_states(thing, PROP_TANK_VENT)    ? "the vent of "
                                                                                                         : NULL;
}

/* The cases in which it is one. */
static CaseSet opening_in(const Book *book, const BookThing *thing)
{
    CaseSet cases = 0;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *same = book_same_thing(&book->outcome->cases[c], thing->entity);
        cases |= same != NULL && is_aboard(same) && (is_opening(same) || opening_of(same) != NULL) ? (CaseSet)1 << c : 0;
    }
    return cases;
}

/* What stands in the picture is drawn with one option of each choice, and with things that have a height of their own. */
static void say_undrawn_openings(Book *book)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        CaseSet cases = opening_in(book, t);
        const Entity *drawn = cases & 1 ? book_same_thing(outcome_first(book->outcome), t->entity) : NULL;
        if (cases == 0 || (drawn != NULL && is_opening(drawn))) {
            continue;
        }
        const char *what = opening_of(t->entity);
        if (!any) {
            markdown_paragraph(&book->md);
        }
        markdown_text(&book->md, any ? STR(", ") : STR("Not on the picture of openings: "));
        markdown_text(&book->md, str_from(what != NULL ? what : ""));
        markdown_code(&book->md, book_name(book, t->entity));
        markdown_text(&book->md, str_from(book_with(book, cases)));
        any = true;
    }
    markdown_text(&book->md, any ? STR(".") : STR(""));
}

static void more_of_water(Book *book)
{
    book_picture(book, "img/water-fresh");
    book_picture(book, "img/water-waste");
    book_picture(book, "img/hull-openings");
    say_undrawn_openings(book);
    say_unsaid_outlets(book);
    book_tank_days(book, SYSTEM_WATER);
    write_pumping(book);
    book_winter(book);
}

static const SystemChapter water_chapter =
    SYSTEM_CHAPTER(SYSTEM_WATER, "water, waste or the bilge",
                   "A hose or fitting that fails below the waterline sinks the boat, often while nobody is "
                   "aboard. Close every seacock"
                   " before you work on its hose, know that it holds, and have a plug at hand. Water from an "
                   "engine's exchanger scalds."
                   " What may go overboard, and where, is a matter of law.",
                   water_tables, more_of_water);

void book_water(Book *book)
{
    book_system_chapter(book, &water_chapter);
}
