/*
 * Rules about waivers themselves. They run last, when it is known which findings each waiver has met.
 *
 * A waiver of a rule that there is none of is a mistake in the spec, and told as one here: the model knows
 * no rules.
 */
#include "rules/families.h"

#include "rules/dates.h"

#include "language/suggest.h"

/* A waiver with what it names; rule or subject is NULL where there is no such one. */
typedef struct Waived {
    const Waiver *waiver;
    const Rule *rule;
    const Entity *subject;
    uint32_t matches;
} Waived;

/* The rule that a waiver names; NULL: there is none such. */
static const Rule *waived_rule(const Judge *judge, uint32_t index)
{
    Survey *survey = judge->survey;
    if (survey->waived == NULL) {
        survey->waived = ARENA_ARRAY(judge->arena, const Rule *, judge->model->waiver_count);
        for (uint32_t i = 0; i < judge->model->waiver_count; i++) {
            survey->waived[i] = rule_find(judge->model->waivers[i].rule);
        }
    }
    return survey->waived[index];
}

static Waived waived(const Judge *judge, uint32_t index)
{
    const Waiver *waiver = &judge->model->waivers[index];
    bool named = waiver->subject != 0 && waiver->subject < judge->model->symbol_count;
    return (Waived){.waiver = waiver,
                    .rule = waived_rule(judge, index),
                    .subject = named ? judge->model->by_symbol[waiver->subject] : NULL,
                    .matches = judge->waiver_matches[index]};
}

/* Each waiver of a rule that exists on a thing that exists; the others are mistakes, told as such. */
static void each_waiver(Judge *judge, void (*look)(Judge *, const Waived *))
{
    for (uint32_t i = 0; i < judge->model->waiver_count; i++) {
        Waived w = waived(judge, i);
        if (w.rule != NULL && w.subject != NULL) {
            look(judge, &w);
        }
    }
}

/* waive RULE on SUBJECT until DATE: the date is the sixth term. */
static Span until_span(const Judge *judge, const Waiver *waiver)
{
    return waiver->has_until ? tree_span(judge->model->tree, waiver->node + 6) : waiver->rule_at;
}

/* Rules that there are none of */

static void tell_unknown_rule(Judge *judge, const Waiver *waiver)
{
    Messages *messages = judge->model->messages;
    Message *m = message_report(messages, MESSAGE_UNKNOWN_RULE, waiver->rule_at,
                                "there is no rule called `%.*s`", STR_ARG(waiver->rule));
    Suggestions near = suggest_begin(waiver->rule);
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            suggest_offer(&near, str_from(rule_families[f]->rules[r].name));
        }
    }
    Buf right;
    buf_init(&right, judge->arena);
    if (suggest_write(&right, &near)) {
        message_right(messages, m, "%s", right.text);
    } else {
        message_right(messages, m, "one of the rules that `garboard rules` lists");
    }
}

static void tell_unknown_rules(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->waiver_count; i++) {
        if (waived_rule(judge, i) == NULL) {
            tell_unknown_rule(judge, &judge->model->waivers[i]);
        }
    }
}

/* waiver-stale */

static bool is_stale(const Judge *judge, const Waiver *waiver)
{
    return waiver->has_until && waiver->until < judge->today;
}

static void look_stale(Judge *judge, const Waived *w)
{
    if (w->matches == 0) {
        return; /* told by `waiver-idle`: the line can go, whatever its date */
    }
    if (!is_stale(judge, w->waiver)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, w->subject, until_span(judge, w->waiver));
    finding_say(judge, finding, "`%s` on `%s` was set aside until %s, %s ago, and counts again",
                w->rule->name, say_name(judge, w->subject), say_date(judge, w->waiver->until),
                say_days(judge, judge->today - w->waiver->until));
    finding_remedy(judge, finding,
                   "the fault mended and this line deleted, or a later `until` with its reason");
}

static void judge_stale(Judge *judge)
{
    tell_unknown_rules(judge);
    each_waiver(judge, look_stale);
}

/* waiver-idle */

/* Whether a place lies in a statement, or in its block. */
static bool stands_in(const Tree *tree, NodeId statement, uint32_t at)
{
    const Node *node = tree_node(tree, statement);
    bool inside = at >= node->start && at < node->end;
    for (NodeId id = node->u.child; id != 0 && !inside; id = tree_node(tree, id)->next) {
        inside = stands_in(tree, id, at);
    }
    return inside;
}

/*
 * Whether a waiver that names a thing may have meant a finding of another: it stands on a line of that thing, or the other one had
 * this name before. That the same rule finds something elsewhere is no reason to set that aside: the reason was given for this.
 */
static bool may_be_meant(const Judge *judge, const Waived *w, const Finding *f)
{
    return f->rule == w->rule && f->waiver == NULL && f->subject != NULL &&
           (f->at == w->subject || entity_was(judge->model, f->subject, entity_name(judge->model, w->subject)) ||
            stands_in(judge->model->tree, w->subject->node, f->place.start));
}

static void offer_subjects(Judge *judge, Finding *idle, const Waived *w)
{
    enum { OFFERED = 3 };
    const Entity *offered[OFFERED];
    int count = 0;
    for (const Finding *f = judge->first; f != NULL && count < OFFERED; f = f->next) {
        bool told = !may_be_meant(judge, w, f);
        for (int i = 0; i < count && !told; i++) {
            told = offered[i] == f->subject;
        }
        if (!told) {
            offered[count++] = f->subject;
            finding_remedy(judge, idle, "`waive %s on %s`, where something is found", w->rule->name, say_name(judge, f->subject));
        }
    }
}

static void look_idle(Judge *judge, const Waived *w)
{
    if (w->matches > 0) {
        judge_holds(judge);
        return;
    }
    if (judge->waiting > 0 && w->rule->basis & (1 << judge->basis)) {
        judge_waiting(judge); /* what it sets aside may rest on a mistake that hides it now */
        return;
    }
    Finding *finding = judge_broken(judge, w->subject, w->waiver->rule_at);
    if (w->rule->basis & (1 << judge->basis)) {
        finding_say(judge, finding, "this sets aside `%s` on `%s`, where nothing is found", w->rule->name,
                    say_name(judge, w->subject));
        offer_subjects(judge, finding, w);
    } else {
        finding_say(judge, finding, "this sets aside `%s`, which is not judged on this basis", w->rule->name);
    }
    finding_remedy(judge, finding, "no such line");
}

static void judge_idle(Judge *judge)
{
    each_waiver(judge, look_idle);
}

/* waiver-open-ended */

static bool needs_end(const Rule *rule)
{
    switch (rule->danger) {
    case DANGER_MAINS:
    case DANGER_GAS:
    case DANGER_FUEL:
    case DANGER_FLOODING:
    case DANGER_DRINKING: return rule->severity == SEVERITY_FAULT;
    case DANGER_NONE:
    case DANGER_BATTERY:
    case DANGER_FIRE: break;
    }
    return false;
}

static const char *danger_words(Danger danger)
{
    static const char *const words[] = {
        [DANGER_NONE] = "",   [DANGER_MAINS] = "mains power", [DANGER_BATTERY] = "batteries",
        [DANGER_GAS] = "gas", [DANGER_FUEL] = "fuel",         [DANGER_FLOODING] = "flooding",
        [DANGER_FIRE] = "fire", [DANGER_DRINKING] = "drinking water",
    };
    return words[danger];
}

static void look_open_ended(Judge *judge, const Waived *w)
{
    if (!needs_end(w->rule) || w->matches == 0) {
        return;
    }
    Date latest = date_add_months(judge->today, 12);
    if (w->waiver->has_until && w->waiver->until <= latest) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, w->subject, until_span(judge, w->waiver));
    finding_say(judge, finding, "`%s` is a danger of %s, and is set aside %s", w->rule->name,
                danger_words(w->rule->danger),
                w->waiver->has_until ? "for more than a year" : "without an end");
    finding_remedy(judge, finding, "`until` a day, %s at the latest", say_date(judge, latest));
}

static void judge_open_ended(Judge *judge)
{
    each_waiver(judge, look_open_ended);
}

/* waiver-broad */

/* What tells a finding from another of the same rule on the same thing. */
static const char *told_apart(const Judge *judge, const Finding *finding)
{
    return finding->at != NULL            ? say_name(judge, finding->at)
           : finding->about != PROP_NONE ? props[finding->about].word
           : finding->matter != NULL     ? finding->matter
                                         : "";
}

/* "`co` and `smoke`": what is set aside of one rule on one thing. */
static const char *list_taken(const Judge *judge, const Waived *w)
{
    Buf list;
    buf_init(&list, judge->arena);
    uint32_t left = w->matches;
    for (const Finding *f = judge->first; f != NULL && left > 0; f = f->next) {
        if (f->rule != w->rule || f->subject != w->subject) {
            continue;
        }
        const char *apart = told_apart(judge, f);
        const char *between = list.length == 0 ? "" : left == 1 ? " and " : ", ";
        buf_format(&list, apart[0] != 0 ? "%s`%s`" : "%s\"%s\"", between, apart[0] != 0 ? apart : f->message);
        left--;
    }
    return list.text;
}

static void look_broad(Judge *judge, const Waived *w)
{
    if (w->matches < 2 || is_stale(judge, w->waiver)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, w->subject, w->waiver->rule_at);
    finding_say(judge, finding, "this sets aside %u findings of `%s` on `%s` at once: %s", (unsigned)w->matches, w->rule->name,
                say_name(judge, w->subject), list_taken(judge, w));
    finding_remedy(judge, finding, "nothing, if its reason is one for all of them; else mend what is not meant");
}

static void judge_broad(Judge *judge)
{
    each_waiver(judge, look_broad);
}

/* The table */

#define WAIVE_NO_PARTS(until) "waive no-parts on horn" until " because \"The maker sells on request.\"\n"

static const char waiver_is_a_line[] = "a waiver says what it sets aside, and until when";

static const Rule rules[] = {
    {
        .name = "waiver-stale",
        .severity = SEVERITY_WARNING,
        .title = "no waiver is past its date",
        .basis = ON_BOTH,
        .of_findings = true,
        .source = "common practice, no source",
        .why = "A waiver with a date is a promise to look again. Past that day it sets nothing aside any "
               "more.",
        .breaks = EXAMPLE_BOAT "item horn { discontinued yes }\n" WAIVE_NO_PARTS(" until 2001-06-30"),
        .holds = EXAMPLE_BOAT "item horn { discontinued yes }\n" WAIVE_NO_PARTS(""),
        .never_open = waiver_is_a_line,
        .judge_boat = judge_stale,
    },
    {
        .name = "waiver-idle",
        .severity = SEVERITY_WARNING,
        .title = "every waiver sets something aside",
        .of_all_cases = true,
        .basis = ON_BOTH,
        .of_findings = true,
        .source = "common practice, no source",
        .why = "A waiver that meets no finding is left over from one that was mended, or names the wrong "
               "thing; kept, it would hide the same fault when it comes back.",
        .breaks = EXAMPLE_BOAT "item horn { discontinued yes; spare 1 }\n" WAIVE_NO_PARTS(""),
        .holds = EXAMPLE_BOAT "item horn { discontinued yes }\n" WAIVE_NO_PARTS(""),
        .never_open = waiver_is_a_line,
        .judge_boat = judge_idle,
    },
    {
        .name = "waiver-broad",
        .severity = SEVERITY_ADVICE,
        .title = "a waiver sets aside one finding, or says by its reason why several",
        .basis = ON_BOTH,
        .of_findings = true,
        .source = "common practice, no source",
        .why = "A waiver names a rule and a thing, and takes all that the rule finds there: what was written for the smoke alarm "
               "sets the one for carbon monoxide aside too, now or when it is found later.",
        .breaks = EXAMPLE_BOAT "space saloon { sleeping yes }\nwaive alarm-missing on saloon because \"They come in May.\"\n",
        .holds = EXAMPLE_BOAT "item horn { discontinued yes }\n" WAIVE_NO_PARTS(""),
        .never_open = waiver_is_a_line,
        .judge_boat = judge_broad,
    },
    {
        .name = "waiver-open-ended",
        .severity = SEVERITY_WARNING,
        .title = "a waived danger of mains, gas, fuel or flooding has an end within a year",
        .basis = ON_BOTH,
        .of_findings = true,
        .source = "common practice, no source",
        .why = "What can drown, burn or electrocute somebody may wait for the next haul-out, not for ever.",
        .breaks = EXAMPLE_BOAT "through-hull sink-drain { bore 38 mm; height -0.2 m; seacock no }\n"
                               "waive seacock on sink-drain because \"A new one at the haul-out.\"\n",
        .holds = EXAMPLE_BOAT "through-hull sink-drain { bore 38 mm; height -0.2 m; seacock yes }\n",
        .never_open = waiver_is_a_line,
        .judge_boat = judge_open_ended,
    },
};
const RuleFamily rules_waivers = RULE_FAMILY("Waivers", rules);
