/* Parts of the coupons of a trial: twelve coupons, the odd ones in a trial, 3 and 8 struck out. */
#include "run.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/coupon_set.h"
#include "store/coupons.h"
#include "store/trials.h"

enum { COUPONS = 12 };

static struct scratch at;
static struct book *book;
static struct trial trial;
static struct error e;
static struct coupon_set of_trial, of_book, in_use;
static const struct coupon_span whole = {LONG_MIN, LONG_MAX};

static void fill(struct coupon *c, int number)
{
    static const char *const gases[] = {"CO2", "Ar 82 CO2 18"};

    coupon_init(c);
    if (number % 2 == 1)
        memcpy(c->trial, trial.id, sizeof c->trial);
    c->note = number == 5 ? mem_copy("Spatter all over") : NULL;
    c->who = number == 6 ? mem_copy("Ana") : NULL;
    coupon_set_category(c, "gas", gases[number % 2]);
    coupon_set_number(c, "volts", measure_exact(number), NULL);
}

static void begin(void)
{
    scratch_make(&at);
    book = scratch_open(at.book, BOOK_CREATE);
    trial_init(&trial);
    trial.name = mem_copy("odd");
    ck_assert_int_eq(trial_save(book, &trial, &e), 0);
    for (int number = 1; number <= COUPONS; number++) {
        struct coupon c;

        fill(&c, number);
        ck_assert_int_eq(coupon_save(book, &c, &e), 0);
        ck_assert_int_eq(c.sequence, number);
        if (number == 3 || number == 8)
            ck_assert_int_eq(coupon_strike(book, &c, "bent cold", &e), 0);
        coupon_free(&c);
    }
    of_trial = (struct coupon_set){trial.id, true};
    of_book = (struct coupon_set){NULL, true};
    in_use = (struct coupon_set){trial.id, false};
}

static void end(void)
{
    trial_free(&trial);
    book_close(book);
    scratch_remove(&at);
}

/* The numbers as text: "1 3 5". */
static void expect(const struct coupon_set *set, struct coupon_span span, const char *letters,
                   bool back, int most, const char *expected)
{
    long numbers[COUPONS];
    int count = coupon_set_numbers(book, set, span, letters, back, most, numbers, &e);
    char said[64] = "";

    ck_assert_int_ge(count, 0);
    for (int i = 0; i < count; i++) {
        char *more = mem_format("%s%s%ld", said, i > 0 ? " " : "", numbers[i]);

        strcpy(said, more);
        free(more);
    }
    ck_assert_str_eq(said, expected);
}

START_TEST(numbers_in_both_directions)
{
    expect(&of_book, whole, NULL, false, COUPONS, "1 2 3 4 5 6 7 8 9 10 11 12");
    expect(&of_trial, whole, NULL, false, COUPONS, "1 3 5 7 9 11");
    expect(&in_use, whole, NULL, false, COUPONS, "1 5 7 9 11");
    expect(&in_use, whole, NULL, true, 3, "11 9 7");
    expect(&in_use, (struct coupon_span){3, 9}, NULL, false, COUPONS, "5 7 9");
    expect(&in_use, (struct coupon_span){2, 8}, NULL, true, COUPONS, "7 5");
    expect(&of_trial, (struct coupon_span){3, 9}, NULL, false, 2, "3 5");
    expect(&of_trial, (struct coupon_span){12, LONG_MAX}, NULL, false, COUPONS, "");
    expect(&of_trial, (struct coupon_span){5, 4}, NULL, true, COUPONS, "");
}
END_TEST

START_TEST(letters_in_what_was_written)
{
    expect(&of_book, whole, "SPATT", false, COUPONS, "5");
    expect(&of_book, whole, "an", false, COUPONS, "6");
    expect(&of_book, whole, "bent", true, COUPONS, "8 3");
    expect(&of_book, whole, "ar", false, COUPONS, "1 3 5 7 9 11");
    expect(&in_use, whole, "CO", false, COUPONS, "1 5 7 9 11");
    expect(&of_book, whole, "12", false, COUPONS, "12"); /* the mark; not 12 V */
    expect(&of_book, whole, "nobody", false, COUPONS, "");
    expect(&of_trial, (struct coupon_span){4, 8}, "co", true, COUPONS, "7 5");
}
END_TEST

START_TEST(counting_in_parts)
{
    struct coupon_span span = whole;

    ck_assert_int_eq(coupon_set_count(book, &in_use, &span, 2, &e), 2);
    ck_assert_int_eq(span.first, 6);
    ck_assert_int_eq(coupon_set_count(book, &in_use, &span, 2, &e), 2);
    ck_assert_int_eq(span.first, 10);
    ck_assert_int_eq(coupon_set_count(book, &in_use, &span, 2, &e), 1);
    ck_assert_int_eq(coupon_set_count(book, &in_use, &span, 2, &e), 0);
    ck_assert_int_eq(span.first, 12);
    span = (struct coupon_span){2, 9};
    ck_assert_int_eq(coupon_set_count(book, &of_book, &span, 100, &e), 8);
}
END_TEST

START_TEST(loading_a_part)
{
    struct coupon_list list = {0};

    ck_assert_int_eq(coupon_set_load(book, &in_use, (struct coupon_span){2, 9}, &list, &e), 0);
    ck_assert_uint_eq(list.count, 3);
    for (size_t i = 0; i < list.count; i++) {
        ck_assert_int_eq(list.items[i].sequence, 5 + 2 * (long)i);
        ck_assert_double_eq(coupon_value(&list.items[i], "volts")->measure.low, 5 + 2 * (double)i);
        ck_assert_str_eq(coupon_value(&list.items[i], "gas")->text, "Ar 82 CO2 18");
    }
    coupon_list_free(&list);
}
END_TEST

/* The one before each, whether it is stored yet or not. */
START_TEST(the_coupon_before)
{
    static const long before[][2] = {{1, 0}, {3, 1}, {5, 1}, {7, 5}, {11, 9}};
    struct coupon c, found;

    for (size_t i = 0; i < sizeof before / sizeof *before; i++) {
        ck_assert_int_eq(coupon_load_number(book, before[i][0], &c, &e), 0);
        ck_assert_int_eq(coupon_load_before(book, &c, &found, &e), before[i][1] > 0);
        ck_assert_int_eq(found.sequence, before[i][1]);
        coupon_free(&found);
        coupon_free(&c);
    }
    coupon_init(&c);
    memcpy(c.trial, trial.id, sizeof c.trial);
    ck_assert_int_eq(coupon_load_before(book, &c, &found, &e), 1);
    ck_assert_int_eq(found.sequence, 11);
    coupon_free(&found);
    coupon_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/coupon_set");
    TCase *t = tcase_create("coupon_set");

    tcase_add_checked_fixture(t, begin, end);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, numbers_in_both_directions);
    tcase_add_test(t, letters_in_what_was_written);
    tcase_add_test(t, counting_in_parts);
    tcase_add_test(t, loading_a_part);
    tcase_add_test(t, the_coupon_before);
    suite_add_tcase(s, t);
    return s;
}
