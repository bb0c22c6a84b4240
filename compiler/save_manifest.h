/*
 * The manifest of a folder: which files Garboard wrote there, and what was in them. For save_folder.c only.
 *
 *     # Files that Garboard wrote here, and may replace: size, hash (FNV-1a), name
 *     412 85944171f73967e8 book.md
 *     9031 af63dc4c8601ec8c img/power.svg
 *
 * One line a file, by name. While a folder is being written a name may stand twice, with what was and what
 * will be. A manifest may have been edited by anybody: it is read strictly, and its names are kept within the
 * folder. Knows its own text; opens no file.
 */
#ifndef GARBOARD_SAVE_MANIFEST_H
#define GARBOARD_SAVE_MANIFEST_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct ManifestLine {
    const char *name;
    uint64_t size; /* bytes */
    uint64_t hash; /* FNV-1a, 64 bits */
} ManifestLine;

typedef struct Manifest {
    ManifestLine *lines; /* by name */
    size_t count;
} Manifest;

/**
 * Is it a name within the folder, or one sub-folder of it, that may be written and removed? Not the
 * manifest's own.
 */
bool manifest_is_good_name(const char *name);

/** Reads a manifest; false if it is not as Garboard writes it. */
bool manifest_read(Arena *arena, Str text, Manifest *manifest);

/** The line that every manifest begins with, and one for a file. */
void manifest_write_head(Buf *buf);
void manifest_write_line(Buf *buf, ManifestLine line);

/** The place of the first line with this name, or of where it would stand. */
size_t manifest_find(const Manifest *manifest, const char *name);

/** Is the name listed? `with` NULL asks no more; else one of its lines must have that size and hash. */
bool manifest_has(const Manifest *manifest, const char *name, const ManifestLine *with);

#endif
