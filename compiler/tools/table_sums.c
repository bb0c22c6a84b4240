/* See table_sums.h. */
#include "tools/table_sums.h"

#include "base/buf.h"
#include "base/num.h"

#include <math.h>

static bool is_same(double a, double b)
{
    const double least_coin = 0.01;
    return fabs(a - b) < least_coin / 2.0;
}

void table_sums_add(TableSums *sums, double price, double count)
{
    TableSum *both[] = {&sums->whole, &sums->since};
    for (int i = 0; i < 2; i++) {
        both[i]->of_all += price * count;
        both[i]->of_one += price;
    }
    sums->things++;
}

bool table_sums_hold(const TableSums *sums, double amount)
{
    return is_same(amount, sums->whole.of_all) || is_same(amount, sums->since.of_all);
}

const char *table_sums_tell(TableSums *sums, Arena *arena, double amount, const char *currency)
{
    Buf text;
    buf_init(&text, arena);
    if (sums->lost) {
        buf_text(&text, "; not every price above it is read");
    } else if (table_sums_hold(sums, amount)) {
        buf_text(&text, ": that of the prices above it, each times its count");
    } else if (is_same(amount, sums->whole.of_one) || is_same(amount, sums->since.of_one)) {
        buf_text(&text, ": that of the prices above it, each taken once whatever its count; here each is read as the price of one");
    } else {
        buf_text(&text, "; what stands above it comes to ");
        num_write_fixed(&text, sums->whole.of_all, 2);
        buf_format(&text, " %s", currency);
    }
    sums->since = (TableSum){0.0, 0.0};
    return text.text;
}
