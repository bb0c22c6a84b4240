/* See allot.h. */
#include "physics/allot.h"

#include <math.h>
#include <stdbool.h>

/* One corner: what is asked for, and what is left to be allotted. */
typedef struct Corner {
    const Allotment *of;
    double asks[ALLOT_SPACES], gives[ALLOT_MAKERS];
    uint32_t spaces; /* not allotted yet */
    bool given[ALLOT_MAKERS];
} Corner;

/* What some spaces ask for by what can be given to one of them. */
static double load_of(const Corner *c, uint32_t spaces)
{
    double asked = 0.0, given = 0.0;
    for (int s = 0; s < c->of->spaces; s++) {
        asked += spaces >> s & 1u ? c->asks[s] : 0.0;
    }
    for (int m = 0; m < c->of->makers; m++) {
        given += !c->given[m] && c->of->reaches[m] & spaces ? c->gives[m] : 0.0;
    }
    return asked <= 0.0 ? 0.0 : given > 0.0 ? asked / given : INFINITY;
}

/* The spaces whose makers are loaded most. */
static uint32_t most_loaded(const Corner *c, double *load)
{
    uint32_t most = 0;
    *load = -1.0;
    for (uint32_t set = c->spaces; set != 0; set = (set - 1) & c->spaces) {
        double of = load_of(c, set);
        if (of > *load) {
            *load = of;
            most = set;
        }
    }
    return most;
}

static double falls_to(Corner *c, int maker)
{
    while (c->spaces != 0) {
        double load;
        uint32_t set = most_loaded(c, &load);
        if (c->of->reaches[maker] & set) {
            return c->gives[maker] > 0.0 ? load * c->gives[maker] : 0.0;
        }
        for (int m = 0; m < c->of->makers; m++) {
            c->given[m] = c->given[m] || c->of->reaches[m] & set;
        }
        c->spaces &= ~set;
    }
    return 0.0;
}

/* Who gives without end takes all that it reaches. */
static double at_corner(const Allotment *of, int maker, bool most)
{
    Corner c = {.of = of, .spaces = (1u << of->spaces) - 1u};
    double reached = 0.0;
    for (int s = 0; s < of->spaces; s++) {
        c.asks[s] = most ? of->asks[s].high : of->asks[s].low;
        reached += of->reaches[maker] >> s & 1u ? c.asks[s] : 0.0;
    }
    for (int m = 0; m < of->makers; m++) {
        c.gives[m] = (m == maker) == most ? of->gives[m].high : of->gives[m].low;
        if (isinf(c.gives[m]) && m != maker) {
            c.spaces &= ~of->reaches[m];
            c.given[m] = true;
        }
    }
    return isinf(c.gives[maker]) || isinf(reached) ? reached : falls_to(&c, maker);
}

Interval allotted_w(const Allotment *allotment, int maker)
{
    return interval_corners(at_corner(allotment, maker, false), at_corner(allotment, maker, true));
}
