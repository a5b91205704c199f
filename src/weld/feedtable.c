#include "weld/feedtable.h"

#include <math.h>
#include <stdlib.h>

#include "weld/uncertainty.h"

#define RUN_SECONDS 6.0 /* the usual timed run */

struct feed_point feed_point_usual(double dial, struct mm_per_min feed)
{
    double run_out = feed.v / 60 * RUN_SECONDS;
    double share = hypot(READING_MM / run_out, READING_SECOND / RUN_SECONDS);

    return (struct feed_point){dial, feed, {feed.v * share}};
}

static int by_dial(const void *a, const void *b)
{
    const struct feed_point *x = a, *y = b;

    return (x->dial > y->dial) - (x->dial < y->dial);
}

/* One point for `n` readings at one position. */
static struct feed_point folded(const struct feed_point *p, size_t n)
{
    double sum = 0, errors = 0, spread = 0, mean;

    for (size_t i = 0; i < n; i++) {
        sum += p[i].feed.v;
        errors += p[i].error.v;
    }
    mean = sum / (double)n;
    for (size_t i = 0; i < n; i++)
        spread += (p[i].feed.v - mean) * (p[i].feed.v - mean);
    spread = n > 1 ? sqrt(spread / (double)(n - 1) / (double)n) : 0;
    errors = errors / (double)n / sqrt((double)n);
    return (struct feed_point){p->dial, {mean}, {fmax(errors, spread)}};
}

size_t feed_table_sort(struct feed_point *points, size_t count)
{
    size_t left = 0;

    qsort(points, count, sizeof *points, by_dial);
    for (size_t from = 0, to; from < count; from = to) {
        for (to = from + 1; to < count && points[to].dial <= points[from].dial; to++)
            ;
        points[left++] = folded(points + from, to - from);
    }
    return left;
}

/* Second derivative of the parabola through three neighbours. */
static double bend_of(const struct feed_point *p)
{
    double first = (p[1].feed.v - p[0].feed.v) / (p[1].dial - p[0].dial);
    double second = (p[2].feed.v - p[1].feed.v) / (p[2].dial - p[1].dial);

    return 2 * (second - first) / (p[2].dial - p[0].dial);
}

struct feed_answer feed_table_at(const struct feed_point *points, size_t count, double dial)
{
    double w, h, bend = 0;
    size_t i = 0;

    if (count < 2)
        return (struct feed_answer){{NAN}, {NAN}, "two dial positions at least must be measured"};
    if (!(dial >= points[0].dial && dial <= points[count - 1].dial))
        return (struct feed_answer){{NAN}, {NAN}, "the dial is beyond the positions measured"};
    while (i + 2 < count && dial > points[i + 1].dial)
        i++;
    if (i > 0)
        bend = fabs(bend_of(points + i - 1));
    if (i + 2 < count)
        bend = fmax(bend, fabs(bend_of(points + i)));
    h = points[i + 1].dial - points[i].dial;
    w = (dial - points[i].dial) / h;
    return (struct feed_answer){
        {(1 - w) * points[i].feed.v + w * points[i + 1].feed.v},
        {hypot(hypot((1 - w) * points[i].error.v, w * points[i + 1].error.v),
               w * (1 - w) / 2 * h * h * bend)},
        NULL};
}
