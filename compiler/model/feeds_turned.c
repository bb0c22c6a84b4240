/*
 * A converter that `feeds` what nothing else feeds means what that thing says by `fed-by`: two forms of one cable. Before
 * feeds are joined the one becomes the other, so that nothing behind this knows of two. Where a bank stands behind, or
 * another source beside it, a converter charges, and that stays as it is stated.
 */
#include "model/checker.h"

/* How many makers say that they feed a thing, by Entity.index: those aboard, and all. */
typedef struct Makers {
    uint16_t *aboard, *all;
    bool *joined; /* see find_joined */
} Makers;

/* How a `feeds` block and what is `fed-by` state the same. */
static const PropId pairs[][2] = {
    {PROP_FEEDS_RUN, PROP_FEED_RUN},         {PROP_FEEDS_WIRE, PROP_FEED_WIRE},
    {PROP_FEEDS_PROTECT, PROP_FEED_PROTECT}, {PROP_FEEDS_THROUGH, PROP_FEED_THROUGH},
    {PROP_FEEDS_BUNDLE, PROP_FEED_BUNDLE},   {PROP_FEEDS_DROP, PROP_FEED_DROP},
    {PROP_FEEDS_POLES, PROP_FEED_POLES},     {PROP_FEEDS_GROUND_FAULT, PROP_FEED_GROUND_FAULT},
    {PROP_FEEDS_GROUND, PROP_FEED_GROUND},   {PROP_FEEDS_SHEATH, PROP_FEED_SHEATH},
    {PROP_FEEDS_STUDS, PROP_FEED_STUDS},
};
enum { PAIRS = sizeof pairs / sizeof pairs[0] };

/* The device at the converter guards the cable, where it is alone. */
static PropId meant_by(const Block *stated, PropId prop)
{
    size_t at = 0;
    while (at < PAIRS && pairs[at][0] != prop) {
        at++;
    }
    bool guards = prop == PROP_FEEDS_PROTECT_OUTPUT && block_property(stated, PROP_FEEDS_PROTECT) == NULL;
    return guards ? PROP_FEED_PROTECT : at < PAIRS ? pairs[at][1] : prop;
}

PropId feeds_prop_of(const Entity *taker, PropId prop)
{
    size_t at = 0;
    while (at < PAIRS && pairs[at][1] != prop) {
        at++;
    }
    return at < PAIRS && taker->stated_by != NULL ? pairs[at][0] : PROP_NONE;
}

static Entity *fed_by_line(const Property *line)
{
    const Value *last = line->count > 0 ? &line->values[line->count - 1] : property_value(NULL, 0);
    bool whole = line->id == PROP_MAKER_FEEDS && last->kind == VALUE_BLOCK && !(line->flags & PROPERTY_BROKEN);
    return whole ? value_entity(property_value(line, 0)) : NULL;
}

static Makers count_makers(Checker *checker)
{
    const Model *model = checker->model;
    Makers makers = {.aboard = ARENA_ARRAY(checker->arena, uint16_t, model->entity_count),
                     .all = ARENA_ARRAY(checker->arena, uint16_t, model->entity_count)};
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *maker = model->entities[i];
        for (const Property *line = entity_property(maker, PROP_MAKER_FEEDS); line != NULL; line = block_next(&maker->block, line)) {
            const Entity *taker = value_entity(property_value(line, 0));
            if (taker != NULL) {
                makers.all[taker->index]++;
                makers.aboard[taker->index] = (uint16_t)(makers.aboard[taker->index] + !(maker->flags & ENTITY_DROPPED));
            }
        }
    }
    return makers;
}

static bool stands_apart(const Entity *thing)
{
    return thing->kind == KIND_BANK || thing->kind == KIND_CONVERTER || thing->kind == KIND_CHARGER || thing->kind == KIND_INVERTER;
}

/*
 * What another source may reach from behind, by Entity.index: all above a thing that has two feeds, a transfer switch apart. A
 * converter that feeds such a thing is not all that a short circuit there draws on.
 */
static bool *find_joined(Checker *checker, const Makers *makers)
{
    const Model *model = checker->model;
    bool *joined = ARENA_ARRAY(checker->arena, bool, model->entity_count);
    const Entity **stack = ARENA_ARRAY(checker->arena, const Entity *, (size_t)model->entity_count + 1);
    uint32_t count = 0;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Property *fed_by = entity_property(model->entities[i], PROP_FEED_FED_BY);
        bool apart = str_is(entity_word(model->entities[i], PROP_SWITCH_WORKS_AS), "transfer");
        joined[i] = !apart && (fed_by != NULL ? fed_by->count : 0u) + makers->aboard[i] > 1;
        if (joined[i]) {
            stack[count++] = model->entities[i];
        }
    }
    while (count > 0) {
        const Property *fed_by = entity_property(stack[--count], PROP_FEED_FED_BY);
        for (uint16_t i = 0; fed_by != NULL && i < fed_by->count; i++) {
            const Entity *giver = value_entity(&fed_by->values[i]);
            if (giver != NULL && !joined[giver->index] && !stands_apart(giver)) {
                joined[giver->index] = true;
                stack[count++] = giver;
            }
        }
    }
    return joined;
}

/* What a line of a converter alone feeds; NULL: it charges, or something else feeds that too. */
static Entity *fed_alone(const Makers *makers, const Entity *converter, const Property *line)
{
    Entity *taker = fed_by_line(line);
    if (taker == NULL || taker->kind == KIND_BANK || taker == converter || !entity_has_group(taker, GROUPS_FEED) ||
        taker->flags & ENTITY_FEED_LOST || entity_states(taker, PROP_FEED_FED_BY)) {
        return NULL;
    }
    uint16_t others = converter->flags & ENTITY_DROPPED ? makers->all[taker->index] : makers->aboard[taker->index];
    return others == 1 && !makers->joined[taker->index] ? taker : NULL;
}

static void put(Block *block, Property *to, Property property)
{
    *to = property;
    block->has |= block_bit((PropId)property.id);
    block->count++;
}

/* A word that both state would be read of the one alone. */
static void tell_twice(Checker *checker, const Entity *converter, const Entity *taker, const Property *of_block, const Property *own)
{
    Model *model = checker->model;
    const char *word = props[own->id].word;
    Message *m = message_report(model->messages, MESSAGE_SHAPE_OTHER, property_span(model, own),
                                "`%.*s` states the `%s` of its cable, and so does what `%.*s` says by `feeds`: it is one cable",
                                STR_ARG(entity_name(model, taker)), word, STR_ARG(entity_name(model, converter)));
    message_note(model->messages, m, property_span(model, of_block), "here too");
    message_right(model->messages, m, "one of both lines");
}

/* What a `feeds` states of its cable, as the thing that it leads to would; what it cannot say is that one's own. */
static void hand_over(Checker *checker, const Entity *converter, Entity *taker, const Property *line)
{
    const Block *stated = line->values[line->count - 1].u.block;
    Block block = {.has = taker->block.has};
    Property *properties = ARENA_ARRAY(checker->arena, Property, (size_t)taker->block.count + stated->count + 1);
    Value *giver = ARENA_NEW(checker->arena, Value);
    *giver = line->values[0];
    giver->u.entity = checker->model->by_symbol[converter->name];
    for (uint32_t i = 0; i < taker->block.count; i++) {
        put(&block, &properties[block.count], taker->block.properties[i]);
    }
    put(&block, &properties[block.count],
        (Property){.values = giver, .node = line->node, .id = PROP_FEED_FED_BY, .count = 1,
                   .flags = (uint8_t)(line->flags | PROPERTY_NAMES)});
    for (uint32_t i = 0; i < stated->count; i++) {
        Property property = stated->properties[i];
        PropId meant = meant_by(stated, (PropId)property.id);
        const Property *own = block_property(&taker->block, meant);
        if (own != NULL) {
            tell_twice(checker, converter, taker, &property, own);
            continue;
        }
        property.id = (uint16_t)meant;
        put(&block, &properties[block.count], property);
    }
    block.properties = properties;
    taker->block = block;
    taker->stated_by = converter;
}

/* The block without the lines that were handed over. */
static void take_out(Checker *checker, Entity *converter, const bool *out)
{
    Block block = {0};
    Property *properties = ARENA_ARRAY(checker->arena, Property, converter->block.count);
    for (uint32_t i = 0; i < converter->block.count; i++) {
        if (!out[i]) {
            put(&block, &properties[block.count], converter->block.properties[i]);
        }
    }
    block.properties = properties;
    converter->block = block;
}

void feeds_turn(Checker *checker)
{
    const Entity *first = checker->model->first_of_kind[KIND_CONVERTER];
    Makers makers = {0};
    if (first != NULL) {
        makers = count_makers(checker);
        makers.joined = find_joined(checker, &makers);
    }
    for (const Entity *e = first; e != NULL; e = e->next_of_kind) {
        Entity *converter = checker->model->entities[e->index];
        bool *out = ARENA_ARRAY(checker->arena, bool, (size_t)converter->block.count + 1);
        bool any = false;
        for (uint32_t i = 0; i < converter->block.count; i++) {
            const Property *line = &converter->block.properties[i];
            Entity *taker = fed_alone(&makers, converter, line);
            if (taker != NULL) {
                hand_over(checker, converter, taker, line);
                out[i] = any = true;
            }
        }
        if (any) {
            take_out(checker, converter, out);
        }
    }
}
