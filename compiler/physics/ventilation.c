/*
 * Blowers and openings for petrol vapour. See ventilation.h.
 */
#include "physics/ventilation.h"

#include <math.h>

#define M3_PER_FT3 0.028316846592
#define M2_PER_IN2 0.00064516
#define SECONDS_PER_MINUTE 60.0

double petrol_blower_m3_per_s(double volume_m3)
{
    double feet = volume_m3 / M3_PER_FT3;
    double cfm = feet < 34.0 ? 50.0 : feet <= 100.0 ? 1.5 * feet : feet / 2.0 + 100.0;
    return cfm * M3_PER_FT3 / SECONDS_PER_MINUTE;
}

double petrol_output_m3_per_s(double volume_m3)
{
    return 0.4 * petrol_blower_m3_per_s(volume_m3); /* 20, 0.6 V, 0.2 V + 40 */
}

double petrol_opening_m2(double volume_m3)
{
    double feet = volume_m3 / M3_PER_FT3;
    double inches = feet > 5.0 ? 5.0 * log(feet / 5.0) : 0.0;
    return fmax(inches, 3.0) * M2_PER_IN2;
}

double open_to_air_m2(double volume_m3)
{
    return 15.0 * volume_m3 / M3_PER_FT3 * M2_PER_IN2;
}

double flame_opening_m2(double burned_w, double flued_w, double people)
{
    return 2200e-6 * burned_w / 1000.0 + 550e-6 * flued_w / 1000.0 + 650e-6 * people;
}
