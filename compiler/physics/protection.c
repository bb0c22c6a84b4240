/*
 * Overcurrent protection: tables and the rules of size and place on them. See protection.h.
 */
#include "physics/protection.h"

#include <math.h>
#include <string.h>

#define NO_LIMIT HUGE_VAL
/* A factor of 0.58 times 100 A is a hair under 58 A in binary; that must not cost a size. */
#define ROUNDING 1e-9
#define COUNT_OF(...) (sizeof((const double[]){__VA_ARGS__}) / sizeof(double))

static const Protection rows[PROTECTION_CLASS_COUNT] = {
#define PROTECTION(ID, WORD, BREAKER, STANDARD, DC, AC, AMPS, MOST, EVIDENCE, EVIDENCE_AMPS, NOTE, ...) \
    [PROTECTION_##ID] = {WORD,                                                                    \
                         BREAKER,                                                                 \
                         STANDARD,                                                                \
                         DC,                                                                      \
                         AC,                                                                      \
                         AMPS,                                                                    \
                         MOST,                                                                    \
                         EVIDENCE,                                                                \
                         EVIDENCE_AMPS,                                                           \
                         NOTE,                                                                    \
                         (const double[]){__VA_ARGS__},                                           \
                         COUNT_OF(__VA_ARGS__)},
#include "tables/protection.def"
#undef PROTECTION
};

const Protection *protection_row(ProtectionClass class)
{
    return &rows[class];
}

ProtectionClass protection_class_named(const char *word, size_t length)
{
    int class = 0;
    while (class < PROTECTION_CLASS_COUNT && (rows[class].word[0] != word[0] || strncmp(rows[class].word, word, length) != 0 ||
                                              rows[class].word[length] != '\0'))
        class++;
    return (ProtectionClass)class;
}

ProtectionClass protection_default_class(bool breaker, double rating_a, bool ac)
{
    if (ac)
        return PROTECTION_MINIATURE;
    if (breaker)
        return rating_a <= 50.0 ? PROTECTION_HYDRAULIC : PROTECTION_THERMAL;
    return rating_a <= 40.0 ? PROTECTION_BLADE : PROTECTION_BOLT_ON;
}

double next_rating_a(ProtectionClass class, double at_least_a)
{
    const Protection *row = &rows[class];

    for (size_t i = 0; i < row->rating_count; i++) {
        if (row->ratings_a[i] >= at_least_a * (1.0 - ROUNDING))
            return row->ratings_a[i];
    }
    return INFINITY;
}

ProtectionClass class_of_family(ProtectionClass stated, double rating_a)
{
    const Protection *blade = &rows[PROTECTION_BLADE];
    double largest_a = blade->ratings_a[blade->rating_count - 1];
    return stated == PROTECTION_BLADE && rating_a > largest_a * (1.0 + ROUNDING) ? PROTECTION_BLADE_LARGE : stated;
}

double largest_rating_a(ProtectionClass class, double at_most_a)
{
    const Protection *row = &rows[class];
    double largest = 0.0;

    for (size_t i = 0; i < row->rating_count; i++) {
        if (row->ratings_a[i] <= at_most_a * (1.0 + ROUNDING))
            largest = row->ratings_a[i];
    }
    return largest;
}

bool is_standard_rating(ProtectionClass class, double rating_a)
{
    for (size_t i = 0; i < rows[class].rating_count; i++) {
        if (fabs(rows[class].ratings_a[i] - rating_a) <= 1e-3 * rating_a)
            return true;
    }
    return false;
}

double rating_wanted_a(double continuous_a, double other_a)
{
    return CONTINUOUS_MARGIN * continuous_a + other_a;
}

double protection_limit_a(Basis basis, double volts, double ampacity_a)
{
    double next;

    if (basis == BASIS_ISO)
        return ampacity_a;
    if (volts < 50.0)
        return 1.5 * ampacity_a;
    next = next_rating_a(PROTECTION_NEC_SERIES, ampacity_a);
    return next <= 1.5 * ampacity_a * (1.0 + ROUNDING) ? next : ampacity_a;
}

typedef struct Band {
    double from_cca;
    double main_a;
    double branch_a;
} Band;

static const Band bands[] = {
#define INTERRUPTING(FROM, MAIN, BRANCH) {FROM, MAIN, BRANCH},
#include "tables/interrupting.def"
#undef INTERRUPTING
};

double interrupting_required_a(double cold_cranking_a, bool main_device)
{
    size_t found = 0;

    /* The bands are in whole amps: 650.4 is not yet "651 and over". */
    for (size_t i = 1; i < sizeof bands / sizeof bands[0]; i++) {
        if (cold_cranking_a > bands[i].from_cca - 1.0)
            found = i;
    }
    return main_device ? bands[found].main_a : bands[found].branch_a;
}

double interrupting_capacity_a(ProtectionClass class, double volts, bool ac)
{
    const Protection *row = &rows[class];

    if (volts > (ac ? row->volts_ac : row->volts_dc))
        return 0.0;
    if (class == PROTECTION_TERMINAL && volts > 32.0)
        return 2000.0;
    if (class == PROTECTION_TERMINAL && volts > 14.0)
        return 5000.0;
    return row->interrupts_a;
}

double breaks_as_at_v(ProtectionClass class, double volts, double stated_v)
{
    static const double made_for_v = 58.0;
    bool blade = class == PROTECTION_BLADE || class == PROTECTION_BLADE_SMALL || class == PROTECTION_BLADE_LARGE;

    return blade && volts <= made_for_v && volts <= stated_v ? fmin(volts, rows[class].volts_dc) : volts;
}

double interrupting_most_a(ProtectionClass class, double volts)
{
    const Protection *row = &rows[class];
    double surely_a = interrupting_capacity_a(class, volts, false);
    return surely_a < row->interrupts_a ? surely_a : row->interrupts_most_a;
}

double protection_takes_m2(double rating_a)
{
    static const struct {
        double up_to_a, up_to_mm2;
    } studs[] = {
#define STUD(UP_TO_A, UP_TO_MM2, METRIC, INCH) {UP_TO_A, UP_TO_MM2},
#include "tables/studs.def"
#undef STUD
    };
    enum { COUNT = sizeof studs / sizeof studs[0] };
    int row = 0;
    while (row < COUNT - 1 && rating_a > studs[row].up_to_a * (1.0 + ROUNDING)) {
        row++;
    }
    return row + 1 < COUNT ? studs[row + 1].up_to_mm2 * 1e-6 : INFINITY;
}

static double smallest_of(const Protection *row)
{
    return row->ratings_a[0];
}

static double largest_of(const Protection *row)
{
    return row->ratings_a[row->rating_count - 1];
}

bool class_is_made(ProtectionClass class, double rating_a, double volts)
{
    const Protection *row = &rows[class];

    return row->volts_dc >= volts && rating_a >= smallest_of(row) * (1.0 - ROUNDING) &&
           rating_a <= largest_of(row) * (1.0 + ROUNDING);
}

static BreakingRange breaking_of_class(ProtectionClass class, double volts)
{
    return (BreakingRange){interrupting_capacity_a(class, volts, false), interrupting_most_a(class, volts)};
}

static void widen(BreakingRange *range, BreakingRange by)
{
    range->least_a = fmin(range->least_a, by.least_a);
    range->most_a = fmax(range->most_a, by.most_a);
}

BreakingRange breaking_without_class(bool breaker, double rating_a, double volts)
{
    BreakingRange range = {INFINITY, 0.0};

    for (int class = PROTECTION_NEC_SERIES + 1; class < PROTECTION_CLASS_COUNT; class++) {
        if (rows[class].breaker == breaker && class_is_made((ProtectionClass)class, rating_a, volts)) {
            widen(&range, breaking_of_class((ProtectionClass)class, volts));
        }
    }
    return isinf(range.least_a) ? breaking_of_class(protection_default_class(breaker, rating_a, false), volts) : range;
}

/* The classes change where the ratings of one begin or end: between those places it stays as it is. */
static BreakingRange breaking_at(bool breaker, double low_a, double high_a, double volts)
{
    static const double beside = 1e-6;
    BreakingRange range = breaking_without_class(breaker, low_a, volts);

    if (low_a == high_a)
        return range;
    widen(&range, breaking_without_class(breaker, high_a, volts));
    for (int class = PROTECTION_NEC_SERIES + 1; class < PROTECTION_CLASS_COUNT; class++) {
        const double ends[] = {smallest_of(&rows[class]) * (1.0 - beside), smallest_of(&rows[class]),
                               largest_of(&rows[class]), largest_of(&rows[class]) * (1.0 + beside)};
        for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
            if (ends[i] > low_a && ends[i] < high_a)
                widen(&range, breaking_without_class(breaker, ends[i], volts));
        }
    }
    return range;
}

BreakingRange breaking_over_ratings(bool breaker, double low_a, double high_a, Interval volts)
{
    BreakingRange range = breaking_at(breaker, low_a, high_a, volts.low);

    if (volts.high > volts.low)
        widen(&range, breaking_at(breaker, low_a, high_a, volts.high));
    return range;
}

/* The limit of a conductor that is sheathed along all of it, or not. */
typedef Placement PlacementPair[2];

static const PlacementPair placements[BASIS_COUNT][POWER_ORIGIN_COUNT] = {
#define PLACEMENT(BASIS, ORIGIN, BARE_M, BARE_EVIDENCE, SHEATHED_M, SHEATHED_EVIDENCE, SOURCE, NOTE) \
    [BASIS][ORIGIN] = {{BARE_M, BARE_EVIDENCE, SOURCE, NOTE}, {SHEATHED_M, SHEATHED_EVIDENCE, SOURCE, NOTE}},
#include "tables/placement.def"
#undef PLACEMENT
};

Placement placement_limit(Basis basis, PowerOrigin origin, bool sheathed)
{
    return placements[basis][origin][sheathed ? 1 : 0];
}

ProtectionClass class_that_breaks(bool breaker, double at_least_a, double volts, double fault_a)
{
    ProtectionClass best = PROTECTION_CLASS_COUNT;
    ProtectionClass usual = protection_default_class(breaker, at_least_a, false);

    for (int class = PROTECTION_NEC_SERIES + 1; class < PROTECTION_CLASS_COUNT; class++) {
        ProtectionClass this = (ProtectionClass)class;
        double rating = next_rating_a(this, at_least_a);
        bool serves = rows[class].breaker == breaker && isfinite(rating) &&
                      interrupting_capacity_a(this, volts, false) >= fault_a * (1.0 - ROUNDING);
        if (serves && this == usual)
            return usual;
        if (serves && (best == PROTECTION_CLASS_COUNT || rating < next_rating_a(best, at_least_a)))
            best = this;
    }
    return best;
}

typedef struct Melting {
    ProtectionClass class;
    double times;
    double least_s, most_s;
    Evidence evidence;
    const char *source;
} Melting;

static const Melting meltings[] = {
#define MELTING(CLASS, TIMES, LEAST, MOST, EVIDENCE, SOURCE) {PROTECTION_##CLASS, TIMES, LEAST, MOST, EVIDENCE, SOURCE},
#include "tables/melting.def"
#undef MELTING
};

static const char no_standard[] = "no standard at hand bounds it: a choice of this program";

enum { MELTING_COUNT = sizeof meltings / sizeof meltings[0] };

/* Fuses gG: gates of their melting time, by rating. */
typedef struct Gate {
    double rating_a;
    double least_10_s, most_5_s, least_01_s, most_01_s;
} Gate;

static const Gate gates[] = {
#define GATE(RATING, LEAST_10, MOST_5, LEAST_01, MOST_01) {RATING, LEAST_10, MOST_5, LEAST_01, MOST_01},
#include "tables/gg-gates.def"
#undef GATE
};

enum { GATE_COUNT = sizeof gates / sizeof gates[0] };

static const char gate_source[] = "IEC 60269-1, gates of gG";

/* Beyond the table in proportion to its end: a choice of this program. Between two ratings that of the larger. */
static DeviceLimit gate_opens(double rating_a)
{
    size_t i = 0;
    while (i + 1 < GATE_COUNT && gates[i].rating_a < rating_a * (1.0 - ROUNDING))
        i++;
    double beyond = i == 0 || i + 1 == GATE_COUNT ? rating_a / gates[i].rating_a : 1.0;
    return (DeviceLimit){gates[i].most_5_s * beyond, beyond == 1.0 ? EVIDENCE_SECOND_HAND : EVIDENCE_MODEL, gate_source};
}

/* Between two ratings that of the smaller; between 0.1 and 10 s along a straight line in logarithms; its rating for longer. */
static DeviceLimit gate_carries(double rating_a, double seconds)
{
    size_t i = 0;
    while (i + 1 < GATE_COUNT && gates[i + 1].rating_a <= rating_a * (1.0 + ROUNDING))
        i++;
    double beyond = i == 0 || i + 1 == GATE_COUNT ? rating_a / gates[i].rating_a : 1.0;
    double share = log(10.0 / fmax(seconds, 0.1)) / log(100.0);
    double amps = gates[i].least_10_s * pow(gates[i].least_01_s / gates[i].least_10_s, share) * beyond;
    return (DeviceLimit){seconds > 10.0 ? rating_a : amps, beyond == 1.0 ? EVIDENCE_SECOND_HAND : EVIDENCE_MODEL, gate_source};
}

DeviceLimit opens_promptly(ProtectionClass class, double rating_a)
{
    if (class == PROTECTION_CARTRIDGE)
        return gate_opens(rating_a);
    for (size_t i = 0; i < MELTING_COUNT; i++) {
        if (meltings[i].class == class && meltings[i].most_s <= PROMPT_SECONDS)
            return (DeviceLimit){meltings[i].times * rating_a, meltings[i].evidence, meltings[i].source};
    }
    return (DeviceLimit){PROMPT_MULTIPLE * rating_a, EVIDENCE_MODEL, no_standard};
}

/* Times the rating at which the least time is so many seconds, between two points of a class. */
static double between(const Melting *slow, const Melting *quick, double seconds)
{
    double share = log(slow->least_s / seconds) / log(slow->least_s / quick->least_s);
    return slow->times * pow(quick->times / slow->times, share);
}

static DeviceLimit carries_by_class(ProtectionClass class, double rating_a, double seconds)
{
    const Melting *slow = NULL;

    if (class == PROTECTION_CARTRIDGE)
        return gate_carries(rating_a, seconds);
    for (size_t i = 0; i < MELTING_COUNT; i++) {
        const Melting *row = &meltings[i];
        if (row->class != class)
            continue;
        if (row->least_s < seconds)
            return (DeviceLimit){(slow != NULL ? between(slow, row, seconds) : 1.0) * rating_a, row->evidence, row->source};
        slow = row;
    }
    if (slow != NULL)
        return (DeviceLimit){slow->times * rating_a, slow->evidence, slow->source};
    return (DeviceLimit){(seconds <= 1.0 ? 2.0 : 1.0) * rating_a, EVIDENCE_MODEL, no_standard};
}

/*
 * What fuses are tested to carry: 1.1 times the rating for at least 15 minutes (UL 248-2 and 248-9, of classes C and K, second
 * hand; of class T by UL 248-15, from memory), for 100 h by ISO 8820-3 and for hours by ISO 8820-5 (from memory), 1.25 times
 * for an hour and more by IEC 60269-1 (from memory). Of terminal fuses common practice, no source. That it counts for a minute
 * is a choice of this program: what is warm already, in warm air, has less left. A breaker may trip at any more than its rating.
 */
static const char fuse_holds[] = "tests of UL 248, ISO 8820 and IEC 60269: a fuse carries 1.1 times its rating for minutes";

DeviceLimit carries_surely(ProtectionClass class, double rating_a, double seconds)
{
    DeviceLimit limit = carries_by_class(class, rating_a, seconds);
    bool holds = !rows[class].breaker && seconds <= FUSE_HOLDS_SECONDS && limit.amps < FUSE_HOLDS * rating_a;
    return holds ? (DeviceLimit){FUSE_HOLDS * rating_a, EVIDENCE_MEMORY, fuse_holds} : limit;
}

double rating_that_carries_a(ProtectionClass class, double at_least_a, double current_a, double seconds)
{
    double rating_a = next_rating_a(class, at_least_a);
    while (isfinite(rating_a) && carries_surely(class, rating_a, seconds).amps < current_a * (1.0 - 1e-9)) {
        rating_a = next_rating_a(class, rating_a * 1.001);
    }
    return rating_a;
}

double order_ratio(ProtectionClass upstream, ProtectionClass downstream)
{
    return upstream == PROTECTION_CARTRIDGE && downstream == PROTECTION_CARTRIDGE ? 1.6 : 1.01;
}
