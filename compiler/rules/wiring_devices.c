/*
 * Rules on fuses and breakers, and on what they stand in: protect-far, protect-tight, protect-breaking, panel-overloaded,
 * switch-cranking.
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

/* protect-far */

/* What a thing is as a source of what is connected to it. */
static PowerOrigin origin_at(const Entity *giver)
{
    while (giver->kind == KIND_SWITCH && giver->fed != NULL && giver->fed->giver != NULL &&
           !(giver->flags & ENTITY_LOOP) && (giver->fed->shares || giver->fed->guard == NULL)) {
        giver =
            giver->fed->giver; /* a switch in the cable, or behind one that nothing protects, is no source */
    }
    if (giver->kind == KIND_BANK) {
        return FROM_BATTERY;
    }
    if (giver->kind == KIND_INLET) {
        return FROM_INLET;
    }
    return giver->flags & ENTITY_AC || giver->kind == KIND_INVERTER || giver->kind == KIND_GENERATOR
               ? FROM_AC
               : FROM_OTHER;
}

/* `protect` of a maker's feed stands at the end of the bank, or of the bus or switch on the way to it; mains have none. */
static PowerOrigin origin_of(const Feed *feed)
{
    return feed->giver == NULL ? FROM_INLET : origin_at(feed->maker ? feed->taker : feed->giver);
}

/* A limit of inches in inches, also where the place is stated in feet. */
static UnitPair limit_unit(const Value *distance)
{
    return distance->unit.unit == UNIT_FT ? UNIT_ALONE(UNIT_IN) : distance->unit;
}

/*
 * Up to 72 in from a battery the regulation asks for no sheath. US voluntary practice allows a bare cable no more than 7 in
 * there too (ABYC E-11, second hand: two articles that quote it). Infinite where it says nothing.
 */
static double bare_limit_m(const Judge *judge, const Feed *feed, PowerOrigin origin)
{
    bool says = judge->basis == BASIS_US && origin == FROM_BATTERY && !feed_is_sheathed(feed);
    return says ? placement_limit(judge->basis, FROM_OTHER, false).limit_m : INFINITY;
}

static void judge_unsheathed(Judge *judge, const Feed *feed, PowerOrigin origin, Side value, const Value *distance,
                             const char *whose)
{
    double bare_m = bare_limit_m(judge, feed, origin);
    if (isinf(bare_m)) {
        return;
    }
    Finding *f = feed_at_most(judge, feed, PROP_FEED_PROTECT, value, side_number(bare_m, distance->unit));
    if (f == NULL) {
        return;
    }
    f->place = value_span(judge->model, distance);
    finding_about(f, PROP_FEED_SHEATH);
    finding_severity(f, SEVERITY_WARNING);
    finding_say(judge, f,
                "the protection of %s stands %s from %s, and nothing says that the cable up to it is sheathed; without a sheath "
                "at most %s may be (US voluntary practice, ABYC E-11, second hand)",
                feed_name(judge, feed), say_side(judge, value), whose, say_number(judge, bare_m, limit_unit(distance)));
    finding_remedy(judge, f, "`%s from source` on its `%s`", say_number(judge, bare_m, limit_unit(distance)), device_word(feed));
    finding_remedy(judge, f, "sheath conduit");
}

/* A place that no limit forbids, the one of bare cable neither; and, where it may stand farther off in a sheath, that. */
static void remedy_place(Judge *judge, Finding *f, const Feed *feed, PropId prop, PowerOrigin origin, Side value, const Value *distance)
{
    bool sheathed = feed_is_sheathed(feed);
    double limit_m = placement_limit(judge->basis, origin, sheathed).limit_m;
    double covered_m = placement_limit(judge->basis, origin, true).limit_m;
    double place_m = fmin(limit_m, bare_limit_m(judge, feed, origin));
    finding_remedy(judge, f, "`%s from source` on its `%s`", say_number(judge, place_m, limit_unit(distance)), props[prop].word);
    if (!sheathed && covered_m > place_m && covered_m >= value.value.high) {
        finding_remedy(judge, f, "sheath conduit");
    } else if (!sheathed && covered_m > place_m) {
        finding_remedy(judge, f, "`%s from source` with `sheath conduit`", say_number(judge, covered_m, limit_unit(distance)));
    }
}

/* Whether no device on its cable can stand too far: the cable is no longer than that, or the device is one for a battery post. */
static bool stands_close(const Feed *feed, double limit_m)
{
    const Value *run = property_value(feed_property(feed, PROP_FEED_RUN), 0);
    const Value *class = property_value(feed_property(feed, PROP_FEED_PROTECT), 2);
    bool is_short = run->kind == VALUE_QUANTITY && !(run->flags & VALUE_BROKEN) && run->u.quantity.high <= limit_m * (1.0 + 1e-9);
    return is_short || (class->kind == VALUE_WORD && str_is(class->u.word, protection_row(PROTECTION_TERMINAL)->word));
}

/* Nobody says where it stands: on a cable that begins at a battery that is not known. Elsewhere it stands in its panel. */
static void judge_no_distance(Judge *judge, const Feed *feed, const char *whose)
{
    Placement placement = placement_limit(judge->basis, FROM_BATTERY, feed_is_sheathed(feed));
    if (isinf(placement.limit_m) || stands_close(feed, placement.limit_m)) {
        judge_holds(judge);
        return;
    }
    Finding *f = judge_open(judge, feed->subject, feed_place(judge, feed, PROP_FEED_PROTECT), NULL, PROP_NONE);
    about_feed(judge, f, feed, PROP_FEED_PROTECT);
    finding_hangs_on(judge, f, feed->subject, PROP_NONE,
                     text_format(judge->arena, "%s.%s from source", say_name(judge, feed->subject), device_word(feed)));
    finding_say(judge, f, "nothing says how far the protection of %s stands from %s; it may be at most %s (%s)", feed_name(judge, feed),
                whose, say_number(judge, placement.limit_m, (UnitPair){judge->basis == BASIS_US ? UNIT_IN : UNIT_MM, UNIT_NONE}),
                placement.source);
    finding_remedy(judge, f, "its place, such as `%s` on its `%s`", place_by_battery(judge), device_word(feed));
}

/* The finding about the place, if there is one. */
static Finding *judge_distance(Judge *judge, const Feed *feed, PropId prop, PowerOrigin origin, const char *whose)
{
    const Property *protect = block_property(feed->block, prop);
    const Value *distance = property_value(protect, 3);
    if (protect != NULL && distance->kind == VALUE_NONE && !(protect->flags & PROPERTY_BROKEN) && origin != FROM_CHARGING &&
        bank_at_its_end(feed) != NULL) {
        judge_no_distance(judge, feed, text_format(judge->arena, "`%s`", say_name(judge, bank_at_its_end(feed))));
        return NULL;
    }
    if (protect == NULL || distance->kind != VALUE_QUANTITY) {
        return NULL;
    }
    Placement placement = placement_limit(judge->basis, origin, feed_is_sheathed(feed));
    if (isinf(placement.limit_m)) {
        judge_holds(judge);
        return NULL;
    }
    Side value = side_block_value(judge, feed->subject, feed->block, prop, 3);
    Finding *f =
        feed_at_most(judge, feed, PROP_FEED_PROTECT, value, side_number(placement.limit_m, distance->unit));
    if (f == NULL || f->verdict == VERDICT_OPEN) {
        judge_unsheathed(judge, feed, origin, value, distance, whose);
    }
    if (f == NULL) {
        return NULL;
    }
    f->place = value_span(judge->model, distance);
    finding_say(judge, f, "the protection of %s stands %s from %s; it may be at most %s (%s)",
                feed_name(judge, feed), say_side(judge, value), whose,
                say_number(judge, placement.limit_m, limit_unit(distance)), placement.source);
    remedy_place(judge, f, feed, prop, origin, value, distance);
    return f;
}

void judge_protect_far(Judge *judge, const Feed *feed)
{
    if (feed_is_cranking(feed)) {
        return;
    }
    bool at_output = feed_prop(feed, PROP_FEED_PROTECT) == PROP_FEEDS_PROTECT_OUTPUT;
    bool mains = feed->maker && origin_of(feed) == FROM_AC;
    PowerOrigin origin = at_output && !mains ? FROM_CHARGING : origin_of(feed);
    judge_distance(judge, feed, feed_prop(feed, PROP_FEED_PROTECT), origin,
                   mains || at_output                           ? "what makes the power"
                   : feed->maker && origin == FROM_BATTERY      ? "the bank's end"
                   : feed->maker                                ? text_format(judge->arena, "`%s`", say_name(judge, feed->taker))
                                                                : "its source");
    if (feed_other_device(feed) == NULL) {
        return;
    }
    Finding *f = judge_distance(judge, feed, PROP_FEEDS_PROTECT_OUTPUT, mains ? FROM_AC : FROM_CHARGING, "what makes the power");
    if (f != NULL && !mains) { /* what makes direct current limits itself: without this device nothing would be asked there */
        finding_severity(f, SEVERITY_ADVICE);
        finding_here(judge, f, "the device at the other end guards the cable; what makes the power gives no more than its output");
    }
}

/* protect-tight */

/* How long things run says how much of a current is continuous: what is undecided of that, of a thing and what hangs on it. */
static void rests_on_times(Judge *judge, Finding *f, const Entity *thing, int depth)
{
    enum { DEEPEST = 16 };
    if (thing->kind == KIND_WATER_HEATER) {
        finding_rests_on(judge, f, thing, PROP_WATER_HEATER_CAPACITY);
        finding_rests_on(judge, f, thing, PROP_WATER_HEATER_SETTING);
    } else if (kinds[thing->kind].groups & GROUPS_LOAD) {
        finding_rests_on(judge, f, thing, PROP_LOAD_USE);
    }
    for (const Feed *feed = thing->gives; feed != NULL && depth < DEEPEST; feed = feed->next_of_giver) {
        if (!feed->maker && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP))) {
            rests_on_times(judge, f, feed->taker, depth + 1);
        }
    }
}

static Finding *judge_opens_in_use(Judge *judge, const Feed *feed, const Figure *flow, bool back)
{
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    Side wanted = rating_wanted(judge, feed, flow, back);
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, side_figure(device), wanted);
    if (f == NULL) {
        return NULL;
    }
    const Figure *continuous = feed_figure(judge, feed, FIGURE_CONTINUOUS_CURRENT);
    if (f->verdict == VERDICT_OPEN && !back && continuous != NULL && continuous->low < continuous->high) {
        rests_on_times(judge, f, feed->taker, 0);
    }
    const char *way = back ? "comes back through it from what makes power" : "flows";
    if (wanted.value.low <= 0.0 && isinf(wanted.value.high)) {
        finding_say(judge, f, "the %s protection of %s may open in normal use: %s %s",
                    say_figure(judge, device), feed_name(judge, feed), say_figure(judge, flow), way);
    } else {
        finding_say(judge, f, "the %s protection of %s may open in normal use: %s %s, which asks for %s",
                    say_figure(judge, device), feed_name(judge, feed), say_figure(judge, flow), way,
                    say_side(judge, side_interval(wanted.value, amperes)));
    }
    remedy_larger_device(judge, f, feed, wanted.value.high);
    return f;
}

void judge_protect_tight(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    if (protect == NULL || is_cranked(feed->taker)) {
        return; /* what a starter asks of it: see surge */
    }
    const Figure *back = figure_brought_back(judge->figures, feed);
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    if (is_inverter_feed(judge, feed) && device != NULL && !device->chosen) {
        if (back != NULL) {
            judge_opens_in_use(judge, feed, back, true);
        }
        return;
    }
    const Figure *current = feed_figure(judge, feed, FIGURE_CURRENT);
    bool back_first = brings_more(back, current);
    Finding *f = back_first ? judge_opens_in_use(judge, feed, back, true)
                            : judge_opens_in_use(judge, feed, current, false);
    if (f == NULL && back_first) {
        judge_opens_in_use(judge, feed, current, false);
    } else if (f == NULL && back != NULL) {
        judge_opens_in_use(judge, feed, back, true);
    }
}

/* protect-breaking */

/* The bank whose short circuit a fault current comes from, if its resistance is only what is usual; else NULL. */
static const Entity *bank_by_usual(const Figure *fault)
{
    for (uint32_t i = 0; i < fault->input_count; i++) {
        const Figure *input = fault->inputs[i].kind == INPUT_FIGURE ? fault->inputs[i].u.figure : NULL;
        const Entity *bank = input != NULL && input->id == FIGURE_SHORT_CIRCUIT ? input->subject : NULL;
        if (bank != NULL && !entity_states(bank, PROP_BANK_RESISTANCE) && !entity_states(bank, PROP_BANK_SHORT_CIRCUIT)) {
            return bank;
        }
    }
    return NULL;
}

/* What a device breaks that does not say it: by its class where that is stated or chosen, else all that it may be. */
typedef struct Breaking {
    Interval amps;
    const char *class; /* "class-t"; NULL: nobody says of which it is */
    const char *what;  /* then: "a fuse" */
} Breaking;

static Breaking by_class(ProtectionClass class, Interval volts)
{
    Interval amps = {interrupting_capacity_a(class, volts.high, false), interrupting_capacity_a(class, volts.low, false)};
    return (Breaking){.amps = amps, .class = protection_row(class)->word};
}

/* Nobody says of what class it is: fuse or breaker, where nobody says that either. */
static Breaking by_rating(const Value *kind, const Figure *device, Interval volts)
{
    bool says = kind->kind == VALUE_WORD;
    bool breaker = says && str_is(kind->u.word, "breaker");
    BreakingRange may = breaking_over_ratings(breaker, device->low, device->high, volts);
    Breaking breaking = {.amps = {may.least_a, may.most_a}, .what = !says ? "a device" : breaker ? "a breaker" : "a fuse"};
    if (!says) {
        BreakingRange other = breaking_over_ratings(true, device->low, device->high, volts);
        breaking.amps = interval_hull(breaking.amps, (Interval){other.least_a, other.most_a});
    }
    return breaking;
}

static Breaking breaking_of(const Property *protect, const Figure *device, const Figure *fault, Interval volts)
{
    const Value *kind = property_value(protect, 1);
    if (property_value(protect, 2)->kind == VALUE_WORD) {
        return by_class(device_class(protect, device->high, false), volts);
    }
    if (device->chosen && fault->state == STATE_KNOWN) { /* the class is left to the program too */
        ProtectionClass serves = device_that_breaks(protect, device->high, volts.high, fault->high);
        return by_class(serves != PROTECTION_CLASS_COUNT ? serves : class_by_kind(protect, device->high, false), volts);
    }
    return by_rating(kind, device, volts);
}

/* What is open of a device of which nobody says the class hangs on that, if its classes do not all break the same. */
static void hang_on_class(Judge *judge, Finding *f, const Feed *feed, const Breaking *breaking)
{
    if (f->verdict == VERDICT_OPEN && breaking->class == NULL && breaking->amps.low < breaking->amps.high) {
        finding_hangs_on(judge, f, feed->subject, PROP_NONE,
                         text_format(judge->arena, "%s.%s class", say_name(judge, feed->subject),
                                     props[feed_prop(feed, PROP_FEED_PROTECT)].word));
    }
}

/* "; it can break 1000 A, as blade devices usually do" */
static const char *say_breaking(Judge *judge, const Finding *f, const Breaking *usual, Interval at)
{
    if (usual->class != NULL && usual->amps.high <= 0.0) {
        return text_format(
            judge->arena,
            "; %s devices are made for less than the %s here, at which nothing says that they break any",
            usual->class, say_side(judge, side_interval(at, UNIT_ALONE(UNIT_V))));
    }
    if (usual->amps.high <= 0.0) {
        return text_format(judge->arena, "; no class of it at hand is made of that rating for the %s here", say_side(judge, side_interval(at, UNIT_ALONE(UNIT_V))));
    }
    const char *amps = say_side(judge, side_interval(usual->amps, amperes));
    if (usual->class != NULL) {
        return text_format(judge->arena, "; it can break %s, as %s devices usually do", amps, usual->class);
    }
    if (f->verdict == VERDICT_OPEN && usual->amps.low < usual->amps.high) {
        return text_format(judge->arena, "; %s of that rating can break %s, by its class, which is not stated", usual->what, amps);
    }
    return text_format(judge->arena, "; it can break %s%s, the most that %s of that rating usually does: its class is not stated",
                       usual->amps.low < usual->amps.high ? "no more than " : "",
                       say_number(judge, usual->amps.high, amperes), usual->what);
}

/* A device that would do, in the place of one of that rating. */
static void remedy_breaking(Judge *judge, Finding *f, const Feed *feed, const Figure *device, const Figure *fault, double volts)
{
    ProtectionClass class = isfinite(device->high) && isfinite(fault->high) && fault->state == STATE_KNOWN
                                ? class_that_breaks(false, device->high, volts, fault->high)
                                : PROTECTION_CLASS_COUNT;
    double of_t_a = interrupting_capacity_a(PROTECTION_CLASS_T, volts, false);
    if (class == PROTECTION_CLASS_COUNT && fault->low <= of_t_a) {
        finding_remedy(judge, f, "a device that breaks more, such as a class-t fuse (20 kA at 125 V)");
    } else if (class == PROTECTION_CLASS_COUNT) {
        finding_remedy(judge, f, "a fuse that is made for such a fault (class-t breaks 20 kA at 125 V), or one at each of the batteries in parallel, "
                                 "where it can break what one alone gives");
    } else if (is_standard_rating(class, device->high)) {
        finding_remedy(judge, f, "%s", say_fuse(judge, feed, device->high, class));
    } else {
        finding_remedy(judge, f, "a fuse of class %s, which breaks %s", protection_row(class)->word,
                       say_number(judge, interrupting_capacity_a(class, volts, false), amperes));
    }
}

/* In the place of a breaker another breaker, where some that are made for it break so much: of panels up to 10 kA. */
static void remedy_breaker(Judge *judge, Finding *f, const Feed *feed, const Figure *device, const Figure *fault)
{
    static const double made_a[] = {3000.0, 5000.0, 10000.0}; /* common practice, no source */
    const Value *kind = property_value(feed_property(feed, PROP_FEED_PROTECT), 1);
    bool sure = fault->state == STATE_KNOWN && isfinite(device->high) && device->low == device->high;
    for (size_t i = 0; sure && kind->kind == VALUE_WORD && str_is(kind->u.word, "breaker") && i < sizeof made_a / sizeof made_a[0]; i++) {
        if (made_a[i] >= fault->high) {
            finding_remedy(judge, f, "%s %s%s interrupts %s", device_word(feed), say_number(judge, device->high, amperes), stated_kind(judge, feed),
                           say_number(judge, made_a[i], UNIT_ALONE(UNIT_KA)));
            return;
        }
    }
}

/* The first device after the bank: in the cable from it, or behind switches that none stands before. */
static bool is_main_device(const Feed *feed)
{
    const Entity *giver = feed->giver;
    return feed->maker || giver == NULL || giver->kind == KIND_BANK || giver->fed == NULL || giver->fed->guard == NULL;
}

static bool is_breaker(const Feed *feed, const Figure *device)
{
    double amps = isfinite(device->high) ? device->high : device->low;
    return protection_row(device_class(feed_property(feed, PROP_FEED_PROTECT), amps, false))->breaker;
}

/* What a bank that states its cold-cranking current asks of a breaker by the US table, up to 24 V. */
static void judge_by_cranking(Judge *judge, const Feed *feed, const Figure *fault, Side breaks, const Figure *device,
                              const Breaking *unsaid)
{
    const Input *first = fault->input_count > 0 ? &fault->inputs[0] : NULL;
    const Entity *bank = first != NULL && first->kind == INPUT_FIGURE ? first->u.figure->subject : NULL;
    bool asked = judge->basis == BASIS_US && bank != NULL && entity_states(bank, PROP_BANK_CRANKING);
    Interval nominal = nominal_volts(judge, feed);
    if (!asked || !is_breaker(feed, device) || nominal.low > 24.0) {
        return;
    }
    Side cranks = side_value(judge, bank, PROP_BANK_CRANKING, 0);
    if (!side_is_known(cranks)) {
        judge_waiting(judge);
        return;
    }
    Interval all = interval_multiply(cranks.value, strings_of_bank(judge, bank));
    bool is_main = is_main_device(feed);
    Side wanted = cranks;
    wanted.value =
        (Interval){interrupting_required_a(all.low, is_main), interrupting_required_a(all.high, is_main)};
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, breaks, wanted);
    if (f != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        if (nominal.high > 24.0) {
            finding_may_not_apply(f);
        }
        finding_rests_on(judge, f, bank, PROP_BANK_PARALLEL);
        finding_rests_on_voltage(judge, f, feed);
        finding_say(judge, f, "the breaker of %s can break %s; behind a bank that cranks with %s US practice asks for %s",
                    feed_name(judge, feed), say_side(judge, side_interval(breaks.value, amperes)),
                    say_side(judge, side_interval(all, amperes)), say_side(judge, side_interval(wanted.value, amperes)));
        finding_note(judge, f, place_of(judge, bank, PROP_BANK_CRANKING), "its cold-cranking current");
        finding_remedy(judge, f, "a breaker that breaks more, or a class-t fuse before it");
        if (unsaid != NULL) {
            hang_on_class(judge, f, feed, unsaid);
        }
    }
}

/* Of mains the short circuit is the pontoon's: US practice asks what a device has to break at the least. */
static void judge_mains_breaking(Judge *judge, const Feed *feed)
{
    Side breaks = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_PROTECT), 4);
    if (judge->basis != BASIS_US || breaks.state == STATE_MISSING) {
        return; /* as breakers of mains usually do, it breaks 6 kA (IEC 60898), or 3 kA */
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, breaks, side_number(INTERRUPTING_REQUIRED_AC_A, breaks.unit));
    if (f != NULL) {
        finding_say(judge, f, "the protection of %s can break %s; of mains it has to break %s", feed_name(judge, feed),
                    say_side(judge, breaks), say_number(judge, INTERRUPTING_REQUIRED_AC_A, amperes));
        finding_remedy(judge, f, "a breaker that breaks as much, told in `protect`: `... interrupts %s`", say_number(judge, INTERRUPTING_REQUIRED_AC_A, amperes));
    }
}

void judge_protect_breaking(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    const Figure *fault = feed_figure(judge, feed, FIGURE_FAULT_CURRENT);
    if (protect != NULL && fault == NULL && feed_is_alternating(feed)) {
        judge_mains_breaking(judge, feed);
        return;
    }
    if (protect == NULL || fault == NULL) {
        return;
    }
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    if (device->state != STATE_KNOWN) {
        judge_waiting(judge);
        return;
    }
    Side breaks = side_block_value(judge, feed->subject, feed->block, feed_prop(feed, PROP_FEED_PROTECT), 4);
    bool assumed = breaks.state == STATE_MISSING;
    Interval nominal = nominal_volts(judge, feed);
    Breaking usual = assumed ? breaking_of(protect, device, fault, nominal) : (Breaking){.class = NULL};
    if (assumed) {
        breaks = side_figure(device); /* its class hangs on its rating */
        breaks.value = usual.amps;
    }
    Finding *f = feed_at_least(judge, feed, PROP_FEED_PROTECT, breaks, side_figure(fault));
    if (f == NULL) {
        judge_by_cranking(judge, feed, fault, breaks, device, assumed ? &usual : NULL);
        return;
    }
    const Entity *by_usual = bank_by_usual(fault);
    finding_rests_on_voltage(judge, f, feed);
    finding_say(judge, f, "a short circuit behind the protection of %s can draw %s%s%s",
                feed_name(judge, feed), say_figure(judge, fault),
                by_usual != NULL ? ", by what is usual for such a bank" : "",
                assumed ? say_breaking(judge, f, &usual, nominal)
                        : text_format(judge->arena, "; it can break %s", say_side(judge, breaks)));
    if (by_usual != NULL) {
        finding_severity(f, SEVERITY_WARNING);
        finding_remedy(judge, f, "`short-circuit` or `resistance` of `%s`, as its maker states it",
                       say_name(judge, by_usual));
    }
    remedy_breaker(judge, f, feed, device, fault);
    if (assumed) {
        hang_on_class(judge, f, feed, &usual);
        if (usual.class == NULL) {
            remedy_class(judge, f, protect, (Interval){device->low, device->high}, fault->high, nominal.high);
        }
        if (usual.class == NULL || usual.amps.high > 0.0) {
            finding_remedy(judge, f, "`interrupts %s` on its `protect`, if the device's own sheet says so",
                           say_figure(judge, fault));
        }
    }
    remedy_breaking(judge, f, feed, device, fault, nominal.high);
}

/* wire-terminals */

void judge_wire_terminals(Judge *judge, const Feed *feed)
{
    const Property *protect = feed_property(feed, PROP_FEED_PROTECT);
    const Figure *size = feed_figure(judge, feed, FIGURE_WIRE_SIZE);
    const Figure *device = feed_figure(judge, feed, FIGURE_PROTECTION);
    if (protect == NULL || size == NULL || device == NULL) {
        return;
    }
    if (device->state != STATE_KNOWN || size->state != STATE_KNOWN) {
        judge_waiting(judge);
        return;
    }
    Interval takes = {protection_takes_m2(device->low), protection_takes_m2(device->high)};
    Finding *f = feed_at_most(judge, feed, PROP_FEED_WIRE, side_figure(size), side_interval(takes, size->unit));
    if (f == NULL) {
        return;
    }
    finding_rests_on(judge, f, feed->subject, feed_prop(feed, PROP_FEED_PROTECT));
    finding_say(judge, f, "the cable of %s is %s%s, and the terminals of a device of %s hardly take it", feed_name(judge, feed),
                say_figure(judge, size), size->chosen ? " (chosen)" : "", say_figure(judge, device));
    finding_remedy(judge, f, "a thinner `wire`, with a thicker one on the way up to it if the drop asks for it");
    finding_remedy(judge, f, "a terminal block beside the device, and a short tail that it takes");
}

/* panel-overloaded */

/* Whether something on it alone is too much for it: no share of the whole is less. */
static bool one_is_too_much(const Judge *judge, const Entity *panel, Side rating)
{
    for (const Feed *feed = panel->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *current = draws_itself(judge, feed->taker) ? feed_figure(judge, feed, FIGURE_CURRENT) : NULL;
        if (current != NULL && side_is_known(rating) && current->low > rating.value.high &&
            !entity_states(feed->taker, PROP_COMMON_COUNT)) {
            return true;
        }
    }
    return false;
}

void judge_panel_overloaded(Judge *judge, const Entity *panel)
{
    PropId rated = rating_prop(panel);
    const Figure *current = NULL;
    for (const Feed *feed = panel->fed; feed != NULL && current == NULL; feed = feed->next) {
        current = feed_figure(judge, feed, FIGURE_CURRENT);
    }
    if (current == NULL || !entity_states(panel, rated)) {
        return; /* nothing flows, or nothing is claimed */
    }
    Side rating = side_value(judge, panel, rated, 0);
    Finding *f = judge_at_least(judge, panel, place_of(judge, panel, rated), rating, side_figure(current));
    if (f != NULL) {
        finding_say(judge, f, "`%s` is rated %s but %s can run through it at once", say_name(judge, panel),
                    say_side(judge, rating), say_figure(judge, current));
        if (panel->kind == KIND_OUTLET) {
            finding_remedy(judge, f, "an outlet more, on a circuit of its own");
            return;
        }
        remedy_at_least(judge, f, "rated", current);
        if (panel->kind != KIND_SWITCH && !one_is_too_much(judge, panel, rating)) {
            finding_remedy(judge, f, "`together`, if never so much of it runs at once");
        }
    }
}

/* switch-cranking */

static void ask_cranking_rating(Judge *judge, const Entity *thing, Side rating, Side cranks)
{
    Finding *f =
        judge_open(judge, thing, place_of(judge, thing, PROP_SWITCH_RATED), thing, PROP_SWITCH_CRANKING);
    if (side_is_known(rating)) {
        finding_say(judge, f,
                    "%s crank through `%s`, which is rated %s for long; what it carries for seconds it does "
                    "not state",
                    say_side(judge, cranks), say_name(judge, thing), say_side(judge, rating));
    } else {
        finding_say(judge, f, "%s crank through `%s`, which states neither `rated` nor `cranking`",
                    say_side(judge, cranks), say_name(judge, thing));
    }
    finding_remedy(
        judge, f, "`cranking`, its rating for cranking or intermittent current%s",
        isfinite(cranks.value.high)
            ? text_format(judge->arena, ", of %s or more", say_number(judge, cranks.value.high, cranks.unit))
            : "");
}

void judge_switch_cranking(Judge *judge, const Entity *thing)
{
    const Figure *figure = figure_of(judge, thing, FIGURE_CRANKING);
    if (figure == NULL) {
        return;
    }
    Side cranks = side_figure(figure);
    Side rated = side_value(judge, thing, PROP_SWITCH_RATED, 0);
    if (!entity_states(thing, PROP_SWITCH_CRANKING)) {
        if (!side_is_known(cranks)) {
            judge_waiting(judge);
        } else if (side_is_known(rated) && ask_at_least(rated, cranks) == ANSWER_YES) {
            judge_holds(judge); /* what it carries for long it carries for seconds */
        } else {
            ask_cranking_rating(judge, thing, rated, cranks);
        }
        return;
    }
    Side rating = side_value(judge, thing, PROP_SWITCH_CRANKING, 0);
    Finding *f = judge_at_least(judge, thing, place_of(judge, thing, PROP_SWITCH_CRANKING), rating, cranks);
    if (f != NULL) {
        finding_say(judge, f, "`%s` may carry %s while an engine cranks, and the starter behind it takes %s",
                    say_name(judge, thing), say_side(judge, rating), say_figure(judge, figure));
        remedy_at_least(judge, f, "cranking", figure);
    }
}
