/* See unlisted.h: a table of what things need, by kind. All of it is common practice, no source, but where a row says more. */
#include "output/unlisted.h"

#include "figures/water.h"
#include "model/status.h"
#include "output/feeding.h"
#include "output/material_sorts.h"
#include "output/wires.h"
#include "rules/options.h"

typedef struct Asked {
    const Entity *thing;
    const bool *joined; /* by Entity.index: a hose leads to or from it */
} Asked;

typedef struct Row {
    UnlistedPart part;
    KindId kind;
    bool (*wanted)(const Asked *asked); /* NULL: all of the kind */
    const char *before, *after;         /* names stand between */
} Row;

static bool is_grounded(const Asked *asked)
{
    return entity_yes(asked->thing, PROP_TANK_GROUNDED) == 1;
}

static bool is_no_outboard(const Asked *asked)
{
    return !str_is(entity_word(asked->thing, PROP_ENGINE_MOUNTED), "outboard");
}

static bool draws_sea_water(const Asked *asked)
{
    bool burns = !str_is(entity_word(asked->thing, PROP_ENGINE_FUEL), "electric");
    return is_no_outboard(asked) && burns && !asked->joined[asked->thing->index];
}

static bool is_bonded(const Asked *asked)
{
    return entity_yes(asked->thing, PROP_INLET_BONDED) == 1;
}

static bool has_deck_fittings(const Asked *asked)
{
    return entity_yes(asked->thing, PROP_COMMON_PORTABLE) != 1 &&
           (entity_states(asked->thing, PROP_TANK_VENT) || entity_states(asked->thing, PROP_TANK_FILL) ||
            entity_states(asked->thing, PROP_TANK_PUMP_OUT));
}

static bool is_without_bore(const Asked *asked)
{
    Interval bore;
    return !entity_quantity(asked->thing, PROP_FUEL_LINE_BORE, 0, &bore);
}

static bool is_without_grade(const Asked *asked)
{
    return !is_without_bore(asked) && entity_word(asked->thing, PROP_FUEL_LINE_GRADE).length == 0;
}

static bool is_without_outlet(const Asked *asked)
{
    Interval bore;
    return !asked->joined[asked->thing->index] && !entity_quantity(asked->thing, PROP_BILGE_PUMP_OUTLET, 0, &bore);
}

static bool has_outlet_alone(const Asked *asked)
{
    return !asked->joined[asked->thing->index] && !is_without_outlet(asked);
}

static bool drains_unsaid(const Asked *asked)
{
    return entity_states(asked->thing, PROP_FIXTURE_DRAINS_TO) && !asked->joined[asked->thing->index];
}

static bool is_heated_by_engine(const Asked *asked)
{
    return entity_states(asked->thing, PROP_WATER_HEATER_ENGINE);
}

static bool is_joined(const Asked *asked)
{
    return asked->joined[asked->thing->index];
}

static bool is_unjoined(const Asked *asked)
{
    return !is_joined(asked);
}

static bool is_without_panel_cable(const Asked *asked)
{
    return !panel_cable_is_stated(asked->thing);
}

/* A pump of fuel sits in fuel lines. */
static bool pumps_unsaid(const Asked *asked)
{
    const Property *from = entity_property(asked->thing, PROP_PUMP_FROM);
    bool fuel = false;
    for (uint16_t i = 0; from != NULL && i < from->count; i++) {
        const Entity *tank = value_entity(&from->values[i]);
        fuel = fuel || (tank != NULL && tank->kind == KIND_TANK && str_is(entity_word(tank, PROP_TANK_HOLDS), "fuel"));
    }
    return !fuel && is_unjoined(asked);
}

static const Row rows[] = {
    {UNLISTED_DIRECT, KIND_BANK, NULL, "the main negative, from the negative pole of ",
     " to a negative bus, and that bus: no thinner than the thickest positive cable of the bank"},
    {UNLISTED_DIRECT, KIND_SOLAR, NULL, "what disconnects the panels of ", " from the controller"},
    /* 33 CFR 183.572 for petrol; for the rest common practice. */
    {UNLISTED_DIRECT, KIND_TANK, is_grounded, "the grounding wires of ", " and of the metal fittings that they are filled by"},
    {UNLISTED_DIRECT, KIND_ENGINE, is_no_outboard, "the conductor that joins the block of ", " to the ground of direct current"},
    /* ABYC E-11 and ISO 13297, from memory. */
    {UNLISTED_ALTERNATING, KIND_INLET, is_bonded, "the conductor that joins the ground of ", " to the ground of direct current"},
    {UNLISTED_PIECES, KIND_SOLAR, is_without_panel_cable, "the cables from the panels of ",
     " to the controller: `panel-run` and `panel-wire` are not both stated"},
    {UNLISTED_PIECES, KIND_INLET, NULL, "the shore cord of ", " with its plugs, unless an `item` is it"},
    {UNLISTED_PIECES, KIND_FUEL_LINE, is_without_bore, "", ", a fuel line whose bore is not stated, and its clamps"},
    {UNLISTED_PIECES, KIND_FUEL_LINE, is_without_grade, "the clamps of ", ", as no grade says whether it is hose or metal"},
    {UNLISTED_PIECES, KIND_TANK, has_deck_fittings, "the hoses and deck fittings of vent, fill and pump-out of ", ": their length is not stated"},
    {UNLISTED_PIECES, KIND_ENGINE, draws_sea_water, "the hoses of the cooling water of ", ": no hose is stated"},
    {UNLISTED_PIECES, KIND_PUMP, pumps_unsaid, "the hoses to and from ", ": no hose is stated"},
    {UNLISTED_PIECES, KIND_BILGE_PUMP, is_without_outlet, "the hose of ", ": neither `outlet` nor a hose is stated"},
    {UNLISTED_PIECES, KIND_BILGE_PUMP, has_outlet_alone, "elbows and tails of the hose of ", ": bends are stated of a `hose` alone"},
    {UNLISTED_PIECES, KIND_FIXTURE, drains_unsaid, "the drain of ", ": no hose is stated"},
    {UNLISTED_PIECES, KIND_WATER_HEATER, is_heated_by_engine, "the coolant hoses between the engine and ", ""},
    {UNLISTED_PIECES, KIND_GAS_LOCKER, is_unjoined, "regulator, pipe, hoses and valves of the gas from ", ""},
    {UNLISTED_PIECES, KIND_GAS_LOCKER, is_joined, "regulator, pipe, hoses and valves of the gas from ",
     ", but for what a `hose` states"},
};

typedef struct Gatherer {
    Arena *arena;
    const Outcome *outcome;
    const bool **joined; /* of each case */
    bool to_buy;
    Unlisted *first, **end;
} Gatherer;

static void add_text(Gatherer *gatherer, const char *text)
{
    *gatherer->end = ARENA_NEW(gatherer->arena, Unlisted);
    **gatherer->end = (Unlisted){.text = text};
    gatherer->end = &(*gatherer->end)->next;
}

/* With which options each thing asks for it, by its name. */
static CaseSet *asking(const Gatherer *gatherer, const Row *row)
{
    CaseSet *cases = ARENA_ARRAY(gatherer->arena, CaseSet, symbols_end(gatherer->outcome->spec->symbols));
    for (uint32_t c = 0; c < gatherer->outcome->case_count; c++) {
        const Model *model = gatherer->outcome->cases[c].model;
        for (const Entity *e = first_aboard(model, row->kind); e != NULL; e = next_aboard(e)) {
            Asked asked = {e, gatherer->joined[c]};
            bool piece = row->part == UNLISTED_PIECES; /* a conductor may be none of it */
            bool had = gatherer->to_buy && piece && thing_status(e) == STATUS_FITTED;
            cases[e->name] |= !had && (row->wanted == NULL || row->wanted(&asked)) ? (CaseSet)1 << c : 0;
        }
    }
    return cases;
}

/* The names of all that ask for it in any case, each once, with the options that bring it. */
static void add_row(Gatherer *gatherer, const Row *row)
{
    CaseSet *cases = asking(gatherer, row);
    bool any = false;
    Buf text;
    buf_init(&text, gatherer->arena);
    buf_text(&text, row->before);
    for (uint32_t c = 0; c < gatherer->outcome->case_count; c++) {
        const Model *model = gatherer->outcome->cases[c].model;
        for (const Entity *e = first_aboard(model, row->kind); e != NULL; e = next_aboard(e)) {
            CaseSet of = cases[e->name];
            if (of == 0) {
                continue;
            }
            const char *words = of == options_all_cases(gatherer->outcome) ? NULL : options_words(gatherer->outcome->options, NULL, of);
            buf_format(&text, "%s`%.*s`%s", any ? ", " : "", STR_ARG(entity_name(model, e)),
                       words != NULL ? text_format(gatherer->arena, " (with %s)", words) : "");
            cases[e->name] = 0;
            any = true;
        }
    }
    if (any) {
        buf_text(&text, row->after);
        add_text(gatherer, text.text);
    }
}

/* How many rings wait for their studs to be measured. */
static unsigned unmeasured(const Gatherer *gatherer, const Case *of)
{
    unsigned count = 0;
    for (uint32_t i = 0; i < of->model->feed_count; i++) {
        const Feed *feed = of->model->feeds[i];
        WireEnds ends[WIRE_ENDS_MOST];
        bool listed = wires_is_listed(feed) && !(gatherer->to_buy && is_had(feed->subject));
        unsigned sorts = listed ? wires_end_sorts(gatherer->arena, of->figures, feed, ends) : 0;
        for (unsigned sort = 0; sort < sorts; sort++) {
            count += ends[sort].measure ? ends[sort].count : 0;
        }
    }
    return count;
}

static void add_rings(Gatherer *gatherer)
{
    unsigned low = 0, high = 0;
    for (uint32_t c = 0; c < gatherer->outcome->case_count; c++) {
        unsigned count = unmeasured(gatherer, &gatherer->outcome->cases[c]);
        low = c == 0 || count < low ? count : low;
        high = count > high ? count : high;
    }
    if (high > 0) {
        const char *count = low == high ? text_format(gatherer->arena, "%u", high) : text_format(gatherer->arena, "%u..%u", low, high);
        add_text(gatherer, text_format(gatherer->arena,
                                       "rings for %s ends of cables, or what their screws ask for instead: the wire list has the sizes; "
                                       "measure the studs, and state them as `studs`",
                                       count));
    }
}

const Unlisted *unlisted_of(Arena *arena, const Outcome *outcome, unsigned parts, bool to_buy)
{
    Gatherer gatherer = {.arena = arena, .outcome = outcome, .to_buy = to_buy};
    gatherer.end = &gatherer.first;
    gatherer.joined = ARENA_ARRAY(arena, const bool *, outcome->case_count + 1);
    for (uint32_t c = 0; c < outcome->case_count; c++) {
        gatherer.joined[c] = joined_by_hoses(arena, outcome->cases[c].model);
    }
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (rows[i].part & parts) {
            add_row(&gatherer, &rows[i]);
        }
    }
    if (parts & UNLISTED_PIECES) {
        add_rings(&gatherer);
    }
    return gatherer.first;
}
