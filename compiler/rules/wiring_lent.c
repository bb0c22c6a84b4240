/*
 * What is offered for the cables of a switch that lends one bank to the starter of another: one device and one cable for all
 * of its feeds, for they share their lines, with which every rule is content at once. The device lets the starter crank (surge),
 * breaks what may flow at either end (protect-breaking), and opens promptly in a short circuit at the far end where that is known
 * (protect-blind); the cable may stand behind it (wire-unprotected).
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "rules/ask.h"
#include "rules/upstream.h"
#include "rules/wiring.h"
#include "rules/wiring_serving.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* What the feeds of the switch ask of one device. */
typedef struct Lent {
    double starter_a, fault_a;
    double least_fault_a; /* infinite: not known, as it is where there is no device yet */
    double volts;
} Lent;

static bool read_lent(const Judge *judge, const Feed *feed, Lent *lent)
{
    const Figure *starter = figure_of(judge, feed->taker, FIGURE_CRANKING);
    if (starter == NULL || starter->state != STATE_KNOWN || !isfinite(starter->high)) {
        return false;
    }
    *lent = (Lent){.starter_a = starter->high, .least_fault_a = INFINITY};
    for (const Feed *of = feed->taker->fed; of != NULL; of = of->next) {
        const Figure *fault = feed_figure(judge, of, FIGURE_FAULT_CURRENT);
        const Figure *least = feed_figure(judge, of, FIGURE_LEAST_FAULT);
        if (fault == NULL || fault->state != STATE_KNOWN || !isfinite(fault->high)) {
            return false;
        }
        lent->fault_a = fmax(lent->fault_a, fault->high);
        if (least != NULL && least->state == STATE_KNOWN) {
            lent->least_fault_a = fmin(lent->least_fault_a, least->low);
        }
        lent->volts = fmax(lent->volts, nominal_volts(judge, of).high);
    }
    return lent->volts > 0.0;
}

/* The least rating of a class that does all of it; infinite: none does. */
static double rating_that_lends(ProtectionClass class, const Lent *lent)
{
    double rating_a = rating_that_carries_a(class, 0.0, lent->starter_a, CRANKS_SECONDS);
    bool does = isfinite(rating_a) && class_is_made(class, rating_a, lent->volts) &&
                interrupting_capacity_a(class, lent->volts, false) >= lent->fault_a &&
                opens_promptly(class, rating_a).amps <= lent->least_fault_a;
    return does ? rating_a : INFINITY;
}

/* The class that is stated if one of it will do, else the usual fuse that breaks so much; PROTECTION_CLASS_COUNT: neither will. */
static ProtectionClass class_that_lends(const Feed *feed, const Lent *lent, double *rating_a)
{
    const Value *stated = property_value(feed_property(feed, PROP_FEED_PROTECT), 2);
    ProtectionClass ways[] = {stated->kind == VALUE_WORD ? protection_class_named(stated->u.word.text, stated->u.word.length)
                                                         : PROTECTION_CLASS_COUNT,
                              class_that_breaks(false, lent->starter_a, lent->volts, lent->fault_a)};
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        *rating_a = ways[i] < PROTECTION_CLASS_COUNT ? rating_that_lends(ways[i], lent) : INFINITY;
        if (isfinite(*rating_a)) {
            return ways[i];
        }
    }
    return PROTECTION_CLASS_COUNT;
}

/* The thicker of what two feeds ask for; NULL in either: none serves there. */
static const Conductor *thicker(const Conductor *one, const Conductor *other)
{
    return one == NULL || other == NULL ? NULL : one->area_m2 >= other->area_m2 ? one : other;
}

/*
 * The cables of all feeds of the switch. US practice asks below 50 V for a cable that carries what its device does, where what
 * flows for long asks for less.
 */
static Serving cables_that_lend(const Judge *judge, const Feed *feed, const Lent *lent, double rating_a, bool *as_it_is)
{
    static const double us_limit_v = 50.0;
    double carries_a = judge->basis == BASIS_US && lent->volts < us_limit_v ? rating_a : 0.0;
    Serving all = {NULL, NULL};
    *as_it_is = true;
    for (const Feed *of = feed->taker->fed; of != NULL; of = of->next) {
        const Figure *ampacity = feed_figure(judge, of, FIGURE_AMPACITY);
        const Conductor *own = conductor_of(feed_figure(judge, of, FIGURE_WIRE_SIZE));
        Serving one = cables_that_serve(judge, of, carries_a, rating_a);
        bool stays = ampacity != NULL && ampacity->state == STATE_KNOWN &&
                     cable_serves(judge, of, ampacity->low, carries_a, rating_a);
        *as_it_is = *as_it_is && stays;
        one.best = one.best != NULL ? one.best : stays ? own : one.own;
        all.own = of == feed->taker->fed ? one.own : thicker(all.own, one.own);
        all.best = of == feed->taker->fed ? one.best : thicker(all.best, one.best);
    }
    bool thinner = all.best != NULL && (all.own == NULL || all.best->area_m2 < all.own->area_m2);
    all.best = thinner && feed_insulation_celsius(feed) < BEST_INSULATION_C ? all.best : NULL;
    return all;
}

bool remedy_lent(Judge *judge, Finding *f, const Feed *feed)
{
    Lent lent;
    double rating_a;
    bool as_it_is;
    if (!feed_lends_start(feed) || !read_lent(judge, feed, &lent)) {
        return false;
    }
    ProtectionClass class = class_that_lends(feed, &lent, &rating_a);
    if (class == PROTECTION_CLASS_COUNT) {
        return false;
    }
    Serving cables = cables_that_lend(judge, feed, &lent, rating_a, &as_it_is);
    const char *place = stated_place(judge, feed_property(feed, PROP_FEED_PROTECT));
    const char *device = text_format(judge->arena, "%s %s %s %s%s", device_word(feed), say_number(judge, rating_a, amperes),
                                     protection_row(class)->breaker ? "breaker" : "fuse", protection_row(class)->word,
                                     place[0] != '\0' ? place : text_format(judge->arena, " %s", place_by_battery(judge)));
    if (rating_a > end_at_most(judge, feed)) {
        device = text_format(judge->arena, "%s, and a `%s` that is rated for it", device, kinds[feed->taker->kind].word);
    }
    if (as_it_is) {
        finding_remedy(judge, f, "%s", device);
        return true;
    }
    if (cables.best != NULL) {
        finding_remedy(judge, f, "%s with %s", say_wire(judge, feed, cables.best, BEST_INSULATION_C), device);
    }
    if (cables.own != NULL) {
        finding_remedy(judge, f, "%s with %s", say_wire(judge, feed, cables.own, 0.0), device);
    }
    return cables.best != NULL || cables.own != NULL;
}
