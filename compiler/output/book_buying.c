/*
 * The chapter of buying: what to order, what is on its way, what is late and which jobs it stops, who sells
 * what. How far a thing has come is told by model/status.h.
 */
#include "output/book_chapters.h"

#include "model/status.h"

static void date_cell(Book *book, const Property *property)
{
    book_cell(book, property != NULL ? book_date(book, property_date(property)) : book_nothing);
}

typedef bool Wants(const Book *book, const Entity *entity, const Purchase *purchase);
typedef void Row(Book *book, const BookThing *thing, const Purchase *purchase);

/* A table of the things that a question is true of; says so in a line if there is none. */
static void write_things(Book *book, const char *heading, const char *const titles[], size_t count,
                         Wants *wants, Row *row, const char *none)
{
    bool begun = false;
    markdown_heading(&book->md, 3, str_from(heading), NULL);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_bought(t->entity)) {
            continue;
        }
        Purchase purchase = purchase_of(t->entity);
        if (!wants(book, t->entity, &purchase)) {
            continue;
        }
        if (!begun) {
            book_head(book, titles, count);
            begun = true;
        }
        row(book, t, &purchase);
    }
    if (!begun) {
        book_say(book, "%s", none);
    }
}

/* Late */

static bool is_awaited(const Purchase *purchase)
{
    return purchase_is_under_way(purchase) || purchase_awaits_spares(purchase);
}

/* What is there already stops no job for its spares. */
static void awaiting_jobs_cell(Book *book, const BookThing *thing, const Purchase *purchase)
{
    if (purchase_awaits_spares(purchase)) {
        book_cell(book, STR("none: spares"));
    } else {
        book_jobs_cell(book, thing->entity);
    }
}

static bool is_late(const Book *book, const Entity *entity, const Purchase *purchase)
{
    (void)entity;
    bool passed =
        purchase->last_promise != NULL && property_date(purchase->last_promise) < book->outcome->today;
    return is_awaited(purchase) && (passed || purchase->status == STATUS_DELAYED);
}

/* "8 of 16" for what has come in part. */
static void came_cell(Book *book, const BookThing *thing, const Purchase *purchase)
{
    Str all = book_pieces(book, thing->entity);
    bool part = purchase->last_arrival != NULL && !str_equal(all, book_nothing);
    const char *came = text_format(book->arena, "%d of %.*s", (int)purchase->arrived, STR_ARG(all));
    book_cell(book, part ? str_from(came) : book_nothing);
}

static void late_row(Book *book, const BookThing *thing, const Purchase *purchase)
{
    markdown_row(&book->md);
    book_name_cell(book, thing);
    book_cell(book, book_title(book, thing->entity));
    book_cell(book, book_property(book, thing->entity, PROP_COMMON_SUPPLIER));
    date_cell(book, purchase->ordered);
    date_cell(book, purchase->first_promise);
    date_cell(book, purchase->last_promise);
    came_cell(book, thing, purchase);
    awaiting_jobs_cell(book, thing, purchase);
}

static void write_late(Book *book)
{
    static const char *const titles[] = {"Name",          "What",         "Supplier", "Ordered",
                                         "First promise", "Last promise", "Here",     "Stops"};
    write_things(book, "Late", titles, 8, is_late, late_row, "Nothing is late.");
}

/* On its way */

static bool is_coming(const Book *book, const Entity *entity, const Purchase *purchase)
{
    return is_awaited(purchase) && !is_late(book, entity, purchase);
}

static void coming_row(Book *book, const BookThing *thing, const Purchase *purchase)
{
    markdown_row(&book->md);
    book_name_cell(book, thing);
    book_cell(book, book_title(book, thing->entity));
    book_cell(book, str_from(status_word(purchase->status)));
    book_cell(book, book_property(book, thing->entity, PROP_COMMON_SUPPLIER));
    date_cell(book, purchase->ordered);
    date_cell(book, purchase->last_promise);
    came_cell(book, thing, purchase);
    awaiting_jobs_cell(book, thing, purchase);
}

static void write_coming(Book *book)
{
    static const char *const titles[] = {"Name",    "What",     "Status", "Supplier",
                                         "Ordered", "Promised", "Here",   "Jobs that need it"};
    write_things(book, "On its way", titles, 8, is_coming, coming_row, "Nothing is on its way.");
}

/* Here, and not fitted */

static bool is_here(const Book *book, const Entity *entity, const Purchase *purchase)
{
    (void)book, (void)entity;
    return purchase->status == STATUS_HERE;
}

static void here_row(Book *book, const BookThing *thing, const Purchase *purchase)
{
    markdown_row(&book->md);
    book_name_cell(book, thing);
    book_cell(book, book_title(book, thing->entity));
    date_cell(book, purchase->last_arrival);
    book_jobs_cell(book, thing->entity);
}

static void write_here(Book *book)
{
    static const char *const titles[] = {"Name", "What", "Arrived", "Jobs that need it"};
    write_things(book, "Here, and not fitted yet", titles, 4, is_here, here_row,
                 "Nothing waits to be fitted.");
}

/* Suppliers */

static bool sells(const BookThing *thing, const Entity *supplier)
{
    const Entity *seller =
        is_bought(thing->entity) ? entity_reference(thing->entity, PROP_COMMON_SUPPLIER) : NULL;
    return seller != NULL && seller->name == supplier->name;
}

static void supplier_things(Book *book, const Entity *supplier)
{
    bool any = false;
    markdown_cell(&book->md);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (sells(t, supplier)) {
            markdown_text(&book->md, any ? STR(", ") : STR(""));
            markdown_code(&book->md, book_name(book, t->entity));
            markdown_format(&book->md, " (%s)", status_word(thing_status(t->entity)));
            any = true;
        }
    }
    markdown_text(&book->md, any ? STR("") : book_nothing);
}

static bool some_is_closed(const Book *book)
{
    const BookThing *t = book->things;
    while (t != NULL && !(t->entity->kind == KIND_SUPPLIER && entity_states(t->entity, PROP_SUPPLIER_CLOSED))) {
        t = t->next;
    }
    return t != NULL;
}

static void write_suppliers(Book *book)
{
    bool begun = false, closed = some_is_closed(book);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind != KIND_SUPPLIER) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("By supplier"), NULL);
            const char *const titles[] = {"Supplier", "Who", ">Usual lead", "Contact", "Note", "Sells", "Closed"};
            book_head(book, titles, closed ? 7 : 6);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, t->entity->title);
        book_cell(book, book_value(book, t->entity, PROP_SUPPLIER_LEAD, 0));
        book_cell(book, book_value(book, t->entity, PROP_SUPPLIER_CONTACT, 0));
        book_cell(book, book_value(book, t->entity, PROP_SUPPLIER_NOTE, 0));
        supplier_things(book, t->entity);
        if (closed) {
            book_cell(book, book_value(book, t->entity, PROP_SUPPLIER_CLOSED, 0));
        }
    }
}

void book_buying(Book *book)
{
    book_money(book);
    write_late(book);
    book_to_order(book);
    write_coming(book);
    write_here(book);
    write_suppliers(book);
    book_promises(book);
    book_story(book);
}
