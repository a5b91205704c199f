#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/digest.h"

/* "abc": FIPS 180-2 appendix B.1; the empty message: NIST CAVP SHA256ShortMsg, Len = 0. */
static const struct {
    const char *bytes, *digest;
} published[] = {
    {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
    {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
};

START_TEST(published_digests)
{
    char path[] = "/tmp/coldlap-digest-XXXXXX", out[DIGEST_SIZE];
    int fd = mkstemp(path);
    FILE *f = fdopen(fd, "w");
    struct error e;

    fputs(published[_i].bytes, f);
    fclose(f);
    ck_assert_int_eq(digest_file(path, out, &e), 0);
    ck_assert_str_eq(out, published[_i].digest);
    unlink(path);
    ck_assert_int_lt(digest_file(path, out, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_int_lt(digest_file("/tmp", out, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/digest");
    TCase *t = tcase_create("digest");

    tcase_add_loop_test(t, published_digests, 0, sizeof published / sizeof *published);
    suite_add_tcase(s, t);
    return s;
}
