/*
 * Load calculation: what current a supply of alternating current has to give, where not everything that could
 * run does so at once. Knows numbers only.
 */
#ifndef GARBOARD_PHYSICS_SERVICE_H
#define GARBOARD_PHYSICS_SERVICE_H

#include <stdint.h>

/**
 * Demand by steps: a sum counts whole up to `whole`, and with `rest_share` (0..1) beyond it; in the unit of
 * `sum`.
 *
 * Source of the form: NEC article 220, general lighting (first 3000 VA whole, the rest at 35 %), verified in a
 * published worked example. Rises with each of its inputs.
 */
double service_stepped(double sum, double whole, double rest_share);

#define SERVICE_W_PER_M2 21.527820833 /* 2 W/ft2 */
#define SERVICE_APPLIANCE_W 1500.0
#define SERVICE_WHOLE_W 2000.0
#define SERVICE_REST_SHARE 0.35
#define SERVICE_MOTOR_SHARE 0.25

/** What hangs on a supply. Areas, currents and voltage at the same end of their ranges. */
typedef struct Service {
    double living_m2;       /* floor of the living spaces; >= 0 */
    uint32_t appliances;    /* circuits for small appliances, in galley and dining spaces */
    double volts;           /* > 0 */
    double fixed_a;         /* what is built in and is neither of the next three */
    double motors_a;        /* all motors; of heating and cooling those that are */
    double largest_motor_a; /* the greatest of them */
    double heating_a;       /* heating and cooling never run together: the greater counts */
    double cooling_a;
} Service;

/**
 * Lighting and outlets in W: 2 W a square foot and 1500 W for each appliance circuit, 2000 W of it whole and the
 * rest at 35 %.
 */
double service_base_w(double living_m2, uint32_t appliances);
/**
 * The current in A: lighting and outlets, what is built in at its full draw, the greater of heating and cooling,
 * and a quarter of the largest motor on top.
 *
 * Source: the load calculation of US boats (ABYC E-11, NFPA 302), from memory; its smaller shares for ovens,
 * washing machines and the like are left out, which is on the safe side. Rises with everything but the voltage.
 */
double service_current_a(const Service *service);

#endif
