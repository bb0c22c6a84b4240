/*
 * The pages of docs/ that are made from the tables: reference.md, rules.md, figures.md. See manual.h.
 *
 * Knows the same tables as the terminal's manual; the Markdown writer owns blank lines and escaping.
 */
#include "figures/figure.h"
#include "output/book_kind.h"
#include "output/markdown.h"
#include "output/report.h"
#include "text/message.h"
#include "tools/manual.h"
#include "tools/manual_words.h"
#include "tools/page.h"

#include <string.h>

typedef struct Reference {
    Markdown md;
    Arena *arena;
    Shapes *shapes;
} Reference;

enum { SPEC_COLUMNS = 100 };

static void say(Reference *r, const char *text)
{
    markdown_text(&r->md, str_from(text));
}

/* Text of the tables: what stands in backquotes is code. */
static void say_prose(Reference *r, const char *text)
{
    for (bool code = false; *text != '\0'; code = !code) {
        Str piece = {text, strcspn(text, "`")};
        if (code) {
            markdown_code(&r->md, piece);
        } else {
            markdown_text(&r->md, piece);
        }
        text += piece.length;
        text += *text == '`';
    }
}

/* The same, with a capital in front: the tables' lines are parts of sentences. */
static void say_sentence(Reference *r, const char *text)
{
    if (*text >= 'a' && *text <= 'z') {
        say(r, text_format(r->arena, "%c", *text - 'a' + 'A'));
        text++;
    }
    say_prose(r, text);
}

static void prose_cell(Reference *r, const char *text)
{
    markdown_cell(&r->md);
    say_prose(r, text);
}

static void paragraph(Reference *r, const char *text)
{
    markdown_paragraph(&r->md);
    say_prose(r, text);
}

static void begin(Reference *r, Buf *to, Arena *arena, const char *title, const char *command)
{
    *r = (Reference){.arena = arena, .shapes = shapes_new(arena)};
    markdown_init(&r->md, to);
    markdown_heading(&r->md, 1, str_from(title), NULL);
    paragraph(r, "Made from the program's own tables by ");
    markdown_code(&r->md, str_from(command));
    say(r, "; edit those, not this page.");
}

/* ---- reference.md ---- */

static void write_forms(Reference *r, const char *title, const char *column, const Form *forms, int count)
{
    markdown_heading(&r->md, 2, str_from(title), NULL);
    markdown_table(&r->md, (const MarkdownColumn[]){{column, MARKDOWN_LEFT}, {"Meaning", MARKDOWN_LEFT}}, 2);
    for (int i = 0; i < count; i++) {
        markdown_row(&r->md);
        markdown_cell_code(&r->md, str_from(form_written(&forms[i])));
        prose_cell(r, forms[i].meaning);
    }
}

static void write_units(Reference *r)
{
    markdown_heading(&r->md, 2, STR("Units"), NULL);
    paragraph(r, "Spelling counts. A unit by another is written with a slash where a property asks for it.");
    markdown_table(&r->md,
                   (const MarkdownColumn[]){{"Unit", MARKDOWN_LEFT},
                                            {"Name", MARKDOWN_LEFT},
                                            {"Measures", MARKDOWN_LEFT},
                                            {"In SI", MARKDOWN_LEFT},
                                            {"Source", MARKDOWN_LEFT}},
                   5);
    for (UnitId first = UNIT_NONE + 1; first < UNIT_COUNT; first++) {
        for (UnitId unit = unit_is_first(first) ? first : UNIT_NONE; unit != UNIT_NONE;
             unit = unit_next_alike(unit)) {
            Buf factor;
            buf_init(&factor, r->arena);
            unit_describe_factor(&factor, unit);
            markdown_row(&r->md);
            markdown_cell_code(&r->md, str_from(units[unit].word));
            markdown_cell_text(&r->md, str_from(units[unit].meaning));
            markdown_cell_text(&r->md, str_from(dimension_name(units[unit].dimension)));
            markdown_cell_text(&r->md, buf_str(&factor));
            markdown_cell_text(&r->md, str_from(units[unit].source));
        }
    }
}

static void write_value_cell(Reference *r, PropId prop)
{
    Buf text;
    buf_init(&text, r->arena);
    prop_describe(&text, r->shapes, prop);
    markdown_cell_text(&r->md, buf_str(&text));
}

static void write_left_out_cell(Reference *r, const PropRow *row)
{
    markdown_cell(&r->md);
    if (row->required) {
        markdown_strong(&r->md, STR("required"));
        if (row->spared_by != PROP_NONE) {
            say_prose(r, text_format(r->arena, ", but with `%s%s%s`", props[row->spared_by].word,
                                     row->spared_word != NULL ? " " : "", row->spared_word != NULL ? row->spared_word : ""));
        }
    } else if (row->assumed != NULL) {
        markdown_code(&r->md, str_from(row->assumed));
        for (int i = 0; i < USUALS_MOST && row->usual[i].says != NULL; i++) {
            say_prose(r, text_format(r->arena, "; with `%s %s` `%s`", props[row->usual_by].word, row->usual[i].says, row->usual[i].assumed));
        }
        say_prose(r, text_format(r->arena, " (%s)", row->authority));
    } else {
        say(r, "unknown");
    }
}

static void write_props(Reference *r, KindId kind)
{
    PropId prop = kind_next_own(kind, PROP_NONE);
    if (prop == PROP_NONE) {
        return;
    }
    markdown_table(&r->md,
                   (const MarkdownColumn[]){{"Property", MARKDOWN_LEFT},
                                            {"What it says", MARKDOWN_LEFT},
                                            {"Value", MARKDOWN_LEFT},
                                            {"Left out", MARKDOWN_LEFT},
                                            {"Example", MARKDOWN_LEFT}},
                   5);
    for (; prop != PROP_NONE; prop = kind_next_own(kind, prop)) {
        markdown_row(&r->md);
        markdown_cell_code(&r->md, str_from(props[prop].word));
        prose_cell(r, props[prop].help);
        write_value_cell(r, prop);
        write_left_out_cell(r, &props[prop]);
        markdown_cell_code(&r->md, str_from(props[prop].example));
    }
}

/* What links to it: a kind's own word, which viewers derive from its heading anyway. */
static const char *kind_anchor(Reference *r, KindId kind)
{
    return kinds[kind].group ? text_format(r->arena, "group-%s", kinds[kind].word) : kinds[kind].word;
}

static void write_groups(Reference *r, KindId kind)
{
    KindId group = kind_next_group(kind, KIND_NONE);
    if (group == KIND_NONE) {
        return;
    }
    paragraph(r, "Also takes the properties of ");
    for (bool first = true; group != KIND_NONE; group = kind_next_group(kind, group), first = false) {
        say(r, first ? "" : ", ");
        markdown_link_code(&r->md, str_from(kinds[group].word),
                           text_format(r->arena, "#%s", kind_anchor(r, group)));
    }
    say(r, ".");
}

static void write_kind(Reference *r, KindId kind)
{
    const KindRow *row = &kinds[kind];
    markdown_heading(&r->md, 3, str_from(row->word), kind_anchor(r, kind));
    markdown_paragraph(&r->md);
    say_sentence(r, row->help);
    say(r, row->single ? "; a spec has exactly one." : ".");
    if (row->system != SYSTEM_NONE) {
        say(r, " Stands in the book's chapter ");
        markdown_code(&r->md, str_from(system_word(book_system_of_kind(kind))));
        say(r, ".");
    }
    write_groups(r, kind);
    write_props(r, kind);
    if (row->example != NULL) {
        markdown_code_block(&r->md, str_from(row->example), "text");
    }
}

static void write_index(Reference *r)
{
    for (int s = 0; s < kind_section_count; s++) {
        markdown_item(&r->md, MARKDOWN_BULLET, 0);
        markdown_format(&r->md, "%s:", kind_sections[s].title);
        for (KindId kind = section_next(s, KIND_NONE); kind != KIND_NONE; kind = section_next(s, kind)) {
            say(r, " ");
            markdown_link_code(&r->md, str_from(kinds[kind].word),
                               text_format(r->arena, "#%s", kind_anchor(r, kind)));
        }
    }
}

static void write_mistakes(Reference *r)
{
    markdown_heading(&r->md, 2, STR("Mistakes"), NULL);
    paragraph(r, "What can be wrong with a spec before any rule is asked. The name stands in brackets after "
                 "the message.");
    markdown_table(&r->md,
                   (const MarkdownColumn[]){{"Mistake", MARKDOWN_LEFT}, {"What it is", MARKDOWN_LEFT}}, 2);
    for (int m = 0; m < MESSAGE_COUNT; m++) {
        markdown_row(&r->md);
        markdown_cell_code(&r->md, str_from(message_kinds[m].name));
        prose_cell(r, message_kinds[m].meaning);
    }
}

void manual_reference(Buf *to, Arena *arena)
{
    Reference r;
    begin(&r, to, arena, "The language: reference", "garboard kinds --format markdown");
    paragraph(&r, "The tour of the language is ");
    markdown_link(&r.md, STR("language.md"), "language.md");
    say(&r, ". A property that is left out and has no default is unknown, never zero; a default that is used "
            "is an assumption, "
            "and the book lists it.");
    write_index(&r);
    write_forms(&r, "Statements", "Statement", statement_forms, statement_form_count);
    write_forms(&r, "Values", "Value", value_forms, value_form_count);
    write_units(&r);
    for (int s = 0; s < kind_section_count; s++) {
        markdown_heading(&r.md, 2, str_from(kind_sections[s].title), NULL);
        for (KindId kind = section_next(s, KIND_NONE); kind != KIND_NONE; kind = section_next(s, kind)) {
            write_kind(&r, kind);
        }
    }
    markdown_heading(&r.md, 2, STR("Shared properties, and the insides of blocks"), NULL);
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (kinds[kind].group) {
            write_kind(&r, kind);
        }
    }
    write_mistakes(&r);
    markdown_end(&r.md);
}

/* ---- rules.md ---- */

static void write_example(Reference *r, const char *title, const char *spec)
{
    if (spec == NULL) {
        return;
    }
    Buf opened;
    buf_init(&opened, r->arena);
    page_open_blocks(&opened, str_from(spec), SPEC_COLUMNS);
    paragraph(r, title);
    markdown_code_block(&r->md, buf_str(&opened), "boat");
}

static void write_labelled(Reference *r, const char *label, const char *text)
{
    if (text != NULL) {
        markdown_paragraph(&r->md);
        markdown_strong(&r->md, str_from(label));
        say_prose(r, text_format(r->arena, " %s", text));
    }
}

static void write_rule(Reference *r, const Rule *rule)
{
    Buf subjects;
    buf_init(&subjects, r->arena);
    rule_describe_subjects(&subjects, rule);
    markdown_heading(&r->md, 3, str_from(rule->name), rule->name);
    markdown_paragraph(&r->md);
    markdown_strong(&r->md, str_from(report_severity(rule->severity)));
    say_prose(r, text_format(r->arena, " (basis: %s): %s. Looks at %s.", basis_describe(rule->basis),
                             rule->title, subjects.text));
    paragraph(r, rule->why);
    write_labelled(r, "Source:", rule->source);
    if (rule->danger != DANGER_NONE) {
        markdown_quote(&r->md);
        say(r, danger_caution(rule->danger));
    }
    write_example(r, "Broken by:", rule->breaks);
    write_example(r, "Holds for:", rule->holds);
    write_example(r, "Left open by:", rule->open);
    write_labelled(r, "Never open:", rule->open == NULL ? rule->never_open : NULL);
}

static void write_rule_index(Reference *r)
{
    markdown_table(&r->md,
                   (const MarkdownColumn[]){{"Rule", MARKDOWN_LEFT},
                                            {"", MARKDOWN_LEFT},
                                            {"What it asks", MARKDOWN_LEFT},
                                            {"Basis", MARKDOWN_LEFT}},
                   4);
    for (size_t f = 0; f < rule_family_count; f++) {
        for (size_t i = 0; i < rule_families[f]->count; i++) {
            const Rule *rule = &rule_families[f]->rules[i];
            markdown_row(&r->md);
            markdown_cell(&r->md);
            markdown_link_code(&r->md, str_from(rule->name), text_format(r->arena, "#%s", rule->name));
            markdown_cell_text(&r->md,
                               str_from(text_format(r->arena, "%c", severity_letter(rule->severity))));
            prose_cell(r, rule->title);
            markdown_cell_text(&r->md, str_from(basis_describe(rule->basis)));
        }
    }
}

void manual_rules_reference(Buf *to, Arena *arena)
{
    Reference r;
    begin(&r, to, arena, "The rules", "garboard rules --format markdown");
    paragraph(&r, "A rule holds, is broken, or is open: it then hangs on something undecided, and the "
                  "finding says on what. "
                  "F is a fault (a mandatory requirement or a danger), W a warning (departs from good "
                  "practice), A advice; "
                  "the letter is the gravest that the rule gives. The examples are whole specs, written for "
                  "one rule each: "
                  "other rules may have something to say about them.");
    markdown_quote(&r.md);
    say(&r, "The rules are those that this program knows, told in its own words. A boat that breaks none of "
            "them is not shown "
            "to be safe, nor to comply with anything. Local codes apply, and licensed people do what the law "
            "reserves for "
            "them.");
    write_rule_index(&r);
    for (size_t f = 0; f < rule_family_count; f++) {
        markdown_heading(&r.md, 2, str_from(rule_families[f]->title), NULL);
        for (size_t i = 0; i < rule_families[f]->count; i++) {
            write_rule(&r, &rule_families[f]->rules[i]);
        }
    }
    markdown_end(&r.md);
}

/* ---- figures.md ---- */

void manual_figures_reference(Buf *to, Arena *arena)
{
    Reference r;
    begin(&r, to, arena, "The figures", "garboard kinds figures --format markdown");
    paragraph(&r, "Every number that is computed. ");
    markdown_link(&r.md, STR("computing.md"), "computing.md");
    say(&r, " tells how, with formulas and sources; ");
    markdown_code(&r.md, STR("garboard why SPEC SUBJECT.FIGURE"));
    say(&r, " prints the working of one with the numbers of a boat.");
    markdown_table(&r.md,
                   (const MarkdownColumn[]){{"Figure", MARKDOWN_LEFT},
                                            {"Unit", MARKDOWN_LEFT},
                                            {"What it is", MARKDOWN_LEFT},
                                            {"From", MARKDOWN_LEFT}},
                   4);
    for (int f = FIGURE_NONE + 1; f < FIGURE_COUNT; f++) {
        const FigureRow *row = &figure_rows[f];
        markdown_row(&r.md);
        markdown_cell_code(&r.md, str_from(row->name));
        markdown_cell_text(&r.md, str_from(row->unit != UNIT_NONE ? units[row->unit].word : ""));
        prose_cell(&r, row->help);
        prose_cell(&r, row->source);
    }
    markdown_end(&r.md);
}
