/* See wire_rows.h. */
#include "output/wire_rows.h"

#include "output/feeding.h"
#include "output/only_with.h"
#include "output/wires.h"

/* What a person wires by, as one text: cables with the same one are made alike. */

static void write_stated(Buf *to, const Model *model, const Property *property)
{
    buf_char(to, '|');
    for (uint16_t i = 0; property != NULL && i < property->count; i++) {
        const Value *value = &property->values[i];
        buf_char(to, ' ');
        if (value->kind == VALUE_QUANTITY) {
            quantity_write(to, model, value);
        } else if (value->kind == VALUE_WORD) {
            buf_add(to, value->u.word);
        }
    }
}

static void write_figure(Buf *to, const Case *in, const Feed *feed, FigureId id)
{
    const Figure *figure = feeding_figure(in->figures, feed, id);
    buf_char(to, '|');
    if (figure != NULL && figure->state == STATE_KNOWN) {
        figure_write(to, in->figures, figure);
        buf_text(to, figure->chosen ? " sized" : "");
        buf_text(to, figure->device != NULL ? figure->device : "");
    }
}

static void write_leakage(Buf *to, const Case *in, const Feed *feed)
{
    LeakageWay ways[LEAKAGE_WAYS_MOST];
    unsigned count = feeding_is_alternating(feed) ? feeding_leakage_ways(feed, ways) : 0;
    for (unsigned i = 0; i < count; i++) {
        write_stated(to, in->model, ways[i].opens);
        buf_add(to, ways[i].where != NULL ? entity_name(in->model, ways[i].where) : STR(""));
    }
}

static Str text_of(Arena *arena, const Outcome *outcome, const Case *in, const Feed *feed)
{
    static const PropId stated[] = {PROP_FEED_RUN,  PROP_FEED_PROTECT, PROP_FEED_GROUND, PROP_FEED_POLES, PROP_FEED_GROUND_FAULT,
                                    PROP_FEED_WIRE, PROP_FEED_SHEATH,  PROP_FEED_BUNDLE, PROP_FEED_STUDS};
    Buf text;
    buf_init(&text, arena);
    buf_text(&text, feed->shares ? "shares" : "");
    for (size_t i = 0; i < sizeof stated / sizeof stated[0]; i++) {
        write_stated(&text, in->model, feed_property(feed, stated[i]));
    }
    write_stated(&text, in->model, feed_other_device(feed));
    write_figure(&text, in, feed, FIGURE_WIRE_SIZE);
    write_figure(&text, in, feed, FIGURE_PROTECTION);
    Guarding guarding = feeding_guarding(in->figures, feed);
    buf_format(&text, "|%d", (int)guarding);
    if (guarding == GUARDED_UPSTREAM) {
        feeding_write_upstream(&text, in->figures, feed);
    } else if (guarding == GUARDED_NOT) {
        write_figure(&text, in, feed, FIGURE_WANTED_PROTECTION);
    }
    write_leakage(&text, in, feed);
    buf_add(&text, wires_colours(arena, feed, outcome->basis));
    buf_add(&text, wires_ends(arena, in->figures, feed));
    return buf_str(&text);
}

/* Gathering */

typedef struct Gatherer {
    Arena *arena;
    WireRows *rows;
    WireRow *last;
} Gatherer;

static bool is_same_cable(const WireRow *row, const Feed *feed)
{
    return row->feed->maker == feed->maker && entity_symbol(row->feed->giver) == entity_symbol(feed->giver) &&
           entity_symbol(row->feed->taker) == entity_symbol(feed->taker);
}

/* Behind the last row of the same cable; a new cable at the end of all. */
static void add_row(Gatherer *gatherer, WireRow *row)
{
    WireRows *rows = gatherer->rows;
    WireRow *same = NULL;
    WireRow **of_subject = &rows->by_subject[row->feed->subject->name];
    for (; *of_subject != NULL; of_subject = &(*of_subject)->of_subject) {
        same = is_same_cable(*of_subject, row->feed) ? *of_subject : same;
    }
    if (same != NULL) {
        row->of_subject = same->of_subject;
        same->of_subject = row;
    } else {
        *of_subject = row;
    }
    WireRow *before = same != NULL ? same : gatherer->last;
    WireRow **place = before != NULL ? &before->next : &rows->first;
    row->next = *place;
    *place = row;
    gatherer->last = row->next == NULL ? row : gatherer->last;
}

/* Two cables between the same things in one combination are two rows, however alike. */
static void note_feed(Gatherer *gatherer, const Case *in, CaseSet bit, const Feed *feed)
{
    const Outcome *outcome = gatherer->rows->outcome;
    Str alike = outcome->case_count > 1 ? text_of(gatherer->arena, outcome, in, feed) : STR("");
    WireRow *row = gatherer->rows->by_subject[feed->subject->name];
    while (row != NULL && !(is_same_cable(row, feed) && !(row->cases & bit) && str_equal(row->alike, alike))) {
        row = row->of_subject;
    }
    if (row == NULL) {
        row = ARENA_NEW(gatherer->arena, WireRow);
        *row = (WireRow){.feed = feed, .in = in, .alike = alike};
        add_row(gatherer, row);
    }
    row->cases |= bit;
}

/* Of a thing that always has this one cable, what brings the thing. */
static const char *words_for(Arena *arena, const Outcome *outcome, const Case *in, const Entity *subject, CaseSet cases)
{
    if (cases == options_all_cases(outcome)) {
        return NULL;
    }
    const char *words = cases == outcome_cases_with(outcome, subject) ? only_with(arena, outcome, in->model, subject)
                                                              : options_words(outcome->options, NULL, cases);
    return words != NULL ? words : "some of the combinations";
}

/* Cables that are no feeds: of an array's panels, beside the one that it feeds by; and between the batteries of a bank */

typedef struct ThingRows {
    KindId kind;
    bool (*has)(const Entity *thing);
    PropId stated[4]; /* by which they are alike; PROP_NONE ends them */
} ThingRows;

static bool has_battery_fuse(const Entity *bank)
{
    Interval count;
    return feeding_battery_fuse(bank, &count) != NULL;
}

static const ThingRows of_panels = {
    KIND_SOLAR, panel_cable_is_stated, {PROP_SOLAR_PANEL_RUN, PROP_SOLAR_PANEL_WIRE, PROP_SOLAR_STRING_FUSE, PROP_NONE}};
static const ThingRows of_batteries = {
    KIND_BANK, has_battery_fuse, {PROP_BANK_BATTERY_FUSE, PROP_BANK_PARALLEL, PROP_COMMON_COUNT, PROP_NONE}};

static Str thing_alike(Arena *arena, const Case *in, const Entity *thing, const PropId *stated)
{
    Buf text;
    buf_init(&text, arena);
    for (; *stated != PROP_NONE; stated++) {
        write_stated(&text, in->model, entity_property(thing, *stated));
    }
    return buf_str(&text);
}

static const ThingRow *thing_rows(Arena *arena, const Outcome *outcome, const ThingRows *of)
{
    ThingRow *first = NULL;
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Case *in = &outcome->cases[c];
        for (const Entity *e = in->model->first_of_kind[of->kind]; e != NULL; e = e->next_of_kind) {
            if (!of->has(e)) {
                continue;
            }
            Str alike = thing_alike(arena, in, e, of->stated);
            ThingRow **at = &first;
            while (*at != NULL && !((*at)->thing->name == e->name && str_equal((*at)->alike, alike))) {
                at = &(*at)->next;
            }
            if (*at == NULL) {
                *at = ARENA_NEW(arena, ThingRow);
                **at = (ThingRow){.thing = e, .in = in, .alike = alike};
            }
            (*at)->cases |= (CaseSet)1 << c;
        }
    }
    for (ThingRow *row = first; row != NULL; row = row->next) {
        row->only_with = words_for(arena, outcome, row->in, row->thing, row->cases);
    }
    return first;
}

const ThingRow *panel_rows(Arena *arena, const Outcome *outcome)
{
    return thing_rows(arena, outcome, &of_panels);
}

const ThingRow *battery_rows(Arena *arena, const Outcome *outcome)
{
    return thing_rows(arena, outcome, &of_batteries);
}

const WireRows *wire_rows(Arena *arena, const Outcome *outcome)
{
    WireRows *rows = ARENA_NEW(arena, WireRows);
    *rows = (WireRows){.outcome = outcome,
                       .by_subject = ARENA_ARRAY(arena, WireRow *, symbols_end(outcome->spec->symbols))};
    Gatherer gatherer = {.arena = arena, .rows = rows};
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        const Model *model = outcome->cases[c].model;
        for (uint32_t i = 0; i < model->feed_count; i++) {
            note_feed(&gatherer, &outcome->cases[c], (CaseSet)1 << c, model->feeds[i]);
        }
    }
    for (WireRow *row = rows->first; row != NULL; row = row->next) {
        row->only_with = words_for(arena, outcome, row->in, row->feed->subject, row->cases);
    }
    return rows;
}

const WireRow *wire_row_of(const WireRows *rows, const Model *model, const Feed *feed)
{
    uint32_t number = 0;
    while (number < rows->outcome->case_count && rows->outcome->cases[number].model != model) {
        number++;
    }
    const WireRow *row = number < rows->outcome->case_count ? rows->by_subject[feed->subject->name] : NULL;
    while (row != NULL && !(row->cases >> number & 1 && is_same_cable(row, feed))) {
        row = row->of_subject;
    }
    return row;
}
