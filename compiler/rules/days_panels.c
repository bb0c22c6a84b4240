/*
 * Rules of the family rules_days about what lies before a controller: panel-cable and panel-drop, the cable from the panels;
 * string-fuse, strings that lie side by side.
 */
#include "rules/days.h"

#include "rules/upstream.h"

/* panel-cable */

void judge_panel_cable(Judge *judge, const Entity *array)
{
    bool wire = entity_states(array, PROP_SOLAR_PANEL_WIRE), amps = entity_states(array, PROP_SOLAR_SHORT_CIRCUIT);
    if (!is_aboard(array) || (!wire && !entity_states(array, PROP_SOLAR_PANEL_RUN))) {
        return; /* the book says that nobody has said it */
    }
    if (!wire || !amps) {
        judge_unmeasured(judge, array, wire ? PROP_SOLAR_SHORT_CIRCUIT : PROP_SOLAR_PANEL_WIRE);
        return;
    }
    Side can = side_figure(figure_of(judge, array, FIGURE_PANEL_AMPACITY));
    Side drives = side_figure(figure_of(judge, array, FIGURE_ARRAY_CURRENT));
    Finding *f = judge_at_least(judge, array, place_of(judge, array, PROP_SOLAR_PANEL_WIRE), can, drives);
    if (f != NULL) {
        finding_say(judge, f, "the panels of `%s` can drive %s, and the cable from them carries %s", say_name(judge, array),
                    say_side(judge, drives), say_side(judge, can));
        finding_note(judge, f, place_of(judge, array, PROP_SOLAR_SHORT_CIRCUIT), "of one panel, in full sun");
        finding_remedy(judge, f, "a thicker `panel-wire`, or one whose `insulation` stands more");
        finding_remedy(judge, f, "more panels in `series` and fewer strings, as far as the controller stands their voltage");
    }
}

/* panel-drop */

static const double usual_drop = 0.03;

void judge_panel_drop(Judge *judge, const Entity *array)
{
    bool run = entity_states(array, PROP_SOLAR_PANEL_RUN), volts = entity_states(array, PROP_SOLAR_OPEN_CIRCUIT);
    if (!is_aboard(array) || !entity_states(array, PROP_SOLAR_PANEL_WIRE)) {
        return;
    }
    if (!run || !volts) {
        judge_unmeasured(judge, array, run ? PROP_SOLAR_OPEN_CIRCUIT : PROP_SOLAR_PANEL_RUN);
        return;
    }
    Side drop = side_figure(figure_of(judge, array, FIGURE_PANEL_DROP));
    Finding *f = judge_at_most(judge, array, place_of(judge, array, PROP_SOLAR_PANEL_WIRE), drop,
                               side_number(usual_drop, UNIT_ALONE(UNIT_PERCENT)));
    if (f != NULL) {
        finding_say(judge, f, "the cable from the panels of `%s` takes %s of what they give in full sun: 3 %% is usual",
                    say_name(judge, array), say_side(judge, drop));
        finding_note(judge, f, place_of(judge, array, PROP_SOLAR_PANEL_RUN), "this way, there and back");
        finding_remedy(judge, f, "a thicker `panel-wire`, or the controller nearer to the panels");
        finding_remedy(judge, f, "more panels in `series`, as far as the controller stands their voltage: less current flows");
    }
}

/* string-fuse */

static void judge_fuse_size(Judge *judge, const Entity *array)
{
    Side fuse = side_value(judge, array, PROP_SOLAR_STRING_FUSE, 0);
    if (!entity_states(array, PROP_SOLAR_LARGEST_FUSE)) {
        Finding *f = judge_open(judge, array, place_of(judge, array, PROP_SOLAR_STRING_FUSE), array, PROP_SOLAR_LARGEST_FUSE);
        finding_say(judge, f, "each string of `%s` has a fuse of %s, and nothing says which is the largest that its panels bear",
                    say_name(judge, array), say_side(judge, fuse));
        finding_remedy(judge, f, "`largest-fuse`, as the plate of a panel says");
        return;
    }
    Side largest = side_value(judge, array, PROP_SOLAR_LARGEST_FUSE, 0);
    Finding *f = judge_at_most(judge, array, place_of(judge, array, PROP_SOLAR_STRING_FUSE), fuse, largest);
    if (f != NULL) {
        finding_say(judge, f, "each string of `%s` has a fuse of %s, and its panels bear %s", say_name(judge, array),
                    say_side(judge, fuse), say_side(judge, largest));
        finding_note(judge, f, place_of(judge, array, PROP_SOLAR_LARGEST_FUSE), "by the plate of a panel");
    }
}

/* Without fuses: what the others drive into one has to be what its panels bear. */
static void judge_without_fuse(Judge *judge, const Entity *array, const Figure *strings)
{
    const Figure *back = figure_of(judge, array, FIGURE_STRING_BACK);
    Span place = place_of_name(judge, array);
    bool known = back != NULL && entity_states(array, PROP_SOLAR_LARGEST_FUSE);
    Finding *f = known ? judge_at_most(judge, array, place, side_figure(back), side_value(judge, array, PROP_SOLAR_LARGEST_FUSE, 0))
                       : judge_open(judge, array, place, array, PROP_SOLAR_STRING_FUSE);
    if (f == NULL) {
        return;
    }
    if (back != NULL) {
        finding_say(judge, f, "`%s` has %s strings side by side: into one with a fault the others drive %s, and no fuse is stated",
                    say_name(judge, array), say_figure(judge, strings), say_figure(judge, back));
    } else {
        finding_say(judge, f,
                    "`%s` has %s strings side by side: into one with a fault all others drive their current, and no fuse is stated",
                    say_name(judge, array), say_figure(judge, strings));
    }
    finding_remedy(judge, f, "`string-fuse` in each string, no larger than the `largest-fuse` of its panels");
}

void judge_string_fuse(Judge *judge, const Entity *array)
{
    const Figure *strings = figure_of(judge, array, FIGURE_STRING_COUNT);
    if (!is_aboard(array) || strings == NULL) {
        return; /* at most two */
    }
    if (strings->state != STATE_KNOWN) {
        judge_waiting(judge);
    } else if (entity_states(array, PROP_SOLAR_STRING_FUSE)) {
        judge_fuse_size(judge, array);
    } else {
        judge_without_fuse(judge, array, strings);
    }
}
