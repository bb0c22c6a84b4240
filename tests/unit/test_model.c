/*
 * The model of a spec: what parts, options and settings make of a thing, and that a mistake leaves what it touches
 * unknown, never missing and never zero. The words of the messages are in tests/wrong/.
 */
#include "check.h"
#include "compile.h"

#define BOAT "boat wren { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us }\n"
#define BANK "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n"

static const Model *model_of(const Compiled *c)
{
    return outcome_first(c->outcome)->model;
}

static const Entity *thing(const Compiled *c, const char *name)
{
    const Entity *entity = model_find(model_of(c), str_from(name));
    if (entity == NULL) {
        fail_msg("there is no `%s`", name);
    }
    return entity;
}

/* Compiles a spec whose only mistakes are of these names, in the order of their places, a blank between. */
static void compile_with(Compiled *c, const char *text, const char *names)
{
    compile_text(c, text);
    Buf told;
    buf_init(&told, &c->arena);
    buf_text(&told, "");
    for (const Message *m = c->spec->messages.first; m != NULL; m = m->next) {
        buf_format(&told, "%s%s", told.length > 0 ? " " : "", message_kinds[m->id].name);
    }
    assert_str(buf_str(&told), names);
}

static void expect(const char *text, const char *names)
{
    Compiled c;
    compile_with(&c, text, names);
    compile_free(&c);
}

/* Parts, names, options */

static void a_part_gives_its_lines_and_its_title(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "part p for item \"A part\" { mass 2 kg; event 2026-01-01 \"one\"; event 2026-02-01 \"two\" }\n"
                          "item a is p { }\nitem b is p \"Its own\" { event 2026-03-01 \"three\" }\n", "");
    const Entity *a = thing(&c, "a");
    const Entity *b = thing(&c, "b");
    assert_str(a->title, "A part");
    assert_str(b->title, "Its own");
    assert_true(entity_property(a, PROP_COMMON_MASS)->flags & PROPERTY_FROM_PART);
    /* A property that may repeat is replaced as a whole. */
    const Property *events = entity_property(b, PROP_COMMON_EVENT);
    assert_str(property_value(events, 1)->u.text, "three");
    assert_null(block_next(&b->block, events));
    assert_non_null(block_next(&a->block, entity_property(a, PROP_COMMON_EVENT)));
    compile_free(&c);
}

static void an_old_name_is_kept_and_means_nothing(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT BANK "load lamps was old-lamps { fed-by house; run 1 m; draw 1 A }\njob j { takes 1 d; needs lamps }\n",
                 "");
    assert_str(entity_old_name(model_of(&c), thing(&c, "lamps"), 0), "old-lamps");
    assert_int_equal(entity_old_name(model_of(&c), thing(&c, "lamps"), 1).length, 0);
    assert_null(model_find(model_of(&c), STR("old-lamps")));
    compile_free(&c);
    expect(BOAT "item lamps was old-lamps { }\njob j { takes 1 d; needs old-lamps }\n", "unknown-name");
}

static void names_are_known_before_they_are_declared(void **state)
{
    (void)state;
    expect(BOAT "load lamps is lamp { fed-by house }\npart lamp for load { draw 1 A }\n" BANK, "");
}

static void each_option_may_declare_the_same_name(void **state)
{
    (void)state;
    expect(BOAT "choice q { option a { item x { mass 1 kg } }; option b { item x { mass 2 kg } } }\n"
                "job j { takes 1 d; needs x }\n", "");
    expect(BOAT "choice q { option a { item x { mass 1 kg } }; option b { } }\njob j { takes 1 d; needs x }\n",
           "option-lacks");
    expect(BOAT "choice q { option a { item x { mass 1 kg }; job j { takes 1 d; needs x } }; option b { } }\n", "");
}

static void a_setting_replaces_all_lines_of_a_property(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "item a { event 2026-01-01 \"one\"; event 2026-02-01 \"two\" }\n"
                          "choice q { option o { set a.event 2026-03-01 \"three\"; set a.event 2026-04-01 \"four\" }; pick o }\n",
                 "");
    const Entity *a = thing(&c, "a");
    const Property *first = entity_property(a, PROP_COMMON_EVENT);
    const Property *second = block_next(&a->block, first);
    assert_str(property_value(first, 1)->u.text, "three");
    assert_str(property_value(second, 1)->u.text, "four");
    assert_null(block_next(&a->block, second));
    compile_free(&c);
}

/* Mistakes that leave no echo */

/* Whether a property is there with a mistake: unknown, and not missing. */
static void expect_unknown(const Compiled *c, const char *name, PropId id)
{
    const Property *property = entity_property(thing(c, name), id);
    assert_non_null(property);
    assert_true(property->flags & PROPERTY_BROKEN);
}

static void what_was_probably_meant_is_unknown_and_not_missing(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "item a { weight 2 kg }\n", "unknown-property");
    expect_unknown(&c, "a", PROP_COMMON_MASS);
    compile_free(&c);
    compile_with(&c, BOAT BANK "load a { fedby house; draw 1 A }\n", "unknown-property");
    expect_unknown(&c, "a", PROP_FEED_FED_BY);
    assert_null(compiled_finding(&c, "unpowered"));
    compile_free(&c);
    /* Neither does it stand beside the real one. */
    compile_with(&c, BOAT "item a { weight 2 kg; mass 3 kg }\n", "unknown-property");
    assert_false(entity_property(thing(&c, "a"), PROP_COMMON_MASS)->flags & PROPERTY_BROKEN);
    compile_free(&c);
}

static void what_a_comma_drew_in_is_unknown_and_not_missing(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "tank a { holds fresh, capacity 9 l }\n", "comma-place");
    expect_unknown(&c, "a", PROP_TANK_HOLDS);
    expect_unknown(&c, "a", PROP_TANK_CAPACITY);
    compile_free(&c);
}

static void a_broken_line_wins_over_the_part(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "part p for item { mass 2 kg }\nitem a is p { mass 3 amp }\nitem b is p { weight 3 kg }\n",
                 "unit-unknown unknown-property");
    expect_unknown(&c, "a", PROP_COMMON_MASS);
    expect_unknown(&c, "b", PROP_COMMON_MASS);
    compile_free(&c);
}

static void a_name_is_known_whatever_is_wrong_where_it_is_declared(void **state)
{
    (void)state;
    const char *needs = "job j { takes 1 d; needs x }\n";
    static const struct {
        const char *text;
        const char *mistakes;
    } declared[] = {
        {BOAT "itme x { mass 1 kg }\n", "unknown-kind"},
        {BOAT "thing x { mass 1 kg }\n", "unknown-kind"},
        {BOAT "item x blue { mass 1 kg }\n", "header"},
        {BOAT "item x \"open { mass 1 kg }\n", "text-open"},
        {BOAT "item a { item x { mass 1 kg } }\n", "misplaced"},
        {BOAT "choice q { item x { mass 1 kg }; option o { } }\n", "misplaced"},
        {BOAT "option o { item x { mass 1 kg } }\n", "misplaced"},
        {BOAT "item x { mass 1 kg }\nspace x { }\n", "name-twice"},
        {BOAT "include \"more.boat\"\n", "file-unreadable"},
    };
    for (size_t i = 0; i < sizeof declared / sizeof declared[0]; i++) {
        Arena arena = check_arena();
        expect(text_format(&arena, "%s%s", declared[i].text, needs), declared[i].mistakes);
        arena_free(&arena);
    }
    expect(BOAT BANK "circuit A { fed-by house; run 1 m }\nload x { fed-by A; draw 1 A }\n", "name-reserved");
}

static void a_boat_that_is_there_with_a_mistake_is_not_missed(void **state)
{
    (void)state;
    expect("boat { length 9 m }\n", "name-missing");
    expect("baot wren { length 9.5 m; beam 3.1 m; crew 2; currency EUR; basis us }\n", "unknown-kind");
    expect("include \"wren.boat\"\n", "file-unreadable");
    expect("item a { }\n", "no-boat");
}

/* Mistakes that do not hide others */

static void what_the_model_cannot_hold_is_read_for_its_mistakes(void **state)
{
    (void)state;
    expect(BOAT "item { mass 1 amp }\n", "name-missing unit-unknown");
    expect(BOAT "item x { }\nitem x { mass 1 amp }\n", "name-twice unit-unknown");
    expect(BOAT "part p for item { }\npart p for item { mass 1 amp }\n", "name-twice unit-unknown");
    expect(BOAT "part p for item { mass 1 amp }\n", "unit-unknown");
    expect(BOAT "choice q { option a { }; option b { item x { mass 1 amp }; set wren.crew 1.5 }; pick a }\n",
           "unit-unknown not-whole");
    expect(BOAT "choice q { option a { item x { } }; option a { item x { mass 1 amp } } }\n", "name-twice unit-unknown");
    expect(BOAT "item a { item b { mass 1 amp } }\n", "misplaced unit-unknown");
}

static void all_that_a_thing_lacks_is_told_at_once(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "bank house { voltage 12 V }\n", "property-missing");
    assert_non_null(strstr(c.spec->messages.first->text, "`chemistry` and `capacity`"));
    compile_free(&c);
}

/* An engine, or wind or water: what is only of the other would be counted nowhere. */
static void an_alternator_is_driven_by_one_thing(void **state)
{
    (void)state;
#define DRIVEN(LINES) \
    BOAT "bank house { chemistry agm; voltage 12 V; capacity 90 Ah }\nengine iron { rated 20 kW at 3000 rpm; fuel diesel }\n" \
         "day calm { sun 2 h }\nalternator mill { output 20 A at 14 V; feeds house; " LINES " }\n"
    expect(DRIVEN("driven-by wind; gives calm 2 A"), "");
    expect(DRIVEN("engine iron"), "");
    expect(DRIVEN(""), "property-missing");
    expect(DRIVEN("driven-by wind; engine iron"), "shape-other");
    expect(DRIVEN("driven-by water; belts 2"), "shape-other");
    expect(DRIVEN("driven-by water; hot-output 70 %"), "shape-other");
    expect(DRIVEN("engine iron; gives calm 2 A"), "shape-other");
    expect(DRIVEN("driven-by winds"), "word-unknown");
    expect(DRIVEN("driven-by winds; engine iron"), "word-unknown");
    expect(DRIVEN("driven-by wind; gives calm 2 A for 25 h"), "out-of-range");
#undef DRIVEN
}

/* A composting toilet needs no `to`, any other does; what is worked by a word with a mistake has that told alone. */
static void a_composting_toilet_leads_nowhere(void **state)
{
    (void)state;
    expect(BOAT "toilet dry { worked-by composting }\n", "");
    expect(BOAT "toilet wet { worked-by hand }\n", "property-missing");
    expect(BOAT "toilet wet { }\n", "property-missing");
    expect(BOAT "toilet what { worked-by hands }\n", "word-unknown");
    expect(BOAT "toilet dry { worked-by composting; to nowhere }\n", "unknown-name");
    expect(BOAT "toilet dry { worked-by composting }\nchoice c { option a { set dry.worked-by hand }; option b { }; pick a }\n",
           "property-missing");
}

/* What a part that is not known may state is waited for: nothing is asked for, and no default stands in. */
static void what_an_unknown_part_would_say_is_waited_for(void **state)
{
    (void)state;
    Compiled c;
    compile_with(&c, BOAT "bank house is nosuch { }\npanel main { fed-by house; run 1 m; protect 100 A fuse }\n"
                          "circuit c { fed-by main; run 2 m; protect 10 A breaker }\nload lamp is nolamp { fed-by c }\n"
                          "part gap for solar { }\nload other is gap { fed-by c }\n",
                 "unknown-name unknown-name part-kind");
    assert_int_equal(c.outcome->unjudged, 0);
    assert_true(c.outcome->waiting > 0);
    assert_null(compiled_finding(&c, "unmeasured"));
    compile_free(&c);
}

/* Each model of an open choice tells the same mistakes: they are kept once. */
static void a_mistake_outside_of_choices_is_told_once(void **state)
{
    (void)state;
    expect(BOAT "item a { mass 1 amp }\nchoice q { option a-1 { item x { } }; option b-1 { item x { } } }\n", "unit-unknown");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_gives_its_lines_and_its_title),
        cmocka_unit_test(an_old_name_is_kept_and_means_nothing),
        cmocka_unit_test(names_are_known_before_they_are_declared),
        cmocka_unit_test(each_option_may_declare_the_same_name),
        cmocka_unit_test(a_setting_replaces_all_lines_of_a_property),
        cmocka_unit_test(what_was_probably_meant_is_unknown_and_not_missing),
        cmocka_unit_test(what_a_comma_drew_in_is_unknown_and_not_missing),
        cmocka_unit_test(a_broken_line_wins_over_the_part),
        cmocka_unit_test(a_name_is_known_whatever_is_wrong_where_it_is_declared),
        cmocka_unit_test(a_boat_that_is_there_with_a_mistake_is_not_missed),
        cmocka_unit_test(what_the_model_cannot_hold_is_read_for_its_mistakes),
        cmocka_unit_test(all_that_a_thing_lacks_is_told_at_once),
        cmocka_unit_test(a_composting_toilet_leads_nowhere),
        cmocka_unit_test(an_alternator_is_driven_by_one_thing),
        cmocka_unit_test(what_an_unknown_part_would_say_is_waited_for),
        cmocka_unit_test(a_mistake_outside_of_choices_is_told_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
