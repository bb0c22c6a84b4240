/* See book_wire.h. */
#include "output/book_wire.h"

#include <string.h>

static bool makes_ac(const Entity *giver)
{
    return giver->kind == KIND_INLET || giver->kind == KIND_GENERATOR || giver->kind == KIND_INVERTER;
}

static bool makes_dc(const Entity *giver)
{
    return giver->kind == KIND_CHARGER || giver->kind == KIND_CONVERTER || giver->kind == KIND_ALTERNATOR ||
           giver->kind == KIND_SOLAR || giver->kind == KIND_BANK;
}

bool book_makes_power(const Entity *entity)
{
    return makes_ac(entity) || (makes_dc(entity) && entity->kind != KIND_BANK);
}

bool book_gives_ac(const Entity *giver)
{
    return makes_ac(giver) || (!makes_dc(giver) && giver->flags & ENTITY_AC);
}

BookWire book_wire(const Model *model, const Feed *feed)
{
    bool ac = feed->giver != NULL ? book_gives_ac(feed->giver) : (feed->taker->flags & ENTITY_AC) != 0;
    return (BookWire){.giver = feed->giver,
                      .taker = feed->taker,
                      .subject = feed->subject,
                      .at = feed_at(feed),
                      .block = feed->block,
                      .model = model,
                      .ac = ac,
                      .shares = feed->shares};
}

static void each_of_thing(Book *book, const BookThing *thing, bool ac,
                          void (*each)(Book *, const BookWire *, void *), void *context)
{
    const Model *model = thing->in->model;
    for (const Feed *feed = thing->entity->fed; feed != NULL; feed = feed->next) {
        BookWire wire = book_wire(model, feed);
        if (wire.ac == ac && !wire.shares) {
            each(book, &wire, context);
        }
    }
    for (const Feed *feed = thing->entity->gives; feed != NULL; feed = feed->next_of_giver) {
        BookWire wire = book_wire(model, feed);
        if (feed->maker && wire.ac == ac) {
            each(book, &wire, context);
        }
    }
}

void book_each_wire(Book *book, bool ac, void (*each)(Book *book, const BookWire *wire, void *context),
                    void *context)
{
    for (const BookThing *thing = book->things; thing != NULL; thing = thing->next) {
        if (!(thing->entity->flags & ENTITY_DROPPED)) {
            each_of_thing(book, thing, ac, each, context);
        }
    }
}

/* Texts */

static PropId in_block(const BookWire *wire, PropId of_feed, PropId of_feeds)
{
    return wire->block != &wire->subject->block ? of_feeds : of_feed;
}

static Str stated(const Book *book, const BookWire *wire, PropId prop)
{
    const Property *property = block_property(wire->block, prop);
    return property != NULL ? book_value_text(book, wire->model, property_value(property, 0)) : book_nothing;
}

static bool is_known(const BookWire *wire, const Book *book, FigureId id)
{
    Figure merged;
    Str at = wire->at != NULL ? book_name(book, wire->at) : STR("");
    return outcome_figure(book->outcome, book_name(book, wire->subject), id, at, &merged);
}

Str book_wire_figure(const Book *book, const BookWire *wire, FigureId id)
{
    return book_figure_short(book, wire->subject, id, wire->at);
}

Str book_wire_run(const Book *book, const BookWire *wire)
{
    return stated(book, wire, in_block(wire, PROP_FEED_RUN, PROP_FEEDS_RUN));
}

Str book_wire_size(const Book *book, const BookWire *wire)
{
    PropId prop = in_block(wire, PROP_FEED_WIRE, PROP_FEEDS_WIRE);
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

Str book_wire_protection(const Book *book, const BookWire *wire)
{
    PropId prop = in_block(wire, PROP_FEED_PROTECT, PROP_FEEDS_PROTECT);
    if (wire->subject->kind == KIND_ENGINE && block_property(wire->block, prop) == NULL) {
        return STR("none: cranking");
    }
    Str rating = is_known(wire, book, FIGURE_PROTECTION) ? book_wire_figure(book, wire, FIGURE_PROTECTION)
                                                         : stated(book, wire, prop);
    return device(book, wire, prop, rating);
}

Str book_wire_output_protection(const Book *book, const BookWire *wire)
{
    if (wire->block == &wire->subject->block ||
        block_property(wire->block, PROP_FEEDS_PROTECT_OUTPUT) == NULL) {
        return book_nothing;
    }
    return device(book, wire, PROP_FEEDS_PROTECT_OUTPUT, stated(book, wire, PROP_FEEDS_PROTECT_OUTPUT));
}

/* The wire list */

static void name_cell(Book *book, const Entity *entity, const char *otherwise)
{
    markdown_cell(&book->md);
    if (entity != NULL) {
        markdown_code(&book->md, book_name(book, entity));
    } else {
        markdown_text(&book->md, str_from(otherwise));
    }
}

/* A feed stated on its taker has the taker's name; another is told by both ends. */
static void wire_name_cell(Book *book, const BookWire *wire)
{
    markdown_cell_code(&book->md, book_name(book, wire->subject));
    if (wire->at != NULL) {
        markdown_text(&book->md, wire->at == wire->taker ? STR(" to ") : STR(" from "));
        markdown_code(&book->md, book_name(book, wire->at));
    }
}

static void both_devices_cell(Book *book, const BookWire *wire)
{
    markdown_cell_text(&book->md, book_wire_protection(book, wire));
    Str other = book_wire_output_protection(book, wire);
    if (!str_equal(other, book_nothing)) {
        markdown_format(&book->md, "; at the other end %.*s", STR_ARG(other));
    }
}

static void wire_row(Book *book, const BookWire *wire, void *context)
{
    bool *begun = context;
    if (!*begun) {
        markdown_heading(&book->md, 3,
                         wire->ac ? STR("Wire list, alternating current") : STR("Wire list, direct current"),
                         NULL);
        book_head(book,
                  (const char *const[]){"Wire", "From", "To", ">Size", ">Run", "Protection", ">Current",
                                        ">It can carry", ">Drop", ">Drop from the source"},
                  10);
        *begun = true;
    }
    markdown_row(&book->md);
    wire_name_cell(book, wire);
    bool from_shore = wire->taker->kind == KIND_INLET && wire->giver == NULL;
    name_cell(book, from_shore ? wire->taker : wire->giver, "a mistake stands here");
    name_cell(book, from_shore ? NULL : wire->taker, "the first breaker");
    book_cell(book, book_wire_size(book, wire));
    book_cell(book, book_wire_run(book, wire));
    both_devices_cell(book, wire);
    book_cell(book, book_figure(book, wire->subject, FIGURE_CURRENT, wire->at));
    book_cell(book, book_wire_figure(book, wire, FIGURE_AMPACITY));
    book_cell(book, book_figure(book, wire->subject, FIGURE_VOLTAGE_DROP, wire->at));
    book_cell(book, book_figure(book, wire->subject, FIGURE_TOTAL_DROP, wire->at));
}

void book_wire_list(Book *book, bool ac)
{
    bool begun = false;
    book_each_wire(book, ac, wire_row, &begun);
}

/* Panels, buses and switches: what hangs on each */

static bool shares_out(const Entity *entity)
{
    return (entity->kind == KIND_PANEL || entity->kind == KIND_BUS || entity->kind == KIND_SWITCH) &&
           !(entity->flags & ENTITY_DROPPED) && entity->gives != NULL;
}

/* What uses the cable of this one: its loads. */
static void loads_cell(Book *book, const Entity *entity)
{
    bool any = false;
    markdown_cell(&book->md);
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!feed->maker && !(feed->taker->flags & ENTITY_DROPPED)) {
            markdown_text(&book->md, any ? STR(", ") : STR(""));
            markdown_code(&book->md, book_name(book, feed->taker));
            any = true;
        }
    }
    markdown_text(&book->md, any ? STR("") : book_nothing);
}

static void way_row(Book *book, const Model *model, const Feed *feed)
{
    BookWire wire = book_wire(model, feed);
    markdown_row(&book->md);
    markdown_cell_code(&book->md, book_name(book, feed->taker));
    book_cell(book, book_title(book, feed->taker));
    if (feed->shares) {
        book_cell(book, STR("shares this cable"));
    } else {
        book_cell(book, book_wire_protection(book, &wire));
    }
    book_cell(book, book_figure(book, wire.subject, FIGURE_CURRENT, wire.at));
    loads_cell(book, feed->taker);
}

static void panel_facts(Book *book, const Entity *entity)
{
    PropId rated = entity->kind == KIND_PANEL ? PROP_PANEL_RATED
                   : entity->kind == KIND_BUS ? PROP_BUS_RATED
                                              : PROP_SWITCH_RATED;
    markdown_paragraph(&book->md);
    markdown_text(&book->md, entity->title);
    markdown_format(&book->md, "%sRated %s; current %s", entity->title.length > 0 ? ". " : "",
                    book_value(book, entity, rated, 0).text,
                    book_figure(book, entity, FIGURE_CURRENT, NULL).text);
    if (entity->flags & ENTITY_AC) {
        markdown_format(&book->md, "; demand %s", book_figure(book, entity, FIGURE_DEMAND, NULL).text);
    }
    if (entity->kind != KIND_SWITCH) {
        PropId spare = entity->kind == KIND_PANEL ? PROP_PANEL_SPARE_WAYS : PROP_BUS_SPARE_WAYS;
        markdown_format(&book->md, "; ways still free %s", book_value(book, entity, spare, 0).text);
    }
    markdown_text(&book->md, STR("."));
}

static void write_panel(Book *book, const BookThing *thing)
{
    markdown_heading(&book->md, 4,
                     str_from(text_format(book->arena, "%s %.*s", kinds[thing->entity->kind].word,
                                          STR_ARG(book_name(book, thing->entity)))),
                     NULL);
    panel_facts(book, thing->entity);
    book_head(book, (const char *const[]){"Way", "What", "Protection", ">Current", "Feeds"}, 5);
    for (const Feed *feed = thing->entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (!feed->maker && !(feed->taker->flags & ENTITY_DROPPED)) {
            way_row(book, thing->in->model, feed);
        }
    }
}

void book_panels(Book *book, bool ac)
{
    bool begun = false;
    for (const BookThing *thing = book->things; thing != NULL; thing = thing->next) {
        if (!shares_out(thing->entity) || book_gives_ac(thing->entity) != ac) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3,
                             ac ? STR("Panels, alternating current") : STR("Panels, buses and switches"),
                             NULL);
            begun = true;
        }
        write_panel(book, thing);
    }
}
