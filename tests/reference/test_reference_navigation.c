/*
 * Navigation lights against the published tables of the collision regulations, row by row; the data backbone against sums
 * worked by hand.
 */
#include "reference/table.h"

#include "physics/navigation.h"

static Light light_of_row(const char *word)
{
    const char *ours = strcmp(word, "sidelight") == 0    ? "sidelights"
                       : strcmp(word, "sternlight") == 0 ? "stern"
                                                         : word;
    return light_find(ours, strlen(ours));
}

/* COLREGs 1972, Rules 21 and 22: arcs; ranges at the shortest boat of each class, and just below the next one. */
static void each_light_is_seen_as_far_as_rule_22_asks(void **state)
{
    (void)state;
    static Table table;
    table_load(&table, "light-range-colregs.tsv");
    assert_int_equal(table.row_count, 13);
    for (size_t i = 0; i < table.row_count; i++) {
        Light light = light_of_row(table_text(&table, i, "light"));
        double range_m = table_number(&table, i, "range_nm") * METRES_A_NAUTICAL_MILE;
        assert_int_not_equal(light, LIGHT_COUNT);
        assert_row_near(&table, i, light_arc_rad(light) * 180.0 / 3.14159265358979,
                        table_number(&table, i, "arc_deg"), 1e-9);
        assert_row_near(&table, i, light_least_range_m(light, table_number(&table, i, "length_from_m")),
                        range_m, 0.0);
        if (table_has(&table, i, "length_to_m")) {
            assert_row_near(&table, i,
                            light_least_range_m(light, table_number(&table, i, "length_to_m") - 1e-6),
                            range_m, 0.0);
        }
    }
}

/* COLREGs 1972, Annex I 8: the printed table rounds the formula to two figures, at 1 mile up. */
static void intensities_are_those_of_annex_i(void **state)
{
    (void)state;
    static Table table;
    table_load(&table, "light-intensity-colregs.tsv");
    assert_int_equal(table.row_count, 6);
    for (size_t i = 0; i < table.row_count; i++) {
        double range_m = table_number(&table, i, "range_nm") * METRES_A_NAUTICAL_MILE;
        double printed = table_number(&table, i, "candela_table");
        assert_row_near(&table, i, light_intensity_cd(range_m), table_number(&table, i, "candela_formula"),
                        5e-5);
        assert_row_near(&table, i, light_intensity_cd(range_m), printed, 0.05 * printed);
        assert_row_near(&table, i, light_asked_cd(range_m), printed, 0.0);
        assert_row_near(&table, i, light_range_m(light_intensity_cd(range_m)), range_m, 1e-6);
    }
}

/* COLREGs 1972, Annex III 1: 0.5 nautical miles from 12 m, 1 from 20 m; none is prescribed below. */
static void whistles_are_heard_as_far_as_annex_iii_asks(void **state)
{
    (void)state;
    assert_near(whistle_range_m(11.99), 0.0, 0.0);
    assert_near(whistle_range_m(12.0), 926.0, 1e-9);
    assert_near(whistle_range_m(19.99), 926.0, 1e-9);
    assert_near(whistle_range_m(20.0), 1852.0, 1e-9);
}

/*
 * Ohm's law, worked by hand: 0.057 ohm a metre and conductor. 0.5 A at 10 m and 1 A at 20 m from the supply: 10 m carry
 * 1.5 A and 10 m more 1 A: 2 x 0.057 x (15 + 10) = 2.85 V. On the other side 2 A at 5 m: 2 x 0.057 x 10 = 1.14 V.
 */
static void a_backbone_loses_what_is_worked_by_hand(void **state)
{
    (void)state;
    Tap taps[] = {{1.0, 20.0}, {2.0, -5.0}, {0.5, 10.0}};
    assert_near(backbone_lost_v(taps, 3, 0.057), 2.85, 1e-12);
    assert_near(backbone_lost_v(taps, 0, 0.057), 0.0, 0.0);
    Tap other[] = {{2.0, -5.0}, {0.1, 1.0}};
    assert_near(backbone_lost_v(other, 2, 0.057), 1.14, 1e-12);
}

/* A law: all in one place at the end is the worst; the supply in the middle of an even load a quarter of that. */
static void supply_in_the_middle_quarters_the_loss_of_an_even_load(void **state)
{
    (void)state;
    enum { TAPS = 100 };
    Tap at_end[TAPS], in_middle[TAPS];
    for (int i = 0; i < TAPS; i++) {
        at_end[i] = (Tap){0.02, 0.5 + i};
        in_middle[i] = (Tap){0.02, 0.5 + i - TAPS / 2};
    }
    double whole = backbone_lost_v(at_end, TAPS, 0.057);
    assert_near(backbone_lost_v(in_middle, TAPS, 0.057) / whole, 0.25, 0.01);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_light_is_seen_as_far_as_rule_22_asks),
        cmocka_unit_test(intensities_are_those_of_annex_i),
        cmocka_unit_test(whistles_are_heard_as_far_as_annex_iii_asks),
        cmocka_unit_test(a_backbone_loses_what_is_worked_by_hand),
        cmocka_unit_test(supply_in_the_middle_quarters_the_loss_of_an_even_load),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
