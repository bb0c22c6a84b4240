/*
 * UTF-8 (RFC 3629): no overlong form, no surrogate, nothing beyond U+10FFFF. Knows bytes; nothing of files.
 */
#ifndef GARBOARD_BASE_UTF8_H
#define GARBOARD_BASE_UTF8_H

#include <stddef.h>
#include <stdint.h>

/** Length of the valid UTF-8 sequence at text, or 0 if there is none; NUL counts as valid. */
size_t utf8_length(const unsigned char *text, size_t left);
/** The same; and the character that it is, where there is one. */
size_t utf8_read(const unsigned char *text, size_t left, uint32_t *code);
/** How many characters there are in a text that is valid UTF-8. */
size_t utf8_count(const char *text, size_t length);
/** Offset of the first byte at or after `from` that is not valid UTF-8, or `length`. */
size_t utf8_first_bad(const char *text, size_t length, size_t from);

#endif
