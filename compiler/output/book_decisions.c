/*
 * Decisions: those that are made with their reasons, those that are open with what each of them holds up.
 */
#include "output/book_chapters.h"

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

/* Open choices, side by side */

/* The case that takes this option and, of the other open choices, what the first case takes. */
static const Case *case_with(const Book *book, uint32_t choice, uint32_t option)
{
    const Outcome *outcome = book->outcome;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Choice *chosen = outcome->cases[c].model->choices;
        bool fits = chosen[choice].chosen == (int32_t)option;
        for (uint32_t i = 0; i < outcome->spec->choice_count && fits; i++) {
            fits = i == choice || chosen[i].chosen == outcome->cases[0].model->choices[i].chosen;
        }
        if (fits) {
            return &outcome->cases[c];
        }
    }
    return NULL;
}

static void figure_cell(Book *book, const Case *in, FigureId id, const Entity *at)
{
    const Figure *figure = NULL;
    if (in != NULL && in->model->boat != NULL) {
        const Entity *at_here = at != NULL ? model_find(in->model, book_name(book, at)) : NULL;
        figure = figure_find(in->figures, in->model->boat, id, at_here);
    }
    book_cell(book, figure != NULL ? str_from(figure_text(in->figures, figure)) : book_nothing);
}

static void figure_row(Book *book, uint32_t choice, const char *title, FigureId id, const Entity *at)
{
    if (book->boat == NULL || !book_has_figure(book, book->boat, id, at)) {
        return;
    }
    markdown_row(&book->md);
    markdown_cell_text(&book->md, str_from(title));
    if (at != NULL) {
        markdown_text(&book->md, STR(" "));
        markdown_code(&book->md, book_name(book, at));
    }
    for (uint32_t o = 0; o < book->outcome->spec->choices[choice].option_count; o++) {
        figure_cell(book, case_with(book, choice, o), id, at);
    }
}

static void score_cell(Book *book, uint32_t choice, uint32_t option, Symbol criterion)
{
    Buf text;
    buf_init(&text, book->arena);
    for (uint32_t s = 0; s < book->model->score_count; s++) {
        const Score *score = &book->model->scores[s];
        bool here =
            score->choice->name == book->outcome->spec->choices[choice].name && score->option == option;
        if (here && score->criterion == criterion) {
            unit_print(&text, UNIT_ALONE(UNIT_NONE), score->points, score->points);
            buf_text(&text, " of ");
            unit_print(&text, UNIT_ALONE(UNIT_NONE), score->of, score->of);
        }
    }
    book_cell(book, buf_str(&text));
}

static void score_rows(Book *book, uint32_t choice)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind != KIND_CRITERION) {
            continue;
        }
        markdown_row(&book->md);
        markdown_cell_text(&book->md, entity_label(book->model, t->entity));
        markdown_format(&book->md, " (weight %s)",
                        book_value(book, t->entity, PROP_CRITERION_WEIGHT, 0).text);
        for (uint32_t o = 0; o < book->outcome->spec->choices[choice].option_count; o++) {
            score_cell(book, choice, o, t->entity->name);
        }
    }
}

static void things_row(Book *book, uint32_t choice)
{
    const Choice *row = &book->outcome->spec->choices[choice];
    markdown_row(&book->md);
    markdown_cell_text(&book->md, STR("Brings"));
    for (uint32_t o = 0; o < row->option_count; o++) {
        const Case *in = case_with(book, choice, o);
        bool any = false;
        markdown_cell(&book->md);
        for (uint32_t i = 0; in != NULL && i < in->model->entity_count; i++) {
            const Entity *entity = in->model->entities[i];
            if (entity->option == row->options[o].node) {
                markdown_text(&book->md, any ? STR(", ") : STR(""));
                markdown_code(&book->md, book_name(book, entity));
                any = true;
            }
        }
        markdown_text(&book->md, any ? STR("") : book_nothing);
    }
}

static void option_heads(Book *book, const Choice *choice)
{
    MarkdownColumn *columns = ARENA_ARRAY(book->arena, MarkdownColumn, choice->option_count + 1);
    columns[0] = (MarkdownColumn){"", MARKDOWN_LEFT};
    for (uint32_t o = 0; o < choice->option_count; o++) {
        columns[o + 1] = (MarkdownColumn){str_copy(book->arena, symbol_text(book, choice->options[o].name)),
                                          MARKDOWN_RIGHT};
    }
    markdown_table(&book->md, columns, choice->option_count + 1);
    markdown_row(&book->md);
    markdown_cell_text(&book->md, STR("What"));
    for (uint32_t o = 0; o < choice->option_count; o++) {
        book_cell(book, choice->options[o].title);
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

static void write_choice(Book *book, uint32_t index)
{
    static const struct {
        const char *title;
        FigureId figure;
    } rows[] = {
        {"Cost of the boat", FIGURE_COST},
        {"Still to buy", FIGURE_STILL_TO_BUY},
        {"Mass of her things", FIGURE_MASS},
    };
    const Choice *choice = &book->outcome->spec->choices[index];
    markdown_heading(&book->md, 3, symbol_text(book, choice->name), NULL);
    if (choice->title.length > 0) {
        markdown_paragraph(&book->md);
        markdown_text(&book->md, choice->title);
    }
    option_heads(book, choice);
    things_row(book, index);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        figure_row(book, index, rows[i].title, rows[i].figure, NULL);
    }
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (t->entity->kind == KIND_DAY) {
            figure_row(book, index, "Lasts, in days like", FIGURE_ENDURANCE, t->entity);
        }
    }
    score_rows(book, index);
    markdown_paragraph(&book->md);
    markdown_text(&book->md, STR("It holds up: "));
    if (hanging_findings(book, str_copy(book->arena, symbol_text(book, choice->name))) == 0) {
        markdown_text(&book->md, STR("no finding"));
    }
    markdown_text(&book->md, STR("."));
}

/* Ranges, bounds and holes */

static bool is_undecided(const Property *property)
{
    for (uint16_t i = 0; i < property->count; i++) {
        const Value *value = &property->values[i];
        if (value->kind == VALUE_QUANTITY && !(value->flags & (VALUE_ASSUMED | VALUE_BROKEN)) &&
            (value->flags & VALUE_HOLE || value->u.quantity.low != value->u.quantity.high)) {
            return true;
        }
    }
    return false;
}

/* Whether an earlier case has this very statement of the same thing. */
static bool told_before(const Outcome *outcome, uint32_t number, const Entity *entity,
                        const Property *property)
{
    for (uint32_t c = 0; c < number; c++) {
        const Model *model = outcome->cases[c].model;
        const Entity *earlier = entity->name < model->symbol_count ? model->by_symbol[entity->name] : NULL;
        const Property *same = earlier != NULL ? entity_property(earlier, (PropId)property->id) : NULL;
        if (same != NULL && same->node == property->node) {
            return true;
        }
    }
    return false;
}

static void undecided_row(Book *book, const Case *in, const Entity *entity, const Property *property,
                          bool *begun)
{
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Ranges, bounds and holes"), NULL);
        book_head(book, (const char *const[]){"Undecided", "What", "Stands as", "Holds up"}, 4);
        *begun = true;
    }
    const char *name =
        text_format(book->arena, "%.*s.%s", STR_ARG(book_name(book, entity)), props[property->id].word);
    markdown_row(&book->md);
    markdown_cell_code(&book->md, str_from(name));
    book_cell(book, book_title(book, entity));
    book_cell(book, book_statement(book, in->model, property));
    markdown_cell(&book->md);
    if (hanging_findings(book, name) == 0) {
        markdown_text(&book->md, book_nothing);
    }
}

/* Also the properties in a property's own block: those of a `feeds`. */
static void undecided_in_block(Book *book, uint32_t number, const Entity *entity, const Block *block,
                               bool *begun)
{
    const Case *in = &book->outcome->cases[number];
    for (uint32_t i = 0; i < block->count; i++) {
        const Property *property = &block->properties[i];
        if (is_undecided(property) && !told_before(book->outcome, number, entity, property)) {
            undecided_row(book, in, entity, property, begun);
        }
        const Value *last = property->count > 0 ? &property->values[property->count - 1] : NULL;
        if (last != NULL && last->kind == VALUE_BLOCK && last->u.block != NULL && number == 0) {
            undecided_in_block(book, number, entity, last->u.block, begun);
        }
    }
}

static void write_ranges(Book *book, bool *begun)
{
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        for (uint32_t c = 0; c < book->outcome->case_count; c++) {
            const Model *model = book->outcome->cases[c].model;
            const Entity *here =
                t->entity->name < model->symbol_count ? model->by_symbol[t->entity->name] : NULL;
            if (here != NULL && !(here->flags & ENTITY_DROPPED)) {
                undecided_in_block(book, c, here, &here->block, begun);
            }
        }
    }
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
    const Spec *spec = book->outcome->spec;
    bool any = false, ranges = false, missing = false;
    for (uint32_t i = 0; i < spec->choice_count; i++) {
        if (spec->choices[i].picked < 0 && spec->choices[i].option_count > 0) {
            write_choice(book, i);
            any = true;
        }
    }
    write_ranges(book, &ranges);
    write_missing(book, &missing);
    if (!any && !ranges && !missing) {
        book_say(book, "Nothing is open.");
    }
}
