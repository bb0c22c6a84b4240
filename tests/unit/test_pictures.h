/*
 * What the tests of the book's pictures share: making the book of a spec, its files by name, what a picture says and
 * whether all of it lies on its page.
 */
#ifndef GARBOARD_TEST_PICTURES_H
#define GARBOARD_TEST_PICTURES_H

#include "check.h"
#include "compile.h"

#include "output/book.h"

#include <stdio.h>
#include <stdlib.h>

typedef struct Made {
    Compiled compiled;
    BookFile *files;
    size_t count;
} Made;

static inline void make(Made *made, const char *spec)
{
    compile_text(&made->compiled, spec);
    if (made->compiled.spec->messages.first != NULL) {
        fail_msg("a mistake: %s", made->compiled.spec->messages.first->text);
    }
    made->count = book_files(&made->compiled.arena, made->compiled.outcome, &made->files);
}

static inline const char *text_of(const Made *made, const char *name)
{
    for (size_t i = 0; i < made->count; i++) {
        if (strcmp(made->files[i].name, name) == 0) {
            return made->files[i].bytes.text;
        }
    }
    return NULL;
}

static inline void expect_words(const char *text, const char *const words[])
{
    assert_non_null(text);
    for (size_t i = 0; words[i] != NULL; i++) {
        if (strstr(text, words[i]) == NULL) {
            fail_msg("`%s` is not there", words[i]);
        }
    }
}

/* Every place in a picture lies on an A4 page on its side. */
static inline void expect_on_page(const char *svg)
{
    static const struct {
        const char *name;
        double most;
    } places[] = {{" x=\"", 297}, {" x1=\"", 297}, {" x2=\"", 297}, {" cx=\"", 297},
                  {" y=\"", 210}, {" y1=\"", 210}, {" y2=\"", 210}, {" cy=\"", 210}};
    for (size_t p = 0; p < sizeof places / sizeof places[0]; p++) {
        for (const char *at = strstr(svg, places[p].name); at != NULL; at = strstr(at + 1, places[p].name)) {
            double value = strtod(at + strlen(places[p].name), NULL);
            if (value < 0.0 || value > places[p].most) {
                fail_msg("%s%g lies off the page", places[p].name, value);
            }
        }
    }
}

#endif
