/*
 * Banks and what charges them: the table of their rules. The rules themselves are in the files bank_*.c; bank.h says which
 * is where.
 */
#include "rules/families.h"

#include "rules/bank.h"

/* Examples: each varies a line of a bank, or of what hangs on it. */

#define LITHIUM(lines) EXAMPLE_BOAT \
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah; " lines " }\n"
#define LEAD(lines) EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; " lines " }\n"
#define PANEL_AND_PUMP(draw) \
    "panel main { fed-by house; run 1 m; wire 2 AWG; protect 150 A fuse class-t 0.15 m from source }\n" \
    "load pump-motor { fed-by main; run 2 m; wire 2 AWG; protect 150 A breaker; draw " draw " }\n"
#define ENGINE "engine auxiliary { rated 14 hp at 3000 rpm; fuel diesel }\n"
#define CHARGED_BY(output, lines) \
    ENGINE "alternator belt-maker { engine auxiliary; output " output " at 14.2 V; " lines \
    "feeds house { run 2 m; wire 2 AWG; protect 150 A fuse 0.15 m from source } }\n"
#define TWO_BANKS(works_as, chemistry) EXAMPLE_BOAT \
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 200 Ah }\n" \
    "bank start { chemistry " chemistry "; voltage 12 V; capacity 90 Ah; role start }\n" \
    "switch joiner { fed-by house, start; works-as " works_as "; rated 300 A }\n"
#define JOINED_AT(volts, works_as) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 24 V; capacity 200 Ah }\n" \
    "bank start { chemistry agm; voltage " volts "; capacity 90 Ah; role start }\n" \
    "switch joiner { fed-by house, start; works-as " works_as "; rated 300 A }\n"
#define CHARGED_THROUGH(run) EXAMPLE_BOAT ENGINE \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "bus positive { fed-by house; run " run "; wire 2 AWG insulation 105 C; protect 150 A fuse class-t }\n" \
    "alternator belt-maker { engine auxiliary; output 90 A at 14.2 V\n" \
    "  feeds positive { run 1 m; wire 2 AWG insulation 105 C; protect 150 A fuse } }\n"
#define START(cranking, fed_by) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start; cranking " cranking " }\n" \
    "engine auxiliary { rated 14 hp at 3000 rpm; fuel diesel; fed-by start; run 1 m; starter 300 A }\n" \
    "load fridge { fed-by " fed_by "; run 2 m; wire 10 AWG; protect 15 A breaker; draw 4 A }\n"
#define BILGE(fed_by, automatic) EXAMPLE_BOAT \
    "space well { bilge yes }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "switch house-switch { fed-by house; works-as battery }\n" \
    "bilge-pump bilge { space well; fed-by " fed_by "; run 2 m; protect 5 A fuse; draw 4 A; " automatic "}\n"
#define PETROL(lines) EXAMPLE_BOAT \
    "space engine-bay { petrol yes }\nspace saloon { }\n" \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; space saloon }\n" \
    "blower fan { space engine-bay; fed-by house; run 2 m; protect 5 A fuse; draw 4 A; " lines "}\n"
#define VITAL(capacity) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity " capacity " }\n" \
    "circuit lights { fed-by house; run 5 m; wire 14 AWG; protect 10 A fuse }\n" \
    "nav-light side-lamps { fed-by lights; shows sidelights; draw 3 A }\n"

#define LOOPED(fed_by, lines) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "inverter sine { fed-by house; run 1 m; rated 1200 W; output 120 V }\n" \
    "inlet shore { rated 30 A at 120 V; run 2 m }\n" \
    "switch source { works-as transfer; fed-by shore, sine }\n" \
    "charger shore-charger { fed-by " fed_by "; run 2 m; output 30 A at 14.4 V; " lines \
    "feeds house { run 1 m; protect 40 A fuse } }\n"
#define SHORE_CHARGED(chemistry, volts) \
    "bank house { chemistry " chemistry "; voltage 12 V; capacity 200 Ah }\ninlet shore { rated 30 A at 120 V; run 2 m }\n" \
    "charger shore-charger { fed-by shore; run 2 m; output 30 A at " volts "; feeds house { run 1 m; protect 40 A fuse } }\n"
#define PANEL_OF(rated) \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "solar roof { rated " rated "; open-circuit 22 V; short-circuit 6 A }\n"
#define CRANKS(capacity) \
    EXAMPLE_BOAT "bank start { chemistry agm; voltage 12 V; capacity " capacity "; role start; cranking 640 A }\n"
#define DRAINED(output, lines) EXAMPLE_BOAT ENGINE \
    "bank start { chemistry agm; voltage 12 V; capacity 70 Ah; role start }\n" \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "alternator small { engine auxiliary; output 16 A at 14.4 V; feeds start { run 2 m; wire 6 AWG; protect 40 A fuse } }\n" \
    "converter across { fed-by start; run 1 m; output " output " at 14.2 V; " lines "feeds house { run 1 m; protect 60 A fuse } }\n"
#define SUN(feeds) EXAMPLE_BOAT \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nsolar roof { rated 100 W; " feeds "}\n"
#define CHARGED_AT(volts) EXAMPLE_BOAT ENGINE \
    "bank house { chemistry lifepo4; voltage 25.6 V; capacity 200 Ah }\n" \
    "alternator belt-maker { engine auxiliary; output 80 A at " volts "\n" \
    "  feeds house { run 2 m; wire 2 AWG; protect 150 A fuse 0.15 m from source } }\n"

static const Rule rules[] = {
    {
        .name = "bank-discharge",
        .severity = SEVERITY_FAULT,
        .title = "no more is asked of a bank than it may give",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "the maker's `max-discharge`; without it a usual figure of the chemistry, common "
                  "practice, no source",
        .why = "A lithium bank that is asked for too much disconnects itself, perhaps in the middle of a "
               "manoeuvre; lead grows hot and ages, which is a warning. Against the maker's figure stands all that can run at "
               "once. Against a usual figure, which only ever warns, stands what flows three hours or more: "
               "bursts are outside of it. A starter counts against `cranking`, where that is stated (see "
               "start-alone). A bank that a switch lends to the starter of another one is held against that too, as a warning.",
        .breaks = LITHIUM("max-discharge 100 A") PANEL_AND_PUMP("120 A"),
        .holds = LITHIUM("max-discharge 200 A") PANEL_AND_PUMP("120 A"),
        .open = LITHIUM("max-discharge 100 A") PANEL_AND_PUMP("80..120 A"),
        .judge_boat = judge_bank_discharge,
    },
    {
        .name = "bank-charge",
        .severity = SEVERITY_FAULT,
        .title = "all that charges a bank together brings no more than it may take",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "the maker's `max-charge`; without it a usual figure of the chemistry, from memory",
        .why = "Alternator, charger and sun may all charge at once, each by itself within the limit. "
               "Lithium takes what it is offered until it disconnects itself or is harmed. Flooded and agm "
               "batteries at the right voltage take no more than they can stand: there a usual figure only "
               "advises. A charger on the shore cable and what an engine of the boat drives seldom run at one time: where only "
               "both together bring too much, it is a warning at most. What a relay passes on of a charger that feeds the bank itself "
               "too counts once: the charger gives no more than its `output` in all.",
        .breaks = LITHIUM("max-charge 80 A") CHARGED_BY("100 A", ""),
        .holds = LITHIUM("max-charge 100 A") CHARGED_BY("100 A", ""),
        .open = LITHIUM("max-charge 80..120 A") CHARGED_BY("100 A", ""),
        .judge_boat = judge_bank_charge,
    },
    {
        .name = "bank-management",
        .severity = SEVERITY_FAULT,
        .title = "a lithium bank is managed, can disconnect itself, and is not charged in the cold",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "US voluntary practice for lithium banks of 600 Wh and more (ABYC E-13), second hand; "
                  "charging at or under 0 C: every maker's sheet at hand forbids it",
        .why = "A cell that is charged too far, emptied too far or charged when frozen can fail for good, "
               "short inside, and burn. A management system watches every cell and disconnects the bank in "
               "time; a warning before that keeps the crew from being surprised. Smaller banks are judged "
               "in the same way: their cells are no different.",
        .breaks = LITHIUM("management yes; disconnect yes; cold-cutoff no; warns yes"),
        .holds = LITHIUM("management yes; disconnect yes; cold-cutoff yes; warns yes"),
        .open = LITHIUM("management yes; disconnect yes"),
        .kinds = {KIND_BANK},
        .judge = judge_bank_management,
    },
    {
        .name = "bank-held",
        .severity = SEVERITY_FAULT,
        .title = "a bank cannot move",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "us: 33 CFR 183.420(a), at most 25 mm under the lesser of 400 N and twice its weight; "
                  "iso: ISO 10133:2012, 10 mm under twice its weight",
        .why = "A battery that comes loose in a sea breaks its cables, spills, or shorts against whatever "
               "it meets.",
        .breaks = LEAD("restrained no"),
        .holds = LEAD("restrained yes"),
        .open = LEAD(""),
        .kinds = {KIND_BANK},
        .judge = judge_bank_held,
    },
    {
        .name = "bank-covered",
        .severity = SEVERITY_FAULT,
        .title = "nothing that falls can bridge a bank's terminals",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "33 CFR 183.420(b); iso from memory",
        .why = "A spanner across the terminals carries thousands of amperes until it or the battery gives "
               "way. Boots or a lid keep it off.",
        .breaks = LEAD("terminals-covered no"),
        .holds = LEAD("terminals-covered yes"),
        .open = LEAD(""),
        .kinds = {KIND_BANK},
        .judge = judge_bank_covered,
    },
    {
        .name = "bank-vented",
        .severity = SEVERITY_WARNING,
        .title = "the gas of a lead bank is led out of the boat",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "33 CFR 183.420(e); iso from memory",
        .why = "Lead batteries give off hydrogen when they are charged, sealed ones when they are charged "
               "too far. It rises, gathers under the nearest lid, and explodes at a spark from 4 % on.",
        .breaks = LEAD("vented-outside no"),
        .holds = LEAD("vented-outside yes"),
        .open = LEAD(""),
        .kinds = {KIND_BANK},
        .judge = judge_bank_vented,
    },
    {
        .name = "mixed-bank",
        .severity = SEVERITY_FAULT,
        .title = "banks of different chemistry are never simply joined",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "common practice, no source",
        .why = "Lithium rests at a higher voltage than lead, and takes its current almost without "
               "resistance: joined, one drives a great current into the other. What charges one well over- "
               "or undercharges the other, which goes for the kinds of lead among each other too (a "
               "warning). What charges several banks by `feeds` of its own joins them too, unless `outputs-apart`, and so does a "
               "`converter` that is a `relay`. Joined for a moment by an emergency switch, while somebody watches, it is a "
               "warning as well. One at a time, by a transfer switch, is another matter.",
        .breaks = TWO_BANKS("parallel", "agm"),
        .holds = TWO_BANKS("transfer", "agm"),
        .never_open = "what a bank is made of is a word: it is stated, or the spec has a mistake; only an "
                      "open choice leaves it open",
        .judge_boat = judge_mixed_bank,
    },
    {
        .name = "joined-voltage",
        .severity = SEVERITY_FAULT,
        .title = "banks that are joined, or that one switch chooses from, are of one voltage",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "Ohm's law: nothing but the resistance of banks and cables limits what flows between two voltages; "
                  "nominal voltages within a tenth count as one, a choice of this program",
        .why = "A bank of 24 V that is joined to one of 12 V drives a current like that of a short circuit through it: the "
               "smaller one boils or bursts, and the cables burn unless a fuse is quicker. A `converter` that is a `relay` joins "
               "its two banks like a switch, whatever voltage its `output` states. A transfer switch never joins them, but puts "
               "24 V on what was made for 12 V.",
        .breaks = JOINED_AT("12 V", "emergency"),
        .holds = JOINED_AT("24 V", "emergency"),
        .open = JOINED_AT("12..24 V", "emergency"),
        .judge_boat = judge_joined_voltage,
    },
    {
        .name = "start-alone",
        .severity = SEVERITY_WARNING,
        .title = "the starting bank starts the engine and nothing else, and can do it",
        .basis = ON_BOTH,
        .source = "common practice, no source; that cold-cranking current is to be at least the starter's, "
                  "too",
        .why = "A fridge that runs through the night on the starting battery leaves a boat that cannot "
               "start. What the engine itself needs, thrusters and windlass, which run with it, and a "
               "converter that charges another bank may hang on it; so may a load that runs for no more than 6 minutes in any day "
               "that states its `use`, as glow plugs do (a choice of this program). An alternator that charges it and the house bank "
               "joins the two, unless its `outputs-apart`. Of banks that a switch which works as `transfer` or `parallel` "
               "(1-2-both) chooses from, each is looked at for all that hangs there, in whatever order they are named: with "
               "that switch on both for a night, both are flat in the morning.",
        .breaks = START("400 A", "start"),
        .holds = START("400 A", "house"),
        .open = START("250..400 A", "house"),
        .judge_boat = judge_start_alone,
    },
    {
        .name = "always-live",
        .severity = SEVERITY_WARNING,
        .title = "no switch cuts off an automatic bilge pump",
        .basis = ON_BOTH,
        .danger = DANGER_FLOODING,
        .source = "common practice, no source",
        .why = "Who leaves a boat turns the main switch off, and that is when the pump has to work by "
               "itself. It hangs on the bank with a fuse of its own, upstream of every switch. A bank that "
               "disconnects itself to protect its cells cuts it off as well; a warning that is heard "
               "ashore, or a second pump on another bank, is the answer to that: where a bank `warns no`, and no other "
               "automatic pump hangs on another one, it is told.",
        .breaks = BILGE("house-switch", "automatic yes"),
        .holds = BILGE("house", "automatic yes"),
        .open = BILGE("house-switch", ""),
        .judge_boat = judge_always_live,
    },
    {
        .name = "vital-hours",
        .severity = SEVERITY_WARNING,
        .title = "navigation lights, radio and bilge pumps run three hours on their bank alone",
        .basis = ON_BOTH,
        .source = "46 CFR 183.310, for inspected vessels: a benchmark here",
        .why = "With the engine stopped the batteries are all there is to be seen with, to call with and to "
               "pump with. Each bank is judged with what hangs on it, by way of converters and inverters too (over their efficiency), "
               "all of it at full draw, from full down to its usable limit; what it can give of its capacity at that current goes by "
               "Peukert's law.",
        .breaks = VITAL("10 Ah"),
        .holds = VITAL("100 Ah"),
        .open = VITAL("10..100 Ah"),
        .judge_boat = judge_vital_hours,
    },
    {
        .name = "feeds-nothing",
        .severity = SEVERITY_WARNING,
        .title = "what makes power feeds something",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "An alternator, array or charger without `feeds` charges nothing: its line is forgotten, and every figure of "
               "the bank that it was meant for is short by it.",
        .breaks = SUN(""),
        .holds = SUN("feeds house { run 3 m; wire 12 AWG; protect 15 A fuse } "),
        .never_open = "what it feeds is said by name",
        .kinds = {KIND_ALTERNATOR, KIND_SOLAR, KIND_CHARGER, KIND_CONVERTER, KIND_INVERTER, KIND_GENERATOR},
        .judge = judge_feeds_nothing,
    },
    {
        .name = "bank-uncharged",
        .severity = SEVERITY_WARNING,
        .title = "something charges every bank",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A starting battery that nothing charges is found flat on the day when it is needed. What charges a bank may "
               "stand aboard, may reach it through a switch that joins it to one that is charged, though not by one for emergencies, or may stand "
               "ashore. Banks that converters only charge from one another are charged by nothing.",
        .breaks = SUN(""),
        .holds = SUN("feeds house { run 3 m; wire 12 AWG; protect 15 A fuse } "),
        .never_open = "what charges a bank is said by name",
        .judge_boat = judge_bank_uncharged,
    },
    {
        .name = "charge-loop",
        .severity = SEVERITY_WARNING,
        .title = "nothing runs on the bank that it charges",
        .basis = ON_BOTH,
        .source = "conservation of energy; that inverter and charger are locked against one another: common practice, no source",
        .why = "A charger that an inverter feeds out of the same bank goes round in a circle, and what both lose empties the bank, "
               "unseen, until it is flat. So does an alternator on a motor that the bank drives, which no day counts. So do two converters that charge each other's bank, "
               "unless one gives a surplus only. Behind a switch that takes shore power or the inverter it has to be locked out while "
               "the inverter works; one that is a part of the inverter is.",
        .breaks = LOOPED("sine", ""),
        .holds = LOOPED("source", "locked-out yes; "),
        .open = LOOPED("source", ""),
        .judge_boat = judge_charge_loop,
    },
    {
        .name = "wrong-voltage",
        .severity = SEVERITY_FAULT,
        .title = "what charges a bank, and what hangs on it, is for its voltage and its kind of current",
        .basis = ON_BOTH,
        .source = "common practice, no source; nominal 12, 24, 36 or 48 V, and what charges gives a fifth more; an array by its "
                  "controller's `charge-voltage`; of what says nothing a choice of this program from 32 V up",
        .why = "A 12 V alternator never charges a bank of 24 V, and a 24 V one boils or breaks a bank of 12 V. A lamp for 12 V on "
               "24 V takes four times its power for a moment. A load whose draw is stated at another voltage is a warning, for "
               "some work at either; one for batteries on mains is a fault. So is direct current that is led to what "
               "carries alternating current, or mains to a bank, whatever the voltages. What is made for a range gets what charges "
               "the bank too: 58.4 V on 48. Above 32 V what says nothing, and works down to a third of it or is of a kind that is "
               "hardly made for it, is open: with two voltages aboard it may hang on the wrong panel.",
        .breaks = CHARGED_AT("14 V"),
        .holds = CHARGED_AT("28.8 V"),
        .open = CHARGED_AT("14..28.8 V"),
        .judge_boat = judge_wrong_voltage,
    },
    {
        .name = "charge-voltage",
        .severity = SEVERITY_FAULT,
        .title = "what charges a bank does it at a voltage that its cells stand, and that fills them",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "the maker's `max-charge-voltage`; without it the most that makers publish for the chemistry, by its cells, from "
                  "memory: flooded 2.5 V, agm 2.47, gel 2.4, lithium 3.65; the voltage of rest from memory, flooded verified",
        .why = "A charger is set for one chemistry. Gel that is charged as if it were flooded boils dry, agm vents its gas, and "
               "lithium is driven on until its management system cuts it off, if it does; all may burn. Below the voltage at which "
               "a full bank rests nothing fills it, whatever the current on the plate; below the lowest at which makers float theirs "
               "(13.2 V of lead for 12 V, from memory) it is never quite full, and sulphates: that is a warning, though "
               "the days count it full. Of an array it is its controller's `charge-voltage`. What is equalized by hand, with more and for hours, is outside of the rule; a "
               "voltage of quite another kind of bank is told by wrong-voltage.",
        .breaks = EXAMPLE_BOAT SHORE_CHARGED("gel", "14.8 V"),
        .holds = EXAMPLE_BOAT SHORE_CHARGED("gel", "14.2 V"),
        .open = EXAMPLE_BOAT SHORE_CHARGED("gel", "14.2..14.8 V"),
        .judge_boat = judge_charge_voltage,
    },
    {
        .name = "high-voltage",
        .severity = SEVERITY_WARNING,
        .title = "direct current stays at a voltage that can be touched",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "60 V, up to which direct current counts as extra-low voltage (IEC 60364-4-41, from memory); the standards for "
                  "small craft that are quoted here end at 50 V nominal (ISO 10133:2012, from memory)",
        .why = "Batteries of a drive may add up to hundreds of volts, and some that are called 57.6 V rest at 60.3 V, or are charged at "
               "65 V: what stands across them counts, where the spec has it. Nothing switches them off: their terminals are live while "
               "they are worked on, and fuses, breakers and switches that are made for 12 or 24 V do not put out such an arc. Panels in "
               "`series` are the same: as long as it is light what they give in the cold stands on the cable through the boat. "
               "Currents, drops and ampacities are computed all the same; isolation, interlocks, the monitoring of insulation and "
               "guards are not, and a spec without findings says nothing of them.",
        .breaks = EXAMPLE_BOAT "bank drive { chemistry lifepo4; voltage 96 V; capacity 100 Ah }\n",
        .holds = EXAMPLE_BOAT "bank drive { chemistry lifepo4; voltage 51.2 V; capacity 100 Ah }\n",
        .open = EXAMPLE_BOAT "bank drive { chemistry lifepo4; voltage 48 V; series 1..2; capacity 100 Ah }\n",
        .kinds = {KIND_BANK, KIND_SOLAR},
        .judge = judge_high_voltage,
    },
    {
        .name = "system-unmet",
        .severity = SEVERITY_ADVICE,
        .title = "a bank has the voltage that the boat states for her system",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "What is lost in a cable is a share of the system's voltage. A `system-voltage` that no bank has says nothing of this "
               "boat: either it or the banks are not what was meant, and half of what is bought would be for the other voltage.",
        .breaks = "edition 1\n"
                  "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; system-voltage 24 V }\n"
                  "bank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n",
        .holds = "edition 1\n"
                 "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; system-voltage 24 V }\n"
                 "bank house { chemistry agm; voltage 12 V; series 2; capacity 100 Ah }\n",
        .open = "edition 1\n"
                "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; system-voltage 24 V }\n"
                "bank house { chemistry agm; voltage 12 V; series 1..2; capacity 100 Ah }\n",
        .judge_boat = judge_system_unmet,
    },
    {
        .name = "charge-drop",
        .severity = SEVERITY_WARNING,
        .title = "little voltage is lost between what charges a bank and the bank",
        .basis = ON_BOTH,
        .source = "3 %, the limit of voluntary US practice for main feeders (ABYC E-11, verified in a reprint); that it serves "
                  "for what charges too: common practice, no source",
        .why = "What charges holds its own terminals at the voltage that fills a bank. What the cables lose is missing at the "
               "bank: it is taken for full too early, and lead that is never quite full grows hard. Feeders on the way carry "
               "what all others bring there too. The loss shrinks as the current falls towards the end, so this slows "
               "charging more than it stops it; what senses the voltage at the bank itself makes up for it.",
        .breaks = CHARGED_THROUGH("6 m"),
        .holds = CHARGED_THROUGH("1 m"),
        .open = CHARGED_THROUGH("1..6 m"),
        .judge_feed = judge_charge_drop,
    },
    {
        .name = "battery-fuse",
        .severity = SEVERITY_WARNING,
        .title = "of lithium batteries in parallel each has a fuse that breaks what the others give",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "Ohm's law; a fuse at each battery: common practice with lithium in parallel, no source",
        .why = "One fuse behind the whole bank sees nothing of what its batteries give to each other. A cell that fails in one of them, "
               "or its cable that chafes through, is fed by all others with thousands of amperes, which no switch inside a battery "
               "is made to open. A fuse at the positive of each ends that, if it breaks so much. Cells of less than 6 V side by side "
               "are one larger cell, and are left to the maker of the bank; so are batteries of lead. A fuse that is stated, of "
               "whatever battery, lets pass what the loads ask of the bank at once and what each source brings; whether it is too "
               "large for the cable at each battery nobody can tell here, for that cable is not stated.",
        .breaks = LITHIUM("parallel 2; resistance 4 mohm; battery-fuse 150 A interrupts 1 kA"),
        .holds = LITHIUM("parallel 2; resistance 4 mohm; battery-fuse 150 A interrupts 20 kA"),
        .open = LITHIUM("parallel 2; resistance 4 mohm"),
        .kinds = {KIND_BANK},
        .judge = judge_battery_fuse,
    },
    {
        .name = "load-dump",
        .severity = SEVERITY_FAULT,
        .title = "an alternator survives when its bank disconnects itself, or a switch is turned",
        .basis = ON_BOTH,
        .source = "common practice, from memory; makers of lithium banks ask for it",
        .why = "When the load goes while an alternator is at work, its voltage leaps to many times the "
               "usual for a moment. That kills its diodes and whatever else hangs on the cable. A "
               "protection device, a lead battery that stays connected, or a charger between alternator and "
               "bank takes the leap. The same leap comes, whatever the bank, when a battery switch, a transfer switch or a 1-2-both "
               "on the way is turned through OFF while the engine runs, the warning that stands on its face; that is a warning: charge straight to the bank, behind a fuse, with the switch for "
               "the loads alone. One that wind or water drives races then, until it breaks or is braked: a diversion load of its "
               "own takes what the bank does not.",
        .breaks = LITHIUM("disconnect yes") CHARGED_BY("60 A", "load-dump no; "),
        .holds = LITHIUM("disconnect yes") CHARGED_BY("60 A", "load-dump yes; "),
        .open = LITHIUM("disconnect yes") CHARGED_BY("60 A", ""),
        .judge_boat = judge_load_dump,
    },
    {
        .name = "regulator",
        .severity = SEVERITY_WARNING,
        .title = "an alternator that works hard for long has a regulator outside, and its hot output is "
                 "known; one that wind or water drives is regulated",
        .basis = ON_BOTH,
        .source = "common practice, no source (lithium, or 100 A and more; all that wind or water drives)",
        .why = "A regulator inside sees neither the bank's needs nor the alternator's heat. Lithium takes "
               "all that is offered until it is full, and a small alternator that gives all it has for "
               "hours burns. A regulator outside, with a sensor on the body, throttles it in time. How much "
               "is left when it is hot decides how long the engine runs. What wind or water drives never stops by itself: with "
               "nothing that holds its voltage it boils a full bank dry, or drives a lithium one into its cut-off. A "
               "regulator of its own, or one that diverts the rest into a resistance, will do.",
        .breaks = LITHIUM("") CHARGED_BY("60 A", "regulator internal; "),
        .holds = LITHIUM("") CHARGED_BY("60 A", "regulator external; hot-output 70 %; "),
        .open = LITHIUM("") CHARGED_BY("60 A", ""),
        .judge_boat = judge_regulator,
    },
    {
        .name = "converter-drains",
        .severity = SEVERITY_WARNING,
        .title = "a converter takes no more of a starting bank than what charges that bank",
        .basis = ON_BOTH,
        .source = "Kirchhoff's law of currents; that a converter gives its output whatever charges the bank before it: common practice, "
                  "no source",
        .why = "An outboard's small alternator and a converter of 40 A: while the engine runs the converter takes the rest out of the "
               "starting battery, and after a day of that the engine cannot be started again. One that senses the voltage stops "
               "only when the battery has fallen far. The current is held against what charges that bank at its best moment of "
               "each day, and what the whole day leaves in it against what it would without the converter: at anchor nothing charges it, "
               "and the house lives on it down to its usable limit. One that gives no more than the surplus says `surplus-only yes`.",
        .breaks = DRAINED("40 A", ""),
        .holds = DRAINED("40 A", "surplus-only yes; "),
        .open = DRAINED("5..40 A", ""),
        .judge_boat = judge_converter_drains,
    },
    {
        .name = "array-power",
        .severity = SEVERITY_WARNING,
        .title = "what a panel is rated goes with its open-circuit voltage and its short-circuit current",
        .basis = ON_BOTH,
        .source = "arithmetic: no panel gives both at once; that the share is hardly ever under half: common practice, no source",
        .why = "A slip by ten in one of the three is easily made, and the days then live on sun that is not there, or go without "
               "what is. Power by that product is the fill factor: 0.7 to 0.85 of sound crystalline panels.",
        .breaks = PANEL_OF("1100 W"),
        .holds = PANEL_OF("110 W"),
        .open = PANEL_OF("110..150 W"),
        .kinds = {KIND_SOLAR},
        .judge = judge_array_power,
    },
    {
        .name = "cranking-doubtful",
        .severity = SEVERITY_WARNING,
        .title = "a lead battery cranks with no more than its size can give",
        .basis = ON_BOTH,
        .source = "common practice, from memory: 6 to 12 A of cold-cranking current for each Ah, 20 at the very most",
        .why = "A capacity or a cranking current that is off by ten makes a starting bank out of a toy: whether the engine can be "
               "started is judged by the one, how long the bank lasts by the other.",
        .breaks = CRANKS("7 Ah"),
        .holds = CRANKS("70 Ah"),
        .open = CRANKS("7..70 Ah"),
        .kinds = {KIND_BANK},
        .judge = judge_cranking_doubtful,
    },
    {
        .name = "spark",
        .severity = SEVERITY_FAULT,
        .title = "nothing in a space of petrol vapour or gas can set fire to it",
        .basis = ON_BOTH,
        .danger = DANGER_FUEL,
        .source = "33 CFR 183.410(a), of boats with petrol inboards: a benchmark for others; iso from memory; in the space of a "
                  "gas locker: common practice, no source",
        .why = "Petrol vapour is heavier than air, lies in the bilge, and takes fire at the spark of any "
               "motor or switch: of a breaker, a charger's relay, a thermostat, an alternator's brushes, the starter itself. "
               "What is fixed in a space with a petrol engine or tank has to be protected against that, the engine's own "
               "starter, alternator and ignition too, which those of a car are not. The tank of an outboard counts, and "
               "one that is carried with its tank does as that would; of any other, which has petrol in its carburettor and its hose, "
               "the same is a warning where its `space` says that it is shut in (`open-air no`, `ventilated no`, `sleeping yes`, or its "
               "`openings`): else it is taken to hang in the open. Portable things are outside of the "
               "rule, and belong elsewhere all the same. Gas lies as low, and where a locker of gas stands the same is a warning, for a locker may be tight; there "
               "`open-air yes` settles nothing, since what leaks lies round the locker before it has run off, and a bank, an "
               "engine, fuel or what says that it is not protected is stowed with no cylinder (ABYC A-1, from memory). In a "
               "cockpit in which the locker is a box by itself, that is a `space` of its own. What burns with a flame has no place there at all, carried or fixed, and no mark mends that. Nor has a bank, for none "
               "is made so that its terminals cannot spark; one beside petrol whose terminals are covered is a warning, as the "
               "regulation lets it stand so, never above or below a tank, a filter or a fitting of a fuel line (33 CFR "
               "183.420(d), verified). Petrol is where a petrol tank, a petrol engine within the hull or a petrol line is that "
               "says so, or where the space says `petrol yes`; a space that is `open-air yes` holds no vapour of it. Where such a space "
               "is, all that states no `space` and is not protected is asked for it, once; what hangs out on deck by its nature, as "
               "lights, horns, solar panels, the shore inlet and the windlass do, is not.",
        .breaks = PETROL("ignition-protected no"),
        .holds = PETROL("ignition-protected yes"),
        .open = PETROL(""),
        .judge_boat = judge_spark,
    },
};

const RuleFamily rules_bank = RULE_FAMILY("Banks and charging", rules);
