/*
 * What options and the command line set over what things state: `set NAME.PROPERTY value`, `--set NAME.PROPERTY=VALUE`.
 * Private to compiler/model/.
 */
#ifndef GARBOARD_MODEL_SETTINGS_H
#define GARBOARD_MODEL_SETTINGS_H

#include "model/checker.h"

/** Her rates and her currency, as they are set: before anything is read that has a price. The boat's own lines are read. */
void settings_apply_money(Checker *checker);
/** Whether options set her rates or her currency: then no two models need read one price alike. */
bool settings_vary_money(Checker *checker);
/** A line of a property that may stand several times, and that something set stands in place of. */
typedef struct SetOver {
    const Entity *thing;
    Property line;
    NodeId by; /* the statement that sets */
    struct SetOver *next;
} SetOver;

/** All of them in a model. */
const SetOver *settings_over(const Model *model);
/**
 * Whether a line that was set over is said anew, by one that is there: of the same day, speed, currencies ...; of a property
 * whose lines nothing tells apart, by as many lines as there were.
 */
bool settings_say_anew(const Model *model, const SetOver *over);

/** What the options that this model takes set. */
void settings_apply(Checker *checker);
/** What the command line sets, after everything else. */
void settings_apply_command(Checker *checker);
/** Reads what options set that no model takes, for its mistakes alone. */
void settings_read_spare(Checker *checker);

#endif
