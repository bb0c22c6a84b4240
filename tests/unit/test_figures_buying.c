/*
 * Figures of money by system and of what suppliers kept, and the months in which money is due; sums and days are worked out
 * beside them. compile_text judges as of 2027-03-01.
 */
#include "check.h"
#include "compile.h"

#include "output/bom_list.h"
#include "output/bom_text.h"
#include "output/money_months.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define BOAT                                                                                                   \
    "edition 1\n"                                                                                              \
    "boat wren \"Wren\" { length 9.5 m; beam 3.1 m; displacement 5200 kg; crew 2; currency EUR; basis us; " \
    "contingency 10 % }\n"                                                                                     \
    "supplier quay { lead 2 week }\n"

static void expect(const Compiled *c, const char *subject, FigureId id, const char *at, double low, double high)
{
    Figure merged;
    assert_true(outcome_figure(c->outcome, str_from(subject), id, str_from(at), &merged));
    assert_near(merged.low, low, 1e-9 * (1.0 + high));
    assert_near(merged.high, high, 1e-9 * (1.0 + high));
}

#define PURCHASES                                                                                            \
    BOAT "item cup { system cabin; price 10 EUR; count 16; ordered 2027-01-02; promised 2027-04-10; "        \
         "arrived 2027-02-01 of 6 }\n"                                                                       \
         "item pot { system cabin; price 5..8 EUR; fitted 2026-12-24 }\n"                                    \
         "item pan { system hull; quote 30 EUR; count 2 }\n"                                                 \
         "item lid { system hull; price 7 EUR; spare 1 }\n"                                                  \
         "item rug { system hull; price 9 EUR; status dropped }\n"

/* cabin: 160 of cups and 5..8 bound, of it 60 and 5..8 paid; hull: 60 offered, and 14 more to buy. */
static void money_is_told_of_each_system(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, PURCHASES);
    expect(&c, "wren", FIGURE_COMMITTED, "cabin", 165.0, 168.0);
    expect(&c, "wren", FIGURE_PAID, "cabin", 65.0, 68.0);
    expect(&c, "wren", FIGURE_STILL_TO_BUY, "cabin", 0.0, 0.0);
    expect(&c, "wren", FIGURE_QUOTED, "hull", 60.0, 60.0);
    expect(&c, "wren", FIGURE_STILL_TO_BUY, "hull", 74.0, 74.0);
    expect(&c, "wren", FIGURE_CONTINGENCY, "hull", 7.4, 7.4);
    expect(&c, "wren", FIGURE_PAID, "", 65.0, 68.0);
    expect(&c, "wren", FIGURE_QUOTED, "", 60.0, 60.0);
    compile_free(&c);
}

/* Two of two or three have come, and nothing says that the spare one has: two are paid, however many are wanted. */
static void what_may_not_all_have_come_is_paid_in_part(void **state)
{
    (void)state;
    Compiled c;
#define BATTERIES(COUNT) BOAT "item cell { price 100 EUR; count " COUNT "; spare 1; arrived 2027-02-01 of 2 }\n"
    compile_text(&c, BATTERIES("2..3"));
    expect(&c, "wren", FIGURE_PAID, "", 200.0, 200.0);
    compile_free(&c);
    compile_text(&c, BATTERIES("3"));
    expect(&c, "wren", FIGURE_PAID, "", 200.0, 200.0);
    compile_free(&c);
}

static Interval in_month(const MoneyMonth *list, int year, int month, MoneyDue due)
{
    for (; list != NULL; list = list->next) {
        if (list->year == year && list->month == month) {
            return list->of[due];
        }
    }
    return point(0.0);
}

/* Dated lines say how many: 100 EUR each, nothing offered for sale. */
static void what_has_come_is_paid_and_no_more(void **state)
{
    (void)state;
    static const struct {
        const char *says;
        double paid, lost; /* lost: on what went back, or in vain */
    } rows[] = {
        {"count 1; spare 2; ordered 2026-12-10; arrived 2027-01-08 of 1", 100.0, 0.0}, /* two spares are on their way */
        {"count 1; spare 2; ordered 2026-12-10; arrived 2027-01-08 of 3", 300.0, 0.0},
        {"count 1; spare 2; ordered 2026-12-10; arrived 2027-01-08", 300.0, 0.0},
        {"count 1; spare 2; status here", 300.0, 0.0},
        {"count 4; ordered 2026-12-10; fitted 2027-01-20 of 2", 200.0, 0.0}, /* what is fitted has come */
        {"count 2; ordered 2026-12-10; arrived 2027-01-08 of 1; status returned; refunded 80 EUR", 0.0, 20.0},
        {"count 2; ordered 2026-12-10; arrived 2027-01-08 of 1; status dropped; refunded 80 EUR", 0.0, 20.0},
        {"count 2; status returned; refunded 80 EUR", 0.0, 120.0}, /* nothing goes back that never came */
        {"ordered 2026-12-10; status dropped", 0.0, 0.0},          /* called off: what is on order is owed, not paid */
        {"ordered 2026-12-10; status dropped; refunded 0 EUR", 0.0, 100.0}, /* paid in advance, and gone */
        {"ordered 2026-12-10; status dropped; refunded 100 EUR", 0.0, 0.0},
        {"ordered 2026-12-10; status dropped; deposit 30 EUR", 0.0, 30.0}, /* in part, and gone */
        {"ordered 2026-12-10; status dropped; deposit 30 EUR; refunded 10 EUR", 0.0, 20.0},
        {"ordered 2026-12-10; status lost; deposit 30 EUR", 0.0, 30.0},
        {"ordered 2026-12-10; status lost; deposit 30 EUR; refunded 50 EUR", 0.0, 0.0},
        {"count 2; ordered 2026-12-10; status lost; refunded 50 EUR", 0.0, 150.0}, /* all was paid, for something came back */
        {"ordered 2026-12-10; deposit 30 EUR", 0.0, 0.0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text, "%sitem lamp { price 100 EUR; %s }\n", BOAT, rows[i].says);
        compile_text(&c, text);
        assert_int_equal(c.spec->messages.count, 0);
        expect(&c, "wren", FIGURE_PAID, "", rows[i].paid, rows[i].paid);
        const Figure *lost = compiled_figure(&c, "wren", FIGURE_LOST_ON_RETURNS);
        lost = lost != NULL ? lost : compiled_figure(&c, "wren", FIGURE_PAID_IN_VAIN);
        assert_true(lost == NULL ? rows[i].lost == 0.0 : lost->low == rows[i].lost && lost->high == rows[i].lost);
        compile_free(&c);
    }
}

/* Who has closed with a deposit: 900 to buy again and 300 gone; without a word of it 0 to 900 are. */
static void what_is_lost_is_bought_again_and_its_deposit_is_gone(void **state)
{
    (void)state;
#define LOST(SAYS) \
    BOAT "supplier gone { closed 2026-12-20 }\nsupplier other { lead 2 week }\ngoal purse { budget 1000 EUR }\n" \
         "item sail { price 900 EUR; ordered 2026-12-10; promised 2027-01-10; " SAYS " }\njob bend { takes 1 d; needs sail }\n"
    Compiled c;
    compile_text(&c, LOST("supplier other; status lost; deposit 300 EUR"));
    assert_int_equal(c.spec->messages.count, 0);
    expect(&c, "wren", FIGURE_STILL_TO_BUY, "", 900.0, 900.0);
    expect(&c, "wren", FIGURE_COST, "", 1290.0, 1290.0); /* 10 % of contingency on the 900 */
    assert_null(compiled_finding(&c, "late"));
    assert_null(compiled_finding(&c, "supplier-closed"));
    assert_non_null(compiled_figure(&c, "sail", FIGURE_ORDER_BY)); /* the plan orders it anew */
    BomList *buy = bom_list(&c.arena, c.outcome, (BomRequest){.by = BOM_BY_SUPPLIER, .to_buy = true});
    assert_non_null(buy->groups);
    assert_str(entity_name(buy->groups->first->of->model, buy->groups->first->entity), "sail");
    compile_free(&c);
    compile_text(&c, LOST("supplier other; status lost"));
    expect(&c, "wren", FIGURE_COST, "", 990.0, 1890.0);
    for (const Finding *f = c.outcome->findings; f != NULL; f = f->next) {
        bool asks = strcmp(f->rule->name, "over-budget") == 0 || strcmp(f->rule->name, "supplier-closed") == 0;
        assert_true(!asks || strcmp(f->depends->text, "sail.deposit") == 0);
    }
    assert_int_equal(compiled_finding(&c, "over-budget")->verdict, VERDICT_OPEN);
    assert_int_equal(compiled_finding(&c, "supplier-closed")->verdict, VERDICT_OPEN);
    compile_free(&c);
    compile_text(&c, LOST("supplier gone"));
    assert_string_equal(compiled_finding(&c, "supplier-closed")->message,
                        "`sail` is on order from `gone`, who closed on 2026-12-20: it does not come any more, and counts as lost and to be bought again");
    compile_free(&c);
    /* What is said of it goes together: plan, list, cost, and one remedy. */
    compile_text(&c, LOST("supplier gone; deposit 300 EUR"));
    expect(&c, "wren", FIGURE_COST, "", 1290.0, 1290.0);
    expect(&c, "wren", FIGURE_LOST_ON_RETURNS, "", 300.0, 300.0);
    assert_non_null(compiled_figure(&c, "sail", FIGURE_ORDER_BY));
    assert_null(compiled_finding(&c, "late"));
    assert_null(compiled_finding(&c, "promised-not-ordered"));
    buy = bom_list(&c.arena, c.outcome, (BomRequest){.by = BOM_BY_SUPPLIER, .to_buy = true});
    assert_string_equal(bom_group_title(&c.arena, buy, buy->groups), "gone, closed 2026-12-20");
    compile_free(&c);
    compile_text(&c, LOST("supplier gone; status shipped"));
    assert_null(compiled_finding(&c, "late"));
    assert_int_equal(compiled_finding(&c, "supplier-closed")->verdict, VERDICT_BROKEN);
    compile_free(&c);
    compile_text(&c, LOST("supplier gone; status lost; deposit 0 EUR"));
    assert_string_equal(compiled_finding(&c, "supplier-closed")->message, "`sail` is to be bought from `gone`, who closed on 2026-12-20");
    compile_free(&c);
    compile_text(&c, LOST("supplier gone; count 2; arrived 2026-12-18 of 1"));
    assert_non_null(strstr(compiled_finding(&c, "supplier-closed")->message, "what is missing of it does not come"));
    compile_free(&c);
    compile_text(&c, LOST("supplier gone; arrived 2026-12-18"));
    assert_null(compiled_finding(&c, "supplier-closed"));
    compile_free(&c);
}

/* The design is here, and its spares are not: no job waits for them, and the owner is told of them. */
static void spares_that_have_not_come_are_late_and_stop_nothing(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "item lamp { price 100 EUR; spare 2; ordered 2026-12-10; promised 2027-01-10; arrived 2027-01-08 of 1 }\n"
                          "job fit { takes 1 d; needs lamp }\n");
    const Finding *late = compiled_finding(&c, "late");
    assert_non_null(late);
    assert_string_equal(late->message, "`lamp` is 50 days late: promised for 2027-01-10 (1 of 3 are here); what is still to come are spares");
    assert_null(compiled_figure(&c, "lamp", FIGURE_ARRIVAL));
    const MoneyMonth *list = money_months(&c.arena, c.outcome);
    assert_near(in_month(list, 2027, 1, DUE_CAME).high, 100.0, 1e-9);
    assert_near(in_month(list, 2027, 3, DUE_OWED).low, 200.0, 1e-9); /* its promise has passed: now */
    compile_free(&c);
}

/* All came, and how many those are is not decided: what is wanted at the least came at the least, and no more is known. */
static void all_of_an_undecided_number_are_no_more_than_that_number(void **state)
{
    (void)state;
    static const struct {
        const char *says;
        double low, high; /* cost and paid, at 10 EUR each */
    } rows[] = {
        {"count 2..6; arrived 2027-02-01", 20.0, 60.0},
        {"count 2..6; fitted 2027-02-01", 20.0, 60.0},
        {"count 2..6; arrived 2027-01-20 of 3; arrived 2027-02-01", 30.0, 60.0},
        {"count 4; arrived 2027-02-01", 40.0, 40.0},
        {"count >= 2; arrived 2027-02-01", 20.0, INFINITY},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text, "%sgoal purse { budget 50 EUR }\nitem lamps { price 10 EUR; %s }\n", BOAT, rows[i].says);
        compile_text(&c, text);
        static const FigureId sums[] = {FIGURE_COST, FIGURE_COMMITTED, FIGURE_PAID};
        for (size_t s = 0; s < 3; s++) {
            Figure merged;
            assert_true(outcome_figure(c.outcome, STR("wren"), sums[s], STR(""), &merged));
            assert_near(merged.low, rows[i].low, 1e-9);
            assert_true(isinf(rows[i].high) ? isinf(merged.high) : merged.high == rows[i].high);
        }
        const Finding *finding = compiled_finding(&c, "over-budget");
        assert_int_equal(finding != NULL, rows[i].high > 50.0);
        assert_true(finding == NULL || finding->verdict == VERDICT_OPEN);
        compile_free(&c);
    }
}

/* A price more can only raise the sum: what is over the budget already is less to buy, and no bound of what has no price yet. */
static void a_price_more_does_not_meet_a_budget(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "goal purse { budget 100 EUR }\nitem lamp { price 150 EUR }\nitem hook { price 20 EUR }\nitem mat { mass 1 kg }\n");
    const Finding *finding = compiled_finding(&c, "over-budget");
    assert_int_equal(finding->verdict, VERDICT_BROKEN);
    assert_string_equal(finding->remedies->text, "less to buy: the dearest that is not bought yet is `lamp`, for 150.00 EUR");
    assert_null(finding->remedies->next);
    compile_free(&c);
    compile_text(&c, BOAT "goal purse { budget 100 EUR }\nitem lamp { price 50 EUR }\nitem mat { mass 1 kg }\n");
    finding = compiled_finding(&c, "over-budget");
    assert_int_equal(finding->verdict, VERDICT_OPEN);
    assert_non_null(strstr(finding->remedies->text, "the most that what has no price yet can cost"));
    compile_free(&c);
}

static void money_is_due_in_months(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, PURCHASES "item mug { price 4 EUR; ordered 2027-01-02; promised 2027-02-10 }\n"
                               "item jug { price 3 EUR; lead 6 week }\n"
                               "job fit { takes 1 d; needs jug }\n");
    const MoneyMonth *list = money_months(&c.arena, c.outcome);
    assert_near(in_month(list, 2026, 12, DUE_CAME).high, 8.0, 1e-9);
    assert_near(in_month(list, 2027, 2, DUE_CAME).low, 60.0, 1e-9);  /* six of sixteen */
    assert_near(in_month(list, 2027, 4, DUE_OWED).low, 100.0, 1e-9); /* the other ten */
    assert_near(in_month(list, 2027, 3, DUE_OWED).low, 4.0, 1e-9);   /* its promise has passed: now */
    assert_near(in_month(list, 2027, 3, DUE_TO_ORDER).low, 3.0, 1e-9); /* a week late: now */
    assert_near(in_month(list, 0, 0, DUE_TO_ORDER).low, 74.0, 1e-9);
    double sum = 0.0;
    for (const MoneyMonth *m = list; m != NULL; m = m->next) {
        sum += m->of[DUE_CAME].high + m->of[DUE_OWED].high + m->of[DUE_TO_ORDER].high;
        assert_true(m->next == NULL || m->month != 0); /* what has no day stands last */
    }
    assert_near(sum, 168.0 + 74.0 + 4.0 + 3.0, 1e-9);
    compile_free(&c);
}

/* 20 February and five weeks are 27 March; its own lead time, six weeks, is better known than the dock's: 3 April. */
static void what_is_on_order_comes_after_the_lead_time_of_its_supplier(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "supplier dock { lead 5 week }\n"
                      "item third { price 50 EUR; supplier dock; ordered 2027-02-20 }\n"
                      "item own { price 7 EUR; supplier dock; lead 6 week; ordered 2027-02-20 }\n");
    const MoneyMonth *list = money_months(&c.arena, c.outcome);
    assert_near(in_month(list, 2027, 3, DUE_OWED).low, 50.0, 1e-9);
    assert_near(in_month(list, 2027, 4, DUE_OWED).low, 7.0, 1e-9);
    compile_free(&c);
}

/* cup: first promised for 11 January, here in full 31 January, 20 days late; pot a day early, 0; pan promised for 19
 * February, and 10 days late today; lid is not due yet, and jug has no promise. 30 days over 3 promises are 10. */
static void suppliers_are_known_by_what_they_kept(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "item cup { count 2; supplier quay; ordered 2026-12-01; promised 2027-01-11; promised 2027-01-20; "
                          "arrived 2027-01-09 of 1; arrived 2027-01-31 of 1 }\n"
                          "item pot { supplier quay; ordered 2026-12-01; promised 2027-01-20; fitted 2027-02-01; "
                          "arrived 2027-01-19 }\n"
                          "item pan { supplier quay; ordered 2026-12-01; promised 2027-02-19 }\n"
                          "item lid { supplier quay; ordered 2026-12-01; promised 2027-03-19 }\n"
                          "item jug { supplier quay; ordered 2026-12-01 }\n"
                          "supplier far\nitem mug { supplier far }\n");
    expect(&c, "quay", FIGURE_PROMISES, "", 3.0, 3.0);
    expect(&c, "quay", FIGURE_KEPT, "", 1.0, 1.0);
    expect(&c, "quay", FIGURE_OWING, "", 3.0, 3.0);
    expect(&c, "quay", FIGURE_LATE_MEAN, "", 10.0 * SECONDS_A_DAY, 10.0 * SECONDS_A_DAY);
    expect(&c, "quay", FIGURE_LATE_MOST, "", 20.0 * SECONDS_A_DAY, 20.0 * SECONDS_A_DAY);
    assert_null(compiled_figure(&c, "far", FIGURE_OWING)); /* nothing was promised, nothing is owed */
    compile_free(&c);
}

/* Fitted on 10 February without a day of arrival: it came on some day up to then, kept or up to 20 days late. */
static void what_is_fitted_came_on_some_day_before(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "item cup { supplier quay; ordered 2026-12-01; promised 2027-01-21; fitted 2027-02-10 }\n"
                          "item pot { supplier quay; ordered 2026-12-01; promised 2027-02-21; fitted 2027-02-10 }\n");
    expect(&c, "quay", FIGURE_PROMISES, "", 2.0, 2.0);
    expect(&c, "quay", FIGURE_KEPT, "", 1.0, 2.0);
    expect(&c, "quay", FIGURE_LATE_MOST, "", 0.0, 20.0 * SECONDS_A_DAY);
    compile_free(&c);
}

/*
 * Two of perhaps four came on the last day of January, promised for the 21st: kept by ten days late, or owed since then, 39
 * days as of the first of March.
 */
static void what_is_owed_hangs_on_how_many_are_wanted(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "item cup { count 2..4; supplier quay; ordered 2026-12-01; promised 2027-01-21; "
                          "arrived 2027-01-31 of 2 }\n");
    expect(&c, "quay", FIGURE_PROMISES, "", 1.0, 1.0);
    expect(&c, "quay", FIGURE_OWING, "", 0.0, 1.0);
    expect(&c, "quay", FIGURE_LATE_MEAN, "", 10.0 * SECONDS_A_DAY, 39.0 * SECONDS_A_DAY);
    expect(&c, "quay", FIGURE_LATE_MOST, "", 10.0 * SECONDS_A_DAY, 39.0 * SECONDS_A_DAY);
    const Finding *late = compiled_finding(&c, "late");
    assert_non_null(late);
    assert_int_equal(late->verdict, VERDICT_OPEN);
    compile_free(&c);
}

/* 80 h at 8 h a day are ten days, at 4 h twenty; what cures goes on at night: 36 h are a day and a half. In days nothing changes. */
static void hours_of_work_are_not_hours_on_end(void **state)
{
    (void)state;
    static const struct {
        const char *takes;
        double least, most; /* days until all is ready */
        bool assumed;
    } rows[] = {
        {"takes 80 h", 10.0, 10.0, true},
        {"takes 40..80 h", 5.0, 10.0, true},
        {"takes 80 h; daily 4 h", 20.0, 20.0, false},
        {"takes 80 h; daily 4..8 h", 10.0, 20.0, false},
        {"takes 36 h; daily 24 h", 1.5, 1.5, false},
        {"takes 240 min", 0.5, 0.5, true},
        {"takes 10 d", 10.0, 10.0, false},
        {"takes 2 week; daily 4 h", 14.0, 14.0, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[512];
        Compiled c;
        snprintf(text, sizeof text, "%sjob wire { %s }\n", BOAT, rows[i].takes);
        compile_text(&c, text);
        const Figure *ready = compiled_figure(&c, "wren", FIGURE_READY), *days = compiled_figure(&c, "wire", FIGURE_WORK_DAYS);
        double today_s = SECONDS_A_DAY * c.outcome->today;
        assert_near((ready->low - today_s) / SECONDS_A_DAY, rows[i].least, 1e-9);
        assert_near((ready->high - today_s) / SECONDS_A_DAY, rows[i].most, 1e-9);
        bool assumed = days != NULL && days->inputs[1].kind == INPUT_VALUE && days->inputs[1].u.property->flags & PROPERTY_ASSUMED;
        assert_int_equal(assumed, rows[i].assumed);
        compile_free(&c);
    }
    Compiled c; /* begun ten days ago, of 80 h: it is over its time today and no sooner */
    compile_text(&c, BOAT "job wire { takes 80 h; started 2027-02-20 }\njob sew { takes 16 h; started 2027-02-20 }\n");
    const Finding *over = compiled_finding(&c, "runs-over");
    assert_non_null(over);
    assert_string_equal(over->message, "`sew` takes 2 d, and 9 days after it was begun it is not done: the plan takes it that anything up "
                                       "to all of it is still to do");
    assert_true(over->next == NULL || strcmp(over->next->rule->name, "runs-over") != 0);
    compile_free(&c);
}

static void a_lead_that_is_assumed_is_told_with_the_day(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT "item cup\nitem pot { supplier quay }\njob fit { takes 1 d; needs cup, pot }\n");
    const Figure *ready = compiled_figure(&c, "wren", FIGURE_READY);
    assert_non_null(ready->remark);
    assert_non_null(strstr(ready->remark, "of 1 thing that jobs wait for no lead time is known"));
    compile_free(&c);
    compile_text(&c, BOAT "item pot { supplier quay }\njob fit { takes 1 d; needs pot }\n");
    assert_null(compiled_figure(&c, "wren", FIGURE_READY)->remark);
    compile_free(&c);
}

#define DRAIN "through-hull drain { bore 38 mm; height -0.2 m; seacock no; reach yes; material bronze; backing yes; "

/* A fault of what is here; not of what is on order, not one that is waived, and once however many there are. */
static void what_is_bought_and_broken_is_told_once(void **state)
{
    (void)state;
    Compiled c;
    compile_text(&c, BOAT DRAIN "arrived 2027-01-09 }\n");
    assert_non_null(compiled_finding(&c, "bought-and-broken"));
    compile_free(&c);
    compile_text(&c, BOAT DRAIN "ordered 2027-01-09; promised 2027-04-01 }\n");
    assert_null(compiled_finding(&c, "bought-and-broken"));
    compile_free(&c);
    compile_text(&c, BOAT DRAIN "arrived 2027-01-09 }\n"
                                "waive seacock on drain until 2027-06-01 because \"It is blanked off.\"\n");
    assert_null(compiled_finding(&c, "bought-and-broken"));
    compile_free(&c);
    compile_text(&c, BOAT DRAIN "arrived 2027-01-09 }\n"
                                "waive bought-and-broken on drain because \"The shop takes it back.\"\n");
    assert_non_null(compiled_finding(&c, "bought-and-broken")->waiver);
    assert_null(compiled_finding(&c, "waiver-idle"));
    compile_free(&c);
}

/* What a list of a job, or a dated line, says in a line with a mistake is not known: the plan waits. */
static void a_plan_waits_for_the_mistakes_in_its_lines(void **state)
{
    static const char *const rows[] = {
        "item cup { lead 3 d }\njob fit { takes 1 d; needs cup, pto }\n",
        "item cup { lead 3 d }\njob fit { takes 1 d; needs cup saucer }\n",
        "job lay { takes 1 d }\njob fit { takes 1 d; after lay, lya }\n",
        "job fit { takes 1 d; started 2027-02-30 }\n",
        "job fit { takes 1 d; done 2027-02-30 }\n",
        "item cup { ordered 2027-02-01; promised 2027-03-10; promised 2027-13-10 }\njob fit { takes 1 d; needs cup }\n",
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Compiled c;
        char text[1024];
        snprintf(text, sizeof text, "%s%s", BOAT, rows[i]);
        compile_text(&c, text);
        assert_non_null(c.spec->messages.first);
        assert_int_equal(compiled_figure(&c, "wren", FIGURE_READY)->state, STATE_WAITING);
        compile_free(&c);
    }
}

/* A trailer of 1450 lb floats no boat: it counts in what she costs, and in nothing that she weighs. */
static void what_stays_ashore_is_paid_for_and_not_weighed(void **state)
{
    (void)state;
    static const char boat[] = "edition 1\nboat pip { length 8 m; beam 2.5 m; displacement 2400 kg; crew 2; currency EUR; basis us; sails no; waterline 7 m }\n"
                               "item hull { mass 1300 kg; at 4 m 0 m 0.3 m; price 1 EUR }\n";
    Compiled with, without;
    char text[600];
    snprintf(text, sizeof text, "%s%s", boat, "item trailer { mass 650 kg; price 4200 EUR; ashore yes }\nitem cradle { price 90 EUR; ashore yes }\n");
    compile_text(&with, text);
    compile_text(&without, boat);
    assert_null(with.spec->messages.first);
    static const FigureId same[] = {FIGURE_MASS, FIGURE_LOADED_MASS, FIGURE_WEIGHED_SHARE, FIGURE_SINKAGE};
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        const Figure *a = compiled_figure(&with, "pip", same[i]), *b = compiled_figure(&without, "pip", same[i]);
        assert_non_null(a);
        assert_near(a->low, b->low, 1e-9);
        assert_near(a->high, b->high, 1e-9);
        assert_false(a->partial);
    }
    assert_near(compiled_figure(&with, "pip", FIGURE_COST)->low, 4291.0, 1e-9);
    compile_free(&with);
    compile_free(&without);
    snprintf(text, sizeof text, "%s%s", boat, "item trailer { mass 650 kg; at 3 m 0 m 0 m; ashore yes }\n");
    compile_text(&with, text);
    assert_int_equal(with.spec->messages.count, 1); /* ashore, and placed aboard */
    compile_free(&with);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_waits_for_the_mistakes_in_its_lines),
        cmocka_unit_test(money_is_told_of_each_system),
        cmocka_unit_test(a_price_more_does_not_meet_a_budget),
        cmocka_unit_test(money_is_due_in_months),
        cmocka_unit_test(what_is_on_order_comes_after_the_lead_time_of_its_supplier),
        cmocka_unit_test(suppliers_are_known_by_what_they_kept),
        cmocka_unit_test(what_is_fitted_came_on_some_day_before),
        cmocka_unit_test(what_is_owed_hangs_on_how_many_are_wanted),
        cmocka_unit_test(hours_of_work_are_not_hours_on_end),
        cmocka_unit_test(a_lead_that_is_assumed_is_told_with_the_day),
        cmocka_unit_test(what_is_bought_and_broken_is_told_once),
        cmocka_unit_test(what_has_come_is_paid_and_no_more),
        cmocka_unit_test(what_is_lost_is_bought_again_and_its_deposit_is_gone),
        cmocka_unit_test(spares_that_have_not_come_are_late_and_stop_nothing),
        cmocka_unit_test(what_may_not_all_have_come_is_paid_in_part),
        cmocka_unit_test(all_of_an_undecided_number_are_no_more_than_that_number),
        cmocka_unit_test(what_stays_ashore_is_paid_for_and_not_weighed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
