/* See diagram_draw.h. Lengths are in mm. */
#include "output/diagram_draw.h"

#include "figures/power.h"
#include "model/status.h"

#include "output/diagram_text.h"
#include "output/picture.h"

#define LEFT DIAGRAM_LEFT
#define LOAD_X 138.0
#define RIGHT DIAGRAM_RIGHT
#define ABOVE 2.4 /* from a line up to the words over it */
#define BELOW 3.5 /* and down to the words under it */
#define NEXT_LINE 3.0
#define ROW_AXIS 5.0 /* from the top of a row to its line */

static const double bar_x[DIAGRAM_COLUMNS] = {52.0, 94.0};

void diagram_words(Drawing *drawing, double x_mm, double baseline_mm, double size_mm, double width_mm,
                   Str text)
{
    picture_words(&drawing->svg, drawing->tree->book->arena, (SvgPoint){x_mm, baseline_mm}, size_mm, width_mm, text);
}

static void line(Drawing *drawing, double x0, double x1, double y)
{
    svg_line(&drawing->svg, (SvgPoint){x0, y}, (SvgPoint){x1, y}, SVG_LINE);
}

/* Draws a symbol and notes it for the legend. */
static void put_symbol(Drawing *drawing, SymbolKind kind, double x, double y)
{
    drawing->used[kind] = true;
    symbol_draw(&drawing->svg, kind, x, y);
}

static const Spot *section_of(const Spot *spot)
{
    while (spot->parent != NULL && !spot->cut) {
        spot = spot->parent;
    }
    return spot;
}

/* Where the far end of a switch that joins two sources is drawn on another page: the section there; else NULL. */
static const Spot *joined_elsewhere(const Drawing *drawing, const Spot *spot)
{
    const Entity *other = spot_joins(drawing->tree, spot);
    const Spot *there = other != NULL ? drawing->tree->of_entity[other->index] : NULL;
    const Spot *section = there != NULL ? section_of(there) : NULL;
    return section != NULL && section->page != drawing->page ? section : NULL;
}

/*
 * A cable that leaves a bar to the right, with what is in it. `name` stands over it. Power comes from the left: a switch that the
 * cable begins at stands before the cable's fuse, one that it leads to behind.
 */
static void draw_cable(Drawing *drawing, const Spot *spot, double x0, double x1, double y, Str name)
{
    double text_x = x0 + 2.5, device_x = text_x;
    double width = x1 - text_x - 1.2;
    bool drawn_there = spot->kind == SPOT_LINK && spot_joins(drawing->tree, spot) != NULL &&
                       joined_elsewhere(drawing, spot) == NULL; /* one contact, not two in a row */
    line(drawing, x0, x1, y);
    diagram_words(drawing, text_x, y - ABOVE, DIAGRAM_NAMES, width, name);
    if (spot->through != NULL) {
        put_symbol(drawing, diagram_switch_symbol(spot->through), text_x, y);
        device_x += SYMBOL_WIDTH + 3.0;
    }
    if (spot->has_wire && !spot->wire.shares) {
        if (diagram_device(&spot->wire, false) != NULL) {
            put_symbol(drawing, diagram_device_symbol(diagram_device(&spot->wire, false)), device_x, y);
        }
        if (diagram_opens_at_leakage(&spot->wire)) {
            put_symbol(drawing, SYMBOL_LEAKAGE, device_x + SYMBOL_WIDTH, y);
        }
        diagram_words(drawing, text_x, y + BELOW, DIAGRAM_SMALL, width,
                      diagram_protection(drawing->tree, &spot->wire, width));
        diagram_words(drawing, text_x, y + BELOW + NEXT_LINE, DIAGRAM_SMALL, width,
                      diagram_cable(drawing->tree, &spot->wire, width));
    }
    if (spot->entity->kind == KIND_SWITCH && !drawn_there) {
        put_symbol(drawing, diagram_switch_symbol(spot->entity), device_x + 13.0, y);
    }
}

/* Loads */

static void draw_thing(Drawing *drawing, const Entity *entity, double x, double y)
{
    Str more = diagram_makes(drawing->tree, entity);
    double text_x = x + SYMBOL_WIDTH + 1.5;
    double width = RIGHT - text_x;
    put_symbol(drawing, diagram_symbol_of(entity), x, y);
    if (more.length == 0) {
        diagram_words(drawing, text_x, svg_baseline(y, DIAGRAM_NAMES), DIAGRAM_NAMES, width,
                      diagram_thing(drawing->tree, entity, width));
        return;
    }
    diagram_words(drawing, text_x, y - 0.4, DIAGRAM_NAMES, width,
                  diagram_thing(drawing->tree, entity, width));
    diagram_words(drawing, text_x, y + 2.4, DIAGRAM_SMALL, width, more);
}

/* The loads of a way, one under the other on a line of their own, below what else it ends in. */
static void draw_loads(Drawing *drawing, const Spot *spot, double y)
{
    unsigned drawn = 0;
    double first = y + (spot->passed_by != NULL ? DIAGRAM_PASSED : 0.0);
    double last = y;
    for (const SpotLoad *load = spot->loads; load != NULL; load = load->next, drawn++) {
        double at = first + DIAGRAM_LOAD * drawn;
        double x = LOAD_X + (load->inside ? 10.0 : 2.0);
        if (drawn == DIAGRAM_MOST_LOADS) {
            diagram_words(drawing, x, svg_baseline(at, DIAGRAM_SMALL), DIAGRAM_SMALL, RIGHT - x,
                          STR("and more: see the book"));
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

/* Where the section of a bar begins: on this page, or on another. */
static Str where_is(const Drawing *drawing, const Spot *section)
{
    if (section->page == drawing->page) {
        return STR("drawn on this page");
    }
    return str_from(
        text_format(drawing->tree->book->arena, "see %s", drawing->page_name(drawing->tree, section->page)));
}

#define END_X (LOAD_X + SYMBOL_WIDTH + 3.5)

/* The end of a line that goes on elsewhere: what is there, and where. */
static void draw_end(Drawing *drawing, const Entity *entity, double y, Str where, Str more)
{
    static const double x = END_X;
    Buf text;
    buf_init(&text, drawing->tree->book->arena);
    buf_add(&text, where);
    diagram_add_part(&text, more);
    line(drawing, LOAD_X, LOAD_X + 1.0, y);
    put_symbol(drawing, SYMBOL_LINK, LOAD_X, y);
    diagram_words(drawing, x, y - 0.4, DIAGRAM_NAMES, RIGHT - x, diagram_name(drawing->tree, entity));
    diagram_words(drawing, x, y + 2.4, DIAGRAM_SMALL, RIGHT - x, buf_str(&text));
}

/* The switch that joins two sources hangs on each: where each of its cables ends, the other source is named. */
static void draw_join(Drawing *drawing, const Spot *spot, const Entity *other, double y)
{
    const Spot *section = joined_elsewhere(drawing, spot);
    const char *beyond =
        text_format(drawing->tree->book->arena, "beyond %.*s", STR_ARG(diagram_name(drawing->tree, spot->entity)));
    draw_end(drawing, other, y, str_from(beyond), spot->entity->title);
    if (section != NULL) { /* a line of its own, so that no name of a file is cut off */
        diagram_words(drawing, END_X, y + 2.4 + NEXT_LINE, DIAGRAM_SMALL, RIGHT - END_X, where_is(drawing, section));
    }
}

/* The inverter that lets this line through to what it feeds. */
static void draw_passed_by(Drawing *drawing, const Entity *inverter, double y)
{
    const Spot *bar = section_of(drawing->tree->of_entity[inverter->index]);
    Str where = bar->page == drawing->page ? STR("on this page") : where_is(drawing, bar);
    draw_end(drawing, inverter, y, STR("passes this"), where);
}

/* A bar that is drawn on another page, or under another of its sources. */
static void draw_link(Drawing *drawing, const Spot *spot, double x0, double top)
{
    double y = top + ROW_AXIS;
    const Entity *other = spot_joins(drawing->tree, spot);
    bool again = joined_elsewhere(drawing, spot) != NULL; /* the same switch is drawn there too, by its name */
    draw_cable(drawing, spot, x0, LOAD_X, y,
               again || (other != NULL && spot->through == NULL) ? diagram_name(drawing->tree, spot->entity)
                                                                 : diagram_cable_name(drawing->tree, spot));
    if (spot->passed_by != NULL) {
        draw_passed_by(drawing, spot->passed_by, y);
    } else if (other != NULL) {
        draw_join(drawing, spot, other, y);
    } else {
        draw_end(drawing, spot->entity, y, spot->cut ? where_is(drawing, spot) : STR("drawn at its other source"),
                 spot->entity->title);
    }
}

static void draw_way(Drawing *drawing, const Spot *spot, double x0, double top)
{
    double y = top + ROW_AXIS;
    bool is_cable = spot->entity->kind == KIND_CIRCUIT || spot->entity->kind == KIND_SWITCH;
    const Entity *other = spot_joins(drawing->tree, spot);
    draw_cable(drawing, spot, x0, LOAD_X, y, diagram_cable_name(drawing->tree, spot));
    if (spot->passed_by != NULL) {
        draw_passed_by(drawing, spot->passed_by, y);
    }
    if (spot->loads != NULL) {
        draw_loads(drawing, spot, y);
    } else if (spot->passed_by != NULL) {
        return;
    } else if (other != NULL) {
        draw_join(drawing, spot, other, y);
    } else if (is_cable) {
        svg_circle(&drawing->svg, (SvgPoint){LOAD_X + 1.0, y}, 1.0, SVG_LINE, SVG_WHITE);
        diagram_words(drawing, LOAD_X + 4.0, svg_baseline(y, DIAGRAM_SMALL), DIAGRAM_SMALL,
                      RIGHT - LOAD_X - 4.0, STR("nothing on it"));
    } else {
        line(drawing, LOAD_X, LOAD_X + 2.0, y);
        draw_thing(drawing, spot->entity, LOAD_X + 2.0, y);
    }
}


/* Bars */

static void draw_bar_line(Drawing *drawing, const Entity *entity, double x, double from, double to)
{
    drawing->used[SYMBOL_PANEL] |= entity->kind == KIND_PANEL;
    drawing->used[SYMBOL_BUS] |= entity->kind == KIND_BUS;
    if (entity->kind == KIND_PANEL) {
        svg_rectangle(&drawing->svg, (SvgBox){x - 1.0, from - 2.5, 2.0, to - from + 5.0}, SVG_LINE,
                      SVG_WHITE);
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
    diagram_add_part(&text, diagram_name(drawing->tree, spot->entity));
    diagram_add_part(&text, diagram_rating(drawing->tree, spot->entity));
    double x = bar_x[spot->depth] - (spot->entity->kind == KIND_PANEL ? 1.0 : 0.0);
    double width = (spot->depth + 1 < DIAGRAM_COLUMNS ? bar_x[spot->depth + 1] : LOAD_X) - x - 3.0;
    Str title = spot->entity->title;
    if (svg_text_width(
            str_from(text_format(drawing->tree->book->arena, "%s, %.*s", text.text, STR_ARG(title))),
            DIAGRAM_NAMES) <= width) {
        diagram_add_part(&text, title);
    }
    diagram_words(drawing, x, top + 3.6, DIAGRAM_NAMES, width, buf_str(&text));
}

/* What makes power, at the left of the bar that it feeds, with its cable. */
static void draw_maker(Drawing *drawing, const BookWire *wire, double x0, double x1, double y)
{
    static const double below = 4.6; /* clear of the symbol, under which these words begin */
    double text_x = x0 + SYMBOL_WIDTH + 1.0;
    double width = x1 - x0 - 1.5;
    const Property *output = diagram_device(wire, true);
    line(drawing, x0 + SYMBOL_WIDTH / 2.0, x1, y);
    put_symbol(drawing, diagram_symbol_of(wire->giver), x0, y);
    diagram_words(drawing, text_x, y - ABOVE, DIAGRAM_NAMES, x1 - text_x - 1.5,
                  diagram_thing(drawing->tree, wire->giver, x1 - text_x - 1.5));
    if (output != NULL) {
        put_symbol(drawing, diagram_device_symbol(output), text_x + 2.0, y);
    }
    if (diagram_device(wire, false) != NULL) {
        put_symbol(drawing, diagram_device_symbol(diagram_device(wire, false)),
                    x1 - SYMBOL_WIDTH - 3.0, y);
    } else if (wire->taker->kind == KIND_SWITCH && diagram_switch_symbol(wire->taker) == SYMBOL_TRANSFER) {
        put_symbol(drawing, SYMBOL_TRANSFER, x1 - SYMBOL_WIDTH - 3.0, y); /* one of its sources */
    }
    bool harness = feeds_by_starter_cable(wire->feed); /* nothing to be wired */
    if (wire->shares || harness) {
        diagram_words(drawing, x0, y + below, DIAGRAM_SMALL, width,
                      harness ? STR("by the starter's cable") : STR("bolted on, no cable"));
        return;
    }
    diagram_words(drawing, x0, y + below, DIAGRAM_SMALL, width,
                  diagram_both_devices(drawing->tree, wire, width));
    diagram_words(drawing, x0, y + below + 2.7, DIAGRAM_SMALL, width,
                  diagram_cable(drawing->tree, wire, width));
}

/* A source at the left of a bar. */
static void draw_source(Drawing *drawing, const SpotSource *source, double x0, double x1, double y)
{
    double text_x = x0 + SYMBOL_WIDTH + 1.0;
    double width = x1 - text_x - 1.5;
    if (source->elsewhere) {
        line(drawing, x0 + 1.0, x1, y);
        put_symbol(drawing, SYMBOL_LINK, x0, y);
        diagram_words(drawing, text_x, y - ABOVE, DIAGRAM_NAMES, width,
                      diagram_name(drawing->tree, source->wire.giver));
        if (source->passed) {
            bool switches = entity_yes(source->wire.taker, PROP_INVERTER_TRANSFER) == 1;
            if (switches) {
                put_symbol(drawing, SYMBOL_TRANSFER, x1 - SYMBOL_WIDTH - 3.0, y);
            }
            diagram_words(drawing, x0, y + BELOW, DIAGRAM_SMALL, x1 - x0 - 1.5,
                          switches ? STR("passed through while it is live") : STR("passed; no transfer switch stated"));
        }
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
            draw_cable(drawing, child, x, bar_x[child->depth], rows.last,
                       diagram_cable_name(drawing->tree, child));
            if (turns_power(child->entity)) { /* before its bar, so that nobody takes that for a plain one */
                put_symbol(drawing, diagram_symbol_of(child->entity), bar_x[child->depth] - SYMBOL_WIDTH, rows.last);
            }
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

/*
 * Draws a bar with all that hangs on it, or with what the piece holds of it; returns the line of its first
 * row.
 */
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
        y += DIAGRAM_SOURCE;
    }
    draw_bar_line(drawing, spot->entity, x, rows.first, rows.last);
    return rows.first;
}

/* The root of a section */

static void add_line(Drawing *drawing, double *baseline, double width, Str text)
{
    if (diagram_is_said(text)) {
        *baseline += NEXT_LINE * picture_words_wrapped(&drawing->svg, drawing->tree->book->arena, (SvgPoint){LEFT, *baseline},
                                                       (PictureFit){DIAGRAM_SMALL, width, false}, text);
    }
}

/* By what a section that is cut off is fed, and where that is drawn: a line each, so that no file name is broken. */
static void write_origin(Drawing *drawing, const Spot *spot, double *baseline, double width)
{
    if (spot->parent != NULL) {
        Arena *arena = drawing->tree->book->arena;
        double rest = width - svg_text_width(STR("fed by ,"), DIAGRAM_SMALL); /* one line: below the next stands the first source */
        Str name = svg_text_fit(arena, diagram_name(drawing->tree, spot->parent->entity), DIAGRAM_SMALL, rest);
        const char *by = text_format(arena, "fed by %.*s,", STR_ARG(name));
        add_line(drawing, baseline, width, str_from(by));
        add_line(drawing, baseline, width, where_is(drawing, section_of(spot->parent)));
    }
}

#define BOND 18.0 /* what the symbol of a bond takes of the margin */

/*
 * A galvanic isolator lies in the grounding conductor alone: that leaves the line of all conductors, and comes back to it behind
 * the isolator. Only there is the boat's ground joined; before it, the isolator would be passed by.
 */
static void draw_ground_way(Drawing *drawing, const Entity *inlet, double x, double y)
{
    static const double below = 5.0, half_box = 2.4;
    double out = x + 0.8, back = x + SYMBOL_WIDTH + 5.0, way = y + below;
    svg_polyline(&drawing->svg, (SvgPoint[]){{out, y}, {out, way}, {x + 2.0, way}}, 3, SVG_LINE);
    put_symbol(drawing, SYMBOL_ISOLATOR, x + 2.0, way);
    svg_polyline(&drawing->svg, (SvgPoint[]){{x + 2.0 + SYMBOL_WIDTH, way}, {back, way}, {back, y}}, 3, SVG_LINE);
    if (entity_yes(inlet, PROP_INLET_BONDED) == 1) {
        put_symbol(drawing, SYMBOL_GROUND, back - SYMBOL_WIDTH / 2.0, way);
    }
    diagram_words(drawing, x + 0.5, way + half_box + 3.4, DIAGRAM_SMALL, BOND, STR("ground alone"));
}

/* What an inlet's own cable has in it, from the inlet to its bar, and its bond below. */
static void draw_inlet_line(Drawing *drawing, const Entity *inlet, double x, double y)
{
    bool own_cable = inlet->fed != NULL && inlet->fed->giver == NULL;
    BookWire wire = own_cable ? book_wire(drawing->tree->book, drawing->tree->model, inlet->fed) : (BookWire){.giver = NULL};
    Str isolation = entity_word(inlet, PROP_INLET_ISOLATION);
    if (own_cable && diagram_device(&wire, false) != NULL) {
        put_symbol(drawing, diagram_device_symbol(diagram_device(&wire, false)), x, y);
    }
    if (entity_states(inlet, PROP_FEED_GROUND_FAULT)) {
        put_symbol(drawing, SYMBOL_LEAKAGE, x + 8.0, y);
    }
    double device_x = x + 16.0;
    if (str_is(isolation, "transformer")) {
        put_symbol(drawing, SYMBOL_TRANSFORMER, device_x, y);
    }
    if (has_isolator(inlet)) {
        draw_ground_way(drawing, inlet, device_x, y);
    } else if (entity_yes(inlet, PROP_INLET_BONDED) == 1) {
        put_symbol(drawing, SYMBOL_GROUND, device_x + 5.0, y);
    }
}

/* Facts of an inlet below its line; the symbol of its bond keeps the right of the first two. */
static void write_inlet(Drawing *drawing, const Entity *inlet, double *baseline, double width)
{
    double below_bond = *baseline + (has_isolator(inlet) ? 3.0 : 2.0) * NEXT_LINE;
    add_line(drawing, baseline, width - BOND, inlet->title);
    add_line(drawing, baseline, width - BOND, diagram_strength(drawing->tree, inlet));
    add_line(drawing, baseline, width - BOND,
             entity_yes(inlet, PROP_INLET_POLARITY_INDICATOR) == 1 ? STR("polarity light") : STR(""));
    *baseline = below_bond > *baseline ? below_bond : *baseline;
    if (inlet->fed != NULL && inlet->fed->giver == NULL) {
        BookWire wire = book_wire(drawing->tree->book, drawing->tree->model, inlet->fed); /* to the first breaker */
        add_line(drawing, baseline, width, diagram_protection(drawing->tree, &wire, width));
        add_line(drawing, baseline, width, diagram_cable(drawing->tree, &wire, width));
    }
}

static bool bonds_neutral(const Entity *entity)
{
    return (entity->kind == KIND_INVERTER && entity_yes(entity, PROP_INVERTER_BONDS_NEUTRAL) == 1) ||
           (entity->kind == KIND_GENERATOR && entity_yes(entity, PROP_GENERATOR_BONDS_NEUTRAL) == 1);
}

/* Name and facts at the left margin, the symbol, and the line from there to the bar. */
static void draw_root(Drawing *drawing, const Piece *piece, double y)
{
    static const double symbol_x = LEFT + 32.0;
    const Entity *entity = piece->section->entity;
    bool inlet = entity->kind == KIND_INLET;
    double width = bar_x[0] - LEFT - 2.0;
    double x = inlet ? LEFT + 1.0 : symbol_x;
    diagram_words(drawing, LEFT, y - 3.6, DIAGRAM_NAMES, width, diagram_name(drawing->tree, entity));
    bool own_symbol = entity->kind == KIND_BANK || book_makes_power(entity);
    if (own_symbol || piece->continued || piece->section->parent != NULL) { /* else what makes power for it stands below */
        line(drawing, x + SYMBOL_WIDTH / 2.0, bar_x[0], y);
        put_symbol(drawing, own_symbol ? diagram_symbol_of(entity) : SYMBOL_LINK, x, y);
        if (entity->kind == KIND_BANK && entity_states(entity, PROP_BANK_BATTERY_FUSE)) {
            put_symbol(drawing, SYMBOL_FUSE, bar_x[0] - SYMBOL_WIDTH - 1.2, y); /* one at each battery */
        }
    }
    double baseline = y + (inlet ? 5.0 : 0.9);
    if (inlet) {
        draw_inlet_line(drawing, entity, x + 9.0, y);
        write_inlet(drawing, entity, &baseline, width);
        add_line(drawing, &baseline, width, piece->continued ? STR("continued") : STR(""));
        return;
    }
    add_line(drawing, &baseline, symbol_x - LEFT - 2.0, entity->title);
    baseline = baseline < y + 5.6 ? y + 5.6 : baseline; /* clear of the symbol */
    if (entity->kind == KIND_BANK) {
        add_line(drawing, &baseline, width, diagram_bank(drawing->tree, entity));
    } else {
        add_line(drawing, &baseline, width,
                 book_makes_power(entity) ? diagram_root_strength(drawing->tree, entity)
                                          : diagram_rating(drawing->tree, entity));
    }
    if (bonds_neutral(entity)) {
        add_line(drawing, &baseline, width, STR("joins neutral and ground"));
    }
    if (piece->continued) {
        add_line(drawing, &baseline, width, STR("continued"));
    } else {
        write_origin(drawing, piece->section, &baseline, width);
    }
}

void diagram_draw_piece(Drawing *drawing, const Piece *piece)
{
    double y = draw_bar(drawing, piece->section, piece, piece->top_mm);
    draw_root(drawing, piece, y);
}
