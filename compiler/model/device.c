/* See device.h. */
#include "model/device.h"

#include "physics/protection.h"

enum { KIND_SLOT = 1, CLASS_SLOT = 2 };

/* The classes that a line may name and that are made as breakers, or as fuses: "`thermal`, `hydraulic` or `miniature`". */
static const char *list_classes(Arena *arena, const Shape *shape, bool breaker)
{
    Buf names;
    Str last = {.length = 0};
    buf_init(&names, arena);
    for (uint8_t i = 0; i < shape->item_count; i++) {
        const ShapeItem *item = &shape->items[i];
        for (uint16_t w = 0; item->kind == ITEM_ATOM && item->slot == CLASS_SLOT && w < item->atoms[0].word_count; w++) {
            Str word = item->atoms[0].words[w];
            if (protection_row(protection_class_named(word.text, word.length))->breaker == breaker) {
                if (last.length > 0) {
                    buf_format(&names, "%s`%.*s`", names.length > 0 ? ", " : "", STR_ARG(last));
                }
                last = word;
            }
        }
    }
    return text_format(arena, "%s%s`%.*s`", names.text, names.length > 0 ? " or " : "", STR_ARG(last));
}

bool device_agrees(Checker *checker, const Property *line, const Shape *shape)
{
    if (line->id != PROP_FEED_PROTECT && line->id != PROP_FEEDS_PROTECT && line->id != PROP_FEEDS_PROTECT_OUTPUT) {
        return true;
    }
    const Value *kind = property_value(line, KIND_SLOT), *class = property_value(line, CLASS_SLOT);
    if (kind->kind != VALUE_WORD || class->kind != VALUE_WORD) {
        return true;
    }
    bool breaker = str_is(kind->u.word, "breaker");
    if (protection_row(protection_class_named(class->u.word.text, class->u.word.length))->breaker == breaker) {
        return true;
    }
    Message *m = message_report(checker->messages, MESSAGE_SHAPE_OTHER, value_span(checker->model, class),
                                "`%.*s` is a class of %s, and the line says `%.*s`", STR_ARG(class->u.word), breaker ? "fuses" : "breakers",
                                STR_ARG(kind->u.word));
    message_note(checker->messages, m, value_span(checker->model, kind), "this says so");
    message_right(checker->messages, m, "of a %.*s %s; or `%s`, with its class or without", STR_ARG(kind->u.word),
                  list_classes(checker->arena, shape, breaker), breaker ? "fuse" : "breaker");
    return false;
}
