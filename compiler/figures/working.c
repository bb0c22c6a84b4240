/* See working.h. */
#include "figures/working.h"

#include <string.h>

bool working_next_label(const char **at, Str *before, Str *label)
{
    const char *open = strchr(*at, '{');
    const char *close = open != NULL ? strchr(open, '}') : NULL;
    if (close == NULL) {
        return false;
    }
    *before = (Str){*at, (size_t)(open - *at)};
    *label = (Str){open + 1, (size_t)(close - open - 1)};
    *at = close + 1;
    return true;
}

/* By what they say: one that is used twice may stand in two places. */
static bool same_fact(const Fact *a, const Fact *b)
{
    return a == b || (a->low == b->low && a->high == b->high && strcmp(a->what, b->what) == 0);
}

static bool same_input(const Input *a, const Input *b)
{
    if (a->kind != b->kind || a->slot != b->slot || a->prop != b->prop || a->entity != b->entity) {
        return false;
    }
    switch ((InputKind)a->kind) {
    case INPUT_FIGURE: return a->u.figure == b->u.figure;
    case INPUT_VALUE:
    case INPUT_MISTAKE: return a->u.property == b->u.property;
    case INPUT_FACT: return same_fact(a->u.fact, b->u.fact);
    case INPUT_MISSING: break;
    }
    return true;
}

/* Whether it was used before, up to that many of the figure's inputs. */
static bool is_repeated(const Figure *figure, uint16_t i)
{
    for (uint16_t earlier = 0; earlier < i; earlier++) {
        if (same_input(&figure->inputs[earlier], &figure->inputs[i])) {
            return true;
        }
    }
    return false;
}

/* Behind the last dot: "rated" of "main-engine.rated". */
static Str last_word(Str label)
{
    size_t i = label.length;
    while (i > 0 && label.text[i - 1] != '.') {
        i--;
    }
    return (Str){label.text + i, label.length - i};
}

static bool is_named(const Input *input, Str label)
{
    switch ((InputKind)input->kind) {
    case INPUT_FIGURE: return str_is(last_word(label), figure_rows[input->u.figure->id].name);
    case INPUT_VALUE:
    case INPUT_MISTAKE:
    case INPUT_MISSING: return input->prop != PROP_NONE && str_is(last_word(label), props[input->prop].word);
    case INPUT_FACT: break;
    }
    return false;
}

/* Whether a label speaks of what another label of the same fact speaks of: "aft-head.share" as "fore-head.share" does. */
static bool is_named_as_before(const Working *working, const Input *input, Str label)
{
    for (uint16_t i = 0; i < working->label_count && input->kind == INPUT_FACT; i++) {
        if (same_input(working->inputs[i], input) && str_equal(last_word(working->labels[i]), last_word(label))) {
            return true;
        }
    }
    return false;
}

const Input *working_input(const Working *working, Str label)
{
    for (uint16_t i = 0; i < working->label_count; i++) {
        if (str_equal(working->labels[i], label)) {
            return working->inputs[i];
        }
    }
    return NULL;
}

/* How many inputs there are beyond the labels: so many may have none. */
static uint16_t count_spare(Arena *arena, const Figure *figure)
{
    Working counted = {.labels = ARENA_ARRAY(arena, Str, figure->input_count + 1),
                       .inputs = ARENA_ARRAY(arena, const Input *, figure->input_count + 1)};
    const char *at = figure->formula != NULL ? figure->formula : "";
    Str before;
    Str label;
    while (counted.label_count < figure->input_count && working_next_label(&at, &before, &label)) {
        counted.inputs[counted.label_count] = figure->inputs;
        if (working_input(&counted, label) == NULL) {
            counted.labels[counted.label_count++] = label;
        }
    }
    return (uint16_t)(figure->input_count - counted.label_count);
}

/* The first input of that name that no label stands for yet, or NULL. */
static const Input *find_named(const Working *working, const Figure *figure, Str label)
{
    for (uint16_t i = 0; i < figure->input_count; i++) {
        const Input *input = &figure->inputs[i];
        bool named = input->kind == INPUT_FACT ? str_is(label, input->u.fact->what) : is_named(input, label);
        for (uint16_t taken = 0; taken < working->label_count && named; taken++) {
            named = working->inputs[taken] != input;
        }
        if (named) {
            return input;
        }
    }
    return NULL;
}

/*
 * Of a figure that waits: a recipe may have broken off, or left out what is a mistake, so that the order tells nothing and
 * a label stands for what has its name alone.
 */
static void label_by_names(Working *working, const Figure *figure)
{
    const char *at = figure->formula != NULL ? figure->formula : "";
    Str before, label;
    while (working_next_label(&at, &before, &label) && working->label_count < figure->input_count) {
        const Input *input = working_input(working, label) == NULL ? find_named(working, figure, label) : NULL;
        if (input != NULL) {
            working->labels[working->label_count] = label;
            working->inputs[working->label_count++] = input;
        }
    }
    working->input_count = working->label_count;
    for (uint16_t i = 0; i < figure->input_count; i++) {
        bool taken = is_repeated(figure, i);
        for (uint16_t k = 0; k < working->label_count && !taken; k++) {
            taken = working->inputs[k] == &figure->inputs[i];
        }
        if (!taken) {
            working->inputs[working->input_count++] = &figure->inputs[i];
        }
    }
}

Working working_of(Arena *arena, const Figure *figure)
{
    Working working = {.inputs = ARENA_ARRAY(arena, const Input *, figure->input_count + 1),
                       .labels = ARENA_ARRAY(arena, Str, figure->input_count + 1)};
    if (figure->state == STATE_WAITING) {
        label_by_names(&working, figure);
        return working;
    }
    const char *at = figure->formula != NULL ? figure->formula : "";
    uint16_t next = 0, spare = count_spare(arena, figure);
    Str before;
    Str label;
    while (working_next_label(&at, &before, &label)) {
        const Input *meant = working_input(&working, label);
        if (meant != NULL) {
            bool used_again = spare > 0 && next < figure->input_count && same_input(meant, &figure->inputs[next]);
            next = (uint16_t)(next + used_again);
            spare = (uint16_t)(spare - used_again);
            continue;
        }
        while (spare > 0 && is_repeated(figure, next) && !is_named(&figure->inputs[next], label) &&
               !is_named_as_before(&working, &figure->inputs[next], label)) {
            next++;
            spare--;
        }
        if (next == figure->input_count) {
            break;
        }
        working.labels[working.label_count] = label;
        working.inputs[working.label_count++] = &figure->inputs[next++];
    }
    working.input_count = working.label_count;
    for (; next < figure->input_count; next++) {
        if (!is_repeated(figure, next)) {
            working.inputs[working.input_count++] = &figure->inputs[next];
        }
    }
    return working;
}
