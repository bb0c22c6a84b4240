/*
 * One rule of the family rules_drive: engine-joined. Fuel and cooling water come to an engine, and its exhaust goes somewhere;
 * fuel comes to whatever else burns it.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/ask.h"
#include "rules/fuel_rules.h"

static bool is_return(const Entity *line)
{
    return entity_yes(line, PROP_FUEL_LINE_RETURN) == 1;
}

/* A line that brings fuel to the engine, or is to, and is stated the wrong way round; NULL: none. */
static const Entity *feed_of(const Judge *judge, const Entity *engine)
{
    const Entity *line = first_aboard(judge->model, KIND_FUEL_LINE);
    while (line != NULL && (is_return(line) ||
                            entity_reference(line, is_turned_feed(line) ? PROP_FUEL_LINE_FROM : PROP_FUEL_LINE_TO) != engine)) {
        line = next_aboard(line);
    }
    return line;
}

/* A line that takes fuel from it, where none brings any. */
static const Entity *return_of(const Judge *judge, const Entity *engine)
{
    const Entity *line = first_aboard(judge->model, KIND_FUEL_LINE);
    while (line != NULL && entity_reference(line, PROP_FUEL_LINE_FROM) != engine) {
        line = next_aboard(line);
    }
    return line;
}

/* A fitting that lies above the waterline, or may, brings no sea water for sure: what it serves leaves by it. */
static bool may_lie_above_water(const Entity *fitting)
{
    Interval height;
    return entity_quantity(fitting, PROP_THROUGH_HULL_HEIGHT, 0, &height) && height.high > 0.0;
}

/* By a hose to it, by a fitting that serves it, or by the leg of its drive. */
static bool has_cooling(const Judge *judge, const Entity *engine)
{
    Str mounted = entity_word(engine, PROP_ENGINE_MOUNTED);
    if (!is_cooled_by_the_sea(engine) || str_is(mounted, "saildrive") || str_is(mounted, "sterndrive")) {
        return true;
    }
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        if (entity_reference(hose, PROP_HOSE_TO) == engine) {
            return true;
        }
    }
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        if (entity_names(e, PROP_THROUGH_HULL_SERVES, engine) && !may_lie_above_water(e)) {
            return true;
        }
    }
    return false;
}

static bool has_exhaust(const Judge *judge, const Entity *engine)
{
    bool by_leg = str_is(entity_word(engine, PROP_ENGINE_MOUNTED), "sterndrive");
    const Entity *exhaust = first_aboard(judge->model, KIND_EXHAUST);
    while (exhaust != NULL && engine_of_exhaust(judge->model, exhaust) != engine) {
        exhaust = next_aboard(exhaust);
    }
    return by_leg || exhaust != NULL;
}

/* A mistake in what might say it. */
static bool is_lost(const Judge *judge)
{
    return some_is_mistaken(judge, KIND_FUEL_LINE) || some_is_mistaken(judge, KIND_HOSE) ||
           some_is_mistaken(judge, KIND_THROUGH_HULL) || some_is_mistaken(judge, KIND_EXHAUST);
}

static void tell_return_alone(Judge *judge, const Entity *engine, const Entity *back)
{
    Finding *finding = judge_broken(judge, engine, place_of_name(judge, engine));
    finding_say(judge, finding, "`%s` takes fuel from `%s`, and no fuel line brings it any", say_name(judge, back),
                say_name(judge, engine));
    finding_note(judge, finding, place_of_name(judge, back), "this line leads away from it");
    finding_remedy(judge, finding, "a `fuel-line` `to %s`", say_name(judge, engine));
}

/* One finding for all three: an early spec says nothing of any. */
static void tell_silence(Judge *judge, const Entity *engine, bool fuel, bool cooling, bool exhaust)
{
    const char *name = say_name(judge, engine);
    Finding *finding = judge_open(judge, engine, place_of_name(judge, engine), NULL, PROP_NONE);
    const char *what[] = {fuel ? NULL : "its fuel comes from", cooling ? NULL : "its sea water comes from",
                          exhaust ? NULL : "its exhaust goes"};
    const char *list = "";
    for (size_t i = 0; i < sizeof what / sizeof what[0]; i++) {
        if (what[i] != NULL) {
            list = text_format(judge->arena, "%s%s%s", list, list[0] != 0 ? ", nor where " : "", what[i]);
        }
    }
    finding_say(judge, finding, "nothing says of `%s` where %s", name, list);
    finding_hangs_on(judge, finding, engine, PROP_NONE,
                     !fuel      ? text_format(judge->arena, "%s.fuel-line", name)
                     : !cooling ? text_format(judge->arena, "%s.hose", name)
                                : text_format(judge->arena, "%s.exhaust", name));
    const char *asked[] = {
        fuel ? NULL : text_format(judge->arena, "a `fuel-line` `to %s`", name),
        cooling ? NULL : text_format(judge->arena, "a `hose` `to %s` or a `through-hull` that `serves %s`", name, name),
        exhaust ? NULL : "an `exhaust`, named by the engine",
    };
    const char *all = "";
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        if (asked[i] != NULL) {
            all = text_format(judge->arena, "%s%s%s", all, all[0] != 0 ? ", and " : "", asked[i]);
        }
    }
    finding_remedy(judge, finding, "%s", all);
}

/* A heater or a generator that says which fuel it burns: only its fuel is asked for. */
static void judge_burner(Judge *judge, const Entity *burner)
{
    if (fuel_stated(burner) == FUEL_UNKNOWN || entity_yes(burner, PROP_COMMON_PORTABLE) == 1) {
        return;
    }
    if (some_is_mistaken(judge, KIND_FUEL_LINE)) {
        judge_waiting(judge);
    } else if (feed_of(judge, burner) != NULL) {
        judge_holds(judge);
    } else {
        tell_silence(judge, burner, false, true, true);
    }
}

void judge_engine_joined(Judge *judge, const Entity *engine)
{
    if (engine->kind != KIND_ENGINE) {
        judge_burner(judge, engine);
        return;
    }
    if (!burns_fuel(engine) || is_outboard(engine)) {
        return;
    }
    if (is_lost(judge)) {
        judge_waiting(judge);
        return;
    }
    bool fuel = feed_of(judge, engine) != NULL;
    const Entity *back = fuel ? NULL : return_of(judge, engine);
    bool cooling = has_cooling(judge, engine);
    bool exhaust = has_exhaust(judge, engine);
    if (back != NULL) {
        tell_return_alone(judge, engine, back);
    } else if (fuel && cooling && exhaust) {
        judge_holds(judge);
    } else {
        tell_silence(judge, engine, fuel, cooling, exhaust);
    }
}
