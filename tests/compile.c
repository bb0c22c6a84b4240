/* See compile.h. */
#include "compile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static FileText no_file(void *context, Arena *arena, const char *path)
{
    (void)context;
    (void)arena;
    (void)path;
    return (FileText){.error = "a spec in a test includes nothing"};
}

void compile_text(Compiled *compiled, const char *text)
{
    compile_text_with(compiled, text, NULL, NULL);
}

static void decide(Compiled *compiled, const char *set, const char *pick)
{
    const char *equals = pick != NULL ? strchr(pick, '=') : NULL;
    const char *wrong = equals != NULL ? spec_pick(compiled->spec, (Str){pick, (size_t)(equals - pick)}, str_from(equals + 1)) : NULL;
    if (wrong != NULL) {
        fprintf(stderr, "%s\n", wrong);
        abort();
    }
    while (set != NULL && *set != '\0') {
        Str one = {set, strcspn(set, "\n")};
        const char *why;
        if (!spec_set(compiled->spec, &compiled->arena, one, &why)) {
            fprintf(stderr, "`%.*s`: %s\n", STR_ARG(one), why);
            abort();
        }
        set += one.length + (set[one.length] == '\n');
    }
}

void compile_text_with(Compiled *compiled, const char *text, const char *set, const char *pick)
{
    if (setjmp(compiled->failure) != 0) {
        fprintf(stderr, "out of memory\n");
        abort();
    }
    arena_init(&compiled->arena, allocator_standard(), &compiled->failure);
    size_t length = strlen(text);
    FileText file = {.text = arena_alloc(&compiled->arena, length + 1), .length = length};
    memcpy(file.text, text, length + 1);
    compiled->spec = spec_load(&compiled->arena, "test.boat", &file, (FileReader){no_file, NULL});
    decide(compiled, set, pick);
    OutcomeRequest request = {.basis = -1};
    date_read(STR("2027-03-01"), &request.today);
    compiled->outcome = outcome_compute(&compiled->arena, compiled->spec, request);
}

void compile_free(Compiled *compiled)
{
    arena_free(&compiled->arena);
}

const Finding *compiled_finding(const Compiled *compiled, const char *rule)
{
    for (const Finding *f = compiled->outcome->findings; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, rule) == 0) {
            return f;
        }
    }
    return NULL;
}

const Figure *compiled_figure_at(const Compiled *compiled, const char *subject, FigureId id, const char *at)
{
    const Case *first = outcome_first(compiled->outcome);
    const Entity *entity = model_find(first->model, str_from(subject));
    return figure_find(first->figures, entity, id, at != NULL ? model_find(first->model, str_from(at)) : NULL);
}

const Figure *compiled_figure(const Compiled *compiled, const char *subject, FigureId id)
{
    return compiled_figure_at(compiled, subject, id, NULL);
}

bool same_name(const Entity *a, const Model *of_a, const Entity *b, const Model *of_b)
{
    return (a == NULL) == (b == NULL) && (a == NULL || str_equal(entity_name(of_a, a), entity_name(of_b, b)));
}
