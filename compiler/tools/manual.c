/* See manual.h: the outputs that need no spec, by name. */
#include "tools/manual.h"

#include "tools/starter.h"

#include <string.h>

typedef struct ManualOutput {
    const char *name;
    bool (*ask)(Buf *to, Arena *arena, Str argument, bool color, const char **error); /* one of these two */
    void (*page)(Buf *to, Arena *arena);
} ManualOutput;

static bool write_starter(Buf *to, Arena *arena, Str argument, bool color, const char **error)
{
    (void)color;
    return starter_write(to, arena, argument, error);
}

static const ManualOutput outputs[] = {
    {.name = "kinds", .ask = manual_kinds},
    {.name = "rules", .ask = manual_rules},
    {.name = "figures", .ask = manual_figures},
    {.name = "starter", .ask = write_starter},
    {.name = "reference", .page = manual_reference},
    {.name = "rules-reference", .page = manual_rules_reference},
    {.name = "figures-reference", .page = manual_figures_reference},
};

bool manual_write(Buf *to, Arena *arena, const char *output, Str argument, bool color, const char **error)
{
    if (strcmp(output, "reference") == 0 && str_is(argument, "figures")) {
        manual_figures_reference(to, arena);
        return true;
    }
    for (size_t i = 0; i < sizeof outputs / sizeof outputs[0]; i++) {
        if (strcmp(output, outputs[i].name) != 0) {
            continue;
        }
        if (outputs[i].ask != NULL) {
            return outputs[i].ask(to, arena, argument, color, error);
        }
        if (argument.length == 0) {
            outputs[i].page(to, arena);
            return true;
        }
        *error = text_format(arena, "as Markdown there is a page of all of them, and none of `%.*s` alone",
                             STR_ARG(argument));
        return false;
    }
    *error = text_format(arena, "there is no output called `%s`", output);
    return false;
}
