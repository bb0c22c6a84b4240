/*
 * Writes a boat spec of exactly as many lines as asked for, and the same content as YAML, for tests/bench/bench.sh.
 *
 *   generate LINES SPEC.boat SPEC.yaml
 *
 * The spec is made of districts: a battery bank with its switch, bus, array and two panels of twenty ways, fresh and
 * waste water with pump, hoses and fixtures, a store of items, a string of jobs. Things look at their own district
 * only, so that twice the lines are twice the work and nothing else. Names are unique and nothing in it is a mistake;
 * everything in it is invented. What is left over at the end is filled with single items, then with comments.
 *
 * In the YAML a thing is a mapping of its name to kind, title and a list of properties, each `word: value`.
 * Every value is fixed by its place: no clock, no chance. Knows the language, includes nothing of the compiler.
 */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

enum { PANELS = 2, WAYS = 20, FIXTURES = 4, ITEMS = 30, JOBS = 15, NAME_SIZE = 40, VALUE_SIZE = 160 };

typedef struct Writer {
    FILE *spec;
    FILE *yaml;
    long lines; /* of the spec, so far */
    int depth;  /* 0: between things, 1: in one, 2: in a property's own block */
} Writer;

/* A short-lived name such as `way-3-0-17`. */
typedef struct Name {
    char text[NAME_SIZE];
} Name;

static Name name_of(const char *word, long district, int place)
{
    Name name;

    snprintf(name.text, sizeof name.text, "%s-%ld-%d", word, district, place);
    return name;
}

static void comment(Writer *writer, const char *text)
{
    fprintf(writer->spec, "# %s\n", text);
    fprintf(writer->yaml, "# %s\n", text);
    writer->lines++;
}

static void thing(Writer *writer, const char *kind, const char *name, const char *title)
{
    fprintf(writer->spec, title != NULL ? "%s %s \"%s\" {\n" : "%s %s {\n", kind, name, title);
    fprintf(writer->yaml, "%s:\n  kind: %s\n", name, kind);
    if (title != NULL) {
        fprintf(writer->yaml, "  title: \"%s\"\n", title);
    }
    fputs("  props:\n", writer->yaml);
    writer->lines++;
    writer->depth = 1;
}

static void property(Writer *writer, const char *word, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void property(Writer *writer, const char *word, const char *format, ...)
{
    char value[VALUE_SIZE];
    va_list arguments;

    va_start(arguments, format);
    vsnprintf(value, sizeof value, format, arguments);
    va_end(arguments);
    fprintf(writer->spec, "%*s%s %s\n", writer->depth * 2, "", word, value);
    fprintf(writer->yaml, "%*s- %s: %s\n", writer->depth * 4, "", word, value);
    writer->lines++;
}

/* A property that opens a block of its own: `feeds positive {`. */
static void block(Writer *writer, const char *word, const char *value)
{
    fprintf(writer->spec, "  %s %s {\n", word, value);
    fprintf(writer->yaml, "    - %s: %s\n      props:\n", word, value);
    writer->lines++;
    writer->depth = 2;
}

static void end(Writer *writer)
{
    writer->depth--;
    fprintf(writer->spec, "%*s}\n", writer->depth * 2, "");
    writer->lines++;
}

/* The cable and the protection of a feed. */
static void feed(Writer *writer, const char *from, const char *run, const char *wire, const char *protect)
{
    if (from != NULL) {
        property(writer, "fed-by", "%s", from);
    }
    property(writer, "run", "%s", run);
    property(writer, "wire", "%s", wire);
    property(writer, "protect", "%s", protect);
}

static void write_boat(Writer *writer)
{
    thing(writer, "boat", "measure", "Invented boat for measuring");
    property(writer, "length", "11.8 m");
    property(writer, "waterline", "10.6 m");
    property(writer, "beam", "3.9 m");
    property(writer, "draft", "1.1 m");
    property(writer, "displacement", "9_400 kg");
    property(writer, "hull", "displacement");
    property(writer, "water", "salt");
    property(writer, "crew", "2");
    property(writer, "currency", "EUR");
    property(writer, "waters", "coastal");
    property(writer, "basis", "us");
    property(writer, "system-voltage", "12 V");
    end(writer);
}

static void write_day(Writer *writer, const char *name, const char *title, int engine_hours, const char *sun)
{
    thing(writer, "day", name, title);
    property(writer, "engine", "%d h", engine_hours);
    property(writer, "shore", "0 h");
    property(writer, "sun", "%s", sun);
    property(writer, "water", "12 l per person");
    property(writer, "flushes", "5 per person");
    end(writer);
}

/* What a boat has once, however many districts follow. */
static void write_whole(Writer *writer)
{
    fputs("edition 1\n", writer->spec);
    fputs("edition: 1\n", writer->yaml);
    writer->lines++;
    write_boat(writer);
    write_day(writer, "anchored", "Swinging at anchor", 0, "5.1 h");
    write_day(writer, "passage", "A day's run", 3, "4.2 h");
    thing(writer, "cruise", "weekend", NULL);
    property(writer, "days", "1 passage, 2 anchored, 1 passage");
    end(writer);
    thing(writer, "supplier", "quay", "Quay stores, invented");
    property(writer, "lead", "3 week");
    end(writer);
    thing(writer, "criterion", "mend", "Can I mend it myself?");
    property(writer, "weight", "3");
    end(writer);
}

static void write_bank(Writer *writer, long district)
{
    thing(writer, "bank", name_of("bank", district, 0).text, "House bank");
    property(writer, "chemistry", "lifepo4");
    property(writer, "voltage", "12.8 V");
    property(writer, "capacity", "460 Ah");
    property(writer, "role", "house");
    property(writer, "resistance", "3 mohm");
    property(writer, "max-charge", "200 A");
    property(writer, "max-discharge", "300 A");
    property(writer, "management", "yes");
    property(writer, "warns", "yes");
    property(writer, "cold-cutoff", "yes");
    property(writer, "disconnect", "yes");
    property(writer, "restrained", "yes");
    property(writer, "terminals-covered", "yes");
    property(writer, "space", "cabin-%ld", district);
    property(writer, "at", "6.0 m 0.4 m 0.1 m");
    property(writer, "mass", "52 kg");
    property(writer, "price", "2_890.00 EUR");
    end(writer);
}

static void write_array(Writer *writer, long district)
{
    thing(writer, "solar", name_of("array", district, 0).text, "Panels on the roof");
    property(writer, "rated", "110 W labelled");
    property(writer, "count", "4");
    property(writer, "series", "2");
    property(writer, "parallel", "2");
    property(writer, "controller", "mppt");
    property(writer, "open-circuit", "22.5 V");
    property(writer, "short-circuit", "6.2 A");
    property(writer, "voltage-coefficient", "-0.3 %%/degC");
    property(writer, "max-input", "100 V");
    property(writer, "max-output", "40 A");
    property(writer, "tilt", "0 deg");
    property(writer, "mass", "6.5 kg");
    block(writer, "feeds", name_of("positive", district, 0).text);
    feed(writer, NULL, "4.0 m", "6 AWG", "50 A fuse 0.15 m from source");
    end(writer);
    end(writer);
}

static void write_source(Writer *writer, long district)
{
    char cabin[NAME_SIZE];

    comment(writer, "Bank, main switch, distribution and array.");
    snprintf(cabin, sizeof cabin, "cabin-%ld", district);
    thing(writer, "space", cabin, "A cabin");
    property(writer, "volume", "14 m3");
    property(writer, "floor", "6 m2");
    property(writer, "ventilated", "yes");
    end(writer);
    write_bank(writer, district);
    thing(writer, "switch", name_of("main-switch", district, 0).text, "Battery switch");
    property(writer, "works-as", "battery");
    property(writer, "rated", "300 A");
    feed(writer, name_of("bank", district, 0).text, "0.4 m", "2/0 AWG",
         "250 A fuse class-t 0.1 m from source");
    end(writer);
    thing(writer, "bus", name_of("positive", district, 0).text, "Positive bus");
    property(writer, "rated", "300 A");
    feed(writer, name_of("main-switch", district, 0).text, "0.6 m", "2/0 AWG",
         "225 A fuse 0.15 m from source");
    end(writer);
    write_array(writer, district);
}

/* The three ways in which owners state a draw, and one from a part; `use` as hours, a share or clock times. */
static void write_load(Writer *writer, long district, int place)
{
    static const char *const draws[] = {"0.4 A labelled", "5 W at 12 V", "0.3..0.5 A", "0.35 A measured"};
    static const char *const uses[] = {"4 h", "30 %", "18:00..23:00", "1.5 h"};

    thing(writer, "load", name_of("load", district, place).text, "Lamps");
    property(writer, "fed-by", "%s  # behind the lining, to port", name_of("way", district, place).text);
    property(writer, "draw", "%s", draws[place % 4]);
    property(writer, "count", "%d", 2 + place % 3);
    property(writer, "use", "anchored %s", uses[place % 4]);
    property(writer, "use", "passage %d h", 1 + place % 3);
    property(writer, "space", "cabin-%ld", district);
    property(writer, "at", "%d.%d m -0.%d m 1.6 m", 2 + place % 8, place % 10, 1 + place % 9);
    property(writer, "mass", "0.%d kg", 1 + place % 5);
    property(writer, "price", "%d.50 EUR", 18 + place);
    end(writer);
}

static void write_panel(Writer *writer, long district, int panel)
{
    comment(writer, "A panel and its twenty ways.");
    thing(writer, "panel", name_of("panel", district, panel).text, "Distribution panel");
    property(writer, "rated", "100 A");
    property(writer, "spare-ways", "2");
    feed(writer, name_of("positive", district, 0).text, "1.5 m", "4 AWG", "80 A fuse 0.15 m from source");
    end(writer);
    for (int way = 0; way < WAYS; way++) {
        int place = panel * WAYS + way;
        char run[NAME_SIZE];

        snprintf(run, sizeof run, "%d.%d m", 2 + way % 4, way % 10);
        thing(writer, "circuit", name_of("way", district, place).text, "Cabin lights");
        feed(writer, name_of("panel", district, panel).text, run, "12 AWG", "15 A breaker");
        property(writer, "through", "cabin-%ld  # in the trunk under the side deck", district);
        property(writer, "bundle", "%d", 2 + way % 3);
        end(writer);
        write_load(writer, district, place);
    }
}

static void write_hose(Writer *writer, long district, int place, const char *from, const char *to)
{
    thing(writer, "hose", name_of("hose", district, place).text, NULL);
    property(writer, "from", "%s", from);
    property(writer, "to", "%s", to);
    property(writer, "bore", "%s", place % 2 == 0 ? "15 mm" : "1 in");
    property(writer, "run", "%d.%d m", 1 + place % 3, place % 10);
    property(writer, "rise", "0.%d m", place % 6);
    property(writer, "bends", "%d", 1 + place % 4);
    property(writer, "material", "smooth");
    property(writer, "grade", "water");
    property(writer, "clamps", "2");
    property(writer, "price", "%d.20 EUR", 6 + place);
    end(writer);
}

static void write_tank(Writer *writer, const char *name, const char *holds, const char *capacity)
{
    thing(writer, "tank", name, NULL);
    property(writer, "holds", "%s", holds);
    property(writer, "capacity", "%s", capacity);
    property(writer, "vent", "19 mm");
    property(writer, "fill", "38 mm");
    property(writer, "baffles", "1");
    property(writer, "inspection", "yes");
    property(writer, "at", "5.2 m -0.6 m -0.1 m");
    property(writer, "mass", "14 kg");
    end(writer);
}

static void write_pump(Writer *writer, long district, const char *from)
{
    thing(writer, "pump", name_of("pump", district, 0).text, "Pressure pump");
    property(writer, "fed-by", "%s", name_of("way", district, 0).text);
    property(writer, "from", "%s", from);
    property(writer, "flow", "11 l/min");
    property(writer, "shut-off", "2.8 bar");
    property(writer, "pressure", "2.4 bar");
    property(writer, "self-priming", "1.8 m");
    property(writer, "accumulator", "1 l");
    property(writer, "draw", "6 A");
    property(writer, "use", "anchored 0.3 h");
    property(writer, "service", "1 year \"Clean the filter, look at the valves\"");
    property(writer, "price", "139.00 EUR");
    end(writer);
}

static void write_water(Writer *writer, long district)
{
    Name fresh = name_of("fresh", district, 0);
    Name waste = name_of("waste", district, 0);
    Name pump = name_of("pump", district, 0);

    comment(writer, "Fresh water and what becomes of it.");
    write_tank(writer, fresh.text, "fresh", "60 gal");
    write_tank(writer, waste.text, "grey", "120..150 l");
    write_pump(writer, district, fresh.text);
    write_hose(writer, district, 0, fresh.text, pump.text);
    for (int i = 0; i < FIXTURES; i++) {
        Name fixture = name_of("tap", district, i);

        thing(writer, "fixture", fixture.text, "Basin");
        property(writer, "cold", "yes");
        property(writer, "flow", "6 l/min");
        property(writer, "drains-to", "%s", waste.text);
        end(writer);
        write_hose(writer, district, 1 + 2 * i, pump.text, fixture.text);
        write_hose(writer, district, 2 + 2 * i, fixture.text, waste.text);
    }
}

static void write_item(Writer *writer, long district, int place)
{
    thing(writer, "item", name_of("item", district, place).text, "Locker door");
    property(writer, "at", "%d.%d m 0.%d m 0.5 m", 1 + place % 9, place % 10, place % 10);
    property(writer, "mass", "%d.%d kg", place % 4, 1 + place % 9);
    property(writer, "price", "%d.00 EUR", 20 + 3 * place);
    property(writer, "supplier", "quay");
    property(writer, "ordered", "2026-05-%02d", 1 + place % 28);
    property(writer, "promised", "2026-07-%02d", 1 + place % 28);
    property(writer, "note", "\"Measured twice; the opening is out of square by 4 mm.\"");
    end(writer);
}

static void write_store(Writer *writer, long district)
{
    comment(writer, "Things to buy, and the work that waits for them.");
    for (int i = 0; i < ITEMS; i++) {
        write_item(writer, district, i);
    }
    for (int i = 0; i < JOBS; i++) {
        thing(writer, "job", name_of("job", district, i).text, "Fit the doors");
        property(writer, "takes", "%d d", 1 + i % 3);
        if (i > 0) {
            property(writer, "after", "%s", name_of("job", district, i - 1).text);
        }
        property(writer, "needs", "%s, %s", name_of("item", district, 2 * i).text,
                 name_of("item", district, 2 * i + 1).text);
        property(writer, "space", "cabin-%ld", district);
        end(writer);
    }
}

static void write_district(Writer *writer, long district)
{
    write_source(writer, district);
    for (int i = 0; i < PANELS; i++) {
        write_panel(writer, district, i);
    }
    write_water(writer, district);
    write_store(writer, district);
}

/* Whole districts while they fit, then items of a store of their own, then comments. */
static void write_lines(Writer *writer, long lines)
{
    long of_district = 0;
    long of_item = 0;
    long district = 0;

    write_whole(writer);
    while (writer->lines + of_district <= lines) {
        long before = writer->lines;

        write_district(writer, district++);
        of_district = writer->lines - before;
    }
    for (int i = 0; writer->lines + of_item <= lines; i++) {
        long before = writer->lines;

        write_item(writer, district, i);
        of_item = writer->lines - before;
    }
    while (writer->lines < lines) {
        comment(writer, "The rest of the page.");
    }
}

int main(int argc, char **argv)
{
    Writer writer = {0};
    long lines = argc == 4 ? strtol(argv[1], NULL, 10) : 0;
    int failed;

    if (lines < 2000) {
        fputs("usage: generate LINES SPEC.boat SPEC.yaml (2000 lines or more)\n", stderr);
        return 2;
    }
    writer.spec = fopen(argv[2], "w");
    writer.yaml = fopen(argv[3], "w");
    if (writer.spec == NULL || writer.yaml == NULL) {
        fputs("generate: a file cannot be written\n", stderr);
        return 2;
    }
    write_lines(&writer, lines);
    failed = ferror(writer.spec) | ferror(writer.yaml);
    failed |= fclose(writer.spec);
    failed |= fclose(writer.yaml);
    return failed != 0 || writer.lines != lines ? 1 : 0;
}
