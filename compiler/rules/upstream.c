/* See upstream.h. */
#include "rules/upstream.h"

#include <string.h>

/* What a thing hangs on */

static bool is_origin(const Entity *giver)
{
    switch ((KindId)giver->kind) {
    case KIND_BANK:
    case KIND_INLET:
    case KIND_GENERATOR:
    case KIND_INVERTER:
    case KIND_CHARGER:
    case KIND_CONVERTER: return true;
    default: return false;
    }
}

static const Entity *handed_on(const Entity *const *sources, const Entity *giver)
{
    return is_origin(giver) ? giver : sources[giver->index];
}

static const Feed *feed_aboard(const Entity *taker)
{
    const Feed *feed = taker->fed;
    while (feed != NULL && !is_there(feed->giver)) {
        feed = feed->next;
    }
    return feed;
}

const Entity **sources_of(const Judge *judge)
{
    const Model *model = judge->model;
    const Entity **sources = ARENA_ARRAY(judge->arena, const Entity *, model->entity_count + 1);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && feed->taker->fed == NULL && is_there(feed->giver)) {
            sources[feed->taker->index] = handed_on(sources, feed->giver);
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *taker = model->feed_order[i];
        const Feed *feed = feed_aboard(taker);
        if (feed != NULL) {
            sources[taker->index] = handed_on(sources, feed->giver);
        }
    }
    return sources;
}

const Entity *bank_charged(const Entity *const *sources, const Feed *feed)
{
    const Entity *source = handed_on(sources, feed->taker);
    return source != NULL && source->kind == KIND_BANK && is_there(source) ? source : NULL;
}

/* What draws the most */

bool draws_itself(const Judge *judge, const Entity *thing)
{
    switch ((KindId)thing->kind) {
    case KIND_SWITCH:
    case KIND_BUS:
    case KIND_PANEL:
    case KIND_CIRCUIT:
    case KIND_OUTLET: return false;
    default: {
        const Figure *current = figure_of(judge, thing, FIGURE_CURRENT);
        return current != NULL && current->state == STATE_KNOWN;
    }
    }
}

static void place_among(Largest *largest, const Entity *thing, const Figure *current)
{
    int at = LARGEST_COUNT;
    while (at > 0 && (largest->thing[at - 1] == NULL || largest->current[at - 1]->high < current->high)) {
        at--;
    }
    for (int i = LARGEST_COUNT - 1; i > at; i--) {
        largest->thing[i] = largest->thing[i - 1];
        largest->current[i] = largest->current[i - 1];
    }
    if (at < LARGEST_COUNT) {
        largest->thing[at] = thing;
        largest->current[at] = current;
    }
}

Largest largest_on(const Judge *judge, const Entity *const *sources, const Entity *source)
{
    Largest largest = {{NULL}, {NULL}};
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        if (sources[i] == source && is_there(thing) && draws_itself(judge, thing)) {
            place_among(&largest, thing, figure_of(judge, thing, FIGURE_CURRENT));
        }
    }
    return largest;
}

void note_largest(Judge *judge, Finding *finding, const Largest *largest)
{
    for (int i = 0; i < LARGEST_COUNT && largest->thing[i] != NULL; i++) {
        finding_note(judge, finding, place_of_name(judge, largest->thing[i]), "`%s` takes %s",
                     say_name(judge, largest->thing[i]), say_figure(judge, largest->current[i]));
    }
}

/* Where sources meet */

typedef struct Reach {
    const Entity **sources; /* numbered in the order of the spec */
    uint32_t count;
    uint64_t *own;  /* by Entity.index: the bit of a source */
    uint64_t *mask; /* by Entity.index: the sources that can feed it */
    SourceClass which;
} Reach;

static bool is_of_class(const Entity *entity, SourceClass which)
{
    return which == SOURCES_DIRECT ? entity->kind == KIND_BANK
                                   : entity->kind == KIND_INLET || entity->kind == KIND_GENERATOR ||
                                         entity->kind == KIND_INVERTER;
}

static void number_sources(const Judge *judge, Reach *reach)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *entity = judge->model->entities[i];
        if (is_of_class(entity, reach->which) && is_there(entity)) {
            reach->own[i] = UINT64_C(1) << (reach->count < 63 ? reach->count : 63);
            reach->sources[reach->count++] = entity;
        }
    }
}

/* What a feed can bring. What turns one kind of power into another brings its own, not what feeds it. */
static uint64_t brought(const Reach *reach, const Feed *feed)
{
    const Entity *giver = feed->giver;
    if (!is_there(giver) || giver->flags & ENTITY_LOOP) {
        return 0;
    }
    if (reach->own[giver->index] != 0) {
        const Entity *passed =
            giver->kind == KIND_INVERTER ? entity_reference(giver, PROP_INVERTER_PASSES) : NULL;
        uint64_t through = is_there(passed) ? reach->own[passed->index] | reach->mask[passed->index] : 0;
        return reach->own[giver->index] | through;
    }
    return feed->maker || is_origin(giver) ? 0 : reach->mask[giver->index];
}

static void spread(const Judge *judge, Reach *reach)
{
    const Model *model = judge->model;
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (model->feeds[i]->maker) {
            reach->mask[model->feeds[i]->taker->index] |= brought(reach, model->feeds[i]);
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *taker = model->feed_order[i];
        for (const Feed *feed = taker->fed; feed != NULL; feed = feed->next) {
            reach->mask[taker->index] |= brought(reach, feed);
        }
    }
}

static const Entity *first_source(const Reach *reach, uint64_t mask)
{
    for (uint32_t i = 0; i < reach->count; i++) {
        if (reach->own[reach->sources[i]->index] & mask) {
            return reach->sources[i];
        }
    }
    return NULL;
}

static Meeting *make_meeting(const Judge *judge, const Reach *reach, const Feed *first, const Feed *second)
{
    uint64_t one = brought(reach, first);
    uint64_t other = brought(reach, second);
    Meeting *meeting = ARENA_NEW(judge->arena, Meeting);
    *meeting = (Meeting){.at = first->taker, .first = first, .second = second};
    meeting->one = first_source(reach, one & ~other ? one & ~other : one);
    uint64_t rest = other & ~reach->own[meeting->one->index];
    meeting->other = first_source(reach, other & ~one ? other & ~one : rest);
    return meeting;
}

static bool is_transfer(const Entity *entity)
{
    return entity->kind == KIND_SWITCH && str_is(entity_word(entity, PROP_SWITCH_WORKS_AS), "transfer");
}

const Meeting *meetings_of(const Judge *judge, SourceClass which)
{
    const Model *model = judge->model;
    Reach reach = {.which = which};
    reach.sources = ARENA_ARRAY(judge->arena, const Entity *, model->entity_count + 1);
    reach.own = ARENA_ARRAY(judge->arena, uint64_t, model->entity_count + 1);
    reach.mask = ARENA_ARRAY(judge->arena, uint64_t, model->entity_count + 1);
    number_sources(judge, &reach);
    spread(judge, &reach);
    spread(judge, &reach); /* an inverter may stand before what it passes */
    const Feed **first = ARENA_ARRAY(judge->arena, const Feed *, model->entity_count + 1);
    bool *told = ARENA_ARRAY(judge->arena, bool, model->entity_count + 1);
    Meeting *meetings = NULL;
    Meeting **end = &meetings;
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        uint32_t at = feed->taker->index;
        uint64_t mask = brought(&reach, feed);
        if (mask == 0 || told[at] || !is_there(feed->taker) || is_transfer(feed->taker)) {
            continue;
        }
        if (first[at] == NULL) {
            first[at] = feed;
        } else if (brought(&reach, first[at]) != mask) {
            told[at] = true;
            *end = make_meeting(judge, &reach, first[at], feed);
            end = &(*end)->next;
        }
    }
    return meetings;
}

/* Banks */

bool chemistry_of_bank(const Entity *bank, Chemistry *chemistry)
{
    static const char *const words[CHEMISTRY_COUNT] = {[CHEMISTRY_FLOODED] = "flooded",
                                                       [CHEMISTRY_AGM] = "agm",
                                                       [CHEMISTRY_GEL] = "gel",
                                                       [CHEMISTRY_LIFEPO4] = "lifepo4"};
    Str word = entity_word(bank, PROP_BANK_CHEMISTRY);
    for (int c = 0; c < CHEMISTRY_COUNT; c++) {
        if (str_is(word, words[c])) {
            *chemistry = (Chemistry)c;
            return true;
        }
    }
    return false;
}

Interval strings_of_bank(const Judge *judge, const Entity *bank)
{
    Side parallel = side_value(judge, bank, PROP_BANK_PARALLEL, 0);
    if (side_is_known(parallel)) {
        return parallel.value;
    }
    Side count = side_value(judge, bank, PROP_COMMON_COUNT, 0);
    Side series = side_value(judge, bank, PROP_BANK_SERIES, 0);
    if (!side_is_known(count) || !side_is_known(series)) {
        return point(1.0);
    }
    return interval_max(point(1.0), interval_divide(count.value, series.value));
}

double nominal_volts(const Judge *judge, const Feed *feed)
{
    const Figure *drop = feed_figure(judge, feed, FIGURE_VOLTAGE_DROP);
    for (uint16_t i = 0; drop != NULL && i < drop->input_count; i++) {
        const Input *input = &drop->inputs[i];
        if (input->kind == INPUT_FACT && input->u.fact->unit.unit == UNIT_V) {
            return input->u.fact->low;
        }
    }
    return 0.0;
}

/* Saying */

bool already_told(const Judge *judge, const char *rule, const Entity *subject)
{
    for (const Finding *f = judge->first; f != NULL; f = f->next) {
        if (f->subject == subject && strcmp(f->rule->name, rule) == 0) {
            return true;
        }
    }
    return false;
}

const char *say_names(const Judge *judge, const Entity *const *things, uint32_t given, uint32_t count)
{
    Buf text;
    buf_init(&text, judge->arena);
    for (uint32_t i = 0; i < given; i++) {
        const char *between = i == 0 ? "" : i + 1 == count ? " and " : ", ";
        buf_format(&text, "%s`%s`", between, say_name(judge, things[i]));
    }
    if (count > given) {
        buf_format(&text, " and %u more", (unsigned)(count - given));
    }
    return text.text;
}
