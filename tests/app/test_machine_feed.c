/* The dial of a machine, kept in a book. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/machine_feed.h"

static struct session s;
static char folder[] = "/tmp/coldlap-feed-XXXXXX", path[64];

static void setup(void)
{
    struct error e;

    strcpy(folder, "/tmp/coldlap-feed-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/b.coldlap", folder);
    ck_assert_msg(session_open(&s, path, BOOK_CREATE, &e) == 0, "%s", e.text);
}

static void teardown(void)
{
    char command[128];

    session_close(&s);
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    ck_assert_int_eq(system(command), 0);
}

static void keep(const char *machine, double dial, double run_out_mm)
{
    struct error e;

    ck_assert_msg(machine_feed_keep(&s, machine, dial, run_out_mm, 6, NULL, &e) == 0, "%s", e.text);
}

/* 400 mm in 6 s are 4 m/min; 390 and 410 at one position count as their mean. */
START_TEST(readings_come_back_folded)
{
    struct feed_point *points;
    struct error e;
    size_t n;

    keep("Red", 4, 800);
    keep("Red", 2, 390);
    keep("Red", 2, 410);
    keep("Blue", 2, 100);
    ck_assert_int_eq(machine_feed_points(&s, "red", &points, &n, &e), 0);
    ck_assert_uint_eq(n, 2);
    ck_assert_double_eq_tol(points[0].feed.v, 4000, 1e-9);
    ck_assert_double_eq_tol(points[1].feed.v, 8000, 1e-9);
    ck_assert(points[0].error.v > 0);
    free(points);
}
END_TEST

START_TEST(calc_reads_the_dial_off_the_book)
{
    char machine[] = "machine=Red", dial[] = "dial=3", diameter[] = "diameter=0.9";
    char *arguments[] = {machine, dial, diameter};
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;

    keep("Red", 2, 400);
    keep("Red", 4, 800);
    ck_assert_msg(calc_run_with_book(&s, "wire", 3, arguments, UNITS_METRIC, &a, &e) == 0, "%s",
                  e.text);
    f = calc_figure_find(&a, "feed_m_per_min");
    ck_assert_double_eq_tol(f->value, 6, 1e-9);
    ck_assert(f->error > 0.1 && f->error < 0.3);
    ck_assert(calc_figure_find(&a, "deposition_kg_per_h")->error > 0);
    calc_answer_free(&a);
}
END_TEST

START_TEST(refusals)
{
    char machine[] = "machine=Green", dial[] = "dial=3";
    char *arguments[] = {machine, dial};
    struct calc_answer a;
    struct error e;

    ck_assert_int_lt(calc_run_with_book(&s, "wire", 2, arguments, UNITS_METRIC, &a, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "Green"));
    ck_assert_int_lt(calc_run_with_book(NULL, "wire", 2, arguments, UNITS_METRIC, &a, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "book"));
    ck_assert_int_lt(calc_run("wire", 2, arguments, UNITS_METRIC, &a, &e), 0);
    ck_assert_int_lt(machine_feed_keep(&s, "Red", 2, 0, 6, NULL, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "a reading needs the dial position"));
    ck_assert_int_lt(machine_feed_keep(&s, "Red", NAN, 100, 6, NULL, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "a reading needs the dial position"));
    ck_assert_int_lt(machine_feed_keep(&s, "", 2, 100, 6, NULL, &e), 0);
}
END_TEST

static void assert_page(const char *wanted)
{
    struct page_lines lines = {0};
    struct page page = {0};
    struct text all = {0};
    struct error e;

    ck_assert_int_eq(machine_feed_page(&s, &page, &e), 0);
    page_layout(&page, 80, &lines);
    for (size_t i = 0; i < lines.count; i++)
        text_addf(&all, "%s\n", lines.items[i].text);
    ck_assert_str_eq(text_str(&all), wanted);
    text_free(&all);
    page_lines_free(&lines);
    page_free(&page);
}

START_TEST(a_book_without_readings_says_how_to_get_one)
{
    assert_page("Wire feed by dial position\n"
                "\n"
                "No readings yet: run the wire for 6 s and measure it.\n");
}
END_TEST

/* The first machine is read; a second one is an argument calc does not know. */
START_TEST(one_machine_is_read_and_of_calc_wire_only)
{
    char red[] = "machine=Red", blue[] = "machine=Blue", dial[] = "dial=2";
    char *two[] = {red, blue, dial}, *other[] = {red};
    struct calc_answer a;
    struct error e;

    keep("Red", 2, 400);
    keep("Red", 4, 800);
    ck_assert_int_lt(calc_run_with_book(&s, "wire", 3, two, UNITS_METRIC, &a, &e), 0);
    ck_assert_ptr_null(strstr(e.text, "has been measured"));
    ck_assert_int_lt(calc_run_with_book(&s, "heat", 1, other, UNITS_METRIC, &a, &e), 0);
    ck_assert_ptr_null(strstr(e.text, "has been measured"));
}
END_TEST

START_TEST(the_page_lists_every_machine)
{
    keep("Red", 4, 800);
    keep("Red", 2.5, 400);
    keep("Blue", 1, 300);
    /* a stopwatch off by 0.2 s in 6 s: a thirtieth */
    assert_page("Wire feed by dial position\n"
                "\n"
                "Blue\n"
                "Dial    Wire feed           ±\n"
                "   1  3000 mm/min  100 mm/min\n"
                "\n"
                "Red\n"
                "Dial    Wire feed           ±\n"
                " 2.5  4000 mm/min  133 mm/min\n"
                "   4  8000 mm/min  267 mm/min\n");
}
END_TEST

Suite *suite(void)
{
    Suite *suite = suite_create("app/machine_feed");
    TCase *t = tcase_create("machine_feed");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_test(t, readings_come_back_folded);
    tcase_add_test(t, calc_reads_the_dial_off_the_book);
    tcase_add_test(t, refusals);
    tcase_add_test(t, the_page_lists_every_machine);
    tcase_add_test(t, a_book_without_readings_says_how_to_get_one);
    tcase_add_test(t, one_machine_is_read_and_of_calc_wire_only);
    suite_add_tcase(suite, t);
    return suite;
}
