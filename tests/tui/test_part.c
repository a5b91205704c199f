/* Passes, bends, flaws: what their rows take, refuse, ask about, and keep. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/coupon.h"
#include "tui/part.h"

static char question[512];
static struct error error;

static const struct part_row *row_of(const struct part_row *rows, const char *label)
{
    for (; rows->as.label != NULL; rows++)
        if (strcmp(rows->as.label, label) == 0)
            return rows;
    ck_abort_msg("no row is called %s", label);
    return NULL;
}

static int take(const struct part_row *row, void *base, const char *text, bool sure)
{
    error_clear(&error);
    return part_take(row, base, text, UNITS_METRIC, sure, question, sizeof question, &error);
}

START_TEST(numbers_come_with_units_and_limits)
{
    struct coupon c;
    struct pass *p;

    coupon_init(&c);
    p = coupon_add_pass(&c);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Arc time"), p, "1m20s", false), 0);
    ck_assert_double_eq(p->arc_s, 80);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Length"), p, "4in", false), 0);
    ck_assert_double_eq_tol(p->length_mm, 101.6, 1e-9);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "400", true), -1);
    ck_assert_ptr_nonnull(strstr(error.text, "cannot be"));
    ck_assert(isnan(p->volts));
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "40 mm", true), -1);
    ck_assert(isnan(p->volts));
    ck_assert_int_eq(take(row_of(part_pass_rows, "Arc time"), p, "", false), 0);
    ck_assert(isnan(p->arc_s));
    coupon_free(&c);
}
END_TEST

START_TEST(an_unusual_number_waits_for_an_answer)
{
    struct coupon c;
    struct pass *p;

    coupon_init(&c);
    p = coupon_add_pass(&c);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "40", false), 0);
    ck_assert_ptr_nonnull(strstr(question, "unusual"));
    ck_assert(isnan(p->volts));
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "40", true), 0);
    ck_assert_double_eq(p->volts, 40);
    coupon_free(&c);
}
END_TEST

START_TEST(words_may_be_shortened_while_they_are_clear)
{
    const struct part_row *ended = row_of(part_bend_rows, "How it ended");
    struct bend bend = {.end = BEND_NOT_DONE};

    ck_assert_int_eq(take(ended, &bend, "held", false), 0);
    ck_assert_int_eq(bend.end, BEND_HELD);
    ck_assert_int_eq(take(ended, &bend, "BROKE", false), 0);
    ck_assert_int_eq(bend.end, BEND_BROKE);
    ck_assert_int_eq(take(ended, &bend, "melted", false), -1);
    ck_assert_ptr_nonnull(strstr(error.text, "held to the stop"));
    ck_assert_int_eq(bend.end, BEND_BROKE);
    ck_assert_int_eq(take(ended, &bend, "", false), 0);
    ck_assert_int_eq(bend.end, BEND_NOT_DONE);
}
END_TEST

START_TEST(flaws_go_by_their_number)
{
    const struct part_row *number = row_of(part_flaw_rows, "ISO 6520-1 number");
    struct flaw flaw = {NAN, NAN, 0, NULL};
    char *shown;

    ck_assert_int_eq(take(number, &flaw, "4013 lack of root fusion", false), 0);
    ck_assert_int_eq(flaw.iso6520, 4013);
    shown = part_show(number, &flaw, UNITS_METRIC);
    ck_assert_str_eq(shown, "4013 lack of root fusion");
    free(shown);
    ck_assert_int_eq(take(number, &flaw, "cold", false), -1);
    ck_assert_int_eq(take(number, &flaw, "7", false), -1);
    ck_assert_int_eq(take(number, &flaw, "4013x", false), -1);
    ck_assert_int_eq(flaw.iso6520, 4013);
}
END_TEST

START_TEST(days_and_times)
{
    const struct part_row *welded = row_of(part_coupon_rows, "Welded");
    struct coupon c;
    char *shown;

    coupon_init(&c);
    ck_assert(clock_parse("2026-03-07T14:05:00+01:00", &c.when));
    ck_assert_int_eq(take(welded, &c, "2026-03-08 09:30", false), 0);
    shown = part_show(welded, &c, UNITS_METRIC);
    ck_assert_str_eq(shown, "2026-03-08 09:30");
    free(shown);
    ck_assert_int_eq(c.when.offset_minutes, 60);
    ck_assert_int_eq(take(welded, &c, "2026-03-09", false), 0);
    shown = part_show(welded, &c, UNITS_METRIC);
    ck_assert_str_eq(shown, "2026-03-09 12:00");
    free(shown);
    ck_assert_int_eq(take(welded, &c, "yesterday", false), -1);
    ck_assert_int_eq(take(welded, &c, "2026-02-30", false), -1);
    ck_assert_int_eq(take(welded, &c, "", false), -1);
    coupon_free(&c);
}
END_TEST

/* A tenth cannot be written in decimals without loss; the written form keeps every bit. */
START_TEST(nothing_is_lost_in_writing)
{
    struct coupon c;
    struct pass *p, copy;

    coupon_init(&c);
    p = coupon_add_pass(&c);
    p->arc_s = 0.1 + 0.2;
    p->length_mm = 25.4 / 3;
    p->side = 2;
    copy = (struct pass){p->number, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    for (const struct part_row *row = part_pass_rows; row->as.label != NULL; row++) {
        char *written = part_write(row, p);

        if (written != NULL)
            part_read(row, &copy, written);
        free(written);
    }
    ck_assert_double_eq(copy.arc_s, p->arc_s);
    ck_assert_double_eq(copy.length_mm, p->length_mm);
    ck_assert_int_eq(copy.side, 2);
    ck_assert(isnan(copy.volts));
    coupon_free(&c);
}
END_TEST

START_TEST(a_part_in_one_line)
{
    struct coupon c;
    char *line;

    coupon_init(&c);
    coupon_add_pass(&c);
    line = part_summary(part_pass_rows, &c.passes[0], UNITS_METRIC);
    ck_assert_str_eq(line, "nothing said yet");
    free(line);
    c.passes[0].side = 1;
    c.passes[0].arc_s = 35;
    c.passes[0].volts = 18.5;
    line = part_summary(part_pass_rows, &c.passes[0], UNITS_METRIC);
    ck_assert_str_eq(line, "side 1, arc 35 s, 18.5 V");
    free(line);
    coupon_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/part");
    TCase *t = tcase_create("part");

    tcase_add_test(t, numbers_come_with_units_and_limits);
    tcase_add_test(t, an_unusual_number_waits_for_an_answer);
    tcase_add_test(t, words_may_be_shortened_while_they_are_clear);
    tcase_add_test(t, flaws_go_by_their_number);
    tcase_add_test(t, days_and_times);
    tcase_add_test(t, nothing_is_lost_in_writing);
    tcase_add_test(t, a_part_in_one_line);
    suite_add_tcase(s, t);
    return s;
}
