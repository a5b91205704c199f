/*
 * The limits as two rows, one a system. The code's 3 mm is not 1/8 in (3.175 mm): nothing is
 * converted from one row to the other, and each row reads sizes of its own type only.
 */
#include "weld/bendlimits.h"

#include <math.h>

struct corner {
    double size;
    bool from_flaw;
};

struct limits {
    double (*size_at)(const void *sizes, size_t i);
    struct corner (*corner_at)(const void *corners, size_t i);
    double single, counts_above, sum, corner, corner_flaw; /* guided bend */
    double pore, pore_sum, length;                         /* fillet break */
};

static double mm_at(const void *sizes, size_t i)
{
    return ((const struct mm *)sizes)[i].v;
}

static double inch_at(const void *sizes, size_t i)
{
    return ((const struct inch *)sizes)[i].v;
}

static struct corner mm_corner_at(const void *corners, size_t i)
{
    const struct corner_crack_mm *c = corners;

    return (struct corner){c[i].size.v, c[i].from_flaw};
}

static struct corner inch_corner_at(const void *corners, size_t i)
{
    const struct corner_crack_inch *c = corners;

    return (struct corner){c[i].size.v, c[i].from_flaw};
}

static const struct limits mm_limits = {mm_at, mm_corner_at, 3, 1, 10, 6, 3, 2.5, 10, 150};
static const struct limits inch_limits = {inch_at, inch_corner_at, 1 / 8.0,  1 / 32.0, 3 / 8.0,
                                          1 / 4.0, 1 / 8.0,        3 / 32.0, 3 / 8.0,  6};

/* Sums of readings such as 2.4 + 2.5 carry the error of binary fractions. */
static bool above(double value, double limit)
{
    return value > limit * (1 + 1e-12);
}

static struct limit_answer verdict(enum limit_verdict v, const char *why, double summed)
{
    return (struct limit_answer){v, why, summed};
}

static double sum_above(const struct limits *l, const void *sizes, size_t count, double limit)
{
    double sum = 0;
    size_t i;

    for (i = 0; i < count; i++)
        if (above(l->size_at(sizes, i), limit))
            sum += l->size_at(sizes, i);
    return sum;
}

static double largest(const struct limits *l, const void *sizes, size_t count)
{
    double most = 0;
    size_t i;

    for (i = 0; i < count; i++)
        most = fmax(most, l->size_at(sizes, i));
    return most;
}

/* A failure stands before a new specimen: that is for one that is good otherwise. */
static struct limit_answer judge_corners(const struct limits *l, const void *corners, size_t count,
                                         double sum)
{
    bool again = false;
    size_t i;

    for (i = 0; i < count; i++) {
        struct corner c = l->corner_at(corners, i);

        if (c.from_flaw && above(c.size, l->corner_flaw))
            return verdict(LIMIT_FAIL, "a corner crack comes from slag or lack of fusion", sum);
        again = again || above(c.size, l->corner);
    }
    if (again)
        return verdict(LIMIT_NEW_SPECIMEN, "a long clean corner crack: make a new specimen", sum);
    return verdict(LIMIT_PASS, "every discontinuity is within the limits", sum);
}

static struct limit_answer judge_guided(const struct limits *l, const void *sizes, size_t count,
                                        const void *corners, size_t corner_count)
{
    double sum = sum_above(l, sizes, count, l->counts_above);

    if (above(largest(l, sizes, count), l->single))
        return verdict(LIMIT_FAIL, "one discontinuity is larger than any may be", sum);
    if (above(sum, l->sum))
        return verdict(LIMIT_FAIL, "the discontinuities that count add up to too much", sum);
    return judge_corners(l, corners, corner_count, sum);
}

static struct limit_answer judge_face(const struct limits *l, bool fused, const void *sizes,
                                      size_t count)
{
    double sum = sum_above(l, sizes, count, 0);

    if (!fused)
        return verdict(LIMIT_FAIL, "the face does not show fusion to the root all along", sum);
    if (above(largest(l, sizes, count), l->pore))
        return verdict(LIMIT_FAIL, "one inclusion or pore is larger than any may be", sum);
    if (above(sum, l->pore_sum))
        return verdict(LIMIT_FAIL, "inclusions and pores add up to too much", sum);
    return verdict(LIMIT_PASS, "fused to the root, inclusions and pores within the limits", sum);
}

static struct limit_answer judge_break(const struct limits *l, bool folded_flat, bool fused,
                                       const void *sizes, size_t count, double length)
{
    double sum = sum_above(l, sizes, count, 0);

    if (above(fabs(length - l->length), 0.1 * l->length))
        return verdict(LIMIT_OUTSIDE, "they are for a specimen of 150 mm (6 in)", sum);
    if (folded_flat)
        return verdict(LIMIT_PASS, "it folded flat upon itself", sum);
    return judge_face(l, fused, sizes, count);
}

struct limit_answer guided_bend_mm(const struct mm *sizes, size_t count,
                                   const struct corner_crack_mm *corners, size_t corner_count)
{
    return judge_guided(&mm_limits, sizes, count, corners, corner_count);
}

struct limit_answer guided_bend_inch(const struct inch *sizes, size_t count,
                                     const struct corner_crack_inch *corners, size_t corner_count)
{
    return judge_guided(&inch_limits, sizes, count, corners, corner_count);
}

struct limit_answer fillet_break_mm(bool folded_flat, bool fused_to_root, const struct mm *sizes,
                                    size_t count, struct mm length)
{
    return judge_break(&mm_limits, folded_flat, fused_to_root, sizes, count, length.v);
}

struct limit_answer fillet_break_inch(bool folded_flat, bool fused_to_root,
                                      const struct inch *sizes, size_t count, struct inch length)
{
    return judge_break(&inch_limits, folded_flat, fused_to_root, sizes, count, length.v);
}
