/*
 * A folder of files, and the manifest by which Garboard knows its own in it.
 *
 * First everything is looked at (survey), then judged, and only if nothing stands in the way written: all
 * temporary files, then a manifest of old and new files together, then every file under its name, then the
 * manifest of the new. A run that is cut short at any point therefore leaves a folder whose files the next
 * run still knows for its own. Knows names and bytes; not what is in the files.
 */
#define _XOPEN_SOURCE 700 /* openat and its kin */

#include "save.h"

#include "save_manifest.h"
#include "save_step.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { LONGEST_MANIFEST = 4 * 1024 * 1024, LISTED_IN_WHY = 5 };

/* A file that the folder should hold, or held once. */
typedef struct Entry {
    const char *name;
    const char *folder; /* its sub-folder, or NULL */
    const char *leaf;   /* its name in there */
    bool wanted;
    Str bytes; /* if wanted */
    Found found;
    FolderState state;
    bool made_folder;               /* this run did, for this file */
    char temporary[SAVE_TEMPORARY]; /* "" if there is none */
} Entry;

typedef struct Survey {
    Arena *arena;
    const char *path;  /* of the folder */
    bool exists;       /* the folder does */
    Str manifest_text; /* as it is now */
    Manifest manifest;
    Found manifest_found;
    Entry *entries; /* by name */
    size_t count;
} Survey;

const char *folder_state_words(FolderState state)
{
    static const char *const words[] = {
        [FOLDER_CURRENT] = "is as it should be",
        [FOLDER_MISSING] = "is missing",
        [FOLDER_STALE] = "is out of date",
        [FOLDER_LEFTOVER] = "is left over from before",
        [FOLDER_KEPT] = "is left over from before, but was edited by hand",
        [FOLDER_EDITED] = "was edited by hand",
        [FOLDER_FOREIGN] = "was not written by Garboard",
        [FOLDER_BLOCKED] = "has a file or a link where its folder should be",
    };
    _Static_assert(sizeof words / sizeof *words == FOLDER_STATE_COUNT, "words for every state");

    return words[state];
}

/* ---- Failing ---- */

/* `name` may be NULL, for the folder itself; `after` ends the sentence. */
static bool fail(const Survey *survey, const char *doing, const char *name, int error, const char *after,
                 Buf *why)
{
    buf_format(why, "cannot %s `%s%s%s`: ", doing, survey->path, name ? "/" : "", name ? name : "");
    save_write_cause(why, error);
    buf_text(why, after);
    return false;
}

/* ---- The manifest ---- */

static bool read_manifest(Survey *survey, Buf *why)
{
    struct stat status;
    const char *path = text_format(survey->arena, "%s/%s", survey->path, SAVE_MANIFEST);
    if (lstat(path, &status) != 0) {
        return errno == ENOENT ? true : fail(survey, "read", SAVE_MANIFEST, errno, "", why);
    }
    if (S_ISREG(status.st_mode) && status.st_size <= LONGEST_MANIFEST) {
        size_t length = (size_t)status.st_size;
        char *bytes = arena_alloc(survey->arena, length + 1);
        int error = save_read(path, bytes, &length);
        if (error != 0) {
            return fail(survey, "read", SAVE_MANIFEST, error, "", why);
        }
        survey->manifest_text = (Str){bytes, length};
        if (manifest_read(survey->arena, survey->manifest_text, &survey->manifest)) {
            return true;
        }
    }
    buf_format(why,
               "cannot tell whose files are in `%s`: `%s` is not as Garboard wrote it; nothing was changed",
               survey->path, SAVE_MANIFEST);
    return false;
}

/* The manifest of the wanted files; `with_old` adds the lines of before, for the time between. */
static Str write_manifest(const Survey *survey, bool with_old)
{
    Buf buf;
    size_t old = 0;
    buf_init(&buf, survey->arena);
    manifest_write_head(&buf);
    for (size_t i = 0; i < survey->count; i++) {
        const Entry *entry = &survey->entries[i];
        const ManifestLine *lines = survey->manifest.lines;
        while (old < survey->manifest.count && strcmp(lines[old].name, entry->name) <= 0) {
            if (with_old) {
                manifest_write_line(&buf, lines[old]);
            }
            old++;
        }
        if (entry->wanted) {
            uint64_t hash = save_hash(SAVE_HASH_EMPTY, entry->bytes);
            manifest_write_line(&buf, (ManifestLine){entry->name, entry->bytes.length, hash});
        }
    }
    return buf_str(&buf);
}

/* ---- The survey ---- */

static int compare_entries(const void *a, const void *b)
{
    return strcmp(((const Entry *)a)->name, ((const Entry *)b)->name);
}

static Entry *find_entry(const Survey *survey, const char *name)
{
    Entry key = {.name = name};
    return survey->count ? bsearch(&key, survey->entries, survey->count, sizeof key, compare_entries) : NULL;
}

static Entry make_entry(Arena *arena, const char *name)
{
    const char *slash = strchr(name, '/');
    return (Entry){
        .name = name,
        .folder = slash ? str_copy(arena, (Str){name, (size_t)(slash - name)}) : NULL,
        .leaf = slash ? slash + 1 : name,
    };
}

/* The wanted files and those of the manifest, each once. */
static void list_entries(Survey *survey, const SaveFile files[], size_t count)
{
    survey->entries = ARENA_ARRAY(survey->arena, Entry, count + survey->manifest.count + 1);
    for (size_t i = 0; i < count; i++) {
        Entry *entry = &survey->entries[survey->count++];
        *entry = make_entry(survey->arena, files[i].name);
        entry->wanted = true;
        entry->bytes = files[i].bytes;
    }
    qsort(survey->entries, survey->count, sizeof *survey->entries, compare_entries);
    for (size_t i = 1; i < survey->count; i++) {
        assert(strcmp(survey->entries[i - 1].name, survey->entries[i].name) != 0);
    }
    size_t all = survey->count;
    for (size_t i = 0; i < survey->manifest.count; i++) {
        const char *name = survey->manifest.lines[i].name;
        bool again = i > 0 && strcmp(survey->manifest.lines[i - 1].name, name) == 0;
        if (!again && !find_entry(survey, name)) {
            survey->entries[all++] = make_entry(survey->arena, name);
        }
    }
    survey->count = all;
    qsort(survey->entries, survey->count, sizeof *survey->entries, compare_entries);
}

/* Opens the folder in which an entry lies; the file itself need not exist. */
static int open_folder_of(int folder, const Entry *entry, int *opened)
{
    *opened =
        openat(folder, entry->folder ? entry->folder : ".", O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    return *opened < 0 ? errno : 0;
}

static FolderState judge(const Survey *survey, const Entry *entry)
{
    const Found *found = &entry->found;
    if (!found->there) {
        return entry->wanted ? FOLDER_MISSING : FOLDER_CURRENT;
    }
    if (entry->wanted && found->plain && found->equal) {
        return FOLDER_CURRENT;
    }
    ManifestLine as_found = {entry->name, found->size, found->hash};
    if (found->plain && manifest_has(&survey->manifest, entry->name, &as_found)) {
        return entry->wanted ? FOLDER_STALE : FOLDER_LEFTOVER;
    }
    if (!entry->wanted) {
        return FOLDER_KEPT;
    }
    return manifest_has(&survey->manifest, entry->name, NULL) ? FOLDER_EDITED : FOLDER_FOREIGN;
}

static int look(const Survey *survey, int folder, Entry *entry)
{
    int within;
    int error = open_folder_of(folder, entry, &within);
    if (error == ENOTDIR || error == ELOOP || error == EMLINK) { /* systems differ in how they tell a link */
        entry->state = entry->wanted ? FOLDER_BLOCKED : FOLDER_CURRENT;
        return 0;
    }
    if (error == 0) {
        error = save_look(within, entry->leaf, entry->bytes, &entry->found);
        close(within);
    }
    if (error == ENOENT || (error == EACCES && entry->found.plain)) {
        error = 0; /* no sub-folder, no file; and what cannot be read is not as Garboard left it */
    }
    entry->state = judge(survey, entry);
    return error;
}

static bool look_at_all(Survey *survey, Buf *why)
{
    const char *name = NULL;
    int error = 0;
    int folder = open(survey->path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    survey->exists = folder >= 0 || errno != ENOENT;
    if (folder < 0 && survey->exists) {
        return fail(survey, "read", NULL, errno, "", why);
    }
    for (size_t i = 0; i < survey->count && error == 0; i++) {
        Entry *entry = &survey->entries[i];
        name = entry->name;
        entry->state = FOLDER_MISSING;
        error = survey->exists ? look(survey, folder, entry) : 0;
    }
    if (survey->exists && error == 0) {
        name = SAVE_MANIFEST;
        error = save_look(folder, SAVE_MANIFEST, survey->manifest_text, &survey->manifest_found);
    }
    if (survey->exists) {
        close(folder);
    }
    return error == 0 ? true : fail(survey, "read", name, error, "", why);
}

static void list_changes(const Survey *survey, FolderChanges *changes)
{
    if (!changes) {
        return;
    }
    *changes = (FolderChanges){ARENA_ARRAY(survey->arena, FolderChange, survey->count + 1), 0};
    for (size_t i = 0; i < survey->count; i++) {
        const Entry *entry = &survey->entries[i];
        if (entry->state != FOLDER_CURRENT) {
            changes->list[changes->count++] = (FolderChange){entry->name, entry->state};
        }
    }
}

/* The path without slashes at its end. */
static const char *tidy_path(Arena *arena, const char *path)
{
    size_t length = strlen(path);
    while (length > 1 && path[length - 1] == '/') {
        length--;
    }
    return str_copy(arena, (Str){path, length});
}

static bool survey_folder(Survey *survey, const char *path, const SaveFile files[], size_t count,
                          FolderChanges *changes, Buf *why)
{
    *survey = (Survey){.arena = why->arena, .path = tidy_path(why->arena, path)};
    if (*path == '\0') {
        return fail(survey, "write", NULL, EINVAL, "", why);
    }
    for (size_t i = 0; i < count; i++) {
        if (!manifest_is_good_name(files[i].name)) {
            return fail(survey, "write", files[i].name, EINVAL, "; nothing was changed", why);
        }
    }
    if (!read_manifest(survey, why)) {
        return false;
    }
    list_entries(survey, files, count);
    if (!look_at_all(survey, why)) {
        return false;
    }
    list_changes(survey, changes);
    return true;
}

bool folder_check(const char *folder, const SaveFile files[], size_t count, FolderChanges *changes, Buf *why)
{
    Survey survey;
    return survey_folder(&survey, folder, files, count, changes, why);
}

/* ---- Writing ---- */

/* Does anything stand in the way? Then says what. */
static bool is_refused(const Survey *survey, Buf *why)
{
    size_t refused = 0;
    for (size_t i = 0; i < survey->count; i++) {
        const Entry *entry = &survey->entries[i];
        if (entry->state < FOLDER_EDITED) {
            continue;
        }
        if (refused == 0) {
            buf_format(why, "cannot write into `%s`: ", survey->path);
        }
        if (refused < LISTED_IN_WHY) {
            buf_format(why, "%s`%s` %s", refused > 0 ? ", " : "", entry->name,
                       folder_state_words(entry->state));
        }
        refused++;
    }
    if (refused > LISTED_IN_WHY) {
        buf_format(why, ", and %zu more", refused - LISTED_IN_WHY);
    }
    if (refused > 0) {
        buf_text(why, "; nothing was changed");
    }
    return refused > 0;
}

static bool is_to_be_written(const Entry *entry)
{
    return entry->state == FOLDER_MISSING || entry->state == FOLDER_STALE;
}

static bool has_work(const Survey *survey)
{
    for (size_t i = 0; i < survey->count; i++) {
        if (is_to_be_written(&survey->entries[i]) || survey->entries[i].state == FOLDER_LEFTOVER) {
            return true;
        }
    }
    return false;
}

static int stage(int folder, Entry *entry, size_t number)
{
    int within;
    int error = open_folder_of(folder, entry, &within);
    if (error == ENOENT) {
        if (mkdirat(folder, entry->folder, 0777) != 0) {
            return errno;
        }
        entry->made_folder = true;
        error = open_folder_of(folder, entry, &within);
    }
    if (error == 0) {
        error = save_stage(within, entry->leaf, &entry->found, entry->bytes, number, entry->temporary);
        close(within);
    }
    return error;
}

static int put(int folder, Entry *entry)
{
    int within;
    int error = open_folder_of(folder, entry, &within);
    if (error == 0) {
        error = save_put(within, entry->temporary, entry->leaf);
        entry->temporary[0] = '\0';
        close(within);
    }
    return error;
}

/* Removes the temporary files that have not found their place, and the folders made for them. */
static void discard(const Survey *survey, int folder)
{
    for (size_t i = 0; i < survey->count; i++) {
        const Entry *entry = &survey->entries[i];
        int within;
        if (entry->temporary[0] != '\0' && open_folder_of(folder, entry, &within) == 0) {
            unlinkat(within, entry->temporary, 0);
            close(within);
        }
    }
    for (size_t i = 0; i < survey->count; i++) {
        if (survey->entries[i].made_folder) {
            unlinkat(folder, survey->entries[i].folder, AT_REMOVEDIR);
        }
    }
}

/* Removes a file that is ours and unedited, and its sub-folder if that was the last thing in it. */
static int remove_leftover(int folder, const Entry *entry)
{
    int within;
    int error = open_folder_of(folder, entry, &within);
    if (error == 0) {
        error = unlinkat(within, entry->leaf, 0) == 0 || errno == ENOENT ? 0 : errno;
        close(within);
    }
    if (error == 0 && entry->folder) {
        unlinkat(folder, entry->folder, AT_REMOVEDIR); /* refused, as it should be, if it holds anything */
    }
    return error;
}

static int put_manifest(const Survey *survey, int folder, Str text)
{
    char temporary[SAVE_TEMPORARY];
    int error = save_stage(folder, SAVE_MANIFEST, &survey->manifest_found, text, survey->count, temporary);
    if (error == 0) {
        error = save_put(folder, temporary, SAVE_MANIFEST);
    }
    (void)fsync(folder); /* the names, too, should outlast a loss of power; not all file systems can */
    return error;
}

/* How far a failure came. */
typedef struct Failure {
    int error;         /* 0 for none */
    const char *doing; /* write or remove */
    const char *name;  /* NULL for the folder itself */
    bool changed;      /* something has been changed already */
} Failure;

static Failure stage_all(const Survey *survey, int folder, Str both)
{
    for (size_t i = 0; i < survey->count; i++) {
        Entry *entry = &survey->entries[i];
        int error = is_to_be_written(entry) ? stage(folder, entry, i) : 0;
        if (error != 0) {
            return (Failure){error, "write", entry->name, false};
        }
    }
    return (Failure){put_manifest(survey, folder, both), "write", SAVE_MANIFEST, false};
}

static Failure put_all(const Survey *survey, int folder, Str manifest)
{
    for (size_t i = 0; i < survey->count; i++) {
        Entry *entry = &survey->entries[i];
        Failure failure = {0, "write", entry->name, true};
        if (is_to_be_written(entry)) {
            failure.error = put(folder, entry);
        } else if (entry->state == FOLDER_LEFTOVER) {
            failure.doing = "remove";
            failure.error = remove_leftover(folder, entry);
        }
        if (failure.error != 0) {
            return failure;
        }
    }
    return (Failure){put_manifest(survey, folder, manifest), "write", SAVE_MANIFEST, true};
}

/* All of the writing, with nothing asked of the arena between opening and closing. */
static Failure write_all(const Survey *survey, Str both, Str manifest)
{
    bool made = !survey->exists;
    if (made && mkdir(survey->path, 0777) != 0) {
        return (Failure){errno == EEXIST ? ELOOP : errno, "write", NULL, false}; /* there, but leads to no folder */
    }
    int folder = open(survey->path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    Failure failure = {folder < 0 ? errno : 0, "write", NULL, false};
    if (failure.error == 0) {
        failure = stage_all(survey, folder, both);
        if (failure.error == 0) {
            failure = put_all(survey, folder, manifest);
        }
        if (failure.error != 0) {
            discard(survey, folder);
        }
        close(folder);
    }
    if (failure.error != 0 && made && !failure.changed) {
        rmdir(survey->path);
    }
    return failure;
}

bool save_folder(const char *folder, const SaveFile files[], size_t count, FolderChanges *changes, Buf *why)
{
    Survey survey;
    if (!survey_folder(&survey, folder, files, count, changes, why) || is_refused(&survey, why)) {
        return false;
    }
    Str manifest = write_manifest(&survey, false);
    if (!has_work(&survey) && str_equal(manifest, survey.manifest_text)) {
        return true;
    }
    Failure failure = write_all(&survey, write_manifest(&survey, true), manifest);
    if (failure.error == 0) {
        return true;
    }
    const char *after = failure.changed ? "; some files are written, and the next run does the rest"
                                        : "; nothing was changed";
    return fail(&survey, failure.doing, failure.name, failure.error, after, why);
}
