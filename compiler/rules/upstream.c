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

static const Entity *handed_on(const Upstream *upstream, const Entity *giver)
{
    return is_origin(giver) ? giver : upstream->source[giver->index];
}

static const Feed *feed_aboard(const Entity *taker)
{
    const Feed *feed = taker->fed;
    while (feed != NULL && !is_aboard(feed->giver)) {
        feed = feed->next;
    }
    return feed;
}

static void find_sources(const Model *model, Upstream *upstream)
{
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && feed->taker->fed == NULL && is_aboard(feed->giver)) {
            upstream->source[feed->taker->index] = handed_on(upstream, feed->giver);
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *taker = model->feed_order[i];
        const Feed *feed = feed_aboard(taker);
        if (feed != NULL) {
            upstream->source[taker->index] = handed_on(upstream, feed->giver);
        }
    }
}

static void note_charging(const Judge *judge, Upstream *upstream, const Feed *feed, const Entity *bank, bool turned)
{
    Charging *charging = ARENA_NEW(judge->arena, Charging);
    *charging = (Charging){feed, turned, upstream->charging[bank->index]};
    upstream->charging[bank->index] = charging;
}

/* From the last to the first, so that the lists run in the order of the spec. */
static void hang_up(const Judge *judge, Upstream *upstream)
{
    const Model *model = judge->model;
    for (uint32_t i = model->entity_count; i-- > 0;) {
        const Entity *source = upstream->source[i];
        if (source != NULL && is_aboard(model->entities[i])) {
            upstream->next[i] = upstream->first[source->index];
            upstream->first[source->index] = model->entities[i];
        }
    }
    for (const Turned *turned = charged_when_turned(model, judge->scratch, judge->arena); turned != NULL; turned = turned->next) {
        if (is_aboard(turned->feed->giver)) {
            note_charging(judge, upstream, turned->feed, turned->bank, true);
        }
    }
    for (uint32_t i = model->feed_count; i-- > 0;) {
        const Feed *feed = model->feeds[i];
        bool brings = feed->maker && is_aboard(feed->giver) && feed_brings(feed);
        const Entity *bank = brings ? bank_charged(upstream, feed) : NULL;
        if (bank != NULL) {
            note_charging(judge, upstream, feed, bank, false);
        }
    }
}

const Upstream *upstream_of(const Judge *judge)
{
    if (judge->survey->upstream == NULL) {
        uint32_t count = judge->model->entity_count + 1;
        Upstream *upstream = ARENA_NEW(judge->arena, Upstream);
        *upstream = (Upstream){.source = ARENA_ARRAY(judge->arena, const Entity *, count),
                               .first = ARENA_ARRAY(judge->arena, const Entity *, count),
                               .next = ARENA_ARRAY(judge->arena, const Entity *, count),
                               .charging = ARENA_ARRAY(judge->arena, Charging *, count)};
        find_sources(judge->model, upstream);
        hang_up(judge, upstream);
        judge->survey->upstream = upstream;
    }
    return judge->survey->upstream;
}

const Entity *bank_charged(const Upstream *upstream, const Feed *feed)
{
    const Entity *source = handed_on(upstream, feed->taker);
    return is_aboard(source) && source->kind == KIND_BANK ? source : NULL;
}

/* All ways from a source */

typedef struct Way {
    const Entity **stack;
    bool *reached;
    uint32_t count;
} Way;

static void reach(Way *way, const Entity *thing)
{
    if (is_aboard(thing) && !way->reached[thing->index]) {
        way->reached[thing->index] = true;
        way->stack[way->count++] = thing;
    }
}

const bool *all_behind(const Judge *judge, const Entity *source)
{
    const Model *model = judge->model;
    Way way = {.stack = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1),
               .reached = ARENA_ARRAY(judge->scratch, bool, model->entity_count + 1)};
    way.stack[way.count++] = source;
    while (way.count > 0) {
        const Entity *from = way.stack[--way.count];
        bool turns = from != source && is_origin(from) && from->kind != KIND_INVERTER;
        for (const Feed *feed = turns ? NULL : from->gives; feed != NULL; feed = feed->next_of_giver) {
            reach(&way, feed->taker);
        }
        const Entity *inverter = model->first_of_kind[KIND_INVERTER];
        for (; inverter != NULL; inverter = inverter->next_of_kind) {
            if (entity_reference(inverter, PROP_INVERTER_PASSES) == from) {
                reach(&way, inverter);
            }
        }
    }
    return way.reached;
}

static Drawn *drawn_of(const Judge *judge)
{
    if (judge->survey->drawn == NULL) {
        Drawn *drawn = ARENA_NEW(judge->arena, Drawn);
        *drawn = (Drawn){.things = ARENA_ARRAY(judge->arena, const Entity *, judge->model->entity_count + 1),
                         .seen = ARENA_ARRAY(judge->arena, uint32_t, judge->model->entity_count + 1)};
        judge->survey->drawn = drawn;
    }
    return judge->survey->drawn;
}

static void draw_behind(Drawn *drawn, const Entity *from)
{
    for (const Feed *feed = from->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        bool lent = feed != feed_aboard(taker) && str_is(entity_word(taker, PROP_SWITCH_WORKS_AS), "emergency");
        if (!feed->maker && !lent && is_aboard(taker) && drawn->seen[taker->index] != drawn->asked) {
            drawn->seen[taker->index] = drawn->asked;
            drawn->things[drawn->count++] = taker;
        }
    }
}

const Drawn *drawn_on(const Judge *judge, const Entity *bank)
{
    Drawn *drawn = drawn_of(judge);
    drawn->asked++;
    drawn->count = 0;
    draw_behind(drawn, bank);
    for (uint32_t i = 0; i < drawn->count; i++) {
        if (!is_origin(drawn->things[i])) {
            draw_behind(drawn, drawn->things[i]);
        }
    }
    return drawn;
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
        if (is_cranked(thing)) {
            return false; /* for seconds, and apart from all else */
        }
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

static void place_if_drawn(const Judge *judge, const Entity *thing, FigureId id, Largest *largest)
{
    const Figure *current = draws_itself(judge, thing) ? figure_of(judge, thing, id) : NULL;
    if (current != NULL && current->state == STATE_KNOWN && current->high > 0.0) {
        place_among(largest, thing, current);
    }
}

static void place_behind(const Judge *judge, const Entity *inlet, FigureId id, Largest *largest)
{
    const bool *behind = all_behind(judge, inlet);
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        if (behind[i] && thing->kind != KIND_INVERTER) {
            place_if_drawn(judge, thing, id, largest);
        }
    }
}

Largest largest_on(const Judge *judge, const Upstream *upstream, const Entity *source, FigureId id)
{
    Largest largest = {{NULL}, {NULL}};
    if (source->kind == KIND_INLET) {
        place_behind(judge, source, id, &largest);
        return largest;
    }
    for (const Entity *thing = upstream->first[source->index]; thing != NULL; thing = upstream->next[thing->index]) {
        if (thing->kind == KIND_INLET) {
            place_behind(judge, thing, id, &largest); /* it takes what hangs on it, and nothing by itself */
        } else {
            place_if_drawn(judge, thing, id, &largest);
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

/* What one piece of a thing takes, at least. */
static double one_a(const Entity *thing, const Figure *current)
{
    const Value *count = property_value(entity_property(thing, PROP_COMMON_COUNT), 0);
    return count->kind == VALUE_QUANTITY && count->u.quantity.high > 1.0 ? current->low / count->u.quantity.high : current->low;
}

void remedy_together(Judge *judge, Finding *finding, const Upstream *upstream, const Entity *source, double limit_a)
{
    Largest largest = largest_on(judge, upstream, source, FIGURE_CURRENT);
    for (int i = 0; i < LARGEST_COUNT && largest.thing[i] != NULL; i++) {
        if (one_a(largest.thing[i], largest.current[i]) > limit_a) {
            finding_remedy(judge, finding, "a smaller `%s`, which alone takes more", say_name(judge, largest.thing[i]));
            return;
        }
    }
    finding_remedy(judge, finding, "`together` on its panel or bus, if never so much of it runs at once");
}

/* Where sources meet */

/* Sources, in the order in which they were found. */
typedef struct Set {
    const Entity *of[SOURCES_APART];
    uint32_t count;
} Set;

typedef struct Reach {
    Set *sets; /* by Entity.index: the sources that can feed it */
    SourceClass which;
} Reach;

static bool set_has(const Set *set, const Entity *source)
{
    for (uint32_t i = 0; i < set->count; i++) {
        if (set->of[i] == source) {
            return true;
        }
    }
    return false;
}

static void set_add(Set *set, const Entity *source)
{
    if (set->count < SOURCES_APART && !set_has(set, source)) {
        set->of[set->count++] = source;
    }
}

static void set_join(Set *set, const Set *more)
{
    for (uint32_t i = 0; i < more->count; i++) {
        set_add(set, more->of[i]);
    }
}

/* The first that the other has not; NULL if it has them all. */
static const Entity *set_beyond(const Set *set, const Set *other)
{
    for (uint32_t i = 0; i < set->count; i++) {
        if (!set_has(other, set->of[i])) {
            return set->of[i];
        }
    }
    return NULL;
}

static bool is_of_class(const Entity *entity, SourceClass which)
{
    return which != SOURCES_ALTERNATING ? entity->kind == KIND_BANK
                                        : entity->kind == KIND_INLET || entity->kind == KIND_GENERATOR ||
                                              entity->kind == KIND_INVERTER;
}

/* Adds what a feed can bring. What turns one kind of power into another brings its own, not what feeds it. */
static void bring(const Reach *reach, const Feed *feed, Set *set)
{
    const Entity *giver = feed->giver;
    if (!is_aboard(giver) || giver->flags & ENTITY_LOOP) {
        return;
    }
    if (is_of_class(giver, reach->which)) {
        set_add(set, giver);
        const Entity *passed =
            giver->kind == KIND_INVERTER ? entity_reference(giver, PROP_INVERTER_PASSES) : NULL;
        if (is_aboard(passed) && is_of_class(passed, reach->which)) {
            set_add(set, passed);
        } else if (is_aboard(passed)) {
            set_join(set, &reach->sets[passed->index]);
        }
    } else if (!feed->maker && !is_origin(giver)) {
        set_join(set, &reach->sets[giver->index]);
    }
}

static Set brought(const Reach *reach, const Feed *feed)
{
    Set set = {.count = 0};
    bring(reach, feed, &set);
    return set;
}

static void spread(const Model *model, Reach *reach)
{
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (model->feeds[i]->maker) {
            bring(reach, model->feeds[i], &reach->sets[model->feeds[i]->taker->index]);
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *taker = model->feed_order[i];
        for (const Feed *feed = taker->fed; feed != NULL; feed = feed->next) {
            bring(reach, feed, &reach->sets[taker->index]);
        }
    }
}

/* The meeting of what two feeds bring; NULL if they bring the same. */
static Meeting *meeting_of(const Judge *judge, const Reach *reach, const Feed *first, const Feed *second)
{
    Set one = brought(reach, first);
    Set other = brought(reach, second);
    const Entity *only_one = set_beyond(&one, &other);
    const Entity *only_other = set_beyond(&other, &one);
    if (only_one == NULL && only_other == NULL) {
        return NULL;
    }
    Meeting *meeting = ARENA_NEW(judge->arena, Meeting);
    *meeting = (Meeting){.at = first->taker, .first = first, .second = second};
    meeting->one = only_one != NULL ? only_one : one.of[0];
    meeting->other = only_other != NULL ? only_other : other.of[0];
    memcpy(meeting->ones, one.of, sizeof one.of);
    memcpy(meeting->others, other.of, sizeof other.of);
    return meeting;
}

static bool is_transfer(const Entity *entity)
{
    return entity->kind == KIND_SWITCH && str_is(entity_word(entity, PROP_SWITCH_WORKS_AS), "transfer");
}

/* Feeds of one thing that each bring something else. */
typedef struct Apart {
    const Feed *feeds[SOURCES_APART];
    uint32_t count;
} Apart;

/* The meetings of a feed with those before it, one of each kind; the end of the list. */
static Meeting **meet(const Judge *judge, const Reach *reach, Apart *apart, const Feed *feed, Meeting **end)
{
    uint32_t before = apart->count;
    bool same = false;
    for (uint32_t i = 0; i < before && !same; i++) {
        Meeting *meeting = meeting_of(judge, reach, apart->feeds[i], feed);
        same = meeting == NULL;
        if (meeting != NULL) {
            meeting->with_first = i == 0;
            *end = meeting;
            end = &meeting->next;
        }
    }
    if (!same && before < SOURCES_APART) {
        apart->feeds[apart->count++] = feed;
    }
    return end;
}

/* Whether there are two of the class at all. */
static bool are_several(const Model *model, SourceClass which)
{
    static const KindId all[] = {KIND_BANK, KIND_INLET, KIND_GENERATOR, KIND_INVERTER};
    uint32_t count = 0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        const Entity *source = model->first_of_kind[all[i]];
        for (; source != NULL && is_of_class(source, which) && count < 2; source = source->next_of_kind) {
            count++;
        }
    }
    return count >= 2;
}

static bool is_fed_twice(const Entity *taker)
{
    const Feed *fed = taker->fed, *made = taker->made;
    return (fed != NULL && (fed->next != NULL || made != NULL)) || (made != NULL && made->next_of_taker != NULL);
}

/* At transfer switches too. */
static const Meeting *find_meetings(const Judge *judge, SourceClass which)
{
    const Model *model = judge->model;
    if (!are_several(model, which)) {
        return NULL;
    }
    Reach reach = {.which = which, .sets = ARENA_ARRAY(judge->scratch, Set, model->entity_count + 1)};
    spread(model, &reach);
    if (which == SOURCES_ALTERNATING) {
        spread(model, &reach); /* an inverter may stand before what it passes */
    }
    Apart **apart = ARENA_ARRAY(judge->scratch, Apart *, model->entity_count + 1);
    Meeting *meetings = NULL;
    Meeting **end = &meetings;
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        const Entity *taker = feed->taker;
        if (!is_fed_twice(taker) || !is_aboard(taker) || brought(&reach, feed).count == 0) {
            continue;
        }
        if (apart[taker->index] == NULL) {
            apart[taker->index] = ARENA_NEW(judge->scratch, Apart);
        }
        end = meet(judge, &reach, apart[taker->index], feed, end);
    }
    return meetings;
}

static const Meeting *but_switched(const Judge *judge, const Meeting *all)
{
    Meeting *meetings = NULL;
    Meeting **end = &meetings;
    for (; all != NULL; all = all->next) {
        if (!is_transfer(all->at)) {
            *end = ARENA_NEW(judge->arena, Meeting);
            **end = *all;
            (*end)->next = NULL;
            end = &(*end)->next;
        }
    }
    return meetings;
}

typedef struct Meetings {
    const Meeting *of[SOURCES_ALTERNATING + 1];
    bool found[SOURCES_ALTERNATING + 1];
} Meetings;

const Meeting *meetings_of(const Judge *judge, SourceClass which)
{
    if (judge->survey->meetings == NULL) {
        judge->survey->meetings = ARENA_NEW(judge->arena, Meetings);
    }
    Meetings *known = judge->survey->meetings;
    if (!known->found[which]) {
        known->of[which] = which == SOURCES_DIRECT_SWITCHED
                               ? find_meetings(judge, which)
                               : but_switched(judge, which == SOURCES_DIRECT ? meetings_of(judge, SOURCES_DIRECT_SWITCHED)
                                                                             : find_meetings(judge, which));
        known->found[which] = true;
    }
    return known->of[which];
}

/* Banks */

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

/* Saying */

bool is_inverter_feed(const Judge *judge, const Feed *feed)
{
    if (feed->maker || feed->shares || feed->taker->kind != KIND_INVERTER || feed->taker->fed != feed) {
        return false;
    }
    const Figure *low = figure_of(judge, feed->taker, FIGURE_CURRENT_WHEN_LOW);
    return low != NULL && low->state == STATE_KNOWN;
}

bool already_told(const Judge *judge, const char *rule, const Entity *subject)
{
    for (const Finding *f = judge->first; f != NULL; f = f->next) {
        if (f->subject == subject && f->verdict == VERDICT_BROKEN && strcmp(f->rule->name, rule) == 0) {
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

const char *say_turned(const Judge *judge, const Charging *charging)
{
    return charging->turned ? text_format(judge->arena, " by way of `%s`", say_name(judge, charging->feed->taker)) : "";
}
