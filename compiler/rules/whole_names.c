/*
 * Names that differ by capitals alone. The language tells them apart; the links of the book, file names of pictures on many
 * discs, and most readers do not.
 */
#include "rules/whole.h"

/* The name in small letters; most are. */
static Str small_name(Arena *arena, Str name)
{
    Buf small;
    size_t before = 0; /* so many in front are no capitals */
    while (before < name.length && !char_is_capital(name.text[before])) {
        before++;
    }
    if (before == name.length) {
        return name;
    }
    buf_init(&small, arena);
    for (size_t i = 0; i < name.length; i++) {
        char c = name.text[i];
        buf_char(&small, char_lower(c));
    }
    return buf_str(&small);
}

static void tell_alike(Judge *judge, const Entity *first, const Entity *entity)
{
    Finding *finding = judge_broken(judge, entity, entity_span(judge->model, entity));
    finding_at(finding, first);
    finding_say(judge, finding,
                "`%s` and `%s` differ by capitals alone: the book's links to them fall together, and so do the files of their "
                "pictures on a disc that takes capitals for small letters",
                say_name(judge, entity), say_name(judge, first));
    finding_note(judge, finding, entity_span(judge->model, first), "the other");
    finding_remedy(judge, finding, "another name for `%s` or for `%s`, with `was` and the old one behind it", say_name(judge, entity),
                   say_name(judge, first));
}

void judge_names_alike(Judge *judge)
{
    const Model *model = judge->model;
    Symbols *names = symbols_new(judge->arena);
    const Entity **firsts = ARENA_ARRAY(judge->arena, const Entity *, model->entity_count + 1);
    bool holds = true;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        Symbol small = symbols_intern(names, small_name(judge->arena, entity_name(model, entity)));
        if (firsts[small - 1u] == NULL) { /* symbols count from 1 */
            firsts[small - 1u] = entity;
        } else {
            tell_alike(judge, firsts[small - 1u], entity);
            holds = false;
        }
    }
    if (holds) {
        judge_holds(judge);
    }
}
