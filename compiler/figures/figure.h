/*
 * Figures: every computed number, with what went into it.
 *
 * A figure has a subject, a name, a value that may be an interval, a formula, its inputs (other figures, values of the
 * spec, facts of a table) and a source. Rules judge figures, the book prints them, `why` prints the working of one.
 * Recipes read the model, call physics and record; they print nothing and judge nothing.
 */
#ifndef GARBOARD_FIGURES_FIGURE_H
#define GARBOARD_FIGURES_FIGURE_H

#include "base/interval.h"
#include "model/model.h"
#include "physics/basis.h"
#include "physics/conductor.h"

#include <math.h>

typedef enum FigureId {
    FIGURE_NONE,
#define FIGURE(ID, NAME, UNIT, HELP, SOURCE) FIGURE_##ID,
#include "figures/figures.def"
#undef FIGURE
    FIGURE_COUNT
} FigureId;

typedef struct FigureRow {
    const char *name;
    uint8_t unit; /* UnitId */
    const char *help;
    const char *source;
} FigureRow;
extern const FigureRow figure_rows[FIGURE_COUNT];

/*
 * What of its subject a figure is about, where that is not all of it: one of the boat's systems (by its number, see
 * System), or the boat with her tanks so full. Printed behind an @, as a day is.
 */
typedef enum FigureScope {
    SCOPE_WHOLE,
    SCOPE_CONTENTS = SYSTEM_COUNT, /* what is in the tanks at their fill-level */
    SCOPE_TANKS_EMPTY,
    SCOPE_TANKS_HALF,
    SCOPE_TANKS_FULL,
    SCOPE_COUNT
} FigureScope;

typedef enum State {
    STATE_KNOWN,   /* low and high hold (they may be infinite: undecided on that side) */
    STATE_MISSING, /* a property that it needs is not stated */
    STATE_WAITING, /* it rests on a mistake in the spec, told already */
} State;

/** A number with what is known of it, on its way through a recipe. */
typedef struct Quantity {
    Interval value;
    State state;
} Quantity;

/** A number that comes from a table or a choice of this program, not from the spec. */
typedef struct Fact {
    const char *what;   /* "resistance of 6 mm2 at 20 C" */
    double low, high;   /* SI */
    UnitPair unit;
    const char *source; /* with "from memory" or "common practice, no source" where that is so */
} Fact;

typedef enum InputKind {
    INPUT_FIGURE,
    INPUT_VALUE,
    INPUT_FACT,
    INPUT_MISSING,
    INPUT_MISTAKE, /* as INPUT_VALUE, of a statement with a mistake: it has no value */
} InputKind;

typedef struct Input {
    uint8_t kind;  /* InputKind */
    uint8_t slot;  /* INPUT_VALUE, INPUT_MISTAKE */
    uint16_t prop; /* PropId: INPUT_VALUE, INPUT_MISTAKE, INPUT_MISSING; INPUT_FACT: what it stands for that is not stated, or PROP_NONE */
    uint32_t entity; /* index in Model.entities, of what has a prop */
    union {
        const struct Figure *figure;
        const Property *property; /* INPUT_VALUE, INPUT_MISTAKE; its flags tell a default */
        const Fact *fact;
    } u;
} Input;

typedef struct Figure {
    const Entity *subject;
    const Entity *at;      /* the day, or which of several feeds; NULL for most */
    double low, high;      /* SI; only where state is STATE_KNOWN */
    const Input *inputs;
    const char *formula;   /* `{current} x {resistance} / {voltage}`: which input a brace is says figures/working.h */
    const char *remark;    /* "holding ends it": what else there is to say; or NULL */
    const char *device;    /* a rating that was chosen: the device to buy, "fuse class-t"; NULL: as the spec says */
    struct Figure *next;   /* of the same subject */
    uint16_t input_count;
    uint8_t id;            /* FigureId */
    uint8_t step;          /* the step of the recipes that made it; see FigureTrace */
    uint8_t state;         /* State */
    uint8_t scope;         /* FigureScope; `at` is NULL where it is not SCOPE_WHOLE */
    UnitPair unit;         /* to print it in */
    bool money;
    bool size;             /* a conductor size; printed by its name */
    bool chosen;           /* sized by this program, not stated */
    bool least;            /* it is the least of the figures among its inputs */
    bool partial;          /* a sum of which things are left out that would add to it: it is that at least */
    bool none;             /* nothing is what was looked for: its ends are where it would lie, outside of what was searched */
} Figure;

/** The bounds of what is known of it: without an upper one where it is a sum that lacks something; the whole line where it is not known. */
static inline Interval figure_bounds(const Figure *figure)
{
    bool known = figure->state == STATE_KNOWN;
    return (Interval){known ? figure->low : -INFINITY, known && !figure->partial ? figure->high : INFINITY};
}

/* So many steps the recipes have at most; step 0 is none. Bit s of a set stands for step s. */
enum { FIGURE_STEPS = 64 };
typedef uint64_t StepSet;

static inline StepSet step_bit(unsigned step)
{
    return (StepSet)1 << step;
}

/* What each step of the recipes read and made. It tells what a changed value can change. */
typedef struct FigureNotes {
    StepSet reads[PROP_COUNT];   /* the steps that used this property of something, or missed it */
    StepSet makes[FIGURE_COUNT]; /* the steps that recorded such figures */
    StepSet needs[FIGURE_STEPS]; /* by step: the steps whose figures it asked for */
} FigureNotes;

typedef struct FigureTrace {
    FigureNotes *notes;
    FigureNotes *of_trials;       /* one for all figures_again of these: it is written and never read; NULL: there were none */
    StepSet chooses;              /* the steps that chose something, or looked for it in vain */
    uint8_t step;                 /* the one that runs; 0: none */
    uint32_t sizes_tried;         /* in place of what is left to this program: with days run for each, what costs most */
    StepSet stale, done;          /* of figures_again: what has to be computed anew, and what was */
    struct Figures *figures;      /* whose trace it is */
    const struct Plumbing *plumbing; /* see plumbing_of; NULL: nobody has asked for it yet */
    const struct BoatThings *things; /* the same: see boat_things */
} FigureTrace;

/* A thing's figures, linked by next in the order of computing. */
typedef struct FigureList {
    Figure *first, *last;
    uint64_t has; /* bit id % 64: whether it may have such a figure; most that are asked for in vain are not looked for */
} FigureList;

typedef struct Figures {
    Arena *arena;
    const Model *model;
    Basis basis;
    Date today;
    bool in_feet; /* what no property says is told in feet, pounds, gallons ... */
    FigureTrace *trace;
    const struct FigureStep *steps; /* by which they are computed; NULL: by none */
    uint8_t step_count;
    const struct Figures *before; /* of figures_again: where all that is not stale is taken from; else NULL */
    const struct Figures *earlier; /* of a size that is tried in a step: where what earlier steps made is found; else NULL */
    FigureList *lists;     /* one a thing, by Entity.index; of figures_again NULL until one is recorded */
    Figure *room;          /* for so many more: figures that are made one after the other lie side by side */
    uint32_t room_count;
    const Fact *facts[64]; /* by a hash, the last one each: the same few facts serve thousands of figures */
    uint32_t count;
    const struct Power *handed_on;      /* by figures_power to the next steps, in the scratch of all of them; else NULL */
    const struct PowerDays *power_days; /* banks with the tables of their days: for what plots them; NULL: none */
} Figures;

/** Whether a thing may have such a figure, told by a bit: most questions are for one that is not there. */
static inline bool figure_list_may_have(const FigureList *list, FigureId id)
{
    return list->has >> id % 64 & 1;
}

/** None yet: for figures_compute, and for a test that records its own. */
Figures *figures_new(Arena *arena, const Model *model, Basis basis, Date today);

/** Computes every figure of a model. basis and today are decided by the caller. */
Figures *figures_compute(Arena *arena, const Model *model, Basis basis, Date today);

/**
 * Figures of the same model after values of one property in it have changed. Nothing is computed at once: figure_find
 * computes the steps that can have changed as they are asked for, and takes the rest from `before`. Good for figure_find
 * alone: the lists of things are not whole. anew: it was not stated before, or is no quantity; who looks at that leaves no
 * trace, and every step can have changed.
 */
Figures *figures_again(Arena *arena, const Figures *before, PropId changed, bool anew);
/** ... and of another property besides, before any figure is asked for. */
void figures_also(Figures *again, PropId changed);

/** Whether there is such a figure, and it has a number. */
static inline bool figure_is_known(const Figure *figure)
{
    return figure != NULL && figure->state == STATE_KNOWN;
}

/** The figure of all of its subject, or NULL if there is none. `at` as in Figure. */
const Figure *figure_find(const Figures *figures, const Entity *subject, FigureId id, const Entity *at);
/** The figure of that part or state of its subject, or NULL. */
const Figure *figure_find_in(const Figures *figures, const Entity *subject, FigureId id, FigureScope scope);
/** The figure by what stands behind its @: a thing's name or the word of a scope; nothing for most. NULL: none. */
const Figure *figure_find_at(const Figures *figures, const Entity *subject, FigureId id, Str at);
const char *figure_scope_word(FigureScope scope); /* "power", "tanks-full"; "" for SCOPE_WHOLE */
/** What stands behind the figure's @; empty for most. */
Str figure_at_name(const Model *model, const Figure *figure);
/**
 * What tells the figures of several feeds of one subject apart: the target of a `feeds`, the source of one of several
 * `fed-by`; NULL for the one `fed-by` that most things have.
 */
const Entity *feed_at(const Feed *feed);
/** The figure of that name; FIGURE_NONE if there is none. */
FigureId figure_id(Str name);

/** "12.5 A", "30..50 l", "6 mm2", "1 234.00 EUR"; "not known" in words where it is missing or waiting. */
void figure_write(Buf *to, const Figures *figures, const Figure *figure);
const char *figure_text(const Figures *figures, const Figure *figure); /* the same, in the arena */
/** "cabin-lights.voltage-drop", "house.endurance@anchored" */
void figure_write_name(Buf *to, const Figures *figures, const Figure *figure);
/** The same without its subject: "endurance@anchored" */
void figure_write_label(Buf *to, const Model *model, const Figure *figure);

/** The series that a size stated in this unit belongs to: AWG, SAE, or else metric. */
Series series_of_unit(UnitPair unit);
/** A value of the spec as it is printed: in the owner's unit; sizes by name; money in the boat's currency. */
void quantity_write(Buf *to, const Model *model, const Value *value);

/** The unit that the owner would use where this one is usual and no property says: feet, pounds, gallons ... or the same. */
static inline UnitPair figures_unit(const Figures *figures, UnitPair unit)
{
    return figures->in_feet ? unit_customary(unit) : unit;
}

/* Recipes: how figures are made. A Work gathers the inputs of one figure after the other. */

typedef struct Work {
    Figures *figures;
    const Model *model;
    Arena *scratch;   /* for what is not recorded: it goes when the step of the recipes ends */
    Input *inputs;    /* in room, where a figure keeps them as they stand; if they are many, aside */
    uint32_t count, capacity;
    Input *room;      /* for the inputs of the next figures, side by side ... */
    uint32_t room_count;
    uint32_t room_kept; /* ... the first of which belong to figures recorded since work_begin */
    Input *aside;
    uint32_t aside_capacity;
    const Input *kept; /* copies of many, and how many: the next figure mostly has the same */
    uint32_t kept_count;
    State state;      /* the worst of what was used since work_begin */
} Work;

void work_init(Work *work, Figures *figures);
/** Whether anybody reads by which formula it was computed, or what is remarked on it: not of what is only tried. */
static inline bool formula_is_read(const Work *work)
{
    return work->figures->before == NULL;
}
/** Forgets what was used before: a new figure begins. */
void work_begin(Work *work);

/**
 * Uses a stated value or its default; a missing one makes the figure missing, a broken one makes it wait, and so does one of
 * no thing, as of the boat of a spec that has none.
 */
Quantity use_value(Work *work, const Entity *entity, PropId prop, unsigned slot);
/** The same of a property in a block (a feed's). entity is whose it is. */
Quantity use_block_value(Work *work, const Entity *entity, const Block *block, PropId prop, unsigned slot);
/** Notes that the step looks at that property without using it as an input: a trial of another value runs it again. */
void note_read(Work *work, PropId prop);
/** Uses a value of one statement, where a property repeats; of hours of the clock their length in s. */
Quantity use_statement(Work *work, const Entity *entity, const Property *property, unsigned slot);
/** Makes the figure wait if the statement has a mistake: what it states is unknown then, and not nothing. */
void use_if_mistaken(Work *work, const Property *property);
/** Uses a value only if it is stated; state STATE_MISSING otherwise, without making the figure missing. */
Quantity use_stated(Work *work, const Entity *entity, PropId prop, unsigned slot);
/** `count`, else exactly 1 (nothing recorded then). */
Quantity use_count(Work *work, const Entity *entity);
Quantity use_figure(Work *work, const Figure *figure); /* NULL counts as missing, without an input */
Quantity use_fact(Work *work, const char *what, Interval value, UnitPair unit, const char *source);
/** A fact that stands for what a thing does not state, and might, or follows from what it leaves open: `slot` of that property. */
Quantity use_assumption(Work *work, const Entity *entity, PropId prop, unsigned slot, Fact fact);
/** Notes that a property is needed and is not there. */
void use_missing(Work *work, const Entity *entity, PropId prop);
/** Something that is used is broken. */
void use_waiting(Work *work);

/** The same of the figures that are worked at. */
static inline UnitPair work_unit(const Work *work, UnitPair unit)
{
    return figures_unit(work->figures, unit);
}
/** Records the figure with what was used since work_begin. The value counts only if all that was used is known. */
Figure *work_record(Work *work, FigureId id, const Entity *subject, const Entity *at, Interval value, const char *formula);
/** The empty lists of its things. */
void figures_make_lists(Figures *figures);
/** Says that a figure is a choice of this program; or, if it is none, that one was looked for in vain. */
void work_choose(Work *work, Figure *figure, bool chosen);
/** Whether a step of these figures_again that had to be computed anew chose something, or had before. */
bool figures_choose_again(const Figures *figures);

/*
 * The recipes, in steps (figures_*.c, water_*.c); recipes.c has their order. A step sees the figures of the steps before it
 * by figure_find, and shares nothing else with them, but for what figures_power and figures_banks hand on: each can be run
 * again alone.
 */
void figures_climate(Work *work);
void figures_power(Work *work);
void figures_cables(Work *work);
void figures_banks(Work *work);
void figures_engine_hours(Work *work);
void figures_speeds(Work *work); /* power on its way to the water, speeds, fuel burned at them: sizes of tanks rest on it */
void figures_water(Work *work);
void figures_ranges(Work *work);
void figures_propellers(Work *work);
void figures_pitches(Work *work);
void figures_engines(Work *work);
void figures_drive(Work *work);
void figures_boat_mass(Work *work);
void figures_boat_money(Work *work);
void figures_money(Work *work);     /* quoted, committed, paid, still to buy, by system */
void figures_suppliers(Work *work); /* promised against received */
void figures_boat_endurance(Work *work);
void figures_weight(Work *work); /* behind weight_centres */
void figures_navigation(Work *work);
void figures_service(Work *work);
void figures_plan(Work *work);

/* A step of the recipes. The first row of a list of them is none. */
typedef struct FigureStep {
    void (*run)(Work *work);
    bool of_boat;                  /* nothing to do for a spec without a boat */
    bool (*looks_at)(PropId prop); /* without recording it as an input; NULL: at none */
} FigureStep;

/** Runs `count` steps in their order, the first row left out. The list stays the caller's, and has to last as long as the figures. */
void figures_run(Figures *figures, const FigureStep *steps, uint8_t count);

/** Notes that the running step needs an earlier one, told by its recipe; of figures_again it is run where it has to be. */
void figures_need(const Figures *figures, void (*recipe)(Work *work));

/** Shorthand for a unit that stands alone. */
#define UNIT_ALONE(id) ((UnitPair){(uint8_t)(id), UNIT_NONE})
#define UNIT_BY(id, per) ((UnitPair){(uint8_t)(id), (uint8_t)(per)})

#endif
