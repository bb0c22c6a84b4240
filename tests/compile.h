/*
 * Compiling small specs in tests: text in, model, figures and findings out. Files come from nowhere: a spec in a test
 * includes nothing.
 */
#ifndef TESTS_COMPILE_H
#define TESTS_COMPILE_H

#include "rules/outcome.h"

typedef struct Compiled {
    Arena arena;
    jmp_buf failure;
    Spec *spec;
    Outcome *outcome;
} Compiled;

/** Compiles a spec as of 2027-03-01 by the boat's own basis. */
void compile_text(Compiled *compiled, const char *text);
/** The same with a value set, as "THING.PROPERTY=VALUE", of several each on its line, and an option picked, as "CHOICE=OPTION"; either may be NULL. */
void compile_text_with(Compiled *compiled, const char *text, const char *set, const char *pick);
void compile_free(Compiled *compiled);

/** Whether two things, of models of their own, have the same name, or both are NULL. */
bool same_name(const Entity *a, const Model *of_a, const Entity *b, const Model *of_b);
/** The first finding of a rule, or NULL. */
const Finding *compiled_finding(const Compiled *compiled, const char *rule);
/** Of the first case; NULL if there is none. */
const Figure *compiled_figure(const Compiled *compiled, const char *subject, FigureId id);
const Figure *compiled_figure_at(const Compiled *compiled, const char *subject, FigureId id, const char *at);

#endif
