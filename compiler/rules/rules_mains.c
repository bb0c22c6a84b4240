/*
 * Mains and what hangs on them: what is made for which kind of power, and the way through an inverter. Each rule carries the
 * mains caution; the others of mains are in rules_shore.c.
 */
#include "rules/families.h"

#include "rules/shore.h"

/* Examples: a bank and an inlet with its panel; each rule varies a line. */

#define SHIP(lines) \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 400 Ah }\n" \
    "panel main { fed-by house; run 1 m; wire 2 AWG; protect 80 A fuse class-t 0.2 m from source }\n" \
    "inlet shore { rated 30 A at 120 V; frequency 60 Hz; run 2 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker; poles 2; " \
    "ground-fault 30 mA; isolation galvanic; bonded yes }\n" \
    "panel ac-main { fed-by shore; run 1 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker; poles 2 }\n" lines
#define CHARGED_FROM(giver) SHIP("charger shore-charger { fed-by " giver "; run 2 m; wire 10 AWG; protect 20 A breaker; " \
                                 "output 20 A at 14.4 V; feeds house { run 1 m; protect 30 A fuse } }\n")
#define FAN(volts) SHIP("load fan { fed-by ac-main; run 2 m; wire 14 AWG; ground 14 AWG; protect 15 A breaker; poles 2; " \
                        "draw 60 W; made-for " volts " }\n")
#define THROUGH(passed, transfer) \
    SHIP("circuit to-sine { fed-by ac-main; run 2 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker; poles 2 }\n" \
         "inverter sine { fed-by house; run 1 m; wire 2/0 AWG insulation 105 C; protect 200 A fuse class-t 0.2 m from source; " \
         "rated 1500 W; output 120 V; passes " passed "; transfer yes " transfer "; bonds-neutral yes }\n")

static const Rule rules[] = {
    {
        .name = "wrong-supply",
        .severity = SEVERITY_FAULT,
        .title = "what is made for mains hangs on mains, and what is made for direct current hangs on that",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "common practice, no source; mains are taken to begin at 80 V, a choice of this program",
        .why = "A lamp for a battery on mains burns at once, and its case may be live; a charger on a battery does nothing. A "
               "`charger` takes mains; a `converter`, an `inverter`, a data backbone and an engine take direct current; of "
               "everything else counts what it is `made-for`, and of what hangs on direct current also a draw that is stated at the "
               "voltage of mains. What that would draw where it hangs nobody knows: what goes by its current waits. Of other "
               "voltages at which a draw is stated tells `wrong-voltage`. An `inlet` is fed by the shore, which no line states, or "
               "by the cord of a generator, and by nothing else aboard.",
        .breaks = CHARGED_FROM("main"),
        .holds = CHARGED_FROM("ac-main"),
        .open = FAN("12..120 V"),
        .judge_boat = judge_wrong_supply,
    },
    {
        .name = "inverter-passes",
        .severity = SEVERITY_FAULT,
        .title = "what an inverter passes through comes by a cable of the spec, behind a breaker that its transfer switch stands",
        .basis = ON_BOTH,
        .danger = DANGER_MAINS,
        .source = "the rating of the transfer switch: its maker's; a cable and a breaker as for any other: common practice, no source",
        .why = "That cable is live whenever the shore is, and carries all that hangs on the inverter, and what its charger "
               "takes. As a `circuit` that the inverter `passes` it has a size, a breaker and a label like any other, and the "
               "charger of a combined device is `fed-by` the same circuit. The relay inside is made for some current: a "
               "breaker that lets more pass welds it shut, and then the shore meets the inverter.",
        .breaks = THROUGH("to-sine", "20 A"),
        .holds = THROUGH("to-sine", "30 A"),
        .open = THROUGH("ac-main", "30 A"),
        .kinds = {KIND_INVERTER},
        .judge = judge_inverter_passes,
    },
};

const RuleFamily rules_mains = RULE_FAMILY("Mains and what hangs on them", rules);
