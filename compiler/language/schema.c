/*
 * The schema's tables and the look-ups in them.
 *
 * Knows schema.def and nothing else: no spec, no units, no figures. All is constant. The properties of a kind
 * lie beside each other in `props`, so that a look-up walks over those of one kind and its groups only.
 */
#include "language/schema.h"

#include "base/buf.h"

/* Authorities that many rows share; schema.def says what they mean. */
#define PLAIN "how a spec is read"
#define PRACTICE "common practice, no source"
#define MEMORY "common practice, from memory"

const KindRow kinds[KIND_COUNT] = {
#define KIND(ID, ...) [KIND_##ID] = {.word = __VA_ARGS__},
#define GROUP(ID, ...) [KIND_##ID] = {.group = true, .word = __VA_ARGS__},
#define PROP(...)
#include "language/schema.def"
#undef KIND
#undef GROUP
#undef PROP
};

const PropRow props[PROP_COUNT] = {
#define KIND(...)
#define GROUP(...)
#define PROP(OWNER, ID, ...) [PROP_##OWNER##_##ID] = {KIND_##OWNER, __VA_ARGS__},
#include "language/schema.def"
#undef KIND
#undef GROUP
#undef PROP
};

/*
 * Where each kind's own properties begin. The numbers of this enumeration are those of PropId: the row of a
 * kind takes a number for FIRST_ and gives it back for the property that follows it.
 */
enum {
    NUMBER_NONE,
#define KIND(ID, ...) FIRST_##ID, BACK_##ID = FIRST_##ID - 1,
#define GROUP(ID, ...) FIRST_##ID, BACK_##ID = FIRST_##ID - 1,
#define PROP(OWNER, ID, ...) NUMBER_##OWNER##_##ID,
#include "language/schema.def"
#undef KIND
#undef GROUP
#undef PROP
    NUMBER_COUNT
};

/* The first own property of a kind; those of the kind end where those of the next one begin. */
static const uint16_t first_prop[KIND_COUNT + 1] = {
    [KIND_NONE] = 1,
#define KIND(ID, ...) [KIND_##ID] = FIRST_##ID,
#define GROUP(ID, ...) [KIND_##ID] = FIRST_##ID,
#define PROP(...)
#include "language/schema.def"
#undef KIND
#undef GROUP
#undef PROP
    [KIND_COUNT] = PROP_COUNT,
};

_Static_assert((int)NUMBER_COUNT == (int)PROP_COUNT, "properties are numbered twice, in the same order");
_Static_assert(KIND_COUNT <= 128, "a KindSet has room for 128 kinds");

const char *schema_assumed_text(Arena *arena, PropId prop)
{
    const PropRow *row = &props[prop];
    const char *text = row->assumed;
    for (int i = 0; i < USUALS_MOST && row->usual[i].says != NULL; i++) {
        text = text_format(arena, "%s; with `%s %s` %s", text, props[row->usual_by].word, row->usual[i].says, row->usual[i].assumed);
    }
    return text;
}

/* Whose properties the bits of `.groups` stand for, lowest bit first. */
static const uint8_t group_owners[] = {KIND_COMMON, KIND_FEED,      KIND_LOAD,
                                       KIND_MAKER,  KIND_NETWORKED, KIND_SPARK};
enum { GROUP_OWNERS = sizeof group_owners / sizeof group_owners[0] };

static bool word_is(const char *word, Str s)
{
    return s.length > 0 && word[0] == s.text[0] && str_is(s, word);
}

bool schema_is_plain(const PropRow *row)
{
    return row->authority != NULL && strcmp(row->authority, PLAIN) == 0;
}

KindId schema_find_kind(Str word)
{
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (!kinds[kind].group && word_is(kinds[kind].word, word)) {
            return kind;
        }
    }
    return KIND_NONE;
}

static PropId find_own(KindId owner, Str word)
{
    for (PropId prop = first_prop[owner]; prop < first_prop[owner + 1]; prop++) {
        if (word_is(props[prop].word, word)) {
            return prop;
        }
    }
    return PROP_NONE;
}

/* The owner of the kind's group `*at` or of the first after it, to which `*at` moves; KIND_NONE: no more. */
static KindId group_from(KindId kind, int *at)
{
    for (; *at < GROUP_OWNERS; ++*at) {
        KindId owner = group_owners[*at];

        if (owner != kind && (kinds[kind].groups >> *at & 1)) {
            return owner;
        }
    }
    return KIND_NONE;
}

PropId schema_find_prop(KindId kind, Str word)
{
    PropId found = find_own(kind, word);
    KindId owner;

    for (int at = 0; !found && (owner = group_from(kind, &at)); at++) {
        found = find_own(owner, word);
    }
    return found;
}

/* Which of the kind's groups has that owner; -1: it is the kind itself. */
static int group_number(KindId kind, KindId owner)
{
    int at = 0;

    if (owner == kind) {
        return -1;
    }
    while (at < GROUP_OWNERS && group_owners[at] != owner) {
        at++;
    }
    return at;
}

/* Whether a kind takes the properties of that owner: itself, or a group of its own. Most that are asked about it does not. */
static bool takes_from(KindId kind, KindId owner)
{
    int at = group_number(kind, owner);
    return at < 0 || (at < GROUP_OWNERS && (kinds[kind].groups >> at & 1));
}

bool schema_has(KindId kind, PropId prop)
{
    return prop != PROP_NONE && takes_from(kind, (KindId)props[prop].owner) &&
           schema_find_prop(kind, str_from(props[prop].word)) == prop;
}

/* The next row of the kind and its groups, be it hidden by an earlier one of the same word or not. */
static PropId next_row(KindId kind, PropId previous)
{
    KindId owner = previous ? (KindId)props[previous].owner : kind;
    PropId next = previous ? previous + 1 : first_prop[owner];
    int at = group_number(kind, owner);

    while (owner != KIND_NONE && next >= first_prop[owner + 1]) {
        at++;
        owner = group_from(kind, &at);
        next = first_prop[owner];
    }
    return owner != KIND_NONE ? next : PROP_NONE;
}

PropId schema_next_prop(KindId kind, PropId previous)
{
    PropId next = next_row(kind, previous);

    while (next && !schema_has(kind, next)) {
        next = next_row(kind, next);
    }
    return next;
}

static const char *const system_words[SYSTEM_COUNT] = {
    [SYSTEM_NONE] = "",         [SYSTEM_POWER] = "power",           [SYSTEM_WATER] = "water",
    [SYSTEM_DRIVE] = "drive",   [SYSTEM_NAVIGATION] = "navigation", [SYSTEM_CLIMATE] = "climate",
    [SYSTEM_SAFETY] = "safety", [SYSTEM_CABIN] = "cabin",           [SYSTEM_HULL] = "hull",
};

const char *system_word(System system)
{
    return system_words[system];
}

System system_find(Str word)
{
    for (System system = SYSTEM_NONE + 1; system < SYSTEM_COUNT; system++) {
        if (word_is(system_words[system], word)) {
            return system;
        }
    }
    return SYSTEM_NONE;
}

void kind_set_add(KindSet *set, KindId kind)
{
    set->bits[kind / 64] |= UINT64_C(1) << (kind % 64);
}

/* KIND_SETS: kinds that a shape names together, R(%name). */
static const uint8_t sources[] = {
    KIND_BANK,  KIND_SWITCH,   KIND_BUS,       KIND_PANEL,     KIND_CIRCUIT,
    KIND_INLET, KIND_INVERTER, KIND_GENERATOR, KIND_CONVERTER, KIND_OUTLET,
};

static const struct {
    const char *name;
    const uint8_t *members;
    size_t count;
} kind_sets[] = {
    {"sources", sources, sizeof sources / sizeof sources[0]}, /* what a thing can be fed by */
};

KindSet kind_set_every(void)
{
    KindSet set = {{0, 0}};
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (!kinds[kind].group) {
            kind_set_add(&set, kind);
        }
    }
    return set;
}

KindSet kind_set_things(void)
{
    KindSet set = {{0, 0}};
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (!kinds[kind].group && kinds[kind].groups & GROUPS_COMMON) {
            kind_set_add(&set, kind);
        }
    }
    return set;
}

bool kind_set_find(Str name, KindSet *set)
{
    if (str_is(name, "things")) {
        *set = kind_set_things();
        return true;
    }
    for (size_t i = 0; i < sizeof kind_sets / sizeof kind_sets[0]; i++) {
        if (word_is(kind_sets[i].name, name)) {
            *set = (KindSet){{0, 0}};
            for (size_t k = 0; k < kind_sets[i].count; k++) {
                kind_set_add(set, kind_sets[i].members[k]);
            }
            return true;
        }
    }
    return false;
}
