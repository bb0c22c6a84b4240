/*
 * The command `garboard`: a thin user of the library. Reads its arguments by two tables (commands and options), asks the
 * library, prints or saves. Exit status: 0 fine, 1 broken, 2 the job could not be done, 3 a defect of the program.
 */
#ifndef GARBOARD_COMMAND_H
#define GARBOARD_COMMAND_H

/** Exit statuses; of several, the greatest is the worst. */
enum { EXIT_FINE = 0, EXIT_BROKEN = 1, EXIT_UNDONE = 2, EXIT_DEFECT = 3 };

int command_run(int count, char **arguments);

#endif
