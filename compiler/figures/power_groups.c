/*
 * Groups of banks that charge one another, and the tables of their days: what goes into the runs of physics/days.h.
 *
 * A converter charges its bank while the sources of the bank that feeds it bring more than that one's loads take; unless it
 * is `surplus-only` it carries that bank's loads out of the charge of the one that feeds it, too. The array's current is
 * used first and the alternator's refused first: sun costs nothing.
 */
#include "figures/power_days.h"

#include "model/status.h"
#include <math.h>
#include <string.h>

static double finite_charge(double coulomb)
{
    return fmax(1.0, fmin(coulomb, DAY_ENDLESS_COULOMB));
}

/* A bank's own numbers */

static const Figure *record_least(Work *work, const Entity *bank)
{
    work_begin(work);
    Quantity share = use_bank_value(work, bank, PROP_BANK_USABLE, BATTERY_USABLE, UNIT_ALONE(UNIT_PERCENT));
    return work_record(work, FIGURE_LEAST_CHARGE, bank, NULL, interval_subtract(point(1.0), share.value),
                       "1 - {usable share}");
}

static const Figure *record_acceptance(Work *work, const Entity *bank, const Figure *capacity)
{
    work_begin(work);
    Quantity charge = use_figure(work, capacity);
    Chemistry chemistry = CHEMISTRY_AGM;
    if (!bank_chemistry(bank, &chemistry)) {
        use_waiting(work);
    }
    double rate = battery_figure(BATTERY_ACCEPTANCE, chemistry);
    use_fact(work, "amperes for each ampere-hour that its chemistry takes", point(rate), UNIT_ALONE(UNIT_NONE),
             "usual for its chemistry, from memory");
    Interval amps = interval_scale(charge.value, rate / COULOMB_PER_AH);
    if (!entity_states(bank, PROP_BANK_MAX_CHARGE)) {
        return work_record(work, FIGURE_ACCEPTANCE, bank, NULL, amps, "{capacity} x {amperes for each ampere-hour}");
    }
    Interval most = use_value(work, bank, PROP_BANK_MAX_CHARGE, 0).value;
    most = interval_multiply(most, use_bank_strings(work, bank).value);
    return work_record(work, FIGURE_ACCEPTANCE, bank, NULL, interval_min(amps, most),
                       "{capacity} x {amperes for each ampere-hour}, at most {max-charge} of each string");
}

Quantity use_peukert(Work *work, const Entity *bank)
{
    Chemistry chemistry;
    if (entity_states(bank, PROP_BANK_PEUKERT)) {
        return use_value(work, bank, PROP_BANK_PEUKERT, 0);
    }
    if (!bank_chemistry(bank, &chemistry)) {
        use_waiting(work);
        return (Quantity){point(1.0), STATE_WAITING};
    }
    return use_fact(work, "Peukert exponent, the middle of what is usual", point(battery_model(chemistry, 1.0).exponent),
                    UNIT_ALONE(UNIT_NONE), "usual for its chemistry; ranges of a battery maker's article, lithium from memory");
}

void use_taper(Work *work, const Entity *bank)
{
    Chemistry chemistry;
    if (bank_chemistry(bank, &chemistry)) {
        use_fact(work, "state of charge from which it takes less", point(battery_figure(BATTERY_TAPER_BEGINS, chemistry)),
                 UNIT_ALONE(UNIT_PERCENT),
                 chemistry == CHEMISTRY_LIFEPO4 ? "usual for its chemistry, from memory"
                                                : "so that a charge takes as long as published, second hand");
        use_fact(work, "amperes for each ampere-hour that it takes when full",
                 point(battery_figure(BATTERY_TAIL, chemistry)), UNIT_ALONE(UNIT_NONE), "usual for its chemistry, from memory");
    }
}

/* Where a range is, which end of it a corner takes: the worse one is the low end of what helps, the high end of the rest. */
static double end_of(Interval range, bool low)
{
    return low ? range.low : range.high;
}

/* What of a bank hangs on its size. */
typedef struct Size {
    Interval coulomb, accepts_a;
    bool capped; /* it is open, and the current is capped by something else too: */
    double cap_a; /* at least */
} Size;

/*
 * What it takes at one end of its size, by the charge that it lacks: falling from where the taper begins. Where the current
 * is capped by something else, a larger bank may take less at the same lack: then the taper is that of the other end.
 */
static void set_curve(BatteryModel *model, const Size *size, Chemistry chemistry, bool low, double of_coulomb)
{
    double lacks = 1.0 - battery_figure(BATTERY_TAPER_BEGINS, chemistry);
    double charge = end_of(size->coulomb, low);
    model->acceptance_a = end_of(size->accepts_a, low);
    model->tail_a = fmin(battery_rate_a(battery_figure(BATTERY_TAIL, chemistry), charge), model->acceptance_a);
    model->taper_begins = 1.0 - lacks * end_of(size->coulomb, low != size->capped) / of_coulomb;
}

/* In a run that bounds every size inside: shares of the largest, see physics/days.h. */
static void set_bounding(DayBank *bank, const Size *size, Chemistry chemistry, bool worse)
{
    double largest = size->coulomb.high, own = end_of(size->coulomb, worse);
    BatteryModel other;
    bank->model.capacity_coulomb = largest;
    set_curve(&bank->model, size, chemistry, worse, largest);
    set_curve(&other, size, chemistry, !worse, largest);
    bank->bounds = (DayBounds){.told_coulomb = own,
                               .counted_coulomb = own,
                               .floor_share = worse ? 0.0 : 1.0 - size->coulomb.low / largest,
                               .acceptance_a = other.acceptance_a,
                               .taper_begins = other.taper_begins,
                               .tail_a = other.tail_a,
                               .capped = worse && size->capped,
                               .other_capped = !worse && size->capped};
    if (size->capped) {
        bank->bounds.sizes = (DayCapped){.smallest_c = size->coulomb.low,
                                         .largest_c = largest,
                                         .cap_a = size->cap_a,
                                         .takes_per_c = battery_figure(BATTERY_ACCEPTANCE, chemistry) / COULOMB_PER_AH,
                                         .tail_per_c = battery_figure(BATTERY_TAIL, chemistry) / COULOMB_PER_AH,
                                         .taper_lacks = 1.0 - battery_figure(BATTERY_TAPER_BEGINS, chemistry)};
    }
    bank->least_share = 1.0 - (1.0 - bank->least_share) * own / largest;
}

/*
 * As it is at one end of its size: what it gains from a given share on is the more, the larger it is. Where something else
 * caps its current, and it tapers from that share on already, the taper begins there: lower than any bank's below it in the
 * worse corner, higher in the better one.
 */
static void set_alone(DayBank *bank, const Size *size, Chemistry chemistry, bool worse)
{
    double charge = end_of(size->coulomb, worse), begins = (1.0 + bank->least_share) / 2.0;
    BatteryModel *model = &bank->model;
    model->capacity_coulomb = charge;
    set_curve(model, &(Size){.coulomb = point(charge), .accepts_a = size->accepts_a}, chemistry, worse, charge);
    if (size->capped && begins > model->taper_begins && begins < 1.0) {
        double then = battery_acceptance_a(model, begins);
        model->acceptance_a = worse ? then : model->acceptance_a;
        model->taper_begins = begins;
    }
    bank->bounds = (DayBounds){.told_coulomb = charge,
                               .counted_coulomb = charge,
                               .acceptance_a = model->acceptance_a,
                               .taper_begins = model->taper_begins,
                               .tail_a = model->tail_a};
}

static void fill_bank(Work *work, GroupBank *bank)
{
    Chemistry chemistry = CHEMISTRY_AGM;
    bank_chemistry(bank->entity, &chemistry);
    work_begin(work);
    use_figure(work, bank->capacity);
    use_figure(work, bank->acceptance);
    use_figure(work, bank->least);
    Interval peukert = use_peukert(work, bank->entity).value;
    Interval keeps = use_bank_value(work, bank->entity, PROP_BANK_CHARGE_EFFICIENCY, BATTERY_CHARGE_EFFICIENCY,
                                    UNIT_ALONE(UNIT_PERCENT))
                         .value;
    if (bank->volts.low <= 0.0) {
        use_no_voltage(work, bank->entity);
    }
    bank->state = work->state;
    if (bank->state != STATE_KNOWN) {
        return;
    }
    Size size = {.coulomb = {finite_charge(bank->capacity->low), finite_charge(bank->capacity->high)}};
    size.accepts_a = (Interval){fmin(bank->acceptance->low, 1e12), fmin(bank->acceptance->high, 1e12)};
    size.capped = entity_states(bank->entity, PROP_BANK_MAX_CHARGE) && !interval_is_point(size.coulomb);
    if (size.capped) {
        Interval most = use_value(work, bank->entity, PROP_BANK_MAX_CHARGE, 0).value;
        size.cap_a = interval_multiply(most, use_bank_strings(work, bank->entity).value).low;
    }
    for (int c = 0; c < CORNERS; c++) {
        bool worse = c == WORSE;
        bank->alone[c] = (DayBank){
            .model = {.rated_hours = BATTERY_RATED_HOURS,
                      .exponent = fmax(1.0, end_of(peukert, !worse)),
                      .efficiency = fmax(0.01, end_of(keeps, worse))},
            .least_share = end_of((Interval){bank->least->low, bank->least->high}, !worse),
        };
        bank->of[c] = bank->alone[c];
        set_alone(&bank->alone[c], &size, chemistry, worse);
        set_bounding(&bank->of[c], &size, chemistry, worse);
    }
    for (int c = 0; c < CORNERS; c++) {
        int other = c == WORSE ? BETTER : WORSE;
        bank->of[c].bounds.other_least_share = bank->of[other].least_share;
        bank->alone[c].bounds.other_least_share = bank->alone[other].least_share;
    }
}

static GroupBank *make_bank(Power *power, const Entity *entity)
{
    Work *work = power->work;
    GroupBank *bank = ARENA_NEW(work->figures->arena, GroupBank);
    *bank = (GroupBank){.entity = entity, .volts = power_node(power, entity)->working_v};
    bank->capacity = figure_find(work->figures, entity, FIGURE_CAPACITY, NULL);
    bank->least = record_least(work, entity);
    bank->acceptance = record_acceptance(work, entity, bank->capacity);
    fill_bank(work, bank);
    return bank;
}

/* Which banks belong together */

static const Entity *charging_bank(const Power *power, const Feed *feed)
{
    if (feed->giver->kind != KIND_CONVERTER) {
        return NULL;
    }
    const Entity *source = power_node(power, feed->giver)->source;
    return source != NULL && source->kind == KIND_BANK && !(source->flags & ENTITY_DROPPED) ? source : NULL;
}

/* Each bank's group, by Entity.index, as a forest of the first bank of each. */
static const Entity *root_of(const Entity **parent, const Entity *bank)
{
    while (parent[bank->index] != bank) {
        parent[bank->index] = parent[parent[bank->index]->index];
        bank = parent[bank->index];
    }
    return bank;
}

static void join_two(const Entity **parent, const Entity *one, const Entity *other)
{
    const Entity *a = root_of(parent, one), *b = root_of(parent, other);
    parent[a->index > b->index ? a->index : b->index] = a->index > b->index ? b : a;
}

/* Banks belong together where one charges another, and where one source charges both: its energy is told once. */
static void join_banks(const Power *power, const Entity **parent)
{
    const Entity **charged = ARENA_ARRAY(power->work->scratch, const Entity *, power->model->entity_count + 1);
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        parent[bank->index] = bank;
    }
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        for (const Feed **feed = power_node(power, bank)->makers; feed != NULL && *feed != NULL; feed++) {
            const Entity *giver = charging_bank(power, *feed);
            const Entity **first = &charged[(*feed)->giver->index];
            if (bank->flags & ENTITY_DROPPED) {
                continue;
            }
            if (giver != NULL) {
                join_two(parent, giver, bank);
            } else if (*first != NULL) {
                join_two(parent, *first, bank);
            }
            *first = *first != NULL ? *first : bank;
        }
    }
}

/* Makes all banks, those of one group linked in the order of the spec; made is by Entity.index. */
static void make_banks(Power *power, const Entity **parent, GroupBank **made)
{
    GroupBank **last = ARENA_ARRAY(power->work->scratch, GroupBank *, power->model->entity_count + 1);
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (bank->flags & ENTITY_DROPPED) {
            continue;
        }
        uint32_t root = root_of(parent, bank)->index;
        made[bank->index] = make_bank(power, bank);
        if (last[root] != NULL) {
            last[root]->next = made[bank->index];
        }
        last[root] = made[bank->index];
    }
}

/* Groups */

static int place_in(const Group *group, const Entity *bank)
{
    for (int b = 0; b < group->bank_count; b++) {
        if (group->banks[b]->entity == bank) {
            return b;
        }
    }
    return -1;
}

static bool is_ready(const Power *power, const Group *group, const GroupBank *bank)
{
    for (const Feed **feed = power_node(power, bank->entity)->makers; *feed != NULL; feed++) {
        const Entity *giver = charging_bank(power, *feed);
        if (giver != NULL && giver != bank->entity && place_in(group, giver) < 0) {
            return false;
        }
    }
    return true;
}

/* Givers before takers; where banks charge one another in a ring, as the spec has them. */
static void order_banks(const Power *power, Group *group, GroupBank *members)
{
    while (members != NULL) {
        GroupBank **at = &members;
        while (*at != NULL && !is_ready(power, group, *at)) {
            at = &(*at)->next;
        }
        at = *at != NULL ? at : &members;
        GroupBank *placed = *at;
        *at = placed->next;
        placed->next = NULL;
        group->banks[group->bank_count++] = placed;
    }
}

static void fill_link(Power *power, Group *group, int number, const Feed *feed, int giver, int taker)
{
    Work *work = power->work;
    work_begin(work);
    Interval amps = use_value(work, feed->giver, PROP_CONVERTER_OUTPUT, 0).value;
    Interval keeps = use_value(work, feed->giver, PROP_CONVERTER_EFFICIENCY, 0).value;
    double out_v = bank_charge_volts(power, feed->taker->kind == KIND_BANK ? feed->taker : group->banks[taker]->entity);
    double most[CORNERS], ratio[CORNERS], carry[CORNERS];
    bool drains = entity_yes(feed->giver, PROP_CONVERTER_SURPLUS_ONLY) != 1;
    for (int c = 0; c < CORNERS; c++) {
        double in_v = fmax(1.0, end_of(group->banks[giver]->volts, c == WORSE));
        double share = work->state == STATE_KNOWN ? fmax(0.01, end_of(keeps, c == WORSE)) : 1.0;
        most[c] = work->state == STATE_KNOWN ? fmin(1e9, end_of(amps, c == WORSE)) : 0.0;
        ratio[c] = out_v / (in_v * share);
        carry[c] = fmax(1.0, end_of(group->banks[taker]->volts, c == WORSE)) / (in_v * share);
    }
    /* The taker gets the least of what is possible, and the giver is drained of the most. */
    group->links[WORSE][number] =
        (DayLink){giver, taker, most[WORSE], ratio[WORSE], most[BETTER], ratio[WORSE], drains, carry[WORSE]};
    group->links[BETTER][number] = (DayLink){giver,       taker,         most[BETTER], ratio[BETTER],
                                             most[WORSE], ratio[BETTER], drains,       carry[BETTER]};
    group->converters[number] = feed->giver;
}

static void find_links(Power *power, Group *group)
{
    Arena *arena = power->work->figures->arena;
    int most = 0;
    for (int b = 0; b < group->bank_count; b++) {
        most += (int)power_node(power, group->banks[b]->entity)->maker_count;
    }
    for (int c = 0; c < CORNERS; c++) {
        group->links[c] = ARENA_ARRAY(arena, DayLink, (size_t)most + 1);
    }
    group->converters = ARENA_ARRAY(arena, const Entity *, (size_t)most + 1);
    for (int b = 0; b < group->bank_count; b++) {
        for (const Feed **feed = power_node(power, group->banks[b]->entity)->makers; *feed != NULL; feed++) {
            const Entity *bank = charging_bank(power, *feed);
            int giver = bank != NULL ? place_in(group, bank) : -1;
            if (giver >= 0 && giver < b) {
                fill_link(power, group, group->link_count++, *feed, giver, b);
            }
        }
    }
}

/* Which is used first: the smaller. */
static int rank_of(const Entity *maker)
{
    switch (maker->kind) {
    case KIND_SOLAR: return 0;
    case KIND_CHARGER: return maker->mains & MAINS_GENERATOR && !(maker->mains & MAINS_SHORE) ? 2 : 1;
    case KIND_ALTERNATOR: return is_engineless(maker) ? 0 : 3;
    default: return -1;
    }
}

/* Once, though it may feed several banks. */
static void record_output(Power *power, const Feed *feed, const Entity *bank)
{
    if (figure_find(power->work->figures, feed->giver, FIGURE_OUTPUT, NULL) == NULL) {
        maker_output(power, feed, bank);
    }
}

static void find_sources(Power *power, Group *group)
{
    size_t most = 1;
    for (int b = 0; b < group->bank_count; b++) {
        most += power_node(power, group->banks[b]->entity)->maker_count;
    }
    group->sources = ARENA_ARRAY(power->work->figures->arena, GroupSource, most);
    for (int rank = 0; rank <= 3; rank++) {
        for (int b = 0; b < group->bank_count; b++) {
            for (const Feed **feed = power_node(power, group->banks[b]->entity)->makers; *feed != NULL; feed++) {
                if (rank_of((*feed)->giver) == rank) {
                    group->sources[group->source_count++] = (GroupSource){*feed, b};
                    record_output(power, *feed, group->banks[b]->entity);
                }
            }
        }
    }
}

static Group *make_group(Power *power, GroupBank *members)
{
    Group *group = ARENA_NEW(power->work->figures->arena, Group);
    order_banks(power, group, members);
    find_links(power, group);
    find_sources(power, group);
    return group;
}

static int count_members(const GroupBank *members)
{
    int count = 0;
    for (; members != NULL; members = members->next) {
        count++;
    }
    return count;
}

/* Days */

/* Cold cells: as cold as it may be that day, or where it says nothing aboard at all. */
static double cold_limit(Work *work, const GroupBank *bank, const Entity *day, int corner)
{
    int blocks = entity_yes(bank->entity, PROP_BANK_COLD_CUTOFF);
    bool worse = corner == WORSE;
    Chemistry chemistry;
    Interval air = use_air_aboard(work, day, PROP_DAY_TEMPERATURE);
    if (!bank_chemistry(bank->entity, &chemistry)) {
        return INFINITY;
    }
    double celsius = end_of(air, worse) - 273.15;
    double rate = battery_cold_limit_a_per_ah(chemistry, celsius);
    if (blocks == 0 || (blocks != 1 && !worse)) {
        return INFINITY; /* nothing stops it, or perhaps nothing does: the rule bank-management has its say */
    }
    return isinf(rate) ? INFINITY : battery_rate_a(rate, bank->alone[corner].model.capacity_coulomb);
}

static void add_sources(const Group *group, GroupDay *day, int b, int corner, DayTable *table)
{
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b) {
            for (int i = 0; i < DAY_STEPS; i++) {
                table->offered_a[i] += day->makers[s].amps.of[corner][i];
            }
        }
    }
}

static void fill_table(Power *power, const Group *group, GroupDay *day, int b, const Hours *watts)
{
    const GroupBank *bank = group->banks[b];
    for (int c = 0; c < CORNERS; c++) {
        DayTable *table = &day->tables[c * group->bank_count + b];
        double volts = end_of(bank->volts, c == WORSE);
        for (int i = 0; i < DAY_STEPS; i++) {
            table->load_a[i] = watts->of[c][i] / volts;
        }
        add_sources(group, day, b, c, table);
        table->most_a = cold_limit(power->work, bank, day->day, c);
        table->other_most_a = cold_limit(power->work, bank, day->day, c == WORSE ? BETTER : WORSE);
        day_finish(table, &bank->alone[c].model);
        day->table[c * group->bank_count + b] = table;
    }
}

static void worsen(State *state, const Figure *figure)
{
    if (figure != NULL && figure->state > *state) {
        *state = (State)figure->state;
    }
}

/* The first entry of the source that feeds a bank by entry s. */
static int first_of_source(const Group *group, int s)
{
    int first = 0;
    while (group->sources[first].feed->giver != group->sources[s].feed->giver) {
        first++;
    }
    return first;
}

static void offer(Power *power, const Group *group, GroupDay *day)
{
    for (int s = 0; s < group->source_count; s++) {
        const GroupSource *source = &group->sources[s];
        int first = first_of_source(group, s);
        if (first < s) {
            day->makers[s] = day->makers[first];
        } else {
            maker_offers(power, source->feed, group->banks[source->bank]->entity, day->day, &day->makers[s]);
            worsen(&day->state, day->makers[s].offered);
        }
    }
    for (int s = 0; s < group->source_count; s++) {
        Interval part = day->shares[s] = source_share(power, group, day->day, s).part;
        for (int c = 0; c < CORNERS && part.low < 1.0; c++) {
            for (int i = 0; i < DAY_STEPS; i++) {
                day->makers[s].amps.of[c][i] *= end_of(part, c == WORSE);
            }
        }
    }
}

static double sum_j(const double watts[DAY_STEPS])
{
    double sum = 0.0;
    for (int i = 0; i < DAY_STEPS; i++) {
        sum += watts[i] * DAY_STEP_S;
    }
    return sum;
}

static const Figure *record_use(Power *power, const Entity *bank, const Entity *day, Hours *watts)
{
    work_begin(power->work);
    bank_watts(power, bank, day, watts);
    Interval joule = {sum_j(watts->of[BETTER]), day_energy_j(sum_j(watts->of[WORSE]))};
    return work_record(power->work, FIGURE_DAILY_USE, bank, day, joule,
                       "sum of draw x count x time of use; behind an inverter over its efficiency, with its idle");
}

static const Figure *record_charge(Power *power, const Group *group, const GroupDay *day, int b)
{
    Work *work = power->work;
    const Entity *bank = group->banks[b]->entity;
    Interval joule = point(0.0);
    bool any = false;
    work_begin(work);
    if (power->maker_strays) {
        use_waiting(work);
    }
    for (int s = 0; s < group->source_count; s++) {
        if (group->sources[s].bank == b && day->makers[s].offered != NULL) {
            Interval offered = use_figure(work, day->makers[s].offered).value;
            joule = interval_add(joule, interval_multiply(offered, day->shares[s]));
            any = true;
            if (day->shares[s].low < 1.0) {
                bool by_use = source_share(power, group, day->day, s).by_use;
                use_fact(work, "what it gets of it, which feeds several banks", day->shares[s], UNIT_ALONE(UNIT_PERCENT),
                         by_use ? "in proportion to their daily-use: a choice of this program" : "alike: a choice of this program");
                use_shared(work, group, day->day, s);
            }
        }
    }
    any = use_passed(work, group, day, b, &joule) || any;
    if (any) {
        Quantity share = use_bank_value(work, bank, PROP_BANK_CHARGE_EFFICIENCY, BATTERY_CHARGE_EFFICIENCY,
                                        UNIT_ALONE(UNIT_PERCENT));
        joule = interval_multiply(joule, share.value);
    }
    return work_record(work, FIGURE_DAILY_CHARGE, bank, day->day, joule,
                       any ? "sum of what its sources offer it, times what charging keeps" : "no source brings it anything");
}

static void fill_day(Power *power, Group *group, GroupDay *day)
{
    Arena *arena = power->work->figures->arena;
    size_t cells = (size_t)(CORNERS * group->bank_count);
    day->makers = ARENA_ARRAY(arena, Maker, (size_t)group->source_count + 1);
    day->tables = ARENA_ARRAY(arena, DayTable, cells);
    day->table = ARENA_ARRAY(arena, const DayTable *, cells);
    day->shares = ARENA_ARRAY(arena, Interval, (size_t)group->source_count + 1);
    day->passed = ARENA_ARRAY(arena, Maker, (size_t)group->link_count + 1);
    Hours *watts = ARENA_ARRAY(power->work->scratch, Hours, (size_t)group->bank_count);
    for (int b = 0; b < group->bank_count; b++) {
        worsen(&day->state, record_use(power, group->banks[b]->entity, day->day, &watts[b]));
    }
    offer(power, group, day);
    group_passed(power, group, day, watts);
    for (int b = 0; b < group->bank_count; b++) {
        worsen(&day->state, record_charge(power, group, day, b));
        if (group->banks[b]->state > day->state) {
            day->state = group->banks[b]->state;
        }
        if (group->banks[b]->state == STATE_KNOWN) {
            fill_table(power, group, day, b, &watts[b]);
        }
    }
}

/* The banks' numbers of one corner, side by side: in runs that bound, then each alone. */
static DayBank *banks_of(Arena *arena, const Group *group, int corner)
{
    DayBank *banks = ARENA_ARRAY(arena, DayBank, 2 * (size_t)group->bank_count);
    for (int b = 0; b < group->bank_count; b++) {
        banks[b] = group->banks[b]->of[corner];
        banks[group->bank_count + b] = group->banks[b]->alone[corner];
    }
    return banks;
}

static void make_plans(Arena *arena, const Group *group, GroupDay *day, DayBank *const banks[])
{
    size_t sources = (size_t)group->source_count;
    day->sources = ARENA_ARRAY(arena, DaySource, sources * CORNERS + 1);
    for (int c = 0; c < CORNERS; c++) {
        DaySource *of = day->sources + (size_t)c * sources;
        for (size_t s = 0; s < sources; s++) {
            of[s] = (DaySource){group->sources[s].bank, day->makers[s].amps.of[c],
                                day->makers[s].amps.of[c == WORSE ? BETTER : WORSE]};
        }
        day->plan[c] = (DayPlan){.bank_count = group->bank_count,
                                 .bounds = true,
                                 .banks = banks[c],
                                 .alone = banks[c] + group->bank_count,
                                 .tables = day->table + c * group->bank_count,
                                 .link_count = group->link_count,
                                 .links = group->links[c],
                                 .source_count = group->source_count,
                                 .sources = of};
    }
}

static void fill_group(Power *power, Group *group, uint32_t day_count)
{
    Arena *arena = power->work->figures->arena;
    DayBank *banks[CORNERS] = {NULL};
    for (int c = 0; c < CORNERS; c++) {
        banks[c] = banks_of(arena, group, c);
    }
    group->days = ARENA_ARRAY(arena, GroupDay, day_count + 1);
    uint32_t d = 0;
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        group->days[d].day = day;
        fill_day(power, group, &group->days[d]);
        make_plans(arena, group, &group->days[d], banks);
        d++;
    }
}

GroupDay *group_day(const Group *group, const Entity *day)
{
    for (GroupDay *d = group->days; d->day != NULL; d++) {
        if (d->day == day) {
            return d;
        }
    }
    return NULL;
}

/* A group of the members, or where they are too many one of each. */
static void add_groups(Power *power, GroupBank *members, Group ***end)
{
    bool cut = count_members(members) > DAY_BANKS;
    while (members != NULL) {
        GroupBank *rest = cut ? members->next : NULL;
        if (cut) {
            members->next = NULL;
        }
        Group *group = make_group(power, members);
        group->cut = cut;
        **end = group;
        *end = &group->next;
        members = rest;
    }
}

PowerDays *power_groups(Power *power)
{
    Arena *arena = power->work->figures->arena;
    PowerDays *days = ARENA_NEW(arena, PowerDays);
    const Entity **parent = ARENA_ARRAY(power->work->scratch, const Entity *, power->model->entity_count + 1);
    GroupBank **made = ARENA_ARRAY(power->work->scratch, GroupBank *, power->model->entity_count + 1);
    join_banks(power, parent);
    make_banks(power, parent, made);
    Group **end = &days->first;
    for (const Entity *bank = power->model->first_of_kind[KIND_BANK]; bank != NULL; bank = bank->next_of_kind) {
        if (made[bank->index] != NULL && root_of(parent, bank) == bank) {
            add_groups(power, made[bank->index], &end);
        }
    }
    for (const Entity *day = power->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        days->day_count++;
    }
    for (Group *group = days->first; group != NULL; group = group->next) {
        fill_group(power, group, days->day_count);
    }
    return days;
}
