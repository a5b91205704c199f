/* The automatic backups: when one is made, which are kept, and the photographs beside them. */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/digest.h"
#include "base/mem.h"
#include "scratch.h"
#include "store/auto_list.h"
#include "store/coupons.h"

static struct scratch at;
static struct error e;
static char *folder;

static void set_up(void)
{
    scratch_make(&at);
    unsetenv("COLDLAP_NO_BACKUP");
    setenv("XDG_STATE_HOME", at.dir, 1);
    setenv("COLDLAP_NOW", "2026-03-07T23:30:00-04:30", 1);
    e = (struct error){0};
    scratch_book(&at, 1);
    folder = auto_folder(at.book, &e);
}

static void tear_down(void)
{
    free(folder);
    scratch_remove(&at);
}

static size_t backups(void)
{
    struct book_copies list = {0};
    size_t count;

    ck_assert_int_eq(book_copies_list(at.book, &list, &e), 0);
    count = list.count;
    book_copies_free(&list);
    return count;
}

static char *change_on(const char *now)
{
    struct book *book;
    char *remark;

    setenv("COLDLAP_NOW", now, 1);
    book = scratch_open(at.book, BOOK_WRITE);
    ck_assert_msg(scratch_save(book, &e) == 0, "%s", e.text);
    ck_assert_msg(scratch_save(book, &e) == 0, "%s", e.text);
    remark = book_remark(book);
    ck_assert_ptr_null(book_remark(book));
    book_close(book);
    return remark;
}

START_TEST(the_first_change_of_a_day_is_preceded_by_one)
{
    struct book_copies list = {0};
    struct stat is;
    char *path;

    ck_assert_uint_eq(backups(), 0); /* a new book has nothing to lose */
    book_close(scratch_open(at.book, BOOK_WRITE));
    ck_assert_uint_eq(backups(), 0);
    ck_assert_ptr_null(change_on("2026-03-07T23:40:00-04:30"));
    ck_assert_ptr_null(change_on("2026-03-07T23:50:00-04:30"));
    ck_assert_uint_eq(backups(), 1);
    ck_assert_ptr_null(change_on("2026-03-08T00:10:00-04:30")); /* the clock on the wall says so */
    ck_assert_int_eq(book_copies_list(at.book, &list, &e), 0);
    ck_assert_uint_eq(list.count, 2);
    ck_assert_int_eq(strncmp(list.items[0].name, "2026-03-07_2340", 15), 0);
    ck_assert_str_eq(list.items[0].name + 17, "_before-first-change.coldlap");
    ck_assert_str_eq(list.items[1].when, "2026-03-08 00:10");
    ck_assert_str_eq(list.items[1].why, "before first change");
    path = mem_format("%s/%s", list.folder, list.items[0].name);
    ck_assert_int_eq(scratch_count(path, "SELECT count(*) FROM coupon"), 1);
    ck_assert(stat(path, &is) == 0 && (is.st_mode & 0777) == 0600 &&
              is.st_size == list.items[0].bytes);
    ck_assert(stat(folder, &is) == 0 && (is.st_mode & 0777) == 0700);
    free(path);
    path = mem_format("%s/%s", list.folder, list.items[1].name);
    ck_assert_int_eq(scratch_count(path, "SELECT count(*) FROM coupon"), 5);
    scratch_sound(path);
    free(path);
    book_copies_free(&list);
}
END_TEST

START_TEST(a_program_that_stays_open_makes_one_each_day)
{
    struct book *book = scratch_open(at.book, BOOK_WRITE);

    for (int day = 1; day <= 3; day++) {
        char *now = mem_format("2026-04-0%dT08:00:00+02:00", day);

        setenv("COLDLAP_NOW", now, 1);
        ck_assert_int_eq(book_begin(book, &e), 0);
        ck_assert_int_eq(scratch_save(book, &e), 0);
        ck_assert_int_eq(scratch_save(book, &e), 0);
        ck_assert_int_eq(book_commit(book, &e), 0);
        ck_assert_uint_eq(backups(), (size_t)day);
        free(now);
    }
    book_close(book);
}
END_TEST

START_TEST(without_a_place_the_change_is_stored_and_it_is_said_once)
{
    char *remark;

    setenv("XDG_STATE_HOME", "/dev/null", 1);
    remark = change_on("2026-03-07T23:40:00-04:30");
    ck_assert_ptr_nonnull(strstr(remark, "/dev/null/coldlap: the folder cannot be made"));
    ck_assert_ptr_null(strchr(remark, '\n'));
    free(remark);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 3);
    setenv("COLDLAP_NO_BACKUP", "1", 1);
    ck_assert_ptr_null(change_on("2026-03-07T23:50:00-04:30"));
    setenv("XDG_STATE_HOME", at.dir, 1);
    ck_assert_ptr_null(change_on("2026-03-07T23:55:00-04:30"));
    ck_assert_uint_eq(backups(), 0);
}
END_TEST

static char *day_name(int64_t day, const char *reason)
{
    char name[80];

    clock_format_day(name, sizeof name, (struct instant){day * 86400000, 0});
    return mem_format("%s_070000_before-%s.coldlap", name, reason);
}

static void drop(struct auto_list *list)
{
    size_t kept = 0;

    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].drop)
            free(list->items[i].name);
        else
            list->items[kept++] = list->items[i];
    list->count = kept;
}

static bool one_between(const struct auto_list *list, int64_t from, int64_t to)
{
    size_t found = 0;

    for (size_t i = 0; i < list->count; i++)
        found += list->items[i].day >= from && list->items[i].day <= to;
    return found == 1;
}

/* A day of work each day for three years, the rule applied each day. */
START_TEST(days_then_weeks_then_months_are_kept)
{
    enum { FIRST = 20454 /* 2026-01-01 */, DAYS = 1100 };
    struct auto_list list = {0};

    for (int64_t day = FIRST; day < FIRST + DAYS; day++) {
        char *name = day_name(day, day == FIRST + 40 ? "schema-2" : "first-change");
        bool migrated = false;

        auto_list_add(&list, name);
        auto_list_judge(&list, day);
        drop(&list);
        free(name);
        for (int64_t back = 0; back < 7 && day - back >= FIRST; back++)
            ck_assert(one_between(&list, day - back, day - back));
        if (day > FIRST + 140 && (day + 3) % 7 == 6) /* a Sunday: whole weeks lie behind it */
            for (int64_t week = 1; week <= 8; week++)
                ck_assert(one_between(&list, day - 7 * week - 6, day - 7 * week));
        for (size_t i = 0; i < list.count; i++)
            migrated = migrated || strstr(list.items[i].name, "schema-2") != NULL;
        ck_assert(day < FIRST + 40 || migrated == (day < FIRST + 40 + 365));
    }
    /* 2026-01-01 and, to 2028-11, the first copy kept of each month: 36 months but the last two are
     * in weeks and days */
    ck_assert_uint_ge(list.count, 34 + 8 + 7);
    ck_assert_uint_le(list.count, 36 + 9 + 7);
    ck_assert_ptr_nonnull(strstr(list.items[0].name, "2026-01-01"));
    auto_list_free(&list);
}
END_TEST

START_TEST(other_files_are_no_backups)
{
    static const char *const others[] = {
        "lock",
        "photos",
        "2026-03-07_140500_before-first-change.coldlap.99.coldlap-part",
        "2026-13-07_140500_before-x.coldlap",
        "2026-03-07.coldlap",
        "2026-03-07_140500.coldlap",
        "x",
        ".",
        "2026-03-07 140500_before-x.coldlap",
        "2026-03-07_1405_before-x.coldlap"};
    struct auto_list list = {0};

    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        auto_list_add(&list, others[i]);
    ck_assert_uint_eq(list.count, 0);
    auto_list_add(&list, "2026-03-07_140500_before-first-change.coldlap");
    ck_assert_uint_eq(list.count, 1);
    ck_assert_int_eq(list.items[0].day, 20519);
    auto_list_free(&list);
}
END_TEST

START_TEST(two_books_of_one_name_have_a_folder_each)
{
    char *a = auto_folder("/somewhere/my book.coldlap", &e);
    char *b = auto_folder("/elsewhere/my book.coldlap", &e);
    char *link_to = mem_format("%s/link.coldlap", at.dir), *c;

    ck_assert_str_ne(a, b);
    ck_assert_ptr_nonnull(strstr(a, "/coldlap/backups/my_book-"));
    ck_assert_int_eq(symlink(at.book, link_to), 0);
    c = auto_folder(link_to, &e); /* the book, not the name it was opened by */
    ck_assert_str_eq(c, folder);
    free(a);
    free(b);
    free(c);
    free(link_to);
}
END_TEST

static void name_photo(const char *path)
{
    char digest[DIGEST_SIZE], *sql;

    ck_assert_int_eq(digest_file(path, digest, &e), 0);
    sql = mem_format("DELETE FROM photo; INSERT INTO photo SELECT max(id), 1, '%s', '%s', NULL"
                     " FROM coupon",
                     path, digest);
    ck_assert_int_eq(scratch_sql(at.book, sql), 0);
    free(sql);
}

static char *copy_of(const char *path)
{
    char digest[DIGEST_SIZE];

    ck_assert_int_eq(digest_file(path, digest, &e), 0);
    return mem_format("%s/photos/%s", folder, digest);
}

START_TEST(photographs_are_copied_once_and_go_with_the_last_backup_that_names_them)
{
    const char *one = scratch_file(&at, "one.jpg"), *two = scratch_file(&at, "two.jpg");
    struct stat is;
    char *copy, *other;

    scratch_write(one, "a photograph", 12);
    scratch_write(two, "another", 7);
    copy = copy_of(one);
    other = copy_of(two);
    name_photo(one);
    ck_assert_ptr_null(change_on("2026-03-07T23:40:00-04:30"));
    ck_assert(stat(copy, &is) == 0 && is.st_size == 12 && (is.st_mode & 0777) == 0600);
    ck_assert(scratch_same_bytes(scratch_read(one), scratch_read(copy)));
    name_photo(two);
    scratch_write(two, "changed", 7); /* is not the one that was attached */
    ck_assert_ptr_null(change_on("2026-03-09T08:00:00-04:30")); /* Monday */
    ck_assert_int_ne(access(other, F_OK), 0);
    scratch_write(two, "another", 7);
    ck_assert_ptr_null(change_on("2026-03-10T08:00:00-04:30"));
    ck_assert_int_eq(access(other, F_OK), 0);
    ck_assert_ptr_null(change_on("2026-05-25T08:00:00-04:30")); /* of March only the first stays */
    ck_assert_uint_eq(backups(), 2);
    ck_assert_int_eq(access(copy, F_OK), 0);
    ck_assert_int_eq(access(other, F_OK), 0); /* the book names it still */
    name_photo(one);
    ck_assert_ptr_null(change_on("2026-05-26T08:00:00-04:30"));
    ck_assert_ptr_null(change_on("2026-09-01T08:00:00-04:30")); /* 25 May stays, 26 May goes */
    ck_assert_int_eq(access(copy, F_OK), 0);
    free(copy);
    free(other);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/backups");
    TCase *t = tcase_create("backups");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, the_first_change_of_a_day_is_preceded_by_one);
    tcase_add_test(t, a_program_that_stays_open_makes_one_each_day);
    tcase_add_test(t, without_a_place_the_change_is_stored_and_it_is_said_once);
    tcase_add_test(t, days_then_weeks_then_months_are_kept);
    tcase_add_test(t, other_files_are_no_backups);
    tcase_add_test(t, two_books_of_one_name_have_a_folder_each);
    tcase_add_test(t, photographs_are_copied_once_and_go_with_the_last_backup_that_names_them);
    suite_add_tcase(s, t);
    return s;
}
