/* See message.h. */
#include "text/message.h"

#include "base/buf.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const MessageKind message_kinds[MESSAGE_COUNT] = {
#define MESSAGE(ID, NAME, MEANING) [MESSAGE_##ID] = {NAME, MEANING},
#include "text/messages.def"
#undef MESSAGE
};

void messages_init(Messages *messages, Arena *arena)
{
    *messages = (Messages){.arena = arena};
}

static uint32_t seen_hash(MessageId id, Span at)
{
    uint64_t key = ((uint64_t)id << 32) ^ at.start ^ ((uint64_t)at.end << 20);
    key *= 0x9E3779B97F4A7C15u;
    return (uint32_t)(key >> 32);
}

static bool same_message(const Message *m, MessageId id, Span at, bool placed)
{
    return m->id == id && m->placed == placed && m->at.start == at.start && m->at.end == at.end;
}

static void seen_put(Messages *messages, Message *message)
{
    uint32_t mask = messages->seen_capacity - 1;
    uint32_t i = seen_hash(message->id, message->at) & mask;
    while (messages->seen[i] != NULL) {
        i = (i + 1) & mask;
    }
    messages->seen[i] = message;
}

static void seen_rebuild(Messages *messages, uint32_t capacity)
{
    messages->seen = ARENA_ARRAY(messages->arena, Message *, capacity);
    messages->seen_capacity = capacity;
    for (Message *m = messages->first; m != NULL; m = m->next) {
        seen_put(messages, m);
    }
}

/* The message already there for that place, or NULL. Whole-spec messages differ by text, so they are never the same. */
static Message *seen_find(const Messages *messages, MessageId id, Span at, bool placed)
{
    if (messages->seen_capacity == 0 || !placed) {
        return NULL;
    }
    uint32_t mask = messages->seen_capacity - 1;
    for (uint32_t i = seen_hash(id, at) & mask; messages->seen[i] != NULL; i = (i + 1) & mask) {
        if (same_message(messages->seen[i], id, at, placed)) {
            return messages->seen[i];
        }
    }
    return NULL;
}

static bool whole_seen(const Messages *messages, const char *text)
{
    for (const Message *m = messages->first; m != NULL; m = m->next) {
        if (!m->placed && strcmp(m->text, text) == 0) {
            return true;
        }
    }
    return false;
}

static Message *add(Messages *to, MessageId id, Span at, bool placed, const char *text)
{
    if (placed ? seen_find(to, id, at, true) != NULL : whole_seen(to, text)) {
        /* A scratch message: whoever adds notes to it may, nobody prints it. */
        Message *again = ARENA_NEW(to->arena, Message);
        again->text = text;
        return again;
    }
    Message *message = ARENA_NEW(to->arena, Message);
    *message = (Message){.id = id, .at = at, .placed = placed, .text = text};
    if (to->last == NULL) {
        to->first = message;
    } else {
        to->last->next = message;
    }
    to->last = message;
    to->count++;
    if (to->count * 2 > to->seen_capacity) {
        seen_rebuild(to, to->seen_capacity ? to->seen_capacity * 2 : 16);
    } else {
        seen_put(to, message);
    }
    return message;
}

static bool is_full(Messages *to)
{
    to->more |= to->count == MESSAGES_MOST;
    return to->count == MESSAGES_MOST;
}

Message *message_report(Messages *to, MessageId id, Span at, const char *format, ...)
{
    if (is_full(to)) {
        return &to->spill;
    }
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_format_list(to->arena, format, arguments);
    va_end(arguments);
    return add(to, id, at, true, text);
}

Message *message_report_whole(Messages *to, MessageId id, const char *format, ...)
{
    if (is_full(to)) {
        return &to->spill;
    }
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_format_list(to->arena, format, arguments);
    va_end(arguments);
    return add(to, id, (Span){0, 0}, false, text);
}

void message_note(Messages *to, Message *message, Span at, const char *format, ...)
{
    if (message == &to->spill) {
        return;
    }
    MessageNote *note = ARENA_NEW(to->arena, MessageNote);
    va_list arguments;
    va_start(arguments, format);
    note->text = text_format_list(to->arena, format, arguments);
    va_end(arguments);
    note->at = at;
    MessageNote **end = &message->notes;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = note;
}

void message_right(Messages *to, Message *message, const char *format, ...)
{
    if (message == &to->spill) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    message->right = text_format_list(to->arena, format, arguments);
    va_end(arguments);
}

MessagesMark messages_mark(const Messages *messages)
{
    return (MessagesMark){messages->last, messages->count, messages->more};
}

void messages_rewind(Messages *messages, MessagesMark mark)
{
    messages->last = mark.last;
    messages->count = mark.count;
    messages->more = mark.more;
    if (mark.last == NULL) {
        messages->first = NULL;
    } else {
        mark.last->next = NULL;
    }
    if (messages->seen_capacity > 0) {
        seen_rebuild(messages, messages->seen_capacity);
    }
}

static int compare_places(const void *a, const void *b)
{
    const Message *x = *(Message *const *)a;
    const Message *y = *(Message *const *)b;
    if (x->placed != y->placed) {
        return x->placed ? -1 : 1;
    }
    if (x->at.start != y->at.start) {
        return x->at.start < y->at.start ? -1 : 1;
    }
    if (x->id != y->id) {
        return x->id < y->id ? -1 : 1;
    }
    return strcmp(x->text, y->text);
}

void messages_sort(Messages *messages)
{
    if (messages->count < 2) {
        return;
    }
    Message **list = ARENA_ARRAY(messages->arena, Message *, messages->count);
    uint32_t n = 0;
    for (Message *m = messages->first; m != NULL; m = m->next) {
        list[n++] = m;
    }
    qsort(list, n, sizeof(Message *), compare_places);
    for (uint32_t i = 0; i + 1 < n; i++) {
        list[i]->next = list[i + 1];
    }
    list[n - 1]->next = NULL;
    messages->first = list[0];
    messages->last = list[n - 1];
}
