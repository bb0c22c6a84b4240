/* The money of the chapter of buying: of the boat, by system, by month; and what suppliers kept. */
#include "output/book_chapters.h"

#include "output/money_months.h"

static const struct {
    FigureId id;
    const char *title;
} sums[] = {
    {FIGURE_QUOTED, ">Offered"},         {FIGURE_COMMITTED, ">Committed"},     {FIGURE_PAID, ">Of it paid"},
    {FIGURE_STILL_TO_BUY, ">Still to buy"}, {FIGURE_CONTINGENCY, ">Contingency"},
};
enum { SUM_COUNT = sizeof sums / sizeof sums[0] };

static void write_boat(Book *book)
{
    static const FigureId rows[] = {FIGURE_COMMITTED,   FIGURE_PAID,        FIGURE_QUOTED, FIGURE_STILL_TO_BUY,
                                    FIGURE_CONTINGENCY, FIGURE_LOST_ON_RETURNS, FIGURE_COST, FIGURE_PAID_IN_VAIN, FIGURE_COST_IN_ALL,
                                    FIGURE_COST_WITHOUT_TAX, FIGURE_TO_BUY_WITHOUT_TAX};
    book_head(book, (const char *const[]){"Money", "What it is", ">"}, 3);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        bool may_lack = rows[i] == FIGURE_COST_IN_ALL || rows[i] == FIGURE_TO_BUY_WITHOUT_TAX || rows[i] == FIGURE_COST_WITHOUT_TAX;
        if (may_lack && !book_has_figure(book, book->boat, rows[i], NULL)) {
            continue; /* nothing is paid in vain, or no tax is stated: it would be her cost again */
        }
        markdown_row(&book->md);
        markdown_cell_code(&book->md, str_from(figure_rows[rows[i]].name));
        book_cell(book, str_from(figure_rows[rows[i]].help));
        book_cell(book, book_figure(book, book->boat, rows[i], NULL));
    }
}

/* By system */

static void system_row(Book *book, const char *system)
{
    Figure merged;
    markdown_row(&book->md);
    book_cell(book, str_from(system));
    for (size_t i = 0; i < SUM_COUNT; i++) {
        bool known = outcome_figure(book->outcome, book_name(book, book->boat), sums[i].id, str_from(system), &merged);
        book_cell(book, known ? str_from(figure_text(book->figures, &merged)) : book_nothing);
    }
}

static void write_systems(Book *book)
{
    const char *titles[SUM_COUNT + 1] = {"System"};
    Figure merged;
    for (size_t i = 0; i < SUM_COUNT; i++) {
        titles[i + 1] = sums[i].title;
    }
    bool begun = false;
    for (System system = SYSTEM_NONE + 1; system < SYSTEM_COUNT; system++) {
        const char *word = system_word(system);
        if (!outcome_figure(book->outcome, book_name(book, book->boat), FIGURE_COMMITTED, str_from(word), &merged)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Money by system"), NULL);
            book_head(book, titles, SUM_COUNT + 1);
            begun = true;
        }
        system_row(book, word);
    }
}

/* By month */

/* What the months do not add up to, of all that she costs. */
static void say_in_no_month(Book *book)
{
    static const struct {
        const char *what;
        FigureId figure;
    } rows[] = {{"contingency", FIGURE_CONTINGENCY},
                {"what is lost on what went back or never came", FIGURE_LOST_ON_RETURNS},
                {"what was paid in vain", FIGURE_PAID_IN_VAIN}};
    Buf text;
    buf_init(&text, book->arena);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (book_has_figure(book, book->boat, rows[i].figure, NULL)) {
            buf_format(&text, "%s%s (%.*s)", text.length > 0 ? ", " : "In no month: ", rows[i].what,
                       STR_ARG(book_figure(book, book->boat, rows[i].figure, NULL)));
        }
    }
    book_say(book, "%s.", text.text);
}

static void write_months(Book *book)
{
    const MoneyMonth *month = money_months(book->arena, book->outcome);
    if (month == NULL) {
        return;
    }
    markdown_heading(&book->md, 3, STR("Money by month"), NULL);
    book_say(book, "What has come counts in the month in which it came, and is taken as paid. What is on order counts in that of "
                   "the day promised last, what is still to buy in that of its last day to order; what is past is due this month.");
    book_head(book, (const char *const[]){"Month", ">Came", ">On order", ">To be ordered"}, 4);
    for (; month != NULL; month = month->next) {
        markdown_row(&book->md);
        book_cell(book, month->month > 0 ? str_from(text_format(book->arena, "%04d-%02d", month->year, month->month))
                                         : STR("no day is known"));
        for (int due = 0; due < DUE_KINDS; due++) {
            Figure shown = {.low = month->of[due].low, .high = month->of[due].high, .state = STATE_KNOWN, .money = true};
            book_cell(book, shown.high > 0.0 ? str_from(figure_text(book->figures, &shown)) : book_nothing);
        }
    }
    say_in_no_month(book);
}

void book_money(Book *book)
{
    if (book->boat == NULL || !book_has_figure(book, book->boat, FIGURE_COST, NULL)) {
        return;
    }
    write_boat(book);
    write_systems(book);
    write_months(book);
}

/* Suppliers */

static bool has_record(const Book *book, const BookThing *thing, const void *what)
{
    (void)what;
    return book_has_figure(book, thing->entity, FIGURE_OWING, NULL);
}

void book_promises(Book *book)
{
    static const BookColumn columns[] = {
        NAME_COLUMN,
        TITLE_COLUMN,
        FIGURE_COLUMN("Promises", FIGURE_PROMISES),
        FIGURE_COLUMN("Kept", FIGURE_KEPT),
        FIGURE_COLUMN("Late on average", FIGURE_LATE_MEAN),
        FIGURE_COLUMN("At most", FIGURE_LATE_MOST),
        FIGURE_COLUMN("Still owing", FIGURE_OWING),
    };
    book_table(book, "Promised against received", columns, sizeof columns / sizeof columns[0], has_record, NULL);
}
