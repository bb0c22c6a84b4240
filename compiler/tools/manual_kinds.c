/*
 * The language on a terminal: `garboard kinds`. See manual.h.
 *
 * Knows the schema, the units, the forms of statements and the names of figures; lays them out with page.h.
 */
#include "figures/figure.h"
#include "model/meant.h"
#include "output/book_kind.h"
#include "tools/manual.h"
#include "tools/manual_words.h"
#include "tools/page.h"

#include <string.h>

/* What a page of the language is made with. */
typedef struct Book {
    Page page;
    Arena *arena;
    Shapes *shapes;
} Book;

enum { INDENT = 2, COLUMN = 19, GROUP_COLUMN = 14, UNIT_COLUMN = 10, DEEP = 6 };

/* ---- The list ---- */

static void list_kind(Book *book, KindId kind)
{
    page_entry(&book->page, INDENT, COLUMN, str_from(kinds[kind].word), str_from(kinds[kind].help));
}

static void list_all(Book *book)
{
    for (int s = 0; s < kind_section_count; s++) {
        page_heading(&book->page, str_from(kind_sections[s].title));
        for (KindId kind = section_next(s, KIND_NONE); kind != KIND_NONE; kind = section_next(s, kind)) {
            list_kind(book, kind);
        }
        page_blank(&book->page);
    }
    page_heading(&book->page, STR("Properties that several kinds share, and the insides of blocks"));
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (kinds[kind].group) {
            list_kind(book, kind);
        }
    }
    page_blank(&book->page);
    page_paragraph(
        &book->page, 0,
        STR("`garboard kinds KIND` lists the properties of one of these, `garboard kinds KIND.PROPERTY` "
            "one property, `garboard kinds statements` the statements of the language and its forms of "
            "value, `garboard kinds units` the units, `garboard kinds figures` what is computed."));
}

/* ---- One property ---- */

/* A line of its own for what a property has: "assumed 50 % (common practice, no source)". */
static void detail(Book *book, const char *label, const char *text)
{
    page_paragraph(&book->page, DEEP, str_from(text_format(book->arena, "%s%s", label, text)));
}

static void print_prop(Book *book, PropId prop, const char *name)
{
    const PropRow *row = &props[prop];
    Buf value;
    buf_init(&value, book->arena);
    prop_describe(&value, book->shapes, prop);
    page_entry(&book->page, INDENT, DEEP, str_from(name), STR(""));
    page_paragraph(&book->page, DEEP, str_from(row->help));
    detail(book, row->required ? "required: " : "value: ", value.text);
    if (row->spared_by != PROP_NONE) {
        detail(book, "needless with: ",
               text_format(book->arena, "%s%s%s", props[row->spared_by].word, row->spared_word != NULL ? " " : "",
                           row->spared_word != NULL ? row->spared_word : ""));
    }
    if (row->assumed != NULL) {
        detail(book,
               "left out: ", text_format(book->arena, "%s is assumed (%s)", schema_assumed_text(book->arena, prop), row->authority));
    }
    page_code(&book->page, DEEP, str_from(text_format(book->arena, "example: %s", row->example)));
}

/* ---- One kind ---- */

static void print_own_props(Book *book, KindId kind)
{
    PropId prop = kind_next_own(kind, PROP_NONE);
    if (prop == PROP_NONE) {
        return;
    }
    page_blank(&book->page);
    page_heading(&book->page, STR("Properties"));
    for (; prop != PROP_NONE; prop = kind_next_own(kind, prop)) {
        print_prop(book, prop, props[prop].word);
    }
}

/* The groups that it also takes, each with the words of its properties. */
static void print_groups(Book *book, KindId kind)
{
    KindId group = kind_next_group(kind, KIND_NONE);
    if (group == KIND_NONE) {
        return;
    }
    page_blank(&book->page);
    page_heading(&book->page, STR("Also takes"));
    for (; group != KIND_NONE; group = kind_next_group(kind, group)) {
        Buf words;
        buf_init(&words, book->arena);
        for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
            if (props[p].owner == group) {
                buf_format(&words, "%s%s", words.length > 0 ? " " : "", props[p].word);
            }
        }
        page_entry(&book->page, INDENT, GROUP_COLUMN, str_from(kinds[group].word), buf_str(&words));
    }
    page_paragraph(&book->page, INDENT, STR("`garboard kinds common` and so on explain them."));
}

/* Who takes a group, or in which property's block it stands. */
static void print_takers(Book *book, KindId group)
{
    Buf takers;
    buf_init(&takers, book->arena);
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        KindId taken = kind_next_group(kind, KIND_NONE);
        while (taken != KIND_NONE && taken != group) {
            taken = kind_next_group(kind, taken);
        }
        if (taken == group) {
            buf_format(&takers, "%s%s", takers.length > 0 ? ", " : "", kinds[kind].word);
        }
    }
    if (takers.length > 0) {
        page_paragraph(&book->page, 0, str_from(text_format(book->arena, "Taken by %s.", takers.text)));
    }
    for (PropId p = PROP_NONE + 1; p < PROP_COUNT; p++) {
        if (props[p].block == group) {
            page_paragraph(
                &book->page, 0,
                str_from(text_format(book->arena, "Stands in the block of the property `%s` (of `%s`).",
                                     props[p].word, kinds[props[p].owner].word)));
        }
    }
}

static void print_kind(Book *book, KindId kind)
{
    const KindRow *row = &kinds[kind];
    page_title(&book->page, row->word, str_from(row->help));
    if (row->system != SYSTEM_NONE) {
        page_paragraph(&book->page, 0,
                       str_from(text_format(book->arena, "Stands in the book's chapter `%s`.%s",
                                            system_word(book_system_of_kind(kind)),
                                            row->single ? " A spec has exactly one." : "")));
    }
    print_takers(book, kind);
    print_own_props(book, kind);
    print_groups(book, kind);
    if (row->example != NULL) {
        page_blank(&book->page);
        page_heading(&book->page, STR("Example"));
        page_code(&book->page, INDENT, str_from(row->example));
    }
}

/* ---- Units, statements ---- */

static void print_unit(Book *book, UnitId unit)
{
    Buf text;
    buf_init(&text, book->arena);
    buf_text(&text, units[unit].meaning);
    size_t before = text.length;
    buf_text(&text, ": ");
    size_t start = text.length;
    unit_describe_factor(&text, unit);
    if (text.length == start) {
        text.length = before;
    }
    page_entry(&book->page, INDENT, UNIT_COLUMN, str_from(units[unit].word), buf_str(&text));
}

static void print_units(Book *book)
{
    for (UnitId first = UNIT_NONE + 1; first < UNIT_COUNT; first++) {
        if (!unit_is_first(first)) {
            continue;
        }
        page_heading(&book->page, str_from(dimension_name(units[first].dimension)));
        for (UnitId unit = first; unit != UNIT_NONE; unit = unit_next_alike(unit)) {
            print_unit(book, unit);
        }
    }
    page_blank(&book->page);
    page_paragraph(
        &book->page, 0,
        STR("Spelling counts: `mA` is not `MA`. A unit by another is written with a slash where a property "
            "asks for it: `l/min`, `g/kWh`, `m3/h`, `dB/m`, `%/degC`. Money is an ISO 4217 code: `12.00 "
            "EUR`."));
}

static void print_forms(Book *book, const char *title, const Form *forms, int count)
{
    page_heading(&book->page, str_from(title));
    for (int i = 0; i < count; i++) {
        page_entry(&book->page, INDENT, DEEP, str_from(form_written(&forms[i])), STR(""));
        page_paragraph(&book->page, DEEP, str_from(forms[i].meaning));
    }
}

static void print_statements(Book *book)
{
    print_forms(book, "Statements", statement_forms, statement_form_count);
    page_blank(&book->page);
    print_forms(book, "Values", value_forms, value_form_count);
    page_blank(&book->page);
    page_paragraph(
        &book->page, 0,
        STR("A statement ends with its line; one that ends in a comma goes on in the next. `{` stands at the "
            "end "
            "of a line and `}` alone, or a short block stands on one line with `;` between its statements. "
            "`#` begins a comment."));
}

/* ---- Finding what was asked for ---- */

/* `choice`, `set`: a statement of the language that begins with that word; false if none does. */
static bool print_statement(Book *book, Str word)
{
    for (int i = 0; i < statement_form_count; i++) {
        const char *written = form_written(&statement_forms[i]);
        if (strncmp(written, word.text, word.length) == 0 && written[word.length] == ' ') {
            print_forms(book, "A statement", &statement_forms[i], 1);
            page_blank(&book->page);
            page_paragraph(&book->page, 0, STR("`garboard kinds statements` lists them all, and how values are written."));
            return true;
        }
    }
    return false;
}

/* Prints each property of that word, whoever has it; false if nobody does. */
static bool print_everywhere(Book *book, Str word)
{
    bool found = false;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        if (str_is(word, props[prop].word)) {
            print_prop(book, prop,
                       text_format(book->arena, "%s.%s", kinds[props[prop].owner].word, props[prop].word));
            found = true;
        }
    }
    return found;
}

static void tell_no_kind(Arena *arena, Str argument, const char **error)
{
    const char *what = text_format(arena, "there is no kind, property or figure called `%.*s`", STR_ARG(argument));
    KindId meant = kind_meant(argument);
    if (meant != KIND_NONE) {
        *error = text_format(arena, "%s; did you mean `%s`?", what, kinds[meant].word);
        return;
    }
    Suggestions near = suggest_begin(argument);
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        suggest_offer(&near, str_from(kinds[kind].word));
    }
    suggest_offer(&near, STR("units"));
    suggest_offer(&near, STR("statements"));
    suggest_offer(&near, STR("figures"));
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        suggest_offer(&near, str_from(props[prop].word));
    }
    for (int figure = FIGURE_NONE + 1; figure < FIGURE_COUNT; figure++) {
        suggest_offer(&near, str_from(figure_rows[figure].name));
    }
    *error = manual_nothing(arena, what, &near, "`garboard kinds` lists what there is");
}

static void tell_no_prop(Arena *arena, KindId kind, Str word, const char **error)
{
    Suggestions near = suggest_begin(word);
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
        suggest_offer(&near, str_from(props[p].word));
    }
    *error = manual_nothing(
        arena, text_format(arena, "`%s` has no property called `%.*s`", kinds[kind].word, STR_ARG(word)),
        &near, text_format(arena, "`garboard kinds %s` lists what it has", kinds[kind].word));
}

/* `bank.capacity`: a property of one kind. */
static bool print_one_prop(Book *book, Str argument, size_t dot, const char **error)
{
    KindId kind = kind_or_group((Str){argument.text, dot});
    Str word = {argument.text + dot + 1, argument.length - dot - 1};
    if (kind == KIND_NONE) {
        tell_no_kind(book->arena, (Str){argument.text, dot}, error);
        return false;
    }
    PropId prop = schema_find_prop(kind, word);
    if (prop == PROP_NONE) {
        tell_no_prop(book->arena, kind, word, error);
        return false;
    }
    print_prop(book, prop, text_format(book->arena, "%s.%s", kinds[kind].word, props[prop].word));
    return true;
}

/* One of the pages that have a name of their own; false if it is none of them. */
static bool print_named(Book *book, Str argument)
{
    if (argument.length == 0) {
        list_all(book);
    } else if (str_is(argument, "units")) {
        print_units(book);
    } else if (str_is(argument, "statements")) {
        print_statements(book);
    } else {
        return false;
    }
    return true;
}

static bool is_about_figures(Str argument)
{
    return str_is(argument, "figures") || figure_id(argument) != FIGURE_NONE;
}

bool manual_kinds(Buf *to, Arena *arena, Str argument, bool color, const char **error)
{
    Book book = {.page = {to, color}, .arena = arena, .shapes = shapes_new(arena)};
    const char *dot = argument.length > 0 ? memchr(argument.text, '.', argument.length) : NULL;
    KindId kind = kind_or_group(argument);
    if (print_named(&book, argument)) {
        return true;
    }
    if (kind != KIND_NONE) {
        print_kind(&book, kind);
        return true;
    }
    if (dot != NULL) {
        return print_one_prop(&book, argument, (size_t)(dot - argument.text), error);
    }
    if (print_everywhere(&book, argument)) {
        return true;
    }
    if (print_statement(&book, argument)) {
        return true;
    }
    if (is_about_figures(argument)) {
        return manual_figures(to, arena, str_is(argument, "figures") ? STR("") : argument, color, error);
    }
    tell_no_kind(arena, argument, error);
    return false;
}
