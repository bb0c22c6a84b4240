/*
 * The rules on a terminal: `garboard rules`, and the mistakes that a spec can make, whose names stand in
 * brackets after a message in the same way. See manual.h.
 *
 * Knows the tables of rules and of messages; lays them out with page.h.
 */
#include "output/report.h"
#include "text/message.h"
#include "tools/manual.h"
#include "tools/manual_words.h"
#include "tools/page.h"

enum { INDENT = 2, COLUMN = 27 };

/* ---- The list ---- */

static void list_rule(Page *page, Arena *arena, const Rule *rule)
{
    const char *only = rule->basis == ON_BOTH ? "" : text_format(arena, " (%s)", basis_describe(rule->basis));
    page_entry(page, INDENT, COLUMN,
               str_from(text_format(arena, "%c %s", severity_letter(rule->severity), rule->name)),
               str_from(text_format(arena, "%s%s", rule->title, only)));
}

static void list_all(Page *page, Arena *arena)
{
    for (size_t f = 0; f < rule_family_count; f++) {
        page_heading(page, str_from(rule_families[f]->title));
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            list_rule(page, arena, &rule_families[f]->rules[r]);
        }
        page_blank(page);
    }
    page_heading(page, STR("Mistakes in a spec, told before any rule is asked"));
    for (int m = 0; m < MESSAGE_COUNT; m++) {
        page_entry(page, INDENT + 2, COLUMN, str_from(message_kinds[m].name),
                   str_from(message_kinds[m].meaning));
    }
    page_blank(page);
    page_paragraph(
        page, 0,
        STR("F is a fault (a mandatory requirement or a danger), W a warning (departs from good practice), A "
            "advice: the gravest that the rule gives. A rule of one basis alone says which. `garboard rules "
            "RULE` explains one."));
}

/* ---- One rule ---- */

static void print_section(Page *page, const char *title, const char *text)
{
    if (text != NULL && text[0] != '\0') {
        page_blank(page);
        page_heading(page, str_from(title));
        page_paragraph(page, INDENT, str_from(text));
    }
}

static void print_example(Page *page, Arena *arena, const char *title, const char *spec)
{
    Buf opened;
    if (spec == NULL) {
        return;
    }
    buf_init(&opened, arena);
    page_open_blocks(&opened, str_from(spec), PAGE_COLUMNS - INDENT);
    page_blank(page);
    page_heading(page, str_from(title));
    page_code(page, INDENT, buf_str(&opened));
}

static void print_rule(Page *page, Arena *arena, const Rule *rule)
{
    Buf subjects;
    buf_init(&subjects, arena);
    rule_describe_subjects(&subjects, rule);
    page_title(page, rule->name, str_from(rule->title));
    page_paragraph(
        page, 0,
        str_from(text_format(arena, "%s%s. Basis: %s. Looks at %s.",
                             rule->severity == SEVERITY_ADVICE ? "" : "At worst a ",
                             rule->severity == SEVERITY_ADVICE ? "Advice" : report_severity(rule->severity),
                             basis_describe(rule->basis), subjects.text)));
    print_section(page, "Why", rule->why);
    print_section(page, "Source", rule->source);
    print_section(page, "Caution", danger_caution(rule->danger));
    print_example(page, arena, "Broken by", rule->breaks);
    print_example(page, arena, "Holds for", rule->holds);
    print_example(page, arena, "Left open by", rule->open);
    print_section(page, "Never open", rule->open == NULL ? rule->never_open : NULL);
}

static bool print_mistake(Page *page, Str name)
{
    for (int m = 0; m < MESSAGE_COUNT; m++) {
        if (str_is(name, message_kinds[m].name)) {
            page_title(page, message_kinds[m].name, str_from(message_kinds[m].meaning));
            page_paragraph(page, 0,
                           STR("A mistake in the spec: what stands there is taken for unknown, and the rules "
                               "that need it "
                               "wait. The message itself says what would be right."));
            return true;
        }
    }
    return false;
}

static const char *no_rule(Arena *arena, Str name)
{
    Suggestions near = suggest_begin(name);
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t r = 0; r < rule_families[f]->count; r++) {
            suggest_offer(&near, str_from(rule_families[f]->rules[r].name));
        }
    }
    for (int m = 0; m < MESSAGE_COUNT; m++) {
        suggest_offer(&near, str_from(message_kinds[m].name));
    }
    return manual_nothing(arena, text_format(arena, "there is no rule called `%.*s`", STR_ARG(name)), &near,
                          "`garboard rules` lists them");
}

bool manual_rules(Buf *to, Arena *arena, Str argument, bool color, const char **error)
{
    Page page = {to, color};
    const Rule *rule = rule_find(argument);
    if (argument.length == 0) {
        list_all(&page, arena);
    } else if (rule != NULL) {
        print_rule(&page, arena, rule);
    } else if (!print_mistake(&page, argument)) {
        *error = no_rule(arena, argument);
        return false;
    }
    return true;
}
