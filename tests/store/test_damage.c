/* Books that are cut short, spoilt, or hold what the rules forbid, and disks that do not answer. */
#include "run.h"

#include <errno.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/calibrations.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/trials.h"
#include "store/variables.h"

static struct scratch at;
static struct error e;

static void set_up(void)
{
    scratch_make(&at);
    e = (struct error){0};
}

static void tear_down(void)
{
    scratch_remove(&at);
}

/* Runs `sql` while the tables have no types, checks and references, and gives them back after it.
 */
static void without_rules(const char *sql)
{
    static const char keep[] =
        "CREATE TABLE o.s AS SELECT name, sql FROM main.sqlite_schema;"
        " PRAGMA writable_schema = ON; UPDATE main.sqlite_schema AS m SET sql ="
        " replace(replace(replace(replace(replace(replace(sql, 'id INTEGER NOT NULL PRIMARY KEY',"
        " 'id INTEGER PRIMARY KEY'), 'TEXT NOT NULL', 'TEXT'), 'INTEGER NOT NULL', 'INTEGER'),"
        " 'REAL NOT NULL', 'REAL'), 'STRICT, ', ''), ') STRICT', ')') WHERE type = 'table'"
        " AND sql LIKE '%STRICT%'";
    static const char give_back[] =
        "PRAGMA writable_schema = ON; UPDATE main.sqlite_schema AS m SET sql ="
        " (SELECT sql FROM o.s WHERE s.name = m.name)";
    const char *other = scratch_file(&at, "rules");
    char *first = mem_format("ATTACH '%s' AS o; %s", other, keep);
    char *then =
        mem_format("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; %s", sql);
    char *last = mem_format("ATTACH '%s' AS o; %s", other, give_back);

    ck_assert_int_eq(scratch_sql(at.book, first), SQLITE_OK);
    ck_assert_msg(scratch_sql(at.book, then) == SQLITE_OK, "%s", sql);
    ck_assert_int_eq(scratch_sql(at.book, last), SQLITE_OK);
    unlink(other);
    free(first);
    free(then);
    free(last);
}

static void ignore_line(void *ctx, const char *line)
{
    (void)ctx;
    ck_assert_ptr_null(strchr(line, '\n'));
}

/* Whatever comes of it: a result, or a refusal in one line. */
static void use_everything(void)
{
    struct calibration_list feeds = {0};
    struct coupon_list coupons = {0};
    struct variable_list variables;
    struct trial_list trials = {0};
    struct change_list changes = {0};
    struct change change = {0};
    struct coupon c;
    struct book *book = scratch_open(at.book, BOOK_WRITE);

    variable_list_init(&variables);
    ck_assert(coupons_load(book, NULL, true, &coupons, &e) == 0 || one_line(&e));
    ck_assert(trials_load(book, &trials, &e) == 0 || one_line(&e));
    ck_assert(own_variables_load(book, &variables, &e) == 0 || one_line(&e));
    ck_assert(calibrations_load(book, NULL, &feeds, &e) == 0 || one_line(&e));
    ck_assert(book_check(book, ignore_line, NULL, &e) < 0 && one_line(&e));
    ck_assert(journal_list(book, 0, 100, &changes, &e) == 0 || one_line(&e));
    ck_assert(journal_undo(book, 999, &change, &e) == 0 || one_line(&e));
    change_free(&change);
    ck_assert(journal_redo(book, 999, &change, &e) == 0 || one_line(&e));
    coupon_init(&c);
    ck_assert(coupon_save(book, &c, &e) == 0 || one_line(&e));
    coupon_free(&c);
    change_free(&change);
    change_list_free(&changes);
    calibration_list_free(&feeds);
    coupon_list_free(&coupons);
    trial_list_free(&trials);
    variable_list_free(&variables);
    book_close(book);
}

/* Cut at any length, a book opens or is refused; nothing crashes, nothing is written. */
START_TEST(a_cut_book_is_refused_or_read_but_never_changed)
{
    struct bytes whole;
    size_t refused = 0, tried = 0;

    scratch_book(&at, 40);
    ck_assert_int_eq(scratch_sql(at.book, "VACUUM"), SQLITE_OK); /* no free pages at its end */
    whole = scratch_read(at.book);
    for (size_t size = 0; size < whole.size; size += size < 600 ? 50 : 3700) {
        struct book *book = NULL;
        struct coupon_list list = {0};
        struct bytes cut;

        scratch_write(at.book, whole.data, size);
        cut = scratch_read(at.book);
        tried++;
        if (book_open(&book, at.book, BOOK_WRITE, &e) < 0 ||
            coupons_load(book, NULL, true, &list, &e) < 0) {
            refused++;
            ck_assert_msg(one_line(&e), "%s", e.text);
        }
        coupon_list_free(&list);
        book_close(book);
        ck_assert(scratch_same_bytes(cut, scratch_read(at.book)));
    }
    ck_assert_uint_eq(refused, tried);
    free(whole.data);
}
END_TEST

/* Rows no rule of the schema allows, in tables that look as they should. */
START_TEST(rows_without_rules_never_crash_the_program)
{
    static const char *const odd[] = {
        "INSERT INTO coupon (id, uuid, revision, trial_id, mark) VALUES (9, '', NULL, 77, NULL)",
        "INSERT INTO value VALUES (9, 77, NULL, NULL, NULL, NULL)",
        "INSERT INTO value VALUES (9, 1, 'x', x'00', NULL, 'odd')",
        "INSERT INTO value VALUES (9, 2, 'x', x'00', x'00', NULL)",
        "INSERT INTO value VALUES (9, -1, 1, 1, 'x', 'between')",
        "INSERT INTO value VALUES (9, 9223372036854775807, 1, NULL, NULL, NULL)",
        "UPDATE bend SET coupon_id = 9, ended = 7, direction = 7, before_deg = 'x'",
        "INSERT INTO face VALUES (9, 7, 'x', NULL)",
        "INSERT INTO photo VALUES (9, 9, NULL, NULL, NULL)",
        "INSERT INTO trial (uuid, revision, name) VALUES ('', NULL, NULL)",
        "INSERT INTO trial_variable VALUES (1, 1, NULL)",
        "UPDATE variable SET key = '' WHERE id = 2",
        "UPDATE variable SET key = NULL WHERE id = 3",
        "INSERT INTO own_variable (id, revision, label, role) VALUES (1, NULL, NULL, NULL)",
        "INSERT INTO calibration (uuid, machine) VALUES ('', NULL)",
        "INSERT INTO change (id, when_utc_ms, what) VALUES (999, NULL, NULL)",
        "INSERT INTO touched VALUES (999, 'face', 7, 5, '{half', NULL)",
        "INSERT INTO touched VALUES (999, 'coupon', 9, 5, '[]', 7)",
    };

    scratch_book(&at, 1);
    for (size_t i = 0; i < sizeof odd / sizeof odd[0]; i++) {
        without_rules(odd[i]);
        use_everything();
    }
}
END_TEST

/* One byte after the other is spoilt: any answer will do, except a crash or two lines. */
START_TEST(a_spoilt_book_never_crashes_the_program)
{
    struct bytes whole;

    scratch_book(&at, 3);
    ck_assert_int_eq(scratch_sql(at.book, "VACUUM"), SQLITE_OK); /* of free pages nothing is read */
    whole = scratch_read(at.book);
    for (size_t i = 0; i < whole.size; i += i < 512 ? 3 : 53) {
        struct book *book = NULL;
        struct coupon_list list = {0};
        unsigned char was = whole.data[i];

        whole.data[i] = (unsigned char)(was ^ 0xff);
        scratch_write(at.book, whole.data, whole.size);
        whole.data[i] = was;
        if (book_open(&book, at.book, BOOK_WRITE, &e) < 0 ||
            coupons_load(book, NULL, true, &list, &e) < 0)
            ck_assert_msg(one_line(&e), "%s", e.text);
        coupon_list_free(&list);
        book_close(book);
    }
    free(whole.data);
}
END_TEST

static long reads_left; /* before the one that fails; negative: none does */
static bool read_failed;

static bool fails_now(void)
{
    if (reads_left < 0 || reads_left-- > 0)
        return false;
    errno = EIO;
    read_failed = true;
    return true;
}

static ssize_t read_or_fail(int fd, void *to, size_t size)
{
    return fails_now() ? -1 : read(fd, to, size);
}

static ssize_t pread_or_fail(int fd, void *to, size_t size, off_t from)
{
    return fails_now() ? -1 : pread(fd, to, size, from);
}

static void put_reads_between(void)
{
    sqlite3_vfs *vfs = sqlite3_vfs_find(NULL);

    vfs->xSetSystemCall(vfs, "read", (sqlite3_syscall_ptr)read_or_fail);
    vfs->xSetSystemCall(vfs, "pread", (sqlite3_syscall_ptr)pread_or_fail);
    vfs->xSetSystemCall(vfs, "pread64", (sqlite3_syscall_ptr)pread_or_fail);
}

static int open_and_load(void)
{
    struct coupon_list list = {0};
    struct book *book = NULL;
    int rc = book_open(&book, at.book, BOOK_WRITE, &e);

    if (rc == 0)
        rc = coupons_load(book, NULL, true, &list, &e);
    coupon_list_free(&list);
    book_close(book);
    return rc;
}

static int open_and_save(void)
{
    struct book *book = NULL;
    int rc = book_open(&book, at.book, BOOK_WRITE, &e);

    if (rc == 0)
        rc = scratch_save(book, &e);
    book_close(book);
    return rc;
}

static int open_and_check(void)
{
    struct book *book = NULL;
    int rc = book_open(&book, at.book, BOOK_READ, &e);

    if (rc == 0)
        rc = book_check(book, ignore_line, NULL, &e);
    book_close(book);
    return rc;
}

static int open_and_copy(void)
{
    const char *to = scratch_file(&at, "copy.coldlap");
    struct book *book = NULL;
    int rc = book_open(&book, at.book, BOOK_READ, &e);

    if (rc == 0)
        rc = book_backup(book, to, &e);
    book_close(book);
    unlink(to);
    return rc;
}

static int (*const uses[])(void) = {open_and_load, open_and_save, open_and_check, open_and_copy};

/* A bad sector or a loose plug: every read in turn fails once. It is never called damage, which
 * would send the user back to an older book. */
START_TEST(a_read_that_fails_is_not_called_damage)
{
    long told = 0;

    scratch_book(&at, 8);
    put_reads_between();
    for (long n = 0; n == 0 || read_failed; n++) {
        int rc;

        e = (struct error){0};
        read_failed = false;
        reads_left = n;
        rc = uses[_i]();
        reads_left = -1;
        if (rc == 0)
            continue;
        ck_assert_msg(strstr(e.text, "the disk could not be read; try again") != NULL, "%s",
                      e.text);
        ck_assert(one_line(&e));
        ck_assert_int_eq(e.kind, ERROR_SYSTEM);
        told++;
    }
    ck_assert_int_gt(told, 5);
    scratch_sound(at.book);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/damage");
    TCase *t = tcase_create("damage");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 600);
    tcase_add_test(t, a_cut_book_is_refused_or_read_but_never_changed);
    tcase_add_test(t, rows_without_rules_never_crash_the_program);
    tcase_add_test(t, a_spoilt_book_never_crashes_the_program);
    tcase_add_loop_test(t, a_read_that_fails_is_not_called_damage, 0,
                        (int)(sizeof uses / sizeof uses[0]));
    suite_add_tcase(s, t);
    return s;
}
