/*
 * Mistakes in a spec. A message names the smallest place, says what is wrong in the owner's words, and what would be
 * right. One message a cause: the same message at the same place is kept once.
 *
 * Sentences are lower case, without full stop; names stand in backquotes.
 */
#ifndef GARBOARD_TEXT_MESSAGE_H
#define GARBOARD_TEXT_MESSAGE_H

#include "base/arena.h"
#include "text/source.h"

typedef enum MessageId {
#define MESSAGE(ID, NAME, MEANING) MESSAGE_##ID,
#include "text/messages.def"
#undef MESSAGE
    MESSAGE_COUNT
} MessageId;

typedef struct MessageKind {
    const char *name;
    const char *meaning;
} MessageKind;
extern const MessageKind message_kinds[MESSAGE_COUNT];

typedef struct MessageNote {
    Span at;
    const char *text;
    struct MessageNote *next;
} MessageNote;

typedef struct Message {
    MessageId id;
    Span at;
    bool placed;       /* false: about the whole spec, no place to show */
    const char *text;  /* what is wrong */
    const char *right; /* what would be right, or NULL */
    MessageNote *notes;
    struct Message *next;
} Message;

/* More than this nobody reads; what comes after is not kept, and costs nothing. */
enum { MESSAGES_MOST = 10000 };

typedef struct Messages {
    Arena *arena;
    Message *first;
    Message *last;
    uint32_t count;
    bool more;              /* there were more than MESSAGES_MOST */
    Message spill;          /* stands in for each of those */
    Message **seen;         /* hash of (id, place), to keep each once */
    uint32_t seen_capacity; /* a power of two */
} Messages;

void messages_init(Messages *messages, Arena *arena);

/** Adds a message; returns it to add notes to. A repetition, and what is too much, is returned but not added. */
Message *message_report(Messages *to, MessageId id, Span at, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/** A message about the whole spec. */
Message *message_report_whole(Messages *to, MessageId id, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/** Another place that matters. */
void message_note(Messages *to, Message *message, Span at, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/** What would be right. */
void message_right(Messages *to, Message *message, const char *format, ...) __attribute__((format(printf, 3, 4)));

/** Where a list of messages stands now, and back to there: for a parse that is tried and given up. */
typedef struct MessagesMark {
    Message *last;
    uint32_t count;
    bool more;
} MessagesMark;
MessagesMark messages_mark(const Messages *messages);
void messages_rewind(Messages *messages, MessagesMark mark);

/** Puts the messages in the order of their places. */
void messages_sort(Messages *messages);

#endif
