/*
 * What the tests of physics share besides check.h: nearness as a share of the wanted value.
 */
#ifndef GARBOARD_TEST_PHYSICS_H
#define GARBOARD_TEST_PHYSICS_H

#include "check.h"

#define assert_within(is, wanted, share) \
    check_near((is), (wanted), fabs(wanted) * (share), #is, __FILE__, __LINE__)

#endif
