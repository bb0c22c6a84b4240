/*
 * What was bought for options that a model does not take: it is in no figure of the boat but one, the money that is gone for it.
 *
 * The things of all options are read once, with the first model, and in silence: what is wrong with them is told by the model
 * that takes them, or where nothing does, by who reads what no model can hold. Parts are not looked into.
 */
#include "model/checker.h"
#include "model/gather.h"
#include "model/status.h"
#include "model/tax.h"
#include "model/walk.h"

/* As it stands in its option; NULL where nothing says that it was bought, or that money for it came back. */
static const Entity *read_bought(Checker *checker, const Choice *choice, NodeId option, NodeId statement)
{
    Header header = tree_header(checker->tree, statement);
    KindId kind = header.kind == 0 ? KIND_NONE : (KindId)checker->kind_of_symbol[symbol_of(checker, header.kind)];
    if (header.name == 0 || kind == KIND_NONE || !(kinds[kind].groups & GROUPS_COMMON)) {
        return NULL;
    }
    Entity *entity = ARENA_NEW(checker->arena, Entity);
    *entity = (Entity){.kind = (uint8_t)kind,
                       .option = option,
                       .choice = choice,
                       .node = statement,
                       .name = tree_node(checker->tree, header.name)->u.symbol};
    entity->block = *block_read(checker, statement, kind, entity);
    tax_add_to(checker->model, entity);
    Purchase purchase = purchase_of(entity);
    return purchase.status != STATUS_UNSAID || entity_states(entity, PROP_COMMON_REFUNDED) || entity_states(entity, PROP_COMMON_DEPOSIT) ? entity : NULL;
}

static uint32_t count_things(const Checker *checker)
{
    uint32_t count = 0;
    for (uint32_t c = 0; c < checker->model->choice_count; c++) {
        const Choice *choice = &checker->model->choices[c];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            NodeId option = choice->options[o].node;
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
                count += tree_kind(checker->tree, id) == NODE_THING;
            }
        }
    }
    return count;
}

static void read_options(Checker *checker)
{
    Messages *messages = checker->messages, unheard;
    int near_left = checker->near_left;
    messages_init(&unheard, checker->arena);
    checker->messages = checker->model->messages = &unheard;
    checker->bought_in_options = ARENA_ARRAY(checker->arena, const Entity *, count_things(checker) + 1);
    for (uint32_t c = 0; c < checker->model->choice_count; c++) {
        const Choice *choice = &checker->model->choices[c];
        for (uint32_t o = 0; o < choice->option_count; o++) {
            NodeId option = choice->options[o].node;
            for (NodeId id = walk_block(checker->tree, option, 0); id != 0; id = walk_block(checker->tree, option, id)) {
                const Entity *bought = tree_kind(checker->tree, id) == NODE_THING ? read_bought(checker, choice, option, id) : NULL;
                if (bought != NULL) {
                    checker->bought_in_options[checker->bought_in_options_count++] = bought;
                }
            }
        }
    }
    checker->messages = checker->model->messages = messages;
    checker->near_left = near_left;
}

void left_out_read(Checker *checker)
{
    if (checker->model->choice_count == 0) {
        return;
    }
    if (checker->spec->first_checker == NULL) {
        read_options(checker);
    }
    const Checker *first = checker->spec->first_checker != NULL ? checker->spec->first_checker : checker;
    Model *model = checker->model;
    model->left_out = ARENA_ARRAY(checker->arena, const Entity *, first->bought_in_options_count + 1);
    for (uint32_t i = 0; i < first->bought_in_options_count; i++) {
        const Entity *bought = first->bought_in_options[i];
        const Choice *choice = &model->choices[bought->choice - first->model->choices]; /* in the same order in each */
        bool taken = choice->chosen >= 0 && choice->options[choice->chosen].node == bought->option;
        if (choice->chosen >= 0 && !taken) {
            model->left_out[model->left_out_count++] = bought;
        }
    }
}
