/* See made.h. */
#include "physics/made.h"

#include <stddef.h>

typedef struct Made {
    double metres;
    const char *word;
} Made;

#define IN_MM(MM) {(MM)*1e-3, #MM " mm"},
#define IN_INCHES(INCHES, WORD) {(INCHES)*0.0254, WORD " in"},

static const Made hoses_mm[] = {
#define HOSE_MM(MM) IN_MM(MM)
#include "tables/made.def"
#undef HOSE_MM
    {0.0, NULL}};

static const Made hoses_in[] = {
#define HOSE_IN(INCHES, WORD) IN_INCHES(INCHES, WORD)
#include "tables/made.def"
#undef HOSE_IN
    {0.0, NULL}};

static const Made shafts_mm[] = {
#define SHAFT_MM(MM) IN_MM(MM)
#include "tables/made.def"
#undef SHAFT_MM
    {0.0, NULL}};

static const Made shafts_in[] = {
#define SHAFT_IN(INCHES, WORD) IN_INCHES(INCHES, WORD)
#include "tables/made.def"
#undef SHAFT_IN
    {0.0, NULL}};

const char *made_at_least(MadeThing thing, bool inches, double least_m)
{
    const Made *row = thing == MADE_HOSE ? (inches ? hoses_in : hoses_mm) : (inches ? shafts_in : shafts_mm);
    while (row->word != NULL && row->metres < least_m * 0.999) {
        row++;
    }
    return row->word;
}
