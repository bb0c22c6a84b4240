/*
 * What the wire list does not hold, told behind its rows: nobody may take the list for all conductors of a boat.
 */
#include "output/book_wire.h"

#include "output/feeding.h"
#include "output/unlisted.h"

/* Over all cases that have the bank: an option may set how many batteries it is. */
static bool links_of(const Book *book, const BookThing *thing, BankLinks *links)
{
    bool begun = false, found = false;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Case *in = &book->outcome->cases[c];
        const Entity *bank = book_same_thing(in, thing->entity);
        BankLinks here = {.count = {0.0, 0.0}};
        if (bank != NULL) {
            found = feeding_bank_links(in->figures, bank, &here) || found;
            *links = (BankLinks){.count = begun ? interval_hull(links->count, here.count) : here.count,
                                 .size = begun && links->size != NULL ? links->size : here.size};
            begun = true;
        }
    }
    return found;
}

/* What joins the batteries of a bank has no row: nobody says how far apart they stand. */
static void say_links(Book *book)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        BankLinks links;
        if (!links_of(book, t, &links)) {
            continue;
        }
        Buf count;
        buf_init(&count, book->arena);
        unit_print(&count, UNIT_ALONE(UNIT_NONE), links.count.low, links.count.high);
        Buf fused;
        Interval fuses;
        const Property *fuse = feeding_battery_fuse(t->entity, &fuses);
        buf_init(&fused, book->arena);
        if (fuse != NULL) {
            buf_text(&fused, "; at each battery, or each string of them, its own ");
            feeding_write_battery_fuse(&fused, t->in->model, fuse);
        }
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        book_prose(book, text_format(book->arena,
                                     "the links between the batteries of `%.*s`, %s of them, %s, each with a ring on both ends: all of "
                                     "one sort of one length, so that the strings share alike, and no thinner than the thickest cable "
                                     "of the bank%.*s",
                                     STR_ARG(book_name(book, t->entity)), count.text,
                                     links.size != NULL ? figure_text(t->in->figures, links.size) : "of a size that is not known",
                                     STR_ARG(buf_str(&fused))));
    }
}

static bool has_links(const Book *book)
{
    BankLinks links;
    const BookThing *t = book->things;
    while (t != NULL && !links_of(book, t, &links)) {
        t = t->next;
    }
    return t != NULL;
}

/* Conductors that the boat needs and no row can hold. */
void book_not_in_the_list(Book *book, bool ac)
{
    const Unlisted *unlisted = unlisted_of(book->arena, book->outcome, ac ? UNLISTED_ALTERNATING : UNLISTED_DIRECT, false);
    if (unlisted == NULL && (ac || !has_links(book))) {
        return;
    }
    markdown_heading(&book->md, 4, STR("Not in the list"), NULL);
    book_say(book, "The spec cannot state size, run and colour of these, no check judges their size, and there may be more: plan them "
                   "yourself. Common practice, no source; ABYC E-11 and ISO 13297 say more of ground and bonding (from memory).");
    for (; unlisted != NULL; unlisted = unlisted->next) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        book_prose(book, unlisted->text);
    }
    if (!ac) {
        say_links(book);
    }
}
