/*
 * What is left to the program: ratings and sizes that are a hole, and wires that are left out.
 *
 * Ratings come first, from the ends to the sources: the smallest standard one that carries the current with the usual
 * margin, is larger than every device behind it, and spares a stated cable. Then sizes, from the sources to the ends: the
 * smallest that is allowed at all, carries the current, and what its protection lets through for ever. Then the drop, by
 * the form of the basis and by physics: as long as a feed does not keep its limit, of the chosen cables on its way the one
 * that saves the most for its copper becomes a size larger. Sizes only grow, so this ends; where even the largest on the
 * way would not keep the limit, the way is left alone and the feed's own cable says that no size does.
 */
#include "figures/cable.h"

#include "physics/drop.h"

#include <math.h>

/* Ratings */

ProtectionClass class_by_kind(const Property *protect, double amps, bool ac)
{
    const Value *kind = property_value(protect, 1);
    bool fuse = kind->kind == VALUE_WORD && str_is(kind->u.word, "fuse");
    return protection_default_class(!fuse, amps, ac);
}

/* The class of a cable's device for so many amperes: chosen for what it has to break, else the usual one of its kind. */
static ProtectionClass class_of(const Cable *cable, double amps)
{
    return cable->class != PROTECTION_NEC_SERIES
               ? cable->class
               : class_by_kind(feed_property(cable->feed, PROP_FEED_PROTECT), amps, cable->subject->flags & ENTITY_AC);
}

static double standard_rating(const Cable *cable, double at_least)
{
    double rating = next_rating_a(class_of(cable, at_least), at_least);
    return isfinite(rating) ? rating : next_rating_a(PROTECTION_NEC_SERIES, at_least);
}

/* 1.25 times what flows for hours, and the rest of it. */
static double wanted_rating(const Power *power, const Cable *cable)
{
    const Figure *continuous =
        figure_find(power->work->figures, cable->subject, FIGURE_CONTINUOUS_CURRENT, cable->at);
    double current = cable->current.value.high;
    double part = continuous != NULL && continuous->high < current ? continuous->high : current;
    return rating_wanted_a(part, current - part);
}

static bool is_stated(const Property *protect)
{
    const Value *rating = property_value(protect, 0);
    return protect != NULL && (rating->kind != VALUE_QUANTITY || !(rating->flags & VALUE_HOLE));
}

/* A rating above what a stated cable allows gives way to the largest that it allows. */
static double spare_cable(const Power *power, Cable *cable, double rating)
{
    if (cable->thin == NULL || cable->size_chosen) {
        return rating;
    }
    double limit = protection_limit_a(power->basis, cable->nominal_v, cable_ampacity_a(power, cable, cable->thin));
    if (rating <= limit * (1.0 + 1e-9)) {
        return rating;
    }
    double largest = largest_rating_a(class_of(cable, limit), limit);
    cable->rating_remark = "no standard rating carries the current with the usual margin and spares the stated cable";
    return largest > 0.0 ? largest : rating;
}

static void choose_rating(Power *power, Cable *cable, double behind_a)
{
    cable->rating_chosen = true;
    cable->rating = (Interval){0.0, INFINITY};
    cable->rating_remark = NULL;
    if (cable->current.state != STATE_KNOWN || !isfinite(cable->current.value.high)) {
        return;
    }
    double wanted = wanted_rating(power, cable);
    double rating = standard_rating(cable, wanted);
    if (isfinite(rating) && rating <= behind_a * (1.0 + 1e-9)) {
        rating = standard_rating(cable, behind_a * 1.001);
        cable->rating_remark = "larger than its current asks, for the sake of the device behind it";
    }
    rating = isfinite(rating) ? spare_cable(power, cable, rating) : rating;
    cable->rating = isfinite(rating) ? point(rating) : cable->rating;
}

/* The device that a feed has, for the order: stated, or a hole that is filled; else what is behind it. */
static double rating_of(const Cable *cable, const Property *protect, double behind_a)
{
    if (protect == NULL) {
        return behind_a;
    }
    const Value *rating = property_value(protect, 0);
    double own = cable->rating_chosen                ? cable->rating.high
                 : rating->kind == VALUE_QUANTITY ? rating->u.quantity.low
                                                  : 0.0;
    return isfinite(own) && own > behind_a ? own : behind_a;
}

static void hand_to_giver(const Power *power, const Feed *feed, double rating)
{
    if (feed->giver != NULL && !turns_power(feed->giver)) {
        PowerNode *giver = power_node(power, feed->giver);
        giver->below_a = fmax(giver->below_a, rating);
    }
}

static void rate_feed(Power *power, const Feed *feed)
{
    Cable *cable = power_cable_of(power, feed);
    double behind = feed->maker ? 0.0 : power_node(power, feed->taker)->below_a;
    const Property *protect = cable != NULL ? feed_property(feed, PROP_FEED_PROTECT) : NULL;
    bool cranks = feed->taker->kind == KIND_ENGINE && protect == NULL;
    if (cable != NULL && !is_stated(protect) && !cranks) {
        choose_rating(power, cable, protect != NULL ? behind : 0.0);
    }
    if (!feed->maker) {
        hand_to_giver(power, feed, cable != NULL ? rating_of(cable, protect, behind) : behind);
    }
}

static void choose_ratings(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            rate_feed(power, feed);
        }
    }
    for (uint32_t i = power->fed_count; i < power->cable_count; i++) {
        rate_feed(power, power->cables[i].feed);
    }
}

/* Sizes, but for the drop */

/* Whether a cable is to live on a device upstream: a branch on its circuit's, a feeder on the one before it. */
static bool relies_on_guard(const Feed *feed)
{
    const Feed *guard = feed->guard;
    bool feeder = feed->taker->kind == KIND_BUS || feed->taker->kind == KIND_PANEL || feed->taker->kind == KIND_SWITCH;
    return guard != NULL && guard != feed && !feed->maker && (feeder || guard->taker->kind == KIND_CIRCUIT);
}

/* The rating that stands before the cable: its own, else the one that it lives on, else the one that is proposed; 0: none. */
static double lets_pass(const Power *power, const Cable *cable)
{
    const Property *protect = feed_property(cable->feed, PROP_FEED_PROTECT);
    if (is_stated(protect)) {
        const Value *rating = property_value(protect, 0);
        return rating->kind == VALUE_QUANTITY && isfinite(rating->u.quantity.high) ? rating->u.quantity.high : 0.0;
    }
    if (protect == NULL && relies_on_guard(cable->feed)) {
        double before = power_node(power, cable->feed->giver)->guard_a;
        if (before > 0.0) {
            return before;
        }
    }
    return cable->rating_chosen && isfinite(cable->rating.high) ? cable->rating.high : 0.0;
}

static double must_carry(const Power *power, const Cable *cable, double current, double passes)
{
    double carries = power->basis == BASIS_US && cable->nominal_v < 50.0 ? passes / 1.5 : passes;
    return carries > current ? carries : current;
}

static const Conductor *largest_of(const Conductor *row)
{
    return conductor_at(row->series, conductor_count(row->series) - 1);
}

static void choose_least(Power *power, Cable *cable)
{
    double high = cable->current.value.high;
    double current = isfinite(high) ? high : cable->current.value.low;
    double passes = lets_pass(power, cable);
    double carries = must_carry(power, cable, current, passes);
    const Conductor *least = conductor_minimum(power->basis, cable->sheathed);
    const Conductor *row = least;
    while (row != NULL && cable_ampacity_a(power, cable, row) < carries * (1.0 - 1e-9)) {
        row = conductor_next(row);
    }
    cable->deciding = row == least ? DECIDED_BY_LEAST : carries > current ? DECIDED_BY_PROTECTION : DECIDED_BY_CURRENT;
    cable->thin = row != NULL ? row : largest_of(least);
    cable->thick = isfinite(high) ? cable->thin : NULL;
}

static bool is_sizable(const Cable *cable)
{
    return cable->size_chosen && cable->current.state == STATE_KNOWN && cable->run.state == STATE_KNOWN;
}

/* Drop */

static bool has_drop(const Cable *cable)
{
    return cable->current.state == STATE_KNOWN && cable->run.state == STATE_KNOWN && cable->nominal_v > 0.0 &&
           cable->thin != NULL && isfinite(cable->run.value.high) && isfinite(cable->current.value.high);
}

/* Both drops of a cable if it were of that size. */
typedef struct Drops {
    double rule, physical;
} Drops;

static Drops drops_of(const Power *power, const Cable *cable, const Conductor *row)
{
    double run = cable->run.value.high;
    double amps = cable->current.value.high;
    return (Drops){cable_rule_share(power, cable, row, run, amps),
                   cable_physical_share(cable, row, run, cable->solved ? cable->solved_a.high : amps)};
}

static bool keeps(const Cable *cable, Drops before, Drops own)
{
    double limit = cable->limit.share * (1.0 + 1e-9);
    return before.rule + own.rule <= limit && before.physical + own.physical <= limit;
}

static Drops drops_before(const Power *power, const Cable *cable)
{
    if (cable_begins_anew(cable)) {
        return (Drops){0.0, 0.0};
    }
    const PowerNode *giver = power_node(power, cable->feed->giver);
    return (Drops){giver->drop_rule, giver->drop_physical};
}

enum { WAY_MOST = 32 }; /* more cables in a row than any boat has */

/* The chosen cables on the way to a feed, its own first. */
typedef struct Way {
    Cable *of[WAY_MOST];
    int count;
} Way;

static Way way_to(const Power *power, Cable *cable)
{
    Way way = {.count = 0};
    Cable *at = cable;
    for (int steps = 0; at != NULL && steps < WAY_MOST; steps++) {
        if (is_sizable(at) && has_drop(at)) {
            way.of[way.count++] = at;
        }
        const Entity *giver = cable_begins_anew(at) ? NULL : at->feed->giver;
        at = giver != NULL ? power_node(power, giver)->cable : NULL;
        for (int i = 0; at == NULL && giver != NULL && i < WAY_MOST; i++) {
            giver = giver->fed != NULL && giver->fed->shares ? giver->fed->giver : NULL; /* through a switch */
            at = giver != NULL ? power_node(power, giver)->cable : NULL;
        }
    }
    return way;
}

/* Whether the largest sizes on its way would keep the limit. */
static bool can_keep(const Power *power, const Cable *cable, const Way *way, Drops before, Drops own)
{
    Drops least = {before.rule + own.rule, before.physical + own.physical};
    for (int i = 0; i < way->count; i++) {
        Drops now = drops_of(power, way->of[i], way->of[i]->thin);
        Drops best = drops_of(power, way->of[i], largest_of(way->of[i]->thin));
        least.rule -= now.rule - best.rule;
        least.physical -= now.physical - best.physical;
    }
    return keeps(cable, (Drops){0.0, 0.0}, least);
}

/* The chosen cable on the way that saves the most of the voltage for its copper when it becomes a size larger. */
static Cable *best_to_grow(const Power *power, const Way *way)
{
    Cable *best = NULL;
    double most = 0.0;
    for (int i = 0; i < way->count; i++) {
        Cable *cable = way->of[i];
        const Conductor *next = conductor_next(cable->thin);
        if (next == NULL) {
            continue;
        }
        double saves = drops_of(power, cable, cable->thin).physical - drops_of(power, cable, next).physical;
        double copper = (next->area_m2 - cable->thin->area_m2) * cable->run.value.high * cable->parallel;
        if (copper > 0.0 && saves / copper > most) {
            most = saves / copper;
            best = cable;
        }
    }
    return best;
}

static void grow(Cable *cable, const Conductor *to, Deciding deciding)
{
    cable->thin = to;
    cable->thick = cable->thick != NULL ? to : NULL;
    cable->deciding = deciding;
}

/* Where the way cannot keep the limit: the size with which its own cable alone would, else the largest. */
static void settle_in_vain(const Power *power, Cable *cable, Drops before)
{
    (void)before;
    const Conductor *row = cable->thin;
    Drops nothing = {0.0, 0.0};
    while (conductor_next(row) != NULL && !keeps(cable, nothing, drops_of(power, cable, row))) {
        row = conductor_next(row);
    }
    grow(cable, row, DECIDED_IN_VAIN);
}

/* Takes from the drops on the way what a cable in it has saved. */
static void note_saving(const Power *power, Cable *cable, const Cable *grown, Drops saved)
{
    const Entity *giver = cable->feed->giver;
    for (int i = 0; giver != NULL && i < WAY_MOST; i++) {
        PowerNode *node = power_node(power, giver);
        node->drop_rule -= saved.rule;
        node->drop_physical -= saved.physical;
        if (node->cable == grown || giver->fed == NULL || turns_power(giver)) {
            return;
        }
        giver = giver->fed->giver;
    }
}

/* Makes chosen cables larger until the feed keeps its limit; whether any has changed. */
static bool keep_drop(Power *power, Cable *cable)
{
    bool changed = false;
    Drops before = drops_before(power, cable);
    Drops own = drops_of(power, cable, cable->thin);
    if (keeps(cable, before, own) || cable->deciding == DECIDED_IN_VAIN) {
        return false;
    }
    Way way = way_to(power, cable);
    if (!can_keep(power, cable, &way, before, own)) {
        if (is_sizable(cable)) {
            settle_in_vain(power, cable, before);
        }
        return is_sizable(cable);
    }
    while (!keeps(cable, before, own)) {
        Cable *larger = best_to_grow(power, &way);
        if (larger == NULL) {
            break;
        }
        Drops was = drops_of(power, larger, larger->thin);
        grow(larger, conductor_next(larger->thin), larger == cable ? DECIDED_BY_DROP : DECIDED_BY_FEEDS);
        Drops is = drops_of(power, larger, larger->thin);
        if (larger == cable) {
            own = is;
        } else {
            note_saving(power, cable, larger, (Drops){was.rule - is.rule, was.physical - is.physical});
            before = drops_before(power, cable);
        }
        changed = true;
    }
    return changed;
}

static void note_total(const Power *power, const Cable *cable)
{
    PowerNode *node = power_node(power, cable->feed->taker);
    Drops before = drops_before(power, cable);
    Drops own = has_drop(cable) ? drops_of(power, cable, cable->thin) : (Drops){0.0, 0.0};
    node->drop_rule = fmax(node->drop_rule, before.rule + own.rule);
    node->drop_physical = fmax(node->drop_physical, before.physical + own.physical);
}

/* A second feed of a thing counts as well: the worse of both. What has no cable of its own hands on. */
static void hand_on_drops(const Power *power, const Feed *feed)
{
    if (feed->giver != NULL && !turns_power(feed->giver)) {
        const PowerNode *giver = power_node(power, feed->giver);
        PowerNode *taker = power_node(power, feed->taker);
        taker->drop_rule = fmax(taker->drop_rule, giver->drop_rule);
        taker->drop_physical = fmax(taker->drop_physical, giver->drop_physical);
    }
}

static bool keep_drops(Power *power)
{
    const Model *model = power->model;
    bool changed = false;
    Cable *cable = power->cables;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        PowerNode *node = power_node(power, model->feed_order[i]);
        node->drop_rule = node->drop_physical = 0.0;
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            if (cable < power->cables + power->fed_count && cable->feed == feed) {
                changed = (has_drop(cable) && keep_drop(power, cable)) || changed;
                note_total(power, cable++);
            } else if (feed->shares) {
                hand_on_drops(power, feed);
            }
        }
    }
    for (; cable < power->cables + power->cable_count; cable++) {
        changed = (has_drop(cable) && keep_drop(power, cable)) || changed;
    }
    return changed;
}

/* The nearest device upstream of what hangs on a thing. */
static void note_guard(const Power *power, const Feed *feed, const Cable *cable)
{
    if (feed->maker) {
        return;
    }
    const Property *protect = cable != NULL ? feed_property(feed, PROP_FEED_PROTECT) : NULL;
    bool anew = feed->giver == NULL || turns_power(feed->giver);
    PowerNode *node = power_node(power, feed->taker);
    double before = anew ? 0.0 : power_node(power, feed->giver)->guard_a;
    node->guard_a = fmax(node->guard_a, protect != NULL ? lets_pass(power, cable) : before);
}

static void choose_sizes(Power *power)
{
    const Model *model = power->model;
    Cable *cable = power->cables;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            bool own = cable < power->cables + power->fed_count && cable->feed == feed;
            if (own && is_sizable(cable)) {
                choose_least(power, cable);
            }
            note_guard(power, feed, own ? cable : NULL);
            cable += own;
        }
    }
    for (; cable < power->cables + power->cable_count; cable++) {
        if (is_sizable(cable)) {
            choose_least(power, cable);
        }
    }
}

static void choose_all(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        PowerNode *node = power_node(power, model->feed_order[i]);
        node->below_a = node->guard_a = 0.0;
    }
    choose_ratings(power);
    choose_sizes(power);
    keep_drops(power);
}

void power_choose(Power *power)
{
    choose_all(power);
}

bool power_choose_again(Power *power)
{
    return keep_drops(power);
}

/* Classes: a rating that was left to the program, without a stated class, gets one that breaks the fault behind it. */

static const char none_breaks[] = "no class at hand breaks the short circuit behind it";

static bool choose_class(Power *power, Cable *cable)
{
    const Property *protect = feed_property(cable->feed, PROP_FEED_PROTECT);
    bool open = protect != NULL && cable->rating_chosen && property_value(protect, 2)->kind != VALUE_WORD;
    double fault = open ? power_greatest_fault(power, cable) : 0.0;
    if (fault <= 0.0 || cable->rating.low != cable->rating.high) {
        return false;
    }
    const Value *kind = property_value(protect, 1);
    bool breaker = kind->kind == VALUE_WORD && str_is(kind->u.word, "breaker");
    ProtectionClass class = class_that_breaks(breaker, cable->rating.high, cable->nominal_v, fault);
    if (class == PROTECTION_CLASS_COUNT) {
        cable->rating_remark = none_breaks;
        return false;
    }
    bool moves = next_rating_a(class, cable->rating.high) > cable->rating.high;
    cable->class = class;
    return moves;
}

bool power_choose_classes(Power *power)
{
    bool moved = false;
    for (uint32_t i = 0; i < power->fed_count; i++) {
        moved = choose_class(power, &power->cables[i]) || moved;
    }
    if (moved) {
        choose_all(power);
    }
    return moved;
}
