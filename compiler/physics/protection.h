/*
 * Overcurrent protection: the ratings that are made, the largest that a conductor allows, what it must
 * interrupt, and how far from its source it may stand.
 *
 * Knows published tables and amperes; not conductors' sizes (callers pass the corrected ampacity), nor specs.
 */
#ifndef GARBOARD_PHYSICS_PROTECTION_H
#define GARBOARD_PHYSICS_PROTECTION_H

#include "base/interval.h"
#include "physics/basis.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum ProtectionClass {
#define PROTECTION(ID, ...) PROTECTION_##ID,
#include "tables/protection.def"
#undef PROTECTION
    PROTECTION_CLASS_COUNT
} ProtectionClass;

typedef struct Protection {
    const char *word; /* as a spec may write it: "blade", "class-t"; "standard" for the NEC series */
    bool breaker;     /* else a fuse */
    const char *standard;
    double volts_dc; /* greatest; 0: not for direct current, or not known */
    double volts_ac;
    double interrupts_a, interrupts_most_a; /* what all of the class break, what some do */
    Evidence rating_evidence;
    Evidence interrupts_evidence;
    const char *note;
    const double *ratings_a; /* rising */
    size_t rating_count;
} Protection;

/** The row of a class; PROTECTION_NEC_SERIES is 0. */
const Protection *protection_row(ProtectionClass class);
/** The class of that word; PROTECTION_CLASS_COUNT if there is none such. */
ProtectionClass protection_class_named(const char *word, size_t length);

/**
 * The class that is meant by a stated one with that rating: ISO 8820-3 calls types C, E and F blade fuses and reaches to 100 A
 * (second hand), so that a `blade` above the largest of type C is one of type E.
 */
ProtectionClass class_of_family(ProtectionClass stated, double rating_a);

/**
 * The class to think of when none is stated: AC miniature; breaker up to 50 A hydraulic, above that thermal;
 * fuse up to 40 A blade, above that bolt-on. A modelling choice.
 */
ProtectionClass protection_default_class(bool breaker, double rating_a, bool ac);

/**
 * The voltage of direct current at which a device of that class breaks what its class does, if its own sheet says that it is for
 * `stated_v` (0: nothing): blades are made for 32 V and for 58 V, and break as much (ISO 8820-3, verified).
 */
double breaks_as_at_v(ProtectionClass class, double volts, double stated_v);

/**
 * The smallest rating of the class that is at least_a or more; infinite if none is made. Class 0: NEC
 * 240.6(A).
 */
double next_rating_a(ProtectionClass class, double at_least_a);
/** The largest rating of the class that is at most_a or less; 0 if none is made. */
double largest_rating_a(ProtectionClass class, double at_most_a);
/** Whether a rating is one of the class (within a thousandth). */
bool is_standard_rating(ProtectionClass class, double rating_a);

/** Continuous means three hours or more; then the load may be at most 0.8 of the rating (NEC practice). */
#define CONTINUOUS_MARGIN 1.25
#define CONTINUOUS_SECONDS (3.0 * 3600.0)

/** The least rating that carries a load without tripping: 1.25 x continuous part + the rest. */
double rating_wanted_a(double continuous_a, double other_a);

/**
 * The largest rating that a conductor allows.
 *
 * ampacity_a  corrected: table x engine space x bundle, all parallel conductors
 *
 * us under 50 V: 1.5 x ampacity (33 CFR 183.455(c)(1) names the table current; applying it to the corrected
 * one is a cautious reading). us from 50 V: the ampacity, or the next NEC standard rating above it if that is
 * at most 1.5 x (183.455(c)(2)). iso: the ampacity (ISO 13297:2020 13.1.5). All verified. Rises with
 * ampacity.
 */
double protection_limit_a(Basis basis, double volts, double ampacity_a);

/**
 * The largest device on an alternator or generator that is not self-limiting: 1.2 x its greatest rated
 * current at 60 C (33 CFR 183.460(b), verified).
 */
#define ALTERNATOR_PROTECTION_SHARE 1.2

/**
 * Interrupting capacity that US practice asks of a breaker, by all cold-cranking amps connected
 * (interrupting.def).
 */
double interrupting_required_a(double cold_cranking_a, bool main_device);
/** The same for a 120 V alternating-current system of 30 or 50 A: 3000 A (verified in the same reprint). */
#define INTERRUPTING_REQUIRED_AC_A 3000.0

/**
 * What a class surely interrupts at a voltage, in A, if the spec does not say: the table figure up to the rated
 * voltage, 0 above it. Terminal fuses step down with voltage (10 kA to 14 V, 5 kA to 32 V, 2 kA to 58 V, from
 * memory).
 */
double interrupting_capacity_a(ProtectionClass class, double volts, bool ac);
/** The most that some devices of the class interrupt of direct current at that voltage; as much or more. */
double interrupting_most_a(ProtectionClass class, double volts);

/** Whether devices of the class are made about so large, and for that direct voltage. */
bool class_is_made(ProtectionClass class, double rating_a, double volts);

/** What devices break of which not all is known, in A. */
typedef struct BreakingRange {
    double least_a, most_a;
} BreakingRange;

/**
 * What a device of that rating can break of which only is known whether it is a breaker: the least and the most of the classes
 * that are made about so large and for that direct voltage. Where none is, what the default class can.
 */
BreakingRange breaking_without_class(bool breaker, double rating_a, double volts);
/** The least and the most of that over a range of ratings, of which the upper may be without end, and of voltages. */
BreakingRange breaking_over_ratings(bool breaker, double low_a, double high_a, Interval volts);

/* Where a conductor takes its power from. */
typedef enum PowerOrigin {
    FROM_BATTERY,
    FROM_OTHER,    /* a bus, panel or switch already fed through a larger device */
    FROM_CHARGING, /* alternator, charger, solar controller */
    FROM_INLET,    /* shore power inlet */
    FROM_AC,       /* generator or inverter output, AC panel */
    POWER_ORIGIN_COUNT
} PowerOrigin;

typedef struct Placement {
    double limit_m; /* infinite: no limit */
    Evidence evidence;
    const char *source;
    const char *note;
} Placement;

/** How far along the conductor the device may stand (placement.def). */
Placement placement_limit(Basis basis, PowerOrigin origin, bool sheathed);

/*
 * Selectivity: least ratio of upstream to downstream rating. 1.6 for fuses of one IEC 60269 gG family
 * (verified); 2 between unlike fuses (common practice, from memory). Necessary, not sufficient.
 */
#define SELECTIVE_RATIO_GG 1.6
#define SELECTIVE_RATIO_UNLIKE 2.0

/**
 * The thickest conductor, in m2, that the terminals of a device of so many A can be expected to take; infinite for the
 * largest. Common practice, no source: clamps of breakers up to 32 A take 16 to 25 mm2, up to 63 A 25 to 35 mm2 by most
 * makers' sheets, and a screw of 4 mm no ring for thick cable. Rises with the rating.
 */
double protection_takes_m2(double rating_a);

/**
 * The class to take for a device of at least so many amperes that has to break so much at that voltage: the default one if
 * it does, else the one that is made in the smallest rating. PROTECTION_CLASS_COUNT if none is.
 */
ProtectionClass class_that_breaks(bool breaker, double at_least_a, double volts, double fault_a);

/* What is prompt for a device that clears a short circuit: a choice of this program (the longest that IEC 60364-4-41 gives
 * fixed circuits, from memory). */
#define PROMPT_SECONDS 5.0
/* Where no standard bounds it, a device is taken to open promptly from so many times its rating: a choice of this program. */
#define PROMPT_MULTIPLE 4.0

/* What is known of how a class opens. */
typedef struct DeviceLimit {
    double amps;
    Evidence evidence;
    const char *source;
} DeviceLimit;

/** The least current at which a device of that rating opens within PROMPT_SECONDS (melting.def, gg-gates.def). Rises with the
 * rating. */
DeviceLimit opens_promptly(ProtectionClass class, double rating_a);

/**
 * The greatest current that it surely carries for so long without opening: between the points of melting.def in the
 * logarithms of both, never less than its rating. Where no standard bounds it: twice the rating up to a second, its rating
 * beyond (a choice of this program). A fuse of any class carries FUSE_HOLDS times its rating up to FUSE_HOLDS_SECONDS. Rises
 * with the rating, falls with time.
 */
#define FUSE_HOLDS 1.1
#define FUSE_HOLDS_SECONDS 60.0
DeviceLimit carries_surely(ProtectionClass class, double rating_a, double seconds);
/** The smallest rating of the class, of at_least_a or more, that surely carries such a current for so long; infinite if none is made. */
double rating_that_carries_a(ProtectionClass class, double at_least_a, double current_a, double seconds);

/** What asks the upstream device to be so many times the one behind it: fuses gG 1.6 (IEC 60269, verified), else larger. */
double order_ratio(ProtectionClass upstream, ProtectionClass downstream);

#endif
