/*
 * Tanks that are no box: upright and lying cylinders, and tanks that narrow downward (wedges, frusta). What they hold, and how
 * deep they are when part of that is in them. All measures inside.
 */
#ifndef GARBOARD_PHYSICS_TANK_SHAPE_H
#define GARBOARD_PHYSICS_TANK_SHAPE_H

/** pi / 4 d^2 l; of either way that it stands. Geometry. Rises with both. */
double cylinder_volume_m3(double diameter_m, double length_m);

/** Length and width of a rectangular tank where it is broadest, at its top, and of its floor, which may be an edge or a point. */
typedef struct Taper {
    double length_m, width_m, floor_length_m, floor_width_m;
} Taper;

/**
 * A frustum, or a wedge where the floor has no width: h / 6 (2 L W + 2 l w + L w + l W), the prismoidal formula, which is exact for
 * walls that slope evenly. Geometry. Rises with all of it.
 */
double taper_volume_m3(Taper taper, double height_m);

/**
 * How deep a lying cylinder is, as a share of its diameter, when so much of it is full (0..1): the segment of a circle below that
 * depth has the area r^2 (a - sin a cos a), with cos a = 1 - 2 depth / d. Geometry, as handbooks have it; turned round by halving.
 */
double lying_depth_share(double filled);

/**
 * How deep such a tank is, as a share of its height, when so much of it is full: the prismoidal formula up to that depth, turned
 * round by halving. Falls with the floor, rises with the top: of a larger floor more lies below.
 */
double taper_depth_share(Taper taper, double filled);

#endif
