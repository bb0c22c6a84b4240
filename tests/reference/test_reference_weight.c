/*
 * Weight on the water against published worked examples, the source beside each, and against a sum that is worked out of
 * the waterplane itself.
 */
#include "check.h"

#include "physics/weight.h"

/*
 * Derrett and Barrass, Ship Stability for Masters and Mates: 8000 t, KG 7.6 m; loaded 250 t at KG 6.1, 7.6 m to starboard;
 * 300 t at 0.6, 6.1 m to port; discharged 50 t at 1.2, 4.6 m to port; KM 8.70. Printed: KG 7.35 m, G 0.035 m to starboard,
 * heel about 1.5 degrees (the last from memory).
 */
static void loading_a_ship_moves_her_centre_as_printed(void **state)
{
    (void)state;
    Interval masses[] = {{8000, 8000}, {250, 250}, {300, 300}};
    Interval heights[] = {{7.6, 7.6}, {6.1, 6.1}, {0.6, 0.6}};
    Interval loaded = weighted_mean(masses, heights, 3);
    double kg = (loaded.low * 8550.0 - 50.0 * 1.2) / 8500.0;
    double tcg = (250.0 * 7.6 - 300.0 * 6.1 + 50.0 * 4.6) / 8500.0;
    assert_near(kg, 7.35, 0.005);
    assert_near(tcg, 0.035, 0.0005);
    assert_near(turned_by_moment(tcg * 8500.0, 8500.0, 8.70 - kg) * 180.0 / 3.14159265358979, 1.5, 0.02);
}

/* Derrett and Barrass: a waterplane of 660 m2 in salt water has 6.77 t per centimetre. */
static void a_centimetre_of_660_square_metres_carries_6_77_tonnes(void **state)
{
    (void)state;
    assert_near(sinkage_m(6770.0, SALT_WATER_KG_PER_M3, 660.0), 0.01, 0.00002);
}

/* A deck examination, printed: 50 tons an inch, 200 tons: 4 inches. */
static void two_hundred_tons_at_fifty_an_inch_sink_her_four_inches(void **state)
{
    (void)state;
    double inch = 0.0254, ton = 1016.047;
    double area = 50.0 * ton / (SALT_WATER_KG_PER_M3 * inch);
    assert_near(sinkage_m(200.0 * ton, SALT_WATER_KG_PER_M3, area), 4.0 * inch, 1e-12);
}

/* A naval architecture paper, printed: slack tanks of b 16 l 12 and b 12 l 16 m have i = 4096 and 2304 m4. */
static void slack_tanks_have_the_printed_inertia(void **state)
{
    (void)state;
    assert_near(slack_loss_m(1.0, 12.0, 16.0, 1.0), 4096.0, 1e-9);
    assert_near(slack_loss_m(1.0, 16.0, 12.0, 1.0), 2304.0, 1e-9);
}

/* A box has the textbook's L B^3 / 12 and B L^3 / 12. */
static void a_box_has_a_twelfth(void **state)
{
    (void)state;
    assert_near(inertia_across(1.0), 1.0 / 12.0, 1e-15);
    assert_near(inertia_along(1.0), 1.0 / 12.0, 1e-15);
}

/* Derrett and Barrass: a box of 10 m beam at 3.5 m has BM = B^2 / 12 d = 2.38 m, printed; and least KM at B / root 6 = 4.08 m. */
static void a_box_has_the_printed_metacentric_radius(void **state)
{
    (void)state;
    double length = 40.0, beam = 10.0, draft = 3.5;
    double radius = inertia_across(1.0) * length * beam * beam * beam / (length * beam * draft);
    assert_near(radius, 2.38, 0.005);
    double at_least = beam / sqrt(6.0);
    double km = at_least / 2.0 + inertia_across(1.0) * beam * beam / at_least;
    assert_near(km, 4.08, 0.005);
}

/* Nicholls, Seamanship and Nautical Knowledge (public domain), printed: a box of 200 by 30 feet takes 14.285 tons an inch. */
static void a_box_of_200_by_30_feet_takes_14_285_tons_an_inch(void **state)
{
    (void)state;
    double foot = 0.3048, ton = 1016.047, salt_35_cubic_feet = ton / (35.0 * foot * foot * foot);
    assert_near(sinkage_m(14.285 * ton, salt_35_cubic_feet, 200.0 * foot * 30.0 * foot), 0.0254, 0.000005);
}

/* Nicholls, printed: 6000 tons, KM 16 and KG 13.8 feet: 1836 foot-tons hold her at 8 degrees. A sine there, a tangent here. */
static void a_moment_of_1836_foot_tons_heels_her_by_8_degrees(void **state)
{
    (void)state;
    double angle = turned_by_moment(1836.0, 6000.0, 16.0 - 13.8) * 180.0 / 3.14159265358979;
    assert_near(angle, 8.0, 0.1);
}

/*
 * Nicholls, printed: 500, 67, 125, 370 and 150 tons discharged 150, 88 and 23 feet forward and 100 and 152 feet aft of the
 * tipping centre: 23971 foot-tons; at 1423 an inch 16.8 inches of trim. Here the moment by the mean of the places, and the
 * trim by W GM / 12 L = 1423 over 400 feet.
 */
static void discharging_five_holds_trims_her_as_printed(void **state)
{
    (void)state;
    Interval tons[] = {{500, 500}, {67, 67}, {125, 125}, {370, 370}, {150, 150}};
    Interval feet[] = {{150, 150}, {88, 88}, {23, 23}, {-100, -100}, {-152, -152}};
    double moment = weighted_mean(tons, feet, 5).low * 1212.0;
    assert_near(moment, 23971.0, 1e-6);
    double length = 400.0, displacement = 10000.0, gm = 1423.0 * 12.0 * length / displacement;
    assert_near(12.0 * length * tan(turned_by_moment(moment, displacement, gm)), 16.8, 0.1);
}

/* Nicholls, printed: a box of 36 feet beam and 18 feet draught has its metacentre 6 feet above the centre of buoyancy. */
static void a_box_of_36_feet_has_its_metacentre_6_feet_up(void **state)
{
    (void)state;
    assert_near(inertia_across(1.0) * 36.0 * 36.0 / 18.0, 6.0, 1e-12);
}

/* Derrett and Barrass: a tank divided across into n equal ones takes 1 / n^2. */
static void divided_tanks_take_the_square_less(void **state)
{
    (void)state;
    double whole = slack_loss_m(1000.0, 8.0, 12.0, 6e6);
    for (int n = 2; n <= 4; n++) {
        assert_near(n * slack_loss_m(1000.0, 8.0, 12.0 / n, 6e6), whole / (n * n), 1e-12);
    }
}

/* The formula's own waterplane summed up in strips, computed here: Cwp 0.72 gives 0.04447 and 0.03846. */
static void the_waterplane_has_the_inertia_of_its_strips(void **state)
{
    (void)state;
    enum { STRIPS = 200000 };
    double cwp = 0.72, m = cwp / (1.0 - cwp), across = 0.0, along = 0.0, area = 0.0;
    for (int i = 0; i < STRIPS; i++) {
        double x = (i + 0.5) / STRIPS - 0.5; /* length 1, beam 1 */
        double breadth = 1.0 - pow(fabs(2.0 * x), m);
        area += breadth / STRIPS;
        across += breadth * breadth * breadth / 12.0 / STRIPS;
        along += breadth * x * x / STRIPS;
    }
    assert_near(area, cwp, 1e-6);
    assert_near(inertia_across(cwp), across, 1e-6);
    assert_near(inertia_along(cwp), along, 1e-6);
    assert_near(inertia_across(cwp), 0.04447, 5e-6);
    assert_near(inertia_along(cwp), 0.03846, 5e-6);
}

/* Worked from the same formulas: L 10.5, B 3.4, Cwp 0.72, 13.832 t: BM_L 11.218 m; 150 kg moved 2.5 m aft: 2.54 cm of trim. */
static void a_small_boat_trims_by_what_is_worked_by_hand(void **state)
{
    (void)state;
    double radius = radius_along_m(0.72, 10.5, 3.4, 13832.0, SALT_WATER_KG_PER_M3);
    assert_near(radius, 11.218, 0.002);
    assert_near(10.5 * tan(turned_by_moment(150.0 * 2.5, 13832.0, radius)), 0.0254, 0.0001);
    assert_near(turned_by_moment(150.0 * 1.2, 13832.0, 0.90) * 180.0 / 3.14159265358979, 0.828, 0.001);
    assert_near(slack_loss_m(1000.0, 0.8, 0.9, 13832.0), 0.00351, 0.00001);
}

static Interval some_interval(uint64_t *seed, double least, double most)
{
    double a = least + (most - least) * random_below(seed, 1001) / 1000.0,
           b = least + (most - least) * random_below(seed, 1001) / 1000.0;
    return random_below(seed, 3) == 0 ? point(a) : interval(fmin(a, b), fmax(a, b));
}

static double inside(uint64_t *seed, Interval range)
{
    int where = random_below(seed, 4); /* the corners are where it is farthest */
    return where == 0   ? range.low
           : where == 1 ? range.high
                        : range.low + (range.high - range.low) * random_below(seed, 1001) / 1000.0;
}

/* A law, no source: no choice inside of the intervals lies outside, and some choice comes near to each end. */
static void the_mean_holds_every_choice_and_no_more(void **state)
{
    (void)state;
    enum { COUNT = 5, STUDIES = 200, SAMPLES = 3000 };
    uint64_t seed = 17;
    for (int s = 0; s < STUDIES; s++) {
        Interval masses[COUNT], places[COUNT];
        for (int i = 0; i < COUNT; i++) {
            masses[i] = some_interval(&seed, 0.5, 9.0);
            places[i] = some_interval(&seed, -4.0, 9.0);
        }
        Interval mean = weighted_mean(masses, places, COUNT);
        double least = INFINITY, most = -INFINITY;
        for (int n = 0; n < SAMPLES; n++) {
            double moment = 0.0, mass = 0.0;
            for (int i = 0; i < COUNT; i++) {
                double m = inside(&seed, masses[i]);
                moment += m * inside(&seed, places[i]);
                mass += m;
            }
            least = fmin(least, moment / mass);
            most = fmax(most, moment / mass);
        }
        assert_true(mean.low <= least + 1e-12 && mean.high >= most - 1e-12);
        assert_true(mean.low > least - 1.0 && mean.high < most + 1.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(loading_a_ship_moves_her_centre_as_printed),
        cmocka_unit_test(a_centimetre_of_660_square_metres_carries_6_77_tonnes),
        cmocka_unit_test(two_hundred_tons_at_fifty_an_inch_sink_her_four_inches),
        cmocka_unit_test(slack_tanks_have_the_printed_inertia),
        cmocka_unit_test(a_box_has_a_twelfth),
        cmocka_unit_test(a_box_has_the_printed_metacentric_radius),
        cmocka_unit_test(a_box_of_200_by_30_feet_takes_14_285_tons_an_inch),
        cmocka_unit_test(a_moment_of_1836_foot_tons_heels_her_by_8_degrees),
        cmocka_unit_test(discharging_five_holds_trims_her_as_printed),
        cmocka_unit_test(a_box_of_36_feet_has_its_metacentre_6_feet_up),
        cmocka_unit_test(divided_tanks_take_the_square_less),
        cmocka_unit_test(the_waterplane_has_the_inertia_of_its_strips),
        cmocka_unit_test(a_small_boat_trims_by_what_is_worked_by_hand),
        cmocka_unit_test(the_mean_holds_every_choice_and_no_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
