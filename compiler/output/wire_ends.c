/* What the ends of a cable are made up with: rings by the studs that they go on, and ferrules. See wires.h. */
#include "output/wires.h"

#include "figures/power.h"
#include "output/feeding.h"

#include <math.h>

typedef struct Stud {
    double up_to_a, up_to_mm2;
    const char *metric, *inch;
} Stud;

static const Stud STUDS[] = {
#define STUD(UP_TO_A, UP_TO_MM2, METRIC, INCH) {UP_TO_A, UP_TO_MM2, METRIC, INCH},
#include "tables/studs.def"
#undef STUD
};

static double at_most(const Figures *figures, const Feed *feed, FigureId id)
{
    const Figure *figure = feeding_figure(figures, feed, id);
    return figure_is_known(figure) ? figure->high : 0.0;
}

/* The row of studs.def that the least of great studs has: those of batteries, their switches and fuses, and starters. */
enum { GREAT_STUD = 3 };

/* The hole of a ring on a great stud; NULL where the current is not known. */
static const char *usual_hole(const Figures *figures, const Feed *feed)
{
    bool upstream = feeding_guarding(figures, feed) == GUARDED_UPSTREAM;
    const Figure *guard = feeding_figure(figures, upstream ? feed->guard : feed, FIGURE_PROTECTION);
    if (!figure_is_known(guard)) {
        guard = feeding_figure(figures, feed, FIGURE_CURRENT);
    }
    if (!figure_is_known(guard) || !isfinite(guard->high)) {
        return NULL;
    }
    double amps = fmax(guard->high, at_most(figures, feed, FIGURE_CRANKING));
    double mm2 = at_most(figures, feed, FIGURE_WIRE_SIZE) * 1e6;
    const Stud *row = &STUDS[GREAT_STUD];
    while (amps > row->up_to_a * (1.0 + 1e-9) || mm2 > row->up_to_mm2 * (1.0 + 1e-9)) {
        row++;
    }
    return figures->basis == BASIS_US ? row->inch : row->metric;
}

/* Both poles of a bank or a starter are studs; a switch has one pole, and other things have screws of any size. */
static bool has_great_studs(const Entity *thing)
{
    return thing != NULL && (thing->kind == KIND_BANK || thing->kind == KIND_ENGINE || thing->kind == KIND_SWITCH);
}

static unsigned ends_on_things(const Feed *feed)
{
    const Entity *const things[] = {feed->giver, feed->taker};
    unsigned ends = 0;
    for (int i = 0; i < 2; i++) {
        bool returns_there = !wires_return_elsewhere(feed); /* else its end is on a negative bus, or on the pole: nobody says */
        ends += !has_great_studs(things[i]) ? 0u : returns_there ? 2u : 1u;
    }
    return ends;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* What the owner wrote, with one blank before each unit and word: the same hole is the same piece to buy. */
static Str with_blanks(Arena *arena, Str written)
{
    Buf text;
    buf_init(&text, arena);
    for (size_t i = 0; i < written.length; i++) {
        if (is_blank(written.text[i])) {
            buf_text(&text, is_blank(written.text[i - (i > 0)]) && i > 0 ? "" : " ");
            continue;
        }
        bool unit = i > 0 && char_is_digit(written.text[i - 1]) && char_is_letter(written.text[i]);
        buf_text(&text, unit ? " " : "");
        buf_char(&text, written.text[i]);
    }
    return buf_str(&text);
}

/* Holes as the owner writes them: a bolt of 5/16 in is no bolt of 0.3125 in. */
static const char *stated_rings(Arena *arena, const Figures *figures, const Property *studs, const char *size)
{
    bool two = property_value(studs, 1)->kind == VALUE_QUANTITY;
    return text_format(arena, "rings %s, %s %.*s", size, two ? "holes" : "hole",
                       STR_ARG(with_blanks(arena, value_written(figures->model, studs))));
}

Str wires_ground(Arena *arena, const Model *model, const Feed *feed)
{
    const Value *value = property_value(feed_property(feed, PROP_FEED_GROUND), 0);
    Buf text;
    buf_init(&text, arena);
    if (value->kind == VALUE_QUANTITY && !(value->flags & (VALUE_BROKEN | VALUE_HOLE))) {
        quantity_write(&text, model, value);
    }
    return buf_str(&text);
}

/* On a panel a device without a distance is one of its ways; with mains, one in a box with terminals of its own. */
bool wires_device_stands_alone(const Feed *feed, const Property *protect)
{
    const Value *distance = property_value(protect, 3);
    bool away = distance->kind == VALUE_QUANTITY && distance->u.quantity.high > 0.0;
    bool on_panel = !feed->maker && feed->giver != NULL && feed->giver->kind == KIND_PANEL;
    return protect != NULL && !(protect->flags & PROPERTY_BROKEN) && !feeding_is_alternating(feed) && (away || !on_panel);
}

/* One that sits on the stud of a battery or bus cuts no cable. */
static bool cuts_cable(const Feed *feed, const Property *protect)
{
    const Value *class = property_value(protect, 2);
    return wires_device_stands_alone(feed, protect) && !(class->kind == VALUE_WORD && str_is(class->u.word, "terminal"));
}

/* Ends on the studs of a device that stands by itself; one on a post that is no great stud has one of its own. */
static unsigned ends_on_device(const Feed *feed, const Property *protect, const Entity *at)
{
    const Value *class = property_value(protect, 2);
    bool great = class->kind == VALUE_WORD && (str_is(class->u.word, "terminal") || str_is(class->u.word, "class-t") ||
                                               str_is(class->u.word, "bolt-on"));
    if (!great || !wires_device_stands_alone(feed, protect)) {
        return 0;
    }
    return cuts_cable(feed, protect) ? 2u : has_great_studs(at) ? 0u : 1u;
}

/* Rings: those whose holes are stated, or usual, or for the rest to be measured. */
static unsigned ring_sorts(Arena *arena, const Figures *figures, const Feed *feed, WireEnds all, const char *size, unsigned parallel,
                           WireEnds ends[WIRE_ENDS_MOST])
{
    const Property *studs = feed_property(feed, PROP_FEED_STUDS);
    unsigned count = 0;
    ends[0] = all;
    if (studs != NULL && !(studs->flags & PROPERTY_BROKEN)) {
        ends[0].what = stated_rings(arena, figures, studs, size);
        return 1;
    }
    bool at_maker = feed_prop(feed, PROP_FEED_PROTECT) == PROP_FEEDS_PROTECT_OUTPUT;
    const char *hole = usual_hole(figures, feed);
    unsigned great = ends_on_things(feed) +
                     ends_on_device(feed, feed_property(feed, PROP_FEED_PROTECT), feed->maker && !at_maker ? feed->taker : feed->giver) +
                     ends_on_device(feed, feed_other_device(feed), feed->giver);
    great = hole == NULL ? 0u : great * parallel > all.count ? all.count : great * parallel;
    if (great > 0) {
        all.what = text_format(arena, "rings %s, hole %s (usual)", size, hole);
        ends[count] = all;
        ends[count++].count = great;
    }
    if (all.count > great) {
        ends[count] = all;
        ends[count].measure = true;
        ends[count].what = text_format(arena, "rings %s, hole to measure", size);
        ends[count++].count = all.count - great;
    }
    return count;
}

unsigned wires_end_sorts(Arena *arena, const Figures *figures, const Feed *feed, WireEnds ends[WIRE_ENDS_MOST])
{
    const Figure *size = feeding_figure(figures, feed, FIGURE_WIRE_SIZE);
    Interval parallel = feeding_parallel(feed);
    if (!figure_is_known(size) || size->low != size->high || parallel.low != parallel.high || parallel.high > 100.0) {
        return 0;
    }
    const char *word = figure_text(figures, size);
    unsigned cuts = cuts_cable(feed, feed_property(feed, PROP_FEED_PROTECT));
    cuts += cuts_cable(feed, feed_other_device(feed));
    ends[0] = (WireEnds){.count = (4u + 2u * cuts) * (unsigned)parallel.high, .area_m2 = size->low};
    if (!feeding_is_alternating(feed) || feed_property(feed, PROP_FEED_STUDS) != NULL) {
        return ring_sorts(arena, figures, feed, ends[0], word, (unsigned)parallel.high, ends);
    }
    ends[0].what = text_format(arena, "ferrules %s", word);
    Str ground = wires_ground(arena, figures->model, feed);
    if (ground.length == 0 || str_equal(ground, str_from(word))) {
        ends[0].count += ground.length > 0 ? 2u : 0u;
        return 1;
    }
    Interval area = point(size->low);
    feeding_value(feed, PROP_FEED_GROUND, 0, &area);
    ends[1] = (WireEnds){2, text_format(arena, "ferrules %.*s", STR_ARG(ground)), area.low, false};
    return 2;
}

Str wires_ends(Arena *arena, const Figures *figures, const Feed *feed)
{
    WireEnds ends[WIRE_ENDS_MOST];
    unsigned count = wires_end_sorts(arena, figures, feed, ends);
    Buf text;
    buf_init(&text, arena);
    for (unsigned i = 0; i < count; i++) {
        bool one_ring = ends[i].count == 1 && strncmp(ends[i].what, "rings ", 6) == 0;
        buf_format(&text, "%s%u %s%s", i > 0 ? ", " : "", ends[i].count, one_ring ? "ring" : "", ends[i].what + (one_ring ? 5 : 0));
    }
    return buf_str(&text);
}
