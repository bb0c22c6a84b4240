/*
 * What flows and what faults draw: voltages at loads, starts, the order of devices and whether they see a fault. The
 * figures are those of the solved network and of its short circuits; the limits are published ones or choices of this
 * program, and say so.
 */
#include "rules/families.h"
#include "rules/network.h"
#include "rules/shore.h"

/* Examples: one bank, one panel, one circuit; each rule varies a line of it. */

#define BANK "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
#define PANEL(protect) \
    "panel main { fed-by house; run 1 m; wire 2 AWG insulation 105 C; " protect " 0.15 m from source }\n"
#define ON_MAIN(circuit, load) \
    EXAMPLE_BOAT BANK PANEL("protect 100 A fuse class-t") "circuit pump-1 { fed-by main; " circuit " }\n" \
    "load motor { fed-by pump-1; " load " }\n"
#define IN_ORDER(above, below) \
    EXAMPLE_BOAT BANK PANEL("protect " above " fuse class-t") \
    "circuit pump-1 { fed-by main; run 2 m; wire 8 AWG; protect " below " breaker }\nload motor { fed-by pump-1; draw 5 A }\n"
#define AT_48_V(protect) \
    EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 51.2 V; capacity 100 Ah; resistance 20 mohm }\n" \
    "panel main { fed-by house; run 1 m; wire 6 AWG; " protect " }\nload motor { fed-by main; run 2 m; draw 5 A }\n"
#define BUS(rated) \
    EXAMPLE_BOAT BANK "bus positive { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse class-t; rated " rated " }\n" \
    "engine motor { rated 12 kW at 3000 rpm; fuel diesel }\n" \
    "alternator spinning { engine motor; output 120 A at 14.2 V\n" \
    "  feeds positive { run 2 m; wire 1/0 AWG; protect 150 A fuse class-t } }\n"
#define TWO_BANKS(thin) \
    EXAMPLE_BOAT BANK "bank start { role start; chemistry agm; voltage 12 V; capacity 90 Ah }\n" \
    "bus one { fed-by house; run 1 m; wire 2/0 AWG insulation 105 C; protect 300 A fuse class-t }\n" \
    "bus other { fed-by start; run 1 m; wire " thin " insulation 105 C; protect 40 A fuse class-t }\n" \
    "switch both { fed-by one, other; works-as parallel }\n"
#define BEHIND_CONVERTER(output) \
    EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 25.6 V; capacity 200 Ah }\n" \
    "converter down { fed-by house; output " output " at 13.2 V }\n" \
    "panel small { fed-by down }\nload cold { fed-by small; draw 6 A }\nload lamps { fed-by small; draw 10 A }\n"
#define GROUNDED(ground) \
    EXAMPLE_BOAT BANK PANEL("protect 100 A fuse class-t") \
    "circuit pump-1 { fed-by main; run 2 m; wire 8 AWG; ground " ground "; protect 30 A breaker }\n" \
    "load motor { fed-by pump-1; draw 5 A }\n"

static const Rule rules[] = {
    {
        .name = "low-voltage",
        .severity = SEVERITY_WARNING,
        .title = "no load is left below the voltage that it needs",
        .basis = ON_BOTH,
        .source = "common practice, no source; lowest working voltage of a bank by its chemistry",
        .why = "A bank that is nearly empty gives a volt less than a full one, and the cables take their share. Radios, pilots "
               "and refrigerators stop, often just when they matter. Judged where a load states `min-voltage`, with all that "
               "can run at once running.",
        .breaks = ON_MAIN("run 8 m; wire 14 AWG; protect 15 A breaker", "draw 10 A; min-voltage 11 V"),
        .holds = ON_MAIN("run 8 m; wire 6 AWG; protect 15 A breaker", "draw 10 A; min-voltage 11 V"),
        .open = ON_MAIN("run 8 m; wire 14..6 AWG; protect 15 A breaker", "draw 10 A; min-voltage 11 V"),
        .judge_boat = judge_low_voltage,
    },
    {
        .name = "collapse",
        .severity = SEVERITY_FAULT,
        .title = "every cable can bring the power that is asked through it, and every bank what is asked of it",
        .basis = ON_BOTH,
        .source = "Ohm's law: a source of E volts brings at most E2 / 4R watts through R ohm",
        .why = "What takes the same power at any voltage takes more current as its voltage falls, which makes it fall further. "
               "Beyond a certain power there is no voltage at which both agree: an inverter or a pump then switches on and off "
               "or burns, and the cable is the heater. A bank's own resistance does the same: more than half of the current that it "
               "gives into a short circuit leaves less than half of its voltage, and of constant power that is so from a quarter on. "
               "Where nobody states that resistance, the least that is usual for its chemistry counts. Thrusters have `thruster-volts`, and of banks "
               "that are joined nobody knows how much each gives.",
        .breaks = ON_MAIN("run 20 m; wire 16 AWG; protect 15 A breaker", "draw 120 W"),
        .holds = ON_MAIN("run 20 m; wire 8 AWG; protect 15 A breaker", "draw 120 W"),
        .open = ON_MAIN("run 20 m; wire 16..8 AWG; protect 15 A breaker", "draw 120 W"),
        .kinds = {KIND_BANK},
        .judge = judge_bank_collapse,
        .judge_feed = judge_collapse,
    },
    {
        .name = "surge",
        .severity = SEVERITY_WARNING,
        .title = "what starts with a surge neither opens its protection nor starves",
        .basis = ON_BOTH,
        .source = "times of blade fuses from ISO 8820-3 and gates of gG from IEC 60269-1, second hand; bolt-on fuses from ISO 8820-5, "
                  "from memory; other devices twice their rating "
                  "for a second, a choice of this program; fuses 1.1 times their rating for a minute, as UL 248-2 and 248-9 test them "
                  "for longer, second hand, and other standards from memory",
        .why = "Motors take several times their current while they start, and inverters what their loads do. A device that "
               "opens at each start is soon replaced by one that protects nothing; a voltage that falls too far makes the start "
               "fail. A surge without a time is taken to last half a second. A device in the way of a starter, which needs none, "
               "has to carry it for 5 seconds, a choice of this program, as a fuse does with 1.1 times its rating; and what needs its voltage is looked at while an engine is "
               "cranked from its bank.",
        .breaks = ON_MAIN("run 4 m; wire 8 AWG; protect 20 A fuse blade", "draw 10 A; surge 60 A for 0.5 s"),
        .holds = ON_MAIN("run 4 m; wire 8 AWG; protect 20 A fuse blade", "draw 10 A; surge 25 A for 0.5 s"),
        .open = ON_MAIN("run 4 m; wire 8 AWG; protect 20 A fuse blade", "draw 10 A; surge 25..60 A for 0.5 s"),
        .judge_boat = judge_surge,
    },
    {
        .name = "protect-blind",
        .severity = SEVERITY_WARNING,
        .title = "a short circuit at the far end is large enough to open the device promptly",
        .basis = ON_BOTH,
        .source = "times of blade fuses from ISO 8820-3 and gates of gG from IEC 60269-1, second hand; bolt-on fuses from ISO 8820-5, "
                  "from memory; other devices 4 times their "
                  "rating, a choice of this program",
        .why = "A long thin cable lets so little current into a short circuit that the device takes it for a load, while the "
               "cable and whatever shorts it grow hot. Reckoned with the bank low, its resistance at its greatest, and the "
               "cable warm; prompt is within 5 seconds. A breaker that gets twice its rating at least opens later, and is only advice "
               "where that is no more than twice what the cable carries for ever: the usual cable up a mast.",
        .breaks = ON_MAIN("run 15 m; wire 14 AWG; protect 20 A breaker", "draw 2 A"),
        .holds = ON_MAIN("run 3 m; wire 14 AWG; protect 20 A breaker", "draw 2 A"),
        .open = ON_MAIN("run 3..15 m; wire 14 AWG; protect 20 A breaker", "draw 2 A"),
        .judge_feed = judge_protect_blind,
    },
    {
        .name = "protect-order",
        .severity = SEVERITY_WARNING,
        .title = "upstream of each device stands a larger one",
        .basis = ON_BOTH,
        .source = "fuses gG 1.6 to 1 (IEC 60269, verified); others larger at all: common practice, no source",
        .why = "A fault opens the nearest device only if that is the smallest on the way; else half of the boat goes dark for "
               "one lamp. A larger rating is necessary, and not always enough: a large short circuit may open both. Two that are "
               "equal may stand one behind the other where nothing but switches lies between, on which nothing else hangs: "
               "whichever of them opens, the same goes dark (common practice, no source).",
        .breaks = IN_ORDER("30 A", "30 A"),
        .holds = IN_ORDER("60 A", "30 A"),
        .open = IN_ORDER("25..60 A", "30 A"),
        .judge_feed = judge_protect_order,
    },
    {
        .name = "protect-voltage",
        .severity = SEVERITY_FAULT,
        .title = "a device is rated for the voltage of its circuit",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "33 CFR 183.455(d), verified; voltages of the classes from their standards, in part from memory. "
                  "What charges above 32 V, against a voltage that the device states: common practice, no source",
        .why = "Direct current does not pass through zero, so an arc that a device cannot stretch out goes on burning. Blade "
               "fuses are made for 32 V; at 48 V they can fail to clear. A device for alternating current alone is none for "
               "direct current. The clause speaks of the circuit's nominal voltage; a device whose sheet ends at 48 V has to break "
               "58 V while the bank charges, which is a warning.",
        .breaks = AT_48_V("protect 60 A fuse blade"),
        .holds = AT_48_V("protect 60 A fuse class-t"),
        .open = AT_48_V("protect 60 A fuse"),
        .judge_feed = judge_protect_voltage,
    },
    {
        .name = "two-ended",
        .severity = SEVERITY_FAULT,
        .title = "a cable between two sources is protected at each end that can feed a fault",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "33 CFR 183.455(b) and 183.460(a), each source of power; iso: ISO 13297:2020 12.3, 13.2",
        .why = "Where two banks are joined, a short circuit in the thinner cable is fed from both ends: its own fuse opens, and "
               "the other bank goes on through a fuse that was chosen for a thicker one. What makes power limits its own "
               "current; a device that stands at its end is judged against the cable.",
        .breaks = TWO_BANKS("8 AWG"),
        .holds = TWO_BANKS("2/0 AWG"),
        .open = TWO_BANKS("8..2/0 AWG"),
        .judge_feed = judge_output_device,
        .judge_boat = judge_joined_banks,
    },
    {
        .name = "bus-overloaded",
        .severity = SEVERITY_FAULT,
        .title = "what sources bring to a bus, panel or switch fits its rating",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A bus is chosen for what hangs on it, and later an alternator, an array and a charger are bolted to it as well. "
               "On a sunny day under way they all come at once, and when nothing takes it all of it goes back to the bank, "
               "through whatever stands between.",
        .breaks = BUS("100 A"),
        .holds = BUS("150 A"),
        .open = BUS("100..150 A"),
        .kinds = {KIND_BUS, KIND_PANEL, KIND_SWITCH},
        .judge = judge_bus_overloaded,
    },
    {
        .name = "converter-overloaded",
        .severity = SEVERITY_WARNING,
        .title = "a converter gives what can be asked of it",
        .basis = ON_BOTH,
        .source = "its `output`; what runs at once: common practice, from memory",
        .why = "Where no bank stands behind a converter, all that hangs there has only what it gives. Asked for more it lets its "
               "voltage fall or shuts off, and lights, radios and instruments go together. What runs long counts in full, and "
               "the greater of the largest brief load and a tenth of them; or `together` of the panel.",
        .breaks = BEHIND_CONVERTER("10 A"),
        .holds = BEHIND_CONVERTER("30 A"),
        .open = BEHIND_CONVERTER("10..30 A"),
        .kinds = {KIND_CONVERTER},
        .judge = judge_converter_overloaded,
    },
    {
        .name = "dc-ground-thin",
        .severity = SEVERITY_WARNING,
        .title = "a grounding conductor is at most a size thinner than what it goes with",
        .basis = ON_BOTH,
        .source = "us: voluntary practice, at most one size under its conductor and no less than 16 AWG, from memory; iso the "
                  "same, from memory",
        .why = "The grounding conductor carries the fault until the device opens. One that is much thinner than its circuit "
               "burns first. Judged where a feed of direct current states `ground`.",
        .breaks = GROUNDED("14 AWG"),
        .holds = GROUNDED("10 AWG"),
        .open = GROUNDED("14..10 AWG"),
        .judge_feed = judge_dc_ground_thin,
    },
};

const RuleFamily rules_network = RULE_FAMILY("What flows, and what faults draw", rules);
