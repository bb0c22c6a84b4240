/*
 * Lights and sound signals by the collision regulations, and the data backbone: ranges, intensities, limits.
 *
 * Knows navigation.def; not what is aboard.
 */
#ifndef GARBOARD_PHYSICS_NAVIGATION_H
#define GARBOARD_PHYSICS_NAVIGATION_H

#include "base/interval.h"
#include "physics/basis.h"

#include <stddef.h>

#define METRES_A_NAUTICAL_MILE 1852.0

typedef enum Light {
#define LIGHT(ID, ...) LIGHT_##ID,
#define WHISTLE(...)
#define BACKBONE(...)
#include "tables/navigation.def"
#undef LIGHT
#undef WHISTLE
#undef BACKBONE
    LIGHT_COUNT
} Light;

/** The light of that word of `shows` (length bytes); LIGHT_COUNT if there is none. */
Light light_find(const char *word, size_t length);
/** Its word; the light is none of LIGHT_COUNT. */
const char *light_word(Light light);

/** Arc over which a light shows, in rad; of sidelights, each. COLREGs 1972, Rule 21. */
double light_arc_rad(Light light);

/** Least range of a light in metres, by length overall. Rises with length. */
double light_least_range_m(Light light, double length_m);

/**
 * Luminous intensity in cd that a range asks for: I = 3.43e6 T D^2 K^-D with T = 2e-7 lux, K = 0.8 and D in nautical miles
 * (COLREGs 1972, Annex I 8; 33 CFR 84.14, both verified). Rises with the range.
 */
double light_intensity_cd(double range_m);
/**
 * What a lamp has to shine with to be taken for one of that range, in cd: the figure that the table of Annex I 8 prints for whole
 * miles up to six (33 CFR 84.14, verified), a rounding of the formula up or down; the formula for any other. Rises with the range.
 */
double light_asked_cd(double range_m);
/** The other way round, for 0 cd up to what is seen at 50 nautical miles. Rises with the intensity. */
double light_range_m(double intensity_cd);

/** Range of the whistle that a boat of that length carries; 0 under 12 m, where any efficient sound serves. Rises. */
double whistle_range_m(double length_m);

typedef struct Backbone {
    const char *word;
    double most_a; /* in a segment: from the supply to one end */
    double most_m;
    double ohm_per_m; /* of one conductor */
    Evidence evidence;
    const char *source;
} Backbone;

/** The limits of a class of cable; NULL for another word. */
const Backbone *backbone_find(const char *word, size_t length);

/* Limits of every backbone: verified in makers' guides. */
#define BACKBONE_LOAD_A 0.05 /* of one load equivalence number */
#define BACKBONE_DEVICE_A 1.0 /* of one thing */
#define BACKBONE_DEVICES 50
#define BACKBONE_DROP_M 6.0       /* one drop cable */
#define BACKBONE_DROPS_M 78.0     /* all of them */
#define BACKBONE_DIFFERENCE_V 1.5 /* between any two devices */

/** A device on the backbone: what it takes, and how far from the supply its tee is. */
typedef struct Tap {
    double current_a;
    double distance_m; /* less than zero towards the first end */
} Tap;

/**
 * The greatest voltage that is lost between the supply and a device: out and back through the backbone, drop cables left
 * out. Puts the taps in the order of their distance. Rises with every current and every distance.
 */
double backbone_lost_v(Tap *taps, size_t count, double ohm_per_m);

#endif
