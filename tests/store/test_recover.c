/* A new book of a damaged one: every page spoilt in turn, every row that comes back compared. */
#include "run.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/book.h"

enum { COUPONS = 120, PAGE = 4096 };

static struct scratch at;
static struct error e;
static const char *spoilt, *recovered;
static size_t told;

static void set_up(void)
{
    scratch_make(&at);
    e = (struct error){0};
    scratch_book(&at, COUPONS);
    spoilt = scratch_file(&at, "spoilt.coldlap");
    recovered = scratch_file(&at, "recovered.coldlap");
}

static void tear_down(void)
{
    scratch_remove(&at);
}

static void hear(void *context, const char *line)
{
    (void)context;
    ck_assert_ptr_null(strchr(line, '\n'));
    told++;
}

static void recover(void)
{
    told = 0;
    unlink(recovered);
    ck_assert_msg(book_recover(spoilt, recovered, hear, NULL, &e) == 0, "%s", e.text);
}

/* Rows of the table that are in one of the two books and not in the other. */
static long only_in(const char *one, const char *other, const char *table)
{
    char *select =
        mem_format("SELECT count(*) FROM (SELECT * FROM %s.%s EXCEPT SELECT * FROM %s.%s)", one,
                   table, other, table);
    sqlite3_stmt *q = NULL;
    sqlite3 *db;
    char *attach = mem_format("ATTACH '%s' AS r", recovered);
    long count;

    ck_assert_int_eq(sqlite3_open(at.book, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, attach, NULL, NULL, NULL), SQLITE_OK);
    ck_assert_msg(sqlite3_prepare_v2(db, select, -1, &q, NULL) == SQLITE_OK, "%s: %s", select,
                  sqlite3_errmsg(db));
    ck_assert_int_eq(sqlite3_step(q), SQLITE_ROW);
    count = (long)sqlite3_column_int64(q, 0);
    sqlite3_finalize(q);
    sqlite3_close(db);
    free(attach);
    free(select);
    return count;
}

static const char *const tables[] = {"variable", "coupon", "value", "pass",   "bend",
                                     "face",     "flaw",   "photo", "change", "touched"};
enum { TABLES = sizeof tables / sizeof *tables };

/* Rows of the table that did not come back, once it is sure that no other ones did. */
static long lost_rows(const char *table)
{
    long other = only_in("r", "main", table);
    long lost = only_in("main", "r", table);

    if (strcmp(table, "coupon") == 0)
        other -= scratch_count(recovered, "SELECT count(*) FROM coupon WHERE mark GLOB 'lost *'");
    else if (strcmp(table, "variable") == 0)
        other -= scratch_count(recovered, "SELECT count(*) FROM variable WHERE key GLOB 'lost_*'");
    else if (strcmp(table, "change") == 0)
        other -= scratch_count(recovered, "SELECT count(*) FROM change WHERE what = 'lost'");
    else if (strcmp(table, "face") == 0)
        other -= scratch_count(recovered, "SELECT count(*) FROM face WHERE bead_mm IS NULL");
    ck_assert_int_eq(other, 0);
    return lost;
}

static void faults_are_told(void *ctx, const char *line)
{
    if (strstr(line, "the journal has no earlier state") == NULL &&
        strstr(line, " lost_") == NULL) {
        fprintf(stderr, "%s\n", line);
        ++*(int *)ctx;
    }
}

static void is_in_order(void)
{
    struct book *book = scratch_open(recovered, BOOK_READ);
    int faults = 0;

    book_check(book, faults_are_told, &faults, &e);
    ck_assert_int_eq(faults, 0);
    book_close(book);
}

START_TEST(of_a_whole_book_everything_comes_back)
{
    struct bytes before = scratch_read(at.book);

    scratch_write(spoilt, before.data, before.size);
    recover();
    ck_assert_uint_eq(told, 0);
    for (size_t i = 0; i < TABLES; i++)
        ck_assert_int_eq(lost_rows(tables[i]), 0);
    scratch_sound(recovered);
    ck_assert(scratch_same_bytes(before, scratch_read(spoilt)));
}
END_TEST

/* Of the table the page belongs to at most the rows of the page are lost, of the others none. Where
 * the page said which tables there are, these are lost. */
static void judge(long page)
{
    char *sql = mem_format("SELECT name FROM dbstat WHERE pageno = %ld", page);
    char *name = scratch_text(at.book, sql), *type;
    long cells;

    free(sql);
    sql = mem_format("SELECT pagetype FROM dbstat WHERE pageno = %ld", page);
    type = scratch_text(at.book, sql);
    free(sql);
    sql = mem_format("SELECT ncell FROM dbstat WHERE pageno = %ld", page);
    cells = scratch_count(at.book, sql);
    for (size_t i = 0; type != NULL && strcmp(type, "leaf") == 0 && i < TABLES; i++) {
        long lost = lost_rows(tables[i]);

        ck_assert_msg(strcmp(name, "sqlite_schema") == 0 ||
                          lost <= (strcmp(tables[i], name) == 0 ? cells : 0),
                      "page %ld of %s with %ld rows: %ld lost of %s", page, name, cells, lost,
                      tables[i]);
        ck_assert(lost == 0 || told > 0);
    }
    free(name);
    free(type);
    free(sql);
}

START_TEST(what_a_spoilt_page_did_not_hold_comes_back)
{
    struct bytes book = scratch_read(at.book);
    long pages = (long)book.size / PAGE, tried = 0;

    srand(test_seed(31));
    for (long page = 2 + _i; page <= pages; page += 6) {
        struct bytes now = scratch_read(at.book);

        for (size_t k = 0; k < PAGE; k++)
            now.data[(size_t)(page - 1) * PAGE + k] = _i % 2 == 0 ? 0 : (unsigned char)rand();
        scratch_write(spoilt, now.data, now.size);
        recover();
        judge(page);
        is_in_order();
        tried++;
        ck_assert(scratch_same_bytes(now, scratch_read(spoilt)));
    }
    ck_assert_int_gt(tried, 5);
    free(book.data);
}
END_TEST

START_TEST(what_is_there_already_is_not_replaced)
{
    scratch_write(recovered, "mine", 4);
    ck_assert_int_lt(book_recover(at.book, recovered, hear, NULL, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "there is such a file already"));
    ck_assert_int_eq(scratch_size(recovered), 4);
    unlink(recovered);
    ck_assert_int_lt(book_recover(scratch_file(&at, "nowhere"), recovered, hear, NULL, &e), 0);
    ck_assert(one_line(&e) && access(recovered, F_OK) != 0);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/recover");
    TCase *t = tcase_create("recover");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 300);
    tcase_add_test(t, of_a_whole_book_everything_comes_back);
    tcase_add_loop_test(t, what_a_spoilt_page_did_not_hold_comes_back, 0, 6);
    tcase_add_test(t, what_is_there_already_is_not_replaced);
    suite_add_tcase(s, t);
    return s;
}
