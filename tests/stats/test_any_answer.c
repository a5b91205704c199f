/*
 * What is built on the ranking, over seeded trials of every odd shape: gaps, a level a coupon,
 * copies of columns, all held, next to no coupons. Whatever comes, each answer hangs together or is
 * a refusal with a sentence.
 */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "stats/compare/compare.h"
#include "stats/compare/tolerance.h"
#include "stats/design/plans.h"
#include "stats/design/separate.h"
#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "stats/rank/dispersion.h"
#include "stats/rank/interactions.h"
#include "stats/rank/outliers.h"
#include "stats/rank/ranking.h"

static struct measure any_result(struct random *r, bool all_held)
{
    double a = floor(180 * random_uniform(r));

    if (all_held)
        return measure_at_least(120);
    switch (random_below(r, 8)) {
    case 0:
        return measure_missing();
    case 1:
        return measure_at_least(a);
    case 2:
        return measure_at_most(a);
    case 3:
        return measure_between(a, a + 20);
    default:
        return measure_exact(a);
    }
}

static void fill_row(struct random *r, struct frame *f, size_t row, size_t gaps)
{
    static const char *const levels[] = {"a", "b", "c", "d", "e"};

    for (size_t j = 0; j < f->k; j++) {
        if (gaps > 0 && random_below(r, gaps) == 0)
            continue;
        if (f->columns[j].category)
            frame_set_level(f, row, j, levels[random_below(r, 1 + j % 5)]);
        else if (j % 4 == 3)
            frame_set_number(f, row, j, 10 - f->columns[j - 1].x[row]);
        else
            frame_set_number(f, row, j, j % 2 ? (double)random_below(r, 2) : random_normal(r));
    }
}

static void any_frame(struct random *r, struct frame *f)
{
    size_t n = random_below(r, 22), k = random_below(r, 8), gaps = random_below(r, 3) * 10;
    bool all_held = random_below(r, 10) == 0;

    frame_init(f, "y", "y", "", random_below(r, 2) ? 180 : 0);
    for (size_t j = 0; j < k; j++)
        frame_add_column(f, "x", "x", "", j % 4 != 3 && j % 4 != 2 && random_below(r, 3) == 0);
    for (size_t i = 0; i < n; i++) {
        frame_add_row(f, "m", any_result(r, all_held));
        fill_row(r, f, i, gaps);
    }
    frame_sort_levels(f);
}

static bool at_hand(const struct frame *f, size_t column, double value)
{
    for (size_t i = 0; i < f->n; i++)
        if (f->columns[column].x[i] == value)
            return true;
    return false;
}

static void check_coupon(const struct frame *f, const struct design_coupon *c)
{
    for (size_t j = 0; j < f->k; j++)
        ck_assert(isnan(c->values[j]) || at_hand(f, j, c->values[j]));
    ck_assert(c->like == SIZE_MAX || c->like < f->n);
    for (size_t g = 0; g < c->gain_count; g++) {
        ck_assert(isfinite(c->gains[g].before) && c->gains[g].after > 0);
        ck_assert_double_le(c->gains[g].after, c->gains[g].before * (1 + 1e-9));
    }
    ck_assert(isnan(c->chance_held) || (c->chance_held >= 0 && c->chance_held <= 1));
}

static void check_design(const struct frame *f, struct ranking *r)
{
    double chance[16];
    struct design_request request = {NULL, r != NULL ? chance : NULL, NAN, 3, 1};
    struct error e = {0};
    struct design d;

    for (size_t j = 0; j < f->k; j++)
        chance[j] = NAN;
    for (size_t i = 0; r != NULL && i < r->count; i++)
        chance[r->items[i].column] = r->items[i].chance;
    if (design_next(f, &request, &d, &e) == 0) {
        ck_assert_uint_eq(d.count, 3);
        for (size_t i = 0; i < d.count; i++)
            check_coupon(f, &d.coupons[i]);
        design_free(&d);
    } else {
        ck_assert_int_eq(e.kind, ERROR_ANSWER);
    }
    if (r != NULL)
        design_separate(f, &request, &r->aliasing);
}

static void check_odd(const struct frame *f, const struct ranking *r)
{
    struct outliers o;
    struct error e = {0};

    ck_assert_int_eq(outliers_find(f, r, &o, &e), 0);
    ck_assert_uint_eq(o.count, r->used);
    for (size_t i = 0; i < o.count; i++) {
        const struct outlier_check *c = &o.coupons[i];

        ck_assert(c->alone ? isnan(c->chance) : c->chance >= 0 && c->chance <= 1);
        ck_assert(c->alone || (c->low <= c->expected && c->expected <= c->high) ||
                  c->high - c->low > 0);
        ck_assert(!c->outlier || !c->alone);
    }
    outliers_free(&o);
}

static void check_combined(const struct ranking *r)
{
    struct interactions c;
    struct error e = {0};

    ck_assert_int_eq(interactions_screen(r, &c, &e), 0);
    ck_assert_uint_le(c.count, c.possible);
    for (size_t i = 0; i < c.count; i++) {
        const struct interaction *p = &c.pairs[i];

        ck_assert(p->chance >= 0 && p->chance <= 1);
        ck_assert(i == 0 || p->chance <= c.pairs[i - 1].chance);
        ck_assert_uint_lt(p->a, p->b);
        ck_assert(p->same_as == INTERACTIONS_ALONE || p->same_as < i);
    }
    interactions_free(&c);
}

static void check_scatter(const struct frame *f, const struct ranking *r)
{
    struct dispersion s;

    dispersion_check(f, r, 1, &s);
    for (size_t i = 0; i < s.level_count; i++)
        ck_assert(s.levels[i].chance > 0 && s.levels[i].chance <= s.levels[i].adjusted &&
                  s.levels[i].adjusted <= 1);
    dispersion_free(&s);
}

static void check_compare(const struct frame *f)
{
    for (size_t j = 0; j < f->k; j++) {
        struct comparison_list list;
        struct error e = {0};

        if (compare_variable(f, j, 1, &list, &e) < 0) {
            ck_assert_int_eq(e.kind, ERROR_ANSWER);
            ck_assert_int_gt(strlen(e.text), 10);
            continue;
        }
        for (size_t i = 0; i < list.count; i++) {
            const struct comparison *c = &list.items[i];

            ck_assert(c->permutation.chance > 0 && c->permutation.chance <= 1);
            ck_assert(c->permutation.smallest <= c->permutation.chance + 1e-12);
            ck_assert(isnan(c->low) || (c->low <= c->high && isfinite(c->difference)));
        }
        comparison_list_free(&list);
    }
}

static void check_tolerance(const struct frame *f)
{
    struct tolerance t;
    struct error e = {0};

    if (tolerance_make(f->y, f->n, f->range, 0.9, 0.95, &t, &e) == 0)
        ck_assert(isfinite(t.bound) && t.bound < t.mean);
    else
        ck_assert_int_eq(e.kind, ERROR_ANSWER);
}

START_TEST(every_answer_hangs_together)
{
    struct random random = random_seeded(test_seed(77) + (uint64_t)_i);
    struct ranking_options options = ranking_usual();

    guard_start();
    options.intervals = false;
    for (int t = 0; t < 40; t++) {
        struct ranking r;
        struct error e = {0};
        struct frame f;

        any_frame(&random, &f);
        check_compare(&f);
        check_tolerance(&f);
        check_design(&f, NULL);
        if (ranking_make(&f, &options, &r, &e) == 0) {
            check_design(&f, &r);
            check_odd(&f, &r);
            check_combined(&r);
            check_scatter(&f, &r);
            ranking_free(&r);
        }
        frame_free(&f);
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/any_answer");
    TCase *t = tcase_create("any answer");

    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, every_answer_hangs_together, 0, 6);
    suite_add_tcase(s, t);
    return s;
}
