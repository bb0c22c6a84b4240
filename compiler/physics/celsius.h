/*
 * Where the Celsius scale begins: a model and its figures hold temperatures in K, published tables and formulas have
 * them in degrees Celsius. SI Brochure, 9th edition, section 2.3.1.
 */
#ifndef GARBOARD_PHYSICS_CELSIUS_H
#define GARBOARD_PHYSICS_CELSIUS_H

#define ZERO_CELSIUS_K 273.15

#endif
