/*
 * What the tests of the boat's figures and of the rules about buying, goals and waivers share: compiling a
 * spec that is written in the test, as on one fixed day.
 */
#ifndef GARBOARD_TEST_BOAT_H
#define GARBOARD_TEST_BOAT_H

#include "check.h"

#include "model/build.h"
#include "rules/rule.h"

/* The day on which all these specs are judged. */
#define TODAY date_of(2027, 3, 1)

typedef struct Compiled {
    Arena arena;
    jmp_buf out_of_memory;
    Spec *spec;
    Model *model;
    Figures *figures;
    Judge *judge;
} Compiled;

static inline FileText no_files(void *context, Arena *arena, const char *path)
{
    (void)context;
    (void)arena;
    (void)path;
    return (FileText){.error = "these tests read no files"};
}

/* Compiles a whole spec for one combination of its open choices. */
static inline void compile_one(Compiled *c, const char *text, uint64_t number)
{
    arena_init(&c->arena, allocator_standard(), &c->out_of_memory);
    if (setjmp(c->out_of_memory)) {
        fail_msg("no more memory");
    }
    size_t length = strlen(text);
    char *copy = arena_alloc(&c->arena, length + 1);
    memcpy(copy, text, length);
    FileText file = {.text = copy, .length = length};
    c->spec = spec_load(&c->arena, "test.boat", &file, (FileReader){no_files, NULL});
    enum { COMBINATIONS_MOST = 64 };
    c->model = model_build(c->spec, &c->arena, spec_cover(c->spec, &c->arena, COMBINATIONS_MOST).taken[number]);
    c->figures = figures_compute(&c->arena, c->model, BASIS_US, TODAY);
    c->judge = rules_judge(&c->arena, c->model, c->figures, BASIS_US, TODAY);
}

static inline void compile(Compiled *c, const char *text)
{
    compile_one(c, text, 0);
}

static inline void done_with(Compiled *c)
{
    arena_free(&c->arena);
}

/* The first finding of a rule, or NULL. */
static inline const Finding *finding_of(const Compiled *c, const char *rule)
{
    for (const Finding *f = c->judge->first; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, rule) == 0) {
            return f;
        }
    }
    return NULL;
}

static inline const Figure *boat_figure(const Compiled *c, FigureId id)
{
    return figure_find(c->figures, c->model->boat, id, NULL);
}

/* Fails unless the spec has no mistake; shows the first. */
static inline void expect_no_mistake(const Compiled *c)
{
    if (c->spec->messages.first != NULL) {
        print_error("a mistake: %s\n", c->spec->messages.first->text);
    }
    assert_int_equal(c->spec->messages.count, 0);
}

#endif
