/*
 * Rules on figures of plates that cannot all be right: array-power, cranking-doubtful. A slip by ten is found by what belongs
 * together.
 */
#include "rules/bank.h"

static const UnitPair watts = {UNIT_W, UNIT_NONE};

/* array-power */

/* What open-circuit voltage times short-circuit current leaves of itself: more than all is impossible, less than half doubtful. */
static const double least_fill = 0.5;

static Side plate_product(const Judge *judge, const Entity *array)
{
    Side open = side_value(judge, array, PROP_SOLAR_OPEN_CIRCUIT, 0), amps = side_value(judge, array, PROP_SOLAR_SHORT_CIRCUIT, 0);
    Side product = side_interval(interval_multiply(open.value, amps.value), watts);
    product.state = side_is_known(open) ? amps.state : open.state;
    return product;
}

static void tell_plate(Judge *judge, Finding *f, const Entity *array, Side rated, Side product, const char *why)
{
    finding_rests_on(judge, f, array, PROP_SOLAR_OPEN_CIRCUIT);
    finding_rests_on(judge, f, array, PROP_SOLAR_SHORT_CIRCUIT);
    finding_say(judge, f, "a panel of `%s` is rated %s, and its open-circuit voltage times its short-circuit current is %s: %s",
                say_name(judge, array), say_side(judge, rated), say_side(judge, product), why);
    finding_note(judge, f, place_of(judge, array, PROP_SOLAR_OPEN_CIRCUIT), "open");
    finding_note(judge, f, place_of(judge, array, PROP_SOLAR_SHORT_CIRCUIT), "short-circuited");
    finding_remedy(judge, f, "all three of one panel, as its plate says; `series`, `parallel` and `count` make the array");
}

void judge_array_power(Judge *judge, const Entity *array)
{
    bool stated = entity_states(array, PROP_SOLAR_OPEN_CIRCUIT) && entity_states(array, PROP_SOLAR_SHORT_CIRCUIT);
    if (!stated) {
        return;
    }
    Side rated = side_value(judge, array, PROP_SOLAR_RATED, 0), most = plate_product(judge, array), least = most;
    Span place = place_of(judge, array, PROP_SOLAR_RATED);
    Finding *f = judge_at_most(judge, array, place, rated, most);
    if (f != NULL) {
        tell_plate(judge, f, array, rated, most, "no panel gives more than that");
    }
    least.value = interval_scale(most.value, least_fill);
    f = judge_at_least(judge, array, place, rated, least);
    if (f != NULL) {
        finding_matter(f, "less");
        tell_plate(judge, f, array, rated, most, "panels give 0.7 to 0.85 of that, and hardly one less than half");
    }
}

/* cranking-doubtful */

/* Cold-cranking current for each ampere-hour of a lead battery: 6 to 12 is usual, 17 the thinnest plates; from memory. */
static const double most_cranking_per_ah = 20.0;

void judge_cranking_doubtful(Judge *judge, const Entity *bank)
{
    Chemistry chemistry;
    if (!entity_states(bank, PROP_BANK_CRANKING) || !bank_chemistry(bank, &chemistry) || chemistry == CHEMISTRY_LIFEPO4) {
        return; /* small lithium cells are made that give more */
    }
    Side cranking = side_value(judge, bank, PROP_BANK_CRANKING, 0), capacity = side_value(judge, bank, PROP_BANK_CAPACITY, 0);
    Side most = capacity;
    most.value = interval_scale(capacity.value, most_cranking_per_ah / COULOMB_PER_AH);
    most.unit = cranking.unit;
    Finding *f = judge_at_most(judge, bank, place_of(judge, bank, PROP_BANK_CRANKING), cranking, most);
    if (f != NULL) {
        finding_say(judge, f, "a battery of `%s` has %s and is said to crank with %s; lead of that size gives %s at most",
                    say_name(judge, bank), say_side(judge, capacity), say_side(judge, cranking), say_side(judge, most));
        finding_note(judge, f, place_of(judge, bank, PROP_BANK_CAPACITY), "its size");
        finding_remedy(judge, f, "`capacity` and `cranking` of one battery, as its label says");
    }
}
