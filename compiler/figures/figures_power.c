/*
 * The power system: voltages, currents, cables, banks. Each part is a file of its own; see power.h.
 *
 * Power flows from givers to takers. Voltages are handed on from the sources, currents are gathered from the loads, and
 * cables are then sized and judged from the sources on again. Cables and the days of banks are steps of their own, which
 * begin with what has been found of each thing up to there: neither asks for what the other finds.
 */
#include "figures/power_days.h"

#include "figures/water.h"

#include "model/agree.h"

bool feed_is_alternating(const Feed *feed)
{
    return (feed->taker->flags & ENTITY_AC) || feed->giver == NULL ||
           (feed->maker && (feed->giver->kind == KIND_INVERTER || feed->giver->kind == KIND_GENERATOR));
}

/* What gives power, takes it, or is the room that something of it lies in. */
static bool has_node(const Entity *entity)
{
    return entity->fed != NULL || entity->gives != NULL || entity->kind == KIND_BANK || entity->kind == KIND_SPACE ||
           kinds[entity->kind].groups & (GROUPS_FEED | GROUPS_MAKER | GROUPS_LOAD);
}

/* A node for each thing that may take or give power; what has nothing to do with it shares one that stays empty. */
static void make_nodes(Power *power)
{
    Arena *arena = power->work->scratch;
    const Model *model = power->model;
    uint32_t count = 1;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        count += has_node(model->entities[i]);
    }
    PowerNode *nodes = ARENA_ARRAY(arena, PowerNode, count);
    PowerNode *next = nodes + 1;
    power->nodes = ARENA_ARRAY(arena, PowerNode *, model->entity_count + 1);
    for (uint32_t i = 0; i < model->entity_count; i++) {
        power->nodes[i] = has_node(model->entities[i]) ? next++ : nodes;
    }
}

/* Whether the `fed-by` of a thing is a mistake: nobody knows what it hangs on. */
static bool is_stray(const Feed *feed)
{
    return feed->giver == NULL && !feed->maker && feed->taker->kind != KIND_INLET && !(feed->taker->flags & ENTITY_DROPPED);
}

/* A `feeds` with a mistake: what it brings, it may bring to any bank. */
static bool some_maker_strays(const Model *model, KindId kind)
{
    for (const Entity *maker = first_aboard(model, kind); maker != NULL; maker = next_aboard(maker)) {
        for (const Property *feeds = entity_property(maker, PROP_MAKER_FEEDS); feeds != NULL;
             feeds = block_next(&maker->block, feeds)) {
            const Value *target = property_value(feeds, 0);
            if (value_entity(target) == NULL) {
                return true;
            }
        }
    }
    return false;
}

static void find_strays(Power *power)
{
    const Model *model = power->model;
    for (int kind = 0; kind < KIND_COUNT && !power->maker_strays; kind++) {
        power->maker_strays = kinds[kind].groups & GROUPS_MAKER && some_maker_strays(model, (KindId)kind);
    }
    power->strays = ARENA_ARRAY(power->work->scratch, const Feed *, (size_t)model->feed_count + 1);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (is_stray(model->feeds[i])) {
            power->strays[power->stray_count++] = model->feeds[i];
        }
    }
}

/* Its ends one by one: at the far one stands its taker, and what uses the taker's cable without one of its own. */
static const Entity *cable_end(const Feed *feed, unsigned number)
{
    const Entity *ends[] = {feed->giver != NULL ? feed->giver : feed->taker, feed->taker};
    if (number < 2) {
        return ends[number];
    }
    const Feed *on = feed->maker ? NULL : feed->taker->gives;
    for (; on != NULL; on = on->next_of_giver) {
        bool shares = !on->maker && on->shares && !(on->taker->flags & ENTITY_DROPPED);
        if (shares && number-- == 2) {
            return on->taker;
        }
    }
    return NULL;
}

const Entity *feed_next_space(const Feed *feed, uint16_t *at)
{
    const Property *through = feed_property(feed, PROP_FEED_THROUGH);
    uint16_t stated = through != NULL ? through->count : 0;
    while (*at < stated) {
        const Value *value = &through->values[(*at)++];
        if (value_entity(value) != NULL) {
            return value_entity(value);
        }
    }
    for (const Entity *end = cable_end(feed, *at - stated); end != NULL; end = cable_end(feed, *at - stated)) {
        (*at)++;
        const Entity *space = entity_reference(end, PROP_COMMON_SPACE);
        if (space != NULL) {
            return space;
        }
    }
    return NULL;
}

static const Value *value_stated(const Entity *entity, PropId prop)
{
    return property_value(entity != NULL ? entity_property(entity, prop) : NULL, 0);
}

Interval air_aboard(const Model *model, const Entity *of, PropId own)
{
    const Value *air = value_stated(of, own);
    if (air->kind != VALUE_QUANTITY) {
        air = value_stated(model->boat, PROP_BOAT_AIR_TEMPERATURE);
    }
    if (air->kind != VALUE_QUANTITY) {
        air = property_value(model_default(model, PROP_BOAT_AIR_TEMPERATURE), 0);
    }
    return interval(air->u.quantity.low, air->u.quantity.high);
}

Interval use_air_aboard(Work *work, const Entity *of, PropId own)
{
    if (of != NULL && entity_states(of, own)) {
        use_value(work, of, own, 0);
    } else if (work->model->boat != NULL && entity_states(work->model->boat, PROP_BOAT_AIR_TEMPERATURE)) {
        use_value(work, work->model->boat, PROP_BOAT_AIR_TEMPERATURE, 0);
    }
    return air_aboard(work->model, of, own);
}

Quantity use_feed_value(Work *work, const Feed *feed, PropId prop, unsigned slot)
{
    return use_block_value(work, feed->subject, feed->block, feed_prop(feed, prop), slot);
}

Quantity use_pieces(Work *work, const Entity *entity)
{
    Interval laid_out;
    if (entity_states(entity, PROP_COMMON_COUNT) || entity->kind != KIND_SOLAR || !layout_count(entity, &laid_out)) {
        return use_count(work, entity);
    }
    use_stated(work, entity, PROP_SOLAR_SERIES, 0);
    use_stated(work, entity, PROP_SOLAR_PARALLEL, 0);
    return (Quantity){laid_out, STATE_KNOWN};
}

void figures_power(Work *work)
{
    Power *power = ARENA_NEW(work->scratch, Power);
    *power = (Power){.work = work, .model = work->model, .basis = work->figures->basis};
    make_nodes(power);
    find_strays(power);
    power_voltages(power);
    power_currents(power);
    power_cranking(power);
    power_find_makers(power);
    power_fill_holes(power);
    power_capacities(power);
    power_outputs(power);
    work->figures->handed_on = power;
}

/* What the first step has found of each thing. Where nothing of that changes it is found once more, for it is not kept. */
static Power found_before(Work *work)
{
    figures_need(work->figures, figures_power);
    if (work->figures->handed_on == NULL) {
        figures_power(work);
    }
    Power power = *work->figures->handed_on;
    power.work = work;
    return power;
}

void figures_cables(Work *work)
{
    Power power = found_before(work);
    power_cables(&power);
}

void figures_banks(Work *work)
{
    Power power = found_before(work);
    power_banks(&power);
    if (work->figures->before == NULL) {
        work->figures->handed_on = NULL; /* nobody goes on with it */
    }
}

void figures_engine_hours(Work *work)
{
    figures_need(work->figures, figures_banks);
    const Figures *of = work->figures->power_days != NULL ? work->figures : work->figures->before;
    Power power = {.work = work, .model = work->model, .basis = work->figures->basis};
    power_engine_hours(&power, of->power_days);
}
