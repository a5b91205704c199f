/*
 * Seeded trials of every odd shape: few coupons, many variables, categories with a level a coupon,
 * gaps, copies of columns, results of all kinds and sizes. Whatever comes, the answer has to hang
 * together or be a refusal.
 */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "stats/rank/ranking.h"

static struct measure any_result(struct random *r, double scale)
{
    double a = scale * floor(180 * random_uniform(r)), b = scale * floor(60 * random_uniform(r));

    switch (random_below(r, 8)) {
    case 0:
        return measure_missing();
    case 1:
    case 2:
        return measure_at_least(a);
    case 3:
        return measure_at_most(a);
    case 4:
        return measure_between(a, a + b);
    default:
        return measure_exact(a);
    }
}

static void fill_cell(struct random *r, struct frame *f, size_t row, size_t column)
{
    static const char *const levels[] = {"a", "b", "c", "d", "e", "f", "g", "h"};
    const struct column *c = &f->columns[column];

    if (random_below(r, 12) == 0)
        return;
    if (c->category)
        frame_set_level(f, row, column, levels[random_below(r, 1 + (column * 3) % 8)]);
    else if (column > 0 && !c[-1].category && column % 4 == 3)
        frame_set_number(f, row, column, c[-1].x[row] * -2.5 + 1);
    else
        frame_set_number(f, row, column,
                         column % 2 ? (double)random_below(r, 2) : random_normal(r) * 1e3);
}

static void any_frame(struct random *r, struct frame *f)
{
    size_t n = random_below(r, 25), k = random_below(r, 10);
    double scale = pow(10, (double)random_below(r, 9) - 4);

    frame_init(f, "y", "y", "", random_below(r, 2) ? 180 * scale : 0);
    for (size_t j = 0; j < k; j++)
        frame_add_column(f, "x", "x", "", random_below(r, 3) == 0);
    for (size_t i = 0; i < n; i++) {
        frame_add_row(f, "m", any_result(r, scale));
        for (size_t j = 0; j < k; j++)
            fill_cell(r, f, i, j);
    }
    frame_sort_levels(f);
}

static void check_item(const struct ranking *r, size_t i)
{
    const struct ranked *item = &r->items[i];

    ck_assert(item->chance >= 0 && item->chance <= 1);
    ck_assert(isfinite(item->effect) && isfinite(item->effect_anyway));
    ck_assert(isfinite(item->low) && item->low <= item->high);
    ck_assert(item->importance > -1e-9 && item->importance < 1 + 1e-9);
    ck_assert(item->prob_largest >= 0 && item->prob_largest <= 1);
    ck_assert(isnan(item->permutation_chance) ||
              (item->permutation_chance > 0 && item->permutation_chance <= 1));
    ck_assert_uint_ge(item->rank, i == 0 ? 1 : r->items[i - 1].rank);
    ck_assert_uint_le(item->rank, i + 1);
    ck_assert(item->alias_set == RANKING_NO_ALIAS || r->aliasing.sets[item->alias_set].exact);
    for (size_t j = 0; j < r->count; j++)
        if (aliasing_pair(&r->aliasing, item->column, r->items[j].column))
            ck_assert_uint_eq(item->rank, r->items[j].rank);
}

static void check_ranking(const struct frame *f, const struct ranking *r)
{
    double share = r->unexplained, strongest = 0;

    for (size_t i = 0; i < r->count; i++) {
        check_item(r, i);
        share += r->items[i].importance;
        strongest += r->items[i].prob_largest;
    }
    ck_assert_double_eq_tol(share, 1, 1e-6);
    ck_assert_double_le(strongest, 1 + 1e-9);
    ck_assert_uint_ge(r->used, 4);
    ck_assert_uint_eq(r->used + r->excluded.row_count, f->n);
    ck_assert_uint_eq(r->count + r->excluded.never_changed_count + r->excluded.too_seldom_count,
                      f->k);
    ck_assert(r->scatter > 0 && isfinite(r->scatter));
    for (size_t i = 0; i < r->aliasing.count; i++)
        ck_assert(r->aliasing.sets[i].chance >= 0 && r->aliasing.sets[i].chance <= 1 + 1e-12);
}

START_TEST(any_trial_gives_an_answer_or_a_refusal)
{
    uint64_t first = test_seed(0) + 1000 * (uint64_t)_i;
    size_t ranked = 0;

    for (uint64_t seed = 0; seed < 20; seed++) {
        struct random random = random_seeded(first + seed);
        struct ranking_options options = ranking_usual();
        struct frame f;
        struct ranking r;
        struct error e = {0};

        options.permutations = 19;
        any_frame(&random, &f);
        if (ranking_make(&f, &options, &r, &e) == 0) {
            ranked++;
            check_ranking(&f, &r);
            ranking_free(&r);
        } else {
            ck_assert_int_eq(e.kind, ERROR_ANSWER);
            ck_assert_uint_ne(e.text[0], '\0');
        }
        frame_free(&f);
    }
    ck_assert_uint_ge(ranked, 5);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/any_trial");
    TCase *t = tcase_create("any_trial");

    guard_start();
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, any_trial_gives_an_answer_or_a_refusal, 0, 8);
    suite_add_tcase(s, t);
    return s;
}
