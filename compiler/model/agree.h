/*
 * What a spec says twice, or for nothing, and whether it says by which edition of the language.
 *
 * One thing stated in two ways (panels by their count and by strings, a tank by its capacity and by its
 * size) is a mistake where the two cannot both be true. A part or a space that nothing uses is not; it can
 * be asked for here, because only the whole text tells: an option that this model does not take may use it.
 */
#ifndef GARBOARD_MODEL_AGREE_H
#define GARBOARD_MODEL_AGREE_H

#include "base/interval.h"
#include "model/model.h"

/** Tells what is stated in two ways that do not agree. Mistakes go to model->messages. */
void agree_check(Model *model);
/** The part of it for an engine: what only one that burns something has, on an electric one, and the other way round. */
void agree_check_engine(Model *model, const Entity *engine);

/**
 * How a thing is laid out: `series` times `parallel`, which is the count too. False for other kinds, or if
 * neither is stated.
 */
bool layout_count(const Entity *entity, Interval *count);

/** Whether a tank states a `capacity` smaller than the box of its `size`: it is narrower somewhere. */
bool tank_is_no_box(const Entity *tank);

/** A name of the spec that is declared and never used. */
typedef struct Unused {
    NodeId node; /* its statement */
    Str name;
    Span at; /* of the name */
    struct Unused *next;
} Unused;

/** The parts that no thing is, in any option; in the order of the spec. */
const Unused *unused_parts(const Model *model);
/**
 * Whether the spec says by which edition of the language it is to be read. If not, *first is the place of its first
 * statement; true of a spec without any.
 */
bool states_edition(const Model *model, Span *first);
/** The spaces that no property names, in any option. */
const Unused *unused_spaces(const Model *model);

#endif
