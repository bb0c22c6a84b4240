/*
 * What the writers of findings and figures have in common: places, the words for severities and states, and
 * how a value that may be a range is put into JSON and CSV.
 *
 * In JSON a value is in the coherent SI unit named beside it, and a side without a bound is null. In a CSV it
 * is in the owner's unit: a number, or for a range a text in the language's own notation (`30..50`, `>= 500`,
 * `<= 20`), which a spreadsheet leaves out of its sums. It knows no document.
 */
#ifndef GARBOARD_OUTPUT_REPORT_H
#define GARBOARD_OUTPUT_REPORT_H

#include "output/csv.h"
#include "output/json.h"
#include "rules/outcome.h"
#include "text/snippet.h"

/**
 * A stretch of a file: lines and columns from 1, columns in characters; the end is behind the last
 * character.
 */
typedef struct Region {
    Str file;
    uint32_t line, column;
    uint32_t end_line, end_column;
} Region;

/** Where a span lies. The walk makes it cheap for spans that ascend; begin with one that is zero. */
Region report_region(PlaceWalk *walk, const Outcome *outcome, Span span);

/** The spec's main file as messages print it. */
Str report_spec_name(const Outcome *outcome);
/**
 * The name of one of the spec's files as its tables print it: from the folder of the main file on, so that the same spec gives
 * the same tables wherever it lies.
 */
Str report_name_beside(const Sources *sources, Str name);
/** The model to read names from; NULL if there is none. Names are the same in all. */
const Model *report_model(const Outcome *outcome);
/** The boat's currency, or nothing. */
Str report_currency(const Outcome *outcome);

const char *report_severity(Severity severity); /* "fault", "warning", "advice" */
const char *report_verdict(Verdict verdict);    /* "broken", "open" */

/** The n-th value that was tried with --set: "house.capacity 230 Ah"; n below spec->set_count. */
Str report_tried(const Outcome *outcome, uint32_t n);
/** The keys `tried` and `decided`: what was asked for beside the spec, with --set and with --with. */
void report_json_asked(Json *json, const Outcome *outcome);

/** A finding's subject. */
Str report_subject(const Outcome *outcome, const Finding *finding);

/** That more mistakes were found than are kept; NULL if all are. */
const char *report_more_mistakes(const Outcome *outcome);
/** That not every combination of the open choices was judged, and how far each option was; NULL if all were. */
const char *report_sampled(const Outcome *outcome);

/** A key with `{"low": .., "high": .., "unit": ".."}`, from SI. Money is in `currency`. */
void report_json_range(Json *json, const char *key, Interval value, UnitPair unit, bool money, Str currency);
/** The keys low, high and unit of the object at hand. */
void report_json_ends(Json *json, Interval value, UnitPair unit, bool money, Str currency);

/**
 * A cell of a value in its unit, from SI, with six digits (plain numbers exact, money with two decimals);
 * nothing if both sides are without bound.
 */
void report_csv_range(Csv *csv, Interval value, UnitPair unit, bool money);
/** A cell of a number for other programs: twelve digits. */
void report_csv_number(Csv *csv, double value);
/** A cell of a unit's word; nothing for a plain number. */
void report_csv_unit(Csv *csv, UnitPair unit, bool money, Str currency);

/** Whether an amount may be anything, as of `price ?`: there is no number to print. */
bool report_is_unknown(Interval amount);
/** Two cells of money, its ends with two decimals: empty where one is not known, never nought. */
void report_csv_money(Csv *csv, bool known, Interval amount);

#endif
