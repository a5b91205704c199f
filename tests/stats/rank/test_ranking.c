/* The ranking's figures: published, worked by hand, from GNU R, and what must not change them. */
#include "run.h"

#include <math.h>
#include <stdlib.h>

#include "answer.h"
#include "stats/num/guard.h"
#include "table.h"

/*
 * G. Taguchi, Y. Wu 1980; G. E. P. Box, R. D. Meyer, Technometrics 28:19, 1986
 * (fixtures/published). Published: material first, −3.1 between its levels; drying second, +2.15;
 * the largest other 0.4. With 16 results and τ = 2 an effect is drawn toward 0 by 16/(16 + 1):
 * −2.92 and +2.02.
 */
START_TEST(the_published_weld_trial)
{
    char *table = table_read_file(FIXTURES "/published/weld_trial.csv");
    struct ranking_options options = ranking_usual();
    struct answer a;

    options.permutations = 1999;
    answer_make(table, 0, &options, &a);
    ck_assert_str_eq(key_at(&a, 0), "material_level");
    ck_assert_str_eq(key_at(&a, 1), "drying_level");
    ck_assert_double_eq_tol(a.r.items[0].effect, -3.1 * 16 / 17, 1e-9);
    ck_assert_double_eq_tol(a.r.items[1].effect, 2.15 * 16 / 17, 1e-9);
    for (size_t i = 0; i < a.r.count; i++) {
        const struct ranked *r = &a.r.items[i];

        ck_assert_uint_eq(r->rank, i + 1);
        ck_assert_int_eq(r->word, i < 2 ? SURE_CLEAR : SURE_NO_SIGN);
        ck_assert_double_lt(r->low, r->effect);
        ck_assert_double_gt(r->high, r->effect);
        if (i < 2)
            ck_assert_double_le(r->permutation_chance, 0.05);
        else
            ck_assert_double_ge(r->permutation_chance, 0.5);
        if (i >= 2)
            ck_assert_double_le(fabs(r->effect), 0.4 * 16 / 17 + 1e-9);
    }
    ck_assert_double_gt(a.r.items[0].prob_largest, 0.9);
    ck_assert_uint_eq(a.r.used, 16);
    ck_assert_uint_eq(a.r.aliasing.count, 0);
    ck_assert_int_eq(a.r.scatter_from, SCATTER_FIT);
    answer_free(&a);
    free(table);
}
END_TEST

/*
 * Worked by hand. Unit 180/6 = 30°, centre 75°: results −7/6, −5/6, 5/6, 7/6, squares 37/9 in all.
 * x = ∓½: Sxx = 1, Sxy = 2, λ = ¼, so β = 2/1.25 = 1.6 (48°, where the plain difference is 60°),
 * and the squares left with the penalty are 37/9 − 1.6·2 = 0.9111. Laplace is exact up to a
 * constant here: odds = [(37/9 + ½)/(0.9111 + ½)]^((4+1)/2) · √(¼ / 1¼) = 3.26772^2.5 · 0.44721
 * = 8.6322; one variable: both subsets have prior ½. Chance 8.6322/9.6322 = 0.89618.
 */
START_TEST(one_variable_worked_by_hand)
{
    struct answer a;

    answer_make("a,y\n0,40\n0,50\n1,100\n1,110\n", 180, NULL, &a);
    ck_assert_double_eq_tol(a.r.items[0].chance, 0.89618, 1e-5);
    ck_assert_double_eq_tol(a.r.items[0].effect, 48, 1e-9);
    ck_assert_double_eq_tol(a.r.items[0].effect_anyway, 48 * 0.89618, 1e-3);
    ck_assert_double_eq(a.r.items[0].from, 0);
    ck_assert_double_eq(a.r.items[0].to, 1);
    ck_assert_int_eq(a.r.items[0].word, SURE_LIKELY);
    /* alone, it is the strongest whenever it matters: 4000 stratified draws */
    ck_assert_double_eq_tol(a.r.items[0].prob_largest, 0.89618, 2.0 / 4000);
    /* two pairs, 10 apart each: pooled variance (50 + 50)/2 */
    ck_assert_int_eq(a.r.scatter_from, SCATTER_REPEATS);
    ck_assert_double_eq_tol(a.r.scatter, sqrt(50), 1e-9);
    ck_assert_uint_eq(a.r.set_ups, 2);
    ck_assert_uint_eq(a.r.repeats, 2);
    /* of all squares, 3700, (60/2)²·4 lie between the levels */
    ck_assert_double_eq_tol(a.r.items[0].importance, 3600.0 / 3700, 1e-9);
    ck_assert_double_eq_tol(a.r.unexplained, 100.0 / 3700, 1e-9);
    answer_free(&a);
}
END_TEST

/*
 * The same with a second variable always changed along. Prior: none ⅓, each alone ⅙, both ⅓. Alone
 * 8.6322 as above; both: matrix [1¼ 1; 1 1¼], determinant 0.5625, each β = 2/2.25 = 0.8889, squares
 * left 37/9 − 2·2·0.8889 = 0.5556, odds (4.6111/1.0556)^2.5 · √(¼²/0.5625) = 13.295. Weights
 * .33333, 1.43870, 1.43870, 4.43160: chance of each 0.76813, of one or the other 0.95638. Effect
 * (1.43870·1.6 + 4.43160·0.8889)/5.87030 = 1.0632: 31.90°.
 */
START_TEST(two_tied_variables_worked_by_hand)
{
    struct answer a;
    const struct alias_set *t;

    answer_make("mark,a,b,y\nP,0,x,40\nQ,0,x,50\nR,1,z,100\nS,1,z,110\n", 180, NULL, &a);
    for (size_t i = 0; i < 2; i++) {
        ck_assert_double_eq_tol(a.r.items[i].chance, 0.76813, 2e-5);
        ck_assert_double_eq_tol(a.r.items[i].effect, 31.90, 5e-3);
        ck_assert_uint_eq(a.r.items[i].rank, 1);
        ck_assert_uint_eq(a.r.items[i].alias_set, 0);
    }
    ck_assert_double_eq(a.r.items[0].prob_largest, a.r.items[1].prob_largest);
    ck_assert_uint_eq(a.r.aliasing.count, 1);
    t = &a.r.aliasing.sets[0];
    ck_assert(t->exact && !t->partly);
    ck_assert_uint_eq(t->count, 2);
    ck_assert_double_eq_tol(t->chance, 0.95638, 2e-5);
    ck_assert_uint_eq(t->row_count, 2);
    answer_free(&a);
}
END_TEST

/* Figures of ranking_twin.R in GNU R 4.2 on the same table: fits by optim(), intervals by fixing
 * the difference at 401 places, for a pair of levels with one contrast laid along it. */
#define THREE_LEVELS                                                                               \
    "mark,gas,sides,stickout,result\n1,CO2,one,12,40\n2,CO2,both,18,71\n3,mix,one,15,52\n"         \
    "4,mix,both,12,88\n5,argon,one,18,30\n6,argon,both,15,64\n7,CO2,both,12,79\n8,mix,one,18,47\n" \
    "9,mix,both,15,90+\n10,argon,one,12,38\n11,CO2,one,15,44\n12,mix,both,18,83\n"

START_TEST(a_category_of_three_levels_as_in_r)
{
    static const struct {
        const char *level;
        size_t coupons;
        double effect, low, high;
    } levels[] = {{"CO2", 4, -1.217878561 - 9.807380559, -21.6697, -0.8805},
                  {"argon", 3, -8.589501998 - 9.807380559, -29.7641, -7.4526},
                  {"mix", 5, 0, 0, 0}};
    const struct ranked *gas, *sides, *stickout;
    struct answer a;

    answer_make(THREE_LEVELS, 180, NULL, &a);
    gas = named(&a, "gas");
    sides = named(&a, "sides");
    stickout = named(&a, "stickout");
    ck_assert_double_eq_tol(gas->chance, 0.8590904774, 1e-6);
    ck_assert_double_eq_tol(sides->chance, 0.9991963617, 1e-6);
    ck_assert_double_eq_tol(stickout->chance, 0.5643640488, 1e-6);
    ck_assert_double_eq_tol(gas->importance, 0.2277386102, 1e-6);
    ck_assert_double_eq_tol(sides->effect, 32.90796251, 1e-5);
    ck_assert_double_eq_tol(sides->low, 23.7035, 0.05);
    ck_assert_double_eq_tol(sides->high, 42.8202, 0.05);
    ck_assert_double_eq_tol(stickout->effect, -5.489907686, 1e-5);
    ck_assert_double_eq_tol(stickout->low, -16.3711, 0.05);
    ck_assert_double_eq_tol(stickout->high, 5.4249, 0.05);
    ck_assert_int_eq(gas->word, SURE_LIKELY);
    ck_assert_int_eq(stickout->word, SURE_HINT);
    ck_assert_uint_eq(gas->rank, 2);
    /* furthest apart, the lower first: argon and mix, as indexes in order of name (C) */
    ck_assert_double_eq(gas->from, 1);
    ck_assert_double_eq(gas->to, 2);
    ck_assert_double_eq_tol(gas->effect, 18.39688256, 1e-5);
    ck_assert_uint_eq(gas->level_count, 3);
    for (size_t l = 0; l < 3; l++) {
        const struct ranked_level *level = &gas->levels[l];

        ck_assert_str_eq(a.f.columns[gas->column].levels[level->level], levels[l].level);
        ck_assert_uint_eq(level->coupons, levels[l].coupons);
        ck_assert_int_eq(level->reference, l == 2);
        ck_assert_double_eq_tol(level->effect, levels[l].effect, 1e-5);
        ck_assert_double_eq_tol(level->low, levels[l].low, 0.05);
        ck_assert_double_eq_tol(level->high, levels[l].high, 0.05);
        ck_assert_double_eq_tol(level->anyway, level->effect * gas->chance, 1e-12);
    }
    ck_assert_uint_eq(a.r.held, 1);
    ck_assert_int_eq(a.r.scatter_from, SCATTER_FIT);
    answer_free(&a);
}
END_TEST

/* The same from below: every result taken from 130, so that the effects change sign and mix, the
 * level with most coupons, has the lowest results. */
START_TEST(a_category_turned_upside_down)
{
    static const struct {
        double effect, low, high;
    } levels[] = {{1.217878561 + 9.807380559, 0.8805, 21.6697},
                  {8.589501998 + 9.807380559, 7.4526, 29.7641},
                  {0, 0, 0}};
    const struct ranked *gas;
    struct answer a;

    answer_make(
        "mark,gas,sides,stickout,result\n1,CO2,one,12,90\n2,CO2,both,18,59\n3,mix,one,15,78\n"
        "4,mix,both,12,42\n5,argon,one,18,100\n6,argon,both,15,66\n7,CO2,both,12,51\n"
        "8,mix,one,18,83\n9,mix,both,15,<=40\n10,argon,one,12,92\n11,CO2,one,15,86\n"
        "12,mix,both,18,47\n",
        180, NULL, &a);
    gas = named(&a, "gas");
    ck_assert_double_eq_tol(gas->chance, 0.8590904774, 1e-6);
    ck_assert_double_eq(gas->from, 2);
    ck_assert_double_eq(gas->to, 1);
    ck_assert_double_eq_tol(gas->effect, 18.39688256, 1e-5);
    for (size_t l = 0; l < 3; l++) {
        ck_assert_int_eq(gas->levels[l].reference, l == 2);
        ck_assert_double_eq_tol(gas->levels[l].effect, levels[l].effect, 1e-5);
        ck_assert_double_eq_tol(gas->levels[l].low, levels[l].low, 0.05);
        ck_assert_double_eq_tol(gas->levels[l].high, levels[l].high, 0.05);
    }
    ck_assert_double_eq_tol(named(&a, "sides")->effect, 32.90796251, 1e-5);
    ck_assert_double_eq_tol(named(&a, "stickout")->effect, 5.489907686, 1e-5);
    ck_assert_uint_eq(a.r.held, 0);
    answer_free(&a);
}
END_TEST

/* passes = thickness + joint, no two of them alike; chances of the sixteen subsets in GNU R. */
START_TEST(three_that_tell_each_other_share_a_rank)
{
    static const char *const keys[] = {"passes", "joint", "thickness", "cleaned"};
    static const double chances[] = {0.7003045, 0.4939603, 0.4451888, 0.3397846};
    struct answer a;

    answer_make("mark,thickness,joint,passes,cleaned,y\n1,0,0,2,0,40\n2,0,1,3,1,50\n3,1,0,3,0,42\n"
                "4,1,1,4,0,80\n5,0,0,2,1,48\n6,1,1,4,1,70+\n7,0,1,3,0,60\n8,1,0,3,1,62\n",
                180, NULL, &a);
    ck_assert_uint_eq(a.r.aliasing.count, 1);
    ck_assert_uint_eq(a.r.aliasing.sets[0].count, 3);
    ck_assert_double_eq_tol(a.r.aliasing.sets[0].chance, 0.8817570888, 1e-6);
    for (size_t i = 0; i < 4; i++) {
        ck_assert_str_eq(key_at(&a, i), keys[i]);
        ck_assert_double_eq_tol(a.r.items[i].chance, chances[i], 1e-6);
        ck_assert_uint_eq(a.r.items[i].rank, i < 3 ? 1 : 4);
        ck_assert_uint_eq(a.r.items[i].alias_set, i < 3 ? 0 : RANKING_NO_ALIAS);
    }
    answer_free(&a);
}
END_TEST

/* Broke at the very stop, or held at it: that is a difference. */
START_TEST(broke_at_the_stop_or_held_at_it)
{
    struct answer a;

    answer_make("a,y\n0,90\n0,90\n0,90\n1,90+\n1,90+\n1,90+\n", 180, NULL, &a);
    ck_assert_double_gt(a.r.items[0].effect, 10);
    ck_assert_double_gt(a.r.items[0].chance, 0.5);
    answer_free(&a);
}
END_TEST

/* A category with two levels in use is the same as a number with two values. */
START_TEST(two_levels_are_two_numbers)
{
    struct answer a, b;

    answer_make("a,b,y\n1,0,40\n1,1,52\n2,0,90+\n2,1,90+\n1,0,35\n2,0,71\n", 180, NULL, &a);
    answer_make("a,b,y\nk,0,40\nk,1,52\nm,0,90+\nm,1,90+\nk,0,35\nm,0,71\n", 180, NULL, &b);
    ck_assert_double_eq_tol(named(&a, "a")->chance, named(&b, "a")->chance, 1e-12);
    ck_assert_double_eq_tol(named(&a, "a")->effect, named(&b, "a")->effect, 1e-9);
    ck_assert_double_eq_tol(named(&a, "a")->low, named(&b, "a")->low, 1e-9);
    ck_assert_uint_eq(named(&b, "a")->level_count, 2);
    ck_assert_ptr_null(named(&a, "a")->levels);
    answer_free(&a);
    answer_free(&b);
}
END_TEST

/* The coding of three levels must not favour any: naming them otherwise changes nothing. */
START_TEST(names_of_levels_do_not_matter)
{
    struct answer a, b;
    const struct ranked *u, *v;

    answer_make("a,b,y\nk,0,40\nk,1,52\nm,0,90+\nm,1,80\np,0,35\np,1,71\nk,0,44\n", 180, NULL, &a);
    answer_make("a,b,y\nz,0,40\nz,1,52\nc,0,90+\nc,1,80\nd,0,35\nd,1,71\nz,0,44\n", 180, NULL, &b);
    u = named(&a, "a");
    v = named(&b, "a");
    ck_assert_double_eq_tol(u->chance, v->chance, 1e-9);
    ck_assert_double_eq_tol(u->effect, v->effect, 1e-7);
    ck_assert_double_eq_tol(u->low, v->low, 1e-2);
    ck_assert_double_eq_tol(u->high, v->high, 1e-2);
    ck_assert_str_eq(a.f.columns[0].levels[(size_t)u->to], "m");
    ck_assert_str_eq(b.f.columns[0].levels[(size_t)v->to], "c");
    ck_assert_double_gt(u->effect, 0);
    ck_assert_uint_eq(u->level_count, 3);
    ck_assert(u->levels[0].reference); /* k has most coupons */
    ck_assert_uint_eq(u->levels[0].coupons, 3);
    ck_assert_double_eq(u->levels[0].effect, 0);
    ck_assert_double_gt(u->levels[1].effect, 0);
    answer_free(&a);
    answer_free(&b);
}
END_TEST

/* Inches or millimetres, degrees or percent: the same chances, effects in proportion. */
START_TEST(units_do_not_matter)
{
    struct answer a, b;

    answer_make("a,b,y\n0,3,40\n1,5,52\n0,4,90+\n1,9,80\n0,6,35\n1,2,71\n", 180, NULL, &a);
    answer_make("a,b,y\n0,76.2,4\n1,127,5.2\n0,101.6,9.0+\n1,228.6,8\n0,152.4,3.5\n1,50.8,7.1\n",
                18, NULL, &b);
    for (size_t i = 0; i < 2; i++) {
        ck_assert_double_eq_tol(a.r.items[i].chance, b.r.items[i].chance, 1e-9);
        ck_assert_double_eq_tol(a.r.items[i].effect, 10 * b.r.items[i].effect, 1e-6);
        ck_assert_double_eq_tol(a.r.items[i].high, 10 * b.r.items[i].high, 1e-6);
        ck_assert_double_eq_tol(a.r.items[i].importance, b.r.items[i].importance, 1e-9);
    }
    answer_free(&a);
    answer_free(&b);
}
END_TEST

START_TEST(the_observed_range_is_taken_over_all_limits)
{
    struct answer a;

    answer_make("a,y\n0,10\n0,20..30\n1,25\n1,50+\n", 0, NULL, &a);
    ck_assert_double_eq_tol(a.r.range, 40, 1e-12);
    answer_free(&a);
}
END_TEST

START_TEST(words_follow_the_chance)
{
    ck_assert_str_eq(sureness_word(sureness_of(0.90)), "clear");
    ck_assert_str_eq(sureness_word(sureness_of(0.8999)), "likely");
    ck_assert_str_eq(sureness_word(sureness_of(0.75)), "likely");
    ck_assert_str_eq(sureness_word(sureness_of(0.5)), "a hint");
    ck_assert_str_eq(sureness_word(sureness_of(0.4999)), "no sign");
    ck_assert_str_eq(scatter_from_code(SCATTER_REPEATS), "repeats");
    ck_assert_str_eq(scatter_from_code(SCATTER_FIT), "fit");
    ck_assert_str_eq(scatter_from_code(SCATTER_ASSUMED), "assumed");
}
END_TEST

/* What is shown never reads as a better word than the one that stands beside it. */
START_TEST(a_chance_just_under_a_bound_is_shown_under_it)
{
    static const double bounds[] = {SURE_HINT_FROM, SURE_LIKELY_FROM, SURE_CLEAR_FROM};

    for (size_t i = 0; i < sizeof bounds / sizeof *bounds; i++) {
        double under = bounds[i] - 0.01;

        ck_assert_double_eq_tol(sureness_shown(nextafter(bounds[i], 0)), under, 1e-12);
        ck_assert_double_eq_tol(sureness_shown(bounds[i] - 0.004), under, 1e-12);
        ck_assert_double_eq_tol(sureness_shown(bounds[i] - 0.006), under, 1e-12);
        ck_assert_double_eq_tol(sureness_shown(bounds[i]), bounds[i], 1e-12);
        ck_assert_double_eq_tol(sureness_shown(bounds[i] + 0.004), bounds[i], 1e-12);
        ck_assert_double_eq_tol(sureness_shown(bounds[i] + 0.006), bounds[i] + 0.01, 1e-12);
    }
    ck_assert_double_eq_tol(sureness_shown(0.836), 0.84, 1e-12); /* no bound near: as ever */
    ck_assert_double_eq(sureness_shown(0), 0);
    ck_assert_double_eq(sureness_shown(0.999), 1);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("stats/ranking");
    TCase *t = tcase_create("ranking");

    guard_start();
    tcase_set_timeout(t, 60);
    tcase_add_test(t, the_published_weld_trial);
    tcase_add_test(t, one_variable_worked_by_hand);
    tcase_add_test(t, two_tied_variables_worked_by_hand);
    tcase_add_test(t, a_category_of_three_levels_as_in_r);
    tcase_add_test(t, a_category_turned_upside_down);
    tcase_add_test(t, three_that_tell_each_other_share_a_rank);
    tcase_add_test(t, broke_at_the_stop_or_held_at_it);
    tcase_add_test(t, two_levels_are_two_numbers);
    tcase_add_test(t, names_of_levels_do_not_matter);
    tcase_add_test(t, units_do_not_matter);
    tcase_add_test(t, the_observed_range_is_taken_over_all_limits);
    tcase_add_test(t, words_follow_the_chance);
    tcase_add_test(t, a_chance_just_under_a_bound_is_shown_under_it);
    suite_add_tcase(s, t);
    return s;
}
