/*
 * The chapter of weight: what she weighs system by system, how she floats with her tanks empty and full, what of it is
 * heaviest, and what nobody has weighed.
 */
#include "output/book_chapters.h"
#include "output/book_system.h"

#include "model/status.h"

#include <math.h>
#include <string.h>

/* Of fewer things than so many the heaviest are found by eye in the table of all. */
enum { HEAVIEST = 12, MANY = 20 };

static bool is_hers(const BookThing *thing)
{
    return book_is_physical(thing->entity) && !is_ashore(thing->entity);
}

/* Of an anchor: what chain and rope weigh, which counts whether or not it states its own mass. */
static bool has_rode(const Book *book, const BookThing *thing)
{
    return thing->entity->kind == KIND_ANCHOR && book_has_figure(book, thing->entity, FIGURE_RODE_MASS, NULL);
}

/* By itself; of an anchor chain and rope alone may be weighed. */
static bool is_weighed(const BookThing *thing)
{
    return is_hers(thing) && entity_states(thing->entity, PROP_COMMON_MASS);
}

static bool counts(const Book *book, const BookThing *thing)
{
    return is_weighed(thing) || (is_hers(thing) && has_rode(book, thing));
}

static void mass_row(Book *book, const BookThing *thing)
{
    markdown_row(&book->md);
    book_cell(book, str_from(system_word((System)thing->entity->system)));
    book_name_cell(book, thing);
    book_cell(book, book_title(book, thing->entity));
    book_cell(book, book_value(book, thing->entity, PROP_COMMON_COUNT, 0));
    book_cell(book, book_value(book, thing->entity, PROP_COMMON_MASS, 0));
    if (has_rode(book, thing)) {
        markdown_format(&book->md, "; chain and rope %s", book_figure(book, thing->entity, FIGURE_RODE_MASS, NULL).text);
    }
    book_cell(book, book_property(book, thing->entity, PROP_COMMON_AT));
}

static const char *const mass_titles[] = {"System", "Name",         "What",
                                          ">Count", ">Mass of one", "Aft of the bow, to starboard, up"};

static void write_list(Book *book)
{
    bool begun = false;
    for (int system = SYSTEM_NONE; system < SYSTEM_COUNT; system++) {
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (!counts(book, t) || t->entity->system != system) {
                continue;
            }
            if (!begun) {
                markdown_heading(&book->md, 3, STR("What she weighs"), NULL);
                book_head(book, mass_titles, 6);
                begun = true;
            }
            mass_row(book, t);
        }
    }
    if (!begun) {
        book_say(book, "The spec states no mass of anything but the boat.");
    }
}

/* Only for the order: nothing of it is printed. */
static double weight_of(const BookThing *thing)
{
    const Value *mass = property_value(entity_property(thing->entity, PROP_COMMON_MASS), 0);
    const Figure *rode = figure_find(thing->in->figures, thing->entity, FIGURE_RODE_MASS, NULL);
    Interval count = purchase_of(thing->entity).count;
    double own = mass->kind != VALUE_QUANTITY || isinf(mass->u.quantity.high) ? 0.0 : mass->u.quantity.high;
    double hangs = rode != NULL && rode->state == STATE_KNOWN && isfinite(rode->high) ? rode->high : 0.0;
    return (own + hangs) * (isfinite(count.high) ? count.high : 1.0);
}

/* Keeps the heaviest so far in order; of equals the first stays first. */
static size_t put_in(const BookThing *heaviest[HEAVIEST], size_t count, const BookThing *thing)
{
    size_t place = count;
    while (place > 0 && weight_of(heaviest[place - 1]) < weight_of(thing)) {
        place--;
    }
    if (place == HEAVIEST) {
        return count;
    }
    count = count < HEAVIEST ? count + 1 : count;
    for (size_t i = count - 1; i > place; i--) {
        heaviest[i] = heaviest[i - 1];
    }
    heaviest[place] = thing;
    return count;
}

static void write_heaviest(Book *book)
{
    const BookThing *heaviest[HEAVIEST];
    size_t count = 0, all = 0;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        all += counts(book, t);
        if (counts(book, t)) {
            count = put_in(heaviest, count, t);
        }
    }
    if (all < MANY) {
        return;
    }
    markdown_heading(&book->md, 3, STR("The heaviest"), NULL);
    book_head(book, mass_titles, 6);
    for (size_t i = 0; i < count; i++) {
        mass_row(book, heaviest[i]);
    }
}

/* ---- By system ----------------------------------------------------------------------------------------- */

/* The headings say the one side of each; what lies on the other says so itself. */
static const Directions lengthwise = {"aft of it", "ahead of it", true}, crosswise = {"to starboard", "to port", true},
                        upwards = {"above it", "below it", true}, deeper = {"deeper", "higher", true};
static const struct {
    FigureId id;
    const Directions *words; /* NULL: it has no sign */
} study_figures[] = {{FIGURE_PLACED_MASS, NULL}, {FIGURE_LCG, &lengthwise}, {FIGURE_MOMENT_AFT, &lengthwise}, {FIGURE_TCG, &crosswise},
                     {FIGURE_MOMENT_STARBOARD, &crosswise}, {FIGURE_VCG, &upwards}, {FIGURE_MOMENT_UP, &upwards}};

static Str figure_cell(const Book *book, FigureId id, FigureScope scope, const Directions *words)
{
    return words == NULL ? book_figure_of(book, book->boat, id, scope) : book_figure_towards(book, book->boat, id, scope, words);
}

/* The mass stands first: of a system that of its things, then what is in the tanks, of the boat both. */
static void study_row(Book *book, const char *title, FigureId mass, FigureScope scope)
{
    if (!book_has_figure_of(book, book->boat, mass, scope)) {
        return;
    }
    markdown_row(&book->md);
    book_cell(book, str_from(title));
    book_cell(book, book_figure_of(book, book->boat, mass, scope));
    for (size_t i = 0; i < sizeof study_figures / sizeof study_figures[0]; i++) {
        book_cell(book, figure_cell(book, study_figures[i].id, scope, study_figures[i].words));
    }
}

static void write_systems(Book *book)
{
    if (!book_has_figure(book, book->boat, FIGURE_LCG, NULL)) {
        return; /* nothing has a place */
    }
    markdown_heading(&book->md, 3, STR("By system"), NULL);
    book_head(book,
              (const char *const[]){"System", ">Mass", ">Of it placed", ">Aft of the bow", ">Moment",
                                    ">To starboard", ">Moment", ">Above the waterline", ">Moment"},
              9);
    for (int system = SYSTEM_NONE + 1; system < SYSTEM_COUNT; system++) {
        study_row(book, system_word((System)system), FIGURE_MASS, (FigureScope)system);
    }
    study_row(book, "in tanks, water heaters and gas cylinders, as full as the spec says", FIGURE_MASS, SCOPE_CONTENTS);
    study_row(book, "all", FIGURE_LOADED_MASS, SCOPE_WHOLE);
    book_say(book,
             "Places and moments are those of what has a place. A moment is mass times place; all moments "
             "over all "
             "that is placed give its centre of gravity.%s",
             book->outcome->case_count > 1
                 ? " Every number here and below covers all options of the open choices."
                 : "");
}

/* ---- How she floats ------------------------------------------------------------------------------------ */

typedef struct StateRow {
    const char *title;
    FigureId figure;
    bool to_a_side; /* its remark says to which */
    bool of_placed; /* it goes by what has a place alone */
    const Directions *words; /* for its sign; NULL: it has none */
} StateRow;

static const StateRow state_rows[] = {
    {"She weighs", FIGURE_LOADED_MASS, false, false, NULL},
    {"Of it, with a place", FIGURE_PLACED_MASS, false, true, NULL},
    {"Centre of gravity, aft of the bow", FIGURE_LCG, false, true, &lengthwise},
    {"to starboard", FIGURE_TCG, false, true, &crosswise},
    {"above the waterline", FIGURE_VCG, false, true, &upwards},
    {"Deeper than on her lines", FIGURE_SINKAGE, false, false, &deeper},
    {"Height over the water, trim left out", FIGURE_HEIGHT_OVER_WATER, false, false, NULL},
    {"Trims", FIGURE_TRIM, true, true, NULL},
    {"Heels", FIGURE_HEEL, true, true, NULL},
    {"Slack water takes of her metacentric height", FIGURE_SLACK_LOSS, false, false, NULL},
};

static const struct {
    const char *title;
    FigureScope scope;
} state_columns[] = {{">Tanks empty", SCOPE_TANKS_EMPTY},
                     {">Half full", SCOPE_TANKS_HALF},
                     {">Full", SCOPE_TANKS_FULL},
                     {">As the spec fills them", SCOPE_WHOLE}};
enum { STATE_COLUMNS = sizeof state_columns / sizeof state_columns[0] };

/* "by the stern", or both sides where cases differ: what the figure's remark begins with. Empty where it is not known. */
static Str side_of(const Book *book, FigureId id, FigureScope scope)
{
    Figure merged;
    bool known = outcome_figure(book->outcome, book_name(book, book->boat), id, str_from(figure_scope_word(scope)), &merged);
    return known && merged.remark != NULL ? (Str){merged.remark, strcspn(merged.remark, ";")} : (Str){"", 0};
}

static void state_cell(Book *book, const StateRow *row, FigureScope scope)
{
    /* Where no tank has a place, what is placed is the same however full they are: one figure tells it. */
    bool same = row->of_placed && !book_has_figure_of(book, book->boat, FIGURE_PLACED_MASS, SCOPE_TANKS_EMPTY);
    scope = same ? SCOPE_WHOLE : scope;
    Buf text;
    buf_init(&text, book->arena);
    buf_add(&text, figure_cell(book, row->figure, scope, row->words));
    Str side = row->to_a_side ? side_of(book, row->figure, scope) : (Str){"", 0};
    buf_text(&text, side.length > 0 ? ", " : "");
    buf_add(&text, side);
    book_cell(book, buf_str(&text));
}

static bool is_in_some_state(const Book *book, FigureId id)
{
    bool any = false;
    for (size_t i = 0; i < STATE_COLUMNS; i++) {
        any = any || book_has_figure_of(book, book->boat, id, state_columns[i].scope);
    }
    return any;
}

/* Whether she floats higher than on her lines in some state. */
static bool is_higher(const Book *book)
{
    bool higher = false;
    for (size_t i = 0; i < STATE_COLUMNS; i++) {
        Figure merged;
        higher = higher || (outcome_figure(book->outcome, book_name(book, book->boat), FIGURE_SINKAGE,
                                           str_from(figure_scope_word(state_columns[i].scope)), &merged) &&
                            merged.low < 0.0);
    }
    return higher;
}

/* How much of what is aboard is in none of these numbers. */
static void say_left_out(Book *book)
{
    unsigned left_out = 0;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        left_out += is_hers(t) && !counts(book, t);
    }
    if (left_out > 0) {
        markdown_paragraph(&book->md);
        markdown_format(&book->md,
                        left_out == 1 ? "%u thing aboard is not weighed and counts for nothing here: she will float deeper."
                                      : "%u things aboard are not weighed and count for nothing here: she will float deeper.",
                        left_out);
    }
}

bool book_is_most(const Book *book, FigureId share)
{
    Figure merged;
    bool known = outcome_figure(book->outcome, book_name(book, book->boat), share, STR(""), &merged);
    return !known || merged.state != STATE_KNOWN || merged.high >= 0.5;
}

/* A row that would mislead is left out, and said. */
static bool is_told(const Book *book, FigureId id)
{
    bool of_placed = id == FIGURE_TRIM || id == FIGURE_HEEL || id == FIGURE_LCG || id == FIGURE_TCG || id == FIGURE_VCG;
    return is_in_some_state(book, id) && !(of_placed && !book_is_most(book, FIGURE_PLACED_SHARE)) &&
           !(id == FIGURE_SINKAGE && !book_is_most(book, FIGURE_WEIGHED_SHARE));
}

static void say_untold(Book *book, FigureId id, FigureId share, const char *format)
{
    if (is_in_some_state(book, id) && !is_told(book, id)) {
        markdown_paragraph(&book->md);
        markdown_format(&book->md, format, book_figure(book, book->boat, share, NULL).text);
    }
}

static void write_states(Book *book)
{
    size_t first =
        book_has_figure_of(book, book->boat, FIGURE_LOADED_MASS, SCOPE_TANKS_EMPTY) ? 0 : STATE_COLUMNS - 1;
    const char *titles[STATE_COLUMNS + 1] = {""};
    size_t columns = 1;
    if (!is_in_some_state(book, FIGURE_SINKAGE) && !is_in_some_state(book, FIGURE_LCG)) {
        return;
    }
    for (size_t i = first; i < STATE_COLUMNS; i++) {
        titles[columns++] = first == 0 ? state_columns[i].title : ">";
    }
    markdown_heading(&book->md, 3, STR("How she floats"), NULL);
    book_head(book, titles, columns);
    for (size_t r = 0; r < sizeof state_rows / sizeof state_rows[0]; r++) {
        if (!is_told(book, state_rows[r].figure)) {
            continue;
        }
        markdown_row(&book->md);
        book_cell(book, str_from(state_rows[r].title));
        for (size_t i = first; i < STATE_COLUMNS; i++) {
            state_cell(book, &state_rows[r], state_columns[i].scope);
        }
    }
    say_untold(book, FIGURE_SINKAGE, FIGURE_WEIGHED_SHARE,
               "How deep she floats is not told: %s of what she displaces is weighed, less than half.");
    say_untold(book, FIGURE_LCG, FIGURE_PLACED_SHARE,
               "Where her centre of gravity lies, and how she trims and heels, is not told: %s of what she displaces is weighed and placed, less than half, and "
               "the rest may lie on the other side.");
    if (is_told(book, FIGURE_SINKAGE) && is_higher(book)) {
        book_say(book, "Higher: what is listed weighs less than she displaces on her lines.");
    }
    say_left_out(book);
    book_say(book, "First estimates for small angles, from length, beam and a waterplane coefficient: no "
                   "stability study. "
                   "What has no place, or no mass, is in none of the angles.");
}

static bool is_tank(const Book *book, const BookThing *thing, const void *what)
{
    (void)book, (void)what;
    return thing->entity->kind == KIND_TANK && book_is_physical(thing->entity);
}

static bool any_slack(const Book *book)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (book_has_figure(book, t->entity, FIGURE_SLACK_LOSS, NULL) && t->entity->kind == KIND_TANK) {
            return true;
        }
    }
    return false;
}

static bool any_round(const Book *book)
{
    const BookThing *t = book->things;
    while (t != NULL && !(t->entity->kind == KIND_TANK && entity_states(t->entity, PROP_TANK_CYLINDER))) {
        t = t->next;
    }
    return t != NULL;
}

static void write_free_surface(Book *book)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        PROPERTY_COLUMN("Length, breadth, height", PROP_TANK_SIZE),
        VALUE_COLUMN("Baffles", PROP_TANK_BAFFLES),
        VALUE_COLUMN("Filled to", PROP_TANK_FILL_LEVEL),
        FIGURE_COLUMN("Takes while it is slack", FIGURE_SLACK_LOSS),
        PROPERTY_COLUMN("Round: diameter, length", PROP_TANK_CYLINDER),
    };
    if (any_slack(book)) {
        book_table(book, "Free surface", columns, sizeof columns / sizeof columns[0] - !any_round(book), is_tank, NULL);
    }
}

static void write_effects(Book *book)
{
    static const FigureId rows[] = {FIGURE_IMMERSION, FIGURE_TRIM_MOMENT, FIGURE_HEEL_MOMENT};
    book_boat_figures(book, "What any weight more does", rows, sizeof rows / sizeof rows[0]);
}

/* ---- What nobody has weighed --------------------------------------------------------------------------- */

static void say_allowance(Book *book)
{
    if (book->boat != NULL && book_has_figure(book, book->boat, FIGURE_ALLOWANCE, NULL)) {
        markdown_paragraph(&book->md);
        markdown_format(
            &book->md,
            "For what is not weighed, 5 to 10 %% of what is is usually allowed (common practice, no source): "
            "%s. She would float %s deeper with it.",
            book_figure(book, book->boat, FIGURE_ALLOWANCE, NULL).text,
            book_figure(book, book->boat, FIGURE_ALLOWANCE_SINKAGE, NULL).text);
    }
}

static void write_unweighed(Book *book)
{
    bool begun = false;
    for (int system = SYSTEM_NONE; system < SYSTEM_COUNT; system++) {
        bool any = false;
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (!is_hers(t) || is_weighed(t) || t->entity->system != system) {
                continue;
            }
            if (!begun) {
                markdown_heading(&book->md, 3, STR("What is not weighed"), NULL);
                say_allowance(book);
                begun = true;
            }
            if (!any) {
                markdown_item(&book->md, MARKDOWN_BULLET, 0);
                markdown_format(&book->md,
                                "%s: ", system == SYSTEM_NONE ? "no system" : system_word((System)system));
            }
            markdown_text(&book->md, any ? STR(", ") : STR(""));
            markdown_code(&book->md, book_name(book, t->entity));
            markdown_text(&book->md, counts(book, t) ? STR(" itself, without chain and rope") : STR(""));
            any = true;
        }
    }
}

/* What the spec weighs and these numbers leave out, by name: a trailer is heavy, and would be missed. */
static void say_ashore(Book *book)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!book_is_physical(t->entity) || !is_ashore(t->entity)) {
            continue;
        }
        if (!any) {
            markdown_paragraph(&book->md);
            markdown_text(&book->md, STR("Ashore, and in none of these numbers: "));
        }
        markdown_text(&book->md, any ? STR(", ") : STR(""));
        markdown_code(&book->md, book_name(book, t->entity));
        any = true;
    }
    markdown_text(&book->md, any ? STR(".") : STR(""));
}

void book_weight(Book *book)
{
    if (book->boat != NULL && book_has_figure(book, book->boat, FIGURE_MASS, NULL)) {
        markdown_paragraph(&book->md);
        bool filled = book_has_figure_of(book, book->boat, FIGURE_MASS, SCOPE_CONTENTS);
        markdown_format(
            &book->md,
            "Her things weigh %s together%s%s%s. Her displacement is %s;"
            " that is %s more than her things.",
            book_figure(book, book->boat, FIGURE_MASS, NULL).text, filled ? ", and " : "",
            filled ? book_figure(book, book->boat, FIGURE_LOADED_MASS, NULL).text : "",
            filled ? " with what is in the tanks" : "",
            book_value(book, book->boat, PROP_BOAT_DISPLACEMENT, 0).text,
            book_figure(book, book->boat, FIGURE_MASS_GAP, NULL).text);
    }
    say_ashore(book);
    book_picture(book, "img/weight");
    if (book->boat != NULL) {
        write_systems(book);
        write_states(book);
        write_free_surface(book);
        write_effects(book);
    }
    write_heaviest(book);
    write_list(book);
    write_unweighed(book);
}
