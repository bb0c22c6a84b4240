/*
 * The command `garboard`: a thin user of the library. Reads its arguments by two tables (commands and options), asks the
 * library, prints or saves. Exit status: 0 fine, 1 broken, 2 the job could not be done, 3 a defect of the program.
 */
#ifndef GARBOARD_COMMAND_H
#define GARBOARD_COMMAND_H

int command_run(int count, char **arguments);

#endif
