/* A bank on its way through a day of days.h, with what its steps need worked out before. */
#ifndef GARBOARD_PHYSICS_DAY_PACE_H
#define GARBOARD_PHYSICS_DAY_PACE_H

#include "physics/days.h"

/* What a bank takes by its charge; from `begins` on less by taper_a for each share of it. */
typedef struct Curve {
    double accepts_a, begins, taper_a, most_a;
    bool capped; /* by the least of many sizes (see day_capped.h) instead of these three */
} Curve;

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
    const DayTable *table;
    const DayBank *bank;
    DayBankTally tally; /* charges are shares of the bank until the day is over */
    bool bounds;        /* as of the plan */
    bool one_curve;     /* both ends take the same */
    double other_lacks; /* what it lacks at the other end beyond what it lacks here, where it is its balance that is asked for */
    bool gives;         /* to another bank */
    bool passes;        /* gives to another bank, or takes from one */
    int burst_step;     /* the next step in which something begins or ends; DAY_STEPS: there is none */
    int number;         /* in the plan */
    double gets_below;  /* as full as that it takes nothing at either end */
    double filled_to;   /* no more than this of it is taken out of another bank's charge */
    double stop_share, other_stop_share; /* it gives others nothing of its charge from here on down */
} Pace;

/** Sets it to a bank of a plan at the beginning of a day. */
void day_pace(Pace *pace, const DayPlan *plan, int number, DayCharge charge);

#endif
