/*
 * The Gregorian calendar, by counting days. No clock, no time zone.
 *
 * The year is taken to begin in March, so that the leap day is its last day; 400 such years are 146097 days.
 * The months from March on have 31, 30, 31, 30, 31 days over and over, which (153 * month + 2) / 5 adds up.
 */
#include "base/date.h"

enum {
    DAYS_OF_400_YEARS = 146097,
    DAYS_TO_1970 = 719468, /* from 0000-03-01 to 1970-01-01 */
    FIRST_YEAR = 1000,
    LAST_YEAR = 9999
};

static bool is_leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

static int days_of_month(int year, int month)
{
    static const int DAYS[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && is_leap(year) ? 29 : DAYS[month - 1];
}

/* Division that rounds down, for what lies before the origin; wide, so that no sum overflows before it. */
static int floor_divide(int64_t value, int divisor)
{
    return (int)(value / divisor) - (value % divisor < 0);
}

Date date_of(int year, int month, int day)
{
    int march_year = month > 2 ? year : year - 1;
    int march_month = month > 2 ? month - 3 : month + 9;
    int era = floor_divide(march_year, 400);
    int year_of_era = march_year - era * 400;
    int day_of_year = (153 * march_month + 2) / 5 + day - 1;
    int day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return (Date)((int64_t)era * DAYS_OF_400_YEARS + day_of_era - DAYS_TO_1970);
}

void date_parts(Date date, int *year, int *month, int *day)
{
    int64_t days = (int64_t)date + DAYS_TO_1970;
    int era = floor_divide(days, DAYS_OF_400_YEARS);
    int day_of_era = (int)(days - (int64_t)era * DAYS_OF_400_YEARS);
    /* Takes out the leap days passed so far: one in 1460 days, none in 36524, one on the last day of all. */
    int common_days = day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096;
    int year_of_era = common_days / 365;
    int day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    int march_month = (5 * day_of_year + 2) / 153;
    *day = day_of_year - (153 * march_month + 2) / 5 + 1;
    *month = march_month < 10 ? march_month + 3 : march_month - 9;
    *year = year_of_era + era * 400 + (*month <= 2);
}

/* `count` digits at `text` as a number, or -1. */
static int read_digits(const char *text, int count)
{
    int value = 0;
    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9') {
            return -1;
        }
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

static void write_digits(char *to, int count, int value)
{
    for (int i = count; i-- > 0; value /= 10) {
        to[i] = (char)('0' + value % 10);
    }
}

bool date_read(Str text, Date *date)
{
    if (text.length != 10 || text.text[4] != '-' || text.text[7] != '-') {
        return false;
    }
    int year = read_digits(text.text, 4);
    int month = read_digits(text.text + 5, 2);
    int day = read_digits(text.text + 8, 2);
    if (year < FIRST_YEAR || month < 1 || month > 12 || day < 1 || day > days_of_month(year, month)) {
        return false;
    }
    *date = date_of(year, month, day);
    return true;
}

void date_write(Buf *buf, Date date)
{
    int year;
    int month;
    int day;
    date_parts(date, &year, &month, &day);
    if (year < FIRST_YEAR || year > LAST_YEAR) {
        buf_format(buf, "%04d-%02d-%02d", year, month, day); /* computed: nobody writes such a day */
        return;
    }
    char text[] = "0000-00-00";
    write_digits(text, 4, year);
    write_digits(text + 5, 2, month);
    write_digits(text + 8, 2, day);
    buf_text(buf, text);
}

/* A day beyond the years that can be written becomes the first or the last that can. */
Date date_add_months(Date date, int months)
{
    int year;
    int month;
    int day;
    date_parts(date, &year, &month, &day);
    int64_t count = (int64_t)year * 12 + (month - 1) + months; /* months since the year 0 */
    year = floor_divide(count, 12);
    month = (int)(count - (int64_t)year * 12) + 1;
    if (year < FIRST_YEAR || year > LAST_YEAR) {
        return year < FIRST_YEAR ? date_of(FIRST_YEAR, 1, 1) : date_of(LAST_YEAR, 12, 31);
    }
    int last = days_of_month(year, month);
    return date_of(year, month, day < last ? day : last);
}
