/*
 * The ranking from a file to its words, on the published weld trial (16 runs, nine two-level
 * variables, tensile strength of welds: G. Taguchi, Y. Wu, "Introduction to off-line quality
 * control", 1980; G. E. P. Box, R. D. Meyer, Technometrics 28:19, 1986; data set `welding` of the R
 * package statmod). Published reading: welded material first (-3.1 between its levels), drying of
 * the rods second (+2.15), all others far below.
 */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/answer.h"
#include "app/rank_task.h"
#include "app/tasks.h"
#include "base/text.h"

static char path[] = "/tmp/coldlap-rank-XXXXXX";
static struct session s;

static void setup(void)
{
    int fd = mkstemp(path);

    close(fd);
    unlink(path);
    ck_assert_int_eq(session_open(&s, path, BOOK_CREATE, NULL), 0);
}

static void teardown(void)
{
    static const char *const ends[] = {"", "-wal", "-shm"};
    char file[64];

    session_close(&s);
    for (size_t i = 0; i < 3; i++) {
        snprintf(file, sizeof file, "%s%s", path, ends[i]);
        unlink(file);
    }
    memcpy(path + strlen(path) - 6, "XXXXXX", 6);
}

static int bring_in(const char *trial, const char *csv, const char *result, struct error *e)
{
    struct import_outcome outcome = {0};
    struct import_request r = {
        .trial = trial, .results = &result, .result_count = result != NULL, .name = "table"};
    int rc;

    r.in = fmemopen((char *)(size_t)csv, strlen(csv), "r");
    rc = task_import(&s, &r, &outcome, e);
    fclose(r.in);
    page_free(&outcome.notes);
    return rc;
}

static char *words_of(const struct rank_answer *a)
{
    struct page p = {0};
    struct page_lines lines;
    struct text all = {0};

    rank_page(a, &p);
    page_layout(&p, 1000, &lines);
    for (size_t i = 0; i < lines.count; i++)
        text_addf(&all, "%s\n", lines.items[i].text);
    page_lines_free(&lines);
    page_free(&p);
    return text_take(&all);
}

static char *rank_words(const struct rank_request *r)
{
    struct rank_answer *a = NULL;
    struct error e = {0};
    char *words;

    ck_assert_msg(rank_make(&s, r, &a, &e) == 0, "%s", e.text);
    words = words_of(a);
    rank_free(a);
    return words;
}

#define HAS(words, part)                                                                           \
    ck_assert_msg(strstr(words, part) != NULL, "no \"%s\" in:\n%s", part, words)

START_TEST(the_published_trial_reads_as_published)
{
    struct import_outcome outcome = {0};
    const char *result = "tensile strength (kg/mm2)";
    struct import_request r = {
        .trial = "weld", .results = &result, .result_count = 1, .name = "weld_trial.csv"};
    struct rank_request rank = {0};
    char *words;

    r.in = fopen(FIXTURES "/published/weld_trial.csv", "r");
    ck_assert_ptr_nonnull(r.in);
    ck_assert_int_eq(task_import(&s, &r, &outcome, NULL), 0);
    fclose(r.in);
    ck_assert_uint_eq(outcome.coupons, 16);
    page_free(&outcome.notes);
    words = rank_words(&rank);
    HAS(words, "Material_level made the most difference: from -1 to 1 it lowered the tensile "
               "strength by about 2.9 kg/mm2");
    HAS(words, "After it: Drying_level is clear (1.00). The rest show no sign.");
    HAS(words, "+2.0 kg/mm2");
    HAS(words, "informal comparison of coupons");
    free(words);
}
END_TEST

START_TEST(tied_variables_stand_on_one_line)
{
    struct rank_request rank = {0};
    char *words;

    ck_assert_int_eq(bring_in("t",
                              "mark,wire,cleaning,sides,bend_angle\n"
                              "1,a,none,one,30\n2,a,none,both,70\n3,b,ground,one,60\n"
                              "4,b,ground,both,90+\n5,a,none,one,35\n6,b,ground,both,90+\n",
                              NULL, NULL),
                     0);
    words = rank_words(&rank);
    HAS(words, "cleaning and wire were always changed together");
    HAS(words, "would tell them apart");
    HAS(words, "2 of them held to the stop");
    ck_assert_ptr_null(strstr(words, "\n3  "));
    free(words);
}
END_TEST

START_TEST(a_question_the_book_cannot_answer_is_refused_in_words)
{
    struct rank_request rank = {0};
    struct rank_answer *a = NULL;
    struct error e = {0};

    ck_assert_int_lt(rank_make(&s, &rank, &a, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    ck_assert_int_eq(bring_in("t",
                              "mark,sides,bend_angle\n1,one,90+\n2,one,90+\n3,both,90+\n"
                              "4,both,90+\n5,both,90+\n",
                              NULL, NULL),
                     0);
    ck_assert_int_lt(rank_make(&s, &rank, &a, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    HAS(e.text, "broke");
    ck_assert_ptr_null(a);
}
END_TEST

START_TEST(nothing_comes_in_unless_all_of_it_is_good)
{
    struct error e = {0};
    struct coupon_list all;

    ck_assert_int_lt(bring_in("t", "mark,volts,bend_angle\n1,18,30\n2,400,70\n", NULL, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_int_eq(task_coupons(&s, NULL, true, &all, NULL), 0);
    ck_assert_uint_eq(all.count, 0);
    coupon_list_free(&all);
}
END_TEST

START_TEST(what_stands_in_the_json_is_what_stands_in_the_words)
{
    struct rank_request rank = {0};
    struct rank_answer *a = NULL;
    char *json;

    ck_assert_int_eq(bring_in("t",
                              "mark,sides,bend_angle\n1,one,30\n2,one,33\n3,both,80\n"
                              "4,both,85\n5,both,\n",
                              NULL, NULL),
                     0);
    ck_assert_int_eq(rank_make(&s, &rank, &a, NULL), 0);
    json = rank_json(a);
    HAS(json, "\"schema\": 1");
    HAS(json, "\"key\": \"bend_angle\"");
    HAS(json, "\"unit\": \"deg\"");
    HAS(json, "\"used\": 4");
    HAS(json, "\"why\": \"no bend_angle\"");
    free(json);
    rank_free(a);
}
END_TEST

/* 40 to 8 mm of unfused run, and a temperature among the causes. */
static const char lengths[] = "mark,sides,preheat (degC),pressure,longest_unfused (mm)\n"
                              "1,one,20,1,40\n2,one,100,2,36\n3,both,20,2,12\n4,both,100,1,8\n"
                              "5,one,20,2,41\n6,both,100,2,9\n";

START_TEST(inch_and_metric_are_one_ranking_with_converted_figures)
{
    struct rank_request rank = {.result = "longest_unfused"};
    struct rank_answer *metric = NULL, *inch = NULL;
    char shown[WORDS_SIZE], *words;

    ck_assert_int_eq(bring_in("t", lengths, NULL, NULL), 0);
    ck_assert_int_eq(rank_make(&s, &rank, &metric, NULL), 0);
    s.units = UNITS_INCH;
    ck_assert_int_eq(rank_make(&s, &rank, &inch, NULL), 0);
    ck_assert_uint_eq(inch->ranking.count, 3);
    for (size_t i = 0; i < 3; i++) {
        const struct ranked *m = &metric->ranking.items[i], *n = &inch->ranking.items[i];

        ck_assert_uint_eq(m->column, n->column);
        ck_assert(m->chance == n->chance && m->effect == n->effect && m->low == n->low &&
                  m->high == n->high && m->from == n->from && m->to == n->to);
    }
    ck_assert_double_eq_tol(metric->ranking.items[0].effect, 24.45, 0.01);
    words_change(&inch->subject.frame, 30, -25.4, true, shown, sizeof shown);
    ck_assert_str_eq(shown, "-1.00 in");
    words_change(&metric->subject.frame, 30, -25.4, true, shown, sizeof shown);
    ck_assert_str_eq(shown, "-25.4 mm");
    words = words_of(inch);
    HAS(words, "68 – 212 °F");
    free(words);
    rank_show(&s, metric); /* switched, not made once more */
    words = words_of(metric);
    HAS(words, "68 – 212 °F");
    HAS(words, " in");
    ck_assert_ptr_null(strstr(words, " mm"));
    free(words);
    rank_free(metric);
    rank_free(inch);
}
END_TEST

/* 20 °C is 68 °F, but 20 °C more is 36 °F more. */
START_TEST(a_difference_has_no_zero_point)
{
    struct frame f;
    char shown[WORDS_SIZE];

    frame_init(&f, "heat", "Heat", "", 0);
    f.result_shown = unit_shown(DIM_TEMPERATURE, UNITS_INCH);
    words_result(&f, 200, 20, shown, sizeof shown);
    ck_assert_str_eq(shown, "68 °F");
    words_change(&f, 200, 20, false, shown, sizeof shown);
    ck_assert_str_eq(shown, "36 °F");
    ck_assert_double_eq_tol(words_shown_result(&f, -40), -40, 1e-12);
    ck_assert_double_eq_tol(words_shown_change(&f, -40), -72, 1e-12);
    frame_free(&f);
}
END_TEST

static double json_number(const char *json, const char *key)
{
    const char *at = strstr(json, key);

    ck_assert_ptr_nonnull(at);
    return strtod(at + strlen(key), NULL);
}

START_TEST(json_is_in_the_units_of_the_session)
{
    struct rank_request rank = {.result = "longest_unfused"};
    struct next_answer *next = NULL;
    struct compare_answer *compare = NULL;
    struct rank_answer *a = NULL;
    double effect[2], scatter[2], expected[2], middle[2], difference[2], at[2];

    ck_assert_int_eq(bring_in("t", lengths, NULL, NULL), 0);
    for (int i = 0; i < 2; i++) {
        char *json;

        s.units = i == 0 ? UNITS_METRIC : UNITS_INCH;
        ck_assert_int_eq(rank_make(&s, &rank, &a, NULL), 0);
        json = rank_json(a);
        effect[i] = json_number(json, "\"effect\": ");
        scatter[i] = json_number(json, "\"value\": ");
        HAS(json, i == 0 ? "\"from\": 20.0," : "\"from\": 68.0,");
        free(json);
        ck_assert_int_eq(next_make(&s, &rank, 1, &next, NULL), 0);
        json = next_json(next);
        expected[i] = json_number(json, "\"expected\": ");
        free(json);
        next_free(next);
        ck_assert_int_eq(compare_make(&s, &rank, "preheat", i == 0 ? "20" : "68",
                                      i == 0 ? "100" : "212", &compare, NULL),
                         0);
        json = compare_json(compare);
        HAS(json, i == 0 ? "\"label\": \"20 °C\"" : "\"label\": \"68 °F\"");
        middle[i] = json_number(json, "\"middle\": ");
        difference[i] = json_number(json, "\"difference\": ");
        at[i] = json_number(json, "\"at\": ");
        free(json);
        compare_free(compare);
        rank_free(a);
    }
    ck_assert_double_eq_tol(effect[0], 25.4 * effect[1], 1e-9);
    ck_assert_double_eq_tol(scatter[0], 25.4 * scatter[1], 1e-9);
    ck_assert_double_eq_tol(expected[0], 25.4 * expected[1], 1e-9);
    ck_assert_double_eq_tol(middle[0], 25.4 * middle[1], 1e-9);
    ck_assert_double_eq_tol(difference[0], 25.4 * difference[1], 1e-9);
    ck_assert_double_eq(at[0], 12);
    ck_assert_double_eq_tol(at[1], 12 / 25.4, 1e-12);
}
END_TEST

static bool stop_at_half(void *context, double done)
{
    *(double *)context = done;
    return done < 0.5;
}

START_TEST(a_ranking_stops_when_asked_to)
{
    double done = 0;
    struct rank_request rank = {.progress = stop_at_half, .context = &done};
    struct rank_answer *a = NULL;
    struct error e = {0};

    ck_assert_int_eq(bring_in("t", lengths, "longest_unfused", NULL), 0);
    rank.result = "longest_unfused";
    ck_assert_int_lt(rank_make(&s, &rank, &a, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_ANSWER);
    HAS(e.text, "Stopped");
    ck_assert_ptr_null(a);
    ck_assert(done >= 0.5 && done < 0.9);
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("app/rank");
    TCase *t = tcase_create("rank");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, the_published_trial_reads_as_published);
    tcase_add_test(t, tied_variables_stand_on_one_line);
    tcase_add_test(t, a_question_the_book_cannot_answer_is_refused_in_words);
    tcase_add_test(t, nothing_comes_in_unless_all_of_it_is_good);
    tcase_add_test(t, what_stands_in_the_json_is_what_stands_in_the_words);
    tcase_add_test(t, inch_and_metric_are_one_ranking_with_converted_figures);
    tcase_add_test(t, a_difference_has_no_zero_point);
    tcase_add_test(t, json_is_in_the_units_of_the_session);
    tcase_add_test(t, a_ranking_stops_when_asked_to);
    suite_add_tcase(su, t);
    return su;
}
