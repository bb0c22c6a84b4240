/* See days.h: a day, step by step. */
#include "physics/days_run.h"

#include "physics/order.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

/* What a bank takes by its charge; from `begins` on less by taper_a for each share of it. */
typedef struct Curve {
    double accepts_a, begins, taper_a, most_a;
    bool capped; /* by the least of many sizes (see day_capped.h) instead of these three */
} Curve;

static Curve curve_of(double acceptance_a, double taper_begins, double tail_a, double most_a)
{
    return (Curve){.accepts_a = acceptance_a,
                   .begins = taper_begins,
                   .taper_a = (acceptance_a - tail_a) / (1.0 - taper_begins),
                   .most_a = most_a};
}

/* What falls less than this below a limit is rounding: it has come to the limit. */
static const double rounding_share = 1e-9;

/* A bank on its way through one day. What a step needs is worked out before: shares of the bank for each ampere over one step. */
typedef struct Pace {
    double share;
    double withheld;    /* of it: see DayCharge */
    double incoming_a;  /* in this step, from other banks */
    double share_per_a; /* out of it */
    double kept_per_a;  /* into it, after losses */
    double a_per_kept;
    Curve takes, other; /* what it takes, and what it would take at the other end */
    DayCappedReady capped; /* of the curves that are */
    double floor_share, least_share, rounding;
    const double *net_a, *withheld_a;
    const DayBank *bank;
    DayBankTally tally; /* charges are shares of the bank until the day is over */
    bool bounds;        /* as of the plan ... */
    bool one_curve;     /* ... but both ends take the same */
    bool gives;         /* to another bank */
    int number;         /* in the plan */
    double filled_to;   /* no more than this of it is taken out of another bank's charge */
    double stop_share, other_stop_share; /* it gives others nothing of its charge from here on down */
} Pace;

static bool gives(const DayPlan *plan, int bank)
{
    bool any = false;
    for (int i = 0; i < plan->link_count; i++) {
        any = any || plan->links[i].giver == bank;
    }
    return any;
}

static bool same_curve(const Curve *a, const Curve *b)
{
    return a->accepts_a == b->accepts_a && a->begins == b->begins && a->taper_a == b->taper_a && a->most_a == b->most_a &&
           a->capped == b->capped;
}

static Pace pace_of(const DayPlan *plan, int number, DayCharge charge)
{
    const DayBank *bank = &plan->banks[number];
    const BatteryModel *model = &bank->model;
    const DayBounds *bounds = &bank->bounds;
    const DayTable *table = plan->tables[number];
    double share_per_a = DAY_STEP_S / model->capacity_coulomb;
    double had = charge.share - charge.withheld;
    double rounding = plan->bounds ? rounding_share * bounds->told_coulomb / model->capacity_coulomb : rounding_share;
    Pace pace = {.share = charge.share,
                 .withheld = charge.withheld,
                 .share_per_a = share_per_a,
                 .kept_per_a = model->efficiency * share_per_a,
                 .a_per_kept = 1.0 / (model->efficiency * share_per_a),
                 .takes = curve_of(model->acceptance_a, model->taper_begins, model->tail_a, table->most_a),
                 .least_share = bank->least_share,
                 .rounding = rounding,
                 .net_a = table->net_a,
                 .withheld_a = table->withheld_a,
                 .bank = bank,
                 .tally = {.lowest_share = had, .below_s = had < bank->least_share - rounding ? 0.0 : -1.0},
                 .bounds = plan->bounds,
                 .gives = gives(plan, number),
                 .number = number,
                 .filled_to = 1.0,
                 .stop_share = bank->least_share,
                 .other_stop_share = bank->least_share};
    if (plan->bounds) {
        pace.other_stop_share = bounds->other_least_share;
        pace.other = curve_of(bounds->acceptance_a, bounds->taper_begins, bounds->tail_a, table->other_most_a);
        pace.takes.capped = bounds->capped;
        pace.other.capped = bounds->other_capped;
        if (bounds->capped || bounds->other_capped) {
            pace.capped = day_capped_ready(&bounds->sizes);
        }
        pace.one_curve = same_curve(&pace.takes, &pace.other);
        pace.floor_share = bounds->floor_share;
    }
    return pace;
}

double day_told(const DayBank *bank, double share)
{
    return greater(0.0, 1.0 - (1.0 - share) * bank->model.capacity_coulomb / bank->bounds.told_coulomb);
}

double day_begun(const DayBank *bank, double told)
{
    return 1.0 - (1.0 - told) * (1.0 - bank->bounds.floor_share);
}

static double told(const DayPlan *plan, int bank, double share)
{
    return plan->bounds ? day_told(&plan->banks[bank], share) : share;
}

/* One day of one boat, on its way. Steps run by the thousand: no call of the C library where nothing is the matter. */
typedef struct Run {
    const DayPlan *plan;
    double *source_refused_c;
    double *trace;
    Pace pace[DAY_BANKS];
    DayManner manner;
} Run;

/* As battery_acceptance_a, with the day's own limit. */
static inline double accepts_a(const Pace *pace, const Curve *curve, double share)
{
    double amps;
    if (curve->capped) {
        amps = day_capped_least_a(&pace->capped, (1.0 - share) * pace->bank->model.capacity_coulomb);
    } else {
        amps = share <= curve->begins ? curve->accepts_a : curve->accepts_a - (share - curve->begins) * curve->taper_a;
    }
    return share >= 1.0 ? 0.0 : lesser(amps, curve->most_a);
}

/* The most that a bank would take beyond what its own sources bring, until it is as full as that. */
static double wants_a(const Pace *pace, const Curve *curve, int step, double full)
{
    double room = full - pace->share;
    double takes = room > 0.0 ? lesser(accepts_a(pace, curve, pace->share), room * pace->a_per_kept) : 0.0;
    double own = pace->net_a[step] + pace->incoming_a;
    return takes > own ? takes - own : 0.0;
}

/* What is left to discharge after another bank has brought or taken something: not what the table says. */
static double counted_of(const Pace *pace, double wanted_a)
{
    const BatteryModel *model = &pace->bank->model;
    double of_coulomb = pace->bounds ? pace->bank->bounds.counted_coulomb : model->capacity_coulomb;
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

/* A bank that cannot give in a step what is asked of it above its limit has come to its end, being drawn own_a besides. */
static void note_exhausted(Pace *pace, int step, double own_a, double asked_a)
{
    if (asked_a <= 0.0 || pace->tally.below_s >= 0.0) {
        return;
    }
    double counted_a = counted_of(pace, own_a + asked_a);
    double all = counted_a * pace->share_per_a;
    double left = to_be_had(pace, own_a + asked_a, counted_a) - pace->stop_share;
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
        asked.wants = wants_a(taker, &taker->takes, step, taker->filled_to);
        asked.other_wants =
            taker->one_curve ? asked.wants : wants_a(taker, &taker->other, step, taker->filled_to);
    }
    double wanted = (lesser(link->most_a, asked.wants) - asked.flow_a) * link->carry_ratio;
    double given = can_draw_a(pace, giving->given_a, wanted, pace->stop_share);
    double drawn = given, most = wanted;
    if (taker->bounds) {
        double most_a = lesser(link->other_most_a, asked.other_wants) - asked.spent_a / link->other_ratio;
        most = most_a * link->carry_ratio;
        drawn = can_draw_a(pace, giving->drawn_a, most, pace->other_stop_share);
    }
    note_exhausted(pace, step, giving->asked_a, most);
    giving->asked_a += greater(0.0, most);
    giving->given_a += given;
    giving->drawn_a += drawn;
    return given / link->carry_ratio;
}

/* Full and not drawn from, a bank gets nothing from others. */
static inline bool may_get(const Pace *taker, int step)
{
    return taker->share < 1.0 || taker->net_a[step] + taker->incoming_a < 0.0;
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
        bool alike = taker->one_curve || taker->share >= 1.0;
        double wants = wants_a(taker, &taker->takes, step, 1.0);
        double other_wants = alike ? wants : wants_a(taker, &taker->other, step, 1.0);
        if (wants <= 0.0 && other_wants <= 0.0) {
            continue;
        }
        double flow = lesser(lesser(link->most_a, wants), giving.left_a / link->ratio);
        double drain = flow * link->ratio;
        if (taker->bounds) {
            drain = lesser(lesser(link->other_most_a, other_wants) * link->other_ratio, giving.left_a);
        }
        giving.left_a = greater(0.0, giving.left_a - drain);
        if (link->drains) {
            flow += draw_on(pace, link, taker, step, (Asked){wants, other_wants, flow, drain}, &giving);
        }
        taker->incoming_a += flow;
        taker->tally.received_c += flow * DAY_STEP_S;
    }
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

/* Charges a bank with what is offered it; returns how much of that it takes, in A: in a plan with `bounds` at the other end. */
static inline double take(Pace *pace, double offered_a)
{
    double share = pace->share, room = 1.0 - share;
    if (room <= 0.0) {
        return 0.0;
    }
    double accepts = accepts_a(pace, &pace->takes, share);
    double taken_a = lesser(offered_a, accepts);
    double kept = taken_a * pace->kept_per_a;
    if (kept >= room) {
        kept = room;
        taken_a = room * pace->a_per_kept;
        pace->share = 1.0;
    } else {
        pace->share = share + kept;
    }
    pace->tally.kept_c += kept;
    if (pace->bounds) {
        double other = pace->one_curve ? accepts : accepts_a(pace, &pace->other, share);
        taken_a = lesser(lesser(offered_a, other), room * pace->a_per_kept);
    }
    return taken_a;
}

static inline void charge(Run *run, Pace *pace, int step, double left)
{
    pace->withheld = 0.0;
    double taken_a = take(pace, left);
    if (left > taken_a) {
        double refused_c = (left - taken_a) * DAY_STEP_S;
        pace->tally.refused_c += refused_c;
        if (run->source_refused_c != NULL) {
            refuse(run, pace->number, step, refused_c);
        }
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
    double counted_a = counted_of(pace, asked_a);
    double before = to_be_had(pace, asked_a, counted_a);
    double by_all = before - counted_a * pace->share_per_a;
    double by_own = before - counted_of(pace, own_a) * pace->share_per_a;
    double net = giving.left_a - giving.drawn_a;
    if (net > 0.0) {
        charge(run, pace, step, net);
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

/* Its day where nothing passes between banks. */
static void run_alone(Run *run, Pace *pace)
{
    for (int step = 0; step < DAY_STEPS; step++) {
        double net = pace->net_a[step];
        if (net > 0.0) {
            charge(run, pace, step, net);
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

/* A step of one bank among others, after what those before it have given. */
static inline void step_among_others(Run *run, Pace *pace, int step)
{
    double own = pace->net_a[step], net = own + pace->incoming_a;
    pace->incoming_a = 0.0;
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
        charge(run, pace, step, net);
    } else if (net < 0.0) {
        discharge(pace, step, -net, net != own ? counted_of(pace, -net) + net : pace->withheld_a[step]);
    } else {
        pace->withheld = 0.0;
    }
}

/* A step of all banks, and then the next. */
static void run_together(Run *run)
{
    const Pace *end = run->pace + run->plan->bank_count;
    for (int step = 0; step < DAY_STEPS; step++) {
        for (Pace *pace = run->pace; pace < end; pace++) {
            step_among_others(run, pace, step);
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
        run->pace[b] = pace_of(plan, b, charge[b]);
        run->pace[b].floor_share = manner->to_the_end ? 0.0 : run->pace[b].floor_share;
        if (manner->balanced == b) {
            run->pace[b].filled_to = manner->filled_to;
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

void day_trace(const DayPlan *plan, DayCharge charge[], DayBankTally tally[], double trace[])
{
    Run run;
    begin_run(&run, plan, day_as_usual);
    run.trace = trace;
    run_day(&run, charge, tally);
}

void day_run_as(const DayPlan *plan, DayManner manner, DayCharge charge[], DayBankTally tally[])
{
    Run run;
    begin_run(&run, plan, manner);
    run_day(&run, charge, tally);
}
