/*
 * The JSON writer. Knows RFC 8259 and nothing of what is written.
 */
#include "output/json.h"

#include "base/num.h"
#include "output/character.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>

void json_init(Json *json, Buf *buf)
{
    *json = (Json){.buf = buf};
}

static void new_line(Json *json)
{
    buf_char(json->buf, '\n');
    for (unsigned i = 0; i < json->depth; i++) {
        buf_text(json->buf, "  ");
    }
}

/* The comma after what stands before, and the line on which a key or an item of an array goes. */
static void begin_entry(Json *json)
{
    bool *filled = &json->filled[json->depth - 1];
    if (*filled) {
        buf_char(json->buf, ',');
    }
    *filled = true;
    new_line(json);
}

static void begin_value(Json *json)
{
    if (json->depth == 0) {
        assert(!json->whole);
        json->whole = true;
    } else if (json->object[json->depth - 1]) {
        assert(json->key_given);
        json->key_given = false;
    } else {
        begin_entry(json);
    }
}

static void open_level(Json *json, bool object)
{
    begin_value(json);
    assert(json->depth < JSON_DEPTH);
    json->object[json->depth] = object;
    json->filled[json->depth] = false;
    json->depth++;
    buf_char(json->buf, object ? '{' : '[');
}

static void close_level(Json *json, bool object)
{
    assert(json->depth > 0 && json->object[json->depth - 1] == object && !json->key_given);
    json->depth--;
    if (json->filled[json->depth]) {
        new_line(json);
    }
    buf_char(json->buf, object ? '}' : ']');
}

void json_object(Json *json)
{
    open_level(json, true);
}

void json_object_end(Json *json)
{
    close_level(json, true);
}

void json_array(Json *json)
{
    open_level(json, false);
}

void json_array_end(Json *json)
{
    close_level(json, false);
}

static void write_character(Buf *buf, uint32_t code)
{
    static const char *const short_forms[] = {
        ['\b'] = "\\b", ['\t'] = "\\t", ['\n'] = "\\n",  ['\f'] = "\\f",
        ['\r'] = "\\r", ['"'] = "\\\"", ['\\'] = "\\\\",
    };
    if (code < sizeof short_forms / sizeof *short_forms && short_forms[code]) {
        buf_text(buf, short_forms[code]);
    } else if (character_is_control(code)) {
        buf_format(buf, "\\u%04" PRIx32, code);
    } else {
        character_write(buf, code);
    }
}

static void write_string(Buf *buf, Str text)
{
    buf_char(buf, '"');
    while (text.length > 0) {
        write_character(buf, character_take(&text));
    }
    buf_char(buf, '"');
}

void json_key(Json *json, const char *key)
{
    assert(json->depth > 0 && json->object[json->depth - 1] && !json->key_given);
    begin_entry(json);
    write_string(json->buf, str_from(key));
    buf_text(json->buf, ": ");
    json->key_given = true;
}

void json_text(Json *json, Str text)
{
    begin_value(json);
    write_string(json->buf, text);
}

void json_number(Json *json, double value)
{
    if (!isfinite(value)) {
        json_null(json);
        return;
    }
    begin_value(json);
    num_write_exact(json->buf, value);
}

void json_whole(Json *json, int64_t value)
{
    begin_value(json);
    buf_format(json->buf, "%" PRId64, value);
}

void json_bool(Json *json, bool value)
{
    begin_value(json);
    buf_text(json->buf, value ? "true" : "false");
}

void json_null(Json *json)
{
    begin_value(json);
    buf_text(json->buf, "null");
}

void json_put_text(Json *json, const char *key, Str text)
{
    json_key(json, key);
    json_text(json, text);
}

void json_put_words(Json *json, const char *key, const char *text)
{
    json_key(json, key);
    if (text != NULL) {
        json_text(json, str_from(text));
    } else {
        json_null(json);
    }
}

void json_put_number(Json *json, const char *key, double value)
{
    json_key(json, key);
    json_number(json, value);
}

void json_put_whole(Json *json, const char *key, int64_t value)
{
    json_key(json, key);
    json_whole(json, value);
}

void json_put_bool(Json *json, const char *key, bool value)
{
    json_key(json, key);
    json_bool(json, value);
}

void json_end(Json *json)
{
    assert(json->depth == 0 && json->whole);
    buf_char(json->buf, '\n');
}
