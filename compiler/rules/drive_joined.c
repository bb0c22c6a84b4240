/*
 * One rule of the family rules_drive: engine-joined. Fuel and cooling water come to an engine, and its exhaust leaves the boat;
 * fuel comes to whatever else burns it, and its exhaust leaves too.
 */
#include "rules/drive_rules.h"

#include "figures/drive.h"
#include "figures/fuel_plan.h"
#include "rules/ask.h"
#include "rules/fuel_rules.h"

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
    if (!takes_sea_water(engine) || str_is(mounted, "saildrive") || str_is(mounted, "sterndrive")) {
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

static const Entity *exhaust_of(const Entity *burner)
{
    const Entity *exhaust = entity_reference(burner, exhaust_prop(burner));
    return exhaust != NULL && is_aboard(exhaust) ? exhaust : NULL;
}

static bool is_named_by(const Judge *judge, KindId kind, const Entity *exhaust)
{
    const Entity *burner = first_aboard(judge->model, kind);
    while (burner != NULL && exhaust_of(burner) != exhaust) {
        burner = next_aboard(burner);
    }
    return burner != NULL;
}

/* Of a generator that names none, and is the only one that does not: the exhaust that nothing names. */
static const Entity *exhaust_of_generator(const Judge *judge, const Entity *generator)
{
    for (const Entity *e = first_aboard(judge->model, KIND_GENERATOR); e != NULL; e = next_aboard(e)) {
        if (e != generator && !entity_states(e, PROP_GENERATOR_EXHAUST)) {
            return NULL;
        }
    }
    const Entity *exhaust = first_aboard(judge->model, KIND_EXHAUST);
    while (exhaust != NULL && (is_named_by(judge, KIND_ENGINE, exhaust) || is_named_by(judge, KIND_GENERATOR, exhaust))) {
        exhaust = next_aboard(exhaust);
    }
    return exhaust;
}

const Entity *exhaust_of_burner(const Judge *judge, const Entity *burner)
{
    if (burner->kind != KIND_GENERATOR) {
        return NULL;
    }
    return entity_states(burner, PROP_GENERATOR_EXHAUST) ? exhaust_of(burner) : exhaust_of_generator(judge, burner);
}

/* What serves a generator under water brings it the sea; nothing does that for a heater. Its air comes in by another fitting. */
static bool may_let_out(const Entity *fitting, const Entity *burner)
{
    Interval height;
    bool stated = entity_quantity(fitting, PROP_THROUGH_HULL_HEIGHT, 0, &height);
    if (entity_yes(fitting, PROP_THROUGH_HULL_AIR_INTAKE) == 1) {
        return false;
    }
    switch (burner->kind) {
    case KIND_ENGINE: return may_lie_above_water(fitting);
    case KIND_GENERATOR: return !stated || height.high > 0.0;
    default: return true;
    }
}

/* By a fitting that serves the exhaust or what it belongs to, or by a hose from there. */
static bool has_outlet(const Judge *judge, const Entity *burner, const Entity *exhaust)
{
    for (const Entity *e = first_aboard(judge->model, KIND_THROUGH_HULL); e != NULL; e = next_aboard(e)) {
        bool serves = exhaust != NULL && entity_names(e, PROP_THROUGH_HULL_SERVES, exhaust);
        if (serves || (entity_names(e, PROP_THROUGH_HULL_SERVES, burner) && may_let_out(e, burner))) {
            return true;
        }
    }
    for (const Entity *hose = first_aboard(judge->model, KIND_HOSE); hose != NULL; hose = next_aboard(hose)) {
        const Entity *from = entity_reference(hose, PROP_HOSE_FROM);
        if (from == burner || (from != NULL && from == exhaust)) {
            return true;
        }
    }
    return false;
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

/* Which of its pipes are stated; what no pipe is asked of counts as stated. */
typedef struct Joined {
    bool fuel, cooling, outlet;
    const Entity *exhaust; /* what the outlet is missing of; NULL: no exhaust is stated either */
} Joined;

static bool is_joined_wholly(const Joined *joined)
{
    return joined->fuel && joined->cooling && joined->outlet;
}

/* Those that are not NULL, in one line. */
static const char *say_list(const Judge *judge, const char *const *what, size_t count, const char *between)
{
    const char *list = "";
    for (size_t i = 0; i < count; i++) {
        if (what[i] != NULL) {
            list = text_format(judge->arena, "%s%s%s", list, list[0] != 0 ? between : "", what[i]);
        }
    }
    return list;
}

/* Of an engine without an exhaust that is asked for first: it has the outlet to name. */
static const char *remedy_outlet(const Judge *judge, const Entity *burner, const Joined *joined)
{
    if (burner->kind == KIND_ENGINE && joined->exhaust == NULL) {
        return "an `exhaust`, named by the engine";
    }
    const Entity *served = joined->exhaust != NULL ? joined->exhaust : burner;
    return text_format(judge->arena, "a `through-hull` that `serves %s`", say_name(judge, served));
}

/* One finding for all three: an early spec says nothing of any. */
static void tell_silence(Judge *judge, const Entity *burner, const Joined *joined)
{
    const char *name = say_name(judge, burner);
    Finding *finding = judge_open(judge, burner, place_of_name(judge, burner), NULL, PROP_NONE);
    const char *goes = burner->kind == KIND_ENGINE ? "its exhaust goes" : "its exhaust leaves the boat";
    if (joined->exhaust != NULL) {
        goes = text_format(judge->arena, "its exhaust `%s` leaves the boat", say_name(judge, joined->exhaust));
    }
    const char *what[] = {joined->fuel ? NULL : "its fuel comes from", joined->cooling ? NULL : "its sea water comes from",
                          joined->outlet ? NULL : goes};
    finding_say(judge, finding, "nothing says of `%s` where %s", name, say_list(judge, what, 3, ", nor where "));
    const Entity *lacks = joined->exhaust != NULL ? joined->exhaust : burner;
    finding_hangs_on(judge, finding, burner, PROP_NONE,
                     !joined->fuel      ? text_format(judge->arena, "%s.fuel-line", name)
                     : !joined->cooling ? text_format(judge->arena, "%s.hose", name)
                     : burner->kind == KIND_ENGINE && joined->exhaust == NULL
                         ? text_format(judge->arena, "%s.exhaust", name)
                         : text_format(judge->arena, "%s.through-hull", say_name(judge, lacks)));
    const char *asked[] = {
        joined->fuel ? NULL : text_format(judge->arena, "a `fuel-line` `to %s`", name),
        joined->cooling ? NULL : text_format(judge->arena, "a `hose` `to %s` or a `through-hull` that `serves %s`", name, name),
        joined->outlet ? NULL : remedy_outlet(judge, burner, joined),
    };
    finding_remedy(judge, finding, "%s", say_list(judge, asked, 3, ", and "));
    finding_of_heater(judge, finding, burner);
}

/* A heater or a generator that burns, whether it says what or not: its fuel is asked for, of wood there is no line, and its outlet. */
static void judge_burner(Judge *judge, const Entity *burner)
{
    bool wood = burns_wood(burner);
    if (!(wood || is_burner(judge->model, burner)) || entity_yes(burner, PROP_COMMON_PORTABLE) == 1) {
        return;
    }
    if (is_lost(judge)) {
        judge_waiting(judge);
        return;
    }
    Joined joined = {.fuel = wood || feed_of(judge, burner) != NULL, .cooling = true, .exhaust = exhaust_of_burner(judge, burner)};
    joined.outlet = has_outlet(judge, burner, joined.exhaust);
    if (is_joined_wholly(&joined)) {
        judge_holds(judge);
    } else {
        tell_silence(judge, burner, &joined);
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
    Joined joined = {.fuel = feed_of(judge, engine) != NULL, .cooling = has_cooling(judge, engine), .exhaust = exhaust_of(engine)};
    /* the leg of a sterndrive lets the exhaust out too */
    joined.outlet = is_sterndrive(engine) || (joined.exhaust != NULL && has_outlet(judge, engine, joined.exhaust));
    const Entity *back = joined.fuel ? NULL : return_of(judge, engine);
    if (back != NULL) {
        tell_return_alone(judge, engine, back);
    } else if (is_joined_wholly(&joined)) {
        judge_holds(judge);
    } else {
        tell_silence(judge, engine, &joined);
    }
}
