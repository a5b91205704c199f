/*
 * What can still be read of a damaged book goes into a new one. The damaged file is copied first,
 * with what a crash has left beside it, and only the copy is worked with. Each table is read from
 * its beginning and from its end as far as that goes, and between the two places row by row, by the
 * whole numbers all tables begin their keys with. What was lost of a thing that others belong to is
 * put in their place by a row that says so, so that what belongs to it is not lost as well.
 */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file_copy.h"
#include "base/mem.h"
#include "base/rename.h"
#include "base/text.h"
#include "store/book.h"
#include "store/db.h"
#include "store/open.h"
#include "store/query.h"

enum { MOST_KEYS = 1000000, MOST_REFUSED_TOLD = 20 };

struct recovery {
    struct book *book; /* the new one */
    sqlite3 *old;      /* the copy */
    void (*say)(void *context, const char *line);
    void *context;
    size_t refused;
};

/* A table, read in one direction from a key on. */
struct table {
    const char *name;
    char *columns, *key; /* "\"id\", \"mark\"", and the first column of its key */
    sqlite3_stmt *put;
    int64_t first, last; /* keys at which reading from either end broke off */
    size_t rows;
    bool gap, whole_number;
};

static void tell(struct recovery *r, char *line)
{
    r->say(r->context, line);
    free(line);
}

static void tell_refused(struct recovery *r, const struct table *t, int64_t key)
{
    if (++r->refused <= MOST_REFUSED_TOLD)
        tell(r, mem_format("a row of the table %s (%s %lld) was left out: %s", t->name, t->key,
                           (long long)key, sqlite3_errmsg(r->book->sqlite)));
}

/* A row that is there already was met in the other direction. */
static void put_row(struct recovery *r, struct table *t, sqlite3_stmt *row)
{
    int code;

    for (int i = 1; i < sqlite3_column_count(row); i++)
        sqlite3_bind_value(t->put, i, sqlite3_column_value(row, i));
    code = sqlite3_step(t->put);
    if (code == SQLITE_DONE)
        t->rows++;
    else if (code != SQLITE_CONSTRAINT_PRIMARYKEY && code != SQLITE_CONSTRAINT_ROWID)
        tell_refused(r, t, sqlite3_column_int64(row, 0));
    sqlite3_reset(t->put);
}

/* SQLITE_DONE when there was nothing that could not be read; *key is the last that could. */
static int read_rows(struct recovery *r, struct table *t, const char *rest, int64_t *key)
{
    char *sql =
        mem_format("SELECT \"%s\", %s FROM \"%s\" AS t %s", t->key, t->columns, t->name, rest);
    sqlite3_stmt *row = NULL;
    int code = sqlite3_prepare_v2(r->old, sql, -1, &row, NULL);

    free(sql);
    if (code == SQLITE_OK) {
        if (strchr(rest, '?') != NULL)
            sqlite3_bind_int64(row, 1, *key);
        while ((code = sqlite3_step(row)) == SQLITE_ROW) {
            *key = sqlite3_column_int64(row, 0);
            put_row(r, t, row);
        }
    }
    sqlite3_finalize(row);
    return code;
}

/* Every key between the two ends, one by one. */
static void read_gap(struct recovery *r, struct table *t)
{
    char *up = mem_format("WHERE t.\"%s\" = ? ORDER BY %s", t->key, "1");
    int64_t last = t->last - t->first > MOST_KEYS ? t->first + MOST_KEYS : t->last;

    for (int64_t k = t->first; k <= last; k++) {
        int64_t key = k;

        read_rows(r, t, up, &key);
    }
    free(up);
}

static int64_t largest_coupon(struct recovery *r)
{
    int64_t largest = 0;

    query_number(r->book, "SELECT coalesce(max(id), 0) FROM coupon", NULL, &largest, NULL);
    return largest;
}

static void read_table(struct recovery *r, struct table *t)
{
    char *forward = mem_format("NOT INDEXED ORDER BY t.\"%s\"", t->key);
    char *backward = mem_format("NOT INDEXED ORDER BY t.\"%s\" DESC", t->key);

    t->last = -1;
    if (read_rows(r, t, forward, &t->first) != SQLITE_DONE) {
        t->gap = true;
        read_rows(r, t, backward, &t->last);
        if (t->last < t->first) /* nothing behind the damage was seen */
            t->last = t->first + 1000 + largest_coupon(r);
        if (t->whole_number)
            read_gap(r, t);
    }
    free(forward);
    free(backward);
}

/* The coupons some of whose rows may have been where nothing could be read. */
static void tell_coupons(struct recovery *r, const struct table *t)
{
    char *sql =
        mem_format("SELECT group_concat(mark, ', ') AS marks, count(*) AS coupons FROM"
                   " (SELECT mark FROM coupon WHERE id BETWEEN %lld AND %lld AND id NOT IN"
                   " (SELECT %s FROM %s WHERE %s > %lld AND %s < %lld) ORDER BY id LIMIT 20)",
                   (long long)t->first, (long long)t->last, t->key, t->name, t->key,
                   (long long)t->first, t->key, (long long)t->last);
    struct query *q = query_begin(r->book, sql, NULL, NULL);

    if (query_next(q, NULL) > 0 && query_int(q, "coupons") > 0)
        tell(r, mem_format("of the table %s rows of these coupons may be missing: %s%s", t->name,
                           query_text(q, "marks"), query_int(q, "coupons") == 20 ? ", …" : ""));
    query_end(q);
    free(sql);
}

static int recover_table(struct recovery *r, const char *name, struct error *e)
{
    struct query *q = query_begin(r->book,
                                  "SELECT group_concat('\"' || name || '\"', ', ') AS columns,"
                                  " group_concat('?', ', ') AS places,"
                                  " max(iif(pk = 1, name, NULL)) AS first,"
                                  " max(pk = 1 AND type = 'INTEGER') AS whole_number"
                                  " FROM pragma_table_info(:key)",
                                  name, e);
    struct table t = {.name = name};
    char *sql;
    int rc = -1;

    if (query_next(q, e) <= 0)
        return -1;
    t.columns = query_copy(q, "columns");
    t.key = query_copy(q, "first");
    t.whole_number = query_int(q, "whole_number") != 0;
    sql =
        mem_format("INSERT INTO \"%s\" (%s) VALUES (%s)", name, t.columns, query_text(q, "places"));
    query_end(q);
    if (sqlite3_prepare_v2(r->book->sqlite, sql, -1, &t.put, NULL) != SQLITE_OK)
        db_failed(r->book, sqlite3_errcode(r->book->sqlite), e);
    else {
        read_table(r, &t);
        rc = 0;
    }
    if (t.gap)
        tell(r, mem_format("the table %s has places that cannot be read; %zu of its rows could",
                           name, t.rows));
    if (t.gap && strcmp(t.key, "coupon_id") == 0)
        tell_coupons(r, &t);
    sqlite3_finalize(t.put);
    free(sql);
    free(t.columns);
    free(t.key);
    return rc;
}

static int recover_tables(struct recovery *r, struct error *e)
{
    struct query *q = query_begin(r->book,
                                  "SELECT group_concat(name, ' ') AS names FROM sqlite_schema"
                                  " WHERE type = 'table' AND name NOT GLOB 'sqlite_*'",
                                  NULL, e);
    char *names, *rest, *name;
    int rc = 0;

    if (query_next(q, e) <= 0)
        return -1;
    names = rest = query_copy(q, "names");
    query_end(q);
    while (rc == 0 && (name = strsep(&rest, " ")) != NULL)
        rc = recover_table(r, name, e);
    free(names);
    return rc;
}

/* Rows others belong to, made from the numbers these have. A UUID that is not in the journal any
 * more becomes one made of chance. */
#define CHANCE                                                                                     \
    "lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' ||"                             \
    " substr(hex(randomblob(2)), 2) || '-8' || substr(hex(randomblob(2)), 2) || '-' ||"            \
    " hex(randomblob(6)))"
static const struct stand_in {
    const char *thing, *missing, *make;
} stand_ins[] = {
    {"coupon",
     "SELECT coupon_id AS id FROM value UNION SELECT coupon_id FROM pass"
     " UNION SELECT coupon_id FROM bend UNION SELECT coupon_id FROM face"
     " UNION SELECT coupon_id FROM flaw UNION SELECT coupon_id FROM photo"
     " EXCEPT SELECT id FROM coupon",
     "INSERT INTO coupon (id, uuid, revision, mark, note) SELECT id, " CHANCE
     ", 1, 'lost ' || id, 'its mark and time could not be recovered' FROM missing"},
    {"trial",
     "SELECT trial_id AS id FROM coupon WHERE trial_id IS NOT NULL EXCEPT SELECT id FROM trial",
     "INSERT INTO trial (id, uuid, revision, name, when_utc_ms, when_offset_min) SELECT id, " CHANCE
     ", 1, 'lost ' || id, 0, 0 FROM missing"},
    {"variable", "SELECT variable_id AS id FROM value EXCEPT SELECT id FROM variable",
     "INSERT INTO variable (id, key) SELECT id, 'lost_' || id FROM missing"},
    {"change", "SELECT change_id AS id FROM touched EXCEPT SELECT id FROM change",
     "INSERT INTO change (id, when_utc_ms, when_offset_min, what) SELECT id, 0, 0, 'lost'"
     " FROM missing"},
};

static int make_stand_ins(struct recovery *r, struct error *e)
{
    for (size_t i = 0; i < sizeof stand_ins / sizeof *stand_ins; i++) {
        const struct stand_in *s = &stand_ins[i];
        char *sql = mem_format("CREATE TEMP TABLE missing AS %s; %s; DROP TABLE temp.missing",
                               s->missing, s->make);
        int64_t before = sqlite3_total_changes64(r->book->sqlite), made;
        int rc = db_run(r->book, sql, e);

        made = sqlite3_total_changes64(r->book->sqlite) - before;
        free(sql);
        if (rc < 0)
            return -1;
        if (made > 0)
            tell(r, mem_format("lost are the heads of %lld of the table %s; they are called 'lost' "
                               "and their number now",
                               (long long)made, s->thing));
    }
    return db_run(r->book,
                  "INSERT INTO face (coupon_id, side, complete) SELECT DISTINCT coupon_id, side, 0"
                  " FROM flaw WHERE (coupon_id, side) NOT IN (SELECT coupon_id, side FROM face)",
                  e);
}

static int fill(struct recovery *r, int64_t version, struct error *e)
{
    int rc = db_run(r->book, "PRAGMA foreign_keys = OFF; BEGIN", e);

    if (rc == 0)
        rc = recover_tables(r, e);
    if (rc == 0 && version > 1)
        rc = make_stand_ins(r, e);
    if (r->refused > MOST_REFUSED_TOLD)
        tell(r, mem_format("and %zu more rows", r->refused - MOST_REFUSED_TOLD));
    return rc < 0 ? -1 : db_run(r->book, "COMMIT; PRAGMA foreign_keys = ON", e);
}

static int64_t version_of(sqlite3 *old, int64_t newest)
{
    sqlite3_stmt *q = NULL;
    int64_t version = newest;

    if (sqlite3_prepare_v2(old, "PRAGMA user_version", -1, &q, NULL) == SQLITE_OK &&
        sqlite3_step(q) == SQLITE_ROW && sqlite3_column_int64(q, 0) > 0)
        version = sqlite3_column_int64(q, 0);
    sqlite3_finalize(q);
    return version > newest ? newest : version;
}

static int recover_copy(struct recovery *r, const char *copy, const char *part, struct error *e)
{
    struct schema schema = {schema_steps, schema_step_count};
    int rc = sqlite3_open_v2(copy, &r->old, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK ? 0 : -1;

    sqlite3_exec(r->old, "PRAGMA writable_schema = ON; PRAGMA cell_size_check = OFF", NULL, NULL,
                 NULL);
    schema.count = (size_t)version_of(r->old, (int64_t)schema.count);
    if (rc == 0)
        rc = book_open_schema(&r->book, part, BOOK_CREATE, &schema, e);
    if (rc == 0)
        rc = fill(r, (int64_t)schema.count, e);
    sqlite3_close(r->old);
    book_close(r->book);
    return rc;
}

/* With the changes that are not in the file yet. */
static int copy_damaged(const char *path, const char *copy, struct error *e)
{
    static const char *const endings[] = {"", "-wal", "-journal"};
    char *real = realpath(path, NULL);
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < sizeof endings / sizeof *endings; i++) {
        char *from = mem_format("%s%s", real != NULL ? real : path, endings[i]);
        char *to = mem_format("%s%s", copy, endings[i]);

        if (file_copy(from, to) < 0 && (i == 0 || errno != ENOENT))
            rc = error_set(e, ERROR_SYSTEM, "%s: cannot be copied to %s: %s", from, to,
                           strerror(errno));
        free(from);
        free(to);
    }
    free(real);
    return rc;
}

static void remove_book(const char *path)
{
    static const char *const endings[] = {"", "-wal", "-shm", "-journal"};

    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        char *name = mem_format("%s%s", path, endings[i]);

        unlink(name);
        free(name);
    }
}

int book_recover(const char *path, const char *to, void (*say)(void *context, const char *line),
                 void *context, struct error *e)
{
    struct recovery r = {.say = say, .context = context};
    char *copy = mem_format("%s.%ld-damaged", to, (long)getpid());
    char *part = mem_format("%s.%ld-part", to, (long)getpid());
    struct stat is;
    int rc;

    if (lstat(to, &is) == 0)
        rc = error_set(e, ERROR_INPUT, "%s: there is such a file already; give another name", to);
    else
        rc = copy_damaged(path, copy, e);
    if (rc == 0)
        rc = recover_copy(&r, copy, part, e);
    if (rc == 0 && rename_new(part, to) < 0)
        rc = error_set(e, ERROR_SYSTEM, "%s: %s", to, strerror(errno));
    remove_book(copy);
    if (rc < 0)
        remove_book(part);
    free(copy);
    free(part);
    return rc;
}
