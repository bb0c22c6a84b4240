/*
 * The chapter of weight: what she weighs, what of it is heaviest, and what nobody has weighed.
 */
#include "output/book_chapters.h"

#include "model/status.h"

#include <math.h>

enum { HEAVIEST = 12 };

static bool is_weighed(const BookThing *thing)
{
    return book_is_physical(thing->entity) && entity_states(thing->entity, PROP_COMMON_MASS);
}

static void mass_row(Book *book, const BookThing *thing)
{
    markdown_row(&book->md);
    book_cell(book, str_from(system_word((System)thing->entity->system)));
    book_name_cell(book, thing);
    book_cell(book, book_title(book, thing->entity));
    book_cell(book, book_value(book, thing->entity, PROP_COMMON_COUNT, 0));
    book_cell(book, book_value(book, thing->entity, PROP_COMMON_MASS, 0));
    book_cell(book, book_property(book, thing->entity, PROP_COMMON_AT));
}

static const char *const mass_titles[] = {"System", "Name",         "What",
                                          ">Count", ">Mass of one", "Aft of the bow, to starboard, up"};

static void write_list(Book *book)
{
    bool begun = false;
    for (int system = SYSTEM_NONE; system < SYSTEM_COUNT; system++) {
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (!is_weighed(t) || t->entity->system != system) {
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
    Interval count = purchase_of(thing->entity).count;
    if (mass->kind != VALUE_QUANTITY || isinf(mass->u.quantity.high)) {
        return 0.0;
    }
    return mass->u.quantity.high * (isfinite(count.high) ? count.high : 1.0);
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
    size_t count = 0;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (is_weighed(t)) {
            count = put_in(heaviest, count, t);
        }
    }
    if (count == 0) {
        return;
    }
    markdown_heading(&book->md, 3, STR("The heaviest"), NULL);
    book_head(book, mass_titles, 6);
    for (size_t i = 0; i < count; i++) {
        mass_row(book, heaviest[i]);
    }
}

static void write_unweighed(Book *book)
{
    bool begun = false;
    for (int system = SYSTEM_NONE; system < SYSTEM_COUNT; system++) {
        bool any = false;
        for (const BookThing *t = book->things; t != NULL; t = t->next) {
            if (!book_is_physical(t->entity) || is_weighed(t) || t->entity->system != system) {
                continue;
            }
            if (!begun) {
                markdown_heading(&book->md, 3, STR("What is not weighed"), NULL);
                begun = true;
            }
            if (!any) {
                markdown_item(&book->md, MARKDOWN_BULLET, 0);
                markdown_format(&book->md,
                                "%s: ", system == SYSTEM_NONE ? "no system" : system_word((System)system));
            }
            markdown_text(&book->md, any ? STR(", ") : STR(""));
            markdown_code(&book->md, book_name(book, t->entity));
            any = true;
        }
    }
}

void book_weight(Book *book)
{
    if (book->boat != NULL) {
        markdown_paragraph(&book->md);
        markdown_format(
            &book->md,
            "Her things weigh %s together, and %s with what is in the tanks. Her displacement is %s;"
            " that is %s more than her things.",
            book_figure(book, book->boat, FIGURE_MASS, NULL).text,
            book_figure(book, book->boat, FIGURE_LOADED_MASS, NULL).text,
            book_value(book, book->boat, PROP_BOAT_DISPLACEMENT, 0).text,
            book_figure(book, book->boat, FIGURE_MASS_GAP, NULL).text);
    }
    write_heaviest(book);
    write_list(book);
    write_unweighed(book);
}
