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
#define A_TRIAL "'11111111-1111-7111-8111-111111111111'"
#define A_COUPON "'22222222-2222-7222-8222-222222222222'"
#define ANOTHER "'33333333-3333-7333-8333-333333333333'"
static const char rows[] =
    "INSERT INTO trial (id, uuid, revision, name, stop_deg, when_utc_ms, when_offset_min)"
    " VALUES (1, " A_TRIAL ", 1, 'thin', 135, 0, 0);"
    "INSERT INTO trial_variable VALUES (1, 1, 'volts');"
    "INSERT INTO trial_level VALUES (1, 'volts', 1, '17 V');"
    "INSERT INTO trial_block VALUES (1, 'day');"
    "INSERT INTO variable VALUES (1, 'rust', NULL), (2, 'volts', NULL);"
    "INSERT INTO own_variable (id, revision, place, label, role, kind, dimension, least, most,"
    " choices_only, scale, wobble_share, wobble, when_utc_ms, when_offset_min)"
    " VALUES (1, 1, 1, 'Rust', 'set', 'number', 'share', 0, 100, 0, 0, 0.1, 2, 0, 0);"
    "INSERT INTO coupon (id, uuid, revision, trial_id, mark, when_utc_ms, when_offset_min)"
    " VALUES (1, " A_COUPON ", 1, 1, '07', 0, 0);"
    "INSERT INTO value VALUES (1, 2, 17.5, NULL, ' V', NULL);"
    "INSERT INTO pass VALUES (1, 1, 1, 20, 100, 17, 110, 3000, 20, NULL);"
    "INSERT INTO bend (coupon_id, ended, direction, before_deg, after_deg)"
    " VALUES (1, 'broke', 'root_opening', 90, 150);"
    "INSERT INTO face VALUES (1, 1, 100, 1);"
    "INSERT INTO flaw VALUES (1, 1, 1, 0, 12, 4013, NULL);"
    "INSERT INTO photo VALUES (1, 1, 'a.jpg', NULL, NULL);"
    "INSERT INTO lesson VALUES (1, 90, 120, 'about 100', 'evening', 'n. n.', 1, 'x');"
    "INSERT INTO arc (id, bench, start_utc_ms, start_offset_min, stop_utc_ms, burned_ms)"
    " VALUES (1, 'bench 1', 1000, 0, 2000, 990);"
    "INSERT INTO setting VALUES (1, 'units', 1, 'metric');"
    "INSERT INTO machine VALUES (1, 1, 'MIG 200', 200, 35, NULL);"
    "INSERT INTO calibration VALUES (1, " ANOTHER ", 'MIG 200', 4.5, 5000, 0, 0, NULL, NULL, NULL,"
    " NULL);"
    "INSERT INTO price VALUES (1, 1, 'wire', '', 2.5, 'kg', 'EUR', 0, 0);"
    "INSERT INTO stock VALUES (1, 1, 'bar', NULL, 6, 40, 3000, 2, NULL);"
    "INSERT INTO plan (id, uuid, revision, trial_id, seed, when_utc_ms, when_offset_min)"
    " VALUES (1, " ANOTHER ", 1, 1, 7, 0, 0);"
    "INSERT INTO plan_variable VALUES (1, 1, 'volts', 'changes');"
    "INSERT INTO plan_level VALUES (1, 'volts', 1, '17 V');"
    "INSERT INTO plan_never VALUES (1, 1, 'volts', '17 V');"
    "INSERT INTO plan_coupon (plan_id, place, coupon_id) VALUES (1, 1, 1);"
    "INSERT INTO procedure (id, uuid, revision, name, version, when_utc_ms, when_offset_min)"
    " VALUES (1, " ANOTHER ", 1, 'tee, 6 mm', 1, 0, 0);"
    "INSERT INTO procedure_value VALUES (1, 2, 17, 18, NULL);"
    "INSERT INTO procedure_coupon VALUES (1, 1, 'rests_on');"
    "INSERT INTO decision (id, uuid, procedure_id, when_utc_ms, when_offset_min)"
    " VALUES (1, " ANOTHER ", 1, 0, 0);"
    "INSERT INTO change (id, when_utc_ms, when_offset_min, what) VALUES (1, 0, 0, 'log 07');"
    "INSERT INTO touched VALUES (1, 'coupon', 1, NULL, NULL, NULL);";

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
    {"UPDATE trial SET uuid = 'short'", "an id is 36 characters"},
    {"UPDATE trial SET name = ''", "a trial has a name"},
    {"UPDATE trial SET name = ' x'", "a trial has a name"},
    {"UPDATE trial SET name = 'a' || char(10) || 'b'", "a trial has a name on one line"},
    {"UPDATE trial SET name = 'a' || char(9) || 'b'", "a trial has a name on one line"},
    {"UPDATE trial SET stop_deg = 0", "the stop angle"},
    {"UPDATE trial SET stop_deg = 181", "the stop angle"},
    {"UPDATE trial SET stop_deg = 'flat'", "cannot store TEXT value in REAL column"},
    {"UPDATE trial SET scatter = 0", "like coupons differ by is more than 0"},
    {"UPDATE trial SET scatter = 9e999", "like coupons differ by is more than 0"},
    {"UPDATE trial SET reference_id = 9", "FOREIGN KEY"},
    {"UPDATE trial SET struck_why = 'mixed up'", "a trial is struck out with a reason and a time"},
    {"UPDATE trial SET struck_why = ' ', struck_utc_ms = 5, struck_offset_min = 0",
     "a trial is struck out with a reason"},
    {"UPDATE trial SET struck_utc_ms = 5, struck_offset_min = 0",
     "a trial is struck out with a reason"},
    {"UPDATE trial SET struck_why = 'x', struck_utc_ms = 5", "a trial is struck out with a reason"},
    {"INSERT INTO trial (uuid, revision, name, when_utc_ms, when_offset_min) VALUES (" ANOTHER
     ", 1, 'THIN', 0, 0)",
     "UNIQUE"},
    {"INSERT INTO trial (uuid, revision, name, when_utc_ms, when_offset_min) VALUES (" A_TRIAL
     ", 1, 'thick', 0, 0)",
     "UNIQUE"},
    {"INSERT INTO trial_variable VALUES (1, 2, 'volts')", "UNIQUE"},
    {"INSERT INTO trial_level VALUES (1, 'amps', 1, '90 A')", "FOREIGN KEY"},
    {"INSERT INTO trial_block VALUES (9, 'day')", "FOREIGN KEY"},
    {"INSERT INTO variable (key) VALUES ('rust')", "UNIQUE"},
    {"UPDATE variable SET key = 'Rust' WHERE id = 1", "small letters"},
    {"UPDATE variable SET key = '1rust' WHERE id = 1", "a letter first"},
    {"UPDATE own_variable SET id = 9", "FOREIGN KEY"},
    {"UPDATE own_variable SET role = 'effect'",
     "a variable is set, read, comes out, or is a result"},
    {"UPDATE own_variable SET role = 1", "a variable is set, read, comes out"},
    {"UPDATE own_variable SET kind = 'colour'", "a number or a category"},
    {"UPDATE own_variable SET dimension = NULL", "a known dimension"},
    {"UPDATE own_variable SET dimension = 'taste'", "a known dimension"},
    {"UPDATE own_variable SET kind = 'category'", "a known dimension"},
    {"UPDATE own_variable SET least = 101", "the least value"},
    {"UPDATE own_variable SET choices_only = 2", "yes or no"},
    {"UPDATE own_variable SET scale = -1", "the range of a result is not negative"},
    {"UPDATE own_variable SET wobble_share = 1.1", "what reading is off"},
    {"UPDATE own_variable SET wobble_share = -0.1", "what reading is off"},
    {"UPDATE own_variable SET wobble = -1", "what reading is off"},
    {"UPDATE own_variable SET wobble = 9e999", "what reading is off"},
    {"UPDATE coupon SET uuid = ''", "an id is 36 characters"},
    {"UPDATE coupon SET mark = ''", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = '123456789012345678901234567890123'", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = '7 '", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = 'a' || char(9) || 'b'", "a mark is 1 to 32"},
    {"UPDATE coupon SET mark = NULL", "NOT NULL"},
    {"UPDATE coupon SET revision = 'first'", "cannot store TEXT value in INTEGER column"},
    {"UPDATE coupon SET when_offset_min = NULL", "a time has the offset of its clock"},
    {"UPDATE coupon SET when_utc_ms = NULL", "a time has the offset of its clock"},
    {"UPDATE coupon SET struck_why = 'bent'", "a coupon is struck out with a reason and a time"},
    {"UPDATE coupon SET struck_utc_ms = 5, struck_offset_min = 0",
     "a coupon is struck out with a reason"},
    {"UPDATE coupon SET struck_why = ' ', struck_utc_ms = 5, struck_offset_min = 0",
     "a coupon is struck out with a reason"},
    {"UPDATE coupon SET trial_id = 9", "FOREIGN KEY"},
    {"INSERT INTO coupon (uuid, revision, trial_id, mark, when_utc_ms, when_offset_min) VALUES "
     "(" ANOTHER ", 1, 1, '07', 0, 0)",
     "UNIQUE"},
    {"UPDATE value SET kind = 'about'", "a value is exact"},
    {"UPDATE value SET kind = 0", "a value is exact"},
    {"UPDATE value SET high = 18", "a value is exact"},
    {"UPDATE value SET low = NULL, words = NULL", "a value is exact"},
    {"UPDATE value SET kind = 'at_least', high = 18", "a value is exact, at least"},
    {"UPDATE value SET kind = 'at_least', low = NULL", "a value is exact, at least"},
    {"UPDATE value SET kind = 'at_most'", "at most"},
    {"UPDATE value SET kind = 'at_most', high = 18", "at most"},
    {"UPDATE value SET kind = 'between'", "between"},
    {"UPDATE value SET kind = 'between', high = 17.5", "between"},
    {"UPDATE value SET kind = 'between', low = NULL, high = 18", "between"},
    {"UPDATE value SET kind = 'not_known'", "not known"},
    {"UPDATE value SET kind = 'not_known', low = NULL", "not known"},
    {"UPDATE value SET kind = 'not_apply', words = NULL", "does not apply"},
    {"UPDATE value SET kind = 'not_apply', words = NULL, low = NULL, high = 1", "does not apply"},
    {"UPDATE value SET low = 9e999", "a finite number"},
    {"UPDATE value SET kind = 'at_most', low = NULL, high = -9e999", "a finite number"},
    {"UPDATE value SET coupon_id = 9", "FOREIGN KEY"},
    {"UPDATE value SET variable_id = 9", "FOREIGN KEY"},
    {"UPDATE pass SET number = 0", "numbered from 1"},
    {"UPDATE pass SET side = 3", "a pass is on side 1 or 2"},
    {"UPDATE pass SET arc_s = -1", "the arc time"},
    {"UPDATE pass SET length_mm = -1", "the length of a pass"},
    {"UPDATE pass SET volts = 1001", "the voltage"},
    {"UPDATE pass SET amps = -1", "the current"},
    {"UPDATE pass SET feed_mm_per_min = -1", "the wire feed of a pass"},
    {"UPDATE pass SET start_c = -274", "the temperature at the start"},
    {"UPDATE pass SET pause_s = -1", "the pause"},
    {"UPDATE bend SET ended = 'snapped'", "it broke, tore or held"},
    {"UPDATE bend SET direction = 'up'", "the root, the face or a side"},
    {"UPDATE bend SET angle_read = 'later'", "under load or released"},
    {"UPDATE bend SET gave_way = 'somewhere'", "gives way in the throat"},
    {"UPDATE bend SET after_deg = 361", "an included angle"},
    {"UPDATE bend SET before_deg = -1", "an included angle"},
    {"UPDATE bend SET before_gap_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET after_gap_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET leg_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET former_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET lever_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET inside_radius_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET bar_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET root_missed_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET crack_mm = -1", "a gap, leg, former"},
    {"UPDATE bend SET first_crack_deg = -1", "a first crack"},
    {"UPDATE bend SET load_n = -1", "a load"},
    {"UPDATE bend SET moment_nm = -1", "a moment"},
    {"UPDATE bend SET moment_nm = 2e9", "a moment"},
    {"UPDATE bend SET weight_kg = -1", "a weight"},
    {"UPDATE bend SET bar_kg = -1", "a weight"},
    {"UPDATE face SET bead_mm = 0", "a bead is longer than 0 mm"},
    {"UPDATE face SET complete = 7", "yes or no"},
    {"INSERT INTO face VALUES (1, 3, 100, 1)", "a face is on side 1 or 2"},
    {"UPDATE flaw SET to_mm = -1", "a flaw lies"},
    {"UPDATE flaw SET from_mm = 13", "a flaw lies"},
    {"UPDATE flaw SET iso6520 = 4", "3 or 4 digits"},
    {"UPDATE flaw SET side = 2", "FOREIGN KEY"},
    {"DELETE FROM face", "FOREIGN KEY"},
    {"UPDATE photo SET path = ''", "a photograph has a path"},
    {"UPDATE photo SET sha256 = 'abc'", "64 hex digits"},
    {"UPDATE lesson SET attempt = 0", "attempts are numbered from 1"},
    {"UPDATE lesson SET coupon_id = 9", "FOREIGN KEY"},
    {"UPDATE arc SET stop_utc_ms = 999", "an arc does not stop before it starts"},
    {"UPDATE arc SET burned_ms = -1", "nor burn less than nothing"},
    {"UPDATE arc SET dropped = 2", "yes or no"},
    {"UPDATE arc SET coupon_id = 9", "FOREIGN KEY"},
    {"INSERT INTO setting (key, revision) VALUES ('units', 1)", "UNIQUE"},
    {"UPDATE machine SET name = ' '", "a machine has a name"},
    {"UPDATE machine SET rated_amps = 0", "a rated current"},
    {"UPDATE machine SET rated_amps = 10001", "a rated current"},
    {"UPDATE machine SET rated_duty = 0", "a rated duty"},
    {"UPDATE machine SET rated_duty = 101", "a rated duty"},
    {"INSERT INTO machine VALUES (2, 1, 'mig 200', NULL, NULL, NULL)", "UNIQUE"},
    {"UPDATE calibration SET machine = ' '", "names its machine"},
    {"UPDATE calibration SET dial = 9e999", "a dial position"},
    {"UPDATE calibration SET feed_mm_per_min = 0", "a measured wire feed"},
    {"UPDATE calibration SET struck_why = 'bent'",
     "a calibration is struck out with a reason and a time"},
    {"UPDATE price SET amount = -1", "a price is 0 or more"},
    {"UPDATE price SET amount = 9e999", "a price is 0 or more"},
    {"INSERT INTO price VALUES (2, 1, 'wire', '', 3, 'kg', 'EUR', 0, 0)", "UNIQUE"},
    {"UPDATE stock SET length_mm = 0", "a length, width or thickness"},
    {"UPDATE stock SET width_mm = 0", "a length, width or thickness"},
    {"UPDATE stock SET thickness_mm = 100001", "a length, width or thickness"},
    {"UPDATE stock SET pieces = -1", "pieces are counted"},
    {"UPDATE plan SET trial_id = 9", "FOREIGN KEY"},
    {"UPDATE plan_variable SET use = 'stays'", "a variable of a plan changes"},
    {"INSERT INTO plan_variable VALUES (1, 2, 'volts', 'changes')", "UNIQUE"},
    {"UPDATE plan_level SET variable = 'amps'", "FOREIGN KEY"},
    {"UPDATE plan_never SET variable = 'amps'", "FOREIGN KEY"},
    {"UPDATE plan_coupon SET coupon_id = 9", "FOREIGN KEY"},
    {"UPDATE procedure SET name = ' '", "a procedure has a name, and versions from 1"},
    {"UPDATE procedure SET version = 0", "a procedure has a name, and versions from 1"},
    {"INSERT INTO procedure (uuid, revision, name, version, when_utc_ms, when_offset_min) VALUES "
     "(" A_TRIAL ", 1, 'TEE, 6 mm', 1, 0, 0)",
     "UNIQUE"},
    {"UPDATE procedure SET trial_id = 9", "FOREIGN KEY"},
    {"UPDATE procedure_value SET variable_id = 9", "FOREIGN KEY"},
    {"UPDATE procedure_coupon SET use = 'none'", "a procedure rests on a coupon"},
    {"UPDATE procedure_coupon SET coupon_id = 9", "FOREIGN KEY"},
    {"UPDATE decision SET replaces_id = 9", "FOREIGN KEY"},
    {"UPDATE change SET what = ''", "the journal is never changed"},
    {"DELETE FROM change", "the journal is never shortened"},
    {"DELETE FROM touched", "the journal is never shortened"},
    {"INSERT INTO touched VALUES (9, 'coupon', 1, NULL, NULL, NULL)", "FOREIGN KEY"},
    {"INSERT INTO touched VALUES (1, 'coupon', 1, NULL, '{}', NULL)", "UNIQUE"},
    {"DELETE FROM coupon", "a coupon is never deleted, it is struck out"},
    {"DELETE FROM trial", "a trial is never deleted, it is struck out"},
    {"DELETE FROM own_variable", "a variable is never deleted"},
    {"DELETE FROM variable", "the number of a variable is never given away"},
    {"DELETE FROM calibration", "a calibration is never deleted, it is struck out"},
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

static bool is_tried(const char *name, size_t length)
{
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        const char *found = strstr(name, refusals[i].words);

        if (found != NULL && found < name + length)
            return true;
    }
    return false;
}

/* Every named check is tried above, so a new one does not come without its refusal. */
START_TEST(every_check_has_its_refusal)
{
    char *sql = scratch_text(at.book, "SELECT group_concat(sql, ';') FROM sqlite_schema");
    const char *found = sql;
    size_t checks = 0;

    while ((found = strstr(found, "CONSTRAINT \"")) != NULL) {
        const char *name = found + strlen("CONSTRAINT \""), *end = strchr(name, '"');

        ck_assert_msg(is_tried(name, (size_t)(end - name)), "%.*s", (int)(end - name), name);
        checks++;
        found = end;
    }
    ck_assert_uint_gt(checks, 60);
    free(sql);
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
                     31);
}
END_TEST

/* Units a column may have, and the end of its name where the name carries it. */
static const struct {
    const char *unit, *ending;
} units[] = {
    {"[mm]", "_mm"},
    {"[s]", "_s"},
    {"[min]", "_offset_min"},
    {"[ms]", "_ms"},
    {"[deg]", "_deg"},
    {"[degC]", "_c"},
    {"[N]", "_n"},
    {"[N m]", "_nm"},
    {"[kg]", "_kg"},
    {"[%]", "_duty"},
    {"[1]", "_share"},
    {"[mm/min]", "_mm_per_min"},
    {"[V]", "volts"},
    {"[A]", "amps"},
    {"[count]", NULL},
    {"[-]", NULL},
    {"[dial divisions]", "dial"},
    {"[base unit of the dimension]", NULL},
    {"[base unit of the variable]", NULL},
    {"[base unit of the result]", NULL},
    {"[currency]", NULL},
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
    static const char *const names[] = {"0001_book", "0002_book"};

    ck_assert_uint_eq(schema_step_count, sizeof names / sizeof names[0]);
    for (size_t i = 0; i < schema_step_count; i++) {
        char *path = mem_format(SCHEMA_FOLDER "/%s.sql", names[i]);
        struct bytes file = scratch_read(path);

        ck_assert_str_eq((const char *)file.data, schema_steps[i].sql);
        ck_assert_str_eq(schema_steps[i].name, names[i]);
        ck_assert_int_eq(schema_steps[i].number, (int)i + 1);
        free(file.data);
        free(path);
    }
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

/*
 * References without an index, which stay so: variables are never deleted; trials, plans,
 * procedures and decisions are few, so that looking through all of them takes no time, and an index
 * would be one more thing to write.
 */
static const char without_index[] =
    "decision.procedure_id decision.replaces_id plan.trial_id procedure.trial_id"
    " procedure_coupon.coupon_id procedure_value.variable_id trial.reference_id value.variable_id";

/* Each other reference is looked up by an index when a row goes, or a book of 100,000 would crawl.
 * The number of a row is its own index. */
START_TEST(references_have_an_index)
{
    scratch_same_text(
        at.book,
        "SELECT group_concat(what, ' ') FROM (SELECT l.name || '.' || f.\"from\" AS what FROM"
        " pragma_table_list AS l, pragma_foreign_key_list(l.name) AS f WHERE f.seq = 0 AND NOT"
        " EXISTS (SELECT 1 FROM pragma_index_list(l.name) AS i, pragma_index_info(i.name) AS c"
        " WHERE c.seqno = 0 AND c.name = f.\"from\") AND NOT EXISTS (SELECT 1 FROM"
        " pragma_table_info(l.name) AS t WHERE t.pk = 1 AND t.type = 'INTEGER' AND t.name ="
        " f.\"from\") ORDER BY 1)",
        without_index);
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
