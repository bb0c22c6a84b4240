/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_water = {.title = "Water and waste"};
