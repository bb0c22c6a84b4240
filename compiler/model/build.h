/*
 * From the syntax tree to a model: the stage's entrance. Its steps are a file each: load (files), choose (choices),
 * names (declaring), check (properties), feeds (who feeds whom).
 */
#ifndef GARBOARD_MODEL_BUILD_H
#define GARBOARD_MODEL_BUILD_H

#include "model/model.h"

/** A file's text as a reader gives it. */
typedef struct FileText {
    char *text;           /* NUL after the last byte; in the arena or outliving the compilation */
    size_t length;
    uint64_t identity[2]; /* two names of one file have the same; both 0 if unknown */
    const char *error;    /* why it cannot be read, or NULL */
} FileText;

/** How files are read; the library's caller passes it. `arena` may hold the text. */
typedef struct FileReader {
    FileText (*read)(void *context, Arena *arena, const char *path);
    void *context;
} FileReader;

/* A property that was looked up: a small direct-mapped memory. word 0: empty. */
typedef struct FoundProp {
    Symbol word;
    uint16_t prop; /* PropId, PROP_NONE too */
    uint8_t kind;
} FoundProp;
enum { FOUND_PROPS = 1024 };

/* What stands outside of options, as the first model read it; see check.c. */
typedef struct ReadThing ReadThing;

/* Outermost statements, in the order of reading; see walk.h. */
typedef struct Outermost {
    NodeId *statements;
    uint32_t count, capacity;
} Outermost;

/* What an option sets; see clash.h. */
typedef struct OptionSet OptionSet;

/* Which names the whole text uses; see agree.c. */
typedef struct Uses Uses;

/** The whole spec as parsed: every file that is included, once. */
typedef struct Spec {
    Tree tree;
    Sources sources;
    Symbols *symbols;
    Messages messages;
    Shapes *shapes;
    NodeId *files;        /* NODE_FILE of each file, in the order of reading */
    uint32_t file_count;
    Outermost outermost;  /* all, comments left out */
    Outermost others;     /* those that are no things */
    Choice *choices;      /* as read; `chosen` is set for each model */
    uint32_t choice_count;
    const Property **defaults; /* the schema's defaults as they are first asked for, indexed by PropId */
    const Property **usuals[PROP_COUNT]; /* those that go by another property, by which of its answers may be meant; NULL until asked for */
    FoundProp *found_props;    /* FOUND_PROPS of them */
    const uint16_t *required[KIND_COUNT]; /* what each kind of thing needs, once it was asked for; KIND_NONE: what any does */
    ReadThing *read_things;    /* by Entity.index, with choices open; NULL until a model is built */
    bool money_varies;         /* options set her rates or her currency: what has a price is read by each model */
    const struct Checker *first_checker; /* ... and what built that model: what it noted of names holds for all */
    const Uses *uses;          /* NULL until asked for */
    NodeId *sets;         /* NODE_SET statements from the command line */
    uint32_t set_count;
    OptionSet *option_sets; /* those of the options that may be picked, once the combinations are asked for */
    uint32_t option_set_count;
    bool sets_clash;      /* some combinations set a property twice, and are left out */
    Date today;           /* the day to judge by; 0: none, and nobody has closed yet */
    uint32_t asked;       /* how often mistakes were asked for: see property_ask */
    bool incomplete;      /* a file or one side of a merge was not read: what it declares is not missed as well */
    const char *error;    /* the main file cannot be read: why; then there is nothing else */
} Spec;

/**
 * Reads and parses a main file and all that it includes. `name` is its path as messages print it. `text` is its text if
 * it was read already (standard input), else NULL.
 */
Spec *spec_load(Arena *arena, const char *name, const FileText *text, FileReader reader);

/**
 * Decides a choice (`--with CHOICE=OPTION`). What is wrong where there is none such, or NULL; of a spec with mistakes,
 * in one of which it may stand, NULL and a message.
 */
const char *spec_pick(Spec *spec, Str choice, Str option);

/** Finds the choices of a spec with their options and picks; called by spec_load. */
void choose_find(Spec *spec, Arena *arena);

/** How many models it takes to cover the open choices: their product, at most `most` + 1. */
uint64_t spec_combinations(const Spec *spec, uint64_t most);

/** The option that each choice takes in combination `number` (the last open choice runs fastest), by index in choices. */
const int32_t *spec_combination(const Spec *spec, Arena *arena, uint64_t number);

/** Which combinations of the open choices are looked at. */
typedef struct Combinations {
    const int32_t **taken; /* of each, the option that every choice takes; -1: none that it has */
    uint32_t count;
    bool sampled;          /* there are more than that */
    uint32_t unseen;       /* options that none of them takes */
} Combinations;

/**
 * All combinations but those that set a property twice (see clash.h),
 * or of more than `most` a sample that takes every option at least once: the first options together
 * and each other option alone with the first of the others, if that is not more than `most`, and the same with the last
 * options if there is room; else `most` combinations in which all choices change at once. Only of a choice of more than `most` options are some unseen; they are read for mistakes.
 */
Combinations spec_cover(Spec *spec, Arena *arena, uint32_t most);

/**
 * Builds the model in which each choice takes the option `taken` says (by index in spec->choices; a picked one its
 * pick). Mistakes go to spec->messages; those of an earlier combination are not repeated.
 */
Model *model_build(Spec *spec, Arena *arena, const int32_t *taken);

/** A value tried from the command line: `--set THING.PROPERTY=VALUE`, applied to each model built afterwards. */
bool spec_set(Spec *spec, Arena *arena, Str assignment, const char **error);

#endif
