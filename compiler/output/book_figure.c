/* Figures in the book: over all cases as one text, or with the options that decide it. See book_page.h. */
#include "output/book_page.h"

#include <math.h>

/* `at` is what stands behind the @ of its name. */
static const Figure *figure_in(const Case *c, const Entity *subject, FigureId id, Str at)
{
    return figure_find_at(c->figures, book_same_thing(c, subject), id, at);
}

static Str at_name(const Book *book, const Entity *at)
{
    return at != NULL ? book_name(book, at) : (Str){"", 0};
}

bool book_has_figure(const Book *book, const Entity *subject, FigureId id, const Entity *at)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        if (figure_in(&book->outcome->cases[c], subject, id, at_name(book, at)) != NULL) {
            return true;
        }
    }
    return false;
}

/* A figure in each of the cases that are looked at. */
typedef struct InCases {
    const Entity *subject;
    FigureId id;
    Str at;
    CaseSet cases; /* of those that are asked for, the ones that have the subject */
    const Figure **list;
} InCases;

static InCases in_cases(const Book *book, CaseSet cases, const Entity *subject, FigureId id, Str at)
{
    const Outcome *outcome = book->outcome;
    InCases in = {subject, id, at, 0, ARENA_ARRAY(book->arena, const Figure *, outcome->case_count)};
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        if (cases >> c & 1 && book_same_thing(&outcome->cases[c], subject) != NULL) {
            in.cases |= (CaseSet)1 << c;
            in.list[c] = figure_in(&outcome->cases[c], subject, id, at);
        }
    }
    return in;
}

static bool is_other(const Figure *x, const Figure *y)
{
    return x == NULL || y == NULL ? x != y : x->state != y->state || x->low != y->low || x->high != y->high;
}

/* Whether two cases that differ in this choice alone, and both have the thing, have different figures. */
static bool moves_with(const Book *book, uint32_t choice, const InCases *in)
{
    const Outcome *outcome = book->outcome;
    for (uint32_t a = 0; a < outcome->case_count; a++) {
        for (uint32_t b = 0; b < a && in->cases >> a & 1; b++) {
            bool differ = in->cases >> b & 1 && is_other(in->list[a], in->list[b]);
            for (uint32_t i = 0; i < outcome->spec->choice_count && differ; i++) {
                bool other =
                    outcome->cases[a].model->choices[i].chosen != outcome->cases[b].model->choices[i].chosen;
                differ = other == (i == choice);
            }
            if (differ) {
                return true;
            }
        }
    }
    return false;
}

/* "with engine-size=stout": some options know no such figure, and all others the same; NULL where that is not so. */
static const char *only_there(const Book *book, const InCases *in)
{
    CaseSet known = 0;
    const Figure *first = NULL;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Figure *figure = in->cases >> c & 1 ? in->list[c] : NULL;
        if (figure == NULL || figure->state != STATE_KNOWN) {
            continue;
        }
        if (first != NULL && is_other(first, figure)) {
            return NULL;
        }
        first = figure;
        known |= (CaseSet)1 << c;
    }
    return known != 0 && known != in->cases ? options_words(book->outcome->options, NULL, known) : NULL;
}

static void write_dependence(const Book *book, Buf *to, const InCases *in)
{
    const Outcome *outcome = book->outcome;
    const char *only = only_there(book, in);
    bool any = false;
    if (only != NULL) {
        buf_format(to, " (with %s)", only);
        return;
    }
    for (uint32_t i = 0; i < outcome->spec->choice_count; i++) {
        if (choice_is_open(&outcome->spec->choices[i]) && moves_with(book, i, in)) {
            buf_text(to, any ? ", " : " (depends on ");
            buf_add(to, symbols_text(outcome->spec->symbols, outcome->spec->choices[i].name));
            any = true;
        }
    }
    buf_text(to, any ? ")" : "");
}

/* Lengths of one column stand in the unit of the first of them, whatever each owner's statement is in: they are compared by eye. */
static void keep_unit(Figure *figure, UnitPair *of_column)
{
    UnitPair metres = UNIT_ALONE(UNIT_M);
    if (!dimension_equal(unit_dimension(figure->unit), unit_dimension(metres))) {
        return;
    }
    if (of_column->unit == UNIT_NONE) {
        *of_column = figure->unit;
    }
    figure->unit = *of_column;
}

/* So fine as a rule can be read aboard: a millimetre, from ten inches on, and on a dipstick, a tenth of an inch. In m; 0: as it is. */
static double step_of(const Figure *figure)
{
    static const double inch_m = 0.0254;
    bool dip = figure->id == FIGURE_DIP_QUARTER || figure->id == FIGURE_DIP_HALF || figure->id == FIGURE_DIP_THREE_QUARTERS;
    bool coarse = dip || fmax(fabs(figure->low), fabs(figure->high)) >= 10.0 * inch_m;
    return unit_equal(figure->unit, UNIT_ALONE(UNIT_IN)) && coarse ? 0.1 * inch_m : unit_equal(figure->unit, UNIT_ALONE(UNIT_M)) ? 0.001 : 0.0;
}

Figure book_rounded(const Figure *figure)
{
    Figure rounded = *figure;
    double step = step_of(figure), hair = 1e-6;
    if (step <= 0.0 || figure->state != STATE_KNOWN || !isfinite(figure->low) || !isfinite(figure->high)) {
        return rounded;
    }
    if (figure->low == figure->high) { /* what is asked at least is met by what is printed */
        bool asked = figure->id == FIGURE_LEAST_HEIGHT;
        rounded.low = rounded.high = step * (asked ? ceil(figure->low / step - hair) : round(figure->low / step));
    } else {
        rounded.low = step * floor(figure->low / step + hair);
        rounded.high = step * ceil(figure->high / step - hair);
    }
    return rounded;
}

/* Empty if no case has such a figure. of_column: see keep_unit; or NULL. */
static void write_merged(const Book *book, Buf *to, const InCases *in, UnitPair *of_column)
{
    const Outcome *outcome = book->outcome;
    Figure merged;
    if (outcome_figure_in(outcome, in->cases, book_name(book, in->subject), in->id, in->at, &merged)) {
        if (of_column != NULL) {
            keep_unit(&merged, of_column);
        }
        Figure rounded = book_rounded(&merged);
        figure_write(to, book->figures, &rounded);
        buf_text(to, merged.chosen ? " (sized)" : "");
        return;
    }
    for (uint32_t c = 0; c < outcome->case_count && to->length == 0; c++) {
        if (in->list[c] != NULL) {
            figure_write(to, outcome->cases[c].figures, in->list[c]);
        }
    }
}

static Str figure_words(const Book *book, CaseSet cases, const Entity *subject, FigureId id, Str at, bool dependence, UnitPair *of_column)
{
    Buf text;
    buf_init(&text, book->arena);
    InCases in = in_cases(book, cases, subject, id, at);
    write_merged(book, &text, &in, of_column);
    if (dependence && text.length > 0 && book->outcome->case_count > 1) {
        write_dependence(book, &text, &in);
    }
    return text.length > 0 ? buf_str(&text) : book_nothing;
}

Str book_figure_short_with(const Book *book, CaseSet cases, const Entity *subject, FigureId id, const Entity *at)
{
    return figure_words(book, cases, subject, id, at_name(book, at), false, NULL);
}

Str book_figure_short(const Book *book, const Entity *subject, FigureId id, const Entity *at)
{
    return book_figure_short_with(book, options_all_cases(book->outcome), subject, id, at);
}

Str book_figure_of(const Book *book, const Entity *subject, FigureId id, FigureScope scope)
{
    return figure_words(book, options_all_cases(book->outcome), subject, id, str_from(figure_scope_word(scope)), false, NULL);
}

Str book_figure_towards(const Book *book, const Entity *subject, FigureId id, FigureScope scope, const Directions *words)
{
    Figure merged;
    Buf text;
    if (!outcome_figure(book->outcome, book_name(book, subject), id, str_from(figure_scope_word(scope)), &merged)) {
        return book_figure_of(book, subject, id, scope);
    }
    buf_init(&text, book->arena);
    Figure rounded = book_rounded(&merged);
    figure_write_towards(&text, book->figures, &rounded, words);
    return buf_str(&text);
}

Str book_figure_with(const Book *book, CaseSet cases, const Entity *subject, FigureId id, const Entity *at)
{
    return figure_words(book, cases, subject, id, at_name(book, at), true, NULL);
}

Str book_figure_in_column(const Book *book, const Entity *subject, FigureId id, UnitPair *of_column)
{
    return figure_words(book, options_all_cases(book->outcome), subject, id, STR(""), true, of_column);
}

Str book_figure(const Book *book, const Entity *subject, FigureId id, const Entity *at)
{
    return book_figure_with(book, options_all_cases(book->outcome), subject, id, at);
}

bool book_has_figure_of(const Book *book, const Entity *subject, FigureId id, FigureScope scope)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        if (figure_in(&book->outcome->cases[c], subject, id, str_from(figure_scope_word(scope))) != NULL) {
            return true;
        }
    }
    return false;
}
