/*
 * What `check`, `figures`, `why`, `bom` and wires.csv write. Findings and figures are made by hand here, so
 * that these tests say nothing of rules and recipes. The expected texts are the design of Garboard's own
 * output; sums are worked out beside them. JSON, SARIF and CSV are read back by other programs in
 * tests/run/json_schema.sh, sarif_schema.sh, csv_reads_back.sh.
 */
#define _XOPEN_SOURCE 700

#include "test_output.h"

#include "output/bom.h"
#include "output/figures_out.h"
#include "output/findings_csv.h"
#include "output/findings_json.h"
#include "output/findings_sarif.h"
#include "output/findings_text.h"
#include "output/report.h"
#include "output/why.h"
#include "output/wires.h"

/* A boat to try outputs on; invented. */
#define BOAT                                                                                               \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us " \
    "}\n"

static FileText no_file(void *context, Arena *arena, const char *path)
{
    (void)context;
    (void)arena;
    (void)path;
    return (FileText){.error = "there are no files here"};
}

static const Date today = 20513; /* 2026-03-01: 56 years of 365 days, 14 leap days, 31 + 28 days */

/* A spec with its models and figures, but without what the rules found. */
static Outcome *compiled(Bench *bench, const char *text)
{
    FileText file = {.text = (char *)str_copy(&bench->arena, str_from(text)), .length = strlen(text)};
    Spec *spec = spec_load(&bench->arena, "wren.boat", &file, (FileReader){no_file, NULL});
    assert_null(spec->error);
    Outcome *outcome = outcome_compute(&bench->arena, spec, (OutcomeRequest){.basis = -1, .today = today});
    assert_true(outcome->case_count > 0);
    outcome->findings = NULL;
    outcome->faults = outcome->warnings = outcome->advice = outcome->open = outcome->waived = 0;
    outcome->unjudged = outcome->waiting = 0;
    return outcome;
}

static Outcome *compiled_well(Bench *bench, const char *text)
{
    Outcome *outcome = compiled(bench, text);
    assert_int_equal(outcome->mistakes, 0);
    return outcome;
}

static Span span_of(const Outcome *outcome, const char *piece)
{
    const Source *source = outcome->spec->sources.list[0];
    const char *at = strstr(source->text, piece);
    assert_non_null(at);
    uint32_t start = source->base + (uint32_t)(at - source->text);
    return (Span){start, start + (uint32_t)strlen(piece)};
}

static const Entity *thing(const Outcome *outcome, const char *name)
{
    const Entity *entity = model_find(outcome_first(outcome)->model, str_from(name));
    assert_non_null(entity);
    return entity;
}

static const Rule thin_wire = {.name = "thin-wire",
                               .severity = SEVERITY_FAULT,
                               .title = "a cable is thick enough",
                               .source = "an invented rule",
                               .why = "It burns."};
static const Rule dusty = {.name = "dusty",
                           .severity = SEVERITY_ADVICE,
                           .title = "it is clean",
                           .source = "another invented rule",
                           .why = "It itches."};

static Finding *add_finding(Bench *bench, Outcome *outcome, const Rule *rule, const char *subject,
                            const char *place)
{
    Finding **end = &outcome->findings;
    while (*end != NULL) {
        end = &(*end)->next;
    }
    Finding *finding = ARENA_NEW(&bench->arena, Finding);
    *finding = (Finding){.rule = rule,
                         .severity = rule->severity,
                         .subject = thing(outcome, subject),
                         .message = "the sentence",
                         .place = span_of(outcome, place),
                         .combinations = outcome->case_count};
    *end = finding;
    return finding;
}

static void expect_text(Bench *bench, const Outcome *outcome, const char *text)
{
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    assert_str(buf_str(&bench->buf), text);
}

static void expect_part(const Bench *bench, const char *part)
{
    if (strstr(bench->buf.text, part) == NULL) {
        print_error("`%s` is not in:\n%s\n", part, bench->buf.text);
        fail();
    }
}

static int times_in(const char *text, const char *part)
{
    int times = 0;
    for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part)) {
        times++;
    }
    return times;
}

/* ---- check as text ---- */

static void a_spec_in_order_gives_the_summary_alone(void **state)
{
    Bench *bench = *state;
    expect_text(bench, compiled_well(bench, BOAT), "0 faults, 0 warnings\n");
}

static void the_summary_counts_what_there_is(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled_well(bench, BOAT);
    outcome->faults = 2;
    outcome->warnings = 5;
    outcome->advice = 1;
    outcome->open = 3;
    outcome->waived = 1;
    outcome->unjudged = 4;
    outcome->waiting = 2;
    expect_text(
        bench, outcome,
        "2 faults, 5 warnings, 1 advice, 3 open, 1 waived; 4 judgements could not be made, 2 wait for a "
        "fault to be mended\n");
    *outcome = (Outcome){.arena = outcome->arena,
                         .spec = outcome->spec,
                         .mistakes = 1,
                         .faults = 1,
                         .warnings = 1,
                         .waiting = 1,
                         .strict = true};
    expect_text(bench, outcome,
                "1 mistake, 1 fault, 1 warning; 1 judgement waits for a mistake to be mended; warnings count as faults\n");
}

static void a_finding_shows_its_places_its_remedies_and_its_rule(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled_well(bench, BOAT "item lamp {\n  mass 3 kg\n  price 4 EUR\n}\n");
    Finding *finding = add_finding(bench, outcome, &thin_wire, "lamp", "mass 3 kg");
    finding->place_note = "too much";
    FindingNote note = {.at = span_of(outcome, "4 EUR"), .text = "for little"};
    Remedy second = {.text = "mass 1 kg"};
    Remedy first = {.text = "price 5 EUR", .next = &second};
    finding->notes = &note;
    finding->remedies = &first;
    outcome->faults = 1;
    expect_text(bench, outcome,
                "wren.boat:3:3: fault: the sentence [thin-wire]\n"
                "    3 |   mass 3 kg\n"
                "      |   ^^^^^^^^^ too much\n"
                "    4 |   price 4 EUR\n"
                "      |         ----- for little\n"
                "  would hold with: price 5 EUR, or mass 1 kg\n"
                "  rule: an invented rule (see `garboard rules thin-wire`)\n"
                "1 fault, 0 warnings\n");
}

static void an_open_finding_says_what_it_hangs_on_and_a_guess_is_named(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled_well(bench, BOAT "item lamp {\n  mass 3 kg\n}\n");
    Finding *finding = add_finding(bench, outcome, &thin_wire, "lamp", "mass 3 kg");
    Depend second = {.text = "engine-size"};
    Depend first = {.text = "house.capacity", .next = &second};
    finding->verdict = VERDICT_OPEN;
    finding->depends = &first;
    finding->guessed = true;
    outcome->open = 1;
    expect_text(bench, outcome,
                "wren.boat:3:3: open (fault): the sentence [thin-wire]\n"
                "    3 |   mass 3 kg\n"
                "      |   ^^^^^^^^^\n"
                "  hangs on: house.capacity, engine-size\n"
                "  rests on a value that is only guessed or estimated\n"
                "  rule: an invented rule (see `garboard rules thin-wire`)\n"
                "next to decide, by what it holds up:\n"
                "  house.capacity (not stated): 1 open fault\n"
                "  engine-size (not stated): 1 open fault\n"
                "0 faults, 0 warnings, 1 open\n");
}

static void a_rule_is_explained_once_and_what_is_waived_is_only_counted(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled_well(bench, BOAT "item lamp { mass 3 kg }\nitem cup { mass 1 kg }\n");
    add_finding(bench, outcome, &thin_wire, "lamp", "mass 3 kg");
    add_finding(bench, outcome, &thin_wire, "cup", "mass 1 kg");
    Waiver waiver = {.because = STR("an example")};
    add_finding(bench, outcome, &dusty, "cup", "cup")->waiver = &waiver;
    outcome->faults = 2;
    outcome->waived = 1;
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    assert_int_equal(times_in(bench->buf.text, "rule: "), 1);
    assert_int_equal(times_in(bench->buf.text, "[dusty]"), 0);
    expect_part(bench, "\n2 faults, 0 warnings, 1 waived\n");
}

static void mistakes_come_first_and_advice_waits_for_them(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled(bench, BOAT "item lamp { mass 3 kgs }\n");
    assert_int_equal(outcome->mistakes, 1);
    add_finding(bench, outcome, &dusty, "lamp", "lamp");
    outcome->advice = 1;
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    assert_int_equal(strncmp(bench->buf.text, "wren.boat:2:20: mistake: ", 25), 0);
    expect_part(bench, " [unit-unknown]\n"
                       "    2 | item lamp { mass 3 kgs }\n"
                       "      |                    ^^^\n"
                       "  right: ");
    assert_null(strstr(bench->buf.text, "[dusty]"));
    expect_part(
        bench,
        "\n1 advice held back until the mistakes are mended\n1 mistake, 0 faults, 0 warnings, 1 advice\n");
}

static void options_are_named_where_a_finding_depends_on_them(void **state)
{
    Bench *bench = *state;
    Outcome *outcome =
        compiled_well(bench, BOAT "choice size { option lean { item keel { mass 3 kg } }\n"
                                  "option stout { item keel { mass 4 kg } } }\nitem lamp { mass 1 kg }\n");
    assert_int_equal(outcome->case_count, 2);
    Finding *finding = add_finding(bench, outcome, &thin_wire, "keel", "mass 3 kg");
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    expect_part(bench, "  in every option\n");
    finding->combinations = 1;
    finding->only_with = "size=lean";
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    expect_part(bench, "  only with size=lean\n");
    add_finding(bench, outcome, &dusty, "lamp", "lamp");
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    assert_null(strstr(strstr(bench->buf.text, "[dusty]"), "option\n"));
}

static void a_verdict_that_the_printed_digits_hide_is_explained(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled_well(bench, BOAT "item lamp { mass 3 kg }\n");
    Finding *finding = add_finding(bench, outcome, &thin_wire, "lamp", "lamp");
    finding->compared = true;
    finding->unit = UNIT_ALONE(UNIT_PERCENT);
    finding->value = point(0.0300004);
    finding->limit = point(0.03);
    buf_init(&bench->buf, &bench->arena);
    assert_true(findings_look_equal(&bench->buf, outcome, finding));
    assert_str(buf_str(&bench->buf), "the printed digits are equal, the values are not: 3.00004 against 3 %");
    finding->value = point(0.035);
    assert_false(findings_look_equal(&bench->buf, outcome, finding));
    finding->value = point(0.03);
    assert_false(findings_look_equal(&bench->buf, outcome, finding));
}

static void what_a_spec_says_cannot_reach_the_terminal_as_a_command(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled_well(bench, BOAT "item lamp \"\xC2\x9B"
                                                 "2J\" { mass 3 kg }\n");
    add_finding(bench, outcome, &thin_wire, "lamp", "item lamp")->message =
        "it is \x1b[31mred\x1b[0m\nand more";
    buf_init(&bench->buf, &bench->arena);
    findings_text(&bench->buf, outcome, COLOUR_OFF);
    assert_null(strchr(bench->buf.text, '\x1b'));
    assert_null(strstr(bench->buf.text, "\xC2\x9B"));
    expect_part(bench, "[0m and more [thin-wire]\n");
}

/* ---- check for other programs ---- */

/* SARIF and `[name]` in messages tell rules and mistakes apart by name alone. */
static void no_rule_has_the_name_of_a_mistake(void **state)
{
    (void)state;
    for (int id = 0; id < MESSAGE_COUNT; id++) {
        assert_null(rule_find(str_from(message_kinds[id].name)));
    }
}

static Outcome *found_with_waiver(Bench *bench)
{
    Outcome *outcome = compiled_well(bench, BOAT "item lamp { mass 3 kg }\n");
    static const Waiver waiver = {.because = {"an \"example\"", 12}, .has_until = true, .until = 20513};
    Finding *finding = add_finding(bench, outcome, &thin_wire, "lamp", "mass 3 kg");
    finding->compared = true;
    finding->unit = UNIT_ALONE(UNIT_AH);
    finding->value = (Interval){36000.0, INFINITY};
    finding->limit = point(72000.0);
    finding->verdict = VERDICT_OPEN;
    add_finding(bench, outcome, &thin_wire, "lamp", "lamp")->waiver = &waiver;
    return outcome;
}

/* Charge is Ah in JSON, 3600 C each; a side without a bound is null. */
static void values_are_in_the_coherent_unit_in_json(void **state)
{
    Bench *bench = *state;
    buf_init(&bench->buf, &bench->arena);
    findings_json(&bench->buf, found_with_waiver(bench));
    expect_part(
        bench,
        "\"value\": {\n        \"low\": 10,\n        \"high\": null,\n        \"unit\": \"Ah\"\n      }");
    expect_part(
        bench,
        "\"limit\": {\n        \"low\": 20,\n        \"high\": 20,\n        \"unit\": \"Ah\"\n      }");
    expect_part(bench, "\"because\": \"an \\\"example\\\"\",\n        \"until\": \"2026-03-01\"");
    expect_part(bench,
                "\"line\": 2,\n      \"column\": 13,\n      \"end_line\": 2,\n      \"end_column\": 22");
}

/* SARIF 2.1.0, 3.27.10 and 3.27.23 (from memory): level none where open; suppressions on all results or on
 * none. */
static void sarif_tells_open_and_waived_apart(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = found_with_waiver(bench);
    buf_init(&bench->buf, &bench->arena);
    findings_sarif(&bench->buf, outcome);
    assert_int_equal(times_in(bench->buf.text, "\"kind\": \"open\",\n          \"level\": \"none\""), 1);
    assert_int_equal(times_in(bench->buf.text, "\"kind\": \"fail\",\n          \"level\": \"error\""), 1);
    assert_int_equal(times_in(bench->buf.text, "\"suppressions\": "), 2);
    assert_int_equal(times_in(bench->buf.text, "\"suppressions\": []"), 1);
    expect_part(bench, "\"garboard/v1\": \"thin-wire:lamp\"");
    expect_part(bench, "\"garboard/v1\": \"thin-wire:lamp#2\"");
    outcome->findings->next = NULL;
    buf_init(&bench->buf, &bench->arena);
    findings_sarif(&bench->buf, outcome);
    assert_null(strstr(bench->buf.text, "suppressions"));
}

static void findings_csv_has_values_in_the_owners_unit(void **state)
{
    Bench *bench = *state;
    buf_init(&bench->buf, &bench->arena);
    findings_csv(&bench->buf, found_with_waiver(bench));
    expect_part(
        bench,
        "\r\nthin-wire,fault,open,lamp,the sentence,wren.boat,2,13,>= 10,20,Ah,,,,,,an invented rule\r\n");
    expect_part(bench, "\r\nthin-wire,fault,waived,lamp,the sentence,wren.boat,2,6,,,,,,,2026-03-01,\"an "
                       "\"\"example\"\"\",an "
                       "invented rule\r\n");
}

/* A gauge is no number: what is compared are areas of copper, 10 AWG being 5.261 mm2 (ASTM B258, from memory). */
static void what_is_stated_in_gauges_is_a_number_of_mm2(void **state)
{
    Bench *bench = *state;
    Csv csv;
    buf_init(&bench->buf, &bench->arena);
    static const char *const headers[] = {"value", "unit"};
    csv_init(&csv, &bench->buf, headers, 2);
    report_csv_range(&csv, (Interval){5.261e-6, 5.261e-6}, UNIT_ALONE(UNIT_AWG), false);
    report_csv_unit(&csv, UNIT_ALONE(UNIT_AWG), false, STR("USD"));
    expect_part(bench, "5.261,mm2");
}

/* ---- figures and why, on figures made by hand ---- */

/* lamp.mass = 2 x mass + mass; boat.mass rests on it twice. */
static Outcome *with_figures(Bench *bench)
{
    Outcome *outcome =
        compiled_well(bench, BOAT "item lamp \"A lamp\" { mass 3..4 kg estimated }\nitem cup { count 2 }\n");
    const Model *model = outcome_first(outcome)->model;
    Figures *figures = figures_new(&bench->arena, model, BASIS_US, today);
    outcome->cases[0].figures = figures;
    Work work;
    work_init(&work, figures);
    work_begin(&work);
    use_value(&work, thing(outcome, "lamp"), PROP_COMMON_MASS, 0);
    const Figure *lamp = work_record(&work, FIGURE_MASS, thing(outcome, "lamp"), NULL, (Interval){9.0, 12.0},
                                     "2 x {mass} + {mass}");
    work_begin(&work);
    use_figure(&work, lamp);
    use_figure(&work, lamp);
    use_fact(&work, "a lucky number", point(7.0), UNIT_ALONE(UNIT_KG), "invented");
    use_value(&work, model->boat, PROP_BOAT_CONTINGENCY, 0);
    work_record(&work, FIGURE_MASS, model->boat, NULL, point(16.0),
                "{lamp} + {other lamp} + {luck} less {margin}")
        ->remark = "two lamps";
    work_begin(&work);
    use_missing(&work, thing(outcome, "cup"), PROP_COMMON_MASS);
    work_record(&work, FIGURE_MASS, thing(outcome, "cup"), NULL, point(0.0), "sum of mass");
    return outcome;
}

static void why_leads_from_a_number_to_lines_tables_and_assumptions(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = with_figures(bench);
    buf_init(&bench->buf, &bench->arena);
    assert_null(why_text(&bench->buf, outcome, STR("wren.mass")));
    assert_str(buf_str(&bench->buf),
               text_format(&bench->arena,
                           "wren.mass = 16 kg\n"
                           "  %s\n"
                           "  = lamp + other lamp + luck less margin\n"
                           "  = 9..12 kg + 9..12 kg + 7 kg less 0 %%\n"
                           "  two lamps\n"
                           "  source: %s\n"
                           "  lamp = 9..12 kg: lamp.mass\n"
                           "    = 2 x mass + mass\n"
                           "    = 2 x 3..4 kg + 3..4 kg\n"
                           "    source: %s\n"
                           "    mass = 3..4 kg, wren.boat:2: mass 3..4 kg estimated\n"
                           "  other lamp = 9..12 kg: lamp.mass (see above)\n"
                           "  luck = 7 kg: a lucky number (invented)\n"
                           "  margin = 0 %%, assumed: %s\n",
                           figure_rows[FIGURE_MASS].help, figure_rows[FIGURE_MASS].source,
                           figure_rows[FIGURE_MASS].source, props[PROP_BOAT_CONTINGENCY].authority));
    Buf again;
    buf_init(&again, &bench->arena);
    assert_null(why_text(&again, outcome, STR("boat.mass")));
    assert_true(str_equal(buf_str(&again), buf_str(&bench->buf)));
    buf_init(&again, &bench->arena);
    assert_null(why_text(&again, outcome, STR("cup.mass")));
    assert_non_null(strstr(again.text, "cup.mass: not known\n"));
    assert_non_null(strstr(again.text, "  mass: not stated\n"));
}

static void why_offers_near_names(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = with_figures(bench);
    static const struct {
        const char *asked, *answer;
    } CASES[] = {
        {"lamb.mass", "nothing in the boat is called `lamb`; did you mean `lamp`?"},
        {"lamp.mas", "`lamp` has no figure `mas`; did you mean `mass`?"},
        {"lamp.zzzzzz", "`lamp` has no figure `zzzzzz`; it has `mass`"},
        {"lamp.mass@monday", "`lamp` has no figure `mass@monday`; it has `mass`"},
        {"lamp", "`lamp` has several figures: `mass`"},
        {"lamp.", "`lamp` has several figures: `mass`"},
        {"", "it has the form SUBJECT.FIGURE"},
        {".", "it has the form SUBJECT.FIGURE"},
        {"qqqq\x1b.mass", "nothing in the boat is called `qqqq\xEF\xBF\xBD`"},
    };
    buf_init(&bench->buf, &bench->arena);
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        const char *answer = why_text(&bench->buf, outcome, str_from(CASES[i].asked));
        assert_non_null(answer);
        assert_string_equal(answer, CASES[i].answer);
    }
    assert_int_equal(bench->buf.length, 0);
}

/* A chain far deeper than a stack of calls could follow. */
static void why_ends_even_where_figures_rest_on_each_other_without_end(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = with_figures(bench);
    Work work;
    work_init(&work, (Figures *)outcome_first(outcome)->figures);
    const Figure *last = NULL;
    for (int i = 0; i < 200000; i++) {
        work_begin(&work);
        use_figure(&work, last);
        work.state = STATE_KNOWN;
        last = work_record(&work, i == 199999 ? FIGURE_COST : FIGURE_VOLUME, thing(outcome, "cup"), NULL,
                           point(1.0), NULL);
    }
    buf_init(&bench->buf, &bench->arena);
    assert_null(why_text(&bench->buf, outcome, STR("cup.cost")));
    expect_part(bench, "(see `garboard why cup.volume`)\n");
    assert_true(bench->buf.length < 10000);
}

static void figures_are_told_by_thing(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = with_figures(bench);
    buf_init(&bench->buf, &bench->arena);
    figures_text(&bench->buf, outcome, STR(""));
    assert_str(
        buf_str(&bench->buf),
        "wren: Wren\n"
        "  mass                        16 kg           lamp + other lamp + luck less margin; two lamps\n"
        "\n"
        "lamp: A lamp\n"
        "  mass                        9..12 kg        2 x mass + mass\n"
        "\n"
        "cup\n"
        "  mass                        not known       sum of mass\n");
    buf_init(&bench->buf, &bench->arena);
    figures_csv(&bench->buf, outcome, STR("lamp"));
    expect_part(bench, "\r\nlamp,mass,9,12,kg,9..12 kg,known,2 x mass + mass,lamp.mass,");
    buf_init(&bench->buf, &bench->arena);
    figures_json(&bench->buf, outcome, STR("cup"));
    expect_part(
        bench,
        "\"low\": null,\n      \"high\": null,\n      \"unit\": \"kg\",\n      \"display\": \"not known\",\n"
        "      \"state\": \"missing\"");
}

static void a_figure_covers_all_open_options(void **state)
{
    Bench *bench = *state;
    Outcome *outcome =
        compiled_well(bench, BOAT "choice size { option lean { item keel { mass 3 kg } }\n"
                                  "option stout { item keel { mass 4 kg }; item bulb { mass 5 kg } } }\n");
    for (uint32_t c = 0; c < 2; c++) {
        const Model *model = outcome->cases[c].model;
        Figures *figures = figures_new(&bench->arena, model, BASIS_US, today);
        outcome->cases[c].figures = figures;
        Work work;
        work_init(&work, figures);
        work_record(&work, FIGURE_MASS, model_find(model, STR("keel")), NULL, point(3.0 + c), NULL);
        if (c == 1) {
            work_record(&work, FIGURE_MASS, model_find(model, STR("bulb")), NULL, point(5.0), NULL);
        }
    }
    buf_init(&bench->buf, &bench->arena);
    figures_text(&bench->buf, outcome, STR(""));
    assert_str(buf_str(&bench->buf),
               "keel\n  mass                        3..4 kg\n\nbulb\n  mass                        5 kg\n");
    buf_init(&bench->buf, &bench->arena);
    assert_null(why_text(&bench->buf, outcome, STR("keel.mass")));
    expect_part(bench, "keel.mass = 3 kg\n");
    expect_part(bench, "  worked with size=lean; over all open options it is 3..4 kg\n");
    buf_init(&bench->buf, &bench->arena);
    assert_null(why_text(&bench->buf, outcome, STR("bulb.mass")));
    expect_part(bench, "  worked with size=stout; ");
}

/* ---- bill of materials and wires ---- */

/* (3 + 2) x 4.05 = 20.25; (3 + 2) x 1..2 kg = 5..10 kg; three weeks are 21 days. */
static void totals_of_the_bill_hold_the_spares(void **state)
{
    Bench *bench = *state;
    buf_init(&bench->buf, &bench->arena);
    bom_csv(&bench->buf,
            compiled_well(bench, BOAT "supplier quay { lead 3 week }\n"
                                      "item lamp \"A lamp\" { count 3; spare 2; price 4.05 EUR; quote 4 EUR; "
                                      "mass 1..2 kg; supplier quay; ordered 2026-01-02;"
                                      " promised 2026-03-01; promised 2026-04-01; serial \"=7\" }\n"
                                      "item cup { quote 2..2.5 EUR; discontinued yes }\n"
                                      "item gone { price 9 EUR; status dropped }\n"));
    expect_part(
        bench,
        "\r\nlamp,A "
        "lamp,item,cabin,3,2,ordered,quay,4.05,4.05,EUR,20.25,20.25,1..2,5..10,2026-01-02,2026-04-01,,,21,,"
        "'=7,,,,wren.boat,3,2026-03-01,,,,,,,,,,\r\n");
    expect_part(
        bench, "\r\ncup,,item,cabin,1,0,not ordered,,2.00,2.50,EUR,2.00,2.50,,,,,,,,,,,yes,,wren.boat,4,,,,,,,,,,,\r\n");
    expect_part(bench, "\r\ngone,,item,cabin,1,0,dropped,,9.00,9.00,EUR,,,,,"); /* no share in any sum */
}

static void the_bill_lists_the_things_of_every_open_option_side_by_side(void **state)
{
    Bench *bench = *state;
    static const char SPEC[] = BOAT "choice size {\n"
                                    "option lean { item keel { price 3 EUR }; set lamp.price 7 EUR }\n"
                                    "option stout { item keel { price 4 EUR } }\n"
                                    "%s}\n"
                                    "item lamp { price 5 EUR }\n";
    buf_init(&bench->buf, &bench->arena);
    bom_csv(&bench->buf, compiled_well(bench, text_format(&bench->arena, SPEC, "")));
    const char *lean = strstr(bench->buf.text, "\r\nkeel,,item,cabin,1,0,not ordered,,3.00,");
    const char *stout = strstr(bench->buf.text, "\r\nkeel,,item,cabin,1,0,not ordered,,4.00,");
    assert_non_null(lean);
    assert_non_null(stout);
    assert_true(lean < stout);
    expect_part(bench, ",size=lean,wren.boat,3,");
    expect_part(bench, ",size=stout,wren.boat,4,");
    expect_part(bench, "\r\nlamp,,item,cabin,1,0,not ordered,,5.00,7.00,EUR,5.00,7.00,");
    buf_init(&bench->buf, &bench->arena);
    bom_csv(&bench->buf, compiled_well(bench, text_format(&bench->arena, SPEC, "pick stout\n")));
    assert_int_equal(times_in(bench->buf.text, "\r\nkeel,"), 1);
    assert_null(strstr(bench->buf.text, "size="));
}

#define POWER                                                                                           \
    "bank house { chemistry agm; voltage 12 V; capacity 100 Ah; resistance 4 mohm }\n"                  \
    "panel main { fed-by house; run 1 m; wire 10 AWG; protect 30 A fuse terminal 0.1 m from source }\n" \
    "circuit pumps { fed-by main; run 5 m; wire 14 AWG insulation 105 C; protect 10 A breaker }\n"      \
    "pump bilge-water { fed-by pumps; draw 4 A }\n"                                                     \
    "circuit lights { fed-by main; wire 14 AWG conductors 2; protect 10 A breaker }\n"                  \
    "load lamp { fed-by lights; draw 2 A }\n"

/* 14 AWG: 2 x 5 m and 10 % make 11 m, and a feed without a run; 10 AWG: 2 x 1 m and 10 % make 2.2 m, so 3
 * m. */
static void the_bill_adds_up_cable_and_protection(void **state)
{
    Bench *bench = *state;
    buf_init(&bench->buf, &bench->arena);
    bom_csv(&bench->buf, compiled(bench, BOAT POWER));
    expect_part(bench, "\r\ncable-14-AWG-insulation-105-C,\"Cable, 14 AWG, insulation 105 C, in metres of single conductor\",cable,"
                       "power,11,");
    expect_part(bench, "\r\ncable-14-AWG-insulation-60-C-assumed,\"Cable, 14 AWG, insulation 60 C assumed, in metres of "
                       "single conductor; without 1 feed whose run is not stated\",cable,power,0,");
    expect_part(bench, "\r\ncable-10-AWG-insulation-60-C-assumed,\"Cable, 10 AWG, insulation 60 C assumed, in metres of "
                       "single conductor\",cable,power,3,");
    expect_part(bench, "\r\nprotection-10-A-breaker,10 A breaker,protection,power,2,");
    expect_part(bench, "\r\nprotection-30-A-fuse-terminal,30 A fuse terminal,protection,power,1,");
}

/* Of one size and two insulations two lines: what stands 60 C burns where 105 C was judged. */
static void cable_is_bought_by_its_insulation(void **state)
{
    Bench *bench = *state;
    buf_init(&bench->buf, &bench->arena);
    bom_csv(&bench->buf, compiled(bench, BOAT "bank house { voltage 12 V; capacity 100 Ah }\n"
                                         "load hot { fed-by house; run 5 m; wire 4 mm2 insulation 105 C; draw 2 A }\n"
                                         "load cool { fed-by house; run 1 m; wire 4 mm2; draw 2 A }\n"));
    expect_part(bench, "\"Cable, 4 mm2, insulation 105 C, in metres of single conductor\",cable,power,11,");
    expect_part(bench, "\"Cable, 4 mm2, insulation 60 C assumed, in metres of single conductor\",cable,power,3,");
}

/* ABYC E-11, Table XV: pumps brown; accessory feeds orange, cabin lights dark blue; Table XIV: main conductors red. */
static void wires_have_names_for_labels_and_colours_by_the_basis(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled(bench, BOAT POWER);
    buf_init(&bench->buf, &bench->arena);
    wires_csv(&bench->buf, outcome);
    expect_part(bench, "\r\npumps,main,pumps,14 AWG,1,105,5,10,4,10 A breaker,");
    expect_part(bench, ",brown; returning black or yellow,main to pumps,spec,dc,,,,");
    expect_part(bench, ",orange (lights: dark blue); returning black or yellow,main to lights,spec,dc,,,,");
    expect_part(bench, ",red; returning black or yellow,house to main,spec,dc,,,,");
    expect_part(bench, "\r\nlights,main,lights,14 AWG,2,60,,,2,10 A breaker,");
    assert_null(strstr(bench->buf.text, "\r\nlamp,"));
    outcome->basis = BASIS_ISO;
    buf_init(&bench->buf, &bench->arena);
    wires_csv(&bench->buf, outcome);
    assert_int_equal(times_in(bench->buf.text, ",red; returning black or yellow,"), 3);
}

/*
 * Two conductors have four ends; the holes are the spec's, else usual where they are on a bank, a battery switch, a starter or a
 * great fuse, and of no size that a list could name where they are not (common practice, no source). Mains
 * have their grounding conductor besides, and clamps. An inlet's own cable is there too.
 */
static void wires_have_ends(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled(bench, BOAT POWER
        "circuit first { fed-by main; run 1 m; wire 10 AWG; protect 40 A breaker; studs 5/16 in  to 1/4 in }\n"
        "circuit second { fed-by main; run 1 m; wire 10 AWG; protect 40 A breaker; studs 6 mm }\n"
        "circuit third { fed-by main; run 1 m; wire 2 AWG conductors 2; protect 160 A breaker }\n"
        "inlet shore { rated 30 A at 120 V; run 1 m; wire 10 AWG; ground 10 AWG; protect 30 A breaker; poles 2; "
        "ground-fault 30 mA }\n"
        "circuit lamps { fed-by shore; run 1 m; wire 12 AWG; ground 14 AWG; protect 15 A breaker }\n");
    buf_init(&bench->buf, &bench->arena);
    wires_csv(&bench->buf, outcome);
    expect_part(bench, ",\"4 rings 14 AWG, hole to measure\",,spec,,");
    expect_part(bench, ",\"4 rings 10 AWG, holes 5/16 in to 1/4 in\",,spec,,");
    expect_part(bench, ",\"4 rings 10 AWG, hole 6 mm\",,spec,,");
    expect_part(bench, ",\"8 rings 2 AWG, hole to measure\",,spec,,");
    expect_part(bench, "\r\nshore,shore,breaker,10 AWG,1,60,1,2,");
    expect_part(bench, ",shore to breaker,spec,ac,10 AWG,2,30,6 ferrules 10 AWG,,spec,,");
    expect_part(bench, ",ac,14 AWG,,,\"4 ferrules 12 AWG, 2 ferrules 14 AWG\",,spec,,");
}

/*
 * The column `rated_by` marks what Garboard rated; where the spec states no device there is none to build: `guarded_by`
 * names the one upstream that protects the cable, and is empty where nothing does.
 */
static void wires_say_who_rated_a_device_and_what_stands_for_one_that_is_not_there(void **state)
{
    Bench *bench = *state;
    Outcome *outcome = compiled(bench, BOAT POWER
        "bus second { fed-by main; run 1 m; wire 6 AWG }\n"
        "load left { fed-by main; run 2 m; wire 14 AWG; draw 3 A; protect ? }\n"
        "load bare { fed-by house; run 2 m; wire 14 AWG; draw 3 A }\n");
    buf_init(&bench->buf, &bench->arena);
    wires_csv(&bench->buf, outcome);
    expect_part(bench, ",house to main,spec,dc,,,,\"2 rings 10 AWG, hole 5/16 in (usual), 2 rings 10 AWG, hole to measure\",,spec,,");
    expect_part(bench, ",main to second,spec,dc,,,,\"4 rings 6 AWG, hole to measure\",,,30 A of main,");
    expect_part(bench, ",main to left,spec,dc,,,,\"4 rings 14 AWG, hole to measure\",,Garboard,,");
    expect_part(bench, ",house to bare,spec,dc,,,,\"2 rings 14 AWG, hole 5/16 in (usual), 2 rings 14 AWG, hole to measure\",,,,");
    buf_init(&bench->buf, &bench->arena);
    bom_csv(&bench->buf, outcome);
    assert_int_equal(times_in(bench->buf.text, "rating chosen by Garboard"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH_TEST(a_spec_in_order_gives_the_summary_alone),
        BENCH_TEST(the_summary_counts_what_there_is),
        BENCH_TEST(a_finding_shows_its_places_its_remedies_and_its_rule),
        BENCH_TEST(an_open_finding_says_what_it_hangs_on_and_a_guess_is_named),
        BENCH_TEST(a_rule_is_explained_once_and_what_is_waived_is_only_counted),
        BENCH_TEST(mistakes_come_first_and_advice_waits_for_them),
        BENCH_TEST(options_are_named_where_a_finding_depends_on_them),
        BENCH_TEST(a_verdict_that_the_printed_digits_hide_is_explained),
        BENCH_TEST(what_a_spec_says_cannot_reach_the_terminal_as_a_command),
        BENCH_TEST(no_rule_has_the_name_of_a_mistake),
        BENCH_TEST(values_are_in_the_coherent_unit_in_json),
        BENCH_TEST(sarif_tells_open_and_waived_apart),
        BENCH_TEST(findings_csv_has_values_in_the_owners_unit),
        BENCH_TEST(what_is_stated_in_gauges_is_a_number_of_mm2),
        BENCH_TEST(why_leads_from_a_number_to_lines_tables_and_assumptions),
        BENCH_TEST(why_offers_near_names),
        BENCH_TEST(why_ends_even_where_figures_rest_on_each_other_without_end),
        BENCH_TEST(figures_are_told_by_thing),
        BENCH_TEST(a_figure_covers_all_open_options),
        BENCH_TEST(totals_of_the_bill_hold_the_spares),
        BENCH_TEST(the_bill_lists_the_things_of_every_open_option_side_by_side),
        BENCH_TEST(the_bill_adds_up_cable_and_protection),
        BENCH_TEST(cable_is_bought_by_its_insulation),
        BENCH_TEST(wires_have_names_for_labels_and_colours_by_the_basis),
        BENCH_TEST(wires_have_ends),
        BENCH_TEST(wires_say_who_rated_a_device_and_what_stands_for_one_that_is_not_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
