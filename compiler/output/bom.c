/* See bom.h. */
#include "output/bom.h"

#include "output/report.h"

#include <math.h>
#include <string.h>

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
    /* Columns keep their names and places: a new one comes last. */
    "first_promised",
    "arrived_count",
    "fitted_count",
    "order_by",
    "replaces",
    "because",
    "note",
    "events",
    "tax_percent",
    "price_total_without_tax_low",
    "price_total_without_tax_high",
};
enum { COLUMNS = sizeof HEADERS / sizeof HEADERS[0] };
static const size_t columns_of_material = 5; /* name, title, kind, system, count */

static void put_date(Csv *csv, bool known, Date date)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    if (known) {
        date_write(&text, date);
    }
    csv_text(csv, buf_str(&text));
}

static void put_day(Csv *csv, const Property *property)
{
    put_date(csv, property != NULL, property != NULL ? property_date(property) : 0);
}

static void put_range(Csv *csv, bool known, Interval value, UnitPair unit)
{
    if (known) {
        report_csv_range(csv, value, unit, false);
    } else {
        csv_empty(csv);
    }
}

static void put_reference(Csv *csv, const BomLine *line, PropId prop)
{
    const Entity *to = entity_reference(line->entity, prop);
    csv_text(csv, to != NULL ? entity_name(line->of->model, to) : (Str){"", 0});
}

static void put_costs(Csv *csv, const BomLine *line)
{
    bool counts = line->purchase.status != STATUS_DROPPED; /* a dropped thing has no share in any sum */
    report_csv_money(csv, line->priced, line->price);
    csv_text(csv, line->priced ? line->of->model->currency : (Str){"", 0});
    report_csv_money(csv, line->priced && counts, line->cost);
    put_range(csv, line->weighed, line->mass, UNIT_ALONE(UNIT_KG));
    put_range(csv, line->weighed && counts, line->weight, UNIT_ALONE(UNIT_KG));
}

static void put_lead(Csv *csv, const BomLine *line)
{
    Interval lead = {0.0, 0.0};
    bool known = bom_lead(line->entity, &lead);
    put_range(csv, known, lead, UNIT_ALONE(UNIT_D));
}

static void put_place(Csv *csv, const BomLine *line)
{
    const Model *model = line->of->model;
    Place place = source_place(model->tree->sources, entity_span(model, line->entity).start);
    csv_text(csv, report_name_beside(model->tree->sources, place.source->name));
    csv_number(csv, place.line);
}

static void put_identity(Csv *csv, const BomLine *line)
{
    const Entity *entity = line->entity;
    csv_text(csv, entity_name(line->of->model, entity));
    csv_text(csv, bom_title(csv->buf->arena, line));
    csv_text(csv, str_from(kinds[entity->kind].word));
    csv_text(csv, str_from(system_word((System)entity->system)));
    put_range(csv, true, line->purchase.count, UNIT_ALONE(UNIT_NONE));
    put_range(csv, true, line->purchase.spare, UNIT_ALONE(UNIT_NONE));
    csv_text(csv, str_from(status_word(line->purchase.status)));
    put_reference(csv, line, PROP_COMMON_SUPPLIER);
}

/* "2026-10-01 The first batch went to another yard.; 2026-11-02 ..." */
static void put_events(Csv *csv, const BomLine *line)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    for (const Property *p = entity_property(line->entity, PROP_COMMON_EVENT); p != NULL;
         p = block_next(&line->entity->block, p)) {
        if (!(p->flags & PROPERTY_BROKEN)) {
            buf_text(&text, text.length > 0 ? "; " : "");
            date_write(&text, property_date(p));
            buf_char(&text, ' ');
            buf_add(&text, property_value(p, 1)->u.text);
        }
    }
    csv_text(csv, buf_str(&text));
}

/* Where it is all and how many those are is not decided, so many at least. */
static Interval so_many(const Purchase *purchase, bool all, double least)
{
    return interval(least, all ? fmax(least, purchase->count.high) : least);
}

/* How it came to be what it is, in columns that were added later. */
static void put_story(Csv *csv, const BomLine *line)
{
    const Purchase *purchase = &line->purchase;
    put_day(csv, purchase->first_promise);
    put_range(csv, purchase->last_arrival != NULL, so_many(purchase, purchase->all_came, purchase->arrived), UNIT_ALONE(UNIT_NONE));
    put_range(csv, purchase->last_fitting != NULL, so_many(purchase, purchase->all_fitted, purchase->fitted), UNIT_ALONE(UNIT_NONE));
    put_date(csv, line->dated && !line->before, line->order_by);
    csv_text(csv, bom_replaces(line));
    csv_text(csv, entity_text(line->entity, PROP_COMMON_BECAUSE));
    csv_text(csv, entity_text(line->entity, PROP_COMMON_NOTE));
    put_events(csv, line);
}

/* What of its price is tax. */
static void put_tax(Csv *csv, const BomLine *line)
{
    put_range(csv, line->priced && line->taxed, line->tax, UNIT_ALONE(UNIT_PERCENT));
    report_csv_money(csv, line->priced && line->taxed && line->purchase.status != STATUS_DROPPED, line->net);
}

static void put_thing(Csv *csv, const BomLine *line)
{
    put_identity(csv, line);
    put_costs(csv, line);
    put_day(csv, line->purchase.ordered);
    put_day(csv, line->purchase.last_promise);
    put_day(csv, line->purchase.last_arrival);
    put_day(csv, line->purchase.last_fitting);
    put_lead(csv, line);
    put_reference(csv, line, PROP_COMMON_SPACE);
    csv_text(csv, entity_text(line->entity, PROP_COMMON_SERIAL));
    csv_text(csv, entity_text(line->entity, PROP_COMMON_LINK));
    csv_text(csv, str_from(entity_yes(line->entity, PROP_COMMON_DISCONTINUED) == 1 ? "yes" : ""));
    csv_text(csv, bom_option(csv->buf->arena, line));
    put_place(csv, line);
    put_story(csv, line);
    put_tax(csv, line);
    csv_row_end(csv);
}

static void put_material(Csv *csv, const BomLine *line)
{
    const Material *material = line->material;
    csv_text(csv, material->name);
    csv_text(csv, str_from(material->title));
    csv_text(csv, str_from(material->kind));
    csv_text(csv, str_from(system_word(material->system)));
    put_range(csv, true, material->count, UNIT_ALONE(UNIT_NONE));
    for (size_t i = columns_of_material; i < COLUMNS; i++) {
        csv_text(csv, strcmp(HEADERS[i], "option") == 0 ? bom_option(csv->buf->arena, line) : (Str){"", 0});
    }
    csv_row_end(csv);
}

void bom_csv_of(Buf *to, const BomList *list)
{
    Csv csv;
    csv_init(&csv, to, HEADERS, COLUMNS);
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            if (line->entity != NULL) {
                put_thing(&csv, line);
            } else {
                put_material(&csv, line);
            }
        }
    }
}

void bom_csv(Buf *to, const Outcome *outcome)
{
    bom_csv_of(to, bom_list(to->arena, outcome, (BomRequest){.with_dropped = true}));
}
