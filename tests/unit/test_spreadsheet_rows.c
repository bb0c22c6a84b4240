/*
 * Rows of a table that are no things, and amounts that are not those of one: what a list says and the spec does not must stand in a
 * comment and be counted, never change a sum in silence. The lists are invented; what each is to cost is worked out by hand beside it.
 */
#include "check.h"
#include "compile.h"

#include "tools/spreadsheet.h"

static SpreadsheetCount made; /* of the last table */

static const char *make_with(Arena *arena, const char *table, const char *const *columns, size_t count)
{
    Buf spec;
    buf_init(&spec, arena);
    const char *error = NULL;
    SpreadsheetRequest request = {STR("gull"), str_from(table), columns, count};
    return spreadsheet_write(&spec, arena, &request, &made, &error) ? spec.text : error;
}

static const char *make(Arena *arena, const char *table)
{
    return make_with(arena, table, NULL, 0);
}

static void assert_has(const char *text, const char *part)
{
    if (strstr(text, part) == NULL) {
        print_error("not there: %s\nin:\n%s\n", part, text);
        fail();
    }
}

static void assert_counts(unsigned placed, unsigned commented, unsigned left_out)
{
    assert_int_equal(made.placed, placed);
    assert_int_equal(made.commented, commented);
    assert_int_equal(made.left_out, left_out);
    assert_int_equal(made.rows, placed + commented + left_out);
}

static void expect_row(const char *table, const char *part, unsigned placed, unsigned commented, unsigned left_out)
{
    Arena arena = check_arena();
    assert_has(make(&arena, table), part);
    assert_counts(placed, commented, left_out);
    arena_free(&arena);
}

/* What she costs: the spec of the table, compiled. */
static void expect_cost(const char *table, double cost)
{
    Arena arena = check_arena();
    Compiled c;
    Figure merged;
    compile_text(&c, make(&arena, table));
    assert_int_equal(c.spec->messages.count, 0);
    assert_true(outcome_figure(c.outcome, STR("gull"), FIGURE_COST, STR(""), &merged));
    assert_near(merged.low, cost, 1e-9 * cost);
    assert_near(merged.high, cost, 1e-9 * cost);
    compile_free(&c);
    arena_free(&arena);
}

/* 2 x 100 + 20. */
static void a_sum_of_the_list_is_no_thing(void **state)
{
    (void)state;
    static const char *const sums[] = {"Total,,220 EUR", ",,220 EUR", "Grand total:,3,220 EUR", "Sub-total,,220", "Summe,,220",
                                       "Total HT,,220", "Sum of all items,,220", "Deposit paid,,50", "Balance due,,170",
                                       "Total for the pump,,220"};
    for (size_t i = 0; i < sizeof sums / sizeof sums[0]; i++) {
        Arena arena = check_arena();
        const char *table = text_format(&arena, "Item,Qty,Price\nPump,2,100 EUR\nHose,1,20 EUR\n%s\n", sums[i]);
        assert_has(make(&arena, table), "\n# left out: ");
        assert_counts(2, 0, 1);
        expect_cost(table, 220.0);
        arena_free(&arena);
    }
    /* a make of oil, say, that happens to be called so */
    expect_row("Item,Qty,Price\nTotal filter,2,9\n", "item total-filter ", 1, 0, 0);
}

static void a_sum_is_held_against_what_stands_above_it(void **state)
{
    (void)state;
    expect_row("Item,Qty,Price\nPump,2,100\nHose,1,20\nTotal,,220\n",
               "# line 4: Item \"Total\"; Price \"220\";\n"
               "# left out: a sum, and no thing: that of the prices above it, each times its count\n\n",
               2, 0, 1);
    expect_row("Item,Qty,Price\nPump,2,100\nHose,1,20\nTotal,,120\n", "each taken once whatever its count", 2, 0, 1);
    expect_row("Item,Qty,Price\nPump,2,100\nHose,1,20\nTotal,,266.20\n", "; what stands above it comes to 220.00 EUR\n", 2, 0, 1);
    expect_row("Item,Qty,Price\nPump,2,100\nHose,1,cheap\nTotal,,220\n", "; not every price above it is read\n", 1, 1, 1);
    expect_row("Item,Price\nPump,100\nSubtotal,100\nHose,20\nRope,5\nSubtotal,25\n", "# line 6: Item \"Subtotal\"; Price \"25\";\n"
               "# left out: a sum, and no thing: that of", 3, 0, 2);
}

/* Called by the word for a sum and more: a thing by who sells it or what part it is; a sum by its amount; else a thing, in doubt. */
static void a_thing_may_be_called_like_a_sum(void **state)
{
    (void)state;
    expect_row("Item,Qty,Price,Vendor\nPump,2,60,Quay\nTotal pressure gauge,,40,Quay\n", "item total-pressure-gauge ", 2, 0, 0);
    expect_row("Item,Supplier\nPump,Quay\nTotal flow meter,Quay\n", "item total-flow-meter ", 2, 0, 0);
    expect_row("Item,Supplier\nPump,Quay\nSum log,\nRope,Quay\n", "whether this is a thing, or a sum\nitem sum-log ", 2, 1, 0);
    expect_row("Item,Qty,Price\nPump,2,60\nHose,1,5\nTotal of that order,,125\n", "# left out: a sum, and no thing: that of", 2, 0, 1);
    expect_row("Item,Qty,Price\nPump,2,60\nTotal incl. carriage,,140\n", "# left out: a sum", 1, 0, 1);
}

/* Lists that are kept have both columns. A winch of 245 that was cancelled is not bought: 50 and 20 are. */
static void a_status_stands_beside_its_dates(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"2026-10-01,,cancelled", "  ordered 2026-10-01\n  status dropped\n"},
        {"2026-10-01,2026-10-09,returned", "  arrived 2026-10-09\n  status returned\n"},
        {"2026-10-01,,never came", "  ordered 2026-10-01\n  status lost\n"},
        {"2026-10-01,,received", "  ordered 2026-10-01\n  status here\n"},
        {"2026-10-01,,backordered", "  ordered 2026-10-01\n  status delayed\n"},
        {"2026-10-01,2026-10-09,fitted", "  arrived 2026-10-09\n  status fitted\n"},
        {"2026-10-01,,ordered", "  ordered 2026-10-01\n}"},
        {"2026-10-01,2026-10-09,received", "  arrived 2026-10-09\n}"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Arena arena = check_arena();
        expect_row(text_format(&arena, "Item,Ordered,Arrived,Status\nPump,%s\n", rows[i][0]), rows[i][1], 1, 0, 0);
        arena_free(&arena);
    }
    expect_row("Item,Ordered,Arrived,Status\nPump,2026-10-01,2026-10-09,ordered\n", "# not said below: Status \"ordered\"\n", 0, 1, 0);
    expect_row("Item,Ordered,Status\nPump,2026-10-01,wanted\n", "# not said below: Status \"wanted\"\n", 0, 1, 0);

    Arena arena = check_arena();
    Compiled c;
    Figure committed;
    compile_text(&c, make(&arena, "Item,Price,Ordered,Status\nWinch,245 EUR,2026-10-01,cancelled\nRope,50 EUR,2026-10-01,received\n"
                                  "Hose,20 EUR,2026-10-01,ordered\n"));
    assert_int_equal(c.spec->messages.count, 0);
    assert_true(outcome_figure(c.outcome, STR("gull"), FIGURE_COMMITTED, STR(""), &committed));
    assert_near(committed.low, 70.0, 1e-9);
    assert_near(committed.high, 70.0, 1e-9);
    compile_free(&c);
    arena_free(&arena);
}

/* By another word, but it says an amount alone, in the last row, which is what all above it cost. */
static void a_last_row_that_says_the_sum_has_no_price(void **state)
{
    (void)state;
    expect_row("Item,Qty,Price\nPump,2,100\nHose,1,20\nKopa,,220\n",
               "# not said below: Price \"220\", which is the sum of those above\nitem kopa \"Kopa\"\n", 2, 1, 0);
    expect_cost("Item,Qty,Price\nPump,2,100\nHose,1,20\nKopa,,220\n", 220.0);
    expect_row("Item,Qty,Price\nPump,2,100\nHose,1,20\nKopa,1,220\n", "  price 220.00 EUR\n", 3, 0, 0);
    expect_row("Item,Price\nPump,20\nHose,20\n", "item hose \"Hose\" {\n  price 20.00 EUR\n", 2, 0, 0);
}

/* On a bill the column so headed is the row's: 10 x 4.50 is 45. */
static void an_amount_beside_a_count_is_not_the_price_of_one(void **state)
{
    (void)state;
    static const char *const told[] = {"price=Amount"};
    expect_cost("Item,Qty,Rate,Amount\nShackle,10,4.50,45.00\nRope,50,2.00,100.00\n", 145.0);
    expect_cost("Item,Qty,Amount,Unit price\nShackle,10,45.00,4.50\nRope,50,100.00,2.00\n", 145.0);
    expect_row("Item,Qty,Unit,Amount\nShackle,10,pcs,45.00\n", "; Amount \"45.00\"\nitem shackle \"Shackle\" {\n  count 10\n}\n", 0, 1, 0);
    expect_row("Item,Rate,Price\nShackle,1.08,45.00\n", "  price 45.00 EUR\n", 0, 1, 0);
    expect_row("Item,Qty,Amount\nShackle,10,45.00\n",
               "# Whether \"Amount\" is the price of one or of all that a row counts is not known;\n"
               "# `--column price=Amount` would say that it is of one.\n",
               0, 1, 0);
    expect_row("Item,Qty,Amount (EUR)\nShackle,10,45.00\n", "item shackle \"Shackle\" {\n  count 10\n}\n", 0, 1, 0);
    expect_row("Item,Qty,Amount\nShackle,1,45.00\nRope,,3\n", "  price 45.00 EUR\n", 2, 0, 0);
    expect_row("Item,Amount\nShackle,45.00\n", "  price 45.00 EUR\n", 1, 0, 0);
    Arena arena = check_arena();
    assert_has(make_with(&arena, "Item,Qty,Amount\nShackle,10,4.50\n", told, 1), "  price 4.50 EUR\n");
    arena_free(&arena);
}

/* Forty metres at 4.90 are not one thing at 4.90. */
static void what_one_costs_is_not_said_of_a_count_that_is_not_read(void **state)
{
    (void)state;
    static const char *const counts[] = {"40 m", "0.5", "\"1,000\"", "50 Stk", "0", "some"};
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++) {
        Arena arena = check_arena();
        const char *spec = make(&arena, text_format(&arena, "Item,Qty,Price,Mass\nChain,%s,4.90 EUR,2.3 kg\n", counts[i]));
        assert_has(spec, "; Mass \"2.3 kg\"; Price \"4.90 EUR\"\nitem chain \"Chain\"\n");
        assert_counts(0, 1, 0);
        arena_free(&arena);
    }
}

/* Merged cells are saved as one that is filled and others that are empty. */
static void a_cell_that_stands_for_several_rows_is_told_in_each(void **state)
{
    (void)state;
    static const char table[] = "Supplier,Item,Qty,Price\nQuay,,,\n,Pump,1,89.00\nFar Shore,Winch,2,320.00\n,Rope,60,2.10\n";
    expect_row(table, "# line 2: Supplier \"Quay\";\n# left out: it names no thing; one cell alone may stand", 1, 2, 1);
    expect_row(table, "# not said below: Supplier, empty below \"Quay\" of line 2\nitem pump", 1, 2, 1);
    expect_row(table, "# not said below: Supplier, empty below \"Far Shore\" of line 4\nitem rope", 1, 2, 1);
    expect_row("Item,Price,Note\nPump,9,\n,,Prices with tax\nHose,5,\n", "# line 3: Note \"Prices with tax\";\n# left out: ", 2, 0, 1);
    expect_row("Supplier,Item\nQuay,Pump\n,Hose\nFar Shore,Winch\n,Rope\n",
               "# The column \"Supplier\" is empty in 2 rows: of cells that were merged, the first alone has the words.\n", 4, 0, 0);
}

/* `PLUMBING` above pumps and hoses: it may be no thing, and that is told where most rows say more than a name. */
static void a_name_alone_may_head_those_below_it(void **state)
{
    (void)state;
    expect_row("Item,Qty,Price\nPLUMBING,,\nPump,2,100\nHose,1,20\nTap,1,8\nRope,,\n",
               "# line 2: Item \"PLUMBING\";\n# not said below: whether this is a thing, or heads those below it\nitem plumbing", 4, 1, 0);
    expect_row("Item,Qty,Price\nPump,,\nHose,,\nRope,1,4\n", "item pump \"Pump\"\nitem hose", 3, 0, 0);
    expect_row("Item,Qty,Price,Total\nPump,2,100,200\n,,,220\nHose,1,20,20\n",
               "# line 3: Total \"220\";\n# left out: it names no thing, and may be a sum\n", 0, 2, 1);
}

static void the_words_of_people_for_a_status_are_known(void **state)
{
    (void)state;
    static const char *const words[][2] = {{"received", "here"},        {"Delivered", "here"},      {"cancelled", "dropped"},
                                           {"canceled", "dropped"},     {"on order", "ordered"},    {"backordered", "delayed"},
                                           {"to order", "wanted"},      {"Installed", "fitted"},    {"in transit", "shipped"},
                                           {"sent back", "returned"},   {"delayed", "delayed"}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        Arena arena = check_arena();
        assert_has(make(&arena, text_format(&arena, "item,status\nPump,%s\n", words[i][0])),
                   text_format(&arena, "item pump \"Pump\" {\n  status %s\n}\n", words[i][1]));
        assert_counts(1, 0, 0);
        arena_free(&arena);
    }
    expect_row("item,status\nPump,bought\n", "# not said below: status \"bought\"\n", 0, 1, 0); /* ordered, or here */
}

static void headings_are_found_below_a_title_of_the_list(void **state)
{
    (void)state;
    static const char *const german[] = {"title=Artikel", "price=Preis"};
    static const char titled[] = "Shopping list 2026,,\n,,\nItem,Qty,Price\nPump,1,89 EUR\n";
    expect_row(titled, "# line 1: \"Shopping list 2026\";\n# left out: it stands above the headings\n", 1, 0, 1);
    expect_cost(titled, 89.0);
    expect_row("Shopping list 2026\n\nItem;Qty;Price\nPump;1;89,50\n", "  price 89.50 EUR\n", 1, 0, 1);
    expect_row("Item,Price\nPump,9\nItem,Price\nHose,5\n", "# line 3: Item \"Item\"; Price \"Price\";\n# left out: the headings again\n", 2, 0, 1);
    Arena arena = check_arena();
    assert_has(make_with(&arena, "Liste,\nArtikel,Preis\nPumpe,9 EUR\n", german, 2), "item pumpe \"Pumpe\" {\n  price 9.00 EUR\n");
    assert_string_equal(make(&arena, "Liste,\nArtikel,Preis\nPumpe,9 EUR\n"),
                        "no column says what things are called; name one: `--column title=HEADING`, of `Artikel`, `Preis`");
    arena_free(&arena);
}

/* A law: each row is a thing or left out, each of its cells is said or stands in a comment, and the spec has no mistake. */
static void no_row_is_lost_whatever_it_is(void **state)
{
    (void)state;
    static const char *const cells[] = {"",     "Total", "Pump",  "12",   "3",      "40 m",      "5 EUR", "2026-02-27", "received",
                                        "Quay", "kg",    "title", "Summe", "\"a\"\"b\"", "Sum total", "1",     "price",      "9.50"};
    uint64_t seed = 11;
    for (int t = 0; t < 200; t++) {
        Arena arena = check_arena();
        Compiled c;
        Buf table;
        buf_init(&table, &arena);
        buf_text(&table, "title,count,price,supplier,status,mass,odd\n");
        unsigned rows = 1 + (unsigned)random_below(&seed, 8);
        for (unsigned r = 0; r < rows; r++) {
            for (int i = 0; i < 6; i++) {
                buf_format(&table, "%s,", cells[random_below(&seed, (int)(sizeof cells / sizeof cells[0]))]);
            }
            buf_text(&table, "odd\n");
        }
        const char *spec = make(&arena, table.text);
        compile_text(&c, spec);
        const Model *model = c.outcome->cases[0].model;
        unsigned things = 0;
        for (uint32_t i = 0; i < model->entity_count; i++) {
            KindId kind = (KindId)model->entities[i]->kind;
            things += kind != KIND_BOAT && kind != KIND_SUPPLIER;
        }
        if (made.rows != rows || things + made.left_out != rows || made.commented != things || c.spec->messages.count > 0) {
            print_error("%u rows, %u things, %u mistakes:\n%s\n%s\n", rows, things, (unsigned)c.spec->messages.count, table.text, spec);
            fail();
        }
        compile_free(&c);
        arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sum_of_the_list_is_no_thing),
        cmocka_unit_test(a_sum_is_held_against_what_stands_above_it),
        cmocka_unit_test(a_last_row_that_says_the_sum_has_no_price),
        cmocka_unit_test(an_amount_beside_a_count_is_not_the_price_of_one),
        cmocka_unit_test(what_one_costs_is_not_said_of_a_count_that_is_not_read),
        cmocka_unit_test(a_cell_that_stands_for_several_rows_is_told_in_each),
        cmocka_unit_test(a_name_alone_may_head_those_below_it),
        cmocka_unit_test(the_words_of_people_for_a_status_are_known),
        cmocka_unit_test(a_thing_may_be_called_like_a_sum),
        cmocka_unit_test(a_status_stands_beside_its_dates),
        cmocka_unit_test(headings_are_found_below_a_title_of_the_list),
        cmocka_unit_test(no_row_is_lost_whatever_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
