/*
 * Findings as CSV, one row each: findings.csv of the book, and `check --format csv`.
 *
 * Columns: rule, severity, state (broken, open, waived), subject, message, file, line, column, value, limit,
 * unit, hangs_on, remedies, waived_until, waived_because, source. value and limit are in the unit beside
 * them, as numbers or, for ranges, as `30..50`, `>= 500`, `<= 20`. hangs_on and remedies are lists with `; `
 * between. A mistake in the spec is a row of severity `mistake`, with its name as the rule and what would be
 * right as its remedy.
 */
#ifndef GARBOARD_OUTPUT_FINDINGS_CSV_H
#define GARBOARD_OUTPUT_FINDINGS_CSV_H

#include "rules/outcome.h"

void findings_csv(Buf *to, const Outcome *outcome);

#endif
