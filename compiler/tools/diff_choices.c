/*
 * What differs in choices (question, options, pick, reason, scores) and in waivers.
 *
 * Choices, options and criteria are known by their names; a waiver by its rule and its subject. What stands
 * in an option is compared with the things.
 */
#include "tools/diff_parts.h"

#include "base/num.h"

#include <string.h>

static const char *name_of(const Diff *diff, const DiffSide *side, Symbol symbol)
{
    return str_copy(diff->arena, symbols_text(side_symbols(side), symbol));
}

static const char *quoted(const Diff *diff, Str text)
{
    return text.length > 0 ? text_format(diff->arena, "\"%.*s\"", STR_ARG(text)) : NULL;
}

/* Choices */

static const Choice *find_choice(const DiffSide *side, Str name)
{
    const Spec *spec = side->outcome->spec;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        if (str_equal(symbols_text(spec->symbols, spec->choices[i].name), name)) {
            return &spec->choices[i];
        }
    }
    return NULL;
}

static const DiffOption *option_of(const DiffSide *side, const Choice *choice, uint32_t index)
{
    for (uint32_t i = 0; i < side->option_count; i++) {
        if (side->options[i].choice == choice && side->options[i].index == index) {
            return &side->options[i];
        }
    }
    return NULL;
}

static const char *pick_of(const Diff *diff, const DiffSide *side, const Choice *choice)
{
    return choice->picked < 0 ? NULL : name_of(diff, side, choice->options[choice->picked].name);
}

static void tell_option(Diff *diff, DiffLine **lines, const char *name, const Option *option, DiffHow how)
{
    const char *title = quoted(diff, option->title);
    title = title != NULL ? title : "";
    diff_add_line(diff, lines,
                  (DiffLine){.how = how,
                             .property = text_format(diff->arena, "option %s", name),
                             .before = how == DIFF_REMOVED ? title : NULL,
                             .after = how == DIFF_ADDED ? title : NULL,
                             .repeats = true});
}

/* The options of one of the two, against those of the other; titles only once. */
static void compare_options(Diff *diff, DiffLine **lines, const DiffSide *side, const Choice *choice,
                            DiffHow how)
{
    for (uint32_t o = 0; o < choice->option_count; o++) {
        const DiffOption *option = option_of(side, choice, o);
        const char *name = name_of(diff, side, choice->options[o].name);
        const DiffOption *partner = option != NULL ? option->partner : NULL;
        if (partner == NULL) {
            tell_option(diff, lines, name, &choice->options[o], how);
        } else if (how == DIFF_ADDED) {
            diff_add_texts(diff, lines, text_format(diff->arena, "title of %s", name),
                           quoted(diff, partner->choice->options[partner->index].title),
                           quoted(diff, choice->options[o].title));
        }
    }
}

static const char *score_text(const Diff *diff, const Score *score)
{
    Buf text;
    buf_init(&text, diff->arena);
    num_write(&text, score->points, 6);
    buf_text(&text, " of ");
    num_write(&text, score->of, 6);
    return text.text;
}

/* Scores of one choice as lines of one side. */
static const Model *scores_model(const DiffSide *side)
{
    return side->model_count > 0 ? side->models[0] : NULL;
}

static bool is_score_of(const Choice *choice, const Score *score)
{
    return score->choice->node == choice->node;
}

/* The n-th score of that option and criterion in the other spec; NULL if there is none. */
static const Score *find_score(const DiffSide *side, const Choice *choice, const char *option,
                               const char *criterion)
{
    const Model *model = scores_model(side);
    for (uint32_t i = 0; model != NULL && choice != NULL && i < model->score_count; i++) {
        const Score *score = &model->scores[i];
        if (is_score_of(choice, score) &&
            str_is(symbols_text(side_symbols(side), choice->options[score->option].name), option) &&
            str_is(symbols_text(side_symbols(side), score->criterion), criterion)) {
            return score;
        }
    }
    return NULL;
}

/* A criterion may have been renamed. */
static const char *criterion_there(const Diff *diff, const DiffSide *from, const DiffSide *to,
                                   Symbol criterion)
{
    Symbol there = criterion < from->symbol_count ? from->other[criterion] : 0;
    return there != 0 ? name_of(diff, to, there) : name_of(diff, from, criterion);
}

/* The scores of a choice of the new side that the old one has otherwise or not (DIFF_ADDED), or of the old one that are gone. */
static void compare_scores(Diff *diff, DiffLine **lines, const Choice *choice, const Choice *other, DiffHow how)
{
    const DiffSide *side = how == DIFF_ADDED ? &diff->after : &diff->before;
    const DiffSide *other_side = how == DIFF_ADDED ? &diff->before : &diff->after;
    const Model *model = scores_model(side);
    for (uint32_t i = 0; model != NULL && i < model->score_count; i++) {
        const Score *score = &model->scores[i];
        if (!is_score_of(choice, score)) {
            continue;
        }
        const char *option = name_of(diff, side, choice->options[score->option].name);
        const char *criterion = criterion_there(diff, side, other_side, score->criterion);
        const Score *there = find_score(other_side, other, option, criterion);
        const char *what =
            text_format(diff->arena, "score %s of %s", name_of(diff, side, score->criterion), option);
        if (there == NULL) {
            const char *text = score_text(diff, score);
            diff_add_texts(diff, lines, what, how == DIFF_REMOVED ? text : NULL,
                           how == DIFF_ADDED ? text : NULL);
        } else if (how == DIFF_ADDED) {
            diff_add_texts(diff, lines, what, score_text(diff, there), score_text(diff, score));
        }
    }
}

static DiffChoice *add_choice(Diff *diff, const DiffSide *side, const Choice *choice, DiffHow how,
                              DiffLine *lines)
{
    DiffChoice **end = &diff->choices;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(diff->arena, DiffChoice);
    **end = (DiffChoice){.how = how,
                         .name = name_of(diff, side, choice->name),
                         .title = str_copy(diff->arena, choice->title),
                         .lines = lines};
    return *end;
}

static void compare_choice(Diff *diff, const Choice *before, const Choice *after)
{
    DiffLine *lines = NULL;
    diff_add_texts(diff, &lines, "title", quoted(diff, before->title), quoted(diff, after->title));
    diff_add_texts(diff, &lines, "pick", pick_of(diff, &diff->before, before),
                   pick_of(diff, &diff->after, after));
    diff_add_texts(diff, &lines, "because", quoted(diff, before->because), quoted(diff, after->because));
    compare_options(diff, &lines, &diff->after, after, DIFF_ADDED);
    compare_options(diff, &lines, &diff->before, before, DIFF_REMOVED);
    compare_scores(diff, &lines, after, before, DIFF_ADDED);
    compare_scores(diff, &lines, before, after, DIFF_REMOVED);
    if (lines != NULL) {
        add_choice(diff, &diff->after, after, DIFF_CHANGED, lines);
    }
}

/* A choice that only one of the two has, with its options and its pick. */
static void tell_choice(Diff *diff, const DiffSide *side, const Choice *choice, DiffHow how)
{
    DiffLine *lines = NULL;
    const char *pick = pick_of(diff, side, choice);
    const char *because = quoted(diff, choice->because);
    bool added = how == DIFF_ADDED;
    compare_options(diff, &lines, side, choice, how);
    diff_add_texts(diff, &lines, "pick", added ? NULL : pick, added ? pick : NULL);
    diff_add_texts(diff, &lines, "because", added ? NULL : because, added ? because : NULL);
    add_choice(diff, side, choice, how, lines);
}

static void compare_choices(Diff *diff)
{
    const Spec *before = diff->before.outcome->spec;
    const Spec *after = diff->after.outcome->spec;
    for (uint32_t i = 0; i < after->choice_count; i++) {
        const Choice *choice = &after->choices[i];
        const Choice *old = find_choice(&diff->before, symbols_text(after->symbols, choice->name));
        if (old != NULL) {
            compare_choice(diff, old, choice);
        } else {
            tell_choice(diff, &diff->after, choice, DIFF_ADDED);
        }
    }
    for (uint32_t i = 0; i < before->choice_count; i++) {
        const Choice *choice = &before->choices[i];
        if (find_choice(&diff->after, symbols_text(before->symbols, choice->name)) == NULL) {
            tell_choice(diff, &diff->before, choice, DIFF_REMOVED);
        }
    }
}

/* Waivers */

static bool same_subject(const Diff *diff, Symbol before, Symbol after)
{
    Symbol followed = name_after(diff, before);
    return followed != 0 ? followed == after
                         : str_equal(symbols_text(side_symbols(&diff->before), before),
                                     symbols_text(side_symbols(&diff->after), after));
}

static bool same_terms(const Waiver *a, const Waiver *b)
{
    return a->has_until == b->has_until && (!a->has_until || a->until == b->until) &&
           str_equal(a->because, b->because);
}

static void add_waiver(Diff *diff, const Waiver *before, const Waiver *after)
{
    DiffWaiver **end = &diff->waivers;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(diff->arena, DiffWaiver);
    const Waiver *waiver = after != NULL ? after : before;
    const DiffSide *side = after != NULL ? &diff->after : &diff->before;
    **end = (DiffWaiver){.rule = str_copy(diff->arena, waiver->rule),
                         .subject = name_of(diff, side, waiver->subject),
                         .before = before,
                         .after = after};
}

static void compare_waivers(Diff *diff, const Model *before, const Model *after)
{
    bool *done_before = ARENA_ARRAY(diff->arena, bool, before->waiver_count);
    bool *done_after = ARENA_ARRAY(diff->arena, bool, after->waiver_count);
    for (int same = 1; same >= 0; same--) {
        for (uint32_t i = 0; i < after->waiver_count; i++) {
            const Waiver *now = &after->waivers[i];
            for (uint32_t j = 0; j < before->waiver_count && !done_after[i]; j++) {
                const Waiver *old = &before->waivers[j];
                if (!done_before[j] && str_equal(old->rule, now->rule) &&
                    same_subject(diff, old->subject, now->subject) && (!same || same_terms(old, now))) {
                    done_before[j] = done_after[i] = true;
                    if (!same) {
                        add_waiver(diff, old, now);
                    }
                }
            }
        }
    }
    for (uint32_t i = 0; i < after->waiver_count; i++) {
        if (!done_after[i]) {
            add_waiver(diff, NULL, &after->waivers[i]);
        }
    }
    for (uint32_t j = 0; j < before->waiver_count; j++) {
        if (!done_before[j]) {
            add_waiver(diff, &before->waivers[j], NULL);
        }
    }
}

void diff_find_choices(Diff *diff)
{
    compare_choices(diff);
    if (diff->before.model_count > 0 && diff->after.model_count > 0) {
        compare_waivers(diff, diff->before.models[0], diff->after.models[0]);
    }
}
