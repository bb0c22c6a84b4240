/*
 * The difference for people: the figures that moved.
 *
 * Shown are those of the boat, of banks and tanks, and of things that differ; the rest is counted. A change
 * is given with as many decimals as the values are printed with, so that it is what the eye subtracts.
 */
#include "tools/diff_tell.h"

#include "base/num.h"

#include <math.h>
#include <string.h>

/* How many digits stand behind the point in a printed value; the most of them in a range. */
static int decimals_of(const char *text)
{
    int most = 0;
    for (const char *c = text; *c != '\0'; c++) {
        int count = 0;
        while (*c == '.' && c[1 + count] >= '0' && c[1 + count] <= '9' && c > text && c[-1] != '.') {
            count++;
        }
        most = count > most ? count : most;
    }
    return most < 9 ? most : 9;
}

static void write_signed(Buf *to, double value, int decimals)
{
    buf_text(to, value < 0.0 ? "-" : "+");
    num_write_fixed(to, fabs(value), decimals);
}

static void write_percent(Buf *to, double percent)
{
    buf_text(to, percent < 0.0 ? "-" : "+");
    num_write(to, fabs(percent), fabs(percent) < 100.0 ? 2 : 3);
}

static bool is_share(const DiffFigure *figure)
{
    const UnitPair unit = figure->after.figure.unit;
    return unit.unit == UNIT_PERCENT && unit.per == UNIT_NONE;
}

static void write_unit(Buf *to, const DiffFigure *figure)
{
    const Figure *after = &figure->after.figure;
    if (after->money) {
        buf_format(to, " %.*s", STR_ARG(figure->after.of->model->currency));
    } else if (is_share(figure)) {
        buf_text(to, " points");
    } else if (after->unit.unit != UNIT_NONE) {
        buf_char(to, ' ');
        unit_write(to, after->unit.unit == UNIT_DATE ? UNIT_ALONE(UNIT_D) : after->unit);
    }
}

/* What one end of a figure moved by. */
typedef struct Moved {
    Str change;  /* "+170 kg", with as many decimals as the values; empty: it cannot be said */
    Str percent; /* "+2.5"; empty: it says nothing */
    double share;
    bool stays;
} Moved;

static Moved moved_at(Arena *arena, const DiffFigure *figure, bool high)
{
    Moved moved = {.stays = false};
    double change;
    if (!figure_change(figure, high, &change, &moved.share)) {
        return moved;
    }
    int before = decimals_of(figure->before.text);
    int after = decimals_of(figure->after.text);
    Buf text;
    buf_init(&text, arena);
    write_signed(&text, change, before > after ? before : after);
    write_unit(&text, figure);
    moved.change = buf_str(&text);
    moved.stays = numbers_same(high ? figure->before.figure.high : figure->before.figure.low,
                               high ? figure->after.figure.high : figure->after.figure.low);
    if (isfinite(moved.share) && !is_share(figure)) {
        buf_init(&text, arena);
        write_percent(&text, moved.share);
        moved.percent = buf_str(&text);
    }
    return moved;
}

/* "low +170 kg, +2.5 %", "high the same" */
static void write_end(Buf *to, const char *end, const Moved *moved)
{
    buf_text(to, end);
    if (moved->stays) {
        buf_text(to, " the same");
        return;
    }
    buf_format(to, " %.*s", STR_ARG(moved->change));
    if (moved->percent.length > 0) {
        buf_format(to, ", %.*s %%", STR_ARG(moved->percent));
    }
}

static void write_both(Buf *to, const Moved *low, const Moved *high)
{
    const Moved *less = low->share <= high->share ? low : high;
    const Moved *more = less == low ? high : low;
    buf_add(to, low->change);
    if (less->percent.length == 0 || more->percent.length == 0) {
        return;
    }
    buf_format(to, ", %.*s", STR_ARG(less->percent));
    if (!str_equal(less->percent, more->percent)) {
        buf_format(to, " to %.*s", STR_ARG(more->percent));
    }
    buf_text(to, " %");
}

/* " (+170 kg, +2.5 %)"; of a range both ends, unless they moved alike */
static void write_changes(Buf *to, const DiffFigure *figure)
{
    Moved low = moved_at(to->arena, figure, false);
    Moved high = moved_at(to->arena, figure, true);
    if (figure->after.figure.size || low.change.length + high.change.length == 0) {
        return;
    }
    buf_text(to, " (");
    if (str_equal(low.change, high.change)) {
        write_both(to, &low, &high);
    } else {
        if (low.change.length > 0) {
            write_end(to, "low", &low);
        }
        if (high.change.length > 0) {
            write_end(to, low.change.length > 0 ? "; high" : "high", &high);
        }
    }
    buf_char(to, ')');
}

static void show_figure(Teller *teller, int indent, const DiffFigure *figure)
{
    Buf text;
    buf_init(&text, teller->arena);
    buf_format(&text, "%s -> %s", figure->before.of != NULL ? figure->before.text : "none",
               figure->after.of != NULL ? figure->after.text : "none");
    write_changes(&text, figure);
    const char *was = figure->before.of != NULL ? figure->before.figure.remark : NULL;
    const char *remark = figure->after.of != NULL ? figure->after.figure.remark : NULL;
    if (remark != NULL && (was == NULL || strcmp(was, remark) != 0)) {
        buf_format(&text, "; %s", remark);
    }
    tell_entry(teller, indent, FIGURE_COLUMN, figure->name, text.text);
}

static void say_boat_figures(Teller *teller)
{
    bool any = false;
    for (const DiffFigure *f = teller->diff->figures; f != NULL; f = f->next) {
        if (f->of_boat) {
            if (!any) {
                tell_heading(teller, "The boat's figures");
                any = true;
            }
            show_figure(teller, INDENT, f);
        }
    }
}

static uint32_t count_hidden(const Diff *diff)
{
    uint32_t hidden = 0;
    for (const DiffFigure *f = diff->figures; f != NULL; f = f->next) {
        hidden += !f->of_boat && !f->shown;
    }
    return hidden;
}

static void say_subject(Teller *teller, const DiffFigure *figure)
{
    Buf text;
    buf_init(&text, teller->arena);
    buf_text(&text, figure->subject);
    if (figure->title[0] != '\0') {
        buf_format(&text, " \"%s\"", figure->title);
    }
    if (figure->was != NULL) {
        buf_format(&text, ", was %s", figure->was);
    }
    page_paragraph(&teller->page, INDENT, tell_plain(teller, text.text));
}

static void say_other_figures(Teller *teller)
{
    uint32_t hidden = count_hidden(teller->diff);
    const char *subject = NULL;
    for (const DiffFigure *f = teller->diff->figures; f != NULL; f = f->next) {
        if (f->of_boat || !f->shown) {
            continue;
        }
        if (subject == NULL) {
            tell_heading(teller, "Figures of banks, tanks and what changed");
        }
        if (subject == NULL || strcmp(subject, f->subject) != 0) {
            say_subject(teller, f);
        }
        subject = f->subject;
        show_figure(teller, 2 * INDENT, f);
    }
    if (hidden > 0) {
        if (subject == NULL) {
            tell_heading(teller, "Other figures");
        }
        const char *text =
            text_format(teller->arena, "%u %s figure%s differ%s; `--format json` lists all", hidden,
                        subject != NULL ? "more" : "other", tell_plural(hidden), hidden == 1 ? "s" : "");
        page_paragraph(&teller->page, INDENT, str_from(text));
    }
}

void tell_figures(Teller *teller)
{
    say_boat_figures(teller);
    say_other_figures(teller);
}
