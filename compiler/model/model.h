/*
 * The model: the boat as the rest of the program sees it. Kinds, properties, shapes and dimensions are checked, names
 * resolved, parts and options applied, quantities in SI. It keeps, for every value, the place where it was stated.
 *
 * One model is one definite boat: every choice is decided. Where choices are open, the caller builds one model for each
 * combination (see library.c). Nothing here computes anything beyond reading.
 */
#ifndef GARBOARD_MODEL_MODEL_H
#define GARBOARD_MODEL_MODEL_H

#include "base/date.h"
#include "base/interval.h"
#include "language/schema.h"
#include "language/shape.h"
#include "syntax/tree.h"
#include "text/message.h"

typedef struct Entity Entity;
typedef struct Feed Feed;
typedef struct Choice Choice;

typedef enum ValueKind {
    VALUE_NONE, /* an optional term that was left out */
    VALUE_QUANTITY,
    VALUE_REFERENCE,
    VALUE_WORD,
    VALUE_TEXT,
    VALUE_DATE,
    VALUE_CLOCK,
    VALUE_YES_NO,
    VALUE_MONTH,
    VALUE_BLOCK, /* the property's own block: always the last value */
} ValueKind;

enum {
    VALUE_BROKEN = 1 << 0, /* a mistake stands here: unknown, and told already */
    VALUE_HOLE = 1 << 1,   /* `?` */
    VALUE_NO_LOW =
        1 << 2, /* `<=`: no lower side was stated (low is 0, or minus infinity where that may be) */
    VALUE_NO_HIGH = 1 << 3, /* `>=`, `?`: high is infinite */
    VALUE_ASSUMED = 1 << 4, /* a default of the schema */
    VALUE_MONEY = 1 << 5,   /* in the boat's currency, whatever it was written in */
    VALUE_SIZE = 1 << 6,    /* a conductor size: low and high are copper areas in m2; unit tells the series */
    VALUE_DOUBTED = 1 << 7, /* its point groups digits, which a rule tells: what rests on it waits (see grouped.h) */
};

typedef struct Block Block;

typedef struct Value {
    uint8_t kind; /* ValueKind */
    uint8_t flags;
    UnitPair unit; /* as the owner wrote it */
    NodeId node;   /* first term; 0 for a default */
    union {
        struct {
            double low, high; /* SI; equal unless undecided */
        } quantity;
        Entity *entity; /* NULL if broken */
        Str word;
        Str text;
        Date date;
        struct {
            int32_t from, to; /* minutes from midnight; to < from passes midnight */
        } clock;
        bool yes;
        int month; /* 1..12 */
        const Block *block;
        uint32_t *asked; /* behind the values of what is wrong: see property_ask */
    } u;
} Value;

/* How well a value is known, by the last word of its line. */
typedef enum Known { KNOWN_UNSAID, KNOWN_MEASURED, KNOWN_LABELLED, KNOWN_ESTIMATED, KNOWN_GUESSED } Known;

enum {
    PROPERTY_BROKEN = 1 << 0, /* its statement has a mistake */
    PROPERTY_FROM_PART = 1 << 1,
    PROPERTY_FROM_SET = 1 << 2,
    PROPERTY_ASSUMED = 1 << 3,
    PROPERTY_NAMES = 1 << 4, /* a value is a name, or a block: each model has its own */
    PROPERTY_WRONG = 1 << 5, /* its statement, or a name in it, is a mistake; behind its values stands where that is noted */
    PROPERTY_UNDECIDED = 1 << 6, /* a value of it is a range, a bound or a hole */
};

typedef struct Property {
    const Value *values;
    NodeId node;    /* its statement; 0 for a default */
    uint16_t id;    /* PropId */
    uint16_t count; /* of values: the shape's slots, or more for a list */
    uint8_t flags;
    uint8_t known; /* Known */
} Property;

/** Some properties together: those of a thing, or of a property's own block. */
struct Block {
    const Property *properties;
    uint64_t has; /* block_bit of each property that is there: most questions are for one that is not */
    uint32_t count;
};

enum {
    ENTITY_BROKEN = 1 << 0,   /* its first line has a mistake, or its kind is unknown */
    ENTITY_LOOP = 1 << 1,     /* its feed leads back to itself */
    ENTITY_AC = 1 << 2,       /* carries alternating current */
    ENTITY_DROPPED = 1 << 3,  /* status dropped: not aboard */
    ENTITY_DOUBTFUL = 1 << 4, /* its kind is a guess, or its name stands for another thing too */
    ENTITY_PARTLESS = 1 << 5, /* its part is not known: nor is what it does not state itself */
    ENTITY_FEED_LOST = 1 << 6, /* a line of another thing with a mistake in it was to say what feeds it */
};

/* What of mains can be there at a thing, by all of its feeds: of Entity.mains. */
enum {
    MAINS_SHORE = 1 << 0,
    MAINS_GENERATOR = 1 << 1,
    MAINS_INVERTER = 1 << 2, /* what comes out of a bank */
};

struct Entity {
    uint8_t kind; /* KindId */
    uint8_t flags;
    uint8_t mains;  /* MAINS_x; of what turns mains into something else: what reaches it, not what it gives */
    uint8_t system; /* System */
    uint8_t status; /* Status, of status.h: how far its buying is */
    Symbol name;
    uint32_t index;       /* in Model.entities */
    NodeId node;          /* NODE_THING */
    /* Up to here and what follows is asked of all things by every sum over the boat, and lies together: */
    Block block;
    const struct Purchase
        *purchase; /* of status.h: how its buying goes, where anything is said of that; NULL */
    Entity *next_of_kind;
    /* What is asked seldom: */
    Feed *fed;   /* feeds that bring it power: its own `fed-by` */
    Feed *gives; /* feeds that take power from it, linked by next_of_giver */
    const Entity *stated_by; /* the converter whose `feeds` states its cable, where nothing else feeds it: read as its own `fed-by` */
    Feed *made;  /* by which makers feed it, in the order of the spec, linked by next_of_taker */
    const Choice *choice; /* of the model: the one whose chosen option that is, or NULL */
    NodeId option;        /* the NODE_OPTION that it stands in, or 0 */
    NodeId part;          /* the NODE_PART that it is, or 0 */
    Str title;            /* empty if none */
};

/**
 * A feed: one cable with its protection. Power goes from giver to taker. `subject` is the thing that the spec states
 * it on: the taker for `fed-by`, the giver for `feeds`.
 */
struct Feed {
    Entity *giver; /* NULL if the name was broken */
    Entity *taker;
    Entity *subject;
    const Block *block; /* where run, wire, protect ... stand: the subject's own block or the `feeds` block */
    const Feed *guard;  /* the nearest feed upstream, itself included, that states a protection; NULL: none */
    bool maker;         /* stated by `feeds` */
    bool shares;        /* no cable of its own: uses the circuit's that feeds it */
    bool one_ended;     /* of a maker: a short circuit in its cable is fed from its own end alone */
    Feed *next;         /* the next feed of the same subject (a transfer switch has several, a charger too) */
    Feed *next_of_giver;
    Feed *next_of_taker; /* for makers: the next that feeds the same taker */
};

typedef struct Option {
    NodeId node;
    Symbol name;
    Str title;
    bool excluded; /* no model takes it: with every one it would set what another option sets */
} Option;

struct Choice {
    NodeId node;
    Symbol name;
    Str title;
    Option *options;
    uint32_t option_count;
    int32_t picked;   /* index, or -1 while open */
    bool by_command;  /* picked with --with */
    uint32_t covered; /* so many of its options, from the first, are taken by some model; 0: all */
    uint32_t excluded; /* so many of its options are */
    bool left_out;    /* an option is none of those: it has no name, or that of another */
    Str because;
    int32_t chosen; /* the option that this model was built with */
};

typedef struct Waiver {
    NodeId node;
    Str rule;
    Symbol subject;
    Span rule_at, subject_at;
    bool has_until;
    Date until;
    Str because;
} Waiver;

/* A `score CRITERION 4 of 5` of an option. */
typedef struct Score {
    NodeId node;
    const Choice *choice;
    uint32_t option;
    Symbol criterion;
    double points, of;
} Score;

typedef struct Model {
    Arena *arena;
    const Tree *tree;
    Messages *messages;
    Shapes *shapes;
    Entity **entities; /* in the order of the spec */
    uint32_t entity_count;
    Entity **by_symbol; /* indexed by Symbol; NULL: no thing has that name */
    uint32_t symbol_count;
    Entity *first_of_kind[KIND_COUNT];
    bool lost[KIND_COUNT]; /* one of the kind (KIND_NONE: of one that nobody knows) has no name that could be read */
    Entity *boat; /* NULL if the spec has none */
    const Entity **left_out; /* things of options that this model does not take, with their choice: in no other list, and without a part */
    uint32_t left_out_count;
    Str currency; /* the boat's; empty if unknown */
    Choice *choices;
    uint32_t choice_count;
    Waiver *waivers;
    uint32_t waiver_count;
    Score *scores;
    uint32_t score_count;
    Feed **feeds; /* every feed; those of `fed-by` in an order in which givers come before takers */
    uint32_t feed_count;
    Entity *
        *feed_order; /* things that take or give power, givers before takers; things in loops are left out */
    uint32_t feed_order_count;
    Entity **jobs; /* in an order in which they can be done; those in a circle of `after` are left out */
    uint32_t job_count;
    Property **wrong; /* every property with a mistake in it, those of blocks too */
    uint32_t wrong_count;
    uint32_t *asked; /* how often one of them was asked for since model_ask_anew */
    struct Checker *checker; /* what built it; reads the schema's defaults when they are asked for */
} Model;

/**
 * The property of a feed that a `fed-by` states as `prop` (PROP_FEED_x) and a `feeds` block as PROP_FEEDS_x; PROP_NONE where
 * that has none. Of PROP_FEED_PROTECT it is the device that guards the cable: at the end of what makes alternating current,
 * or is all that feeds what it leads to, that is `protect-output`, where `protect` is not stated, for a short circuit there is
 * fed from that end alone; one behind an alternator or a charger is fed from the bank.
 */
PropId feed_prop(const Feed *feed, PropId prop);
/** How the `feeds` of the converter that states the cable of a thing says such a property of its own feed; PROP_NONE: no such feed. */
PropId feeds_prop_of(const Entity *taker, PropId prop);
/** What a feed states by that property, or NULL. */
const Property *feed_property(const Feed *feed, PropId prop);
/** A device at the end of what makes power that stands there beside the one that guards the cable, or NULL. */
const Property *feed_other_device(const Feed *feed);

/** Whether something is still to be decided: a choice of one option is none. */
static inline bool choice_is_open(const Choice *choice)
{
    return choice->picked < 0 && choice->option_count > 1;
}

/** The thing of that name, or NULL. */
Entity *model_find(const Model *model, Str name);
Str entity_name(const Model *model, const Entity *entity);
/** What it was called before: n = 0 is the last name before this one, 1 the one before that ...; empty: it has said no more. */
Str entity_old_name(const Model *model, const Entity *entity, unsigned n);
/** Whether it was called so before. */
bool entity_was(const Model *model, const Entity *entity, Str name);
/** The symbol of its name; 0 of no thing, as one that another model lacks. */
static inline Symbol entity_symbol(const Entity *entity)
{
    return entity != NULL ? entity->name : 0;
}
/** From when to when, in s; over midnight too. The same hour twice is a whole day. value is a VALUE_CLOCK. */
double clock_seconds(const Value *value);

/** The title, or the name where there is none. */
Str entity_label(const Model *model, const Entity *entity);
/** The place of a thing's name. */
Span entity_span(const Model *model, const Entity *entity);

/**
 * The bit of a property in Block.has. Several share one: a block that has another of them is searched in vain. The factor was sought
 * so that what the demo boat and a long spec ask for seldom meets what they state; any other odd one is as right.
 */
static inline uint64_t block_bit(PropId id)
{
    return (uint64_t)1 << ((uint32_t)id * 1466321447u >> 26);
}
/** The stated property, or NULL. Of one that repeats: the first. */
const Property *block_search(const Block *block, PropId id);
static inline const Property *block_property(const Block *block, PropId id)
{
    return block->has & block_bit(id) ? block_search(block, id) : NULL;
}
/* Of no thing, as of the boat of a spec that has none: nothing is stated. */
static inline const Property *entity_property(const Entity *entity, PropId id)
{
    return entity != NULL ? block_property(&entity->block, id) : NULL;
}
/** Which property of a thing says how long it runs in a day. */
static inline PropId prop_of_use(const Entity *entity)
{
    return entity->kind == KIND_WATER_HEATER    ? PROP_WATER_HEATER_USE
           : entity->kind == KIND_GAS_APPLIANCE ? PROP_GAS_APPLIANCE_USE
                                                : PROP_LOAD_USE;
}
/** There at all, not dropped, and its first line has no mistake. */
static inline bool is_aboard(const Entity *entity)
{
    return entity != NULL && !(entity->flags & (ENTITY_DROPPED | ENTITY_BROKEN));
}
/** Whether its kind has properties of one of these groups (GROUPS_FEED ...). */
static inline bool entity_has_group(const Entity *entity, unsigned groups)
{
    return (kinds[entity->kind].groups & groups) != 0;
}
/** The next statement of the same repeating property, or NULL. */
const Property *block_next(const Block *block, const Property *previous);
/** How many statements of a property a thing has. */
uint32_t entity_statement_count(const Entity *entity, PropId id);
/**
 * The stated property, else the schema's default for it (flags PROPERTY_ASSUMED, values VALUE_ASSUMED), else NULL.
 */
const Property *model_property(const Model *model, const Entity *entity, PropId id);
const Property *model_default(const Model *model, PropId id);
/**
 * The default that is taken in this block, where it may go by what another property says there; a range of all of them that may
 * be meant, where that is a range.
 */
const Property *model_default_in(const Model *model, const Block *block, PropId id);
/** Whether the boat's own length is stated in feet or inches: what nobody states is then told in such units. */
bool model_is_in_feet(const Model *model);
/** The unit that a value which is left open is told in, where this one is usual; heat stays in kW. */
UnitPair model_unit(const Model *model, UnitPair unit);

/*
 * A word, a name or a yes that is a mistake reads as if it were not stated. Whoever asks for one has to wait, whatever comes
 * of the rest: figures (work_record) and rules (rules.c) look here at the end whether they have gone by such a one.
 */
static inline void property_ask(const Property *property)
{
    ++*property->values[property->count].u.asked;
}
static inline void model_ask_anew(const Model *model)
{
    *model->asked = 0;
}
static inline bool model_asked_wrong(const Model *model)
{
    return *model->asked > 0;
}

extern const Value value_none; /* of kind VALUE_NONE */
/** Whether a value is a quantity that is still a range, a hole among them; and whether it is a single number. */
static inline bool value_is_range(const Value *value)
{
    return value->kind == VALUE_QUANTITY && value->u.quantity.low != value->u.quantity.high;
}
static inline bool value_is_point(const Value *value)
{
    return value->kind == VALUE_QUANTITY && value->u.quantity.low == value->u.quantity.high;
}
/** Whether it is a `?`: a range as wide as the schema allows. */
static inline bool value_is_hole(const Value *value)
{
    return value->kind == VALUE_QUANTITY && value->flags & VALUE_HOLE;
}
/** Whether its statement has a mistake, or one of its values: a name that nothing has. */
bool property_is_mistaken(const Property *property);
/** A value of a property; one of kind VALUE_NONE for a property that is NULL or a slot that is not there. */
static inline const Value *property_value(const Property *property, unsigned slot)
{
    if (property != NULL && property->flags & PROPERTY_WRONG) {
        property_ask(property);
    }
    return property != NULL && slot < property->count ? &property->values[slot] : &value_none;
}

/**
 * The thing that a value names; NULL for another kind of value, and for a name that is a mistake: a reference has no thing
 * then. Nobody outside of compiler/model reads u.entity.
 */
static inline Entity *value_entity(const Value *value)
{
    return value->kind == VALUE_REFERENCE ? value->u.entity : NULL;
}
/** Whether a value is a name, and that of this thing. */
static inline bool value_names(const Value *value, const Entity *thing)
{
    return value->kind == VALUE_REFERENCE && value->u.entity == thing;
}

/* Shorthands for the first value of a stated property of a thing; here, for most is asked of what is not stated. */
/** NULL if not stated or broken. */
static inline Entity *entity_reference(const Entity *entity, PropId id)
{
    return value_entity(property_value(entity_property(entity, id), 0));
}
/** Whether one of the values of a property names a thing: `serves galley-sink, basin`. */
bool entity_names(const Entity *entity, PropId id, const Entity *thing);
/** Empty if not stated. */
static inline Str entity_word(const Entity *entity, PropId id)
{
    const Value *value = property_value(entity_property(entity, id), 0);
    return value->kind == VALUE_WORD ? value->u.word : (Str){"", 0};
}
Str entity_text(const Entity *entity, PropId id);
/** Whether a word stands among those that a property lists; not if it is not stated. */
bool property_lists(const Property *property, Str word);
/** 1 yes, 0 no, -1 not stated, -2 broken, or of no thing at all */
static inline int entity_yes(const Entity *entity, PropId id)
{
    const Property *property = entity_property(entity, id);
    if (property == NULL) {
        return entity == NULL || entity->flags & ENTITY_PARTLESS ? -2 : -1;
    }
    const Value *value = property_value(property, 0);
    return property->flags & PROPERTY_BROKEN || value->kind != VALUE_YES_NO ? -2 : value->u.yes;
}
static inline bool entity_states(const Entity *entity, PropId id)
{
    return entity_property(entity, id) != NULL;
}
/** Whether it is said to be carried: a can, a portable toilet, what is not built in. */
static inline bool is_carried(const Entity *entity)
{
    return entity_yes(entity, PROP_COMMON_PORTABLE) == 1;
}
/** Whether it stays ashore: it is bought like anything else, and is in nothing that she weighs. */
static inline bool is_ashore(const Entity *entity)
{
    return entity->kind == KIND_ITEM && entity_yes(entity, PROP_ITEM_ASHORE) == 1;
}
/** Whether a galvanic isolator lies in the grounding conductor of shore power there. */
static inline bool has_isolator(const Entity *inlet)
{
    return inlet->kind == KIND_INLET && str_is(entity_word(inlet, PROP_INLET_ISOLATION), "galvanic");
}
/** A quantity in SI, money in the boat's currency; false if none is stated, or it is broken. */
bool entity_quantity(const Entity *entity, PropId id, unsigned slot, Interval *value);

/** The place of a property's statement, of one of its values, or of the entity's name where it is not stated. */
Span property_span(const Model *model, const Property *property);
Span value_span(const Model *model, const Value *value);
/** A value as the owner wrote it (`30..50 gal`), or a default in the schema's words. */
Str value_written(const Model *model, const Property *property);

/** Whether the hours of the engine on a day are those of its `distance`: she has no sails, and the day does not state them. */
bool engine_by_distance(const Entity *day);
/** Whether a feed leads to a shore inlet from something aboard that is no generator: it was to run the other way. */
bool is_turned_inlet(const Feed *feed);
/**
 * Whether the mains of an inlet pass a transformer aboard, for isolation or for polarisation: what is behind it is a source
 * of its own, and a device before it sees no leak there.
 */
bool has_transformer(const Entity *inlet);
/**
 * Whether nothing is stated of the cable from a bank, a generator or an inverter to a switch: it is part of no other cable, and
 * whether there is none (`run 0 m`) nobody knows. Of what is aboard.
 */
bool switch_cable_is_unstated(const Feed *feed);
/** Whether a converter is a relay that only joins two banks while the first is charged: the current that goes in comes out. */
bool is_relay(const Entity *converter);
/** What of mains a thing hands on to what hangs on it (MAINS_x), whichever of its sources is there. */
unsigned mains_given(const Entity *giver);
/** What of mains reaches the taker of a feed by its other feeds, without the inverters there (MAINS_SHORE, MAINS_GENERATOR). */
unsigned mains_beside(const Feed *feed);
/** Whether a thing that an inverter can feed is fed by it, as it counts in days: by the first of its feeds that brings any. */
bool is_inverters_feed(const Feed *feed);
/** The inverter that a thing gets its mains from while neither shore nor generator is there; NULL: none. */
const Entity *inverter_before(const Entity *thing);

/** Whether such a thing makes mains, or direct current, by itself; whether what it gives on is mains. */
bool makes_alternating(const Entity *giver);
bool makes_direct(const Entity *giver);
bool gives_alternating(const Entity *giver);

#endif
