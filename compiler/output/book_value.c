/*
 * Texts of names and values for the build book, over all cases. Knows the model and how values are
 * printed, no Markdown: what it makes is plain text.
 */
#include "output/book_page.h"

#include "figures/inches.h"
#include "figures/water.h"
#include "model/agree.h"
#include "model/status.h"
#include "output/book_assumed.h"
#include "output/report.h"

#include <string.h>

const Str book_nothing = {"\xE2\x80\x93", 3};

Str book_name(const Book *book, const Entity *entity)
{
    return entity_name(book->model, entity);
}

Str book_date(const Book *book, Date date)
{
    Buf text;
    buf_init(&text, book->arena);
    date_write(&text, date);
    return buf_str(&text);
}

Str book_place(const Book *book, Span at)
{
    const Sources *sources = &book->outcome->spec->sources;
    return report_name_beside(sources, source_place(sources, at.start).source->name);
}

/* One value */

static void write_clock(Buf *to, int32_t minutes)
{
    buf_format(to, "%02d:%02d", (int)(minutes / 60), (int)(minutes % 60));
}

static const char *const months[] = {"january", "february", "march",     "april",   "may",      "june",
                                     "july",    "august",   "september", "october", "november", "december"};

/* The value in a slot of a property; PROP_NONE: it stands for none. */
static void write_value(Buf *to, const Model *model, PropId prop, unsigned slot, const Value *value)
{
    if (value->flags & VALUE_BROKEN) {
        buf_text(to, "a mistake stands here");
        return;
    }
    switch ((ValueKind)value->kind) {
    case VALUE_QUANTITY:
        if (prop != PROP_NONE) {
            size_write(to, model, prop, slot, value);
        } else {
            quantity_write(to, model, value);
        }
        break;
    case VALUE_REFERENCE:
        buf_add(to,
                value_entity(value) != NULL ? entity_name(model, value_entity(value)) : STR("a mistake stands here"));
        break;
    case VALUE_WORD: buf_add(to, value->u.word); break;
    case VALUE_TEXT: buf_add(to, value->u.text); break;
    case VALUE_DATE: date_write(to, value->u.date); break;
    case VALUE_CLOCK:
        write_clock(to, value->u.clock.from);
        buf_text(to, "..");
        write_clock(to, value->u.clock.to);
        break;
    case VALUE_YES_NO: buf_text(to, value->u.yes ? "yes" : "no"); break;
    case VALUE_MONTH:
        buf_text(to, value->u.month >= 1 && value->u.month <= 12 ? months[value->u.month - 1] : "");
        break;
    case VALUE_NONE:
    case VALUE_BLOCK: break;
    }
}

Str book_value_text(const Book *book, const Model *model, const Value *value)
{
    Buf text;
    buf_init(&text, book->arena);
    write_value(&text, model, PROP_NONE, 0, value);
    return text.length > 0 ? buf_str(&text) : book_nothing;
}

/* The authority of defaults that guess nothing about the boat: one where no count is stated. */
static const char plain_reading[] = "how a spec is read";

static bool is_guessed_default(const Property *property)
{
    return property->flags & PROPERTY_ASSUMED && strncmp(props[property->id].authority, plain_reading, strlen(plain_reading)) != 0;
}

/* What is marked so is listed among the assumptions. */
static void note_trust(const Book *book, const Entity *entity, const Property *property)
{
    if (is_guessed_default(property)) {
        book_assume(book, (PropId)property->id, entity->name);
    }
}

/* How far a value can be trusted: a default, a guess. */
static void write_trust(Buf *to, const Property *property)
{
    if (property->flags & PROPERTY_ASSUMED) {
        buf_text(to, is_guessed_default(property) ? " (assumed)" : "");
    } else if (property->known == KNOWN_ESTIMATED) {
        buf_text(to, " (estimated)");
    } else if (property->known == KNOWN_GUESSED) {
        buf_text(to, " (guessed)");
    }
}

/* A whole statement */

static bool has_value(const Property *property, unsigned slot)
{
    ValueKind kind = (ValueKind)property_value(property, slot)->kind;
    return kind != VALUE_NONE && kind != VALUE_BLOCK;
}

static bool option_is_there(const Shape *shape, const Property *property, uint8_t begin)
{
    for (uint8_t i = (uint8_t)(begin + 1); i < shape->items[begin].end; i++) {
        if (shape->items[i].kind == ITEM_ATOM && has_value(property, shape->items[i].slot)) {
            return true;
        }
    }
    return false;
}

static void write_word(Buf *to, Str word)
{
    buf_text(to, to->length > 0 ? " " : "");
    buf_add(to, word);
}

static void write_by_shape(Buf *to, const Model *model, const Shape *shape, const Property *property)
{
    for (uint8_t i = 0; i < shape->item_count; i++) {
        const ShapeItem *item = &shape->items[i];
        if (item->kind == ITEM_OPTION && !option_is_there(shape, property, i)) {
            i = item->end;
        } else if (item->kind == ITEM_CONNECTING) {
            write_word(to, item->word);
        } else if (item->kind == ITEM_ATOM && has_value(property, item->slot)) {
            bool place = property->id == PROP_COMMON_AT && to->length > 0;
            buf_text(to, place ? ", " : to->length > 0 ? " " : "");
            write_value(to, model, (PropId)property->id, item->slot, property_value(property, item->slot));
        }
    }
}

static void write_list(Buf *to, const Model *model, const Shape *shape, const Property *property)
{
    unsigned group = shape->slots > 0 ? shape->slots : 1;
    for (unsigned i = 0; i < property->count; i++) {
        buf_text(to, i == 0 ? "" : i % group == 0 ? ", " : " ");
        write_value(to, model, (PropId)property->id, i, &property->values[i]);
    }
}

Str book_statement(const Book *book, const Model *model, const Property *property)
{
    Buf text;
    buf_init(&text, book->arena);
    if (property->flags & PROPERTY_BROKEN) {
        return STR("a mistake stands here");
    }
    const Shape *shape = shapes_get(model->shapes, (PropId)property->id);
    if (shape->list) {
        write_list(&text, model, shape, property);
    } else {
        write_by_shape(&text, model, shape, property);
    }
    write_trust(&text, property);
    return buf_str(&text);
}

/* Over all cases */

static Str text_of_property(const Book *book, const Case *in, const Entity *entity, unsigned id,
                            unsigned slot)
{
    (void)slot;
    const Property *property = model_property(in->model, entity, (PropId)id);
    if (property == NULL) {
        return book_nothing;
    }
    Buf text;
    buf_init(&text, book->arena);
    bool stated = entity_property(entity, (PropId)id) == property;
    for (; property != NULL; property = stated ? block_next(&entity->block, property) : NULL) {
        buf_text(&text, text.length > 0 ? "; " : "");
        buf_add(&text, book_statement(book, in->model, property));
        note_trust(book, entity, property);
    }
    return buf_str(&text);
}

static Str text_of_slot(const Book *book, const Case *in, const Entity *entity, unsigned id, unsigned slot)
{
    Interval laid_out;
    Str told = entity->kind == KIND_SPACE    ? book_space_by_engine(book, in, entity, (PropId)id)
               : id == PROP_COMMON_SPARE ? book_spares_to_come(book, entity)
                                         : STR("");
    if (told.length > 0) {
        return told;
    }
    if (id == PROP_COMMON_COUNT && !entity_states(entity, PROP_COMMON_COUNT) &&
        layout_count(entity, &laid_out)) {
        Value count = {.kind = VALUE_QUANTITY, .u.quantity = {laid_out.low, laid_out.high}};
        return book_value_text(book, in->model, &count);
    }
    if (shapes_get(in->model->shapes, (PropId)id)->list) {
        return text_of_property(book, in, entity, id, slot); /* no part of a list stands for all of it */
    }
    const Property *property = model_property(in->model, entity, (PropId)id);
    if (property == NULL || property_value(property, slot)->kind == VALUE_NONE) {
        return property != NULL && property->flags & PROPERTY_BROKEN ? STR("a mistake stands here")
                                                                     : book_nothing;
    }
    Buf text;
    buf_init(&text, book->arena);
    write_value(&text, in->model, (PropId)id, slot, property_value(property, slot));
    write_trust(&text, property);
    note_trust(book, entity, property);
    return buf_str(&text);
}

static Str text_of_title(const Book *book, const Case *in, const Entity *entity, unsigned id, unsigned slot)
{
    (void)book, (void)in, (void)id, (void)slot;
    return entity->title.length > 0 ? entity->title : str_from(kinds[entity->kind].word);
}

const Entity *book_same_thing(const Case *in, const Entity *entity)
{
    return entity->name < in->model->symbol_count ? in->model->by_symbol[entity->name] : NULL;
}

/* Whether the texts (empty: not in that case) follow from which option of this choice is taken. */
static bool follows_from(const Outcome *outcome, uint32_t choice, const Str texts[])
{
    for (uint32_t a = 0; a < outcome->case_count; a++) {
        for (uint32_t b = 0; b < a; b++) {
            bool same = outcome->cases[a].model->choices[choice].chosen ==
                        outcome->cases[b].model->choices[choice].chosen;
            if (same && !str_equal(texts[a], texts[b])) {
                return false;
            }
        }
    }
    return true;
}

/* "lean", "lean or stout": the options of a choice that give this text. */
static void write_options(Buf *to, const Outcome *outcome, uint32_t choice, const Str texts[], Str text)
{
    const Choice *row = &outcome->spec->choices[choice];
    bool any = false;
    for (uint32_t o = 0; o < row->option_count; o++) {
        for (uint32_t c = 0; c < outcome->case_count; c++) {
            if (outcome->cases[c].model->choices[choice].chosen == (int32_t)o && str_equal(texts[c], text)) {
                buf_text(to, any ? " or " : "");
                buf_add(to, symbols_text(outcome->spec->symbols, row->options[o].name));
                any = true;
                break;
            }
        }
    }
}

/* The cases that give this text. */
static CaseSet cases_with_text(const Outcome *outcome, const Str texts[], Str text)
{
    CaseSet cases = 0;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        cases |= str_equal(texts[c], text) ? (CaseSet)1 << c : 0;
    }
    return cases;
}

/* "28 kW with lean, 40 kW with stout"; where several choices decide "28 kW with motor=lean and heat=stove, 40 kW with ...". */
static Str join_texts(const Book *book, const Str texts[])
{
    const Outcome *outcome = book->outcome;
    uint32_t decides = 0;
    while (decides < outcome->spec->choice_count &&
           !(choice_is_open(&outcome->spec->choices[decides]) && follows_from(outcome, decides, texts))) {
        decides++;
    }
    Buf text;
    buf_init(&text, book->arena);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        bool again = texts[c].length == 0;
        for (uint32_t b = 0; b < c && !again; b++) {
            again = str_equal(texts[b], texts[c]);
        }
        if (again) {
            continue;
        }
        bool one = decides < outcome->spec->choice_count;
        const char *words = one ? NULL : options_words(outcome->options, NULL, cases_with_text(outcome, texts, texts[c]));
        buf_text(&text, text.length == 0 ? "" : one || words != NULL ? ", " : " or ");
        buf_add(&text, texts[c]);
        buf_text(&text, words != NULL ? text_format(book->arena, " with %s", words) : "");
        if (one) {
            buf_text(&text, " with ");
            write_options(&text, outcome, decides, texts, texts[c]);
        }
    }
    return buf_str(&text);
}

static Str over_cases(const Book *book, CaseSet cases, const Entity *entity, BookCaseText *text_of, unsigned id, unsigned slot)
{
    const Outcome *outcome = book->outcome;
    Str *texts = ARENA_ARRAY(book->arena, Str, outcome->case_count);
    Str first = {"", 0};
    bool same = true;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Entity *here = cases >> c & 1 ? book_same_thing(&outcome->cases[c], entity) : NULL;
        texts[c] = here != NULL ? text_of(book, &outcome->cases[c], here, id, slot) : (Str){"", 0};
        if (here != NULL && first.length == 0) {
            first = texts[c];
        }
        same = same && (here == NULL || str_equal(texts[c], first));
    }
    return same ? first : join_texts(book, texts);
}

Str book_over_cases(const Book *book, const Entity *entity, BookCaseText *text_of)
{
    return over_cases(book, options_all_cases(book->outcome), entity, text_of, 0, 0);
}

Str book_value(const Book *book, const Entity *entity, PropId prop, unsigned slot)
{
    return over_cases(book, options_all_cases(book->outcome), entity, text_of_slot, prop, slot);
}

Str book_title_with(const Book *book, CaseSet cases, const Entity *entity)
{
    return over_cases(book, cases, entity, text_of_title, 0, 0);
}

Str book_title(const Book *book, const Entity *entity)
{
    return book_title_with(book, options_all_cases(book->outcome), entity);
}

static Str text_of_status(const Book *book, const Case *in, const Entity *entity, unsigned id, unsigned slot)
{
    (void)book, (void)in, (void)id, (void)slot;
    return str_from(status_word(thing_status(entity)));
}

Str book_status(const Book *book, const Entity *entity)
{
    return over_cases(book, options_all_cases(book->outcome), entity, text_of_status, 0, 0);
}

Str book_property(const Book *book, const Entity *entity, PropId prop)
{
    return over_cases(book, options_all_cases(book->outcome), entity, text_of_property, prop, 0);
}

/* As the help of `engine-space` says. */
static const BookAssumption engine_heat = {"space.temperature", "50 C", "the hottest that the air of an engine space gets",
                                           "that of the basis, for cables in an engine space: 33 CFR 183.425; ISO 13297, from memory"};

Str book_space_by_engine(const Book *book, const Case *in, const Entity *space, PropId id)
{
    bool says = entity_yes(space, PROP_SPACE_ENGINE_SPACE) == 1;
    if (id == PROP_SPACE_ENGINE_SPACE && !says && is_engine_space(in->model, space)) {
        return STR("yes (an engine stands in it)");
    }
    if (id == PROP_SPACE_TEMPERATURE && !entity_states(space, PROP_SPACE_TEMPERATURE) && is_engine_space(in->model, space)) {
        book_assume_other(book, &engine_heat, space->name);
        return STR("50 C (assumed)");
    }
    return STR("");
}

Str book_spares_to_come(const Book *book, const Entity *entity)
{
    Interval aboard = spares_aboard(entity), spare;
    Buf text;
    buf_init(&text, book->arena);
    if (entity_quantity(entity, PROP_COMMON_SPARE, 0, &spare) && (aboard.low < spare.low || aboard.high < spare.high)) {
        unit_print(&text, UNIT_ALONE(UNIT_NONE), aboard.low, aboard.high);
        buf_text(&text, " of ");
        unit_print(&text, UNIT_ALONE(UNIT_NONE), spare.low, spare.high);
    }
    return buf_str(&text);
}
