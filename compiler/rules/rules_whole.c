/*
 * Rules of the spec as a whole: what draws power is fed, no feed runs in a circle, the goals are met, and what is missing
 * or stands there for nothing.
 *
 * The rule `unmeasured` tells what every rule before it could not judge; it has to be the last of this family.
 */
#include "rules/families.h"

#include "model/agree.h"

static bool is_out(const Entity *entity)
{
    return entity->flags & (ENTITY_DROPPED | ENTITY_BROKEN);
}

/* unpowered */

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
    case KIND_HORN:
        return DRAWS_YES;
    case KIND_PUMP: /* without a draw: a foot pump */
    case KIND_HEATER: /* without a draw: a stove that burns by itself */
        return entity_states(thing, PROP_LOAD_DRAW) ? DRAWS_YES : DRAWS_NO;
    case KIND_WATER_HEATER:
        return entity_states(thing, PROP_WATER_HEATER_ELEMENT) ? DRAWS_YES : DRAWS_NO;
    case KIND_ENGINE: {
        bool electric = str_is(entity_word(thing, PROP_ENGINE_FUEL), "electric");
        return electric || entity_states(thing, PROP_ENGINE_STARTER) ? DRAWS_YES : DRAWS_NO;
    }
    case KIND_BILGE_PUMP:
        return entity_yes(thing, PROP_BILGE_PUMP_HAND) == 1 ? DRAWS_NO : DRAWS_YES;
    case KIND_TOILET:
        return toilet_draws(thing);
    default:
        return DRAWS_NO;
    }
}

/* What is needed to say who is powered, looked up once. */
typedef struct Powering {
    Judge *judge;
    bool *made_for;          /* by Entity.index: something that makes power feeds it */
    uint32_t *hangs_on;      /* by Entity.index: how many things that draw have no power for want of its own */
    const Entity **one;      /* ... and one of them */
} Powering;

static Powering powering_begin(Judge *judge)
{
    const Model *model = judge->model;
    Powering p = {.judge = judge,
                  .made_for = ARENA_ARRAY(judge->arena, bool, model->entity_count),
                  .hangs_on = ARENA_ARRAY(judge->arena, uint32_t, model->entity_count),
                  .one = ARENA_ARRAY(judge->arena, const Entity *, model->entity_count)};
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && feed->giver != NULL && !is_out(feed->giver)) {
            p.made_for[feed->taker->index] = true;
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
typedef enum Step { STEP_SOURCE, STEP_UP, STEP_NOTHING, STEP_DROPPED, STEP_WAITING } Step;

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
            if (!is_out(feed->giver)) {
                *up = feed->giver;
                return STEP_UP;
            }
            step = feed->giver->flags & ENTITY_BROKEN ? STEP_WAITING : STEP_DROPPED;
        }
        return step;
    }
    return shares_network(thing) ? STEP_SOURCE : STEP_NOTHING; /* the network itself is judged for itself */
}

/*
 * Follows the feed of something that draws up to where it ends, and counts it there. A loop, a mistake and a way that
 * reaches a source end the search without a word.
 */
static void follow(Powering *p, const Entity *thing)
{
    const Entity *at = thing;
    const Entity *up = NULL;
    for (;;) {
        if (at->flags & ENTITY_LOOP) {
            judge_waiting(p->judge); /* told by `feed-loop` */
            return;
        }
        switch (step_up(p, at, &up)) {
        case STEP_SOURCE:
            judge_holds(p->judge);
            return;
        case STEP_WAITING:
            judge_waiting(p->judge);
            return;
        case STEP_NOTHING:
        case STEP_DROPPED:
            p->hangs_on[at->index]++;
            if (p->one[at->index] == NULL) {
                p->one[at->index] = thing;
            }
            return;
        case STEP_UP:
            at = up;
            break;
        }
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

static void tell_unpowered(Powering *p, const Entity *thing)
{
    Judge *judge = p->judge;
    const char *name = say_name(judge, thing);
    bool itself = p->one[thing->index] == thing && p->hangs_on[thing->index] == 1;
    const Property *fed_by = entity_property(thing, PROP_FEED_FED_BY);
    Finding *finding = judge_broken(judge, thing, place_of(judge, thing, PROP_FEED_FED_BY));
    if (fed_by != NULL) {
        const char *giver = say_name(judge, property_value(fed_by, 0)->u.entity);
        finding_say(judge, finding, "`%s` is fed by `%s`, which is dropped", name, giver);
        finding_remedy(judge, finding, "`fed-by` something that stays aboard");
        return;
    }
    if (itself) {
        finding_say(judge, finding, "`%s` needs electric power, and nothing feeds it", name);
    } else {
        finding_say(judge, finding, "nothing feeds `%s`, which %s %s on", name, say_hanging(p, thing),
                    p->hangs_on[thing->index] == 1 ? "hangs" : "hang");
    }
    finding_remedy(judge, finding, "%s", props[PROP_FEED_FED_BY].example);
    if (itself) {
        finding_remedy(judge, finding, "%s", props[PROP_COMMON_PORTABLE].example);
    }
}

static void ask_draws(Judge *judge, const Entity *toilet)
{
    Finding *finding = judge_open(judge, toilet, place_of_name(judge, toilet), toilet, PROP_TOILET_WORKED_BY);
    finding_say(judge, finding, "nothing feeds `%s`, and it does not say what works it", say_name(judge, toilet));
    finding_remedy(judge, finding, "%s", props[PROP_TOILET_WORKED_BY].example);
}

static void judge_unpowered(Judge *judge)
{
    const Model *model = judge->model;
    Powering powering = powering_begin(judge);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        if (is_out(thing) || entity_yes(thing, PROP_COMMON_PORTABLE) == 1) {
            continue;
        }
        Draws draws = draws_power(thing);
        if (draws == DRAWS_YES || (draws == DRAWS_UNSAID && entity_states(thing, PROP_FEED_FED_BY))) {
            follow(&powering, thing);
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
        if (feed->giver != NULL && feed->giver->flags & ENTITY_LOOP && !is_out(feed->giver)) {
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
    const Entity **members = ARENA_ARRAY(judge->arena, const Entity *, length);
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

static void judge_feed_loop(Judge *judge)
{
    const Model *model = judge->model;
    uint32_t *walk = ARENA_ARRAY(judge->arena, uint32_t, model->entity_count); /* in which walk it was met; 0: in none */
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *e = model->entities[i];
        if (is_out(e) || !(e->flags & ENTITY_LOOP)) {
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

/* goal-missed */

static Side difference(const Finding *finding, bool below)
{
    Interval by = below ? interval_subtract(finding->limit, finding->value)
                        : interval_subtract(finding->value, finding->limit);
    Side side = side_interval(by, finding->unit);
    side.money = finding->money;
    return side;
}

/* "; 7 things have no mass" */
static const char *say_remark(const Judge *judge, const Figure *figure)
{
    return figure != NULL && figure->remark != NULL ? text_format(judge->arena, "; %s", figure->remark) : "";
}

static const Entity *goal_day(const Entity *goal, PropId prop)
{
    const Value *day = property_value(entity_property(goal, prop), 1);
    return day->kind == VALUE_REFERENCE ? day->u.entity : NULL;
}

static void say_endurance(Judge *judge, Finding *finding, const Entity *goal, const Entity *day, const Figure *figure)
{
    const char *days = say_figure(judge, figure);
    const char *on = say_name(judge, day);
    finding_at(finding, day);
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "on `%s` she lasts %s, %s less than `%s` asks%s", on, days,
                    say_side(judge, difference(finding, true)), say_name(judge, goal), say_remark(judge, figure));
    } else {
        finding_say(judge, finding, "on `%s` she lasts %s, and `%s` asks %s%s", on, days, say_name(judge, goal),
                    say_side(judge, side_value(judge, goal, PROP_GOAL_ENDURE, 0)), say_remark(judge, figure));
    }
}

static void judge_endure(Judge *judge, const Entity *goal)
{
    const Entity *day = goal_day(goal, PROP_GOAL_ENDURE);
    if (day == NULL) {
        judge_waiting(judge);
        return;
    }
    const Figure *figure = figure_find(judge->figures, judge->model->boat, FIGURE_ENDURANCE, day);
    Side wanted = side_value(judge, goal, PROP_GOAL_ENDURE, 0);
    Span place = place_of(judge, goal, PROP_GOAL_ENDURE);
    Finding *finding = judge_at_least(judge, goal, place, side_figure(figure), wanted);
    if (finding != NULL) {
        say_endurance(judge, finding, goal, day, figure);
    }
    if (figure == NULL || figure->state == STATE_KNOWN) {
        return;
    }
    /* One resource cannot be told yet; another may be too small all the same. */
    for (uint16_t i = 0; i < figure->input_count && finding == NULL; i++) {
        const Input *input = &figure->inputs[i];
        if (input->kind == INPUT_FIGURE && input->u.figure->state == STATE_KNOWN) {
            finding = judge_at_least(judge, goal, place, side_figure(input->u.figure), wanted);
            if (finding != NULL) {
                finding_at(finding, day);
                finding_say(judge, finding, "on `%s` `%s` lasts %s, and `%s` asks %s", say_name(judge, day),
                            say_name(judge, input->u.figure->subject), say_figure(judge, input->u.figure),
                            say_name(judge, goal), say_side(judge, wanted));
            }
        }
    }
}

static void judge_goal_mass(Judge *judge, const Entity *goal)
{
    const Figure *mass = figure_of(judge, judge->model->boat, FIGURE_MASS);
    Side most = side_value(judge, goal, PROP_GOAL_MASS, 0);
    Finding *finding = judge_at_most(judge, goal, place_of(judge, goal, PROP_GOAL_MASS), side_figure(mass), most);
    if (finding == NULL) {
        return;
    }
    if (finding->verdict == VERDICT_BROKEN) {
        finding_say(judge, finding, "her things weigh %s, %s more than `%s` allows%s", say_figure(judge, mass),
                    say_side(judge, difference(finding, false)), say_name(judge, goal), say_remark(judge, mass));
    } else {
        finding_say(judge, finding, "her things weigh %s, and `%s` allows %s%s", say_figure(judge, mass),
                    say_name(judge, goal), say_side(judge, most), say_remark(judge, mass));
    }
}

/* A goal that asks for a figure of the boat by name; where no recipe computes that one, it counts as not judged. */
static void judge_goal_figure(Judge *judge, const Entity *goal, PropId prop, bool least, bool by_day)
{
    const Entity *day = by_day ? goal_day(goal, prop) : NULL;
    FigureId id = figure_id(str_from(props[prop].word));
    const Figure *figure = id != FIGURE_NONE ? figure_find(judge->figures, judge->model->boat, id, day) : NULL;
    Side wanted = side_value(judge, goal, prop, 0);
    Span place = place_of(judge, goal, prop);
    Finding *finding = least ? judge_at_least(judge, goal, place, side_figure(figure), wanted)
                             : judge_at_most(judge, goal, place, side_figure(figure), wanted);
    if (finding != NULL) {
        finding_at(finding, day);
        finding_say(judge, finding, "`%s` asks for a %s of at %s %s; it is %s%s", say_name(judge, goal),
                    props[prop].word, least ? "least" : "most", say_side(judge, wanted), say_figure(judge, figure),
                    say_remark(judge, figure));
    }
}

static const char *say_date(const Judge *judge, Date date)
{
    Buf text;
    buf_init(&text, judge->arena);
    date_write(&text, date);
    return text.text;
}

static const char *say_days(const Judge *judge, int days)
{
    return text_format(judge->arena, "%d %s", days, days == 1 ? "day" : "days");
}

static const Property *last_promise(const Entity *thing)
{
    const Property *last = NULL;
    for (const Property *p = entity_property(thing, PROP_COMMON_PROMISED); p != NULL; p = block_next(&thing->block, p)) {
        bool dated = !(p->flags & PROPERTY_BROKEN) && property_value(p, 0)->kind == VALUE_DATE;
        if (dated && (last == NULL || property_value(p, 0)->u.date > property_value(last, 0)->u.date)) {
            last = p;
        }
    }
    return last;
}

/* A thing that a job needs and that is promised for a day after all is to be ready. */
static bool comes_too_late(Judge *judge, const Entity *goal, const Entity *job, Date ready)
{
    const Property *needs = entity_property(job, PROP_JOB_NEEDS);
    for (uint16_t i = 0; needs != NULL && i < needs->count; i++) {
        const Value *need = property_value(needs, i);
        const Entity *thing = need->kind == VALUE_REFERENCE ? need->u.entity : NULL;
        const Property *promise = thing != NULL && !is_out(thing) ? last_promise(thing) : NULL;
        if (promise == NULL || property_value(promise, 0)->u.date <= ready ||
            entity_states(thing, PROP_COMMON_ARRIVED) || entity_states(thing, PROP_COMMON_FITTED)) {
            continue;
        }
        Date day = property_value(promise, 0)->u.date;
        Finding *finding = judge_broken(judge, goal, place_of(judge, goal, PROP_GOAL_READY));
        finding_at(finding, thing);
        finding_say(judge, finding, "`%s` is promised for %s, %s after `%s` asks all to be ready, and `%s` needs it",
                    say_name(judge, thing), say_date(judge, day), say_days(judge, day - ready), say_name(judge, goal),
                    say_name(judge, job));
        finding_note(judge, finding, property_span(judge->model, promise), "promised here");
        finding_note(judge, finding, value_span(judge->model, need), "needed here");
        return true;
    }
    return false;
}

static void tell_overdue(Judge *judge, const Entity *goal, Date ready, const Entity *job, uint32_t left)
{
    Finding *finding = judge_broken(judge, goal, place_of(judge, goal, PROP_GOAL_READY));
    const char *more = left > 1 ? text_format(judge->arena, " and %u more jobs are", (unsigned)(left - 1)) : " is";
    finding_say(judge, finding, "`%s` asks all to be ready since %s; `%s`%s not done", say_name(judge, goal),
                say_days(judge, judge->today - ready), say_name(judge, job), more);
    finding_remedy(judge, finding, "%s on what is done, or another `ready` day", props[PROP_JOB_DONE].example);
}

/* What can be said without a plan of the work: the day has passed, or something needed comes after it. */
static void judge_ready(Judge *judge, const Entity *goal)
{
    const Property *line = entity_property(goal, PROP_GOAL_READY);
    if (line->flags & PROPERTY_BROKEN) {
        judge_waiting(judge);
        return;
    }
    Date ready = property_value(line, 0)->u.date;
    const Entity *first = NULL;
    uint32_t left = 0;
    bool found = false;
    for (const Entity *job = judge->model->first_of_kind[KIND_JOB]; job != NULL; job = job->next_of_kind) {
        if (is_out(job) || entity_states(job, PROP_JOB_DONE)) {
            continue;
        }
        first = first != NULL ? first : job;
        left++;
        found = found || (judge->today <= ready && comes_too_late(judge, goal, job, ready));
    }
    if (left == 0) {
        judge_holds(judge);
    } else if (judge->today > ready) {
        tell_overdue(judge, goal, ready, first, left);
    } else if (!found) {
        judge_at_most(judge, goal, place_of(judge, goal, PROP_GOAL_READY), side_figure(NULL), side_figure(NULL));
    }
}

static void judge_goal(Judge *judge, const Entity *goal)
{
    if (judge->model->boat == NULL) {
        return;
    }
    if (entity_states(goal, PROP_GOAL_ENDURE)) {
        judge_endure(judge, goal);
    }
    if (entity_states(goal, PROP_GOAL_MASS)) {
        judge_goal_mass(judge, goal);
    }
    if (entity_states(goal, PROP_GOAL_READY)) {
        judge_ready(judge, goal);
    }
    if (entity_states(goal, PROP_GOAL_RANGE)) {
        judge_goal_figure(judge, goal, PROP_GOAL_RANGE, true, false);
    }
    if (entity_states(goal, PROP_GOAL_ENGINE_HOURS)) {
        judge_goal_figure(judge, goal, PROP_GOAL_ENGINE_HOURS, false, true);
    }
    if (entity_states(goal, PROP_GOAL_TRIM)) {
        judge_goal_figure(judge, goal, PROP_GOAL_TRIM, false, false);
    }
}

/* part-unused, space-unused */

static void tell_unused(Judge *judge, const Unused *unused, const char *what)
{
    if (unused == NULL) {
        judge_holds(judge);
    }
    for (; unused != NULL; unused = unused->next) {
        Entity *subject = model_find(judge->model, unused->name);
        Finding *finding = judge_broken(judge, subject, unused->at);
        finding_say(judge, finding, "nothing in the spec is %s `%.*s`", what, STR_ARG(unused->name));
    }
}

static void judge_part_unused(Judge *judge)
{
    tell_unused(judge, unused_parts(judge->model), "the part");
}

static void judge_space_unused(Judge *judge)
{
    tell_unused(judge, unused_spaces(judge->model), "in, or passes, the space");
}

/* unmeasured */

static const char *say_what_waits(const Judge *judge, const Unmeasured *u)
{
    Buf text;
    buf_init(&text, judge->arena);
    if (u->figure != FIGURE_NONE) {
        buf_format(&text, "`%s` cannot be computed", figure_rows[u->figure].name);
        buf_format(&text, ", which `%s`", u->first);
    } else {
        buf_format(&text, "`%s`", u->first);
    }
    if (u->rules > 1) {
        buf_format(&text, " and %u more judgements wait%s", (unsigned)(u->rules - 1), u->figure ? " for" : "");
    } else {
        buf_format(&text, " waits%s", u->figure ? " for" : "");
    }
    return text.text;
}

static void judge_unmeasured_properties(Judge *judge)
{
    for (const Unmeasured *u = judge->unmeasured; u != NULL; u = u->next) {
        Finding *finding = judge_broken(judge, u->entity, place_of_name(judge, u->entity));
        finding_say(judge, finding, "`%s` states no `%s`: %s", say_name(judge, u->entity), props[u->prop].word,
                    say_what_waits(judge, u));
        finding_remedy(judge, finding, "%s", props[u->prop].example);
    }
}

/* The table */

#define BATTERY "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
#define HEAVY_STOVE(mass) EXAMPLE_BOAT \
    "goal light { mass 100 kg }\n" \
    "item stove { mass " mass " }\n"

static const Rule rules[] = {
    {
        .name = "unpowered",
        .severity = SEVERITY_FAULT,
        .title = "everything that draws power is fed, and its feed leads back to a source",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A thing without a feed is counted in no cable, no bank and no day; either its line is forgotten, or it "
               "carries its own battery and is `portable`. The finding stands where the way to a source ends, once for "
               "all that hangs on it.",
        .breaks = EXAMPLE_BOAT BATTERY "load fridge { draw 4 A }\n",
        .holds = EXAMPLE_BOAT BATTERY "circuit galley { fed-by house; run 3 m; wire 4 mm2; protect 10 A breaker }\n"
                                      "load fridge { fed-by galley; draw 4 A }\n",
        .open = EXAMPLE_BOAT BATTERY "tank holding { holds black; capacity 60 l }\n"
                                     "toilet head { to holding }\n",
        .judge_boat = judge_unpowered,
    },
    {
        .name = "feed-loop",
        .severity = SEVERITY_FAULT,
        .title = "no feed leads back to itself",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Things that feed each other in a circle have no source: one of the lines names the wrong thing. Nothing "
               "that hangs on them can be computed until it is put right.",
        .breaks = EXAMPLE_BOAT BATTERY "panel main { fed-by forward }\npanel forward { fed-by main }\n",
        .holds = EXAMPLE_BOAT BATTERY "panel main { fed-by house }\npanel forward { fed-by main }\n",
        .never_open = "who feeds whom is said by name",
        .judge_boat = judge_feed_loop,
    },
    {
        .name = "goal-missed",
        .severity = SEVERITY_WARNING,
        .title = "every goal is met",
        .basis = ON_BOTH,
        .source = "the owner's own goals",
        .why = "A goal is what the boat is to be able to do. Here it is held against what this spec makes of her; the "
               "budget has a rule of its own, `over-budget`. Of `ready` it is judged whether the day has passed and "
               "whether something that a job needs is promised for after it.",
        .breaks = HEAVY_STOVE("120 kg"),
        .holds = HEAVY_STOVE("80 kg"),
        .open = HEAVY_STOVE("80..120 kg"),
        .kinds = {KIND_GOAL},
        .judge = judge_goal,
    },
    {
        .name = "part-unused",
        .severity = SEVERITY_ADVICE,
        .title = "every part that is described is used",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A part is a description; it is aboard only where a thing `is` it. One that nothing is costs nothing and "
               "weighs nothing, which may not be what was meant.",
        .breaks = EXAMPLE_BOAT "part mixer for fixture { flow 5 l/min }\n",
        .holds = EXAMPLE_BOAT "part mixer for fixture { flow 5 l/min }\nfixture galley-tap is mixer\n",
        .never_open = "a name is used or it is not",
        .judge_boat = judge_part_unused,
    },
    {
        .name = "space-unused",
        .severity = SEVERITY_ADVICE,
        .title = "every space is named by something",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Rules ask what stands in a space and which cables pass it. A space that nothing names may be one that was "
               "forgotten on the lines where it matters.",
        .breaks = EXAMPLE_BOAT "space saloon { volume 12 m3 }\n",
        .holds = EXAMPLE_BOAT "space saloon { volume 12 m3 }\nitem stove { space saloon }\n",
        .never_open = "a name is used or it is not",
        .judge_boat = judge_space_unused,
    },
    {
        .name = "unmeasured",
        .severity = SEVERITY_ADVICE,
        .title = "nothing is missing that a rule needs",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "What cannot be computed cannot be judged, and what is not judged is not in order. This names the property "
               "that is missing, and what it holds up.",
        .breaks = EXAMPLE_BOAT "item stove { status ordered }\n",
        .holds = EXAMPLE_BOAT "item stove { status ordered; ordered 2027-02-20 }\n",
        .never_open = "a property is stated or it is not; an undecided one leaves the rule open that asks for it",
        .judge_boat = judge_unmeasured_properties, /* last: the rules before it say what they lack */
    },
};
const RuleFamily rules_whole = RULE_FAMILY("The spec as a whole", rules);
