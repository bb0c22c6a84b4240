/* See dates.h. */
#include "rules/dates.h"

const char *say_date(const Judge *judge, Date date)
{
    Buf text;
    buf_init(&text, judge->arena);
    date_write(&text, date);
    return text.text;
}

const char *say_days(const Judge *judge, int days)
{
    return text_format(judge->arena, "%d %s", days, days == 1 ? "day" : "days");
}
