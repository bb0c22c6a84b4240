/* See command_save.h. */
#include "command_save.h"

#include "command_stream.h"
#include "save.h"

#include <setjmp.h>
#include <stdio.h>
#include <sys/stat.h>

/* Everything that saving needs memory for, in an arena that lives as long as the call. */
typedef struct Scratch {
    Arena arena;
    jmp_buf failure;
    Buf why;
} Scratch;

static void scratch_init(Scratch *scratch)
{
    arena_init(&scratch->arena, allocator_standard(), &scratch->failure);
    buf_init(&scratch->why, &scratch->arena);
}

bool save_or_tell(const char *path, const char *text, size_t length)
{
    Scratch scratch;
    volatile bool fine = false; /* set between setjmp and longjmp */
    scratch_init(&scratch);
    if (setjmp(scratch.failure) != 0) {
        fprintf(stderr, "garboard: out of memory\n");
    } else if (save_file(path, (Str){text, length}, &scratch.why)) {
        fine = true;
    } else {
        fprintf(stderr, "garboard: %s\n", scratch.why.text);
    }
    arena_free(&scratch.arena);
    return fine;
}

bool save_new_or_tell(const char *path, const char *text, size_t length)
{
    struct stat status;
    if (lstat(path, &status) == 0) {
        fprintf(stderr, "garboard: %s is there already; nothing was written\n", path);
        return false;
    }
    return save_or_tell(path, text, length);
}

static int write_folder(Scratch *scratch, const char *folder, const SaveFile *list, size_t count)
{
    FolderChanges changes;
    if (!save_folder(folder, list, count, &changes, &scratch->why)) {
        fprintf(stderr, "garboard: %s\n", scratch->why.text);
        return 2;
    }
    for (size_t i = 0; i < changes.count; i++) {
        if (changes.list[i].state == FOLDER_KEPT) {
            fprintf(stderr, "garboard: %s/%s %s\n", folder, changes.list[i].name,
                    folder_state_words(FOLDER_KEPT));
        }
    }
    return 0;
}

static int check_folder(Scratch *scratch, const char *folder, const SaveFile *list, size_t count)
{
    FolderChanges changes;
    if (!folder_check(folder, list, count, &changes, &scratch->why)) {
        fprintf(stderr, "garboard: %s\n", scratch->why.text);
        return 2;
    }
    for (size_t i = 0; i < changes.count; i++) {
        printf("%s: %s\n", changes.list[i].name, folder_state_words(changes.list[i].state));
    }
    if (fflush(stdout) != 0) {
        fprintf(stderr, "garboard: cannot write to standard output\n");
        return 2;
    }
    return changes.count > 0 ? 1 : 0;
}

int save_book(const char *folder, const GbBookFile *files, size_t count, bool check)
{
    Scratch scratch;
    volatile int status = 2; /* set between setjmp and a jump */
    scratch_init(&scratch);
    if (setjmp(scratch.failure) != 0) {
        fprintf(stderr, "garboard: out of memory\n");
    } else {
        SaveFile *list = ARENA_ARRAY(&scratch.arena, SaveFile, count);
        for (size_t i = 0; i < count; i++) {
            list[i] =
                (SaveFile){.name = files[i].name, .bytes = {files[i].bytes.text, files[i].bytes.length}};
        }
        status =
            check ? check_folder(&scratch, folder, list, count) : write_folder(&scratch, folder, list, count);
    }
    arena_free(&scratch.arena);
    return status;
}

bool save_or_print(const char *path, bool made, const char *text, size_t length)
{
    if (!made) {
        fprintf(stderr, "garboard: %s\n", text != NULL ? text : "out of memory");
        return false;
    }
    return path != NULL ? save_new_or_tell(path, text, length) : stream_print(text, length);
}
