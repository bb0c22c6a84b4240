/* See figures_out.h. */
#include "output/figures_out.h"

#include "language/suggest.h"
#include "output/report.h"
#include "rules/judge.h"

#include <math.h>

enum { NAME_COLUMNS = 30, VALUE_COLUMNS = 16 }; /* of the text; fixed, so that one edit moves no other line */

/* A figure over all cases. */
typedef struct Listed {
    const Case *of; /* the first case that has it */
    Figure figure;  /* merged */
} Listed;

typedef struct List {
    Arena *arena;
    Listed *items;
    size_t count, capacity;
} List;

static void list_add(List *list, Listed item)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? list->capacity * 2 : 64;
        list->items =
            arena_grow(list->arena, list->items, list->capacity * sizeof(Listed), capacity * sizeof(Listed));
        list->capacity = capacity;
    }
    list->items[list->count++] = item;
}

/* Whether a case before `end` knows the thing, and from `begin` on the figure too. */
static bool seen_thing(const Outcome *outcome, uint32_t end, Str name)
{
    for (uint32_t c = 0; c < end; c++) {
        if (model_find(outcome->cases[c].model, name) != NULL) {
            return true;
        }
    }
    return false;
}

static bool seen_figure(const Outcome *outcome, uint32_t begin, uint32_t end, const Model *model,
                        const Figure *figure)
{
    Str name = entity_name(model, figure->subject);
    Str at = figure_at_name(model, figure);
    for (uint32_t c = begin; c < end; c++) {
        const Case *other = &outcome->cases[c];
        if (figure_find_at(other->figures, model_find(other->model, name), (FigureId)figure->id, at) !=
            NULL) {
            return true;
        }
    }
    return false;
}

static void collect_thing(List *list, const Outcome *outcome, uint32_t begin, Str name)
{
    for (uint32_t c = begin; c < outcome->case_count; c++) {
        const Case *of = &outcome->cases[c];
        const Entity *entity = model_find(of->model, name);
        for (const Figure *f = entity != NULL ? of->figures->lists[entity->index].first : NULL; f != NULL;
             f = f->next) {
            if (seen_figure(outcome, begin, c, of->model, f)) {
                continue;
            }
            Listed item = {.of = of, .figure = *f};
            outcome_figure(outcome, name, (FigureId)f->id, figure_at_name(of->model, f), &item.figure);
            list_add(list, item);
        }
    }
}

static List collect(Arena *arena, const Outcome *outcome, Str subject)
{
    List list = {.arena = arena};
    Str wanted = figures_subject_name(outcome, subject);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Model *model = outcome->cases[c].model;
        for (uint32_t e = 0; e < model->entity_count; e++) {
            Str name = entity_name(model, model->entities[e]);
            if ((wanted.length == 0 || str_equal(name, wanted)) &&
                model_find(model, name) == model->entities[e] && !seen_thing(outcome, c, name)) {
                collect_thing(&list, outcome, c, name);
            }
        }
    }
    return list;
}

/* Names */

Str figures_subject_name(const Outcome *outcome, Str subject)
{
    const Model *model = report_model(outcome);
    if (model != NULL && model->boat != NULL && str_is(subject, "boat") &&
        model_find(model, subject) == NULL) {
        return entity_name(model, model->boat);
    }
    return subject;
}

const char *figures_subject_unknown(Arena *arena, const Outcome *outcome, Str subject)
{
    Str name = figures_subject_name(outcome, subject);
    if (name.length == 0 || seen_thing(outcome, outcome->case_count, name)) {
        return NULL;
    }
    Suggestions near = suggest_begin(name);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Model *model = outcome->cases[c].model;
        for (uint32_t e = 0; e < model->entity_count; e++) {
            if (!seen_thing(outcome, c, entity_name(model, model->entities[e]))) {
                suggest_offer(&near, entity_name(model, model->entities[e]));
            }
        }
    }
    Buf text;
    buf_init(&text, arena);
    buf_text(&text, "nothing in the boat is called `");
    snippet_plain(&text, name);
    buf_char(&text, '`');
    Buf words;
    buf_init(&words, arena);
    if (suggest_write(&words, &near)) {
        buf_format(&text, "; did you mean %s?", words.text);
    }
    return text.text;
}

void figures_formula(Buf *to, const char *formula)
{
    for (const char *at = formula != NULL ? formula : ""; *at != '\0'; at++) {
        if (*at != '{' && *at != '}') {
            buf_char(to, *at);
        }
    }
}

const char *figures_lacking(const Model *model, const Input *input)
{
    return entity_states(model->entities[input->entity], (PropId)input->prop) ? "not decided" : "not stated";
}

void figures_fact(Buf *to, const Model *model, const Fact *fact)
{
    unit_print(to, model_unit(model, fact->unit), fact->low, fact->high);
}

/* As it is stated: of a cable by the `feeds` that it stands in. */
static void write_property_name(Buf *to, const Model *model, const Input *input)
{
    const Entity *entity = model->entities[input->entity];
    if (input->prop == PROP_NONE) { /* of a thing whose own lines are a mistake: it alone */
        buf_add(to, entity_name(model, entity));
        return;
    }
    const Property *property = input->kind == INPUT_MISSING ? NULL : input->u.property;
    buf_text(to, property_name(to->arena, model, entity, NULL, (PropId)input->prop, property));
}

void figures_input_name(Buf *to, const Figures *figures, const Input *input)
{
    switch ((InputKind)input->kind) {
    case INPUT_FIGURE: figure_write_name(to, figures, input->u.figure); return;
    case INPUT_FACT: buf_text(to, input->u.fact->what); return;
    case INPUT_VALUE:
    case INPUT_MISTAKE:
    case INPUT_MISSING: write_property_name(to, figures->model, input);
    }
}

/* "known", "missing", "waiting" */
static const char *state_word(uint8_t state)
{
    static const char *const WORDS[] = {
        [STATE_KNOWN] = "known", [STATE_MISSING] = "missing", [STATE_WAITING] = "waiting"};
    return WORDS[state];
}

/* Text */

static void pad(Buf *to, size_t start, size_t columns)
{
    do {
        buf_char(to, ' ');
    } while (to->length - start < columns);
}

static void write_line(Buf *to, const Listed *item)
{
    size_t start = to->length;
    buf_text(to, "  ");
    figure_write_label(to, item->of->model, &item->figure);
    pad(to, start, NAME_COLUMNS);
    figure_write(to, item->of->figures, &item->figure);
    if (item->figure.chosen || item->figure.remark != NULL || item->figure.formula != NULL) {
        pad(to, start, NAME_COLUMNS + VALUE_COLUMNS);
    }
    figures_formula(to, item->figure.formula);
    if (item->figure.chosen) {
        buf_text(to, item->figure.formula != NULL ? " (sized by Garboard)" : "sized by Garboard");
    }
    if (item->figure.remark != NULL) {
        buf_format(to, "; %s", item->figure.remark);
    }
    buf_char(to, '\n');
}

/* What the options of an open choice call the thing: "Diesel, 28 kW or Diesel, 40 kW". */
static void write_titles(Buf *to, const Outcome *outcome, Str name)
{
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Entity *entity = model_find(outcome->cases[i].model, name);
        bool told = entity == NULL || entity->title.length == 0;
        bool any = false;
        for (uint32_t before = 0; before < i && !told; before++) {
            const Entity *there = model_find(outcome->cases[before].model, name);
            told = there != NULL && str_equal(there->title, entity->title);
            any |= there != NULL && there->title.length > 0;
        }
        if (!told) {
            buf_text(to, any ? " or " : ": ");
            snippet_plain(to, entity->title);
        }
    }
}

void figures_text(Buf *to, const Outcome *outcome, Str subject)
{
    List list = collect(to->arena, outcome, subject);
    Symbol last = 0;
    if (outcome->sampled) {
        buf_format(to, "%s\n\n", report_sampled(outcome));
    }
    for (size_t i = 0; i < list.count; i++) {
        const Entity *entity = list.items[i].figure.subject;
        const Model *model = list.items[i].of->model;
        if (entity->name != last) {
            buf_text(to, last != 0 ? "\n" : "");
            buf_add(to, entity_name(model, entity));
            write_titles(to, outcome, entity_name(model, entity));
            buf_char(to, '\n');
            last = entity->name;
        }
        write_line(to, &list.items[i]);
    }
}

/* JSON */

static void put_inputs(Json *json, const Listed *item)
{
    json_key(json, "inputs");
    json_array(json);
    for (uint16_t i = 0; i < item->figure.input_count; i++) {
        Buf name;
        buf_init(&name, json->buf->arena);
        figures_input_name(&name, item->of->figures, &item->figure.inputs[i]);
        json_text(json, buf_str(&name));
    }
    json_array_end(json);
}

static void put_ends(Json *json, const Listed *item, Str currency)
{
    const Figure *figure = &item->figure;
    UnitPair unit = figure->size ? UNIT_ALONE(UNIT_MM2) : figure->unit;
    report_json_ends(json, figure_bounds(figure), unit, figure->money, currency); /* an unknown end is infinite here, and so null there */
}

static void put_figure(Json *json, const Listed *item, Str currency)
{
    const Figure *figure = &item->figure;
    Buf text;
    json_object(json);
    json_put_text(json, "subject", entity_name(item->of->model, figure->subject));
    buf_init(&text, json->buf->arena);
    figure_write_label(&text, item->of->model, &item->figure);
    json_put_text(json, "name", buf_str(&text));
    put_ends(json, item, currency);
    json_put_words(json, "display", figure_text(item->of->figures, figure));
    json_put_words(json, "state", state_word(figure->state));
    buf_init(&text, json->buf->arena);
    figures_formula(&text, figure->formula);
    json_put_text(json, "formula", buf_str(&text));
    put_inputs(json, item);
    json_put_words(json, "source", figure_rows[figure->id].source);
    json_put_bool(json, "chosen", figure->chosen);
    if (figure->remark != NULL) {
        json_put_words(json, "remark", figure->remark);
    }
    json_object_end(json);
}

void figures_json(Buf *to, const Outcome *outcome, Str subject)
{
    List list = collect(to->arena, outcome, subject);
    Json json;
    json_init(&json, to);
    json_object(&json);
    json_put_whole(&json, "format", 1);
    json_put_text(&json, "spec", report_spec_name(outcome));
    report_json_asked(&json, outcome);
    json_put_bool(&json, "sampled", outcome->sampled);
    json_key(&json, "figures");
    json_array(&json);
    for (size_t i = 0; i < list.count; i++) {
        put_figure(&json, &list.items[i], report_currency(outcome));
    }
    json_array_end(&json);
    json_object_end(&json);
    json_end(&json);
}

/* CSV */

static void put_end(Csv *csv, const Figure *figure, double value)
{
    if (figure->state != STATE_KNOWN || isinf(value)) {
        csv_empty(csv);
    } else if (figure->money) {
        csv_fixed(csv, value, 2);
    } else if (figure->unit.unit == UNIT_DATE) {
        report_csv_range(csv, point(value), figure->unit, false);
    } else {
        report_csv_number(csv, unit_from_si(figure->size ? UNIT_ALONE(UNIT_MM2) : figure->unit, value));
    }
}

static void put_input_names(Csv *csv, const Listed *item)
{
    Buf names;
    buf_init(&names, csv->buf->arena);
    for (uint16_t i = 0; i < item->figure.input_count; i++) {
        buf_text(&names, i > 0 ? "; " : "");
        figures_input_name(&names, item->of->figures, &item->figure.inputs[i]);
    }
    csv_text(csv, buf_str(&names));
}

static void put_row(Csv *csv, const Listed *item, Str currency)
{
    const Figure *figure = &item->figure;
    Buf text;
    csv_text(csv, entity_name(item->of->model, figure->subject));
    buf_init(&text, csv->buf->arena);
    figure_write_label(&text, item->of->model, &item->figure);
    csv_text(csv, buf_str(&text));
    put_end(csv, figure, figure->low);
    put_end(csv, figure, figure_bounds(figure).high);
    report_csv_unit(csv, figure->size ? UNIT_ALONE(UNIT_MM2) : figure->unit, figure->money, currency);
    csv_text(csv, str_from(figure_text(item->of->figures, figure)));
    csv_text(csv, str_from(state_word(figure->state)));
    buf_init(&text, csv->buf->arena);
    figures_formula(&text, figure->formula);
    csv_text(csv, buf_str(&text));
    put_input_names(csv, item);
    csv_text(csv, str_from(figure_rows[figure->id].source));
    csv_row_end(csv);
}

void figures_csv(Buf *to, const Outcome *outcome, Str subject)
{
    static const char *const HEADERS[] = {"subject", "figure", "low",     "high",   "unit",
                                          "shown",   "state",  "formula", "inputs", "source"};
    List list = collect(to->arena, outcome, subject);
    Csv csv;
    csv_init(&csv, to, HEADERS, sizeof HEADERS / sizeof HEADERS[0]);
    for (size_t i = 0; i < list.count; i++) {
        put_row(&csv, &list.items[i], report_currency(outcome));
    }
}
