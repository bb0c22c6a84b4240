/*
 * What stands between an inverter and the mains that it passes through: the cable, its breaker, and the transfer switch
 * inside; and the neutral at transfer switches.
 */
#include "rules/shore.h"

static const UnitPair plain = {UNIT_NONE, UNIT_NONE};

/* inverter-passes */

static void tell_loop(Judge *judge, const Entity *inverter, const Entity *passed)
{
    Finding *f = judge_broken(judge, inverter, place_of(judge, inverter, PROP_INVERTER_PASSES));
    finding_say(judge, f, "`%s` passes `%s` through, which hangs on `%s` itself", say_name(judge, inverter),
                say_name(judge, passed), say_name(judge, inverter));
    finding_remedy(judge, f, "`passes` with a circuit that hangs on the shore inlet or the generator");
}

static void tell_no_cable(Judge *judge, const Entity *inverter, const Entity *passed)
{
    Finding *f = judge_broken(judge, inverter, place_of(judge, inverter, PROP_INVERTER_PASSES));
    finding_hangs_on(judge, f, inverter, PROP_NONE, "circuit"); /* there may be one that the spec leaves out */
    finding_say(judge, f,
                "the live cable that brings `%s` what it passes through stands in no list: `%s` is no circuit that leads to it",
                say_name(judge, inverter), say_name(judge, passed));
    finding_remedy(judge, f, "`circuit to-%s { fed-by %s; run ...; protect ... breaker; poles 2 }` and `passes to-%s`",
                   say_name(judge, inverter), say_name(judge, passed), say_name(judge, inverter));
}

/* What the transfer switch carries, against the breaker in the cable to it; a cable without any is told elsewhere. */
static void judge_transfer_rating(Judge *judge, const Entity *inverter, const Feed *cable)
{
    Side carries = side_value(judge, inverter, PROP_INVERTER_TRANSFER, 1);
    Side breaker = side_figure(cable->guard != NULL ? feed_figure(judge, cable->guard, FIGURE_PROTECTION) : NULL);
    Finding *f;
    if (cable->guard == NULL) {
        return;
    }
    if (carries.state == STATE_MISSING) {
        f = judge_open(judge, inverter, place_of(judge, inverter, PROP_INVERTER_TRANSFER), inverter, PROP_INVERTER_TRANSFER);
        finding_say(judge, f, "`%s` does not say what current its transfer switch carries; the breaker before it lets %s pass",
                    say_name(judge, inverter), say_side(judge, breaker));
        finding_about(f, PROP_INVERTER_TRANSFER);
        finding_remedy(judge, f, "`transfer yes 16 A`, with what its maker states");
        return;
    }
    f = judge_at_least(judge, inverter, place_of(judge, inverter, PROP_INVERTER_TRANSFER), carries, breaker);
    if (f != NULL) {
        finding_about(f, PROP_INVERTER_TRANSFER);
        finding_say(judge, f, "the transfer switch of `%s` carries %s, and the breaker before it lets %s pass",
                    say_name(judge, inverter), say_side(judge, carries), say_side(judge, breaker));
        finding_note(judge, f, place_in_block(judge, cable->guard->subject, cable->guard->block, PROP_FEED_PROTECT),
                     "the breaker");
        finding_remedy(judge, f, "protect %s breaker, or a smaller one", say_no_more(judge, carries.value.low, carries.unit));
    }
}

void judge_inverter_passes(Judge *judge, const Entity *inverter)
{
    const Entity *passed = entity_reference(inverter, PROP_INVERTER_PASSES);
    if (has_mistake(inverter, PROP_INVERTER_PASSES)) {
        judge_waiting(judge);
        return;
    }
    if (!is_aboard(passed)) {
        return;
    }
    if (all_behind(judge, inverter)[passed->index]) {
        tell_loop(judge, inverter, passed);
        return;
    }
    if (passed->kind != KIND_CIRCUIT) {
        tell_no_cable(judge, inverter, passed);
        return;
    }
    if (passed->fed != NULL && entity_yes(inverter, PROP_INVERTER_TRANSFER) == 1) {
        judge_transfer_rating(judge, inverter, passed->fed);
    }
}

/* neutral-bond, at a transfer switch: the neutral of the source that is off has to be off too */

void judge_switched_neutral(Judge *judge, const Entity *transfer)
{
    bool one = transfer->fed == NULL ? transfer->made == NULL || transfer->made->next_of_taker == NULL
                                     : transfer->fed->next == NULL && transfer->made == NULL;
    if (one || !(transfer->flags & ENTITY_AC) || !str_is(entity_word(transfer, PROP_SWITCH_WORKS_AS), "transfer")) {
        return;
    }
    Side poles = side_value(judge, transfer, PROP_FEED_POLES, 0);
    Finding *f;
    if (poles.state == STATE_MISSING) {
        f = judge_open(judge, transfer, place_of_name(judge, transfer), transfer, PROP_FEED_POLES);
        finding_say(judge, f,
                    "`%s` does not say how many conductors it switches (`poles`): the neutral of the source that is off has to "
                    "be off too",
                    say_name(judge, transfer));
    } else {
        f = judge_at_least(judge, transfer, place_of(judge, transfer, PROP_FEED_POLES), poles, side_number(2.0, plain));
        if (f == NULL) {
            return;
        }
        finding_say(judge, f, "`%s` leaves the neutrals of its sources joined: neutral then meets ground at two places at once",
                    say_name(judge, transfer));
    }
    finding_about(f, PROP_FEED_POLES);
    finding_remedy(judge, f, "poles 2");
}
