/*
 * Units: looks words up, converts, names dimensions, prints quantities.
 *
 * Three tables do the work: units.def (one row a unit), `kinds` (one row a dimension: its name, JSON unit,
 * digits) and `meant` (what people write instead). Knows texts and numbers; must not know the schema, specs,
 * gauge numbers of conductors, or money beyond its name.
 */
#include "language/unit.h"

#include "base/date.h"
#include "base/num.h"
#include "language/letters.h"
#include "physics/celsius.h"

#include <math.h>
#include <string.h>

/* Dimensions by name, as units.def uses them. */
/* clang-format off */
#define NUMBER {.tag = TAG_NONE}
#define RATIO {.tag = TAG_RATIO}
#define LEVEL {.tag = TAG_LEVEL}
#define ANGLE {.tag = TAG_ANGLE}
#define LENGTH {.metre = 1}
#define AREA {.metre = 2}
#define SIZE {.metre = 2, .tag = TAG_SIZE}
#define VOLUME {.metre = 3}
#define MASS {.kilogram = 1}
#define MASS_MOMENT {.metre = 1, .kilogram = 1}
#define TIME {.second = 1}
#define FREQUENCY {.second = -1}
#define TURNING {.second = -1, .tag = TAG_TURNING}
#define SPEED {.metre = 1, .second = -1}
#define FLOW {.metre = 3, .second = -1}
#define FORCE {.metre = 1, .kilogram = 1, .second = -2}
#define PRESSURE {.metre = -1, .kilogram = 1, .second = -2}
#define ENERGY {.metre = 2, .kilogram = 1, .second = -2}
#define POWER {.metre = 2, .kilogram = 1, .second = -3}
#define CURRENT {.ampere = 1}
#define CHARGE {.ampere = 1, .second = 1}
#define VOLTAGE {.metre = 2, .kilogram = 1, .second = -3, .ampere = -1}
#define RESISTANCE {.metre = 2, .kilogram = 1, .second = -3, .ampere = -2}
#define TEMPERATURE {.kelvin = 1, .tag = TAG_TEMPERATURE}
#define DIFFERENCE {.kelvin = 1}
#define INTENSITY {.candela = 1}
/* A lumen is a candela times a solid angle: without the tag the two could stand in for each other. */
#define FLUX {.candela = 1, .tag = TAG_ANGLE}
#define MONEY {.money = 1, .tag = TAG_MONEY}
/* clang-format on */

const Unit units[UNIT_TABLE] = {
    [UNIT_NONE] = {"", NUMBER, 1.0, 0.0, "plain number", "no unit"},
#define UNIT(ID, WORD, DIMENSION, FACTOR, OFFSET, MEANING, SOURCE) \
    [UNIT_##ID] = {WORD, DIMENSION, FACTOR, OFFSET, MEANING, SOURCE},
#include "language/units.def"
#undef UNIT
    [UNIT_DATE] = {"date", TIME, 86400.0, 0.0, "day of the calendar", "SI 8, Table 6: a day is 86 400 s"},
    [UNIT_KG_M] = {"kg m", MASS_MOMENT, 1.0, 0.0, "kilogram metre", "SI base units"},
    [UNIT_LB_FT] = {"lb ft", MASS_MOMENT, 0.45359237 * 0.3048, 0.0, "pound foot, of a mass",
                    "international agreement of 1959: 0.453 592 37 kg and 0.3048 m, exactly"},
};

/* ------------------------------------------------------------------------------------------ dimensions */

typedef struct Kind {
    Dimension dimension;
    const char *name;    /* for messages */
    const char *si_text; /* coherent SI unit, for JSON */
    int digits;          /* significant digits worth printing */
} Kind;

/*
 * Digits: three tell more than a plan or a plate is good for; four where owners themselves write four (1234
 * kg, 9.144 m, 12.65 V of a resting battery, 2850 rpm), so that what they wrote is not printed as something
 * else. Money is never rounded here. Some compounds share a row with a plain unit: l/nmi is an area, Wh/km a
 * force.
 */
static const Kind kinds[] = {
    {NUMBER, "a plain number", "1", 4},
    {RATIO, "a share (%)", "1", 3},
    {LEVEL, "a level (dB)", "dB", 3},
    {ANGLE, "an angle", "rad", 4}, /* a sidelight shows over 112.5 deg */
    {LENGTH, "a length", "m", 4},
    {AREA, "an area", "m2", 3},
    {SIZE, "a conductor size", "m2", 3},
    {VOLUME, "a volume", "m3", 4},
    {MASS, "a mass", "kg", 4},
    {MASS_MOMENT, "a moment of a mass", "kg m", 4},
    {TIME, "a time", "s", 3},
    {FREQUENCY, "a frequency", "Hz", 3},
    {TURNING, "a speed of rotation", "1/s", 4},
    {SPEED, "a speed", "m/s", 3},
    {FLOW, "a volume flow", "m3/s", 3},
    {FORCE, "a force", "N", 3},
    {PRESSURE, "a pressure", "Pa", 3},
    {ENERGY, "an energy", "J", 3},
    {POWER, "a power", "W", 3},
    {CURRENT, "a current", "A", 3},
    {CHARGE, "a charge (Ah)", "Ah", 3},
    {VOLTAGE, "a voltage", "V", 4},
    {RESISTANCE, "a resistance", "ohm", 3},
    {TEMPERATURE, "a temperature", "K", 3},
    {DIFFERENCE, "a temperature difference", "K", 3},
    {INTENSITY, "a light intensity", "cd", 3},
    {FLUX, "a light output", "lm", 3},
    {MONEY, "money", "", 15},
    /* compounds */
    {{.metre = 1, .second = -2}, "an acceleration", "m/s2", 3},
    {{.kilogram = 1, .second = -1}, "a mass flow", "kg/s", 3},
    {{.metre = -3, .kilogram = 1}, "a density", "kg/m3", 4},
    {{.metre = -1, .kilogram = 1}, "a mass per length", "kg/m", 3},
    {{.metre = -2, .kilogram = 1}, "a mass per area", "kg/m2", 3},
    {{.metre = -2, .second = 2}, "a fuel mass per energy", "kg/J", 3},
    {{.metre = 2, .second = -2}, "an energy per mass", "J/kg", 3},
    {{.metre = 2, .second = -3}, "a power per mass", "W/kg", 3},
    {{.kilogram = 1, .second = -3}, "a power per area", "W/m2", 3},
    {{.metre = 2, .kilogram = 1, .second = -3, .kelvin = -1}, "a power per degree", "W/K", 3},
    {{.kilogram = 1, .second = -2}, "a force per length", "N/m", 3},
    {{.metre = 1, .kilogram = 1, .second = -3, .ampere = -2}, "a resistance per length", "ohm/m", 3},
    {{.metre = -2, .kilogram = -1, .second = 3, .ampere = 1}, "a current per power", "A/W", 3},
    {{.metre = 2, .kilogram = 1, .second = -3, .ampere = -1, .kelvin = -1}, "a voltage per degree", "V/K", 3},
    {{.kelvin = -1, .tag = TAG_RATIO}, "a share per degree (%/degC)", "1/K", 3},
    {{.second = -1, .tag = TAG_RATIO}, "a share per time", "1/s", 3},
    {{.metre = -1, .tag = TAG_RATIO}, "a share per length", "1/m", 3},
    {{.metre = -1, .tag = TAG_LEVEL}, "a loss per length (dB/m)", "dB/m", 3},
    {{.metre = -1, .tag = TAG_ANGLE}, "an angle per length", "rad/m", 3},
    {{.second = -1, .tag = TAG_ANGLE}, "an angle per time", "rad/s", 3},
};

/* What is said of a dimension that has no row: two units that nobody asked for together. */
static const Kind kind_other = {NUMBER, "a measure of another kind", "SI", 3};

static const Kind *kind_of(Dimension dimension)
{
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (dimension_equal(kinds[i].dimension, dimension)) {
            return &kinds[i];
        }
    }
    return &kind_other;
}

bool dimension_equal(Dimension a, Dimension b)
{
    return memcmp(&a, &b, sizeof a) == 0;
}

bool dimension_serves(Dimension is, Dimension wanted)
{
    static const Dimension area = AREA, size = SIZE;

    return dimension_equal(is, wanted) || (dimension_equal(is, area) && dimension_equal(wanted, size));
}

const char *dimension_name(Dimension dimension)
{
    return kind_of(dimension)->name;
}

const char *dimension_si_text(Dimension dimension, double *scale)
{
    static const Dimension charge = CHARGE;

    *scale = dimension_equal(dimension, charge) ? 1.0 / 3600.0 : 1.0;
    return kind_of(dimension)->si_text;
}

int dimension_digits(Dimension dimension)
{
    return kind_of(dimension)->digits;
}

Dimension unit_dimension(UnitPair pair)
{
    Dimension dimension = units[pair.unit].dimension;
    Dimension per = units[pair.per].dimension;

    dimension.metre = (int8_t)(dimension.metre - per.metre);
    dimension.kilogram = (int8_t)(dimension.kilogram - per.kilogram);
    dimension.second = (int8_t)(dimension.second - per.second);
    dimension.ampere = (int8_t)(dimension.ampere - per.ampere);
    dimension.kelvin = (int8_t)(dimension.kelvin - per.kelvin);
    dimension.candela = (int8_t)(dimension.candela - per.candela);
    dimension.money = (int8_t)(dimension.money - per.money);
    return dimension; /* with the tag of what stands above the line */
}

/* ------------------------------------------------------------------------------------------ conversion */

/* 1000 for 1e-3, 60 for 1/60; 0 if the factor is not one part of a whole number. */
static double whole_parts(double factor)
{
    double parts = 1.0 / factor;

    return parts > 1.0 && parts == floor(parts) ? parts : 0.0;
}

/*
 * number * factor. Dividing by 1e6 rounds once, where multiplying by 1e-6 rounds what is already rounded: 35
 * mm2 has to be the same number as the 35e-6 of a table.
 */
static double times(double number, double factor)
{
    double parts = whole_parts(factor);

    return parts > 0.0 ? number / parts : number * factor;
}

static double divided(double number, double factor)
{
    double parts = whole_parts(factor);

    return parts > 0.0 ? number * parts : number / factor;
}

/* In a compound a degree is a difference, so the offset falls away. */
static double offset_of(UnitPair pair)
{
    return pair.per == UNIT_NONE ? units[pair.unit].offset : 0.0;
}

bool unit_is_of_the_clock(UnitPair pair)
{
    return pair.unit == UNIT_H || pair.unit == UNIT_MIN || pair.unit == UNIT_S;
}

double unit_to_si(UnitPair pair, double number)
{
    double si = times(number, units[pair.unit].factor) + offset_of(pair);

    return pair.per == UNIT_NONE ? si : divided(si, units[pair.per].factor);
}

double unit_from_si(UnitPair pair, double si)
{
    double number = times(si, units[pair.per].factor) - offset_of(pair);

    return divided(number, units[pair.unit].factor);
}

/* --------------------------------------------------------------------------------------------- look-up */

enum { WORD_BYTES = 8 };

/* The words once more, padded with zeros to eight bytes: a whole word is compared at once. */
static const char words[UNIT_COUNT][WORD_BYTES] = {
#define UNIT(ID, WORD, ...) [UNIT_##ID] = WORD,
#include "language/units.def"
#undef UNIT
};

#define UNIT(ID, WORD, ...) _Static_assert(sizeof(WORD) <= WORD_BYTES, "this unit's word is too long: " WORD);
#include "language/units.def"
#undef UNIT
_Static_assert(UNIT_TABLE <= UINT8_MAX, "a UnitPair holds units in a byte each");

UnitId unit_find(Str word)
{
    char padded[WORD_BYTES] = {0};

    /* The last byte: a word that ends in NUL would be taken for the word without it. */
    if (word.length == 0 || word.length >= WORD_BYTES || word.text[word.length - 1] == '\0') {
        return UNIT_NONE;
    }
    memcpy(padded, word.text, word.length);
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        if (memcmp(words[id], padded, WORD_BYTES) == 0) {
            return (UnitId)id;
        }
    }
    return UNIT_NONE;
}

/*
 * What people write, whatever its case, and the unit that it stands for. A plural in s of a longer word
 * needs no entry of its own, nor does a unit's meaning (`litres`, `volt`), nor its word in another case
 * (`AH`) if no other unit is spelt so.
 */
typedef struct Meant {
    const char *words; /* between single blanks */
    UnitId unit;
} Meant;

static const Meant meant[] = {
    {"meter mtr", UNIT_M},
    {"millimeter", UNIT_MM},
    {"centimeter cms", UNIT_CM},
    {"kilometer kms", UNIT_KM},
    {"micrometer micron µm μm", UNIT_UM}, /* micro sign, Greek mu */
    {"feet", UNIT_FT},
    {"inches ins", UNIT_IN},
    {"nm naut-mile nautical-mile", UNIT_NMI},
    {"kn kns kt kts", UNIT_KN}, /* kn, too: KN is likelier to be a speed than a force */
    {"sqm m^2 m²", UNIT_M2},
    {"sqcm cm^2 cm²", UNIT_CM2},
    {"sqmm qmm mm^2 mm²", UNIT_MM2},
    {"ga gauge", UNIT_AWG},
    {"cbm m^3 m³", UNIT_M3},
    {"cc ccm cm^3 cm³", UNIT_CM3},
    {"liter ltr lt dm3", UNIT_L},
    {"milliliter mls", UNIT_ML},
    {"gallon usgal us-gal", UNIT_GAL},
    {"imp-gal igal ukgal uk-gal", UNIT_IMPGAL},
    {"kilo kgs kilogramme", UNIT_KG},
    {"gramme gr", UNIT_G},
    {"lbs", UNIT_LB},
    {"kp kilopond kg-force", UNIT_KGF},
    {"psig psia", UNIT_PSI},
    {"barg bara", UNIT_BAR},
    {"hgin in-hg", UNIT_INHG},
    {"mwc mwg mws mh20", UNIT_MH2O}, /* the last with a nought */
    /* after a degree sign, after an ordinal sign, and as one sign */
    {"celsius centigrade °c ºc ℃", UNIT_CELSIUS},
    {"fahrenheit °f ºf ℉", UNIT_FAHRENHEIT},
    {"k kelvin", UNIT_DEG_C}, /* the kelvin of `%/K` on a plate is a difference */
    {"bhp shp", UNIT_HP},
    {"cv pk", UNIT_PS},
    {"whr", UNIT_WH},
    {"kwhr", UNIT_KWH},
    {"amp adc aac", UNIT_A},
    {"milliamp", UNIT_MA},
    {"kiloamp", UNIT_KA},
    {"ahr amph amp-hour amphour", UNIT_AH},
    {"milliamp-hour", UNIT_MAH},
    {"vdc vac", UNIT_V},
    {"Ω ω Ω", UNIT_OHM}, /* Greek omega, large and small; the ohm sign */
    {"mΩ mω mΩ", UNIT_MOHM},
    {"cps", UNIT_HZ},
    {"rev upm min-1", UNIT_RPM},
    {"° º", UNIT_DEG},
    {"sec", UNIT_S},
    {"mins", UNIT_MIN},
    {"hr hrs", UNIT_H},
    {"days", UNIT_D},
    {"wk wks", UNIT_WEEK},
    {"mth mon", UNIT_MONTH},
    {"yr yrs", UNIT_YEAR},
    {"percent pct per-cent", UNIT_PERCENT},
};

/* The one unit of that word in another case; none if there are two. */
static UnitId meant_by_case(Str word)
{
    UnitId found = UNIT_NONE;

    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        if (same_letters(word, units[id].word, strlen(units[id].word))) {
            if (found != UNIT_NONE) {
                return UNIT_NONE;
            }
            found = (UnitId)id;
        }
    }
    return found;
}

static UnitId meant_by_meaning(Str word)
{
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        if (same_letters(word, units[id].meaning, strlen(units[id].meaning))) {
            return (UnitId)id;
        }
    }
    return UNIT_NONE;
}

static UnitId meant_as_written(Str word)
{
    for (size_t i = 0; i < sizeof meant / sizeof meant[0]; i++) {
        if (is_listed(word, meant[i].words)) {
            return meant[i].unit;
        }
    }
    UnitId found = meant_by_case(word);
    return found != UNIT_NONE ? found : meant_by_meaning(word);
}

UnitId unit_meant(Str word)
{
    UnitId found = unit_find(word);

    if (found == UNIT_NONE && word.length > 0) {
        found = meant_as_written(word);
    }
    /* A plural; not of one or two letters, or milliseconds (`ms`) would be taken for metres. */
    if (found == UNIT_NONE && word.length > 3 && char_lower(word.text[word.length - 1]) == 's') {
        found = meant_as_written((Str){word.text, word.length - 1});
    }
    return found;
}

/* The mile is 1760 yards of 0.9144 m, exactly (SP 811); a nautical mile 1852 m. The short ton is 2000 lb, the long one 2240 lb. */
static const UnitElsewhere elsewhere[] = {
    {"mi mile miles statute-mile statute-miles", "statute miles", UNIT_NMI, 1609.344 / 1852.0, "nautical miles are `nmi`"},
    {"ton tons short-ton short-tons", "short tons", UNIT_LB, 2000.0, "the metric ton is `t`, the long ton 2240 lb"},
    {"long-ton long-tons", "long tons", UNIT_LB, 2240.0, NULL},
    {"mph", "statute miles an hour", UNIT_KN, 1609.344 / 1852.0, NULL},
    {"fathom fathoms", "fathoms", UNIT_FT, 6.0, NULL},
    {"stone stones", "stones", UNIT_LB, 14.0, NULL},
};

const UnitElsewhere *unit_elsewhere(Str word)
{
    for (size_t i = 0; i < sizeof elsewhere / sizeof elsewhere[0]; i++) {
        if (word.length > 0 && is_listed(word, elsewhere[i].words)) {
            return &elsewhere[i];
        }
    }
    return NULL;
}

/* -------------------------------------------------------------------------------------------- printing */

void unit_write(Buf *buf, UnitPair pair)
{
    buf_text(buf, units[pair.unit].word);
    if (pair.per != UNIT_NONE) {
        buf_char(buf, '/');
        buf_text(buf, units[pair.per].word);
    }
}

/* What subtracting an offset leaves of a value that is zero: 32 F comes out as 6e-14 C. */
static double without_residue(double number, UnitPair pair)
{
    double residue = 1e-12 * fabs(offset_of(pair) / units[pair.unit].factor);

    return fabs(number) < residue ? 0.0 : number;
}

/* What is no amount of its quantity: a share that sums of steps leave of an empty bank, a time that nothing takes. */
static double without_trace(double si, UnitPair pair)
{
    static const double share = 1e-9, seconds = 0.01;
    bool time = dimension_equal(unit_dimension(pair), unit_dimension((UnitPair){UNIT_S, UNIT_NONE}));
    double trace = pair.per != UNIT_NONE         ? 0.0
                   : pair.unit == UNIT_PERCENT ? share
                   : time                      ? seconds
                                               : 0.0;
    return fabs(si) < trace ? 0.0 : si;
}

/* An end that is below all digits of the other one is what sums of steps leave of none: -10.8..0 l. */
static double without_noise(double end, double other)
{
    return isfinite(other) && fabs(end) < 1e-12 * fabs(other) ? 0.0 : end;
}

/* Moments beyond the calendar are held at its ends. */
static void write_day(Buf *buf, double si)
{
    double day = floor(si / units[UNIT_DATE].factor);
    double last = date_of(9999, 12, 31), first = date_of(1000, 1, 1);
    date_write(buf, (Date)(day > last ? last : day < first ? first : day));
}

/* Hours that are whole are told whole: they are readings of a meter, which is compared with them digit by digit. */
static int digits_of(UnitPair pair, double number)
{
    enum { DIGITS_OF_A_METER = 7 };
    bool whole = fabs(number - round(number)) <= 1e-9 * fabs(number);
    return pair.unit == UNIT_H && pair.per == UNIT_NONE && whole ? DIGITS_OF_A_METER : dimension_digits(unit_dimension(pair));
}

static void write_number(Buf *buf, UnitPair pair, double si)
{
    if (pair.unit == UNIT_DATE) {
        write_day(buf, si);
        return;
    }
    double number = without_residue(unit_from_si(pair, si), pair);
    num_write(buf, number, digits_of(pair, number));
}

/* `12.5` or `30..50`; one number where the ends differ less than their digits show. */
static void write_range(Buf *buf, UnitPair pair, double low_si, double high_si)
{
    Buf low_text, high_text;
    double low = without_noise(low_si, high_si), high = without_noise(high_si, low_si);

    if (low == high) {
        write_number(buf, pair, low);
        return;
    }
    buf_init(&low_text, buf->arena);
    buf_init(&high_text, buf->arena);
    write_number(&low_text, pair, low);
    write_number(&high_text, pair, high);
    buf_add(buf, buf_str(&low_text));
    if (!str_equal(buf_str(&low_text), buf_str(&high_text))) {
        buf_text(buf, "..");
        buf_add(buf, buf_str(&high_text));
    }
}

static bool says_nothing(double low, double high)
{
    bool no_floor = low == 0.0 || low == -INFINITY;

    return isnan(low) || isnan(high) || high == -INFINITY || (high == INFINITY && no_floor);
}

void unit_print(Buf *buf, UnitPair pair, double low, double high)
{
    if (isnan(units[pair.unit].factor)) {
        /* Gauge numbers are printed where the conductor tables are; here the area is known. */
        pair = (UnitPair){UNIT_MM2, UNIT_NONE};
    }
    low = without_trace(low, pair);
    high = without_trace(high, pair);
    if (says_nothing(low, high) || low == INFINITY) {
        buf_text(buf, low == INFINITY ? "unlimited" : "unknown");
        return;
    }
    if (high == INFINITY) {
        buf_text(buf, "at least ");
        write_number(buf, pair, low);
    } else if (low == -INFINITY) {
        buf_text(buf, "up to ");
        write_number(buf, pair, high);
    } else {
        write_range(buf, pair, low, high);
    }
    if (pair.unit != UNIT_DATE && (pair.unit != UNIT_NONE || pair.per != UNIT_NONE)) {
        buf_char(buf, ' ');
        unit_write(buf, pair);
    }
}

/* Customary units */

/* What a boat that is stated in feet is told in: the trade's unit there for each of those that the tables of figures use. */
static const struct {
    UnitPair metric, customary;
} customary[] = {
    {{UNIT_M, UNIT_NONE}, {UNIT_FT, UNIT_NONE}},      {{UNIT_CM, UNIT_NONE}, {UNIT_IN, UNIT_NONE}},
    {{UNIT_MM, UNIT_NONE}, {UNIT_IN, UNIT_NONE}},     {{UNIT_M2, UNIT_NONE}, {UNIT_FT2, UNIT_NONE}},
    {{UNIT_CM2, UNIT_NONE}, {UNIT_IN2, UNIT_NONE}},   {{UNIT_M3, UNIT_NONE}, {UNIT_FT3, UNIT_NONE}},
    {{UNIT_L, UNIT_NONE}, {UNIT_GAL, UNIT_NONE}},     {{UNIT_L, UNIT_MIN}, {UNIT_GPM, UNIT_NONE}},
    {{UNIT_L, UNIT_H}, {UNIT_GPH, UNIT_NONE}},        {{UNIT_M3, UNIT_H}, {UNIT_CFM, UNIT_NONE}},
    {{UNIT_M, UNIT_S}, {UNIT_FT, UNIT_S}},            {{UNIT_KG, UNIT_NONE}, {UNIT_LB, UNIT_NONE}},
    {{UNIT_KG, UNIT_CM}, {UNIT_LB, UNIT_IN}},         {{UNIT_N, UNIT_NONE}, {UNIT_LBF, UNIT_NONE}},
    {{UNIT_BAR, UNIT_NONE}, {UNIT_PSI, UNIT_NONE}},   {{UNIT_KPA, UNIT_NONE}, {UNIT_PSI, UNIT_NONE}},
    {{UNIT_MPA, UNIT_NONE}, {UNIT_PSI, UNIT_NONE}},
    {{UNIT_KW, UNIT_NONE}, {UNIT_HP, UNIT_NONE}},     {{UNIT_KG_M, UNIT_NONE}, {UNIT_LB_FT, UNIT_NONE}},
    {{UNIT_KG_M, UNIT_CM}, {UNIT_LB_FT, UNIT_IN}},    {{UNIT_KG_M, UNIT_DEG}, {UNIT_LB_FT, UNIT_DEG}},
};

UnitPair unit_customary(UnitPair unit)
{
    for (size_t i = 0; i < sizeof customary / sizeof customary[0]; i++) {
        if (customary[i].metric.unit == unit.unit && customary[i].metric.per == unit.per) {
            return customary[i].customary;
        }
    }
    return unit;
}
