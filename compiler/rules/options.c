/* See options.h. */
#include "rules/options.h"

#include <stdlib.h>
#include <string.h>

/* What an option of an open choice takes up in its file. */
typedef struct Extent {
    uint32_t start, end;
    uint32_t choice;
} Extent;

struct OptionCases {
    Outcome *outcome;
    Extent *extents; /* in the order of their places */
    uint32_t extent_count;
    const CaseSet **taken; /* of each choice, the cases that take each option; NULL: not open */
    bool *named;           /* of each choice: it is among those that are told; all false between two calls */
};

CaseSet options_all_cases(const Outcome *outcome)
{
    return outcome->case_count >= 64 ? ~(CaseSet)0 : ((CaseSet)1 << outcome->case_count) - 1;
}

/* Where the last statement of a block ends. */
static uint32_t end_of(const Tree *tree, NodeId statement)
{
    uint32_t end = tree_span(tree, statement).end;
    for (NodeId child = tree_node(tree, statement)->u.child; child != 0;
         child = tree_node(tree, child)->next) {
        if (tree_node(tree, child)->next == 0) {
            end = end_of(tree, child);
        }
    }
    return end;
}

static int by_start(const void *a, const void *b)
{
    const Extent *x = a, *y = b;
    return (x->start > y->start) - (x->start < y->start);
}

static void find_extents(OptionCases *options)
{
    const Spec *spec = options->outcome->spec;
    uint32_t count = 0;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        count += choice_is_open(&spec->choices[i]) ? spec->choices[i].option_count : 0;
    }
    options->extents = ARENA_ARRAY(options->outcome->arena, Extent, count);
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        const Choice *choice = &spec->choices[i];
        for (uint32_t o = 0; o < choice->option_count && choice_is_open(choice); o++) {
            NodeId node = choice->options[o].node;
            options->extents[options->extent_count++] =
                (Extent){tree_span(&spec->tree, node).start, end_of(&spec->tree, node), i};
        }
    }
    qsort(options->extents, count, sizeof(Extent), by_start);
}

uint64_t options_place(const OptionCases *options, Span place)
{
    uint32_t low = 0, high = options->extent_count;
    while (low < high) { /* to the first that begins behind the place */
        uint32_t middle = low + (high - low) / 2;
        bool behind = options->extents[middle].start > place.start;
        high = behind ? middle : high;
        low = behind ? low : middle + 1;
    }
    const Extent *extent = low > 0 ? &options->extents[low - 1] : NULL;
    bool inside = extent != NULL && place.start <= extent->end;
    return inside ? ((uint64_t)1 << 32) + extent->choice : place.start;
}

OptionCases *options_of_cases(Outcome *outcome)
{
    OptionCases *options = ARENA_NEW(outcome->arena, OptionCases);
    uint32_t count = outcome->spec->choice_count;
    *options = (OptionCases){.outcome = outcome,
                             .taken = ARENA_ARRAY(outcome->arena, const CaseSet *, count),
                             .named = ARENA_ARRAY(outcome->arena, bool, count)};
    find_extents(options);
    for (uint32_t i = 0; i < count; i++) {
        const Choice *choice = &outcome->spec->choices[i];
        if (!choice_is_open(choice)) {
            continue;
        }
        CaseSet *taken = ARENA_ARRAY(outcome->arena, CaseSet, choice->option_count);
        for (uint32_t c = 0; c < outcome->case_count; c++) {
            taken[outcome->cases[c].model->choices[i].chosen] |= (CaseSet)1 << c;
        }
        options->taken[i] = taken;
    }
    return options;
}

/* The cases that take, of one choice, an option that some case in `found` takes. */
static CaseSet reach(const OptionCases *options, uint32_t choice, CaseSet found)
{
    CaseSet reached = 0;
    for (uint32_t o = 0; o < options->outcome->spec->choices[choice].option_count; o++) {
        CaseSet taken = options->taken[choice][o];
        reached |= taken & found ? taken : 0;
    }
    return reached;
}

static int count_cases(CaseSet cases)
{
    int count = 0;
    for (; cases != 0; cases &= cases - 1) {
        count++;
    }
    return count;
}

/* The choice whose options leave the fewest of `left`, if that is fewer than there are. */
static bool find_sharpest(const OptionCases *options, CaseSet found, CaseSet left, uint32_t *sharpest)
{
    int fewest = count_cases(left);
    bool any = false;
    for (uint32_t i = 0; i < options->outcome->spec->choice_count; i++) {
        int count = options->taken[i] != NULL ? count_cases(left & reach(options, i, found)) : fewest;
        if (count < fewest) {
            fewest = count;
            *sharpest = i;
            any = true;
        }
    }
    return any;
}

static void add_depend(const OptionCases *options, Finding *finding, uint32_t index)
{
    const Choice *choice = &options->outcome->spec->choices[index];
    Depend **end = &finding->depends;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(options->outcome->arena, Depend);
    **end = (Depend){.text = str_copy(options->outcome->arena,
                                      symbols_text(options->outcome->spec->symbols, choice->name))};
}

static void write_options(const OptionCases *options, Buf *only, uint32_t index, CaseSet found)
{
    const Choice *choice = &options->outcome->spec->choices[index];
    const Symbols *symbols = options->outcome->spec->symbols;
    buf_format(only, "%s%.*s=", only->length > 0 ? " and " : "",
               STR_ARG(symbols_text(symbols, choice->name)));
    const char *before = "";
    for (uint32_t o = 0; o < choice->option_count; o++) {
        if (options->taken[index][o] & found) {
            buf_format(only, "%s%.*s", before, STR_ARG(symbols_text(symbols, choice->options[o].name)));
            before = " or ";
        }
    }
}

static const Choice *choice_of(const Finding *finding)
{
    return finding != NULL && finding->subject != NULL ? finding->subject->choice : NULL;
}

/* The index of the choice that brings the subject, if that alone tells the cases. */
static bool is_told_by_subject(const OptionCases *options, const Finding *finding, CaseSet found,
                               uint32_t *index)
{
    const Choice *choice = choice_of(finding);
    for (uint32_t c = 0; choice != NULL && c < options->outcome->case_count; c++) {
        const Model *model = options->outcome->cases[c].model;
        if (choice >= model->choices && choice < model->choices + model->choice_count) {
            *index = (uint32_t)(choice - model->choices);
            return options->taken[*index] != NULL && reach(options, *index, found) == found;
        }
    }
    return false;
}

/*
 * Names the choices that tell the cases in `found` from the others. False if no option brings them by itself, though all
 * may play a part: then all are named, but of a sample none.
 */
static bool name_choices(OptionCases *options, const Finding *finding, CaseSet found)
{
    uint32_t index;
    uint32_t count = options->outcome->spec->choice_count;
    if (is_told_by_subject(options, finding, found, &index)) {
        options->named[index] = true;
        return true;
    }
    bool any = false;
    CaseSet left = options_all_cases(options->outcome);
    while (left != found && find_sharpest(options, found, left, &index)) {
        left &= reach(options, index, found);
        options->named[index] = any = true;
    }
    for (uint32_t i = 0; i < count && !any && !options->outcome->sampled; i++) {
        options->named[i] = options->taken[i] != NULL;
    }
    return any;
}

/* The options of the choices that are named, which are named no longer; with a finding, it hangs on them. */
static void tell_named(OptionCases *options, Finding *finding, Buf *only, CaseSet found)
{
    for (uint32_t i = 0; i < options->outcome->spec->choice_count; i++) {
        if (options->named[i]) {
            if (finding != NULL) {
                add_depend(options, finding, i);
            }
            write_options(options, only, i, found);
            options->named[i] = false;
        }
    }
}

void options_tell(OptionCases *options, Finding *finding, CaseSet found, bool silent)
{
    Buf only;
    buf_init(&only, options->outcome->arena);
    bool apart = name_choices(options, finding, found);
    tell_named(options, finding, &only, found);
    const char *exactly = silent || options->outcome->sampled ? NULL : options_words(options, finding, found);
    if (exactly != NULL) {
        finding->only_with = exactly;
    } else if (only.length > 0 && apart && !silent) {
        finding->only_with = only.text;
    }
}

/* ---- In words, exactly ---- */

enum { PARTS_MOST = 3, DEEPEST = 3 };

/* Sets of cases that are products of options, and together the one that is asked for. */
typedef struct Parts {
    const char *words[PARTS_MOST];
    int count;
} Parts;

/* "cold=box and heat=stove": the options that tell `found` from the rest of `universe`; NULL if they tell more than that. */
static const char *product_words(const OptionCases *options, CaseSet found, CaseSet universe)
{
    Buf text;
    CaseSet left = universe;
    uint32_t index;
    buf_init(&text, options->outcome->arena);
    buf_text(&text, "");
    while (left != found && find_sharpest(options, found, left, &index)) {
        left &= reach(options, index, found);
        options->named[index] = true;
    }
    for (uint32_t i = 0; i < options->outcome->spec->choice_count; i++) {
        if (options->named[i]) {
            write_options(options, &text, i, found);
            options->named[i] = false;
        }
    }
    return left == found ? text.text : NULL;
}

static Parts find_parts(const OptionCases *options, CaseSet found, CaseSet universe, int depth);

/* One option more with which the rest of the words is the same, or another part. */
static bool add_part(Parts *rests, uint32_t *named, const OptionCases *options, Buf names[], uint32_t choice, uint32_t option,
                     const char *rest)
{
    int i = 0;
    while (i < rests->count && strcmp(rests->words[i], rest) != 0) {
        i++;
    }
    if (i == PARTS_MOST) {
        return false;
    }
    const Choice *row = &options->outcome->spec->choices[choice];
    const Symbols *symbols = options->outcome->spec->symbols;
    if (i == rests->count) {
        rests->words[rests->count++] = rest;
        buf_init(&names[i], options->outcome->arena);
        buf_format(&names[i], "%.*s=", STR_ARG(symbols_text(symbols, row->name)));
        named[i] = 0;
    }
    buf_format(&names[i], "%s%.*s", named[i]++ > 0 ? " or " : "", STR_ARG(symbols_text(symbols, row->options[option].name)));
    return true;
}

/* Option by option of one choice; no parts where there would be too many. */
static Parts split_by(const OptionCases *options, uint32_t choice, CaseSet found, CaseSet universe, int depth)
{
    static const Parts none = {.count = 0};
    Parts rests = none;
    uint32_t named[PARTS_MOST], there = 0;
    Buf names[PARTS_MOST];
    for (uint32_t o = 0; o < options->outcome->spec->choices[choice].option_count; o++) {
        CaseSet taken = options->taken[choice][o];
        there += (taken & universe) != 0;
        Parts parts = found & taken ? find_parts(options, found & taken, universe & taken, depth + 1) : none;
        bool fits = parts.count > 0 || !(found & taken);
        for (int i = 0; i < parts.count && fits; i++) {
            fits = add_part(&rests, named, options, names, choice, o, parts.words[i]);
        }
        if (!fits) {
            return none;
        }
    }
    for (int i = 0; i < rests.count; i++) {
        const char *rest = rests.words[i];
        if (named[i] == there && rest[0] != '\0') {
            continue; /* whichever option it is */
        }
        rests.words[i] = rest[0] != '\0' ? text_format(options->outcome->arena, "%s and %s", names[i].text, rest) : names[i].text;
    }
    return rests;
}

/* Whether these cases take several options of a choice. */
static bool is_divided(const OptionCases *options, uint32_t choice, CaseSet cases)
{
    for (uint32_t o = 0; o < options->outcome->spec->choices[choice].option_count; o++) {
        if ((options->taken[choice][o] & cases) == cases) {
            return false;
        }
    }
    return true;
}

/* As few as can be; none if that is more than are told. */
static Parts find_parts(const OptionCases *options, CaseSet found, CaseSet universe, int depth)
{
    Parts best = {.count = 0};
    const char *words = product_words(options, found, universe);
    if (words != NULL) {
        best.words[best.count++] = words;
        return best;
    }
    for (uint32_t i = 0; i < options->outcome->spec->choice_count && depth < DEEPEST; i++) {
        Parts parts = {.count = 0};
        if (options->taken[i] != NULL && is_divided(options, i, universe)) {
            parts = split_by(options, i, found, universe, depth);
        }
        best = parts.count > 0 && (best.count == 0 || parts.count < best.count) ? parts : best;
    }
    return best;
}

const char *options_words(OptionCases *options, const Finding *finding, CaseSet found)
{
    Buf only;
    buf_init(&only, options->outcome->arena);
    if (options->outcome->sampled) {
        bool apart = name_choices(options, finding, found);
        tell_named(options, NULL, &only, found);
        return apart ? only.text : NULL;
    }
    uint32_t index;
    if (is_told_by_subject(options, finding, found, &index)) {
        write_options(options, &only, index, found);
        return only.text;
    }
    Parts parts = find_parts(options, found, options_all_cases(options->outcome), 0);
    for (int i = 0; i < parts.count; i++) {
        buf_format(&only, "%s%s", i > 0 ? ", or " : "", parts.words[i]);
    }
    return only.length > 0 ? only.text : NULL;
}
