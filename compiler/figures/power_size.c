/*
 * Sizes that are left to the program: those of wires that are a hole, or left out.
 *
 * From the sources to the ends, once ratings are there (power_rating.c): the smallest that is allowed at all, carries what
 * flows in either direction, what its protection lets through for ever, and what a starter takes for seconds (power_cranking.c). Then the drop of what loads take, by
 * the form of the basis and by physics: as long as a feed does not keep its limit, of the chosen cables on its way the one
 * that saves the most for its copper becomes a size larger. Sizes only grow, so this ends; where even the largest on the
 * way would not keep the limit, the way is left alone and the feed's own cable says that no size does.
 * Nor does a chosen cable make up for stated ones before it that lose nearly all of the limit: no terminal takes what that
 * would ask for; where they lose it in real copper alone, the form of the basis is kept. What loads need in volts is kept in the same way, once the network is solved.
 */
#include "figures/cable.h"

#include "physics/drive.h"
#include "physics/drop.h"

#include <math.h>

/* Sizes, but for the drop */

/* A device of its own that may be larger than the load needs: then the cable carries all that it lets pass (wire-unprotected). */
static bool may_be_needless(const Power *power, const Cable *cable, double passes_a)
{
    const Property *own = cable->protect;
    double flows_a = fmax(cable->current.value.low, cable->brought.value.low);
    return own != NULL && property_value(own, 0)->kind == VALUE_QUANTITY &&
           device_next_made(power->basis, own, feed_is_alternating(cable->feed), flows_a) < passes_a;
}

static double asked_by_protection(const Power *power, const Cable *cable)
{
    double passes = cable_lets_pass(power, cable);
    bool half_again = power->basis == BASIS_US && cable->nominal_most_v < 50.0 && !may_be_needless(power, cable, passes);
    return half_again ? passes / 1.5 : passes;
}

static const Conductor *largest_of(const Conductor *row)
{
    return conductor_at(row->series, conductor_count(row->series) - 1);
}

static void choose_least(Power *power, Cable *cable)
{
    Interval flows = cable_carries_long(cable);
    double most = isfinite(flows.high) ? flows.high : flows.low;
    bool lends = cable->protect == NULL && feed_lends_start(cable->feed); /* by the starter alone: its device is a warning */
    double passes = lends ? 0.0 : asked_by_protection(power, cable);
    const Conductor *least = conductor_minimum(power->basis, cable->sheathed);
    const Conductor *row = least;
    while (row != NULL && cable_ampacity_a(power, cable, row) < fmax(most, passes) * (1.0 - 1e-9)) {
        row = conductor_next(row);
    }
    cable->deciding = row == least                         ? DECIDED_BY_LEAST
                      : passes > most                      ? DECIDED_BY_PROTECTION
                      : cable->current.value.high >= most ? DECIDED_BY_CURRENT
                      : cable->brought.value.high >= most ? DECIDED_BY_BROUGHT
                      : cable->low.value.high >= most     ? DECIDED_BY_LOW : DECIDED_BY_OUTLET;
    cable->none_carries = row == NULL;
    cable->thin = row != NULL ? row : largest_of(least);
    bool may_grow = cable_wants_own_device(power, cable) && cable_may_find_one(cable);
    bool decided = isfinite(cable_carries(cable).high) && isfinite(cable->run.value.high) && !may_grow;
    cable->thick = decided ? cable->thin : NULL; /* else it is that at least */
}

bool cable_flow_is_known(const Cable *cable)
{
    return cable->current.state == STATE_KNOWN && cable->brought.state == STATE_KNOWN && cable->cranking.state == STATE_KNOWN;
}

static bool is_sizable(const Cable *cable)
{
    return cable->size_chosen && cable_flow_is_known(cable) && cable->run.state == STATE_KNOWN;
}

/* Drop */

static bool has_drop(const Cable *cable)
{
    return cable->current.state == STATE_KNOWN && cable->run.state == STATE_KNOWN && cable->nominal_v > 0.0 &&
           cable->thin != NULL && isfinite(cable->run.value.high) && isfinite(cable->current.value.high);
}

/* Both drops of a cable if it were of that size. */
typedef struct Drops {
    double rule, physical;
} Drops;

static Drops drops_of(const Power *power, const Cable *cable, const Conductor *row)
{
    double run = cable->run.value.high;
    double amps = cable->current.value.high;
    return (Drops){cable_rule_share(power, cable, row, run, amps),
                   cable_physical_share(cable, row, run, cable->solved ? cable->solved_a.high : amps)};
}

static bool keeps(const Cable *cable, Drops before, Drops own)
{
    double limit = cable->limit.share * (1.0 + 1e-9);
    return before.rule + own.rule <= limit && before.physical + own.physical <= limit;
}

enum { WAY_MOST = 32 }; /* more cables in a row than any boat has */

static void grow(Cable *cable, const Conductor *to, Deciding deciding)
{
    cable->thin = to;
    cable->thick = cable->thick != NULL ? to : NULL;
    cable->deciding = deciding;
}

/* What is lost on the way to an engine while its starter runs. */
static Drops cranking_before(const Power *power, const Entity *giver)
{
    Drops sum = {0.0, 0.0};
    for (int steps = 0; giver != NULL && !turns_power(giver) && steps < WAY_MOST; steps++) {
        const PowerNode *node = power_node(power, giver);
        const Cable *cable = node->cable;
        double amps = node->flow.lasting.high + (cable != NULL ? cable->cranking.value.high : 0.0);
        if (cable != NULL && has_drop(cable) && isfinite(amps)) {
            sum.rule += cable_rule_share(power, cable, cable->thin, cable->run.value.high, amps);
            sum.physical += cable_physical_share(cable, cable->thin, cable->run.value.high, amps);
        }
        giver = giver->fed != NULL ? giver->fed->giver : NULL;
    }
    return sum;
}

/* What is cranked through it for seconds asks for copper that stands it; at the end of a switch that lends a bank, for volts. */
static void choose_for_cranking(const Power *power, Cable *cable)
{
    const Conductor *stands = cable_size_for_cranking(power, cable), *row = stands != NULL ? stands : largest_of(cable->thin);
    cable->none_carries = cable->none_carries || stands == NULL;
    double before = cranking_before(power, cable->feed->giver).rule;
    while (conductor_next(row) != NULL && !cable_keeps_lent_drop(power, cable, row, before)) {
        row = conductor_next(row);
    }
    if (row != cable->thin) {
        grow(cable, row, cable_keeps_lent_drop(power, cable, row, before) ? DECIDED_BY_CRANKING : DECIDED_IN_VAIN);
    }
}

/* What is lost on the way of what charges to its bank, by all that comes back. */
static Drops charging_before(const Power *power, const Entity *thing)
{
    Drops sum = {0.0, 0.0};
    for (int steps = 0; thing->kind != KIND_BANK && thing->fed != NULL && takes_back(thing->fed) && steps < WAY_MOST; steps++) {
        const PowerNode *node = power_node(power, thing);
        const Cable *cable = thing->fed->shares ? NULL : node->cable;
        if (cable != NULL && has_drop(cable) && isfinite(cable->brought.value.high)) {
            sum.physical += cable_physical_share(cable, cable->thin, cable->run.value.high, cable->brought.value.high);
        }
        thing = thing->fed->giver;
    }
    return sum;
}

static Drops drops_before(const Power *power, const Cable *cable)
{
    if (cable->feed->maker && !(cable->feed->taker->flags & ENTITY_AC)) {
        return charging_before(power, cable->feed->taker);
    }
    if (cable_begins_anew(cable)) {
        return (Drops){0.0, 0.0};
    }
    if (is_cranked(cable->feed->taker)) {
        return cranking_before(power, cable->feed->giver);
    }
    const PowerNode *giver = power_node(power, cable->feed->giver);
    return (Drops){giver->drop_rule, giver->drop_physical};
}

/* The chosen cables on the way to a feed, its own first; of a starter its own alone. */
typedef struct Way {
    Cable *of[WAY_MOST];
    int count;
} Way;

static Way way_to(const Power *power, Cable *cable)
{
    Way way = {.count = 0};
    Cable *at = cable;
    for (int steps = 0; at != NULL && steps < WAY_MOST; steps++) {
        if (is_sizable(at) && has_drop(at)) {
            way.of[way.count++] = at;
        }
        const Entity *giver = cable_begins_anew(at) || is_cranked(at->feed->taker) ? NULL : at->feed->giver;
        at = giver != NULL ? power_node(power, giver)->cable : NULL;
        for (int i = 0; at == NULL && giver != NULL && i < WAY_MOST; i++) {
            giver = giver->fed != NULL && giver->fed->shares ? giver->fed->giver : NULL; /* through a switch */
            at = giver != NULL ? power_node(power, giver)->cable : NULL;
        }
    }
    return way;
}

/* Whether the largest sizes on its way would keep the limit. */
static bool can_keep(const Power *power, const Cable *cable, const Way *way, Drops before, Drops own)
{
    Drops least = {before.rule + own.rule, before.physical + own.physical};
    for (int i = 0; i < way->count; i++) {
        Drops now = drops_of(power, way->of[i], way->of[i]->thin);
        Drops best = drops_of(power, way->of[i], largest_of(way->of[i]->thin));
        least.rule -= now.rule - best.rule;
        least.physical -= now.physical - best.physical;
    }
    return keeps(cable, (Drops){0.0, 0.0}, least);
}

/* The chosen cable on the way that saves the most of the voltage for its copper when it becomes a size larger. */
static Cable *best_to_grow(const Power *power, const Way *way)
{
    Cable *best = NULL;
    double most = 0.0;
    for (int i = 0; i < way->count; i++) {
        Cable *cable = way->of[i];
        const Conductor *next = conductor_next(cable->thin);
        if (next == NULL) {
            continue;
        }
        double saves = drops_of(power, cable, cable->thin).physical - drops_of(power, cable, next).physical;
        double copper = (next->area_m2 - cable->thin->area_m2) * cable->run.value.high * cable->parallel;
        if (copper > 0.0 && saves / copper > most) {
            most = saves / copper;
            best = cable;
        }
    }
    return best;
}

static bool is_in_vain(const Cable *cable)
{
    return cable->deciding == DECIDED_IN_VAIN || cable->deciding == DECIDED_FOR_ITSELF || cable->deciding == DECIDED_BY_FORMULA;
}

/* What stated cables on the way lose. */
static Drops lost_on_stated(const Power *power, const Way *way, Drops before, Drops own)
{
    Drops stated = {before.rule + own.rule, before.physical + own.physical};
    for (int i = 0; i < way->count; i++) {
        Drops now = drops_of(power, way->of[i], way->of[i]->thin);
        stated.rule -= now.rule;
        stated.physical -= now.physical;
    }
    return stated;
}

/*
 * Where the way cannot keep the limit: the size with which its own cable alone would, else the largest. But the form of the
 * basis is kept where stated cables leave some room by that, though hardly any by the resistance of real copper, and the terminals
 * of its device take the size.
 */
static void settle_in_vain(const Power *power, Cable *cable, Deciding deciding, Drops before, bool by_formula)
{
    const Conductor *row = cable->thin;
    Drops nothing = {0.0, 0.0};
    while (conductor_next(row) != NULL && !keeps(cable, nothing, drops_of(power, cable, row))) {
        row = conductor_next(row);
    }
    const Conductor *kept = row;
    double device_a = cable_lets_pass(power, cable);
    double takes_m2 = device_a > 0.0 ? protection_takes_m2(device_a) : INFINITY;
    double limit = cable->limit.share * (1.0 + 1e-9);
    while (by_formula && kept != NULL && before.rule + drops_of(power, cable, kept).rule > limit) {
        kept = conductor_next(kept);
    }
    kept = kept != NULL && kept->area_m2 > takes_m2 * (1.0 + 1e-9) ? NULL : kept;
    grow(cable, kept != NULL ? kept : row, by_formula && kept != NULL ? DECIDED_BY_FORMULA : deciding);
}

/* Takes from the drops on the way what a cable in it has saved. */
static void note_saving(const Power *power, Cable *cable, const Cable *grown, Drops saved)
{
    const Entity *giver = cable->feed->giver;
    for (int i = 0; giver != NULL && i < WAY_MOST; i++) {
        PowerNode *node = power_node(power, giver);
        node->drop_rule -= saved.rule;
        node->drop_physical -= saved.physical;
        if (node->cable == grown || giver->fed == NULL || turns_power(giver)) {
            return;
        }
        giver = giver->fed->giver;
    }
}

/* Makes chosen cables larger until the feed keeps its limit; whether any has changed. */
static bool keep_drop(Power *power, Cable *cable)
{
    bool changed = false;
    Drops before = drops_before(power, cable);
    Drops own = drops_of(power, cable, cable->thin);
    if (keeps(cable, before, own) || is_in_vain(cable)) {
        return false;
    }
    Way way = way_to(power, cable);
    bool can = can_keep(power, cable, &way, before, own);
    Drops stated = lost_on_stated(power, &way, before, own);
    double most = DROP_MOST_BEFORE * cable->limit.share;
    if (!can || (is_sizable(cable) && fmax(stated.rule, stated.physical) > most)) {
        if (is_sizable(cable)) {
            settle_in_vain(power, cable, can ? DECIDED_FOR_ITSELF : DECIDED_IN_VAIN, before, stated.rule <= most);
        }
        return is_sizable(cable);
    }
    while (!keeps(cable, before, own)) {
        Cable *larger = best_to_grow(power, &way);
        if (larger == NULL) {
            break;
        }
        Drops was = drops_of(power, larger, larger->thin);
        grow(larger, conductor_next(larger->thin), larger == cable ? DECIDED_BY_DROP : DECIDED_BY_FEEDS);
        Drops is = drops_of(power, larger, larger->thin);
        if (larger == cable) {
            own = is;
        } else {
            note_saving(power, cable, larger, (Drops){was.rule - is.rule, was.physical - is.physical});
            before = drops_before(power, cable);
        }
        changed = true;
    }
    return changed;
}

static void note_total(const Power *power, const Cable *cable)
{
    PowerNode *node = power_node(power, cable->feed->taker);
    Drops before = drops_before(power, cable);
    Drops own = has_drop(cable) ? drops_of(power, cable, cable->thin) : (Drops){0.0, 0.0};
    node->drop_rule = fmax(node->drop_rule, before.rule + own.rule);
    node->drop_physical = fmax(node->drop_physical, before.physical + own.physical);
}

/* A second feed of a thing counts as well: the worse of both. What has no cable of its own hands on. */
static void hand_on_drops(const Power *power, const Feed *feed)
{
    if (feed->giver != NULL && !turns_power(feed->giver)) {
        const PowerNode *giver = power_node(power, feed->giver);
        PowerNode *taker = power_node(power, feed->taker);
        taker->drop_rule = fmax(taker->drop_rule, giver->drop_rule);
        taker->drop_physical = fmax(taker->drop_physical, giver->drop_physical);
    }
}

static bool any_sizable(const Power *power)
{
    for (uint32_t i = 0; i < power->cable_count; i++) {
        if (is_sizable(&power->cables[i])) {
            return true;
        }
    }
    return false;
}

static bool keep_drops(Power *power)
{
    const Model *model = power->model;
    bool changed = false;
    if (!any_sizable(power)) {
        return false; /* drops are summed up here for sizes alone */
    }
    Cable *cable = power->cables;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        PowerNode *node = power_node(power, model->feed_order[i]);
        node->drop_rule = node->drop_physical = 0.0;
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            if (cable < power->cables + power->fed_count && cable->feed == feed) {
                changed = (has_drop(cable) && keep_drop(power, cable)) || changed;
                note_total(power, cable++);
            } else if (feed->shares) {
                hand_on_drops(power, feed);
            }
        }
    }
    for (; cable < power->cables + power->cable_count; cable++) {
        changed = (has_drop(cable) && keep_drop(power, cable)) || changed;
    }
    return changed;
}

/* Voltages that loads need */

/* The cable that brings a thing its power, past what only shares it; NULL if there is none. */
static Cable *cable_to(const Power *power, const Entity *thing)
{
    Cable *cable = power_node(power, thing)->cable;
    for (int i = 0; cable == NULL && i < WAY_MOST && thing->fed != NULL && thing->fed->shares && thing->fed->giver != NULL; i++) {
        thing = thing->fed->giver;
        cable = power_node(power, thing)->cable;
    }
    return cable;
}

/* What a load takes more while it starts than while it runs, at the most; 0 if it does not say. */
static double starts_with_more_a(const Power *power, const Entity *load)
{
    const PowerNode *node = power_node(power, load);
    const Value *surge = property_value(entity_property(load, PROP_LOAD_SURGE), 0);
    const Value *pieces = property_value(entity_property(load, PROP_COMMON_COUNT), 0);
    if (surge->kind != VALUE_QUANTITY || node->current == NULL || !node->supply.known || !isfinite(surge->u.quantity.high)) {
        return 0.0;
    }
    bool in_amperes = dimension_equal(unit_dimension(surge->unit), unit_dimension(UNIT_ALONE(UNIT_A)));
    double amps = in_amperes               ? surge->u.quantity.high
                  : node->least_v.low > 0.0 ? surge->u.quantity.high / node->least_v.low
                                            : 0.0;
    amps *= pieces->kind == VALUE_QUANTITY && isfinite(pieces->u.quantity.high) ? pieces->u.quantity.high : 1.0;
    return fmax(amps - node->current->low, 0.0);
}

/* What a cable loses with so much more in it than flows for long, as a share of the nominal voltage. */
static double loses_with(const Cable *cable, const Conductor *row, double more_a)
{
    double flows = cable->solved ? cable->solved_a.high : cable->current.value.high;
    return cable_physical_share(cable, row, cable->run.value.high, flows + more_a);
}

/* What is missing at a load, what there is room for from its source on, and what its surge adds, in shares of the voltage. */
typedef struct Need {
    double missing, room, more_a;
} Need;

static Need need_of(const Power *power, const Entity *load, double least_v)
{
    const PowerNode *node = power_node(power, load);
    Need need = {.more_a = starts_with_more_a(power, load)};
    double sags = need.more_a > 0.0 ? need.more_a * node->supply.hot_ohm.high : 0.0;
    need.missing = (least_v * (1.0 - 1e-9) - (node->end_v.low - sags)) / node->nominal_v;
    need.room = (node->least_v.low - least_v) / node->nominal_v;
    return need;
}

/* The same of a thruster that states no voltage: from a bank that is full it is left with what `thruster-volts` asks for. */
static Need need_of_thruster(const Power *power, const Entity *thruster)
{
    const PowerNode *node = power_node(power, thruster);
    const Entity *bank = node->source != NULL && node->source->kind == KIND_BANK ? node->source : NULL;
    const Supply *supply = bank != NULL ? &power_node(power, bank)->supply : NULL;
    double volts = node->working_v.low, amps = node->current != NULL ? node->current->high : INFINITY;
    if (supply == NULL || !supply->known || volts <= 0.0 || !isfinite(amps)) {
        return (Need){0};
    }
    double least_v = drive_limit(DRIVE_THRUSTER_VOLTS)->value * 12.0 * round(volts / 12.0);
    double room = 1.0 - least_v * (1.0 + 1e-9) / volts;
    return (Need){.missing = amps * supply->hot_ohm.high / volts + node->drop_physical - room, .room = room};
}

/* Whether chosen cables can bring a load what is missing, without making up for all that is lost elsewhere. */
static bool can_bring(const Way *way, const Need *need)
{
    double can = 0.0, chosen = 0.0;
    for (int i = 0; i < way->count; i++) {
        double now = loses_with(way->of[i], way->of[i]->thin, need->more_a);
        chosen += now;
        can += now - loses_with(way->of[i], largest_of(way->of[i]->thin), need->more_a);
    }
    double elsewhere = need->room + need->missing - chosen; /* in the bank and in stated cables */
    return isfinite(need->missing) && can >= need->missing && elsewhere <= DROP_MOST_BEFORE * need->room;
}

/*
 * Makes chosen cables on the way to a load larger where it is left with too little; whether any has changed. Some half of
 * what is missing at a time: the networks are solved again, and currents change with the voltage.
 */
static bool keep_voltage(Power *power, const Entity *load)
{
    const PowerNode *node = power_node(power, load);
    const Value *least = property_value(entity_property(load, PROP_LOAD_MIN_VOLTAGE), 0);
    bool states = entity_states(load, PROP_LOAD_MIN_VOLTAGE);
    Cable *cable = cable_to(power, load);
    if ((states && least->kind != VALUE_QUANTITY) || cable == NULL || !node->end_known || node->nominal_v <= 0.0) {
        return false;
    }
    Need need = states ? need_of(power, load, least->u.quantity.high) : need_of_thruster(power, load);
    Way way = way_to(power, cable);
    double saved = 0.0;
    while (need.missing > 0.0 && saved < need.missing / 2.0 && can_bring(&way, &need)) {
        Cable *larger = best_to_grow(power, &way);
        if (larger == NULL) {
            break;
        }
        double was = loses_with(larger, larger->thin, need.more_a);
        grow(larger, conductor_next(larger->thin), DECIDED_BY_VOLTAGE);
        saved += was - loses_with(larger, larger->thin, need.more_a);
    }
    return saved > 0.0;
}

static bool keep_voltages(Power *power)
{
    const Model *model = power->model;
    bool changed = false;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        const Entity *thing = model->feed_order[i];
        bool needs = kinds[thing->kind].groups & GROUPS_LOAD && entity_states(thing, PROP_LOAD_MIN_VOLTAGE);
        if ((needs || thing->kind == KIND_THRUSTER) && !(thing->flags & (ENTITY_DROPPED | ENTITY_LOOP | ENTITY_AC))) {
            changed = keep_voltage(power, thing) || changed;
        }
    }
    return changed;
}

/* The nearest device upstream of what hangs on a thing. */
static void note_guard(const Power *power, const Feed *feed, const Cable *cable)
{
    if (feed->maker) {
        return;
    }
    const Property *protect = cable != NULL ? cable->protect : NULL;
    bool anew = feed->giver == NULL || turns_power(feed->giver);
    PowerNode *node = power_node(power, feed->taker);
    double before = anew ? 0.0 : power_node(power, feed->giver)->guard_a;
    node->guard_a = fmax(node->guard_a, protect != NULL ? cable_lets_pass(power, cable) : before);
}

static void choose_sizes(Power *power)
{
    const Model *model = power->model;
    Cable *cable = power->cables;
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        power_node(power, model->feed_order[i])->guard_a = 0.0;
    }
    for (uint32_t i = 0; i < model->feed_order_count; i++) {
        for (const Feed *feed = model->feed_order[i]->fed; feed != NULL; feed = feed->next) {
            bool own = cable < power->cables + power->fed_count && cable->feed == feed;
            if (own && is_sizable(cable)) {
                choose_least(power, cable);
                choose_for_cranking(power, cable);
            }
            note_guard(power, feed, own ? cable : NULL);
            cable += own;
        }
    }
    for (; cable < power->cables + power->cable_count; cable++) {
        if (is_sizable(cable)) {
            choose_least(power, cable);
        }
    }
}

void power_choose(Power *power)
{
    power_choose_ratings(power);
    choose_sizes(power);
    keep_drops(power);
}

bool power_choose_again(Power *power)
{
    bool changed = keep_drops(power);
    return keep_voltages(power) || changed;
}
