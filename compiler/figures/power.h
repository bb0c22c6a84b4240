/*
 * What the power recipes share: a node for each thing that takes or gives power. The nodes are private to
 * compiler/figures/; the rules read the same things of feeds and banks by the same functions.
 */
#ifndef GARBOARD_FIGURES_POWER_H
#define GARBOARD_FIGURES_POWER_H

#include "figures/figure.h"
#include "physics/battery.h"
#include "physics/protection.h"

/* How long what starts is taken to start where nobody says: a choice of this program. */
#define USUAL_SURGE_SECONDS 0.5

/* What flows into a thing, gathered from what hangs on it: by how long it runs. Currents in A at the thing's voltage. */
typedef struct Flow {
    bool waits;          /* how long some of it runs is a mistake: all of it is known, what runs long is not */
    bool held_waits;     /* what hangs on something that turns power is a mistake: `held` is not known */
    Interval all;        /* everything at once */
    Interval lasting;    /* what runs long: an hour a day or more in some day, or nobody said */
    Interval brief;      /* the rest, summed */
    Interval brief_most; /* the greatest of the rest */
    Interval continuous; /* what runs three hours or more in some day, or nobody said */
    Interval held;       /* of what runs long what it really takes for so long: of what turns power, by what hangs on it */
    /* The greatest single piece of each: no share of a whole is less. */
    Interval one, lasting_one, brief_one, continuous_one, held_one;
} Flow;

typedef enum LoadSort { LOAD_NONE, LOAD_CURRENT, LOAD_POWER, LOAD_RESISTANCE } LoadSort;

/* All sources that reach a place, with the copper from them: as one voltage behind one resistance. */
typedef struct Supply {
    bool known;
    bool waits;      /* a mistake stands in some of the copper */
    bool cut;        /* what would bring it is not aboard: nothing comes */
    const Entity *lacks; /* a bank that reaches it too, and of which nobody knows what it brings; NULL: none */
    uint32_t banks;  /* how many add up */
    Interval volts;
    Interval cold_ohm; /* copper at 20 C: the least of all side by side, the most of any alone */
    Interval hot_ohm;  /* of one alone, the one with the most: copper at 50 C, banks at the high end of theirs */
    const Entity *unsaid; /* a switch on the way of which nobody says how far it is; or NULL */
} Supply;

typedef struct PowerNode {
    Flow flow;
    State state;            /* of the flow */
    LoadSort sort;          /* of what it draws by itself */
    uint32_t maker_count;
    uint32_t walk;          /* the last walk down from a source that came by */
    bool hot;               /* a space: an engine stands in it */
    bool end_known;         /* end_v, least_v hold */
    const Entity *source;   /* the bank, inlet, generator, inverter ... that it hangs on; NULL if none */
    double nominal_v;       /* 0 if not known; of an open one the least ... */
    double nominal_most_v;  /* ... and the most it may be */
    Interval working_v;     /* the bank's voltage, or the nominal one of AC */
    Interval lower_v;       /* of another bank that a switch can put it on, where that has a lower one ... */
    const Entity *lower_source; /* ... which is this; NULL: none has */
    const Figure *current;  /* of its feed */
    const Figure *cranking; /* of the greatest starter behind it (FIGURE_CRANKING); NULL: there is none */
    Interval own;           /* what it draws by itself, of all of them, in A, W or S as its sort says */
    Interval pieces;        /* how many they are */
    const Feed **makers;    /* a bank: the maker_count feeds of `feeds` that reach it, up to NULL */
    double sized;           /* a bank or array whose size is a hole: of one, C or W, as tried or chosen; 0: none */

    /* Found by figures_cables, and for it alone: */
    const Figure *total;    /* drop from the source to here, physical and by rule; NULL: none */
    const Figure *total_by_rule;
    const Figure *cranking_drop, *cranking_drop_by_rule; /* from the source to here while it cranks; NULL: none */
    const Figure *protection; /* nearest device upstream that limits the current here; NULL: none */
    struct Cable *cable;    /* of the first of its feeds that has one of its own; NULL: none */
    struct Cable *makes;    /* of the first of its `feeds` */
    Interval end_v;         /* the voltage here when its source is at its lowest */
    Interval least_v;       /* that lowest voltage */
    const char *least_source;
    double drop_rule, drop_physical; /* worst drops from the source to here, as shares, while sizes are chosen */
    double below_a;         /* the greatest rating of a device behind it ... */
    double guard_a;         /* ... and the nearest before what hangs on it; 0: none */
    Supply supply;          /* what a short circuit here draws from */
    const struct Reached *reached; /* what reaches it by way of what joins banks; NULL: nothing does */
    Interval made_a;        /* what makes power here and behind adds to a short circuit at most */
    struct Cable *brought;  /* of the first maker that feeds it directly */
    const Figure *brings;   /* what all makers bring, to it and behind (FIGURE_BROUGHT); NULL: there are none */
} PowerNode;

/** Its nominal voltage: a range where that is open, nought where it is not known. */
static inline Interval node_nominal(const PowerNode *node)
{
    return (Interval){node->nominal_v, node->nominal_most_v};
}

/** What turns watts to amperes at it: the lowest voltage of the banks that it can hang on, for that gives the most. */
static inline Interval node_lowest_v(const PowerNode *node)
{
    return node->lower_source != NULL ? node->lower_v : node->working_v;
}

typedef struct Power {
    Work *work;
    const Model *model;
    Basis basis;
    PowerNode **nodes; /* by Entity.index */
    uint32_t walks;   /* how often the tree was walked down from a source */
    struct Cable *cables; /* those of `fed-by`, givers before takers; from fed_count on those of makers */
    uint32_t fed_count, cable_count;
    struct Joined *joined; /* where banks are joined (power_joined.c); NULL: nowhere */
    bool joined_sought;
    struct Climb *climb; /* room for looking up (power_bank.c); NULL: nothing did yet */
    struct Net *net; /* the networks as they are solved (power_network.c) */
    struct DaySun *suns; /* of days that state its sum: the same for every array (power_hours.c) */
    const Feed **strays; /* those that hang on nobody knows what: their `fed-by` is a mistake */
    uint32_t stray_count;
    bool maker_strays; /* what makes power feeds nobody knows what: its `feeds` names nothing */
} Power;

static inline PowerNode *power_node(const Power *power, const Entity *entity)
{
    return power->nodes[entity->index];
}

/**
 * Steps through the spaces that a cable passes: those of its `through`, and those that its ends stand in, of a circuit also
 * what uses its cable. *at is 0 first.
 */
const Entity *feed_next_space(const Feed *feed, uint16_t *at);

/**
 * The air that something stands in, in K: what `of` (a space, a day; or NULL) states as its `own`, else the boat's
 * `air-temperature`, stated or assumed. Whatever asks how warm cables and batteries are aboard asks here.
 */
Interval air_aboard(const Model *model, const Entity *of, PropId own);
/** The same as an input of a figure; what is assumed of the boat is none, for the tables are made for it. */
Interval use_air_aboard(Work *work, const Entity *of, PropId own);
/** A stated value of a feed, or its default. */
Quantity use_feed_value(Work *work, const Feed *feed, PropId prop, unsigned slot);

/** The stated size of one battery or panel, or the one that fills its hole; of anything else what prop states. */
Quantity use_filled(Power *power, const Entity *entity, PropId prop);
/** How many panels an array has, or batteries and so on: `count`, else `series` times `parallel`, else 1. */
Quantity use_pieces(Work *work, const Entity *entity);

/** Whether an engine is started by cranking: it burns fuel. False for anything else. */
bool is_cranked(const Entity *engine);
/** Whether it is (part of) the main feed from a battery to a cranking motor, which the clauses exempt (power_cranking.c). */
bool feed_is_cranking(const Feed *feed);
/** What leads to an inverter: its own cable, or that of the studs which it is bolted to (`run 0 m`); NULL: nothing does. */
const Feed *cable_of_inverter(const Entity *inverter);
/** Whether it leads to an emergency switch that lends one bank to the starter of another: no main feed, and not exempt. */
bool feed_lends_start(const Feed *feed);
/** Whether a starter hangs on a thing, by whichever way; what is only lent through a switch between banks does not. */
bool has_starter_behind(const Model *model, const Entity *thing);
/** What starters take through the things before them, once currents are known; records FIGURE_CRANKING. */
void power_cranking(Power *power);
/** Whether what makes power behind a feed may send it back through it (power_brought.c). */
bool takes_back(const Feed *feed);
/** What they bring there together (FIGURE_BROUGHT); NULL: nothing comes back. */
const Figure *figure_brought_back(const Figures *figures, const Feed *feed);
/** Whether it charges another bank with what its own has over, and never from that one's charge (physics/days.h). */
bool passes_surplus(const Entity *thing);
/** Whether what hangs on a thing asks that one, not what feeds it: an inverter, a charger, a converter. */
bool turns_power(const Entity *entity);
/** Whether something hangs on a converter that has no other source: no bank stands behind it. */
bool is_asked_by_takers(const Power *power, const Entity *converter);
/**
 * Notes that the voltage that a source gives is not known: the line that would state it is missing, or it rests on a
 * mistake, as it does where there is no source (power_source.c).
 */
void use_no_voltage(Work *work, const Entity *source);
/** Uses a voltage that follows from what the source states; where that is open, the figure hangs on it (power_source.c). */
Interval use_source_voltage(Work *work, const Entity *source, const char *what, Interval volts, const char *told_by);
/** The same of the voltage at which watts turn to amperes at a place. */
Interval use_working_voltage(Work *work, const PowerNode *node);
/** Voltages from the sources on (power_source.c). */
void power_voltages(Power *power);
/** The voltage of the mains that an inlet, generator or inverter gives; 0 if not known. */
Interval power_mains_volts(const Power *power, const Entity *source);
/** Currents from the loads up (power_current.c); records FIGURE_CURRENT. */
void power_currents(Power *power);
/** What is asked of sources and panels of alternating current, once currents are known (power_mains.c). */
void power_demands(Power *power);
/** The greatest current of what makes power (power_cable.c): FIGURE_CURRENT of its feeds, once holes are filled. */
void power_outputs(Power *power);
/** Cables (power_cable.c): size, ampacity, drops, protection, fault currents. */
void power_cables(Power *power);
/** What a short circuit at each bank would draw; cables need it (power_bank.c). */
void power_short_circuits(Power *power);
/**
 * Whether a maker's feed brings anything (power_bank.c): what drives the maker, and what stands between it and the bank, is
 * aboard.
 */
bool feed_brings(const Feed *feed);
/** A bank that a maker's feed charges when a switch is turned, or by another feed of a bus, and not as things first stand. */
typedef struct Turned {
    const Feed *feed;
    const Entity *bank;
    struct Turned *next;
} Turned;
/** Room for looking up from one thing after the other; it goes with the step. */
typedef struct Climb Climb;
Climb *climb_new(const Model *model, Arena *scratch);
/** The banks that a load may hang on, however the switches between stand; the next look takes that room again. */
const Entity **banks_above(Climb *climb, const Entity *thing, uint32_t *count);
/** All of them, each maker and bank once; makers in the order of the spec (power_bank.c). */
Turned *charged_when_turned(const Model *model, Arena *scratch, Arena *arena);
/** The electric engine that turns an alternator out of the very bank which that charges: it brings nothing; else NULL. */
const Entity *engine_on_its_bank(const Feed *feed);
/** Whether daily life runs on a bank (power_engine_hours.c). */
bool bank_is_house(const Entity *bank);
/** Banks and their days (power_bank.c). */
void power_banks(Power *power);

/**
 * How long a thing runs in a day, in s at full draw, from its `use` lines; false if it states no use for that day.
 * *stated_any tells whether it states any use at all.
 */
bool use_seconds(const Entity *entity, const Entity *day, Interval *seconds);
/** Whether a `use` line for that day (NULL: for any) has a mistake in it; one whose day nobody knows may be for each. */
bool use_is_mistaken(const Entity *entity, const Entity *day);
/**
 * The longest that a load is used in any day while no shore power is there, in s, as far as statements tell: a use that one
 * statement of `shore` does not cover counts whole.
 */
Interval longest_use_without_shore(const Model *model, const Entity *load);
/** Records the value of a `use` line as an input; those of all for that day. */
void record_one_use(Work *work, const Entity *entity, const Property *use);
void record_uses(Work *work, const Entity *entity, const Entity *day);
bool states_use(const Entity *entity);
/**
 * How long a heater or cooler that states no `use` runs in a day, to give what its spaces take (drive_climate.c); NULL
 * where that is not known, and for all else.
 */
const Figure *running_time(const Figures *figures, const Entity *entity, const Entity *day);
/** The same of a water heater's element, for the showers of that day (water_hot.c). */
const Figure *element_time(const Figures *figures, const Entity *entity, const Entity *day);

/** No mains are below this, in V, and no direct current aboard of a small boat is above it: a choice of this program. */
#define MAINS_FROM_V 80.0
/**
 * Whether a thing is for mains, by its kind, by `made-for`, or by the voltage at which its draw is stated. On direct current of a
 * lower voltage its own current waits for that to be mended.
 */
bool is_for_mains(const Entity *thing);
/** Whether it is, or what it says leaves open whether it is: until that is decided its own current is not known. */
bool may_be_for_mains(const Entity *thing);
/** Whether it is not decided that a thing is for mains and hangs on direct current: what it draws is not known then. */
bool may_be_misfed(const Entity *thing, const PowerNode *node);
/** Where a thing says what voltage it is for: what it is made for says more than where its draw is stated. */
PropId prop_of_volts(const Entity *thing);
/** Whether a thing takes direct current by its kind, of whatever voltage. */
bool takes_direct(const Entity *thing);

/** Draw of one of it in W and in A at a node's voltage: one of the two is stated (power_draw.c). Records what it uses. */
Quantity power_draw_current(Power *power, const Entity *load);
/** Whether what stays the same of it is not what it states, and it states its own voltage: what it draws in a day goes by its current. */
bool behaves_at_own_volts(const Entity *load);
/**
 * All of a draw that is stated, of one, and how it follows the voltage: amperes, watts or siemens; what is stated for another voltage
 * is so at that one. Its node leaves out what is for mains, or may be, on direct current. LOAD_NONE where none is stated.
 */
LoadSort power_stated_own(const Power *power, const Entity *load, Interval *own);
/**
 * What one of a thing draws by itself, in A, apart from what hangs on it, and how that was found; notes at its node how it
 * follows the voltage. False if it draws nothing of its own.
 */
bool own_draw(Power *power, const Entity *entity, Quantity *current, const char **formula);

/** What the takers of a thing ask of it; *state is worsened by theirs. The figures of their currents are used. */
Flow power_gather(Power *power, const Entity *entity, State *state);
/** The same, with what hangs on an inverter that passes this thing through. */
Flow power_gather_passed(Power *power, const Entity *entity, State *state);
/** `together` of a panel or bus; PROP_NONE for what has none. */
PropId power_together_prop(const Entity *entity);
/** Whether all that hangs on a thing counts at once: on circuits, outlets and mains, unless `together` says less. */
bool takes_all_at_once(const Entity *entity);
/** The current that a thing takes when what hangs on it is gathered in flow, and how that was found. */
Interval power_shared_current(Power *power, const Entity *entity, Flow *flow, const char **formula);

/** Whether a drop of 3 % is asked of a feed, and why ("a navigation light"). */
bool feed_is_critical(const Model *model, const Feed *feed, Basis basis, const char **why);

/* What the voltage may fall to a feed, as a share of the nominal one. */
typedef struct DropLimit {
    double share;  /* the strictest that is possible */
    bool own;      /* the feed states it */
    bool critical; /* the basis holds it to DROP_LIMIT_CRITICAL, for what hangs on it: its own can be less, not more */
    const char *why;
} DropLimit;

DropLimit feed_drop_limit(const Model *model, const Feed *feed, Basis basis);
/** Whether a `sheath` line, or none (NULL), says that the cable runs in a conduit or another sheath. */
bool states_sheath(const Property *sheath);
/** The same of a feed's cable. */
bool feed_is_sheathed(const Feed *feed);
/** What the insulation of its cable stands, in degrees Celsius: as `wire` states, else what is assumed. */
double feed_insulation_celsius(const Feed *feed);
/** The same of the value that states it, or of the lack of one. */
double insulation_celsius(const Value *stated);

/** The class of protection to think of where a `protect` line (NULL: none) names none, for such a rating. */
ProtectionClass class_by_kind(const Property *protect, double amps, bool ac);
/**
 * The class for a device of at least so many amperes that breaks so much: breaker or fuse as the line says, else a breaker, or
 * a fuse where no breaker does; where there is no line a fuse. PROTECTION_CLASS_COUNT if none does.
 */
ProtectionClass device_that_breaks(const Property *protect, double at_least_a, double volts, double fault_a);
/**
 * Whether it is a US breaker of alternating current of no class of its own: those come in the series of NEC 240.6(A), not in that
 * of IEC 60898. `miniature` says no more there than what stands in a panel.
 */
bool device_is_of_us_series(Basis basis, const Property *protect, bool ac);

/**
 * The class of whose ratings a device is one; PROTECTION_NEC_SERIES: of the series of the US. Breakers of alternating
 * current there begin with 15 A; fuses go below it, in the ratings of NEC 240.6(A) that class T is made in too.
 */
ProtectionClass device_series(Basis basis, const Property *protect, bool ac, double amps);

/** The smallest rating of at least so many amperes in which such a device is made. */
double device_next_made(Basis basis, const Property *protect, bool ac, double amps);
/** The class that it names, else that one. */
ProtectionClass device_class(const Property *protect, double amps, bool ac);
/** Whether the cable of a feed carries alternating current. What feeds a thing of direct current charges, and does not. */
bool feed_is_alternating(const Feed *feed);
/** `rated` of the panel, bus, switch, outlet or inlet that a feed brings its power to; PROP_NONE for all else. */
PropId feed_rated_prop(const Feed *feed);

/** The voltage of all of a bank's batteries in series, and how that stands in a formula. */
Interval use_bank_volts(Work *work, const Entity *bank, const char **shown);
/**
 * How long a bank gives such a current, from full to its least charge, counted by Peukert, in s. Records the exponent; capacity,
 * least charge and current are what the caller has recorded (power_group_bank.c).
 */
Interval use_lasting(Work *work, const Entity *bank, Interval capacity, Interval least, Interval amps);
/** Open-circuit voltage of a bank that gives so many volts, rested and full; as stated where its chemistry is a mistake. */
Interval bank_open_v(const Entity *bank, Interval stated_v);
/** The chemistry that a bank states; false if that is a mistake. */
bool bank_chemistry(const Entity *bank, Chemistry *chemistry);

/** What a flow draws by the rule of two columns: all that runs long, and the greater of the largest brief one and a tenth
 * of the brief ones together. */
Interval flow_at_once(const Flow *flow);

/** What motor and controller of an electric engine give of what they take: as stated, else a usual range. */
Quantity use_motor_keeps(Work *work, const Entity *engine);

/** The first thing aboard on a data backbone (`last` NULL), and the next one behind `last`; NULL at the end. */
const Entity *power_next_joined(const Model *model, const Entity *network, const Entity *last);

#endif
