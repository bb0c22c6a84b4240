/*
 * Figures of navigation: how far lights are seen, what the data backbone carries and loses, what an antenna cable takes.
 *
 * The low end of what a backbone loses has every thing take its least at its nearest place, the high end its most at its
 * farthest; a thing whose place is not stated is nearest at the supply and farthest at the farther end.
 */
#include "figures/water.h"

#include "physics/navigation.h"

#include <math.h>

/* Lights */

static void record_visible(Work *work, const Entity *light)
{
    work_begin(work);
    if (entity_states(light, PROP_NAV_LIGHT_VISIBLE) || !entity_states(light, PROP_NAV_LIGHT_INTENSITY)) {
        Interval visible = use_value(work, light, PROP_NAV_LIGHT_VISIBLE, 0).value;
        work_record(work, FIGURE_VISIBLE, light, NULL, visible, "{visible}");
        return;
    }
    Interval intensity = use_value(work, light, PROP_NAV_LIGHT_INTENSITY, 0).value;
    use_fact(work, "transmissivity of the air for a nautical mile", point(0.8), UNIT_ALONE(UNIT_NONE),
             "COLREGs 1972, Annex I 8");
    work_record(work, FIGURE_VISIBLE, light, NULL,
                interval_corners(light_range_m(intensity.low), light_range_m(intensity.high)),
                "D where {intensity} = 0.686 D^2 x {transmissivity}^-D, D in nautical miles");
}

/* What her length asks of it, and its arc. */
static void record_asked(Work *work, const Entity *light)
{
    Str shows = entity_word(light, PROP_NAV_LIGHT_SHOWS);
    Light which = light_find(shows.text, shows.length);
    const Entity *boat = work->model->boat;
    if (which == LIGHT_COUNT || boat == NULL) {
        return;
    }
    work_begin(work);
    Interval length = use_value(work, boat, PROP_BOAT_LENGTH, 0).value;
    work_record(
        work, FIGURE_VISIBLE_NEED, light, NULL,
        interval_corners(light_least_range_m(which, length.low), light_least_range_m(which, length.high)),
        "for {length}: table");
    work_begin(work);
    work_record(work, FIGURE_LIGHT_ARC, light, NULL, point(light_arc_rad(which)), "by what it shows: table");
}

/* The data backbone */

/* The things on each network, by Entity.index of the network. */
typedef struct Joined {
    const Entity *thing;
    struct Joined *next;
} Joined;

static Joined **find_joined(Work *work)
{
    const Model *model = work->model;
    Joined **lists = ARENA_ARRAY(work->scratch, Joined *, model->entity_count);
    for (uint32_t i = model->entity_count; i-- > 0;) {
        const Entity *thing = model->entities[i];
        const Entity *network = is_aboard(thing) && kinds[thing->kind].groups & GROUPS_NETWORK
                                    ? entity_reference(thing, PROP_NETWORKED_NETWORK)
                                    : NULL;
        if (network != NULL) {
            Joined *joined = ARENA_NEW(work->scratch, Joined);
            *joined = (Joined){thing, lists[network->index]};
            lists[network->index] = joined;
        }
    }
    return lists;
}

/* What one kind of thing on the backbone takes, all pieces of it. */
static Interval use_current(Work *work, Sum *sum, const Entity *thing)
{
    sum_next(sum);
    sum_label(sum, work, "", thing, "load-number");
    Interval number = use_value(work, thing, PROP_NETWORKED_LOAD_NUMBER, 0).value;
    sum_count(sum, work, thing);
    return interval_scale(interval_multiply(number, use_count(work, thing).value), BACKBONE_LOAD_A);
}

static void record_backbone_current(Work *work, const Entity *network, const Joined *joined)
{
    Sum sum;
    sum_begin(&sum, work);
    for (; joined != NULL; joined = joined->next) {
        sum_add(&sum, use_current(work, &sum, joined->thing));
    }
    work_record(work, FIGURE_BACKBONE_CURRENT, network, NULL, sum.value,
                text_format(work->figures->arena, "50 mA x (%s)", sum.formula.text));
}

static void record_drop_cables(Work *work, const Entity *network, const Joined *joined)
{
    Sum sum;
    sum_begin(&sum, work);
    for (; joined != NULL; joined = joined->next) {
        sum_next(&sum);
        sum_label(&sum, work, "", joined->thing, "drop-cable");
        Interval length = use_value(work, joined->thing, PROP_NETWORKED_DROP_CABLE, 0).value;
        sum_count(&sum, work, joined->thing);
        sum_add(&sum, interval_multiply(length, use_count(work, joined->thing).value));
    }
    work_record(work, FIGURE_DROP_CABLES, network, NULL, sum.value, sum.formula.text);
}

/* Where things are, as seen from the supply. */
typedef struct Places {
    Tap *near, *far;
    size_t near_count, far_count;
    Interval supply_m, length_m;
} Places;

/* A thing that may be on either side of the supply counts on both, where the most is asked for. */
static void add_taps(Places *places, Interval at_m, Interval current_a)
{
    double before = places->supply_m.high - at_m.low, behind = at_m.high - places->supply_m.low;
    if (before > 0.0) {
        places->far[places->far_count++] = (Tap){current_a.high, -before};
    }
    if (behind > 0.0) {
        places->far[places->far_count++] = (Tap){current_a.high, behind};
    }
    double least = fmax(at_m.low - places->supply_m.high, places->supply_m.low - at_m.high);
    if (least > 0.0) {
        places->near[places->near_count++] =
            (Tap){current_a.low, at_m.high < places->supply_m.low ? -least : least};
    }
}

static Interval use_place(Work *work, const Entity *thing, const Places *places)
{
    Quantity at = use_stated(work, thing, PROP_NETWORKED_TEE_AT, 0);
    return at.state == STATE_MISSING ? interval(0.0, places->length_m.high) : at.value;
}

/* The greater of what flows to both sides of the supply. */
static double greater_side(const Tap taps[], size_t count)
{
    double before = 0.0, behind = 0.0;
    for (size_t i = 0; i < count; i++) {
        *(taps[i].distance_m < 0.0 ? &before : &behind) += taps[i].current_a;
    }
    return fmax(before, behind);
}

/* Where nobody says where it is fed, all may flow one way. */
static void record_segment_current(Work *work, const Entity *network, const Joined *joined, size_t count)
{
    work_begin(work);
    Interval all = use_figure(work, figure_find(work->figures, network, FIGURE_BACKBONE_CURRENT, NULL)).value;
    Quantity supply = use_stated(work, network, PROP_NETWORK_FEEDS_AT, 0);
    if (supply.state == STATE_MISSING) {
        work_record(work, FIGURE_SEGMENT_CURRENT, network, NULL, all, "{backbone-current}, as it flows where the supply is at an end");
        return;
    }
    Places places = {.near = ARENA_ARRAY(work->scratch, Tap, count), .far = ARENA_ARRAY(work->scratch, Tap, 2 * count)};
    places.length_m = use_value(work, network, PROP_NETWORK_BACKBONE, 0).value;
    places.supply_m = supply.value;
    for (; joined != NULL; joined = joined->next) {
        Interval number = use_value(work, joined->thing, PROP_NETWORKED_LOAD_NUMBER, 0).value;
        Interval taken = interval_multiply(number, use_count(work, joined->thing).value);
        add_taps(&places, use_place(work, joined->thing, &places), interval_scale(taken, BACKBONE_LOAD_A));
    }
    Interval most = interval_corners(greater_side(places.near, places.near_count), greater_side(places.far, places.far_count));
    work_record(work, FIGURE_SEGMENT_CURRENT, network, NULL, most,
                "the greater part of {backbone-current}, before and behind {feeds-at}, each thing at its tee");
}

static void record_backbone_drop(Work *work, const Entity *network, const Joined *joined, size_t count)
{
    Str word = entity_word(network, PROP_NETWORK_CABLE);
    const Backbone *cable = backbone_find(word.text, word.length);
    Arena *arena = work->figures->arena;
    work_begin(work);
    Places places = {.near = ARENA_ARRAY(work->scratch, Tap, count),
                     .far = ARENA_ARRAY(work->scratch, Tap, 2 * count)};
    places.length_m = use_value(work, network, PROP_NETWORK_BACKBONE, 0).value;
    Quantity supply = use_stated(work, network, PROP_NETWORK_FEEDS_AT, 0);
    places.supply_m = supply.state == STATE_MISSING ? interval(0.0, places.length_m.high) : supply.value;
    if (cable == NULL) {
        use_waiting(work);
        work_record(work, FIGURE_BACKBONE_DROP, network, NULL, point(0.0), "waits");
        return;
    }
    use_fact(work, text_format(arena, "resistance of a metre of conductor, %s cable", cable->word),
             point(cable->ohm_per_m), UNIT_BY(UNIT_OHM, UNIT_M), cable->source);
    for (; joined != NULL; joined = joined->next) {
        Interval number = use_value(work, joined->thing, PROP_NETWORKED_LOAD_NUMBER, 0).value;
        Interval all = interval_multiply(number, use_count(work, joined->thing).value);
        add_taps(&places, use_place(work, joined->thing, &places), interval_scale(all, BACKBONE_LOAD_A));
    }
    Interval lost = interval_corners(backbone_lost_v(places.near, places.near_count, cable->ohm_per_m),
                                     backbone_lost_v(places.far, places.far_count, cable->ohm_per_m));
    work_record(work, FIGURE_BACKBONE_DROP, network, NULL, lost,
                "from the supply out to the worst thing: 2 x resistance x metres x current, metre by metre");
}

static void record_backbones(Work *work)
{
    if (work->model->first_of_kind[KIND_NETWORK] == NULL) {
        return;
    }
    Joined **lists = find_joined(work);
    for (const Entity *network = first_aboard(work->model, KIND_NETWORK); network != NULL;
         network = next_aboard(network)) {
        const Joined *joined = lists[network->index];
        size_t count = 0;
        for (const Joined *j = joined; j != NULL; j = j->next) {
            count++;
        }
        if (count > 0) {
            record_backbone_current(work, network, joined);
            record_segment_current(work, network, joined, count);
            record_drop_cables(work, network, joined);
            record_backbone_drop(work, network, joined, count);
        }
    }
}

/* Radios */

static void record_antenna(Work *work, const Entity *radio)
{
    if (!entity_states(radio, PROP_RADIO_ANTENNA_CABLE) && !entity_states(radio, PROP_RADIO_LOSS)) {
        return;
    }
    work_begin(work);
    Quantity cable = use_value(work, radio, PROP_RADIO_ANTENNA_CABLE, 0);
    Interval length = cable.value;
    if (cable.state == STATE_KNOWN && length.high == 0.0 && !entity_states(radio, PROP_RADIO_LOSS)) {
        work_record(work, FIGURE_ANTENNA_LOSS, radio, NULL, point(0.0), "{antenna-cable} is none: nothing is lost");
        return;
    }
    Interval loss = use_value(work, radio, PROP_RADIO_LOSS, 0).value;
    work_record(work, FIGURE_ANTENNA_LOSS, radio, NULL, interval_multiply(length, loss),
                "{antenna-cable} x {loss}");
}

void figures_navigation(Work *work)
{
    for (const Entity *e = first_aboard(work->model, KIND_NAV_LIGHT); e != NULL; e = next_aboard(e)) {
        record_visible(work, e);
        record_asked(work, e);
    }
    record_backbones(work);
    for (const Entity *e = first_aboard(work->model, KIND_RADIO); e != NULL; e = next_aboard(e)) {
        record_antenna(work, e);
    }
}
