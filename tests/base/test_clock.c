#include "run.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/clock.h"

/* Instants with their seconds since 1970. The first and third are worked examples of RFC 3339
 * section 5.8, the second is the well-known billionth second; counted with `date -u -d … +%s`. */
static const struct {
    const char *text;
    int64_t seconds;
    int offset;
    const char *day; /* local */
} instants[] = {
    {"1996-12-19T16:39:57-08:00", 851042397, -480, "1996-12-19"},
    {"2001-09-09T01:46:40Z", 1000000000, 0, "2001-09-09"},
    {"1996-12-20T00:39:57Z", 851042397, 0, "1996-12-20"},
    {"2026-03-07T14:05:00+01:00", 1772888700, 60, "2026-03-07"},
    {"2024-02-29T23:59:59+00:00", 1709251199, 0, "2024-02-29"},
    {"1969-12-31T23:59:59Z", -1, 0, "1969-12-31"},
    {"0226-03-07T09:00:00Z", -55029682800, 0, "0226-03-07"},
    {"2026-03-07T00:10:00+05:45", 1772821500, 345, "2026-03-07"},
    {"2026-03-07T00:00:00+18:59", 1772773260, 1139, "2026-03-07"},
};

START_TEST(instants_are_read_and_written)
{
    struct instant when, again;
    char text[40];

    ck_assert(clock_parse(instants[_i].text, &when));
    ck_assert_int_eq(when.utc_ms, instants[_i].seconds * 1000);
    ck_assert_int_eq(when.offset_minutes, instants[_i].offset);
    clock_format(text, sizeof text, when);
    ck_assert(clock_parse(text, &again));
    ck_assert_int_eq(again.utc_ms, when.utc_ms);
    ck_assert_int_eq(again.offset_minutes, when.offset_minutes);
    clock_format_day(text, sizeof text, when);
    ck_assert_str_eq(text, instants[_i].day);
    clock_format_short(text, sizeof text, when);
    ck_assert_int_eq(strncmp(text, instants[_i].text, 10), 0);
    ck_assert_int_eq(strncmp(text + 11, instants[_i].text + 11, 5), 0);
}
END_TEST

/* What another program put into a book; the days are those of `date -u -d @SECONDS`. */
static const struct {
    struct instant when;
    const char *day, *brief;
} far[] = {
    {{INT64_MAX, 1080}, "292278994-08-18", "292278994-08-18 01:12"},
    {{INT64_MIN, -1080}, "-292275055-05-15", "-292275055-05-15 22:47"},
    {{0, INT_MAX}, "6053-01-23", "6053-01-23 02:07"},
    {{0, INT_MIN}, "-2114-12-08", "-2114-12-08 21:52"},
    {{-1, 0}, "1969-12-31", "1969-12-31 23:59"},
};

START_TEST(no_number_is_too_large_to_be_written)
{
    char text[80];

    clock_format_day(text, sizeof text, far[_i].when);
    ck_assert_str_eq(text, far[_i].day);
    clock_format_short(text, sizeof text, far[_i].when);
    ck_assert_str_eq(text, far[_i].brief);
}
END_TEST

static const char *const not_instants[] = {
    "",
    "yesterday",
    "2026-03-07",
    "2026-03-07T14:05:00",
    "2026-02-30T00:00:00Z",
    "2026-13-01T00:00:00Z",
    "2026-03-07T14:05:00+01:00 ",
    "2026-03-07T14:05:00+0100",
    "2026-03-07T14:05:00+19:00",
    "2026-03-07T14:05:00+01:60",
    "2026-03-07T14:05:00x01:00",
    "2026-03-07 14:05:00Z",
    "2026-03-07T14:05:00+-1:00",
    "2026- 3-07T14:05:00Z",
    "2026-03-07T24:05:00Z",
};

START_TEST(half_an_instant_is_none)
{
    struct instant when;

    ck_assert_msg(!clock_parse(not_instants[_i], &when), "'%s' was taken", not_instants[_i]);
}
END_TEST

/* What is missing comes from 12:00:00+01:00, which is 11:00 UTC; a NULL is no date. */
static const struct {
    const char *text, *whole;
} parts[] = {
    {"2026-03-07", "2026-03-07T12:00:00+01:00"},
    {"2026-03-07 14:05", "2026-03-07T14:05:00+01:00"},
    {"2026-03-07T14:05", "2026-03-07T14:05:00+01:00"},
    {"2026-03-07 14:05:09", "2026-03-07T14:05:09+01:00"},
    {"2026-03-07 14:05:09Z", "2026-03-07T14:05:09+00:00"},
    {"2026-03-07 14:05:09-08:00", "2026-03-07T14:05:09-08:00"},
    {"2026-03-07 14", NULL},
    {"2026-03-07 ", NULL},
    {"2026-03-07 14:05+01:00", NULL},
    {"2026-03-07_14:05", NULL},
    {"2026-02-30", NULL},
    {"26-03-07", NULL},
    {"", NULL},
    {"2026-03-07T14:05:00+01:00 and so on", NULL},
};

START_TEST(what_is_missing_of_an_instant_is_taken_from_another)
{
    struct instant when;
    char text[40];
    bool good = clock_parse_part(parts[_i].text, "T12:00:00+01:00", &when);

    ck_assert_msg(good == (parts[_i].whole != NULL), "'%s'", parts[_i].text);
    if (good) {
        clock_format(text, sizeof text, when);
        ck_assert_str_eq(text, parts[_i].whole);
    }
}
END_TEST

START_TEST(a_set_clock_moves_one_second_a_reading)
{
    struct instant first, second;

    setenv("COLDLAP_NOW", "2026-03-07T14:05:00+01:00", 1);
    first = clock_now();
    second = clock_now();
    ck_assert_int_eq(second.utc_ms - first.utc_ms, 1000);
    ck_assert_int_eq(first.offset_minutes, 60);
}
END_TEST

static const struct {
    const char *when;
    bool credible;
} days[] = {
    {"0026-03-07T14:05:00+01:00", false}, {"1949-12-31T23:59:59Z", false},
    {"1950-01-01T00:00:00Z", true},       {"2026-03-07T14:05:00+01:00", true},
    {"2026-03-08T14:05:00+01:00", true},  {"2026-03-08T14:06:00+01:00", false},
    {"2062-03-07T14:05:00+01:00", false}, {"2999-03-07T14:05:00+01:00", false},
};

START_TEST(work_is_dated_from_1950_to_tomorrow)
{
    struct instant when;
    char why[128] = "";

    setenv("COLDLAP_NOW", "2026-03-07T14:05:00+01:00", 1);
    ck_assert(clock_parse(days[_i].when, &when));
    ck_assert_int_eq(clock_credible(when, why, sizeof why), days[_i].credible);
    ck_assert_str_eq(why, days[_i].credible ? ""
                                            : "cannot be: 1950-01-01 to 2026-03-08, tomorrow "
                                              "by this computer's clock, is right");
}
END_TEST

static int64_t milliseconds(clockid_t id)
{
    struct timespec t;

    clock_gettime(id, &t);
    return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

/* POSIX: the sign of an offset in TZ is that of UTC minus local time. */
START_TEST(the_offset_is_that_of_the_place)
{
    unsetenv("COLDLAP_NOW");
    setenv("TZ", "BENCH-5:45", 1);
    tzset();
    ck_assert_int_eq(clock_now().offset_minutes, 345);
    setenv("COLDLAP_NOW", "yesterday", 1);
    ck_assert_int_eq(clock_now().offset_minutes, 345);
    setenv("COLDLAP_NOW", "2026-03-07T14:05:00Z", 1);
    ck_assert_int_eq(clock_now().offset_minutes, 0);
}
END_TEST

START_TEST(without_it_the_clock_is_that_of_the_machine)
{
    clockid_t ids[] = {CLOCK_REALTIME, CLOCK_MONOTONIC};

    unsetenv("COLDLAP_NOW");
    for (size_t i = 0; i < 2; i++) {
        int64_t before = milliseconds(ids[i]);
        int64_t now = i == 0 ? clock_now().utc_ms : clock_monotonic_ms();

        ck_assert(before <= now && now <= milliseconds(ids[i]));
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/clock");
    TCase *t = tcase_create("clock");

    tcase_add_loop_test(t, instants_are_read_and_written, 0, sizeof instants / sizeof *instants);
    tcase_add_loop_test(t, half_an_instant_is_none, 0, sizeof not_instants / sizeof *not_instants);
    tcase_add_loop_test(t, no_number_is_too_large_to_be_written, 0, sizeof far / sizeof *far);
    tcase_add_loop_test(t, what_is_missing_of_an_instant_is_taken_from_another, 0,
                        sizeof parts / sizeof *parts);
    tcase_add_test(t, a_set_clock_moves_one_second_a_reading);
    tcase_add_loop_test(t, work_is_dated_from_1950_to_tomorrow, 0, sizeof days / sizeof *days);
    tcase_add_test(t, the_offset_is_that_of_the_place);
    tcase_add_test(t, without_it_the_clock_is_that_of_the_machine);
    suite_add_tcase(s, t);
    return s;
}
