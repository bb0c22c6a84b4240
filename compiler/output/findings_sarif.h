/*
 * `check` as SARIF 2.1.0, for code-review systems that show findings at their line.
 *
 * Source: OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0: results (3.27) with kind
 * and level (an open finding has kind `open`, and then level `none`: 3.27.10), suppressions on all results or
 * on none (3.27.23), regions in Unicode code points (3.14.17). Clause numbers from memory. Paths are relative
 * and have forward slashes, as the spec's own path is given. A fingerprint holds rule and subject, not lines.
 */
#ifndef GARBOARD_OUTPUT_FINDINGS_SARIF_H
#define GARBOARD_OUTPUT_FINDINGS_SARIF_H

#include "rules/outcome.h"

void findings_sarif(Buf *to, const Outcome *outcome);

#endif
