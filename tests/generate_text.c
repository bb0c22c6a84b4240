/* See generate.h: what is generated from. */
#include "generate.h"

#include "check.h"

#include <stdio.h>

Str generate_read(Arena *arena, const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    Buf text;
    buf_init(&text, arena);
    for (int c = getc(file); c != EOF; c = getc(file)) {
        buf_char(&text, (char)c);
    }
    fclose(file);
    return buf_str(&text);
}

#define STUB                                                                                                \
    "edition 1\n"                                                                                           \
    "boat stub { length 10.4 m; beam 3.3 m; displacement 6200 kg; crew 2; currency EUR; basis iso; draft "  \
    "1.2 m }\n"                                                                                             \
    "space engine-room { volume 4 m3 }\nspace saloon { volume 14 m3 }\nspace heads { volume 2 m3 }\n"       \
    "supplier quay { lead 3 week }\n"                                                                       \
    "day anchored { sun 5 h; water 12 l per person; engine 0 h }\n"                                         \
    "goal quiet { endure 3 d on anchored }\ngoal light { mass 500 kg }\ngoal purse { budget 9000 EUR }\n"   \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"                      \
    "switch house-switch { fed-by house; works-as battery }\n"                                              \
    "bus positive { fed-by house-switch; run 1 m; wire 35 mm2; protect 150 A fuse 0.1 m from source }\n"    \
    "panel main { fed-by positive; run 1 m; wire 16 mm2; protect 80 A fuse 0.1 m from source }\n"           \
    "circuit lights { fed-by main; run 3 m; wire 2.5 mm2; protect 15 A breaker }\n"                         \
    "load lamp { fed-by lights; draw 8 A; use anchored 4 h }\n"                                             \
    "inlet shore { rated 16 A at 230 V }\n"                                                                 \
    "panel ac-main { fed-by shore; run 1 m; wire 2.5 mm2; protect 16 A breaker }\n"                         \
    "circuit to-inverter { fed-by ac-main; run 2 m; wire 2.5 mm2; protect 10 A breaker; poles 2 }\n"        \
    "engine main-engine { rated 21 kW at 2800 rpm; fuel diesel; mass 180 kg }\n"                            \
    "exhaust wet-exhaust { }\n"                                                                             \
    "propeller main-propeller { engine main-engine }\n"                                                     \
    "tank fresh-tank { holds fresh; capacity 150 l; mass 12 kg; price 300 EUR }\n"                          \
    "tank holding { holds black; capacity 60 l; vent 19 mm }\ntank fuel-tank { holds fuel; capacity 120 l " \
    "}\n"                                                                                                   \
    "through-hull sink-drain { bore 38 mm; height -0.2 m }\n"                                               \
    "pump fresh-pump { from fresh-tank; fed-by lights; draw 4 A }\n"                                        \
    "hose galley-hose { from fresh-tank; to fresh-pump; bore 13 mm; run 4 m }\n"                            \
    "gas-locker gas-box { cylinder 6 kg }\n"                                                                \
    "network backbone { cable light }\n"                                                                    \
    "instrument plotter { }\n"                                                                              \
    "job wire-galley { takes 2 d }\n"

/* Banks of several sizes that charge one another, with days and cruises. */
#define DAYS_STUB                                                                                           \
    "edition 1\n"                                                                                           \
    "boat stub { length 10.4 m; beam 3.3 m; displacement 6200 kg; crew 2; currency EUR; basis iso }\n"      \
    "engine diesel { rated 21 kW at 2800 rpm; fuel diesel }\n"                                              \
    "day anchored { sun 4 h; temperature 12 C; sustainable yes }\n"                                         \
    "day passage { engine 2 h at 1800 rpm; sun 3 h; temperature 18 C }\n"                                   \
    "day moored { shore 18:00..08:00; sun 2 h }\n"                                                          \
    "cruise fortnight { days 2 passage, 3 anchored, 1 moored; start 80 %% }\n"                               \
    "cruise weekend { days 1 passage, 2 anchored, 1 passage }\n"                                            \
    "bank house { chemistry %s; voltage 12 V; capacity 200 Ah; max-charge 60 A; role house }\n"             \
    "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start }\n"                              \
    "bank bow { chemistry %s; voltage 12 V; capacity 120 Ah; role thruster }\n"                             \
    "alternator belt { engine diesel; output 70 A at 14.2 V; hot-output 75 %%; feeds house { run 3 m } }\n"  \
    "solar roof { rated 200 W; controller mppt; feeds house { run 4 m } }\n"                                \
    "inlet shore { rated 16 A at 230 V }\n"                                                                 \
    "charger mains { fed-by shore; output 30 A at 14.2 V; feeds house { run 2 m } }\n"                      \
    "converter to-start { fed-by house; output 12 A at 14.2 V; feeds start { run 2 m } }\n"                 \
    "converter to-bow { fed-by house; output 25 A at 14.2 V; efficiency 90 %%; feeds bow { run 5 m } }\n"    \
    "load fridge { fed-by house; draw 4 A; use anchored 40 %%; use passage 40 %%; use moored 30 %% }\n"        \
    "load lamps { fed-by house; draw 3 A; use anchored 5 h; use moored 4 h }\n"                             \
    "load radio { fed-by house; draw 15 W; use passage 20 h }\n"                                            \
    "load pump { fed-by start; draw 5 A; use anchored 1 h; use passage 0.5 h }\n"                           \
    "load motor { fed-by bow; draw 90 A; use anchored 5 min; use passage 10 min }\n"

/* The schema's own examples: one thing of some kinds, and one with as many of its properties as go together. */
static void add_examples(Buf *text, uint64_t *seed)
{
    int thing = 0;
    for (KindId kind = KIND_NONE + 1; kind < KIND_COUNT; kind++) {
        if (kinds[kind].group || kind == KIND_BOAT || random_below(seed, 4) != 0) {
            continue;
        }
        buf_format(text, "%s sample-%d {\n", kinds[kind].word, thing++);
        for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
            /* What a thing takes the place of is told in lists alone; drawing it would only shuffle what follows. */
            bool drawn = p != PROP_COMMON_REPLACES;
            /* Money that came back is a mistake beside all but one status: it is drawn, so that the rest stays, and left out. */
            if (drawn && (props[p].required || random_below(seed, 3) == 0) && p != PROP_COMMON_REFUNDED) {
                buf_format(text, "  %s\n", props[p].example);
            }
        }
        buf_text(text, "}\n");
    }
}

static const char *rule_example(uint64_t *seed)
{
    const char *text = NULL;
    while (text == NULL) {
        /* Not of the family that speaks of findings, which is the last but one: it would only shuffle what follows. */
        size_t drawn = (size_t)random_below(seed, (int)rule_family_count - 1);
        const RuleFamily *family = rule_families[drawn == rule_family_count - 2 ? rule_family_count - 1 : drawn];
        const Rule *rule = &family->rules[random_below(seed, (int)family->count)];
        const char *texts[] = {rule->breaks, rule->holds, rule->open};
        text = texts[random_below(seed, 3)];
    }
    return text;
}

Str generate_base(Arena *arena, int number, uint64_t *seed)
{
    Buf text;
    buf_init(&text, arena);
    if (number % 40 == 0) {
        return generate_read(arena, TESTS_DIR "/../specs/plover.boat");
    }
    if (number % 40 == 20) {
        return generate_read(arena, TESTS_DIR "/../specs/coot.boat");
    }
    if (number % 10 == 3) {
        static const char *const chemistries[] = {"agm", "lifepo4", "flooded"};
        buf_format(&text, DAYS_STUB, chemistries[number / 10 % 3], chemistries[number / 30 % 3]);
    } else if (number % 4 == 1) {
        buf_text(&text, STUB);
        add_examples(&text, seed);
    } else {
        buf_text(&text, rule_example(seed));
    }
    return buf_str(&text);
}
