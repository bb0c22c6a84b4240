/*
 * From a spreadsheet to a spec: cells as spreadsheets write them (RFC 4180), columns by their headings, and that nothing is
 * lost: every row is one thing, and a row of which something could not be placed stands above it.
 */
#include "unit/test_boat.h"

#include "tools/csv_read.h"
#include "tools/spreadsheet.h"

static SpreadsheetCount made; /* of the last table; reset by each call */

static const char *make(Arena *arena, const char *table, const char *const *columns, size_t count)
{
    Buf spec;
    buf_init(&spec, arena);
    const char *error = NULL;
    SpreadsheetRequest request = {STR("gull"), str_from(table), columns, count};
    return spreadsheet_write(&spec, arena, &request, &made, &error) ? spec.text : error;
}

static void assert_holds(const char *text, const char *part)
{
    if (strstr(text, part) == NULL) {
        print_error("not there: %s\nin:\n%s\n", part, text);
        fail();
    }
}

/* RFC 4180, 2: quotes, doubled quotes, line ends and separators inside of them; and what spreadsheets do besides. */
static void cells_are_read_as_rfc_4180_says(void **state)
{
    (void)state;
    Arena arena = check_arena();
    CsvRow *row = csv_read(&arena, STR("\xEF\xBB\xBF"
                                       "a,\"b, \"\"c\"\"\r\nd\", e \r\n\r\n,,\r\n1,2,3\r\n\"open"));
    assert_int_equal(row->count, 3);
    assert_str(row->cells[0], "a");
    assert_str(row->cells[1], "b, \"c\"\r\nd");
    assert_str(row->cells[2], "e");
    assert_int_equal(row->next->line, 5);
    assert_str(row->next->cells[2], "3");
    assert_str(row->next->next->cells[0], "open");
    assert_null(row->next->next->next);
    row = csv_read(&arena, STR("what;price\nmast, wooden;12.50\n"));
    assert_str(row->next->cells[0], "mast, wooden");
    assert_str(csv_read(&arena, STR("a\tb"))->cells[1], "b");
    assert_null(csv_read(&arena, STR("\n , ,\n")));
    arena_free(&arena);
}

static void a_row_becomes_a_thing_with_all_that_it_says(void **state)
{
    (void)state;
    Arena arena = check_arena();
    const char *spec =
        make(&arena,
             "Item,Type,Category,Qty,Weight,Cost,Vendor,Date ordered,Received\n"
             "Storm anchor,anchor,safety,2,9.5 lb,\"1,234.50\",Far Shore,2026-09-02,2026-11-20\n",
             NULL, 0);
    assert_holds(spec, "supplier far-shore \"Far Shore\"\n");
    assert_holds(spec,
                 "\nanchor storm-anchor \"Storm anchor\" {\n  count 2\n  mass 9.5 lb\n  price 1234.50 EUR\n"
                 "  supplier far-shore\n  ordered 2026-09-02\n  arrived 2026-11-20\n}\n");
    assert_int_equal(made.rows, 1);
    assert_int_equal(made.placed, 1);
    assert_null(strstr(spec, "# line"));
    arena_free(&arena);
}

/* Each of these cells means nothing sure, so the row stands in a comment, and the thing without it. */
static void what_cannot_be_placed_stands_in_a_comment(void **state)
{
    (void)state;
    static const char *const rows[] = {
        "Bank,bank,,1,20,500,,",                      /* a bank needs more than that */
        "Stove,item,,1.5,20,500,,",                   /* one and a half of them */
        "Stove,item,,1,heavy,500,,",                  /* no mass */
        "Stove,item,,1,20,1.250,,",                   /* a thousand and more, or one and a quarter */
        "Stove,item,,1,20,\"1,5\",,",                 /* one and a half, or fifteen */
        "Stove,item,,1,20,500 USD,,",                 /* no rate is known */
        "Stove,item,,1,20,500,02/03/27,",             /* March or February */
        "Stove,item,galley,1,20,500,,",               /* no system of the language */
        "Stove,item,,1,20,500,2026-09-02,2026-08-01", /* here before it was ordered */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Arena arena = check_arena();
        Compiled c;
        const char *table = text_format(
            &arena, "item,kind,system,count,mass,price,ordered,arrived\nRope,,,1,2,9 EUR,,\n%s\n", rows[i]);
        const char *spec = make(&arena, table, NULL, 0);
        assert_int_equal(made.rows, 2);
        assert_int_equal(made.commented, 1);
        assert_holds(spec, "\n# line 3: item \"");
        compile(&c, spec);
        assert_int_equal(c.spec->messages.count, 0);
        done_with(&c);
        arena_free(&arena);
    }
}

static void assert_row(Arena *arena, const char *table, const char *part)
{
    assert_holds(make(arena, table, NULL, 0), part);
}

static void units_and_currencies_of_headings_are_read(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const char *const columns[] = {"mass=Weight (lb)", "price=Price ($)"};
    const char *plain = "Item,Weight (lb),Price ($)\nAnchor,14,89.95\n";
    const char *anchor = "\nitem anchor \"Anchor\" {\n  mass 14 lb\n  price 89.95 USD\n}\n";
    assert_row(&arena, plain, anchor);
    assert_int_equal(made.placed, 1);
    assert_holds(make(&arena, plain, NULL, 0), "currency USD; basis us }");
    assert_holds(make(&arena, plain, NULL, 0), "# Nothing says whose dollars `$` are: here they are USD.\n");
    assert_holds(make(&arena, plain, columns, 2), anchor);
    assert_row(&arena, "item,mass lbs,cost in USD\nRope,3,45\n", "  mass 3 lb\n  price 45.00 USD\n");
    assert_row(&arena, "item,Weight [oz],Cost (\xE2\x82\xAC)\nRope,3,45\n", "  mass 3 oz\n  price 45.00 EUR\n");
    assert_row(&arena, "item;weight (lb);price (\xE2\x82\xAC)\nRope;12,5;1.250,00\n", "  mass 12.5 lb\n  price 1250.00 EUR\n");
    assert_row(&arena, "item,weight,price\nRope,3\xC2\xA0lbs,\xE2\x82\xAC\xC2\xA0""4\n", "  mass 3 lb\n  price 4.00 EUR\n");
    assert_row(&arena, "item,weight (lb)\nRope,3 kg\n", "  mass 3 kg\n"); /* the cell is nearer than the heading */
    assert_row(&arena, "item,weight,price\nRope,3 lbs,\xC2\xA3 4\n", "  mass 3 lb\n  price 4.00 GBP\n");
    assert_row(&arena, "item,weight,price\nRope,3 pounds,\"US$1,045\"\n", "  mass 3 lb\n  price 1045.00 USD\n");
    arena_free(&arena);
}

/* What one row says of unit and currency holds for those that say none; where they do not agree, nothing is said. */
static void a_bare_number_goes_by_the_others(void **state)
{
    (void)state;
    Arena arena = check_arena();
    assert_row(&arena, "item,price\nA,45\nB,$89.95\n", "item a \"A\" {\n  price 45.00 USD\n}\n");
    assert_row(&arena, "item,price\nA,$45\nB,89.95 CAD\n", "item a \"A\" {\n  price 45.00 CAD\n}\n");
    assert_row(&arena, "item,price (USD/EUR)\nA,45\n", "item a \"A\"\n");
    assert_row(&arena, "item,price\nA,45 EUR\nB,$5\n", "item b \"B\"\n");
    assert_row(&arena, "item,weight\nA,45\nB,89 lb\n", "item a \"A\" {\n  mass 45 lb\n}\n");
    assert_row(&arena, "item,weight\nA,45\nB,89 lb\nC,3 kg\n", "item a \"A\"\n");
    assert_row(&arena, "item,weight,price\nA,45,$3\n", "item a \"A\" {\n  price 3.00 USD\n}\n");
    assert_row(&arena, "item,weight,price\nA,45,$3\n", "# The unit of a mass without one is not known: the heading \"weight\"");
    assert_row(&arena, "item,weight,price\nA,45,3\n", "item a \"A\" {\n  mass 45 kg\n  price 3.00 EUR\n}\n");
    arena_free(&arena);
}

static void names_are_made_unique_and_none_is_a_unit(void **state)
{
    (void)state;
    Arena arena = check_arena();
    Compiled c;
    const char *spec =
        make(&arena, "name,from\nkg,gull\nKG,kg\ngull,\n\"12 V \"\"pump\"\"\",yes\n???,\n", NULL, 0);
    assert_holds(spec, "\nitem kg-1-2 \"kg\"");
    assert_holds(spec, "\nitem gull-2 \"gull\"\n");
    assert_holds(spec, "\nitem v-pump \"12 V \\\"pump\\\"\"");
    assert_holds(spec, "\nitem thing \"???\"\n");
    compile(&c, spec);
    assert_int_equal(c.spec->messages.count, 0);
    assert_int_equal(made.rows, 5);
    done_with(&c);
    arena_free(&arena);
}

static void columns_are_named_where_headings_do_not_speak(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const char *const columns[] = {"title=Was ist es", "price=Preis EUR"};
    const char *spec = make(&arena, "Was ist es,Preis EUR\nOfen,480\n", columns, 2);
    assert_holds(spec, "\nitem ofen \"Ofen\" {\n  price 480.00 EUR\n}\n");
    assert_string_equal(make(&arena, "Was ist es,Preis\nOfen,480\n", columns, 2),
                        "no column is headed `Preis EUR`; there are `Was ist es`, `Preis`");
    assert_string_equal(make(&arena, "Was ist es,Preis\nOfen,480\n", NULL, 0),
                        "no column says what things are called; name one: `--column title=HEADING`, of `Was "
                        "ist es`, `Preis`");
    assert_string_equal(
        make(&arena, "name\n", NULL, 0),
        "the table has no rows; its first line names the columns, each line behind it is a thing");
    assert_string_equal(make(&arena, "name\nK\xE4se\n", NULL, 0),
                        "the table is not UTF-8; spreadsheets offer that where they save as CSV");
    static const char *const wrong[] = {"colour=red"};
    assert_holds(make(&arena, "name\nx\n", wrong, 1),
                 "`colour` is not what a column can be; that is `name`, `title`, ");
    arena_free(&arena);
}

/* What spreadsheets of other lands write and can mean one thing alone; the rest is named, cell by cell. */
static void a_table_with_decimal_commas_is_read_and_what_is_not_is_named(void **state)
{
    (void)state;
    Arena arena = check_arena();
    const char *spec = make(&arena,
                            "title;count;mass;price;ordered\n"
                            "Anker;1;12,5 kg;1.250,00\xC2\xA0\xE2\x82\xAC;14.03.2026\n"
                            "Pumpe;2;1,2;89,90;3/4/2026\n"
                            "Kette;1;1.250;1.250;24/12/2026\n",
                            NULL, 0);
    assert_holds(spec, "\nitem anker \"Anker\" {\n  mass 12.5 kg\n  price 1250.00 EUR\n  ordered 2026-03-14\n}\n");
    assert_holds(spec, "\n# not said below: ordered \"3/4/2026\"\n"
                       "item pumpe \"Pumpe\" {\n  count 2\n  mass 1.2 kg\n  price 89.90 EUR\n}\n");
    assert_holds(spec, "\n# not said below: mass \"1.250\"; price \"1.250\"\n"
                       "item kette \"Kette\" {\n  ordered 2026-12-24\n}\n");
    arena_free(&arena);
}

/* `12,5` is twelve and a half in a table that says so by semicolons, and not where a cell beside it has a decimal point. */
static void a_comma_counts_by_the_table_that_it_stands_in(void **state)
{
    (void)state;
    static const struct {
        const char *table, *line; /* NULL: it is not read */
    } cells[] = {
        {"title;price\na;12,5\n", "price 12.50 EUR"},
        {"title;price\na;12,5\nb;3.75\n", NULL},
        {"title,price\na,\"12,5\"\n", NULL},
        {"title,price\na,\"1.250,5\"\n", "price 1250.50 EUR"},
        {"title,price\na,\"1,250.5\"\n", "price 1250.50 EUR"},
        {"title,price\na,\"1,250\"\n", "price 1250.00 EUR"},
        {"title,price\na,\"1,25,000\"\n", NULL},
        {"title,price\na,1'250.50\n", "price 1250.50 EUR"},
        {"title,price\na,1 250.50\n", "price 1250.50 EUR"},
        {"title,price\na,\"1,000,000\"\n", "price 1000000.00 EUR"},
        {"title,price\na,\"12,50.5\"\n", NULL},
        {"title,price\na,1.2.3\n", NULL},
        {"title,mass\na,1.250\n", "mass 1.25 kg"},
        {"title,mass\na,\"0,250\"\n", NULL},
        {"title;mass\na;0,250\n", "mass 0.25 kg"},
        {"title,ordered\na,2026-03-14\n", "ordered 2026-03-14"},
        {"title,ordered\na,2026/3/4\n", "ordered 2026-03-04"},
        {"title,ordered\na,4.3.2026\n", "ordered 2026-03-04"},
        {"title,ordered\na,03/14/2026\n", "ordered 2026-03-14"},
        {"title,ordered\na,14/03/2026\n", "ordered 2026-03-14"},
        {"title,ordered\na,03/04/2026\n", NULL},
        {"title,ordered\na,30.02.2026\n", NULL},
        {"title,ordered\na,14.03.26\n", NULL},
    };
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        Arena arena = check_arena();
        const char *spec = make(&arena, cells[i].table, NULL, 0);
        if (cells[i].line != NULL) {
            assert_holds(spec, text_format(&arena, "item a {\n  %s\n}", cells[i].line));
        } else {
            assert_holds(spec, "\n# not said below: ");
        }
        arena_free(&arena);
    }
}

/* A law: as many things as rows, and a spec without a mistake, whatever stands in the cells. */
static void nothing_is_lost_whatever_the_cells_hold(void **state)
{
    (void)state;
    static const char *const cells[] = {"",
                                        "x",
                                        "12",
                                        "-3",
                                        "1e9",
                                        "\"a\nb\"",
                                        "\"q\"\"q\"",
                                        "2026-02-30",
                                        "2026-02-27",
                                        "here",
                                        "pump",
                                        "power",
                                        "\\",
                                        "#",
                                        "{",
                                        "}",
                                        ";",
                                        "kg",
                                        "9999999999999999999999",
                                        "0",
                                        "EUR 5",
                                        "5 EUR",
                                        "1.250,00",
                                        "\"1,5\"",
                                        ".5",
                                        ",",
                                        "'",
                                        "14.03.2026",
                                        "1/2/3",
                                        "$5",
                                        "5 lbs",
                                        "ä"};
    uint64_t seed = 4;
    for (int t = 0; t < 200; t++) {
        Arena arena = check_arena();
        Compiled c;
        Buf table;
        buf_init(&table, &arena);
        buf_text(&table, "name,title,kind,system,count,mass,price,currency,supplier,status,ordered,promised,"
                         "arrived,fitted,link,note,odd\n");
        unsigned rows = 1 + (unsigned)random_below(&seed, 6);
        for (unsigned r = 0; r < rows; r++) {
            buf_text(&table, "n");
            for (int i = 0; i < 16; i++) {
                buf_format(&table, ",%s", cells[random_below(&seed, (int)(sizeof cells / sizeof cells[0]))]);
            }
            buf_char(&table, '\n');
        }
        const char *spec = make(&arena, table.text, NULL, 0);
        compile(&c, spec);
        unsigned things = 0;
        for (uint32_t i = 0; i < c.model->entity_count; i++) {
            KindId kind = (KindId)c.model->entities[i]->kind;
            things += kind != KIND_BOAT && kind != KIND_SUPPLIER;
        }
        if (made.rows != rows || things != rows || made.placed + made.commented != rows ||
            c.spec->messages.count > 0) {
            print_error("%u rows, %u things, %u mistakes:\n%s\n%s\n", rows, things,
                        (unsigned)c.spec->messages.count, table.text, spec);
            fail();
        }
        done_with(&c);
        arena_free(&arena);
    }
}

/* A stone is 14 lb; nobody knows which ton, or whose cents: what is mapped to such a column is not read as kg or EUR. */
static void headings_in_other_units_are_read_right_or_refused_by_name(void **state)
{
    (void)state;
    Arena arena = check_arena();
    static const char *const mapped[] = {"mass=stone", "price=k\xE2\x82\xAC"};
    const char *spec = make(&arena, "title,stone,k\xE2\x82\xAC\nanchor,0.5,1.2\n", mapped, 2);
    assert_holds(spec, "  mass 7 lb\n  price 1200.00 EUR\n");
    spec = make(&arena, "title,Weight in stone,Price (k$)\nanchor,2,1.2\nchain,3 kg,5\n", NULL, 0);
    assert_holds(spec, "  mass 28 lb\n  price 1200.00 USD\n");
    assert_holds(spec, "  mass 3 kg\n  price 5000.00 USD\n");
    spec = make(&arena, "title,weight (tons),price (cents)\nanchor,0.5,1200\nchain,40 kg,12 EUR\n", NULL, 0);
    assert_holds(spec, "weight (tons) \"0.5\"; price (cents) \"1200\"\nitem anchor\n");
    assert_holds(spec, "what \"tons\" is, is not clear");
    assert_holds(spec, "what \"cents\" is, is not clear");
    assert_holds(spec, "  mass 40 kg\n  price 12.00 EUR\n");
    assert_holds(make(&arena, "title,Weight (lb or kg)\nanchor,2\n", NULL, 0), "not said below: Weight (lb or kg) \"2\"");
    static const char *const bracketed[] = {"mass=Gewicht (Zentner)", "price=Preis (each)"};
    spec = make(&arena, "title,Gewicht (Zentner),Preis (each)\nanchor,2,30\n", bracketed, 2);
    assert_holds(spec, "not said below: Gewicht (Zentner) \"2\"\nitem anchor {\n  price 30.00 EUR\n");
    arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(headings_in_other_units_are_read_right_or_refused_by_name),
        cmocka_unit_test(cells_are_read_as_rfc_4180_says),
        cmocka_unit_test(a_row_becomes_a_thing_with_all_that_it_says),
        cmocka_unit_test(what_cannot_be_placed_stands_in_a_comment),
        cmocka_unit_test(units_and_currencies_of_headings_are_read),
        cmocka_unit_test(a_bare_number_goes_by_the_others),
        cmocka_unit_test(names_are_made_unique_and_none_is_a_unit),
        cmocka_unit_test(columns_are_named_where_headings_do_not_speak),
        cmocka_unit_test(a_table_with_decimal_commas_is_read_and_what_is_not_is_named),
        cmocka_unit_test(a_comma_counts_by_the_table_that_it_stands_in),
        cmocka_unit_test(nothing_is_lost_whatever_the_cells_hold),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
