/*
 * What a finding hangs and rests on: the undecided values, and the assumed ones, behind the sides of its
 * comparison, followed down through the inputs of their figures; and whether anything in it is guessed.
 */
#include "rules/judge.h"

#include "model/money.h"

#include <string.h>

/* Of what is undecided settle.c names the heaviest; of what is assumed none is heavier than another. */
enum { MOST_DEPENDS = 128, MOST_ASSUMED = 8 };

static bool states(const Feed *feed, const Property *property)
{
    return feed->maker && property >= feed->block->properties && property < feed->block->properties + feed->block->count;
}

/* Of a cable that the `feeds` of a converter states it is named as it stands there; NULL: the thing states it itself, or may. */
static const char *name_in_feeds(Arena *arena, const Model *model, const Entity *entity, PropId prop)
{
    const Entity *maker = entity->stated_by;
    PropId stated = maker != NULL ? feeds_prop_of(entity, prop) : PROP_NONE;
    if (stated == PROP_NONE) {
        return NULL;
    }
    uint32_t ways = 0;
    for (const Feed *feed = maker->gives; feed != NULL; feed = feed->next_of_giver) {
        ways += feed->maker || feed->taker->stated_by == maker;
    }
    Str giver = entity_name(model, maker), taker = ways > 1 ? entity_name(model, entity) : STR("");
    return text_format(arena, "%.*s.feeds.%.*s%s%s", STR_ARG(giver), STR_ARG(taker), ways > 1 ? "." : "", props[stated].word);
}

const char *property_name(Arena *arena, const Model *model, const Entity *entity, const Feed *way, PropId prop, const Property *property)
{
    const char *word = props[prop].word;
    const char *in_feeds = props[prop].owner != KIND_FEEDS ? name_in_feeds(arena, model, entity, prop) : NULL;
    if (in_feeds != NULL) {
        return in_feeds;
    }
    if (props[prop].owner != KIND_FEEDS) {
        return text_format(arena, "%.*s.%s", STR_ARG(entity_name(model, entity)), word);
    }
    uint32_t ways = 0;
    const Feed *meant = way != NULL && way->maker && way->giver == entity ? way : NULL;
    for (const Feed *feed = entity->gives; feed != NULL; feed = feed->next_of_giver) {
        ways += feed->maker;
        meant = property != NULL && states(feed, property) ? feed : meant;
    }
    if (ways < 2 || meant == NULL) {
        return text_format(arena, "%.*s.feeds.%s", STR_ARG(entity_name(model, entity)), word);
    }
    return text_format(arena, "%.*s.feeds.%.*s.%s", STR_ARG(entity_name(model, entity)), STR_ARG(entity_name(model, meant->taker)), word);
}

const char *say_property(const Judge *judge, const Entity *entity, PropId prop)
{
    return property_name(judge->arena, judge->model, entity, judge->looked_at_feed, prop, NULL);
}

static Depend *add_to(Judge *judge, Depend **list, int most, const Entity *entity, PropId prop, const Property *property)
{
    bool of_feeds = props[prop].owner == KIND_FEEDS; /* several ways of one thing may each have such a one */
    const char *text = of_feeds ? property_name(judge->arena, judge->model, entity, judge->looked_at_feed, prop, property) : "";
    Depend **end = list;
    int count = 0;
    for (; *end != NULL; end = &(*end)->next) {
        if ((*end)->entity == entity && (*end)->prop == prop && (!of_feeds || strcmp((*end)->text, text) == 0)) {
            return *end;
        }
        if (++count >= most) {
            return NULL;
        }
    }
    *end = ARENA_NEW(judge->arena, Depend);
    **end = (Depend){.entity = entity, .prop = prop, .text = of_feeds ? text : say_property(judge, entity, prop)};
    return *end;
}

Depend *add_depend(Judge *judge, Depend **list, const Entity *entity, PropId prop, const Property *property)
{
    return add_to(judge, list, MOST_DEPENDS, entity, prop, property);
}

static Depend *add_assumed(Judge *judge, Finding *finding, const Entity *entity, PropId prop, const Property *property)
{
    return add_to(judge, &finding->assumed, MOST_ASSUMED, entity, prop, property);
}

static void add_depend_value(Judge *judge, Depend *depend, const Property *property, unsigned slot)
{
    DependValue **end = &depend->values;
    for (; *end != NULL; end = &(*end)->next) {
        if ((*end)->property == property && (*end)->slot == slot) {
            return;
        }
    }
    *end = ARENA_NEW(judge->arena, DependValue);
    **end = (DependValue){.property = property, .slot = slot};
}

static void look_at_value(Judge *judge, Finding *finding, const Entity *entity, const Property *property, unsigned slot)
{
    if (property->known == KNOWN_GUESSED || property->known == KNOWN_ESTIMATED) {
        finding->guessed = true;
    }
    if (property->flags & PROPERTY_ASSUMED && !schema_is_plain(&props[property->id])) {
        add_assumed(judge, finding, entity, (PropId)property->id, property);
    }
    if (finding->verdict == VERDICT_OPEN && value_is_range(property_value(property, slot))) {
        const Value *value = property_value(property, slot);
        const Property *rate = money_open_rate(judge->model, value);
        if (rate != NULL) {
            look_at_value(judge, finding, judge->model->boat, rate, 0);
        }
        if (rate != NULL && money_is_decided(judge->model, value)) {
            return; /* what is open is not this amount */
        }
        Depend *depend = add_depend(judge, &finding->depends, entity, (PropId)property->id, property);
        if (depend != NULL) {
            add_depend_value(judge, depend, property, slot);
        }
    }
}

/* What stands for something that is not stated: "lamps.wire insulation"; or follows from what is stated, and open. */
static void look_at_fact(Judge *judge, Finding *finding, const Input *input)
{
    if (input->prop == PROP_NONE) {
        return;
    }
    const Entity *entity = judge->model->entities[input->entity];
    const Property *property = entity_property(entity, (PropId)input->prop);
    if (property_value(property, input->slot)->kind == VALUE_QUANTITY) {
        look_at_value(judge, finding, entity, property, input->slot);
        return;
    }
    const Shape *shape = shapes_get(judge->model->shapes, (PropId)input->prop);
    if (shape->items[0].kind == ITEM_ATOM && shape->items[0].atoms[0].kind == ATOM_YES_NO) {
        if (finding->verdict == VERDICT_OPEN) { /* a range that lies between yes and no, and assumes neither */
            add_depend(judge, &finding->depends, entity, (PropId)input->prop, NULL);
        }
        return;
    }
    Depend *depend = add_assumed(judge, finding, entity, (PropId)input->prop, NULL);
    if (depend == NULL || depend->fact != NULL) {
        return;
    }
    depend->fact = input->u.fact;
    depend->slot = input->slot;
    if (finding->verdict == VERDICT_OPEN && input->slot == 0 && input->u.fact->low < input->u.fact->high) {
        add_depend(judge, &finding->depends, entity, (PropId)input->prop, NULL); /* to state it would narrow it */
    }
    for (int i = 1; i < shape->item_count && input->slot > 0; i++) {
        const ShapeItem *word = &shape->items[i - 1];
        if (shape->items[i].kind == ITEM_ATOM && shape->items[i].slot == input->slot && word->kind == ITEM_CONNECTING) {
            depend->text = text_format(judge->arena, "%s %.*s", depend->text, STR_ARG(word->word));
        }
    }
}

/* Of the least of several figures, one that lies above it whatever it turns out to be has no part in it. */
static bool has_no_part(const Figure *figure, const Figure *input)
{
    return figure->least && figure->state == STATE_KNOWN && input->low > figure->high;
}

PropId figure_fills(const Figure *figure)
{
    static const struct {
        KindId kind;
        FigureId figure;
        PropId prop;
    } fills[] = {{KIND_BANK, FIGURE_FITTING_SIZE, PROP_BANK_CAPACITY},
                 {KIND_SOLAR, FIGURE_FITTING_SIZE, PROP_SOLAR_RATED},
                 {KIND_TANK, FIGURE_VOLUME, PROP_TANK_CAPACITY},
                 {KIND_GAS_LOCKER, FIGURE_GAS_HELD, PROP_GAS_LOCKER_CYLINDER}};
    for (size_t i = 0; figure->chosen && figure->state == STATE_KNOWN && i < sizeof fills / sizeof fills[0]; i++) {
        if (fills[i].kind == figure->subject->kind && fills[i].figure == figure->id) {
            return fills[i].prop;
        }
    }
    return PROP_NONE;
}

/* A size that the spec leaves open and this program has tried out: what rests on it is so with that one, and hangs on it. */
static void note_filled(Judge *judge, Finding *finding, const Figure *size, PropId prop)
{
    const Property *hole = entity_property(size->subject, prop);
    Span at = hole != NULL ? property_span(judge->model, hole) : place_of_name(judge, size->subject);
    finding->filled = true;
    add_depend(judge, &finding->depends, size->subject, prop, NULL);
    for (const FindingNote *note = finding->notes; note != NULL; note = note->next) {
        if (note->at.start == at.start) {
            return;
        }
    }
    finding_note(judge, finding, at, "%s, as Garboard chose it: this is not decided", say_figure(judge, size));
}

/* Whether a figure rests on a size that this program has filled in. */
static bool rests_on_filled(const Figure *figure, int depth)
{
    bool rests = figure_fills(figure) != PROP_NONE;
    for (uint16_t i = 0; i < figure->input_count && !rests && depth <= DEEPEST_INPUT; i++) {
        const Figure *input = figure->inputs[i].kind == INPUT_FIGURE ? figure->inputs[i].u.figure : NULL;
        rests = input != NULL && !has_no_part(figure, input) && rests_on_filled(input, depth + 1);
    }
    return rests;
}

static void look_at_figure(Judge *judge, Finding *finding, const Figure *figure, int depth)
{
    if (depth > DEEPEST_INPUT) {
        return;
    }
    PropId fills = figure_fills(figure);
    if (fills != PROP_NONE) {
        note_filled(judge, finding, figure, fills);
    }
    for (uint16_t i = 0; i < figure->input_count; i++) {
        const Input *input = &figure->inputs[i];
        if (input->kind == INPUT_FIGURE) {
            if (!has_no_part(figure, input->u.figure)) {
                look_at_figure(judge, finding, input->u.figure, depth + 1);
            }
        } else if (input->kind == INPUT_VALUE) {
            look_at_value(judge, finding, judge->model->entities[input->entity], input->u.property, input->slot);
        } else if (input->kind == INPUT_FACT) {
            look_at_fact(judge, finding, input);
        }
    }
}

void look_at_side(Judge *judge, Finding *finding, const Side *side)
{
    if (judge->quiet) {
        finding->filled = finding->filled || (side->figure != NULL && rests_on_filled(side->figure, 0));
        return;
    }
    if (side->figure != NULL) {
        look_at_figure(judge, finding, side->figure, 0);
    } else if (side->property != NULL) {
        for (unsigned slot = 0; slot < side->property->count; slot++) {
            look_at_value(judge, finding, side->entity, side->property, slot);
        }
    }
}

void finding_rests_on(Judge *judge, Finding *finding, const Entity *entity, PropId prop)
{
    const Property *property = entity_property(entity, prop);
    for (unsigned slot = 0; property != NULL && slot < property->count && !judge->quiet; slot++) {
        look_at_value(judge, finding, entity, property, slot);
    }
}

void finding_assumes(Judge *judge, Finding *finding, const Entity *entity, PropId prop)
{
    const Property *property = model_property(judge->model, entity, prop);
    if (property != NULL && !judge->quiet) {
        look_at_value(judge, finding, entity, property, 0);
    }
}
