/*
 * The steps of writing a file whole, within an open folder; for save.c and save_folder.c only.
 *
 * Each returns 0 or an errno, allocates nothing, and leaves nothing behind when it fails. None follows a
 * link.
 */
#ifndef GARBOARD_SAVE_STEP_H
#define GARBOARD_SAVE_STEP_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stdint.h>
#include <sys/types.h>

enum { SAVE_TEMPORARY = 80 }; /* room for the name of a temporary file */

/* What is found under a name. */
typedef struct Found {
    bool there;
    bool plain; /* a file: no link, folder, device or pipe; what follows is of such a one */
    bool equal; /* it holds the bytes asked about */
    uint64_t size;
    uint64_t hash; /* save_hash of its bytes */
    mode_t mode;
    uid_t owner;
    gid_t group;
} Found;

/** The 64-bit FNV-1a hash: start with SAVE_HASH_EMPTY. Source: the FNV draft of the IETF, from memory. */
uint64_t save_hash(uint64_t hash, Str bytes);
#define SAVE_HASH_EMPTY UINT64_C(0xCBF29CE484222325)

/** Looks at what is under a name. A file that cannot be read is an error, but `found` has its mode then. */
int save_look(int folder, const char *name, Str bytes, Found *found);

/** Reads a file, of which no more than `length` bytes are taken; then `length` is how many there were. */
int save_read(const char *path, char *bytes, size_t *length);

/**
 * Writes the bytes to a new temporary file beside `name`, all the way to the disk, with the mode and owner of
 * what was found there, which must be plain or not there, and not protected from writing. `number` tells
 * temporary files of one run apart. Fills in the temporary name.
 */
int save_stage(int folder, const char *name, const Found *found, Str bytes, size_t number, char *temporary);

/**
 * Puts the temporary file in the place of `name`; to be sure of it after a loss of power, fsync the folder
 * then.
 */
int save_put(int folder, const char *temporary, const char *name);

/** Writes all bytes to an open file. */
int save_write_all(int file, Str bytes);

/** Appends what an errno means, in words that depend on no locale: "the disk is full". */
void save_write_cause(Buf *why, int error);

#endif
