/*
 * What the terminal's manual and the pages of docs/ both say: the headings of kinds, limits in words, the
 * forms of statements and quantities, units by what they measure, what severities and dangers mean. Private
 * to tools/manual*.c.
 *
 * Knows the tables; not how a page is laid out.
 */
#ifndef GARBOARD_TOOLS_MANUAL_WORDS_H
#define GARBOARD_TOOLS_MANUAL_WORDS_H

#include "base/buf.h"
#include "language/schema.h"
#include "language/shape.h"
#include "language/suggest.h"
#include "rules/rule.h"

/** A heading under which kinds are listed; the kinds from `first` to the next section's are its. */
typedef struct KindSection {
    const char *title;
    KindId first;
} KindSection;
extern const KindSection kind_sections[];
extern const int kind_section_count;
/** The next kind of a section after `previous` (KIND_NONE: the first); KIND_NONE at the end. */
KindId section_next(int section, KindId previous);

/** The kind or group of that word, or KIND_NONE. */
KindId kind_or_group(Str word);
/**
 * The groups whose properties a kind also takes: the next after `previous`, KIND_NONE to begin and at the
 * end.
 */
KindId kind_next_group(KindId kind, KindId previous);
/** Its own properties: the next after `previous`, PROP_NONE to begin and at the end. */
PropId kind_next_own(KindId kind, PropId previous);

/**
 * "a plain number, whole, more than 0; may stand several times": its shape and limits in words, whether it
 * opens a block, repeats.
 */
void prop_describe(Buf *to, Shapes *shapes, PropId prop);

/** A statement or a form of value: how it is written, and what it means. */
typedef struct Form {
    const char *written; /* NULL: a statement, see `statement` */
    uint8_t statement;   /* NodeKind */
    const char *meaning;
} Form;
extern const Form statement_forms[];
extern const int statement_form_count;
extern const Form value_forms[];
extern const int value_form_count;
const char *form_written(const Form *form);

/**
 * The next unit after `previous` (UNIT_NONE: any) that measures the same as it, in the order of the table;
 * UNIT_NONE at the end.
 */
UnitId unit_next_alike(UnitId previous);
/** Whether no unit before it measures the same: it begins a list. */
bool unit_is_first(UnitId unit);
/**
 * What it is in SI: "0.3048 m", "value + 273.15, in K"; nothing for a conductor size, or where it is the SI
 * unit itself.
 */
void unit_describe_factor(Buf *to, UnitId unit);

char severity_letter(Severity severity); /* 'F' */
/** What to bear in mind where a fault could hurt someone; NULL for DANGER_NONE. */
const char *danger_caution(Danger danger);
/** "us", "iso", "us and iso" */
const char *basis_describe(uint8_t basis);
/** What a rule is asked of: "each feed with a cable of its own; each bank, switch"; "the boat as a whole". */
void rule_describe_subjects(Buf *to, const Rule *rule);

/** What to say where nothing has the name that was asked for: the near names, or where to look. */
const char *manual_nothing(Arena *arena, const char *what, const Suggestions *near, const char *look);

#endif
