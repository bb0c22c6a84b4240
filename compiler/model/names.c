/*
 * Names: one namespace for the whole boat, usable before they are declared. Each option of one choice may declare the same
 * name, as the same kind of thing; elsewhere it means the thing of the option that this model is built with.
 */
#include "model/checker.h"
#include "model/walk.h"

#include "language/suggest.h"
#include "model/meant.h"

#include <string.h>

static bool states_fuel(const Tree *tree, NodeId statement)
{
    NodeId line = walk_block(tree, statement, 0);
    while (line != 0 && !(tree_kind(tree, line) == NODE_PROPERTY && str_is(tree_text(tree, line + 1), "fuel"))) {
        line = walk_block(tree, statement, line);
    }
    return line != 0;
}

/* Appends the kinds that are near to a word; the one kind that is, or KIND_NONE if it is none or several. */
static KindId near_kind(Checker *checker, Buf *right, NodeId statement, Str word)
{
    KindId meant = kind_meant(word);
    if (kind_may_be_burner(word)) { /* one for gas names no fuel */
        bool fuel = states_fuel(checker->tree, statement);
        buf_text(right, fuel ? "`burner`, of spirit, paraffin or diesel; `gas-appliance`, if it burns gas"
                             : "`gas-appliance`; `burner`, if it burns spirit, paraffin or diesel");
        return fuel ? KIND_BURNER : meant;
    }
    if (meant != KIND_NONE) {
        buf_format(right, "`%s`, or another of those that `garboard kinds` lists", kinds[meant].word);
        return meant;
    }
    if (checker->near_left-- <= 0) {
        return KIND_NONE;
    }
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
    suggest_write(right, &near);
    return near.count == 1 ? schema_find_kind(near.best[0]) : KIND_NONE;
}

/*
 * The kind that a word names. Of a word that names none it is told, and the kind that is probably meant is taken, with
 * *guessed set; KIND_NONE if that is none.
 */
static KindId read_kind(Checker *checker, NodeId statement, NodeId term, bool *guessed)
{
    KindId kind = (KindId)checker->kind_of_symbol[symbol_of(checker, term)];
    *guessed = kind == KIND_NONE;
    if (kind != KIND_NONE) {
        return kind;
    }
    Str word = tree_text(checker->tree, term);
    Buf right;
    buf_init(&right, checker->arena);
    KindId meant = near_kind(checker, &right, statement, word);
    if (tree_is_mended(checker->tree, term)) {
        return meant;
    }
    Message *m = message_report(checker->messages, MESSAGE_UNKNOWN_KIND, tree_span(checker->tree, term),
                                "there is no kind of thing called `%.*s`", STR_ARG(word));
    message_right(checker->messages, m, "%s",
                  right.length > 0 ? right.text : "one of the kinds that `garboard kinds` lists");
    return meant;
}

/* Whether a name may be used: neither a unit nor yes nor no. */
static bool name_is_free(Checker *checker, NodeId term)
{
    Str name = tree_text(checker->tree, term);
    bool answer = str_is(name, "yes") || str_is(name, "no");
    if (!answer && unit_of(checker, term) == UNIT_NONE) {
        return true;
    }
    Message *m = message_report(checker->messages, MESSAGE_NAME_RESERVED, tree_span(checker->tree, term),
                                "`%.*s` cannot be a name: it is %s", STR_ARG(name), answer ? "an answer" : "a unit");
    message_right(checker->messages, m, "a longer name, such as `%.*s-1`", STR_ARG(name));
    return false;
}

/* Keeps a thing that the model cannot hold, so that the mistakes inside of it show. */
static void add_orphan(Checker *checker, NodeId statement, NodeId option, KindId kind)
{
    if (checker->losing != NULL) {
        checker->losing[kind] = true;
    }
    if (kind == KIND_NONE) {
        return;
    }
    uint32_t count = checker->orphan_count;
    if ((count & (count - 1)) == 0) {
        checker->orphans = arena_grow(checker->arena, checker->orphans, count * sizeof(Orphan),
                                      (count == 0 ? 1 : count * 2) * sizeof(Orphan));
    }
    checker->orphans[checker->orphan_count++] = (Orphan){statement, option, kind};
}

const char *article(const char *word)
{
    return strchr("aeio", word[0]) != NULL ? "an" : "a";
}

/* Told at the later of the two: things of options are declared before others, wherever they stand. */
static void tell_twice(Checker *checker, NodeId name, Span other)
{
    Str word = tree_text(checker->tree, name);
    Span here = tree_span(checker->tree, name);
    bool later = other.start <= here.start;
    Message *m = message_report(checker->messages, MESSAGE_NAME_TWICE, later ? here : other, "the name `%.*s` is taken", STR_ARG(word));
    message_note(checker->messages, m, later ? other : here, "by this");
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
    if (checker->choices != NULL && checker->choices[name] != 0) {
        return tree_span(checker->tree, checker->choices[name] + 2);
    }
    return (Span){0, 0};
}

static bool is_taken(Span span)
{
    return span.end > span.start;
}

static Entity *add_entity(Checker *checker, NodeId statement, NodeId option, KindId kind, const Header *header)
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
    if (kind == KIND_NONE || tree_node(checker->tree, statement)->flags & NODE_BAD) {
        entity->flags |= ENTITY_BROKEN;
    }
    model->by_symbol[entity->name] = entity;
    model->entities[model->entity_count++] = entity;
    return entity;
}

static bool header_is_usable(const Checker *checker, NodeId statement, Header *header)
{
    *header = tree_header(checker->tree, statement);
    return header->name != 0 && header->kind != 0;
}

/* A property that stands where things are declared; true if the word is one. */
static bool tell_property_outside(Checker *checker, NodeId statement)
{
    Str word = tree_text(checker->tree, statement + 1);
    bool block = tree_node(checker->tree, statement)->flags & NODE_HAS_BLOCK;
    if (block || schema_find_kind(word) != KIND_NONE || !is_property_of_something(word)) {
        return false;
    }
    Message *m = message_report(checker->messages, MESSAGE_MISPLACED, tree_span(checker->tree, statement + 1),
                                "`%.*s` is a property; it stands inside of the thing that it tells of", STR_ARG(word));
    message_right(checker->messages, m, "this line between the braces of that thing");
    return true;
}

static void tell_no_name(Checker *checker, NodeId statement)
{
    const Tree *tree = checker->tree;
    Str kind = tree_text(tree, statement + 1);
    bool left = tree_node(tree, statement)->terms > 1;
    NodeId at = left ? statement + 2 : statement + 1;
    Message *m = left ? message_report(checker->messages, MESSAGE_NAME_MISSING, tree_span(tree, at),
                                       "`%.*s` needs a name here, not `%.*s`", STR_ARG(kind),
                                       STR_ARG(tree_text(tree, at)))
                      : message_report(checker->messages, MESSAGE_NAME_MISSING, tree_span(tree, at),
                                       "`%.*s` needs a name", STR_ARG(kind));
    bool title = left && tree_kind(tree, at) == NODE_TEXT;
    message_right(checker->messages, m, "a name of letters, digits and hyphens that begins with a letter%s",
                  title ? ", and then the title" : "");
}

/* A thing without a name: what it was to be is told, or that it is none at all. */
static void declare_nameless(Checker *checker, NodeId statement, NodeId option)
{
    if (!(tree_node(checker->tree, statement)->flags & NODE_NAMELESS)) {
        add_orphan(checker, statement, option, (KindId)checker->kind_of_symbol[symbol_of(checker, statement + 1)]);
        return;
    }
    if (tell_property_outside(checker, statement)) {
        return;
    }
    bool guessed;
    KindId kind = read_kind(checker, statement, statement + 1, &guessed);
    if (!guessed) {
        tell_no_name(checker, statement);
    }
    add_orphan(checker, statement, option, kind);
}

/* A name that is taken; a clash of an option with what is outside of it is told where options are compared. */
static void declare_again(Checker *checker, const Header *header, Span first, NodeId option)
{
    Entity *taker = checker->model->by_symbol[symbol_of(checker, header->name)];
    if (taker != NULL) {
        taker->flags |= ENTITY_DOUBTFUL;
    }
    if (taker == NULL || taker->option == option) {
        tell_twice(checker, header->name, first);
    }
}

static void declare_thing(Checker *checker, NodeId statement, NodeId option)
{
    Header header;
    if (!header_is_usable(checker, statement, &header)) {
        declare_nameless(checker, statement, option);
        return;
    }
    if (checker->kind_of_symbol[symbol_of(checker, header.kind)] == KIND_NONE &&
        tell_property_outside(checker, statement)) {
        return;
    }
    bool guessed;
    KindId kind = read_kind(checker, statement, header.kind, &guessed);
    bool reserved = !name_is_free(checker, header.name);
    Span first = taken_by(checker, symbol_of(checker, header.name));
    if (is_taken(first)) {
        declare_again(checker, &header, first, option);
        add_orphan(checker, statement, option, kind);
        return;
    }
    Entity *entity = add_entity(checker, statement, option, kind, &header);
    entity->flags |= (uint8_t)(guessed ? ENTITY_BROKEN | ENTITY_DOUBTFUL : reserved ? ENTITY_BROKEN : 0);
}

static void declare_part(Checker *checker, NodeId statement)
{
    Header header = tree_header(checker->tree, statement);
    bool guessed = true;
    KindId kind = header.kind != 0 ? read_kind(checker, statement, header.kind, &guessed) : KIND_NONE;
    if (header.name == 0) {
        add_orphan(checker, statement, 0, kind);
        return;
    }
    name_is_free(checker, header.name);
    Symbol name = symbol_of(checker, header.name);
    Span first = taken_by(checker, name);
    if (is_taken(first)) {
        tell_twice(checker, header.name, first);
        add_orphan(checker, statement, 0, kind);
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
            if (noted->other != choice) {
                tell_twice(checker, header.name, noted->at);
            }
            noted->other = choice;
        } else {
            noted->options++;
            if (kind != KIND_NONE && noted->kind != KIND_NONE && noted->kind != kind) {
                Message *m = message_report(checker->messages, MESSAGE_OPTION_KINDS, at,
                                            "`%.*s` is %s `%s` here and %s `%s` in another option of the same choice",
                                            STR_ARG(tree_text(checker->tree, header.name)), article(kinds[kind].word),
                                            kinds[kind].word, article(kinds[noted->kind].word),
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

static void declare_chosen(Checker *checker, const Choice *choice)
{
    NodeId option = choice->options[choice->chosen].node;
    uint32_t before = checker->model->entity_count;
    for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
        if (tree_kind(checker->tree, id) == NODE_THING) {
            declare_thing(checker, id, option);
        }
    }
    for (uint32_t i = before; i < checker->model->entity_count; i++) {
        checker->model->entities[i]->choice = choice;
    }
}

/* How many statements may declare a thing: the outermost, and those inside of options. */
static uint32_t count_statements(const Checker *checker)
{
    uint32_t count = checker->spec->outermost.count;
    Walk walk = walk_others(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(checker->tree, id) != NODE_CHOICE) {
            continue;
        }
        for (NodeId o = walk_block(checker->tree, id, 0); o != 0; o = walk_block(checker->tree, id, o)) {
            for (NodeId t = walk_block(checker->tree, o, 0); t != 0; t = walk_block(checker->tree, o, t)) {
                count++;
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
        if (checker->choices[choice->name] != 0) {
            tell_twice(checker, choice->node + 2, tree_span(checker->tree, checker->choices[choice->name] + 2));
        } else {
            checker->choices[choice->name] = choice->node;
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
    if (model->boat == NULL && (model->lost[KIND_BOAT] || checker->spec->incomplete)) {
        return;
    }
    if (model->boat == NULL) {
        Message *m = message_report_whole(checker->messages, MESSAGE_NO_BOAT, "the spec has no boat");
        message_right(checker->messages, m, "`boat NAME { length 9.5 m; beam 3.2 m; ... }`; see `garboard kinds boat`");
        return;
    }
    for (const Entity *more = model->boat->next_of_kind; more != NULL; more = more->next_of_kind) {
        Message *m = message_report(checker->messages, MESSAGE_ONE_ONLY, entity_span(model, more),
                                    "a spec has one boat; this is another");
        message_note(checker->messages, m, entity_span(model, model->boat), "the first");
        message_right(checker->messages, m, "one of the two; of two boats each has a spec of its own");
    }
}

static void lose_name(Checker *checker, NodeId term)
{
    if (checker->lost == NULL) {
        checker->lost = ARENA_ARRAY(checker->arena, bool, checker->model->symbol_count);
    }
    checker->lost[symbol_of(checker, term)] = true;
}

/* Things inside of a thing: what is wrong is told when the thing is read; their names are not unknown as well. */
static void lose_names_inside(Checker *checker, NodeId thing)
{
    if (!(tree_node(checker->tree, thing)->flags & NODE_NESTED)) {
        return;
    }
    for (NodeId id = walk_block(checker->tree, thing, 0); id != 0; id = walk_block(checker->tree, thing, id)) {
        const Node *node = tree_node(checker->tree, id);
        if (node->flags & NODE_HAS_BLOCK && node->terms > 1 && tree_kind(checker->tree, id + 2) == NODE_WORD &&
            checker->kind_of_symbol[symbol_of(checker, id + 1)] != KIND_NONE) {
            lose_name(checker, id + 2);
        }
    }
}

/* Things beside the options of a choice, and in an option whose name is taken. */
static void lose_names_of_choice(Checker *checker, NodeId choice)
{
    for (NodeId id = walk_block(checker->tree, choice, 0); id != 0; id = walk_block(checker->tree, choice, id)) {
        Header header;
        if (tree_kind(checker->tree, id) == NODE_THING && header_is_usable(checker, id, &header)) {
            lose_name(checker, header.name);
            add_orphan(checker, id, choice, (KindId)checker->kind_of_symbol[symbol_of(checker, header.kind)]);
        }
        for (NodeId in = walk_block(checker->tree, id, 0); in != 0 && tree_kind(checker->tree, id) == NODE_OPTION;
             in = walk_block(checker->tree, id, in)) {
            if (tree_kind(checker->tree, in) == NODE_THING && header_is_usable(checker, in, &header)) {
                lose_name(checker, header.name);
            }
        }
    }
}

static void find_lost_names(Checker *checker)
{
    Walk walk = walk_begin(checker->spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(checker->tree, id) == NODE_THING) {
            lose_names_inside(checker, id);
        } else if (tree_kind(checker->tree, id) == NODE_CHOICE || tree_kind(checker->tree, id) == NODE_OPTION) {
            lose_names_of_choice(checker, id);
        }
    }
}

/* Whether an option that no model takes may be meant all the same: it was left out by a mistake, and nothing else is picked. */
static bool may_be_meant(const Checker *checker, const Choice *choice, NodeId option)
{
    NodeId name = tree_header(checker->tree, option).name;
    for (uint32_t i = 0; i < choice->option_count; i++) {
        if (choice->options[i].node == option) {
            return false;
        }
    }
    return choice->picked < 0 || (name != 0 && choice->options[choice->picked].name == symbol_of(checker, name));
}

/* What stands in an option that no model takes is read for its mistakes, and is otherwise as if it were not written. */
static void find_spare_things(Checker *checker, const Choice *choice)
{
    if (choice->picked < 0 && !choice->left_out && choice->covered == 0 && choice->excluded == 0) {
        return;
    }
    for (NodeId o = walk_block(checker->tree, choice->node, 0); o != 0; o = walk_block(checker->tree, choice->node, o)) {
        if (tree_kind(checker->tree, o) != NODE_OPTION || choice_takes(choice, o)) {
            continue;
        }
        checker->losing = may_be_meant(checker, choice, o) ? checker->lost_outside : NULL;
        for (NodeId id = walk_block(checker->tree, o, 0); id != 0; id = walk_block(checker->tree, o, id)) {
            Header header;
            if (tree_kind(checker->tree, id) != NODE_THING) {
                continue;
            }
            if (header_is_usable(checker, id, &header)) {
                bool guessed;
                name_is_free(checker, header.name);
                add_orphan(checker, id, o, read_kind(checker, id, header.kind, &guessed));
            } else {
                declare_nameless(checker, id, o);
            }
        }
    }
}

/* The things outside of options as an earlier model declared them; see read_things in check.c for what they state. */
static void declare_as_before(Checker *checker, const Model *first)
{
    Model *model = checker->model;
    for (uint32_t i = 0; i < first->entity_count && first->entities[i]->option == 0; i++) {
        const Entity *before = first->entities[i];
        Entity *entity = ARENA_NEW(checker->arena, Entity);
        *entity = (Entity){.kind = before->kind,
                           .system = kinds[before->kind].system,
                           .name = before->name,
                           .index = i,
                           .node = before->node};
        model->by_symbol[entity->name] = entity;
        model->entities[model->entity_count++] = entity;
    }
}

static void declare_first(Checker *checker)
{
    for (uint32_t i = 0; i < checker->spec->choice_count; i++) {
        const Choice *choice = &checker->spec->choices[i];
        for (uint32_t j = 0; j < choice->option_count; j++) {
            note_option_names(checker, choice, choice->options[j].node);
        }
    }
    tell_choice_names(checker);
    checker->losing = checker->lost_outside;
    find_lost_names(checker);
    declare_outside(checker);
    tell_inside_and_outside(checker);
    for (uint32_t i = 0; i < checker->spec->choice_count; i++) {
        find_spare_things(checker, &checker->spec->choices[i]);
    }
}

void names_declare(Checker *checker)
{
    const Checker *first = checker->spec->first_checker;
    uint32_t most = first != NULL ? first->most_entities : count_statements(checker);
    checker->most_entities = most;
    checker->model->entities = ARENA_ARRAY(checker->arena, Entity *, most);
    if (first != NULL) {
        declare_as_before(checker, first->model);
    } else {
        declare_first(checker);
    }
    memcpy(checker->model->lost, first != NULL ? first->lost_outside : checker->lost_outside, sizeof checker->model->lost);
    checker->losing = checker->model->lost;
    for (uint32_t i = 0; i < checker->model->choice_count; i++) {
        const Choice *choice = &checker->model->choices[i];
        if (choice->chosen >= 0) {
            declare_chosen(checker, choice);
        }
    }
    link_kinds(checker->model);
    find_boat(checker);
}
