/*
 * Rules on where power goes: feeds-nothing, bank-uncharged, wrong-voltage.
 */
#include "rules/bank.h"

#include "physics/charging.h"
#include "physics/drop.h"
#include "rules/wiring.h"

static const UnitPair volts = {UNIT_V, UNIT_NONE};

static bool makes_power(const Entity *thing)
{
    return is_aboard(thing) && kinds[thing->kind].groups & GROUPS_MAKER &&
           entity_yes(thing, PROP_COMMON_PORTABLE) != 1;
}

/* feeds-nothing */

/* What it feeds, or what hangs on it; the first that is dropped, if they all are. */
static bool gives_anything(const Entity *maker, const Entity **dropped)
{
    *dropped = NULL;
    for (const Feed *feed = maker->gives; feed != NULL; feed = feed->next_of_giver) {
        if (is_aboard(feed->taker)) {
            return true;
        }
        *dropped = *dropped == NULL ? feed->taker : *dropped;
    }
    return false;
}

void judge_feeds_nothing(Judge *judge, const Entity *maker)
{
    const Entity *dropped;
    if (!makes_power(maker)) {
        return;
    }
    if (gives_anything(maker, &dropped)) {
        judge_holds(judge);
        return;
    }
    if (has_mistake(maker, PROP_MAKER_FEEDS) || some_feed_is_mistaken(judge) || (dropped != NULL && dropped->flags & ENTITY_BROKEN)) {
        judge_waiting(judge);
        return;
    }
    Finding *f = judge_broken(judge, maker, place_of(judge, maker, PROP_MAKER_FEEDS));
    if (dropped != NULL) {
        finding_say(judge, f, "`%s` feeds `%s`, which is dropped", say_name(judge, maker),
                    say_name(judge, dropped));
    } else {
        finding_say(judge, f,
                    "`%s` makes power, and feeds nothing: it counts in no bank, no cable and no day",
                    say_name(judge, maker));
    }
    finding_remedy(judge, f, "`feeds` what it charges, with its `run`, `wire` and `protect`");
    if (maker->kind == KIND_INVERTER || maker->kind == KIND_GENERATOR || maker->kind == KIND_CONVERTER) {
        finding_remedy(judge, f, "`fed-by %s` on what hangs on it", say_name(judge, maker));
    }
}

/* bank-uncharged */

static const Entity *bank_before(const Upstream *upstream, const Feed *feed)
{
    const Entity *giver = feed->giver;
    const Entity *source = giver == NULL || giver->kind == KIND_BANK ? giver : upstream->source[giver->index];
    return source != NULL && source->kind == KIND_BANK && is_aboard(source) ? source : NULL;
}

/*
 * What a switch or the like joins to a bank that is charged is charged too, but not by one that is closed in an emergency alone;
 * whether that changed anything.
 */
static bool join_charged(const Judge *judge, const Upstream *upstream, bool *charged)
{
    bool changed = false;
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        bool any = false;
        if (!is_aboard(thing) || thing->fed == NULL || thing->fed->next == NULL ||
            str_is(entity_word(thing, PROP_SWITCH_WORKS_AS), "emergency")) {
            continue;
        }
        for (const Feed *feed = thing->fed; feed != NULL; feed = feed->next) {
            const Entity *bank = bank_before(upstream, feed);
            any = any || (bank != NULL && charged[bank->index]);
        }
        for (const Feed *feed = thing->fed; feed != NULL && any; feed = feed->next) {
            const Entity *bank = bank_before(upstream, feed);
            changed = changed || (bank != NULL && !charged[bank->index]);
            if (bank != NULL) {
                charged[bank->index] = true;
            }
        }
    }
    return changed;
}

static bool is_charged_ashore(const Entity *bank)
{
    return entity_yes(bank, PROP_BANK_CHARGED_ASHORE) == 1 || entity_yes(bank, PROP_COMMON_PORTABLE) == 1;
}

/* What a bank that is charged charges is charged too, but not banks that only charge one another; whether that changed anything. */
static bool pass_charged(const Judge *judge, const Upstream *upstream, RunsOn *runs, bool *charged)
{
    bool *alive = ARENA_ARRAY(judge->scratch, bool, judge->model->entity_count + 1);
    bool changed = false;
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL;
         bank = bank->next_of_kind) {
        /* One that nothing charges is told by itself: not again with all that hangs on it. */
        alive[bank->index] =
            charged[bank->index] || upstream->charging[bank->index] == NULL || is_charged_ashore(bank);
    }
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL;
         bank = bank->next_of_kind) {
        for (const Charging *c = upstream->charging[bank->index]; c != NULL && !charged[bank->index];
             c = c->next) {
            charged[bank->index] = charges_from_elsewhere(runs, c->feed, bank, alive);
            alive[bank->index] = alive[bank->index] || charged[bank->index];
            changed = changed || charged[bank->index];
        }
    }
    return changed;
}

static const bool *charged_banks(const Judge *judge, const Upstream *upstream)
{
    enum { JOINTS_MOST = 16 }; /* banks joined one to the next */
    bool *charged = ARENA_ARRAY(judge->arena, bool, judge->model->entity_count + 1);
    RunsOn *runs = runs_on_make(judge);
    bool changed = true;
    for (int i = 0; i < JOINTS_MOST && changed; i++) {
        changed = pass_charged(judge, upstream, runs, charged);
        changed = join_charged(judge, upstream, charged) || changed;
    }
    return charged;
}

/* A maker whose way has a mistake in it may charge any of them, or what it feeds may hang on any. */
static bool a_way_is_broken(const Model *model)
{
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *maker = model->entities[i];
        if (kinds[maker->kind].groups & GROUPS_MAKER &&
            (has_mistake(maker, PROP_MAKER_FEEDS) || maker->flags & ENTITY_BROKEN)) {
            return true;
        }
        if ((maker->made != NULL || maker->gives != NULL) && has_mistake(maker, PROP_FEED_FED_BY)) {
            return true;
        }
    }
    return false;
}

void judge_bank_uncharged(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    const bool *charged = charged_banks(judge, upstream);
    for (const Entity *bank = judge->model->first_of_kind[KIND_BANK]; bank != NULL;
         bank = bank->next_of_kind) {
        if (!is_aboard(bank)) {
            continue;
        }
        if (charged[bank->index] || is_charged_ashore(bank)) {
            judge_holds(judge);
        } else if (has_mistake(bank, PROP_BANK_CHARGED_ASHORE) || a_way_is_broken(judge->model)) {
            judge_waiting(judge);
        } else {
            Finding *f = judge_broken(judge, bank, place_of_name(judge, bank));
            finding_say(judge, f,
                        upstream->charging[bank->index] != NULL ? "nothing charges `%s` but what runs on it"
                                                                : "nothing charges `%s`",
                        say_name(judge, bank));
            finding_remedy(judge, f, "an alternator, charger, converter or array that `feeds` it");
            finding_remedy(judge, f, "`%s`, if it is", props[PROP_BANK_CHARGED_ASHORE].example);
        }
    }
}

/* wrong-voltage */

/* What a thing hangs on, or is: a bank, or what turns power into direct current; NULL if that is not known. */
static const Entity *direct_source(const Upstream *upstream, const Entity *thing)
{
    return thing->kind == KIND_BANK ? thing : upstream->source[thing->index];
}

/* What a source of direct current gives, and how far that is above its class. */
static Side volts_of_source(const Judge *judge, const Entity *source, double *over)
{
    *over = 1.0;
    switch ((KindId)source->kind) {
    case KIND_BANK: return bank_volts(judge, source);
    case KIND_CONVERTER: return side_value(judge, source, PROP_CONVERTER_OUTPUT, 1);
    case KIND_CHARGER: *over = CHARGING_OVER_NOMINAL; return side_value(judge, source, PROP_CHARGER_OUTPUT, 1);
    default: return side_number(0.0, volts);
    }
}

/* The nominal voltage at the end of a feed; low 0: not known. */
typedef struct There {
    Interval nominal_v;
    const Feed *feed;
    const Entity *source; /* by which it is known where the feed does not say it; else NULL */
} There;

/* What is bolted on has no cable whose drop says the voltage: then by what it hangs on. */
static There volts_there(const Judge *judge, const Upstream *upstream, const Feed *feed)
{
    There there = {nominal_volts(judge, feed), feed, NULL};
    const Entity *source = direct_source(upstream, feed->taker);
    double over;
    if (there.nominal_v.low > 0.0 || source == NULL || !is_aboard(source) || feed->taker->flags & ENTITY_AC) {
        return there;
    }
    Side side = volts_of_source(judge, source, &over);
    if (side_is_known(side) && side.value.high > 0.0) {
        there.nominal_v = (Interval){nominal_class_v(side.value.low / over), nominal_class_v(side.value.high / over)};
        there.source = source;
    }
    return there;
}

static void rests_on_there(Judge *judge, Finding *f, const There *there)
{
    if (there->source == NULL) {
        finding_rests_on_voltage(judge, f, there->feed);
        return;
    }
    bool bank = there->source->kind == KIND_BANK;
    finding_rests_on(judge, f, there->source,
                     bank ? PROP_BANK_VOLTAGE : there->source->kind == KIND_CHARGER ? PROP_CHARGER_OUTPUT : PROP_CONVERTER_OUTPUT);
    if (bank) {
        finding_rests_on(judge, f, there->source, PROP_BANK_SERIES);
    }
}

/* What a thing says against what is there, by classes of systems: where one of both may be of several, it is open. */
static Finding *judge_class(Judge *judge, const Entity *thing, PropId prop, unsigned slot, double over, const There *there)
{
    Side stated = side_value(judge, thing, prop, slot);
    if (stated.state == STATE_MISSING) {
        return NULL;
    }
    if (!side_is_known(stated) || there->nominal_v.low <= 0.0) {
        judge_waiting(judge);
        return NULL;
    }
    double low = nominal_class_v(stated.value.low / over), high = nominal_class_v(stated.value.high / over);
    double least = nominal_class_v(there->nominal_v.low), most = nominal_class_v(there->nominal_v.high);
    Span place = place_of(judge, thing, prop);
    if (high < least || low > most) {
        return judge_broken(judge, thing, place);
    }
    if (low == high && least == most) {
        judge_holds(judge);
        return NULL;
    }
    Finding *f = judge_open(judge, thing, place, low != high ? thing : NULL, prop);
    rests_on_there(judge, f, there);
    return f;
}

/* What charges gives direct current, a bank does, and what hangs on them; but where mains are led to it by mistake. */
static bool gives_direct(const Upstream *upstream, const Entity *giver)
{
    switch ((KindId)giver->kind) {
    case KIND_ALTERNATOR:
    case KIND_SOLAR:
    case KIND_CHARGER:
    case KIND_CONVERTER: return true;
    default: {
        const Entity *source = giver->kind == KIND_BANK ? giver : upstream->source[giver->index];
        bool mains = makes_alternating(giver) || giver->flags & ENTITY_AC;
        return !mains && source != NULL && !makes_alternating(source) && !(source->flags & ENTITY_AC);
    }
    }
}

static void tell_direct_on_mains(Judge *judge, const Feed *feed)
{
    Finding *f = judge_broken(judge, feed->subject, feed_place(judge, feed, feed->maker ? PROP_FEED_RUN : PROP_FEED_FED_BY));
    finding_at(f, feed->maker ? feed->taker : feed->giver);
    finding_say(judge, f, "`%s` gives direct current, and `%s` carries alternating current", say_name(judge, feed->giver),
                say_name(judge, feed->taker));
    finding_note(judge, f, place_of_name(judge, feed->taker), "mains reach this");
    finding_remedy(judge, f, feed->maker ? "`feeds` a bank, or a bus or panel that a bank feeds" : "an `inverter` between");
}

static void tell_mains_on_bank(Judge *judge, const Feed *feed)
{
    Finding *f = judge_broken(judge, feed->subject, feed_place(judge, feed, PROP_FEED_RUN));
    finding_at(f, feed->taker);
    finding_say(judge, f, "`%s` gives alternating current, and `%s` is a bank", say_name(judge, feed->giver),
                say_name(judge, feed->taker));
    finding_remedy(judge, f, "a `charger` between");
    if (feed->giver->kind == KIND_GENERATOR) {
        finding_remedy(judge, f, "an `alternator` with `driven-by wind`, or `water`, in its place if that turns it");
    }
}

/* Whether direct and alternating current meet at a feed; told. */
static bool judge_one_current(Judge *judge, const Upstream *upstream, const Feed *feed)
{
    if (!is_aboard(feed->giver) || !is_aboard(feed->taker) || (feed->giver->flags | feed->taker->flags) & ENTITY_LOOP) {
        return false;
    }
    if (feed->taker->kind == KIND_BANK) {
        bool mains = makes_alternating(feed->giver);
        if (mains) {
            tell_mains_on_bank(judge, feed);
        }
        return mains;
    }
    if (is_turned_inlet(feed)) {
        judge_waiting(judge); /* told by wrong-supply */
        return true;
    }
    bool meet = feed->taker->flags & ENTITY_AC && gives_direct(upstream, feed->giver);
    if (meet) {
        tell_direct_on_mains(judge, feed);
    }
    return meet;
}

static void judge_maker_voltage(Judge *judge, const Upstream *upstream, const Feed *feed)
{
    const Entity *maker = feed->giver;
    PropId output = maker->kind == KIND_ALTERNATOR  ? PROP_ALTERNATOR_OUTPUT
                    : maker->kind == KIND_CHARGER   ? PROP_CHARGER_OUTPUT
                    : maker->kind == KIND_CONVERTER ? PROP_CONVERTER_OUTPUT
                    : maker->kind == KIND_SOLAR     ? PROP_SOLAR_CHARGE_VOLTAGE
                                                    : PROP_NONE;
    unsigned slot = maker->kind != KIND_SOLAR;
    if (output == PROP_NONE || !is_aboard(maker) || !is_aboard(feed->taker)) {
        return;
    }
    There at = volts_there(judge, upstream, feed);
    const char *there = say_side(judge, side_interval(at.nominal_v, volts));
    Finding *f = judge_class(judge, maker, output, slot, CHARGING_OVER_NOMINAL, &at);
    if (f != NULL) {
        finding_at(f, feed->taker);
        finding_say(judge, f, "`%s` gives %s, and `%s` works at %s", say_name(judge, maker),
                    say_side(judge, side_value(judge, maker, output, slot)), say_name(judge, feed->taker),
                    there);
        finding_remedy(judge, f, "one for %s, or a `converter` between", there);
    }
}

/* How far apart two voltages of mains may be and still count as one: 220 and 240 V. */
static const double same_mains = 0.9;
/* Up to here a thing is made for batteries, and no mains are so low, in V. */
static const double most_of_batteries_v = 60.0;

/* The same where a load hangs on mains: what is made for others may work at either, what is made for batteries burns. */
static Finding *judge_mains_voltage(Judge *judge, const Entity *load, const There *at)
{
    Interval there = at->nominal_v;
    Side stated = side_value(judge, load, PROP_LOAD_DRAW, 1);
    if (!side_is_known(stated) || there.low <= 0.0) {
        judge_waiting(judge);
        return NULL;
    }
    if (stated.value.low >= there.high * same_mains && stated.value.high <= there.low / same_mains) {
        judge_holds(judge);
        return NULL;
    }
    bool broken = stated.value.high < there.low * same_mains || stated.value.low > there.high / same_mains;
    Span place = place_of(judge, load, PROP_LOAD_DRAW);
    const Entity *open = interval_is_point(stated.value) ? NULL : load;
    Finding *f = broken ? judge_broken(judge, load, place) : judge_open(judge, load, place, open, PROP_LOAD_DRAW);
    rests_on_there(judge, f, at);
    finding_severity(f, stated.value.low < most_of_batteries_v && there.high > most_of_batteries_v ? SEVERITY_FAULT
                                                                                                 : SEVERITY_WARNING);
    return f;
}

/* What it is made for, of what hangs on a bank; mains and what is made for them are told by ac-voltage and wrong-supply. */
static void judge_made_voltage(Judge *judge, const Entity *thing, const There *at)
{
    Side there = side_interval(at->nominal_v, volts);
    Side from = side_value(judge, thing, PROP_FEED_MADE_FOR, 0), to = side_value(judge, thing, PROP_FEED_MADE_FOR, 1);
    Span place = place_of(judge, thing, PROP_FEED_MADE_FOR);
    Finding *f;
    if (thing->flags & ENTITY_AC || is_for_mains(thing)) {
        return;
    }
    if (may_be_for_mains(thing)) {
        f = judge_open(judge, thing, place, thing, PROP_FEED_MADE_FOR); /* made for mains it is told by wrong-supply */
    } else if (to.state == STATE_MISSING || there.value.low <= 0.0) {
        f = judge_class(judge, thing, PROP_FEED_MADE_FOR, 0, 1.0, at);
    } else {
        f = judge_at_most(judge, thing, place, from, there);
        f = f == NULL ? judge_at_least(judge, thing, place, to, there) : f;
    }
    if (f != NULL) {
        rests_on_there(judge, f, at);
        finding_say(judge, f, "`%s` is made for %s, and hangs on %s", say_name(judge, thing), say_side(judge, from),
                    say_side(judge, there));
        finding_remedy(judge, f, "one for %s, or a `converter` between", say_side(judge, there));
    }
}

/* What charges the bank raises what hangs on it too: the upper end of a range has to reach there. */
static void judge_made_charged(Judge *judge, const Upstream *upstream, const Entity *thing, const Feed *feed)
{
    const Entity *bank = upstream->source[thing->index], *maker = NULL;
    Side to = side_value(judge, thing, PROP_FEED_MADE_FOR, 1);
    Side nominal = side_interval(nominal_volts(judge, feed), volts);
    if (bank == NULL || bank->kind != KIND_BANK || thing->flags & ENTITY_AC || !side_is_known(to) || is_for_mains(thing) ||
        to.value.high < nominal.value.low) {
        return;
    }
    Side charged = bank_charged_at(judge, bank, &maker);
    if (maker == NULL) {
        return;
    }
    Finding *f = judge_at_least(judge, thing, place_of(judge, thing, PROP_FEED_MADE_FOR), to, charged);
    if (f != NULL) {
        finding_of_charging(judge, f, maker);
        finding_say(judge, f, "`%s` is made for up to %s, and `%s` charges `%s` at %s: that is on it too", say_name(judge, thing),
                    say_side(judge, to), say_name(judge, maker), say_name(judge, bank), say_side(judge, charged));
        finding_remedy(judge, f, "one for %s, or a `converter` between", say_side(judge, charged));
    }
}

/* Kinds of which hardly any is made for more than 32 V (common practice, no source). */
static bool is_for_little_volts(const Entity *load)
{
    switch ((KindId)load->kind) {
    case KIND_RADIO:
    case KIND_INSTRUMENT:
    case KIND_NAV_LIGHT:
    case KIND_HORN:
    case KIND_BILGE_PUMP: return true;
    default: return false;
    }
}

static bool states_least_volts(const Entity *load)
{
    return kinds[load->kind].groups & GROUPS_LOAD && entity_states(load, PROP_LOAD_MIN_VOLTAGE);
}

/*
 * Of what says nothing of its voltage. Much for 12 V stands 24 V too, up to 32; above that next to nothing does, and who has
 * two voltages aboard has two panels to mistake. What works down to a third of what is there is made for less.
 */
static void judge_unsaid_voltage(Judge *judge, const Entity *load, const There *at)
{
    static const double stands_v = 32.0, third = 1.0 / 3.0;
    Side there = side_interval(at->nominal_v, volts);
    Side least = side_value(judge, load, PROP_LOAD_MIN_VOLTAGE, 0);
    bool low = states_least_volts(load) && side_is_known(least) && least.value.low < third * there.value.high;
    if (load->flags & ENTITY_AC || there.value.high <= stands_v || !(low || is_for_little_volts(load))) {
        return;
    }
    Finding *f = judge_open(judge, load, low ? place_of(judge, load, PROP_LOAD_MIN_VOLTAGE) : place_of_name(judge, load), load, PROP_FEED_MADE_FOR);
    finding_severity(f, SEVERITY_WARNING);
    rests_on_there(judge, f, at);
    if (low) {
        finding_say(judge, f, "`%s` hangs on %s and works down to %s, as what is made for much less does; it does not say what it is made for",
                    say_name(judge, load), say_side(judge, there), say_side(judge, least));
    } else {
        bool more = there.value.low > stands_v;
        finding_say(judge, f, "`%s` hangs on %s, for %shardly any `%s` is made, and does not say what it is made for", say_name(judge, load),
                    say_side(judge, there), more ? "which " : "more than 32 V of which ", kinds[load->kind].word);
    }
    finding_remedy(judge, f, "`made-for %s`, if that is printed on it; else a `converter` between", say_side(judge, there));
}

/* The same of what hangs on direct current; of a draw that is stated at the voltage of mains tells wrong-supply. */
static Finding *judge_direct_voltage(Judge *judge, const Entity *load, const Feed *feed, const There *at)
{
    Answer on_direct = mains_on_direct(judge, load, feed);
    if (on_direct == ANSWER_NO) {
        return judge_class(judge, load, PROP_LOAD_DRAW, 1, 1.0, at);
    }
    if (on_direct == ANSWER_YES) {
        judge_gives_way(judge);
        return NULL;
    }
    Finding *f = judge_open(judge, load, place_of(judge, load, PROP_LOAD_DRAW), is_for_mains(load) ? NULL : load, PROP_LOAD_DRAW);
    rests_on_there(judge, f, at);
    return f;
}

/* What a load says of the voltage that it is for; PROP_NONE: nothing. What it is made for says more than where its draw is. */
static PropId says_volts(const Entity *load)
{
    bool draws = kinds[load->kind].groups & GROUPS_LOAD &&
                 property_value(entity_property(load, PROP_LOAD_DRAW), 1)->kind == VALUE_QUANTITY;
    return entity_states(load, PROP_FEED_MADE_FOR) ? PROP_FEED_MADE_FOR : draws ? PROP_LOAD_DRAW : PROP_NONE;
}

static void judge_load_voltage(Judge *judge, const Upstream *upstream, const Entity *load)
{
    if (!is_aboard(load) || load->fed == NULL || load->flags & ENTITY_LOOP) {
        return;
    }
    const Feed *with_cable = feed_with_cable(load);
    const Feed *feed = with_cable != NULL ? with_cable : load->flags & ENTITY_AC ? NULL : load->fed;
    PropId says = feed != NULL ? says_volts(load) : PROP_NONE;
    if (feed == NULL || (says == PROP_NONE && !is_for_little_volts(load) && !states_least_volts(load))) {
        return;
    }
    There at = volts_there(judge, upstream, feed);
    if (says == PROP_NONE) {
        judge_unsaid_voltage(judge, load, &at);
        return;
    }
    if (says == PROP_FEED_MADE_FOR) {
        judge_made_voltage(judge, load, &at);
        judge_made_charged(judge, upstream, load, feed);
        return;
    }
    Side there = side_interval(at.nominal_v, volts);
    bool mains = load->flags & ENTITY_AC;
    Finding *f = mains ? judge_mains_voltage(judge, load, &at) : judge_direct_voltage(judge, load, feed, &at);
    if (f != NULL && !mains) {
        finding_severity(f, SEVERITY_WARNING); /* some work at either */
    }
    if (f != NULL) {
        finding_say(judge, f, "`%s` states what it draws at %s, and hangs on %s", say_name(judge, load),
                    say_side(judge, side_value(judge, load, PROP_LOAD_DRAW, 1)), say_side(judge, there));
        finding_remedy(judge, f, "one for %s, with its draw there", say_side(judge, there));
        static const double of_banks_v = 60.0; /* above that no bank aboard stands, a choice of this program */
        if (!mains || side_value(judge, load, PROP_LOAD_DRAW, 1).value.low <= of_banks_v) {
            finding_remedy(judge, f, mains ? "`fed-by` what hangs on a bank of its voltage" : "a `converter` between");
        }
    }
}

void judge_wrong_voltage(Judge *judge)
{
    const Model *model = judge->model;
    const Upstream *upstream = upstream_of(judge);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (!judge_one_current(judge, upstream, feed) && feed->maker) {
            judge_maker_voltage(judge, upstream, feed);
        }
    }
    for (uint32_t i = 0; i < model->entity_count; i++) {
        judge_load_voltage(judge, upstream, model->entities[i]);
    }
}
