/*
 * Rules of her form: whether length, waterline, beam, draft, displacement and centre of buoyancy can be those of one boat, and
 * whether what stands aboard stands in her. They are there against slips of the pen: speeds, power, trim and heel are computed
 * from these lines.
 */
#include "rules/ask.h"

#include "figures/water.h"

#include "rules/families.h"

#include "physics/weight.h"

#include <math.h>

/* Shares of her length; all common practice, no source. */
static const double waterline_least = 0.5, draft_most = 0.4, buoyancy_least = 0.3, buoyancy_most = 0.75;
/* Length by beam: from a raft to a canal boat of 21.3 m by 2.08 m. Common practice, no source. */
static const double slender_most = 10.4, slender_least = 1.0;
/* Of the block that her waterline, beam and draft make: 1 is the block itself; the least is common practice, no source. */
static const double block_least = 0.02;
/*
 * A beam of so much of her length is most often that of several hulls, with air between: light ones with their boards down have 0.015
 * of the block and less, racers 0.005. Common practice, no source.
 */
static const double broad_from = 0.4, block_least_if_broad = 0.004;
/*
 * Her mean depth, what she displaces over waterline and beam, by her beam. Yachts and launches have 0.05 to 0.2; a full ship
 * of a block of 0.85 and 2.5 times as broad as deep has 0.34. Common practice, no source.
 */
static const double mean_depth_most = 0.3;
/*
 * The least of it: an empty rowing boat has 0.007, a runabout 0.03; trimarans and beach boats, whose beam is mostly air, go down
 * to 0.005 and racers below it. Common practice, no source.
 */
static const double mean_depth_least = 0.0066, mean_depth_least_of_sail = 0.002;
/* What stands before the bow or behind the stern (bowsprit, davits), and over her as masts do. Common practice, no source. */
static const double overhang = 0.3, mast = 3.0;

static Side measure(const Judge *judge, PropId prop)
{
    return side_value(judge, judge->model->boat, prop, 0);
}

/* A side so many times another one of hers, in that one's unit. */
static Side times(Side side, double factor)
{
    side.value = interval_scale(side.value, factor);
    return side;
}

/* Whether one of them is left open altogether, as `?`: it is in no proportion to anything, and told as what is not measured yet. */
static bool lacks_measure(Judge *judge, const PropId *of, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        Side side = measure(judge, of[i]);
        if (side_is_known(side) && side.value.low <= 0.0 && isinf(side.value.high)) {
            judge_unmeasured(judge, judge->model->boat, of[i]);
            return true;
        }
    }
    return false;
}

/* One measure against a share of another; both have to be stated. */
static Finding *hold(Judge *judge, PropId prop, PropId other, double share, bool most)
{
    const Entity *boat = judge->model->boat;
    const PropId both[] = {prop, other};
    if (!entity_states(boat, prop) || !entity_states(boat, other) || lacks_measure(judge, both, 2)) {
        return NULL;
    }
    Span place = place_of(judge, boat, prop);
    Side value = measure(judge, prop), limit = times(measure(judge, other), share);
    Finding *finding = most ? judge_at_most(judge, boat, place, value, limit) : judge_at_least(judge, boat, place, value, limit);
    if (finding != NULL) {
        finding_matter(finding, text_format(judge->arena, "%s %s", props[prop].word, most ? "most" : "least"));
        finding_note(judge, finding, place_of(judge, boat, other), "%s", props[other].help);
        finding_remedy(judge, finding, "the right measure on either line");
    }
    return finding;
}

static void tell(Judge *judge, Finding *finding, PropId prop, PropId other, Severity severity, const char *what)
{
    if (finding != NULL) {
        finding_severity(finding, severity);
        finding_say(judge, finding, "her %s of %s and her %s of %s: %s", props[prop].word, say_side(judge, measure(judge, prop)),
                    props[other].word, say_side(judge, measure(judge, other)), what);
    }
}

static void judge_lengths(Judge *judge)
{
    tell(judge, hold(judge, PROP_BOAT_WATERLINE, PROP_BOAT_LENGTH, 1.0, true), PROP_BOAT_WATERLINE, PROP_BOAT_LENGTH,
         SEVERITY_FAULT, "no waterline is longer than the hull");
    tell(judge, hold(judge, PROP_BOAT_WATERLINE, PROP_BOAT_LENGTH, waterline_least, false), PROP_BOAT_WATERLINE,
         PROP_BOAT_LENGTH, SEVERITY_WARNING, "half of a hull hangs over its waterline at most");
    tell(judge, hold(judge, PROP_BOAT_BEAM, PROP_BOAT_LENGTH, 1.0 / slender_least, true), PROP_BOAT_BEAM, PROP_BOAT_LENGTH,
         SEVERITY_WARNING, "a boat is longer than she is broad");
    tell(judge, hold(judge, PROP_BOAT_BEAM, PROP_BOAT_LENGTH, 1.0 / slender_most, false), PROP_BOAT_BEAM, PROP_BOAT_LENGTH,
         SEVERITY_WARNING, "the narrowest canal boat is a tenth of her length broad");
    tell(judge, hold(judge, PROP_BOAT_DRAFT, PROP_BOAT_LENGTH, draft_most, true), PROP_BOAT_DRAFT, PROP_BOAT_LENGTH,
         SEVERITY_WARNING, "so deep for its length is hardly a keel");
}

static void judge_buoyancy(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    Side at = measure(judge, PROP_BOAT_BUOYANCY), length = measure(judge, PROP_BOAT_LENGTH);
    if (!entity_states(boat, PROP_BOAT_BUOYANCY) || !side_is_known(at) || !side_is_known(length)) {
        return;
    }
    bool behind = at.value.high > length.value.low; /* or may lie there */
    tell(judge, hold(judge, PROP_BOAT_BUOYANCY, PROP_BOAT_LENGTH, buoyancy_most, true), PROP_BOAT_BUOYANCY, PROP_BOAT_LENGTH,
         behind ? SEVERITY_FAULT : SEVERITY_WARNING,
         behind ? "what bears her cannot lie behind her" : "what bears her lies near the middle");
    tell(judge, hold(judge, PROP_BOAT_BUOYANCY, PROP_BOAT_LENGTH, buoyancy_least, false), PROP_BOAT_BUOYANCY, PROP_BOAT_LENGTH,
         SEVERITY_WARNING, "what bears her lies near the middle");
}

/* The least share: another one of a boat that is broad; both bound it where she may be. */
static Interval share_by_beam(const Judge *judge, double narrow, double broad)
{
    Side length = measure(judge, PROP_BOAT_LENGTH), beam = measure(judge, PROP_BOAT_BEAM);
    if (!side_is_known(length) || !side_is_known(beam)) {
        return interval(fmin(narrow, broad), fmax(narrow, broad));
    }
    bool may_be = beam.value.high > broad_from * length.value.low, is = beam.value.low > broad_from * length.value.high;
    return is ? point(broad) : may_be ? interval(fmin(narrow, broad), fmax(narrow, broad)) : point(narrow);
}

static Side times_share(Side side, Interval share)
{
    side.value = interval_multiply(side.value, share);
    return side;
}

/* Archimedes: she displaces no more than the block of waterline, beam and draft, and hardly less than a small share of it. */
static bool judge_block(Judge *judge)
{
    static const PropId sides[] = {PROP_BOAT_BEAM, PROP_BOAT_DRAFT};
    const Entity *boat = judge->model->boat;
    PropId along = entity_states(boat, PROP_BOAT_WATERLINE) ? PROP_BOAT_WATERLINE : PROP_BOAT_LENGTH;
    Side block = measure(judge, along), displacement = measure(judge, PROP_BOAT_DISPLACEMENT);
    const PropId of[] = {PROP_BOAT_DISPLACEMENT, along, PROP_BOAT_BEAM, PROP_BOAT_DRAFT};
    if (!entity_states(boat, PROP_BOAT_DRAFT) || !entity_states(boat, PROP_BOAT_DISPLACEMENT) ||
        lacks_measure(judge, of, sizeof of / sizeof of[0])) {
        return false;
    }
    for (size_t i = 0; i < sizeof sides / sizeof sides[0] && side_is_known(block); i++) {
        Side side = measure(judge, sides[i]);
        block.state = side.state;
        block.value = interval_multiply(block.value, side.value);
    }
    Side most = side_interval(interval_scale(block.value, SALT_WATER_KG_PER_M3), displacement.unit);
    most.state = block.state;
    bool known = side_is_known(most) && side_is_known(displacement);
    Interval least = share_by_beam(judge, block_least, block_least_if_broad);
    bool less = known && displacement.value.low < most.value.high * least.high;
    bool never = known && displacement.value.high <= most.value.low;
    Span place = place_of(judge, boat, PROP_BOAT_DISPLACEMENT);
    Finding *finding = less ? judge_at_least(judge, boat, place, displacement, times_share(most, least))
                            : judge_at_most(judge, boat, place, displacement, most);
    if (finding == NULL) {
        return false;
    }
    finding_about(finding, PROP_BOAT_DISPLACEMENT);
    finding_severity(finding, less && never ? SEVERITY_WARNING : SEVERITY_FAULT);
    finding_rests_on(judge, finding, boat, along);
    finding_rests_on(judge, finding, boat, PROP_BOAT_LENGTH); /* by which she is broad */
    for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
        finding_rests_on(judge, finding, boat, sides[i]);
        finding_note(judge, finding, place_of(judge, boat, sides[i]), "%s", props[sides[i]].help);
    }
    finding_say(judge, finding, "she displaces %s, and a block of her %s, beam and draft %s: %s", say_side(judge, displacement),
                props[along].word, say_side(judge, most),
                less ? "no hull is so fine in it" : "a hull fits into that block, and displaces less than it");
    finding_remedy(judge, finding, "the right measure on one of these lines");
    return true;
}

/* How deep she would lie if her sides stood upright; deep only where no draft is stated, which says more. */
static void judge_mean_depth(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    PropId along = entity_states(boat, PROP_BOAT_WATERLINE) ? PROP_BOAT_WATERLINE : PROP_BOAT_LENGTH;
    Side displacement = measure(judge, PROP_BOAT_DISPLACEMENT), length = measure(judge, along), beam = measure(judge, PROP_BOAT_BEAM);
    if (!entity_states(boat, PROP_BOAT_DISPLACEMENT) || !side_is_known(length) || !side_is_known(beam)) {
        return;
    }
    const PropId of[] = {PROP_BOAT_DISPLACEMENT, along, PROP_BOAT_BEAM};
    if (lacks_measure(judge, of, sizeof of / sizeof of[0])) {
        return;
    }
    Interval share = share_by_beam(judge, entity_yes(boat, PROP_BOAT_SAILS) == 0 ? mean_depth_least : mean_depth_least_of_sail,
                                   mean_depth_least_of_sail);
    Interval plane = interval_multiply(length.value, beam.value);
    Interval block = interval_scale(interval_multiply(plane, beam.value), SALT_WATER_KG_PER_M3);
    Span place = place_of(judge, boat, PROP_BOAT_DISPLACEMENT);
    Finding *deep = entity_states(boat, PROP_BOAT_DRAFT)
                        ? NULL
                        : judge_at_most(judge, boat, place, displacement,
                                        side_interval(interval_scale(block, mean_depth_most), displacement.unit));
    Finding *finding = deep != NULL ? deep
                                    : judge_at_least(judge, boat, place, displacement,
                                                     side_interval(interval_multiply(block, share), displacement.unit));
    if (finding == NULL) {
        return;
    }
    Interval depth = interval_divide(displacement.value, interval_scale(plane, SALT_WATER_KG_PER_M3));
    finding_about(finding, PROP_BOAT_DISPLACEMENT); /* as of the block: one finding of it, whichever bound is near */
    finding_severity(finding, SEVERITY_WARNING);
    finding_rests_on(judge, finding, boat, along);
    finding_rests_on(judge, finding, boat, PROP_BOAT_LENGTH); /* by which she is broad */
    finding_rests_on(judge, finding, boat, PROP_BOAT_BEAM);
    finding_say(judge, finding, "she displaces %s on a %s of %s and a beam of %s: a mean depth of %s, and %s",
                say_side(judge, displacement), props[along].word, say_side(judge, length), say_side(judge, beam),
                say_side(judge, side_interval(depth, beam.unit)),
                deep != NULL ? "three tenths of her beam is deep for a full ship" : "an empty hull alone lies deeper");
    finding_remedy(judge, finding, "the right measure on one of these lines%s", deep != NULL ? ", and her `draft`" : "");
}

static void judge_proportions(Judge *judge)
{
    if (judge->model->boat != NULL) {
        judge_lengths(judge);
        judge_buoyancy(judge);
        if (!judge_block(judge)) {
            judge_mean_depth(judge);
        }
    }
}

/* ---- where things stand -------------------------------------------------------------------------------- */

/* Drafts down: an outboard's leg hangs below hers. Common practice, no source. */
static const double below_draft = 2.0;

/* Along one axis: from so many times one of her measures to so many times. */
typedef struct Room {
    Side least, most;
    const char *where, *other; /* which way numbers go up, and the other one */
} Room;

static Room room_along(const Judge *judge, PropId of, double least, double most, const char *where, const char *other)
{
    Side side = measure(judge, of);
    return (Room){times(side, least), times(side, most), where, other};
}

/* "3 m below the waterline": nobody says minus three above it. */
static const char *say_far(const Judge *judge, Side at, const Room *room)
{
    bool turned = at.value.high < 0.0;
    Side far = turned ? side_interval(interval_scale(at.value, -1.0), at.unit) : at;
    return text_format(judge->arena, "%s %s", say_side(judge, far), turned ? room->other : room->where);
}

static void tell_outside(Judge *judge, Finding *finding, const Entity *thing, Side at, const Room *room)
{
    const Entity *boat = judge->model->boat;
    Side draft = measure(judge, PROP_BOAT_DRAFT);
    finding_say(judge, finding, "`%s` stands %s; she is %s long and %s broad%s", say_name(judge, thing), say_far(judge, at, room),
                say_side(judge, measure(judge, PROP_BOAT_LENGTH)), say_side(judge, measure(judge, PROP_BOAT_BEAM)),
                side_is_known(draft) && at.value.low < 0.0 ? text_format(judge->arena, " and draws %s", say_side(judge, draft)) : "");
    finding_note(judge, finding, place_of_name(judge, boat), "the boat");
    finding_remedy(judge, finding, "`at` with how far aft of the foremost point, to starboard, and above the waterline");
}

static bool stands_outside(Judge *judge, const Entity *thing, Side at, const Room *room)
{
    if (!side_is_known(at)) {
        judge_waiting(judge);
        return true;
    }
    bool below = at.value.low < room->least.value.high;
    Span place = {0, 0};
    Finding *finding = below ? judge_at_least(judge, thing, place, at, room->least)
                             : judge_at_most(judge, thing, place, at, room->most);
    if (finding != NULL) {
        finding->place = place_of(judge, thing, PROP_COMMON_AT);
        tell_outside(judge, finding, thing, at, room);
    }
    return finding != NULL;
}

/* The first axis that lies outside is told. */
static void judge_outside(Judge *judge)
{
    const Model *model = judge->model;
    if (model->boat == NULL || !side_is_known(measure(judge, PROP_BOAT_LENGTH)) ||
        !side_is_known(measure(judge, PROP_BOAT_BEAM))) {
        return;
    }
    Room up = room_along(judge, PROP_BOAT_LENGTH, -1.0, mast, "above the waterline", "below the waterline");
    if (side_is_known(measure(judge, PROP_BOAT_DRAFT))) {
        up.least = room_along(judge, PROP_BOAT_DRAFT, -below_draft, 1.0, "", "").least;
    }
    const Room rooms[] = {room_along(judge, PROP_BOAT_LENGTH, -overhang, 1.0 + overhang, "aft of her foremost point", "ahead of her foremost point"),
                          room_along(judge, PROP_BOAT_BEAM, -1.0, 1.0, "to starboard of her middle", "to port of her middle"),
                          up};
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *thing = model->entities[i];
        const Property *at = is_aboard(thing) ? entity_property(thing, PROP_COMMON_AT) : NULL;
        bool outside = at == NULL;
        for (unsigned axis = 0; axis < sizeof rooms / sizeof rooms[0] && !outside; axis++) {
            outside = stands_outside(judge, thing, side_stated(thing, at, axis), &rooms[axis]);
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define FORM(REST) \
    "edition 1\nboat wren \"Wren\" { length 9.5 m; beam 3.1 m; draft 1.2 m; crew 2; currency EUR; basis us; " REST " }\n"
#define PLACED(AFT) FORM("displacement 5200 kg") "item ballast { mass 50 kg; at " AFT " 0 m 0 m }\n"

static const Rule rules[] = {
    {.name = "proportions",
     .severity = SEVERITY_FAULT,
     .title = "her measures can be those of one boat",
     .basis = ON_BOTH,
     .source = "geometry and Archimedes: a waterline is no longer than the hull, and she displaces no more than the block of "
               "waterline, beam and draft; what is usual: common practice, no source",
     .why = "Speed, power, range, trim and heel are computed from these lines, and a slip in one of them makes all of them "
            "wrong without a word. Faults are what cannot be; a warning is what hardly any boat is: a waterline of less "
            "than half her length, a beam of more than her length or less than a tenth of it, a draft of more than four "
            "tenths of it, a centre of buoyancy far from the middle, less than a fiftieth of the block; a mean depth "
            "(displacement over waterline and beam) of less than 0.0066 of her beam, 0.002 unless she has no sails, for there "
            "are boats of several hulls, and of more than three tenths of it where no draft is stated. Of one that is broader than "
            "four tenths of her length, as those of several hulls are, the block may be filled by no more than 0.004, and the mean "
            "depth be 0.002 of her beam.",
     .breaks = FORM("waterline 12 m"),
     .holds = FORM("waterline 8.6 m; displacement 5200 kg; buoyancy 5 m"),
     .open = FORM("waterline 8..12 m"),
     .judge_boat = judge_proportions},
    {.name = "outside-hull",
     .severity = SEVERITY_WARNING,
     .title = "what has a place stands aboard",
     .basis = ON_BOTH,
     .source = "three tenths of her length before the bow and behind the stern, her beam to either side, three lengths up, twice her "
               "draft down where that is stated: common practice, no source",
     .why = "A point left out makes 8.9 m into 89 m, and trims her by many degrees. Bowsprits, davits and masts stand outside "
            "of the hull, and are not meant.",
     .breaks = PLACED("52 m"),
     .holds = PLACED("5.2 m"),
     .open = PLACED("5.2..52 m"),
     .judge_boat = judge_outside},
};
const RuleFamily rules_form = RULE_FAMILY("Her form", rules);
