/*
 * The rules: each one entry in a table, one function, both in the file of its family (rules_*.c).
 *
 * A rule asks for figures and values and states a comparison; whether that holds, is broken or is still open is decided
 * by judge_*, never in the rule. Texts are only made where there is something to say.
 */
#ifndef GARBOARD_RULES_RULE_H
#define GARBOARD_RULES_RULE_H

#include "figures/figure.h"

typedef enum Severity { SEVERITY_ADVICE, SEVERITY_WARNING, SEVERITY_FAULT } Severity;
enum { SEVERITY_COUNT = SEVERITY_FAULT + 1 };
typedef enum Verdict { VERDICT_BROKEN, VERDICT_OPEN } Verdict;

typedef struct Judge Judge;

enum { ON_US = 1 << BASIS_US, ON_ISO = 1 << BASIS_ISO, ON_BOTH = ON_US | ON_ISO };

/* What the fault could do: a waiver of such a fault needs an end within a year, and the book shows a caution. */
typedef enum Danger {
    DANGER_NONE,
    DANGER_MAINS,
    DANGER_BATTERY,
    DANGER_GAS,
    DANGER_FUEL,
    DANGER_FLOODING,
    DANGER_FIRE,
    DANGER_DRINKING, /* what is drunk makes ill */
} Danger;

typedef struct Rule {
    const char *name;    /* words; never changes its meaning */
    Severity severity;   /* the greatest that it gives */
    const char *title;   /* what it asks, in one line: "a cable carries no more than it can stand" */
    uint8_t basis;       /* ON_US, ON_ISO or ON_BOTH */
    Danger danger;
    const char *source;  /* clause, or "common practice, no source"; says what is from memory */
    const char *why;     /* a few sentences in our own words */
    const char *breaks;  /* a whole small spec that breaks it; a test compiles it */
    const char *holds;   /* one that does not */
    const char *open;    /* one that leaves it open; NULL if it cannot be open: then never_open says why */
    const char *never_open;
    bool of_all_cases;   /* with choices open, counts only if every case shows it: it speaks of the whole spec */
    bool of_choice;      /* speaks of an open choice itself: broken although only some of its options show it */
    bool of_assumptions; /* speaks of what is assumed: settle_assumed.c says which of it matters */
    bool of_findings;    /* speaks of what other rules have found, and runs after them: see rules_found.c, rules_waivers.c */
    bool once_a_panel;   /* of devices side by side on one panel that lack the same, `check` tells one, and names the others */
    System chapter;      /* that the book tells it in, of what it says of the boat as a whole; SYSTEM_NONE: that of the hull */
    KindId kinds[8];     /* the kinds it looks at with `judge`; up to the first 0 */
    void (*judge)(Judge *judge, const Entity *subject);    /* each thing of those kinds that is not dropped */
    void (*judge_feed)(Judge *judge, const Feed *feed);    /* each feed with a cable of its own */
    void (*judge_boat)(Judge *judge);                      /* once */
} Rule;

typedef struct RuleFamily {
    const char *title;
    const Rule *rules;
    size_t count;
} RuleFamily;
#define RULE_FAMILY(TITLE, RULES) {.title = (TITLE), .rules = (RULES), .count = sizeof(RULES) / sizeof((RULES)[0])}

extern const RuleFamily *const rule_families[];
extern const size_t rule_family_count;
const Rule *rule_find(Str name);

/** A place that a finding points to, with what is to be seen there. */
typedef struct FindingNote {
    Span at;
    const char *text; /* may be NULL */
    struct FindingNote *next;
} FindingNote;

typedef struct Remedy {
    const char *text; /* "wire 6 mm2" */
    struct Remedy *next;
} Remedy;

/** One value that is a range, a bound or a hole. */
typedef struct DependValue {
    const Property *property;
    unsigned slot;
    struct DependValue *next;
} DependValue;

/** An undecided thing that an open finding hangs on: "house.capacity". */
typedef struct Depend {
    const Entity *entity;
    PropId prop;         /* PROP_NONE: a choice, named by `text` */
    const char *text;    /* "house.capacity", "engine-size" */
    DependValue *values; /* which of its values are undecided; NULL: it is not stated, or a choice */
    const Fact *fact;    /* of what is assumed: what stands for `slot` of it; NULL: the default of the schema does */
    unsigned slot;
    struct Depend *next;
} Depend;

typedef struct Finding {
    const Rule *rule;
    Severity severity;
    Verdict verdict;
    const Entity *subject;
    const Entity *at;      /* a day, or a second thing, that tells findings of one rule and subject apart; or NULL */
    const Entity *looked_at;    /* the thing that the rule was looking at, or ... */
    const Feed *looked_at_feed; /* ... the feed; both NULL: at the whole boat */
    PropId about;          /* the property that tells it apart from others of one rule and subject; PROP_NONE: none */
    const char *matter;    /* or the word that does: "smoke"; NULL: none */
    const char *message;
    Span place;            /* primary place */
    const char *place_note;
    FindingNote *notes;
    Remedy *remedies;
    Depend *depends;
    Depend *assumed;       /* defaults of the schema that it rests on, where they say something about the boat */
    Depend *mends;         /* broken: decided quantities of which another value may meet it (settle_mend.c tries) */
    Remedy *together;      /* broken: what is said of all of `mends` at once, for none alone meets it; NULL: each is tried by itself */
    bool filled;           /* rests on a size that the spec leaves open and this program has filled in: another may mend it */
    bool guessed;          /* rests on a value that the owner calls guessed or estimated */
    bool compared;         /* value and limit were compared: */
    uint32_t comparison;   /* ... which of the judge's comparisons that was, from 1 on */
    Interval value, limit;
    UnitPair unit;
    bool money;
    const Waiver *waiver;  /* set aside by; NULL */
    bool by_boat;          /* the subject is the boat for want of another */
    uint64_t found_in;     /* bit i: case i of the outcome has it ... */
    uint64_t broken_in;    /* ... and broken */
    uint64_t severe_in[SEVERITY_COUNT]; /* ... and that severe: the finding has the greatest of them; 0: not told by cases */
    struct Settle *settles;/* open: what value of what would settle it; see settle.h */
    const struct Finding *told_with; /* open: what makes that hold makes this hold; NULL: it is told for itself */
    uint32_t tells;        /* how many are told with it */
    uint64_t combinations; /* in how many combinations of the open choices it was found ... */
    const char *only_with; /* "engine-size=stout", where not in all; or NULL */
    struct Finding *next;
} Finding;

/** A property without which rules cannot be judged, and how many. */
typedef struct Unmeasured {
    const Entity *entity;
    PropId prop;
    uint32_t rules;        /* how many judgements wait for it */
    uint32_t judgement;    /* the last of them, counted as unjudged */
    const char *first;     /* name of the first such rule */
    const Rule *first_rule;
    FigureId figure;       /* the figure that lacks it */
    struct Unmeasured *next;
} Unmeasured;

/* The figures of a feed that its rules ask for again and again. */
enum { FEED_FIGURE_PLACES = 13 };
typedef struct FeedFigures {
    const Feed *feed; /* NULL: not looked up yet */
    const Figure *of[FEED_FIGURE_PLACES];
} FeedFigures;

/** Where in FeedFigures.of a figure is; 0: nowhere. */
static inline int feed_figure_place(FigureId id)
{
    switch (id) {
    case FIGURE_PROTECTION: return 1;
    case FIGURE_WIRE_SIZE: return 2;
    case FIGURE_AMPACITY: return 3;
    case FIGURE_CURRENT: return 4;
    case FIGURE_CONTINUOUS_CURRENT: return 5;
    case FIGURE_VOLTAGE_DROP: return 6;
    case FIGURE_TOTAL_DROP: return 7;
    case FIGURE_TOTAL_DROP_BY_RULE: return 8;
    case FIGURE_CHARGE_DROP: return 9;
    case FIGURE_END_VOLTAGE: return 10;
    case FIGURE_FAULT_CURRENT: return 11;
    case FIGURE_LEAST_FAULT: return 12;
    default: return 0;
    }
}

/* What is gathered once for all rules; NULL: nobody has asked for it yet. */
typedef struct Survey {
    const struct Upstream *upstream; /* see upstream.h */
    struct Meetings *meetings;
    struct Drawn *drawn;             /* see upstream.h */
    FeedFigures *feeds;              /* by Model.feeds */
    const FeedFigures *feed;         /* of the feed that is looked at */
    const Figure **of_boat;          /* the boat's, by FigureId */
    const Rule **waived;             /* by Model.waivers: see rules_waivers.c */
    const struct Bought *bought;     /* see ask.h */
} Survey;

struct Judge {
    Arena *arena;
    Arena *scratch;        /* for what a rule needs for itself, no sentence and no finding: it goes when the rule is done */
    const Model *model;
    const Figures *figures;
    Survey *survey;
    Basis basis;
    Date today;
    const Rule *rule;      /* the one being judged */
    const Entity *looked_at;    /* what it looks at: see Finding */
    const Feed *looked_at_feed;
    bool quiet;            /* only verdicts are wanted: no sentence, nothing on what it hangs */
    const Entity *wanted;  /* quiet: only of the finding at this thing, if a rule finds several; NULL: of all */
    Interval value, limit; /* quiet: of the last comparison about ... */
    const Entity *compared;/* ... this subject ... */
    uint32_t comparison;   /* ... or only of this one, counted as judged; 0: of any */
    Finding *first, *last;
    uint32_t count;
    uint32_t judged;       /* comparisons made */
    uint32_t unjudged;     /* ... that could not be made for want of a property */
    uint32_t waiting;      /* ... that rest on a mistake in the spec */
    uint32_t given_way;    /* ... left to another finding, which tells of the same */
    Unmeasured *unmeasured, *last_unmeasured;
    Unmeasured **unmeasured_index;
    uint32_t unmeasured_capacity, unmeasured_count;
    uint32_t *waiver_matches; /* by Model.waivers: how many findings each has met; known to the last family */
};

/** One side of a comparison. */
typedef struct Side {
    Interval value;
    State state;
    const Figure *figure;  /* where it comes from, for what it hangs on; or NULL */
    const Entity *entity;  /* of a value in the spec */
    const Property *property;
    PropId prop;
    UnitPair unit;
    bool money;
} Side;

/** Runs every rule of the basis. The findings come in the order of rule tables; see findings_sort. */
Judge *rules_judge(Arena *arena, const Model *model, const Figures *figures, Basis basis, Date today);

/**
 * A judge who looks again, quietly, at the model that `first` has judged, by figures of it that may be others; all it needs
 * comes from `scratch`. What others have found it does not know: see rules_may_judge_again.
 */
Judge rules_begin_again(const Judge *first, Arena *scratch, const Figures *figures);
/** Whether a rule can be judged again at all: it is of that basis, and speaks of no other rule's findings. */
bool rules_may_judge_again(const Judge *judge, const Rule *rule);
/**
 * Judges again what a rule looked at when it made a finding; judge->first has what it finds now. looked_at and looked_at_feed
 * are of this model; of what no rule is asked the first time (a thing that is not aboard, or is of another kind here) nothing
 * is found.
 */
void rules_judge_again(Judge *judge, const Rule *rule, const Entity *looked_at, const Feed *looked_at_feed);

/** Looks at Model.feeds[index]: feed_figure has its figures at hand then. */
void judge_look_at_feed(Judge *judge, uint32_t index);
void judge_look_at_no_feed(Judge *judge);

/* For rules. */

const Figure *figure_of(const Judge *judge, const Entity *subject, FigureId id);
/** The figure of a feed, by its subject (and, for `feeds`, its target). */
static inline const Figure *feed_figure(const Judge *judge, const Feed *feed, FigureId id)
{
    const FeedFigures *at_hand = judge->survey->feed;
    int place = feed_figure_place(id);
    return at_hand != NULL && at_hand->feed == feed && place > 0
               ? at_hand->of[place]
               : figure_find(judge->figures, feed->subject, id, feed_at(feed));
}

static inline Side side_figure(const Figure *figure)
{
    if (figure == NULL) {
        return (Side){.state = STATE_MISSING};
    }
    return (Side){.value = {figure->low, figure->high},
                  .state = (State)figure->state,
                  .figure = figure,
                  .unit = figure->unit,
                  .money = figure->money};
}
/** A stated value or its default; missing if there is neither; waiting of no thing, as of the boat of a spec that has none. */
Side side_value(const Judge *judge, const Entity *entity, PropId prop, unsigned slot);
/** One value of a statement that is there. */
Side side_stated(const Entity *entity, const Property *property, unsigned slot);
Side side_block_value(const Judge *judge, const Entity *entity, const Block *block, PropId prop, unsigned slot);
Side side_number(double value, UnitPair unit);
Side side_interval(Interval value, UnitPair unit);
bool side_is_known(Side side);
/** a >= b, the last digits of floating-point arithmetic forgiven: 1e-9 of either. */
bool number_at_least(double a, double b);

/**
 * value >= limit (1e-9 of either is forgiven). Returns the finding to say something about, or NULL if it holds or cannot
 * be judged. The place is where the finding points.
 */
Finding *judge_at_least(Judge *judge, const Entity *subject, Span place, Side value, Side limit);
Finding *judge_at_most(Judge *judge, const Entity *subject, Span place, Side value, Side limit);
/** What else a comparison went by than its two sides: undecided values of that property are what an open finding hangs on. */
void finding_rests_on(Judge *judge, Finding *finding, const Entity *entity, PropId prop);
/** The same of what stands where the spec says nothing: the default of a property is what the finding assumes. */
void finding_assumes(Judge *judge, Finding *finding, const Entity *entity, PropId prop);
/** A property that must be `yes`: broken for no, open where it is not stated. `asks` is "a relief valve". */
Finding *judge_yes(Judge *judge, const Entity *subject, PropId prop, const char *asks);
/** A finding without a comparison. */
Finding *judge_broken(Judge *judge, const Entity *subject, Span place);
/** Open because a property is not stated, or a value is not decided. */
Finding *judge_open(Judge *judge, const Entity *subject, Span place, const Entity *entity, PropId prop);
/** Rests on a mistake: counted, nothing said. */
void judge_waiting(Judge *judge);
/**
 * Another finding tells of the same, by this rule on another thing or by another rule: nothing is said, which is no word that
 * it holds.
 */
void judge_gives_way(Judge *judge);
/** Cannot be judged for want of a property: counted, and told by the rule `unmeasured`. */
void judge_unmeasured(Judge *judge, const Entity *entity, PropId prop);
/** Something was looked at and found in order (for the count of judgements). */
void judge_holds(Judge *judge);

/** The sentence of a finding: lower case, no full stop, the owner's words, numbers with units. */
void finding_say(Judge *judge, Finding *finding, const char *format, ...) __attribute__((format(printf, 3, 4)));
/** What is to be seen at the finding's own place. */
void finding_here(Judge *judge, Finding *finding, const char *format, ...) __attribute__((format(printf, 3, 4)));
void finding_note(Judge *judge, Finding *finding, Span at, const char *format, ...) __attribute__((format(printf, 4, 5)));
void finding_remedy(Judge *judge, Finding *finding, const char *format, ...) __attribute__((format(printf, 3, 4)));
/**
 * A quantity that the spec states, of which another value might mend a broken finding: it is tried, and told as a remedy
 * from which value on it does.
 */
void finding_may_mend(Judge *judge, Finding *finding, const Entity *entity, PropId prop);
/** Of those none alone is enough: they are tried at once, and what is found stands in place of the last remedy. */
void finding_mend_together(Finding *finding);
void finding_severity(Finding *finding, Severity severity);
/** Tells apart several findings of one rule and subject: by another thing, by a property, or by a word ("smoke"). */
void finding_at(Finding *finding, const Entity *at);
void finding_about(Finding *finding, PropId prop);
void finding_matter(Finding *finding, const char *matter);
/** Whether two findings of one rule and subject are told apart by neither property nor word. */
bool finding_same_matter(const Finding *a, const Finding *b);
/** Whether two findings of one rule and spec are about the same: subject, second thing, property or word. */
bool finding_same_thing(const Finding *a, const Finding *b);

/** Texts for finding_say: a figure's or a side's value; a thing's name. */
const char *say_figure(const Judge *judge, const Figure *figure);
const char *say_side(const Judge *judge, Side side);
const char *say_name(const Judge *judge, const Entity *entity);
/**
 * A property as `--set` names it: "house.capacity"; one of the cable of a `feeds` as "charger.feeds.run", and where a thing feeds
 * several with the name of which: that which states `property`, else the one of `way`; either may be NULL.
 */
const char *property_name(Arena *arena, const Model *model, const Entity *entity, const Feed *way, PropId prop, const Property *property);
/** The same, of the feed that is looked at. */
const char *say_property(const Judge *judge, const Entity *entity, PropId prop);
/** How a property is written, without a number that nobody measured: "waterline ... m". */
const char *say_form(const Judge *judge, PropId prop);
const char *say_number(const Judge *judge, double si, UnitPair unit);
/**
 * The same for what a remedy asks for: rounded up, or down, to the digits that are printed, so that what is written as it
 * stands there keeps the limit.
 */
const char *say_no_less(const Judge *judge, double si, UnitPair unit);
const char *say_no_more(const Judge *judge, double si, UnitPair unit);

/** Which hole of its subject a figure fills by a choice of this program: a bank's `capacity`; PROP_NONE: it fills none. */
PropId figure_fills(const Figure *figure);

/** Places: of a property's statement if it is stated, else of the thing's name. */
Span place_of(const Judge *judge, const Entity *entity, PropId prop);
Span place_in_block(const Judge *judge, const Entity *entity, const Block *block, PropId prop);
Span place_of_name(const Judge *judge, const Entity *entity);

/** Orders a list of findings by file, line, severity, rule, sentence; returns the new first. */
Finding *findings_sort(Arena *arena, Finding *first, uint32_t count);

/* The small boat that examples are written on; the braces are balanced. */
#define EXAMPLE_BOAT "edition 1\n" EXAMPLE_WITHOUT_EDITION
#define EXAMPLE_WITHOUT_EDITION \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"
#define EXAMPLE_BOAT_ISO \
    "edition 1\n" \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"

#endif
