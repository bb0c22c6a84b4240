/* See day_capped.h. */
#include "physics/day_capped.h"

#include "physics/order.h"

#include <math.h>

static CappedSize capped_size(const DayCapped *capped, double size_c)
{
    double accepts = lesser(capped->takes_per_c * size_c, capped->cap_a);
    return (CappedSize){accepts, lesser(capped->tail_per_c * size_c, accepts), 1.0 / (capped->taper_lacks * size_c)};
}

static double taken_a(const CappedSize *size, double lack_c)
{
    double along = lack_c * size->along_per_c;
    return along >= 1.0 ? size->accepts_a : size->tail_a + along * (size->accepts_a - size->tail_a);
}

/*
 * Up to the size at which the cap counts a larger one takes more; from there to the one whose tail reaches the cap, where it
 * tapers, it takes tail x size + lack x cap / (lacks x size), less lack x tail / lacks: convex, least where the first two are
 * the same.
 */
DayCappedReady day_capped_ready(const DayCapped *of)
{
    double first = greater(of->smallest_c, of->cap_a / of->takes_per_c);
    double last = lesser(of->largest_c, of->cap_a / of->tail_per_c);
    return (DayCappedReady){.smallest = capped_size(of, of->smallest_c),
                    .largest = capped_size(of, of->largest_c),
                    .first = capped_size(of, first),
                    .last = capped_size(of, last),
                    .first_c = first,
                    .last_c = last,
                    .root_c = of->cap_a / (of->tail_per_c * of->taper_lacks),
                    .tail_per_c = of->tail_per_c,
                    .per_lacks = 1.0 / of->taper_lacks};
}

/* The least of the sizes between first and last. */
static double least_between_a(const DayCappedReady *capped, double lack_c)
{
    double size_c = sqrt(lack_c * capped->root_c);
    if (size_c <= capped->first_c) {
        return taken_a(&capped->first, lack_c);
    }
    if (size_c >= capped->last_c) {
        return taken_a(&capped->last, lack_c);
    }
    double lack_at_taper_c = lack_c * capped->per_lacks; /* of the size whose taper begins there */
    return lack_at_taper_c >= size_c ? capped->first.accepts_a : capped->tail_per_c * (2.0 * size_c - lack_at_taper_c);
}

double day_capped_least_a(const DayCappedReady *capped, double lack_c)
{
    double least = lesser(taken_a(&capped->smallest, lack_c), taken_a(&capped->largest, lack_c));
    return capped->first_c < capped->last_c ? lesser(least, least_between_a(capped, lack_c)) : least;
}

double day_capped_a(const DayCapped *capped, double lack_c)
{
    DayCappedReady ready = day_capped_ready(capped);
    return day_capped_least_a(&ready, lack_c);
}
