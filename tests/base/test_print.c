#include "run.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/print.h"

START_TEST(a_line_steers_no_terminal)
{
    char *bytes = NULL;
    size_t size;
    FILE *out = open_memstream(&bytes, &size);

    print_line(out, "%s of %d\tmm", "a\033[2Jb\nc\xff", 7);
    fclose(out);
    ck_assert_str_eq(bytes, "a\xef\xbf\xbd[2Jb c\xef\xbf\xbd of 7 mm\n");
    free(bytes);
}
END_TEST

/* Data for programs: byte by byte. */
START_TEST(data_stays_as_it_is_in_a_file)
{
    char found[32] = "";
    FILE *out = tmpfile();

    print_data(out, mem_copy("a\033[2J;b\xff\n"));
    rewind(out);
    ck_assert_uint_eq(fread(found, 1, sizeof found - 1, out), 9);
    ck_assert_str_eq(found, "a\033[2J;b\xff\n");
    fclose(out);
}
END_TEST

START_TEST(data_steers_no_terminal)
{
    int master = posix_openpt(O_RDWR | O_NOCTTY);
    char found[64] = "";
    FILE *out;

    ck_assert_int_ge(master, 0);
    ck_assert(grantpt(master) == 0 && unlockpt(master) == 0);
    out = fopen(ptsname(master), "w");
    ck_assert_ptr_nonnull(out);
    print_data(out, mem_copy("a\033[2J\n"));
    fflush(out);
    ck_assert_int_gt(read(master, found, sizeof found - 1), 0);
    ck_assert_str_eq(found, "a\xef\xbf\xbd[2J\r\n");
    fclose(out);
    close(master);
}
END_TEST

static void full(FILE *out)
{
    ck_assert_ptr_nonnull(freopen("/dev/full", "w", out));
    setvbuf(out, NULL, _IONBF, 0);
}

START_TEST(the_first_failure_is_kept)
{
    ck_assert_int_eq(print_flush(), 0);
    full(stdout);
    print_line(stdout, "lost");
    close(fileno(stdout));
    print_line(stdout, "lost too");
    ck_assert_int_eq(print_flush(), ENOSPC);
}
END_TEST

START_TEST(a_failure_of_flushing_counts)
{
    ck_assert_ptr_nonnull(freopen("/dev/full", "w", stdout));
    print_line(stdout, "buffered");
    ck_assert_int_eq(print_flush(), ENOSPC);
    ck_assert_int_eq(print_flush(), ENOSPC);
}
END_TEST

/* A write that did not go through here left nothing but the mark of the stream. */
START_TEST(a_failure_elsewhere_counts)
{
    full(stdout);
    fputs("lost", stdout);
    ck_assert_int_eq(print_flush(), EIO);
}
END_TEST

START_TEST(only_stdout_counts)
{
    FILE *other = tmpfile();

    full(other);
    print_line(other, "lost");
    ck_assert_int_eq(print_flush(), 0);
    fclose(other);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/print");
    TCase *t = tcase_create("print");

    tcase_add_test(t, a_line_steers_no_terminal);
    tcase_add_test(t, data_stays_as_it_is_in_a_file);
    tcase_add_test(t, data_steers_no_terminal);
    tcase_add_test(t, the_first_failure_is_kept);
    tcase_add_test(t, a_failure_of_flushing_counts);
    tcase_add_test(t, a_failure_elsewhere_counts);
    tcase_add_test(t, only_stdout_counts);
    suite_add_tcase(s, t);
    return s;
}
