/* See findings_json.h. */
#include "output/findings_json.h"

#include "output/report.h"
#include "rules/decide.h"
#include "rules/settle.h"

typedef struct Writer {
    Json json;
    const Outcome *outcome;
    PlaceWalk walk;
} Writer;

static void put_date(Json *json, const char *key, Date date)
{
    Buf text;
    buf_init(&text, json->buf->arena);
    date_write(&text, date);
    json_put_text(json, key, buf_str(&text));
}

static void put_region(Json *json, Region region)
{
    json_put_text(json, "file", region.file);
    json_put_whole(json, "line", region.line);
    json_put_whole(json, "column", region.column);
    json_put_whole(json, "end_line", region.end_line);
    json_put_whole(json, "end_column", region.end_column);
}

/* About the whole spec: its main file, and no line. */
static void put_no_place(Writer *writer)
{
    static const char *const KEYS[] = {"line", "column", "end_line", "end_column"};
    json_put_text(&writer->json, "file", report_spec_name(writer->outcome));
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++) {
        json_key(&writer->json, KEYS[i]);
        json_null(&writer->json);
    }
}

static void put_note(Writer *writer, Span at, const char *text)
{
    PlaceWalk walk = writer->walk;
    json_object(&writer->json);
    json_put_words(&writer->json, "message", text);
    put_region(&writer->json, report_region(&walk, writer->outcome, at));
    json_object_end(&writer->json);
}

static void put_summary(Json *json, const Outcome *outcome)
{
    json_key(json, "summary");
    json_object(json);
    json_put_whole(json, "mistakes", outcome->mistakes);
    json_put_whole(json, "faults", outcome->faults);
    json_put_whole(json, "warnings", outcome->warnings);
    json_put_whole(json, "advice", outcome->advice);
    json_put_whole(json, "open", outcome->open);
    json_put_whole(json, "waived", outcome->waived);
    json_put_whole(json, "unjudged", outcome->unjudged);
    json_put_whole(json, "waiting", outcome->waiting);
    json_object_end(json);
}

static void put_mistake(Writer *writer, const Message *message)
{
    Json *json = &writer->json;
    json_object(json);
    json_put_words(json, "name", message_kinds[message->id].name);
    json_put_words(json, "message", message->text);
    json_put_words(json, "right", message->right);
    if (message->placed) {
        put_region(json, report_region(&writer->walk, writer->outcome, message->at));
    } else {
        put_no_place(writer);
    }
    json_key(json, "notes");
    json_array(json);
    for (const MessageNote *note = message->notes; note != NULL; note = note->next) {
        put_note(writer, note->at, note->text);
    }
    json_array_end(json);
    json_object_end(json);
}

static void put_comparison(Json *json, const Outcome *outcome, const Finding *f)
{
    if (f->compared) {
        report_json_range(json, "value", f->value, f->unit, f->money, report_currency(outcome));
        report_json_range(json, "limit", f->limit, f->unit, f->money, report_currency(outcome));
    } else {
        json_key(json, "value");
        json_null(json);
        json_key(json, "limit");
        json_null(json);
    }
}

/* The ranges of an input that settle it one way or the other. */
static void put_ranges(Writer *writer, const Settle *settle, bool holds)
{
    Json *json = &writer->json;
    json_key(json, holds ? "holds" : "broken");
    json_array(json);
    for (uint32_t i = 0; i < settle->range_count; i++) {
        if (settle->ranges[i].holds == holds) {
            json_object(json);
            report_json_ends(json, settle->ranges[i].value, settle->unit, settle->money,
                             report_currency(writer->outcome));
            json_object_end(json);
        }
    }
    json_array_end(json);
    json_key(json, holds ? "holds_with" : "broken_with");
    json_array(json);
    for (const SettleWord *w = settle->words; w != NULL; w = w->next) {
        if (w->told == (holds ? TOLD_HOLDS : TOLD_BROKEN)) {
            json_text(json, w->word);
        }
    }
    json_array_end(json);
}

/* The words with which it is neither: still open, or broken, but more or less severe. */
static void put_other_words(Writer *writer, const Settle *settle)
{
    static const char *const says[] = {
        [TOLD_FAULT] = "fault", [TOLD_WARNING] = "warning", [TOLD_ADVICE] = "advice", [TOLD_OPEN] = "open"};
    Json *json = &writer->json;
    json_key(json, "else_with");
    json_array(json);
    for (const SettleWord *w = settle->words; w != NULL; w = w->next) {
        if (w->told > TOLD_BROKEN) {
            json_object(json);
            json_put_text(json, "word", w->word);
            json_put_words(json, "is", says[w->told]);
            json_object_end(json);
        }
    }
    json_array_end(json);
}

static void put_settles(Writer *writer, const Finding *f)
{
    static const char *const states[] = {[SETTLE_FOUND] = "settles",
                                         [SETTLE_NOT_ALONE] = "not-alone",
                                         [SETTLE_NO_VALUE] = "no-value",
                                         [SETTLE_NOT_TRIED] = "not-tried"};
    Json *json = &writer->json;
    json_key(json, "settles");
    json_array(json);
    for (const Settle *settle = f->settles; settle != NULL; settle = settle->next) {
        json_object(json);
        json_put_words(json, "input", settle->input);
        json_put_words(json, "state", states[settle->state]);
        json_put_words(json, "says", settle->text[0] != 0 ? settle->text : NULL);
        put_ranges(writer, settle, true);
        put_ranges(writer, settle, false);
        put_other_words(writer, settle);
        json_object_end(json);
    }
    json_array_end(json);
}

static void put_lists(Writer *writer, const Finding *f)
{
    Json *json = &writer->json;
    json_key(json, "depends");
    json_array(json);
    for (const Depend *depend = f->depends; depend != NULL; depend = depend->next) {
        json_text(json, str_from(depend->text));
    }
    json_array_end(json);
    put_settles(writer, f);
    json_key(json, "remedies");
    json_array(json);
    for (const Remedy *remedy = f->remedies; remedy != NULL; remedy = remedy->next) {
        json_text(json, str_from(remedy->text));
    }
    json_array_end(json);
    json_key(json, "notes");
    json_array(json);
    for (const FindingNote *note = f->notes; note != NULL; note = note->next) {
        put_note(writer, note->at, note->text);
    }
    json_array_end(json);
}

static void put_waiver(Json *json, const Finding *finding)
{
    const Waiver *waiver = finding->waiver;
    json_key(json, "waived");
    if (waiver == NULL) {
        json_null(json);
        return;
    }
    json_object(json);
    json_put_text(json, "because", waiver->because);
    if (waiver->has_until) {
        put_date(json, "until", waiver->until);
    } else {
        json_put_words(json, "until", NULL);
    }
    json_put_bool(json, "counts", outcome_counts_though_waived(finding));
    json_object_end(json);
}

static void put_finding(Writer *writer, const Finding *f)
{
    Json *json = &writer->json;
    const Model *model = report_model(writer->outcome);
    json_object(json);
    json_put_words(json, "rule", f->rule->name);
    json_put_words(json, "severity", report_severity(f->severity));
    json_put_words(json, "state", report_verdict(f->verdict));
    json_put_text(json, "subject", report_subject(writer->outcome, f));
    json_put_words(json, "at",
                      f->at != NULL ? str_copy(json->buf->arena, entity_name(model, f->at)) : NULL);
    json_put_words(json, "message", f->message);
    put_region(json, report_region(&writer->walk, writer->outcome, f->place));
    json_put_words(json, "place_note", f->place_note);
    put_comparison(json, writer->outcome, f);
    json_put_words(json, "source", f->rule->source);
    put_lists(writer, f);
    json_put_words(json, "only_with", f->only_with);
    json_put_bool(json, "guessed", f->guessed);
    put_waiver(json, f);
    json_object_end(json);
}

static void put_decision(Json *json, const Outcome *outcome, const Decision *decision)
{
    json_object(json);
    json_put_words(json, "name", decision->name);
    json_put_bool(json, "choice", decision->choice != NULL);
    json_put_words(json, "stands", decide_stands(json->buf->arena, outcome, decision));
    json_put_whole(json, "faults", decision->faults);
    json_put_whole(json, "goals", decision->goals);
    json_put_whole(json, "warnings", decision->warnings);
    json_put_whole(json, "advice", decision->advice);
    json_put_whole(json, "jobs", decision->jobs);
    json_key(json, "to_order");
    if (decision->to_order) {
        json_object(json);
        report_json_ends(json, decision->money, UNIT_ALONE(UNIT_NONE), true, report_currency(outcome));
        json_object_end(json);
    } else {
        json_null(json);
    }
    json_key(json, "lead");
    if (decision->has_lead) {
        json_object(json);
        report_json_ends(json, decision->lead_s, UNIT_ALONE(UNIT_S), false, report_currency(outcome));
        json_object_end(json);
    } else {
        json_null(json);
    }
    json_object_end(json);
}

static void put_decisions(Json *json, const Outcome *outcome)
{
    const Decisions *decisions = decide_compute(json->buf->arena, outcome);
    json_key(json, "decide");
    json_array(json);
    for (uint32_t i = 0; i < decisions->holding; i++) {
        put_decision(json, outcome, decisions->list[i]);
    }
    json_array_end(json);
}

void findings_json(Buf *to, const Outcome *outcome)
{
    Writer writer = {.outcome = outcome};
    Json *json = &writer.json;
    json_init(json, to);
    json_object(json);
    json_put_whole(json, "format", 1);
    json_put_text(json, "spec", report_spec_name(outcome));
    json_put_words(json, "basis", outcome->basis == BASIS_US ? "us" : "iso");
    put_date(json, "as_of", outcome->today);
    report_json_asked(json, outcome);
    json_put_bool(json, "sampled", outcome->sampled);
    json_put_whole(json, "options_not_judged", outcome->unseen);
    json_put_bool(json, "more_mistakes", outcome->spec->messages.more);
    put_summary(json, outcome);
    json_key(json, "mistakes");
    json_array(json);
    for (const Message *m = outcome->spec->messages.first; m != NULL; m = m->next) {
        put_mistake(&writer, m);
    }
    json_array_end(json);
    json_key(json, "findings");
    json_array(json);
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        put_finding(&writer, f);
    }
    json_array_end(json);
    put_decisions(json, outcome);
    json_object_end(json);
    json_end(json);
}
