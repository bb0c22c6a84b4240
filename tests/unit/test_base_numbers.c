/*
 * Tests of compiler/base: numbers to and from text.
 *
 * What they are checked against: strtod (which rounds correctly in the GNU C library) and printf, IEEE 754.
 */
#include "check.h"

#include "base/buf.h"
#include "base/exact.h"
#include "base/num.h"
#include "base/str.h"

#include <float.h>
#include <locale.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* -------------------------------------------------------------------------------- reading */

static double read_number(const char *text)
{
    double value = NAN;
    assert_true(num_read(str_from(text), &value));
    return value;
}

static void numbers_are_read_whole_or_not_at_all(void **state)
{
    (void)state;
    assert_near(read_number("12.5"), 12.5, 0);
    assert_near(read_number("-0.021"), -0.021, 0);
    assert_near(read_number("1_000_000.25"), 1000000.25, 0);
    assert_near(read_number("0012"), 12, 0);
    static const char *const WRONG[] = {
        "",      "-",   "+1",  ".5", "1.", "1_",  "_1",  "1__0", "1_.5", "1._5",
        "1.5_0", "1e5", "1,5", "1 ", " 1", "--1", "0x1", "inf",  "nan",  "1.2.3",
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        double value = 7;
        assert_false(num_read(str_from(WRONG[i]), &value));
        assert_near(value, 7, 0);
    }
    double value;
    assert_true(num_read((Str){"125", 2}, &value)); /* a view ends where it says */
    assert_near(value, 12, 0);
    assert_false(num_read((Str){NULL, 0}, &value));
}

static void numbers_beyond_double_are_refused_and_tiny_ones_are_zero(void **state)
{
    (void)state;
    char text[3000];
    snprintf(text, sizeof text, "1%0308d", 0);
    assert_near(read_number(text), 1e308, 0);
    snprintf(text, sizeof text, "1%0309d", 0);
    double value;
    assert_false(num_read(str_from(text), &value));
    snprintf(text, sizeof text, "0.%02500d1", 0);
    assert_near(read_number(text), 0, 0);
    snprintf(text, sizeof text, "%02500d.%0400d", 0, 0);
    assert_near(read_number(text), 0, 0);
}

/* A decimal of up to 19 significant digits, the point anywhere, zeros before or behind. */
static void random_decimal(uint64_t *chance, char *text)
{
    int digits = 1 + random_below(chance, 19);
    int zeros = random_below(chance, 4) == 0 ? random_below(chance, 330) : random_below(chance, 5);
    int point = random_below(chance, digits + 1);
    bool small = random_below(chance, 2) == 0;
    char *at = text;
    *at++ = '0';
    if (small) {
        *at++ = '.';
        for (int i = 0; i < zeros; i++) {
            *at++ = '0';
        }
    }
    for (int i = 0; i < digits; i++) {
        if (!small && i == point && i > 0) {
            *at++ = '.';
        }
        *at++ = (char)('0' + random_below(chance, 10));
    }
    *at = '\0';
}

static void reading_agrees_with_strtod_up_to_19_digits(void **state)
{
    (void)state;
    uint64_t chance = 5;
    char text[400];
    for (int i = 0; i < 200000; i++) {
        random_decimal(&chance, text);
        assert_near(read_number(text), strtod(text, NULL), 0);
    }
}

static void reading_settles_ties_to_even(void **state)
{
    (void)state;
    /* 2^53 + 1 lies between two doubles, 2^53 and 2^53 + 2; IEEE 754-2019, 4.3.1: to the even one. */
    assert_near(read_number("9007199254740993"), 9007199254740992.0, 0);
    assert_near(read_number("9007199254740995"), 9007199254740996.0, 0);
    assert_near(read_number("9007199254740993.001"), 9007199254740994.0, 0);
    uint64_t chance = 11;
    for (int i = 0; i < 20000; i++) {
        /* halfway between doubles of 54 to 62 bits, and just beside */
        uint64_t half = ((next_random(&chance) >> 11) | UINT64_C(1) << 52) * 2 + 1;
        half <<= random_below(&chance, 9);
        for (int beside = -1; beside <= 1; beside++) {
            char text[40];
            snprintf(text, sizeof text, "%llu", (unsigned long long)(half + (uint64_t)(int64_t)beside));
            assert_near(read_number(text), strtod(text, NULL), 0);
        }
    }
}

static void exact_value_agrees_with_strtod_at_every_power(void **state)
{
    (void)state;
    uint64_t chance = 13;
    for (int power = -400; power <= 320; power++) {
        for (int i = 0; i < 100; i++) {
            uint64_t mantissa = next_random(&chance) >> random_below(&chance, 64);
            char text[40];
            snprintf(text, sizeof text, "%llue%d", (unsigned long long)mantissa, power);
            assert_near(exact_value(mantissa, power), strtod(text, NULL), 0);
        }
    }
}

static void more_than_19_digits_are_read_to_one_unit_in_the_last_place(void **state)
{
    (void)state;
    assert_near(read_number("3.14159265358979323846264338327950288"), 3.141592653589793, 4.5e-16);
    assert_near(read_number("123456789012345678901234567890"), 123456789012345678901234567890.0, 1.8e13);
}

/* -------------------------------------------------------------------------------- writing */

/* How numbers are written, for assert_written. */
typedef void Writer(Buf *buf, double value, int digits);

static void write_exact(Buf *buf, double value, int digits)
{
    (void)digits;
    num_write_exact(buf, value);
}

static void assert_written(Writer *write, double value, int digits, const char *expected)
{
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    write(&buf, value, digits);
    assert_str(buf_str(&buf), expected);
    arena_free(&arena);
}

static void numbers_are_written_plainly(void **state)
{
    (void)state;
    assert_written(num_write, 0.021, 3, "0.021");
    assert_written(num_write, 12.5, 3, "12.5");
    assert_written(num_write, 1200, 3, "1200");
    assert_written(num_write, 230, 2, "230");
    assert_written(num_write, 1234.5, 3, "1230");
    assert_written(num_write, -1234.5, 1, "-1000");
    assert_written(num_write, 9.9996, 4, "10");
    assert_written(num_write, 99999, 3, "100000");
    assert_written(num_write, 0.00001, 3, "0.00001");
    assert_written(num_write, 1e-6, 3, "0.000001");
    assert_written(num_write, 1e-7, 3, "1e-7");
    assert_written(num_write, 1e15, 3, "1000000000000000");
    assert_written(num_write, 1.5e18, 3, "1.5e18");
    assert_written(num_write, 0.1 + 0.2, 17, "0.30000000000000004"); /* IEEE 754: 0x1.3333333333334p-2 */
    assert_written(num_write, 9.999999999999999e-05, 16, "0.00009999999999999999");
}

static void what_is_no_plain_number_is_written_as_a_word_and_zero_has_no_sign(void **state)
{
    (void)state;
    for (int digits = 1; digits <= 9; digits++) {
        assert_written(num_write, INFINITY, digits, "inf");
        assert_written(num_write, -INFINITY, digits, "-inf");
        assert_written(num_write, NAN, digits, "nan");
        assert_written(num_write, -0.0, digits, "0");
        assert_written(num_write_fixed, INFINITY, digits, "inf");
        assert_written(num_write_fixed, NAN, digits, "nan");
    }
    assert_written(num_write_fixed, -0.0, 2, "0.00");
    assert_written(num_write_fixed, -0.004, 2, "0.00");
    assert_written(write_exact, -0.0, 0, "0");
    assert_written(write_exact, -INFINITY, 0, "-inf");
}

static void ties_of_the_binary_value_go_away_from_zero(void **state)
{
    (void)state;
    assert_written(num_write, 2.5, 1, "3"); /* printf would say 2 */
    assert_written(num_write, -0.125, 2, "-0.13");
    assert_written(num_write, 2.5e21, 1, "3e21"); /* 5^22 * 2^20, and 5^22 < 2^53: exact */
    assert_written(num_write_fixed, 0.125, 2, "0.13");
    assert_written(num_write_fixed, 0.5, 0, "1");
    assert_written(num_write_fixed, 1.005, 2, "1.00");         /* the double is 1.00499999999999989... */
    assert_written(num_write_fixed, 2147483648.125, 2, "2147483648.13"); /* beyond what is scaled */
    assert_written(num_write_fixed, 2147483648.375, 2, "2147483648.38");
}

static void money_has_its_decimals(void **state)
{
    (void)state;
    assert_written(num_write_fixed, 412, 2, "412.00");
    assert_written(num_write_fixed, -0.05, 2, "-0.05");
    assert_written(num_write_fixed, 1999.999, 2, "2000.00");
    assert_written(num_write_fixed, 7.6, 0, "8");
    assert_written(num_write_fixed, 1e20, 1, "100000000000000000000.0");
}

/* Cuts zeros behind the point and a point that is last. */
static void trim_zeros(char *text)
{
    size_t length = strlen(text);
    if (strchr(text, '.')) {
        while (text[length - 1] == '0') {
            length--;
        }
        length -= text[length - 1] == '.';
    }
    text[length] = '\0';
}

/* printf rounds ties to even and num_write away from zero: values that are ties there are left out. */
static void writing_agrees_with_printf_where_there_is_no_tie(void **state)
{
    (void)state;
    uint64_t chance = 17;
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    for (int i = 0; i < 200000; i++) {
        double value = random_everyday(&chance) + 0.0; /* no minus zero */
        int digits = 1 + random_below(&chance, 17);
        char rounded[40];
        char beyond[60];
        snprintf(rounded, sizeof rounded, "%.*e", digits - 1, value);
        snprintf(beyond, sizeof beyond, "%.*e", digits + 20, value);
        const char *dropped = strchr(beyond, '.') + digits;
        bool tie = dropped[0] == '5' && strspn(dropped + 1, "0") >= 20;
        double size = fabs(value);
        if (tie || (size != 0 && (size < 1e-5 || size >= 1e14))) {
            continue;
        }
        char plain[60];
        int exponent = atoi(strchr(rounded, 'e') + 1);
        int decimals = digits - 1 - exponent;
        snprintf(plain, sizeof plain, "%.*f", decimals > 0 ? decimals : 0, strtod(rounded, NULL));
        trim_zeros(plain);
        buf.length = 0;
        num_write(&buf, value, digits);
        assert_str(buf_str(&buf), plain);
    }
    arena_free(&arena);
}

static void money_agrees_with_printf_where_there_is_no_tie(void **state)
{
    (void)state;
    uint64_t chance = 19;
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    for (int i = 0; i < 200000; i++) {
        double value = random_everyday(&chance) + (i % 10 == 0 ? 1e12 : 0);
        int decimals = random_below(&chance, 10);
        char plain[400];
        char beyond[400];
        snprintf(plain, sizeof plain, "%.*f", decimals, value);
        snprintf(beyond, sizeof beyond, "%.60f", value);
        const char *dropped = strchr(beyond, '.') + 1 + decimals;
        if (dropped[0] == '5' && strspn(dropped + 1, "0") == strlen(dropped + 1)) {
            continue;
        }
        bool zero = strpbrk(plain, "123456789") == NULL;
        buf.length = 0;
        num_write_fixed(&buf, value, decimals);
        assert_str(buf_str(&buf), zero && plain[0] == '-' ? plain + 1 : plain);
    }
    arena_free(&arena);
}

/* Number of significant digits of a written number. */
static int significant(const char *text)
{
    int count = 0;
    int zeros = 0;
    for (; *text && *text != 'e'; text++) {
        if (*text < '0' || *text > '9' || (count == 0 && *text == '0')) {
            continue;
        }
        zeros = *text == '0' ? zeros + 1 : 0;
        count++;
    }
    return count - zeros;
}

/* Reads back, and no decimal of one digit less does: neither the nearest nor its neighbours. */
static void assert_exact(double value, Buf *buf)
{
    buf->length = 0;
    num_write_exact(buf, value);
    assert_near(strtod(buf->text, NULL), value, 0);
    int digits = significant(buf->text);
    if (digits < 2) {
        return;
    }
    char shorter[40];
    snprintf(shorter, sizeof shorter, "%.*e", digits - 2, value);
    assert_true(strtod(shorter, NULL) != value);
    char *mark = strchr(shorter, 'e');
    if (mark[-1] != '9') {
        mark[-1]++;
        assert_true(strtod(shorter, NULL) != value);
    }
}

static void exact_numbers_read_back_and_are_the_shortest_that_do(void **state)
{
    (void)state;
    uint64_t chance = 23;
    Arena arena = check_arena();
    Buf buf;
    buf_init(&buf, &arena);
    assert_written(write_exact, 0.1, 0, "0.1");
    assert_written(write_exact, 0.1 + 0.2, 0, "0.30000000000000004");
    assert_written(write_exact, 1200, 0, "1200");
    assert_written(write_exact, 5e-324, 0, "5e-324"); /* the least double: one digit tells it apart */
    for (int i = 0; i < 60000; i++) {
        assert_exact(random_double(&chance), &buf);
        assert_exact(random_everyday(&chance), &buf);
    }
    for (int exponent = -1074; exponent <= 1023; exponent++) {
        assert_exact(ldexp(1, exponent), &buf);
    }
    arena_free(&arena);
}

static void a_decimal_comma_of_the_locale_changes_nothing(void **state)
{
    (void)state;
    static const char *const COMMA[] = {"de_DE.UTF-8", "de_DE.utf8", "de_DE", "fr_FR.UTF-8", "nl_NL.UTF-8"};
    const char *set = NULL;
    for (size_t i = 0; i < sizeof COMMA / sizeof *COMMA && !set; i++) {
        set = setlocale(LC_NUMERIC, COMMA[i]);
    }
    if (!set) {
        print_message("no locale with a decimal comma is installed\n");
        skip();
    }
    assert_string_equal(localeconv()->decimal_point, ",");
    assert_near(read_number("12.5"), 12.5, 0);
    assert_near(read_number("0.1234567890123456789"), 0x1.f9add3746f65fp-4, 0); /* strtod in the C locale */
    assert_written(num_write, 12.5, 3, "12.5");
    assert_written(num_write, 1.25e18, 3, "1.25e18");
    assert_written(num_write_fixed, 412.5, 2, "412.50");
    assert_written(num_write_fixed, 2147483648.5, 2, "2147483648.50");
    assert_written(write_exact, 1.7976931348623157e308, 0, "1.7976931348623157e308");
    assert_written(write_exact, 0.3, 0, "0.3");
    setlocale(LC_NUMERIC, "C");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_whole_or_not_at_all),
        cmocka_unit_test(numbers_beyond_double_are_refused_and_tiny_ones_are_zero),
        cmocka_unit_test(reading_agrees_with_strtod_up_to_19_digits),
        cmocka_unit_test(reading_settles_ties_to_even),
        cmocka_unit_test(exact_value_agrees_with_strtod_at_every_power),
        cmocka_unit_test(more_than_19_digits_are_read_to_one_unit_in_the_last_place),
        cmocka_unit_test(numbers_are_written_plainly),
        cmocka_unit_test(what_is_no_plain_number_is_written_as_a_word_and_zero_has_no_sign),
        cmocka_unit_test(ties_of_the_binary_value_go_away_from_zero),
        cmocka_unit_test(money_has_its_decimals),
        cmocka_unit_test(writing_agrees_with_printf_where_there_is_no_tie),
        cmocka_unit_test(money_agrees_with_printf_where_there_is_no_tie),
        cmocka_unit_test(exact_numbers_read_back_and_are_the_shortest_that_do),
        cmocka_unit_test(a_decimal_comma_of_the_locale_changes_nothing),
    };
    return cmocka_run_group_tests_name("base: numbers", tests, NULL, NULL);
}
