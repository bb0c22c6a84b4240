/* See compare.h: which cases are compared, the cells, what is best, worst and dominated. */
#include "rules/compare_parts.h"

#include "figures/boat.h"
#include "model/walk.h"

#include <math.h>
#include <string.h>

/* A list of names in backquotes that grows; NULL while it is empty. */
static void add_name(Buf *to, const char *name)
{
    buf_format(to, "%s`%s`", to->length > 0 ? ", " : "", name);
}

static const char *text_or_null(const Buf *text)
{
    return text->length > 0 ? text->text : NULL;
}

/* Which cases */

/* Whether two cases differ in this choice alone, if at all. */
static bool same_others(const Layout *layout, const Case *a, const Case *b)
{
    const Spec *spec = layout->outcome->spec;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        if (&spec->choices[i] != layout->choice &&
            a->model->choices[i].chosen != b->model->choices[i].chosen) {
            return false;
        }
    }
    return true;
}

static const Case *find_case(const Layout *layout, const Case *like, uint32_t option)
{
    const Outcome *outcome = layout->outcome;
    size_t index = (size_t)(layout->choice - outcome->spec->choices);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Case *in = &outcome->cases[c];
        if (in->model->choices[index].chosen == (int32_t)option && same_others(layout, like, in)) {
            return in;
        }
    }
    return NULL;
}

/* One row for each case that takes the first option and has a like with every other. */
static void lay_out(Layout *layout)
{
    const Outcome *outcome = layout->outcome;
    uint32_t options = layout->choice->option_count;
    size_t index = (size_t)(layout->choice - outcome->spec->choices);
    layout->cases = ARENA_ARRAY(layout->arena, const Case *, (size_t)outcome->case_count *options);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Case *first = &outcome->cases[c];
        const Case **row = &layout->cases[(size_t)layout->tried * options];
        bool whole = first->model->boat != NULL && first->model->choices[index].chosen == 0;
        for (uint32_t o = 0; o < options && whole; o++) {
            row[o] = find_case(layout, first, o);
            whole = row[o] != NULL;
        }
        layout->tried += whole ? 1 : 0;
    }
}

/* Cells */

static void write_number(Buf *to, Interval value)
{
    unit_print(to, UNIT_ALONE(UNIT_NONE), value.low, value.high);
}

static const char *score_text(const Layout *layout, uint32_t option, Symbol criterion)
{
    const Score *score;
    Buf text;
    buf_init(&text, layout->arena);
    if (!compare_score(layout, option, criterion, &score)) {
        return "not scored";
    }
    write_number(&text, point(score->points));
    buf_text(&text, " of ");
    write_number(&text, point(score->of));
    return text.text;
}

/* What covers a row's measures of one option, over the combinations of the other choices. */
typedef struct Covered {
    Interval value;
    Figure figure;     /* the first, of a figure row */
    const Case *of;    /* that it is of; NULL: nothing is known */
    uint32_t known;    /* in how many combinations */
    uint32_t there;    /* known or not */
    bool other_remark; /* not all say the same of it */
} Covered;

static void cover(Covered *covered, const Case *in, const Measured *measured)
{
    covered->there += measured->state != COMPARE_ABSENT;
    if (measured->state != COMPARE_KNOWN) {
        return;
    }
    if (covered->known++ == 0) {
        covered->of = in;
        covered->value = measured->value;
        if (measured->figure != NULL) {
            covered->figure = *measured->figure;
        }
        return;
    }
    const char *remark = measured->figure != NULL ? measured->figure->remark : NULL;
    const char *first = covered->figure.remark;
    bool same = remark == NULL || first == NULL ? remark == first : strcmp(remark, first) == 0;
    covered->other_remark = covered->other_remark || !same;
    covered->value = interval_hull(covered->value, measured->value);
}

static CompareState state_of(const Covered *covered, uint32_t tried)
{
    return covered->known == tried ? COMPARE_KNOWN
           : covered->known > 0    ? COMPARE_PARTLY
           : covered->there > 0    ? COMPARE_UNKNOWN
                                   : COMPARE_ABSENT;
}

static const char *cell_text(const Layout *layout, const RowSource *source, uint32_t option, Covered *covered)
{
    Buf text;
    buf_init(&text, layout->arena);
    if (source->kind == ROW_SCORE) {
        return score_text(layout, option, source->criterion);
    }
    if (covered->of == NULL) {
        return covered->there == 0 ? "none" : "not known";
    }
    if (source->kind == ROW_FIGURE) {
        covered->figure.low = covered->value.low;
        covered->figure.high = covered->value.high;
        return figure_text(covered->of->figures, &covered->figure);
    }
    write_number(&text, covered->value);
    if (source->kind == ROW_WEIGHTED) {
        buf_text(&text, " of ");
        write_number(&text, point(layout->most));
    }
    return text.text;
}

/* "without `stove`": what the option brings that a sum leaves out, for it does not say its price or mass. */
static const char *left_out(const Layout *layout, const RowSource *source, uint32_t option)
{
    FigureId sum = source->figure == FIGURE_COST_IN_ALL ? FIGURE_COST : source->figure;
    const Case *in = layout_case(layout, 0, option);
    NodeId node = layout->choice->options[option].node;
    Buf names;
    buf_init(&names, layout->arena);
    for (uint32_t i = 0; i < in->model->entity_count; i++) {
        const Entity *entity = in->model->entities[i];
        Interval term;
        if (entity->option == node && boat_term(in->figures, entity, sum, &term) == TERM_UNKNOWN) {
            add_name(&names, str_copy(layout->arena, entity_name(in->model, entity)));
        }
    }
    return names.length > 0 ? text_format(layout->arena, "without %s", names.text) : NULL;
}

static const char *cell_remark(const Layout *layout, const RowSource *source, uint32_t option,
                               const Covered *covered)
{
    if (covered->of == NULL || source->kind != ROW_FIGURE) {
        return NULL;
    }
    if (covered->known < layout->tried) {
        return covered->there < layout->tried ? "there is none with some of the other options"
                                              : "not known with some of the other options";
    }
    if (source->subject == 0 && (boat_is_sum(source->figure) || source->figure == FIGURE_COST_IN_ALL)) {
        return left_out(layout, source, option);
    }
    return covered->other_remark ? NULL : covered->figure.remark;
}

static CompareCell make_cell(const Layout *layout, const RowSource *source, uint32_t option)
{
    Covered covered = {.known = 0};
    for (uint32_t i = 0; i < layout->tried; i++) {
        const Case *in = layout_case(layout, i, option);
        Measured measured = compare_measure(layout, source, in, option);
        cover(&covered, in, &measured);
    }
    return (CompareCell){.state = (uint8_t)state_of(&covered, layout->tried),
                         .value = covered.value,
                         .text = cell_text(layout, source, option, &covered),
                         .remark = cell_remark(layout, source, option, &covered)};
}

/* Best, worst, dominated */

/* By how much one option is better than another in a row: over all combinations, whatever is not decided. */
static Interval ahead(const Layout *layout, const RowSource *source, uint32_t option, uint32_t than)
{
    Interval whole = point(0.0);
    for (uint32_t i = 0; i < layout->tried; i++) {
        Interval one = compare_difference(layout, source, layout_case(layout, i, option), option,
                                          layout_case(layout, i, than), than);
        whole = i == 0 ? one : interval_hull(whole, one);
    }
    return source->better == COMPARE_LESS ? (Interval){-whole.high, -whole.low} : whole;
}

/* The last digits of floating-point arithmetic decide nothing. */
static double slack_of(const CompareRow *row, uint32_t options)
{
    double greatest = 0.0;
    for (uint32_t o = 0; o < options; o++) {
        const double high = fabs(row->cells[o].value.high);
        greatest = isfinite(high) && high > greatest ? high : greatest;
    }
    return greatest * 1e-9;
}

typedef struct Verdicts {
    Interval *ahead; /* [option * options + than] */
    double slack;
} Verdicts;

static Verdicts judge_row(const Layout *layout, const RowSource *source, const CompareRow *row)
{
    uint32_t options = layout->choice->option_count;
    Verdicts verdicts = {.ahead = ARENA_ARRAY(layout->arena, Interval, (size_t)options * options),
                         .slack = slack_of(row, options)};
    for (uint32_t a = 0; a < options; a++) {
        for (uint32_t b = 0; b < a; b++) {
            Interval by = ahead(layout, source, a, b);
            verdicts.ahead[a * options + b] = by;
            verdicts.ahead[b * options + a] = (Interval){-by.high, -by.low};
        }
    }
    return verdicts;
}

/* Equal values are neither best nor worst, and what overlaps is not told apart. */
static CompareMark mark_of(const Verdicts *verdicts, uint32_t options, uint32_t option)
{
    bool best = true, worst = true;
    for (uint32_t other = 0; other < options; other++) {
        const Interval *by = &verdicts->ahead[option * options + other];
        if (other != option) {
            best = best && by->low > verdicts->slack;
            worst = worst && by->high < -verdicts->slack;
        }
    }
    return best ? MARK_BEST : worst ? MARK_WORST : MARK_NONE;
}

static bool all_same(const Verdicts *verdicts, uint32_t options)
{
    bool same = true;
    for (uint32_t i = 0; i < options * options; i++) {
        const Interval *by = &verdicts->ahead[i];
        same = same && fabs(by->low) <= verdicts->slack && fabs(by->high) <= verdicts->slack;
    }
    return same;
}

/* What is known of one pair: whether the one may still be worse somewhere, and where it is surely better. */
typedef struct Pair {
    bool may_be_worse;
    Buf better_in;
} Pair;

static void note_pairs(const Layout *layout, const CompareRow *row, const Verdicts *verdicts, Pair *pairs)
{
    uint32_t options = layout->choice->option_count;
    for (uint32_t i = 0; i < options * options; i++) {
        const Interval *by = &verdicts->ahead[i];
        if (i % options == i / options) {
            continue;
        }
        pairs[i].may_be_worse = pairs[i].may_be_worse || by->low < -verdicts->slack;
        if (by->low > verdicts->slack) {
            buf_format(&pairs[i].better_in, "%s%s", pairs[i].better_in.length > 0 ? ", " : "", row->title);
        }
    }
}

static void find_dominated(CompareChoice *compared, const Pair *pairs)
{
    uint32_t options = compared->option_count;
    for (uint32_t o = 0; o < options; o++) {
        for (uint32_t by = 0; by < options && compared->options[o].dominated_by < 0; by++) {
            const Pair *pair = &pairs[by * options + o];
            if (by != o && !pair->may_be_worse && pair->better_in.length > 0) {
                compared->options[o].dominated_by = (int32_t)by;
                compared->options[o].worse_in = pair->better_in.text;
            }
        }
    }
}

/* Rows */

static bool has_cell(const CompareRow *row, uint32_t options)
{
    for (uint32_t o = 0; o < options; o++) {
        if (row->cells[o].state != COMPARE_ABSENT) {
            return true;
        }
    }
    return false;
}

static CompareRow *make_row(const Layout *layout, const RowSource *source)
{
    uint32_t options = layout->choice->option_count;
    CompareRow *row = ARENA_NEW(layout->arena, CompareRow);
    *row = (CompareRow){.name = source->name,
                        .title = source->title,
                        .better = source->better,
                        .most = source->kind == ROW_WEIGHTED ? layout->most : 0.0,
                        .cells = ARENA_ARRAY(layout->arena, CompareCell, options)};
    for (uint32_t o = 0; o < options; o++) {
        row->cells[o] = make_cell(layout, source, o);
    }
    for (uint32_t i = 0; i < layout->tried * options && source->kind == ROW_FIGURE; i++) {
        Measured measured = compare_measure(layout, source, layout->cases[i], i % options);
        if (measured.figure != NULL) {
            row->unit = measured.figure->unit;
            row->money = measured.figure->money;
            break;
        }
    }
    return row;
}

static void make_rows(Layout *layout, CompareChoice *compared)
{
    uint32_t options = layout->choice->option_count;
    Pair *pairs = ARENA_ARRAY(layout->arena, Pair, (size_t)options * options);
    CompareRow **end = &compared->rows;
    for (uint32_t i = 0; i < options * options; i++) {
        buf_init(&pairs[i].better_in, layout->arena);
    }
    for (const RowSource *source = compare_sources(layout); source != NULL; source = source->next) {
        CompareRow *row = make_row(layout, source);
        if (!has_cell(row, options)) {
            continue;
        }
        *end = row;
        end = &row->next;
        Verdicts verdicts = judge_row(layout, source, row);
        row->same = all_same(&verdicts, options);
        for (uint32_t o = 0; o < options && row->better != COMPARE_NEITHER; o++) {
            row->cells[o].mark = (uint8_t)mark_of(&verdicts, options, o);
        }
        if (row->better != COMPARE_NEITHER) {
            note_pairs(layout, row, &verdicts, pairs);
        }
    }
    find_dominated(compared, pairs);
}

/* Options */

static const char *list_brought(const Layout *layout, uint32_t option)
{
    const Case *in = layout_case(layout, 0, option);
    Buf names;
    buf_init(&names, layout->arena);
    for (uint32_t i = 0; i < in->model->entity_count; i++) {
        if (in->model->entities[i]->option == layout->choice->options[option].node) {
            add_name(&names, str_copy(layout->arena, entity_name(in->model, in->model->entities[i])));
        }
    }
    return text_or_null(&names);
}

static const char *list_sets(const Layout *layout, uint32_t option)
{
    const Tree *tree = &layout->outcome->spec->tree;
    NodeId owner = layout->choice->options[option].node;
    Buf names;
    buf_init(&names, layout->arena);
    for (NodeId id = walk_block(tree, owner, 0); id != 0; id = walk_block(tree, owner, id)) {
        if (tree_kind(tree, id) == NODE_SET && !(tree_node(tree, id)->flags & NODE_BAD)) {
            SetHeader set = tree_set_header(tree, id);
            Span left = {tree_node(tree, set.name)->start, tree_node(tree, set.word)->end};
            Str said = span_text(tree->sources, left);
            add_name(&names, text_format(layout->arena, "%.*s", STR_ARG(said)));
        }
    }
    return text_or_null(&names);
}

/* The criteria by which this option has no score: those that another has one by, or that none has. */
static const char *list_unscored(const Layout *layout, uint32_t option, bool by_none)
{
    const Model *model = layout_case(layout, 0, 0)->model;
    Buf names;
    buf_init(&names, layout->arena);
    for (const Entity *e = model->first_of_kind[KIND_CRITERION]; e != NULL; e = e->next_of_kind) {
        const Score *score;
        uint32_t scored = 0;
        for (uint32_t o = 0; o < layout->choice->option_count; o++) {
            scored += compare_score(layout, o, e->name, &score);
        }
        if ((scored == 0) == by_none && !compare_score(layout, option, e->name, &score)) {
            add_name(&names, layout_symbol(layout, e->name));
        }
    }
    return text_or_null(&names);
}

static const char *list_others(const Layout *layout)
{
    const Spec *spec = layout->outcome->spec;
    Buf names;
    buf_init(&names, layout->arena);
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        if (&spec->choices[i] != layout->choice && choice_is_open(&spec->choices[i])) {
            add_name(&names, layout_symbol(layout, spec->choices[i].name));
        }
    }
    return text_or_null(&names);
}

static CompareOption make_option(const Layout *layout, uint32_t option)
{
    const Option *of = &layout->choice->options[option];
    CompareOption made = {.name = layout_symbol(layout, of->name),
                          .title = str_copy(layout->arena, of->title),
                          .sets = list_sets(layout, option),
                          .dominated_by = -1};
    if (layout->tried > 0) {
        made.brings = list_brought(layout, option);
        made.unscored = list_unscored(layout, option, false);
    }
    return made;
}

static CompareChoice compare_choice(Arena *arena, const Outcome *outcome, const Choice *choice)
{
    Layout layout = {.arena = arena, .outcome = outcome, .choice = choice};
    lay_out(&layout);
    CompareChoice compared = {.choice = choice,
                              .name = layout_symbol(&layout, choice->name),
                              .title = str_copy(arena, choice->title),
                              .others = list_others(&layout),
                              .tried = layout.tried,
                              .options = ARENA_ARRAY(arena, CompareOption, choice->option_count),
                              .option_count = choice->option_count};
    for (uint32_t o = 0; o < choice->option_count; o++) {
        compared.options[o] = make_option(&layout, o);
    }
    if (layout.tried > 0) {
        compared.unscored = list_unscored(&layout, 0, true);
        make_rows(&layout, &compared);
    }
    return compared;
}

const Comparison *compare_compute(Arena *arena, const Outcome *outcome)
{
    const Spec *spec = outcome->spec;
    Comparison *comparison = ARENA_NEW(arena, Comparison);
    *comparison = (Comparison){.outcome = outcome,
                               .choices = ARENA_ARRAY(arena, CompareChoice, spec->choice_count + 1)};
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        if (choice_is_open(&spec->choices[i])) {
            comparison->choices[comparison->count++] = compare_choice(arena, outcome, &spec->choices[i]);
        }
    }
    return comparison;
}
