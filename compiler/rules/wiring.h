/*
 * What the rules of cables and of networks share: a feed's name and places, comparisons that point at it, its device.
 */
#ifndef GARBOARD_RULES_WIRING_H
#define GARBOARD_RULES_WIRING_H

#include "figures/power.h"
#include "rules/ask.h"

/** A feed's name in a sentence: the thing, and for a maker where it goes. */
const char *feed_name(const Judge *judge, const Feed *feed);
/** The place of a property of a feed (PROP_FEED_x, also for `feeds`). */
Span feed_place(const Judge *judge, const Feed *feed, PropId prop);

/** Puts a finding at a property of its feed; NULL is let through. The place is looked up only where there is a finding. */
Finding *about_feed(Judge *judge, Finding *finding, const Feed *feed, PropId prop);
Finding *feed_at_least(Judge *judge, const Feed *feed, PropId prop, Side value, Side limit);
Finding *feed_at_most(Judge *judge, const Feed *feed, PropId prop, Side value, Side limit);

/** A share of the voltage that is lost: "38.3 %"; "more than all", where a formula gives more than there is to lose. */
const char *say_lost(const Judge *judge, const Figure *lost);

/** The `rated` of a panel, bus or switch. */
PropId rating_prop(const Entity *thing);

/** The greatest device that a cable allows, by the basis and its voltage. */
Side allowed_by(const Judge *judge, const Feed *feed);
/** "rated 60 A or more": what it would take, where that is known. */
void remedy_at_least(Judge *judge, Finding *finding, const char *property, const Figure *asked);
/** The feed whose cable brings a thing its power, past what only shares it; NULL if none does. */
const Feed *feed_with_cable(const Entity *thing);
/** Whether more comes back through a feed than loads take through it, for all that is known; back may be NULL. */
bool brings_more(const Figure *back, const Figure *current);

/** The classes, a bit each, of which a device may be whose rating may be open: where none is stated it goes by the rating. */
uint32_t device_classes(const Property *protect, const Figure *device, bool ac);
/** A number of a class and a rating, which rises with the rating; `with` is what else it hangs on. */
typedef double (*DeviceNumber)(ProtectionClass class, double rating_a, double with);
/** The least and the most of it for a device of which rating and, with it, class may be open. `with`: at either end. */
Interval device_numbers(const Property *protect, const Figure *device, bool ac, DeviceNumber of,
                        double with_low, double with_high);

#endif
