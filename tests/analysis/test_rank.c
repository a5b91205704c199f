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

#include "analysis/compare.h"
#include "analysis/format.h"
#include "analysis/next.h"
#include "analysis/rank.h"
#include "app/task_coupon.h"
#include "app/task_import.h"
#include "base/mem.h"
#include "base/text.h"
#include "stats/num/interval.h"

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
    page_free(&outcome.rows);
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
    return text_steal(&all);
}

static char *rank_words(const struct trial_question *r)
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
    struct trial_question rank = {0};
    char *words;

    r.in = fopen(FIXTURES "/published/weld_trial.csv", "r");
    ck_assert_ptr_nonnull(r.in);
    ck_assert_int_eq(task_import(&s, &r, &outcome, NULL), 0);
    fclose(r.in);
    ck_assert_uint_eq(outcome.coupons, 16);
    page_free(&outcome.notes);
    page_free(&outcome.rows);
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
    struct trial_question rank = {0};
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
    struct trial_question rank = {0};
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
    struct trial_question rank = {0};
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
    struct trial_question rank = {.result = "longest_unfused"};
    struct rank_answer *metric = NULL, *inch = NULL;
    char *words;

    ck_assert_int_eq(bring_in("t", lengths, NULL, NULL), 0);
    ck_assert_int_eq(rank_make(&s, &rank, &metric, NULL), 0);
    ck_assert_uint_eq(metric->merged.count, 0); /* nothing was always changed together */
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
    ck_assert_str_eq(format_change(&inch->data.frame, 30, -25.4).s, "-1.00 in");
    ck_assert_str_eq(format_change(&metric->data.frame, 30, -25.4).s, "-25.4 mm");
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

/* Preheat and passes were always changed together: one variable, whose step has units too. */
START_TEST(what_was_merged_changes_its_units_as_well)
{
    struct trial_question q = {0};
    struct rank_answer *a = NULL;
    char *words;

    ck_assert_int_eq(bring_in("t",
                              "mark,preheat (degC),passes,sides,bend_angle\n1,20,1,one,30\n"
                              "2,20,1,both,33\n3,120,2,one,70\n4,120,2,both,76\n5,20,1,one,35\n"
                              "6,120,2,both,73\n",
                              NULL, NULL),
                     0);
    ck_assert_int_eq(rank_make(&s, &q, &a, NULL), 0);
    ck_assert_uint_gt(a->merged.count, 0);
    words = words_of(a);
    HAS(words, "20 – 120 °C");
    free(words);
    s.units = UNITS_INCH;
    rank_show(&s, a);
    words = words_of(a);
    HAS(words, "68 – 248 °F");
    ck_assert_ptr_null(strstr(words, "°C"));
    free(words);
    rank_free(a);
}
END_TEST

/* 20 °C is 68 °F, but 20 °C more is 36 °F more. */
START_TEST(a_difference_has_no_zero_point)
{
    struct frame f;

    frame_init(&f, "heat", "Heat", "", 0);
    f.result_shown = unit_shown(DIM_TEMPERATURE, UNITS_INCH);
    ck_assert_str_eq(format_result(&f, 200, 20).s, "68 °F");
    ck_assert_str_eq(format_change(&f, 200, 20).s, "36 °F");
    ck_assert_double_eq_tol(format_shown_result(&f, -40), -40, 1e-12);
    ck_assert_double_eq_tol(format_shown_change(&f, -40), -72, 1e-12);
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
    struct trial_question rank = {.result = "longest_unfused"};
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
    struct trial_question rank = {.progress = stop_at_half, .context = &done};
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

static char *words_of_trial(const char *csv)
{
    struct trial_question rank = {0};

    ck_assert_int_eq(bring_in("t", csv, NULL, NULL), 0);
    return rank_words(&rank);
}

/* The same tables and figures of GNU R as in tests/stats: here as the page puts them. */
START_TEST(a_category_is_told_level_by_level)
{
    char *words =
        words_of_trial("mark,gas,sides,tip_to_work,bend_angle\n1,CO2,one,12,40\n2,CO2,both,18,71\n"
                       "3,mix,one,15,52\n4,mix,both,12,88\n5,argon,one,18,30\n6,argon,both,15,64\n"
                       "7,CO2,both,12,79\n8,mix,one,18,47\n9,mix,both,15,90+\n10,argon,one,12,38\n"
                       "11,CO2,one,15,44\n12,mix,both,18,83\n");

    HAS(words, "Gas, level by level: CO2 -11°, -22° … -1° (4); argon -18°, -30° … -7° (3); mix is "
               "what the others are held against (5). In brackets: coupons.");
    HAS(words, "Gas is likely (0.86); Contact tip to work is a hint (0.56)");
    HAS(words, "argon – mix");
    HAS(words, "+18°");
    free(words);
}
END_TEST

#define PREHEAT(thickness_of_7)                                                                    \
    "mark,preheat (degC),thickness (mm),gas,bend_angle\n1,20,3,CO2,62\n2,120,3,CO2,66\n"           \
    "3,20,5,CO2,57\n4,120,5,CO2,131\n5,20,3,mix,58\n6,120,3,mix,69\n7,20," thickness_of_7          \
    ",mix,64\n8,120,5,mix,135+\n9,20,3,CO2,71\n10,120,5,mix,124\n11,20,5,mix,61\n12,120,3,CO2,"    \
    "60\n"

START_TEST(what_works_only_together_is_told)
{
    char *words = words_of_trial(PREHEAT("5"));

    HAS(words, "What works only together\n- What thickness does depends on preheat: +3° with "
               "preheat 20 °C, +56° with 120 °C; clear (chance 0.97).");
    ck_assert_ptr_null(strstr(words, "depends on gas"));
    ck_assert_ptr_null(strstr(words, "Left out"));
    free(words);
}
END_TEST

/* Thickness is the first column of this trial. */
START_TEST(a_coupon_left_out_is_named_with_what_it_lacks)
{
    char *words = words_of_trial(PREHEAT(""));

    HAS(words, "11 of 12 coupons");
    HAS(words, "Left out, no thickness written down: 7.");
    free(words);
}
END_TEST

/* Odds of the set 0.8818 / 0.1182, a third of them each: 0.71. */
START_TEST(three_that_tell_each_other_are_one_line)
{
    char *words = words_of_trial(
        "mark,root,style,passes,cleaned,bend_angle\n1,0,0,2,0,40\n2,0,1,3,1,50\n3,1,0,3,0,42\n"
        "4,1,1,4,0,80\n5,0,0,2,1,48\n6,1,1,4,1,70+\n7,0,1,3,0,60\n8,1,0,3,1,62\n");

    HAS(words, "1  Passes, style or root");
    HAS(words, "0.71  a hint");
    HAS(words, "\n4  Cleaned");
    HAS(words, "passes, root and style; knowing all but one of them tells the last (coupons 2, 3, "
               "4, 6, 7 and 8). One coupon with passes 4, root 0 and style 0 would tell them "
               "apart.");
    free(words);
}
END_TEST

/* Nothing was folded yet, so no figure in degrees can be said. */
START_TEST(before_there_are_results_a_gain_has_no_unit)
{
    struct trial_question rank = {0};
    struct next_answer *a = NULL;
    char *json;

    ck_assert_int_eq(bring_in("t",
                              "mark,sides,gas,passes,bend_angle\n1,one,a,1,\n2,both,b,1,\n"
                              "3,one,b,2,\n4,both,a,2,\n5,one,a,2,\n6,both,b,2,\n",
                              NULL, NULL),
                     0);
    ck_assert_int_eq(next_make(&s, &rank, 1, &a, NULL), 0);
    json = next_json(a);
    HAS(json, "it sharpens passes most, by 8 %.");
    ck_assert_ptr_null(strstr(json, "±"));
    free(json);
    next_free(a);
}
END_TEST

START_TEST(struck_out_coupons_do_not_count)
{
    struct trial_question q = {.result = "longest_unfused"};
    struct coupon_list all;
    struct rank_answer *a = NULL;
    char *words;

    ck_assert_int_eq(bring_in("t", lengths, NULL, NULL), 0);
    ck_assert_int_eq(task_coupons(&s, NULL, true, &all, NULL), 0);
    ck_assert_uint_eq(all.count, 6);
    ck_assert_int_eq(task_coupon_strike(&s, &all.items[1], "moved", NULL), 0);
    coupon_list_free(&all);
    ck_assert_int_eq(rank_make(&s, &q, &a, NULL), 0);
    ck_assert_uint_eq(a->data.struck, 1);
    ck_assert_uint_eq(a->data.frame.n, 5);
    ck_assert_str_eq(a->data.frame.marks[0], "1");
    ck_assert_str_eq(a->data.frame.marks[1], "3");
    ck_assert_str_eq(a->data.frame.marks[4], "6");
    words = words_of(a);
    HAS(words, "5 of 5 coupons");
    HAS(words, "; struck-out coupons do not count.");
    free(words);
    rank_free(a);
}
END_TEST

/* Beyond 200 coupons nothing is looked at coupon by coupon. */
START_TEST(a_large_trial_goes_without_its_diagnostics)
{
    struct text csv = {0};

    text_add(&csv, "mark,sides,bend_angle\n");
    for (size_t i = 1; i <= 201; i++) {
        struct trial_question q = {0};
        struct rank_answer *a = NULL;

        text_addf(&csv, "%zu,%s,%zu\n", i, i % 2 == 0 ? "one" : "both", 30 + 40 * (i % 2) + i % 7);
        if (i < 200)
            continue;
        q.trial = i == 200 ? "t" : "u";
        ck_assert_int_eq(bring_in(q.trial, text_str(&csv), NULL, NULL), 0);
        ck_assert_int_eq(rank_make(&s, &q, &a, NULL), 0);
        ck_assert_uint_eq(a->ranking.used, i);
        ck_assert(a->has_outliers == (i == 200));
        ck_assert(a->next.count == (i == 200));
        rank_free(a);
    }
    text_free(&csv);
}
END_TEST

/* README.md with every stretch of white space as one blank. */
static char *readme(void)
{
    FILE *f = fopen(FIXTURES "/../README.md", "r");
    struct text t = {0};
    char word[256];

    ck_assert_ptr_nonnull(f);
    while (fscanf(f, "%255s", word) == 1)
        text_addf(&t, "%s ", word);
    fclose(f);
    return text_steal(&t);
}

START_TEST(the_readme_names_the_thresholds_that_hold)
{
    char *words = readme(), *said = NULL;

    said = mem_format("at %.2f and above (\"clear\")", SURE_CLEAR_FROM);
    HAS(words, said);
    free(said);
    said = mem_format("from %.2f (\"likely\")", SURE_LIKELY_FROM);
    HAS(words, said);
    free(said);
    said = mem_format("from %.2f (\"a hint\")", SURE_HINT_FROM);
    HAS(words, said);
    free(said);
    HAS(words, "could be (" INTERVAL_WORDS ")");
    ck_assert_int_eq(atoi(INTERVAL_WORDS), (int)(100 * (INTERVAL_HIGH - INTERVAL_LOW) + 0.5));
    free(words);
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("analysis/rank");
    TCase *t = tcase_create("rank");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, the_published_trial_reads_as_published);
    tcase_add_test(t, tied_variables_stand_on_one_line);
    tcase_add_test(t, a_question_the_book_cannot_answer_is_refused_in_words);
    tcase_add_test(t, nothing_comes_in_unless_all_of_it_is_good);
    tcase_add_test(t, what_stands_in_the_json_is_what_stands_in_the_words);
    tcase_add_test(t, inch_and_metric_are_one_ranking_with_converted_figures);
    tcase_add_test(t, what_was_merged_changes_its_units_as_well);
    tcase_add_test(t, a_difference_has_no_zero_point);
    tcase_add_test(t, json_is_in_the_units_of_the_session);
    tcase_add_test(t, a_ranking_stops_when_asked_to);
    tcase_add_test(t, a_category_is_told_level_by_level);
    tcase_add_test(t, what_works_only_together_is_told);
    tcase_add_test(t, a_coupon_left_out_is_named_with_what_it_lacks);
    tcase_add_test(t, three_that_tell_each_other_are_one_line);
    tcase_add_test(t, before_there_are_results_a_gain_has_no_unit);
    tcase_add_test(t, struck_out_coupons_do_not_count);
    tcase_add_test(t, a_large_trial_goes_without_its_diagnostics);
    tcase_add_test(t, the_readme_names_the_thresholds_that_hold);
    suite_add_tcase(su, t);
    return su;
}
