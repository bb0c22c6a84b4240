/* See clash.h. */
#include "model/clash.h"

#include "model/checker.h"
#include "model/walk.h"

#include <stdlib.h>
#include <string.h>

static bool is_open(const Spec *spec, uint32_t choice)
{
    return spec->choices[choice].picked < 0;
}

/* Finding */

static Symbol symbol_at(const Tree *tree, NodeId term)
{
    return term != 0 && tree_kind(tree, term) == NODE_WORD ? tree_node(tree, term)->u.symbol : 0;
}

static void add_sets(Spec *spec, Arena *arena, uint32_t choice, uint32_t option)
{
    const Tree *tree = &spec->tree;
    NodeId owner = spec->choices[choice].options[option].node;
    for (NodeId id = walk_block(tree, owner, 0); id != 0; id = walk_block(tree, owner, id)) {
        if (tree_kind(tree, id) != NODE_SET || tree_node(tree, id)->flags & NODE_BAD) {
            continue;
        }
        uint32_t count = spec->option_set_count;
        if ((count & (count - 1)) == 0) { /* the list doubles */
            uint32_t room = count == 0 ? 1 : count * 2;
            spec->option_sets =
                arena_grow(arena, spec->option_sets, count * sizeof(OptionSet), room * sizeof(OptionSet));
        }
        SetHeader set = tree_set_header(tree, id);
        spec->option_sets[spec->option_set_count++] = (OptionSet){.statement = id,
                                                                  .name = symbol_at(tree, set.name),
                                                                  .outer = symbol_at(tree, set.outer),
                                                                  .target = symbol_at(tree, set.target),
                                                                  .word = symbol_at(tree, set.word),
                                                                  .choice = choice,
                                                                  .option = option};
    }
}

static int compare_symbols(Symbol a, Symbol b)
{
    return (a > b) - (a < b);
}

static int compare_properties(const OptionSet *a, const OptionSet *b)
{
    int by_name = compare_symbols(a->name, b->name);
    int by_outer = by_name != 0 ? by_name : compare_symbols(a->outer, b->outer);
    return by_outer != 0 ? by_outer : compare_symbols(a->word, b->word);
}

/* By property, then as they are read: no two have the same place. */
static int compare_sets(const void *a, const void *b)
{
    const OptionSet *x = a, *y = b;
    int by_property = compare_properties(x, y);
    int by_choice = by_property != 0 ? by_property : (x->choice > y->choice) - (x->choice < y->choice);
    return by_choice != 0 ? by_choice : (x->statement > y->statement) - (x->statement < y->statement);
}

void clashes_find(Spec *spec, Arena *arena)
{
    spec->option_set_count = 0;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        const Choice *choice = &spec->choices[c];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            if (is_open(spec, c) || choice->picked == (int32_t)o) {
                add_sets(spec, arena, c, o);
            }
        }
    }
    if (spec->option_set_count > 1) {
        qsort(spec->option_sets, spec->option_set_count, sizeof(OptionSet), compare_sets);
    }
    for (uint32_t i = 0; i < spec->option_set_count; i++) {
        OptionSet *set = &spec->option_sets[i];
        bool same = i > 0 && compare_properties(&set[-1], set) == 0 && set[-1].choice == set->choice;
        set->before = same ? set[-1].before : i;
    }
}

/* Whether two sets of one property are of the same block: one that does not say which means the only one there is. */
static bool same_target(const OptionSet *a, const OptionSet *b)
{
    return a->target == b->target || a->target == 0 || b->target == 0;
}

/* The two currencies of a rate that is set; false: it is of another property, or is not written so. */
static bool currencies_of(const Tree *tree, NodeId statement, Symbol pair[2])
{
    SetHeader set = tree_set_header(tree, statement);
    NodeId end = statement + 1 + tree_node(tree, statement)->terms;
    uint32_t count = 0;
    if (set.outer != 0 || !str_is(tree_text(tree, set.word), props[PROP_BOAT_RATE].word)) {
        return false;
    }
    for (NodeId term = set.value; term != 0 && term < end; term++) {
        if (tree_kind(tree, term) == NODE_WORD && !str_is(tree_text(tree, term), "per")) {
            if (count == 2) {
                return false;
            }
            pair[count++] = tree_node(tree, term)->u.symbol;
        }
    }
    return count == 2;
}

bool clash_is_of_other_rate(const Tree *tree, NodeId one, NodeId other)
{
    Symbol a[2], b[2];
    return currencies_of(tree, one, a) && currencies_of(tree, other, b) && !(a[0] == b[0] && a[1] == b[1]) &&
           !(a[0] == b[1] && a[1] == b[0]);
}

static bool is_clash(const Spec *spec, const OptionSet *a, const OptionSet *b)
{
    return a->choice != b->choice && (is_open(spec, a->choice) || is_open(spec, b->choice)) && same_target(a, b) &&
           !clash_is_of_other_rate(&spec->tree, a->statement, b->statement);
}

const OptionSet *clashes_of_model(const Model *model, uint32_t *count)
{
    const Spec *spec = model->checker->spec;
    *count = spec->sets_clash ? spec->option_set_count : 0;
    return spec->option_sets;
}

uint32_t clashes_with(const Model *model, uint32_t number, const OptionSet *others[], uint32_t most)
{
    const Spec *spec = model->checker->spec;
    const OptionSet *set = &spec->option_sets[number];
    uint32_t count = 0;
    for (uint32_t i = set->before; i-- > 0 && count < most;) {
        const OptionSet *other = &spec->option_sets[i];
        if (compare_properties(other, set) != 0) {
            break;
        }
        if (is_clash(spec, other, set)) {
            others[count++] = other;
        }
    }
    return count;
}

/* Leaving out */

static bool is_taken(const OptionSet *set, const int32_t *taken)
{
    return taken[set->choice] == (int32_t)set->option;
}

/* How many sets of a combination set what was set before; *at is the first of them. */
static uint32_t count_clashes(const Spec *spec, const int32_t *taken, const OptionSet **at)
{
    uint32_t count = 0;
    const OptionSet *first = NULL; /* that is taken, of the same property */
    for (uint32_t i = 0; i < spec->option_set_count; i++) {
        const OptionSet *set = &spec->option_sets[i];
        if (!is_taken(set, taken)) {
            continue;
        }
        if (first == NULL || compare_properties(first, set) != 0) {
            first = set;
            continue;
        }
        bool clash = false;
        for (const OptionSet *other = first; other < &spec->option_sets[set->before] && !clash; other++) {
            clash = is_taken(other, taken) && is_clash(spec, other, set);
        }
        *at = clash && count == 0 ? set : *at;
        count += clash;
    }
    return count;
}

bool clashes_allow(const Spec *spec, const int32_t *taken)
{
    const OptionSet *at;
    return count_clashes(spec, taken, &at) == 0;
}

/* So many clashes and options are looked at: of more, a combination is left out without trying. */
enum { MENDED_MOST = 16 };

/* Takes another option of a choice, with which there are fewer clashes; false where there is none. */
static bool turn_choice(const Spec *spec, int32_t *taken, uint32_t choice, uint32_t clashes)
{
    const OptionSet *at;
    const int32_t was = taken[choice];
    const uint32_t options = spec->choices[choice].option_count;
    for (uint32_t o = 0; o < options && o < MENDED_MOST && is_open(spec, choice); o++) {
        taken[choice] = (int32_t)o;
        if (count_clashes(spec, taken, &at) < clashes) {
            return true;
        }
    }
    taken[choice] = was;
    return false;
}

/* The choice that sets first what a set of the same combination sets again. */
static uint32_t earlier_choice(const Spec *spec, const int32_t *taken, const OptionSet *set)
{
    for (const OptionSet *other = &spec->option_sets[set->before]; other-- > spec->option_sets;) {
        if (is_taken(other, taken) && is_clash(spec, other, set)) {
            return other->choice;
        }
    }
    return set->choice;
}

/* Turns choices other than `kept` until nothing is set twice; false if that does not come about. */
static bool mend(const Spec *spec, int32_t *taken, uint32_t kept)
{
    const OptionSet *at = NULL;
    uint32_t left = count_clashes(spec, taken, &at);
    while (left > 0 && left <= MENDED_MOST) {
        uint32_t earlier = earlier_choice(spec, taken, at);
        if (!(at->choice != kept && turn_choice(spec, taken, at->choice, left)) &&
            !(earlier != kept && turn_choice(spec, taken, earlier, left))) {
            return false;
        }
        left = count_clashes(spec, taken, &at);
    }
    return left == 0;
}

static int32_t *copied(const Spec *spec, Arena *arena, const int32_t *taken)
{
    int32_t *copy = ARENA_ARRAY(arena, int32_t, spec->choice_count + 1);
    memcpy(copy, taken, spec->choice_count * sizeof *taken);
    return copy;
}

static bool is_covered(const Combinations *combinations, uint32_t choice, uint32_t option)
{
    for (uint32_t i = 0; i < combinations->count; i++) {
        if (combinations->taken[i][choice] == (int32_t)option) {
            return true;
        }
    }
    return false;
}

/* So many options of a choice some combination may take. */
static uint32_t covered_options(const Choice *choice)
{
    return choice->covered > 0 ? choice->covered : choice->option_count;
}

/* What the sample lost of its options, each with such others as it goes with, as far as there is room. */
static void cover_again(const Spec *spec, Arena *arena, Combinations *to, const int32_t *like, uint32_t most)
{
    uint32_t tries = 0;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        const uint32_t options = covered_options(&spec->choices[c]);
        for (uint32_t o = 0; o < options && is_open(spec, c) && to->count < most && tries < most; o++) {
            if (is_covered(to, c, o)) {
                continue;
            }
            int32_t *taken = copied(spec, arena, like);
            taken[c] = (int32_t)o;
            tries++;
            if (mend(spec, taken, c)) {
                to->taken[to->count++] = taken;
            }
        }
    }
}

static void mark_options(Spec *spec, const Combinations *combinations)
{
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        Choice *choice = &spec->choices[c];
        const uint32_t options = covered_options(choice);
        for (uint32_t o = 0; o < options && is_open(spec, c); o++) {
            choice->options[o].excluded = !is_covered(combinations, c, o);
            choice->excluded += choice->options[o].excluded;
        }
    }
}

void clashes_leave_out(Spec *spec, Arena *arena, Combinations *combinations, uint32_t most)
{
    clashes_find(spec, arena);
    Combinations left = {.taken = ARENA_ARRAY(arena, const int32_t *, most),
                         .sampled = combinations->sampled,
                         .unseen = combinations->unseen};
    bool turned = false;
    for (uint32_t i = 0; i < combinations->count && spec->option_set_count > 1; i++) {
        const int32_t *taken = combinations->taken[i];
        if (clashes_allow(spec, taken)) {
            left.taken[left.count++] = taken;
            continue;
        }
        turned = true;
        int32_t *other = copied(spec, arena, taken);
        if (combinations->sampled && mend(spec, other, spec->choice_count)) {
            left.taken[left.count++] = other;
        }
    }
    if (!turned || left.count == 0) {
        return;
    }
    if (left.sampled) {
        cover_again(spec, arena, &left, left.taken[0], most);
    }
    mark_options(spec, &left);
    spec->sets_clash = true;
    *combinations = left;
}
