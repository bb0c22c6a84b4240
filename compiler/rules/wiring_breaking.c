/*
 * One rule of wiring: protect-breaking. A fuse or breaker breaks what can flow into a short circuit behind it.
 */
#include "rules/wiring_rules.h"

#include "figures/power.h"
#include "rules/ask.h"
#include "rules/network.h"
#include "rules/upstream.h"
#include "rules/wiring.h"

#include <math.h>
#include <string.h>

static const UnitPair amperes = {UNIT_A, UNIT_NONE};

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

static Breaking by_class(const Property *protect, ProtectionClass class, Interval volts)
{
    const Value *stated = property_value(protect, 5); /* `for 58 V` */
    double stated_v = stated->kind == VALUE_QUANTITY ? stated->u.quantity.low : 0.0;
    Interval amps = {interrupting_capacity_a(class, breaks_as_at_v(class, volts.high, stated_v), false),
                     interrupting_most_a(class, breaks_as_at_v(class, volts.low, stated_v))};
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
        return by_class(protect, device_class(protect, device->high, false), volts);
    }
    if (device->chosen && fault->state == STATE_KNOWN) { /* the class is left to the program too */
        ProtectionClass serves = device_that_breaks(protect, device->high, volts.high, fault->high);
        return by_class(protect, serves != PROTECTION_CLASS_COUNT ? serves : class_by_kind(protect, device->high, false), volts);
    }
    return by_rating(kind, device, volts);
}

/* What is open of a device hangs on its class, or on what it interrupts where that is stated, if these do not all break the same. */
static void hang_on_sheet(Judge *judge, Finding *f, const Feed *feed, const Breaking *breaking)
{
    if (f->verdict == VERDICT_OPEN && breaking->amps.low < breaking->amps.high) {
        finding_hangs_on(judge, f, feed->subject, PROP_NONE,
                         text_format(judge->arena, "%s %s", say_property(judge, feed->subject, feed_prop(feed, PROP_FEED_PROTECT)),
                                     breaking->class != NULL ? "interrupts" : "class"));
    }
}

/* "; it can break 1000 A, as blade devices usually do" */
static const char *say_breaking(Judge *judge, const Finding *f, const Breaking *usual, Interval at)
{
    ProtectionClass class = usual->class != NULL ? protection_class_named(usual->class, strlen(usual->class)) : PROTECTION_CLASS_COUNT;
    if (class != PROTECTION_CLASS_COUNT && usual->amps.high <= 0.0 && protection_row(class)->volts_dc <= 0.0) {
        return text_format(judge->arena, "; %s devices are made for alternating current, and nothing says that they break any direct current",
                           usual->class);
    }
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
    if (usual->class != NULL && f->verdict == VERDICT_OPEN && usual->amps.low < usual->amps.high) {
        return text_format(judge->arena, "; it can break %s, as %s devices do by their makers' sheets", amps, usual->class);
    }
    if (usual->class != NULL && usual->amps.low < usual->amps.high) {
        return text_format(judge->arena, "; it can break no more than %s, the most that %s devices do",
                           say_number(judge, usual->amps.high, amperes), usual->class);
    }
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

/* " for 48 V", of a class that is not made for the voltage here: the device's own sheet has to say that as well (protect-voltage). */
static const char *say_its_volts(const Judge *judge, const Feed *feed)
{
    const Value *class = property_value(feed_property(feed, PROP_FEED_PROTECT), 2);
    ProtectionClass of = class->kind == VALUE_WORD ? protection_class_named(class->u.word.text, class->u.word.length) : PROTECTION_CLASS_COUNT;
    Interval at_v = nominal_volts(judge, feed);
    bool is_made = of == PROTECTION_CLASS_COUNT || at_v.high <= protection_row(of)->volts_dc;
    return is_made ? "" : text_format(judge->arena, " for %s, if its own sheet says as much", asked_volts(judge, feed, at_v));
}

/* In the place of a breaker another breaker, where some that are made for it break so much: of panels up to 10 kA. */
static void remedy_breaker(Judge *judge, Finding *f, const Feed *feed, const Figure *device, const Figure *fault)
{
    static const double made_a[] = {3000.0, 5000.0, 10000.0}; /* common practice, no source */
    const Value *kind = property_value(feed_property(feed, PROP_FEED_PROTECT), 1);
    bool sure = fault->state == STATE_KNOWN && isfinite(device->high) && device->low == device->high;
    for (size_t i = 0; sure && kind->kind == VALUE_WORD && str_is(kind->u.word, "breaker") && i < sizeof made_a / sizeof made_a[0]; i++) {
        if (made_a[i] >= fault->high) {
            finding_remedy(judge, f, "%s %s%s interrupts %s%s", device_word(feed), say_number(judge, device->high, amperes), stated_kind(judge, feed),
                           say_number(judge, made_a[i], UNIT_ALONE(UNIT_KA)), say_its_volts(judge, feed));
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
            hang_on_sheet(judge, f, feed, unsaid);
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
        hang_on_sheet(judge, f, feed, &usual);
        if (usual.class == NULL) {
            remedy_class(judge, f, protect, (Interval){device->low, device->high}, fault->high, nominal.high);
        }
        if ((usual.class == NULL || usual.amps.high > 0.0) && isfinite(fault->high)) {
            finding_remedy(judge, f, "`interrupts %s` on its `protect`, if the device's own sheet says so",
                           say_no_less(judge, fault->high, fault->unit));
        }
    }
    remedy_breaking(judge, f, feed, device, fault, nominal.high);
}
