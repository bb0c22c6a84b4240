/*
 * Rules of the family rules_whole about what is set: options-apart and set-over. Which options of different choices set one
 * property is found while the combinations of the open choices are laid out (model/clash.h), and which lines something set
 * stands in place of as it is set (model/settings.h); here it is told.
 */
#include "rules/whole.h"

#include "model/clash.h"
#include "model/settings.h"
#include "text/snippet.h"

/* "light=dim" */
static const char *say_option(const Judge *judge, const OptionSet *set)
{
    const Choice *choice = &judge->model->choices[set->choice];
    const Symbols *symbols = judge->model->tree->symbols;
    return text_format(judge->arena, "%.*s=%.*s", STR_ARG(symbols_text(symbols, choice->name)),
                       STR_ARG(symbols_text(symbols, choice->options[set->option].name)));
}

/* "lamps.count", as it is written. */
static const char *say_set(const Judge *judge, const OptionSet *set)
{
    const Tree *tree = judge->model->tree;
    SetHeader header = tree_set_header(tree, set->statement);
    Span span = tree_span(tree, header.name);
    span.end = tree_span(tree, header.word).end;
    return str_copy(judge->arena, span_text(tree->sources, span));
}

enum { OTHERS_MOST = 4 }; /* so many are named */

static const char *say_others(const Judge *judge, const OptionSet *const others[], uint32_t count)
{
    Buf text;
    buf_init(&text, judge->arena);
    for (uint32_t i = count; i-- > 0;) { /* they come the last one first */
        buf_format(&text, "%s`%s`", i + 1 == count ? "" : i == 0 ? " or " : ", ", say_option(judge, others[i]));
    }
    return text.text;
}

static void tell_apart(Judge *judge, const OptionSet *set, const OptionSet *const others[], uint32_t count)
{
    const Tree *tree = judge->model->tree;
    const char *option = say_option(judge, set);
    Finding *finding = judge_broken(judge, NULL, tree_span(tree, tree_set_header(tree, set->statement).word));
    finding_matter(finding, text_format(judge->arena, "%s %s", option, say_set(judge, set)));
    bool never = judge->model->choices[set->choice].options[set->option].excluded;
    finding_say(judge, finding,
                "`%s` cannot be picked together with %s: %s `%s`; figures and findings leave %s out", option,
                say_others(judge, others, count), count == 1 ? "both set" : "each sets", say_set(judge, set),
                never ? "it" : "such a boat");
    for (uint32_t i = count; i-- > 0;) {
        Span at = tree_span(tree, tree_set_header(tree, others[i]->statement).word);
        finding_note(judge, finding, at, "set here too");
    }
    finding_remedy(judge, finding, "one choice in place of the two, with an option for each pair that is meant");
    finding_remedy(judge, finding, "the `set` in one of them alone");
}

void judge_options_apart(Judge *judge)
{
    uint32_t count;
    const OptionSet *sets = clashes_of_model(judge->model, &count);
    bool holds = true;
    for (uint32_t i = 0; i < count; i++) {
        const OptionSet *others[OTHERS_MOST];
        uint32_t found = clashes_with(judge->model, i, others, OTHERS_MOST);
        if (found > 0) {
            tell_apart(judge, &sets[i], others, found);
            holds = false;
        }
    }
    if (holds) {
        judge_holds(judge);
    }
}

/* set-over */

static const char *say_statement(const Judge *judge, NodeId statement)
{
    Buf text;
    buf_init(&text, judge->arena);
    snippet_plain(&text, span_text(judge->model->tree->sources, tree_span(judge->model->tree, statement)));
    return text.text;
}

/* Of one statement: what it stands in place of, and says not again. */
static void tell_over(Judge *judge, const SetOver *first)
{
    uint32_t lost = 0;
    Finding *finding = judge_broken(judge, first->thing, tree_span(judge->model->tree, first->by));
    for (const SetOver *over = first; over != NULL; over = over->next) {
        if (over->by == first->by && over->line.node != 0 && !settings_say_anew(judge->model, over)) {
            finding_note(judge, finding, tree_span(judge->model->tree, over->line.node), "this counts no more");
            lost++;
        }
    }
    const char *word = props[first->line.id].word;
    finding_about(finding, (PropId)first->line.id);
    finding_say(judge, finding, "`%s` stands in place of all lines of `%s`: %u of `%s` %s no more", say_statement(judge, first->by), word,
                (unsigned)lost, say_name(judge, first->thing), lost == 1 ? "counts" : "count");
    finding_remedy(judge, finding, "a line more that sets `%.*s.%s`, for each that is to stay", STR_ARG(entity_name(judge->model, first->thing)),
                   word);
}

/* The statement whose lines were told with another one. */
static bool is_told(const Judge *judge, const SetOver *over)
{
    for (const SetOver *before = settings_over(judge->model); before != over; before = before->next) {
        if (before->by == over->by && before->line.node != 0 && !settings_say_anew(judge->model, before)) {
            return true;
        }
    }
    return false;
}

void judge_set_over(Judge *judge)
{
    bool holds = true;
    for (const SetOver *over = settings_over(judge->model); over != NULL; over = over->next) {
        if (over->line.node != 0 && !settings_say_anew(judge->model, over) && !is_told(judge, over)) {
            tell_over(judge, over);
            holds = false;
        }
    }
    if (holds) {
        judge_holds(judge);
    }
}
