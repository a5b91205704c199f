#include "app/calc_feedtable.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "app/calc_list.h"
#include "base/text.h"
#include "weld/uncertainty.h"

#define RUN_SECONDS 6.0 /* the usual timed run */

struct feed_point calc_feed_point(double dial, double feed_mm_per_min)
{
    return feed_point_timed(dial, (struct mm){feed_mm_per_min / 60 * RUN_SECONDS},
                            (struct seconds){RUN_SECONDS}, (struct mm){READING_MM},
                            (struct seconds){READING_SECOND});
}

static int read_point(char *item, struct feed_point *p, struct error *e)
{
    char *colon = strchr(item, ':'), *sign = strstr(item, "±"), *plain = strstr(item, "+-");
    const char *end;
    const struct unit *unit, *error_unit;
    double dial, feed, error;

    if (colon == NULL || !text_number(item, &end, &dial) || end + strspn(end, " ") != colon)
        return error_set(e, ERROR_INPUT, "table: '%s' is no point; write 4: 7.9m/min", item);
    sign = sign != NULL ? sign : plain;
    if (sign != NULL)
        *sign = '\0';
    if (calc_list_quantity("table", text_trim(colon + 1), DIM_SPEED, "m/min", &feed, &unit, e) != 0)
        return -1;
    if (!(feed > 0))
        return error_set(e, ERROR_INPUT, "table: a measured feed is above 0");
    *p = calc_feed_point(dial, feed);
    if (sign == NULL)
        return 0;
    if (calc_list_quantity("table", text_trim(sign + 2), DIM_SPEED, unit->key, &error, &error_unit,
                           e) != 0)
        return -1;
    p->error.v = fabs(error);
    return 0;
}

int calc_feed_table(const char *table, double dial, struct feed_answer *out, struct error *e)
{
    struct feed_point points[CALC_ITEMS];
    struct calc_list list = calc_list_start(table);
    char item[CALC_ITEM];
    size_t n = 0;

    while (n < CALC_ITEMS && calc_list_next(&list, item))
        if (read_point(item, &points[n++], e) != 0)
            return -1;
    if (*list.at != '\0')
        return error_set(e, ERROR_INPUT, "table: at most %d points, divided by semicolons",
                         CALC_ITEMS);
    n = feed_table_sort(points, n);
    *out = feed_table_at(points, n, dial);
    return 0;
}
