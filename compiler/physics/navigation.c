/* See navigation.h. */
#include "physics/navigation.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct LightRow {
    const char *word;
    double arc_deg;
    double nmi[4]; /* under 12 m, 20 m, 50 m, and above */
} LightRow;

static const LightRow lights[LIGHT_COUNT] = {
#define LIGHT(ID, WORD, ARC, ...) [LIGHT_##ID] = {WORD, ARC, {__VA_ARGS__}},
#define WHISTLE(...)
#define BACKBONE(...)
#include "tables/navigation.def"
#undef LIGHT
#undef WHISTLE
#undef BACKBONE
};

typedef struct WhistleRow {
    double from_m, to_m, nmi;
} WhistleRow;

static const WhistleRow whistles[] = {
#define LIGHT(...)
#define WHISTLE(FROM, TO, NMI) {FROM, TO, NMI},
#define BACKBONE(...)
#include "tables/navigation.def"
#undef LIGHT
#undef WHISTLE
#undef BACKBONE
};

static const Backbone backbones[] = {
#define LIGHT(...)
#define WHISTLE(...)
#define BACKBONE(ID, WORD, AMPERE, METRE, OHM, EVIDENCE, SOURCE) {WORD, AMPERE, METRE, OHM, EVIDENCE, SOURCE},
#include "tables/navigation.def"
#undef LIGHT
#undef WHISTLE
#undef BACKBONE
};

static bool is_word(const char *row, const char *word, size_t length)
{
    return strlen(row) == length && memcmp(row, word, length) == 0;
}

const char *light_word(Light light)
{
    return lights[light].word;
}

Light light_find(const char *word, size_t length)
{
    int light = 0;
    while (light < LIGHT_COUNT && !is_word(lights[light].word, word, length)) {
        light++;
    }
    return (Light)light;
}

double light_arc_rad(Light light)
{
    return lights[light].arc_deg * 3.14159265358979323846 / 180.0;
}

double light_least_range_m(Light light, double length_m)
{
    int class = length_m < 12.0 ? 0 : length_m < 20.0 ? 1 : length_m < 50.0 ? 2 : 3;
    return lights[light].nmi[class] * METRES_A_NAUTICAL_MILE;
}

double light_intensity_cd(double range_m)
{
    double miles = range_m / METRES_A_NAUTICAL_MILE;
    return 3.43e6 * 2e-7 * miles * miles * pow(0.8, -miles);
}

double light_asked_cd(double range_m)
{
    static const double printed[] = {0.0, 0.9, 4.3, 12.0, 27.0, 52.0, 94.0};
    double miles = range_m / METRES_A_NAUTICAL_MILE, whole = round(miles);
    bool in_table = whole >= 0.0 && whole < (double)(sizeof printed / sizeof printed[0]) && fabs(miles - whole) < 1e-9;
    return in_table ? printed[(size_t)whole] : light_intensity_cd(range_m);
}

double light_range_m(double intensity_cd)
{
    double low = 0.0, high = 50.0 * METRES_A_NAUTICAL_MILE;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2.0;
        if (light_intensity_cd(middle) <= intensity_cd) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

double whistle_range_m(double length_m)
{
    double nmi = 0.0;
    for (size_t i = 0; i < sizeof whistles / sizeof whistles[0]; i++) {
        nmi = length_m >= whistles[i].from_m ? whistles[i].nmi : nmi;
    }
    return nmi * METRES_A_NAUTICAL_MILE;
}

const Backbone *backbone_find(const char *word, size_t length)
{
    for (size_t i = 0; i < sizeof backbones / sizeof backbones[0]; i++) {
        if (is_word(backbones[i].word, word, length)) {
            return &backbones[i];
        }
    }
    return NULL;
}

static int by_distance(const void *left, const void *right)
{
    const Tap *a = left, *b = right;
    return a->distance_m < b->distance_m ? -1 : a->distance_m > b->distance_m;
}

/* What is lost up to the outermost tap of one side, going out from the supply: `step` is 1 or -1. */
static double lost_on_side(const Tap *taps, size_t count, double ohm_per_m, int step)
{
    double lost_v = 0.0, beyond_a = 0.0, at_m = 0.0;
    for (size_t i = 0; i < count; i++) {
        beyond_a += taps[i].distance_m * step > 0.0 ? taps[i].current_a : 0.0;
    }
    for (size_t n = 0; n < count; n++) {
        const Tap *tap = &taps[step > 0 ? n : count - 1 - n];
        if (tap->distance_m * step <= 0.0) {
            continue;
        }
        lost_v += 2.0 * ohm_per_m * fabs(tap->distance_m - at_m) * beyond_a;
        beyond_a -= tap->current_a;
        at_m = tap->distance_m;
    }
    return lost_v;
}

double backbone_lost_v(Tap *taps, size_t count, double ohm_per_m)
{
    if (count > 0) {
        qsort(taps, count, sizeof *taps, by_distance);
    }
    return fmax(lost_on_side(taps, count, ohm_per_m, 1), lost_on_side(taps, count, ohm_per_m, -1));
}
