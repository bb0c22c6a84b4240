/*
 * JSON (RFC 8259), written as it comes: nothing is collected, keys stand in the order in which they are
 * given.
 *
 * The writer owns commas, indentation (2 spaces) and escaping. It asserts that calls make a document: a key
 * before each value of an object, none in an array, every object and array ended. It knows no document of
 * Garboard.
 *
 *     json_object(&json);
 *     json_put_text(&json, "rule", STR("wire-unprotected"));
 *     json_key(&json, "depends");
 *     json_array(&json);
 *     json_array_end(&json);
 *     json_object_end(&json);
 *     json_end(&json);
 */
#ifndef GARBOARD_OUTPUT_JSON_H
#define GARBOARD_OUTPUT_JSON_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stdint.h>

enum { JSON_DEPTH = 32 }; /* objects and arrays inside one another; more is a mistake of the caller */

typedef struct Json {
    Buf *buf;
    unsigned depth;          /* how many objects and arrays are open */
    bool key_given;          /* the next value has its key */
    bool object[JSON_DEPTH]; /* what is open at each depth: an object, or else an array */
    bool filled[JSON_DEPTH]; /* has it anything in it */
    bool whole;              /* the document has its value */
} Json;

void json_init(Json *json, Buf *buf);

void json_object(Json *json);
void json_object_end(Json *json);
void json_array(Json *json);
void json_array_end(Json *json);

/** The key of the next value; keys of one object must differ. */
void json_key(Json *json, const char *key);

/** A string. Every control character is escaped; bytes that are not UTF-8 become U+FFFD. */
void json_text(Json *json, Str text);
/** A number, as the shortest text that reads back the same; null if it is infinite or not a number. */
void json_number(Json *json, double value);
void json_whole(Json *json, int64_t value);
void json_bool(Json *json, bool value);
void json_null(Json *json);

/* A key and its value at once. */
void json_put_text(Json *json, const char *key, Str text);
/** The same for a text that ends in NUL; null for NULL. */
void json_put_words(Json *json, const char *key, const char *text);
void json_put_number(Json *json, const char *key, double value);
void json_put_whole(Json *json, const char *key, int64_t value);
void json_put_bool(Json *json, const char *key, bool value);

/** Ends the document, of which everything must be closed, with a line end. */
void json_end(Json *json);

#endif
