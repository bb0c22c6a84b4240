/* See book_system.h. */
#include "output/book_system.h"

#include "figures/fuel_plan.h"

const BookColumn book_tank_columns[TANK_COLUMN_COUNT] = {
    NAME_COLUMN,
    TITLE_COLUMN,
    VALUE_COLUMN("Holds", PROP_TANK_HOLDS),
    FIGURE_COLUMN("Volume", FIGURE_VOLUME),
    FIGURE_COLUMN("Usable", FIGURE_USABLE_VOLUME),
    FIGURE_COLUMN("Contents when full", FIGURE_FULL_MASS),
    VALUE_COLUMN("Vent", PROP_TANK_VENT),
    VALUE_COLUMN("Fill", PROP_TANK_FILL),
    VALUE_COLUMN("Pump-out", PROP_TANK_PUMP_OUT),
    VALUE_COLUMN("Material", PROP_TANK_MATERIAL),
    VALUE_COLUMN("Wall", PROP_TANK_WALL),
    VALUE_COLUMN("Grounded", PROP_TANK_GROUNDED),
    VALUE_COLUMN("Coated", PROP_TANK_COATED),
    VALUE_COLUMN("Space", PROP_COMMON_SPACE),
};

/* Tanks by what they are asked for: days, or cruises; where a cruise fills or empties some on its way, by its stretches. */
typedef struct TankTable {
    const char *heading;
    KindId kind;
    FigureId flow, rest;
    const char *titles[5];
} TankTable;

static const char *const stretch_titles[3] = {">In or out", ">Most between fillings or emptyings", ">Least left"};

static const TankTable tank_tables[] = {
    {"Tanks, day by day",
     KIND_DAY,
     FIGURE_DAILY_FLOW,
     FIGURE_ENDURANCE,
     {"Day", "Tank", "Holds", ">In or out", ">Lasts"}},
    {"Tanks, cruise by cruise",
     KIND_CRUISE,
     FIGURE_CRUISE_FLOW,
     FIGURE_CRUISE_LEFT,
     {"Cruise", "Tank", "Holds", ">In or out", ">Left at the end"}},
};

static bool is_tank_of(const Book *book, const BookThing *thing, System system, FigureId flow, const BookThing *of)
{
    return thing->entity->kind == KIND_TANK && book_system(thing->entity) == system &&
           book_has_figure(book, thing->entity, flow, of->entity);
}

static bool some_stretch(const Book *book, System system)
{
    for (const BookThing *of = book->things; of != NULL; of = of->next) {
        for (const BookThing *t = book->things; of->entity->kind == KIND_CRUISE && t != NULL; t = t->next) {
            if (is_tank_of(book, t, system, FIGURE_CRUISE_STRETCH, of)) {
                return true;
            }
        }
    }
    return false;
}

/* On a cruise that fills nothing on its way all of it is one stretch. */
Str book_stretch(Book *book, const Entity *of, const Entity *cruise)
{
    bool renewed = book_has_figure(book, of, FIGURE_CRUISE_STRETCH, cruise);
    return book_figure(book, of, renewed ? FIGURE_CRUISE_STRETCH : FIGURE_CRUISE_FLOW, cruise);
}

static void head_tanks(Book *book, const TankTable *table, bool stretches)
{
    const char *titles[6] = {table->titles[0], table->titles[1], table->titles[2], table->titles[3], table->titles[4]};
    markdown_heading(&book->md, 3, str_from(table->heading), NULL);
    for (size_t i = 0; stretches && i < 3; i++) {
        titles[3 + i] = stretch_titles[i];
    }
    book_head(book, titles, stretches ? 6 : 5);
}

static void tank_rows(Book *book, const TankTable *table, const BookThing *of, System system, bool *begun)
{
    bool stretches = table->kind == KIND_CRUISE && some_stretch(book, system);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_tank_of(book, t, system, table->flow, of)) {
            continue;
        }
        if (!*begun) {
            head_tanks(book, table, stretches);
            *begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, of);
        book_name_cell(book, t);
        Fuel fuel = holds_fuel(t->entity) ? fuel_held(t->in->model, t->entity) : FUEL_UNKNOWN;
        book_cell(book, fuel != FUEL_UNKNOWN ? str_from(fuel_word(fuel)) : book_value(book, t->entity, PROP_TANK_HOLDS, 0));
        book_cell(book, book_figure(book, t->entity, table->flow, of->entity));
        if (stretches) {
            book_cell(book, book_stretch(book, t->entity, of->entity));
        }
        book_cell(book, book_figure(book, t->entity, table->rest, of->entity));
    }
}

/* How deep each tank is with so much of it, where its shape is known. */
static void write_dips(Book *book, System system)
{
    static const FigureId depths[] = {FIGURE_DIP_QUARTER, FIGURE_DIP_HALF, FIGURE_DIP_THREE_QUARTERS};
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        bool wanted = t->entity->kind == KIND_TANK && book_system(t->entity) == system;
        if (!wanted || !book_has_figure(book, t->entity, FIGURE_DIP_HALF, NULL)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Tanks, by the dipstick"), NULL);
            book_say(book, "How deep each is, from its floor, when she lies level; to a sender that measures height the same applies.");
            book_head(book, (const char *const[]){"Tank", ">Holds", ">With a quarter", ">Half", ">Three quarters"}, 5);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, book_figure(book, t->entity, FIGURE_VOLUME, NULL));
        for (size_t i = 0; i < sizeof depths / sizeof depths[0]; i++) {
            book_cell(book, book_figure(book, t->entity, depths[i], NULL));
        }
    }
}

void book_tank_days(Book *book, System system)
{
    for (size_t i = 0; i < sizeof tank_tables / sizeof tank_tables[0]; i++) {
        bool begun = false;
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (t->entity->kind == tank_tables[i].kind) {
                tank_rows(book, &tank_tables[i], t, system, &begun);
            }
        }
    }
    write_dips(book, system);
}

void book_boat_figures(Book *book, const char *heading, const FigureId rows[], size_t count)
{
    bool begun = false;
    for (size_t i = 0; i < count && book->boat != NULL; i++) {
        if (!book_has_figure(book, book->boat, rows[i], NULL)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, str_from(heading), NULL);
            book_head(book, (const char *const[]){"Figure", "What it is", ">"}, 3);
            begun = true;
        }
        markdown_row(&book->md);
        markdown_cell_code(&book->md, str_from(figure_rows[rows[i]].name));
        book_cell(book, str_from(figure_rows[rows[i]].help));
        book_cell(book, book_figure(book, book->boat, rows[i], NULL));
    }
}

/* A chapter */

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
    return is_aboard_in(thing, wanted->chapter) && thing->entity->kind == wanted->table->kind &&
           (wanted->table->wanted == NULL || wanted->table->wanted(thing->entity));
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
        NAME_COLUMN,
        TITLE_COLUMN,
        VALUE_COLUMN("Count", PROP_COMMON_COUNT),
        VALUE_COLUMN("Mass of one", PROP_COMMON_MASS),
        VALUE_COLUMN("Space", PROP_COMMON_SPACE),
        STATUS_COLUMN,
    };
    bool any = false;
    for (size_t i = 0; i < chapter->count; i++) {
        const SystemTable *table = &chapter->tables[i];
        Wanted wanted = {chapter, table};
        any =
            book_table(book, table->heading, table->columns, table->count, belongs_to_table, &wanted) || any;
    }
    const char *heading = any ? "Other things" : "Things";
    return book_table(book, heading, other_columns, sizeof other_columns / sizeof other_columns[0], is_other,
                      chapter) ||
           any;
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

void book_system_chapter(Book *book, const SystemChapter *chapter)
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
