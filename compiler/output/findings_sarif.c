/* See findings_sarif.h. */
#include "output/findings_sarif.h"

#include "output/report.h"
#include "rules/settle.h"

#include <string.h>

enum { MOST_FINGERPRINT = 60 }; /* bytes of the spec that tell a mistake's fingerprint */

typedef struct Writer {
    Json json;
    const Outcome *outcome;
    PlaceWalk walk;
    bool suppressions;     /* something is waived: then every result says whether it is */
    int *index_of_message; /* MessageId -> place in the list of rules, -1 if it has no result */
    const Rule **rules;    /* those with results, in the order of their first */
    int rule_count, message_count;
    Symbols *fingerprints; /* to tell equal ones apart */
    uint32_t *times;       /* by Symbol: how often it was given */
    uint32_t times_capacity;
} Writer;

/* `"key": {"text": ..}` */
static void put_message(Json *json, const char *key, Str text)
{
    json_key(json, key);
    json_object(json);
    json_put_text(json, "text", text);
    json_object_end(json);
}

/* Places */

static bool is_plain(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           strchr("-._~/", c) != NULL;
}

/* A path as a relative URI reference (RFC 3986); an absolute path becomes a file URI. */
static Str uri_of(Arena *arena, Str path)
{
    static const char HEX[] = "0123456789ABCDEF";
    Buf uri;
    buf_init(&uri, arena);
    if (str_starts(path, "/")) {
        buf_text(&uri, "file://");
    }
    while (str_starts(path, "./")) {
        path = (Str){path.text + 2, path.length - 2};
    }
    for (size_t i = 0; i < path.length; i++) {
        char c = path.text[i];
        if (c != '\0' && is_plain(c)) {
            buf_char(&uri, c);
        } else {
            unsigned char byte = (unsigned char)c;
            buf_char(&uri, '%');
            buf_char(&uri, HEX[byte >> 4]);
            buf_char(&uri, HEX[byte & 15]);
        }
    }
    return buf_str(&uri);
}

static void put_physical(Json *json, Str file, const Region *region)
{
    json_key(json, "physicalLocation");
    json_object(json);
    json_key(json, "artifactLocation");
    json_object(json);
    json_put_text(json, "uri", uri_of(json->buf->arena, file));
    json_object_end(json);
    if (region != NULL) {
        json_key(json, "region");
        json_object(json);
        json_put_whole(json, "startLine", region->line);
        json_put_whole(json, "startColumn", region->column);
        json_put_whole(json, "endLine", region->end_line);
        json_put_whole(json, "endColumn", region->end_column);
        json_object_end(json);
    }
    json_object_end(json);
}

static void put_locations(Json *json, Str file, const Region *region)
{
    json_key(json, "locations");
    json_array(json);
    json_object(json);
    put_physical(json, file, region);
    json_object_end(json);
    json_array_end(json);
}

static void put_related(Writer *writer, Span at, const char *text)
{
    PlaceWalk walk = writer->walk;
    Region region = report_region(&walk, writer->outcome, at);
    json_object(&writer->json);
    put_physical(&writer->json, region.file, &region);
    if (text != NULL) {
        put_message(&writer->json, "message", str_from(text));
    }
    json_object_end(&writer->json);
}

/* Rules */

static const char *level_of(Severity severity)
{
    return severity == SEVERITY_FAULT ? "error" : severity == SEVERITY_WARNING ? "warning" : "note";
}

static int rule_index(const Writer *writer, const Rule *rule)
{
    for (int i = 0; i < writer->rule_count; i++) {
        if (writer->rules[i] == rule) {
            return writer->message_count + i;
        }
    }
    return -1;
}

/* Which mistakes and rules have results. */
static void collect_rules(Writer *writer, Arena *arena)
{
    size_t most = 0;
    for (size_t f = 0; f < rule_family_count; f++) {
        most += rule_families[f]->count;
    }
    writer->rules = ARENA_ARRAY(arena, const Rule *, most + 1);
    writer->index_of_message = ARENA_ARRAY(arena, int, MESSAGE_COUNT);
    for (int id = 0; id < MESSAGE_COUNT; id++) {
        writer->index_of_message[id] = -1;
    }
    for (const Message *m = writer->outcome->spec->messages.first; m != NULL; m = m->next) {
        if (writer->index_of_message[m->id] < 0) {
            writer->index_of_message[m->id] = writer->message_count++;
        }
    }
    for (const Finding *f = writer->outcome->findings; f != NULL; f = f->next) {
        writer->suppressions = writer->suppressions || f->waiver != NULL;
        if (rule_index(writer, f->rule) < 0) {
            writer->rules[writer->rule_count++] = f->rule;
        }
    }
}

static void put_level(Json *json, const char *level)
{
    json_key(json, "defaultConfiguration");
    json_object(json);
    json_put_words(json, "level", level);
    json_object_end(json);
}

static void put_message_kind(Json *json, MessageId id)
{
    json_object(json);
    json_put_words(json, "id", message_kinds[id].name);
    put_message(json, "shortDescription", str_from(message_kinds[id].meaning));
    put_message(json, "help", str_from(message_kinds[id].meaning));
    put_level(json, "error");
    json_object_end(json);
}

static void put_rule(Json *json, const Rule *rule)
{
    const char *help =
        text_format(json->buf->arena, "%s\n\nSource: %s\n\nMore, with examples: garboard rules %s", rule->why,
                    rule->source, rule->name);
    json_object(json);
    json_put_words(json, "id", rule->name);
    put_message(json, "shortDescription", str_from(rule->title));
    put_message(json, "fullDescription", str_from(rule->why));
    put_message(json, "help", str_from(help));
    put_level(json, level_of(rule->severity));
    json_key(json, "properties");
    json_object(json);
    json_put_words(json, "source", rule->source);
    json_object_end(json);
    json_object_end(json);
}

static void put_rules(Writer *writer)
{
    Json *json = &writer->json;
    json_key(json, "rules");
    json_array(json);
    for (int place = 0; place < writer->message_count; place++) {
        for (int id = 0; id < MESSAGE_COUNT; id++) {
            if (writer->index_of_message[id] == place) {
                put_message_kind(json, (MessageId)id);
            }
        }
    }
    for (int i = 0; i < writer->rule_count; i++) {
        put_rule(json, writer->rules[i]);
    }
    json_array_end(json);
}

/* Results */

/* How often this fingerprint has been given before. */
static uint32_t times_given(Writer *writer, Str fingerprint)
{
    Arena *arena = writer->json.buf->arena;
    Symbol symbol = symbols_intern(writer->fingerprints, fingerprint);
    if (symbol >= writer->times_capacity) {
        uint32_t capacity = (symbol + 1) * 2;
        writer->times = arena_grow(arena, writer->times, writer->times_capacity * sizeof(uint32_t),
                                   capacity * sizeof(uint32_t));
        writer->times_capacity = capacity;
    }
    return writer->times[symbol]++;
}

/* Equal ones are numbered, for a fingerprint is there to tell results apart. */
static void put_fingerprint(Writer *writer, const Buf *fingerprint)
{
    uint32_t before = times_given(writer, buf_str(fingerprint));
    Json *json = &writer->json;
    json_key(json, "partialFingerprints");
    json_object(json);
    if (before > 0) {
        json_put_words(json, "garboard/v1",
                       text_format(json->buf->arena, "%s#%u", fingerprint->text, before + 1));
    } else {
        json_put_text(json, "garboard/v1", buf_str(fingerprint));
    }
    json_object_end(json);
}

static void put_suppressions(Writer *writer, const Waiver *waiver)
{
    if (!writer->suppressions) {
        return;
    }
    Json *json = &writer->json;
    json_key(json, "suppressions");
    json_array(json);
    if (waiver != NULL) {
        json_object(json);
        json_put_words(json, "kind", "inSource");
        json_put_words(json, "status", "accepted");
        json_put_text(json, "justification", waiver->because);
        json_object_end(json);
    }
    json_array_end(json);
}

static void put_message_result(Writer *writer, const Message *message)
{
    Json *json = &writer->json;
    Arena *arena = json->buf->arena;
    Buf fingerprint;
    buf_init(&fingerprint, arena);
    buf_format(&fingerprint, "%s:", message_kinds[message->id].name);
    json_object(json);
    json_put_words(json, "ruleId", message_kinds[message->id].name);
    json_put_whole(json, "ruleIndex", writer->index_of_message[message->id]);
    json_put_words(json, "kind", "fail");
    json_put_words(json, "level", "error");
    put_message(json, "message",
                message->right == NULL
                    ? str_from(message->text)
                    : str_from(text_format(arena, "%s; right: %s", message->text, message->right)));
    if (message->placed) {
        Region region = report_region(&writer->walk, writer->outcome, message->at);
        put_locations(json, region.file, &region);
        Str text = span_text(&writer->outcome->spec->sources, message->at);
        buf_add(&fingerprint,
                (Str){text.text, text.length < MOST_FINGERPRINT ? text.length : MOST_FINGERPRINT});
    } else {
        put_locations(json, report_spec_name(writer->outcome), NULL);
        buf_text(&fingerprint, message->text);
    }
    if (message->notes != NULL) {
        json_key(json, "relatedLocations");
        json_array(json);
        for (const MessageNote *note = message->notes; note != NULL; note = note->next) {
            put_related(writer, note->at, note->text);
        }
        json_array_end(json);
    }
    put_fingerprint(writer, &fingerprint);
    put_suppressions(writer, NULL);
    json_object_end(json);
}

/* The sentence, and what would settle or mend it. */
static Str finding_sentence(Arena *arena, const Finding *finding)
{
    Buf text;
    buf_init(&text, arena);
    buf_text(&text, finding->message);
    const char *before = "; hangs on: ";
    bool depends = finding->verdict == VERDICT_OPEN && finding->settles == NULL;
    for (const Depend *d = depends ? finding->depends : NULL; d != NULL; d = d->next) {
        buf_format(&text, "%s%s", before, d->text);
        before = ", ";
    }
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        buf_format(&text, settle->text[0] != 0 ? "%s%s (%s)" : "%s%s", before, settle->input, settle->text);
        before = ", ";
    }
    before = "; would hold with: ";
    for (const Remedy *remedy = finding->remedies; remedy != NULL; remedy = remedy->next) {
        buf_format(&text, "%s%s", before, remedy->text);
        before = ", or ";
    }
    return buf_str(&text);
}

static void finding_fingerprint(Writer *writer, const Finding *finding)
{
    Buf text;
    buf_init(&text, writer->json.buf->arena);
    buf_format(&text, "%s:", finding->rule->name);
    buf_add(&text, report_subject(writer->outcome, finding));
    if (finding->at != NULL) {
        buf_char(&text, '@');
        buf_add(&text, entity_name(report_model(writer->outcome), finding->at));
    }
    put_fingerprint(writer, &text);
}

static void put_properties(Writer *writer, const Finding *finding)
{
    Json *json = &writer->json;
    Str currency = report_currency(writer->outcome);
    json_key(json, "properties");
    json_object(json);
    json_put_text(json, "subject", report_subject(writer->outcome, finding));
    json_put_words(json, "severity", report_severity(finding->severity));
    if (finding->compared) {
        report_json_range(json, "value", finding->value, finding->unit, finding->money, currency);
        report_json_range(json, "limit", finding->limit, finding->unit, finding->money, currency);
    }
    if (finding->only_with != NULL) {
        json_put_words(json, "onlyWith", finding->only_with);
    }
    json_object_end(json);
}

static void put_finding_places(Writer *writer, const Finding *finding)
{
    Json *json = &writer->json;
    Region region = report_region(&writer->walk, writer->outcome, finding->place);
    put_locations(json, region.file, &region);
    if (finding->notes == NULL && finding->place_note == NULL) {
        return;
    }
    json_key(json, "relatedLocations");
    json_array(json);
    if (finding->place_note != NULL) {
        put_related(writer, finding->place, finding->place_note);
    }
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        put_related(writer, note->at, note->text);
    }
    json_array_end(json);
}

static void put_finding_result(Writer *writer, const Finding *finding)
{
    Json *json = &writer->json;
    bool open = finding->verdict == VERDICT_OPEN;
    json_object(json);
    json_put_words(json, "ruleId", finding->rule->name);
    json_put_whole(json, "ruleIndex", rule_index(writer, finding->rule));
    json_put_words(json, "kind", open ? "open" : "fail");
    json_put_words(json, "level", open ? "none" : level_of(finding->severity));
    put_message(json, "message", finding_sentence(json->buf->arena, finding));
    put_finding_places(writer, finding);
    finding_fingerprint(writer, finding);
    put_suppressions(writer, finding->waiver);
    put_properties(writer, finding);
    json_object_end(json);
}

static void put_results(Writer *writer)
{
    json_key(&writer->json, "results");
    json_array(&writer->json);
    for (const Message *m = writer->outcome->spec->messages.first; m != NULL; m = m->next) {
        put_message_result(writer, m);
    }
    for (const Finding *f = writer->outcome->findings; f != NULL; f = f->next) {
        put_finding_result(writer, f);
    }
    json_array_end(&writer->json);
}

static void put_tool(Writer *writer)
{
    Json *json = &writer->json;
    json_key(json, "tool");
    json_object(json);
    json_key(json, "driver");
    json_object(json);
    json_put_words(json, "name", "Garboard");
    put_rules(writer);
    json_object_end(json);
    json_object_end(json);
}

/* SARIF 2.1.0, 3.20.21: what the tool met that is no result; here, what it left out. */
static void put_notification(Json *json, const char *text)
{
    if (text == NULL) {
        return;
    }
    json_object(json);
    json_put_words(json, "level", "warning");
    json_key(json, "message");
    json_object(json);
    json_put_words(json, "text", text);
    json_object_end(json);
    json_object_end(json);
}

static void put_invocation(Json *json, const Outcome *outcome)
{
    json_key(json, "invocations");
    json_array(json);
    json_object(json);
    json_put_bool(json, "executionSuccessful", true);
    if (outcome->sampled || outcome->spec->messages.more) {
        json_key(json, "toolExecutionNotifications");
        json_array(json);
        put_notification(json, report_more_mistakes(outcome));
        put_notification(json, report_sampled(outcome));
        json_array_end(json);
    }
    json_object_end(json);
    json_array_end(json);
}

/* SARIF 2.1.0, 3.8: what was tried beside the spec is a property of the run. */
static void put_asked(Json *json, const Outcome *outcome)
{
    json_key(json, "properties");
    json_object(json);
    report_json_asked(json, outcome);
    json_object_end(json);
}

void findings_sarif(Buf *to, const Outcome *outcome)
{
    Writer writer = {.outcome = outcome, .fingerprints = symbols_new(to->arena)};
    Json *json = &writer.json;
    json_init(json, to);
    collect_rules(&writer, to->arena);
    json_object(json);
    json_put_words(json, "$schema", "https://json.schemastore.org/sarif-2.1.0.json");
    json_put_words(json, "version", "2.1.0");
    json_key(json, "runs");
    json_array(json);
    json_object(json);
    put_tool(&writer);
    put_invocation(json, outcome);
    json_put_words(json, "columnKind", "unicodeCodePoints");
    put_results(&writer);
    put_asked(json, outcome);
    json_object_end(json);
    json_array_end(json);
    json_object_end(json);
    json_end(json);
}
