/*
 * Reads the published tables beside this file: tab separated, `#` lines first (source, status, tolerance),
 * then one line of column names. For tests only. A table that cannot be read, or a column that is not there,
 * fails the test.
 */
#ifndef GARBOARD_TEST_TABLE_H
#define GARBOARD_TEST_TABLE_H

#include "base/num.h"
#include "unit/test_physics.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#ifndef TESTS_DIR
#define TESTS_DIR "tests"
#endif

#define TABLE_ROWS_MOST 160
#define TABLE_COLUMNS_MOST 10

typedef struct Table {
    const char *name;
    char text[32768];
    const char *columns[TABLE_COLUMNS_MOST];
    const char *cells[TABLE_ROWS_MOST][TABLE_COLUMNS_MOST];
    size_t column_count;
    size_t row_count;
} Table;

/* Cuts a line at its tabs; what is missing at its end is an empty cell. */
static inline size_t table_cut(char *line, const char **cells)
{
    size_t count = 0;

    while (count < TABLE_COLUMNS_MOST) {
        char *tab = strchr(line, '\t');
        cells[count++] = line;
        if (tab == NULL)
            break;
        *tab = '\0';
        line = tab + 1;
    }
    for (size_t i = count; i < TABLE_COLUMNS_MOST; i++)
        cells[i] = "";
    return count;
}

static inline void table_line(Table *table, char *line)
{
    if (line[0] == '#' || line[0] == '\0')
        return;
    if (table->column_count == 0) {
        table->column_count = table_cut(line, table->columns);
        return;
    }
    assert_true(table->row_count < TABLE_ROWS_MOST);
    table_cut(line, table->cells[table->row_count++]);
}

static inline void table_load(Table *table, const char *name)
{
    char path[512];
    FILE *file;
    size_t size;

    *table = (Table){.name = name};
    snprintf(path, sizeof path, "%s/reference/%s", TESTS_DIR, name);
    file = fopen(path, "rb");
    if (file == NULL)
        fail_msg("cannot open %s", path);
    size = fread(table->text, 1, sizeof table->text - 1, file);
    fclose(file);
    assert_true(size < sizeof table->text - 1);
    for (char *line = table->text; line != NULL;) {
        char *end = strchr(line, '\n');
        if (end != NULL)
            *end++ = '\0';
        table_line(table, line);
        line = end;
    }
}

static inline const char *table_text(const Table *table, size_t row, const char *column)
{
    for (size_t i = 0; i < table->column_count; i++) {
        if (strcmp(table->columns[i], column) == 0)
            return table->cells[row][i];
    }
    fail_msg("%s has no column %s", table->name, column);
    return "";
}

static inline bool table_has(const Table *table, size_t row, const char *column)
{
    return table_text(table, row, column)[0] != '\0';
}

static inline double text_number(const char *text)
{
    double value = NAN;

    if (!num_read((Str){text, strlen(text)}, &value))
        fail_msg("`%s` is not a number", text);
    return value;
}

static inline double table_number(const Table *table, size_t row, const char *column)
{
    return text_number(table_text(table, row, column));
}

/* A gauge as the tables write it: 10, 1/0, 4/0. */
static inline int text_gauge(const char *text)
{
    return strstr(text, "/0") != NULL ? 1 - (text[0] - '0') : (int)text_number(text);
}

/* For messages: which row went wrong. */
static inline void table_say(const Table *table, size_t row)
{
    print_error("in %s, row", table->name);
    for (size_t i = 0; i < table->column_count; i++)
        print_error(" %s=%s", table->columns[i], table->cells[row][i]);
    print_error("\n");
}

/* As assert_near, and says the row. */
#define assert_row_near(table, row, is, wanted, tolerance)             \
    do {                                                               \
        double is_ = (is), wanted_ = (wanted), allowed_ = (tolerance); \
        if (!(fabs(is_ - wanted_) <= allowed_))                        \
            table_say((table), (row));                                 \
        check_near(is_, wanted_, allowed_, #is, __FILE__, __LINE__);   \
    } while (0)

#endif
