/*
 * The manual that is printed from the program's own tables: kinds and properties, units and statements,
 * rules, figures.
 *
 * Two forms of the same tables: text for a terminal of 80 columns (`garboard kinds`, `garboard rules`), and
 * the pages of docs/ that are made from them (reference.md, rules.md, figures.md). Knows the tables of
 * language/, syntax/, figures/ and rules/; no spec, no model. Whatever rows the tables hold are printed:
 * nothing here names one of them, but for the headings under which the kinds are listed.
 */
#ifndef GARBOARD_TOOLS_MANUAL_H
#define GARBOARD_TOOLS_MANUAL_H

#include "base/buf.h"

#include <stdbool.h>

/*
 * Text for a terminal: wrapped at 80 columns, each line ended. With an empty argument the list of all there
 * is, else one entry. `color` makes headings and names bold. False if there is no such entry: *error is then
 * a sentence with near names, in the arena, without a line end, and nothing is added to `to`.
 */

/**
 * The language. argument: "" for the kinds with a line each; a kind or a group of properties (`bank`,
 * `common`, `feed`); a property as `bank.capacity` or by its word alone, wherever it occurs; `units`;
 * `statements`; `figures`, or one of them.
 */
bool manual_kinds(Buf *to, Arena *arena, Str argument, bool color, const char **error);
/** The rules. argument: "" for all by family; a rule's name. */
bool manual_rules(Buf *to, Arena *arena, Str argument, bool color, const char **error);
/** The figures: what can be computed. argument: "" for all; a figure's name. */
bool manual_figures(Buf *to, Arena *arena, Str argument, bool color, const char **error);

/* The pages of docs/, whole, in Markdown. */

/** docs/reference.md: statements, units, every kind and every property. */
void manual_reference(Buf *to, Arena *arena);
/** docs/rules.md: every rule. */
void manual_rules_reference(Buf *to, Arena *arena);
/** docs/figures.md: every figure. */
void manual_figures_reference(Buf *to, Arena *arena);

/**
 * All of them by name, for gb_manual: "kinds", "rules", "figures" with an argument; "reference" (with the
 * argument "figures" the page of the figures), "rules-reference", "figures-reference"; "starter" with the
 * boat's name. False: *error says why, as above.
 */
bool manual_write(Buf *to, Arena *arena, const char *output, Str argument, bool color, const char **error);

#endif
