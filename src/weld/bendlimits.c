/*
 * The limits as two rows, one a system; sizes are held against the row of their own.
 */
#include "weld/bendlimits.h"

#include <math.h>

static const struct limits {
    double single, counts_above, sum, corner, corner_flaw; /* guided bend */
    double pore, pore_sum, length;                         /* fillet break */
} limits[] = {
    /* clang-format off */
    [UNITS_METRIC] = {.single = 3, .counts_above = 1, .sum = 10, .corner = 6, .corner_flaw = 3,
        .pore = 2.5, .pore_sum = 10, .length = 150},
    [UNITS_INCH] = {.single = 1 / 8.0, .counts_above = 1 / 32.0, .sum = 3 / 8.0, .corner = 1 / 4.0,
        .corner_flaw = 1 / 8.0, .pore = 3 / 32.0, .pore_sum = 3 / 8.0, .length = 6},
    /* clang-format on */
};

/* Sums of readings such as 2.4 + 2.5 carry the error of binary fractions. */
static bool above(double value, double limit)
{
    return value > limit * (1 + 1e-12);
}

static double sum_above(const double *sizes, size_t count, double limit)
{
    double sum = 0;

    for (size_t i = 0; i < count; i++)
        if (above(sizes[i], limit))
            sum += sizes[i];
    return sum;
}

static double largest(const double *sizes, size_t count)
{
    double most = 0;

    for (size_t i = 0; i < count; i++)
        most = fmax(most, sizes[i]);
    return most;
}

/* A failure stands before a new specimen: that is for one that is good otherwise. */
static struct limit_answer judge_corners(const struct limits *l, const struct corner_crack *corners,
                                         size_t count)
{
    bool again = false;

    for (size_t i = 0; i < count; i++) {
        if (corners[i].from_flaw && above(corners[i].size, l->corner_flaw))
            return (struct limit_answer){LIMIT_FAIL,
                                         "a corner crack comes from slag or lack of fusion"};
        again = again || above(corners[i].size, l->corner);
    }
    if (again)
        return (struct limit_answer){LIMIT_NEW_SPECIMEN,
                                     "a long clean corner crack: make a new specimen"};
    return (struct limit_answer){LIMIT_PASS, "every discontinuity is within the limits"};
}

struct limit_answer guided_bend(enum unit_system system, const double *sizes, size_t count,
                                const struct corner_crack *corners, size_t corner_count)
{
    const struct limits *l = &limits[system];

    if (above(largest(sizes, count), l->single))
        return (struct limit_answer){LIMIT_FAIL, "one discontinuity is larger than any may be"};
    if (above(sum_above(sizes, count, l->counts_above), l->sum))
        return (struct limit_answer){LIMIT_FAIL,
                                     "the discontinuities that count add up to too much"};
    return judge_corners(l, corners, corner_count);
}

struct limit_answer fillet_break(enum unit_system system, bool folded_flat, bool fused_to_root,
                                 const double *sizes, size_t count, double length)
{
    const struct limits *l = &limits[system];

    if (above(fabs(length - l->length), 0.1 * l->length))
        return (struct limit_answer){LIMIT_OUTSIDE, "they are for a specimen of 150 mm (6 in)"};
    if (folded_flat)
        return (struct limit_answer){LIMIT_PASS, "it folded flat upon itself"};
    if (!fused_to_root)
        return (struct limit_answer){LIMIT_FAIL,
                                     "the face does not show fusion to the root all along"};
    if (above(largest(sizes, count), l->pore))
        return (struct limit_answer){LIMIT_FAIL, "one inclusion or pore is larger than any may be"};
    if (above(sum_above(sizes, count, 0), l->pore_sum))
        return (struct limit_answer){LIMIT_FAIL, "inclusions and pores add up to too much"};
    return (struct limit_answer){LIMIT_PASS,
                                 "fused to the root, inclusions and pores within the limits"};
}
