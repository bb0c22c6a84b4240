/*
 * Cables, their protection, and the panels that they feed. The figures are those of each feed; the limits are published
 * ones (compiler/tables/). What starts an engine is exempt where the clauses exempt it.
 */
#include "rules/families.h"
#include "rules/wiring_rules.h"

#include "language/letters.h"

/* Examples: one bank, one panel, one circuit; each rule varies a line of it. */

#define BANK_AND_PANEL \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
    "panel main { fed-by house; run 1 m; wire 2 AWG insulation 105 C; protect 100 A fuse class-t 0.15 m from source }\n"
#define ON_MAIN(wire, protect, draw) \
    EXAMPLE_BOAT BANK_AND_PANEL "circuit lamps { fed-by main; run 2 m; " wire "; " protect " }\n" \
    "load lamp { fed-by lamps; " draw " }\n"
#define ISO_ON_MAIN(wire, protect, draw) \
    EXAMPLE_BOAT_ISO \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
    "panel main { fed-by house; run 1 m; wire 35 mm2 insulation 105 C; protect 100 A fuse class-t 0.15 m from source }\n" \
    "circuit lamps { fed-by main; run 2 m; " wire "; " protect " }\n" \
    "load lamp { fed-by lamps; " draw " }\n"

#define THROUGH_SWITCH(cranking) \
    EXAMPLE_BOAT "bank start { role start; chemistry agm; voltage 12 V; capacity 90 Ah }\n" \
    "switch main-switch { fed-by start; works-as battery; run 2 ft; wire 2 AWG; " cranking "rated 200 A }\n" \
    "engine auxiliary { rated 14 hp at 3000 rpm; fuel diesel; starter 300 A; fed-by main-switch; run 4 ft; wire 2 AWG }\n"

#define INSULATED(poles) \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; built steel; " \
    "direct-current insulated }\nbank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "switch main-switch { fed-by house; works-as battery; " poles "run 0.2 m; wire 50 mm2; protect 150 A fuse class-t }\n"

#define PUMP_BEHIND(protect) \
    EXAMPLE_BOAT BANK_AND_PANEL \
    "bilge-pump aft-bilge { fed-by main; run 2 m; wire 12 AWG insulation 105 C; protect " protect "; draw 8 A }\n"

#define RATED_PANEL(rated) \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n" \
    "panel main { fed-by house; run 1 m; wire 2 AWG insulation 105 C; protect 100 A fuse class-t 0.15 m from source; " \
    "rated " rated " }\n"

#define BUS_CALLED(name) \
    EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "bus " name " { fed-by house; run 0.5 m; wire 2 AWG; protect 100 A fuse class-t 0.15 m from source; rated 150 A }\n"

/* ---- bus-negative -------------------------------------------------------------------------------------- */

/* Written in any letters, as a whole word or a part of a name. */
static bool says_negative(Str text)
{
    static const char word[] = "negative";
    size_t length = sizeof word - 1;
    for (size_t at = 0; at + length <= text.length; at++) {
        if (same_letters((Str){text.text + at, length}, word, length)) {
            return true;
        }
    }
    return false;
}

static void judge_bus_negative(Judge *judge, const Entity *bus)
{
    if (!says_negative(entity_name(judge->model, bus)) && !says_negative(bus->title)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, bus, place_of_name(judge, bus));
    finding_say(judge, finding,
                "`%s` is called a negative one, and a `bus` shares out the positive side alone: it and its cable are taken as that in figures, "
                "lists and pictures, for the spec cannot state the negative side",
                say_name(judge, bus));
    finding_remedy(judge, finding,
                   "an `item` in its place, with its price and mass, and another for its cable; the wire list says how the "
                   "returning conductors run");
}

static const Rule rules[] = {
    {
        .name = "wire-overloaded",
        .severity = SEVERITY_FAULT,
        .title = "a cable carries no more than it can stand",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.425, Table 5 and notes; iso: ISO 13297 Table A.1, from memory",
        .why = "A conductor hotter than its insulation is made for ages, and in the end burns. The table is for 30 C air; an "
               "engine space, and other cables close by, take some of it away. What cranks an engine asks for no ampacity, for it "
               "lasts seconds, and counts in no cable that it shares with others; but it may not make the copper as hot within "
               "10 s, a choice of this program, as its insulation stands (`cranking-ampacity`). What makes power sends its output "
               "back to the bank through the cables between, and counts. Where several things on a panel can ask for more than its cable stands, and "
               "the device before it opens at no more than that, the cable is safe: `protect-tight` tells that it opens.",
        .breaks = ON_MAIN("wire 16 AWG", "protect 20 A breaker", "draw 18 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 25 A breaker", "draw 18 A"),
        .open = ON_MAIN("wire 16..10 AWG", "protect 25 A breaker", "draw 18 A"),
        .judge_feed = judge_wire_overloaded,
    },
    {
        .name = "wire-unprotected",
        .severity = SEVERITY_FAULT,
        .title = "every cable has a fuse or breaker that opens before the cable burns",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.455(c): under 50 V at most 150 % of the ampacity, from 50 V the next standard rating; above the "
                  "ampacity only where no smaller rating carries the load: voluntary practice, from memory; iso: ISO 13297:2020 "
                  "13.1.5, at most the ampacity",
        .why = "In a short circuit the cable is the weakest part unless something weaker is put in its way. The device may "
               "stand upstream, if it is small enough for this cable too. The main feed from a battery to a starter is exempt, the "
               "cable of a battery switch in it included (how thick it has to be: `wire-overloaded`); what else hangs on that switch is "
               "not. Nor is the cable of a switch that `works-as emergency`: between two banks it is live from both of its ends, whether "
               "that is closed or not, and asks for a device at each that lets the starter crank; as many boats have none it is a "
               "warning. A device between the ampacity and its limit, where a smaller one would carry the load, is a warning. Of a "
               "switch on a bank, a generator or an inverter without `run` nobody knows how long that cable is: the rule is open, but for the switch between "
               "a bank and its own starter. `run 0 m` says that there is none. What a `converter` alone feeds, by no more `output` than "
               "the cable carries, asks for none, for it limits itself (voluntary US practice, ABYC E-11, from memory; of charging "
               "sources ISO 13297:2020 12.3 says the same).",
        .breaks = ON_MAIN("wire 16 AWG", "protect 30 A breaker", "draw 2 A"),
        .holds = ON_MAIN("wire 16 AWG", "protect 10 A breaker", "draw 2 A"),
        .open = ON_MAIN("wire 16..10 AWG", "protect 30 A breaker", "draw 2 A"),
        .judge_feed = judge_wire_unprotected,
        .kinds = {KIND_SWITCH},
        .judge = judge_switch_unprotected,
    },
    {
        .name = "wire-small",
        .severity = SEVERITY_WARNING,
        .title = "no conductor is thinner than the basis allows",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.425(d), (e), 16 AWG or 18 AWG in a sheath; iso: ISO 10133:2012 7.7, 1 mm2 or 0.75 mm2 in a "
                  "sheath",
        .why = "A thin conductor breaks where it is bent or pulled, long before its current matters. Wires inside of equipment "
               "and short tails are outside of this.",
        .breaks = ON_MAIN("wire 18 AWG", "protect 5 A breaker", "draw 1 A"),
        .holds = ON_MAIN("wire 16 AWG", "protect 5 A breaker", "draw 1 A"),
        .open = ON_MAIN("wire 18..16 AWG", "protect 5 A breaker", "draw 1 A"),
        .judge_feed = judge_wire_small,
    },
    {
        .name = "wire-terminals",
        .severity = SEVERITY_ADVICE,
        .title = "the terminals of a device take its cable",
        .basis = ON_BOTH,
        .source = "common practice, no source: what clamps and screws of such a rating usually take; the device's own sheet decides",
        .why = "A cable that was made thick for its drop, or for what it was bought for, does not go under the screw of a small "
               "breaker. Strands that are cut off to make it fit carry nothing, and what is left grows hot. Often it is the "
               "cable before it that is too thin.",
        .breaks = ON_MAIN("wire 2 AWG", "protect 15 A breaker", "draw 10 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker", "draw 10 A"),
        .open = ON_MAIN("wire 10..2 AWG", "protect 15 A breaker", "draw 10 A"),
        .judge_feed = judge_wire_terminals,
    },
    {
        .name = "wire-drop",
        .severity = SEVERITY_FAULT,
        .title = "not too much voltage is lost between the source and the load, out and back",
        .basis = ON_BOTH,
        .source = "us: voluntary practice (ABYC E-11), 3 % critical and 10 % other (10 % also 46 CFR 183.340(p), a benchmark); "
                  "iso: ISO 10133:2012, 3 % critical from an extract, 10 % other from memory",
        .why = "Navigation lights grow dim, radios fail when they transmit, pumps slow down. The total counts from the bank, "
               "feeders included. A fault where it is critical (panels, navigation lights, blowers that clear petrol vapour, "
               "electronics, by iso bilge pumps, and what the owner calls so), else a warning; `drop` can lower the limit of "
               "what is critical, not raise it. A switch that lends a bank to the starter of another is held to 10 % while that cranks. "
               "Where the formula of the basis passes and the cable at its working temperature does not, this rule warns as well.",
        .breaks = ON_MAIN("wire 16 AWG", "protect 15 A breaker", "draw 14 A; critical yes") "\n",
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker", "draw 10 A; use day-1 1 h") "day day-1 { engine 0 h }\n",
        .open = ON_MAIN("wire 16..8 AWG", "protect 15 A breaker", "draw 14 A; critical yes") "\n",
        .judge_feed = judge_wire_drop,
    },
    {
        .name = "protect-far",
        .severity = SEVERITY_FAULT,
        .title = "protection stands close to its source of power",
        .basis = ON_BOTH,
        .source = "us: 33 CFR 183.455(b), 183.460(a); the warning: voluntary practice (ABYC E-11, second hand); iso: ISO "
                  "10133:2000 8.1 (quoted), ISO 13297:2020 12.3, 13.2.2",
        .why = "The cable between a source and its fuse is protected by nothing. The shorter it is, the less can rub through. "
               "A sheath allows more. The feed of a starter is exempt. What charges by way of a bus or switch is protected "
               "there, as what hangs on it is. The US regulation lets 72 in of bare cable lead from a battery to its fuse; "
               "beyond 7 in this rule then warns. A second device, at what makes direct current, is advice: its output limits itself. "
               "On a cable that begins at a battery a device of which nobody says where it stands leaves the rule open, unless the "
               "cable is no longer than that, or the device is one for a battery post; so does one behind a switch whose own device is larger than the cable carries. "
               "Elsewhere it is taken to stand in its panel, or at its bus.",
        .breaks = ON_MAIN("wire 10 AWG", "protect 15 A breaker 0.5 m from source", "draw 5 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker 0.1 m from source", "draw 5 A"),
        .open = ON_MAIN("wire 10 AWG", "protect 15 A breaker 0.1..0.5 m from source", "draw 5 A"),
        .judge_feed = judge_protect_far,
    },
    {
        .name = "protect-tight",
        .severity = SEVERITY_WARNING,
        .title = "protection does not open in normal use",
        .basis = ON_BOTH,
        .source = "continuous loads at most 0.8 of the rating: NEC practice; common practice aboard, no source",
        .why = "A fuse that blows in the night for no fault is soon replaced by a larger one. What flows three hours or more "
               "gets a margin of a quarter.",
        .breaks = ON_MAIN("wire 10 AWG", "protect 10 A breaker", "draw 9 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 15 A breaker", "draw 9 A"),
        .open = ON_MAIN("wire 10 AWG", "protect 10 A breaker", "draw 7..9 A"),
        .judge_feed = judge_protect_tight,
    },
    {
        .name = "protect-breaking",
        .severity = SEVERITY_FAULT,
        .once_a_panel = true,
        .title = "protection can break the short circuit that may stand behind it",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "33 CFR 183.455 read with voluntary US practice; us, for breakers up to 24 V, also its table by cold-cranking "
                  "current (ABYC E-11, older editions, verified in a reprint); capacities by class from the fuse standards, in "
                  "part from memory (bolt-on: 2 kA by the scope of ISO 8820-5:2015, second hand)",
        .why = "A device that is asked to break more than it can arcs on, or bursts. Lithium banks have so little resistance "
               "that ordinary fuses are soon outdone. The current is what the bank's voltage drives through its own "
               "resistance and the cold copper up to the device. A warning where the resistance is not stated and the usual "
               "one, from memory, stands in, and where it is the bank's stated `cranking` that asks for more. What a device "
               "without a class can break is not known: where some class that is made in that rating breaks the short circuit "
               "and another does not, the rule is open; so it is where only some devices of a class do, as bolt-on fuses "
               "beyond the 2 kA of their standard. Of mains US practice asks for 3 kA.",
        .breaks = EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 460 Ah; resistance 1.5 mohm }\n"
                  "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse bolt-on 0.15 m from source }\n",
        .holds = EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 460 Ah; resistance 1.5 mohm }\n"
                 "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse class-t 0.15 m from source }\n",
        .open = EXAMPLE_BOAT "bank house { chemistry lifepo4; voltage 12.8 V; capacity 460 Ah; resistance 1.5..3 mohm }\n"
                "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse bolt-on 0.15 m from source }\n",
        .judge_feed = judge_protect_breaking,
    },
    {
        .name = "panel-overloaded",
        .severity = SEVERITY_FAULT,
        .title = "what can run at once fits the rating of the panel, bus, switch or outlet",
        .basis = ON_BOTH,
        .source = "two-column load practice of US panels, from memory",
        .why = "Loads are added one by one over the years, and each is small. What runs long counts at once, and of what runs "
               "briefly the greater of the largest and a tenth of all; or the share that `together` states.",
        .breaks = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                  "panel main { fed-by house; rated 30 A; run 1 m; wire 2 AWG; protect 100 A fuse }\n"
                  "circuit pump-1 { fed-by main; run 2 m }\nload pump-motor { fed-by pump-1; draw 40 A }\n",
        .holds = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                 "panel main { fed-by house; rated 50 A; run 1 m; wire 2 AWG; protect 100 A fuse }\n"
                 "circuit pump-1 { fed-by main; run 2 m }\nload pump-motor { fed-by pump-1; draw 40 A }\n",
        .open = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                "panel main { fed-by house; rated 30..50 A; run 1 m; wire 2 AWG; protect 100 A fuse }\n"
                "circuit pump-1 { fed-by main; run 2 m }\nload pump-motor { fed-by pump-1; draw 40 A }\n",
        .kinds = {KIND_PANEL, KIND_BUS, KIND_SWITCH, KIND_OUTLET},
        .judge = judge_panel_overloaded,
    },
    {
        .name = "protect-made",
        .severity = SEVERITY_ADVICE,
        .title = "a fuse is made in the rating that is asked of it",
        .basis = ON_BOTH,
        .source = "series of the classes by ISO 8820, UL 248-15 and IEC 60269, from memory; of fuses on a battery post common "
                  "practice, no source",
        .why = "What is in no series cannot be bought, and what is then put in its place is whatever the shop has. Fuses that "
               "stand on a battery post begin at 30 A: for a small circuit they are none. Asked of fuses that state their class; "
               "of breakers more ratings are made than any list has. Where a maker lists it all the same, waive this.",
        .breaks = ON_MAIN("wire 10 AWG", "protect 5 A fuse terminal", "draw 1 A"),
        .holds = ON_MAIN("wire 10 AWG", "protect 30 A fuse terminal", "draw 1 A"),
        .open = ON_MAIN("wire 10 AWG", "protect 25..40 A fuse terminal", "draw 1 A"),
        .judge_feed = judge_protect_made,
    },
    {
        .name = "battery-switch",
        .severity = SEVERITY_WARNING,
        .title = "a switch can part each bank from what it feeds",
        .basis = ON_BOTH,
        .danger = DANGER_FIRE,
        .source = "ISO 10133:2000, chapter 6, Battery-disconnect switch (its heading verified, what it asks and excepts from memory); us: voluntary practice (ABYC E-11, from memory), which asks "
                  "for one from 800 A of cold-cranking current up: advice",
        .why = "When a cable smokes nobody looks for the right fuse: one turn of a switch near the battery makes the boat dead, the "
               "engine's starter too. Nor has a boat that is left alone to keep all of her cables live. Bilge pumps, alarms, blowers "
               "and what the owner calls `critical` may stay on, so may what charges, and an outboard with nothing but her "
               "navigation lights beside it. A breaker in the cable at the battery parts it as well (common practice, no source), but for "
               "a starter.",
        .breaks = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                  "panel main { fed-by house; run 1 m; wire 2 AWG; protect 100 A fuse class-t }\n"
                  "load lamp { fed-by main; run 2 m; draw 1 A }\n",
        .holds = EXAMPLE_BOAT "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                 "switch off { fed-by house; works-as battery; run 0.2 m; wire 2 AWG; protect 100 A fuse class-t }\n"
                 "panel main { fed-by off; run 1 m; wire 2 AWG }\nload lamp { fed-by main; run 2 m; draw 1 A }\n",
        .never_open = "whether a switch stands between them is a plain fact of the spec",
        .kinds = {KIND_BANK},
        .judge = judge_battery_switch,
    },
    {
        .name = "insulated-poles",
        .severity = SEVERITY_WARNING,
        .title = "where both sides of the direct current are insulated a switch opens both",
        .basis = ON_BOTH,
        .danger = DANGER_FIRE,
        .source = "guidance of the IMO for small craft, 8.2.2, asks insulated systems for double-pole switches, but for final "
                  "sub-circuits, second hand; ISO 10133:2012 4.1 knows such systems, second hand",
        .why = "With `direct-current insulated` neither side is joined to hull or ground. A first fault of one side to a metal hull "
               "opens no device and nobody notices it; from then on a switch in the other side alone parts nothing, and a second "
               "fault runs through the hull. A lamp or an instrument that watches the insulation tells the first. Switches of final "
               "circuits, which are breakers of `circuit` and loads here, may open one side.",
        .breaks = INSULATED("poles 1; "),
        .holds = INSULATED("poles 2; "),
        .open = INSULATED(""),
        .kinds = {KIND_SWITCH},
        .judge = judge_insulated_poles,
    },
    {
        .name = "protect-large",
        .severity = SEVERITY_FAULT,
        .title = "no device lets more pass than what it leads to is rated for",
        .basis = ON_BOTH,
        .danger = DANGER_FIRE,
        .source = "us: voluntary practice (ABYC E-11, from memory): the device before a panel is no larger than the panel; "
                  "receptacles by NEC Table 210.21(B)(3), second hand; buses, switches, iso: common practice, no source",
        .why = "What is connected today may be little; the device has to hold for what will be. A panel, outlet or switch that "
               "carries more than it is made for chars at its contacts, and no fuse opens. On a US branch of 20 A outlets of "
               "15 A may stand, and sockets of 13 A have their fuse in the plug. A warning for buses and switches.",
        .breaks = RATED_PANEL("60 A"),
        .holds = RATED_PANEL("100 A"),
        .open = RATED_PANEL("60..100 A"),
        .kinds = {KIND_PANEL, KIND_BUS, KIND_SWITCH, KIND_OUTLET},
        .judge = judge_protect_large,
    },
    {
        .name = "motor-jam",
        .severity = SEVERITY_WARNING,
        .title = "the device of a pump or windlass opens when its motor jams",
        .basis = ON_BOTH,
        .danger = DANGER_FIRE,
        .source = "voluntary US practice asks that a jammed motor is protected (ABYC E-11, from memory); two and a half times its "
                  "draw, and never less than 5 A: choices of this program",
        .why = "A rag in the impeller stops a pump, and its motor then takes several times its usual current and turns all of it "
               "into heat. A device that was chosen for the cable alone lets that pass until the motor burns, and a bilge pump "
               "that has burnt pumps nothing. Makers state the device that they want. Asked of motors on direct current that "
               "have a device for themselves; `draw` is what it takes when it works hard.",
        .breaks = PUMP_BEHIND("40 A fuse class-t"),
        .holds = PUMP_BEHIND("15 A fuse class-t"),
        .open = PUMP_BEHIND("15..40 A fuse class-t"),
        .kinds = {KIND_BILGE_PUMP, KIND_PUMP, KIND_WINDLASS},
        .judge = judge_motor_jam,
    },
    {
        .name = "switch-cranking",
        .severity = SEVERITY_FAULT,
        .title = "a battery switch stands what cranks the engine through it",
        .basis = ON_BOTH,
        .danger = DANGER_BATTERY,
        .source = "common practice, no source: makers rate battery switches for long, and for seconds of cranking",
        .why = "A starter takes several times what a switch carries for long. Contacts that are not made for it pit, weld together "
               "or burn. What the switch carries for long it also carries for seconds; for more it has to state a rating of its "
               "own.",
        .breaks = THROUGH_SWITCH("cranking 250 A; "),
        .holds = THROUGH_SWITCH("cranking 900 A; "),
        .open = THROUGH_SWITCH(""),
        .kinds = {KIND_SWITCH},
        .judge = judge_switch_cranking,
    },
    {
        .name = "bus-negative",
        .severity = SEVERITY_WARNING,
        .title = "no bus of the spec is meant to be the negative one",
        .basis = ON_BOTH,
        .source = "how a spec is read",
        .why = "A cable of the spec is the positive and the negative conductor of a way in one, and a bus is a bar on the positive side. One that "
               "is meant as the negative bar would be asked for a fuse, counted as a load's way and drawn behind the positive switch. It goes by "
               "the word `negative` in its name or title.",
        .breaks = BUS_CALLED("negative-bus"),
        .holds = BUS_CALLED("positive-bus"),
        .never_open = "it looks at how a thing is called",
        .kinds = {KIND_BUS},
        .judge = judge_bus_negative,
    },
};

const RuleFamily rules_wiring = RULE_FAMILY("DC wiring and protection", rules);
