/*
 * Saving for the command: files and the book's folder, with messages on standard error.
 */
#ifndef GARBOARD_COMMAND_SAVE_H
#define GARBOARD_COMMAND_SAVE_H

#include "garboard.h"

#include <stdbool.h>

/** Writes a file whole; false after a message. */
bool save_or_tell(const char *path, const char *text, size_t length);

/** The same for a file that must not be there yet. */
bool save_new_or_tell(const char *path, const char *text, size_t length);

/**
 * What became of a text that was asked for: into a new file at `path`, or printed where that is NULL. Not `made`: it says
 * why, or is NULL for want of memory. False after a message.
 */
bool save_or_print(const char *path, bool made, const char *text, size_t length);

/** Writes the book's folder, or (check) tells which of its files are stale. The exit status. */
int save_book(const char *folder, const GbBookFile *files, size_t count, bool check);

#endif
