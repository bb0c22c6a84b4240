/*
 * Rules of the spec as a whole: what draws power is fed from a source, from one at a time, and no feed runs in a circle.
 */
#include "rules/whole.h"

#include "rules/upstream.h"

/* Whether a thing lives on electric power: yes, no, or the property that would tell is not stated. */
typedef enum Draws { DRAWS_NO, DRAWS_YES, DRAWS_UNSAID } Draws;

static Draws toilet_draws(const Entity *toilet)
{
    Str worked_by = entity_word(toilet, PROP_TOILET_WORKED_BY);
    if (str_is(worked_by, "hand") || str_is(worked_by, "composting")) {
        return DRAWS_NO;
    }
    return worked_by.length > 0 || entity_states(toilet, PROP_LOAD_DRAW) ? DRAWS_YES : DRAWS_UNSAID;
}

/* What draws by its own nature, and what does only if it says so. What only passes power on does not draw. */
static Draws draws_power(const Entity *thing)
{
    switch ((KindId)thing->kind) {
    case KIND_LOAD:
    case KIND_CHARGER:
    case KIND_CONVERTER:
    case KIND_INVERTER:
    case KIND_OUTLET:
    case KIND_THRUSTER:
    case KIND_BLOWER:
    case KIND_COOLER:
    case KIND_ALARM:
    case KIND_WINDLASS:
    case KIND_INSTRUMENT:
    case KIND_NETWORK:
    case KIND_RADIO:
    case KIND_NAV_LIGHT:
    case KIND_HORN: return DRAWS_YES;
    case KIND_PUMP:   /* without a draw: a foot pump, whether it says so or not */
    case KIND_HEATER: /* without a draw: a stove that burns by itself */
    case KIND_BURNER:
        return entity_states(thing, PROP_LOAD_DRAW) ? DRAWS_YES : DRAWS_NO;
    case KIND_WATER_HEATER: return entity_states(thing, PROP_WATER_HEATER_ELEMENT) ? DRAWS_YES : DRAWS_NO;
    case KIND_ENGINE: {
        bool electric = str_is(entity_word(thing, PROP_ENGINE_FUEL), "electric");
        return electric || entity_states(thing, PROP_ENGINE_STARTER) ? DRAWS_YES : DRAWS_NO;
    }
    case KIND_BILGE_PUMP: return entity_yes(thing, PROP_BILGE_PUMP_HAND) == 1 ? DRAWS_NO : DRAWS_YES;
    case KIND_TOILET: return toilet_draws(thing);
    default: return DRAWS_NO;
    }
}

/* Where the way from a thing to its source ends. */
typedef enum Step { STEP_UP, STEP_SOURCE, STEP_NOTHING, STEP_DROPPED, STEP_WAITING } Step;
typedef struct WayEnd {
    Step step;
    const Entity *at;
} WayEnd;

/* Who is powered, by Entity.index. */
typedef struct Powering {
    Judge *judge;
    bool *made_for;     /* something that makes power feeds it */
    bool *turned;       /* an inlet hangs on it that it should hang on */
    WayEnd *ends;       /* STEP_UP: not looked at, for it runs in a loop */
    uint32_t *hangs_on; /* how many things that draw have no power for want of its own */
    const Entity **one; /* ... and one of them */
} Powering;

static Powering powering_begin(Judge *judge)
{
    const Model *model = judge->model;
    Powering p = {.judge = judge,
                  .made_for = ARENA_ARRAY(judge->scratch, bool, model->entity_count),
                  .turned = ARENA_ARRAY(judge->scratch, bool, model->entity_count),
                  .ends = ARENA_ARRAY(judge->scratch, WayEnd, model->entity_count),
                  .hangs_on = ARENA_ARRAY(judge->scratch, uint32_t, model->entity_count),
                  .one = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count)};
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && feed->giver != NULL && !whole_is_out(feed->giver)) {
            p.made_for[feed->taker->index] = true;
        } else if (feed->giver != NULL && is_turned_inlet(feed)) {
            p.turned[feed->giver->index] = true; /* told by wrong-supply */
        }
    }
    return p;
}

static bool is_source(const Entity *thing)
{
    return thing->kind == KIND_BANK || thing->kind == KIND_INLET || thing->kind == KIND_GENERATOR;
}

static bool shares_network(const Entity *thing)
{
    return kinds[thing->kind].groups & GROUPS_NETWORK && thing->kind != KIND_ENGINE &&
           entity_states(thing, PROP_NETWORKED_NETWORK);
}

/* What brings a thing its power, one step up. */
static Step step_up(const Powering *p, const Entity *thing, const Entity **up)
{
    if (is_source(thing) || p->made_for[thing->index]) {
        return STEP_SOURCE;
    }
    if (entity_states(thing, PROP_FEED_FED_BY)) {
        Step step = STEP_WAITING;
        for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
            if (feed->giver == NULL) {
                return STEP_WAITING;
            }
            if (!whole_is_out(feed->giver)) {
                *up = feed->giver;
                return STEP_UP;
            }
            step = feed->giver->flags & ENTITY_BROKEN ? STEP_WAITING : STEP_DROPPED;
        }
        return step;
    }
    if (p->turned[thing->index] || thing->flags & ENTITY_FEED_LOST) {
        return STEP_WAITING;
    }
    return shares_network(thing) ? STEP_SOURCE : STEP_NOTHING; /* the network itself is judged for itself */
}

/* Givers come before takers, so the end of what feeds a thing is known when its own turn comes. */
static void find_ends(Powering *p)
{
    const Model *model = p->judge->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        const Entity *up = NULL;
        Step step = step_up(p, thing, &up);
        p->ends[thing->index] = step == STEP_UP ? p->ends[up->index] : (WayEnd){step, thing};
    }
}

/*
 * Counts something that draws where its way ends; a way that reaches a source, a loop or a mistake is not
 * told here.
 */
static void count_at_end(Powering *p, const Entity *thing)
{
    const WayEnd *end = &p->ends[thing->index];
    if (end->step == STEP_SOURCE) {
        judge_holds(p->judge);
    } else if (end->step == STEP_WAITING || end->step == STEP_UP) {
        judge_waiting(p->judge);
    } else if (p->hangs_on[end->at->index]++ == 0) {
        p->one[end->at->index] = thing;
    }
}

/* "`fridge`", "`fridge` and 3 more" */
static const char *say_hanging(const Powering *p, const Entity *thing)
{
    uint32_t others = p->hangs_on[thing->index] - 1;
    const char *name = say_name(p->judge, p->one[thing->index]);
    return others == 0 ? text_format(p->judge->arena, "`%s`", name)
                       : text_format(p->judge->arena, "`%s` and %u more", name, (unsigned)others);
}

/* What can carry a battery of its own, or be plugged in now and then. */
static bool may_be_portable(const Entity *thing)
{
    return thing->kind == KIND_LOAD || thing->kind == KIND_ALARM || thing->kind == KIND_RADIO ||
           thing->kind == KIND_INSTRUMENT || thing->kind == KIND_NAV_LIGHT || thing->kind == KIND_HORN;
}

/* The device that stood before what hangs on a dropped thing goes with it: who feeds that from elsewhere has to think of it. */
static void note_lost_device(Judge *judge, Finding *finding, const Entity *thing, const Entity *giver)
{
    const Property *protect = giver->fed != NULL ? feed_property(giver->fed, PROP_FEED_PROTECT) : NULL;
    if (protect != NULL && !entity_states(thing, PROP_FEED_PROTECT)) {
        finding_note(judge, finding, property_span(judge->model, protect),
                     "this goes with it, and nothing else protects the cable of `%s`", say_name(judge, thing));
        finding_remedy(judge, finding, "`fed-by` something that stays aboard, and a `protect` of its own, unless that is protected");
    } else {
        finding_remedy(judge, finding, "`fed-by` something that stays aboard");
    }
}

/* What is fed by something that is dropped: all that hangs on that is told of with the first. */
static void tell_dropped(Powering *p, const Entity *thing, const Entity *giver)
{
    Judge *judge = p->judge;
    enum { NAMED_MOST = 16 };
    const Entity *named[NAMED_MOST];
    uint32_t count = 0;
    for (const Feed *feed = giver->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        if (feed->maker || p->hangs_on[taker->index] == 0 || feed != taker->fed) {
            continue;
        }
        if (taker->index < thing->index) {
            judge_gives_way(judge);
            return;
        }
        if (count < NAMED_MOST) {
            named[count] = taker;
        }
        count++;
    }
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY));
    finding_say(judge, finding, "%s %s fed by `%s`, which is dropped",
                count > 1 ? say_names(judge, named, count < NAMED_MOST ? count : NAMED_MOST, count)
                          : text_format(judge->arena, "`%s`", say_name(judge, thing)),
                count > 1 ? "are" : "is", say_name(judge, giver));
    note_lost_device(judge, finding, thing, giver);
}

static void tell_unpowered(Powering *p, const Entity *thing)
{
    Judge *judge = p->judge;
    const char *name = say_name(judge, thing);
    bool itself = p->one[thing->index] == thing && p->hangs_on[thing->index] == 1;
    const Property *fed_by = entity_property(thing, PROP_FEED_FED_BY);
    if (fed_by != NULL) {
        tell_dropped(p, thing, value_entity(property_value(fed_by, 0)));
        return;
    }
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY));
    if (itself) {
        finding_say(judge, finding, "`%s` needs electric power, and nothing feeds it", name);
    } else {
        finding_say(judge, finding, "nothing feeds `%s`, which %s %s on", name, say_hanging(p, thing),
                    p->hangs_on[thing->index] == 1 ? "hangs" : "hang");
    }
    finding_remedy(judge, finding, "`fed-by` what it hangs on");
    if (itself && may_be_portable(thing)) {
        finding_remedy(judge, finding, "%s", props[PROP_COMMON_PORTABLE].example);
    }
}

static void ask_draws(Judge *judge, const Entity *toilet)
{
    Finding *finding = judge_open(judge, toilet, place_of_name(judge, toilet), toilet, PROP_TOILET_WORKED_BY);
    finding_say(judge, finding, "nothing feeds `%s`, and it does not say what works it",
                say_name(judge, toilet));
    finding_remedy(judge, finding, "%s", say_form(judge, PROP_TOILET_WORKED_BY));
}

void judge_unpowered(Judge *judge)
{
    const Model *model = judge->model;
    Powering powering = powering_begin(judge);
    find_ends(&powering);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        if (whole_is_out(thing) || entity_yes(thing, PROP_COMMON_PORTABLE) == 1) {
            continue;
        }
        Draws draws = draws_power(thing);
        if (draws == DRAWS_YES || (draws == DRAWS_UNSAID && entity_states(thing, PROP_FEED_FED_BY))) {
            count_at_end(&powering, thing);
        } else if (draws == DRAWS_UNSAID) {
            ask_draws(judge, thing);
        }
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        if (powering.hangs_on[i] > 0) {
            tell_unpowered(&powering, model->entities[i]);
        }
    }
}

/* feed-loop */

/* The giver through which a thing in a loop, or one that hangs on a loop, is fed. */
static const Entity *giver_in_loop(const Entity *thing)
{
    for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
        if (feed->giver != NULL && feed->giver->flags & ENTITY_LOOP && !whole_is_out(feed->giver)) {
            return feed->giver;
        }
    }
    return NULL;
}

static void tell_loop(Judge *judge, const Entity *in_loop)
{
    enum { MOST_NAMES = 12 };
    const Entity *first = in_loop;
    uint32_t length = 1;
    for (const Entity *e = giver_in_loop(in_loop); e != in_loop; e = giver_in_loop(e)) {
        first = e->index < first->index ? e : first;
        length++;
    }
    /* From taker to giver the walk goes against the current; written backwards it goes with it. */
    const Entity **members = ARENA_ARRAY(judge->scratch, const Entity *, length);
    uint32_t at = length;
    for (const Entity *e = giver_in_loop(first); at > 0; e = giver_in_loop(e)) {
        members[--at] = e;
    }
    Finding *finding = judge_broken(judge, first, place_of(judge, first, PROP_FEED_FED_BY));
    Buf way;
    buf_init(&way, judge->arena);
    for (uint32_t i = 0; i < length; i++) {
        if (i >= MOST_NAMES) {
            buf_text(&way, "... -> ");
            break;
        }
        buf_format(&way, "`%s` -> ", say_name(judge, members[i]));
        if (members[i] != first) {
            finding_note(judge, finding, place_of(judge, members[i], PROP_FEED_FED_BY), "fed from here");
        }
    }
    finding_say(judge, finding, "a feed leads back to itself: %s`%s`", way.text, say_name(judge, first));
    finding_remedy(judge, finding, "`fed-by` a bank, an inlet or what hangs on one, on one of these lines");
}

void judge_feed_loop(Judge *judge)
{
    const Model *model = judge->model;
    uint32_t *walk =
        ARENA_ARRAY(judge->scratch, uint32_t, model->entity_count); /* in which walk it was met; 0: in none */
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *e = model->entities[i];
        if (whole_is_out(e) || !(e->flags & ENTITY_LOOP)) {
            continue;
        }
        while (e != NULL && walk[e->index] == 0) {
            walk[e->index] = i + 1;
            e = giver_in_loop(e);
        }
        if (e != NULL && walk[e->index] == i + 1) {
            tell_loop(judge, e);
        }
    }
}

/* fed-twice */

/* A switch for two banks has two feeds by its nature; mains that meet are told by `one-source`. */
static bool may_be_fed_twice(const Entity *thing)
{
    Str works_as = thing->kind == KIND_SWITCH ? entity_word(thing, PROP_SWITCH_WORKS_AS) : STR("");
    return (works_as.length > 0 && !str_is(works_as, "battery")) || thing->flags & ENTITY_AC;
}

/* `gen` that feeds a switch which is `fed-by gen`: one cable, stated at both ends. */
static void judge_said_twice(Judge *judge, const Feed *made)
{
    const Feed *feed = made->taker != NULL ? made->taker->fed : NULL;
    while (feed != NULL && feed->giver != made->giver) {
        feed = feed->next;
    }
    if (feed == NULL || whole_is_out(made->giver) || whole_is_out(made->taker)) {
        return;
    }
    Finding *finding = judge_broken(judge, made->taker, place_of(judge, made->taker, PROP_FEED_FED_BY));
    finding_at(finding, made->giver);
    finding_say(judge, finding,
                "`%s` says that it `feeds` `%s`, which says that it is `fed-by` it: two cables, each counted",
                say_name(judge, made->giver), say_name(judge, made->taker));
    finding_note(judge, finding, place_of(judge, made->giver, PROP_MAKER_FEEDS), "here too");
    finding_remedy(judge, finding, "one of both lines");
}

/* How many of the things that a line names there are: a name that is a mistake is no second feed. */
static uint32_t count_known(const Property *fed_by)
{
    uint32_t count = 0;
    for (uint16_t i = 0; i < fed_by->count; i++) {
        count += value_entity(&fed_by->values[i]) != NULL;
    }
    return count;
}

void judge_fed_twice(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->feed_count; i++) {
        if (judge->model->feeds[i]->maker) {
            judge_said_twice(judge, judge->model->feeds[i]);
        }
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        const Property *fed_by = entity_property(thing, PROP_FEED_FED_BY);
        if (fed_by == NULL || whole_is_out(thing)) {
            continue;
        }
        if (fed_by->count < 2 || may_be_fed_twice(thing)) {
            judge_holds(judge);
            continue;
        }
        if (count_known(fed_by) < 2) {
            judge_waiting(judge);
            continue;
        }
        Finding *finding = judge_broken(judge, thing, value_span(judge->model, &fed_by->values[1]));
        finding_say(judge, finding,
                    "`%s` is fed by %u things at once: its current counts on each, and a fuse that opens "
                    "does not make it dead",
                    say_name(judge, thing), (unsigned)fed_by->count);
        finding_remedy(judge, finding, "one of them, or a `switch` between that is fed by both: `works-as transfer`, or to join banks `parallel` "
                       "or `emergency`");
    }
}
