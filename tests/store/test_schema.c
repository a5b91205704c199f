/* What the schema promises: comments with units, refusals, and that nothing is deleted. */
#include "run.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "scratch.h"
#include "store/schema.h"

static struct scratch at;

/* One row of everything, to be spoilt by one statement at a time. */
static const char rows[] =
    "INSERT INTO trial VALUES ('11111111-1111-7111-8111-111111111111', 1, 'thin', NULL, NULL, 135,"
    " 0, 0, NULL);"
    "INSERT INTO trial_variable VALUES ('11111111-1111-7111-8111-111111111111', 1, 'volts');"
    "INSERT INTO trial_level VALUES ('11111111-1111-7111-8111-111111111111', 'volts', 1, '17 V');"
    "INSERT INTO variable VALUES ('rust', 1, 'Rust', 'cause', 'number', 'share', NULL, 0, 100, "
    "NULL,"
    " NULL, NULL, 0, 0, NULL, 0, 0);"
    "INSERT INTO coupon (id, revision, sequence, trial_id, mark, when_utc_ms, when_offset_min)"
    " VALUES ('22222222-2222-7222-8222-222222222222', 1, 1,"
    " '11111111-1111-7111-8111-111111111111', '07', 0, 0);"
    "INSERT INTO value VALUES ('22222222-2222-7222-8222-222222222222', 'volts', 'exact', 17.5, "
    "17.5,"
    " NULL, NULL);"
    "INSERT INTO pass VALUES ('22222222-2222-7222-8222-222222222222', 1, 1, 20, 100, 17, 110, 3000,"
    " 20, NULL);"
    "INSERT INTO bend VALUES ('22222222-2222-7222-8222-222222222222', 'broke', 'root_opening', 90,"
    " 150, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL);"
    "INSERT INTO face VALUES ('22222222-2222-7222-8222-222222222222', 100, 1);"
    "INSERT INTO flaw VALUES ('22222222-2222-7222-8222-222222222222', 1, 0, 12, 4013, NULL);"
    "INSERT INTO photo VALUES ('22222222-2222-7222-8222-222222222222', 1, 'a.jpg', NULL, NULL);"
    "INSERT INTO setting VALUES ('units', 1, 'metric');"
    "INSERT INTO calibration VALUES ('33333333-3333-7333-8333-333333333333', 'MIG 200', 4.5, 5000,"
    " 0, 0, NULL, NULL, NULL, NULL);"
    "INSERT INTO history VALUES ('coupon', '22222222-2222-7222-8222-222222222222', 1, '{}', 0, 0);";

static void set_up(void)
{
    scratch_make(&at);
    book_close(scratch_open(at.book, BOOK_CREATE));
    ck_assert_int_eq(scratch_sql(at.book, rows), SQLITE_OK);
}

static void tear_down(void)
{
    scratch_remove(&at);
}

/* Statement, and the refusal's words. Each fits the type and breaks one rule. */
static const struct refused {
    const char *sql, *words;
} refusals[] = {
    {"UPDATE trial SET id = 'short'", "an id is 36 characters"},
    {"UPDATE trial SET name = ''", "a trial has a name"},
    {"UPDATE trial SET name = ' x'", "a trial has a name"},
    {"UPDATE trial SET name = 'a' || char(10) || 'b'", "a trial has a name on one line"},
    {"UPDATE trial SET stop_deg = 0", "the stop angle"},
    {"UPDATE trial SET stop_deg = 181", "the stop angle"},
    {"UPDATE trial SET stop_deg = 'flat'", "cannot store TEXT value in REAL column"},
    {"INSERT INTO trial VALUES ('11111111-1111-7111-8111-111111111112', 1, 'THIN', NULL, NULL, "
     "NULL,"
     " 0, 0, NULL)",
     "UNIQUE"},
    {"UPDATE variable SET key = 'Rust'", "small letters"},
    {"UPDATE variable SET key = '1rust'", "a letter first"},
    {"UPDATE variable SET role = 'effect'", "a cause or a result"},
    {"UPDATE variable SET role = 1", "a cause or a result"},
    {"UPDATE variable SET kind = 'colour'", "a number or a category"},
    {"UPDATE variable SET dimension = NULL", "a known dimension"},
    {"UPDATE variable SET dimension = 'taste'", "a known dimension"},
    {"UPDATE variable SET kind = 'category'", "a known dimension"},
    {"UPDATE variable SET least = 101", "the least value"},
    {"UPDATE variable SET choices_only = 2", "yes or no"},
    {"UPDATE variable SET scale = -1", "not negative"},
    {"UPDATE coupon SET id = ''", "an id is 36 characters"},
    {"UPDATE coupon SET mark = ''", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = '7 '", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = 'a' || char(9) || 'b'", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = NULL", "NOT NULL"},
    {"UPDATE coupon SET sequence = 'first'", "cannot store TEXT value in INTEGER column"},
    {"UPDATE coupon SET struck_why = 'bent'", "struck out with a reason and a time"},
    {"UPDATE coupon SET struck_utc_ms = 5, struck_offset_min = 0", "struck out with a reason"},
    {"UPDATE coupon SET struck_why = ' ', struck_utc_ms = 5, struck_offset_min = 0",
     "struck out with a reason"},
    {"UPDATE coupon SET trial_id = '11111111-1111-7111-8111-111111111119'", "FOREIGN KEY"},
    {"INSERT INTO coupon (id, revision, sequence, trial_id, mark, when_utc_ms, when_offset_min)"
     " VALUES ('22222222-2222-7222-8222-222222222223', 1, 2,"
     " '11111111-1111-7111-8111-111111111111', '07', 0, 0)",
     "UNIQUE"},
    {"INSERT INTO coupon (id, revision, sequence, mark, when_utc_ms, when_offset_min)"
     " VALUES ('22222222-2222-7222-8222-222222222223', 1, 1, '08', 0, 0)",
     "UNIQUE"},
    {"UPDATE value SET kind = 'about'", "a value is exact"},
    {"UPDATE value SET kind = 0", "a value is exact"},
    {"UPDATE value SET high = 18", "an exact value is one number"},
    {"UPDATE value SET low = NULL, high = NULL", "an exact value is one number"},
    {"UPDATE value SET kind = 'at_least'", "at least has a lower limit only"},
    {"UPDATE value SET kind = 'at_most'", "at most has an upper limit only"},
    {"UPDATE value SET kind = 'between'", "between has a lower limit"},
    {"UPDATE value SET kind = 'category', category = 'tee'", "a category is words"},
    {"UPDATE value SET category = 'tee'", "a category is words"},
    {"UPDATE value SET low = 9e999, high = 9e999", "a finite number"},
    {"UPDATE value SET coupon_id = '22222222-2222-7222-8222-222222222229'", "FOREIGN KEY"},
    {"UPDATE pass SET number = 0", "numbered from 1"},
    {"UPDATE pass SET side = 3", "side 1 or 2"},
    {"UPDATE pass SET arc_s = -1", "the arc time"},
    {"UPDATE pass SET length_mm = -1", "the length of a pass"},
    {"UPDATE pass SET volts = 1001", "the voltage"},
    {"UPDATE pass SET amps = -1", "the current"},
    {"UPDATE pass SET feed_mm_per_min = -1", "the wire feed of a pass"},
    {"UPDATE pass SET start_c = -274", "the temperature at the start"},
    {"UPDATE pass SET pause_s = -1", "the pause"},
    {"UPDATE bend SET ended = 'snapped'", "it broke, tore or held"},
    {"UPDATE bend SET direction = 'up'", "the root, the face or a side"},
    {"UPDATE bend SET after_deg = 361", "an included angle"},
    {"UPDATE bend SET before_deg = -1", "an included angle"},
    {"UPDATE bend SET leg_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET first_crack_deg = -1", "a first crack"},
    {"UPDATE bend SET load_n = -1", "a load"},
    {"UPDATE face SET bead_mm = 0", "a bead is longer than 0 mm"},
    {"UPDATE face SET complete = 7", "yes or no"},
    {"UPDATE flaw SET to_mm = -1", "a flaw lies"},
    {"UPDATE flaw SET from_mm = 13", "a flaw lies"},
    {"UPDATE flaw SET iso6520 = 4", "3 or 4 digits"},
    {"DELETE FROM face", "FOREIGN KEY"},
    {"UPDATE photo SET path = ''", "a photograph has a path"},
    {"UPDATE photo SET sha256 = 'abc'", "64 hex digits"},
    {"UPDATE calibration SET machine = ' '", "names its machine"},
    {"UPDATE calibration SET dial = 9e999", "a dial position"},
    {"UPDATE calibration SET feed_mm_per_min = 0", "a measured wire feed"},
    {"UPDATE calibration SET struck_why = 'bent'", "struck out with a reason and a time"},
    {"UPDATE history SET state = ''", "history is never changed"},
    {"DELETE FROM history", "history is never deleted"},
    {"DELETE FROM coupon", "a coupon is never deleted, it is struck out"},
    {"DELETE FROM trial", "a trial is never deleted"},
    {"DELETE FROM variable", "a variable is never deleted"},
    {"DELETE FROM calibration", "a calibration is never deleted, it is struck out"},
    {"INSERT INTO history VALUES ('face', 'x', 1, '{}', 0, 0)", "history is kept of"},
    {"INSERT INTO history VALUES ('coupon', '22222222-2222-7222-8222-222222222222', 1, '{}', 0, 0)",
     "UNIQUE"},
};

START_TEST(rows_that_break_a_rule_are_refused)
{
    sqlite3 *db;
    size_t count = sizeof refusals / sizeof refusals[0];

    ck_assert_int_eq(sqlite3_open(at.book, &db), SQLITE_OK);
    sqlite3_exec(db, "PRAGMA foreign_keys = ON", NULL, NULL, NULL);
    for (size_t i = 0; i < count; i++) {
        int code = sqlite3_exec(db, refusals[i].sql, NULL, NULL, NULL);

        ck_assert_msg(code == SQLITE_CONSTRAINT, "taken: %s", refusals[i].sql);
        ck_assert_msg(strstr(sqlite3_errmsg(db), refusals[i].words) != NULL, "%s: %s",
                      refusals[i].sql, sqlite3_errmsg(db));
    }
    sqlite3_close(db);
}
END_TEST

/* Every named check is tried above, so a new one does not come without its refusal. */
START_TEST(every_check_has_its_refusal)
{
    const char *sql = schema_steps[0].sql, *found = sql;
    size_t checks = 0;

    while ((found = strstr(found, "CONSTRAINT \"")) != NULL) {
        const char *name = found + strlen("CONSTRAINT \""), *end = strchr(name, '"');
        bool tried = false;

        for (size_t i = 0; !tried && i < sizeof refusals / sizeof refusals[0]; i++) {
            const char *at_words = strstr(name, refusals[i].words);

            tried = at_words != NULL && at_words < end;
        }
        ck_assert_msg(tried, "%.*s", (int)(end - name), name);
        checks++;
        found = end;
    }
    ck_assert_uint_gt(checks, 35);
}
END_TEST

START_TEST(tables_are_strict_and_have_keys)
{
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM pragma_table_list WHERE"
                                            " schema = 'main' AND type = 'table' AND NOT strict"
                                            " AND name NOT LIKE 'sqlite%'"),
                     0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM pragma_table_list AS l WHERE"
                                            " schema = 'main' AND type = 'table' AND name NOT LIKE"
                                            " 'sqlite%' AND NOT EXISTS (SELECT 1 FROM"
                                            " pragma_table_info(l.name) WHERE pk > 0)"),
                     0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM pragma_table_list WHERE"
                                            " schema = 'main' AND type = 'table'"
                                            " AND name NOT LIKE 'sqlite%'"),
                     14);
}
END_TEST

/* Units a column may have, and the end of its name where the name carries it. */
static const struct {
    const char *unit, *ending;
} units[] = {
    {"[mm]", "_mm"},
    {"[s]", "_s"},
    {"[ms]", "_utc_ms"},
    {"[min]", "_offset_min"},
    {"[deg]", "_deg"},
    {"[degC]", "_c"},
    {"[N]", "_n"},
    {"[mm/min]", "_mm_per_min"},
    {"[V]", "volts"},
    {"[A]", "amps"},
    {"[count]", NULL},
    {"[-]", NULL},
    {"[dial divisions]", "dial"},
    {"[base unit of the dimension]", NULL},
    {"[base unit of the variable]", NULL},
};

static bool ends_with(const char *name, size_t length, const char *ending)
{
    size_t n = strlen(ending);

    return length >= n && strncmp(name + length - n, ending, n) == 0;
}

/* The unit in brackets at the end of a line fits the column's name. */
static bool unit_fits(const char *column, const char *line, size_t length)
{
    size_t name = strlen(column);

    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (ends_with(line, length, units[i].unit))
            return units[i].ending == NULL || ends_with(column, name, units[i].ending);
    return false;
}

/* A column whose name ends like a unit must have that unit. */
static bool name_keeps_its_word(const char *column, const char *line, size_t length)
{
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (units[i].ending != NULL && ends_with(column, strlen(column), units[i].ending) &&
            ends_with(line, length, units[i].unit))
            return true;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (units[i].ending != NULL && ends_with(column, strlen(column), units[i].ending))
            return false;
    return true;
}

/* The declaration of a column: from its name at the start of a line to the line with the comment.
 */
static void check_column(const char *table_sql, const char *column)
{
    char *start = mem_format("\n    %s ", column);
    const char *line = strstr(table_sql, start), *comment, *end;

    ck_assert_msg(line != NULL, "%s", column);
    comment = strstr(line, " -- ");
    ck_assert_msg(comment != NULL, "%s", column);
    end = strchr(comment, '\n');
    ck_assert_ptr_nonnull(end);
    ck_assert_msg(end - comment > 10, "%s says too little", column);
    ck_assert_msg(unit_fits(column, comment, (size_t)(end - comment)), "%.*s", (int)(end - line),
                  line);
    ck_assert_msg(name_keeps_its_word(column, comment, (size_t)(end - comment)), "%.*s",
                  (int)(end - line), line);
    free(start);
}

START_TEST(every_column_has_a_comment_with_its_unit)
{
    sqlite3 *db;
    sqlite3_stmt *stmt;
    int columns = 0;

    ck_assert_int_eq(sqlite3_open(at.book, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_prepare_v2(db,
                                        "SELECT m.sql, c.name FROM sqlite_schema AS m,"
                                        " pragma_table_xinfo(m.name) AS c"
                                        " WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite%'",
                                        -1, &stmt, NULL),
                     SQLITE_OK);
    while (sqlite3_step(stmt) == SQLITE_ROW) {
        check_column((const char *)sqlite3_column_text(stmt, 0),
                     (const char *)sqlite3_column_text(stmt, 1));
        columns++;
    }
    ck_assert_int_gt(columns, 100);
    sqlite3_finalize(stmt);
    sqlite3_close(db);
}
END_TEST

START_TEST(the_program_carries_the_schema_as_written)
{
    struct bytes file = scratch_read(SCHEMA_FOLDER "/0001_book.sql");

    ck_assert_str_eq((const char *)file.data, schema_steps[0].sql);
    ck_assert_str_eq(schema_steps[0].name, "0001_book");
    for (size_t i = 0; i < schema_step_count; i++)
        ck_assert_int_eq(schema_steps[i].number, (int)i + 1);
    free(file.data);
}
END_TEST

static int embed(const char *files)
{
    char *command =
        mem_format("cd %s && awk -f %s/embed.awk %s >out.c 2>err", at.dir, SCHEMA_FOLDER, files);
    int status = system(command);

    free(command);
    return status;
}

START_TEST(steps_are_embedded_in_order_without_a_gap)
{
    struct bytes out;

    scratch_write(scratch_file(&at, "0001_a.sql"), "SELECT 'a\\b' AS \"x\";\n", 21);
    scratch_write(scratch_file(&at, "0002_b.sql"), "SELECT 2;\n", 10);
    ck_assert_int_eq(embed("0001_a.sql 0002_b.sql"), 0);
    out = scratch_read(scratch_file(&at, "out.c"));
    ck_assert_ptr_nonnull(strstr((char *)out.data, "\"SELECT 'a\\\\b' AS \\\"x\\\";\\n\""));
    ck_assert_ptr_nonnull(strstr((char *)out.data, "{2, \"0002_b\","));
    free(out.data);
    ck_assert_int_ne(embed("0002_b.sql"), 0);
    ck_assert_int_ne(embed("0002_b.sql 0001_a.sql"), 0);
}
END_TEST

/* Each reference is looked up by an index when a row goes, or a book of 100,000 would crawl. */
START_TEST(references_have_an_index)
{
    ck_assert_int_eq(
        scratch_count(at.book,
                      "SELECT count(*) FROM pragma_table_list AS l, pragma_foreign_key_list(l.name)"
                      " AS f WHERE f.seq = 0 AND NOT EXISTS (SELECT 1 FROM"
                      " pragma_index_list(l.name) AS i, pragma_index_info(i.name) AS c WHERE"
                      " c.seqno = 0 AND c.name = f.\"from\")"),
        0);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/schema");
    TCase *t = tcase_create("schema");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, rows_that_break_a_rule_are_refused);
    tcase_add_test(t, every_check_has_its_refusal);
    tcase_add_test(t, tables_are_strict_and_have_keys);
    tcase_add_test(t, every_column_has_a_comment_with_its_unit);
    tcase_add_test(t, the_program_carries_the_schema_as_written);
    tcase_add_test(t, steps_are_embedded_in_order_without_a_gap);
    tcase_add_test(t, references_have_an_index);
    suite_add_tcase(s, t);
    return s;
}
