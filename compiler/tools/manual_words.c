/* See manual_words.h. */
#include "tools/manual_words.h"

#include "base/num.h"
#include "syntax/statement.h"

#include <math.h>
#include <string.h>

/* ---- Kinds and properties ---- */

const KindSection kind_sections[] = {
    {"The boat and its use", KIND_BOAT},
    {"DC power", KIND_BANK},
    {"AC power", KIND_INLET},
    {"Water, waste, bilge", KIND_TANK},
    {"Drive and fuel", KIND_ENGINE},
    {"Climate and gas", KIND_HEATER},
    {"Safety", KIND_ALARM},
    {"Navigation", KIND_INSTRUMENT},
    {"The rest", KIND_ITEM},
};
const int kind_section_count = sizeof kind_sections / sizeof kind_sections[0];

KindId section_next(int section, KindId previous)
{
    KindId next = previous == KIND_NONE ? kind_sections[section].first : previous + 1;
    KindId end = section + 1 < kind_section_count ? kind_sections[section + 1].first : KIND_COUNT;
    return next < end ? next : KIND_NONE;
}

KindId kind_or_group(Str word)
{
    KindId found = schema_find_kind(word);
    for (KindId kind = KIND_NONE + 1; found == KIND_NONE && kind < KIND_COUNT; kind++) {
        if (kinds[kind].group && str_is(word, kinds[kind].word)) {
            found = kind;
        }
    }
    return found;
}

KindId kind_next_group(KindId kind, KindId previous)
{
    bool passed = previous == KIND_NONE; /* the properties of one group follow each other */
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
        KindId owner = (KindId)props[p].owner;
        if (owner != kind && owner != previous && passed) {
            return owner;
        }
        passed = passed || owner == previous;
    }
    return KIND_NONE;
}

PropId kind_next_own(KindId kind, PropId previous)
{
    PropId next = schema_next_prop(kind, previous);
    return next != PROP_NONE && props[next].owner == kind ? next : PROP_NONE;
}

/* The first quantity of a shape, or NULL. */
static const Atom *first_quantity(const Shape *shape)
{
    for (int i = 0; i < shape->item_count; i++) {
        for (int a = 0; a < shape->items[i].atom_count; a++) {
            if (shape->items[i].atoms[a].kind == ATOM_QUANTITY) {
                return &shape->items[i].atoms[a];
            }
        }
    }
    return NULL;
}

static void write_limit(Buf *to, const Atom *quantity, double limit)
{
    num_write(to, limit, 6);
    if (!quantity->money && quantity->unit_count > 0 && quantity->units[0].unit != UNIT_NONE) {
        buf_char(to, ' ');
        unit_write(to, quantity->units[0]);
    }
}

/* A comma before what is not the first. */
static void add_limit(Buf *to, size_t start, const char *text)
{
    buf_text(to, to->length > start ? ", " : "");
    buf_text(to, text);
}

static void describe_bounds(Buf *to, double least, double most, const Atom *quantity, size_t start)
{
    if (least != 0.0 && most != 0.0) {
        add_limit(to, start, "from ");
        write_limit(to, quantity, least);
        buf_text(to, " to ");
        write_limit(to, quantity, most);
    } else if (least != 0.0) {
        add_limit(to, start, "at least ");
        write_limit(to, quantity, least);
    } else if (most != 0.0) {
        add_limit(to, start, "at most ");
        write_limit(to, quantity, most);
    }
}

/* One more quantity with limits, by the word before it: ", then insulation from 40 C to 260 C". */
static void describe_later(Buf *to, const PropRow *row, const Shape *shape, size_t start)
{
    for (int i = 1; i < shape->item_count && row->later_slot > 0; i++) {
        const ShapeItem *item = &shape->items[i], *before = &shape->items[i - 1];
        if (item->kind != ITEM_ATOM || item->slot != row->later_slot) {
            continue;
        }
        add_limit(to, start, "then ");
        if (before->kind == ITEM_CONNECTING) {
            buf_add(to, before->word);
            buf_char(to, ' ');
        }
        describe_bounds(to, row->later_least, row->later_most, &item->atoms[0], to->length);
    }
}

/* After the shape: what the values of its quantities can be, where that goes without saying for none. */
static void describe_limits(Buf *to, const PropRow *row, const Atom *quantity)
{
    size_t start = to->length - 1;
    if (quantity == NULL) {
        return;
    }
    if (row->whole) {
        add_limit(to, start, "whole");
    }
    if (row->sign == SIGN_POSITIVE && row->least == 0.0) {
        add_limit(to, start, "more than 0");
    } else if (row->sign == SIGN_NOT_POSITIVE) {
        add_limit(to, start, "0 or less");
    } else if (row->sign == SIGN_ANY && row->least == 0.0) {
        add_limit(to, start, "may be negative");
    }
    describe_bounds(to, row->least, row->most, quantity, start);
    if (row->most_second != 0.0) {
        buf_text(to, " or ");
        num_write(to, row->most_second, 6);
        buf_char(to, ' ');
        unit_write(to, quantity->units[1]);
    }
}

void prop_describe(Buf *to, Shapes *shapes, PropId prop)
{
    const Shape *shape = shapes_get(shapes, prop);
    shape_describe(to, shape);
    size_t start = to->length - 1;
    describe_limits(to, &props[prop], first_quantity(shape));
    describe_later(to, &props[prop], shape, start);
    if (props[prop].block != KIND_NONE) {
        buf_text(to, ", then a block of its own");
    }
    if (props[prop].repeats) {
        buf_text(to, "; may stand several times");
    }
}

/* ---- Statements and values ---- */

const Form statement_forms[] = {
    {NULL, NODE_EDITION, "the version of the language; the first statement of the main file"},
    {NULL, NODE_INCLUDE, "reads another file, found from the folder of this one; a file is read once"},
    {NULL, NODE_THING, "a thing of the boat; its properties stand in the block"},
    {"PROPERTY value ...", 0, "a property of the thing whose block it stands in; ends with its line"},
    {NULL, NODE_PART,
     "a description to be used by things that say `is NAME`; what a thing states itself wins"},
    {NULL, NODE_CHOICE,
     "a decision to make, with its options; things that an option holds are there if it is picked"},
    {NULL, NODE_OPTION, "in a choice: one of its answers"},
    {NULL, NODE_PICK, "in a choice: the option decided for; left out while the choice is open"},
    {NULL, NODE_BECAUSE, "in a choice: why that option"},
    {NULL, NODE_SET, "in an option: replaces a property of a thing that stands outside of it; of one that repeats all its lines"},
    {NULL, NODE_SCORE, "in an option: how well it meets a `criterion`"},
    {NULL, NODE_WAIVE, "sets a finding aside, in sight: the book lists it with its reason"},
};
const int statement_form_count = sizeof statement_forms / sizeof statement_forms[0];

const Form value_forms[] = {
    {"12.5 V", 0, "an exact quantity: number and unit, with or without a blank"},
    {"30..50 l", 0, "a range: undecided between its ends"},
    {">= 500 Ah", 0, "at least so much"},
    {"<= 20 kg", 0, "at most so much"},
    {"500 W +/- 10 %", 0, "a tolerance, as a share or in the same unit: 500 +/- 50 W"},
    {"?", 0, "not known yet"},
    {"6 ft 3 in", 0, "feet and inches as one length; 1 1/2 in and 3/4 in are lengths too"},
    {"12_500.00 EUR", 0, "money: an amount and the three capitals of its currency (ISO 4217)"},
    {"6 mm2, 10 AWG, 2/0 AWG, 10 SAE", 0,
     "conductor sizes; a range of them runs from thin to thick: 16..8 AWG"},
    {"2.4 g/kWh", 0, "a unit by another, where the property asks for it"},
    {"2026-03-14", 0, "a date: year, month, day"},
    {"18:00..23:00", 0, "times of day, from and to; may pass midnight"},
    {"\"text\"", 0, "a text; may go on as another quoted text on the next line"},
    {"yes, no", 0, "an answer"},
    {"measured, labelled, estimated, guessed", 0,
     "as the last word of a property: how well its value is known"},
};
const int value_form_count = sizeof value_forms / sizeof value_forms[0];

const char *form_written(const Form *form)
{
    return form->written != NULL ? form->written : statement_form((NodeKind)form->statement);
}

/* ---- Units ---- */

static bool alike(UnitId a, UnitId b)
{
    return dimension_equal(units[a].dimension, units[b].dimension);
}

UnitId unit_next_alike(UnitId previous)
{
    for (UnitId unit = previous + 1; unit < UNIT_COUNT; unit++) {
        if (alike(unit, previous)) {
            return unit;
        }
    }
    return UNIT_NONE;
}

bool unit_is_first(UnitId unit)
{
    for (UnitId before = UNIT_NONE + 1; before < unit; before++) {
        if (alike(before, unit)) {
            return false;
        }
    }
    return true;
}

void unit_describe_factor(Buf *to, UnitId unit)
{
    const Unit *row = &units[unit];
    double scale;
    const char *si = dimension_si_text(row->dimension, &scale);
    if (isnan(row->factor) || si[0] == '\0' || (row->factor * scale == 1.0 && row->offset == 0.0)) {
        return;
    }
    if (row->offset != 0.0) {
        buf_text(to, "(number + ");
        num_write(to, row->offset / row->factor, 7);
        buf_text(to, row->factor == 1.0 ? ")" : ") x ");
    }
    if (row->factor != 1.0 || row->offset == 0.0) {
        num_write(to, row->factor * scale, 10);
    }
    if (strcmp(si, "1") != 0) {
        buf_char(to, ' ');
        buf_text(to, si);
    }
}

/* ---- Rules ---- */

char severity_letter(Severity severity)
{
    static const char letters[] = {[SEVERITY_ADVICE] = 'A', [SEVERITY_WARNING] = 'W', [SEVERITY_FAULT] = 'F'};
    return letters[severity];
}

const char *danger_caution(Danger danger)
{
    static const char *const cautions[] = {
        [DANGER_NONE] = NULL,
        [DANGER_MAINS] = "Mains and shore power kill. Local codes apply before anything here; in many places "
                         "only a licensed "
                         "electrician may do such work.",
        [DANGER_BATTERY] = "A battery gives thousands of amps into a short circuit, and gas or fire after "
                           "it. Follow its maker "
                           "and the local codes; have the work checked by somebody qualified.",
        [DANGER_GAS] = "Gas that leaks gathers low in a hull and explodes. Local codes apply before anything "
                       "here; in many "
                       "places only a licensed fitter may do such work.",
        [DANGER_FUEL] = "Fuel and its vapour burn and explode. Local codes apply before anything here; have "
                        "the work checked "
                        "by somebody qualified.",
        [DANGER_FLOODING] =
            "What opens the hull can sink the boat. Local rules apply before anything here; have fittings "
            "below the waterline checked by somebody qualified.",
        [DANGER_FIRE] = "Fire aboard leaves minutes, and carbon monoxide kills those who sleep. Local rules say what "
                        "a boat must carry; alarms are tested and extinguishers inspected as their makers ask.",
        [DANGER_DRINKING] = "Bad water makes everybody aboard ill at once, where help is far. Drinking water shares no hose, "
                            "pump or tank with anything else; disinfect a system that has, and have its water tested.",
    };
    return cautions[danger];
}

const char *basis_describe(uint8_t basis)
{
    return basis == ON_US ? "us" : basis == ON_ISO ? "iso" : "us and iso";
}

void rule_describe_subjects(Buf *to, const Rule *rule)
{
    size_t start = to->length;
    if (rule->judge_feed != NULL) {
        add_limit(to, start, "each feed with a cable of its own");
    }
    for (int i = 0; i < (int)(sizeof rule->kinds / sizeof rule->kinds[0]) && rule->kinds[i] != KIND_NONE;
         i++) {
        add_limit(to, start, "each ");
        buf_text(to, kinds[rule->kinds[i]].word);
    }
    if (rule->judge_boat != NULL || to->length == start) {
        add_limit(to, start, "the boat as a whole");
    }
}

/* ---- Nothing of that name ---- */

const char *manual_nothing(Arena *arena, const char *what, const Suggestions *near, const char *look)
{
    Buf names;
    buf_init(&names, arena);
    if (suggest_write(&names, near)) {
        return text_format(arena, "%s; did you mean %s?", what, names.text);
    }
    return text_format(arena, "%s; %s", what, look);
}
