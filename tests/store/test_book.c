/* Opening: what is taken, what is refused, and that a refused file stays as it was. */
#include "run.h"

#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/query.h"
#include "store/settings.h"

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

static bool exists(const char *path)
{
    return access(path, F_OK) == 0;
}

/* In a process of its own, as a user whom permissions stop (root they do not). */
static void as_nobody(void (*act)(void))
{
    pid_t child = fork();
    int status = 0;

    ck_assert_int_ge(child, 0);
    if (child == 0) {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
            _exit(99);
        act();
        _exit(0);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "status %d", status);
}

/* ck_assert in a forked child would be lost: it says what is wrong and leaves with 1. */
static void expect(bool right, const char *what)
{
    if (right)
        return;
    fprintf(stderr, "%s: %s\n", what, e.text);
    _exit(1);
}

START_TEST(a_book_is_made_with_its_folders)
{
    const char *path = scratch_file(&at, "a/b/c/bench 1.coldlap");
    struct book *book;

    scratch_refused(path, BOOK_READ, "there is no such book");
    scratch_refused(path, BOOK_WRITE, "there is no such book");
    ck_assert(!exists(scratch_file(&at, "a")));
    book = scratch_open(path, BOOK_CREATE);
    ck_assert_str_eq(book_path(book), path);
    ck_assert_ptr_null(book_read_only(book));
    book_close(book);
    book_close(NULL);
    ck_assert_int_eq(scratch_count(path, "PRAGMA application_id"), 0x636f6c64);
    ck_assert_int_eq(scratch_count(path, "PRAGMA user_version"), 2);
    book_close(scratch_open(path, BOOK_READ));
    book_close(scratch_open(path, BOOK_WRITE));
}
END_TEST

START_TEST(a_book_is_kept_safely)
{
    struct book *book = scratch_open(at.book, BOOK_CREATE);
    char *mode;

    book_close(book);
    mode = scratch_text(at.book, "PRAGMA journal_mode");
    ck_assert_str_eq(mode, "wal");
    free(mode);
    ck_assert(!exists(scratch_file(&at, "b.coldlap-wal")));
    ck_assert(!exists(scratch_file(&at, "b.coldlap-shm")));
}
END_TEST

START_TEST(an_empty_file_becomes_a_book_only_when_asked)
{
    scratch_write(at.book, "", 0);
    scratch_refused(at.book, BOOK_READ, "the file is empty, it is not a book yet");
    scratch_refused(at.book, BOOK_WRITE, "the file is empty, it is not a book yet");
    ck_assert_int_eq(scratch_size(at.book), 0);
    book_close(scratch_open(at.book, BOOK_CREATE));
    book_close(scratch_open(at.book, BOOK_WRITE));
}
END_TEST

/* SQLite itself would delete the -wal file of an empty book, and with it what it holds. */
START_TEST(what_is_left_of_a_lost_book_is_not_thrown_away)
{
    const char *wal = scratch_file(&at, "b.coldlap-wal");

    scratch_write(wal, "some pages", 10);
    scratch_refused(at.book, BOOK_CREATE, "holds changes that belong to it");
    scratch_write(at.book, "", 0);
    scratch_refused(at.book, BOOK_CREATE, "holds changes that belong to it");
    ck_assert_int_eq(scratch_size(wal), 10);
}
END_TEST

static void refused_and_untouched(const char *words)
{
    for (int mode = BOOK_READ; mode <= BOOK_CREATE; mode++) {
        struct bytes before = scratch_read(at.book);

        scratch_refused(at.book, (enum book_mode)mode, words);
        ck_assert(scratch_same_bytes(before, scratch_read(at.book)));
        ck_assert(!exists(scratch_file(&at, "b.coldlap-wal")));
        ck_assert(!exists(scratch_file(&at, "b.coldlap-shm")));
        ck_assert(!exists(scratch_file(&at, "b.coldlap-journal")));
    }
}

START_TEST(files_that_are_no_book_are_refused)
{
    char noise[8192];

    for (size_t i = 0; i < sizeof noise; i++)
        noise[i] = (char)(i * 2654435761U >> 13);
    scratch_write(at.book, noise, sizeof noise);
    refused_and_untouched("this is not a coldlap book");
    scratch_write(at.book, "x", 1);
    refused_and_untouched("this is not a coldlap book");
    scratch_write(at.book, "mark,bend_angle\n01,90\n", 22);
    refused_and_untouched("this is not a coldlap book");
    scratch_write(at.book, "SQLite format 3", 16);
    refused_and_untouched("the file is cut short");
}
END_TEST

START_TEST(databases_of_others_are_refused)
{
    scratch_sql(at.book, "CREATE TABLE coupon (id TEXT); PRAGMA user_version = 1");
    refused_and_untouched("this is the database of another program");
    scratch_sql(at.book, "PRAGMA journal_mode = WAL");
    refused_and_untouched("this is the database of another program");
}
END_TEST

/* What others have done to the schema, and what is said of it. */
static const struct {
    const char *sql, *words;
} strangers[] = {
    {"CREATE TRIGGER t AFTER INSERT ON value BEGIN UPDATE value SET low = 1, high = 1; END",
     "another program has added or changed the trigger t;"},
    {"DROP TABLE photo; CREATE VIEW photo AS WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i"
     " FROM n) SELECT i AS coupon_id, 1 AS number, 'a' AS path, '' AS sha256, '' AS note FROM n",
     "added or changed the view photo;"},
    {"CREATE TABLE extra (a)", "added or changed the table extra;"},
    {"CREATE UNIQUE INDEX one ON coupon (who)", "added or changed the index one;"},
    {"ALTER TABLE pass RENAME COLUMN volts TO Volts", "added or changed the table pass;"},
    {"ALTER TABLE pass ADD COLUMN \"a\"\"'b\" TEXT", "added or changed the table pass;"},
    {"DROP TRIGGER coupon_stays", "taken away the trigger coupon_stays;"},
    {"DROP TABLE calibration", "taken away the table calibration;"},
    {"DROP INDEX coupon_trial; CREATE INDEX coupon_trial ON coupon (who)",
     "added or changed the index coupon_trial;"},
    {"CREATE VIEW \"a\nb\033[31m\" AS SELECT 1", "added or changed the view of an odd name;"},
    {"PRAGMA writable_schema = ON; INSERT INTO sqlite_schema VALUES ('trigger', 'sqlite_stat1',"
     " 'coupon', 0, 'CREATE TRIGGER sqlite_stat1 AFTER INSERT ON coupon BEGIN SELECT 1; END')",
     "added or changed the trigger sqlite_stat1;"},
    {"ANALYZE", NULL},
};

START_TEST(a_schema_others_have_changed_is_refused)
{
    scratch_book(&at, 1);
    scratch_sql(at.book, strangers[_i].sql);
    if (strangers[_i].words != NULL)
        refused_and_untouched(strangers[_i].words);
    else
        scratch_sound(at.book);
}
END_TEST

/* The screens hold signals back; a query that does not end must see them. */
START_TEST(a_query_without_end_is_stopped_by_a_signal)
{
    static const int numbers[] = {SIGINT, SIGTERM, SIGHUP};
    struct book *book = scratch_open(at.book, BOOK_CREATE);
    sigset_t held;
    int64_t n;

    sigemptyset(&held);
    sigaddset(&held, numbers[_i]);
    sigprocmask(SIG_BLOCK, &held, NULL);
    raise(numbers[_i]);
    ck_assert_int_lt(query_number(book,
                                  "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i FROM n)"
                                  " SELECT count(*) FROM n",
                                  NULL, &n, &e),
                     0);
    ck_assert_msg(strstr(e.text, "a signal has stopped") != NULL && one_line(&e), "%s", e.text);
    ck_assert_int_eq(scratch_save(book, &e), 0); /* what is short is still done */
    book_close(book);
}
END_TEST

START_TEST(a_newer_book_is_refused)
{
    scratch_book(&at, 1);
    scratch_sql(at.book, "PRAGMA user_version = 3");
    refused_and_untouched("made by a newer coldlap (its schema is 3, this coldlap knows up to 2)");
}
END_TEST

/* The newer program crashed: its number stands in the -wal file only, which has to stay, too. */
START_TEST(a_newer_book_that_crashed_is_refused)
{
    const char *wal = scratch_file(&at, "b.coldlap-wal");
    struct bytes before, beside;
    pid_t child;

    scratch_book(&at, 1);
    child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        sqlite3 *newer;

        expect(sqlite3_open(at.book, &newer) == SQLITE_OK &&
                   sqlite3_exec(newer, "PRAGMA user_version = 3", NULL, NULL, NULL) == SQLITE_OK,
               "writes");
        kill(getpid(), SIGKILL);
    }
    ck_assert_int_eq(waitpid(child, NULL, 0), child);
    before = scratch_read(at.book);
    beside = scratch_read(wal);
    ck_assert_uint_gt(beside.size, 0);
    scratch_refused(at.book, BOOK_WRITE, "made by a newer coldlap (its schema is 3");
    ck_assert(scratch_same_bytes(before, scratch_read(at.book)));
    ck_assert(scratch_same_bytes(beside, scratch_read(wal)));
}
END_TEST

START_TEST(things_that_are_no_files_are_refused)
{
    const char *pipe = scratch_file(&at, "pipe"), *loop = scratch_file(&at, "loop");

    scratch_refused(at.dir, BOOK_WRITE, "this is a folder, not a book");
    scratch_refused(at.dir, BOOK_CREATE, "this is a folder, not a book");
    ck_assert_int_eq(mkfifo(pipe, 0600), 0);
    scratch_refused(pipe, BOOK_READ, "this is not a file");
    ck_assert_int_eq(symlink(loop, loop), 0);
    scratch_refused(loop, BOOK_CREATE, "Too many levels of symbolic links");
    scratch_refused("", BOOK_CREATE, "needs a file name");
    scratch_write(at.book, "x", 1);
    scratch_refused(scratch_file(&at, "b.coldlap/c"), BOOK_CREATE, "Not a directory");
}
END_TEST

START_TEST(a_symbolic_link_leads_to_the_book)
{
    const char *link = scratch_file(&at, "link.coldlap");
    struct book *here, *there;
    struct coupon c;

    scratch_book(&at, 1);
    ck_assert_int_eq(symlink("b.coldlap", link), 0);
    here = scratch_open(link, BOOK_WRITE);
    there = scratch_open(at.book, BOOK_WRITE);
    coupon_init(&c);
    ck_assert_int_eq(coupon_save(here, &c, &e), 0);
    coupon_free(&c);
    ck_assert_int_eq(coupon_load(there, NULL, "02", &c, &e), 0);
    coupon_free(&c);
    ck_assert(!exists(scratch_file(&at, "link.coldlap-wal")));
    ck_assert(exists(scratch_file(&at, "b.coldlap-wal")));
    book_close(here);
    book_close(there);
}
END_TEST

START_TEST(odd_names_are_names_of_files)
{
    static const char *const names[] = {":memory:", "file:x?mode=memory", "a%20b?c#d.coldlap",
                                        "åé°"};

    ck_assert_int_eq(chdir(at.dir), 0);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        book_close(scratch_open(names[i], BOOK_CREATE));
        ck_assert_msg(exists(names[i]), "%s", names[i]);
    }
    ck_assert_int_eq(chdir("/"), 0);
}
END_TEST

static void reads_but_does_not_write(const char *words)
{
    char *copy = mem_format("%s-copy", at.dir);
    struct book *book;
    struct coupon_list list = {0};
    struct coupon c;

    expect(book_open(&book, at.book, BOOK_WRITE, &e) == 0, "opens");
    expect(book_read_only(book) != NULL && strcmp(book_read_only(book), words) == 0, "says why");
    expect(coupons_load(book, NULL, false, &list, &e) == 0 && list.count == 2, "reads");
    coupon_init(&c);
    expect(coupon_save(book, &c, &e) < 0, "does not save");
    expect(strstr(e.text, words) != NULL && one_line(&e), words);
    expect(strstr(e.text, "nothing of this was stored") != NULL, "says that nothing was stored");
    expect(book_begin(book, &e) < 0, "does not begin");
    expect(coupon_strike(book, &list.items[0], "x", &e) < 0, "does not strike");
    expect(setting_set(book, "units", "inch", &e) < 0, "does not set");
    expect(book_backup(book, copy, &e) == 0, "is copied");
    expect(scratch_count(copy, "SELECT count(*) FROM coupon") == 2, "is copied whole");
    unlink(copy);
    free(copy);
    coupon_list_free(&list);
    book_close(book);
}

static void read_only_file(void)
{
    reads_but_does_not_write("the file can only be read");
}

static void read_only_folder(void)
{
    reads_but_does_not_write("its folder can only be read");
}

START_TEST(a_read_only_file_opens_for_reading)
{
    scratch_book(&at, 2);
    chmod(at.dir, 0777);
    chmod(at.book, 0444);
    as_nobody(read_only_file);
}
END_TEST

START_TEST(a_book_in_a_read_only_folder_opens_for_reading)
{
    scratch_book(&at, 2);
    chmod(at.book, 0666);
    chmod(at.dir, 0555);
    as_nobody(read_only_folder);
    chmod(at.dir, 0755);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM coupon"), 2);
}
END_TEST

/* As a backup is: it is opened without a file beside it, and would only fail when something is
 * stored. */
START_TEST(a_book_without_wal_in_a_read_only_folder_is_known_to_be_read_only)
{
    scratch_book(&at, 2);
    ck_assert_int_eq(scratch_sql(at.book, "PRAGMA journal_mode = DELETE"), SQLITE_OK);
    chmod(at.book, 0666);
    chmod(at.dir, 0555);
    as_nobody(read_only_folder);
}
END_TEST

static void looks(void)
{
    book_close(scratch_open(at.book, BOOK_READ));
}

static void saves(void)
{
    struct book *book = scratch_open(at.book, BOOK_WRITE);

    expect(scratch_save(book, &e) == 0, "saves");
    book_close(book);
}

/* SQLite makes its files beside a book with the book's permissions, but does not follow a change.
 */
START_TEST(the_files_beside_a_book_have_its_permissions)
{
    const char *wal = scratch_file(&at, "b.coldlap-wal");
    struct book *open;
    struct stat is;

    scratch_book(&at, 1);
    open = scratch_open(at.book, BOOK_WRITE);
    ck_assert_int_eq(scratch_save(open, &e), 0);
    chmod(at.book, 0600);
    book_close(scratch_open(at.book, BOOK_WRITE));
    ck_assert_int_eq(stat(wal, &is), 0);
    ck_assert_uint_eq(is.st_mode & 0777, 0600);
    book_close(open);
    if (geteuid() != 0)
        return; /* the rest needs an owner who is stopped by permissions */
    chmod(at.dir, 0777);
    ck_assert_int_eq(chown(at.book, 65534, 65534), 0);
    chmod(at.book, 0400);
    as_nobody(looks);
    chmod(at.book, 0600);
    as_nobody(saves);
}
END_TEST

static void crashed_in_read_only_folder(void)
{
    struct book *book;

    expect(book_open(&book, at.book, BOOK_READ, &e) < 0, "is refused");
    expect(strstr(e.text, "was not closed properly, and its folder can only be read") != NULL &&
               one_line(&e),
           "says why");
}

/* What the -wal file holds cannot be read there, and must not be passed over in silence. */
START_TEST(a_crashed_book_in_a_read_only_folder_is_not_half_read)
{
    sqlite3 *open;
    struct bytes wal;
    const char *name = scratch_file(&at, "b.coldlap-wal");

    scratch_book(&at, 2);
    ck_assert_int_eq(sqlite3_open(at.book, &open), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(open, "UPDATE coupon SET note = 'newest'", NULL, NULL, NULL), 0);
    wal = scratch_read(name);
    sqlite3_close(open);
    scratch_write(name, wal.data, wal.size);
    chmod(name, 0666);
    chmod(at.book, 0666);
    chmod(at.dir, 0555);
    as_nobody(crashed_in_read_only_folder);
    free(wal.data);
}
END_TEST

static void unreadable(void)
{
    struct book *book;

    expect(book_open(&book, at.book, BOOK_READ, &e) < 0, "is refused");
    expect(strstr(e.text, "Permission denied") != NULL && one_line(&e), "says why");
}

static void cannot_be_made(void)
{
    struct book *book;

    expect(book_open(&book, at.book, BOOK_CREATE, &e) < 0, "is refused");
    expect(strstr(e.text, "Permission denied") != NULL && one_line(&e), "says why");
    expect(book_open(&book, scratch_file(&at, "d/e.coldlap"), BOOK_CREATE, &e) < 0, "is refused");
    expect(strstr(e.text, "the folder cannot be made: Permission denied") != NULL, "says why");
}

START_TEST(permissions_are_named)
{
    scratch_book(&at, 1);
    chmod(at.dir, 0755);
    chmod(at.book, 0);
    as_nobody(unreadable);
    chmod(at.dir, 0);
    as_nobody(unreadable);
    chmod(at.dir, 0755);
    unlink(at.book);
    chmod(at.dir, 0555);
    as_nobody(cannot_be_made);
}
END_TEST

START_TEST(reading_mode_writes_nothing)
{
    struct bytes before;
    struct book *book;
    struct coupon c;

    scratch_book(&at, 1);
    before = scratch_read(at.book);
    book = scratch_open(at.book, BOOK_READ);
    coupon_init(&c);
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "it was opened for reading"));
    book_close(book);
    ck_assert(scratch_same_bytes(before, scratch_read(at.book)));
    ck_assert(!exists(scratch_file(&at, "b.coldlap-wal")));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/book");
    TCase *t = tcase_create("book");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 120);
    tcase_add_test(t, a_book_is_made_with_its_folders);
    tcase_add_test(t, a_book_is_kept_safely);
    tcase_add_test(t, an_empty_file_becomes_a_book_only_when_asked);
    tcase_add_test(t, what_is_left_of_a_lost_book_is_not_thrown_away);
    tcase_add_test(t, files_that_are_no_book_are_refused);
    tcase_add_test(t, databases_of_others_are_refused);
    tcase_add_loop_test(t, a_schema_others_have_changed_is_refused, 0,
                        (int)(sizeof strangers / sizeof strangers[0]));
    tcase_add_loop_test(t, a_query_without_end_is_stopped_by_a_signal, 0, 3);
    tcase_add_test(t, a_newer_book_is_refused);
    tcase_add_test(t, a_newer_book_that_crashed_is_refused);
    tcase_add_test(t, things_that_are_no_files_are_refused);
    tcase_add_test(t, a_symbolic_link_leads_to_the_book);
    tcase_add_test(t, odd_names_are_names_of_files);
    tcase_add_test(t, a_read_only_file_opens_for_reading);
    tcase_add_test(t, a_book_in_a_read_only_folder_opens_for_reading);
    tcase_add_test(t, a_book_without_wal_in_a_read_only_folder_is_known_to_be_read_only);
    tcase_add_test(t, the_files_beside_a_book_have_its_permissions);
    tcase_add_test(t, a_crashed_book_in_a_read_only_folder_is_not_half_read);
    tcase_add_test(t, permissions_are_named);
    tcase_add_test(t, reading_mode_writes_nothing);
    suite_add_tcase(s, t);
    return s;
}
