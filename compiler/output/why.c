/* See why.h. */
#include "output/why.h"

#include "base/num.h"
#include "figures/working.h"
#include "language/suggest.h"
#include "model/tax.h"
#include "output/figures_out.h"
#include "output/report.h"

#include <math.h>
#include <string.h>

enum { DEEPEST = 12 }; /* of what is worked out in one go; a chain of feeds may be as long as the spec */

typedef struct Why {
    Buf *to;
    const Case *of;
    const Figure **seen; /* a hash set; which figures, never in which order */
    uint32_t seen_count, seen_capacity;
} Why;

/* What was worked out already */

static uint32_t seen_slot(const Why *why, const Figure *figure)
{
    uint32_t mask = why->seen_capacity - 1;
    uint32_t i = (uint32_t)(((uint64_t)(uintptr_t)figure * 0x9E3779B97F4A7C15u) >> 32) & mask;
    while (why->seen[i] != NULL && why->seen[i] != figure) {
        i = (i + 1) & mask;
    }
    return i;
}

static void grow_seen(Why *why)
{
    const Figure **old = why->seen;
    uint32_t old_capacity = why->seen_capacity;
    why->seen_capacity = old_capacity ? old_capacity * 2 : 64;
    why->seen = ARENA_ARRAY(why->to->arena, const Figure *, why->seen_capacity);
    for (uint32_t i = 0; i < old_capacity; i++) {
        if (old[i] != NULL) {
            why->seen[seen_slot(why, old[i])] = old[i];
        }
    }
}

/* Marks a figure as worked out; true if it was before. */
static bool was_seen(Why *why, const Figure *figure)
{
    if ((why->seen_count + 1) * 2 > why->seen_capacity) {
        grow_seen(why);
    }
    uint32_t slot = seen_slot(why, figure);
    if (why->seen[slot] != NULL) {
        return true;
    }
    why->seen[slot] = figure;
    why->seen_count++;
    return false;
}

static void write_value(Why *why, const Input *input)
{
    switch ((InputKind)input->kind) {
    case INPUT_FIGURE: figure_write(why->to, why->of->figures, input->u.figure); return;
    case INPUT_FACT:
        figures_fact(why->to, why->of->model, input->u.fact);
        return;
    case INPUT_VALUE:
        quantity_write(why->to, why->of->model, property_value(input->u.property, input->slot));
        return;
    case INPUT_MISTAKE: buf_text(why->to, "(a mistake)"); return;
    case INPUT_MISSING: buf_text(why->to, figures_lacking(why->of->model, input));
    }
}

static void write_indent(Why *why, unsigned indent)
{
    buf_format(why->to, "%*s", (int)indent, "");
}

/* The formula, then the same with the numbers put in. */
static void write_formula(Why *why, const Figure *figure, const Working *working, unsigned indent)
{
    if (figure->formula == NULL) {
        return;
    }
    write_indent(why, indent);
    buf_text(why->to, "= ");
    figures_formula(why->to, figure->formula);
    buf_char(why->to, '\n');
    if (working->label_count == 0) {
        return;
    }
    write_indent(why, indent);
    buf_text(why->to, "= ");
    const char *at = figure->formula;
    Str before;
    Str label;
    while (working_next_label(&at, &before, &label)) {
        buf_add(why->to, before);
        const Input *input = working_input(working, label);
        if (input != NULL) {
            write_value(why, input);
        } else {
            buf_add(why->to, label);
        }
    }
    buf_format(why->to, "%s\n", at);
}

/* Inputs */

static void write_location(Why *why, const Property *property)
{
    const Model *model = why->of->model;
    const Tree *tree = model->tree;
    Place place = source_place(tree->sources, property_span(model, property).start);
    snippet_plain(why->to, place.source->name);
    buf_format(why->to, ":%u: ", place.line);
    if (property->flags & PROPERTY_FROM_SET) {
        snippet_plain(why->to, span_text(tree->sources, property_span(model, property)));
    } else {
        /* As it is written: what is read of the other form of a feed, or of a day's distance, has another word than what it says. */
        Str statement = span_text(tree->sources, property_span(model, property));
        size_t length = 0;
        while (length < statement.length && statement.text[length] != ' ') {
            length++;
        }
        snippet_plain(why->to, (Str){statement.text, length});
        buf_text(why->to, " ");
        snippet_plain(why->to, value_written(model, property));
    }
}

/* Whether a label says whose the value is: "tank.capacity". */
static bool names_owner(Str label, Str owner)
{
    return label.length > owner.length && label.text[owner.length] == '.' && memcmp(label.text, owner.text, owner.length) == 0;
}

/* Whose a value is, where that is not plain from the figure or from its label. */
static void write_owner(Why *why, const Figure *figure, const Entity *entity, Str label)
{
    Str owner = entity_name(why->of->model, entity);
    if (entity != figure->subject && !names_owner(label, owner)) {
        buf_text(why->to, " of ");
        buf_add(why->to, owner);
    }
}

/* A price that stands there without tax is worked with as what is paid. */
static void write_tax(Why *why, const Entity *thing, const Property *property)
{
    Interval rate;
    bool price = property->id == PROP_COMMON_PRICE || property->id == PROP_COMMON_QUOTE;
    if (price && tax_is_to_add(thing, property) && tax_rate(why->of->model, thing, &rate)) {
        buf_text(why->to, ", with ");
        unit_print(why->to, UNIT_ALONE(UNIT_PERCENT), rate.low, rate.high);
        buf_text(why->to, " of tax added");
    }
}

/* A value without a label of its own, and not the first of its line, is told apart: "draw, its 12 V". */
static void write_value_input(Why *why, const Figure *figure, const Input *input, Str label)
{
    const Property *property = input->u.property;
    write_owner(why, figure, why->of->model->entities[input->entity], label);
    buf_text(why->to, label.length > 0 || input->slot == 0 ? " = " : ", its ");
    write_value(why, input);
    if (property->flags & PROPERTY_ASSUMED) {
        buf_format(why->to, ", assumed: %s\n", props[input->prop].authority);
        return;
    }
    buf_text(why->to, ", ");
    write_location(why, property);
    buf_text(why->to, property->flags & PROPERTY_FROM_PART ? " (from its part)" : "");
    write_tax(why, why->of->model->entities[input->entity], property);
    UnitId unit = (UnitId)property_value(property, input->slot)->unit.unit;
    if (unit == UNIT_VA || unit == UNIT_KVA) {
        buf_text(why->to, ", counted as watts: a power factor of 1 is assumed (common practice, no source)");
    }
    buf_char(why->to, '\n');
}

static void write_figure_head(Why *why, const Figure *figure)
{
    buf_text(why->to, figure->state == STATE_KNOWN ? " = " : ": ");
    figure_write(why->to, why->of->figures, figure);
}

static void work_out(Why *why, const Figure *figure, unsigned indent, int depth);

static void write_figure_input(Why *why, const Figure *figure, unsigned indent, int depth)
{
    write_figure_head(why, figure);
    buf_text(why->to, ": ");
    figure_write_name(why->to, why->of->figures, figure);
    if (depth >= DEEPEST && figure->input_count > 0) {
        buf_text(why->to, " (see `garboard why ");
        figure_write_name(why->to, why->of->figures, figure);
        buf_text(why->to, "`)\n");
    } else if (was_seen(why, figure)) {
        buf_text(why->to, " (see above)\n");
    } else {
        buf_char(why->to, '\n');
        work_out(why, figure, indent + 2, depth + 1);
    }
}

static void write_label(Why *why, const Input *input, const Working *working, uint16_t index)
{
    if (index < working->label_count) {
        buf_add(why->to, working->labels[index]);
    } else if (input->kind == INPUT_FIGURE) {
        buf_text(why->to, figure_rows[input->u.figure->id].name);
    } else {
        buf_text(why->to, input->kind == INPUT_FACT ? "fact" : props[input->prop].word);
    }
}

static void write_input(Why *why, const Figure *figure, const Working *working, uint16_t index, unsigned indent, int depth)
{
    const Input *input = working->inputs[index];
    Str label = index < working->label_count ? working->labels[index] : str_from("");
    write_indent(why, indent);
    write_label(why, input, working, index);
    switch ((InputKind)input->kind) {
    case INPUT_FIGURE: write_figure_input(why, input->u.figure, indent, depth); return;
    case INPUT_MISTAKE:
    case INPUT_VALUE: write_value_input(why, figure, input, label); return;
    case INPUT_FACT:
        buf_text(why->to, " = ");
        write_value(why, input);
        buf_format(why->to, ": %s (%s)\n", input->u.fact->what, input->u.fact->source);
        return;
    case INPUT_MISSING:
        write_owner(why, figure, why->of->model->entities[input->entity], label);
        buf_format(why->to, ": %s\n", figures_lacking(why->of->model, input));
    }
}

/* What stands under a figure's own line. */
static void work_out(Why *why, const Figure *figure, unsigned indent, int depth)
{
    Working working = working_of(why->to->arena, figure);
    write_formula(why, figure, &working, indent);
    if (figure->remark != NULL) {
        write_indent(why, indent);
        buf_format(why->to, "%s\n", figure->remark);
    }
    if (figure->chosen) {
        write_indent(why, indent);
        buf_text(why->to, "sized by Garboard: the spec does not say\n");
    }
    write_indent(why, indent);
    buf_format(why->to, "source: %s\n", figure_rows[figure->id].source);
    for (uint16_t i = 0; i < working.input_count; i++) {
        write_input(why, figure, &working, i, indent, depth);
    }
}

static void write_figure(Why *why, const Figure *figure, unsigned indent)
{
    was_seen(why, figure);
    write_indent(why, indent);
    figure_write_name(why->to, why->of->figures, figure);
    write_figure_head(why, figure);
    buf_char(why->to, '\n');
    write_indent(why, indent + 2);
    buf_format(why->to, "%s\n", figure_rows[figure->id].help);
    work_out(why, figure, indent + 2, 0);
}

/* What was asked for */

typedef struct Wanted {
    Str subject, figure, at;
} Wanted;

static Wanted take_apart(Str text)
{
    Wanted wanted = {.subject = text};
    const char *dot = text.length > 0 ? memchr(text.text, '.', text.length) : NULL;
    if (dot == NULL) {
        return wanted;
    }
    wanted.subject.length = (size_t)(dot - text.text);
    wanted.figure = (Str){dot + 1, text.length - wanted.subject.length - 1};
    const char *at = wanted.figure.length > 0 ? memchr(wanted.figure.text, '@', wanted.figure.length) : NULL;
    if (at != NULL) {
        size_t length = (size_t)(at - wanted.figure.text);
        wanted.at = (Str){at + 1, wanted.figure.length - length - 1};
        wanted.figure.length = length;
    }
    return wanted;
}

/* Whether "6kn" is the speed that the figure's day or goal speaks of: whoever asks may know that, and not the name. */
static bool is_its_speed(const Figure *figure, Str said)
{
    size_t digits = 0;
    while (digits < said.length && (strchr("0123456789.", said.text[digits]) != NULL)) {
        digits++;
    }
    size_t unit_at = digits + (digits < said.length && said.text[digits] == ' ');
    UnitId unit = unit_find((Str){said.text + unit_at, said.length - unit_at});
    PropId prop = figure->at == NULL                ? PROP_NONE
                  : figure->at->kind == KIND_GOAL ? PROP_GOAL_RANGE
                  : figure->at->kind == KIND_DAY  ? PROP_DAY_DISTANCE
                                                  : PROP_NONE;
    double number;
    Interval speed;
    if (unit != UNIT_KN || prop == PROP_NONE || !num_read((Str){said.text, digits}, &number) || !entity_quantity(figure->at, prop, 1, &speed)) {
        return false;
    }
    double asked = unit_to_si(UNIT_ALONE(UNIT_KN), number);
    return fabs(speed.low - asked) <= 1e-6 * asked && fabs(speed.high - asked) <= 1e-6 * asked;
}

static bool is_wanted(const Case *of, const Figure *figure, const Wanted *wanted)
{
    return str_is(wanted->figure, figure_rows[figure->id].name) &&
           (wanted->at.length == 0 ? figure->scope == SCOPE_WHOLE
                                   : str_equal(figure_at_name(of->model, figure), wanted->at) || is_its_speed(figure, wanted->at));
}

static const Figure *first_figure(const Case *of, Str subject)
{
    const Entity *entity = model_find(of->model, subject);
    return entity != NULL ? of->figures->lists[entity->index].first : NULL;
}

/* How many of a case's figures are wanted, and of those known. */
static uint32_t count_wanted(const Case *of, const Wanted *wanted, uint32_t *known)
{
    uint32_t count = 0;
    *known = 0;
    for (const Figure *f = first_figure(of, wanted->subject); f != NULL; f = f->next) {
        if (is_wanted(of, f, wanted)) {
            count++;
            *known += f->state == STATE_KNOWN;
        }
    }
    return count;
}

/* The first case in which such a figure is known, else the first that has one, else NULL. */
static const Case *find_case(const Outcome *outcome, const Wanted *wanted)
{
    const Case *found = NULL;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        uint32_t known;
        uint32_t count = count_wanted(&outcome->cases[c], wanted, &known);
        if (known > 0) {
            return &outcome->cases[c];
        }
        found = found == NULL && count > 0 ? &outcome->cases[c] : found;
    }
    return found;
}

/* Appends what figures of the subject the first case has that has any: of that name alone, unless it is empty. */
static void list_figures(Buf *has, const Outcome *outcome, const Wanted *wanted, Str name)
{
    for (uint32_t c = 0; c < outcome->case_count && has->length == 0; c++) {
        const Case *of = &outcome->cases[c];
        for (const Figure *f = first_figure(of, wanted->subject); f != NULL; f = f->next) {
            if (name.length == 0 || str_is(name, figure_rows[f->id].name)) {
                buf_text(has, has->length > 0 ? ", `" : "`");
                figure_write_label(has, of->model, f);
                buf_char(has, '`');
            }
        }
    }
}

static Suggestions near_figures(const Outcome *outcome, const Wanted *wanted)
{
    Suggestions near = suggest_begin(wanted->figure);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Figure *first = first_figure(&outcome->cases[c], wanted->subject);
        for (const Figure *f = first; f != NULL; f = f->next) {
            suggest_offer(&near, str_from(figure_rows[f->id].name));
        }
        if (first != NULL) {
            break;
        }
    }
    return near;
}

/* "; it has `current`, `ampacity`" or "; did you mean `voltage-drop`?" */
static const char *tell_figures(Arena *arena, const Outcome *outcome, const Wanted *wanted)
{
    Buf has;
    buf_init(&has, arena);
    Suggestions near = near_figures(outcome, wanted);
    list_figures(&has, outcome, wanted, wanted->figure);
    if (has.length == 0) {
        list_figures(&has, outcome, wanted, (Str){"", 0});
    }
    Buf text;
    buf_init(&text, arena);
    buf_char(&text, '`');
    snippet_plain(&text, wanted->subject);
    if (has.length == 0) {
        buf_text(&text, "` has no figures");
        return text.text;
    }
    if (wanted->figure.length == 0) {
        buf_format(&text, "` has several figures: %s", has.text);
        return text.text;
    }
    buf_text(&text, "` has no figure `");
    snippet_plain(&text, wanted->figure);
    if (wanted->at.length > 0) {
        buf_char(&text, '@');
        snippet_plain(&text, wanted->at);
    }
    Buf words;
    buf_init(&words, arena);
    if (suggest_write(&words, &near) && wanted->at.length == 0) {
        buf_format(&text, "`; did you mean %s?", words.text);
    } else {
        buf_format(&text, "`; it has %s", has.text);
    }
    return text.text;
}

/* "with engine-size=lean, which is open" */
static void write_choices(Buf *to, const Outcome *outcome, const Case *of)
{
    const char *before = "  worked with ";
    for (uint32_t i = 0; i < of->model->choice_count; i++) {
        const Choice *choice = &of->model->choices[i];
        if (choice->picked >= 0 || choice->chosen < 0) {
            continue;
        }
        buf_format(to, "%s%.*s=%.*s", before, STR_ARG(symbols_text(outcome->spec->symbols, choice->name)),
                   STR_ARG(symbols_text(outcome->spec->symbols, choice->options[choice->chosen].name)));
        before = ", ";
    }
}

static void write_over_all(Buf *to, const Outcome *outcome, const Case *of, const Figure *figure)
{
    Figure merged;
    Str at = figure_at_name(of->model, figure);
    if (outcome->case_count < 2 || !outcome_figure(outcome, entity_name(of->model, figure->subject),
                                                   (FigureId)figure->id, at, &merged)) {
        return;
    }
    write_choices(to, outcome, of);
    if (merged.low == figure->low && merged.high == figure->high) {
        buf_text(to, "; the same in every option\n");
    } else {
        buf_text(to, outcome->sampled ? "; over the combinations of open options that were judged it is "
                                      : "; over all open options it is ");
        figure_write(to, of->figures, &merged);
        buf_char(to, '\n');
    }
}

const char *why_text(Buf *to, const Outcome *outcome, Str text)
{
    Wanted wanted = take_apart(text);
    wanted.subject = figures_subject_name(outcome, wanted.subject);
    if (wanted.subject.length == 0) {
        return "it has the form SUBJECT.FIGURE";
    }
    const char *unknown = figures_subject_unknown(to->arena, outcome, wanted.subject);
    if (unknown != NULL) {
        return unknown;
    }
    const Case *of = find_case(outcome, &wanted);
    if (of == NULL) {
        return tell_figures(to->arena, outcome, &wanted);
    }
    Why why = {.to = to, .of = of};
    const char *before = "";
    for (const Figure *f = first_figure(of, wanted.subject); f != NULL; f = f->next) {
        if (is_wanted(of, f, &wanted)) {
            buf_text(to, before);
            write_figure(&why, f, 0);
            write_over_all(to, outcome, of, f);
            before = "\n";
        }
    }
    return NULL;
}
