/*
 * What the recipes of days share: tables of what runs when, for a worse and a better corner of everything that is not
 * decided, and the groups of banks that they are run with. Private to compiler/figures/.
 *
 * In the worse corner whatever takes charge is at its most and whatever brings or keeps it at its least; in the better
 * corner the other way round. Spans that lie in the day begin at the same time in both, so that the worse table is the
 * worse one in each step. physics/days.h tells which way each input leans.
 */
#ifndef GARBOARD_FIGURES_POWER_DAYS_H
#define GARBOARD_FIGURES_POWER_DAYS_H

#include "figures/power.h"
#include "physics/days.h"

enum { WORSE, BETTER, CORNERS };

/* Shares of each step, or watts, or amperes, in both corners. */
typedef struct Hours {
    double of[CORNERS][DAY_STEPS];
} Hours;

/** Which end of a range a corner takes: the worse one is the low end of what helps, the high end of the rest. */
static inline double end_of(Interval range, bool low)
{
    return low ? range.low : range.high;
}

/* What of such a table flows for a part of a step alone, in W or A: see physics/days.h. */
typedef struct Burst {
    int corner;
    DayBurst of;
    struct Burst *next;
} Burst;

/* When things run that state no clock (power_hours.c); in s from midnight. */
#define ENGINE_FROM_S (9.0 * 3600.0)
#define SHORE_FROM_S (18.0 * 3600.0)

/**
 * Adds what a statement says of when in the day: a span of the clock; hours, from *next_s on, which moves on; or a share of
 * the day, evenly. weight multiplies it, in each corner its own. less_is_worse: of a range of hours the shortest is worse.
 */
void hours_add(Hours *hours, const Value *value, double *next_s, const double weight[CORNERS], bool less_is_worse);
enum { HOURS_EDGES = 16 };

/* What several statements of hours of one thing have of steps of which they cover a part alone; in one corner. */
typedef struct Edges {
    DayBurst of[HOURS_EDGES];
    int count;
} Edges;

/** Adds to the edges those of what hours_add, called with the same before, would add; beyond HOURS_EDGES none. */
void hours_add_edges(Edges edges[CORNERS], const Value *value, double from_s, const double weight[CORNERS], bool less_is_worse);
/** Puts edges of one thing, which runs once at a time, before a list. */
void burst_add_edges(Arena *arena, Burst **list, Edges edges[CORNERS]);
void burst_add(Arena *arena, Burst **list, int corner, DayBurst burst);
/** In which part of each step shore power, or the generator, is there. Records what it uses. */
void hours_of_supply(Work *work, const Entity *day, PropId prop, Hours *hours);
/**
 * In which part of each step a load runs: as its `use` says, or as long as heat or cold asks for it. False if it does not
 * on that day. Both corners are of one piece. The `use` lines are left to record_uses.
 */
bool hours_of_use(Work *work, const Entity *load, const Entity *day, Hours *hours);
/**
 * The `use` line of a load for that day; NULL if there is none, or more than one. Alone it needs no table of its own:
 * hours_add_use adds when it runs, times weight, to a sum.
 */
const Property *hours_only_use(const Entity *load, const Entity *day);
void hours_add_use(Hours *hours, const Entity *load, const Property *use, const double weight[CORNERS]);
void hours_add_use_edges(Edges edges[CORNERS], const Entity *load, const Property *use, const double weight[CORNERS]);
/** Whether any of what hours_of_use tells runs evenly, as a share of the day: then a part of a step is a mean. */
bool hours_are_even(const Entity *load, const Entity *day);
/** Sun on an array's panels as they lean, in W/m2. False if the day says nothing of sun. Records what it uses. */
bool hours_of_sun(Power *power, const Entity *array, const Entity *day, Hours *sun);
/** An energy of a day as it is told: more than anything aboard is that of a load without a bound, which runs as a huge one. */
double day_energy_j(double joule);
/** The charge of a day's currents, in C; of powers the energy, in J. */
double hours_sum_c(const double amps[DAY_STEPS]);

/** What a bank's loads take in a day, in W at the bank, and what of it for a part of a step alone; in scratch memory
 * (power_loads.c). Records what it uses. */
void bank_watts(Power *power, const Entity *bank, const Entity *day, Hours *watts, Burst **bursts);
/** Records what each electric engine takes in a day, which is in its bank's use too (power_loads.c). */
void record_motor_use(Power *power, const Entity *day);
/**
 * What of that, in J, is of loads that keep their current: at a higher voltage than the bank's own they take the more. Those
 * behind what turns power keep their power, and those that state no `use` are not looked for.
 */
Interval bank_joule_by_current(const Power *power, const Entity *bank, const Entity *day);
/** What an inlet or generator is asked for by all but chargers, in W. */
void supply_watts(Power *power, const Entity *supply, const Entity *day, Hours *watts);

/* What a source can bring to its bank in one day (power_makers.c). */
typedef struct Maker {
    Hours amps;
    Burst *bursts; /* in scratch memory */
    const Figure *offered; /* the energy of it; NULL where it is nothing */
} Maker;

/* What comes of that at the voltage of one bank. */
typedef struct Offer {
    Interval joule;
    const char *formula;
    bool dark; /* the sun does not rise */
} Offer;

/** Sets a maker's to the current that a source, which is no converter, offers a bank in a day; with what it uses as inputs. */
Offer maker_hours(Power *power, const Feed *feed, const Entity *bank, const Entity *day, Maker *maker);
/** Records the figure `offered` of a source; NULL where it offers nothing. */
const Figure *record_offer(Power *power, const Feed *feed, const Entity *bank, const Entity *day, const Maker *maker, Offer offer);
/** Records the figure `output` of a source. */
void maker_output(Power *power, const Feed *feed, const Entity *bank);
/** What an alternator offers in a corner while its engine runs as fast as the day says, else at a usual speed, in A. */
double alternator_running_a(Work *work, const Entity *alternator, const Entity *day, int corner);

/** Voltage at which a bank is charged, by its chemistry. */
Interval bank_charge_volts(const Power *power, const Entity *bank);

/** A property of the bank, else what is usual for its chemistry. */
Quantity use_bank_value(Work *work, const Entity *bank, PropId prop, BatteryFigure figure, UnitPair unit);
/** A stated number, else 1 (nothing recorded then). */
Quantity use_or_one(Work *work, const Entity *entity, PropId prop);
/** Strings in parallel: as stated, else as many as the count leaves over from those in series. */
Quantity use_strings(Work *work, const Entity *entity, PropId series, PropId parallel);
Quantity use_bank_strings(Work *work, const Entity *bank);

/* Banks that are run together, since one charges another, with the tables of every day. */

/* Charge without an end: far above what any boat carries, and little enough to be subtracted from. */
#define DAY_ENDLESS_COULOMB 1e10

typedef struct GroupBank {
    const Entity *entity;
    State state;
    DayBank of[CORNERS];    /* bounding all that it may be */
    DayBank alone[CORNERS]; /* as it is at either end of its size */
    Interval volts;
    const Figure *capacity, *least, *acceptance;
    struct GroupBank *next; /* in the order of the spec, while groups are made */
} GroupBank;

typedef struct GroupSource {
    const Feed *feed;
    int bank;
} GroupSource;

/* One group in one day. */
typedef struct GroupDay {
    const Entity *day;
    State state;             /* the worst of what it rests on */
    Maker *makers;           /* one a source */
    Interval *shares;        /* one a source: what its bank gets of it, in the worse corner and in the better */
    Interval *whole;         /* one a source, in J: what it offered if its bank got all of it */
    Maker *passed;           /* one a link: what its converter could bring */
    DayLink *links[CORNERS]; /* the group's, with what loads of this day make of `carry_ratio` */
    DayTable *tables;        /* corner after corner, one a bank */
    const DayTable **table;  /* the same, as plans want them */
    DaySource *sources;      /* corner after corner */
    DayPlan plan[CORNERS];
} GroupDay;

typedef struct Group {
    GroupBank *banks[DAY_BANKS]; /* one that charges another comes before it */
    int bank_count;
    DayLink *links[CORNERS];
    Interval *raised;          /* one a link: the voltage that its converter gives, over that of the bank it charges */
    const Entity **converters; /* one a link */
    int link_count;
    GroupSource *sources; /* the array's first, the alternator's last */
    int source_count;
    GroupDay *days; /* in the order of the spec */
    bool cut;       /* too many banks charge one another: what passes between them is left out */
    struct Group *next;
} Group;

typedef struct PowerDays {
    Group *first;
    uint32_t day_count;
} PowerDays;

/** A bank's own numbers, which are recorded; in coulombs and amperes (power_group_bank.c). */
GroupBank *make_group_bank(Power *power, const Entity *entity);
/** Makes the days of a group: tables and plans, with what each takes and brings recorded (power_group_days.c). */
void fill_group_days(Power *power, Group *group, uint32_t day_count);
/** Groups of banks and their tables; records what sources offer and loads take (power_groups.c). */
PowerDays *power_groups(Power *power);
/**
 * What the converters of a group could bring on a day, in A at the bank that each charges: their output, as far as the
 * sources of the bank before them bring more than its loads take. watts: what each bank's loads take, bank after bank.
 * Fills day->passed and records the figure `offered` of each that could bring any (power_passed.c).
 */
void group_passed(Power *power, const Group *group, GroupDay *day, const Hours *watts);
/** Adds to *joule what converters could bring bank b, before the losses of charging; false: none could. Records it as inputs. */
bool use_passed(Work *work, const Group *group, const GroupDay *day, int b, Interval *joule);
/* What a bank gets of a source: all, or a part of one that feeds several. */
typedef struct SourceShare {
    Interval part;
    bool by_use; /* in proportion to what is drawn from each; else alike */
} SourceShare;

/** Of the source at an entry of a group; needs the day's FIGURE_DAILY_USE of every bank (power_shares.c). */
SourceShare source_share(const Power *power, const Group *group, const Entity *day, int s);
/** Records what a share by use rests on as inputs. */
void use_shared(Work *work, const Group *group, const Entity *day, int s);

/** Records the Peukert exponent of a bank as an input: stated, else the middle of what is usual (power_group_bank.c). */
Quantity use_peukert(Work *work, const Entity *bank);
/** Whether what is offered to a bank on a day, at some hour, is more than its cells take in the cold. */
bool cold_limits(Work *work, const Group *group, const GroupDay *day, int b);
/** Where cold limits what a bank takes on a day: records that, and says it in words; else NULL (power_group_days.c). */
const char *use_cold(Work *work, const GroupBank *bank, const Entity *day);
/** Temperature of its cells, K: as cold as it may be that day, or where it says nothing aboard at all; or no colder than the bank
 * says. Recorded as inputs. */
Interval use_cells(Work *work, const Entity *bank, const Entity *day);
/** What the endurance of a bank on a day leaves out: the cold that takes some of a lead bank's capacity; else NULL (power_cold.c). */
const char *cold_remark(Work *work, const Entity *bank, const Entity *day);
/** How long lead banks last on a day with what the cold leaves of their capacity; after their endurance. */
void record_cold_endurance(Power *power, const Group *group, const GroupDay *day);
/** Records from which charge on a bank takes less, and what it still takes when full. */
void use_taper(Work *work, const Entity *bank);
/** Whether another bank charges it. */
bool group_is_charged(const Group *group, int bank);
/** The group's part of a day (power_group_days.c). */
GroupDay *group_day(const Group *group, const Entity *day);
/** A run was not made for that reason: what it would have told is not known, or waits. */
void use_state(Work *work, State state);
/** Figures of days (power_days.c) and cruises (power_cruises.c) of all banks. */
void power_days(Power *power);
/** What arrays, belts, lead banks and heaters come up against (power_limits.c). */
void power_limits(Power *power);
/** The same of a bank of a group, or of one that carries its loads out of its own charge. */
bool group_serves_the_house(const Group *group, int b);
/** The capacity of every bank: needed before all else of them (power_bank.c). */
void power_capacities(Power *power);
/** Notes which outputs reach which bank. */
void power_find_makers(Power *power);
/** Fills `capacity ?` and `rated ?` where days tell what is needed (power_holes.c); after power_find_makers. */
void power_fill_holes(Power *power);
/** The lowest state of charge of each bank in a cruise; false if it cannot be run. */
bool group_cruise_lowest(Work *work, const Group *group, const Entity *cruise, int corner, double lowest[]);
/** The shortest run of the engine that makes a day good for all house banks of a group, in s. */
double group_engine_seconds(Power *power, const Group *group, const GroupDay *day, int corner);
/** How long the engine has to run, of the boat (power_engine_hours.c). */
void power_engine_hours(Power *power, const PowerDays *days);

#endif
