/* Folders made with those above them, and written to the disk. */
#include "run.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/folder.h"

static char at[] = "/tmp/coldlap-folder-XXXXXX";
static struct error e;

static void set_up(void)
{
    ck_assert_ptr_nonnull(mkdtemp(strcpy(at, "/tmp/coldlap-folder-XXXXXX")));
    ck_assert_int_eq(chdir(at), 0);
    umask(022);
    e = (struct error){0};
}

static void tear_down(void)
{
    char command[64];

    snprintf(command, sizeof command, "rm -r %s", at);
    ck_assert_int_eq(system(command), 0);
}

static mode_t mode_of(const char *path)
{
    struct stat is;

    ck_assert_int_eq(stat(path, &is), 0);
    ck_assert(S_ISDIR(is.st_mode));
    return is.st_mode & 0777;
}

START_TEST(those_above_are_made_too)
{
    ck_assert_int_eq(folder_make("a/b/c", 0700, &e), 0);
    ck_assert_int_eq(mode_of("a"), 0700);
    ck_assert_int_eq(mode_of("a/b/c"), 0700);
    ck_assert_int_eq(folder_make("a/b/c", 0777, &e), 0); /* is there */
    ck_assert_int_eq(mode_of("a/b/c"), 0700);
}
END_TEST

START_TEST(above_a_file_only_those_above)
{
    ck_assert_int_eq(folder_make_above("d/e/file", 0777, &e), 0);
    ck_assert_int_eq(mode_of("d/e"), 0755);
    ck_assert_int_ne(access("d/e/file", F_OK), 0);
    ck_assert_int_eq(folder_make_above("file", 0777, &e), 0); /* nothing is missing */
}
END_TEST

START_TEST(what_is_in_the_way_is_named)
{
    FILE *file = fopen("taken", "w");

    ck_assert_ptr_nonnull(file);
    fclose(file);
    ck_assert_int_lt(folder_make("taken/x", 0700, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_str_eq(e.text, "taken/x: the folder cannot be made: Not a directory");
}
END_TEST

START_TEST(a_folder_is_written_or_says_why_not)
{
    ck_assert_int_eq(folder_sync_above("any"), 0);
    errno = 0;
    ck_assert_int_lt(folder_sync_above("nowhere/any"), 0);
    ck_assert_int_eq(errno, ENOENT);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/folder");
    TCase *t = tcase_create("folder");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, those_above_are_made_too);
    tcase_add_test(t, above_a_file_only_those_above);
    tcase_add_test(t, what_is_in_the_way_is_named);
    tcase_add_test(t, a_folder_is_written_or_says_why_not);
    suite_add_tcase(s, t);
    return s;
}
