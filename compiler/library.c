/*
 * Behind include/garboard.h: one arena a compilation, one call a stage. Running out of memory is caught here and nowhere
 * else: each entry sets the place that the arena jumps to.
 */
#include "garboard.h"

#include "output/book.h"
#include "output/outputs.h"
#include "rules/outcome.h"
#include "rules/settle.h"
#include "tools/diff.h"
#include "tools/format.h"
#include "tools/manual.h"
#include "tools/spreadsheet.h"
#include "tools/starter.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

struct GbCompilation {
    Allocator allocator;
    Arena arena;
    jmp_buf failure;
    const char *error;
    Spec *spec;
    Outcome *outcome;
    uint32_t sets_from; /* where the texts of `set` begin, behind all that was read */
};

const char *gb_version(void)
{
    return "0.1.0";
}

static Allocator allocator_of(GbAllocator asked)
{
    if (asked.allocate == NULL) {
        return allocator_standard();
    }
    return (Allocator){asked.allocate, asked.release, asked.context};
}

/* Reading through the caller's reader */

typedef struct ReaderBridge {
    GbReader reader;
} ReaderBridge;

static void *allocate_text(void *memory, size_t size)
{
    return arena_alloc(memory, size);
}

static FileText read_through(void *context, Arena *arena, const char *path)
{
    const ReaderBridge *bridge = context;
    if (bridge->reader.read == NULL) {
        return (FileText){.error = "there is nothing to read it with"};
    }
    GbFile file = bridge->reader.read(bridge->reader.context, path, allocate_text, arena);
    return (FileText){.text = file.text,
                      .length = file.length,
                      .identity = {file.identity[0], file.identity[1]},
                      .error = file.error};
}

static FileText given_text(Arena *arena, const GbRequest *request)
{
    FileText text = {.text = arena_alloc(arena, request->length + 1), .length = request->length};
    memcpy(text.text, request->text, request->length);
    text.text[request->length] = 0;
    return text;
}

/* Compiling */

static const char *const bad_basis = "the basis is `us` or `iso`";
static const char *const bad_path = "the main file needs a path, by which messages name it, and a text or a reader";
static const char *const bad_today = "the day to judge by is a date, such as 2027-03-01";

static int basis_of(const char *word)
{
    return word == NULL ? -1 : strcmp(word, "us") == 0 ? BASIS_US : strcmp(word, "iso") == 0 ? BASIS_ISO : -2;
}

static bool apply_choices(GbCompilation *c, const GbRequest *request)
{
    for (size_t i = 0; i < request->with_count; i++) {
        const char *equals = strchr(request->with[i], '=');
        if (equals == NULL) {
            c->error = text_format(&c->arena, "`%s`: a choice is decided as CHOICE=OPTION", request->with[i]);
            return false;
        }
        Str choice = {request->with[i], (size_t)(equals - request->with[i])};
        const char *why = spec_pick(c->spec, choice, str_from(equals + 1));
        if (why != NULL) {
            c->error = why;
            return false;
        }
    }
    c->sets_from = c->spec->sources.end;
    for (size_t i = 0; i < request->set_count; i++) {
        const char *why;
        if (!spec_set(c->spec, &c->arena, str_from(request->set[i]), &why)) {
            c->error = text_format(&c->arena, "`%s`: %s", request->set[i], why);
            return false;
        }
    }
    return true;
}

static GbStatus compile(GbCompilation *c, const GbRequest *request)
{
    OutcomeRequest wanted = {.basis = basis_of(request->basis), .strict = request->strict};
    if (request->path == NULL || (request->text == NULL && request->reader.read == NULL)) {
        c->error = bad_path;
        return GB_BAD_REQUEST;
    }
    if (wanted.basis == -2 || request->today == NULL || !date_read(str_from(request->today), &wanted.today)) {
        c->error = wanted.basis == -2 ? bad_basis : bad_today;
        return GB_BAD_REQUEST;
    }
    ReaderBridge bridge = {request->reader};
    FileReader reader = {read_through, &bridge};
    FileText text = {0};
    if (request->text != NULL) {
        text = given_text(&c->arena, request);
    }
    c->spec = spec_load(&c->arena, request->path, request->text != NULL ? &text : NULL, reader);
    if (c->spec->error != NULL) {
        c->error = text_format(&c->arena, "cannot read %s: %s", request->path, c->spec->error);
        return GB_UNREADABLE;
    }
    if (!apply_choices(c, request)) {
        return GB_BAD_REQUEST;
    }
    c->outcome = outcome_compute(&c->arena, c->spec, wanted);
    return GB_DONE;
}

static GbStatus out_of_memory(GbCompilation *c)
{
    c->error = "there is not enough memory for this spec";
    return GB_OUT_OF_MEMORY;
}

GbStatus gb_compile(const GbRequest *request, GbCompilation **result)
{
    Allocator allocator = allocator_of(request->allocator);
    GbCompilation *c = allocator.allocate(allocator.context, sizeof(GbCompilation));
    *result = c;
    if (c == NULL) {
        return GB_OUT_OF_MEMORY;
    }
    memset(c, 0, sizeof *c);
    c->allocator = allocator;
    c->error = "";
    arena_init(&c->arena, allocator, &c->failure);
    if (setjmp(c->failure) != 0) {
        return out_of_memory(c);
    }
    return compile(c, request);
}

void gb_free(GbCompilation *c)
{
    if (c != NULL) {
        Allocator allocator = c->allocator;
        arena_free(&c->arena);
        allocator.release(allocator.context, c);
    }
}

const char *gb_error(const GbCompilation *c)
{
    return c->error;
}

/* Mistakes in what was asked for by `set`. */
static uint32_t count_mistaken_sets(const GbCompilation *c)
{
    uint32_t count = 0;
    for (const Message *m = c->spec->messages.first; m != NULL; m = m->next) {
        count += m->placed && m->at.start >= c->sets_from;
    }
    return count;
}

GbSummary gb_summary(const GbCompilation *c)
{
    const Outcome *o = c->outcome;
    if (o == NULL) {
        return (GbSummary){.broken = true};
    }
    return (GbSummary){.sampled = o->sampled,
                       .mistakes = o->mistakes,
                       .mistaken_sets = count_mistaken_sets(c),
                       .faults = o->faults,
                       .warnings = o->warnings,
                       .advice = o->advice,
                       .open = o->open,
                       .waived = o->waived,
                       .unjudged = o->unjudged,
                       .waiting = o->waiting,
                       .broken = outcome_is_broken(o)};
}

/* Outputs */

/* "text", "text+color", "text+wrap", "text+color+wrap"; any other format as it is. */
static const char *read_format(const char *format, OutputRequest *request)
{
    size_t length = format != NULL ? strlen(format) : 0;
    bool wrap = length > 5 && strcmp(format + length - 5, "+wrap") == 0;
    Str without = {format, wrap ? length - 5 : length};
    bool color = str_equal(without, STR("text+color"));
    if (!color && !(wrap && str_equal(without, STR("text")))) {
        return format;
    }
    request->color = color;
    request->wrap = wrap;
    return "text";
}

static GbStatus make_output(GbCompilation *c, const char *name, const char *format, const char *argument,
                            GbText *text)
{
    OutputRequest request = {.argument = str_from(argument)};
    format = read_format(format, &request);
    const Output *output = output_find(name, format);
    if (output == NULL || c->outcome == NULL) {
        c->error = text_format(&c->arena, "there is no output `%s` as %s", name,
                               format != NULL ? format : "anything");
        return GB_BAD_REQUEST;
    }
    if (output->settles) {
        settle_findings(c->outcome);
    }
    Buf buf;
    buf_init(&buf, &c->arena);
    const char *why = output->write(&buf, c->outcome, request);
    if (why != NULL) {
        c->error = why;
        return GB_BAD_REQUEST;
    }
    *text = (GbText){buf.text, buf.length};
    return GB_DONE;
}

GbStatus gb_output(GbCompilation *c, const char *name, const char *format, const char *argument, GbText *text)
{
    c->error = "";
    *text = (GbText){"", 0};
    if (setjmp(c->failure) != 0) {
        return out_of_memory(c);
    }
    return make_output(c, name, format, argument, text);
}

GbStatus gb_book(GbCompilation *c, const GbBookFile **files, size_t *count)
{
    c->error = "";
    *count = 0;
    if (setjmp(c->failure) != 0) {
        return out_of_memory(c);
    }
    if (c->outcome == NULL) {
        c->error = "there is no spec to make a book of";
        return GB_BAD_REQUEST;
    }
    settle_findings(c->outcome);
    BookFile *made;
    size_t number = book_files(&c->arena, c->outcome, &made);
    GbBookFile *list = ARENA_ARRAY(&c->arena, GbBookFile, number);
    for (size_t i = 0; i < number; i++) {
        list[i] = (GbBookFile){.name = made[i].name, .bytes = {made[i].bytes.text, made[i].bytes.length}};
    }
    *files = list;
    *count = number;
    return GB_DONE;
}

/* Two compilations */

static GbStatus make_diff(GbCompilation *before, GbCompilation *after, const char *format, GbText *text,
                          bool *different)
{
    format = format != NULL ? format : "text";
    bool json = strcmp(format, "json") == 0;
    bool color = strcmp(format, "text+color") == 0;
    if (before->outcome == NULL || after->outcome == NULL) {
        after->error = "there is no spec to compare";
        return GB_BAD_REQUEST;
    }
    if (!json && !color && strcmp(format, "text") != 0) {
        after->error = text_format(&after->arena, "there is no output `diff` as %s", format);
        return GB_BAD_REQUEST;
    }
    const Diff *diff = diff_compute(&after->arena, before->outcome, after->outcome);
    Buf buf;
    buf_init(&buf, &after->arena);
    if (json) {
        diff_json(&buf, diff);
    } else {
        diff_text(&buf, diff, (Colour){.on = color});
    }
    *text = (GbText){buf.text, buf.length};
    *different = diff_is_different(diff);
    return GB_DONE;
}

/* Comparing may read on in the old spec too (a default that nobody asked for yet): both arenas jump to one place. */
GbStatus gb_diff(GbCompilation *before, GbCompilation *after, const char *format, GbText *text,
                 bool *different)
{
    GbStatus status;
    after->error = "";
    *text = (GbText){"", 0};
    *different = false;
    before->arena.on_failure = &after->failure;
    if (setjmp(after->failure) != 0) {
        status = out_of_memory(after);
    } else {
        status = make_diff(before, after, format, text, different);
    }
    before->arena.on_failure = &before->failure;
    return status;
}

/* What needs no compilation: an arena of its own, the text handed over to the caller. */

/* Writes a text; false, and why, where what was asked for cannot be had. */
typedef bool WriteText(Buf *buf, Arena *arena, const void *request, const char **why);

/* A text that becomes the caller's: from its own allocator, or from malloc, so that free releases it. */
static char *hand_over(GbAllocator asked, Str text)
{
    char *copy =
        asked.allocate != NULL ? asked.allocate(asked.context, text.length + 1) : malloc(text.length + 1);
    if (copy != NULL) {
        memcpy(copy, text.text, text.length);
        copy[text.length] = 0;
    }
    return copy;
}

/* Hands over what was asked for, or why it cannot be had. */
static GbStatus write_text(Arena *arena, WriteText *write, const void *request, GbAllocator asked,
                           char **text, size_t *length)
{
    if (setjmp(*arena->on_failure) != 0) {
        return GB_OUT_OF_MEMORY;
    }
    Buf buf;
    buf_init(&buf, arena);
    const char *why = NULL;
    bool fine = write(&buf, arena, request, &why);
    Str result = fine ? buf_str(&buf) : str_from(why);
    *text = hand_over(asked, result);
    if (*text == NULL) {
        return GB_OUT_OF_MEMORY;
    }
    *length = result.length;
    return fine ? GB_DONE : GB_BAD_REQUEST;
}

static GbStatus make_text(WriteText *write, const void *request, GbAllocator asked, char **text,
                          size_t *length)
{
    Arena arena;
    jmp_buf failure;
    *text = NULL;
    *length = 0;
    arena_init(&arena, allocator_of(asked), &failure);
    GbStatus status = write_text(&arena, write, request, asked, text, length);
    arena_free(&arena);
    return status;
}

typedef struct ManualRequest {
    const char *output;
    Str argument;
    bool color;
} ManualRequest;

static bool write_manual(Buf *buf, Arena *arena, const void *request, const char **why)
{
    const ManualRequest *manual = request;
    if (strcmp(manual->output, "starter") == 0) {
        return starter_write(buf, arena, manual->argument, why);
    }
    return manual_write(buf, arena, manual->output, manual->argument, manual->color, why);
}

GbStatus gb_manual(const char *output, const char *argument, bool color, GbAllocator asked, char **text,
                   size_t *length)
{
    ManualRequest request = {output, str_from(argument), color};
    return make_text(write_manual, &request, asked, text, length);
}

typedef struct ImportRequest {
    SpreadsheetRequest table;
    SpreadsheetCount *count;
} ImportRequest;

static bool write_import(Buf *buf, Arena *arena, const void *request, const char **why)
{
    const ImportRequest *import = request;
    return spreadsheet_write(buf, arena, &import->table, import->count, why);
}

GbStatus gb_import(const char *boat, const char *table, size_t table_length, const char *const *columns,
                   size_t column_count, GbAllocator asked, char **text, size_t *length, GbImported *imported)
{
    SpreadsheetCount count = {0};
    ImportRequest request = {{str_from(boat), {table, table_length}, columns, column_count}, &count};
    GbStatus status = make_text(write_import, &request, asked, text, length);
    *imported = (GbImported){count.rows, count.placed, count.commented, count.left_out};
    return status;
}

typedef struct FormatRequest {
    Str name;
    Str text;
} FormatRequest;

static bool write_format(Buf *buf, Arena *arena, const void *request, const char **why)
{
    const FormatRequest *format = request;
    return format_text(buf, arena, format->name, format->text, why);
}

GbStatus gb_format(const char *name, const char *text, size_t text_length, GbAllocator asked,
                   char **formatted, size_t *length)
{
    FormatRequest request = {str_from(name), {text, text_length}};
    return make_text(write_format, &request, asked, formatted, length);
}
