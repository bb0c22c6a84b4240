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

/* Mains by three ways that meet, days of each, and what hangs on them. */
#define MAINS_STUB                                                                                                              \
    "edition 1\n"                                                                                                               \
    "boat stub { length 10.4 m; beam 3.3 m; displacement 6200 kg; crew 3; currency EUR; rate 0.9 EUR per USD; basis iso }\n"    \
    "space saloon { volume 14 m3; skin 21 m2; glass 2 m2; floor 7 m2; sleeping yes }\n"                                         \
    "space fore-cabin { volume 8 m3; skin 13 m2; glass 0.5 m2; sleeping yes }\n"                                                \
    "day anchored { sun 4 h; temperature 8 C; generator 10:00..12:00; water 12 l per person; gas 0.1 kg }\n"                    \
    "day moored { shore 18:00..08:00; temperature 28 C; showers 2 per person }\n"                                               \
    "day passage { engine 5 h at 2100 rpm; distance 28 nmi at 6 kn; sun 3 h; flushes 4 per person }\n"                          \
    "cruise out { days 2 passage, 4 anchored, 1 moored; start 90 % }\n"                                                        \
    "goal quiet { endure 3 d on anchored }\ngoal hush { engine-hours 1 h on anchored }\ngoal reach { range 120 nmi at 6 kn }\n" \
    "engine diesel { rated 21 kW at 2800 rpm; fuel diesel; consumption 2100 rpm 3.5 l/h; hours 300 h }\n"                            \
    "bank house { chemistry lifepo4; voltage 12.8 V; capacity 100 Ah; series 1; parallel 3; role house }\n"                     \
    "bank start { chemistry agm; voltage 12 V; capacity 90 Ah; role start }\n"                                                  \
    "switch link { works-as emergency; fed-by house, start }\n"                                                                 \
    "switch house-switch { fed-by house; works-as battery; run 0.5 m; wire 35 mm2; protect 150 A fuse }\n"                      \
    "bus positive { fed-by house-switch; run 1 m; wire 35 mm2 }\n"                                                              \
    "panel main { fed-by positive; run 1 m; wire 16 mm2; protect 80 A fuse 0.1 m from source; together 60 % }\n"                \
    "alternator belt { engine diesel; output 70 A at 14.2 V; count 2; feeds start { run 3 m } }\n"                              \
    "converter to-house { fed-by start; output 30 A at 14.4 V; surplus-only yes; feeds house { run 3 m } }\n"                   \
    "solar roof { rated 100 W; count 3; controller pwm; shading 20 %; feeds positive { run 4 m } }\n"                             \
    "inlet shore { rated 16 A at 230 V; run 2 m; wire 2.5 mm2; protect 16 A breaker }\n"                                        \
    "generator genset { rated 3 kW at 230 V; fuel-rate 1 l/h }\n"                                                          \
    "switch changeover { works-as transfer; fed-by shore, genset }\n"                                                           \
    "circuit to-sine { fed-by changeover; run 2 m; protect 16 A breaker; poles 2 }\n"                                           \
    "inverter sine { fed-by positive; run 1 m; rated 1200 W; output 230 V; passes to-sine; idle 9 W; transfer yes }\n"          \
    "panel ac { fed-by sine; run 1 m; wire 2.5 mm2; protect 16 A breaker; poles 2 }\n"                                          \
    "charger mains { fed-by changeover; run 2 m; output 40 A at 14.4 V; feeds positive { run 2 m } }\n"                         \
    "outlet galley { fed-by ac; run 3 m; protect 10 A breaker; appliances yes }\n"                                              \
    "load kettle { fed-by galley; draw 1000 W; use anchored 10 min; use moored 20 min }\n"                                      \
    "load fridge { fed-by main; run 3 m; draw 45 W; use anchored 40 %; use moored 12 h; use passage 40 %; surge 20 A }\n"        \
    "load lamps { fed-by main; run 5 m; draw 0.2 A; count 12; use anchored 18:00..23:00; behaves resistance }\n"                \
    "converter down { fed-by main; run 2 m; output 10 A at 5 V; efficiency 85 % }\n"                                            \
    "load tablet { fed-by down; draw 2 A; use passage 8 h }\n"                                                                  \
    "tank fresh { holds fresh; capacity 200 l }\ntank fuel { holds fuel; capacity 120 l }\n"                      \
    "tank calorifier { holds fresh; capacity 20 l }\n"                                                                          \
    "water-heater boiler { capacity 30 l; element 800 W; fed-by ac; run 2 m; protect 10 A breaker; poles 2 }\n"     \
    "heater cabin { fuel diesel; output 2 kW; serves saloon, fore-cabin; fuel-rate 0.24 l/h; draw 25 W; fed-by main; run 2 m }\n"   \
    "cooler air { fed-by ac; run 2 m; draw 500 W; output 1500 W; serves saloon; protect 10 A breaker; poles 2 }\n"              \
    "pump fresh-pump { from fresh; fed-by main; run 3 m; draw 4 A; flow 8 l/min }\n"                                            \
    "windlass anchor-winch { fed-by positive; run 6 m; draw 80 A; use anchored 3 min }\n"                                       \
    "thruster bow { fed-by start; run 6 m; wire 70 mm2; draw 180 A; thrust 50 kgf }\n"                                          \
    "network backbone { fed-by main; run 2 m; cable light }\ninstrument plotter { network backbone; load-number 4; use passage 12 h }\n"

/* What is bought, done and looked after, with what is owed and waived. */
#define PLAN_STUB                                                                                                               \
    "edition 1\n"                                                                                                               \
    "boat stub { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; rate 0.9 EUR per USD; contingency 15 %; " \
    "basis us }\n"                                                                                                              \
    "supplier quay { lead 3 week }\nsupplier farshore { lead 5 week }\n"                                                        \
    "goal purse { budget 9000 EUR }\ngoal light { mass 500 kg }\ngoal launch { ready 2027-05-15 }\n"                            \
    "criterion calm { weight 3 }\ncriterion simple { weight 2 }\n"                                                             \
    "day sailing { engine 2 h at 2000 rpm }\ncruise trip { days 10 sailing }\n"                                                \
    "engine diesel { rated 12 kW at 3000 rpm; fuel diesel; hours 820 h; service every 200 h \"Oil and filter\" last 2026-10-04 at 600 h }\n"        \
    "job clean { takes 4 d; done 2026-12-12 }\n"                                                                                \
    "job fit { takes 6 d; after clean; started 2027-02-15; needs stove, tank-fresh }\n"                                         \
    "job wire { takes 3..5 d; after clean; needs panel }\njob sail-away { takes 2 d; after fit, wire; needs sails }\n"           \
    "tank tank-fresh { holds fresh; capacity 150 l; price 300 EUR; mass 12 kg; supplier quay; ordered 2027-01-10; "              \
    "promised 2027-02-20 }\n"                                                                                                   \
    "item stove { price 480.00 USD; supplier farshore; status wanted; spare 1; mass 14 kg }\n"       \
    "item panel { price 218 EUR; count 2; supplier farshore; ordered 2027-02-01; deposit 100 EUR; lead 4 week }\n"              \
    "item sails { price 2100 EUR; count 3; arrived 2027-01-05 of 1; supplier quay; ordered 2026-11-01; promised 2027-01-01 }\n" \
    "item pan { price 20 EUR; refunded 20 EUR; status returned; supplier quay }\n"                                              \
    "item ballast { mass 200 kg; at 4.0 m -0.6 m 0.2 m }\nitem anchor-chain { mass 60 kg; at 8.0 m -0.2 m 0 m }\n"                          \
    "choice cold { option box { item ice-box { price 90 EUR } }\n option fridge { item cooler { price 700 EUR; lead 6 week }\n" \
    "  set stove.price 500 USD } }\n"                                                                                           \
    "waive no-parts on stove until 2027-09-30 because \"The maker sells on request.\"\n"

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

/* A spec of the project with what it includes in place of each `include`. */
static void add_included(Buf *text, Arena *arena, const char *folder, const char *name)
{
    Str file = generate_read(arena, text_format(arena, "%s/%s", folder, name));
    const char *line = file.text;
    while (*line != '\0') {
        size_t length = strcspn(line, "\n") + 1;
        if (strncmp(line, "include \"", 9) == 0) {
            add_included(text, arena, folder, text_format(arena, "%.*s", (int)strcspn(line + 9, "\""), line + 9));
        } else if (text->length == 0 || strncmp(line, "edition", 7) != 0) {
            buf_add(text, (Str){line, length});
        }
        line += length;
    }
}

Str generate_rich(Arena *arena, int number)
{
    Buf text;
    buf_init(&text, arena);
    switch (number % RICH_BASES) {
    case 0: buf_text(&text, MAINS_STUB); break;
    case 1: buf_text(&text, PLAN_STUB); break;
    default: add_included(&text, arena, TESTS_DIR "/../specs/heron", "heron.boat"); break;
    }
    return buf_str(&text);
}
