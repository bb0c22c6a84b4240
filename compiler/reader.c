/*
 * The reader of the file system that include/garboard.h offers. What is included must be a regular file, so that a spec
 * from a stranger cannot make the program wait on a device; the main file may be a pipe.
 */
#include "garboard.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *reason(int number)
{
    switch (number) {
    case ENOENT:
        return "there is no such file";
    case ENOTDIR:
        return "part of its path is not a folder";
    case EACCES:
    case EPERM:
        return "it may not be read";
    case ELOOP:
        return "its links lead in a circle";
    case ENAMETOOLONG:
        return "its name is too long";
    case EMFILE:
    case ENFILE:
        return "too many files are open";
    case EISDIR:
        return "it is a folder";
    default:
        return "the system cannot read it";
    }
}

/* Reads a file into room for `size` bytes and a NUL, or less if it shrinks meanwhile. */
static GbFile read_whole(int file, char *text, size_t size)
{
    GbFile result = {.error = NULL};
    size_t length = 0;
    while (length < size) {
        ssize_t got = read(file, text + length, size - length);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            result.error = reason(errno);
            return result;
        }
        if (got == 0) {
            break;
        }
        length += (size_t)got;
    }
    text[length] = 0;
    result.text = text;
    result.length = length;
    return result;
}

/* Memory is asked for before the file is open: the compilation may jump out of `allocate`, and nobody would close it. */
static GbFile read_file(void *context, const char *path, void *(*allocate)(void *memory, size_t size), void *memory)
{
    (void)context;
    struct stat before, status;
    if (stat(path, &before) != 0) {
        return (GbFile){.error = reason(errno)};
    }
    if (!S_ISREG(before.st_mode)) {
        return (GbFile){.error = S_ISDIR(before.st_mode) ? "it is a folder" : "it is not an ordinary file"};
    }
    char *text = allocate(memory, (size_t)before.st_size + 1);
    int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) {
        return (GbFile){.error = reason(errno)};
    }
    GbFile result = {.error = "the system cannot read it"};
    if (fstat(file, &status) == 0) {
        bool same = status.st_dev == before.st_dev && status.st_ino == before.st_ino && status.st_size <= before.st_size;
        result.error = "it changes while it is read";
        if (same) {
            result = read_whole(file, text, (size_t)status.st_size);
        }
    }
    close(file);
    result.identity[0] = (uint64_t)before.st_dev + 1;
    result.identity[1] = (uint64_t)before.st_ino;
    return result;
}

GbReader gb_reader_files(void)
{
    return (GbReader){read_file, NULL};
}
