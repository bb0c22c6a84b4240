/*
 * Standard input and output of the command, with messages on standard error.
 */
#ifndef GARBOARD_COMMAND_STREAM_H
#define GARBOARD_COMMAND_STREAM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/** Writes to standard output, whole; false after a message. */
bool stream_print(const char *text, size_t length);

/**
 * Reads a stream of unknown length (standard input, a pipe) to its end. The text is from malloc and does
 * not end in NUL; NULL after a message, which calls it `name`.
 */
char *stream_read(FILE *stream, const char *name, size_t *length);

#endif
