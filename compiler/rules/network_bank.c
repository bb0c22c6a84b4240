/*
 * The part of the rule collapse that is about banks: what hangs on one asks for more than its own resistance lets out. The
 * voltages of cables are reckoned from its terminals on, so no cable tells of it.
 */
#include "rules/network.h"

#include "figures/power.h"
#include "rules/bank.h"
#include "rules/upstream.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/*
 * One that asks a bank for a current. `share`: of the bank's current into a short circuit, what it may be at most. Half of that
 * current leaves half of the voltage, and nothing is made to run at that. A constant power asks for more as the voltage falls:
 * E2 / 4R is the most that there is, which at the stated voltage is a quarter of E / R, times E over that voltage.
 */
typedef struct Asker {
    const Entity *thing; /* NULL: all that can run at once */
    const Figure *current;
    double share;
} Asker;

static const double share_of_current = 0.5;

static double share_of_power(const Judge *judge, const Entity *bank)
{
    Interval volts = bank_volts(judge, bank).value;
    return volts.low > 0.0 ? 0.25 * bank_open_v(bank, volts).high / volts.low : share_of_current;
}

/* Whether it takes the same power at any voltage: what turns power, a motor of an engine, a draw in watts. */
static bool takes_power(const Entity *thing)
{
    if (turns_power(thing) || thing->kind == KIND_ENGINE) {
        return true;
    }
    UnitPair unit = property_value(entity_property(thing, PROP_LOAD_DRAW), 0)->unit;
    Str behaves = entity_word(thing, PROP_LOAD_BEHAVES);
    bool watts = kinds[thing->kind].groups & GROUPS_LOAD && dimension_equal(unit_dimension(unit), unit_dimension(UNIT_ALONE(UNIT_W)));
    return behaves.length > 0 ? str_is(behaves, "power") : watts;
}

/* The one that is broken for certain if any is, else the one that may ask for the most. */
static void prefer(Asker *best, Asker other, double most_a)
{
    bool known = other.current != NULL && other.current->state == STATE_KNOWN;
    if (!known) {
        return;
    }
    double low_a = other.current->low / other.share, high_a = other.current->high / other.share;
    bool none = best->current == NULL;
    double best_low_a = none ? 0.0 : best->current->low / best->share, best_high_a = none ? -1.0 : best->current->high / best->share;
    bool certain = low_a > most_a, best_certain = best_low_a > most_a;
    if (certain != best_certain ? certain : certain ? low_a > best_low_a : high_a > best_high_a) {
        *best = other;
    }
}

/* A thruster is told of by thruster-volts, a starter by the rules of cranking. */
static bool is_told_elsewhere(const Entity *thing)
{
    return thing->kind == KIND_THRUSTER || is_cranked(thing);
}

static Asker greatest_asker(const Judge *judge, const Entity *bank, const Figure *shorted)
{
    Largest largest = largest_on(judge, upstream_of(judge), bank, FIGURE_CURRENT);
    Asker best = {.current = NULL};
    bool elsewhere = false;
    double of_power = share_of_power(judge, bank);
    for (int i = 0; i < LARGEST_COUNT && largest.thing[i] != NULL; i++) {
        const Entity *thing = largest.thing[i];
        elsewhere = elsewhere || thing->kind == KIND_THRUSTER;
        if (!is_told_elsewhere(thing)) {
            prefer(&best, (Asker){thing, largest.current[i], takes_power(thing) ? of_power : share_of_current}, shorted->high);
        }
    }
    if (!elsewhere) {
        prefer(&best, (Asker){NULL, figure_of(judge, bank, FIGURE_DISCHARGE_CURRENT), share_of_current}, shorted->high);
    }
    return best;
}

/* Whether another bank stands beside it, by a switch or a bus: then what hangs on both asks neither for all. */
static bool is_joined_to_another(const Judge *judge, const Entity *bank)
{
    const Meeting *m = meetings_of(judge, SOURCES_DIRECT);
    while (m != NULL && m->one != bank && m->other != bank) {
        m = m->next;
    }
    return m != NULL;
}

static void tell_bank(Judge *judge, Finding *f, const Entity *bank, const Asker *asker, const Figure *shorted)
{
    bool open = f->verdict == VERDICT_OPEN;
    const char *current = say_bank_amperes(judge, (Interval){asker->current->low, asker->current->high});
    const char *most = say_side(judge, side_interval((Interval){shorted->low, shorted->high}, amperes));
    const char *falls = open ? "its voltage may collapse" : "its voltage collapses";
    if (asker->thing != NULL) {
        finding_say(judge, f, "`%s` asks `%s` for %s, which into a short circuit gives %s: %s", say_name(judge, asker->thing), say_name(judge, bank),
                    current, most, falls);
        finding_note(judge, f, place_of_name(judge, asker->thing), "%s",
                     takes_power(asker->thing) ? "the lower the voltage, the more it takes" : "it takes that");
    } else {
        finding_say(judge, f, "%s can be asked of `%s` at once, which into a short circuit gives %s: %s", current,
                    say_name(judge, bank), most, falls);
    }
    finding_remedy(judge, f, "a bank of less resistance: a larger one, or more of them in `parallel`");
    finding_remedy(judge, f, "less on it at once");
}

/* Most banks are strong enough for all of it together, and no single thing takes more: nothing has to be looked for. */
static bool is_plainly_enough(const Judge *judge, const Entity *bank, const Figure *shorted)
{
    const Figure *all = figure_of(judge, bank, FIGURE_DISCHARGE_CURRENT);
    return all != NULL && all->state == STATE_KNOWN && all->high <= fmin(share_of_power(judge, bank), share_of_current) * shorted->low;
}

void judge_bank_collapse(Judge *judge, const Entity *bank)
{
    const Figure *shorted = figure_of(judge, bank, FIGURE_SHORT_CIRCUIT);
    if (shorted == NULL || shorted->state != STATE_KNOWN) {
        return; /* that nobody knows what it gives is told by the rules of faults */
    }
    if (is_plainly_enough(judge, bank, shorted)) {
        judge_holds(judge);
        return;
    }
    if (is_joined_to_another(judge, bank)) {
        return;
    }
    Asker asker = greatest_asker(judge, bank, shorted);
    if (asker.current == NULL) {
        return;
    }
    Side limit = side_figure(shorted);
    limit.value = interval_scale(limit.value, asker.share);
    Finding *f = judge_at_most(judge, bank, place_of(judge, bank, PROP_BANK_RESISTANCE), side_figure(asker.current), limit);
    if (f != NULL) {
        tell_bank(judge, f, bank, &asker, shorted);
    }
}
