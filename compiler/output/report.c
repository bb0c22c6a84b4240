/* See report.h. */
#include "output/report.h"

#include "base/num.h"

#include <math.h>
#include <string.h>

enum {
    TIDY_DIGITS = 12, /* far more than any value has, and fewer than the noise of turning units into others */
    RANGE_DIGITS = 6, /* of what a person reads: more than any instrument gives */
};

Region report_region(PlaceWalk *walk, const Outcome *outcome, Span span)
{
    const Sources *sources = &outcome->spec->sources;
    Place start = place_walk(walk, sources, span.start);
    PlaceWalk onward = *walk; /* the next span may begin inside of this one */
    Place end = span.end > span.start ? place_walk(&onward, sources, span.end) : start;
    if (end.source != start.source) {
        end = start;
    }
    return (Region){.file = start.source->name,
                    .line = start.line,
                    .column = start.column,
                    .end_line = end.line,
                    .end_column = end.column};
}

Str report_spec_name(const Outcome *outcome)
{
    const Sources *sources = &outcome->spec->sources;
    return sources->count > 0 ? sources->list[0]->name : (Str){"", 0};
}

Str report_name_beside(const Sources *sources, Str name)
{
    Str main = sources->count > 0 ? sources->list[0]->name : (Str){"", 0};
    size_t folder = main.length;
    while (folder > 0 && main.text[folder - 1] != '/') {
        folder--;
    }
    bool beside = name.length > folder && memcmp(name.text, main.text, folder) == 0;
    return beside ? (Str){name.text + folder, name.length - folder} : name;
}

const Model *report_model(const Outcome *outcome)
{
    return outcome->case_count > 0 ? outcome->cases[0].model : NULL;
}

Str report_currency(const Outcome *outcome)
{
    const Model *model = report_model(outcome);
    return model != NULL ? model->currency : (Str){"", 0};
}

const char *report_severity(Severity severity)
{
    static const char *const WORDS[] = {
        [SEVERITY_ADVICE] = "advice", [SEVERITY_WARNING] = "warning", [SEVERITY_FAULT] = "fault"};
    return WORDS[severity];
}

const char *report_verdict(Verdict verdict)
{
    return verdict == VERDICT_OPEN ? "open" : "broken";
}

const char *report_more_mistakes(const Outcome *outcome)
{
    return outcome->spec->messages.more
               ? text_format(outcome->arena, "there are more mistakes than these %d; the rest shows once they are mended",
                             MESSAGES_MOST)
               : NULL;
}

const char *report_sampled(const Outcome *outcome)
{
    if (!outcome->sampled) {
        return NULL;
    }
    if (outcome->unseen == 0) {
        return text_format(outcome->arena,
                           "the open choices have more than %d combinations: every option was judged, but not every "
                           "combination of them",
                           OUTCOME_MOST);
    }
    return text_format(outcome->arena,
                       "the open choices have more than %d combinations: not every one was judged, and no option after "
                       "the %dth of its choice (%u in all); those were read for mistakes only",
                       OUTCOME_MOST, OUTCOME_MOST, outcome->unseen);
}

Str report_subject(const Outcome *outcome, const Finding *finding)
{
    const Model *model = report_model(outcome);
    return model != NULL && finding->subject != NULL ? entity_name(model, finding->subject) : (Str){"", 0};
}

Str report_tried(const Outcome *outcome, uint32_t n)
{
    const Spec *spec = outcome->spec;
    Str statement = span_text(&spec->sources, tree_span(&spec->tree, spec->sets[n]));
    const size_t word = sizeof "set " - 1;
    return (Str){statement.text + word, statement.length - word};
}

/* JSON */

void report_json_asked(Json *json, const Outcome *outcome)
{
    const Spec *spec = outcome->spec;
    json_key(json, "tried");
    json_array(json);
    for (uint32_t i = 0; i < spec->set_count; i++) {
        json_text(json, report_tried(outcome, i));
    }
    json_array_end(json);
    json_key(json, "decided");
    json_array(json);
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        const Choice *choice = &spec->choices[i];
        if (choice->by_command && choice->picked >= 0) {
            Str name = symbols_text(spec->symbols, choice->name);
            Str option = symbols_text(spec->symbols, choice->options[choice->picked].name);
            json_text(json, str_from(text_format(json->buf->arena, "%.*s=%.*s", STR_ARG(name), STR_ARG(option))));
        }
    }
    json_array_end(json);
}

void report_json_ends(Json *json, Interval value, UnitPair unit, bool money, Str currency)
{
    double scale = 1.0;
    const char *word = dimension_si_text(unit_dimension(unit), &scale);
    json_put_number(json, "low", value.low * scale);
    json_put_number(json, "high", value.high * scale);
    if (value.low == INFINITY) { /* both ends are null then, as of what nobody knows */
        json_put_bool(json, "unlimited", true);
    }
    json_put_text(json, "unit", money ? currency : str_from(word));
}

void report_json_range(Json *json, const char *key, Interval value, UnitPair unit, bool money, Str currency)
{
    json_key(json, key);
    json_object(json);
    report_json_ends(json, value, unit, money, currency);
    json_object_end(json);
}

/* CSV */

/* The number without the last digits that turning it into another unit has left behind. */
static double tidy(Arena *arena, double value, int digits)
{
    Buf text;
    buf_init(&text, arena);
    num_write(&text, value, digits);
    double tidied;
    return num_read(buf_str(&text), &tidied) ? tidied : value;
}

void report_csv_number(Csv *csv, double value)
{
    csv_number(csv, isfinite(value) ? tidy(csv->buf->arena, value, TIDY_DIGITS) : value);
}

static void write_end(Buf *to, double value, bool money)
{
    if (money) {
        num_write_fixed(to, value, 2);
    } else {
        num_write(to, value, RANGE_DIGITS);
    }
}

static void csv_ends(Csv *csv, double low, double high, bool money)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    if (isinf(low)) {
        buf_text(&text, "<= ");
        write_end(&text, high, money);
    } else if (isinf(high)) {
        buf_text(&text, ">= ");
        write_end(&text, low, money);
    } else {
        write_end(&text, low, money);
        buf_text(&text, "..");
        write_end(&text, high, money);
    }
    csv_text(csv, buf_str(&text));
}

static void csv_dates(Csv *csv, Interval value)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    unit_print(&text, UNIT_ALONE(UNIT_DATE), value.low, value.high);
    csv_text(csv, buf_str(&text));
}

/* A gauge is no number of a unit: the copper is. */
static UnitPair unit_of_numbers(UnitPair unit)
{
    return unit.unit == UNIT_AWG ? UNIT_ALONE(UNIT_MM2) : unit;
}

void report_csv_range(Csv *csv, Interval value, UnitPair unit, bool money)
{
    unit = unit_of_numbers(unit);
    if (unit.unit == UNIT_DATE) {
        csv_dates(csv, value);
        return;
    }
    double low = money ? value.low : unit_from_si(unit, value.low);
    double high = money ? value.high : unit_from_si(unit, value.high);
    if ((isinf(low) || low == 0.0) && isinf(high)) {
        csv_empty(csv);
    } else if (low != high) {
        csv_ends(csv, low, high, money);
    } else if (money) {
        csv_fixed(csv, low, 2);
    } else {
        csv_number(csv, unit.unit == UNIT_NONE ? low : tidy(csv->buf->arena, low, RANGE_DIGITS));
    }
}

void report_csv_unit(Csv *csv, UnitPair unit, bool money, Str currency)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    if (!money && unit.unit != UNIT_NONE && unit.unit != UNIT_DATE) {
        unit_write(&text, unit_of_numbers(unit));
    }
    csv_text(csv, money ? currency : buf_str(&text));
}

bool report_is_unknown(Interval amount)
{
    return amount.low <= 0.0 && isinf(amount.high);
}

void report_csv_money(Csv *csv, bool known, Interval amount)
{
    bool at_least = known && !report_is_unknown(amount);
    csv_fixed(csv, at_least ? amount.low : INFINITY, 2); /* what is not finite is an empty cell */
    csv_fixed(csv, at_least ? amount.high : INFINITY, 2);
}
