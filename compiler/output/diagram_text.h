/*
 * What is written on a wiring diagram, and which symbol stands for what: texts of things and cables, made to
 * fit where there is little room. Knows the book's texts and the symbols; draws nothing.
 */
#ifndef GARBOARD_OUTPUT_DIAGRAM_TEXT_H
#define GARBOARD_OUTPUT_DIAGRAM_TEXT_H

#include "output/diagram_symbol.h"
#include "output/diagram_tree.h"

/* Sizes of letters in mm: names, and what stands beside them. */
#define DIAGRAM_NAMES 2.6
#define DIAGRAM_SMALL 2.3

bool diagram_is_said(Str text); /* neither empty nor "–" */
/** Adds a part after a comma; nothing for one that is not said. */
void diagram_add_part(Buf *to, Str part);
Str diagram_name(const DiagramTree *tree, const Entity *entity);

/* Things. */

SymbolKind diagram_symbol_of(const Entity *entity);
/** How much it takes or gives: `4.5 A`, `90 A at 14.2 V`. */
Str diagram_strength(const DiagramTree *tree, const Entity *entity);
/** The same of what makes mains, with the bank's side of an inverter: `800 W, from positive: power-dc.svg`. */
Str diagram_root_strength(const DiagramTree *tree, const Entity *entity);
/** What a bar, a panel or a switch is rated for. */
Str diagram_rating(const DiagramTree *tree, const Entity *entity);
/** `saloon-lamps, 10 x 2.2 W at 12 V`, or as much of it as has room: without the voltage, the name alone. */
Str diagram_thing(const DiagramTree *tree, const Entity *entity, double width_mm);
/** Its title, and where what it makes goes: the other picture, or another bar of this one. */
Str diagram_makes(const DiagramTree *tree, const Entity *entity);
/** `lifepo4, 12.8 V, 460 Ah`; `lifepo4, 12.8 V, 200 Ah, 2 in parallel, 150 A fuse at each` */
Str diagram_bank(const DiagramTree *tree, const Entity *bank);

/* Cables. */

/**
 * The device at the source's end of a cable, or (`output`) that at the end of what makes the power; or NULL.
 */
const Property *diagram_device(const BookWire *wire, bool output);
SymbolKind diagram_device_symbol(const Property *protect);
SymbolKind diagram_switch_symbol(const Entity *entity);
/** Whether a cable of mains has a device that opens at leakage. */
bool diagram_opens_at_leakage(const BookWire *wire);
/** `6 mm2, 4.2 m, 4.5 A, drop 2.1 %`; the drop only where there is room for it. */
Str diagram_cable(const DiagramTree *tree, const BookWire *wire, double width_mm);
/**
 * `16 A breaker miniature, 2-pole, 30 mA` (the leakage at which it opens); without the sort of device where
 * there is no room. `by 16 A of shore` where that protects it, and no device is drawn.
 */
Str diagram_protection(const DiagramTree *tree, const BookWire *wire, double width_mm);
/** `40 A breaker; 40 A fuse terminal`: the device at the maker's end, then the one at the bar's. */
Str diagram_both_devices(const DiagramTree *tree, const BookWire *wire, double width_mm);
/** What stands over a cable: a switch in it, and the cable's name where its end does not show it. */
Str diagram_cable_name(const DiagramTree *tree, const Spot *spot);

#endif
