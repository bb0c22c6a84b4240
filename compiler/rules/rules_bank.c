/* Stub until its family is written. */
#include "rules/families.h"

const RuleFamily rules_bank = {.title = "Banks and charging"};
