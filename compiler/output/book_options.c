/*
 * Tables with a column for each option of an open choice, as chapters of systems print them: one figure a row.
 */
#include "output/book_chapters.h"

/* The case that takes this option and, of the other open choices, what the first case takes. */
const Case *book_case_with(const Book *book, uint32_t choice, uint32_t option)
{
    const Outcome *outcome = book->outcome;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Choice *chosen = outcome->cases[c].model->choices;
        bool fits = chosen[choice].chosen == (int32_t)option;
        for (uint32_t i = 0; i < outcome->spec->choice_count && fits; i++) {
            fits = i == choice || chosen[i].chosen == outcome->cases[0].model->choices[i].chosen;
        }
        if (fits) {
            return &outcome->cases[c];
        }
    }
    return NULL;
}

Str book_figure_in(const Book *book, const Case *in, const Entity *subject, FigureId id, const Entity *at)
{
    const Figure *figure = NULL;
    const Entity *here = in != NULL ? model_find(in->model, book_name(book, subject)) : NULL;
    if (here != NULL) {
        const Entity *at_here = at != NULL ? model_find(in->model, book_name(book, at)) : NULL;
        figure = figure_find(in->figures, here, id, at_here);
    }
    return figure != NULL ? str_from(figure_text(in->figures, figure)) : book_nothing;
}

void book_option_row(Book *book, uint32_t choice, const char *title, const Entity *subject, FigureId id,
                     const Entity *at)
{
    if (subject == NULL || !book_has_figure(book, subject, id, at)) {
        return;
    }
    markdown_row(&book->md);
    markdown_cell_text(&book->md, str_from(title));
    if (at != NULL) {
        markdown_text(&book->md, STR(" "));
        markdown_code(&book->md, book_name(book, at));
    }
    for (uint32_t o = 0; o < book->outcome->spec->choices[choice].option_count; o++) {
        book_cell(book, book_figure_in(book, book_case_with(book, choice, o), subject, id, at));
    }
}

void book_option_heads(Book *book, const Choice *choice)
{
    MarkdownColumn *columns = ARENA_ARRAY(book->arena, MarkdownColumn, choice->option_count + 1);
    columns[0] = (MarkdownColumn){"", MARKDOWN_LEFT};
    for (uint32_t o = 0; o < choice->option_count; o++) {
        columns[o + 1] = (MarkdownColumn){
            str_copy(book->arena, symbols_text(book->outcome->spec->symbols, choice->options[o].name)),
            MARKDOWN_RIGHT};
    }
    markdown_table(&book->md, columns, choice->option_count + 1);
    markdown_row(&book->md);
    markdown_cell_text(&book->md, STR("What"));
    for (uint32_t o = 0; o < choice->option_count; o++) {
        book_cell(book, choice->options[o].title);
    }
}
