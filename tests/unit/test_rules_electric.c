/*
 * What rules on electrical things say and offer: that an answer is asked by the name under which it can be given, and that who
 * follows a remedy to the letter meets no next finding. Sources stand in the rules' own tables; here is what follows.
 */
#include "unit/verdict.h"

#define ISO "edition 1\nboat gull { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis iso }\n"
#define US "edition 1\nboat gull { length 30 ft; beam 10 ft; crew 2; currency USD; basis us }\n"
#define HOUSE "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"

/* The 7 in of 33 CFR 183.455(b) are counted from the source: that of a plug's cable is the inlet, 10 ft (ABYC E-11 11.11). */
static void an_inlet_for_a_generator_is_an_inlet(void **state)
{
    (void)state;
#define STERN(PLACE)                                                                                                          \
    US "inlet stern { rated 30 A at 120 V; fed-by gen; run 20 ft; wire 10 AWG insulation 75 C; ground 10 AWG; protect 30 A " \
       "breaker miniature " PLACE " from source; poles 2; ground-fault 30 mA }\n"                                            \
       "generator gen { rated 3000 W at 120 V; portable yes; fuel petrol; bonds-neutral yes }\n"
    expect_verdict(STERN("9 ft"), "protect-far", NOTHING, NULL);
    expect_verdict(STERN("11 ft"), "protect-far", BROKEN_AT_ONE, "stern");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_inlet_for_a_generator_is_an_inlet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
