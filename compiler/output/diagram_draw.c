/* See diagram_draw.h. Lengths are in mm on an A4 page that lies on its side. */
#include "output/diagram_draw.h"

#include "output/diagram_symbol.h"

#include <string.h>

#define LEFT 10.0
#define LOAD_X 222.0
#define RIGHT 287.0
#define ABOVE 2.4        /* from a line up to the words over it */
#define BELOW 3.5        /* and down to the words under it */
#define NEXT_LINE 3.0
#define ROW_AXIS 5.0     /* from the top of a row to its line */
#define NAME_SIZE 2.6
#define SMALL_SIZE 2.3

static const double bar_x[DIAGRAM_COLUMNS] = {58.0, 100.0, 142.0, 184.0};

/* Texts */

void diagram_words(Drawing *drawing, double x_mm, double baseline_mm, double size_mm, double width_mm, Str text)
{
    if (text.length > 0) {
        Str shown = svg_text_fit(drawing->tree->book->arena, text, size_mm, width_mm);
        svg_text(&drawing->svg, (SvgPoint){x_mm, baseline_mm}, size_mm, SVG_START, shown);
    }
}

static bool is_said(Str text)
{
    return text.length > 0 && !str_equal(text, book_nothing);
}

static void add_part(Buf *to, Str part)
{
    if (is_said(part)) {
        buf_text(to, to->length > 0 ? ", " : "");
        buf_add(to, part);
    }
}

static Str name_of(const Drawing *drawing, const Entity *entity)
{
    return book_name(drawing->tree->book, entity);
}

/* `6 mm2, 4.2 m, 4.5 A, drop 2.1 %`; the drop only where there is room for it. */
static Str cable_text(const Drawing *drawing, const BookWire *wire, double width_mm)
{
    const Book *book = drawing->tree->book;
    Buf text;
    buf_init(&text, book->arena);
    Str size = book_wire_size(book, wire);
    add_part(&text, is_said(size) ? size : STR("size not stated"));
    add_part(&text, book_wire_run(book, wire));
    add_part(&text, book_wire_figure(book, wire, FIGURE_CURRENT));
    Str drop = book_wire_figure(book, wire, FIGURE_VOLTAGE_DROP);
    if (is_said(drop)) {
        const char *longer = text_format(book->arena, "%s, drop %.*s", text.text, STR_ARG(drop));
        return svg_text_width(str_from(longer), SMALL_SIZE) <= width_mm ? str_from(longer) : buf_str(&text);
    }
    return buf_str(&text);
}

static const Property *device_of(const BookWire *wire, bool output)
{
    bool own = wire->block == &wire->subject->block;
    if (output) {
        return own ? NULL : block_property(wire->block, PROP_FEEDS_PROTECT_OUTPUT);
    }
    return block_property(wire->block, own ? PROP_FEED_PROTECT : PROP_FEEDS_PROTECT);
}

static Str protection_text(const Drawing *drawing, const BookWire *wire)
{
    Str text = book_wire_protection(drawing->tree->book, wire);
    return is_said(text) ? text : STR("no protection stated");
}

/* Devices in a cable */

static SymbolKind device_symbol(const Property *protect)
{
    const Value *word = property_value(protect, 1);
    return word->kind == VALUE_WORD && str_is(word->u.word, "breaker") ? SYMBOL_BREAKER : SYMBOL_FUSE;
}

static bool is_protected(const Drawing *drawing, const BookWire *wire)
{
    if (wire->subject->kind == KIND_ENGINE && device_of(wire, false) == NULL) {
        return false; /* a cranking circuit */
    }
    return device_of(wire, false) != NULL || is_said(book_wire_protection(drawing->tree->book, wire));
}

static SymbolKind switch_symbol(const Entity *entity)
{
    return str_is(entity_word(entity, PROP_SWITCH_WORKS_AS), "transfer") ? SYMBOL_TRANSFER : SYMBOL_SWITCH;
}

static void line(Drawing *drawing, double x0, double x1, double y)
{
    svg_line(&drawing->svg, (SvgPoint){x0, y}, (SvgPoint){x1, y}, SVG_LINE);
}

/* A cable that leaves a bar to the right, with what is in it. `name` stands over it. */
static void draw_cable(Drawing *drawing, const Spot *spot, double x0, double x1, double y, Str name)
{
    double text_x = x0 + 3.0;
    double width = x1 - text_x - 1.5;
    line(drawing, x0, x1, y);
    diagram_words(drawing, text_x, y - ABOVE, NAME_SIZE, width, name);
    const Entity *through = spot->through != NULL ? spot->through
                            : spot->entity->kind == KIND_SWITCH ? spot->entity : NULL;
    if (spot->has_wire && !spot->wire.shares) {
        if (is_protected(drawing, &spot->wire)) {
            symbol_draw(&drawing->svg, device_symbol(device_of(&spot->wire, false)), text_x, y);
        }
        diagram_words(drawing, text_x, y + BELOW, SMALL_SIZE, width, protection_text(drawing, &spot->wire));
        diagram_words(drawing, text_x, y + BELOW + NEXT_LINE, SMALL_SIZE, width, cable_text(drawing, &spot->wire, width));
    }
    if (through != NULL) {
        symbol_draw(&drawing->svg, switch_symbol(through), text_x + 10.0, y);
    }
}

/* What stands over a cable: a switch in it, and the cable's name where its end does not show it. */
static Str cable_name(const Drawing *drawing, const Spot *spot)
{
    Buf text;
    buf_init(&text, drawing->tree->book->arena);
    if (spot->through != NULL) {
        add_part(&text, name_of(drawing, spot->through));
        add_part(&text, book_value(drawing->tree->book, spot->through, PROP_SWITCH_RATED, 0));
    }
    if (spot->kind == SPOT_WAY && spot->has_wire) {
        add_part(&text, name_of(drawing, spot->entity));
    }
    return buf_str(&text);
}

/* Loads */

static SymbolKind symbol_of(const Entity *entity)
{
    switch ((KindId)entity->kind) {
    case KIND_BANK: return SYMBOL_BATTERY;
    case KIND_ALTERNATOR: case KIND_GENERATOR: return SYMBOL_GENERATOR;
    case KIND_SOLAR: return SYMBOL_SOLAR;
    case KIND_CHARGER: return SYMBOL_CHARGER;
    case KIND_CONVERTER: return SYMBOL_CONVERTER;
    case KIND_INVERTER: return SYMBOL_INVERTER;
    case KIND_INLET: return SYMBOL_INLET;
    case KIND_PUMP: case KIND_BILGE_PUMP: case KIND_THRUSTER: case KIND_WINDLASS: case KIND_BLOWER: case KIND_ENGINE:
        return SYMBOL_MOTOR;
    case KIND_NAV_LIGHT: return SYMBOL_LAMP;
    case KIND_OUTLET: return SYMBOL_OUTLET;
    default: return SYMBOL_LOAD;
    }
}

/* The property that says how much it takes or gives. */
static Str strength_of(const Book *book, const Entity *entity)
{
    switch ((KindId)entity->kind) {
    case KIND_ENGINE: return book_value(book, entity, PROP_ENGINE_STARTER, 0);
    case KIND_ALTERNATOR: return book_property(book, entity, PROP_ALTERNATOR_OUTPUT);
    case KIND_SOLAR: return book_value(book, entity, PROP_SOLAR_RATED, 0);
    case KIND_CHARGER: return book_property(book, entity, PROP_CHARGER_OUTPUT);
    case KIND_CONVERTER: return book_property(book, entity, PROP_CONVERTER_OUTPUT);
    case KIND_INVERTER: return book_value(book, entity, PROP_INVERTER_RATED, 0);
    case KIND_GENERATOR: return book_property(book, entity, PROP_GENERATOR_RATED);
    case KIND_INLET: return book_property(book, entity, PROP_INLET_RATED);
    case KIND_OUTLET: return book_value(book, entity, PROP_OUTLET_RATED, 0);
    case KIND_WATER_HEATER: return book_value(book, entity, PROP_WATER_HEATER_ELEMENT, 0);
    default: break;
    }
    bool draws = entity->kind == KIND_LOAD || kinds[entity->kind].groups & GROUPS_LOAD;
    return draws ? book_property(book, entity, PROP_LOAD_DRAW) : book_nothing;
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

static Str name_and_strength(const Drawing *drawing, const Entity *entity, Str strength)
{
    const Book *book = drawing->tree->book;
    Buf text;
    buf_init(&text, book->arena);
    buf_add(&text, book_name(book, entity));
    bool several = book_is_physical(entity) && entity_states(entity, PROP_COMMON_COUNT);
    if (is_said(strength)) {
        buf_text(&text, ", ");
        if (several) {
            buf_format(&text, "%.*s x ", STR_ARG(book_value(book, entity, PROP_COMMON_COUNT, 0)));
        }
        buf_add(&text, strength);
    }
    return buf_str(&text);
}

/* `saloon-lamps, 10 x 2.2 W at 12 V`, or as much of it as has room: without the voltage, the name alone. */
static Str thing_text(const Drawing *drawing, const Entity *entity, double width_mm)
{
    const Book *book = drawing->tree->book;
    Str whole = name_and_strength(drawing, entity, strength_of(book, entity));
    if (svg_text_width(whole, NAME_SIZE) <= width_mm) {
        return whole;
    }
    Str shorter = name_and_strength(drawing, entity, before_at(strength_of(book, entity)));
    return svg_text_width(shorter, NAME_SIZE) <= width_mm ? shorter : book_name(book, entity);
}

/* Where what it makes goes: the other picture, or another bar of this one. */
static Str makes_text(const Drawing *drawing, const Entity *entity)
{
    Buf text;
    buf_init(&text, drawing->tree->book->arena);
    if (book_makes_power(entity) && book_gives_ac(entity) != drawing->tree->ac) {
        add_part(&text, drawing->tree->ac ? STR("gives DC: power-dc.svg") : STR("gives AC: power-ac.svg"));
        add_part(&text, entity->title);
        return buf_str(&text);
    }
    buf_add(&text, entity->title);
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        if (feed->maker) {
            add_part(&text, str_from(text_format(drawing->tree->book->arena, "feeds %.*s",
                                                 STR_ARG(name_of(drawing, feed->taker)))));
        }
    }
    return buf_str(&text);
}

static void draw_thing(Drawing *drawing, const Entity *entity, double x, double y)
{
    Str more = makes_text(drawing, entity);
    double text_x = x + SYMBOL_WIDTH + 1.5;
    double width = RIGHT - text_x;
    symbol_draw(&drawing->svg, symbol_of(entity), x, y);
    if (more.length == 0) {
        diagram_words(drawing, text_x, svg_baseline(y, NAME_SIZE), NAME_SIZE, width, thing_text(drawing, entity, width));
        return;
    }
    diagram_words(drawing, text_x, y - 0.4, NAME_SIZE, width, thing_text(drawing, entity, width));
    diagram_words(drawing, text_x, y + 2.4, SMALL_SIZE, width, more);
}

/* The loads of a way, one under the other on a line of their own. */
static void draw_loads(Drawing *drawing, const Spot *spot, double y)
{
    unsigned drawn = 0;
    double last = y;
    for (const SpotLoad *load = spot->loads; load != NULL; load = load->next, drawn++) {
        double at = y + DIAGRAM_LOAD * drawn;
        double x = LOAD_X + (load->inside ? 10.0 : 2.0);
        if (drawn == DIAGRAM_MOST_LOADS) {
            diagram_words(drawing, x, svg_baseline(at, SMALL_SIZE), SMALL_SIZE, RIGHT - x, STR("and more: see the book"));
            break;
        }
        line(drawing, LOAD_X, x, at);
        draw_thing(drawing, load->entity, x, at);
        last = at;
    }
    if (last > y) {
        svg_line(&drawing->svg, (SvgPoint){LOAD_X, y}, (SvgPoint){LOAD_X, last}, SVG_LINE);
    }
}

static void draw_way(Drawing *drawing, const Spot *spot, double x0, double top)
{
    double y = top + ROW_AXIS;
    bool is_cable = spot->entity->kind == KIND_CIRCUIT;
    draw_cable(drawing, spot, x0, LOAD_X, y, cable_name(drawing, spot));
    if (spot->loads != NULL) {
        draw_loads(drawing, spot, y);
    } else if (is_cable) {
        svg_circle(&drawing->svg, (SvgPoint){LOAD_X + 1.0, y}, 1.0, SVG_LINE, SVG_WHITE);
        diagram_words(drawing, LOAD_X + 4.0, svg_baseline(y, SMALL_SIZE), SMALL_SIZE, RIGHT - LOAD_X - 4.0,
                      STR("nothing on it"));
    } else {
        line(drawing, LOAD_X, LOAD_X + 2.0, y);
        draw_thing(drawing, spot->entity, LOAD_X + 2.0, y);
    }
}

/* Where the section of a bar begins: on this page, or on another. */
static Str where_is(const Drawing *drawing, const Spot *section)
{
    if (section->page == drawing->page) {
        return STR("drawn on this page");
    }
    return str_from(text_format(drawing->tree->book->arena, "see %s", drawing->page_name(drawing->tree, section->page)));
}

/* A bar that is drawn on another page, or under another of its sources. */
static void draw_link(Drawing *drawing, const Spot *spot, double x0, double top)
{
    double y = top + ROW_AXIS;
    const Book *book = drawing->tree->book;
    draw_cable(drawing, spot, x0, LOAD_X, y, cable_name(drawing, spot));
    symbol_draw(&drawing->svg, SYMBOL_LINK, LOAD_X, y);
    double x = LOAD_X + SYMBOL_WIDTH + 3.5;
    Buf more;
    buf_init(&more, book->arena);
    buf_add(&more, spot->entity->title);
    add_part(&more, !spot->cut ? STR("drawn at its other source") : where_is(drawing, spot));
    line(drawing, LOAD_X, LOAD_X + 1.0, y);
    diagram_words(drawing, x, y - 0.4, NAME_SIZE, RIGHT - x, name_of(drawing, spot->entity));
    diagram_words(drawing, x, y + 2.4, SMALL_SIZE, RIGHT - x, buf_str(&more));
}

/* Bars */

static Str rating_of(const Drawing *drawing, const Entity *entity)
{
    const Book *book = drawing->tree->book;
    switch ((KindId)entity->kind) {
    case KIND_BUS: return book_value(book, entity, PROP_BUS_RATED, 0);
    case KIND_PANEL: return book_value(book, entity, PROP_PANEL_RATED, 0);
    case KIND_SWITCH: return book_value(book, entity, PROP_SWITCH_RATED, 0);
    default: return book_nothing;
    }
}

static void draw_bar_line(Drawing *drawing, const Entity *entity, double x, double from, double to)
{
    if (entity->kind == KIND_PANEL) {
        svg_rectangle(&drawing->svg, (SvgBox){x - 1.0, from - 2.5, 2.0, to - from + 5.0}, SVG_LINE, SVG_WHITE);
    } else {
        svg_line(&drawing->svg, (SvgPoint){x, from - 2.5}, (SvgPoint){x, to + 2.5},
                 entity->kind == KIND_BUS ? SVG_THICK : SVG_LINE);
    }
}

static void write_bar_label(Drawing *drawing, const Spot *spot, double top)
{
    if (spot->depth == 0) {
        return; /* its name stands at the left margin */
    }
    Buf text;
    buf_init(&text, drawing->tree->book->arena);
    add_part(&text, name_of(drawing, spot->entity));
    add_part(&text, rating_of(drawing, spot->entity));
    double x = bar_x[spot->depth] - (spot->entity->kind == KIND_PANEL ? 1.0 : 0.0);
    double width = (spot->depth + 1 < DIAGRAM_COLUMNS ? bar_x[spot->depth + 1] : LOAD_X) - x - 3.0;
    Str title = spot->entity->title;
    if (svg_text_width(str_from(text_format(drawing->tree->book->arena, "%s, %.*s", text.text, STR_ARG(title))),
                       NAME_SIZE) <= width) {
        add_part(&text, title);
    }
    diagram_words(drawing, x, top + 3.6, NAME_SIZE, width, buf_str(&text));
}

/* `40 A breaker; 40 A fuse terminal`: at its own end, then at the bar; without the sort of device where room lacks. */
static Str both_devices(const Drawing *drawing, const BookWire *wire, double width_mm)
{
    const Book *book = drawing->tree->book;
    const Property *own = device_of(wire, true), *bar = device_of(wire, false);
    Str whole = protection_text(drawing, wire);
    Str first = STR("");
    if (own != NULL) {
        first = str_from(text_format(book->arena, "%s %s; ", book_value_text(book, wire->model, property_value(own, 0)).text,
                                     book_value_text(book, wire->model, property_value(own, 1)).text));
    }
    Str text = str_from(text_format(book->arena, "%.*s%.*s", STR_ARG(first), STR_ARG(whole)));
    if (bar == NULL || svg_text_width(text, SMALL_SIZE) <= width_mm) {
        return text;
    }
    return str_from(text_format(book->arena, "%.*s%s %s", STR_ARG(first),
                                book_value_text(book, wire->model, property_value(bar, 0)).text,
                                book_value_text(book, wire->model, property_value(bar, 1)).text));
}

/* What makes power, at the left of the bar that it feeds, with its cable. */
static void draw_maker(Drawing *drawing, const BookWire *wire, double x0, double x1, double y)
{
    static const double below = 4.6; /* clear of the symbol, under which these words begin */
    double text_x = x0 + SYMBOL_WIDTH + 1.0;
    double width = x1 - x0 - 1.5;
    const Property *output = device_of(wire, true);
    line(drawing, x0 + SYMBOL_WIDTH / 2.0, x1, y);
    symbol_draw(&drawing->svg, symbol_of(wire->giver), x0, y);
    diagram_words(drawing, text_x, y - ABOVE, NAME_SIZE, x1 - text_x - 1.5,
                  thing_text(drawing, wire->giver, x1 - text_x - 1.5));
    if (output != NULL) {
        symbol_draw(&drawing->svg, device_symbol(output), text_x + 2.0, y);
    }
    if (is_protected(drawing, wire)) {
        symbol_draw(&drawing->svg, device_symbol(device_of(wire, false)), x1 - SYMBOL_WIDTH - 3.0, y);
    }
    diagram_words(drawing, x0, y + below, SMALL_SIZE, width, both_devices(drawing, wire, width));
    diagram_words(drawing, x0, y + below + 2.7, SMALL_SIZE, width, cable_text(drawing, wire, width));
}

/* A source at the left of a bar. */
static void draw_source(Drawing *drawing, const SpotSource *source, double x0, double x1, double y)
{
    double text_x = x0 + SYMBOL_WIDTH + 1.0;
    double width = x1 - text_x - 1.5;
    if (source->elsewhere) {
        line(drawing, x0 + 1.0, x1, y);
        symbol_draw(&drawing->svg, SYMBOL_LINK, x0, y);
        diagram_words(drawing, text_x, y - ABOVE, NAME_SIZE, width, name_of(drawing, source->wire.giver));
        return;
    }
    draw_maker(drawing, &source->wire, x0, x1, y);
}

static double draw_bar(Drawing *drawing, const Spot *spot, const Piece *piece, double top);

/* The lines of the first and the last of what leaves a bar to the right. */
typedef struct Rows {
    double first, last;
} Rows;

static Rows draw_children(Drawing *drawing, const Spot *spot, const Spot *first, unsigned count, double top)
{
    double x = bar_x[spot->depth];
    Rows rows = {top + DIAGRAM_HEAD + ROW_AXIS, top + DIAGRAM_HEAD + ROW_AXIS};
    const Spot *child = first;
    top += spot_head(first);
    for (unsigned i = 0; i < count && child != NULL; i++, child = child->next) {
        rows.last = top + ROW_AXIS;
        if (child->cut || child->kind == SPOT_LINK) {
            draw_link(drawing, child, x, top);
        } else if (child->kind == SPOT_WAY) {
            draw_way(drawing, child, x, top);
        } else {
            rows.last = draw_bar(drawing, child, NULL, top);
            draw_cable(drawing, child, x, bar_x[child->depth], rows.last, cable_name(drawing, child));
        }
        rows.first = i == 0 ? rows.last : rows.first;
        top += spot_height(child);
    }
    return rows;
}

static unsigned count_children(const Spot *spot)
{
    unsigned count = 0;
    for (const Spot *child = spot->children; child != NULL; child = child->next) {
        count++;
    }
    return count;
}

/* Draws a bar with all that hangs on it, or with what the piece holds of it; returns the line of its first row. */
static double draw_bar(Drawing *drawing, const Spot *spot, const Piece *piece, double top)
{
    double x = bar_x[spot->depth];
    unsigned sources = piece != NULL ? piece->source_count : spot->source_count;
    const SpotSource *source = piece != NULL ? piece->source : spot->sources;
    write_bar_label(drawing, spot, top);
    Rows rows = draw_children(drawing, spot, piece != NULL ? piece->first : spot->children,
                              piece != NULL ? piece->count : count_children(spot), top);
    double source_x = spot->depth == 0 ? LEFT + 2.0 : bar_x[spot->depth - 1] + 3.0;
    double y = rows.first + (piece != NULL ? spot_root_height(spot) : DIAGRAM_ROW);
    for (unsigned i = 0; i < sources && source != NULL; i++, source = source->next) {
        draw_source(drawing, source, source_x, x, y);
        rows.last = y > rows.last ? y : rows.last;
        y += DIAGRAM_ROW;
    }
    draw_bar_line(drawing, spot->entity, x, rows.first, rows.last);
    return rows.first;
}

/* The root of a section */

static void add_line(Drawing *drawing, double *baseline, double width, Str text)
{
    if (is_said(text)) {
        diagram_words(drawing, LEFT, *baseline, SMALL_SIZE, width, text);
        *baseline += NEXT_LINE;
    }
}

static Str bank_text(const Drawing *drawing, const Entity *bank)
{
    const Book *book = drawing->tree->book;
    Buf text;
    buf_init(&text, book->arena);
    add_part(&text, book_value(book, bank, PROP_BANK_CHEMISTRY, 0));
    add_part(&text, book_value(book, bank, PROP_BANK_VOLTAGE, 0));
    Str capacity = book_figure_short(book, bank, FIGURE_CAPACITY, NULL);
    add_part(&text, is_said(capacity) ? capacity : book_value(book, bank, PROP_BANK_CAPACITY, 0));
    return buf_str(&text);
}

static Str origin_of(const Drawing *drawing, const Spot *spot)
{
    const Book *book = drawing->tree->book;
    if (spot->parent == NULL) {
        return STR("");
    }
    const Spot *section = spot->parent;
    while (section->parent != NULL && !section->cut) {
        section = section->parent;
    }
    return str_from(text_format(book->arena, "fed by %.*s, %.*s", STR_ARG(name_of(drawing, spot->parent->entity)),
                                STR_ARG(where_is(drawing, section))));
}

/* Name and facts at the left margin, the symbol, and the line from there to the bar. */
static void draw_root(Drawing *drawing, const Piece *piece, double y)
{
    static const double symbol_x = 44.0;
    const Entity *entity = piece->section->entity;
    double baseline = y + 0.9;
    diagram_words(drawing, LEFT, y - ABOVE, NAME_SIZE, symbol_x - LEFT - 2.0, name_of(drawing, entity));
    add_line(drawing, &baseline, symbol_x - LEFT - 2.0, entity->title);
    baseline = baseline < y + 4.4 ? y + 4.4 : baseline; /* clear of the symbol */
    if (entity->kind == KIND_BANK) {
        add_line(drawing, &baseline, bar_x[0] - LEFT - 2.0, bank_text(drawing, entity));
    } else {
        add_line(drawing, &baseline, bar_x[0] - LEFT - 2.0,
                 book_makes_power(entity) ? strength_of(drawing->tree->book, entity) : rating_of(drawing, entity));
    }
    add_line(drawing, &baseline, bar_x[0] - LEFT - 2.0,
             piece->continued ? STR("continued") : origin_of(drawing, piece->section));
    line(drawing, symbol_x + SYMBOL_WIDTH / 2.0, bar_x[0], y);
    bool own_symbol = entity->kind == KIND_BANK || book_makes_power(entity);
    symbol_draw(&drawing->svg, own_symbol ? symbol_of(entity) : SYMBOL_LINK, symbol_x, y);
    if (entity->kind == KIND_INLET && entity->fed == NULL) {
        BookWire wire = book_inlet_wire(drawing->tree->model, entity);
        if (is_protected(drawing, &wire)) {
            symbol_draw(&drawing->svg, device_symbol(device_of(&wire, false)), symbol_x + SYMBOL_WIDTH + 0.8, y);
        }
        add_line(drawing, &baseline, bar_x[0] - LEFT - 2.0, protection_text(drawing, &wire));
        add_line(drawing, &baseline, bar_x[0] - LEFT - 2.0, cable_text(drawing, &wire, bar_x[0] - LEFT - 2.0));
    }
}

void diagram_draw_piece(Drawing *drawing, const Piece *piece)
{
    double y = draw_bar(drawing, piece->section, piece, piece->top_mm);
    draw_root(drawing, piece, y);
}
