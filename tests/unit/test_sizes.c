/*
 * Sizes that are left to the program. A size or rating that it chose must satisfy its own rules: over the boats in specs/ and
 * over a few hundred small boats made from a fixed start, nothing that was chosen may break wire-drop, wire-overloaded,
 * wire-unprotected, protect-tight or wire-small. What no size could mend (a feeder that the owner states too thin) is not
 * in these boats.
 */
#include "check.h"
#include "compile.h"

#include "figures/power.h"
#include "rules/outcome.h"

#include <stdio.h>

static const char *const sizing_rules[] = {"wire-drop", "wire-overloaded", "wire-unprotected", "protect-tight", "wire-small",
                                             "thruster-volts"};

static bool is_of_sizing(const Finding *f)
{
    for (size_t i = 0; i < sizeof sizing_rules / sizeof sizing_rules[0]; i++) {
        if (strcmp(f->rule->name, sizing_rules[i]) == 0) {
            return true;
        }
    }
    return false;
}

static bool was_chosen(const Case *of, const Finding *f, FigureId id)
{
    const Figure *figure = figure_find(of->figures, f->subject, id, f->at);
    return figure != NULL && figure->chosen;
}

/* Fails if a rule complains of a feed whose wire was chosen, or of a chosen protection that may open in normal use. */
static void assert_content(const Outcome *outcome, const char *what)
{
    for (uint32_t i = 0; i < outcome->case_count; i++) {
        const Case *of = &outcome->cases[i];
        for (const Finding *f = of->judge->first; f != NULL; f = f->next) {
            bool protection = strcmp(f->rule->name, "protect-tight") == 0;
            if (is_of_sizing(f) && was_chosen(of, f, protection ? FIGURE_PROTECTION : FIGURE_WIRE_SIZE)) {
                fail_msg("%s: %s\n%s", f->rule->name, f->message, what);
            }
        }
    }
}

/* The boats in specs/ */

static FileText read_file(void *context, Arena *arena, const char *path)
{
    (void)context;
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return (FileText){.error = "cannot be opened"};
    }
    fseek(file, 0, SEEK_END);
    long length = ftell(file);
    rewind(file);
    char *text = arena_alloc(arena, (size_t)length + 1);
    size_t got = fread(text, 1, (size_t)length, file);
    fclose(file);
    text[got] = 0;
    return (FileText){.text = text, .length = got};
}

static void check_demo(const char *name, int basis)
{
    Arena arena;
    jmp_buf failure;
    arena_init(&arena, allocator_standard(), &failure);
    if (setjmp(failure) != 0) {
        fail_msg("no more memory");
    }
    const char *path = text_format(&arena, "%s/../specs/%s", TESTS_DIR, name);
    Spec *spec = spec_load(&arena, path, NULL, (FileReader){read_file, NULL});
    assert_null(spec->error);
    OutcomeRequest request = {.basis = basis};
    assert_true(date_read(STR("2027-03-01"), &request.today));
    assert_content(outcome_compute(&arena, spec, request), name);
    arena_free(&arena);
}

static void nothing_that_was_chosen_is_complained_of_in_the_demo_boats(void **state)
{
    (void)state;
    static const char *const boats[] = {"heron/heron.boat", "plover.boat", "coot.boat"};
    for (size_t i = 0; i < sizeof boats / sizeof boats[0]; i++) {
        check_demo(boats[i], BASIS_US);
        check_demo(boats[i], BASIS_ISO);
    }
}

/* Boats made by chance, always the same: Park and Miller's minimal standard generator. */

static uint32_t chance(uint32_t *seed, uint32_t below)
{
    *seed = (uint32_t)((uint64_t)*seed * 16807 % 2147483647);
    return *seed % below;
}

static const char *one_of(uint32_t *seed, const char *const *list, uint32_t count)
{
    return list[chance(seed, count)];
}

static const char *const protections[] = {"protect ?", "protect ? breaker", "protect ? fuse"};
static const char *const kinds_of_load[] = {"load", "load", "instrument", "nav-light", "radio", "bilge-pump"};

static void write_load(Buf *to, uint32_t *seed, int c, int l, const char *at)
{
    const char *kind = one_of(seed, kinds_of_load, 6);
    buf_format(to, "%s l-%d-%d { fed-by %s; draw %u.%u A", kind, c, l, at, chance(seed, 4), 1 + chance(seed, 9));
    if (strcmp(kind, "bilge-pump") == 0) {
        buf_text(to, "; space bilge");
    }
    if (strcmp(kind, "nav-light") == 0) {
        buf_text(to, "; shows stern");
    }
    if (strcmp(kind, "instrument") == 0) {
        buf_text(to, "; function depth");
    }
    if (strcmp(kind, "radio") == 0) {
        buf_text(to, "; loss 0.1 dB/m");
    }
    if (chance(seed, 3) == 0) {
        buf_format(to, "; run %u m", 1 + chance(seed, 6)); /* a branch, on its circuit's protection */
    }
    buf_text(to, chance(seed, 4) == 0 ? "; critical yes }\n" : " }\n");
}

static void write_boat(Buf *to, uint32_t seed)
{
    uint32_t volts = chance(&seed, 3) == 0 ? 24 : 12;
    buf_format(to, "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis %s }\n",
               chance(&seed, 2) == 0 ? "us" : "iso");
    buf_format(to, "bank house { chemistry agm; voltage %u V; capacity 400 Ah; resistance 3 mohm }\n", volts);
    buf_text(to, "space engine-room { engine-space yes }\nspace bilge { }\n");
    const char *giver = "house";
    if (chance(&seed, 2) == 0) {
        buf_format(to, "bus positive { fed-by house; run %u m; %s }\n", 1 + chance(&seed, 3), one_of(&seed, protections, 3));
        giver = "positive";
    }
    buf_format(to, "panel main { fed-by %s; run %u m; %s }\n", giver, 1 + chance(&seed, 3), one_of(&seed, protections, 3));
    int circuits = 1 + (int)chance(&seed, 5);
    for (int c = 0; c < circuits; c++) {
        buf_format(to, "circuit c-%d { fed-by main; run %u m; %s", c, 1 + chance(&seed, 9), one_of(&seed, protections, 3));
        buf_text(to, chance(&seed, 4) == 0 ? "; through engine-room" : "");
        buf_text(to, chance(&seed, 4) == 0 ? "; drop 5 %" : "");
        buf_text(to, chance(&seed, 4) == 0 ? "; bundle 4" : "");
        buf_text(to, " }\n");
        for (int l = 0; l <= (int)chance(&seed, 3); l++) {
            write_load(to, &seed, c, l, text_format(to->arena, "c-%d", c));
        }
    }
    buf_format(to, "inverter sine { fed-by main; rated 500 W; output 230 V; efficiency 90 %%; run 2 m; %s }\n",
               one_of(&seed, protections, 3));
    buf_format(to, "circuit mains { fed-by sine; run %u m; protect ? breaker }\noutlet socket { fed-by mains; rated 2 A }\n",
               2 + chance(&seed, 8));
    buf_format(to, "thruster bow { fed-by house; run %u m; wire ? insulation 105 C; protect ? fuse; draw %u A; thrust 400 N }\n",
               1 + chance(&seed, 7), 80 + 20 * chance(&seed, 8));
    buf_format(to, "charger dock { output %u A at 14 V; feeds house { run %u m; protect ? fuse } }\n", 10 + chance(&seed, 40),
               1 + chance(&seed, 3));
}

/* Whether the main panel's cable was chosen, so that there was something to complain of. */
static bool check_chance(uint32_t seed)
{
    Arena arena;
    jmp_buf failure;
    arena_init(&arena, allocator_standard(), &failure);
    if (setjmp(failure) != 0) {
        fail_msg("no more memory");
    }
    Buf text;
    buf_init(&text, &arena);
    write_boat(&text, seed);
    Compiled c;
    compile_text(&c, text.text);
    if (c.spec->messages.count != 0) {
        fail_msg("%s\n%s", text.text, c.spec->messages.first->text);
    }
    assert_content(c.outcome, text.text);
    const Figure *size = compiled_figure(&c, "main", FIGURE_WIRE_SIZE);
    bool chosen = size != NULL && size->state == STATE_KNOWN && size->chosen;
    compile_free(&c);
    arena_free(&arena);
    return chosen;
}

static void nothing_that_was_chosen_is_complained_of_in_boats_by_chance(void **state)
{
    (void)state;
    for (uint32_t seed = 1; seed <= 300; seed++) {
        assert_true(check_chance(seed * 7919));
    }
}

/* 5 A, 4 m each way, 12 V, 3 %: IEC 60228 class 5 tinned at 50 C, 2.5 mm2 (8.21 ohm/km) loses 3.06 %, 4 mm2 (5.09) 1.9 %. */
static void where_real_cable_loses_too_much_the_size_that_does_not_is_named(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"
                     "load pump-1 { fed-by house; run 4 m; wire 2.5 mm2; protect 10 A fuse; draw 5 A; critical yes }\n");
    const Finding *f = compiled_finding(&c, "wire-drop");
    assert_non_null(f);
    assert_near(f->value.high, 2 * 4.0 * 5.0 * 8.21e-3 * (1.0 + 0.00393 * 30.0) / 12.0, 1e-5);
    assert_string_equal(f->remedies->text, "wire 4 mm2");
    compile_free(&c);
}

/*
 * Before `nav`, 35 mm2 and 70 mm2 lose 0.0164 ohm mm2/m x 2 x (4.4 m / 35 mm2 + 0.6 m / 70 mm2) x 50.1 A / 12 V = 1.84 % by the form of
 * the basis, and 2.5 % in real copper: more than three quarters of 3 %. Its own 4.1 A over 4 m lose 1.79 % in 2.5 mm2 and 1.12 % in
 * 4 mm2: that keeps the form. Its own 16 mm2 ends the warning that is left, by 0.4 % of real copper.
 */
static void a_size_keeps_the_form_of_the_basis_where_it_can(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 360 Ah }\n"
                     "switch sw { fed-by house; works-as battery; run 0.6 m; wire 70 mm2; protect 200 A fuse class-t }\n"
                     "panel main { fed-by sw; run 4.4 m; wire 35 mm2 insulation 105 C; protect 100 A fuse }\n"
                     "circuit other { fed-by main; run 2 m; wire 16 mm2 insulation 105 C; protect 60 A breaker }\n"
                     "load cabin { fed-by other; draw 46 A }\ncircuit nav { fed-by main; run 4 m; protect 10 A breaker }\n"
                     "instrument plotter { fed-by nav; draw 4.1 A; function position }\n");
    assert_near(compiled_figure(&c, "nav", FIGURE_WIRE_SIZE)->high, 4e-6, 1e-12);
    const Finding *f = compiled_finding(&c, "wire-drop");
    assert_non_null(f);
    assert_int_equal(f->severity, SEVERITY_WARNING);
    assert_string_equal(f->remedies->text, "wire 16 mm2");
    assert_string_equal(f->remedies->next->text, "wire 50 mm2 insulation 105 C for `main`, which feeds it");
    compile_free(&c);
}

/*
 * 300 A through 2 x 7.5 m of 95 mm2 (0.210 ohm/km, IEC 60228, at 50 C 0.235) and 1.33 mohm of bank leave less than the 10.5 V that
 * thruster-volts asks for, with 120 mm2 (0.161 ohm/km) more: 12 V - 0.40 V - 0.81 V - 0.07 V of the switch's cable = 10.7 V.
 */
static void a_thruster_s_chosen_cable_leaves_it_what_it_wants(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"
                     "bank house { chemistry agm; voltage 12 V; capacity 360 Ah; resistance 1.33 mohm }\n"
                     "switch sw { fed-by house; works-as battery; run 0.6 m; wire 120 mm2 insulation 105 C; protect 400 A fuse class-t }\n"
                     "thruster bow { fed-by sw; run 7.5 m; wire ? insulation 105 C; protect ? fuse class-t; draw 300 A; "
                     "thrust 550 N; longest-burst 3 min }\n");
    assert_near(compiled_figure(&c, "bow", FIGURE_WIRE_SIZE)->high, 120e-6, 1e-12);
    assert_null(compiled_finding(&c, "thruster-volts"));
    compile_free(&c);
}

/*
 * What inverter-feed asks of a stated cable and device is asked of a chosen one: 3000 W of a lithium bank of 25.6 V that has
 * come down to 24 V, through 88 %, are 142 A, which ask for a device of 178 A. 4 AWG of 105 C carries 160 A, 2 AWG 210
 * (33 CFR 183.425, Table 5), in an engine space 0.85 of that: 136 and 179 A.
 */
static void what_an_inverter_takes_of_a_low_bank_is_sized_for(void **state)
{
    (void)state;
    static const char spec[] =
        "edition 1\nboat wren { length 32 ft; beam 10 ft; crew 2; currency USD; basis us }\n"
        "bank house { chemistry lifepo4; voltage 25.6 V; capacity 200 Ah }\nspace hot { engine-space yes }\n"
        "inverter inv { fed-by house; run 0.5 m; wire ? insulation 105 C; protect ? fuse class-t 0.1 m from source; through hot; "
        "rated 3000 W; output 120 V; efficiency 88 % }\n"
        "outlet socket { fed-by inv; run 1 m; rated 20 A }\n";
    Compiled c;
    compile_text(&c, spec);
    assert_near(compiled_figure(&c, "inv", FIGURE_CURRENT_WHEN_LOW)->low, 3000.0 / 0.88 / 24.0, 1e-6);
    assert_near(compiled_figure(&c, "inv", FIGURE_PROTECTION)->low, 200.0, 1e-9);
    assert_true(compiled_figure(&c, "inv", FIGURE_AMPACITY)->low >= 142.0);
    compile_free(&c);
}

/* 9 days of 0.15 kg are 1.35 kg, 0.68 kg in each of two: 1 kg is made. 44 l for five days, 9 days ask for more: 198 l each. */
static void several_are_sized_for_a_cruise_and_told_one_by_one(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis iso }\n"
                     "tank wt { holds fresh; capacity ?; usable 90 %; count 2 }\n"
                     "gas-locker gl { cylinder ?; count 2; drained-overboard yes; drain 19 mm }\n"
                     "day dd { water 22 l per person; gas 0.15 kg }\ngoal gg { endure 5 d on dd }\ncruise cc { days 9 dd }\n");
    assert_null(c.spec->messages.first);
    assert_near(compiled_figure(&c, "gl", FIGURE_GAS_HELD)->low, 2.0, 1e-9);
    unsigned told = 0;
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        if (strcmp(f->rule->name, "size-chosen") == 0) {
            assert_non_null(strstr(f->message, strstr(f->message, "`wt`") != NULL ? "with 250 l each" : "with 1 kg each"));
            told++;
        }
    }
    assert_int_equal(told, 2);
    assert_null(compiled_finding(&c, "cruise-short"));
    compile_free(&c);
}

/* 10 A is less than the least of the US series, and more than the 7.5 A fuse that would carry 4 A: 16 AWG carries 8.66 A there. */
static void a_chosen_cable_stands_a_small_device_of_its_own(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, "edition 1\nboat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"
                   "space sump { bilge yes; temperature 50 C }\nbank house { chemistry agm; voltage 12 V; capacity 100 Ah }\n"
                   "bilge-pump electric { fed-by house; run 2 m; protect 10 A fuse 0.1 m from source; draw 4 A; space sump }\n");
    assert_null(compiled_finding(&c, "wire-unprotected"));
    compile_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_that_was_chosen_is_complained_of_in_the_demo_boats),
        cmocka_unit_test(nothing_that_was_chosen_is_complained_of_in_boats_by_chance),
        cmocka_unit_test(where_real_cable_loses_too_much_the_size_that_does_not_is_named),
        cmocka_unit_test(a_size_keeps_the_form_of_the_basis_where_it_can),
        cmocka_unit_test(several_are_sized_for_a_cruise_and_told_one_by_one),
        cmocka_unit_test(a_thruster_s_chosen_cable_leaves_it_what_it_wants),
        cmocka_unit_test(what_an_inverter_takes_of_a_low_bank_is_sized_for),
        cmocka_unit_test(a_chosen_cable_stands_a_small_device_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
