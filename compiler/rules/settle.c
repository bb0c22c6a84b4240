/* See settle.h: from findings to inputs, and what has no range: choices, words, yes and no. */
#include "rules/settle.h"

#include "rules/settle_try.h"

#include <math.h>

static Arena *arena_of(const Settler *settler)
{
    return settler->outcome->arena;
}

static Settle *add_settle(Settler *settler, Finding *finding, const Depend *of, const char *input)
{
    Settle **end = &finding->settles;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(arena_of(settler), Settle);
    **end = (Settle){.of = of, .moves = INFINITY, .input = input, .state = SETTLE_NO_VALUE, .text = ""};
    return *end;
}

/* Words: options of a choice, and what a property may say */

static void add_word(Settler *settler, Settle *settle, Str word, Told told)
{
    if (told == TOLD_NOTHING) {
        return;
    }
    SettleWord **end = &settle->words;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(arena_of(settler), SettleWord);
    **end = (SettleWord){.word = word, .told = told};
    settle->state = SETTLE_FOUND;
}

/* "holds with", "only advice with": less severe than the finding itself, "a fault with": more. */
static const char *words_for(const Finding *finding, Told told)
{
    switch (told) {
    case TOLD_HOLDS: return "holds with ";
    case TOLD_BROKEN: return "broken with ";
    case TOLD_FAULT: return "a fault with ";
    case TOLD_WARNING: return finding->severity == SEVERITY_FAULT ? "only a warning with " : "a warning with ";
    case TOLD_ADVICE: return "only advice with ";
    case TOLD_OPEN: return "open with ";
    case TOLD_NOTHING: break;
    }
    return "";
}

static void write_words(Buf *to, const Finding *finding, const Settle *settle, Told told, const char *before)
{
    uint32_t count = 0;
    for (const SettleWord *w = settle->words; w != NULL; w = w->next) {
        if (w->told == told) {
            if (count++ == 0) {
                buf_format(to, "%s%s%s", to->length > 0 ? ", " : "", words_for(finding, told), before);
            } else {
                buf_text(to, " or ");
            }
            buf_add(to, w->word);
        }
    }
}

/* "holds with engine-size=lean or middle, broken with engine-size=stout" */
static void say_words(Settler *settler, const Finding *finding, Settle *settle, const char *before)
{
    Buf text;
    buf_init(&text, arena_of(settler));
    for (Told told = TOLD_HOLDS; told <= TOLD_OPEN; told++) {
        write_words(&text, finding, settle, told, before);
    }
    settle->text = text.length > 0 ? text.text : "";
}

/* Choices: what the cases say */

/* In which cases it is found, also as another finding: so is one whose place an option moves by `set`, never beside it. */
static uint64_t found_of_same(const Outcome *outcome, const Finding *finding)
{
    uint64_t found = finding->found_in;
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        bool moved = f->rule == finding->rule && finding_same_thing(f, finding) && (f->found_in & finding->found_in) == 0;
        found |= moved ? f->found_in : 0;
    }
    return found;
}

/* What one case says of it; of one that the finding met in another place, nothing. */
static Told tell_in_case(Settler *settler, const Finding *finding, uint64_t found_in, uint32_t number)
{
    uint64_t bit = (uint64_t)1 << number;
    if (!(found_in & bit)) {
        return case_is_judged(settler, finding, &settler->outcome->cases[number]) ? TOLD_HOLDS : TOLD_NOTHING;
    }
    for (int s = SEVERITY_ADVICE; s <= SEVERITY_FAULT; s++) {
        if (finding->severe_in[s] & finding->broken_in & bit) {
            return told_as(finding, (Severity)s);
        }
    }
    return finding->severe_in[finding->severity] & bit ? TOLD_OPEN : TOLD_NOTHING;
}

static Told tell_option(Settler *settler, const Finding *finding, uint32_t choice, uint32_t option)
{
    const Outcome *outcome = settler->outcome;
    uint64_t found_in = found_of_same(outcome, finding);
    Told all = TOLD_NOTHING;
    bool any = false;
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        if (outcome->cases[i].model->choices[choice].chosen == (int32_t)option) {
            Told told = tell_in_case(settler, finding, found_in, i);
            all = !any || told == all ? told : TOLD_NOTHING;
            any = true;
            if (all == TOLD_NOTHING) {
                break;
            }
        }
    }
    return all;
}

static void settle_choice(Settler *settler, Finding *finding, const Depend *depend)
{
    const Outcome *outcome = settler->outcome;
    const Spec *spec = outcome->spec;
    Settle *settle = add_settle(settler, finding, depend, depend->text);
    for (uint32_t c = 0; c < spec->choice_count; c++) {
        const Choice *choice = &spec->choices[c];
        if (!choice_is_open(choice) ||
            !str_equal(symbols_text(spec->symbols, choice->name), str_from(depend->text))) {
            continue;
        }
        settle->state = SETTLE_NOT_ALONE;
        for (uint32_t o = 0; o < choice->option_count; o++) {
            add_word(settler, settle, symbols_text(spec->symbols, choice->options[o].name),
                     tell_option(settler, finding, c, o));
        }
        say_words(settler, finding, settle, text_format(arena_of(settler), "%s=", depend->text));
    }
}

/* Values that are stated, or have a default */

/* "fridge.use (3..5 h)" where several values of the property are undecided. */
static const char *value_input(const Settler *settler, const Depend *depend, const Value *value)
{
    const DependValue *values = depend->values;
    if (values == NULL || values->next == NULL) {
        return depend->text;
    }
    Buf text;
    buf_init(&text, arena_of(settler));
    buf_format(&text, "%s (", depend->text);
    quantity_write(&text, settler->outcome->cases[0].model, value);
    buf_char(&text, ')');
    return text.text;
}

/* Broken in some of the cases: no value mends it there, and the others do not break. */
static bool is_mixed(const Outcome *outcome, const Finding *finding)
{
    return finding->broken_in != 0 && outcome->case_count > 1;
}

static void settle_value(Settler *settler, Finding *finding, const Depend *depend, const Property *property,
                         unsigned slot)
{
    const Value *value = property_value(property, slot);
    Settle *settle = add_settle(settler, finding, depend, value_input(settler, depend, value));
    settle->unit = value->unit;
    settle->money = value->flags & VALUE_MONEY;
    settle->hole = value->flags & VALUE_HOLE;
    Try try;
    Spot spot = {depend->entity, depend->prop, property->node, slot};
    if (settler->work == 0) {
        settle->state = SETTLE_NOT_TRIED;
    } else if (is_mixed(settler->outcome, finding)) {
        settle->state = SETTLE_NOT_ALONE;
    } else {
        if (try_begin(&try, settler, finding, spot)) {
            settle->state = SETTLE_NOT_ALONE;
            settle_ranges(&try, settle, value, props[depend->prop].whole); /* of whole numbers one will be taken */
            bool bounded = isfinite(value->u.quantity.low) && isfinite(value->u.quantity.high);
            settle->moves = bounded && settler->work > 0 ? try.moves : INFINITY;
            const char *each = settle->state == SETTLE_FOUND ? settle_of_each(arena_of(settler), depend->entity, depend->prop) : "";
            settle->text = each[0] != 0 ? text_format(arena_of(settler), "%s%s", settle->text, each) : settle->text;
        }
        try_end(&try);
    }
}

/* Properties that are not stated */

static const Atom *only_atom(const Shape *shape)
{
    return shape->item_count == 1 && shape->items[0].kind == ITEM_ATOM && shape->items[0].atom_count == 1
               ? &shape->items[0].atoms[0]
               : NULL;
}

static void try_atom(Try *try, Settle *settle, const Atom *atom, const char *before)
{
    Settler *settler = try->settler;
    if (atom->kind == ATOM_YES_NO) {
        settle->state = SETTLE_NOT_ALONE;
        add_word(settler, settle, STR("yes"), try_yes(try, true));
        add_word(settler, settle, STR("no"), try_yes(try, false));
    } else if (atom->kind == ATOM_WORD) {
        settle->state = atom->word_count > 0 ? SETTLE_NOT_ALONE : SETTLE_NO_VALUE;
        for (uint16_t i = 0; i < atom->word_count; i++) {
            add_word(settler, settle, atom->words[i], try_word(try, atom->words[i]));
        }
    }
    say_words(settler, try->finding, settle, before);
}

/* As if `?` stood there. */
static void try_hole(Try *try, Settle *settle, const Atom *atom)
{
    UnitPair unit = model_unit(try->settler->outcome->cases[0].model, atom->units[0]);
    Value hole = {.kind = VALUE_QUANTITY, .flags = VALUE_HOLE, .unit = unit};
    Sign sign = (Sign)props[try->prop].sign;
    hole.u.quantity.low = sign == SIGN_ANY || sign == SIGN_NOT_POSITIVE ? -HUGE_VAL : 0.0;
    hole.u.quantity.high = sign == SIGN_NOT_POSITIVE ? 0.0 : HUGE_VAL;
    for (uint32_t i = 0; i < try->case_count; i++) {
        try->cases[i].trial.value->unit = hole.unit;
    }
    settle->unit = hole.unit;
    settle->state = SETTLE_NOT_ALONE;
    settle_ranges(try, settle, &hole, false);
}

static void settle_unstated(Settler *settler, Finding *finding, const Depend *depend)
{
    Settle *settle = add_settle(settler, finding, depend, depend->text);
    const Outcome *outcome = settler->outcome;
    const Atom *atom = only_atom(shapes_get(outcome->cases[0].model->shapes, depend->prop));
    if (atom == NULL ||
        (atom->kind == ATOM_QUANTITY && (atom->money || atom->size || atom->unit_count == 0))) {
        return;
    }
    if (settler->work == 0) {
        settle->state = SETTLE_NOT_TRIED;
        return;
    }
    Try try;
    if (try_begin(&try, settler, finding, (Spot){depend->entity, depend->prop, 0, 0})) {
        if (atom->kind == ATOM_QUANTITY) {
            try_hole(&try, settle, atom);
        } else {
            try_atom(&try, settle, atom, text_format(arena_of(settler), "%s ", props[depend->prop].word));
        }
    }
    try_end(&try);
}

/* A rule may leave a finding open by name, without saying which value it looked at. */
static void settle_named(Settler *settler, Finding *finding, const Depend *depend)
{
    const Property *property = entity_property(depend->entity, depend->prop);
    bool any = false;
    for (; property != NULL; property = block_next(&depend->entity->block, property)) {
        for (unsigned slot = 0; slot < property->count; slot++) {
            if (value_is_range(&property->values[slot])) {
                settle_value(settler, finding, depend, property, slot);
                any = true;
            }
        }
    }
    if (!any && !entity_states(depend->entity, depend->prop)) {
        settle_unstated(settler, finding, depend);
    } else if (!any) {
        add_settle(settler, finding, depend, depend->text);
    }
}

static void settle_depend(Settler *settler, Finding *finding, const Depend *depend)
{
    if (depend->entity == NULL) {
        settle_choice(settler, finding, depend);
    } else if (depend->values != NULL) {
        for (const DependValue *v = depend->values; v != NULL; v = v->next) {
            settle_value(settler, finding, depend, v->property, v->slot);
        }
    } else if (depend->prop != PROP_NONE && schema_has((KindId)depend->entity->kind, depend->prop)) {
        settle_named(settler, finding, depend);
    } else {
        add_settle(settler, finding, depend, depend->text);
    }
}

/* Of more combinations than are judged, what settles a finding that hangs on a choice is told of those that were. */
static void say_sampled(const Settler *settler, const Finding *finding)
{
    bool on_choice = finding->combinations < settler->outcome->case_count;
    for (const Depend *d = finding->depends; d != NULL && !on_choice; d = d->next) {
        on_choice = d->entity == NULL;
    }
    for (Settle *s = finding->settles; s != NULL && on_choice; s = s->next) {
        if (s->state == SETTLE_FOUND && s->text[0] != '\0') {
            s->text = text_format(arena_of(settler), "%s (in the combinations that were judged)", s->text);
        }
    }
}

static uint64_t work_for(const Outcome *outcome)
{
    uint32_t things = outcome->case_count > 0 ? outcome->cases[0].model->entity_count : 0;
    return things <= SETTLE_BOAT ? SETTLE_WORK_OF_A_BOAT : SETTLE_WORK;
}

/* Every part of the range of one input has been tried and holds, whatever else is open: then the rule holds. */
static bool is_shown_to_hold(const Finding *finding)
{
    const Settle *settle = finding->verdict == VERDICT_OPEN && finding->waiver == NULL ? finding->settles : NULL;
    while (settle != NULL && !settle->parts) {
        settle = settle->next;
    }
    return settle != NULL;
}

static void drop_what_holds(Outcome *outcome)
{
    for (Finding **at = &outcome->findings; *at != NULL;) {
        bool holds = is_shown_to_hold(*at);
        outcome->open -= holds;
        if (holds) {
            *at = (*at)->next;
        } else {
            at = &(*at)->next;
        }
    }
}

static void count_broken(Outcome *outcome, const Finding *f)
{
    outcome->open--;
    outcome->faults += f->severity == SEVERITY_FAULT;
    outcome->warnings += f->severity == SEVERITY_WARNING;
    outcome->advice += f->severity == SEVERITY_ADVICE;
}

/* Each whole number that an input can be has been tried and breaks the rule, whatever else is open: then it is broken. */
static void take_as_broken(Outcome *outcome, Finding *f)
{
    const Settle *settle = f->settles;
    while (settle != NULL && settle->broken == NULL) {
        settle = settle->next;
    }
    if (settle != NULL) {
        f->message = settle->broken;
        f->verdict = VERDICT_BROKEN;
        f->depends = NULL;
        f->settles = NULL;
        count_broken(outcome, f);
    }
}

void settle_findings(Outcome *outcome)
{
    if (outcome->settled) {
        return;
    }
    outcome->settled = true;
    Settler settler = {.outcome = outcome,
                       .scratch = arena_scratch(outcome->arena, 0),
                       .work = work_for(outcome)};
    for (Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (f->verdict == VERDICT_OPEN && f->waiver == NULL) {
            settle_sift(&settler, f);
            for (const Depend *d = f->depends; d != NULL; d = d->next) {
                settle_depend(&settler, f, d);
            }
            settle_weigh(f);
            if (outcome->sampled) {
                say_sampled(&settler, f);
            }
            take_as_broken(outcome, f);
        }
    }
    for (Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (f->verdict == VERDICT_BROKEN && f->waiver == NULL) {
            settle_mends(&settler, f);
        }
    }
    drop_what_holds(outcome);
    settle_assumed(&settler);
    settle_fold(outcome);
}
