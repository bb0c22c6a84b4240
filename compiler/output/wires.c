/* See wires.h. */
#include "output/wires.h"

#include "figures/power.h"
#include "output/feeding.h"
#include "output/report.h"
#include "output/wire_rows.h"

#include <math.h>
#include <string.h>

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

/* Of 240 V in the US both are live: white is for the grounded neutral alone, and who trusts it as one is hurt. */
static const Colours TWO_LEGS = {.basis = BASIS_US, .alternating = true, .kind = KIND_NONE, .feeding = "black", .returning = "red",
                                 .source = "ABYC E-11, an older text: ungrounded conductors black and red; both are live"};

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
    if (feeding_has_two_legs(feed, basis)) {
        return &TWO_LEGS;
    }
    for (size_t i = 0; i < sizeof COLOURS / sizeof COLOURS[0]; i++) {
        const Colours *row = &COLOURS[i];
        if (row->basis == basis && row->alternating == alternating &&
            (row->kind == kind || row->kind == KIND_NONE)) {
            return row;
        }
    }
    return NULL;
}

/* A switch, or a bus of one pole, has nothing that the returning conductor could end on. */
static bool has_one_pole(const Entity *thing)
{
    return thing != NULL && (thing->kind == KIND_SWITCH || thing->kind == KIND_BUS);
}

bool wires_return_elsewhere(const Feed *feed)
{
    return !feeding_is_alternating(feed) && (has_one_pole(feed->giver) || has_one_pole(feed->taker));
}

static bool states_ground(const Feed *feed)
{
    const Value *value = property_value(feed_property(feed, PROP_FEED_GROUND), 0);
    return value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
}

const char *wires_colour(Arena *arena, const Feed *feed, Basis basis, const char **source)
{
    const Colours *row = find_colours(feed, basis);
    *source = row != NULL ? row->source : "";
    return row != NULL ? text_format(arena, "%s; %s %s%s", row->feeding, row == &TWO_LEGS ? "the other line" : "returning", row->returning,
                                     wires_return_elsewhere(feed) ? ", to the negative bus" : "")
                       : "";
}

Str wires_colours(Arena *arena, const Feed *feed, Basis basis)
{
    const Colours *row = find_colours(feed, basis);
    bool mains = feeding_is_alternating(feed);
    const char *ground = !mains                ? ""
                         : !states_ground(feed) ? "; no ground stated"
                         : basis == BASIS_US    ? " / green"
                                                : " / green-yellow";
    const char *returning = wires_return_elsewhere(feed) ? " to the negative bus" : "";
    return row != NULL ? str_from(text_format(arena, "%s / %s%s%s", row->feeding, row->returning, returning, ground)) : STR("");
}

/* An inlet's own cable leads from it to the first breaker, which is no thing of the spec. */
static bool is_from_shore(const Feed *feed)
{
    return feed->giver == NULL && feed->taker->kind == KIND_INLET;
}

bool wires_is_listed(const Feed *feed)
{
    bool inlet = is_from_shore(feed) && !feed->shares && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_BROKEN));
    return inlet || feeding_is_listed(feed);
}

bool wires_is_told(const Feed *feed)
{
    return wires_is_listed(feed) || switch_cable_is_unstated(feed);
}

/* The name of a giver that is a mistake is not known; the mistake is told elsewhere. */
static Str name_from(const Model *model, const Feed *feed)
{
    if (!is_from_shore(feed) && feed->giver == NULL) {
        return STR("?");
    }
    return entity_name(model, is_from_shore(feed) ? feed->taker : feed->giver);
}

static Str name_to(const Model *model, const Feed *feed)
{
    return is_from_shore(feed) ? STR("breaker") : entity_name(model, feed->taker);
}

void wires_label(Buf *to, const Model *model, const Feed *feed)
{
    buf_add(to, name_from(model, feed));
    buf_text(to, " to ");
    buf_add(to, name_to(model, feed));
}

/* Ends */

typedef struct Stud {
    double up_to_a, up_to_mm2;
    const char *metric, *inch;
} Stud;

static const Stud STUDS[] = {
#define STUD(UP_TO_A, UP_TO_MM2, METRIC, INCH) {UP_TO_A, UP_TO_MM2, METRIC, INCH},
#include "tables/studs.def"
#undef STUD
};

static double at_most(const Figures *figures, const Feed *feed, FigureId id)
{
    const Figure *figure = feeding_figure(figures, feed, id);
    return figure_is_known(figure) ? figure->high : 0.0;
}

/* The row of studs.def that the least of great studs has: those of batteries, their switches and fuses, and starters. */
enum { GREAT_STUD = 3 };

/* The hole of a ring on a great stud; NULL where the current is not known. */
static const char *usual_hole(const Figures *figures, const Feed *feed)
{
    bool upstream = feeding_guarding(figures, feed) == GUARDED_UPSTREAM;
    const Figure *guard = feeding_figure(figures, upstream ? feed->guard : feed, FIGURE_PROTECTION);
    if (!figure_is_known(guard)) {
        guard = feeding_figure(figures, feed, FIGURE_CURRENT);
    }
    if (!figure_is_known(guard) || !isfinite(guard->high)) {
        return NULL;
    }
    double amps = fmax(guard->high, at_most(figures, feed, FIGURE_CRANKING));
    double mm2 = at_most(figures, feed, FIGURE_WIRE_SIZE) * 1e6;
    const Stud *row = &STUDS[GREAT_STUD];
    while (amps > row->up_to_a * (1.0 + 1e-9) || mm2 > row->up_to_mm2 * (1.0 + 1e-9)) {
        row++;
    }
    return figures->basis == BASIS_US ? row->inch : row->metric;
}

/* Both poles of a bank or a starter are studs; a switch has one pole, and other things have screws of any size. */
static bool has_great_studs(const Entity *thing)
{
    return thing != NULL && (thing->kind == KIND_BANK || thing->kind == KIND_ENGINE || thing->kind == KIND_SWITCH);
}

static unsigned ends_on_things(const Feed *feed)
{
    const Entity *const things[] = {feed->giver, feed->taker};
    unsigned ends = 0;
    for (int i = 0; i < 2; i++) {
        bool returns_there = !wires_return_elsewhere(feed); /* else its end is on a negative bus, or on the pole: nobody says */
        ends += !has_great_studs(things[i]) ? 0u : returns_there ? 2u : 1u;
    }
    return ends;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* What the owner wrote, with one blank before each unit and word: the same hole is the same piece to buy. */
static Str with_blanks(Arena *arena, Str written)
{
    Buf text;
    buf_init(&text, arena);
    for (size_t i = 0; i < written.length; i++) {
        if (is_blank(written.text[i])) {
            buf_text(&text, is_blank(written.text[i - (i > 0)]) && i > 0 ? "" : " ");
            continue;
        }
        bool unit = i > 0 && char_is_digit(written.text[i - 1]) && char_is_letter(written.text[i]);
        buf_text(&text, unit ? " " : "");
        buf_char(&text, written.text[i]);
    }
    return buf_str(&text);
}

/* Holes as the owner writes them: a bolt of 5/16 in is no bolt of 0.3125 in. */
static const char *stated_rings(Arena *arena, const Figures *figures, const Property *studs, const char *size)
{
    bool two = property_value(studs, 1)->kind == VALUE_QUANTITY;
    return text_format(arena, "rings %s, %s %.*s", size, two ? "holes" : "hole",
                       STR_ARG(with_blanks(arena, value_written(figures->model, studs))));
}

Str wires_ground(Arena *arena, const Model *model, const Feed *feed)
{
    const Value *value = property_value(feed_property(feed, PROP_FEED_GROUND), 0);
    Buf text;
    buf_init(&text, arena);
    if (value->kind == VALUE_QUANTITY && !(value->flags & (VALUE_BROKEN | VALUE_HOLE))) {
        quantity_write(&text, model, value);
    }
    return buf_str(&text);
}

/* On a panel a device without a distance is one of its ways; with mains, one in a box with terminals of its own. */
bool wires_device_stands_alone(const Feed *feed, const Property *protect)
{
    const Value *distance = property_value(protect, 3);
    bool away = distance->kind == VALUE_QUANTITY && distance->u.quantity.high > 0.0;
    bool on_panel = !feed->maker && feed->giver != NULL && feed->giver->kind == KIND_PANEL;
    return protect != NULL && !(protect->flags & PROPERTY_BROKEN) && !feeding_is_alternating(feed) && (away || !on_panel);
}

/* One that sits on the stud of a battery or bus cuts no cable. */
static bool cuts_cable(const Feed *feed, const Property *protect)
{
    const Value *class = property_value(protect, 2);
    return wires_device_stands_alone(feed, protect) && !(class->kind == VALUE_WORD && str_is(class->u.word, "terminal"));
}

/* Ends on the studs of a device that stands by itself; one on a post that is no great stud has one of its own. */
static unsigned ends_on_device(const Feed *feed, const Property *protect, const Entity *at)
{
    const Value *class = property_value(protect, 2);
    bool great = class->kind == VALUE_WORD && (str_is(class->u.word, "terminal") || str_is(class->u.word, "class-t") ||
                                               str_is(class->u.word, "bolt-on"));
    if (!great || !wires_device_stands_alone(feed, protect)) {
        return 0;
    }
    return cuts_cable(feed, protect) ? 2u : has_great_studs(at) ? 0u : 1u;
}

/* Rings: those whose holes are stated, or usual, or for the rest to be measured. */
static unsigned ring_sorts(Arena *arena, const Figures *figures, const Feed *feed, WireEnds all, const char *size, unsigned parallel,
                           WireEnds ends[WIRE_ENDS_MOST])
{
    const Property *studs = feed_property(feed, PROP_FEED_STUDS);
    unsigned count = 0;
    ends[0] = all;
    if (studs != NULL && !(studs->flags & PROPERTY_BROKEN)) {
        ends[0].what = stated_rings(arena, figures, studs, size);
        return 1;
    }
    bool at_maker = feed_prop(feed, PROP_FEED_PROTECT) == PROP_FEEDS_PROTECT_OUTPUT;
    const char *hole = usual_hole(figures, feed);
    unsigned great = ends_on_things(feed) +
                     ends_on_device(feed, feed_property(feed, PROP_FEED_PROTECT), feed->maker && !at_maker ? feed->taker : feed->giver) +
                     ends_on_device(feed, feed_other_device(feed), feed->giver);
    great = hole == NULL ? 0u : great * parallel > all.count ? all.count : great * parallel;
    if (great > 0) {
        all.what = text_format(arena, "rings %s, hole %s (usual)", size, hole);
        ends[count] = all;
        ends[count++].count = great;
    }
    if (all.count > great) {
        ends[count] = all;
        ends[count].measure = true;
        ends[count].what = text_format(arena, "rings %s, hole to measure", size);
        ends[count++].count = all.count - great;
    }
    return count;
}

unsigned wires_end_sorts(Arena *arena, const Figures *figures, const Feed *feed, WireEnds ends[WIRE_ENDS_MOST])
{
    const Figure *size = feeding_figure(figures, feed, FIGURE_WIRE_SIZE);
    Interval parallel = feeding_parallel(feed);
    if (!figure_is_known(size) || size->low != size->high || parallel.low != parallel.high || parallel.high > 100.0) {
        return 0;
    }
    const char *word = figure_text(figures, size);
    unsigned cuts = cuts_cable(feed, feed_property(feed, PROP_FEED_PROTECT));
    cuts += cuts_cable(feed, feed_other_device(feed));
    ends[0] = (WireEnds){.count = (4u + 2u * cuts) * (unsigned)parallel.high, .area_m2 = size->low};
    if (!feeding_is_alternating(feed) || feed_property(feed, PROP_FEED_STUDS) != NULL) {
        return ring_sorts(arena, figures, feed, ends[0], word, (unsigned)parallel.high, ends);
    }
    ends[0].what = text_format(arena, "ferrules %s", word);
    Str ground = wires_ground(arena, figures->model, feed);
    if (ground.length == 0 || str_equal(ground, str_from(word))) {
        ends[0].count += ground.length > 0 ? 2u : 0u;
        return 1;
    }
    Interval area = point(size->low);
    feeding_value(feed, PROP_FEED_GROUND, 0, &area);
    ends[1] = (WireEnds){2, text_format(arena, "ferrules %.*s", STR_ARG(ground)), area.low, false};
    return 2;
}

Str wires_ends(Arena *arena, const Figures *figures, const Feed *feed)
{
    WireEnds ends[WIRE_ENDS_MOST];
    unsigned count = wires_end_sorts(arena, figures, feed, ends);
    Buf text;
    buf_init(&text, arena);
    for (unsigned i = 0; i < count; i++) {
        bool one_ring = ends[i].count == 1 && strncmp(ends[i].what, "rings ", 6) == 0;
        buf_format(&text, "%s%u %s%s", i > 0 ? ", " : "", ends[i].count, one_ring ? "ring" : "", ends[i].what + (one_ring ? 5 : 0));
    }
    return buf_str(&text);
}

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
    csv_text(csv, name_from(of->model, feed));
    csv_text(csv, name_to(of->model, feed));
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

static void put_panel_ends(Csv *csv, const PanelRow *row)
{
    const char *name = text_format(csv->buf->arena, "%.*s@panels", STR_ARG(entity_name(row->in->model, row->array)));
    csv_text(csv, str_from(name));
    csv_text(csv, STR("panels"));
    csv_text(csv, entity_name(row->in->model, row->array));
}

static void put_panel_wire(Csv *csv, const PanelRow *row)
{
    const Property *wire = entity_property(row->array, PROP_SOLAR_PANEL_WIRE);
    const Property *run = entity_property(row->array, PROP_SOLAR_PANEL_RUN);
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

static void put_panel_row(Csv *csv, const PanelRow *row)
{
    enum { BETWEEN_SIZED_AND_OPTION = 14 }; /* ground and all else that this cable has not */
    const Figures *figures = row->in->figures;
    const Property *fuse = entity_property(row->array, PROP_SOLAR_STRING_FUSE);
    Buf text;
    put_panel_ends(csv, row);
    put_panel_wire(csv, row);
    put_figure(csv, figure_find(figures, row->array, FIGURE_ARRAY_CURRENT, NULL));
    buf_init(&text, csv->buf->arena);
    if (fuse != NULL && !(fuse->flags & PROPERTY_BROKEN)) {
        quantity_write(&text, row->in->model, property_value(fuse, 0));
        buf_text(&text, " fuse in each string");
    }
    csv_text(csv, buf_str(&text));
    put_figure(csv, figure_find(figures, row->array, FIGURE_PANEL_DROP, NULL));
    csv_empty(csv);
    csv_text(csv, str_from(text_format(csv->buf->arena, "panels to %.*s", STR_ARG(entity_name(row->in->model, row->array)))));
    csv_text(csv, entity_states(row->array, PROP_SOLAR_PANEL_WIRE) ? STR("spec") : STR(""));
    csv_text(csv, STR("dc"));
    for (int i = 1; i < BETWEEN_SIZED_AND_OPTION; i++) {
        csv_empty(csv);
    }
    csv_text(csv, str_from(row->only_with != NULL ? row->only_with : ""));
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
    for (const PanelRow *row = panel_rows(to->arena, outcome); row != NULL; row = row->next) {
        put_panel_row(&csv, row);
    }
}
