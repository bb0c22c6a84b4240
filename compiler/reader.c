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

/* Reads a whole file of known size, or less if it shrinks meanwhile. */
static GbFile read_whole(int file, const struct stat *status, void *(*allocate)(void *, size_t), void *memory)
{
    GbFile result = {.identity = {(uint64_t)status->st_dev + 1, (uint64_t)status->st_ino}};
    size_t size = (size_t)status->st_size;
    char *text = allocate(memory, size + 1);
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

static GbFile read_file(void *context, const char *path, void *(*allocate)(void *memory, size_t size), void *memory)
{
    (void)context;
    int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) {
        return (GbFile){.error = reason(errno)};
    }
    struct stat status;
    GbFile result = {.error = "the system cannot read it"};
    if (fstat(file, &status) == 0) {
        result.error = S_ISDIR(status.st_mode) ? "it is a folder" : "it is not an ordinary file";
        if (S_ISREG(status.st_mode)) {
            /* The arena may jump out of allocate; then the file stays open until the program ends, which is at once. */
            result = read_whole(file, &status, allocate, memory);
        }
    }
    close(file);
    return result;
}

GbReader gb_reader_files(void)
{
    return (GbReader){read_file, NULL};
}
