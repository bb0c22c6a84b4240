/*
 * Who feeds whom. A feed is stated on the thing that takes power (`fed-by`) or on the one that makes it (`feeds`). Here
 * they are joined, put in an order in which givers come before takers, and things whose feed leads back to themselves
 * are marked. Whether a thing carries alternating current follows from what feeds it; it is never stated.
 */
#include "model/checker.h"

/* `run 0 m` with neither wire nor protection: bolted on, as charger and inverter in one case are to one pair of studs. */
static bool is_bolted_on(const Block *block, PropId run, PropId wire, PropId protect)
{
    const Value *metres = property_value(block_property(block, run), 0);
    return metres->kind == VALUE_QUANTITY && !(metres->flags & (VALUE_BROKEN | VALUE_HOLE)) && metres->u.quantity.low == 0.0 &&
           metres->u.quantity.high == 0.0 && block_property(block, wire) == NULL && block_property(block, protect) == NULL;
}

/* Of a mistake nobody knows: it may be carried. */
static bool may_be_carried(const Entity *entity)
{
    int carried = entity_yes(entity, PROP_COMMON_PORTABLE);
    return carried == 1 || carried == -2;
}

/* A load that is carried, on a battery that is: plugged into a socket of the pack by its own lead. */
static bool is_plugged_in(const Entity *taker, const Entity *giver)
{
    return giver != NULL && giver->kind == KIND_BANK && entity_has_group(taker, GROUPS_LOAD) && may_be_carried(taker) && may_be_carried(giver);
}

/*
 * A load on a circuit or an outlet uses that one's cable; what hangs on a name with a mistake in it may do so. A switch
 * without a cable is part of the cable that leaves it.
 */
static bool shares_cable(const Entity *taker, const Entity *giver)
{
    if (taker->kind != KIND_INLET && is_bolted_on(&taker->block, PROP_FEED_RUN, PROP_FEED_WIRE, PROP_FEED_PROTECT)) {
        return true;
    }
    if (entity_states(taker, PROP_FEED_RUN) || entity_states(taker, PROP_FEED_WIRE) ||
        entity_states(taker, PROP_FEED_PROTECT)) {
        return false;
    }
    if (taker->kind == KIND_SWITCH || is_plugged_in(taker, giver)) {
        return true;
    }
    bool on_circuit = giver == NULL || giver->kind == KIND_CIRCUIT || giver->kind == KIND_OUTLET;
    return on_circuit && taker->kind != KIND_CIRCUIT && taker->kind != KIND_PANEL && taker->kind != KIND_BUS;
}

bool switch_cable_is_unstated(const Feed *feed)
{
    const Entity *taker = feed->taker;
    const Entity *giver = feed->giver;
    bool of_source = !feed->maker && feed->shares && giver != NULL &&
                     (giver->kind == KIND_BANK || giver->kind == KIND_GENERATOR || giver->kind == KIND_INVERTER);
    return of_source && taker->kind == KIND_SWITCH && !entity_states(taker, PROP_FEED_RUN) &&
           !((taker->flags | giver->flags) & (ENTITY_DROPPED | ENTITY_BROKEN | ENTITY_LOOP));
}

static void add_feed(Checker *checker, Feed feed)
{
    Model *model = checker->model;
    Feed *added = ARENA_NEW(checker->arena, Feed);
    *added = feed;
    Feed **end = &feed.subject->fed;
    if (!feed.maker) {
        while (*end != NULL) {
            end = &(*end)->next;
        }
        *end = added;
    }
    model->feeds[model->feed_count++] = added;
}

static void add_fed_by(Checker *checker, Entity *taker)
{
    const Property *fed_by = entity_property(taker, PROP_FEED_FED_BY);
    if (fed_by == NULL) {
        if (taker->kind == KIND_INLET && !shares_cable(taker, NULL)) {
            /* The way from the inlet to its first breaker: the shore is its giver. */
            add_feed(checker, (Feed){.taker = taker, .subject = taker, .block = &taker->block});
        }
        return;
    }
    bool broken = fed_by->flags & PROPERTY_BROKEN;
    for (uint16_t i = 0; i < fed_by->count && !broken; i++) {
        Entity *giver = fed_by->values[i].u.entity;
        add_feed(checker, (Feed){.giver = giver,
                                 .taker = taker,
                                 .subject = taker,
                                 .block = &taker->block,
                                 .shares = shares_cable(taker, giver)});
    }
    if (broken || fed_by->count == 0) {
        add_feed(checker, (Feed){.taker = taker, .subject = taker, .block = &taker->block,
                                 .shares = shares_cable(taker, NULL)});
    }
}

static void add_made(Checker *checker, Entity *maker)
{
    for (const Property *feeds = entity_property(maker, PROP_MAKER_FEEDS); feeds != NULL;
         feeds = block_next(&maker->block, feeds)) {
        const Value *target = property_value(feeds, 0);
        const Value *block = feeds->count > 0 ? &feeds->values[feeds->count - 1] : property_value(NULL, 0);
        if (value_entity(target) == NULL || block->kind != VALUE_BLOCK) {
            continue;
        }
        add_feed(checker, (Feed){.giver = maker,
                                 .taker = target->u.entity,
                                 .subject = maker,
                                 .block = block->u.block,
                                 .maker = true,
                                 .shares = is_bolted_on(block->u.block, PROP_FEEDS_RUN, PROP_FEEDS_WIRE, PROP_FEEDS_PROTECT) &&
                                           block_property(block->u.block, PROP_FEEDS_PROTECT_OUTPUT) == NULL});
    }
}

static uint32_t count_feeds(const Model *model)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        const Entity *entity = model->entities[i];
        const Property *fed_by = entity_property(entity, PROP_FEED_FED_BY);
        count += fed_by != NULL ? (fed_by->count > 0 ? fed_by->count : 1) : entity->kind == KIND_INLET;
        for (const Property *p = entity_property(entity, PROP_MAKER_FEEDS); p != NULL;
             p = block_next(&entity->block, p)) {
            count++;
        }
    }
    return count;
}

static void link_maker(Feed *feed)
{
    Feed **end = &feed->taker->made;
    while (*end != NULL) {
        end = &(*end)->next_of_taker; /* a few feed the same thing */
    }
    *end = feed;
}

/* Hangs every feed on its giver, and those of makers on what they feed, in the order of the spec. */
static void link_givers(Checker *checker)
{
    Model *model = checker->model;
    Feed **last = ARENA_ARRAY(checker->arena, Feed *, model->entity_count);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        Feed *feed = model->feeds[i];
        if (feed->giver == NULL) {
            continue;
        }
        if (feed->maker) {
            link_maker(feed);
        }
        Feed **end = &last[feed->giver->index];
        if (*end == NULL) {
            feed->giver->gives = feed;
        } else {
            (*end)->next_of_giver = feed;
        }
        *end = feed;
    }
}

/* A bank does so even where nothing is fed by it yet: what charges it is joined to it, and a short circuit draws from it. */
static bool feeds_or_is_fed(const Entity *entity)
{
    return entity->fed != NULL || entity->gives != NULL || entity->kind == KIND_BANK || entity_has_group(entity, GROUPS_FEED);
}

/* Givers before takers; what cannot be put in such an order runs in a loop, or hangs on one. */
static void put_in_order(Checker *checker)
{
    Model *model = checker->model;
    uint32_t *waits = ARENA_ARRAY(checker->arena, uint32_t, model->entity_count);
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        waits[feed->taker->index] += !feed->maker && feed->giver != NULL;
    }
    model->feed_order = ARENA_ARRAY(checker->arena, Entity *, model->entity_count);
    uint32_t count = 0;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        Entity *entity = model->entities[i];
        if (waits[i] == 0 && feeds_or_is_fed(entity)) {
            model->feed_order[count++] = entity;
        }
    }
    for (uint32_t next = 0; next < count; next++) {
        for (Feed *feed = model->feed_order[next]->gives; feed != NULL; feed = feed->next_of_giver) {
            if (!feed->maker && --waits[feed->taker->index] == 0) {
                model->feed_order[count++] = feed->taker;
            }
        }
    }
    model->feed_order_count = count;
    for (uint32_t i = 0; i < model->entity_count; i++) {
        if (waits[i] > 0) {
            model->entities[i]->flags |= ENTITY_LOOP;
        }
    }
}

bool makes_alternating(const Entity *giver)
{
    return giver->kind == KIND_INLET || giver->kind == KIND_GENERATOR || giver->kind == KIND_INVERTER;
}

bool makes_direct(const Entity *giver)
{
    return giver->kind == KIND_CHARGER || giver->kind == KIND_CONVERTER || giver->kind == KIND_ALTERNATOR ||
           giver->kind == KIND_SOLAR || giver->kind == KIND_BANK;
}

static PropId guarding_prop(const Feed *feed)
{
    bool at_maker = feed->one_ended && block_property(feed->block, PROP_FEEDS_PROTECT) == NULL &&
                    block_property(feed->block, PROP_FEEDS_PROTECT_OUTPUT) != NULL;
    return at_maker ? PROP_FEEDS_PROTECT_OUTPUT : PROP_FEEDS_PROTECT;
}

PropId feed_prop(const Feed *feed, PropId prop)
{
    if (!feed->maker) {
        return prop;
    }
    switch ((int)prop) {
    case PROP_FEED_RUN: return PROP_FEEDS_RUN;
    case PROP_FEED_WIRE: return PROP_FEEDS_WIRE;
    case PROP_FEED_PROTECT: return guarding_prop(feed);
    case PROP_FEED_THROUGH: return PROP_FEEDS_THROUGH;
    case PROP_FEED_BUNDLE: return PROP_FEEDS_BUNDLE;
    case PROP_FEED_DROP: return PROP_FEEDS_DROP;
    case PROP_FEED_POLES: return PROP_FEEDS_POLES;
    case PROP_FEED_GROUND_FAULT: return PROP_FEEDS_GROUND_FAULT;
    case PROP_FEED_GROUND: return PROP_FEEDS_GROUND;
    case PROP_FEED_SHEATH: return PROP_FEEDS_SHEATH;
    case PROP_FEED_STUDS: return PROP_FEEDS_STUDS;
    default: return PROP_NONE;
    }
}

const Property *feed_property(const Feed *feed, PropId prop)
{
    PropId id = feed_prop(feed, prop);
    return id != PROP_NONE ? block_property(feed->block, id) : NULL;
}

const Property *feed_other_device(const Feed *feed)
{
    bool guards = feed_prop(feed, PROP_FEED_PROTECT) == PROP_FEEDS_PROTECT_OUTPUT;
    return !guards ? block_property(feed->block, PROP_FEEDS_PROTECT_OUTPUT) : NULL; /* of a converter that is all that feeds it too */
}

/* The feeds of a thing, those of makers behind its own: the next one, or the first behind NULL. */
static const Feed *next_feed(const Entity *taker, const Feed *feed)
{
    const Feed *next = feed == NULL ? taker->fed : feed->maker ? feed->next_of_taker : feed->next;
    bool ended = next == NULL && (feed == NULL || !feed->maker);
    return ended ? taker->made : next;
}

/* Whether a thing is fed by more than one feed, a transfer switch apart, which joins nothing. */
static bool is_joined(const Entity *taker)
{
    unsigned count = 0;
    for (const Feed *feed = next_feed(taker, NULL); feed != NULL; feed = next_feed(taker, feed)) {
        count++;
    }
    return count > 1 && !(taker->kind == KIND_SWITCH && str_is(entity_word(taker, PROP_SWITCH_WORKS_AS), "transfer"));
}

/* From the ends up to the sources: what has another source behind it may be fed from there in a short circuit. */
static void find_one_ended(Checker *checker)
{
    const Model *model = checker->model;
    bool *several = ARENA_ARRAY(checker->arena, bool, model->entity_count);
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        const Entity *taker = model->feed_order[i];
        bool any = taker->kind == KIND_BANK || is_joined(taker);
        for (const Feed *feed = taker->gives; feed != NULL && !any; feed = feed->next_of_giver) {
            any = !feed->maker && several[feed->taker->index];
        }
        several[taker->index] = any;
    }
    for (uint32_t i = 0; i < model->feed_count; i++) {
        Feed *feed = model->feeds[i];
        const Entity *taker = feed->taker;
        bool alone = taker->fed == NULL && !several[taker->index] && !(taker->flags & ENTITY_LOOP);
        feed->one_ended = feed->maker && (taker->flags & ENTITY_AC || alone);
    }
}

static bool is_guarded(const Feed *feed)
{
    return feed_property(feed, PROP_FEED_PROTECT) != NULL;
}

static double lets_pass_a(const Feed *guard)
{
    const Value *rating = property_value(feed_property(guard, PROP_FEED_PROTECT), 0);
    return rating->kind == VALUE_QUANTITY && !(rating->flags & (VALUE_BROKEN | VALUE_HOLE)) ? rating->u.quantity.high : 0.0;
}

/* Of what guards on two ways the one that lets more pass; where one way has no guard, nothing does. */
static const Feed *poorer_guard(const Feed *one, const Feed *other)
{
    return one == NULL || other == NULL ? NULL : lets_pass_a(other) > lets_pass_a(one) ? other : one;
}

/* Of several sources one that is not aboard any more: nothing comes from there. */
static bool is_gone(const Feed *feed)
{
    return feed->giver != NULL && feed->giver->flags & ENTITY_DROPPED;
}

/* What guards what hangs on a thing, whichever of its sources is in use; of direct current what charges it is none of them. */
static const Feed *guard_before(const Entity *giver)
{
    const Feed *made = giver->flags & ENTITY_AC ? giver->made : NULL;
    const Feed *first = giver->fed;
    while (first != NULL && first->next != NULL && is_gone(first)) {
        first = first->next;
    }
    first = first != NULL ? first : made;
    const Feed *guard = first != NULL ? first->guard : NULL;
    for (const Feed *feed = giver->fed; feed != NULL; feed = feed->next) {
        guard = is_gone(feed) ? guard : poorer_guard(guard, feed->guard);
    }
    for (const Feed *feed = made; feed != NULL; feed = feed->next_of_taker) {
        guard = poorer_guard(guard, feed->guard);
    }
    return guard;
}

/* What protects each feed: its own device, or the nearest one on the way up. */
static void find_guards(Model *model)
{
    for (uint32_t i = 0; i < model->feed_count; i++) {
        if (model->feeds[i]->maker && is_guarded(model->feeds[i])) {
            model->feeds[i]->guard = model->feeds[i];
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            const Entity *giver = feed->giver;
            bool converts = giver != NULL && (makes_alternating(giver) || makes_direct(giver)) && giver->kind != KIND_INLET;
            feed->guard = is_guarded(feed) ? feed : giver != NULL && !converts ? guard_before(giver) : NULL;
        }
    }
}

bool gives_alternating(const Entity *giver)
{
    return makes_alternating(giver) || (!makes_direct(giver) && giver->flags & ENTITY_AC);
}

static void mark_alternating(Model *model)
{
    for (uint32_t i = 0; i < model->feed_count; i++) {
        const Feed *feed = model->feeds[i];
        if (feed->maker && makes_alternating(feed->giver)) {
            feed->taker->flags |= ENTITY_AC;
        }
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        Entity *taker = model->feed_order[i];
        if (taker->kind == KIND_INLET) {
            taker->flags |= ENTITY_AC;
        }
        for (const Feed *feed = taker->fed; feed != NULL; feed = feed->next) {
            if (feed->giver != NULL && gives_alternating(feed->giver)) {
                taker->flags |= ENTITY_AC;
            }
        }
    }
}

bool is_turned_inlet(const Feed *feed)
{
    const Entity *giver = feed->giver;
    return feed->taker->kind == KIND_INLET && !feed->maker && giver != NULL && giver->kind != KIND_GENERATOR &&
           !(giver->mains & MAINS_GENERATOR);
}

bool has_transformer(const Entity *inlet)
{
    return inlet->kind == KIND_INLET && (str_is(entity_word(inlet, PROP_INLET_ISOLATION), "transformer") ||
                                         entity_yes(inlet, PROP_INLET_POLARISATION) == 1);
}

bool is_relay(const Entity *converter)
{
    return converter->kind == KIND_CONVERTER && entity_yes(converter, PROP_CONVERTER_RELAY) == 1;
}

unsigned mains_given(const Entity *giver)
{
    if (giver == NULL || giver->flags & (ENTITY_DROPPED | ENTITY_LOOP) || makes_direct(giver)) {
        return 0;
    }
    const Entity *passed = giver->kind == KIND_INVERTER ? entity_reference(giver, PROP_INVERTER_PASSES) : NULL;
    switch (giver->kind) {
    case KIND_INLET: return MAINS_SHORE | (giver->mains & MAINS_GENERATOR); /* with a generator in place of the shore */
    case KIND_GENERATOR: return MAINS_GENERATOR;
    case KIND_INVERTER: return MAINS_INVERTER | (passed != NULL && !(passed->flags & ENTITY_DROPPED) ? passed->mains : 0u);
    default: return giver->mains;
    }
}

unsigned mains_beside(const Feed *feed)
{
    unsigned mains = 0;
    for (const Feed *other = next_feed(feed->taker, NULL); other != NULL; other = next_feed(feed->taker, other)) {
        mains |= other != feed ? mains_given(other->giver) : 0u;
    }
    return mains & (MAINS_SHORE | MAINS_GENERATOR);
}

/* The first feed by which an inverter reaches a thing; NULL: none does. */
static const Feed *feed_of_inverter(const Entity *taker)
{
    const Feed *first = next_feed(taker, NULL);
    while (first != NULL && !(mains_given(first->giver) & MAINS_INVERTER)) {
        first = next_feed(taker, first);
    }
    return first;
}

bool is_inverters_feed(const Feed *feed)
{
    return feed_of_inverter(feed->taker) == feed;
}

const Entity *inverter_before(const Entity *thing)
{
    while (thing != NULL && thing->mains & MAINS_INVERTER && !(thing->flags & ENTITY_LOOP)) {
        const Feed *feed = feed_of_inverter(thing);
        thing = feed != NULL ? feed->giver : NULL;
        if (thing != NULL && thing->kind == KIND_INVERTER) {
            return thing;
        }
    }
    return NULL;
}

static bool spread_mains(const Model *model)
{
    bool more = false;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        Entity *taker = model->feed_order[i];
        unsigned mains = taker->mains | (taker->kind == KIND_INLET ? MAINS_SHORE : 0u);
        for (const Feed *feed = next_feed(taker, NULL); feed != NULL; feed = next_feed(taker, feed)) {
            mains |= mains_given(feed->giver);
        }
        more = more || mains != taker->mains;
        taker->mains = (uint8_t)mains;
    }
    return more;
}

/* Again as long as more comes to light: an inverter may stand before what it passes through. */
static void find_mains(const Model *model)
{
    while (spread_mains(model)) {
    }
}

void feeds_join(Checker *checker)
{
    Model *model = checker->model;
    model->feeds = ARENA_ARRAY(checker->arena, Feed *, count_feeds(model));
    for (uint32_t i = 0; i < model->entity_count; i++) {
        if (entity_has_group(model->entities[i], GROUPS_FEED)) {
            add_fed_by(checker, model->entities[i]);
        }
        add_made(checker, model->entities[i]);
    }
    link_givers(checker);
    put_in_order(checker);
    mark_alternating(model);
    find_mains(model);
    find_one_ended(checker);
    find_guards(model);
}
