/*
 * A cable on its way through the power recipes: what it is, what the program chose for it, what the solved network says
 * of it. Private to compiler/figures/power_*.c.
 */
#ifndef GARBOARD_FIGURES_CABLE_H
#define GARBOARD_FIGURES_CABLE_H

#include "figures/power.h"
#include "physics/protection.h"

/* Which of the things that a size must do asked for the most. */
typedef enum Deciding {
    DECIDED_BY_LEAST,      /* the least size that the basis allows */
    DECIDED_BY_CURRENT,
    DECIDED_BY_BROUGHT,    /* what makes power, on its way to the bank */
    DECIDED_BY_CRANKING,   /* a starter behind it */
    DECIDED_BY_LOW,        /* what its inverter takes with the bank low */
    DECIDED_BY_OUTLET,     /* what the outlet is rated for */
    DECIDED_BY_PROTECTION,
    DECIDED_BY_DROP,
    DECIDED_BY_FEEDS,      /* the drop of what hangs on it */
    DECIDED_BY_VOLTAGE,    /* the least voltage of a load */
    DECIDED_FOR_ITSELF,    /* stated cables before it lose nearly all of the limit: sized as if they lost nothing */
    DECIDED_BY_FORMULA,    /* nearly all by real copper, not by the formula of the basis: sized to keep that */
    DECIDED_IN_VAIN,       /* no size keeps the drop within its limit */
} Deciding;

/* The heat on a cable's way (power_cable_way.c). */
typedef struct CableWay {
    bool engine_space; /* it passes or ends in one that is hot by rule */
    double air_c, least_air_c; /* of the hottest air, at the most and at the least; engine spaces by rule apart */
} CableWay;

typedef struct Cable {
    const Feed *feed;
    const Entity *subject;
    const Entity *at;
    const Property *wire, *run_line, *bundle_line, *protect; /* the lines of its feed; NULL: not stated */
    const Figure *current_figure;
    Quantity current;              /* what loads take */
    Quantity brought;              /* what makers behind it send back to the bank */
    Quantity cranking;             /* what a starter behind it takes for seconds */
    const Figure *low_figure;      /* what the inverter at its end takes when its bank is low; NULL: none stands there */
    Quantity low;                  /* that */
    Quantity run;
    double insulation_c;
    int parallel, most_parallel;   /* conductors side by side, at the least and at the most */
    int bundle;
    CableWay way;
    bool sheathed;
    double nominal_v, nominal_most_v; /* as of its taker, at the least and at the most */
    DropLimit limit;               /* of the total drop */

    const Conductor *thin, *thick; /* ends of the size; NULL: unbounded or unknown */
    bool size_broken;              /* a mistake stands there */
    bool size_chosen;              /* by this program */
    Deciding deciding;             /* where chosen */
    bool none_carries;             /* where chosen: the largest at hand does not carry what it has to */
    bool rating_chosen;            /* by this program */
    Interval rating;               /* of its protection, where that is chosen or proposed */
    double surge_rating;           /* what a device left to the program has to be at the least, for something behind it to start; 0 */
    const char *rating_remark;     /* why it is no better; or NULL */
    ProtectionClass class;         /* chosen for what it has to break; PROTECTION_NEC_SERIES: the usual one */

    Interval solved_a;             /* with each load at the voltage that reaches it, at the stated voltage of the source */
    bool solved;                   /* else it is the plain current */
    const Entity *adrift;          /* a source of no known voltage that it can be put on: nobody knows what flows then; NULL: none */
    bool collapses, may_collapse;  /* at any values; at some */

    const struct Reached *reached; /* what reaches its device's end by other ways than itself; NULL: it joins nothing */
    struct Cable *next_brought;    /* of makers: the next that feeds the same thing */

    const Figure *size;
    const Figure *ampacity;
    const Figure *drop;
    Figure *protection;            /* where chosen */
} Cable;

/* Where a walk through the spaces of a cable stands; all 0 first. */
typedef struct CableAir {
    uint16_t space;
    uint16_t bolted;
} CableAir;

/** The next space whose air a cable meets: where it passes or ends, and where the engine is that its alternator is bolted to. */
const Entity *cable_next_air(const Feed *feed, CableAir *at);
/** Whether it also meets the air of the accommodation, for nothing says where it runs or where one of its ends stands. */
bool cable_is_in_open(const Feed *feed);
CableWay cable_way(const Model *model, Basis basis, const Feed *feed);
/** What is left of a cable's table current there, with such insulation. */
double cable_way_factor(const CableWay *way, Basis basis, double insulation_celsius);
/** The cable of a feed, in a few steps; NULL if it has none of its own or takes no part. */
Cable *power_cable_of(const Power *power, const Feed *feed);
/** What its conductors carry if they are of that size; nominal_v must be known for a bundle. */
double cable_ampacity_a(const Power *power, const Cable *cable, const Conductor *row);
/** Whether it is known how long it is, of which size and how many conductors: no range anywhere. */
bool cable_is_decided(const Cable *cable);
/** Share of the nominal voltage that it loses; infinite for an unknown size, a run or current without end. */
double cable_physical_share(const Cable *cable, const Conductor *row, double run_m, double amps);
double cable_rule_share(const Power *power, const Cable *cable, const Conductor *row, double run_m, double amps);
/** Temperature of the copper in a solved network, in C. */
#define CABLE_WORKING_CELSIUS 50.0
/** Heat that insulation stands of which nobody says what it stands, in C: the least that is sold for boats. */
#define CABLE_ASSUMED_INSULATION_C 60.0
/** The most that its insulation may stand, in C, and the fewest in its bundle: a Cable is read as the worst that it may be. */
double cable_best_insulation_c(const Cable *cable);
int cable_least_bundle(const Cable *cable);
/** Records size, ampacity, drops, end voltage and protection, once all is chosen and solved (power_cable_figures.c). */
void cable_record(Power *power, Cable *cable);
/** The same for what has no cable of its own: it has what feeds its giver. */
void cable_record_without(Power *power, const Feed *feed);
/** Whether it draws on a source that holds a voltage by itself: then drops are counted from there. */
bool cable_begins_anew(const Cable *cable);

/** Chooses ratings and sizes that are left to the program (power_size.c) ... */
void power_choose(Power *power);
/** ... the ratings first (power_rating.c). */
void power_choose_ratings(Power *power);
/** The greatest that it is to carry: what loads take, what comes back, what its outlet is rated for, what is cranked through it. */
Interval cable_carries(const Cable *cable);
/** The same without what a starter takes for seconds, which asks for no ampacity. */
Interval cable_carries_long(const Cable *cable);
bool cable_flow_is_known(const Cable *cable);
/** The rating that stands before it: its own, else the one that it lives on, else the one that it wants; 0: none. */
double cable_lets_pass(const Power *power, const Cable *cable);
/** Whether it has no device of its own, and what stands upstream protects it as it is. */
bool cable_relies_upstream(const Power *power, const Cable *cable);
/**
 * Whether no size was found for a branch without a device of its own: the one upstream lets more pass than any that is as thin
 * as a branch's (power_rating.c). What the figure says then; and whether one may be found yet: the device's rating, or the voltage, is open.
 */
bool cable_wants_own_device(const Power *power, const Cable *cable);
const char *cable_says_it_wants_one(const Power *power, const Cable *cable);
bool cable_may_find_one(const Cable *cable);
/** Makes chosen sizes larger where the solved currents ask for it; whether it changed any. */
bool power_choose_again(Power *power);
/** Chooses classes that break what they may have to; whether ratings and sizes had to be chosen again for it. */
bool power_choose_classes(Power *power);
/** The lowest voltage of each source, handed on to what hangs on it (power_network.c); needs cables, but no sizes. */
void power_least_voltages(Power *power);
/** Solves the networks of all sources (power_network.c); needs every size. */
void power_solve(Power *power);
/** What short circuits draw from (power_fault.c): banks with the copper, and what makes power; needs every size. */
void power_supplies(Power *power);
void power_makers_faults(Power *power);
/** The resistance of all of its copper, out and back, cold; from nought where the run is not known. */
Interval cable_cold_ohm(const Cable *cable);
/**
 * A switch without a cable of its own that stands away from what feeds it, for all that anyone says: on a bank, or between several
 * things where no cable leaves it that it could be part of.
 */
bool is_away_unsaid(const Feed *feed);

/** What a maker adds to a short circuit by that feed. */
Interval cable_greatest_made(const Cable *cable);

/* What reaches a place with all contacts closed that join banks (power_joined.c). */
typedef struct Reached {
    const Entity **things;   /* sources, then what may join some of them: it does not say whether its outputs are apart */
    uint32_t sources, count;
    uint32_t unsaid;         /* behind all these in the list: switches of which nobody says how far they are */
    Interval ohm, volts;     /* of all of them together; of any */
    Interval made_a;         /* what makes power brings to them */
    bool waits;
} Reached;

typedef struct Joined Joined;

bool takes_one_at_a_time(const Entity *thing);
/** Finds what joins banks, once it is known what each thing draws from alone (power_fault.c). */
void power_find_joined(Power *power);
/** Solves it, for the sizes that the cables have. */
void power_join(Power *power);
/** What a place draws from where all that reaches it counts in the greatest current; NULL: that alone. */
Supply supply_reached(Supply alone, const Reached *reached);
/** The greatest current that a short circuit behind the device of a cable draws; 0 if not known. */
double power_greatest_fault(Power *power, const Cable *cable);
/** Records the drops of a cable while a starter behind it cranks, once its size is recorded (power_cranking.c). */
void cable_record_cranking(Power *power, const Cable *cable);
/** Records what it carries for the seconds that a starter at its end, or behind it, cranks; of any other cable nothing. */
void cable_record_cranking_ampacity(Power *power, const Cable *cable);
/** The first size from a chosen one on that stands what is cranked through it, if anything is; NULL: none at hand does. */
const Conductor *cable_size_for_cranking(const Power *power, const Cable *cable);
/** Whether a size keeps what is lost to a starter by way of a switch that lends a bank, `before` being lost before it; else true. */
bool cable_keeps_lent_drop(const Power *power, const Cable *cable, const Conductor *row, double before);
/** Uses what the insulation of a cable stands, stated or assumed (power_cable_figures.c). */
void use_cable_insulation(Power *power, const Cable *cable);
/** The factor of the heat on its way, at the worst and at the best. */
Interval cable_heat(const Power *power, const Cable *cable);
/** What is left for loads that need a voltage while a starter of their bank works, once networks are solved. */
void power_cranking_voltages(Power *power);
/** What a starter behind a cable takes through it: nothing, 0 A, where there is none, and for the starter's own. */
Quantity cable_cranking(const Power *power, const Cable *cable);
/** The corners of its drop at such a current, as a share: the thinnest and longest cable with the most, and the reverse. */
Interval cable_drop(const Power *power, const Cable *cable, bool physical, Interval amps);
/** The one that loses more; what is not known gives way. Either may be NULL. */
const Figure *figure_worse(const Figure *a, const Figure *b);

/** What loads take while they start, before devices are chosen; and what voltage is left to them, once networks are solved (power_fault.c). */
void power_surge_currents(Power *power);
void power_surge_voltages(Power *power);
/** Notes at the devices before a thing that are left to the program what they have to carry while it starts (power_rating.c). */
void power_note_surge(Power *power, const Entity *thing, const Figure *surge, const Value *lasts);
/** Records what makers bring to buses, panels and switches, once their outputs are recorded (power_brought.c). */
void power_brought(Power *power);
/** Records what of the voltage that loses on its way to the bank, once cables are recorded. */
void power_charge_drops(Power *power);
/** What of it comes back through a cable: nothing, 0 A, where no maker stands behind. */
Quantity cable_brought(const Power *power, const Cable *cable);
/** Fault currents of one cable. */
void power_record_faults(Power *power, Cable *cable);

#endif
