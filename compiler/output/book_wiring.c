/*
 * The tables that a person wires from: a schedule for each panel, bus and switch; the wire list with labels, colours, lengths
 * and ends; and what each cable carries and loses.
 */
#include "output/book_wire.h"
#include "base/num.h"

#include "figures/power.h"
#include "output/feeding.h"
#include "output/wires.h"

#include <string.h>

/* Cells */

static void add_options(Book *book, const BookWire *wire)
{
    if (wire->only_with != NULL) {
        markdown_format(&book->md, " (with %s)", wire->only_with);
    }
}

void book_wire_label_cell(Book *book, const BookWire *wire)
{
    Buf label;
    buf_init(&label, book->arena);
    wires_label(&label, wire->model, wire->feed);
    markdown_cell_code(&book->md, buf_str(&label));
    add_options(book, wire);
}

static void both_devices_cell(Book *book, const BookWire *wire)
{
    markdown_cell_text(&book->md, book_wire_device(book, wire));
    const Property *protect = feed_property(wire->feed, PROP_FEED_PROTECT);
    const Value *distance = property_value(protect, 3), *breaks = property_value(protect, 4);
    if (distance->kind == VALUE_QUANTITY) {
        markdown_format(&book->md, ", %s from source", book_value_text(book, wire->model, distance).text);
    }
    if (breaks->kind == VALUE_QUANTITY) {
        markdown_format(&book->md, ", interrupts %s", book_value_text(book, wire->model, breaks).text);
    }
    Str other = book_wire_output_protection(book, wire);
    if (!str_equal(other, book_nothing)) {
        markdown_format(&book->md, "; at the other end %.*s", STR_ARG(other));
    }
}

/* `2.5 mm2`, with the grounding conductor of mains. */
static void size_cell(Book *book, const BookWire *wire)
{
    markdown_cell_text(&book->md, book_wire_size(book, wire));
    Str ground = wire->ac ? wires_ground(book->arena, wire->model, wire->feed) : STR("");
    if (ground.length > 0) {
        markdown_format(&book->md, ", ground %.*s", STR_ARG(ground));
    }
}

/* What it lies in, and with how many others, as far as the spec says. */
static void lies_cell(Book *book, const BookWire *wire)
{
    const Value *sheath = property_value(feed_property(wire->feed, PROP_FEED_SHEATH), 0);
    const Value *bundle = property_value(feed_property(wire->feed, PROP_FEED_BUNDLE), 0);
    Buf text;
    buf_init(&text, book->arena);
    if (sheath->kind == VALUE_WORD) {
        buf_format(&text, "%s%.*s", str_is(sheath->u.word, "none") ? "sheath: " : "in ", STR_ARG(sheath->u.word));
    }
    if (bundle->kind == VALUE_QUANTITY) {
        buf_format(&text, "%s%s together", text.length > 0 ? ", " : "", book_value_text(book, wire->model, bundle).text);
    }
    book_cell(book, text.length > 0 ? buf_str(&text) : book_nothing);
}

/* What heat the insulation of a cable stands; what is not stated counts as the least that is sold. */
static void insulation_cell(Book *book, const BookWire *wire)
{
    const Value *stated = property_value(feed_property(wire->feed, PROP_FEED_WIRE), 2);
    markdown_cell(&book->md);
    if (stated->kind == VALUE_QUANTITY) {
        markdown_text(&book->md, book_value_text(book, wire->model, stated));
    } else {
        markdown_format(&book->md, "%s C (assumed)", num_text_fixed(book->arena, feed_insulation_celsius(wire->feed), 0));
    }
}

static void write_leakage(Book *book, const BookWire *wire)
{
    LeakageWay ways[LEAKAGE_WAYS_MOST];
    unsigned count = feeding_leakage_ways(wire->feed, ways);
    bool own = feeding_opens_at_leakage(wire->feed);
    for (unsigned i = 0; i < count; i++) {
        markdown_text(&book->md, i > 0 ? STR("; ") : STR(""));
        markdown_text(&book->md, ways[i].opens != NULL
                                     ? book_value_text(book, wire->model, property_value(ways[i].opens, 0))
                                     : STR("none"));
        if (!own && ways[i].where != NULL) {
            markdown_text(&book->md, ways[i].opens != NULL ? STR(" at ") : STR(" from "));
            markdown_code(&book->md, book_name(book, ways[i].where));
        }
    }
}

void book_leakage_cell(Book *book, const BookWire *wire)
{
    markdown_cell(&book->md);
    write_leakage(book, wire);
}

void book_leakage_of_thing_cell(Book *book, const BookThing *thing)
{
    bool several = false;
    markdown_cell(&book->md);
    for (const WireRow *row = book->wires->by_subject[thing->entity->name]; row != NULL; row = row->of_subject) {
        BookWire wire = book_wire(book, row->in->model, row->feed);
        if (!wire.feed->maker) {
            bool always = wire.only_with == NULL || (thing->only_with != NULL && strcmp(wire.only_with, thing->only_with) == 0);
            markdown_text(&book->md, several ? STR("; ") : STR(""));
            write_leakage(book, &wire);
            if (!always) {
                add_options(book, &wire);
            }
            several = true;
        }
    }
}

/* Which conductors the device of a cable of mains opens. */
static void opens_cell(Book *book, const BookWire *wire)
{
    const char *opens = feeding_opens(book->arena, wire->feed, book->outcome->basis);
    book_cell(book, opens != NULL ? str_from(opens) : book_nothing);
}

static void cell_or_nothing(Book *book, Str text)
{
    book_cell(book, text.length > 0 ? text : book_nothing);
}

/* The wire list */

static const char *colours_source(const Book *book, bool ac)
{
    if (book->outcome->basis == BASIS_US) {
        return ac ? "ABYC E-11, an older text: ungrounded / neutral / grounding"
                  : "ABYC E-11, Tables XIV and XV: positive / negative";
    }
    return ac ? "IEC 60445, from memory: phase / neutral / protective" : "ISO 13297, from memory: positive / negative";
}

static void begin_list(Book *book, bool ac)
{
    markdown_heading(&book->md, 3, ac ? STR("Wire list, alternating current") : STR("Wire list, direct current"), NULL);
    markdown_paragraph(&book->md);
    book_prose(book, text_format(book->arena,
                                 "One row a cable; the label goes on both ends. Run is one way along the route: cut %s, and leave enough "
                                 "to make an end twice. Colours by %s. %s",
                                 ac ? "one cable of that length, which holds all its conductors in one sheath"
                                    : "two conductors of that length", colours_source(book, ac),
                                 ac ? "Ferrules where a stranded conductor goes under a screw clamp: common practice, no "
                                      "source."
                                    : "The spec cannot state a negative bus, nor its cables: where a row names a switch or a bus, the returning "
                                      "conductor runs beside the other, from the negative bus at one end, or the negative pole of "
                                      "the bank, to that at the other, and never ends on the thing that the row names. A fuse or "
                                      "breaker that stands in a cable by itself cuts it: its two ends are counted. A hole that is "
                                      "called usual is that of batteries, their switches and fuses, and starters, by protection, "
                                      "current and copper, which is common practice without a source. What is on the other ends "
                                      "nobody says: measure the stud before you buy or crimp, and state it as `studs`."));
    if (ac) {
        book_head(book,
                  (const char *const[]){"Label", ">Size", ">Insulation", "Lies", "Colours", ">Run", "Ends", "Protection",
                                        "It opens", "Leakage guard"},
                  10);
    } else {
        book_head(book,
                  (const char *const[]){"Label", ">Size", ">Insulation", "Lies", "Colours", ">Run", "Ends", "Protection"}, 8);
    }
}

static void wire_row(Book *book, const BookWire *wire, void *context)
{
    bool *begun = context;
    if (!*begun) {
        begin_list(book, wire->ac);
        *begun = true;
    }
    markdown_row(&book->md);
    book_wire_label_cell(book, wire);
    size_cell(book, wire);
    insulation_cell(book, wire);
    lies_cell(book, wire);
    book_cell(book, wires_colours(book->arena, wire->feed, book->outcome->basis));
    book_cell(book, book_wire_run(book, wire));
    cell_or_nothing(book, wires_ends(book->arena, book_wire_figures(book, wire), wire->feed));
    both_devices_cell(book, wire);
    if (wire->ac) {
        opens_cell(book, wire);
        book_leakage_cell(book, wire);
    }
}

/* A cable of which nothing is stated is not cut, bought or judged: but who reads the list must not take it for complete. */
static void unstated_row(Book *book, const BookWire *wire, void *context)
{
    bool *begun = context;
    if (!*begun) {
        begin_list(book, false);
        *begun = true;
    }
    markdown_row(&book->md);
    book_wire_label_cell(book, wire);
    for (int i = 0; i < 4; i++) {
        book_cell(book, book_nothing);
    }
    book_cell(book, STR("not stated"));
    book_cell(book, book_nothing);
    book_cell(book, book_wire_protection(book, wire));
}

void book_wire_list(Book *book, bool ac)
{
    bool begun = false;
    book_each_wire(book, ac, wire_row, &begun);
    if (!ac) {
        book_each_unstated_wire(book, unstated_row, &begun);
    }
    if (begun) {
        book_not_in_the_list(book, ac);
    }
}

/* Currents and drops */

/* `10 A; 100 A back; 180 A cranking`: what loads take, what comes back from what makes power, what starters take for seconds. */
static void current_cell(Book *book, const BookWire *wire)
{
    book_cell(book, book_figure_with(book, wire->cases, wire->subject, FIGURE_CURRENT, wire->at));
    if (takes_back(wire->feed)) {
        Str back = book_figure_short_with(book, wire->cases, wire->taker, FIGURE_BROUGHT, NULL);
        if (!str_equal(back, book_nothing)) {
            markdown_format(&book->md, "; %.*s back", STR_ARG(back));
        }
    }
    Str cranks = book_wire_cranking(book, wire);
    if (!str_equal(cranks, book_nothing)) {
        markdown_format(&book->md, "; %.*s cranking", STR_ARG(cranks));
    }
}

/* `232 A; 1510 A cranking`: for long, and for the seconds of a start where one flows through. */
static void carries_cell(Book *book, const BookWire *wire)
{
    book_cell(book, book_wire_figure(book, wire, FIGURE_AMPACITY));
    Str cranks = book_wire_figure(book, wire, FIGURE_CRANKING_AMPACITY);
    if (!str_equal(cranks, book_nothing)) {
        markdown_format(&book->md, "; %.*s cranking", STR_ARG(cranks));
    }
}

/* `1.2 %; 2.1 % cranking` */
static void drop_cell(Book *book, const BookWire *wire)
{
    book_cell(book, book_figure_with(book, wire->cases, wire->subject, FIGURE_TOTAL_DROP, wire->at));
    Str cranks = book_wire_figure(book, wire, FIGURE_CRANKING_DROP);
    if (!str_equal(cranks, book_nothing)) {
        markdown_format(&book->md, "; %.*s cranking", STR_ARG(cranks));
    }
}

static void current_row(Book *book, const BookWire *wire, void *context)
{
    bool *begun = context;
    if (!*begun) {
        markdown_heading(&book->md, 3,
                         wire->ac ? STR("Currents and drops, alternating current") : STR("Currents and drops, direct current"),
                         NULL);
        book_head(book,
                  (const char *const[]){"Cable", ">Current", ">It can carry", ">Protection",
                                        wire->ac ? ">Loaded conductors together" : ">Fault current", ">Drop",
                                        ">Drop from the source"},
                  7);
        *begun = true;
    }
    markdown_row(&book->md);
    book_wire_label_cell(book, wire);
    current_cell(book, wire);
    carries_cell(book, wire);
    book_cell(book, book_wire_figure(book, wire, FIGURE_PROTECTION));
    if (wire->ac) {
        book_conductors_cell(book, wire);
    } else {
        book_cell(book, book_wire_figure(book, wire, FIGURE_FAULT_CURRENT));
    }
    book_cell(book, book_figure_with(book, wire->cases, wire->subject, FIGURE_VOLTAGE_DROP, wire->at));
    drop_cell(book, wire);
}

void book_wire_currents(Book *book, bool ac)
{
    bool begun = false;
    book_each_wire(book, ac, current_row, &begun);
}

/* Panels, buses and switches: what hangs on each */

static bool is_way(const Feed *feed)
{
    return !feed->maker && !(feed->taker->flags & ENTITY_DROPPED);
}

/* Of sources of mains the breakers stand where they give: an inlet's box is a panel too. */
static bool shares_out_in(const Entity *entity)
{
    if (entity == NULL || entity->flags & ENTITY_DROPPED) {
        return false;
    }
    switch ((KindId)entity->kind) {
    case KIND_PANEL:
    case KIND_BUS:
    case KIND_SWITCH:
    case KIND_INLET:
    case KIND_GENERATOR:
    case KIND_INVERTER: break;
    default: return false;
    }
    const Feed *feed = entity->gives;
    while (feed != NULL && !is_way(feed)) {
        feed = feed->next_of_giver;
    }
    return feed != NULL;
}

/* With some of the options at least. */
static bool shares_out(const Book *book, const Entity *entity)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        if (shares_out_in(book_same_thing(&book->outcome->cases[c], entity))) {
            return true;
        }
    }
    return false;
}

static bool gives_to(const Entity *giver, const Entity *taker)
{
    const Feed *feed = giver != NULL ? giver->gives : NULL;
    while (feed != NULL && !(is_way(feed) && feed->taker->name == taker->name)) {
        feed = feed->next_of_giver;
    }
    return feed != NULL;
}

/* Whether one of the cases before this one has told that way. */
static bool was_told(const Book *book, CaseSet cases, uint32_t number, const Entity *giver, const Entity *taker)
{
    for (uint32_t c = 0; c < number; c++) {
        if (cases >> c & 1 && gives_to(book_same_thing(&book->outcome->cases[c], giver), taker)) {
            return true;
        }
    }
    return false;
}

/* What uses the cable of this one: its loads, with the options that bring them. */
static void loads_cell(Book *book, const Model *model, CaseSet cases, const Entity *entity)
{
    bool any = false;
    markdown_cell(&book->md);
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *here = cases >> c & 1 ? book_same_thing(&book->outcome->cases[c], entity) : NULL;
        for (const Feed *feed = here != NULL ? here->gives : NULL; feed != NULL; feed = feed->next_of_giver) {
            if (is_way(feed) && !was_told(book, cases, c, entity, feed->taker)) {
                const BookThing *thing = book_thing(book, feed->taker), *on = book_thing(book, entity);
                bool same = thing->only_with == NULL || (on->only_with != NULL && strcmp(thing->only_with, on->only_with) == 0);
                markdown_text(&book->md, any ? STR(", ") : STR(""));
                markdown_code(&book->md, book_name(book, feed->taker));
                markdown_text(&book->md, same ? STR("") : str_from(text_format(book->arena, " (with %s)", thing->only_with)));
                any = true;
            }
        }
    }
    const Entity *inverter = model->first_of_kind[KIND_INVERTER];
    for (; inverter != NULL; inverter = inverter->next_of_kind) {
        if (!(inverter->flags & ENTITY_DROPPED) && entity_reference(inverter, PROP_INVERTER_PASSES) == entity) {
            markdown_text(&book->md, any ? STR(", ") : STR(""));
            markdown_code(&book->md, book_name(book, inverter));
            markdown_text(&book->md, STR(" (passes it through)"));
            any = true;
        }
    }
    markdown_text(&book->md, any ? STR("") : book_nothing);
}

static void way_row(Book *book, const Model *model, const Feed *feed)
{
    BookWire wire = book_wire(book, model, feed);
    markdown_row(&book->md);
    markdown_cell_code(&book->md, book_name(book, feed->taker));
    book_cell(book, book_title_with(book, wire.cases, feed->taker));
    loads_cell(book, model, wire.cases, feed->taker);
    book_cell(book, book_figure_with(book, wire.cases, wire.subject, FIGURE_CURRENT, wire.at));
    if (feed->shares) {
        book_cell(book, STR("shares this cable"));
        add_options(book, &wire);
        book_cell(book, book_nothing);
        book_cell(book, book_nothing);
        return;
    }
    book_cell(book, book_wire_device(book, &wire));
    size_cell(book, &wire);
    book_wire_label_cell(book, &wire);
}

static PropId rating_line(const Entity *entity)
{
    switch ((KindId)entity->kind) {
    case KIND_PANEL: return PROP_PANEL_RATED;
    case KIND_BUS: return PROP_BUS_RATED;
    case KIND_INLET: return PROP_INLET_RATED;
    case KIND_GENERATOR: return PROP_GENERATOR_RATED;
    case KIND_INVERTER: return PROP_INVERTER_RATED;
    default: return PROP_SWITCH_RATED;
    }
}

static void panel_facts(Book *book, const Entity *entity)
{
    bool source = entity->kind == KIND_INLET || book_makes_power(entity);
    markdown_paragraph(&book->md);
    markdown_text(&book->md, entity->title);
    markdown_format(&book->md, "%sRated %s", entity->title.length > 0 ? ". " : "",
                    book_property(book, entity, rating_line(entity)).text);
    if (!source) {
        const Entity *at = entity->fed != NULL ? feed_at(entity->fed) : NULL; /* of several sources the first: all give the same */
        const Feed *made = entity->fed == NULL && entity->made != NULL && entity->made->one_ended ? entity->made : NULL;
        Str current = made != NULL ? book_figure(book, made->giver, FIGURE_CURRENT, entity) : book_figure(book, entity, FIGURE_CURRENT, at);
        markdown_format(&book->md, "; current %s%.*s", made != NULL ? "at most " : "", STR_ARG(current));
    }
    Str cranks = book_figure(book, entity, FIGURE_CRANKING, NULL);
    if (!str_equal(cranks, book_nothing)) {
        markdown_format(&book->md, "; cranking %.*s", STR_ARG(cranks));
    }
    if (source || (entity->flags & ENTITY_AC && entity->kind == KIND_PANEL)) {
        Figure demand;
        bool known = outcome_figure(book->outcome, book_name(book, entity), FIGURE_DEMAND, STR(""), &demand);
        markdown_format(&book->md, "; demand %s", book_figure(book, entity, FIGURE_DEMAND, NULL).text);
        if (known && demand.remark != NULL) {
            markdown_text(&book->md, STR(" ("));
            book_prose(book, demand.remark);
            markdown_text(&book->md, STR(")"));
        }
    }
    if (entity->kind == KIND_PANEL || entity->kind == KIND_BUS) {
        PropId spare = entity->kind == KIND_PANEL ? PROP_PANEL_SPARE_WAYS : PROP_BUS_SPARE_WAYS;
        markdown_format(&book->md, "; ways still free %s", book_value(book, entity, spare, 0).text);
    }
    markdown_text(&book->md, STR("."));
}

static void one_source(Book *book, const WireRow *row, bool *any)
{
    const Feed *feed = row->feed;
    BookWire wire = book_wire(book, row->in->model, feed);
    if (feed->giver == NULL) {
        return;
    }
    markdown_text(&book->md, *any ? STR("; or by ") : STR(" Fed by "));
    *any = true;
    markdown_code(&book->md, book_name(book, feed->giver));
    if (!feed->shares) {
        markdown_format(&book->md, ", %.*s, %.*s", STR_ARG(book_wire_size(book, &wire)), STR_ARG(book_wire_device(book, &wire)));
    }
    add_options(book, &wire);
}

/* Where its own power comes from, and by what; of mains also by what makes them. What charges is told with the bank. */
static void fed_by(Book *book, const BookThing *thing)
{
    bool any = false;
    for (const WireRow *row = book->wires->by_subject[thing->entity->name]; row != NULL; row = row->of_subject) {
        if (!row->feed->maker) {
            one_source(book, row, &any);
        }
    }
    for (const Feed *feed = thing->entity->made; feed != NULL; feed = feed->next_of_taker) {
        const WireRow *row = feed->one_ended ? wire_row_of(book->wires, thing->in->model, feed) : NULL;
        if (row != NULL) {
            one_source(book, row, &any);
        }
    }
    markdown_text(&book->md, any ? STR(".") : STR(""));
}

/* The inverter that lets this one's power through to what it feeds. */
static void passed_by(Book *book, const BookThing *thing)
{
    const Entity *inverter = thing->in->model->first_of_kind[KIND_INVERTER];
    for (; inverter != NULL; inverter = inverter->next_of_kind) {
        if (!(inverter->flags & ENTITY_DROPPED) &&
            entity_reference(inverter, PROP_INVERTER_PASSES) == thing->entity) {
            markdown_text(&book->md, STR(" What hangs on "));
            markdown_code(&book->md, book_name(book, inverter));
            markdown_text(&book->md, STR(" is fed by it too while it is live."));
        }
    }
}

/* The ways that a case is the first to have so. */
static void ways_in_case(Book *book, const Entity *entity, const Case *in)
{
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        const WireRow *row = feed->maker ? NULL : wire_row_of(book->wires, in->model, feed);
        if (row != NULL && row->in == in && !(feed->taker->flags & ENTITY_DROPPED)) {
            way_row(book, in->model, feed);
        }
    }
}

static void write_panel(Book *book, const BookThing *thing)
{
    markdown_heading(&book->md, 4,
                     str_from(text_format(book->arena, "%s %.*s", kinds[thing->entity->kind].word,
                                          STR_ARG(book_name(book, thing->entity)))),
                     NULL);
    panel_facts(book, thing->entity);
    fed_by(book, thing);
    passed_by(book, thing);
    book_head(book, (const char *const[]){"Way", "What", "Feeds", ">Current", "Protection", ">Wire", "Label"}, 7);
    ways_in_case(book, thing->entity, thing->in);
    for (const Case *in = book->outcome->cases; in < book->outcome->cases + book->outcome->case_count; in++) {
        const Entity *entity = thing->entity->name < in->model->symbol_count ? in->model->by_symbol[thing->entity->name] : NULL;
        if (in != thing->in && entity != NULL) {
            ways_in_case(book, entity, in);
        }
    }
}

void book_panels(Book *book, bool ac)
{
    bool begun = false;
    for (const BookThing *thing = book->things; thing != NULL; thing = thing->next) {
        if (!shares_out(book, thing->entity) || book_gives_ac(thing->entity) != ac) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3,
                             ac ? STR("Panel schedules, alternating current") : STR("Panel schedules, direct current"), NULL);
            begun = true;
        }
        write_panel(book, thing);
    }
}
