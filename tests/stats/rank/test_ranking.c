/* The whole ranking, from a frame to the answer. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/num/guard.h"
#include "stats/num/random.h"
#include "stats/rank/ranking.h"
#include "table.h"

/* A frame and its ranking, made from a table; the ranking has to come off. */
struct answer {
    struct frame f;
    struct ranking r;
};

static void answer_make(const char *table, double range, const struct ranking_options *options,
                        struct answer *a)
{
    struct error e = {0};

    table_to_frame(table, range, &a->f);
    ck_assert_msg(ranking_make(&a->f, options, &a->r, &e) == 0, "%s", e.text);
}

static void answer_free(struct answer *a)
{
    ranking_free(&a->r);
    frame_free(&a->f);
}

static const struct ranked *named(const struct answer *a, const char *key)
{
    for (size_t i = 0; i < a->r.count; i++)
        if (strcmp(a->f.columns[a->r.items[i].column].key, key) == 0)
            return &a->r.items[i];
    ck_abort_msg("%s is not ranked", key);
    return NULL;
}

static const char *key_at(const struct answer *a, size_t place)
{
    return a->f.columns[a->r.items[place].column].key;
}

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

/* Every refusal says what is the matter. */
static const struct refusal {
    const char *table, *says;
} refusals[] = {
    {"a,y\n0,90+\n0,90+\n1,90+\n1,90+\n", "Nothing broke"},
    {"a,y\n0,<=10\n0,<=10\n1,<=10\n1,<=10\n", "at most"},
    {"a,y\n0,40\n1,50\n1,60\n", "Only 3 coupons"},
    {"a,y\n0,50\n0,50\n1,50\n1,50\n", "equal"},
    {"a,y\n0,<=50\n0,50\n1,50+\n1,50\n", "equal"},
    {"a,y\n1,40\n1,50\n1,60\n1,70\n", "No variable was changed"},
    {"a,y\n,40\n,50\n,60\n,70\n", "No variable was changed"},
    {"a,y\n0,\n1,\n0,\n1,\n", "No coupon has a result"},
};

START_TEST(what_cannot_be_ranked_is_refused)
{
    struct frame f;
    struct ranking r;
    struct error e = {0};

    table_to_frame(refusals[_i].table, _i == 4 ? 0 : 180, &f); /* 4: no range but the observed */
    ck_assert_int_eq(ranking_make(&f, NULL, &r, &e), -1);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_msg(strstr(e.text, refusals[_i].says) != NULL, "%s", e.text);
    ck_assert_uint_eq(r.count, 0);
    frame_free(&f);
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

START_TEST(missing_cells_leave_coupons_out)
{
    struct answer a;

    /* c never changes, so its gap matters to nobody; d changes only in a coupon without result */
    answer_make("mark,a,b,c,d,y\n1,0,0,5,1,40\n2,0,1,,1,52\n3,1,0,5,1,90\n4,1,1,5,1,101\n"
                "5,,1,5,1,99\n6,1,1,5,2,\n7,0,0,5,1,44\n8,1,,5,1,90+\n",
                180, NULL, &a);
    ck_assert_uint_eq(a.r.coupons, 8);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.held, 0);
    ck_assert_uint_eq(a.r.excluded.row_count, 3);
    ck_assert_uint_eq(a.r.excluded.rows[0].row, 4);
    ck_assert_uint_eq(a.r.excluded.rows[0].column, 0);
    ck_assert_uint_eq(a.r.excluded.rows[1].row, 5);
    ck_assert_uint_eq(a.r.excluded.rows[1].column, NO_COLUMN);
    ck_assert_uint_eq(a.r.excluded.rows[2].row, 7);
    ck_assert_uint_eq(a.r.excluded.rows[2].column, 1);
    ck_assert_uint_eq(a.r.excluded.never_changed_count, 2);
    ck_assert_uint_eq(a.r.matrix.rows[1], 1);
    ck_assert_uint_eq(a.r.count, 2);
    answer_free(&a);
}
END_TEST

START_TEST(a_column_that_stops_changing_lets_its_coupons_back_in)
{
    struct answer a;

    /* b changes only in the coupon that a leaves out: then b is set aside and 3 comes back */
    answer_make("a,b,y\n0,1,40\n0,1,44\n1,,90\n1,1,95\n,2,60\n1,1,93\n", 180, NULL, &a);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.excluded.never_changed_count, 1);
    ck_assert_uint_eq(a.r.excluded.row_count, 1);
    ck_assert_uint_eq(a.r.excluded.rows[0].row, 4);
    answer_free(&a);
}
END_TEST

START_TEST(a_column_hardly_ever_filled_in_does_not_stop_the_ranking)
{
    struct answer a;

    answer_make("a,b,y\n0,1,40\n0,,44\n1,2,90\n1,,95\n0,,42\n", 180, NULL, &a);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.excluded.too_seldom_count, 1);
    ck_assert_uint_eq(a.r.excluded.too_seldom[0], 1);
    ck_assert_uint_eq(a.r.count, 1);
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

START_TEST(one_exact_result_is_enough)
{
    struct answer a;

    answer_make("a,b,y\n0,1,40\n0,0,90+\n1,1,90+\n1,0,90+\n1,1,90+\n", 180, NULL, &a);
    for (size_t i = 0; i < a.r.count; i++) {
        ck_assert(isfinite(a.r.items[i].effect) && isfinite(a.r.items[i].low) &&
                  isfinite(a.r.items[i].high));
        ck_assert(a.r.items[i].chance > 0 && a.r.items[i].chance < 1);
    }
    ck_assert_str_eq(key_at(&a, 0), "a");
    ck_assert_int_eq(a.r.scatter_from, SCATTER_ASSUMED);
    ck_assert_double_eq(a.r.scatter, 15);
    ck_assert_uint_eq(a.r.held, 4);
    answer_free(&a);
}
END_TEST

/* 300 of 302 held, and the two that broke far below: far out in the tail. */
START_TEST(nearly_everything_held)
{
    char table[16000] = "a,b,y\n0,0,1\n0,1,2\n";
    size_t length = strlen(table);
    struct answer a;

    for (int i = 0; i < 300; i++)
        length += (size_t)snprintf(table + length, sizeof table - length, "%d,%d,175+\n",
                                   i % 10 > 0, i % 3 == 0);
    answer_make(table, 180, NULL, &a);
    ck_assert_str_eq(key_at(&a, 0), "a");
    for (size_t i = 0; i < 2; i++) {
        ck_assert(isfinite(a.r.items[i].effect));
        ck_assert(a.r.items[i].low < a.r.items[i].high);
    }
    answer_free(&a);
}
END_TEST

/* More variables than coupons: an answer all the same, and it says that coupons are short. */
START_TEST(fewer_coupons_than_variables)
{
    struct answer a;

    answer_make("a,b,c,d,e,f,y\n0,0,0,0,0,1,40\n1,0,0,1,0,0,90\n0,1,0,1,1,0,55\n0,0,1,0,1,0,50\n"
                "1,1,1,0,0,1,95\n",
                180, NULL, &a);
    ck_assert(a.r.aliasing.short_of_coupons);
    ck_assert_str_eq(key_at(&a, 0), "a");
    for (size_t i = 0; i < a.r.aliasing.count; i++)
        ck_assert(!a.r.aliasing.sets[i].exact || a.r.aliasing.sets[i].count < 5);
    answer_free(&a);
}
END_TEST

START_TEST(the_same_seed_gives_the_same_answer)
{
    struct ranking_options options = ranking_usual();
    struct answer a, b;
    const char *table = "a,b,y\n0,3,40\n1,5,52\n0,4,90+\n1,9,80\n0,6,35\n1,2,71\n";

    options.permutations = 499;
    options.seed = 42;
    answer_make(table, 180, &options, &a);
    answer_make(table, 180, &options, &b);
    for (size_t i = 0; i < 2; i++) {
        ck_assert_double_eq(a.r.items[i].prob_largest, b.r.items[i].prob_largest);
        ck_assert_double_eq(a.r.items[i].permutation_chance, b.r.items[i].permutation_chance);
        ck_assert_double_eq(a.r.items[i].low, b.r.items[i].low);
    }
    answer_free(&a);
    answer_free(&b);
}
END_TEST

/* A training shop's book: 100,000 coupons, 12 variables, a third held. Half the variables are
 * numbers, so that no two coupons are alike. */
START_TEST(a_hundred_thousand_coupons)
{
    struct random random = random_seeded(1);
    struct frame f;
    struct ranking r;
    struct error e = {0};

    frame_init(&f, "y", "y", "°", 180);
    for (size_t j = 0; j < 12; j++)
        frame_add_column(&f, "x", "x", "", false);
    for (size_t i = 0; i < 100000; i++) {
        double y = 60 + 15 * random_normal(&random);

        frame_add_row(&f, "m", measure_missing());
        for (size_t j = 0; j < 12; j++)
            frame_set_number(&f, i, j,
                             j < 6 ? random_uniform(&random) : (double)random_below(&random, 2));
        y += 30 * f.columns[0].x[i] + 20 * f.columns[11].x[i];
        f.y[i] = y > 95 ? measure_at_least(95) : measure_exact(y);
    }
    ck_assert_msg(ranking_make(&f, NULL, &r, &e) == 0, "%s", e.text);
    ck_assert_uint_eq(r.used, 100000);
    ck_assert(r.approximated);
    ck_assert_uint_eq(r.items[0].column, 0);
    ck_assert_uint_eq(r.items[1].column, 11);
    ck_assert_double_eq_tol(r.items[0].effect, 30, 0.5);
    ck_assert_double_eq_tol(r.items[1].effect, 20, 0.5);
    ck_assert(r.items[0].low < 30 && r.items[0].high > 30);
    ck_assert_double_eq_tol(r.scatter, 15, 0.1);
    ck_assert_int_ne(r.items[2].word, SURE_CLEAR);
    ranking_free(&r);
    frame_free(&f);
}
END_TEST

static bool stop_late(void *user, double done)
{
    double *max = user;

    ck_assert_double_ge(done, *max);
    *max = done;
    return done < 0.6;
}

START_TEST(work_can_be_stopped)
{
    double max = 0;
    struct ranking_options options = ranking_usual();
    struct frame f;
    struct ranking r;
    struct error e = {0};

    options.progress = stop_late;
    options.user = &max;
    table_to_frame("a,b,y\n0,3,40\n1,5,52\n0,4,90+\n1,9,80\n0,6,35\n1,2,71\n", 180, &f);
    ck_assert_int_eq(ranking_make(&f, &options, &r, &e), -1);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_double_ge(max, 0.6);
    ck_assert_ptr_null(r.items);
    frame_free(&f);
}
END_TEST

START_TEST(words_follow_the_chance)
{
    ck_assert_str_eq(sureness_word(sureness_of(0.90)), "clear");
    ck_assert_str_eq(sureness_word(sureness_of(0.8999)), "likely");
    ck_assert_str_eq(sureness_word(sureness_of(0.75)), "likely");
    ck_assert_str_eq(sureness_word(sureness_of(0.5)), "a hint");
    ck_assert_str_eq(sureness_word(sureness_of(0.4999)), "no sign");
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

/* The first column is missing where the index of the column is 0, the last where it is k − 1. */
START_TEST(a_gap_in_the_first_column_leaves_its_coupon_out)
{
    struct answer a;

    answer_make("mark,sides,gas,y\n1,one,x,40\n2,both,z,80\n3,,x,60\n4,one,z,45\n5,both,x,85\n"
                "6,one,,50\n7,both,z,\n8,one,x,42\n",
                180, NULL, &a);
    ck_assert_uint_eq(a.r.used, 5);
    ck_assert_uint_eq(a.r.excluded.row_count, 3);
    for (size_t i = 0; i < 3; i++) {
        static const size_t rows[] = {2, 5, 6}, columns[] = {0, 1, NO_COLUMN};

        ck_assert_uint_eq(a.r.excluded.rows[i].row, rows[i]);
        ck_assert_uint_eq(a.r.excluded.rows[i].column, columns[i]);
    }
    answer_free(&a);
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
    tcase_add_loop_test(t, what_cannot_be_ranked_is_refused, 0, sizeof refusals / sizeof *refusals);
    tcase_add_test(t, broke_at_the_stop_or_held_at_it);
    tcase_add_test(t, missing_cells_leave_coupons_out);
    tcase_add_test(t, a_column_that_stops_changing_lets_its_coupons_back_in);
    tcase_add_test(t, a_column_hardly_ever_filled_in_does_not_stop_the_ranking);
    tcase_add_test(t, two_levels_are_two_numbers);
    tcase_add_test(t, names_of_levels_do_not_matter);
    tcase_add_test(t, units_do_not_matter);
    tcase_add_test(t, the_observed_range_is_taken_over_all_limits);
    tcase_add_test(t, one_exact_result_is_enough);
    tcase_add_test(t, nearly_everything_held);
    tcase_add_test(t, fewer_coupons_than_variables);
    tcase_add_test(t, the_same_seed_gives_the_same_answer);
    tcase_add_test(t, a_hundred_thousand_coupons);
    tcase_add_test(t, work_can_be_stopped);
    tcase_add_test(t, words_follow_the_chance);
    tcase_add_test(t, a_chance_just_under_a_bound_is_shown_under_it);
    tcase_add_test(t, a_category_of_three_levels_as_in_r);
    tcase_add_test(t, three_that_tell_each_other_share_a_rank);
    tcase_add_test(t, a_gap_in_the_first_column_leaves_its_coupon_out);
    suite_add_tcase(s, t);
    return s;
}
