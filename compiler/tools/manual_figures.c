/*
 * The figures on a terminal: what can be computed. See manual.h.
 *
 * Knows the table of figures; how each is computed is told in docs/computing.md, and for the numbers of one
 * boat by `why`.
 */
#include "figures/figure.h"
#include "tools/manual.h"
#include "tools/manual_words.h"
#include "tools/page.h"

enum { INDENT = 2, COLUMN = 25 };

static void print_figure(Page *page, const FigureRow *row)
{
    page_title(page, row->name, str_from(row->help));
    if (row->unit != UNIT_NONE) {
        page_entry(page, INDENT, 12, STR("unit"), str_from(units[row->unit].word));
    }
    page_entry(page, INDENT, 12, STR("source"), str_from(row->source));
    page_paragraph(
        page, 0,
        STR("`garboard why SPEC SUBJECT.FIGURE` prints the working of one, with the numbers of your boat."));
}

static void list_all(Page *page)
{
    for (int f = FIGURE_NONE + 1; f < FIGURE_COUNT; f++) {
        page_entry(page, INDENT, COLUMN, str_from(figure_rows[f].name), str_from(figure_rows[f].help));
    }
}

bool manual_figures(Buf *to, Arena *arena, Str argument, bool color, const char **error)
{
    Page page = {to, color};
    FigureId figure = figure_id(argument);
    if (argument.length == 0) {
        list_all(&page);
    } else if (figure != FIGURE_NONE) {
        print_figure(&page, &figure_rows[figure]);
    } else {
        Suggestions near = suggest_begin(argument);
        for (int f = FIGURE_NONE + 1; f < FIGURE_COUNT; f++) {
            suggest_offer(&near, str_from(figure_rows[f].name));
        }
        *error =
            manual_nothing(arena, text_format(arena, "there is no figure called `%.*s`", STR_ARG(argument)),
                           &near, "`garboard figures` lists those of a spec");
        return false;
    }
    return true;
}
