/* See utf8.h. */
#include "base/utf8.h"

#include <stdbool.h>
#include <string.h>

static bool is_tail(unsigned char c)
{
    return (c & 0xC0u) == 0x80u;
}

size_t utf8_length(const unsigned char *text, size_t left)
{
    unsigned char c = text[0];
    if (c < 0x80u) {
        return 1;
    }
    if (c >= 0xC2u && c <= 0xDFu) {
        return left >= 2 && is_tail(text[1]) ? 2 : 0;
    }
    if ((c & 0xF0u) == 0xE0u) {
        if (left < 3 || !is_tail(text[1]) || !is_tail(text[2])) {
            return 0;
        }
        bool overlong = c == 0xE0u && text[1] < 0xA0u;
        bool surrogate = c == 0xEDu && text[1] >= 0xA0u;
        return overlong || surrogate ? 0 : 3;
    }
    if (c >= 0xF0u && c <= 0xF4u) {
        if (left < 4 || !is_tail(text[1]) || !is_tail(text[2]) || !is_tail(text[3])) {
            return 0;
        }
        bool overlong = c == 0xF0u && text[1] < 0x90u;
        bool beyond = c == 0xF4u && text[1] >= 0x90u;
        return overlong || beyond ? 0 : 4;
    }
    return 0;
}

size_t utf8_read(const unsigned char *text, size_t left, uint32_t *code)
{
    size_t length = utf8_length(text, left);
    *code = length <= 1 ? text[0] : text[0] & (0x7Fu >> length);
    for (size_t i = 1; i < length; i++) {
        *code = *code << 6 | (text[i] & 0x3Fu);
    }
    return length;
}

enum { STRETCH = 256 };

static bool is_ascii(const char text[static STRETCH])
{
    unsigned char all = 0;
    for (size_t i = 0; i < STRETCH; i++) {
        all |= (unsigned char)text[i];
    }
    return all < 0x80u;
}

size_t utf8_first_bad(const char *text, size_t length, size_t from)
{
    size_t i = from;
    size_t mixed_until = from; /* up to here it is known not to be ASCII throughout */
    while (i < length) {
        if (i >= mixed_until && i + STRETCH <= length) {
            if (is_ascii(text + i)) {
                i += STRETCH;
                continue;
            }
            mixed_until = i + STRETCH;
        }
        uint64_t eight;
        if (i + 8 <= length && (memcpy(&eight, text + i, 8), (eight & 0x8080808080808080u) == 0)) {
            i += 8;
            continue;
        }
        size_t step = utf8_length((const unsigned char *)text + i, length - i);
        if (step == 0) {
            return i;
        }
        i += step;
    }
    return length;
}

size_t utf8_count(const char *text, size_t length)
{
    size_t count = 0;
    for (size_t i = 0; i < length; i++) {
        count += ((unsigned char)text[i] & 0xC0) != 0x80;
    }
    return count;
}
