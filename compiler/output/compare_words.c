/* See compare.h: the sentences. */
#include "output/compare.h"

const char compare_note[] =
    "`best` and `worst` are said only of what is so whatever the values turn out to be that are not decided yet; "
    "what is equal, or cannot be told apart, has neither. Things without a price or a mass are in no sum.";

const char *compare_cell_words(Arena *arena, const CompareCell *cell)
{
    Buf text;
    buf_init(&text, arena);
    buf_text(&text, cell->text);
    buf_text(&text, cell->mark == MARK_BEST ? ", best" : cell->mark == MARK_WORST ? ", worst" : "");
    if (cell->remark != NULL) {
        buf_format(&text, "; %s", cell->remark);
    }
    return text.text;
}

/* Whether some combinations of what else is open do not go with every option: they would set a property twice. */
static bool leaves_out(const Comparison *comparison, const CompareChoice *compared)
{
    const Spec *spec = comparison->outcome->spec;
    uint64_t all = 1;
    for (uint32_t c = 0; c < spec->choice_count && all <= compared->tried; c++) {
        const Choice *choice = &spec->choices[c];
        all *= choice != compared->choice && choice_is_open(choice) ? choice->option_count : 1;
    }
    return spec->sets_clash && compared->tried < all;
}

const char *compare_covers(Arena *arena, const Comparison *comparison, const CompareChoice *compared)
{
    if (compared->tried == 0 && !comparison->outcome->sampled && comparison->outcome->spec->sets_clash) {
        return "Not compared: whatever else is picked, an option of it would set what another option sets; `options-apart` of "
               "`check` says which.";
    }
    if (compared->tried == 0) {
        return "Not compared: there are more options and choices than are computed. `--with CHOICE=OPTION` decides some for "
               "this run.";
    }
    if (compared->others == NULL) {
        return "";
    }
    if (comparison->outcome->sampled) {
        return text_format(arena,
                           "There are too many combinations to compute: each other open choice (%s) stands at its "
                           "first option here%s. `--with CHOICE=OPTION` decides some for this run.",
                           compared->others, compared->tried > 1 ? ", or each at its last" : "");
    }
    if (leaves_out(comparison, compared)) {
        return text_format(arena,
                           "Each column covers what else is open (%s) as far as it goes with every option, in %u %s (see "
                           "`options-apart`); `best` and `worst` hold within each of them.",
                           compared->others, (unsigned)compared->tried, compared->tried == 1 ? "combination" : "combinations");
    }
    return text_format(arena,
                       "Each column covers all %u combinations of what else is open (%s); `best` and `worst` hold "
                       "within each of them.",
                       (unsigned)compared->tried, compared->others);
}

const char *compare_same(Arena *arena, const CompareChoice *compared)
{
    Buf text;
    buf_init(&text, arena);
    for (const CompareRow *row = compared->rows; row != NULL; row = row->next) {
        if (row->same) {
            const CompareCell *cell = &row->cells[0];
            buf_format(&text, "%s%s %s", text.length > 0 ? "; " : "", row->title, cell->text);
            if (cell->remark != NULL) {
                buf_format(&text, " (%s)", cell->remark);
            }
        }
    }
    return text.length > 0 ? text_format(arena, "The same with each option: %s.", text.text) : "";
}

const char *compare_unscored(Arena *arena, const CompareChoice *compared)
{
    Buf text;
    buf_init(&text, arena);
    for (uint32_t o = 0; o < compared->option_count; o++) {
        const CompareOption *option = &compared->options[o];
        if (option->unscored != NULL) {
            buf_format(&text, "%s`%s` has no score by %s", text.length > 0 ? "; " : "", option->name, option->unscored);
        }
    }
    if (text.length > 0) {
        buf_text(&text, ": its weighted sum is a range, from no points there to all of them");
    }
    if (compared->unscored != NULL) {
        buf_format(&text, "%sno option has a score by %s", text.length > 0 ? "; " : "", compared->unscored);
    }
    if (text.length == 0) {
        return "";
    }
    buf_char(&text, '.');
    return text_format(arena, "Not scored: %s", text.text);
}

const char *compare_dominated(Arena *arena, const CompareChoice *compared)
{
    Buf text;
    buf_init(&text, arena);
    for (uint32_t o = 0; o < compared->option_count; o++) {
        const CompareOption *option = &compared->options[o];
        if (option->dominated_by >= 0) {
            buf_format(&text, "%s`%s` is dominated by `%s`: better in no row that is compared, and worse in: %s.",
                       text.length > 0 ? " " : "", option->name, compared->options[option->dominated_by].name,
                       option->worse_in);
        }
    }
    return text.text;
}
