#include "stats/compare/survival.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>

#include "base/mem.h"
#include "stats/num/interval.h"
#include "stats/num/order.h"

/* One coupon: where it broke or folding ended; `group` 0 or 1. */
struct life {
    double at;
    bool broke;
    int group;
};

static size_t add_lives(struct life *lives, size_t count, const struct measure *y, size_t n,
                        int group)
{
    for (size_t i = 0; i < n; i++)
        if (measure_known(y[i]))
            lives[count++] = (struct life){measure_point(y[i]), !measure_held(y[i]), group};
    return count;
}

/* Coupons that share the angle of lives[from]: returns the index behind them, counts breaks. */
static size_t same_angle(const struct life *lives, size_t n, size_t from, size_t broke[2],
                         size_t all[2])
{
    size_t i = from;

    broke[0] = broke[1] = all[0] = all[1] = 0;
    for (; i < n && lives[i].at == lives[from].at; i++) {
        all[lives[i].group]++;
        broke[lives[i].group] += lives[i].broke;
    }
    return i;
}

/* Limits on the scale of log(-log share), where they cannot leave 0 … 1. */
static void set_limits(struct survival_step *step, double greenwood)
{
    double middle = log(-log(step->share));
    double reach = gsl_cdf_ugaussian_Pinv(INTERVAL_HIGH) * sqrt(greenwood) / -log(step->share);

    step->low = step->share > 0 ? exp(-exp(middle + reach)) : NAN;
    step->high = step->share > 0 ? exp(-exp(middle - reach)) : NAN;
}

static void fill_steps(const struct life *lives, size_t n, struct survival *out)
{
    size_t broke[2], all[2];
    double share = 1, greenwood = 0;

    for (size_t i = 0, next; i < n; i = next) {
        double risk = (double)(n - i);
        struct survival_step *step = &out->steps[out->step_count];

        next = same_angle(lives, n, i, broke, all);
        if (broke[0] == 0)
            continue;
        share = broke[0] == n - i ? 0 : share * (1 - (double)broke[0] / risk);
        greenwood += (double)broke[0] / (risk * (risk - (double)broke[0]));
        *step = (struct survival_step){lives[i].at, n - i, broke[0], share, 0, 0};
        set_limits(step, greenwood);
        out->step_count++;
    }
}

void survival_steps(const struct measure *y, size_t n, struct survival *out)
{
    struct life *lives = mem_zero(n, sizeof *lives);
    size_t count = add_lives(lives, 0, y, n, 0);

    *out = (struct survival){.steps = mem_zero(count, sizeof *out->steps)};
    order_by_number(lives, count, sizeof *lives);
    fill_steps(lives, count, out);
    free(lives);
}

void survival_free(struct survival *s)
{
    free(s->steps);
    *s = (struct survival){0};
}

/* One breaking angle's part: what was expected of a, and its hypergeometric variance. */
static void log_rank_add(struct log_rank *out, const double risk[2], const size_t broke[2])
{
    double all = risk[0] + risk[1], d = (double)(broke[0] + broke[1]);

    out->a_broke += (double)broke[0];
    out->a_expected += d * risk[0] / all;
    if (all > 1)
        out->variance += d * (all - d) * risk[0] * risk[1] / (all * all * (all - 1));
}

void survival_log_rank(const struct measure *a, size_t a_count, const struct measure *b,
                       size_t b_count, struct log_rank *out)
{
    struct life *lives = mem_zero(a_count + b_count, sizeof *lives);
    size_t of_a = add_lives(lives, 0, a, a_count, 0), n = add_lives(lives, of_a, b, b_count, 1);
    size_t broke[2], all[2];
    double risk[2] = {(double)of_a, (double)(n - of_a)}, off;

    order_by_number(lives, n, sizeof *lives);
    *out = (struct log_rank){0};
    for (size_t i = 0, next; i < n; i = next) {
        next = same_angle(lives, n, i, broke, all);
        if (broke[0] + broke[1] > 0)
            log_rank_add(out, risk, broke);
        risk[0] -= (double)all[0];
        risk[1] -= (double)all[1];
    }
    off = out->a_broke - out->a_expected;
    out->chi_square = out->variance > 0 ? off * off / out->variance : NAN;
    out->chance = out->variance > 0 ? gsl_cdf_chisq_Q(out->chi_square, 1) : NAN;
    free(lives);
}
