/*
 * A bank's own numbers for the runs of its days: what it holds, takes and keeps, in bounds that hold for
 * every size that it may have, and alone at either end of its size. physics/days.h runs them.
 */
#include "figures/power_days.h"

#include <math.h>

static double finite_charge(double coulomb)
{
    return fmax(1.0, fmin(coulomb, DAY_ENDLESS_COULOMB));
}

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

Interval use_lasting(Work *work, const Entity *bank, Interval capacity, Interval least, Interval amps)
{
    Interval exponent = interval_max(point(1.0), use_peukert(work, bank).value);
    return (Interval){battery_lasting_s(capacity.low, 1.0 - least.high, BATTERY_RATED_HOURS, amps.high, exponent.high),
                      battery_lasting_s(capacity.high, 1.0 - least.low, BATTERY_RATED_HOURS, amps.low, exponent.low)};
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
 * By what the other end of its size takes the bank that another one charges drains that. Where something else caps the current,
 * a larger one does not take more at each lack: all that it may take counts there, or nothing.
 */
static void set_other_size(DayBank *bank, const Size *size, Chemistry chemistry, bool worse)
{
    double charge = end_of(size->coulomb, worse), other_charge = end_of(size->coulomb, !worse);
    BatteryModel other;
    set_curve(&other, &(Size){.coulomb = point(other_charge), .accepts_a = size->accepts_a}, chemistry, !worse, charge);
    other.acceptance_a = size->capped && !worse ? 0.0 : other.acceptance_a;
    bank->bounds.acceptance_a = other.acceptance_a;
    bank->bounds.tail_a = size->capped ? other.acceptance_a : other.tail_a;
    bank->bounds.taper_begins = size->capped ? bank->model.taper_begins : other.taper_begins;
    bank->bounds.other_larger = other_charge / charge - 1.0;
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
    bank->bounds = (DayBounds){.told_coulomb = charge, .counted_coulomb = charge};
    set_other_size(bank, size, chemistry, worse);
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

GroupBank *make_group_bank(Power *power, const Entity *entity)
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
