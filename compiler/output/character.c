/*
 * UTF-8, read and written by the character. Knows no format.
 */
#include "output/character.h"

#include "base/utf8.h"

#include <assert.h>

uint32_t character_take(Str *rest)
{
    assert(rest->length > 0);
    uint32_t code;
    size_t length = utf8_read((const unsigned char *)rest->text, rest->length, &code);
    if (length == 0) {
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
