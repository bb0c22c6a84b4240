/*
 * The difference for people: things, choices and waivers, what was edited.
 *
 * What a part says on all the things that are it is told once. Of long texts the part that differs is shown.
 */
#include "tools/diff_tell.h"

#include <string.h>

enum {
    LONG_TEXT = 110,   /* bytes of a text that is cut, counted from the first that differs */
    BEFORE_CHANGE = 24 /* bytes kept in front of that */
};

/* How many bytes two texts have in common at their beginning, whole characters only. */
static size_t common_start(const char *a, const char *b)
{
    size_t same = 0;
    while (a[same] != '\0' && a[same] == b[same]) {
        same++;
    }
    while (same > 0 && ((unsigned char)a[same] & 0xC0) == 0x80) {
        same--;
    }
    return same;
}

static bool inside_character(const char *text, size_t at)
{
    return ((unsigned char)text[at] & 0xC0) == 0x80;
}

/* A long text around the place from which on it matters. */
static const char *cut(Arena *arena, const char *text, size_t from)
{
    size_t length = strlen(text);
    if (length <= LONG_TEXT + BEFORE_CHANGE) {
        return text;
    }
    size_t begin = from > BEFORE_CHANGE ? from - BEFORE_CHANGE : 0;
    size_t end = begin + LONG_TEXT < length ? begin + LONG_TEXT : length;
    while (begin > 0 && inside_character(text, begin)) {
        begin--;
    }
    while (end < length && inside_character(text, end)) {
        end++;
    }
    return text_format(arena, "%s%.*s%s", begin > 0 ? "..." : "", (int)(end - begin), text + begin,
                       end < length ? "..." : "");
}

/* Lines of things and choices */

static const char *stated(Arena *arena, const char *text, const char *assumed)
{
    if (text != NULL) {
        return text;
    }
    return assumed != NULL ? text_format(arena, "not stated (%s assumed)", assumed) : "not stated";
}

static const char *line_text(Arena *arena, const DiffLine *line)
{
    size_t from = line->before != NULL && line->after != NULL ? common_start(line->before, line->after) : 0;
    const char *before = line->before != NULL ? cut(arena, line->before, from) : NULL;
    const char *after = line->after != NULL ? cut(arena, line->after, from) : NULL;
    if (line->repeats && line->how != DIFF_CHANGED) {
        const char *what = line->how == DIFF_ADDED ? after : before;
        const char *how = line->how == DIFF_ADDED ? "added" : "removed";
        return what == NULL || *what == '\0' ? how : text_format(arena, "%s: %s", how, what); /* an option says all by its name */
    }
    return text_format(arena, "%s -> %s", stated(arena, before, line->assumed),
                       stated(arena, after, line->assumed));
}

static const char *line_word(Arena *arena, const DiffLine *line)
{
    return line->inside != NULL ? text_format(arena, "%s, %s", line->inside, line->property) : line->property;
}

static void say_line(Teller *teller, const DiffLine *line)
{
    tell_entry(teller, 2 * INDENT, WORD_COLUMN, line_word(teller->arena, line),
               line_text(teller->arena, line));
}

/* All that a thing states, one after the other. */
static void say_whole(Teller *teller, const DiffItem *item)
{
    Buf text;
    buf_init(&text, teller->arena);
    if (item->part != NULL) {
        buf_format(&text, "is %s", item->part);
    }
    for (const DiffLine *line = item->lines; line != NULL; line = line->next) {
        const char *value = item->how == DIFF_ADDED ? line->after : line->before;
        buf_format(&text, "%s%s %s", text.length > 0 ? "; " : "", line->property,
                   cut(teller->arena, value, 0));
    }
    if (text.length > 0) {
        page_paragraph(&teller->page, 2 * INDENT, tell_plain(teller, text.text));
    }
}

static const char *how_word(const DiffItem *item)
{
    return item->how == DIFF_ADDED     ? "added"
           : item->how == DIFF_REMOVED ? "removed"
           : item->was != NULL         ? "renamed"
                                       : "changed";
}

/* `changed bank house "House bank"` */
static void say_item_head(Teller *teller, const DiffItem *item)
{
    Buf text;
    buf_init(&text, teller->arena);
    buf_format(&text, "%s %s", item->set ? "what is set on" : item->kind, item->name);
    if (item->title[0] != '\0') {
        buf_format(&text, " \"%s\"", item->title);
    }
    if (item->was != NULL) {
        buf_format(&text, ", was %s", item->was);
    }
    if (item->where != NULL) {
        const DiffThing *thing = item->after != NULL ? item->after : item->before;
        buf_format(&text, ", %s %s", thing->in_boat ? "of" : "in", item->where);
    }
    page_entry(&teller->page, INDENT, HOW_COLUMN, str_from(how_word(item)), tell_plain(teller, text.text));
}

/* Parts: what they say on each thing that is one is told once */

static bool same_line(const DiffLine *a, const DiffLine *b)
{
    return strcmp(a->part, b->part) == 0 && strcmp(a->property, b->property) == 0 && a->how == b->how &&
           (a->before == NULL || strcmp(a->before, b->before) == 0) &&
           (a->after == NULL || strcmp(a->after, b->after) == 0);
}

static bool has_line(const DiffItem *item, const DiffLine *wanted)
{
    for (const DiffLine *line = item->lines; line != NULL; line = line->next) {
        if (line->part != NULL && same_line(line, wanted)) {
            return true;
        }
    }
    return false;
}

/* The first item before `end` on which the line stands, or NULL. */
static const DiffItem *first_with(const Diff *diff, const DiffItem *end, const DiffLine *line)
{
    for (const DiffItem *item = diff->items; item != end; item = item->next) {
        if (has_line(item, line)) {
            return item;
        }
    }
    return NULL;
}

/* Whether two lines of one part stand on the same things. */
static bool on_same_things(const Diff *diff, const DiffLine *a, const DiffLine *b)
{
    for (const DiffItem *item = diff->items; item != NULL; item = item->next) {
        if (has_line(item, a) != has_line(item, b)) {
            return false;
        }
    }
    return true;
}

static void say_part_head(Teller *teller, const DiffLine *line)
{
    Buf names;
    buf_init(&names, teller->arena);
    uint32_t count = 0;
    for (const DiffItem *item = teller->diff->items; item != NULL; item = item->next) {
        if (has_line(item, line)) {
            buf_format(&names, "%s%s", count++ > 0 ? ", " : "", item->name);
        }
    }
    const char *text = text_format(teller->arena, "part %s, and with it %s", line->part, names.text);
    page_entry(&teller->page, INDENT, HOW_COLUMN, STR("changed"), tell_plain(teller, text));
}

/* Lines of the item's part that no item before shows, those on the same things under one head. */
static void say_part_lines(Teller *teller, const DiffItem *item)
{
    const Diff *diff = teller->diff;
    for (const DiffLine *line = item->lines; line != NULL; line = line->next) {
        if (line->part == NULL || first_with(diff, item, line) != NULL) {
            continue;
        }
        bool told = false;
        for (const DiffLine *earlier = item->lines; earlier != line && !told; earlier = earlier->next) {
            told = earlier->part != NULL && on_same_things(diff, earlier, line);
        }
        if (told) {
            continue;
        }
        say_part_head(teller, line);
        for (const DiffLine *other = line; other != NULL; other = other->next) {
            if (other->part != NULL && on_same_things(diff, line, other)) {
                say_line(teller, other);
            }
        }
    }
}

static bool has_own_lines(const DiffItem *item)
{
    for (const DiffLine *line = item->lines; line != NULL; line = line->next) {
        if (line->part == NULL) {
            return true;
        }
    }
    return false;
}

void tell_things(Teller *teller)
{
    if (teller->diff->items == NULL) {
        return;
    }
    tell_heading(teller, "Things");
    for (const DiffItem *item = teller->diff->items; item != NULL; item = item->next) {
        if (item->how != DIFF_CHANGED) {
            say_item_head(teller, item);
            say_whole(teller, item);
            continue;
        }
        if (item->was != NULL || has_own_lines(item)) {
            say_item_head(teller, item);
        }
        for (const DiffLine *line = item->lines; line != NULL; line = line->next) {
            if (line->part == NULL) {
                say_line(teller, line);
            }
        }
        say_part_lines(teller, item);
    }
}

/* Choices and waivers */

void tell_choices(Teller *teller)
{
    static const char *const WORDS[] = {
        [DIFF_ADDED] = "added", [DIFF_REMOVED] = "removed", [DIFF_CHANGED] = "changed"};
    if (teller->diff->choices == NULL) {
        return;
    }
    tell_heading(teller, "Choices");
    for (const DiffChoice *choice = teller->diff->choices; choice != NULL; choice = choice->next) {
        const char *title =
            choice->title[0] != '\0' ? text_format(teller->arena, " \"%s\"", choice->title) : "";
        page_entry(&teller->page, INDENT, HOW_COLUMN, str_from(WORDS[choice->how]),
                   tell_plain(teller, text_format(teller->arena, "choice %s%s", choice->name, title)));
        for (const DiffLine *line = choice->lines; line != NULL; line = line->next) {
            DiffLine said = *line;
            if (strcmp(line->property, "pick") == 0) {
                said.before = line->before != NULL ? line->before : "open";
                said.after = line->after != NULL ? line->after : "open";
                said.how = DIFF_CHANGED;
            }
            say_line(teller, &said);
        }
    }
}

static const char *waiver_text(Arena *arena, const Waiver *waiver)
{
    Buf text;
    buf_init(&text, arena);
    if (waiver->has_until) {
        buf_text(&text, "until ");
        date_write(&text, waiver->until);
        buf_char(&text, ' ');
    }
    buf_format(&text, "because \"%.*s\"", STR_ARG(waiver->because));
    return text.text;
}

void tell_waivers(Teller *teller)
{
    if (teller->diff->waivers == NULL) {
        return;
    }
    tell_heading(teller, "Waivers");
    for (const DiffWaiver *waiver = teller->diff->waivers; waiver != NULL; waiver = waiver->next) {
        const char *how = waiver->before == NULL ? "added" : waiver->after == NULL ? "removed" : "changed";
        const char *before = waiver->before != NULL ? waiver_text(teller->arena, waiver->before) : NULL;
        const char *after = waiver->after != NULL ? waiver_text(teller->arena, waiver->after) : NULL;
        const char *terms = before == NULL  ? after
                            : after == NULL ? before
                                            : text_format(teller->arena, "%s -> %s", before, after);
        const char *text = text_format(teller->arena, "%s on %s, %s", waiver->rule, waiver->subject, terms);
        page_entry(&teller->page, INDENT, HOW_COLUMN, str_from(how), tell_plain(teller, text));
    }
}
