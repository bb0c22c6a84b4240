/* See diff_parts.h: lists of lines that differ. */
#include "tools/diff_parts.h"

void diff_add_line(Diff *diff, DiffLine **list, DiffLine line)
{
    while (*list != NULL) {
        list = &(*list)->next;
    }
    *list = ARENA_NEW(diff->arena, DiffLine);
    **list = line;
    (*list)->next = NULL;
}

void diff_add_texts(Diff *diff, DiffLine **list, const char *property, const char *before, const char *after)
{
    bool same = before == NULL || after == NULL ? before == after : strcmp(before, after) == 0;
    if (!same) {
        diff_add_line(diff, list,
                      (DiffLine){.how = before == NULL  ? DIFF_ADDED
                                        : after == NULL ? DIFF_REMOVED
                                                        : DIFF_CHANGED,
                                 .property = property,
                                 .before = before,
                                 .after = after});
    }
}

const char *finding_state(Arena *arena, const Finding *finding)
{
    static const char *const WORDS[] = {
        [SEVERITY_ADVICE] = "advice", [SEVERITY_WARNING] = "warning", [SEVERITY_FAULT] = "fault"};
    const char *word = WORDS[finding->severity];
    if (finding->verdict == VERDICT_OPEN) {
        word = text_format(arena, "open (%s)", word);
    }
    if (finding->waiver != NULL) {
        word = text_format(arena, "%s, waived", word);
    }
    if (finding->only_with != NULL) {
        word = text_format(arena, "%s, only with %s", word, finding->only_with);
    }
    return word;
}
