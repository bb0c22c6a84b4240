/*
 * The steps of writing a file whole. Knows POSIX files; not what they are for.
 */
#define _XOPEN_SOURCE 700 /* openat and its kin */

#include "save_step.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct Cause {
    int error;
    const char *words;
} Cause;

static const Cause causes[] = {
    {EACCES, "permission is refused"},
    {EPERM, "the system does not permit it"},
    {ENOENT, "its folder does not exist"},
    {ENOTDIR, "a part of its path is not a folder"},
    {EISDIR, "it is a folder"},
    {ELOOP, "it is a link that leads nowhere"},
    {ENOSPC, "the disk is full"},
    {EDQUOT, "your share of the disk is used up"},
    {EFBIG, "files may not be that large here"},
    {EROFS, "the disk is read-only"},
    {EIO, "the disk failed"},
    {ENAMETOOLONG, "its name is too long"},
    {EINVAL, "it is not a name for a file"},
    {EMFILE, "too many files are open"},
    {ENFILE, "too many files are open"},
    {EPIPE, "nobody reads at its other end"},
    {ENXIO, "nobody reads at its other end"},
    {ETXTBSY, "it is a program that is running"},
    {EBUSY, "it is in use"},
};

void save_write_cause(Buf *why, int error)
{
    for (size_t i = 0; i < sizeof causes / sizeof *causes; i++) {
        if (causes[i].error == error) {
            buf_text(why, causes[i].words);
            return;
        }
    }
    buf_format(why, "the system refuses it (error %d)", error);
}

uint64_t save_hash(uint64_t hash, Str bytes)
{
    for (size_t i = 0; i < bytes.length; i++) {
        hash = (hash ^ (unsigned char)bytes.text[i]) * UINT64_C(0x100000001B3);
    }
    return hash;
}

/* Compares and hashes the open file as it is read. */
static int read_through(int file, Str bytes, Found *found)
{
    char chunk[16384];

    found->hash = SAVE_HASH_EMPTY;
    found->size = 0;
    found->equal = true;
    for (;;) {
        ssize_t got = read(file, chunk, sizeof chunk);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            return errno;
        }
        if (got == 0) {
            found->equal = found->equal && found->size == bytes.length;
            return 0;
        }
        size_t length = (size_t)got;
        found->equal = found->equal && length <= bytes.length - found->size &&
                       memcmp(chunk, bytes.text + found->size, length) == 0;
        found->hash = save_hash(found->hash, (Str){chunk, length});
        found->size += length;
    }
}

int save_look(int folder, const char *name, Str bytes, Found *found)
{
    struct stat status;

    *found = (Found){0};
    if (fstatat(folder, name, &status, AT_SYMLINK_NOFOLLOW) != 0) {
        return errno == ENOENT ? 0 : errno;
    }
    found->there = true;
    found->plain = S_ISREG(status.st_mode);
    found->mode = status.st_mode;
    found->owner = status.st_uid;
    found->group = status.st_gid;
    if (!found->plain) {
        return 0;
    }
    int file = openat(folder, name, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) {
        return errno;
    }
    int error = read_through(file, bytes, found);
    close(file);
    return error;
}

int save_read(const char *path, char *bytes, size_t *length)
{
    size_t room = *length;
    *length = 0;
    int file = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) {
        return errno;
    }
    int error = 0;
    while (*length < room) {
        ssize_t got = read(file, bytes + *length, room - *length);
        if (got < 0 && errno != EINTR) {
            error = errno;
            break;
        }
        if (got == 0) {
            break;
        }
        *length += got > 0 ? (size_t)got : 0;
    }
    close(file);
    return error;
}

int save_write_all(int file, Str bytes)
{
    while (bytes.length > 0) {
        ssize_t put = write(file, bytes.text, bytes.length);
        if (put < 0 && errno != EINTR) {
            return errno;
        }
        if (put > 0) {
            bytes.text += put;
            bytes.length -= (size_t)put;
        }
    }
    return 0;
}

/* A file that is protected from writing is not replaced either, though its folder would allow that. */
static int check_writable(int folder, const char *name)
{
    int file = openat(folder, name, O_WRONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) {
        return errno;
    }
    close(file);
    return 0;
}

/* A new file under a name that was free. */
static int create_temporary(int folder, size_t number, char *temporary, int *file)
{
    for (unsigned attempt = 0; attempt < 100; attempt++) {
        snprintf(temporary, SAVE_TEMPORARY, ".garboard-%ld-%zu-%u", (long)getpid(), number, attempt);
        *file = openat(folder, temporary, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
        if (*file >= 0) {
            return 0;
        }
        if (errno != EEXIST) {
            break;
        }
    }
    return errno;
}

/* The new file is to be like the old: the owner as far as the system allows, the mode for certain. */
static int take_after(int file, const Found *found)
{
    if (!found->there) {
        return 0;
    }
    if (found->owner != geteuid() && fchown(file, found->owner, found->group) != 0) {
        errno = 0; /* only the superuser may give files away */
    }
    return fchmod(file, found->mode & 0777) == 0 ? 0 : errno;
}

static int fill(int file, const Found *found, Str bytes)
{
    int error = take_after(file, found);
    if (error == 0) {
        error = save_write_all(file, bytes);
    }
    if (error == 0 && fsync(file) != 0) {
        error = errno;
    }
    if (close(file) != 0 && error == 0) {
        error = errno;
    }
    return error;
}

int save_stage(int folder, const char *name, const Found *found, Str bytes, size_t number, char *temporary)
{
    assert(!found->there || found->plain);
    int file = -1;
    int error = found->there ? check_writable(folder, name) : 0;
    if (error == 0) {
        error = create_temporary(folder, number, temporary, &file);
    }
    if (error != 0) {
        temporary[0] = '\0';
        return error;
    }
    error = fill(file, found, bytes);
    if (error != 0) {
        unlinkat(folder, temporary, 0);
        temporary[0] = '\0';
    }
    return error;
}

int save_put(int folder, const char *temporary, const char *name)
{
    if (renameat(folder, temporary, folder, name) != 0) {
        int error = errno;
        unlinkat(folder, temporary, 0);
        return error;
    }
    return 0;
}
