/*
 * Options of different choices that set the same property: which they are, and which combinations of the open choices
 * are left without them. What is set is compared by its words, so that it can be asked before any model is built.
 */
#ifndef GARBOARD_MODEL_CLASH_H
#define GARBOARD_MODEL_CLASH_H

#include "model/build.h"

/** A `set` of an option that may be picked. */
struct OptionSet {
    NodeId statement;
    Symbol name;            /* of the thing */
    Symbol outer, target;   /* the block that the property stands in, and which of several; 0: not said */
    Symbol word;            /* of the property */
    uint32_t choice, option;
    uint32_t before;        /* index of the first of its property in its choice: what stands before is of others */
};

/** Finds them: Spec.option_sets, those of one property together, each in the order of the choices. */
void clashes_find(Spec *spec, Arena *arena);

/** Whether two `set` statements set rates of different currencies: each of them stands beside the other. */
bool clash_is_of_other_rate(const Tree *tree, NodeId one, NodeId other);

/** Whether no two options of a combination set the same property, where one of them at least is open. */
bool clashes_allow(const Spec *spec, const int32_t *taken);

/**
 * Leaves out of the combinations those that set a property twice. Of a sample, an option of another choice is taken in
 * their place where that helps. Where none would be left all stay, and the models tell the mistake. Marks the options
 * that no combination takes any more, and says in Spec.sets_clash whether anything was left out.
 */
void clashes_leave_out(Spec *spec, Arena *arena, Combinations *combinations, uint32_t most);

/** What the options of a model's spec set; none where no combination was left out for it. */
const OptionSet *clashes_of_model(const Model *model, uint32_t *count);
/** Those before it that cannot be picked together with that of index `number`, the nearest first; their count. */
uint32_t clashes_with(const Model *model, uint32_t number, const OptionSet *others[], uint32_t most);

#endif
