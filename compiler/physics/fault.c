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

/* What has no resistance is reckoned with this much, in ohm: a share of any real one that no digit shows. */
static const double least_ohm = 1e-15;

static void add_link(double *siemens, uint32_t places, uint32_t one, uint32_t other, double more)
{
    siemens[one * places + other] += more;
    siemens[other * places + one] += more;
}

/* Takes a place away: what passed over it passes between its neighbours, each two in proportion to both of theirs. */
static void take_away(double *siemens, uint32_t places, uint32_t gone)
{
    double all = 0.0;
    for (uint32_t i = 0; i < places; i++) {
        all += siemens[gone * places + i];
    }
    for (uint32_t i = 0; i < places && all > 0.0; i++) {
        for (uint32_t k = 0; k < i; k++) {
            add_link(siemens, places, i, k, siemens[gone * places + i] * siemens[gone * places + k] / all);
        }
    }
    for (uint32_t i = 0; i < places; i++) {
        siemens[gone * places + i] = siemens[i * places + gone] = 0.0;
    }
}

double fault_joined_ohm(const FaultLink *links, uint32_t link_count, uint32_t places, uint32_t at, uint32_t left_out, double *siemens)
{
    assert(at > 0 && at < places);
    for (uint32_t i = 0; i < places * places; i++) {
        siemens[i] = 0.0;
    }
    for (uint32_t i = 0; i < link_count; i++) {
        if (i != left_out && links[i].one != links[i].other && isfinite(links[i].ohm)) {
            add_link(siemens, places, links[i].one, links[i].other, 1.0 / fmax(links[i].ohm, least_ohm));
        }
    }
    for (uint32_t place = places; place-- > 1;) {
        if (place != at) {
            take_away(siemens, places, place);
        }
    }
    double ohm = 1.0 / siemens[at * places];
    return ohm > least_ohm * places ? ohm : 0.0;
}
