/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_whole = {.title = "The spec as a whole"};
