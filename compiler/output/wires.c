/* See wires.h. */
#include "output/wires.h"

#include "output/feeding.h"
#include "output/report.h"

typedef struct Colours {
    Basis basis;
    bool alternating;
    KindId kind;
    const char *feeding, *returning;
    const char *source;
} Colours;

static const Colours COLOURS[] = {
#define WIRE_COLOUR(BASIS, ALTERNATING, KIND, FEEDING, RETURNING, SOURCE) \
    {BASIS, ALTERNATING, KIND, FEEDING, RETURNING, SOURCE},
#include "tables/wire-colours.def"
#undef WIRE_COLOUR
};

/* What a cable is there for: of a circuit, what hangs on it, if that is all of one kind. */
static KindId kind_fed(const Feed *feed)
{
    KindId kind = (KindId)feed->taker->kind;
    if (kind != KIND_CIRCUIT) {
        return kind;
    }
    KindId hangs = KIND_NONE;
    for (const Feed *on = feed->taker->gives; on != NULL; on = on->next_of_giver) {
        if (hangs != KIND_NONE && hangs != (KindId)on->taker->kind) {
            return KIND_CIRCUIT;
        }
        hangs = (KindId)on->taker->kind;
    }
    return hangs;
}

static const Colours *find_colours(const Feed *feed, Basis basis)
{
    bool alternating = feeding_is_alternating(feed);
    KindId kind = kind_fed(feed);
    for (size_t i = 0; i < sizeof COLOURS / sizeof COLOURS[0]; i++) {
        const Colours *row = &COLOURS[i];
        if (row->basis == basis && row->alternating == alternating &&
            (row->kind == kind || row->kind == KIND_NONE)) {
            return row;
        }
    }
    return NULL;
}

const char *wires_colour(Arena *arena, const Feed *feed, Basis basis, const char **source)
{
    const Colours *row = find_colours(feed, basis);
    *source = row != NULL ? row->source : "";
    return row != NULL ? text_format(arena, "%s; returning %s", row->feeding, row->returning) : "";
}

void wires_label(Buf *to, const Model *model, const Feed *feed)
{
    buf_add(to, entity_name(model, feed->giver));
    buf_text(to, " to ");
    buf_add(to, entity_name(model, feed->taker));
}

static bool is_known(const Figure *figure)
{
    return figure != NULL && figure->state == STATE_KNOWN;
}

/* A cell of a figure in the figure's unit, or nothing. */
static void put_figure(Csv *csv, const Figure *figure)
{
    if (is_known(figure)) {
        report_csv_range(csv, (Interval){figure->low, figure->high}, UNIT_ALONE(figure_rows[figure->id].unit),
                         false);
    } else {
        csv_empty(csv);
    }
}

static void put_size(Csv *csv, const Case *of, const Figure *size)
{
    csv_text(csv, str_from(is_known(size) ? figure_text(of->figures, size) : ""));
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
    feeding_write_protection(&text, of->model, feeding_property(feed, PROP_FEED_PROTECT));
    const Figure *chosen = feeding_chosen_protection(of->figures, feed);
    if (chosen != NULL) {
        buf_init(&text, csv->buf->arena);
        figure_write(&text, of->figures, chosen);
    }
    csv_text(csv, buf_str(&text));
}

static void put_feed(Csv *csv, const Outcome *outcome, const Feed *feed)
{
    const Case *of = outcome_first(outcome);
    Arena *arena = csv->buf->arena;
    const Figure *size = feeding_figure(of->figures, feed, FIGURE_WIRE_SIZE);
    Buf text;
    buf_init(&text, arena);
    feeding_write_name(&text, of->model, feed);
    csv_text(csv, buf_str(&text));
    csv_text(csv, entity_name(of->model, feed->giver));
    csv_text(csv, entity_name(of->model, feed->taker));
    put_size(csv, of, size);
    report_csv_range(csv, feeding_parallel(feed), UNIT_ALONE(UNIT_NONE), false);
    put_insulation(csv, feed);
    put_lengths(csv, feed);
    put_figure(csv, feeding_figure(of->figures, feed, FIGURE_CURRENT));
    put_protection(csv, of, feed);
    put_figure(csv, feeding_figure(of->figures, feed, FIGURE_VOLTAGE_DROP));
    const char *source;
    csv_text(csv, str_from(wires_colour(arena, feed, outcome->basis, &source)));
    buf_init(&text, arena);
    wires_label(&text, of->model, feed);
    csv_text(csv, buf_str(&text));
    csv_text(csv, str_from(!is_known(size) ? "" : size->chosen ? "Garboard" : "spec"));
    csv_row_end(csv);
}

void wires_csv(Buf *to, const Outcome *outcome)
{
    static const char *const HEADERS[] = {"feed",         "from",   "to",       "size",      "conductors",
                                          "insulation_c", "run_m",  "length_m", "current_a", "protection",
                                          "drop_percent", "colour", "label",    "sized_by"};
    Csv csv;
    csv_init(&csv, to, HEADERS, sizeof HEADERS / sizeof HEADERS[0]);
    const Model *model = report_model(outcome);
    for (uint32_t i = 0; model != NULL && i < model->feed_count; i++) {
        if (feeding_is_listed(model->feeds[i])) {
            put_feed(&csv, outcome, model->feeds[i]);
        }
    }
}
