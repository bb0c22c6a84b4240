/*
 * Decisions: those that are made with their reasons, those that are open with what each of them holds up.
 */
#include "output/book_chapters.h"
#include "output/compare.h"
#include "rules/decide.h"

#include <string.h>

static Str symbol_text(const Book *book, Symbol symbol)
{
    return symbols_text(book->outcome->spec->symbols, symbol);
}

/* Made */

static void write_picked(Book *book)
{
    const Spec *spec = book->outcome->spec;
    bool any = false;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        const Choice *choice = &spec->choices[i];
        if (choice->picked < 0) {
            continue;
        }
        if (!any) {
            book_head(book, (const char *const[]){"Choice", "Question", "Picked", "What", "Because"}, 5);
            any = true;
        }
        const Option *option = &choice->options[choice->picked];
        markdown_row(&book->md);
        markdown_cell_code(&book->md, symbol_text(book, choice->name));
        book_cell(book, choice->title);
        markdown_cell_code(&book->md, symbol_text(book, option->name));
        markdown_text(&book->md, choice->by_command ? STR(" (for this run only)") : STR(""));
        book_cell(book, option->title);
        book_cell(book, choice->because);
    }
    if (!any) {
        book_say(book, "No choice has been picked.");
    }
}

static bool has_reason(const Book *book, const BookThing *thing, const void *what)
{
    (void)book, (void)what;
    return entity_states(thing->entity, PROP_COMMON_BECAUSE);
}

void book_decided(Book *book)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        STATUS_COLUMN,
        VALUE_COLUMN("Because", PROP_COMMON_BECAUSE),
    };
    write_picked(book);
    book_table(book, "Things with a reason", columns, sizeof columns / sizeof columns[0], has_reason, NULL);
}

/* Open choices, side by side: what `compare` says */

/* Names between backquotes, as code. */
static void names_cell(Book *book, const char *names)
{
    if (names == NULL) {
        markdown_cell_text(&book->md, book_nothing);
    } else {
        book_prose_cell(book, names);
    }
}

static void option_heads(Book *book, const CompareChoice *compared)
{
    MarkdownColumn *columns = ARENA_ARRAY(book->arena, MarkdownColumn, compared->option_count + 1);
    bool sets = false;
    columns[0] = (MarkdownColumn){"", MARKDOWN_LEFT};
    for (uint32_t o = 0; o < compared->option_count; o++) {
        columns[o + 1] = (MarkdownColumn){compared->options[o].name, MARKDOWN_RIGHT};
        sets = sets || compared->options[o].sets != NULL;
    }
    markdown_table(&book->md, columns, compared->option_count + 1);
    markdown_row(&book->md);
    markdown_cell_text(&book->md, STR("what"));
    for (uint32_t o = 0; o < compared->option_count; o++) {
        book_cell(book, str_from(compared->options[o].title));
    }
    markdown_row(&book->md);
    markdown_cell_text(&book->md, STR("brings"));
    for (uint32_t o = 0; o < compared->option_count; o++) {
        names_cell(book, compared->options[o].brings);
    }
    if (sets) {
        markdown_row(&book->md);
        markdown_cell_text(&book->md, STR("sets"));
        for (uint32_t o = 0; o < compared->option_count; o++) {
            names_cell(book, compared->options[o].sets);
        }
    }
}

static void compare_rows(Book *book, const CompareChoice *compared)
{
    for (const CompareRow *row = compared->rows; row != NULL; row = row->next) {
        if (row->same) {
            continue;
        }
        markdown_row(&book->md);
        book_prose_cell(book, row->title);
        for (uint32_t o = 0; o < compared->option_count; o++) {
            book_prose_cell(book, compare_cell_words(book->arena, &row->cells[o]));
        }
    }
}

/* A paragraph of a sentence that may be empty. */
static void say_prose(Book *book, const char *text)
{
    if (text[0] != '\0') {
        markdown_paragraph(&book->md);
        book_prose(book, text);
    }
}

static void finding_link(Book *book, const Finding *finding)
{
    markdown_link(&book->md,
                  str_from(text_format(book->arena, "%s on %.*s", finding->rule->name,
                                       STR_ARG(book_name(book, finding->subject)))),
                  text_format(book->arena, "#%s", book_finding_id(book, finding)));
}

static bool hangs_on(const Finding *finding, const char *text)
{
    for (const Depend *d = finding->depends; d != NULL; d = d->next) {
        if (d->text != NULL && strcmp(d->text, text) == 0) {
            return true;
        }
    }
    return false;
}

/* The findings that hang on an undecided thing, as links; the number of them. */
static unsigned hanging_findings(Book *book, const char *text)
{
    unsigned count = 0;
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        if (hangs_on(f, text)) {
            markdown_text(&book->md, count++ > 0 ? STR(", ") : STR(""));
            finding_link(book, f);
            if (f->only_with != NULL && strchr(text, '.') == NULL) {
                markdown_format(&book->md, " (with %s)", f->only_with);
            }
        }
    }
    return count;
}

static void write_choice(Book *book, const Comparison *comparison, const CompareChoice *compared)
{
    markdown_heading(&book->md, 4, str_from(compared->name), NULL);
    if (compared->title[0] != '\0') {
        markdown_paragraph(&book->md);
        markdown_text(&book->md, str_from(compared->title));
    }
    say_prose(book, compare_covers(book->arena, comparison, compared));
    if (compared->tried > 0) {
        option_heads(book, compared);
        compare_rows(book, compared);
    }
    say_prose(book, compare_same(book->arena, compared));
    say_prose(book, compare_unscored(book->arena, compared));
    say_prose(book, compare_dominated(book->arena, compared));
}

/* Whether there is one. */
static bool write_choices(Book *book)
{
    const Comparison *comparison = compare_compute(book->arena, book->outcome);
    if (comparison->count > 0) {
        markdown_heading(&book->md, 3, STR("Options side by side"), NULL);
        say_prose(book, compare_note);
    }
    for (uint32_t i = 0; i < comparison->count; i++) {
        write_choice(book, comparison, &comparison->choices[i]);
    }
    return comparison->count > 0;
}

/* What to decide next */

static void what_cell(Book *book, const Decision *decision)
{
    book_cell(book, decision->choice != NULL   ? decision->choice->title
                    : decision->entity != NULL ? book_title(book, decision->entity)
                                               : book_nothing);
}

/* As it is written; of a size that is filled in, with what came of it and what was tried. */
static Str stands_as(const Book *book, const Case *in, const Entity *entity, const Property *property)
{
    Str written = book_statement(book, in->model, property);
    bool size = property->id == PROP_BANK_CAPACITY || property->id == PROP_SOLAR_RATED;
    const Figure *fitting = size ? figure_find(in->figures, entity, FIGURE_FITTING_SIZE, NULL) : NULL;
    if (fitting == NULL) {
        return written;
    }
    const char *sized = fitting->chosen ? text_format(book->arena, "sized by Garboard: %s", figure_text(in->figures, fitting))
                                        : "no standard size serves";
    return str_from(text_format(book->arena, "%.*s; %s (%s)", STR_ARG(written), sized, fitting->remark));
}

static void stands_cell(Book *book, const Decision *decision)
{
    if (decision->property != NULL) {
        book_cell(book, stands_as(book, decision->in, decision->entity, decision->property));
    } else {
        book_cell(book, str_from(decide_stands(book->arena, book->outcome, decision)));
    }
}

static void decision_row(Book *book, const Decision *decision)
{
    markdown_row(&book->md);
    markdown_cell_code(&book->md, str_from(decision->name));
    what_cell(book, decision);
    stands_cell(book, decision);
    book_prose_cell(book, decide_holds_up(book->arena, decision));
    markdown_cell(&book->md);
    if (hanging_findings(book, decision->name) == 0) {
        markdown_text(&book->md, book_nothing);
    }
}

/* Whether there is anything to decide. */
static bool write_decisions(Book *book)
{
    const Decisions *decisions = decide_compute(book->arena, book->outcome);
    if (decisions->count == 0) {
        return false;
    }
    markdown_heading(&book->md, 3, STR("What to decide next"), NULL);
    book_say(book, "What holds up the most stands first: open faults, then goals, open warnings, jobs, the time until "
                   "it comes, money, open advice.");
    book_head(book, (const char *const[]){"Undecided", "What", "Stands as", "Holds up", "Findings"}, 5);
    for (uint32_t i = 0; i < decisions->count; i++) {
        decision_row(book, decisions->list[i]);
    }
    return true;
}

/* What is not stated and holds judgements up */

static const Unmeasured *unmeasured_in(const Case *c, const Entity *entity, PropId prop)
{
    for (const Unmeasured *u = c->judge->unmeasured; u != NULL; u = u->next) {
        if (u->entity->name == entity->name && u->prop == prop) {
            return u;
        }
    }
    return NULL;
}

static bool is_first_told(const Outcome *outcome, uint32_t number, const Unmeasured *u)
{
    for (uint32_t c = 0; c < number; c++) {
        if (unmeasured_in(&outcome->cases[c], u->entity, u->prop) != NULL) {
            return false;
        }
    }
    return true;
}

static void unmeasured_row(Book *book, const Unmeasured *u, bool *begun)
{
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Facts that are missing"), NULL);
        book_say(book, "Without them rules cannot be judged. The number is how many judgements wait.");
        book_head(book, (const char *const[]){"Missing", "What it is", ">Holds up", "First of them"}, 4);
        *begun = true;
    }
    markdown_row(&book->md);
    markdown_cell_code(&book->md,
                       str_from(text_format(book->arena, "%.*s.%s", STR_ARG(book_name(book, u->entity)),
                                            props[u->prop].word)));
    book_prose_cell(book, props[u->prop].help);
    book_cell(book, str_from(text_format(book->arena, "%u", u->rules)));
    markdown_cell_code(&book->md, str_from(u->first));
}

static void write_missing(Book *book, bool *begun)
{
    for (uint32_t c = 0; c < book->outcome->case_count; c++) {
        for (const Unmeasured *u = book->outcome->cases[c].judge->unmeasured; u != NULL; u = u->next) {
            if (is_first_told(book->outcome, c, u)) {
                unmeasured_row(book, u, begun);
            }
        }
    }
}

void book_undecided(Book *book)
{
    bool any = write_decisions(book), missing = false;
    any = write_choices(book) || any;
    write_missing(book, &missing);
    if (!any && !missing) {
        book_say(book, "Nothing is open.");
    }
}
