/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_wiring = {.title = "DC wiring and protection"};
