/*
 * Navigation: the data backbone, antenna cables, and a second source of what is steered by.
 */
#include "rules/ask.h"

#include "figures/water.h"
#include "physics/navigation.h"
#include "rules/families.h"

#include <math.h>

static const Backbone *backbone_of(const Entity *network)
{
    Str word = entity_word(network, PROP_NETWORK_CABLE);
    return backbone_find(word.text, word.length);
}

/*
 * How many things are joined to a network; the judge's own loop, for there is one network or two. *open is one of which
 * nobody has decided how many; or NULL.
 */
static Interval count_joined(const Judge *judge, const Entity *network, const Entity **open)
{
    Interval count = point(0.0);
    *open = NULL;
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        if (is_aboard(thing) && entity_reference(thing, PROP_NETWORKED_NETWORK) == network) {
            Side pieces = side_value(judge, thing, PROP_COMMON_COUNT, 0);
            Interval more = side_is_known(pieces) ? pieces.value : point(1.0);
            count = interval_add(count, more);
            *open = interval_is_point(more) ? *open : thing;
        }
    }
    return count;
}

/* The first thing on a network that does not say where its tee is; NULL if all do. */
static const Entity *find_unplaced(const Judge *judge, const Entity *network)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        const Entity *thing = judge->model->entities[i];
        if (is_aboard(thing) && entity_reference(thing, PROP_NETWORKED_NETWORK) == network && !entity_states(thing, PROP_NETWORKED_TEE_AT)) {
            return thing;
        }
    }
    return NULL;
}

/* What would carry it; a supply with half of it on each side only where that is not so yet, and would do. */
static void remedy_segment(Judge *judge, Finding *finding, const Entity *network, const Figure *all, const Backbone *cable)
{
    if (all->high / 2.0 <= cable->most_a) {
        finding_remedy(judge, finding, "a supply (`feeds-at`) with half of it on each side");
    }
    finding_remedy(judge, finding, str_is(entity_word(network, PROP_NETWORK_CABLE), "heavy") ? "fewer things on it, or a second backbone"
                                                                                            : "a heavier cable; or fewer things on it");
}

static void judge_segment(Judge *judge, const Entity *network)
{
    const Backbone *cable = backbone_of(network);
    const Figure *all = figure_of(judge, network, FIGURE_BACKBONE_CURRENT);
    const Figure *current = figure_of(judge, network, FIGURE_SEGMENT_CURRENT);
    if (current == NULL || all == NULL || cable == NULL) {
        return; /* nothing is on it, or its cable is a mistake */
    }
    Side limit = side_number(cable->most_a, UNIT_ALONE(UNIT_A));
    Finding *finding = judge_at_most(judge, network, place_of(judge, network, PROP_NETWORK_CABLE), side_figure(current), limit);
    if (finding == NULL) {
        return;
    }
    if (entity_states(network, PROP_NETWORK_FEEDS_AT)) {
        const Entity *unplaced = find_unplaced(judge, network);
        finding_say(judge, finding, "on one side of its supply what is on `%s` takes %s; a segment of %s cable carries %s",
                    say_name(judge, network), say_figure(judge, current), cable->word, say_side(judge, limit));
        if (finding->verdict == VERDICT_OPEN && unplaced != NULL) {
            finding_left_open(judge, finding, unplaced, PROP_NETWORKED_TEE_AT);
        }
    } else {
        finding_say(judge, finding, "what is on `%s` takes %s; a segment of %s cable carries %s", say_name(judge, network),
                    say_figure(judge, current), cable->word, say_side(judge, limit));
    }
    finding_here(judge, finding, "%s", cable->source);
    remedy_segment(judge, finding, network, all, cable);
}

static void judge_network_load(Judge *judge, const Entity *network)
{
    judge_segment(judge, network);
    Finding *finding;
    const Entity *open;
    Interval devices = count_joined(judge, network, &open);
    if (devices.high > BACKBONE_DEVICES) {
        finding = devices.low > BACKBONE_DEVICES
                      ? judge_broken(judge, network, place_of_name(judge, network))
                      : judge_open(judge, network, place_of_name(judge, network), open, PROP_COMMON_COUNT);
        finding_about(finding, PROP_NETWORK_TERMINATORS);
        finding_say(judge, finding, "%s things are on `%s`; it serves %d",
                    say_side(judge, side_interval(devices, UNIT_ALONE(UNIT_NONE))), say_name(judge, network),
                    BACKBONE_DEVICES);
    }
}

/* ---- network-device ------------------------------------------------------------------------------------ */

/* What takes more has a feed of its own beside its data: an autopilot's drive, a plotter. */
static void judge_network_device(Judge *judge, const Entity *thing)
{
    if (entity_reference(thing, PROP_NETWORKED_NETWORK) == NULL || !entity_states(thing, PROP_NETWORKED_LOAD_NUMBER)) {
        return;
    }
    Side number = side_value(judge, thing, PROP_NETWORKED_LOAD_NUMBER, 0);
    Finding *finding = judge_at_most(judge, thing, place_of(judge, thing, PROP_NETWORKED_LOAD_NUMBER), number,
                                     side_number(BACKBONE_DEVICE_A / BACKBONE_LOAD_A, number.unit));
    if (finding != NULL) {
        Side current = side_interval(interval_scale(number.value, BACKBONE_LOAD_A), UNIT_ALONE(UNIT_A));
        finding_say(judge, finding, "`%s` takes %s from the backbone; one thing may take %s", say_name(judge, thing), say_side(judge, current),
                    say_number(judge, BACKBONE_DEVICE_A, current.unit));
        finding_remedy(judge, finding, "a feed of its own (`fed-by` and its cable), and the `load-number` of its data alone, by its maker's sheet");
    }
}

static void judge_network_devices(Judge *judge)
{
    if (judge->model->first_of_kind[KIND_NETWORK] == NULL) {
        return;
    }
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        if (kinds[judge->model->entities[i]->kind].groups & GROUPS_NETWORK && is_aboard(judge->model->entities[i])) {
            judge_network_device(judge, judge->model->entities[i]);
        }
    }
}

static void judge_network_ends(Judge *judge, const Entity *network)
{
    Side ends = side_value(judge, network, PROP_NETWORK_TERMINATORS, 0);
    Span place = place_of(judge, network, PROP_NETWORK_TERMINATORS);
    Side two = side_number(2.0, UNIT_ALONE(UNIT_NONE));
    if (ends.state == STATE_MISSING) {
        Finding *finding = judge_open(judge, network, place, network, PROP_NETWORK_TERMINATORS);
        finding_say(judge, finding, "`%s` does not say how many terminators it has; it needs one at each end",
                    say_name(judge, network));
        finding_remedy(judge, finding, "terminators 2");
        return;
    }
    Finding *finding = judge_at_least(judge, network, place, ends, two);
    if (finding == NULL) {
        finding = judge_at_most(judge, network, place, ends, two);
    }
    if (finding != NULL) {
        finding_say(judge, finding,
                    "`%s` has %s of the 2 terminators that it needs: one at each end, and no more",
                    say_name(judge, network), say_side(judge, ends));
        finding_remedy(judge, finding, "terminators 2");
    }
}

static void judge_one_drop(Judge *judge, const Entity *thing)
{
    const Entity *network = entity_reference(thing, PROP_NETWORKED_NETWORK);
    if (network == NULL || !entity_states(thing, PROP_NETWORKED_DROP_CABLE)) {
        return;
    }
    Side length = side_value(judge, thing, PROP_NETWORKED_DROP_CABLE, 0);
    Side limit = side_number(BACKBONE_DROP_M, UNIT_ALONE(UNIT_M));
    Finding *finding =
        judge_at_most(judge, thing, place_of(judge, thing, PROP_NETWORKED_DROP_CABLE), length, limit);
    if (finding != NULL) {
        finding_say(judge, finding, "the drop cable to `%s` is %s long; %s is the most",
                    say_name(judge, thing), say_side(judge, length), say_side(judge, limit));
        finding_remedy(judge, finding, "the backbone led closer by");
    }
}

static void judge_network_drops(Judge *judge)
{
    for (uint32_t i = 0; i < judge->model->entity_count; i++) {
        if (kinds[judge->model->entities[i]->kind].groups & GROUPS_NETWORK &&
            is_aboard(judge->model->entities[i])) {
            judge_one_drop(judge, judge->model->entities[i]);
        }
    }
    for (const Entity *network = first_aboard(judge->model, KIND_NETWORK); network != NULL;
         network = next_aboard(network)) {
        const Backbone *cable = backbone_of(network);
        const Figure *drops = figure_of(judge, network, FIGURE_DROP_CABLES);
        Side all = side_number(BACKBONE_DROPS_M, UNIT_ALONE(UNIT_M));
        Finding *finding = drops != NULL ? judge_at_most(judge, network, place_of_name(judge, network),
                                                         side_figure(drops), all)
                                         : NULL;
        if (finding != NULL) {
            finding_say(judge, finding, "the drop cables of `%s` are %s together; %s is the most",
                        say_name(judge, network), say_figure(judge, drops), say_side(judge, all));
        }
        if (cable == NULL || !entity_states(network, PROP_NETWORK_BACKBONE)) {
            continue;
        }
        Side length = side_value(judge, network, PROP_NETWORK_BACKBONE, 0),
             most = side_number(cable->most_m, UNIT_ALONE(UNIT_M));
        finding =
            judge_at_most(judge, network, place_of(judge, network, PROP_NETWORK_BACKBONE), length, most);
        if (finding != NULL) {
            finding_about(finding, PROP_NETWORK_BACKBONE);
            finding_say(judge, finding, "`%s` is %s long; %s cable serves for %s", say_name(judge, network),
                        say_side(judge, length), cable->word, say_side(judge, most));
        }
    }
}

/* A tee or a supply that stands beyond the end: one of both lengths is wrong, and what is lost on the way is reckoned with it. */
static void judge_beyond(Judge *judge, const Entity *thing, PropId prop, const char *what, const Entity *network)
{
    if (!entity_states(thing, prop) || !entity_states(network, PROP_NETWORK_BACKBONE)) {
        return;
    }
    Side at = side_value(judge, thing, prop, 0), length = side_value(judge, network, PROP_NETWORK_BACKBONE, 0);
    Finding *finding = judge_at_most(judge, thing, place_of(judge, thing, prop), at, length);
    if (finding != NULL) {
        finding_at(finding, network);
        finding_say(judge, finding, "%s of `%s` stands %s along `%s`, which is %s long", what, say_name(judge, thing),
                    say_side(judge, at), say_name(judge, network), say_side(judge, length));
        finding_note(judge, finding, place_of(judge, network, PROP_NETWORK_BACKBONE), "its length");
    }
}

static void judge_backbone_place(Judge *judge, const Entity *thing)
{
    if (thing->kind == KIND_NETWORK) {
        judge_beyond(judge, thing, PROP_NETWORK_FEEDS_AT, "the supply", thing);
        return;
    }
    const Entity *network = entity_reference(thing, PROP_NETWORKED_NETWORK);
    if (network != NULL) {
        judge_beyond(judge, thing, PROP_NETWORKED_TEE_AT, "the tee", network);
    }
}

static void judge_network_volts(Judge *judge, const Entity *network)
{
    const Figure *lost = figure_of(judge, network, FIGURE_BACKBONE_DROP);
    if (lost == NULL) {
        return;
    }
    Side limit = side_number(BACKBONE_DIFFERENCE_V, UNIT_ALONE(UNIT_V));
    Finding *finding = judge_at_most(judge, network, place_of_name(judge, network), side_figure(lost), limit);
    if (finding != NULL) {
        finding_say(judge, finding, "along `%s` %s are lost to the worst of its things; %s is the most",
                    say_name(judge, network), say_figure(judge, lost), say_side(judge, limit));
        finding_remedy(judge, finding,
                       "supply near the middle (`feeds-at`), a heavier cable, or a shorter backbone");
    }
}

/* Half of the power: common practice, no source. */
static const double antenna_loss_db = 3.0;

static void judge_antenna_loss(Judge *judge, const Entity *radio)
{
    const Figure *loss = figure_of(judge, radio, FIGURE_ANTENNA_LOSS);
    if (loss == NULL) {
        return; /* a radio in the hand, or with its antenna on it */
    }
    Side limit = side_number(antenna_loss_db, UNIT_ALONE(UNIT_DB));
    Finding *finding = judge_at_most(judge, radio, place_of(judge, radio, PROP_RADIO_ANTENNA_CABLE),
                                     side_figure(loss), limit);
    if (finding != NULL) {
        finding_say(judge, finding,
                    "the antenna cable of `%s` takes %s: more than half of what it sends and hears",
                    say_name(judge, radio), say_figure(judge, loss));
        finding_remedy(judge, finding, "a cable that loses less a metre, or a shorter one");
    }
}

/* no-second */

static bool does(const Entity *instrument, const char *function)
{
    return property_lists(entity_property(instrument, PROP_INSTRUMENT_FUNCTION), str_from(function));
}

/* How many of a thing there are, one at the least where nobody knows. */
static Interval pieces_of(const Judge *judge, const Entity *thing)
{
    Side pieces = side_value(judge, thing, PROP_COMMON_COUNT, 0);
    bool known = side_is_known(pieces);
    return (Interval){known ? fmax(pieces.value.low, 1.0) : 1.0, known ? fmax(pieces.value.high, 1.0) : 1.0};
}

/* How many things do something; *only is the first of them. */
static Interval count_doing(const Judge *judge, const char *function, const Entity **only)
{
    Interval count = point(0.0);
    *only = NULL;
    for (const Entity *e = first_aboard(judge->model, KIND_INSTRUMENT); e != NULL; e = next_aboard(e)) {
        bool stands_in = *only != NULL && entity_reference(e, PROP_INSTRUMENT_BACKUP_FOR) == *only;
        if (does(e, function) || stands_in) {
            *only = *only != NULL ? *only : e;
            count = interval_add(count, pieces_of(judge, e));
        }
    }
    return count;
}

static Interval count_radios(const Judge *judge, const Entity **only)
{
    Interval count = point(0.0);
    *only = first_aboard(judge->model, KIND_RADIO);
    for (const Entity *e = *only; e != NULL; e = next_aboard(e)) {
        count = interval_add(count, pieces_of(judge, e));
    }
    for (const Entity *e = first_aboard(judge->model, KIND_INSTRUMENT); e != NULL && *only != NULL;
         e = next_aboard(e)) {
        bool stands_in = entity_reference(e, PROP_INSTRUMENT_BACKUP_FOR) == *only;
        count = interval_add(count, point(stands_in ? 1.0 : 0.0));
    }
    return count;
}

static void judge_no_second(Judge *judge)
{
    static const struct {
        const char *matter, *what;
        bool by_radio; /* else by instruments with that function */
    } asked[] = {{"depth", "the depth", false},
                 {"position", "where she is", false},
                 {"radio", "a call for help", true}};
    for (size_t i = 0; i < sizeof asked / sizeof asked[0] && judge->model->boat != NULL; i++) {
        const Entity *only;
        Interval count =
            asked[i].by_radio ? count_radios(judge, &only) : count_doing(judge, asked[i].matter, &only);
        if (count.low >= 2.0) {
            judge_holds(judge);
        } else if (count.high >= 1.0) {
            const Entity *boat = judge->model->boat;
            Finding *finding = count.high < 2.0 ? judge_broken(judge, boat, place_of_name(judge, only))
                                                : judge_open(judge, boat, place_of_name(judge, only), only,
                                                             PROP_COMMON_COUNT);
            finding_at(finding, only);
            finding_matter(finding, asked[i].matter);
            finding_say(judge, finding, "`%s` alone gives %s: with it, that is gone", say_name(judge, only),
                        asked[i].what);
            finding_remedy(judge, finding, "a second `%s`, if only in the hand (`portable yes`)", kinds[only->kind].word);
            if (!asked[i].by_radio) {
                finding_remedy(judge, finding, "an `instrument` with `backup-for %s`", say_name(judge, only));
            }
        }
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define ON_BACKBONE(NETWORK, DEVICES)                                            \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
                 "network data { fed-by house; cable light; " NETWORK " }\n" DEVICES
#define SOUNDER(SAYS) "instrument sounder { function depth; network data; " SAYS " }\n"
#define VHF(CABLE)                                                               \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
                 "radio vhf { fed-by house; draw 5 A; " CABLE " }\n"

static const char makers_guides[] = "IEC 61162-3 as told in makers' installation guides (second hand)";

static const Rule rules[] = {
    {.name = "network-load",
     .severity = SEVERITY_WARNING,
     .title = "the data backbone can feed what is on it",
     .basis = ON_BOTH,
     .source = makers_guides,
     .why = "Each thing on the backbone has a load number, in steps of 50 mA. A segment of light cable "
            "carries 3 A, and 50 things "
            "are the most. A segment runs from the supply to one end: what is on that side flows in it, by the `tee-at` of each thing. "
            "Where `feeds-at` is not stated, all of it is taken to flow in one, as it does where the supply is at an end.",
     .breaks = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 4; count 20")),
     .holds = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 4")),
     .open = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 4; count 10..20")),
     .kinds = {KIND_NETWORK},
     .judge = judge_network_load},
    {.name = "network-device",
     .severity = SEVERITY_WARNING,
     .title = "no thing takes more from the data backbone than one may",
     .basis = ON_BOTH,
     .source = makers_guides,
     .why = "The backbone feeds what listens and shows, up to 1 A each: a load number of 20. What moves something, or lights a large screen, "
            "has a cable of its own, and gives the backbone a small number. A larger one is a slip of the pen, or a thin drop cable that "
            "gets warm.",
     .breaks = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 40")),
     .holds = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 20")),
     .open = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 4..40")),
     .judge_boat = judge_network_devices},
    {.name = "network-ends",
     .severity = SEVERITY_WARNING,
     .title = "the data backbone has a terminator at each end",
     .basis = ON_BOTH,
     .source = makers_guides,
     .why = "What is sent runs to the end of the cable, and comes back from it where no terminator takes it "
            "up. Two resistors of "
            "120 ohm, one at each end, measure as 60 ohm across the pair with the power off.",
     .breaks = ON_BACKBONE("terminators 1", SOUNDER("load-number 2")),
     .holds = ON_BACKBONE("terminators 2", SOUNDER("load-number 2")),
     .open = ON_BACKBONE("", SOUNDER("load-number 2")),
     .kinds = {KIND_NETWORK},
     .judge = judge_network_ends},
    {.name = "network-drops",
     .severity = SEVERITY_WARNING,
     .title = "drop cables and backbone are no longer than the data stands",
     .basis = ON_BOTH,
     .source = makers_guides,
     .why = "A drop cable is an end without a terminator: short ones are forgiven. 6 m each, 78 m together; "
            "100 m of backbone in "
            "light cable, 200 m in heavier.",
     .breaks = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 2; drop-cable 8 m")),
     .holds = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 2; drop-cable 4 m")),
     .open = ON_BACKBONE("terminators 2; backbone 12 m", SOUNDER("load-number 2; drop-cable 4..8 m")),
     .judge_boat = judge_network_drops},
    {.name = "network-place",
     .severity = SEVERITY_WARNING,
     .title = "tees and supply stand on the backbone, not beyond its end",
     .basis = ON_BOTH,
     .source = "geometry",
     .why = "Places are counted along the backbone from one end. One that is larger than its length is a slip in either, and "
            "the voltage that is lost on the way is wrong with it.",
     .breaks = ON_BACKBONE("terminators 2; backbone 6 m", SOUNDER("load-number 2; tee-at 30 m")),
     .holds = ON_BACKBONE("terminators 2; backbone 6 m", SOUNDER("load-number 2; tee-at 3 m")),
     .open = ON_BACKBONE("terminators 2; backbone 6 m", SOUNDER("load-number 2; tee-at 3..30 m")),
     .kinds = {KIND_NETWORK, KIND_LOAD, KIND_ENGINE, KIND_INSTRUMENT, KIND_RADIO},
     .judge = judge_backbone_place},
    {.name = "network-volts",
     .severity = SEVERITY_WARNING,
     .title = "the voltage on the data backbone differs little from thing to thing",
     .basis = ON_BOTH,
     .source =
         "1.5 V between any two things: makers' installation guides (second hand); conductors from memory",
     .why = "The thin conductors that feed the things lose voltage out and back, and shift the level that "
            "the data is read at. "
            "Supply in the middle quarters the loss.",
     .breaks =
         ON_BACKBONE("terminators 2; backbone 40 m; feeds-at 0 m", SOUNDER("load-number 40; tee-at 40 m")),
     .holds =
         ON_BACKBONE("terminators 2; backbone 12 m; feeds-at 6 m", SOUNDER("load-number 4; tee-at 12 m")),
     .open =
         ON_BACKBONE("terminators 2; backbone 40 m; feeds-at 0 m", SOUNDER("load-number 4..40; tee-at 40 m")),
     .kinds = {KIND_NETWORK},
     .judge = judge_network_volts},
    {.name = "antenna-loss",
     .severity = SEVERITY_WARNING,
     .title = "the antenna cable leaves at least half of the signal",
     .basis = ON_BOTH,
     .source = "3 dB is half of the power: physics; the limit: common practice, no source",
     .why = "What the cable takes is missing both ways, in sending and in hearing. A thin cable to the "
            "masthead can take more than "
            "half; a radio of 25 W then sends as one of 12.",
     .breaks = VHF("antenna-cable 20 m; loss 0.2 dB/m"),
     .holds = VHF("antenna-cable 14 m; loss 0.1 dB/m"),
     .open = VHF("antenna-cable 12..20 m; loss 0.2 dB/m"),
     .kinds = {KIND_RADIO},
     .judge = judge_antenna_loss},
    {.name = "no-second",
     .severity = SEVERITY_ADVICE,
     .title = "depth, position and radio each have a second source",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "Everything fails once, and it fails at night. A lead line, a paper chart with a compass, a "
            "radio in the hand are "
            "seconds too. What a boat has none of is not asked for here.",
     .breaks = VHF(""),
     .holds = VHF("") "radio hand-vhf { portable yes; draw 1 A }\n",
     .open = VHF("count 1..2"),
     .judge_boat = judge_no_second},
};
const RuleFamily rules_data = RULE_FAMILY("Navigation", rules);
