/*
 * Of the chapter of electric power: the energy of each day and cruise, with what draws, what each bank is left with and what each
 * source brings.
 */
#include "output/book_chapters.h"

#include "figures/power_series.h"
#include "output/energy_chart.h"
#include "output/picture.h"

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

/* What converters carry between banks, in the run of the pictures: of the first case, begun as they say. */
static bool carried_between(Book *book, const Entity *when)
{
    enum { MOST_DAYS = 400 };
    bool any = false;
    Arena *arena = book->arena;
    for (const Entity *bank = book->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        PowerSeries series;
        bool run = !(bank->flags & ENTITY_DROPPED) && power_series(arena, book->figures, bank, when, MOST_DAYS, &series);
        for (uint32_t s = 0; run && s < series.source_count; s++) {
            const SeriesSource *source = &series.sources[s];
            if (source->other == NULL || source->moved_j <= 0.0) {
                continue;
            }
            if (!any) {
                book_head(book, (const char *const[]){"Bank", "By", ">Brings it", ">Takes from it", "Other bank"}, 5);
                any = true;
            }
            Buf energy;
            buf_init(&energy, arena);
            unit_print(&energy, (UnitPair){UNIT_WH, UNIT_NONE}, source->moved_j, source->moved_j);
            markdown_row(&book->md);
            markdown_cell_code(&book->md, book_name(book, bank));
            markdown_cell_code(&book->md, book_name(book, source->maker));
            book_cell(book, source->takes ? book_nothing : buf_str(&energy));
            book_cell(book, source->takes ? buf_str(&energy) : book_nothing);
            markdown_cell_code(&book->md, book_name(book, source->other));
        }
    }
    if (any) {
        Str with = picture_drawn_with(book);
        book_say(book, "What goes from bank to bank is that of the pictures: %s, in the worse case%s%s. It is in the balance of the bank that "
                       "gives it; what one brings and takes differs by its voltage and what it loses.",
                 when->kind == KIND_DAY ? "a day begun full" : "the cruise begun as it says", with.length > 0 ? ", drawn with " : "",
                 with.length > 0 ? str_copy(arena, with) : "");
    }
    return any;
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
        book_say(book, carried_between(book, when) ? "No source brings the banks anything from outside then."
                                                   : "No source brings the banks anything then.");
        return;
    }
    carried_between(book, when);
    if (when->kind == KIND_DAY) { /* who adds the columns up would find a fault that is none */
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

/* What of the engine is counted on a day that says how far she goes and nothing of the engine. */
static void tell_under_way(Book *book, const BookThing *day)
{
    if (!book_has_figure(book, day->entity, FIGURE_UNDER_WAY, NULL)) {
        return;
    }
    bool by_distance = engine_by_distance(day->entity);
    if (!by_distance && entity_states(day->entity, PROP_DAY_ENGINE)) {
        return;
    }
    markdown_paragraph(&book->md);
    if (by_distance) {
        Str time = book_figure(book, day->entity, FIGURE_UNDER_WAY, NULL);
        book_prose(book, text_format(book->arena, "The day states no `engine`, and she has no sails: her engine is counted for the time "
                                                  "that her `distance` takes, %.*s.", STR_ARG(time)));
    } else {
        book_prose(book, "The day says how far she goes and states no `engine`: all of it is taken to be sailed, and neither her motor "
                         "nor the fuel is counted.");
    }
}

void book_energy(Book *book)
{
    bool told = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_DAY) {
            begin_time(book, t, "A day's energy");
            tell_under_way(book, t);
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
