#include "run.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/file_out.h"
#include "base/mem.h"

static char folder[] = "/tmp/coldlap-file-out-XXXXXX";
static char *path;

static void begin(void)
{
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/out", folder);
}

/* A file left beside `path` would keep the folder from going away. */
static void end(void)
{
    unlink(path);
    ck_assert_int_eq(rmdir(folder), 0);
    free(path);
    strcpy(folder + strlen(folder) - 6, "XXXXXX");
}

static void write_plainly(const char *text)
{
    FILE *out = fopen(path, "w");

    ck_assert_int_ge(fputs(text, out), 0);
    fclose(out);
}

static void check_holds(const char *text)
{
    char found[20] = "";
    FILE *in = fopen(path, "r");

    ck_assert_ptr_nonnull(in);
    ck_assert_ptr_nonnull(fgets(found, sizeof found, in));
    fclose(in);
    ck_assert_str_eq(found, text);
}

/* What another program puts there between opening and closing stays, unless it may be replaced. */
START_TEST(another_was_faster)
{
    struct file_out f;
    struct error e;
    bool replace = _i != 0;

    ck_assert_int_eq(file_open(&f, path, NULL, replace, &e), 0);
    fputs("ours", f.out);
    write_plainly("theirs");
    if (replace) {
        ck_assert_int_eq(file_close(&f, &e), 0);
    } else {
        ck_assert_int_lt(file_close(&f, &e), 0);
        ck_assert_int_eq(e.kind, ERROR_INPUT);
    }
    check_holds(replace ? "ours" : "theirs");
}
END_TEST

START_TEST(given_up)
{
    struct file_out f;
    struct error e;

    ck_assert_int_eq(file_open(&f, path, NULL, false, &e), 0);
    fputs("ours", f.out);
    file_drop(&f);
    ck_assert_int_ne(access(path, F_OK), 0);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/file_out");
    TCase *t = tcase_create("file_out");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_loop_test(t, another_was_faster, 0, 2);
    tcase_add_test(t, given_up);
    suite_add_tcase(s, t);
    return s;
}
