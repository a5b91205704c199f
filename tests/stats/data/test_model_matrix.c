/* Frame and coding: what the numbers of a coded frame have to satisfy. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "stats/data/collapse.h"
#include "table.h"

static void code(const char *table, double range, struct frame *f, struct model_matrix *c)
{
    struct error e = {0};

    table_to_frame(table, range, f);
    ck_assert_msg(model_matrix_make(f, c, NULL, &e) == 0, "%s", e.text);
}

START_TEST(levels_come_in_order_of_name)
{
    struct frame f;

    table_to_frame("a,y\nzinc,1\nbare,2\nmill,3\nbare,4\n", 0, &f);
    ck_assert_uint_eq(f.columns[0].level_count, 3);
    ck_assert_str_eq(f.columns[0].levels[0], "bare");
    ck_assert_str_eq(f.columns[0].levels[2], "zinc");
    ck_assert_double_eq(f.columns[0].x[0], 2);
    ck_assert_double_eq(f.columns[0].x[1], 0);
    ck_assert_double_eq(f.columns[0].x[2], 1);
    frame_free(&f);
}
END_TEST

START_TEST(a_frame_grows_and_starts_out_missing)
{
    struct frame f;
    size_t column;

    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    column = frame_add_column(&f, "t", "Thickness", "mm", false);
    for (int i = 0; i < 1000; i++) {
        size_t row = frame_add_row(&f, "m", measure_exact(i));

        ck_assert(isnan(f.columns[column].x[row]));
        frame_set_number(&f, row, column, i * 2.0);
    }
    ck_assert_uint_eq(f.n, 1000);
    ck_assert_double_eq(f.columns[column].x[999], 1998);
    ck_assert_double_eq(f.y[500].low, 500);
    frame_free(&f);
    ck_assert_uint_eq(f.n, 0);
}
END_TEST

START_TEST(numbers_run_from_end_to_end)
{
    struct frame f;
    struct model_matrix c;

    code("t,y\n3,40\n5,50\n4,80\n3,<=90\n", 180, &f, &c);
    ck_assert_double_eq(c.x[0 * 2 + 1], -0.5);
    ck_assert_double_eq(c.x[1 * 2 + 1], 0.5);
    ck_assert_double_eq(c.x[2 * 2 + 1], 0);
    ck_assert_double_eq(c.x[2 * 2], 1);
    ck_assert_double_eq(c.unit, 30);
    ck_assert_double_eq(c.centre, 65);
    ck_assert_double_eq_tol(c.y[0].low, -25.0 / 30, 1e-15);
    ck_assert_double_eq_tol(c.y[3].high, 25.0 / 30, 1e-15);
    ck_assert_double_eq(c.y[3].low, -INFINITY);
    ck_assert_double_eq(c.groups[0].lambda, 0.25);
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

/* L − 1 orthonormal columns that sum to 0 over the levels; any two levels are √2 apart, so that
 * with half the prior variance their difference has tau², as for two levels. */
START_TEST(levels_are_equally_far_apart)
{
    struct frame f;
    struct model_matrix c;
    double row[5][4];

    code("a,y\na,1\nb,2\nc,3\nd,4\ne,5\n", 0, &f, &c);
    ck_assert_uint_eq(c.groups[0].count, 4);
    ck_assert_double_eq(c.groups[0].lambda, 0.5);
    for (size_t l = 0; l < 5; l++)
        model_matrix_level(&c.groups[0], l, row[l]);
    for (size_t u = 0; u < 4; u++)
        for (size_t v = 0; v < 4; v++) {
            double along = 0, sum = 0;

            for (size_t l = 0; l < 5; l++) {
                along += row[l][u] * row[l][v];
                sum += row[l][u];
            }
            ck_assert_double_eq_tol(along, u == v, 1e-14);
            ck_assert_double_eq_tol(sum, 0, 1e-14);
        }
    for (size_t a = 0; a < 5; a++)
        for (size_t b = 0; b < a; b++) {
            double squares = 0;

            for (size_t j = 0; j < 4; j++)
                squares += (row[a][j] - row[b][j]) * (row[a][j] - row[b][j]);
            ck_assert_double_eq_tol(squares, 2, 1e-14);
        }
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

START_TEST(a_row_can_be_coded_by_itself)
{
    struct frame f;
    struct model_matrix c;
    double x[8], values[3];

    code("t,a,b,y\n3,k,u,40\n5,l,v,50\n4,m,u,80\n3,m,v,90\n", 180, &f, &c);
    for (size_t i = 0; i < c.n; i++) {
        for (size_t g = 0; g < 3; g++)
            values[g] = f.columns[c.groups[g].column].x[i];
        model_matrix_row(&c, values, x);
        ck_assert_mem_eq(x, c.x + i * c.p, c.p * sizeof *x);
    }
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

/* Only levels in use count: the coupon with level "k" has no result. */
START_TEST(levels_out_of_use_are_not_coded)
{
    struct frame f;
    struct model_matrix c;

    code("a,y\nk,\nl,50\nm,80\nm,90\nl,40\n", 180, &f, &c);
    ck_assert_uint_eq(c.groups[0].level_count, 2);
    ck_assert_uint_eq(c.groups[0].count, 1);
    ck_assert_uint_eq(c.groups[0].levels[0], 1);
    ck_assert_uint_eq(c.rows[0], 1);
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

START_TEST(packing_keeps_counts_means_and_squares)
{
    struct frame f;
    struct model_matrix c, collapsed;
    double weight = 0;

    code("a,y\n0,40\n1,90+\n0,60\n1,90+\n0,50\n1,70\n1,100+\n", 180, &f, &c);
    collapse_rows(&c, &collapsed);
    ck_assert_uint_eq(collapsed.n, 4); /* 40, 60, 50 | 70 | 90+ twice | 100+ */
    ck_assert_uint_eq(collapse_set_ups(&c), 2);
    ck_assert_double_eq_tol(collapsed.within * 900, 200, 1e-9); /* (−10)² + 10² + 0² */
    for (size_t i = 0; i < collapsed.n; i++) {
        weight += collapsed.y[i].weight;
        if (collapsed.y[i].weight == 3)
            ck_assert_double_eq_tol(collapsed.centre + 30 * collapsed.y[i].low, 50, 1e-12);
    }
    ck_assert_double_eq(weight, 7);
    model_matrix_free(&c);
    model_matrix_free(&collapsed);
    frame_free(&f);
}
END_TEST

static double range_of(const char *table, double range)
{
    struct frame f;

    table_to_frame(table, range, &f);
    range = frame_range(&f);
    frame_free(&f);
    return range;
}

START_TEST(the_range_is_that_given_or_seen)
{
    ck_assert_double_eq(range_of("a,y\n0,40\n0,90+\n1,20\n1,\n", 180), 180);
    ck_assert_double_eq(range_of("a,y\n0,40\n0,90+\n1,20\n1,\n", 0), 70);
    ck_assert_double_eq(range_of("a,y\n0,\n1,40\n1,40\n", 0), 1);
    ck_assert_double_eq(range_of("a,y\n0,\n1,\n", 0), 1);
}
END_TEST

/* t is known for two coupons only, u never changes, v changes only in the coupon without w. */
START_TEST(what_is_set_aside_is_listed)
{
    struct frame f;
    struct model_matrix c;
    struct exclusions l;
    struct error e = {0};

    table_to_frame("t,u,v,w,y\n1,7,1,1,40\n2,7,1,2,50\n,7,1,1,60\n,7,1,2,55\n,7,1,1,45\n,7,2,,70\n,"
                   "7,1,2,\n",
                   180, &f);
    ck_assert_int_eq(model_matrix_make(&f, &c, &l, &e), 0);
    ck_assert_uint_eq(l.too_seldom_count, 1);
    ck_assert_uint_eq(l.too_seldom[0], 0);
    ck_assert_uint_eq(l.never_changed_count, 2);
    ck_assert_uint_eq(l.never_changed[0], 1);
    ck_assert_uint_eq(l.never_changed[1], 2);
    ck_assert_uint_eq(l.row_count, 2);
    ck_assert(l.rows[0].row == 5 && l.rows[0].column == 3);
    ck_assert(l.rows[1].row == 6 && l.rows[1].column == NO_COLUMN);
    ck_assert_uint_eq(c.n, 5);
    ck_assert_uint_eq(c.group_count, 1);
    ck_assert_uint_eq(c.groups[0].column, 3);
    exclusions_free(&l);
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

static const struct {
    const char *table;
    double range;
    const char *text; /* start of the refusal; NULL: none */
} refusals[] = {
    {"a,y\n0,\n1,\n", 180, "No coupon has a result yet"},
    {"a,y\n0,90+\n1,80+\n", 180, "Nothing broke"},
    {"a,y\n0,<=90\n1,<=80\n", 180, "Every result is only \"at most\""},
    {"a,y\n0,90\n1,90\n", 180, "All results are equal"},
    {"a,y\n0,90\n1,90+\n", 0, "All results are equal"},
    {"a,y\n0,90\n1,90+\n", 180, NULL},
    {"a,y\n0,90\n1,80..90\n", 0, NULL},
    {"a,y\n0,90\n0,80\n", 180, "No variable was changed"},
};

START_TEST(what_cannot_be_ranked_is_refused)
{
    struct frame f;
    struct model_matrix c;
    struct error e = {0};
    int rc;

    table_to_frame(refusals[_i].table, refusals[_i].range, &f);
    rc = model_matrix_make(&f, &c, NULL, &e);
    if (refusals[_i].text == NULL) {
        ck_assert_int_eq(rc, 0);
    } else {
        ck_assert_int_ne(rc, 0);
        ck_assert_int_eq(e.kind, ERROR_ANSWER);
        ck_assert_int_eq(strncmp(e.text, refusals[_i].text, strlen(refusals[_i].text)), 0);
        ck_assert_uint_eq(c.n, 0);
    }
    model_matrix_free(&c);
    frame_free(&f);
}
END_TEST

/* Kinds and limits part the rows of one set-up; a mean is one result, whatever the order. */
START_TEST(only_what_was_seen_alike_is_one_row)
{
    struct frame f;
    struct model_matrix c, collapsed;
    size_t between = 0;

    code("a,b,y\n0,k,40..60\n0,k,40..60\n0,k,40..70\n0,k,30..60\n0,k,<=60\n0,k,60\n0,k,70\n0,l,60\n"
         "1,m,90\n0,k,60+\n",
         180, &f, &c);
    collapse_rows(&c, &collapsed);
    ck_assert_uint_eq(collapsed.n, 8);
    ck_assert_uint_eq(collapse_set_ups(&c), 3);
    ck_assert_double_eq_tol(collapsed.within * 900, 50, 1e-9);
    for (size_t i = 0; i < collapsed.n; i++) {
        const struct observation *y = &collapsed.y[i];

        if (y->kind == MEASURE_BETWEEN && y->weight == 2) {
            between++;
            ck_assert_double_eq_tol(c.centre + 30 * y->low, 40, 1e-12);
            ck_assert_double_eq_tol(c.centre + 30 * y->high, 60, 1e-12);
        } else if (y->weight == 2) {
            ck_assert_double_eq_tol(c.centre + 30 * y->low, 65, 1e-12);
            ck_assert_double_eq(y->low, y->high);
        }
    }
    ck_assert_uint_eq(between, 1);
    ck_assert_uint_eq(collapsed.groups[1].level_count, 3);
    ck_assert_mem_eq(collapsed.groups[1].levels, c.groups[1].levels, 3 * sizeof(size_t));
    ck_assert_ptr_ne(collapsed.groups[1].levels, c.groups[1].levels);
    ck_assert_mem_eq(collapsed.lambda, c.lambda, c.p * sizeof *c.lambda);
    ck_assert_uint_eq(collapse_set_ups(&(struct model_matrix){0}), 0);
    model_matrix_free(&c);
    model_matrix_free(&collapsed);
    frame_free(&f);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/model_matrix");
    TCase *t = tcase_create("coded");

    tcase_add_test(t, levels_come_in_order_of_name);
    tcase_add_test(t, a_frame_grows_and_starts_out_missing);
    tcase_add_test(t, numbers_run_from_end_to_end);
    tcase_add_test(t, levels_are_equally_far_apart);
    tcase_add_test(t, a_row_can_be_coded_by_itself);
    tcase_add_test(t, levels_out_of_use_are_not_coded);
    tcase_add_test(t, packing_keeps_counts_means_and_squares);
    tcase_add_test(t, the_range_is_that_given_or_seen);
    tcase_add_test(t, what_is_set_aside_is_listed);
    tcase_add_loop_test(t, what_cannot_be_ranked_is_refused, 0, sizeof refusals / sizeof *refusals);
    tcase_add_test(t, only_what_was_seen_alike_is_one_row);
    suite_add_tcase(s, t);
    return s;
}
