/*
 * See lexer.h. What git leaves where two branches have changed one place and nobody has said yet which of the two is meant: a line
 * of seven `<` before the one side, one of `=` before the other (with one of `|` and what both had before, between them), and one
 * of `>` behind.
 */
#include "syntax/lexer.h"

#include <string.h>

/* The mark that a line begins with seven times, as git writes it; 0: it is no such line. */
static char merge_mark(const unsigned char *line)
{
    enum { MARKS = 7 };
    int same = 0;
    while (same < MARKS && line[same] == *line && *line != 0) {
        same++;
    }
    if (same < MARKS || strchr("<|=>", *line) == NULL) {
        return 0;
    }
    unsigned char behind = line[MARKS];
    bool ends = behind == '\n' || behind == '\r' || behind == 0;
    return ends || (behind == ' ' && *line != '=') ? (char)*line : 0;
}

/* The line of `>` that ends what begins at a line of `<`, or at one within; NULL if it lacks that, or the other side. */
static const unsigned char *conflict_end(const Lexer *lexer, const unsigned char *line, bool other_side)
{
    const unsigned char *end = lexer_line_end(lexer, line);
    while (*end == '\n') {
        line = end + 1;
        char mark = merge_mark(line);
        if (mark == '<' || (mark == '>' && !other_side)) {
            return NULL;
        }
        if (mark == '>') {
            return line;
        }
        other_side |= mark == '=';
        end = lexer_line_end(lexer, line);
    }
    return NULL;
}

static Span span_of_line(const Lexer *lexer, const unsigned char *line)
{
    const unsigned char *end = lexer_line_end(lexer, line);
    while (end > line && (end[-1] == '\r' || end[-1] == ' ')) {
        end--;
    }
    return lexer_span(lexer, line, end);
}

static void tell_conflict(Lexer *lexer, const unsigned char *from, const unsigned char *to)
{
    Message *m = message_report(lexer->messages, MESSAGE_MERGE_LEFT, span_of_line(lexer, from),
                                "a merge has left both of its sides here: nothing says which of the two is meant");
    message_note(lexer->messages, m, span_of_line(lexer, to), "down to here");
    message_right(lexer->messages, m, "what is meant of the two sides, and none of these lines of `<<<<<<<`, `=======` and `>>>>>>>`");
}

static void tell_left_line(Lexer *lexer, const unsigned char *line)
{
    Message *m = message_report(lexer->messages, MESSAGE_MERGE_LEFT, span_of_line(lexer, line),
                                "a merge has left this line, and not all that belongs to it");
    message_right(lexer->messages, m, "no such line, when what stands around it is what is meant");
}

const unsigned char *lexer_merge_line(Lexer *lexer, const unsigned char *line, bool in_text)
{
    char mark = merge_mark(line);
    bool first_side = lexer->conflict, between = mark == '|' || mark == '=';
    if (mark == 0 || (between && in_text && !first_side)) {
        return NULL; /* a text may underline a heading of its own */
    }
    const unsigned char *end = mark == '<' ? conflict_end(lexer, line, false)
                               : between && first_side ? conflict_end(lexer, line, true)
                                                       : NULL;
    lexer->merge_lines++;
    lexer->conflict = end != NULL && mark == '<';
    if (lexer->conflict) {
        tell_conflict(lexer, line, end);
    } else if (end == NULL) {
        tell_left_line(lexer, line);
    }
    return lexer_line_end(lexer, end != NULL && between ? end : line);
}
