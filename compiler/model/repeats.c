/* See repeats.h. */
#include "model/repeats.h"

enum { MINUTES_A_DAY = 1440 };

static void tell_again(Checker *checker, MessageId id, Span at, Span first, const char *what,
                       const char *right)
{
    Message *m = message_report(checker->messages, id, at, "%s", what);
    message_note(checker->messages, m, first, "here first");
    message_right(checker->messages, m, "%s", right);
}

static bool same_thing(const Value *a, const Value *b)
{
    return a->kind == VALUE_REFERENCE && b->kind == VALUE_REFERENCE && a->u.entity != NULL &&
           a->u.entity == b->u.entity;
}

/* `feeds battery` twice would be two cables from one source, each with all that it brings. */
static bool feeds_again(Checker *checker, const Property *line, const Property *other)
{
    const Value *to = property_value(line, 0), *first = property_value(other, 0);
    if (!same_thing(to, first)) {
        return false;
    }
    Str name = entity_name(checker->model, to->u.entity);
    tell_again(
        checker, MESSAGE_PROPERTY_TWICE, value_span(checker->model, to), value_span(checker->model, first),
        text_format(checker->arena, "`%.*s` is fed twice by this", STR_ARG(name)), "one of the two lines");
    return true;
}

/* From when to when, in minutes; until the next day where it passes midnight. The same hour twice is a whole day. */
static int32_t end_of(const Value *clock)
{
    return clock->u.clock.from + (int32_t)(clock_seconds(clock) / 60.0);
}

static bool overlap(const Value *a, const Value *b)
{
    for (int32_t day = -MINUTES_A_DAY; day <= MINUTES_A_DAY; day += MINUTES_A_DAY) {
        if (a->u.clock.from + day < end_of(b) && b->u.clock.from < end_of(a) + day) {
            return true;
        }
    }
    return false;
}

/* The hours of a `use` are those of one day; of a day's own line they are its own. */
static bool runs_while(Checker *checker, const Property *line, const Property *other)
{
    unsigned slot = line->id == PROP_LOAD_USE || line->id == PROP_WATER_HEATER_USE || line->id == PROP_GAS_APPLIANCE_USE;
    const Value *when = property_value(line, slot), *before = property_value(other, slot);
    bool of_one_day = slot == 0 || same_thing(property_value(line, 0), property_value(other, 0));
    if (when->kind != VALUE_CLOCK || before->kind != VALUE_CLOCK || !of_one_day || !overlap(when, before)) {
        return false;
    }
    tell_again(checker, MESSAGE_TIMES_OVERLAP, property_span(checker->model, line),
               property_span(checker->model, other),
               "these hours overlap others of the same day, and would count twice",
               "one line for both, or hours that do not overlap");
    return true;
}

/* A list that names a source twice. */
static bool names_twice(Checker *checker, const Property *line)
{
    for (uint16_t i = 1; i < line->count; i++) {
        for (uint16_t j = 0; j < i; j++) {
            if (same_thing(&line->values[i], &line->values[j])) {
                tell_again(checker, MESSAGE_PROPERTY_TWICE, value_span(checker->model, &line->values[i]),
                           value_span(checker->model, &line->values[j]), "this is named twice",
                           "the name once");
                return true;
            }
        }
    }
    return false;
}

bool repeat_is_kept(Checker *checker, const Block *before, Property *line)
{
    bool (*again)(Checker *, const Property *, const Property *) = NULL;
    if (line->flags & PROPERTY_BROKEN) {
        return true; /* told already */
    }
    switch ((int)line->id) {
    case PROP_FEED_FED_BY: line->flags |= names_twice(checker, line) ? PROPERTY_BROKEN : 0; return true;
    case PROP_MAKER_FEEDS: again = feeds_again; break;
    case PROP_LOAD_USE:
    case PROP_WATER_HEATER_USE:
    case PROP_GAS_APPLIANCE_USE:
    case PROP_DAY_ENGINE:
    case PROP_DAY_SHORE:
    case PROP_DAY_GENERATOR: again = runs_while; break;
    default: return true;
    }
    for (const Property *other = block_property(before, (PropId)line->id); other != NULL;
         other = block_next(before, other)) {
        if (!(other->flags & PROPERTY_BROKEN) && again(checker, line, other)) {
            /* How long it runs is not known; of a feed that is there already the first line says all. */
            line->flags |= PROPERTY_BROKEN;
            return again == runs_while;
        }
    }
    return true;
}
