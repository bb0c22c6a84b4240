/* See book_assumed.h. */
#include "output/book_assumed.h"

typedef struct Users {
    Symbol *names; /* the things for which it was taken */
    uint32_t count;
} Users;

typedef struct Other {
    const BookAssumption *what;
    Users users;
    struct Other *next;
} Other;

struct BookAssumed {
    Users users[PROP_COUNT]; /* by the property whose default was taken */
    Other *others;           /* in the order in which they were printed */
};

static struct BookAssumed *all_of(const Book *book)
{
    if (*book->assumed == NULL) {
        *book->assumed = ARENA_NEW(book->arena, struct BookAssumed);
    }
    return *book->assumed;
}

static void add_user(const Book *book, Users *users, Symbol name)
{
    for (uint32_t i = 0; i < users->count; i++) {
        if (users->names[i] == name) {
            return;
        }
    }
    users->names = arena_grow(book->arena, users->names, users->count * sizeof(Symbol), (users->count + 1) * sizeof(Symbol));
    users->names[users->count++] = name;
}

void book_assume(const Book *book, PropId prop, Symbol name)
{
    add_user(book, &all_of(book)->users[prop], name);
}

void book_assume_other(const Book *book, const BookAssumption *what, Symbol name)
{
    Other **at = &all_of(book)->others;
    while (*at != NULL && (*at)->what != what) {
        at = &(*at)->next;
    }
    if (*at == NULL) {
        *at = ARENA_NEW(book->arena, Other);
        (*at)->what = what;
    }
    add_user(book, &(*at)->users, name);
}

static void write_row(Book *book, bool *begun, const BookAssumption *what, const Users *users)
{
    if (!*begun) {
        markdown_heading(&book->md, 3, STR("Taken where the spec says nothing"), NULL);
        book_head(book, (const char *const[]){"Property", "Assumed", "What it is", "On whose word", "For"}, 5);
        *begun = true;
    }
    markdown_row(&book->md);
    markdown_cell_code(&book->md, str_from(what->property));
    book_prose_cell(book, what->assumed);
    book_prose_cell(book, what->help);
    book_prose_cell(book, what->authority);
    markdown_cell(&book->md);
    for (uint32_t i = 0; i < users->count; i++) {
        markdown_text(&book->md, i > 0 ? STR(", ") : STR(""));
        markdown_code(&book->md, symbols_text(book->outcome->spec->symbols, users->names[i]));
    }
}

bool book_assumed_table(Book *book)
{
    const struct BookAssumed *all = all_of(book);
    bool begun = false;
    for (int prop = 1; prop < PROP_COUNT; prop++) {
        const PropRow *row = &props[prop];
        if (all->users[prop].count > 0) {
            BookAssumption what = {text_format(book->arena, "%s.%s", kinds[row->owner].word, row->word),
                                   schema_assumed_text(book->arena, (PropId)prop), row->help, row->authority};
            write_row(book, &begun, &what, &all->users[prop]);
        }
    }
    for (const Other *other = all->others; other != NULL; other = other->next) {
        write_row(book, &begun, other->what, &other->users);
    }
    return begun;
}
