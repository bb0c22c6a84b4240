/*
 * Files: the main file and all that it includes, each read and parsed once. Paths are taken from the including file's
 * folder, whatever the working directory. Files come through the caller's reader.
 */
#include "model/build.h"
#include "model/walk.h"

#include "base/buf.h"
#include "language/unit.h"
#include "syntax/parse.h"

#include <string.h>

enum { INCLUDE_DEPTH = 32 };

typedef struct Loaded {
    Str path;
    uint64_t identity[2];
    NodeId file;
    bool open;     /* its includes are being read: including it again is a cycle */
} Loaded;

typedef struct Loader {
    Spec *spec;
    Arena *arena;
    FileReader reader;
    Loaded *files;
    uint32_t count;
    uint32_t capacity;
} Loader;

/* `a/b/../c` to `a/c`, `./x` to `x`: one file has one path as far as its letters tell. */
static Str tidy_path(Arena *arena, Str path)
{
    Str *parts = ARENA_ARRAY(arena, Str, path.length + 1);
    size_t count = 0;
    bool absolute = path.length > 0 && path.text[0] == '/';
    for (size_t i = 0; i < path.length;) {
        size_t start = i;
        while (i < path.length && path.text[i] != '/') {
            i++;
        }
        Str part = {path.text + start, i - start};
        i++;
        if (part.length == 0 || str_is(part, ".")) {
            continue;
        }
        bool up = str_is(part, "..");
        if (up && count > 0 && !str_is(parts[count - 1], "..")) {
            count--;
        } else if (!(up && absolute)) {
            parts[count++] = part;
        }
    }
    Buf tidy;
    buf_init(&tidy, arena);
    for (size_t i = 0; i < count; i++) {
        if (i > 0 || absolute) {
            buf_char(&tidy, '/');
        }
        buf_add(&tidy, parts[i]);
    }
    return buf_str(&tidy);
}

static Str include_path(Arena *arena, Str including, Str written)
{
    size_t folder = including.length;
    while (folder > 0 && including.text[folder - 1] != '/') {
        folder--;
    }
    if (written.length > 0 && written.text[0] == '/') {
        folder = 0;
    }
    Buf path;
    buf_init(&path, arena);
    buf_add(&path, (Str){including.text, folder});
    buf_add(&path, written);
    return tidy_path(arena, buf_str(&path));
}

/* Tells each stretch of bytes that is not UTF-8 (one a line) and puts `?` in its place, so that no output carries it on. */
static void mend_utf8(Loader *loader, Source *source, char *text)
{
    size_t told = SIZE_MAX; /* the last bad byte */
    for (size_t i = utf8_first_bad(text, source->length, 0); i < source->length;
         i = utf8_first_bad(text, source->length, i)) {
        Span at = {source->base + (uint32_t)i, source->base + (uint32_t)i + 1};
        if (told == SIZE_MAX || memchr(text + told, '\n', i - told) != NULL) {
            Message *m = message_report(&loader->spec->messages, MESSAGE_NOT_UTF8, at,
                                        "byte %d here is not part of any UTF-8 character", (unsigned char)text[i]);
            message_right(&loader->spec->messages, m, "the file saved as UTF-8 in the editor");
        }
        told = i;
        text[i] = '?';
    }
}

/* Some editors save two bytes a letter, behind a mark of their own: one mistake, and not one a line. */
static bool is_utf16(const Source *source)
{
    const unsigned char *text = (const unsigned char *)source->text;
    return source->length >= 2 && ((text[0] == 0xFF && text[1] == 0xFE) || (text[0] == 0xFE && text[1] == 0xFF));
}

static void leave_utf16(Loader *loader, Source *source, char *text)
{
    Message *m = message_report(&loader->spec->messages, MESSAGE_NOT_UTF8, (Span){source->base, source->base},
                                "this file is UTF-16, two bytes a letter: nothing of it can be read");
    message_right(&loader->spec->messages, m, "the file saved as UTF-8 in the editor");
    memset(text, '\n', source->length);
    loader->spec->incomplete = true;
}

static void read_includes(Loader *loader, uint32_t index, int depth);

static Loaded *find_loaded(Loader *loader, Str path, const uint64_t identity[2])
{
    for (uint32_t i = 0; i < loader->count; i++) {
        Loaded *file = &loader->files[i];
        bool same_file = identity[0] != 0 && identity[0] == file->identity[0] && identity[1] == file->identity[1];
        if (same_file || str_equal(file->path, path)) {
            return file;
        }
    }
    return NULL;
}

/* Parses a text that was read; returns its index in loader->files, or UINT32_MAX if it does not fit. */
static uint32_t add_file(Loader *loader, Str path, const FileText *text)
{
    Spec *spec = loader->spec;
    Source *source = sources_add(&spec->sources, path, text->text, text->length);
    if (source == NULL) {
        return UINT32_MAX;
    }
    if (is_utf16(source)) {
        leave_utf16(loader, source, (char *)source->text);
    }
    mend_utf8(loader, source, (char *)source->text);
    if (loader->count == loader->capacity) {
        uint32_t capacity = loader->capacity ? loader->capacity * 2 : 8;
        loader->files = arena_grow(loader->arena, loader->files, loader->capacity * sizeof(Loaded),
                                   capacity * sizeof(Loaded));
        spec->files = arena_grow(loader->arena, spec->files, loader->capacity * sizeof(NodeId),
                                 capacity * sizeof(NodeId));
        loader->capacity = capacity;
    }
    uint32_t index = loader->count++;
    loader->files[index] = (Loaded){.path = path, .identity = {text->identity[0], text->identity[1]}, .open = true};
    loader->files[index].file = parse_source(&spec->tree, source, &spec->messages);
    spec->files[spec->file_count++] = loader->files[index].file;
    return index;
}

static void tell_cycle(Loader *loader, NodeId include, Str path)
{
    Message *m = message_report(&loader->spec->messages, MESSAGE_INCLUDE_CYCLE,
                                tree_span(&loader->spec->tree, include + 2),
                                "`%.*s` includes itself, by way of this line", STR_ARG(path));
    message_right(&loader->spec->messages, m, "no include here: each file is read once, and its things are known everywhere");
}

static void include(Loader *loader, NodeId statement, Str including, int depth)
{
    Spec *spec = loader->spec;
    uint16_t term = 1;
    Str written = tree_joined_text(&spec->tree, statement, &term);
    Span at = tree_span(&spec->tree, statement + 2);
    Str path = include_path(loader->arena, including, written);
    static const uint64_t unknown[2] = {0, 0};
    Loaded *known = find_loaded(loader, path, unknown);
    FileText text = {0};
    if (known == NULL) {
        text = loader->reader.read(loader->reader.context, loader->arena, str_copy(loader->arena, path));
        if (text.error != NULL) {
            Message *m = message_report(&spec->messages, MESSAGE_FILE_UNREADABLE, at, "cannot read `%.*s`: %s",
                                        STR_ARG(path), text.error);
            message_right(&spec->messages, m, "a path from the folder of the file that includes it");
            spec->incomplete = true;
            return;
        }
        known = find_loaded(loader, path, text.identity);
    }
    if (known != NULL) {
        if (known->open) {
            tell_cycle(loader, statement, path);
        } else {
            tree_node(&spec->tree, statement)->u.child = 0; /* read already: once is enough */
        }
        return;
    }
    uint32_t index = depth < INCLUDE_DEPTH ? add_file(loader, path, &text) : UINT32_MAX;
    if (index == UINT32_MAX) {
        Message *m = message_report(&spec->messages, MESSAGE_TOO_BIG, at,
                                    depth < INCLUDE_DEPTH
                                        ? "with `%.*s` the spec is more text than fits (4 GiB)"
                                        : "`%.*s` is included through more files than anybody can follow",
                                    STR_ARG(path));
        message_right(&spec->messages, m, "an `include` in the main file, or no such file");
        spec->incomplete = true;
        return;
    }
    read_includes(loader, index, depth + 1);
}

static void read_includes(Loader *loader, uint32_t index, int depth)
{
    Spec *spec = loader->spec;
    Str path = loader->files[index].path;
    uint32_t from = spec->others.count;
    walk_list(spec, loader->arena, loader->files[index].file);
    uint32_t until = spec->others.count; /* what is included comes behind */
    for (uint32_t i = from; i < until; i++) {
        NodeId id = spec->others.statements[i];
        const Node *node = tree_node(&spec->tree, id);
        if (node->kind == NODE_INCLUDE && !(node->flags & NODE_BAD)) {
            include(loader, id, path, depth);
        }
    }
    loader->files[index].open = false;
}

/* `edition 1`, first of the main file, or left out. */
static void check_editions(Spec *spec)
{
    const Tree *tree = &spec->tree;
    NodeId first = spec->outermost.count > 0 ? spec->outermost.statements[0] : 0;
    Walk walk = walk_others(spec);
    for (NodeId id = walk_next(&walk); id != 0; id = walk_next(&walk)) {
        if (tree_kind(tree, id) != NODE_EDITION || tree_node(tree, id)->flags & NODE_BAD) {
            continue;
        }
        bool in_main = tree_node(tree, id)->end <= tree_node(tree, spec->files[0])->end;
        if (id != first || !in_main) {
            Message *m = message_report(&spec->messages, MESSAGE_EDITION, tree_span(tree, id),
                                        "`edition` is the first statement of the main file, or none at all");
            message_right(&spec->messages, m, "`edition 1` before everything else in the main file alone");
        } else if (!str_is(tree_text(tree, id + 2), "1")) {
            Message *m = message_report(&spec->messages, MESSAGE_EDITION, tree_span(tree, id + 2),
                                        "this program reads edition 1 of the language, not `%.*s`",
                                        STR_ARG(tree_text(tree, id + 2)));
            message_right(&spec->messages, m, "`edition 1`, or a newer program");
        }
    }
}

/* The words of the units are the first symbols of a spec, in the order of the units: see unit_of in checker.h. */
static Symbols *symbols_with_units(Arena *arena)
{
    Symbols *symbols = symbols_new(arena);
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        symbols_intern(symbols, str_from(units[id].word));
    }
    return symbols;
}

Spec *spec_load(Arena *arena, const char *name, const FileText *given, FileReader reader)
{
    Spec *spec = ARENA_NEW(arena, Spec);
    Loader loader = {.spec = spec, .arena = arena, .reader = reader};
    sources_init(&spec->sources, arena);
    spec->symbols = symbols_with_units(arena);
    messages_init(&spec->messages, arena);
    tree_init(&spec->tree, arena, &spec->sources, spec->symbols);
    spec->shapes = shapes_new(arena);

    FileText text = given != NULL ? *given : reader.read(reader.context, arena, name);
    if (text.error != NULL) {
        spec->error = text.error;
        return spec;
    }
    uint32_t index = add_file(&loader, tidy_path(arena, str_from(name)), &text);
    if (index == UINT32_MAX) {
        spec->error = "it is more text than fits (4 GiB)";
        return spec;
    }
    read_includes(&loader, index, 0);
    spec->incomplete |= spec->tree.unmerged; /* what the other side of a merge declares is not missed as well */
    check_editions(spec);
    choose_find(spec, arena);
    return spec;
}
