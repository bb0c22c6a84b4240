/*
 * The properties of a thing: its own lines and its part's. Private to compiler/model/.
 */
#ifndef GARBOARD_MODEL_GATHER_H
#define GARBOARD_MODEL_GATHER_H

#include "model/checker.h"

/** Tells a word that is no property of the kind; `of`: of what thing, or NULL. The property that is probably meant, or PROP_NONE. */
PropId property_tell_unknown(Checker *checker, NodeId statement, NodeId term, KindId kind, const Entity *of);
/** The property of that word; the schema is asked once for each pair of kind and word, as a rule. */
static inline PropId property_find(Checker *checker, KindId kind, NodeId term)
{
    Symbol word = symbol_of(checker, term);
    FoundProp *found = &checker->spec->found_props[((word << 6 | (uint32_t)kind) * 2654435761u >> 16) % FOUND_PROPS];
    if (found->word != word || found->kind != kind) {
        PropId prop = schema_find_prop(kind, tree_text(checker->tree, term));
        *found = (FoundProp){.word = word, .kind = (uint8_t)kind, .prop = (uint16_t)prop};
    }
    return (PropId)found->prop;
}
/** Properties that are read, as a block. */
Block block_of(const Property *properties, uint32_t count);
/** A property's own block, or a part's; entity: the thing that it stands in, for names in options. */
const Block *block_read(Checker *checker, NodeId owner, KindId kind, const Entity *entity);
/** The same of a broken line that holds what belongs into its block, `feeds main run 1 m`: with all that this may state, unknown. */
const Block *block_with_lost(Checker *checker, const Block *block, NodeId statement, KindId kind);
/** The kind that a part describes; KIND_NONE after a message that told so. */
KindId part_kind(const Checker *checker, const Header *part);
/** All that a thing lacks, in one message. */
void thing_tell_missing(Checker *checker, const Entity *entity);
/** Reads a thing: what it states itself, then what its part states and it does not. */
void thing_read(Checker *checker, Entity *entity);

#endif
