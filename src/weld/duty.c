/*
 * Duty cycle. The arc time inside a window is piecewise linear in where the window stands, so the
 * most of it is found with the window ending at the end of a span or beginning at the start of one.
 */
#include "weld/duty.h"

#include <math.h>

struct duty duty_at_current(struct percent rated, struct ampere rated_current, struct ampere i)
{
    double share;

    if (!(rated.v > 0 && rated.v <= 100) || !(rated_current.v > 0) || !(i.v > 0))
        return (struct duty){{NAN}, "rated duty from 0 to 100 %, currents above 0"};
    share = rated.v * (rated_current.v / i.v) * (rated_current.v / i.v);
    return (struct duty){{fmin(share, 100)},
                         i.v > rated_current.v ? "asked beyond the rated current: the machine may "
                                                 "not be made for it"
                                               : NULL};
}

struct ampere duty_full_current(struct percent rated, struct ampere rated_current)
{
    if (!(rated.v > 0 && rated.v <= 100) || !(rated_current.v > 0))
        return (struct ampere){NAN};
    return (struct ampere){rated_current.v * sqrt(rated.v / 100)};
}

static double arc_within(const struct duty_span *spans, size_t count, double from_s, double to_s)
{
    double arc = 0;

    for (size_t i = 0; i < count; i++)
        arc += fmax(0, fmin(spans[i].to_s, to_s) - fmax(spans[i].from_s, from_s));
    return arc;
}

static const char *wrong_spans(const struct duty_span *spans, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!(spans[i].to_s >= spans[i].from_s))
            return "every pass must end after it began";
        for (size_t j = 0; j < i; j++)
            if (fmin(spans[i].to_s, spans[j].to_s) > fmax(spans[i].from_s, spans[j].from_s))
                return "two passes overlap: one arc at a time";
    }
    return NULL;
}

struct duty duty_worst(const struct duty_span *spans, size_t count)
{
    const char *wrong = wrong_spans(spans, count);
    double most = 0;

    if (wrong != NULL)
        return (struct duty){{NAN}, wrong};
    for (size_t i = 0; i < count; i++) {
        double from = spans[i].from_s, to = spans[i].to_s;

        most = fmax(most, arc_within(spans, count, from, from + DUTY_WINDOW_S));
        most = fmax(most, arc_within(spans, count, to - DUTY_WINDOW_S, to));
    }
    return (struct duty){{100 * most / DUTY_WINDOW_S}, NULL};
}

struct duty duty_last(const struct duty_span *spans, size_t count, double now_s)
{
    const char *wrong = wrong_spans(spans, count);

    if (wrong != NULL)
        return (struct duty){{NAN}, wrong};
    return (struct duty){
        {100 * arc_within(spans, count, now_s - DUTY_WINDOW_S, now_s) / DUTY_WINDOW_S}, NULL};
}
