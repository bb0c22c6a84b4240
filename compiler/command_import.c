/* See command_import.h. */
#include "command_import.h"

#include "command.h"
#include "command_save.h"
#include "command_stream.h"
#include "garboard.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *read_table(const char *path, size_t *length)
{
    if (strcmp(path, "-") == 0) {
        return stream_read(stdin, "standard input", length);
    }
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        fprintf(stderr, "garboard: cannot read %s: %s\n", path, strerror(errno));
        return NULL;
    }
    char *text = stream_read(file, path, length);
    fclose(file);
    return text;
}

static void say_what_came(GbImported imported)
{
    unsigned things = imported.placed + imported.commented;
    char made[64] = "as many things";
    if (imported.left_out > 0) {
        snprintf(made, sizeof made, "%u thing%s", things, things == 1 ? "" : "s");
    }
    fprintf(stderr, "garboard: %u row%s, %s: %u said in full, %u with the row in a comment above", imported.rows,
            imported.rows == 1 ? "" : "s", made, imported.placed, imported.commented);
    if (imported.left_out > 0) {
        fprintf(stderr, "; %u left out, in a comment alone", imported.left_out);
    }
    fprintf(stderr, "\n");
}

int import_table(const Options *options)
{
    size_t table_length, length;
    char *table = read_table(options->from, &table_length);
    if (table == NULL) {
        return EXIT_UNDONE;
    }
    char *text;
    GbImported imported;
    GbStatus status = gb_import(options->arguments[0], table, table_length, options->columns.list,
                                options->columns.count, (GbAllocator){0}, &text, &length, &imported);
    bool fine = save_or_print(options->output, status == GB_DONE, text, length);
    if (fine) {
        say_what_came(imported);
    }
    free(text);
    free(table);
    return fine ? EXIT_FINE : EXIT_UNDONE;
}
