/*
 * What a name in a property means: the thing of that name in this model, if it is of a kind that may stand there and is there
 * whichever option is taken.
 */
#include "model/checker.h"

#include "language/suggest.h"

/* "a bank, a bus or a panel" */
static void write_kinds(Buf *to, KindSet set)
{
    if (kind_set_has(set, KIND_BOAT) && kind_set_has(set, KIND_ITEM)) {
        buf_text(to, "the name of a thing of this boat");
        return;
    }
    Atom atom = {.kind = ATOM_REFERENCE, .things = set};
    atom_describe(to, &atom);
}

static void tell_unknown_name(Checker *checker, NodeId term, KindSet wanted)
{
    Str word = tree_text(checker->tree, term);
    Message *m = message_report(checker->messages, MESSAGE_UNKNOWN_NAME, tree_span(checker->tree, term),
                                "nothing in this boat is called `%.*s`", STR_ARG(word));
    Buf right;
    buf_init(&right, checker->arena);
    Suggestions near = suggest_begin(word);
    const Entity *renamed = NULL;
    if (checker->near_left-- > 0) {
        for (uint32_t i = 0; i < checker->model->entity_count; i++) {
            const Entity *entity = checker->model->entities[i];
            if (kind_set_has(wanted, (KindId)entity->kind)) {
                suggest_offer(&near, entity_name(checker->model, entity));
                renamed = entity_was(checker->model, entity, word) ? entity : renamed;
            }
        }
    }
    if (renamed != NULL) {
        buf_format(&right, "`%.*s`, which was `%.*s`", STR_ARG(entity_name(checker->model, renamed)), STR_ARG(word));
    } else if (!suggest_write(&right, &near)) {
        write_kinds(&right, wanted);
    }
    message_right(checker->messages, m, "%s", right.text);
}

static bool is_in_some_options(const OptionName *noted)
{
    return noted->options != 0 && noted->options != noted->choice->option_count;
}

const Choice *name_brought_by(Checker *checker, NodeId term)
{
    const OptionName *noted = noted_name(checker, symbol_of(checker, term));
    return is_in_some_options(noted) ? noted->choice : NULL;
}

/* A name used outside of a choice must be there whichever option is taken. */
static bool lacking(Checker *checker, NodeId term, const Entity *from)
{
    const OptionName *noted = noted_name(checker, symbol_of(checker, term));
    if (!is_in_some_options(noted)) {
        return false;
    }
    if (from != NULL && from->option != 0) {
        for (uint32_t i = 0; i < noted->choice->option_count; i++) {
            if (noted->choice->options[i].node == from->option) {
                return false;
            }
        }
    }
    Message *m = message_report(checker->messages, MESSAGE_OPTION_LACKS, tree_span(checker->tree, term),
                                "not every option of `%.*s` has a `%.*s`",
                                STR_ARG(symbols_text(checker->tree->symbols, noted->choice->name)),
                                STR_ARG(tree_text(checker->tree, term)));
    message_note(checker->messages, m, noted->at, "one that has");
    message_right(checker->messages, m,
                  "the same name in each option, or this statement inside of the options");
    return true;
}

Entity *names_resolve(Checker *checker, NodeId term, const Entity *from, KindSet wanted, bool *broken)
{
    Symbol symbol = symbol_of(checker, term);
    Entity *entity = checker->model->by_symbol[symbol];
    *broken = true;
    if (lacking(checker, term, from)) {
        return NULL;
    }
    if (entity == NULL && tree_is_mended(checker->tree, term)) {
        return NULL;
    }
    if (entity == NULL) {
        /* Declared in an option that is not taken, by a mistake told elsewhere: nothing more to say. */
        bool lost = checker->spec->incomplete || (checker->lost != NULL && checker->lost[symbol]);
        if (noted_name(checker, symbol)->options == 0 && !lost) {
            tell_unknown_name(checker, term, wanted);
        }
        return NULL;
    }
    if (entity->kind == KIND_NONE) {
        return NULL; /* its kind is unknown, and told */
    }
    if (!kind_set_has(wanted, (KindId)entity->kind) && entity->flags & ENTITY_DOUBTFUL) {
        return NULL; /* what it really is, is told or not known */
    }
    if (!kind_set_has(wanted, (KindId)entity->kind)) {
        Buf right;
        buf_init(&right, checker->arena);
        write_kinds(&right, wanted);
        Message *m = message_report(checker->messages, MESSAGE_WRONG_KIND, tree_span(checker->tree, term),
                                    "`%.*s` is %s `%s`, which cannot stand here",
                                    STR_ARG(entity_name(checker->model, entity)),
                                    article(kinds[entity->kind].word), kinds[entity->kind].word);
        message_right(checker->messages, m, "%s", right.text);
        return NULL;
    }
    *broken = false;
    return entity;
}
