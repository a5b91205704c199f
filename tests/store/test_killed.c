/*
 * A migration and a put-back, killed before each of their writes to the disk in turn: what the book
 * was, or what it was to become, is always there. The functions that write are defined here, in
 * place of the C library's, for SQLite as well.
 */
#include "run.h"

#include <errno.h>
#include <fcntl.h>
#include <glob.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/open.h"

static long steps_left = -1; /* before the kill; negative: there is none */

static void step(void)
{
    if (steps_left >= 0 && steps_left-- == 0)
        kill(getpid(), SIGKILL);
}

/* NOLINTBEGIN(readability-inconsistent-declaration-parameter-name): the library's are reserved */
ssize_t write(int fd, const void *from, size_t size)
{
    step();
    return syscall(SYS_write, fd, from, size);
}

ssize_t pwrite64(int fd, const void *from, size_t size, off_t at)
{
    step();
    return syscall(SYS_pwrite64, fd, from, size, at);
}

int fsync(int fd)
{
    step();
    return (int)syscall(SYS_fsync, fd);
}

int fdatasync(int fd)
{
    step();
    return (int)syscall(SYS_fdatasync, fd);
}

int ftruncate64(int fd, off_t size)
{
    step();
    return (int)syscall(SYS_ftruncate, fd, size);
}

int unlink(const char *path)
{
    step();
    return (int)syscall(SYS_unlink, path);
}

int link(const char *from, const char *to)
{
    step();
    return (int)syscall(SYS_link, from, to);
}

int rename(const char *from, const char *to)
{
    step();
    return (int)syscall(SYS_rename, from, to);
}

int renameat2(int from_fd, const char *from, int to_fd, const char *to, unsigned flags)
{
    step();
    return (int)syscall(SYS_renameat2, from_fd, from, to_fd, to, flags);
}
/* NOLINTEND(readability-inconsistent-declaration-parameter-name) */

static struct scratch at;
static struct error e;

static void set_up(void)
{
    scratch_make(&at);
    unsetenv("COLDLAP_NO_BACKUP");
    setenv("XDG_STATE_HOME", at.dir, 1);
    setenv("COLDLAP_NOW", "2026-03-07T14:05:00+01:00", 1);
    e = (struct error){0};
}

static void tear_down(void)
{
    scratch_remove(&at);
}

/* Every row of every table of a book. */
static char *all_rows(const char *path)
{
    static const char tables[] =
        "SELECT group_concat('SELECT ''' || name || ''' || group_concat(r, '';'') FROM (SELECT ' ||"
        " (SELECT group_concat('quote(' || c.name || ')', ' || '' '' || ')"
        " FROM pragma_table_info(t.name) AS c) || ' AS r FROM ' || name || ' ORDER BY 1)',"
        " ' UNION ALL ') FROM sqlite_schema AS t WHERE type = 'table' AND name NOT GLOB 'sqlite_*'";
    char *each = scratch_text(path, tables);
    char *whole = mem_format("SELECT group_concat(x, char(10)) FROM (SELECT NULL AS x WHERE 0"
                             " UNION ALL %s)",
                             each);
    char *rows = scratch_text(path, whole);

    ck_assert_ptr_nonnull(rows);
    free(each);
    free(whole);
    return rows;
}

/* True when `act` went on to its end before its step number `n`. */
static bool ends_before(long n, int (*act)(void))
{
    pid_t child = fork();
    int status;

    ck_assert_int_ge(child, 0);
    if (child == 0) {
        steps_left = n;
        _exit(act() == 0 ? 0 : 1);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status) || WEXITSTATUS(status) == 0);
    return WIFEXITED(status);
}

static void remove_beside(void)
{
    static const char *const endings[] = {"-wal", "-shm", "-journal"};

    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        char *path = mem_format("%s%s", at.book, endings[i]);

        unlink(path);
        free(path);
    }
}

static int open_book(void)
{
    struct book *book;

    if (book_open(&book, at.book, BOOK_WRITE, &e) < 0)
        return fprintf(stderr, "%s\n", e.text);
    book_close(book);
    return 0;
}

static bool has_whole_backup(const char *old_rows)
{
    struct book_copies list = {0};
    char *path, *rows;
    bool same;

    ck_assert_int_eq(book_copies_list(at.book, &list, &e), 0);
    ck_assert_uint_ge(list.count, 1);
    path = mem_format("%s/%s", list.folder, list.items[0].name);
    rows = all_rows(path);
    same = strcmp(rows, old_rows) == 0;
    free(rows);
    free(path);
    book_copies_free(&list);
    return same;
}

START_TEST(a_migration_leaves_the_old_book_or_the_new_one)
{
    struct bytes dump = scratch_read(FIXTURES_FOLDER "/books/schema-1-full.sql"), old;
    char *old_rows, *new_rows;
    long migrated = 0, n = 0;

    ck_assert_int_eq(scratch_sql(at.book, (const char *)dump.data), SQLITE_OK);
    free(dump.data);
    old = scratch_read(at.book);
    old_rows = all_rows(at.book);
    ck_assert_int_eq(open_book(), 0);
    new_rows = all_rows(at.book);
    for (bool done = false; !done; n += KILL_EVERY) {
        char *rows;

        remove_beside();
        scratch_write(at.book, old.data, old.size);
        done = ends_before(n, open_book);
        rows = all_rows(at.book);
        if (strcmp(rows, old_rows) != 0) {
            ck_assert_str_eq(rows, new_rows);
            ck_assert(has_whole_backup(old_rows));
            migrated++;
        }
        free(rows);
        ck_assert_int_eq(open_book(), 0);
        rows = all_rows(at.book);
        ck_assert_str_eq(rows, new_rows);
        free(rows);
    }
    printf("a migration of %ld steps killed at each %d., %ld times after its commit\n", n,
           KILL_EVERY, migrated);
    ck_assert_int_gt(n, 30);
    ck_assert_int_gt(migrated, 1);
    free(old.data);
    free(old_rows);
    free(new_rows);
}
END_TEST

static char kept[256];

/* The name the old book has after a put-back; "" when there is none. */
static void find_kept(void)
{
    char *pattern = mem_format("%s/*.before-put-back", at.dir);
    glob_t found;

    kept[0] = '\0';
    if (glob(pattern, 0, NULL, &found) == 0) {
        ck_assert_uint_eq(found.gl_pathc, 1);
        snprintf(kept, sizeof kept, "%s", found.gl_pathv[0]);
    }
    globfree(&found);
    free(pattern);
}

static int put_back(void)
{
    char *name;
    int rc = book_put_back(at.book, scratch_file(&at, "backup.coldlap"), &name, &e);

    free(name);
    return rc < 0 ? fprintf(stderr, "%s\n", e.text) : 0;
}

static char *beside(const char *path, const char *ending)
{
    return mem_format("%s%s", path, ending);
}

static void copy(const char *from, const char *to)
{
    struct bytes all = scratch_read(from);

    scratch_write(to, all.data, all.size);
    free(all.data);
}

/* A backup of two coupons, and a book of three, the last of which is only in the log beside it,
 * because the program was killed. */
static void crashed_book(const char *to)
{
    const char *backup = scratch_file(&at, "backup.coldlap");
    char *wal = beside(at.book, "-wal"), *wal_to = beside(to, "-wal");
    struct book *book;
    pid_t child;

    scratch_book(&at, 2);
    book = scratch_open(at.book, BOOK_READ);
    ck_assert_int_eq(book_backup(book, backup, &e), 0);
    book_close(book);
    child = fork();
    if (child == 0) {
        book = scratch_open(at.book, BOOK_WRITE);
        _exit(scratch_save(book, &e) == 0 ? 0 : 1);
    }
    waitpid(child, NULL, 0);
    ck_assert_int_gt(scratch_size(wal), 0);
    copy(at.book, to);
    copy(wal, wal_to);
    free(wal);
    free(wal_to);
}

static void bring_back(const char *from)
{
    char *wal_from = beside(from, "-wal"), *wal = beside(at.book, "-wal");

    remove_beside();
    copy(from, at.book);
    copy(wal_from, wal);
    free(wal_from);
    free(wal);
}

START_TEST(a_put_back_leaves_the_old_book_or_the_one_put_back)
{
    const char *crashed = scratch_file(&at, "crashed");
    char *old_rows, *new_rows;
    long put = 0, n = 0;

    setenv("COLDLAP_NO_BACKUP", "1", 1);
    crashed_book(crashed);
    new_rows = all_rows(scratch_file(&at, "backup.coldlap"));
    old_rows = all_rows(at.book);
    ck_assert_str_ne(old_rows, new_rows);
    for (bool done = false; !done; n += KILL_EVERY) {
        char *rows;

        find_kept();
        unlink(kept);
        bring_back(crashed);
        done = ends_before(n, put_back);
        rows = all_rows(at.book);
        if (strcmp(rows, old_rows) != 0) {
            char *kept_rows;

            find_kept();
            kept_rows = all_rows(kept);
            ck_assert_str_eq(rows, new_rows);
            ck_assert_str_eq(kept_rows, old_rows);
            free(kept_rows);
            put++;
        }
        ck_assert(!done || strcmp(rows, new_rows) == 0);
        free(rows);
    }
    printf("a put-back of %ld steps killed at each %d., %ld times after its rename\n", n,
           KILL_EVERY, put);
    ck_assert_int_gt(n, 10);
    ck_assert_int_gt(put, 1);
    scratch_sound(at.book);
    free(old_rows);
    free(new_rows);
}
END_TEST

/* The log beside a spoilt book goes with it, and never into the one put back. */
START_TEST(what_lies_beside_a_spoilt_book_goes_with_it)
{
    const char *crashed = scratch_file(&at, "crashed");
    const char *wal = scratch_file(&at, "b.coldlap-wal");
    char *new_rows, *rows;

    setenv("COLDLAP_NO_BACKUP", "1", 1);
    crashed_book(crashed);
    new_rows = all_rows(scratch_file(&at, "backup.coldlap"));
    bring_back(crashed);
    scratch_write(at.book, "spoilt", 6);
    ck_assert_int_eq(put_back(), 0);
    ck_assert_int_le(scratch_size(wal), 0);
    rows = all_rows(at.book);
    ck_assert_str_eq(rows, new_rows);
    find_kept();
    ck_assert_int_eq(scratch_size(kept), 6);
    strcat(kept, "-wal");
    ck_assert_int_gt(scratch_size(kept), 0);
    free(rows);
    free(new_rows);
}
END_TEST

START_TEST(a_book_that_is_open_elsewhere_is_not_replaced)
{
    const char *crashed = scratch_file(&at, "crashed");
    struct book *other;
    char *old_rows, *rows, *name = NULL;

    setenv("COLDLAP_NO_BACKUP", "1", 1);
    crashed_book(crashed);
    old_rows = all_rows(at.book);
    other = scratch_open(at.book, BOOK_WRITE);
    ck_assert_int_lt(book_put_back(at.book, scratch_file(&at, "backup.coldlap"), &name, &e), 0);
    ck_assert_ptr_null(name);
    ck_assert_ptr_nonnull(strstr(e.text, "another program has the book open; end it there"));
    book_close(other);
    rows = all_rows(at.book);
    ck_assert_str_eq(rows, old_rows);
    free(rows);
    free(old_rows);
}
END_TEST

START_TEST(a_backup_that_is_not_in_order_is_not_put_back)
{
    const char *crashed = scratch_file(&at, "crashed");
    const char *backup = scratch_file(&at, "backup.coldlap");
    struct bytes before;
    char *name = NULL;

    setenv("COLDLAP_NO_BACKUP", "1", 1);
    crashed_book(crashed);
    bring_back(crashed);
    before = scratch_read(at.book);
    ck_assert_int_eq(scratch_sql(backup, "UPDATE pass SET number = number + 7"), SQLITE_OK);
    ck_assert_int_lt(book_put_back(at.book, backup, &name, &e), 0);
    ck_assert_msg(one_line(&e) && strstr(e.text, "not put back") != NULL, "%s", e.text);
    ck_assert(scratch_same_bytes(before, scratch_read(at.book)));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/killed");
    TCase *t = tcase_create("killed");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 900);
    tcase_add_test(t, a_put_back_leaves_the_old_book_or_the_one_put_back);
    tcase_add_test(t, what_lies_beside_a_spoilt_book_goes_with_it);
    tcase_add_test(t, a_book_that_is_open_elsewhere_is_not_replaced);
    tcase_add_test(t, a_backup_that_is_not_in_order_is_not_put_back);
    tcase_add_test(t, a_migration_leaves_the_old_book_or_the_new_one);
    suite_add_tcase(s, t);
    return s;
}
