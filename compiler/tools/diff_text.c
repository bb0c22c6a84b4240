/*
 * The difference for people: what was edited, what that does to figures, money, goals and findings, and last
 * a summary. 80 columns; a new value stands behind an arrow. Texts of the spec are made harmless.
 */
#include "tools/diff_tell.h"

#include "output/findings_text.h"
#include "output/report.h"

#include <string.h>

/* Money and goals */

/* What is worth saying of a line: not that there is no spare, nor the total of one piece again. */
static bool is_worth_saying(const DiffBom *row, const DiffLine *line)
{
    if (row->how != DIFF_CHANGED && strcmp(line->property, "spare") == 0) {
        return strcmp(row->how == DIFF_ADDED ? line->after : line->before, "0") != 0;
    }
    if (strcmp(line->property, "in all") != 0) {
        return true;
    }
    for (const DiffLine *other = row->lines; other != line; other = other->next) {
        bool price = strcmp(other->property, "price") == 0;
        if (price && line->before != NULL && other->before != NULL &&
            strcmp(line->before, other->before) != 0) {
            return true;
        }
        if (price && line->after != NULL && other->after != NULL && strcmp(line->after, other->after) != 0) {
            return true;
        }
        if (price) {
            return false;
        }
    }
    return true;
}

static const char *row_value(Arena *arena, const DiffBom *row, const DiffLine *line)
{
    return row->how == DIFF_ADDED ? line->after
           : row->how == DIFF_REMOVED
               ? line->before
               : text_format(arena, "%s -> %s", line->before != NULL ? line->before : "none",
                             line->after != NULL ? line->after : "none");
}

static void say_row(Teller *teller, const DiffBom *row)
{
    Buf text;
    buf_init(&text, teller->arena);
    buf_text(&text, row->how == DIFF_ADDED ? "new" : row->how == DIFF_REMOVED ? "gone" : "");
    if (row->where != NULL) {
        buf_format(&text, "%swith %s", text.length > 0 ? " " : "", row->where);
    }
    const char *between = text.length > 0 ? ": " : "";
    for (const DiffLine *line = row->lines; line != NULL; line = line->next) {
        if (is_worth_saying(row, line)) {
            buf_format(&text, "%s%s %s", between, line->property, row_value(teller->arena, row, line));
            between = "; ";
        }
    }
    tell_entry(teller, INDENT, FIGURE_COLUMN, row->name, text.text);
}

static void say_bom(Teller *teller)
{
    if (teller->diff->bom == NULL) {
        return;
    }
    tell_heading(teller, "Bill of materials");
    for (const DiffBom *row = teller->diff->bom; row != NULL; row = row->next) {
        say_row(teller, row);
    }
}

static void say_goals(Teller *teller)
{
    if (teller->diff->goals == NULL) {
        return;
    }
    tell_heading(teller, "Goals");
    for (const DiffGoal *goal = teller->diff->goals; goal != NULL; goal = goal->next) {
        const char *text = goal->before == NULL ? text_format(teller->arena, "new: %s", goal->after)
                           : goal->after == NULL
                               ? text_format(teller->arena, "gone; it was %s", goal->before)
                               : text_format(teller->arena, "%s -> %s", goal->before, goal->after);
        const char *title = goal->title[0] != '\0' ? text_format(teller->arena, ", \"%s\"", goal->title) : "";
        tell_entry(teller, INDENT, WORD_COLUMN, goal->name, text_format(teller->arena, "%s%s", text, title));
    }
}

/* Findings */

static void say_finding(Teller *teller, const DiffFinding *pair)
{
    const Finding *finding = pair->after != NULL ? pair->after : pair->before;
    const Outcome *outcome = pair->after != NULL ? teller->diff->after.outcome : teller->diff->before.outcome;
    Buf text;
    buf_init(&text, teller->arena);
    if (pair->before != NULL && pair->after != NULL) {
        buf_format(&text, "%s -> ", finding_state(teller->arena, pair->before));
    }
    Str subject = report_subject(outcome, finding);
    buf_format(&text, "%s: ", finding_state(teller->arena, finding));
    if (subject.length > 0) {
        buf_format(&text, "%.*s: ", STR_ARG(subject));
    }
    buf_format(&text, "%s [%s]", finding->message, finding->rule->name);
    page_entry(&teller->page, INDENT, HOW_COLUMN,
               pair->before == NULL  ? STR("new")
               : pair->after == NULL ? STR("gone")
                                     : STR("changed"),
               tell_plain(teller, text.text));
}

static void say_finding_list(Teller *teller, const DiffFindingList *list)
{
    for (const DiffFinding *pair = list->first; pair != NULL; pair = pair->next) {
        say_finding(teller, pair);
    }
}

static const char *counts(Arena *arena, const Outcome *outcome)
{
    Buf text;
    buf_init(&text, arena);
    findings_summary(&text, outcome);
    return text.text;
}

static void say_findings(Teller *teller)
{
    const DiffFindings *findings = &teller->diff->findings;
    const char *before = counts(teller->arena, teller->diff->before.outcome);
    const char *after = counts(teller->arena, teller->diff->after.outcome);
    bool listed = findings->fresh.count + findings->gone.count + findings->changed.count > 0;
    if (!listed && strcmp(before, after) == 0 && findings->reworded == 0) {
        return;
    }
    tell_heading(teller, "Findings");
    say_finding_list(teller, &findings->fresh);
    say_finding_list(teller, &findings->changed);
    say_finding_list(teller, &findings->gone);
    if (findings->still > 0) {
        Buf text;
        buf_init(&text, teller->arena);
        buf_format(&text, "%u still there", findings->still);
        if (findings->reworded > 0) {
            buf_format(&text, ", %u of them worded otherwise", findings->reworded);
        }
        page_paragraph(&teller->page, INDENT, buf_str(&text));
    }
    if (strcmp(before, after) != 0) {
        page_entry(&teller->page, INDENT, HOW_COLUMN, STR("before"), str_from(before));
        page_entry(&teller->page, INDENT, HOW_COLUMN, STR("now"), str_from(after));
    }
}

/* The whole */

/* "wren.boat with engine-size=stout" */
static void write_spec_name(Buf *to, Arena *arena, const DiffSide *side)
{
    snippet_plain(to, report_spec_name(side->outcome));
    const char *before = " with ";
    for (uint32_t i = 0; i < side->option_count; i++) {
        const DiffOption *option = &side->options[i];
        if (option->picked && option->choice->by_command) {
            buf_format(to, "%s%s", before, option_path(arena, side, option));
            before = ", ";
        }
    }
}

/* Where the two are not judged on one day: what only time has changed is told as a difference too. */
static void write_day(Buf *to, const Diff *diff, const DiffSide *side)
{
    if (diff->before.outcome->today != diff->after.outcome->today) {
        buf_text(to, " on ");
        date_write(to, side->outcome->today);
    }
}

static void say_head(Teller *teller)
{
    Buf text;
    buf_init(&text, teller->arena);
    const Diff *diff = teller->diff;
    write_spec_name(&text, teller->arena, &diff->before);
    write_day(&text, diff, &diff->before);
    buf_text(&text, " -> ");
    write_spec_name(&text, teller->arena, &diff->after);
    write_day(&text, diff, &diff->after);
    page_paragraph(&teller->page, 0, buf_str(&text));
}

static void count_word(Buf *to, const char *what, uint32_t count, const char *more)
{
    if (count > 0) {
        buf_format(to, "%s%u %s%s%s", to->length > 0 ? ", " : "", count, what, tell_plural(count), more);
    }
}

#define COUNT_LIST(COUNT, TYPE, FIRST)                                  \
    uint32_t COUNT = 0;                                                 \
    for (const TYPE *each = (FIRST); each != NULL; each = each->next) { \
        COUNT++;                                                        \
    }

static void say_summary(Teller *teller)
{
    const Diff *diff = teller->diff;
    COUNT_LIST(items, DiffItem, diff->items)
    COUNT_LIST(choices, DiffChoice, diff->choices)
    COUNT_LIST(waivers, DiffWaiver, diff->waivers)
    COUNT_LIST(figures, DiffFigure, diff->figures)
    COUNT_LIST(rows, DiffBom, diff->bom)
    COUNT_LIST(goals, DiffGoal, diff->goals)
    Buf text;
    buf_init(&text, teller->arena);
    count_word(&text, "thing", items, "");
    count_word(&text, "choice", choices, "");
    count_word(&text, "waiver", waivers, "");
    count_word(&text, "figure", figures, "");
    count_word(&text, "line", rows, " of the bill of materials");
    count_word(&text, "goal", goals, "");
    count_word(&text, "new finding", diff->findings.fresh.count, "");
    count_word(&text, "finding", diff->findings.changed.count, " in another state");
    count_word(&text, "finding", diff->findings.gone.count, " gone");
    page_blank(&teller->page);
    page_paragraph(&teller->page, 0, str_from(text_format(teller->arena, "differ: %s", text.text)));
}

void diff_text(Buf *to, const Diff *diff, Colour colour)
{
    Teller teller = {.page = {.buf = to, .color = colour.on}, .arena = to->arena, .diff = diff};
    say_head(&teller);
    if (!diff_is_different(diff)) {
        buf_text(to, "no difference: the same things, choices, figures and findings\n");
        return;
    }
    tell_things(&teller);
    tell_choices(&teller);
    tell_waivers(&teller);
    tell_figures(&teller);
    say_bom(&teller);
    say_goals(&teller);
    say_findings(&teller);
    say_summary(&teller);
}
