/*
 * Text a character at a time, for the writers of this folder.
 *
 * Knows UTF-8 and nothing else. What a format needs escaped is the business of its own writer.
 */
#ifndef GARBOARD_OUTPUT_CHARACTER_H
#define GARBOARD_OUTPUT_CHARACTER_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stdint.h>

/**
 * What stands for a byte that is no text, and for a control character where a format has no way to write it.
 */
#define CHARACTER_REPLACEMENT UINT32_C(0xFFFD)

/**
 * Takes the first character off `rest`, which must not be empty, and returns its code point. A byte that is
 * no part of valid UTF-8 (RFC 3629: no overlong form, no surrogate, nothing beyond U+10FFFF) counts as U+FFFD
 * by itself.
 */
uint32_t character_take(Str *rest);

/** Appends a code point as UTF-8. */
void character_write(Buf *buf, uint32_t code);

/** Is it one of the control characters U+0000..U+001F and U+007F..U+009F? */
bool character_is_control(uint32_t code);

#endif
