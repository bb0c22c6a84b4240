/*
 * One rule of the family rules_fire: alarm-missing, alarms where people sleep, sit by a flame, or gas burns.
 */
#include "rules/fire.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/plumbing.h"

/* ---- alarm-missing ------------------------------------------------------------------------------------- */

typedef struct AlarmsFound {
    const Entity *here;     /* one in the space; NULL: none */
    const Entity *unplaced; /* one that does not say where it is */
    const Entity *other;    /* one elsewhere */
    const Entity *expired;  /* one that would do, and its date has passed */
    bool unclear;           /* what some alarm detects is a mistake */
} AlarmsFound;

static bool detects(const Entity *alarm, const char *word)
{
    return property_lists(entity_property(alarm, PROP_ALARM_DETECTS), str_from(word));
}

/* space NULL: anywhere aboard is here. */
static AlarmsFound find_alarms(const Judge *judge, const char *word, const Entity *space)
{
    AlarmsFound found = {.unclear = false};
    for (const Entity *e = first_aboard(judge->model, KIND_ALARM); e != NULL; e = next_aboard(e)) {
        const Entity *in = entity_reference(e, PROP_COMMON_SPACE);
        if (has_mistake(e, PROP_ALARM_DETECTS) || has_mistake(e, PROP_COMMON_SPACE) || has_mistake(e, PROP_ALARM_EXPIRES)) {
            found.unclear = true;
        } else if (!detects(e, word)) {
            continue;
        } else if (has_expired(judge->figures, e)) {
            found.expired = space == NULL || in == space || in == NULL ? e : found.expired;
        } else if (space == NULL || in == space) {
            found.here = e;
        } else if (in == NULL) {
            found.unplaced = e;
        } else {
            found.other = e;
        }
    }
    return found;
}

/*
 * An alarm that must be in a space (NULL: anywhere aboard). Where the spec has no alarm at all nobody has
 * thought of them yet: open; where it has some, and not this one: broken.
 */
static Finding *judge_alarm(Judge *judge, const Entity *subject, const Entity *space, const char *word,
                            const char *of_what)
{
    AlarmsFound found = find_alarms(judge, word, space);
    Span place = place_of_name(judge, subject);
    Finding *finding;
    if (found.here != NULL) {
        judge_holds(judge);
        return NULL;
    }
    if (found.unclear) {
        judge_waiting(judge);
        return NULL;
    }
    const char *where =
        space != NULL ? text_format(judge->arena, "in `%s`", say_name(judge, space)) : "aboard";
    if (found.unplaced != NULL) {
        finding = judge_open(judge, subject, place, found.unplaced, PROP_COMMON_SPACE);
        finding_matter(finding, word);
        finding_say(judge, finding, "`%s` does not say whether it warns of %s %s",
                    say_name(judge, found.unplaced), of_what, where);
        finding_note(judge, finding, place_of_name(judge, found.unplaced), "it names no `space`");
        finding_remedy(judge, finding, "space %s", say_name(judge, space));
        return finding;
    }
    if (some_is_mistaken(judge, KIND_ALARM)) {
        judge_waiting(judge);
        return NULL;
    }
    if (first_aboard(judge->model, KIND_ALARM) == NULL) {
        finding = judge_open(judge, subject, place, NULL, PROP_NONE);
        finding_hangs_on(judge, finding, judge->model->boat, PROP_NONE, "alarm");
        finding_say(judge, finding, "the spec states no alarm; one that warns of %s belongs %s", of_what,
                    where);
    } else {
        finding = judge_broken(judge, subject, place);
        finding_say(judge, finding, "no alarm warns of %s %s", of_what, where);
    }
    finding_matter(finding, word);
    if (found.expired != NULL) {
        finding_note(judge, finding, place_of(judge, found.expired, PROP_ALARM_EXPIRES), "its date has passed, so it does not count");
    }
    if (found.other != NULL) {
        finding_note(judge, finding, place_of_name(judge, found.other), "this one is in another space");
    }
    finding_remedy(judge, finding, "an `alarm` with `detects %s`%s", word,
                   space != NULL ? text_format(judge->arena, " and `space %s`", say_name(judge, space)) : "");
    return finding;
}

/* What burns in a space, or heats it by burning; NULL: nothing does. */
static const Entity *burner_in(const Judge *judge, const Entity *space)
{
    for (const Entity *e = first_aboard(judge->model, KIND_HEATER); e != NULL; e = next_aboard(e)) {
        bool there = entity_reference(e, PROP_COMMON_SPACE) == space || entity_names(e, PROP_HEATER_SERVES, space);
        if (there && (is_burner(judge->model, e) || burns_wood(e))) {
            return e;
        }
    }
    static const KindId cooks[] = {KIND_GAS_APPLIANCE, KIND_BURNER};
    for (size_t k = 0; k < sizeof cooks / sizeof cooks[0]; k++) {
        for (const Entity *e = first_aboard(judge->model, cooks[k]); e != NULL; e = next_aboard(e)) {
            if (entity_reference(e, PROP_COMMON_SPACE) == space) {
                return e;
            }
        }
    }
    return NULL;
}

/* What makes carbon monoxide in a space or heats it, or beside a cabin; NULL: nothing does. */
static const Entity *fumes_into(const Judge *judge, const Entity *space)
{
    const Entity *burner = burner_in(judge, space);
    if (burner != NULL) {
        return burner;
    }
    const Entity *engine = is_cabin(space) ? first_aboard(judge->model, KIND_ENGINE) : NULL;
    while (engine != NULL && str_is(entity_word(engine, PROP_ENGINE_FUEL), "electric")) {
        engine = next_aboard(engine);
    }
    return engine == NULL && is_cabin(space) ? first_aboard(judge->model, KIND_GENERATOR) : engine;
}

/* A space that does not say whether people sleep in it, and could: nobody lies down in an engine room. */
static void judge_perhaps_sleeping(Judge *judge, const Entity *space)
{
    bool nobody = is_machinery_space(judge->model, space) || entity_yes(space, PROP_SPACE_PETROL) == 1;
    const Entity *source = nobody ? NULL : fumes_into(judge, space);
    AlarmsFound found = find_alarms(judge, "co", space);
    if (source == NULL || found.here != NULL) {
        return;
    }
    if (found.unclear || some_is_mistaken(judge, KIND_ALARM)) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_open(judge, space, place_of_name(judge, space), space, PROP_SPACE_SLEEPING);
    finding_matter(finding, "co");
    finding_say(judge, finding, "`%s` does not say whether people sleep in it, and no alarm warns of carbon monoxide there",
                say_name(judge, space));
    finding_note(judge, finding, place_of_name(judge, source), "it comes from here if anything leaks or is blocked");
    finding_of_heater(judge, finding, source);
    finding_remedy(judge, finding, "an `alarm` with `detects co` and `space %s`", say_name(judge, space));
}

/* A heater that burns the air of a space; NULL: none does. */
static const Entity *stove_in(const Judge *judge, const Entity *space)
{
    const Entity *e = first_aboard(judge->model, KIND_HEATER);
    while (e != NULL && (entity_reference(e, PROP_COMMON_SPACE) != space || !burns_cabin_air(judge->model, e))) {
        e = next_aboard(e);
    }
    return e;
}

/* Nobody sleeps in it, and they sit in it beside a flame: a main cabin has an alarm as well. */
static void judge_sitting(Judge *judge, const Entity *space)
{
    bool stays = !is_open_air(space) && !is_machinery_space(judge->model, space);
    const Entity *stove = stays ? stove_in(judge, space) : NULL;
    const Entity *burner = stove == NULL && stays && judge->basis == BASIS_US ? burner_in(judge, space) : stove;
    Finding *finding = burner != NULL ? judge_alarm(judge, space, space, "co", "carbon monoxide") : NULL;
    if (finding != NULL) {
        finding_severity(finding, stove != NULL ? SEVERITY_WARNING : SEVERITY_ADVICE);
        finding_note(judge, finding, place_of_name(judge, burner), "it burns here, though nobody sleeps here");
        finding_of_heater(judge, finding, burner);
    }
}

void judge_alarm_missing(Judge *judge, const Entity *subject)
{
    const Entity *space = subject->kind == KIND_SPACE ? subject : entity_reference(subject, PROP_COMMON_SPACE);
    if (space != NULL && entity_yes(space, PROP_SPACE_OPEN_AIR) == -2) {
        judge_waiting(judge);
        return;
    }
    bool outside = space != NULL && is_open_air(space); /* the wind takes it away; common practice, no source */
    if (subject->kind == KIND_GAS_APPLIANCE) {
        if (!outside) {
            judge_alarm(judge, subject, space, "gas", "gas");
        }
        return;
    }
    int sleeping = entity_yes(subject, PROP_SPACE_SLEEPING);
    if (sleeping == -2) {
        judge_waiting(judge);
    }
    if (sleeping == 1) {
        judge_alarm(judge, subject, subject, "co", "carbon monoxide");
        judge_alarm(judge, subject, subject, "smoke", "smoke");
    } else if (sleeping == 0) {
        judge_sitting(judge, subject);
    } else if (sleeping == -1 && !outside) {
        judge_perhaps_sleeping(judge, subject);
    }
}
