/* `garboard new NAME --from FILE`: a spec made of a table of things. Private to the command. */
#ifndef GARBOARD_COMMAND_IMPORT_H
#define GARBOARD_COMMAND_IMPORT_H

#include "command_options.h"

/** Prints or saves the spec, and says on standard error how many rows there were; the exit status. */
int import_table(const Options *options);

#endif
