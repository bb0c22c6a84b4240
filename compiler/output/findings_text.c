/* See findings_text.h. */
#include "output/findings_text.h"

#include "base/num.h"
#include "output/findings_same.h"
#include "output/report.h"
#include "rules/decide.h"
#include "rules/settle.h"

typedef struct Teller {
    Buf *to;
    const Outcome *outcome;
    Colour colour;
    PlaceWalk walk;
    Alike alike;
    const Rule **told; /* rules whose source was given */
    uint32_t told_count, told_capacity;
} Teller;

/* Heads */

/* "wren.boat:48:3: " */
static void write_place(Buf *to, PlaceWalk *walk, const Sources *sources, Span at, Colour colour)
{
    Place place = place_walk(walk, sources, at.start);
    colour_begin(to, colour, TINT_STRONG);
    snippet_plain(to, place.source->name);
    buf_format(to, ":%u:%u:", place.line, place.column);
    colour_end(to, colour, TINT_STRONG);
    buf_char(to, ' ');
}

static void write_sentence(Buf *to, const char *text, const char *name)
{
    snippet_plain(to, str_from(text));
    buf_format(to, " [%s]\n", name);
}

static void write_word(Buf *to, const char *word, Colour colour, Tint tint)
{
    colour_begin(to, colour, tint);
    buf_format(to, "%s:", word);
    colour_end(to, colour, tint);
    buf_char(to, ' ');
}

/* Mistakes */

static void draw_message(Buf *to, const Spec *spec, const Message *message, Colour colour)
{
    size_t count = 1;
    for (const MessageNote *note = message->notes; note != NULL; note = note->next) {
        count++;
    }
    SnippetMark *marks = ARENA_ARRAY(to->arena, SnippetMark, count);
    marks[0] = (SnippetMark){.at = message->at};
    size_t i = 1;
    for (const MessageNote *note = message->notes; note != NULL; note = note->next) {
        marks[i++] = (SnippetMark){.at = note->at, .text = note->text, .secondary = true};
    }
    snippet_write(to, &spec->sources, marks, count, colour, TINT_RED);
}

static void write_message(Buf *to, const Spec *spec, PlaceWalk *walk, const Message *message, Colour colour)
{
    if (message->placed) {
        write_place(to, walk, &spec->sources, message->at, colour);
    } else if (spec->sources.count > 0) {
        colour_begin(to, colour, TINT_STRONG);
        snippet_plain(to, spec->sources.list[0]->name);
        buf_text(to, ":");
        colour_end(to, colour, TINT_STRONG);
        buf_char(to, ' ');
    }
    write_word(to, "mistake", colour, TINT_RED);
    write_sentence(to, message->text, message_kinds[message->id].name);
    if (message->placed) {
        draw_message(to, spec, message, colour);
    }
    if (message->right != NULL) {
        buf_text(to, "  right: ");
        snippet_plain(to, str_from(message->right));
        buf_char(to, '\n');
    }
}

static void write_left_out(Buf *to, const char *what)
{
    if (what != NULL) {
        buf_format(to, "%s\n", what);
    }
}

void findings_text_mistakes(Buf *to, const Outcome *outcome, Colour colour)
{
    const Spec *spec = outcome->spec;
    PlaceWalk walk = {0};
    for (const Message *m = spec->messages.first; m != NULL; m = m->next) {
        write_message(to, spec, &walk, m, colour);
    }
    write_left_out(to, report_more_mistakes(outcome));
}

/* Findings */

static Tint tint_of(const Finding *finding)
{
    if (finding->verdict == VERDICT_OPEN) {
        return TINT_STRONG;
    }
    return finding->severity == SEVERITY_FAULT     ? TINT_RED
           : finding->severity == SEVERITY_WARNING ? TINT_YELLOW
                                                   : TINT_NONE;
}

static void write_head(Teller *teller, const Finding *finding)
{
    write_place(teller->to, &teller->walk, &teller->outcome->spec->sources, finding->place, teller->colour);
    const char *severity = report_severity(finding->severity);
    const char *word =
        finding->verdict == VERDICT_OPEN ? text_format(teller->to->arena, "open (%s)", severity) : severity;
    write_word(teller->to, word, teller->colour, tint_of(finding));
    write_sentence(teller->to, finding->message, finding->rule->name);
}

static void draw_finding(const Teller *teller, const Finding *finding)
{
    size_t count = 1;
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        count++;
    }
    SnippetMark *marks = ARENA_ARRAY(teller->to->arena, SnippetMark, count);
    marks[0] = (SnippetMark){.at = finding->place, .text = finding->place_note};
    size_t i = 1;
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        marks[i++] = (SnippetMark){.at = note->at, .text = note->text, .secondary = true};
    }
    snippet_write(teller->to, &teller->outcome->spec->sources, marks, count, teller->colour,
                  tint_of(finding));
}

/* "fresh-tank.mass, joinery.mass" of those in that state; how many they are. */
static uint32_t write_inputs(const Teller *teller, const Finding *finding, SettleState state, const char *before)
{
    uint32_t count = 0;
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        if (settle->state == state) {
            buf_text(teller->to, count++ > 0 ? ", " : before);
            snippet_plain(teller->to, str_from(settle->input));
        }
    }
    return count;
}

/* Where what settles it was not looked for at all. */
static void write_depends(const Teller *teller, const Finding *finding)
{
    const char *before = "  hangs on: ";
    for (const Depend *depend = finding->depends; depend != NULL; depend = depend->next) {
        buf_text(teller->to, before);
        snippet_plain(teller->to, str_from(depend->text));
        before = ", ";
    }
    buf_text(teller->to, finding->depends != NULL ? "\n" : "");
}

static void write_settles(const Teller *teller, const Finding *finding)
{
    Buf *to = teller->to;
    if (finding->verdict == VERDICT_OPEN && finding->settles == NULL) {
        write_depends(teller, finding);
    }
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        if (settle->state == SETTLE_FOUND) {
            buf_text(to, "  hangs on ");
            snippet_plain(to, str_from(settle->input));
            buf_text(to, ": ");
            snippet_plain(to, str_from(settle->text));
            buf_char(to, '\n');
        }
    }
    uint32_t count = write_inputs(teller, finding, SETTLE_NOT_ALONE, "  hangs on ");
    if (count > 0) {
        buf_format(to, ": no value of %s alone settles it\n", count == 1 ? "it" : "one of them");
    }
    if (write_inputs(teller, finding, SETTLE_NOT_TRIED, "  hangs on ") > 0) {
        buf_text(to, ": what settles it was not looked for, as there was too much to compute; `--set` tries a value\n");
    }
    if (write_inputs(teller, finding, SETTLE_NO_VALUE, "  hangs on: ") > 0) {
        buf_char(to, '\n');
    }
}

/* "holds with engine-size=lean, broken with engine-size=stout" has said already what it is only with. */
static bool settles_tell_options(const Finding *finding)
{
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        if (settle->state == SETTLE_FOUND && strstr(settle->text, finding->only_with) != NULL) {
            return true;
        }
    }
    return false;
}

/* "  with it hold 18 more that hang on pump.draw: `wire-drop` on `lights`, ..." */
static void write_told_with(const Teller *teller, const Finding *finding)
{
    enum { NAMED = 3 };
    uint32_t named = 0;
    if (finding->tells == 0) {
        return;
    }
    buf_format(teller->to, "  with it hold %u more that hang on ", (unsigned)finding->tells);
    snippet_plain(teller->to, str_from(settle_cause(finding)->input));
    for (const Finding *f = teller->outcome->findings; f != NULL && named < NAMED; f = f->next) {
        if (f->told_with == finding) {
            buf_format(teller->to, "%s `%s`", named == 0 ? ":" : ",", f->rule->name);
            if (f->subject != NULL) {
                buf_text(teller->to, " on `");
                snippet_plain(teller->to, entity_name(outcome_first(teller->outcome)->model, f->subject));
                buf_char(teller->to, '`');
            }
            named++;
        }
    }
    if (finding->tells > named) {
        buf_format(teller->to, " and %u more, listed in the book", (unsigned)(finding->tells - named));
    }
    buf_char(teller->to, '\n');
}

/* Said where a reader may wonder: "in every option" only of a thing that the options declare. */
static void write_options(const Teller *teller, const Finding *finding)
{
    const Outcome *outcome = teller->outcome;
    if (finding->only_with != NULL && settles_tell_options(finding)) {
        return;
    }
    if (finding->only_with != NULL) {
        buf_text(teller->to, "  only with ");
        snippet_plain(teller->to, str_from(finding->only_with));
        buf_char(teller->to, '\n');
    } else if (finding->combinations < outcome->case_count) {
        buf_format(teller->to, "  in %u of %u combinations of the open choices%s\n",
                   (unsigned)finding->combinations, outcome->case_count,
                   outcome->sampled ? " that were judged" : "");
    } else if (outcome->case_count > 1 && finding->subject != NULL && finding->subject->option != 0) {
        buf_text(teller->to, outcome->sampled ? "  in every option that was tried\n" : "  in every option\n");
    }
}

/* One end in the finding's unit, with so many digits. */
static void write_end(Buf *to, const Finding *finding, double value, int digits)
{
    num_write(to, finding->money ? value : unit_from_si(finding->unit, value), digits);
}

static void write_ends(Buf *to, const Finding *finding, Interval value, int digits)
{
    write_end(to, finding, value.low, digits);
    if (value.high != value.low) {
        buf_text(to, "..");
        write_end(to, finding, value.high, digits);
    }
}

/* As the finding's own sentence prints it. */
static Str printed(Arena *arena, const Finding *finding, Interval value)
{
    Buf text;
    buf_init(&text, arena);
    if (finding->money) {
        num_write_fixed(&text, value.low, 2);
        if (value.high != value.low) {
            buf_text(&text, "..");
            num_write_fixed(&text, value.high, 2);
        }
    } else {
        unit_print(&text, finding->unit, value.low, value.high);
    }
    return buf_str(&text);
}

bool findings_look_equal(Buf *to, const Outcome *outcome, const Finding *finding)
{
    Interval value = finding->value;
    Interval limit = finding->limit;
    bool same = value.low == limit.low && value.high == limit.high;
    if (!finding->compared || finding->verdict != VERDICT_BROKEN || same ||
        !str_equal(printed(to->arena, finding, value), printed(to->arena, finding, limit))) {
        return false;
    }
    Buf exact;
    Buf exact_limit;
    int digits = 3;
    do {
        buf_init(&exact, to->arena);
        buf_init(&exact_limit, to->arena);
        write_ends(&exact, finding, value, digits);
        write_ends(&exact_limit, finding, limit, digits);
    } while (str_equal(buf_str(&exact), buf_str(&exact_limit)) && ++digits <= 17);
    buf_text(to, "the printed digits are equal, the values are not: ");
    buf_add(to, buf_str(&exact));
    buf_text(to, " against ");
    buf_add(to, buf_str(&exact_limit));
    if (finding->money) {
        buf_char(to, ' ');
        buf_add(to, report_currency(outcome));
    } else if (finding->unit.unit != UNIT_NONE) {
        buf_char(to, ' ');
        unit_write(to, finding->unit);
    }
    return true;
}

static void write_closeness(const Teller *teller, const Finding *finding)
{
    Buf text;
    buf_init(&text, teller->to->arena);
    if (findings_look_equal(&text, teller->outcome, finding)) {
        buf_format(teller->to, "  %s\n", text.text);
    }
}

static void write_remedies(const Teller *teller, const Finding *finding)
{
    if (finding->remedies == NULL) {
        return;
    }
    const char *before = "  would hold with: ";
    for (const Remedy *remedy = finding->remedies; remedy != NULL; remedy = remedy->next) {
        buf_text(teller->to, before);
        snippet_plain(teller->to, str_from(remedy->text));
        before = ", or ";
    }
    buf_char(teller->to, '\n');
}

static bool was_told(Teller *teller, const Rule *rule)
{
    for (uint32_t i = 0; i < teller->told_count; i++) {
        if (teller->told[i] == rule) {
            return true;
        }
    }
    if (teller->told_count == teller->told_capacity) {
        uint32_t capacity = teller->told_capacity ? teller->told_capacity * 2 : 32;
        teller->told = arena_grow(teller->to->arena, teller->told, teller->told_capacity * sizeof(Rule *),
                                  capacity * sizeof(Rule *));
        teller->told_capacity = capacity;
    }
    teller->told[teller->told_count++] = rule;
    return false;
}

static void write_finding(Teller *teller, const Finding *finding)
{
    write_head(teller, finding);
    draw_finding(teller, finding);
    write_settles(teller, finding);
    write_told_with(teller, finding);
    finding_write_same(teller->to, &teller->alike, outcome_first(teller->outcome)->model, finding);
    write_options(teller, finding);
    write_closeness(teller, finding);
    if (finding->guessed) {
        buf_text(teller->to, "  rests on a value that is only guessed or estimated\n");
    }
    write_remedies(teller, finding);
    if (!was_told(teller, finding->rule)) {
        buf_format(teller->to, "  rule: %s (see `garboard rules %s`)\n", finding->rule->source,
                   finding->rule->name);
    }
}

/* The summary */

static void write_count(Buf *to, uint32_t count, const char *one, const char *many)
{
    if (to->length > 0) {
        buf_text(to, ", ");
    }
    buf_format(to, "%u %s", count, count == 1 ? one : many);
}

static void write_count_if_any(Buf *to, uint32_t count, const char *one, const char *many)
{
    if (count > 0) {
        write_count(to, count, one, many);
    }
}

static void write_unjudged(Buf *to, const Outcome *outcome)
{
    if (outcome->unjudged > 0) {
        buf_format(to, "; %u %s could not be made", outcome->unjudged, outcome->unjudged == 1 ? "judgement" : "judgements");
    }
    if (outcome->waiting > 0) {
        buf_format(to, "%s %u %s %s", outcome->unjudged > 0 ? "," : ";", outcome->waiting,
                   outcome->unjudged > 0   ? (outcome->waiting == 1 ? "waits" : "wait")
                   : outcome->waiting == 1 ? "judgement waits"
                                           : "judgements wait",
                   outcome->mistakes + outcome->faults == 0 ? "for what is found to be mended"
                   : outcome->mistakes == 0                 ? "for a fault to be mended"
                   : outcome->waiting == 1                  ? "for a mistake to be mended"
                                                            : "for mistakes to be mended");
    }
    if (outcome->strict && outcome->warnings > 0) {
        buf_text(to, "; warnings count as faults");
    }
}

void findings_summary(Buf *to, const Outcome *outcome)
{
    Buf line;
    buf_init(&line, to->arena);
    write_count_if_any(&line, outcome->mistakes, "mistake", "mistakes");
    write_count(&line, outcome->faults, "fault", "faults");
    write_count(&line, outcome->warnings, "warning", "warnings");
    write_count_if_any(&line, outcome->advice, "advice", "advice");
    write_count_if_any(&line, outcome->open, "open", "open");
    write_count_if_any(&line, outcome->waived, "waived", "waived");
    if (outcome->waived_faults > 0) {
        buf_format(&line, " (%u of them counted as a fault all the same)", outcome->waived_faults);
    }
    write_unjudged(&line, outcome);
    buf_add(to, buf_str(&line));
}

static bool is_held_back(const Outcome *outcome, const Finding *finding)
{
    return outcome->mistakes > 0 && finding->severity == SEVERITY_ADVICE;
}

/* What to decide next */

enum { MOST_DECISIONS = 5 }; /* the rest stands in the book */

static void write_decision(Buf *to, const Outcome *outcome, const Decision *decision)
{
    buf_text(to, "  ");
    snippet_plain(to, str_from(decision->name));
    buf_text(to, " (");
    snippet_plain(to, str_from(decide_stands(to->arena, outcome, decision)));
    buf_text(to, "): ");
    snippet_plain(to, str_from(decide_holds_up(to->arena, decision)));
    buf_char(to, '\n');
}

/* Once nothing is broken: until then there is something more urgent to read. */
static void write_decisions(Buf *to, const Outcome *outcome)
{
    if (outcome->mistakes > 0) { /* with faults too: a boat has some for months */
        return;
    }
    const Decisions *decisions = decide_compute(to->arena, outcome);
    if (decisions->holding > 0) {
        buf_text(to, "next to decide, by what it holds up:\n");
    }
    for (uint32_t i = 0; i < decisions->holding && i < MOST_DECISIONS; i++) {
        write_decision(to, outcome, decisions->list[i]);
    }
    if (decisions->holding > MOST_DECISIONS) {
        buf_format(to, "  and %u more, listed in the book\n", (unsigned)(decisions->holding - MOST_DECISIONS));
    }
}

void findings_text(Buf *to, const Outcome *outcome, Colour colour)
{
    Teller teller = {.to = to, .outcome = outcome, .colour = colour, .alike = findings_alike(to->arena, outcome)};
    findings_text_mistakes(to, outcome, colour);
    uint32_t held_back = 0;
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (f->waiver != NULL || f->told_with != NULL || finding_is_named_before(&teller.alike, f)) {
            continue;
        }
        if (is_held_back(outcome, f)) {
            held_back++;
        } else {
            write_finding(&teller, f);
        }
    }
    if (held_back > 0) {
        buf_format(to, "%u advice held back until the mistakes are mended\n", held_back);
    }
    write_left_out(to, report_sampled(outcome));
    write_decisions(to, outcome);
    findings_summary(to, outcome);
    buf_char(to, '\n');
}
