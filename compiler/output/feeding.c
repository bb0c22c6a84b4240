/* See feeding.h. */
#include "output/feeding.h"

#include "model/status.h"

#include "base/num.h"
#include "figures/power.h"

#include <math.h>

bool feeding_is_listed(const Feed *feed)
{
    return !feed->shares && !feeds_by_starter_cable(feed) && is_aboard(feed->giver) && is_aboard(feed->taker);
}

bool feeding_is_alternating(const Feed *feed)
{
    if (feed->maker) {
        return feed->giver->kind == KIND_INVERTER || feed->giver->kind == KIND_GENERATOR;
    }
    return feed->taker->flags & ENTITY_AC;
}

const Figure *feeding_figure(const Figures *figures, const Feed *feed, FigureId id)
{
    return figure_find(figures, feed->subject, id, feed_at(feed));
}

const Figure *feeding_cranking(const Figures *figures, const Feed *feed)
{
    return feed->maker || feed->taker->kind == KIND_BANK ? NULL : figure_find(figures, feed->taker, FIGURE_CRANKING, NULL);
}

const Figure *feeding_chosen_protection(const Figures *figures, const Feed *feed)
{
    const Figure *figure = feeding_figure(figures, feed, FIGURE_PROTECTION);
    bool chosen = figure != NULL && figure->state == STATE_KNOWN && figure->chosen;
    return chosen ? figure : NULL;
}

Guarding feeding_guarding(const Figures *figures, const Feed *feed)
{
    if (feed_property(feed, PROP_FEED_PROTECT) != NULL) {
        return GUARDED_HERE;
    }
    if (feed_is_cranking(feed)) {
        return GUARD_NOT_ASKED;
    }
    const Figure *ampacity = feeding_figure(figures, feed, FIGURE_AMPACITY);
    bool upstream = feed->guard != NULL && ampacity != NULL && ampacity->state == STATE_KNOWN &&
                    feeding_figure(figures, feed, FIGURE_WANTED_PROTECTION) == NULL;
    return upstream ? GUARDED_UPSTREAM : GUARDED_NOT;
}

void feeding_write_upstream(Buf *to, const Figures *figures, const Feed *feed)
{
    const Figure *device = feeding_figure(figures, feed->guard, FIGURE_PROTECTION);
    if (device != NULL) {
        figure_write(to, figures, device);
        buf_text(to, " of ");
    }
    feeding_write_name(to, figures->model, feed->guard);
}

bool feeding_value(const Feed *feed, PropId prop, unsigned slot, Interval *value)
{
    const Property *property = feed_property(feed, prop);
    const Value *stated = property_value(property, slot);
    if (stated->kind != VALUE_QUANTITY || stated->flags & VALUE_BROKEN || property->flags & PROPERTY_BROKEN) {
        return false;
    }
    *value = (Interval){stated->u.quantity.low, stated->u.quantity.high};
    return true;
}

Interval feeding_parallel(const Feed *feed)
{
    Interval parallel;
    return feeding_value(feed, PROP_FEED_WIRE, 1, &parallel) ? parallel : point(1.0);
}

void feeding_write_name(Buf *to, const Model *model, const Feed *feed)
{
    buf_add(to, entity_name(model, feed->subject));
    if (feed_at(feed) != NULL) {
        buf_char(to, '@');
        buf_add(to, entity_name(model, feed_at(feed)));
    }
}

static void write_quantity(Buf *to, const Model *model, const Value *value, const char *before)
{
    if (value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN)) {
        buf_text(to, before);
        quantity_write(to, model, value);
    }
}

/* Slots of `protect` and `protect-output`: rating, fuse or breaker, class, distance, interrupting capacity,
 * voltage. */
void feeding_write_protection(Buf *to, const Model *model, const Property *protect)
{
    if (protect == NULL || protect->flags & PROPERTY_BROKEN) {
        return;
    }
    const Value *rating = property_value(protect, 0);
    if (rating->flags & VALUE_HOLE) {
        buf_text(to, "rating not decided");
    } else {
        write_quantity(to, model, rating, "");
    }
    for (unsigned slot = 1; slot <= 2; slot++) {
        const Value *word = property_value(protect, slot);
        if (word->kind == VALUE_WORD) {
            buf_char(to, ' ');
            buf_add(to, word->u.word);
        }
    }
    write_quantity(to, model, property_value(protect, 4), ", interrupts ");
    write_quantity(to, model, property_value(protect, 5), ", for ");
}

void feeding_write_mains(Buf *to, const Model *model, const Feed *feed, bool briefly)
{
    if (feed == NULL || !feeding_is_alternating(feed)) {
        return;
    }
    const Value *poles = property_value(feed_property(feed, PROP_FEED_POLES), 0);
    if (poles->kind == VALUE_QUANTITY && !(poles->flags & VALUE_BROKEN)) {
        write_quantity(to, model, poles, ", ");
        buf_text(to, "-pole");
    }
    write_quantity(to, model, property_value(feed_property(feed, PROP_FEED_GROUND_FAULT), 0), briefly ? ", " : ", opens at ");
}

/* Where a source of mains says its voltage, and its frequency. */
static bool says_mains(const Entity *source, PropId *volts, unsigned *slot, PropId *hertz)
{
    *slot = source->kind != KIND_INVERTER;
    switch ((KindId)source->kind) {
    case KIND_INLET: *volts = PROP_INLET_RATED, *hertz = PROP_INLET_FREQUENCY; return true;
    case KIND_GENERATOR: *volts = PROP_GENERATOR_RATED, *hertz = PROP_GENERATOR_FREQUENCY; return true;
    case KIND_INVERTER: *volts = PROP_INVERTER_OUTPUT, *hertz = PROP_INVERTER_FREQUENCY; return true;
    default: return false;
    }
}

bool feeding_has_two_legs(const Feed *feed, Basis basis)
{
    enum { STEPS_MOST = 32 };
    static const double legs_from_v = 200.0, of_us_hz = 55.0; /* between 120 and 208 V, and between 50 and 60 Hz */
    const Entity *source = feed->giver != NULL ? feed->giver : feed->taker;
    PropId volts, hertz;
    unsigned slot;
    for (int i = 0; i < STEPS_MOST && source != NULL && !says_mains(source, &volts, &slot, &hertz); i++) {
        source = source->fed != NULL ? source->fed->giver : NULL;
    }
    if (basis != BASIS_US || !feeding_is_alternating(feed) || source == NULL || !says_mains(source, &volts, &slot, &hertz)) {
        return false;
    }
    const Value *at = property_value(entity_property(source, volts), slot), *of = property_value(entity_property(source, hertz), 0);
    bool other_net = of->kind == VALUE_QUANTITY && of->u.quantity.high < of_us_hz;
    return at->kind == VALUE_QUANTITY && at->u.quantity.low >= legs_from_v && !other_net;
}

const char *feeding_opens(Arena *arena, const Feed *feed, Basis basis)
{
    const Value *kind = property_value(feed_property(feed, PROP_FEED_PROTECT), 1);
    Interval poles;
    if (feed_property(feed, PROP_FEED_PROTECT) == NULL) {
        return NULL;
    }
    if (kind->kind == VALUE_WORD && str_is(kind->u.word, "fuse")) {
        return "one conductor (a fuse)";
    }
    if (!feeding_value(feed, PROP_FEED_POLES, 0, &poles) || !interval_is_point(poles)) {
        return "not stated";
    }
    return poles.high == 1.0   ? (feeding_has_two_legs(feed, basis) ? "one line of two" : "line alone")
           : poles.high == 2.0 ? (feeding_has_two_legs(feed, basis) ? "both lines" : "line and neutral")
                               : text_format(arena, "%s conductors", num_text_fixed(arena, poles.high, 0));
}

bool feeding_opens_at_leakage(const Feed *feed)
{
    return feed != NULL && feeding_is_alternating(feed) && feed_property(feed, PROP_FEED_GROUND_FAULT) != NULL;
}

static void add_way(LeakageWay ways[], unsigned *count, LeakageWay way)
{
    for (unsigned i = 0; i < *count; i++) {
        if (ways[i].where == way.where && ways[i].opens == way.opens) {
            return;
        }
    }
    if (*count < LEAKAGE_WAYS_MOST) {
        ways[(*count)++] = way;
    }
}

static void add_ways(const Feed *feed, LeakageWay ways[], unsigned *count, int depth)
{
    enum { DEEPEST = 32 };
    const Entity *giver = feed->giver;
    const Property *own = feed_property(feed, PROP_FEED_GROUND_FAULT);
    bool by_inlet = giver != NULL && giver->kind == KIND_INLET && !has_transformer(giver); /* a device before one sees no leak behind it */
    const Property *inlet = by_inlet ? entity_property(giver, PROP_FEED_GROUND_FAULT) : NULL;
    bool hangs = giver != NULL && (giver->fed != NULL || giver->made != NULL);
    bool source = feed->maker || !hangs || turns_power(giver) || giver->kind == KIND_INLET;
    if (own != NULL || inlet != NULL || source || depth > DEEPEST) {
        add_way(ways, count,
                (LeakageWay){.opens = own != NULL ? own : inlet, .where = own != NULL ? feed->subject : giver});
        return;
    }
    for (const Feed *before = giver->fed; before != NULL; before = before->next) {
        add_ways(before, ways, count, depth + 1);
    }
    for (const Feed *before = giver->made; before != NULL; before = before->next_of_taker) {
        add_ways(before, ways, count, depth + 1);
    }
}

unsigned feeding_leakage_ways(const Feed *feed, LeakageWay ways[LEAKAGE_WAYS_MOST])
{
    unsigned count = 0;
    add_ways(feed, ways, &count, 0);
    return count;
}

/* Links */

static const Figure *thicker(const Figure *size, const Figure *other)
{
    bool known = other != NULL && other->state == STATE_KNOWN;
    return known && (size == NULL || other->high > size->high) ? other : size;
}

bool panel_cable_is_stated(const Entity *array)
{
    return !(array->flags & (ENTITY_DROPPED | ENTITY_BROKEN)) &&
           (entity_states(array, PROP_SOLAR_PANEL_RUN) || entity_states(array, PROP_SOLAR_PANEL_WIRE));
}

/* How many batteries stand in a row, and how many rows there are; false where nobody says. */
static bool batteries_of(const Entity *bank, Interval *series, Interval *parallel)
{
    Interval count;
    *series = *parallel = point(1.0); /* left out: 1 */
    entity_quantity(bank, PROP_BANK_SERIES, 0, series);
    bool beside = entity_quantity(bank, PROP_BANK_PARALLEL, 0, parallel);
    if (!beside && entity_quantity(bank, PROP_COMMON_COUNT, 0, &count) && series->low > 0.0) {
        *parallel = interval_max(interval_divide(count, *series), point(1.0));
    }
    return isfinite(series->high) && isfinite(parallel->high) && series->low >= 1.0 && parallel->low >= 1.0;
}

const Property *feeding_battery_fuse(const Entity *bank, Interval *count)
{
    Interval series;
    bool aboard = bank->kind == KIND_BANK && is_aboard(bank);
    const Property *fuse = aboard ? entity_property(bank, PROP_BANK_BATTERY_FUSE) : NULL;
    if (fuse == NULL || fuse->flags & PROPERTY_BROKEN) {
        return NULL;
    }
    if (!batteries_of(bank, &series, count)) {
        *count = interval(1.0, INFINITY);
    }
    return fuse;
}

void feeding_write_battery_fuse(Buf *to, const Model *model, const Property *fuse)
{
    const Value *rating = property_value(fuse, 0);
    if (rating->flags & VALUE_HOLE) {
        buf_text(to, "fuse of a rating that is not decided");
    } else {
        quantity_write(to, model, rating);
        buf_text(to, " fuse");
    }
}

bool feeding_bank_links(const Figures *figures, const Entity *bank, BankLinks *links)
{
    Interval series, parallel;
    bool known = batteries_of(bank, &series, &parallel);
    if (bank->kind != KIND_BANK || !is_aboard(bank) || !known || series.high * parallel.high < 2.0) {
        return false;
    }
    *links = (BankLinks){.count = {parallel.low * (series.low - 1.0) + 2.0 * (parallel.low - 1.0),
                                   parallel.high * (series.high - 1.0) + 2.0 * (parallel.high - 1.0)}};
    for (const Feed *feed = bank->gives; feed != NULL; feed = feed->next_of_giver) {
        const Feed *cable = feed->shares && feed->taker->gives != NULL ? feed->taker->gives : feed; /* a switch is part of the cable that leaves it */
        links->size = thicker(links->size, feeding_figure(figures, cable, FIGURE_WIRE_SIZE));
    }
    for (const Feed *feed = bank->made; feed != NULL; feed = feed->next_of_taker) {
        links->size = thicker(links->size, feeding_figure(figures, feed, FIGURE_WIRE_SIZE));
    }
    return true;
}
