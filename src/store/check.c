/* Looking a whole book over: first the file, then the rows, then what the values say. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/variable.h"
#include "store/book.h"
#include "store/db.h"
#include "store/query.h"
#include "store/settings.h"
#include "store/transaction.h"
#include "store/variables.h"

struct checking {
    struct book *book;
    void (*say)(void *ctx, const char *line);
    void *ctx;
    size_t faults;
    struct variable_list variables;
    enum unit_system system;
};

static void say_fault(struct checking *k, char *line)
{
    k->faults++;
    k->say(k->ctx, line);
    free(line);
}

/* Statements whose rows are faults, told in the column `fault`. */
static const char *const rules[] = {
    "SELECT 'the file: ' || integrity_check AS fault FROM pragma_integrity_check"
    " WHERE integrity_check <> 'ok'",

    "SELECT 'a row of the table ' || \"table\" || ' belongs to a row of ' || parent ||"
    " ' that is not there' AS fault FROM pragma_foreign_key_check",

    "SELECT 'coupon ' || c.mark || ': its ' || count(*) || ' passes are not numbered 1, 2, 3 …;"
    " the last is number ' || max(p.number) AS fault"
    " FROM coupon AS c JOIN pass AS p ON p.coupon_id = c.id"
    " GROUP BY c.id HAVING count(*) <> max(p.number) ORDER BY c.id",

    "SELECT 'coupon ' || c.mark || ': flaw ' || w.number || ' ends at ' || w.to_mm ||"
    " ' mm, the bead at ' || f.bead_mm || ' mm' AS fault"
    " FROM coupon AS c JOIN face AS f ON f.coupon_id = c.id"
    " JOIN flaw AS w ON w.coupon_id = c.id AND w.side = f.side"
    " WHERE w.to_mm > f.bead_mm + 1e-6 ORDER BY c.id, w.number",

    "SELECT 'coupon ' || c.mark || ': it was changed, and the journal has no earlier state of it'"
    " AS fault FROM coupon AS c WHERE c.revision > 1 AND NOT EXISTS"
    " (SELECT 1 FROM touched WHERE kind = 'coupon' AND id <= c.id AND coalesce(last_id, id) >= "
    "c.id)"
    " ORDER BY c.id",

    "SELECT 'change ' || change_id || ': the earlier state of ' || kind || ' ' || id ||"
    " ' cannot be read' AS fault FROM touched WHERE state IS NOT NULL AND NOT json_valid(state)",

    "SELECT 'the coupons ' || group_concat(mark, ', ') || ' bear the same id' AS fault"
    " FROM coupon GROUP BY uuid HAVING count(*) > 1",

    "SELECT 'coupon ' || mark || ': its time is ' || when_offset_min || ' min off UTC, which no"
    " place on earth is' AS fault FROM coupon WHERE abs(when_offset_min) > 1080 ORDER BY id",
};

/* The code of a failed read, which SQLite's check puts among the faults of the file; 0: a fault. */
static int failed_read(const char *fault)
{
    const char *code = strstr(fault, "error code=");
    long number = code == NULL ? 0 : strtol(code + strlen("error code="), NULL, 10);

    return (number & 0xff) == SQLITE_IOERR ? (int)number : 0;
}

static int check_rule(struct checking *k, const char *rule, struct error *e)
{
    struct query *q = query_begin(k->book, rule, NULL, e);
    int got;

    while ((got = query_next(q, e)) > 0) {
        int unread = failed_read(query_text(q, "fault"));

        if (unread != 0) {
            query_end(q);
            return db_failed(k->book, unread, e);
        }
        say_fault(k, query_copy(q, "fault"));
    }
    return got;
}

static int check_rules(struct checking *k, struct error *e)
{
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < sizeof rules / sizeof rules[0]; i++)
        rc = check_rule(k, rules[i], e);
    return rc;
}

/* `x` is one end of a value, NAN when it has none there. */
static bool beyond(const struct checking *k, const struct variable *v, double x, char *why,
                   size_t size)
{
    return !isnan(x) && variable_judge(v, x, k->system, why, size) == VALUE_IMPOSSIBLE;
}

static void check_value(struct checking *k, struct query *q)
{
    const char *mark = query_text(q, "mark"), *key = query_text(q, "variable");
    const struct variable *v = variable_find(&k->variables, key);
    bool category = query_int(q, "category") != 0;
    char why[512];

    if (v == NULL || strcmp(v->key, key) != 0)
        say_fault(k,
                  mem_format("coupon %s: it has a value of %s, which is no variable of this book",
                             mark, key));
    else if (!v->own && category != (v->kind == VARIABLE_CATEGORY))
        say_fault(k, mem_format("coupon %s: its value of %s is %s", mark, key,
                                category ? "words, not a number" : "a number, not words"));
    else if (!category && (beyond(k, v, query_real(q, "low"), why, sizeof why) ||
                           beyond(k, v, query_real(q, "high"), why, sizeof why)))
        say_fault(k, mem_format("coupon %s: %s: %s", mark, key, why));
}

static int check_values(struct checking *k, struct error *e)
{
    struct query *q = query_begin(k->book,
                                  "SELECT c.mark, n.key AS variable, v.low, v.high,"
                                  " v.kind IS NULL AND v.low IS NULL AS category"
                                  " FROM coupon AS c CROSS JOIN value AS v ON v.coupon_id = c.id"
                                  " JOIN variable AS n ON n.id = v.variable_id ORDER BY c.id",
                                  NULL, e);
    int got;

    while ((got = query_next(q, e)) > 0)
        check_value(k, q);
    return got;
}

static int check_days(struct checking *k, struct error *e)
{
    struct query *q = query_begin(
        k->book, "SELECT * FROM coupon WHERE when_utc_ms IS NOT NULL ORDER BY id", NULL, e);
    char day[40], why[128];
    int got;

    while ((got = query_next(q, e)) > 0) {
        struct instant when = query_instant(q, "when");

        if (clock_credible(when, why, sizeof why))
            continue;
        clock_format_day(day, sizeof day, when);
        say_fault(k, mem_format("coupon %s: welded on %s %s", query_text(q, "mark"), day, why));
    }
    return got;
}

static int check_trials(struct checking *k, struct error *e)
{
    struct query *q = query_begin(k->book,
                                  "SELECT t.name, v.variable FROM trial AS t"
                                  " JOIN trial_variable AS v ON v.trial_id = t.id"
                                  " UNION SELECT name, result FROM trial WHERE result IS NOT NULL"
                                  " ORDER BY 1, 2",
                                  NULL, e);
    int got;

    while ((got = query_next(q, e)) > 0)
        if (variable_find(&k->variables, query_text(q, "variable")) == NULL)
            say_fault(k, mem_format("trial %s: it names %s, which is no variable of this book",
                                    query_text(q, "name"), query_text(q, "variable")));
    return got;
}

/* What a row belongs to, for the user; `t` is the row. */
#define COUPON "'coupon ' || (SELECT mark FROM coupon WHERE id = t.coupon_id) || "
#define TRIAL "'trial ' || (SELECT name FROM trial WHERE id = t.trial_id) || "
static const struct {
    const char *table, *sql;
} owners[] = {
    {"coupon", "'coupon ' || mark"},
    {"value", COUPON "', value of ' || (SELECT key FROM variable WHERE id = t.variable_id)"},
    {"bend", COUPON "', bend'"},
    {"flaw", COUPON "', flaw ' || number"},
    {"photo", COUPON "', photograph ' || number"},
    {"trial", "'trial ' || name"},
    {"trial_variable", TRIAL "', variable ' || number"},
    {"trial_level", TRIAL "', level of ' || variable"},
    {"own_variable", "'variable ' || (SELECT key FROM variable WHERE id = t.id)"},
    {"setting", "'setting ' || key"},
    {"calibration", "'machine ' || machine"},
};

static void check_text(struct checking *k, const char *owner, const char *column, const char *text)
{
    const unsigned char *at = (const unsigned char *)text;

    for (at += text_valid_length(text); *at == '\r';) /* line ends of another system */
        at += 1 + text_valid_length((const char *)at + 1);
    if (*at != '\0' && (*at < 0x80 || (*at == 0xc2 && at[1] >= 0x80 && at[1] < 0xa0)))
        say_fault(k, mem_format("%s: the column %s holds a control character (U+%04X)", owner,
                                column, *at < 0x80 ? *at : at[1]));
    else if (*at != '\0')
        say_fault(k, mem_format("%s: the column %s holds the byte 0x%02x, which is not UTF-8 text",
                                owner, column, *at));
}

/* One of the book's columns of text. */
static int check_column(struct checking *k, const char *table, const char *column, struct error *e)
{
    const char *owner = "NULL";
    struct query *q;
    char *sql;
    int got;

    for (size_t i = 0; i < sizeof owners / sizeof owners[0]; i++)
        if (strcmp(owners[i].table, table) == 0)
            owner = owners[i].sql;
    sql =
        mem_format("SELECT coalesce(%s, 'a row of the table ' || :key) AS owner, t.%s AS text"
                   " FROM %s AS t WHERE t.%s GLOB '*[^ -~]*'", /* few rows, for the time it takes */
                   owner, column, table, column);
    q = query_begin(k->book, sql, table, e);
    free(sql);
    while ((got = query_next(q, e)) > 0)
        check_text(k, query_text(q, "owner"), column, query_text(q, "text"));
    return got;
}

/* Of other tables' ids the foreign keys were looked at; the journal holds texts as JSON. */
static int check_texts(struct checking *k, struct error *e)
{
    struct query *q =
        query_begin(k->book,
                    "SELECT t.name AS \"table\", c.name AS \"column\""
                    " FROM sqlite_schema AS t JOIN pragma_table_info(t.name) AS c"
                    " WHERE t.type = 'table' AND t.name NOT GLOB 'sqlite_*'"
                    " AND t.name <> 'touched' AND c.type = 'TEXT' AND c.name NOT GLOB '*_id'",
                    NULL, e);
    int got;

    while ((got = query_next(q, e)) > 0)
        if (check_column(k, query_text(q, "table"), query_text(q, "column"), e) < 0) {
            query_end(q);
            return -1;
        }
    return got;
}

static int prepare(struct checking *k, struct error *e)
{
    char *units = NULL;
    int rc = own_variables_load(k->book, &k->variables, e);

    if (rc == 0)
        rc = setting_get(k->book, "units", &units, e);
    k->system = units != NULL && strcmp(units, "inch") == 0 ? UNITS_INCH : UNITS_METRIC;
    free(units);
    return rc;
}

int book_check(struct book *book, void (*say)(void *ctx, const char *line), void *ctx,
               struct error *e)
{
    static int (*const checks[])(struct checking *, struct error *) = {
        check_rules, prepare, check_values, check_days, check_trials, check_texts};
    struct checking k = {.book = book, .say = say, .ctx = ctx};
    int rc = transaction_enter_reading(book, e);

    if (rc < 0)
        return -1;
    variable_list_init(&k.variables);
    for (size_t i = 0; rc == 0 && i < sizeof checks / sizeof checks[0]; i++)
        rc = checks[i](&k, e);
    variable_list_free(&k.variables);
    rc = transaction_leave_reading(book, rc, e);
    if (rc == 0 && k.faults > 0)
        rc = error_set(e, ERROR_INPUT, "%s: %zu %s found", book->path, k.faults,
                       k.faults == 1 ? "fault was" : "faults were");
    return rc;
}
