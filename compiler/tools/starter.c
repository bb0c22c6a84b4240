/* See starter.h. `@NAME@` and `@TITLE@` stand for the boat's own. */
#include "tools/starter.h"

#include "language/unit.h"

#include <string.h>

/* A line of the spec is a line here. */
/* clang-format off */
static const char *const lines[] = {
    "# @NAME@: a spec to begin from. Everything in it is invented: put your own boat's numbers in its",
    "# place, a few at a time, and run `garboard check @NAME@.boat` after each edit. `#` begins a",
    "# comment. `garboard kinds` lists what a spec can speak of, `garboard kinds bank` what can be said",
    "# of a bank.",
    "",
    "edition 1  # the version of the language that this file is written in",
    "",
    "# The boat: a kind, a name of your choosing, a title in quotes, and a property on each line. Length,",
    "# beam, crew, currency and basis (the rules that she is checked against, us or iso) must be there;",
    "# the rest can wait.",
    "boat @NAME@ \"@TITLE@\" {",
    "  length 9.5 m  # a number takes its unit; `31 ft 2 in` is as good",
    "  beam 3.1 m",
    "  displacement 5200 kg",
    "  crew 2",
    "  currency EUR",
    "  contingency 15 %  # for surprises, on what is still to buy",
    "  waters coastal",
    "  basis iso",
    "  sails no",
    "}",
    "",
    "# The spaces: where things stand and cables pass. A block of one or two statements stands on one line.",
    "space saloon \"Saloon\" {",
    "  sleeping yes",
    "  ventilated yes",
    "  bilge yes",
    "}",
    "",
    "# What she is to be able to do, and on what kind of day. `check` tells whether she can. As it stands,",
    "# two goals are open: the bank further down is not decided, and with the smaller one she falls short;",
    "# and most things have no price yet, so that nobody knows what she will cost.",
    "day anchored \"A day at anchor\" {",
    "  sun 4.5 h  # hours of full sun that the day's light is worth",
    "  water 12 l per person",
    "}",
    "goal quiet \"Four days at anchor\" { endure 4 d on anchored }",
    "goal purse \"What it may cost\" { budget 4500 EUR }",
    "",
    "# Power, from the bank on. A thing says by `fed-by` where its power comes from; the cable of that",
    "# way (`run`, one way, and `wire`) and the fuse or breaker that protects it (`protect`) stand on the",
    "# same thing.",
    "bank house \"House bank\" {",
    "  chemistry agm",
    "  voltage 12 V",
    "  capacity 180..220 Ah  # not decided yet, so figures become ranges, and a goal is open",
    "  resistance 4 mohm guessed  # how well it is known; the book lists what still rests on guesses",
    "  restrained yes  # what safety hangs on is never assumed: left out, its rule stays open",
    "  terminals-covered yes",
    "  vented-outside yes",
    "  space saloon",
    "  mass 58 kg",
    "  price 540..640 EUR",
    "}",
    "switch house-switch {",
    "  fed-by house",
    "  works-as battery",
    "  rated 200 A",
    "  run 0.5 m",
    "  wire 35 mm2 insulation 105 C",
    "  protect 150 A fuse class-t 0.15 m from source interrupts 20 kA",
    "}",
    "bus positive \"Positive bus\" {",
    "  fed-by house-switch",
    "  run 0.4 m",
    "  wire 35 mm2 insulation 105 C",
    "  protect 125 A fuse terminal 0.1 m from source interrupts 10 kA",
    "  rated 150 A",
    "}",
    "panel main \"Main panel\" {",
    "  fed-by positive",
    "  run 1.5 m",
    "  wire 16 mm2 insulation 105 C",
    "  protect 60 A fuse terminal 0.1 m from source interrupts 10 kA",
    "  rated 100 A",
    "}",
    "",
    "# What gives power says what it `feeds`, with the cable and the protection of that way in a block of",
    "# its own.",
    "solar deck-panel \"Panel on the hatch\" {",
    "  rated 120 W",
    "  charge-voltage 14.4 V",
    "  price 180.00 EUR",
    "  feeds positive {",
    "    run 4 m",
    "    wire 6 mm2 insulation 105 C",
    "    protect 15 A fuse class-t 0.1 m from source interrupts 20 kA",
    "  }",
    "}",
    "",
    "# A circuit is a cable with its own breaker, and its loads share both. No `wire` here: the tool",
    "# chooses the size.",
    "circuit lights \"Cabin lights\" {",
    "  fed-by main",
    "  run 5.5 m",
    "  protect 5 A breaker",
    "}",
    "load lamps \"Saloon lamps\" {",
    "  fed-by lights",
    "  draw 0.25 A  # one of them",
    "  count 8",
    "  use anchored 4 h  # in a day like that; `18:00..22:00` or `20 %` would do too",
    "  price 14.50 EUR",
    "}",
    "circuit cold \"Refrigerator circuit\" {",
    "  fed-by main",
    "  run 4 m",
    "  protect 10 A breaker",
    "}",
    "load fridge \"Refrigerator\" {",
    "  fed-by cold",
    "  draw 3.5..4.5 A",
    "  use anchored 40 %",
    "  price 560..700 EUR",
    "}",
    "",
    "# What she shows at night, how far it is seen, how high it stands; and what she sounds in fog.",
    "circuit running-lights \"Navigation lights\" {",
    "  fed-by main",
    "  run 9 m",
    "  protect 5 A breaker",
    "}",
    "nav-light sidelights \"Sidelights in one lantern\" {",
    "  fed-by running-lights",
    "  draw 0.4 A",
    "  shows combined",
    "  visible 1 nmi",
    "  height 1.6 m",
    "}",
    "nav-light white-light \"White all round, under way and at anchor\" {",
    "  fed-by running-lights",
    "  draw 0.2 A",
    "  shows all-round",
    "  visible 2 nmi",
    "  height 3.4 m",
    "  use anchored 22:00..05:00",
    "}",
    "horn mouth-horn \"Horn, to blow by mouth\" { draw 0 A; portable yes }",
    "item life-jackets \"Life jackets\" {",
    "  carried life-jacket",
    "  count 2",
    "  portable yes",
    "}",
    "",
    "# Fresh water: from the tank through the pump to the tap. Power and water meet in the pump.",
    "tank fresh \"Fresh water\" {",
    "  holds fresh",
    "  capacity 120 l",
    "  vent 16 mm",
    "  fill 38 mm",
    "  space saloon",
    "}",
    "circuit water \"Water pump circuit\" {",
    "  fed-by main",
    "  run 3 m",
    "  protect 10 A breaker",
    "}",
    "pump fresh-pump \"Pressure pump\" {",
    "  fed-by water",
    "  draw 5 A",
    "  use anchored 0.2 h",
    "  from fresh",
    "  to sink",
    "  flow 10 l/min",
    "  service every 12 month \"Valves and diaphragm\"",
    "}",
    "fixture sink \"Galley sink\" { drains-to sink-drain }",
    "",
    "# Every hole in the hull, with what closes it.",
    "through-hull sink-drain \"Sink drain\" {",
    "  bore 38 mm",
    "  height 0.15 m  # above the waterline; below it is negative",
    "  seacock yes",
    "  reach yes  # it can be reached to close it",
    "  material bronze",
    "  backing yes",
    "  clamps 2",
    "}",
    "",
    "# The bilge: a pump that starts by itself, fed from before the switch, and one that needs no power",
    "# at all.",
    "bilge-pump bilge \"Bilge pump\" {",
    "  fed-by house",
    "  run 2.5 m",
    "  wire 2.5 mm2 insulation 105 C",
    "  protect 10 A fuse class-t 0.15 m from source interrupts 20 kA",
    "  draw 4 A",
    "  rated 3600 l/h",
    "  lift 1.0 m",
    "  shut-off 4 m",
    "  outlet 28 mm by 3 m",
    "  discharge-height 0.5 m",
    "  check-valve no",
    "  automatic yes",
    "  alarm yes",
    "  space saloon",
    "}",
    "bilge-pump hand-bilge \"Hand bilge pump\" {",
    "  hand yes",
    "  automatic no",
    "  rated 2400 l/h",
    "  lift 1.0 m",
    "  shut-off 4 m",
    "  outlet 38 mm by 3 m",
    "  discharge-height 0.5 m",
    "  check-valve no",
    "  space saloon",
    "}",
    "",
    "# Fire: what warns, and what puts it out.",
    "alarm saloon-alarm {",
    "  detects co, smoke",
    "  portable yes",
    "  space saloon",
    "}",
    "extinguisher saloon-extinguisher {",
    "  rating 10-B",
    "  count 2",
    "  space saloon",
    "  expires 2033-12-31",
    "}",
    "",
    "# Buying: by its dates a thing tells how far it has come, and `check` what is late.",
    "item cushions \"Saloon cushions\" {",
    "  price 640.00 EUR",
    "  mass 18 kg",
    "  ordered 2026-09-02",
    "  promised 2026-10-15  # a new line for each new promise",
    "  arrived 2026-10-20",
    "}",
    "",
    "# A decision and its candidates. Take the signs away to try it: until one is picked, figures cover",
    "# them all.",
    "# choice cooking \"What do we cook on?\" {",
    "#   option spirit \"Two burners for spirit\" { item stove { price 390 EUR; mass 6 kg } }",
    "#   option paraffin \"Two burners for paraffin\" { item stove { price 520 EUR; mass 9 kg } }",
    "#   # pick spirit",
    "# }",
};
/* clang-format on */
enum { LINE_COUNT = sizeof lines / sizeof lines[0] };

static bool is_word(Str name)
{
    for (size_t i = 0; i < name.length; i++) {
        char c = name.text[i];
        if (!char_is_letter(c) && (i == 0 || ((c < '0' || c > '9') && c != '-'))) {
            return false;
        }
    }
    return name.length > 0;
}

/* Whether a line declares a thing of that name: `KIND name ...` from its first column on. */
static bool declares(const char *line, Str name)
{
    const char *blank = strchr(line, ' ');
    if (blank == NULL || !char_is_letter(line[0])) {
        return false;
    }
    Str second = {blank + 1, strcspn(blank + 1, " ")};
    return str_equal(second, name);
}

/* Why the name cannot be the boat's; NULL if it can. */
static const char *wrong_with(Arena *arena, Str name)
{
    if (!is_word(name)) {
        return text_format(
            arena, "`%.*s` is no name: letters, digits and `-`, beginning with a letter, such as `wren`",
            STR_ARG(name));
    }
    if (unit_find(name) != UNIT_NONE || str_is(name, "yes") || str_is(name, "no")) {
        return text_format(arena,
                           "`%.*s` has a meaning in the language; a longer name, such as `%.*s-1`, has none",
                           STR_ARG(name), STR_ARG(name));
    }
    for (int i = 0; i < LINE_COUNT; i++) {
        if (declares(lines[i], name)) {
            return text_format(
                arena, "`%.*s` is the name of something else in the starter; such as `%.*s-1` is free",
                STR_ARG(name), STR_ARG(name));
        }
    }
    return NULL;
}

/* `sea-otter` makes `Sea otter`. */
static void write_title(Buf *to, Str name)
{
    for (size_t i = 0; i < name.length; i++) {
        char c = name.text[i] == '-' ? ' ' : name.text[i];
        buf_char(to, i == 0 && c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c);
    }
}

static void write_line(Buf *to, const char *line, Str name)
{
    while (*line != '\0') {
        Str plain = {line, strcspn(line, "@")};
        buf_add(to, plain);
        line += plain.length;
        if (strncmp(line, "@NAME@", 6) == 0) {
            buf_add(to, name);
            line += 6;
        } else if (strncmp(line, "@TITLE@", 7) == 0) {
            write_title(to, name);
            line += 7;
        } else if (*line != '\0') {
            buf_char(to, *line++);
        }
    }
    buf_char(to, '\n');
}

bool starter_write(Buf *to, Arena *arena, Str name, const char **error)
{
    *error = wrong_with(arena, name);
    for (int i = 0; *error == NULL && i < LINE_COUNT; i++) {
        write_line(to, lines[i], name);
    }
    return *error == NULL;
}
