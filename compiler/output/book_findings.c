/*
 * The chapter of findings: what is broken, what is open, what is set aside. Findings are made by the rules;
 * here they are told, each under a heading that other chapters link to.
 */
#include "output/book_chapters.h"
#include "rules/settle.h"

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

static void write_notes(Book *book, const Finding *finding)
{
    if (finding->place_note != NULL) {
        markdown_item(&book->md, MARKDOWN_BULLET, 0);
        book_prose(book, finding->place_note);
    }
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        if (note->text != NULL) {
            markdown_item(&book->md, MARKDOWN_BULLET, 0);
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

static void write_finding(Book *book, const Finding *finding)
{
    markdown_heading(&book->md, 4, str_from(heading_of(book, finding)), book_finding_id(book, finding));
    markdown_paragraph(&book->md);
    markdown_format(&book->md, "%s: ", book_severity(finding->severity));
    book_prose(book, finding->message);
    markdown_text(&book->md, STR("."));
    write_notes(book, finding);
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

static void write_part(Book *book, const Part *part)
{
    bool any = false;
    markdown_heading(&book->md, 3, str_from(part->heading), NULL);
    for (const Finding *f = book->outcome->findings; f != NULL; f = f->next) {
        if (f->subject != NULL && belongs(f, part)) {
            write_finding(book, f);
            any = true;
        }
    }
    if (!any) {
        book_say(book, "%s", part->none);
    }
}

void book_findings(Book *book)
{
    book_say(
        book,
        "Severities: a fault departs from a mandatory requirement or is a danger; a warning departs from good"
        " practice; advice is advice. Open: broken for some of the values that are still possible.");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        write_part(book, &parts[i]);
    }
}
