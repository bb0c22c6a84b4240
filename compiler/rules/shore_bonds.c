/*
 * Rules of the family rules_shore: neutral-bond, earth-bond, shore-isolation. Where neutral is joined to ground,
 * where ground is joined to the boat, and what parts it from the ground of the shore.
 */
#include "rules/shore.h"

/* Whether an inverter passes what comes by it on to what the inverter feeds. */
static bool is_passed_on(const Judge *judge, const Entity *circuit)
{
    const Entity *inverter = judge->model->first_of_kind[KIND_INVERTER];
    while (inverter != NULL && !(is_aboard(inverter) && entity_reference(inverter, PROP_INVERTER_PASSES) == circuit)) {
        inverter = inverter->next_of_kind;
    }
    return inverter != NULL;
}

/*
 * The feed by which a source that is carried comes to wiring that stays aboard: a panel, an inlet, a switch, an outlet. A lead
 * from it to a thing or two is its own affair; NULL: no more than that hangs on it.
 */
static const Feed *wired_in_by(const Judge *judge, const Entity *source, int depth)
{
    enum { LEADS_IN_A_ROW = 8 }; /* longer than anybody plugs together */
    for (const Feed *feed = source->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        switch (is_aboard(taker) && !(taker->flags & ENTITY_LOOP) ? (KindId)taker->kind : KIND_NONE) {
        case KIND_PANEL:
        case KIND_SWITCH:
        case KIND_INLET:
        case KIND_OUTLET: return feed;
        case KIND_CIRCUIT:
            if (is_passed_on(judge, taker) || (depth < LEADS_IN_A_ROW && wired_in_by(judge, taker, depth + 1) != NULL)) {
                return feed;
            }
            break;
        default: break;
        }
    }
    return NULL;
}

static bool is_carried_alone(const Judge *judge, const Entity *source)
{
    return entity_yes(source, PROP_COMMON_PORTABLE) == 1 && wired_in_by(judge, source, 0) == NULL;
}

void judge_neutral_bond(Judge *judge, const Entity *source)
{
    if (source->kind == KIND_SWITCH) {
        judge_switched_neutral(judge, source);
        return;
    }
    if (is_carried_alone(judge, source)) {
        return;
    }
    const Feed *wired = entity_yes(source, PROP_COMMON_PORTABLE) == 1 ? wired_in_by(judge, source, 0) : NULL;
    PropId prop = source->kind == KIND_INVERTER ? PROP_INVERTER_BONDS_NEUTRAL : PROP_GENERATOR_BONDS_NEUTRAL;
    Finding *f = judge_yes(judge, source, prop, "");
    if (f != NULL) {
        finding_say(judge, f, "`%s` %s neutral and ground while it is the source", say_name(judge, source),
                    f->verdict == VERDICT_BROKEN ? "does not join" : "does not say whether it joins");
        if (wired != NULL) {
            finding_note(judge, f, place_of_feed(judge, wired),
                         "carried or not, it feeds the boat's wiring by this: no breaker and no leakage device opens without that bond");
        }
    }
}

/* Where an inverter passes the shore's mains through, or shares what it feeds with them, their grounding conductors are one. */
static bool shares_ground_of_inlet(const Judge *judge, const Entity *inverter)
{
    bool shares = entity_reference(inverter, PROP_INVERTER_PASSES) != NULL, any = false;
    for (const Feed *feed = inverter->gives; feed != NULL; feed = feed->next_of_giver) {
        shares = shares || (feed->taker->fed != NULL && feed->taker->fed->next != NULL);
    }
    for (const Entity *inlet = judge->model->first_of_kind[KIND_INLET]; inlet != NULL; inlet = inlet->next_of_kind) {
        any = any || is_aboard(inlet); /* it is asked for the bond of both */
    }
    return shares && any;
}

/* Whether the shore's grounding conductor ends at a transformer, and the boat's begins there. */
static bool isolates(const Entity *source)
{
    return source->kind == KIND_INLET && str_is(entity_word(source, PROP_INLET_ISOLATION), "transformer");
}

/* What the grounding conductor is joined to: a system with both poles insulated has no DC ground. */
static const char *ground_of_boat(const Judge *judge)
{
    Str word;
    const Entity *boat = judge->model->boat;
    bool stated = boat != NULL && stated_word(boat, PROP_BOAT_DIRECT_CURRENT, &word) == STATE_KNOWN;
    return stated && str_is(word, "insulated") ? "the hull, or to where the boat's bonding meets" : "the boat's DC ground";
}

void judge_earth_bond(Judge *judge, const Entity *source)
{
    PropId prop = source->kind == KIND_INVERTER ? PROP_INVERTER_BONDED : PROP_INLET_BONDED;
    if (source->kind == KIND_INVERTER && entity_yes(source, prop) == -1 &&
        (is_carried_alone(judge, source) || shares_ground_of_inlet(judge, source))) {
        return;
    }
    Finding *f = judge_yes(judge, source, prop, "");
    if (f != NULL && isolates(source)) {
        finding_say(judge, f, "%sthe grounding conductor that begins at the transformer of `%s` is%s joined to %s",
                    f->verdict == VERDICT_BROKEN ? "" : "nobody says whether ", say_name(judge, source),
                    f->verdict == VERDICT_BROKEN ? " not" : "", ground_of_boat(judge));
        finding_note(judge, f, place_of(judge, source, PROP_INLET_ISOLATION),
                     "the shore's own grounding conductor ends at the transformer: it is never joined to anything aboard");
    } else if (f != NULL) {
        finding_say(judge, f, "%s`%s` %s joined to %s",
                    f->verdict == VERDICT_BROKEN ? "the grounding conductor of " : "", say_name(judge, source),
                    f->verdict == VERDICT_BROKEN ? "is not"
                                                 : "does not say whether its grounding conductor is",
                    ground_of_boat(judge));
    }
}

/* A hull that is itself the metal that is eaten. */
static bool is_metal_hull(const Judge *judge, const char **metal)
{
    Str built;
    const Entity *boat = judge->model->boat;
    bool stated = boat != NULL && stated_word(boat, PROP_BOAT_BUILT, &built) == STATE_KNOWN;
    *metal = stated && str_is(built, "aluminium") ? "aluminium" : "steel";
    return stated && (str_is(built, "aluminium") || str_is(built, "steel"));
}

void judge_shore_isolation(Judge *judge, const Entity *inlet)
{
    Str word;
    const char *metal;
    State state = stated_word(inlet, PROP_INLET_ISOLATION, &word);
    Finding *f;
    if (state == STATE_WAITING) {
        judge_waiting(judge);
        return;
    }
    if (state == STATE_MISSING) {
        f = judge_open(judge, inlet, place_of_name(judge, inlet), inlet, PROP_INLET_ISOLATION);
        finding_say(judge, f, "`%s` does not say what keeps the marina's currents out of the underwater metal",
                    say_name(judge, inlet));
    } else if (str_is(word, "none")) {
        f = judge_broken(judge, inlet, place_of(judge, inlet, PROP_INLET_ISOLATION));
        finding_say(judge, f, "`%s` joins the boat's underwater metal to that of the whole marina", say_name(judge, inlet));
    } else {
        judge_holds(judge);
        return;
    }
    finding_severity(f, SEVERITY_WARNING);
    if (is_metal_hull(judge, &metal)) {
        finding_severity(f, SEVERITY_FAULT);
        finding_note(judge, f, place_of(judge, judge->model->boat, PROP_BOAT_BUILT), "the hull is %s: it is what is eaten", metal);
    }
    finding_remedy(judge, f, "isolation galvanic");
    finding_remedy(judge, f, "isolation transformer");
}

Span place_of_feed(const Judge *judge, const Feed *feed)
{
    if (feed->maker) {
        for (const Property *p = entity_property(feed->giver, PROP_MAKER_FEEDS); p != NULL;
             p = block_next(&feed->giver->block, p)) {
            const Value *target = property_value(p, 0);
            if (value_names(target, feed->taker)) {
                return value_span(judge->model, target);
            }
        }
    }
    const Property *fed_by = entity_property(feed->taker, PROP_FEED_FED_BY);
    for (uint16_t i = 0; fed_by != NULL && i < fed_by->count; i++) {
        if (value_names(&fed_by->values[i], feed->giver)) {
            return value_span(judge->model, &fed_by->values[i]);
        }
    }
    return place_of_name(judge, feed->subject);
}
