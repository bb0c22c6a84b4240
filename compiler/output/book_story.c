/*
 * The story of what is bought: what happened and when, why it is this one, what it takes the place of, how it can be told
 * apart, and what was dropped.
 */
#include "output/book_chapters.h"

#include "model/status.h"

/* What happened */

typedef struct Happening {
    Date day;
    const char *what;  /* "ordered" */
    const Value *told; /* an event's own words; NULL */
    const Value *of;   /* how many; NULL */
} Happening;

typedef struct Happenings {
    Happening *list;
    size_t count;
} Happenings;

static const struct {
    PropId prop;
    const char *what;
} happening_rows[] = {
    {PROP_COMMON_ORDERED, "ordered"},
    {PROP_COMMON_PROMISED, "promised for this day"},
    {PROP_COMMON_ARRIVED, "arrived"},
    {PROP_COMMON_FITTED, "fitted"},
    {PROP_COMMON_EVENT, ""},
};
enum { HAPPENING_KINDS = sizeof happening_rows / sizeof happening_rows[0] };

static size_t count_lines(const Entity *entity, PropId prop)
{
    size_t count = 0;
    for (const Property *p = entity_property(entity, prop); p != NULL; p = block_next(&entity->block, p)) {
        count++;
    }
    return count;
}

/* By insertion: what is of one day stays in the order of a purchase. */
static void add_happening(Happenings *all, Happening one)
{
    size_t at = all->count++;
    while (at > 0 && all->list[at - 1].day > one.day) {
        all->list[at] = all->list[at - 1];
        at--;
    }
    all->list[at] = one;
}

static Happenings happenings_of(Arena *arena, const Entity *entity)
{
    size_t most = 0;
    for (size_t i = 0; i < HAPPENING_KINDS; i++) {
        most += count_lines(entity, happening_rows[i].prop);
    }
    Happenings all = {.list = ARENA_ARRAY(arena, Happening, most)};
    for (size_t i = 0; i < HAPPENING_KINDS; i++) {
        for (const Property *p = entity_property(entity, happening_rows[i].prop); p != NULL;
             p = block_next(&entity->block, p)) {
            const Value *day = property_value(p, 0);
            const Value *more = property_value(p, 1);
            if (p->flags & PROPERTY_BROKEN || day->kind != VALUE_DATE) {
                continue;
            }
            add_happening(&all, (Happening){.day = day->u.date,
                                    .what = happening_rows[i].what,
                                    .told = more->kind == VALUE_TEXT ? more : NULL,
                                    .of = more->kind == VALUE_QUANTITY ? more : NULL});
        }
    }
    return all;
}

static void happening_row(Book *book, const BookThing *thing, const Happening *one)
{
    markdown_row(&book->md);
    book_name_cell(book, thing);
    book_cell(book, book_date(book, one->day));
    markdown_cell(&book->md);
    markdown_text(&book->md, one->told != NULL ? one->told->u.text : str_from(one->what));
    if (one->of != NULL) {
        markdown_format(&book->md, ", %d", (int)one->of->u.quantity.low);
        Str all = book_pieces(book, thing->entity);
        if (!str_equal(all, book_nothing)) {
            markdown_format(&book->md, " of %.*s", STR_ARG(all));
        }
    }
}

static void write_happenings(Book *book)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_bought(t->entity)) {
            continue;
        }
        Happenings all = happenings_of(book->arena, t->entity);
        for (size_t i = 0; i < all.count; i++) {
            if (!begun) {
                markdown_heading(&book->md, 3, STR("What happened"), NULL);
                book_head(book, (const char *const[]){"Name", "Day", "What"}, 3);
                begun = true;
            }
            happening_row(book, t, &all.list[i]);
        }
    }
}

/* Why this one, and which one */

static bool says_more(const Book *book, const BookThing *thing, const void *what)
{
    static const PropId told[] = {PROP_COMMON_BECAUSE, PROP_COMMON_REPLACES, PROP_COMMON_SERIAL, PROP_COMMON_LINK};
    (void)book, (void)what;
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        if (is_bought(thing->entity) && entity_states(thing->entity, told[i])) {
            return true;
        }
    }
    return false;
}

static bool is_dropped(const Book *book, const BookThing *thing, const void *what)
{
    (void)book, (void)what;
    return is_bought(thing->entity) && thing->entity->flags & ENTITY_DROPPED;
}

void book_story(Book *book)
{
    static const BookColumn chosen[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        VALUE_COLUMN("Why this one", PROP_COMMON_BECAUSE),
        VALUE_COLUMN("Takes the place of", PROP_COMMON_REPLACES),
        VALUE_COLUMN("Serial number", PROP_COMMON_SERIAL),
        VALUE_COLUMN("Papers", PROP_COMMON_LINK),
    };
    static const BookColumn dropped[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        VALUE_COLUMN("Because", PROP_COMMON_BECAUSE),
        VALUE_COLUMN("Note", PROP_COMMON_NOTE),
    };
    write_happenings(book);
    book_table(book, "Why this one, and which one it is", chosen, sizeof chosen / sizeof chosen[0], says_more, NULL);
    book_table(book, "Dropped: not aboard, and in no figure", dropped, sizeof dropped / sizeof dropped[0], is_dropped,
               NULL);
}
