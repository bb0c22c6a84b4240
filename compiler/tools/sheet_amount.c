/* See sheet.h: masses and prices of a row. */
#include "tools/sheet.h"

#include "base/num.h"

/* No thing aboard weighs or costs more: a number that does is none. */
#define MOST_AMOUNT 1e6

static void write_number(Buf *to, double value)
{
    num_write(to, value, 9);
}

/* A mass with the unit beside it, or that of the column. */
void put_mass(Thing *thing)
{
    Sheet *sheet = thing->sheet;
    Str cell = cell_of(&sheet->columns, thing->row, FIELD_MASS), beside;
    double mass;
    if (cell.length == 0) {
        return;
    }
    bool fine = table_amount_read(sheet->arena, cell, (CellMarks){.comma = sheet->comma}, &mass, &beside);
    TableUnit unit = fine && beside.length > 0 ? table_unit(MEASURE_MASS, beside) : sheet->mass_unit;
    mass = fine ? mass * unit.factor : 0.0;
    if (!fine || unit.word.length == 0 || mass <= 0.0 || mass > MOST_AMOUNT) {
        leave(thing, cell);
        return;
    }
    buf_text(&thing->body, "  mass ");
    write_number(&thing->body, mass);
    buf_format(&thing->body, " %.*s\n", STR_ARG(unit.word));
}

/* The code that a sign or a word stands for: `$` is the sheet's, if those are dollars. Empty: none. */
static TableUnit code_of(const Sheet *sheet, Str word)
{
    TableUnit code = table_unit(MEASURE_MONEY, word);
    bool theirs = str_is(code.word, DOLLARS) && table_is_dollar(sheet->currency);
    code.word = theirs ? sheet->currency : code.word;
    return code;
}

void put_price(Thing *thing)
{
    Sheet *sheet = thing->sheet;
    Str cell = cell_of(&sheet->columns, thing->row, FIELD_PRICE), beside,
        stated = cell_of(&sheet->columns, thing->row, FIELD_CURRENCY);
    double price;
    if (cell.length == 0) {
        return;
    }
    bool fine = table_amount_read(sheet->arena, cell, (CellMarks){.comma = sheet->comma, .money = true}, &price, &beside);
    bool bare = beside.length == 0 && stated.length == 0;
    TableHeading heading = column_heading(&sheet->columns, FIELD_PRICE);
    bool unsure = beside.length == 0 && (heading.several || heading.unclear.length > 0);
    TableUnit currency = bare ? (TableUnit){sheet->currency, 1.0, false} : code_of(sheet, beside.length > 0 ? beside : stated);
    price = fine ? price * (beside.length > 0 ? currency.factor : heading.unit.factor) : 0.0;
    if (!fine || unsure || price > MOST_AMOUNT || !str_equal(currency.word, sheet->currency)) {
        leave(thing, cell); /* another currency would need a rate, which nobody has said */
        return;
    }
    buf_text(&thing->body, "  price ");
    thing->price = price;
    num_write_fixed(&thing->body, price, 2);
    buf_format(&thing->body, " %.*s\n", STR_ARG(currency.word));
}
