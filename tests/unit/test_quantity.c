/*
 * Quantities: every form in which one may be written, read into SI. The usual ones are in test_stages.c; here the odd
 * ones, and that the two ways of reading (the quick and the long) agree.
 *
 * Factors: those of units.def, which test_unit.c holds against an outside program. Sizes of conductors: conductors-*.def,
 * which test_physics_conductor.c holds against ASTM B258 and IEC 60228.
 */
#include "check.h"
#include "compile.h"

#include <stdio.h>

/* A thing of each sort that the properties below need. */
#define BOAT "boat wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso; %s }\n"

typedef struct Read {
    Compiled compiled;
    const Value *value;
    const Property *property;
    const char *mistake; /* the name of the first message, or NULL */
} Read;

/* Reads one property of a thing of that kind; `rate` stands in the boat. */
static void read_one(Read *read, const char *rate, const char *thing, const char *line, PropId id, unsigned slot)
{
    char text[1024];
    snprintf(text, sizeof text, BOAT "%s thing { %s }\n", rate, thing, line);
    compile_text(&read->compiled, text);
    const Message *first = read->compiled.spec->messages.first;
    read->mistake = first != NULL ? message_kinds[first->id].name : NULL;
    const Entity *entity = model_find(outcome_first(read->compiled.outcome)->model, STR("thing"));
    read->property = entity_property(entity, id);
    read->value = property_value(read->property, slot);
}

static void expect_in(const char *rate, const char *thing, const char *line, PropId id, unsigned slot, double low,
                      double high)
{
    Read read;
    read_one(&read, rate, thing, line, id, slot);
    if (read.mistake != NULL) {
        fail_msg("%s: %s", line, read.mistake);
    }
    assert_int_equal(read.value->kind, VALUE_QUANTITY);
    assert_near(read.value->u.quantity.low, low, isfinite(low) ? 1e-12 * (1e-3 + fabs(low)) : 0.0);
    assert_near(read.value->u.quantity.high, high, isfinite(high) ? 1e-12 * (1e-3 + fabs(high)) : 0.0);
    compile_free(&read.compiled);
}

static void expect(const char *thing, const char *line, PropId id, double low, double high)
{
    expect_in("", thing, line, id, 0, low, high);
}

static void expect_mistake(const char *thing, const char *line, PropId id, const char *name)
{
    Read read;
    read_one(&read, "", thing, line, id, 0);
    if (read.mistake == NULL || strcmp(read.mistake, name) != 0) {
        fail_msg("%s: %s, expected %s", line, read.mistake != NULL ? read.mistake : "no mistake", name);
    }
    assert_non_null(read.property);
    assert_true(read.property->flags & PROPERTY_BROKEN);
    assert_int_equal(read.compiled.spec->messages.count, 1);
    compile_free(&read.compiled);
}

static void conductor_sizes_are_areas_of_copper(void **state)
{
    (void)state;
    expect("circuit", "wire 2.5 mm2", PROP_FEED_WIRE, 2.5e-6, 2.5e-6);
    /* ASTM B258: 0.127 mm x 92^((36 - n) / 39) thick, with n = -1 for 2/0 and 10 for 10. */
    double thick = 0.127e-3 * pow(92.0, 37.0 / 39.0);
    double thin = 0.127e-3 * pow(92.0, 26.0 / 39.0);
    double area = acos(-1.0) / 4.0 * thick * thick;
    expect("circuit", "wire 2/0 AWG", PROP_FEED_WIRE, area, area);
    expect("circuit", "wire 10..2/0 AWG", PROP_FEED_WIRE, acos(-1.0) / 4.0 * thin * thin, area);
    expect("circuit", "wire 10 AWG..2/0 AWG", PROP_FEED_WIRE, acos(-1.0) / 4.0 * thin * thin, area);
    expect("circuit", "wire 2.5..10 mm2", PROP_FEED_WIRE, 2.5e-6, 10e-6);
    expect("circuit", "wire >= 4 mm2", PROP_FEED_WIRE, 4e-6, INFINITY);
    expect("circuit", "wire ?", PROP_FEED_WIRE, 0.0, INFINITY);
    /* SAE 10 has at least 9343 circular mils: printed beside the US ampacity table. */
    double mil = 0.0254e-3;
    expect("circuit", "wire 10 SAE", PROP_FEED_WIRE, 9343.0 * acos(-1.0) / 4.0 * mil * mil,
           9343.0 * acos(-1.0) / 4.0 * mil * mil);
    expect_mistake("circuit", "wire 3 SAE", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 7 mm2", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 1/0 mm2", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 2.5 AWG", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 5/0 AWG", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 0 AWG", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 8..16 AWG", PROP_FEED_WIRE, "range-order");
    expect_mistake("circuit", "wire 16 AWG..10 mm2", PROP_FEED_WIRE, "range-units");
    expect_mistake("circuit", "wire 6 cm2", PROP_FEED_WIRE, "unit-other");
    /* The gauge of a cable and how many conductors lie in it, as is printed on it; never a quotient. */
    expect_mistake("circuit", "wire 12/2 AWG", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 14/2..12/2 AWG", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 12/3 SAE", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 12/2 mm2", PROP_FEED_WIRE, "no-such-size");
    expect_mistake("circuit", "wire 10 4/2 AWG", PROP_FEED_WIRE, "term-unexpected");
}

static void temperatures_have_their_zero_elsewhere(void **state)
{
    (void)state;
    expect("space", "temperature 50 C", PROP_SPACE_TEMPERATURE, 323.15, 323.15);
    expect("space", "temperature 122 F", PROP_SPACE_TEMPERATURE, 323.15, 323.15);
    expect("space", "temperature -10..40 C", PROP_SPACE_TEMPERATURE, 263.15, 313.15);
    expect("space", "temperature 20 +/- 5 C", PROP_SPACE_TEMPERATURE, 288.15, 298.15);
    expect("space", "temperature 68 F +/- 9 F", PROP_SPACE_TEMPERATURE, 288.15, 298.15);
    expect("space", "temperature >= 40 C", PROP_SPACE_TEMPERATURE, 313.15, INFINITY);
    expect("space", "temperature <= 40 C", PROP_SPACE_TEMPERATURE, 0.0, 313.15);
    expect_mistake("space", "temperature 50 degC", PROP_SPACE_TEMPERATURE, "unit-other");
    expect_mistake("space", "temperature <= -300 C", PROP_SPACE_TEMPERATURE, "out-of-range");
    expect_mistake("space", "temperature 121 C", PROP_SPACE_TEMPERATURE, "out-of-range");
}

static void lengths_may_be_in_feet_and_inches_and_fractions(void **state)
{
    (void)state;
    expect("hose", "from thing; to thing; run 1 m; bore 1 1/2 in", PROP_HOSE_BORE, 0.0381, 0.0381);
    expect("hose", "from thing; to thing; run 1 m; bore 3/4 in", PROP_HOSE_BORE, 0.01905, 0.01905);
    expect("hose", "from thing; to thing; run 1 m; bore 1/2..3/4 in", PROP_HOSE_BORE, 0.0127, 0.01905);
    expect("hose", "from thing; to thing; bore 1 in; run 6 ft 3 1/2 in", PROP_HOSE_RUN, 1.9177, 1.9177);
    expect("hose", "from thing; to thing; bore 1 in; run >= 6 ft 3 in", PROP_HOSE_RUN, 1.905, INFINITY);
    expect("hose", "from thing; to thing; bore 1 in; run 6 ft 3 in..7 ft 1 in", PROP_HOSE_RUN, 1.905, 2.159);
    expect("hose", "from thing; to thing; bore 1 in; run 6 ft 3 in +/- 1 in", PROP_HOSE_RUN, 1.8796, 1.9304);
    expect("hose", "from thing; to thing; bore 1 in; run 1 m; rise -1 ft 6 in", PROP_HOSE_RISE, -0.4572, -0.4572);
    expect("hose", "from thing; to thing; run 1 m; bore 1-1/4 in", PROP_HOSE_BORE, 0.03175, 0.03175);
    expect("hose", "from thing; to thing; run 1 m; bore 1-1/4..1-1/2 in", PROP_HOSE_BORE, 0.03175, 0.0381);
    expect("hose", "from thing; to thing; bore 1 in; run 10-1/2 ft", PROP_HOSE_RUN, 3.2004, 3.2004);
    expect("hose", "from thing; to thing; bore 1 in; run 6 ft 3-1/2 in", PROP_HOSE_RUN, 1.9177, 1.9177);
    expect_mistake("hose", "from thing; to thing; run 1 m; bore 3/0 in", PROP_HOSE_BORE, "term-unexpected");
    expect_mistake("hose", "from thing; to thing; run 1 m; bore 1 1/0 in", PROP_HOSE_BORE, "term-unexpected");
}

#define RISE "from thing; to thing; bore 1 in; run 1 m; rise "

/* The sign stands before all of a number: 10 1/2 in is 0.2667 m, above nought and below. */
static void the_sign_of_a_length_is_that_of_all_its_parts(void **state)
{
    (void)state;
    expect("hose", RISE "-10 1/2 in", PROP_HOSE_RISE, -0.2667, -0.2667);
    expect("hose", RISE "-10-1/2 in", PROP_HOSE_RISE, -0.2667, -0.2667);
    expect("hose", RISE "-14..-10 1/2 in", PROP_HOSE_RISE, -0.3556, -0.2667);
    expect("hose", RISE "-1 1/2 ft", PROP_HOSE_RISE, -0.4572, -0.4572);
    expect("hose", RISE "-1/2 in", PROP_HOSE_RISE, -0.0127, -0.0127);
    expect("hose", RISE "-0 1/2 in", PROP_HOSE_RISE, -0.0127, -0.0127);
    expect("hose", RISE "-0 ft 6 in", PROP_HOSE_RISE, -0.1524, -0.1524);
    expect("hose", RISE "-1 ft 6 1/2 in", PROP_HOSE_RISE, -0.4699, -0.4699);
    expect("hose", RISE "0 ft 6 in", PROP_HOSE_RISE, 0.1524, 0.1524);
    expect_mistake("hose", RISE "10 -1/2 in", PROP_HOSE_RISE, "term-unexpected");
    expect_mistake("hose", RISE "0-1/2 in", PROP_HOSE_RISE, "term-unexpected");
    expect_mistake("hose", RISE "10.5 1/2 in", PROP_HOSE_RISE, "term-unexpected");
    expect_mistake("hose", RISE "1 5/4 in", PROP_HOSE_RISE, "term-unexpected");
    expect_mistake("hose", RISE "1/-4 in", PROP_HOSE_RISE, "term-unexpected");
    expect_mistake("hose", RISE "1/2-3/4 in", PROP_HOSE_RISE, "term-unexpected");
}

static void undecided_values_keep_to_what_can_be(void **state)
{
    (void)state;
    expect("item", "count 2..4", PROP_COMMON_COUNT, 2.0, 4.0);
    expect("item", "count >= 2", PROP_COMMON_COUNT, 2.0, INFINITY);
    expect("solar", "rated 50 W; voltage-coefficient <= -0.2 %/degC", PROP_SOLAR_VOLTAGE_COEFFICIENT, -0.02, -0.002);
    expect("solar", "rated 50 W; voltage-coefficient >= -0.4 %/degC", PROP_SOLAR_VOLTAGE_COEFFICIENT, -0.004, 0.0);
    expect("solar", "rated 50 W; voltage-coefficient ?", PROP_SOLAR_VOLTAGE_COEFFICIENT, -0.02, 0.0);
    expect("item", "mass 50 kg +/- -10 %", PROP_COMMON_MASS, 45.0, 55.0);
    expect_mistake("solar", "rated 50 W; voltage-coefficient >= 0.1 %/degC", PROP_SOLAR_VOLTAGE_COEFFICIENT, "out-of-range");
    expect_mistake("item", "mass <= -2 kg", PROP_COMMON_MASS, "out-of-range");
    expect_mistake("item", "mass 2 kg +/- 3 kg", PROP_COMMON_MASS, "out-of-range");
    expect_mistake("item", "count >= 20000", PROP_COMMON_COUNT, "out-of-range");
    expect_mistake("item", "count <= 0", PROP_COMMON_COUNT, "out-of-range");
    expect_mistake("item", "count 1..2.5", PROP_COMMON_COUNT, "not-whole");
    expect_mistake("item", "mass 4..2 kg", PROP_COMMON_MASS, "range-order");
    expect_mistake("item", "mass 50 kg +/- 1 1/0 %", PROP_COMMON_MASS, "term-unexpected");
}

static void one_of_two_measures_may_stand(void **state)
{
    (void)state;
    expect("load", "draw 5 A", PROP_LOAD_DRAW, 5.0, 5.0);
    expect_mistake("load", "draw 1 hp", PROP_LOAD_DRAW, "shaft-power");
    expect_mistake("load", "surge 2..3 PS", PROP_LOAD_SURGE, "shaft-power");
    expect("load", "draw 40..60 W", PROP_LOAD_DRAW, 40.0, 60.0);
    expect_mistake("load", "draw 2 A..60 W", PROP_LOAD_DRAW, "range-units");
    expect_mistake("load", "draw 2 A +/- 1 W", PROP_LOAD_DRAW, "tolerance");
    expect_mistake("load", "draw 2 V", PROP_LOAD_DRAW, "unit-other");
}

static void money_goes_by_the_rates_of_the_boat(void **state)
{
    (void)state;
    expect_in("", "item", "price 12_500.50 EUR", PROP_COMMON_PRICE, 0, 12500.5, 12500.5);
    expect_in("rate 1.25 USD per EUR", "item", "price 100 USD", PROP_COMMON_PRICE, 0, 80.0, 80.0);
    expect_in("rate 0.8 EUR per USD", "item", "price 100 USD", PROP_COMMON_PRICE, 0, 80.0, 80.0);
    expect_in("rate 1..1.25 USD per EUR", "item", "price 100 USD", PROP_COMMON_PRICE, 0, 80.0, 100.0);
    expect_in("rate 1.25 USD per EUR", "item", "price 100..200 USD", PROP_COMMON_PRICE, 0, 80.0, 160.0);
    expect_in("rate 1.25 USD per EUR", "item", "price 100 USD +/- 10 %", PROP_COMMON_PRICE, 0, 72.0, 88.0);
    expect_mistake("item", "price 100 USD", PROP_COMMON_PRICE, "rate-missing");
    expect_mistake("item", "price 100", PROP_COMMON_PRICE, "unit-missing");
    expect_mistake("item", "price 100 euros", PROP_COMMON_PRICE, "currency");
    expect_mistake("item", "price 100 kg", PROP_COMMON_PRICE, "unit-other");
}

/* The last word of a line says how well its value is known, with a unit before it and without. */
static void how_well_a_value_is_known_is_kept(void **state)
{
    (void)state;
    static const struct {
        const char *line;
        Known known;
    } lines[] = {
        {"mass 2 kg", KNOWN_UNSAID},           {"mass 2 kg measured", KNOWN_MEASURED},
        {"mass 2..3 kg labelled", KNOWN_LABELLED}, {"mass 2 kg +/- 1 kg estimated", KNOWN_ESTIMATED},
        {"mass ? guessed", KNOWN_GUESSED},
    };
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        Read read;
        read_one(&read, "", "item", lines[i].line, PROP_COMMON_MASS, 0);
        assert_null(read.mistake);
        assert_int_equal(read.property->known, lines[i].known);
        compile_free(&read.compiled);
    }
}

/* A number in the natural unit is read at once; written as a range of one number it goes the long way. */
static void the_quick_way_and_the_long_way_agree(void **state)
{
    (void)state;
    uint64_t seed = 7;
    for (int i = 0; i < 200; i++) {
        char quick[64];
        char slow[64];
        int whole = random_below(&seed, 300);
        int decimals = random_below(&seed, 1000);
        snprintf(quick, sizeof quick, "run %d.%03d m", whole, decimals);
        snprintf(slow, sizeof slow, "run %d.%03d..%d.%03d m", whole, decimals, whole, decimals);
        Read a;
        Read b;
        read_one(&a, "", "circuit", quick, PROP_FEED_RUN, 0);
        read_one(&b, "", "circuit", slow, PROP_FEED_RUN, 0);
        assert_null(a.mistake);
        assert_null(b.mistake);
        assert_true(a.value->u.quantity.low == b.value->u.quantity.low);
        assert_true(a.value->u.quantity.high == b.value->u.quantity.high);
        assert_int_equal(a.value->flags, b.value->flags);
        compile_free(&a.compiled);
        compile_free(&b.compiled);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(conductor_sizes_are_areas_of_copper),
        cmocka_unit_test(temperatures_have_their_zero_elsewhere),
        cmocka_unit_test(lengths_may_be_in_feet_and_inches_and_fractions),
        cmocka_unit_test(the_sign_of_a_length_is_that_of_all_its_parts),
        cmocka_unit_test(undecided_values_keep_to_what_can_be),
        cmocka_unit_test(one_of_two_measures_may_stand),
        cmocka_unit_test(money_goes_by_the_rates_of_the_boat),
        cmocka_unit_test(how_well_a_value_is_known_is_kept),
        cmocka_unit_test(the_quick_way_and_the_long_way_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
