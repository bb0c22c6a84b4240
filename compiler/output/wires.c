/* What cables are called, which colours their conductors have, and which of them are listed. See wires.h. */
#include "output/wires.h"

#include "output/feeding.h"

typedef struct Colours {
    Basis basis;
    bool alternating;
    KindId kind;
    const char *feeding, *returning;
    const char *source;
} Colours;

static const Colours COLOURS[] = {
#define WIRE_COLOUR(BASIS, ALTERNATING, KIND, FEEDING, RETURNING, SOURCE) \
    {BASIS, ALTERNATING, KIND, FEEDING, RETURNING, SOURCE},
#include "tables/wire-colours.def"
#undef WIRE_COLOUR
};

/* Of 240 V in the US both are live: white is for the grounded neutral alone, and who trusts it as one is hurt. */
static const Colours TWO_LEGS = {.basis = BASIS_US, .alternating = true, .kind = KIND_NONE, .feeding = "black", .returning = "red",
                                 .source = "ABYC E-11, an older text: ungrounded conductors black and red; both are live"};

/* What a cable is there for: of a circuit, what hangs on it, if that is all of one kind. */
static KindId kind_fed(const Feed *feed)
{
    KindId kind = (KindId)feed->taker->kind;
    if (kind != KIND_CIRCUIT) {
        return kind;
    }
    KindId hangs = KIND_NONE;
    for (const Feed *on = feed->taker->gives; on != NULL; on = on->next_of_giver) {
        if (hangs != KIND_NONE && hangs != (KindId)on->taker->kind) {
            return KIND_CIRCUIT;
        }
        hangs = (KindId)on->taker->kind;
    }
    return hangs;
}

static const Colours *find_colours(const Feed *feed, Basis basis)
{
    bool alternating = feeding_is_alternating(feed);
    KindId kind = kind_fed(feed);
    if (feeding_has_two_legs(feed, basis)) {
        return &TWO_LEGS;
    }
    for (size_t i = 0; i < sizeof COLOURS / sizeof COLOURS[0]; i++) {
        const Colours *row = &COLOURS[i];
        if (row->basis == basis && row->alternating == alternating &&
            (row->kind == kind || row->kind == KIND_NONE)) {
            return row;
        }
    }
    return NULL;
}

/* A switch, or a bus of one pole, has nothing that the returning conductor could end on. */
static bool has_one_pole(const Entity *thing)
{
    return thing != NULL && (thing->kind == KIND_SWITCH || thing->kind == KIND_BUS);
}

bool wires_return_elsewhere(const Feed *feed)
{
    return !feeding_is_alternating(feed) && (has_one_pole(feed->giver) || has_one_pole(feed->taker));
}

static bool states_ground(const Feed *feed)
{
    const Value *value = property_value(feed_property(feed, PROP_FEED_GROUND), 0);
    return value->kind == VALUE_QUANTITY && !(value->flags & VALUE_BROKEN);
}

const char *wires_colour(Arena *arena, const Feed *feed, Basis basis, const char **source)
{
    const Colours *row = find_colours(feed, basis);
    *source = row != NULL ? row->source : "";
    return row != NULL ? text_format(arena, "%s; %s %s%s", row->feeding, row == &TWO_LEGS ? "the other line" : "returning", row->returning,
                                     wires_return_elsewhere(feed) ? ", to the negative bus" : "")
                       : "";
}

Str wires_colours(Arena *arena, const Feed *feed, Basis basis)
{
    const Colours *row = find_colours(feed, basis);
    bool mains = feeding_is_alternating(feed);
    const char *ground = !mains                ? ""
                         : !states_ground(feed) ? "; no ground stated"
                         : basis == BASIS_US    ? " / green"
                                                : " / green-yellow";
    const char *returning = wires_return_elsewhere(feed) ? " to the negative bus" : "";
    return row != NULL ? str_from(text_format(arena, "%s / %s%s%s", row->feeding, row->returning, returning, ground)) : STR("");
}

/* An inlet's own cable leads from it to the first breaker, which is no thing of the spec. */
static bool is_from_shore(const Feed *feed)
{
    return feed->giver == NULL && feed->taker->kind == KIND_INLET;
}

bool wires_is_listed(const Feed *feed)
{
    bool inlet = is_from_shore(feed) && !feed->shares && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_BROKEN));
    return inlet || feeding_is_listed(feed);
}

bool wires_is_told(const Feed *feed)
{
    return wires_is_listed(feed) || switch_cable_is_unstated(feed);
}

/* The name of a giver that is a mistake is not known; the mistake is told elsewhere. */
Str wires_name_from(const Model *model, const Feed *feed)
{
    if (!is_from_shore(feed) && feed->giver == NULL) {
        return STR("?");
    }
    return entity_name(model, is_from_shore(feed) ? feed->taker : feed->giver);
}

Str wires_name_to(const Model *model, const Feed *feed)
{
    return is_from_shore(feed) ? STR("breaker") : entity_name(model, feed->taker);
}

void wires_label(Buf *to, const Model *model, const Feed *feed)
{
    buf_add(to, wires_name_from(model, feed));
    buf_text(to, " to ");
    buf_add(to, wires_name_to(model, feed));
}
