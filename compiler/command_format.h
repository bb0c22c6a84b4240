/*
 * `garboard format`: lays out the files of a spec anew, each whole or not at all.
 */
#ifndef GARBOARD_COMMAND_FORMAT_H
#define GARBOARD_COMMAND_FORMAT_H

#include "command_options.h"

/**
 * Formats each file that the options name in its place, standard input to standard output; with --check
 * prints the names of those that would change. The exit status of the command: the worst of all files.
 */
int format_files(const Options *options);

#endif
