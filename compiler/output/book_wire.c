/* See book_wire.h. */
#include "output/book_wire.h"

#include "output/book_assumed.h"

#include "figures/power.h"
#include "model/status.h"
#include "output/feeding.h"

#include <string.h>

bool book_makes_power(const Entity *entity)
{
    return makes_alternating(entity) || (makes_direct(entity) && entity->kind != KIND_BANK);
}

bool book_gives_ac(const Entity *giver)
{
    return gives_alternating(giver);
}

BookWire book_wire(const Book *book, const Model *model, const Feed *feed)
{
    bool ac = feed->giver != NULL ? book_gives_ac(feed->giver) : (feed->taker->flags & ENTITY_AC) != 0;
    const WireRow *row = wire_row_of(book->wires, model, feed);
    return (BookWire){.feed = feed,
                      .giver = feed->giver,
                      .taker = feed->taker,
                      .subject = feed->subject,
                      .at = feed_at(feed),
                      .block = feed->block,
                      .model = model,
                      .cases = row != NULL ? row->cases : options_all_cases(book->outcome),
                      .only_with = row != NULL ? row->only_with : NULL,
                      .ac = ac,
                      .shares = feed->shares};
}

/* What it is fed by, then what it feeds. */
static void each_of_thing(Book *book, const BookThing *thing, bool ac,
                          void (*each)(Book *, const BookWire *, void *), void *context)
{
    for (int maker = 0; maker <= 1; maker++) {
        for (const WireRow *row = book->wires->by_subject[thing->entity->name]; row != NULL; row = row->of_subject) {
            BookWire wire = book_wire(book, row->in->model, row->feed);
            bool dropped = row->feed->subject->flags & ENTITY_DROPPED;
            bool own = !wire.shares && !feeds_by_starter_cable(row->feed);
            if (row->feed->maker == (maker == 1) && wire.ac == ac && !dropped && own) {
                each(book, &wire, context);
            }
        }
    }
}

void book_each_wire(Book *book, bool ac, void (*each)(Book *book, const BookWire *wire, void *context),
                    void *context)
{
    for (const BookThing *thing = book->things; thing != NULL; thing = thing->next) {
        each_of_thing(book, thing, ac, each, context);
    }
}

void book_each_unstated_wire(Book *book, void (*each)(Book *book, const BookWire *wire, void *context), void *context)
{
    for (const BookThing *thing = book->things; thing != NULL; thing = thing->next) {
        const WireRow *row = thing->entity->kind == KIND_SWITCH ? book->wires->by_subject[thing->entity->name] : NULL;
        for (; row != NULL; row = row->of_subject) {
            if (switch_cable_is_unstated(row->feed)) {
                BookWire wire = book_wire(book, row->in->model, row->feed);
                each(book, &wire, context);
            }
        }
    }
}

/* Texts */

static Str stated(const Book *book, const BookWire *wire, PropId prop)
{
    const Property *property = block_property(wire->block, prop);
    return property != NULL ? book_value_text(book, wire->model, property_value(property, 0)) : book_nothing;
}

static bool is_known(const BookWire *wire, const Book *book, FigureId id)
{
    Figure merged;
    Str at = wire->at != NULL ? book_name(book, wire->at) : STR("");
    return outcome_figure_in(book->outcome, wire->cases, book_name(book, wire->subject), id, at, &merged);
}

Str book_wire_figure(const Book *book, const BookWire *wire, FigureId id)
{
    return book_figure_short_with(book, wire->cases, wire->subject, id, wire->at);
}

Str book_wire_cranking(const Book *book, const BookWire *wire)
{
    bool cranks = feeding_cranking(book_wire_figures(book, wire), wire->feed) != NULL;
    return cranks ? book_figure_short_with(book, wire->cases, wire->taker, FIGURE_CRANKING, NULL) : book_nothing;
}

Str book_wire_run(const Book *book, const BookWire *wire)
{
    return stated(book, wire, feed_prop(wire->feed, PROP_FEED_RUN));
}

Str book_wire_size(const Book *book, const BookWire *wire)
{
    PropId prop = feed_prop(wire->feed, PROP_FEED_WIRE);
    Str size = is_known(wire, book, FIGURE_WIRE_SIZE) ? book_wire_figure(book, wire, FIGURE_WIRE_SIZE)
                                                      : stated(book, wire, prop);
    const Value *conductors = property_value(block_property(wire->block, prop), 1);
    if (conductors->kind != VALUE_QUANTITY) {
        return size;
    }
    return str_from(
        text_format(book->arena, "%s x %s", book_value_text(book, wire->model, conductors).text, size.text));
}

/* `150 A fuse class-t`: what the spec says of a device, its rating perhaps sized. */
static Str device(const Book *book, const BookWire *wire, PropId prop, Str rating)
{
    const Property *property = block_property(wire->block, prop);
    Buf text;
    buf_init(&text, book->arena);
    buf_add(&text, rating);
    for (unsigned slot = 1; slot <= 2; slot++) {
        const Value *value = property_value(property, slot);
        if (value->kind == VALUE_WORD) {
            buf_format(&text, " %.*s", STR_ARG(value->u.word));
        }
    }
    return buf_str(&text);
}

const Figures *book_wire_figures(const Book *book, const BookWire *wire)
{
    const Outcome *outcome = book->outcome;
    uint32_t i = 0;
    while (i + 1 < outcome->case_count && outcome->cases[i].model != wire->model) {
        i++;
    }
    return outcome->cases[i].figures;
}

/* Where the spec states no device: what protects the cable instead. */
static Str no_device(const Book *book, const BookWire *wire)
{
    const Figures *figures = book_wire_figures(book, wire);
    const Figure *wanted;
    Buf text;
    buf_init(&text, book->arena);
    switch (feeding_guarding(figures, wire->feed)) {
    case GUARD_NOT_ASKED: buf_text(&text, "none: cranking"); break;
    case GUARDED_UPSTREAM:
        buf_text(&text, "none here: ");
        feeding_write_upstream(&text, figures, wire->feed);
        buf_text(&text, " upstream");
        break;
    default:
        buf_text(&text, "none stated");
        wanted = feeding_figure(figures, wire->feed, FIGURE_WANTED_PROTECTION);
        if (wanted != NULL && wanted->state == STATE_KNOWN) {
            buf_format(&text, "; %s asked for", figure_text(figures, wanted));
        }
        break;
    }
    return buf_str(&text);
}

Str book_wire_protection(const Book *book, const BookWire *wire)
{
    PropId prop = feed_prop(wire->feed, PROP_FEED_PROTECT);
    if (block_property(wire->block, prop) == NULL) {
        return no_device(book, wire);
    }
    Str rating = is_known(wire, book, FIGURE_PROTECTION) ? book_wire_figure(book, wire, FIGURE_PROTECTION)
                                                         : stated(book, wire, prop);
    const Figure *chosen = feeding_chosen_protection(book_wire_figures(book, wire), wire->feed);
    if (chosen != NULL && chosen->device != NULL) {
        return str_from(text_format(book->arena, "%.*s %s", STR_ARG(rating), chosen->device));
    }
    return device(book, wire, prop, rating);
}

Str book_wire_output_protection(const Book *book, const BookWire *wire)
{
    if (feed_other_device(wire->feed) == NULL) {
        return book_nothing;
    }
    return device(book, wire, PROP_FEEDS_PROTECT_OUTPUT, stated(book, wire, PROP_FEEDS_PROTECT_OUTPUT));
}

Str book_wire_device(const Book *book, const BookWire *wire)
{
    Buf text;
    buf_init(&text, book->arena);
    buf_add(&text, book_wire_protection(book, wire));
    feeding_write_mains(&text, wire->model, wire->feed, false);
    return buf_str(&text);
}

static const BookAssumption conductors_together = {"bundle", "as many as are loaded in the cable itself",
                                                   "loaded conductors that lie together, those of other cables beside it counted",
                                                   "common practice, no source"};

void book_conductors_cell(Book *book, const BookWire *wire)
{
    const Value *bundle = property_value(feed_property(wire->feed, PROP_FEED_BUNDLE), 0);
    const Value *laid = property_value(feed_property(wire->feed, PROP_FEED_WIRE), 1);
    bool alone = laid->kind != VALUE_QUANTITY || laid->u.quantity.high <= 1.0;
    if (bundle->kind == VALUE_QUANTITY) {
        book_cell(book, book_value_text(book, wire->model, bundle));
        return;
    }
    book_assume_other(book, &conductors_together, wire->subject->name);
    book_cell(book, alone ? STR("2 (assumed)") : STR("twice its conductors (assumed)"));
}
