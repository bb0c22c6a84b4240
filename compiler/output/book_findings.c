/*
 * The chapter of findings: what is broken, what is open, what is set aside. Findings are made by the rules;
 * here they are told, each under a heading that other chapters link to.
 */
#include "output/book_chapters.h"
#include "rules/settle.h"

#include <stdlib.h>
#include <string.h>

const char *book_severity(Severity severity)
{
    static const char *const words[] = {
        [SEVERITY_ADVICE] = "advice", [SEVERITY_WARNING] = "warning", [SEVERITY_FAULT] = "fault"};
    return words[severity];
}

static const char *heading_of(const Book *book, const Finding *finding)
{
    const char *text = text_format(book->arena, "%s on %.*s", finding->rule->name,
                                   STR_ARG(book_name(book, finding->subject)));
    if (finding->at != NULL) {
        text = text_format(book->arena, "%s at %.*s", text, STR_ARG(book_name(book, finding->at)));
    }
    const char *matter = finding->about != PROP_NONE ? props[finding->about].word : finding->matter;
    return matter != NULL ? text_format(book->arena, "%s: %s", text, matter) : text;
}

const char *book_finding_id(const Book *book, const Finding *finding)
{
    return markdown_id(book->arena, str_from(heading_of(book, finding)));
}

void book_finding_item(Book *book, const Finding *finding)
{
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, finding->verdict == VERDICT_OPEN ? STR("open: ") : STR(""));
    markdown_format(&book->md, "%s: ", book_severity(finding->severity));
    markdown_link(&book->md, str_from(heading_of(book, finding)),
                  text_format(book->arena, "#%s", book_finding_id(book, finding)));
    markdown_text(&book->md, STR(": "));
    book_prose(book, finding->message);
}

/* ---- What a note points at ------------------------------------------------------------------------------ */

/* The statement of a thing in the spec, its block included. */
typedef struct Stated {
    Span at;
    const Entity *thing;
    bool shared; /* a part: several things are stated by it */
} Stated;

typedef struct Statements {
    Stated *list; /* by where they begin */
    size_t count;
} Statements;

static int compare_stated(const void *a, const void *b)
{
    const Stated *x = a, *y = b;
    if (x->at.start != y->at.start) {
        return x->at.start < y->at.start ? -1 : 1;
    }
    return (x->thing->name > y->thing->name) - (x->thing->name < y->thing->name);
}

/* Where all ends that stands in its block; as deep as a spec may be nested. */
static uint32_t end_of(const Tree *tree, NodeId statement)
{
    const Node *node = tree_node(tree, statement);
    uint32_t end = node->end;
    for (NodeId child = node->flags & NODE_HAS_BLOCK ? node->u.child : 0; child != 0; child = tree_node(tree, child)->next) {
        uint32_t child_end = end_of(tree, child);
        end = child_end > end ? child_end : end;
    }
    return end;
}

static Statements statements_of(const Book *book)
{
    Statements all = {NULL, 0};
    size_t most = 0;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        most++;
    }
    all.list = ARENA_ARRAY(book->arena, Stated, most + 1);
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        const Tree *tree = t->in->model->tree;
        Span at = {tree_span(tree, t->entity->node).start, end_of(tree, t->entity->node)};
        all.list[all.count++] = (Stated){.at = at, .thing = t->entity};
    }
    if (all.count > 1) {
        qsort(all.list, all.count, sizeof(Stated), compare_stated);
    }
    for (size_t i = 1; i < all.count; i++) {
        if (all.list[i].at.start == all.list[i - 1].at.start) {
            all.list[i].shared = all.list[i - 1].shared = true;
        }
    }
    return all;
}

/* The name of the one thing that a place is of; empty: it is of none, or of several. */
static Str owner_of(const Book *book, const Statements *all, Span place)
{
    size_t from = 0, to = all->count; /* those before `from` begin at or before the place */
    while (from < to) {
        size_t middle = (from + to) / 2;
        if (all->list[middle].at.start <= place.start) {
            from = middle + 1;
        } else {
            to = middle;
        }
    }
    const Stated *last = from > 0 ? &all->list[from - 1] : NULL;
    bool inside = last != NULL && !last->shared && place.end <= last->at.end;
    return inside ? book_name(book, last->thing) : STR("");
}

/* On the terminal a note stands under the words of the spec that it points at: "`protect 30 A fuse` of `main`: ". */
static void write_pointed_at(Book *book, const Statements *all, const FindingNote *note)
{
    Str words = span_text(&book->outcome->spec->sources, note->at);
    Str owner = owner_of(book, all, note->at);
    const char *named = text_format(book->arena, "`%.*s`", STR_ARG(owner));
    size_t line = 0;
    while (line < words.length && words.text[line] != '\n' && words.text[line] != '\r') {
        line++;
    }
    if (words.length == 0) {
        return;
    }
    markdown_code(&book->md, line < words.length ? str_from(text_format(book->arena, "%.*s ...", (int)line, words.text)) : words);
    if (owner.length > 0 && !str_equal(owner, words) && strstr(note->text, named) == NULL) {
        markdown_text(&book->md, STR(" of "));
        markdown_code(&book->md, owner);
    }
    markdown_text(&book->md, STR(": "));
}

static void write_notes(Book *book, const Statements *all, const Finding *finding)
{
    if (finding->place_note != NULL) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        book_prose(book, finding->place_note);
    }
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        if (note->text != NULL) {
            markdown_item(&book->md, MARKDOWN_BULLET, 0);
            write_pointed_at(book, all, note);
            book_prose(book, note->text);
        }
    }
}

static void write_remedies(Book *book, const Finding *finding)
{
    if (finding->remedies == NULL) {
        return;
    }
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, STR("It would hold with: "));
    for (const Remedy *r = finding->remedies; r != NULL; r = r->next) {
        book_prose(book, r->text);
        markdown_text(&book->md, r->next != NULL ? STR("; or ") : STR(""));
    }
}

static void write_settles(Book *book, const Finding *finding)
{
    for (const Settle *settle = finding->settles; settle != NULL; settle = settle->next) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        markdown_text(&book->md, STR("It hangs on "));
        markdown_code(&book->md, str_from(settle->input));
        switch (settle->state) {
        case SETTLE_FOUND:
            markdown_text(&book->md, STR(": "));
            markdown_text(&book->md, str_from(settle->text));
            break;
        case SETTLE_NOT_ALONE: markdown_text(&book->md, STR(": no value of it alone settles it")); break;
        case SETTLE_NOT_TRIED:
            markdown_text(&book->md,
                          STR(": what settles it was not looked for, as there was too much to compute"));
            break;
        case SETTLE_NO_VALUE: break;
        }
    }
}

/* Of one that is set aside, what would settle it was not looked for. */
static void write_depends(Book *book, const Finding *finding)
{
    if (finding->depends != NULL && finding->settles == NULL) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        markdown_text(&book->md, STR("It hangs on: "));
        for (const Depend *d = finding->depends; d != NULL; d = d->next) {
            markdown_code(&book->md, str_from(d->text));
            markdown_text(&book->md, d->next != NULL ? STR(", ") : STR(""));
        }
    }
    write_settles(book, finding);
    if (finding->only_with != NULL) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        markdown_format(&book->md, "It is so only with %s", finding->only_with);
    }
}

static void write_waiver(Book *book, const Finding *finding)
{
    const Waiver *waiver = finding->waiver;
    if (waiver == NULL) {
        return;
    }
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    if (waiver->has_until) {
        markdown_format(&book->md, "Set aside until %s", book_date(book, waiver->until).text);
    } else {
        markdown_text(&book->md, STR("Set aside without an end"));
    }
    markdown_text(&book->md, STR(". Reason given: "));
    markdown_text(&book->md, waiver->because.length > 0 ? waiver->because : STR("none"));
}

static void write_finding(Book *book, const Statements *all, const Finding *finding)
{
    markdown_heading(&book->md, 4, str_from(heading_of(book, finding)), book_finding_id(book, finding));
    markdown_paragraph(&book->md);
    markdown_format(&book->md, "%s: ", book_severity(finding->severity));
    book_prose(book, finding->message);
    markdown_text(&book->md, STR("."));
    write_notes(book, all, finding);
    write_remedies(book, finding);
    write_depends(book, finding);
    if (finding->guessed) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        markdown_text(&book->md, STR("It rests on a value that the owner guessed or estimated."));
    }
    write_waiver(book, finding);
    markdown_item(&book->md, MARKDOWN_BULLET, 0);
    markdown_text(&book->md, STR("Stated in "));
    markdown_code(&book->md, book_place(book, finding->place));
    markdown_text(&book->md, STR("; rule: "));
    book_prose(book, finding->rule->title);
    markdown_text(&book->md, STR(" ("));
    book_prose(book, finding->rule->source);
    markdown_text(&book->md, STR(")"));
}

typedef struct Part {
    const char *heading;
    const char *none;
    bool waived;
    Verdict verdict; /* of those that are not waived */
    int severity;    /* -1: any */
} Part;

static const Part parts[] = {
    {"Faults", "No rule that could be judged is broken as a fault.", false, VERDICT_BROKEN, SEVERITY_FAULT},
    {"Warnings", "No warning.", false, VERDICT_BROKEN, SEVERITY_WARNING},
    {"Advice", "No advice.", false, VERDICT_BROKEN, SEVERITY_ADVICE},
    {"Open", "Nothing is open: no finding hangs on what is undecided.", false, VERDICT_OPEN, -1},
    {"Set aside by waivers", "No finding is set aside.", true, VERDICT_BROKEN, -1},
};

static bool belongs(const Finding *finding, const Part *part)
{
    if (part->waived || finding->waiver != NULL) {
        return part->waived == (finding->waiver != NULL);
    }
    return finding->verdict == part->verdict &&
           (part->severity < 0 || finding->severity == (Severity)part->severity);
}

static void write_part(Book *book, const Statements *all, const Part *part)
{
    bool any = false;
    markdown_heading(&book->md, 3, str_from(part->heading), NULL);
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        if (f->subject != NULL && belongs(f, part)) {
            write_finding(book, all, f);
            any = true;
        }
    }
    if (!any) {
        book_say(book, "%s", part->none);
    }
}

void book_findings(Book *book)
{
    Statements all = statements_of(book);
    book_say(
        book,
        "Severities: a fault departs from a mandatory requirement or is a danger; a warning departs from good"
        " practice; advice is advice. Open: broken for some of the values that are still possible.");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        write_part(book, &all, &parts[i]);
    }
}
