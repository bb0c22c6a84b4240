/* See wiring.h. */
#include "rules/wiring.h"

#include "rules/plumbing.h"
#include "rules/upstream.h"

#include <math.h>

const char *feed_name(const Judge *judge, const Feed *feed)
{
    const Entity *at = feed_at(feed);
    if (at == NULL) {
        return text_format(judge->arena, "`%s`", say_name(judge, feed->subject));
    }
    return feed->maker ? text_format(judge->arena, "`%s` to `%s`", say_name(judge, feed->subject),
                                     say_name(judge, at))
                       : text_format(judge->arena, "`%s` from `%s`", say_name(judge, feed->subject),
                                     say_name(judge, at));
}

Span feed_place(const Judge *judge, const Feed *feed, PropId prop)
{
    return place_in_block(judge, feed->subject, feed->block, feed_prop(feed, prop));
}

static const Span nowhere = {0, 0};

Finding *about_feed(Judge *judge, Finding *finding, const Feed *feed, PropId prop)
{
    if (finding != NULL) {
        finding->place = feed_place(judge, feed, prop);
        finding_at(finding, feed_at(feed));
    }
    return finding;
}

Finding *feed_at_least(Judge *judge, const Feed *feed, PropId prop, Side value, Side limit)
{
    return about_feed(judge, judge_at_least(judge, feed->subject, nowhere, value, limit), feed, prop);
}

Finding *feed_at_most(Judge *judge, const Feed *feed, PropId prop, Side value, Side limit)
{
    return about_feed(judge, judge_at_most(judge, feed->subject, nowhere, value, limit), feed, prop);
}

Side allowed_by(const Judge *judge, const Feed *feed)
{
    Side limit = side_figure(feed_figure(judge, feed, FIGURE_AMPACITY));
    Interval at_v = nominal_volts(judge, feed);
    if (side_is_known(limit)) {
        limit.value.low = protection_limit_a(judge->basis, at_v.high, limit.value.low);
        limit.value.high = isfinite(limit.value.high) ? protection_limit_a(judge->basis, at_v.low, limit.value.high) : INFINITY;
    }
    return limit;
}

PropId rating_prop(const Entity *thing)
{
    return thing->kind == KIND_PANEL    ? PROP_PANEL_RATED
           : thing->kind == KIND_BUS    ? PROP_BUS_RATED
           : thing->kind == KIND_OUTLET ? PROP_OUTLET_RATED
                                        : PROP_SWITCH_RATED;
}

void remedy_at_least(Judge *judge, Finding *finding, const char *property, const Figure *asked)
{
    if (isfinite(asked->high)) {
        finding_remedy(judge, finding, "%s %s or more", property,
                       say_up(judge, asked->high, asked->unit));
    }
}

const Feed *feed_with_cable(const Entity *thing)
{
    enum { SHARED_MOST = 16 }; /* switches and loads one behind the other */
    const Feed *feed = thing->fed;
    for (int i = 0; feed != NULL && feed->shares && i < SHARED_MOST; i++) {
        feed = feed->giver != NULL && !turns_power(feed->giver) ? feed->giver->fed : NULL;
    }
    return feed;
}

bool brings_more(const Figure *back, const Figure *current)
{
    return back != NULL && back->state == STATE_KNOWN && (current == NULL || current->low < back->low);
}

uint32_t device_classes(const Property *protect, const Figure *device, bool ac)
{
    static const double beside = 1e-6;
    uint32_t classes = 1u << device_class(protect, device->low, ac) | 1u << device_class(protect, device->high, ac);
    for (int class = 0; class < PROTECTION_CLASS_COUNT && device->low < device->high; class++) {
        double largest = largest_rating_a((ProtectionClass)class, INFINITY), ends[] = {largest, largest * (1.0 + beside)};
        for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) { /* where ratings of one end another begins */
            classes |= ends[i] > device->low && ends[i] < device->high ? 1u << device_class(protect, ends[i], ac) : 0u;
        }
    }
    return classes;
}

Interval device_numbers(const Property *protect, const Figure *device, bool ac, DeviceNumber of,
                        double with_low, double with_high)
{
    uint32_t classes = device_classes(protect, device, ac);
    Interval all = {INFINITY, -INFINITY};
    for (int class = 0; class < PROTECTION_CLASS_COUNT; class++) {
        if (classes & 1u << class) {
            all.low = fmin(all.low, of((ProtectionClass)class, device->low, with_low));
            all.high = fmax(all.high, of((ProtectionClass)class, device->high, with_high));
        }
    }
    return all;
}
