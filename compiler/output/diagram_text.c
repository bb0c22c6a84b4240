/* See diagram_text.h. */
#include "output/diagram_text.h"

#include "model/status.h"
#include "model/agree.h"
#include "figures/power.h"
#include "output/feeding.h"
#include "output/wires.h"

#include <string.h>

/* Parts of texts */

bool diagram_is_said(Str text)
{
    return text.length > 0 && !str_equal(text, book_nothing);
}

void diagram_add_part(Buf *to, Str part)
{
    if (diagram_is_said(part)) {
        buf_text(to, to->length > 0 ? ", " : "");
        buf_add(to, part);
    }
}

Str diagram_name(const DiagramTree *tree, const Entity *entity)
{
    return book_name(tree->book, entity);
}

/*
 * `10 A`, or `10 A and 350 A cranking`: who sizes a cable by the sheet must not read "0 A" of a starter's way. Beside `none: cranking`
 * stands what that is, `350 A`: it is the greater, and there is no room for both.
 */
static Str amps_of(const Book *book, const BookWire *wire)
{
    Str current = book_wire_figure(book, wire, FIGURE_CURRENT), cranks = book_wire_cranking(book, wire);
    if (!diagram_is_said(cranks)) {
        return current;
    }
    if (feeding_guarding(book_wire_figures(book, wire), wire->feed) == GUARD_NOT_ASKED) {
        return cranks;
    }
    return str_from(diagram_is_said(current) ? text_format(book->arena, "%.*s and %.*s cranking", STR_ARG(current), STR_ARG(cranks))
                                             : text_format(book->arena, "%.*s cranking", STR_ARG(cranks)));
}

/* `drop 1.2 %`, of the cable itself; of one that cranks `0.9 % lost to here`, which is counted from the source on. */
static const char *drop_of(const Book *book, const BookWire *wire)
{
    Str drop = book_wire_figure(book, wire, FIGURE_VOLTAGE_DROP), cranks = book_wire_figure(book, wire, FIGURE_CRANKING_DROP);
    return diagram_is_said(cranks) ? text_format(book->arena, "%.*s lost to here", STR_ARG(cranks))
           : diagram_is_said(drop) ? text_format(book->arena, "drop %.*s", STR_ARG(drop))
                                   : NULL;
}

Str diagram_cable(const DiagramTree *tree, const BookWire *wire, double width_mm)
{
    const Book *book = tree->book;
    Buf text;
    buf_init(&text, book->arena);
    Str size = book_wire_size(book, wire);
    Str ground = wire->ac ? wires_ground(book->arena, wire->model, wire->feed) : STR("");
    Str run = book_wire_run(book, wire);
    size = diagram_is_said(size) ? size : STR("size not stated");
    if (ground.length > 0) { /* it is a conductor more: what has no room gives way to it */
        bool same = str_equal(size, ground);
        size = str_from(text_format(book->arena, "%.*s, ground %.*s", STR_ARG(size), STR_ARG(same ? STR("too") : ground)));
    }
    diagram_add_part(&text, size);
    const char *whole = text_format(book->arena, "%s, %.*s", text.text, STR_ARG(run));
    if (ground.length > 0 && svg_text_width(str_from(whole), DIAGRAM_SMALL) > width_mm) {
        return buf_str(&text);
    }
    diagram_add_part(&text, run);
    Str current = amps_of(book, wire);
    const char *with_it = text_format(book->arena, "%s, %.*s", text.text, STR_ARG(current));
    if (diagram_is_said(current) && svg_text_width(str_from(with_it), DIAGRAM_SMALL) > width_mm) {
        return buf_str(&text); /* a number that is cut off says another one: the table has it whole */
    }
    diagram_add_part(&text, current);
    const char *drop = drop_of(book, wire);
    if (drop != NULL) {
        const char *longer = text_format(book->arena, "%s, %s", text.text, drop);
        return svg_text_width(str_from(longer), DIAGRAM_SMALL) <= width_mm ? str_from(longer)
                                                                           : buf_str(&text);
    }
    return buf_str(&text);
}

const Property *diagram_device(const BookWire *wire, bool output)
{
    bool alone_at_output = feed_prop(wire->feed, PROP_FEED_PROTECT) == PROP_FEEDS_PROTECT_OUTPUT;
    const Property *guard = feed_property(wire->feed, PROP_FEED_PROTECT);
    return output ? (alone_at_output ? guard : feed_other_device(wire->feed)) : alone_at_output ? NULL : guard;
}

bool diagram_opens_at_leakage(const BookWire *wire)
{
    return feeding_opens_at_leakage(wire->feed);
}

static Str with_leakage(const DiagramTree *tree, const BookWire *wire, Str device)
{
    Buf text;
    buf_init(&text, tree->book->arena);
    buf_add(&text, device);
    feeding_write_mains(&text, wire->model, wire->feed, true);
    return buf_str(&text);
}

/* `16 A breaker` of `16 A breaker miniature`. */
static Str without_sort(const DiagramTree *tree, const BookWire *wire)
{
    const Property *device = feed_property(wire->feed, PROP_FEED_PROTECT);
    return str_from(text_format(tree->book->arena, "%s %s",
                                book_value_text(tree->book, wire->model, property_value(device, 0)).text,
                                book_value_text(tree->book, wire->model, property_value(device, 1)).text));
}

static Str without_device(const DiagramTree *tree, const BookWire *wire)
{
    const Figures *figures = book_wire_figures(tree->book, wire);
    Guarding guarding = feeding_guarding(figures, wire->feed);
    if (guarding != GUARDED_UPSTREAM) {
        return guarding == GUARD_NOT_ASKED ? STR("none: cranking") : STR("no protection stated");
    }
    Buf text;
    buf_init(&text, tree->book->arena);
    buf_text(&text, "by ");
    feeding_write_upstream(&text, figures, wire->feed);
    return buf_str(&text);
}

Str diagram_protection(const DiagramTree *tree, const BookWire *wire, double width_mm)
{
    if (feed_property(wire->feed, PROP_FEED_PROTECT) == NULL) {
        return without_device(tree, wire);
    }
    Str device = book_wire_protection(tree->book, wire);
    Str whole = with_leakage(tree, wire, device);
    if (svg_text_width(whole, DIAGRAM_SMALL) <= width_mm) {
        return whole;
    }
    return with_leakage(tree, wire, without_sort(tree, wire));
}

/* Symbols */

SymbolKind diagram_device_symbol(const Property *protect)
{
    const Value *word = property_value(protect, 1);
    return word->kind == VALUE_WORD && str_is(word->u.word, "breaker") ? SYMBOL_BREAKER : SYMBOL_FUSE;
}

SymbolKind diagram_switch_symbol(const Entity *entity)
{
    return str_is(entity_word(entity, PROP_SWITCH_WORKS_AS), "transfer") ? SYMBOL_TRANSFER : SYMBOL_SWITCH;
}

SymbolKind diagram_symbol_of(const Entity *entity)
{
    switch ((KindId)entity->kind) {
    case KIND_BANK: return SYMBOL_BATTERY;
    case KIND_ALTERNATOR:
    case KIND_GENERATOR: return SYMBOL_GENERATOR;
    case KIND_SOLAR: return SYMBOL_SOLAR;
    case KIND_CHARGER: return SYMBOL_CHARGER;
    case KIND_CONVERTER: return SYMBOL_CONVERTER;
    case KIND_INVERTER: return SYMBOL_INVERTER;
    case KIND_INLET: return SYMBOL_INLET;
    case KIND_PUMP:
    case KIND_BILGE_PUMP:
    case KIND_THRUSTER:
    case KIND_WINDLASS:
    case KIND_BLOWER:
    case KIND_ENGINE: return SYMBOL_MOTOR;
    case KIND_NAV_LIGHT: return SYMBOL_LAMP;
    case KIND_OUTLET: return SYMBOL_OUTLET;
    default: return SYMBOL_LOAD;
    }
}

/* Things */

static Str with_hertz(const Book *book, const Entity *source, Str strength, PropId frequency)
{
    return !entity_states(source, frequency)
               ? strength
               : str_from(text_format(book->arena, "%.*s, %.*s", STR_ARG(strength),
                                      STR_ARG(book_value(book, source, frequency, 0))));
}

/* `1200 W at 230 V, 50 Hz` */
static Str inverter_strength(const Book *book, const Entity *inverter)
{
    Str watts = book_value(book, inverter, PROP_INVERTER_RATED, 0);
    if (entity_states(inverter, PROP_INVERTER_OUTPUT)) {
        watts = str_from(text_format(book->arena, "%.*s at %.*s", STR_ARG(watts),
                                     STR_ARG(book_value(book, inverter, PROP_INVERTER_OUTPUT, 0))));
    }
    return with_hertz(book, inverter, watts, PROP_INVERTER_FREQUENCY);
}

/* `wind, 25 A at 14.4 V` */
static Str alternator_strength(const Book *book, const Entity *alternator)
{
    Str output = book_property(book, alternator, PROP_ALTERNATOR_OUTPUT);
    return !is_engineless(alternator)
               ? output
               : str_from(text_format(book->arena, "%.*s, %.*s",
                                      STR_ARG(book_value(book, alternator, PROP_ALTERNATOR_DRIVEN_BY, 0)), STR_ARG(output)));
}

Str diagram_strength(const DiagramTree *tree, const Entity *entity)
{
    const Book *book = tree->book;
    switch ((KindId)entity->kind) {
    case KIND_ENGINE: return book_value(book, entity, PROP_ENGINE_STARTER, 0);
    case KIND_ALTERNATOR: return alternator_strength(book, entity);
    case KIND_SOLAR: return book_value(book, entity, PROP_SOLAR_RATED, 0);
    case KIND_CHARGER: return book_property(book, entity, PROP_CHARGER_OUTPUT);
    case KIND_CONVERTER: return book_property(book, entity, PROP_CONVERTER_OUTPUT);
    case KIND_INVERTER: return inverter_strength(book, entity);
    case KIND_GENERATOR: return with_hertz(book, entity, book_property(book, entity, PROP_GENERATOR_RATED), PROP_GENERATOR_FREQUENCY);
    case KIND_INLET: return with_hertz(book, entity, book_property(book, entity, PROP_INLET_RATED), PROP_INLET_FREQUENCY);
    case KIND_OUTLET: return book_value(book, entity, PROP_OUTLET_RATED, 0);
    case KIND_WATER_HEATER: return book_value(book, entity, PROP_WATER_HEATER_ELEMENT, 0);
    default: break;
    }
    bool draws = entity->kind == KIND_LOAD || kinds[entity->kind].groups & GROUPS_LOAD;
    return draws ? book_property(book, entity, PROP_LOAD_DRAW) : book_nothing;
}

Str diagram_root_strength(const DiagramTree *tree, const Entity *entity)
{
    Buf text;
    buf_init(&text, tree->book->arena);
    buf_add(&text, diagram_strength(tree, entity));
    if (entity->kind == KIND_INVERTER && entity->fed != NULL && entity->fed->giver != NULL) {
        buf_format(&text, ", from %.*s", STR_ARG(diagram_name(tree, entity->fed->giver)));
    }
    return buf_str(&text);
}

/* `80 A` of `80 A at 14.2 V`. */
static Str before_at(Str text)
{
    for (size_t i = 0; i + 4 <= text.length; i++) {
        if (memcmp(text.text + i, " at ", 4) == 0) {
            return (Str){text.text, i};
        }
    }
    return text;
}

/* The name is cut rather than the strength, for it stands in the schedule too. */
static Str name_and_strength(const DiagramTree *tree, const Entity *entity, Str strength, Str name)
{
    const Book *book = tree->book;
    Buf text;
    buf_init(&text, book->arena);
    buf_add(&text, name);
    Interval laid_out;
    bool several = book_is_physical(entity) &&
                   (entity_states(entity, PROP_COMMON_COUNT) || layout_count(entity, &laid_out));
    if (diagram_is_said(strength)) {
        buf_text(&text, ", ");
        if (several) {
            buf_format(&text, "%.*s x ", STR_ARG(book_value(book, entity, PROP_COMMON_COUNT, 0)));
        }
        buf_add(&text, strength);
    }
    return buf_str(&text);
}

Str diagram_thing(const DiagramTree *tree, const Entity *entity, double width_mm)
{
    const Book *book = tree->book;
    Str name = book_name(book, entity);
    Str whole = name_and_strength(tree, entity, diagram_strength(tree, entity), name);
    if (svg_text_width(whole, DIAGRAM_NAMES) <= width_mm) {
        return whole;
    }
    Str strength = before_at(diagram_strength(tree, entity));
    Str shorter = name_and_strength(tree, entity, strength, name);
    double rest = width_mm - svg_text_width(name_and_strength(tree, entity, strength, STR("")), DIAGRAM_NAMES);
    if (svg_text_width(shorter, DIAGRAM_NAMES) <= width_mm || rest < width_mm / 3.0) {
        return shorter;
    }
    return name_and_strength(tree, entity, strength, svg_text_fit(book->arena, name, DIAGRAM_NAMES, rest));
}

Str diagram_makes(const DiagramTree *tree, const Entity *entity)
{
    Buf text;
    buf_init(&text, tree->book->arena);
    if (book_makes_power(entity) && book_gives_ac(entity) != tree->ac) {
        diagram_add_part(&text, str_from(text_format(tree->book->arena, "gives %s: %s", tree->ac ? "DC" : "AC",
                                                     tree->other_sheet[entity->index])));
        diagram_add_part(&text, entity->title);
        return buf_str(&text);
    }
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (feed->maker || feed->taker->stated_by == entity) {
            diagram_add_part(&text, str_from(text_format(tree->book->arena, "feeds %.*s",
                                                         STR_ARG(diagram_name(tree, feed->taker)))));
        }
    }
    diagram_add_part(&text, entity->title); /* last: it is what may be cut */
    return buf_str(&text);
}

Str diagram_rating(const DiagramTree *tree, const Entity *entity)
{
    const Book *book = tree->book;
    switch ((KindId)entity->kind) {
    case KIND_BUS: return book_value(book, entity, PROP_BUS_RATED, 0);
    case KIND_PANEL: return book_value(book, entity, PROP_PANEL_RATED, 0);
    case KIND_SWITCH: return book_value(book, entity, PROP_SWITCH_RATED, 0);
    default: return book_nothing;
    }
}

/* Cables */

Str diagram_both_devices(const DiagramTree *tree, const BookWire *wire, double width_mm)
{
    const Book *book = tree->book;
    const Property *own = feed_other_device(wire->feed);
    if (own == NULL) {
        return diagram_protection(tree, wire, width_mm);
    }
    const char *first =
        text_format(book->arena, "%s %s; ", book_value_text(book, wire->model, property_value(own, 0)).text,
                    book_value_text(book, wire->model, property_value(own, 1)).text);
    Str second = diagram_protection(tree, wire, width_mm - svg_text_width(str_from(first), DIAGRAM_SMALL));
    return str_from(text_format(book->arena, "%s%.*s", first, STR_ARG(second)));
}

Str diagram_cable_name(const DiagramTree *tree, const Spot *spot)
{
    Buf text;
    buf_init(&text, tree->book->arena);
    if (spot->through != NULL) {
        diagram_add_part(&text, diagram_name(tree, spot->through));
        diagram_add_part(&text, book_value(tree->book, spot->through, PROP_SWITCH_RATED, 0));
    }
    if (spot->kind == SPOT_WAY && spot->has_wire) {
        diagram_add_part(&text, diagram_name(tree, spot->entity));
    }
    return buf_str(&text);
}

Str diagram_bank(const DiagramTree *tree, const Entity *bank)
{
    const Book *book = tree->book;
    Buf text;
    buf_init(&text, book->arena);
    diagram_add_part(&text, book_value(book, bank, PROP_BANK_CHEMISTRY, 0));
    Str volts = book_value(book, bank, PROP_BANK_VOLTAGE, 0);
    bool in_series = entity_states(bank, PROP_BANK_SERIES);
    diagram_add_part(&text, !in_series ? volts
                                       : str_from(text_format(book->arena, "%.*s x %.*s",
                                                              STR_ARG(book_value(book, bank, PROP_BANK_SERIES, 0)),
                                                              STR_ARG(volts))));
    Str capacity = book_figure_short(book, bank, FIGURE_CAPACITY, NULL);
    diagram_add_part(&text,
                     diagram_is_said(capacity) ? capacity : book_value(book, bank, PROP_BANK_CAPACITY, 0));
    if (entity_states(bank, PROP_BANK_PARALLEL)) {
        diagram_add_part(&text, str_from(text_format(book->arena, "%.*s in parallel",
                                                     STR_ARG(book_value(book, bank, PROP_BANK_PARALLEL, 0)))));
    }
    if (entity_states(bank, PROP_BANK_BATTERY_FUSE)) {
        diagram_add_part(&text, str_from(text_format(book->arena, "%.*s fuse at each",
                                                     STR_ARG(book_value(book, bank, PROP_BANK_BATTERY_FUSE, 0)))));
    }
    return buf_str(&text);
}
