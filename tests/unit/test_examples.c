/*
 * Every example of the schema is a sound piece of a spec: each kind's block, and each property's line on every kind of
 * thing that may have it. The stub boat declares the names that the examples use.
 */
#include "check.h"
#include "compile.h"

#include "base/buf.h"
#include "model/meant.h"

#define BOAT "boat stub { length 10.4 m; beam 3.3 m; crew 2; currency EUR; basis iso }\n"
#define REST \
    "space engine-room { }\nspace saloon { }\nspace heads { }\n" \
    "supplier quay { lead 3 week }\n" \
    "day anchored { sun 5 h }\n" \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\n" \
    "switch house-switch { fed-by house; works-as battery }\n" \
    "bus positive { fed-by house-switch; run 1 m }\n" \
    "panel main { fed-by positive; run 1 m }\n" \
    "circuit lights { fed-by main; run 3 m }\n" \
    "inlet shore { rated 16 A at 230 V }\n" \
    "panel ac-main { fed-by shore; run 1 m }\n" \
    "circuit to-inverter { fed-by ac-main; run 2 m }\n" \
    "engine main-engine { rated 21 kW at 2800 rpm; fuel diesel }\n" \
    "heater diesel-heater { output 4 kW }\n" \
    "exhaust wet-exhaust { }\nexhaust generator-exhaust { }\n" \
    "propeller main-propeller { engine main-engine }\n" \
    "tank fresh-tank { holds fresh }\ntank holding { holds black }\ntank fuel-tank { holds fuel }\n" \
    "through-hull sink-drain { bore 38 mm }\n" \
    "pump fresh-pump { from fresh-tank }\n" \
    "hose galley-hose { from fresh-tank; to fresh-pump; bore 13 mm; run 4 m }\n" \
    "gas-locker gas-box { }\n" \
    "network backbone { cable light }\n" \
    "instrument plotter { }\n" \
    "job wire-galley { takes 2 d }\n"

/* Fails if a spec has a mistake; shows the first with its line. */
static void expect_sound(const char *what, const char *text)
{
    Compiled c;
    compile_text(&c, text);
    const Message *first = c.spec->messages.first;
    if (first != NULL) {
        Str line = first->placed ? source_line(&c.spec->sources, first->at.start) : STR("");
        fail_msg("%s: %s [%s]\n    %.*s", what, first->text, message_kinds[first->id].name, STR_ARG(line));
    }
    compile_free(&c);
}

static void the_stub_boat_is_sound(void **state)
{
    (void)state;
    expect_sound("the stub", BOAT REST);
}

static void every_example_of_a_kind_is_sound(void **state)
{
    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (kinds[kind].group) {
            continue;
        }
        Arena arena = check_arena();
        const char *boat = kind == KIND_BOAT ? "" : BOAT;
        expect_sound(kinds[kind].word, text_format(&arena, "%s%s%s\n", boat, REST, kinds[kind].example));
        arena_free(&arena);
    }
}

/* A file that is checked by itself has no boat: that is told, and nothing else comes of it. */
static void every_example_of_a_kind_is_read_without_a_boat(void **state)
{
    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (kinds[kind].group || kind == KIND_BOAT) {
            continue;
        }
        Arena arena = check_arena();
        const char *const specs[] = {text_format(&arena, "%s%s\n", REST, kinds[kind].example),
                                     text_format(&arena, "%s\n%s it-alone { }\n", REST, kinds[kind].word)};
        for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
            Compiled c;
            compile_text(&c, specs[i]);
            assert_true(c.spec->messages.count > 0);
            compile_free(&c);
        }
        arena_free(&arena);
    }
}

/* An alternator that is `driven-by` wind, or `gives` by the day as such a one does, has no engine; what an engine `takes` is of an electric one. */
static const char *required_line(PropId p, PropId beside)
{
    if (p == PROP_ENGINE_FUEL && (beside == PROP_ENGINE_TAKES || beside == PROP_ENGINE_EFFICIENCY)) {
        return "fuel electric";
    }
    bool wind = beside == PROP_ALTERNATOR_DRIVEN_BY || beside == PROP_ALTERNATOR_GIVES;
    if (p != PROP_ALTERNATOR_ENGINE || !wind) {
        return props[p].example;
    }
    return beside == PROP_ALTERNATOR_GIVES ? props[PROP_ALTERNATOR_DRIVEN_BY].example : "";
}

/* What a thing of that kind must state, apart from one property. */
static void add_required(Buf *to, KindId kind, PropId except)
{
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
        if (props[p].required && p != except) {
            buf_format(to, "  %s\n", required_line(p, except));
        }
    }
}

/* A thing of that kind for each of its properties, with that property's example. */
static void every_example_of_a_property_is_sound_on_each_kind(void **state)
{
    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        Arena arena = check_arena();
        Buf text;
        buf_init(&text, &arena);
        buf_text(&text, BOAT REST);
        for (PropId p = schema_next_prop(kind, PROP_NONE);
             p != PROP_NONE && !kinds[kind].group && kind != KIND_BOAT; p = schema_next_prop(kind, p)) {
            buf_format(&text, "%s sample-%d {\n  %s\n", kinds[kind].word, (int)p, props[p].example);
            add_required(&text, kind, p);
            /* Two of them arrive; and money comes back for what went back. */
            buf_text(&text, p == PROP_COMMON_ARRIVED    ? "  count 2\n}\n"
                            : p == PROP_COMMON_REFUNDED ? "  status returned\n}\n"
                                                        : "}\n");
        }
        expect_sound(kinds[kind].word, text.text);
        arena_free(&arena);
    }
}

static void every_example_of_a_property_is_sound_on_the_boat(void **state)
{
    (void)state;
    for (PropId p = schema_next_prop(KIND_BOAT, PROP_NONE); p != PROP_NONE; p = schema_next_prop(KIND_BOAT, p)) {
        Arena arena = check_arena();
        Buf text;
        buf_init(&text, &arena);
        buf_format(&text, "boat sample {\n  %s\n", props[p].example);
        add_required(&text, KIND_BOAT, p);
        buf_text(&text, "}\n" REST);
        expect_sound(props[p].word, text.text);
        arena_free(&arena);
    }
}

static void every_example_of_a_propertys_own_block_is_sound(void **state)
{
    (void)state;
    for (PropId p = schema_next_prop(KIND_FEEDS, PROP_NONE); p != PROP_NONE; p = schema_next_prop(KIND_FEEDS, p)) {
        Arena arena = check_arena();
        expect_sound(props[p].word,
                     text_format(&arena, BOAT REST "solar sample { rated 50 W; feeds house { %s } }\n", props[p].example));
        arena_free(&arena);
    }
}

/* The usual words for other properties: what is meant is a property of that kind, and the word itself is none. */
static void what_is_meant_is_a_property_of_the_kind(void **state)
{
    (void)state;
    static const struct {
        KindId kind;
        const char *word;
        PropId meant;
    } usual[] = {
        {KIND_ITEM, "weight", PROP_COMMON_MASS},         {KIND_ITEM, "cost", PROP_COMMON_PRICE},
        {KIND_ITEM, "quantity", PROP_COMMON_COUNT},      {KIND_LOAD, "power", PROP_LOAD_DRAW},
        {KIND_SOLAR, "power", PROP_SOLAR_RATED},         {KIND_LOAD, "source", PROP_FEED_FED_BY},
        {KIND_PUMP, "suction", PROP_PUMP_FROM},          {KIND_CIRCUIT, "fuse", PROP_FEED_PROTECT},
        {KIND_CIRCUIT, "length", PROP_FEED_RUN},         {KIND_BANK, "type", PROP_BANK_CHEMISTRY},
        {KIND_TANK, "contents", PROP_TANK_HOLDS},        {KIND_BOAT, "voltage", PROP_BOAT_SYSTEM_VOLTAGE},
        {KIND_HOSE, "diameter", PROP_HOSE_BORE},         {KIND_LOAD, "fedby", PROP_FEED_FED_BY},
        {KIND_ITEM, "pirce", PROP_COMMON_PRICE},         {KIND_DAY, "weight", PROP_NONE},
        {KIND_ITEM, "colour", PROP_NONE},
    };
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        Arena arena = check_arena();
        Buf right;
        buf_init(&right, &arena);
        PropId meant = property_meant(&right, usual[i].kind, str_from(usual[i].word));
        if (meant != usual[i].meant) {
            fail_msg("%s on a %s: %s", usual[i].word, kinds[usual[i].kind].word,
                     meant != PROP_NONE ? props[meant].word : "nothing");
        }
        assert_true(meant == PROP_NONE || schema_has(usual[i].kind, meant));
        assert_int_equal(schema_find_prop(usual[i].kind, str_from(usual[i].word)), PROP_NONE);
        arena_free(&arena);
    }
}

/* Whether a word is one of those in W(...) of a shape. */
static bool is_offered(const char *shape, Str word)
{
    for (const char *at = shape; (at = strstr(at, "W(")) != NULL; at++) {
        const char *end = strchr(at, ')');
        for (const char *from = at + 2; from < end; from += strcspn(from, "|)") + 1) {
            if (str_equal((Str){from, strcspn(from, "|)")}, word)) {
                return true;
            }
        }
    }
    return false;
}

/* A word of the trade leads to one that stands in the schema, and is none of the schema's own words there. */
static void every_word_of_the_trade_means_a_word_of_its_property(void **state)
{
    (void)state;
    const char *property, *words, *meant;
    size_t rows = 0;
    for (; usual_value_at(rows, &property, &words, &meant); rows++) {
        bool found = false;
        for (PropId p = PROP_NONE + 1; p < PROP_COUNT; p++) {
            if (props[p].word == NULL || strcmp(props[p].word, property) != 0 || !is_offered(props[p].shape, str_from(meant))) {
                continue;
            }
            found = true;
            for (const char *at = words; *at != 0; at += strspn(at, " ")) {
                Str word = {at, strcspn(at, " ")};
                if (is_offered(props[p].shape, word)) {
                    fail_msg("`%.*s` is a word of `%s` itself", STR_ARG(word), property);
                }
                at += word.length;
            }
        }
        if (!found) {
            fail_msg("no `%s` takes `%s`", property, meant);
        }
    }
    assert_true(rows > 90);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_word_of_the_trade_means_a_word_of_its_property),
        cmocka_unit_test(the_stub_boat_is_sound),
        cmocka_unit_test(every_example_of_a_kind_is_sound),
        cmocka_unit_test(every_example_of_a_kind_is_read_without_a_boat),
        cmocka_unit_test(every_example_of_a_property_is_sound_on_each_kind),
        cmocka_unit_test(every_example_of_a_property_is_sound_on_the_boat),
        cmocka_unit_test(every_example_of_a_propertys_own_block_is_sound),
        cmocka_unit_test(what_is_meant_is_a_property_of_the_kind),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
