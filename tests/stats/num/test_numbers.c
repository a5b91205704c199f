/* Orders, random numbers, adjusted probabilities, Student's t off its centre, and what becomes of
 * an error in GSL. */
#include "run.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>

#include "stats/num/guard.h"
#include "stats/num/holm.h"
#include "stats/num/noncentral.h"
#include "stats/num/order.h"
#include "stats/num/random.h"

/* The matrix has no Cholesky factor. Without the guard GSL ends the program here. */
START_TEST(an_error_in_gsl_is_returned)
{
    double cells[] = {1, 2, 2, 1};
    gsl_matrix_view m = gsl_matrix_view_array(cells, 2, 2);

    ck_assert_int_eq(gsl_linalg_cholesky_decomp1(&m.matrix), GSL_EDOM);
    ck_assert_ptr_eq(guard_block(cells), cells);
}
END_TEST

START_TEST(gsl_out_of_memory_ends_the_program)
{
    gsl_error("no memory", "file", 1, GSL_ENOMEM);
}
END_TEST

START_TEST(no_block_ends_the_program)
{
    guard_block(NULL);
}
END_TEST

START_TEST(numbers_and_rows_in_order)
{
    double v[] = {3, -1, 3, 2, -1};
    size_t at[] = {10, 2, 7}, *identity = order_identity(3);

    ck_assert_uint_eq(order_distinct(v, 5), 3);
    ck_assert_mem_eq(v, ((double[]){-1, 2, 3}), 3 * sizeof *v);
    order_indexes(at, 3);
    ck_assert_mem_eq(at, ((size_t[]){2, 7, 10}), sizeof at);
    ck_assert_mem_eq(identity, ((size_t[]){0, 1, 2}), 3 * sizeof *identity);
    free(identity);
    ck_assert_int_eq(order_rows((double[]){1, 5}, (double[]){2, 3}, 2), -1);
    ck_assert_int_eq(order_rows((double[]){1, 5}, (double[]){1, 3}, 2), 1);
    ck_assert_int_eq(order_rows((double[]){1, 5}, (double[]){1, 5}, 2), 0);
    ck_assert_int_eq(order_rows((double[]){4, 5}, (double[]){1, 5}, 0), 0);
}
END_TEST

/* The first numbers of splitmix64 from 1234567, as published with the generator, and what follows
 * from them by hand: 0.3501, 0.1736, 0.5322, 0.2490, 0.8895 of 2^64. */
START_TEST(random_numbers_are_those_of_the_generator)
{
    static const uint64_t published[] = {6457827717110365317u, 3203168211198807973u,
                                         9817491932198370423u, 4593380528125082431u,
                                         16408922859458223821u};
    static const size_t tenths[] = {3, 1, 5, 2, 8};
    struct random bits = random_seeded(1234567), below = bits, uniform = bits, normal = bits;

    for (size_t i = 0; i < 5; i++) {
        ck_assert_uint_eq(random_bits(&bits), published[i]);
        ck_assert_uint_eq(random_below(&below, 10), tenths[i]);
        ck_assert_double_eq_tol(random_uniform(&uniform), (double)published[i] / 0x1p64, 1e-15);
    }
    /* √(−2 log 0.35008) cos(2π 0.17364) */
    ck_assert_double_eq_tol(random_normal(&normal), 0.668741847475911, 1e-13);
    ck_assert_double_eq_tol(random_normal(&normal), 0.007002816605280, 1e-13);
}
END_TEST

/* With n = 2^63 + 1 the lower half of bits × n must be 2^63 − 1 at least, else the number is drawn
 * again: the third, fifth, sixth and seventh of the generator are. */
START_TEST(random_places_are_drawn_again_where_they_would_be_too_many)
{
    static const size_t kept[] = {3228913858555182658u, 1601584105599403986u, 2296690264062541215u,
                                  2539079024163920088u, 7550896989109111438u};
    struct random r = random_seeded(1234567);

    for (size_t i = 0; i < 5; i++)
        ck_assert_uint_eq(random_below(&r, ((size_t)1 << 63) + 1), kept[i]);
}
END_TEST

/* 0.3501 × 5, 0.1736 × 4, 0.5322 × 3, 0.2490 × 2: places 1, 1 + 0, 2 + 1, 3 + 0 are brought
 * forward; the last one needs no draw. */
START_TEST(a_deal_brings_drawn_items_forward)
{
    size_t all[] = {0, 1, 2, 3, 4}, two[] = {0, 1, 2, 3, 4};
    struct random r = random_seeded(1234567), s = r, draws = r;

    random_shuffle(&r, all, 5);
    ck_assert_mem_eq(all, ((size_t[]){1, 0, 3, 2, 4}), sizeof all);
    random_deal(&s, two, 5, 1);
    ck_assert_mem_eq(two, ((size_t[]){1, 0, 2, 3, 4}), sizeof two);
    random_bits(&draws);
    ck_assert_uint_eq(s.state, draws.state);
    for (int i = 0; i < 3; i++)
        random_bits(&draws);
    ck_assert_uint_eq(r.state, draws.state);
}
END_TEST

/* R: p.adjust(c(.01, .04, .03, .005), "holm"); .6 × 2 is cut to 1. */
START_TEST(probabilities_are_adjusted_for_how_many)
{
    double four[] = {0.01, NAN, 0.04, 0.03, 0.005}, large[] = {0.6, 0.7};

    holm_adjust(four, 5);
    ck_assert_double_eq_tol(four[0], 0.03, 1e-15);
    ck_assert(isnan(four[1]));
    ck_assert_double_eq_tol(four[2], 0.06, 1e-15);
    ck_assert_double_eq_tol(four[3], 0.06, 1e-15);
    ck_assert_double_eq_tol(four[4], 0.02, 1e-15);
    holm_adjust(large, 2);
    ck_assert_double_eq(large[0], 1);
    ck_assert_double_eq(large[1], 1);
}
END_TEST

START_TEST(noncentral_t_is_that_of_r)
{
    /* R: pt(2.5, 10, 1), pt(-1, 4, 0.5), pt(8, 30, 5); at 0 it is Φ(−shift) */
    ck_assert_double_eq_tol(noncentral_t_below(2.5, 10, 1), 0.896545604397624, 1e-9);
    ck_assert_double_eq_tol(noncentral_t_below(-1, 4, 0.5), 0.0861495690369525, 1e-9);
    ck_assert_double_eq_tol(noncentral_t_below(8, 30, 5), 0.980881875062161, 1e-9);
    ck_assert_double_eq_tol(noncentral_t_below(0, 7, 1), 0.158655253931457, 1e-9);
    /* R: qt(.9, 6, 2), qt(.05, 3) */
    ck_assert_double_eq_tol(noncentral_t_point(0.9, 6, 2), 4.10511746834007, 1e-7);
    ck_assert_double_eq_tol(noncentral_t_point(0.05, 3, 0), -2.35336343480183, 1e-7);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/numbers");
    TCase *t = tcase_create("numbers");

    guard_start();
    tcase_add_test(t, an_error_in_gsl_is_returned);
    tcase_add_exit_test(t, gsl_out_of_memory_ends_the_program, 4);
    tcase_add_exit_test(t, no_block_ends_the_program, 4);
    tcase_add_test(t, numbers_and_rows_in_order);
    tcase_add_test(t, random_numbers_are_those_of_the_generator);
    tcase_add_test(t, random_places_are_drawn_again_where_they_would_be_too_many);
    tcase_add_test(t, a_deal_brings_drawn_items_forward);
    tcase_add_test(t, probabilities_are_adjusted_for_how_many);
    tcase_add_test(t, noncentral_t_is_that_of_r);
    suite_add_tcase(s, t);
    return s;
}
