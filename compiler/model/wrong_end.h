/*
 * A cable that is stated at its wrong end. What makes power says what it `feeds`, what takes it what it is `fed-by`, and a bank
 * neither. Private to compiler/model/; gives words for messages, and notes what was meant of another thing.
 */
#ifndef GARBOARD_MODEL_WRONG_END_H
#define GARBOARD_MODEL_WRONG_END_H

#include "model/checker.h"

/** Whether a word is one for giving power. */
bool wrong_end_feeds(Str word);
/**
 * Appends what to write where a line says it at the wrong end; `of`: the thing, or NULL. *meant: the property that is, or
 * PROP_NONE. False: it says something else.
 */
bool wrong_end_meant(const Checker *checker, Buf *right, NodeId statement, NodeId term, KindId kind, const Entity *of, PropId *meant);
/** `feeds lamp` in a circuit: what feeds the lamp is not known, and was not forgotten. */
void wrong_end_lose(Checker *checker, NodeId statement, NodeId term);

#endif
