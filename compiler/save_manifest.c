/*
 * Reading and writing the manifest. Knows its own text; opens no file.
 */
#include "save_manifest.h"

#include "save.h"

#include <inttypes.h>
#include <string.h>

enum { LONGEST_NAME = 255, HASH_DIGITS = 16, MOST_SIZE_DIGITS = 18 };

static const char head[] = "# Files that Garboard wrote here, and may replace: size, hash (FNV-1a), name\n";

/* ---- Names ---- */

/* One part of a name: begins with no point, has no character that could mislead. */
static bool is_good_part(Str part)
{
    if (part.length == 0 || part.text[0] == '.') {
        return false;
    }
    for (size_t i = 0; i < part.length; i++) {
        if ((unsigned char)part.text[i] < ' ' || part.text[i] == 0x7F || part.text[i] == '\\') {
            return false;
        }
    }
    return true;
}

bool manifest_is_good_name(const char *name)
{
    const char *slash = strchr(name, '/');
    const char *leaf = slash ? slash + 1 : name;

    return strlen(name) <= LONGEST_NAME && strcmp(name, SAVE_MANIFEST) != 0 && strchr(leaf, '/') == NULL &&
           is_good_part(str_from(leaf)) && (!slash || is_good_part((Str){name, (size_t)(slash - name)}));
}

/* ---- Reading ---- */

static void skip(Str *rest, size_t length)
{
    rest->text += length;
    rest->length -= length;
}

/* Takes a number off the text: as many digits of its base, 10 or 16, as there are, but `most` at most. */
static size_t take_number(Str *rest, unsigned base, size_t most, uint64_t *number)
{
    static const char all[] = "0123456789abcdef";
    size_t taken = 0;
    *number = 0;
    while (taken < rest->length && taken < most) {
        const char *digit = memchr(all, rest->text[taken], base);
        if (!digit) {
            break;
        }
        *number = *number * base + (uint64_t)(digit - all);
        taken++;
    }
    skip(rest, taken);
    return taken;
}

static bool take_blank(Str *rest)
{
    if (rest->length == 0 || rest->text[0] != ' ') {
        return false;
    }
    skip(rest, 1);
    return true;
}

static bool read_line(Arena *arena, Str text, ManifestLine *line)
{
    if (take_number(&text, 10, MOST_SIZE_DIGITS, &line->size) == 0 || !take_blank(&text) ||
        take_number(&text, 16, HASH_DIGITS, &line->hash) != HASH_DIGITS || !take_blank(&text)) {
        return false;
    }
    line->name = str_copy(arena, text);
    return strlen(line->name) == text.length && manifest_is_good_name(line->name);
}

static size_t count_lines(Str text)
{
    size_t count = 0;
    for (size_t i = 0; i < text.length; i++) {
        count += text.text[i] == '\n';
    }
    return count;
}

bool manifest_read(Arena *arena, Str text, Manifest *manifest)
{
    *manifest = (Manifest){ARENA_ARRAY(arena, ManifestLine, count_lines(text) + 1), 0};
    if (!str_starts(text, head)) {
        return false;
    }
    skip(&text, strlen(head));
    while (text.length > 0) {
        const char *end = memchr(text.text, '\n', text.length);
        ManifestLine *line = &manifest->lines[manifest->count];
        if (!end || !read_line(arena, (Str){text.text, (size_t)(end - text.text)}, line) ||
            (manifest->count > 0 && strcmp(line[-1].name, line->name) > 0)) {
            manifest->count = 0;
            return false;
        }
        manifest->count++;
        skip(&text, (size_t)(end + 1 - text.text));
    }
    return true;
}

/* ---- Writing ---- */

void manifest_write_head(Buf *buf)
{
    buf_text(buf, head);
}

void manifest_write_line(Buf *buf, ManifestLine line)
{
    buf_format(buf, "%" PRIu64 " %016" PRIx64 " %s\n", line.size, line.hash, line.name);
}

/* ---- Looking up ---- */

size_t manifest_find(const Manifest *manifest, const char *name)
{
    size_t low = 0;
    size_t high = manifest->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (strcmp(manifest->lines[middle].name, name) < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

bool manifest_has(const Manifest *manifest, const char *name, const ManifestLine *with)
{
    for (size_t i = manifest_find(manifest, name); i < manifest->count; i++) {
        const ManifestLine *line = &manifest->lines[i];
        if (strcmp(line->name, name) != 0) {
            return false;
        }
        if (!with || (line->size == with->size && line->hash == with->hash)) {
            return true;
        }
    }
    return false;
}
