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
