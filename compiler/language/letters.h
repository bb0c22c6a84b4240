/* Words of people, who do not mind the case of letters. */
#ifndef GARBOARD_LANGUAGE_LETTERS_H
#define GARBOARD_LANGUAGE_LETTERS_H

#include "base/str.h"

#include <stdbool.h>
#include <stddef.h>

/** Whether two texts differ in nothing but the case of ASCII letters. */
bool same_letters(Str a, const char *b, size_t length);

/** Whether a list, a blank between its words, has that word in any case. */
bool is_listed(Str word, const char *list);

#endif
