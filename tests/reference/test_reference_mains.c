/*
 * Load calculation of a supply of alternating current, against published worked examples.
 */
#include "check.h"

#include "physics/service.h"

/*
 * NEC article 220, general lighting load of a dwelling, a published worked example: 2800 ft2 at 3 VA, two circuits for
 * small appliances and one for laundry at 1500 VA make 12 900 VA; 3000 of it whole and the rest at 35 % make 6465 VA.
 */
static void a_dwelling_of_2800_square_feet_needs_6465_va(void **state)
{
    (void)state;
    double sum = 2800.0 * 3.0 + 3.0 * 1500.0;
    assert_near(sum, 12900.0, 1e-9);
    assert_near(service_stepped(sum, 3000.0, 0.35), 6465.0, 1e-9);
    assert_near(service_stepped(2999.0, 3000.0, 0.35), 2999.0, 1e-9);
}

/*
 * The boats' own form (ABYC E-11, NFPA 302), from memory: a cabin of 12 ft by 9 ft and two appliance circuits are
 * 216 + 3000 = 3216 W; 2000 W whole and the rest at 35 % are 2425.6 W, which at 120 V are 20.21 A. Worked by hand.
 */
static void a_cabin_of_twelve_feet_by_nine_needs_20_amperes(void **state)
{
    (void)state;
    double m2 = 12.0 * 0.3048 * 9.0 * 0.3048;
    assert_near(service_base_w(m2, 2), 2425.6, 1e-6);
    Service service = {.living_m2 = m2, .appliances = 2, .volts = 120.0};
    assert_near(service_current_a(&service), 2425.6 / 120.0, 1e-9);
}

/* Heating and cooling never run together; a quarter of the largest motor on top. Worked by hand. */
static void the_greater_of_heating_and_cooling_counts_and_a_quarter_of_the_largest_motor(void **state)
{
    (void)state;
    Service service = {.volts = 230.0, .fixed_a = 4.0, .heating_a = 3.0, .cooling_a = 6.0, .largest_motor_a = 6.0};
    assert_near(service_current_a(&service), 4.0 + 6.0 + 1.5, 1e-9);
    service.heating_a = 8.0;
    assert_near(service_current_a(&service), 4.0 + 8.0 + 1.5, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_dwelling_of_2800_square_feet_needs_6465_va),
        cmocka_unit_test(a_cabin_of_twelve_feet_by_nine_needs_20_amperes),
        cmocka_unit_test(the_greater_of_heating_and_cooling_counts_and_a_quarter_of_the_largest_motor),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
