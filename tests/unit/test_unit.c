/*
 * Units: every word, factor and dimension; near misses; printing.
 *
 * Every factor is compared with what GNU units (the program `units`, from its own definitions file) says:
 * skipped where the program is missing. A smaller table of printed factors needs no program.
 */
#define _POSIX_C_SOURCE 200809L /* popen */

#include "base/buf.h"
#include "base/num.h"
#include "language/unit.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define ALONE(id) ((UnitPair){UNIT_##id, UNIT_NONE})
#define PER(id, by) ((UnitPair){UNIT_##id, UNIT_##by})

/*
 * Every unit, and how GNU units writes `#` of it. Where it has no such thing, `none` says why; what it
 * says has a test of its own. A unit that is missing here fails a test.
 */
typedef struct Row {
    const char *word;
    UnitId id;
    const char *outside;
    const char *none;
} Row;

static const Row rows[] = {
    {"m", UNIT_M, "# meter", NULL},
    {"mm", UNIT_MM, "# millimeter", NULL},
    {"cm", UNIT_CM, "# centimeter", NULL},
    {"km", UNIT_KM, "# kilometer", NULL},
    {"um", UNIT_UM, "# micrometer", NULL},
    {"ft", UNIT_FT, "# foot", NULL},
    {"in", UNIT_IN, "# inch", NULL},
    {"nmi", UNIT_NMI, "# nauticalmile", NULL},
    {"kn", UNIT_KN, "# knot", NULL},
    {"m2", UNIT_M2, "# meter^2", NULL},
    {"cm2", UNIT_CM2, "# centimeter^2", NULL},
    {"mm2", UNIT_MM2, "# millimeter^2", NULL},
    {"AWG", UNIT_AWG, NULL, "a gauge number has no factor"},
    {"SAE", UNIT_SAE, NULL, "a gauge number has no factor"},
    {"m3", UNIT_M3, "# meter^3", NULL},
    {"cm3", UNIT_CM3, "# centimeter^3", NULL},
    {"l", UNIT_L, "# liter", NULL},
    {"cl", UNIT_CL, "# centiliter", NULL},
    {"ml", UNIT_ML, "# milliliter", NULL},
    {"gal", UNIT_GAL, "# usgallon", NULL},
    {"impgal", UNIT_IMPGAL, "# imperialgallon", NULL},
    {"gph", UNIT_GPH, "# usgallon/hour", NULL},
    {"gpm", UNIT_GPM, "# usgallon/minute", NULL},
    {"ft2", UNIT_FT2, "# ft^2", NULL},
    {"in2", UNIT_IN2, "# inch^2", NULL},
    {"ft3", UNIT_FT3, "# ft^3", NULL},
    {"cfm", UNIT_CFM, "# ft^3/minute", NULL},
    {"kg", UNIT_KG, "# kilogram", NULL},
    {"g", UNIT_G, "# gram", NULL},
    {"t", UNIT_T, "# tonne", NULL},
    {"lb", UNIT_LB, "# pound", NULL},
    {"oz", UNIT_OZ, "# ounce", NULL},
    {"N", UNIT_N, "# newton", NULL},
    {"kN", UNIT_KILONEWTON, "# kilonewton", NULL},
    {"lbf", UNIT_LBF, "# lbf", NULL},
    {"kgf", UNIT_KGF, "# kgf", NULL},
    {"Pa", UNIT_PA, "# pascal", NULL},
    {"kPa", UNIT_KPA, "# kilopascal", NULL},
    {"MPa", UNIT_MPA, "# megapascal", NULL},
    {"hPa", UNIT_HPA, "# hectopascal", NULL},
    {"mbar", UNIT_MBAR, "# millibar", NULL},
    {"bar", UNIT_BAR, "# bar", NULL},
    {"psi", UNIT_PSI, "# psi", NULL},
    {"inHg", UNIT_INHG, "# inHg", NULL},
    {"mH2O", UNIT_MH2O, "# meter H2O", NULL}, /* "mH2O" is a thousandth of its H2O */
    {"C", UNIT_CELSIUS, "tempC(#)", NULL},
    {"F", UNIT_FAHRENHEIT, "tempF(#)", NULL},
    {"degC", UNIT_DEG_C, "# degC", NULL},
    {"degF", UNIT_DEG_F, "# degF", NULL},
    {"W", UNIT_W, "# watt", NULL},
    {"mW", UNIT_MILLIWATT, "# milliwatt", NULL},
    {"kW", UNIT_KW, "# kilowatt", NULL},
    {"hp", UNIT_HP, "# horsepower", NULL},
    {"PS", UNIT_PS, "# metrichorsepower", NULL},
    {"VA", UNIT_VA, "# volt ampere", NULL},
    {"kVA", UNIT_KVA, "# kilovolt ampere", NULL},
    {"J", UNIT_J, "# joule", NULL},
    {"kJ", UNIT_KJ, "# kilojoule", NULL},
    {"MJ", UNIT_MJ, "# megajoule", NULL},
    {"Wh", UNIT_WH, "# watt hour", NULL},
    {"kWh", UNIT_KWH, "# kilowatt hour", NULL},
    {"BTU", UNIT_BTU, "# btu_IT", NULL},
    {"A", UNIT_A, "# ampere", NULL},
    {"mA", UNIT_MA, "# milliampere", NULL},
    {"kA", UNIT_KA, "# kiloampere", NULL},
    {"Ah", UNIT_AH, "# ampere hour", NULL},
    {"mAh", UNIT_MAH, "# milliampere hour", NULL},
    {"V", UNIT_V, "# volt", NULL},
    {"mV", UNIT_MV, "# millivolt", NULL},
    {"kV", UNIT_KV, "# kilovolt", NULL},
    {"ohm", UNIT_OHM, "# ohm", NULL},
    {"mohm", UNIT_MOHM, "# milliohm", NULL},
    {"Hz", UNIT_HZ, "# hertz", NULL},
    {"kHz", UNIT_KHZ, "# kilohertz", NULL},
    {"rpm", UNIT_RPM, "# rpm", NULL},
    {"deg", UNIT_DEG, "# degree", NULL},
    {"s", UNIT_S, "# second", NULL},
    {"ms", UNIT_MILLISECOND, "# millisecond", NULL},
    {"min", UNIT_MIN, "# minute", NULL},
    {"h", UNIT_H, "# hour", NULL},
    {"d", UNIT_D, "# day", NULL},
    {"day", UNIT_DAY, "# day", NULL},
    {"week", UNIT_WEEK, "# week", NULL},
    {"month", UNIT_MONTH, "# julianyear/12", NULL}, /* its own month is of the tropical year */
    {"year", UNIT_YEAR, "# julianyear", NULL},      /* likewise */
    {"%", UNIT_PERCENT, "# percent", NULL},
    {"dB", UNIT_DB, NULL, "a level stays as it is written"},
    {"lm", UNIT_LM, "# lumen", NULL},
    {"cd", UNIT_CD, "# candela", NULL},
};

static void assert_close(double value, double expected, double tolerance, const char *what)
{
    if (!(fabs(value - expected) <= tolerance * fabs(expected))) {
        fail_msg("%s: %.17g, not %.17g", what, value, expected);
    }
}

/* ------------------------------------------------------------------------------------------ the table */

static void every_unit_is_found_by_its_word(void **state)
{
    (void)state;
    bool seen[UNIT_COUNT] = {false};

    for (size_t i = 0; i < COUNT(rows); i++) {
        assert_string_equal(units[rows[i].id].word, rows[i].word);
        assert_int_equal(unit_find(str_from(rows[i].word)), rows[i].id);
        seen[rows[i].id] = true;
    }
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        if (!seen[id]) {
            fail_msg("`%s` has no row in this test", units[id].word);
        }
    }
}

static void a_word_is_found_wherever_it_stands_in_a_text(void **state)
{
    (void)state;
    const char *text = "12.5mAh";

    assert_int_equal(unit_find((Str){text + 4, 3}), UNIT_MAH);
    assert_int_equal(unit_find((Str){text + 4, 2}), UNIT_MA);
    assert_int_equal(unit_find((Str){text + 5, 1}), UNIT_A);
}

/* Steps through words with single blanks between them: start with an empty Str at the beginning. */
static bool next_word(Str *word)
{
    const char *at = word->text + word->length;

    at += *at == ' ' ? 1 : 0;
    *word = (Str){at, strcspn(at, " ")};
    return word->length > 0;
}

static void assert_not_found(const char *list)
{
    for (Str word = {list, 0}; next_word(&word);) {
        if (unit_find(word) != UNIT_NONE) {
            fail_msg("`%.*s` is a unit", STR_ARG(word));
        }
    }
}

static void what_is_no_unit_is_not_found(void **state)
{
    (void)state;
    assert_not_found("MA ma Mm mmm KW L metre impgals impgallon impgallons-of-it EUR lifepo4 m/s °C none");
    assert_int_equal(unit_find(STR("m ")), UNIT_NONE);
    assert_int_equal(unit_find(STR(" m")), UNIT_NONE);
    assert_int_equal(unit_find(STR("")), UNIT_NONE);
    assert_int_equal(unit_find(STR("m\0")), UNIT_NONE);
    assert_int_equal(unit_find(STR("\0")), UNIT_NONE);
    assert_int_equal(unit_find(STR("m\0m")), UNIT_NONE);
    assert_int_equal(unit_find((Str){NULL, 0}), UNIT_NONE);
}

static void no_unit_is_spelt_like_a_word_that_joins_terms(void **state)
{
    (void)state;
    assert_not_found("at from per by on of to for is was until because with every yes no");
}

static void every_row_is_whole(void **state)
{
    (void)state;
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        const Unit *unit = &units[id];

        assert_true(strlen(unit->meaning) > 0 && strlen(unit->source) > 0);
        if (unit->dimension.tag == TAG_SIZE) {
            assert_true(isnan(unit->factor));
        } else {
            assert_true(unit->factor > 0.0 && isfinite(unit->factor));
        }
        assert_true((unit->offset > 0.0) == (unit->dimension.tag == TAG_TEMPERATURE));
        for (int other = id + 1; other < UNIT_COUNT; other++) {
            assert_string_not_equal(unit->word, units[other].word);
        }
    }
}

/* ------------------------------------------------------------------------------------------ factors */

/* The coherent SI unit of a dimension, as GNU units reads it. Turning is kept in revolutions, not radians. */
static const char *outside_si(Arena *arena, Dimension d)
{
    return text_format(arena, "%s m^%d kg^%d s^%d A^%d K^%d cd^%d", d.tag == TAG_TURNING ? "revolution" : "1",
                       d.metre, d.kilogram, d.second, d.ampere, d.kelvin, d.candela);
}

/* What GNU units makes of `have` in `want`, also as text in `answer`. False if that is no number. */
static bool ask_outside(Arena *arena, const char *have, const char *want, char *answer, int size,
                        double *value)
{
    /* Nobody's own definitions, the American gallon, and decimals that num_read takes. */
    FILE *pipe = popen(text_format(arena,
                                   "HOME=/nonexistent UNITSFILE= MYUNITSFILE= UNITS_ENGLISH=US LC_ALL=C "
                                   "units -q -t -o '%%.24f' '%s' '%s' 2>&1",
                                   have, want),
                       "r");

    answer[0] = '\0';
    if (pipe == NULL || fgets(answer, size, pipe) == NULL) {
        answer[0] = '\0';
    }
    if (pipe != NULL) {
        (void)pclose(pipe);
    }
    answer[strcspn(answer, "\n")] = '\0';
    return num_read(str_from(answer), value);
}

/* `pattern` with `number` in the place of its `#`. */
static const char *outside_text(Arena *arena, const char *pattern, const char *number)
{
    const char *mark = strchr(pattern, '#');

    assert_non_null(mark);
    return text_format(arena, "%.*s(%s)%s", (int)(mark - pattern), pattern, number, mark + 1);
}

/* All definitions used here are exact, so what may differ is rounding; 1e-9 is far more. */
static void check_outside(Arena *arena, const char *pattern, UnitPair pair, const char *number_text)
{
    char answer[200];
    double number, expected;
    const char *have = outside_text(arena, pattern, number_text);
    const char *want = outside_si(arena, unit_dimension(pair));

    assert_true(num_read(str_from(number_text), &number));
    if (!ask_outside(arena, have, want, answer, sizeof answer, &expected)) {
        fail_msg("units says of `%s` in `%s`: %s", have, want, answer);
    }
    assert_close(unit_to_si(pair, number), expected, 1e-9, have);
}

static void skip_without_outside(Arena *arena)
{
    char answer[200];
    double two;

    if (!ask_outside(arena, "2 m", "m", answer, sizeof answer, &two)) {
        print_message("skipped: no working `units` program (GNU units) to compare with: %s\n", answer);
        skip();
    }
}

static void every_factor_is_what_gnu_units_says(void **state)
{
    skip_without_outside(*state);
    for (size_t i = 0; i < COUNT(rows); i++) {
        UnitPair pair = {(uint8_t)rows[i].id, UNIT_NONE};

        if (rows[i].outside == NULL) {
            assert_non_null(rows[i].none);
            continue;
        }
        check_outside(*state, rows[i].outside, pair, "1");
        if (units[rows[i].id].offset > 0.0) {
            check_outside(*state, rows[i].outside, pair, "-40");
            check_outside(*state, rows[i].outside, pair, "98.6");
        }
    }
}

static void one_unit_by_another_is_what_gnu_units_says(void **state)
{
    const struct {
        UnitPair pair;
        const char *outside;
    } compounds[] = {
        {PER(KM, H), "# km/hour"},
        {PER(M, S), "# m/s"},
        {PER(L, MIN), "# liter/minute"},
        {PER(L, H), "# liter/hour"},
        {PER(M3, H), "# m^3/hour"},
        {PER(G, KWH), "# gram/(kilowatt hour)"},
        {PER(KG, H), "# kg/hour"},
        {PER(DB, M), "# /m"}, /* the level is as it is written */
        {PER(PERCENT, DEG_C), "# percent/K"},
        {PER(PERCENT, CELSIUS), "# percent/K"}, /* no offset below the line */
        {PER(MV, DEG_C), "# millivolt/K"},
        {PER(A, W), "# ampere/watt"},
        {PER(KG, M), "# kg/m"},
        {PER(KG, L), "# kg/liter"},
        {PER(LB, FT), "# pound/foot"},
        {PER(W, M2), "# watt/m^2"},
        {PER(W, DEG_F), "# watt/degF"},
        {PER(MJ, KG), "# megajoule/kg"},
        {PER(MOHM, M), "# milliohm/m"},
        {PER(OHM, KM), "# ohm/km"},
        {PER(PERCENT, MONTH), "# percent/(julianyear/12)"},
        {PER(GAL, NMI), "# usgallon/nauticalmile"},
        {PER(BTU, H), "# btu_IT/hour"},
        {PER(DEG, S), "# degree/s"},
    };

    skip_without_outside(*state);
    for (size_t i = 0; i < COUNT(compounds); i++) {
        check_outside(*state, compounds[i].outside, compounds[i].pair, "12.5");
    }
}

/*
 * NIST SP 811 (2008), Appendix B.8, prints seven digits: half of the last one is allowed. The first rows were
 * compared with reprints of that table, the last are from memory. The imperial gallon is that of the Weights
 * and Measures Act 1985 (UK), Schedule 1, compared with a description of the Act.
 */
static void factors_agree_with_the_printed_tables(void **state)
{
    (void)state;
    static const struct {
        UnitId id;
        double printed;
    } table[] = {
        /* compared */
        {UNIT_FT, 3.048e-1},
        {UNIT_IN, 2.54e-2},
        {UNIT_NMI, 1.852e3},
        {UNIT_KN, 5.144444e-1},
        {UNIT_GAL, 3.785412e-3},
        {UNIT_IMPGAL, 4.54609e-3},
        {UNIT_INHG, 3.386389e3},
        {UNIT_HP, 7.456999e2},
        {UNIT_BTU, 1.055056e3},
        {UNIT_KWH, 3.6e6},
        {UNIT_AH, 3.6e3},
        {UNIT_DEG, 1.745329e-2},
        {UNIT_DAY, 8.64e4},
        /* from memory */
        {UNIT_GPM, 6.309020e-5},
        {UNIT_LB, 4.535924e-1},
        {UNIT_OZ, 2.834952e-2},
        {UNIT_LBF, 4.448222},
        {UNIT_PSI, 6.894757e3},
        {UNIT_MH2O, 9.80665e3},
        {UNIT_PS, 7.354988e2},
    };

    for (size_t i = 0; i < COUNT(table); i++) {
        double half_digit = 0.5e-6 * pow(10.0, floor(log10(table[i].printed)));

        assert_close(units[table[i].id].factor, table[i].printed, half_digit / table[i].printed * 1.000001,
                     units[table[i].id].word);
    }
}

/* By definition: 0 C is 273.15 K (SI Brochure, 9th edition, 2.3.1), 32 F is 0 C, 212 F is 100 C. */
static void temperatures_have_an_offset_and_differences_none(void **state)
{
    (void)state;
    assert_close(unit_to_si(ALONE(CELSIUS), 0.0), 273.15, 0.0, "0 C");
    assert_close(unit_to_si(ALONE(FAHRENHEIT), 32.0), 273.15, 1e-15, "32 F");
    assert_close(unit_to_si(ALONE(FAHRENHEIT), 212.0), 373.15, 1e-15, "212 F");
    assert_close(unit_to_si(ALONE(FAHRENHEIT), -40.0), unit_to_si(ALONE(CELSIUS), -40.0), 1e-15, "-40");
    assert_close(unit_to_si(ALONE(DEG_C), 10.0), 10.0, 0.0, "10 degC");
    assert_close(unit_to_si(ALONE(DEG_F), 18.0), 10.0, 1e-15, "18 degF");
    assert_close(unit_to_si(PER(CELSIUS, H), 36.0), 0.01, 1e-15, "36 C/h");
}

/* What is written in decimals is the nearest double in SI, too: a table of areas and a spec agree exactly. */
static void decimal_prefixes_do_not_round_twice(void **state)
{
    (void)state;
    assert_true(unit_to_si(ALONE(MM2), 35.0) == 35e-6);
    assert_true(unit_to_si(ALONE(MM2), 2.5) == 2.5e-6);
    assert_true(unit_to_si(ALONE(PERCENT), 57.0) == 0.57);
    assert_true(unit_to_si(ALONE(PERCENT), 35.0) == 0.35);
    assert_true(unit_to_si(ALONE(L), 33.0) == 0.033);
    assert_true(unit_to_si(ALONE(MM), 1001.0) == 1.001);
    assert_true(unit_to_si(ALONE(RPM), 3000.0) == 50.0);
    assert_true(unit_from_si(ALONE(PERCENT), 0.35) == 35.0);
    assert_true(unit_from_si(ALONE(RPM), 50.0) == 3000.0);
}

static void converting_there_and_back_changes_nothing(void **state)
{
    (void)state;
    for (int id = UNIT_NONE; id < UNIT_COUNT; id++) {
        for (int per = UNIT_NONE; per < UNIT_COUNT; per++) {
            UnitPair pair = {(uint8_t)id, (uint8_t)per};

            if (!isnan(units[id].factor) && !isnan(units[per].factor)) {
                assert_close(unit_from_si(pair, unit_to_si(pair, 12.75)), 12.75, 1e-12, units[id].word);
            }
        }
    }
    assert_true(unit_from_si(ALONE(AH), INFINITY) == INFINITY);
    assert_true(unit_to_si(ALONE(CELSIUS), -INFINITY) == -INFINITY);
}

static void a_gauge_number_makes_no_area_here(void **state)
{
    (void)state;
    assert_true(isnan(unit_to_si(ALONE(AWG), 6.0)));
    assert_true(isnan(unit_to_si(ALONE(SAE), 6.0)));
}

static void a_level_stays_as_it_is_written(void **state)
{
    (void)state;
    assert_true(unit_to_si(ALONE(DB), 3.0) == 3.0);
}

/* ------------------------------------------------------------------------------------------ dimensions */

static bool same(UnitPair a, UnitPair b)
{
    return dimension_equal(unit_dimension(a), unit_dimension(b));
}

static bool serves(UnitPair is, UnitPair wanted)
{
    return dimension_serves(unit_dimension(is), unit_dimension(wanted));
}

static void units_of_one_dimension_are_equal(void **state)
{
    (void)state;
    assert_int_equal(sizeof(Dimension), 8); /* no padding: equal dimensions are equal bytes */
    assert_true(same(ALONE(GAL), ALONE(M3)));
    assert_true(same(ALONE(GPH), PER(L, MIN)));
    assert_true(same(ALONE(KN), PER(KM, H)));
    assert_true(same(ALONE(HP), PER(BTU, H)));
    assert_true(same(ALONE(VA), ALONE(W)));
    assert_true(same(ALONE(WH), ALONE(BTU)));
    assert_true(same(ALONE(INHG), ALONE(MH2O)));
    assert_true(same(PER(PERCENT, DEG_C), PER(PERCENT, DEG_F)));
    assert_false(same(ALONE(AH), ALONE(A)));
    assert_false(same(ALONE(WH), ALONE(W)));
    assert_false(same(ALONE(LB), ALONE(LBF)));
}

static void a_tag_sets_apart_what_shares_its_exponents(void **state)
{
    (void)state;
    const UnitPair apart[][2] = {
        {ALONE(CELSIUS), ALONE(DEG_C)}, {ALONE(RPM), ALONE(HZ)},       {ALONE(PERCENT), ALONE(NONE)},
        {ALONE(DEG), ALONE(NONE)},      {ALONE(DB), ALONE(NONE)},      {ALONE(DB), ALONE(PERCENT)},
        {ALONE(LM), ALONE(CD)},         {PER(DB, M), PER(PERCENT, M)},
    };

    for (size_t i = 0; i < COUNT(apart); i++) {
        assert_false(same(apart[i][0], apart[i][1]));
        assert_false(serves(apart[i][0], apart[i][1]));
        assert_false(serves(apart[i][1], apart[i][0]));
    }
}

static void a_compound_has_the_tag_of_what_stands_above(void **state)
{
    (void)state;
    Dimension share = unit_dimension(PER(PERCENT, DEG_C));
    Dimension loss = unit_dimension(PER(DB, M));

    assert_int_equal(share.tag, TAG_RATIO);
    assert_int_equal(share.kelvin, -1);
    assert_int_equal(loss.tag, TAG_LEVEL);
    assert_int_equal(loss.metre, -1);
    assert_int_equal(unit_dimension(PER(M, CELSIUS)).tag, TAG_NONE);
    assert_int_equal(unit_dimension(PER(A, RPM)).tag, TAG_NONE);
}

static void an_area_serves_as_a_conductor_size_but_a_gauge_is_no_area(void **state)
{
    (void)state;
    assert_true(serves(ALONE(MM2), ALONE(AWG)));
    assert_true(serves(ALONE(AWG), ALONE(SAE)));
    assert_true(serves(ALONE(MM2), ALONE(M2)));
    assert_false(serves(ALONE(AWG), ALONE(M2)));
    assert_false(serves(ALONE(MM), ALONE(AWG)));
    assert_false(same(ALONE(MM2), ALONE(AWG)));
}

static void dimensions_are_named_in_the_words_of_the_trade(void **state)
{
    (void)state;
    static const Dimension money = {.money = 1, .tag = TAG_MONEY}, odd = {.metre = 7, .kelvin = 3};

    assert_string_equal(dimension_name(unit_dimension(ALONE(NONE))), "a plain number");
    assert_string_equal(dimension_name(unit_dimension(ALONE(FT))), "a length");
    assert_string_equal(dimension_name(unit_dimension(ALONE(MA))), "a current");
    assert_string_equal(dimension_name(unit_dimension(ALONE(GPM))), "a volume flow");
    assert_string_equal(dimension_name(unit_dimension(PER(L, H))), "a volume flow");
    assert_string_equal(dimension_name(unit_dimension(ALONE(PERCENT))), "a share (%)");
    assert_string_equal(dimension_name(unit_dimension(ALONE(AWG))), "a conductor size");
    assert_string_equal(dimension_name(unit_dimension(ALONE(FAHRENHEIT))),
                        dimension_name(unit_dimension(ALONE(CELSIUS))));
    assert_string_equal(dimension_name(money), "money");
    assert_string_equal(dimension_name(odd), "a measure of another kind");
}

static void every_unit_has_a_named_dimension_of_its_own(void **state)
{
    (void)state;
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        assert_string_not_equal(dimension_name(units[id].dimension), "a measure of another kind");
        assert_true(dimension_digits(units[id].dimension) >= 3);
        for (int other = UNIT_NONE; other < id; other++) {
            bool one_name =
                strcmp(dimension_name(units[id].dimension), dimension_name(units[other].dimension)) == 0;
            assert_true(one_name == dimension_equal(units[id].dimension, units[other].dimension));
        }
    }
}

/* ------------------------------------------------------------------------------------------ JSON */

/* The contract of the JSON outputs: coherent SI, ratios 1, charge Ah, money its currency. */
static void json_names_the_coherent_si_unit(void **state)
{
    (void)state;
    const struct {
        UnitPair pair;
        const char *text;
    } table[] = {
        {ALONE(NONE), "1"},    {ALONE(PERCENT), "1"},    {ALONE(MA), "A"},      {ALONE(KV), "V"},
        {ALONE(IN), "m"},      {ALONE(MM2), "m2"},       {ALONE(AWG), "m2"},    {ALONE(GAL), "m3"},
        {ALONE(GPH), "m3/s"},  {ALONE(FAHRENHEIT), "K"}, {ALONE(DEG_F), "K"},   {ALONE(BTU), "J"},
        {ALONE(HP), "W"},      {ALONE(KVA), "W"},        {ALONE(LB), "kg"},     {ALONE(DEG), "rad"},
        {ALONE(YEAR), "s"},    {ALONE(KN), "m/s"},       {ALONE(PSI), "Pa"},    {ALONE(LBF), "N"},
        {ALONE(MOHM), "ohm"},  {ALONE(HZ), "Hz"},        {ALONE(RPM), "1/s"},   {ALONE(DB), "dB"},
        {ALONE(CD), "cd"},     {ALONE(LM), "lm"},        {PER(DB, M), "dB/m"},  {PER(PERCENT, DEG_C), "1/K"},
        {PER(G, KWH), "kg/J"}, {PER(KG, M), "kg/m"},     {PER(L, MIN), "m3/s"}, {PER(KM, H), "m/s"},
    };

    for (size_t i = 0; i < COUNT(table); i++) {
        double scale = 0.0;

        assert_string_equal(dimension_si_text(unit_dimension(table[i].pair), &scale), table[i].text);
        assert_true(scale == 1.0);
    }
}

static void json_gives_charge_in_ampere_hours_and_money_no_unit(void **state)
{
    (void)state;
    static const Dimension money = {.money = 1, .tag = TAG_MONEY};
    double scale = 0.0;

    assert_string_equal(dimension_si_text(unit_dimension(ALONE(MAH)), &scale), "Ah");
    assert_close(unit_to_si(ALONE(AH), 460.0) * scale, 460.0, 1e-15, "460 Ah");
    assert_string_equal(dimension_si_text(money, &scale), "");
    assert_true(scale == 1.0);
}

/* ------------------------------------------------------------------------------------------ near misses */

static void assert_meant(UnitId right, const char *written)
{
    for (Str word = {written, 0}; next_word(&word);) {
        UnitId found = unit_meant(word);

        if (found != right) {
            fail_msg("`%.*s` is taken for `%s`, not `%s`", STR_ARG(word), units[found].word,
                     units[right].word);
        }
    }
}

/* The words that the language's own page and the owners' habits bring; common practice, no source. */
static void the_usual_confusions_name_the_right_unit(void **state)
{
    (void)state;
    assert_meant(UNIT_A, "amp amps Amp AMPS ampere Amperes");
    assert_meant(UNIT_MA, "ma MA Ma milliamps milliampere");
    assert_meant(UNIT_AH, "ah AH aH amp-hours amphours");
    assert_meant(UNIT_MAH, "mah MAH");
    assert_meant(UNIT_V, "v volt volts VOLTS Vdc VDC");
    assert_meant(UNIT_OHM, "ohms Ohm Ω Ω");
    assert_meant(UNIT_MOHM, "mohms MOHM mΩ mΩ");
    assert_meant(UNIT_W, "w watt Watts");
    assert_meant(UNIT_KW, "KW kw Kw kilowatt");
    assert_meant(UNIT_VA, "va Va");
    assert_meant(UNIT_HP, "HP Hp horsepower");
    assert_meant(UNIT_PS, "ps Ps");
    assert_meant(UNIT_KWH, "kwh KWH KWh kilowatt-hours");
    assert_meant(UNIT_BTU, "btu Btu BTUs");
    assert_meant(UNIT_L, "L litre Litres liter liters ltr ltrs");
    assert_meant(UNIT_GAL, "gallon gallons Gal gals");
    assert_meant(UNIT_CM3, "cc cm^3 cm³");
    assert_meant(UNIT_M3, "m^3 m³ M3");
    assert_meant(UNIT_M, "metre metres meter meters M");
    assert_meant(UNIT_MM, "millimetres MM");
    assert_meant(UNIT_UM, "µm micron microns");
    assert_meant(UNIT_IN, "inch inches IN");
    assert_meant(UNIT_FT, "foot feet Ft");
    assert_meant(UNIT_NMI, "NM nm Nmi");
    assert_meant(UNIT_KN, "knot knots kt kts KN Kn");
    assert_meant(UNIT_MM2, "sqmm mm^2 mm² MM2");
    assert_meant(UNIT_M2, "sqm m^2 m²");
    assert_meant(UNIT_AWG, "awg Awg gauge");
    assert_meant(UNIT_SAE, "sae Sae");
    assert_meant(UNIT_KG, "KG Kg kgs kilos");
    assert_meant(UNIT_T, "tonne tonnes T");
    assert_meant(UNIT_LB, "lbs LB pound pounds");
    assert_meant(UNIT_OZ, "ounces Oz");
    assert_meant(UNIT_PSI, "PSI Psi");
    assert_meant(UNIT_BAR, "Bar BAR bars");
    assert_meant(UNIT_KPA, "KPA kpa KPa");
    assert_meant(UNIT_CELSIUS, "c celsius Celsius °C °c");
    assert_meant(UNIT_FAHRENHEIT, "f fahrenheit °F");
    assert_meant(UNIT_DEG_C, "K degc DegC");
    assert_meant(UNIT_DEG, "degree degrees °");
    assert_meant(UNIT_RPM, "RPM Rpm");
    assert_meant(UNIT_HZ, "hz HZ hertz");
    assert_meant(UNIT_S, "sec secs second seconds");
    assert_meant(UNIT_MIN, "mins minute minutes");
    assert_meant(UNIT_H, "hr hrs hour hours Hours");
    assert_meant(UNIT_D, "days D");
    assert_meant(UNIT_WEEK, "weeks wks");
    assert_meant(UNIT_MONTH, "months");
    assert_meant(UNIT_YEAR, "years yrs");
    assert_meant(UNIT_PERCENT, "pct percent");
    assert_meant(UNIT_DB, "db DB decibels");
}

static void what_resembles_no_unit_is_not_guessed(void **state)
{
    (void)state;
    assert_meant(UNIT_NONE, "sss xyz s2 mm. furlong mile EUR \xff\xfe");
    assert_int_equal(unit_meant(STR("")), UNIT_NONE);
    assert_int_equal(unit_meant(STR(" ")), UNIT_NONE);
    assert_int_equal(unit_meant(STR("amp ")), UNIT_NONE);
    assert_int_equal(unit_meant(STR("amp\0")), UNIT_NONE);
    assert_int_equal(unit_meant((Str){NULL, 0}), UNIT_NONE);
    assert_int_equal(unit_meant((Str){"amps-and-more", 4}), UNIT_A); /* no look beyond the end */
}

static void a_unit_is_meant_by_itself(void **state)
{
    (void)state;
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        assert_int_equal(unit_meant(str_from(units[id].word)), id);
    }
}

static UnitId meant_in_case(UnitId id, char first, char last, int shift)
{
    char text[16] = {0};

    for (size_t i = 0; units[id].word[i] != '\0'; i++) {
        char c = units[id].word[i];
        text[i] = c >= first && c <= last ? (char)(c + shift) : c;
    }
    return unit_meant(str_from(text));
}

/* Where two units differ in case alone (kN and kn), one of the two is named. */
static void the_wrong_case_never_names_another_spelling(void **state)
{
    (void)state;
    for (int id = UNIT_NONE + 1; id < UNIT_COUNT; id++) {
        bool knots_or_newtons = id == UNIT_KILONEWTON;

        assert_int_equal(meant_in_case((UnitId)id, 'a', 'z', 'A' - 'a'), knots_or_newtons ? UNIT_KN : id);
        assert_int_equal(meant_in_case((UnitId)id, 'A', 'Z', 'a' - 'A'), knots_or_newtons ? UNIT_KN : id);
    }
}

/* ------------------------------------------------------------------------------------------ printing */

static const char *printed(Arena *arena, UnitPair pair, double low, double high)
{
    Buf buf;

    buf_init(&buf, arena);
    unit_print(&buf, pair, low, high);
    return buf.text == NULL ? "" : buf.text;
}

static void assert_prints(Arena *arena, UnitPair pair, double number, const char *expected)
{
    double si = unit_to_si(pair, number);

    assert_string_equal(printed(arena, pair, si, si), expected);
}

static void a_value_prints_with_the_digits_of_its_dimension(void **state)
{
    assert_prints(*state, ALONE(A), 12.5, "12.5 A");
    assert_prints(*state, ALONE(A), 12.5432, "12.5 A");
    assert_prints(*state, ALONE(MA), 30.0, "30 mA");
    assert_prints(*state, ALONE(PERCENT), 2.1, "2.1 %");
    assert_prints(*state, ALONE(PERCENT), 2.55e-13, "0 %"); /* what steps leave of an empty bank */
    assert_prints(*state, ALONE(D), 2e-8, "0 d");
    assert_prints(*state, ALONE(V), 12.8, "12.8 V");
    assert_prints(*state, ALONE(V), 12.654, "12.65 V");
    assert_prints(*state, ALONE(AH), 460.0, "460 Ah");
    assert_prints(*state, ALONE(L), 31.5, "31.5 l");
    assert_prints(*state, ALONE(M), 9.6, "9.6 m");
    assert_prints(*state, ALONE(KG), 5400.0, "5400 kg");
    assert_prints(*state, ALONE(KG), 1234.0, "1234 kg");
    assert_prints(*state, ALONE(RPM), 2850.0, "2850 rpm");
    assert_prints(*state, ALONE(MM2), 2.5, "2.5 mm2");
    assert_prints(*state, ALONE(NONE), 4.0, "4");
    assert_prints(*state, ALONE(A), -0.351, "-0.351 A");
    assert_prints(*state, PER(L, MIN), 11.0, "11 l/min");
    assert_prints(*state, PER(PERCENT, DEG_C), -0.28, "-0.28 %/degC");
}

static void a_range_prints_its_unit_once(void **state)
{
    assert_string_equal(printed(*state, ALONE(L), 0.030, 0.050), "30..50 l");
    assert_string_equal(printed(*state, ALONE(CELSIUS), 268.15, 276.15), "-5..3 C");
    assert_string_equal(printed(*state, ALONE(KG), 0.0, 20.0), "0..20 kg");
    assert_string_equal(printed(*state, ALONE(NONE), 2.0, 3.0), "2..3");
    assert_string_equal(printed(*state, ALONE(L), -0.0108, 2e-18), "-10.8..0 l");
    assert_string_equal(printed(*state, ALONE(L), -2e-18, 0.0108), "0..10.8 l");
    assert_string_equal(printed(*state, ALONE(KG), 1e-9, 20.0), "1e-9..20 kg");
}

static void a_range_that_the_digits_do_not_show_prints_once(void **state)
{
    assert_string_equal(printed(*state, ALONE(A), 12.51, 12.52), "12.5 A");
    assert_string_equal(printed(*state, ALONE(A), 12.4, 12.5), "12.4..12.5 A");
}

static void a_side_without_a_bound_prints_as_words(void **state)
{
    assert_string_equal(printed(*state, ALONE(AH), 500.0 * 3600.0, INFINITY), "at least 500 Ah");
    assert_string_equal(printed(*state, ALONE(KG), -INFINITY, 20.0), "up to 20 kg");
    assert_string_equal(printed(*state, ALONE(KG), -INFINITY, INFINITY), "unknown");
    assert_string_equal(printed(*state, ALONE(KG), 0.0, INFINITY), "unknown");
    assert_string_equal(printed(*state, ALONE(KG), NAN, NAN), "unknown");
    assert_string_equal(printed(*state, ALONE(D), INFINITY, INFINITY), "unlimited");
    assert_string_equal(printed(*state, ALONE(KG), -1.0, INFINITY), "at least -1 kg");
}

static void freezing_point_prints_as_zero_from_any_scale(void **state)
{
    double freezing = unit_to_si(ALONE(FAHRENHEIT), 32.0);

    assert_string_equal(printed(*state, ALONE(CELSIUS), nextafter(freezing, 0.0), nextafter(freezing, 300.0)),
                        "0 C");
    assert_string_equal(printed(*state, ALONE(FAHRENHEIT), 273.15, 273.15), "32 F");
    assert_string_equal(printed(*state, ALONE(DEG_C), 1e-13, 1e-13), "1e-13 degC"); /* a difference is kept */
}

static void an_area_asked_for_in_gauge_numbers_prints_in_square_millimetres(void **state)
{
    assert_string_equal(printed(*state, ALONE(AWG), 33.6e-6, 33.6e-6), "33.6 mm2");
}

static void units_are_written_as_they_are_read(void **state)
{
    Buf buf;

    buf_init(&buf, *state);
    unit_write(&buf, PER(G, KWH));
    buf_char(&buf, ' ');
    unit_write(&buf, ALONE(PERCENT));
    unit_write(&buf, ALONE(NONE));
    assert_string_equal(buf.text, "g/kWh %");
}

/* ------------------------------------------------------------------------------------------ running */

static Arena arena;
static jmp_buf out_of_memory;

static int begin(void **state)
{
    arena_init(&arena, allocator_standard(), &out_of_memory);
    *state = &arena;
    return setjmp(out_of_memory) == 0 ? 0 : -1;
}

static int end(void **state)
{
    (void)state;
    arena_free(&arena);
    return 0;
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(every_unit_is_found_by_its_word),
        TEST(a_word_is_found_wherever_it_stands_in_a_text),
        TEST(what_is_no_unit_is_not_found),
        TEST(no_unit_is_spelt_like_a_word_that_joins_terms),
        TEST(every_row_is_whole),
        TEST(every_factor_is_what_gnu_units_says),
        TEST(one_unit_by_another_is_what_gnu_units_says),
        TEST(factors_agree_with_the_printed_tables),
        TEST(temperatures_have_an_offset_and_differences_none),
        TEST(decimal_prefixes_do_not_round_twice),
        TEST(converting_there_and_back_changes_nothing),
        TEST(a_gauge_number_makes_no_area_here),
        TEST(a_level_stays_as_it_is_written),
        TEST(units_of_one_dimension_are_equal),
        TEST(a_tag_sets_apart_what_shares_its_exponents),
        TEST(a_compound_has_the_tag_of_what_stands_above),
        TEST(an_area_serves_as_a_conductor_size_but_a_gauge_is_no_area),
        TEST(dimensions_are_named_in_the_words_of_the_trade),
        TEST(every_unit_has_a_named_dimension_of_its_own),
        TEST(json_names_the_coherent_si_unit),
        TEST(json_gives_charge_in_ampere_hours_and_money_no_unit),
        TEST(the_usual_confusions_name_the_right_unit),
        TEST(what_resembles_no_unit_is_not_guessed),
        TEST(a_unit_is_meant_by_itself),
        TEST(the_wrong_case_never_names_another_spelling),
        TEST(a_value_prints_with_the_digits_of_its_dimension),
        TEST(a_range_prints_its_unit_once),
        TEST(a_range_that_the_digits_do_not_show_prints_once),
        TEST(a_side_without_a_bound_prints_as_words),
        TEST(freezing_point_prints_as_zero_from_any_scale),
        TEST(an_area_asked_for_in_gauge_numbers_prints_in_square_millimetres),
        TEST(units_are_written_as_they_are_read),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
