/*
 * Which file of a folder is the spec: for commands that take a folder in place of its main file.
 */
#ifndef GARBOARD_COMMAND_FOLDER_H
#define GARBOARD_COMMAND_FOLDER_H

#include <stdbool.h>

/**
 * For a folder, the main file of the spec in it: FOLDER/NAME.boat, where NAME is what the folder is called;
 * else, of the .boat files directly in it, the only one with an `edition`; else the only one that states a
 * boat. *found is from malloc; NULL for what is no folder. False after a message.
 */
bool folder_main_file(const char *path, char **found);

#endif
