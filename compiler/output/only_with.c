/* See only_with.h. */
#include "output/only_with.h"

static bool by_name(const Model *model, Symbol name, const Entity **found)
{
    *found = name < model->symbol_count ? model->by_symbol[name] : NULL;
    return *found != NULL;
}

static bool is_in_case(const Case *in, Symbol name)
{
    const Entity *entity;
    return by_name(in->model, name, &entity);
}

/* Whether an option of a choice brings a thing: in all cases with it (1), in none (0), or that hangs on others (-1). */
static int brings(const Outcome *outcome, uint32_t choice, uint32_t option, Symbol name)
{
    int brought = 0, cases = 0;
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Case *in = &outcome->cases[i];
        if (choice < in->model->choice_count && in->model->choices[choice].chosen == (int)option) {
            cases++;
            brought += is_in_case(in, name);
        }
    }
    return brought == 0 ? 0 : brought == cases ? 1 : -1;
}

/* "engine-size=lean or stout": the options of one choice that bring it between them; NULL where no one choice does. */
static const char *options_that_bring(Arena *arena, const Outcome *outcome, uint32_t choice, Symbol name)
{
    const Model *model = outcome_first(outcome)->model;
    const Choice *open = &model->choices[choice];
    Buf text;
    int found = 0;
    buf_init(&text, arena);
    buf_text(&text, "");
    for (uint32_t o = 0; o < open->option_count; o++) {
        int by = brings(outcome, choice, o, name);
        if (by < 0) {
            return NULL;
        }
        if (by > 0) {
            Str option = symbols_text(model->tree->symbols, open->options[o].name);
            buf_format(&text, "%s%.*s", found++ > 0 ? " or " : "", STR_ARG(option));
        }
    }
    return found > 0 ? text_format(arena, "%.*s=%s", STR_ARG(symbols_text(model->tree->symbols, open->name)), text.text)
                     : NULL;
}

/* The options that bring a thing that is not in all cases; NULL where its place is in none of them either. */
static const char *option_of(Arena *arena, const Outcome *outcome, const Model *model, const Entity *entity)
{
    const Symbols *symbols = model->tree->symbols;
    for (uint32_t c = 0; c < model->choice_count; c++) {
        const Choice *choice = &model->choices[c];
        const char *words = choice->picked < 0 && choice->option_count > 1 ? options_that_bring(arena, outcome, c, entity->name) : NULL;
        if (words != NULL) {
            return words;
        }
    }
    for (uint32_t c = 0; c < model->choice_count; c++) {
        const Choice *choice = &model->choices[c];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            if (choice->options[o].node == entity->option) {
                return text_format(arena, "%.*s=%.*s", STR_ARG(symbols_text(symbols, choice->name)),
                                   STR_ARG(symbols_text(symbols, choice->options[o].name)));
            }
        }
    }
    return NULL;
}

static bool is_in_all_cases(const Outcome *outcome, Symbol name)
{
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        if (!is_in_case(&outcome->cases[i], name)) {
            return false;
        }
    }
    return true;
}

const char *only_with(Arena *arena, const Outcome *outcome, const Model *model, const Entity *entity)
{
    return is_in_all_cases(outcome, entity->name) ? NULL : option_of(arena, outcome, model, entity);
}
