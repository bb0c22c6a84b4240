/* See findings_csv.h. */
#include "output/findings_csv.h"

#include "output/report.h"
#include "rules/settle.h"

static const char *const HEADERS[] = {
    "rule",  "severity", "state", "subject",  "message",  "file",         "line",           "column",
    "value", "limit",    "unit",  "hangs_on", "settled_by", "remedies", "waived_until", "waived_because", "source"};

static void put_words(Csv *csv, const char *text)
{
    csv_text(csv, str_from(text));
}

static void put_empty(Csv *csv, int cells)
{
    while (cells-- > 0) {
        csv_empty(csv);
    }
}

static void put_place(Csv *csv, const Outcome *outcome, const Region *region)
{
    csv_text(csv, report_name_beside(&outcome->spec->sources, region->file));
    csv_number(csv, region->line);
    csv_number(csv, region->column);
}

static void put_mistake(Csv *csv, const Outcome *outcome, PlaceWalk *walk, const Message *message)
{
    put_words(csv, message_kinds[message->id].name);
    put_words(csv, "mistake");
    put_words(csv, "broken");
    csv_empty(csv);
    put_words(csv, message->text);
    if (message->placed) {
        Region region = report_region(walk, outcome, message->at);
        put_place(csv, outcome, &region);
    } else {
        csv_text(csv, report_name_beside(&outcome->spec->sources, report_spec_name(outcome)));
        put_empty(csv, 2);
    }
    put_empty(csv, 5);
    put_words(csv, message->right);
    put_empty(csv, 3);
    csv_row_end(csv);
}

static void add_to_list(Buf *list, const char *text)
{
    buf_text(list, list->length > 0 ? "; " : "");
    buf_text(list, text);
}

static void put_lists(Csv *csv, const Finding *finding)
{
    Buf list;
    buf_init(&list, csv->buf->arena);
    for (const Depend *depend = finding->depends; depend != NULL; depend = depend->next) {
        add_to_list(&list, depend->text);
    }
    csv_text(csv, buf_str(&list));
    buf_init(&list, csv->buf->arena);
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        if (settle->state == SETTLE_FOUND) {
            add_to_list(&list, text_format(csv->buf->arena, "%s: %s", settle->input, settle->text));
        }
    }
    csv_text(csv, buf_str(&list));
    buf_init(&list, csv->buf->arena);
    for (const Remedy *remedy = finding->remedies; remedy != NULL; remedy = remedy->next) {
        add_to_list(&list, remedy->text);
    }
    csv_text(csv, buf_str(&list));
}

static void put_waiver(Csv *csv, const Waiver *waiver)
{
    Buf until;
    buf_init(&until, csv->buf->arena);
    if (waiver != NULL && waiver->has_until) {
        date_write(&until, waiver->until);
    }
    csv_text(csv, buf_str(&until));
    csv_text(csv, waiver != NULL ? waiver->because : (Str){"", 0});
}

static void put_finding(Csv *csv, const Outcome *outcome, PlaceWalk *walk, const Finding *finding)
{
    Region region = report_region(walk, outcome, finding->place);
    put_words(csv, finding->rule->name);
    put_words(csv, report_severity(finding->severity));
    put_words(csv, finding->waiver != NULL ? "waived" : report_verdict(finding->verdict));
    csv_text(csv, report_subject(outcome, finding));
    put_words(csv, finding->message);
    put_place(csv, outcome, &region);
    if (finding->compared) {
        report_csv_range(csv, finding->value, finding->unit, finding->money);
        report_csv_range(csv, finding->limit, finding->unit, finding->money);
        report_csv_unit(csv, finding->unit, finding->money, report_currency(outcome));
    } else {
        put_empty(csv, 3);
    }
    put_lists(csv, finding);
    put_waiver(csv, finding->waiver);
    put_words(csv, finding->rule->source);
    csv_row_end(csv);
}

void findings_csv(Buf *to, const Outcome *outcome)
{
    Csv csv;
    PlaceWalk walk = {0};
    csv_init(&csv, to, HEADERS, sizeof HEADERS / sizeof HEADERS[0]);
    for (const Message *m = outcome->spec->messages.first; m != NULL; m = m->next) {
        put_mistake(&csv, outcome, &walk, m);
    }
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        put_finding(&csv, outcome, &walk, f);
    }
}
