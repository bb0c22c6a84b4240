/*
 * Lights and sound signals by the collision regulations (COLREGs 1972; 33 CFR 83 says the same): which lights a boat of
 * that length shows, how far they are seen, how high they stand, and how far she is heard.
 */
#include "rules/ask.h"

#include "figures/drive.h"
#include "figures/water.h"
#include "physics/navigation.h"
#include "rules/families.h"
#include "rules/plumbing.h"

#include <math.h>

/* What stands for each light that is aboard. */
enum {
    SIDES = 1 << 0,
    MASTHEAD = 1 << 1,
    STERN = 1 << 2,
    ALL_ROUND = 1 << 3,
    TRICOLOUR = 1 << 4,
    ANCHORED = 1 << 5,
    APART = 1 << 6,   /* sidelights in two lanterns ... */
    TOGETHER = 1 << 7 /* ... and in one */
};

static unsigned shown_by(Light light)
{
    switch (light) {
    case LIGHT_SIDELIGHTS: return SIDES | APART;
    case LIGHT_COMBINED: return SIDES | TOGETHER;
    case LIGHT_MASTHEAD: return MASTHEAD;
    case LIGHT_STERN: return STERN;
    case LIGHT_ALL_ROUND: return ALL_ROUND | ANCHORED;
    case LIGHT_TRICOLOUR: return TRICOLOUR;
    case LIGHT_ANCHOR: return ANCHORED;
    default: return 0;
    }
}

static Light light_of(const Entity *light)
{
    Str word = entity_word(light, PROP_NAV_LIGHT_SHOWS);
    return word.length > 0 ? light_find(word.text, word.length) : LIGHT_COUNT;
}

static bool has_all(unsigned lights, unsigned wanted)
{
    return (lights & wanted) == wanted;
}

static bool under_engine(unsigned lights, double length_m)
{
    return has_all(lights, SIDES | MASTHEAD | STERN) ||
           (length_m < 12.0 && has_all(lights, SIDES | ALL_ROUND)) ||
           (length_m < 7.0 && has_all(lights, ALL_ROUND));
}

static bool under_sail(unsigned lights, double length_m)
{
    return length_m < 7.0 || has_all(lights, SIDES | STERN) ||
           (length_m < 20.0 && has_all(lights, TRICOLOUR));
}

static const char *asked_under_engine(double length_m)
{
    return length_m < 7.0 ? "sidelights with an all-round white light, or with masthead and stern lights; an all-round white light alone "
                            "only where she makes no more than 7 kn and cannot carry sidelights (Rule 23)"
           : length_m < 12.0
               ? "sidelights with an all-round white light, or with masthead and stern lights (Rule 23)"
               : "sidelights, a masthead light and a stern light (Rule 23)";
}

/* The ways of going about in which a light is missing, in words; NULL if in none. */
static const char *missing(const Judge *judge, unsigned lights, bool engine, bool sails, double length_m)
{
    Buf text;
    buf_init(&text, judge->arena);
    if (engine && !under_engine(lights, length_m)) {
        buf_format(&text, "under engine %s", asked_under_engine(length_m));
    }
    if (sails && !under_sail(lights, length_m)) {
        buf_format(&text, "%sunder sail sidelights and a stern light%s (Rule 25)",
                   text.length > 0 ? "; " : "", length_m < 20.0 ? ", or a tricolour light" : "");
    }
    if (length_m >= 7.0 && !has_all(lights, ANCHORED)) {
        buf_format(&text, "%sat anchor an all-round white light (Rule 30)", text.length > 0 ? "; " : "");
    }
    return text.length > 0 ? text.text : NULL;
}

/* Whether an engine drives her: one aboard, or no sails. */
static bool goes_under_engine(const Judge *judge, bool sails)
{
    return !sails || first_aboard(judge->model, KIND_ENGINE) != NULL;
}

/* Lights by what they say that they show; *first is one, *unsaid one that does not say. */
static unsigned lights_aboard(const Judge *judge, const Entity **first, const Entity **unsaid)
{
    unsigned lights = 0;
    *first = *unsaid = NULL;
    for (const Entity *e = first_aboard(judge->model, KIND_NAV_LIGHT); e != NULL; e = next_aboard(e)) {
        Light light = light_of(e);
        *first = *first != NULL ? *first : e;
        lights |= shown_by(light);
        if (light == LIGHT_COUNT) {
            *unsaid = *unsaid != NULL ? *unsaid : e;
        }
    }
    return lights;
}

/* The lowest of the white lights that stand above, or the highest of the sidelights below. */
static const Entity *find_light(const Judge *judge, unsigned wanted, bool highest)
{
    const Entity *found = NULL;
    double height = 0.0;
    for (const Entity *e = first_aboard(judge->model, KIND_NAV_LIGHT); e != NULL; e = next_aboard(e)) {
        Light light = light_of(e);
        Side side = side_value(judge, e, PROP_NAV_LIGHT_HEIGHT, 0);
        if (light == LIGHT_COUNT || light == LIGHT_ANCHOR || (shown_by(light) & wanted) == 0) {
            continue;
        }
        if (found == NULL ||
            (side_is_known(side) && (highest ? side.value.high > height : side.value.low < height))) {
            found = e;
            height = highest ? side.value.high : side.value.low;
        }
    }
    return found;
}

/* Rule 23(d)(ii): under 7 m sidelights may be left off, if she cannot carry them and never makes more than 7 kn. */
static const double slow_kn = 7.0;

/* The fastest that a day or a goal under engine plans with; NULL: none says a speed. */
static Side fastest_planned(const Judge *judge, bool sails, const Entity **by)
{
    Side fastest = side_figure(NULL);
    *by = NULL;
    for (const Entity *asks = first_speed(judge->model); asks != NULL; asks = next_speed(judge->model, asks)) {
        Side speed = side_value(judge, asks, speed_of(asks), 1);
        bool sailed = sails && asks->kind == KIND_DAY;
        if (!sailed && side_is_known(speed) && (*by == NULL || speed.value.low > fastest.value.low)) {
            fastest = speed;
            *by = asks;
        }
    }
    return fastest;
}

/* She shows a white light alone, as only a slow boat may. */
static void judge_white_alone(Judge *judge, const Entity *white, bool sails)
{
    const Entity *boat = judge->model->boat, *by;
    Side planned = fastest_planned(judge, sails, &by);
    Side full = side_figure(figure_of(judge, boat, FIGURE_FULL_SPEED));
    Side most = side_number(unit_to_si(UNIT_ALONE(UNIT_KN), slow_kn), UNIT_ALONE(UNIT_KN));
    bool fast = by != NULL && planned.value.low > most.value.low;
    Side speed = fast ? planned : full;
    Finding *finding;
    if (side_is_known(speed)) {
        finding = judge_at_most(judge, boat, place_of_name(judge, white), speed, most);
    } else {
        finding = judge_open(judge, boat, place_of_name(judge, white), NULL, PROP_NONE);
        finding_hangs_on(judge, finding, boat, PROP_NONE, "full-speed");
    }
    if (finding == NULL) {
        return;
    }
    const char *makes = side_is_known(speed) ? text_format(judge->arena, "makes %s%s", say_side(judge, speed),
                                                           fast ? text_format(judge->arena, " on `%s`", say_name(judge, by)) : "")
                                             : "does not say how fast she goes";
    finding_say(judge, finding,
                "she shows an all-round white light without sidelights under engine, and %s; only a boat under 7 m that makes "
                "no more than 7 kn may, and only where she cannot carry them (Rule 23)", makes);
    finding_remedy(judge, finding, "a `nav-light` that `shows sidelights`, or `combined`");
}

/* What she goes by, and so which lights she is to have. */
typedef struct Shows {
    bool engine, sails;
    Interval length_m;
} Shows;

static bool shows_all(const Judge *judge, const Shows *shows, unsigned lights)
{
    return missing(judge, lights, shows->engine, shows->sails, shows->length_m.low) == NULL &&
           missing(judge, lights, shows->engine, shows->sails, shows->length_m.high) == NULL;
}

static const Light lamps[] = {LIGHT_ALL_ROUND, LIGHT_MASTHEAD, LIGHT_COMBINED, LIGHT_SIDELIGHTS, LIGHT_STERN, LIGHT_TRICOLOUR, LIGHT_ANCHOR};
enum { LAMPS = sizeof lamps / sizeof lamps[0] };

/* Two of them, where one does not do: the first pairs, of which sidelights may be in one lantern or in two. */
static void remedy_two_lights(Judge *judge, Finding *finding, const Shows *shows, unsigned lights)
{
    enum { PAIRS = 3 };
    int told = 0;
    for (int i = 0; i < LAMPS; i++) {
        for (int j = i + 1; j < LAMPS && told < PAIRS && lamps[i] != LIGHT_SIDELIGHTS; j++) {
            if (lamps[j] != LIGHT_SIDELIGHTS && shows_all(judge, shows, lights | shown_by(lamps[i]) | shown_by(lamps[j]))) {
                finding_remedy(judge, finding, "a `nav-light` that `shows %s` and one that `shows %s`", light_word(lamps[i]), light_word(lamps[j]));
                told++;
            }
        }
    }
}

/* The lamps each of which alone would make up for what is missing beside those that she has. */
static void remedy_lights(Judge *judge, Finding *finding, const Shows *shows, unsigned lights)
{
    bool told = false;
    for (int i = 0; i < LAMPS; i++) {
        if (shows_all(judge, shows, lights | shown_by(lamps[i]))) {
            finding_remedy(judge, finding, "a `nav-light` that `shows %s`", light_word(lamps[i]));
            told = true;
        }
    }
    if (!told) {
        remedy_two_lights(judge, finding, shows, lights);
    }
}

static void judge_light_missing(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    const Entity *first, *unsaid;
    if (boat == NULL) {
        return;
    }
    unsigned lights = lights_aboard(judge, &first, &unsaid);
    Side length = side_value(judge, boat, PROP_BOAT_LENGTH, 0);
    if (!side_is_known(length) || (unsaid != NULL && has_mistake(unsaid, PROP_NAV_LIGHT_SHOWS))) {
        judge_waiting(judge);
        return;
    }
    bool sails = entity_yes(boat, PROP_BOAT_SAILS) == 1, engine = goes_under_engine(judge, sails);
    const char *at_least = missing(judge, lights, engine, sails, length.value.low);
    const char *at_most = missing(judge, lights, engine, sails, length.value.high);
    const char *asked = at_most != NULL ? at_most : at_least;
    if (asked == NULL) {
        const Entity *white = engine && !under_engine(lights, 7.0) ? find_light(judge, ALL_ROUND, false) : NULL;
        if (white != NULL && !some_is_mistaken(judge, KIND_NAV_LIGHT)) {
            judge_white_alone(judge, white, sails);
        } else {
            judge_holds(judge);
        }
        return;
    }
    if (some_is_mistaken(judge, KIND_NAV_LIGHT)) {
        judge_waiting(judge); /* it may be the one that is asked for */
        return;
    }
    Finding *finding;
    if (first == NULL) {
        finding = judge_open(judge, boat, place_of_name(judge, boat), NULL, PROP_NONE);
        finding_hangs_on(judge, finding, boat, PROP_NONE, "nav-light");
        finding_say(judge, finding, "the spec states no navigation lights; a boat of %s shows %s",
                    say_side(judge, length), asked);
        return;
    }
    if (unsaid != NULL) {
        finding = judge_open(judge, boat, place_of_name(judge, unsaid), unsaid, PROP_NAV_LIGHT_SHOWS);
        finding_say(judge, finding, "`%s` does not say what it shows; a boat of %s shows %s",
                    say_name(judge, unsaid), say_side(judge, length), asked);
    } else if (at_least == NULL || at_most == NULL) {
        finding = judge_open(judge, boat, place_of(judge, boat, PROP_BOAT_LENGTH), boat, PROP_BOAT_LENGTH);
        finding_say(judge, finding, "if she is %s, a light may be missing: %s", say_side(judge, length),
                    asked);
    } else {
        finding = judge_broken(judge, boat, place_of_name(judge, first));
        finding_say(judge, finding, "a light is missing: a boat of %s shows %s", say_side(judge, length),
                    asked);
    }
    if (unsaid != NULL) {
        finding_remedy(judge, finding, "`shows` of `%s`", say_name(judge, unsaid));
    } else if (!judge->quiet) {
        remedy_lights(judge, finding, &(Shows){engine, sails, length.value}, lights);
    }
}

/* A lamp whose intensity is stated is held against the figure that is printed for the range asked. */
static void judge_intensity(Judge *judge, const Entity *light, Side length, Interval range)
{
    Side shines = side_value(judge, light, PROP_NAV_LIGHT_INTENSITY, 0);
    Side limit = side_interval(interval(light_asked_cd(range.low), light_asked_cd(range.high)), UNIT_ALONE(UNIT_CD));
    Finding *finding = judge_at_least(judge, light, place_of(judge, light, PROP_NAV_LIGHT_INTENSITY), shines, limit);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` shines with %s; on a boat of %s it is to be seen for %s, which asks for %s", say_name(judge, light),
                    say_side(judge, shines), say_side(judge, length), say_side(judge, side_interval(range, UNIT_ALONE(UNIT_NMI))),
                    say_side(judge, limit));
        finding_remedy(judge, finding, "a lamp of %s or more", say_no_less(judge, limit.value.high, limit.unit));
    }
}

static void judge_light_range(Judge *judge, const Entity *light)
{
    const Entity *boat = judge->model->boat;
    Light which = light_of(light);
    Side length = boat != NULL ? side_value(judge, boat, PROP_BOAT_LENGTH, 0) : side_figure(NULL);
    if (which == LIGHT_COUNT || !side_is_known(length)) {
        return; /* what it shows is asked by `light-missing` */
    }
    Interval least =
        interval(light_least_range_m(which, length.value.low), light_least_range_m(which, length.value.high));
    Side limit = side_interval(least, UNIT_ALONE(UNIT_NMI));
    if (!entity_states(light, PROP_NAV_LIGHT_VISIBLE) && entity_states(light, PROP_NAV_LIGHT_INTENSITY)) {
        judge_intensity(judge, light, length, least);
        return;
    }
    Side visible = side_figure(figure_of(judge, light, FIGURE_VISIBLE));
    Finding *finding = judge_at_least(judge, light, place_of(judge, light, PROP_NAV_LIGHT_VISIBLE), visible, limit);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` is seen for %s; on a boat of %s it is to be seen for %s",
                    say_name(judge, light), say_side(judge, visible), say_side(judge, length),
                    say_side(judge, limit));
        finding_remedy(judge, finding, "a lamp that is certified for %s", say_no_less(judge, limit.value.high, limit.unit));
    }
}

/* From 12 m up to 20 m: the masthead light 2.5 m above the gunwale, wherever along her that is; not judged without it. */
static void judge_over_gunwale(Judge *judge, Side length)
{
    const Entity *boat = judge->model->boat;
    const Entity *light = find_light(judge, MASTHEAD, false);
    if (light == NULL || !entity_states(boat, PROP_BOAT_FREEBOARD) || length.value.high < 12.0 ||
        length.value.low >= 20.0) {
        return;
    }
    Side high = side_value(judge, light, PROP_NAV_LIGHT_HEIGHT, 0);
    Side gunwale = side_value(judge, boat, PROP_BOAT_FREEBOARD, 0);
    Side stern = side_value(judge, boat, PROP_BOAT_FREEBOARD, 1);
    if (high.state == STATE_MISSING || !side_is_known(gunwale)) {
        return; /* told with the distance from the sidelights, or waits for its mistake */
    }
    Interval deck = side_is_known(stern) ? interval_hull(gunwale.value, stern.value) : gunwale.value;
    Side limit = side_interval(interval_add(deck, point(2.5)), UNIT_ALONE(UNIT_M));
    limit.value.low = length.value.low < 12.0 || length.value.high >= 20.0 ? -INFINITY : limit.value.low;
    Finding *finding =
        judge_at_least(judge, light, place_of(judge, light, PROP_NAV_LIGHT_HEIGHT), high, limit);
    if (finding != NULL) {
        finding_matter(finding, "gunwale");
        finding_say(judge, finding,
                    "`%s` stands at %s; a masthead light is to be 2.5 m above the gunwale, which is at %s",
                    say_name(judge, light), say_side(judge, high),
                    say_side(judge, side_interval(deck, gunwale.unit)));
        finding_note(judge, finding, place_of(judge, boat, PROP_BOAT_FREEBOARD), "how high the gunwale is");
        finding_rests_on(judge, finding, boat, PROP_BOAT_FREEBOARD);
        finding_rests_on(judge, finding, boat, PROP_BOAT_LENGTH);
        finding_remedy(judge, finding, "height %s", say_up(judge, deck.high + 2.5, high.unit));
    }
}

/* Both heights, where both are stated. */
static bool are_measured(Judge *judge, const Entity *above, Side high, const Entity *below, Side low)
{
    bool missing_one = high.state == STATE_MISSING || low.state == STATE_MISSING;
    if (missing_one) {
        judge_unmeasured(judge, high.state == STATE_MISSING ? above : below, PROP_NAV_LIGHT_HEIGHT);
    } else if (!side_is_known(low)) {
        judge_waiting(judge);
    }
    return !missing_one && side_is_known(low);
}

/* Under 12 m the white light stands a metre above the sidelights; under 20 m above such as are in one lantern. */
static void judge_metre(Judge *judge, Side length, const Entity *above, const Entity *below)
{
    Side high = side_value(judge, above, PROP_NAV_LIGHT_HEIGHT, 0);
    Side low = side_value(judge, below, PROP_NAV_LIGHT_HEIGHT, 0);
    if (!are_measured(judge, above, high, below, low)) {
        return;
    }
    double asked_to_m = shown_by(light_of(below)) & TOGETHER ? 20.0 : 12.0;
    Side limit = side_interval(interval_add(low.value, point(1.0)), UNIT_ALONE(UNIT_M));
    limit.value.low = length.value.high >= asked_to_m ? -INFINITY : limit.value.low; /* she may be so long that it is not asked */
    Finding *finding = judge_at_least(judge, above, place_of(judge, above, PROP_NAV_LIGHT_HEIGHT), high, limit);
    if (finding != NULL) {
        finding_rests_on(judge, finding, judge->model->boat, PROP_BOAT_LENGTH);
        finding_say(judge, finding,
                    "`%s` stands at %s and `%s` at %s; the white light is to be 1 m above the sidelights",
                    say_name(judge, above), say_side(judge, high), say_name(judge, below),
                    say_side(judge, low));
        finding_note(judge, finding, place_of(judge, below, PROP_NAV_LIGHT_HEIGHT), "the sidelights");
        finding_remedy(judge, finding, "height %s", say_up(judge, limit.value.high, high.unit));
    }
}

/*
 * From 12 m on sidelights stand over the deck no higher than three quarters of the masthead light; how high the deck is, `freeboard`
 * says, and without it nothing is judged.
 */
static void judge_three_quarters(Judge *judge, Side length, const Entity *above, const Entity *below)
{
    const Entity *boat = judge->model->boat;
    Side deck = side_value(judge, boat, PROP_BOAT_FREEBOARD, 0), stern = side_value(judge, boat, PROP_BOAT_FREEBOARD, 1);
    Side high = side_value(judge, above, PROP_NAV_LIGHT_HEIGHT, 0), low = side_value(judge, below, PROP_NAV_LIGHT_HEIGHT, 0);
    if (!entity_states(boat, PROP_BOAT_FREEBOARD) || !side_is_known(deck) || !are_measured(judge, above, high, below, low)) {
        return;
    }
    if (!side_is_known(high)) {
        judge_waiting(judge);
        return;
    }
    deck.value = side_is_known(stern) ? interval_hull(deck.value, stern.value) : deck.value;
    Interval most = interval_add(interval_scale(high.value, 0.75), interval_scale(deck.value, 0.25));
    Side limit = side_interval(most, low.unit);
    limit.value.high = length.value.low < 12.0 || length.value.high >= 20.0 ? INFINITY : limit.value.high;
    Finding *finding = judge_at_most(judge, below, place_of(judge, below, PROP_NAV_LIGHT_HEIGHT), low, limit);
    if (finding != NULL) {
        finding_rests_on(judge, finding, boat, PROP_BOAT_FREEBOARD);
        finding_rests_on(judge, finding, boat, PROP_BOAT_LENGTH);
        finding_rests_on(judge, finding, above, PROP_NAV_LIGHT_HEIGHT);
        finding_say(judge, finding,
                    "`%s` stands at %s and `%s` at %s; over the deck, which is at %s, sidelights are to stand no higher than three quarters of "
                    "the masthead light",
                    say_name(judge, below), say_side(judge, low), say_name(judge, above), say_side(judge, high), say_side(judge, deck));
        finding_note(judge, finding, place_of(judge, above, PROP_NAV_LIGHT_HEIGHT), "the masthead light");
        finding_remedy(judge, finding, "a lower place for `%s`, or a higher one for `%s`", say_name(judge, below), say_name(judge, above));
    }
}

static void judge_light_spacing(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    Side length = boat != NULL ? side_value(judge, boat, PROP_BOAT_LENGTH, 0) : side_figure(NULL);
    if (boat == NULL || !side_is_known(length)) {
        return;
    }
    judge_over_gunwale(judge, length);
    bool is_short = length.value.low < 12.0;
    const Entity *above = find_light(judge, is_short ? MASTHEAD | ALL_ROUND : MASTHEAD, false);
    const Entity *below = find_light(judge, is_short ? SIDES : TOGETHER, true);
    if (above != NULL && below != NULL && length.value.low < 20.0) { /* from 20 m on heights follow from the breadth, and are not judged */
        judge_metre(judge, length, above, below);
    }
    above = find_light(judge, MASTHEAD, false);
    below = find_light(judge, APART, true);
    if (above != NULL && below != NULL && length.value.high >= 12.0 && length.value.low < 20.0) {
        judge_three_quarters(judge, length, above, below);
    }
}

static void judge_horn_range(Judge *judge)
{
    const Entity *boat = judge->model->boat;
    if (boat == NULL) {
        return;
    }
    Side length = side_value(judge, boat, PROP_BOAT_LENGTH, 0);
    const Entity *horn = first_aboard(judge->model, KIND_HORN);
    if (!side_is_known(length) || (horn == NULL && some_is_mistaken(judge, KIND_HORN))) {
        judge_waiting(judge);
        return;
    }
    Interval least = interval(whistle_range_m(length.value.low), whistle_range_m(length.value.high));
    Side limit = side_interval(least, UNIT_ALONE(UNIT_NMI));
    if (horn == NULL) {
        Finding *finding = judge_open(judge, boat, place_of_name(judge, boat), NULL, PROP_NONE);
        finding_hangs_on(judge, finding, boat, PROP_NONE, "horn");
        finding_say(judge, finding, "the spec states no sound signal; a boat of %s carries %s",
                    say_side(judge, length),
                    least.high > 0.0 ? "a whistle (Rule 33)"
                                     : "something to make an efficient sound with (Rule 33)");
        finding_remedy(judge, finding, "a `horn`; one to blow by mouth is `portable yes`");
        return;
    }
    if (least.high <= 0.0) {
        judge_holds(judge);
        return;
    }
    Side range = side_value(judge, horn, PROP_HORN_RANGE, 0);
    Finding *finding = judge_at_least(judge, horn, place_of(judge, horn, PROP_HORN_RANGE), range, limit);
    if (finding != NULL) {
        finding_say(judge, finding, "`%s` is heard for %s; the whistle of a boat of %s is to be heard for %s",
                    say_name(judge, horn), say_side(judge, range), say_side(judge, length),
                    say_side(judge, limit));
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define LIGHTS(REST)                                                \
    EXAMPLE_BOAT                                                    \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "nav-light sides { fed-by house; draw 0.2 A; shows sidelights; visible 1 nmi; height 2 m }\n" REST
#define WHITE(SAYS) LIGHTS("nav-light white { fed-by house; draw 0.2 A; shows all-round; " SAYS " }\n")
#define LONG_BOAT                                                                                            \
    "edition 1\n"                                                                                            \
    "boat wren \"Wren\" { length 13 m; beam 3.9 m; displacement 9200 kg; crew 2; currency EUR; basis us }\n" \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"

static const char rules_22[] = "COLREGs 1972, Rule 22; 33 CFR 83.22 is the same; by intensity Annex I 8 and 33 CFR 84.14 (verified)";

static const Rule rules[] = {
    {.name = "light-missing",
     .severity = SEVERITY_FAULT,
     .title = "the lights are there that a boat of that length shows",
     .basis = ON_BOTH,
     .source = "COLREGs 1972, Rule 23 (verified), Rules 25 and 30 (from memory); 33 CFR 83 says the same",
     .why = "At night her lights are all that another boat sees of her: what she is, where she goes, whether "
            "she lies. Under "
            "engine a boat of 12 m or more shows a masthead light, sidelights and a stern light; a shorter "
            "one may show an "
            "all-round white light with sidelights; under 7 m, if she makes no more than 7 kn and cannot carry sidelights, "
            "without them: judged by `full-speed` and by the speeds of days and goals. Under sail sidelights and a stern light, or under 20 m "
            "the three in one at "
            "the masthead, which is never shown under engine. At anchor an all-round white light; under 7 m "
            "only where others "
            "pass, which is not judged here.",
     .breaks = LIGHTS(""),
     .holds = WHITE("visible 2 nmi; height 3.2 m"),
     .open = EXAMPLE_BOAT,
     .judge_boat = judge_light_missing},
    {.name = "light-range",
     .severity = SEVERITY_FAULT,
     .title = "each navigation light is seen as far as the length of the boat asks",
     .basis = ON_BOTH,
     .source = rules_22,
     .why = "A light that is certified for a shorter boat is seen too late. Where the intensity is stated "
            "instead, it is held against the figure that the table of Annex I prints for the range: 4.3 cd for 2 nautical "
            "miles, 12 for 3.",
     .breaks = WHITE("visible 1 nmi; height 3.2 m"),
     .holds = WHITE("intensity 4.3 cd; height 3.2 m"),
     .open = WHITE("visible 1..2 nmi; height 3.2 m"),
     .kinds = {KIND_NAV_LIGHT},
     .judge = judge_light_range},
    {.name = "light-spacing",
     .severity = SEVERITY_FAULT,
     .title = "the white light stands well above the sidelights",
     .basis = ON_BOTH,
     .source = "COLREGs 1972, Annex I 2(c), 2(d), 2(g) and 2(h) (verified); 33 CFR 84.03 (2(c) and 2(d) verified)",
     .why = "From afar two lights at one height are one, and the white one drowns the coloured. Under 12 m the white light is a metre "
            "above the sidelights. From 12 m on that is asked of sidelights in one lantern (`combined`) alone; those apart stand over "
            "the deck no higher than three quarters of the masthead light, and that is 2.5 m above the gunwale: both are judged where "
            "`freeboard` says how high deck and gunwale are, the highest and the lowest of the sheer. On inland waters of the US a metre may "
            "be asked of those apart too (from memory), which is not judged. From 20 m on heights follow from the breadth, and are not "
            "judged here either.",
     .breaks = WHITE("visible 2 nmi; height 2.4 m"),
     .holds = WHITE("visible 2 nmi; height 3.2 m"),
     .open = WHITE("visible 2 nmi; height 2.6..3.4 m"),
     .judge_boat = judge_light_spacing},
    {.name = "horn-range",
     .severity = SEVERITY_FAULT,
     .title = "she can be heard as far as a boat of that length is asked to",
     .basis = ON_BOTH,
     .source = "COLREGs 1972, Rule 33 and Annex III 1 (verified)",
     .why = "In fog the signal is all that there is. Under 12 m anything serves that makes an efficient "
            "sound; from 12 m on a "
            "whistle that is heard for half a nautical mile is carried, from 20 m on for one.",
     .breaks = LONG_BOAT "horn deck-horn { fed-by house; draw 5 A; range 0.3 nmi }\n",
     .holds = LONG_BOAT "horn deck-horn { fed-by house; draw 5 A; range 0.5 nmi }\n",
     .open = LONG_BOAT,
     .judge_boat = judge_horn_range},
};
const RuleFamily rules_lights = RULE_FAMILY("Lights and sound signals", rules);
