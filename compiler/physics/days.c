/* See days.h: a day, step by step. */
#include "physics/days_run.h"

#include "physics/day_bursts.h"
#include "physics/day_pace.h"
#include "physics/order.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

static double told(const DayPlan *plan, int bank, double share)
{
    return plan->bounds ? day_told(&plan->banks[bank], share) : share;
}

/* One day of one boat, on its way. Steps run by the thousand: no call of the C library where nothing is the matter. */
typedef struct Run {
    const DayPlan *plan;
    double *source_refused_c;
    double *trace;
    DayCarried carried; /* where there is a trace */
    Pace pace[DAY_BANKS];
    DayManner manner;
} Run;

/* As battery_acceptance_a, with the day's own limit; of a full bank its tail. */
static inline double curve_a(const Pace *pace, const Curve *curve, double share)
{
    double amps;
    if (curve->capped) {
        amps = day_capped_least_a(&pace->capped, (1.0 - share) * pace->bank->model.capacity_coulomb);
    } else {
        amps = share <= curve->begins ? curve->accepts_a : curve->accepts_a - (share - curve->begins) * curve->taper_a;
    }
    return lesser(amps, curve->most_a);
}

static inline double accepts_a(const Pace *pace, const Curve *curve, double share)
{
    return share >= 1.0 ? 0.0 : curve_a(pace, curve, share);
}

/* What a bank with so much in it, and so much room, would take beyond what its own sources bring. */
static inline double beyond_own_a(const Pace *pace, const Curve *curve, int step, double share, double room)
{
    double takes = room > 0.0 ? lesser(accepts_a(pace, curve, share), room * pace->a_per_kept) : 0.0;
    double own = pace->net_a[step] + pace->incoming_a;
    return takes > own ? takes - own : 0.0;
}

/* The most of it, until the bank is as full as that. */
static double wants_a(const Pace *pace, int step, double full)
{
    return beyond_own_a(pace, &pace->takes, step, pace->share, full - pace->share);
}

/* The same at the other end, where it may lack more or less: but where it is filled up to what it began with, as it is here. */
static double other_wants_a(const Pace *pace, int step, double full)
{
    double share = lesser(1.0, pace->share - pace->other_lacks);
    return beyond_own_a(pace, &pace->other, step, share, full < 1.0 ? full - pace->share : 1.0 - share);
}

/* What is left to discharge after another bank has brought or taken something: not what the table says. */
static double counted_of(const Pace *pace, int step, double wanted_a)
{
    const BatteryModel *model = &pace->bank->model;
    double of_coulomb = pace->bounds ? pace->bank->bounds.counted_coulomb : model->capacity_coulomb;
    if (pace->table->burst_count > 0 && day_burst_step(pace->table, step) == step) {
        return wanted_a + day_beyond_a(pace->table, model, of_coulomb, step, wanted_a + pace->net_a[step]);
    }
    return peukert_effective_a(of_coulomb, model->rated_hours, wanted_a, model->exponent);
}

/* What can be had of a bank that gives such a current, which counts as so much: at its rate or less, all that is there. */
static inline double to_be_had(const Pace *pace, double current_a, double counted_a)
{
    return counted_a > current_a ? pace->share - pace->withheld : pace->share;
}

/* What a bank may give out of its charge in a step: so much of what is wanted as it has above its limit, being drawn own_a. */
static double can_draw_a(const Pace *pace, double own_a, double wanted_a, double stop_share)
{
    double there = (pace->share - stop_share) / pace->share_per_a;
    return greater(0.0, lesser(wanted_a, there - own_a));
}

/* In one step: what is left of a bank's surplus, and what is drawn of its charge; by what is given, and by what it loses. */
typedef struct Giving {
    double left_a;
    double given_a, drawn_a; /* with what its own loads draw */
    double asked_a; /* the same of what is asked of it, though it has not so much */
} Giving;

/* Of a taker in one step: what it would take, by both of its curves, and what of that has come out of the giver's surplus. */
typedef struct Asked {
    double wants, other_wants;
    double flow_a, spent_a; /* into the taker, and out of the giver */
} Asked;

/*
 * A bank that cannot give in a step what is asked of it above its limit has come to its end: by all that others ask together and
 * its own loads, for what the first of them asks is not drawn before what the next one does.
 */
static void note_exhausted(Pace *pace, int step, double own_a, double asked_a)
{
    if (asked_a <= own_a || pace->tally.below_s >= 0.0) {
        return;
    }
    double counted_a = counted_of(pace, step, asked_a);
    double all = counted_a * pace->share_per_a;
    double left = to_be_had(pace, asked_a, counted_a) - pace->stop_share;
    if (all > left + pace->rounding) {
        pace->tally.below_s = (step + greater(0.0, left) / all) * DAY_STEP_S;
    }
}

/*
 * What a link gives of the bank's charge, beyond what comes out of the surplus, in A into the taker.
 */
static double draw_on(Pace *pace, const DayLink *link, const Pace *taker, int step, Asked asked,
                      Giving *giving)
{
    if (taker->filled_to < 1.0) {
        asked.wants = wants_a(taker, step, taker->filled_to);
        asked.other_wants = taker->one_curve ? asked.wants : other_wants_a(taker, step, taker->filled_to);
    }
    double wanted = (lesser(link->most_a, asked.wants) - asked.flow_a) * link->carry_ratio;
    double given = can_draw_a(pace, giving->given_a, wanted, pace->stop_share);
    double drawn = given, most = wanted;
    if (taker->bounds) {
        double most_a = lesser(link->other_most_a, asked.other_wants) - asked.spent_a / link->other_ratio;
        most = most_a * link->carry_ratio;
        drawn = can_draw_a(pace, giving->drawn_a, most, pace->other_stop_share);
    }
    giving->asked_a += greater(0.0, most);
    giving->given_a += given;
    giving->drawn_a += drawn;
    return given / link->carry_ratio;
}

/* Full and not drawn from, a bank gets nothing from others. */
static inline bool may_get(const Pace *taker, int step)
{
    return taker->share < taker->gets_below || taker->net_a[step] + taker->incoming_a < 0.0;
}

/* Whether any bank that this one charges may get something: in most steps none does. */
static inline bool may_pass(const Run *run, const Pace *pace, int step, double net_a)
{
    const DayLink *end = run->plan->links + run->plan->link_count;
    for (const DayLink *link = run->plan->links; link < end; link++) {
        if (link->giver == pace->number && (link->drains || net_a > 0.0) && may_get(&run->pace[link->taker], step)) {
            return true;
        }
    }
    return false;
}

/* Gives to the banks that this one charges, of its surplus and of its charge. */
static Giving pass_on(Run *run, Pace *pace, int step, double net_a)
{
    const DayLink *end = run->plan->links + run->plan->link_count;
    double surplus_a = greater(net_a, 0.0), own_a = greater(-net_a, 0.0);
    Giving giving = {surplus_a, own_a, own_a, own_a};
    for (const DayLink *link = run->plan->links; link < end; link++) {
        if (link->giver != pace->number || (!link->drains && giving.left_a <= 0.0)) {
            continue;
        }
        Pace *taker = &run->pace[link->taker];
        if (!may_get(taker, step)) {
            continue;
        }
        bool alike = taker->one_curve || (taker->share >= 1.0 && taker->other_lacks == 0.0);
        double wants = wants_a(taker, step, 1.0);
        double other_wants = alike ? wants : other_wants_a(taker, step, 1.0);
        if (wants <= 0.0 && other_wants <= 0.0) {
            continue;
        }
        double flow = lesser(lesser(link->most_a, wants), giving.left_a / link->ratio);
        double drain = flow * link->ratio;
        if (taker->bounds) {
            drain = lesser(lesser(link->other_most_a, other_wants) * link->other_ratio, giving.left_a);
        }
        double out_a = flow * link->ratio;
        giving.left_a = greater(0.0, giving.left_a - drain);
        if (link->drains) {
            double drawn_a = draw_on(pace, link, taker, step, (Asked){wants, other_wants, flow, drain}, &giving);
            out_a += drawn_a * link->carry_ratio;
            flow += drawn_a;
        }
        if (run->trace != NULL) {
            ptrdiff_t at = (link - run->plan->links) * DAY_STEPS + step;
            run->carried.brings_a[at] = flow;
            run->carried.takes_a[at] = out_a;
        }
        taker->incoming_a += flow;
        taker->tally.received_c += flow * DAY_STEP_S;
    }
    note_exhausted(pace, step, own_a, giving.asked_a);
    double drained_a = giving.drawn_a - own_a;
    pace->tally.drained_c += drained_a * DAY_STEP_S;
    pace->tally.passed_c += (surplus_a - giving.left_a + drained_a) * DAY_STEP_S;
    return giving;
}

/* Lays what was refused on the sources, the last first. */
static void refuse(const Run *run, int bank, int step, double refused_c)
{
    for (int i = run->plan->source_count - 1; i >= 0 && refused_c > 0.0; i--) {
        const DaySource *source = &run->plan->sources[i];
        if (source->bank == bank) {
            const double *others = run->plan->bounds ? source->other_a : source->offered_a;
            run->source_refused_c[i] += lesser(refused_c, source->offered_a[step] * DAY_STEP_S);
            refused_c -= lesser(refused_c, others[step] * DAY_STEP_S);
        }
    }
}

/*
 * Charges a bank with an offer, incoming_a of which another bank brings, which passes on no more than is taken. Returns how much
 * of the rest it refuses, in A: in a plan with `bounds` at the other end.
 */
static inline double take(Pace *pace, double offered_a, double incoming_a)
{
    double share = pace->share, room = 1.0 - share, own_a = offered_a - incoming_a;
    if (room <= 0.0) {
        return own_a;
    }
    double taken_a = lesser(offered_a, accepts_a(pace, &pace->takes, share));
    double kept = taken_a * pace->kept_per_a;
    if (kept >= room) {
        kept = room;
        taken_a = room * pace->a_per_kept;
        pace->share = 1.0;
    } else {
        pace->share = share + kept;
    }
    pace->tally.kept_c += kept;
    if (!pace->one_curve) {
        taken_a = lesser(accepts_a(pace, &pace->other, share), room * pace->a_per_kept);
    }
    return own_a - taken_a;
}

static inline void note_refused(Run *run, Pace *pace, int step, double refused_a)
{
    double refused_c = refused_a * DAY_STEP_S;
    pace->tally.refused_c += refused_c;
    if (run->source_refused_c != NULL) {
        refuse(run, pace->number, step, refused_c);
    }
}

/* A new lowest of what can be had; and when within the step it fell below the limit: the way down is a straight line. */
static void note_lowest(Pace *pace, int step, double before, double after)
{
    double limit = pace->least_share;
    DayBankTally *tally = &pace->tally;
    if (tally->lowest_share > pace->floor_share) { /* empty is empty: the first time is told */
        tally->lowest_step = step + 1;
    }
    tally->lowest_share = after;
    if (after < limit - pace->rounding && tally->below_s < 0.0) {
        double along = before > limit ? (before - limit) / (before - after) : 0.0;
        tally->below_s = (step + along) * DAY_STEP_S;
    }
}

/* What less can be had at the end of a step that was begun with so much and fell so low, in part of which a burst draws. */
static void withhold(Pace *pace, int step, DayCharge before, double lowest)
{
    bool holds = pace->withheld_a[step] > 0.0;
    before.withheld = holds ? before.withheld : 0.0;
    pace->withheld = holds ? before.withheld + pace->withheld_a[step] * pace->share_per_a : 0.0;
    double after = lowest - pace->withheld;
    if (after < pace->tally.lowest_share) {
        note_lowest(pace, step, before.share - before.withheld, after);
    }
}

static inline void charge(Run *run, Pace *pace, int step, double left, double incoming_a)
{
    pace->withheld = 0.0;
    double refused_a = take(pace, left, incoming_a);
    if (refused_a > 0.0) {
        note_refused(run, pace, step, refused_a);
    }
}

/* What goes out, as far as there is any. */
static inline void draw(Pace *pace, double drawn_a)
{
    double drawn = drawn_a * pace->share_per_a;
    double left = pace->share - pace->floor_share;
    if (drawn > left) {
        left = greater(0.0, left);
        pace->tally.unserved_c += drawn - left;
        drawn = left;
    }
    pace->share -= drawn;
    pace->tally.out_c += drawn;
}

static inline void discharge(Pace *pace, int step, double drawn_a, double withheld_a)
{
    double withheld = withheld_a > 0.0 ? pace->withheld : 0.0;
    double before = pace->share - withheld;
    draw(pace, drawn_a);
    pace->withheld = withheld + withheld_a * pace->share_per_a;
    double after = pace->share - pace->withheld;
    if (after < pace->tally.lowest_share) {
        note_lowest(pace, step, before, after);
    }
}

/*
 * A step in which others ask for a bank's charge. What is withheld goes by what they ask, not by what they get: a bank that has
 * less left to give would be spared otherwise. But it is not for them that less can be had than its limit.
 */
static void discharge_for_others(Run *run, Pace *pace, int step, Giving giving, double own_a)
{
    double asked_a = greater(0.0, giving.asked_a - giving.left_a);
    double counted_a = counted_of(pace, step, asked_a);
    double before = to_be_had(pace, asked_a, counted_a);
    double by_all = before - counted_a * pace->share_per_a;
    double by_own = before - counted_of(pace, step, own_a) * pace->share_per_a;
    double net = giving.left_a - giving.drawn_a;
    if (net > 0.0) {
        charge(run, pace, step, net, pace->incoming_a);
    } else {
        draw(pace, -net);
    }
    pace->withheld = 0.0;
    if (counted_a > asked_a) {
        double had = lesser(by_own, greater(by_all, pace->other_stop_share));
        pace->withheld = greater(0.0, pace->share - had);
    }
    double after = pace->share - pace->withheld;
    if (after < pace->tally.lowest_share) {
        note_lowest(pace, step, before, after);
    }
}

/* For a part of a step: what is taken of an offer, as long as there is room. Returns what is not, as a mean of the step. */
static double keep(Pace *pace, double offered_a, double accepts_a, double length)
{
    double room = greater(0.0, 1.0 - pace->share);
    double taken_a = lesser(offered_a, accepts_a) * length, kept = taken_a * pace->kept_per_a;
    if (kept >= room) {
        kept = room;
        taken_a = room * pace->a_per_kept;
    }
    pace->share = kept < room ? pace->share + kept : 1.0;
    pace->tally.kept_c += kept;
    return offered_a * length - taken_a;
}

/*
 * A step in which something begins or ends, part by part. What the bank takes goes by the least that has been in it since the
 * step began: so what another part is made of two takes no less, and one that began no emptier never ends emptier. Returns what
 * is refused, as a mean of the step.
 */
static double step_in_parts(Pace *pace, int step, double *lowest)
{
    double refused_a = 0.0;
    *lowest = pace->share;
    DayWalk walk = day_walk(pace->table, step, 0.0);
    while (walk.passed < 1.0) {
        double drawn_a, length = day_walk_part(&walk, &drawn_a);
        if (drawn_a > 0.0) {
            draw(pace, drawn_a * length);
            *lowest = lesser(*lowest, pace->share);
        } else {
            refused_a += keep(pace, -drawn_a, curve_a(pace, &pace->takes, *lowest), length);
        }
    }
    return refused_a;
}

/* Of a bank that nothing passes to or from. */
static void step_with_burst(Run *run, Pace *pace, int step)
{
    DayCharge before = {pace->share, pace->withheld};
    Pace other = *pace;
    double lowest, lowest_of_other, refused_a = step_in_parts(pace, step, &lowest);
    if (pace->bounds && !pace->one_curve) {
        other.takes = other.other;
        refused_a = step_in_parts(&other, step, &lowest_of_other);
    }
    if (refused_a > 0.0) {
        note_refused(run, pace, step, refused_a);
    }
    withhold(pace, step, before, lowest);
}

/* Its day where nothing passes between banks. */
static void run_alone(Run *run, Pace *pace)
{
    for (int step = 0; step < DAY_STEPS; step++) {
        double net = pace->net_a[step];
        if (step == pace->burst_step) {
            step_with_burst(run, pace, step);
            pace->burst_step = day_burst_step(pace->table, step + 1);
        } else if (net > 0.0) {
            charge(run, pace, step, net, 0.0);
        } else if (net < 0.0) {
            discharge(pace, step, -net, pace->withheld_a[step]);
        } else {
            pace->withheld = 0.0;
        }
    }
}

static void trace_step(const Run *run, int step)
{
    for (int b = 0; b < run->plan->bank_count; b++) {
        run->trace[b * DAY_STEPS + step] = told(run->plan, b, run->pace[b].share - run->pace[b].withheld);
    }
}

/* What another bank brings just as much as is drawn leaves nothing, and no rounding that would be a loss. */
static inline double net_with(double own_a, double incoming_a)
{
    double net = own_a + incoming_a;
    return net > -1e-12 * incoming_a && net < 1e-12 * incoming_a ? 0.0 : net;
}

/* A step of one bank among others, after what those before it have given. */
static inline void step_among_others(Run *run, Pace *pace, int step)
{
    double own = pace->net_a[step], net = net_with(own, pace->incoming_a);
    if (pace->gives && may_pass(run, pace, step, net)) {
        double own_a = greater(0.0, -net);
        Giving giving = pass_on(run, pace, step, net);
        if (giving.asked_a > own_a) {
            discharge_for_others(run, pace, step, giving, own_a);
            return;
        }
        net = giving.left_a - giving.drawn_a;
    }
    if (net > 0.0) {
        charge(run, pace, step, net, pace->incoming_a);
    } else if (net < 0.0) {
        discharge(pace, step, -net, net != own ? counted_of(pace, step, -net) + net : pace->withheld_a[step]);
    } else {
        pace->withheld = 0.0;
    }
}

/* The same of a step in which something begins or ends: of a bank that passes something on what it takes goes by means. */
static void burst_among_others(Run *run, Pace *pace, int step)
{
    DayCharge before = {pace->share, pace->withheld};
    pace->burst_step = day_burst_step(pace->table, step + 1);
    if (!pace->passes) {
        step_with_burst(run, pace, step);
        return;
    }
    step_among_others(run, pace, step);
    if (pace->withheld <= 0.0 && pace->withheld_a[step] > 0.0) {
        withhold(pace, step, before, lesser(before.share, pace->share)); /* it has been charged, but not from the step's beginning to its end */
    }
}

/* A step of all banks, and then the next. */
static void run_together(Run *run)
{
    const Pace *end = run->pace + run->plan->bank_count;
    for (int step = 0; step < DAY_STEPS; step++) {
        for (Pace *pace = run->pace; pace < end; pace++) {
            if (step == pace->burst_step) {
                burst_among_others(run, pace, step);
            } else {
                step_among_others(run, pace, step);
            }
            pace->incoming_a = 0.0;
        }
        if (run->trace != NULL) {
            trace_step(run, step);
        }
    }
}

/* From shares of a bank to charges. */
static void end_bank(const Pace *pace, DayBankTally *tally)
{
    double capacity_c = pace->bank->model.capacity_coulomb;
    *tally = pace->tally;
    tally->kept_c *= capacity_c;
    tally->out_c *= capacity_c;
    tally->unserved_c *= capacity_c;
}

static void run_day(Run *run, DayCharge charge[], DayBankTally tally[])
{
    const DayPlan *plan = run->plan;
    const DayManner *manner = &run->manner;
    bool together = plan->link_count > 0 || run->trace != NULL;

    assert(plan->bank_count <= DAY_BANKS);
    for (int b = 0; b < plan->bank_count; b++) {
        day_pace(&run->pace[b], plan, b, charge[b]);
        bool to_its_end = manner->to_its_end == b || manner->to_its_end == DAY_ALL;
        run->pace[b].floor_share = to_its_end ? 0.0 : run->pace[b].floor_share;
        if (manner->balanced == b) {
            run->pace[b].filled_to = manner->filled_to;
            run->pace[b].other_lacks = (1.0 - charge[b].share) * plan->banks[b].bounds.other_larger;
            run->pace[b].gets_below = run->pace[b].other_lacks > 0.0 ? INFINITY : 1.0;
            run->pace[b].stop_share = run->pace[b].other_stop_share = -INFINITY;
        }
    }
    for (int b = 0; b < plan->bank_count && !together; b++) {
        if (manner->balanced < 0 || manner->balanced == b) {
            run_alone(run, &run->pace[b]);
        }
    }
    if (together) {
        run_together(run);
    }
    for (int b = 0; b < plan->bank_count; b++) {
        charge[b] = (DayCharge){run->pace[b].share, run->pace[b].withheld};
        end_bank(&run->pace[b], &tally[b]);
    }
}

/* The paces of a run are set by run_day: they are not touched before. */
static void begin_run(Run *run, const DayPlan *plan, DayManner manner)
{
    run->plan = plan;
    run->source_refused_c = NULL;
    run->trace = NULL;
    run->manner = manner;
}

void day_run(const DayPlan *plan, DayCharge charge[], DayBankTally tally[], double source_refused_c[])
{
    Run run;
    begin_run(&run, plan, day_as_usual);
    run.source_refused_c = source_refused_c;
    run_day(&run, charge, tally);
}

void day_trace(const DayPlan *plan, DayCharge charge[], DayBankTally tally[], double trace[], DayCarried carried)
{
    Run run;
    begin_run(&run, plan, day_as_usual);
    run.trace = trace;
    run.carried = carried;
    for (int i = 0; i < plan->link_count * DAY_STEPS; i++) {
        carried.brings_a[i] = carried.takes_a[i] = 0.0;
    }
    run_day(&run, charge, tally);
}

void day_run_as(const DayPlan *plan, DayManner manner, DayCharge charge[], DayBankTally tally[])
{
    Run run;
    begin_run(&run, plan, manner);
    run_day(&run, charge, tally);
}
