#include "run.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/rename.h"

static void make(const char *path, const char *text)
{
    FILE *out = fopen(path, "w");

    ck_assert_int_ge(fputs(text, out), 0);
    fclose(out);
}

static int first_byte(const char *path)
{
    FILE *in = fopen(path, "r");
    int byte = in == NULL ? EOF : fgetc(in);

    if (in != NULL)
        fclose(in);
    return byte;
}

START_TEST(a_name_is_taken_only_when_it_is_free)
{
    char folder[] = "/tmp/coldlap-rename-XXXXXX", *a, *b;

    ck_assert_ptr_nonnull(mkdtemp(folder));
    a = mem_format("%s/a", folder);
    b = mem_format("%s/b", folder);
    make(a, "1");
    ck_assert_int_eq(rename_new(a, b), 0);
    ck_assert_int_eq(first_byte(a), EOF);
    ck_assert_int_eq(first_byte(b), '1');
    make(a, "2");
    ck_assert_int_eq(rename_new(a, b), -1);
    ck_assert_int_eq(errno, EEXIST);
    ck_assert_int_eq(first_byte(a), '2');
    ck_assert_int_eq(first_byte(b), '1');
    unlink(a);
    ck_assert_int_eq(rename_new(a, b), -1); /* that the name is taken is said first */
    ck_assert_int_eq(errno, EEXIST);
    make(a, "2");
    unlink(b);
    ck_assert_int_eq(symlink("nowhere", b), 0); /* a name, although it leads nowhere */
    ck_assert_int_eq(rename_new(a, b), -1);
    ck_assert_int_eq(errno, EEXIST);
    unlink(a);
    unlink(b);
    ck_assert_int_eq(rename_new(a, b), -1);
    ck_assert_int_eq(errno, ENOENT);
    ck_assert_int_eq(rmdir(folder), 0);
    free(a);
    free(b);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/rename");
    TCase *t = tcase_create("rename");

    tcase_add_test(t, a_name_is_taken_only_when_it_is_free);
    suite_add_tcase(s, t);
    return s;
}
