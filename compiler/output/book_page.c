/* See book_page.h: the list of things, paragraphs, and tables described by their columns. */
#include "output/book_page.h"
#include "output/book_kind.h"

#include "figures/drive.h"
#include "model/status.h"
#include "output/only_with.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Things of all cases */

static BookThing *new_thing(const Book *book, const Case *in, const Entity *entity)
{
    BookThing *thing = ARENA_NEW(book->arena, BookThing);
    *thing = (BookThing){.entity = entity, .in = in};
    thing->only_with = only_with(book->arena, book->outcome, in->model, entity);
    return thing;
}

/* Adds what an earlier case did not have, behind the thing that it follows in its own. */
static void gather_case(Book *book, const Case *in)
{
    BookThing **known = book->by_name;
    BookThing *before = NULL;
    for (uint32_t i = 0; i < in->model->entity_count; i++) {
        const Entity *entity = in->model->entities[i];
        if (known[entity->name] == NULL) {
            BookThing *thing = new_thing(book, in, entity);
            BookThing **link = before != NULL ? &before->next : &book->things;
            thing->next = *link;
            *link = thing;
            known[entity->name] = thing;
        }
        before = known[entity->name];
    }
}

static void note_need(Book *book, const BookThing *job, const Entity *thing)
{
    BookNeed **end = &book->needed_by[thing->name];
    while (*end != NULL && (*end)->job != job) {
        end = &(*end)->next;
    }
    if (*end == NULL) {
        *end = ARENA_NEW(book->arena, BookNeed);
        (*end)->job = job;
    }
}

/* With any of the options: one may fit another thing by the same job. */
static void gather_needs(Book *book)
{
    book->needed_by = ARENA_ARRAY(book->arena, BookNeed *, symbols_end(book->outcome->spec->symbols));
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *job = book->outcome->cases[c].model->first_of_kind[KIND_JOB];
        for (; job != NULL; job = job->next_of_kind) {
            const Property *needs = entity_states(job, PROP_JOB_DONE) ? NULL : entity_property(job, PROP_JOB_NEEDS);
            for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
                const Value *value = &needs->values[i];
                if (value_entity(value) != NULL) {
                    note_need(book, book->by_name[job->name], value_entity(value));
                }
            }
        }
    }
}

void book_begin(Book *book, Arena *arena, const Outcome *outcome, Buf *to)
{
    const Case *first = outcome_first(outcome);
    *book = (Book){.arena = arena,
                   .outcome = outcome,
                   .model = first->model,
                   .figures = first->figures,
                   .boat = first->model->boat};
    markdown_init(&book->md, to);
    book->by_name = ARENA_ARRAY(arena, BookThing *, symbols_end(outcome->spec->symbols));
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        gather_case(book, &outcome->cases[i]);
    }
    gather_needs(book);
    book->assumed = ARENA_NEW(arena, struct BookAssumed *);
    book->wires = wire_rows(arena, outcome);
}

const char *book_with(const Book *book, CaseSet cases)
{
    if (cases == options_all_cases(book->outcome)) {
        return "";
    }
    const char *words = options_words(book->outcome->options, NULL, cases);
    return text_format(book->arena, " (with %s)", words != NULL ? words : "some options");
}

const BookThing *book_thing(const Book *book, const Entity *entity)
{
    return book->by_name[entity->name];
}

bool book_is_physical(const Entity *entity)
{
    return kinds[entity->kind].groups & GROUPS_COMMON && !(entity->flags & ENTITY_DROPPED) && !is_built_in(entity);
}

Str book_pieces(const Book *book, const Entity *entity)
{
    Purchase purchase = purchase_of(entity);
    Interval pieces = interval_add(purchase.count, purchase.spare);
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *here = book_same_thing(&book->outcome->cases[c], entity);
        Purchase in_case = here != NULL ? purchase_of(here) : purchase;
        pieces = interval_hull(pieces, interval_add(in_case.count, in_case.spare));
    }
    Buf text;
    buf_init(&text, book->arena);
    unit_print(&text, UNIT_ALONE(UNIT_NONE), pieces.low, pieces.high);
    return isfinite(pieces.high) ? buf_str(&text) : book_nothing;
}

/* Pumps of the bilge and fittings of the hull belong to the water that they move. */
System book_system_of_kind(KindId kind)
{
    return kind == KIND_BILGE_PUMP || kind == KIND_THROUGH_HULL ? SYSTEM_WATER : (System)kinds[kind].system;
}

System book_system(const Entity *entity)
{
    if (entity_states(entity, PROP_COMMON_SYSTEM)) {
        return (System)entity->system;
    }
    System of_kind = book_system_of_kind((KindId)entity->kind);
    return of_kind != (System)kinds[entity->kind].system ? of_kind : (System)entity->system;
}

/* Blocks */

void book_say(Book *book, const char *format, ...)
{
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    size_t room = (size_t)(length > 0 ? length : 0) + 1;
    char *text = arena_alloc(book->arena, room);
    vsnprintf(text, room, format, again);
    va_end(again);
    markdown_paragraph(&book->md);
    markdown_text(&book->md, str_from(text));
}

void book_prose(Book *book, const char *text)
{
    const char *open = strchr(text, '`');
    const char *close = open != NULL ? strchr(open + 1, '`') : NULL;
    while (close != NULL) {
        markdown_text(&book->md, (Str){text, (size_t)(open - text)});
        markdown_code(&book->md, (Str){open + 1, (size_t)(close - open - 1)});
        text = close + 1;
        open = strchr(text, '`');
        close = open != NULL ? strchr(open + 1, '`') : NULL;
    }
    markdown_text(&book->md, str_from(text));
}

void book_caution(Book *book, const char *text)
{
    markdown_quote(&book->md);
    markdown_strong(&book->md, STR("Caution."));
    markdown_text(&book->md, STR(" "));
    markdown_text(&book->md, str_from(text));
}

static BookNamed *add_named(const Book *book, BookNamed **list, const Entity *thing)
{
    while (*list != NULL && (*list)->thing->name != thing->name) {
        list = &(*list)->next;
    }
    if (*list == NULL) {
        *list = ARENA_NEW(book->arena, BookNamed);
        (*list)->thing = thing;
    }
    return *list;
}

const BookNamed *book_named(const Book *book, const Entity *entity, PropId prop)
{
    BookNamed *first = NULL;
    CaseSet all = 0;
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Entity *here = book_same_thing(&book->outcome->cases[c], entity);
        const Property *references = here != NULL ? entity_property(here, prop) : NULL;
        all |= here != NULL ? (CaseSet)1 << c : 0;
        for (uint16_t i = 0; references != NULL && i < references->count; i++) {
            const Value *value = &references->values[i];
            if (value_entity(value) != NULL) {
                add_named(book, &first, value_entity(value))->cases |= (CaseSet)1 << c;
            }
        }
    }
    for (BookNamed *named = first; named != NULL; named = named->next) {
        named->only_with = named->cases != all ? options_words(book->outcome->options, NULL, named->cases) : NULL;
    }
    return first;
}

void book_names_cell(Book *book, const Entity *entity, PropId prop)
{
    const BookNamed *first = book_named(book, entity, prop);
    markdown_cell(&book->md);
    for (const BookNamed *named = first; named != NULL; named = named->next) {
        markdown_text(&book->md, named == first ? STR("") : STR(", "));
        markdown_code(&book->md, book_name(book, named->thing));
        if (named->only_with != NULL) {
            markdown_format(&book->md, " (with %s)", named->only_with);
        }
    }
    if (first == NULL) {
        markdown_text(&book->md, book_nothing);
    }
}

/* Tables */

void book_cell(Book *book, Str text)
{
    markdown_cell_text(&book->md, text.length > 0 ? text : book_nothing);
}

void book_prose_cell(Book *book, const char *text)
{
    if (text[0] == '\0') {
        book_cell(book, book_nothing);
        return;
    }
    markdown_cell(&book->md);
    book_prose(book, text);
}

void book_head(Book *book, const char *const titles[], size_t count)
{
    MarkdownColumn *columns = ARENA_ARRAY(book->arena, MarkdownColumn, count);
    for (size_t i = 0; i < count; i++) {
        bool number = titles[i][0] == '>';
        columns[i] = (MarkdownColumn){titles[i] + number, number ? MARKDOWN_RIGHT : MARKDOWN_LEFT};
    }
    markdown_table(&book->md, columns, count);
}

void book_name_cell(Book *book, const BookThing *thing)
{
    markdown_cell_code(&book->md, book_name(book, thing->entity));
    if (thing->only_with != NULL) {
        markdown_format(&book->md, " (with %s)", thing->only_with);
    }
}

static bool is_number(const BookColumn *column)
{
    if (column->kind == COLUMN_FIGURE) {
        return true;
    }
    return column->kind == COLUMN_VALUE && column->slot == 0 && props[column->id].shape[0] == 'Q';
}

static void begin_table(Book *book, const BookColumn columns[], size_t count)
{
    MarkdownColumn *heads = ARENA_ARRAY(book->arena, MarkdownColumn, count);
    for (size_t i = 0; i < count; i++) {
        heads[i] =
            (MarkdownColumn){columns[i].title, is_number(&columns[i]) ? MARKDOWN_RIGHT : MARKDOWN_LEFT};
    }
    markdown_table(&book->md, heads, count);
}

/* What is assumed of a flushed toilet, a converter or an alternator on a belt: a dry one, a relay, one of wind or one in its
 * engine has it not. */
static bool has_no_such(const Entity *entity, PropId prop)
{
    if (prop == PROP_TOILET_FLUSH && !entity_states(entity, prop)) {
        return str_is(entity_word(entity, PROP_TOILET_WORKED_BY), "composting");
    }
    if (prop == PROP_GEARBOX_EFFICIENCY && !entity_states(entity, prop)) { /* that of a leg is in the rated power already */
        const Entity *engine = entity_reference(entity, PROP_GEARBOX_ENGINE);
        return engine != NULL && is_rated_at_propeller(engine);
    }
    if (prop == PROP_CONVERTER_EFFICIENCY && !entity_states(entity, prop)) {
        return is_relay(entity);
    }
    if (is_engineless(entity) && prop == PROP_ALTERNATOR_HOT_OUTPUT) {
        return true;
    }
    return (is_built_in(entity) || is_engineless(entity)) && (prop == PROP_ALTERNATOR_PULLEY_RATIO || prop == PROP_ALTERNATOR_BELTS);
}

/* What a cell says; of columns that have text of their own alone. */
static Str cell_text(const Book *book, const BookThing *thing, const BookColumn *column, UnitPair *unit)
{
    switch ((BookColumnKind)column->kind) {
    case COLUMN_VALUE:
        return has_no_such(thing->entity, (PropId)column->id) ? book_nothing
                                                              : book_value(book, thing->entity, (PropId)column->id, column->slot);
    case COLUMN_PROPERTY: return book_property(book, thing->entity, (PropId)column->id);
    case COLUMN_STATUS: return book_status(book, thing->entity);
    case COLUMN_FIGURE: return book_figure_in_column(book, thing->entity, (FigureId)column->id, unit);
    case COLUMN_NAME:
    case COLUMN_TITLE: break;
    }
    return book_title(book, thing->entity);
}

static void write_cell(Book *book, const BookThing *thing, const BookColumn *column, UnitPair *unit)
{
    if (column->kind == COLUMN_NAME) {
        book_name_cell(book, thing);
    } else {
        book_cell(book, cell_text(book, thing, column, unit));
    }
}

/* The columns in which some row says something; the others are named behind the table in a line. */
static size_t choose_columns(const Book *book, const BookColumn columns[], size_t count, BookFilter *wanted, const void *what,
                             BookColumn chosen[])
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        bool said = columns[i].kind == COLUMN_NAME || columns[i].kind == COLUMN_TITLE;
        for (const BookThing *thing = book->things; thing != NULL && !said; thing = thing->next) {
            UnitPair unit = UNIT_ALONE(UNIT_NONE);
            said = wanted(book, thing, what) && !str_equal(cell_text(book, thing, &columns[i], &unit), book_nothing);
        }
        if (said) {
            chosen[kept++] = columns[i];
        }
    }
    return kept;
}

static void say_silent_columns(Book *book, const BookColumn columns[], size_t count, const BookColumn chosen[], size_t kept)
{
    bool any = false;
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        if (at < kept && strcmp(columns[i].title, chosen[at].title) == 0) {
            at++;
            continue;
        }
        if (columns[i].kind == COLUMN_FIGURE) {
            continue; /* nobody can state what is computed */
        }
        if (!any) {
            markdown_paragraph(&book->md);
        }
        markdown_text(&book->md, any ? STR("; ") : STR("Not stated of any: "));
        markdown_text(&book->md, str_from(columns[i].title));
        any = true;
    }
    markdown_text(&book->md, any ? STR(".") : STR(""));
}

bool book_table(Book *book, const char *heading, const BookColumn columns[], size_t count, BookFilter *wanted,
                const void *what)
{
    bool begun = false;
    BookColumn *chosen = ARENA_ARRAY(book->arena, BookColumn, count);
    size_t kept = choose_columns(book, columns, count, wanted, what, chosen);
    UnitPair *column_units = ARENA_ARRAY(book->arena, UnitPair, count);
    for (const BookThing *thing = book->things; thing != NULL; thing = thing->next) {
        if (!wanted(book, thing, what)) {
            continue;
        }
        if (!begun) {
            if (heading != NULL) {
                markdown_heading(&book->md, 3, str_from(heading), NULL);
            }
            begin_table(book, chosen, kept);
            begun = true;
        }
        markdown_row(&book->md);
        for (size_t i = 0; i < kept; i++) {
            write_cell(book, thing, &chosen[i], &column_units[i]);
        }
    }
    if (begun) {
        say_silent_columns(book, columns, count, chosen, kept);
    }
    return begun;
}
