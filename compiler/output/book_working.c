/*
 * The last chapters: the working of every figure in a line each, the assumptions, the sources.
 */
#include "output/book_chapters.h"

#include "figures/working.h"
#include "output/book_assumed.h"
#include "output/figures_out.h"

#include <string.h>

/* The working */

static void write_input_value(Buf *to, const Case *in, const Input *input)
{
    switch ((InputKind)input->kind) {
    case INPUT_FIGURE: figure_write(to, in->figures, input->u.figure); break;
    case INPUT_VALUE: quantity_write(to, in->model, property_value(input->u.property, input->slot)); break;
    case INPUT_FACT: figures_fact(to, in->model, input->u.fact); break;
    case INPUT_MISTAKE: buf_text(to, "a mistake"); break;
    case INPUT_MISSING: buf_text(to, figures_lacking(in->model, input)); break;
    }
}

/* `4.5 A (fridge.draw)`: what was put in, and where it came from. */
static void write_input(Buf *to, const Case *in, const Input *input)
{
    write_input_value(to, in, input);
    buf_text(to, " (");
    figures_input_name(to, in->figures, input);
    if (input->kind == INPUT_VALUE && input->u.property->flags & PROPERTY_ASSUMED) {
        buf_text(to, ", assumed");
    }
    buf_char(to, ')');
}

/* The formula with each input in its place. */
static void write_formula(Buf *to, const Case *in, const Figure *figure, const Working *working)
{
    const char *at = figure->formula != NULL ? figure->formula : "";
    Str before;
    Str label;
    while (working_next_label(&at, &before, &label)) {
        const Input *input = working_input(working, label);
        buf_add(to, before);
        if (input != NULL) {
            write_input(to, in, input);
        } else {
            buf_add(to, label);
        }
    }
    buf_text(to, at);
}

static Str tell_working(const Book *book, const Case *in, const Figure *figure)
{
    Buf text;
    buf_init(&text, book->arena);
    Working working = working_of(book->arena, figure);
    write_formula(&text, in, figure, &working);
    for (uint16_t i = working.label_count; i < working.input_count; i++) {
        buf_text(&text, i > working.label_count ? ", " : text.length > 0 ? "; with " : "");
        write_input(&text, in, working.inputs[i]);
    }
    if (figure->remark != NULL) {
        buf_format(&text, "%s%s", text.length > 0 ? "; " : "", figure->remark);
    }
    return buf_str(&text);
}

static void figure_row(Book *book, const BookThing *thing, const Figure *figure)
{
    Buf name, value;
    buf_init(&name, book->arena);
    buf_init(&value, book->arena);
    figure_write_name(&name, thing->in->figures, figure);
    figure_write(&value, thing->in->figures, figure);
    buf_text(&value, figure->chosen ? " (sized)" : "");
    markdown_row(&book->md);
    markdown_cell_code(&book->md, buf_str(&name));
    book_cell(book, buf_str(&value));
    book_prose_cell(book, tell_working(book, thing->in, figure).text);
}

/* "with engine-size=lean": what the first case takes of the open choices. */
static void write_first_case(Book *book)
{
    const Spec *spec = book->outcome->spec;
    bool any = false;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        const Choice *choice = &spec->choices[i];
        int32_t chosen = book->model->choices[i].chosen;
        if (choice->picked >= 0 || choice->option_count < 2 || chosen < 0) {
            continue;
        }
        if (!any) {
            markdown_paragraph(&book->md);
            markdown_text(&book->md, STR("Choices are open. The working below is that with "));
        }
        markdown_text(&book->md, any ? STR(", ") : STR(""));
        markdown_code(
            &book->md,
            str_from(text_format(book->arena, "%.*s=%.*s", STR_ARG(symbols_text(spec->symbols, choice->name)),
                                 STR_ARG(symbols_text(spec->symbols, choice->options[chosen].name)))));
        any = true;
    }
    if (any) {
        markdown_text(&book->md, STR("; the tables of the other chapters cover all options."));
    }
}

void book_working(Book *book)
{
    bool begun = false;
    write_first_case(book);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        for (const Figure *f = t->in->figures->lists[t->entity->index].first; f != NULL; f = f->next) {
            if (!begun) {
                book_head(book, (const char *const[]){"Figure", ">Value", "Working"}, 3);
                begun = true;
            }
            figure_row(book, t, f);
        }
    }
    if (!begun) {
        book_say(book, "No figure was computed.");
    }
}

/* Assumptions */

typedef bool Visit(Book *book, const Case *in, const Figure *figure, const Input *input, const void *what);

/* Calls for every input of every figure of every case until one says true. */
static bool any_input(Book *book, Visit *visit, const void *what)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Case *in = &book->outcome->cases[c];
        for (uint32_t e = 0; e < in->model->entity_count; e++) {
            for (const Figure *f = in->figures->lists[e].first; f != NULL; f = f->next) {
                for (uint16_t i = 0; i < f->input_count; i++) {
                    if (visit(book, in, f, &f->inputs[i], what)) {
                        return true;
                    }
                }
            }
        }
    }
    return false;
}

static bool note_default(Book *book, const Case *in, const Figure *figure, const Input *input,
                         const void *what)
{
    (void)figure, (void)what;
    if (input->kind == INPUT_VALUE && input->u.property->flags & PROPERTY_ASSUMED) {
        book_assume(book, (PropId)input->prop, in->model->entities[input->entity]->name);
    }
    return false;
}

/* What no figure uses and a finding goes by: the water that metal lies in. */
static void note_findings(Book *book)
{
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        for (const Depend *d = f->assumed; d != NULL; d = d->next) {
            if (d->fact == NULL && d->slot == 0 && d->prop != PROP_NONE && props[d->prop].assumed != NULL &&
                !entity_states(d->entity, d->prop)) {
                book_assume(book, d->prop, d->entity->name);
            }
        }
    }
}

/* What figures and findings go by, and what the chapters before this one have shown. */
static void write_defaults(Book *book)
{
    any_input(book, note_default, NULL);
    note_findings(book);
    if (!book_assumed_table(book)) {
        book_say(book, "Neither a figure nor a finding rests on a default.");
    }
}

/* Values that the owner calls guessed or estimated */

static void guess_row(Book *book, const BookThing *thing, const Property *property, bool *begun)
{
    if (property->known != KNOWN_GUESSED && property->known != KNOWN_ESTIMATED) {
        return;
    }
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("What the owner guessed or estimated"), NULL);
        book_head(book, (const char *const[]){"Value", "What", ">Stands as"}, 3);
        *begun = true;
    }
    markdown_row(&book->md);
    markdown_cell_code(&book->md,
                       str_from(text_format(book->arena, "%.*s.%s", STR_ARG(book_name(book, thing->entity)),
                                            props[property->id].word)));
    book_cell(book, book_title(book, thing->entity));
    book_cell(book, book_statement(book, thing->in->model, property));
}

static void write_guesses(Book *book)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        for (uint32_t i = 0; i < t->entity->block.count; i++) {
            guess_row(book, t, &t->entity->block.properties[i], &begun);
        }
    }
}

/*
 * Facts: numbers of tables and of this program, and what was worked out on the way to a figure. What is the same number
 * of many things, the current that a table gives each cable, is one row.
 */

enum { FACT_NAMES = 4, FACT_VALUES = 4 };

typedef struct FactRow {
    const Fact *first;
    Interval values[FACT_VALUES]; /* the first of them that differ ... */
    uint32_t value_count;
    Interval all;             /* ... and what covers all */
    Symbol names[FACT_NAMES]; /* the first things whose figures use it */
    uint32_t name_count;
    bool more; /* there are others */
} FactRow;

typedef struct FactSet {
    FactRow *rows;
    uint32_t count, capacity;
} FactSet;

static FactRow *row_of_fact(Book *book, FactSet *set, const Fact *fact)
{
    for (uint32_t i = 0; i < set->count; i++) {
        const Fact *first = set->rows[i].first;
        if (strcmp(first->what, fact->what) == 0 && strcmp(first->source, fact->source) == 0) {
            return &set->rows[i];
        }
    }
    if (set->count == set->capacity) {
        uint32_t capacity = set->capacity ? set->capacity * 2 : 64;
        set->rows = arena_grow(book->arena, set->rows, set->capacity * sizeof *set->rows,
                               capacity * sizeof *set->rows);
        set->capacity = capacity;
    }
    FactRow *row = &set->rows[set->count++];
    *row = (FactRow){.first = fact, .all = {fact->low, fact->high}};
    return row;
}

static void note_value(FactRow *row, Interval value)
{
    row->all = interval_hull(row->all, value);
    for (uint32_t i = 0; i < row->value_count && i < FACT_VALUES; i++) {
        if (row->values[i].low == value.low && row->values[i].high == value.high) {
            return;
        }
    }
    if (row->value_count < FACT_VALUES) {
        row->values[row->value_count] = value;
    }
    row->value_count++;
}

static void note_user(FactRow *row, Symbol name)
{
    for (uint32_t i = 0; i < row->name_count; i++) {
        if (row->names[i] == name) {
            return;
        }
    }
    if (row->name_count == FACT_NAMES) {
        row->more = true;
        return;
    }
    row->names[row->name_count++] = name;
}

static bool note_fact(Book *book, const Case *in, const Figure *figure, const Input *input, const void *what)
{
    FactSet *set = *(FactSet *const *)what;
    (void)in;
    if (input->kind != INPUT_FACT || strcmp(input->u.fact->source, "the spec") == 0) {
        return false; /* what the owner stated is nobody's assumption */
    }
    FactRow *row = row_of_fact(book, set, input->u.fact);
    note_value(row, (Interval){input->u.fact->low, input->u.fact->high});
    note_user(row, figure->subject->name);
    return false;
}

static void fact_values_cell(Book *book, const FactRow *row)
{
    Buf text;
    bool few = row->value_count <= FACT_VALUES;
    buf_init(&text, book->arena);
    for (uint32_t i = 0; few && i < row->value_count; i++) {
        buf_text(&text, i > 0 ? ", " : "");
        unit_print(&text, row->first->unit, row->values[i].low, row->values[i].high);
    }
    if (!few) {
        unit_print(&text, row->first->unit, row->all.low, row->all.high);
    }
    book_cell(book, buf_str(&text));
}

static void write_facts(Book *book)
{
    FactSet set = {NULL, 0, 0}, *pointer = &set;
    any_input(book, note_fact, &pointer);
    if (set.count == 0) {
        return;
    }
    markdown_heading(&book->md, 3, STR("Numbers from tables, and on the way to a figure"), NULL);
    book_head(book, (const char *const[]){"Number", ">Value", "Source", "For"}, 4);
    for (uint32_t i = 0; i < set.count; i++) {
        const FactRow *row = &set.rows[i];
        markdown_row(&book->md);
        book_prose_cell(book, row->first->what);
        fact_values_cell(book, row);
        book_prose_cell(book, row->first->source);
        markdown_cell(&book->md);
        for (uint32_t n = 0; n < row->name_count; n++) {
            markdown_text(&book->md, n > 0 ? STR(", ") : STR(""));
            markdown_code(&book->md, symbols_text(book->outcome->spec->symbols, row->names[n]));
        }
        markdown_text(&book->md, row->more ? STR(" and others") : STR(""));
    }
}

void book_assumptions(Book *book)
{
    write_defaults(book);
    write_guesses(book);
    write_facts(book);
}

/* Sources */

static bool is_used(const Book *book, FigureId id)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        const Case *in = &book->outcome->cases[c];
        for (uint32_t e = 0; e < in->model->entity_count; e++) {
            for (const Figure *f = in->figures->lists[e].first; f != NULL; f = f->next) {
                if (f->id == id) {
                    return true;
                }
            }
        }
    }
    return false;
}

static void write_figure_sources(Book *book)
{
    markdown_heading(&book->md, 3, STR("Figures"), NULL);
    book_head(book, (const char *const[]){"Figure", "What it is", "Source"}, 3);
    for (int id = 1; id < FIGURE_COUNT; id++) {
        if (is_used(book, (FigureId)id)) {
            markdown_row(&book->md);
            markdown_cell_code(&book->md, str_from(figure_rows[id].name));
            book_prose_cell(book, figure_rows[id].help);
            book_prose_cell(book, figure_rows[id].source);
        }
    }
}

/* Whether anything that the rule looks at is in the spec; what it asks of the boat as a whole is asked of each. */
static bool has_subject(const Book *book, const Rule *rule)
{
    bool any = rule->judge == NULL || rule->judge_boat != NULL;
    for (size_t k = 0; k < sizeof rule->kinds / sizeof rule->kinds[0] && rule->kinds[k] != 0 && !any; k++) {
        for (const BookThing *t = book->things; t != NULL && !any; t = t->next) {
            any = t->entity->kind == rule->kinds[k];
        }
    }
    return any;
}

static void say_rules_left_out(Book *book, unsigned count)
{
    if (count > 0) {
        markdown_paragraph(&book->md);
        book_prose(book, text_format(book->arena, count == 1 ? "%u rule more looks at what she has not: `garboard rules` lists it."
                                                             : "%u rules more look at what she has not: `garboard rules` lists them.",
                                     count));
    }
}

static void write_rule_sources(Book *book)
{
    unsigned left_out = 0;
    markdown_heading(&book->md, 3, STR("Rules of this basis"), NULL);
    book_head(book, (const char *const[]){"Rule", "At most a", "Asks", "Source"}, 4);
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            const Rule *rule = &rule_families[f]->rules[r];
            if (!(rule->basis & (1 << book->outcome->basis))) {
                continue;
            }
            if (!has_subject(book, rule)) {
                left_out++;
                continue;
            }
            markdown_row(&book->md);
            markdown_cell_code(&book->md, str_from(rule->name));
            book_cell(book, str_from(book_severity(rule->severity)));
            book_prose_cell(book, rule->title);
            book_prose_cell(book, rule->source);
        }
    }
    say_rules_left_out(book, left_out);
}

void book_sources(Book *book)
{
    markdown_paragraph(&book->md);
    book_prose(book, "What is marked from memory has not been compared with the printed source; common practice without a"
                     " source is called that. `garboard rules` tells more of each rule, and an example.");
    write_rule_sources(book);
    write_figure_sources(book);
}
