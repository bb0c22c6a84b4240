/*
 * Units: a closed, case-sensitive list (units.def), each with its dimension and its factor to the coherent SI unit.
 *
 * Inside the program every number is in the coherent SI unit of its dimension (m, kg, s, A, K, V, W, J, Pa, m3, m3/s, rad,
 * ratio 1 ...). Charge too (coulomb): only output turns it to Ah. Money is in the currency of its amount.
 * Knows texts and numbers; not the schema, not specs.
 */
#ifndef GARBOARD_LANGUAGE_UNIT_H
#define GARBOARD_LANGUAGE_UNIT_H

#include "base/buf.h"
#include "base/str.h"

#include <stdbool.h>
#include <stdint.h>

/* What sets measures apart that share their exponents: a temperature is not a difference, rpm is not Hz. */
typedef enum Tag {
    TAG_NONE,
    TAG_RATIO,       /* % */
    TAG_ANGLE,       /* deg */
    TAG_TURNING,     /* rpm (kept in rev/s) */
    TAG_LEVEL,       /* dB */
    TAG_TEMPERATURE, /* C, F: absolute, kept in K; degC and degF are differences and have TAG_NONE */
    TAG_SIZE,        /* conductor size: AWG and SAE; mm2 is both an area and a size */
    TAG_MONEY,
} Tag;

/** Exponents of the SI base units, and the tag. Equal dimensions are equal bytes. */
typedef struct Dimension {
    int8_t metre, kilogram, second, ampere, kelvin, candela;
    int8_t money;
    uint8_t tag; /* Tag */
} Dimension;

typedef enum UnitId {
    UNIT_NONE, /* a plain number */
#define UNIT(ID, ...) UNIT_##ID,
#include "language/units.def"
#undef UNIT
    UNIT_COUNT,
    /* Not of the language: a day of the calendar, kept in seconds since 1970-01-01, printed as a date; moments of masses. */
    UNIT_DATE = UNIT_COUNT,
    UNIT_KG_M,
    UNIT_LB_FT,
    UNIT_TABLE
} UnitId;

typedef struct Unit {
    const char *word;     /* as written in a spec: "mm2" */
    Dimension dimension;
    double factor;        /* value in SI = number * factor + offset */
    double offset;
    const char *meaning;  /* "millimetre": singular, for help and messages */
    const char *source;   /* where the factor comes from */
} Unit;

extern const Unit units[UNIT_TABLE];

/** A unit as written: one unit, or one by another (`g/kWh`). per is UNIT_NONE if there is none. */
typedef struct UnitPair {
    uint8_t unit; /* UnitId */
    uint8_t per;  /* UnitId */
} UnitPair;

/** The unit of that exact spelling, or UNIT_NONE. */
UnitId unit_find(Str word);
/** The unit probably meant by a word that is none (`amp` -> A, `ma` -> mA, `litre` -> l), or UNIT_NONE. */
UnitId unit_meant(Str word);

/* A unit that the language does not have, and one that it has: so many of that one. */
typedef struct UnitElsewhere {
    const char *words; /* a blank between */
    const char *meaning;
    UnitId unit;
    double factor;
    const char *remark; /* or NULL */
} UnitElsewhere;

/** The unit of that word, which no other word of the language stands for; NULL if it is none. */
const UnitElsewhere *unit_elsewhere(Str word);

static inline bool unit_equal(UnitPair a, UnitPair b)
{
    return a.unit == b.unit && a.per == b.per;
}
Dimension unit_dimension(UnitPair pair);
/** The tag of its dimension: that of what stands above the line. */
static inline Tag unit_tag(UnitPair pair)
{
    return (Tag)units[pair.unit].dimension.tag;
}
bool dimension_equal(Dimension a, Dimension b);
/** Whether a quantity of dimension `is` may stand where `wanted` is asked for (mm2 serves as a conductor size). */
bool dimension_serves(Dimension is, Dimension wanted);
/** "a length", "a current", "a volume flow", "a share (%)", "money" ... for messages; never NULL. */
const char *dimension_name(Dimension dimension);

/** Hours, minutes or seconds, and not days or months: what a meter counts, and what work takes. */
bool unit_is_of_the_clock(UnitPair pair);
double unit_to_si(UnitPair pair, double number);
double unit_from_si(UnitPair pair, double si);
/** "l/min": the unit as it is written. */
void unit_write(Buf *buf, UnitPair pair);

/**
 * The unit for JSON: the coherent SI unit ("A", "V", "m", "m3", "m3/s", "K", "J", "W", "kg", "rad", "1"), except that
 * charge is "Ah". `*scale` is what an inside value is multiplied by (1, or 1/3600 for charge). Money has none: "".
 */
const char *dimension_si_text(Dimension dimension, double *scale);

/** Significant digits that are worth printing for a quantity of this dimension (design: one table). */
int dimension_digits(Dimension dimension);

/**
 * Prints low..high (SI) in a unit with a sensible number of digits: `12.5 A`, `30..50 l`, `at least 500 Ah` (high infinite),
 * `up to 20 kg` (low minus infinite), `unknown` (both). The unit stands once. A low end of zero with an infinite high end
 * is `unknown` too. No unit word for UNIT_NONE. A date is the day that the moment lies in: `2027-05-03`.
 */
void unit_print(Buf *buf, UnitPair pair, double low, double high);

/** The trade's unit in a boat that is stated in feet, for one that tables and defaults use: `in` for `mm`; or the same. */
UnitPair unit_customary(UnitPair unit);

#endif
