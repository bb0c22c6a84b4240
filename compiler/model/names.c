/*
 * Names: one namespace for the whole boat, usable before they are declared. Each option of one choice may declare the same
 * name, as the same kind of thing; elsewhere it means the thing of the option that this model is built with.
 */
#include "model/checker.h"
#include "model/walk.h"

#include "language/suggest.h"

#include <string.h>

Str cursor_text(const Cursor *cursor)
{
    return cursor->at < cursor->end ? tree_text(cursor->checker->tree, cursor->at) : (Str){"", 0};
}

Span cursor_span(const Cursor *cursor)
{
    const Tree *tree = cursor->checker->tree;
    if (cursor->at < cursor->end) {
        return tree_span(tree, cursor->at);
    }
    uint32_t end = tree_node(tree, cursor->statement)->end;
    return (Span){end, end};
}

/* What is noted of a name in options; of a spec without choices nothing is. */
static const OptionName *noted_name(const Checker *checker, Symbol name)
{
    static const OptionName nothing = {0};
    return checker->option_names != NULL ? &checker->option_names[name] : &nothing;
}

static Symbol symbol_of(const Checker *checker, NodeId term)
{
    return tree_node(checker->tree, term)->u.symbol;
}

static void near_kinds(Checker *checker, Message *message, Str word)
{
    Suggestions near = suggest_begin(word);
    for (int k = KIND_NONE + 1; k < KIND_COUNT; k++) {
        if (!kinds[k].group) {
            suggest_offer(&near, str_from(kinds[k].word));
        }
    }
    static const char *const statements[] = {"include", "part", "choice", "waive", "edition"};
    for (size_t i = 0; i < sizeof statements / sizeof statements[0]; i++) {
        suggest_offer(&near, str_from(statements[i]));
    }
    Buf right;
    buf_init(&right, checker->arena);
    if (suggest_write(&right, &near)) {
        message_right(checker->messages, message, "%s", right.text);
    } else {
        message_right(checker->messages, message, "one of the kinds that `garboard kinds` lists");
    }
}

/* The kind that a word names; a message and KIND_NONE if it names none. */
static KindId read_kind(Checker *checker, NodeId term)
{
    KindId kind = (KindId)checker->kind_of_symbol[symbol_of(checker, term)];
    if (kind == KIND_NONE) {
        Str word = tree_text(checker->tree, term);
        Message *m = message_report(checker->messages, MESSAGE_UNKNOWN_KIND, tree_span(checker->tree, term),
                                    "there is no kind of thing called `%.*s`", STR_ARG(word));
        near_kinds(checker, m, word);
    }
    return kind;
}

/* Whether a name may be used: neither a unit nor yes nor no. */
static bool name_is_free(Checker *checker, NodeId term)
{
    Str name = tree_text(checker->tree, term);
    bool answer = str_is(name, "yes") || str_is(name, "no");
    if (!answer && unit_find(name) == UNIT_NONE) {
        return true;
    }
    Message *m = message_report(checker->messages, MESSAGE_NAME_RESERVED, tree_span(checker->tree, term),
                                "`%.*s` cannot be a name: it is %s", STR_ARG(name), answer ? "an answer" : "a unit");
    message_right(checker->messages, m, "a longer name, such as `%.*s-1`", STR_ARG(name));
    return false;
}

static void tell_twice(Checker *checker, NodeId name, Span first)
{
    Str word = tree_text(checker->tree, name);
    Message *m = message_report(checker->messages, MESSAGE_NAME_TWICE, tree_span(checker->tree, name),
                                "the name `%.*s` is taken", STR_ARG(word));
    message_note(checker->messages, m, first, "by this");
    message_right(checker->messages, m, "another name; one name means one thing in the whole boat");
}

/* The place of whatever has a name already outside of options, or an empty span. */
static Span taken_by(const Checker *checker, Symbol name)
{
    if (checker->model->by_symbol[name] != NULL) {
        return entity_span(checker->model, checker->model->by_symbol[name]);
    }
    if (checker->parts[name] != 0) {
        return tree_span(checker->tree, checker->parts[name] + 2);
    }
    for (uint32_t i = 0; i < checker->spec->choice_count; i++) {
        if (checker->spec->choices[i].name == name) {
            return tree_span(checker->tree, checker->spec->choices[i].node + 2);
        }
    }
    return (Span){0, 0};
}

static bool is_taken(Span span)
{
    return span.end > span.start;
}

static void add_entity(Checker *checker, NodeId statement, NodeId option, KindId kind, const Header *header)
{
    Model *model = checker->model;
    Entity *entity = ARENA_NEW(checker->arena, Entity);
    *entity = (Entity){.kind = (uint8_t)kind,
                       .system = kinds[kind].system,
                       .name = symbol_of(checker, header->name),
                       .index = model->entity_count,
                       .node = statement,
                       .option = option,
                       .title = header->title};
    if (header->was != 0) {
        entity->was = tree_text(checker->tree, header->was);
    }
    if (kind == KIND_NONE || tree_node(checker->tree, statement)->flags & NODE_BAD) {
        entity->flags |= ENTITY_BROKEN;
    }
    model->by_symbol[entity->name] = entity;
    model->entities[model->entity_count++] = entity;
}

static bool header_is_usable(const Checker *checker, NodeId statement, Header *header)
{
    *header = tree_header(checker->tree, statement);
    return header->name != 0 && header->kind != 0;
}

static void declare_thing(Checker *checker, NodeId statement, NodeId option)
{
    Header header;
    if (!header_is_usable(checker, statement, &header)) {
        read_kind(checker, statement + 1);
        return;
    }
    KindId kind = read_kind(checker, header.kind);
    if (!name_is_free(checker, header.name)) {
        return;
    }
    Span first = taken_by(checker, symbol_of(checker, header.name));
    if (is_taken(first)) {
        tell_twice(checker, header.name, first);
        return;
    }
    add_entity(checker, statement, option, kind, &header);
}

static void declare_part(Checker *checker, NodeId statement)
{
    Header header;
    if (!header_is_usable(checker, statement, &header)) {
        return;
    }
    read_kind(checker, header.kind);
    if (!name_is_free(checker, header.name)) {
        return;
    }
    Symbol name = symbol_of(checker, header.name);
    Span first = taken_by(checker, name);
    if (is_taken(first)) {
        tell_twice(checker, header.name, first);
    } else {
        checker->parts[name] = statement;
    }
}

/* Notes the names that an option declares, and tells kinds that differ between the options. */
static void note_option_names(Checker *checker, const Choice *choice, NodeId option)
{
    for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
        Header header;
        if (tree_kind(checker->tree, id) != NODE_THING || !header_is_usable(checker, id, &header)) {
            continue;
        }
        OptionName *noted = &checker->option_names[symbol_of(checker, header.name)];
        KindId kind = (KindId)checker->kind_of_symbol[symbol_of(checker, header.kind)];
        Span at = tree_span(checker->tree, header.name);
        if (noted->options == 0) {
            *noted = (OptionName){.choice = choice, .options = 1, .kind = (uint8_t)kind, .at = at};
        } else if (noted->choice != choice) {
            tell_twice(checker, header.name, noted->at);
        } else {
            noted->options++;
            if (kind != KIND_NONE && noted->kind != KIND_NONE && noted->kind != kind) {
                Message *m = message_report(checker->messages, MESSAGE_OPTION_KINDS, at,
                                            "`%.*s` is a %s here and a %s in another option of the same choice",
                                            STR_ARG(tree_text(checker->tree, header.name)), kinds[kind].word,
                                            kinds[noted->kind].word);
                message_note(checker->messages, m, noted->at, "there");
                message_right(checker->messages, m, "the same kind in each option, or another name");
            }
        }
    }
}

/* Names that stand both inside an option and outside clash, whichever option is taken. */
static void tell_inside_and_outside(Checker *checker)
{
    for (uint32_t i = 0; i < checker->model->entity_count; i++) {
        const Entity *entity = checker->model->entities[i];
        const OptionName *noted = noted_name(checker, entity->name);
        if (entity->option == 0 && noted->options > 0) {
            Header header = tree_header(checker->tree, entity->node);
            tell_twice(checker, header.name, noted->at);
        }
    }
}

static void declare_option(Checker *checker, NodeId option)
{
    for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
        if (tree_kind(checker->tree, id) == NODE_THING) {
            declare_thing(checker, id, option);
        }
    }
}

static uint32_t count_statements(const Checker *checker)
{
    uint32_t count = 0;
    Walk walk = walk_begin(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        count++;
        if (tree_kind(checker->tree, id) == NODE_CHOICE) {
            for (NodeId o = walk_block(checker->tree, id, 0); o != 0; o = walk_block(checker->tree, id, o)) {
                for (NodeId t = walk_block(checker->tree, o, 0); t != 0; t = walk_block(checker->tree, o, t)) {
                    count++;
                }
            }
        }
    }
    return count;
}

static void declare_outside(Checker *checker)
{
    Walk walk = walk_begin(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(checker->tree, id) == NODE_THING) {
            declare_thing(checker, id, 0);
        } else if (tree_kind(checker->tree, id) == NODE_PART) {
            declare_part(checker, id);
        }
    }
}

static void tell_choice_names(Checker *checker)
{
    for (uint32_t i = 0; i < checker->spec->choice_count; i++) {
        const Choice *choice = &checker->spec->choices[i];
        if (!name_is_free(checker, choice->node + 2)) {
            continue;
        }
        for (uint32_t j = 0; j < i; j++) {
            if (checker->spec->choices[j].name == choice->name) {
                tell_twice(checker, choice->node + 2, tree_span(checker->tree, checker->spec->choices[j].node + 2));
                break;
            }
        }
    }
}

static void link_kinds(Model *model)
{
    Entity *last[KIND_COUNT] = {NULL};
    for (uint32_t i = 0; i < model->entity_count; i++) {
        Entity *entity = model->entities[i];
        if (last[entity->kind] == NULL) {
            model->first_of_kind[entity->kind] = entity;
        } else {
            last[entity->kind]->next_of_kind = entity;
        }
        last[entity->kind] = entity;
    }
}

static void find_boat(Checker *checker)
{
    Model *model = checker->model;
    model->boat = model->first_of_kind[KIND_BOAT];
    if (model->boat == NULL) {
        Message *m = message_report_whole(checker->messages, MESSAGE_NO_BOAT, "the spec has no boat");
        message_right(checker->messages, m, "`boat NAME { length 9.5 m; beam 3.2 m; ... }`; see `garboard kinds boat`");
        return;
    }
    for (const Entity *more = model->boat->next_of_kind; more != NULL; more = more->next_of_kind) {
        Message *m = message_report(checker->messages, MESSAGE_ONE_ONLY, entity_span(model, more),
                                    "a spec has one boat; this is another");
        message_note(checker->messages, m, entity_span(model, model->boat), "the first");
    }
}

void names_declare(Checker *checker)
{
    checker->model->entities = ARENA_ARRAY(checker->arena, Entity *, count_statements(checker));
    for (uint32_t i = 0; i < checker->spec->choice_count; i++) {
        const Choice *choice = &checker->spec->choices[i];
        for (uint32_t j = 0; j < choice->option_count; j++) {
            note_option_names(checker, choice, choice->options[j].node);
        }
    }
    tell_choice_names(checker);
    declare_outside(checker);
    tell_inside_and_outside(checker);
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        if (choice->chosen >= 0) {
            declare_option(checker, choice->options[choice->chosen].node);
        }
    }
    link_kinds(checker->model);
    find_boat(checker);
}

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
    if (checker->near_left-- > 0) {
        for (uint32_t i = 0; i < checker->model->entity_count; i++) {
            const Entity *entity = checker->model->entities[i];
            if (kind_set_has(wanted, (KindId)entity->kind)) {
                suggest_offer(&near, entity_name(checker->model, entity));
            }
        }
    }
    if (!suggest_write(&right, &near)) {
        write_kinds(&right, wanted);
    }
    message_right(checker->messages, m, "%s", right.text);
}

/* A name used outside of a choice must be there whichever option is taken. */
static bool lacking(Checker *checker, NodeId term, const Entity *from)
{
    const OptionName *noted = noted_name(checker, symbol_of(checker, term));
    if (noted->options == 0 || noted->options == noted->choice->option_count) {
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
    message_right(checker->messages, m, "the same name in each option, or this statement inside of the options");
    return true;
}

static const char *article(const char *word)
{
    return strchr("aeio", word[0]) != NULL ? "an" : "a";
}

Entity *names_resolve(Checker *checker, NodeId term, const Entity *from, KindSet wanted, bool *broken)
{
    Symbol symbol = symbol_of(checker, term);
    Entity *entity = checker->model->by_symbol[symbol];
    *broken = true;
    if (lacking(checker, term, from)) {
        return NULL;
    }
    if (entity == NULL) {
        /* Declared in an option that is not taken, by a mistake told elsewhere: nothing more to say. */
        if (noted_name(checker, symbol)->options == 0) {
            tell_unknown_name(checker, term, wanted);
        }
        return NULL;
    }
    if (entity->kind == KIND_NONE) {
        return NULL; /* its kind is unknown, and told */
    }
    if (!kind_set_has(wanted, (KindId)entity->kind)) {
        Buf right;
        buf_init(&right, checker->arena);
        write_kinds(&right, wanted);
        Message *m = message_report(checker->messages, MESSAGE_WRONG_KIND, tree_span(checker->tree, term),
                                    "`%.*s` is %s `%s`, which cannot stand here",
                                    STR_ARG(entity_name(checker->model, entity)),
                                    article(kinds[entity->kind].word),
                                    kinds[entity->kind].word);
        message_right(checker->messages, m, "%s", right.text);
        return NULL;
    }
    *broken = false;
    return entity;
}
