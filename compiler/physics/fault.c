/*
 * Fault current and source resistance: Ohm's law in the forms that rules need. See fault.h.
 */
#include "physics/fault.h"

#include <assert.h>
#include <math.h>

double fault_current_a(double open_circuit_v, double bank_ohm, double loop_ohm)
{
    double ohm = bank_ohm + loop_ohm;

    assert(bank_ohm >= 0.0 && loop_ohm >= 0.0);
    return ohm > 0.0 ? open_circuit_v / ohm : INFINITY;
}

double bank_resistance_ohm(double battery_ohm, double series, double parallel)
{
    assert(parallel > 0.0);
    return battery_ohm * series / parallel;
}

double bank_short_circuit_a(double battery_short_circuit_a, double parallel)
{
    return battery_short_circuit_a * parallel;
}

double resistance_of_short_circuit_ohm(double open_circuit_v, double short_circuit_a)
{
    assert(short_circuit_a > 0.0);
    return open_circuit_v / short_circuit_a;
}

double resistance_of_two_loads_ohm(double volts1, double current1_a, double volts2, double current2_a)
{
    return (volts1 - volts2) / (current2_a - current1_a);
}

double resistance_of_cranking_ohm(double cold_cranking_a)
{
    assert(cold_cranking_a > 0.0);
    return (12.6 - 7.2) / cold_cranking_a;
}

double constant_power_v(double source_v, double ohm, double watts)
{
    double square = source_v * source_v - 4.0 * watts * ohm;
    return square >= 0.0 ? (source_v + sqrt(square)) / 2.0 : NAN;
}

double greatest_power_w(double source_v, double ohm)
{
    return ohm > 0.0 ? source_v * source_v / (4.0 * ohm) : INFINITY;
}
