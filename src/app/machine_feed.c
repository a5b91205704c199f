#include "app/machine_feed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/quantity.h"
#include "store/calibrations.h"
#include "store/journal.h"
#include "weld/wire.h"

int machine_feed_keep(struct session *s, const char *machine, double dial, double run_out_mm,
                      double seconds, const char *note, struct error *e)
{
    struct calibration c = {.dial = dial};
    int rc;

    c.feed_mm_per_min = wire_feed_timed((struct mm){run_out_mm}, (struct seconds){seconds}).v;
    if (isnan(c.feed_mm_per_min) || !isfinite(dial))
        return error_set(e, ERROR_INPUT,
                         "a reading needs the dial position, the wire run out and the time, both "
                         "above 0");
    c.machine = mem_copy(machine);
    c.note = mem_copy(note);
    journal_name(s->book, "log");
    rc = calibration_add(s->book, &c, e);
    calibration_free(&c);
    return rc;
}

/* The readings of a list from `from` on that belong to one machine, as folded points. */
static size_t points_of(const struct calibration_list *list, size_t from, struct feed_point *points)
{
    size_t n = 0;

    while (from + n < list->count &&
           text_same(list->items[from + n].machine, list->items[from].machine)) {
        const struct calibration *c = &list->items[from + n];

        points[n++] = feed_point_usual(c->dial, (struct mm_per_min){c->feed_mm_per_min});
    }
    return n;
}

int machine_feed_points(struct session *s, const char *machine, struct feed_point **points,
                        size_t *count, struct error *e)
{
    struct calibration_list list = {0};

    *points = NULL;
    *count = 0;
    if (calibrations_load(s->book, machine, &list, e) < 0)
        return -1;
    *points = mem_zero(list.count, sizeof **points);
    *count = feed_table_sort(*points, points_of(&list, 0, *points));
    calibration_list_free(&list);
    return 0;
}

static void add_machine(struct page *p, const char *machine, const struct feed_point *points,
                        size_t count, enum unit_system units)
{
    struct block *table;
    size_t i;

    page_add(p, BLOCK_HEADING, "%s", machine);
    table = PAGE_TABLE(p, {.title = "Dial", .right = true}, {.title = "Wire feed", .right = true},
                       {.title = "±", .right = true});
    for (i = 0; i < count; i++) {
        char dial[40], feed[64], error[64];

        text_from_number(dial, sizeof dial, points[i].dial);
        quantity_format(feed, sizeof feed, points[i].feed.v, DIM_SPEED, units);
        quantity_format(error, sizeof error, points[i].error.v, DIM_SPEED, units);
        PAGE_ROW(table, NULL, dial, feed, error);
    }
}

int machine_feed_page(struct session *s, struct page *p, struct error *e)
{
    struct calibration_list list = {0};
    size_t from, n;

    if (calibrations_load(s->book, NULL, &list, e) < 0)
        return -1;
    page_add(p, BLOCK_TITLE, "Wire feed by dial position");
    if (list.count == 0)
        page_add(p, BLOCK_TEXT, "No readings yet: run the wire for 6 s and measure it.");
    for (from = 0; from < list.count; from += n) {
        struct feed_point *points = mem_zero(list.count, sizeof *points);

        n = points_of(&list, from, points);
        add_machine(p, list.items[from].machine, points, feed_table_sort(points, n), s->units);
        free(points);
    }
    calibration_list_free(&list);
    return 0;
}

/* "table=2: 4100mm/min ± 137mm/min; …" of a machine; the caller frees it. */
static int table_argument(struct session *s, const char *machine, char **out, struct error *e)
{
    struct text t = {0};
    struct feed_point *points;
    size_t count, i;

    if (s == NULL)
        return error_set(e, ERROR_USAGE, "machine: there is no book here; give table instead");
    if (machine_feed_points(s, machine, &points, &count, e) != 0)
        return -1;
    text_add(&t, "table=");
    for (i = 0; i < count; i++)
        text_addf(&t, "%.10g: %.10gmm/min ± %.4gmm/min; ", points[i].dial, points[i].feed.v,
                  points[i].error.v);
    free(points);
    *out = text_steal(&t);
    if (count > 0)
        return 0;
    free(*out);
    *out = NULL;
    return error_set(e, ERROR_INPUT, "machine: no wire feed of '%s' has been measured", machine);
}

int calc_run_with_book(struct session *s, const char *kind, size_t count, char *const arguments[],
                       enum unit_system units, struct calc_answer *out, struct error *e)
{
    char **all = mem_zero(count + 1, sizeof *all), *table = NULL;
    int rc = 0;
    size_t i;

    memset(out, 0, sizeof *out);
    for (i = 0; i < count && rc == 0; i++) {
        all[i] = arguments[i];
        if (text_same(kind, "wire") && text_starts(arguments[i], "machine=") && table == NULL)
            rc = table_argument(s, arguments[i] + strlen("machine="), &table, e);
    }
    all[count] = table;
    if (rc == 0)
        rc = calc_run(kind, count + (table != NULL), all, units, out, e);
    free(table);
    free(all);
    return rc;
}
