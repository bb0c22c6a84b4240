/*
 * What findings of cables offer: who does as he is told breaks nothing else by it. Each spec is mended in the words of its
 * remedy and compiled again. And what the program chooses by itself keeps the rules that it is chosen for.
 *
 * Sources stand in the rules' own tables; here is what follows.
 */
#include "unit/verdict.h"

#include <stdio.h>

#define ISO                                                                                               \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis " \
    "iso; sails no }\n"
/* 12.8 V over 7 mohm: less than the 2 kA that any bolt-on fuse breaks (ISO 8820-5:2015, second hand). */
#define BANK "bank house { chemistry agm; voltage 12 V; capacity 600 Ah; resistance 7 mohm; charged-ashore yes }\n"
#define MAIN(WIRE) \
    "panel main { fed-by house; run 2.6 m; " WIRE " insulation 105 C; protect 80 A fuse class-t 0.15 m from source; rated 100 A }\n"

static void expect_remedy(const char *spec, const char *rule, const char *remedy)
{
    Compiled c;
    compile_text(&c, spec);
    const Finding *f = only_finding(&c, rule);
    assert_non_null(f);
    const Remedy *r = f->remedies;
    while (r != NULL && strcmp(r->text, remedy) != 0) {
        r = r->next;
    }
    if (r == NULL) {
        fail_msg("%s offers `%s`, not `%s`", rule, f->remedies != NULL ? f->remedies->text : "nothing", remedy);
    }
    compile_free(&c);
}

static void expect_none(const char *spec, const char *const *rules, size_t count)
{
    Compiled c;
    compile_text(&c, spec);
    assert_int_equal(c.spec->messages.count, 0);
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        for (size_t i = 0; i < count; i++) {
            if (strcmp(f->rule->name, rules[i]) == 0) {
                fail_msg("%s: %s", rules[i], f->message);
            }
        }
    }
    compile_free(&c);
}

static const char *const cable_rules[] = {"wire-overloaded", "wire-unprotected", "wire-drop",
                                          "protect-tight",   "protect-order",    "protect-breaking"};
enum { CABLE_RULES = sizeof cable_rules / sizeof cable_rules[0] };

/* 100 A for hours ask for 125 A; 35 mm2 of 105 C carries 210 A by ISO 13297, 10 mm2 70 A: there both have to change. */
static void a_device_that_is_missing_fits_load_cable_and_fault(void **state)
{
    (void)state;
#define BARE(CABLE) ISO BANK "load bow { fed-by house; draw 100 A; run 1 m; " CABLE " }\n"
    expect_remedy(BARE("wire 35 mm2 insulation 105 C"), "wire-unprotected", "protect 125 A fuse bolt-on 0.15 m from source");
    expect_none(BARE("wire 35 mm2 insulation 105 C; protect 125 A fuse bolt-on 0.15 m from source"), cable_rules, CABLE_RULES);
    expect_remedy(BARE("wire 16 mm2 insulation 90 C"), "wire-unprotected", "wire 25 mm2 insulation 90 C with protect 125 A fuse bolt-on 0.15 m from source");
    expect_none(BARE("wire 25 mm2 insulation 90 C; protect 125 A fuse bolt-on 0.15 m from source"), cable_rules, CABLE_RULES);
}

/*
 * ISO 13297, tables and factors from memory: in an engine space 16 mm2 carry 31 A with insulation of 60 C, and 86 A with one of
 * 105 C, for heat lessens that by less. Nobody buys a cable of 95 mm2 for 55 A where better insulation does.
 */
static void better_insulation_is_offered_before_thicker_copper(void **state)
{
    (void)state;
#define HOT(CABLE) \
    ISO BANK "space er { engine-space yes }\n" \
        "load bow { fed-by house; space er; draw 55 A; run 1 m; wire " CABLE "; protect 80 A fuse bolt-on 0.15 m from source }\n"
    expect_remedy(HOT("16 mm2"), "wire-unprotected", "`insulation 105 C`, if that is printed on the cable");
    expect_remedy(HOT("16 mm2"), "wire-unprotected", "wire 95 mm2");
    expect_remedy(HOT("16 mm2 insulation 60 C"), "wire-unprotected", "wire 16 mm2 insulation 105 C");
    expect_remedy(HOT("10 mm2"), "wire-unprotected", "wire 16 mm2 insulation 105 C");
    expect_none(HOT("16 mm2 insulation 105 C"), cable_rules, CABLE_RULES);
    expect_none(HOT("95 mm2"), cable_rules, CABLE_RULES);
    Compiled c;
    compile_text(&c, HOT("10 mm2"));
    assert_string_equal(only_finding(&c, "wire-unprotected")->remedies->text, "wire 16 mm2 insulation 105 C"); /* first */
    compile_free(&c);
}

/* What stands behind it must not be larger, or the wrong one opens (IEC 60269: 1.6 to 1). */
static void a_device_that_is_missing_stands_above_those_behind_it(void **state)
{
    (void)state;
#define BEHIND(CABLE) \
    ISO BANK "switch sw { fed-by house; works-as battery; run 0.5 m; wire 50 mm2 insulation 105 C" CABLE " }\n" \
        "load bow { fed-by sw; run 1 m; wire 35 mm2 insulation 105 C; protect 80 A fuse bolt-on; draw 20 A }\n"
    Compiled c;
    compile_text(&c, BEHIND(""));
    const Figure *would = compiled_figure(&c, "sw", FIGURE_WANTED_PROTECTION);
    assert_non_null(would);
    assert_true(would->low > 80.0);
    compile_free(&c);
}

/* No single conductor of 105 C carries 600 A by ISO 13297; 150 mm2 stands behind 450 A, and 445 A flow. */
static void where_no_cable_stands_behind_the_device_what_fits_is_told(void **state)
{
    (void)state;
#define GREAT(PROTECT) \
    ISO BANK "switch sw { fed-by house; works-as battery; run 0.5 m; wire 150 mm2 insulation 105 C" PROTECT " }\n" \
        "load bow { fed-by sw; run 1 m; wire 150 mm2 insulation 105 C; protect 450 A fuse; draw 445 A }\n"
    expect_remedy(GREAT(""), "wire-unprotected",
                  "protect 450 A fuse bolt-on 0.15 m from source, with less margin than is usual, and less than that at `bow` behind it");
    Compiled c;
    compile_text(&c, GREAT("; protect 450 A fuse bolt-on"));
    assert_null(only_finding(&c, "wire-unprotected"));
    compile_free(&c);
}

/* A fuse of 10 A behind 15 A of load is no cure for a thin cable: cable and fuse change together. */
static void a_device_too_large_for_its_cable_and_too_small_for_its_load_changes_with_it(void **state)
{
    (void)state;
#define THIN(CABLE) ISO BANK "load bow { fed-by house; draw 100 A; run 0.5 m; " CABLE " fuse bolt-on }\n"
    expect_remedy(THIN("wire 10 mm2 insulation 90 C; protect 100 A"), "wire-unprotected", "wire 25 mm2 insulation 90 C with protect 125 A fuse bolt-on");
    expect_none(THIN("wire 25 mm2 insulation 90 C; protect 125 A"), cable_rules, CABLE_RULES);
    expect_remedy(THIN("wire 16 mm2 insulation 90 C; protect 110 A"), "protect-tight", "wire 25 mm2 insulation 90 C with protect 125 A fuse bolt-on");
}

/* Ohm's law: 38 A through 2 x 2.6 m of 16 mm2 leave a hundredth of the 3 % to a radio: its own cable is not the one to change. */
static void a_feeder_that_loses_nearly_all_is_named_and_its_branch_stays_a_branch(void **state)
{
    (void)state;
#define HELM(WIRE) \
    ISO BANK MAIN(WIRE) "circuit big { fed-by main; run 0.5 m; protect 60 A breaker; wire 25 mm2 insulation 105 C }\n" \
        "load warm { fed-by big; draw 38 A }\ncircuit helm { fed-by main; run 2 m; protect 15 A breaker }\n" \
        "radio vhf { fed-by helm; draw 11 A }\n"
    Compiled c;
    compile_text(&c, HELM("wire 16 mm2"));
    const Figure *size = compiled_figure(&c, "helm", FIGURE_WIRE_SIZE);
    assert_non_null(size);
    assert_true(size->chosen && size->high <= 10.01e-6); /* a breaker of 15 A takes it */
    compile_free(&c);
    expect_remedy(HELM("wire 16 mm2"), "wire-drop", "wire 25 mm2 insulation 105 C for `main`, which feeds it");
    expect_none(HELM("wire 25 mm2"), (const char *const[]){"wire-drop"}, 1);
}

/* Common practice, no source: a breaker of 15 A has screws of 4 mm or clamps of 16 mm2 or so; one of 100 A takes 50 mm2. */
static void a_cable_too_thick_for_the_terminals_of_its_device_is_told(void **state)
{
    (void)state;
#define ENDED(CABLE) ISO BANK "circuit lamps { fed-by house; run 1 m; " CABLE " }\nload lamp { fed-by lamps; draw 5 A }\n"
    expect_verdict(ENDED("wire 150 mm2; protect 15 A breaker"), "wire-terminals", BROKEN_AT_ONE, "lamps");
    expect_verdict(ENDED("wire 35 mm2; protect 15 A breaker"), "wire-terminals", BROKEN_AT_ONE, "lamps");
    expect_verdict(ENDED("wire 16 mm2; protect 15 A breaker"), "wire-terminals", NOTHING, NULL);
    expect_verdict(ENDED("wire 50 mm2; protect 100 A breaker"), "wire-terminals", NOTHING, NULL);
    expect_verdict(ENDED("wire 50 mm2; protect 15..100 A breaker"), "wire-terminals", OPEN_AT_ONE, "lamps");
    expect_verdict(ENDED("wire 50 mm2"), "wire-terminals", NOTHING, NULL);
}

/* A size that is left out is the smallest that meets the rules: what a load needs in volts is one of them. */
static void a_chosen_cable_leaves_a_load_the_voltage_that_it_needs(void **state)
{
    (void)state;
    static const char *const voltages[] = {"low-voltage", "surge"};
#define FRIDGE(RUN, CABLE, LOAD) \
    ISO BANK MAIN("wire 25 mm2") "circuit c1 { fed-by main; run " RUN "; protect 15 A breaker hydraulic; " CABLE " }\n" \
        "load fridge { fed-by c1; " LOAD "; min-voltage 11 V }\n"
    expect_none(FRIDGE("10 m", "", "draw 5 A"), voltages, 2);
    expect_none(FRIDGE("6 m", "", "draw 4 A; surge 14 A for 0.1 s"), voltages, 2);
    Compiled c;
    compile_text(&c, FRIDGE("10 m", "", "draw 5 A"));
    assert_near(compiled_figure(&c, "c1", FIGURE_WIRE_SIZE)->high, 6e-6, 1e-9);
    compile_free(&c);
    expect_verdict(FRIDGE("10 m", "wire 4 mm2", "draw 5 A"), "low-voltage", BROKEN_AT_ONE, "fridge"); /* the next smaller */
}

/* What `garboard kinds inlet` shows is copied: the first device within the half metre of ISO 13297:2020 12.3 (second hand). */
static void the_example_of_an_inlet_keeps_the_rules_of_either_basis(void **state)
{
    (void)state;
    static const char *const rules[] = {"protect-far", "wire-unprotected", "wire-overloaded"};
    char spec[1024];
    snprintf(spec, sizeof spec, ISO "%s\n", kinds[KIND_INLET].example);
    expect_none(spec, rules, 3);
}

/* A shore line of 16 A is protected by 16 A ashore: a larger device aboard protects nothing (common practice, no source). */
static void behind_an_inlet_no_larger_device_is_told_than_the_shore_gives(void **state)
{
    (void)state;
#define SHORE(DEVICE)                                                                                        \
    ISO "inlet shore { rated 16 A at 230 V; run 1.2 m; wire 4 mm2; protect " DEVICE                          \
        " A breaker 0.4 m from source; poles 2; ground-fault 30 mA; isolation galvanic }\n"                  \
        "panel ac-main { fed-by shore }\n"                                                                   \
        "outlet socket { fed-by ac-main; run 2 m; wire 2.5 mm2; protect 16 A breaker; rated 16 A }\n"
    expect_remedy(SHORE("16"), "protect-order",
                  "a smaller device here: what the shore gives leaves no room for a larger one upstream");
    expect_remedy(SHORE("10"), "protect-order", "a smaller device here, or a larger one (and a thicker cable) upstream");
}

/* No metre of cable loses nothing, whatever a metre loses. */
static void a_radio_without_a_cable_is_not_asked_what_it_loses(void **state)
{
    (void)state;
    static const char *const rules[] = {"unmeasured", "antenna-loss"};
    expect_none(ISO "radio handheld { portable yes; antenna-cable 0 m; price 90 EUR; mass 0.3 kg }\n", rules, 2);
}

/* The tank that waste comes from is no other end for it; that which fuel comes from is, on its way back from an engine. */
static void waste_is_not_led_back_to_where_it_comes_from(void **state)
{
    (void)state;
#define PUMPED(MORE)                                                                                           \
    ISO "tank sump { holds grey; capacity 8 l; vent 16 mm }\ntank fresh { holds fresh; capacity 200 l }\n" MORE \
        "pump out { portable yes; from sump; to fresh; flow 20 l/min }\n"
    expect_remedy(PUMPED(""), "wrong-liquid", "`to` with a tank that `holds grey`");
    expect_remedy(PUMPED("tank large { holds grey; capacity 90 l }\n"), "wrong-liquid", "to large");
    expect_remedy(ISO "tank fresh { holds fresh; capacity 200 l }\ntank diesel { holds fuel; capacity 200 l }\n"
                      "engine main { rated 20 kW at 3000 rpm; fuel diesel }\nfuel-line feed { from diesel; to main; run 1 m }\n"
                      "fuel-line back { from main; to fresh; run 1 m; return yes }\n",
                  "wrong-liquid", "to diesel");
}

/* Zinc grows a skin in fresh water (anode-unfit): magnesium is what protects there. */
static void the_anode_that_is_offered_suits_the_water(void **state)
{
    (void)state;
#define TURNED(WATER)                                                                                                  \
    "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso; " WATER " }\n" \
    "engine diesel { rated 20 kW at 3000 rpm; fuel diesel }\n"                                                        \
    "propeller screw { engine diesel; diameter 400 mm; pitch 300 mm; material bronze; shaft 30 mm }\n"
    expect_remedy(TURNED("water fresh"), "unprotected-metal", "anode shaft-anode { protects screw; material magnesium }");
    expect_remedy(TURNED("water brackish"), "unprotected-metal", "anode shaft-anode { protects screw; material zinc }");
    expect_remedy(TURNED(""), "unprotected-metal", "anode shaft-anode { protects screw; material zinc }");
}

/* Each answer by itself leaves the rule open: one remedy has all of them. */
static void what_is_asked_together_is_one_remedy(void **state)
{
    (void)state;
#define CELLS(SAID) ISO "bank house { chemistry lifepo4; voltage 12 V; capacity 100 Ah; charged-ashore yes; " SAID " }\n"
    expect_remedy(CELLS(""), "bank-management", "management yes and disconnect yes and cold-cutoff yes and warns yes");
    expect_remedy(CELLS("management yes; disconnect yes; warns yes"), "bank-management", "cold-cutoff yes");
}

/* 8 kA or more at the post: no bolt-on fuse breaks that (6 kA at the most). 35 mm2 of 70 C carries 126 A, 10 mm2 65 A;
 * of two laid as one there are four in the bundle, and 10 mm2 twice is less than 125 A. */
static void what_a_line_says_besides_stays_in_what_is_offered(void **state)
{
    (void)state;
#define STIFF "bank house { chemistry agm; voltage 12 V; capacity 600 Ah; resistance 1 mohm; charged-ashore yes }\n"
#define WINCH(DEVICE) ISO STIFF "load winch { fed-by house; draw 60 A; run 2 m; wire 35 mm2 insulation 105 C; protect " DEVICE " }\n"
    expect_remedy(WINCH("100 A fuse bolt-on 0.1 m from source"), "protect-breaking", "protect 100 A fuse class-t 0.1 m from source");
    static const char *const of_device[] = {"protect-breaking", "protect-far", "wire-unprotected", "protect-tight"};
    expect_none(WINCH("100 A fuse class-t 0.1 m from source"), of_device, sizeof of_device / sizeof of_device[0]);
#define FAN(CABLE) ISO BANK "load fan { fed-by house; draw 80 A; run 1 m; " CABLE "; protect 125 A fuse bolt-on 0.1 m from source }\n"
    expect_remedy(FAN("wire 10 mm2 insulation 70 C"), "wire-unprotected", "wire 35 mm2 insulation 70 C");
    expect_none(FAN("wire 35 mm2 insulation 70 C"), cable_rules, CABLE_RULES);
    expect_remedy(FAN("wire 10 mm2 conductors 2 insulation 70 C"), "wire-unprotected", "wire 16 mm2 conductors 2 insulation 70 C");
    expect_none(FAN("wire 16 mm2 conductors 2 insulation 70 C"), cable_rules, CABLE_RULES);
}

/*
 * A device that is left to the program lets what hangs on it start: 1.1 times its rating is what a fuse surely carries for a
 * second, so 11 A ask for 10 A, though 4 A would do with 5 A. Of a stated one the remedy names the same.
 */
static void a_chosen_device_lets_start_what_hangs_on_it(void **state)
{
    (void)state;
#define COLD(DEVICE)                                                                                                   \
    ISO BANK "circuit cold { fed-by house; run 3 m; wire ? insulation 105 C; protect " DEVICE " 0.1 m from source }\n" \
             "load fridge { fed-by cold; draw 4 A; surge 11 A for 1 s }\n"
    static const char *const starts[] = {"surge"};
    expect_none(COLD("? fuse blade"), starts, 1);
    expect_remedy(COLD("5 A fuse blade"), "surge", "`protect 10 A fuse blade 0.1 m from source` for `cold`, and a cable that it may protect");
#undef COLD
}

/*
 * What is written as a remedy has it keeps the limit. 9833.5 A and 2250..3460 A are Ohm's law on what the battery tables say of
 * voltage at rest; 72 in are 1.8288 m.
 */
static void a_number_in_a_remedy_is_rounded_to_the_safe_side(void **state)
{
    (void)state;
    static const char *const rules[] = {"protect-breaking", "protect-far"};
#define US "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; sails no }\n"
#define FAULT(BANK_SAYS, WIRE, DEVICE) \
    US "bank house { " BANK_SAYS "; capacity 200 Ah }\nload lamp { fed-by house; run 1 m; wire " WIRE "; draw 2 A; protect " DEVICE " }\n"
#define LITHIUM "chemistry lifepo4; voltage 12.8 V; resistance 1.2 mohm"
    expect_remedy(FAULT(LITHIUM, "2 AWG", "100 A fuse bolt-on 0.15 m from source"), "protect-breaking",
                  "`interrupts 9840 A` on its `protect`, if the device's own sheet says so");
    expect_none(FAULT(LITHIUM, "2 AWG", "100 A fuse bolt-on 0.15 m from source interrupts 9840 A"), rules, 2);
#define LEAD "chemistry agm; voltage 12 V; resistance 3..5 mohm"
    expect_remedy(FAULT(LEAD, "10 AWG", "15 A fuse blade 0.1 m from source"), "protect-breaking",
                  "`interrupts 3470 A` on its `protect`, if the device's own sheet says so");
    expect_none(FAULT(LEAD, "10 AWG", "15 A fuse blade 0.1 m from source interrupts 3470 A"), rules, 2);
#define FAR(PLACE) FAULT(LEAD, "10 AWG; sheath conduit", "15 A fuse class-t " PLACE " from source")
    expect_remedy(FAR("1..3 m"), "protect-far", "`1.828 m from source` on its `protect`");
    expect_none(FAR("1.828 m"), rules, 2);
#undef FAR
}

/* ISO 8820-3 (verified): blades are made for 32 V or 58 V, and break 1000 A; 12.65 to 12.8 V of a 12 V battery at rest over 80 mohm. */
static void a_blade_for_58_volts_breaks_at_48(void **state)
{
    (void)state;
#define BLADE(RESISTANCE, FOR) FAULT("chemistry agm; voltage 48 V; resistance " RESISTANCE, "10 AWG", "5 A fuse blade 0.15 m from source" FOR)
    expect_verdict(BLADE("80 mohm", " for 58 V"), "protect-breaking", NOTHING, NULL);
    expect_verdict(BLADE("80 mohm", ""), "protect-breaking", BROKEN_AT_ONE, "lamp");
    expect_verdict(BLADE("80 mohm", " for 32 V"), "protect-breaking", BROKEN_AT_ONE, "lamp");
    expect_verdict(BLADE("40 mohm", " for 58 V"), "protect-breaking", BROKEN_AT_ONE, "lamp");
#undef BLADE
}

/* The size of the cable hangs on its run: nobody knows what flows in a short circuit behind it. */
static void a_mistake_in_the_run_leaves_the_device_waiting(void **state)
{
    (void)state;
    expect_verdict(US "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 3 mohm }\n"
                      "load lamp { fed-by house; run 3 kg; draw 2 A; protect 5 A fuse blade 0.1 m from source }\n",
                   "protect-breaking", WAITING, NULL);
}

/* 33 CFR 183.425(e) (verified): 18 AWG only inside a sheath of several conductors. */
static void a_conduit_is_no_sheath_of_several_conductors(void **state)
{
    (void)state;
#define SMALL(SHEATH) FAULT("chemistry agm; voltage 12 V; resistance 30 mohm", "18 AWG; sheath " SHEATH, "5 A fuse blade 0.1 m from source")
    expect_verdict(SMALL("sheathed"), "wire-small", NOTHING, NULL);
    expect_verdict(SMALL("conduit"), "wire-small", BROKEN_AT_ONE, "lamp");
#undef SMALL
}

/* The language has the capacity of a box follow from its size: 72 l of 90 % that is used are 80 l. */
static void a_remedy_is_no_mistake_of_the_language(void **state)
{
    (void)state;
#define SHORT_OF_WATER(HOLDS)                                                                             \
    ISO "day anchored { water 12 l per person; flushes 0 per person }\ngoal quiet { endure 3 d on anchored }\n" \
        "tank fresh { holds fresh; usable 90 %; " HOLDS " }\n"
    expect_remedy(SHORT_OF_WATER("capacity 40 l"), "water-short", "capacity 80 l");
    expect_remedy(SHORT_OF_WATER("size 0.4 m by 0.4 m by 0.25 m"), "water-short", "a `size` that holds 80 l");
}

/* What is a range itself is copied by nobody: an outlet as wide as the pipe may be; a seal for the shaft once it is known. */
static void a_remedy_holds_for_all_of_a_range(void **state)
{
    (void)state;
#define RANGED(BORE) \
    ISO "engine diesel { rated 20 kW at 3000 rpm; fuel diesel; exhaust pipe }\nexhaust pipe { run 3 m; bore 40..60 mm }\n" \
        "through-hull out { bore " BORE "; height 0.3 m; material bronze; serves pipe }\n"
    expect_remedy(RANGED("51 mm"), "exhaust-outlet", "bore 60 mm");
    expect_verdict(RANGED("60 mm"), "exhaust-outlet", NOTHING, NULL);
#define SEALED(SHAFT)                                                                                           \
    ISO "engine diesel { rated 20 kW at 3000 rpm; fuel diesel }\npropeller screw { engine diesel; shaft " SHAFT " }\n" \
        "shaft-seal gland { propeller screw; shaft 35 mm }\n"
    expect_remedy(SEALED("30 mm"), "seal-fits", "a seal for that shaft, as measured on it: `shaft 30 mm`");
    expect_remedy(SEALED("30..40 mm"), "seal-fits", "a seal for that shaft, once that is measured: it is `30..40 mm` so far");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_number_in_a_remedy_is_rounded_to_the_safe_side),
        cmocka_unit_test(a_blade_for_58_volts_breaks_at_48),
        cmocka_unit_test(a_mistake_in_the_run_leaves_the_device_waiting),
        cmocka_unit_test(a_conduit_is_no_sheath_of_several_conductors),
        cmocka_unit_test(a_device_that_is_missing_fits_load_cable_and_fault),
        cmocka_unit_test(better_insulation_is_offered_before_thicker_copper),
        cmocka_unit_test(a_device_that_is_missing_stands_above_those_behind_it),
        cmocka_unit_test(where_no_cable_stands_behind_the_device_what_fits_is_told),
        cmocka_unit_test(a_device_too_large_for_its_cable_and_too_small_for_its_load_changes_with_it),
        cmocka_unit_test(a_feeder_that_loses_nearly_all_is_named_and_its_branch_stays_a_branch),
        cmocka_unit_test(a_cable_too_thick_for_the_terminals_of_its_device_is_told),
        cmocka_unit_test(a_chosen_cable_leaves_a_load_the_voltage_that_it_needs),
        cmocka_unit_test(the_example_of_an_inlet_keeps_the_rules_of_either_basis),
        cmocka_unit_test(behind_an_inlet_no_larger_device_is_told_than_the_shore_gives),
        cmocka_unit_test(a_radio_without_a_cable_is_not_asked_what_it_loses),
        cmocka_unit_test(waste_is_not_led_back_to_where_it_comes_from),
        cmocka_unit_test(the_anode_that_is_offered_suits_the_water),
        cmocka_unit_test(what_is_asked_together_is_one_remedy),
        cmocka_unit_test(what_a_line_says_besides_stays_in_what_is_offered),
        cmocka_unit_test(a_remedy_is_no_mistake_of_the_language),
        cmocka_unit_test(a_remedy_holds_for_all_of_a_range),
        cmocka_unit_test(a_chosen_device_lets_start_what_hangs_on_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
