/* What is asked of the design for a trial: levels at hand, chances, the stop. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "analysis/next.h"
#include "analysis/trial_data.h"
#include "app/task_import.h"
#include "app/task_trial.h"

static char path[] = "/tmp/coldlap-trial-XXXXXX";
static struct session s;

static char table[] = "mark,sides,preheat (degC),gas,bend_angle,longest_unfused (mm)\n"
                      "1,one,20,mix,40,30\n2,one,120,mix,52,28\n3,both,20,mix,90+,9\n"
                      "4,both,120,mix,75+,8\n5,one,20,mix,44,31\n6,both,120,mix,98,7\n";

static void setup(void)
{
    struct import_outcome outcome = {0};
    struct import_request r = {.trial = "t", .name = "table"};

    close(mkstemp(path));
    unlink(path);
    ck_assert_int_eq(session_open(&s, path, BOOK_CREATE, NULL), 0);
    r.in = fmemopen(table, strlen(table), "r");
    ck_assert_int_eq(task_import(&s, &r, &outcome, NULL), 0);
    fclose(r.in);
    page_free(&outcome.notes);
    page_free(&outcome.rows);
}

static void teardown(void)
{
    static const char *const ends[] = {"", "-wal", "-shm"};
    char file[64];

    session_close(&s);
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        snprintf(file, sizeof file, "%s%s", path, ends[i]);
        unlink(file);
    }
    memcpy(path + strlen(path) - 6, "XXXXXX", 6);
}

static void name_levels(const char *variable, const char *one, const char *two, const char *three)
{
    const char *const levels[] = {one, two, three};
    struct trial t;

    ck_assert_int_eq(task_trial(&s, "t", &t, NULL), 0);
    for (size_t i = 0; i < sizeof levels / sizeof *levels; i++)
        level_set_add(trial_set_for(&t, variable), levels[i]);
    ck_assert_int_eq(task_trial_save(&s, &t, NULL), 0);
    trial_free(&t);
}

static size_t column(const struct frame *f, const char *key)
{
    size_t j = 0;

    while (strcmp(f->columns[j].key, key) != 0)
        ck_assert_uint_lt(++j, f->k);
    return j;
}

START_TEST(levels_are_read_in_the_units_of_the_session)
{
    struct trial_question q = {0};
    struct trial_data data;
    struct design_request r;
    size_t heat, sides;

    name_levels("preheat", "20 °C", "as it comes", "160");
    ck_assert_int_eq(trial_data_load(&s, &q, &data, NULL), 0);
    heat = column(&data.frame, "preheat");
    sides = column(&data.frame, "sides");
    r = trial_data_request(&s, &data, NULL, 3);
    ck_assert_uint_eq(r.levels[sides].count, 0);
    ck_assert_uint_eq(r.levels[heat].count, 2); /* that which cannot be read is left out */
    ck_assert_double_eq_tol(r.levels[heat].values[0], 20, 1e-9);
    ck_assert_double_eq_tol(r.levels[heat].values[1], 160, 1e-9);
    ck_assert_ptr_null(r.chance);
    ck_assert_uint_eq(r.count, 3);
    ck_assert_uint_eq(r.seed, 1);
    trial_data_request_free(&r, &data);
    ck_assert_ptr_null(r.levels);
    s.units = UNITS_INCH;
    r = trial_data_request(&s, &data, NULL, 1);
    ck_assert_double_eq_tol(r.levels[heat].values[1], (160 - 32) / 1.8, 1e-9);
    trial_data_request_free(&r, &data);
    trial_data_free(&data);
    ck_assert_uint_eq(data.frame.k, 0);
}
END_TEST

START_TEST(a_level_no_coupon_has_had_joins_the_others)
{
    struct trial_question q = {0};
    struct trial_data data;
    struct design_request r;
    size_t sides;

    name_levels("sides", "one", "both", "ends");
    ck_assert_int_eq(trial_data_load(&s, &q, &data, NULL), 0);
    sides = column(&data.frame, "sides");
    ck_assert_uint_eq(data.frame.columns[sides].level_count, 2);
    r = trial_data_request(&s, &data, NULL, 1);
    ck_assert_uint_eq(r.levels[sides].count, 3);
    ck_assert_double_eq(r.levels[sides].values[0], 1); /* in order of name: both, one */
    ck_assert_double_eq(r.levels[sides].values[1], 0);
    ck_assert_double_eq(r.levels[sides].values[2], 2);
    ck_assert_str_eq(data.frame.columns[sides].levels[2], "ends");
    trial_data_request_free(&r, &data);
    trial_data_free(&data);
}
END_TEST

/* Two sides and two temperatures that can be read: four set-ups, not six. */
START_TEST(the_next_coupon_has_levels_that_can_be_read)
{
    struct trial_question q = {0};
    struct next_answer *a = NULL;

    name_levels("preheat", "20 °C", "as it comes", "160 °C");
    ck_assert_int_eq(next_make(&s, &q, 1, &a, NULL), 0);
    ck_assert_double_eq(a->design.combinations, 4);
    ck_assert(a->has_ranking);
    next_free(a);
}
END_TEST

/* Every coupon had mix, and no moment was measured: an even plan tries another gas. What was never
 * changed stands in one clause, and in no other. */
START_TEST(a_first_change_is_told_once)
{
    struct trial_question q = {.result = "peak_moment"};
    struct next_answer *a = NULL;
    struct text words = {0};

    name_levels("gas", "mix", "CO2", "argon");
    ck_assert_int_eq(next_make(&s, &q, 1, &a, NULL), 0);
    next_sentence(&a->data.frame, 180, &a->design.coupons[0], &words);
    ck_assert_ptr_nonnull(strstr(text_str(&words), ": it begins to show what gas does"));
    ck_assert_ptr_null(strstr(text_str(&words), "gas apart"));
    text_free(&words);
    next_free(a);
}
END_TEST

START_TEST(chances_stand_at_their_columns)
{
    struct trial_question q = {0};
    struct trial_data data;
    struct ranking ranking;
    struct design_request r;

    ck_assert_int_eq(trial_data_load(&s, &q, &data, NULL), 0);
    ck_assert_int_eq(trial_data_rank(&data, &q, false, &ranking, NULL), 0);
    r = trial_data_request(&s, &data, &ranking, 1);
    ck_assert_uint_eq(ranking.count, 2);
    for (size_t i = 0; i < ranking.count; i++) {
        ck_assert_double_eq(r.chance[ranking.items[i].column], ranking.items[i].chance);
        ck_assert(isnan(ranking.items[i].low)); /* no intervals were asked for */
    }
    ck_assert_uint_eq(ranking.items[0].column, column(&data.frame, "sides"));
    trial_data_request_free(&r, &data);
    ranking_free(&ranking);
    trial_data_free(&data);
}
END_TEST

static double stop_for(const char *result)
{
    struct trial_question q = {.result = result};
    struct trial_data data;
    struct design_request r;
    double stop;

    ck_assert_int_eq(trial_data_load(&s, &q, &data, NULL), 0);
    r = trial_data_request(&s, &data, NULL, 1);
    stop = r.stop;
    trial_data_request_free(&r, &data);
    trial_data_free(&data);
    return stop;
}

/* Coupon 6 went further, but broke. */
START_TEST(folding_stops_where_the_trial_says_or_a_coupon_held)
{
    struct trial t;

    ck_assert_double_eq(stop_for(NULL), 90);
    ck_assert(isnan(stop_for("longest_unfused")));
    ck_assert_int_eq(task_trial(&s, "t", &t, NULL), 0);
    t.stop_deg = 135;
    ck_assert_int_eq(task_trial_save(&s, &t, NULL), 0);
    trial_free(&t);
    ck_assert_double_eq(stop_for(NULL), 135);
    ck_assert(isnan(stop_for("longest_unfused")));
}
END_TEST

static void assert_refused(struct trial_question q, enum error_kind kind)
{
    struct next_answer *a = NULL;
    struct trial_data data;
    struct error e = {0};

    memset(&data, 1, sizeof data);
    ck_assert_int_lt(trial_data_load(&s, &q, &data, &e), 0);
    ck_assert_int_eq(e.kind, kind);
    ck_assert_uint_eq(data.frame.n, 0);
    ck_assert_uint_eq(data.coupons.count, 0);
    ck_assert_int_lt(next_make(&s, &q, 1, &a, NULL), 0);
    ck_assert_ptr_null(a);
}

START_TEST(what_is_not_in_the_book_is_refused)
{
    const char *const helper = "colour", *const derived = "bend_angle";

    assert_refused((struct trial_question){.trial = "u"}, ERROR_INPUT);
    assert_refused((struct trial_question){.result = "colour"}, ERROR_USAGE);
    assert_refused((struct trial_question){.with = &derived, .with_count = 1}, ERROR_USAGE);
    assert_refused((struct trial_question){.without = &helper, .without_count = 1}, ERROR_USAGE);
}
END_TEST

/* 1 to 64 at a time. */
START_TEST(the_number_of_coupons_has_bounds)
{
    struct trial_question q = {0};
    struct next_answer *a = NULL;
    struct error e = {0};

    ck_assert_int_lt(next_make(&s, &q, 0, &a, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    ck_assert_ptr_null(a);
    ck_assert_int_eq(next_make(&s, &q, 1, &a, NULL), 0);
    ck_assert_uint_eq(a->design.count, 1);
    next_free(a);
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("analysis/trial_data");
    TCase *t = tcase_create("trial_data");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, levels_are_read_in_the_units_of_the_session);
    tcase_add_test(t, a_level_no_coupon_has_had_joins_the_others);
    tcase_add_test(t, the_next_coupon_has_levels_that_can_be_read);
    tcase_add_test(t, a_first_change_is_told_once);
    tcase_add_test(t, chances_stand_at_their_columns);
    tcase_add_test(t, folding_stops_where_the_trial_says_or_a_coupon_held);
    tcase_add_test(t, what_is_not_in_the_book_is_refused);
    tcase_add_test(t, the_number_of_coupons_has_bounds);
    suite_add_tcase(su, t);
    return su;
}
