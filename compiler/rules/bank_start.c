/*
 * What starts the engine: a bank that nothing else empties, and that gives what the starter takes. Of several banks that a
 * switch chooses from, each. Rule start-alone, but for what ties banks by charging them (bank_joined.c).
 */
#include "rules/bank.h"

#include "figures/power.h"

#include <math.h>

/* May hang on a starting bank: what the engine needs, what runs with it, what charges another bank. */
static bool goes_with_engine(const Upstream *upstream, const Entity *thing)
{
    if (thing->system == SYSTEM_DRIVE || thing->kind == KIND_WINDLASS) {
        return true;
    }
    if (thing->kind == KIND_INSTRUMENT) {
        const Property *function = entity_property(thing, PROP_INSTRUMENT_FUNCTION);
        const Value *first = property_value(function, 0);
        return function != NULL && function->count == 1 && first->kind == VALUE_WORD &&
               str_is(first->u.word, "engine");
    }
    for (const Feed *feed = thing->gives; feed != NULL && thing->kind == KIND_CONVERTER;
         feed = feed->next_of_giver) {
        if (feed->maker && bank_charged(upstream, feed) != NULL) {
            return true;
        }
    }
    return false;
}

/*
 * Glow plugs, a fuel lift pump for priming, the solenoid that stops it: a load that runs for no more than minutes in any day that
 * states it empties no bank. Six minutes: a choice of this program. What a range leaves open is.
 */
static Answer runs_for_minutes(const Judge *judge, const Entity *thing)
{
    static const double most_s = 360.0;
    if (thing->kind != KIND_LOAD || !states_use(thing) || use_is_mistaken(thing, NULL)) {
        return ANSWER_NO;
    }
    Interval longest = point(0.0);
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        Interval seconds;
        if (use_seconds(thing, day, &seconds)) {
            longest = interval_max(longest, seconds);
        }
    }
    bool decided = longest.high <= most_s || longest.low > most_s;
    return !decided ? ANSWER_PERHAPS : longest.high <= most_s ? ANSWER_YES : ANSWER_NO;
}

static bool draws_from_house(const Judge *judge, const Entity *thing)
{
    bool draws = kinds[thing->kind].groups & GROUPS_LOAD || thing->kind == KIND_INVERTER ||
                 thing->kind == KIND_CONVERTER || thing->kind == KIND_NETWORK;
    return draws && figure_of(judge, thing, FIGURE_CURRENT) != NULL;
}

/* Keeps the first few in the order of the spec. */
static void name_in_order(const Entity **named, uint32_t count, const Entity *thing)
{
    uint32_t at = count < LARGEST_COUNT ? count : LARGEST_COUNT;
    for (; at > 0 && named[at - 1]->index > thing->index; at--) {
        if (at < LARGEST_COUNT) {
            named[at] = named[at - 1];
        }
    }
    if (at < LARGEST_COUNT) {
        named[at] = thing;
    }
}

/* The switch on its way up that chooses between banks; NULL if there is none. */
static const Entity *chosen_by(const Entity *thing)
{
    enum { WAY_MOST = 32 };
    for (int i = 0; thing != NULL && i < WAY_MOST; i++) {
        if (thing->kind == KIND_SWITCH && thing->fed != NULL && thing->fed->next != NULL) {
            return thing;
        }
        thing = thing->fed != NULL ? thing->fed->giver : NULL;
    }
    return NULL;
}

/* Where its bank is one of several that a switch chooses from, whichever of them is named first. */
static void note_chosen(Judge *judge, Finding *finding, const Entity *thing, const Entity *bank)
{
    const Entity *chooses = chosen_by(thing);
    if (chooses != NULL) {
        finding_note(judge, finding, place_of(judge, chooses, PROP_FEED_FED_BY), "`%s` can put `%s` on `%s`",
                     say_name(judge, chooses), say_name(judge, thing), say_name(judge, bank));
    }
}

static void judge_house_loads(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    const Entity *named[LARGEST_COUNT], *perhaps = NULL;
    uint32_t count = 0, sure = 0;
    const Drawn *drawn = drawn_on(judge, bank);
    for (uint32_t i = 0; i < drawn->count; i++) {
        const Entity *thing = drawn->things[i];
        bool of_house = draws_from_house(judge, thing) && !goes_with_engine(upstream, thing);
        Answer minutes = of_house ? runs_for_minutes(judge, thing) : ANSWER_YES;
        if (minutes != ANSWER_YES) {
            name_in_order(named, count++, thing);
            sure += minutes == ANSWER_NO;
            perhaps = minutes == ANSWER_PERHAPS ? thing : perhaps;
        }
    }
    if (count == 0) {
        judge_holds(judge);
        return;
    }
    uint32_t given = count < LARGEST_COUNT ? count : LARGEST_COUNT;
    Finding *f = judge_broken(judge, bank, place_of_name(judge, bank));
    finding_say(judge, f, "`%s` is there to start the engine, but %s can flatten it", say_name(judge, bank),
                say_names(judge, named, given, count));
    for (uint32_t i = 0; i < given; i++) {
        finding_note(judge, f, place_of(judge, named[i], PROP_FEED_FED_BY), "it leads to `%s`",
                     say_name(judge, bank));
    }
    note_chosen(judge, f, named[0], bank);
    if (sure == 0) {
        finding_left_open(judge, f, perhaps, PROP_LOAD_USE);
    }
    finding_remedy(judge, f, "`fed-by` what hangs on the house bank, on these lines; what the engine itself needs may stay: its panel is an "
                             "`instrument` with `function engine`, glow plugs and a solenoid that stops it a `load` with a `use` of no more "
                             "than 0.1 h in a day");
}

static void judge_cranking(Judge *judge, const Entity *bank, const Entity *engine)
{
    Side gives = bank_limit(judge, bank, PROP_BANK_CRANKING);
    const Figure *takes = figure_of(judge, engine, FIGURE_CURRENT);
    Finding *f =
        judge_at_least(judge, bank, place_of(judge, bank, PROP_BANK_CRANKING), gives, side_figure(takes));
    if (f != NULL) {
        finding_at(f, engine);
        finding_say(judge, f, "`%s` cranks with %s in the cold, and the starter of `%s` takes %s",
                    say_name(judge, bank), say_bank_amperes(judge, gives.value), say_name(judge, engine),
                    say_figure(judge, takes));
        finding_note(judge, f, place_of(judge, engine, PROP_ENGINE_STARTER), "the starter");
        note_chosen(judge, f, engine, bank);
        if (isfinite(takes->high)) {
            finding_remedy(judge, f, "cranking %s or more", say_no_less(judge, takes->high, takes->unit));
        }
    }
}

static void judge_start(Judge *judge, const Upstream *upstream, const Entity *bank)
{
    if (str_is(entity_word(bank, PROP_BANK_ROLE), "start")) {
        judge_house_loads(judge, upstream, bank);
    }
    const Drawn *drawn = entity_states(bank, PROP_BANK_CRANKING) ? drawn_on(judge, bank) : NULL;
    for (uint32_t i = 0; drawn != NULL && i < drawn->count; i++) {
        const Entity *e = drawn->things[i];
        if (e->kind == KIND_ENGINE && entity_states(e, PROP_ENGINE_STARTER)) {
            judge_cranking(judge, bank, e);
        }
    }
}

void judge_start_alone(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    const Entity *first = judge->model->first_of_kind[KIND_BANK];
    for (const Entity *bank = first; bank != NULL; bank = bank->next_of_kind) {
        if (is_aboard(bank)) {
            judge_start(judge, upstream, bank);
        }
    }
    if (first != NULL) {
        judge_start_by_makers(judge, upstream);
    }
}
