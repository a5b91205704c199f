/* Drafts: where they are kept, who may take them, and what happens when they cannot be kept. */
#include "run.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/drafts.h"
#include "app/session.h"
#include "base/mem.h"
#include "store/settings.h"

static char folder[64];
static struct session session;
static struct drafts drafts;
static struct error e;

static void begin(void)
{
    snprintf(folder, sizeof folder, "/tmp/coldlap-drafts-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    ck_assert_int_eq(chdir(folder), 0);
    setenv("XDG_STATE_HOME", folder, 1);
    ck_assert_msg(session_open(&session, "b.coldlap", BOOK_CREATE, &e) == 0, "%s", e.text);
    drafts_open(&drafts, session.book);
}

static void end(void)
{
    drafts_close(&drafts);
    session_close(&session);
    ck_assert_int_eq(system("chmod -R u+w . && rm -rf \"$PWD\""), 0);
}

static void keep(const char *accepted, const char *typed)
{
    ck_assert_msg(drafts_keep(&drafts, accepted, typed, &e) == 0, "%s", e.text);
}

/* As a process that is killed leaves it. */
static void be_killed(const char *accepted, const char *typed)
{
    int status;
    pid_t child = fork();

    ck_assert_int_ge(child, 0);
    if (child == 0) {
        struct drafts mine;

        drafts_open(&mine, session.book); /* only files are touched */
        drafts_keep(&mine, accepted, typed, NULL);
        raise(SIGKILL);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status));
}

static size_t left(void)
{
    struct draft_names names = {0};
    size_t count;

    drafts_list(&drafts, &names);
    count = names.count;
    draft_names_free(&names);
    return count;
}

/* Takes the i-th that is listed. The caller frees it. */
static char *take(size_t i)
{
    struct draft_names names = {0};
    struct instant when;
    char *text;

    drafts_list(&drafts, &names);
    ck_assert_uint_lt(i, names.count);
    text = drafts_take(&drafts, names.items[i], &when);
    draft_names_free(&names);
    return text;
}

static void assert_taken(size_t i, const char *should)
{
    char *text = take(i);

    ck_assert_ptr_nonnull(text);
    ck_assert_str_eq(text, should);
    free(text);
}

static mode_t mode_of(const char *path)
{
    struct stat is;

    ck_assert_int_eq(stat(path, &is), 0);
    return is.st_mode & 0777;
}

START_TEST(a_draft_is_a_file_for_its_owner_alone)
{
    umask(0);
    ck_assert_ptr_null(drafts_where(&drafts));
    keep("coupon.mark 01\n", "writing 5\n");
    ck_assert_ptr_nonnull(strstr(drafts_where(&drafts), "/coldlap/drafts/"));
    ck_assert_uint_eq(mode_of(drafts_where(&drafts)), 0600);
    ck_assert_uint_eq(mode_of("coldlap"), 0700);
    ck_assert_uint_eq(mode_of("coldlap/drafts"), 0700);
    keep("", "");
    ck_assert_ptr_null(drafts_where(&drafts));
    ck_assert_uint_eq(left(), 0);
}
END_TEST

START_TEST(what_is_typed_comes_behind_what_was_accepted)
{
    be_killed("a\n", "writing 1\n");
    assert_taken(0, "a\ntyping\nwriting 1\n");
    drafts_drop(&drafts);
    ck_assert_uint_eq(left(), 0);
    keep("a\n", "");
    keep("a\n", "writing 1\n");
    keep("a\n", "writing 12\n");
    ck_assert_int_eq(system("printf 'a\\ntyping\\ntyping\\nwriting 1\\ntyping\\nwriting 12\\n' | "
                            "cmp - coldlap/drafts/*"),
                     0);
    keep("b\n", "");
    ck_assert_int_eq(system("printf 'b\\ntyping\\n' | cmp - coldlap/drafts/*"), 0);
}
END_TEST

/* Each has one, and nobody takes that of a process that lives. */
START_TEST(two_processes_have_two_drafts)
{
    struct drafts other;
    struct draft_names names = {0};
    struct instant when;

    drafts_open(&other, session.book);
    be_killed("killed\n", "");
    keep("mine\n", "");
    ck_assert_int_eq(drafts_keep(&other, "other's\n", "", &e), 0);
    ck_assert_str_ne(drafts_where(&other), drafts_where(&drafts));
    drafts_list(&drafts, &names);
    ck_assert_uint_eq(names.count, 3);
    for (size_t i = 0; i < names.count; i++) {
        char *text = drafts_take(&drafts, names.items[i], &when);

        ck_assert((text == NULL) == (strcmp(names.items[i], drafts_where(&drafts)) == 0 ||
                                     strcmp(names.items[i], drafts_where(&other)) == 0));
        if (text != NULL) { /* nor does another what is being decided about */
            ck_assert_int_gt(when.utc_ms, 0);
            ck_assert_str_eq(text, "killed\ntyping\n");
            ck_assert_ptr_null(drafts_take(&other, names.items[i], &when));
        }
        free(text);
    }
    draft_names_free(&names);
    drafts_close(&other);
    ck_assert_uint_eq(left(), 3); /* a process that ends leaves it */
}
END_TEST

START_TEST(a_draft_of_another_book_is_left_alone)
{
    struct session second;
    struct drafts of_second;

    ck_assert_int_eq(session_open(&second, "c.coldlap", BOOK_CREATE, &e), 0);
    drafts_open(&of_second, second.book);
    ck_assert_int_eq(drafts_keep(&of_second, "a\n", "", &e), 0);
    drafts_close(&of_second);
    ck_assert_uint_eq(left(), 0);
    ck_assert_int_eq(symlink("c.coldlap", "link"), 0);
    session_close(&session);
    session_close(&second);
    drafts_close(&drafts);
    ck_assert_int_eq(session_open(&session, "link", BOOK_CREATE, &e), 0);
    drafts_open(&drafts, session.book);
    ck_assert_uint_eq(left(), 1); /* by the other name too */
}
END_TEST

/* One that is gone on with stays until this process has written its own. */
START_TEST(an_adopted_draft_goes_when_it_was_written_again)
{
    be_killed("killed\n", "");
    assert_taken(0, "killed\ntyping\n");
    drafts_adopt(&drafts);
    ck_assert_uint_eq(left(), 1);
    keep("killed\n", "");
    ck_assert_uint_eq(left(), 1);
    ck_assert_ptr_null(take(0)); /* it is this process's own now */
    be_killed("second\n", "");
    keep("killed, more\n", "");
    ck_assert_uint_eq(left(), 2);
    keep("", "");
    assert_taken(0, "second\ntyping\n");
    drafts_put_back(&drafts);
    assert_taken(0, "second\ntyping\n");
    drafts_adopt(&drafts);
    drafts_put_back(&drafts); /* as when its card could not be shown */
    keep("", "");
    ck_assert_uint_eq(left(), 1);
}
END_TEST

START_TEST(what_was_half_written_is_removed)
{
    char *part;

    keep("a\n", "");
    part = mem_format("%s.abcdef", drafts_where(&drafts));
    ck_assert_int_eq(link(drafts_where(&drafts), part), 0);
    ck_assert_uint_eq(left(), 1);
    ck_assert_int_eq(access(part, F_OK), 0); /* locked: its process lives */
    ck_assert_int_eq(unlink(part), 0);
    ck_assert_int_eq(system("echo b > coldlap/drafts/$(ls coldlap/drafts).abcdef"), 0);
    ck_assert_uint_eq(left(), 1);
    ck_assert_int_ne(access(part, F_OK), 0);
    free(part);
}
END_TEST

static char *in_book(void)
{
    char host[256] = "", *name, *text = NULL;

    gethostname(host, sizeof host - 1);
    name = mem_format("draft.%s", host);
    ck_assert_int_eq(setting_get(session.book, name, &text, &e), 0);
    free(name);
    return text;
}

/* As 0.1.0 kept it. It leaves the book, whether it is gone on with or kept for later. */
START_TEST(a_draft_in_the_book_is_moved_out)
{
    char host[256] = "", *name;

    gethostname(host, sizeof host - 1);
    name = mem_format("draft.%s", host);
    ck_assert_int_eq(setting_set(session.book, name, "id \ncoupon.mark 09\n", &e), 0);
    assert_taken(0, "id \ncoupon.mark 09\n");
    if (_i == 0) {
        drafts_put_back(&drafts);
        ck_assert_uint_eq(left(), 1);
        ck_assert_ptr_null(in_book());
        assert_taken(0, "id \ncoupon.mark 09\n");
    } else {
        drafts_adopt(&drafts);
        keep("id \ncoupon.mark 09\n", "");
        ck_assert_ptr_null(in_book());
    }
    free(name);
}
END_TEST

/* A file stands where the folder would be. */
static void block_the_folder(void)
{
    FILE *file = fopen("coldlap", "w");

    ck_assert_ptr_nonnull(file);
    fclose(file);
}

START_TEST(without_a_folder_the_book_keeps_it)
{
    struct drafts other;
    char *text;

    block_the_folder();
    keep("a\n", "writing 1\n");
    ck_assert_str_eq(drafts_where(&drafts), "b.coldlap");
    text = in_book();
    ck_assert_ptr_nonnull(strstr(text, "\na\ntyping\nwriting 1\n"));
    free(text);
    ck_assert_uint_eq(left(), 0); /* this process lives */
    drafts_open(&other, session.book);
    ck_assert_int_eq(drafts_keep(&other, "b\n", "", &e), 0);
    text = in_book();
    ck_assert_ptr_nonnull(strstr(text, "\na\n"));
    free(text);
    ck_assert_int_eq(drafts_keep(&other, "", "", &e), 0);
    drafts_close(&other);
    ck_assert_int_eq(unlink("coldlap"), 0);
    keep("a\n", "writing 12\n"); /* as soon as it can be had, the file is preferred */
    ck_assert_ptr_null(in_book());
    ck_assert_ptr_nonnull(strstr(drafts_where(&drafts), "/drafts/"));
}
END_TEST

START_TEST(when_nothing_can_be_written_it_says_why)
{
    const char *process = "process 999999999\nold\n";
    char host[256] = "", *name;

    block_the_folder();
    gethostname(host, sizeof host - 1);
    name = mem_format("draft.%s", host);
    ck_assert_int_eq(setting_set(session.book, name, process, &e), 0);
    drafts_close(&drafts);
    session_close(&session);
    ck_assert_int_eq(session_open(&session, "b.coldlap", BOOK_READ, &e), 0);
    drafts_open(&drafts, session.book);
    ck_assert_int_eq(drafts_keep(&drafts, "a\n", "", &e), -1);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_msg(strstr(e.text, "coldlap/drafts") != NULL, "%s", e.text);
    ck_assert_ptr_null(drafts_where(&drafts));
    ck_assert_uint_eq(left(), 0); /* the book could not be rid of it */
    setenv("HOME", "", 1);
    unsetenv("XDG_STATE_HOME");
    drafts_close(&drafts);
    drafts_open(&drafts, session.book);
    ck_assert_int_eq(drafts_keep(&drafts, "a\n", "", &e), -1);
    ck_assert_msg(strstr(e.text, "HOME") != NULL, "%s", e.text);
    free(name);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/drafts");
    TCase *t = tcase_create("drafts");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_test(t, a_draft_is_a_file_for_its_owner_alone);
    tcase_add_test(t, what_is_typed_comes_behind_what_was_accepted);
    tcase_add_test(t, two_processes_have_two_drafts);
    tcase_add_test(t, a_draft_of_another_book_is_left_alone);
    tcase_add_test(t, an_adopted_draft_goes_when_it_was_written_again);
    tcase_add_test(t, what_was_half_written_is_removed);
    tcase_add_loop_test(t, a_draft_in_the_book_is_moved_out, 0, 2);
    tcase_add_test(t, without_a_folder_the_book_keeps_it);
    tcase_add_test(t, when_nothing_can_be_written_it_says_why);
    suite_add_tcase(s, t);
    return s;
}
