#include "stats/compare/power.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>

#include "base/mem.h"
#include "model/measure.h"
#include "stats/compare/permutation_test.h"
#include "stats/num/noncentral.h"
#include "stats/num/random.h"

double power_without_stop(const struct power_question *q, size_t n)
{
    double freedom = 2 * (double)n - 2;
    double shift = fabs(q->difference) / q->scatter * sqrt((double)n / 2);
    double beyond = gsl_cdf_tdist_Qinv(q->level / 2, freedom);

    assert(n >= 2);
    return 1 - noncentral_t_below(beyond, freedom, shift) +
           noncentral_t_below(-beyond, freedom, shift);
}

/* One simulated trial: n coupons of the weaker technique, then n of the better. */
static bool fold(const struct power_question *q, size_t n, struct random *r, struct measure *y)
{
    bool held = false;

    for (size_t i = 0; i < 2 * n; i++) {
        double mean = q->lower + (i < n ? 0 : fabs(q->difference));
        double angle = mean + q->scatter * random_normal(r);

        y[i] = angle >= q->stop ? measure_at_least(q->stop) : measure_exact(angle);
        held = held || angle >= q->stop;
    }
    return held;
}

static bool student_sees(const struct measure *y, size_t n, double level)
{
    double mean[2] = {0, 0}, squares = 0, freedom = 2 * (double)n - 2, t;

    for (size_t i = 0; i < 2 * n; i++)
        mean[i >= n] += y[i].low / (double)n;
    for (size_t i = 0; i < 2 * n; i++)
        squares += pow(y[i].low - mean[i >= n], 2);
    t = (mean[1] - mean[0]) / sqrt(2 * squares / freedom / (double)n);
    return 2 * gsl_cdf_tdist_Q(fabs(t), freedom) <= level;
}

/* Sum of the scores of one side against its variance over all arrangements. */
static bool ranks_see(const struct measure *y, size_t n, double level)
{
    double *scores = mem_zero(2 * n, sizeof *scores), sum = 0, squares = 0, all = 2 * (double)n, z;

    permutation_test_scores(y, 2 * n, scores);
    for (size_t i = 0; i < 2 * n; i++) {
        sum += i < n ? scores[i] : 0;
        squares += scores[i] * scores[i];
    }
    free(scores);
    /* Gehan's scores add up to 0. */
    z = squares > 0 ? sum / sqrt((double)n * (double)n / (all * (all - 1)) * squares) : 0;
    return 2 * gsl_cdf_ugaussian_Q(fabs(z)) <= level;
}

double power_with_stop(const struct power_question *q, size_t n, uint64_t seed)
{
    struct measure *y = mem_zero(2 * n, sizeof *y);
    struct random random = random_seeded(seed);
    size_t seen = 0;

    for (size_t t = 0; t < POWER_TRIALS; t++)
        seen += fold(q, n, &random, y) ? ranks_see(y, n, q->level) : student_sees(y, n, q->level);
    free(y);
    return (double)seen / POWER_TRIALS;
}

size_t power_coupons(const struct power_question *q, double wanted, uint64_t seed)
{
    for (size_t n = 2; n <= POWER_MAX_COUPONS; n += n < 30 ? 1 : n / 10)
        if ((isinf(q->stop) ? power_without_stop(q, n) : power_with_stop(q, n, seed)) >= wanted)
            return n;
    return 0;
}
