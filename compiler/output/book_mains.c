/*
 * Mains as a surveyor reads them: each source with its neutral and what keeps it apart from the others; how outlets are
 * guarded; and the sheet of tests before first use, with room for what is measured. Computes nothing.
 */
#include "output/book_wire.h"

#include "figures/power.h"
#include "output/feeding.h"

static bool is_aboard_as(const BookThing *thing, KindId kind)
{
    return thing->entity->kind == kind && is_aboard(thing->entity);
}

static bool is_source(const BookThing *thing)
{
    return is_aboard_as(thing, KIND_INLET) || is_aboard_as(thing, KIND_GENERATOR) || is_aboard_as(thing, KIND_INVERTER);
}

/* Sources */

/* Whether a thing can get its power from that source, by any of its feeds. */
static bool comes_from(const Entity *thing, const Entity *source, int depth)
{
    enum { DEEPEST = 16 };
    if (thing == source) {
        return true;
    }
    for (const Feed *feed = thing->made; feed != NULL; feed = feed->next_of_taker) {
        if (feed->giver == source) {
            return true;
        }
    }
    for (const Feed *feed = thing->fed; feed != NULL && depth < DEEPEST; feed = feed->next) {
        bool begins = feed->giver == NULL || feed->giver == source || turns_power(feed->giver);
        if (begins ? feed->giver == source && source != NULL : comes_from(feed->giver, source, depth + 1)) {
            return true;
        }
    }
    return false;
}

static void add_apart(Buf *to, const Model *model, const Entity *entity, const char *how)
{
    buf_format(to, "%s`%.*s` (%s)", to->length > 0 ? ", " : "", STR_ARG(entity_name(model, entity)), how);
}

static const char *switched_by(const Book *book, const Model *model, const Entity *transfer)
{
    Str poles = book_value_text(book, model, property_value(entity_property(transfer, PROP_FEED_POLES), 0));
    return str_is(poles, "2")               ? "switches line and neutral"
           : str_is(poles, "1")             ? "switches line alone"
           : str_equal(poles, book_nothing) ? "switches conductors not stated"
                                            : text_format(book->arena, "switches %.*s conductors", STR_ARG(poles));
}

/* The transfer switches that it leads to, and inverters that pass it through with one inside. */
static Str apart_in(const Book *book, const Case *in, const Entity *source, unsigned id, unsigned slot)
{
    (void)id, (void)slot;
    const Model *model = in->model;
    Buf text;
    buf_init(&text, book->arena);
    for (const Entity *e = model->first_of_kind[KIND_SWITCH]; e != NULL; e = e->next_of_kind) {
        bool transfer = str_is(entity_word(e, PROP_SWITCH_WORKS_AS), "transfer") && !(e->flags & (ENTITY_DROPPED | ENTITY_LOOP));
        if (transfer && comes_from(e, source, 0)) {
            add_apart(&text, model, e, switched_by(book, model, e));
        }
    }
    for (const Entity *e = model->first_of_kind[KIND_INVERTER]; e != NULL; e = e->next_of_kind) {
        const Entity *passed = e->flags & ENTITY_DROPPED ? NULL : entity_reference(e, PROP_INVERTER_PASSES);
        bool meets = passed != NULL && (e == source || comes_from(passed, source, 0));
        if (meets) {
            int inside = entity_yes(e, PROP_INVERTER_TRANSFER);
            add_apart(&text, model, e,
                      inside == 1   ? "transfer switch inside"
                      : inside == 0 ? "no transfer switch"
                                    : "transfer switch not stated");
        }
    }
    return text.length > 0 ? buf_str(&text) : STR("meets no other");
}

/* Where neutral and ground are one while this is the source. */
static const char *neutral_of(const Entity *source)
{
    if (source->kind == KIND_INLET) {
        return has_transformer(source) ? "at the transformer aboard" : "ashore, nowhere aboard";
    }
    PropId prop = source->kind == KIND_INVERTER ? PROP_INVERTER_BONDS_NEUTRAL : PROP_GENERATOR_BONDS_NEUTRAL;
    int joins = entity_yes(source, prop);
    return joins == 1 ? "at itself, while it is the source" : joins == 0 ? "nowhere: a fault opens no breaker" : "not stated";
}

static const char *to_ground(const Entity *source)
{
    if (source->kind == KIND_GENERATOR) {
        return "to be measured: no property says it";
    }
    if (source->kind == KIND_INVERTER && !entity_states(source, PROP_INVERTER_BONDED) &&
        entity_reference(source, PROP_INVERTER_PASSES) != NULL) {
        return "with that of what it passes";
    }
    bool begins = source->kind == KIND_INLET && str_is(entity_word(source, PROP_INLET_ISOLATION), "transformer");
    int bonded = entity_yes(source, source->kind == KIND_INVERTER ? PROP_INVERTER_BONDED : PROP_INLET_BONDED);
    return bonded == 1 && begins ? "joined behind the transformer, where it begins" : bonded == 1 ? "joined" : bonded == 0 ? "not joined" : "not stated";
}

static Str neutral_in(const Book *book, const Case *in, const Entity *source, unsigned id, unsigned slot)
{
    (void)book, (void)in, (void)id, (void)slot;
    return str_from(neutral_of(source));
}

static Str ground_in(const Book *book, const Case *in, const Entity *source, unsigned id, unsigned slot)
{
    (void)book, (void)in, (void)id, (void)slot;
    return str_from(to_ground(source));
}

static void gives_cell(Book *book, const Entity *source)
{
    bool inverter = source->kind == KIND_INVERTER, inlet = source->kind == KIND_INLET;
    PropId hertz = inlet ? PROP_INLET_FREQUENCY : inverter ? PROP_INVERTER_FREQUENCY : PROP_GENERATOR_FREQUENCY;
    markdown_cell(&book->md);
    markdown_text(&book->md, inlet      ? book_property(book, source, PROP_INLET_RATED)
                             : inverter ? book_value(book, source, PROP_INVERTER_RATED, 0)
                                        : book_property(book, source, PROP_GENERATOR_RATED));
    if (inverter && entity_states(source, PROP_INVERTER_OUTPUT)) {
        markdown_format(&book->md, " at %.*s", STR_ARG(book_value(book, source, PROP_INVERTER_OUTPUT, 0)));
    }
    if (entity_states(source, hertz)) {
        markdown_format(&book->md, ", %.*s", STR_ARG(book_value(book, source, hertz, 0)));
    }
}

void book_mains_sources(Book *book)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_source(t)) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Sources of mains"), NULL);
            book_say(book, "One source at a time. With each of them neutral meets ground at one place, the one that is named here.");
            book_head(book,
                      (const char *const[]){"Source", "What", "Gives", "Neutral meets ground", "Ground to the boat's DC ground",
                                            "Kept apart from the others by"},
                      6);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, book_title(book, t->entity));
        gives_cell(book, t->entity);
        book_cell(book, book_over_cases(book, t->entity, neutral_in));
        book_cell(book, book_over_cases(book, t->entity, ground_in));
        book_prose_cell(book, str_copy(book->arena, book_over_cases(book, t->entity, apart_in)));
    }
}

/* Outlets */

void book_mains_outlets(Book *book)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        const Feed *feed = t->entity->fed;
        if (!is_aboard_as(t, KIND_OUTLET) || feed == NULL) {
            continue;
        }
        if (!begun) {
            markdown_heading(&book->md, 3, STR("Outlets"), NULL);
            book_head(book, (const char *const[]){"Name", "What", "Fed by", ">Rated", "Leakage guard", "Space", "Wet"}, 7);
            begun = true;
        }
        const Entity *space = entity_reference(t->entity, PROP_COMMON_SPACE);
        markdown_row(&book->md);
        book_name_cell(book, t);
        book_cell(book, book_title(book, t->entity));
        book_names_cell(book, t->entity, PROP_FEED_FED_BY);
        book_cell(book, book_value(book, t->entity, PROP_OUTLET_RATED, 0));
        book_leakage_of_thing_cell(book, t);
        book_cell(book, book_value(book, t->entity, PROP_COMMON_SPACE, 0));
        book_cell(book, space != NULL ? book_value(book, space, PROP_SPACE_WET, 0) : book_nothing);
    }
}

/* Tests before first use */

static void empty_cells(Book *book, unsigned count)
{
    for (unsigned i = 0; i < count; i++) {
        markdown_cell(&book->md);
    }
}

static void cable_row(Book *book, const BookWire *wire, void *context)
{
    bool *begun = context;
    if (!*begun) {
        book_say(book, "Dead, every source off and unplugged, devices with electronics disconnected:");
        book_head(book,
                  (const char *const[]){"Cable", ">Ground conductor, end to end (ohm)", ">Line and neutral to ground (Mohm)",
                                        ">Line to neutral (Mohm)", "Line at the device, neutral and ground in their places"},
                  5);
        *begun = true;
    }
    markdown_row(&book->md);
    book_wire_label_cell(book, wire);
    empty_cells(book, 4);
}

static void leakage_row(Book *book, const BookWire *wire, void *context)
{
    bool *begun = context;
    if (!feeding_opens_at_leakage(wire->feed)) {
        return;
    }
    if (!*begun) {
        book_say(book, "Live, each device that opens at leakage, with the instrument made for it:");
        book_head(book,
                  (const char *const[]){"Device", "Opens at", "Stays closed at half of that", ">Opens at that within (ms)",
                                        "Its button opens it"},
                  5);
        *begun = true;
    }
    markdown_row(&book->md);
    book_wire_label_cell(book, wire);
    book_leakage_cell(book, wire);
    empty_cells(book, 3);
}

static void source_rows(Book *book)
{
    bool begun = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (!is_source(t)) {
            continue;
        }
        if (!begun) {
            book_say(book, "Live, with each source in turn and the others ready to run:");
            book_head(book,
                      (const char *const[]){"Source", "Wanted", ">V", ">Hz", "Neutral to ground: wanted", "Found",
                                            "The others' line and neutral dead", "Polarity at each outlet"},
                      8);
            begun = true;
        }
        markdown_row(&book->md);
        book_name_cell(book, t);
        gives_cell(book, t->entity);
        empty_cells(book, 2);
        book_cell(book, book_over_cases(book, t->entity, neutral_in));
        empty_cells(book, 3);
    }
}

/* The names of the sources that are meant, as "`a`, `b`"; false if there are none. */
static bool add_sources(Book *book, bool (*meant)(const Entity *source), const char *before)
{
    bool any = false;
    for (const BookThing *t = book->things; t != NULL; t = t->next) {
        if (is_source(t) && meant(t->entity)) {
            markdown_text(&book->md, any ? STR(", ") : str_from(before));
            markdown_code(&book->md, book_name(book, t->entity));
            any = true;
        }
    }
    return any;
}

static bool is_inlet(const Entity *source)
{
    return source->kind == KIND_INLET;
}

static bool is_any(const Entity *source)
{
    return source != NULL;
}

/* Joins neutral and ground for good: that of an inverter lets go when it is off. */
static bool is_joined_generator(const Entity *source)
{
    return source->kind == KIND_GENERATOR && entity_yes(source, PROP_GENERATOR_BONDS_NEUTRAL) == 1;
}

/* An isolator may lie there: nobody says what does, and nothing is known to end the way. */
static bool may_have_isolator(const Entity *inlet)
{
    return is_inlet(inlet) && !entity_states(inlet, PROP_INLET_ISOLATION);
}

static bool is_isolated(const Entity *inlet)
{
    return is_inlet(inlet) && str_is(entity_word(inlet, PROP_INLET_ISOLATION), "transformer");
}

static bool is_polarised(const Entity *inlet)
{
    return is_inlet(inlet) && has_transformer(inlet) && !is_isolated(inlet);
}

/* What lies between the shore and the boat's ground changes how it is measured, and what is right. */
static void say_ground_ways(Book *book, bool shore)
{
    markdown_text(&book->md, STR("Ground conductor: no more than its own copper and two good joints, a fraction of an ohm, "
                                 "from the ground "));
    if (shore) {
        markdown_text(&book->md, STR("pin of the inlet"));
    } else {
        add_sources(book, is_any, "terminal of ");
    }
    markdown_text(&book->md, STR(" to the case of each thing and to the boat's DC ground (common practice, no source)."));
    if (add_sources(book, has_isolator, " A galvanic isolator lies in the way from ")) {
        markdown_text(&book->md, STR(": measure on the boat's side of it, and test it as its maker says."));
    }
    if (add_sources(book, may_have_isolator, " If a galvanic isolator lies in the way from ")) {
        markdown_text(&book->md, STR(", measure on the boat's side of it, and test it as its maker says."));
    }
    if (add_sources(book, is_isolated, " Not so from ")) {
        markdown_text(&book->md, STR(", whose ground ends at the isolation transformer: between that pin and anything aboard there is no "
                                     "connection at all, and any that is found is sought out and taken away, never added to. Measure from "
                                     "the ground terminal of the transformer's boat side instead."));
    }
}

/* Where neutral meets ground aboard for good. */
static void say_neutral(Book *book)
{
    markdown_text(&book->md, STR(" Neutral and ground: no connection aboard while every source is off and unplugged"));
    bool isolated = add_sources(book, is_isolated, ", but behind the transformer of ");
    if (add_sources(book, is_polarised, isolated ? " and of " : ", but behind the transformer of ") || isolated) {
        markdown_text(&book->md, STR(", where they are joined once, at the transformer"));
    }
    if (add_sources(book, is_joined_generator, "; take off the line of ")) {
        markdown_text(&book->md, STR(" for that, which joins them itself"));
    }
    markdown_text(&book->md, STR("."));
}

static bool has_inlet(const Book *book)
{
    const BookThing *t = book->things;
    while (t != NULL && !is_aboard_as(t, KIND_INLET)) {
        t = t->next;
    }
    return t != NULL;
}

void book_mains_tests(Book *book)
{
    bool us = book->outcome->basis == BASIS_US;
    bool cables = false, devices = false;
    markdown_heading(&book->md, 3, STR("Mains: tests before first use"), NULL);
    book_say(book,
             "For the licensed person who signs for the work; local rules come first, and where they ask for other tests or "
             "limits those count. Write in what is measured, and the date. A cell that stays empty is a test that was not done.");
    markdown_paragraph(&book->md);
    bool shore = has_inlet(book);
    say_ground_ways(book, shore);
    markdown_format(&book->md, " Insulation: at least 1 Mohm at 500 V direct current (IEC 60364-6, second hand%s).",
                    us ? "; on us a benchmark" : "");
    say_neutral(book);
    book_each_wire(book, true, cable_row, &cables);
    book_say(book,
             "Leakage: at its rating within %s; at half of it never (second hand).",
             us ? "100 ms for the whole boat (ABYC E-11 11.11.1), an outlet of 5 mA by its own tester"
                : "300 ms (IEC 61008)");
    book_each_wire(book, true, leakage_row, &devices);
    source_rows(book);
    markdown_paragraph(&book->md);
    markdown_text(&book->md, STR("Last, an hour at the most that she will ask of "));
    if (shore) {
        markdown_text(&book->md, STR("the shore: then feel plug, inlet and terminals, switched off again, "
                                     "for any that is hot."));
    } else {
        add_sources(book, is_any, "");
        markdown_text(&book->md, STR(": then feel all terminals, switched off again, for any that is hot."));
    }
}
