/* The permutation chance against counts that can be made by hand, published tables and itself. */
#include "run.h"

#include <math.h>

#include "stats/compare/permutation_test.h"

static void exact(const double *v, size_t n, struct measure *y)
{
    for (size_t i = 0; i < n; i++)
        y[i] = measure_exact(v[i]);
}

START_TEST(three_against_three_cannot_go_under_a_tenth)
{
    struct measure a[3], b[3];
    struct permutation_test p;

    exact((double[]){10, 20, 30}, 3, a);
    exact((double[]){100, 110, 120}, 3, b);
    permutation_test(a, 3, b, 3, 1, &p);
    ck_assert(p.all && !p.ranks);
    ck_assert_double_eq(p.arrangements, 20);
    ck_assert_double_eq_tol(p.chance, 0.10, 1e-15);
    ck_assert_double_eq_tol(p.smallest, 0.10, 1e-15);
    ck_assert_double_eq_tol(permutation_test_smallest(3, 3), 0.10, 1e-15);
    ck_assert_double_eq_tol(permutation_test_smallest(3, 4), 1.0 / 35, 1e-15);
    ck_assert_double_eq(permutation_test_smallest(0, 4), 1);
}
END_TEST

/*
 * On the ranks 1 … n the permutation chance is that of the rank-sum test. Critical values of the
 * rank sum from F. Wilcoxon, Biometrics Bulletin 1:80, 1945, as in later handbook tables (from
 * memory): 5 against 5, smaller rank sum 17 has the two-sided chance 8/252 = 0.0317, 19: 24/252.
 */
START_TEST(ranks_give_the_rank_sum_table)
{
    struct measure a[5], b[5];
    struct permutation_test p;

    exact((double[]){1, 2, 3, 4, 7}, 5, a);
    exact((double[]){5, 6, 8, 9, 10}, 5, b);
    permutation_test(a, 5, b, 5, 1, &p);
    ck_assert_double_eq_tol(p.chance, 8.0 / 252, 1e-12);
    exact((double[]){1, 2, 3, 5, 8}, 5, a);
    exact((double[]){4, 6, 7, 9, 10}, 5, b);
    permutation_test(a, 5, b, 5, 1, &p);
    ck_assert_double_eq_tol(p.chance, 24.0 / 252, 1e-12);
}
END_TEST

START_TEST(equal_results_say_nothing)
{
    struct measure a[4], b[3];
    struct permutation_test p;

    exact((double[]){90, 90, 90, 90}, 4, a);
    exact((double[]){90, 90, 90}, 3, b);
    permutation_test(a, 4, b, 3, 1, &p);
    ck_assert_double_eq(p.chance, 1);
    ck_assert_double_eq(p.smallest, 1);
}
END_TEST

/* Worked by hand: y = 40, 90, 135+ against 60, 135+, 50..70. Who surely beats whom:
 * 40 loses to all five; 90 beats 40, 60, 50..70, loses to both held; a held one beats the four that
 * broke and cannot be told from the other; 60 beats 40, loses to 90 and both held, 50..70 unknown;
 * 50..70 beats 40, loses to 90 and both held. */
START_TEST(held_results_are_scored_by_what_is_sure)
{
    struct measure y[6] = {measure_exact(40), measure_exact(90),     measure_at_least(135),
                           measure_exact(60), measure_at_least(135), measure_between(50, 70)};
    const double expected[6] = {-5, 1, 4, -2, 4, -2};
    double scores[6];

    ck_assert(permutation_test_scores(y, 6, scores));
    for (int i = 0; i < 6; i++)
        ck_assert_double_eq(scores[i], expected[i]);
}
END_TEST

/* O(n²) twin of the scores, and plain recursion as the twin of the enumeration. */
static int sure(struct measure x, struct measure y)
{
    bool both = x.kind == MEASURE_EXACT && y.kind == MEASURE_EXACT;

    if (both)
        return (x.low > y.low) - (x.low < y.low);
    return (x.low >= y.high) - (x.high <= y.low);
}

static void choose(const double *s, size_t n, size_t take, double sum, double seen, double *counts)
{
    if (take == 0) {
        counts[0] += fabs(sum) >= seen - 1e-9;
        counts[1]++;
    } else if (n >= take) {
        choose(s + 1, n - 1, take - 1, sum + s[0], seen, counts);
        choose(s + 1, n - 1, take, sum, seen, counts);
    }
}

START_TEST(all_arrangements_agree_with_a_slow_twin)
{
    unsigned state = (unsigned)_i * 2654435761u + 7;

    for (int trial = 0; trial < 40; trial++) {
        struct measure y[11];
        double slow[11], fast[11], counts[2] = {0, 0}, seen = 0;
        size_t n = 5 + trial % 7, a = 2 + trial % 3;
        struct permutation_test p;

        for (size_t i = 0; i < n; i++) {
            double v = (double)((state = state * 1103515245u + 12345u) >> 16 & 15) * 10;

            y[i] = v > 110                    ? measure_at_least(110)
                   : trial % 4 == 3 && v < 30 ? measure_at_most(30)
                                              : measure_exact(v);
        }
        permutation_test(y, a, y + a, n - a, 1, &p);
        ck_assert_int_eq(p.ranks, permutation_test_scores(y, n, fast));
        for (size_t i = 0; i < n; i++) {
            slow[i] = p.ranks ? 0 : y[i].low;
            for (size_t j = 0; p.ranks && j < n; j++)
                slow[i] += sure(y[i], y[j]);
            ck_assert_double_eq(slow[i], fast[i]);
        }
        for (size_t i = 0; i < n; i++)
            seen += slow[i] / (double)n;
        for (size_t i = 0; i < n; i++)
            fast[i] = slow[i] - seen;
        seen = 0;
        for (size_t i = 0; i < a; i++)
            seen += fast[i];
        choose(fast, n, a, 0, fabs(seen), counts);
        ck_assert_double_eq_tol(p.chance, counts[0] / counts[1], 1e-12);
        ck_assert_double_eq(p.arrangements, counts[1]);
    }
}
END_TEST

/* 14 against 14 is beyond counting: 40,116,600 arrangements. */
START_TEST(sampling_is_seeded_and_close)
{
    struct measure y[28];
    struct permutation_test p, again;

    for (size_t i = 0; i < 28; i++)
        y[i] = measure_exact((double)((i * 17 + 5) % 28) + (i < 14 ? 0 : 6));
    permutation_test(y, 14, y + 14, 14, 42, &p);
    permutation_test(y, 14, y + 14, 14, 42, &again);
    ck_assert(!p.all);
    ck_assert_uint_eq(p.drawn, PERMUTATION_TEST_DRAWS);
    ck_assert_double_eq(p.chance, again.chance);
    ck_assert_double_gt(p.chance, 0);
    permutation_test(y, 14, y + 14, 14, 43, &again);
    ck_assert_double_ne(p.chance, again.chance);
    ck_assert_double_eq_tol(p.chance, again.chance,
                            6 * sqrt(2 * p.chance * (1 - p.chance) / PERMUTATION_TEST_DRAWS));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/permutation_test");
    TCase *t = tcase_create("permute");

    tcase_add_test(t, three_against_three_cannot_go_under_a_tenth);
    tcase_add_test(t, ranks_give_the_rank_sum_table);
    tcase_add_test(t, equal_results_say_nothing);
    tcase_add_test(t, held_results_are_scored_by_what_is_sure);
    tcase_add_loop_test(t, all_arrangements_agree_with_a_slow_twin, 0, 4);
    tcase_add_test(t, sampling_is_seeded_and_close);
    suite_add_tcase(s, t);
    return s;
}
