/*
 * The lists that are taken along: what is to be ordered, supplier by supplier, and what stands in each space. They are
 * those of `bom --to-buy` and of `bom --by space`.
 */
#include "output/book_chapters.h"

#include "output/bom_text.h"
#include "output/unlisted.h"

static void text_cell(Book *book, const char *text)
{
    book_cell(book, *text != '\0' ? str_from(text) : book_nothing);
}

static void line_name_cell(Book *book, const BomLine *line)
{
    if (line->entity == NULL) {
        book_cell(book, line->material->name);
    } else {
        markdown_cell_code(&book->md, book_name(book, line->entity));
    }
    Str option = bom_option(book->arena, line);
    if (option.length > 0) {
        markdown_format(&book->md, " (with %.*s)", STR_ARG(option));
    }
}

static Str line_title(Book *book, const BomLine *line)
{
    if (line->entity == NULL) {
        return str_from(line->material->title);
    }
    Str title = bom_title(book->arena, line);
    return title.length > 0 ? title : str_from(kinds[line->entity->kind].word);
}

static void say_sums(Book *book, const char *begin, const BomSums *sums)
{
    bool all = sums->asked == NULL || sums->unpriced == 0;
    const char *without = all ? ""
                              : text_format(book->arena, "; %u of %u things %s no price", sums->unpriced,
                                                            sums->things, sums->unpriced == 1 ? "has" : "have");
    const char *options = sums->asked != NULL && sums->optional ? "; one option of each choice is counted" : "";
    book_say(book, "%s: %s%s%s.", begin, bom_sums_text(book->arena, book->outcome, sums), without, options);
}

static Str lead_of(Book *book, const BomLine *line)
{
    Interval lead;
    if (line->entity == NULL || !bom_lead(line->entity, &lead)) {
        return book_nothing;
    }
    Buf text;
    buf_init(&text, book->arena);
    unit_print(&text, UNIT_ALONE(UNIT_WEEK), lead.low, lead.high);
    return buf_str(&text);
}

static void order_row(Book *book, const BomLine *line)
{
    const Purchase *purchase = &line->purchase;
    markdown_row(&book->md);
    text_cell(book, bom_day_text(book->arena, line, book->outcome->today));
    line_name_cell(book, line);
    bool below = line->entity != NULL && material_is_below(line->entity);
    book_cell(book, !below ? line_title(book, line)
                           : str_from(text_format(book->arena, "%.*s; " BOM_BELOW, STR_ARG(line_title(book, line)))));
    book_cell(book, str_from(status_word(purchase->status)));
    text_cell(book, bom_count_text(book->arena, line));
    const char *each = bom_price_text(book->arena, line);
    text_cell(book, line->quoted && line->priced ? text_format(book->arena, "%s (quote)", each) : each);
    text_cell(book, bom_cost_text(book->arena, line));
    book_cell(book, lead_of(book, line));
    book_jobs_cell(book, line->entity);
}

static void material_row(Book *book, const BomLine *line)
{
    markdown_row(&book->md);
    text_cell(book, bom_day_text(book->arena, line, book->outcome->today));
    line_name_cell(book, line);
    book_cell(book, line_title(book, line));
    text_cell(book, bom_count_text(book->arena, line));
}

/* Behind what is by the metre and the piece, so that nobody takes that for all. */
static void unlisted(Book *book)
{
    const Unlisted *u = unlisted_of(book->arena, book->outcome, BOM_UNLISTED, true);
    if (u == NULL) {
        return;
    }
    book_say(book, "Not in this list, as the spec does not say enough of it; there may be more:");
    for (; u != NULL; u = u->next) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        book_prose(book, u->text);
    }
}

static void order_group(Book *book, const BomList *list, const BomGroup *group)
{
    static const char *const things[] = {"Last day",   "Name",        "What",  "Status",           ">Count",
                                         ">One costs", ">All of them", ">Lead", "Jobs that need it"};
    static const char *const materials[] = {"Last day", "Name", "What", ">Count"};
    markdown_heading(&book->md, 4, str_from(bom_group_title(book->arena, list, group)), NULL);
    book_head(book, group->materials ? materials : things, group->materials ? 4 : 9);
    for (const BomLine *line = group->first; line != NULL; line = line->next) {
        (group->materials ? material_row : order_row)(book, line);
    }
    if (!group->materials) {
        say_sums(book, "In all", &group->sums);
    } else {
        unlisted(book);
    }
}

/* What nothing says is bought: told one by one, for tanks and seacocks are among it as often as what is aboard already. */
static void perhaps(Book *book, const BomList *list)
{
    if (list->unsaid == NULL) {
        return;
    }
    markdown_heading(&book->md, 4, STR("Perhaps to buy"), NULL);
    book_say(book, "No price, supplier, status or job says that these are bought; they are in no sum.");
    book_head(book, (const char *const[]){"Name", "What", ">Count"}, 3);
    for (const BomLine *line = list->unsaid; line != NULL; line = line->next) {
        markdown_row(&book->md);
        line_name_cell(book, line);
        book_cell(book, line_title(book, line));
        text_cell(book, bom_count_text(book->arena, line));
    }
}

void book_to_order(Book *book)
{
    const BomRequest request = {.by = BOM_BY_SUPPLIER, .to_buy = true};
    const BomList *list = bom_list(book->arena, book->outcome, request);
    markdown_heading(&book->md, 3, STR("To order"), NULL);
    if (list->groups == NULL) {
        book_say(book, "Nothing that the spec states is left to order.");
        unlisted(book);
        return;
    }
    book_say(book, "By supplier, what has to be ordered first before the rest. The last day to order is the work plan's; "
                   "what no job needs has none.");
    if (bom_has_below(list)) {
        markdown_paragraph(&book->md);
        book_prose(book, BOM_BELOW_MEANS);
    }
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        order_group(book, list, group);
    }
    say_sums(book, "All of it, without contingency and without what is bought by the metre and the piece", &list->sums);
    perhaps(book, list);
}

/* By space */

static void space_row(Book *book, const BomLine *line)
{
    markdown_row(&book->md);
    line_name_cell(book, line);
    book_cell(book, line_title(book, line));
    text_cell(book, bom_count_text(book->arena, line));
    book_cell(book, str_from(status_word(line->purchase.status)));
    text_cell(book, bom_mass_text(book->arena, line));
    text_cell(book, bom_cost_text(book->arena, line));
    text_cell(book, bom_at_text(book->arena, line));
}

void book_spaces(Book *book)
{
    static const char *const titles[] = {"Name", "What", ">Count", "Status", ">All of them weigh", ">All of them cost", "At"};
    const BomList *list = bom_list(book->arena, book->outcome, (BomRequest){.by = BOM_BY_SPACE});
    bool begun = false;
    for (const BomGroup *group = list->groups; group != NULL; group = group->next) {
        if (group->at == NULL) {
            continue; /* the bill of materials has them */
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("What stands where"), NULL);
            begun = true;
        }
        markdown_heading(&book->md, 4, str_from(bom_group_title(book->arena, list, group)), NULL);
        book_head(book, titles, 7);
        for (const BomLine *line = group->first; line != NULL; line = line->next) {
            space_row(book, line);
        }
        say_sums(book, "In all", &group->sums);
    }
}

void book_jobs_cell(Book *book, const Entity *thing)
{
    const BookNeed *first = book->needed_by[thing->name];
    markdown_cell(&book->md);
    for (const BookNeed *need = first; need != NULL; need = need->next) {
        markdown_text(&book->md, need != first ? STR(", ") : STR(""));
        markdown_code(&book->md, book_name(book, need->job->entity));
    }
    markdown_text(&book->md, first != NULL ? STR("") : book_nothing);
}
