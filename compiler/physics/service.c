/* See service.h. */
#include "physics/service.h"

#include <assert.h>

double service_stepped(double sum, double whole, double rest_share)
{
    return sum <= whole ? sum : whole + (sum - whole) * rest_share;
}

double service_base_w(double living_m2, uint32_t appliances)
{
    double sum = living_m2 * SERVICE_W_PER_M2 + appliances * SERVICE_APPLIANCE_W;
    return service_stepped(sum, SERVICE_WHOLE_W, SERVICE_REST_SHARE);
}

double service_current_a(const Service *service)
{
    assert(service->volts > 0.0);
    double weather = service->heating_a > service->cooling_a ? service->heating_a : service->cooling_a;
    return service_base_w(service->living_m2, service->appliances) / service->volts + service->fixed_a +
           service->motors_a + weather + SERVICE_MOTOR_SHARE * service->largest_motor_a;
}
