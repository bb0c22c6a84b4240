/* See bom.h. */
#include "output/bom.h"

#include "model/status.h"
#include "output/bom_feeds.h"
#include "output/report.h"

#include <math.h>

static const char *const HEADERS[] = {
    "name",
    "title",
    "kind",
    "system",
    "count",
    "spare",
    "status",
    "supplier",
    "price_each_low",
    "price_each_high",
    "currency",
    "price_total_low",
    "price_total_high",
    "mass_each_kg",
    "mass_total_kg",
    "ordered",
    "promised",
    "arrived",
    "fitted",
    "lead_days",
    "space",
    "serial",
    "link",
    "discontinued",
    "option",
    "source_file",
    "line",
};
enum { COLUMNS = sizeof HEADERS / sizeof HEADERS[0] };

/* A thing of the spec, over all cases that have it. */
typedef struct Row {
    const Case *of; /* the first that has it */
    const Entity *entity;
    Interval price, mass;
    bool priced, weighed;
    struct Row *next;
} Row;

/* Gathering: in the order of the spec, what only later cases have behind what it follows there. */

static bool stated_value(const Entity *entity, PropId prop, Interval *value)
{
    const Property *property = entity_property(entity, prop);
    const Value *first = property_value(property, 0);
    if (first->kind != VALUE_QUANTITY || first->flags & VALUE_BROKEN || property->flags & PROPERTY_BROKEN) {
        return false;
    }
    *value = (Interval){first->u.quantity.low, first->u.quantity.high};
    return true;
}

/* The price, or else the offer. */
static bool price_of(const Entity *entity, Interval *price)
{
    return stated_value(entity, PROP_COMMON_PRICE, price) || stated_value(entity, PROP_COMMON_QUOTE, price);
}

static void widen(bool *known, Interval *covered, bool found, Interval value)
{
    if (found) {
        *covered = *known ? interval_hull(*covered, value) : value;
        *known = true;
    }
}

static bool is_chosen(const Model *model, NodeId option)
{
    for (uint32_t c = 0; c < model->choice_count; c++) {
        const Choice *choice = &model->choices[c];
        if (choice->chosen >= 0 && choice->options[choice->chosen].node == option) {
            return true;
        }
    }
    return false;
}

/* Past the things of options that this case does not have: an option's things stand behind those of the one
 * before. */
static Row **skip_others(Row **end, const Model *model)
{
    while (*end != NULL && (*end)->entity->option != 0 && !is_chosen(model, (*end)->entity->option)) {
        end = &(*end)->next;
    }
    return end;
}

static void gather_case(Row **by_node, Row **first, Arena *arena, const Case *of)
{
    Row **end = first;
    for (uint32_t i = 0; i < of->model->entity_count; i++) {
        const Entity *entity = of->model->entities[i];
        if (!is_bought(entity) || entity->flags & ENTITY_DROPPED) {
            continue;
        }
        Row *row = by_node[entity->node];
        if (row == NULL) {
            end = skip_others(end, of->model);
            row = ARENA_NEW(arena, Row);
            *row = (Row){.of = of, .entity = entity, .next = *end};
            *end = row;
            by_node[entity->node] = row;
        }
        Interval value = {0.0, 0.0};
        bool found = price_of(entity, &value);
        widen(&row->priced, &row->price, found, value);
        found = stated_value(entity, PROP_COMMON_MASS, &value);
        widen(&row->weighed, &row->mass, found, value);
        end = &row->next;
    }
}

static Row *gather(Arena *arena, const Outcome *outcome)
{
    Row *first = NULL;
    Row **by_node = ARENA_ARRAY(arena, Row *, outcome->spec->tree.count + 1);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        gather_case(by_node, &first, arena, &outcome->cases[c]);
    }
    return first;
}

/* Writing a row */

static void put_date(Csv *csv, const Property *property)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    if (property != NULL) {
        date_write(&text, property_date(property));
    }
    csv_text(csv, buf_str(&text));
}

static void put_money(Csv *csv, bool known, double value)
{
    if (known) {
        csv_fixed(csv, value, 2);
    } else {
        csv_empty(csv);
    }
}

static void put_reference(Csv *csv, const Row *row, PropId prop)
{
    const Entity *to = entity_reference(row->entity, prop);
    csv_text(csv, to != NULL ? entity_name(row->of->model, to) : (Str){"", 0});
}

static void put_costs(Csv *csv, const Row *row, Interval pieces)
{
    Interval total = interval_multiply(row->price, pieces);
    put_money(csv, row->priced, row->price.low);
    put_money(csv, row->priced, row->price.high);
    csv_text(csv, row->priced ? row->of->model->currency : (Str){"", 0});
    put_money(csv, row->priced, total.low);
    put_money(csv, row->priced, total.high);
    if (row->weighed) {
        report_csv_range(csv, row->mass, UNIT_ALONE(UNIT_KG), false);
        report_csv_range(csv, interval_multiply(row->mass, pieces), UNIT_ALONE(UNIT_KG), false);
    } else {
        csv_empty(csv);
        csv_empty(csv);
    }
}

/* Its own lead, or else its supplier's. */
static void put_lead(Csv *csv, const Row *row)
{
    Interval lead;
    const Entity *supplier = entity_reference(row->entity, PROP_COMMON_SUPPLIER);
    if (stated_value(row->entity, PROP_COMMON_LEAD, &lead) ||
        (supplier != NULL && stated_value(supplier, PROP_SUPPLIER_LEAD, &lead))) {
        report_csv_range(csv, lead, UNIT_ALONE(UNIT_D), false);
    } else {
        csv_empty(csv);
    }
}

/* "engine-size=lean" where that choice is open. */
static void put_option(Csv *csv, const Row *row)
{
    const Model *model = row->of->model;
    const Symbols *symbols = model->tree->symbols;
    Buf text;
    buf_init(&text, csv->buf->arena);
    for (uint32_t c = 0; c < model->choice_count && row->entity->option != 0; c++) {
        const Choice *choice = &model->choices[c];
        for (uint32_t o = 0; o < choice->option_count && choice->picked < 0; o++) {
            if (choice->options[o].node == row->entity->option) {
                buf_add(&text, symbols_text(symbols, choice->name));
                buf_char(&text, '=');
                buf_add(&text, symbols_text(symbols, choice->options[o].name));
            }
        }
    }
    csv_text(csv, buf_str(&text));
}

static void put_place(Csv *csv, const Row *row)
{
    const Model *model = row->of->model;
    Place place = source_place(model->tree->sources, entity_span(model, row->entity).start);
    csv_text(csv, place.source->name);
    csv_number(csv, place.line);
}

/* Its title; where the spec leaves its size open and Garboard has filled it in, with that size: it is to be bought. */
static Str title_with_size(Arena *arena, const Row *row)
{
    const Figure *fitting = figure_find(row->of->figures, row->entity, FIGURE_FITTING_SIZE, NULL);
    if (fitting == NULL || !fitting->chosen) {
        return row->entity->title;
    }
    return str_from(text_format(arena, "%.*s%s%s (sized)", STR_ARG(row->entity->title),
                                row->entity->title.length > 0 ? ", " : "", figure_text(row->of->figures, fitting)));
}

static void put_identity(Csv *csv, const Row *row, const Purchase *purchase)
{
    const Entity *entity = row->entity;
    csv_text(csv, entity_name(row->of->model, entity));
    csv_text(csv, title_with_size(csv->buf->arena, row));
    csv_text(csv, str_from(kinds[entity->kind].word));
    csv_text(csv, str_from(system_word((System)entity->system)));
    report_csv_range(csv, purchase->count, UNIT_ALONE(UNIT_NONE), false);
    report_csv_range(csv, purchase->spare, UNIT_ALONE(UNIT_NONE), false);
    csv_text(csv, str_from(status_word(purchase->status)));
    put_reference(csv, row, PROP_COMMON_SUPPLIER);
}

static void put_thing(Csv *csv, const Row *row)
{
    Purchase purchase = purchase_of(row->entity);
    put_identity(csv, row, &purchase);
    put_costs(csv, row, interval_add(purchase.count, purchase.spare));
    put_date(csv, purchase.ordered);
    put_date(csv, purchase.last_promise);
    put_date(csv, purchase.last_arrival);
    put_date(csv, purchase.last_fitting);
    put_lead(csv, row);
    put_reference(csv, row, PROP_COMMON_SPACE);
    csv_text(csv, entity_text(row->entity, PROP_COMMON_SERIAL));
    csv_text(csv, entity_text(row->entity, PROP_COMMON_LINK));
    csv_text(csv, str_from(entity_yes(row->entity, PROP_COMMON_DISCONTINUED) == 1 ? "yes" : ""));
    put_option(csv, row);
    put_place(csv, row);
    csv_row_end(csv);
}

void bom_csv(Buf *to, const Outcome *outcome)
{
    Csv csv;
    csv_init(&csv, to, HEADERS, COLUMNS);
    for (const Row *row = gather(to->arena, outcome); row != NULL; row = row->next) {
        put_thing(&csv, row);
    }
    if (outcome->case_count > 0) {
        bom_feeds(&csv, outcome_first(outcome), COLUMNS);
        bom_hoses(&csv, outcome_first(outcome), COLUMNS);
    }
}
