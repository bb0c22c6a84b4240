/* See galvanic.h. */
#include "physics/galvanic.h"

#include <stddef.h>
#include <string.h>

static const Metal metals[] = {
#define METAL(...) {__VA_ARGS__},
#include "tables/galvanic.def"
#undef METAL
};

const Metal *metal_find(const char *word)
{
    for (size_t i = 0; word != NULL && i < sizeof metals / sizeof metals[0]; i++) {
        if (strcmp(metals[i].word, word) == 0) {
            return &metals[i];
        }
    }
    return NULL;
}
