/*
 * Flow in hose and pipe: friction, fittings, and where a pump meets its hose.
 *
 *     h = (f L/D + sum K) v^2 / 2g        Darcy and Weisbach
 *
 * Source: Cengel and Cimbala, and Munson et al., both chapter 8 (verified). Heads in m of the liquid, flows
 * in m3/s. Knows hydraulics; not what hoses a boat has.
 */
#ifndef GARBOARD_PHYSICS_PIPE_H
#define GARBOARD_PHYSICS_PIPE_H

#include "physics/basis.h"

#include <stdbool.h>
#include <stddef.h>

#define GRAVITY_M_PER_S2 9.80665

typedef enum Roughness {
#define ROUGHNESS(ID, ...) ROUGHNESS_##ID,
#define MINOR(...)
#include "tables/pipe.def"
#undef ROUGHNESS
#undef MINOR
    ROUGHNESS_COUNT
} Roughness;

typedef enum MinorLoss {
#define ROUGHNESS(...)
#define MINOR(ID, ...) MINOR_##ID,
#include "tables/pipe.def"
#undef ROUGHNESS
#undef MINOR
    MINOR_COUNT
} MinorLoss;

typedef struct PipeRow {
    const char *name;
    double value; /* mm of roughness, or K */
    Evidence evidence;
    const char *source;
} PipeRow;

const PipeRow *roughness_row(Roughness roughness);
const PipeRow *minor_row(MinorLoss loss);
double roughness_m(Roughness roughness);
double minor_k(MinorLoss loss);

typedef enum Liquid { LIQUID_FRESH_15_C, LIQUID_SEA_15_C, LIQUID_DIESEL_15_C, LIQUID_COUNT } Liquid;
/** kg/m3: fresh 999.1, sea 1025, diesel 840. */
double liquid_density_kg_per_m3(Liquid liquid);
/** Kinematic viscosity, m2/s: fresh 1.139e-6, sea 1.19e-6, diesel 4e-6 (from memory). */
double liquid_viscosity_m2_per_s(Liquid liquid);

double pipe_speed_m_per_s(double flow_m3_per_s, double bore_m);
/** Re = v D / nu */
double pipe_reynolds(double flow_m3_per_s, double bore_m, double viscosity_m2_per_s);

/**
 * Darcy friction factor: 64/Re below 2300, Colebrook above 4000, the larger of the two between; 0 at no flow.
 *
 * relative_roughness  eps/D, 0..0.05; rougher hoses are held to Colebrook beyond where it was measured
 *
 * Colebrook is solved by Newton's method for x = 1/sqrt f until it stands still. Validity: Re to 1e8. Falls with Re, rises with
 * roughness.
 */
double friction_factor(double reynolds, double relative_roughness);

typedef struct Hose {
    double bore_m;
    double length_m;
    double roughness_m;
    double minor_k; /* sum over the fittings, referred to this bore */
} Hose;

/**
 * Head lost to friction and fittings at a flow, in m; 0 at no flow. Rises with flow and length, falls steeply
 * with bore.
 */
double hose_loss_m(const Hose *hose, double flow_m3_per_s, double viscosity_m2_per_s);
/** The same with a friction factor that is given. */
double hose_loss_known_m(const Hose *hose, double flow_m3_per_s, double friction);

double pressure_of_head_pa(double head_m, double density_kg_per_m3);
double head_of_pressure_m(double pressure_pa, double density_kg_per_m3);

/**
 * How the head of a pump falls with its flow. Centrifugal: H0 (1 - (Q/Q0)^2). Diaphragm and impeller: H0 (1 -
 * Q/Q0). Practice, no source.
 */
typedef enum PumpShape { PUMP_PARABOLA, PUMP_LINE } PumpShape;

typedef struct Pump {
    PumpShape shape;
    double shut_off_m;         /* head at no flow, H0 */
    double free_flow_m3_per_s; /* flow at no head, Q0 */
} Pump;

/** Head in m at a flow; negative beyond the free flow. */
double pump_head_m(const Pump *pump, double flow_m3_per_s);
/**
 * The most power in W that it gives to the water at any flow: a quarter of H0 Q0 of a straight line, 2 / (3 sqrt 3) of it of a
 * parabola (the greatest of H Q). Rises with head, flow and density.
 */
double pump_most_power_w(const Pump *pump, double density_kg_per_m3);
/**
 * The pump at another voltage: flow goes with it, head with its square (affinity laws, speed in proportion;
 * from memory).
 */
Pump pump_at_voltage(Pump pump, double volts, double rated_volts);

typedef struct OperatingPoint {
    double flow_m3_per_s; /* 0: the pump does not lift so high */
    double head_m;        /* the pump's head there */
    double reynolds;
} OperatingPoint;

/**
 * Where the pump meets the hose: the flow at which its head is the static lift plus the loss. The difference
 * falls steadily with flow, so halving finds it to 1e-12 of the free flow. A lift below zero (the outlet lies
 * lower) is allowed; the flow then may not exceed the free flow. Falls with lift, length and roughness, rises
 * with bore, shut-off head and free flow.
 */
OperatingPoint pump_on_hose(const Pump *pump, double lift_m, const Hose *hose, double viscosity_m2_per_s);

/* A hose on the way from a pump, and the share of the pump's flow that passes it. */
typedef struct PipeRun {
    Hose hose;
    double share; /* 0..1 */
} PipeRun;

/**
 * What a pump moves through hoses one after the other, some of which carry only a share of it: the flow at
 * which its head is the static lift plus all losses. most_m: the head at which its switch stops it; infinite
 * if none does. Falls with lift, length, roughness, fittings and shares; rises with bores and the pump.
 */
double pump_through_m3_per_s(const Pump *pump, double most_m, double lift_m, const PipeRun runs[], size_t count,
                             double viscosity_m2_per_s);

/**
 * Head left at the suction: (p_air - p_vapour)/(rho g) - lift - loss. A pump needs its maker's figure of it.
 */
double suction_head_left_m(double air_pa, double vapour_pa, double density_kg_per_m3, double lift_m,
                           double loss_m);

/*
 * Dry self-priming lift by kind of pump where none is stated, in m (practice; 2 m for impellers also from an
 * engine maker).
 */
#define SELF_PRIMING_CENTRIFUGAL_M 0.0
#define SELF_PRIMING_IMPELLER_M 2.0
#define SELF_PRIMING_DIAPHRAGM_M 3.0
/* Speeds not to exceed, in m/s (common practice, no source). */
#define SPEED_LIMIT_SUCTION_M_PER_S 1.5
#define SPEED_LIMIT_DELIVERY_M_PER_S 3.0
/* Starts of a pressure pump in an hour that wear neither switch nor motor (common practice, no source). */
#define STARTS_LIMIT_PER_H 60.0
/* Pre-charge of an accumulator below the cut-in pressure: 28 against 30 psi, a water-well magazine (verified). */
#define PRE_CHARGE_BELOW_PA 13789.5
/* Of the air outside, for pressures of gauges (standard atmosphere). */
#define AIR_PA 101325.0

#endif
