/*
 * One file, written whole. The steps are in save_step.c; here is what the path leads to.
 */
#define _XOPEN_SOURCE 700 /* realpath, openat */

#include "save.h"

#include "save_step.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool refuse(Buf *why, const char *path, int error)
{
    if (error == 0) {
        return true;
    }
    buf_format(why, "cannot write `%s`: ", path);
    save_write_cause(why, error);
    return false;
}

/* A device or a pipe has nothing to replace, and must not be replaced. */
static int write_through(const char *path, Str bytes)
{
    int file = open(path, O_WRONLY | O_NOCTTY | O_CLOEXEC);
    if (file < 0) {
        return errno;
    }
    int error = save_write_all(file, bytes);
    if (close(file) != 0 && error == 0) {
        error = errno;
    }
    return error;
}

/* The file at `name` in the folder is a file or not there. */
static int replace(const char *folder_path, const char *name, Str bytes)
{
    char temporary[SAVE_TEMPORARY];
    Found found;
    int folder = open(folder_path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0) {
        return errno;
    }
    int error = save_look(folder, name, bytes, &found);
    if (error == EACCES && found.plain) {
        error = 0; /* may be written though not read */
    }
    if (error == 0 && found.there && !found.plain) {
        error = ELOOP;
    }
    if (error == 0 && !found.equal) {
        error = save_stage(folder, name, &found, bytes, 0, temporary);
        if (error == 0) {
            error = save_put(folder, temporary, name);
            (void)fsync(folder); /* the name, too, should outlast a loss of power; not all file systems can */
        }
    }
    close(folder);
    return error;
}

/* Splits a path into the folder, which is copied, and the name in it. */
static const char *split(Arena *arena, const char *path, const char **name)
{
    const char *slash = strrchr(path, '/');
    *name = slash ? slash + 1 : path;
    if (!slash) {
        return ".";
    }
    return slash == path ? "/" : str_copy(arena, (Str){path, (size_t)(slash - path)});
}

bool save_file(const char *path, Str bytes, Buf *why)
{
    char real[PATH_MAX];
    struct stat status;
    const char *name;
    bool exists = stat(path, &status) == 0;
    if (!exists && errno != ENOENT) {
        return refuse(why, path, errno);
    }
    if (exists && S_ISDIR(status.st_mode)) {
        return refuse(why, path, EISDIR);
    }
    if (exists && !S_ISREG(status.st_mode)) {
        return refuse(why, path, write_through(path, bytes));
    }
    const char *target = path;
    if (exists) { /* past every link, so that a link stays one */
        target = realpath(path, real);
        if (!target) {
            return refuse(why, path, errno);
        }
    }
    const char *folder = split(why->arena, target, &name);
    return refuse(why, path, *name == '\0' ? EINVAL : replace(folder, name, bytes));
}
