/*
 * Propellers: one that takes what the engine gives, its blades, its clearance and its shaft.
 */
#include "figures/drive.h"
#include "rules/ask.h"
#include "rules/drive_examples.h"
#include "rules/drive_rules.h"
#include "rules/families.h"
#include "rules/plumbing.h"

#include "physics/propeller.h"

#include <math.h>

#define PERCENT UNIT_ALONE(UNIT_PERCENT)

/* ---- pitch-slow ---------------------------------------------------------------------------------------- */

static void judge_speed_of_pitch(Judge *judge, const Entity *propeller, const Entity *asks, Side speed)
{
    const Figure *most = figure_of(judge, propeller, FIGURE_PITCH_SPEED);
    Span place = asks != NULL ? place_of(judge, asks, speed_of(asks)) : place_of(judge, propeller, PROP_PROPELLER_PITCH);
    Finding *finding = judge_at_most(judge, propeller, place, speed, side_figure(most));
    if (finding == NULL) {
        return;
    }
    finding_at(finding, asks);
    finding_say(judge, finding, "%s %s; the pitch of `%s` makes %s at rated speed without any slip, and every screw slips",
                asks != NULL ? text_format(judge->arena, "`%s` asks for", say_name(judge, asks))
                             : "by her power she goes", say_side(judge, speed), say_name(judge, propeller),
                say_figure(judge, most));
    if (asks != NULL) {
        finding_note(judge, finding, place_of(judge, propeller, PROP_PROPELLER_PITCH), "its pitch");
    }
    finding_remedy(judge, finding, "the pitch as it is stamped on the hub, or the ratio of the gearbox as its plate says");
    finding_remedy(judge, finding, "a pitch that fits: the figure `matched-pitch`");
}

/* Under sail no screw bounds how fast a day's way is made. */
static void judge_pitch_slow(Judge *judge, const Entity *propeller)
{
    const Figure *most = figure_of(judge, propeller, FIGURE_PITCH_SPEED);
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    if (most == NULL || engine == NULL) {
        return; /* no pitch, or how fast it turns is not known: told by propeller-load */
    }
    const Figure *full = full_speed_with(judge->figures, engine);
    int says = judge->model->boat != NULL ? entity_yes(judge->model->boat, PROP_BOAT_SAILS) : 0;
    bool sails = says == 1 || (says != 0 && !is_fast(judge->model));
    for (const Entity *asks = first_speed(judge->model); asks != NULL; asks = next_speed(judge->model, asks)) {
        if (drives_on(judge->model, engine, asks) && (asks->kind != KIND_DAY || !sails)) {
            judge_speed_of_pitch(judge, propeller, asks, side_value(judge, asks, speed_of(asks), 1));
        }
    }
    if (full != NULL && full->state == STATE_KNOWN) {
        judge_speed_of_pitch(judge, propeller, NULL, side_figure(full));
    }
}

/* ---- cavitation, tip-gap, shaft-thin ------------------------------------------------------------------- */

static void judge_cavitation(Judge *judge, const Entity *propeller)
{
    const Figure *least = figure_of(judge, propeller, FIGURE_LEAST_AREA_RATIO);
    if (least == NULL) {
        judge_gives_way(judge); /* no screw fits, or how fast it turns is not known: told by propeller-load */
        return;
    }
    Side area = side_value(judge, propeller, PROP_PROPELLER_AREA_RATIO, 0);
    Finding *finding = judge_at_least(judge, propeller, place_of(judge, propeller, PROP_PROPELLER_AREA_RATIO),
                                      area, side_figure(least));
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding,
                "the blades of `%s` cover %s of its disc; at full power it takes %s to keep "
                "clear of cavitation",
                say_name(judge, propeller), say_side(judge, area), say_figure(judge, least));
    if (!entity_states(propeller, PROP_PROPELLER_AREA_RATIO)) {
        finding_here(judge, finding, "an `area-ratio` of %s is assumed", say_side(judge, area));
    }
    finding_remedy(judge, finding,
                   "broader or more blades, a larger diameter, or one that turns more slowly");
}

/* The least and the greatest area ratio that was tested, each over all numbers of blades that are possible. */
static void tested_areas(Interval blades, Interval *least, Interval *most)
{
    for (int n = (int)blades.low; n <= (int)blades.high; n++) {
        Interval tested = screw_tested_area(n);
        bool first = n == (int)blades.low;
        *least = first ? point(tested.low) : interval_hull(*least, point(tested.low));
        *most = first ? point(tested.high) : interval_hull(*most, point(tested.high));
    }
}

/* Blades as broad, or as narrow, as none of the series were: its polynomials are drawn out beyond what was measured. */
static void judge_blades_untested(Judge *judge, const Entity *propeller)
{
    Side blades = side_value(judge, propeller, PROP_PROPELLER_BLADES, 0);
    Side area = side_value(judge, propeller, PROP_PROPELLER_AREA_RATIO, 0);
    if (!entity_states(propeller, PROP_PROPELLER_AREA_RATIO) || figure_of(judge, propeller, FIGURE_SHAFT_SPEED) == NULL) {
        return; /* nothing is computed of it */
    }
    if (!side_is_known(blades)) {
        judge_waiting(judge);
        return;
    }
    Interval least, most;
    blades.value = interval_max(interval_min(blades.value, point(SCREW_BLADES_MOST)), point(SCREW_BLADES_LEAST)); /* `?`: any */
    tested_areas(blades.value, &least, &most);
    Span place = place_of(judge, propeller, PROP_PROPELLER_AREA_RATIO);
    Finding *finding = judge_at_least(judge, propeller, place, area, side_interval(least, area.unit));
    finding = finding != NULL ? finding : judge_at_most(judge, propeller, place, area, side_interval(most, area.unit));
    if (finding != NULL) {
        finding_rests_on(judge, finding, propeller, PROP_PROPELLER_BLADES);
        finding_say(judge, finding, "the blades of `%s` cover %s of its disc; screws of %s blades were tested with %s to %s", say_name(judge, propeller),
                    say_side(judge, area), say_side(judge, side_interval(blades.value, blades.unit)), say_side(judge, side_interval(least, area.unit)),
                    say_side(judge, side_interval(most, area.unit)));
        finding_remedy(judge, finding, "its expanded area over that of the disc, by its maker; where it is that, its maker's word on pitch and load");
    }
}

static void judge_tip_gap(Judge *judge, const Entity *propeller)
{
    const Figure *gap = figure_of(judge, propeller, FIGURE_TIP_GAP);
    Span place = place_of(judge, propeller, PROP_PROPELLER_APERTURE);
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    if (gap == NULL && engine != NULL && !turns_a_shaft(engine)) {
        return; /* its maker set the leg, and the propeller's place on it */
    }
    if (gap == NULL) {
        judge_unmeasured(judge, propeller, PROP_PROPELLER_APERTURE);
        return;
    }
    Side least = side_number(drive_limit(DRIVE_TIP_GAP)->value, PERCENT);
    Side usual = side_number(drive_limit(DRIVE_TIP_GAP_USUAL)->value, PERCENT);
    Finding *finding = judge_at_least(judge, propeller, place, side_figure(gap), least);
    bool near = finding == NULL && gap->state == STATE_KNOWN;
    if (near) {
        finding = judge_at_least(judge, propeller, place, side_figure(gap), usual);
    }
    if (finding == NULL) {
        return;
    }
    if (near) {
        finding_severity(finding, SEVERITY_ADVICE);
    }
    finding_say(judge, finding, "between the tips of `%s` and the hull there is %s of the diameter; %s",
                say_name(judge, propeller), say_figure(judge, gap),
                near ? "15 % is usual for motor boats, and 10 % will do for a slow one in an aperture"
                     : "10 % is the least, even for a slow one in an aperture");
}

static void judge_shaft_thin(Judge *judge, const Entity *propeller)
{
    const Figure *least = figure_of(judge, propeller, FIGURE_SHAFT_DIAMETER);
    if (least == NULL) {
        return;
    }
    Side shaft = side_value(judge, propeller, PROP_PROPELLER_SHAFT, 0);
    Finding *finding = judge_at_least(judge, propeller, place_of(judge, propeller, PROP_PROPELLER_SHAFT),
                                      shaft, side_figure(least));
    if (finding != NULL) {
        finding_say(judge, finding,
                    "the shaft of `%s` is %s; its torque with a factor of safety of 3 takes %s",
                    say_name(judge, propeller), say_side(judge, shaft), say_figure(judge, least));
        finding_remedy(judge, finding, "a stronger `shaft-material`, or shaft %s",
                       say_made(judge, MADE_SHAFT, least->high, shaft.unit));
    }
}

/* ---- seal-fits ----------------------------------------------------------------------------------------- */

static void judge_seal_fits(Judge *judge, const Entity *seal)
{
    const Entity *propeller = entity_reference(seal, PROP_SHAFT_SEAL_PROPELLER);
    if (propeller == NULL) {
        return;
    }
    Span place = place_of(judge, seal, PROP_SHAFT_SEAL_SHAFT);
    Side made_for = side_value(judge, seal, PROP_SHAFT_SEAL_SHAFT, 0);
    Side shaft = side_value(judge, propeller, PROP_PROPELLER_SHAFT, 0);
    Finding *finding = judge_at_least(judge, seal, place, made_for, shaft);
    finding = finding != NULL ? finding : judge_at_most(judge, seal, place, made_for, shaft);
    if (finding == NULL) {
        return;
    }
    finding_say(judge, finding, "`%s` is made for a shaft of %s, and that of `%s` is %s", say_name(judge, seal),
                say_side(judge, made_for), say_name(judge, propeller), say_side(judge, shaft));
    finding_note(judge, finding, place_of(judge, propeller, PROP_PROPELLER_SHAFT), "the shaft");
    bool measured = side_is_known(shaft) && shaft.value.low == shaft.value.high;
    finding_remedy(judge, finding, measured ? "a seal for that shaft, as measured on it: `shaft %s`"
                                            : "a seal for that shaft, once that is measured: it is `%s` so far",
                   say_side(judge, shaft));
}

/* ---- seal-dry ------------------------------------------------------------------------------------------ */

/* A shaft that leads through the hull, and nothing that says what keeps the sea out there. */
static void judge_no_seal(Judge *judge, const Entity *propeller)
{
    const Entity *engine = entity_reference(propeller, PROP_PROPELLER_ENGINE);
    if (engine == NULL || !is_aboard(engine) || !turns_a_shaft(engine) || !entity_states(propeller, PROP_PROPELLER_SHAFT)) {
        return;
    }
    for (const Entity *e = first_aboard(judge->model, KIND_SHAFT_SEAL); e != NULL; e = next_aboard(e)) {
        if (entity_reference(e, PROP_SHAFT_SEAL_PROPELLER) == propeller) {
            return;
        }
    }
    if (some_is_mistaken(judge, KIND_SHAFT_SEAL)) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_open(judge, propeller, place_of(judge, propeller, PROP_PROPELLER_SHAFT), NULL, PROP_NONE);
    finding_hangs_on(judge, finding, propeller, PROP_NONE, "shaft-seal");
    finding_say(judge, finding, "the shaft of `%s` leads through the hull, and the spec states no seal that keeps the sea out there",
                say_name(judge, propeller));
    finding_remedy(judge, finding, "a `shaft-seal` with `propeller %s`", say_name(judge, propeller));
}

/* No water of the engine is there to be led to it: it needs none, or says that it has some all the same. */
static void judge_waterless(Judge *judge, const Entity *seal, const Entity *engine)
{
    if (entity_yes(seal, PROP_SHAFT_SEAL_WATERED) != 1) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, seal, place_of(judge, seal, PROP_SHAFT_SEAL_WATERED));
    finding_say(judge, finding, "water of the engine is to wet `%s`, and `%s` pumps no sea water", say_name(judge, seal), say_name(judge, engine));
    finding_note(judge, finding, place_of_name(judge, engine), "nothing of the sea runs through it");
    finding_remedy(judge, finding, "`watered no`, with grease, oil or a scoop in the hull for the seal, as its maker asks");
}

static void judge_seal_dry(Judge *judge, const Entity *seal)
{
    if (seal->kind == KIND_PROPELLER) {
        judge_no_seal(judge, seal);
        return;
    }
    const Entity *propeller = entity_reference(seal, PROP_SHAFT_SEAL_PROPELLER);
    const Entity *engine = propeller != NULL ? entity_reference(propeller, PROP_PROPELLER_ENGINE) : NULL;
    Answer pumps = engine != NULL ? pumps_sea_water(judge, engine) : ANSWER_YES;
    if (pumps == ANSWER_NO) {
        judge_waterless(judge, seal, engine);
        return;
    }
    if (pumps != ANSWER_YES) {
        judge_waiting(judge);
        return;
    }
    Finding *finding = judge_yes(judge, seal, PROP_SHAFT_SEAL_WATERED, "");
    if (finding != NULL) {
        finding_say(judge, finding,
                    finding->verdict == VERDICT_BROKEN ? "no water of the engine cools and wets `%s`"
                                                       : "`%s` does not say whether water of the engine cools and wets it",
                    say_name(judge, seal));
    }
}

/* ---- the table ----------------------------------------------------------------------------------------- */

#define SCREW(SAYS)                                                                           \
    HULL DIESEL("rated 28 kW at 3000 rpm") "gearbox reduction { engine diesel; ratio 2.6 }\n" \
                                           "propeller screw { engine diesel; diameter 530 mm; " SAYS " }\n"

static const Rule rules[] = {
    {.name = "propeller-load",
     .severity = SEVERITY_WARNING,
     .title = "the propeller takes the engine's power at its rated speed, neither more nor less",
     .basis = ON_BOTH,
     .source =
         "Wageningen B-series (verified); 106 % (3 % of pitch) and 89 % (4 % of speed): common practice, no "
         "source",
     .why =
         "With too much pitch the engine labours, smokes and never reaches its rated speed; with too little "
         "it races and cannot give its power. The screws of the series stand for any: a maker's figures go "
         "before them, and the proof is the speed that the engine reaches wide open, loaded and clean. An "
         "electric motor is held back by its controller, or overheats. Where the spec states no pitch the figure `matched-pitch` "
         "proposes one, and beside a pitch `matched-diameter` says what fits it; "
         "of an outboard or sterndrive the whole inch of pitch next to it holds, for others are not made.",
     .breaks = SCREW("pitch 420 mm"),
     .holds = SCREW("pitch 306 mm"),
     .open = SCREW("pitch 300..350 mm"),
     .kinds = {KIND_PROPELLER},
     .judge = judge_propeller_load},
    {.name = "pitch-slow",
     .severity = SEVERITY_WARNING,
     .title = "the pitch of the propeller lets her go as fast as the spec says",
     .basis = ON_BOTH,
     .source = "geometry: turns times pitch; that every screw slips, mostly by a tenth to a third: common practice, no source",
     .why = "A screw that turned in something solid would make its pitch with each turn; in water it makes less. So a speed beyond "
            "turns times pitch cannot be had with it, and neither can the range or the day that go by that speed. Looked at are "
            "the speeds of goals, of days where she has no sails, or is fast and states none, and `full-speed`, all at the rated speed of the engine.",
     .breaks = SCREW("pitch 306 mm") "goal far { range 100 nmi at 12 kn }\n",
     .holds = SCREW("pitch 306 mm") "goal far { range 100 nmi at 6 kn }\n",
     .open = SCREW("pitch 306..420 mm") "goal far { range 100 nmi at 12 kn }\n",
     .kinds = {KIND_PROPELLER},
     .judge = judge_pitch_slow},
    {.name = "cavitation",
     .severity = SEVERITY_WARNING,
     .title = "a propeller has the blade area that its thrust asks for",
     .basis = ON_BOTH,
     .source = "displacement hulls: Keller's formula, from a public implementation (verified), its constant second hand; "
               "hulls that plane or half plane: Burrill's chart, second hand, and that 10 % is right for them from memory",
     .why = "Where narrow blades push too hard the water boils on their backs. The bubbles collapse with a noise of "
            "gravel, eat the metal and take thrust away. Judged at full power with the matched pitch. Keller's formula "
            "was found on ships, and of a small fast screw it asks for a quarter to a half too much: there a tenth of the "
            "backs may be covered, by Burrill's chart, and many such boats get by with more. Other readings of that chart "
            "ask for 10 to 30 % more area of the fastest screws: one that keeps this limit by less has not shown that it does. "
            "Screws of outboards and sterndrives are cupped and breathe exhaust: neither was made for them, and their makers' "
            "charts decide.",
     .breaks = SCREW("pitch 306 mm; area-ratio 0.4"),
     .holds = SCREW("pitch 306 mm; area-ratio 0.55"),
     .open = SCREW("pitch 306 mm; area-ratio 0.4..0.6"),
     .kinds = {KIND_PROPELLER},
     .judge = judge_cavitation},
    {.name = "blades-untested",
     .severity = SEVERITY_ADVICE,
     .title = "the blades of a propeller are as broad as those that its figures were measured on",
     .basis = ON_BOTH,
     .source = "Wageningen B-series: 0.3 to 0.38 of the disc with two blades, 0.35 to 0.8 with three, 0.4 to 1 with four, 0.45 to 1.05 "
               "with five, 0.5 to 0.8 with six, 0.55 to 0.85 with seven (verified)",
     .why = "Pitch, load, thrust and efficiency come from screws that were towed in a tank. With far broader or narrower blades they are "
            "drawn out beyond what anybody measured, and may be wrong by more than their digits say. Screws of fast boats often are "
            "broader: there their makers' charts decide.",
     .breaks = SCREW("pitch 306 mm; area-ratio 1.2"),
     .holds = SCREW("pitch 306 mm; area-ratio 0.55"),
     .open = SCREW("pitch 306 mm; area-ratio 0.6..1.2"),
     .kinds = {KIND_PROPELLER},
     .judge = judge_blades_untested},
    {.name = "tip-gap",
     .severity = SEVERITY_WARNING,
     .title = "the tips of a propeller keep clear of the hull",
     .basis = ON_BOTH,
     .source =
         "propeller makers, second hand: 10 % of the diameter in the aperture of a slow boat, 15 % usual; 20 "
         "% when fast",
     .why = "Each blade that passes close to the hull slaps the water against it: the boat hums, and the "
            "planking takes it day and night. Less than 10 % of the diameter is a warning, less than 15 % "
            "advice.",
     .breaks = SCREW("aperture 40 mm"),
     .holds = SCREW("aperture 90 mm"),
     .open = SCREW("aperture 40..90 mm"),
     .kinds = {KIND_PROPELLER},
     .judge = judge_tip_gap},
    {.name = "shaft-thin",
     .severity = SEVERITY_WARNING,
     .title = "a propeller shaft is thick enough for its torque",
     .basis = ON_BOTH,
     .source = "torsion with a factor of safety of 3: a boat designer's handbook, which names US voluntary "
               "practice; strength of 316 stainless from memory",
     .why =
         "A shaft that is too thin twists off when the propeller hits something, and leaves the boat without "
         "drive and with a hole. Torsion alone is looked at: a long shaft between far bearings, or a classed "
         "boat, asks for more.",
     .breaks = SCREW("shaft 22 mm; shaft-material stainless-316"),
     .holds = SCREW("shaft 35 mm; shaft-material stainless-316"),
     .open = SCREW("shaft 25..35 mm; shaft-material stainless-316"),
     .kinds = {KIND_PROPELLER},
     .judge = judge_shaft_thin},
    {.name = "seal-fits",
     .severity = SEVERITY_FAULT,
     .danger = DANGER_FLOODING,
     .title = "a shaft seal is made for the shaft that it seals",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "A seal that is too large leaks, and one that is too small does not go on; what leaks below the waterline sinks her "
            "at her mooring. A shaft or an inch that was mistaken for another is found here, and not on the slip.",
     .breaks = SCREW("shaft 35 mm") "shaft-seal stern-seal { propeller screw; shaft 30 mm }\n",
     .holds = SCREW("shaft 35 mm") "shaft-seal stern-seal { propeller screw; shaft 35 mm }\n",
     .open = SCREW("shaft 30..35 mm") "shaft-seal stern-seal { propeller screw; shaft 30 mm }\n",
     .kinds = {KIND_SHAFT_SEAL},
     .judge = judge_seal_fits},
    {.name = "seal-dry",
     .severity = SEVERITY_ADVICE,
     .danger = DANGER_FLOODING,
     .title = "a shaft seal gets water from the engine",
     .basis = ON_BOTH,
     .source = "common practice, no source",
     .why = "A lip or a face that turns dry grows hot within minutes, and what is burnt lets the sea in. Air that gathers in a "
            "stern tube after a haul-out keeps the water away; what is led there from the engine drives it out. A stuffing "
            "box that drips as it should wets itself, in a slow boat without any such hose: its maker's book says which it is. Of an engine "
            "that pumps no sea water, with a dry exhaust and no `raw-water`, it is not asked: there a greased gland belongs, or a seal "
            "that is filled from elsewhere, and `watered yes` is a slip. A propeller that states its `shaft` and has no seal leaves it open.",
     .breaks = SCREW("shaft 35 mm") "shaft-seal stern-seal { propeller screw; shaft 35 mm; watered no }\n",
     .holds = SCREW("shaft 35 mm") "shaft-seal stern-seal { propeller screw; shaft 35 mm; watered yes }\n",
     .open = SCREW("shaft 35 mm") "shaft-seal stern-seal { propeller screw; shaft 35 mm }\n",
     .kinds = {KIND_SHAFT_SEAL, KIND_PROPELLER},
     .judge = judge_seal_dry},
};
const RuleFamily rules_propeller = RULE_FAMILY("Propeller and shaft", rules);
