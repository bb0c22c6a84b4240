/*
 * The outputs that one compilation can give, as a table: a name, a format, a function. The library looks here; a new
 * output is a row.
 */
#ifndef GARBOARD_OUTPUT_OUTPUTS_H
#define GARBOARD_OUTPUT_OUTPUTS_H

#include "rules/outcome.h"

typedef struct OutputRequest {
    Str argument; /* subject of `figures`, figure of `why`; empty if none */
    bool color;
    bool wrap;    /* of findings and mistakes: long lines are folded for a terminal */
} OutputRequest;

typedef struct Output {
    const char *name;   /* "check" */
    const char *format; /* "json" */
    bool settles;       /* tells what would settle open findings: the outcome must have it, see rules/settle.h */
    /** Writes; NULL, or why it cannot be (an unknown subject). */
    const char *(*write)(Buf *to, const Outcome *outcome, OutputRequest request);
} Output;

extern const Output outputs[];
extern const size_t output_count;

/** The output of that name and format, or NULL. format NULL: the first of that name. */
const Output *output_find(const char *name, const char *format);

#endif
