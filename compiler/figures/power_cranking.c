/*
 * Cranking: what a starter takes for seconds, kept apart from what flows for long.
 *
 * A starter counts in no `current` but that of its own feed. What lies between it and the bank carries it besides: the
 * `cranking-current` of a thing is that of the greatest starter behind it, for engines are started one after the other
 * (common practice, no source), and `cranking-drop` is what is lost up to there while it cranks and all that runs long goes
 * on running.
 *
 * The main feed from the battery to a cranking motor needs no device and no ampacity: 33 CFR 183.425(g), 183.455(e),
 * 183.460(a). It includes a switch in it, with its cable. What else hangs on such a switch has a feed of its own, which is not
 * exempt. Nor is the cable of an emergency switch, which is live from a bank at both ends by day and night, nor that of the
 * switch of a house bank that only lends: it carries the house, and has to let the starter of the other bank through as well.
 */
#include "figures/cable.h"

#include "physics/ampacity.h"
#include "physics/drop.h"

#include <math.h>

bool is_cranked(const Entity *engine)
{
    return engine->kind == KIND_ENGINE && !str_is(entity_word(engine, PROP_ENGINE_FUEL), "electric");
}

enum { SWITCHES_MOST = 4 }; /* one behind the other, on the way to a starter */

static bool leads_to_starter(const Entity *thing, int steps)
{
    for (const Feed *feed = thing->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *taker = feed->taker;
        if (feed->maker || taker->flags & (ENTITY_DROPPED | ENTITY_LOOP)) {
            continue;
        }
        if (is_cranked(taker) ||
            (taker->kind == KIND_SWITCH && steps > 0 && leads_to_starter(taker, steps - 1))) {
            return true;
        }
    }
    return false;
}

bool feed_lends_start(const Feed *feed)
{
    const Entity *joiner = feed->taker;
    bool lends = false;
    for (const Feed *of = joiner->fed; of != NULL; of = of->next) {
        lends = lends || (of->giver != NULL && leads_to_starter(of->giver, SWITCHES_MOST));
    }
    return lends && !feed->maker && str_is(entity_word(joiner, PROP_SWITCH_WORKS_AS), "emergency");
}

bool feed_is_cranking(const Feed *feed)
{
    const Entity *taker = feed->taker;
    return !feed->maker && (is_cranked(taker) || (taker->kind == KIND_SWITCH && leads_to_starter(taker, SWITCHES_MOST)));
}

/* From the engines to the banks */

static const Figure *cranking_behind(Power *power, const Feed *feed)
{
    const PowerNode *taker = power_node(power, feed->taker);
    bool counts = !feed->maker && !(feed->taker->flags & (ENTITY_DROPPED | ENTITY_LOOP));
    return !counts ? NULL : is_cranked(feed->taker) ? taker->current : taker->cranking;
}

static const char formula_behind[] = "the greatest starter behind it: engines start one after the other";
static const char formula_lent[] = "the greatest starter of the banks that it joins: either may be cranked from the other";

static void record_cranking(Power *power, const Entity *thing)
{
    Work *work = power->work;
    Interval most = point(0.0);
    bool any = false;
    work_begin(work);
    for (const Feed *feed = thing->gives; feed != NULL; feed = feed->next_of_giver) {
        const Figure *behind = cranking_behind(power, feed);
        if (behind != NULL) {
            most = interval_max(most, use_figure(work, behind).value);
            any = true;
        }
    }
    if (any) {
        power_node(power, thing)->cranking = work_record(work, FIGURE_CRANKING, thing, NULL, most, formula_behind);
    }
}

/*
 * A switch that puts two banks side by side, or lends one to the other's starter: what either cranks may come through it.
 * Only such a switch as leads nowhere else; what hangs on it is behind it.
 */
static bool joins_banks(const Power *power, const Entity *thing)
{
    Str works_as = thing->kind == KIND_SWITCH ? entity_word(thing, PROP_SWITCH_WORKS_AS) : STR("");
    const Feed *first = thing->fed;
    const Entity *bank = first != NULL && first->giver != NULL ? power_node(power, first->giver)->source : NULL;
    if (!(str_is(works_as, "parallel") || str_is(works_as, "emergency")) || bank == NULL || thing->flags & ENTITY_LOOP) {
        return false;
    }
    for (const Feed *feed = first->next; feed != NULL; feed = feed->next) {
        const Entity *other = feed->giver != NULL ? power_node(power, feed->giver)->source : NULL;
        if (other != NULL && other != bank && other->kind == KIND_BANK && bank->kind == KIND_BANK) {
            return true;
        }
    }
    return false;
}

/* Whether a thing hangs on another one, by whichever of its feeds. */
static bool hangs_on(const Entity *thing, const Entity *giver, int steps)
{
    for (const Feed *feed = thing->fed; feed != NULL && steps > 0; feed = feed->next) {
        if (feed->giver == giver || (feed->giver != NULL && !turns_power(feed->giver) && hangs_on(feed->giver, giver, steps - 1))) {
            return true;
        }
    }
    return false;
}

enum { WAY_DEEPEST = 10 }; /* things one behind the other between a bank and a starter */

static bool starter_hangs_on(const Entity *engine, const Entity *thing)
{
    return is_cranked(engine) && !(engine->flags & (ENTITY_DROPPED | ENTITY_LOOP)) && hangs_on(engine, thing, WAY_DEEPEST);
}

bool has_starter_behind(const Model *model, const Entity *thing)
{
    for (const Entity *e = model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        if (starter_hangs_on(e, thing)) {
            return true;
        }
    }
    return false;
}

/* Whether the starter of an engine is one of the banks that a switch joins. */
static bool may_come_through(const Power *power, const Entity *engine, const Entity *tie)
{
    for (const Feed *feed = tie->fed; feed != NULL; feed = feed->next) {
        const Entity *bank = feed->giver != NULL ? power_node(power, feed->giver)->source : NULL;
        if (bank != NULL && starter_hangs_on(engine, bank)) {
            return true;
        }
    }
    return false;
}

/* The greatest of those starters that hang on a thing, or may be cranked through it where it is a tie; false: there is none. */
static bool record_of_engines(Power *power, const Entity *thing, bool tie, const char *formula)
{
    Work *work = power->work;
    Interval most = point(0.0);
    bool any = false;
    work_begin(work);
    for (const Entity *e = power->model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        const Figure *takes = power_node(power, e)->current;
        if (takes != NULL && is_cranked(e) && (tie ? may_come_through(power, e, thing) : starter_hangs_on(e, thing))) {
            most = interval_max(most, use_figure(work, takes).value);
            any = true;
        }
    }
    if (any) {
        power_node(power, thing)->cranking = work_record(work, FIGURE_CRANKING, thing, NULL, most, formula);
    }
    return any;
}

/* Ties come first: what lies between one and its banks carries what is cranked through it too, and so whichever way it comes. */
static bool record_ties(Power *power)
{
    const Model *model = power->model;
    bool any = false;
    for (const Entity *tie = model->first_of_kind[KIND_SWITCH]; tie != NULL; tie = tie->next_of_kind) {
        if (!(tie->flags & (ENTITY_DROPPED | ENTITY_AC)) && joins_banks(power, tie) && !has_starter_behind(model, tie)) {
            any = record_of_engines(power, tie, true, formula_lent) || any;
        }
    }
    return any;
}

/* A bank is asked for its own starters alone: what it lends in an emergency is no wish of every day (bank-discharge, surge). */
static void record_bank(Power *power, const Entity *bank, bool lends)
{
    if (lends) {
        record_of_engines(power, bank, false, formula_behind);
    } else {
        record_cranking(power, bank);
    }
}

void power_cranking(Power *power)
{
    const Model *model = power->model;
    if (model->first_of_kind[KIND_ENGINE] == NULL) {
        return;
    }
    bool lends = record_ties(power);
    for (uint32_t i = model->feed_order_count; i-- > 0;) {
        const Entity *thing = model->feed_order[i];
        if (thing->flags & (ENTITY_DROPPED | ENTITY_AC) || turns_power(thing) || power_node(power, thing)->cranking != NULL) {
            continue;
        }
        if (thing->kind == KIND_BANK) {
            record_bank(power, thing, lends);
        } else {
            record_cranking(power, thing);
        }
    }
}

/* The drop while it cranks */

static const char formula_physical[] =
    "({cranking-current} + {what runs long}) x 2 x {run} x resistance of {wire-size} at 50 C / "
    "{nominal voltage}, and what is lost before";
static const char formula_rule[] =
    "by the form of the basis, of {cranking-current} + {what runs long} over {run} of {wire-size} at "
    "{nominal voltage}, and what is lost before";

static const char formula_physical_of_both[] =
    "({cranking-current} + {what runs long}) x 2 x {run} x resistance of {wire-size} at 50 C / "
    "{nominal voltage}, in the cable to the other bank as much, and what is lost before";
static const char formula_rule_of_both[] =
    "by the form of the basis, of {cranking-current} + {what runs long} over {run} of {wire-size} at "
    "{nominal voltage}, in the cable to the other bank as much, and what is lost before";

/*
 * By so many cables what is cranked flows up to the starter: from one bank to the switch, and where that only joins two banks
 * from there on to the other. It states one cable for both.
 */
static int cables_in_row(const Power *power, const Entity *joiner)
{
    return joins_banks(power, joiner) && !has_starter_behind(power->model, joiner) ? 2 : 1;
}

static const Figure *record_drop(Power *power, const Cable *cable, bool physical, const Figure *before)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, cable->feed->taker);
    int cables = cables_in_row(power, cable->feed->taker);
    work_begin(work);
    Interval amps = use_figure(work, node->cranking).value;
    use_fact(work, "what runs long besides", node->flow.lasting, UNIT_ALONE(UNIT_A),
             "the loads that hang on it");
    use_feed_value(work, cable->feed, PROP_FEED_RUN, 0);
    use_figure(work, cable->size);
    if (cable->nominal_v > 0.0) {
        use_source_voltage(work, node->source, "nominal voltage", node_nominal(node), "its source");
    } else {
        use_no_voltage(work, node->source);
    }
    if (node->state == STATE_WAITING) {
        use_waiting(work);
    }
    if (node->flow.waits) {
        use_waiting(work);
    }
    Interval share = point(0.0);
    if (work->state == STATE_KNOWN) {
        share = interval_scale(cable_drop(power, cable, physical, interval_add(amps, node->flow.lasting)), cables);
    }
    share = before != NULL ? interval_add(share, use_figure(work, before).value) : share;
    return work_record(work, physical ? FIGURE_CRANKING_DROP : FIGURE_CRANKING_DROP_BY_RULE, cable->subject,
                       cable->at, share,
                       cables == 2 ? (physical ? formula_physical_of_both : formula_rule_of_both)
                       : physical  ? formula_physical
                                   : formula_rule);
}

void cable_record_cranking(Power *power, const Cable *cable)
{
    PowerNode *node = power_node(power, cable->feed->taker);
    if (cable->feed->maker || node->cranking == NULL || cable->feed->taker->kind == KIND_BANK) {
        return;
    }
    const PowerNode *giver = cable_begins_anew(cable) ? NULL : power_node(power, cable->feed->giver);
    const Figure *physical = record_drop(power, cable, true, giver != NULL ? giver->cranking_drop : NULL);
    const Figure *by_rule =
        record_drop(power, cable, false, giver != NULL ? giver->cranking_drop_by_rule : NULL);
    node->cranking_drop = figure_worse(node->cranking_drop, physical);
    node->cranking_drop_by_rule = figure_worse(node->cranking_drop_by_rule, by_rule);
}

/* What its conductors stand meanwhile */

static const double cranks_s = 10.0; /* then a starter is given rest: common practice, from memory */

static double stands_a(const Power *power, const Cable *cable, const Conductor *row)
{
    return short_time_a(row->area_m2, cable->insulation_c, cable_heat(power, cable).low, cranks_s) * cable->parallel;
}

/* What is cranked through a cable: the starter's own current, or that of those behind it. Of what has no end at least so much. */
static double cranked_a(const Cable *cable)
{
    Interval amps = is_cranked(cable->feed->taker) ? cable->current.value : cable->cranking.value;
    return isfinite(amps.high) ? amps.high : amps.low;
}

const Conductor *cable_size_for_cranking(const Power *power, const Cable *cable)
{
    const Conductor *row = cable->thin;
    while (row != NULL && stands_a(power, cable, row) < cranked_a(cable) * (1.0 - 1e-9)) {
        row = conductor_next(row);
    }
    return row;
}

bool cable_keeps_lent_drop(const Power *power, const Cable *cable, const Conductor *row, double before)
{
    const Entity *taker = cable->feed->taker;
    bool lends = !cable->feed->maker && taker->kind == KIND_SWITCH && taker->fed->next != NULL && cranked_a(cable) > 0.0;
    if (!lends || !isfinite(cable->run.value.high) || cable->nominal_v <= 0.0 || has_starter_behind(power->model, taker)) {
        return true;
    }
    double amps = cranked_a(cable) + power_node(power, taker)->flow.lasting.high;
    double lost = cables_in_row(power, taker) * cable_rule_share(power, cable, row, cable->run.value.high, amps);
    return before + lost <= DROP_LIMIT_OTHER * (1.0 + 1e-9);
}

void cable_record_cranking_ampacity(Power *power, const Cable *cable)
{
    const Entity *taker = cable->feed->taker;
    bool cranked = is_cranked(taker) || (power_node(power, taker)->cranking != NULL && taker->kind != KIND_BANK);
    if (cable->feed->maker || taker->flags & ENTITY_AC || !cranked) {
        return;
    }
    Work *work = power->work;
    work_begin(work);
    use_figure(work, cable->size);
    use_cable_insulation(power, cable);
    const Property *through = feed_property(cable->feed, PROP_FEED_THROUGH);
    if (through != NULL) {
        use_if_mistaken(work, through); /* how hot it is there is not known */
    }
    Interval heat = cable_heat(power, cable);
    if (heat.low < 1.0) {
        use_fact(work, "factor for the heat on its way", heat, UNIT_ALONE(UNIT_NONE), "as of its ampacity");
    }
    if (cable->most_parallel > 1) {
        use_feed_value(work, cable->feed, PROP_FEED_WIRE, 1);
    }
    double best_c = cable_best_insulation_c(cable);
    Interval amps = {
        cable->thin != NULL ? short_time_a(cable->thin->area_m2, cable->insulation_c, heat.low, cranks_s) * cable->parallel : 0.0,
        cable->thick != NULL ? short_time_a(cable->thick->area_m2, best_c, heat.high, cranks_s) * cable->most_parallel : INFINITY,
    };
    work_record(work, FIGURE_CRANKING_AMPACITY, cable->subject, cable->at, amps,
                "226 A s^0.5/mm2 x {wire-size} x sqrt(ln((234.5 C + {insulation}) / (234.5 C + heat on its way)) / 10 s)");
}

Quantity cable_cranking(const Power *power, const Cable *cable)
{
    const Figure *cranking = cable->feed->maker ? NULL : power_node(power, cable->feed->taker)->cranking;
    return cranking != NULL && cable->feed->taker->kind != KIND_BANK
               ? (Quantity){{cranking->low, cranking->high}, (State)cranking->state}
               : (Quantity){point(0.0), STATE_KNOWN};
}

/* What is left for others while it cranks */

/* The nearest thing on the way up through which a starter is cranked too; NULL: only the bank is shared. */
static const PowerNode *shared_way(const Power *power, const Entity *thing)
{
    enum { WAY_MOST = 32 };
    for (int i = 0; thing != NULL && thing->kind != KIND_BANK && !turns_power(thing) && i < WAY_MOST; i++) {
        const PowerNode *node = power_node(power, thing);
        if (node->cranking_drop != NULL && node->total != NULL) {
            return node;
        }
        thing = thing->fed != NULL ? thing->fed->giver : NULL;
    }
    return NULL;
}

static void record_cranking_voltage(Power *power, const Entity *load, const Entity *bank)
{
    Work *work = power->work;
    const PowerNode *node = power_node(power, load), *source = power_node(power, bank);
    const PowerNode *shared = shared_way(power, load);
    work_begin(work);
    Interval amps = use_figure(work, source->cranking).value;
    use_fact(work, "voltage here while all that can run does, its source at its lowest", node->end_v,
             UNIT_ALONE(UNIT_V), "the network of its source, solved");
    use_fact(work, "resistance of the bank at its greatest", source->supply.hot_ohm, UNIT_ALONE(UNIT_MOHM),
             "as stated; a bank's usual resistance from memory");
    Interval lost = interval_multiply(amps, source->supply.hot_ohm);
    if (shared != NULL) {
        Interval cranking = use_figure(work, shared->cranking_drop).value;
        Interval more = interval_subtract(cranking, use_figure(work, shared->total).value);
        lost = interval_add(lost, interval_multiply(interval_max(more, point(0.0)), node_nominal(node)));
    }
    Interval left = interval_max(interval_subtract(node->end_v, lost), point(0.0));
    work_record(work, FIGURE_CRANKING_VOLTAGE, load, NULL, left,
                shared != NULL ? "end voltage - {cranking-current} x resistance of the bank - what more is "
                                 "lost on the shared way"
                               : "end voltage - {cranking-current} x resistance of the bank");
}

void power_cranking_voltages(Power *power)
{
    const Model *model = power->model;
    for (uint32_t i = 0; i < model->feed_order_count && model->first_of_kind[KIND_ENGINE] != NULL; i++) {
        const Entity *load = model->feed_order[i];
        const PowerNode *node = power_node(power, load);
        const Entity *bank = node->source != NULL && node->source->kind == KIND_BANK ? node->source : NULL;
        bool asks = kinds[load->kind].groups & GROUPS_LOAD && entity_states(load, PROP_LOAD_MIN_VOLTAGE);
        if (asks && bank != NULL && node->end_known && !(load->flags & (ENTITY_DROPPED | ENTITY_AC)) &&
            power_node(power, bank)->cranking != NULL && power_node(power, bank)->supply.known) {
            record_cranking_voltage(power, load, bank);
        }
    }
}
