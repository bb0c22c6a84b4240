/*
 * Symbols of a one-line diagram, drawn simply after the open standard IEC 60617 (from memory): what is a
 * fuse, what a battery. Each lies on a horizontal line at y, from x on, and is at most SYMBOL_WIDTH wide.
 */
#ifndef GARBOARD_OUTPUT_DIAGRAM_SYMBOL_H
#define GARBOARD_OUTPUT_DIAGRAM_SYMBOL_H

#include "output/svg.h"

#include <stdbool.h>

#define SYMBOL_WIDTH 6.0

typedef enum SymbolKind {
    SYMBOL_FUSE,
    SYMBOL_BREAKER,
    SYMBOL_SWITCH,
    SYMBOL_TRANSFER,
    SYMBOL_BATTERY,
    SYMBOL_GENERATOR, /* circle with G: an alternator, a generator */
    SYMBOL_SOLAR,
    SYMBOL_CHARGER,   /* AC to DC */
    SYMBOL_CONVERTER, /* DC to DC */
    SYMBOL_INVERTER,  /* DC to AC */
    SYMBOL_INLET,
    SYMBOL_MOTOR, /* circle with M */
    SYMBOL_LAMP,  /* circle with a cross */
    SYMBOL_OUTLET,
    SYMBOL_LOAD, /* anything else */
    SYMBOL_LEAKAGE,     /* an oval around the line: what sums the currents in all conductors */
    SYMBOL_ISOLATOR,    /* a box with two valves back to back: a galvanic isolator */
    SYMBOL_TRANSFORMER, /* two circles that overlap */
    SYMBOL_GROUND,      /* three bars that shrink, hanging below (x, y) by its middle */
    SYMBOL_LINK, /* drawn elsewhere */
    SYMBOL_BUS,  /* in the legend only */
    SYMBOL_PANEL,
    SYMBOL_COUNT
} SymbolKind;

void symbol_draw(Svg *svg, SymbolKind kind, double x_mm, double y_mm);
const char *symbol_meaning(SymbolKind kind);

#endif
