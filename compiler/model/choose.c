/*
 * Choices: which there are, what is picked, and which option each of the models to build is to take.
 */
#include "model/checker.h"
#include "model/clash.h"
#include "model/walk.h"

#include "language/suggest.h"

#include <string.h>

/* Room for one more in a list that doubles: at 0, 1, 2, 4, 8 ... */
static void *grown(Arena *arena, void *list, uint32_t count, size_t size)
{
    bool full = (count & (count - 1)) == 0;
    return full ? arena_grow(arena, list, count * size, (count == 0 ? 1 : count * 2) * size) : list;
}

static int32_t find_option(const Choice *choice, Symbol name)
{
    for (uint32_t i = 0; i < choice->option_count; i++) {
        if (choice->options[i].name == name) {
            return (int32_t)i;
        }
    }
    return -1;
}

/* "`lean`, `stout` or `old-iron`" */
static void list_options(const Spec *spec, Buf *to, const Choice *choice)
{
    for (uint32_t i = 0; i < choice->option_count; i++) {
        Str name = symbols_text(spec->symbols, choice->options[i].name);
        buf_format(to, "%s`%.*s`", i == 0 ? "" : i + 1 == choice->option_count ? " or " : ", ", STR_ARG(name));
    }
}

static void tell_unknown_pick(Spec *spec, const Choice *choice, NodeId term)
{
    Message *m = message_report(&spec->messages, MESSAGE_PICK_UNKNOWN, tree_span(&spec->tree, term),
                                "`%.*s` has no option `%.*s`", STR_ARG(symbols_text(spec->symbols, choice->name)),
                                STR_ARG(tree_text(&spec->tree, term)));
    Buf names;
    buf_init(&names, spec->messages.arena);
    list_options(spec, &names, choice);
    message_right(&spec->messages, m, "%s", names.text);
}

static void tell_twice(Spec *spec, NodeId again, NodeId first, const char *what)
{
    Message *m = message_report(&spec->messages, MESSAGE_PROPERTY_TWICE, tree_span(&spec->tree, again + 1),
                                "%s of this choice is stated twice", what);
    message_note(&spec->messages, m, tree_span(&spec->tree, first + 1), "here first");
    message_right(&spec->messages, m, "one of the two lines");
}

static void add_option(Spec *spec, Arena *arena, Choice *choice, NodeId id)
{
    const Tree *tree = &spec->tree;
    Header header = tree_header(tree, id);
    if (header.name == 0) {
        choice->left_out = true;
        return;
    }
    Str name = tree_text(tree, header.name);
    int32_t first = find_option(choice, tree_node(tree, header.name)->u.symbol);
    if (first >= 0) {
        choice->left_out = true;
        Message *m = message_report(&spec->messages, MESSAGE_NAME_TWICE, tree_span(tree, header.name),
                                    "this choice has an option `%.*s` already", STR_ARG(name));
        message_note(&spec->messages, m, tree_span(tree, choice->options[first].node + 2), "this");
        message_right(&spec->messages, m, "another name for one of the two");
        return;
    }
    choice->options = grown(arena, choice->options, choice->option_count, sizeof(Option));
    choice->options[choice->option_count++] =
        (Option){.node = id, .name = tree_node(tree, header.name)->u.symbol, .title = header.title};
}

static void read_choice(Spec *spec, Arena *arena, Choice *choice)
{
    const Tree *tree = &spec->tree;
    NodeId pick = 0;
    NodeId reason = 0;
    for (NodeId id = walk_block(tree, choice->node, 0); id != 0; id = walk_block(tree, choice->node, id)) {
        if (tree_node(tree, id)->flags & NODE_BAD && tree_kind(tree, id) != NODE_OPTION) {
            continue;
        }
        switch (tree_kind(tree, id)) {
        case NODE_OPTION:
            add_option(spec, arena, choice, id);
            break;
        case NODE_PICK:
            if (pick != 0) {
                tell_twice(spec, id, pick, "the pick");
            }
            pick = pick != 0 ? pick : id;
            break;
        case NODE_BECAUSE: {
            uint16_t term = 1;
            if (reason != 0) {
                tell_twice(spec, id, reason, "the reason");
                break;
            }
            reason = id;
            choice->because = tree_joined_text(tree, id, &term);
            break;
        }
        default:
            break;
        }
    }
    if (choice->option_count == 0 && !(tree_node(tree, choice->node)->flags & NODE_BAD)) {
        Message *m = message_report(&spec->messages, MESSAGE_CHOICE_EMPTY, tree_span(tree, choice->node + 2),
                                    "a choice needs an option at least");
        message_right(&spec->messages, m, "`option NAME { ... }` inside of it");
    }
    if (pick != 0) {
        choice->picked = find_option(choice, tree_node(tree, pick + 2)->u.symbol);
        if (choice->picked < 0 && choice->option_count > 0) {
            tell_unknown_pick(spec, choice, pick + 2);
        }
    }
}

void choose_find(Spec *spec, Arena *arena)
{
    Walk walk = walk_others(spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(&spec->tree, id) != NODE_CHOICE) {
            continue;
        }
        Header header = tree_header(&spec->tree, id);
        if (header.name == 0) {
            continue;
        }
        spec->choices = grown(arena, spec->choices, spec->choice_count, sizeof(Choice));
        Choice *choice = &spec->choices[spec->choice_count++];
        *choice = (Choice){.node = id,
                           .name = tree_node(&spec->tree, header.name)->u.symbol,
                           .title = header.title,
                           .picked = -1};
        read_choice(spec, arena, choice);
    }
}

/* "`engine-size` or `galley`" */
static void list_choices(const Spec *spec, Buf *to)
{
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        Str name = symbols_text(spec->symbols, spec->choices[i].name);
        buf_format(to, "%s`%.*s`", i == 0 ? "" : i + 1 == spec->choice_count ? " or " : ", ", STR_ARG(name));
    }
}

/* Where the spec has mistakes the name may stand in one of them: then it is told with these. */
static const char *refuse_pick(Spec *spec, Str choice, Str option, const char *why, const char *right)
{
    const char *what =
        text_format(spec->messages.arena, "`--with %.*s=%.*s`: %s", STR_ARG(choice), STR_ARG(option), why);
    if (spec->messages.count == 0) {
        return right[0] != '\0' ? text_format(spec->messages.arena, "%s; it has %s", what, right) : what;
    }
    Message *m = message_report_whole(&spec->messages, MESSAGE_PICK_UNKNOWN, "%s", what);
    if (right[0] != '\0') {
        message_right(&spec->messages, m, "%s", right);
    }
    return NULL;
}

const char *spec_pick(Spec *spec, Str choice_name, Str option)
{
    Suggestions near = suggest_begin(choice_name);
    Buf right;
    buf_init(&right, spec->messages.arena);
    buf_text(&right, "");
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        Choice *choice = &spec->choices[i];
        Str name = symbols_text(spec->symbols, choice->name);
        if (!str_equal(name, choice_name)) {
            suggest_offer(&near, name);
            continue;
        }
        Symbol wanted = symbols_find(spec->symbols, option);
        int32_t found = wanted != 0 ? find_option(choice, wanted) : -1;
        if (found >= 0) {
            choice->picked = found;
            choice->by_command = true;
            return NULL;
        }
        list_options(spec, &right, choice);
        return refuse_pick(spec, choice_name, option, "the choice has no option of that name", right.text);
    }
    if (!suggest_write(&right, &near)) {
        list_choices(spec, &right);
    }
    return refuse_pick(spec, choice_name, option, "the spec has no choice of that name", right.text);
}

bool choice_takes(const Choice *choice, NodeId option)
{
    if (choice->picked >= 0) {
        return choice->options[choice->picked].node == option;
    }
    uint32_t taken = choice->covered > 0 ? choice->covered : choice->option_count;
    for (uint32_t i = 0; i < taken; i++) {
        if (choice->options[i].node == option) {
            return !choice->options[i].excluded;
        }
    }
    return false;
}

static bool is_open(const Choice *choice)
{
    return choice->picked < 0 && choice->option_count > 0;
}

uint64_t spec_combinations(const Spec *spec, uint64_t most)
{
    uint64_t product = 1;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        if (is_open(&spec->choices[i])) {
            product *= spec->choices[i].option_count;
            if (product > most) {
                return most + 1;
            }
        }
    }
    return product;
}

/* The first or the last option of each open choice, which the caller changes to what it wants. */
static int32_t *end_options(const Spec *spec, Arena *arena, bool last)
{
    int32_t *taken = ARENA_ARRAY(arena, int32_t, spec->choice_count + 1);
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        const Choice *choice = &spec->choices[c];
        taken[c] = !is_open(choice) ? choice->picked : last ? (int32_t)choice->option_count - 1 : 0;
    }
    return taken;
}

static int32_t *first_options(const Spec *spec, Arena *arena)
{
    return end_options(spec, arena, false);
}

const int32_t *spec_combination(const Spec *spec, Arena *arena, uint64_t number)
{
    int32_t *taken = first_options(spec, arena);
    for (uint32_t c = spec->choice_count; c-- > 0;) {
        if (is_open(&spec->choices[c])) {
            taken[c] = (int32_t)(number % spec->choices[c].option_count);
            number /= spec->choices[c].option_count;
        }
    }
    return taken;
}

/* The first (or last) options together, then each other option alone with these of the others. */
static void sample_one_by_one(const Spec *spec, Arena *arena, bool last, Combinations *to)
{
    to->taken[to->count++] = end_options(spec, arena, last);
    for (uint32_t c = spec->choice_count; c-- > 0;) {
        const Choice *choice = &spec->choices[c];
        for (uint32_t o = 1; is_open(choice) && o < choice->option_count; o++) {
            int32_t *taken = end_options(spec, arena, last);
            taken[c] = (int32_t)(last ? o - 1 : o);
            to->taken[to->count++] = taken;
        }
    }
}

/* How far round `block` turns the options of choice `c`: any number that differs from choice to choice will do. */
static uint32_t turn(uint32_t block, uint32_t c)
{
    uint32_t mixed = block * 0x9E3779B1u ^ (c + 1) * 0x85EBCA77u;
    mixed = (mixed ^ mixed >> 15) * 0xC2B2AE3Du;
    return block == 0 ? 0 : mixed >> 12;
}

/*
 * Block by block of as many combinations as the longest choice has options: in each block every choice goes through all
 * of its options. In the first all start with their first option, in the others each elsewhere.
 */
static void sample_in_blocks(const Spec *spec, Arena *arena, uint32_t most, uint32_t longest, Combinations *to)
{
    while (to->count < most) {
        int32_t *taken = first_options(spec, arena);
        for (uint32_t c = 0; c < spec->choice_count; c++) {
            if (is_open(&spec->choices[c])) {
                uint32_t from = turn(to->count / longest, c);
                taken[c] = (int32_t)((to->count % longest + from) % spec->choices[c].option_count);
            }
        }
        to->taken[to->count++] = taken;
    }
}

/* Room for combinations that the caller adds: the cheapest, the heaviest ... */
enum { SPECIAL_MOST = 4 };

static void sample(Spec *spec, Arena *arena, uint32_t most, Combinations *to)
{
    uint64_t others = 0;
    uint32_t longest = 1;
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        Choice *choice = &spec->choices[c];
        if (!is_open(choice)) {
            continue;
        }
        others += choice->option_count - 1;
        longest = choice->option_count > longest ? choice->option_count : longest;
        if (choice->option_count > most) {
            to->unseen += choice->option_count - most;
            choice->covered = most;
        }
    }
    if (others < most) {
        sample_one_by_one(spec, arena, false, to);
        if (2 * (others + 1) + SPECIAL_MOST <= most) {
            sample_one_by_one(spec, arena, true, to);
        }
    } else {
        sample_in_blocks(spec, arena, most, longest, to);
    }
}

Combinations spec_cover(Spec *spec, Arena *arena, uint32_t most)
{
    uint64_t all = spec_combinations(spec, most);
    Combinations to = {.taken = ARENA_ARRAY(arena, const int32_t *, most), .sampled = all > most};
    if (to.sampled) {
        sample(spec, arena, most, &to);
    } else {
        while (to.count < all) {
            to.taken[to.count] = spec_combination(spec, arena, to.count);
            to.count++;
        }
    }
    clashes_leave_out(spec, arena, &to, most);
    return to;
}
