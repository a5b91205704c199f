/* Looking a book over, and copying it. */
#include "run.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"
#include "scratch.h"
#include "store/coupons.h"
#include "store/trials.h"

static struct scratch at;
static struct error e;

static void set_up(void)
{
    struct book *book;

    scratch_make(&at);
    e = (struct error){0};
    book = scratch_open(at.book, BOOK_CREATE);
    for (int i = 0; i < 3; i++) {
        struct coupon c;

        scratch_coupon(&c);
        ck_assert_int_eq(coupon_save(book, &c, &e), 0);
        free(c.note);
        c.note = mem_copy("changed");
        ck_assert_int_eq(coupon_save(book, &c, &e), 0);
        coupon_free(&c);
    }
    book_close(book);
}

static void tear_down(void)
{
    scratch_remove(&at);
}

static void gather(void *ctx, const char *line)
{
    text_addf(ctx, "%s\n", line);
}

/* What book_check() says; "" when it finds nothing. */
static char *faults(void)
{
    struct book *book = scratch_open(at.book, BOOK_READ);
    struct text all = {0};
    int result = book_check(book, gather, &all, &e);

    ck_assert_int_eq(result<0, all.length> 0);
    book_close(book);
    text_add(&all, "");
    return text_steal(&all);
}

START_TEST(a_sound_book_has_no_faults)
{
    char *all = faults();

    ck_assert_str_eq(all, "");
    free(all);
}
END_TEST

/* Faults that only another program can have made, each with the line that tells it. */
static const struct {
    const char *sql, *line;
} made[] = {
    {"DELETE FROM pass WHERE number = 2 AND coupon_id = (SELECT id FROM coupon WHERE mark = '02')",
     "coupon 02: its 2 passes are not numbered 1, 2, 3 …; the last is number 3\n"},
    {"UPDATE flaw SET to_mm = 101 WHERE number = 2 AND coupon_id ="
     " (SELECT id FROM coupon WHERE mark = '03')",
     "coupon 03: flaw 2 ends at 101.0 mm, the bead at 100.0 mm\n"},
    {"INSERT INTO variable (id, key) VALUES (99, 'phase'); INSERT INTO value SELECT id, 99, 1, "
     "NULL,"
     " NULL, NULL FROM coupon WHERE mark = '01'",
     "coupon 01: it has a value of phase, which is no variable of this book\n"},
    {"UPDATE value SET words = 'thick', low = NULL WHERE variable_id = (SELECT id FROM variable"
     " WHERE key = 'thickness') AND coupon_id = 1",
     "coupon 01: its value of thickness is words, not a number\n"},
    {"UPDATE value SET low = 400 WHERE variable_id = (SELECT id FROM variable WHERE key ="
     " 'bend_angle') AND coupon_id = 2",
     "coupon 02: bend_angle: "},
    {"DROP TRIGGER touched_stays; DELETE FROM touched WHERE kind = 'coupon' AND id = 2;"
     " CREATE TRIGGER touched_stays BEFORE DELETE ON touched\nBEGIN\n    SELECT RAISE(ABORT,"
     " 'the journal is never shortened');\nEND",
     "coupon 02: it was changed, and the journal has no earlier state of it\n"},
    {"UPDATE coupon SET uuid = (SELECT uuid FROM coupon WHERE mark = '01') WHERE mark = '03'",
     "the coupons 01, 03 bear the same id\n"},
    {"UPDATE coupon SET when_offset_min = 2000 WHERE mark = '03'",
     "coupon 03: its time is 2000 min off UTC"},
    {"UPDATE coupon SET when_utc_ms = 32472144000000 WHERE mark = '02'",
     "coupon 02: welded on 2999-01-01 cannot be: 1950-01-01 to "},
    {"UPDATE coupon SET when_utc_ms = -631152000001, when_offset_min = 0 WHERE mark = '03'",
     "coupon 03: welded on 1949-12-31 cannot be: 1950-01-01 to "},
    {"UPDATE coupon SET when_utc_ms = 9223372036854775807 WHERE mark = '01'",
     "coupon 01: welded on 292278994-08-17 cannot be: "},
    {"UPDATE touched SET state = '{half' WHERE change_id = 4 AND kind = 'coupon'",
     "change 4: the earlier state of coupon 2 cannot be read\n"},
    {"PRAGMA foreign_keys = OFF; INSERT INTO photo VALUES (77, 1, 'a', NULL, NULL)",
     "a row of the table photo belongs to a row of coupon that is not there\n"},
    {"INSERT INTO trial (uuid, revision, name, result, when_utc_ms, when_offset_min) VALUES"
     " ('019cc866-e728-7000-8c18-7f42f7d25df4', 1, 'odd', 'phase', 0, 0)",
     "trial odd: it names phase, which is no variable of this book\n"},
    {"PRAGMA ignore_check_constraints = ON; UPDATE pass SET side = 9 WHERE number = 1",
     "the file: CHECK constraint failed in pass\n"},
    {"UPDATE coupon SET note = 'a' || char(13, 10) || char(27) || 'c' WHERE mark = '02'",
     "coupon 02: the column note holds a control character (U+001B)\n"},
    {"UPDATE coupon SET who = 'a' || char(155) WHERE mark = '01'",
     "coupon 01: the column who holds a control character (U+009B)\n"},
    {"UPDATE value SET words = '5 mm' || CAST(x'ff' AS TEXT) WHERE variable_id = (SELECT id FROM"
     " variable WHERE key = 'thickness') AND coupon_id = 3",
     "coupon 03, value of thickness: the column words holds the byte 0xff, which is not UTF-8 "
     "text\n"},
};

#define ODD_TRIAL                                                                                  \
    "INSERT INTO trial (id, uuid, revision, name, when_utc_ms, when_offset_min) VALUES"            \
    " (7, '019cc866-e728-7000-8c18-7f42f7d25df4', 1, 'odd', 0, 0);"
#define BAD " = 'a' || char(27)"
#define NO_CHECKS "PRAGMA ignore_check_constraints = ON;"

/* A control character in a column of each table, and whose it is. */
static const struct {
    const char *sql, *line;
} texts[] = {
    {"UPDATE coupon SET struck_why" BAD " , struck_utc_ms = 1, struck_offset_min = 0"
     " WHERE mark = '01'",
     "coupon 01: the column struck_why "},
    {"UPDATE value SET words" BAD " WHERE variable_id = (SELECT id FROM variable WHERE key ="
     " 'joint')",
     "coupon 02, value of joint: the column words "},
    {NO_CHECKS "UPDATE bend SET direction" BAD, "coupon 03, bend: the column direction "},
    {"UPDATE flaw SET note" BAD, "coupon 01, flaw 2: the column note "},
    {"UPDATE photo SET path" BAD, "coupon 02, photograph 1: the column path "},
    {ODD_TRIAL "UPDATE trial SET question" BAD, "trial odd: the column question "},
    {ODD_TRIAL "INSERT INTO trial_variable SELECT id, 4, 'a' || char(27) FROM trial",
     "trial odd, variable 4: the column variable "},
    {ODD_TRIAL "INSERT INTO trial_variable SELECT id, 1, 'volts' FROM trial;"
               "INSERT INTO trial_level SELECT id, 'volts', 1, 'a' || char(27) FROM trial",
     "trial odd, level of volts: the column level "},
    {"INSERT INTO variable (id, key) VALUES (99, 'phase');"
     "INSERT INTO own_variable (id, revision, place, label, role, kind, choices_only, scale, help,"
     " when_utc_ms, when_offset_min) VALUES (99, 1, 1, 'Phase', 'set', 'category', 0, 0,"
     " 'a' || char(27), 0, 0)",
     "variable phase: the column help "},
    {"INSERT INTO setting (key, revision, value) VALUES ('welder', 1, 'a' || char(27))",
     "setting welder: the column value "},
    {"INSERT INTO calibration VALUES (7, '019cc866-e728-7000-8c18-7f42f7d25df4', 'MIG', 1, 1, 0, 0,"
     " 'a' || char(27), NULL, NULL, NULL)",
     "machine MIG: the column note "},
    {"PRAGMA foreign_keys = OFF; INSERT INTO photo VALUES (77, 1, 'a' || char(27), NULL, NULL)",
     "a row of the table photo: the column path "},
};

START_TEST(a_text_with_a_control_character_is_found_in_every_table)
{
    char *all, *line = mem_format("%sholds a control character (U+001B)\n", texts[_i].line);

    ck_assert_int_eq(scratch_sql(at.book, texts[_i].sql), SQLITE_OK);
    all = faults();
    ck_assert_msg(strstr(all, line) != NULL, "%s", all);
    free(line);
    free(all);
}
END_TEST

START_TEST(a_fault_is_told_in_one_line)
{
    char *all;

    ck_assert_int_eq(scratch_sql(at.book, made[_i].sql), SQLITE_OK);
    all = faults();
    ck_assert_msg(strstr(all, made[_i].line) != NULL, "%s", all);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_ptr_nonnull(strstr(e.text, "found"));
    free(all);
}
END_TEST

/* One page in the middle is overwritten: found here, whatever is read afterwards. */
START_TEST(a_spoilt_page_is_found)
{
    struct bytes whole;
    size_t found = 0, pages;

    /* of a page that is free nothing can be missing */
    ck_assert_int_eq(scratch_sql(at.book, "VACUUM"), SQLITE_OK);
    whole = scratch_read(at.book);
    pages = whole.size / 4096;

    for (size_t page = 1; page < pages; page++) {
        unsigned char was[64];
        struct book *book = NULL;
        struct text all = {0};

        memcpy(was, whole.data + page * 4096, sizeof was);
        memset(whole.data + page * 4096, 0xa5, sizeof was);
        scratch_write(at.book, whole.data, whole.size);
        memcpy(whole.data + page * 4096, was, sizeof was);
        if (book_open(&book, at.book, BOOK_WRITE, &e) < 0 ||
            book_check(book, gather, &all, &e) < 0) {
            ck_assert_msg(one_line(&e), "%s", e.text);
            found++;
        }
        book_close(book);
        text_free(&all);
    }
    ck_assert_uint_eq(found, pages - 1);
    free(whole.data);
}
END_TEST

START_TEST(a_backup_is_whole_and_never_overwrites)
{
    const char *to = scratch_file(&at, "copy of b.coldlap"), *dir = scratch_file(&at, "no/copy");
    struct book *book = scratch_open(at.book, BOOK_WRITE), *copy;
    struct coupon c, got;

    scratch_coupon(&c);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0); /* stands in the -wal file only */
    ck_assert_msg(book_backup(book, to, &e) == 0, "%s", e.text);
    copy = scratch_open(to, BOOK_READ);
    ck_assert_int_eq(coupon_load(copy, NULL, "04", &got, &e), 0);
    scratch_same_coupon(&c, &got);
    coupon_free(&got);
    book_close(copy);
    copy = scratch_open(to, BOOK_WRITE);
    ck_assert_int_eq(book_check(copy, gather, NULL, &e), 0);
    book_close(copy);
    ck_assert_int_lt(book_backup(book, to, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "a backup never overwrites"));
    ck_assert_int_lt(book_backup(book, at.book, &e), 0);
    ck_assert_int_lt(book_backup(book, dir, &e), 0);
    ck_assert_msg(strstr(e.text, "the backup cannot be made") != NULL && one_line(&e), "%s",
                  e.text);
    ck_assert_int_eq(book_begin(book, &e), 0);
    ck_assert_int_lt(book_backup(book, scratch_file(&at, "other"), &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "in the middle of a change"));
    book_close(book);
    coupon_free(&c);
}
END_TEST

START_TEST(a_book_opened_for_reading_can_be_copied)
{
    const char *to = scratch_file(&at, "copy.coldlap");
    struct book *book = scratch_open(at.book, BOOK_READ);
    struct coupon c;

    ck_assert_msg(book_backup(book, to, &e) == 0, "%s", e.text);
    ck_assert_int_eq(scratch_count(to, "SELECT count(*) FROM coupon"), 3);
    coupon_init(&c);
    ck_assert_int_lt(coupon_save(book, &c, &e), 0);
    book_close(book);
}
END_TEST

/* The book's permissions, and what the umask takes away besides. */
static const struct {
    mode_t book, mask, copy;
} modes[] = {{0600, 022, 0600}, {0644, 022, 0644}, {0660, 007, 0660},
             {0664, 027, 0640}, {0400, 022, 0600}, {0644, 077, 0600}};

START_TEST(a_backup_is_as_private_as_its_book)
{
    const char *to = scratch_file(&at, "copy.coldlap");
    mode_t before = umask(modes[_i].mask);
    struct book *book;
    struct stat is;

    ck_assert_int_eq(chmod(at.book, modes[_i].book), 0);
    book = scratch_open(at.book, BOOK_READ);
    ck_assert_msg(book_backup(book, to, &e) == 0, "%s", e.text);
    book_close(book);
    umask(before);
    ck_assert_int_eq(stat(to, &is), 0);
    ck_assert_uint_eq(is.st_mode & 0777, modes[_i].copy);
}
END_TEST

static long writes_left; /* of SQLite, before the one at which the program is killed */

static ssize_t pwrite_or_die(int fd, const void *from, size_t size, off_t at_byte)
{
    if (writes_left-- == 0)
        kill(getpid(), SIGKILL);
    return pwrite(fd, from, size, at_byte);
}

static ssize_t write_or_die(int fd, const void *from, size_t size)
{
    if (writes_left-- == 0)
        kill(getpid(), SIGKILL);
    return write(fd, from, size);
}

/* True when the copy was finished before it came to that write. */
static bool copy_until_killed(const char *to, long writes)
{
    pid_t child = fork();
    int status;

    ck_assert_int_ge(child, 0);
    if (child == 0) {
        struct book *book = scratch_open(at.book, BOOK_READ);
        sqlite3_vfs *vfs = sqlite3_vfs_find(NULL);

        writes_left = writes;
        vfs->xSetSystemCall(vfs, "write", (sqlite3_syscall_ptr)write_or_die);
        vfs->xSetSystemCall(vfs, "pwrite", (sqlite3_syscall_ptr)pwrite_or_die);
        vfs->xSetSystemCall(vfs, "pwrite64", (sqlite3_syscall_ptr)pwrite_or_die);
        _exit(book_backup(book, to, &e) == 0 ? 0 : 1);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status) || WEXITSTATUS(status) == 0);
    return WIFEXITED(status);
}

static size_t files_of_the_copy(void)
{
    DIR *folder = opendir(at.dir);
    const struct dirent *entry;
    size_t count = 0;

    ck_assert_ptr_nonnull(folder);
    while ((entry = readdir(folder)) != NULL)
        count += strncmp(entry->d_name, "copy.coldlap", strlen("copy.coldlap")) == 0;
    closedir(folder);
    return count;
}

/* At each of its writes in turn: nothing has the name asked for, and the next copy clears up. */
START_TEST(a_killed_backup_leaves_no_half_copy)
{
    const char *to = scratch_file(&at, "copy.coldlap");
    long writes = 0;

    while (!copy_until_killed(to, writes)) {
        ck_assert_int_ne(access(to, F_OK), 0);
        ck_assert_uint_le(files_of_the_copy(), 2); /* with its journal; none of those before */
        writes++;
    }
    ck_assert_int_gt(writes, 5);
    ck_assert_int_eq(scratch_count(to, "SELECT count(*) FROM coupon"), 3);
    ck_assert_uint_eq(files_of_the_copy(), 1);
}
END_TEST

START_TEST(a_backup_leaves_the_unfinished_one_of_another_program_alone)
{
    static const char *const others[] = {"x.7.part", "coldlap-part", "d.7.coldlap-part"};
    const char *theirs = scratch_file(&at, "c.7.coldlap-part");
    struct book *book = scratch_open(at.book, BOOK_READ);
    int fd = open(theirs, O_RDWR | O_CREAT, 0600);

    ck_assert_int_ge(fd, 0);
    ck_assert_int_eq(flock(fd, LOCK_EX), 0);
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        scratch_write(scratch_file(&at, others[i]), "x", 1);
    ck_assert_msg(book_backup(book, scratch_file(&at, "copy.coldlap"), &e) == 0, "%s", e.text);
    ck_assert_int_eq(access(theirs, F_OK), 0);
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) /* the last one is unlocked */
        ck_assert_int_eq(access(scratch_file(&at, others[i]), F_OK), i < 2 ? 0 : -1);
    close(fd);
    book_close(book);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/check");
    TCase *t = tcase_create("check");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, a_sound_book_has_no_faults);
    tcase_add_loop_test(t, a_fault_is_told_in_one_line, 0, (int)(sizeof made / sizeof made[0]));
    tcase_add_loop_test(t, a_text_with_a_control_character_is_found_in_every_table, 0,
                        (int)(sizeof texts / sizeof texts[0]));
    tcase_add_test(t, a_spoilt_page_is_found);
    tcase_add_test(t, a_backup_is_whole_and_never_overwrites);
    tcase_add_test(t, a_book_opened_for_reading_can_be_copied);
    tcase_add_loop_test(t, a_backup_is_as_private_as_its_book, 0,
                        (int)(sizeof modes / sizeof modes[0]));
    tcase_add_test(t, a_killed_backup_leaves_no_half_copy);
    tcase_add_test(t, a_backup_leaves_the_unfinished_one_of_another_program_alone);
    suite_add_tcase(s, t);
    return s;
}
