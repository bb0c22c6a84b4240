/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_hull = {.title = "Through-hulls and bilge"};
