/* See command_folder.h. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "command_folder.h"

#include "command_stream.h"

#include <dirent.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* FOLDER/NAMEENDING, from malloc; NULL after a message. */
static char *join(const char *folder, const char *name, const char *ending)
{
    size_t length = strlen(folder);
    while (length > 1 && folder[length - 1] == '/') {
        length--;
    }
    size_t size = length + strlen(name) + strlen(ending) + 2;
    char *path = malloc(size);
    if (path == NULL) {
        fprintf(stderr, "garboard: out of memory\n");
        return NULL;
    }
    snprintf(path, size, "%.*s%s%s%s", (int)length, folder, length == 1 && *folder == '/' ? "" : "/", name,
             ending);
    return path;
}

static bool is_file(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISREG(status.st_mode);
}

static bool is_folder(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

/* FOLDER/NAME.boat with the folder's own name, if there is such a file. */
static char *named_like_folder(const char *folder)
{
    char *whole = realpath(folder, NULL); /* `.` and `..` have a name too */
    const char *slash = whole != NULL ? strrchr(whole, '/') : NULL;
    char *path = slash != NULL && slash[1] != 0 ? join(folder, slash + 1, ".boat") : NULL;
    free(whole);
    if (path != NULL && !is_file(path)) {
        free(path);
        path = NULL;
    }
    return path;
}

/* Whether a line of the text begins with that word. */
static bool begins_a_line(const char *word, const char *text, size_t length)
{
    size_t size = strlen(word);
    const char *end = text + length;
    while (text < end) {
        while (text < end && (*text == ' ' || *text == '\t')) {
            text++;
        }
        if ((size_t)(end - text) > size && memcmp(text, word, size) == 0 &&
            (text[size] == ' ' || text[size] == '\t')) {
            return true;
        }
        const char *line_end = memchr(text, '\n', (size_t)(end - text));
        text = line_end != NULL ? line_end + 1 : end;
    }
    return false;
}

static bool file_states(const char *path, const char *word)
{
    FILE *file = is_file(path) ? fopen(path, "rb") : NULL;
    if (file == NULL) {
        return false;
    }
    size_t length;
    char *text = stream_read(file, path, &length);
    bool states = text != NULL && begins_a_line(word, text, length);
    free(text);
    fclose(file);
    return states;
}

static int is_spec_name(const struct dirent *entry)
{
    size_t length = strlen(entry->d_name);
    return length > 5 && entry->d_name[0] != '.' && strcmp(entry->d_name + length - 5, ".boat") == 0;
}

/* What became of looking for one file among several. */
typedef enum Search { SEARCH_NONE, SEARCH_ONE, SEARCH_FAILED } Search;

/* The only one of some files in which a line begins with that word. */
static Search search(const char *folder, struct dirent **entries, int count, const char *word, char **found)
{
    *found = NULL;
    for (int i = 0; i < count; i++) {
        char *path = join(folder, entries[i]->d_name, "");
        if (path == NULL) {
            free(*found);
            *found = NULL;
            return SEARCH_FAILED;
        }
        if (!file_states(path, word)) {
            free(path);
        } else if (*found == NULL) {
            *found = path;
        } else {
            fprintf(stderr, "garboard: both %s and %s have `%s`; name the one that is meant\n", *found, path,
                    word);
            free(path);
            free(*found);
            *found = NULL;
            return SEARCH_FAILED;
        }
    }
    return *found != NULL ? SEARCH_ONE : SEARCH_NONE;
}

bool folder_main_file(const char *path, char **found)
{
    *found = NULL;
    if (!is_folder(path)) {
        return true;
    }
    *found = named_like_folder(path);
    if (*found != NULL) {
        return true;
    }
    struct dirent **entries;
    int count = scandir(path, &entries, is_spec_name, alphasort);
    if (count < 0) {
        fprintf(stderr, "garboard: cannot read %s: it may not be read\n", path);
        return false;
    }
    Search result = search(path, entries, count, "edition", found);
    if (result == SEARCH_NONE) {
        result = search(path, entries, count, "boat", found);
    }
    if (result == SEARCH_NONE) {
        fprintf(stderr, "garboard: no .boat file in %s has `edition` or states a boat\n", path);
    }
    for (int i = 0; i < count; i++) {
        free(entries[i]);
    }
    free(entries);
    return result == SEARCH_ONE;
}
