/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_buying = {.title = "Buying and money"};
