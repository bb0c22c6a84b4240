/*
 * Banks that what charges them ties together: those of different chemistry, a starting bank and one that is drawn from in
 * daily life, and a charger that runs on the very bank that it charges. Rules mixed-bank, start-alone and charge-loop, as far
 * as makers of power go; switches and buses are in bank_feeds.c.
 */
#include "rules/bank.h"

/* Two banks that one maker charges by feeds of its own. */
typedef struct Tie {
    const Entity *maker, *one, *other;
    const Feed *second; /* the feed that leads to the other */
} Tie;

/* Calls for each pair of the first bank of a maker with each other one that it charges. */
static void each_tie(Judge *judge, const Upstream *upstream, void (*judge_tie)(Judge *, const Tie *))
{
    const Model *model = judge->model;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *maker = model->entities[i];
        Tie tie = {.maker = maker};
        if (!is_aboard(maker) || !(kinds[maker->kind].groups & GROUPS_MAKER)) {
            continue;
        }
        for (const Feed *feed = maker->gives; feed != NULL; feed = feed->next_of_giver) {
            const Entity *bank = feed->maker && is_aboard(feed->taker) ? bank_charged(upstream, feed) : NULL;
            if (bank == NULL || bank == tie.one) {
                continue;
            }
            if (tie.one == NULL) {
                tie.one = bank;
                continue;
            }
            tie.other = bank;
            tie.second = feed;
            judge_tie(judge, &tie);
        }
    }
}

/* Whether current passes from one of its outputs to another: broken or open, at its second output; NULL if it does not. */
static Finding *judge_apart(Judge *judge, const Tie *tie, const Entity *subject, Span place)
{
    int apart = entity_yes(tie->maker, PROP_MAKER_OUTPUTS_APART);
    if (apart == 1) {
        judge_holds(judge);
        return NULL;
    }
    if (apart == -2) {
        judge_waiting(judge);
        return NULL;
    }
    Finding *f = apart == 0 ? judge_broken(judge, subject, place)
                            : judge_open(judge, subject, place, tie->maker, PROP_MAKER_OUTPUTS_APART);
    finding_remedy(judge, f, "outputs-apart yes, where a diode isolator or outputs of their own keep them so");
    finding_remedy(judge, f, "a `converter` that charges one from the other");
    return f;
}

static void judge_mixed_tie(Judge *judge, const Tie *tie)
{
    Chemistry one, other;
    if (!bank_chemistry(tie->one, &one) || !bank_chemistry(tie->other, &other)) {
        judge_waiting(judge);
        return;
    }
    if (one == other) {
        judge_holds(judge);
        return;
    }
    Finding *f = judge_apart(judge, tie, tie->maker, place_of(judge, tie->maker, PROP_MAKER_FEEDS));
    if (f == NULL) {
        return;
    }
    bool lithium = one == CHEMISTRY_LIFEPO4 || other == CHEMISTRY_LIFEPO4;
    finding_at(f, tie->other);
    finding_severity(f, lithium ? SEVERITY_FAULT : SEVERITY_WARNING);
    finding_say(judge, f, "`%s` charges `%s` (%s) and `%s` (%s), and %s", say_name(judge, tie->maker), say_name(judge, tie->one),
                chemistry_word(judge, tie->one), say_name(judge, tie->other), chemistry_word(judge, tie->other),
                f->verdict == VERDICT_BROKEN ? "joins them by its outputs"
                                             : "does not say whether its outputs keep them apart");
    finding_note(judge, f, place_of(judge, tie->one, PROP_BANK_CHEMISTRY), "one of them");
    finding_note(judge, f, place_of(judge, tie->other, PROP_BANK_CHEMISTRY), "the other");
}

void judge_mixed_by_makers(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    each_tie(judge, upstream, judge_mixed_tie);
}

void each_relay(Judge *judge, void (*judge_joins)(Judge *, const Meeting *))
{
    const Upstream *upstream = judge->model->first_of_kind[KIND_CONVERTER] != NULL ? upstream_of(judge) : NULL;
    for (const Entity *e = judge->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        const Entity *bank = is_aboard(e) && is_relay(e) ? upstream->source[e->index] : NULL;
        if (!is_aboard(bank) || bank->kind != KIND_BANK) {
            continue;
        }
        Meeting joins = {.at = e, .one = bank, .with_first = true};
        for (const Feed *feed = e->gives; feed != NULL; feed = feed->next_of_giver) {
            const Entity *other = feed->maker && is_aboard(feed->taker) ? bank_charged(upstream, feed) : NULL;
            if (other != NULL && other != bank && other != joins.other) {
                joins.other = other;
                judge_joins(judge, &joins);
            }
        }
    }
}

static bool starts(const Entity *bank)
{
    return str_is(entity_word(bank, PROP_BANK_ROLE), "start");
}

/* A starting bank that a maker ties to one that daily life draws from. */
static void judge_start_tie(Judge *judge, const Tie *tie)
{
    if (starts(tie->one) == starts(tie->other)) {
        return;
    }
    const Entity *start = starts(tie->one) ? tie->one : tie->other;
    const Entity *house = starts(tie->one) ? tie->other : tie->one;
    Finding *f = judge_apart(judge, tie, start, place_of_name(judge, start));
    if (f == NULL) {
        return;
    }
    finding_at(f, tie->maker);
    finding_say(judge, f, "`%s` charges `%s` and `%s`, and %s: what hangs on `%s` %s flatten the one that is there to start the engine",
                say_name(judge, tie->maker), say_name(judge, start), say_name(judge, house),
                f->verdict == VERDICT_BROKEN ? "joins them by its outputs" : "does not say whether its outputs keep them apart",
                say_name(judge, house), f->verdict == VERDICT_BROKEN ? "can" : "may");
    finding_note(judge, f, place_of(judge, tie->maker, PROP_MAKER_FEEDS), "it charges both");
}

void judge_start_by_makers(Judge *judge, const Upstream *upstream)
{
    each_tie(judge, upstream, judge_start_tie);
}

/* charge-loop */

/* What makers bring to a thing, besides what it is fed by. */
typedef struct Brought {
    const Feed *feed;
    struct Brought *next;
} Brought;

struct RunsOn {
    Brought **brought;     /* by Entity.index */
    uint32_t *seen;        /* by Entity.index: the search that saw it last */
    const Entity **behind; /* what is still to be looked at */
    const bool *alive;     /* by Entity.index: banks that something charges; NULL: all are */
    bool past_chargers;    /* a charger counts as a source of its own: a circle through it is told of it */
    uint32_t searches, count;
};

RunsOn *runs_on_make(const Judge *judge)
{
    const Model *model = judge->model;
    RunsOn *runs = ARENA_NEW(judge->scratch, RunsOn);
    *runs = (RunsOn){.brought = ARENA_ARRAY(judge->scratch, Brought *, model->entity_count + 1),
                     .seen = ARENA_ARRAY(judge->scratch, uint32_t, model->entity_count + 1),
                     .behind = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1)};
    for (uint32_t i = model->feed_count; i-- > 0;) {
        const Feed *feed = model->feeds[i];
        if (feed->maker) {
            Brought *one = ARENA_NEW(judge->scratch, Brought);
            *one = (Brought){feed, runs->brought[feed->taker->index]};
            runs->brought[feed->taker->index] = one;
        }
    }
    return runs;
}

/* What a thing may run on: the bank that it charges, anything else that gives power. */
typedef struct Origins {
    bool own, other;
    bool any; /* a bank, alive or not */
} Origins;

static void look_behind(RunsOn *runs, const Entity *thing)
{
    if (is_aboard(thing) && runs->seen[thing->index] != runs->searches) {
        runs->seen[thing->index] = runs->searches;
        runs->behind[runs->count++] = thing;
    }
}

static void look_at_giver(RunsOn *runs, const Entity *giver, const Entity *bank, Origins *origins)
{
    if (!is_aboard(giver)) {
        return;
    }
    switch ((KindId)giver->kind) {
    case KIND_BANK:
        origins->own = origins->own || giver == bank;
        origins->other =
            origins->other || (giver != bank && (runs->alive == NULL || runs->alive[giver->index]));
        origins->any = true;
        break;
    case KIND_INLET:
    case KIND_GENERATOR:
    case KIND_ALTERNATOR:
    case KIND_SOLAR:
        origins->other = true;
        break;
    case KIND_CHARGER:
        if (runs->past_chargers) {
            origins->other = origins->any = true;
            break;
        }
        look_behind(runs, giver);
        break;
    default:
        look_behind(runs, giver);
        break;
    }
}

/* Each thing once: it ends, whatever runs in a circle. */
static Origins find_origins(RunsOn *runs, const Entity *maker, const Entity *bank)
{
    Origins origins = {false, false, false};
    runs->searches++;
    runs->count = 0;
    look_behind(runs, maker);
    while (runs->count > 0) {
        const Entity *thing = runs->behind[--runs->count];
        for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
            look_at_giver(runs, feed->giver, bank, &origins);
        }
        for (const Brought *b = runs->brought[thing->index]; b != NULL; b = b->next) {
            look_at_giver(runs, b->feed->giver, bank, &origins);
        }
        if (thing->kind == KIND_INVERTER) {
            look_at_giver(runs, entity_reference(thing, PROP_INVERTER_PASSES), bank, &origins);
        }
    }
    return origins;
}

static bool has_to_be_fed(const Entity *maker)
{
    return maker->kind == KIND_CHARGER || maker->kind == KIND_CONVERTER;
}

bool charges_from_elsewhere(RunsOn *runs, const Feed *feed, const Entity *bank, const bool *alive)
{
    if (!has_to_be_fed(feed->giver)) {
        return true;
    }
    runs->alive = alive;
    Origins origins = find_origins(runs, feed->giver, bank);
    runs->alive = NULL;
    return origins.other || !origins.any; /* of what hangs on nothing another rule speaks */
}

/* One bank that charges another by a converter, whatever charges the first. */
typedef struct Turn {
    const Entity *giver, *taker, *converter;
    bool waits; /* nobody can tell whether it gives a surplus only */
} Turn;

typedef struct Turns {
    Turn *list;
    uint32_t count;
    const Turn **by; /* by Entity.index of a bank: the turn by which a search came to it */
} Turns;

/* Those of converters that give whatever their bank gets: what only passes a surplus on makes no circle. */
static Turns find_turns(const Judge *judge, const Upstream *upstream)
{
    Turns turns = {.list = ARENA_ARRAY(judge->scratch, Turn, judge->model->feed_count + 1),
                   .by = ARENA_ARRAY(judge->scratch, const Turn *, judge->model->entity_count + 1)};
    for (uint32_t i = 0; i < judge->model->feed_count; i++) {
        const Feed *feed = judge->model->feeds[i];
        if (!feed->maker || feed->giver->kind != KIND_CONVERTER || !is_aboard(feed->giver) ||
            !is_aboard(feed->taker)) {
            continue;
        }
        const Entity *giver = upstream->source[feed->giver->index], *taker = bank_charged(upstream, feed);
        int surplus = is_relay(feed->giver) ? 1 : entity_yes(feed->giver, PROP_CONVERTER_SURPLUS_ONLY);
        if (is_aboard(giver) && giver->kind == KIND_BANK && taker != NULL && taker != giver && surplus != 1) {
            turns.list[turns.count++] = (Turn){giver, taker, feed->giver, surplus == -2};
        }
    }
    return turns;
}

/* How the bank that a turn charges comes to charge the one before it, by turns behind it in the list; NULL: it does not. */
static const Turn *way_back(const Judge *judge, Turns *turns, uint32_t of)
{
    const Turn *start = &turns->list[of];
    bool found = true;
    for (uint32_t i = 0; i < turns->count; i++) {
        turns->by[turns->list[i].taker->index] = NULL;
    }
    for (uint32_t round = 0; found && round <= judge->model->entity_count; round++) {
        found = false;
        for (uint32_t i = of + 1; i < turns->count; i++) {
            const Turn *turn = &turns->list[i];
            bool reached = turn->giver == start->taker || turns->by[turn->giver->index] != NULL;
            if (reached && turn->taker != start->taker && turns->by[turn->taker->index] == NULL) {
                turns->by[turn->taker->index] = turn;
                found = true;
            }
        }
    }
    return turns->by[start->giver->index];
}

/* A ring of converters, told at the first of them. */
static void judge_ring(Judge *judge, Turns *turns, uint32_t of)
{
    const Turn *start = &turns->list[of], *last = way_back(judge, turns, of);
    if (last == NULL) {
        return;
    }
    bool waits = start->waits;
    for (const Turn *turn = last; turn != NULL;
         turn = turn->giver == start->taker ? NULL : turns->by[turn->giver->index]) {
        waits = waits || turn->waits;
    }
    if (waits) {
        judge_waiting(judge);
        return;
    }
    Finding *f = judge_broken(judge, start->converter, place_of(judge, start->converter, PROP_MAKER_FEEDS));
    finding_at(f, start->taker);
    finding_say(judge, f,
                "`%s` charges `%s` from `%s`, and what that gives comes back by `%s`: they go round in a "
                "circle, and lose a part at each turn",
                say_name(judge, start->converter), say_name(judge, start->taker),
                say_name(judge, start->giver), say_name(judge, last->converter));
    finding_note(judge, f, place_of_name(judge, last->converter), "this charges `%s` from `%s`",
                 say_name(judge, last->taker), say_name(judge, last->giver));
    finding_remedy(judge, f,
                   "`surplus-only yes` on one of them, if it only works while something charges the bank "
                   "that it hangs on");
    finding_remedy(judge, f, "drop one of them");
}

static void judge_rings(Judge *judge, const Upstream *upstream)
{
    if (judge->model->first_of_kind[KIND_CONVERTER] == NULL) {
        return;
    }
    Turns turns = find_turns(judge, upstream);
    for (uint32_t i = 0; i + 1 < turns.count; i++) {
        judge_ring(judge, &turns, i);
    }
}

/* A charger takes mains, a converter what another bank gives. */
static void remedy_loop(Judge *judge, Finding *f, const Entity *maker)
{
    if (maker->kind == KIND_CONVERTER) {
        finding_remedy(judge, f, "`fed-by` another bank than the one that it charges, or `feeds` another one");
    } else {
        finding_remedy(judge, f, "`fed-by` what an inlet or a generator feeds");
    }
}

static void judge_loop(Judge *judge, RunsOn *runs, const Feed *feed, const Entity *bank)
{
    const Entity *maker = feed->giver;
    runs->past_chargers = maker->kind == KIND_CONVERTER; /* whether that is locked out is its own matter */
    Origins origins = find_origins(runs, maker, bank);
    runs->past_chargers = false;
    int locked = maker->kind == KIND_CHARGER ? entity_yes(maker, PROP_CHARGER_LOCKED_OUT) : 0;
    if (!origins.own || (origins.other && locked == 1)) {
        judge_holds(judge);
        return;
    }
    Span place = place_of(judge, maker, PROP_FEED_FED_BY);
    bool open = origins.other && locked < 0;
    Finding *f = open ? judge_open(judge, maker, place, maker, PROP_CHARGER_LOCKED_OUT) : judge_broken(judge, maker, place);
    finding_at(f, bank);
    finding_note(judge, f, place_of_name(judge, bank), "this bank");
    if (!origins.other) {
        finding_say(judge, f, "`%s` hangs on `%s` alone, which it charges: it empties what it fills", say_name(judge, maker),
                    say_name(judge, bank));
        remedy_loop(judge, f, maker);
        return;
    }
    finding_say(judge, f, "`%s` can run on `%s`, which it charges%s", say_name(judge, maker), say_name(judge, bank),
                open ? ", and does not say whether it is locked out then" : ": it empties what it fills");
    if (maker->kind == KIND_CHARGER) {
        finding_remedy(judge, f, "locked-out yes, where it cannot run on the inverter");
    }
    if (maker->kind == KIND_CHARGER) {
        finding_remedy(judge, f, "`fed-by` a panel that no inverter feeds");
    } else {
        remedy_loop(judge, f, maker);
    }
}

/* Turned by a motor, out of the bank that it charges. */
static void judge_turned_loop(Judge *judge, const Feed *feed)
{
    const Entity *alternator = feed->giver;
    const Entity *engine = is_aboard(alternator) && is_aboard(feed->taker) ? engine_on_its_bank(feed) : NULL;
    if (engine == NULL || !is_aboard(engine)) {
        return;
    }
    Finding *f = judge_broken(judge, alternator, place_of(judge, alternator, PROP_ALTERNATOR_ENGINE));
    finding_at(f, engine);
    finding_say(judge, f, "`%s` is turned by `%s`, which runs on the bank that it charges: it empties what it fills",
                say_name(judge, alternator), say_name(judge, engine));
    finding_note(judge, f, place_of_name(judge, engine), "this motor takes more than the alternator gives back");
    finding_remedy(judge, f, "a charger on shore power or on a generator, or an array, in its place");
}

void judge_charge_loop(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    RunsOn *runs = runs_on_make(judge);
    for (uint32_t i = 0; i < judge->model->feed_count; i++) {
        const Feed *feed = judge->model->feeds[i];
        bool may = feed->maker && has_to_be_fed(feed->giver) && is_aboard(feed->giver) && is_aboard(feed->taker);
        const Entity *bank = may ? bank_charged(upstream, feed) : NULL;
        if (feed->maker && feed->giver->kind == KIND_ALTERNATOR) {
            judge_turned_loop(judge, feed);
        }
        if (bank != NULL && feed->giver->fed != NULL) {
            judge_loop(judge, runs, feed, bank);
        }
    }
    judge_rings(judge, upstream);
}
