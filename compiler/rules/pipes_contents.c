/*
 * Two rules of the family rules_pipes: wrong-liquid, what flows where it must not; pipe-end, hoses that end at nothing.
 *
 * Liquids are followed from where they are known (a tank, the sea, a bowl, a sink) along hoses, fuel lines and what pumps,
 * bowls and sinks say of their way, through pumps, strainers and fittings, to what they must suit.
 */
#include "rules/pipes.h"

#include "rules/plumbing.h"

typedef enum Liquid { LIQUID_FRESH, LIQUID_SEA, LIQUID_GREY, LIQUID_BLACK, LIQUID_FUEL, LIQUID_BILGE, LIQUID_COUNT } Liquid;

enum {
    FRESH = 1 << LIQUID_FRESH,
    SEA = 1 << LIQUID_SEA,
    GREY = 1 << LIQUID_GREY,
    BLACK = 1 << LIQUID_BLACK,
    FUEL = 1 << LIQUID_FUEL,
    BILGE = 1 << LIQUID_BILGE,
    ANYTHING = (1 << LIQUID_COUNT) - 1,
};

static const char *const liquid_words[LIQUID_COUNT] = {"drinking water", "sea water", "waste water",
                                                       "sewage",         "fuel",      "bilge water"};

/* A way that a liquid takes: a hose, a fuel line, or what a pump, bowl or sink says of it. */
typedef struct Pipe {
    const Entity *from, *to;
    const Entity *by;    /* what states it ... */
    PropId prop;         /* ... and where: its end */
    PropId from_prop;    /* its beginning; PROP_NONE: that is `by` itself */
    struct Pipe *next;   /* from the same thing */
} Pipe;

typedef struct Flow {
    const Judge *judge;
    Pipe *pipes;
    uint32_t pipe_count;
    Pipe **from;            /* by Entity.index: the first that begins there */
    uint8_t *carries;       /* by Entity.index: what comes to it */
    const Entity ***origins; /* by Entity.index: by Liquid, where that comes from; NULL where nothing comes */
    const Entity **queue;
    uint32_t queued;
} Flow;

/* The ways */

static void add_pipe(Flow *flow, const Entity *by, const Entity *from, PropId from_prop, const Entity *to, PropId prop)
{
    if (from == NULL || to == NULL || from == to || !is_aboard(from) || !is_aboard(to)) {
        return;
    }
    Pipe *pipe = &flow->pipes[flow->pipe_count++];
    *pipe = (Pipe){from, to, by, prop, from_prop, flow->from[from->index]};
    flow->from[from->index] = pipe;
}

static void add_stated(Flow *flow, KindId kind, PropId from, PropId to)
{
    for (const Entity *e = first_aboard(flow->judge->model, kind); e != NULL; e = next_aboard(e)) {
        add_pipe(flow, e, entity_reference(e, from), from, entity_reference(e, to), to);
    }
}

/* A hose that is stated against the way of its water is told by `unplumbed`, and taken the right way round here. */
static void add_hoses(Flow *flow)
{
    for (const Entity *e = first_aboard(flow->judge->model, KIND_HOSE); e != NULL; e = next_aboard(e)) {
        bool turned = hose_turned_by(flow->judge, e) != NULL;
        PropId from = turned ? PROP_HOSE_TO : PROP_HOSE_FROM, to = turned ? PROP_HOSE_FROM : PROP_HOSE_TO;
        add_pipe(flow, e, entity_reference(e, from), from, entity_reference(e, to), to);
    }
}

/* Where hoses lead to a pump they say what it draws from; where it says another thing, `unplumbed` tells that. */
static void add_pumps(Flow *flow)
{
    const Plumbing *plumbing = plumbing_of(flow->judge->figures);
    for (const Entity *pump = first_aboard(flow->judge->model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        if (plumbing->hoses_to[pump->index] == 0) {
            add_pipe(flow, pump, entity_reference(pump, PROP_PUMP_FROM), PROP_PUMP_FROM, pump, PROP_PUMP_FROM);
        }
        const Property *to = entity_property(pump, PROP_PUMP_TO);
        for (uint16_t i = 0; to != NULL && i < to->count; i++) {
            const Value *value = &to->values[i];
            add_pipe(flow, pump, pump, PROP_NONE, value_entity(value), PROP_PUMP_TO);
        }
    }
}

static bool has_pipe(const Flow *flow, const Entity *from, const Entity *to)
{
    for (const Pipe *pipe = flow->from[from->index]; pipe != NULL; pipe = pipe->next) {
        if (pipe->to == to) {
            return true;
        }
    }
    return false;
}

/* What a bowl or sink says of its way; where a hose takes just that one, the hose tells it. */
static void add_own(Flow *flow, KindId kind, PropId to)
{
    for (const Entity *e = first_aboard(flow->judge->model, kind); e != NULL; e = next_aboard(e)) {
        const Entity *end = entity_reference(e, to);
        if (end != NULL && !has_pipe(flow, e, end)) {
            add_pipe(flow, e, e, PROP_NONE, end, to);
        }
    }
}

/* No more than so many. */
static uint32_t count_ways(const Model *model)
{
    static const KindId one_each[] = {KIND_HOSE, KIND_FUEL_LINE, KIND_TOILET, KIND_FIXTURE};
    uint32_t count = 0;
    for (size_t i = 0; i < sizeof one_each / sizeof one_each[0]; i++) {
        for (const Entity *e = first_aboard(model, one_each[i]); e != NULL; e = next_aboard(e)) {
            count++;
        }
    }
    for (const Entity *pump = first_aboard(model, KIND_PUMP); pump != NULL; pump = next_aboard(pump)) {
        const Property *to = entity_property(pump, PROP_PUMP_TO);
        count += 1u + (to != NULL ? to->count : 0u);
    }
    return count;
}

static void add_ways(Flow *flow)
{
    const Model *model = flow->judge->model;
    flow->pipes = ARENA_ARRAY(flow->judge->scratch, Pipe, (size_t)count_ways(model) + 1);
    flow->from = ARENA_ARRAY(flow->judge->scratch, Pipe *, (size_t)model->entity_count + 1);
    add_hoses(flow);
    add_stated(flow, KIND_FUEL_LINE, PROP_FUEL_LINE_FROM, PROP_FUEL_LINE_TO);
    add_pumps(flow);
    add_own(flow, KIND_TOILET, PROP_TOILET_TO);
    add_own(flow, KIND_FIXTURE, PROP_FIXTURE_DRAINS_TO);
}

/* What flows in them */

/* What comes back along a line is fuel that it does not burn. */
static bool returns_fuel(const Entity *entity)
{
    return entity->kind == KIND_ENGINE || entity->kind == KIND_GENERATOR || entity->kind == KIND_HEATER;
}

static uint8_t held(const Entity *tank)
{
    static const struct {
        const char *word;
        uint8_t liquid;
    } rows[] = {{"fresh", FRESH}, {"grey", GREY}, {"black", BLACK}, {"fuel", FUEL}, {"sea", SEA}};
    Str word = entity_word(tank, PROP_TANK_HOLDS);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (str_is(word, rows[i].word)) {
            return rows[i].liquid;
        }
    }
    return 0;
}

static const char *const holds_words[LIQUID_COUNT] = {"fresh", "sea", "grey", "black", "fuel", "grey"};

/* What a thing itself brings into a pipe that begins at it. */
static uint8_t source(const Pipe *pipe)
{
    switch (pipe->from->kind) {
    case KIND_TANK: return held(pipe->from);
    case KIND_THROUGH_HULL: return SEA;
    case KIND_TOILET: return BLACK;
    case KIND_FIXTURE: return GREY;
    case KIND_BILGE_PUMP: return BILGE;
    default: return returns_fuel(pipe->from) && pipe->by->kind == KIND_FUEL_LINE ? FUEL : 0;
    }
}

/* What comes to a thing and leaves it again. What may make fresh water of sea water keeps that back. */
static uint8_t passes(const Flow *flow, const Entity *from)
{
    uint8_t carried = flow->carries[from->index];
    switch (from->kind) {
    case KIND_PUMP:
    case KIND_STRAINER:
    case KIND_WATER_HEATER: return carried;
    case KIND_ITEM:
    case KIND_LOAD: return carried & (uint8_t)~SEA;
    default: return 0;
    }
}

static uint8_t brought(const Flow *flow, const Pipe *pipe)
{
    return source(pipe) | passes(flow, pipe->from);
}

static void bring(Flow *flow, const Pipe *pipe)
{
    uint8_t own = source(pipe);
    uint8_t fresh = brought(flow, pipe) & (uint8_t)~flow->carries[pipe->to->index];
    const Entity ***to = &flow->origins[pipe->to->index];
    if (fresh != 0 && *to == NULL) {
        *to = ARENA_ARRAY(flow->judge->scratch, const Entity *, LIQUID_COUNT);
    }
    for (int i = 0; i < LIQUID_COUNT; i++) {
        if (fresh >> i & 1) {
            (*to)[i] = own >> i & 1 ? pipe->from : flow->origins[pipe->from->index][i];
        }
    }
    if (fresh != 0) {
        flow->carries[pipe->to->index] |= fresh;
        flow->queue[flow->queued++] = pipe->to;
    }
}

/* A thing is in the queue once for each liquid that is new to it, at most. */
static void follow(Flow *flow)
{
    Arena *arena = flow->judge->scratch;
    size_t count = (size_t)flow->judge->model->entity_count + 1;
    flow->carries = ARENA_ARRAY(arena, uint8_t, count);
    flow->origins = ARENA_ARRAY(arena, const Entity **, count);
    flow->queue = ARENA_ARRAY(arena, const Entity *, (size_t)flow->pipe_count * LIQUID_COUNT + 1);
    for (uint32_t i = 0; i < flow->pipe_count; i++) {
        bring(flow, &flow->pipes[i]);
    }
    for (uint32_t i = 0; i < flow->queued; i++) {
        for (const Pipe *pipe = flow->from[flow->queue[i]->index]; pipe != NULL; pipe = pipe->next) {
            bring(flow, pipe);
        }
    }
}

/* What suits */

static uint8_t tank_takes(const Entity *tank)
{
    switch (held(tank)) {
    case FRESH: return FRESH;
    case FUEL: return FUEL;
    case SEA: return SEA | FRESH;
    case GREY: return ANYTHING & ~(FUEL | BLACK);
    default: return ANYTHING & ~FUEL;
    }
}

static uint8_t takes(const Pipe *pipe)
{
    switch (pipe->to->kind) {
    case KIND_TANK: return tank_takes(pipe->to);
    case KIND_FIXTURE: return FRESH | SEA;
    case KIND_WATER_HEATER: return FRESH;
    case KIND_TOILET: return FRESH | SEA | GREY;
    case KIND_THROUGH_HULL: return ANYTHING & ~FUEL;
    case KIND_ENGINE:
    case KIND_GENERATOR:
    case KIND_HEATER: return pipe->by->kind == KIND_FUEL_LINE ? FUEL : FRESH | SEA | FUEL;
    default: return ANYTHING;
    }
}

static const char *say_end(Judge *judge, const Pipe *pipe)
{
    const char *name = say_name(judge, pipe->to);
    switch (pipe->to->kind) {
    case KIND_TANK: {
        uint8_t holds = held(pipe->to);
        int i = 0;
        while (i < LIQUID_COUNT - 1 && !(holds >> i & 1)) {
            i++;
        }
        return text_format(judge->arena, "into `%s`, which holds %s", name, liquid_words[i]);
    }
    case KIND_THROUGH_HULL: return text_format(judge->arena, "overboard by `%s`", name);
    case KIND_ENGINE:
    case KIND_GENERATOR:
    case KIND_HEATER: {
        bool line = pipe->by->kind == KIND_FUEL_LINE;
        return text_format(judge->arena, "to `%s`, which %s", name, line ? "burns fuel" : "is cooled by clean water");
    }
    default: return text_format(judge->arena, "to `%s`", name);
    }
}

/* A tank aboard that holds such a liquid, and is not where this one comes from; NULL: there is none. */
static const Entity *other_tank(const Judge *judge, uint8_t liquid, const Pipe *pipe, const Entity *origin)
{
    for (const Entity *tank = first_aboard(judge->model, KIND_TANK); tank != NULL; tank = next_aboard(tank)) {
        if (held(tank) & liquid && tank != pipe->from && tank != origin) {
            return tank;
        }
    }
    return NULL;
}

/* No tank is made for the sea: it is kept out, unless the tank is not what it is said to be, such as one for a live catch. */
static void remedy_sea(Judge *judge, Finding *finding, const Pipe *pipe)
{
    finding_remedy(judge, finding, "no way from the sea to `%s`", say_name(judge, pipe->to));
    if (held(pipe->to) == FRESH) {
        finding_remedy(judge, finding, "`holds sea`, if `%s` is a live well", say_name(judge, pipe->to));
    }
}

/* What is to be got rid of, and not by a fuel line: where it goes is wrong then, whatever it comes to. */
static bool is_waste(const Pipe *pipe, uint8_t liquid)
{
    return liquid & (GREY | BLACK | BILGE) && pipe->by->kind != KIND_FUEL_LINE;
}

/* The waste has come to a joint that something else comes to as well, which is right where it goes on. */
static bool is_mixed(const Flow *flow, const Pipe *pipe, uint8_t liquid)
{
    return source(pipe) == 0 && flow->carries[pipe->from->index] & (uint8_t)~liquid;
}

/* Another end for what runs into a tank or the sea, and for waste; another beginning for what a thing is to get. */
static void remedy(Judge *judge, const Flow *flow, Finding *finding, const Pipe *pipe, uint8_t liquid, const Entity *origin)
{
    bool end = pipe->to->kind == KIND_TANK || pipe->to->kind == KIND_THROUGH_HULL;
    uint8_t wanted = takes(pipe);
    if (end && liquid == SEA) {
        remedy_sea(judge, finding, pipe);
        return;
    }
    if (is_waste(pipe, liquid) && is_mixed(flow, pipe, liquid)) {
        finding_remedy(judge, finding, "a way of its own for what comes from `%s`, not by `%s`", say_name(judge, origin), say_name(judge, pipe->from));
        return;
    }
    end = end || is_waste(pipe, liquid);
    origin = returns_fuel(pipe->from) ? NULL : origin; /* what comes back from an engine goes where it came from */
    const Entity *tank = other_tank(judge, end ? liquid : wanted, pipe, origin);
    PropId prop = end ? pipe->prop : pipe->from_prop;
    const char *word = prop != PROP_NONE ? props[prop].word : end ? "to" : "from";
    if (tank != NULL) {
        finding_remedy(judge, finding, "%s %s", word, say_name(judge, tank));
    } else if (end && liquid == BILGE) {
        finding_remedy(judge, finding, "`%s` with a through-hull of its own", word);
    } else {
        int i = 0;
        while (i < LIQUID_COUNT - 1 && !((end ? liquid : wanted) >> i & 1)) {
            i++;
        }
        finding_remedy(judge, finding, "`%s` with a tank that `holds %s`", word, holds_words[i]);
    }
}

static void tell(Judge *judge, const Flow *flow, const Pipe *pipe, uint8_t bad)
{
    int i = LIQUID_COUNT - 1;
    while (i > 0 && !(bad >> i & 1)) {
        i--;
    }
    const Entity *origin = source(pipe) >> i & 1 ? pipe->from : flow->origins[pipe->from->index][i];
    Finding *finding = judge_broken(judge, pipe->by, place_of(judge, pipe->by, pipe->prop));
    finding_about(finding, pipe->prop);
    finding_at(finding, pipe->to);
    if (origin == pipe->by) {
        finding_say(judge, finding, "`%s` empties its %s %s", say_name(judge, pipe->by), liquid_words[i], say_end(judge, pipe));
    } else {
        finding_say(judge, finding, "`%s` leads %s of `%s` %s", say_name(judge, pipe->by), liquid_words[i],
                    say_name(judge, origin), say_end(judge, pipe));
        finding_note(judge, finding, place_of_name(judge, origin), "it comes from here");
    }
    if (pipe->to->kind == KIND_TANK && held(pipe->to) == GREY && i == LIQUID_BLACK) {
        finding_severity(finding, SEVERITY_WARNING); /* it makes a sewage tank of that one, and nobody drinks of it */
    }
    remedy(judge, flow, finding, pipe, (uint8_t)(1u << i), origin);
}

/* The hose, or what else says so, that brings a thing such a liquid. */
static const Pipe *pipe_with(const Flow *flow, const Entity *to, uint8_t liquid)
{
    uint32_t i = 0;
    while (i < flow->pipe_count && !(flow->pipes[i].to == to && brought(flow, &flow->pipes[i]) & liquid)) {
        i++;
    }
    return i < flow->pipe_count ? &flow->pipes[i] : NULL;
}

/* Drinking water and the sea at one bowl: a valve that leaks, or a pressure that falls, and the one runs into the other. */
static void judge_two_waters(Judge *judge, const Flow *flow, const Entity *toilet)
{
    const Pipe *fresh = pipe_with(flow, toilet, FRESH), *sea = pipe_with(flow, toilet, SEA);
    if (fresh == NULL || sea == NULL) {
        return;
    }
    Str with = entity_word(toilet, PROP_TOILET_FLUSHES_WITH);
    const Entity *tank = flow->origins[toilet->index][LIQUID_FRESH], *opening = flow->origins[toilet->index][LIQUID_SEA];
    Finding *finding = judge_broken(judge, toilet, place_of(judge, sea->by, sea->prop));
    finding_severity(finding, SEVERITY_WARNING);
    finding_matter(finding, "two waters");
    finding_say(judge, finding, "drinking water of `%s` and the sea, by `%s`, both come to `%s`: where a valve leaks or the pressure falls "
                "the one runs into the other", say_name(judge, tank), say_name(judge, opening), say_name(judge, toilet));
    finding_note(judge, finding, place_of(judge, fresh->by, fresh->prop), "the drinking water comes by this way");
    if (with.length > 0) {
        finding_note(judge, finding, place_of(judge, toilet, PROP_TOILET_FLUSHES_WITH), "it flushes with this one");
    }
    if (!str_is(with, "sea")) {
        finding_remedy(judge, finding, "no way from the sea to `%s`, without `%s`", say_name(judge, toilet), say_name(judge, sea->by));
    }
    if (!str_is(with, "fresh")) {
        finding_remedy(judge, finding, "no drinking water to `%s`, without `%s`", say_name(judge, toilet), say_name(judge, fresh->by));
    }
}

/* Nobody can tell what is in it. */
static bool is_mistaken(const Entity *entity)
{
    return entity->kind == KIND_TANK && held(entity) == 0;
}

void judge_wrong_liquid(Judge *judge)
{
    Flow flow = {.judge = judge};
    add_ways(&flow);
    follow(&flow);
    for (uint32_t i = 0; i < flow.pipe_count; i++) {
        const Pipe *pipe = &flow.pipes[i];
        uint8_t bad = brought(&flow, pipe) & (uint8_t)~takes(pipe);
        if (is_mistaken(pipe->to) || is_mistaken(pipe->from)) {
            judge_waiting(judge);
        } else if (bad != 0) {
            tell(judge, &flow, pipe, bad);
        } else {
            judge_holds(judge);
        }
    }
    for (const Entity *toilet = first_aboard(judge->model, KIND_TOILET); toilet != NULL; toilet = next_aboard(toilet)) {
        judge_two_waters(judge, &flow, toilet);
    }
}

/* ---- pipe-end ------------------------------------------------------------------------------------------ */

static const char *cannot_be(const Judge *judge, const Entity *end)
{
    if (end->flags & ENTITY_DROPPED) {
        return "is dropped";
    }
    if (end->kind == KIND_SPACE) {
        return "is a space: what runs out there stands in the bilge";
    }
    if (!(kinds[end->kind].groups & GROUPS_COMMON)) {
        return text_format(judge->arena, "is a `%s`, and nothing can flow there", kinds[end->kind].word);
    }
    return NULL;
}

static void judge_end(Judge *judge, const Entity *pipe, const Entity *end, PropId prop)
{
    const char *why = end != NULL && !(end->flags & (ENTITY_BROKEN | ENTITY_DOUBTFUL)) ? cannot_be(judge, end) : NULL;
    if (why == NULL) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, pipe, place_of(judge, pipe, prop));
    finding_about(finding, prop);
    finding_at(finding, end);
    finding_say(judge, finding, "`%s` %s `%s`, which %s", say_name(judge, pipe),
                prop == PROP_HOSE_FROM || prop == PROP_FUEL_LINE_FROM || prop == PROP_PUMP_FROM ? "comes from" : "leads to",
                say_name(judge, end), why);
    finding_note(judge, finding, place_of_name(judge, end), "this is where it ends");
    finding_remedy(judge, finding, "`%s` with a thing that is aboard and holds or passes it, or `status dropped`",
                   props[prop].word);
}

void judge_pipe_end(Judge *judge, const Entity *pipe)
{
    static const struct {
        KindId kind;
        PropId props[2];
    } rows[] = {
        {KIND_HOSE, {PROP_HOSE_FROM, PROP_HOSE_TO}},
        {KIND_FUEL_LINE, {PROP_FUEL_LINE_FROM, PROP_FUEL_LINE_TO}},
        {KIND_PUMP, {PROP_PUMP_FROM, PROP_PUMP_TO}},
        {KIND_TOILET, {PROP_TOILET_TO, PROP_NONE}},
        {KIND_FIXTURE, {PROP_FIXTURE_DRAINS_TO, PROP_NONE}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        for (int end = 0; rows[i].kind == pipe->kind && end < 2 && rows[i].props[end] != PROP_NONE; end++) {
            const Property *property = entity_property(pipe, rows[i].props[end]);
            for (uint16_t v = 0; property != NULL && v < property->count; v++) {
                const Value *value = &property->values[v];
                judge_end(judge, pipe, value_entity(value), rows[i].props[end]);
            }
        }
    }
}
