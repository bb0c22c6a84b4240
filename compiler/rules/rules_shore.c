/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_shore = {.title = "Shore power, inverters and outlets"};
