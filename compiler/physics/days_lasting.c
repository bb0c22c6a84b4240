/* See days.h: days until they end, and what a day gains. */
#include "physics/days_run.h"

#include <math.h>
#include <string.h>

enum { MOST_DAYS_RUN = 400 };
static const double same_share = 1e-12; /* of a bank's charge: rounding, not a change */
/* What a day takes of a bank less than this is rounding: it would last for millions of years. */
static const double still_share = 1e-9;

typedef struct Ending {
    DayCharge charge[DAY_BANKS];
    DayCharge change[DAY_BANKS]; /* over the last day */
    bool ended[DAY_BANKS];
    bool carries[DAY_BANKS];  /* what lives on its charge */
    bool takes[DAY_BANKS];    /* of what another bank has over, which is the less for that one */
    double days;              /* passed */
} Ending;

/* Whether something that lives on a bank's charge is drawn from that day: what comes of it changes as long as that bank does. */
static bool carries_any(const DayPlan *plan, int bank)
{
    bool any = false;
    for (int i = 0; i < plan->link_count && !any; i++) {
        const DayLink *link = &plan->links[i]; /* to one that comes after it: this ends */
        if (link->giver != bank || !link->drains) {
            continue;
        }
        for (int step = 0; step < DAY_STEPS && !any; step++) {
            any = plan->tables[link->taker]->net_a[step] < 0.0;
        }
        any = any || carries_any(plan, link->taker);
    }
    return any;
}

/* Whether another bank charges it. */
static bool is_passed_on(const DayPlan *plan, int bank)
{
    bool any = false;
    for (int i = 0; i < plan->link_count; i++) {
        any = any || plan->links[i].taker == bank;
    }
    return any;
}

/* The next limit below a share where a bank's days change: its usable one, or the other end of that where others draw on it. */
static double limit_above(const DayPlan *plan, int bank, bool carries, double share)
{
    const DayBank *of = &plan->banks[bank];
    double other = plan->bounds ? of->bounds.other_least_share : of->least_share;
    return carries && share > other ? fmax(of->least_share, other) : of->least_share;
}

/* How many days may be skipped: each would take what the last took, and none ends a bank. 0: none. */
static double days_to_skip(const DayPlan *plan, const Ending *now, const DayCharge change_before[],
                           const DayBankTally tally[])
{
    double skip = INFINITY;
    for (int b = 0; b < plan->bank_count; b++) {
        double change = now->change[b].share;
        if (now->ended[b] && now->carries[b] && fabs(change) > still_share) {
            return 0.0; /* what lives on it has not seen the last of it */
        }
        if (now->ended[b] && !now->takes[b]) {
            continue;
        }
        if (fabs(change - change_before[b].share) > same_share || fabs(now->change[b].withheld) > same_share) {
            return 0.0;
        }
        if (change < -still_share) {
            double least = now->ended[b] ? 0.0 : limit_above(plan, b, now->carries[b], tally[b].lowest_share);
            if (!now->ended[b] && least < limit_above(plan, b, now->carries[b], now->charge[b].share)) {
                return 0.0; /* what can be had has come to the limit of what others draw on, and the charge will */
            }
            skip = fmin(skip, floor((tally[b].lowest_share - least) / -change) - 1.0);
        }
    }
    return isfinite(skip) && skip > 0.0 ? skip : 0.0;
}

static void end_banks(const DayPlan *plan, Ending *now, const DayBankTally tally[], double seconds[])
{
    for (int b = 0; b < plan->bank_count; b++) {
        if (!now->ended[b] && tally[b].below_s >= 0.0) {
            seconds[b] = now->days * DAY_SECONDS + tally[b].below_s;
            now->ended[b] = true;
        }
    }
}

/* Whether nothing changes any more, or all is over. */
static bool is_settled(const DayPlan *plan, const Ending *now)
{
    bool all_over = true;
    for (int b = 0; b < plan->bank_count; b++) {
        all_over = all_over && now->ended[b];
    }
    for (int b = 0; b < plan->bank_count && !all_over; b++) {
        bool counts = !now->ended[b] || now->carries[b] || now->takes[b];
        if (counts && (now->change[b].share < -still_share || now->change[b].withheld > still_share)) {
            return false;
        }
    }
    return true;
}

void day_start(const DayPlan *plan, DayStart *start, double source_refused_c[])
{
    for (int b = 0; b < plan->bank_count; b++) {
        start->charge[0][b] = day_full;
    }
    day_run(plan, start->charge[0], start->tally[0], NULL);
    memcpy(start->charge[1], start->charge[0], sizeof start->charge[1]);
    day_run(plan, start->charge[1], start->tally[1], source_refused_c);
}

void day_endure(const DayPlan *plan, double seconds[])
{
    DayStart start;
    day_start(plan, &start, NULL);
    day_endure_from(plan, &start, seconds);
}

/* The share below which a bank cannot fall in such runs. */
static double floor_of(const DayPlan *plan, int to_its_end, int bank)
{
    bool none = !plan->bounds || to_its_end == DAY_ALL || to_its_end == bank;
    return none ? 0.0 : plan->banks[bank].bounds.floor_share;
}

/*
 * The banks that had not come to their end before a day on which another one falls below its floor: that lacks more than the
 * smallest can, though the largest still has some, which another bank must not feel.
 */
static void note_floors(const DayPlan *plan, const Ending *now, const DayBankTally tally[], bool feels[])
{
    for (int b = 0; b < plan->bank_count && plan->bounds && plan->link_count > 0; b++) {
        for (int other = 0; other < plan->bank_count && tally[b].lowest_share < plan->banks[b].bounds.floor_share; other++) {
            feels[other] = feels[other] || (other != b && !now->ended[other]);
        }
    }
}

/* Runs days until all is over, or the one bank that is run to its end has come to it. */
static void endure(const DayPlan *plan, const DayStart *start, int to_its_end, double seconds[], bool feels[])
{
    Ending now = {.days = 0.0};
    DayBankTally tally[DAY_BANKS];
    bool as_started = true;
    for (int b = 0; b < plan->bank_count; b++) {
        now.charge[b] = day_full;
        now.carries[b] = carries_any(plan, b);
        now.takes[b] = is_passed_on(plan, b);
        seconds[b] = INFINITY;
        /* What was run with a floor that counted is not what runs to the end. */
        as_started = as_started && start->tally[0][b].unserved_c + start->tally[1][b].unserved_c <= 0.0;
    }
    for (int run = 0; run < MOST_DAYS_RUN; run++) {
        DayCharge before[DAY_BANKS], change_before[DAY_BANKS];
        memcpy(before, now.charge, sizeof before);
        memcpy(change_before, now.change, sizeof change_before);
        if (run < 2 && as_started) {
            memcpy(now.charge, start->charge[run], sizeof now.charge);
            memcpy(tally, start->tally[run], sizeof tally);
        } else {
            DayManner manner = day_as_usual;
            manner.to_its_end = to_its_end;
            day_run_as(plan, manner, now.charge, tally);
        }
        for (int b = 0; b < plan->bank_count; b++) {
            now.change[b] = (DayCharge){now.charge[b].share - before[b].share, now.charge[b].withheld - before[b].withheld};
        }
        note_floors(plan, &now, tally, feels);
        end_banks(plan, &now, tally, seconds);
        now.days += 1.0;
        if (is_settled(plan, &now) || (to_its_end < plan->bank_count && now.ended[to_its_end])) {
            return;
        }
        double skip = run > 0 ? days_to_skip(plan, &now, change_before, tally) : 0.0;
        for (int b = 0; b < plan->bank_count; b++) {
            double least = floor_of(plan, to_its_end, b);
            now.charge[b].share = fmin(1.0, fmax(least, now.charge[b].share + skip * now.change[b].share));
        }
        now.days += skip;
    }
}

void day_endure_from(const DayPlan *plan, const DayStart *start, double seconds[])
{
    bool feels[DAY_BANKS] = {false}, unused[DAY_BANKS] = {false};
    endure(plan, start, DAY_ALL, seconds, feels);
    for (int b = 0; b < plan->bank_count; b++) {
        double alone[DAY_BANKS];
        if (feels[b] && isfinite(seconds[b])) { /* it lasts no less with less lacking in others */
            endure(plan, start, b, alone, unused);
            seconds[b] = alone[b];
        }
    }
}

/* What a day leaves of one bank: what it gains, how low it falls, and what it would have taken with less in it. */
typedef struct Gain {
    double gain_c, lowest, spare_c;
} Gain;

/* One day from such shares. The bank is filled out of another's charge up to filled_to. */
static Gain gain_from(const DayPlan *plan, int bank, DayCharge charge[], double filled_to)
{
    DayBankTally tally[DAY_BANKS];
    day_run_as(plan, (DayManner){.to_its_end = -1, .balanced = bank, .filled_to = filled_to}, charge, tally);
    const DayBankTally *of = &tally[bank];
    double gain_c = of->kept_c - of->out_c - of->unserved_c;
    double passed_c = of->kept_c + of->out_c + of->unserved_c; /* much may pass a small one */
    bool rounding = fabs(gain_c) <= same_share * fmax(plan->banks[bank].model.capacity_coulomb, passed_c);
    return (Gain){rounding ? 0.0 : gain_c, of->lowest_share, of->refused_c + of->passed_c - of->drained_c};
}

/* All others are full; but what lives on the bank's charge begins as such a day leaves it: what is not made good at midnight is
 * so in the morning. */
static void begin_day(const DayPlan *plan, int bank, double begun, DayCharge charge[])
{
    DayCharge after[DAY_BANKS];
    for (int b = 0; b < plan->bank_count; b++) {
        after[b] = charge[b] = (DayCharge){.share = b == bank ? begun : 1.0};
    }
    if (carries_any(plan, bank)) {
        gain_from(plan, bank, after, 1.0);
    }
    for (int i = 0; i < plan->link_count; i++) {
        const DayLink *link = &plan->links[i];
        if (link->giver == bank && link->drains) {
            charge[link->taker] = after[link->taker];
        }
    }
}

/*
 * What one bank gains in a day that it begins with a share of its charge, and how low it falls then. What another's charge
 * makes good of what it lost counts as no loss, and as no gain.
 */
static Gain gain_of(const DayPlan *plan, int bank, double begun)
{
    DayCharge charge[DAY_BANKS];
    bool lives_on_others = false;
    for (int i = 0; i < plan->link_count; i++) {
        lives_on_others = lives_on_others || (plan->links[i].taker == bank && plan->links[i].drains);
    }
    begin_day(plan, bank, begun, charge);
    Gain gain = gain_from(plan, bank, charge, begun);
    if (gain.gain_c < 0.0 && lives_on_others) {
        begin_day(plan, bank, begun, charge);
        gain = gain_from(plan, bank, charge, 1.0);
        gain.gain_c = fmin(0.0, gain.gain_c);
    }
    return gain;
}

/*
 * The same of a day that loses where it is begun halfway, begun as empty as lets it stay above the limit: then it takes most,
 * and where it does not lose so, days like that come to rest. Looked for at eighths of the way down alone: at the same ones a day
 * with all at its worse end is never told better than one with less of it there.
 */
static double steady_gain_c(const DayPlan *plan, int bank, double least, double halfway, double gain_halfway_c)
{
    enum { PARTS = 8 };
    int falls_below = -1, stays_above = PARTS; /* halfway stands for itself, wherever it falls to */
    double gain_c = gain_halfway_c;
    while (stays_above - falls_below > 1) {
        int middle = (falls_below + stays_above) / 2;
        Gain found = gain_of(plan, bank, least + (halfway - least) * middle / PARTS);
        if (found.lowest < least) {
            falls_below = middle;
        } else {
            stays_above = middle;
            gain_c = found.gain_c;
        }
    }
    return fmin(fmax(gain_c, gain_halfway_c), 0.0);
}

/* No other bank is drained by what it takes. */
static void forget_other_size(DayBank *bank)
{
    bank->bounds.acceptance_a = bank->model.acceptance_a;
    bank->bounds.taper_begins = bank->model.taper_begins;
    bank->bounds.tail_a = bank->model.tail_a;
    bank->bounds.other_larger = 0.0;
}

double day_balance_c(const DayPlan *plan, int bank)
{
    DayBank banks[DAY_BANKS];
    DayPlan of = *plan;
    memcpy(banks, plan->banks, (size_t)plan->bank_count * sizeof banks[0]);
    banks[bank] = plan->alone != NULL ? plan->alone[bank] : banks[bank];
    of.banks = banks;
    bool passed_on = is_passed_on(plan, bank);
    if (!passed_on) {
        forget_other_size(&banks[bank]);
    }
    double least = banks[bank].least_share, halfway = (1.0 + least) / 2.0;
    Gain gain = gain_of(&of, bank, halfway);
    /* What took all that was there takes no more when it is emptier; but another bank passes on no more than is taken. */
    bool decided = gain.gain_c >= 0.0 || (gain.spare_c <= 0.0 && !passed_on);
    return decided ? gain.gain_c : steady_gain_c(&of, bank, least, halfway, gain.gain_c);
}
