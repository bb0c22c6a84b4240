/* See wrong_end.h. */
#include "model/wrong_end.h"

bool wrong_end_feeds(Str word)
{
    return str_is(word, "feeds") || str_is(word, "feed") || str_is(word, "supplies") || str_is(word, "powers");
}

/* The thing that is named behind the word of a statement; NULL: none is. */
static Entity *named_behind(const Checker *checker, NodeId statement, NodeId term)
{
    const Tree *tree = checker->tree;
    bool word = term < statement + tree_node(tree, statement)->terms && tree_kind(tree, term + 1) == NODE_WORD;
    return word ? checker->model->by_symbol[symbol_of(checker, term + 1)] : NULL;
}

/* Whether other things may be fed by such a one; a lamp feeds nothing. */
static bool may_feed(const Checker *checker, KindId kind)
{
    const Shape *shape = shapes_get(checker->spec->shapes, PROP_FEED_FED_BY);
    for (uint8_t i = 0; i < shape->item_count; i++) {
        const ShapeItem *item = &shape->items[i];
        if (item->kind == ITEM_ATOM && kind_set_has(item->atoms[0].things, kind)) {
            return true;
        }
    }
    return false;
}

/* "`feeds house { ... }`", where that can be fed. */
static void write_feeds(const Checker *checker, Buf *right, const Entity *fed)
{
    bool may = fed != NULL && (fed->kind == KIND_BANK || fed->kind == KIND_BUS || fed->kind == KIND_PANEL || fed->kind == KIND_SWITCH);
    buf_text(right, "`feeds ");
    buf_add(right, may ? entity_name(checker->model, fed) : STR("NAME"));
    buf_text(right, " { ... }`: what makes power says where it goes");
}

bool wrong_end_meant(const Checker *checker, Buf *right, NodeId statement, NodeId term, KindId kind, const Entity *of, PropId *meant)
{
    Str word = tree_text(checker->tree, term);
    bool takes = schema_find_prop(kind, STR("fed-by")) != PROP_NONE, makes = schema_find_prop(kind, STR("feeds")) != PROP_NONE;
    bool feeds = wrong_end_feeds(word), fed_by = !takes && str_is(word, "fed-by");
    const Entity *named = named_behind(checker, statement, term);
    *meant = PROP_NONE;
    if (makes && (feeds || fed_by)) {
        write_feeds(checker, right, named);
        *meant = PROP_MAKER_FEEDS;
    } else if (feeds && (may_feed(checker, kind) || kind == KIND_BANK)) {
        if (takes && str_is(word, "feed")) {
            buf_text(right, "`fed-by`, or ");
            *meant = PROP_FEED_FED_BY;
        }
        buf_text(right, "`fed-by ");
        buf_add(right, of != NULL ? entity_name(checker->model, of) : STR("NAME"));
        buf_text(right, "` in ");
        buf_format(right, named != NULL ? "`%.*s`" : "what it feeds", STR_ARG(named != NULL ? entity_name(checker->model, named) : STR("")));
        buf_text(right, ": what takes power says where it comes from");
    } else if (fed_by && kind == KIND_BANK) {
        bool charges = named != NULL && kinds[named->kind].groups & GROUPS_MAKER && of != NULL;
        if (charges) {
            buf_format(right, "`feeds %.*s { ... }` in `%.*s`", STR_ARG(entity_name(checker->model, of)),
                       STR_ARG(entity_name(checker->model, named)));
        } else {
            buf_text(right, "`feeds` in what charges it, with its name");
        }
        buf_text(right, "; what it supplies is `fed-by` it");
    } else {
        return false;
    }
    return true;
}

void wrong_end_lose(Checker *checker, NodeId statement, NodeId term)
{
    const Tree *tree = checker->tree;
    for (NodeId at = term + 1; at <= statement + tree_node(tree, statement)->terms; at++) {
        Entity *taker = tree_kind(tree, at) == NODE_WORD ? checker->model->by_symbol[symbol_of(checker, at)] : NULL;
        if (taker != NULL) {
            taker->flags |= ENTITY_FEED_LOST;
        }
    }
}
