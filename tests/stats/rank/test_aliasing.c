/* What cannot be told apart, on sets small enough to see by eye. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "stats/rank/aliasing.h"
#include "table.h"

struct found {
    struct frame f;
    struct model_matrix c;
    struct aliasing s;
};

static void find(const char *table, struct found *found)
{
    struct error e = {0};

    table_to_frame(table, 180, &found->f);
    ck_assert_msg(model_matrix_make(&found->f, &found->c, NULL, &e) == 0, "%s", e.text);
    aliasing_find(&found->c, &found->s);
}

static void found_free(struct found *found)
{
    aliasing_free(&found->s);
    model_matrix_free(&found->c);
    frame_free(&found->f);
}

/* "a b : marks" of a tie. */
static void check_tie(const struct found *found, size_t at, const char *columns, const char *marks)
{
    const struct alias_set *t = &found->s.sets[at];
    char text[200] = "";

    ck_assert_uint_gt(found->s.count, at);
    for (size_t i = 0; i < t->count; i++)
        strcat(strcat(text, i > 0 ? " " : ""), found->f.columns[t->columns[i]].key);
    ck_assert_str_eq(text, columns);
    text[0] = '\0';
    for (size_t i = 0; i < t->row_count; i++)
        strcat(strcat(text, i > 0 ? " " : ""), found->f.marks[t->rows[i]]);
    ck_assert_str_eq(text, marks);
}

START_TEST(always_changed_together)
{
    struct found found;

    find("mark,wire,brushed,side,y\n1,G3,no,1,40\n2,G3,no,2,50\n3,G3,no,1,42\n4,T4,yes,2,80\n"
         "5,T4,yes,1,88\n",
         &found);
    ck_assert_uint_eq(found.s.count, 1);
    ck_assert(found.s.sets[0].exact && !found.s.sets[0].partly);
    check_tie(&found, 0, "wire brushed", "4 5");
    ck_assert(aliasing_pair(&found.s, 0, 1));
    ck_assert(!aliasing_pair(&found.s, 0, 2));
    found_free(&found);
}
END_TEST

/* passes = thickness + joint, with no two of them alike: looking at pairs would miss it. */
START_TEST(three_that_tell_each_other)
{
    struct found found;

    find("mark,thickness,joint,passes,cleaned,y\n1,0,0,2,0,40\n2,0,1,3,1,50\n3,1,0,3,0,42\n"
         "4,1,1,4,0,80\n5,0,0,2,1,88\n6,1,1,4,1,70\n7,0,1,3,0,60\n8,1,0,3,1,62\n",
         &found);
    ck_assert_uint_eq(found.s.count, 1);
    ck_assert(found.s.sets[0].exact);
    check_tie(&found, 0, "thickness joint passes", "2 3 4 6 7 8");
    found_free(&found);
}
END_TEST

START_TEST(opposite_levels_are_tied_too)
{
    struct found found;

    find("mark,a,b,y\n1,0,5,40\n2,1,3,50\n3,0,5,42\n4,1,3,80\n", &found);
    ck_assert_uint_eq(found.s.count, 1);
    check_tie(&found, 0, "a b", "2 4");
    found_free(&found);
}
END_TEST

/* One level of each category always goes with one level of the other: the rest can be told apart.
 */
START_TEST(some_levels_only)
{
    struct found found;

    find("mark,a,b,y\n1,k,u,40\n2,l,u,50\n3,k,v,42\n4,l,v,80\n5,m,w,70\n6,m,w,77\n", &found);
    ck_assert_uint_eq(found.s.count, 1);
    ck_assert(found.s.sets[0].exact && found.s.sets[0].partly);
    found_free(&found);
}
END_TEST

START_TEST(mostly_changed_together)
{
    struct found found;
    const struct alias_set *t;

    /* five and four against one: φ² = (5·4)²/(5·5·6·4) = 2/3, φ = 0.816 */
    find("mark,a,b,c,y\n1,0,0,0,40\n2,0,0,1,50\n3,0,0,0,42\n4,0,0,1,44\n5,0,0,0,48\n6,1,1,1,80\n"
         "7,1,1,0,81\n8,1,1,1,82\n9,1,1,0,83\n10,1,0,1,70\n",
         &found);
    ck_assert_uint_eq(found.s.count, 1);
    t = &found.s.sets[0];
    ck_assert(!t->exact);
    ck_assert_double_eq_tol(t->r_squared, 2.0 / 3, 1e-12);
    ck_assert_uint_eq(t->row_count, 1);
    ck_assert_str_eq(found.f.marks[t->rows[0]], "10");
    found_free(&found);
}
END_TEST

/* passes follow thickness and joint but for one coupon: no pair is near, the three together are. */
START_TEST(foretold_by_two_others)
{
    struct found found;
    const struct alias_set *t;

    find("mark,thickness,joint,passes,y\n1,0,0,2,40\n2,0,1,3,50\n3,1,0,3,42\n4,1,1,4,80\n"
         "5,0,0,2,88\n6,1,1,4,70\n7,0,1,3,60\n8,1,0,3,62\n9,0,0,2,41\n10,1,1,4,84\n"
         "11,0,1,3,52\n12,1,0,2,59\n13,0,0,2,43\n14,1,1,4,80\n15,0,0,2,44\n16,1,1,4,85\n",
         &found);
    ck_assert_uint_ge(found.s.count, 1);
    t = &found.s.sets[found.s.count - 1];
    ck_assert(!t->exact);
    ck_assert_uint_eq(t->count, 3);
    ck_assert_double_ge(t->r_squared, 0.9);
    ck_assert_double_lt(t->r_squared, 1);
    check_tie(&found, found.s.count - 1, "passes thickness joint", "12");
    found_free(&found);
}
END_TEST

/* One coupon in eighty breaks p = t + j: each of the three is told by the other two, and that is
 * one set, not three. */
START_TEST(a_set_is_listed_once)
{
    struct found found = {0};

    frame_init(&found.f, "y", "y", "", 180);
    for (const char *key = "tjp"; *key != '\0'; key++)
        frame_add_column(&found.f, (char[]){*key, '\0'}, "", "", false);
    for (size_t i = 0; i < 80; i++) {
        double t = (double)(i & 1), j = (double)(i >> 1 & 1);

        frame_add_row(&found.f, "c", measure_exact((double)i));
        frame_set_number(&found.f, i, 0, t);
        frame_set_number(&found.f, i, 1, j);
        frame_set_number(&found.f, i, 2, t + j + (i == 4));
    }
    ck_assert_int_eq(model_matrix_make(&found.f, &found.c, NULL, NULL), 0);
    aliasing_find(&found.c, &found.s);
    ck_assert_uint_eq(found.s.count, 1);
    check_tie(&found, 0, "t j p", "c");
    ck_assert_uint_eq(found.s.sets[0].rows[0], 4);
    found_free(&found);
}
END_TEST

/* b is 10, 40 or 70 with the level of a, but for up to 2 more or less: R² is 1 - 7.28/9288.08; the
 * two columns of a on b alone make about 0.5. Off by 2, 1 and 1 (half as far: listed), and by 0.8
 * (not listed); told from a, whichever column comes first, and listed once. */
START_TEST(half_as_far_off_as_the_furthest_is_listed)
{
    static const char *const tables[] = {
        "mark,a,b,y\n1,k,12,40\n2,k,9,50\n3,k,9,42\n4,k,10,80\n5,l,40.8,70\n6,l,39.2,77\n"
        "7,l,40,71\n8,l,40,73\n9,m,70,20\n10,m,70,22\n11,m,70,25\n12,m,70,21\n",
        "mark,b,a,y\n1,12,k,40\n2,9,k,50\n3,9,k,42\n4,10,k,80\n5,40.8,l,70\n6,39.2,l,77\n"
        "7,40,l,71\n8,40,l,73\n9,70,m,20\n10,70,m,22\n11,70,m,25\n12,70,m,21\n"};

    for (size_t i = 0; i < 2; i++) {
        struct found found;

        find(tables[i], &found);
        ck_assert_uint_eq(found.s.count, 1);
        ck_assert(!found.s.sets[0].exact);
        /* Within the levels 4 + 1 + 1 + 2 · 0.64, between them 2 · 4 · 30². */
        ck_assert_double_eq_tol(found.s.sets[0].r_squared, 7200 / (7200 + 7.28), 1e-12);
        check_tie(&found, 0, "b a", "1 2 3");
        found_free(&found);
    }
}
END_TEST

/* As many set-ups as columns and constant: the three are found and nothing is short; one variable
 * more, and there are too few. */
START_TEST(just_enough_set_ups)
{
    struct found found;

    find("mark,a,b,c,y\n1,0,0,0,40\n2,0,1,1,50\n3,1,0,1,42\n4,1,1,2,80\n", &found);
    ck_assert_uint_eq(found.s.count, 1);
    ck_assert(found.s.sets[0].exact && !found.s.short_of_coupons);
    check_tie(&found, 0, "a b c", "2 3 4");
    found_free(&found);
    find("mark,a,b,c,y\n1,0,0,0,40\n2,0,1,1,50\n3,1,0,1,42\n4,1,1,0,80\n", &found);
    ck_assert_uint_eq(found.s.count, 0);
    ck_assert(!found.s.short_of_coupons);
    found_free(&found);
    find("mark,a,b,c,d,y\n1,0,0,0,0,40\n2,0,1,1,0,50\n3,1,0,1,0,42\n4,1,1,0,1,80\n", &found);
    ck_assert(found.s.short_of_coupons);
    found_free(&found);
}
END_TEST

START_TEST(a_balanced_set_has_no_ties)
{
    struct found found;

    find("a,b,c,y\n0,0,0,40\n0,1,1,50\n1,0,1,42\n1,1,0,80\n0,0,1,40\n0,1,0,50\n1,0,0,42\n"
         "1,1,1,80\n",
         &found);
    ck_assert_uint_eq(found.s.count, 0);
    ck_assert(!found.s.short_of_coupons);
    found_free(&found);
}
END_TEST

/* Four coupons and five variables: of course they fit alike, and that is said once, not listed. */
START_TEST(lack_of_coupons_is_not_a_tie)
{
    struct found found;

    find("a,b,c,d,e,y\n0,0,0,0,1,40\n1,0,0,1,0,90\n0,1,0,1,1,55\n0,0,1,0,0,50\n", &found);
    ck_assert(found.s.short_of_coupons);
    for (size_t i = 0; i < found.s.count; i++)
        ck_assert(!found.s.sets[i].exact || found.s.sets[i].count <= 3);
    found_free(&found);
}
END_TEST

/* 26 variables each on its own and four that tell each other, the last: of 31,900 pairs, triples
 * and fours more than are tested, but only the four can be in a set at all. */
START_TEST(variables_on_their_own_cost_no_tests)
{
    enum { VARIABLES = 30, COUPONS = 45 };
    struct random random = random_seeded(3);
    struct found found;

    frame_init(&found.f, "y", "y", "", 180);
    for (size_t j = 0; j < VARIABLES; j++)
        frame_add_column(&found.f, "v", "v", "", false);
    for (size_t i = 0; i < COUPONS; i++) {
        frame_add_row(&found.f, "c", measure_exact((double)i));
        for (size_t j = 0; j < VARIABLES; j++)
            frame_set_number(&found.f, i, j, random_normal(&random));
        frame_set_number(&found.f, i, VARIABLES - 1,
                         found.f.columns[VARIABLES - 2].x[i] + found.f.columns[VARIABLES - 3].x[i] -
                             found.f.columns[VARIABLES - 4].x[i]);
    }
    ck_assert_int_eq(model_matrix_make(&found.f, &found.c, NULL, NULL), 0);
    aliasing_find(&found.c, &found.s);
    ck_assert_uint_gt(found.s.count, 0);
    ck_assert(found.s.sets[0].exact);
    ck_assert_uint_eq(found.s.sets[0].count, 4);
    for (size_t j = 0; j < 4; j++)
        ck_assert_uint_eq(found.s.sets[0].columns[j], VARIABLES - 4 + j);
    found_free(&found);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/aliasing");
    TCase *t = tcase_create("inseparable");

    guard_start();
    tcase_add_test(t, always_changed_together);
    tcase_add_test(t, three_that_tell_each_other);
    tcase_add_test(t, opposite_levels_are_tied_too);
    tcase_add_test(t, some_levels_only);
    tcase_add_test(t, mostly_changed_together);
    tcase_add_test(t, foretold_by_two_others);
    tcase_add_test(t, a_set_is_listed_once);
    tcase_add_test(t, half_as_far_off_as_the_furthest_is_listed);
    tcase_add_test(t, just_enough_set_ups);
    tcase_add_test(t, a_balanced_set_has_no_ties);
    tcase_add_test(t, variables_on_their_own_cost_no_tests);
    tcase_add_test(t, lack_of_coupons_is_not_a_tie);
    suite_add_tcase(s, t);
    return s;
}
