/* A training shop's book. The times are printed, not judged: machines differ. */
#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

#include "base/clock.h"
#include "base/mem.h"
#include "scratch.h"
#include "store/coupons.h"

enum { COUPONS = SCALE_COUPONS, VALUES = 12 };

static struct error e;

static double usual(const struct variable *v, int i)
{
    if (isinf(v->usual.low) || isinf(v->usual.high))
        return v->can.low;
    return v->usual.low + (v->usual.high - v->usual.low) * (i % 100) / 100;
}

static void fill(struct coupon *c, int i, const struct variable_list *variables)
{
    size_t set = 0;

    coupon_init(c);
    for (size_t k = 0; set < VALUES && k < variables->count; k++) {
        const struct variable *v = &variables->items[k];

        if (v->group == GROUP_DERIVED || v->role != ROLE_CAUSE)
            continue;
        if (v->kind == VARIABLE_CATEGORY)
            coupon_set_category(c, v->key, i % 2 == 0 ? "first" : "second");
        else
            coupon_set_number(c, v->key, measure_exact(usual(v, i)), NULL);
        set++;
    }
    coupon_set_number(c, "bend_angle", measure_at_least(i % 180), NULL);
    coupon_add_pass(c)->volts = 17.5;
    c->bend.end = BEND_HELD;
}

static double seconds_since(int64_t start)
{
    return (double)(clock_monotonic_ms() - start) / 1000;
}

static void save_all(struct book *book)
{
    struct variable_list variables;

    variable_list_init(&variables);
    ck_assert_int_eq(book_begin(book, &e), 0);
    for (int i = 0; i < COUPONS; i++) {
        struct coupon c;

        fill(&c, i, &variables);
        ck_assert_msg(coupon_save(book, &c, &e) == 0, "%s", e.text);
        coupon_free(&c);
    }
    ck_assert_int_eq(book_commit(book, &e), 0);
    variable_list_free(&variables);
}

static void no_fault(void *ctx, const char *line)
{
    (void)ctx;
    ck_abort_msg("%s", line);
}

START_TEST(a_training_shops_book)
{
    char *middle = mem_format("%02d", COUPONS / 2), *next = mem_format("%02d", COUPONS + 1);
    struct scratch at;
    struct coupon_list list = {0};
    struct coupon one;
    struct book *book;
    struct stat is;
    int64_t start = clock_monotonic_ms();

    scratch_make(&at);
    book = scratch_open(at.book, BOOK_CREATE);
    save_all(book);
    printf("saved   %d coupons with %d values, a pass and a bend: %.2f s\n", COUPONS, VALUES + 1,
           seconds_since(start));
    book_close(book);
    ck_assert_int_eq(stat(at.book, &is), 0);

    start = clock_monotonic_ms();
    book = scratch_open(at.book, BOOK_WRITE);
    ck_assert_int_eq(coupons_load(book, NULL, false, &list, &e), 0);
    printf("loaded  them: %.2f s; the book has %.0f MB\n", seconds_since(start),
           (double)is.st_size / 1e6);
    ck_assert_uint_eq(list.count, COUPONS);
    for (size_t i = 0; i < list.count; i += 997) {
        ck_assert_uint_eq(list.items[i].value_count, VALUES + 1);
        ck_assert_double_eq(coupon_value(&list.items[i], "bend_angle")->measure.low,
                            (double)(i % 180));
        ck_assert_uint_eq(list.items[i].pass_count, 1);
    }
    coupon_list_free(&list);

    start = clock_monotonic_ms();
    ck_assert_int_eq(coupon_load(book, NULL, middle, &one, &e), 0);
    one.bend.end = BEND_BROKE;
    ck_assert_int_eq(coupon_save(book, &one, &e), 0);
    printf("found   one by its mark and changed it: %.4f s\n", seconds_since(start));
    coupon_free(&one);
    coupon_init(&one);
    start = clock_monotonic_ms();
    ck_assert_int_eq(coupon_save(book, &one, &e), 0);
    printf("added   one with the next free mark %s: %.4f s\n", one.mark, seconds_since(start));
    ck_assert_str_eq(one.mark, next);
    coupon_free(&one);
    start = clock_monotonic_ms();
    ck_assert_msg(book_check(book, no_fault, NULL, &e) == 0, "%s", e.text);
    printf("checked the book: %.2f s\n", seconds_since(start));
    start = clock_monotonic_ms();
    ck_assert_int_eq(book_backup(book, scratch_file(&at, "copy"), &e), 0);
    printf("copied  it: %.2f s\n", seconds_since(start));
    book_close(book);
    scratch_remove(&at);
    free(middle);
    free(next);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/scale");
    TCase *t = tcase_create("scale");

    tcase_set_timeout(t, 900);
    tcase_add_test(t, a_training_shops_book);
    suite_add_tcase(s, t);
    return s;
}
