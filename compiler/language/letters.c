/* See letters.h. */
#include "language/letters.h"

#include <string.h>

bool same_letters(Str a, const char *b, size_t length)
{
    if (a.length != length) {
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        if (char_lower(a.text[i]) != char_lower(b[i])) {
            return false;
        }
    }
    return true;
}

bool is_listed(Str word, const char *list)
{
    for (const char *at = list; *at != '\0';) {
        size_t length = strcspn(at, " ");
        if (same_letters(word, at, length)) {
            return true;
        }
        at += length + (at[length] == ' ' ? 1 : 0);
    }
    return false;
}
