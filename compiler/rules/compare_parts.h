/*
 * What the steps of comparing options share: compare.c lays the cases out, compare_rows.c says which rows there are and
 * measures one of them in one case. Private to compiler/rules/compare*.c.
 */
#ifndef GARBOARD_RULES_COMPARE_PARTS_H
#define GARBOARD_RULES_COMPARE_PARTS_H

#include "rules/compare.h"

typedef enum RowKind { ROW_FIGURE, ROW_FINDINGS, ROW_SCORE, ROW_WEIGHTED } RowKind;

/* What a row measures. */
typedef struct RowSource {
    uint8_t kind;   /* RowKind */
    uint8_t better; /* CompareBetter */
    bool open;      /* of findings: the open ones, whatever their severity */
    Severity severity;
    FigureId figure;
    Symbol subject; /* of a figure: 0 is the boat */
    Symbol at;      /* of a figure: its day */
    Symbol criterion;
    const char *name, *title;
    struct RowSource *next;
} RowSource;

/* One row in one case. */
typedef struct Measured {
    CompareState state;
    Interval value;
    const Figure *figure; /* of a figure row */
} Measured;

/* The cases of one choice: `tried` rows of one case an option; in a row the other choices are the same. */
typedef struct Layout {
    Arena *arena;
    const Outcome *outcome;
    const Choice *choice;
    const Case **cases;
    uint32_t tried;
    double of;   /* the greatest number that a score of this choice is out of; 0: there is no score */
    double most; /* the weighted sum of full scores; for its row */
} Layout;

static inline const Case *layout_case(const Layout *layout, uint32_t combination, uint32_t option)
{
    return layout->cases[combination * layout->choice->option_count + option];
}

/** A name of the spec. */
static inline const char *layout_symbol(const Layout *layout, Symbol symbol)
{
    return str_copy(layout->arena, symbols_text(layout->outcome->spec->symbols, symbol));
}

/** The rows of a choice, in the order in which they are printed. Sets layout->of and most. */
RowSource *compare_sources(Layout *layout);
Measured compare_measure(const Layout *layout, const RowSource *source, const Case *in, uint32_t option);
/**
 * The measure of one option less that of another within one case each, the other choices being the same. Without
 * bounds where nothing can be said.
 */
Interval compare_difference(const Layout *layout, const RowSource *source, const Case *a, uint32_t option_a,
                            const Case *b, uint32_t option_b);
/** The score of an option by a criterion as a share of the most; false if it has none. */
bool compare_score(const Layout *layout, uint32_t option, Symbol criterion, const Score **score);

#endif
