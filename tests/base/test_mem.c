#include "run.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

START_TEST(zeroed_and_never_null)
{
    unsigned char *block = mem_zero(100, 3), none[300] = {0};
    void *empty = mem_zero(0, 8);

    ck_assert_int_eq(memcmp(block, none, sizeof none), 0);
    ck_assert_ptr_nonnull(empty);
    block = mem_resize(block, 1000, 3);
    ck_assert_int_eq(memcmp(block, none, sizeof none), 0);
    block = mem_resize(block, 0, 3);
    ck_assert_ptr_nonnull(block);
    free(block);
    free(empty);
}
END_TEST

START_TEST(texts_are_copied)
{
    char *part = mem_copy_part("wire feed", 4), *made = mem_format("%s-%d", part, 7);

    ck_assert_str_eq(part, "wire");
    ck_assert_str_eq(made, "wire-7");
    ck_assert_ptr_null(mem_copy(NULL));
    mem_replace(&part, "gas flow");
    ck_assert_str_eq(part, "gas flow");
    mem_replace(&part, part + 4);
    ck_assert_str_eq(part, "flow");
    free(part);
    free(made);
}
END_TEST

/* Runs in a process of its own and must end with the exit code of a system failure. */
START_TEST(too_much_ends_the_program)
{
    free(mem_resize(NULL, SIZE_MAX / 8 + 2, 8)); /* 8 bytes, if the product were not checked */
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/mem");
    TCase *t = tcase_create("mem");

    tcase_add_test(t, zeroed_and_never_null);
    tcase_add_test(t, texts_are_copied);
    tcase_add_exit_test(t, too_much_ends_the_program, 4);
    suite_add_tcase(s, t);
    return s;
}
