/*
 * Files that are written whole or not at all.
 *
 * The bytes go to a temporary file beside the target, to the disk, and only then under the target's name:
 * whoever looks finds the old file or the new one. A file that holds the bytes already is not touched. Memory
 * comes from the arena of `why` and nothing is kept open while it is asked for, so that running out of it
 * loses no descriptor. Knows files and bytes; not what is in them.
 */
#ifndef GARBOARD_SAVE_H
#define GARBOARD_SAVE_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stddef.h>

/**
 * Writes a file. An existing one keeps its mode, and its owner where the system allows it; of a link, the
 * file that it leads to is written; a device or a pipe is written to directly, as there is nothing to
 * replace. False if that cannot be done: `why` then says so in a sentence, and what was there is as it was.
 */
bool save_file(const char *path, Str bytes, Buf *why);

/* ---- A folder of files ---- */

/**
 * The name of the list, in the folder, of what was written there: by it Garboard tells its own files from
 * others.
 */
#define SAVE_MANIFEST "garboard-manifest.txt"

typedef struct SaveFile {
    const char *name; /* within the folder; may have one `/`; no part of it begins with a point */
    Str bytes;
} SaveFile;

/*
 * How a file is found that the folder should hold, or held once. Ours: listed in the manifest, and as it was
 * written.
 */
typedef enum FolderState {
    FOLDER_CURRENT,  /* holds what it should */
    FOLDER_MISSING,  /* is not there */
    FOLDER_STALE,    /* ours, holds something else: is rewritten */
    FOLDER_LEFTOVER, /* ours, wanted no longer: is removed */
    FOLDER_KEPT,     /* wanted no longer, but edited by hand: stays */
    FOLDER_EDITED,   /* wanted, but edited by hand: nothing is written */
    FOLDER_FOREIGN,  /* wanted, but somebody else's file: nothing is written */
    FOLDER_BLOCKED,  /* wanted, but its own folder is a file or a link: nothing is written */
    FOLDER_STATE_COUNT
} FolderState;

typedef struct FolderChange {
    const char *name;
    FolderState state; /* never FOLDER_CURRENT */
} FolderChange;

typedef struct FolderChanges {
    FolderChange *list; /* by name */
    size_t count;
} FolderChanges;

/** A state in words: "is missing", "was edited by hand" ... */
const char *folder_state_words(FolderState state);

/**
 * Makes a folder hold these files, and notes them in its manifest. Creates the folder, whose parent must
 * exist, and sub-folders. Rewrites only what differs, removes only its own files of before that nobody
 * edited, touches nothing else and follows no link that lies in the folder. If a file stands in the way (the
 * last three states), or anything cannot be written, nothing at all is changed: false, and `why` says what in
 * a sentence. `changes`, unless NULL, gets what differed; names must differ.
 */
bool save_folder(const char *folder, const SaveFile files[], size_t count, FolderChanges *changes, Buf *why);

/**
 * Tells what save_folder would find to do, without doing it. False if the folder cannot be read, with `why`.
 */
bool folder_check(const char *folder, const SaveFile files[], size_t count, FolderChanges *changes, Buf *why);

#endif
