/* See spread.h: neighbours that crowd are joined to a cluster, and clusters to larger ones, until none crowd. */
#include "output/spread.h"

#include <math.h>

/* Labels that stand side by side. */
typedef struct Cluster {
    size_t count;
    double wished; /* sum over its labels of where the first of it would have to stand */
} Cluster;

typedef struct Row {
    double pitch, left, right;
} Row;

static double start_of(const Row *row, const Cluster *cluster)
{
    double span = row->pitch * (double)(cluster->count - 1);
    double start = cluster->wished / (double)cluster->count;
    return fmax(row->left, fmin(start, row->right - span));
}

static double end_of(const Row *row, const Cluster *cluster)
{
    return start_of(row, cluster) + row->pitch * (double)cluster->count;
}

static void join(const Row *row, Cluster *into, const Cluster *next)
{
    into->wished += next->wished - row->pitch * (double)(into->count * next->count);
    into->count += next->count;
}

void spread(Arena *arena, double places[], size_t count, double pitch, double left, double right)
{
    const Row row = {pitch, left, right};
    Cluster *clusters = ARENA_ARRAY(arena, Cluster, count + 1);
    size_t last = 0; /* one more than there are: the first is none */
    for (size_t i = 0; i < count; i++) {
        clusters[++last] = (Cluster){1, places[i]};
        while (last > 1 && end_of(&row, &clusters[last - 1]) > start_of(&row, &clusters[last])) {
            join(&row, &clusters[last - 1], &clusters[last]);
            last--;
        }
    }
    size_t at = 0;
    for (size_t c = 1; c <= last; c++) {
        for (size_t i = 0; i < clusters[c].count; i++) {
            places[at++] = start_of(&row, &clusters[c]) + pitch * (double)i;
        }
    }
}
