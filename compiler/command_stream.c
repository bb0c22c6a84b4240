/* See command_stream.h. */
#include "command_stream.h"

#include <errno.h>
#include <stdlib.h>

bool stream_print(const char *text, size_t length)
{
    if (length == 0 || (fwrite(text, 1, length, stdout) == length && fflush(stdout) == 0)) {
        return true;
    }
    fprintf(stderr, "garboard: cannot write to standard output: %s\n",
            errno == ENOSPC ? "the disk is full" : "it takes no more");
    return false;
}

char *stream_read(FILE *stream, const char *name, size_t *length)
{
    size_t capacity = 64 * 1024;
    char *text = malloc(capacity);
    *length = 0;
    while (text != NULL) {
        size_t got = fread(text + *length, 1, capacity - *length, stream);
        *length += got;
        if (*length < capacity) {
            break;
        }
        capacity *= 2;
        char *more = realloc(text, capacity);
        if (more == NULL) {
            free(text);
        }
        text = more;
    }
    if (text == NULL || ferror(stream)) {
        fprintf(stderr, "garboard: cannot read %s: %s\n", name,
                text == NULL ? "it is too large" : "the system cannot read it");
        free(text);
        return NULL;
    }
    return text;
}
