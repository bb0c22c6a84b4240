/*
 * UTF-8, read and written by the character. Knows no format.
 */
#include "output/character.h"

#include <assert.h>

/* How many bytes a sequence with this first byte has; 0 for a byte that cannot be the first. */
static unsigned length_by_first(unsigned char first)
{
    if (first < 0x80) {
        return 1;
    }
    if (first >= 0xC2 && first <= 0xDF) {
        return 2;
    }
    if (first >= 0xE0 && first <= 0xEF) {
        return 3;
    }
    return first >= 0xF0 && first <= 0xF4 ? 4 : 0;
}

static bool is_scalar(uint32_t code, unsigned length)
{
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};

    return code >= least[length] && code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF);
}

uint32_t character_take(Str *rest)
{
    assert(rest->length > 0);
    const unsigned char *bytes = (const unsigned char *)rest->text;
    unsigned length = length_by_first(bytes[0]);
    uint32_t code = length == 1 ? bytes[0] : bytes[0] & (0x7Fu >> length);
    bool good = length > 0 && length <= rest->length;
    for (unsigned i = 1; good && i < length; i++) {
        good = (bytes[i] & 0xC0) == 0x80;
        code = code << 6 | (bytes[i] & 0x3F);
    }
    if (!good || !is_scalar(code, length)) {
        length = 1;
        code = CHARACTER_REPLACEMENT;
    }
    rest->text += length;
    rest->length -= length;
    return code;
}

void character_write(Buf *buf, uint32_t code)
{
    if (code < 0x80) {
        buf_char(buf, (char)code);
        return;
    }
    if (code < 0x800) {
        buf_char(buf, (char)(0xC0 | code >> 6));
    } else {
        if (code < 0x10000) {
            buf_char(buf, (char)(0xE0 | code >> 12));
        } else {
            buf_char(buf, (char)(0xF0 | code >> 18));
            buf_char(buf, (char)(0x80 | (code >> 12 & 0x3F)));
        }
        buf_char(buf, (char)(0x80 | (code >> 6 & 0x3F)));
    }
    buf_char(buf, (char)(0x80 | (code & 0x3F)));
}

bool character_is_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code <= 0x9F);
}
