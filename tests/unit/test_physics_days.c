/*
 * Banks through days: conservation of charge, Peukert's published answers over time, the taper against its closed form,
 * endurance by hand, one bank that charges another, and that better and worse inputs bound what lies between.
 */
#include "unit/test_physics.h"

#include "physics/days.h"

#include <string.h>

#define AH COULOMB_PER_AH
#define HOUR 3600.0

/* A plan of up to two banks; its parts point into itself. */
typedef struct Small {
    DayBank banks[2];
    DayTable tables[2];
    const DayTable *table[2];
    DayLink link;
    DaySource source;
    DayPlan plan;
} Small;

static void finish(Small *small, int banks)
{
    for (int b = 0; b < banks; b++) {
        small->table[b] = &small->tables[b];
        day_finish(&small->tables[b], &small->banks[b].model);
    }
    small->source = (DaySource){.bank = 0, .offered_a = small->tables[0].offered_a};
    small->plan = (DayPlan){.bank_count = banks,
                            .banks = small->banks,
                            .tables = small->table,
                            .link_count = small->link.ratio > 0.0 ? 1 : 0,
                            .links = &small->link,
                            .source_count = 1,
                            .sources = &small->source};
}

/* One bank of lead without losses in charging; 100 Ah, half of it usable. */
static void plain_bank(Small *small, double exponent)
{
    *small =
        (Small){.banks = {{.model = {100.0 * AH, 20.0, exponent, 1.0, 25.0, 0.8, 1.0}, .least_share = 0.5}}};
    small->tables[0].most_a = INFINITY;
}

static void load_all_day(Small *small, double amps)
{
    for (int i = 0; i < DAY_STEPS; i++) {
        small->tables[0].load_a[i] = amps;
    }
}

static void spans_fall_into_their_steps(void **state)
{
    double share[DAY_STEPS] = {0};
    (void)state;
    day_add_span(share, 23.5 * HOUR, 1.0 * HOUR, 2.0);
    assert_near(share[94], 2.0, 1e-12);
    assert_near(share[95], 2.0, 1e-12);
    assert_near(share[0], 2.0, 1e-12);
    assert_near(share[1], 2.0, 1e-12);
    assert_near(share[2], 0.0, 1e-12);
    memset(share, 0, sizeof share);
    day_add_span(share, 600.0, 600.0, 1.0); /* from ten past to twenty past */
    assert_near(share[0], 300.0 / 900.0, 1e-12);
    assert_near(share[1], 300.0 / 900.0, 1e-12);
    memset(share, 0, sizeof share);
    day_add_span(share, 20.0 * HOUR, 24.0 * HOUR, 1.0);
    for (int i = 0; i < DAY_STEPS; i++) {
        assert_near(share[i], 1.0, 1e-12);
    }
}

/* 100 Ah, half usable, 2 A: 25 hours, by hand. 0.01 A: 5000 hours, most of them skipped. */
static void a_steady_load_lasts_as_long_as_worked_by_hand(void **state)
{
    double seconds;
    Small small;
    (void)state;
    plain_bank(&small, 1.0);
    load_all_day(&small, 2.0);
    finish(&small, 1);
    day_endure(&small.plan, &seconds);
    assert_near(seconds / HOUR, 25.0, 1e-9);
    load_all_day(&small, 0.01);
    finish(&small, 1);
    day_endure(&small.plan, &seconds);
    assert_within(seconds / HOUR, 5000.0, 1e-9);
    load_all_day(&small, 0.0);
    finish(&small, 1);
    day_endure(&small.plan, &seconds);
    assert_true(isinf(seconds));
}

/* Three evenings take all that is usable, to the last digit: then it lasts until the fourth begins. */
static void what_comes_to_its_limit_has_not_fallen_below(void **state)
{
    (void)state;
    for (int i = 0; i < 40; i++) {
        Small small;
        double seconds, ah = 200.0 + i, evening_a = 0.6 * ah / 15.0;
        plain_bank(&small, 1.0);
        small.banks[0].model.capacity_coulomb = ah * AH;
        small.banks[0].least_share = 0.4;
        day_add_span(small.tables[0].load_a, 18.0 * HOUR, 5.0 * HOUR, evening_a);
        finish(&small, 1);
        day_endure(&small.plan, &seconds);
        assert_near(seconds / HOUR, 3.0 * 24.0 + 18.0, 1e-3);
    }
}

/*
 * Manual of a battery monitor (verified): 10 A from 100 Ah with k 1.2 last 8.7055 h to the end; half of it, half that
 * time.
 */
static void a_steady_load_follows_peukert(void **state)
{
    double seconds;
    Small small;
    (void)state;
    plain_bank(&small, 1.2);
    load_all_day(&small, 10.0);
    finish(&small, 1);
    day_endure(&small.plan, &seconds);
    assert_near(seconds / HOUR, 8.7055 / 2.0, 0.0001);
}

/* The same from six in the evening to six in the morning: the law does not stop at midnight. */
static void a_steady_load_follows_peukert_through_the_night(void **state)
{
    Small evening, morning;
    DayBankTally tally;
    DayCharge charge = day_full;
    (void)state;
    plain_bank(&evening, 1.2);
    plain_bank(&morning, 1.2);
    for (int i = 0; i < 24; i++) {
        evening.tables[0].load_a[72 + i] = morning.tables[0].load_a[i] = 6.0;
    }
    finish(&evening, 1);
    finish(&morning, 1);
    day_run(&evening.plan, &charge, &tally, NULL);
    day_run(&morning.plan, &charge, &tally, NULL);
    assert_near(tally.lowest_share, 1.0 - 12.0 * peukert_effective_a(100.0 * AH, 20.0, 6.0, 1.2) / 100.0, 1e-9);
    assert_near(charge.share, 0.28, 1e-9);
    assert_near(charge.withheld, 0.0, 1e-12); /* it has rested since */
}

/*
 * By hand: 460 Ah, k 1.4; 95 A for an hour count as 95 x (95 / 23)^0.4 = 167.5 Ah of what can be had, but 95 Ah have gone, and
 * 18 A for ten hours, of which 85 % are kept, are more than enough to put them back.
 */
static void what_went_out_is_all_that_has_to_be_put_back(void **state)
{
    Small small = {.banks = {{.model = {460.0 * AH, 20.0, 1.4, 0.85, 115.0, 0.55, 4.6}, .least_share = 0.5}}};
    DayBankTally tally;
    DayCharge charge = day_full;
    double seconds;
    (void)state;
    small.tables[0].most_a = INFINITY;
    for (int i = 8; i < 48; i++) {
        small.tables[0].offered_a[i] = 18.0;
    }
    for (int i = 76; i < 80; i++) {
        small.tables[0].load_a[i] = 95.0;
    }
    finish(&small, 1);
    day_run(&small.plan, &charge, &tally, NULL);
    assert_near(charge.share, 1.0 - 95.0 / 460.0, 1e-9);
    assert_near(tally.lowest_share, 1.0 - 167.5 / 460.0, 1e-4);
    assert_true(day_balance_c(&small.plan, 0) > 0.0);
    day_endure(&small.plan, &seconds);
    assert_true(isinf(seconds));
}

/*
 * The straight taper is ds/dt = (a - b (s - s0)) / C: from s0 on, s = s0 + a/b (1 - exp(-b t / C)). 100 Ah, 25 A up to
 * 80 %, 1 A at full: a = 25 A, b = 24/0.2 = 120 A. Steps of a quarter of an hour are within 4 % of it.
 */
static void charging_tapers_by_the_closed_form(void **state)
{
    Small small;
    DayBankTally tally;
    DayCharge charge = {.share = 0.8};
    (void)state;
    plain_bank(&small, 1.0);
    for (int i = 0; i < 8; i++) { /* two hours */
        small.tables[0].offered_a[i] = 1000.0;
    }
    finish(&small, 1);
    day_run(&small.plan, &charge, &tally, NULL);
    double share = charge.share;
    double closed = 0.8 + 25.0 / 120.0 * (1.0 - exp(-120.0 / 100.0 * 2.0));
    assert_within(share - 0.8, closed - 0.8, 0.04);
    assert_near(tally.kept_c, (share - 0.8) * 100.0 * AH, 1e-6);
}

/* A cold day: 5 A may go in at most, however much is offered. */
static void the_cold_limits_charging(void **state)
{
    Small small;
    DayBankTally tally;
    DayCharge charge = {.share = 0.5};
    double refused = 0.0;
    (void)state;
    plain_bank(&small, 1.0);
    small.tables[0].most_a = 5.0;
    small.tables[0].offered_a[10] = 12.0;
    finish(&small, 1);
    day_run(&small.plan, &charge, &tally, &refused);
    assert_near(tally.kept_c, 5.0 * DAY_STEP_S, 1e-9);
    assert_near(refused, 7.0 * DAY_STEP_S, 1e-9);
}

/* Runs days of one bank from a state of charge; its lowest, and its state at each midnight. */
typedef struct Week {
    double midnight[4];
    double lowest;
    int lowest_step; /* from the beginning */
    double kept_c, out_c;
} Week;

static Week run_week(Small *small, double begin, int days)
{
    Week week = {.lowest = begin};
    DayCharge charge = {.share = begin};
    finish(small, 1);
    for (int day = 0; day < days; day++) {
        DayBankTally tally;
        day_run(&small->plan, &charge, &tally, NULL);
        week.midnight[day] = charge.share;
        week.kept_c += tally.kept_c;
        week.out_c += tally.out_c;
        if (tally.lowest_share < week.lowest) {
            week.lowest = tally.lowest_share;
            week.lowest_step = day * DAY_STEPS + tally.lowest_step;
        }
    }
    double change_c = (charge.share - begin) * small->banks[0].model.capacity_coulomb;
    assert_near(change_c / AH, (week.kept_c - week.out_c) / AH, 1e-9);
    return week;
}

/*
 * Computed apart from this program by the same model in steps of an hour: 400 Ah of AGM, k 1.12, 5 A always, 12 A from
 * eight to sixteen, three days. By hand: no step is near a limit but on the first day, when the bank fills.
 */
static void three_days_with_little_sun(void **state)
{
    Small small = {
        .banks = {{.model = {400.0 * AH, 20.0, 1.12, 0.90, 160.0, 0.85, 4.0}, .least_share = 0.5}}};
    (void)state;
    small.tables[0].most_a = INFINITY;
    load_all_day(&small, 5.0);
    for (int i = 32; i < 64; i++) {
        small.tables[0].offered_a[i] = 12.0;
    }
    Week week = run_week(&small, 1.0, 3);
    assert_near(week.midnight[0], 0.900, 0.0005);
    assert_near(week.midnight[1], 0.826, 0.0005);
    assert_near(week.midnight[2], 0.752, 0.0005);
    assert_near(week.lowest, 0.726, 0.0005);
    assert_int_equal(week.lowest_step, 4 * 56);
}

/*
 * Computed apart from this program, by the same model and in the same steps: 450 Ah of flooded cells, k 1.25, 6 A but 40 A
 * in the hour from eighteen, 60 A from nine to eleven and 8 A from eight to seventeen, four days from 90 %.
 */
static void four_days_with_an_engine(void **state)
{
    static const double midnight[] = {0.8236334052, 0.7914019289, 0.7708685325, 0.7544803156};
    Small small = {.banks = {{.model = {450.0 * AH, 20.0, 1.25, 0.85, 90.0, 0.80, 4.5}, .least_share = 0.5}}};
    (void)state;
    small.tables[0].most_a = INFINITY;
    for (int i = 0; i < DAY_STEPS; i++) {
        int hour = i / 4;
        small.tables[0].load_a[i] = hour == 18 ? 40.0 : 6.0;
        small.tables[0].offered_a[i] =
            (hour == 9 || hour == 10 ? 60.0 : 0.0) + (hour >= 8 && hour <= 16 ? 8.0 : 0.0);
    }
    Week week = run_week(&small, 0.90, 4);
    for (int day = 0; day < 4; day++) {
        assert_near(week.midnight[day], midnight[day], 1e-9);
    }
    assert_near(week.lowest, 0.6642018659, 1e-9);
    assert_int_equal(week.lowest_step, 4 * 80);
}

static double chance(uint64_t *seed, double low, double high)
{
    return low + (high - low) * random_below(seed, 1000000) / 1e6;
}

static void any_day(Small *small, uint64_t *seed)
{
    plain_bank(small, chance(seed, 1.0, 1.5));
    small->banks[0].model.efficiency = chance(seed, 0.8, 1.0);
    small->banks[0].model.capacity_coulomb = chance(seed, 20.0, 400.0) * AH;
    for (int i = 0; i < DAY_STEPS; i++) {
        small->tables[0].load_a[i] = random_below(seed, 3) == 0 ? chance(seed, 0.0, 40.0) : 2.0;
        small->tables[0].offered_a[i] = i > 30 && i < 70 ? chance(seed, 0.0, 30.0) : 0.0;
    }
}

/*
 * Charge is conserved, whatever the day: what is in the bank at the end is what was, plus what was kept, less what was
 * given; and what was offered went to loads, to the bank, or was refused.
 */
static void charge_is_conserved(void **state)
{
    uint64_t seed = 3;
    (void)state;
    for (int n = 0; n < 500; n++) {
        Small small;
        DayBankTally tally;
        double begin = chance(&seed, 0.0, 1.0), refused = 0.0;
        DayCharge charge = {.share = begin};
        any_day(&small, &seed);
        finish(&small, 1);
        day_run(&small.plan, &charge, &tally, &refused);
        double share = charge.share;
        const BatteryModel *model = &small.banks[0].model;
        double change = (share - begin) * model->capacity_coulomb;
        assert_within(model->capacity_coulomb + change,
                      model->capacity_coulomb + tally.kept_c - tally.out_c, 1e-9);
        double beyond = 0.0;
        for (int i = 0; i < DAY_STEPS; i++) {
            beyond += fmax(0.0, small.tables[0].offered_a[i] - small.tables[0].load_a[i]) * DAY_STEP_S;
        }
        assert_within(beyond, tally.kept_c / model->efficiency + tally.refused_c, 1e-9);
        assert_within(tally.refused_c + 1.0, refused + 1.0, 1e-9);
        assert_true(share >= 0.0 && share <= 1.0 && tally.lowest_share <= fmin(begin, share));
    }
}

/* A day that brings back what it takes goes on for ever; the end of the first day is not below its beginning. */
static void a_day_that_breaks_even_never_ends(void **state)
{
    double seconds;
    Small small;
    (void)state;
    plain_bank(&small, 1.0);
    load_all_day(&small, 1.0);
    for (int i = 40; i < 56; i++) {
        small.tables[0].offered_a[i] = 7.5;
    }
    finish(&small, 1);
    day_endure(&small.plan, &seconds);
    assert_true(isinf(seconds));
    assert_near(day_balance_c(&small.plan, 0), (7.5 * 4.0 - 24.0) * AH, 1.0);
    /* 5 A from 20:00 to midnight: 20 Ah down, 16 up. 100 - 4 n - 20 falls below 50 on the ninth day, n = 8, when 18 of its
     * 20 Ah are gone: at 18:00. */
    memset(small.tables[0].offered_a, 0, sizeof small.tables[0].offered_a);
    for (int i = 80; i < 96; i++) {
        small.tables[0].offered_a[i] = 5.0;
    }
    finish(&small, 1);
    day_endure(&small.plan, &seconds);
    assert_near(day_balance_c(&small.plan, 0), -4.0 * AH, 1.0);
    assert_within(seconds / HOUR, 8.0 * 24.0 + 18.0, 1e-6);
}

/* Two banks: the first has a source of 20 A and loads of 2 A, the second is empty by half and gets at most 10 A. */
static void a_bank_charges_another_from_its_surplus(void **state)
{
    Small small;
    DayBankTally tally[2];
    DayCharge charge[2] = {{.share = 0.9}, {.share = 0.5}};
    (void)state;
    plain_bank(&small, 1.0);
    small.banks[1] = small.banks[0];
    small.tables[1].most_a = INFINITY;
    load_all_day(&small, 2.0);
    for (int i = 40; i < 44; i++) {
        small.tables[0].offered_a[i] = 20.0;
    }
    small.link = (DayLink){.giver = 0, .taker = 1, .most_a = 10.0, .ratio = 1.25};
    finish(&small, 2);
    day_run(&small.plan, charge, tally, NULL);
    assert_near(tally[1].received_c, 10.0 * HOUR, 1e-6);
    assert_near(tally[0].passed_c, 12.5 * HOUR, 1e-6);
    assert_near(tally[0].kept_c, 5.5 * HOUR, 1e-6);
    assert_near(charge[1].share, 0.6, 1e-9);
    assert_near(tally[0].out_c, 2.0 * 23.0 * HOUR, 1e-6); /* nothing of its own charge */
}

/*
 * Conservation of charge, whatever the day: what the second bank gets has left the first, times the ratio; the first has gained
 * what its sources brought, less what was refused, what its loads took and what it gave; and it gives nothing of its charge below its
 * limit.
 */
static void what_one_bank_gives_of_its_charge_the_other_gets(void **state)
{
    uint64_t seed = 5;
    (void)state;
    for (int n = 0; n < 200; n++) {
        Small small;
        DayBankTally tally[2];
        DayCharge charge[2] = {{.share = chance(&seed, 0.4, 1.0)}, {.share = chance(&seed, 0.4, 1.0)}}, before[2];
        plain_bank(&small, 1.0);
        small.banks[1] = small.banks[0];
        small.tables[1].most_a = INFINITY;
        double sun = 0.0, load = 0.0;
        for (int i = 0; i < DAY_STEPS; i++) {
            small.tables[0].load_a[i] = chance(&seed, 0.0, 1.0);
            small.tables[0].offered_a[i] = n % 2 == 0 && i > 30 && i < 60 ? chance(&seed, 0.0, 20.0) : 0.0;
            small.tables[1].load_a[i] = i % 7 == 0 ? chance(&seed, 0.0, 20.0) : 0.0;
            sun += small.tables[0].offered_a[i] * DAY_STEP_S;
            load += small.tables[0].load_a[i] * DAY_STEP_S;
        }
        small.link = (DayLink){
            .giver = 0, .taker = 1, .most_a = 5.0, .ratio = 1.3, .drains = true, .carry_ratio = 1.3};
        finish(&small, 2);
        memcpy(before, charge, sizeof before);
        day_run(&small.plan, charge, tally, NULL);
        assert_near(tally[0].passed_c, 1.3 * tally[1].received_c, 1e-6 * tally[0].passed_c + 1e-9);
        double gained = (charge[0].share - before[0].share) * 100.0 * AH;
        assert_near(gained, sun - tally[0].refused_c - load - tally[0].passed_c, 1.0);
        assert_true(tally[0].drained_c <= tally[0].passed_c + 1e-6);
        if (before[0].share <= 0.5 && n % 2 == 1) {
            assert_near(tally[0].drained_c, 0.0, 1e-9);
        }
    }
}

/*
 * The giving bank has 50 Ah above its limit and loses 10 A and what it gives, 2 A: 4 h 10 min, within the first day. From then on the
 * other one has its own 50 Ah for 2 A: another 25 h. Nothing is settled before.
 */
static void the_end_of_the_giving_bank_is_not_that_of_the_other(void **state)
{
    Small small;
    double seconds[2];
    (void)state;
    plain_bank(&small, 1.0);
    small.banks[1] = small.banks[0];
    small.tables[1].most_a = INFINITY;
    load_all_day(&small, 10.0);
    for (int i = 0; i < DAY_STEPS; i++) {
        small.tables[1].load_a[i] = 2.0;
    }
    small.link = (DayLink){.giver = 0, .taker = 1, .most_a = 20.0, .ratio = 1.0, .drains = true, .carry_ratio = 1.0};
    finish(&small, 2);
    day_endure(&small.plan, seconds);
    assert_near(seconds[0], 50.0 / 12.0 * HOUR, 1.0);
    assert_near(seconds[1], 50.0 / 12.0 * HOUR + 25.0 * HOUR, DAY_STEP_S); /* of the last step it gives nothing */
}

/*
 * 50 Ah above its limit, and two others that ask 220 A each, of which either would be too much for one step: it is both
 * that end it, after 50 / 440 h, in whatever order they come.
 */
static void all_that_others_ask_together_ends_a_bank(void **state)
{
    Small small;
    double seconds[3];
    (void)state;
    plain_bank(&small, 1.0);
    DayBank banks[] = {small.banks[0], small.banks[0], small.banks[0]};
    DayTable tables[3] = {{.most_a = INFINITY}, {.most_a = INFINITY}, {.most_a = INFINITY}};
    const DayTable *table[] = {&tables[0], &tables[1], &tables[2]};
    const DayLink links[] = {
        {.giver = 0, .taker = 1, .most_a = 300.0, .ratio = 1.0, .drains = true, .carry_ratio = 1.0},
        {.giver = 0, .taker = 2, .most_a = 300.0, .ratio = 1.0, .drains = true, .carry_ratio = 1.0},
    };
    for (int b = 0; b < 3; b++) {
        tables[b].load_a[0] = b > 0 ? 220.0 : 0.0;
        day_finish(&tables[b], &banks[b].model);
    }
    day_endure(&(DayPlan){.bank_count = 3, .banks = banks, .tables = table, .link_count = 2, .links = links}, seconds);
    assert_near(seconds[0], 50.0 / 440.0 * HOUR, 1e-6);
}

/* A full bank that a converter keeps full takes 10 A for an hour, all of them from the first, where they count by Peukert. */
static void what_is_carried_counts_by_peukert(void **state)
{
    Small small;
    DayBankTally tally[2];
    DayCharge charge[2] = {day_full, day_full};
    (void)state;
    plain_bank(&small, 1.2);
    small.banks[1] = small.banks[0];
    small.tables[1].most_a = INFINITY;
    for (int i = 0; i < 4; i++) {
        small.tables[1].load_a[i] = 10.0;
    }
    small.link =
        (DayLink){.giver = 0, .taker = 1, .most_a = 20.0, .ratio = 1.3, .drains = true, .carry_ratio = 1.0};
    finish(&small, 2);
    day_run(&small.plan, charge, tally, NULL);
    assert_near(charge[1].share, 1.0, 1e-12);
    assert_near(tally[0].passed_c, 10.0 * HOUR, 1e-6);
    assert_near(tally[0].out_c, 10.0 * HOUR, 1e-6);
    assert_near(tally[0].lowest_share, 1.0 - peukert_effective_a(100.0 * AH, 20.0, 10.0, 1.2) / 100.0, 1e-9);
}

/*
 * Corners bound: with every input somewhere between worse and better, the charge at the lowest and at the end, the
 * balance and the endurance lie between those of the two corners.
 */
static void worse_and_better_bound_what_lies_between(void **state)
{
    uint64_t seed = 17;
    (void)state;
    for (int n = 0; n < 300; n++) {
        Small worse, better, between;
        any_day(&worse, &seed);
        better = worse;
        BatteryModel *good = &better.banks[0].model;
        good->capacity_coulomb *= chance(&seed, 1.0, 2.0);
        good->acceptance_a *= chance(&seed, 1.0, 2.0);
        good->tail_a *= chance(&seed, 1.0, 2.0);
        good->efficiency += (1.0 - good->efficiency) * chance(&seed, 0.0, 1.0);
        good->exponent = 1.0 + (good->exponent - 1.0) * chance(&seed, 0.0, 1.0);
        better.banks[0].least_share = 0.5 * chance(&seed, 0.5, 1.0);
        double more = chance(&seed, 1.0, 1.6), less = chance(&seed, 0.5, 1.0);
        for (int i = 0; i < DAY_STEPS; i++) {
            better.tables[0].offered_a[i] *= more;
            better.tables[0].load_a[i] *= less;
        }
        between = worse;
        BatteryModel *some = &between.banks[0].model, *bad = &worse.banks[0].model;
        some->capacity_coulomb = chance(&seed, bad->capacity_coulomb, good->capacity_coulomb);
        some->acceptance_a = chance(&seed, bad->acceptance_a, good->acceptance_a);
        some->tail_a = chance(&seed, bad->tail_a, good->tail_a);
        some->efficiency = chance(&seed, bad->efficiency, good->efficiency);
        some->exponent = chance(&seed, good->exponent, bad->exponent);
        between.banks[0].least_share = chance(&seed, better.banks[0].least_share, 0.5);
        for (int i = 0; i < DAY_STEPS; i++) {
            between.tables[0].offered_a[i] =
                chance(&seed, worse.tables[0].offered_a[i], better.tables[0].offered_a[i]);
            between.tables[0].load_a[i] =
                chance(&seed, better.tables[0].load_a[i], worse.tables[0].load_a[i]);
        }
        Small *all[] = {&worse, &between, &better};
        double share[3], lowest[3], balance[3], seconds[3];
        double begin = chance(&seed, 0.2, 1.0);
        for (int i = 0; i < 3; i++) {
            DayBankTally tally;
            finish(all[i], 1);
            DayCharge charge = {.share = begin};
            day_run(&all[i]->plan, &charge, &tally, NULL);
            share[i] = charge.share;
            lowest[i] = tally.lowest_share;
            balance[i] = day_balance_c(&all[i]->plan, 0);
            day_endure(&all[i]->plan, &seconds[i]);
        }
        for (int i = 0; i < 2; i++) {
            assert_true(share[i] <= share[i + 1] + 1e-12);
            assert_true(lowest[i] <= lowest[i + 1] + 1e-12);
            assert_true(seconds[i] <= seconds[i + 1] + 1e-6);
            assert_true(balance[i] <= balance[i + 1] + 1e-6);
        }
    }
}

/* One bank carries the loads of another, for runs that bound: all but sizes may be open. */
static void carrying_day(Small *small, uint64_t *seed)
{
    plain_bank(small, chance(seed, 1.0, 1.5));
    small->banks[1] = small->banks[0];
    small->banks[0].least_share = chance(seed, 0.3, 0.6);
    small->tables[1].most_a = INFINITY;
    for (int i = 0; i < DAY_STEPS; i++) {
        small->tables[0].load_a[i] = random_below(seed, 4) == 0 ? chance(seed, 0.0, 20.0) : 0.0;
        small->tables[0].offered_a[i] = i > 30 && i < 70 ? chance(seed, 0.0, 20.0) : 0.0;
        small->tables[1].load_a[i] = random_below(seed, 2) == 0 ? chance(seed, 0.0, 30.0) : 1.0;
    }
    small->link = (DayLink){.giver = 0, .taker = 1, .most_a = chance(seed, 5.0, 40.0), .ratio = 1.0, .drains = true, .carry_ratio = 1.0};
}

static void set_bounds(Small *small, const Small *other)
{
    small->plan.bounds = true;
    small->link.other_most_a = other->link.most_a;
    small->link.other_ratio = other->link.ratio;
    for (int b = 0; b < 2; b++) {
        BatteryModel *model = &small->banks[b].model;
        small->banks[b].bounds = (DayBounds){.other_least_share = other->banks[b].least_share,
                                             .told_coulomb = model->capacity_coulomb,
                                             .counted_coulomb = model->capacity_coulomb,
                                             .acceptance_a = model->acceptance_a,
                                             .taper_begins = model->taper_begins,
                                             .tail_a = model->tail_a};
        small->tables[b].other_most_a = small->tables[b].most_a;
    }
}

static void what_others_ask_of_a_bank_is_bounded_too(void **state)
{
    uint64_t seed = 29;
    (void)state;
    for (int n = 0; n < 400; n++) {
        Small worse, better, between;
        carrying_day(&worse, &seed);
        better = between = worse;
        double less = chance(&seed, 0.3, 1.0), some = chance(&seed, less, 1.0);
        better.banks[0].model.exponent = 1.0 + (worse.banks[0].model.exponent - 1.0) * chance(&seed, 0.0, 1.0);
        between.banks[0].model.exponent = chance(&seed, better.banks[0].model.exponent, worse.banks[0].model.exponent);
        better.banks[0].least_share *= n % 2 == 0 ? less : 1.0;
        between.banks[0].least_share *= n % 2 == 0 ? some : 1.0;
        better.link.most_a *= 1.5;
        between.link.most_a *= chance(&seed, 1.0, 1.5);
        for (int i = 0; i < DAY_STEPS; i++) {
            for (int b = 0; b < 2; b++) {
                better.tables[b].load_a[i] *= less;
                between.tables[b].load_a[i] *= some;
            }
        }
        Small *all[] = {&worse, &between, &better}, *other[] = {&better, &between, &worse};
        DayCharge charge[3][2];
        double lowest[3][2], begin = chance(&seed, 0.4, 1.0);
        for (int i = 0; i < 3; i++) {
            finish(all[i], 2);
            set_bounds(all[i], other[i]);
            charge[i][0] = charge[i][1] = (DayCharge){.share = begin};
        }
        for (int day = 0; day < 3; day++) {
            for (int i = 0; i < 3; i++) {
                DayBankTally tally[2];
                day_run(&all[i]->plan, charge[i], tally, NULL);
                lowest[i][0] = tally[0].lowest_share;
                lowest[i][1] = tally[1].lowest_share;
            }
            for (int i = 0; i < 2; i++) {
                for (int b = 0; b < 2; b++) {
                    assert_true(charge[i][b].share <= charge[i + 1][b].share + 1e-12);
                    assert_true(lowest[i][b] <= lowest[i + 1][b] + 1e-12);
                }
            }
        }
    }
}

/* A number from 0 to 1, the next one of a row. */
static double drawn(unsigned *row)
{
    *row = *row * 1664525u + 1013904223u;
    return (*row >> 8) / 16777216.0;
}

/* A day with bursts, and another with more and longer loads, less and shorter sources. */
static void draw_bursts(unsigned *row, Small *better, Small *worse, DayBurst of_better[], DayBurst of_worse[])
{
    for (int step = 0; step < DAY_STEPS; step++) {
        double load = 8.0 * drawn(row), sun = 8.0 * drawn(row);
        better->tables[0].load_a[step] = load;
        worse->tables[0].load_a[step] = load + drawn(row);
        better->tables[0].offered_a[step] = worse->tables[0].offered_a[step] = sun;
        for (int i = 0; i < 3 && drawn(row) < 0.3; i++) {
            bool source = drawn(row) < 0.4;
            double less = drawn(row), more = less + (1.05 - less) * drawn(row), amps = 90.0 * drawn(row);
            double shares[2] = {source ? fmin(more, 1.0) : less, source ? less : fmin(more, 1.0)};
            for (int b = 0; b < 2; b++) {
                DayTable *table = b == 0 ? &better->tables[0] : &worse->tables[0];
                (source ? table->offered_a : table->load_a)[step] += amps * shares[b];
                table->burst_count = day_add_burst(b == 0 ? of_better : of_worse, table->burst_count,
                                                   (DayBurst){step, source ? 0 : -1, shares[b], source ? -amps : amps});
            }
        }
    }
    better->tables[0].bursts = of_better;
    worse->tables[0].bursts = of_worse;
}

/* What begins or ends within a step keeps the order that physics/days.h tells, day after day. */
static void more_and_longer_bursts_never_leave_more(void **state)
{
    unsigned row = 1;
    (void)state;
    for (int pair = 0; pair < 300; pair++) {
        DayBurst of_better[3 * DAY_STEPS], of_worse[3 * DAY_STEPS];
        Small better, worse;
        double exponent = 1.0 + 0.3 * drawn(&row);
        plain_bank(&better, exponent);
        plain_bank(&worse, exponent);
        if (pair % 2 == 1) { /* as lithium: nearly all of it until it is nearly full */
            better.banks[0].model.acceptance_a = worse.banks[0].model.acceptance_a = 95.0;
            better.banks[0].model.taper_begins = worse.banks[0].model.taper_begins = 0.95;
            better.banks[0].model.tail_a = worse.banks[0].model.tail_a = 5.0;
        }
        worse.banks[0].model.efficiency = 0.85 + 0.15 * drawn(&row);
        draw_bursts(&row, &better, &worse, of_better, of_worse);
        finish(&better, 1);
        finish(&worse, 1);
        DayCharge best = {.share = 1.0 - 0.5 * drawn(&row) * (pair % 3)}, worst = {.share = best.share * (1.0 - 0.01 * drawn(&row))};
        for (int day = 0; day < 5; day++) {
            DayBankTally of_best, of_worst;
            day_run(&better.plan, &best, &of_best, NULL);
            day_run(&worse.plan, &worst, &of_worst, NULL);
            assert_true(worst.share <= best.share + 1e-12);
            assert_true(worst.share - worst.withheld <= best.share - best.withheld + 1e-12);
            assert_true(of_worst.lowest_share <= of_best.lowest_share + 1e-12);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(more_and_longer_bursts_never_leave_more),
        cmocka_unit_test(spans_fall_into_their_steps),
        cmocka_unit_test(a_steady_load_lasts_as_long_as_worked_by_hand),
        cmocka_unit_test(what_comes_to_its_limit_has_not_fallen_below),
        cmocka_unit_test(a_steady_load_follows_peukert),
        cmocka_unit_test(a_steady_load_follows_peukert_through_the_night),
        cmocka_unit_test(what_went_out_is_all_that_has_to_be_put_back),
        cmocka_unit_test(charging_tapers_by_the_closed_form),
        cmocka_unit_test(the_cold_limits_charging),
        cmocka_unit_test(three_days_with_little_sun),
        cmocka_unit_test(four_days_with_an_engine),
        cmocka_unit_test(charge_is_conserved),
        cmocka_unit_test(a_day_that_breaks_even_never_ends),
        cmocka_unit_test(a_bank_charges_another_from_its_surplus),
        cmocka_unit_test(what_one_bank_gives_of_its_charge_the_other_gets),
        cmocka_unit_test(what_is_carried_counts_by_peukert),
        cmocka_unit_test(all_that_others_ask_together_ends_a_bank),
        cmocka_unit_test(the_end_of_the_giving_bank_is_not_that_of_the_other),
        cmocka_unit_test(worse_and_better_bound_what_lies_between),
        cmocka_unit_test(what_others_ask_of_a_bank_is_bounded_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
