/*
 * The arguments of the command: what there is, in tables, and what was given.
 */
#ifndef GARBOARD_COMMAND_OPTIONS_H
#define GARBOARD_COMMAND_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

typedef enum CommandId {
    COMMAND_NONE,
    COMMAND_CHECK,
    COMMAND_BOOK,
    COMMAND_BOM,
    COMMAND_FIGURES,
    COMMAND_WHY,
    COMMAND_COMPARE,
    COMMAND_DIFF,
    COMMAND_FORMAT,
    COMMAND_RULES,
    COMMAND_KINDS,
    COMMAND_NEW,
    COMMAND_COUNT
} CommandId;

typedef struct CommandRow {
    const char *word;
    const char *form; /* "SPEC -o DIR" */
    const char *help;
    int least, most;  /* how many arguments; COMMAND_MANY: any number */
} CommandRow;
enum { COMMAND_MANY = 1 << 30 };
extern const CommandRow command_rows[COMMAND_COUNT];

/* Options that may be given more than once. */
typedef struct Texts {
    const char **list;
    size_t count;
} Texts;

typedef struct Options {
    CommandId command;
    const char **arguments; /* NULL behind the last, twice */
    int argument_count;
    Texts with;
    Texts with_old; /* of `diff`: for one of the two specs */
    Texts with_new;
    Texts set;
    Texts reports;
    Texts columns;
    const char *from;
    const char *as_of;
    const char *as_of_old; /* of `diff`: the old spec was read on that day */
    const char *basis;
    const char *format;
    const char *color;
    const char *stdin_name;
    const char *output;
    const char *by;
    bool strict;
    bool check;
    bool to_buy;
    bool help;
    bool version;
} Options;

/** Reads the arguments; false after a message on standard error. The lists in `options` are the caller's to free. */
bool options_read(Options *options, int count, char **arguments);

/** What `garboard --help` and `garboard COMMAND --help` print. */
void options_help(CommandId command);

#endif
