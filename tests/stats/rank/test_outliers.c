/* Odd coupons on a published case, and on planted ones. */
#include "run.h"

#include <math.h>

#include "stats/fit/predict.h"
#include "stats/num/random.h"
#include "stats/rank/outliers.h"
#include "stats/rank/ranking.h"
#include "table.h"

/*
 * Stack loss of an ammonia plant, 21 days: K. A. Brownlee, Statistical Theory and Methodology,
 * 1965, as data set `stackloss` in GNU R. Days 1, 3, 4 and 21 are the ones that do not fit: C.
 * Daniel and F. S. Wood, Fitting Equations to Data, 1971 (from memory), with day 21 the farthest
 * out, also by rstudent() of lm() in GNU R (-3.33; the next is 2.05).
 */
static const double stack_loss[21][4] = {
    {80, 27, 89, 42}, {80, 27, 88, 37}, {75, 25, 90, 37}, {62, 24, 87, 28}, {62, 22, 87, 18},
    {62, 23, 87, 18}, {62, 24, 93, 19}, {62, 24, 93, 20}, {58, 23, 87, 15}, {58, 18, 80, 14},
    {58, 18, 89, 14}, {58, 17, 88, 13}, {58, 18, 82, 11}, {58, 19, 93, 12}, {50, 18, 89, 8},
    {50, 18, 86, 7},  {50, 19, 72, 8},  {50, 19, 79, 8},  {50, 20, 80, 9},  {56, 20, 82, 15},
    {70, 20, 91, 15}};

START_TEST(the_four_days_of_the_stack_loss_stand_out)
{
    struct ranking r;
    struct outliers o;
    struct error e;
    struct frame f;
    unsigned days = 0;

    frame_init(&f, "loss", "Stack loss", "", 0);
    frame_add_column(&f, "air", "Air", "", false);
    frame_add_column(&f, "water", "Water", "", false);
    frame_add_column(&f, "acid", "Acid", "", false);
    for (size_t i = 0; i < 21; i++) {
        frame_add_row(&f, "day", measure_exact(stack_loss[i][3]));
        for (size_t j = 0; j < 3; j++)
            frame_set_number(&f, i, j, stack_loss[i][j]);
    }
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(outliers_find(&f, &r, &o, &e), 0);
    ck_assert_uint_eq(o.count, 21);
    ck_assert(o.all);
    ck_assert_uint_eq(o.coupons[0].row, 20);
    ck_assert_double_gt(o.coupons[0].expected, stack_loss[20][3]);
    for (size_t i = 0; i < 21; i++) {
        if (i < 4)
            days |= 1u << (o.coupons[i].row + 1);
        ck_assert(o.coupons[i].low < o.coupons[i].expected &&
                  o.coupons[i].expected < o.coupons[i].high);
    }
    ck_assert_uint_eq(days, 1u << 1 | 1u << 3 | 1u << 4 | 1u << 21);
    ck_assert_uint_eq(o.coupons[0].order_count, 3);
    outliers_free(&o);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

/* Grinding adds 60 degrees; one ground coupon broke at 20 as if it had not been. */
static void planted(struct frame *f, bool odd)
{
    struct random random = random_seeded(3);

    frame_init(f, "bend_angle", "Bend angle", "°", 180);
    frame_add_column(f, "cleaning", "Cleaning", "", true);
    frame_add_column(f, "volts", "Volts", "V", false);
    for (size_t i = 0; i < 14; i++) {
        double angle = 50 + 60 * (double)(i % 2) + 6 * random_normal(&random);

        angle = odd && i == 5 ? 20 : angle;
        frame_add_row(f, "c", angle >= 118 ? measure_at_least(118) : measure_exact(angle));
        frame_set_level(f, i, 0, i % 2 ? "ground" : "as rolled");
        frame_set_number(f, i, 1, (double)(16 + i / 4));
    }
    frame_sort_levels(f);
}

START_TEST(a_planted_coupon_is_found_and_none_where_there_is_none)
{
    for (int odd = 0; odd < 2; odd++) {
        struct ranking r;
        struct outliers o;
        struct error e;
        struct frame f;

        planted(&f, odd);
        ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
        ck_assert_int_eq(outliers_find(&f, &r, &o, &e), 0);
        ck_assert_int_eq(o.coupons[0].outlier, odd);
        ck_assert(!o.coupons[1].outlier);
        ck_assert(o.steady);
        if (odd) {
            ck_assert_uint_eq(o.coupons[0].row, 5);
            /* Without it the ranking is surer of the cleaning than with it. */
            ck_assert_double_ge(o.coupons[0].chances[0], r.items[0].chance);
            ck_assert_double_gt(o.coupons[0].low, 70);
        }
        outliers_free(&o);
        ranking_free(&r);
        frame_free(&f);
    }
}
END_TEST

/* A result that stands on one coupon alone is not steady, and nobody can speak for that coupon. */
START_TEST(one_coupon_that_carries_everything)
{
    struct ranking r;
    struct outliers o;
    struct error e;
    struct frame f;

    table_to_frame("a,b,y\n0,0,40\n0,0,44\n0,1,42\n0,1,47\n0,0,38\n0,1,43\n0,0,45\n1,0,120\n", 180,
                   &f);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_uint_eq(r.items[0].column, 0);
    ck_assert_int_ge(r.items[0].word, SURE_LIKELY);
    ck_assert_int_eq(outliers_find(&f, &r, &o, &e), 0);
    ck_assert(!o.steady);
    ck_assert_uint_eq(o.coupons[7].row, 7);
    ck_assert(o.coupons[7].alone && !o.coupons[7].outlier && isnan(o.coupons[7].chance));
    ck_assert(!o.coupons[7].same_first && !o.coupons[7].same_words);
    ck_assert(o.coupons[0].same_first && o.coupons[0].same_words);
    outliers_free(&o);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

/* Without the one that broke nothing bounds the others: there is no ranking to speak of it. */
START_TEST(the_only_coupon_that_broke)
{
    struct ranking r;
    struct outliers o;
    struct error e;
    struct frame f;

    table_to_frame("a,y\n0,40\n0,90+\n1,90+\n1,90+\n1,90+\n", 180, &f);
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
    ck_assert_int_eq(outliers_find(&f, &r, &o, &e), 0);
    ck_assert_uint_eq(o.count, 5);
    ck_assert_uint_eq(o.coupons[4].row, 0);
    ck_assert(o.coupons[4].alone && !o.coupons[4].outlier && isnan(o.coupons[4].expected));
    ck_assert_uint_eq(o.coupons[4].order_count, 0);
    ck_assert(o.coupons[4].order == NULL && o.coupons[4].chances == NULL);
    for (size_t i = 0; i < 4; i++)
        ck_assert(!o.coupons[i].alone && o.coupons[i].chance > 0);
    outliers_free(&o);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

/* One part: mean + scale · t quantile, qt(0.05, 4) = -2.131846786 from
 * GNU R 4.2; several parts: the point is where the chance below it is the part asked for. */
START_TEST(points_of_a_prediction)
{
    struct prediction_part parts[] = {{1, 2, 0.5, 4}, {0.3, -6, 0.01, 1.5}, {0.2, 9, 3, 40}};
    struct prediction p = {parts, 1, 100, 30};
    static const double asked[] = {0.001, 0.05, 0.3, 0.5, 0.95, 0.999};

    ck_assert_double_eq_tol(prediction_point(&p, 0.05), 100 + 30 * (2 - 0.5 * 2.131846786), 1e-6);
    ck_assert_double_eq_tol(prediction_point(&p, 0.5), 160, 1e-6);
    parts[0].weight = 0.5;
    p.count = 3;
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
        ck_assert_double_eq_tol(prediction_below(&p, prediction_point(&p, asked[i])), asked[i],
                                1e-6);
}
END_TEST

/* The check of one coupon when its result is `y`; of what it owns only the figures are good. */
static struct outlier_check check_of(struct frame *f, size_t row, struct measure y)
{
    struct ranking_options fast = ranking_usual();
    struct outlier_check found = {.alone = true};
    struct ranking r;
    struct outliers o;
    struct error e;

    fast.intervals = false;
    f->y[row] = y;
    ck_assert_int_eq(ranking_make(f, &fast, &r, &e), 0);
    ck_assert_int_eq(outliers_find(f, &r, &o, &e), 0);
    for (size_t i = 0; i < o.count; i++)
        if (o.coupons[i].row == row)
            found = o.coupons[i];
    outliers_free(&o);
    ranking_free(&r);
    return found;
}

/* What is predicted of a coupon does not depend on its own result, so any result can be put in its
 * place: at the 5 % point, one in twenty is below and as many as far off on the other side. */
START_TEST(chances_at_the_ends_of_the_prediction)
{
    struct outlier_check o;
    struct frame f;
    double low, high;

    table_to_frame("a,b,y\n0,0,40\n1,0,77\n0,1,52\n1,1,93\n0,0,47\n1,0,70\n0,1,45\n1,1,99\n"
                   "0,0,38\n1,1,85\n",
                   180, &f);
    o = check_of(&f, 4, f.y[4]);
    ck_assert(!o.alone && !o.outlier);
    low = o.low;
    high = o.high;
    ck_assert_double_eq_tol(check_of(&f, 4, measure_exact(low)).chance, 0.1, 1e-6);
    ck_assert_double_eq_tol(check_of(&f, 4, measure_exact(high)).chance, 0.1, 1e-6);
    ck_assert_double_eq_tol(check_of(&f, 4, measure_at_least(high)).chance, 0.05, 1e-6);
    ck_assert_double_eq_tol(check_of(&f, 4, measure_at_least(low)).chance, 0.95, 1e-6);
    ck_assert_double_eq_tol(check_of(&f, 4, measure_at_most(low)).chance, 0.05, 1e-6);
    ck_assert_double_eq_tol(check_of(&f, 4, measure_at_most(high)).chance, 0.95, 1e-6);
    ck_assert_double_eq_tol(check_of(&f, 4, measure_between(low, high)).chance, 1, 1e-6);
    ck_assert(check_of(&f, 4, measure_exact(high + 200)).outlier);
    frame_free(&f);
}
END_TEST

/* Of more than OUTLIERS_ALL coupons only so many are looked at, the odd one among them and first;
 * of OUTLIERS_ALL all. */
START_TEST(only_the_most_surprising_of_many)
{
    for (size_t n = OUTLIERS_ALL; n <= OUTLIERS_ALL + 1; n++) {
        struct random random = random_seeded(2);
        struct ranking r;
        struct outliers o;
        struct error e;
        struct frame f;
        size_t last = SIZE_MAX, looked_at = 0, coupons = 0;
        double mean[2] = {0, 0};

        frame_init(&f, "y", "y", "", 180);
        frame_add_column(&f, "a", "a", "", false);
        for (size_t i = 0; i < n; i++) {
            double angle = 60 + 30 * (double)(i % 2) + 5 * random_normal(&random);

            frame_add_row(&f, "c", measure_exact(i == 70 ? 150 : i == 31 ? 90 : angle));
            frame_set_number(&f, i, 0, (double)(i % 2));
        }
        ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), 0);
        ck_assert_int_eq(outliers_find(&f, &r, &o, &e), 0);
        ck_assert_uint_eq(o.count, OUTLIERS_ALL);
        ck_assert_int_eq(o.all, n == OUTLIERS_ALL);
        ck_assert_uint_eq(o.coupons[0].row, 70);
        ck_assert(o.coupons[0].outlier && !o.coupons[1].outlier);
        for (size_t i = 1; i < o.count; i++) {
            ck_assert_double_ge(o.coupons[i].chance, o.coupons[i - 1].chance);
            last = o.coupons[i].row == 31 ? i : last;
        }
        for (size_t i = 0; i < n; i++) {
            mean[i % 2] += f.y[i].low / (double)((n + 1 - i % 2) / 2);
            coupons += i;
        }
        for (size_t i = 0; i < o.count; i++)
            looked_at += o.coupons[i].row;
        if (n >
            OUTLIERS_ALL) /* the one missing is the nearest to the mean of its like, or nearly */
            ck_assert_double_lt(
                fabs(f.y[coupons - looked_at].low - mean[(coupons - looked_at) % 2]), 1);
        /* The coupon in the middle of its prediction is the one left out. */
        ck_assert(n == OUTLIERS_ALL ? last != SIZE_MAX : o.coupons[o.count - 1].chance > 0.9);
        outliers_free(&o);
        ranking_free(&r);
        frame_free(&f);
    }
}
END_TEST

/* With no odd coupon the chances are spread evenly over 0 to 1: none is favoured. */
START_TEST(chances_are_even_when_nothing_is_odd)
{
    struct random random = random_seeded(11);
    double count = 0, below_tenth = 0, below_half = 0;

    for (int t = 0; t < 40; t++) {
        struct ranking_options fast = ranking_usual();
        struct ranking r;
        struct outliers o;
        struct error e;
        struct frame f;

        frame_init(&f, "bend_angle", "Bend angle", "°", 180);
        frame_add_column(&f, "a", "a", "", false);
        frame_add_column(&f, "b", "b", "", false);
        for (size_t i = 0; i < 16; i++) {
            frame_add_row(&f, "c",
                          measure_exact(60 + 50 * (double)(i % 2) + 15 * random_normal(&random)));
            frame_set_number(&f, i, 0, (double)(i % 2));
            frame_set_number(&f, i, 1, (double)(i / 2 % 2));
        }
        fast.intervals = false;
        ck_assert_int_eq(ranking_make(&f, &fast, &r, &e), 0);
        ck_assert_int_eq(outliers_find(&f, &r, &o, &e), 0);
        for (size_t i = 0; i < o.count; i++) {
            count++;
            below_tenth += o.coupons[i].chance < 0.1;
            below_half += o.coupons[i].chance < 0.5;
        }
        outliers_free(&o);
        ranking_free(&r);
        frame_free(&f);
    }
    /* Four standard errors of a share of 640, were they independent. */
    ck_assert_double_eq_tol(below_tenth / count, 0.1, 4 * sqrt(0.09 / count));
    ck_assert_double_eq_tol(below_half / count, 0.5, 4 * sqrt(0.25 / count));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/outliers");
    TCase *t = tcase_create("odd");

    tcase_set_timeout(t, 60);
    tcase_add_test(t, the_four_days_of_the_stack_loss_stand_out);
    tcase_add_test(t, a_planted_coupon_is_found_and_none_where_there_is_none);
    tcase_add_test(t, one_coupon_that_carries_everything);
    tcase_add_test(t, the_only_coupon_that_broke);
    tcase_add_test(t, points_of_a_prediction);
    tcase_add_test(t, chances_at_the_ends_of_the_prediction);
    tcase_add_test(t, only_the_most_surprising_of_many);
    tcase_add_test(t, chances_are_even_when_nothing_is_odd);
    suite_add_tcase(s, t);
    return s;
}
