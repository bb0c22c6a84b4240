/* See book.h: the files of a book, and the order of its chapters. */
#include "output/book.h"

#include "output/bom.h"
#include "output/book_chapters.h"
#include "output/diagram.h"
#include "output/diagram_water.h"
#include "output/drive_plot.h"
#include "output/energy_chart.h"
#include "output/findings_csv.h"
#include "output/fuel_diagram.h"
#include "output/plan_chart.h"
#include "output/weight_sketch.h"
#include "output/wires.h"


typedef struct Chapter {
    const char *title; /* its id follows from it */
    void (*write)(Book *book);
} Chapter;

static const Chapter chapters[] = {
    {"Cautions, and what this book is", book_cautions},
    {"The boat at a glance", book_glance},
    {"Decisions made", book_decided},
    {"Decisions open", book_undecided},
    {"Power", book_power},
    {"Water", book_water},
    {"Drive and fuel", book_drive},
    {"Navigation", book_navigation},
    {"Climate and gas", book_climate},
    {"Safety", book_safety},
    {"Cabin", book_cabin},
    {"Hull", book_hull},
    {"Weight", book_weight},
    {"Buying", book_buying},
    {"Work plan", book_plan},
    {"Service plan", book_service},
    {"Findings and waivers", book_findings},
    {"The working of every figure", book_working},
    {"Assumptions", book_assumptions},
    {"Sources", book_sources},
};
enum { CHAPTERS = sizeof chapters / sizeof chapters[0] };

typedef struct Table {
    const char *name;
    const char *title;
    void (*write)(Buf *to, const Outcome *outcome);
} Table;

static const Table tables[] = {
    {"bom.csv", "the bill of materials", bom_csv},
    {"wires.csv", "the wire list", wires_csv},
    {"findings.csv", "the findings", findings_csv},
};
enum { TABLES = sizeof tables / sizeof tables[0] };

static void write_contents(Book *book)
{
    for (size_t i = 0; i < CHAPTERS; i++) {
        const char *id = markdown_id(book->arena, str_from(chapters[i].title));
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        markdown_link(&book->md, str_from(chapters[i].title), text_format(book->arena, "#%s", id));
    }
    markdown_paragraph(&book->md);
    markdown_text(&book->md, STR("Beside it: "));
    for (size_t i = 0; i < TABLES; i++) {
        markdown_text(&book->md, i > 0 ? STR(", ") : STR(""));
        markdown_link(&book->md, str_from(tables[i].name), tables[i].name);
        markdown_format(&book->md, " (%s)", tables[i].title);
    }
    markdown_text(&book->md,
                  STR(". In those, a text that begins like a formula has an apostrophe before it."));
}

static void write_book(Book *book)
{
    Str name = book->boat != NULL ? entity_label(book->model, book->boat) : STR("a boat without a name");
    markdown_heading(&book->md, 1, str_from(text_format(book->arena, "Build book of %.*s", STR_ARG(name))),
                     NULL);
    write_contents(book);
    for (size_t i = 0; i < CHAPTERS; i++) {
        markdown_heading(&book->md, 2, str_from(chapters[i].title),
                         markdown_id(book->arena, str_from(chapters[i].title)));
        chapters[i].write(book);
    }
    markdown_end(&book->md);
}

static BookFile make_table(Arena *arena, const Outcome *outcome, const Table *table)
{
    Buf bytes;
    buf_init(&bytes, arena);
    table->write(&bytes, outcome);
    return (BookFile){table->name, table->title, buf_str(&bytes)};
}

/* Pictures, each on as many pages as it takes, in the order of their chapters. */

static size_t draw_direct(const Book *book, BookFile **pages)
{
    return diagram_draw(book, false, pages);
}

static size_t draw_alternating(const Book *book, BookFile **pages)
{
    return diagram_draw(book, true, pages);
}

/* Power and fuel: a page each, where there is enough to draw. */
static size_t draw_drive(const Book *book, BookFile **pages)
{
    size_t count = 0;
    *pages = ARENA_ARRAY(book->arena, BookFile, 2);
    count += drive_plot(book, &(*pages)[count]) ? 1 : 0;
    count += fuel_diagram(book, &(*pages)[count]) ? 1 : 0;
    return count;
}

static size_t (*const pictures[])(const Book *book, BookFile **pages) = {
    draw_direct,      draw_alternating, energy_chart_draw, diagram_fresh,   diagram_waste,
    diagram_openings, draw_drive,       weight_sketch,     plan_chart_draw,
};
enum { PICTURES = sizeof pictures / sizeof pictures[0] };

size_t book_files(Arena *arena, const Outcome *outcome, BookFile **files)
{
    Buf text;
    Book book;
    BookFile *drawn[PICTURES] = {NULL};
    size_t pages[PICTURES] = {0};
    size_t count = 1 + TABLES;
    buf_init(&text, arena);
    book_begin(&book, arena, outcome, &text);
    for (size_t i = 0; i < PICTURES; i++) {
        pages[i] = pictures[i](&book, &drawn[i]);
        count += pages[i];
    }
    BookFile *list = ARENA_ARRAY(arena, BookFile, count);
    size_t at = 1; /* behind the book itself */
    for (size_t i = 0; i < PICTURES; i++) {
        for (size_t page = 0; page < pages[i]; page++) {
            list[at++] = drawn[i][page];
        }
    }
    book.pictures = list + 1;
    book.picture_count = at - 1;
    for (size_t i = 0; i < TABLES; i++) {
        list[at++] = make_table(arena, outcome, &tables[i]);
    }
    write_book(&book);
    list[0] = (BookFile){"book.md", "the build book", buf_str(&text)};
    *files = list;
    return count;
}
