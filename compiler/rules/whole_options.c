/*
 * One rule of the family rules_whole: options-apart. Which options of different choices set one property is found
 * while the combinations of the open choices are laid out (model/clash.h); here it is told.
 */
#include "rules/whole.h"

#include "model/clash.h"

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
