/* Shares against worked cases and against the definition, order by order. */
#include "run.h"

#include <math.h>
#include <stdlib.h>

#include "stats/data/collapse.h"
#include "stats/fit/importance.h"
#include "stats/num/guard.h"
#include "stats/num/linear.h"
#include "stats/num/random.h"
#include "table.h"

static void code(const char *table, struct model_matrix *c)
{
    struct frame f;
    struct error e = {0};

    table_to_frame(table, 180, &f);
    ck_assert_msg(model_matrix_make(&f, c, NULL, &e) == 0, "%s", e.text);
    frame_free(&f);
}

/* Balanced 2 × 2: squares of a 30² · 4 … a: ±20, b: ±5, left ±1: shares 1600, 100, 4 of 1704. */
START_TEST(a_balanced_set_splits_by_squares)
{
    struct model_matrix c;
    double share[2], rest;

    code("a,b,y\n0,0,36\n0,1,44\n1,0,74\n1,1,86\n", &c);
    rest = importance_split(&c, 1, share);
    ck_assert_double_eq_tol(share[0], 1600.0 / 1704, 1e-12);
    ck_assert_double_eq_tol(share[1], 100.0 / 1704, 1e-12);
    ck_assert_double_eq_tol(rest, 4.0 / 1704, 1e-12);
    model_matrix_free(&c);
}
END_TEST

START_TEST(tied_variables_share_alike)
{
    struct model_matrix c;
    double share[2], rest;

    code("a,b,y\n0,0,40\n0,0,50\n1,1,100\n1,1,110\n", &c);
    rest = importance_split(&c, 1, share);
    ck_assert_double_eq_tol(share[0], share[1], 1e-12);
    ck_assert_double_eq_tol(share[0], 1800.0 / 3700, 1e-12);
    ck_assert_double_eq_tol(rest, 100.0 / 3700, 1e-12);
    model_matrix_free(&c);
}
END_TEST

/* R² of least squares on the columns of some groups, with a constant. */
static double explained(const struct model_matrix *c, const bool *in)
{
    double x[16 * 8], y[16], mean = 0, total = 0;
    double beta[8], rest[16];
    size_t p = 1;

    for (size_t g = 0; g < c->group_count; g++)
        p += in[g] ? c->groups[g].count : 0;
    for (size_t i = 0; i < c->n; i++) {
        size_t at = 0;

        x[i * p + at++] = 1;
        for (size_t g = 0; g < c->group_count; g++)
            for (size_t j = 0; in[g] && j < c->groups[g].count; j++)
                x[i * p + at++] = c->x[i * c->p + c->groups[g].first + j];
        y[i] = c->y[i].low;
        mean += y[i] / (double)c->n;
    }
    for (size_t i = 0; i < c->n; i++)
        total += (y[i] - mean) * (y[i] - mean);
    linear_least_squares(x, c->n, p, y, LINEAR_TOLERANCE, beta, rest);
    return 1 - linear_dot(rest, rest, c->n) / total;
}

/* The definition: the gain of each variable in each of the 3! orders. */
START_TEST(shares_are_mean_gains_over_all_orders)
{
    static const size_t orders[6][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                        {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    struct model_matrix c, collapsed;
    double share[3], by_order[3] = {0}, rest, sum = 0;

    code("a,b,c,y\n0,k,1.5,40\n1,k,2,52\n0,m,3,60\n1,m,1,95\n1,p,2.5,70\n0,p,2,47\n1,k,1,66\n"
         "0,m,1.2,58\n0,m,1.2,50\n",
         &c);
    for (size_t o = 0; o < 6; o++) {
        bool in[3] = {false, false, false};
        double before = 0;

        for (size_t i = 0; i < 3; i++) {
            double now;

            in[orders[o][i]] = true;
            now = explained(&c, in);
            by_order[orders[o][i]] += (now - before) / 6;
            before = now;
        }
    }
    collapse_rows(&c, &collapsed);
    rest = importance_split(&collapsed, 1, share);
    for (size_t g = 0; g < 3; g++) {
        ck_assert_double_eq_tol(share[g], by_order[g], 1e-12);
        sum += share[g];
    }
    ck_assert_double_eq_tol(sum + rest, 1, 1e-12);
    model_matrix_free(&c);
    model_matrix_free(&collapsed);
}
END_TEST

/* Thirteen variables are split by drawn orders; twelve of them are copies of nothing. */
START_TEST(many_variables_are_split_by_orders)
{
    struct model_matrix c;
    double share[13], rest, sum = 0;

    code("a,b,c,d,e,f,g,h,i,j,k,l,m,y\n"
         "0,0,0,0,0,0,0,0,0,0,0,0,0,40\n1,0,0,0,0,0,0,0,0,0,0,0,0,90\n"
         "0,1,0,0,0,0,0,0,0,0,0,0,0,42\n1,0,1,0,0,0,0,0,0,0,0,0,0,91\n"
         "0,0,0,1,0,0,0,0,0,0,0,0,0,41\n1,0,0,0,1,0,0,0,0,0,0,0,0,88\n"
         "0,0,0,0,0,1,0,0,0,0,0,0,0,39\n1,0,0,0,0,0,1,0,0,0,0,0,0,92\n"
         "0,0,0,0,0,0,0,1,0,0,0,0,0,40\n1,0,0,0,0,0,0,0,1,0,0,0,0,90\n"
         "0,0,0,0,0,0,0,0,0,1,0,0,0,43\n1,0,0,0,0,0,0,0,0,0,1,0,0,90\n"
         "0,0,0,0,0,0,0,0,0,0,0,1,0,40\n1,0,0,0,0,0,0,0,0,0,0,0,1,89\n"
         "0,0,0,0,0,0,0,0,0,0,0,0,0,41\n1,0,0,0,0,0,0,0,0,0,0,0,0,92\n",
         &c);
    rest = importance_split(&c, 1, share);
    for (size_t g = 0; g < 13; g++) {
        ck_assert_double_ge(share[g], -1e-12);
        sum += share[g];
    }
    ck_assert_double_gt(share[0], 0.6);
    ck_assert_double_eq_tol(sum + rest, 1, 1e-9);
    model_matrix_free(&c);
}
END_TEST

/* Sixteen coupons, thirteen variables at right angles (the columns of a Hadamard matrix) with the
 * effects ±1 … ±13, and a copy of the first: whatever the order, each explains its square, and the
 * copy has half of that of the first. */
START_TEST(variables_at_right_angles_split_by_squares)
{
    enum { COUPONS = 16, VARIABLES = 13 };
    struct model_matrix c;
    struct frame f;
    double share[VARIABLES + 1], rest, squares = 0;
    struct error e = {0};

    frame_init(&f, "y", "y", "", 180);
    for (size_t j = 0; j <= VARIABLES; j++)
        frame_add_column(&f, "x", "x", "", false);
    for (size_t i = 0; i < COUPONS; i++) {
        double y = 90;

        frame_add_row(&f, "m", measure_missing());
        for (size_t j = 0; j < VARIABLES; j++) {
            int sign = __builtin_popcountll(i & (j + 1)) % 2 ? 1 : -1;

            frame_set_number(&f, i, j, sign);
            y += sign * (double)(j + 1) * (j % 2 ? 0.5 : -0.5);
        }
        frame_set_number(&f, i, VARIABLES, f.columns[0].x[i]);
        y += __builtin_popcountll(i & 15) % 2 ? 4 : -4; /* a column that is no variable */
        f.y[i] = measure_exact(y);
    }
    for (size_t j = 0; j < VARIABLES; j++)
        squares += pow(0.5 * (double)(j + 1), 2);
    squares += 16;
    ck_assert_msg(model_matrix_make(&f, &c, NULL, &e) == 0, "%s", e.text);
    rest = importance_split(&c, 3, share);
    for (size_t j = 1; j < VARIABLES; j++)
        ck_assert_double_eq_tol(share[j], pow(0.5 * (double)(j + 1), 2) / squares, 1e-12);
    ck_assert_double_eq_tol(share[0], 0.125 / squares, 1e-12);
    ck_assert_double_eq_tol(share[VARIABLES], 0.125 / squares, 1e-12);
    ck_assert_double_eq_tol(rest, 16 / squares, 1e-12);
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

/* Up to IMPORTANCE_ALL variables nothing is drawn, so that the seed does not matter; beyond it
 * does, a little. */
START_TEST(orders_are_drawn_for_many_variables_only)
{
    for (size_t k = IMPORTANCE_ALL; k <= IMPORTANCE_ALL + 1; k++) {
        struct random random = random_seeded(17);
        struct model_matrix c;
        struct frame f;
        double one[IMPORTANCE_ALL + 1], other[IMPORTANCE_ALL + 1], worst = 0;
        struct error e = {0};

        frame_init(&f, "y", "y", "", 180);
        for (size_t j = 0; j < k; j++)
            frame_add_column(&f, "x", "x", "", false);
        for (size_t i = 0; i < 24; i++) {
            double common = random_normal(&random);

            frame_add_row(&f, "m", measure_exact(90 + 10 * common + 5 * random_normal(&random)));
            for (size_t j = 0; j < k; j++)
                frame_set_number(&f, i, j, common + random_normal(&random));
        }
        ck_assert_msg(model_matrix_make(&f, &c, NULL, &e) == 0, "%s", e.text);
        ck_assert_double_eq_tol(importance_split(&c, 1, one), importance_split(&c, 2, other), 1e-9);
        for (size_t j = 0; j < k; j++)
            worst = fmax(worst, fabs(one[j] - other[j]));
        ck_assert_int_eq(worst > 0, k > IMPORTANCE_ALL);
        ck_assert_double_lt(worst, 0.05);
        model_matrix_free(&c);
        frame_free(&f);
    }
}
END_TEST

/* Results that do not vary, and results that bound nothing from above. */
START_TEST(nothing_to_split_is_all_rest)
{
    struct model_matrix c;
    double share[2] = {5, 5};

    code("a,b,y\n0,0,36\n0,1,44\n1,0,74\n1,1,86\n", &c);
    for (size_t i = 0; i < c.n; i++)
        c.y[i] = (struct observation){MEASURE_EXACT, 0, 0, 1};
    ck_assert_double_eq(importance_split(&c, 1, share), 1);
    ck_assert(share[0] == 0 && share[1] == 0);
    share[0] = 5;
    for (size_t i = 0; i < c.n; i++)
        c.y[i] = (struct observation){MEASURE_AT_LEAST, (double)i, INFINITY, 1};
    ck_assert_double_eq(importance_split(&c, 1, share), 1);
    ck_assert(share[0] == 0 && share[1] == 0);
    model_matrix_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/importance");
    TCase *t = tcase_create("share");

    guard_start();
    tcase_add_test(t, a_balanced_set_splits_by_squares);
    tcase_add_test(t, tied_variables_share_alike);
    tcase_add_test(t, shares_are_mean_gains_over_all_orders);
    tcase_add_test(t, many_variables_are_split_by_orders);
    tcase_add_test(t, variables_at_right_angles_split_by_squares);
    tcase_add_test(t, orders_are_drawn_for_many_variables_only);
    tcase_add_test(t, nothing_to_split_is_all_rest);
    suite_add_tcase(s, t);
    return s;
}
