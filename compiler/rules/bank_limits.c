/*
 * What banks are asked for and what they may give and take: discharge, charge.
 *
 * Limits that a maker states are faults when they are broken; usual figures of a chemistry
 * (tables/battery.def, from memory) only ever warn.
 */
#include "rules/bank.h"

#include "model/status.h"
#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

static const char *say_interval(const Judge *judge, Interval value, UnitPair unit)
{
    return say_side(judge, side_interval(value, unit));
}

/* "lithium", or the owner's word. */
static const char *say_chemistry(const Judge *judge, const Entity *bank)
{
    Chemistry chemistry;
    bool lithium = bank_chemistry(bank, &chemistry) && chemistry == CHEMISTRY_LIFEPO4;
    return lithium ? "lithium" : chemistry_word(judge, bank);
}

const char *say_bank_amperes(const Judge *judge, Interval value)
{
    return value.low <= 0.0 && isinf(value.high) ? "an undecided current"
                                                 : say_interval(judge, value, amperes);
}

static void each_bank(Judge *judge, void (*judge_bank)(Judge *, const Upstream *, const Entity *))
{
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL;
         bank = bank->next_of_kind) {
        if (is_aboard(bank)) {
            judge_bank(judge, upstream, bank);
        }
    }
}

/* bank-discharge, bank-charge */

Side bank_limit(const Judge *judge, const Entity *bank, PropId prop)
{
    Side limit = side_value(judge, bank, prop, 0);
    limit.value = interval_multiply(limit.value, strings_of_bank(judge, bank));
    return limit;
}

/* What is usual for the chemistry, by the capacity. */
static Side usual_limit(const Judge *judge, const Entity *bank, BatteryFigure figure, Chemistry chemistry)
{
    Side limit = side_figure(figure_of(judge, bank, FIGURE_CAPACITY));
    double amps_per_ah = battery_figure(figure, chemistry);
    limit.value = (Interval){battery_rate_a(amps_per_ah, limit.value.low),
                             battery_rate_a(amps_per_ah, limit.value.high)};
    limit.unit = amperes;
    return limit;
}

/* What only passes a surplus on takes nothing of the bank: each end less its own. */
static void spare_surplus(const Judge *judge, const Upstream *upstream, const Entity *bank, Interval *amps)
{
    for (const Entity *e = judge->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        const Figure *takes = passes_surplus(e) && upstream->source[e->index] == bank && e->fed != NULL
                                  ? feed_figure(judge, e->fed, FIGURE_CONTINUOUS_CURRENT)
                                  : NULL;
        if (takes != NULL && takes->state == STATE_KNOWN) {
            amps->low = fmax(0.0, amps->low - takes->low);
            amps->high = isinf(amps->high) ? INFINITY : fmax(0.0, amps->high - takes->high);
        }
    }
}

/* What flows three hours and more, where the discharge is known at all. */
static Side lasting_discharge(const Judge *judge, const Upstream *upstream, const Entity *bank)
{
    Side side = side_figure(figure_of(judge, bank, FIGURE_DISCHARGE_CURRENT));
    Interval sum = {0.0, 0.0};
    for (const Feed *feed = bank->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *current = feed->maker ? NULL : feed_figure(judge, feed, FIGURE_CONTINUOUS_CURRENT);
        if (current != NULL && current->state == STATE_KNOWN) {
            sum = interval_add(sum, (Interval){current->low, current->high});
        }
    }
    spare_surplus(judge, upstream, bank, &sum);
    if (side_is_known(side)) {
        side.value = sum;
    }
    return side;
}

static bool cranks(const Judge *judge, const Entity *bank)
{
    const Drawn *drawn = drawn_on(judge, bank);
    uint32_t i = 0;
    while (i < drawn->count &&
           !(drawn->things[i]->kind == KIND_ENGINE && entity_states(drawn->things[i], PROP_ENGINE_STARTER))) {
        i++;
    }
    return i < drawn->count;
}

static Finding *judge_asked(Judge *judge, const Upstream *upstream, const Entity *bank, Side limit, Side asked)
{
    Finding *f = judge_at_most(judge, bank, place_of(judge, bank, PROP_BANK_MAX_DISCHARGE), asked, limit);
    if (f != NULL) {
        Chemistry chemistry;
        bool lead = bank_chemistry(bank, &chemistry) && chemistry != CHEMISTRY_LIFEPO4; /* nothing in it cuts a burst off */
        finding_severity(f, lead ? SEVERITY_WARNING : SEVERITY_FAULT);
        finding_say(judge, f, "`%s` may give %s%s, but %s can be asked of it at once", say_name(judge, bank),
                    say_bank_amperes(judge, limit.value), lead ? " for long" : "", say_bank_amperes(judge, asked.value));
        Largest largest = largest_on(judge, upstream, bank, FIGURE_CURRENT);
        note_largest(judge, f, &largest);
        remedy_together(judge, f, upstream, bank, side_is_known(limit) ? limit.value.high : INFINITY);
        finding_remedy(judge, f, "a bank whose batteries may give more");
    }
    return f;
}

/* What cranks is held against `cranking`, where that is stated: see start-alone. Else it is asked of the bank as well. */
static void judge_stated_discharge(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    Side limit = bank_limit(judge, bank, PROP_BANK_MAX_DISCHARGE);
    const Figure *starter = figure_of(judge, bank, FIGURE_CRANKING);
    bool asked = judge_asked(judge, upstream, bank, limit, side_figure(figure_of(judge, bank, FIGURE_DISCHARGE_CURRENT))) != NULL;
    if (asked || starter == NULL || entity_states(bank, PROP_BANK_CRANKING) || !cranks(judge, bank)) {
        return;
    }
    Side cranking = side_figure(starter);
    Finding *f = judge_at_most(judge, bank, place_of(judge, bank, PROP_BANK_MAX_DISCHARGE), cranking, limit);
    if (f != NULL) {
        finding_about(f, PROP_BANK_CRANKING);
        finding_say(judge, f, "`%s` may give %s, and a starter takes %s of it", say_name(judge, bank),
                    say_bank_amperes(judge, limit.value), say_figure(judge, starter));
        finding_remedy(judge, f, "`cranking`, if its batteries give more for seconds");
        finding_remedy(judge, f, "a bank of its own for the starter");
    }
}

/* Whether a switch between banks lends this one. */
static bool lends(const Upstream *upstream, const Entity *tie, const Entity *bank)
{
    bool of_bank = false;
    for (const Feed *feed = tie->fed; feed != NULL; feed = feed->next) {
        of_bank = of_bank || (feed->giver != NULL && (feed->giver == bank || upstream->source[feed->giver->index] == bank));
    }
    return of_bank && tie->fed->next != NULL;
}

/* A bank that no starter hangs on and that a switch lends to one: its management system cuts off at what it may not give. */
static void judge_lent(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    bool asked = figure_of(judge, bank, FIGURE_CRANKING) == NULL && !entity_states(bank, PROP_BANK_CRANKING);
    for (const Entity *tie = judge->model->first_of_kind[KIND_SWITCH]; tie != NULL && asked; tie = tie->next_of_kind) {
        const Figure *starter = is_aboard(tie) ? figure_of(judge, tie, FIGURE_CRANKING) : NULL;
        if (starter == NULL || has_starter_behind(judge->model, tie) || !lends(upstream, tie, bank)) {
            continue;
        }
        Side limit = bank_limit(judge, bank, PROP_BANK_MAX_DISCHARGE);
        Finding *f = judge_at_most(judge, bank, place_of(judge, bank, PROP_BANK_MAX_DISCHARGE), side_figure(starter), limit);
        if (f != NULL) {
            finding_at(f, tie);
            finding_severity(f, SEVERITY_WARNING);
            finding_say(judge, f, "an engine that is started by way of `%s` takes %s of `%s`, which may give %s", say_name(judge, tie),
                        say_figure(judge, starter), say_name(judge, bank), say_bank_amperes(judge, limit.value));
            finding_note(judge, f, place_of_name(judge, tie), "it lends the bank");
            finding_remedy(judge, f, "`cranking`, if its batteries give more for seconds");
        }
    }
}

static void judge_usual_discharge(Judge *judge, const Upstream *upstream, const Entity *bank,
                                  Chemistry chemistry)
{
    Side limit = usual_limit(judge, bank, BATTERY_DISCHARGE, chemistry);
    Side asked = lasting_discharge(judge, upstream, bank);
    Finding *f = judge_at_most(judge, bank, place_of_name(judge, bank), asked, limit);
    if (f == NULL) {
        return;
    }
    finding_severity(f, SEVERITY_WARNING);
    for (const Entity *e = judge->model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        if (upstream->source[e->index] == bank) {
            finding_rests_on(judge, f, e, PROP_INVERTER_OUTPUT); /* without a voltage nobody can tell what runs how long behind it */
        }
    }
    finding_say(judge, f, "%s can be asked of `%s` for hours, what runs for minutes not counted; %s batteries of that size usually give %s",
                say_bank_amperes(judge, asked.value), say_name(judge, bank), say_chemistry(judge, bank),
                say_bank_amperes(judge, limit.value));
    Largest largest = largest_on(judge, upstream, bank, FIGURE_CONTINUOUS_CURRENT);
    note_largest(judge, f, &largest);
    finding_remedy(judge, f, "`max-discharge`, if their maker allows so much");
    finding_remedy(judge, f, "`use` on the loads, for how long they really run");
}

static void judge_discharge(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    Chemistry chemistry;
    if (entity_states(bank, PROP_BANK_MAX_DISCHARGE)) {
        judge_stated_discharge(judge, upstream, bank);
        judge_lent(judge, upstream, bank);
    } else if (bank_chemistry(bank, &chemistry)) {
        judge_usual_discharge(judge, upstream, bank, chemistry);
    } else {
        judge_waiting(judge);
    }
}

void judge_bank_discharge(Judge *judge)
{
    each_bank(judge, judge_discharge);
}

static void note_makers(Judge *judge, Finding *finding, const Upstream *upstream, const Entity *bank)
{
    const Charging *charging = upstream->charging[bank->index];
    for (int left = 4; charging != NULL && left > 0; left--, charging = charging->next) {
        const Entity *maker = charging->feed->giver;
        finding_note(judge, finding, place_of_name(judge, maker), "`%s` brings %s%s", say_name(judge, maker),
                     say_figure(judge, feed_figure(judge, charging->feed, FIGURE_CURRENT)),
                     say_turned(judge, charging));
    }
}

/* What can charge at one time: ashore, or with the engine at work. */
typedef enum Runs { RUNS_ANY_TIME, RUNS_ASHORE, RUNS_WITH_ENGINE } Runs;

/* Whether all that charges a bank is driven by an engine: what only passes that on charges with the engine too. */
static bool only_engine_charges(const Upstream *upstream, const Entity *bank)
{
    bool any = false;
    for (const Charging *c = upstream->charging[bank->index]; c != NULL; c = c->next) {
        if (c->feed->giver->kind != KIND_ALTERNATOR || is_engineless(c->feed->giver)) {
            return false;
        }
        any = true;
    }
    return any;
}

static bool charges(const Upstream *upstream, const Entity *maker, const Entity *bank)
{
    const Charging *c = upstream->charging[bank->index];
    while (c != NULL && c->feed->giver != maker) {
        c = c->next;
    }
    return c != NULL;
}

/*
 * Whether what charges the one that a relay hangs on, but for an engine, are chargers that reach this bank by a way of their own:
 * `output` is the most that one gives in all, so that what the relay passes on of it is in what it brings here.
 */
static bool relay_adds_with_engine(const Upstream *upstream, const Entity *source, const Entity *bank)
{
    bool engine = false;
    for (const Charging *c = upstream->charging[source->index]; c != NULL; c = c->next) {
        const Entity *maker = c->feed->giver;
        bool driven = maker->kind == KIND_ALTERNATOR && !is_engineless(maker);
        if (!driven && !(maker->kind == KIND_CHARGER && charges(upstream, maker, bank))) {
            return false;
        }
        engine = engine || driven;
    }
    return engine;
}

static Runs when_runs(const Upstream *upstream, const Entity *maker, const Entity *bank)
{
    const Entity *source = upstream->source[maker->index];
    bool after_bank = source != NULL && source->kind == KIND_BANK;
    switch ((KindId)maker->kind) {
    case KIND_ALTERNATOR: return is_engineless(maker) ? RUNS_ANY_TIME : RUNS_WITH_ENGINE;
    case KIND_CHARGER: return source != NULL && source->kind == KIND_INLET ? RUNS_ASHORE : RUNS_ANY_TIME;
    case KIND_CONVERTER:
        return after_bank && (only_engine_charges(upstream, source) || (is_relay(maker) && relay_adds_with_engine(upstream, source, bank)))
                   ? RUNS_WITH_ENGINE
                   : RUNS_ANY_TIME;
    default: return RUNS_ANY_TIME;
    }
}

/*
 * All that charges a bank and can run at one time, without what runs ashore or without what runs with the engine, whichever
 * is more; false if either brings nothing, so that all may run together.
 */
static bool brought_apart(const Judge *judge, const Upstream *upstream, const Entity *bank, Interval *most)
{
    Interval without[3] = {{0.0, 0.0}, {0.0, 0.0}, {0.0, 0.0}};
    bool any[3] = {false, false, false};
    for (const Charging *c = upstream->charging[bank->index]; c != NULL; c = c->next) {
        const Figure *current = feed_figure(judge, c->feed, FIGURE_CURRENT);
        Runs when = when_runs(upstream, c->feed->giver, bank);
        if (current == NULL || current->state != STATE_KNOWN) {
            return false;
        }
        any[when] = true;
        for (int other = RUNS_ASHORE; other <= RUNS_WITH_ENGINE; other++) {
            if (other != (int)when) {
                without[other] = interval_add(without[other], (Interval){current->low, current->high});
            }
        }
    }
    *most = interval_max(without[RUNS_ASHORE], without[RUNS_WITH_ENGINE]);
    return any[RUNS_ASHORE] && any[RUNS_WITH_ENGINE];
}

/* The sentence for what all may bring together only at the quay with the engine at work. */
static void tell_apart(Judge *judge, Finding *f, const Entity *bank, Side limit, Side all, Interval most)
{
    finding_say(judge, f,
                "`%s` takes %s; what charges it brings %s ashore or with the engine at work, which is within that, and %s where the "
                "engine runs at the quay on the shore cable",
                say_name(judge, bank), say_bank_amperes(judge, limit.value), say_bank_amperes(judge, most), say_bank_amperes(judge, all.value));
    note_makers(judge, f, upstream_of(judge), bank);
    finding_remedy(judge, f, "the charger switched off, or the cable pulled, before the engine is started");
    finding_remedy(judge, f, "a smaller `output` or `max-output`, if one of them can be set so");
}

/* What charges it at one time against the limit; *apart tells that only all of it together is too much. */
static Finding *judge_brought(Judge *judge, const Entity *bank, Span place, Side limit, Side *brought, bool *apart)
{
    Interval most;
    Side all = *brought;
    *apart = false;
    if (side_is_known(all) && brought_apart(judge, upstream_of(judge), bank, &most)) {
        brought->value = most;
        Finding *f = judge_at_most(judge, bank, place, *brought, limit);
        *apart = f == NULL;
        if (f != NULL) {
            return f;
        }
    }
    Finding *f = judge_at_most(judge, bank, place, all, limit);
    if (f != NULL && *apart) {
        tell_apart(judge, f, bank, limit, all, brought->value);
    }
    return f;
}

/* Of what is brought at one time where that is less than all: the sum of the makers that are listed is more. */
static const char *what_charges(Judge *judge, const Entity *bank, Side brought, const char *all)
{
    const Figure *every = figure_of(judge, bank, FIGURE_CHARGE_CURRENT);
    return every != NULL && every->high > brought.value.high
               ? text_format(judge->arena, "%s at one time (not the engine and the shore together)", all)
               : all;
}

static void judge_stated_charge(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    bool apart;
    Side limit = bank_limit(judge, bank, PROP_BANK_MAX_CHARGE);
    Side brought = side_figure(figure_of(judge, bank, FIGURE_CHARGE_CURRENT));
    Finding *f =
        judge_brought(judge, bank, place_of(judge, bank, PROP_BANK_MAX_CHARGE), limit, &brought, &apart);
    if (f != NULL && apart) {
        finding_severity(f, SEVERITY_WARNING);
    } else if (f != NULL) {
        finding_say(judge, f, "`%s` may be charged with %s, but %s brings %s", say_name(judge, bank), say_bank_amperes(judge, limit.value),
                    what_charges(judge, bank, brought, "all that charges it"), say_bank_amperes(judge, brought.value));
        note_makers(judge, f, upstream, bank);
        finding_remedy(judge, f, "a smaller `output` or `max-output`, if the charger can be set so");
    }
}

static void judge_usual_charge(Judge *judge, const Upstream *upstream, const Entity *bank,
                               Chemistry chemistry)
{
    bool apart;
    Side limit = usual_limit(judge, bank, BATTERY_ACCEPTANCE, chemistry);
    Side brought = side_figure(figure_of(judge, bank, FIGURE_CHARGE_CURRENT));
    Finding *f = judge_brought(judge, bank, place_of_name(judge, bank), limit, &brought, &apart);
    if (f != NULL) {
        /* At the right voltage these take no more than they can stand; gel and lithium may be harmed. */
        bool limits_itself = chemistry == CHEMISTRY_FLOODED || chemistry == CHEMISTRY_AGM;
        finding_severity(f, limits_itself || apart ? SEVERITY_ADVICE : SEVERITY_WARNING);
    }
    if (f != NULL && !apart) {
        const char *all = text_format(judge->arena, "all that charges `%s`", say_name(judge, bank));
        finding_say(judge, f, "%s brings %s; %s batteries of that size usually take %s", what_charges(judge, bank, brought, all),
                    say_bank_amperes(judge, brought.value), say_chemistry(judge, bank), say_bank_amperes(judge, limit.value));
        note_makers(judge, f, upstream, bank);
        finding_remedy(judge, f, "`max-charge`, as their maker states it");
    }
}

static void judge_charge(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    Chemistry chemistry;
    if (entity_states(bank, PROP_BANK_MAX_CHARGE)) {
        judge_stated_charge(judge, upstream, bank);
    } else if (bank_chemistry(bank, &chemistry)) {
        judge_usual_charge(judge, upstream, bank, chemistry);
    } else {
        judge_waiting(judge);
    }
}

void judge_bank_charge(Judge *judge)
{
    each_bank(judge, judge_charge);
}
