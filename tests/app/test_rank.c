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
    suite_add_tcase(su, t);
    return su;
}
