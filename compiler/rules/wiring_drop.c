/*
 * One rule of wiring: wire-drop. Of the voltage no more is lost on the way to a thing than it can do without.
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "physics/drop.h"
#include "rules/ask.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

static const UnitPair percent = {UNIT_PERCENT, UNIT_NONE};

/* The most that a feed may lose, whatever its own limit turns out to be. */
static double most_allowed(const Judge *judge, const Feed *feed)
{
    const Value *own = property_value(feed_property(feed, PROP_FEED_DROP), 0);
    bool stated = own->kind == VALUE_QUANTITY && !(own->flags & VALUE_BROKEN);
    DropLimit limit = feed_drop_limit(judge->model, feed, judge->basis);
    double most = stated ? own->u.quantity.high : limit.share;
    return limit.critical ? fmin(most, DROP_LIMIT_CRITICAL) : most;
}

/* Whether its own cable alone breaks its limit: it does so whatever is mended before it. */
static bool loses_too_much_itself(const Judge *judge, const Feed *feed)
{
    const Figure *own = feed_figure(judge, feed, FIGURE_VOLTAGE_DROP_BY_RULE);
    return own != NULL && own->state == STATE_KNOWN && own->low > most_allowed(judge, feed) * (1.0 + 1e-9);
}

/*
 * Whether what brings a feed its power loses too much already, by its own limit and by this one: then it is the feeder that
 * is told of, once.
 */
static bool is_lost_before(const Judge *judge, const Feed *feed)
{
    const Entity *giver = feed->giver;
    const Feed *before = feed->maker || giver == NULL || turns_power(giver) || giver->flags & ENTITY_LOOP
                             ? NULL
                             : feed_with_cable(giver);
    const Figure *total = before != NULL ? feed_figure(judge, before, FIGURE_TOTAL_DROP_BY_RULE) : NULL;
    return total != NULL && total->state == STATE_KNOWN && !is_cranked(feed->taker) && !loses_too_much_itself(judge, feed) &&
           total->low > most_allowed(judge, before) * (1.0 + 1e-9) && total->low > most_allowed(judge, feed) * (1.0 + 1e-9);
}

enum { TOLD_MOST = 3, DEEP_MOST = 16 };

typedef struct Behind {
    const Entity *things[TOLD_MOST];
    uint32_t count;
} Behind;

/* What hangs on a feeder and is not told of for its sake. */
static void gather_behind(const Judge *judge, const Entity *giver, int depth, Behind *behind)
{
    for (const Feed *on = giver->gives; on != NULL && depth < DEEP_MOST; on = on->next_of_giver) {
        if (on->maker || !is_aboard(on->taker)) {
            continue;
        }
        if (!on->shares && is_lost_before(judge, on)) {
            if (behind->count < TOLD_MOST) {
                behind->things[behind->count] = on->taker;
            }
            behind->count++;
        }
        gather_behind(judge, on->taker, depth + 1, behind);
    }
}

static void note_behind(Judge *judge, Finding *f, const Feed *feed)
{
    Behind behind = {.count = 0};
    if (!feed->maker) {
        gather_behind(judge, feed->taker, 0, &behind);
    }
    if (behind.count > 0) {
        uint32_t given = behind.count < TOLD_MOST ? behind.count : TOLD_MOST;
        finding_note(judge, f, place_of_name(judge, behind.things[0]),
                     "so too much is lost to what hangs on it: %s",
                     say_names(judge, behind.things, given, behind.count));
    }
}

/* The limit of a feed; of what the basis holds to its own, no more than that. */
static Side drop_allowed(const Judge *judge, const Feed *feed, DropLimit allowed)
{
    if (!allowed.own) {
        return side_number(allowed.share, percent);
    }
    Side own = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_DROP), 0);
    if (allowed.critical) {
        own.value = interval_min(own.value, point(DROP_LIMIT_CRITICAL));
    }
    return own;
}

/* What the owner wrote to loosen a limit of the basis, which it cannot. */
static void note_loosening(Judge *judge, Finding *f, const Feed *feed, DropLimit allowed)
{
    const Value *own = property_value(feed_property(feed, PROP_FEED_DROP), 0);
    if (allowed.critical && own->kind == VALUE_QUANTITY && own->u.quantity.high > DROP_LIMIT_CRITICAL) {
        finding_note(judge, f, feed_place(judge, feed, PROP_FEED_DROP),
                     "this can lower the %s of the basis, not raise it: `waive` sets a finding aside",
                     say_number(judge, DROP_LIMIT_CRITICAL, percent));
    }
    if (allowed.critical && entity_yes(feed->taker, PROP_COMMON_CRITICAL) == 0) {
        finding_note(judge, f, place_of(judge, feed->taker, PROP_COMMON_CRITICAL),
                     "this takes nothing out of what the basis itself calls critical: `waive` sets a finding aside");
    }
}

/* Of an undecided run no number stands there, by whatever formula. */
static bool is_share(const Figure *lost)
{
    return lost != NULL && lost->state == STATE_KNOWN && lost->high <= 1.0;
}

const char *say_by_formula(const Figure *by_rule)
{
    return is_share(by_rule) || by_rule->low > 1.0 ? "by the formula of the basis " : "";
}

const char *say_real(const Judge *judge, const Figure *physical)
{
    return is_share(physical) && !judge->quiet ? text_format(judge->arena, " (in real cable at 50 C %s)", say_lost(judge, physical)) : "";
}

/* Of a feed that is lost before: told once, of the feeder, unless it is undecided whether its own cable alone loses too much. */
static void judge_own_alone(Judge *judge, const Feed *feed, Side most, bool critical)
{
    const Figure *own = feed_figure(judge, feed, FIGURE_VOLTAGE_DROP_BY_RULE);
    bool may = own != NULL && own->state == STATE_KNOWN && own->high > most_allowed(judge, feed) * (1.0 + 1e-9);
    Finding *f = may ? feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(own), most) : NULL;
    if (f == NULL) {
        judge_gives_way(judge);
        return;
    }
    finding_say(judge, f, "the cable of %s alone loses %s of the voltage by the formula of the basis; at most %s may be lost on all the way to it",
                feed_name(judge, feed), say_lost(judge, own), say_side(judge, most));
    finding_severity(f, critical && own->high > DROP_LIMIT_CRITICAL * (1.0 + 1e-9) ? SEVERITY_FAULT : SEVERITY_WARNING);
}

void judge_wire_drop(Judge *judge, const Feed *feed)
{
    judge_lent_drop(judge, feed);
    DropLimit allowed = feed_drop_limit(judge->model, feed, judge->basis);
    double limit = allowed.share;
    Side most = drop_allowed(judge, feed, allowed);
    if (feed_figure(judge, feed, FIGURE_CHARGE_DROP) != NULL) {
        judge_gives_way(judge); /* charge-drop tells */
        return;
    }
    if (is_lost_before(judge, feed)) {
        judge_own_alone(judge, feed, most, allowed.critical);
        return;
    }
    const char *why = allowed.own ? "its own limit" : allowed.critical ? allowed.why : NULL;
    const Figure *by_rule = feed_figure(judge, feed, FIGURE_TOTAL_DROP_BY_RULE);
    const Figure *physical = feed_figure(judge, feed, FIGURE_TOTAL_DROP);
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(by_rule), most);
    if (f != NULL) {
        finding_say(judge, f, "%s%s of the voltage is lost on the way to %s%s; at most %s may be%s%s",
                    say_by_formula(by_rule), say_lost(judge, by_rule),
                    feed_name(judge, feed), say_real(judge, physical), say_side(judge, most), why != NULL ? ": " : "",
                    why != NULL ? why : "");
        finding_here(judge, f, "this cable itself loses %s",
                     say_lost(judge, feed_figure(judge, feed, FIGURE_VOLTAGE_DROP_BY_RULE)));
        bool beyond_basis = allowed.critical && by_rule->high > DROP_LIMIT_CRITICAL * (1.0 + 1e-9);
        finding_severity(f, beyond_basis ? SEVERITY_FAULT : SEVERITY_WARNING);
        note_loosening(judge, f, feed, allowed);
        note_behind(judge, f, feed);
        remedy_drop(judge, f, feed, limit);
        return;
    }
    if (by_rule == NULL || by_rule->state != STATE_KNOWN) {
        return; /* counted already */
    }
    f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(physical), most);
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_say(judge, f,
                    "the formula of the basis passes the way to %s (%s), but real cable at 50 C loses %s; "
                    "the limit is %s",
                    feed_name(judge, feed), say_figure(judge, by_rule), say_lost(judge, physical),
                    say_side(judge, most));
        remedy_drop(judge, f, feed, limit);
    }
}
