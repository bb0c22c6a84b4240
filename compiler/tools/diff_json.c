/*
 * The difference as JSON, for other tools: docs/diff.schema.json describes it. It says all that the text
 * says, and every figure that differs.
 */
#include "tools/diff_parts.h"

#include "output/json.h"
#include "output/report.h"

#include <math.h>

typedef struct Writer {
    Json json;
    const Diff *diff;
    PlaceWalk walk_before, walk_after;
} Writer;

static void put_how(Json *json, DiffHow how)
{
    static const char *const WORDS[] = {
        [DIFF_ADDED] = "added", [DIFF_REMOVED] = "removed", [DIFF_CHANGED] = "changed"};
    json_put_words(json, "change", WORDS[how]);
}

static void put_array(Json *json, const char *key)
{
    json_key(json, key);
    json_array(json);
}

/* The specs */

static void put_spec(Json *json, const char *key, const DiffSide *side)
{
    const Outcome *outcome = side->outcome;
    json_key(json, key);
    json_object(json);
    json_put_text(json, "spec", report_spec_name(outcome));
    put_array(json, "with");
    for (uint32_t i = 0; i < side->option_count; i++) {
        if (side->options[i].picked && side->options[i].choice->by_command) {
            json_text(json, str_from(option_path(json->buf->arena, side, &side->options[i])));
        }
    }
    json_array_end(json);
    json_put_words(json, "basis", outcome->basis == BASIS_US ? "us" : "iso");
    json_put_bool(json, "sampled", outcome->sampled);
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

/* Things, choices, waivers */

static void put_lines(Json *json, const DiffLine *lines, bool of_thing)
{
    put_array(json, "properties");
    for (const DiffLine *line = lines; line != NULL; line = line->next) {
        json_object(json);
        json_put_words(json, "property", line->property);
        if (of_thing) {
            json_put_words(json, "inside", line->inside);
        }
        put_how(json, line->how);
        json_put_words(json, "old", line->before);
        json_put_words(json, "new", line->after);
        if (of_thing) {
            json_put_words(json, "assumed", line->assumed);
            json_put_words(json, "part", line->part);
        }
        json_object_end(json);
    }
    json_array_end(json);
}

static void put_item(Json *json, const DiffItem *item)
{
    json_object(json);
    put_how(json, item->how);
    json_put_words(json, "kind", item->kind);
    json_put_words(json, "name", item->name);
    json_put_words(json, "was", item->was);
    json_put_words(json, "title", item->title);
    json_put_words(json, "option", item->where);
    json_put_words(json, "part", item->part);
    put_lines(json, item->lines, true);
    json_object_end(json);
}

static void put_choice(Json *json, const DiffChoice *choice)
{
    json_object(json);
    put_how(json, choice->how);
    json_put_words(json, "name", choice->name);
    json_put_words(json, "title", choice->title);
    put_lines(json, choice->lines, false);
    json_object_end(json);
}

static void put_waiver_terms(Json *json, const char *key, const Waiver *waiver)
{
    json_key(json, key);
    if (waiver == NULL) {
        json_null(json);
        return;
    }
    json_object(json);
    json_put_text(json, "because", waiver->because);
    if (waiver->has_until) {
        Buf date;
        buf_init(&date, json->buf->arena);
        date_write(&date, waiver->until);
        json_put_words(json, "until", date.text);
    } else {
        json_put_words(json, "until", NULL);
    }
    json_object_end(json);
}

static void put_waiver(Json *json, const DiffWaiver *waiver)
{
    json_object(json);
    put_how(json, waiver->before == NULL ? DIFF_ADDED : waiver->after == NULL ? DIFF_REMOVED : DIFF_CHANGED);
    json_put_words(json, "rule", waiver->rule);
    json_put_words(json, "subject", waiver->subject);
    put_waiver_terms(json, "old", waiver->before);
    put_waiver_terms(json, "new", waiver->after);
    json_object_end(json);
}

/* Figures */

static void put_figure_side(Json *json, const char *key, const DiffFigureSide *side)
{
    static const char *const STATES[] = {
        [STATE_KNOWN] = "known", [STATE_MISSING] = "missing", [STATE_WAITING] = "waiting"};
    json_key(json, key);
    if (side->of == NULL) {
        json_null(json);
        return;
    }
    const Figure *figure = &side->figure;
    json_object(json);
    /* What is not known is infinite here, and so null there. */
    report_json_ends(json, figure_bounds(figure), figure->size ? UNIT_ALONE(UNIT_MM2) : figure->unit, figure->money,
                     side->of->model->currency);
    json_put_words(json, "display", side->text);
    json_put_words(json, "state", STATES[figure->state]);
    json_object_end(json);
}

/* By how much each end moved, in the unit that the values are in. */
static void put_change(Json *json, const DiffFigure *figure)
{
    static const char *const KEYS[] = {"low", "high"};
    double percent[2];
    double scale = 1.0;
    UnitPair unit = figure->after.figure.size ? UNIT_ALONE(UNIT_MM2) : figure->after.figure.unit;
    dimension_si_text(unit_dimension(unit), &scale);
    json_key(json, "change");
    json_object(json);
    for (int high = 0; high < 2; high++) {
        double change;
        bool known = figure_change(figure, high == 1, &change, &percent[high]);
        known = known && !(high == 1 && (figure->before.figure.partial || figure->after.figure.partial)); /* null has moved nowhere */
        double before = high == 1 ? figure->before.figure.high : figure->before.figure.low;
        double after = high == 1 ? figure->after.figure.high : figure->after.figure.low;
        percent[high] = known ? percent[high] : NAN;
        json_put_number(json, KEYS[high], known ? (after - before) * scale : NAN);
    }
    json_object_end(json);
    json_key(json, "percent");
    json_object(json);
    for (int high = 0; high < 2; high++) {
        json_put_number(json, KEYS[high], percent[high]);
    }
    json_object_end(json);
}

static void put_figure(Json *json, const DiffFigure *figure)
{
    json_object(json);
    json_put_words(json, "subject", figure->subject);
    json_put_words(json, "was", figure->was);
    json_put_words(json, "name", figure->name);
    put_figure_side(json, "old", &figure->before);
    put_figure_side(json, "new", &figure->after);
    put_change(json, figure);
    json_object_end(json);
}

/* The boat's come first. */
static void put_figures(Json *json, const Diff *diff)
{
    put_array(json, "figures");
    for (int of_boat = 1; of_boat >= 0; of_boat--) {
        for (const DiffFigure *figure = diff->figures; figure != NULL; figure = figure->next) {
            if (figure->of_boat == (of_boat == 1)) {
                put_figure(json, figure);
            }
        }
    }
    json_array_end(json);
}

/* The bill of materials, goals, findings */

static void put_row(Json *json, const DiffBom *row)
{
    json_object(json);
    put_how(json, row->how);
    json_put_words(json, "name", row->name);
    json_put_words(json, "was", row->was);
    json_put_words(json, "title", row->title);
    json_put_words(json, "option", row->where);
    put_lines(json, row->lines, false);
    json_object_end(json);
}

static void put_goal(Json *json, const DiffGoal *goal)
{
    json_object(json);
    json_put_words(json, "name", goal->name);
    json_put_words(json, "title", goal->title);
    json_put_words(json, "old", goal->before);
    json_put_words(json, "new", goal->after);
    json_object_end(json);
}

static void put_finding_side(Json *json, const char *key, PlaceWalk *walk, const DiffSide *side,
                             const Finding *finding)
{
    json_key(json, key);
    if (finding == NULL) {
        json_null(json);
        return;
    }
    Region region = report_region(walk, side->outcome, finding->place);
    const Model *model = report_model(side->outcome);
    json_object(json);
    json_put_text(json, "subject", report_subject(side->outcome, finding));
    json_put_words(json, "at",
              finding->at != NULL ? str_copy(json->buf->arena, entity_name(model, finding->at)) : NULL);
    json_put_words(json, "severity", report_severity(finding->severity));
    json_put_words(json, "state", report_verdict(finding->verdict));
    json_put_bool(json, "waived", finding->waiver != NULL);
    json_put_words(json, "only_with", finding->only_with);
    json_put_words(json, "message", finding->message);
    json_put_text(json, "file", region.file);
    json_put_whole(json, "line", region.line);
    json_put_whole(json, "column", region.column);
    json_object_end(json);
}

static void put_finding_list(Writer *writer, const char *key, const DiffFindingList *list)
{
    Json *json = &writer->json;
    put_array(json, key);
    for (const DiffFinding *pair = list->first; pair != NULL; pair = pair->next) {
        const Finding *any = pair->after != NULL ? pair->after : pair->before;
        json_object(json);
        json_put_words(json, "rule", any->rule->name);
        put_finding_side(json, "old", &writer->walk_before, &writer->diff->before, pair->before);
        put_finding_side(json, "new", &writer->walk_after, &writer->diff->after, pair->after);
        json_object_end(json);
    }
    json_array_end(json);
}

static void put_findings(Writer *writer)
{
    const DiffFindings *findings = &writer->diff->findings;
    Json *json = &writer->json;
    json_key(json, "findings");
    json_object(json);
    put_finding_list(writer, "new", &findings->fresh);
    put_finding_list(writer, "changed", &findings->changed);
    put_finding_list(writer, "gone", &findings->gone);
    json_put_whole(json, "still", findings->still);
    json_put_whole(json, "reworded", findings->reworded);
    json_object_end(json);
}

/* A list under a key, each of its items by `put`. */
#define PUT_LIST(KEY, TYPE, FIRST, PUT)                                     \
    do {                                                                    \
        put_array(json, (KEY));                                             \
        for (const TYPE *each = (FIRST); each != NULL; each = each->next) { \
            PUT(json, each);                                                \
        }                                                                   \
        json_array_end(json);                                               \
    } while (0)

void diff_json(Buf *to, const Diff *diff)
{
    Writer writer = {.diff = diff};
    Json *json = &writer.json;
    json_init(json, to);
    json_object(json);
    json_put_whole(json, "format", 1);
    json_put_bool(json, "different", diff_is_different(diff));
    put_spec(json, "old", &diff->before);
    put_spec(json, "new", &diff->after);
    PUT_LIST("things", DiffItem, diff->items, put_item);
    PUT_LIST("choices", DiffChoice, diff->choices, put_choice);
    PUT_LIST("waivers", DiffWaiver, diff->waivers, put_waiver);
    put_figures(json, diff);
    PUT_LIST("bom", DiffBom, diff->bom, put_row);
    PUT_LIST("goals", DiffGoal, diff->goals, put_goal);
    put_findings(&writer);
    json_object_end(json);
    json_end(json);
}
