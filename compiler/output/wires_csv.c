/* The wire list as comma-separated values: a row a cable, then one a string of panels. See wires.h. */
#include "output/wires.h"

#include "figures/power.h"
#include "output/feeding.h"
#include "output/report.h"
#include "output/wire_rows.h"

/* A cell of a figure in the figure's unit, or nothing. */
static void put_figure(Csv *csv, const Figure *figure)
{
    if (figure_is_known(figure)) {
        report_csv_range(csv, (Interval){figure->low, figure->high}, UNIT_ALONE(figure_rows[figure->id].unit),
                         false);
    } else {
        csv_empty(csv);
    }
}

/* The same over all combinations of the open choices in which the cable stands so. */
static void put_of_all(Csv *csv, const Outcome *outcome, const WireRow *row, const Figure *figure)
{
    Figure merged;
    const Model *model = row->in->model;
    Str at = figure != NULL && figure->at != NULL ? entity_name(model, figure->at) : STR("");
    bool several = figure != NULL && outcome->case_count > 1 &&
                   outcome_figure_in(outcome, row->cases, entity_name(model, figure->subject), (FigureId)figure->id, at, &merged);
    put_figure(csv, several ? &merged : figure);
}

static void put_size(Csv *csv, const Case *of, const Figure *size)
{
    csv_text(csv, str_from(figure_is_known(size) ? figure_text(of->figures, size) : ""));
}

static void put_insulation(Csv *csv, const Feed *feed)
{
    Interval insulation;
    if (feeding_value(feed, PROP_FEED_WIRE, 2, &insulation)) {
        report_csv_range(csv, insulation, UNIT_ALONE(UNIT_CELSIUS), false);
    } else {
        csv_number(csv, 60.0); /* the schema's: what is not stated stands 60 C */
    }
}

static void put_lengths(Csv *csv, const Feed *feed)
{
    Interval run;
    if (feeding_value(feed, PROP_FEED_RUN, 0, &run)) {
        report_csv_range(csv, run, UNIT_ALONE(UNIT_M), false);
        report_csv_range(csv, interval_scale(run, 2.0), UNIT_ALONE(UNIT_M), false);
    } else {
        csv_empty(csv);
        csv_empty(csv);
    }
}

static void put_protection(Csv *csv, const Case *of, const Feed *feed)
{
    Buf text;
    buf_init(&text, csv->buf->arena);
    feeding_write_protection(&text, of->model, feed_property(feed, PROP_FEED_PROTECT));
    const Figure *chosen = feeding_chosen_protection(of->figures, feed);
    if (chosen != NULL) {
        buf_init(&text, csv->buf->arena);
        figure_write(&text, of->figures, chosen);
        if (chosen->device != NULL) {
            buf_format(&text, " %s", chosen->device);
        }
    }
    csv_text(csv, buf_str(&text));
}

/* Who rated its own device; else the one upstream that protects it. */
static void put_guard(Csv *csv, const Case *of, const Feed *feed)
{
    Guarding guarding = feeding_guarding(of->figures, feed);
    bool chosen = feeding_chosen_protection(of->figures, feed) != NULL;
    csv_text(csv, guarding != GUARDED_HERE ? STR("") : chosen ? STR("Garboard") : STR("spec"));
    Buf text;
    buf_init(&text, csv->buf->arena);
    if (guarding == GUARDED_UPSTREAM) {
        feeding_write_upstream(&text, of->figures, feed);
    }
    csv_text(csv, guarding == GUARD_NOT_ASKED ? STR("none: cranking") : buf_str(&text));
}

static void put_value(Csv *csv, const Feed *feed, PropId prop, UnitPair unit)
{
    Interval value;
    if (feeding_value(feed, prop, 0, &value)) {
        report_csv_range(csv, value, unit, false);
    } else {
        csv_empty(csv);
    }
}

/* What only mains have: grounding conductor, poles, leakage. */
static void put_mains(Csv *csv, const Case *of, const Feed *feed)
{
    csv_text(csv, feeding_is_alternating(feed) ? STR("ac") : STR("dc"));
    csv_text(csv, wires_ground(csv->buf->arena, of->model, feed));
    put_value(csv, feed, PROP_FEED_POLES, UNIT_ALONE(UNIT_NONE));
    put_value(csv, feed, PROP_FEED_GROUND_FAULT, UNIT_ALONE(UNIT_MA));
}

static void put_slot(Csv *csv, const Property *property, unsigned slot, UnitPair unit)
{
    const Value *value = property_value(property, slot);
    if (value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN) && !(property->flags & PROPERTY_BROKEN)) {
        report_csv_range(csv, (Interval){value->u.quantity.low, value->u.quantity.high}, unit, false);
    } else {
        csv_empty(csv);
    }
}

/* How it lies and where its device stands: what the rules of distance and of bundles count. */
static void put_place(Csv *csv, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    const Value *sheath = property_value(feed_property(feed, PROP_FEED_SHEATH), 0);
    put_slot(csv, protect, 3, UNIT_ALONE(UNIT_M));
    put_slot(csv, protect, 4, UNIT_ALONE(UNIT_A));
    csv_text(csv, sheath->kind == VALUE_WORD ? sheath->u.word : STR(""));
    put_slot(csv, feed_property(feed, PROP_FEED_BUNDLE), 0, UNIT_ALONE(UNIT_NONE));
}

static void put_row(Csv *csv, const Outcome *outcome, const WireRow *row)
{
    const Case *of = row->in;
    const Feed *feed = row->feed;
    Arena *arena = csv->buf->arena;
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    Buf text;
    buf_init(&text, arena);
    feeding_write_name(&text, of->model, feed);
    csv_text(csv, buf_str(&text));
    csv_text(csv, wires_name_from(of->model, feed));
    csv_text(csv, wires_name_to(of->model, feed));
    put_size(csv, of, size);
    report_csv_range(csv, feeding_parallel(feed), UNIT_ALONE(UNIT_NONE), false);
    put_insulation(csv, feed);
    put_lengths(csv, feed);
    put_of_all(csv, outcome, row, feeding_figure(of->figures, feed, FIGURE_CURRENT));
    put_protection(csv, of, feed);
    put_of_all(csv, outcome, row, feeding_figure(of->figures, feed, FIGURE_VOLTAGE_DROP));
    const char *source;
    csv_text(csv, str_from(wires_colour(arena, feed, outcome->basis, &source)));
    buf_init(&text, arena);
    wires_label(&text, of->model, feed);
    csv_text(csv, buf_str(&text));
    csv_text(csv, str_from(!figure_is_known(size) ? "" : size->chosen ? "Garboard" : "spec"));
    put_mains(csv, of, feed);
    csv_text(csv, wires_ends(arena, of->figures, feed));
    put_of_all(csv, outcome, row, figure_brought_back(of->figures, feed));
    put_guard(csv, of, feed);
    put_place(csv, feed);
    const Figure *cranking = feeding_cranking(of->figures, feed);
    put_of_all(csv, outcome, row, cranking);
    put_of_all(csv, outcome, row, cranking != NULL ? feeding_figure(of->figures, feed, FIGURE_CRANKING_DROP) : NULL);
    csv_text(csv, str_from(row->only_with != NULL ? row->only_with : ""));
    csv_row_end(csv);
}

/* Panels */

static void put_panel_ends(Csv *csv, const ThingRow *row)
{
    const char *name = text_format(csv->buf->arena, "%.*s@panels", STR_ARG(entity_name(row->in->model, row->thing)));
    csv_text(csv, str_from(name));
    csv_text(csv, STR("panels"));
    csv_text(csv, entity_name(row->in->model, row->thing));
}

static void put_panel_wire(Csv *csv, const ThingRow *row)
{
    const Property *wire = entity_property(row->thing, PROP_SOLAR_PANEL_WIRE);
    const Property *run = entity_property(row->thing, PROP_SOLAR_PANEL_RUN);
    Buf text;
    buf_init(&text, csv->buf->arena);
    if (wire != NULL && !(wire->flags & PROPERTY_BROKEN)) {
        quantity_write(&text, row->in->model, property_value(wire, 0));
    }
    csv_text(csv, buf_str(&text));
    csv_number(csv, 1.0);
    if (property_value(wire, 1)->kind == VALUE_QUANTITY) {
        put_slot(csv, wire, 1, UNIT_ALONE(UNIT_CELSIUS));
    } else {
        csv_number(csv, 60.0); /* what is not stated stands 60 C */
    }
    const Value *metres = property_value(run, 0);
    put_slot(csv, run, 0, UNIT_ALONE(UNIT_M));
    if (run != NULL && !(run->flags & PROPERTY_BROKEN) && metres->kind == VALUE_QUANTITY) {
        Interval way = {metres->u.quantity.low, metres->u.quantity.high};
        report_csv_range(csv, interval_scale(way, 2.0), UNIT_ALONE(UNIT_M), false);
    } else {
        csv_empty(csv);
    }
}

static void put_panel_row(Csv *csv, const ThingRow *row)
{
    enum { BETWEEN_SIZED_AND_OPTION = 14 }; /* ground and all else that this cable has not */
    const Figures *figures = row->in->figures;
    const Property *fuse = entity_property(row->thing, PROP_SOLAR_STRING_FUSE);
    Buf text;
    put_panel_ends(csv, row);
    put_panel_wire(csv, row);
    put_figure(csv, figure_find(figures, row->thing, FIGURE_ARRAY_CURRENT, NULL));
    buf_init(&text, csv->buf->arena);
    if (fuse != NULL && !(fuse->flags & PROPERTY_BROKEN)) {
        quantity_write(&text, row->in->model, property_value(fuse, 0));
        buf_text(&text, " fuse in each string");
    }
    csv_text(csv, buf_str(&text));
    put_figure(csv, figure_find(figures, row->thing, FIGURE_PANEL_DROP, NULL));
    csv_empty(csv);
    Str array = entity_name(row->in->model, row->thing);
    csv_text(csv, str_from(text_format(csv->buf->arena, "panels to %.*s", STR_ARG(array))));
    csv_text(csv, entity_states(row->thing, PROP_SOLAR_PANEL_WIRE) ? STR("spec") : STR(""));
    csv_text(csv, STR("dc"));
    for (int i = 1; i < BETWEEN_SIZED_AND_OPTION; i++) {
        csv_empty(csv);
    }
    csv_text(csv, str_from(row->only_with != NULL ? row->only_with : ""));
    csv_row_end(csv);
}

/* Batteries. Nobody says how long the cables between them are, and what stands in each by itself is a fuse. */

static void put_battery_row(Csv *csv, const ThingRow *row)
{
    enum { PROTECTION = 9, LABEL = 12, CURRENT = 14, INTERRUPTS = 23, OPTION = 28 }; /* columns of HEADERS */
    Arena *arena = csv->buf->arena;
    Str name = entity_name(row->in->model, row->thing);
    Interval count;
    const Property *fuse = feeding_battery_fuse(row->thing, &count);
    Buf text;
    buf_init(&text, arena);
    feeding_write_battery_fuse(&text, row->in->model, fuse);
    buf_text(&text, " at each battery: ");
    unit_print(&text, UNIT_ALONE(UNIT_NONE), count.low, count.high);
    csv_text(csv, str_from(text_format(arena, "%.*s@batteries", STR_ARG(name))));
    csv_text(csv, STR("batteries"));
    csv_text(csv, name);
    for (int column = 3; column <= OPTION; column++) {
        switch (column) {
        case PROTECTION: csv_text(csv, buf_str(&text)); break;
        case LABEL: csv_text(csv, str_from(text_format(arena, "batteries to %.*s", STR_ARG(name)))); break;
        case CURRENT: csv_text(csv, STR("dc")); break;
        case INTERRUPTS: put_slot(csv, fuse, 1, UNIT_ALONE(UNIT_A)); break;
        case OPTION: csv_text(csv, str_from(row->only_with != NULL ? row->only_with : "")); break;
        default: csv_empty(csv);
        }
    }
    csv_row_end(csv);
}

void wires_csv(Buf *to, const Outcome *outcome)
{
    static const char *const HEADERS[] = {"feed",         "from",   "to",       "size",      "conductors",
                                          "insulation_c", "run_m",  "length_m", "current_a", "protection",
                                          "drop_percent", "colour", "label",    "sized_by",
                                          "current",      "ground", "poles",    "opens_ma",  "ends",
                                          "back_a",       "rated_by", "guarded_by",
                                          "device_m",     "interrupts_a", "sheath", "bundle", "cranking_a",
                                          "cranking_drop_percent", "option"};
    Csv csv;
    csv_init(&csv, to, HEADERS, sizeof HEADERS / sizeof HEADERS[0]);
    for (const WireRow *row = wire_rows(to->arena, outcome)->first; row != NULL; row = row->next) {
        if (wires_is_told(row->feed)) {
            put_row(&csv, outcome, row);
        }
    }
    for (const ThingRow *row = panel_rows(to->arena, outcome); row != NULL; row = row->next) {
        put_panel_row(&csv, row);
    }
    for (const ThingRow *row = battery_rows(to->arena, outcome); row != NULL; row = row->next) {
        put_battery_row(&csv, row);
    }
}
