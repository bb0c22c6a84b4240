/* Says a shape in words, for messages and the manual. */
#include "language/shape.h"

#include <string.h>

static bool is_same(KindSet a, KindSet b)
{
    return a.bits[0] == b.bits[0] && a.bits[1] == b.bits[1];
}

/* What stands between the members of an enumeration: "a, b or c". */
static const char *separator(int index, int count)
{
    if (index == 0) {
        return "";
    }
    return index == count - 1 ? " or " : ", ";
}

static bool starts_with_vowel(const char *word)
{
    return strchr("aeiou", word[0]) != NULL;
}

static void describe_things(Buf *buf, KindSet things)
{
    int count = 0;
    int index = 0;

    if (is_same(things, kind_set_every()) || is_same(things, kind_set_things())) {
        bool bought = is_same(things, kind_set_things());
        buf_text(buf, bought ? "the name of a thing that is bought" : "the name of a thing");
        return;
    }
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        count += kind_set_has(things, kind);
    }
    buf_text(buf, "the name of ");
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (kind_set_has(things, kind)) {
            const char *word = kinds[kind].word;

            buf_format(buf, "%s%s %s", separator(index, count), starts_with_vowel(word) ? "an" : "a", word);
            index++;
        }
    }
}

static void describe_words(Buf *buf, const Atom *atom)
{
    if (atom->word_count == 0) {
        buf_text(buf, "a word");
    } else if (atom->word_count > 2) {
        buf_text(buf, "one of ");
    }
    for (int i = 0; i < atom->word_count; i++) {
        buf_text(buf, separator(i, atom->word_count));
        buf_add(buf, atom->words[i]);
    }
}

static void describe_quantity(Buf *buf, const Atom *atom)
{
    if (atom->money) {
        buf_text(buf, "an amount of money");
    } else if (atom->size) {
        buf_text(buf, "a conductor size");
    }
    for (int i = 0; i < atom->unit_count && !atom->size; i++) {
        buf_text(buf, separator(i, atom->unit_count));
        buf_text(buf, dimension_name(unit_dimension(atom->units[i])));
    }
}

void atom_describe(Buf *buf, const Atom *atom)
{
    switch (atom->kind) {
    case ATOM_QUANTITY: describe_quantity(buf, atom); break;
    case ATOM_REFERENCE: describe_things(buf, atom->things); break;
    case ATOM_WORD: describe_words(buf, atom); break;
    case ATOM_TEXT: buf_text(buf, "a text in quotes"); break;
    case ATOM_DATE: buf_text(buf, "a date"); break;
    case ATOM_CLOCK: buf_text(buf, "times of day such as 18:00..23:00"); break;
    case ATOM_YES_NO: buf_text(buf, "yes or no"); break;
    case ATOM_MONTH: buf_text(buf, "the name of a month"); break;
    default: break;
    }
}

static void describe_item(Buf *buf, const ShapeItem *item)
{
    switch (item->kind) {
    case ITEM_ATOM:
        for (int i = 0; i < item->atom_count; i++) {
            buf_text(buf, i ? " or " : "");
            atom_describe(buf, &item->atoms[i]);
        }
        break;
    case ITEM_CONNECTING: buf_add(buf, item->word); break;
    case ITEM_OPTION: buf_char(buf, '['); break;
    case ITEM_OPTION_END: buf_char(buf, ']'); break;
    case ITEM_LIST_END: buf_text(buf, ", ..."); break;
    default: break;
    }
}

/* Whether a blank stands between an item and the one before it. */
static bool blank_before(const ShapeItem *items, int i)
{
    if (i == 0 || items[i].kind == ITEM_OPTION_END || items[i].kind == ITEM_LIST_END) {
        return false;
    }
    return items[i - 1].kind != ITEM_OPTION && items[i - 1].kind != ITEM_LIST;
}

void shape_describe(Buf *buf, const Shape *shape)
{
    for (int i = 0; i < shape->item_count; i++) {
        if (blank_before(shape->items, i)) {
            bool two_values = shape->items[i].kind == ITEM_ATOM && shape->items[i - 1].kind == ITEM_ATOM;

            buf_text(buf, two_values ? " then " : " ");
        }
        describe_item(buf, &shape->items[i]);
    }
}

/* ---- The form ------------------------------------------------------------------------------------------ */

enum { WORDS_TOLD = 6 }; /* of more, a sentence would be a table */

static void write_atom_form(Buf *buf, const Atom *atom, bool in_feet)
{
    switch (atom->kind) {
    case ATOM_QUANTITY:
        buf_text(buf, "...");
        if (!atom->money && atom->unit_count > 0 && atom->units[0].unit != UNIT_NONE) {
            buf_char(buf, ' ');
            bool of_feet = in_feet && atom->units[0].unit != UNIT_KW;
            unit_write(buf, of_feet ? unit_customary(atom->units[0]) : atom->units[0]);
        }
        break;
    case ATOM_WORD:
        for (int i = 0; i < atom->word_count && atom->word_count <= WORDS_TOLD; i++) {
            buf_text(buf, separator(i, atom->word_count));
            buf_add(buf, atom->words[i]);
        }
        buf_text(buf, atom->word_count == 0 || atom->word_count > WORDS_TOLD ? "..." : "");
        break;
    case ATOM_YES_NO: buf_text(buf, "yes or no"); break;
    case ATOM_TEXT: buf_text(buf, "\"...\""); break;
    case ATOM_DATE: buf_text(buf, "YYYY-MM-DD"); break;
    default: buf_text(buf, "..."); break;
    }
}

void shape_form(Buf *buf, PropId prop, const Shape *shape, bool in_feet)
{
    buf_text(buf, props[prop].word);
    for (int i = 0; i < shape->item_count; i++) {
        const ShapeItem *item = &shape->items[i];
        if (item->kind == ITEM_OPTION) {
            i = item->end; /* what may be left out */
        } else if (item->kind == ITEM_ATOM) {
            buf_char(buf, ' ');
            write_atom_form(buf, &item->atoms[0], in_feet);
        } else if (item->kind == ITEM_CONNECTING) {
            buf_char(buf, ' ');
            buf_add(buf, item->word);
        }
    }
}
