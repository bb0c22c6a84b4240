/* See compare.h: text, CSV and JSON. */
#include "output/compare.h"

#include "output/report.h"
#include "output/text_table.h"

#include <string.h>

enum { PAGE_WIDTH = 96 }; /* of the text: as wide as the drawings of findings run */

static const char *const mark_words[] = {[MARK_NONE] = "", [MARK_BEST] = "best", [MARK_WORST] = "worst"};
static const char *const better_words[] = {
    [COMPARE_NEITHER] = "neither", [COMPARE_LESS] = "less", [COMPARE_MORE] = "more"};
static const char *const state_words[] = {[COMPARE_ABSENT] = "none",
                                          [COMPARE_UNKNOWN] = "not known",
                                          [COMPARE_PARTLY] = "partly",
                                          [COMPARE_KNOWN] = "known"};

/* Text */

typedef struct Teller {
    Buf *to;
    Arena *arena;
    const Comparison *comparison;
    Colour colour;
} Teller;

/* A paragraph, wrapped; nothing for an empty one. */
static void say(const Teller *teller, const char *text)
{
    TextTable table;
    text_table_init(&table, teller->arena, 1);
    text_table_add(&table, text);
    text_table_write(teller->to, &table, 2, PAGE_WIDTH);
}

static void say_head(const Teller *teller, const CompareChoice *compared)
{
    colour_begin(teller->to, teller->colour, TINT_STRONG);
    snippet_plain(teller->to, str_from(compared->name));
    colour_end(teller->to, teller->colour, TINT_STRONG);
    if (compared->title[0] != '\0') {
        buf_text(teller->to, ": ");
        snippet_plain(teller->to, str_from(compared->title));
    }
    buf_char(teller->to, '\n');
}

typedef const char *OptionWords(const CompareOption *option);

static const char *title_of(const CompareOption *option)
{
    return option->title;
}

static const char *brought_by(const CompareOption *option)
{
    return option->brings;
}

static const char *set_by(const CompareOption *option)
{
    return option->sets;
}

/* A row of what the options say of themselves; none if no option says anything. */
static void add_words(TextTable *table, const CompareChoice *compared, const char *title, OptionWords *words)
{
    bool any = false;
    for (uint32_t o = 0; o < compared->option_count; o++) {
        const char *text = words(&compared->options[o]);
        any = any || (text != NULL && text[0] != '\0');
    }
    for (uint32_t o = 0; o < compared->option_count && any; o++) {
        const char *text = words(&compared->options[o]);
        if (o == 0) {
            text_table_add(table, title);
        }
        text_table_add(table, text != NULL ? text : "nothing");
    }
}

static void add_options(TextTable *table, const CompareChoice *compared)
{
    text_table_add(table, "");
    for (uint32_t o = 0; o < compared->option_count; o++) {
        text_table_add(table, compared->options[o].name);
    }
    add_words(table, compared, "what", title_of);
    add_words(table, compared, "brings", brought_by);
    add_words(table, compared, "sets", set_by);
}

static void say_choice(const Teller *teller, const CompareChoice *compared)
{
    TextTable table;
    say_head(teller, compared);
    say(teller, compare_covers(teller->arena, teller->comparison, compared));
    if (compared->tried == 0) {
        return;
    }
    text_table_init(&table, teller->arena, compared->option_count + 1);
    add_options(&table, compared);
    for (const CompareRow *row = compared->rows; row != NULL; row = row->next) {
        if (row->same) {
            continue; /* said in a sentence below: here stands what the choice is about */
        }
        text_table_add(&table, row->title);
        for (uint32_t o = 0; o < compared->option_count; o++) {
            text_table_add(&table, compare_cell_words(teller->arena, &row->cells[o]));
        }
    }
    text_table_write(teller->to, &table, 2, PAGE_WIDTH);
    say(teller, compare_same(teller->arena, compared));
    say(teller, compare_unscored(teller->arena, compared));
    say(teller, compare_dominated(teller->arena, compared));
}

void compare_text(Buf *to, const Outcome *outcome, Colour colour)
{
    const Comparison *comparison = compare_compute(to->arena, outcome);
    Teller teller = {.to = to, .arena = to->arena, .comparison = comparison, .colour = colour};
    for (uint32_t i = 0; i < comparison->count; i++) {
        buf_text(to, i > 0 ? "\n" : "");
        say_choice(&teller, &comparison->choices[i]);
    }
    if (comparison->count == 0) {
        buf_text(to, "nothing to compare: no choice between two options is open\n");
        return;
    }
    buf_char(to, '\n');
    TextTable note;
    text_table_init(&note, to->arena, 1);
    text_table_add(&note, compare_note);
    text_table_write(to, &note, 0, PAGE_WIDTH);
}

/* CSV */

static void csv_words(Csv *csv, const char *text)
{
    csv_text(csv, str_from(text != NULL ? text : ""));
}

static double printed(const CompareRow *row, double value)
{
    return row->money || row->unit.unit == UNIT_NONE ? value : unit_from_si(row->unit, value);
}

static bool has_value(const CompareCell *cell)
{
    return cell->state >= COMPARE_PARTLY;
}

static void csv_end(Csv *csv, const CompareRow *row, const CompareCell *cell, double value)
{
    if (!has_value(cell)) {
        csv_empty(csv);
    } else if (row->money) {
        csv_fixed(csv, value, 2);
    } else if (row->unit.unit == UNIT_DATE) {
        report_csv_range(csv, point(value), row->unit, false);
    } else {
        report_csv_number(csv, printed(row, value));
    }
}

static void csv_row(Csv *csv, const Outcome *outcome, const CompareChoice *compared, const CompareRow *row,
                    uint32_t o)
{
    const CompareCell *cell = &row->cells[o];
    csv_words(csv, compared->name);
    csv_words(csv, compared->options[o].name);
    csv_words(csv, row->name);
    csv_words(csv, row->title);
    csv_end(csv, row, cell, cell->value.low);
    csv_end(csv, row, cell, cell->value.high);
    report_csv_unit(csv, row->unit, row->money, report_currency(outcome));
    csv_words(csv, cell->text);
    csv_words(csv, state_words[cell->state]);
    csv_words(csv, better_words[row->better]);
    csv_words(csv, mark_words[cell->mark]);
    csv_words(csv, cell->remark);
    csv_row_end(csv);
}

void compare_csv(Buf *to, const Outcome *outcome)
{
    static const char *const heads[] = {"choice", "option", "row",   "title",  "low",  "high",
                                        "unit",   "text",   "state", "better", "mark", "remark"};
    const Comparison *comparison = compare_compute(to->arena, outcome);
    Csv csv;
    csv_init(&csv, to, heads, sizeof heads / sizeof heads[0]);
    for (uint32_t i = 0; i < comparison->count; i++) {
        const CompareChoice *compared = &comparison->choices[i];
        for (const CompareRow *row = compared->rows; row != NULL; row = row->next) {
            for (uint32_t o = 0; o < compared->option_count; o++) {
                csv_row(&csv, outcome, compared, row, o);
            }
        }
    }
}

/* JSON */

static void put_words_if_any(Json *json, const char *key, const char *text)
{
    json_key(json, key);
    if (text != NULL && text[0] != '\0') {
        json_text(json, str_from(text));
    } else {
        json_null(json);
    }
}

/* A list of names in backquotes as an array. */
static void put_names(Json *json, const char *key, const char *names)
{
    json_key(json, key);
    json_array(json);
    for (const char *open = names != NULL ? strchr(names, '`') : NULL; open != NULL;) {
        const char *close = strchr(open + 1, '`');
        json_text(json, (Str){open + 1, (size_t)(close - open - 1)});
        open = strchr(close + 1, '`');
    }
    json_array_end(json);
}

static void put_option(Json *json, const CompareChoice *compared, const CompareOption *option)
{
    json_object(json);
    json_put_words(json, "name", option->name);
    json_put_words(json, "title", option->title);
    put_names(json, "brings", option->brings);
    put_names(json, "sets", option->sets);
    put_names(json, "not_scored", option->unscored);
    put_words_if_any(json, "dominated_by",
                      option->dominated_by >= 0 ? compared->options[option->dominated_by].name : NULL);
    put_words_if_any(json, "worse_in", option->worse_in);
    json_object_end(json);
}

static void put_cell(Json *json, const Outcome *outcome, const CompareRow *row, const CompareCell *cell,
                     const char *option)
{
    json_object(json);
    json_put_words(json, "option", option);
    json_put_words(json, "state", state_words[cell->state]);
    if (has_value(cell)) {
        report_json_range(json, "value", cell->value, row->unit, row->money, report_currency(outcome));
    } else {
        json_key(json, "value");
        json_null(json);
    }
    json_put_words(json, "text", cell->text);
    put_words_if_any(json, "mark", mark_words[cell->mark]);
    put_words_if_any(json, "remark", cell->remark);
    json_object_end(json);
}

static void put_row(Json *json, const Outcome *outcome, const CompareChoice *compared, const CompareRow *row)
{
    json_object(json);
    json_put_words(json, "name", row->name);
    json_put_words(json, "title", row->title);
    json_put_words(json, "better", better_words[row->better]);
    json_put_bool(json, "same", row->same);
    json_key(json, "most");
    if (row->most > 0.0) {
        json_number(json, row->most);
    } else {
        json_null(json);
    }
    json_key(json, "cells");
    json_array(json);
    for (uint32_t o = 0; o < compared->option_count; o++) {
        put_cell(json, outcome, row, &row->cells[o], compared->options[o].name);
    }
    json_array_end(json);
    json_object_end(json);
}

static void put_choice(Json *json, const Outcome *outcome, const CompareChoice *compared)
{
    json_object(json);
    json_put_words(json, "choice", compared->name);
    json_put_words(json, "title", compared->title);
    put_names(json, "others", compared->others);
    json_put_whole(json, "combinations", compared->tried);
    put_names(json, "not_scored", compared->unscored);
    json_key(json, "options");
    json_array(json);
    for (uint32_t o = 0; o < compared->option_count; o++) {
        put_option(json, compared, &compared->options[o]);
    }
    json_array_end(json);
    json_key(json, "rows");
    json_array(json);
    for (const CompareRow *row = compared->rows; row != NULL; row = row->next) {
        put_row(json, outcome, compared, row);
    }
    json_array_end(json);
    json_object_end(json);
}

void compare_json(Buf *to, const Outcome *outcome)
{
    const Comparison *comparison = compare_compute(to->arena, outcome);
    Json json;
    json_init(&json, to);
    json_object(&json);
    json_put_whole(&json, "format", 1);
    json_put_text(&json, "spec", report_spec_name(outcome));
    report_json_asked(&json, outcome);
    json_put_bool(&json, "sampled", outcome->sampled);
    json_key(&json, "choices");
    json_array(&json);
    for (uint32_t i = 0; i < comparison->count; i++) {
        put_choice(&json, outcome, &comparison->choices[i]);
    }
    json_array_end(&json);
    json_object_end(&json);
    json_end(&json);
}
