/* See command_format.h. */
#include "command_format.h"

#include "base/arena.h"
#include "command.h"
#include "command_save.h"
#include "command_stream.h"
#include "garboard.h"

#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A file as it was and as it is to be. */
typedef struct Page {
    const char *path;
    const char *name; /* in messages */
    const char *text;
    size_t length;
    bool standard; /* read from standard input */
} Page;

/* Whether a file of that name, found from the folder of the page, is to be laid out in this run, too. */
static bool is_asked_for(const Options *options, const Page *page, const char *name, size_t length)
{
    const char *slash = strrchr(page->path, '/');
    size_t folder = slash != NULL ? (size_t)(slash - page->path) + 1 : 0;
    for (int i = 0; i < options->argument_count; i++) {
        const char *path = options->arguments[i];
        if (strlen(path) == folder + length && strncmp(path, page->path, folder) == 0 && strncmp(path + folder, name, length) == 0) {
            return true;
        }
    }
    return false;
}

/* Each file is laid out by itself: which of those that it includes are not touched. A laid-out text has one in a line. */
static void tell_untouched(const Options *options, const Page *page, const char *formatted)
{
    static const char begins[] = "include \"";
    unsigned count = 0;
    for (const char *line = formatted; line != NULL && *line != '\0'; line = strchr(line, '\n'), line += line != NULL) {
        const char *name = line + sizeof begins - 1;
        const char *close = strncmp(line, begins, sizeof begins - 1) == 0 ? strpbrk(name, "\"\n") : NULL;
        if (close != NULL && *close == '"' && !is_asked_for(options, page, name, (size_t)(close - name))) {
            fprintf(stderr, "%s%.*s", count++ == 0 ? "garboard: not touched, for they are files of their own: " : ", ",
                    (int)(close - name), name);
        }
    }
    if (count > 0) {
        fprintf(stderr, " (included by %s)\n", page->name);
    }
}

/* What is done with a text that has been laid out. */
static int hand_out(const Options *options, const Page *page, const char *formatted, size_t length)
{
    bool same = length == page->length && memcmp(formatted, page->text, length) == 0;
    bool fine = true;
    if (options->check) {
        if (!same) {
            fine = stream_print(page->name, strlen(page->name)) && stream_print("\n", 1);
        }
        return !fine ? EXIT_UNDONE : same ? EXIT_FINE : EXIT_BROKEN;
    }
    fine = page->standard ? stream_print(formatted, length)
                          : same || save_or_tell(page->path, formatted, length);
    return fine ? EXIT_FINE : EXIT_UNDONE;
}

static int format_page(const Options *options, const Page *page)
{
    char *formatted;
    size_t length;
    int status = EXIT_UNDONE;
    switch (gb_format(page->name, page->text, page->length, (GbAllocator){0}, &formatted, &length)) {
    case GB_DONE:
        status = hand_out(options, page, formatted, length);
        if (!page->standard) {
            tell_untouched(options, page, formatted);
        }
        break;
    case GB_BAD_REQUEST:
        fprintf(stderr, "garboard: %s; it is left as it is\n", formatted);
        status = EXIT_BROKEN;
        break;
    default: fprintf(stderr, "garboard: out of memory\n"); break;
    }
    free(formatted);
    return status;
}

static int format_standard_input(const Options *options)
{
    Page page = {.name = options->stdin_name != NULL ? options->stdin_name : "standard-input",
                 .standard = true};
    char *text = stream_read(stdin, "standard input", &page.length);
    page.text = text;
    int status = text != NULL ? format_page(options, &page) : EXIT_UNDONE;
    free(text);
    return status;
}

/* The memory that a file is read into. */
typedef struct Scratch {
    Arena arena;
    jmp_buf failure;
} Scratch;

static void *allocate(void *memory, size_t size)
{
    return arena_alloc(memory, size);
}

static int read_and_format(const Options *options, const char *path, Arena *arena)
{
    GbReader reader = gb_reader_files();
    GbFile file = reader.read(reader.context, path, allocate, arena);
    if (file.error != NULL) {
        fprintf(stderr, "garboard: cannot read %s: %s\n", path, file.error);
        return EXIT_UNDONE;
    }
    Page page = {.path = path, .name = path, .text = file.text, .length = file.length};
    return format_page(options, &page);
}

static int format_file(const Options *options, const char *path)
{
    Scratch scratch;
    volatile int status = EXIT_UNDONE; /* set between setjmp and a jump */
    arena_init(&scratch.arena, allocator_standard(), &scratch.failure);
    if (setjmp(scratch.failure) != 0) {
        fprintf(stderr, "garboard: out of memory\n");
    } else {
        status = read_and_format(options, path, &scratch.arena);
    }
    arena_free(&scratch.arena);
    return status;
}

int format_files(const Options *options)
{
    int worst = EXIT_FINE;
    for (int i = 0; i < options->argument_count; i++) {
        const char *path = options->arguments[i];
        int status = strcmp(path, "-") == 0 ? format_standard_input(options) : format_file(options, path);
        worst = status > worst ? status : worst;
    }
    return worst;
}
