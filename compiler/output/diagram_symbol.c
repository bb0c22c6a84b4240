/* See diagram_symbol.h. */
#include "output/diagram_symbol.h"

#include <math.h>

static void line(Svg *svg, double x0, double y0, double x1, double y1)
{
    svg_line(svg, (SvgPoint){x0, y0}, (SvgPoint){x1, y1}, SVG_LINE);
}

/* Wipes the line that runs through a symbol. */
static void wipe(Svg *svg, double x, double y)
{
    svg_rectangle(svg, (SvgBox){x, y - 0.5, SYMBOL_WIDTH, 1.0}, SVG_NO_LINE, SVG_WHITE);
}

static void draw_fuse(Svg *svg, double x, double y)
{
    line(svg, x, y, x + SYMBOL_WIDTH, y);
    svg_rectangle(svg, (SvgBox){x + 0.6, y - 0.9, SYMBOL_WIDTH - 1.2, 1.8}, SVG_LINE, SVG_HOLLOW);
}

/* A gap with a bow over it, flat enough to keep clear of the name above the cable. */
static void draw_breaker(Svg *svg, double x, double y)
{
    enum { STEPS = 8 };
    SvgPoint bow[STEPS + 1];
    double radius = SYMBOL_WIDTH / 2.0 - 0.4;
    for (int i = 0; i <= STEPS; i++) {
        double angle = 3.14159265358979 * (1.0 - (double)i / STEPS);
        bow[i] = (SvgPoint){x + SYMBOL_WIDTH / 2.0 + radius * cos(angle), y - 0.55 * radius * sin(angle)};
    }
    wipe(svg, x, y);
    svg_polyline(svg, bow, STEPS + 1, SVG_LINE);
    svg_circle(svg, (SvgPoint){x + 0.4, y}, 0.4, SVG_LINE, SVG_WHITE);
    svg_circle(svg, (SvgPoint){x + SYMBOL_WIDTH - 0.4, y}, 0.4, SVG_LINE, SVG_WHITE);
}

/* A gap with a blade that leans out of it. */
static void draw_switch(Svg *svg, double x, double y)
{
    wipe(svg, x, y);
    line(svg, x, y, x + 1.2, y);
    line(svg, x + 1.2, y, x + SYMBOL_WIDTH - 1.4, y - 1.7);
    line(svg, x + SYMBOL_WIDTH - 1.2, y, x + SYMBOL_WIDTH, y);
}

static void draw_transfer(Svg *svg, double x, double y)
{
    draw_switch(svg, x, y);
    svg_circle(svg, (SvgPoint){x + SYMBOL_WIDTH - 1.6, y + 0.9}, 0.35, SVG_LINE, SVG_WHITE);
    svg_circle(svg, (SvgPoint){x + SYMBOL_WIDTH - 1.6, y - 0.9}, 0.35, SVG_LINE, SVG_WHITE);
}

/* Two cells: a long thin plate and a short thick one, twice. */
static void draw_battery(Svg *svg, double x, double y)
{
    wipe(svg, x, y);
    line(svg, x, y, x + 0.9, y);
    line(svg, x + 0.9, y - 2.2, x + 0.9, y + 2.2);
    svg_line(svg, (SvgPoint){x + 2.1, y - 1.1}, (SvgPoint){x + 2.1, y + 1.1}, SVG_THICK);
    svg_line(svg, (SvgPoint){x + 2.1, y}, (SvgPoint){x + 3.9, y}, SVG_THIN);
    line(svg, x + 3.9, y - 2.2, x + 3.9, y + 2.2);
    svg_line(svg, (SvgPoint){x + 5.1, y - 1.1}, (SvgPoint){x + 5.1, y + 1.1}, SVG_THICK);
    line(svg, x + 5.1, y, x + SYMBOL_WIDTH, y);
}

static void draw_round(Svg *svg, double x, double y, Str letter)
{
    svg_circle(svg, (SvgPoint){x + SYMBOL_WIDTH / 2.0, y}, 2.4, SVG_LINE, SVG_WHITE);
    svg_text(svg, (SvgPoint){x + SYMBOL_WIDTH / 2.0, svg_baseline(y, 2.6)}, 2.6, SVG_MIDDLE, letter);
}

static void draw_lamp(Svg *svg, double x, double y)
{
    double arm = 2.4 * 0.7071;
    draw_round(svg, x, y, STR(""));
    line(svg, x + 3.0 - arm, y - arm, x + 3.0 + arm, y + arm);
    line(svg, x + 3.0 - arm, y + arm, x + 3.0 + arm, y - arm);
}

static void draw_box(Svg *svg, double x, double y)
{
    svg_rectangle(svg, (SvgBox){x + 0.6, y - 2.4, SYMBOL_WIDTH - 1.2, 4.8}, SVG_LINE, SVG_WHITE);
}

/* The sun falls on it from above. */
static void draw_solar(Svg *svg, double x, double y)
{
    draw_box(svg, x, y);
    line(svg, x + 0.6, y - 2.4, x + 3.0, y);
    line(svg, x + 5.4, y - 2.4, x + 3.0, y);
    svg_arrow(svg, (SvgPoint){x + 1.4, y - 4.0}, (SvgPoint){x + 2.4, y - 2.5}, SVG_LINE);
    svg_arrow(svg, (SvgPoint){x + 3.2, y - 4.0}, (SvgPoint){x + 4.2, y - 2.5}, SVG_LINE);
}

static void draw_wave(Svg *svg, double x, double y)
{
    svg_polyline(
        svg, (const SvgPoint[]){{x, y}, {x + 0.4, y - 0.5}, {x + 0.8, y}, {x + 1.2, y + 0.5}, {x + 1.6, y}},
        5, SVG_THIN);
}

static void draw_direct(Svg *svg, double x, double y)
{
    svg_line(svg, (SvgPoint){x, y - 0.35}, (SvgPoint){x + 1.6, y - 0.35}, SVG_THIN);
    svg_line(svg, (SvgPoint){x, y + 0.35}, (SvgPoint){x + 1.6, y + 0.35}, SVG_THIN);
}

/* What goes in stands above the slanting line, what comes out below it. */
static void draw_changer(Svg *svg, double x, double y, bool from_ac, bool to_ac)
{
    draw_box(svg, x, y);
    line(svg, x + 0.6, y + 2.4, x + 5.4, y - 2.4);
    (from_ac ? draw_wave : draw_direct)(svg, x + 1.2, y - 1.3);
    (to_ac ? draw_wave : draw_direct)(svg, x + 3.3, y + 1.3);
}

static void draw_inlet(Svg *svg, double x, double y)
{
    draw_round(svg, x, y, STR(""));
    svg_circle(svg, (SvgPoint){x + 2.0, y}, 0.45, SVG_LINE, SVG_BLACK);
    svg_circle(svg, (SvgPoint){x + 4.0, y}, 0.45, SVG_LINE, SVG_BLACK);
    svg_circle(svg, (SvgPoint){x + 3.0, y + 1.2}, 0.45, SVG_LINE, SVG_BLACK);
}

static void draw_oval(Svg *svg, double x, double y)
{
    enum { STEPS = 16 };
    SvgPoint oval[STEPS + 1];
    for (int i = 0; i <= STEPS; i++) {
        double angle = 6.28318530717959 * (double)i / STEPS;
        oval[i] = (SvgPoint){x + 3.0 + 0.9 * cos(angle), y + 1.6 * sin(angle)};
    }
    line(svg, x, y, x + SYMBOL_WIDTH, y);
    svg_polyline(svg, oval, STEPS + 1, SVG_LINE);
}

/* One valve for each way of the current, in the grounding conductor. */
static void draw_isolator(Svg *svg, double x, double y)
{
    draw_box(svg, x, y);
    for (int way = 0; way < 2; way++) {
        double middle = y + (way == 0 ? -1.1 : 1.1);
        double base = x + (way == 0 ? 1.8 : 4.2), tip = x + (way == 0 ? 3.8 : 2.2);
        svg_triangle(svg, (SvgPoint){base, middle - 0.8}, (SvgPoint){base, middle + 0.8}, (SvgPoint){tip, middle});
        line(svg, tip, middle - 0.8, tip, middle + 0.8);
    }
}

static void draw_transformer(Svg *svg, double x, double y)
{
    wipe(svg, x, y);
    svg_circle(svg, (SvgPoint){x + 2.1, y}, 1.9, SVG_LINE, SVG_HOLLOW);
    svg_circle(svg, (SvgPoint){x + 3.9, y}, 1.9, SVG_LINE, SVG_HOLLOW);
}

static void draw_ground(Svg *svg, double x, double y)
{
    static const double half[] = {1.8, 1.2, 0.6};
    line(svg, x + 3.0, y, x + 3.0, y + 2.0);
    for (int i = 0; i < 3; i++) {
        line(svg, x + 3.0 - half[i], y + 2.0 + 0.7 * i, x + 3.0 + half[i], y + 2.0 + 0.7 * i);
    }
}

/* A half circle that opens to the right. */
static void draw_outlet(Svg *svg, double x, double y)
{
    enum { STEPS = 8 };
    SvgPoint bow[STEPS + 1];
    for (int i = 0; i <= STEPS; i++) {
        double angle = 3.14159265358979 * (0.5 + (double)i / STEPS);
        bow[i] = (SvgPoint){x + 3.6 + 2.2 * cos(angle), y + 2.2 * sin(angle)};
    }
    svg_polyline(svg, bow, STEPS + 1, SVG_LINE);
    line(svg, x, y, x + 1.4, y);
}

void symbol_draw(Svg *svg, SymbolKind kind, double x_mm, double y_mm)
{
    double x = x_mm, y = y_mm;
    switch (kind) {
    case SYMBOL_FUSE: draw_fuse(svg, x, y); break;
    case SYMBOL_BREAKER: draw_breaker(svg, x, y); break;
    case SYMBOL_SWITCH: draw_switch(svg, x, y); break;
    case SYMBOL_TRANSFER: draw_transfer(svg, x, y); break;
    case SYMBOL_BATTERY: draw_battery(svg, x, y); break;
    case SYMBOL_GENERATOR: draw_round(svg, x, y, STR("G")); break;
    case SYMBOL_SOLAR: draw_solar(svg, x, y); break;
    case SYMBOL_CHARGER: draw_changer(svg, x, y, true, false); break;
    case SYMBOL_CONVERTER: draw_changer(svg, x, y, false, false); break;
    case SYMBOL_INVERTER: draw_changer(svg, x, y, false, true); break;
    case SYMBOL_INLET: draw_inlet(svg, x, y); break;
    case SYMBOL_MOTOR: draw_round(svg, x, y, STR("M")); break;
    case SYMBOL_LAMP: draw_lamp(svg, x, y); break;
    case SYMBOL_OUTLET: draw_outlet(svg, x, y); break;
    case SYMBOL_LOAD: draw_box(svg, x, y); break;
    case SYMBOL_LEAKAGE: draw_oval(svg, x, y); break;
    case SYMBOL_ISOLATOR: draw_isolator(svg, x, y); break;
    case SYMBOL_TRANSFORMER: draw_transformer(svg, x, y); break;
    case SYMBOL_GROUND: draw_ground(svg, x, y); break;
    case SYMBOL_LINK:
        svg_triangle(svg, (SvgPoint){x + 1.0, y - 1.4}, (SvgPoint){x + 1.0, y + 1.4}, (SvgPoint){x + 4.0, y});
        break;
    case SYMBOL_BUS:
        svg_line(svg, (SvgPoint){x + 3.0, y - 2.4}, (SvgPoint){x + 3.0, y + 2.4}, SVG_THICK);
        break;
    case SYMBOL_PANEL: svg_rectangle(svg, (SvgBox){x + 2.0, y - 2.4, 2.0, 4.8}, SVG_LINE, SVG_WHITE); break;
    case SYMBOL_COUNT: break;
    }
}

static const char *const meanings[SYMBOL_COUNT] = {
    [SYMBOL_FUSE] = "fuse",
    [SYMBOL_BREAKER] = "breaker",
    [SYMBOL_SWITCH] = "switch",
    [SYMBOL_TRANSFER] = "transfer switch",
    [SYMBOL_BATTERY] = "battery",
    [SYMBOL_GENERATOR] = "generator",
    [SYMBOL_SOLAR] = "solar panels",
    [SYMBOL_CHARGER] = "charger",
    [SYMBOL_CONVERTER] = "DC converter",
    [SYMBOL_INVERTER] = "inverter",
    [SYMBOL_INLET] = "shore inlet",
    [SYMBOL_MOTOR] = "motor, pump",
    [SYMBOL_LAMP] = "navigation light",
    [SYMBOL_OUTLET] = "outlet",
    [SYMBOL_LOAD] = "other load",
    [SYMBOL_LEAKAGE] = "opens at leakage",
    [SYMBOL_ISOLATOR] = "galvanic isolator",
    [SYMBOL_TRANSFORMER] = "transformer",
    [SYMBOL_GROUND] = "to the DC ground",
    [SYMBOL_LINK] = "drawn elsewhere",
    [SYMBOL_BUS] = "bus",
    [SYMBOL_PANEL] = "panel",
};

const char *symbol_meaning(SymbolKind kind)
{
    return meanings[kind];
}
