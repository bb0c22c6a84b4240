/*
 * `check` as one JSON document, format 1 (docs/check.schema.json describes it).
 *
 * Later programs of the same format may add keys; what is there keeps its meaning. Values are in the coherent
 * SI unit named beside them, and a side without a bound is null. Findings that are waived are listed like the
 * others, with their waiver.
 */
#ifndef GARBOARD_OUTPUT_FINDINGS_JSON_H
#define GARBOARD_OUTPUT_FINDINGS_JSON_H

#include "rules/outcome.h"

void findings_json(Buf *to, const Outcome *outcome);

#endif
