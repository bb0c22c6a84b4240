/*
 * The schema table and the notation of shapes.
 *
 * Checked against the language page (its list of kinds, its rules for words), and the rules that the table
 * sets for itself. Whether every example compiles as a spec is tested where specs are compiled.
 */
#include "base/arena.h"
#include "base/buf.h"
#include "language/schema.h"
#include "language/shape.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static jmp_buf out_of_memory;

static int open_arena(void **state)
{
    static Arena arena;

    arena_init(&arena, allocator_standard(), &out_of_memory);
    *state = &arena;
    return 0;
}

static int close_arena(void **state)
{
    arena_free(*state);
    return 0;
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, open_arena, close_arena)

static const char *name_of(PropId prop)
{
    return props[prop].word ? props[prop].word : "(none)";
}

/* The first word of a text, up to a blank. */
static Str first_word(const char *text)
{
    return (Str){text, strcspn(text, " \n")};
}

/* ---- The table ---- */

/* Written apart, each with its own cable, an inverter and a charger in one case are bought and drawn with two. */
static void inverter_and_charger_in_one_case_are_told_of_at_each(void **state)
{
    (void)state;
    static const KindId both[] = {KIND_INVERTER, KIND_CHARGER};
    for (size_t i = 0; i < COUNT(both); i++) {
        assert_non_null(strstr(kinds[both[i]].help, "in one case with"));
        assert_non_null(strstr(kinds[both[i]].help, "`bus`"));
        assert_non_null(strstr(kinds[both[i]].help, "`run 0 m`"));
    }
}

static void every_notation_compiles(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const char *why;

        if (!shape_check(props[prop].shape, &why)) {
            fail_msg("%s.%s: %s: %s", kinds[props[prop].owner].word, name_of(prop), props[prop].shape, why);
        }
    }
}

static void every_row_stands_under_its_owner(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 2; prop < PROP_COUNT; prop++) {
        if (props[prop].owner < props[prop - 1].owner) {
            fail_msg("%s.%s", kinds[props[prop].owner].word, name_of(prop));
        }
    }
}

static void a_default_and_its_authority_come_together(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const PropRow *row = &props[prop];

        if ((row->assumed == NULL) != (row->authority == NULL) || (row->assumed && row->required)) {
            fail_msg("%s.%s", kinds[row->owner].word, row->word);
        }
    }
}

/* What a default may go by is a property beside it, which says a word that it may say, or a whole number of one figure. */
static void another_default_goes_by_a_property_beside_it(void **state)
{
    Shapes *shapes = shapes_new(*state);
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const PropRow *row = &props[prop], *by = &props[row->usual_by];
        bool some = row->usual[0].says != NULL;
        if (some != (row->usual_by != PROP_NONE) || (some && (row->assumed == NULL || by->owner != row->owner))) {
            fail_msg("%s.%s", kinds[row->owner].word, row->word);
        }
        for (int i = 0; i < USUALS_MOST && row->usual[i].says != NULL; i++) {
            const char *says = row->usual[i].says;
            const Atom *atom = &shapes_get(shapes, (PropId)row->usual_by)->items[0].atoms[0];
            bool may_say = says[0] >= '0' && says[0] <= '9' && says[1] == '\0' && by->whole;
            for (uint16_t w = 0; w < atom->word_count; w++) {
                may_say = may_say || str_is(atom->words[w], says);
            }
            if (!may_say || row->usual[i].assumed == NULL) {
                fail_msg("%s.%s never says %s", kinds[row->owner].word, by->word, says);
            }
        }
    }
}

/* Silence is not safety: what keeps water out, current in or fire away is stated, or it is not known. */
static void what_safety_hangs_on_has_no_default(void **state)
{
    static const PropId safety[] = {
        PROP_BANK_RESTRAINED,
        PROP_BANK_TERMINALS_COVERED,
        PROP_BANK_VENTED_OUTSIDE,
        PROP_BANK_MANAGEMENT,
        PROP_BANK_WARNS,
        PROP_BANK_COLD_CUTOFF,
        PROP_BANK_DISCONNECT,
        PROP_ALTERNATOR_LOAD_DUMP,
        PROP_FEED_PROTECT,
        PROP_FEED_GROUND_FAULT,
        PROP_FEED_GROUND,
        PROP_FEED_POLES,
        PROP_FEEDS_PROTECT,
        PROP_FEEDS_PROTECT_OUTPUT,
        PROP_SPARK_IGNITION_PROTECTED,
        PROP_INLET_ISOLATION,
        PROP_INLET_BONDED,
        PROP_INLET_POLARITY_INDICATOR,
        PROP_INVERTER_TRANSFER,
        PROP_INVERTER_BONDS_NEUTRAL,
        PROP_GENERATOR_BONDS_NEUTRAL,
        PROP_WATER_HEATER_RELIEF_VALVE,
        PROP_WATER_HEATER_MIXING_VALVE,
        PROP_WATER_HEATER_CHECK_VALVE,
        PROP_WATER_HEATER_SETTING,
        PROP_THROUGH_HULL_SEACOCK,
        PROP_THROUGH_HULL_REACH,
        PROP_THROUGH_HULL_BACKING,
        PROP_THROUGH_HULL_CLAMPS,
        PROP_THROUGH_HULL_SECURED,
        PROP_HOSE_CLAMPS,
        PROP_HOSE_SECURED,
        PROP_HOSE_BELOW_WATERLINE,
        PROP_VENT_LOOP_HEIGHT,
        PROP_TOILET_RIM,
        PROP_BILGE_PUMP_AUTOMATIC,
        PROP_BILGE_PUMP_ALARM,
        PROP_BILGE_PUMP_CHECK_VALVE,
        PROP_TANK_VENT,
        PROP_TANK_GROUNDED,
        PROP_EXHAUST_RISER_ABOVE_WATERLINE,
        PROP_FUEL_LINE_SHUT_OFF,
        PROP_FUEL_LINE_GRADE,
        PROP_GAS_LOCKER_DRAINED_OVERBOARD,
        PROP_GAS_LOCKER_SHUT_OFF,
        PROP_GAS_LOCKER_GAUGE,
        PROP_GAS_APPLIANCE_FLAME_FAILURE,
        PROP_SPACE_PETROL,
        PROP_SPACE_SLEEPING,
        PROP_SPACE_WET,
        PROP_SPACE_VENTILATED,
        PROP_STEERING_SECOND,
        PROP_EXTINGUISHER_EXPIRES,
        PROP_BOAT_GM,
        PROP_COMMON_CRITICAL,
    };

    (void)state;
    for (size_t i = 0; i < COUNT(safety); i++) {
        if (props[safety[i]].assumed) {
            fail_msg("%s.%s is assumed", kinds[props[safety[i]].owner].word, name_of(safety[i]));
        }
    }
}

static void every_example_begins_with_its_own_word(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        if (!props[prop].example || !str_is(first_word(props[prop].example), props[prop].word)) {
            fail_msg("%s.%s", kinds[props[prop].owner].word, name_of(prop));
        }
    }
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (!kinds[kind].group && !str_is(first_word(kinds[kind].example), kinds[kind].word)) {
            fail_msg("%s", kinds[kind].word);
        }
    }
}

/* One line of at most 110 characters, no full stop: it stands in tables and beside the cursor. */
static bool is_good_help(const char *help)
{
    size_t length = help ? strlen(help) : 0;

    return length > 4 && length <= 110 && !strchr(help, '\n') && help[length - 1] != '.';
}

static void every_row_has_one_line_of_help(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        if (!is_good_help(props[prop].help)) {
            fail_msg("%s.%s: %s", kinds[props[prop].owner].word, name_of(prop), props[prop].help);
        }
    }
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (!is_good_help(kinds[kind].help)) {
            fail_msg("%s: %s", kinds[kind].word, kinds[kind].help);
        }
    }
}

static void limits_are_in_order(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const PropRow *row = &props[prop];
        bool crossed = (row->most != 0 && row->least > row->most) || row->later_least > row->later_most;
        bool negative = row->least < 0 && row->sign != SIGN_ANY && row->sign != SIGN_NOT_POSITIVE;

        if (crossed || negative) {
            fail_msg("%s.%s", kinds[row->owner].word, row->word);
        }
    }
}

static void a_block_is_a_group_with_properties(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        KindId block = props[prop].block;

        if (block && (!kinds[block].group || !schema_next_prop(block, PROP_NONE))) {
            fail_msg("%s.%s", kinds[props[prop].owner].word, name_of(prop));
        }
    }
    assert_int_equal(props[PROP_MAKER_FEEDS].block, KIND_FEEDS);
}

/* The language page: every physical thing, that is all but the boat and its use, suppliers and jobs. */
static void only_physical_things_have_a_mass_and_a_system(void **state)
{
    static const KindId others[] = {KIND_BOAT, KIND_SPACE,     KIND_DAY,      KIND_CRUISE,
                                    KIND_GOAL, KIND_CRITERION, KIND_SUPPLIER, KIND_JOB};

    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        bool physical = true;

        for (size_t i = 0; i < COUNT(others); i++) {
            physical = physical && kind != others[i];
        }
        if (kinds[kind].group) {
            continue;
        }
        if (schema_has(kind, PROP_COMMON_MASS) != physical ||
            (physical && kinds[kind].system == SYSTEM_NONE)) {
            fail_msg("%s", kinds[kind].word);
        }
    }
}

/* ---- Looking up ---- */

static bool is_word_of(Str word, const char *const words[], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (str_is(word, words[i])) {
            return true;
        }
    }
    return false;
}

/* A kind that is there no more makes specs wrong that were right: this list is kept by hand, and grows with the language. */
static void every_kind_is_in_this_list_and_no_other(void **state)
{
    static const char *const words[] = {
        "boat",          "space",    "day",          "cruise",     "goal",         "criterion",
        "bank",          "switch",   "bus",          "panel",      "circuit",      "load",
        "alternator",    "solar",    "charger",      "converter",  "inverter",     "inlet",
        "generator",     "outlet",   "tank",         "pump",       "water-heater", "fixture",
        "hose",          "strainer", "through-hull", "toilet",     "bilge-pump",   "vent-loop",
        "engine",        "gearbox",  "propeller",    "shaft-seal", "thruster",     "exhaust",
        "fuel-line",     "blower",   "steering",     "heater",     "cooler",       "gas-locker",
        "gas-appliance", "burner", "alarm",    "extinguisher", "anode",      "anchor",       "windlass",
        "instrument",    "network",  "radio",        "nav-light",  "horn",         "item",
        "supplier",      "job",
    };
    (void)state;
    for (size_t i = 0; i < COUNT(words); i++) {
        KindId kind = schema_find_kind(str_from(words[i]));

        if (kind == KIND_NONE || strcmp(kinds[kind].word, words[i]) != 0) {
            fail_msg("%s", words[i]);
        }
    }
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (!kinds[kind].group && !is_word_of(str_from(kinds[kind].word), words, COUNT(words))) {
            fail_msg("`%s` is missing from the list of this test", kinds[kind].word);
        }
    }
}

static void a_group_or_a_stranger_is_no_kind(void **state)
{
    (void)state;
    assert_int_equal(schema_find_kind(STR("feeds")), KIND_NONE);
    assert_int_equal(schema_find_kind(STR("common")), KIND_NONE);
    assert_int_equal(schema_find_kind(STR("Bank")), KIND_NONE);
    assert_int_equal(schema_find_kind(STR("ban")), KIND_NONE);
    assert_int_equal(schema_find_kind(STR("banks")), KIND_NONE);
    assert_int_equal(schema_find_kind(STR("")), KIND_NONE);
}

static void every_property_that_is_stepped_to_is_found_by_its_word(void **state)
{
    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        for (PropId prop = schema_next_prop(kind, PROP_NONE); prop; prop = schema_next_prop(kind, prop)) {
            PropId found = schema_find_prop(kind, str_from(props[prop].word));

            if (found != prop || !schema_has(kind, prop)) {
                fail_msg("%s.%s is hidden by one of %s", kinds[kind].word, name_of(prop),
                         kinds[props[found].owner].word);
            }
        }
    }
}

/* Whether kinds share the properties of that owner. */
static bool is_shared(KindId owner)
{
    return owner == KIND_COMMON || owner == KIND_FEED || owner == KIND_LOAD || owner == KIND_MAKER ||
           owner == KIND_NETWORKED;
}

/* A kind's own word may hide a group's, but two groups, or one owner, never offer the same word twice. */
static void no_word_is_offered_twice_but_by_a_kind_over_its_groups(void **state)
{
    (void)state;
    for (PropId a = PROP_NONE + 1; a < PROP_COUNT; a++) {
        for (PropId b = a + 1; b < PROP_COUNT; b++) {
            bool meet =
                props[a].owner == props[b].owner || (is_shared(props[a].owner) && is_shared(props[b].owner));

            if (meet && strcmp(name_of(a), name_of(b)) == 0) {
                fail_msg("%s.%s", kinds[props[b].owner].word, name_of(b));
            }
        }
    }
}

static void own_properties_come_before_those_of_the_groups(void **state)
{
    PropId prop = schema_next_prop(KIND_BANK, PROP_NONE);

    (void)state;
    assert_int_equal(prop, PROP_BANK_CHEMISTRY);
    while (props[prop].owner == KIND_BANK) {
        prop = schema_next_prop(KIND_BANK, prop);
    }
    assert_int_equal(prop, PROP_COMMON_SYSTEM);
}

static void a_kind_without_properties_of_its_own_has_those_of_its_groups(void **state)
{
    (void)state;
    assert_int_equal(schema_find_prop(KIND_CIRCUIT, STR("fed-by")), PROP_FEED_FED_BY);
    assert_int_equal(schema_find_prop(KIND_CIRCUIT, STR("draw")), PROP_NONE);
    assert_int_equal(schema_find_prop(KIND_WINDLASS, STR("draw")), PROP_LOAD_DRAW);
    assert_int_equal(schema_next_prop(KIND_CIRCUIT, PROP_NONE), PROP_COMMON_SYSTEM);
}

static void a_load_has_its_own_properties_once(void **state)
{
    PropId prop = PROP_NONE;
    int draws = 0;

    (void)state;
    while ((prop = schema_next_prop(KIND_LOAD, prop))) {
        draws += prop == PROP_LOAD_DRAW;
    }
    assert_int_equal(draws, 1);
}

static void what_a_kind_does_not_have_is_not_found(void **state)
{
    (void)state;
    assert_int_equal(schema_find_prop(KIND_TANK, STR("chemistry")), PROP_NONE);
    assert_int_equal(schema_find_prop(KIND_DAY, STR("mass")), PROP_NONE);
    assert_int_equal(schema_find_prop(KIND_TANK, STR("")), PROP_NONE);
    assert_false(schema_has(KIND_TANK, PROP_BANK_CHEMISTRY));
    assert_false(schema_has(KIND_TANK, PROP_NONE));
    assert_false(schema_has(KIND_FEEDS, PROP_FEED_RUN));
    assert_true(schema_has(KIND_FEEDS, PROP_FEEDS_RUN));
    assert_int_equal(schema_next_prop(KIND_NONE, PROP_NONE), PROP_NONE);
}

static void systems_are_found_by_their_words(void **state)
{
    (void)state;
    for (System system = SYSTEM_NONE + 1; system < SYSTEM_COUNT; system++) {
        assert_int_equal(system_find(str_from(system_word(system))), system);
    }
    assert_int_equal(system_find(STR("powers")), SYSTEM_NONE);
    assert_int_equal(system_find(STR("")), SYSTEM_NONE);
}

/* The language page, "Feeding": a load, say, feeds nothing. */
static void sources_are_what_a_thing_can_be_fed_by(void **state)
{
    KindSet set;

    (void)state;
    assert_true(kind_set_find(STR("sources"), &set));
    assert_true(kind_set_has(set, KIND_BANK));
    assert_true(kind_set_has(set, KIND_OUTLET));
    assert_false(kind_set_has(set, KIND_LOAD));
    assert_false(kind_set_has(set, KIND_TANK));
    assert_false(kind_set_find(STR("source"), &set));
}

/* ---- The examples of the kinds, as far as they can be read without the parser ---- */

/* Reads a block: each statement begins with a property of `owner`. Returns what follows the closing brace. */
static const char *read_block(const char *at, KindId owner, const char *kind_word)
{
    for (;;) {
        Str word;
        PropId prop;

        at += strspn(at, " \n;");
        if (*at == '}') {
            return at + 1;
        }
        word = first_word(at);
        prop = schema_find_prop(owner, word);
        if (prop == PROP_NONE) {
            fail_msg("example of %s: no property `%.*s`", kind_word, STR_ARG(word));
        }
        at += strcspn(at, "{;}\n");
        if (*at == '{') {
            at = read_block(at + 1, props[prop].block, kind_word);
        }
    }
}

static void the_statements_in_a_kinds_example_are_properties_of_it(void **state)
{
    (void)state;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        const char *brace = kinds[kind].group ? NULL : strchr(kinds[kind].example, '{');

        if (brace && *read_block(brace + 1, kind, kinds[kind].word) != '\0') {
            fail_msg("%s", kinds[kind].word);
        }
        assert_true(kinds[kind].group || brace);
    }
}

static void a_kinds_example_has_what_is_required(void **state)
{
    (void)state;
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const KindRow *kind = &kinds[props[prop].owner];
        char statement[80] = " ";

        strncat(statement, props[prop].word, 60);
        strcat(statement, " ");
        if (props[prop].required && !kind->group && !strstr(kind->example, statement)) {
            fail_msg("%s.%s", kind->word, props[prop].word);
        }
    }
}

/* ---- Words and units ---- */

static void check_no_unit(PropId prop, Str word)
{
    if (unit_find(word) != UNIT_NONE) {
        fail_msg("%s.%s: `%.*s` is a unit", kinds[props[prop].owner].word, name_of(prop), STR_ARG(word));
    }
}

/* The language page: no connecting word is spelt like a unit, or `6 in` could be read in two ways. */
static void no_connecting_or_choosing_word_is_spelt_like_a_unit(void **state)
{
    Shapes *shapes = shapes_new(*state);

    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const Shape *shape = shapes_get(shapes, prop);

        for (int i = 0; i < shape->item_count; i++) {
            const ShapeItem *item = &shape->items[i];

            if (item->kind == ITEM_CONNECTING) {
                check_no_unit(prop, item->word);
            }
            for (int a = 0; a < item->atom_count; a++) {
                for (int w = 0; w < item->atoms[a].word_count; w++) {
                    check_no_unit(prop, item->atoms[a].words[w]);
                }
            }
        }
    }
}

/* ---- Shapes ---- */

static void a_protection_has_six_values_of_which_one_is_needed(void **state)
{
    const Shape *shape = shapes_get(shapes_new(*state), PROP_FEED_PROTECT);
    int options = 0;

    assert_int_equal(shape->slots, 6);
    assert_false(shape->list);
    assert_int_equal(shape->items[0].kind, ITEM_ATOM);
    for (int i = 1; i < shape->item_count; i++) {
        if (shape->items[i].kind == ITEM_OPTION) {
            options++;
            assert_int_equal(shape->items[shape->items[i].end].kind, ITEM_OPTION_END);
            i = shape->items[i].end;
        } else {
            fail_msg("item %d stands outside every option", i);
        }
    }
    assert_int_equal(options, 5);
    assert_true(str_is(shape->items[2].atoms[0].words[1], "breaker"));
    assert_true(str_is(shape->items[5].atoms[0].words[0], "blade"));
}

static void slots_are_numbered_in_the_order_of_the_atoms(void **state)
{
    Shapes *shapes = shapes_new(*state);

    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        const Shape *shape = shapes_get(shapes, prop);
        int slot = 0;

        for (int i = 0; i < shape->item_count; i++) {
            if (shape->items[i].kind == ITEM_ATOM) {
                assert_int_equal(shape->items[i].slot, slot++);
            }
        }
        assert_int_equal(shape->slots, slot);
        assert_true(slot > 0);
    }
}

static void a_use_is_a_day_and_hours_a_share_or_times(void **state)
{
    const Shape *shape = shapes_get(shapes_new(*state), PROP_LOAD_USE);

    assert_int_equal(shape->item_count, 2);
    assert_true(kind_set_has(shape->items[0].atoms[0].things, KIND_DAY));
    assert_false(kind_set_has(shape->items[0].atoms[0].things, KIND_CRUISE));
    assert_int_equal(shape->items[1].atom_count, 2);
    assert_int_equal(shape->items[1].atoms[0].kind, ATOM_QUANTITY);
    assert_int_equal(shape->items[1].atoms[0].unit_count, 2);
    assert_int_equal(shape->items[1].atoms[0].units[1].unit, unit_find(STR("%")));
    assert_int_equal(shape->items[1].atoms[1].kind, ATOM_CLOCK);
}

static void a_list_is_marked_and_ends(void **state)
{
    const Shape *shape = shapes_get(shapes_new(*state), PROP_CRUISE_DAYS);

    assert_true(shape->list);
    assert_int_equal(shape->items[0].kind, ITEM_LIST);
    assert_int_equal(shape->items[shape->items[0].end].kind, ITEM_LIST_END);
    assert_int_equal(shape->items[0].end, shape->item_count - 1);
}

static void sizes_money_and_rates_have_their_units(void **state)
{
    Shapes *shapes = shapes_new(*state);
    const Atom *wire = shapes_get(shapes, PROP_FEED_WIRE)->items[0].atoms;
    const Atom *price = shapes_get(shapes, PROP_COMMON_PRICE)->items[0].atoms;
    const Atom *specific = shapes_get(shapes, PROP_ENGINE_SPECIFIC)->items[0].atoms;
    const Atom *count = shapes_get(shapes, PROP_COMMON_COUNT)->items[0].atoms;

    assert_true(wire->size);
    assert_int_equal(wire->units[0].unit, unit_find(STR("mm2")));
    assert_true(price->money);
    assert_int_equal(specific->units[0].unit, unit_find(STR("g")));
    assert_int_equal(specific->units[0].per, unit_find(STR("kWh")));
    assert_int_equal(count->unit_count, 1);
    assert_int_equal(count->units[0].unit, UNIT_NONE);
}

static void a_shape_is_compiled_once(void **state)
{
    Shapes *shapes = shapes_new(*state);

    assert_ptr_equal(shapes_get(shapes, PROP_LOAD_DRAW), shapes_get(shapes, PROP_LOAD_DRAW));
    assert_int_equal(shapes_get(shapes, PROP_NONE)->item_count, 0);
}

static void malformed_notations_are_refused(void **state)
{
    static const char *const wrong[] = {
        "",
        "at",
        "[ Q(A)",
        "Q(A) ]",
        "{ Q(A)",
        "{ Q(A) }",
        "[ ] Q(A)",
        "[ Q(A) },",
        "Q(A",
        "Q()",
        "Q(amp)",
        "Q(A/x)",
        "Q(A|)",
        "R(boot)",
        "R(%nothing)",
        "R()",
        "W()",
        "W(a|)",
        "W(a,b)",
        "X",
        "X(a)",
        "Q(A)||H",
        "Q(A)|",
        "|H",
        "Q(A|V|W|m|s)",
        "[ [ [ [ [ Q(A) ] ] ] ] ]",
        "R(feeds)",
        "Upper Q(A)",
        "h2 Q(A)",
    };

    (void)state;
    for (size_t i = 0; i < COUNT(wrong); i++) {
        const char *why = NULL;

        if (shape_check(wrong[i], &why) || why == NULL) {
            fail_msg("`%s` passes", wrong[i]);
        }
    }
}

static void a_notation_may_have_blanks_around_brackets_or_not(void **state)
{
    static const char *const right[] = {
        "[Q(m) from source] Q(A)",
        "[ Q(m) from source ] Q(A)",
        " T  D ",
        "{R(*)},",
        "{ Q(1) R(day) },",
        "W(*)",
    };

    (void)state;
    for (size_t i = 0; i < COUNT(right); i++) {
        const char *why = NULL;

        if (!shape_check(right[i], &why) || why != NULL) {
            fail_msg("`%s`: %s", right[i], why);
        }
    }
}

static void a_very_long_notation_is_refused(void **state)
{
    char notation[400] = "";
    const char *why = NULL;

    (void)state;
    for (int i = 0; i < 70; i++) {
        strcat(notation, "Q(A) ");
    }
    assert_false(shape_check(notation, &why));
    assert_non_null(why);
}

/* ---- In words ---- */

static void check_words(Arena *arena, PropId prop, const char *expected)
{
    Buf buf;

    buf_init(&buf, arena);
    shape_describe(&buf, shapes_get(shapes_new(arena), prop));
    assert_string_equal(buf.text, expected);
}

static void shapes_are_told_in_words(void **state)
{
    check_words(*state, PROP_LOAD_DRAW, "a current or a power [at a voltage]");
    check_words(*state, PROP_BANK_CHEMISTRY, "one of flooded, agm, gel or lifepo4");
    check_words(*state, PROP_ALTERNATOR_DRIVEN_BY, "wind or water");
    check_words(*state, PROP_COMMON_AT, "a length then a length then a length");
    check_words(*state, PROP_COMMON_EVENT, "a date then a text in quotes");
    check_words(*state, PROP_COMMON_SERVICE,
                "[every] a time then a text in quotes [last a date] [at a time] [with [a plain number] the name of an anode or an item] "
                "[and [a plain number] the name of an anode or an item] [and [a plain number] the name of an anode or an item] "
                "[and [a plain number] the name of an anode or an item]");
    check_words(*state, PROP_PUMP_FROM, "the name of a tank or a through-hull");
    check_words(*state, PROP_ENGINE_EXHAUST, "the name of an exhaust");
    check_words(*state, PROP_HOSE_TO, "the name of a thing");
    check_words(*state, PROP_FEED_THROUGH, "the name of a space, ...");
    check_words(*state, PROP_COMMON_CRITICAL, "yes or no");
    check_words(*state, PROP_DAY_MONTH, "the name of a month");
    check_words(*state, PROP_BOAT_CURRENCY, "a word");
    check_words(*state, PROP_COMMON_DEPOSIT, "an amount of money");
    check_words(*state, PROP_COMMON_PRICE, "an amount of money [with-tax or without-tax]");
    check_words(*state, PROP_FEED_WIRE,
                "a conductor size [conductors a plain number] [insulation a temperature]");
    check_words(*state, PROP_DAY_SHORE, "a time or times of day such as 18:00..23:00");
}

/* What a message says is missing is written without a number: one that stood there would be copied as a fact. */
static void no_form_has_a_number_in_it(void **state)
{
    Shapes *shapes = shapes_new(*state);
    for (PropId prop = PROP_NONE + 1; prop < PROP_COUNT; prop++) {
        Buf form;
        buf_init(&form, *state);
        shape_form(&form, prop, shapes_get(shapes, prop), false);
        for (const char *at = strpbrk(form.text, "0123456789"); at != NULL; at = strpbrk(at + 1, "0123456789")) {
            if (at[-1] == ' ' && prop != PROP_EXTINGUISHER_RATING) { /* whose words have digits */
                fail_msg("%s: %s", name_of(prop), form.text); /* a unit such as m2 is none */
            }
        }
    }
}

static void check_form_in(Arena *arena, PropId prop, bool in_feet, const char *expected)
{
    Buf form;
    buf_init(&form, arena);
    shape_form(&form, prop, shapes_get(shapes_new(arena), prop), in_feet);
    assert_string_equal(form.text, expected);
}

static void check_form(Arena *arena, PropId prop, const char *expected)
{
    check_form_in(arena, prop, false, expected);
}

/* One owner, one set of units: who states feet is not asked for square metres. */
static void forms_of_a_boat_in_feet_are_in_feet(void **state)
{
    check_form_in(*state, PROP_BOAT_WATERLINE, true, "waterline ... ft");
    check_form_in(*state, PROP_SPACE_FLOOR, true, "floor ... ft2");
    check_form_in(*state, PROP_ENGINE_RAW_WATER, true, "raw-water ... gpm");
    check_form_in(*state, PROP_COMMON_MASS, true, "mass ... lb");
}

static void forms_leave_out_what_may_be_left_out(void **state)
{
    check_form(*state, PROP_BOAT_WATERLINE, "waterline ... m");
    check_form(*state, PROP_COMMON_AT, "at ... m ... m ... m");
    check_form(*state, PROP_COMMON_ORDERED, "ordered YYYY-MM-DD");
    check_form(*state, PROP_COMMON_PRICE, "price ...");
    check_form(*state, PROP_BANK_CHEMISTRY, "chemistry flooded, agm, gel or lifepo4");
    check_form(*state, PROP_BANK_MANAGEMENT, "management yes or no");
    check_form(*state, PROP_COMMON_SUPPLIER, "supplier ...");
    check_form(*state, PROP_FEED_WIRE, "wire ... mm2");
    check_form(*state, PROP_DAY_WATER, "water ... l per person");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(no_form_has_a_number_in_it),
        TEST(forms_of_a_boat_in_feet_are_in_feet),
        TEST(forms_leave_out_what_may_be_left_out),
        TEST(every_notation_compiles),
        TEST(every_row_stands_under_its_owner),
        TEST(a_default_and_its_authority_come_together),
        TEST(another_default_goes_by_a_property_beside_it),
        TEST(what_safety_hangs_on_has_no_default),
        TEST(every_example_begins_with_its_own_word),
        TEST(every_row_has_one_line_of_help),
        TEST(limits_are_in_order),
        TEST(a_block_is_a_group_with_properties),
        TEST(only_physical_things_have_a_mass_and_a_system),
        TEST(every_kind_is_in_this_list_and_no_other),
        TEST(a_group_or_a_stranger_is_no_kind),
        TEST(every_property_that_is_stepped_to_is_found_by_its_word),
        TEST(no_word_is_offered_twice_but_by_a_kind_over_its_groups),
        TEST(own_properties_come_before_those_of_the_groups),
        TEST(a_kind_without_properties_of_its_own_has_those_of_its_groups),
        TEST(a_load_has_its_own_properties_once),
        TEST(what_a_kind_does_not_have_is_not_found),
        TEST(systems_are_found_by_their_words),
        TEST(sources_are_what_a_thing_can_be_fed_by),
        TEST(the_statements_in_a_kinds_example_are_properties_of_it),
        TEST(a_kinds_example_has_what_is_required),
        TEST(no_connecting_or_choosing_word_is_spelt_like_a_unit),
        TEST(a_protection_has_six_values_of_which_one_is_needed),
        TEST(slots_are_numbered_in_the_order_of_the_atoms),
        TEST(a_use_is_a_day_and_hours_a_share_or_times),
        TEST(a_list_is_marked_and_ends),
        TEST(sizes_money_and_rates_have_their_units),
        TEST(a_shape_is_compiled_once),
        TEST(malformed_notations_are_refused),
        TEST(a_notation_may_have_blanks_around_brackets_or_not),
        TEST(a_very_long_notation_is_refused),
        TEST(inverter_and_charger_in_one_case_are_told_of_at_each),
        TEST(shapes_are_told_in_words),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
