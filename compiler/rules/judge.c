/* See rule.h: comparing, and gathering what there is to say. judge.h names its other files. */
#include "rules/judge.h"

#include "base/num.h"
#include "figures/inches.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define UNDECIDED "an undecided "

/* Sides */

Side side_stated(const Entity *entity, const Property *property, unsigned slot)
{
    Side side = {.state = STATE_MISSING, .entity = entity, .property = property, .prop = (PropId)property->id};
    const Value *value = property_value(property, slot);
    if (property->flags & PROPERTY_BROKEN || value->flags & (VALUE_BROKEN | VALUE_DOUBTED)) {
        side.state = STATE_WAITING;
    } else if (value->kind == VALUE_QUANTITY) {
        side.state = STATE_KNOWN;
        side.value = (Interval){value->u.quantity.low, value->u.quantity.high};
        side.unit = value->unit;
        side.money = value->flags & VALUE_MONEY;
    }
    return side;
}

Side side_block_value(const Judge *judge, const Entity *entity, const Block *block, PropId prop, unsigned slot)
{
    const Property *property = block_property(block, prop);
    if (property == NULL && entity->flags & ENTITY_PARTLESS) {
        return (Side){.state = STATE_WAITING, .entity = entity, .prop = prop};
    }
    if (property == NULL) {
        property = model_default_in(judge->model, block, prop);
    }
    return property != NULL ? side_stated(entity, property, slot)
                            : (Side){.state = STATE_MISSING, .entity = entity, .prop = prop};
}

Side side_value(const Judge *judge, const Entity *entity, PropId prop, unsigned slot)
{
    if (entity == NULL) {
        return (Side){.state = STATE_WAITING}; /* the boat of a spec without one: told already */
    }
    return side_block_value(judge, entity, &entity->block, prop, slot);
}

Side side_interval(Interval value, UnitPair unit)
{
    return (Side){.value = value, .state = STATE_KNOWN, .unit = unit};
}

Side side_number(double value, UnitPair unit)
{
    return side_interval(point(value), unit);
}

bool side_is_known(Side side)
{
    return side.state == STATE_KNOWN;
}

/* Making findings */

static Finding *add_finding(Judge *judge, const Entity *subject, Span place, Verdict verdict)
{
    Finding *finding = ARENA_NEW(judge->arena, Finding);
    *finding = (Finding){.rule = judge->rule,
                         .severity = judge->rule->severity,
                         .verdict = verdict,
                         .subject = subject != NULL ? subject : judge->model->boat,
                         .by_boat = subject == NULL,
                         .looked_at = judge->looked_at,
                         .looked_at_feed = judge->looked_at_feed,
                         .found_in = 1,
                         .broken_in = verdict == VERDICT_BROKEN,
                         .message = judge->rule->title,
                         .place = place,
                         .combinations = 1};
    if (judge->last == NULL) {
        judge->first = finding;
    } else {
        judge->last->next = finding;
    }
    judge->last = finding;
    judge->count++;
    return finding;
}

void judge_waiting(Judge *judge)
{
    judge->waiting++;
}

void judge_gives_way(Judge *judge)
{
    judge->given_way++;
}

void judge_holds(Judge *judge)
{
    judge->judged++;
}

static double slack(double a, double b)
{
    double greater = fabs(a) > fabs(b) ? fabs(a) : fabs(b);
    return isfinite(greater) ? greater * 1e-9 : 0.0;
}

bool number_at_least(double a, double b)
{
    return a >= b || a >= b - slack(a, b);
}

Finding *judge_at_least(Judge *judge, const Entity *subject, Span place, Side value, Side limit)
{
    if (!side_is_known(value) || !side_is_known(limit)) {
        cannot_judge(judge, side_is_known(value) || (value.state < limit.state) ? &limit : &value);
        return NULL;
    }
    judge->judged++;
    if (judge->quiet && subject == judge->compared &&
        (judge->comparison == 0 || judge->comparison == judge->judged)) {
        judge->value = value.value;
        judge->limit = limit.value;
    }
    if (number_at_least(value.value.low, limit.value.high)) {
        return NULL;
    }
    bool never = !number_at_least(value.value.high, limit.value.low);
    Finding *finding = add_finding(judge, subject, place, never ? VERDICT_BROKEN : VERDICT_OPEN);
    finding->compared = true;
    finding->comparison = judge->judged;
    finding->value = value.value;
    finding->limit = limit.value;
    finding->unit = value.unit;
    finding->money = value.money;
    look_at_side(judge, finding, &value);
    look_at_side(judge, finding, &limit);
    if (finding->filled) {
        finding->verdict = VERDICT_OPEN; /* broken only with the size that was filled in */
        finding->broken_in = 0;
    }
    return finding;
}

Finding *judge_at_most(Judge *judge, const Entity *subject, Span place, Side value, Side limit)
{
    Finding *finding = judge_at_least(judge, subject, place, limit, value);
    if (finding != NULL) {
        finding->value = value.value;
        finding->limit = limit.value;
        finding->unit = value.unit;
        finding->money = value.money;
    }
    return finding;
}

Finding *judge_broken(Judge *judge, const Entity *subject, Span place)
{
    judge->judged++;
    return add_finding(judge, subject, place, VERDICT_BROKEN);
}

Finding *judge_open(Judge *judge, const Entity *subject, Span place, const Entity *entity, PropId prop)
{
    judge->judged++;
    Finding *finding = add_finding(judge, subject, place, VERDICT_OPEN);
    if (entity != NULL && prop != PROP_NONE) {
        add_depend(judge, &finding->depends, entity, prop, NULL);
    }
    return finding;
}

Finding *judge_yes(Judge *judge, const Entity *subject, PropId prop, const char *asks)
{
    int answer = entity_yes(subject, prop);
    if (answer == -2) {
        judge_waiting(judge);
        return NULL;
    }
    if (answer == 1) {
        judge_holds(judge);
        return NULL;
    }
    Finding *finding = answer == 0 ? judge_broken(judge, subject, place_of(judge, subject, prop))
                                   : judge_open(judge, subject, place_of_name(judge, subject), subject, prop);
    if (answer == 0) {
        const char *bare = strncmp(asks, "a ", 2) == 0 ? asks + 2 : strncmp(asks, "an ", 3) == 0 ? asks + 3 : asks;
        finding_say(judge, finding, "`%s` has no %s", say_name(judge, subject), bare);
        finding_remedy(judge, finding, "%s yes", props[prop].word);
    } else {
        finding_say(judge, finding, "`%s` does not say whether it has %s", say_name(judge, subject), asks);
        finding_remedy(judge, finding, "%s yes", props[prop].word);
    }
    return finding;
}

/* Saying */

void finding_say(Judge *judge, Finding *finding, const char *format, ...)
{
    if (judge->quiet) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    finding->message = text_format_list(judge->arena, format, arguments);
    va_end(arguments);
}

void finding_here(Judge *judge, Finding *finding, const char *format, ...)
{
    if (judge->quiet) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    finding->place_note = text_format_list(judge->arena, format, arguments);
    va_end(arguments);
}

void finding_note(Judge *judge, Finding *finding, Span at, const char *format, ...)
{
    if (judge->quiet) {
        return;
    }
    FindingNote **end = &finding->notes;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(judge->arena, FindingNote);
    va_list arguments;
    va_start(arguments, format);
    **end = (FindingNote){.at = at, .text = text_format_list(judge->arena, format, arguments)};
    va_end(arguments);
}

/* Whether a remedy names a number that nobody can take: what is not decided, or has no bound, as it is said and printed. */
static bool names_no_number(const char *text)
{
    return strstr(text, UNDECIDED) != NULL || strstr(text, " unlimited") != NULL || strstr(text, " unknown") != NULL;
}

void finding_remedy(Judge *judge, Finding *finding, const char *format, ...)
{
    if (judge->quiet) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    const char *text = text_format_list(judge->arena, format, arguments);
    va_end(arguments);
    if (names_no_number(text)) {
        return;
    }
    Remedy **end = &finding->remedies;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(judge->arena, Remedy);
    (*end)->text = text;
}

void finding_may_mend(Judge *judge, Finding *finding, const Entity *entity, PropId prop)
{
    const Value *value = property_value(entity_property(entity, prop), 0);
    if (judge->quiet || finding->verdict != VERDICT_BROKEN || value->kind != VALUE_QUANTITY ||
        value->flags & (VALUE_BROKEN | VALUE_HOLE)) {
        return;
    }
    Depend **end = &finding->mends;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    *end = ARENA_NEW(judge->arena, Depend);
    **end = (Depend){.entity = entity, .prop = prop, .text = say_property(judge, entity, prop)};
}

void finding_mend_together(Finding *finding)
{
    finding->together = finding->remedies;
    while (finding->together != NULL && finding->together->next != NULL) {
        finding->together = finding->together->next;
    }
}

void finding_severity(Finding *finding, Severity severity)
{
    finding->severity = severity;
}

void finding_at(Finding *finding, const Entity *at)
{
    finding->at = at;
}

/* "an undecided current", of "a current"; of "a share (%)" the unit is left out. */
static const char *say_undecided(const Judge *judge, const char *what)
{
    const char *word = strchr(what, ' ');
    Str name = str_from(word != NULL ? word + 1 : what);
    const char *unit = strstr(name.text, " (");
    name.length = unit != NULL ? (size_t)(unit - name.text) : name.length;
    return text_format(judge->arena, UNDECIDED "%.*s", STR_ARG(name));
}

/* Of what may be anything, a sentence says what it is. */
static const char *say_amount(const Judge *judge, const Figure *figure)
{
    if (figure->state != STATE_KNOWN || !isinf(figure->high) || figure->low > 0.0) {
        return figure_text(judge->figures, figure);
    }
    return say_undecided(judge, figure->money                     ? "a sum of money"
                                : figure->size                    ? "a size"
                                : figure->unit.unit == UNIT_NONE ? "a number"
                                                                  : dimension_name(unit_dimension(figure->unit)));
}

const char *say_figure(const Judge *judge, const Figure *figure)
{
    if (judge->quiet) {
        return "";
    }
    return figure == NULL ? figure_text(judge->figures, figure) : say_amount(judge, figure);
}

/* A size as it was stated, where the rule has not made another value of it: `9/16 in`. NULL: it is none. */
static const char *say_size(const Judge *judge, Side side)
{
    for (unsigned slot = 0; side.figure == NULL && side.property != NULL && slot < side.property->count; slot++) {
        const Value *value = property_value(side.property, slot);
        if (value->kind == VALUE_QUANTITY && value->u.quantity.low == side.value.low && value->u.quantity.high == side.value.high &&
            unit_equal(value->unit, UNIT_ALONE(UNIT_IN))) {
            Buf text;
            buf_init(&text, judge->arena);
            return size_write_fraction(&text, judge->model, (PropId)side.property->id, slot, value) ? text.text : NULL;
        }
    }
    return NULL;
}

const char *say_side(const Judge *judge, Side side)
{
    if (judge->quiet) {
        return "";
    }
    const char *size = side.state == STATE_KNOWN ? say_size(judge, side) : NULL;
    if (size != NULL) {
        return size;
    }
    if (side.figure != NULL && side.figure->low == side.value.low && side.figure->high == side.value.high) {
        return say_amount(judge, side.figure); /* where the rule has not made another value of it */
    }
    Figure shown = {.low = side.value.low,
                    .high = side.value.high,
                    .state = (uint8_t)side.state,
                    .unit = side.unit,
                    .money = side.money};
    return say_amount(judge, &shown);
}

const char *say_name(const Judge *judge, const Entity *entity)
{
    if (judge->quiet) {
        return "";
    }
    return str_copy(judge->arena, entity_name(judge->model, entity));
}

const char *say_form(const Judge *judge, PropId prop)
{
    if (judge->quiet) {
        return "";
    }
    Buf text;
    buf_init(&text, judge->arena);
    shape_form(&text, prop, shapes_get(judge->model->shapes, prop), model_is_in_feet(judge->model));
    return text.text;
}

const char *say_number(const Judge *judge, double si, UnitPair unit)
{
    if (judge->quiet) {
        return "";
    }
    Buf text;
    buf_init(&text, judge->arena);
    unit_print(&text, unit, si, si);
    return text.text;
}

/* Such a number is to be typed: where it is printed in another unit than it is stated in, the last digit may go either way. */
static const char *say_rounded(const Judge *judge, double si, UnitPair unit, double (*whole)(double))
{
    double number = unit_from_si(unit, si);
    if (isfinite(number) && number > 0.0) {
        double step = pow(10.0, floor(log10(number)) - dimension_digits(unit_dimension(unit)) + 1.0);
        double forgiven = whole(0.5) > 0.0 ? -1e-9 : 1e-9; /* of floating-point arithmetic, as in number_at_least */
        number = whole(number / step * (1.0 + forgiven)) * step;
    }
    return say_number(judge, unit_to_si(unit, number), unit);
}

const char *say_no_less(const Judge *judge, double si, UnitPair unit)
{
    return say_rounded(judge, si, unit, ceil);
}

const char *say_no_more(const Judge *judge, double si, UnitPair unit)
{
    return say_rounded(judge, si, unit, floor);
}

void finding_about(Finding *finding, PropId prop)
{
    finding->about = prop;
}

void finding_matter(Finding *finding, const char *matter)
{
    finding->matter = matter;
}

bool finding_same_matter(const Finding *a, const Finding *b)
{
    bool same_word = a->matter == b->matter ||
                     (a->matter != NULL && b->matter != NULL && strcmp(a->matter, b->matter) == 0);
    return a->about == b->about && same_word;
}

bool finding_same_thing(const Finding *a, const Finding *b)
{
    return entity_symbol(a->subject) == entity_symbol(b->subject) && entity_symbol(a->at) == entity_symbol(b->at) &&
           finding_same_matter(a, b);
}

/* Figures and places */

/* Whether it can have such a figure at all: most things have not. What is computed as it is asked for is in no list yet. */
static bool may_have(const Figures *figures, const Entity *subject, FigureId id)
{
    return subject != NULL && (figures->before != NULL || figure_list_may_have(&figures->lists[subject->index], id));
}

/* The boat has more figures than all else, and most rules ask for one of them. */
static const Figure *boat_figure(const Judge *judge, FigureId id)
{
    Survey *survey = judge->survey;
    if (survey->of_boat == NULL) {
        survey->of_boat = ARENA_ARRAY(judge->arena, const Figure *, FIGURE_COUNT);
        for (const Figure *f = judge->figures->lists[judge->model->boat->index].first; f != NULL; f = f->next) {
            if (f->at == NULL && f->scope == SCOPE_WHOLE && survey->of_boat[f->id] == NULL) {
                survey->of_boat[f->id] = f;
            }
        }
    }
    return survey->of_boat[id];
}

const Figure *figure_of(const Judge *judge, const Entity *subject, FigureId id)
{
    if (!may_have(judge->figures, subject, id)) {
        return NULL;
    }
    return subject == judge->model->boat && !judge->quiet ? boat_figure(judge, id) : figure_find(judge->figures, subject, id, NULL);
}

static void gather_feed_figures(const Judge *judge, const Feed *feed, FeedFigures *gathered)
{
    gathered->feed = feed;
    const Entity *at = feed_at(feed);
    for (const Figure *f = judge->figures->lists[feed->subject->index].first; f != NULL; f = f->next) {
        const Figure **place = &gathered->of[feed_figure_place((FigureId)f->id)];
        if (f->at == at && f->scope == SCOPE_WHOLE && *place == NULL) {
            *place = f;
        }
    }
}

void judge_look_at_feed(Judge *judge, uint32_t index)
{
    Survey *survey = judge->survey;
    if (survey->feeds == NULL) {
        survey->feeds = ARENA_ARRAY(judge->arena, FeedFigures, judge->model->feed_count);
    }
    if (survey->feeds[index].feed == NULL) {
        gather_feed_figures(judge, judge->model->feeds[index], &survey->feeds[index]);
    }
    survey->feed = &survey->feeds[index];
    judge->looked_at_feed = survey->feed->feed;
}

void judge_look_at_no_feed(Judge *judge)
{
    judge->survey->feed = NULL;
    judge->looked_at_feed = NULL;
}

Span place_of_name(const Judge *judge, const Entity *entity)
{
    return entity_span(judge->model, entity);
}

Span place_in_block(const Judge *judge, const Entity *entity, const Block *block, PropId prop)
{
    const Property *property = block_property(block, prop);
    /* What a part states is stated once for many: the finding belongs to the thing. */
    bool own = property != NULL && !(property->flags & PROPERTY_FROM_PART);
    return own ? property_span(judge->model, property) : place_of_name(judge, entity);
}

Span place_of(const Judge *judge, const Entity *entity, PropId prop)
{
    return place_in_block(judge, entity, &entity->block, prop);
}
