/* See compare_parts.h: which rows there are, and one row in one case. */
#include "rules/compare_parts.h"

#include "figures/boat.h"
#include "rules/placed.h"

#include <math.h>
#include <string.h>

/* The figures that are compared, in the order of the rows. One more figure is one more row here. */
typedef struct FigureRowKind {
    FigureId figure;
    CompareBetter better;
    bool of_banks; /* of each house bank; else of the boat */
    const char *title;
} FigureRowKind;

static const FigureRowKind figure_kinds[] = {
    {FIGURE_COST, COMPARE_LESS, false, "cost of the boat"},
    {FIGURE_COST_IN_ALL, COMPARE_LESS, false, "cost with what is paid in vain"},
    /* More of it bound is neither good nor bad: the cost is the same. */
    {FIGURE_COMMITTED, COMPARE_NEITHER, false, "of it committed"},
    {FIGURE_STILL_TO_BUY, COMPARE_LESS, false, "still to buy"},
    {FIGURE_MASS, COMPARE_LESS, false, "mass of her things"},
    {FIGURE_LONGEST_LEAD, COMPARE_LESS, false, "longest lead to order"},
    {FIGURE_READY, COMPARE_LESS, false, "all jobs done by"},
    {FIGURE_DAILY_USE, COMPARE_LESS, true, "daily use"},
    {FIGURE_ENDURANCE, COMPARE_MORE, false, "endurance"},
    {FIGURE_RANGE, COMPARE_MORE, false, "range under engine"},
    {FIGURE_TRIM, COMPARE_LESS, false, "trim by what is aboard"},
    {FIGURE_HEEL, COMPARE_LESS, false, "heel by what is aboard"},
    {FIGURE_AIR_DRAFT, COMPARE_LESS, false, "height over the water"},
};

typedef struct FindingRowKind {
    Severity severity;
    bool open;
    const char *name, *title;
} FindingRowKind;

static const FindingRowKind finding_kinds[] = {
    {SEVERITY_FAULT, false, "findings.faults", "faults"},
    {SEVERITY_WARNING, false, "findings.warnings", "warnings"},
    {SEVERITY_ADVICE, false, "findings.advice", "advice"},
    {SEVERITY_FAULT, true, "findings.open", "open findings"},
};

/* Listing the rows */

typedef struct RowList {
    Layout *layout;
    RowSource *first, **end;
} RowList;

static void add_row(RowList *list, RowSource row)
{
    *list->end = ARENA_NEW(list->layout->arena, RowSource);
    **list->end = row;
    list->end = &(*list->end)->next;
}

static bool has_row(const RowList *list, FigureId figure, Symbol subject, Symbol at)
{
    const RowSource *row = list->first;
    while (row != NULL && (row->figure != figure || row->subject != subject || row->at != at)) {
        row = row->next;
    }
    return row != NULL;
}

static void add_figure(RowList *list, const FigureRowKind *kind, const Figure *figure)
{
    const Layout *layout = list->layout;
    RowSource row = {.kind = ROW_FIGURE, .figure = kind->figure, .better = (uint8_t)kind->better};
    row.subject = kind->of_banks ? figure->subject->name : 0;
    row.at = figure->at != NULL ? figure->at->name : 0;
    if (has_row(list, row.figure, row.subject, row.at)) {
        return;
    }
    Buf name, title;
    buf_init(&name, layout->arena);
    buf_init(&title, layout->arena);
    buf_text(&title, kind->title);
    if (row.subject != 0) {
        buf_format(&name, "%s.", layout_symbol(layout, row.subject));
        buf_format(&title, " of `%s`", layout_symbol(layout, row.subject));
    }
    buf_text(&name, figure_rows[kind->figure].name);
    if (row.at != 0) {
        buf_format(&name, "@%s", layout_symbol(layout, row.at));
        buf_format(&title, " on `%s`", layout_symbol(layout, row.at));
    }
    row.name = name.text;
    row.title = title.text;
    add_row(list, row);
}

/* A starting bank has no daily life. */
static bool is_starting(const Entity *entity)
{
    Str role = entity->kind == KIND_BANK ? entity_word(entity, PROP_BANK_ROLE) : STR("");
    return role.length > 0 && !str_is(role, "house");
}

/* An angle of her while less than half of her is weighed and placed: no rule goes by it, and no choice should. */
static bool says_nothing(const Case *in, const Figure *figure)
{
    return (figure->id == FIGURE_TRIM || figure->id == FIGURE_HEEL) && rests_on_little(in->judge, figure);
}

/* The figures of that kind in one case: of the boat or of each house bank, by each day. */
static void list_figures(RowList *list, const FigureRowKind *kind, const Case *in)
{
    const Entity *subject = kind->of_banks ? in->model->first_of_kind[KIND_BANK] : in->model->boat;
    for (; subject != NULL; subject = kind->of_banks ? subject->next_of_kind : NULL) {
        for (const Figure *f = in->figures->lists[subject->index].first; f != NULL; f = f->next) {
            if (f->id == kind->figure && f->scope == SCOPE_WHOLE && !is_starting(subject) && !says_nothing(in, f)) {
                FigureRowKind of = *kind;
                /* What the others have cost is gone with this one: who looked at the cost alone would advise the dearer one. */
                if (of.figure == FIGURE_COST && figure_find(in->figures, subject, FIGURE_COST_IN_ALL, NULL) != NULL) {
                    of.better = COMPARE_NEITHER;
                }
                add_figure(list, &of, f);
            }
        }
    }
}

static bool is_scored(const Layout *layout, Symbol criterion)
{
    const Score *score;
    bool any = false;
    for (uint32_t o = 0; o < layout->choice->option_count && !any; o++) {
        any = compare_score(layout, o, criterion, &score);
    }
    return any;
}

static Interval weight_of(const Model *model, const Entity *criterion)
{
    const Value *weight = property_value(model_property(model, criterion, PROP_CRITERION_WEIGHT), 0);
    return weight->kind == VALUE_QUANTITY && !(weight->flags & VALUE_BROKEN)
               ? (Interval){weight->u.quantity.low, weight->u.quantity.high}
               : (Interval){0.0, INFINITY};
}

/* "Can I mend it myself? (`mend`, weight 3)" */
static const char *criterion_title(const Layout *layout, const Entity *criterion)
{
    const Case *in = layout_case(layout, 0, 0);
    Interval weight = weight_of(in->model, criterion);
    Figure shown = {.low = weight.low, .high = weight.high, .state = STATE_KNOWN};
    const char *named = text_format(layout->arena, "`%s`, weight %s", layout_symbol(layout, criterion->name),
                                    figure_text(in->figures, &shown));
    return criterion->title.length > 0
               ? text_format(layout->arena, "%.*s (%s)", STR_ARG(criterion->title), named)
               : named;
}

/* The criteria that any option has a score for, then their weighted sum. */
static void list_scores(RowList *list)
{
    Layout *layout = list->layout;
    const Model *model = layout_case(layout, 0, 0)->model;
    double weights = 0.0;
    for (const Entity *e = model->first_of_kind[KIND_CRITERION]; e != NULL; e = e->next_of_kind) {
        if (!is_scored(layout, e->name)) {
            continue;
        }
        weights += weight_of(model, e).high;
        add_row(list,
                (RowSource){.kind = ROW_SCORE,
                            .better = COMPARE_MORE,
                            .criterion = e->name,
                            .name = text_format(layout->arena, "score.%s", layout_symbol(layout, e->name)),
                            .title = criterion_title(layout, e)});
    }
    if (weights > 0.0 && isfinite(weights)) { /* a weight with a mistake may be anything */
        layout->most = weights * layout->of;
        add_row(list, (RowSource){.kind = ROW_WEIGHTED,
                                  .better = COMPARE_MORE,
                                  .name = "score",
                                  .title = "scores, weighted"});
    }
}

static void find_scale(Layout *layout)
{
    const Model *model = layout_case(layout, 0, 0)->model;
    for (uint32_t s = 0; s < model->score_count; s++) {
        const Score *score = &model->scores[s];
        if (score->choice->node == layout->choice->node && score->of > layout->of) {
            layout->of = score->of;
        }
    }
}

RowSource *compare_sources(Layout *layout)
{
    RowList list = {.layout = layout};
    list.end = &list.first;
    find_scale(layout);
    for (size_t k = 0; k < sizeof figure_kinds / sizeof figure_kinds[0]; k++) {
        for (uint32_t i = 0; i < layout->tried * layout->choice->option_count; i++) {
            list_figures(&list, &figure_kinds[k], layout->cases[i]);
        }
    }
    for (size_t k = 0; k < sizeof finding_kinds / sizeof finding_kinds[0]; k++) {
        const FindingRowKind *kind = &finding_kinds[k];
        add_row(&list, (RowSource){.kind = ROW_FINDINGS,
                                   .better = COMPARE_LESS,
                                   .severity = kind->severity,
                                   .open = kind->open,
                                   .name = kind->name,
                                   .title = kind->title});
    }
    list_scores(&list);
    return list.first;
}

/* Measuring */

bool compare_score(const Layout *layout, uint32_t option, Symbol criterion, const Score **score)
{
    const Model *model = layout_case(layout, 0, 0)->model; /* scores are the same in every case */
    for (uint32_t s = 0; s < model->score_count; s++) {
        *score = &model->scores[s];
        if ((*score)->choice->node == layout->choice->node && (*score)->option == option &&
            (*score)->criterion == criterion) {
            return true;
        }
    }
    return false;
}

/* What an option has by a criterion, in the scale of the choice; where it has no score, anything that is possible. */
static Interval points_of(const Layout *layout, uint32_t option, Symbol criterion)
{
    const Score *score;
    if (!compare_score(layout, option, criterion, &score)) {
        return (Interval){0.0, layout->of};
    }
    return point(score->of == layout->of ? score->points : score->points / score->of * layout->of);
}

static const Figure *figure_in(const RowSource *source, const Case *in)
{
    const Model *model = in->model;
    const Entity *subject = source->subject == 0                    ? model->boat
                            : source->subject < model->symbol_count ? model->by_symbol[source->subject]
                                                                    : NULL;
    const Entity *at = source->at < model->symbol_count ? model->by_symbol[source->at] : NULL;
    bool there = subject != NULL && (source->at == 0 || at != NULL);
    const Figure *figure = there ? figure_find(in->figures, subject, source->figure, source->at == 0 ? NULL : at) : NULL;
    return figure != NULL && !says_nothing(in, figure) ? figure : NULL;
}

/* Those that speak of the whole spec (a part that nothing uses) say nothing of one option. */
static double count_findings(const Case *in, const RowSource *source)
{
    double count = 0.0;
    for (const Finding *f = in->judge->first; f != NULL; f = f->next) {
        bool open = f->verdict == VERDICT_OPEN;
        bool wanted = source->open ? open : !open && f->severity == source->severity;
        count += wanted && f->waiver == NULL && !f->rule->of_all_cases && !f->rule->of_choice ? 1.0 : 0.0;
    }
    return count;
}

static Interval weigh(const Layout *layout, uint32_t option)
{
    const Model *model = layout_case(layout, 0, 0)->model;
    Interval sum = point(0.0);
    for (const Entity *e = model->first_of_kind[KIND_CRITERION]; e != NULL; e = e->next_of_kind) {
        if (is_scored(layout, e->name)) {
            sum =
                interval_add(sum, interval_multiply(weight_of(model, e), points_of(layout, option, e->name)));
        }
    }
    return sum;
}

Measured compare_measure(const Layout *layout, const RowSource *source, const Case *in, uint32_t option)
{
    Measured measured = {.state = COMPARE_KNOWN};
    const Score *score;
    switch ((RowKind)source->kind) {
    case ROW_FIGURE:
        measured.figure = figure_in(source, in);
        if (measured.figure == NULL || measured.figure->state != STATE_KNOWN) {
            measured.state = measured.figure == NULL ? COMPARE_ABSENT : COMPARE_UNKNOWN;
        } else {
            measured.value = (Interval){measured.figure->low, measured.figure->high};
        }
        break;
    case ROW_FINDINGS: measured.value = point(count_findings(in, source)); break;
    case ROW_SCORE:
        if (compare_score(layout, option, source->criterion, &score)) {
            measured.value = point(score->points / score->of);
        } else {
            measured.state = COMPARE_UNKNOWN;
        }
        break;
    case ROW_WEIGHTED: measured.value = weigh(layout, option); break;
    }
    return measured;
}

/* Differences */

static const Interval anything = {-INFINITY, INFINITY};

/* Infinite ends that are alike do not differ. */
static double less(double a, double b)
{
    return a == b ? 0.0 : a - b;
}

static bool same_number(double a, double b)
{
    return a == b || fabs(a - b) <= 1e-12 * fmax(fabs(a), fabs(b));
}

enum { MOST_LOOKS = 4000 }; /* at inputs, before two workings count as different */

static bool same_working(const Figure *a, const Figure *b, uint32_t *looks);

static bool same_input(const Input *a, const Input *b, uint32_t *looks)
{
    if (a->kind != b->kind) {
        return false;
    }
    switch ((InputKind)a->kind) {
    case INPUT_FIGURE: return same_working(a->u.figure, b->u.figure, looks);
    case INPUT_VALUE:
        return a->slot == b->slot && a->prop == b->prop && a->u.property->node == b->u.property->node;
    case INPUT_FACT:
        return strcmp(a->u.fact->what, b->u.fact->what) == 0 && a->u.fact->low == b->u.fact->low &&
               a->u.fact->high == b->u.fact->high;
    case INPUT_MISTAKE:
    case INPUT_MISSING: return false;
    }
    return false;
}

/* Whether two figures follow in the same way from the same lines of the spec: then they are equal, decided or not. */
static bool same_working(const Figure *a, const Figure *b, uint32_t *looks)
{
    bool same = a->id == b->id && a->subject->name == b->subject->name && a->input_count == b->input_count &&
                same_number(a->low, b->low) && same_number(a->high, b->high) && *looks < MOST_LOOKS &&
                strcmp(a->formula != NULL ? a->formula : "", b->formula != NULL ? b->formula : "") == 0;
    for (uint16_t i = 0; same && i < a->input_count; i++) {
        ++*looks;
        same = same_input(&a->inputs[i], &b->inputs[i], looks);
    }
    return same;
}

static Interval ends_apart(const Figure *a, const Figure *b)
{
    uint32_t looks = 0;
    return same_working(a, b, &looks) ? point(0.0) : (Interval){less(a->low, b->high), less(a->high, b->low)};
}

/* What both cost alike does not differ; what is gone is gone with one of them. */
static Interval in_all_difference(const Case *a, const Case *b)
{
    const Figure *vain_a = figure_find(a->figures, a->model->boat, FIGURE_PAID_IN_VAIN, NULL);
    const Figure *vain_b = figure_find(b->figures, b->model->boat, FIGURE_PAID_IN_VAIN, NULL);
    Interval cost;
    bool told = vain_a != NULL && vain_b != NULL && boat_difference(a->figures, b->figures, FIGURE_COST, &cost);
    return told ? interval_add(cost, ends_apart(vain_a, vain_b)) : anything;
}

static Interval figure_difference(const RowSource *source, const Case *a, const Case *b)
{
    const Figure *of_a = figure_in(source, a);
    const Figure *of_b = figure_in(source, b);
    Interval difference;
    if (of_a == NULL || of_b == NULL || of_a->state != STATE_KNOWN || of_b->state != STATE_KNOWN) {
        return anything;
    }
    if (source->subject == 0 && boat_is_sum(source->figure)) {
        return boat_difference(a->figures, b->figures, source->figure, &difference) ? difference : anything;
    }
    return source->figure == FIGURE_COST_IN_ALL ? in_all_difference(a, b) : ends_apart(of_a, of_b);
}

/* A weight that is not decided is the same for both. */
static Interval weighted_difference(const Layout *layout, uint32_t option_a, uint32_t option_b)
{
    const Model *model = layout_case(layout, 0, 0)->model;
    Interval sum = point(0.0);
    for (const Entity *e = model->first_of_kind[KIND_CRITERION]; e != NULL; e = e->next_of_kind) {
        if (is_scored(layout, e->name)) {
            Interval apart =
                interval_subtract(points_of(layout, option_a, e->name), points_of(layout, option_b, e->name));
            sum = interval_add(sum, interval_multiply(weight_of(model, e), apart));
        }
    }
    return sum;
}

Interval compare_difference(const Layout *layout, const RowSource *source, const Case *a, uint32_t option_a,
                            const Case *b, uint32_t option_b)
{
    if (source->kind == ROW_FIGURE) {
        return figure_difference(source, a, b);
    }
    if (source->kind == ROW_WEIGHTED) {
        return weighted_difference(layout, option_a, option_b);
    }
    Measured of_a = compare_measure(layout, source, a, option_a);
    Measured of_b = compare_measure(layout, source, b, option_b);
    bool known = of_a.state == COMPARE_KNOWN && of_b.state == COMPARE_KNOWN;
    return known ? interval_subtract(of_a.value, of_b.value) : anything;
}
