/* See bom_text.h. */
#include "output/bom_text.h"

#include "base/num.h"
#include "figures/boat.h"
#include "model/tax.h"
#include "output/report.h"
#include "output/text_table.h"
#include "output/unlisted.h"
#include "text/snippet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 88, INDENT = 2 }; /* a sheet of A4 in type of 10 points */

/* Words */

static void write_money(Buf *to, Interval amount, Str currency)
{
    if (report_is_unknown(amount)) {
        buf_text(to, "not known");
        return;
    }
    if (isinf(amount.high)) {
        buf_text(to, "at least ");
        amount.high = amount.low;
    }
    num_write_fixed(to, amount.low, 2);
    if (amount.high != amount.low) {
        buf_text(to, "..");
        num_write_fixed(to, amount.high, 2);
    }
    buf_char(to, ' ');
    buf_add(to, currency);
}

static const char *money_text(Arena *arena, const BomLine *line, Interval amount)
{
    Buf text;
    buf_init(&text, arena);
    if (line->priced) {
        write_money(&text, amount, line->currency);
    }
    return text.length > 0 ? text.text : "";
}

const char *bom_price_text(Arena *arena, const BomLine *line)
{
    return money_text(arena, line, line->asked);
}

const char *bom_cost_text(Arena *arena, const BomLine *line)
{
    return money_text(arena, line, line->asked_in_all);
}

const char *bom_count_text(Arena *arena, const BomLine *line)
{
    Buf text;
    buf_init(&text, arena);
    UnitPair unit = line->material != NULL ? line->material->length : UNIT_ALONE(UNIT_NONE);
    unit_print(&text, unit, unit_to_si(unit, line->pieces.low), unit_to_si(unit, line->pieces.high));
    return text.text;
}

const char *bom_day_text(Arena *arena, const BomLine *line, Date today)
{
    Buf text;
    buf_init(&text, arena);
    if (!line->dated) {
        return line->undated ? "open" : "";
    }
    buf_text(&text, line->before ? "before " : "");
    date_write(&text, line->order_by);
    int late = today - line->order_by;
    if (late == 0) {
        buf_text(&text, ", today");
    } else if (late > 0) {
        buf_format(&text, ", %d %s late", late, late == 1 ? "day" : "days");
    }
    return text.text;
}

const char *bom_sums_text(Arena *arena, const Outcome *outcome, const BomSums *sums)
{
    Buf text;
    buf_init(&text, arena);
    for (const BomMoney *money = sums->asked; money != NULL; money = money->next) {
        buf_text(&text, money == sums->asked ? "" : money->next != NULL ? ", " : " and ");
        write_money(&text, money->amount, money->currency);
    }
    Str own = report_currency(outcome);
    bool foreign = sums->asked != NULL && (sums->asked->next != NULL || !str_equal(sums->asked->currency, own));
    if (foreign) {
        buf_text(&text, sums->asked->next != NULL ? ", together " : ", which is ");
        write_money(&text, sums->money.amount, own);
    }
    return sums->asked != NULL ? text.text : "no price is stated";
}

static const char *title_of_thing(Arena *arena, const Entity *entity, const Model *model)
{
    Str name = entity_name(model, entity);
    return entity->title.length > 0
               ? text_format(arena, "%.*s (%.*s)", STR_ARG(entity->title), STR_ARG(name))
               : str_copy(arena, name);
}

/* Nobody sends an order to who has closed. */
static const char *group_title_of(Arena *arena, const Entity *at, const Model *model)
{
    const Property *closed = at->kind == KIND_SUPPLIER ? entity_property(at, PROP_SUPPLIER_CLOSED) : NULL;
    const char *title = title_of_thing(arena, at, model);
    if (property_value(closed, 0)->kind != VALUE_DATE) {
        return title;
    }
    Buf text;
    buf_init(&text, arena);
    buf_format(&text, "%s, closed ", title);
    date_write(&text, property_date(closed));
    return text.text;
}

const char *bom_group_title(Arena *arena, const BomList *list, const BomGroup *group)
{
    if (group->materials) {
        return "By the metre and the piece, as far as the spec says: cable, terminals, fuses, hose, clamps, chain";
    }
    if (list->request.by == BOM_BY_SYSTEM || list->request.by == BOM_AS_WRITTEN) {
        return list->request.by == BOM_BY_SYSTEM ? system_word(group->system) : "In the order of the spec";
    }
    if (group->at != NULL) {
        return group_title_of(arena, group->at, group->first->of->model);
    }
    return list->request.by == BOM_BY_SUPPLIER ? "Without a supplier" : "In no space that the spec names";
}

/* What a line is, in words: "House bank (house)", and what has to be known with it. */
static const char *what_of(Arena *arena, const BomLine *line)
{
    Buf text;
    buf_init(&text, arena);
    Str option = bom_option(arena, line);
    if (line->material != NULL) {
        return option.length > 0 ? text_format(arena, "%s, with %.*s", line->material->title, STR_ARG(option)) : line->material->title;
    }
    Str title = bom_title(arena, line);
    Str name = entity_name(line->of->model, line->entity);
    if (title.length > 0) {
        buf_format(&text, "%.*s (%.*s)", STR_ARG(title), STR_ARG(name));
    } else {
        buf_format(&text, "%s %.*s", kinds[line->entity->kind].word, STR_ARG(name));
    }
    if (option.length > 0) {
        buf_format(&text, ", with %.*s", STR_ARG(option));
    }
    return text.text;
}

static void head(Buf *to, const Outcome *outcome, const char *what, const BomList *list)
{
    const Model *model = report_model(outcome);
    Buf line;
    buf_init(&line, to->arena);
    buf_text(&line, what);
    if (model != NULL && model->boat != NULL) {
        buf_format(&line, " for %.*s", STR_ARG(entity_label(model, model->boat)));
    }
    if (list->request.only.length > 0) {
        buf_format(&line, ", `%.*s` only", STR_ARG(list->request.only));
    }
    buf_text(&line, ", ");
    date_write(&line, outcome->today);
    snippet_plain(to, buf_str(&line));
    buf_char(to, '\n');
}

/* A paragraph in the width of the sheet. */
static void say(Buf *to, size_t indent, const char *text)
{
    TextTable table;
    text_table_init(&table, to->arena, 1);
    text_table_add(&table, text);
    text_table_write(to, &table, indent, WIDTH);
}

static void group_head(Buf *to, const BomList *list, const BomGroup *group)
{
    buf_char(to, '\n');
    const Entity *at = group->at;
    Buf line;
    buf_init(&line, to->arena);
    buf_text(&line, bom_group_title(to->arena, list, group));
    if (at != NULL && at->kind == KIND_SUPPLIER) {
        const PropId told[] = {PROP_SUPPLIER_CONTACT, PROP_SUPPLIER_NOTE};
        for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
            Str words = entity_text(at, told[i]);
            buf_format(&line, "%s%.*s", words.length > 0 ? "; " : "", STR_ARG(words));
        }
    }
    say(to, 0, line.text);
}

/* "in all 2068.00 EUR; 2 have no price" */
static void group_foot(Buf *to, const Outcome *outcome, const BomSums *sums, const char *begin)
{
    Buf line;
    buf_init(&line, to->arena);
    buf_format(&line, "%s%s", begin, bom_sums_text(to->arena, outcome, sums));
    const Model *model = report_model(outcome);
    if (sums->asked != NULL && model != NULL && tax_is_told(model)) {
        buf_text(&line, "; without tax ");
        write_money(&line, sums->net.amount, report_currency(outcome));
    }
    if (sums->asked != NULL && sums->unpriced > 0) {
        buf_format(&line, "; %u of %u things %s no price", sums->unpriced, sums->things,
                   sums->unpriced == 1 ? "has" : "have");
    }
    if (sums->asked != NULL && sums->optional) {
        buf_text(&line, "; one option of each choice is counted");
    }
    if (sums->materials) {
        buf_text(&line, "; what is bought by the metre and the piece comes on top");
    }
    say(to, INDENT, line.text);
}

bool bom_has_below(const BomList *list)
{
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            if (line->entity != NULL && material_is_below(line->entity)) {
                return true;
            }
        }
    }
    return false;
}

/* So that nobody takes the list for all that is needed. */
static void tell_unlisted(Buf *to, const Outcome *outcome, bool to_buy)
{
    const Unlisted *unlisted = unlisted_of(to->arena, outcome, BOM_UNLISTED, to_buy);
    if (unlisted != NULL) {
        say(to, INDENT, "Not in this list, as the spec does not say enough of it; there may be more:");
    }
    for (; unlisted != NULL; unlisted = unlisted->next) {
        say(to, INDENT, text_format(to->arena, "- %s", unlisted->text));
    }
}

/* To buy */

static void to_buy_line(TextTable *table, Arena *arena, const BomLine *line, Date today)
{
    bool several = line->pieces.high > 1.0;
    const char *offer = line->quoted && line->priced ? ", offered" : "";
    bool below = line->entity != NULL && material_is_below(line->entity);
    text_table_add(table, "[ ]");
    text_table_add(table, bom_day_text(arena, line, today));
    text_table_add(table, bom_count_text(arena, line));
    const char *first = line->undecided != NULL ? text_format(arena, "; decide first: %s", line->undecided) : "";
    text_table_add(table, text_format(arena, "%s%s%s%s", what_of(arena, line), offer, first, below ? "; " BOM_BELOW : ""));
    text_table_add(table, several ? bom_price_text(arena, line) : "");
    text_table_add(table, bom_cost_text(arena, line));
}

static void to_buy_group(Buf *to, const Outcome *outcome, const BomList *list, const BomGroup *group)
{
    Arena *arena = to->arena;
    TextTable table;
    text_table_init(&table, arena, 6);
    table.right = 1u << 2 | 1u << 4 | 1u << 5;
    group_head(to, list, group);
    for (const BomLine *line = group->first; line != NULL; line = line->next) {
        to_buy_line(&table, arena, line, outcome->today);
    }
    text_table_write(to, &table, INDENT, WIDTH);
    if (!group->materials) {
        group_foot(to, outcome, &group->sums, "in all ");
    } else {
        tell_unlisted(to, outcome, true);
    }
}

/* What the spec does not say is bought: nothing is left out without a word. */
static void tell_unsaid(Buf *to, const Outcome *outcome, const BomList *list)
{
    if (list->unsaid == NULL) {
        return;
    }
    TextTable table;
    text_table_init(&table, to->arena, 6);
    table.right = 1u << 2 | 1u << 4 | 1u << 5;
    say(to, 0, "Perhaps to buy: no price, supplier, status or job says so, and no sum counts it");
    for (const BomLine *line = list->unsaid; line != NULL; line = line->next) {
        to_buy_line(&table, to->arena, line, outcome->today);
    }
    text_table_write(to, &table, INDENT, WIDTH);
}

static uint32_t count_unsaid(const BomList *list)
{
    uint32_t count = 0;
    for (const BomLine *line = list->unsaid; line != NULL; line = line->next) {
        count++;
    }
    return count;
}

static bool has_line(const BomList *list, bool (*is)(const BomLine *))
{
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            if (is(line)) {
                return true;
            }
        }
    }
    return false;
}

static bool is_without_day(const BomLine *line)
{
    return line->before || line->undated;
}

static bool is_undecided(const BomLine *line)
{
    return line->undecided != NULL;
}

/* What the list tells by its days, and by what stands beside a thing. */
static void say_days_mean(Buf *to, const BomList *list)
{
    Buf text;
    buf_init(&text, to->arena);
    buf_text(&text, "A day is the last one to order on, by the work plan. What has none is needed by no job that is left to do. ");
    if (has_line(list, is_without_day)) {
        buf_text(&text, "`before` a day, or `open`: a job waits for it, and nothing says how long it or the work takes at the most. ");
    }
    if (has_line(list, is_undecided)) {
        buf_text(&text, "`decide first`: an open finding or a goal hangs on it. ");
    }
    buf_text(&text, "Contingency is not counted.");
    say(to, 0, text.text);
}

void to_buy_text(Buf *to, const Outcome *outcome, const BomList *list)
{
    head(to, outcome, "To buy", list);
    say_days_mean(to, list);
    if (bom_has_below(list)) {
        say(to, 0, BOM_BELOW_MEANS);
    }
    if (list->unsaid != NULL && list->groups != NULL) {
        uint32_t count = count_unsaid(list);
        say(to, 0, text_format(to->arena, "%u %s that nothing says %s at the end.", (unsigned)count,
                               count == 1 ? "thing" : "things", count == 1 ? "is bought stands" : "are bought stand"));
    }
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        to_buy_group(to, outcome, list, group);
    }
    buf_char(to, '\n');
    if (list->groups == NULL) {
        buf_text(to, "Nothing that the spec states is left to buy.\n");
        tell_unlisted(to, outcome, true);
    } else {
        group_foot(to, outcome, &list->sums, "All of it: ");
    }
    buf_text(to, list->unsaid != NULL ? "\n" : "");
    tell_unsaid(to, outcome, list);
}

static void put_text(Csv *csv, const char *text)
{
    csv_text(csv, str_from(text));
}

static void put_prices(Csv *csv, const BomLine *line)
{
    report_csv_money(csv, line->priced, line->asked);
    report_csv_money(csv, line->priced, line->asked_in_all);
    csv_text(csv, line->priced ? line->currency : (Str){"", 0});
    put_text(csv, line->priced && line->quoted ? "yes" : "");
    report_csv_money(csv, line->priced, line->cost);
    csv_text(csv, line->priced ? line->of->model->currency : (Str){"", 0});
}

static void put_of_thing(Csv *csv, const BomLine *line)
{
    const Model *model = line->of->model;
    const Entity *space = entity_reference(line->entity, PROP_COMMON_SPACE);
    Place place = source_place(model->tree->sources, entity_span(model, line->entity).start);
    Interval lead;
    if (bom_lead(line->entity, &lead)) {
        report_csv_range(csv, lead, UNIT_ALONE(UNIT_D), false);
    } else {
        csv_empty(csv);
    }
    put_text(csv, status_word(line->purchase.status));
    csv_text(csv, space != NULL ? entity_name(model, space) : (Str){"", 0});
    csv_text(csv, entity_text(line->entity, PROP_COMMON_LINK));
    csv_text(csv, bom_option(csv->buf->arena, line));
    csv_text(csv, report_name_beside(model->tree->sources, place.source->name));
    csv_number(csv, place.line);
}

static void to_buy_row(Csv *csv, const BomLine *line, const BomGroup *group, Date today)
{
    Arena *arena = csv->buf->arena;
    const Material *material = line->material;
    Buf day;
    buf_init(&day, arena);
    if (line->dated && !line->before) {
        date_write(&day, line->order_by);
    }
    csv_text(csv, group->at != NULL ? entity_name(line->of->model, group->at) : (Str){"", 0});
    csv_text(csv, buf_str(&day));
    if (line->dated && line->order_by < today) {
        csv_number(csv, today - line->order_by);
    } else {
        csv_empty(csv);
    }
    csv_text(csv, material != NULL ? material->name : entity_name(line->of->model, line->entity));
    csv_text(csv, material != NULL ? str_from(material->title) : bom_title(arena, line));
    put_text(csv, material != NULL ? material->kind : kinds[line->entity->kind].word);
    put_text(csv, system_word(material != NULL ? material->system : (System)line->entity->system));
    report_csv_range(csv, line->pieces, UNIT_ALONE(UNIT_NONE), false);
    put_prices(csv, line);
    if (material == NULL) {
        put_of_thing(csv, line);
    }
    for (size_t i = csv->cells; i < csv->columns; i++) {
        csv_text(csv, i + 3 == csv->columns ? bom_option(arena, line) : (Str){"", 0}); /* the option; file and line behind it */
    }
    csv_row_end(csv);
}

void to_buy_csv(Buf *to, const Outcome *outcome, const BomList *list)
{
    static const char *const headers[] = {
        "supplier", "order_by", "days_late", "name", "title", "kind", "system", "count", "price_each_low",
        "price_each_high", "price_total_low", "price_total_high", "currency", "offer", "boat_total_low",
        "boat_total_high", "boat_currency", "lead_days", "status", "space", "link", "option", "source_file", "line"};
    Csv csv;
    csv_init(&csv, to, headers, sizeof headers / sizeof headers[0]);
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            to_buy_row(&csv, line, group, outcome->today);
        }
    }
}

/* All there is */

const char *bom_at_text(Arena *arena, const BomLine *line)
{
    const Property *at = line->entity != NULL ? entity_property(line->entity, PROP_COMMON_AT) : NULL;
    return at != NULL ? str_copy(arena, value_written(line->of->model, at)) : "";
}

static const char *place_text(Arena *arena, const BomLine *line, bool by_space)
{
    const Entity *space = line->entity != NULL ? entity_reference(line->entity, PROP_COMMON_SPACE) : NULL;
    return by_space || space == NULL ? bom_at_text(arena, line)
                                     : str_copy(arena, entity_name(line->of->model, space));
}

static const char *mass_text(Arena *arena, const Model *model, bool known, Interval mass)
{
    Buf text;
    buf_init(&text, arena);
    if (known) {
        unit_print(&text, mass_unit(model), mass.low, mass.high);
    }
    return text.length > 0 ? text.text : "";
}

const char *bom_mass_text(Arena *arena, const BomLine *line)
{
    return mass_text(arena, line->of->model, line->weighed, line->weight);
}

static void bom_group(Buf *to, const Outcome *outcome, const BomList *list, const BomGroup *group)
{
    Arena *arena = to->arena;
    TextTable table;
    text_table_init(&table, arena, 6);
    table.right = 1u << 0 | 1u << 3 | 1u << 4;
    group_head(to, list, group);
    for (const BomLine *line = group->first; line != NULL; line = line->next) {
        text_table_add(&table, bom_count_text(arena, line));
        text_table_add(&table, what_of(arena, line));
        text_table_add(&table, line->entity != NULL ? status_word(line->purchase.status) : "");
        text_table_add(&table, bom_mass_text(arena, line));
        text_table_add(&table, bom_cost_text(arena, line));
        text_table_add(&table, place_text(arena, line, list->request.by == BOM_BY_SPACE));
    }
    text_table_write(to, &table, INDENT, WIDTH);
    if (!group->materials) {
        const char *mass = mass_text(arena, outcome->cases[0].model, group->sums.unweighed < group->sums.things,
                                     group->sums.mass.amount);
        group_foot(to, outcome, &group->sums, text_format(arena, "in all %s%s", mass, *mass != '\0' ? ", " : ""));
    } else {
        tell_unlisted(to, outcome, false);
    }
}

void bom_text(Buf *to, const Outcome *outcome, const BomList *list)
{
    head(to, outcome, "Bill of materials", list);
    say(to, 0, "Mass and price are of all pieces and spares of a line.");
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        bom_group(to, outcome, list, group);
    }
    if (list->groups == NULL) {
        buf_text(to, "\nNothing is listed.\n");
    } else if (list->groups->next != NULL) {
        buf_char(to, '\n');
        group_foot(to, outcome, &list->sums, "All of it: ");
    }
}
