#include "run.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/id.h"
#include "base/mem.h"

enum { MANY = 20000 };

static bool well_formed(const char *text)
{
    static const char shape[] = "xxxxxxxx-xxxx-xxxx-xxxx-xxxxxxxxxxxx";

    if (strlen(text) != sizeof shape - 1)
        return false;
    for (size_t i = 0; shape[i] != '\0'; i++)
        if (shape[i] == '-' ? text[i] != '-' : strchr("0123456789abcdef", text[i]) == NULL)
            return false;
    return true;
}

/* RFC 9562: version digit 7, variant bits 10, 48 bits of milliseconds in front. */
START_TEST(shape_is_that_of_rfc_9562)
{
    char id[ID_SIZE];

    setenv("COLDLAP_NOW", "2022-02-22T14:22:22-05:00", 1); /* the instant of its example A.6 */
    id_new(id);
    ck_assert(well_formed(id));
    ck_assert_uint_eq(strlen(id), 36);
    ck_assert_int_eq(id[14], '7');
    ck_assert_ptr_nonnull(strchr("89ab", id[19]));
    ck_assert_int_eq(strncmp(id, "017f22e2-79b0-", 14), 0);
    unsetenv("COLDLAP_NOW");
}
END_TEST

static int by_text(const void *a, const void *b)
{
    return strcmp(a, b);
}

START_TEST(later_ones_sort_later_and_none_is_made_twice)
{
    char(*ids)[ID_SIZE] = mem_zero(MANY, sizeof *ids);

    for (int i = 0; i < MANY; i++) {
        id_new(ids[i]);
        if (i > 0)
            ck_assert_msg(strcmp(ids[i - 1], ids[i]) < 0, "%s before %s", ids[i - 1], ids[i]);
    }
    qsort(ids, MANY, sizeof *ids, by_text);
    for (int i = 1; i < MANY; i++)
        ck_assert_str_ne(ids[i - 1], ids[i]);
    free(ids);
}
END_TEST

/* 62 random bits: two benches that start in the same millisecond do not collide. */
START_TEST(ids_of_one_moment_differ_behind_the_time)
{
    char ids[64][ID_SIZE];

    for (size_t i = 0; i < 64; i++) {
        id_new(ids[i]);
        for (size_t j = 0; j < i; j++)
            ck_assert_str_ne(ids[i] + strlen("018f0000-0000-7000-"),
                             ids[j] + strlen("018f0000-0000-7000-"));
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/id");
    TCase *t = tcase_create("id");

    tcase_add_test(t, shape_is_that_of_rfc_9562);
    tcase_add_test(t, later_ones_sort_later_and_none_is_made_twice);
    tcase_add_test(t, ids_of_one_moment_differ_behind_the_time);
    tcase_set_timeout(t, 60);
    suite_add_tcase(s, t);
    return s;
}
