/*
 * How banks are joined, charged and led on: what meets, what a switch cuts off, what alternators must stand.
 */
#include "rules/bank.h"

#include "model/status.h"
#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* mixed-bank */

static void remedy_mixed(Judge *judge, Finding *f, const Entity *at)
{
    if (at->kind == KIND_CONVERTER) {
        finding_remedy(judge, f, "in its place a converter that gives a voltage of its own, without `relay`");
        return;
    }
    if (at->kind == KIND_SWITCH) {
        finding_remedy(judge, f, "works-as transfer");
    }
    finding_remedy(judge, f, "a `converter` that charges one from the other");
}

static void judge_mixed(Judge *judge, const Meeting *m)
{
    Chemistry one, other;
    if (!bank_chemistry(m->one, &one) || !bank_chemistry(m->other, &other)) {
        judge_waiting(judge);
        return;
    }
    if (one == other) {
        judge_holds(judge);
        return;
    }
    bool lithium = one == CHEMISTRY_LIFEPO4 || other == CHEMISTRY_LIFEPO4;
    bool watched = str_is(entity_word(m->at, PROP_SWITCH_WORKS_AS), "emergency");
    Finding *f = judge_broken(judge, m->at, place_of(judge, m->at, PROP_FEED_FED_BY));
    finding_at(f, m->other);
    finding_severity(f, lithium && !watched ? SEVERITY_FAULT : SEVERITY_WARNING);
    finding_say(judge, f, "`%s` joins `%s` (%s) and `%s` (%s), and what charges one well harms the other",
                say_name(judge, m->at), say_name(judge, m->one), chemistry_word(judge, m->one),
                say_name(judge, m->other), chemistry_word(judge, m->other));
    finding_note(judge, f, place_of(judge, m->one, PROP_BANK_CHEMISTRY), "one of them");
    finding_note(judge, f, place_of(judge, m->other, PROP_BANK_CHEMISTRY), "the other");
    remedy_mixed(judge, f, m->at);
}

/* How ill two banks go together: 0 alike, or that is not known; 1 not alike; 2 one of them is lithium. */
static int how_mixed(const Entity *one, const Entity *other)
{
    Chemistry a, b;
    if (!bank_chemistry(one, &a) || !bank_chemistry(other, &b) || a == b) {
        return 0;
    }
    return a == CHEMISTRY_LIFEPO4 || b == CHEMISTRY_LIFEPO4 ? 2 : 1;
}

/* A switch before it may bring any of several banks: of all pairs the one that goes together worst. */
static Meeting worst_pair(const Meeting *m)
{
    Meeting worst = *m;
    int most = how_mixed(m->one, m->other);
    for (int i = 0; i < SOURCES_APART && m->ones[i] != NULL; i++) {
        for (int j = 0; j < SOURCES_APART && m->others[j] != NULL; j++) {
            if (how_mixed(m->ones[i], m->others[j]) > most) {
                most = how_mixed(m->ones[i], m->others[j]);
                worst.one = m->ones[i];
                worst.other = m->others[j];
            }
        }
    }
    return worst;
}

void judge_mixed_bank(Judge *judge)
{
    for (const Meeting *m = meetings_of(judge, SOURCES_DIRECT); m != NULL; m = m->next) {
        if (m->with_first) { /* the first of them is held against each */
            Meeting worst = worst_pair(m);
            judge_mixed(judge, &worst);
        }
    }
    each_relay(judge, judge_mixed);
    judge_mixed_by_makers(judge);
}

/* joined-voltage */

/* How far apart two nominal voltages may be and still count as one: 12 and 12.8 or 13.2 V, 24 and 25.6 V. */
static const double same_voltage = 0.9;

/* The lower by the higher, whichever that is; both positive. */
static Interval lower_by_higher(Interval one, Interval other)
{
    double low = fmin(one.low / other.high, other.low / one.high);
    return (Interval){low, one.high < other.low   ? one.high / other.low
                           : other.high < one.low ? other.high / one.low
                                                  : 1.0};
}

static void judge_joined(Judge *judge, const Meeting *m)
{
    static const UnitPair none = {UNIT_NONE, UNIT_NONE};
    Side one = bank_volts(judge, m->one), other = bank_volts(judge, m->other);
    Side share = side_is_known(one) ? other : one;
    share.value = lower_by_higher(one.value, other.value);
    share.unit = none;
    Finding *f = judge_at_least(judge, m->at, place_of(judge, m->at, PROP_FEED_FED_BY), share, side_number(same_voltage, none));
    if (f == NULL) {
        return;
    }
    bool transfer = str_is(entity_word(m->at, PROP_SWITCH_WORKS_AS), "transfer");
    finding_at(f, m->other);
    static const PropId rests[] = {PROP_BANK_VOLTAGE, PROP_BANK_SERIES};
    for (int i = 0; i < 2; i++) {
        finding_rests_on(judge, f, m->one, rests[i]);
        finding_rests_on(judge, f, m->other, rests[i]);
    }
    finding_say(judge, f, transfer ? "behind `%s` there may be %s of `%s` or %s of `%s`" : "`%s` joins %s of `%s` and %s of `%s`",
                say_name(judge, m->at), say_side(judge, one), say_name(judge, m->one), say_side(judge, other),
                say_name(judge, m->other));
    finding_note(judge, f, place_of(judge, m->one, PROP_BANK_VOLTAGE), "one of them");
    finding_note(judge, f, place_of(judge, m->other, PROP_BANK_VOLTAGE), "the other");
    finding_remedy(judge, f, m->at->kind == KIND_CONVERTER ? "in its place a converter that turns one voltage into the other, without `relay`"
                                                           : "a `converter` between the two");
}

void judge_joined_voltage(Judge *judge)
{
    for (const Meeting *m = meetings_of(judge, SOURCES_DIRECT_SWITCHED); m != NULL; m = m->next) {
        if (m->with_first) {
            judge_joined(judge, m);
        }
    }
    each_relay(judge, judge_joined);
}

/* always-live */

/* By Entity.index: what hangs directly on the nearest switch above a thing; NULL: no switch is on its way. */
static const Entity **under_switches(const Judge *judge)
{
    const Model *model = judge->model;
    const Entity **under = ARENA_ARRAY(judge->scratch, const Entity *, model->entity_count + 1);
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *taker = model->feed_order[i];
        const Entity *giver = taker->fed != NULL ? taker->fed->giver : NULL;
        if (is_aboard(giver)) {
            under[taker->index] = giver->kind == KIND_SWITCH ? taker : under[giver->index];
        }
    }
    return under;
}

/* The highest thing on the way down from the switch that leads to this pump alone: what else hangs there stays on the switch. */
static const Entity *leads_to_it_alone(const Entity *pump, const Entity *under)
{
    const Entity *top = pump;
    while (top != under && top->fed->giver->gives->next_of_giver == NULL) {
        top = top->fed->giver;
    }
    return top;
}

/* What turns power between such a thing and the switch above, next to that: above is another voltage. NULL: nothing does. */
static const Entity *turned_between(const Entity *top, const Entity *under)
{
    const Entity *turns = NULL;
    while (top != under) {
        top = top->fed->giver;
        turns = turns_power(top) ? top : turns;
    }
    return turns;
}

/* What no switch cuts off, on the way up from one, and what turns power on that way. */
typedef struct Live {
    const Entity *above; /* NULL: a choice of sources stands there */
    const Entity *turns; /* the last of them; NULL: none */
} Live;

static Live live_above(const Entity *const *under, const Entity *cutting)
{
    Live live = {cutting, NULL};
    do {
        const Entity *at = live.above;
        live.turns = turns_power(at) ? at : live.turns;
        live.above = at->fed != NULL && at->fed->next == NULL ? at->fed->giver : NULL;
    } while (live.above != NULL && !(live.above->flags & ENTITY_LOOP) &&
             (live.above->kind == KIND_SWITCH || under[live.above->index] != NULL));
    return live;
}

/* Where its own cable moves to another giver, and the device that guards it now stays behind. */
static const char *fuse_for(const Entity *moved)
{
    bool loses_it = block_property(moved->fed->block, PROP_FEED_PROTECT) == NULL && moved->fed->guard != NULL;
    return loses_it ? ", and a `protect` of its own close to that" : "";
}

/* What turns power hangs below the switch: what is live is of another voltage than the pump. */
static void remedy_turned(Judge *judge, Finding *f, const Entity *top, const Entity *turns, Live live)
{
    const char *from = live.above != NULL ? text_format(judge->arena, "`fed-by %s`", say_name(judge, live.above))
                                          : "`fed-by` the bank itself";
    const Entity *like = turns != NULL ? turns : live.turns;
    if (turns != NULL && live.turns == NULL) {
        finding_remedy(judge, f, "%s for `%s`, which turns its power%s", from, say_name(judge, turns), fuse_for(turns));
    }
    finding_remedy(judge, f, "another `%s` for `%s` alone, %s", kinds[like->kind].word, say_name(judge, top), from);
}

static void remedy_switched(Judge *judge, Finding *f, const Entity *const *under, const Entity *pump)
{
    const Entity *top = leads_to_it_alone(pump, under[pump->index]);
    const Entity *turns = turned_between(top, under[pump->index]);
    Live live = live_above(under, under[pump->index]->fed->giver);
    const char *fuse = fuse_for(top);
    if (turns != NULL || live.turns != NULL) {
        remedy_turned(judge, f, top, turns, live);
    } else if (live.above == NULL) {
        finding_remedy(judge, f, "`fed-by` the bank itself%s", fuse);
    } else if (top != pump) {
        finding_remedy(judge, f, "fed-by %s for `%s`, which feeds it%s", say_name(judge, live.above), say_name(judge, top), fuse);
    } else if (fuse[0] != '\0') {
        finding_remedy(judge, f, "`fed-by %s`%s", say_name(judge, live.above), fuse);
    } else {
        finding_remedy(judge, f, "fed-by %s", say_name(judge, live.above));
    }
}

static void tell_switched(Judge *judge, const Entity *const *under_switches, const Entity *pump)
{
    const Entity *under = under_switches[pump->index];
    const Entity *cutting = under->fed->giver;
    Span place = place_of(judge, under, PROP_FEED_FED_BY);
    bool unsaid = entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == -1;
    Finding *f = unsaid ? judge_open(judge, pump, place, pump, PROP_BILGE_PUMP_AUTOMATIC)
                        : judge_broken(judge, pump, place);
    finding_say(judge, f, "`%s` %s, and `%s` cuts it off: with nobody aboard it does not pump",
                say_name(judge, pump), unsaid ? "does not say whether it is automatic" : "is automatic",
                say_name(judge, cutting));
    finding_note(judge, f, place_of_name(judge, cutting), "this switch");
    remedy_switched(judge, f, under_switches, pump);
}

/* Whether an automatic pump that no switch cuts off hangs on another bank than that one. */
static bool is_pumped_otherwise(const Judge *judge, const Entity **under, const Entity *bank)
{
    const Entity *const *source = upstream_of(judge)->source;
    for (const Entity *pump = judge->model->first_of_kind[KIND_BILGE_PUMP]; pump != NULL; pump = pump->next_of_kind) {
        const Entity *other = is_aboard(pump) && entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 1 ? source[pump->index] : NULL;
        if (other != NULL && other != bank && under[pump->index] == NULL) {
            return true;
        }
    }
    return false;
}

/* A bank that cuts itself off to spare its cells takes the pump along; nobody hears of it. True: told. */
static bool tell_cut_off(Judge *judge, const Entity *pump, const Entity **under)
{
    const Entity *bank = upstream_of(judge)->source[pump->index];
    bool cuts = is_aboard(bank) && bank->kind == KIND_BANK && entity_yes(bank, PROP_BANK_DISCONNECT) == 1 &&
                entity_yes(bank, PROP_BANK_WARNS) == 0 && entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC) == 1;
    if (!cuts || is_pumped_otherwise(judge, under, bank)) {
        return false;
    }
    Finding *f = judge_broken(judge, pump, place_of(judge, pump, PROP_FEED_FED_BY));
    finding_at(f, bank);
    finding_say(judge, f, "`%s` is automatic, and `%s` disconnects itself to spare its cells, with no warning before: with nobody aboard "
                          "it does not pump then",
                say_name(judge, pump), say_name(judge, bank));
    finding_note(judge, f, place_of(judge, bank, PROP_BANK_WARNS), "nobody hears of it");
    finding_remedy(judge, f, "a second automatic pump on another bank");
    finding_remedy(judge, f, "`warns yes` on `%s`, with an alarm that is heard ashore", say_name(judge, bank));
    return true;
}

void judge_always_live(Judge *judge)
{
    const Entity **under = under_switches(judge);
    for (const Entity *pump = judge->model->first_of_kind[KIND_BILGE_PUMP]; pump != NULL;
         pump = pump->next_of_kind) {
        int automatic = entity_yes(pump, PROP_BILGE_PUMP_AUTOMATIC);
        bool by_hand = entity_yes(pump, PROP_BILGE_PUMP_HAND) == 1;
        if (!is_aboard(pump) || automatic == 0 || pump->fed == NULL || (automatic == -1 && by_hand)) {
            continue;
        }
        if (automatic == -2 || pump->fed->giver == NULL || pump->flags & ENTITY_LOOP) {
            judge_waiting(judge);
        } else if (under[pump->index] != NULL) {
            tell_switched(judge, under, pump);
        } else if (!tell_cut_off(judge, pump, under)) {
            judge_holds(judge);
        }
    }
}

/* load-dump, regulator */

/* Of banks that a switch is turned to, those alone that `asks` picks: of the others the first of them speaks. */
static void each_charged(Judge *judge, void (*judge_alternator)(Judge *, const Entity *, const Entity *), bool (*asks)(const Entity *))
{
    if (judge->model->first_of_kind[KIND_ALTERNATOR] == NULL) {
        return;
    }
    const Upstream *upstream = upstream_of(judge);
    for (uint32_t i = 0; i < judge->model->feed_count; i++) {
        const Feed *feed = judge->model->feeds[i];
        bool alternator = feed->maker && feed->giver->kind == KIND_ALTERNATOR && is_aboard(feed->giver);
        const Entity *bank = alternator ? bank_charged(upstream, feed) : NULL;
        if (bank != NULL) {
            judge_alternator(judge, feed->giver, bank);
        }
    }
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        for (const Charging *c = upstream->charging[bank->index]; c != NULL && is_aboard(bank) && asks(bank); c = c->next) {
            if (c->turned && c->feed->giver->kind == KIND_ALTERNATOR) {
                judge_alternator(judge, c->feed->giver, bank);
            }
        }
    }
}

/* The first switch that can cut a thing off the bank above it, by the first of its feeds; NULL: none can. */
static const Entity *cut_off_by(const Entity *thing)
{
    enum { STEPS_MOST = 64 };
    for (int i = 0; i < STEPS_MOST && is_aboard(thing) && thing->kind != KIND_BANK && !turns_power(thing); i++) {
        Str works = thing->kind == KIND_SWITCH ? entity_word(thing, PROP_SWITCH_WORKS_AS) : (Str){"", 0};
        if (str_is(works, "battery") || str_is(works, "transfer") || str_is(works, "parallel")) {
            return thing; /* a 1-2-both too is turned through OFF */
        }
        thing = thing->fed != NULL ? thing->fed->giver : NULL;
    }
    return NULL;
}

/* A switch on each of its ways: one bank that stays on it takes the leap. NULL: there is none. */
static const Entity *switch_before(const Entity *alternator)
{
    const Entity *cuts = NULL;
    for (const Feed *feed = alternator->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *found = feed->maker && is_aboard(feed->taker) ? cut_off_by(feed->taker) : NULL;
        if (feed->maker && is_aboard(feed->taker) && found == NULL) {
            return NULL;
        }
        cuts = cuts != NULL ? cuts : found;
    }
    return cuts;
}

static void ask_of_switch(Judge *judge, const Entity *alternator, const Entity *bank)
{
    const Entity *cuts = switch_before(alternator);
    Finding *f = cuts != NULL ? judge_yes(judge, alternator, PROP_ALTERNATOR_LOAD_DUMP, "") : NULL;
    if (f != NULL) {
        finding_at(f, bank);
        finding_severity(f, SEVERITY_WARNING);
        finding_say(judge, f, "`%s` can be turned off while `%s` charges by it, and `%s` %s against that", say_name(judge, cuts),
                    say_name(judge, alternator), say_name(judge, alternator),
                    f->verdict == VERDICT_BROKEN ? "is not protected" : "does not say whether it is protected");
        finding_note(judge, f, place_of_name(judge, cuts), "this switch stands between it and `%s`", say_name(judge, bank));
        finding_remedy(judge, f, "`feeds %s`, straight to the bank, with its own `protect`", say_name(judge, bank));
    }
}

static bool disconnects_itself(const Entity *bank)
{
    return entity_yes(bank, PROP_BANK_DISCONNECT) == 1;
}

static void ask_load_dump(Judge *judge, const Entity *alternator, const Entity *bank)
{
    if (!disconnects_itself(bank)) {
        ask_of_switch(judge, alternator, bank); /* what the bank does is not stated: bank-management asks */
        return;
    }
    Finding *f = judge_yes(judge, alternator, PROP_ALTERNATOR_LOAD_DUMP, "");
    if (f != NULL) {
        finding_at(f, bank);
        finding_say(judge, f, "`%s` can disconnect itself under charge, and `%s` %s against that",
                    say_name(judge, bank), say_name(judge, alternator),
                    f->verdict == VERDICT_BROKEN ? "is not protected"
                                                 : "does not say whether it is protected");
        finding_note(judge, f, place_of(judge, bank, PROP_BANK_DISCONNECT), "it disconnects itself");
    }
}

void judge_load_dump(Judge *judge)
{
    each_charged(judge, ask_load_dump, disconnects_itself);
}

/* From this output on, in A, a belt and a body are loaded hard enough for a regulator that knows the heat. */
static const double large_alternator_a = 100.0;

static bool is_lithium(const Entity *bank)
{
    Chemistry chemistry;
    return bank_chemistry(bank, &chemistry) && chemistry == CHEMISTRY_LIFEPO4;
}

static const char *why_regulated(const Judge *judge, const Entity *alternator, const Entity *bank, Answer *large)
{
    *large = ANSWER_YES;
    if (is_lithium(bank)) {
        return text_format(judge->arena,
                           "charges lithium (`%s`), which takes all that it can give until it is hot",
                           say_name(judge, bank));
    }
    Side output = side_value(judge, alternator, PROP_ALTERNATOR_OUTPUT, 0);
    *large = ask_at_least(output, side_number(large_alternator_a, amperes));
    bool perhaps = *large == ANSWER_PERHAPS;
    return perhaps || *large == ANSWER_YES
               ? text_format(judge->arena, perhaps ? "may be large (%s)" : "is large (%s)", say_side(judge, output))
               : NULL;
}

/* Of one that may be large, the output has to be decided too. */
static void left_to_output(Judge *judge, Finding *f, const Entity *alternator, Answer large)
{
    if (large == ANSWER_PERHAPS) {
        finding_left_open(judge, f, alternator, PROP_ALTERNATOR_OUTPUT);
    }
}

/*
 * What wind or water drives gives on when its bank is full, by day and night, and nobody stands by. It knows no heat of an
 * engine's space, so that any regulator will do.
 */
static void ask_free_regulator(Judge *judge, const Entity *alternator, const Entity *bank)
{
    Str regulator;
    State state = stated_word(alternator, PROP_ALTERNATOR_REGULATOR, &regulator);
    bool unsaid = state == STATE_MISSING;
    if (has_mistake(alternator, PROP_ALTERNATOR_DRIVEN_BY)) {
        state = STATE_WAITING;
    }
    if (state == STATE_WAITING || (!unsaid && !str_is(regulator, "none"))) {
        (state == STATE_WAITING ? judge_waiting : judge_holds)(judge);
        return;
    }
    Finding *f = unsaid ? judge_open(judge, alternator, place_of_name(judge, alternator), alternator, PROP_ALTERNATOR_REGULATOR)
                        : judge_broken(judge, alternator, place_of(judge, alternator, PROP_ALTERNATOR_REGULATOR));
    finding_at(f, bank);
    finding_say(judge, f, "`%s` gives as long as %.*s drives it, and %s keeps it from overcharging `%s`",
                say_name(judge, alternator), STR_ARG(entity_word(alternator, PROP_ALTERNATOR_DRIVEN_BY)),
                unsaid ? "does not say what" : "nothing", say_name(judge, bank));
    finding_remedy(judge, f, "regulator diversion");
}

static void ask_regulator(Judge *judge, const Entity *alternator, const Entity *bank)
{
    if (is_engineless(alternator)) {
        ask_free_regulator(judge, alternator, bank);
        return;
    }
    Answer large;
    const char *why = why_regulated(judge, alternator, bank, &large);
    Str regulator;
    State state = stated_word(alternator, PROP_ALTERNATOR_REGULATOR, &regulator);
    if (why == NULL || state == STATE_WAITING) {
        (why == NULL ? judge_holds : judge_waiting)(judge);
        return;
    }
    Finding *f;
    if (state == STATE_MISSING) {
        f = judge_open(judge, alternator, place_of_name(judge, alternator), alternator,
                       PROP_ALTERNATOR_REGULATOR);
        finding_say(judge, f, "`%s` %s, and does not say what regulates it", say_name(judge, alternator),
                    why);
        finding_remedy(judge, f, "regulator external");
    } else if (str_is(regulator, "internal") || str_is(regulator, "none")) {
        f = judge_broken(judge, alternator, place_of(judge, alternator, PROP_ALTERNATOR_REGULATOR));
        finding_say(judge, f, "`%s` %s, and %s", say_name(judge, alternator), why,
                    str_is(regulator, "none") ? "nothing regulates it" : "its own regulator does not see that");
        finding_remedy(judge, f, "regulator external");
    } else if (!entity_states(alternator, PROP_ALTERNATOR_HOT_OUTPUT)) {
        f = judge_open(judge, alternator, place_of_name(judge, alternator), alternator,
                       PROP_ALTERNATOR_HOT_OUTPUT);
        finding_severity(f, SEVERITY_ADVICE);
        finding_say(judge, f, "`%s` %s, and does not say how much it gives when hot",
                    say_name(judge, alternator), why);
        finding_remedy(judge, f, "hot-output 75 %%, or what its maker states");
    } else {
        judge_holds(judge);
        return;
    }
    left_to_output(judge, f, alternator, large);
    finding_at(f, bank);
}

void judge_regulator(Judge *judge)
{
    each_charged(judge, ask_regulator, is_lithium);
}
