/* The rows of the bill of materials that no thing of the spec has: cable by size, fuses and breakers by
 * sort, hose by bore with its clamps. See bom.h. */
#ifndef GARBOARD_OUTPUT_BOM_FEEDS_H
#define GARBOARD_OUTPUT_BOM_FEEDS_H

#include "output/csv.h"
#include "rules/outcome.h"

/** Appends the rows to a sheet of `columns` columns that begin with name, title, kind, system, count. */
void bom_feeds(Csv *csv, const Case *of, size_t columns);
/** The same for hoses. */
void bom_hoses(Csv *csv, const Case *of, size_t columns);

#endif
